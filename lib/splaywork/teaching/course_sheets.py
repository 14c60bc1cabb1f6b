"""A course of four evenings, and a form to assess a trial corner in wood; every number comes from the corner."""

from math import radians, tan
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from ..common import checks
from ..common.boards import BOARDS
from ..common.class_corner import class_corner
from ..common.kinds import FilePath
from ..common.printing import fine, intended, length
from ..common.text import Table
from ..corner.corner import Corner
from ..corner.words import lean_words
from ..drawing.page import BenchPages, numbered
from ..drawing.paper import Label, Stroke
from ..drawing.print_file import save_pages
from ..joint.words import CAUTIONS
from .draw_on_sheets import own_corner
from .kit_sheets import KITS, MOST_PAIRS

if TYPE_CHECKING:
    from ..drawing.paper import Page

TYPE = 11.0  # points
SLIP = 0.1  # mm, a slip of common office paper; from memory, no source
BANDS = (0.5, 1.0, 2.0)  # degrees within which a lean gets 3, 2 or 1 marks; our opinion
GAPS = (SLIP, 3 * SLIP, 6 * SLIP)  # mm of gap that get 3, 2 or 1 marks; our opinion
MARKS = (3, 2, 1)

EVENING = 120  # minutes
ON_THE_PANEL = ("10",)  # shown on an evening without its kit

# minutes from the start, notebook, what is done, what is cut
EVENINGS = (
    ("One board leans", ((0, "00", "The words, on a finished box; cautions aloud", ""),
                         (20, "01", "A plain corner, in the 20-minute lesson", "one square end"),
                         (45, "02", "The tail board leans, in the 45-minute lesson", "the pin board's end"),
                         (95, "03", "The pin board leans, in the 20-minute lesson", "")),
     "Read 04 up to the panel. Skip the formulas."),
    ("Both boards lean", ((0, "04", "Both boards lean, in the 45-minute lesson; the sheet to draw on", ""),
                          (45, "05", "A trial corner, edges planed beforehand", "both ends of a trial corner"),
                          (105, "06", "No script: each pair reads both lines, and writes them on its corner", "")),
     "Read 06. Skip its panel for gaps if nothing gapes."),
    ("What the shortcut does", ((0, "06", "Each corner's fault found, in the order of the table", ""),
                                (35, "07", "One gauge is not enough, in the 45-minute lesson", ""),
                                (80, "08", "How good is good enough, in the 20-minute lesson", ""),
                                (100, "05", "A second trial corner, for those whose first one gaped", "one end line again")),
     "Read 09. Skip the map if time is short: its table says it."),
    ("The joint", ((0, "09", "The joint laid out, in the 20-minute lesson", ""),
                   (20, "09", "Tails marked, sawn and scribed; the pins sawn", "one level-entry joint"),
                   (95, "10", "The first three rows of the script; everybody's own cut list at home", ""),
                   (110, "", "The assessment form, each corner by its neighbour", "")),
     "Take home 10 and 11. Skip the formulas unless somebody asks."),
)


def course(paper: str = "A4") -> "list[Page]":
    """Four evenings of two hours, as `Page`s: what is done at which minute, what is cut, what to read and skip.

    >>> import splaywork as sw
    >>> len(sw.course())
    2
    """
    pages = BenchPages(paper, "A course of four evenings", "Leaning corners · minutes are our guess")
    pages.begin("Four evenings of two hours", "Before and after them set out, and sweep up: a quarter of an hour each time.")
    pages.points(CAUTIONS, TYPE)
    for number, (title, rows, home) in enumerate(EVENINGS, start=1):
        pages.heading(f"Evening {number}: {title}", keep=80)
        pages.table([("minute", 0.8, "right"), ("notebook", 1, "left"), ("what is done", 4, "left"),
                     ("what is cut", 2, "left")],
                    [(str(minute), notebook or "–", done, cut or "–") for minute, notebook, done, cut in rows], TYPE)
        pages.write(f"For the week: {home}", TYPE)
    return numbered(pages.pages())


def course_table(pairs: float = 6) -> Table:
    """`Table` of the four evenings: lessons, the minutes of each, and hours to prepare the wood for so many pairs.

    pairs: 1 to 40; ValueError for others. A notebook's kit is prepared for the first evening that has it.

    >>> import splaywork as sw
    >>> sw.course_table(pairs=6).rows[0][:4]
    ('1 One board leans', '00, 01, 02, 03', '20, 25, 50, 25', '3.0')
    """
    pairs = checks.count("pairs", pairs, 1, MOST_PAIRS)
    ready: set[str] = set()
    whole, rows = 0.0, []  # the whole adds up the hours that are shown
    for number, (title, parts, _) in enumerate(EVENINGS, start=1):
        ends = [minute for minute, *_ in parts[1:]] + [EVENING]
        spent = [end - minute for end, (minute, *_) in zip(ends, parts, strict=True)]
        names = list(dict.fromkeys(notebook for _, notebook, *_ in parts if notebook))
        cut = [name for name in names if name in KITS and name not in ON_THE_PANEL]
        hours = round(sum(KITS[name].minutes * pairs + KITS[name].before for name in cut if name not in ready) / 60, 1)
        whole, ready = whole + hours, ready.union(names)
        rows.append((f"{number} {title}", ", ".join(notebook or "form" for _, notebook, *_ in parts),
                     ", ".join(map(str, spent)), f"{hours:.1f}"))
    return Table(("evening", "lessons", "minutes", "hours to prepare"), [*rows, ("total", "", "", f"{whole:.1f}")])


def assessment(corner: Corner | None = None, height: float | None = None, unit: str = "mm",
               paper: str = "A4") -> "list[Page]":
    """A form to assess a trial corner in wood, as `Page`s: what is measured, with which tool, and marks by band.

    Parameters
    ----------
    corner : Corner, optional
        The intended corner, square in plan; the class corner, or else 16 and 11, unless given.
    height : float, optional
        Vertical height of the corner, mm; unless given, that of the class corner where `corner` is left out, or else 120.
    unit, paper : str
        "mm", "in" or "0.001 in"; "A4", "A3" or "Letter".

    Raises
    ------
    ValueError
        For what is no such corner, height, unit or paper.

    >>> import splaywork as sw
    >>> len(sw.assessment(sw.Corner(28, 20), height=100))
    1
    """
    kept = class_corner() if corner is None else None
    corner = own_corner(Corner(16, 11)) if corner is None else corner
    checks.instance("corner", corner, Corner, "Corner(16, 11)")
    if np.ndim(corner.dihedral) or abs(corner.plan_angle - 90) > 1e-9:
        raise ValueError("The form is for one corner that is square in plan: give one such as Corner(16, 11).")
    height = checks.size("height", (kept.height if kept else 120.0) if height is None else height)
    length(0, unit)
    pages = BenchPages(paper, "Assessment", "Leaning corners · bands are our opinion, no standard")
    pages.begin("Assessment of a trial corner")
    date = 0.6 * pages.width
    pages.place([Label("Name", np.array([0, -5.0]), TYPE), Stroke("rule", np.array([[14, -6], [date - 6, -6]])),
                 Label("Date", np.array([date, -5.0]), TYPE),
                 Stroke("rule", np.array([[date + 12, -6], [pages.width, -6]]))], 10.0)
    pages.write(f"Intended: tail board {lean_words(corner.tail_lean)}, pin board {lean_words(corner.pin_lean)}, "
                f"{length(height, unit)} high. Stand the corner on a flat board. Measure each line twice. A mark's column says "
                "how far off the size may be, either way.", TYPE)
    rows = criteria(corner, height, unit)
    pages.table([("what, and with what", 3.5, "left"), ("intended", 1.7, "left"), ("3 marks", 1.5, "left"),
                 ("2 marks", 1.5, "left"), ("1 mark", 1.5, "left"), ("measured", 1.25, "left"), ("marks", 0.85, "left")],
                [(f"{what}: {tool}", *told, "", "") for what, tool, *told in rows], TYPE, bold=())
    pages.write(f"Marks: ____ of {3 * len(rows)}", TYPE, "bold")
    pages.write(f"A slip of common paper is about {fine(SLIP, unit)} thick: the bands are one slip, three and six.", TYPE)
    return numbered(pages.pages())


def criteria(corner: Corner, height: float, unit: str = "mm") -> list[tuple[str, ...]]:
    """What is measured: (what, tool, intended, then how far off it may be for 3, 2 and 1 marks), in words."""
    rows: list[tuple[str, ...]] = []
    rise, said_rise = (100.0, "100 mm") if unit == "mm" else (101.6, "4 in")  # over which a lean's run is measured
    for board in BOARDS:
        lean = corner.lean(board)
        run = rise * tan(radians(lean))
        bands = [min(abs(rise * tan(radians(lean + way * band)) - run) for way in (-1, 1)) for band in BANDS]
        rows.append((f"{board} board's run over a rise of {said_rise}", "square and rule",
                     f"{length(run, unit)} ({intended(lean)})", *(length(band, unit) for band in bands)))
    gaps = [fine(gap, unit) for gap in GAPS]
    rows += [(what, "slips of paper", "none", *gaps)
             for what in ("light under either bottom edge", "gap in the corner, outside", "gap in the corner, inside")]
    for board in BOARDS:
        wide = corner.slant_width(height, board)
        rows.append((f"{board} board's slant width", "rule", length(wide, unit),
                     *(length(band, unit) for band in (0.5, 1.0, 2.0))))
    return rows


def save_course(path: FilePath, paper: str = "A4") -> tuple[Path, ...]:
    """Write `course` as one PDF, whole or not at all; returns the paths written.

    >>> import splaywork as sw
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     [path.name for path in sw.save_course(f"{folder}/course.pdf")]
    ['course.pdf']
    """
    return save_pages(path, course(paper), paper)


def save_assessment(path: FilePath, corner: Corner | None = None, height: float | None = None, unit: str = "mm",
                    paper: str = "A4") -> tuple[Path, ...]:
    """Write `assessment` as one PDF, whole or not at all; returns the paths written. Arguments and errors as there.

    >>> import splaywork as sw
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     [path.name for path in sw.save_assessment(f"{folder}/form.pdf", sw.Corner(28, 20))]
    ['form.pdf']
    """
    return save_pages(path, assessment(corner, height, unit, paper), paper)
