"""One corner in numbers: scalars or arrays, computed from the derived forms."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from ..common import checks
from ..common.boards import BOARDS, known
from ..common.checks import plain
from ..common.kinds import Computed, Numbers
from ..common.printing import intended
from ..common.tolerances import SAME_LEAN
from ..formulas.forms import FORMS, VECTORS, compute, vector


def one_corner(corner: Any) -> "Corner":
    """A `Corner` of single numbers, which is what a picture and a sentence are of; ValueError for anything else."""
    checks.instance("corner", corner, Corner, "Corner(tail_lean=16, pin_lean=11)")
    for name in ("tail_lean", "pin_lean", "plan_angle"):
        checks.number(name.replace("_", " "), getattr(corner, name), what="a number of degrees")
    return corner


@dataclass(frozen=True, eq=False)
class Corner(checks.Comparable):
    """A corner of two leaning boards.

    Parameters
    ----------
    tail_lean, pin_lean : float or array
        Degrees from vertical, positive when the top is further out; between −90 and 90.
    plan_angle : float or array
        Degrees between the boards' level edges, inside the box; between 0 and 180.

    The three broadcast together, and the attributes have the broadcast shape: a float where all three are single numbers.
    Angles are in degrees, lengths in whatever unit is passed in.

    Raises
    ------
    ValueError
        For a corner that can't exist.

    >>> import splaywork as sw
    >>> corner = sw.Corner(tail_lean=30, pin_lean=30)
    >>> round(corner.tail_end_line, 4), round(corner.dihedral, 3)
    (26.5651, 104.478)
    """

    tail_lean: Computed
    pin_lean: Computed
    plan_angle: Computed = 90.0

    def __post_init__(self) -> None:
        flat = "a board that leans 90° or more lies flat: keep it between −90° and 90°"
        parallel = "at 0° or 180° the faces are parallel and never meet: keep it between 0° and 180°"
        for name, low, high, why in (("tail_lean", -90, 90, flat), ("pin_lean", -90, 90, flat),
                                     ("plan_angle", 0, 180, parallel)):
            value = checks.angles(name.replace("_", " "), getattr(self, name), low, high, why)
            object.__setattr__(self, name, value)
        checks.together(tail_lean=self.tail_lean, pin_lean=self.pin_lean, plan_angle=self.plan_angle)

    @classmethod
    def from_end_lines(cls, tail_end_line: Numbers, pin_end_line: Numbers, plan_angle: Numbers = 90.0) -> "Corner":
        """The corner whose boards have these end lines (degrees from square, as measured).

        ValueError when no leans give them: at a plan angle of 90, when the two together reach 90°.
        """
        remedy = "an end line along the edge itself has no end: keep it between −90° and 90° from square"
        tail = checks.angles("tail end line", tail_end_line, remedy=remedy)
        pin = checks.angles("pin end line", pin_end_line, remedy=remedy)
        plan = cls(0, 0, plan_angle).plan_angle
        checks.together(tail_end_line=tail, pin_end_line=pin, plan_angle=plan)
        lines = {"tail_end_line": tail, "pin_end_line": pin, "plan_angle": plan}
        with np.errstate(invalid="ignore", divide="ignore"):
            leans = [compute(f"{board}_lean_from_end_lines", **lines) for board in BOARDS]
        standing = np.all(np.abs(leans) < 90 - SAME_LEAN, axis=0)
        tail_lean, pin_lean = np.where(standing, leans, 0.0)
        corner = cls(tail_lean, pin_lean, plan)
        for board, line in zip(BOARDS, (tail, pin), strict=True):  # all but flat, no lean is written finely enough to keep them
            standing = standing & (np.abs(corner.end_line(board) - line) < SAME_LEAN)
        if not standing.all():
            tail, pin = (np.broadcast_to(line, standing.shape)[~standing][0] for line in (tail, pin))
            raise ValueError(f"No pair of boards has end lines of {intended(tail)} (tail) and {intended(pin)} (pin): together "
                             "they slant too far for the boards to stand; check that each was read from square, not from the "
                             "edge.")
        return corner

    def lean(self, board: str) -> Computed:
        """Lean of "tail" or "pin", degrees."""
        return getattr(self, f"{known(board)}_lean")

    def end_line(self, board: str) -> Computed:
        """End line of "tail" or "pin", degrees from square."""
        return getattr(self, f"{known(board)}_end_line")

    @property
    def _angles(self):
        return {"tail_lean": self.tail_lean, "pin_lean": self.pin_lean, "plan_angle": self.plan_angle}

    def _shape(self):
        return np.broadcast_shapes(*map(np.shape, self._angles.values()))

    def _angle(self, name):
        """The closed form of that name, in degrees, in the corner's shape."""
        named = {quantity: self._angles[quantity] for quantity in FORMS[name].quantities}
        return plain(np.array(np.broadcast_to(compute(name, **named), self._shape())))

    @property
    def tail_end_line(self) -> Computed:
        """End line of the tail board, degrees from square to its bottom edge; positive when longer at the top."""
        return self._angle("tail_end_line")

    @property
    def pin_end_line(self) -> Computed:
        """End line of the pin board, degrees from square to its bottom edge; positive when longer at the top."""
        return self._angle("pin_end_line")

    @property
    def dihedral(self) -> Computed:
        """Degrees between the two faces, inside, in the plane square to the corner line."""
        return self._angle("dihedral")

    @property
    def end_bevel(self) -> Computed:
        """Dihedral − 90, degrees: how far an end is sawn out of square to its face to lie flush."""
        return self._angle("end_bevel")

    @property
    def corner_rise(self) -> Computed:
        """Degrees between the corner line and the bench."""
        return self._angle("corner_rise")

    @property
    def tail_rim_bevel(self) -> Computed:
        """Degrees that the tail board's level edges are ripped out of square; signed as its lean."""
        return self._angle("tail_rim_bevel")

    @property
    def pin_rim_bevel(self) -> Computed:
        """Degrees that the pin board's level edges are ripped out of square; signed as its lean."""
        return self._angle("pin_rim_bevel")

    @property
    def level_on_flush_end(self) -> Computed:
        """Level line on a flush tail end, degrees from square to its outer arris."""
        return self._angle("level_on_flush_end")

    @property
    def level_on_square_end(self) -> Computed:
        """Level line on a square-sawn tail end, degrees from square to its outer arris."""
        return self._angle("level_on_square_end")

    def slant_width(self, height: Numbers, board: str = "tail") -> Computed:
        """Width up the face of `board` ("tail" or "pin") for a vertical `height`, in the unit of `height`."""
        return self._on_board("slant_width", "height", height, board)

    def start_width(self, height: Numbers, thickness: Numbers, board: str = "tail") -> Computed:
        """Width of a square-edged blank from which `board` can be ripped to its lean; height and thickness in one unit."""
        return self.slant_width(checks.sizes("height", height) + self.rocking_gap(thickness, board), board)

    def baseline_offset(self, other_thickness: Numbers) -> Computed:
        """Distance of the baseline from the end line, square to it, for the other board's thickness (same unit)."""
        thickness = checks.sizes("other board's thickness", other_thickness)
        checks.together(thickness=thickness, corner=np.empty(self._shape()))
        return plain(compute("baseline_offset", other_thickness=thickness, **self._angles))

    def rocking_gap(self, thickness: Numbers, board: str = "tail") -> Computed:
        """Gap under an arris of `board` when its edge was left square, for its thickness (same unit); never negative."""
        return self._on_board("rocking_gap", "thickness", thickness, board)

    def looks_as(self, seen: Numbers, board: str = "tail") -> Computed:
        """Width to mark up the face of `board` so that it looks `seen` wide from straight in front (same unit)."""
        return self._on_board("looks_as", "width_seen", seen, board)

    def _on_board(self, form, quantity, value, board):
        """The form of a length above 0, number or array, and of the board's lean."""
        lean, value = self.lean(board), checks.sizes(quantity.replace("_", " "), value)
        checks.together(**{quantity: value, f"{board} lean": lean})
        return plain(compute(form, lean=lean, **{quantity: value}))

    def vector(self, name: str) -> np.ndarray:
        """A direction of the corner, shape (..., 3); axes as in `formulas.corner`.

        Unit vectors "tail_level", "tail_up", "tail_outward", "tail_normal" (out of the wood), the same for "pin", and
        "corner_line", which is 1 high.
        """
        checks.choice("direction of a corner", name, VECTORS)
        direction = np.empty((*self._shape(), 3))
        for axis, part in enumerate(vector(name, **self._angles)):
            direction[..., axis] = part
        return direction
