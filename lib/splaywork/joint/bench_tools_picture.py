"""Simple shapes of our own for the tools at the bench, laid flat on a drawing; sizes in mm of the drawing."""

from typing import Any

import numpy as np

from ..common.rotations import turned
from .bench_setups import unit_vector
from .bench_solids_picture import Shape, Solid, prism


def line(kind: str, *points: Any, name: str = "") -> Shape:
    """A line through points, as a `Shape`."""
    return Shape(kind, np.array(points, dtype=float), name)


def arrow(*points: Any, size: Any = 5.0) -> list[Shape]:
    """A line with a barbed head at its last point, as `Shape`s."""
    along = np.array(points, dtype=float)
    *_, before, tip = along
    back = unit_vector(before - tip) * size
    side = np.array([-back[1], back[0]]) * 0.45
    return [Shape("arrow", along), line("arrow", tip + back + side, tip, tip + back - side)]


def flat_tool(kind: str, at: Any, angle: Any, outline: Any) -> Shape:
    """A tool's outline (n, 2), its tip at the origin and its body along +x, laid with the tip `at`, turned by degrees."""
    return Shape(kind, np.array(outline, dtype=float) @ turned(angle) + at, kind)


def outlined(shape: Shape, name: str = "") -> list[Shape]:
    """A filled shape and its outline."""
    closed = np.vstack([shape.points, shape.points[:1]])
    return [Shape(shape.kind, shape.points, name or shape.name), Shape("edge", closed, name or shape.name)]


def pencil(at: Any, angle: Any, long: float = 40.0) -> list[Shape]:
    """A pencil whose point is `at`, leaning back at an angle in degrees."""
    thick = long * 0.055
    return [
        *outlined(
            flat_tool("handle", at, angle, [(long * 0.2, -thick), (long, -thick), (long, thick), (long * 0.2, thick)]), "pencil"
        ),
        *outlined(flat_tool("steel", at, angle, [(0, 0), (long * 0.2, thick), (long * 0.2, -thick)]), "pencil"),
    ]


def knife(at: Any, angle: Any, long: float = 36.0) -> list[Shape]:
    """A marking knife whose point is `at`."""
    thick = long * 0.06
    return [
        *outlined(
            flat_tool("handle", at, angle, [(long * 0.42, -thick), (long, -thick), (long, thick), (long * 0.42, thick)]),
            "knife",
        ),
        *outlined(flat_tool("steel", at, angle, [(0, 0), (long * 0.42, thick), (long * 0.42, -thick * 0.5)]), "knife"),
    ]


def marking_gauge(point: Any, edge: Any, face: Any, far: Any) -> list[Shape]:
    """A marking gauge seen from the side, its pin at a point of a face, its fence on an edge `far` mm away.

    edge: direction (2,) from the pin to that edge. face: direction (2,) out of the face.
    """
    point, edge, face = np.asarray(point, dtype=float), unit_vector(np.asarray(edge)), unit_vector(np.asarray(face))

    def flat(*places):
        return np.array([point + along * edge + out * face for along, out in places])

    fence = far, far + 6
    return [
        *outlined(Shape("handle", flat((-9, 3), (far + 26, 3), (far + 26, 7), (-9, 7))), "gauge stem"),
        *outlined(Shape("prop", flat((fence[0], -9), (fence[1], -9), (fence[1], 15), (fence[0], 15))), "gauge fence"),
        Shape("edge", flat((0, 0), (0, 3)), "gauge pin"),
    ]


def chisel_standing(foot: np.ndarray, along: np.ndarray, back: np.ndarray, beside: np.ndarray, wide: float,
                    long: float) -> list[Solid]:
    """A chisel's blade and handle, one corner of its cutting edge at `foot` (3,).

    along: unit (3,) up the blade. back: unit (3,), square to the flat back, from there into the steel. beside: (3,), from the
    blade past the side that stands on `foot`. wide, long: mm.
    """
    across, thick, middle = unit_vector(np.cross(along, back)), 0.05 * long, 0.5 * long
    across = -across if across @ beside > 0 else across
    blade = [(0, 0), (middle, 0), (middle, thick), (2 * thick, thick)]
    grip = [(middle, -0.6 * thick), (long, -0.6 * thick), (long, 1.7 * thick), (middle, 1.7 * thick)]

    def solid(kind, outline, start, width):
        return prism("chisel", kind, [foot + up * along + off * back + start * across for up, off in outline], width * across)

    return [solid("steel", blade, 0.0, wide), solid("handle", grip, -0.1 * wide, 1.2 * wide)]


def bevel(pivot: np.ndarray, stock: Any, blade: Any, size: Any = 60.0, round_it: bool = False) -> list[Shape]:
    """A bevel gauge laid flat: its stock along one direction (2,) from the pivot, its blade along another.

    round_it: whether it goes round the wood, its blade outside too, and not over it.
    """
    stock, blade = unit_vector(np.asarray(stock, dtype=float)), unit_vector(np.asarray(blade, dtype=float))
    away = np.array([-stock[1], stock[0]])
    away = away if away @ blade < 0 else -away  # the stock lies outside the edge, the blade over the wood
    beside = np.array([-blade[1], blade[0]])
    beside = beside if (beside @ stock > 0) != round_it else -beside
    thick, wide = 0.13 * size, 0.1 * size
    body = [
        pivot - 0.12 * size * stock,
        pivot + size * stock,
        pivot + size * stock + thick * 1.6 * away,
        pivot - 0.12 * size * stock + thick * 1.6 * away,
    ]
    leaf = [
        pivot - 0.12 * size * blade,
        pivot + 1.5 * size * blade,
        pivot + 1.5 * size * blade + wide * beside,
        pivot - 0.12 * size * blade + wide * beside,
    ]
    return [*outlined(Shape("steel", np.array(leaf)), "bevel blade"), *outlined(Shape("tool", np.array(body)), "bevel stock")]


def try_square(corner: Any, stock: Any, blade: Any, size: Any = 60.0, long: float = 0.7) -> list[Shape]:
    """A try square laid flat: its blade's edge runs from the corner along `blade`, its stock, `long` sizes, along `stock`."""
    stock, blade = unit_vector(np.asarray(stock, dtype=float)), unit_vector(np.asarray(blade, dtype=float))
    wide = 0.12 * size
    leaf = [corner, corner + size * blade, corner + size * blade + wide * stock, corner + wide * stock]
    far, down = long * size * stock, 0.2 * size * blade
    body = [corner, corner + far, corner + far - down, corner - down]
    return [*outlined(Shape("steel", np.array(leaf)), "square blade"), *outlined(Shape("tool", np.array(body)), "square stock")]
