"""Measured back from a trial corner: the leans at which two boards will really stand.

Everything here is for a plan angle of 90. Readings are single numbers. Each is taken to be right to within its resolution,
either way: the resolution is a limit, and every range is a worst case, with all readings off by as much as they can be.
"""

from dataclasses import dataclass
from itertools import product

import numpy as np

from ..common import checks
from ..common.boards import BOARDS, known
from ..common.printing import degrees
from ..corner.corner import Corner
from ..formulas.forms import compute


@dataclass(frozen=True)
class Reading:
    """An angle worked out from readings, degrees.

    margin: the most that the resolution can do to it, either way, by the derivative (first order, all readings at their worst
    together). low, high: its range over every reading within the resolution, from the ends of their ranges: the worst case, not
    what a careful hand usually comes to.
    """

    value: float
    margin: float
    low: float
    high: float

    def __str__(self) -> str:
        return f"{degrees(self.value)} ({degrees(self.low)} to {degrees(self.high)})"

    def holds(self, angle: float) -> bool:
        """Whether the readings leave this angle, degrees, possible (but for rounding)."""
        return bool(self.low - 1e-9 <= angle <= self.high + 1e-9)


@dataclass(frozen=True)
class TrialCorner:
    """The corner that two measured end lines make.

    Parameters
    ----------
    tail_end_line, pin_end_line : float
        Degrees from square, positive when the board is longer at the top.
    resolution : float or (float, float)
        Degrees, 0 to 5, to which the lines were read: the most by which a reading is off, either way. One for both lines, or
        one
        for the tail and one for the pin board's.
    intended : Corner, optional
        The corner that was wanted, at a plan angle of 90.

    Raises
    ------
    ValueError
        When no boards can have these end lines, or an input isn't one of those above.

    >>> import splaywork as sw
    >>> piece = sw.TrialCorner(tail_end_line=10.9, pin_end_line=15.2, resolution=0.25)
    >>> print(piece.lean("tail"))
    15.5° (15.2° to 15.8°)
    """

    tail_end_line: float
    pin_end_line: float
    resolution: float | tuple = 0.0
    intended: Corner | None = None

    def __post_init__(self) -> None:
        remedy = "an end line along the edge itself has no end: keep it between −90° and 90° from square"
        for name in ("tail_end_line", "pin_end_line"):
            line = checks.angle(name.replace("_", " "), getattr(self, name), -90, 90, remedy)
            object.__setattr__(self, name, line)
        object.__setattr__(self, "resolution", _both(self.resolution))
        _ = self.corner  # refuses lines that no boards can have
        if self.intended is None:
            return
        checks.instance("intended corner", self.intended, Corner, "Corner(tail_lean=16, pin_lean=11)")
        for board in BOARDS:
            checks.number(f"intended {board} lean", self.intended.lean(board), what="a number of degrees")
        if self.intended.plan_angle != 90:
            raise ValueError("Measured end lines are compared with a corner of plan angle 90°: give it one.")

    @property
    def corner(self) -> Corner:
        """The `Corner` of these end lines as read."""
        return Corner.from_end_lines(self.tail_end_line, self.pin_end_line)

    def _reading(self, name, beyond):
        """The `Reading` of a form in P and Q; `beyond` is what it comes to where the boards lie flat."""
        lines = {"pin_end_line": self.pin_end_line, "tail_end_line": self.tail_end_line}
        spans = self.resolution[::-1]
        value = compute(name, **lines)
        slopes = np.array([compute(f"{name}_per_{line}", **lines) for line in lines])
        # A lean grows with the slant of either line, so that it turns round only where a line is square.
        ends = [{line - span, line + span, min(max(0.0, line - span), line + span)}
                for line, span in zip(lines.values(), spans, strict=True)]
        pin, tail = np.array(list(product(*ends))).T
        with np.errstate(invalid="ignore", divide="ignore"):
            reached = compute(name, pin_end_line=pin, tail_end_line=tail)
        reached = np.where(np.isfinite(reached), reached, beyond(*np.tan(np.radians([pin, tail]))))
        margin = np.abs(slopes) @ spans
        return Reading(*map(float, (value, margin, reached.min(), reached.max())))

    def lean(self, board: str) -> Reading:
        """`Reading` of the lean at which "tail" or "pin" will really stand."""
        own = 0 if known(board) == "tail" else 1  # the other board's line gives the lean its sign
        return self._reading(f"{board}_lean_from_end_lines",
                             lambda *tangents: np.copysign(90, tangents[own]))

    @property
    def dihedral(self) -> Reading:
        """`Reading` of the dihedral."""
        return self._reading("dihedral_from_end_lines", lambda pin, tail: np.where(pin * tail > 0, 180, 0))

    @property
    def may_lie_flat(self) -> bool:
        """Whether the resolution leaves it open that these boards can't stand at all."""
        return any(max(abs(self.lean(board).low), abs(self.lean(board).high)) >= 90 for board in BOARDS)

    @property
    def departures(self) -> dict[str, float]:
        """{"tail": …, "pin": …, "dihedral": …}: as measured less as intended, degrees."""
        wanted = self._wanted()
        leans = {board: self.lean(board).value - wanted.lean(board) for board in BOARDS}
        return leans | {"dihedral": self.dihedral.value - wanted.dihedral}

    def _wanted(self) -> Corner:
        if self.intended is None:
            raise ValueError("There is nothing to compare these end lines with: say which corner was intended.")
        return self.intended

    @property
    def explained(self) -> bool:
        """Whether the resolution alone can explain that the corner is not quite the one intended."""
        wanted, spans = self._wanted(), np.broadcast_to(self.resolution, 2)
        tail, pin = (abs(read - wanted.end_line(board)) <= span + 1e-9 for board, read, span in
                     zip(BOARDS, (self.tail_end_line, self.pin_end_line), spans, strict=True))
        return bool(tail and pin)


def _both(resolution):
    """(tail, pin) resolution in degrees."""
    pair = resolution if isinstance(resolution, tuple | list) else (resolution, resolution)
    if len(pair) != 2:
        raise ValueError(f"The resolution must be one number of degrees, or one for each of the two lines, not {resolution!r}.")
    return tuple(checks.error("resolution", one) for one in pair)


# Without a protractor.


def _from_lengths(form, readings, resolution):
    """`Reading` of a form from {quantity: length in mm}, each right to within `resolution` mm."""
    shortest = min(length for name, length in readings.items() if name != "run")  # a run may well be nothing
    resolution = checks.number("resolution", resolution, what="a number of mm, 0 or more and less than the "
                               f"{shortest:g} mm measured", fits=lambda mm: (mm >= 0) & (mm < shortest))
    with np.errstate(invalid="ignore", divide="ignore"):
        value = compute(form, **readings)
        slopes = [compute(f"{form}_per_{name}", **readings) for name in readings]
        ends = np.array(list(product(*[(length - resolution, length + resolution) for length in readings.values()]))).T
        reached = compute(form, **dict(zip(readings, ends, strict=True)))
        # In reach of the resolution, a board measured as wide as the box is high may be a trifle wider or be upright.
        reached = np.where(np.isfinite(reached), reached, 0.0)
        margin = np.sum(np.abs(slopes)) * resolution if resolution else 0.0
    return Reading(*map(float, (value, margin, reached.min(), reached.max())))


def lean_from_rise_and_run(rise: float, run: float, resolution: float = 0.0) -> Reading:
    """`Reading` of a lean from a rule against a square on the bench.

    rise: up the square; run: level from the square to the face, over that rise, positive when the board leans out;
    resolution: to which both were read; all mm.

    >>> import splaywork as sw
    >>> print(sw.lean_from_rise_and_run(rise=100, run=28))
    15.6° (15.6° to 15.6°)
    """
    run = checks.number("run", run, what="a number of mm")
    return _from_lengths("lean_from_rise_and_run", {"height": checks.size("rise", rise), "run": run}, resolution)


def lean_from_slant_width(slant_width: float, height: float, resolution: float = 0.0, leans: str = "out") -> Reading:
    """`Reading` of a lean from a board's width up its face and the box's vertical height, mm, both read to `resolution`.

    The widths can't tell which way the board leans: say "out" or "in". Poor for small leans: see its range.
    ValueError when the board is narrower than the box is high.

    >>> import splaywork as sw
    >>> print(sw.lean_from_slant_width(slant_width=104, height=100))
    15.9° (15.9° to 15.9°)
    """
    checks.choice("way that the board leans", leans, ("out", "in"))
    slant_width, height = checks.size("slant width", slant_width), checks.size("height", height)
    if height > slant_width:
        raise ValueError(f"The board is {slant_width:g} mm wide and the box {height:g} mm high, and no board can stand "
                         "higher than it is wide: measure both again.")
    found = _from_lengths("lean_from_slant_width", {"slant_width": slant_width, "height": height}, resolution)
    return found if leans == "out" else Reading(0.0 - found.value, found.margin, 0.0 - found.high, 0.0 - found.low)


def end_line_from_diagonal(bottom_edge: float, slant_width: float, diagonal: float, resolution: float = 0.0) -> Reading:
    """`Reading` of an end line from the diagonal of a board's outer face that runs from the far bottom corner to its top.

    bottom_edge: level, corner to corner; slant_width: up the face, square to it; all mm, all read to `resolution`. The two
    diagonals of a board give its two end lines.
    ValueError when the diagonal is too short to cross the board.
    """
    bottom_edge, slant_width = checks.size("bottom edge", bottom_edge), checks.size("slant width", slant_width)
    diagonal, resolution = checks.size("diagonal", diagonal), checks.amount("resolution", resolution)
    if diagonal <= slant_width + 2 * resolution:
        raise ValueError(f"The diagonal is {diagonal:g} mm, too short to cross a board {slant_width:g} mm wide: measure "
                         "from the far bottom corner to the top of the end line.")
    lengths = {"bottom_edge": bottom_edge, "slant_width": slant_width, "diagonal": diagonal}
    return _from_lengths("end_line_from_diagonal", lengths, resolution)
