"""The projection drawn: boards on wedges with straightedge and pencil, the mark carried round, and the faces laid flat."""

from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from typing import TYPE_CHECKING, Any

import numpy as np

from ..common.hexahedra import FACES
from ..common.printing import degrees, intended, typed
from ..common.printing import length as printed_length
from ..common.tolerances import SAME_ANGLE
from ..drawing.canvas import DASH, Canvas, OnCanvas
from ..drawing.lens import Lens
from ..drawing.palette import BENCH, END, GUIDE, INK, MEASURE, RIM, SHORTCUT, STEEL, WASTE, WHITE
from ..drawing.scene import Scene, facets, ribbon
from ..drawing.view import View, bench_under, fit, on_circle
from .picture import FILLS
from .projection import Projection, pencil_at
from .projection_words import (
    AT_LEAN,
    CARRIED,
    FLAT,
    MARKS,
    ONTO_PIN,
    TOGETHER,
    front_angle,
    gap_in,
    refuse_bevels,
    tenths,
)
from .words import BASES

if TYPE_CHECKING:
    from ..drawing.scene import Facet
    from .corner import Corner

LARGE, PLAIN = 15.5, 11.0  # points: numbers to be read from the back of a room, and words
HEAVY, MEDIUM, LIGHT = 3.2, 2.2, 1.0
DRAWN = 5.4  # pixels that a pencilled line is wide on a board that stands in space
NUMBER_ROOM = 140  # pixels on either side of the lines, for the longest number
SPARE = 6.0  # pixels: where the wedge between two lines is wider, its edge is the shortcut line, and dashes only fray it
LEAST = 0.05  # mm: a line shorter than this isn't drawn
STAGE = (12, 50, 606, 470)  # of the picture: where the hands work
DOTS = (0, (1, 2))
# pixels to the mm of a face laid flat, always so at a plan angle of 90: growth is seen
SCALES = {FLAT: 2.15, AT_LEAN: 2.15, TOGETHER: 2.0}
# Inner faces are the darker ones. Order of the faces of a board whose outline is its outer face, see `hexahedra.FACES`.
# End grain is as pale as the edges, and a wedge is darker: nothing else has a wedge's colour.
SIDES = {"tail": ("outer", "inner", "bottom", "top", "top", "top"),
         "pin": ("outer", "inner", "top", "top", "top", "bottom")}


def solid(corners: np.ndarray, fills: list[str] | str) -> "list[Facet]":
    """Facets of a six-sided solid (8, 3), a fill for all or one for each face."""
    return facets(corners[FACES], [fills] * 6 if isinstance(fills, str) else fills)


def board_facets(corners: np.ndarray, board: str) -> "list[Facet]":
    """A board as facets, in the colours of its faces."""
    return solid(corners, [FILLS[board][name] for name in SIDES[board]])


def pencil_facets(parts: dict[str, np.ndarray]) -> "list[Facet]":
    """A pencil as facets: a pale point with a black tip, a dark shaft."""
    point = parts["point"]
    near = point[:, :1] + 0.3 * (point - point[:, :1])  # the lead, from the tip on
    wood = np.stack([near[:, 1], point[:, 1], point[:, 2], near[:, 2]], axis=1)
    return [*facets(near, [INK] * 6, 0), *facets(wood, [RIM] * 6, 0.6), *facets(parts["shaft"], [GUIDE] * 6, 0.6),
            *facets(parts["butt"], [WHITE], 0.6)]


@contextmanager
def layer(canvas: Canvas, kept: list) -> Iterator:
    """Put all artists that are made meanwhile into the list `kept`."""
    before = len(canvas.figure.artists)
    yield
    kept += list(canvas.figure.artists)[before:]


class BenchStage:
    """Both boards propped on the bench, a straightedge on one outer face, and the pencil that rides up it."""

    def __init__(self, canvas: Canvas) -> None:
        self._bench = canvas.polygons(fill=BENCH)
        self._scene = Scene(canvas)

    def update(self, projection: Projection, share: float, turn: float, tilt: float) -> None:
        """The pencil has climbed that share, 0 to 1, of the height; the view in degrees, from where both faces show."""
        view = View(bearing(projection) + turn, tilt)
        bench = bench_under(projection.standing * (1, 1, 0), 14)  # all that overhangs stands over it
        scale, shift = fit(view.flat(np.vstack([projection.reach, bench])), STAGE, largest=2.6)
        self.place = place = partial(_placed, view, scale, shift)
        shown = board_facets(projection.marked_board, projection.marked)
        shown += board_facets(projection.held_board, projection.held)
        for prop in (*projection.held_props, *projection.marked_props):
            shown += solid(prop, [END, END, WASTE, END, WASTE, END])
        shown += solid(projection.straightedge(share), STEEL)
        if share * projection.height > LEAST:
            drawn = np.array([projection.tip(0), projection.tip(share)])
            shown.append(ribbon(drawn, projection.faces[projection.marked][1].normal, DRAWN / scale))
        shown += pencil_facets(projection.pencil(share))
        self._bench.set_verts([place(bench)] if tilt > 0 else [])
        self.shown = shown
        self._scene.update(shown, view, place)


def _placed(view, scale, shift, points):
    return view.flat(points) * scale + shift


def bearing(projection: Projection) -> float:
    """Bearing of a viewer who sees the marked board's inner face, and a little less of the other one's outer face."""
    share = np.interp(projection.corner.plan_angle, (90, 135), (1.0, 1.1))  # in a wide corner, one could hide the other
    way = share * projection.way(projection.held, "outward") - projection.way(projection.marked, "outward")
    return float(np.degrees(np.arctan2(way[1], way[0])))


class CarriedStage:
    """The marked board alone, turned up: its bottom edge with the inner face, and its bottom edge with the outer face."""

    ACROSS = 0.3  # of the pencil's way: over the edge; the rest is up the outer face

    def __init__(self, canvas: Canvas) -> None:
        left, bottom, right, top = STAGE
        middle = (left + right) / 2
        self.frames = (left, bottom + 40, middle - 8, top), (middle + 8, bottom + 40, right, top)
        self._scenes = [Scene(canvas) for _ in self.frames]
        self._names = [canvas.text((frame[0] + frame[2]) / 2, bottom + 12, name, align="center", size=PLAIN, weight="bold")
                       for frame, name in zip(self.frames, ("inner face and bottom edge", "bottom edge and outer face"),
                                              strict=True)]

    def update(self, projection: Projection, share: float, turn: float, tilt: float) -> None:
        """Draw the two views, of one size; `tilt` is how far the viewer looks up at the bottom edge."""
        board, outward = projection.marked, projection.way(projection.marked, "outward")
        outer, inner = projection.faces[board]
        over, up = self._tips(projection, share)
        tip = over if up is None else up
        wood = projection.offcut
        hold = [np.array([0.0, 0.0, -0.5]) - 0.5 * outward, 0.8 * outward + np.array([0.0, 0.0, 0.2])]
        hold = [way + 0.6 * projection.way(board, "level") for way in hold]
        ends = [[projection.carried[0], np.zeros(3)], [np.zeros(3), projection.end_line[1]]]
        views, flats = [], []
        for side, way, places in zip((-1, 1), hold, ends, strict=True):  # seen from inside, then from outside
            seen_from = side * outward
            views.append(View(float(np.degrees(np.arctan2(seen_from[1], seen_from[0]))) + turn, -tilt))
            pencils = [np.vstack([part.reshape(-1, 3) for part in pencil_at(at, way).values()]) for at in places]
            flats.append(views[-1].flat(np.vstack([wood, *pencils])))
        largest = min(fit(flat, frame, largest=2.4)[0] for flat, frame in zip(flats, self.frames, strict=True))
        fits = [fit(flat, frame, largest=largest) for flat, frame in zip(flats, self.frames, strict=True)]
        edge = min(shift[1] for _, shift in fits)  # the foot of the corner is the origin: both at one height
        for number, (scene, view, (scale, shift)) in enumerate(zip(self._scenes, views, fits, strict=True)):
            shift = np.array([shift[0], edge])
            lines = [(np.array([projection.carried[0], over]), np.array([0.0, 0.0, -1.0]))]
            lines += [(projection.line, inner.normal)] if number == 0 else []
            lines += [(np.array([np.zeros(3), up]), outer.normal)] if number == 1 and up is not None else []
            shown = board_facets(wood, board) + [ribbon(line, normal, DRAWN / scale) for line, normal in lines
                                                  if np.linalg.norm(line[1] - line[0]) > 1e-6]
            if (number == 1) == (up is not None):
                shown += pencil_facets(pencil_at(tip, hold[number]))
            scene.update(shown, view, partial(_placed, view, scale, shift))

    def _tips(self, projection, share):
        """Where the pencil is on the bottom edge, and on the outer face once it has come so far, else None."""
        across = min(share / self.ACROSS, 1)
        inner, outer = projection.carried
        up = None if share <= self.ACROSS else (share - self.ACROSS) / (1 - self.ACROSS) * projection.end_line[1]
        return inner + across * (outer - inner), up


class FlatStage:
    """The marked board's outer face laid flat, with its end line; a bevel at the other board's lean; two bevels together.

    Coordinates on the face, mm: along the bottom edge from the foot into the board, and up the slope.
    """

    BLADE = 13.0  # mm that a blade is wide

    def __init__(self, canvas: Canvas) -> None:
        left, _, right, top = STAGE
        self._waste = canvas.waste()
        self._wood = canvas.polygons(edge=INK)
        self._blades = canvas.polygons(fill=STEEL, edge=INK, width=LIGHT)
        self._stocks = canvas.polygons(fill=END, edge=INK, width=LIGHT)
        self._square = canvas.lines(GUIDE, LIGHT, DOTS)
        self._arc = canvas.lines(GUIDE, 1.4)
        self._rest = canvas.lines(GUIDE, MEDIUM)  # the straight edge that both stocks lie on
        self._rest_text = canvas.text(0, 0, size=10, colour=GUIDE)
        self._end = canvas.lines(INK, HEAVY)
        self._sliver = canvas.polygons(fill=SHORTCUT, edge=SHORTCUT, width=0.7)
        self._struck = canvas.lines(SHORTCUT, MEDIUM, DASH)
        self._arrows = canvas.lines(MEASURE, 1.6)
        self._heads = canvas.polygons(fill=MEASURE)
        self._angle = canvas.text(0, 0, size=LARGE, weight="bold")
        self._offset = canvas.text(0, 0, size=LARGE, weight="bold", colour=MEASURE, align="center")
        self._base = canvas.text(0, 0, size=PLAIN, weight="bold", colour=MEASURE)
        self._gaps = [canvas.text(0, 0, size=LARGE, weight="bold", colour=SHORTCUT) for _ in "ab"]
        self.lenses: dict[int, list] = {}
        for side, x in ((1, left + 14), (-1, right - 194)):  # the blades lean to the right, to the left
            self.lenses[side] = []
            with layer(canvas, self.lenses[side]):
                lens = Lens(canvas, (x, top - 230, x + 180, top - 50), STEEL)
            self.lenses[side].append(lens)

    def update(self, projection: Projection, share: float, stage: str, unit: str) -> None:
        """Draw the face as far as the pencil has come; the bevel's line grows in its own stage."""
        board, corner = projection.marked, projection.corner
        hand = 1 if board == "tail" else -1  # outside, the tail board's end is on the left, the pin board's on the right
        up, angle, lean = projection.slope, corner.end_line(board), corner.lean(projection.held)
        ways = -np.tan(np.radians([angle, lean]))
        heads = up * ways if stage != FLAT else up * ways[[0, 0]]
        self.side = 1 if hand * heads[0] >= 0 else -1  # to which side of the picture the lines lean
        self._lay_out(stage, heads, up, hand)
        board_drawn = stage != TOGETHER
        end = share if stage == FLAT else 1.0
        struck = share if stage == AT_LEAN else 1.0
        low = heads.min()
        beyond = min(low, 0) - self._waste_wide if board_drawn else 0
        self._waste.set_verts([self.place([[beyond, 0], [0, 0], [heads[0], up], [beyond, up]])] if board_drawn else [])
        self._wood.set_verts([self.place([[0, 0], [self._far, 0], [self._far, up], [heads[0], up]])] if board_drawn else [])
        self._wood.set_facecolor(FILLS[board]["outer"])
        self._square.set_segments([self.place([[0, 0], [0, up]])])
        turn = np.radians(90 + np.linspace(0, angle, 24))
        self._arc.set_segments([self.place(0.55 * up * on_circle(turn))])
        self._end.set_segments([self.place([[0, 0], [heads[0] * end, up * end]])] if board_drawn and end > 0 else [])
        wide = abs(heads[1] - heads[0]) * self.scale >= SPARE
        self._end.set_zorder(self._sliver.get_zorder() + (1 if wide else -1) / 2000)  # over all but a narrow wedge
        self._struck.set_segments([self.place([[0, 0], [heads[1] * struck, up * struck]])]
                                  if stage == AT_LEAN and struck > 0 and not wide else [])
        apart = stage != FLAT and abs(heads[1] - heads[0]) > 1e-6 and struck > 0
        sliver = np.array([[0, 0], [heads[0] * struck, up * struck], [heads[1] * struck, up * struck]])
        self._sliver.set_verts([self.place(sliver)] if apart else [])
        blades = self._lay_bevels(stage, angle, lean, up)
        self._write_offset(stage, angle, unit)
        self._write_gap(stage, corner, board, ways * BASES[unit], unit)
        self._magnify(stage, ways * BASES[unit], unit, blades, sliver)

    def _lay_out(self, stage, heads, up, hand):
        """Choose scale and foot: the lines, the waste beside them and enough of the board are inside the stage."""
        left, bottom, right, top = STAGE
        low, high = min(0.0, heads.min()), max(0.0, heads.max())
        if stage == TOGETHER:
            reach = max(-low, high) + 1.6 * self.BLADE
            scale = min(SCALES[stage], (right - left - 236) / reach, (top - bottom - 40) / up / 1.04)
            x = left + 232 if self.side > 0 else right - 232
        else:
            room = right - left - 6 - 2 * NUMBER_ROOM
            scale = min(SCALES[stage], room / max(high - low, 1e-9), (top - bottom - 60) / up)
            self._waste_wide = NUMBER_ROOM / scale
            x = (self._waste_wide - low) * scale
            x = left + 3 + x if hand > 0 else right - 3 - x
            self._far = (right - left - 6) / scale - self._waste_wide + low
        foot = np.array([x, bottom + 34])
        self.scale, self._hand = scale, hand
        self.place = lambda points: np.asarray(points, dtype=float) * (hand * scale, scale) + foot

    def _lay_bevels(self, stage, angle, lean, up):
        """Lay the bevels: one at the lean on the waste's side, and for two together one at the end line; their blades."""
        out = -1.0 if lean >= 0 else 1.0  # the way along the edge that the line runs out
        bevels = ((lean, out), (angle, -out))[:{FLAT: 0, AT_LEAN: 1, TOGETHER: 2}[stage]]
        blades, stocks = [], []
        for setting, side in bevels:
            way, wide = -np.tan(np.radians(setting)), side * self.BLADE / np.cos(np.radians(setting))
            long = up * 1.04
            blades.append(self.place([[0, 0], [wide, 0], [long * way + wide, long], [long * way, long]]))
            near = 0.0 if stage == TOGETHER else -8.0 * side
            stocks.append(self.place([[near, -13], [64.0 * side, -13], [64.0 * side, 0], [near, 0]]))
        self._blades.set_verts(blades)
        self._stocks.set_verts(stocks)
        rest = [self.place([[-76.0, 0], [76.0, 0]])] if stage == TOGETHER else []
        self._rest.set_segments(rest)
        self._rest_text.set_text("straight edge" if rest else "")
        if rest:  # its name stands on the side to which the blades lean
            end = np.array((max if self.side > 0 else min)(rest[0].tolist()))
            self._rest_text.set_position(end + np.array([6 * self.side, -4]))
            self._rest_text.set_horizontalalignment("left" if self.side > 0 else "right")
        return blades

    def _inwards(self, text, at, gap=9):
        """Write a text beside a point of the face, `gap` pixels away on the side from which the lines lean."""
        text.set_position(self.place(at) - (self.side * gap, 6))
        text.set_horizontalalignment("right" if self.side > 0 else "left")

    def _write_offset(self, stage, angle, unit):
        """The end line as an offset: up a square line, then along."""
        base = BASES[unit]
        offset = -base * np.tan(np.radians(angle))
        arrows = [self.place([[0, 0], [0, base]])] if stage in (FLAT, AT_LEAN) else []
        if stage == FLAT and abs(angle) >= SAME_ANGLE:
            arrows.append(self.place([[0, base], [offset, base]]))
        self._arrows.set_segments(arrows)
        self._heads.set_verts([head for arrow in arrows for head in arrow_heads(arrow)])
        self._angle.set_text(intended(abs(angle)) if stage == FLAT else "")
        self._inwards(self._angle, [0, 0.42 * base])
        self._offset.set_text(printed_length(abs(offset), unit) if len(arrows) == 2 else "")
        self._inwards(self._offset, [0, base])
        self._base.set_text(f"{'100 mm' if unit == 'mm' else '4 in'} up" if stage in (FLAT, AT_LEAN) else "")
        self._inwards(self._base, [0, 0.76 * base])

    def _write_gap(self, stage, corner, board, marks, unit):
        """How far the shortcut line has left the end line, on the far side of the blade, with arrows from either side."""
        more, gap = gap_in(corner, board, unit) if stage != FLAT else (0.0, 0.0)
        for text, words in zip(self._gaps, (tenths(gap, unit), degrees(more)), strict=True):
            text.set_text(words if more >= SAME_ANGLE else "")
        if more < SAME_ANGLE:
            return
        base, out = BASES[unit], np.sign(marks[1] - marks[0])
        beyond = marks[1] + out * (self.BLADE / np.cos(np.arctan(marks[1] / base)) + 3)
        lines = [self.place([[marks[0] - out * 9, base], [marks[0], base]]), self.place([[beyond, base], [marks[1], base]])]
        upright = [self.place([[0, 0], [0, base]])] * (stage == AT_LEAN)
        self._arrows.set_segments(upright + lines)
        self._heads.set_verts([head for line in upright for head in arrow_heads(line)] + [one_head(line) for line in lines])
        for number, text in enumerate(self._gaps):
            text.set_position(self.place([beyond, base]) + np.array([self.side * 5, -6 - 24 * number]))
            text.set_horizontalalignment("left" if self.side > 0 else "right")

    def _magnify(self, stage, marks, unit, blades, sliver):
        for side, (*artists, lens) in self.lenses.items():
            shown = stage == TOGETHER and side == self.side and abs(marks[1] - marks[0]) > 1e-6
            for artist in artists:
                artist.set_visible(shown)
            if shown:
                gap = self.place([[mark, BASES[unit]] for mark in marks])
                lens.update(gap.mean(axis=0), abs(gap[1, 0] - gap[0, 0]), self.scale, unit, wood=blades,
                            gap=[self.place(sliver)] if len(self._sliver.get_paths()) else [])


def one_head(line: np.ndarray, long: float = 9.0, wide: float = 4.0) -> np.ndarray:
    """A triangle (3, 2), the head of an arrow at the end of a line (2, 2) in pixels."""
    way = (line[1] - line[0]) / max(np.linalg.norm(line[1] - line[0]), 1e-9)
    aside = wide * np.array([-way[1], way[0]])
    return np.array([line[1], line[1] - long * way + aside, line[1] - long * way - aside])


def arrow_heads(line: np.ndarray) -> list:
    """The heads (3, 2) at both ends of a line (2, 2) in pixels; none where there is no room for two."""
    return [one_head(line), one_head(line[::-1])] if np.linalg.norm(line[1] - line[0]) > 20 else []


class WhyColumn:
    """Why the slant changes: the same sideways run over the height, and over the longer slope of the face."""

    LEFT, RIGHT = 624.0, 908.0
    FEET = (262.0, 40.0)  # pixels: where the two triangles stand
    ROOM = (150.0, 160.0)  # pixels that each may be tall
    BESIDE = 88.0  # pixels that the height's number takes

    def __init__(self, canvas: Canvas) -> None:
        self._heading = canvas.text(self.LEFT, 452, size=PLAIN + 1, weight="bold")
        canvas.lines(GUIDE, 0.8).set_segments([[(614, 24), (614, 466)]])
        self._fills = canvas.polygons(edge="none")
        self._square = canvas.lines(GUIDE, LIGHT)
        self._front = canvas.lines(INK, MEDIUM)
        self._face = canvas.lines(INK, HEAVY)
        self._runs = canvas.lines(MEASURE, 1.6)
        self._heads = canvas.polygons(fill=MEASURE)
        self._titles = [canvas.text(self.LEFT, y, size=10) for y in (432, 228)]
        self._angles = [canvas.text(0, 0, size=LARGE, weight="bold", colour=colour) for colour in (GUIDE, INK)]
        self._run_texts = [canvas.text(0, 0, size=10.35, weight="bold", colour=MEASURE, align="center") for _ in "ab"]
        self._tall_texts = [canvas.text(0, 0, size=10.35, weight="bold", colour=GUIDE) for _ in "ab"]

    def update(self, projection: Projection, unit: str) -> None:
        """Draw both triangles at one scale, for the marked board."""
        board, run = projection.marked, projection.run
        same = abs(projection.slope - projection.height) < 1e-9  # the marked board is upright
        self._heading.set_text("Nothing slants here" if abs(run) < 1e-9 else "Here the slant stays the same" if same else
                               "Why the slant changes")
        hand = -1 if board == "tail" else 1  # a board longer at the top runs out on this side, seen from outside
        talls = projection.height, projection.slope
        angles = np.sign(run) * front_angle(projection), projection.slant
        scale = min(1.32, self.ROOM[1] / talls[1], self.ROOM[0] / talls[0], 150.0 / max(abs(run), 1e-9))
        out = hand * run * scale
        side = 1 if out >= 0 else -1
        spare = (self.RIGHT - self.LEFT - self.BESIDE - abs(out)) / 2
        middle = self.LEFT + self.BESIDE + spare if side > 0 else self.RIGHT - self.BESIDE - spare
        from_end = f"the {projection.held} board, seen from its end"  # so long as that is to look level at the marked board
        named = (from_end if projection.corner.plan_angle == 90 else f"looking level at the {board} board",
                 f"on the {board} board's face, laid flat")
        fills, runs, heads, squares = [], [], [], []
        lines = []
        for number, (tall, y) in enumerate(zip(talls, self.FEET, strict=True)):
            foot, top, head = np.array([[middle, y], [middle, y + tall * scale], [middle + out, y + tall * scale]])
            fills.append(np.array([foot, head, top]))
            squares.append(np.array([foot, top]))
            lines.append(np.array([foot, head]))
            runs.append(np.array([top, head]))
            heads += arrow_heads(runs[-1])
            self._titles[number].set_text(named[number])
            self._run_texts[number].set_text(printed_length(abs(run), unit))
            self._run_texts[number].set_position((middle + out / 2, top[1] + 6))
            self._tall_texts[number].set_text(typed(tall, unit))
            self._tall_texts[number].set_horizontalalignment("right" if side > 0 else "left")
            self._tall_texts[number].set_position((middle - side * 8, y + 0.5 * tall * scale))
            self._angles[number].set_text(intended(abs(angles[number])))
            self._angles[number].set_horizontalalignment("left" if side > 0 else "right")
            self._angles[number].set_position((middle + out * 0.5 + side * 12, y + 0.28 * tall * scale))
        self._fills.set_verts(fills)
        self._fills.set_facecolor([BENCH, FILLS[board]["outer"]])
        self._square.set_segments(squares)
        self._front.set_segments(lines[:1])
        self._face.set_segments(lines[1:])
        self._runs.set_segments(runs)
        self._heads.set_verts(heads)


def prop_name(projection: Projection) -> str:
    """What the boards are propped with: wedges, a "block" for an upright board, or both; the marked board hides its own."""
    marked, held = (abs(projection.corner.lean(board)) < SAME_ANGLE for board in (projection.marked, projection.held))
    if marked and held:
        return "block"
    return "pair of wedges" if marked else "wedge, block" if held else "wedge"


class ProjectionPicture(OnCanvas):
    """The picture of a stage, 920 × 480 pixels: the hands' work on the left, why the slant changes on the right."""

    WIDTH, HEIGHT = 920, 480

    def __init__(self) -> None:
        self.canvas = Canvas(self.WIDTH, self.HEIGHT)
        self._layers: dict[str, list] = {"bench": [], "carried": [], "flat": []}
        with layer(self.canvas, self._layers["bench"]):
            self.bench = BenchStage(self.canvas)
            self._key()
        with layer(self.canvas, self._layers["carried"]):
            self.carried = CarriedStage(self.canvas)
        with layer(self.canvas, self._layers["flat"]):
            self.flat = FlatStage(self.canvas)
        self.why = WhyColumn(self.canvas)
        self.projection: Any = None

    def _key(self):
        """What the colours are, under the bench."""
        x = 14.0
        for fill, words in ((FILLS["tail"]["outer"], "tail board"), (FILLS["pin"]["outer"], "pin board"),
                            (STEEL, "straightedge"), (END, "wedge")):
            self.canvas.polygons(fill=fill, edge=INK, width=LIGHT).set_verts([[(x, 14), (x + 22, 14), (x + 22, 30), (x, 30)]])
            self._prop_name = text = self.canvas.text(x + 29, 17, words, size=PLAIN)  # the last one names what props a board
            x += 29 + self.canvas.width_of(text) + 22

    def update(self, corner: "Corner", stage: str = ONTO_PIN, share: float = 1.0, marked: str = "pin", turn: float = 0.0,
               tilt: float = 20.0, unit: str = "mm", height: float = 100.0, thickness: float = 18.0) -> None:
        """Draw a stage of a scalar corner.

        share: how far the pencil has come, 0 to 1. marked: the board that the later stages show. turn and tilt of the view in
        degrees. height and thickness in mm. ValueError for a stage with a bevel where the plan angle isn't 90.
        """
        refuse_bevels(corner, stage)
        marked = MARKS.get(stage, marked)
        projection = Projection(corner, marked, height, thickness)
        if projection != self.projection:  # else it keeps what it has worked out, and only the pencil moves
            self.projection = projection
        projection = self.projection
        shown = "bench" if stage in MARKS else "carried" if stage == CARRIED else "flat"
        for name, artists in self._layers.items():
            for artist in artists:
                artist.set_visible(name == shown)
        if shown == "bench":
            self._prop_name.set_text(prop_name(projection))
            self.bench.update(projection, share, turn, tilt)
        elif shown == "carried":
            self.carried.update(projection, share, turn, tilt)
        else:
            self.flat.update(projection, share, stage, unit)
        self.why.update(projection, unit)
