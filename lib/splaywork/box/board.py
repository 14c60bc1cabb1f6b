"""One board of a whole box, its joints cut at both ends: a closed solid in its place."""

from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from typing import Any

import numpy as np

from ..common.checks import Comparable
from ..joint.solids import closed_triangles, flat_faces


def _ends(carries, first, tails, way):
    """What one end of a board is made of, as corner numbers: (baseline, pieces that stand out, half pins' corners).

    first: the corner where the end begins; way: 1 for the right end, which is walked from the bottom up. The baseline
    runs in the order of walking, each piece is four corners.
    """
    if carries == "tails":
        cheeks = [[first + 1 + 4 * tail + corner for corner in range(4)] for tail in range(tails)]
        line = [first, *(corner for tail in cheeks for corner in (tail[0], tail[-1])), first + 4 * tails + 1]
        return line, cheeks, ()
    line = [first + 2 + 4 * tail + side for tail in range(tails) for side in (0, 1)]
    pins = [[first + 3 + 4 * pin + corner for corner in range(4)] for pin in range(tails - 1)]
    return line, pins, (first, first + 1, first + 4 * tails, first + 4 * tails + 1)[::way]


@cache
def _triangles(carries, left, right):
    """Triangles of the closed solid with so many tails at either end, shape (k, 3), as corner numbers."""
    corners = 4 + 4 * (left + right)
    right_line, right_pieces, right_half = _ends(carries, 1, right, 1)
    left_line, left_pieces, left_half = _ends(carries, 3 + 4 * right, left, -1)
    left_line, left_half = ([number % corners for number in numbers] for numbers in (left_line, left_half))
    # The wood between the two baselines is one flat four-sided piece: a fan from each of two opposite corners.
    outer = [(right_line[0], *pair) for pair in pairwise(left_line)]
    outer += [(left_line[0], *pair) for pair in pairwise(right_line)]
    for piece in left_pieces + right_pieces:
        a, b, c, d = (number % corners for number in piece)
        outer += [(a, b, c), (a, c, d)]
    if carries == "pins":  # and the strips that end in the half pins
        bottom, low, high, top = right_half
        left_bottom, left_low, left_high, left_top = left_half
        outer += [(left_bottom, bottom, right_line[0]), (bottom, low, right_line[0]),
                  (left_bottom, right_line[0], left_line[-1]), (left_bottom, left_line[-1], left_low),
                  (right_line[-1], high, top), (right_line[-1], top, left_line[0]),
                  (left_line[0], top, left_top), (left_line[0], left_top, left_high)]
    return closed_triangles(outer, corners)


@dataclass(frozen=True, eq=False)
class BoxBoard(Comparable):
    """One board of a box: the same outline traced on its outer and on its inner face, joined by flat sides.

    Left and right are as seen from outside the box with the board upright.
    name: "front", "right", "back" or "left". carries: "tails" or "pins". tails: (2,), how many at its left and right
    end. outlines: (2, m, 3), outer then inner, both counter-clockwise as seen from outside the box, from the bottom
    left corner on. sides: the m names of the flat sides. blank: (2, 2, 2, 3), the corners of the board with its ends
    sawn and no joint cut, by face (outer, inner), end (left, right) and rim (bottom, top). end_lines, baselines: the
    same, where the end lines and the baselines meet the rims. axes: (3, 3), unit vectors to the right along the level
    edge, straight up the face, and out of the outer face. Lengths in mm, in the axes of `Box`.
    """

    name: str
    carries: str
    tails: tuple
    outlines: np.ndarray
    sides: tuple
    blank: np.ndarray
    end_lines: np.ndarray
    baselines: np.ndarray
    axes: np.ndarray

    @property
    def faces(self) -> tuple:
        """(name, corners (k, 3)) of every flat face, counter-clockwise as seen from outside the wood."""
        return flat_faces(self.outlines, self.sides)

    def mesh(self) -> tuple[np.ndarray, np.ndarray]:
        """(vertices (n, 3) in mm, triangles (k, 3)): closed, each triangle counter-clockwise as seen from outside."""
        return self.outlines.reshape(-1, 3), _triangles(self.carries, *self.tails)

    @property
    def volume(self) -> float:
        """Wood that is left when the joints are cut, mm³."""
        vertices, triangles = self.mesh()
        first, second, third = np.moveaxis((vertices - vertices[0])[triangles], 1, 0)
        return float(np.sum(first * np.cross(second, third)) / 6)

    def in_board(self, points: Any) -> np.ndarray:
        """Points (..., 3) as (along to the right, up the face, out of it), from the bottom of the left end line, mm."""
        return (np.asarray(points) - self.end_lines[0, 0, 0]) @ self.axes.T
