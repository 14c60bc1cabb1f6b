"""Solids for the tests, as manifold3d bodies."""

import manifold3d
import numpy as np


def solid(mesh):
    """The mesh as a manifold3d solid; fails unless it is closed and turned outward."""
    vertices, triangles = mesh
    made = manifold3d.Manifold(manifold3d.Mesh64(np.ascontiguousarray(vertices), np.uint64(triangles)))
    assert made.status() == manifold3d.Error.NoError
    assert made.volume() > 0
    return made


def overlap(first, second):
    """Volume that both have, the smaller of two routes: boolean rounding spares one of them."""
    return min((first ^ second).volume(), abs(first.volume() + second.volume() - (first + second).volume()))


def block_solid(block, step=(0, 0, 0)):
    """A `Block` as a manifold3d body, moved by a step: each of its four-sided faces parted in two."""
    order = np.array([(0, 1, 2, 3), (7, 6, 5, 4), (0, 4, 5, 1), (1, 5, 6, 2), (2, 6, 7, 3), (3, 7, 4, 0)])
    return solid((block.vertices + step, np.concatenate([order[:, [0, 1, 2]], order[:, [0, 2, 3]]])))


def gap_between(first, second, most=100.0):
    """The least distance between two bodies, mm."""
    return first.min_gap(second, most)
