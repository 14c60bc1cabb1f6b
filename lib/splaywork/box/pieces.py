"""The four boards of a box as convex pieces, and which of them hide which from any side, closed or pulled apart.

A box is square in plan, so the planes of its inner faces part it: behind a pin board's inner face lies all that belongs
to its two corners and nothing else; within that, each tail board's inner face parts one corner from the body between
them; and within a corner the cheeks part tails from pins, as in `pieces`.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from ..joint.pieces import INNER, OUTER, ROOT_FACE, Assembly, back_to_front, cut_pieces, free_at, seams_of
from ..joint.pieces import parting_planes as corner_planes
from .box import END_CORNERS, NAMES

if TYPE_CHECKING:
    from .box import Box

KINDS = ("tail", "pin")
# of a body's two ends: the shoulder's face, its edges on outer and inner face, and those across the rims
_ENDS = {"left": (ROOT_FACE, (3, 7), (8, 11)), "right": (3, (1, 5), (9, 10))}
INNER_CORNERS = [5, 7]  # edges of a body where its inner face meets its neighbours'
_BODY_NAMES = ("outer", "inner", "bottom", "shoulder", "top", "shoulder")


def come_free(box: "Box") -> float:
    """How far, mm, the tail boards are drawn out when they come free of the pin boards at all four corners."""
    return max(free_at(corner.joint) for corner in box.corners.values())


def steps_apart(box: "Box", apart: float) -> dict[str, np.ndarray]:
    """Name -> (3,) step of each board when the box is pulled apart by `apart` mm, level and straight outwards.

    The tail boards lead, along the level entry; the pin boards can only follow once those are free of them.
    """
    steps = {}
    for name in NAMES:
        outwards = np.cross(box.boards[name].axes[0], (0.0, 0.0, 1.0))
        steps[name] = outwards * (apart if box.carries(name) == "tails" else max(0.0, apart - come_free(box)))
    return steps


@dataclass(frozen=True)
class BoxPieces(Assembly):
    """All pieces of a closed `Box`: four bodies in the order of `box.NAMES`, then corner by corner tails and pins.

    numbers: (corner's name, kind, piece of the joint) or board's name -> piece.
    """

    box: Any

    @classmethod
    def of(cls, box: "Box") -> "BoxPieces":
        """The pieces of a `Box`."""
        corners, boards, hands, names, inked = [], [*range(4)], [1] * 4, [_BODY_NAMES] * 4, []
        numbers = {name: number for number, name in enumerate(NAMES)}
        shoulders, shoulder_of = [], []
        for name in NAMES:
            board = box.boards[name]
            corners.append(board.baselines[:, [0, 1, 1, 0], [0, 0, 1, 1]].reshape(1, 8, 3))
            inked.append(_body_edges(board.carries))
        for at, corner in box.corners.items():
            for kind in KINDS:
                name = getattr(corner, kind)
                pieces = cut_pieces(getattr(corner.joint, f"{kind}_board"))
                count = len(pieces.corners) - 1
                numbers |= {(at, kind, piece): len(boards) + piece - 1 for piece in range(1, count + 1)}
                corners.append(corner.place(pieces.corners[1:]))
                boards += [NAMES.index(name)] * count
                hands += [-1 if corner.mirrored else 1] * count
                names += [*pieces.names[1:]]
                inked += [*pieces.inked[1:]]
                shoulders.append(corner.place(pieces.shoulders))
                root = _ENDS[("left", "right")[END_CORNERS[name].index(at)]][0]
                for face in (OUTER, INNER):
                    shoulder_of += [(NAMES.index(name), face, root)] * (len(pieces.shoulders) // 2)
        inked = np.array(inked)
        seams, seam_faces = seams_of(inked, np.arange(4, len(inked)))
        kinds = np.array([KINDS[box.carries(name) == "pins"] for name in NAMES])
        return cls(np.concatenate(corners), np.array(boards), np.array(hands), kinds[boards], np.array(names, dtype=object),
                   inked, seams, seam_faces, np.concatenate(shoulders), np.array(shoulder_of), numbers, box)

    def moved(self, steps: dict[str, np.ndarray]) -> tuple[np.ndarray, ...]:
        """(corners, shoulders) of the boards moved by `steps`, as `steps_apart` gives them."""
        step = np.array([steps[name] for name in NAMES])
        return self.corners + step[self.bodies][:, None], self.shoulders + step[self.shoulder_of[:, 0]][:, None]

    def back_to_front(self, towards_viewer: np.ndarray, freed: bool = False) -> np.ndarray:
        """(k,) numbers of the pieces in the order in which to draw them for a viewer that way.

        freed: whether the pin boards are drawn out too, the tail boards being free of them.
        """
        box = self.box
        tails = [name for name in NAMES if box.carries(name) == "tails"]
        pins = [name for name in NAMES if box.carries(name) == "pins"]

        def parted(name, inside, outside):
            """What lies inside of a board's inner face, and what lies outside of it, the further first."""
            near = box.planes[f"{name} inner"].normal @ towards_viewer > 0
            return outside + inside if near else inside + outside

        order = parted(tails[0], [self.numbers[tails[1]]], [self.numbers[tails[0]]])
        for pin in pins:
            group = [self.numbers[pin]]
            for tail in tails:
                at = next(corner for corner in box.corners.values() if {corner.tail, corner.pin} == {tail, pin})
                cut = {kinds: self._chain(at, towards_viewer, kinds) for kinds in (("tail",), ("pin",), KINDS)}
                group = parted(tail, group, parted(tail, cut["pin",], cut["tail",]) if freed else cut[KINDS])
            order = parted(pin, order, group)
        return np.array(order)

    def _chain(self, corner, towards_viewer, kinds):
        """Numbers of the tails, pins, or both of one corner, furthest first."""
        parts = [(kind, piece, corner.turn @ normal) for kind, piece, normal in corner_planes(corner.joint)
                 if piece and kind in kinds]
        return [self.numbers[corner.name, kind, piece] for kind, piece in back_to_front(parts, towards_viewer)]


def _body_edges(carries):
    """(12,) edges of a body to draw: its faces run on into tails and pins, and where there are pins its rims do too."""
    inked = np.ones(12, dtype=bool)
    for _, along, across in _ENDS.values():
        inked[list(along)] = False
        if carries == "pins":
            inked[list(across)] = False
    return inked
