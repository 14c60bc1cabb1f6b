"""The four boards of a box as convex pieces, and which of them hide which from any side, closed or pulled apart.

A box is square in plan, so the planes of its inner faces part it: behind a pin board's inner face lies all that belongs
to its two corners and nothing else; within that, each tail board's inner face parts one corner from the body between
them; and within a corner the cheeks part tails from pins, as in `pieces`.

A bottom that is slid in lies under the back, which is drawn as low as it is ripped: a level plane parts the two. It is drawn
between the inner faces, without the tongues that lie in the grooves, as the boards are drawn without the grooves.
"""

from contextlib import suppress
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from ..common.planes import meet_all
from ..corner.stubs import rims
from ..joint.pieces import INNER, OUTER, ROOT_EDGES, ROOT_FACE, Assembly, back_to_front, cut_pieces, free_at, seams_of
from ..joint.pieces import parting_planes as corner_planes
from .box import END_CORNERS, NAMES
from .fittings import bottom_panel

if TYPE_CHECKING:
    from .box import Box

KINDS = ("tail", "pin")
# of a body's two ends: the shoulder's face, its edges on outer and inner face, and those across the rims
_ENDS = {"left": (ROOT_FACE, (3, 7), (8, 11)), "right": (3, (1, 5), (9, 10))}
INNER_CORNERS = [5, 7]  # edges of a body where its inner face meets its neighbours'
_BODY_NAMES = ("outer", "inner", "bottom", "shoulder", "top", "shoulder")
_UPRIGHT = np.array([(0, 3), (1, 2), (4, 7), (5, 6)])  # corners of a piece that stand one over the other
# of the two pieces of a bottom, inside of the back's inner face and beyond it: faces, and edges where they run into each other
_PANEL_NAMES = (("edge", "edge", "face", "edge", "face", ""), ("edge", "edge", "face", "", "face", "edge"))
_PANEL_ROOTS = ([*ROOT_EDGES], [1, 5, 9, 10])
UNDER_THE_BACK = 11  # edge of the first, on its upper face


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

    Where a bottom is slid in, its two pieces, of the kind "panel", come last: inside of the back's inner face, and beyond it.

    numbers: (corner's name, kind, piece of the joint), board's name, "bottom" or "bottom, under the back" -> piece. level:
    height, mm, that the back is ripped to for a bottom that is slid in; None for all other boxes.
    """

    box: Any
    level: float | None

    @classmethod
    def of(cls, box: "Box") -> "BoxPieces":
        """The pieces of a `Box`."""
        corners, boards, hands, names, inked = [], [*range(4)], [1] * 4, [_BODY_NAMES] * 4, []
        numbers: dict = {name: number for number, name in enumerate(NAMES)}
        shoulders, shoulder_of = [], []
        panel = _slid_in(box)
        level = None if panel is None else panel.up + panel.thickness
        for name in NAMES:
            board = box.boards[name]
            corners.append(board.baselines[:, [0, 1, 1, 0], [0, 0, 1, 1]].reshape(1, 8, 3))
            inked.append(_body_edges(board.carries))
            if name == "back" and panel:
                corners[-1] = _ripped(corners[-1], level)[0]
        for at, corner in box.corners.items():
            for kind in KINDS:
                name = getattr(corner, kind)
                pieces = cut_pieces(getattr(corner.joint, f"{kind}_board"))
                placed, edges = corner.place(pieces.corners[1:]), corner.place(pieces.shoulders)
                kept, shown = (np.ones(len(each), dtype=bool) for each in (placed, edges))
                root, _, across = _ENDS[("left", "right")[END_CORNERS[name].index(at)]]
                if name == "back" and panel:
                    placed, kept = _ripped(placed, level)
                    edges, shown = _ripped(edges, level, [(0, 1)])
                    inked[NAMES.index("back")][across[0]] |= not kept[0]  # no half pin is left to run on into
                count = kept.sum()
                numbers |= {(at, kind, piece + 1): len(boards) + place for place, piece in enumerate(np.flatnonzero(kept))}
                corners.append(placed[kept])
                boards += [NAMES.index(name)] * count
                hands += [-1 if corner.mirrored else 1] * count
                names += [*pieces.names[1:][kept]]
                inked += [*pieces.inked[1:][kept]]
                shoulders.append(edges[shown])
                shoulder_of += [(NAMES.index(name), face, root) for face in np.repeat((OUTER, INNER), len(edges) // 2)[shown]]
        kinds = np.array([KINDS[box.carries(name) == "pins"] for name in NAMES])[boards]
        if panel:
            first = len(boards)
            numbers |= {"bottom": first, "bottom, under the back": first + 1}
            corners.append(_panel_pieces(box, panel))
            boards, hands, names = [*boards, first, first], [*hands, 1, 1], [*names, *_PANEL_NAMES]
            kinds = np.append(kinds, ["panel"] * 2)
            inked += [~np.isin(range(12), roots) for roots in _PANEL_ROOTS]
        drawn = np.array(inked)
        seams, seam_faces = seams_of(drawn, np.arange(4, len(drawn)))
        return cls(np.concatenate(corners), np.array(boards), np.array(hands), kinds, np.array(names, dtype=object),
                   drawn, seams, seam_faces, np.concatenate(shoulders), np.array(shoulder_of), numbers, box, level)

    def lowered(self, at: str) -> float:
        """Height, mm, at which the wood begins along a corner's line: above 0 where a half pin went with the back's edge."""
        if self.level is None or "back" not in at:
            return 0.0
        corner = self.box.corners[at]
        return min(self.level, corner.joint.marks[0][0] * float(np.cos(np.radians(self.box.lean(corner.tail)))))

    def moved(self, steps: dict[str, np.ndarray]) -> tuple[np.ndarray, ...]:
        """(corners, shoulders) of the boards moved by `steps`, as `steps_apart` gives them; a bottom stays where it is."""
        step = np.array([*(steps[name] for name in NAMES), np.zeros(3)])
        return self.corners + step[np.minimum(self.bodies, 4)][:, None], self.shoulders + step[self.shoulder_of[:, 0]][:, None]

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

        slid = self.level is not None
        order = parted(tails[1], [self.numbers["bottom"]] if slid else [], [self.numbers[tails[1]]])
        order = parted(tails[0], order, [self.numbers[tails[0]]])
        for pin in pins:
            group = [self.numbers[pin]]
            if slid and pin == "back":
                group.insert(0 if towards_viewer[2] > 0 else 1, self.numbers["bottom, under the back"])
            for tail in tails:
                at = next(corner for corner in box.corners.values() if {corner.tail, corner.pin} == {tail, pin})
                cut = {kinds: self._chain(at, towards_viewer, kinds) for kinds in (("tail",), ("pin",), KINDS)}
                group = parted(tail, group, parted(tail, cut["pin",], cut["tail",]) if freed else cut[KINDS])
            order = parted(pin, order, group)
        return np.array(order)

    def _chain(self, corner, towards_viewer, kinds):
        """Numbers of the tails, pins, or both of one corner, furthest first."""
        parts = [(kind, piece, corner.turn @ normal) for kind, piece, normal in corner_planes(corner.joint)
                 if piece and kind in kinds and (corner.name, kind, piece) in self.numbers]
        return [self.numbers[corner.name, kind, piece] for kind, piece in back_to_front(parts, towards_viewer)]


def _slid_in(box):
    """The `BottomPanel` that is slid in under the back of a box; None where none is, or none can be made."""
    if box.bottom.kind == "slid in":
        with suppress(ValueError):
            return bottom_panel(box)
    return None


def _ripped(pieces, level, pairs=_UPRIGHT):
    """(pieces (n, c, 3), (n,) booleans): what is left above a level, and of which anything is.

    pairs: corners that stand one over the other. A pin of which the rip leaves no more than a sliver is taken away.
    """
    pieces, kept = pieces.copy(), np.ones(len(pieces), dtype=bool)
    for pair in pairs:
        low, high = (np.take_along_axis(pieces, order[:, None, None], axis=1)[:, 0] for order in np.moveaxis(
            np.array(pair)[np.argsort(pieces[:, pair, 2], axis=1)], 1, 0))
        kept &= high[:, 2] > level
        with np.errstate(divide="ignore", invalid="ignore"):
            share = np.clip((level - low[:, 2]) / (high[:, 2] - low[:, 2]), 0, 1)[:, None]
        lifted = low + share * (high - low)
        for corner in pair:
            under = pieces[:, corner, 2] < level
            pieces[under, corner] = lifted[under]
    return pieces, kept


def _panel_pieces(box, panel):
    """(2, 8, 3): a slid-in bottom between the inner faces of the front, the sides and the back; and beyond the back's."""
    levels = (rims(panel.up)[1], rims(panel.up + panel.thickness)[1])
    planes = {name: box.planes[f"{name} inner"] for name in NAMES} | dict(enumerate(levels))
    inside = meet_all(planes, [(end, side, level) for side in ("left", "right") for level in (0, 1)
                               for end in ("front", "back")]).reshape(2, 2, 2, 3)  # by side, face and end
    beyond = inside[:, :, [1, 1]].copy()
    beyond[:, :, 1, 1] = panel.vertices[:, 2, 1]
    return np.array([each[:, [0, 0, 1, 1], [1, 0, 0, 1]].reshape(8, 3) for each in (inside, beyond)])


def _body_edges(carries):
    """(12,) edges of a body to draw: its faces run on into tails and pins, and where there are pins its rims do too."""
    inked = np.ones(12, dtype=bool)
    for _, along, across in _ENDS.values():
        inked[list(along)] = False
        if carries == "pins":
            inked[list(across)] = False
    return inked
