"""Wood and tools as simple convex solids, and which of them to draw first: what the drawings of the bench steps are made of."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import ArrayLike

from ..drawing.view import facing
from .pieces import EDGES, FACES, cut_pieces

if TYPE_CHECKING:
    from ..drawing.view import View
    from .solids import CutBoard

_NEAR = 1e-6  # mm: what lies closer to a plane lies in it
# A hexahedron's faces, from corners 0…3 of one side and 4…7 of the other, lying over them.
_SIDES = ((0, 1, 2, 3), (7, 6, 5, 4), (0, 4, 5, 1), (1, 5, 6, 2), (2, 6, 7, 3), (3, 7, 4, 0))


@dataclass(frozen=True)
class Shape:
    """A flat shape of a drawing: points (n, 2) in mm, filled or a line by its kind. name: what it is."""

    kind: str
    points: np.ndarray
    name: str = ""


@dataclass(frozen=True)
class Face:
    """A face of a solid: corners (n, 3) anticlockwise from outside; kind "" where it is not drawn; inked: (n,) edges."""

    kind: str
    corners: np.ndarray
    inked: tuple


@dataclass(frozen=True)
class Solid:
    """A convex solid: its faces, and marks (`Shape`s in space, with the number of the face that each lies on)."""

    name: str
    faces: tuple
    marks: tuple = ()

    @property
    def points(self) -> np.ndarray:
        """All corners, (k, 3)."""
        return np.concatenate([face.corners for face in self.faces])

    def moved(self, move: Callable) -> "Solid":
        """The solid with a function of points (..., 3) done to it that neither bends nor mirrors."""
        faces = tuple(replace(face, corners=move(face.corners)) for face in self.faces)
        return replace(
            self, faces=faces, marks=tuple((replace(mark, points=move(mark.points)), face) for mark, face in self.marks)
        )


def _outward(faces):
    """Faces turned so that each is anticlockwise seen from outside the convex solid that they close."""
    middle = np.mean([corners.mean(axis=0) for _, corners in faces], axis=0)
    turned = []
    for kind, corners in faces:
        normal = sum(np.cross(corners[i] - corners[0], corners[i + 1] - corners[0]) for i in range(1, len(corners) - 1))
        corners = corners if normal @ (corners.mean(axis=0) - middle) > 0 else corners[::-1]
        turned.append(Face(kind, corners, (True,) * len(corners)))
    return tuple(turned)


def prism(name: str, kind: str, outline: Any, along: Any) -> Solid:
    """The solid that an outline (n, 3) sweeps on its way `along` (3,); kind: of all faces, or one for each.

    Faces in order: the outline, the outline at its new place, and the sides from each corner to the next.
    """
    outline, along = np.asarray(outline, dtype=float), np.asarray(along, dtype=float)
    following = np.roll(outline, -1, axis=0)
    faces = [outline, outline + along, *np.stack([outline, following, following + along, outline + along], axis=1)]
    kinds = [kind] * len(faces) if isinstance(kind, str) else kind
    return Solid(name, _outward(list(zip(kinds, faces, strict=True))))


def around(points: np.ndarray) -> np.ndarray:
    """The corners of the convex outline of flat points (n, 2), anticlockwise."""
    points = np.unique(np.round(points, 9), axis=0)  # from the left, and upwards

    def chain(points):
        kept = []
        for point in points:
            while len(kept) > 1 and np.linalg.det([kept[-1] - kept[-2], point - kept[-1]]) <= 1e-9:
                kept.pop()
            kept.append(point)
        return kept[:-1]

    return np.array([*chain(points), *chain(points[::-1])])


def block(name: str, kind: str, corner: ArrayLike, x: ArrayLike, y: ArrayLike, z: ArrayLike) -> Solid:
    """A box from one corner along three vectors (3,)."""
    foot, along, across, through = (np.asarray(vector, dtype=float) for vector in (corner, x, y, z))
    return prism(name, kind, [foot, foot + along, foot + along + across, foot + across], through)


def plank(board: str, corners: Any, marks: Any = ()) -> Solid:
    """A board with eight corners (2, 2, 2, 3): by face (outer, inner), end (near, far) and rim (bottom, top).

    marks: (name, kind, points (k, 3), face), the face by its name.
    """
    outline = [corners[0, end, rim] for end, rim in ((0, 0), (1, 0), (1, 1), (0, 1))]
    under = [corners[1, end, rim] for end, rim in ((0, 0), (1, 0), (1, 1), (0, 1))]
    points = np.array([*outline, *under])
    names = ("outer", "inner", "bottom", "far end", "top", "end")
    kinds = [f"{board} {name}" for name in names]
    faces = _outward([(kind, points[list(side)]) for kind, side in zip(kinds, _SIDES, strict=True)])
    marked = tuple((Shape(kind, np.asarray(line), name), names.index(face)) for name, kind, line, face in marks)
    return Solid(f"{board} board", faces, marked)


def bar(name: str, kind: str, corners: np.ndarray) -> Solid:
    """A six-sided solid from corners as of `plank`, all of one kind."""
    points = np.array([corners[side, end, rim] for side in (0, 1) for end, rim in ((0, 0), (1, 0), (1, 1), (0, 1))])
    return Solid(name, _outward([(kind, points[list(side)]) for side in _SIDES]))


def jointed(cut: "CutBoard", marks: Any = ()) -> list[Solid]:
    """A `CutBoard` as its convex pieces, a Solid each; marks as of `plank`, on the faces of the first."""
    pieces = cut_pieces(cut)
    solids = []
    for number, (corners, names, inked) in enumerate(zip(pieces.corners, pieces.names, pieces.inked, strict=True)):
        faces = []
        for side, name in zip(FACES, names, strict=True):
            edges = [frozenset(pair) for pair in zip(side, np.roll(side, -1), strict=True)]
            drawn = {frozenset(edge) for edge, ink in zip(EDGES, inked, strict=True) if ink}
            faces.append(Face(f"{cut.board} {name}" if name else "", corners[side], tuple(edge in drawn for edge in edges)))
        names = list(names)
        marked = tuple((Shape(kind, np.asarray(line), name), names.index(face)) for name, kind, line, face in marks)
        solids.append(Solid(f"{cut.board} board", tuple(faces), marked if number == 0 else ()))
    return solids


def _nearer(first, second, towards):
    """1 when the first solid lies nearer to the viewer than the second, −1 when further; 0 when neither hides the other.

    Where planes between them put either in front of the other, no line of sight meets both.
    """
    found = set()
    for one, two, sign in ((first, second, 1), (second, first, -1)):
        points = two.points
        for face in one.faces:
            corners = face.corners
            normal = np.cross(corners[1] - corners[0], corners[2] - corners[0])
            normal = normal / np.linalg.norm(normal)
            if ((points - corners[0]) @ normal).min() > -_NEAR:  # all of the other lies beyond this face
                facing_us = normal @ towards
                if abs(facing_us) > 1e-9:
                    found.add(-sign if facing_us > 0 else sign)
    return found.pop() if len(found) == 1 else 0


def _apart(first, second):
    """Whether two convex outlines (n, 2), anticlockwise, have no more than an edge in common."""
    for one, two in ((first, second), (second, first)):
        edges = np.roll(one, -1, axis=0) - one
        out = np.stack([edges[:, 1], -edges[:, 0]], axis=1)
        if (((two @ out.T).min(axis=0) - np.sum(one * out, axis=1)) > -_NEAR).any():
            return True
    return False


def back_to_front(solids: Any, view: "View") -> list[Solid]:
    """The solids in the order in which to draw them, each over those that it hides."""
    outlines = [around(view.flat(solid.points)) for solid in solids]
    boxes = [(flat.min(axis=0), flat.max(axis=0)) for flat in outlines]
    behind: dict[int, set[int]] = {number: set() for number in range(len(solids))}
    for i, first in enumerate(solids):
        for j in range(i + 1, len(solids)):
            (low, high), (low_too, high_too) = boxes[i], boxes[j]
            if (low < high_too).all() and (low_too < high).all() and not _apart(outlines[i], outlines[j]):
                order = _nearer(first, solids[j], view.towards_viewer)
                if order:
                    behind[i if order > 0 else j].add(j if order > 0 else i)
    depth = [solid.points.mean(axis=0) @ view.towards_viewer for solid in solids]
    left, order = set(behind), []
    while left:
        free = [number for number in left if not behind[number] & left] or list(left)
        order.append(min(free, key=depth.__getitem__))
        left.remove(order[-1])
    return [solids[number] for number in order]


def seen(solids: Any, view: "View") -> list[Shape]:
    """The solids as flat `Shape`s in drawing order: faces that turn to the viewer, their edges, and what is marked on them."""
    shapes = []
    for solid in back_to_front(solids, view):
        shown = [bool(face.kind) and bool(facing(face.corners[None], view)[0]) for face in solid.faces]
        for face, visible in zip(solid.faces, shown, strict=True):
            if visible:
                shapes.append(Shape(face.kind, view.flat(face.corners), solid.name))
                flat = view.flat(face.corners)
                shapes += [Shape("edge", flat[[i, (i + 1) % len(flat)]], solid.name) for i in np.flatnonzero(face.inked)]
        shapes += [Shape(mark.kind, view.flat(mark.points), mark.name) for mark, face in solid.marks if shown[face]]
    return shapes
