"""Turning points: flat ones about the origin, and those in space about an axis."""

import numpy as np


def turned(degrees: float) -> np.ndarray:
    """(2, 2): points (..., 2) as rows, times it, are turned by so many degrees anticlockwise about the origin."""
    turn = np.radians(degrees)
    return np.array([[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]])


def about_second(degrees: float) -> np.ndarray:
    """(3, 3): times a column, turns it by so many degrees about the second axis, the third towards the first."""
    turn = np.radians(degrees)
    return np.array([[np.cos(turn), 0, np.sin(turn)], [0, 1, 0], [-np.sin(turn), 0, np.cos(turn)]])


def about_third(degrees: float) -> np.ndarray:
    """(3, 3): times a column, turns it by so many degrees about the third axis, the first towards the second."""
    turn = np.radians(degrees)
    return np.array([[np.cos(turn), -np.sin(turn), 0], [np.sin(turn), np.cos(turn), 0], [0, 0, 1]])


def angle_of(rotation: np.ndarray) -> float:
    """Degrees through which a (3, 3) turns; sine and cosine both used, so that small angles stay exact."""
    sine = np.linalg.norm([rotation[2, 1] - rotation[1, 2], rotation[0, 2] - rotation[2, 0],
                           rotation[1, 0] - rotation[0, 1]])
    return float(np.degrees(np.arctan2(sine, np.trace(rotation) - 1)))
