"""Planes and the points where three of them meet: all that a board's solid is made of."""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from .checks import Comparable
from .kinds import Computed
from .tolerances import PARALLEL


@dataclass(frozen=True, eq=False)
class Plane(Comparable):
    """All points x with normal·x = offset. `normal`: unit 3-vector, for a face of a board pointing out of the wood."""

    normal: np.ndarray
    offset: float = 0.0

    @classmethod
    def through(cls, point: ArrayLike, normal: np.ndarray) -> "Plane":
        """The plane through `point`, square to `normal` (any length)."""
        normal = np.asarray(normal) / np.linalg.norm(normal)
        return cls(normal, float(normal @ np.asarray(point)))

    def moved(self, distance: float) -> "Plane":
        """The parallel plane, `distance` further along the normal."""
        return Plane(self.normal, self.offset + distance)

    def turned(self) -> "Plane":
        """The same plane, seen from its other side."""
        return Plane(-self.normal, -self.offset)

    def height_of(self, points: Any) -> Computed:
        """Signed distance of points (..., 3) from the plane, positive on the side of the normal."""
        return np.asarray(points) @ self.normal - self.offset


def cross(one: Any, two: Any) -> np.ndarray:
    """one × two, for vectors (..., 3): np.cross takes ten times as long on a few."""
    one, two = (np.asarray(each, dtype=float) for each in (one, two))
    return one[..., _NEXT] * two[..., _LAST] - one[..., _LAST] * two[..., _NEXT]


_NEXT, _LAST = np.array([1, 2, 0]), np.array([2, 0, 1])


def meet(first: Plane, second: Plane, third: Plane) -> np.ndarray:
    """The point, shape (3,), that lies in all three planes; ValueError when they share no single point."""
    planes = (first, second, third)
    normals = np.array([plane.normal for plane in planes])
    if abs(normals[0] @ cross(normals[1], normals[2])) < PARALLEL:  # the box that they span is flat, but for rounding
        raise ValueError("The three planes share no single point: two are parallel, or all three run along one line.")
    return np.linalg.solve(normals, [plane.offset for plane in planes])


def meet_all(planes: dict, triples: list) -> np.ndarray:
    """The points, shape (k, 3), where k triples of planes meet: `planes` by name, `triples` of those names.

    numpy.linalg.LinAlgError where two planes of a triple are parallel.
    """
    index = {name: number for number, name in enumerate(planes)}
    normals = np.array([plane.normal for plane in planes.values()])
    offsets = np.array([plane.offset for plane in planes.values()])
    chosen = np.array([[index[name] for name in triple] for triple in triples])
    return np.linalg.solve(normals[chosen], offsets[chosen][..., None])[..., 0]
