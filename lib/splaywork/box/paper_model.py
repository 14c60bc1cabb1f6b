"""A box as a paper model: the outer faces of its four boards laid flat side by side, to cut out, fold and stand up.

Two nets: one with the true end lines, one with the lines that the one gauge, set to the leans, strikes. Paper has no
thickness here. Axes on the paper: along each bottom edge to the right and up the face, the print outwards; in space as in
`box`, the front's bottom edge along x from the origin.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike

from ..common import checks
from ..common.rotations import about_second, about_third, turned
from ..corner.corner import Corner
from ..formulas.forms import compute
from ..one_gauge.one_gauge import OneGauge, tail_frame
from .box import END_CORNERS, NAMES, Box, neighbours

CORNERS = tuple(END_CORNERS[name][1] for name in NAMES)  # at the right end of each board
STEEPEST = 60.0  # degrees: no lean is exaggerated beyond; our choice, further over the faces grow too long for paper
NARROWEST = 0.15  # of a board's bottom edge: what exaggeration leaves of its top; our choice
_SAME = 1e-6  # degrees between leans that are taken for one
_ROUNDING = 1e-9  # degrees, as in one_gauge


@dataclass(frozen=True)
class Net:
    """Four faces in a row as seen from outside: front, right, back, left; mm and degrees.

    bottoms, slants: (4,) bottom edges, and widths up the faces. end_lines: (4, 2) at the left and right end. leans: (4, 2),
    at which each board stands where its left and its right corner close with the bottom edges level and square to one
    another; ±90 where it lies flat. heights: (4,) to which each of `CORNERS` then comes. dihedrals: (4,) of `CORNERS`, inside.
    """

    bottoms: np.ndarray
    slants: np.ndarray
    end_lines: np.ndarray
    leans: np.ndarray
    heights: np.ndarray
    dihedrals: np.ndarray

    @cached_property
    def faces(self) -> np.ndarray:
        """Outlines (4, 4, 2), each with its bottom left at (0, 0): bottom left, bottom right, top right, top left."""
        left, right = self.slants[:, None].T * np.tan(np.radians(self.end_lines.T))
        nought = np.zeros(4)
        along = np.array([nought, self.bottoms, self.bottoms + right, -left])
        up = np.array([nought, nought, self.slants, self.slants])
        return np.stack([along, up], axis=-1).swapaxes(0, 1)

    @property
    def folds(self) -> np.ndarray:
        """(4,) degrees to fold the paper at each of `CORNERS`, away from whoever looks at the print; the last at the tab."""
        return 180 - self.dihedrals

    @property
    def winds(self) -> np.ndarray:
        """(4,) degrees by which each board would have to wind: its lean at the right end less that at the left."""
        return self.leans[:, 1] - self.leans[:, 0]

    @property
    def closes(self) -> bool:
        """Whether it folds shut with flat faces, level rims and a rectangle for its bottom."""
        return bool(np.abs(self.winds).max() < _SAME)

    @property
    def lies_flat(self) -> bool:
        """Whether it closes with nothing left of its height."""
        return self.closes and bool(self.heights.max() == 0)

    def strip(self, first: int = 0, count: int = 4) -> np.ndarray:
        """Outlines (count, 4, 2) of faces joined on paper, from number `first` on, whose bottom left is at (0, 0)."""
        turn, bottom, placed = 0.0, np.zeros(2), []
        for number in range(first, first + count):
            placed.append(bottom + self.faces[number] @ turned(turn))
            bottom = placed[-1][1]
            turn -= self.end_lines[number, 1] + self.end_lines[(number + 1) % 4, 0]
        return np.array(placed)

    def folded(self, folds: ArrayLike | None = None) -> np.ndarray:
        """Outlines (5, 4, 3) of the faces in space, folded by `folds` (4,), those of the net unless given.

        The front stands at the lean that its right corner wants; the fifth is the front again, as the left board's right end
        would have it: where it is not the first, the net doesn't close.
        """
        folds = self.folds if folds is None else np.asarray(folds, dtype=float)
        frame, bottom, outlines = tail_frame(self.leans[0, 1]), np.zeros(3), []
        for number in (0, 1, 2, 3, 0):
            outlines.append(bottom + self.faces[number] @ frame[:, :2].T)
            bottom = outlines[-1][1]
            after = (number + 1) % 4
            frame = (frame @ about_third(-self.end_lines[number, 1]) @ about_second(folds[number])
                     @ about_third(-self.end_lines[after, 0]))
        return np.array(outlines)

    @property
    def misses(self) -> np.ndarray:
        """(2,) mm by which the left board's right end misses the front's left end, at its bottom and at its top, when every
        fold is made as its own corner wants it: each bottom edge square to the next."""
        folded = self.folded()
        return np.linalg.norm(folded[4, (0, 3)] - folded[0, (0, 3)], axis=-1)


@dataclass(frozen=True)
class PaperModel:
    """The outer faces of a box, the leans exaggerated, bottom edges and height as they are. `PaperModel.of` makes one.

    Parameters
    ----------
    bottoms : array (4,)
        Bottom edges of front, right, back and left, mm.
    height : float
        Vertical, mm.
    leans : array (4,)
        Degrees, as exaggerated.
    factor : float
        How many times.
    limit : str
        What kept the factor below the one wanted: "" for nothing, "flat" (at a corner the leans add up to 90° and the one-gauge
        net lies flat), "steep" (a board at `STEEPEST`), "narrow" (a board's top at `NARROWEST` of its bottom).

    >>> import splaywork as sw
    >>> model = sw.PaperModel.of(sw.Box(400, 300, 100, front_lean=10, left_lean=8), exaggerate=2)
    >>> model.leans.round(1).tolist(), model.limit
    ([20.0, 0.0, 0.0, 16.0], '')
    """

    bottoms: np.ndarray
    height: float
    leans: np.ndarray
    factor: float = 1.0
    limit: str = ""

    @classmethod
    def of(cls, box: Box, exaggerate: float = 1.0) -> "PaperModel":
        """The model of a `Box`. exaggerate: times its leans, 1 or more; limited where it can't be had. ValueError otherwise."""
        if not isinstance(box, Box):
            raise ValueError(f"A paper model is made of a Box(…), not of {type(box).__name__}.")
        try:
            asked = float(exaggerate)
        except (TypeError, ValueError, OverflowError):
            asked = np.nan
        if not 1 <= asked < np.inf:
            raise ValueError(f"The leans can be exaggerated by a number of times, 1 or more, not {checks.shown(exaggerate)}.")
        bottoms = np.array([box.outer_length(name) for name in NAMES])
        model = cls(bottoms, box.height, np.array([box.lean(name) for name in NAMES]))
        factor, limit = model._limited(asked)
        return cls(bottoms, box.height, model.leans * factor, factor, limit)

    def _limited(self, asked):
        """(factor, limit): the largest factor up to the one asked that these leans allow, never below 1."""
        largest, together = np.abs(self.leans).max(), self._leans_together.max()
        if largest < _SAME:
            return 1.0, ""
        factor, limit = min((asked, ""), (90 / together, "flat"), (STEEPEST / largest, "steep"))
        low = max(factor, 1.0)
        if not self._has_tops(low):
            low, high, limit = 1.0, low, "narrow"
            for _ in range(50):  # halving: to the last digit
                middle = (low + high) / 2
                low, high = (middle, high) if self._has_tops(middle) else (low, middle)
        return low, limit if low < asked else ""

    def _has_tops(self, factor):
        """Whether every top edge of both nets is long enough, or no exaggeration is made."""
        scaled = PaperModel(self.bottoms, self.height, self.leans * factor)
        return factor == 1 or bool((scaled._tops >= NARROWEST * self.bottoms).all())

    @property
    def _tops(self):
        """(2, 4) mm: top edges with the projected and with the shortcut lines."""
        first, second = np.array([self.leans[[NAMES.index(other) for other in neighbours(name)]] for name in NAMES]).T
        projected = compute("length_at_height", bottom_edge=self.bottoms, first_lean=first, second_lean=second, up=self.height)
        struck = self.bottoms + self.slants * np.tan(np.radians([first, second])).sum(axis=0)
        return np.array([projected, struck])

    @property
    def slants(self) -> np.ndarray:
        """(4,) mm up the face of each board."""
        return compute("slant_width", height=self.height, lean=self.leans)

    @property
    def corners(self) -> Corner:
        """`CORNERS` as one `Corner` of arrays (4,): the tail board is the one that has the corner at its right end."""
        return Corner(self.leans, np.roll(self.leans, -1))

    @property
    def _leans_together(self):
        return np.abs(self.leans) + np.abs(np.roll(self.leans, -1))

    @property
    def exact(self) -> bool:
        """Whether the one gauge strikes the projected lines at every corner: one board upright at each."""
        return not np.any(self.leans * np.roll(self.leans, -1))

    @cached_property
    def projected(self) -> Net:
        """The `Net` with the true end lines, which folds up to these leans."""
        corners = self.corners
        return self._net(corners.tail_end_line, corners.pin_end_line, corners.tail_lean, corners.pin_lean,
                         np.ones(4), corners.dihedral)

    @cached_property
    def one_gauge(self) -> Net:
        """The `Net` with the one-gauge end lines. ValueError where its corners can't be brought together, or have no top."""
        corners = self.corners
        shortcut = OneGauge(corners)
        tail, pin = (np.asarray(shortcut.closed_lean(board)) for board in ("tail", "pin"))
        if self._tops[1].min() <= 0:
            short = NAMES[int(self._tops[1].argmin())]
            raise ValueError(f"The shortcut lines of the {short} board cross below its top: make it longer, or lean its "
                             "ends in less.")
        flat = shortcut.lies_flat
        standing = Corner(*(np.where(flat, 0.0, lean) for lean in (tail, pin))).dihedral
        dihedrals = np.where(flat, np.where(tail * pin > 0, 180.0, 0.0), standing)
        return self._net(shortcut.struck("tail"), shortcut.struck("pin"), tail, pin, shortcut.height_factor, dihedrals)

    def _net(self, right_lines, left_lines, right_leans, left_leans, heights, dihedrals):
        """A net from what is known at `CORNERS`: of the board that ends there on its right, and of the next, on its left."""
        return Net(self.bottoms, self.slants, np.column_stack([np.roll(left_lines, 1), right_lines]),
                   np.column_stack([np.roll(left_leans, 1), right_leans]), self.height * heights, dihedrals)


def meet(one: np.ndarray, other: np.ndarray) -> bool:
    """Whether two convex outlines (n, 2) have more than an edge in common."""
    for outline in (one, other):
        sides = np.roll(outline, -1, axis=0) - outline
        across = np.column_stack([-sides[:, 1], sides[:, 0]])
        across = across / np.linalg.norm(across, axis=1)[:, None]
        first, second = one @ across.T, other @ across.T
        if np.any((first.max(0) <= second.min(0) + _ROUNDING) | (second.max(0) <= first.min(0) + _ROUNDING)):
            return False
    return True
