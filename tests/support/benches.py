"""The corners and joints at which the bench steps are tried, and what their tests measure with."""

import numpy as np
import pytest
from splaywork.corner.corner import Corner
from splaywork.joint.joint import Joint

CORNERS = [Corner(30, 30), Corner(16, 11), Corner(-20, -11), Corner(25, -14), Corner(0, 20), Corner(20, 0), Corner(0, 0),
           Corner(-9, 12, 65), Corner(14, 6, 120)]
JOINTS = [Joint(corner, 100, 18, 15, tails=2, end=end) for corner in CORNERS for end in ("flush", "square")]
every_joint = pytest.mark.parametrize("joint", JOINTS, ids=lambda joint: f"{joint.corner}-{joint.end}")
every_corner = pytest.mark.parametrize("corner", CORNERS, ids=str)


def level(joint, board):
    return joint.corner.vector(f"{board}_level")


def unit(vector):
    return vector / np.linalg.norm(vector)
