"""Close the corners: the box that the shortcut's ends really make, beside the intended one."""

from collections.abc import Callable, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any

import numpy as np

from ..common.boards import BOARDS
from ..common.printing import degrees, length, length_parts
from ..corner.picture import HEAVY, LIGHT, MEDIUM
from ..drawing.canvas import DASH, Canvas, OnCanvas
from ..drawing.lens import LARGE, OFF_GRID, Lens, Reading, tenths
from ..drawing.palette import BENCH, GUIDE, INK, MISS, SHORTCUT, WHITE
from ..drawing.sheets import Sheet, Sheets, back_to_front
from ..drawing.view import View
from ..drawing.view import fit as _fit
from .one_gauge import MOST_LEAN, OneGauge
from .words import say_closed

if TYPE_CHECKING:
    from ..common.text import Words

IN_TURN = ("tail", "pin", "tail", "pin")
OUTWARD = np.array([[0, -1, 0], [1, 0, 0], [0, 1, 0], [-1, 0, 0]])  # of the boards in turn, level
VIEW = View(bearing=246, tilt=22)
DASHED, ALIKE = "dashed: the intended rim", "too small to draw here: see the boards, right"
LOWER = "{} lower"
LEAST = 1e-6  # degrees: less is no angle, but the last digits of a computed one
EXACT = "the same box"
BAR = 54.0, 34.0  # pixels from the frame's lower right corner to the foot of the bar that shows the height
BAR_TALL = 110.0  # pixels: a bar of the intended height, at any scale of the box, so that little that is lost is seen
LEAST_LOWER = 1.0  # pixels by which a bar must be shorter for words of it
TOLD = 6.0  # pixels that a corner of the box must be out for the intended one to be drawn over it and told from it


def sheets_of(outlines: Any) -> list[Sheet]:
    """The boards of a box as whole `Sheet`s; outlines (4, 4, 3) as in `one_gauge.Round`."""
    return [Sheet.of(board, outline) for board, outline in zip(IN_TURN, outlines, strict=True)]


class StandingBox:
    """A box of four sheets on the bench, with a title and its height; `ghost` leaves room for another box's lines."""

    def __init__(self, canvas: Canvas, title: str, frame: tuple[int, ...], words: str, colour: str = INK) -> None:
        left, bottom, right, top = frame
        self.frame = left, bottom, right, top - 40
        canvas.text(left, top - 12, title, weight="bold", size=11, colour=colour)
        self.height = Reading(canvas, right - 130, top - 14, colour, LARGE)
        self.words = canvas.text(left, top - 32, words, colour=colour)
        self._bench = canvas.polygons(fill=BENCH)
        self.boards = Sheets(canvas)
        self.ghost = canvas.lines(GUIDE, LIGHT, DASH, edged=True)
        self.tall = canvas.lines(colour, HEAVY)  # its height alone, beside the box, where leaning hides that it sinks
        self._lost = canvas.polygons(fill=MISS, edge=MISS)
        self._full = canvas.lines(INK, LIGHT)

    def update(self, outlines: Any, height: float, unit: str, place: Callable, bench: np.ndarray, ghost: Sequence = (),
               full: float = 1.0) -> None:
        """Draw outlines (4, 4, 3) in mm; `place` maps to pixels, bench: (4, 3) mm; height in mm, written; full: the height
        that was intended."""
        number, name = length_parts(height, unit)
        self.height.set(number, f"{name} high")
        self._bench.set_verts([place(bench)])
        self.boards.update(back_to_front(sheets_of(outlines), VIEW), VIEW, place)
        self.ghost.set_segments([place(line) for line in ghost])
        foot = np.array([self.frame[2] - BAR[0], self.frame[1] + BAR[1]])
        ways = np.array([0, BAR_TALL / full])
        self.tall.set_segments([[foot, foot + height * ways], *([foot + end - (8, 0), foot + end + (8, 0)]
                                                                for end in (0 * ways, height * ways))])
        lost = full > height + 1e-6
        across = np.array([[-14, 0], [14, 0]])
        low, high = foot + height * ways + across, foot + full * ways + across
        self._lost.set_verts([np.concatenate([low, high[::-1]])] if lost else [])
        self._full.set_segments([high] if lost else [])


class EndOn:
    """A board seen end-on: where its face was to stand and where it stands, with a lens on its top edge."""

    def __init__(self, canvas: Canvas, board: str, frame: tuple[float, ...], lens: tuple[int, ...],
                 column: tuple[int, ...]) -> None:
        self.frame = frame
        self._plumb = canvas.lines(GUIDE, LIGHT, (0, (1, 2)))
        self.between = canvas.polygons(fill=MISS)
        self.intended = canvas.lines(INK, HEAVY)
        self.made = canvas.lines(SHORTCUT, MEDIUM)
        self.lens = Lens(canvas, lens, WHITE, between=True)
        left, top = column
        canvas.text(left, top, f"{board.capitalize()} boards, end-on", weight="bold", size=11)
        self.lean = Reading(canvas, left + 92, top - 36, SHORTCUT, LARGE)
        self.rows = [Reading(canvas, left + 92, top - 64 - 22 * row, colour, words=words)
                     for row, (colour, words) in enumerate(((INK, "intended"), (SHORTCUT, "further")))]
        self._sample_made = canvas.lines(SHORTCUT, MEDIUM)
        self._sample = np.array([[left - 6, top - 37], [left + 5, top - 21]])  # leaning: level, it would be read as a minus
        canvas.lines(INK, HEAVY).set_segments([self._sample - (0, 30)])

    def update(self, intended: Any, made: np.ndarray, leans: tuple[float, ...], unit: str, fit_lens: bool) -> None:
        """intended, made: the top edge, (outward, up) in mm from the bottom edge; leans: (intended, made) in degrees."""
        bottom_edge = np.zeros(2)
        tall = np.array([0, intended[1]])
        self.scale, shift = _fit(np.array([bottom_edge, tall, intended, made]), self.frame, largest=1.3)
        bottom_edge, tall, intended, made = (point * self.scale + shift for point in (bottom_edge, tall, intended, made))
        wedge = [np.array([bottom_edge, made, intended])] if abs(leans[0] - leans[1]) > LEAST else []
        self.between.set_verts(wedge)
        self._plumb.set_segments([[bottom_edge, tall]])
        self.intended.set_segments([[bottom_edge, intended]])
        self.made.set_segments([[bottom_edge, made]] if wedge else [])  # where it is right, no line is red
        self._sample_made.set_segments([self._sample] if wedge else [])
        self.lens.update((intended + made) / 2, np.linalg.norm(made - intended) if wedge else 0, self.scale, unit,
                         gap=wedge, edges=[np.array([bottom_edge, made])] * bool(wedge),
                         true=[np.array([bottom_edge, intended])], ahead=(0, -0.2), fit=fit_lens)
        self.lean.set(degrees(leans[1]), "lies flat" if abs(leans[1]) == 90 else "leans")
        self.rows[0].set(degrees(leans[0]))
        self.rows[1].set(tenths(abs(leans[1]) - abs(leans[0])), "further" if wedge else "off: exact")


def _placed(points, scale, shift):
    return VIEW.flat(points) * scale + shift


class CloseCornersPicture(OnCanvas):
    """The whole picture, 920 × 430 pixels: the two boxes on the left, on the right their boards seen end-on.

    Both boxes keep one scale at any leans, so that what widens or sinks is seen to.
    """

    WIDTH, HEIGHT = 920, 430

    def __init__(self) -> None:
        self.canvas = Canvas(self.WIDTH, self.HEIGHT)
        self.intended = StandingBox(self.canvas, "The intended box", (12, 222, 482, 422), "boards at their intended leans")
        self.made = StandingBox(self.canvas, "The box that the ends make", (12, 8, 482, 208), DASHED, SHORTCUT)
        self.ends = {board: EndOn(self.canvas, board, (506 + OFF_GRID, bottom + 62, 596, bottom + 182),
                                  (616, bottom + 52, 736, bottom + 192), (748, bottom + 180))
                     for board, bottom in (("tail", 222), ("pin", 8))}

    def update(self, corner: Any, unit: str = "mm", height: float = 120.0, tail_length: float = 440.0,
               pin_length: float = 380.0, apart: float = 0.0, fit: bool = True) -> None:
        """Draw the box that has this scalar corner four times, made with the true and with the shortcut lines.

        Height intended (vertical), bottom edges, and how far the boards are pulled apart at their corners, in mm; lengths are
        written in `unit`, of `printing.UNITS`. fit: False for the lenses to magnify as before.
        """
        shortcut = OneGauge(corner)
        intended = shortcut.go_round(height, tail_length, pin_length).true_outlines
        made = shortcut.closed_box(height, tail_length, pin_length)
        drawn = made + apart * OUTWARD[:, None]
        reach = height / np.cos(np.radians(MOST_LEAN)) + apart  # of a board that lies flat at the end of its slider
        box = np.concatenate([intended, drawn]).reshape(-1, 3)
        low, high = box.min(axis=0), box.max(axis=0)
        low[:2], high[:2] = np.minimum(low[:2], -reach), np.maximum(high[:2], np.array([tail_length, pin_length]) + reach)
        bench = np.array([[low[0], low[1], 0], [high[0], low[1], 0], [high[0], high[1], 0], [low[0], high[1], 0]])
        flat = VIEW.flat(np.concatenate([bench, bench + np.array([0, 0, height])]))
        heights = height, height * shortcut.height_factor
        scale, shift = _fit(flat, self.made.frame, largest=1)
        clear = np.linalg.norm(VIEW.flat(made) - VIEW.flat(intended), axis=-1).max() * scale > TOLD
        ghost = [outline[[2, 3]] for outline in intended] if clear and not apart else []
        boxes = (self.intended, intended, heights[0], ()), (self.made, drawn, heights[1], ghost)
        for standing, outlines, tall, lines in boxes:
            scale, shift = _fit(flat, standing.frame, largest=1)
            place = partial(_placed, scale=scale, shift=shift)
            standing.update(outlines, tall, unit, place, bench, lines, height)
        lower = heights[0] - heights[1]
        alike = (EXACT if np.allclose(made, intended, atol=1e-6) else
                 LOWER.format(length(lower, unit)) if lower / height * BAR_TALL > LEAST_LOWER else ALIKE)
        self.made.words.set_color(GUIDE if clear or apart else SHORTCUT)  # words of the dashes have the dashes' colour
        self.made.words.set_text("pulled apart at its corners" if apart else DASHED if clear else alike)
        for index, board in enumerate(BOARDS):
            true, shown = ((outlines[index][3] - outlines[index][0]) @ np.array([OUTWARD[index], [0, 0, 1]]).T
                           for outlines in (intended, made))
            self.ends[board].update(true, shown, (corner.lean(board), shortcut.closed_lean(board)), unit, fit)

    @staticmethod
    def words(corner: Any, unit: str = "mm", height: float = 120.0, tail_length: float = 440.0, pin_length: float = 380.0,
              apart: float = 0.0) -> "Words":
        """The picture's sentences."""
        return say_closed(corner, height, unit=unit)
