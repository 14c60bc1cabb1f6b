"""Numbers on a picture, and a lens that shows a small place of it larger, with the magnification stated."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import ArrayLike

from ..common.printing import MM_PER_INCH, enlarged_gap_parts, gap_parts, off, unit_name
from .palette import GUIDE, INK, MISS, SHORTCUT, WHITE
from .view import on_circle

if TYPE_CHECKING:
    from .canvas import Canvas

NUMBERS, LARGE = 10.35, 15.5  # points: the sizes at which a bold digit is 10 and 15 pixels wide
OFF_GRID = 0.2  # pixels off the grid for a frame, so that no upright line lies halfway between two pixels
STEPS = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000)


def number_and_unit(value: float, unit: str) -> tuple[str, ...]:
    """("7.1", "mm") for a gap in mm, as `printing.gap` writes it; "< 0.05" for what is less than that."""
    return gap_parts(value, unit, "<")


def enlarged_number_and_unit(value: float, unit: str) -> tuple[str, ...]:
    """("0.12", "mm") for a gap in mm that a lens shows, as `printing.enlarged_gap` writes it."""
    return enlarged_gap_parts(value, unit, "<")


def tenths(angle: float) -> str:
    """The size of an angle in degrees to a tenth, as the sentences write it; "< 0.1°" for what is less than that."""
    return off(angle, "<")


def times(factor: float) -> str:
    """"20 ×", or "2.6 ×" for what isn't a whole number: how many times as large something is drawn."""
    return f"{factor:.0f} ×" if factor >= 10 or abs(factor - round(factor)) < 0.05 else f"{factor:.1f} ×"


def largest_step(most: float, steps: tuple[int, ...] = STEPS, least: int = 1) -> int:
    """The largest of the steps that is at most `most`, or `least` where all are larger."""
    return max([step for step in steps if step <= most], default=least)


class Reading:
    """A number, ending at x, and the words after it."""

    def __init__(self, canvas: "Canvas", x: float, y: float, colour: str = INK, size: float = NUMBERS, words: str = "") -> None:
        self.number = canvas.text(x, y, colour=colour, align="right", weight="bold", size=size)
        self.words = canvas.text(x + 8, y, words, colour=colour)

    def set(self, number: str, words: str | None = None) -> None:
        """Write the number, and other words where they are given."""
        self.number.set_text(number)
        if words is not None:
            self.words.set_text(words)

    def move(self, x: float, y: float) -> None:
        """Put it where the number ends at x, on the baseline y."""
        self.number.set_position((x, y))
        self.words.set_position((x + 8, y))

    def __str__(self) -> str:
        return f"{self.number.get_text()} {self.words.get_text()}"


def cut(outline: Any, normal: ArrayLike, offset: float) -> np.ndarray:
    """The part of a convex outline (n, 2) or (n, 3) where normal·point ≤ offset, (m, …); empty where there is none."""
    outline = np.asarray(outline, dtype=float)
    if not len(outline):
        return outline
    beyond = outline @ np.asarray(normal, dtype=float) - offset
    if beyond.max() <= 0:
        return outline
    kept = []
    for here, there, out, next_out in zip(outline, np.roll(outline, -1, axis=0), beyond, np.roll(beyond, -1),
                                          strict=True):
        if out <= 0:
            kept.append(here)
        if (out <= 0) != (next_out <= 0):
            kept.append(here + (there - here) * out / (out - next_out))
    return np.array(kept).reshape(-1, outline.shape[1])


@dataclass(frozen=True)
class _Window:
    left: float
    bottom: float
    right: float
    top: float

    def outline(self):
        return np.array([[self.left, self.bottom], [self.right, self.bottom],
                         [self.right, self.top], [self.left, self.top]])

    def keep(self, outline):
        """What of a convex outline (n, 2), or of a line (2, 2), lies in the window."""
        for normal, offset in (((-1, 0), -self.left), ((0, -1), -self.bottom), ((1, 0), self.right), ((0, 1), self.top)):
            outline = cut(outline, normal, offset)
        return outline

    def keep_line(self, line):
        """The part of a line (2, 2) in the window, or None."""
        kept = self.keep(line)
        if len(kept) < 2:
            return None
        along = (kept - line[0]) @ (np.asarray(line[1]) - line[0])
        return kept[[along.argmin(), along.argmax()]]


class Magnifier:
    """A frame (left, bottom, right, top) of a canvas that shows a small place of a drawing beside it larger; all in pixels."""

    magnification: float

    def __init__(self, frame: ArrayLike) -> None:
        self.window = _Window(*np.ravel(frame))

    def look_at(self, centre: ArrayLike, shown_at: ArrayLike, magnification: float) -> None:
        """Show what lies round `centre`, of the drawing, that many times as large round `shown_at`, a place in the frame."""
        self._centre, self._shown_at = np.asarray(centre, dtype=float), np.asarray(shown_at, dtype=float)
        self.magnification = magnification

    def enlarged(self, points: ArrayLike) -> np.ndarray:
        """Where points (..., 2) of the drawing come to lie on the canvas."""
        return self._shown_at + (np.asarray(points, dtype=float) - self._centre) * self.magnification

    def place(self) -> np.ndarray:
        """Outline (4, 2) of the part of the drawing that the frame shows."""
        return (self.window.outline() - self._shown_at) / self.magnification + self._centre


class Lens(Magnifier):
    """A `Magnifier` that cuts off what leaves its frame.

    Under it stand a scale bar and the magnification, in 44 pixels more; a ring and a leader mark the place. between: what
    gapes is the angle between a right line and a wrong one: paler, under both, and the edges are the wrong lines.
    """

    SHARE, FULL = 0.55, 0.9  # of the frame's width: what is to be seen fills the first, and never more than the second
    pixels_to_the_mm = None  # of the last picture shown

    def __init__(self, canvas: "Canvas", frame: tuple[int, ...], wood: Any, between: bool = False) -> None:
        super().__init__(frame)
        self._mark_on_place = canvas.lines(GUIDE, 1.2)
        self.background = canvas.polygons(fill=WHITE)
        self.wood = canvas.polygons(fill=wood)
        under = canvas.polygons(fill=MISS) if between else None
        self.edges = canvas.lines(*(SHORTCUT, 2.4) if between else (INK, 1.2))
        self.true = canvas.lines(INK, 3.2)
        # over the lines, or they hide a narrow one
        self.gap = under or canvas.polygons(fill=SHORTCUT, edge=SHORTCUT, width=0.7)
        self.border = canvas.polygons(fill="none", edge=GUIDE, width=2.0)
        self.bar = canvas.lines(INK, 2.2)
        left, bottom = frame[:2]
        self.bar_words = canvas.text(0, bottom - 19)
        self.magnified = canvas.text(left, bottom - 39, colour=GUIDE)
        self.background.set_verts([self.window.outline()])
        self.border.set_verts([self.window.outline()])

    def update(self, centre: ArrayLike, size: Any, scale: float, unit: str, wood: Any = (), gap: Any = (), edges: Any = (),
               true: Any = (), ahead: Any = (0, 0), fit: bool = True) -> None:
        """Show what lies around `centre`, so that `size` pixels of the drawing fill a good part of the frame.

        All points are pixels of the drawing: wood, gap: convex outlines; edges, true: lines (2, 2). scale: pixels of the
        drawing to the mm; unit: of the scale bar. `ahead`: which way the lens looks on from the centre, as a share of
        its height. With size 0 there is nothing to magnify. fit: False for as many pixels to the mm as before, so that what
        grows is seen to grow; only what would leave the lens is shown smaller.
        """
        window = self.window
        middle = np.array([window.left + window.right, window.bottom + window.top]) / 2
        shown_at = middle - np.asarray(ahead) * (window.top - window.bottom)
        across = window.right - window.left
        if fit or self.pixels_to_the_mm is None:
            factor = largest_step(self.SHARE * across / size) if size else 1
        else:
            kept = self.pixels_to_the_mm / scale
            factor = min(kept, self.FULL * across / size) if size else kept
        self.look_at(centre, shown_at, factor)
        for artist, outlines in ((self.wood, wood), (self.gap, gap)):
            kept = [window.keep(self.enlarged(outline)) for outline in outlines]
            artist.set_verts([outline for outline in kept if len(outline) > 2])
        for line_artist, lines in ((self.edges, edges), (self.true, true)):
            kept = [window.keep_line(self.enlarged(line)) for line in lines]
            line_artist.set_segments([line for line in kept if line is not None])
        self.pixels_to_the_mm = scale * self.magnification
        self._draw_bar(unit)
        self.magnified.set_text(f"magnified {times(self.magnification)}" if self.magnification > 1 else "not magnified")
        self._mark(np.asarray(centre, dtype=float), middle)

    def _draw_bar(self, unit):
        pixels = self.pixels_to_the_mm * (1 if unit == "mm" else float(MM_PER_INCH))
        decade = 10.0 ** np.floor(np.log10(70 / pixels))
        length = decade * largest_step(70 / pixels / decade)
        left, y = self.window.left, self.window.bottom - 14
        right = left + length * pixels
        ticks = [[(x, y - 5), (x, y + 5)] for x in (left, right)]
        self.bar.set_segments([[(left, y), (right, y)], *ticks])
        self.bar_words.set_position((right + 8, y - 5))
        self.bar_words.set_text(f"{length:g} {unit_name(unit)}")

    def _mark(self, centre, middle):
        """A ring round the place, and a leader to the frame."""
        turn = np.linspace(0, 2 * np.pi, 25)
        ring = centre + 7 * on_circle(turn)
        way = middle - centre
        reach = np.linalg.norm(way)
        half = np.array([self.window.right - self.window.left, self.window.top - self.window.bottom]) / 2
        to_frame = 1 - np.min(half / np.maximum(np.abs(way), 1e-9))
        if to_frame * reach <= 7:
            self._mark_on_place.set_segments([ring])
        else:
            self._mark_on_place.set_segments([ring, np.array([centre + way * 7 / reach, centre + way * to_frame])])
