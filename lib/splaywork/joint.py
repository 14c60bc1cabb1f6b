"""A level-entry through dovetail on any corner: from one list of planes to two boards with their joint cut.

The tails are drawn on the tail board's outer face. Each cheek is the plane through a line of that drawing and the pin
board's level direction, so that the pin board is pushed straight in, level. Within the other board's thickness the
wood between the two cheeks of a tail belongs to the tail board, all other wood to the pin board.
"""

import math
import operator
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from .boards import face_planes, rims
from .corner import BOARDS, Corner
from .lines import group_settings, lines_to_strike
from .planes import Plane, meet_all
from .solids import CutBoard

PLAN_ANGLES = (60, 135)  # degrees: as far as the joint has been proved


@dataclass(frozen=True)
class Slope:
    """A published tail slope, 1 in `n`; `status` "seen" (read in a stored copy) or "memory"."""

    n: float
    use: str
    source: str
    status: str

    @property
    def degrees(self):
        """Degrees from the level centre line."""
        return math.degrees(math.atan(1 / self.n))


# A choice: the sources disagree, and none of these is the right one.
SLOPES = (
    Slope(4.0, "one course's slope for all work", "W. Ross, Elementary Course in Woodwork", "seen"),
    Slope(4.8, "5/8 in 3, printed there as approximately 80° from the end",
          "W. Noyes, Handwork in Wood (1910), no. 48, pp. 165-167", "seen"),
    Slope(6.0, "softwood, by today's habit; some older books say hardwood", "common practice, no source", "memory"),
    Slope(8.0, "hardwood, by today's habit; some older books say softwood", "common practice, no source", "memory"),
)


def _other(board):
    return "pin" if board == "tail" else "tail"


def _size(name, value, unit="mm"):
    """The value as a float above 0; ValueError otherwise."""
    try:
        number = float(value)
    except (TypeError, ValueError):
        number = math.nan
    if not (math.isfinite(number) and number > 0):
        raise ValueError(f"The {name} must be a number of {unit} above 0, not {value!r}.")
    return number


@dataclass(frozen=True)
class Joint:
    """A level-entry through dovetail on a scalar `corner`; lengths in mm.

    height: of the box, vertical, between the outer arrises of its rims.
    tail_thickness, pin_thickness: square to the faces; the pin board is as thick as the tail board unless said.
    tails: how many. Left out: about one for every 2½ thicknesses of slant width (common practice, no source).
    tail_slope: n of "1 in n", from 1 to 50: each cheek spreads 1 from the level centre line of its tail for every n
        along it. `SLOPES` lists published ones; the 6 used when it is left out is one of them and not a recommendation.
    pin_width, half_pin: width of the pins and of the half pins at the rims, measured at the end line on the tail
        board's outer face, straight up it, where pins are narrowest. Left out, a pin is half the tail board's thickness
        (at most a fifth of the slant width), and a half pin is as wide and takes up what a square rim cuts away.
    tail_spacing: "even", or the widths of the tails in relation to one another, from the bottom up, such as (1, 1, 2).
    looks_as: width in mm that every tail should seem to have from straight in front; it is marked 1 / cos lean wider.
        The pins and half pins then share alike what is left, so leave those and tail_spacing out.
    end: "flush", each end sawn to lie in the other board's outer face; or "square", sawn square to its own face,
        parallel to the corner line, through whichever of the two arrises of the flush end stands further out: wood
        only ever stands proud, and planing it off after assembly leaves the flush joint.
    rims: "level", the edges ripped level; or "square", left square to the face. Then the outer arrises lie at 0 and
        at `height`, and the inner ones tan lean of the board off: at the bottom higher where the board leans out.
    narrowest: the saw kerf or the chisel that must pass between two tails, mm; 0 asks only that there is a gap.
    length: of inner face, at least, that the stubs show. Left out: as long as the box is high.

    What was left out is filled in. ValueError, in one sentence, when the joint can't be cut.
    """

    corner: Corner
    height: float
    tail_thickness: float
    pin_thickness: float | None = None
    tails: int | None = None
    tail_slope: float = 6.0
    pin_width: float | None = None
    half_pin: float | None = None
    end: str = "flush"
    rims: str = "level"
    tail_spacing: str | tuple = "even"
    narrowest: float = 0.0
    looks_as: float | None = None
    length: float | None = None

    def __post_init__(self):
        self._settle_sizes()
        self._settle_widths()
        self._check_tails()
        self._check_rims()

    def _set(self, **values):
        for name, value in values.items():
            object.__setattr__(self, name, value)

    def _settle_sizes(self):
        if not isinstance(self.corner, Corner):
            raise ValueError(f"The corner must be a Corner, such as Corner(tail_lean=14, pin_lean=6), not {self.corner!r}.")
        if any(np.ndim(getattr(self.corner, name)) for name in ("tail_lean", "pin_lean", "plan_angle")):
            raise ValueError("A joint is cut on one corner: give the corner single numbers, not arrays.")
        low, high = PLAN_ANGLES
        if not low <= self.corner.plan_angle <= high:
            raise ValueError(f"The plan angle is {self.corner.plan_angle:g}°, and this joint is only proved "
                             f"from {low}° to {high}°: choose one in between.")
        for name, known in (("end", ("flush", "square")), ("rims", ("level", "square"))):
            if getattr(self, name) not in known:
                raise ValueError(f"The {name} can be {known[0]!r} or {known[1]!r}, not {getattr(self, name)!r}.")
        if self.pin_thickness is None:
            self._set(pin_thickness=self.tail_thickness)
        if self.length is None:
            self._set(length=self.height)
        for name in ("height", "tail_thickness", "pin_thickness", "length"):
            self._set(**{name: _size(name.replace("_", " "), getattr(self, name))})
        for name in ("pin_width", "half_pin", "looks_as"):
            if getattr(self, name) is not None:
                self._set(**{name: _size(name.replace("_", " "), getattr(self, name))})
        self._set(tail_slope=_size("tail slope", self.tail_slope, "parts"))
        if not 1 <= self.tail_slope <= 50:
            raise ValueError(f"The tail slope is {self.tail_slope:g}, read as 1 in {self.tail_slope:g}: give the n of "
                             "1 in n, from 1 to 50, neither degrees nor a fraction.")
        if self.narrowest != 0:
            self._set(narrowest=_size("narrowest gap", self.narrowest))

    def _settle_widths(self):
        """Fill in how many tails there are and how wide tails, pins and half pins are."""
        width, thickness = self.slant_width, self.tail_thickness
        relative = self._relative_widths()
        tails = self.tails if self.tails is not None else len(relative) or None
        pin = self.pin_width if self.pin_width is not None else min(thickness / 2, width / 5)
        half = self.half_pin if self.half_pin is not None else pin + self._rim_allowance
        if tails is None:
            tail = self.corner.looks_as(self.looks_as) if self.looks_as else 2.5 * thickness - pin
            tails = max(1, round((width - 2 * half + pin) / (tail + pin)))
        try:
            tails = operator.index(tails)
        except TypeError:
            raise ValueError(f"The number of tails must be whole, 1 or more, not {tails!r}.") from None
        if tails < 1:
            raise ValueError(f"The number of tails must be whole, 1 or more, not {tails!r}.")
        if relative and len(relative) != tails:
            raise ValueError(f"The tail spacing has {len(relative)} widths for {tails} tails: give one for each tail.")
        if self.looks_as:
            if relative or (self.pin_width, self.half_pin) != (None, None):
                raise ValueError("With looks_as, the pins share what the tails leave: leave out pin_width, half_pin and "
                                 "tail_spacing.")
            pin = half = (width - tails * self.corner.looks_as(self.looks_as)) / (tails + 1)
        if pin <= 0 or width - 2 * half - (tails - 1) * pin <= 0:
            raise ValueError(f"There is no room for {tails} tail{'s' * (tails > 1)} in a slant width of {width:.1f} mm: "
                             "use fewer or narrower tails, narrower pins or a higher board.")
        self._set(tails=tails, pin_width=pin, half_pin=half)

    def _relative_widths(self):
        if isinstance(self.tail_spacing, str):
            if self.tail_spacing != "even":
                raise ValueError(f"The tail spacing can be 'even' or one width for each tail, not {self.tail_spacing!r}.")
            return []
        try:
            widths = tuple(self.tail_spacing)
        except TypeError:
            widths = (self.tail_spacing,)
        self._set(tail_spacing=tuple(_size("width of a tail in the spacing", width, "parts") for width in widths))
        return list(self.tail_spacing)

    @property
    def slant_width(self):
        """Width of the tail board up its outer face, mm."""
        return self.corner.slant_width(self.height)

    @property
    def _rim_allowance(self):
        """How much narrower a half pin can be inside than outside because a rim is square to its face, mm."""
        if self.rims == "level":
            return 0.0
        tail_lean, pin_lean = (abs(math.radians(self.corner.lean(board))) for board in BOARDS)
        return self.tail_thickness * math.tan(tail_lean) + self.pin_thickness * math.sin(pin_lean) / math.cos(tail_lean)

    @cached_property
    def marks(self):
        """Lower and upper mark of each tail on the end line, shape (tails, 2): mm straight up the tail board's outer face."""
        shares = np.array([1.0] * self.tails if self.tail_spacing == "even" else self.tail_spacing)
        widths = (self.slant_width - 2 * self.half_pin - (self.tails - 1) * self.pin_width) * shares / shares.sum()
        upper = self.half_pin + np.cumsum(widths + self.pin_width) - self.pin_width
        return np.stack([upper - widths, upper], axis=1)

    def _check_tails(self):
        """ValueError for tails that have no end, no root, or no room between them."""
        slant = self.corner.tail_end_line
        if abs(math.tan(math.radians(slant))) >= self.tail_slope:
            raise ValueError(f"The end line slants {slant:.1f}° from square, as much as tails of 1 in {self.tail_slope:g} "
                             "spread, so they have no end: make the boards lean less or the tails spread less.")
        outlines, up = self.tail_board.outlines, self.corner.vector("corner_line")
        lower, upper = (outlines[0, start:][::4][:self.tails] @ up for start in (7, 4))
        if (pointed := np.flatnonzero(upper <= lower)).size:
            offset = self.corner.gauge_line_offset(self.pin_thickness)
            raise ValueError(f"Tail {self.tails - pointed[-1]} comes to a point before it reaches the gauge line: in this "
                             f"corner a pin board {self.pin_thickness:g} mm thick puts that {offset:.1f} mm from the end "
                             "line, so take a thinner one, fewer tails, or a larger n in 1 in n.")
        gap = self.narrowest_gap
        if gap is not None and gap <= self.narrowest:
            raise ValueError(f"The narrowest gap between two tails is {max(gap, 0):.2f} mm and must be over "
                             f"{self.narrowest:g} mm for the saw or chisel: make the pins wider, or the tails fewer.")

    def _check_rims(self):
        """ValueError where a cheek would come out through a rim instead of reaching its gauge line."""
        for board in (self.tail_board, self.pin_board):
            for rim, cheek in (("bottom", "tail 1 lower cheek"), ("top", f"tail {self.tails} upper cheek")):
                corners = dict(board.faces)[cheek]
                if self.planes[f"{board.board} {rim}"].height_of(corners).max() >= 0:
                    raise ValueError(f"The {cheek} runs into the {rim} rim of the {board.board} board: make the half pins "
                                     f"wider than {self.half_pin:.1f} mm, or saw ends and rims flush and level.")

    @property
    def narrowest_gap(self):
        """Smallest distance between the cheeks of two neighbouring tails, square to one of them, mm; None for one tail.

        It is found at the sawn ends, so it is less than `pin_width` where the board leans or a square end stands proud.
        """
        if self.tails == 1:
            return None
        cheeks = dict(self.tail_board.faces)
        gaps = []
        for tail in range(1, self.tails):
            below, above = f"tail {tail} upper cheek", f"tail {tail + 1} lower cheek"
            gaps += [self.planes[below].height_of(cheeks[above]).min(), self.planes[above].height_of(cheeks[below]).min()]
        return float(min(gaps))

    def thickness(self, board):
        """Thickness of "tail" or "pin", mm."""
        return self.tail_thickness if board == "tail" else self.pin_thickness

    def _rim_planes(self, board):
        if self.rims == "level":
            return rims(self.height)
        up = self.corner.vector(f"{board}_up")
        return Plane(-up), Plane.through(self.height * self.corner.vector("corner_line"), up)

    def _cheeks(self):
        """Name -> plane of each cheek, normals out of the tails."""
        level, up, entry = (self.corner.vector(name) for name in ("tail_level", "tail_up", "pin_level"))
        on_end_line = self.marks[..., None] * self.corner.vector("corner_line") * self.height / self.slant_width
        planes = {}
        for side, (word, way) in enumerate((("lower", 1), ("upper", -1))):
            normal = np.cross(level + way * up / self.tail_slope, entry)
            normal *= -way * np.sign(normal @ up) / np.linalg.norm(normal)
            for tail, offset in enumerate(on_end_line[:, side] @ normal, start=1):
                planes[f"tail {tail} {word} cheek"] = Plane(normal, float(offset))
        return planes

    @cached_property
    def planes(self):
        """Name -> Plane of every plane of the joint, normals out of the wood (cheeks: out of the tails).

        "tail outer", "tail inner", "tail bottom", "tail top", "tail end", "tail far end", the same for "pin", and
        "tail 1 lower cheek", "tail 1 upper cheek" and so on from the bottom up.
        """
        planes = {}
        for board in BOARDS:
            planes[f"{board} outer"], planes[f"{board} inner"] = face_planes(self.corner, board, self.thickness(board))
            planes[f"{board} bottom"], planes[f"{board} top"] = self._rim_planes(board)
        for board in BOARDS:
            end_lines, gauge_lines = self._struck(planes, board)
            planes[f"{board} end"] = self._end_plane(planes, board, end_lines)
            along = self.corner.vector(f"{board}_level")
            planes[f"{board} far end"] = Plane(along, self.length + float((gauge_lines @ along).max()))
        return planes | self._cheeks()

    def _end_plane(self, planes, board, end_lines):
        if self.end == "flush":
            return planes[f"{_other(board)} outer"]
        normal = np.cross(self.corner.vector("corner_line"), self.corner.vector(f"{board}_normal"))
        normal *= -np.sign(normal @ self.corner.vector(f"{board}_level")) / np.linalg.norm(normal)
        return Plane(normal, float((end_lines @ normal).max()))

    @staticmethod
    def _struck(planes, board):
        """Where the end line and the gauge line meet the rims, shape (2, 2, 2, 3): by line, face and rim."""
        return meet_all(planes, [(f"{_other(board)} {side}", f"{board} {face}", f"{board} {rim}")
                                 for side in ("outer", "inner") for face in ("outer", "inner")
                                 for rim in ("bottom", "top")]).reshape(2, 2, 2, 3)

    def _outline(self, board):
        """(name of the side, name of its plane) once round a board, counter-clockwise as seen from outside the box."""
        shoulder = f"{_other(board)} inner"
        tails = range(self.tails, 0, -1) if board == "tail" else range(1, self.tails + 1)
        first, second = ("upper", "lower") if board == "tail" else ("lower", "upper")
        ends = [("bottom", "tail bottom"), ("far end", "tail far end"), ("top", "tail top"), ("shoulder", shoulder)]
        if board == "pin":
            ends = [("bottom", "pin bottom"), ("end", "pin end"), ("top", "pin top"), ("far end", "pin far end")]
        inside = ("end", "tail end") if board == "tail" else ("shoulder", shoulder)
        outside = ("shoulder", shoulder) if board == "tail" else ("end", "pin end")
        cheeks = {side: [(f"tail {tail} {side} cheek",) * 2 for tail in tails] for side in (first, second)}
        round_tails = [side for lower, upper in zip(cheeks[first], cheeks[second], strict=True)
                       for side in (lower, inside, upper, outside)]
        return ends + round_tails if board == "tail" else ends[:2] + round_tails + ends[2:]

    def _cut(self, board):
        sides, planes = zip(*self._outline(board), strict=True)
        corners = [(f"{board} {face}", before, after) for face in ("outer", "inner")
                   for before, after in zip((planes[-1], *planes[:-1]), planes, strict=True)]
        blank = [tuple(f"{board} {side}" for side in (face, end, rim)) for face in ("outer", "inner")
                 for end in ("end", "far end") for rim in ("bottom", "top")]
        points = meet_all(self.planes, corners + blank)
        way = 1 if board == "pin" else -1
        return CutBoard(board, points[:len(corners)].reshape(2, -1, 3), sides, points[len(corners):].reshape(2, 2, 2, 3),
                        *self._struck(self.planes, board), way * self.corner.vector("pin_level"))

    @cached_property
    def tail_board(self):
        """The tail board as a `CutBoard`, in its place on the bench."""
        return self._cut("tail")

    @cached_property
    def pin_board(self):
        """The pin board as a `CutBoard`, in its place on the bench."""
        return self._cut("pin")

    @cached_property
    def lines(self):
        """Every line to strike on both boards, as `lines.Line`s."""
        return lines_to_strike(self.tail_board) + lines_to_strike(self.pin_board)

    def lines_on(self, board, surface):
        """The lines to strike on one surface of "tail" or "pin": "outer", "end", "inner", "bottom" or "top"."""
        return tuple(line for line in self.lines if (line.board, line.surface) == (board, surface))

    @cached_property
    def gauge_settings(self):
        """The bevel gauge settings that the whole joint needs, as `lines.Setting`s from the squarest on."""
        return group_settings(self.lines)
