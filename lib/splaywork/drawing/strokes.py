"""Fills and lines of one collection, painted from the furthest to the nearest, so that nearer ones cover what lies behind."""

from functools import cache
from typing import Any

import numpy as np
from matplotlib.collections import PolyCollection
from matplotlib.colors import to_rgba
from numpy.typing import ArrayLike

from .canvas import Quads

_rgba = cache(to_rgba)


class Strokes:
    """Outlines with their looks; those of a lower rank are painted first, and those of one rank in the order given.

    Colours are a name, names, or RGBA (n, 4), one for each shape or one for all; widths are points.
    """

    def __init__(self) -> None:
        self._shapes: list[Any] = []
        self._looks: list[tuple] = []

    def add(self, shapes: Any, fill: Any, ink: Any, width: ArrayLike, rank: ArrayLike = 0, dash: Any = "solid") -> None:
        """Outlines (n, corners, 2), or a list of outlines (corners, 2); "none" for no fill or no ink."""
        count = len(shapes)
        if count:
            self._shapes.append(shapes)
            numbers = (np.broadcast_to(np.asarray(each, dtype=float), count) for each in (width, rank))
            self._looks.append((_colours(fill, count), _colours(ink, count), *numbers, [dash] * count))

    def fill(self, shapes: Any, colours: Any, rank: ArrayLike = 0) -> None:
        """Outlines without ink."""
        self.add(shapes, colours, "none", 0, rank)

    def lines(self, ends: ArrayLike, colours: Any, width: ArrayLike, rank: ArrayLike = 0, dash: Any = "solid") -> None:
        """Lines (n, 2, 2) as outlines of four corners, whose last three fall together."""
        self.add(np.asarray(ends)[:, [0, 1, 1, 1]], "none", colours, width, rank, dash)

    def give_to(self, collection: PolyCollection, closed: bool = False) -> None:
        """Draw them all with a collection; closed: ink their last edge too. For a `Quads` all outlines have four corners."""
        columns: Any = zip(*self._looks, strict=True) if self._looks else ([],) * 5
        fills, inks, wide, ranks, dashes = columns
        order = np.argsort(np.concatenate([*ranks, []]), kind="stable")
        widths = np.concatenate([*wide, []])[order]
        if isinstance(collection, Quads):
            collection.set_quads(np.concatenate([np.empty((0, 4, 2)), *self._shapes])[order], widths)
        else:
            shapes = [shape for some in self._shapes for shape in some]
            collection.set_verts([shapes[number] for number in order], closed=closed)
            collection.set_linewidth(widths.tolist())
        none = np.empty((0, 4))
        collection.set(facecolor=np.concatenate([none, *fills])[order], edgecolor=np.concatenate([none, *inks])[order])
        kinds = [dash for some in dashes for dash in some]
        plain = all(dash == "solid" for dash in kinds)
        collection.set_linestyle("solid" if plain else [kinds[number] for number in order])


def rgba(names: Any) -> np.ndarray:
    """RGBA (..., 4) of colours' names (...)."""
    return np.array([_rgba(name) for name in np.ravel(names)]).reshape(*np.shape(names), 4)


def _colours(given, count):
    return np.broadcast_to(rgba(given) if isinstance(given, str | list) else given, (count, 4))
