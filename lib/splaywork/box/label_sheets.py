"""Labels to stick on the blanks: item, copy, place, outer face and an arrow to the top; by rows and columns of a sheet."""

from collections.abc import Callable
from pathlib import Path

import numpy as np

from ..common import checks
from ..common.kinds import FilePath
from ..drawing.lettering import height_of
from ..drawing.page import shortened
from ..drawing.paper import PAPERS, Label, Page, Stroke, size_of
from ..drawing.print_file import check_one_pdf, save_pages
from .cut_list import cut_list
from .job_sheets import check_letters
from .plan import Plan

_FRONT_ENDS = {"left": ("front at its right end",), "right": ("front at its left end",)}
LEAST = 7.0  # points
TIGHTEST = 20.0, 12.0  # mm, width and height of the smallest label


def label_texts(plan: Plan) -> tuple[tuple[str, ...], ...]:
    """A tuple of lines for each board of a `Plan`, item by item and copy by copy."""
    checks.instance("plan", plan, Plan, "load_plan('drawers.json')")
    found = []
    for number, item in enumerate(plan.items, 1):
        for copy in range(1, item.quantity + 1):
            for board in cut_list(item.box).boards:
                found.append((f"{number} {board.name.upper()}", f"{item.name}, copy {copy} of {item.quantity}", "outer face",
                              *_FRONT_ENDS.get(board.name, ())))
    return tuple(found)


def label_pages(plan: Plan, rows: int = 8, columns: int = 3, paper: str = "A4",
                margins: tuple[float, float] = (10.0, 10.0)) -> list[Page]:
    """The labels of a `Plan` as `Page`s of a sheet with so many rows and columns of equal labels.

    paper: "A4", "A3" or "Letter". margins: mm that the sheet leaves at the left and right, and at the top and bottom, of all
    labels together. ValueError, in one sentence, for what can't be.
    """
    texts = label_texts(plan)
    rows, columns = checks.count("number of rows", rows, 1, 40), checks.count("number of columns", columns, 1, 10)
    wide, high = size_of(checks.choice("paper", paper, tuple(PAPERS)))
    if not isinstance(margins, (tuple, list)) or len(margins) != 2:
        raise ValueError(f"The margins must be two numbers of mm, such as (10, 12), not {checks.shown(margins)}.")
    left, top = (checks.amount(f"margin at the {side}", margin) for side, margin in zip(("sides", "top"), margins, strict=True))
    size = np.array([(wide - 2 * left) / columns, (high - 2 * top) / rows])
    if (size < TIGHTEST).any():
        raise ValueError(f"A label of {size[0]:.0f} × {size[1]:.0f} mm is too small to write on: take fewer rows or columns.")
    for item in plan.items:
        check_letters(item.name)
    pages = []
    for start in range(0, len(texts), rows * columns):
        items = []
        for place, lines in enumerate(texts[start:start + rows * columns]):
            row, column = divmod(place, columns)
            corner = np.array([left + column * size[0], high - top - (row + 1) * size[1]])
            items += _label(lines, corner, size)
        window = np.array([[0.0, 0.0], [wide, high]])
        pages.append(Page(wide, high, window, (), tuple(items), np.zeros(2)))
    return pages


def _label(lines, corner, size):
    """One label's lines and its arrow, in a box with its lower left corner there."""
    wide, high = size
    large = float(np.clip((high - 4) * 72 / 25.4 / (len(lines) + 1.2), LEAST, 16.0))
    sizes = [large, *[max(LEAST, 0.62 * large)] * (len(lines) - 1)]
    left, room = corner[0] + 11, wide - 14
    y = corner[1] + high / 2 + sum(map(height_of, sizes)) / 2
    items = []
    for text, points in zip(lines, sizes, strict=True):
        y -= height_of(points)
        weight = "bold" if points == large else "normal"
        items.append(Label(shortened(text, points, room, weight), np.array([left, y + 0.25 * height_of(points)]), points,
                           weight=weight))
    head = high - 3.0
    arrow = corner + np.array([[5.5, 3.5], [5.5, head], [3.9, head - 3.2], [5.5, head], [7.1, head - 3.2]])
    return [*items, Stroke("arm", arrow, "up")]


def save_labels(path: FilePath, plan: Plan, rows: int = 8, columns: int = 3, paper: str = "A4",
                margins: tuple[float, float] = (10.0, 10.0), progress: Callable | None = None) -> tuple[Path, ...]:
    """Write `label_pages(plan, rows, columns, paper, margins)` as one PDF, whole or not at all; returns the paths written, one.

    Print it at 100%, first on plain paper laid against the label sheet. ValueError as `label_pages`, and for a path that
    doesn't end in .pdf or whose folder isn't there; OSError when the disk refuses, and the older file is then untouched.

    >>> import splaywork as sw
    >>> from tempfile import TemporaryDirectory
    >>> plan = sw.Plan("Galley", (sw.Item("locker drawer", sw.Box(400, 300, 120, left_lean=11)),))
    >>> with TemporaryDirectory() as folder:
    ...     [path.name for path in sw.save_labels(f"{folder}/labels.pdf", plan)]
    ['labels.pdf']
    """
    check_one_pdf(path, "Labels are")
    return save_pages(path, label_pages(plan, rows, columns, paper, margins), paper, progress)
