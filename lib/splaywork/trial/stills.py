"""Where to hold the rule, the square, the bevel gauge and the tape at a trial corner."""

from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from ..corner.corner import Corner, one_corner
from ..corner.stubs import flat_face
from ..corner.words import from_square, stands
from ..drawing.canvas import DASH, Canvas
from ..drawing.palette import BENCH, END, GUIDE, INK, MEASURE, PIN, RIM, TAIL
from ..drawing.still import Still
from ..drawing.view import fit
from .faults import edge_section

UP, THICK, LONG = 90.0, 18.0, 170.0  # mm: of the boards drawn; LONG is a bottom edge
TOOL = 9.0  # mm: width of a blade
WASTE = 26.0  # mm of wood beyond an end line
FRAMES = [(8 + 230 * cell, 60, 222 + 230 * cell, 270) for cell in range(4)]


class Cell:
    """One reading: outlines and lines in mm, placed together in a frame of a canvas."""

    def __init__(self, canvas: Canvas, frame: tuple[int, ...], title: str, words: tuple[str, ...]) -> None:
        self.canvas, self.frame = canvas, frame
        self.parts: list[tuple] = []
        middle = (frame[0] + frame[2]) / 2
        canvas.text(middle, frame[3] + 12, title, weight="bold", size=11, align="center")
        for row, line in enumerate(words):
            canvas.text(middle, 30 - 20 * row, line, align="center")

    def fill(self, colour: str, outline: Any) -> None:
        """An outline filled with a colour."""
        self.parts.append((self.canvas.polygons(fill=colour, edge=INK, width=1.2).set_verts, [outline]))

    def ink(self, lines: Any, colour: str = INK, width: float = 1.0, dash: Any = "solid") -> None:
        """Lines, each of points (n, 2)."""
        self.parts.append((self.canvas.lines(colour, width, dash).set_segments, lines))

    def measure(self, start: ArrayLike, end: ArrayLike, label: str, at: list[float], align: str = "center") -> None:
        """A measured length between two points, and its name at a place."""
        start, end = np.asarray(start, dtype=float), np.asarray(end, dtype=float)
        tick = 3 * (end - start)[::-1] * (-1, 1) / np.linalg.norm(end - start)
        self.ink([[start, end], [start - tick, start + tick], [end - tick, end + tick]], MEASURE, 2.2)
        text = self.canvas.text(0, 0, label, align=align, colour=MEASURE, weight="bold")
        self.parts.append((lambda places: text.set_position(places[0][0] - (0, 4)), [[at]]))

    def place(self) -> None:
        """Put everything into the frame, at one scale."""
        scale, shift = fit(np.vstack([part for _, parts in self.parts for part in parts]), self.frame, largest=1.6)
        for put, parts in self.parts:
            put([np.asarray(part) * scale + shift for part in parts])


def _box(left, bottom, right, top):
    return np.array([[left, bottom], [right, bottom], [right, top], [left, top]])


def _lean(canvas, corner):
    cell = Cell(canvas, FRAMES[0], "1 The lean", ("square on the flat board:", "measure rise and run"))
    section = edge_section(corner, THICK, "tail", corner.tail_rim_bevel, UP)
    foot, head = section[0], section[3]
    blade = min(foot[0], head[0])
    at = foot if head[0] < foot[0] else head  # where the blade stands off the face
    cell.fill(BENCH, _box(blade - 62, -10, section[:, 0].max() + 14, 0))
    cell.fill(TAIL, section)
    tip = head[1] + 16
    cell.fill(END, [[blade - 52, 0], [blade, 0], [blade, tip], [blade - TOOL, tip], [blade - TOOL, TOOL],
                    [blade - 52, TOOL]])
    level, named = (4, -5) if at is foot else (at[1], at[1] + 12)
    if abs(at[0] - blade) > 1:
        cell.measure([blade, level], [at[0], level], "run", [(blade + at[0]) / 2, named])
    cell.measure([blade - 22, 0], [blade - 22, head[1]], "rise", [blade - 27, head[1] * 0.62], "right")
    cell.ink([[[blade - 26, head[1]], head]], GUIDE, 1.0, (0, (1, 2)))
    cell.place()


def _end_line(canvas, corner):
    cell = Cell(canvas, FRAMES[1], "2 The end line", ("stock along the bottom edge,", "blade along the end line"))
    outline = flat_face(corner, "tail", UP, 120)
    low = min(0.0, outline[3, 0]) - WASTE
    waste = [[0, 0], [low, 0], [low, outline[3, 1]], outline[3]]  # the lines are read before the end is sawn
    cell.ink([waste], GUIDE, 1.2, DASH)
    cell.fill(TAIL, outline)
    cell.ink([outline[[0, 3]]], width=3.2)
    up = outline[3] / np.linalg.norm(outline[3])
    beside = np.array([-up[1], up[0]])
    cell.fill(END, np.array([0 * up, 1.12 * outline[3], 1.12 * outline[3] + TOOL * beside, TOOL * beside]))
    cell.fill(END, _box(-34, -13, 86, 0))
    cell.ink([[[0, 0], [0, 0.8 * UP]]], GUIDE, 1.4, DASH)
    turn = np.radians(np.linspace(0, corner.tail_end_line, 15))
    cell.ink([0.62 * UP * np.column_stack([-np.sin(turn), np.cos(turn)])], MEASURE, 2.2)
    text = canvas.text(0, 0, "from square", colour=MEASURE, weight="bold")
    cell.parts.append((lambda places: text.set_position(places[0][0] - (0, 4)), [[[6, 0.66 * UP]]]))
    cell.place()


def _tape(canvas, corner):
    cell = Cell(canvas, FRAMES[2], "3 With a tape alone", ("both edges and both diagonals", "of one outer face"))
    outline = flat_face(corner, "pin", UP, LONG)
    head = outline[3]
    corners = np.array([[0, 0], [LONG, 0], [LONG - head[0], head[1]], head])
    cell.fill(PIN, corners)
    clear = np.array([0, 9])
    cell.measure(*(corners[:2] - clear), "bottom edge", [LONG / 2, -21])
    cell.measure(*(corners[2:] + clear), "top edge", [LONG / 2, head[1] + 21])
    cell.ink([corners[[0, 2]], corners[[1, 3]]], MEASURE, 2.2)
    cell.place()


def _plan(canvas, corner):
    cell = Cell(canvas, FRAMES[3], "4 The plan angle", ("square held level in the corner,", "seen from above"))
    cell.fill(RIM, _box(-THICK, -THICK, 110, 0))
    cell.fill(RIM, _box(-THICK, 0, 0, 110))
    cell.fill(END, [[0, 0], [72, 0], [72, TOOL], [TOOL, TOOL], [TOOL, 84], [0, 84]])
    cell.ink([[[16, 9], [16, 16], [9, 16]]], MEASURE, 2.2)
    text = canvas.text(0, 0, "90°", colour=MEASURE, weight="bold")
    cell.parts.append((lambda places: text.set_position(places[0][0] - (0, 4)), [[[22, 24]]]))
    cell.place()


def readings_still(corner: Corner) -> Still:
    """Four readings at a trial corner of those leans, drawn where the tools are held.

    >>> import splaywork as sw
    >>> print(sw.readings_still(sw.Corner(16, 11)).words.partition(". ")[0])
    The tail board in the picture leans out 16°, and its end line is 10.6° from square
    """
    corner = one_corner(corner)
    canvas = Canvas(920, 300)
    for draw in (_lean, _end_line, _tape, _plan):
        draw(canvas, corner)
    words = (f"The tail board in the picture {stands(corner.tail_lean)}, and its end line is "
             f"{from_square(corner.tail_end_line)}. The first two drawings show how to read the lean with a square and the "
             "end line with a bevel. The dashed outline is the waste. The third drawing shows how to find the end lines at "
             "both ends of a board with a tape. The fourth shows how to check the plan angle.")
    return Still(lambda: canvas, words)
