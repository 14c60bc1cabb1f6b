"""Six-sided solids: an outline of four corners, and the same four corners carried through the wood."""

from typing import Any

import numpy as np

# Index of the corners (8, 3) of such a solid, first the outline, then the carried one: its six faces, each
# counter-clockwise as seen from outside when the outline is.
FACES = np.array([(0, 1, 2, 3), (7, 6, 5, 4), (0, 4, 5, 1), (1, 5, 6, 2), (2, 6, 7, 3), (3, 7, 4, 0)])


def between(outline: Any, through: np.ndarray) -> np.ndarray:
    """Corners (8, 3) of the solid from `outline` (4, 3), counter-clockwise as seen from outside, to the outline moved
    `through` (3,): into the wood."""
    outline = np.asarray(outline, dtype=float)
    return np.concatenate([outline, outline + np.asarray(through)])
