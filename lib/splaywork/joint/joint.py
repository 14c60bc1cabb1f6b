"""A level-entry through dovetail on any corner: from one list of planes to two boards with their joint cut.

The tails are drawn on the tail board's outer face. Each cheek is the plane through a line of that drawing and the pin
board's level direction, so that the pin board is pushed straight in, level. Within the pin board's thickness the wood
between the two cheeks of a tail belongs to the tail board, all other wood to the pin board.
"""

import math
from copy import copy
from dataclasses import dataclass, field
from functools import cached_property
from itertools import chain
from typing import TYPE_CHECKING

import numpy as np

from ..common import checks
from ..common.boards import BOARDS, other
from ..common.kinds import LEFT_OUT, Settled
from ..common.planes import Plane, cross, meet_all
from ..corner.corner import Corner
from ..corner.stubs import face_planes, rims
from .lines import group_settings, lines_to_strike
from .solids import CutBoard
from .tails import Cheek, Shares, checked_slope, checked_spacing, marks, share_out

if TYPE_CHECKING:
    from .lines import Line, Setting

PLAN_ANGLES = (60, 135)  # degrees: as far as the joint has been proved


@dataclass(frozen=True)
class Joint:
    """A level-entry through dovetail. What is left out is filled in; lengths are in mm.

    Parameters
    ----------
    corner : Corner
        Of single numbers, its plan angle from 60° to 135°.
    height : float
        Of the box, vertical, between the outer arrises of its rims.
    tail_thickness, pin_thickness : float
        Square to the faces; the pin board is as thick as the tail board unless said.
    tails : int, optional
        How many. Left out: about one for every 2½ thicknesses of slant width (common practice, no source).
    tail_slope : float
        n of "1 in n", from 1 to 50: each cheek spreads 1 from the level centre line of its tail for every n along it. `SLOPES`
        lists published ones; the 6 used when it is left out is one of them and not a recommendation.
    pin_width, half_pin : float, optional
        Width of the pins and of the half pins at the rims, measured at the end line on the tail board's outer face, straight up
        it, where pins are narrowest. Left out, a pin is half the tail board's thickness (at most a fifth of the slant width),
        and a half pin is as wide and takes up what a square rim cuts away.
    end : str
        "flush", each end sawn to lie in the other board's outer face; or "square", sawn square to its own face, parallel to the
        corner line, through whichever of the two arrises of the flush end stands further out: wood only ever stands proud, and
        planing it off after assembly leaves the flush joint.
    rims : str
        "level", the edges ripped level; or "square", left square to the face. Then the outer arrises lie at 0 and at `height`;
        an inner one lies higher than its outer arris where the board leans out, lower where it leans in.
    tail_spacing : str or sequence of float
        "even", or the widths of the tails in relation to one another, from the bottom up, such as (1, 1, 2).
    narrowest : float
        The saw kerf or the chisel that must pass between two tails; 0 asks only that there is a gap.
    looks_as : float, optional
        Width that every tail should seem to have from straight in front; it is marked 1 / cos lean wider. The pins and half
        pins then share alike what is left, so leave those and tail_spacing out.
    length : float, optional
        Of inner face, at least, that the stubs show. Left out: as long as the box is high.
    letters : tuple
        (letter, degrees from square) of the bevel settings of a whole job, for a joint that is one of many; `lettered`.

    Raises
    ------
    ValueError
        In one sentence, when the joint can't be cut.

    >>> import splaywork as sw
    >>> joint = sw.Joint(sw.Corner(16, 11), height=120, tail_thickness=18, tails=3)
    >>> [round(setting.from_square, 1) for setting in joint.bevel_settings]
    [10.6, 15.7, 80.5]
    >>> round(joint.narrowest_gap, 1), joint.marks.shape
    (8.8, (3, 2))
    """

    corner: Corner
    height: float
    tail_thickness: float
    pin_thickness: Settled[float] = LEFT_OUT
    tails: Settled[int] = LEFT_OUT
    tail_slope: float = 6.0
    pin_width: Settled[float] = LEFT_OUT
    half_pin: Settled[float] = LEFT_OUT
    end: str = "flush"
    rims: str = "level"
    tail_spacing: str | tuple = "even"
    narrowest: float = 0.0
    looks_as: float | None = None
    length: Settled[float] = LEFT_OUT
    letters: tuple = field(default=(), compare=False, repr=False, kw_only=True)

    def __post_init__(self) -> None:
        self._check_corner()
        self._settle_sizes()
        self._check_tails()
        self._check_rims()

    def lettered(self, letters: tuple) -> "Joint":
        """The same joint, its bevel settings called by the letters of a whole job: (letter, degrees from square) pairs."""
        named = copy(self)
        named._set(letters=tuple(letters))
        return named

    def _set(self, **values):
        for name, value in values.items():
            object.__setattr__(self, name, value)

    def _check_corner(self):
        corner = self.corner
        checks.instance("corner", corner, Corner, "Corner(tail_lean=14, pin_lean=6)")
        if any(np.ndim(getattr(corner, name)) for name in ("tail_lean", "pin_lean", "plan_angle")):
            raise ValueError("A joint is cut on one corner: give the corner single numbers, not arrays.")
        low, high = PLAN_ANGLES
        if not low <= corner.plan_angle <= high:
            raise ValueError(f"The plan angle is {corner.plan_angle:g}°, and this joint is only proved from {low}° to "
                             f"{high}°: choose one in between.")

    def _settle_sizes(self):
        """Check every size and fill in those that were left out."""
        for name, known in (("end", ("flush", "square")), ("rims", ("level", "square"))):
            self._set(**{name: checks.choice(name, getattr(self, name), known)})
        for name in ("height", "tail_thickness", "pin_thickness", "pin_width", "half_pin", "looks_as", "length"):
            if (value := getattr(self, name)) is not None or name in ("height", "tail_thickness"):
                self._set(**{name: checks.size(name.replace("_", " "), value)})
        self._set(pin_thickness=self.pin_thickness or self.tail_thickness, length=self.length or self.height,
                  tail_slope=checked_slope(self.tail_slope), tail_spacing=checked_spacing(self.tail_spacing))
        self._set(narrowest=checks.amount("narrowest gap", self.narrowest))
        tail = self.looks_as and self.corner.looks_as(self.looks_as)
        shares = share_out(self.slant_width, self.tail_thickness, self.tails, self.pin_width, self.half_pin,
                           self.tail_spacing, tail, self._rim_allowance)
        self._set(tails=shares.tails, pin_width=shares.pin, half_pin=shares.half_pin)

    @property
    def _rim_allowance(self):
        """How much narrower a half pin can be inside than outside because a rim is square to its face, mm."""
        if self.rims == "level":
            return 0.0
        rocking = sum(self.corner.rocking_gap(self.thickness(board), board) for board in BOARDS)
        return self.corner.looks_as(rocking) if rocking else 0.0

    def _check_tails(self):
        """ValueError for tails that have no end, no root, or no room between them."""
        slant, n = self.corner.tail_end_line, self.tail_slope
        if abs(math.tan(math.radians(slant))) >= n:
            raise ValueError(f"The end line slants {slant:.1f}° from square, and no cheek of 1 in {n:g} would meet it: "
                             "make the boards lean less, or give a larger n.")
        roots = self.tail_board.outlines[0, 4:] @ self.corner.vector("corner_line")
        if (pointed := np.flatnonzero(roots[0::4] <= roots[3::4])).size:  # the topmost tail comes first
            offset = self.corner.baseline_offset(self.pin_thickness)
            raise ValueError(f"Tail {self.tails - pointed[-1]} comes to a point before it reaches the baseline, "
                             f"{offset:.1f} mm from the end line for a pin board {self.pin_thickness:g} mm thick: take "
                             "a thinner one, fewer tails, or a larger n in 1 in n.")
        gap = self.narrowest_gap
        if gap is not None and gap <= 0:
            raise ValueError("Two tails would touch where a square end stands proud: make the pins wider or the tails "
                             "fewer, or saw the ends flush.")
        if gap is not None and gap < self.narrowest:
            raise ValueError(f"The narrowest gap between two tails is {gap:.2f} mm, too little for your saw or chisel "
                             f"of {self.narrowest:g} mm: make the pins wider, or the tails fewer.")

    def _check_rims(self):
        """ValueError where a cheek would come out through a rim instead of reaching its baseline."""
        for cut in (self.tail_board, self.pin_board):
            faces = dict(cut.faces)
            for rim, cheek in (("bottom", Cheek(1, "lower")), ("top", Cheek(self.tails, "upper"))):
                if self.planes[f"{cut.board} {rim}"].height_of(faces[cheek]).max() >= 0:
                    raise ValueError(f"The {cheek} runs into the {rim} rim of the {cut.board} board: make the half pins "
                                     f"wider than {self.half_pin:.1f} mm, or saw ends flush and rims level.")

    @property
    def narrowest_gap(self) -> float | None:
        """Smallest distance between the cheeks of two neighbouring tails, seen along the level entry, mm; None for one tail.

        A chisel no wider than this passes, pushed level between them. The cheeks are nearest at or near the sawn ends, and an
        upright corner's gap is its `pin_width`. 0 where two tails touch.
        """
        if self.tails == 1:
            return None
        faces = dict(self.tail_board.faces)
        across = np.stack([self.corner.vector("pin_outward"), (0.0, 0.0, 1.0)], axis=-1)  # along the entry a cheek is a line

        def seen(side, tails):
            corners = np.array([faces[Cheek(tail, side)] for tail in tails]) @ across
            order = np.argsort(corners[..., 0], axis=-1)[:, [0, -1], None]  # the ends of the line: root and tip
            return np.take_along_axis(corners, order, axis=1)

        below, above = seen("upper", range(1, self.tails)), seen("lower", range(2, self.tails + 1))
        return float(np.minimum(_apart(below, above, 1), _apart(above, below, -1)).min())

    @property
    def slant_width(self) -> float:
        """Width of the tail board up its outer face, mm."""
        return self.corner.slant_width(self.height)

    @cached_property
    def marks(self) -> np.ndarray:
        """Lower and upper mark of each tail on the end line, shape (tails, 2): mm straight up the outer face."""
        return marks(self.slant_width, Shares(self.tails, self.pin_width, self.half_pin), self.tail_spacing)

    @property
    def sawn_bevel(self) -> float:
        """Degrees out of square to its face at which an end is sawn: the end bevel where it is flush, 0 where it is square."""
        return self.corner.end_bevel if self.end == "flush" else 0.0

    def thickness(self, board: str) -> float:
        """Thickness of "tail" or "pin", mm."""
        return self.tail_thickness if board == "tail" else self.pin_thickness

    @cached_property
    def planes(self) -> dict[str, Plane]:
        """Name -> Plane of every plane of the joint, normals out of the wood (cheeks: out of the tails).

        "tail outer", "tail inner", "tail bottom", "tail top", "tail end", "tail far end", the same for "pin", and
        "tail 1 lower cheek", "tail 1 upper cheek" and so on from the bottom up.
        """
        planes = {}
        for board in BOARDS:
            planes[f"{board} outer"], planes[f"{board} inner"] = face_planes(self.corner, board, self.thickness(board))
            planes[f"{board} bottom"], planes[f"{board} top"] = self._rim_planes(board)
        for board in BOARDS:
            end_lines, baselines = self._end_lines_and_baselines(planes, board)
            planes[f"{board} end"] = self._end_plane(planes, board, end_lines)
            along = self.corner.vector(f"{board}_level")
            planes[f"{board} far end"] = Plane(along, self.length + float((baselines @ along).max()))
        return planes | self.cheeks

    def _rim_planes(self, board):
        if self.rims == "level":
            return rims(self.height)
        up = self.corner.vector(f"{board}_up")
        return Plane(-up), Plane.through(self.height * self.corner.vector("corner_line"), up)

    @staticmethod
    def _end_lines_and_baselines(planes, board):
        """Where the end line and the baseline meet the rims, shape (2, 2, 2, 3): by line, face and rim."""
        return meet_all(planes, [(f"{other(board)} {side}", f"{board} {face}", f"{board} {rim}")
                                 for side in ("outer", "inner") for face in ("outer", "inner")
                                 for rim in ("bottom", "top")]).reshape(2, 2, 2, 3)

    def _end_plane(self, planes, board, end_lines):
        if self.end == "flush":
            return planes[f"{other(board)} outer"]
        normal = cross(self.corner.vector("corner_line"), self.corner.vector(f"{board}_normal"))
        normal *= -np.sign(normal @ self.corner.vector(f"{board}_level")) / np.linalg.norm(normal)
        return Plane(normal, float((end_lines @ normal).max()))

    @cached_property
    def cheeks(self) -> dict[str, Plane]:
        """Name -> plane of each cheek: it holds its line on the tail board's outer face, and the level entry."""
        level, up, entry = (self.corner.vector(name) for name in ("tail_level", "tail_up", "pin_level"))
        on_end_line = self.marks[..., None] * self.corner.vector("corner_line") * self.height / self.slant_width
        planes: dict[str, Plane] = {}
        for side, (word, way) in enumerate((("lower", 1), ("upper", -1))):
            normal = cross(level + way * up / self.tail_slope, entry)
            normal *= -way * np.sign(normal @ up) / np.linalg.norm(normal)
            for tail, offset in enumerate(on_end_line[:, side] @ normal, start=1):
                planes[Cheek(tail, word)] = Plane(normal, float(offset))
        return planes

    def _outline(self, board):
        """(name of the side, name of its plane) once round a board, counter-clockwise as seen from outside the box."""
        bottom, top, end, far_end = ((side, f"{board} {side}") for side in ("bottom", "top", "end", "far end"))
        shoulder = ("shoulder", f"{other(board)} inner")
        lower, upper = ([(Cheek(tail, side),) * 2 for tail in range(1, self.tails + 1)]
                        for side in ("lower", "upper"))
        pairs = list(zip(lower, upper, strict=True))
        if board == "tail":
            return [bottom, far_end, top, shoulder, *chain(*((high, end, low, shoulder) for low, high in pairs[::-1]))]
        return [bottom, end, *chain(*((low, shoulder, high, end) for low, high in pairs)), top, far_end]

    def _cut(self, board):
        sides, planes = zip(*self._outline(board), strict=True)
        faces, ends = ("outer", "inner"), ("end", "far end")
        corners = [(f"{board} {face}", before, after) for face in faces
                   for before, after in zip((planes[-1], *planes[:-1]), planes, strict=True)]
        blank = [(f"{board} {face}", f"{board} {end}", f"{board} {rim}") for face in faces for end in ends
                 for rim in ("bottom", "top")]
        points = meet_all(self.planes, corners + blank)
        outlines, blank = points[:-8].reshape(2, -1, 3), points[-8:].reshape(2, 2, 2, 3)
        out = self.corner.vector("pin_level") * (1 if board == "pin" else -1)
        return CutBoard(board, outlines, sides, blank, *self._end_lines_and_baselines(self.planes, board), out)

    @cached_property
    def tail_board(self) -> CutBoard:
        """The tail board as a `CutBoard`, in its place on the bench."""
        return self._cut("tail")

    @cached_property
    def pin_board(self) -> CutBoard:
        """The pin board as a `CutBoard`, in its place on the bench."""
        return self._cut("pin")

    @cached_property
    def lines(self) -> "tuple[Line, ...]":
        """Every line to strike on both boards, as `lines.Line`s."""
        return lines_to_strike(self.tail_board) + lines_to_strike(self.pin_board)

    def lines_on(self, board: str, surface: str) -> "tuple[Line, ...]":
        """The lines to strike on one surface of "tail" or "pin": "outer", "end", "inner", "bottom" or "top"."""
        return tuple(line for line in self.lines if (line.board, line.surface) == (board, surface))

    def cheeks_at(self, height: float, board: str = "tail", face: str = "inner") -> dict[str, float]:
        """Where cheeks cross a level line `height` mm above the bench on a face: name -> mm level from the end line.

        board: "tail" or "pin". face: "outer" or "inner". A groove whose two edges, and all between them, cross none
        meets only whole wood: a tail or a pin (`cheek_heights`).
        """
        heights = self.cheek_heights(board, face)
        level = self.corner.vector(f"{board}_level")
        (bottom, top), = (line.ends for line in self.lines_on(board, face) if line.name == "end line")
        lines = {line.name: line.ends for line in self.lines_on(board, face)}
        crossed = {}
        for name, (low, high) in heights.items():
            if low <= height <= high:
                start, end = lines[name]
                part = (height - start[2]) / (end[2] - start[2])
                at_end_line = bottom + (height - bottom[2]) / (top[2] - bottom[2]) * (top - bottom)
                crossed[name] = float((start + part * (end - start) - at_end_line) @ level)
        return crossed

    def cheek_heights(self, board: str = "tail", face: str = "inner") -> dict[str, tuple[float, float]]:
        """Name of each cheek -> (lowest, highest) mm above the bench that it reaches on a face, from the bottom up."""
        if board not in BOARDS or face not in ("outer", "inner"):
            raise ValueError(f"A joint has cheeks on the 'outer' and 'inner' face of its 'tail' and 'pin' board, not on "
                             f"{face!r} of {board!r}.")
        heights = {line.name: (float(line.ends[:, 2].min()), float(line.ends[:, 2].max()))
                   for line in self.lines_on(board, face) if line.kind == "cheek"}
        return dict(sorted(heights.items(), key=lambda item: item[1]))

    @cached_property
    def bevel_settings(self) -> "tuple[Setting, ...]":
        """The bevel settings that the whole joint needs, as `lines.Setting`s from the squarest on.

        One to three on a corner square in plan with flush ends and level rims; square ends, square rims and other plan
        angles each add their own.
        """
        return group_settings(self.lines)


def _apart(lines, others, side):
    """mm from the ends of flat lines (n, 2, 2) to the other lines; 0 where an end has crossed to its other's wrong side.

    side: 1 where the others lie above, −1 where they lie below.
    """
    start, way = others[:, :1], others[:, 1:] - others[:, :1]
    out = lines - start
    along = np.clip((out * way).sum(-1) / np.maximum((way * way).sum(-1), np.finfo(float).tiny), 0, 1)  # not through nothing
    crossed = side * (way[..., 0] * out[..., 1] - way[..., 1] * out[..., 0]) >= 0
    return np.where(crossed & (along > 0) & (along < 1), 0.0, np.linalg.norm(out - along[..., None] * way, axis=-1))
