"""A trial corner: as read beside as intended, with error bars; and what its gaps say, in section."""

from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
from matplotlib.collections import PolyCollection

from ..common.boards import BOARDS, other
from ..common.printing import degrees, gap, intended
from ..corner.picture import FACE_NAMES, FILLS, HEAVY, LIGHT, MEDIUM, NUMBERS, STUB, Pictorial
from ..corner.stubs import flat_face
from ..drawing.canvas import DASH, Canvas, OnCanvas
from ..drawing.lens import Magnifier, largest_step
from ..drawing.palette import BENCH, GUIDE, INK, SHORTCUT, WASTE, WHITE
from ..drawing.view import fit as _fit
from .faults import edge_section, end_bevel_from_gap, end_line_from_gap, end_section, rim_bevel_from_gap
from .words import told_apart

if TYPE_CHECKING:
    from ..corner.corner import Corner
    from .readings import Reading

SPANS = (0.5, 1, 2, 5, 10, 20, 40, 60, 80, 100, 150, 200)  # degrees either side of the intended angle on a scale
MAGNIFIED = (4, 8, 16, 32)  # times as large as on the face beside it
WIDER = (2, 5, 10, 20)  # times as wide as it is: a gap up the end


class EndLens(Magnifier):
    """The tops of a face's end lines, enlarged: as measured, as intended, and between which lines the reading may lie."""

    ROOMY, FULL = 0.15, 0.4  # of the frame's width: half of what the lines spread, where there is room to grow, and at most

    def __init__(self, canvas: Canvas, frame: tuple[int, ...], wood: str) -> None:
        super().__init__(frame)
        self._place = canvas.polygons(fill="none", edge=INK, width=LIGHT)
        self.artists: dict[str, Any] = {
            "paper": canvas.polygons(fill=WASTE), "wood": canvas.polygons(fill=wood, edge=INK),
            "band": canvas.polygons(fill=WHITE, edge=GUIDE, width=0.8),
            "intended": canvas.lines(GUIDE, MEDIUM, DASH), "read": canvas.lines(INK, HEAVY)}
        for artist in self.artists.values():
            canvas.clip(artist, np.reshape(frame, (2, 2)))
        self._border = canvas.polygons(fill="none", edge=INK, width=1.4)

    def update(self, centre: np.ndarray, reach: float, shapes: dict[str, np.ndarray], fit: bool) -> None:
        """Show what lies round `centre`, the lines' tops within `reach` to either side; hidden where no factor fits.

        shapes: what to draw by its name, outlines and lines (n, 2). All are pixels of the drawing. fit: False to enlarge as
        before, or as much less as keeps the lines in; else there is room for what grows.
        """
        frame = self.window.outline()
        size = frame[2] - frame[0]
        roomy, full = (largest_step(share * size[0] / reach, MAGNIFIED, 0) for share in (self.ROOMY, self.FULL))
        self.look_at(centre, frame[0] + size * (0.5, 0.75), roomy if fit else min(full, self.magnification))
        for artist in (self._border, self._place, *self.artists.values()):
            artist.set_visible(self.magnification > 0)
        if self.magnification:
            self._border.set_verts([frame])
            self._place.set_verts([self.place()])
            self.artists["paper"].set_verts([frame])
            for name, points in shapes.items():
                artist = self.artists[name]
                put = artist.set_verts if isinstance(artist, PolyCollection) else artist.set_segments
                put([self.enlarged(points)])


class ReadFace:
    """One outer face laid flat: the end line as measured, the one intended, and a lens over the place where they part."""

    def __init__(self, canvas: Canvas, board: str, frame: tuple[int, ...], lens: tuple[int, ...],
                 column: tuple[int, ...]) -> None:
        self.board, self.frame = board, frame
        wood = FILLS[board]["outer"]
        self._wood = canvas.polygons(fill=wood, edge=INK)
        self._square = canvas.lines(GUIDE, LIGHT, (0, (1, 2)))
        self._intended = canvas.lines(GUIDE, MEDIUM, DASH)
        self._read = canvas.lines(INK, HEAVY)
        self.lens = EndLens(canvas, lens, wood)
        left, top = column
        canvas.text(left, top, FACE_NAMES[board], weight="bold", size=11)
        rows = [(INK, HEAVY, "solid", "measured"), (GUIDE, MEDIUM, DASH, "intended"), (None, 0, "", "read to ±")]
        self._numbers = []
        for row, (colour, width, dash, label) in enumerate(rows):
            y = top - 26 - 22 * row
            if colour:
                canvas.lines(colour, width, dash).set_segments([[(left, y + 4), (left + 26, y + 4)]])
            else:
                canvas.polygons(fill=WHITE, edge=GUIDE, width=0.8).set_verts(
                    [[(left, y - 2), (left + 26, y - 2), (left + 26, y + 10), (left, y + 10)]])
            self._numbers.append(canvas.text(left + 104, y, align="right", weight="bold", size=NUMBERS))
            canvas.text(left + 112, y, label)
        self._times = canvas.text(left, top - 92, colour=GUIDE)

    def update(self, measured: Any, height: float, fit_lens: bool) -> None:
        """Draw the face for a `TrialCorner` with its intended corner; height in mm, of the box intended."""
        board, aim = self.board, measured.intended
        read = getattr(measured, f"{board}_end_line")
        within = measured.resolution[BOARDS.index(board)]
        wanted = aim.end_line(board)
        up = aim.slant_width(height, board)
        lines = np.array([read, wanted, *np.clip([read - within, read + within], -89, 89)])
        heads = -up * np.tan(np.radians(lines))
        length = STUB + max(0, *heads[:2])
        hand = np.array([1 if board == "tail" else -1, 1])
        outline = flat_face(measured.corner, board, up * np.cos(np.radians(measured.corner.lean(board))), length)
        seen = np.vstack([outline, [[heads[1], up]], [[-0.1 * up, 0]]])
        scale, shift = _fit(seen * hand, self.frame, largest=1.0)

        def place(points):
            return np.asarray(points) * hand * scale + shift

        foot = np.zeros(2)
        shapes = {"wood": place(outline), "intended": place([foot, [heads[1], up]]), "read": place([foot, [heads[0], up]]),
                  "band": place([foot, [heads[2], up], [heads[3], up]])}
        self._square.set_segments([place([foot, [0, up]])])
        self._wood.set_verts([shapes["wood"]])
        self._intended.set_segments([shapes["intended"]])
        self._read.set_segments([shapes["read"]])
        middle, spread = place([(heads.min() + heads.max()) / 2, up]), max(heads.max() - heads.min(), 1e-9)
        self.lens.update(middle, spread / 2 * scale, shapes, fit_lens)
        factor = self.lens.magnification
        self._times.set_text(f"magnified {factor} ×" if factor else "")
        for artist, number in zip(self._numbers, (intended(read), degrees(wanted), intended(within)), strict=True):
            artist.set_text(number)


class ErrorBar:
    """A scale of degrees: the intended angle in its middle, and the measured one with the worst case as its bar."""

    def __init__(self, canvas: Canvas, name: str, left: float, right: float) -> None:
        self.left, self.right = left, right
        canvas.text(left, 66, name, weight="bold", size=11)
        self._number = canvas.text(right, 66, align="right", weight="bold", size=NUMBERS)
        self._ticks = canvas.lines(GUIDE, LIGHT)
        self._intended = canvas.lines(GUIDE, MEDIUM, DASH)
        self._bar = canvas.lines(INK, HEAVY)
        self._point = canvas.polygons(fill=INK)
        self._labels = [canvas.text(0, 10, align=align, colour=GUIDE, size=NUMBERS)
                        for align in ("left", "center", "right")]

    def update(self, read: "Reading", wanted: float, fit_scale: bool) -> None:
        """read: a `Reading`; wanted: degrees. fit_scale: False to keep the scale, so that a bar that grows is seen to.

        A scale that is chosen has room for a bar that grows; one that is kept widens only for what leaves it.
        """
        reach = max(abs(read.low - wanted), abs(read.high - wanted))
        if fit_scale:
            self._span = next(span for span in SPANS if reach <= (0.25 if span <= 20 else 0.92) * span)
        span = self._span = next(span for span in SPANS if span >= self._span and reach <= 0.97 * span)

        def at(angle):
            return self.left + (self.right - self.left) * (0.5 + (angle - wanted) / span / 2)

        steps = wanted + span * np.linspace(-1, 1, 11)
        ticks = [[(at(step), 28), (at(step), 34 if i % 5 else 38)] for i, step in enumerate(steps)]
        self._ticks.set_segments([[(self.left, 28), (self.right, 28)], *ticks])
        self._intended.set_segments([[(at(wanted), 26), (at(wanted), 58)]])
        low, value, high = (at(angle) for angle in (read.low, read.value, read.high))
        self._bar.set_segments([[(low, 46), (high, 46)], [(low, 41), (low, 51)], [(high, 41), (high, 51)]])
        self._point.set_verts([[(value - 5, 46), (value, 40), (value + 5, 46), (value, 52)]])
        self._number.set_text(degrees(read.value))
        for label, angle in zip(self._labels, (wanted - span, wanted, wanted + span), strict=True):
            label.set_position((at(angle), 10))
            label.set_text(degrees(angle, 1))


class MeasuredPicture(OnCanvas):
    """A trial corner as measured, over the intended one: 920 × 400 pixels, the boards, their faces, and worst-case bars."""

    WIDTH, HEIGHT = 920, 400

    def __init__(self) -> None:
        self.canvas = Canvas(self.WIDTH, self.HEIGHT)
        self._boards = Pictorial(self.canvas, (8, 92, 318, 394), shortcut=False, names=False)
        self._faces = (ReadFace(self.canvas, "tail", (336, 252, 530, 382), (544, 252, 684, 392), (700, 376)),
                       ReadFace(self.canvas, "pin", (336, 98, 530, 228), (544, 98, 684, 238), (700, 222)))
        self.canvas.text(14, 84, "Bars: every angle that the readings allow", colour=GUIDE)
        places = {"tail": ("Tail lean", 14, 294), "pin": ("Pin lean", 320, 600), "dihedral": ("Dihedral", 626, 906)}
        self._bars = {name: ErrorBar(self.canvas, *place) for name, place in places.items()}

    def update(self, measured: Any, height: float = 120.0, thickness: float = 18.0, turn: float = 15.0, tilt: float = 25.0,
               fit: bool = True) -> None:
        """Draw a `TrialCorner` that has an intended corner. Lengths in mm; turn and tilt in degrees.

        fit: False to keep the scales and the lenses' magnifications.
        """
        intended, corner = measured.intended, measured.corner
        leans = [one.lean(board) for one in (intended, corner) for board in BOARDS]
        drawn = min(1.0, 3 * np.cos(np.radians(np.abs(leans).max())))  # a board that all but lies flat is cut short
        self._boards.update(corner, height * drawn, thickness, turn, tilt, outlined=intended)
        for face in self._faces:
            face.update(measured, height, fit)
        for board in BOARDS:
            self._bars[board].update(measured.lean(board), intended.lean(board), fit)
        self._bars["dihedral"].update(measured.dihedral, intended.dihedral, fit)


def _made(how, bevel):
    """"ripped to 8.0°", or "left square"."""
    return "left square" if abs(bevel) < 0.05 else f"{how} to {degrees(bevel)}"


class Name(NamedTuple):
    """Where a name stands: at (2,), mm; which side of it is there, as matplotlib aligns text, `clear` pixels away; and the room
    that it has, mm: where it is wider, it stays away."""

    at: Any
    align: str = "center"
    clear: float = 0.0
    room: float = float("inf")


class Sketch:
    """A section or a face with its gap: wood, the gap in red, and two lines of words, in a frame of a canvas.

    named: what stands where `update` says: the wood's outside and its inside. beside: pixels kept free for a name on the left.
    """

    def __init__(self, canvas: Canvas, frame: tuple[int, ...], title: str, largest: float,
                 named: tuple[str, ...] = ("outside", "inside"), beside: float = 0.0) -> None:
        left, bottom, right, top = frame
        self.canvas, self.frame, self.largest = canvas, (left + beside, bottom + 46, right, top - 26), largest
        self._ground = canvas.polygons(fill=BENCH, edge=GUIDE, width=LIGHT)
        self._wood = canvas.polygons(edge=INK, width=1.4)
        self._line = canvas.lines(INK, HEAVY)
        self._gap = canvas.polygons(fill=SHORTCUT, edge=SHORTCUT, width=0.8)  # over the line, or it hides a narrow gap
        middle = (left + right) / 2
        canvas.text(middle, top - 14, title, weight="bold", size=11, align="center")
        self._words = [canvas.text(middle, bottom + y, align="center", colour=colour)
                       for y, colour in ((26, SHORTCUT), (5, INK))]
        self._sides = [canvas.text(0, 0, side, align="center", colour=GUIDE) for side in named]

    def update(self, woods: Any, light: Any, words: tuple[str, ...], sides: Any, ground: Any = (), line: Any = ()) -> None:
        """woods: {colour: outline (n, 2) in mm}; light: the gap's outline; words: two lines of text under the sketch.

        sides: a `Name` for each of the two names, or None; ground: outline of what the wood stands on; line: a
        heavy line, (2, 2).
        """
        names = [side.at for side in sides if side]
        outlines = [np.asarray(outline, dtype=float) for outline in (*woods.values(), light, ground, line, names)
                    if len(outline)]
        scale, shift = _fit(np.vstack(outlines), self.frame, self.largest)
        for artist, outline in ((self._ground, ground), (self._gap, light)):
            artist.set_verts([np.asarray(outline) * scale + shift] if len(outline) else [])
        self._wood.set_verts([np.asarray(outline) * scale + shift for outline in woods.values()])
        self._wood.set_facecolor(list(woods))
        self._line.set_segments([np.asarray(line) * scale + shift] if len(line) else [])
        for artist, text in zip(self._words, words, strict=True):
            artist.set_text(text)
        for artist, side in zip(self._sides, sides, strict=True):
            artist.set_visible(side is not None and self.canvas.width_of(artist) < side.room * scale - 8)
            if side:
                away = {"left": side.clear, "right": -side.clear, "center": 0.0}[side.align]
                artist.set_horizontalalignment(side.align)
                artist.set_position(np.asarray(side.at) * scale + shift + (away, -4))


class FaultsPicture(OnCanvas):
    """Three gaps at a trial corner: under an edge, in an end, along the corner line; 920 × 280 pixels."""

    WIDTH, HEIGHT = 920, 280

    def __init__(self) -> None:
        self.canvas = Canvas(self.WIDTH, self.HEIGHT)
        self._edge = Sketch(self.canvas, (8, 4, 300, 278), "Under an edge, cut through", 4.5)
        self._end = Sketch(self.canvas, (314, 4, 606, 278), "Across the end, cut through", 4.5, beside=58)
        self._corner = Sketch(self.canvas, (620, 4, 912, 278), "Up the end, on the face", 1.2,
                              named=("outer face", ""))

    def update(self, corner: "Corner", edge: float, end: float, line: float, board: str = "tail", height: float = 120.0,
               thickness: float = 18.0, unit: str = "mm", fit: bool = True) -> None:
        """Draw the gaps of `board` at a scalar corner; all lengths in mm, written in `unit`.

        edge: under the inner arris, end: at the inner arris; each negative at the outer one. line: along the board,
        positive at the bottom and negative at the top. fit: False to draw that one as many times wider as before.
        """
        self._draw_edge(corner, edge, board, thickness, unit)
        self._draw_end(corner, end, board, thickness, unit)
        self._draw_line(corner, line, board, height, unit, keep=not fit)

    def _draw_edge(self, corner, size, board, thickness, unit):
        bevel = rim_bevel_from_gap(corner, thickness, size, board)
        section = edge_section(corner, thickness, board, bevel, up=max(36.0, 1.5 * thickness))
        left, right = section[:, 0].min() - 18, section[:, 0].max() + 18
        half = (right - left) / 2
        words = (_at(size, "under the inner arris", "under the outer arris", unit),
                 f"{_made('ripped', bevel)}, intended {intended(corner.lean(board))}")
        light = [*section[:2], [section[1, 0], 0], [section[0, 0], 0]] if size else ()
        self._edge.update({FILLS[board]["outer"]: section}, light, words,
                          [Name([left, -4.5], "left", 6, half), Name([right, -4.5], "right", 6, half)],
                          ground=[[left, -9], [right, -9], [right, 0], [left, 0]])

    def _draw_end(self, corner, size, board, thickness, unit):
        bevel = end_bevel_from_gap(corner, thickness, size)
        butted, seat = end_section(corner, thickness, bevel, max(36.0, 1.5 * thickness), board)
        ways = [arm[2] - arm[1] for arm in (butted, seat)]
        halfway = sum(ways) / np.linalg.norm(sum(ways))
        inside = butted[1] + 0.75 * np.linalg.norm(ways[0]) * halfway
        words = (_at(size, "at the inner arris", "at the outer arris", unit),
                 f"{_made('sawn', bevel)}, intended {degrees(corner.end_bevel)}")
        woods = {FILLS[other(board)]["outer"]: seat, FILLS[board]["outer"]: butted}
        light = [*butted[:2], [0, butted[1, 1]], [0, butted[0, 1]]] if size else ()
        outside = Name(np.array([seat[:, 0].min(), seat[:, 1].mean()]), "right", 6)
        self._end.update(woods, light, words, [outside, Name(inside)])

    def _draw_line(self, corner, size, board, height, unit, keep):
        up = corner.slant_width(height, board)
        cut = end_line_from_gap(corner, height, size, board)
        hand = np.array([1 if board == "tail" else -1, 1])
        end_line = flat_face(corner, board, height, STUB)[[0, 3]]
        fits = largest_step(0.2 * STUB / abs(size) if size else np.inf, WIDER)
        times = self._times = min(fits, self._times) if keep else fits
        opened = end_line + np.array([[max(size, 0), 0], [max(-size, 0), 0]]) * times
        face = np.array([opened[0], [STUB, 0], [STUB, up], opened[1]]) * hand
        free = float(opened[:, 0].max())  # from there on the face is whole at every height
        end_line = end_line * hand
        woods = {FILLS[other(board)]["outer"]: [*end_line, *(end_line[::-1] - hand * [14, 0])],
                 FILLS[board]["outer"]: face}
        drawn = f", {times} × wider" if size and times > 1 else ""
        says = told_apart(cut, corner.end_line(board)) if size else (degrees(cut),) * 2
        words = (_at(size, "at the bottom", "at the top", unit) + drawn, "cut at {}, intended {}".format(*says))
        light = [*end_line, *(opened[::-1] * hand)] if size else ()
        self._corner.update(woods, light, words, [Name(hand * [(free + STUB) / 2, 0.45 * up], room=STUB - free), None],
                            line=end_line)


def _at(size, where, otherwise, unit):
    """"1.20 mm under the inner arris", or "no gap"; size in mm, negative otherwise."""
    return f"{gap(abs(size), unit).replace('less than ', '< ')} {where if size > 0 else otherwise}" if size else "no gap"
