"""Measured back from a trial corner: the leans that two boards will really stand at, and what a bad fit says.

Everything here is for a plan angle of 90. Readings are single numbers; each is taken to be right to within its
resolution, either way.
"""

from dataclasses import dataclass
from itertools import product

import numpy as np

from ..common import checks
from ..common.boards import BOARDS, known
from ..common.printing import fine_degrees as degrees
from ..common.printing import fine_millimetres as millimetres
from ..corner.corner import Corner
from ..corner.words import series
from ..formulas.derivation import H, L, P, Q, S, a, b, d, k, numeric, r, slope, t
from ..one_gauge.one_gauge import OneGauge
from ..one_gauge.words import asked


@dataclass(frozen=True)
class Reading:
    """An angle worked out from readings, degrees.

    margin: what the resolution can do to it, either way, by the derivative (first order, all readings at their worst
    together). low, high: its range over every reading within the resolution, from the ends of their ranges.
    """

    value: float
    margin: float
    low: float
    high: float

    def __str__(self):
        return f"{degrees(self.value)} ({degrees(self.low)} to {degrees(self.high)})"

    def holds(self, angle):
        """Whether the readings leave this angle, degrees, possible (but for rounding)."""
        return bool(self.low - 1e-9 <= angle <= self.high + 1e-9)


@dataclass(frozen=True)
class TrialCorner:
    """The corner that two measured end lines make.

    tail_end_line, pin_end_line: degrees from square, positive when the board is longer at the top. resolution: degrees
    to which they were read, one for both or (tail, pin). intended: the Corner that was asked for, if any.
    ValueError when no boards can have these end lines, or the corner intended has another plan angle than 90.
    """

    tail_end_line: float
    pin_end_line: float
    resolution: float | tuple = 0.0
    intended: Corner | None = None

    def __post_init__(self):
        for name in ("tail_end_line", "pin_end_line"):
            object.__setattr__(self, name, checks.angle(name.replace("_", " "), getattr(self, name), -90, 90,
                                                        "an end line is measured from square: give less than 90°"))
        object.__setattr__(self, "resolution", _both(self.resolution))
        _ = self.corner  # refuses lines that no boards can have
        if self.intended is not None:
            checks.instance("intended corner", self.intended, Corner, "Corner(tail_lean=15, pin_lean=12)")
            _single(self.intended)
        if self.intended is not None and self.intended.plan_angle != 90:
            raise ValueError("Measured end lines are compared with a corner of plan angle 90°: give it one.")

    @property
    def corner(self):
        """The `Corner` of these end lines as read."""
        return Corner.from_end_lines(self.tail_end_line, self.pin_end_line)

    def _reading(self, name, beyond):
        """The `Reading` of a form in P and Q; `beyond` is what it comes to where the boards lie flat."""
        lines = np.radians([self.pin_end_line, self.tail_end_line])
        spans = np.radians(self.resolution[::-1])
        value = numeric(name, P, Q, k)(*np.tan(lines), 0.0)
        slopes = [slope(name, symbol, P, Q)(*np.tan(lines)) * (1 + np.tan(line) ** 2)
                  for symbol, line in zip((P, Q), lines, strict=True)]
        # A lean grows with the slant of either line, so that it turns round only where a line is square.
        ends = [{line - span, line + span, min(max(0.0, line - span), line + span)}
                for line, span in zip(lines, spans, strict=True)]
        pin, tail = np.tan(np.array(list(product(*ends)))).T
        with np.errstate(invalid="ignore", divide="ignore"):
            reached = numeric(name, P, Q, k)(pin, tail, 0.0)
        reached = np.degrees(np.where(np.isfinite(reached), reached, beyond(pin, tail)))
        margin = np.degrees(np.abs(slopes) @ spans)
        return Reading(*map(float, (np.degrees(value), margin, reached.min(), reached.max())))

    def lean(self, board):
        """`Reading` of the lean at which "tail" or "pin" will really stand."""
        own = 0 if known(board) == "tail" else 1  # the other board's line gives the lean its sign
        return self._reading(f"{board}_lean_from_end_lines",
                             lambda *tangents: np.copysign(np.pi / 2, tangents[own]))

    @property
    def dihedral(self):
        """`Reading` of the dihedral."""
        return self._reading("dihedral_from_end_lines", lambda pin, tail: np.where(pin * tail > 0, np.pi, 0))

    @property
    def may_lie_flat(self):
        """Whether the resolution leaves it open that these boards can't stand at all."""
        return any(max(abs(self.lean(board).low), abs(self.lean(board).high)) >= 90 for board in BOARDS)

    @property
    def departures(self):
        """{"tail": …, "pin": …, "dihedral": …}: as measured less as intended, degrees."""
        if self.intended is None:
            raise ValueError("There is nothing to compare these end lines with: say which corner was intended.")
        leans = {board: self.lean(board).value - self.intended.lean(board) for board in BOARDS}
        return leans | {"dihedral": self.dihedral.value - self.intended.dihedral}

    @property
    def explained(self):
        """Whether the resolution alone can explain that the corner is not quite the one intended."""
        tail, pin = (abs(read - self.intended.end_line(board)) <= span + 1e-9 for board, read, span in
                     zip(BOARDS, (self.tail_end_line, self.pin_end_line), self.resolution, strict=True))
        return bool(tail and pin)


def _both(resolution):
    """(tail, pin) resolution in degrees."""
    both = resolution if isinstance(resolution, list | tuple | np.ndarray) else (resolution, resolution)
    if len(both) != len(BOARDS):
        raise ValueError(f"The resolution must be one number of degrees, or one for each line, not {checks.shown(resolution)}.")
    return tuple(checks.error("resolution", one) for one in both)


def _single(corner):
    """ValueError for a corner of arrays: a trial corner is one."""
    for name in ("tail_lean", "pin_lean", "plan_angle"):
        checks.number(name.replace("_", " "), getattr(corner, name), what="a number of degrees")
    return corner


# Without a protractor.


def _from_lengths(name, readings, resolution):
    """`Reading` of a form from {symbol: length in mm}, each right to within `resolution` mm."""
    resolution = checks.amount("resolution", resolution)
    shortest = min(length for symbol, length in readings.items() if symbol != r)  # a run may well be nothing
    if resolution >= shortest:
        raise ValueError(f"The resolution is {resolution:g} mm: give the mm to which the rule was read, at least 0 and "
                         f"less than the {shortest:g} mm measured.")
    symbols, lengths = tuple(readings), np.array([float(length) for length in readings.values()])
    with np.errstate(invalid="ignore", divide="ignore"):
        value = numeric(name, *symbols)(*lengths)
        slopes = [slope(name, symbol, *symbols)(*lengths) for symbol in symbols]
        ends = np.array(list(product(*[(length - resolution, length + resolution) for length in lengths]))).T
        reached = numeric(name, *symbols)(*ends)
        # In reach of the resolution, a board measured as wide as the box is high may be a trifle wider or be upright.
        reached = np.degrees(np.where(np.isfinite(reached), reached, 0.0))
        margin = np.degrees(np.sum(np.abs(slopes)) * resolution) if resolution else 0.0
    return Reading(*map(float, (np.degrees(value), margin, reached.min(), reached.max())))


def _read(name, value):
    """A length read off a rule that may have a sign; ValueError when it is no number."""
    return checks.number(name, value, what="a number of mm")


def lean_from_rise_and_run(rise, run, resolution=0.0):
    """`Reading` of a lean from a rule against a square on the bench.

    rise: up the square; run: level from the square to the face, over that rise, positive when the board leans out;
    resolution: to which both were read; all mm.
    """
    rise = checks.size("rise", rise)
    return _from_lengths("lean_from_rise_and_run", {H: rise, r: _read("run", run)}, resolution)


def lean_from_slant_width(slant_width, height, resolution=0.0, leans="out"):
    """`Reading` of a lean from a board's width up its face and the box's vertical height, mm, both read to `resolution`.

    The widths can't tell which way the board leans: say "out" or "in". Poor for small leans: see its range.
    ValueError when the board is narrower than the box is high.
    """
    checks.choice("way that a board leans", leans, ("out", "in"))
    slant_width, height = checks.size("slant width", slant_width), checks.size("height", height)
    if height > slant_width:
        raise ValueError(f"The board is {slant_width:g} mm wide and the box {height:g} mm high, and no board can stand "
                         "higher than it is wide: measure both again.")
    found = _from_lengths("lean_from_slant_width", {S: slant_width, H: height}, resolution)
    return found if leans == "out" else Reading(0.0 - found.value, found.margin, 0.0 - found.high, 0.0 - found.low)


def end_line_from_diagonal(bottom_edge, slant_width, diagonal, resolution=0.0):
    """`Reading` of an end line from the diagonal of a board's outer face that runs from the far foot to its head.

    bottom_edge: level, foot to foot; slant_width: up the face, square to it; all mm, all read to `resolution`. The two
    diagonals of a board give its two end lines.
    ValueError when the diagonal is too short to cross the board.
    """
    bottom_edge, slant_width = checks.size("bottom edge", bottom_edge), checks.size("slant width", slant_width)
    diagonal = checks.size("diagonal", diagonal)
    if diagonal <= slant_width + 2 * resolution:
        raise ValueError(f"The diagonal is {diagonal:g} mm, too short to cross a board {slant_width:g} mm wide: measure "
                         "from the far foot to the head of the end line.")
    return _from_lengths("end_line_from_diagonal", {L: bottom_edge, S: slant_width, d: diagonal}, resolution)


# What a bad fit says.


@dataclass(frozen=True)
class Symptom:
    """What one fault shows at an assembled trial corner.

    cause: "edge left square", "end left square", "lean set wrong" or "one gauge used"; board: "tail" or "pin";
    amount: mm to look for, 0 where this corner doesn't show the fault, infinite where it couldn't stand; words: one
    sentence.
    """

    cause: str
    board: str
    amount: float
    words: str


def symptoms(corner, height, thickness, lean_off=1.0, length=millimetres):
    """[`Symptom`, …] of each fault on each board of `corner` (single leans, plan angle 90).

    height (vertical) and thickness (of both boards) in mm; lean_off: the error of lean to look for, degrees.
    """
    shortcut = OneGauge(corner)
    _single(corner)
    lean_off = checks.angle("error of lean", lean_off)
    height, thickness = checks.size("height", height), checks.size("thickness", thickness)
    shown = []
    for board in BOARDS:
        shown += [_square_edge(corner, board, thickness, length), _square_end(corner, board, thickness, length),
                  _wrong_lean(corner, board, height, lean_off, length), _one_gauge(shortcut, board, height, length)]
    return shown


def _square_edge(corner, board, thickness, length):
    gap, lean = corner.rocking_gap(thickness, board), corner.lean(board)
    if lean == 0:
        words = f"The {board} board is upright, so an edge square to its face lies level and nothing shows."
    else:
        low, high = ("outer", "inner") if lean > 0 else ("inner", "outer")
        words = (f"If the {board} board's edges were left square to its face, it stands on its {low} arris, with "
                 f"{length(gap)} of light under the {high} one; a straightedge laid over the top rests on the {high} "
                 f"arris, as far above the {low} one.")
    return Symptom("edge left square", board, gap, words)


def _square_end(corner, board, thickness, length):
    gap = float(numeric("unbevelled_gap", a, b, k, t)(*corner._radians(a, b, k), thickness))
    if gap == 0:
        words = f"The faces meet square, so an end sawn square to the {board} board's face closes."
    else:
        touches, gapes = ("outer", "inner") if corner.end_bevel > 0 else ("inner", "outer")
        words = (f"If the {board} board's end was left square to its face and is butted against the other board, it "
                 f"touches on its {touches} arris and gapes {length(gap)} on the {gapes} one, all the way up.")
    return Symptom("end left square", board, gap, words)


def _run(height, lean):
    """How far out a face has run at that height, mm."""
    return float(height * np.tan(np.radians(lean)))


def _has_run(height, really, meant, length):
    """What a square on the bench shows."""
    ways = [f"{length(abs(run))} {'in' if run < 0 else 'out'}" for run in (really, meant)]
    return f"a square on the bench shows it: {length(height)} up, the face has run {ways[0]} instead of {ways[1]}."


def _wrong_lean(corner, board, height, lean_off, length):
    lean = corner.lean(board)
    wrong = Corner(lean + lean_off, 0).tail_lean
    really, meant = _run(height, wrong), _run(height, lean)
    words = (f"If both end lines were struck for a {board} lean of {asked(wrong)} instead of {asked(lean)}, the corner "
             f"closes all the same; {_has_run(height, really, meant, length)}")
    return Symptom("lean set wrong", board, abs(really - meant), words)


def _one_gauge(shortcut, board, height, length):
    if not shortcut.stands:
        words = "If the ends were struck with one gauge, the leans are too much for the corner to stand at all."
        return Symptom("one gauge used", board, np.inf, words)
    closed, lean = shortcut.closed_lean(board), shortcut.corner.lean(board)
    if shortcut.error("tail") == shortcut.error("pin") == 0:
        return Symptom("one gauge used", board, 0.0, f"One gauge is exact here, and the {board} board stands as meant.")
    really, meant = _run(height, closed), _run(height, lean)
    words = (f"If the ends were struck with one gauge, the corner closes, but the {board} board leans {degrees(closed)} "
             f"instead of {asked(lean)}; {_has_run(height, really, meant, length)}")
    return Symptom("one gauge used", board, abs(really - meant), words)


def say_measured(measured):
    """A `TrialCorner` in words."""
    tail, pin = map(measured.lean, BOARDS)
    words = (f"With these end lines the tail board will stand at {tail}, the pin board at {pin}, and the faces will "
             f"meet at {measured.dihedral}.")
    if measured.may_lie_flat:
        words += " Within the reading's resolution they may not stand at all: read the lines more finely."
    return words if measured.intended is None else f"{words} {_say_departures(measured)}"


def _say_departures(measured):
    """How far each angle is from the one intended, and which of these departures the resolution can explain."""
    intended, off = measured.intended, measured.departures
    angles = [("tail lean", off["tail"], measured.lean("tail").holds(intended.tail_lean)),
              ("pin lean", off["pin"], measured.lean("pin").holds(intended.pin_lean)),
              ("dihedral", off["dihedral"], measured.dihedral.holds(intended.dihedral))]
    said = []
    for within, verdict in ((False, "more than the reading can explain"), (True, "within what the reading can explain")):
        named = [f"{name} {degrees(by)}" for name, by, held in angles if held is within]
        if named:
            said.append(f"{series(named)}, {verdict}")
    if all(held for *_, held in angles) and not measured.explained:
        said.append("but not all of them at once")
    return f"Against what was intended: {'; '.join(said)}."
