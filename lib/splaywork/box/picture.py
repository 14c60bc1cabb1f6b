"""A whole box on one canvas: its four boards seen from any side, closed or pulled apart, and one corner laid flat."""

from typing import TYPE_CHECKING

import numpy as np

from ..common.printing import length
from ..corner.picture import HEAVY, name_reach, set_name_near
from ..drawing.canvas import Canvas, OnCanvas
from ..drawing.palette import BENCH, INK
from ..drawing.view import View, bench_under, fit, on_circle
from ..joint.picture import DOTS, FlatBoard, Key, PaintedPieces
from ..joint.pieces import FACES, INNER, OUTER
from ..joint.settings_words import letters_of
from .box import END_CORNERS, NAMES
from .pieces import INNER_CORNERS, UNDER_THE_BACK, BoxPieces, come_free, steps_apart

if TYPE_CHECKING:
    from .box import Box

LARGEST = 2.2  # pixels to the mm
RADIUS, RING_WIDTH = 9, 2.0  # pixels, points: the ring round the top of the picked corner
COVER = 2.0  # points: a seam that hides a light line, smooth sides and all
_TURN = np.linspace(0, 2 * np.pi, 33)
_RING = RADIUS * on_circle(_TURN)
_CORNERS = np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)])


class BoxView:
    """The four boards of a box on the bench, seen from any side, in a frame of a canvas.

    pieces: of the box that it will show, where they are made already.
    All faces and edges are one collection, drawn from the furthest piece to the nearest. After `update`, `place` maps
    points (..., 3) in mm, in the axes of `Box`, to pixels (..., 2), and `picked_hidden` is whether the picked corner's line
    lies on no face that is seen.
    """

    def __init__(self, canvas: Canvas, frame: tuple, pieces: BoxPieces | None = None) -> None:
        self.frame = frame
        left, bottom, right, top = frame
        room = RADIUS + RING_WIDTH
        self._inner = (left + room, bottom + room, right - room, top - room)
        self._bench = canvas.polygons(fill=BENCH)
        self._boards = PaintedPieces(canvas, COVER, snap=False)  # a plumb line that two faces share would go under one of them
        self._picked, self._picked_hidden = canvas.lines(INK, HEAVY), canvas.lines(INK, HEAVY, DOTS)
        self._ring = canvas.lines(INK, RING_WIDTH)
        self._names = {name: canvas.text(0, 0, name, align="center") for name in NAMES}
        self._reach = {name: name_reach(canvas, [text]) for name, text in self._names.items()}
        self._pieces = pieces

    def update(self, box: "Box", turn: float = -30.0, tilt: float = 22.0, apart: float = 0.0,
               picked: str | None = None) -> None:
        """Draw a `Box`, pulled apart by `apart` mm as `box_pieces.steps_apart` says.

        turn: degrees that the viewer has gone round from straight before the front, to the right; negative shows the
        left board too. tilt: degrees that the viewer looks down. picked: name of a corner to mark, or None.
        """
        if self._pieces is None or self._pieces.box != box:
            self._pieces = BoxPieces.of(box)
        pieces, view = self._pieces, View(turn - 90, tilt)
        steps = steps_apart(box, apart)
        corners, shoulders = pieces.moved(steps)
        everything = corners.reshape(-1, 3)
        bench = bench_under(everything)
        scale, shift = fit(view.flat(np.concatenate([everything, bench])), self._inner, LARGEST)

        def place(points):
            return view.flat(points) * scale + shift

        self.place = place
        self._bench.set_verts([place(bench)] if tilt > 0 else [])
        seen = pieces.facing(view)
        order = pieces.back_to_front(view.towards_viewer, apart > come_free(box))
        placed = place(corners)
        inked = pieces.inked.copy()
        if apart == 0:  # the inner faces meet: a shoulder seen from its edge would show their edges through the wood
            inked[:4, INNER_CORNERS] = seen[:4, INNER, None]
        if pieces.level is not None:  # where the back stands on the bottom
            inked[pieces.numbers["bottom"], UNDER_THE_BACK] = apart <= come_free(box)
        self._boards.update(pieces, order, seen, placed, place(shoulders), inked)
        outer_seen = dict(zip(NAMES, seen[:4, OUTER], strict=True))
        for number, name in enumerate(NAMES):
            self._set_name(self._names[name], name, outer_seen[name], placed[number, :4])
        if box.joint.end == "square":
            self._hide_covered(pieces, order, seen, placed)
        self._mark(box, picked, steps, outer_seen)

    def _set_name(self, text, name, seen, outline):
        """Write a board's name on its outer face."""
        if seen:
            set_name_near(outline.mean(axis=0), text, self._reach[name], outline)
        else:
            text.set_visible(False)

    def _hide_covered(self, pieces, order, seen, corners):
        """Hide names that wood stands before: square ends stand proud of the faces beside them."""
        piece, face = np.nonzero(seen[order])
        piece = order[piece]  # from the furthest to the nearest
        starts = corners[piece[:, None], FACES[face]]
        ways = np.roll(starts, -1, axis=1) - starts
        for number, name in enumerate(NAMES):
            spots = np.array(self._names[name].get_position()) + (0, 4) + self._reach[name] * _CORNERS
            off = spots[:, None, None] - starts
            sides = ways[..., 0] * off[..., 1] - ways[..., 1] * off[..., 0]
            covered = (sides >= 0).all(axis=-1) | (sides <= 0).all(axis=-1)
            nearest = covered.shape[1] - 1 - covered[:, ::-1].argmax(axis=1)
            if not ((pieces.bodies[piece[nearest]] == number) & (face[nearest] == OUTER)).all():
                self._names[name].set_visible(False)

    def _mark(self, box, picked, steps, outer_seen):
        """The picked corner's line, heavy on a board whose outer face is seen, else dotted, and a ring at its top."""
        boards = [name for name in NAMES if picked in END_CORNERS[name]]
        boards.sort(key=lambda name: (not outer_seen[name], box.carries(name) == "pins"))
        line, ring = [], []
        for name in boards[:1]:
            low, high = box.boards[name].end_lines[OUTER, END_CORNERS[name].index(picked)]
            low = low + self._pieces.lowered(picked) / (high[2] - low[2]) * (high - low)
            line = [self.place(np.array([low, high]) + steps[name])]
            ring = [_RING + line[0][1]]
        seen = bool(boards) and bool(outer_seen[boards[0]])
        self.picked_hidden = bool(boards) and not seen
        self._picked.set_segments(line if seen else [])
        self._picked_hidden.set_segments([] if seen else line)
        self._ring.set_segments(ring)


class BoxPicture(OnCanvas):
    """The whole picture of a box, 920 × 400 pixels: the box on the left, the picked corner's boards laid flat."""

    WIDTH, HEIGHT = 920, 400

    def __init__(self) -> None:
        self.canvas = Canvas(self.WIDTH, self.HEIGHT)
        self.view = BoxView(self.canvas, (4, 30, 574, 372))
        self._caption = self.canvas.text(14, 380, size=11, weight="bold")
        self._dotted = self.canvas.text(250, 380, "dotted: its line seen through the wood")
        self.flats = [FlatBoard(self.canvas, kind, (580, bottom, 914, bottom + 182))
                      for kind, bottom in (("tail", 214), ("pin", 30))]
        self._flat: tuple | None = None
        self._key = Key(self.canvas)

    def update(self, box: "Box", turn: float = -30.0, tilt: float = 22.0, apart: float = 0.0, picked: str = "front left",
               unit: str = "mm") -> None:
        """Draw a `Box`; turn and tilt of the view in degrees; pulled apart by `apart` mm.

        picked: the corner to mark and to lay flat. unit: to write lengths in, "mm" or "in". ValueError for a corner that
        no box has.
        """
        if picked not in box.corners:
            raise ValueError(f"A box has the corners {', '.join(box.corners)}, and not {picked!r}.")
        self.view.update(box, turn, tilt, apart, picked)
        self._dotted.set_visible(self.view.picked_hidden)
        if (box, picked, unit) != self._flat:  # the flat faces stay as they are while the view turns
            self._lay_flat(box, picked, unit)
            self._flat = box, picked, unit

    def _lay_flat(self, box, picked, unit):
        at = box.corners[picked]
        laid = [flat.lay(at.joint, at.mirrored) for flat in self.flats]
        scale, letters = min(scale for _, scale in laid), letters_of(at.joint)
        for flat, (surfaces, _) in zip(self.flats, laid, strict=True):
            name = getattr(at, flat.board)
            title = f"{name.capitalize()} board, {'left' if END_CORNERS[name][0] == picked else 'right'} end"
            flat.update(surfaces, scale, letters, length(box.slant_width(name), unit), title)
        self._key.update(at.joint)
        self._caption.set_text(f"Picked: {picked} corner")
