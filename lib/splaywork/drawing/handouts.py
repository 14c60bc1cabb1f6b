"""Sheets for a class: a handout with blanks for each notebook, its key, and a card with all settings of one corner.

Every number is worked out when the sheet is made, by the exercises and the corner themselves.
"""

from functools import partial
from pathlib import Path

import numpy as np

from ..corner import Corner
from ..exercises import exercises_for
from ..joint_words import CAUTIONS
from ..measure import degrees, gauge_setting, length
from ..one_gauge import BOARDS, OneGauge
from ..words import corner_words, lean_words
from .bench_page import HUGE, PLAIN, SMALL, BenchPages, numbered
from .corner_picture import Pictorial
from .paper import Label, Stroke, height_of, letters, save_pages, wrapped

TITLES = {"01": "A plain corner", "02": "The tail board leans", "03": "The pin board leans", "04": "Both boards lean",
          "05": "One gauge is not enough", "06": "Deriving the formulas", "07": "Check a test corner",
          "08": "Lay out the joint", "09": "Build the whole box"}
LONGEST = 60  # characters of a name
BLANK = 8.5  # mm from one ruled line to the next, for handwriting
PICTURE_TALL = 52.0  # mm
_SHOWN = {"01": (0, 0), "02": (16, 0), "03": (0, 11)}  # leans of the corner on a handout; both for all others
_BOTH = (16, 11)


def handout(lesson, seed=1, unit="mm", paper="A4"):
    """The handout of a notebook as numbered `Page`s for `paper.save_pages`: its exercises, with ruled blanks.

    lesson: its number as text, "01" to "09". seed: of the exercises' numbers; the same seed gives the same numbers here,
    on the key and in the notebook. unit: "mm" or "in". paper: "A4", "A3" or "Letter". ValueError for anything else.
    """
    pages = _begun(lesson, seed, unit, paper, "Handout", "")
    _name_line(pages)
    pages.picture(partial(_draw_corner, corner=Corner(*_SHOWN.get(lesson, _BOTH))), PICTURE_TALL)
    pages.skip(2)
    pages.write("A line counts as read when it is as near as a bevel gauge holds it. Work each one out before you look at "
                "the screen; those that say what to set are read off the notebook's panel.", SMALL)
    for number, asked in enumerate(_asked(lesson, seed, unit), start=1):
        rows = 2 if asked.choices else 3
        pages.need(_tall(asked, pages.width) + rows * BLANK + 6)
        pages.heading(f"{number}. {asked.label}", keep=0)
        pages.write(asked.text)
        if asked.choices:
            pages.points([f"{letter}  {choice}" for letter, choice in zip("ABCDEFGH", asked.choices, strict=False)])
        else:
            pages.write(asked.how.replace("Type ", "Write ", 1), SMALL)
        _rule(pages, rows)
    return numbered(pages.pages())


def answer_key(lesson, seed=1, unit="mm", paper="A4"):
    """The key to `handout(lesson, seed, unit, paper)`: answers, worked steps, and what each slip leads to."""
    pages = _begun(lesson, seed, unit, paper, "Key", f"Numbers of seed {seed}. For whoever teaches; not to hand out.")
    for number, asked in enumerate(_asked(lesson, seed, unit), start=1):
        pages.heading(f"{number}. {asked.label}", keep=30)
        pages.write(asked.text, SMALL)
        pages.write(_capital(asked.answer_text or str(asked.answer)), 11.0, "bold")
        pages.points(asked.hints, SMALL)
        if asked.slips:
            pages.table([("answered instead", 1.2, "left"), ("what went wrong", 4, "left")],
                        [(_slip_value(slip, asked), slip.remark) for slip in asked.slips], SMALL)
    return numbered(pages.pages())


def bench_card(corner, height=None, thickness=None, unit="mm", name="", paper="A4"):
    """One page with every setting of a `Corner`, to be read at arm's length; Pages for `paper.save_pages`.

    height: vertical, of the box, and thickness of both boards, mm: with them the widths up the faces and the gauge line
    are given too. name: of the corner, printed in the title, up to 60 characters. ValueError for what can't be.
    """
    length(0, unit)
    _check_name(name)
    if not isinstance(corner, Corner) or np.ndim(corner.dihedral):
        raise ValueError("A bench card is made for one Corner, such as Corner(tail_lean=16, pin_lean=11).")
    pages = BenchPages(paper, name or "Bench card", "Angles from square, and from the edge in brackets. Check the gauge "
                       "against a drawn angle before you strike.")
    pages.begin(name or "Bench card", f"Tail board {lean_words(corner.tail_lean)}, pin board {lean_words(corner.pin_lean)}, "
                f"plan angle {degrees(corner.plan_angle)}.")
    pages.facts([_setting("Tail board's end line", corner.tail_end_line, unit),
                 _setting("Pin board's end line", corner.pin_end_line, unit)], columns=2, size=HUGE)
    pages.facts([("End bevel, both boards", _plain(corner.end_bevel), f"the faces meet at {degrees(corner.dihedral)}"),
                 ("Tail board's rim bevel", _plain(corner.tail_rim_bevel), "out of square"),
                 ("Pin board's rim bevel", _plain(corner.pin_rim_bevel), "out of square"),
                 ("Level line, flush tail end", _plain(corner.level_on_flush_end), "across the end, from square"),
                 ("Level line, square tail end", _plain(corner.level_on_square_end), "across the end, from square"),
                 *_sizes(corner, height, thickness, unit)], columns=3, size=HUGE)
    if corner.plan_angle == 90:  # the shortcut is a rule for square corners
        shortcut = OneGauge(corner)
        pages.heading("Not these")
        pages.write("A gauge set to the other board's lean would strike")
        pages.table([("board", 1, "left"), ("struck", 1, "left"), ("too steep by", 1, "left")],
                    [(board, degrees(float(shortcut.struck(board))), degrees(float(shortcut.error(board)), 2))
                     for board in BOARDS], 11.0)
    pages.heading("In words")
    pages.write(corner_words(corner))
    pages.heading("Before you cut")
    pages.points(CAUTIONS, SMALL)
    return numbered(pages.pages())


def save_sheets(path, pages, paper="A4", progress=None):
    """Write pages of this module as one PDF, whole or not at all; as `paper.save_pages`."""
    if Path(path).suffix.lower() != ".pdf":
        raise ValueError(f"These sheets are saved as PDF: end the name {Path(path).name!r} in .pdf.")
    return save_pages(path, pages, paper, progress)


def _begun(lesson, seed, unit, paper, kind, under):
    length(0, unit)
    if isinstance(seed, bool) or not isinstance(seed, int) or seed < 0:
        raise ValueError(f"The seed must be a whole number, 0 or more, not {seed!r}.")
    exercises_for(lesson)
    pages = BenchPages(paper, f"{kind} {lesson}", f"Leaning corners · notebook {lesson} · seed {seed}")
    pages.begin(f"{kind} to {lesson}: {TITLES[lesson]}", under)
    return pages


def _asked(lesson, seed, unit):
    return [exercise.ask(seed, unit) for exercise in exercises_for(lesson)]


def _tall(asked, width):
    """mm that a question takes on a handout, without its ruled lines."""
    texts = [(asked.text, PLAIN), *((choice, PLAIN) for choice in asked.choices)]
    texts += [] if asked.choices else [(asked.how, SMALL)]
    return 9 + sum(len(wrapped(text, size, width - 5)) * height_of(size) + 1.2 for text, size in texts)


def _name_line(pages):
    """Where the learner's name and the date are written."""
    date = 0.68 * pages.width
    pages.place([Label("Name", np.array([0, -5.0]), PLAIN), Label("Date", np.array([date, -5.0]), PLAIN),
                 Stroke("rule", np.array([[12, -6], [date - 6, -6]])),
                 Stroke("rule", np.array([[date + 10, -6], [pages.width, -6]]))], 9.0)


def _rule(pages, rows):
    """Ruled lines to write on."""
    lines = [Stroke("rule", np.array([[0, -BLANK * row], [pages.width, -BLANK * row]])) for row in range(1, rows + 1)]
    pages.place(lines, BLANK * rows)
    pages.skip(3)


def _slip_value(slip, asked):
    """What was answered, as it is typed."""
    if isinstance(slip.value, str):
        return slip.value
    if asked.unit == "length":
        return length(slip.value, asked.length_unit)
    return f"{slip.value:.0f}" if asked.unit == "count" else degrees(slip.value)


def _setting(caption, angle, unit):
    angle = float(angle)
    way = f"longer at the {'top' if angle > 0 else 'bottom'}" if round(angle, 2) else "along a square"
    return caption, _plain(angle), f"{gauge_setting(abs(angle), unit)}, {way}" if round(angle, 2) else way


def _plain(angle):
    return degrees(abs(float(angle)))


def _sizes(corner, height, thickness, unit):
    """Facts that need a height or a thickness, mm."""
    facts = []
    if height is not None:
        facts += [(f"{board.capitalize()} board, up its face", length(float(corner.slant_width(height, board)), unit),
                   f"for a box {length(height, unit)} high") for board in BOARDS]
    if thickness is not None:
        facts.append(("Gauge line", length(float(corner.gauge_line_offset(thickness)), unit),
                      f"from the end line, for {length(thickness, unit)} stock"))
    return facts


def _draw_corner(canvas, corner):
    view = Pictorial(canvas, (0, 0, canvas.width, canvas.height), shortcut=False)
    view.update(corner, 120, 18, 15, 25)


def _check_name(name):
    if not isinstance(name, str) or len(name) > LONGEST or set(name) - letters():
        raise ValueError(f"A name on a sheet can be text of up to {LONGEST} letters that its type has, not {name!r:.60}.")


def _capital(text):
    return f"{text[:1].upper()}{text[1:]}"
