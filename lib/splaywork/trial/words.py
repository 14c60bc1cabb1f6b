"""What a trial corner says, in words: its two end lines read back, its gaps read back, and what each fault would show.

Each function takes a Corner (single leans) or what was read, lengths in mm, and the unit ("mm" or "in") to write them in, and
returns `Words`. ValueErrors as `readings` and `faults`.
"""

from collections.abc import Sequence

import numpy as np

from ..common import checks
from ..common.boards import BOARDS
from ..common.printing import MM_PER_INCH, degrees, gap, in_mm, intended, mm, offset_parts, short, typed
from ..common.text import Table, Words
from ..common.tolerances import ROUNDING, SAME_SETTING
from ..corner.corner import Corner, one_corner
from ..corner.words import series
from .faults import (
    CAUSES,
    EDGE,
    END,
    LEAN,
    Fault,
    as_joined,
    edge_gap,
    end_bevel_from_gap,
    end_gap,
    end_line_from_gap,
    faults,
    foot_gap,
    rim_bevel_from_gap,
)
from .readings import TrialCorner

_NOTHING = 0.03  # mm: what a feeler hardly tells apart; our choice, no source


# Two end lines read back.


def say_measured(measured: TrialCorner) -> Words:
    """A `TrialCorner` in words; the ranges in brackets are the worst case.

    >>> import splaywork as sw
    >>> print(sw.say_measured(sw.TrialCorner(10.9, 15.2, 0.25)).partition('. ')[0])
    With these end lines the tail board leans 15.5° and the pin board 11.3°
    """
    checks.instance("measured corner", measured, TrialCorner, "TrialCorner(tail_end_line=11, pin_end_line=15)")
    tail, pin = map(measured.lean, BOARDS)
    leans = {board: degrees(one.value) for board, one in (("tail", tail), ("pin", pin))}
    lean = (f"both boards lean {leans['tail']}" if leans["tail"] == leans["pin"] else
            f"the tail board leans {leans['tail']} and the pin board {leans['pin']}")
    words = f"With these end lines {lean}. The dihedral is {degrees(measured.dihedral.value)}."
    if np.any(measured.resolution):
        intended_leans = (None, None) if measured.intended is None else map(measured.intended.lean, BOARDS)
        spans = [_span(one, wanted) for one, wanted in zip((tail, pin), intended_leans, strict=True)]
        words += f" At worst the tail board leans anywhere from {spans[0]}, and the pin board from {spans[1]}."
    if measured.may_lie_flat:
        words += " These boards may not stand at all: read the lines more finely."
    return Words(words if measured.intended is None else f"{words} {_say_departures(measured)}")


def _places(reading, angle):
    """Decimals at which a range that doesn't hold `angle` is seen not to hold it: one, or more where it only just doesn't."""
    def seen(places):
        low, high, at = (round(one, places) for one in (reading.low, reading.high, angle))
        return reading.holds(angle) or not low <= at <= high

    return next((places for places in range(1, 9) if seen(places)), 9)


def _span(reading, wanted=None):
    """A range in words; `wanted`: the angle that it is compared with, if any."""
    places = 1 if wanted is None else _places(reading, wanted)
    return f"{degrees(reading.low, places)} to {degrees(reading.high, places)}"


def _departs(name, by, less, more):
    """One angle beside the one intended: `by` degrees, in the words for too little and for too much."""
    return f"{name} {'less than 0.1°' if abs(by) < 0.05 else degrees(abs(by))} {more if by > 0 else less}"


def _say_departures(measured):
    """How far each angle is from the one intended, and which of these departures the reading can explain."""
    wanted, departures = measured.intended, measured.departures

    def leans(board):
        lean = wanted.lean(board)
        ways = ("too little", "too much") if lean >= 0 else ("too much", "too little")
        return _departs(f"the {board} board leans {'out' if lean >= 0 else 'in'}", departures[board], *ways)

    angles = [(leans("tail"), measured.lean("tail").holds(wanted.tail_lean)),
              (leans("pin"), measured.lean("pin").holds(wanted.pin_lean)),
              (_departs("the dihedral is", departures["dihedral"], "too small", "too large"),
               measured.dihedral.holds(wanted.dihedral))]
    together = measured.explained or not all(held for _, held in angles)
    said = []
    for within in (False, True):
        if alike := [each for each, held in angles if held is within]:
            named, these = series(alike), "this difference" if len(alike) == 1 else "these differences"
            can = (f"can explain {these}" if within and together else f"can't explain {these}" if not within else
                   "can explain each of these differences alone, but not all of them at once")
            said.append(f"{named[0].upper()}{named[1:]}. The reading {can}.")
    return " ".join(said)


def measured_table(measured: TrialCorner) -> Table:
    """`Table` of the angles that a `TrialCorner` makes: measured, the worst that the reading leaves open, and intended.

    >>> import splaywork as sw
    >>> sw.measured_table(sw.TrialCorner(10.9, 15.2, 0.25)).rows[0]
    ('tail lean', '15.5°', '15.2° to 15.8°')
    """
    checks.instance("measured corner", measured, TrialCorner, "TrialCorner(tail_end_line=11, pin_end_line=15)")
    readings = {"tail lean": measured.lean("tail"), "pin lean": measured.lean("pin"), "dihedral": measured.dihedral}
    wanted = measured.intended
    if wanted is None:
        return Table(("angle", "from your lines", "at worst"),
                     [(name, degrees(one.value), _span(one)) for name, one in readings.items()])
    angles = wanted.tail_lean, wanted.pin_lean, wanted.dihedral
    return Table(("angle", "from your lines", "at worst", "intended", "can the reading explain the difference?"),
                 [(name, degrees(one.value), _span(one, angle), degrees(angle, _places(one, angle)),
                   "yes" if one.holds(angle) else "no")
                  for (name, one), angle in zip(readings.items(), angles, strict=True)])


def offsets_table(angles: Sequence[float] = tuple(range(1, 46)), unit: str = "mm") -> Table:
    """`Table` of angles from square, or from plumb, as what a rule reads: sideways for each 100 mm (4 in) of height.

    More than 15 angles stand in three pairs of columns, to be read down one pair after another.

    >>> import splaywork as sw
    >>> sw.offsets_table([14]).rows
    [('14.0°', '24.9 mm')]
    """
    angles = np.ravel(checks.angles("angle", angles)).tolist()
    if not angles:
        raise ValueError("The angles can't be an empty list: give one angle or more, such as [10, 20].")
    cells = [(degrees(angle), offset_parts(angle, unit)[0]) for angle in angles]
    deep = len(cells) if len(cells) <= 15 else -(-len(cells) // 3)
    pairs = range(0, len(cells), deep)
    rows = [sum((cells[at + row] if at + row < len(cells) else ("", "") for at in pairs), ()) for row in range(deep)]
    return Table(("angle", f"offset in {offset_parts(0, unit)[1]}") * len(pairs), rows)


def what_to_measure(corner: Corner, unit: str = "mm") -> Table:
    """`Table` of all that is measured at a trial corner: what, where, the angle it should have, and what a rule shows then.

    >>> import splaywork as sw
    >>> sw.what_to_measure(sw.Corner(16, 11)).rows[0][0]
    "tail board's lean"
    """
    corner = one_corner(corner)

    def aside(angle):
        sideways, height = offset_parts(abs(angle), unit)
        return f"{sideways} in {height}"

    rows = [(f"{board} board's lean", "1: square and rule", intended(corner.lean(board)),
             f"run {aside(corner.lean(board))} of rise") for board in BOARDS]
    rows += [(f"{board} board's end line", "2: bevel along the bottom edge", degrees(corner.end_line(board)),
              f"offset {aside(corner.end_line(board))}") for board in BOARDS]
    legs = (60.0, 80.0) if unit == "mm" else (3.0 * MM_PER_INCH, 4.0 * MM_PER_INCH)
    across = np.sqrt(legs[0] ** 2 + legs[1] ** 2 - 2 * legs[0] * legs[1] * np.cos(np.radians(corner.plan_angle)))
    near, far, apart = (typed(one, unit) for one in (*legs, across))
    rows.append(("plan angle",
                 "4: square held level; or pencil lines on the flat board, along the inner arrises of the bottom edges",
                 intended(corner.plan_angle),
                 f"Mark {near} along one line and {far} along the other. The marks should be {apart} apart."))
    rows += [(what, where, "none", "two slips of writing paper together don't go in") for what, where in (
        ("light under each bottom edge", "a flat board under the corner"), ("gap across each end", "inside and outside"),
        ("gap up each end", "top and bottom"))]
    return Table(("what", "how", "intended", "what you should find"), rows)


# Gaps read back.


def _where(size, arris, unit):
    return f"{gap(abs(size), unit)} {arris.format('inner' if size > 0 else 'outer')}"


def _cut_to(verb, angle, wanted, said, square):
    """How a surface was cut against how it should have been; `said`: the angle wanted, in words; `square`: was it?

    Angles keep their signs, which are those under the picture.
    """
    if square:
        return f"was left square; it should be {said}"
    if abs(wanted) < SAME_SETTING:
        return f"was {verb} to {degrees(angle)}; it should be square"
    way = ", the wrong way" if angle * wanted < 0 else ""
    return f"was {verb} to {degrees(angle)}{way}; it should be {said}"


def _says(surface, verb, bevel, wanted, said, size, square_gap, arris, unit):
    """What a gap says of a surface cut at `bevel`, and what that surface would show if it had been left square."""
    square = abs(size - square_gap) < _NOTHING
    cut = f"The {surface} {_cut_to(verb, bevel, wanted, said, square)}."
    if square or abs(square_gap) < _NOTHING:
        return cut
    return f"{cut} Left square, the {surface} would show {_where(square_gap, arris, unit)}."


def say_edge_gap(corner: Corner, thickness: float, size: float, board: str = "tail", unit: str = "mm") -> Words:
    """What light under an arris of the bottom edge says; `size` in mm, as `faults.edge_gap`."""
    lean = corner.lean(board)
    if abs(size) < _NOTHING:
        right = "square, as it should be" if abs(lean) < SAME_SETTING else f"ripped to its lean of {intended(lean)}"
        return Words(f"No light shows under the {board} board: its edge is {right}.")
    bevel = rim_bevel_from_gap(corner, thickness, size, board)
    says = _says("edge", "ripped", bevel, lean, intended(lean), size, edge_gap(corner, thickness, board),
                 "of light under its {} arris", unit)
    return Words(f"The {board} board shows {_where(size, 'of light under its {} arris', unit)}. {says}")


def say_end_gap(corner: Corner, thickness: float, size: float, board: str = "tail", unit: str = "mm") -> Words:
    """What a gap in the end, the same all the way up, says; `size` in mm, as `faults.end_gap`."""
    wanted = corner.end_bevel
    said = degrees(wanted)
    if abs(size) < _NOTHING:
        right = "square, as it should be" if abs(wanted) < SAME_SETTING else f"sawn to its end bevel of {said}"
        return Words(f"The {board} board's end shows no gap: it is {right}.")
    bevel = end_bevel_from_gap(corner, thickness, size)
    says = _says("end", "sawn", bevel, wanted, said, size, end_gap(corner, thickness), "at its {} arris", unit)
    return Words(f"The {board} board's end gapes {_where(size, 'at its {} arris', unit)}, all the way up. {says}")


def say_end_line_gap(corner: Corner, height: float, size: float, board: str = "tail", unit: str = "mm") -> Words:
    """What a gap that narrows along the corner line says; `size` in mm, as `faults.end_line_gap`."""
    true = corner.end_line(board)
    if abs(size) < _NOTHING:
        return Words(f"No gap shows up the end: the {board} board's end line is {degrees(true)} from square, as it should "
                     "be.")
    wide, narrow = ("bottom", "top") if size > 0 else ("top", "bottom")
    cut, should = told_apart(end_line_from_gap(corner, height, size, board), true)
    return Words(f"The {board} board's end gapes {gap(abs(size), unit)} at the {wide} and closes at the {narrow}. That "
                 f"board's end line was cut at {cut} from square; it should be {should}.")


def told_apart(*angles: float) -> list[str]:
    """Angles in words to 0.1°, or to 0.01° where they would else look the same."""
    words = [degrees(angle) for angle in angles]
    return words if len(set(words)) > 1 else [degrees(angle, 2) for angle in angles]


# What each fault would show.


def _by_rule(size, unit):
    """A length that a rule reads, never nothing: `0.7 mm`, `less than 0.1 mm`; size in mm, without its sign."""
    if in_mm(unit) != 1:
        return gap(abs(size), unit)
    return "less than 0.1 mm" if 0 < abs(size) < 0.05 else mm(abs(size))


def _shows(fault, corner, unit):
    """What one `Fault` shows, in a few words."""
    if fault.cause in (EDGE, END):
        if not fault.gap:
            return "nothing: square is right here"
        what = "of light under" if fault.cause == EDGE else "gap at"
        return f"{gap(fault.gap, unit)} {what} the {fault.arris} arris"
    if abs(fault.gap) == float("inf"):
        return "the corner can't stand at all"
    if fault.gap == 0:
        return "nothing: the shortcut is exact here"
    lean = degrees(fault.lean) if fault.cause != LEAN else intended(fault.lean)
    far = f"{_by_rule(fault.gap, unit)} too far {'out' if fault.gap > 0 else 'in'}"
    light = _where(fault.light, "of light under the {} arris", unit)
    return f"a lean of {lean} instead of {intended(corner.lean(fault.board))}, a top edge that is {far}, and {light}"


_NAMES = dict(zip(CAUSES, ("Edge left square to the face", "End left square to the face",
                           "Both end lines struck for a lean of this board that is {way}",
                           "End lines struck with the shortcut"), strict=True))
_REMEDIES = dict(zip(CAUSES, (
    "Plane the arris that touches, to the rim bevel, until the light is gone. Where more than 1 mm must go, saw first. The "
    "board then stands lower: plane as much off the other board's bottom edge, or cut a new board.",
    "Plane the arris that touches, to the end bevel, until the end closes. Where more than 1 mm must go, saw first.",
    "Strike both lines again for the right leans, far enough in that wood is left all along them. Saw clear of the new lines, "
    "then plane down to them.",
    "Mark each board from the other with the straightedge (notebook 04). Saw clear of the new lines, then plane down to "
    "them."), strict=True))


def _name(cause, off):
    """A fault's name; off: degrees by which a wrong lean is too much, negative too little."""
    way = f"{short(abs(off))}° too {'little' if off < 0 else 'much'}"
    return _NAMES[cause].format(way=way)


def faults_table(corner: Corner, height: float, thickness: float, lean_off: float = 1.0, unit: str = "mm") -> Table:
    """`Table` of what each fault would show on each board of this corner, and what to do about it. Sizes as `faults.faults`.

    >>> import splaywork as sw
    >>> sw.faults_table(sw.Corner(16, 11), height=120, thickness=18).head
    ('fault', 'tail board shows', 'pin board shows', 'what to do')
    """
    found = {(one.cause, one.board): one for one in faults(corner, height, thickness, lean_off)}
    return Table(("fault", *(f"{board} board shows" for board in BOARDS), "what to do"),
                 [(_name(cause, lean_off), *(_shows(found[cause, board], corner, unit) for board in BOARDS), _REMEDIES[cause])
                  for cause in CAUSES])


def say_fault(corner: Corner, fault: Fault, unit: str = "mm") -> Words:
    """One `Fault` in a sentence."""
    off = fault.lean - corner.lean(fault.board)
    return Words(f"{_name(fault.cause, off)}, {fault.board} board: {_shows(fault, corner, unit)}.")


def say_pulled_tight(corner: Corner, end_bevel: float = 0.0) -> Words:
    """What becomes of a corner whose ends, sawn to `end_bevel`, are clamped to the other board until they close.

    >>> import splaywork as sw
    >>> print(sw.say_pulled_tight(sw.Corner(20, 20)).partition('. ')[0])
    Suppose the ends were left square, and each was clamped tight to the other board until no gap showed
    """
    corner = one_corner(corner)
    end_bevel = checks.angle("end bevel", end_bevel)
    ends = "left square" if end_bevel == 0 else f"sawn to {degrees(end_bevel)}"
    pulled = f"Suppose the ends were {ends}, and each was clamped tight to the other board until no gap showed."
    if abs(end_bevel - corner.end_bevel) < ROUNDING:
        return Words(f"{pulled} The corner then stands as intended.")
    joined = as_joined(corner, end_bevel)
    leans = [f"the {board} board leans {degrees(joined.lean(board))} instead of {intended(corner.lean(board))}"
             for board in BOARDS]
    return Words(f"{pulled} The corner then stands at a plan angle of {degrees(joined.plan_angle)} instead of "
                 f"{intended(corner.plan_angle)}. Also, {leans[0]} and {leans[1]}.")


def say_slipped(corner: Corner, slip: float, unit: str = "mm") -> Words:
    """What a board fixed too far up the corner line does at the bottom of the corner.

    >>> import splaywork as sw
    >>> print(sw.say_slipped(sw.Corner(20, 20), slip=1).partition('. ')[0])
    Suppose one board was fixed 1.0 mm too far up the corner line
    """
    corner = one_corner(corner)
    slip = checks.number("slip", slip)
    light = _by_rule(foot_gap(corner, slip), unit)
    return Words(f"Suppose one board was fixed {_by_rule(slip, unit)} too far up the corner line. Light {light} high then "
                 "shows evenly under that board, and the corner rocks on the other board.")
