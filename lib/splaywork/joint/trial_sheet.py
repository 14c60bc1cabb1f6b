"""A first corner from one sheet of two pages: from planed stock to a dry fit, with every number and drawing that it needs.

The stock, the slope and the number of tails that the sheet recommends are common practice, with no source.
"""

from math import ceil
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from ..common import checks
from ..common.boards import BOARDS
from ..common.kinds import FilePath
from ..common.printing import degrees, length
from ..common.text import Table
from ..common.tolerances import SAME_SETTING
from ..corner.words import ROCKS, corner_settings, series
from ..drawing.page import BenchPages, numbered
from ..drawing.print_file import save_pages
from .bench_setups import blank_width
from .bench_steps import aside, bench_step_words, end_cheeks, hundred
from .bench_steps_picture import step_row
from .joint import Joint
from .templates import checked_name

if TYPE_CHECKING:
    from ..drawing.paper import Page

PAST = 60.0  # mm that a blank is longer, so that either board can run past the other
PAGES = 2
SIZES = [7.6 - 0.2 * step for step in range(12)]  # points of its letters, the largest that fit
TALL = 33.5, 31.0, 29.0, 27.0  # mm of its drawings, the same
STOCK_TAILS, STOCK_SLOPE = 2, 6

_CAUTIONS = (
    "Wear eye protection, clamp the work, keep both hands behind the edge, and keep edges sharp. Your tools' manuals, the "
    "rules where you work and qualified instruction come before this sheet."
)
_RECOMMENDED = "For a first corner take flat, dry softwood without knots."
_COMMON = "These are the usual choices for a first corner (common practice, with no source)."
_EASIER = "A first corner is easier with {instead} (common practice, with no source): it has a sheet of its own."
_CURE = (
    "Measure both end lines with the bevel (step 5). Before tails are cut, plane or saw to the true line. "
    "With tails cut, saw new ends behind the baselines."
)
_GAPES = (
    ("It rocks on the bench", ROCKS),
    ("It won't go in", "The board tips, or a pin is too wide. Push level. Pare the pin where it shines, never the tail."),
    (
        "An end gapes at the top, and closes at the bottom",
        f"The end line slants too little. Where the board is longer at the bottom, it slants too much. {_CURE}",
    ),
    (
        "An end gapes at the bottom, and closes at the top",
        "The end line slants too much. Where the board is longer at the bottom, it slants too little. The cure is the same.",
    ),
    (
        "An end gapes only inside or only outside, all the way up",
        "The end or a shoulder isn't sawn or chopped to its bevel. Test it with the bevel (step 6), and pare what stands "
        "proud.",
    ),
    (
        "It closes, but the boards don't stand at their leans",
        "One end line, or both, slants too much or too little. Measure the leans: notebook 06 finds the line that is wrong.",
    ),
)


def _head(joint, unit):
    """What the sheet is for; and what of it makes a first corner easier, or that it is the usual choice."""
    tails = f"{joint.tails} tail{'s' * (joint.tails != 1)}"
    told = (f"This sheet is for a box {length(joint.height, unit)} high, stock {_thick(joint, unit)} thick, {tails}, "
            f"1 in {joint.tail_slope:g}, {joint.end} ends.")
    instead = [words for words, differs in ((f"{STOCK_TAILS} tails", joint.tails != STOCK_TAILS),
                                            (f"a slope of 1 in {STOCK_SLOPE}", joint.tail_slope != STOCK_SLOPE),
                                            ("flush ends", joint.end != "flush")) if differs]
    advice = _EASIER.format(instead=series(instead)) if instead else _COMMON
    return f"{told} {advice} {_RECOMMENDED}"


def trial_settings(joint: Joint, unit: str = "mm") -> list[tuple[str, ...]]:
    """Every setting of the corner as (what for, held against, offset, degrees from square), in words; "square" for none."""

    def row(what, edge, angle):
        square = abs(angle) < SAME_SETTING
        return what, edge, "square" if square else aside(angle, unit), "–" if square else degrees(abs(angle))

    angle = {setting.key: setting.angle for setting in corner_settings(joint.corner)}
    rows = [row(f"{board} board: its lean, from plumb", "bench", angle[f"{board}_rim_bevel"]) for board in BOARDS]
    rows += [row(f"{board} board: end line", "bottom edge", angle[f"{board}_end_line"]) for board in BOARDS]
    bevel = angle["end_bevel"] if joint.end == "flush" else 0.0
    rows.append(row("both ends: slant through the thickness", "outer face", bevel))
    lines = end_cheeks(joint)
    if abs(lines["lower"].from_square - lines["upper"].from_square) < SAME_SETTING:
        rows.append(row("tail board: lines across its end", "outer face", lines["lower"].from_square))
    else:
        rows += [
            row(f"tail board: {which} lines across its end", "outer face", each.from_square) for which, each in lines.items()
        ]
    side = np.degrees(np.arctan(1 / joint.tail_slope))
    spread = f"{aside(side, unit)} to the side", f"{degrees(side)} from level"
    rows.append(("tails' sides, to check by", "a drawn level line", *spread))
    across = next(each.from_square for each in joint.lines_on("tail", "bottom") if each.name == "end line")
    if across >= SAME_SETTING:
        rows.append(row("marks across the bottom edges", "outer arris", across))
    return rows


def trial_table(joint: Joint, unit: str = "mm") -> Table:
    """`trial_settings` as a `Table` for a page.

    >>> import splaywork as sw
    >>> sw.trial_table(sw.Joint(sw.Corner(16, 11), 120, 18)).head
    ('setting', 'held against', 'offset in 100 mm', 'from square')
    """
    checks.instance("joint", joint, Joint, "Joint(Corner(16, 11), height=120, tail_thickness=12)")
    return Table(("setting", "held against", f"offset in {hundred(unit)}", "from square"), trial_settings(joint, unit))


def gapes_table() -> Table:
    """What a dry fit shows, and what to do about it, as a `Table` for a page.

    >>> import splaywork as sw
    >>> sw.gapes_table().head
    ('what you see', 'what to do')
    """
    return Table(("what you see", "what to do"), list(_GAPES))


def stock(joint: Joint, unit: str = "mm") -> list[tuple[str, ...]]:
    """The blanks as (what, long, wide, thick), in words: square-edged, long enough to run past one another."""
    rows = []
    for board, cut in (("tail", joint.tail_board), ("pin", joint.pin_board)):
        long = np.ptp(cut.blank.reshape(-1, 3) @ joint.corner.vector(f"{board}_level")) + PAST
        rows.append(
            (
                f"{board} board",
                length(10 * ceil(long / 10), unit),
                length(blank_width(joint, board), unit),
                length(joint.thickness(board), unit),
            )
        )
    return rows


def stock_table(joint: Joint, unit: str = "mm") -> Table:
    """The blanks of a trial corner as a `Table` for a page: planed, edges square.

    >>> import splaywork as sw
    >>> print(sw.stock_table(sw.Joint(sw.Corner(30, 30), 100, 18, tails=2)))
    stock, planed, edges square  long      wide      thick
    tail board                   240.0 mm  125.9 mm  18.0 mm
    pin board                    240.0 mm  125.9 mm  18.0 mm
    """
    checks.instance("joint", joint, Joint, "Joint(Corner(16, 11), height=120, tail_thickness=12)")
    return Table(("stock, planed, edges square", "long", "wide", "thick"), stock(joint, unit))


def trial_pages(joint: Joint, paper: str = "A4", unit: str = "mm", name: str = "") -> "list[Page]":
    """The sheet as two `Page`s; arguments as of `save_trial_sheet`."""
    name = checked_name(name, joint.corner)
    told = stock(joint, unit), trial_settings(joint, unit), _shortcut(joint, unit), bench_step_words(joint, unit)

    def laid(size, tall):
        return _laid(joint, paper, unit, name, size, tall, told)

    first, last = 0, len(SIZES)  # the first size that fits with the smallest drawings
    while first < last:
        middle = (first + last) // 2
        first, last = (first, middle) if laid(SIZES[middle], TALL[-1]) else (middle + 1, last)
    if first == len(SIZES):
        raise ValueError(f"The trial sheet for {joint.tails} tails takes more than {PAGES} pages: print it for a joint with "
                         "fewer.")
    return numbered(next(pages for tall in TALL if (pages := laid(SIZES[first], tall))))


def _laid(joint, paper, unit, name, size, tall, told):
    """The two pages with letters of this size and drawings this tall, or None where they don't fit.

    told: rows of the stock, rows of the settings, what the shortcut would strike, and the steps.
    """
    blanks, settings, shortcut, steps = told
    pages = BenchPages(
        paper, name, "Trial corner: every number is this corner's own. Tolerances are common practice, with no source."
    )
    pages.begin("Cut a trial corner")
    pages.write(
        _head(joint, unit),
        size,
    )
    pages.write(_CAUTIONS, size)
    pages.table(
        (("Stock, planed, edges square", 34, "left"), ("long", 20, "left"), ("wide", 20, "left"), ("thick", 20, "left")),
        blanks,
        size,
    )
    pages.table(
        (
            ("Setting", 50, "left"),
            ("held against", 22, "left"),
            (f"offset in {hundred(unit)}", 22, "left"),
            ("from square", 16, "left"),
        ),
        settings,
        size,
    )
    if shortcut:
        pages.write(shortcut, size)
    for step in steps:
        items, height = step_row(joint, step, unit, size, tall, pages.width)
        pages.place(items, height)
        if pages.begun > PAGES:
            return None
    pages.heading("When the dry fit gapes", 10)
    pages.table((("what you see", 30, "left"), ("what to do", 70, "left")), _GAPES, size)
    done = pages.pages()
    return done if len(done) == PAGES else None


def _thick(joint, unit):
    """The thickness of the stock as the sheet's table gives it: one length, or each board's."""
    return series(list(dict.fromkeys(length(joint.thickness(board), unit) for board in BOARDS)))


def _shortcut(joint, unit):
    """What a bevel set to the other board's lean would strike instead; nothing where the shortcut is exact."""
    corner = joint.corner
    wrong = [
        (board, aside(lean, unit), aside(corner.end_line(board), unit))
        for board, lean in (("tail", corner.pin_lean), ("pin", corner.tail_lean))
    ]
    if corner.plan_angle != 90:
        return ""
    told = [f"{struck} instead of {true} on the {board} board" for board, struck, true in wrong if struck != true]
    if len({(struck, true) for _, struck, true in wrong}) == 1 < len(told):
        told = [told[0].replace("the tail board", "both boards")]
    return f"Don't set the bevel to a lean. In {hundred(unit)} it would strike {series(told)}." if told else ""


def save_trial_sheet(path: FilePath, joint: Joint, paper: str = "A4", unit: str = "mm", name: str = "") -> tuple[Path, ...]:
    """Write the trial sheet of a `Joint` to `path` (.pdf, or .svg, one file a page), two pages; returns the paths written.

    paper: "A4", "A3" or "Letter". unit: "mm" or "in". name: of the corner, up to 60 characters, made from the leans when
    empty. A file that is there is replaced, whole or not at all. ValueError for another paper, ending or folder; OSError when
    the disk refuses.
    """
    return save_pages(path, trial_pages(joint, paper, unit, name), paper)
