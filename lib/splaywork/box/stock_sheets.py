"""The boards of a stock plan on paper: each drawn to one scale, with the blanks that are sawn from it, in order."""

from collections.abc import Callable
from pathlib import Path

import numpy as np

from ..common import checks
from ..common.kinds import FilePath
from ..common.printing import UNITS
from ..drawing.lettering import height_of, width_of
from ..drawing.page import BenchPages, numbered, shortened
from ..drawing.paper import PAPERS, Area, Label, Stroke
from ..drawing.print_file import check_one_pdf, save_pages
from .stock import StockPlan

LEAST, WORDS = 9.0, 10.0  # points
_FOOT = "Grain runs along each board  ·  saw from its left end  ·  hatched: offcuts worth keeping  ·  go by the numbers"


def stock_sheets(found: StockPlan, paper: str = "A4", unit: str = "mm") -> list:
    """A `StockPlan` as a list of numbered `Page`s. paper: "A4", "A3" or "Letter". unit: "mm", "in" or "0.001 in".

    ValueError otherwise.
    """
    checks.instance("stock plan", found, StockPlan, "stock_plan(plan)")
    checks.choice("paper", paper, tuple(PAPERS))
    checks.choice("unit", unit, UNITS)
    pages = BenchPages(paper, "Wood", _FOOT, small=LEAST)
    pages.begin("What to saw from which board")
    pages.points(found.words(unit), WORDS)
    scale = pages.width / max((board.stock.length for board in found.boards), default=1.0)
    for board in found.boards:
        said = board.words(unit)
        pages.heading(said[0].rstrip("."), keep=board.stock.width * scale + 14)
        pages.place(_drawn(board, scale), board.stock.width * scale + 1.5)
        pages.write(" ".join(said[1:]), LEAST)
    return numbered(pages.pages(), LEAST)


def save_stock_sheets(path: FilePath, found: StockPlan, paper: str = "A4", unit: str = "mm",
                      progress: Callable | None = None) -> tuple[Path, ...]:
    """Write `stock_sheets(found, paper, unit)` as one PDF, whole or not at all; returns the paths written, one.

    An existing file is replaced. ValueError as `stock_sheets`, and for a path that doesn't end in .pdf or whose folder isn't
    there; OSError when the disk refuses, and the older file is then untouched.

    >>> import splaywork as sw
    >>> from tempfile import TemporaryDirectory
    >>> plan = sw.Plan("Galley", (sw.Item("locker drawer", sw.Box(400, 300, 120, left_lean=11)),))
    >>> found = sw.stock_plan(plan, [sw.Stock(2400, 140, 18, 5)])
    >>> with TemporaryDirectory() as folder:
    ...     [path.name for path in sw.save_stock_sheets(f"{folder}/wood.pdf", found)]
    ['wood.pdf']
    """
    check_one_pdf(path, "The sheets for the wood are")
    return save_pages(path, stock_sheets(found, paper, unit), paper, progress)


def _rectangle(x, y, length, width, scale):
    corners = np.array([[x, y], [x + length, y], [x + length, y + width], [x, y + width]])
    return corners * scale * [1, -1]


def _drawn(board, scale):
    """The board hung from (0, 0), its blanks and offcuts named where their names fit."""
    stock = board.stock
    around = _rectangle(0, 0, stock.length, stock.width, scale)
    items = [Area("sawn off", around, "board"), Stroke("outline", np.vstack([around, around[:1]]), "board")]
    for placed in board.placed:
        corners = _rectangle(placed.x, placed.y, placed.blank.length, placed.blank.width, scale)
        items.append(Area("tail outer", corners, placed.blank.name))
        items += _named(corners, placed.blank.name)
    for rest in board.rests:
        corners = _rectangle(rest.x, rest.y, rest.length, rest.width, scale)
        items.append(Area("waste", corners, rest.name))
        items += _named(corners, rest.name)
    return items


def _named(corners, name):
    """The name in the middle of a rectangle, as much of it as fits; nothing where too little would."""
    (low_x, low_y), (high_x, high_y) = corners.min(axis=0), corners.max(axis=0)
    text = shortened(name.replace(", copy", " ·").replace(" of ", "/"), LEAST, high_x - low_x - 1.5)
    if high_y - low_y < height_of(LEAST) or width_of(text, LEAST) < 5:
        return []
    return [Label(text, np.array([(low_x + high_x) / 2, (low_y + high_y) / 2 - 0.3 * height_of(LEAST)]), LEAST, align="center")]
