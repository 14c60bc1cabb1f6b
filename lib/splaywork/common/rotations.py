"""Turning points: flat ones about the origin."""

import numpy as np


def turned(degrees: float) -> np.ndarray:
    """(2, 2): points (..., 2) as rows, times it, are turned by so many degrees anticlockwise about the origin."""
    turn = np.radians(degrees)
    return np.array([[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]])
