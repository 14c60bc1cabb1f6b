"""How a bench step is drawn: frames side by side, each with wood and tools, a caption, and callouts that keep clear."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from ..common.boards import BOARDS
from ..drawing.canvas import DASH
from ..drawing.labels import stacked
from ..drawing.lettering import INCH, width_of
from ..drawing.palette import BENCH, END, GUIDE, INK, RIM, SHORTCUT, WASTE, WHITE
from ..drawing.strokes import Strokes
from ..drawing.view import fit
from .picture import JOINT_FILLS

if TYPE_CHECKING:
    from ..drawing.canvas import Canvas
    from .bench_solids_picture import Shape

WIDTH, HEIGHT = 640, 236  # pixels of a drawing at its own scale
SIZE = 9.0  # points of its letters
ROW = 13  # pixels from one line of a callout to the next
LEADER = 14  # pixels that stay between a picture and its callouts
APART = 3  # pixels that a caption ends before its frame does

FILLS = {f"{board} {name}": colour for board in BOARDS for name, colour in JOINT_FILLS[board].items()}
FILLS |= {f"{board} wood": JOINT_FILLS[board]["outer"] for board in BOARDS}
FILLS |= {"wedge": RIM, "tool": END, "steel": BENCH, "jaw": END, "prop": RIM, "handle": RIM, "paper": WHITE}
# kind of line: colour, points, dash
LINES = {
    "edge": (INK, 0.9, "solid"),
    "end line": (INK, 2.4, "solid"),
    "trace": (INK, 2.4, "solid"),
    "to come": (INK, 2.4, (0, (0.7, 0.9))),
    "baseline": (GUIDE, 1.5, DASH),
    "cheek": (INK, 1.4, "solid"),
    "centre": (GUIDE, 1.0, (0, (8, 2, 1.5, 2))),
    "square": (GUIDE, 1.0, (0, (1, 2))),
    "bench": (GUIDE, 2.0, "solid"),
    "waste": (GUIDE, 1.0, (0, (3, 2))),
    "wrong": (SHORTCUT, 2.2, "solid"),
    "arrow": (INK, 1.4, "solid"),
    "size": (GUIDE, 0.8, "solid"),
    "fold": (GUIDE, 1.1, (0, (8, 2.5, 1.2, 2.5))),
}
FILLED = {"waste wood": (WASTE, GUIDE, 0.9, (0, (2, 2)))}


@dataclass(frozen=True)
class Frame:
    """One picture of a step: shapes (n, 2) in mm, in drawing order; callouts (words, point (2,)), named beside it; caption; its
    share of the drawing's width; notes (words, point (2,), "above" or "below"), written over or under it; extra: whether it
    stands in a row of its own below the others, and only where a step has a page's width."""

    shapes: tuple
    callouts: tuple = ()
    caption: str = ""
    share: float = 1.0
    notes: tuple = ()
    extra: bool = False


class Sketch:
    """Draws the frames of a step on a canvas, side by side, each with its caption above and its callouts beside it."""

    def __init__(self, canvas: "Canvas", corner: Any = (0.0, 0.0), scale: float = 1.0) -> None:
        self._canvas, self._corner, self._scale = canvas, np.array(corner), scale

    def _at(self, points):
        return self._corner + np.asarray(points, dtype=float) * self._scale

    def _text(self, x, y, text, align="left", weight="normal"):
        self._canvas.text(*self._at((x, y)), text, size=SIZE * self._scale, align=align, weight=weight)

    def draw(self, frames: tuple[Frame, ...], width: Any = WIDTH, height: Any = HEIGHT) -> None:
        """Draw frames over width × height pixels of the sketch's own scale."""
        for frame, (left, right) in zip(frames, _sides(frames, width), strict=True):
            self._frame(frame, left, right, height)

    def _frame(self, frame, left, right, height):
        column, caption = _column(frame), _wrapped(frame.caption, right - left - APART)
        for number, text in enumerate(caption):
            self._text(left, height - 12 - 13 * number, text, weight="bold")
        edge = right - column
        points = np.concatenate([shape.points for shape in frame.shapes])
        bottom, top = 6, height - 20 - 13 * (len(caption) - 1)
        over, under = (_rows(frame, side) * ROW for side in ("above", "below"))
        clear = edge - (LEADER if frame.callouts else 0)
        scale, shift = fit(points, (left, bottom + under, clear, top - over), largest=3.0)

        def place(points):
            return np.asarray(points) * scale + shift

        painter = Painter(self._canvas, self._scale)
        for shape in frame.shapes:
            painter.add(shape, self._at(place(shape.points)))
        callouts = sorted(frame.callouts, key=lambda named: -named[1][0])  # of equal heights the furthest goes over the others
        heights = stacked(
            [place(point)[1] for _, point in callouts], [ROW * len(text.split("\n")) for text, _ in callouts], bottom, top, 2
        )
        for (text, point), middle in zip(callouts, heights, strict=True):
            rows = text.split("\n")
            painter.leader(self._at(np.array([[edge - 3, middle], place(point)])))
            for number, row in enumerate(rows):
                self._text(edge, middle + ROW * (len(rows) / 2 - number - 1) + 3, row)
        low, high = place(points).min(axis=0)[1], place(points).max(axis=0)[1]
        for text, point, side in frame.notes:
            rows = text.split("\n")
            for number, row in enumerate(rows):
                half = pixels(row) / 2
                x = min(max(place(point)[0] - half, left), max(left, clear - 2 * half))
                y = high + 4 + ROW * (len(rows) - number - 1) if side == "above" else low - ROW * (number + 1) + 2
                self._text(x, y, row)
        painter.give()


def _rows(frame, side):
    """How many lines the notes on one side of a picture take."""
    return max((len(text.split("\n")) for text, _, where in frame.notes if where == side), default=0)


def _column(frame):
    """How wide a frame's callouts are, in pixels."""
    words = [row for text, _ in frame.callouts for row in text.split("\n")]
    return 1.04 * max(map(pixels, words), default=0.0)  # hinted, wider


def _sides(frames, width):
    """Left and right of each frame, in pixels: what the callouts leave of the width is shared out; captions and notes fit."""
    named = np.array([_column(frame) + LEADER * bool(frame.callouts) for frame in frames])
    shares = np.array([frame.share for frame in frames])
    wide = named + shares / shares.sum() * max(0.0, width - named.sum())
    over = wide - [_least_width(frame) for frame in frames]
    spare = np.maximum(over, 0.0)
    wide = np.where(over < 0, wide - over, wide + np.minimum(over, 0.0).sum() * spare / max(spare.sum(), 1.0))
    ends = np.cumsum(wide)
    return list(zip(np.concatenate([[0.0], ends[:-1]]) + 4, ends - 6, strict=True))


def _least_width(frame):
    """How wide a frame is at least, in pixels, so that no note and no word of its caption runs into the next."""
    rows = [pixels(row) for text, *_ in frame.notes for row in text.split("\n")]
    return 14 + 1.04 * max(rows + [pixels(word, "bold") for word in frame.caption.split(" ")], default=0.0)


def least_height(frames: tuple[Frame, ...], width: float) -> float:
    """How high a drawing `width` pixels wide has to be so that no callout is pushed out of it, in pixels."""
    def least(frame, left, right):
        callouts = sum(ROW * len(text.split("\n")) + 2 for text, _ in frame.callouts)
        noted = 60 + ROW * (_rows(frame, "above") + _rows(frame, "below")) if frame.notes else 0
        return 20 + ROW * len(_wrapped(frame.caption, right - left - APART)) + max(callouts, noted)

    return max(least(frame, *sides) for frame, sides in zip(frames, _sides(frames, width), strict=True))


def pixels(text: str, weight: str = "normal") -> float:
    """How wide a text is, in pixels at a sketch's own scale."""
    return width_of(text, SIZE, weight) / INCH * 100


def _wrapped(text, width):
    """The caption in lines that fit; none breaks at a no-break space."""
    rows = [""]
    for word in text.split(" "):
        longer = f"{rows[-1]} {word}".strip()
        rows = [*rows[:-1], longer] if pixels(longer, "bold") <= width or not rows[-1] else [*rows, word]
    return rows


class Painter:
    """Fills and lines of one collection, in the order in which they come."""

    def __init__(self, canvas: "Canvas", scale: float) -> None:
        self._canvas, self._scale, self._strokes = canvas, scale, Strokes()
        self._leaders: list[np.ndarray] = []

    def add(self, shape: "Shape", points: Any) -> None:
        """A `Shape` whose points have come to lie at `points` (n, 2), in pixels."""
        if shape.kind in LINES:
            colour, width, dash = LINES[shape.kind]
            self._strokes.add([points], "none", colour, width * self._scale, dash=dash)
        elif shape.kind in FILLED:
            fill, colour, width, dash = FILLED[shape.kind]
            self._strokes.add([np.vstack([points, points[:1]])], fill, colour, width * self._scale, dash=dash)
        else:
            self._strokes.add([points], FILLS[shape.kind], FILLS[shape.kind], 0.5 * self._scale)

    def leader(self, points: Any) -> None:
        """A thin line from a callout to what it names, with a dot there; drawn last."""
        self._leaders.append(points)

    def give(self) -> None:
        """Put all on the canvas."""
        self._strokes.give_to(self._canvas.polygons(joinstyle="round"))
        self._canvas.lines(GUIDE, 0.8 * self._scale).set_segments(self._leaders)
        dot = (
            2.0 * self._scale * np.array([(1, 0), (0.7, 0.7), (0, 1), (-0.7, 0.7), (-1, 0), (-0.7, -0.7), (0, -1), (0.7, -0.7)])
        )
        self._canvas.polygons(fill=GUIDE).set_verts([points[1] + dot for points in self._leaders])
