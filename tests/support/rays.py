"""What lies on top in a picture of a joint, by rays cast at half-spaces."""

import numpy as np
from matplotlib.collections import PolyCollection
from matplotlib.colors import to_hex
from on_canvas import collections
from splaywork.drawing import palette
from splaywork.joint.picture import JOINT_FILLS


class Rays:
    """Both boards as the triangles of their closed meshes, looked at along parallel rays."""

    def __init__(self, joint, apart, view, way):
        boards = {"tail": joint.tail_board, "pin": joint.pin_board.moved(apart)}
        self.triangles, self.labels = [], []
        for board, cut in boards.items():
            vertices, triangles = cut.mesh()
            self.triangles.append(vertices[triangles])
            self.labels += [f"{board} {self.face_of(joint, board, corners)}"
                            for corners in vertices[triangles] - (apart * cut.withdrawal if board == "pin" else 0)]
        self.look(view, way)

    def look(self, view, way):
        """Place the triangles as the picture does; `way` points from them to the viewer."""
        self.triangles = np.concatenate(self.triangles)
        self.labels = np.array(self.labels, dtype=object)
        origin = view.place(np.zeros(3))
        self.axes = view.place(np.eye(3)) - origin
        assert np.allclose(way @ self.axes, 0, atol=1e-9), "the picture looks another way"
        assert np.cross(*self.axes.T) @ way > 0, "the picture is mirrored"
        self.seen = view.place(self.triangles)  # (t, 3, 2)
        self.nearness = self.triangles @ way  # (t, 3) mm towards the viewer

    @staticmethod
    def face_of(joint, board, corners):
        """Which face of its board, not drawn out, a triangle lies in."""
        other = "pin" if board == "tail" else "tail"
        kinds = {f"{board} {side}": side for side in ("outer", "inner", "bottom", "top", "end", "far end")}
        kinds[f"{other} inner"] = "shoulder"
        kinds |= {name: "cheek" for name in joint.planes if name.endswith("cheek")}
        return next(kind for name, kind in kinds.items() if abs(joint.planes[name].height_of(corners)).max() < 1e-6)

    def hits(self, pixels):
        """(n, t) nearness of each triangle at each position, −inf where the ray misses it."""
        a, b, c = self.seen.swapaxes(0, 1)
        u, v, w = b - a, c - a, pixels[:, None] - a
        area = u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]
        on_edge = abs(area) < 1e-9
        area = np.where(on_edge, 1, area)
        second = (w[..., 0] * v[:, 1] - w[..., 1] * v[:, 0]) / area
        third = (u[:, 0] * w[..., 1] - u[:, 1] * w[..., 0]) / area
        inside = (second >= 0) & (third >= 0) & (second + third <= 1) & ~on_edge
        at = self.nearness.T
        nearness = (1 - second - third) * at[0] + second * at[1] + third * at[2]
        return np.where(inside, nearness, -np.inf)

    def colours(self, pixels):
        """The fill that belongs at each position, "" where there is no wood."""
        hits = self.hits(pixels)
        best = hits.argmax(axis=1)
        fills = {f"{board} {face}": fill for board, faces in JOINT_FILLS.items() for face, fill in faces.items()}
        colours = np.array([fills[label] for label in self.labels[best]], dtype=object)
        colours[np.isneginf(hits.max(axis=1))] = ""
        return colours


def on_top(canvas, pixels):
    """Fill of the topmost polygon at each position; lines are passed over, and so is the bench."""
    found = np.full(len(pixels), "", dtype=object)
    for solid in collections(canvas, PolyCollection):
        fills = solid.get_facecolors()
        for path, fill in zip(solid.get_paths(), np.resize(fills, (len(solid.get_paths()), 4)), strict=True):
            if fill[3] and to_hex(fill) != palette.BENCH:
                found[path.contains_points(pixels)] = to_hex(fill)
    return found


def inside(shape, frame):
    return (shape >= np.array(frame[:2]) - 1e-6).all() and (shape <= np.array(frame[2:]) + 1e-6).all()
