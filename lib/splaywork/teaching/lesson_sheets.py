"""A lesson on paper, to be read from the bench: what to do, to say and to see at which minute, for one length of lesson."""

import re
from pathlib import Path
from typing import TYPE_CHECKING

from ..common.kinds import FilePath
from ..corner.words import capital
from ..drawing.page import BenchPages, numbered
from ..drawing.print_file import save_pages
from .bench_setup_sheet import TALL, bench_setup
from .scripts import minutes_rows, script
from .scripts.core import NEXT

if TYPE_CHECKING:
    from ..drawing.paper import Page

TYPE = 11.0  # points
BEGIN = ("Start .venv/bin/jupyter lab in README's folder, open notebooks/instructor/guide, and choose [Run All Cells] in "
         "the menu [Run]. Choose the lesson, press [Begin] and [Fill the window].")
_BOLD = re.compile(r"\*\*([^*]+)\*\*")
_LINK = re.compile(r"\[([^]]+)\]\([^)]+\)")


def lesson_sheet(notebook: str, minutes: float = 20, paper: str = "A4") -> "list[Page]":
    """The lesson of a notebook as `Page`s: what lies ready, each row with its minute, wrong ideas, and the question.

    notebook: its number as text, such as "04". minutes: 20 or 45, of which only these rows are printed. paper: "A4", "A3" or
    "Letter". ValueError for others.

    >>> import splaywork as sw
    >>> len(sw.lesson_sheet("04", minutes=45))
    3
    """
    lesson = script(notebook)
    lesson.at(minutes)
    pages = BenchPages(paper, f"Lesson {notebook}", f"Leaning corners · {minutes} minutes · for the teacher", side=11)
    pages.begin(f"Lesson {notebook}: {lesson.title}",
                f"{minutes} minutes. Say what is bold. Brackets name what is on the screen. [Begin] shows minute 0. Press "
                "[Next] once a row, also in wood, twice where it says so: [Next] opens the panel and sets all that the row "
                "names.")
    pages.heading("What lies ready")
    ready = f"{lesson.props} {lesson.more}" if minutes == 45 else lesson.props
    pages.points([capital(_plain(thing.rstrip("."))) for thing in re.split("; |(?<=\\.) ", lesson.text(ready))], TYPE)
    pages.heading("Before the class comes")
    pages.points([BEGIN, *(_plain(lesson.text(step)) for step in lesson.beforehand)], TYPE, numbered=True)
    if drawing := bench_setup(notebook):
        pages.place(drawing, TALL)
    rows = [(minute, *_parted(do), say, sees) for minute, do, say, sees in minutes_rows(lesson, minutes)]
    pages.table([("min", 0.6, "right"), ("do", 3.3, "left"), ("say", 3.2, "left"), ("the class sees", 1.9, "left")],
                [(str(minute), _plain(do) + " The steps stand below." * bool(steps), _plain(say), _plain(sees))
                 for minute, do, steps, say, sees in rows], TYPE, bold=(0, 2))
    for minute, first, steps, _, _ in rows:
        if steps:
            pages.heading(f"{first.partition('. ')[0]}, minute {minute}, step by step", keep=30)
            pages.points([_plain(step.partition(". ")[2]) for step in steps], TYPE, numbered=True)
    if minutes == 45:  # in 20 minutes there is no time for more than the rows themselves
        pages.heading("Wrong ideas, and what upsets them", keep=30)
        pages.points([f"{_plain(idea)} → {_plain(upset)}" for idea, upset in lesson.wrong], TYPE)
    questions = lesson.questions[:2] if minutes == 20 else lesson.questions
    if questions:
        pages.heading("What a class asks", keep=30)
        pages.points([f"{_plain(question)} {_plain(answer)}" for question, answer in questions], TYPE)
    question, answer = lesson.short if lesson.short and minutes == 20 else (lesson.ask, lesson.answer)
    pages.heading("Ask, after the last row", keep=14)
    pages.write(f"{_plain(question)} ({_plain(answer)})", TYPE)
    return numbered(pages.pages())


def _parted(do):
    """What to do, and its numbered steps."""
    first, *steps = do.split(NEXT)
    return first, steps


def _plain(text):
    """Markdown as plain text: a link's words, bold ones in brackets, and no stars."""
    return _BOLD.sub(r"[\1]", _LINK.sub(r"\1", text)).replace("*", "")


def save_lesson(path: FilePath, notebook: str, minutes: float = 20, paper: str = "A4") -> tuple[Path, ...]:
    """Write `lesson_sheet` as one PDF, whole or not at all; returns the paths written. Arguments and errors as there.

    >>> import splaywork as sw
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     [path.name for path in sw.save_lesson(f"{folder}/lesson.pdf", "04")]
    ['lesson.pdf']
    """
    return save_pages(path, lesson_sheet(notebook, minutes, paper), paper)
