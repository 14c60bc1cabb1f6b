"""A bench set: all that a plan of boxes needs at the bench, on numbered pages of one PDF."""

from datetime import date as calendar
from pathlib import Path

from ..common.printing import lengths
from ..drawing.page import BenchPages, numbered
from ..drawing.paper import letters, save_pages, size_of
from ..joint import words as joint_words
from . import cut_list
from .plan import UNITS, Plan
from .sheets import ItemSheets, leans_words

LONGEST_DATE = 40  # characters
_HOW_TO_READ = (
    "Left and right are as seen from outside the box, with the board upright and its top edge up. The left end of the "
    "right board is at the front.",
    "A lean is measured from plumb. An end line is given in degrees from square to the bottom edge: + where the board "
    "is longer at the top.",
    "Outer lengths lie between the end lines, inner ones between the baselines. Inches are printed to the "
    "nearest 1/64.",
    "Mark every blank before you saw it: its name, the outer face, an arrow to the top. Boards and corners aren't drawn "
    "to scale: go by their numbers. Wrap templates are true to scale when printed at 100 %.",
)


def bench_set(plan, paper="A4", unit=None, date=None):
    """The bench set of a `Plan` as a list of numbered `Page`s, for `paper.save_pages`.

    paper: "A4", "A3" or "Letter". unit: "mm" or "in" to write lengths in; None, as the plan has it. date: to be printed
    on the first page, text of up to 40 characters or a `datetime.date`; None, no date. For each box there are an
    overview, cut list, saw order, fittings, a sheet for each board and each corner that is unlike the others, and wrap
    templates and cards for each. ValueError, in one sentence, for anything else.
    """
    size_of(paper)
    if not isinstance(plan, Plan):
        raise ValueError(f"A bench set is made for a Plan, such as load_plan() returns, not for {type(plan).__name__}.")
    unit = plan.unit if unit is None else unit
    if unit not in UNITS:
        raise ValueError(f"The unit can be 'mm' or 'in', not {unit!r}.")
    date = _checked_date(date)
    for name in (plan.name, *(item.name for item in plan.items), date):
        check_letters(name)
    parts = [ItemSheets(plan, item, paper, unit).draw() for item in plan.items]
    first = _front(plan, paper, unit, date, parts, 0)
    first = _front(plan, paper, unit, date, parts, len(first))
    return numbered([*first, *(page for item in parts for *_, pages in item for page in pages)])


def save_bench_set(path, plan, paper="A4", unit=None, date=None, progress=None):
    """Write `bench_set(plan, paper, unit, date)` as one PDF, whole or not at all; returns the paths written, one.

    progress(done, of): called after each page. An existing file is replaced; the same plan gives the same bytes with
    the same release of matplotlib. ValueError as `bench_set`, and for a path that doesn't end in .pdf or whose folder
    isn't there; OSError when the disk refuses, and the older file is then untouched.
    """
    if Path(path).suffix.lower() != ".pdf":
        raise ValueError(f"A bench set is saved as one PDF: end the name {Path(path).name!r} in .pdf.")
    return save_pages(path, bench_set(plan, paper, unit, date), paper, progress)


def _checked_date(date):
    if date is None:
        return ""
    if isinstance(date, calendar):
        return f"{date:%Y-%m-%d}"
    if not isinstance(date, str) or not date.strip() or len(date) > LONGEST_DATE or not date.isprintable():
        raise ValueError(f"The date must be text of 1 to {LONGEST_DATE} characters on one line, a datetime.date, or "
                         f"None, not {date!r}.")
    return date.strip()


def check_letters(text):
    """ValueError for text that the letters of the sheets can't write."""
    if unknown := sorted(set(text) - letters()):
        raise ValueError(f"“{text[:40]}” has “{unknown[0]}”, which the letters of the sheets lack: spell it "
                         "another way.")


def _front(plan, paper, unit, date, parts, before):
    """The pages before the first box: what is made, where to find it, how to read it, and the cautions."""
    boxes = sum(item.quantity for item in plan.items)
    pages = BenchPages(paper, plan.name, "Bench set")
    pages.begin(plan.name, "  ·  ".join(["Bench set", *([date] if date else [])]))
    pages.facts([("boxes", str(boxes), f"of {len(plan.items)} sizes" if len(plan.items) > 1 else "of one size"),
                 ("lengths in", {"mm": "millimetres", "in": "inches"}[unit], "angles in degrees"),
                 ("paper", {"Letter": "US Letter"}.get(paper, paper), "print at 100 %")])
    pages.heading("What to make")
    number, rows, contents = before + 1, [], []
    for item, own in zip(plan.items, parts, strict=True):
        sizes = item.box.width, item.box.depth, item.box.height
        rows.append((item.name, str(item.quantity), lengths(sizes, unit), leans_words(item.box), str(number)))
        sheets = {}
        for kind, which, printed in own:
            sheets.setdefault(kind, []).append(f"{which} {number}")
            number += len(printed)
        contents += [(item.name if kind == "lists" else "", kind, "  ·  ".join(which)) for kind, which in sheets.items()]
    pages.table([("box", 2.4, "left"), ("make", 0.7, "right"), ("width × depth × height", 2.6, "left"),
                 ("leans", 3, "left"), ("page", 0.7, "right")], rows, most=4)
    pages.heading("What is on which page")
    pages.table([("", 2.4, "left"), ("", 2, "left"), ("", 5, "left")], contents, bold=(0,), most=6)
    pages.begin("Before you start")
    pages.heading("How to read these sheets")
    pages.points(_HOW_TO_READ, size=10)
    pages.heading("Cautions at the bench")
    pages.points(joint_words.CAUTIONS, size=10)
    pages.heading("Cautions at the saw")
    pages.points(cut_list.CAUTIONS, size=10)
    return pages.pages()
