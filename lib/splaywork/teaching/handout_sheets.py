"""Sheets for a class: a handout with blanks for each notebook, and its key.

Every number is worked out when the sheet is made, by the exercises themselves.
"""

from pathlib import Path

import numpy as np

from ..common.printing import degrees, length
from ..corner.words import capital
from ..drawing.page import PLAIN, SMALL, BenchPages, numbered
from ..drawing.paper import Label, Stroke, height_of, save_pages, wrapped
from .exercises import exercises_for
from .handout_pictures import picture_for

TITLES = {"01": "A plain corner", "02": "The tail board leans", "03": "The pin board leans", "04": "Both boards lean",
          "07": "One gauge is not enough", "11": "Deriving the formulas", "06": "Check a trial corner",
          "09": "Lay out the joint", "10": "Build the whole box"}
BLANK, CELL = 8.5, 7.5  # mm from one ruled line to the next, and from one row of a table, for handwriting
PICTURE_TALL = 50.0  # mm
RULED = {"predict": 2, "read off": 2, "work out": 3}  # lines to answer on, by kind of exercise
OWN_ROWS = ("tail board's lean", "pin board's lean", "tail board's end line", "pin board's end line",
            "end bevel, both boards", "level line on a flush tail end")
OWN_COLUMNS = ("degrees", "from the edge", "1 in n", "which way")


def handout(lesson, seed=1, unit="mm", paper="A4"):
    """The handout of a notebook as numbered `Page`s for `paper.save_pages`: its exercises, with ruled blanks.

    lesson: its number as text, "01" to "10". seed: of the exercises' numbers; the same seed gives the same numbers here,
    on the key and in the notebook. unit: "mm" or "in". paper: "A4", "A3" or "Letter". ValueError for anything else.
    """
    pages = _begun(lesson, seed, unit, paper, "Handout", "")
    _name_line(pages)
    draw, sentence = picture_for(lesson)
    pages.picture(draw, PICTURE_TALL)
    pages.skip(1)
    pages.write(sentence, SMALL)
    pages.write("A line counts as read when it is as near as a bevel gauge holds it. Work each one out before you look at "
                "the screen; those that say what to set are read off the notebook's panel.", SMALL)
    for number, asked in enumerate(_asked(lesson, seed, unit), start=1):
        rows = RULED[asked.kind]
        pages.need(_tall(asked, pages.width) + rows * BLANK + 6)
        pages.heading(f"{number}. {asked.label}", keep=0)
        pages.write(asked.text.replace("Type ", "Write "))
        if asked.choices:
            _choices(pages, asked.choices)
        else:
            pages.write(asked.how.replace("Type ", "Write ", 1), SMALL)
        _rule(pages, rows)
    _own_corner(pages)
    return numbered(pages.pages())


def answer_key(lesson, seed=1, unit="mm", paper="A4"):
    """The key to `handout(lesson, seed, unit, paper)`: answers, worked steps, and what each slip leads to."""
    pages = _begun(lesson, seed, unit, paper, "Key", f"Numbers of seed {seed}. For whoever teaches; not to hand out.")
    for number, asked in enumerate(_asked(lesson, seed, unit), start=1):
        pages.heading(f"{number}. {asked.label}", keep=30)
        pages.write(asked.text, SMALL)
        pages.write(capital(asked.answer_text or str(asked.answer)), 11.0, "bold")
        pages.points(asked.hints, SMALL)
        if asked.slips:
            pages.table([("answered instead", 1.2, "left"), ("what went wrong", 4, "left")],
                        [(_slip_value(slip, asked), slip.remark) for slip in asked.slips], SMALL)
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


def _choices(pages, choices):
    """The choices, each with a box to tick and its letter."""
    high = height_of(PLAIN) + 1.6
    box = np.array([[0, 0], [3, 0], [3, 3], [0, 3], [0, 0]])
    for letter, choice in zip("ABCDEFGH", choices, strict=False):
        y = -0.8 * height_of(PLAIN)
        pages.place([Stroke("outline", box + np.array([1, y - 0.4])), Label(letter, np.array([6.5, y]), PLAIN, weight="bold"),
                     Label(choice, np.array([12, y]), PLAIN)], high)


def _own_corner(pages):
    """A table to fill in with the settings of the class's own corner; the bench card is its key."""
    tall = CELL * (len(OWN_ROWS) + 1)
    pages.need(tall + 20)
    pages.heading("Our own corner", keep=0)
    pages.write("Fill in what the notebook says of the corner that you are going to cut: degrees of a lean from plumb, of "
                "all else from square. Its bench card has them all.", SMALL)
    left = 0.32 * pages.width
    wide = (pages.width - left) / len(OWN_COLUMNS)
    edges = [0.0, *(left + wide * np.arange(len(OWN_COLUMNS) + 1))]
    items = [Stroke("rule", np.array([[x, 0], [x, -tall]])) for x in edges]
    items += [Stroke("rule", np.array([[0, -CELL * row], [pages.width, -CELL * row]])) for row in range(len(OWN_ROWS) + 2)]
    cells = [(x, 1, words, "bold") for x, words in zip(edges[1:], OWN_COLUMNS, strict=False)]
    cells += [(0.0, row, words, "normal") for row, words in enumerate(OWN_ROWS, start=2)]
    items += [Label(words, np.array([x + 1.5, 2.4 - CELL * row]), SMALL, weight=weight) for x, row, words, weight in cells]
    pages.place(items, tall)


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
