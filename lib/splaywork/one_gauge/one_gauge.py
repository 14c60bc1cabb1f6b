"""What the one-gauge shortcut does to a corner: a bevel set to one board's lean strikes the other board's end line.

The shortcut is exact while one board is upright. When both lean, the shortcut lines slant too much. The box that they make
closes on its outer faces, but it is a different box: its boards lean further and it is lower. Where corners differ, or the
leans are held, the ends gape.
"""

from dataclasses import dataclass

import numpy as np

from ..common import checks
from ..common.boards import BOARDS, known, other
from ..common.checks import plain
from ..common.kinds import Computed, Numbers
from ..common.rotations import about_second, about_third, angle_of
from ..common.tolerances import ROUNDING
from ..corner.corner import Corner
from ..formulas.forms import compute, vector

# The corners that the demonstrations return to.
NAMED_CORNERS = {
    "slight": Corner(tail_lean=8, pin_lean=6),
    "moderate": Corner(tail_lean=15, pin_lean=12),
    "strong": Corner(tail_lean=28, pin_lean=24),
    "demonstration": Corner(tail_lean=30, pin_lean=30),
}
SETTING_LIMIT = 0.25  # degrees: the most that a careful hand is off, either way, when it sets a bevel; our opinion, no source
TOLERANCES = (0.1, 0.2, 0.5)  # mm of gap to choose from; our opinion, no standard
MOST_LEAN = 45.0  # degrees: end of the map, either way
AT_ONCE = 2 ** 14  # points of the map worked out together


@dataclass(frozen=True, eq=False)
class Gap(checks.Comparable):
    """Where one board's end gapes when the leans are held and the board is pushed up to the corner line.

    width: mm along the board, at the far edge. opens_at: "bottom", "top", or "" for no gap. On the outer face,
    flat: (3, 2) along the bottom edge from the corner and up the face, as `boards.flat_face`; solid: the same in space,
    (3, 3), axes as in `formulas.corner`. Both in the order: where the end touches the corner line, where the corner line
    leaves the board, where the shortcut line does.
    """

    board: str
    width: float
    opens_at: str
    flat: np.ndarray
    solid: np.ndarray


@dataclass(frozen=True, eq=False)
class Round(checks.Comparable):
    """Four boards joined one after another, the dihedral held, from the first (a tail board) and back to it.

    outlines, true_outlines: (4, 4, 3) mm, the outer faces as the shortcut lines and as the true lines would have them:
    near and far corner of the bottom edge, far and near corner of the top edge; tail, pin, tail, pin boards, anticlockwise as
    seen from above.
    next_outlines: (4, 4, 3) mm, the board that comes after 1 to 4 corners, cut to the shortcut lines, where it should stand.
    rotations: (4,) degrees, and gaps: (4,) mm, after 1 to 4 corners: how far the next board is turned from where it
    should be, and the larger distance of its near end's bottom and top corner from there. After the fourth corner the
    next board is the first again, so these are the misclosure.
    """

    outlines: np.ndarray
    true_outlines: np.ndarray
    next_outlines: np.ndarray
    rotations: np.ndarray
    gaps: np.ndarray


@dataclass(frozen=True)
class Winding:
    """How a side board must wind (twist) between a leaning front and an upright back.

    wind: degrees between its two ends. per_100: degrees in each 100 mm of its length. stick_shows: mm by which a
    winding stick across one end, level with its fellow at one tip, stands clear of it at the other.
    """

    wind: float
    per_100: float
    stick_shows: float


@dataclass(frozen=True)
class OneGauge:
    """The one-gauge shortcut at a corner with a plan angle of 90.

    Parameters
    ----------
    corner : Corner
        Single leans or arrays; what is computed has their shape. Angles are in degrees, lengths in mm.

    Raises
    ------
    ValueError
        For another plan angle.

    >>> import splaywork as sw
    >>> shortcut = sw.OneGauge(sw.Corner(tail_lean=30, pin_lean=30))
    >>> round(shortcut.struck("pin"), 1), round(shortcut.pin_error, 1)
    (30.0, 3.4)
    >>> round(shortcut.gap_over(100, "pin"), 1)
    7.7
    """

    corner: Corner

    def __post_init__(self) -> None:
        checks.instance("corner of the shortcut", self.corner, Corner, "Corner(tail_lean=15, pin_lean=12)")
        others = np.ravel(self.corner.plan_angle)[np.ravel(self.corner.plan_angle) != 90]
        if others.size:
            raise ValueError(f"The one-gauge shortcut is worked out for a plan angle of 90°, not {checks.shown(others[0])}°: "
                             "give a Corner whose plan angle is 90°.")

    def _single(self):
        for board in BOARDS:
            checks.number(f"{board} lean of a figure", self.corner.lean(board), what="a number of degrees")

    def _number(self, name, **more):
        with np.errstate(invalid="ignore", divide="ignore"):
            return compute(name, tail_lean=self.corner.tail_lean, pin_lean=self.corner.pin_lean, **more)

    def _angle(self, name):
        return plain(self._number(name))

    # What is struck, and how far it is out.

    def struck(self, board: str) -> Computed:
        """The end line that the shortcut strikes on `board` ("tail" or "pin"): the other board's lean, degrees."""
        return self.corner.lean(other(known(board)))

    def error(self, board: str) -> Computed:
        """Shortcut line less the true end line, degrees: positive when a line that slants outward slants too much."""
        return self._angle(f"one_gauge_{known(board)}_error")

    @property
    def tail_error(self) -> Computed:
        """`error` of the tail board, degrees."""
        return self.error("tail")

    @property
    def pin_error(self) -> Computed:
        """`error` of the pin board, degrees."""
        return self.error("pin")

    @property
    def flush_level_error(self) -> Computed:
        """Bevel set to the tail lean, less the level line on a flush tail end: degrees. It slants too much, or is exact if the
        pin board is upright."""
        return self._angle("one_gauge_flush_level_error")

    @property
    def square_level_error(self) -> Computed:
        """Bevel set to the tail lean, less the level line on a square tail end: degrees, signed against the lean. It slants too
        little, or is exact if the pin board is upright."""
        return self._angle("one_gauge_square_level_error")

    # Hold the leans: the ends gape.

    def gap_over(self, width: Numbers, board: str) -> Computed:
        """Gap in mm at the far edge of `board`, its lean held, over `width` mm (a number or an array) up its face."""
        width = checks.sizes("width", width)
        checks.together(width=width, corner=np.empty(self.corner._shape()))
        return plain(self._number(f"one_gauge_{known(board)}_gap", slant_width=width))

    def gap(self, height: Numbers, board: str) -> Computed:
        """Gap in mm at the far edge of `board`, its lean held, for a box of that vertical height."""
        height = checks.sizes("height", height)
        return self.gap_over(self.corner.slant_width(height, board), board)

    def hold_leans(self, height: float) -> dict[str, Gap]:
        """The gap of each board of one corner as a figure: {"tail": Gap, "pin": Gap}."""
        self._single()
        height = checks.size("height", height)
        return {board: self._gap_figure(height, board) for board in BOARDS}

    def _gap_figure(self, height, board):
        up = self.corner.slant_width(height, board)
        width = self.gap(height, board)
        top = -up * np.tan(np.radians(self.corner.end_line(board)))
        too_long = self.error(board) > 0  # at the top, so that it touches there and opens at the bottom
        flat = np.array([[top, up], [0, 0], [width, 0]]) if too_long else np.array([[0, 0], [top, up], [top + width, up]])
        along, upward = self.corner.vector(f"{board}_level"), self.corner.vector(f"{board}_up")
        opens_at = ("bottom" if too_long else "top") if width else ""
        return Gap(board, width, opens_at, flat, flat[:, :1] * along + flat[:, 1:] * upward)

    # Close the corners: another box.

    @property
    def _leans_together(self):
        return np.abs(self.corner.tail_lean) + np.abs(self.corner.pin_lean)

    @property
    def stands(self) -> np.ndarray | bool:
        """True where the box of the shortcut lines has a height at all: while the leans add up to less than 90°."""
        return self._leans_together < 90 - ROUNDING

    @property
    def lies_flat(self) -> np.ndarray | bool:
        """True where that box has no height: the leans add up to 90°, and the boards make a picture frame."""
        return np.abs(self._leans_together - 90) <= ROUNDING

    def closed_lean(self, board: str) -> Computed:
        """Lean at which `board` really stands in the box of the shortcut lines, degrees; 90 where it lies flat.

        ValueError where the shortcut lines make no box.
        """
        if not np.all(self.stands | self.lies_flat):
            raise ValueError("The shortcut lines make no box: the two leans add up to more than 90°, so the boards can't "
                             "even lie flat around a frame; lean them less.")
        flat = np.copysign(90.0, self.corner.lean(known(board)))
        return plain(np.where(self.lies_flat, flat, self._angle(f"closed_{board}_lean")))

    @property
    def closed(self) -> Corner:
        """The `Corner` that the shortcut lines really make. ValueError where it would lie flat or not exist."""
        leans = [self.closed_lean(board) for board in BOARDS]
        if np.any(self.lies_flat):
            raise ValueError("The shortcut lines make a picture frame: the two leans add up to 90°, so the boards lie "
                             "flat and the box has no height; lean them less.")
        return Corner(*leans)

    @property
    def height_factor(self) -> Computed:
        """Height of the box of the shortcut lines over the intended height; 0 where it lies flat, ValueError beyond."""
        self.closed_lean("tail")
        return plain(np.where(self.lies_flat, 0.0, self._number("closed_height_factor")))

    def closed_end_gap(self, thickness: float) -> Computed:
        """Gap in mm at the inner arris of the closed box's ends, which were sawn to the end bevel of the intended box.

        Negative where the inner arrises touch first and the gap is at the outer ones. thickness: of the boards, mm.
        """
        return plain(compute("left_open", thickness=checks.size("thickness", thickness), lean=self.closed.end_bevel,
                             end_bevel=self.corner.end_bevel))

    def closed_edge_gap(self, board: str, thickness: float) -> Computed:
        """Gap in mm under the inner arris of `board` in the closed box, its edges ripped to the intended lean.

        Negative where the gap is under the outer arris. thickness: of the board, mm.
        """
        ripped = self.corner.lean(known(board))
        return plain(compute("left_open", thickness=checks.size("thickness", thickness), lean=self.closed.lean(board),
                             end_bevel=ripped))

    def closed_box(self, height: float, tail_length: float, pin_length: float) -> np.ndarray:
        """Outer faces (4, 4, 3) of the box that the shortcut lines make; order and axes as in `Round`, standing on the bench.

        height: the intended height, vertical; tail_length, pin_length: the bottom edges, mm. For one corner, four times.
        """
        leans = {board: self.closed_lean(board) for board in BOARDS}
        turn = np.eye(3)
        frames = []
        for board in ("tail", "pin", "tail", "pin"):
            frames.append(turn @ tail_frame(leans[board]))
            turn = about_third(90) @ turn
        struck = {board: self.struck(board) for board in BOARDS}
        return _outlines(frames, struck, self._sizes(height, tail_length, pin_length))

    # Hold the dihedral and go round: four corners do not close.

    def go_round(self, height: float, tail_length: float, pin_length: float) -> Round:
        """Join four boards with shortcut lines at the true dihedral: a `Round`. Lengths as for `closed_box`."""
        sizes = self._sizes(height, tail_length, pin_length)
        struck = {board: self.struck(board) for board in BOARDS}
        true = {board: self.corner.end_line(board) for board in BOARDS}
        chains = [self._chain(lines) for lines in (struck, true)]
        as_struck, as_due = (_outlines(chain, struck, sizes) for chain in chains)
        ends = as_struck[:, (0, 3)] - as_due[:, (0, 3)]
        turned = [angle_of(one @ due.T) for one, due in zip(*chains, strict=True)]
        return Round(as_struck[:4], _outlines(chains[1], true, sizes)[:4], as_due[1:], np.array(turned[1:]),
                     np.linalg.norm(ends, axis=-1).max(axis=-1)[1:])

    def _sizes(self, height, tail_length, pin_length):
        """{board: (bottom edge, slant width)}, mm."""
        self._single()
        height = checks.size("height", height)
        lengths = {"tail": checks.size("tail board's length", tail_length),
                   "pin": checks.size("pin board's length", pin_length)}
        return {board: (lengths[board], self.corner.slant_width(height, board)) for board in BOARDS}

    def _chain(self, lines):
        """Frames of five boards in turn, the fifth the first again: columns along, up the face, out of the wood."""
        frames = [tail_frame(self.corner.tail_lean)]
        swing = about_second(180 - self.corner.dihedral)
        for board in ("tail", "pin", "tail", "pin"):
            to_end_line = about_third(-lines[board]), about_third(-lines[other(board)])
            frames.append(frames[-1] @ to_end_line[0] @ swing @ to_end_line[1])
        return frames

    # A front that leans (the pin board) with an upright back: the sides (the tail boards) must wind.

    @property
    def wind(self) -> Computed:
        """Degrees between the side's ends: the front corner wants it at `closed.tail_lean`, the back at its lean.

        ValueError where the front corner could not stand.
        """
        return plain(np.asarray(self.closed.tail_lean) - np.asarray(self.corner.tail_lean))

    def winding(self, length: float, stick: float) -> Winding:
        """`Winding` of the sides (tail boards) of that length, read with winding sticks of length `stick`; mm."""
        length, stick = checks.size("side's length", length), checks.size("winding stick", stick)
        wind = self.wind
        return Winding(wind, plain(np.asarray(wind) / length * 100), plain(stick * np.sin(np.radians(np.abs(wind)))))


def tail_frame(lean: float) -> np.ndarray:
    """Axes of a tail board of that lean as columns (3, 3): along its level edge, up its face, out of its wood."""
    at = {"tail_lean": lean, "pin_lean": 0, "plan_angle": 90}
    return np.column_stack([vector(f"tail_{axis}", **at) for axis in ("level", "up", "normal")])


def _outlines(frames, lines, sizes):
    """Outlines (n, 4, 3) of boards in turn, each from the far bottom corner of the one before; the first from the origin."""
    bottom, outlines = np.zeros(3), []
    for board, frame in zip(("tail", "pin", "tail", "pin", "tail"), frames, strict=False):
        length, up = sizes[board]
        grown = up * np.tan(np.radians(lines[board]))
        flat = np.array([[0, 0], [length, 0], [length + grown, up], [-grown, up]])
        outlines.append(bottom + flat @ frame[:, :2].T)
        bottom = outlines[-1][1]
    return np.array(outlines)


@dataclass(frozen=True, eq=False)
class GaugeMap(checks.Comparable):
    """Is the shortcut good enough? Over tail leans (n,) and pin leans (n,), degrees; rows of the maps are pin leans.

    gap: (n, n) mm over `width` mm up the face, leans held, on the worse of the two boards. error: (n, n) degrees, on the
    worse board. tolerance: mm of gap; setting_limit: the most degrees by which a bevel is set wrong; both the maker's own
    choice,
    no standard.
    """

    tail_lean: np.ndarray
    pin_lean: np.ndarray
    gap: np.ndarray
    error: np.ndarray
    width: float
    tolerance: float
    setting_limit: float

    @property
    def within(self) -> np.ndarray:
        """(n, n) True where the gap keeps within the tolerance."""
        return self.gap <= self.tolerance

    @property
    def outgrown(self) -> np.ndarray:
        """(n, n) True where the shortcut's error is larger than that of a bevel set as badly as a hand sets it."""
        return self.error > self.setting_limit

    @property
    def outgrows_at(self) -> np.ndarray:
        """Points (m, 2) in (tail lean, pin lean) where the shortcut's error equals the setting's limit, in order along the
        curve; empty where it never does on the map."""
        return outgrows_at(self.setting_limit)

    @property
    def both_up_to(self) -> float:
        """Degrees up to which both boards may lean alike with no gap beyond the tolerance."""
        return both_up_to(self.width, self.tolerance)


def both_up_to(width: float, tolerance: float) -> float:
    """Degrees, 45 at most, up to which both boards may lean equally before the shortcut's gap in `width` mm exceeds `tolerance`
    mm.

    The gap grows with the leans, so that the interval that holds the answer can be halved until nothing is left of it.
    """
    width, tolerance = checks.size("board's width", width), checks.size("tolerance", tolerance)
    low, high = 0.0, MOST_LEAN
    if OneGauge(Corner(high, high)).gap_over(width, "tail") <= tolerance:
        return high
    while high - low > ROUNDING:
        middle = (low + high) / 2
        if OneGauge(Corner(middle, middle)).gap_over(width, "tail") <= tolerance:
            low = middle
        else:
            high = middle
    return low


def good_enough(width: float, tolerance: float = TOLERANCES[1], setting_limit: float = SETTING_LIMIT,
                points: int = 181) -> GaugeMap:
    """Where the shortcut is good enough, over both leans.

    Parameters
    ----------
    width : float
        Width of the boards up their faces, mm.
    tolerance : float
        The widest gap that will do, mm. 0.2 is our opinion of a tight joint; there is no standard.
    setting_limit : float
        The most by which a bevel is set wrong, either way, degrees, above 0 and below 45.
    points : int
        How many leans a side of the map has, from 0 to 45 degrees; 2 to 2001.

    Returns
    -------
    GaugeMap

    Raises
    ------
    ValueError
        One sentence, for anything else.

    >>> import splaywork as sw
    >>> round(sw.good_enough(width=100, tolerance=0.2).both_up_to, 2)
    9.08
    """
    width, tolerance = checks.size("board's width", width), checks.size("tolerance", tolerance)
    setting_limit = checks.angle("limit of the setting", setting_limit, 0, MOST_LEAN, "give the few "
                                 "tenths of a degree, above 0°, by which a bevel may be set wrong")
    points = checks.count("number of points", points, 2, 2001)
    leans = np.linspace(0, MOST_LEAN, points)
    gap, error = np.empty((2, points, points))
    for rows in np.array_split(np.arange(points), 1 + points ** 2 // AT_ONCE):  # what lies between takes memory too
        shortcut = OneGauge(Corner(leans, leans[rows, None]))
        gap[rows] = np.maximum(*(shortcut.gap_over(width, board) for board in BOARDS))
        error[rows] = np.maximum(*(shortcut.error(board) for board in BOARDS))
    return GaugeMap(leans, leans, gap, error, width, tolerance, setting_limit)


def outgrows_at(error: float, points: int = 2001) -> np.ndarray:
    """Points (m, 2) in (tail lean, pin lean), up to 45 degrees, where the worse board's error equals `error`, degrees.

    Up to there the worse error is on the board that leans more, whose line is struck at the smaller lean.
    """
    error = checks.number("error", error, what="a number of degrees above 0", fits=lambda degrees: degrees > 0)
    if error >= MOST_LEAN:
        return np.empty((0, 2))
    tail = error + np.geomspace(1e-4, MOST_LEAN - error, points)  # the curve turns sharply where the tail leans little
    with np.errstate(invalid="ignore"):
        pin = compute("pin_lean_of_one_gauge_error", tail_lean=tail, error=error)
    on_map = (pin >= tail) & (pin <= MOST_LEAN)
    half = np.column_stack([tail[on_map], pin[on_map]])
    return np.concatenate([half, half[::-1, ::-1]])
