"""Closed meshes as binary STL files, to print samples from."""

import numpy as np

from ..common.files import write_whole
from ..common.kinds import FilePath


def _checked_mesh(mesh):
    """(vertices, triangles) as arrays; ValueError unless the mesh is finite, closed and turned one way throughout."""
    vertices, triangles = np.asarray(mesh[0], dtype=float), np.asarray(mesh[1])
    if any(part.ndim != 2 or part.shape[1] != 3 or not len(part) for part in (vertices, triangles)):
        raise ValueError("A mesh is vertices of shape (n, 3) and triangles of shape (m, 3): pass what `mesh()` returns.")
    if not np.isfinite(vertices).all():
        raise ValueError("The mesh has a vertex that is not a finite number of mm, and can't be written.")
    if triangles.min() < 0 or triangles.max() >= len(vertices):
        raise ValueError(f"The mesh has a triangle that names none of its {len(vertices)} vertices: pass it whole.")
    edges = np.concatenate([triangles[:, [i, (i + 1) % 3]] for i in range(3)])
    there, back = (set(map(tuple, way.tolist())) for way in (edges, edges[:, ::-1]))
    if there != back or len(there) != len(edges):
        raise ValueError("The mesh isn't closed, so it isn't a solid: pass what `mesh()` returns, whole.")
    return vertices, triangles


def save_stl(path: FilePath, mesh: tuple[np.ndarray, np.ndarray]) -> None:
    """Write a mesh, (vertices (n, 3) in mm, triangles (m, 3)), as a binary STL file, whole or not at all.

    An existing file is replaced. ValueError for a mesh that isn't a closed solid, OSError when the disk refuses.

    >>> import splaywork as sw
    >>> from tempfile import TemporaryDirectory
    >>> joint = sw.Joint(sw.Corner(16, 11), height=120, tail_thickness=18, tails=3)
    >>> with TemporaryDirectory() as folder:
    ...     sw.save_stl(f"{folder}/tails.stl", joint.tail_board.mesh())
    """
    vertices, triangles = _checked_mesh(mesh)
    corners = vertices[triangles]
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    lengths = np.linalg.norm(normals, axis=1, keepdims=True)
    facets = np.zeros(len(triangles), dtype=[("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("extra", "<u2")])
    facets["normal"] = np.divide(normals, lengths, out=np.zeros_like(normals), where=lengths > 0)
    facets["corners"] = corners
    header = b"binary STL, lengths in mm".ljust(80)
    write_whole(path, header + np.uint32(len(triangles)).astype("<u4").tobytes() + facets.tobytes())
