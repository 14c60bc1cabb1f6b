"""One corner in numbers: scalars or arrays, computed from the derived forms."""

from dataclasses import dataclass

import numpy as np

from ..common.boards import BOARDS
from ..formulas.derivation import H, P, Q, a, b, k, numeric, p, s, t, vectors


def _plain(value):
    """A float for a single number, an array otherwise."""
    value = np.asarray(value, dtype=float)
    return value.item() if value.ndim == 0 else value


def _checked(name, value, low, high, remedy):
    """The value as float or array, every entry strictly between low and high; ValueError otherwise."""
    given = value
    try:
        if np.asarray(value).dtype.kind in "cSU":  # NumPy would read text, and drop the imaginary part
            raise TypeError
        value = _plain(value)
    except (TypeError, ValueError):
        raise ValueError(f"The {name} must be a number of degrees, not {given!r}.") from None
    entries = np.asarray(value)
    inside = (entries > low) & (entries < high)
    if not inside.all():
        wrong = entries[~inside][0]
        if np.isnan(wrong):  # None becomes nan too
            raise ValueError(f"The {name} must be a number of degrees, not {wrong if entries.ndim else given}.")
        raise ValueError(f"The {name} is {wrong:g}°, and {remedy}.")
    return value


def _of(board):
    if board not in BOARDS:
        raise ValueError(f"A corner has a 'tail' board and a 'pin' board, not {board!r}.")
    return board


@dataclass(frozen=True)
class Corner:
    """A corner of two leaning boards.

    tail_lean, pin_lean: degrees from vertical, positive when the top is further out; between −90 and 90.
    plan_angle: degrees between the boards' level edges, inside the box; between 0 and 180.
    Numbers or NumPy arrays that broadcast together; the attributes have the broadcast shape. Angles are in degrees,
    lengths in whatever unit is passed in. ValueError for a corner that can't exist.
    """

    tail_lean: float
    pin_lean: float
    plan_angle: float = 90.0

    def __post_init__(self):
        for name in ("tail_lean", "pin_lean"):
            value = _checked(name.replace("_", " "), getattr(self, name), -90, 90,
                             "a board that leans 90° or more lies flat: keep it between −90° and 90°")
            object.__setattr__(self, name, value)
        plan = _checked("plan angle", self.plan_angle, 0, 180,
                        "at 0° or 180° the faces are parallel and never meet: keep it between 0° and 180°")
        object.__setattr__(self, "plan_angle", plan)
        try:
            self._shape()
        except ValueError:
            shapes = [np.shape(value) for value in (self.tail_lean, self.pin_lean, self.plan_angle)]
            raise ValueError("The tail lean, the pin lean and the plan angle have shapes {}, {} and {}, which do not "
                             "broadcast together: give them one shape, or single numbers.".format(*shapes)) from None

    @classmethod
    def from_end_lines(cls, tail_end_line, pin_end_line, plan_angle=90.0):
        """The corner whose boards have these end lines (degrees from square, as measured).

        ValueError when no leans give them: at a plan angle of 90, when the two together reach 90°.
        """
        remedy = "an end line along the edge itself has no end: keep it between −90° and 90° from square"
        tail = _checked("tail end line", tail_end_line, -90, 90, remedy)
        pin = _checked("pin end line", pin_end_line, -90, 90, remedy)
        plan = cls(0, 0, plan_angle).plan_angle
        tangents = np.tan(np.radians(pin)), np.tan(np.radians(tail)), np.radians(90 - np.asarray(plan))
        with np.errstate(invalid="ignore", divide="ignore"):
            leans = [np.degrees(numeric(f"{board}_lean_from_end_lines", P, Q, k)(*tangents)) for board in BOARDS]
        standing = np.all(np.abs(leans) < 90 - 1e-6, axis=0)  # further over, they lie flat but for rounding
        if not standing.all():
            tail, pin = (np.broadcast_to(line, standing.shape)[~standing][0] for line in (tail, pin))
            raise ValueError(f"No pair of boards has end lines of {tail:g}° (tail) and {pin:g}° (pin): together they "
                             "slant too far for the boards to stand; check that each was read from square, not from the "
                             "edge.")
        return cls(*leans, plan)

    def lean(self, board):
        """Lean of "tail" or "pin", degrees."""
        return getattr(self, f"{_of(board)}_lean")

    def end_line(self, board):
        """End line of "tail" or "pin", degrees from square."""
        return getattr(self, f"{_of(board)}_end_line")

    def _radians(self, *symbols):
        """The inputs that those symbols of the derivation stand for, in radians."""
        degrees = {a: self.tail_lean, b: self.pin_lean, k: self.plan_angle}
        return [np.radians(90 - np.asarray(degrees[k]) if symbol is k else degrees[symbol]) for symbol in symbols]

    def _shape(self):
        return np.broadcast_shapes(*map(np.shape, (self.tail_lean, self.pin_lean, self.plan_angle)))

    def _angle(self, name, *symbols):
        """The closed form of that name, which holds those symbols (all three when none is named), in degrees."""
        symbols = symbols or (a, b, k)
        angle = numeric(name, *symbols)(*self._radians(*symbols))
        return _plain(np.degrees(angle, out=np.empty(self._shape())))

    @property
    def tail_end_line(self):
        """End line of the tail board, degrees from square to its bottom edge; positive when longer at the top."""
        return self._angle("tail_end_line")

    @property
    def pin_end_line(self):
        """End line of the pin board, degrees from square to its bottom edge; positive when longer at the top."""
        return self._angle("pin_end_line")

    @property
    def dihedral(self):
        """Degrees between the two faces, inside, in the plane square to the corner line."""
        return self._angle("dihedral")

    @property
    def end_bevel(self):
        """Dihedral − 90, degrees: how far an end is sawn out of square to its face to lie flush."""
        return self._angle("end_bevel")

    @property
    def corner_rise(self):
        """Degrees between the corner line and the bench."""
        return self._angle("corner_rise")

    @property
    def tail_rim_bevel(self):
        """Degrees that the tail board's level edges are ripped out of square; signed as its lean."""
        return self._angle("tail_rim_bevel", a)

    @property
    def pin_rim_bevel(self):
        """Degrees that the pin board's level edges are ripped out of square; signed as its lean."""
        return self._angle("pin_rim_bevel", b)

    @property
    def level_on_flush_end(self):
        """Level line on a flush tail end, degrees from square to its outer arris."""
        return self._angle("level_on_flush_end")

    @property
    def level_on_square_end(self):
        """Level line on a square-sawn tail end, degrees from square to its outer arris."""
        return self._angle("level_on_square_end")

    def slant_width(self, height, board="tail"):
        """Width up the face of `board` ("tail" or "pin") for a vertical `height`, in the unit of `height`."""
        return _plain(numeric("slant_width", H, p)(height, np.radians(self.lean(board))))

    def baseline_offset(self, other_thickness):
        """Distance of the baseline from the end line, square to it, for the other board's thickness (same unit)."""
        return _plain(numeric("baseline_offset", t, a, b, k)(other_thickness, *self._radians(a, b, k)))

    def rocking_gap(self, thickness, board="tail"):
        """Gap under an arris of `board` when its edge was left square, for its thickness (same unit); never negative."""
        return _plain(numeric("rocking_gap", t, p)(thickness, np.radians(self.lean(board))))

    def looks_as(self, seen, board="tail"):
        """Width to mark up the face of `board` so that it looks `seen` wide from straight in front (same unit)."""
        return _plain(numeric("looks_as", s, p)(seen, np.radians(self.lean(board))))

    def vector(self, name):
        """A direction of the corner, shape (..., 3); axes as in `derivation`.

        Unit vectors "tail_level", "tail_up", "tail_outward", "tail_normal" (out of the wood), the same for "pin", and
        "corner_line", which is 1 high.
        """
        if name not in vectors():
            raise ValueError(f"A corner has the directions {', '.join(vectors())}, not {name!r}.")
        vector = np.empty((*self._shape(), 3))
        for axis, part in enumerate(numeric(name, a, b, k)(*self._radians(a, b, k))):
            vector[..., axis] = part
        return vector
