"""A first corner from one sheet of two pages: from planed stock to a dry fit, with every number and drawing that it needs.

The stock, the slope and the number of tails that the sheet recommends are common practice, with no source.
"""

from collections.abc import Callable
from math import ceil, floor
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from ..common import checks
from ..common.boards import BOARDS
from ..common.kinds import FilePath
from ..common.printing import intended, length, typed
from ..common.text import Table
from ..common.tolerances import SAME_SETTING
from ..common.wedges import pair_width
from ..corner.dry_fit import END, END_SIGNS, LINE, SIGNS, line_signs, with_tails
from ..corner.words import corner_settings, series
from ..drawing.lettering import height_of
from ..drawing.page import BenchPages, numbered, scale_of
from ..drawing.paper import Label, Stroke
from ..drawing.print_file import save_pages
from .bench_setups import BEARS, PROP, STOP, blank_width, lean_wedge, packing, prop_height, stop_above
from .bench_steps import WEDGE, aside, bench_step_words, end_cheeks, hundred, wedge_pairs
from .bench_steps_picture import frames, paragraph, step_row
from .joint import Joint
from .templates import checked_name

if TYPE_CHECKING:
    from ..drawing.paper import Page

PAST = 60.0  # mm that a blank is longer, so that either board can run past the other
LONG, BROAD = 150.0, 25.0  # mm, about, of a straightedge: common practice, with no source
PAGES = 2
SMALLEST = 7.0  # points of letters that are read at a bench
SIZES = 8.0, 7.5, 7.25, 7.0, 6.5, 6.0, 5.5  # points of its letters
WIDE = 92.0, 88.0, 84.0, 80.0, 76.0, 72.0, 68.0, 64.0, 60.0, 56.0  # mm that its drawings are wide
TALL = 40.0, 36.0, 32.0, 28.0, 24.0, 0.0  # mm that its drawings are tall at least; 0: as tall as their callouts
# letters that are read first of all, then the largest letters with the widest drawings
LAYOUTS = sorted(((size, wide) for size in SIZES for wide in WIDE), key=lambda laid: (laid[0] < SMALLEST, -laid[0] * laid[1]))
FLAT = 0.34  # how tall a drawing is at least for its width, as long as letters that are read find room with it
TITLE = 11.0  # points
SIDE, LOW = 8.6, 4.6  # mm that stay white all round, and that the foot takes above them
AIR = -0.5  # mm that a row of a table is higher than a line of letters elsewhere
STOCK_TAILS, STOCK_SLOPE = 2, 6

_CAUTIONS = (
    "Wear eye protection, clamp the work, keep both hands behind the cutting edge, and keep edges sharp. Your tools' manuals, "
    "the rules where you work and qualified instruction come before this sheet."
)
_RECOMMENDED = "Take flat, dry softwood without knots."
_COMMON = "These are usual choices for a first corner (common practice, with no source)."
_LINES = (
    "Where each line is marked: the end line on a board's inner face, from the other board's outer face, and then on its outer "
    "face. The baselines on both faces, from the end's arris. The tails on the tail board's outer face, up from its bottom "
    "arris; then across its end and on its inner face. The pins on the pin board's end, from the tails; then down both faces."
)
_WORDS = (
    "Lean: how far a face tips from plumb, + where the top is further out. Arris: the line where two surfaces meet. End: the "
    "surface sawn across the grain; a flush end lies flush with the other board's outer face. End line: the line on a face "
    "to which the end is sawn. Offset: how far aside a line goes in the height given. End bevel: how far an end is sawn out "
    "of square to its face. Level line: parallel to the bottom edge, on a face. Baseline: the line down to which tails and "
    "pins are cut. Shoulder: the surface cut there. Half pin: the pin at an edge."
)
_EASIER = "A first corner is easier with {instead} (common practice, with no source): it has a sheet of its own."

def _gapes(joint=None):
    """(what you see, what to do) of a dry fit, tails being cut; of a joint, what its own end lines tell."""
    lines = line_signs([joint.corner.end_line(board) for board in BOARDS]) if joint else line_signs((-1.0, 1.0))
    told = [each for sign in SIGNS for each in (lines if sign is LINE else END_SIGNS if sign is END else (sign,))]
    return [(sign.seen, with_tails(sign) if sign is not lines[1] else f"{sign.means} The cure is the same.") for sign in told]


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
    """Every setting of the corner as (what for, in which steps, held against, offset, degrees from square), in words.

    "square" stands for no offset. What is equal on both boards comes once.
    """

    def row(what, steps, edge, angle):
        square = abs(angle) < SAME_SETTING
        return what, steps, edge, "square" if square else aside(angle, unit), "–" if square else intended(abs(angle))

    def each(what, steps, edge, key):
        tail, pin = (angle[f"{board}_{key}"] for board in BOARDS)
        if abs(abs(tail) - abs(pin)) < SAME_SETTING:
            return [row(f"both boards: {what}", max(steps.values(), key=len), edge, tail)]
        return [row(f"{board} board: {what}", steps[board], edge, angle[f"{board}_{key}"]) for board in BOARDS]

    angle = {setting.key: setting.angle for setting in corner_settings(joint.corner)}
    rows = each("lean, for edges and wedges", {"tail": "1, 2, 8, 9, 11", "pin": "1, 2"}, "measured, no bevel", "rim_bevel")
    rows += each("end line", {"tail": "3 to 6", "pin": "3 to 6, 10"}, "bottom edge, sawn end", "end_line")
    bevel = angle["end_bevel"] if joint.end == "flush" else 0.0
    used = "6" if abs(bevel) < SAME_SETTING else "6, 9, 11"
    rows.append(row("both ends: end bevel", used, "outer face", bevel))
    lines = end_cheeks(joint)
    if abs(lines["lower"].from_square - lines["upper"].from_square) < SAME_SETTING:
        rows.append(row("tail board: lines across its end", "8", "outer face", lines["lower"].from_square))
    else:
        rows += [row(f"tail board: {which} lines across its end", "8", "outer face", each.from_square)
                 for which, each in lines.items()]
    across = next(each.from_square for each in joint.lines_on("tail", "bottom") if each.name == "end line")
    if across >= SAME_SETTING:
        rows.append(row("marks across the bottom edges", "4", "outer arris", across))
    return rows


def trial_table(joint: Joint, unit: str = "mm") -> Table:
    """`trial_settings` as a `Table` for a page.

    >>> import splaywork as sw
    >>> sw.trial_table(sw.Joint(sw.Corner(16, 11), 120, 18)).head
    ('setting', 'in steps', 'held against', 'offset in 100 mm', 'from square')
    """
    checks.instance("joint", joint, Joint, "Joint(Corner(16, 11), height=120, tail_thickness=12)")
    return Table(("setting", "in steps", "held against", f"offset in {hundred(unit)}", "from square"),
                 trial_settings(joint, unit))


def gapes_table(joint: Joint | None = None) -> Table:
    """What a dry fit shows, and what to do about it, as a `Table` for a page; of a `Joint`, with its own end lines only.

    >>> import splaywork as sw
    >>> sw.gapes_table().head
    ('what you see', 'what to do')
    """
    if joint is not None:
        checks.instance("joint", joint, Joint, "Joint(Corner(16, 11), height=120, tail_thickness=12)")
    return Table(("what you see", "what to do"), _gapes(joint))


def stock(joint: Joint, unit: str = "mm", write: Callable[[float, str], str] = length) -> list[tuple[str, ...]]:
    """The wood as (what, long, wide, thick), in words: the blanks, long enough to run past one another, then what is scrap.

    write: how a size in mm is written in a unit.
    """
    rows: list[tuple[str, ...]] = []
    for board, cut in (("tail", joint.tail_board), ("pin", joint.pin_board)):
        long = np.ptp(cut.blank.reshape(-1, 3) @ joint.corner.vector(f"{board}_level")) + PAST
        rows.append(
            (
                f"{board} board",
                write(10 * ceil(long / 10), unit),
                write(blank_width(joint, board), unit),
                write(joint.thickness(board), unit),
            )
        )
    high, width = write(joint.height, unit), max(blank_width(joint, board) for board in BOARDS)
    leans = {intended(abs(lean)): abs(lean) for lean in (*map(joint.corner.lean, BOARDS), lean_wedge(joint))}
    for angle, count in wedge_pairs(joint).items():
        name = f"{'block' if count == 1 else f'{count} blocks'} for wedges of {angle}, any wood"
        rows.append((name, high, write(pair_width(leans[angle], joint.height), unit), write(WEDGE, unit)))
    if packing(joint) < SAME_SETTING:
        end = joint.corner.slant_width(joint.height, "pin") / np.cos(np.radians(joint.corner.pin_end_line))
        stop = 10 * ceil((end + 10) / 10), stop_above(joint) + BEARS, STOP
        rows.append(("stop, any wood, straight", *(write(side, unit) for side in stop)))
    prop = 10 * floor((width - 20) / 10), 10 * ceil((prop_height(joint) + 3) / 10), PROP
    rows.append(("prop, any wood", *(write(float(side), unit) for side in prop)))
    return rows


def stock_table(joint: Joint, unit: str = "mm") -> Table:
    """The wood of a trial corner as a `Table` for a page: the blanks, blocks for its wedges, and stop and prop of step 10.

    >>> import splaywork as sw
    >>> print(sw.stock_table(sw.Joint(sw.Corner(30, 30), 100, 18, tails=2)))
    wood, planed, edges square             long      wide      thick
    tail board                             240.0 mm  125.9 mm  18.0 mm
    pin board                              240.0 mm  125.9 mm  18.0 mm
    2 blocks for wedges of 30°, any wood   100.0 mm  97.7 mm   40.0 mm
    stop, any wood, straight               140.0 mm  50.0 mm   20.0 mm
    prop, any wood                         100.0 mm  90.0 mm   20.0 mm
    """
    checks.instance("joint", joint, Joint, "Joint(Corner(16, 11), height=120, tail_thickness=12)")
    return Table(("wood, planed, edges square", "long", "wide", "thick"), stock(joint, unit))


def trial_pages(joint: Joint, paper: str = "A4", unit: str = "mm", name: str = "") -> "list[Page]":
    """The sheet as two `Page`s; arguments as of `save_trial_sheet`."""
    name = checked_name(name, joint.corner)
    steps = [(frames(joint, step.number, unit), step) for step in bench_step_words(joint, unit)]
    told = stock(joint, unit, typed), trial_settings(joint, unit), _shortcut(joint, unit), steps
    smaller = min(1.0, scale_of(paper))  # a paper shorter than A4 shrinks what is laid out

    def laid(size, wide, tall):
        return _laid(joint, paper, unit, name, size / smaller, wide, tall, told)

    read = [(*each, FLAT) for each in LAYOUTS if each[0] >= SMALLEST]
    for size, wide, flat in (*read, *((*each, 0.0) for each in LAYOUTS)):
        if pages := laid(size, wide, flat * wide):  # and then the tallest drawings that fit
            taller = (more for tall in TALL if tall > flat * wide and (more := laid(size, wide, tall)))
            return numbered(next(taller, pages), size / smaller)
    raise ValueError(f"The trial sheet for {joint.tails} tails takes more than {PAGES} pages: print it for a joint with fewer.")


def _laid(joint, paper, unit, name, size, wide, tall, told):
    """The two pages with letters of this size and drawings so wide and up to so tall, or None where they don't fit.

    told: rows of the stock, rows of the settings, what the shortcut would strike, and each step's frames and words.
    """
    blanks, settings, shortcut, steps = told
    foot = "Trial corner: every number is this corner's own. Tolerances are common practice, with no source."
    pages = BenchPages(paper, f"Cut a trial corner: {name}", foot, size, SIDE, LOW)
    leans = " and ".join(intended(joint.corner.lean(board)) for board in BOARDS)
    pages.begin("", size=TITLE)
    pages.skip(-3.8)
    title = f"Cut a trial corner: leans {leans}, stock {_thick(joint, unit)}"
    pages.place(*paragraph("", title, TITLE, 0.0, 0.0, pages.width, "bold"))
    for text in (f"{_head(joint, unit)} {_CAUTIONS}", f"{_stock_told(blanks)} {_tools(joint, unit)}"):
        pages.place(*paragraph("", text, size, 0.0, 0.0, pages.width))
        pages.skip(0.3)
    pages.table((("Setting", 46, "left"), ("in steps", 14, "left"), ("held against", 22, "left"),
                 (f"offset in {hundred(unit)}", 20, "left"), ("from square", 15, "left")), settings, size, air=AIR)
    pages.skip(-2.6)
    pages.place(*paragraph("", f"{_LINES} {shortcut}".strip(), size, 0.0, 0.0, pages.width))
    pages.skip(0.6)
    words = paragraph("Words: ", _WORDS, size, 0.0, 0.2, pages.width)
    for shown, step in steps:
        items, height = step_row(shown, step, size, pages.width, tall, wide)
        if pages.room < height:
            if words and pages.room >= words[1]:  # at the foot of the first page, or else at the end
                pages.place(*words)
                words = None
            pages.begin("", size=TITLE)
            pages.skip(-5.5)  # its rule is the head's
        pages.place(items, height)
        if pages.begun > PAGES:
            return None
    for items, height in (_gaping(joint, size, pages.width), *([words] if words else [])):
        if pages.room < height:
            return None
        pages.place(items, height)
    done = pages.pages()
    return done if len(done) == PAGES else None


def _gaping(joint, size, width):
    """What a dry fit shows and what to do, in two columns hung from (0, 0); and how tall they are, mm."""
    half, head = (width - 4) / 2, height_of(size + 1.2)
    told = [(f"{seen}. ", do) for seen, do in _gapes(joint)]
    tall = [paragraph(seen, do, size, 0.0, 0.0, half)[1] + 0.4 for seen, do in told]
    first = min(range(1, len(told)), key=lambda count: max(sum(tall[:count]), sum(tall[count:])))
    heading = Label("When the dry fit gapes: what you see, and what to do", np.array([0, -0.8 * head]), size + 1.2,
                    weight="bold")
    items: list = [heading, Stroke("rule", np.array([[0, 0], [width, 0]]))]
    for left, part in ((0.0, told[:first]), (half + 4, told[first:])):
        y = head + 0.5
        for seen, do in part:
            written, y = paragraph(seen, do, size, left, y, left + half)
            items += written
            y += 0.4
    return items, head + 0.5 + max(sum(tall[:first]), sum(tall[first:]))


def _thick(joint, unit):
    """The thickness of the stock as the sheet's table gives it: one length, or each board's."""
    return series(list(dict.fromkeys(length(joint.thickness(board), unit) for board in BOARDS)))


def _stock_told(blanks):
    """The rows of the stock as one sentence."""
    sizes = {what: " × ".join(sides) for what, *sides in blanks[:2]}
    scrap = "; ".join(f"{what}: {' × '.join(sides)}" for what, *sides in blanks[2:])
    told = f"both boards {next(iter(sizes.values()))}" if len(set(sizes.values())) == 1 else "; ".join(
        f"{what} {size}" for what, size in sizes.items())
    return (f"Wood, planed, edges square, long × wide × thick: {told}; {scrap}; a block for the pencil and a piece with a "
            "straight edge from scrap.")


def _tools(joint, unit):
    """What the steps are done with, as a sentence or two."""
    narrow = "" if joint.narrowest_gap is None else f" no wider than {length(joint.narrowest_gap, unit)}"
    nearest, feeler = ("half millimetre", "0.2 mm") if unit == "mm" else ("1/64 in", "1/128 in")
    blade = max(joint.corner.slant_width(joint.height, board) for board in BOARDS)
    return (f"Tools: flat bench (it needn't be level), bevel gauge (two save resetting), marking gauge, square (blade longer "
            f"than {length(blade, unit)}), rule (mark to the nearest {nearest}), thin wooden straightedge, about "
            f"{typed(LONG, unit)} × {typed(BROAD, unit)}, stiff card, short spirit level, knife, pencil, vice, six clamps, "
            f"holdfast, rip saw, panel saw, fine saw, plane, chisel{narrow}, mallet. Two sheets of writing paper are a "
            f"feeler of about {feeler}.")


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
    if not told:
        return ""
    return f"No end line is struck with the bevel at a lean (the shortcut): in {hundred(unit)} that would be {series(told)}."


def save_trial_sheet(path: FilePath, joint: Joint, paper: str = "A4", unit: str = "mm", name: str = "") -> tuple[Path, ...]:
    """Write the trial sheet of a `Joint` to `path` (.pdf, or .svg, one file a page), two pages; returns the paths written.

    paper: "A4", "A3" or "Letter". unit: "mm" or "in". name: of the corner, up to 60 characters, made from the leans when
    empty. A file that is there is replaced, whole or not at all. ValueError for another paper, ending or folder; OSError when
    the disk refuses.

    >>> import splaywork as sw
    >>> from tempfile import TemporaryDirectory
    >>> joint = sw.Joint(sw.Corner(16, 11), height=120, tail_thickness=18, tails=3)
    >>> with TemporaryDirectory() as folder:
    ...     [path.name for path in sw.save_trial_sheet(f"{folder}/trial.pdf", joint)]
    ['trial.pdf']
    """
    return save_pages(path, trial_pages(joint, paper, unit, name), paper)
