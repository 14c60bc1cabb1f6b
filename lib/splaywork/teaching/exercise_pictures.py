"""The drawings that belong to questions, for the screen and for the printed handout."""

from collections.abc import Callable
from dataclasses import dataclass
from math import radians, tan
from typing import TYPE_CHECKING

import numpy as np

from ..common.boards import BOARDS, other
from ..corner.corner import Corner
from ..drawing.canvas import DASH, Canvas
from ..drawing.palette import GUIDE, INK, PIN, TAIL

if TYPE_CHECKING:
    from .exercises.core import Asked

HEIGHT = 100.0  # mm, of the box on the drawing; its marks stand every 10 mm
_WOOD = {"tail": TAIL, "pin": PIN}


@dataclass(frozen=True)
class Figure:
    """A drawing for a kind of question: its size in pixels, draw(canvas, asked), and words(asked) that tell it."""

    size: tuple
    draw: Callable
    words: Callable


def _lines(asked):
    """Letter -> mm along the top edge at which that line ends, from square; the corner is on the right."""
    numbers = asked.numbers
    board, corner = numbers["board"], Corner(numbers["tail_lean"], numbers["pin_lean"])
    up, lean = corner.slant_width(HEIGHT, board), corner.lean(other(board))
    slants = (corner.end_line(board), lean, corner.end_line(other(board)), -corner.end_line(board))
    return {letter: up * tan(radians(slant)) for letter, slant in zip(numbers["order"], slants, strict=True)}


def _marks(start, low, high, scale, size=5):
    """Segments of marks every 10 mm on a level line, longer at every 50, through start (pixels) + low…high (mm)."""
    return [[start + np.array([at * scale, 0]), start + np.array([at * scale, -size * (2 if at % 50 == 0 else 1)])]
            for at in range(10 * int(np.ceil(low / 10)), int(high) + 1, 10)]


def _draw_four_lines(canvas, asked):
    numbers = asked.numbers
    corner, board = Corner(numbers["tail_lean"], numbers["pin_lean"]), numbers["board"]
    scale = min(canvas.width / 470, canvas.height / 186)
    base = 42 * canvas.height / 330
    wood = {each: canvas.polygons(_WOOD[each], INK, 1.2) for each in BOARDS}
    marks, square = canvas.lines(GUIDE, 1.0), canvas.lines(GUIDE, 1.0, DASH)
    heavy = canvas.lines(INK, 2.0)
    ticks, dashes, faces = [], [], []
    for left, each in zip((12, 122), BOARDS, strict=True):
        bottom = np.array([left * scale, base])
        top = bottom + np.array([0, HEIGHT * scale])
        out = HEIGHT * tan(radians(corner.lean(each)))
        faces.append([bottom, top + np.array([out * scale, 0])])
        dashes += [[bottom, top], [bottom, bottom + np.array([95 * scale, 0])]]
        ticks += [[top, top + np.array([95 * scale, 0])], *_marks(top, 0, 95, scale)]
        canvas.text(bottom[0], base - 16, f"{each} board's lean, {corner.lean(each):g}°", size=9)
    up = corner.slant_width(HEIGHT, board) * scale
    bottom = np.array([canvas.width - 136 * scale, base])
    top = bottom + np.array([0, up])
    low, high = min(_lines(asked).values()) - 14, max(_lines(asked).values()) + 10
    wood[board].set_verts([[end + np.array([at * scale, 0])
                            for end, at in ((bottom, low), (bottom, high), (top, high), (top, low))]])
    dashes += [[bottom, top]]
    ticks += [[top + np.array([low * scale, 0]), top + np.array([high * scale, 0])], *_marks(top, low, high, scale)]
    for letter, along in _lines(asked).items():
        end = top + np.array([along * scale, 0])
        faces.append([bottom, end])
        canvas.text(end[0], end[1] + 5, letter, size=11, align="center", weight="bold")
    for down, words in ((16, f"{board} board laid flat, seen from outside"), (30, "dashed: square; a mark every 10 mm")):
        canvas.text(bottom[0] + low * scale, base - down, words, size=9)
    marks.set_segments(ticks)
    square.set_segments(dashes)
    heavy.set_segments(faces)


def _words_of_four_lines(asked):
    lines = ", ".join(f"{letter} {abs(along):.0f} mm {'towards the corner' if along > 0 else 'away from it'}"
                      for letter, along in sorted(_lines(asked).items()))
    return (f"The leans of both boards, drawn over a height of {HEIGHT:g} mm, and the {asked.numbers['board']} board laid flat "
            f"with four lines from the bottom of the corner line. Along the top edge, from square, they end at: {lines}.")


FIGURES = {"four lines": Figure((860, 330), _draw_four_lines, _words_of_four_lines)}


def png_of(asked: "Asked") -> bytes:
    """The PNG of the drawing that belongs to an `Asked` with a figure."""
    canvas = Canvas(*FIGURES[asked.figure].size)
    FIGURES[asked.figure].draw(canvas, asked)
    return canvas.png()
