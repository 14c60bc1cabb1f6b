"""The two boards of a corner as stubs: solid blocks standing on the bench, and their outer faces laid flat."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..common import hexahedra
from ..common.checks import Comparable
from ..common.planes import Plane, meet

if TYPE_CHECKING:
    from .corner import Corner

FACES = ("outer", "inner", "bottom", "far end", "top", "corner")


@dataclass(frozen=True, eq=False)
class Block(Comparable):
    """A board as a six-faced solid: the same outline traced on its outer and on its inner face.

    vertices: (8, 3), outer outline then inner, each counter-clockwise as seen from outside the box.
    names: the six faces in the order of `faces`.
    """

    vertices: np.ndarray
    names: tuple

    @property
    def faces(self) -> np.ndarray:
        """Corner points of the six faces, shape (6, 4, 3), counter-clockwise as seen from outside the wood."""
        return self.vertices[hexahedra.FACES]


@dataclass(frozen=True, eq=False)
class Stubs(Comparable):
    """Both boards of a corner, and the planes they share."""

    tail: Block
    pin: Block
    corner_line: np.ndarray  # (2, 3): foot and top of the outer corner line
    seam: Plane  # between the two blocks; its normal points to the pin board


def face_planes(corner: "Corner", board: str, thickness: float) -> tuple[Plane, ...]:
    """(outer, inner) planes of "tail" or "pin", normals out of the wood; the outer one passes through the origin."""
    outer = Plane(corner.vector(f"{board}_normal"))
    return outer, outer.moved(-thickness).turned()


def rims(height: float) -> tuple[Plane, ...]:
    """(bottom, top) level planes of a box of that height standing on the bench."""
    up = np.array([0.0, 0.0, 1.0])
    return Plane(-up, 0.0), Plane(up, float(height))


def stubs(corner: "Corner", height: float, thickness: float, length: float) -> Stubs:
    """The two boards of a scalar `corner`, as if already joined, each showing at least `length` of inner face.

    height (vertical), thickness (square to the faces) and length in mm. The blocks touch in the seam, the plane through
    the outer and the inner corner line: together they are the solid that the joint makes. ValueError for a size that is
    not positive.
    """
    for name, size in (("height", height), ("thickness", thickness), ("length", length)):
        if not size > 0:
            raise ValueError(f"The {name} is {size:g} mm, and a board needs more than 0.")
    bottom, top = rims(height)
    planes = {board: face_planes(corner, board, thickness) for board in ("tail", "pin")}
    ends = [[meet(planes["tail"][side], planes["pin"][side], rim) for rim in (bottom, top)] for side in (0, 1)]
    (foot, head), (inner_foot, _) = ends
    seam = Plane.through(foot, np.cross(head - foot, inner_foot - foot))
    blocks = {}
    for board in ("tail", "pin"):
        along = corner.vector(f"{board}_level")
        far = Plane.through(along * (length + max(float(point @ along) for side in ends for point in side)), along)
        far_points = [[meet(planes[board][side], far, rim) for rim in (bottom, top)] for side in (0, 1)]
        outlines = [[ends[side][0], far_points[side][0], far_points[side][1], ends[side][1]] for side in (0, 1)]
        names = FACES
        if board == "pin":  # seen from outside, its corner end is on the other hand
            outlines = [[outline[index] for index in (0, 3, 2, 1)] for outline in outlines]
            names = ("outer", "inner", "corner", "top", "far end", "bottom")
        blocks[board] = Block(np.array([*outlines[0], *outlines[1]]), names)
    return Stubs(blocks["tail"], blocks["pin"], np.array([foot, head]), seam)


def flat_face(corner: "Corner", board: str, height: float, length: float) -> np.ndarray:
    """Outer face of a stub laid flat, shape (4, 2): (along the bottom edge from the corner, up the face), in mm.

    In order: foot of the end line, far bottom corner, far top corner, head of the end line. `length`: bottom edge.
    """
    up = corner.slant_width(height, board)
    return np.array([[0, 0], [length, 0], [length, up], [-up * np.tan(np.radians(corner.end_line(board))), up]])
