"""The wedge that props a leaning board, in one place: its size is common practice, with no source."""

import numpy as np

FLAT_TOP = 20.0  # mm: room for a clamp on top of the wedge, and nothing that breaks off


def wedge_side(lean: float, height: float) -> np.ndarray:
    """A wedge from the side, (4, 2) in mm: the toe at the origin, thick end on the bench, back plumb, top flat.

    lean: of the board, degrees; its sign doesn't matter. height: of the wedge, whose top is `FLAT_TOP` wide. The board lies on
    the side from the last corner to the first. Two of them, one turned end for end, are a block `pair_width` wide.
    """
    slide = height * np.tan(np.radians(abs(lean)))
    return np.array([[0.0, 0.0], [slide + FLAT_TOP, 0.0], [slide + FLAT_TOP, height], [slide, height]])


def pair_width(lean: float, height: float) -> float:
    """How wide the block is, mm, from which one slanting cut makes two wedges; the two of them hold a board between them."""
    return float(height * np.tan(np.radians(abs(lean))) + 2 * FLAT_TOP)
