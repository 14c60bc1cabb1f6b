"""Where labels stand that name points of a picture: beside one another, none over another."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike


def stacked(wanted: Sequence[float], heights: ArrayLike, low: float = -np.inf, high: float = np.inf,
            gap: float = 0.0) -> np.ndarray:
    """Middles (n,) of labels of those heights, as near as can be to the heights wanted, `gap` apart at least.

    None lies over another, and all lie between low and high if they fit. They keep the order of the heights wanted; of equal
    ones the first stands lowest.
    """
    count = len(wanted)
    order, middles = np.argsort(wanted, kind="stable"), np.zeros(count)
    halves = np.broadcast_to(np.asarray(heights) / 2, count)
    floor, ceiling = low, high
    for number in order:
        middles[number] = max(wanted[number], floor + halves[number])
        floor = middles[number] + halves[number] + gap
    for number in order[::-1]:
        middles[number] = min(middles[number], ceiling - halves[number])
        ceiling = middles[number] - halves[number] - gap
    return middles
