"""One corner of a box: whose tails and pins meet there, and how the corner is turned into its place."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from ..common.checks import Comparable
from ..common.planes import Plane
from ..joint.joint import Joint

if TYPE_CHECKING:
    from ..corner.corner import Corner


@dataclass(frozen=True, eq=False)
class BoxCorner(Comparable):
    """One corner of a box: whose tails and pins, the joint, and how it is turned into its place.

    name: "front left" and so on. tail, pin: the boards that carry its tails and its pins. turn: (3, 3), from the corner's
    axes (as in `formulas.corner`) to the box's; a reflection where `mirrored`. bottom: (3,), where its corner line starts, mm.
    """

    name: str
    tail: str
    pin: str
    joint: Joint
    turn: np.ndarray
    bottom: np.ndarray

    @property
    def corner(self) -> "Corner":
        """The corner in numbers."""
        return self.joint.corner

    @property
    def mirrored(self) -> bool:
        """Whether it is laid out left for right: the tail board has this corner at its right end."""
        return bool(np.linalg.det(self.turn) < 0)

    def place(self, points: Any) -> np.ndarray:
        """Points (..., 3) of the corner, in the axes of `formulas.corner`, where they are in the box."""
        return np.asarray(points) @ self.turn.T + self.bottom

    def place_plane(self, plane: Plane) -> Plane:
        """A plane of the joint, where it is in the box."""
        normal = self.turn @ plane.normal
        return Plane(normal, plane.offset + float(normal @ self.bottom))
