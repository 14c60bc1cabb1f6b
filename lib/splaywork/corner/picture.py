"""One corner on one canvas: the two boards on the bench, and their outer faces laid flat."""

from typing import TYPE_CHECKING, Any

import numpy as np

from ..common.boards import BOARDS, other
from ..common.hexahedra import FACES
from ..common.printing import degrees, off, offset_parts
from ..common.tolerances import ROUNDING
from ..drawing.canvas import DASH, Canvas, OnCanvas
from ..drawing.palette import BENCH, END, GUIDE, INK, MISS, PIN, PIN_INNER, RIM, SHORTCUT, TAIL, TAIL_INNER
from ..drawing.view import View, bench_under, facing, fit, on_circle
from .stubs import flat_face, stubs
from .words import Miss

if TYPE_CHECKING:
    from .corner import Corner
    from .stubs import Block

FILLS = {
    "tail": {"outer": TAIL, "inner": TAIL_INNER, "far end": END, "top": RIM, "bottom": RIM},
    "pin": {"outer": PIN, "inner": PIN_INNER, "far end": END, "top": RIM, "bottom": RIM},
}
FACE_NAMES = {"tail": "Tail board, outer face", "pin": "Pin board, outer face"}
STUB = 130  # mm of inner face shown on each board, and of bottom edge left on each flat face
NUMBERS = 10.35  # points: the size at which a digit is 10 pixels wide
HEAVY, MEDIUM, LIGHT = 3.2, 2.2, 1.0
SAMPLE = 26  # pixels: two dashes of a medium line, for a key
TRIED = 24  # points of a leader
BESIDE, STEP = 6.0, 9.0  # pixels between a name beside the wood and the wood, and from one place that is tried to the next
NAME_ROOM = 4.0  # pixels between a board's name and any line
_ACROSS, _UP = (part.ravel()[:, None] for part in np.meshgrid(np.linspace(0.1, 0.9, 17), np.linspace(0.15, 0.85, 8)))
# where a name may stand on a four-cornered face: each spot as shares of the four corners, (spots, 4)
_SPOTS = np.hstack([(1 - _ACROSS) * (1 - _UP), _ACROSS * (1 - _UP), _ACROSS * _UP, (1 - _ACROSS) * _UP])


def bearing(corner: "Corner", turn: float) -> float:
    """Bearing of a viewer who stands `turn` degrees round from facing the corner squarely, outside the box."""
    return corner.plan_angle / 2 + 180 + turn


def edges_to_ink(block: "Block") -> list[list]:
    """Index pairs of each face's drawn edges: all but those in the seam, where the two boards are one solid."""
    rims = [(corner, (corner + 1) % 4) for corner in range(4)]
    faces = FACES.tolist()
    seam_face = faces[block.names.index("corner")]
    seam = {frozenset(pair) for pair in ((i, i + 4) for i in range(4)) if set(pair) <= set(seam_face)}
    return [[(face[i], face[j]) for i, j in rims if frozenset((face[i], face[j])) not in seam] for face in faces]


class Pictorial:
    """The two boards standing on the bench, seen from any side, in a frame of a canvas.

    After `update`, `place` maps points (..., 3) in mm to pixels (..., 2).
    """

    def __init__(self, canvas: Canvas, frame: tuple, shortcut: bool = True, names: bool = True, beside: bool = True) -> None:
        self.frame, self.shortcut, self.names, self.beside = frame, shortcut, names, beside
        self._bench = canvas.polygons(fill=BENCH)
        self._solids = {}
        for layer in (0, 1):  # the further board, then the nearer one
            self._solids[layer] = canvas.polygons(), canvas.lines(width=LIGHT)
        self._outlines = canvas.lines(GUIDE, 1.6, DASH)
        self._hidden = canvas.lines(width=LIGHT, dash=DASH)
        self._corner = canvas.lines(width=HEAVY)
        self._struck = canvas.lines(SHORTCUT, MEDIUM, DASH, edged=True)  # it may cross the pin board's inner face
        self._names = {board: canvas.text(0, 0, f"{board} board", align="center") for board in BOARDS}
        self._name_reach = name_reach(canvas, self._names.values())
        self._leaders = canvas.lines(GUIDE, LIGHT)

    @property
    def unnamed(self) -> dict[str, bool]:
        """The boards whose name found no room, and whether the outer face of each is seen."""
        return {board: self._outer_seen[board] for board, name in self._names.items() if not name.get_visible()}

    def update(self, corner: "Corner", height: float, thickness: float, turn: float, tilt: float,
               outlined: "Corner | None" = None) -> None:
        """Draw the corner: height and thickness in mm, turn and tilt of the view in degrees.

        outlined: another corner with the same foot, whose outer faces are drawn over the boards as dashed outlines.
        """
        view = View(bearing(corner, turn), tilt)
        joined = stubs(corner, height, thickness, STUB)
        beside = joined if outlined is None else stubs(outlined, height, thickness, STUB)
        struck = np.array([self._struck_line(corner, board, height) for board in BOARDS])
        outlines = np.array([getattr(beside, board).faces[0] for board in BOARDS])
        over = struck if outlined is None else outlines
        solids = [block.vertices for block in (joined.tail, joined.pin, beside.tail, beside.pin)]
        bench = bench_under(np.concatenate(solids))
        everything = np.concatenate([*solids[:2], over.reshape(-1, 3), bench])
        scale, shift = fit(view.flat(everything), self.frame, largest=1.45)

        def place(points):
            return view.flat(points) * scale + shift

        self.place = place
        self._bench.set_verts([place(bench)] if tilt > 0 else [])
        self._outlines.set_segments([] if outlined is None else [place(outline[[0, 1, 2, 3, 0]]) for outline in outlines])
        pin_is_nearer = joined.seam.normal @ view.towards_viewer > 0
        order = BOARDS if pin_is_nearer else BOARDS[::-1]
        showing, taken = {}, []
        for (solid, ink), board in zip(self._solids.values(), order, strict=True):
            block = getattr(joined, board)
            shown = facing(block.faces, view) & (np.array(block.names) != "corner")
            showing[board] = dict(zip(block.names, shown, strict=True))
            taken += list(place(block.faces[shown]))
            solid.set_verts(place(block.faces[shown]))
            solid.set_facecolor([FILLS[board][name] for name, on in showing[board].items() if on])
            pairs = [pair for inked, on in zip(edges_to_ink(block), shown, strict=True) if on for pair in inked]
            ink.set_segments(place(block.vertices[np.array(pairs, dtype=int).reshape(-1, 2)]))
        self._outer_seen = {board: bool(showing[board]["outer"]) for board in BOARDS}
        seen = any(self._outer_seen.values())
        corner_line = [place(joined.corner_line)]
        self._corner.set_segments(corner_line if seen else [])
        self._hidden.set_segments([] if seen else corner_line)
        # only where it lies on its own board: past the corner it would be taken for a line on the other one
        struck_on = [board for board in BOARDS if self.shortcut and showing[board]["outer"]
                     and corner.lean(other(board)) <= corner.end_line(board) + ROUNDING]
        struck_lines = [place(struck[BOARDS.index(board)]) for board in struck_on]
        self._struck.set_segments(struck_lines)
        taken += struck_lines
        leaders = []
        for board, name in self._names.items():
            name.set_visible(self.names and bool(showing[board]["outer"]))
            if name.get_visible():
                block = getattr(joined, board)
                outline = place(block.faces[block.names.index("outer")])
                set_name(name, self._name_reach, board, outline, struck_lines)
                if self.beside and not name.get_visible():
                    faces = getattr(joined, other(board)).faces[list(showing[other(board)].values())]
                    leaders += self._set_name_beside(name, outline.mean(axis=0), taken, list(place(faces)))
        self._leaders.set_segments(leaders)

    def _set_name_beside(self, name, middle, taken, before):
        """Write the name of a face that has no room for it beside the wood; its leader to the face, none where it stays hidden.

        middle: of the face; taken: outlines of whatever the name is to keep clear of, to which it is added; before: of the
        other board's faces, which its leader may not cross; all in pixels.
        """
        reach, frame = self._name_reach + BESIDE, np.reshape(self.frame, (2, 2))
        places = [np.arange(low, high, STEP) for low, high in zip(frame[0] + reach, frame[1] - reach, strict=True)]
        spots = np.stack(np.meshgrid(*places), axis=-1).reshape(-1, 2)
        spots = spots[np.all([_clear_of(each, spots, reach) for each in taken], axis=0)]
        ways = (spots[:, None] + (middle - spots)[:, None] * np.linspace(0, 1, TRIED)[:, None]).reshape(-1, 2)
        free = np.all([np.ones(len(ways), dtype=bool), *(_clear_of(each, ways, np.zeros(2)) for each in before)], axis=0)
        spots = spots[free.reshape(-1, TRIED).all(axis=1)]
        if not len(spots):
            return []
        spot = spots[np.hypot(*(spots - middle).T).argmin()]
        name.set_position(spot - (0, 4))
        name.set_visible(True)
        taken.append(spot + self._name_reach * [[-1, -1], [1, -1], [1, 1], [-1, 1]])
        return [[np.clip(middle, spot - self._name_reach - 2, spot + self._name_reach + 2), middle]]

    @staticmethod
    def _struck_line(corner, board, height):
        """The shortcut line on the outer face: the bevel carries the other board's lean. Shape (2, 3)."""
        grown = np.tan(np.radians(corner.lean(other(board))))
        climb = corner.vector(f"{board}_up") - grown * corner.vector(f"{board}_level")
        return np.array([np.zeros(3), climb * corner.slant_width(height, board)])


def _clear_of(outline, spots, reach):
    """Which boxes about spots (n, 2), `reach` (2,) to either side, lie clear of a convex outline (m, 2), by a line between."""
    ways = np.roll(outline, -1, axis=0) - outline
    normals = np.vstack([ways[:, ::-1] * (-1, 1), np.eye(2)])
    across, there = outline @ normals.T, spots @ normals.T
    far = abs(normals) @ reach
    return ((there - far > across.max(axis=0)) | (there + far < across.min(axis=0))).any(axis=1)


def name_reach(canvas: Canvas, names: Any) -> np.ndarray:
    """Half the width and half the height of the largest name's box, in pixels."""
    return np.array([max(map(canvas.width_of, names)) / 2, 7])


def set_name(name: Any, reach: np.ndarray, board: str, outline: Any, lines: Any = ()) -> None:
    """Write the board's name on its outer face, away from the corner and from all lines, where there is room.

    reach: as from `name_reach`; outline: (4, 2), counter-clockwise as seen; lines: those that are drawn over the face,
    each (2, 2). Nothing can stand before the face: all the wood of the corner lies behind both outer faces.
    """
    far = outline[[1, 2] if board == "tail" else [2, 3]].mean(axis=0)
    set_name_near(0.8 * outline.mean(axis=0) + 0.2 * far, name, reach, outline, lines)


def set_name_near(wanted: np.ndarray, name: Any, reach: np.ndarray, outline: Any, lines: Any = ()) -> None:
    """Write a name on a face, as near to a spot (2,) as its outline and all lines leave room; else hide it."""
    spots = np.vstack([wanted, _SPOTS @ outline])
    starts = np.vstack([outline, *(line[:1] for line in lines)])
    ways = np.vstack([np.roll(outline, -1, axis=0), *(line[1:] for line in lines)]) - starts
    inward = ways[:, ::-1] * (-1, 1) / np.maximum(np.hypot(*ways.T), 1e-9)[:, None]
    inside = spots @ inward.T - (starts * inward).sum(axis=1)
    inside[:, 4:] = abs(inside[:, 4:])  # a name may stand on either side of a line, but not outside the face
    free = (inside - abs(inward) @ reach > NAME_ROOM).all(axis=1)
    best = np.where(free, np.hypot(*(spots - wanted).T), np.inf).argmin()
    name.set_position(spots[best] - (0, 4))
    name.set_visible(bool(free[best]))


class FlatFace:
    """One outer face laid flat: the blank, the board in it, its end line, the shortcut line, and their numbers."""

    def __init__(self, canvas: Canvas, board: str, frame: tuple[int, ...], column: tuple[int, ...]) -> None:
        self.board, self.frame = board, frame
        self._waste = canvas.waste()
        self._wood = canvas.polygons(fill=FILLS[board]["outer"], edge=INK)
        self._square = canvas.lines(GUIDE, LIGHT, (0, (1, 2)))
        self._arc = canvas.lines(GUIDE, LIGHT)
        self._sliver = canvas.polygons(fill=MISS)
        self._end = canvas.lines(INK, HEAVY)
        self._struck = canvas.lines(SHORTCUT, MEDIUM, DASH)
        left, top = column
        canvas.text(left, top, FACE_NAMES[board], weight="bold", size=11)
        rows = [("from square", INK), ("from the edge", INK), ("", INK), ("the shortcut", SHORTCUT),
                ("", SHORTCUT)]
        heights = [top - 28 - 22 * row - (8 if row > 2 else 0) for row in range(len(rows))]
        self._labels = [canvas.text(left + 100, y, label, colour=colour)
                        for y, (label, colour) in zip(heights, rows, strict=True)]
        self._numbers = [canvas.text(left + 92, y, colour=colour, align="right", weight="bold", size=NUMBERS)
                         for y, (_, colour) in zip(heights, rows, strict=True)]
        for row, (colour, width, dash) in {0: (INK, HEAVY, "solid"), 3: (SHORTCUT, MEDIUM, DASH)}.items():
            y = heights[row] + 4
            canvas.lines(colour, width, dash).set_segments([[(left, y), (left + SAMPLE, y)]])

    def update(self, corner: "Corner", height: float, unit: str) -> None:
        """Draw the face of a board of that vertical height, mm; the rise is written in `unit`, "mm" or "in"."""
        board, other = self.board, "pin" if self.board == "tail" else "tail"
        up = corner.slant_width(height, board)
        end, struck = corner.end_line(board), corner.lean(other)
        heads = -up * np.tan(np.radians([end, struck]))
        length = 1.3 * STUB + max(0, *heads)
        margin = 0.12 * up
        hand = np.array([1 if board == "tail" else -1, 1])  # outside, the pin board's end is on the right
        outline = flat_face(corner, board, height, length)
        blank = np.array([[min(0, *heads) - margin, 0], [length, 0], [length, up], [min(0, *heads) - margin, up]])
        reach = np.array([[0, 0], [0, up]])
        lines = {"end": [[0, 0], [heads[0], up]], "struck": [[0, 0], [heads[1], up]]}
        arc = self._arc_points(end, 0.55 * up)
        scale, shift = fit(np.concatenate([blank, outline]) * hand, self.frame, largest=1.15)

        def place(points):
            return np.asarray(points) * hand * scale + shift

        self._waste.set_verts([place(blank)])
        self._wood.set_verts([place(outline)])
        self._square.set_segments([place(reach)])
        self._arc.set_segments([place(arc)])
        self._end.set_segments([place(lines["end"])])
        self._struck.set_segments([place(lines["struck"])])
        apart = Miss.of(end, struck).way != "exact"
        self._sliver.set_verts([place([[0, 0], [heads[0], up], [heads[1], up]])] if apart else [])
        self._write(end, struck, unit)

    def _write(self, end, struck, unit):
        slope, over = offset_parts(end, unit)
        miss = Miss.of(end, struck)
        texts = (degrees(end), degrees(90 - abs(end)), slope, degrees(struck),
                 "" if miss.way == "exact" else off(miss.angle, "<"))
        for artist, text in zip(self._numbers, texts, strict=True):
            artist.set_text(text)
        self._labels[2].set_text(f"in {over}")
        self._labels[4].set_text(miss.way)

    @staticmethod
    def _arc_points(end, radius):
        angles = np.radians(90 + np.linspace(0, end, 24))
        return radius * on_circle(angles)


class CornerPicture(OnCanvas):
    """The whole picture of a corner, 920 × 430 pixels: pictorial view on the left, the two faces on the right."""

    WIDTH, HEIGHT = 920, 430

    def __init__(self) -> None:
        self.canvas = Canvas(self.WIDTH, self.HEIGHT)
        self.pictorial = Pictorial(self.canvas, (12, 44, 418, 418))
        self.flats = (FlatFace(self.canvas, "tail", (438, 226, 692, 418), (708, 396)),
                       FlatFace(self.canvas, "pin", (438, 12, 692, 204), (708, 182)))
        self._draw_key()

    def _draw_key(self):
        for x, colour, width, dash, text in ((14, INK, HEAVY, "solid", "corner line: both boards' end line"),
                                             (304, SHORTCUT, MEDIUM, DASH, "shortcut line")):
            self.canvas.lines(colour, width, dash).set_segments([[(x, 20), (x + SAMPLE, 20)]])
            self.canvas.text(x + SAMPLE + 6, 16, text, colour=colour)

    def update(self, corner: "Corner", height: float = 120.0, thickness: float = 18.0, turn: float = 15.0, tilt: float = 25.0,
               unit: str = "mm") -> None:
        """Draw a scalar corner. Height and thickness in mm; turn and tilt of the view in degrees; `unit` to write in."""
        self.pictorial.update(corner, height, thickness, turn, tilt)
        for flat in self.flats:
            flat.update(corner, height, unit)
