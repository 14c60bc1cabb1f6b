"""How tails and pins share the end line of the tail board, and what slopes have been published for them."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..common import checks


@dataclass(frozen=True)
class Slope:
    """A published tail slope, 1 in `n`; `status` "seen" (read in a stored copy) or "memory"."""

    n: float
    use: str
    source: str
    status: str

    @property
    def degrees(self) -> float:
        """Degrees from the level centre line."""
        return math.degrees(math.atan(1 / self.n))


# Tails at one corner: whoever asks for more than MOST has made a slip of the pen, and would fill the memory. A dial is a few
# centimetres long, and each of its steps should be easy to stop at.
MOST, MOST_ON_JOINT_DIAL, MOST_ON_BOX_DIAL = 500, 9, 40


class Cheek(str):
    """The name of a cheek, which knows the number of its tail, from 1 at the bottom, and its side, "lower" or "upper".

    >>> Cheek(2, "lower")
    'tail 2 lower cheek'
    """

    tail: int
    side: str

    def __new__(cls, tail: int, side: str) -> "Cheek":
        """The cheek of that side of a tail."""
        self = super().__new__(cls, f"tail {tail} {side} cheek")
        self.tail, self.side = tail, side
        return self

    def __getnewargs__(self) -> tuple[int, str]:  # type: ignore[override]
        return self.tail, self.side


# A choice: the sources disagree, and none of these is the right one.
SLOPES = (
    Slope(4.0, "one slope for all the work of a school course", "G. A. Ross, Elementary Course in Woodwork", "seen"),
    Slope(4.8, "the source names no wood, and gives 5/8 inch in 3 inches, “about 80°” from the end",
          "W. Noyes, Handwork in Wood (1910), no. 48, pp. 165-167", "seen"),
    Slope(6.0, "softwood, by today's habit; older books say the reverse", "common practice, no source", "memory"),
    Slope(8.0, "hardwood, by today's habit; older books say the reverse", "common practice, no source", "memory"),
)


def checked_slope(n: float) -> float:
    """The n of "1 in n" as a float from 1 to 50; ValueError otherwise, as for degrees or a fraction."""
    n = checks.size("tail slope", n, "parts")
    if not 1 <= n <= 50:
        raise ValueError(f"The tail slope is {n:g}, read as 1 in {n:g}: give the n of 1 in n, from 1 to 50, neither "
                         "degrees nor a fraction.")
    return n


def checked_spacing(spacing: str | Sequence[float]) -> str | tuple[float, ...]:
    """"even", or the relative widths of the tails as a tuple of floats; ValueError otherwise."""
    if isinstance(spacing, str) and spacing == "even":
        return spacing
    widths = [spacing] if np.isscalar(spacing) and not isinstance(spacing, str) else spacing
    if not isinstance(widths, list | tuple | np.ndarray) or np.ndim(np.asarray(widths, dtype=object)) != 1 or not len(widths):
        raise ValueError(f"The tail spacing can be 'even' or one width for each tail, not {checks.shown(spacing)}.")
    return tuple(checks.size("width of a tail in the spacing", width, "parts") for width in widths)


@dataclass(frozen=True)
class Shares:
    """Who gets what of the end line: number of tails; pin and half pin in mm."""

    tails: int
    pin: float
    half_pin: float


def share_out(width: float, thickness: float, tails: int | None = None, pin: float | None = None, half_pin: float | None = None,
              spacing: str | Sequence[float] = "even", tail: float | None = None, rim_allowance: float = 0.0) -> Shares:
    """`Shares` of a slant width, filling in what is None (`Joint` says how); `tail`: a tail's width on the face, mm.

    ValueError when the wishes contradict each other or don't fit.
    """
    if tail is not None and (spacing != "even" or pin is not None or half_pin is not None):
        raise ValueError("With looks_as, the pins share what the tails leave: leave out pin_width, half_pin and "
                         "tail_spacing.")
    pin = min(thickness / 2, width / 5) if pin is None else pin
    half_pin = pin + rim_allowance if half_pin is None else half_pin
    if tails is None and spacing != "even":
        tails = len(spacing)
    elif tails is None:
        pitch = 2.5 * thickness if tail is None else tail + pin
        tails = max(1, round(min((width - 2 * half_pin + pin) / pitch, 2 * MOST)))
    tails = _checked_count(tails)
    if spacing != "even" and len(spacing) != tails:
        raise ValueError(f"The tail spacing has {len(spacing)} widths for {tails} tails: give one for each tail.")
    if tail is not None:
        pin = half_pin = (width - tails * tail) / (tails + 1)
    if pin <= 0 or width - 2 * half_pin - (tails - 1) * pin <= 0:
        raise ValueError(f"There is no room for {tails} tail{'s' * (tails > 1)} and the pins beside them in a slant "
                         f"width of {width:.1f} mm: use fewer tails, narrower pins or half pins, or a higher board.")
    return Shares(tails, pin, half_pin)


def marks(width: float, shares: Shares, spacing: str | Sequence[float]) -> np.ndarray:
    """Lower and upper mark of each tail, shape (tails, 2): mm up the end line's face from the bottom."""
    relative = np.array([1.0] * shares.tails if spacing == "even" else spacing)
    tails = (width - 2 * shares.half_pin - (shares.tails - 1) * shares.pin) * relative / relative.sum()
    upper = shares.half_pin + np.cumsum(tails + shares.pin) - shares.pin
    return np.stack([upper - tails, upper], axis=1)


def _checked_count(tails):
    count = checks.count("number of tails", tails)
    if count > MOST:
        raise ValueError(f"A corner would have more than {MOST} tails, beyond any cut by hand: ask for fewer, or check "
                         "the height and the thickness.")
    return count
