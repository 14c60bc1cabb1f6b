"""Sheets for a class: a handout with blanks for each notebook, and its key.

Every number is worked out when the sheet is made, by the exercises themselves.
"""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np

from ..common.class_corner import ClassCorner, class_corner
from ..common.kinds import FilePath
from ..common.printing import length
from ..corner.words import capital
from ..drawing.lettering import height_of, wrapped
from ..drawing.page import BenchPages, numbered
from ..drawing.paper import Label, Stroke
from ..drawing.print_file import save_pages
from .exercise_pictures import FIGURES
from .exercises import exercises_for
from .handout_pictures import picture_for

TITLES = {"01": "A plain corner", "02": "The tail board leans", "03": "The pin board leans", "04": "Both boards lean",
          "05": "Cut a trial corner", "06": "Read a trial corner", "07": "One gauge is not enough",
          "08": "How good is good enough", "09": "Lay out the joint", "10": "Build the whole box",
          "11": "Deriving the formulas"}
READ, KEY = 11.0, 9.0  # points: what a class reads and writes on, and what the teacher reads
BLANK = 9.0  # mm from one ruled line to the next, for handwriting
PICTURE_TALL = 50.0  # mm
RULED = {"predict": 2, "read off": 2, "work out": 3}  # lines to answer on, by kind of exercise


def handout(lesson: str, seed: int = 1, unit: str = "mm", paper: str = "A4", corner: ClassCorner | None = None) -> list:
    """The handout of a notebook as numbered `Page`s for `save_pages`: its exercises, with ruled blanks.

    lesson: its number as text, such as "04". seed: of the exercises' numbers; the same seed gives the same numbers here,
    on the key and in the notebook. unit: "mm", "in" or "0.001 in". paper: "A4", "A3" or "Letter". corner: a
    `ClassCorner`, with which the first numbers begin; left out, the one that is kept, as in the notebook. ValueError for
    anything else.
    """
    pages = _begun(lesson, seed, unit, paper, "Handout", "")
    _name_line(pages)
    draw, sentence = picture_for(lesson)
    pages.picture(draw, PICTURE_TALL)
    pages.skip(1)
    pages.write(sentence, READ)
    pages.write("Read each line as near as you can set a bevel. Work each answer out before you look at the "
                "screen. Where a question says what to set, read the answer off the notebook's panel.", READ)
    for number, asked in enumerate(_asked(lesson, seed, unit, corner), start=1):
        rows, figure = RULED[asked.kind], _figure_tall(asked, pages.width)
        pages.need(min(_tall(asked, pages.width) + figure + rows * BLANK + 6, 200))
        pages.heading(f"{number}. {asked.label}", keep=0)
        pages.write(asked.text, READ)
        if figure:
            pages.picture(lambda canvas, asked=asked: FIGURES[asked.figure].draw(canvas, asked), figure)
            pages.skip(2)
        if asked.choices:
            _choices(pages, asked.choices)
        else:
            pages.write(asked.how.replace("Type ", "Write ", 1), READ)
        _rule(pages, rows)
    return numbered(pages.pages())


def answer_key(lesson: str, seed: int = 1, unit: str = "mm", paper: str = "A4", corner: ClassCorner | None = None) -> list:
    """The key to `handout` of the same arguments: answers, worked steps, and what each slip leads to."""
    pages = _begun(lesson, seed, unit, paper, "Key", f"Numbers of seed {seed}. For the teacher; not to hand out.")
    for number, asked in enumerate(_asked(lesson, seed, unit, corner), start=1):
        pages.heading(f"{number}. {asked.label}", keep=30)
        pages.write(asked.text, KEY)
        pages.write(capital(asked.answer_text or str(asked.answer)), 11.0, "bold")
        pages.points(asked.hints, KEY)
        if asked.slips:
            pages.table([("answered instead", 1.4, "left"), ("what went wrong", 4, "left")],
                        [(asked.as_typed(slip.value), slip.remark) for slip in asked.slips], KEY)
    return numbered(pages.pages())


def save_sheets(path: FilePath, pages: Any, paper: str = "A4", progress: Callable | None = None) -> tuple[Path, ...]:
    """Write pages of this module as one PDF, whole or not at all; as `save_pages`.

    >>> import splaywork as sw
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     [path.name for path in sw.save_sheets(f"{folder}/kit.pdf", sw.kit("04"))]
    ['kit.pdf']
    """
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


def _asked(lesson, seed, unit, corner):
    corner = class_corner() if corner is None else corner
    return [exercise.ask(seed, unit, corner) for exercise in exercises_for(lesson)]


def _tall(asked, width):
    """mm that a question takes on a handout, without its drawing and its ruled lines."""
    texts = [asked.text, *(asked.choices or [asked.how])]
    return 9 + sum(len(wrapped(text, READ, width - 12)) * height_of(READ) + 1.6 for text in texts)


def _figure_tall(asked, width):
    """mm that the drawing of a question takes, as wide as the page; 0 without one."""
    if not asked.figure:
        return 0.0
    wide, high = FIGURES[asked.figure].size
    return width * high / wide


def _name_line(pages):
    """Where the learner's name and the date are written."""
    date = 0.64 * pages.width
    pages.place([Label("Name", np.array([0, -5.0]), READ), Label("Date", np.array([date, -5.0]), READ),
                 Stroke("rule", np.array([[12, -6], [date - 6, -6]])),
                 Stroke("rule", np.array([[date + 10, -6], [pages.width, -6]]))], 9.0)


def _choices(pages, choices):
    """The choices, each with a box to tick and its letter."""
    box = np.array([[0, 0], [3.4, 0], [3.4, 3.4], [0, 3.4], [0, 0]])
    for letter, choice in zip("ABCDEFGH", choices, strict=False):
        y, rows = -0.8 * height_of(READ), wrapped(choice, READ, pages.width - 13)
        items = [Stroke("outline", box + np.array([1, y - 0.4])), Label(letter, np.array([6.5, y]), READ, weight="bold")]
        items += [Label(row, np.array([12.5, y - height_of(READ) * number]), READ) for number, row in enumerate(rows)]
        pages.place(items, height_of(READ) * len(rows) + 1.6)


def _rule(pages, rows):
    """Ruled lines to write on."""
    lines = [Stroke("rule", np.array([[0, -BLANK * row], [pages.width, -BLANK * row]])) for row in range(1, rows + 1)]
    pages.place(lines, BLANK * rows)
    pages.skip(3)
