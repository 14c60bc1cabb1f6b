"""A joint on one canvas: both boards with their tails and pins, whole or pulled apart, and their faces laid flat."""

from typing import TYPE_CHECKING, Any

import numpy as np

from ..common.boards import other
from ..common.printing import length
from ..corner.picture import FILLS, LIGHT, bearing, name_reach, set_name
from ..drawing.canvas import DASH, Canvas, OnCanvas
from ..drawing.palette import BENCH, END, GUIDE, INK, PIN_CHEEK, PIN_INNER, TAIL_CHEEK, TAIL_INNER, WASTE
from ..drawing.strokes import Strokes, rgba
from ..drawing.view import LINE_ROOM, View, bench_under, fit
from .pieces import BESIDE, EDGES, FACES, OUTER, Assembly, back_to_front, blank_pieces, cut_pieces, parting_planes
from .settings_words import letters_of

if TYPE_CHECKING:
    from .joint import Joint
    from .lines import Line

BOARDS = ("tail", "pin")
JOINT_FILLS = {
    "tail": FILLS["tail"] | {"end": TAIL_INNER, "shoulder": TAIL_INNER, "cheek": TAIL_CHEEK},
    "pin": FILLS["pin"] | {"end": PIN_INNER, "shoulder": PIN_INNER, "cheek": PIN_CHEEK},
    "panel": {"face": END, "edge": WASTE},  # a box's bottom
}
LONG_DASH, DOTS = (0, (8, 2)), (0, (1, 1.2))
# kind of line: colour, width in points, dash
STYLES = {"end line": (INK, 2.2, "solid"), "cut-off line": (INK, 1.7, LONG_DASH), "baseline": (GUIDE, 1.7, DASH),
          "cheek": (INK, 1.1, "solid"), "scribed": (INK, 1.3, DOTS)}
SEAM = 1.2  # points: hides the hairline between two polygons of one face
KEY = {"cheek": "cheek, to saw", "scribed": "cheek, scribed from the tails"}
SURFACES = {"tail": ("inner", "end", "outer"), "pin": ("outer", "end", "inner")}  # as they lie round the sawn end
CAPTIONS = {"end line": "end line: ", "cheek": "cheeks: "}
BEYOND = 0.4  # of the other board's thickness: how far a face laid flat is shown beyond its lines
_OTHER_SIDE = {"outer": "inner", "end": "end", "inner": "outer"}
SURFACE_NAMES = {"outer": "outer face", "end": "end", "inner": "inner face"}


def kind_of(line: "Line") -> str:
    """Key into `STYLES` for a line to strike."""
    if line.kind == "cheek":
        return "scribed" if line.struck_with == "tails" else "cheek"
    return line.name


class PaintedPieces:
    """All faces and edges of an `Assembly` as one collection, drawn from the furthest piece to the nearest.

    cover: points of the seam of an outer face behind which an edge may be hidden; its body's seam hides that edge too. 0 for
    seams like all others.
    """

    def __init__(self, canvas: Canvas, cover: float = 0.0, **style: Any) -> None:
        self.cover, self._quads = cover, canvas.quads(**style)
        self._pieces: Assembly | None = None

    def update(self, pieces: Assembly, order: np.ndarray, seen: np.ndarray, corners: np.ndarray, shoulders: np.ndarray,
               inked: np.ndarray, lines: Any = ()) -> None:
        """Draw the pieces, each face before its own edges.

        order: (k,) numbers of the pieces, the furthest first; seen: (k, 6) faces that turn to the viewer; corners: (k, 8, 2)
        and shoulders: (s, 2, 2) in pixels; inked: (k, 12) edges to draw where they are seen; lines: (body, ends (2, 2) in
        pixels, `STYLES` of it) that lie on bodies.
        """
        if self._pieces is not pieces:
            self._pieces = pieces
            self._fills = rgba([[JOINT_FILLS[kind].get(name, "none") for name in names]
                                for kind, names in zip(pieces.kinds, pieces.names, strict=True)])
        fills, strokes = self._fills, Strokes()
        rank = np.empty(len(order), dtype=int)
        rank[order] = np.arange(len(order))
        piece, face = np.nonzero(seen)
        strokes.fill(corners[piece[:, None], FACES[face]], fills[piece, face], rank[piece])
        on = seen[pieces.seams[:, 0], pieces.seam_faces]
        (piece, edge), face = pieces.seams[on].T, pieces.seam_faces[on]
        colours, out = fills[piece, face], (face == OUTER) & (self.cover > 0)
        strokes.lines(corners[piece[:, None], EDGES[edge]], colours, np.where(out, self.cover, SEAM), rank[piece])
        piece, edge = piece[out], edge[out]  # the body may come last: its seam must cover an edge that was drawn in between
        strokes.lines(corners[piece[:, None], EDGES[edge]], colours[out], self.cover, rank[pieces.bodies[piece]])
        piece, edge = np.nonzero(inked & seen[:, BESIDE].any(axis=2))
        strokes.lines(corners[piece[:, None], EDGES[edge]], INK, LIGHT, rank[piece])
        body, face, root = pieces.shoulder_of.T
        on = seen[body, face] | seen[body, root]
        strokes.lines(shoulders[on], INK, LIGHT, rank[body[on]])
        for body, ends, (colour, width, dash) in lines:
            strokes.lines([ends], colour, width, rank[body], dash)
        strokes.give_to(self._quads)


class JointView:
    """The two boards of a joint on the bench, seen from any side, in a frame of a canvas.

    All faces and edges are one collection, drawn from the furthest piece to the nearest. After `update`, `place` maps
    points (..., 3) in mm to pixels (..., 2).
    """

    def __init__(self, canvas: Canvas, frame: Any) -> None:
        self.frame = frame
        self._bench = canvas.polygons(fill=BENCH)
        self._boards = PaintedPieces(canvas)
        self._names = {board: canvas.text(0, 0, f"{board} board", align="center") for board in BOARDS}
        self._name_reach = name_reach(canvas, self._names.values())

    def update(self, joint: "Joint", turn: float, tilt: float, apart: float = 0.0, boards_cut: int = 2,
               struck: Any = ()) -> None:
        """Draw a `Joint`, its pin board drawn out by `apart` mm along the level entry.

        turn, tilt: of the view, degrees. boards_cut: 2; or 1, the tail board alone, or 0, and then the boards must be
        drawn free of each other (`pieces.free_at`). struck: lines of the joint to draw where they can be seen, on boards
        that aren't cut.
        """
        view = View(bearing(joint.corner, turn), tilt)
        cuts = {"tail": joint.tail_board, "pin": joint.pin_board.moved(apart)}
        pieces = Assembly.of_boards([(cut_pieces if number < boards_cut else blank_pieces)(cuts[board])
                              for number, board in enumerate(BOARDS)])
        everything = pieces.corners.reshape(-1, 3)
        bench = bench_under(everything)
        scale, shift = fit(view.flat(np.concatenate([everything, bench])), self.frame, largest=2.2)

        def place(points):
            return view.flat(points) * scale + shift

        self.place = place
        self._bench.set_verts([place(bench)] if tilt > 0 else [])
        seen, corners = pieces.facing(view), place(pieces.corners)
        order = [pieces.numbers[piece] for piece in back_to_front(parting_planes(joint, boards_cut), view.towards_viewer)]
        bodies = {board: pieces.numbers[board, 0] for board in BOARDS}
        step = {"tail": 0, "pin": apart * cuts["pin"].withdrawal}
        lines = [(bodies[line.board], place(line.ends + step[line.board]), STYLES[kind_of(line)]) for line in struck
                 if line.surface in pieces.names[bodies[line.board], seen[bodies[line.board]]]]
        self._boards.update(pieces, np.array(order), seen, corners, place(pieces.shoulders), pieces.inked, lines)
        for board, name in self._names.items():
            if seen[bodies[board], OUTER]:  # the baseline keeps a name clear of the cheeks too
                outline = np.roll(corners[bodies[board], :4], board == "pin", axis=0)
                set_name(name, self._name_reach, board, outline, [place(line.ends + step[board]) for line in struck if
                         (line.board, line.surface, line.name) == (board, "outer", "baseline")])
            else:
                name.set_visible(False)


def laid_flat(joint: "Joint", board: str, name: str, mirrored: bool = False) -> tuple:
    """(name, blank (4, 2), pieces that stay, lines (kind, (2, 2))) of a surface round the sawn end of "tail" or "pin".

    Seen from outside the wood, in its flat coordinates, mm; a face is cut short a little beyond its lines. mirrored:
    left for right, for a corner that is laid out so.
    """
    surface = getattr(joint, f"{board}_board").surfaces[name]
    struck = joint.lines_on(board, name)
    outlines = [surface.flat(points) for points in (surface.blank, *surface.pieces)]
    if name != "end":
        across = np.array([line.flat[:, 0] for line in struck])
        beyond = BEYOND * joint.thickness(other(board))
        outlines = [np.stack([x.clip(across.min() - beyond, across.max() + beyond), y], axis=1)
                    for x, y in (outline.T for outline in outlines)]
    hand = np.array([-1 if mirrored else 1, 1])
    blank, *pieces = (outline * hand for outline in outlines)
    return name, blank, pieces, [(kind_of(line), line.flat * hand) for line in struck]


class FlatBoard:
    """The surfaces of one board round its sawn end, each seen from outside the wood, with every line to strike.

    Wood that stays is coloured, waste is not. The faces are cut short a little beyond the baseline.
    """

    COLUMNS = (0.0, 0.41, 0.59, 1.0)  # shares of the width: a face, the end, a face
    ABOVE, BELOW, BESIDE, ROW = 26, 54, 4, 15  # pixels kept for words, between surfaces, and from row to row of words

    def __init__(self, canvas: Canvas, board: str, frame: Any) -> None:
        self.board = board
        left, bottom, right, top = frame
        edges = left + np.array(self.COLUMNS) * (right - left)
        self.frames = {name: (low + self.BESIDE, bottom + self.BELOW, high - self.BESIDE, top - self.ABOVE)
                        for name, low, high in zip(SURFACES[board], edges[:-1], edges[1:], strict=True)}
        self._waste = canvas.waste()
        self._wood = canvas.polygons()
        self._lines = {kind: canvas.lines(*style, edged=style[0] != INK) for kind, style in reversed(STYLES.items())}
        self._title = canvas.text(left + self.BESIDE, top - 14, weight="bold", size=10)
        self._width = canvas.text(right - 4, top - 14, align="right", size=9)
        self._captions = {}
        for name, (low, _, high, _) in self.frames.items():
            rows = (canvas.text((low + high) / 2, bottom + self.ROW * row + 6, size=9, align="center")
                    for row in (2, 1, 0))
            self._captions[name] = dict(zip(("name", "end line", "cheek"), rows, strict=True))

    def lay(self, joint: "Joint", mirrored: bool = False) -> tuple:
        """Frame -> (surface's name, blank (4, 2), pieces that stay, lines (k, 2, 2) by kind), and the scale that fits.

        In flat coordinates; mirrored: left for right, for a corner that is laid out so.
        """
        surfaces = {_OTHER_SIDE[name] if mirrored else name: laid_flat(joint, self.board, name, mirrored)
                    for name in self.frames}
        frames = np.array(list(self.frames.values()))
        sizes = np.array([np.ptp(surfaces[frame][1], axis=0) for frame in self.frames])
        return surfaces, ((frames[:, 2:] - frames[:, :2] - 2 * LINE_ROOM) / sizes).min()

    def update(self, surfaces: dict[str, tuple], scale: float, letters: dict, width: float, title: str | None = None) -> None:
        """Draw what `lay` returned, `scale` pixels to the mm; `letters` as `bevel_words.letters_of` gives them.

        width: up the face, in words. title: "Tail board" or "Pin board" unless given.
        """
        self._title.set_text(title or f"{self.board.capitalize()} board")
        self._width.set_text(f"slant width {width}")
        lines: dict[str, list] = {kind: [] for kind in STYLES}
        waste, wood, colours = [], [], []
        for frame, (name, blank, pieces, struck) in surfaces.items():
            _, shift = fit(blank, self.frames[frame], scale)
            waste.append(blank * scale + shift)
            wood += [piece * scale + shift for piece in pieces]
            colours += [JOINT_FILLS[self.board][name]] * len(pieces)
            for kind, line in struck:
                lines[kind].append(line * scale + shift)
            self._captions[frame]["name"].set_text(SURFACE_NAMES[name])
            for kind in CAPTIONS:
                caption = self._captions[frame][kind]
                setting = letters.get((self.board, name, kind), "")
                caption.set_text(f"{CAPTIONS[kind]}{setting}" if setting else "")
        self._waste.set_verts(waste)
        self._wood.set_verts(wood)
        self._wood.set_facecolor(colours)
        for kind, segments in lines.items():
            self._lines[kind].set_segments(segments)


class Key:
    """A row that shows each kind of line to strike, with its name, from x on; last the cut-off line, if one is drawn."""

    def __init__(self, canvas: Canvas, x: float = 14, y: float = 16) -> None:
        for kind in sorted(STYLES, key="cut-off line".__eq__):
            line = canvas.lines(*STYLES[kind])
            line.set_segments([[(x, y), (x + 34, y)]])
            name = canvas.text(x + 40, y - 4, KEY.get(kind, kind), size=9)
            x += 46 + canvas.width_of(name) + 12
        self._last = line, name

    def update(self, joint: "Joint") -> None:
        """Show what is drawn of a `Joint`."""
        for artist in self._last:
            artist.set_visible(any(line.name == "cut-off line" for line in joint.lines))


class JointPicture(OnCanvas):
    """The whole picture of a joint, 920 × 400 pixels: pictorial view, the tail board laid flat, the pin board."""

    WIDTH, HEIGHT = 920, 400

    def __init__(self) -> None:
        self.canvas = Canvas(self.WIDTH, self.HEIGHT)
        self.view = JointView(self.canvas, (6, 34, 338, 394))
        self.flats = [FlatBoard(self.canvas, board, (left, 30, left + 286, 398))
                      for board, left in (("tail", 344), ("pin", 632))]
        self._flat: tuple | None = None
        self._key = Key(self.canvas)

    def update(self, joint: "Joint", turn: float = 15.0, tilt: float = 25.0, apart: float = 0.0, unit: str = "mm") -> None:
        """Draw a `Joint`; turn and tilt of the view in degrees; the pin board drawn out by `apart` mm.

        unit: to write lengths in, "mm" or "in".
        """
        self.view.update(joint, turn, tilt, apart)
        if (joint, unit) != self._flat:  # the flat faces stay as they are while the view turns
            self._lay_flat(joint, unit)
            self._flat = joint, unit

    def _lay_flat(self, joint, unit):
        laid = [flat.lay(joint) for flat in self.flats]
        scale, letters = min(scale for _, scale in laid), letters_of(joint)
        for flat, (surfaces, _) in zip(self.flats, laid, strict=True):
            width = joint.corner.slant_width(joint.height, flat.board)
            flat.update(surfaces, scale, letters, length(width, unit))
        self._key.update(joint)
