"""Boards drawn as sheets, their outer faces alone: which lies before which, and which side of each is seen."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from .palette import INK, PIN, PIN_INNER, TAIL, TAIL_INNER
from .scene import EDGE, back_to_front, paint

if TYPE_CHECKING:
    from .canvas import Canvas
    from .view import View

SIDES = {"tail": (TAIL, TAIL_INNER), "pin": (PIN, PIN_INNER)}  # outer, inner
__all__ = ["EDGE", "SIDES", "Sheet", "Sheets", "back_to_front"]


@dataclass(frozen=True)
class Sheet:
    """A flat convex piece of a board: points (n, 3), anticlockwise as seen from outside the box.

    inked: (n,) points of line width for the edge from each point to the next; 0 where it is not drawn, as at a cut.
    normal: unit vector out of the outer side.
    """

    board: str
    points: np.ndarray
    inked: np.ndarray
    normal: np.ndarray

    @classmethod
    def of(cls, board: str, outline: Any, inked: tuple[float, ...] = (EDGE, EDGE, EDGE, EDGE)) -> "Sheet":
        """A whole four-cornered sheet."""
        outline = np.asarray(outline, dtype=float)
        normal = np.cross(outline[2] - outline[0], outline[3] - outline[1])
        return cls(board, outline, np.array(inked, dtype=float), normal / np.linalg.norm(normal))


class Sheets:
    """The artist for sheets: one collection of fills, each followed by its own ink, so that nearer fills cover it."""

    def __init__(self, canvas: "Canvas") -> None:
        self.artist = canvas.polygons(joinstyle="round")

    def update(self, sheets: list[Sheet], view: "View", place: Callable) -> None:
        """Draw the sheets in the order given; `place` maps points (..., 3) in mm to pixels."""
        paint(self.artist, [(sheet, SIDES[sheet.board][0 if sheet.normal @ view.towards_viewer > 0 else 1], INK)
                            for sheet in sheets], place)
