"""A first corner from one sheet of two pages: from planed stock to a dry fit, with every number and drawing that it needs.

The stock, the slope and the number of tails that the sheet recommends are common practice, with no source.
"""

from itertools import accumulate, product, takewhile
from math import ceil, floor
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from ..common import checks
from ..common.boards import BOARDS
from ..common.kinds import FilePath
from ..common.printing import intended, length, typed
from ..common.text import Table, Words
from ..common.tolerances import SAME_SETTING
from ..common.wedges import pair_width
from ..corner.dry_fit import END, LEANS, LINE, SIGNS, TIPPED, end_signs, line_signs, with_tails
from ..corner.words import corner_settings, series
from ..drawing.lettering import height_of
from ..drawing.page import BenchPages, numbered, scale_of
from ..drawing.paper import Label, Stroke
from ..drawing.print_file import save_pages
from .bench_setups import BEARS, PROP, STOP, blank_width, lean_wedge, packing, pencil_block, prop_height, stop_above
from .bench_steps import (
    WEDGE,
    across_an_edge,
    aside,
    bench_step_words,
    card_corner,
    end_cheeks,
    enough,
    handed_steps,
    hundred,
    unmirrored,
    vice_opening,
    wedge_pairs,
    wedged,
)
from .bench_steps_picture import frames, paragraph, step_row
from .joint import Joint
from .templates import checked_name

if TYPE_CHECKING:
    from ..drawing.paper import Page

PAST = 60.0  # mm that a blank is longer, so that either board can run past the other
LONG, BROAD, THIN = 120.0, 25.0, 5.0  # mm, about, of a straightedge: common practice, with no source
HUNDRED = 101.6  # mm: the height that offsets are counted on, at most, 100 mm or 4 in
PAGES, ANY = 2, ", any wood"
SMALLEST = 7.0  # points of letters that are read at a bench
SIZES = 8.0, 7.5, 7.0, 6.75, 6.5, 6.0, 5.5  # points of its letters


def _shown(drawn):
    """mm² or so of a drawing (wide, tall) that are left for wood and tools beside its callouts."""
    return (drawn[0] - NAMED) * max(drawn[1], 0.2 * drawn[0])


NAMED = 36.0  # mm of a drawing's width, about, that its callouts take
# (wide, tall at least) of its drawings, mm, from the largest down; 0: as tall as their callouts
DRAWINGS = sorted(((float(wide), share * wide) for wide in range(112, 52, -4) for share in (0.54, 0.48, 0.42, 0.36, 0.3, 0.0)),
                  key=_shown, reverse=True)
TITLE = 11.0  # points
SIDE, LOW = 8.55, 0.05  # mm that stay white all round, and above them
AIR = -0.5  # mm that a row of a table is higher than a line of letters elsewhere
STOCK_TAILS, STOCK_SLOPE = 2, 6

_CAUTIONS = (
    "Wear eye protection, clamp the work, keep both hands behind the cutting edge, and keep edges sharp. Your tools' manuals, "
    "your local rules and qualified instruction come first."
)
_RECOMMENDED = "flat, dry softwood without knots"
_COMMON = f"two tails of 1 in {STOCK_SLOPE} and {_RECOMMENDED} make a first corner easier."
_FLUSH = (" A square end is planed after the glue, and the lines across it need settings of their own. A flush end, sawn at "
          "its end bevel, spares you both.")
_NO_SOURCE = "These choices are common practice, with no source. The tolerances are our opinion."
_BENCH = "The bench is flat; it needn't be level."
_LINES = (
    "Draw a pencil line on each board's inner face, from the other board's outer face. Carry that line round to the outer "
    "face, as the end line. Mark the baselines on both faces, from the end's arris. Mark the tails on the tail board's outer "
    "face, then across the end and on the inner face. Scribe the pins on the pin board's end, then draw down both faces."
)
_WORDS = (
    "Lean: how far a face tips from plumb, positive where the top is further out. Arris: the line where two surfaces meet. "
    "End: the surface sawn across the grain. End line: the line on a face to which the end is sawn. End bevel: how far an end "
    "is sawn out of square to its face. Baseline: the line down to which tails and pins are cut. Shoulder: the surface at the "
    "baseline, which rests on the other board's inner face. Half pin: the pin at an edge."
)
_EASIER = f"A first corner is easier with {{instead}}: that corner has a sheet of its own. Take {_RECOMMENDED}."

def _gapes(joint=None, brief=False, unit="mm"):
    """(what you see, what to do) of a dry fit, tails being cut; of a joint, what its own lines and bevel tell.

    A wrong lean comes first: then nothing else that is seen is worth a cure.

    brief: without which way the saw was turned, whose the shoulders are, and what may stay as it is.
    """
    lines = line_signs([joint.corner.end_line(board) for board in BOARDS]) if joint else line_signs((-1.0, 1.0))
    ends = end_signs(None if joint is None or brief else joint.corner.end_bevel, _shoulder_fits(joint, brief, unit))
    order = [LEANS, *(sign for sign in SIGNS if sign is not LEANS and not (brief and sign is TIPPED))]
    told = [each for sign in order for each in (lines if sign is LINE else ends if sign is END else (sign,))]
    whose = "" if brief else "At a pin's height you see the tail board's shoulder, at a tail's height the pin board's. "
    first = {ends[0]: whose, LEANS: "Measure the pin board first, as in step 11. "}
    return [(sign.seen, first.get(sign, "") + (with_tails(sign) if sign is not lines[1] else f"{sign.means} Do the same."))
            for sign in told]


def _shoulder_fits(joint, brief, unit):
    """What fits a shoulder that is right: a square, or the bevel at its offset, held as in the step that sets it."""
    if joint is None or brief:
        return "the bevel fits"
    if abs(joint.corner.end_bevel) < SAME_SETTING:
        return "a square fits"
    step = 6 if joint.end == "flush" else 9
    return f"the bevel of step {step} ({aside(joint.corner.end_bevel, unit)}) fits, its stock on that board's outer face"


def _head(joint, unit, mirrored):
    """What the sheet is for; and what of it makes a first corner easier, or that it is the usual choice.

    mirrored: whether it says what the mirrored corner changes, which notebook 04 says too.
    """
    tails = f"{joint.tails} tail{'s' * (joint.tails != 1)}"
    told = (f"This sheet is for a box {typed(joint.height, unit)} high, in stock {_thick(joint, unit)} thick, with {joint.end} "
            f"ends and {tails} of 1 in {joint.tail_slope:g}.")
    instead = [words for words, differs in ((f"{STOCK_TAILS} tails", joint.tails != STOCK_TAILS),
                                            (f"a slope of 1 in {STOCK_SLOPE}", joint.tail_slope != STOCK_SLOPE),
                                            ("flush ends", joint.end != "flush")) if differs]
    differ = abs(joint.corner.end_bevel) >= SAME_SETTING  # else a flush end is a square end
    common = f"Flush ends, {_COMMON}{_FLUSH}" if differ else _COMMON.capitalize()
    swap = ""
    if mirrored:
        steps = series(map(str, handed_steps(joint)))
        swap = f" For the mirrored corner swap left and right in steps {steps}; {unmirrored(joint)}."
    return f"{told} {_EASIER.format(instead=series(instead)) if instead else common} {_NO_SOURCE}{swap}"


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
    bevel = joint.sawn_bevel
    used = "6" if abs(bevel) < SAME_SETTING else "5, 6, 9, 11"
    rows.append(row("both ends: end bevel", used, "outer face", bevel))
    lines = end_cheeks(joint)
    if abs(lines["lower"].from_square - lines["upper"].from_square) < SAME_SETTING:
        rows.append(row("tail board: lines across its end", "8", "outer face", lines["lower"].from_square))
    else:
        rows += [row(f"tail board: {which} lines across its end", "8", "outer face", each.from_square)
                 for which, each in lines.items()]
    across = across_an_edge(joint)
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


def stock(joint: Joint, unit: str = "mm") -> list[tuple[str, ...]]:
    """The wood as (what, long, wide, thick), in words: the blanks, long enough to run past one another, then what is scrap."""
    rows: list[tuple[str, ...]] = []
    for board in BOARDS:
        rows.append(
            (
                f"{board} board",
                typed(_long(joint, board), unit),
                typed(blank_width(joint, board), unit),
                typed(joint.thickness(board), unit),
            )
        )
    high, width = typed(joint.height, unit), max(blank_width(joint, board) for board in BOARDS)
    leans = {intended(abs(lean)): abs(lean) for lean in (*map(joint.corner.lean, BOARDS), lean_wedge(joint))}
    for angle, count in wedge_pairs(joint).items():
        name = f"{'block' if count == 1 else f'{count} blocks'} for wedges of {angle}{ANY}"
        rows.append((name, high, typed(pair_width(leans[angle], joint.height), unit), typed(WEDGE, unit)))
    upright = sum(abs(joint.corner.lean(board)) < SAME_SETTING for board in BOARDS)
    if upright:
        rows.append((f"{'square block' if upright == 1 else '2 square blocks'}{ANY}", high, typed(WEDGE, unit),
                     typed(WEDGE, unit)))
    if packing(joint) < SAME_SETTING:
        end = joint.corner.slant_width(joint.height, "pin") / np.cos(np.radians(joint.corner.pin_end_line))
        stop = 10 * ceil((end + 10) / 10), stop_above(joint) + BEARS, STOP
        rows.append((f"stop{ANY}, straight", *(typed(side, unit) for side in stop)))
    prop = 10 * floor((width - 20) / 10), 10 * ceil((prop_height(joint) + 3) / 10), PROP
    rows.append((f"prop{ANY}, long edge up", *(typed(float(side), unit) for side in prop)))
    return rows


def stock_table(joint: Joint, unit: str = "mm") -> Table:
    """The wood of a trial corner as a `Table` for a page: the blanks, what props them, and stop and prop of step 10.

    >>> import splaywork as sw
    >>> print(sw.stock_table(sw.Joint(sw.Corner(30, 30), 100, 18, tails=2)))
    wood, planed, edges square             long    wide      thick
    tail board                             240 mm  125.9 mm  18 mm
    pin board                              240 mm  125.9 mm  18 mm
    2 blocks for wedges of 30°, any wood   100 mm  97.7 mm   40 mm
    stop, any wood, straight               140 mm  50 mm     20 mm
    prop, any wood, long edge up           100 mm  90 mm     20 mm
    """
    checks.instance("joint", joint, Joint, "Joint(Corner(16, 11), height=120, tail_thickness=12)")
    return Table(("wood, planed, edges square", "long", "wide", "thick"), stock(joint, unit))


def trial_tools_words(joint: Joint, unit: str = "mm") -> Words:
    """Sentences: what a trial corner needs beside the wood of `stock_table`, scrap and tools, as on its sheet.

    >>> import splaywork as sw
    >>> print(sw.trial_tools_words(sw.Joint(sw.Corner(30, 30), 100, 18, tails=2)).partition(', and')[0])
    From scrap you need a flat block no thicker than 4 mm, scraps to pack the block up
    """
    checks.instance("joint", joint, Joint, "Joint(Corner(16, 11), height=120, tail_thickness=12)")
    return Words(f"From scrap you need {_scraps(joint, unit)}. {_tools(joint, unit)}")


def trial_pages(joint: Joint, paper: str = "A4", unit: str = "mm", name: str = "") -> "list[Page]":
    """The sheet as two `Page`s; arguments as of `save_trial_sheet`."""
    leans = ", ".join(f"{board} board {intended(joint.corner.lean(board))}" for board in BOARDS)
    name = checked_name(name, joint.corner) if name else leans
    told_by = {brief: bench_step_words(joint, unit, asides=not brief) for brief in (False, True)}
    gapes_by = {brief: _gapes(joint, brief, unit) for brief in (False, True)}
    drawn = [frames(joint, step.number, unit) for step in told_by[False]]
    told = {mirrored: _first_words(joint, unit, mirrored) for mirrored in (True, False)}
    table = trial_settings(joint, unit), hundred(unit)
    shortcut, words = _shortcut(joint, unit), ("Words: ", _WORDS)
    smaller = min(1.0, scale_of(paper))  # a paper shorter than A4 shrinks what is laid out

    def laid(size, close, brief=False, mirrored=True):
        marked = (("Take care: ", shortcut.partition(": ")[0] + "." * bool(shortcut)) if brief else
                  ("Where each line is marked: ", f"{_LINES} {shortcut}".strip()))
        notes = [each for each in (marked, words) if each[1]]
        return _laid(lambda: _begun(paper, name, size / smaller, told[mirrored]), table,
                     list(zip(drawn, told_by[brief], strict=True)), notes, gapes_by[brief], size / smaller, close)

    found: list = []
    for close in (False, True):
        if not found:  # from the smallest letters that are read up: where these find no room, larger ones find none
            sizes = ((size, laid(size, close)) for size in reversed(SIZES) if size >= SMALLEST)
            found = list(takewhile(lambda each: each[1], sizes))[::-1]
    if not found:  # then without what the steps say too, in the largest letters that find room at all
        found = [next(((size, each) for size, mirrored in product(SIZES, (True, False))
                       if size <= SMALLEST and (each := laid(size, True, brief=True, mirrored=mirrored))), (0.0, None))]
    size, best = max(found, key=lambda each: each[0] * each[1][0] if each[1] else 0.0)
    if best:
        return numbered(best[1], size / smaller)
    raise ValueError(f"The trial sheet for {joint.tails} tails takes more than {PAGES} pages: print it for a joint with fewer.")


def _first_words(joint, unit, mirrored):
    """(lead, text) of the first paragraphs: what is made, of what, with what, and with which care; mirrored: as of `_head`."""
    leans = " and ".join(intended(joint.corner.lean(board)) for board in BOARDS)
    return ((f"Leans {leans}. ", f"{_head(joint, unit, mirrored)} {_CAUTIONS}"), ("Wood, ", _stock_told(joint, unit)),
            ("Tools: ", f"{_BENCH} {_tools(joint, unit)}"))


def _begun(paper, name, size, told):
    """The pages with what stands before the settings, in letters of this size."""
    pages = BenchPages(paper, f"Cut a trial corner: {name}", "", size, SIDE, LOW)
    pages.begin("", size=TITLE)
    pages.skip(-5.7)
    for lead, text in told:
        pages.place(*paragraph(lead, text, size, 0.0, 0.4, pages.width))
    return pages


def _settings(pages, size, settings, high):
    """The pages with the table of the settings; high: what offsets are counted on."""
    pages.table((("Setting", 46, "left"), ("in steps", 14, "left"), ("held against", 22, "left"),
                 (f"offset in {high}", 20, "left"), ("from square", 15, "left")), settings, size, air=AIR)
    pages.skip(-2.2)
    return pages


def _turned(pages):
    """The pages, the next one begun."""
    pages.begin("", size=TITLE)
    pages.skip(-5.8)
    return pages


def _laid(begun, table, steps, notes, gapes, size, close):
    """(how large its smaller drawings are, the two pages) with the largest drawings that fit; None where none do.

    begun: gives the pages as they are before the table of the settings, which heads the second page where there is no room
    for it on the first. notes: (lead, text), each at the foot of either page. Each page's drawings are of one size. close: as
    of `step_row`. gapes: as of `_gapes`.
    """
    pages, rows = begun(), {}
    first = pages.room
    table_tall = first - _settings(pages, size, *table).room
    second = _turned(pages).room
    gaping = _gaping(gapes, size, pages.width)
    noted = [paragraph(lead, text, size, 0.0, 0.2, pages.width) for lead, text in notes]

    def row(number, drawn):
        if (number, drawn) not in rows:
            shown, step = steps[number]
            rows[number, drawn] = step_row(shown, step, size, pages.width, drawn[1], drawn[0], close)
        return rows[number, drawn]

    def fits(numbers, drawn, room):
        if len(numbers) * drawn[1] >= room:
            return False
        return all(tall <= room for tall in accumulate(row(number, drawn)[1] for number in numbers))

    def largest(numbers, room):
        """Place in `DRAWINGS` of the largest ones with which these steps find room, or None."""
        if not fits(numbers, DRAWINGS[-1], room):
            return None
        return next(at for at, drawn in enumerate(DRAWINGS) if fits(numbers, drawn, room))

    best = None
    for later, turn in product((False, True) if close else (False,), range(3, len(steps) - 2)):  # steps on the first page
        for early in product((True, False), repeat=len(noted)):  # whether each note stands there too
            tall = [sum(each[1] for each, here in zip(noted, early, strict=True) if here is on) + table_tall * (later is not on)
                    for on in (True, False)]
            one = largest(range(turn), first - tall[0])
            two = None if one is None else largest(range(turn, len(steps)), second - gaping[1] - tall[1])
            if two is not None and (best is None or (later, max(one, two), one + two) < best[0]):
                best = (later, max(one, two), one + two), later, turn, early, one, two
    if best is None:
        return None
    (_, worse, _), later, turn, early, one, two = best
    pages = begun() if later else _settings(begun(), size, *table)
    for number in range(len(steps)):
        if number == turn:
            for each in (each for each, here in zip(noted, early, strict=True) if here):
                pages.place(*each)
            _turned(pages)
            if later:
                _settings(pages, size, *table)
        items, tall = row(number, DRAWINGS[one if number < turn else two])
        pages.place(items[:-1] if number == turn and not later else items, tall)  # its rule, the last, is the head's
    for each in (gaping, *(each for each, here in zip(noted, early, strict=True) if not here)):
        pages.place(*each)
    return np.sqrt(_shown(DRAWINGS[worse])), pages.pages()


def _gaping(gapes, size, width):
    """What a dry fit shows and what to do, as of `_gapes`, in two columns hung from (0, 0); and how tall they are, mm."""
    half, head = (width - 4) / 2, height_of(size + 1.2)
    told = [(f"{seen}. ", do) for seen, do in gapes]
    tall = [paragraph(seen, do, size, 0.0, 0.0, half)[1] + 0.2 for seen, do in told]
    first = min(range(1, len(told)), key=lambda count: max(sum(tall[:count]), sum(tall[count:])))
    heading = Label("When the dry fit rocks or gapes: what you see, and what to do.",
                    np.array([0, -0.8 * head]), size + 1.2, weight="bold")
    items: list = [heading, Stroke("rule", np.array([[0, 0], [width, 0]]))]
    for left, part in ((0.0, told[:first]), (half + 4, told[first:])):
        y = head + 0.5
        for seen, do in part:
            written, y = paragraph(seen, do, size, left, y, left + half)
            items += written
            y += 0.2
    return items, head + 0.5 + max(sum(tall[:first]), sum(tall[first:]))


def _thick(joint, unit):
    """The thickness of the stock as the sheet's table gives it: one length, or each board's."""
    return series(list(dict.fromkeys(typed(joint.thickness(board), unit) for board in BOARDS)))


def _stock_told(joint, unit):
    """The rows of the stock as one sentence."""
    blanks = stock(joint, unit)
    sizes = {what: " × ".join(sides) for what, *sides in blanks[:2]}
    scrap = "; ".join(f"{what.replace(ANY, '')}: {' × '.join(sides)}" for what, *sides in blanks[2:])
    told = f"both boards {next(iter(sizes.values()))}" if len(set(sizes.values())) == 1 else "; ".join(
        f"{what} {size}" for what, size in sizes.items())
    return f"planed, edges square, long × wide × thick: {told}; of any wood: {scrap}; {_scraps(joint, unit)}."


def _scraps(joint, unit):
    """What else is needed of wood, in any offcut."""
    thick = pencil_block(joint)
    flat = f"a flat block no thicker than {typed(thick, unit)}, scraps to pack the block up, and " if thick else ""
    return f"{flat}a straight-edged scrap of about {_enough(unit, *scrap_size(joint))}"


def _enough(unit, *sides):
    """`250 mm × 90 mm`: sides in mm that are enough, in words."""
    return " × ".join(enough(side, unit) for side in sides)


def _long(joint, board):
    """How long a blank is, in whole cm, mm, so that it can run past the other one."""
    cut = joint.tail_board if board == "tail" else joint.pin_board
    return 10 * ceil((np.ptp(cut.blank.reshape(-1, 3) @ joint.corner.vector(f"{board}_level")) + PAST) / 10)


def scrap_size(joint: Joint) -> tuple[float, float]:
    """Length and width, mm, of a scrap on which the settings of step 5 find room, as they are drawn there."""
    back = np.tan(np.radians(joint.sawn_bevel))  # its line leans the other way
    far = max(-back, *(abs(np.tan(np.radians(joint.corner.end_line(board)))) for board in BOARDS))
    return 10.0 * ceil((HUNDRED * (far + max(back, 0.0)) + 60) / 10), HUNDRED + 10


def opens(joint: Joint) -> tuple[float, float]:
    """How far vice and clamps open, mm: round the widest that they hold, and round the tallest on top of a bench."""
    across = [joint.thickness(board) / np.cos(np.radians(joint.corner.lean(board)))
              + (pair_width(joint.corner.lean(board), joint.height) if abs(joint.corner.lean(board)) >= SAME_SETTING else WEDGE)
              for board in BOARDS]
    if wedged(joint):
        across.append(vice_opening(joint))
    tilt = np.radians(abs(joint.corner.end_bevel))
    over = prop_height(joint) + joint.tail_thickness / np.cos(tilt) + PROP * np.tan(tilt)
    return float(max(across)), float(max(joint.height, over))


def _tools(joint, unit):
    """What the steps are done with, as a sentence or two."""
    narrow = "" if joint.narrowest_gap is None else f" no wider than {length(joint.narrowest_gap, unit)}"
    nearest, feeler = ("half millimetre", "0.2 mm") if unit == "mm" else ("1/64 in", "1/128 in")
    blade = max(joint.corner.slant_width(joint.height, board) for board in BOARDS)
    across, over = (enough(each, unit) for each in opens(joint))
    return (f"You mark with a bevel, a marking gauge, a rule, a knife and a pencil, and a square with a blade longer than "
            f"{length(blade, unit)}. Also have a thin wooden straightedge of about {enough(LONG, unit)} × "
            f"{enough(BROAD, unit)} × {enough(THIN, unit)}. You need a card with a {card_corner(joint)}, and a short spirit "
            f"level that shows plumb. Round marks to the nearest {nearest}. You hold the boards with a vice and four clamps, "
            f"all opening {across}, a holdfast, tape and sandpaper. Two of the clamps must open {over} more than the thickness "
            f"of the bench top. You cut with a rip saw, a panel saw, a fine saw, a plane, a chisel{narrow} and a mallet. Two "
            f"sheets of writing paper are a feeler of about {feeler}.")


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
    return (f"Don't strike an end line with the bevel set to a lean (the shortcut): in {hundred(unit)} such a line would slant "
            f"{series(told)}.")


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
