"""Looking at solids from any side: a parallel projection, and which faces hide which."""

from dataclasses import dataclass
from typing import Any

import numpy as np

LINE_ROOM = 2.5  # pixels kept free inside a frame: half the heaviest line


@dataclass(frozen=True)
class View:
    """A parallel view. bearing: degrees in plan, from +x towards +y, at which the viewer stands; tilt: degrees that
    the viewer looks down from (90 straight from above, negative from below the bench)."""

    bearing: float
    tilt: float

    @property
    def towards_viewer(self) -> np.ndarray:
        """Unit 3-vector from the scene to the viewer."""
        turn, tilt = np.radians([self.bearing, self.tilt])
        return np.array([np.cos(turn) * np.cos(tilt), np.sin(turn) * np.cos(tilt), np.sin(tilt)])

    def flat(self, points: Any) -> np.ndarray:
        """Points (..., 3) as seen, (..., 2): right and up on the picture, in the same unit."""
        turn, tilt = np.radians([self.bearing, self.tilt])
        right = np.array([-np.sin(turn), np.cos(turn), 0])
        up = np.array([-np.cos(turn) * np.sin(tilt), -np.sin(turn) * np.sin(tilt), np.cos(tilt)])
        return np.asarray(points) @ np.stack([right, up], axis=-1)


def facing(faces: np.ndarray, view: View) -> np.ndarray:
    """Which flat faces (n, corners, 3), counter-clockwise from outside, turn to the viewer: (n,) booleans."""
    faces = np.asarray(faces)
    normals = np.cross(faces[:, 1] - faces[:, 0], faces[:, 2] - faces[:, 1])
    return normals @ view.towards_viewer > 1e-9 * np.linalg.norm(normals, axis=1)


def fit(points: Any, frame: Any, largest: float) -> tuple:
    """(scale, shift) that centres flat points (n, 2) in the frame (left, bottom, right, top), in pixels.

    The scale is in pixels per unit: `largest`, or what fits, so that a line through the points stays inside too.
    """
    low, high = np.min(points, axis=0), np.max(points, axis=0)
    frame = np.asarray(frame, dtype=float).reshape(2, 2) + LINE_ROOM * np.array([[1], [-1]])
    scale = min(largest, *((frame[1] - frame[0]) / np.maximum(high - low, 1e-9)))
    return scale, (frame[0] + frame[1] - scale * (low + high)) / 2


def on_circle(radians: Any) -> np.ndarray:
    """Points (..., 2) of the circle of radius 1 about the origin, at angles (...) from +x towards +y."""
    return np.stack([np.cos(radians), np.sin(radians)], axis=-1)


def bench_under(points: Any, beside: float = 12) -> np.ndarray:
    """A level rectangle that points (n, 3) stand on, `beside` mm past the lowest, as corners (4, 3) along the axes."""
    level = points[:, 2].min()
    lowest = points[points[:, 2] < level + 1e-9][:, :2]
    (left, near), (right, far) = lowest.min(axis=0) - beside, lowest.max(axis=0) + beside
    return np.array([[left, near, level], [right, near, level], [right, far, level], [left, far, level]])
