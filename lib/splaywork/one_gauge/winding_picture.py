"""A leaning front with an upright back: the sides must wind (twist). The drawer, and winding sticks across the ends."""

from typing import TYPE_CHECKING

import numpy as np

from ..common.printing import degrees
from ..corner.picture import HEAVY, LIGHT, MEDIUM
from ..drawing.canvas import Canvas, OnCanvas
from ..drawing.lens import LARGE, OFF_GRID, Lens, Reading, largest_step, number_and_unit, tenths, times
from ..drawing.palette import BENCH, END, GUIDE, INK, SHORTCUT, WHITE
from ..drawing.sheets import EDGE, Sheet, Sheets
from ..drawing.view import View
from ..drawing.view import fit as _fit
from .one_gauge import OneGauge
from .words import say_winding

if TYPE_CHECKING:
    from ..common.text import Words
    from ..corner.corner import Corner

VIEW = View(bearing=238, tilt=18)
STRIPS = 12  # that a wound side is drawn as
RULING = 0.5  # points of line width between them
MOST_WIND, MOST_LEAN = 18, 62  # degrees to which the drawing exaggerates


class WoundDrawer:
    """The drawer with its winding exaggerated, and a winding stick across each end of the near side.

    A front that leans in cuts the side's top short: the front stick then stands where the side is whole again.

    Axes as in `formulas.corner`: the near side (a tail board) along +x from the front, the front (the pin board) along +y.
    """

    def __init__(self, canvas: Canvas, frame: tuple[float, ...]) -> None:
        self.frame = frame
        self._bench = canvas.polygons(fill=BENCH)
        self.boards = Sheets(canvas)
        self._stick_edges = canvas.lines(INK, 7)
        self._stick_fills = canvas.lines(END, 5)
        self.factor_words = canvas.text(frame[0], frame[1] - 24, colour=SHORTCUT)
        self._leaders = canvas.lines(GUIDE, LIGHT)
        self._names = {name: canvas.text(0, 0, f"{name} stick", align="center") for name in ("front", "back")}

    factor = None  # of the last picture shown

    def update(self, corner: "Corner", height: float, length: float, across: float, wind: float, stick: float,
               fit: bool) -> None:
        """Draw a drawer `length` deep and `across` wide at its bottom, mm; wind: degrees, before it is exaggerated.

        fit: False to exaggerate as before, so that a winding that grows is seen to grow.
        """
        room = min(MOST_WIND, MOST_LEAN - abs(corner.tail_lean))
        if fit or self.factor is None:
            self.factor = largest_step(room / abs(wind)) if wind else 1
        elif wind:
            self.factor = min(self.factor, room / abs(wind))
        share = np.linspace(0, 1, STRIPS + 1)[:, None]  # from the front to the back
        leans = np.radians(corner.tail_lean + self.factor * wind * (1 - share))
        up = corner.slant_width(height, "tail")
        rising = np.hstack([np.zeros_like(leans), -np.sin(leans), np.cos(leans)])
        ahead = np.array([-up * np.tan(np.radians(corner.pin_lean)), 0, 0]) * (1 - share)
        bottoms = np.hstack([length * share, np.zeros((STRIPS + 1, 2))])
        near = np.stack([bottoms, bottoms + up * rising + ahead], axis=1)  # (strips + 1, bottom and top, 3)
        far = near * (1, -1, 1) + (0, across, 0)
        front = np.array([far[0, 0], near[0, 0], near[0, 1], far[0, 1]])
        back = np.array([near[-1, 0], far[-1, 0], far[-1, 1], near[-1, 1]])
        sheets = [*_strips(far, near_side=False), Sheet.of("pin", back), *_strips(near, near_side=True),
                  Sheet.of("pin", front)]
        stands = bottoms[[0, -1]] + [[max(0, ahead[0, 0]), 0, 0], [0, 0, 0]]
        self.sticks = np.stack([stands, stands + stick * rising[[0, -1]]], axis=1)
        bench = np.array([[0, 0, 0], [length, 0, 0], [length, across, 0], [0, across, 0]])
        points = np.concatenate([near.reshape(-1, 3), far.reshape(-1, 3), self.sticks.reshape(-1, 3)])
        scale, shift = _fit(VIEW.flat(points), self.frame, largest=1)
        self.place = lambda points: VIEW.flat(points) * scale + shift
        self._bench.set_verts([self.place(bench)])
        inside = [sheet for sheet in sheets if sheet.normal @ VIEW.towards_viewer <= 0]
        outside = [sheet for sheet in sheets if sheet.normal @ VIEW.towards_viewer > 0]
        self.boards.update(inside + outside, VIEW, self.place)
        for artist in (self._stick_edges, self._stick_fills):
            artist.set_segments(self.place(self.sticks))
        tips = self.place(self.sticks[:, 1])
        furthest = max(tips[1][0], self.frame[0] + 130)
        names = {"front": np.clip(tips[0][0], self.frame[0] + 40, furthest - 90), "back": furthest}
        for name, x in names.items():
            self._names[name].set_position((x, self.frame[3] + 14))
        self._leaders.set_segments([[(x, self.frame[3] + 8), tip] for x, tip in zip(names.values(), tips, strict=True)])
        self.factor_words.set_text(f"winding drawn {times(self.factor)} as large" if self.factor > 1 else
                                   "winding drawn as it is")


def _strips(lines, near_side):
    """The sheets of a wound side, from the back to the front; lines (n, 2, 3) across it, bottom and top."""
    sheets = []
    for index in range(len(lines) - 2, -1, -1):
        at_back, at_front = (EDGE if end else RULING for end in (index == len(lines) - 2, index == 0))
        (bottom, top), (back_bottom, back_top) = lines[index:index + 2]
        if near_side:
            sheets.append(Sheet.of("tail", [bottom, back_bottom, back_top, top], (EDGE, at_back, EDGE, at_front)))
        else:
            sheets.append(Sheet.of("tail", [back_bottom, bottom, top, back_top], (EDGE, at_front, EDGE, at_back)))
    return sheets


class Sighting:
    """The two sticks sighted along the side, from the front: they agree at the bottom tip, and open towards the top.

    A lens shows the top tips; nothing but the lens magnifies.
    """

    def __init__(self, canvas: Canvas, frame: tuple[float, ...], lens: tuple[int, ...]) -> None:
        self.frame = frame
        self.back = canvas.lines(INK, HEAVY)
        self.between = canvas.polygons(fill=SHORTCUT, edge=SHORTCUT, width=0.7)  # over the line, or it hides a narrow gap
        self.front = canvas.lines(SHORTCUT, MEDIUM)
        self.lens = Lens(canvas, lens, WHITE)

    def update(self, leans: tuple[float, ...], stick: float, unit: str, fit_lens: bool) -> None:
        """leans: of the side at the front and at the back, degrees; stick: mm."""
        bottom = np.zeros(2)
        front, back = (stick * np.array([np.sin(lean), np.cos(lean)]) for lean in np.radians(leans))
        self.scale, shift = _fit(np.array([bottom, front, back]), self.frame, largest=1)
        bottom, front, back = (point * self.scale + shift for point in (bottom, front, back))
        way = (back - bottom) / np.linalg.norm(back - bottom)
        square = bottom + way * (way @ (front - bottom))  # on the back stick, square to it from the front stick's tip
        shows = np.linalg.norm(front - square)
        wedge = [np.array([bottom, front, square])] if shows > 1e-9 else []
        self.between.set_verts(wedge)
        self.back.set_segments([[bottom, back]])
        self.front.set_segments([[bottom, front]])
        self.lens.update((front + square) / 2, shows if wedge else 0, self.scale, unit, gap=wedge,
                         true=[np.array([bottom, back])], ahead=(0, -0.2), fit=fit_lens)


class WindingPicture(OnCanvas):
    """The whole picture, 920 × 430 pixels: the drawer on the left, the winding sticks sighted on the right."""

    WIDTH, HEIGHT = 920, 430

    def __init__(self) -> None:
        self.canvas = Canvas(self.WIDTH, self.HEIGHT)
        self.drawer = WoundDrawer(self.canvas, (12, 40, 500 + OFF_GRID, 390))
        self.sighting = Sighting(self.canvas, (556 + OFF_GRID, 190, 676, 376), (700, 236, 840, 376))
        self.canvas.text(556, 404, "The sticks, sighted from the front", weight="bold", size=11)
        self.shows = Reading(self.canvas, 640, 138, SHORTCUT, LARGE)
        rows = ((SHORTCUT, "the side, at the front corner"), (INK, "the side, at the back corner"),
                (SHORTCUT, "of winding over the side"))
        self.rows = [Reading(self.canvas, 640, 106 - 24 * row, colour, words=words)
                     for row, (colour, words) in enumerate(rows)]

    def update(self, corner: "Corner", unit: str = "mm", height: float = 120.0, length: float = 440.0, across: float = 380.0,
               stick: float = 300.0, fit: bool = True) -> None:
        """Draw the drawer whose front corners are this scalar corner, its back upright, all struck with the shortcut.

        Height, bottom edges of the sides (`length`) and of the front (`across`), and the winding sticks, in mm; lengths
        are written in `unit`, of `printing.UNITS`. fit: False to enlarge as before. ValueError where the front corners can't
        stand.
        """
        shortcut = OneGauge(corner)
        winding = shortcut.winding(length, stick)
        leans = shortcut.closed_lean("tail"), corner.tail_lean
        self.drawer.update(corner, height, length, across, winding.wind, stick, fit)
        self.sighting.update(leans, stick, unit, fit)
        number, name = number_and_unit(winding.stick_shows, unit)
        self.shows.set(number, f"{name} at the top tips")
        for row, angle in zip(self.rows, leans, strict=False):
            row.set(degrees(angle))
        self.rows[2].set(tenths(winding.wind))

    @staticmethod
    def words(corner: "Corner", unit: str = "mm", height: float = 120.0, length: float = 440.0, across: float = 380.0,
              stick: float = 300.0) -> "Words":
        """The picture's sentence."""
        return say_winding(corner, length, stick, unit)
