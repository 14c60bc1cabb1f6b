"""The two boards of a joint as convex pieces, and which of them hide which from any side.

A board with its joint cut is not convex, but its body is, and so is each tail or pin. Planes of the joint itself part
any piece from all that follow it in the list, together or pulled apart, so the pieces can be drawn one over another.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from ..common.hexahedra import FACES
from ..drawing.view import facing
from .tails import Cheek

if TYPE_CHECKING:
    from ..drawing.view import View
    from .joint import Joint
    from .solids import CutBoard

# Every piece is a hexahedron: corners 0…3 on the outer face, 4…7 on the inner one, 3-0 (7-4) where it meets its board.
# Its twelve edges, as corners, and the two faces beside each: four outside, four inside, four through the board.
EDGES = np.array([(0, 1), (1, 2), (2, 3), (3, 0), (4, 5), (5, 6), (6, 7), (7, 4), (0, 4), (1, 5), (2, 6), (3, 7)])
BESIDE = np.array([(0, 2), (0, 3), (0, 4), (0, 5), (1, 2), (1, 3), (1, 4), (1, 5), (5, 2), (2, 3), (3, 4), (4, 5)])
OUTER, INNER, ROOT_FACE = 0, 1, 5
ROOT_EDGES = {3: 0, 7: 1, 8: 2, 11: 4}  # edges of the root face, and the other face beside each


@dataclass(frozen=True)
class Pieces:
    """Convex pieces of one board.

    corners: (k, 8, 3) in mm, numbered as in `FACES`. names: (k, 6), what each face is: "outer", "inner", "end",
    "far end", "top", "bottom", "shoulder", "cheek", or "" for a face inside the board. inked: (k, 12) booleans, edges
    to draw. shoulders: (n, 2, 3), edges of shoulders, which the body draws: on the outer face, then on the inner one.
    """

    board: str
    corners: np.ndarray
    names: np.ndarray
    inked: np.ndarray
    shoulders: np.ndarray

    @property
    def faces(self) -> np.ndarray:
        """Corner points of all faces, shape (k, 6, 4, 3), counter-clockwise as seen from outside the wood."""
        return self.corners[:, FACES]


def blank_pieces(cut: "CutBoard") -> Pieces:
    """The one piece of a `CutBoard` before its joint is cut."""
    ends, rims = [0, 1, 1, 0], [0, 0, 1, 1] if cut.board == "tail" else [1, 1, 0, 0]
    corners = cut.blank[:, ends, rims].reshape(1, 8, 3)
    names = np.array([_names(cut.board, "end")], dtype=object)
    return Pieces(cut.board, corners, names, np.ones((1, 12), dtype=bool), np.zeros((0, 2, 3)))


def _names(board, towards_joint):
    """Names of the faces of a whole board or of its body: a tail board's from the bottom round, a pin's from the top."""
    rims = ("bottom", "top") if board == "tail" else ("top", "bottom")
    return "outer", "inner", rims[0], "far end", rims[1], towards_joint


def cut_pieces(cut: "CutBoard") -> Pieces:
    """Body, then tails or pins from the bottom up, of a `CutBoard`."""
    outlines = cut.outlines.copy()
    if cut.board == "tail":
        quads = outlines.reshape(2, -1, 4, 3)
        body, stubs = quads[:, :1], quads[:, :0:-1]
    else:
        (bottom, top), far_bottom, far_top = cut.baselines.swapaxes(0, 1), outlines[:, 0].copy(), outlines[:, -1].copy()
        body = np.stack([top, far_top, far_bottom, bottom], axis=1)[:, None]
        outlines[:, 0], outlines[:, -1] = bottom, top
        stubs = outlines.reshape(2, -1, 4, 3)
    count = stubs.shape[1]
    stub_names = np.array([("outer", "inner", "cheek", "end", "cheek", "")] * count, dtype=object)
    if cut.board == "pin":  # the half pins end in a rim
        stub_names[0, 2], stub_names[-1, 4] = "bottom", "top"
    inked = np.ones((count + 1, 12), bool)
    inked[:, [3, 7]] = False  # the faces run on into the body's
    if cut.board == "pin":  # nor has it one where a rim runs on
        inked[1, 8] = inked[-1, 11] = inked[0, 8] = inked[0, 11] = False
    corners = np.concatenate([body, stubs], axis=1).swapaxes(0, 1).reshape(-1, 8, 3)
    names = np.vstack([_names(cut.board, "shoulder"), stub_names])
    return Pieces(cut.board, corners, names, inked, _shoulder_edges(cut))


def _shoulder_edges(cut):
    """Edges of the shoulders on the outer and then on the inner face, shape (2 n, 2, 3)."""
    start = np.flatnonzero([side == "shoulder" for side in cut.sides])
    ends = np.stack([start, (start + 1) % len(cut.sides)], axis=1)
    return cut.outlines[:, ends].reshape(-1, 2, 3)


@dataclass(frozen=True)
class Assembly:
    """The pieces of several boards in one list.

    corners: (k, 8, 3) in mm, numbered as in `FACES`. bodies: (k,) number of the body of each piece's board. hands: (k,), −1
    where a mirrored corner turns the faces inside out. kinds: (k,) "tail" or "pin", the board's. names: (k, 6), as of
    `Pieces`. inked: (k, 12) edges to draw. seams: (n, 2), piece and edge where a face runs on into the body's; seam_faces:
    (n,) that face. shoulders: (s, 2, 3), edges of shoulders, that the bodies draw; shoulder_of: (s, 3), body, face, and
    shoulder's face. numbers: a piece's name -> its number.
    """

    corners: np.ndarray
    bodies: np.ndarray
    hands: np.ndarray
    kinds: np.ndarray
    names: np.ndarray
    inked: np.ndarray
    seams: np.ndarray
    seam_faces: np.ndarray
    shoulders: np.ndarray
    shoulder_of: np.ndarray
    numbers: dict

    @classmethod
    def of_boards(cls, boards: list[Pieces]) -> "Assembly":
        """The pieces of one joint's boards; `numbers` by (board, piece of the board)."""
        counts = [len(board.corners) for board in boards]
        first = np.cumsum([0, *counts])
        inked = np.concatenate([board.inked for board in boards])
        bodies = np.repeat(first[:-1], counts)
        halves = [(body, face, ROOT_FACE) for body, board in zip(first, boards, strict=False) for face in (OUTER, INNER)
                  for _ in range(len(board.shoulders) // 2)]
        numbers = {(board.board, piece): int(start) + piece for start, board, count in zip(first, boards, counts, strict=False)
                   for piece in range(count)}
        seams, seam_faces = seams_of(inked, np.flatnonzero(bodies != np.arange(len(bodies))))
        return cls(np.concatenate([board.corners for board in boards]), bodies, np.ones(len(bodies), dtype=int),
                   np.repeat([board.board for board in boards], counts), np.concatenate([board.names for board in boards]),
                   inked, seams, seam_faces, np.concatenate([board.shoulders for board in boards]),
                   np.array(halves, dtype=int).reshape(-1, 3), numbers)

    @property
    def faces(self) -> np.ndarray:
        """Corner points of all faces, shape (k, 6, 4, 3), counter-clockwise as seen from outside the wood × hands."""
        return self.corners[:, FACES]

    def facing(self, view: "View") -> np.ndarray:
        """(k, 6) booleans: which faces turn to the viewer."""
        faces = self.faces.reshape(-1, 4, 3)
        from_outside = np.where(np.repeat(self.hands, 6)[:, None, None] == 1, faces, faces[:, ::-1])
        return facing(from_outside, view).reshape(-1, 6) & (self.names != "")


def seams_of(inked: np.ndarray, pieces: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """(piece and edge (n, 2), face (n,)) where faces of those pieces run on into the body's; inked: (k, 12) edges of all."""
    seams = [(piece, edge) for edge in ROOT_EDGES for piece in pieces[~inked[pieces, edge]]]
    return np.array(seams, dtype=int).reshape(-1, 2), np.array([ROOT_EDGES[edge] for _, edge in seams], dtype=int)


def free_at(joint: "Joint") -> float:
    """How far, in mm along the level entry, the pin board is drawn out when it comes free of the tail board."""
    inner, cut = joint.planes["tail inner"], joint.pin_board
    return float(-inner.height_of(cut.blank[:, 0]).min() / (inner.normal @ cut.withdrawal))


def parting_planes(joint: "Joint", boards_cut: int = 2) -> list[tuple]:
    """(board, piece, normal (3,)) in an order in which each normal points to its piece and away from all that follow.

    boards_cut: 2, both, together or drawn apart by any distance along the level entry; 1, the tail board alone, or 0,
    and then they must be free of each other. Pieces are numbered as in `Pieces`; the last may have any normal.
    """
    bodies = [("tail", 0, joint.planes["pin inner"].normal), ("pin", 0, joint.planes["tail inner"].normal)]
    if boards_cut == 0:
        return bodies[::-1]
    tails: Any = joint.tails  # None only until the joint is made
    parted = []
    for tail in range(1, tails + 1):
        lower, upper = (joint.planes[Cheek(tail, side)].normal for side in ("lower", "upper"))
        parted += [("pin", tail, lower), ("tail", tail, -upper)]
    if boards_cut == 1:
        return bodies[::-1] + [part for part in parted if part[0] == "tail"]
    return [*bodies, *parted, ("pin", tails + 1, upper)]


def back_to_front(parted: list[tuple], towards_viewer: np.ndarray) -> list[tuple]:
    """(board, piece) of `parting_planes` in the order in which to draw them for a viewer that way."""
    nearer = [normal @ towards_viewer > 0 for *_, normal in parted]
    pieces = [piece[:2] for piece in parted]
    back = [piece for piece, near in zip(pieces, nearer, strict=True) if not near]
    return back + [piece for piece, near in zip(pieces, nearer, strict=True) if near][::-1]
