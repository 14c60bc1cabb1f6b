"""What settings a little off do to a corner, or to a box of several: a seeded sample, and first-order sensitivities."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from ..common import checks
from ..common.boards import BOARDS
from ..corner.corner import Corner
from ..formulas.forms import compute
from .one_gauge import SETTING_LIMIT

SETTINGS = ("end line", "end bevel")  # of each board at each corner
_MOST_DRAWS = 50_000_000


class Opened(NamedTuple):
    """What one setting alone opens, in mm, when it is off by its limit. corner: its number in the box, from 1, as given to
    `jitter`."""

    corner: int
    board: str
    setting: str
    gap: float


@dataclass(frozen=True, eq=False, repr=False)
class Jitter(checks.Comparable):
    """A sample of boxes (or single corners) whose settings were each a little off.

    openings: (boxes, corners, 2) mm, the largest gap at the tail and at the pin board's end, measured along the board, each
    board pushed along itself until it touches, both held at their intended leans. per_degree: (corners, 2, 2) mm for each
    degree
    by which one setting alone is wrong, first order; corner, then board (tail, pin), then setting (as `SETTINGS`). limit: (2,)
    degrees, the most by which each kind of setting is off. height, thickness: mm; seed as given.
    """

    openings: np.ndarray
    per_degree: np.ndarray
    limit: np.ndarray
    height: float
    thickness: float
    seed: int

    def __repr__(self) -> str:
        boxes, corners, _ = self.openings.shape
        return f"<Jitter: {boxes:,} boxes of {corners} corners, half of them within {self.quantile(0.5):.2f} mm>"

    @property
    def gap(self) -> np.ndarray:
        """(boxes,) mm: the widest gap in each box."""
        return self.openings.max(axis=(1, 2))

    def quantile(self, share: float) -> float:
        """Gap in mm that this share (0 to 1) of the boxes stays within."""
        return float(np.quantile(self.gap, checks.error("share", share, 1, "")))

    def within(self, tolerance: float) -> float:
        """Share of the boxes (0 to 1) whose widest gap is at most `tolerance` mm."""
        return float(np.mean(self.gap <= checks.size("tolerance", tolerance)))

    @property
    def ranking(self) -> list[Opened]:
        """What each setting alone opens when it is off by its limit, largest first: [`Opened`, …]."""
        opened = self.per_degree * self.limit
        order = np.argsort(-opened, axis=None, kind="stable")
        places = zip(*np.unravel_index(order, opened.shape), strict=True)
        return [Opened(int(at[0]) + 1, BOARDS[at[1]], SETTINGS[at[2]], float(opened[at])) for at in places]

    @property
    def matters_most(self) -> Opened:
        """The `Opened` of the setting that opens the most."""
        return self.ranking[0]


def jitter(corners: Corner | Sequence[Corner], limit_degrees: float | Mapping[str, float] = SETTING_LIMIT, *,
           height: float = 100, thickness: float = 12, boxes: int = 10_000, seed: int = 0) -> Jitter:
    """A sample of boxes whose settings were each a little off, set anew for each end.

    Parameters
    ----------
    corners : Corner or sequence of Corner
        One corner, a corner of arrays, or several corners: four for a box, front left, front right, back right, back left.
    limit_degrees : float or mapping
        The most by which a setting is off, either way, 0 to 5; every error up to there is as likely as another. One limit for
        all
        settings, or {"end line": …, "end bevel": …}, where a setting that isn't named is right.
    height, thickness : float
        Vertical height of the box and thickness of its boards, mm.
    boxes, seed : int
        How many boxes to draw, and where the draw starts: the same seed gives the same boxes.

    Returns
    -------
    Jitter

    Raises
    ------
    ValueError
        One sentence, for anything else.

    >>> import splaywork as sw
    >>> sample = sw.jitter([sw.Corner(15, 12)] * 4, 0.25, height=120, thickness=18)
    >>> sample.matters_most.setting
    'end line'
    """
    tail, pin, plan = _leans(corners)
    corners = Corner(tail, pin, plan)
    limit = _limits(limit_degrees)
    height, thickness = checks.size("height", height), checks.size("thickness", thickness)
    boxes = checks.count("number of boxes", boxes, 1, _MOST_DRAWS // (4 * tail.size))
    seed = checks.count("seed", seed, 0)
    leans = np.stack([tail, pin], axis=-1)  # (corners, boards)
    lines = np.stack([corners.end_line(board) for board in BOARDS], axis=-1)
    bevel = np.asarray(corners.end_bevel)[:, None]
    size = boxes, tail.size, len(BOARDS), len(SETTINGS)
    errors = np.random.default_rng(seed).uniform(-1, 1, size) * limit
    at = {"height": height, "thickness": thickness, "lean": leans, "end_line": lines, "end_bevel": bevel}
    openings = compute("end_opening", **at, end_line_error=errors[..., 0], end_bevel_error=errors[..., 1])
    del at["height"], at["lean"]
    per_degree = [compute("end_opening_per_end_line_error", **at, height=height, lean=leans),
                  compute("end_opening_per_end_bevel_error", **at)]
    return Jitter(openings, np.stack(per_degree, axis=-1), limit, height, thickness, seed)


def _leans(corners):
    """(tail leans, pin leans, plan angles), each (n,)."""
    several = [corners] if isinstance(corners, Corner) else corners
    if not isinstance(several, Sequence) or not several or not all(isinstance(corner, Corner) for corner in several):
        raise ValueError("The corners must be a Corner or a list of Corners, such as [Corner(15, 12)] * 4, not "
                         f"{checks.shown(corners)}.")
    each = [np.broadcast_arrays(corner.tail_lean, corner.pin_lean, corner.plan_angle) for corner in several]
    return tuple(np.concatenate([np.ravel(one[part]) for one in each]) for part in range(3))


def _limits(given):
    """Limit of each of SETTINGS, (2,) degrees."""
    if isinstance(given, Mapping):
        for name in given:
            checks.choice("setting to disturb", name, SETTINGS)
        return np.array([checks.error(f"limit of the {setting}", given.get(setting, 0.0)) for setting in SETTINGS])
    return np.full(len(SETTINGS), checks.error("limit", given))
