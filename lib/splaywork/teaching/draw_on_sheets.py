"""Sheets to draw on, without a screen: the leans of both boards and the boards laid flat, at true scale, and their key."""

from math import radians, tan
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from ..common import checks
from ..common.boards import BOARDS, other
from ..common.class_corner import class_corner
from ..common.kinds import FilePath
from ..common.printing import degrees, intended, length, offset_parts
from ..corner.corner import Corner
from ..drawing.page import BenchPages, numbered, scale_of
from ..drawing.paper import Area, Label, Stroke
from ..drawing.print_file import save_pages

if TYPE_CHECKING:
    from ..drawing.paper import Page

TYPE = 11.0  # points: what a class reads and writes on
HEIGHT = 60.0  # mm, of the box that is drawn
STEEPEST = 45.0  # degrees that the paper has room for
LEFT, RIGHT = 74.0, 66.0  # mm of a board to the left and right of its square line
GRID = 5.0  # mm


def own_corner(otherwise: Corner) -> Corner:
    """The class corner as a `Corner`, where one is kept; otherwise what is given."""
    kept = class_corner()
    return otherwise if kept is None else Corner(kept.tail_lean, kept.pin_lean)


def _checked(corner, paper, unit):
    """The corner, where these sheets can draw it."""
    length(0, unit)
    scale_of(paper)
    checks.instance("corner", corner, Corner, "Corner(28, 20)")
    if np.ndim(corner.dihedral) or abs(corner.plan_angle - 90) > 1e-9:
        raise ValueError("The sheet to draw on shows one corner that is square in plan: give one such as Corner(28, 20).")
    for board in BOARDS:
        if abs(corner.lean(board)) > STEEPEST:
            raise ValueError(f"The {board} board leans {intended(corner.lean(board))}, and the sheet has room up to "
                             f"{intended(STEEPEST)}: give a smaller lean.")


class Sheet:
    """Pages whose drawings are in mm on the paper, whatever its size."""

    def __init__(self, paper: str, name: str, unit: str) -> None:
        self.pages = BenchPages(paper, name, "Leaning corners · print at 100%")
        self.true, self.unit = 1 / scale_of(paper), unit

    def place(self, items: list, height: float) -> None:
        """Items drawn in true mm, hung from (0, 0), `height` mm high."""
        self.pages.place([_times(item, self.true) for item in items], height * self.true)

    def scale_bar(self) -> None:
        """A line to check the printer by."""
        long, said = (100.0, "100 mm") if self.unit == "mm" else (101.6, "4 in")
        self.place([Stroke("scale", np.array([[0, -4], [long, -4]])),
                    *(Stroke("scale", np.array([[x, -2], [x, -6]])) for x in (0, long)),
                    Label(f"Measure this line: it is {said} long.", np.array([long + 4, -5.2]), TYPE)], 9.0)


def _times(item, by):
    if isinstance(item, Label):
        return Label(item.text, item.at * by, item.size, item.turn, item.align, item.weight, item.colour)
    return type(item)(item.kind, item.points * by, item.name)


def _leans(corner):
    """Both leans over the height of the box, side by side, hung from (0, 0)."""
    items = []
    for board, x in (("tail", 30.0), ("pin", 120.0)):
        bottom, out = np.array([x, -HEIGHT - 8]), HEIGHT * tan(radians(corner.lean(board)))
        top = bottom + np.array([0, HEIGHT])
        items += [Stroke("square", np.array([bottom, top])),
                  Stroke("rule", np.array([bottom - np.array([28, 0]), bottom + np.array([60, 0])])),
                  Stroke("rule", np.array([top - np.array([28, 0]), top + np.array([60, 0])])),
                  Stroke("cheek", np.array([bottom, top + np.array([out, 0])]), f"{board} lean"),
                  Label(f"{board} board's lean, {intended(corner.lean(board))}", bottom - np.array([28, 6]), TYPE)]
    return items, HEIGHT + 19


def _flat(corner, board, key):
    """A board laid flat, outer face up, the bottom of its corner line on the square line; with the answer for the key."""
    up = corner.slant_width(HEIGHT, board)
    bottom = np.array([LEFT, -up - 8])
    top, sides = bottom + np.array([0, up]), ([-LEFT, 0], [RIGHT, 0])
    items = [Area(f"{board} outer", np.array([bottom + sides[0], bottom + sides[1], top + sides[1], top + sides[0]])),
             Stroke("square", np.array([bottom, top])),
             Label(f"{board} board, laid flat, outer face up; dotted: square to its bottom edge",
                   bottom - np.array([LEFT, 6]), TYPE)]
    if key:
        for kind, line in (("cheek", corner.end_line(board)), ("baseline", corner.lean(other(board)))):
            along = up * tan(radians(line))
            items.append(Stroke(kind, np.array([bottom, top + np.array([along, 0])]), f"{board} {kind}"))
    return items, up + 17


def draw_on(corner: Corner | None = None, unit: str = "mm", paper: str = "A4", key: bool = False) -> "list[Page]":
    """Sheets to draw the two-lean end lines on, at true scale, or their key, as `Page`s.

    Parameters
    ----------
    corner : Corner, optional
        Square in plan, leans up to 45 degrees either way; the class corner, or else 28 and 20, unless given.
    unit : str
        "mm", "in" or "0.001 in", of the numbers on the key.
    paper : str
        "A4", "A3" or "Letter"; drawings have one size on all.
    key : bool
        Draw the answers: the end lines heavy, the shortcut's lines dashed.

    Returns
    -------
    list of Page
        For `save_sheets`. ValueError for a corner that the paper has no room for.

    >>> import splaywork as sw
    >>> len(sw.draw_on(sw.Corner(28, 20), key=True))
    2
    """
    corner = own_corner(Corner(28, 20)) if corner is None else corner
    _checked(corner, paper, unit)
    checks.flag("key", key)
    sheet = Sheet(paper, "Key: to draw on" if key else "To draw on", unit)
    pages = sheet.pages
    pages.begin("Find the end lines by drawing" + (": key" if key else ""))
    sheet.scale_bar()
    pages.write("1. Before you measure: draw by eye, in pencil, where you expect each end line to go.", TYPE)
    pages.write("2. In the drawing of a board's lean, measure how far its face runs out at the top. That is its offset.", TYPE)
    sheet.place(*_leans(corner))
    if key:
        pages.write("Heavy: the end lines. Dashed: the lines that the shortcut would strike.", TYPE, "bold")
    pages.write("3. Mark the pin board's offset on the tail board's top edge, from the square line: to the right where the pin "
                "board leans out. Join the mark to the bottom of the square line.", TYPE)
    sheet.place(*_flat(corner, "tail", key))
    pages.need(150 * sheet.true)
    pages.write("4. Do the same on the pin board, with the tail board's offset.", TYPE)
    sheet.place(*_flat(corner, "pin", key))
    _measured(sheet, corner, key)
    if not key:
        _own(sheet)
    return numbered(pages.pages())


def _measured(sheet, corner, key):
    """What is measured on the drawing; filled in on the key."""
    unit = sheet.unit
    rows = []
    for board in BOARDS:
        up = corner.slant_width(HEIGHT, board)
        along = abs(up * tan(radians(corner.end_line(board))))
        filled = (length(up, unit), length(along, unit), offset_parts(abs(corner.end_line(board)), unit)[0],
                  degrees(abs(corner.end_line(board))), offset_parts(abs(corner.lean(other(board))), unit)[0])
        rows.append((f"{board} board", *(filled if key else ("",) * 5)))
    sheet.pages.heading("5. Measure what you drew", keep=34)
    hundred = "100 mm" if unit == "mm" else "4 in"
    sheet.pages.table([("", 1, "left"), ("slant width", 1, "left"), ("along the top", 1, "left"),
                       (f"end line's offset in {hundred}", 1.3, "left"), ("from square", 1, "left"),
                       ("the shortcut's offset", 1.3, "left")], rows, TYPE)


def _own(sheet):
    """Squared paper for a corner of one's own."""
    pages = sheet.pages
    pages.need(10_000 if pages.room < 200 * sheet.true else 200 * sheet.true)
    pages.heading("Our own corner", keep=0)
    pages.write("Tail board leans ________   Pin board leans ________   Draw both leans and both boards. A square is 5 mm "
                "wide.",
                TYPE)
    wide, tall = 180.0, 165.0
    lines = [np.array([[x, -2], [x, -2 - tall]]) for x in np.arange(0, wide + 1, GRID)]
    lines += [np.array([[0, -2 - y], [wide, -2 - y]]) for y in np.arange(0, tall + 1, GRID)]
    sheet.place([Stroke("square" if number % 2 else "rule", line) for number, line in enumerate(lines)], tall + 4)


def save_draw_on(path: FilePath, corner: Corner | None = None, unit: str = "mm", paper: str = "A4",
                 key: bool = False) -> tuple[Path, ...]:
    """Write `draw_on` as one PDF, whole or not at all; returns the paths written. Arguments and errors as there.

    >>> import splaywork as sw
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     [path.name for path in sw.save_draw_on(f"{folder}/draw.pdf", sw.Corner(28, 20))]
    ['draw.pdf']
    """
    return save_pages(path, draw_on(corner, unit, paper, key), paper)
