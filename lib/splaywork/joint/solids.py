"""A board with its joint cut: a closed solid, and its surfaces laid flat."""

from dataclasses import dataclass, replace
from functools import cache, cached_property
from itertools import pairwise
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from ..common.checks import Comparable
from ..common.planes import cross

# Corners of each surface of the uncut blank as (face, end, rim) — 0 outer, joint, bottom; 1 inner, far, top —
# counter-clockwise as seen from outside the wood of a tail board; a pin board's corner is on the other hand.
_QUADS = {
    "outer": ((0, 0, 0), (0, 1, 0), (0, 1, 1), (0, 0, 1)),
    "end": ((0, 0, 0), (0, 0, 1), (1, 0, 1), (1, 0, 0)),
    "inner": ((1, 0, 0), (1, 0, 1), (1, 1, 1), (1, 1, 0)),
    "bottom": ((0, 0, 0), (1, 0, 0), (1, 1, 0), (0, 1, 0)),
    "top": ((0, 0, 1), (0, 1, 1), (1, 1, 1), (1, 0, 1)),
}
SURFACES = tuple(_QUADS)
_FOLDED_FROM = {"end": "outer", "inner": "end", "bottom": "outer", "top": "outer"}


def _unit(vector):
    return vector / np.linalg.norm(vector)


@dataclass(frozen=True, eq=False)
class Surface(Comparable):
    """One flat surface of a board, and how to lay it flat: seen from outside the wood, never mirrored.

    origin: (3,), its corner at the joint, at the bottom and at the outer face. axes: (2, 3), its x and y in space; on
    a face y points straight up it, on the end up the outer arris, on a rim from the outer arris (bottom: away from it
    is −y) with x along the board. normal: (3,), out of the wood. blank: (4, 3), its corners before the joint is cut.
    pieces: polygons (k, 3) that are left of it. All counter-clockwise as seen from outside, in mm.
    """

    name: str
    origin: np.ndarray
    axes: np.ndarray
    normal: np.ndarray
    blank: np.ndarray
    pieces: tuple

    def flat(self, points: Any) -> np.ndarray:
        """Points of the surface, shape (..., 3), in its flat coordinates, shape (..., 2)."""
        return (np.asarray(points) - self.origin) @ self.axes.T


@dataclass(frozen=True, eq=False)
class Sheet(Comparable):
    """A surface as it lies when the board is unfolded about its arrises.

    turn: (2, 2) rotation. shift: (2,), mm. folded_from: the surface it hangs on ("" for the outer face, which lies as
    it is). fold: degrees from flat paper that the arris between the two is folded, away from whoever looks at it.
    """

    surface: Surface
    turn: np.ndarray
    shift: np.ndarray
    folded_from: str
    fold: float

    def place(self, points: Any) -> np.ndarray:
        """Points of the surface in space, shape (..., 3), where they lie on the unfolded paper, shape (..., 2)."""
        return self.surface.flat(points) @ self.turn.T + self.shift


@cache
def _triangles(board, tails):
    """Triangles of the closed solid, shape (k, 3), as corner numbers: outer outline 0…m − 1, inner m…2m − 1."""
    corners = 4 + 4 * tails
    on_baseline = [3 + 4 * tail + side for tail in range(tails) for side in (0, 1)]
    # A fan over the whole wood from one far corner, and two triangles for each tail or pin that stands out of it.
    hub, fan = (1, [2, *on_baseline, corners - 1, 0]) if board == "tail" else (0, [1, 2, *on_baseline, corners - 1])
    outer = [(hub, first, second) for first, second in pairwise(fan)]
    for a in range(4, corners, 4):
        outer += [(a, a + 1, a + 2), (a, a + 2, a + 3)]
    return closed_triangles(outer, corners)


def closed_triangles(outer: ArrayLike, corners: int) -> np.ndarray:
    """Triangles of the solid between two outlines of so many corners: `outer` fills the first, seen from outside it."""
    outer = np.array(outer)
    # Each side is two triangles between the two outlines.
    this = np.arange(corners)
    following = np.roll(this, -1)
    sides = np.concatenate([np.stack([following, this, this + corners], axis=1),
                            np.stack([following, this + corners, following + corners], axis=1)])
    triangles = np.concatenate([outer, outer[:, ::-1] + corners, sides])
    triangles.setflags(write=False)
    return triangles


def flat_faces(outlines: Any, sides: Any) -> tuple:
    """(name, corners (k, 3)) of every flat face of a solid between two outlines (2, m, 3), its m sides named."""
    outer, inner = outlines
    following = np.roll(outlines, -1, axis=1)
    corners = np.stack([following[0], outer, inner, following[1]], axis=1)
    return (("outer", outer), ("inner", inner[::-1]), *zip(sides, corners, strict=True))


@dataclass(frozen=True, eq=False)
class CutBoard(Comparable):
    """One board with its joint cut: the same outline traced on its outer and on its inner face, joined by flat sides.

    board: "tail" or "pin". outlines: (2, m, 3), outer then inner, both counter-clockwise as seen from outside the box,
    corner i between side i − 1 and side i. sides: the m names of the flat sides. blank: (2, 2, 2, 3), the corners of
    the uncut board by face (outer, inner), end (joint, far) and rim (bottom, top). end_lines, baselines: (2, 2, 3),
    by face and rim: where the end line and the baseline meet the rims. withdrawal: level unit vector in which this
    board leaves the other. Lengths in mm.
    """

    board: str
    outlines: np.ndarray
    sides: tuple
    blank: np.ndarray
    end_lines: np.ndarray
    baselines: np.ndarray
    withdrawal: np.ndarray

    @property
    def faces(self) -> tuple:
        """(name, corners (k, 3)) of every flat face, counter-clockwise as seen from outside the wood."""
        return flat_faces(self.outlines, self.sides)

    def mesh(self) -> tuple[np.ndarray, np.ndarray]:
        """(vertices (n, 3) in mm, triangles (k, 3)): closed, each triangle counter-clockwise as seen from outside."""
        return self.outlines.reshape(-1, 3), _triangles(self.board, len(self.sides) // 4 - 1)

    def moved(self, distance: float) -> "CutBoard":
        """The same board drawn `distance` mm out of the joint, along the level entry."""
        step = distance * self.withdrawal
        return replace(self, **{name: getattr(self, name) + step
                                for name in ("outlines", "blank", "end_lines", "baselines")})

    @cached_property
    def surfaces(self) -> dict[str, Surface]:
        """Name -> Surface: "outer", "end", "inner", "bottom", "top" (the far end is not part of the joint)."""
        left: dict[str, list[np.ndarray]] = {name: [] for name in SURFACES}
        for name, corners in self.faces:
            if name in left:
                left[name].append(corners)
        return {name: self._surface(name, tuple(left[name])) for name in SURFACES}

    def _quad(self, name):
        return _QUADS[name] if self.board == "tail" else _QUADS[name][::-1]

    def _surface(self, name, pieces):
        blank = np.array([self.blank[corner] for corner in self._quad(name)])
        normal = _unit(cross(blank[2] - blank[0], blank[3] - blank[1]))
        if name == "end":
            up = _unit(self.blank[0, 0, 1] - self.blank[0, 0, 0])
        else:
            up = cross(normal, _unit(self.blank[0, 1, 0] - self.blank[0, 0, 0]))
            up = -up if name in ("outer", "inner") and up[2] < 0 else up
        origin = self.blank[int(name == "inner"), 0, int(name == "top")]
        return Surface(name, origin, np.array([cross(up, normal), up]), normal, blank, pieces)

    @cached_property
    def waste(self) -> dict[str, np.ndarray]:
        """Name -> quads (k, 4, 3): what is cut away between end and baseline on "outer", "end" and "inner"."""
        rims, corners = {"bottom": 0, "top": 1}, len(self.sides)
        notches = []
        for number in np.flatnonzero([side == "shoulder" for side in self.sides]):
            following = (number + 1) % corners
            at_end = [self.blank[:, 0, rims[side]] if side in rims else self.outlines[:, corner % corners]
                      for side, corner in ((self.sides[number - 1], number - 1), (self.sides[following], number + 2))]
            notches.append([at_end[0], *self.outlines[:, [number, following]].swapaxes(0, 1), at_end[1]])
        quads = np.moveaxis(np.array(notches), 2, 0)  # by face, notch, corner
        ends = np.concatenate([quads[0][:, [0, 3]], quads[1][:, [3, 0]]], axis=1)
        return {"outer": quads[0], "end": ends, "inner": quads[1]}

    @cached_property
    def unfolded(self) -> dict[str, Sheet]:
        """Name -> Sheet: all five surfaces as one paper, the outer face as it is, the others unfolded about the arrises.

        "outer", "end" and "inner" in a row are the strip that wraps the end of the board.
        """
        sheets = {"outer": Sheet(self.surfaces["outer"], np.eye(2), np.zeros(2), "", 0.0)}
        for name, parent in _FOLDED_FROM.items():
            surface, base = self.surfaces[name], sheets[parent]
            arris = np.array([self.blank[corner] for corner in _QUADS[name] if corner in _QUADS[parent]])
            wanted, given = (np.subtract(*points) for points in (base.place(arris), surface.flat(arris)))
            cosine, sine = given @ wanted, given[0] * wanted[1] - given[1] * wanted[0]
            turn = np.array([[cosine, -sine], [sine, cosine]]) / np.hypot(cosine, sine)
            shift = base.place(arris[0]) - turn @ surface.flat(arris[0])
            fold = np.degrees(np.arctan2(np.linalg.norm(cross(base.surface.normal, surface.normal)),
                                         base.surface.normal @ surface.normal))
            sheets[name] = Sheet(surface, turn, shift, parent, float(fold))
        return sheets
