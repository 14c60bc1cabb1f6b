"""What is printed at true scale: strokes, areas, labels and pictures, in mm; drawings of them, and pages of paper."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

import numpy as np

from ..common import checks
from ..common.rotations import turned
from .lettering import INCH, NOTE, width_of
from .palette import GUIDE, INK, PIN, PIN_INNER, TAIL, TAIL_INNER, WASTE

PAPERS = {"A4": (210.0, 297.0), "A3": (297.0, 420.0), "Letter": (215.9, 279.4)}  # mm, upright: ISO 216, ASME Y14.1
MARGIN = 10.0  # mm that printers leave white

# kind of stroke -> points wide, dash in widths of the line, colour
INKS = {
    "outline": (0.6, None, INK),
    "fold": (0.9, (8, 2.5, 1.2, 2.5), INK),
    "cheek": (1.3, None, INK),
    "baseline": (0.9, (5, 2), INK),
    "end line": (1.0, (1, 1.6), INK),
    "arm": (1.6, None, INK),
    "square": (0.7, (1, 2.5), GUIDE),
    "arrow": (0.9, None, INK),
    "rule": (0.5, None, GUIDE),
    "scale": (0.7, None, INK),
    "join": (0.6, (10, 4), GUIDE),
    "cross": (0.6, None, INK),
    "struck": (1.7, None, INK),
    "dimension": (0.45, None, INK),
}
FILLS = {"waste": {"facecolor": "none", "edgecolor": GUIDE, "hatch": "////", "linewidth": 0.0},
         "wedge": {"facecolor": WASTE, "edgecolor": "none"},
         "sawn off": {"facecolor": WASTE, "edgecolor": GUIDE, "linewidth": 0.5, "linestyle": (0, (3, 3))},
         "tab": {"facecolor": "none", "edgecolor": GUIDE, "hatch": "....", "linewidth": 0.0}}
FILLS |= {name: {"facecolor": colour, "edgecolor": INK, "linewidth": 0.6, "joinstyle": "miter"} for name, colour in
          (("tail outer", TAIL), ("tail inner", TAIL_INNER), ("tail end", TAIL_INNER),
           ("pin outer", PIN), ("pin inner", PIN_INNER), ("pin end", PIN_INNER))}


@dataclass(frozen=True)
class Stroke:
    """A line through `points` (n, 2), in mm. kind: how it is drawn, a key of `INKS`. name: what it is."""

    kind: str
    points: np.ndarray
    name: str = ""


@dataclass(frozen=True)
class Area:
    """A filled or hatched polygon (n, 2), in mm. kind: a key of `FILLS`."""

    kind: str
    points: np.ndarray
    name: str = ""


@dataclass(frozen=True)
class Label:
    """A line of text, its baseline starting (align "left") or centred at `at` (2,), in mm, turned by `turn` degrees."""

    text: str
    at: np.ndarray
    size: float = NOTE
    turn: float = 0.0
    align: str = "left"
    weight: str = "normal"
    colour: str = INK

    @property
    def points(self) -> np.ndarray:
        """Corners (4, 2) of the box that its letters fill, in mm."""
        wide, tall = width_of(self.text, self.size, self.weight), self.size * INCH / 72
        left = -wide / 2 if self.align == "center" else 0.0
        (x0, x1), (y0, y1) = (left, left + wide), (-0.24 * tall, 0.76 * tall)
        box = np.array([[x0, y0], [x1, y0], [x1, y1], [x0, y1]])
        return box @ turned(self.turn) + self.at


@dataclass(frozen=True)
class Picture:
    """A picture as on the screen, in lines and letters: drawn only when its page is written.

    points: (2, 2), lower left and upper right corner, mm. draw(canvas): makes its artists on a canvas of that size,
    100 pixels to the inch.
    """

    draw: Callable
    points: np.ndarray


def moved(item: Any, shift: np.ndarray) -> Any:
    """The item, moved by `shift` (2,) mm."""
    return replace(item, at=item.at + shift) if isinstance(item, Label) else replace(item, points=item.points + shift)


def extent_of(items: Any) -> np.ndarray:
    """(low, high), shape (2, 2), of all that is drawn."""
    points = np.concatenate([item.points for item in items])
    return np.array([points.min(axis=0), points.max(axis=0)])


@dataclass(frozen=True)
class Drawing:
    """What is to be printed, at true scale in mm, upright, not yet on paper.

    title, notes: heading and the paragraphs under it. items: Strokes, Areas and Labels. key: (kind, words) of what needs
    telling apart.
    """

    title: str
    notes: tuple
    items: tuple
    key: tuple = ()

    @cached_property
    def extent(self) -> np.ndarray:
        """(low, high), shape (2, 2), mm."""
        return extent_of(self.items)


@dataclass(frozen=True)
class Page:
    """One sheet of paper, mm from its lower left corner.

    window: (low, high), shape (2, 2), where the drawing shows. inside: items of the drawing, cut off at the window.
    around: heading, key, scale bars, crosses. shift: (2,), where the drawing's own origin has come to lie.
    """

    width: float
    height: float
    window: np.ndarray
    inside: tuple
    around: tuple
    shift: np.ndarray


def size_of(paper: str) -> tuple[float, ...]:
    """(width, height) of "A4", "A3" or "Letter", upright, mm. ValueError for another paper."""
    if not isinstance(paper, str) or paper not in PAPERS:
        raise ValueError(f"The paper can be {', '.join(map(repr, PAPERS))}, not {checks.shown(paper)}.")
    return PAPERS[paper]
