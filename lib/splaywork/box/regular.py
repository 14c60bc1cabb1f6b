"""Boxes of n equal boards, mitred at their corners: no dovetails, one lean."""

from dataclasses import KW_ONLY, dataclass, replace
from functools import cached_property

import numpy as np

from ..common import checks
from ..corner.corner import Corner
from ..corner.stubs import Block
from ..formulas.forms import compute
from .box import Allowances, checked_lean
from .cut_list import SAW_TILTS, BoardCut, CutList, End, Group, job_saw_order

SIDES = range(3, 13)  # how many boards a regular box may have
AS_USUAL = Allowances()


@dataclass(frozen=True)
class RegularBox:
    """A box of n equal boards, mitred at its corners, all leaning alike. No dovetails; rims are ripped level.

    Parameters
    ----------
    sides : int
        3 to 12.
    edge : float
        Outer length of a board at the bottom, mm.
    height : float
        Vertical, mm.
    lean : float
        Degrees, positive when the top is further out.
    thickness : float
        Square to the faces, mm.
    allowances : Allowances
        What the blanks are larger.

    Raises
    ------
    ValueError
        In one sentence, for one that can't be.

    >>> import splaywork as sw
    >>> tray = sw.RegularBox(6, edge=150, height=60, lean=20)
    >>> round(tray.end_line, 2), round(tray.mitre_bevel, 2)
    (11.17, 28.02)
    """

    sides: int
    edge: float
    height: float
    _: KW_ONLY
    lean: float = 0.0
    thickness: float = 12.0
    allowances: Allowances = AS_USUAL

    def __post_init__(self) -> None:
        object.__setattr__(self, "sides", checks.count("number of sides", self.sides, SIDES[0], SIDES[-1]))
        for name in ("edge", "height", "thickness"):
            object.__setattr__(self, name, checks.size(name, getattr(self, name)))
        object.__setattr__(self, "lean", checked_lean("lean", self.lean))
        checks.instance("box's allowances", self.allowances, Allowances, "Allowances(end=15)")
        if min(self.inner_length(height) for height in (0, self.height)) <= 0:
            raise ValueError(f"Boards {self.edge:g} mm long at the bottom would leave no inside: make the edge longer, "
                             "lean the boards in less, or take thinner ones.")

    @property
    def plan_angle(self) -> float:
        """Degrees between the level edges of neighbours, inside."""
        return 180 - 360 / self.sides

    @cached_property
    def corner(self) -> Corner:
        """The one `Corner` that all of them are."""
        return Corner(self.lean, self.lean, self.plan_angle)

    @property
    def end_line(self) -> float:
        """End line at both ends of every board, degrees from square, positive when longer at the top."""
        return self.corner.tail_end_line

    @property
    def mitre_bevel(self) -> float:
        """Degrees that each end is sawn out of square to its face, the inner face left shorter."""
        return float(compute("mitre_bevel", tail_lean=self.lean, pin_lean=self.lean, plan_angle=self.plan_angle))

    @property
    def rim_bevel(self) -> float:
        """Degrees that the rims are ripped out of square, signed as the lean."""
        return self.corner.tail_rim_bevel

    @property
    def slant_width(self) -> float:
        """Width up the face, mm."""
        return self.corner.slant_width(self.height)

    def _length(self, thickness, height):
        height = checks.number("height", height)
        return float(compute("regular_length", bottom_edge=self.edge, lean=self.lean, thickness=thickness, up=height,
                             plan_angle=self.plan_angle))

    def outer_length(self, height: float = 0.0) -> float:
        """Length of a board's outer face at a height above the bench, mm."""
        return self._length(0.0, height)

    def inner_length(self, height: float = 0.0) -> float:
        """Length of a board's inner face at a height above the bench, mm."""
        return self._length(self.thickness, height)

    @property
    def blank(self) -> tuple[float, float, float]:
        """(length, width, thickness) to saw each board from, mm, with the allowances and what level rims take."""
        longest = max(self.outer_length(height) for height in (0, self.height))
        rim = float(compute("rim_run", thickness=self.thickness, lean=self.lean))
        spare = self.allowances
        return (longest + 2 * spare.end, self.slant_width + rim + 2 * spare.edge, self.thickness + spare.thickness)

    def cut_list(self, saw_tilts: str = "left") -> CutList:
        """All its boards as a `CutList`, with the saw's set-ups for edges and mitres; one row, as the boards are equal.

        saw_tilts: "left" or "right". A mitred end has no joint: its tails and its baseline are 0.
        """
        ends = tuple(End(side, f"{side} mitre", self.end_line, -self.mitre_bevel, 0.0, 0) for side in ("left", "right"))
        of = {"outer": self.outer_length, "sawn": self.outer_length, "inner": self.inner_length}
        lengths = {f"{name}_{rim}": length(height) for name, length in of.items()
                   for rim, height in (("bottom", 0.0), ("top", self.height))}
        outer = self.boards[0].vertices[:4]
        diagonals = tuple(float(np.linalg.norm(outer[end] - outer[end + 2])) for end in (0, 1))
        board = BoardCut("every", "mitres", self.lean, self.thickness, self.slant_width, self.blank, **lengths,
                         diagonals=diagonals, ends=ends, rim_bevel=self.rim_bevel)
        made = CutList((board,), self.sides, (Group(("first board", "others"), (), self.sides),), (), saw_tilts, (), ())
        return replace(made, saw_order=job_saw_order([made], checks.choice("way that the saw tilts", saw_tilts, SAW_TILTS)))

    @property
    def inside_volume(self) -> float:
        """What the box holds, mm³ (no bottom fitted)."""
        return float(compute("regular_volume", bottom_edge=self.edge, lean=self.lean, thickness=self.thickness,
                             height=self.height, sides=self.sides, plan_angle=self.plan_angle))

    @cached_property
    def boards(self) -> tuple:
        """The boards as `Block`s, counter-clockwise from above, the first along +x; z up, the middle at the origin."""
        names = ("outer", "inner", "bottom", "right end", "top", "left end")
        outlines = []
        for length in (self.outer_length, self.inner_length):
            low, high = length(0), length(self.height)
            low_out, high_out = (float(compute("apothem", bottom_edge=edge, sides=self.sides)) for edge in (low, high))
            outlines += [(-low / 2, -low_out, 0), (low / 2, -low_out, 0), (high / 2, -high_out, self.height),
                         (-high / 2, -high_out, self.height)]
        turns = np.radians(180 - self.plan_angle) * np.arange(self.sides)
        cos, sin = np.cos(turns), np.sin(turns)
        turned = np.array([[cos, -sin], [sin, cos]]).transpose(2, 0, 1)
        first = np.array(outlines)
        return tuple(Block(np.column_stack([first[:, :2] @ turn.T, first[:, 2]]), names) for turn in turned)
