"""A saw by rotations: how a board lies on the table, and where the blade stands."""

import numpy as np
from scipy.spatial.transform import Rotation
from splaywork.box.box import NAMES


def tan(degrees):
    return np.tan(np.radians(degrees))


def cos(degrees):
    return np.cos(np.radians(degrees))


def sin(degrees):
    return np.sin(np.radians(degrees))


def board_axes(box, name):
    """Along to the right, up the face and out of it, shape (3, 3), by rotations."""
    turn = Rotation.from_euler("ZX", [90 * NAMES.index(name), box.lean(name)], degrees=True)
    return turn.apply([[1, 0, 0], [0, 0, 1], [0, -1, 0]])


def blade(step):
    """Normal of the blade's plane, to its right: a blade that is tilted left leans its top to −X."""
    turn = Rotation.from_euler("Y", step.blade_tilt * (-1 if step.saw_tilts == "left" else 1), degrees=True)
    return turn.apply([1, 0, 0])


def lying(step, cut):
    """The board's axes (along to the right, up the face, out of it) in the operator's, shape (3, 3)."""
    out = np.array([0, 0, -1]) if cut.face_down == "outer" else np.array([0, 0, 1])
    if step.kind == "rip":  # the edge runs along the fence, which stands where the kept wood is
        towards_fence = np.array([1, 0, 0]) if cut.kept == "right" else np.array([-1, 0, 0])
        up = towards_fence if cut.edge_to_gauge == "top" else -towards_fence
        return np.array([np.cross(up, out), up, out])
    up = np.array([0, 1, 0]) if cut.edge_to_gauge == "bottom" else np.array([0, -1, 0])  # that edge is the nearest
    swing = {"clockwise": -1, "anticlockwise": 1, "": 0}[step.gauge_swing] * step.mitre_gauge  # seen from above
    return Rotation.from_euler("Z", swing, degrees=True).apply([np.cross(up, out), up, out])
