"""A map over both leans: where is the shortcut good enough, for a tolerance, a board's width and a hand that sets a bevel?"""

from typing import TypeAlias, cast

import numpy as np
from contourpy import contour_generator

from ..common.boards import BOARDS
from ..common.printing import degrees, fine, off, typed
from ..common.tolerances import SAME_GAP
from ..corner.corner import Corner, one_corner
from ..corner.picture import HEAVY, LIGHT, MEDIUM, NUMBERS
from ..drawing.canvas import DASH, Canvas, OnCanvas
from ..drawing.labels import stacked
from ..drawing.palette import BENCH, END, GUIDE, INK, SHORTCUT, TAIL_INNER, WHITE
from ..drawing.still import Still
from ..drawing.view import on_circle
from .one_gauge import MOST_LEAN, SETTING_LIMIT, TOLERANCES, OneGauge, good_enough
from .words import gap_beside, is_exact, say_good_enough

BEYOND = (1.0, 2.0, 5.0)  # mm: further lines, so that the map says something of strong corners too
BANDS = (BENCH, END, TAIL_INNER)  # beyond each tolerance; each darker than the one before, in greyscale too
TICKS = (0, 15, 30, 45)
LINE = 17  # pixels from one label to the next
_Filled: TypeAlias = tuple[list[np.ndarray], list[np.ndarray]]  # what "OuterOffset" gives: outlines, and where holes begin


class GaugeMapPicture(OnCanvas):
    """The map on the left, one corner's numbers on the right: 920 × 400 pixels."""

    WIDTH, HEIGHT = 920, 400
    MAP = (62, 42, 402, 382)  # left, bottom, right, top

    def __init__(self) -> None:
        self.canvas = Canvas(self.WIDTH, self.HEIGHT)
        left, bottom, right, top = self.MAP
        frame = [(left, bottom), (right, bottom), (right, top), (left, top)]
        self.canvas.polygons().set_verts([frame])
        self._bands = [self.canvas.polygons(fill=band) for band in BANDS]
        self._beyond = self.canvas.lines(width=0.6)
        self._fixed = self.canvas.lines(width=LIGHT)
        self._chosen = self.canvas.lines(width=HEAVY)
        self._outgrown = self.canvas.lines(SHORTCUT, MEDIUM, DASH)
        self._leaders = self.canvas.lines(GUIDE, 0.9, (0, (1, 2)))  # dotted grey: no contour looks so
        self._ends = self.canvas.polygons(fill=INK)
        self._drop = self.canvas.lines(width=LIGHT, dash=(0, (1, 2)))
        self.canvas.lines().set_segments([[*frame, frame[0]]])
        self._halo = self.canvas.polygons(fill=WHITE, edge=INK, width=1.2)
        self._point = self.canvas.polygons(fill=SHORTCUT)
        self._labels = [self.canvas.text(0, 0) for _ in range(len(TOLERANCES + BEYOND) + 1)]
        self._angle = self.canvas.text(0, 0, align="center", colour=SHORTCUT, weight="bold")
        self._draw_axes()
        self._draw_column()

    def _draw_axes(self):
        left, bottom, right, top = self.MAP
        ticks = []
        for tick in TICKS:
            x, y = self._place(tick, tick)
            self.canvas.text(x, bottom - 22, degrees(tick, 0), align="center")
            self.canvas.text(left - 12, y - 4, degrees(tick, 0), align="right")
            ticks += [[(x, bottom), (x, bottom - 4)], [(left, y), (left - 4, y)]]
        self.canvas.lines(width=LIGHT).set_segments(ticks)
        self.canvas.text((left + right) / 2, bottom - 38, "tail lean", align="center", weight="bold")
        self.canvas.text(left - 8, (bottom + top) / 2 - 12, "lean", align="right", weight="bold")
        self.canvas.text(left - 8, (bottom + top) / 2 + 3, "pin", align="right", weight="bold")

    def _draw_column(self):
        """The right-hand side: the corner's numbers, and what each line means."""
        x = 494
        self.canvas.text(x, 374, "This corner", weight="bold", size=11)
        self._numbers, self._words = [], []
        for row, meaning in enumerate(("tail lean", "pin lean", "", "error of the worse shortcut line",
                                       "your limit for setting a bevel")):
            y = 350 - 22 * row
            self._numbers.append(self.canvas.text(x + 56, y, align="right", weight="bold", size=NUMBERS))
            self._words.append(self.canvas.text(x + 64, y, meaning))
        self._verdict = self.canvas.text(x, 230, weight="bold", size=11)
        self.canvas.text(x, 196, "On the map", weight="bold", size=11)
        key = [(INK, HEAVY, "solid"), (INK, LIGHT, "solid"), (SHORTCUT, MEDIUM, DASH), None]
        self._key = []
        for row, style in enumerate(key):
            y = 172 - 22 * row
            if style:
                colour, width, dash = style
                self.canvas.lines(colour, width, dash).set_segments([[(x, y + 4), (x + 24, y + 4)]])
            else:
                self.canvas.polygons(fill=WHITE, edge=INK, width=1.2).set_verts([_disc((x + 12, y + 4), 7)])
                self.canvas.polygons(fill=SHORTCUT).set_verts([_disc((x + 12, y + 4), 4)])
            self._key.append(self.canvas.text(x + 34, y))
        self._key[1].set_text("other gaps")
        self._key[3].set_text("this corner")
        self._shades = []
        for number, fill in enumerate((WHITE, *BANDS)):
            left, y = x + 196 * (number % 2), 78 - 22 * (number // 2)
            swatch = [(left, y - 3), (left + 24, y - 3), (left + 24, y + 11), (left, y + 11)]
            self.canvas.polygons(fill=fill, edge=INK, width=0.6).set_verts([swatch])
            self._shades.append(self.canvas.text(left + 34, y))
        self.canvas.text(x, 32, "Below and left of a line, the gap or the error is smaller.")
        self.canvas.text(x, 10, "The three tolerances are our opinion. There is no standard.", colour=GUIDE)

    def _place(self, tail_lean, pin_lean):
        """Pixels (..., 2) of a point on the map, leans in degrees."""
        left, bottom, right, top = self.MAP
        return np.stack([left + (right - left) * np.asarray(tail_lean) / MOST_LEAN,
                         bottom + (top - bottom) * np.asarray(pin_lean) / MOST_LEAN], axis=-1)

    def update(self, corner: Corner, width: float = 100.0, tolerance: float = 0.2, setting_limit: float = SETTING_LIMIT,
               unit: str = "mm") -> None:
        """Draw the map, and a corner (single leans, 0…45 degrees) on it.

        width: mm up the face of the boards; tolerance: mm; setting_limit: degrees; `unit` to write lengths in.
        """
        self._unit = unit
        mapped = good_enough(width, tolerance, setting_limit, points=121)
        gaps = contour_generator(mapped.tail_lean, mapped.pin_lean, mapped.gap, fill_type="OuterOffset")
        fixed = [level for level in TOLERANCES + BEYOND if abs(level - tolerance) > SAME_GAP]
        curves = {level: self._curve(gaps, level) for level in (*fixed, tolerance)}
        for band, level in zip(self._bands, TOLERANCES, strict=True):
            outlines, _ = cast(_Filled, gaps.filled(level, np.inf))
            band.set_verts([self._place(*outline.T) for outline in outlines])
        for artist, levels in ((self._fixed, TOLERANCES), (self._beyond, BEYOND), (self._chosen, [tolerance])):
            artist.set_segments([curves[level] for level in levels if len(curves.get(level, ()))])
        outgrown = self._place(*mapped.outgrows_at.T)
        self._outgrown.set_segments([outgrown] if len(outgrown) else [])
        point = self._place(corner.tail_lean, corner.pin_lean)
        left, bottom, *_ = self.MAP
        self._drop.set_segments([[point, (left, point[1])], [point, (point[0], bottom)]])
        self._halo.set_verts([_disc(point, 8)])
        self._point.set_verts([_disc(point, 4)])
        self._label(curves, tolerance, outgrown, setting_limit)
        self._write(corner, width, tolerance, setting_limit)

    def _curve(self, gaps, level):
        """Pixels (n, 2) along which the gap is `level` mm; none where it is never so wide."""
        lines = gaps.lines(level)
        return self._place(*lines[0].T) if lines else np.empty((0, 2))

    def _label(self, curves, tolerance, outgrown, setting_limit):
        """Name each line at the map's right edge, by a leader from where it crosses the diagonal."""
        right = self.MAP[2]
        def short(level):
            return typed(level) if self._unit == "mm" and level in BEYOND else fine(level, self._unit)

        named = [(curve, short(level), INK, "bold" if level == tolerance else "normal")
                 for level, curve in curves.items() if len(curve)]
        spots = [_on_diagonal(curve, self.MAP) for curve, *_ in named]
        heights = stacked([spot[1] for spot in spots], LINE)
        leaders, labels = [], iter(self._labels)
        for (_, text, colour, weight), spot, height in zip(named, spots, heights, strict=True):
            leaders.append([spot, (right, spot[1]), (right + 10, height)])
            artist = next(labels)
            artist.set(position=(right + 14, height - 4), text=text, color=colour, fontweight=weight)
        self._name_the_angle(outgrown, setting_limit)
        self._leaders.set_segments(leaders)
        self._ends.set_verts([_disc(spot, 2.5) for spot in spots])
        for artist in labels:
            artist.set_text("")

    def _name_the_angle(self, outgrown, setting_limit):
        """Write the angle above the map, where its dashed line leaves it: it isn't one of the gaps beside the map."""
        shows = len(outgrown) > 0
        at = outgrown[outgrown[:, 1].argmax()] if shows else (0, 0)
        beside = max(at[0], self.MAP[0] + 24)  # clear of the axis's own number
        self._angle.set(text=degrees(setting_limit, 2) if shows else "", position=(beside, self.MAP[3] + 5))

    def _write(self, corner, width, tolerance, setting_limit):
        shortcut = OneGauge(corner)
        opens = max(shortcut.gap_over(width, board) for board in BOARDS)
        error = max(abs(shortcut.error(board)) for board in BOARDS)
        written, beyond = gap_beside(opens, tolerance, self._unit)
        number, unit = written.replace("less than", "<").rsplit(" ", 1)
        numbers = (degrees(corner.tail_lean), degrees(corner.pin_lean), number, off(error, "<"),
                   f"±{degrees(setting_limit, 2)}")
        if is_exact(corner):
            numbers, unit = (*numbers[:2], "none", "none", numbers[4]), ""
        for artist, text in zip(self._numbers, numbers, strict=True):
            artist.set_text(text)
        over = typed(width, self._unit)
        self._words[2].set_text(f"{unit} and a little more: the gap, in {over}" if beyond else
                                f"{unit}: the widest gap, in {over} of width".removeprefix(": "))
        allowed = fine(tolerance, self._unit)
        self._verdict.set_text(f"{'Good enough' if opens <= tolerance else 'Not good enough'} for a gap of {allowed}")
        self._key[0].set_text(f"gap {allowed}: your tolerance")
        self._key[2].set_text(f"error {degrees(setting_limit, 2)}: your limit, an angle")
        for artist, level, work in zip(self._shades, TOLERANCES, ("fine", "ordinary", "rough"), strict=False):
            artist.set_text(f"up to {fine(level, self._unit)}: {work}")
        self._shades[3].set_text("wider")


def gauge_map_still(corner: Corner, width: float = 100.0, tolerance: float = 0.2,
                    setting_limit: float = SETTING_LIMIT) -> Still:
    """The picture of `GaugeMapPicture.update` for these as a `Still`.

    >>> import splaywork as sw
    >>> print(sw.gauge_map_still(sw.Corner(16, 11)).words.partition(". ")[0])
    At 16° and 11° the shortcut leaves a gap of 0.75 mm in 100 mm of width
    """
    corner = one_corner(corner)
    picture = GaugeMapPicture()
    picture.update(corner, width, tolerance, setting_limit)
    return Still(lambda: picture.canvas, say_good_enough(corner, width, tolerance, setting_limit))


def _disc(centre, radius):
    """Outline (n, 2) of a disc in pixels."""
    turn = np.linspace(0, 2 * np.pi, 24, endpoint=False)
    return np.asarray(centre) + radius * on_circle(turn)


def _on_diagonal(curve, frame):
    """The point of a curve (n, 2) where both leans are equal."""
    return curve[np.argmin(abs((curve[:, 0] - frame[0]) - (curve[:, 1] - frame[1])))]
