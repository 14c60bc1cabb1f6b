"""What settings a little off do to a corner, or to a box of several: a seeded sample, and first-order sensitivities."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from ..common import checks
from ..common.boards import BOARDS
from ..common.checks import Comparable
from ..corner.corner import Corner
from ..formulas.derivation import H, dg, dx, g, numeric, p, t, x
from .one_gauge import GAUGE_SETTING_ERROR

SETTINGS = ("end line", "end bevel")  # of each board at each corner
_MOST_DRAWS = 50_000_000


@dataclass(frozen=True, eq=False)
class Jitter(Comparable):
    """A sample of boxes (or single corners) whose settings were each a little off.

    openings: (boxes, corners, 2) mm, the largest gap at the tail and at the pin board's end, each pushed along itself
    until it touches, the boards held at the leans asked. per_degree: (corners, 2, 2) mm for each degree by which one
    setting alone is wrong, first order; corner, then board (tail, pin), then setting (as `SETTINGS`). spread: (2,)
    degrees, the standard deviation of each kind of setting. height, thickness: mm; seed as given.
    """

    openings: np.ndarray
    per_degree: np.ndarray
    spread: np.ndarray
    height: float
    thickness: float
    seed: int

    @property
    def gap(self):
        """(boxes,) mm: the worst gap in each box."""
        return self.openings.max(axis=(1, 2))

    def quantile(self, share):
        """Gap in mm that this share (0 to 1) of the boxes stays within."""
        return float(np.quantile(self.gap, checks.error("share of the boxes", share, 1, "")))

    def within(self, tolerance):
        """Share of the boxes (0 to 1) whose worst gap is at most `tolerance` mm."""
        return float(np.mean(self.gap <= checks.size("tolerance", tolerance)))

    @property
    def ranking(self):
        """What each setting alone opens when it is off by one spread, largest first: [(corner number from 1, board,
        setting, mm), …]."""
        opened = self.per_degree * self.spread
        order = np.argsort(-opened, axis=None, kind="stable")
        places = zip(*np.unravel_index(order, opened.shape), strict=True)
        return [(int(at[0]) + 1, BOARDS[at[1]], SETTINGS[at[2]], float(opened[at])) for at in places]

    @property
    def matters_most(self):
        """(corner number, board, setting, mm) of the setting that opens the most."""
        return self.ranking[0]


def jitter(corners, spread_degrees=GAUGE_SETTING_ERROR, *, height=100, thickness=12, boxes=10_000, seed=0):
    """`Jitter` of `boxes` boxes whose settings are each disturbed by a normal error, set anew for each end.

    corners: one Corner, a Corner of arrays, or a sequence of Corners (four of them for a box). spread_degrees: standard
    deviation, one for all settings or {"end line": …, "end bevel": …}. height (vertical) and thickness in mm.
    The same seed gives the same boxes.
    """
    tail, pin, plan = _leans(corners)
    corners = Corner(tail, pin, plan)
    spread = _spreads(spread_degrees)
    height, thickness = checks.size("height", height), checks.size("thickness", thickness)
    seed, boxes = checks.count("seed", seed, 0), checks.count("number of boxes", boxes)
    if boxes * tail.size * 4 > _MOST_DRAWS:
        raise ValueError(f"{boxes:,} boxes of {tail.size} corners is not a sample to draw here: take between 1 and "
                         f"{_MOST_DRAWS // (4 * tail.size):,} boxes.")
    leans = np.radians(np.stack([tail, pin], axis=-1))  # (corners, boards)
    lines = np.radians(np.stack([corners.end_line(board) for board in BOARDS], axis=-1))
    bevel = np.radians(np.asarray(corners.end_bevel))[:, None]
    errors = np.random.default_rng(seed).normal(size=(boxes, tail.size, len(BOARDS), len(SETTINGS))) * np.radians(spread)
    at = (height, thickness, leans, lines, bevel)
    openings = numeric("end_opening", H, t, p, x, g, dx, dg)(*at, errors[..., 0], errors[..., 1])
    per_radian = [numeric(f"end_opening_per_{kind}", H, t, p, x, g)(*at) for kind in ("line", "bevel")]
    return Jitter(openings, np.radians(np.stack(per_radian, axis=-1)), spread, height, thickness, seed)


def _leans(corners):
    """(tail leans, pin leans, plan angles), each (n,)."""
    several = [corners] if isinstance(corners, Corner) else list(corners) if isinstance(corners, Sequence) else []
    if not several or not all(isinstance(corner, Corner) for corner in several):
        raise ValueError("Give the corners to disturb as one Corner or a sequence of Corners.")
    each = [np.broadcast_arrays(corner.tail_lean, corner.pin_lean, corner.plan_angle) for corner in several]
    return tuple(np.concatenate([np.ravel(one[part]) for one in each]) for part in range(3))


def _spreads(given):
    """Spread of each of SETTINGS, (2,) degrees."""
    if isinstance(given, Mapping):
        for name in given:
            checks.choice("setting to disturb", name, SETTINGS)
        given = [given.get(setting, 0.0) for setting in SETTINGS]
    each = given if isinstance(given, list | tuple | np.ndarray) else [given] * len(SETTINGS)
    return np.array([checks.error("spread", one) for one in each])
