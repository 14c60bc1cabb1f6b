"""The bench card: every setting of one corner on one page, in letters that are read at arm's length."""

from dataclasses import dataclass, replace

import numpy as np

from ..common.boards import BOARDS, other
from ..common.printing import degrees, from_edge, length, offset, one_in
from ..common.tolerances import SAME_ANGLE
from ..corner.corner import Corner
from ..corner.words import how_far_off, lean_words
from ..drawing.lettering import INCH, height_of, letters, width_of, wrapped
from ..drawing.page import BenchPages, numbered
from ..drawing.palette import GUIDE, SHORTCUT
from ..drawing.paper import Label, Stroke, moved
from ..joint.words import CAUTIONS

LONGEST = 60  # characters of a name
LARGE, VALUE, WORDS = 34.0, 25.0, 12.0  # points: end lines, other settings, and the words to them


@dataclass(frozen=True)
class _Setting:
    """What is set, to what, which way, and, where there is one, the one-gauge value that it is not and why."""

    caption: str
    value: str
    notes: tuple = ()
    wrong: str = ""
    why: str = ""


def bench_card(corner: Corner, height: float | None = None, thickness: float | None = None, unit: str = "mm", name: str = "",
               paper: str = "A4") -> list:
    """One page with every setting of a `Corner`, to be read at arm's length; Pages for `save_pages`.

    height: vertical, of the box, and thickness of both boards, mm: with them the widths up the faces and the baseline
    are given too. name: of the corner, printed in the title, up to 60 characters. The shortcut's value, where it would
    miss, is printed crossed out; that and “the board is upright” are said of corners that are square in plan only, as the
    shortcut's rules hold there. ValueError for what can't be.
    """
    length(0, unit)
    _check_name(name)
    if not isinstance(corner, Corner) or np.ndim(corner.dihedral):
        raise ValueError("A bench card is made for one Corner, such as Corner(tail_lean=16, pin_lean=11).")
    crossed = " Crossed out: what the shortcut would give, the bevel set to a board's lean." * _square_in_plan(corner)
    pages = BenchPages(paper, "Bench card", f"Check the bevel against a drawn angle before you strike.{crossed}")
    plan = "square in plan" if _square_in_plan(corner) else f"plan angle {degrees(corner.plan_angle)}"
    pages.begin(name or "Bench card")
    pages.write(f"Tail board {lean_words(corner.tail_lean)}, pin board {lean_words(corner.pin_lean)}, {plan}", WORDS)
    pages.skip(2)
    _rows(pages, [_end_line(corner, board, unit) for board in BOARDS], 2, LARGE)
    _rows(pages, [*_bevels(corner), *_levels(corner), *_sizes(corner, height, thickness, unit)], 3, VALUE)
    pages.heading("Before you cut")
    pages.points(CAUTIONS, 10)
    return numbered(pages.pages())


def _angle(angle):
    return "square" if abs(angle) < SAME_ANGLE else degrees(abs(angle))


def _end_line(corner, board, unit):
    angle, lean = corner.end_line(board), corner.lean(other(board))
    caption = f"{board.capitalize()} board's end line"
    if abs(angle) < SAME_ANGLE:
        upright = (f"the {other(board)} board is upright",) if abs(lean) < SAME_ANGLE else ()
        return _Setting(caption, "square", ("90.0° from the edge", *upright))
    size = abs(angle)
    notes = (f"from square, longer at the {'top' if angle > 0 else 'bottom'}", from_edge(size),
             f"{offset(size, unit)}, {one_in(size)}")
    if not _square_in_plan(corner):
        return _Setting(caption, degrees(size), notes)
    if how_far_off(angle, lean) == "exact":
        return _Setting(caption, degrees(size), (*notes, f"as the {other(board)} board leans"))
    return _Setting(caption, degrees(size), notes, degrees(abs(lean)), how_far_off(angle, lean))


def _square_in_plan(corner):
    """Whether what the notebooks say of the shortcut holds: the plan angle is 90."""
    return abs(corner.plan_angle - 90) < SAME_ANGLE


def _bevels(corner):
    bevel, flat = corner.end_bevel, abs(corner.end_bevel) < SAME_ANGLE
    yield _Setting("Faces meet at", degrees(corner.dihedral), ("dihedral, inside",))
    yield _Setting("End bevel, both", _angle(bevel), () if flat else (
        "out of square,", f"inner face {'longer' if bevel > 0 else 'shorter'}"))
    for board in BOARDS:
        lean = corner.lean(board)
        yield _Setting(f"Rim bevel, {board} board", _angle(lean), () if abs(lean) < SAME_ANGLE else (
            "out of square, outer", f"arris {'blunt' if lean > 0 else 'sharp'} at the bottom"))


def _levels(corner):
    for end, level in (("flush", corner.level_on_flush_end), ("square", corner.level_on_square_end)):
        falls = ("across the tail board's",) + (("end",) if abs(level) < SAME_ANGLE else (
            f"end, {'falls' if level > 0 else 'climbs'} to the inside",))
        miss = how_far_off(level, corner.tail_lean)
        crossed = () if miss == "exact" or not _square_in_plan(corner) else (degrees(abs(corner.tail_lean)), miss)
        yield _Setting(f"Level line, {end} end", _angle(level), falls, *crossed)


def _sizes(corner, height, thickness, unit):
    """Settings that need a height or a thickness, mm."""
    if height is not None:
        for board in BOARDS:
            yield _Setting(f"{board.capitalize()} board's width", length(corner.slant_width(height, board), unit),
                           ("up its face, in a box", f"{length(height, unit)} high"))
    if thickness is not None:
        yield _Setting("Baseline", length(corner.baseline_offset(thickness), unit),
                       ("from the end line, for", f"{length(thickness, unit)} stock"))


def _rows(pages, settings, columns, size):
    """Settings in columns of equal width, the values in letters of `size` points."""
    wide = pages.width / columns
    for start in range(0, len(settings), columns):
        cells = [_cell(setting, wide - 5, size) for setting in settings[start:start + columns]]
        tall = max(height for _, height in cells)
        pages.place([moved(item, np.array([column * wide, 0])) for column, (items, _) in enumerate(cells)
                     for item in items], tall)
        pages.skip(3.5)


def _cell(setting, wide, size):
    """One setting, hung from (0, 0), and how tall it is, mm."""
    items, y = [], 0.0
    while width_of(setting.value, size, "bold") > wide:
        size -= 1
    for text, points, weight, colour in ((setting.caption, WORDS, "normal", GUIDE), (setting.value, size, "bold", None),
                                         *((note, WORDS, "normal", None) for note in setting.notes)):
        for line in wrapped(text, points, wide, weight):
            label = Label(line, np.array([0, y - 0.8 * height_of(points)]), points, weight=weight)
            items.append(label if colour is None else replace(label, colour=colour))
            y -= height_of(points)
    if setting.wrong:
        first, *more = wrapped(f"not {setting.wrong}, {setting.why}", WORDS, wide)
        start, end = width_of("not ", WORDS), width_of(f"not {setting.wrong}", WORDS)
        level = y - 0.8 * height_of(WORDS) + 0.36 * WORDS * INCH / 72
        items.append(Stroke("struck", np.array([[start - 0.6, level], [end + 0.6, level]]), "crossed out"))
        for line in (first, *more):
            items.append(replace(Label(line, np.array([0, y - 0.8 * height_of(WORDS)]), WORDS), colour=SHORTCUT))
            y -= height_of(WORDS)
    return items, -y


def _check_name(name):
    if not isinstance(name, str) or len(name) > LONGEST or set(name) - letters():
        raise ValueError(f"A name on a sheet can be text of up to {LONGEST} letters that its type has, not {name!r:.60}.")
