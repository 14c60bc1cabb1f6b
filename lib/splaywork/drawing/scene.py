"""Flat faces of many solids in one picture: what is nearer hides what is further, at any view."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import ArrayLike

from ..common.planes import cross
from .palette import INK
from .strokes import Strokes

if TYPE_CHECKING:
    from matplotlib.collections import PolyCollection

    from .canvas import Canvas
    from .view import View

EDGE = 1.2  # points of line width round a board
_THIN = 1e-7  # mm: what lies closer to a plane lies in it
LIFT = 0.05  # mm by which a drawn line lies before its face


@dataclass(frozen=True)
class Facet:
    """A flat convex face: points (n, 3), anticlockwise as seen from outside; `fill` colour.

    inked: (n,) points of line width for the edge from each point to the next; 0 where it is not drawn. ink: its colour.
    """

    points: np.ndarray
    inked: np.ndarray
    normal: np.ndarray
    fill: str
    ink: str = INK

    @classmethod
    def of(cls, points: ArrayLike, fill: str, inked: float = EDGE, ink: str = INK) -> "Facet":
        """A face with all its edges inked alike."""
        return facets([points], [fill], inked, ink)[0]


def facets(faces: Any, fills: list[str], inked: float = EDGE, ink: str = INK) -> list[Facet]:
    """Facets from faces (n, corners, 3) with a fill each, all their edges inked equally."""
    faces = np.asarray(faces, dtype=float)
    normals = cross(faces[:, 1] - faces[:, 0], faces[:, 2] - faces[:, 1])
    normals /= np.sqrt((normals**2).sum(axis=1, keepdims=True))
    widths = np.full(faces.shape[1], inked)
    return [Facet(points, widths, normal, fill, ink) for points, normal, fill in zip(faces, normals, fills, strict=True)]


def ribbon(line: np.ndarray, normal: np.ndarray, width: float, colour: str = INK) -> Facet:
    """A drawn line (2, 3) on a face with that normal, as a facet `width` mm wide."""
    line, normal = np.asarray(line, dtype=float), np.asarray(normal, dtype=float)
    way = line[1] - line[0]
    aside = cross(normal, way)
    aside *= width / 2 / max(float(np.linalg.norm(aside)), 1e-12)
    corners = np.array([line[0] - aside, line[1] - aside, line[1] + aside, line[0] + aside]) + LIFT * normal
    return Facet(corners, np.zeros(4), normal, colour, colour)


def back_to_front(sheets: list, view: "View") -> list:
    """The sheets, or facets, in the order to paint them; those that pass through another's plane come in two pieces."""
    if len(sheets) < 2:
        return list(sheets)
    first, *rest = sheets
    normal = first.normal if first.normal @ view.towards_viewer > 0 else -first.normal
    behind, before = [], []
    for sheet in rest:
        heights = (sheet.points - first.points[0]) @ normal
        if heights.max() <= _THIN:
            behind.append(sheet)
        elif heights.min() >= -_THIN:
            before.append(sheet)
        else:
            behind.append(_part(sheet, -heights))
            before.append(_part(sheet, heights))
    return [*back_to_front(behind, view), first, *back_to_front(before, view)]


def _part(sheet, heights):
    """The part of the sheet where heights, one for each point, are not negative; the cut is not inked."""
    points, inked = [], []
    for index, height in enumerate(heights):
        after = (index + 1) % len(heights)
        crosses = (height >= 0) != (heights[after] >= 0)
        if height >= 0:
            points.append(sheet.points[index])
            inked.append(sheet.inked[index])
        if crosses:
            share = height / (height - heights[after])
            points.append(sheet.points[index] + share * (sheet.points[after] - sheet.points[index]))
            inked.append(sheet.inked[index] if height < 0 else 0)  # leaving, the next edge is the cut
    return replace(sheet, points=np.array(points), inked=np.array(inked))


class Scene:
    """The artist for facets: one collection of fills, each followed by its own ink, so that nearer fills cover it."""

    def __init__(self, canvas: "Canvas") -> None:
        self.artist = canvas.polygons(joinstyle="round")

    def update(self, facets: list[Facet], view: "View", place: Callable) -> None:
        """Draw the facets that turn to the viewer; `place` maps points (..., 3) in mm to pixels."""
        seen = [facet for facet in facets if facet.normal @ view.towards_viewer > 1e-9]
        paint(self.artist, [(facet, facet.fill, facet.ink) for facet in back_to_front(seen, view)], place)


def paint(artist: "PolyCollection", pieces: list[tuple], place: Callable) -> None:
    """Give an artist its pieces, (face, fill, ink), in the order to paint them."""
    strokes = Strokes()
    for piece, fill, ink in pieces:
        flat = place(piece.points)
        drawn = np.flatnonzero(piece.inked)
        strokes.add([flat], fill, fill, EDGE)  # a fill's own edge closes the seam between two pieces
        strokes.add(flat[np.stack([drawn, (drawn + 1) % len(flat)], axis=1)], "none", ink, piece.inked[drawn])
    strokes.give_to(artist, closed=True)
