"""The one-gauge shortcut in words: what is seen in each picture of what it does, and small tables of the same.

Each function takes a Corner (single leans, plan angle 90), lengths in mm, and the unit ("mm", "in" or "0.001 in") to write
them in, and returns `Words`. ValueErrors as `one_gauge`.
"""

from collections.abc import Callable, Sequence

import numpy as np

from ..common import checks
from ..common.boards import BOARDS
from ..common.printing import degrees, enlarged_gap, fine, fine_parts, gap, intended, length, off, typed
from ..common.text import Table, Words
from ..common.tolerances import ROUNDING, SAME_GAP
from ..corner.corner import Corner, one_corner
from .one_gauge import NAMED_CORNERS, SETTING_LIMIT, TOLERANCES, OneGauge, both_up_to
from .setting_errors import Jitter, Opened

_CORNERS_JOINED = {1: "one corner", 2: "two corners", 3: "three corners"}
BOTTOMS = 440, 380  # mm: of the tail and the pin boards of the box that the tables speak of
STOCK, STICKS = 18, 300  # mm: the thickness, and the winding sticks' length, that the tables speak of
TOLD = "slight", "moderate", "strong"  # of NAMED_CORNERS: the fourth is to practise on
BOX_CORNERS = "front left", "front right", "back right", "back left"  # as `setting_errors.Jitter` counts the four of a box


def is_exact(corner: Corner) -> bool:
    """Whether a board is upright, so that the shortcut strikes the true lines."""
    return corner.tail_lean == 0 or corner.pin_lean == 0


def _upright(corner: Corner) -> str:
    return "Both boards are upright" if corner.tail_lean == corner.pin_lean == 0 else "One board is upright"


def _exact(corner: Corner) -> str:
    return f"{_upright(corner)}, so the shortcut is exact"


def say_error(corner: Corner) -> Words:
    """How far each shortcut line is from the true end line.

    >>> import splaywork as sw
    >>> print(sw.say_error(sw.Corner(20, 20)).partition('. ')[0])
    The shortcut strikes 20.0° on the tail board, where the true end line is 18.9°: the shortcut line slants 1.1° too much
    """
    shortcut = OneGauge(corner)
    if is_exact(corner):
        return Words(f"{_exact(corner)}: it strikes the true end lines.")
    lines = {board: f"{degrees(shortcut.struck(board))} on the {board} board, where the true end line is "
                    f"{degrees(corner.end_line(board))}" for board in BOARDS}
    return Words(f"The shortcut strikes {lines['tail']}: the shortcut line slants {off(shortcut.tail_error)} too much. "
                 f"The shortcut strikes {lines['pin']}: that line slants {off(shortcut.pin_error)} too much.")


def say_hold_leans(corner: Corner, height: float, unit: str = "mm") -> Words:
    """The gaps when the boards are held at their intended leans.

    >>> import splaywork as sw
    >>> print(sw.say_hold_leans(sw.Corner(20, 20), height=120).partition('. ')[0])
    Hold the boards at their intended leans, 20° and 20°, in a box 120 mm high
    """
    corner = one_corner(corner)
    if is_exact(corner):
        return Words(f"{_exact(corner)}. Hold the boards at their leans, and the ends meet with no gap.")
    gaps = OneGauge(corner).hold_leans(height)
    ends = {f"The {board} board's end": one for board, one in gaps.items()}
    if corner.tail_lean == corner.pin_lean:
        ends = {"Each end": gaps["tail"]}
    told = [f"{end} touches at the {'top' if one.opens_at == 'bottom' else 'bottom'} and leaves a gap of "
            f"{enlarged_gap(one.width, unit)} at the {one.opens_at}." for end, one in ends.items()]
    return Words(f"Hold the boards at their intended leans, {intended(corner.tail_lean)} and {intended(corner.pin_lean)}, in a "
                 f"box {typed(height, unit)} high. {' '.join(told)} Each gap is measured along its board.")


def say_closed(corner: Corner, height: float, thickness: float = 18.0, unit: str = "mm") -> Words:
    """The different box that the shortcut lines really make.

    >>> import splaywork as sw
    >>> print(sw.say_closed(sw.Corner(20, 20), height=120).partition('. ')[0])
    Close the corners
    """
    height = checks.size("height", height)
    shortcut = OneGauge(corner)
    if not shortcut.stands and not shortcut.lies_flat:
        return Words("The corners can't be closed. The two intended leans add up to more than 90°, so the ends can't be "
                     "brought together.")
    if shortcut.lies_flat:
        return Words("Close the corners. The two intended leans add up to 90°, so the four boards lie flat like a picture "
                     "frame. Nothing is left of the height.")
    if is_exact(corner):
        return Words(f"{_exact(corner)}: the box closes at its intended leans and at its full height.")
    leans = {board: _instead(degrees(shortcut.closed_lean(board)), intended(corner.lean(board)), "0.1°")
             for board in BOARDS}
    stands = _instead(length(height * shortcut.height_factor, unit), length(height, unit),
                      {"mm": "0.1 mm", "in": "1/64 in"}.get(unit, unit))
    opens = shortcut.closed_end_gap(thickness)
    lean = f"The tail boards lean {leans['tail']}, and the pin boards {leans['pin']}."
    if corner.tail_lean == corner.pin_lean:
        lean = f"All four boards lean {leans['tail']}."
    close = "The outer faces close" if opens > 0 else "The outer faces alone would close"
    return Words(f"Close the corners. {close} at all four corners, and the outer edges of both rims are level, but the box "
                 f"is a different one. {lean} The height is {stands}. {_say_inside(opens, thickness, unit)}")


def _instead(really, wanted, little):
    """"30.9° instead of 28°", or for what is written alike "within 0.1° of 8°"."""
    same = really.replace(".0", "") == wanted.replace(".0", "")
    return f"within {little} of {wanted}" if same else f"{really} instead of {wanted}"


def _say_inside(opens, thickness, unit):
    """What the thickness of the wood adds: the ends were sawn to the intended box's end bevel."""
    touch, gapes = ("outer", "inner") if opens > 0 else ("inner", "outer")
    return (f"The ends were sawn for the intended box. So in stock {typed(thickness, unit)} thick the ends touch at their "
            f"{touch} arrises and leave a gap of {gap(abs(opens), unit)} at the {gapes} ones.")


def say_go_round(corner: Corner, height: float, tail_length: float, pin_length: float, corners: int = 4,
                 unit: str = "mm") -> Words:
    """What the chain of boards misses after 1 to 4 corners joined at the true dihedral.

    >>> import splaywork as sw
    >>> print(sw.say_go_round(sw.Corner(20, 20), height=120, tail_length=300, pin_length=400).partition('. ')[0])
    Hold every corner at its true dihedral, 96.7°
    """
    corner = one_corner(corner)
    corners = checks.count("number of corners to go round", corners, 1, 4)
    if is_exact(corner):
        return Words(f"{_exact(corner)}. Join the boards at the true dihedral, and the four corners close.")
    chain = OneGauge(corner).go_round(height, tail_length, pin_length)
    turned, missed = off(chain.rotations[corners - 1]), gap(chain.gaps[corners - 1], unit)
    held = f"Hold every corner at its true dihedral, {degrees(corner.dihedral)}."
    if corners == 4:
        return Words(f"{held} The four boards don't close. The last end is turned {turned} from the first, and misses the "
                     "first "
                     f"by {missed} where the two are furthest apart.")
    return Words(f"{held} After {_CORNERS_JOINED[corners]} the next board is turned {turned} from where it should stand. "
                 f"That board's near end is as much as {missed} out of place.")


def say_winding(corner: Corner, length_of_side: float, stick: float, unit: str = "mm") -> Words:
    """The winding of the sides (tail boards) between a leaning front (the pin board) and an upright back.

    >>> import splaywork as sw
    >>> print(sw.say_winding(sw.Corner(20, 20), length_of_side=300, stick=300).partition('. ')[0])
    The front leans 20°, and the back is upright
    """
    corner = one_corner(corner)
    if is_exact(corner):
        return Words(f"{_exact(corner)}: each side stands at {intended(corner.tail_lean)} at both its ends, and needn't wind.")
    shortcut = OneGauge(corner)
    winding = shortcut.winding(length_of_side, stick)
    return Words(f"The front leans {intended(corner.pin_lean)}, and the back is upright. The front corners, struck with the "
                 f"shortcut, want each side at {degrees(shortcut.closed_lean('tail'))}; the back corners want the side at "
                 f"{degrees(corner.tail_lean)}. So each side must wind {off(winding.wind)} in its "
                 f"{typed(length_of_side, unit)} of "
                 f"length, or a corner gapes. Winding sticks {typed(stick, unit)} long agree at one tip and stand "
                 f"{gap(winding.stick_shows, unit)} apart at the other.")


def say_level_lines(corner: Corner) -> Words:
    """What a bevel set to the tail board's lean does as the level line on the tail board's end."""
    if is_exact(corner):
        return Words(f"{_upright(corner)}, so a bevel set to the tail board's lean is exact: it marks true level lines on "
                     "that board's end, flush or square.")
    shortcut = OneGauge(corner)
    return Words("Set the bevel to the tail board's lean, and mark level lines on that board's end. On a flush end the lines "
                 f"slant {off(shortcut.flush_level_error)} too much. On a square end they slant "
                 f"{off(shortcut.square_level_error)} too little. The tails' cheeks cross a square end at two other angles.")


def just_beyond(value: float, limit: float, write: Callable) -> bool:
    """True where a value beyond its limit is written, by `write`, as the limit is: then the words have to say so."""
    return bool(value > limit and write(value) == write(limit))


def gap_beside(opens: float, limit: float, unit: str = "mm") -> tuple[str, bool]:
    """A gap as it is written beside a limit, both in mm, and whether it is a little more than that.

    Where `gap` would round to the other side of a limit such as 0.12 mm, `fine` writes the gap instead.
    """
    said, wider = float(fine_parts(limit, unit)[0]), opens > limit
    for written in (gap(opens, unit), fine(opens, unit)):
        shown, less = float(written.split()[-2]), written.startswith("less")
        just = wider and shown == said and not less
        if just or (shown > said and not less if wider else shown <= said):
            break
    return written, just


def say_good_enough(corner: Corner, width: float, tolerance: float, setting_limit: float = SETTING_LIMIT,
                    unit: str = "mm") -> Words:
    """Whether the shortcut serves this corner: boards `width` mm up the face, tolerance in mm, and the limit of a setting.

    >>> import splaywork as sw
    >>> print(sw.say_good_enough(sw.Corner(6, 5), width=100, tolerance=0.2).partition('. ')[0])
    At 6° and 5° the shortcut leaves a gap of 0.05 mm in 100 mm of width
    """
    corner = one_corner(corner)
    width = checks.size("width", width)
    tolerance = checks.size("tolerance", tolerance)
    setting_limit = checks.size("limit of the setting", setting_limit, "degrees")
    shortcut = OneGauge(corner)
    if is_exact(corner):
        return Words(f"{_exact(corner)}, at any width and for any tolerance.")
    opens = max(shortcut.gap_over(width, board) for board in BOARDS)
    error = max(abs(shortcut.error(board)) for board in BOARDS)
    fits = opens <= tolerance
    written, just = gap_beside(opens, tolerance, unit)
    more = "a little more than " if just else ""
    verdict = ("within", "so the shortcut is good enough") if fits else ("more than", "so the shortcut isn't good enough")
    angle = "more" if error > setting_limit else "no more"
    worse = "a little more than " if just_beyond(error, setting_limit, off) else ""
    return Words(f"At {intended(corner.tail_lean)} and {intended(corner.pin_lean)} the shortcut leaves a gap of {more}"
                 f"{written} in {typed(width, unit)} of width. The gap is {verdict[0]} your "
                 f"{fine(tolerance, unit)}, {verdict[1]}. The worse shortcut line is {worse}{off(error)} wrong. We allow "
                 f"{degrees(setting_limit, 2)} for "
                 f"setting a bevel: the line is wrong by {angle} than that.")


def say_both_up_to(width: float, tolerance: float, unit: str = "mm") -> Words:
    """How far two boards may lean equally before the shortcut is not good enough.

    >>> import splaywork as sw
    >>> print(sw.say_both_up_to(100, 0.2).partition('. ')[0])
    Two boards 100 mm wide lean equally
    """
    return Words(f"Two boards {typed(width, unit)} wide lean equally. Up to {_rounded_down(both_up_to(width, tolerance))} the "
                 f"shortcut leaves a gap of at most {fine(tolerance, unit)}.")


def _rounded_down(lean):
    """A limit to a tenth of a degree, never beyond it."""
    return degrees(int(lean * 10 + ROUNDING) / 10)


def say_setting_errors(sample: Jitter, tolerance: float, unit: str = "mm") -> Words:
    """What a `Jitter` sample shows.

    >>> import splaywork as sw
    >>> sample = sw.jitter(sw.Corner(15, 12), 0.25)
    >>> print(sw.say_setting_errors(sample, 0.2).partition('. ')[0])
    Here are 10,000 corners
    """
    checks.instance("sample", sample, Jitter, "jitter(Corner(16, 11))")
    tolerance = checks.size("tolerance", tolerance)
    boxes, corners, _ = sample.openings.shape
    pieces, most = "boxes" if corners > 1 else "corners", sample.matters_most
    line, bevel = sample.limit
    limits = (f"Every setting is wrong by up to {hundredths(line)}." if line == bevel else
              f"The end lines are wrong by up to {hundredths(line)}, and the end bevels by up to {hundredths(bevel)}.")
    half, most_boxes = (about(sample.quantile(share), unit) for share in (0.5, 0.9))
    told = (f"In nine out of ten {pieces} the widest gap is {most_boxes} or less." if half == most_boxes else
            f"In half of the {pieces} the widest gap is {half} or less, in nine out of ten {most_boxes} or less.")
    place = place_of(sample, most)
    where = {"": "", "front": " at a front corner", "back": " at a back corner"}.get(
        place, f" at {place}" if place.startswith("corner") else f" at the {place} corner")
    either = len({one.board for one in sample.ranking if one.corner == most.corner and one.setting == most.setting
                  and gap(one.gap, unit) == gap(most.gap, unit)}) == len(BOARDS)
    matters = (f"The {most.setting}s{where} matter most. One {most.setting}" if either else
               f"The {most.board} board's {most.setting}{where} matters most. That {most.setting}")
    share, whole = percent(sample.within(tolerance)), {"0%": f"None of the {pieces}", "100%": f"All {pieces}"}
    return Words(f"Here are {boxes:,} {pieces}. {limits} The boards are held at their intended "
                 f"leans. {told} {whole.get(share, f'{share} of the {pieces}')} "
                 f"stay within {fine(tolerance, unit)}. {matters} alone, "
                 f"{hundredths(line if most.setting == 'end line' else bevel)} wrong, opens a gap of {gap(most.gap, unit)}.")


def about(x: float, unit: str) -> str:
    """`about 0.55 mm` for a gap of `x` mm, to stand before "or less"; what is smaller than a step of `gap`, as a step."""
    written = gap(x, unit)
    step = written.removeprefix("less than ")
    return step if step != written else f"about {written}"


def say_degree_adds(angle: float, up: float, unit: str = "mm") -> Words:
    """How far a line at `angle` degrees from square is from the square line, `up` mm above the edge, and what a degree adds.

    >>> import splaywork as sw
    >>> print(sw.say_degree_adds(20, up=300).partition('. ')[2])
    One degree more adds 6.0 mm.
    """
    up = checks.size("height above the edge", up)
    angle = checks.angle("angle from square", angle)
    near, far = (up * np.tan(np.radians(each)) for each in (angle, checks.angle("angle a degree further", angle + 1)))
    return Words(f"{typed(up, unit)} above the edge, a line {intended(angle)} from square is {length(near, unit)} from the "
                 f"square line. One degree more adds {length(far - near, unit)}.")


def hundredths(angle: float) -> str:
    """`0.25°` or `0.1°`: a limit in degrees, to the hundredth that it is set to, and no longer than it has to be."""
    written = degrees(angle, 2)
    return f"{written[:-2]}°" if written.endswith("0°") else written


def percent(share: float) -> str:
    """A share, 0 to 1, in whole %: "0%" for none and "100%" for all, and never for less than that."""
    return f"{100 * share:.0f}%" if share in (0, 1) else f"{min(max(round(100 * share), 1), 99)}%"


def place_of(sample: Jitter, opened: Opened) -> str:
    """Where in a box a setting opens as much as `opened`: "front" or "back" at both corners there, "" at all, else its corner.

    One corner has the name "front left", for the first of four, or "corner 1" where there are not four.
    """
    numbers = {one.corner for one in sample.ranking
               if one[1:3] == opened[1:3] and abs(one.gap - opened.gap) < SAME_GAP}
    corners = sample.openings.shape[1]
    if len(numbers) == corners:
        return ""
    if corners != len(BOX_CORNERS):
        return f"corner {opened.corner}"
    return {frozenset((1, 2)): "front", frozenset((3, 4)): "back"}.get(frozenset(numbers), BOX_CORNERS[opened.corner - 1])


# Tables: the named corners side by side, and what a width and a tolerance allow.


def _named(corner):
    return f"{intended(corner.tail_lean)} and {intended(corner.pin_lean)}"


def _hold_leans_row(shortcut, height, unit):
    errors = [off(shortcut.error(board)) for board in BOARDS]
    return *errors, *(gap(shortcut.gap(height, board), unit) for board in BOARDS)


def _closed_row(shortcut, height, unit):
    return (*(degrees(shortcut.closed_lean(board)) for board in BOARDS), length(height * shortcut.height_factor, unit),
            gap(shortcut.closed_end_gap(STOCK), unit))


def _go_round_row(shortcut, height, unit):
    chain = shortcut.go_round(height, *BOTTOMS)
    return degrees(shortcut.corner.dihedral), *(gap(one, unit) for one in chain.gaps[[0, 3]]), off(chain.rotations[3])


def _winding_row(shortcut, height, unit):
    winding = shortcut.winding(BOTTOMS[0], STICKS)
    own = shortcut.winding(BOTTOMS[0], shortcut.corner.slant_width(height, "tail"))
    return off(winding.wind), gap(own.stick_shows, unit), gap(winding.stick_shows, unit)


def _level_lines_row(shortcut, _, __):
    return off(shortcut.flush_level_error), off(shortcut.square_level_error)


_TABLES = {
    "hold the leans": (("tail line slants too much by", "pin line slants too much by", "tail board's gap", "pin board's gap"),
                       _hold_leans_row),
    "close the corners": (("tail boards stand at", "pin boards stand at", "height", "gap inside, {stock} stock"), _closed_row),
    "go round": (("dihedral held", "error after one corner", "error after four", "turned by, after four"), _go_round_row),
    "wind the sides": (("winding", "seen across the side", "seen with sticks {sticks} long"), _winding_row),
    "level lines": (("flush end: slants too much by", "square end: slants too little by"), _level_lines_row),
}


def shortcut_table(consequence: str, height: float = 120.0, unit: str = "mm") -> Table:
    """`Table` of what the shortcut does to the slight, moderate and strong corner of `NAMED_CORNERS`, in a box of that height.

    The box is 440 and 380 mm long at its bottom edges. consequence: as `one_gauge_panel` takes it.

    >>> import splaywork as sw
    >>> sw.shortcut_table("hold the leans").head
    ('corner', 'leans', 'tail line slants too much by', 'pin line slants too much by', "tail board's gap", "pin board's gap")
    """
    head, cells = _TABLES[checks.choice("picture", consequence, tuple(_TABLES))]
    height = checks.size("height", height)
    rows = [(name, _named(NAMED_CORNERS[name]), *cells(OneGauge(NAMED_CORNERS[name]), height, unit)) for name in TOLD]
    said = {name: f"{size} mm" if unit == "mm" else length(size, unit) for name, size in (("stock", STOCK), ("sticks", STICKS))}
    return Table(("corner", "leans", *(name.format(**said) for name in head)), rows)


def four_cases_table(height: float = 120.0, unit: str = "mm") -> Table:
    """`Table` of what the shortcut does in each of the four cases.

    Its columns are the slight, moderate and strong corner of `NAMED_CORNERS`. The box has that height, and is 440 and 380 mm
    long at its bottom edges.

    >>> import splaywork as sw
    >>> sw.four_cases_table().rows[1]
    ('1. the wider of the two gaps', '0.10 mm', '0.90 mm', '7.1 mm')
    """
    height, told = checks.size("height", height), []
    for name in TOLD:
        shortcut = OneGauge(NAMED_CORNERS[name])
        closed = " and ".join(degrees(shortcut.closed_lean(board)) for board in BOARDS)
        round_ = shortcut.go_round(height, *BOTTOMS)
        told.append((name, _named(shortcut.corner), gap(max(shortcut.gap(height, board) for board in BOARDS), unit), closed,
                     length(height * shortcut.height_factor, unit), *(gap(one, unit) for one in round_.gaps[[0, 3]]),
                     off(shortcut.wind)))
    names = ("corner", "leans, tail board and pin board", "1. the wider of the two gaps", "2. leans when the corners close",
             "2. height", "3. error after one corner", "3. error after four corners", "4. winding")
    head, *rows = zip(names, *told, strict=True)
    return Table(head, rows)


def named_corners_table(width: float, tolerance: float, unit: str = "mm") -> Table:
    """`Table` of whether the shortcut is good enough at the slight, moderate and strong corner of `NAMED_CORNERS`.

    width: slant width of the boards, mm; tolerance: the widest gap that will do, mm.

    >>> import splaywork as sw
    >>> sw.named_corners_table(100, 0.2).rows[0]
    ('slight', '8° and 6°', '0.10 mm', 'good enough', '0.1°')
    """
    width, tolerance, rows = checks.size("width", width), checks.size("tolerance", tolerance), []
    for name in TOLD:
        shortcut = OneGauge(NAMED_CORNERS[name])
        opens = max(shortcut.gap_over(width, board) for board in BOARDS)
        rows.append((name, _named(shortcut.corner), gap(opens, unit), "good enough" if opens <= tolerance else
                     "not good enough", off(max(abs(shortcut.error(board)) for board in BOARDS))))
    return Table(("corner", "leans", f"widest gap in {typed(width, unit)}",
                  f"with a tolerance of {fine(tolerance, unit)}", "error of the worse shortcut line"), rows)


def equal_leans_table(leans: Sequence[float], height: float = 120.0, unit: str = "mm") -> Table:
    """`Table` of boxes whose boards all lean equally, by each of `leans` (below 45°): what is struck, and what becomes of the
    box.

    >>> import splaywork as sw
    >>> sw.equal_leans_table([15]).rows[0]
    ('15°', '0.5°', '1.15 mm', '15.5°', '119.7 mm')
    """
    leans = np.ravel(checks.angles("lean", leans)).tolist()
    height = checks.size("height", height)
    rows = []
    for lean in leans:
        shortcut = OneGauge(Corner(lean, lean))
        rows.append((intended(lean), off(shortcut.tail_error), gap(shortcut.gap(height, "tail"), unit),
                     degrees(shortcut.closed_lean("tail")), length(height * shortcut.height_factor, unit)))
    return Table(("both lean", "line slants too much by", "gap, if the leans are held", "lean, if the corners close",
                  "height, if the corners close"), rows)


def good_enough_table(widths: Sequence[float] = (50, 100, 150, 200, 300), tolerances: Sequence[float] = TOLERANCES,
                      unit: str = "mm") -> Table:
    """`Table` of how far two boards may lean equally, for each width up the face (rows) and each tolerance of gap (columns),
    mm.

    >>> import splaywork as sw
    >>> sw.good_enough_table(widths=[100], tolerances=[0.2]).rows
    [('100 mm', '9.0°')]
    """
    across, gaps = (np.atleast_1d(checks.sizes(*each)) for each in (("width", widths), ("tolerance", tolerances)))
    rows = [(typed(width, unit), *(_rounded_down(both_up_to(width, tolerance)) for tolerance in gaps)) for width in across]
    return Table(("slant width", *(f"most lean for a gap of {fine(tolerance, unit)}" for tolerance in gaps)), rows)
