"""A bench set: all that a plan of boxes needs at the bench, on numbered pages of one PDF."""

from collections.abc import Callable, Sequence
from datetime import date as calendar
from pathlib import Path
from typing import TYPE_CHECKING, Any

from ..common import checks
from ..common.kinds import FilePath
from ..common.printing import DECIMAL, UNIT_WORDS, UNITS, lengths
from ..drawing.layout import lay_out
from ..drawing.page import BenchPages, numbered
from ..drawing.paper import size_of
from ..drawing.print_file import check_one_pdf, save_pages
from ..joint import words as joint_words
from . import cut_list
from .job_sheets import Job, check_letters
from .label_sheets import label_pages
from .paper_model_sheets import paper_model
from .plan import Plan
from .settings import job_settings
from .sheets import ItemSheets, leans_words

if TYPE_CHECKING:
    from ..drawing.paper import Page

PARTS = ("job", "lists", "boards", "corners", "templates", "cards", "bench cards", "paper model", "labels")
USUAL = PARTS[:6]
LONGEST_DATE = 40  # characters
_ROUNDING = {"mm": "", "in": " Inches are printed to the nearest 1/64.", DECIMAL: " Inches are printed to the nearest 0.001."}
_HOW_TO_READ = (
    "Left and right are as seen from outside the box, with the board upright and its top edge up. The left end of the "
    "right board is at the front.",
    "A lean is measured from plumb. An end line is given in degrees from square to the bottom edge: + where the board "
    "is longer at the top.",
    "Outer lengths lie between the end lines, inner ones between the baselines.{rounding}",
    "Mark every blank before you saw it: its name, the outer face, an arrow to the top. Boards and corners aren't drawn "
    "to scale: go by their numbers. Wrap templates are true to scale when printed at 100%.",
)


def bench_set(plan: Plan, paper: str = "A4", unit: str | None = None, date: Any = None,
              parts: Sequence[str] | None = None, labels: tuple[int, int] = (8, 3)) -> "list[Page]":
    """The bench set of a `Plan` as a list of numbered `Page`s, for `save_pages`.

    paper: "A4", "A3" or "Letter". unit: "mm", "in" or "0.001 in" to write lengths in; None, as the plan has it. date: to be
    printed on the first page, text of up to 40 characters or a `datetime.date`; None, no date. parts: any of `PARTS`, in that
    order; None, all but the last three. "job": the job's pages and a page for each item, as `job_sheets`. "boards", "corners",
    "templates" and "cards": a sheet for each board and each corner that is unlike the others, their wrap templates, and a card
    for each joint of the whole plan. "bench cards": a page for each box, as `box_bench_card`. "lists": for each box an
    overview, cut list, order of sawing and fittings. "paper model": its two nets. "labels": as `save_labels`, with (rows,
    columns) of `labels`; they come last, on sheets of stick-on labels, so they bear no page number.
    ValueError, in one sentence, for anything else.
    """
    size_of(paper)
    if not isinstance(plan, Plan):
        raise ValueError(f"A bench set is made for a Plan, such as load_plan() returns, not for {type(plan).__name__}.")
    unit = checks.choice("unit", plan.unit if unit is None else unit, UNITS)
    date, wanted = _checked_date(date), _checked_parts(parts)
    for name in (plan.name, *(item.name for item in plan.items), date):
        check_letters(name)
    settings = job_settings(plan)
    carded: dict = {}
    items = [ItemSheets(plan, item, paper, unit, settings, carded).draw(wanted) for item in plan.items]
    stuck = label_pages(plan, *_checked_labels(labels), paper) if "labels" in wanted else []
    job = Job(plan, paper, unit).pages() if "job" in wanted else []
    first = _front(plan, paper, unit, date, items, 0, len(job), len(stuck))
    first = _front(plan, paper, unit, date, items, len(first), len(job), len(stuck))
    models = [page for item in plan.items if "paper model" in wanted
              for drawing in paper_model(item.box, paper=paper, unit=unit) for page in lay_out(drawing, paper)]
    return [*numbered([*first, *job, *(page for item in items for *_, pages in item for page in pages), *models]), *stuck]


def save_bench_set(path: FilePath, plan: Plan, paper: str = "A4", unit: str | None = None, date: Any = None,
                   progress: Callable | None = None, parts: Sequence[str] | None = None,
                   labels: tuple[int, int] = (8, 3)) -> tuple[Path, ...]:
    """Write `bench_set(plan, paper, unit, date, parts, labels)` as one PDF, whole or not at all; returns its path, in a tuple.

    progress(done, of): called after each page. An existing file is replaced; the same plan gives the same bytes with
    the same release of matplotlib. ValueError as `bench_set`, and for a path that doesn't end in .pdf or whose folder
    isn't there; OSError when the disk refuses, and the older file is then untouched.

    >>> import splaywork as sw
    >>> from tempfile import TemporaryDirectory
    >>> plan = sw.Plan("Galley", (sw.Item("locker drawer", sw.Box(400, 300, 120, left_lean=11)),))
    >>> with TemporaryDirectory() as folder:
    ...     [path.name for path in sw.save_bench_set(f"{folder}/set.pdf", plan, parts=("job",))]
    ['set.pdf']
    """
    check_one_pdf(path, "A bench set is")
    return save_pages(path, bench_set(plan, paper, unit, date, parts, labels), paper, progress)


def _checked_parts(parts):
    """The parts that are wanted, each once, in their order."""
    wanted = USUAL if parts is None else (parts,) if isinstance(parts, str) else parts
    if not isinstance(wanted, (tuple, list, set)) or not wanted or not set(map(str, wanted)) <= set(PARTS):
        raise ValueError(f"The parts of a bench set can be {', '.join(map(repr, PARTS))}, such as ('job', 'boards'), not "
                         f"{checks.shown(parts)}.")
    return tuple(part for part in PARTS if part in wanted)


def _checked_labels(labels: Any) -> tuple[int, int]:
    """(rows, columns) of a label sheet; ValueError, one sentence, for anything else."""
    if not isinstance(labels, (tuple, list)) or len(labels) != 2:
        raise ValueError(f"The labels must be (rows, columns) of their sheet, such as (8, 3), not {checks.shown(labels)}.")
    return labels[0], labels[1]


def _checked_date(date):
    if date is None:
        return ""
    if isinstance(date, calendar):
        return f"{date:%Y-%m-%d}"
    if not isinstance(date, str) or not date.strip() or len(date) > LONGEST_DATE or not date.isprintable():
        raise ValueError(f"The date must be text of 1 to {LONGEST_DATE} characters on one line, a datetime.date, or "
                         f"None, not {date!r}.")
    return date.strip()


def _front(plan, paper, unit, date, parts, before, job, stuck):
    """The pages before the first box: what is made, where to find it, how to read it, and the cautions."""
    boxes = sum(item.quantity for item in plan.items)
    pages = BenchPages(paper, plan.name, "Bench set")
    pages.begin(plan.name, "  ·  ".join(["Bench set", *([date] if date else [])]))
    pages.facts([("boxes", str(boxes), f"of {len(plan.items)} sizes" if len(plan.items) > 1 else "of one size"),
                 ("lengths in", UNIT_WORDS[unit], "angles in degrees"),
                 ("paper", {"Letter": "US Letter"}.get(paper, paper), "print at 100%")])
    pages.heading("What to make")
    number, rows, contents = before + 1, [], []
    if job:
        contents.append(("the whole job", "job and drawers", f"pages {number} to {number + job - 1}"))
        number += job
    for item, own in zip(plan.items, parts, strict=True):
        sizes = item.box.width, item.box.depth, item.box.height
        rows.append((item.name, str(item.quantity), lengths(sizes, unit), leans_words(item.box), str(number)))
        sheets = {}
        for kind, which, printed in own:
            sheets.setdefault(kind, []).append(f"{which} {number}" if printed else which)
            number += len(printed)
        contents += [("" if later else item.name, kind, "  ·  ".join(which))
                     for later, (kind, which) in enumerate(sheets.items())]
    if stuck:
        contents.append(("the whole job", "labels", f"the last {'page' if stuck == 1 else f'{stuck} pages'}, without a number"))
    pages.table([("box", 2.4, "left"), ("make", 0.7, "right"), ("width × depth × height", 2.6, "left"),
                 ("leans", 3, "left"), ("page", 0.7, "right")], rows, most=4)
    if contents:
        pages.heading("What is on which page")
        pages.table([("", 2.4, "left"), ("", 2, "left"), ("", 5, "left")], contents, bold=(0,), most=6)
    pages.begin("Before you start")
    pages.heading("How to read these sheets")
    pages.points([text.format(rounding=_ROUNDING[unit]) for text in _HOW_TO_READ], size=10)
    pages.heading("Cautions at the bench")
    pages.points(joint_words.CAUTIONS, size=10)
    pages.heading("Cautions at the saw")
    pages.points(cut_list.CAUTIONS, size=10)
    return pages.pages()
