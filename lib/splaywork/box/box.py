"""The whole box: four boards with leans of their own, four corners, and the joints at them.

Axes of a box: z is up from the bench; x runs along the front to the right and y to the back, as seen by whoever stands
before it; the origin is the outer front left corner at the bottom. A board's left and right end are as seen from outside
the box with the board upright, so the left end of the right board is at the front.
"""

from dataclasses import KW_ONLY, dataclass, replace
from functools import cached_property, lru_cache
from typing import TYPE_CHECKING, Any

import numpy as np

from ..common import checks
from ..common.planes import cross, meet_all
from ..corner.corner import Corner
from ..formulas.forms import compute
from ..joint.joint import Joint
from ..joint.tails import MOST, checked_slope, checked_spacing
from .board import BoxBoard
from .corners import BoxCorner
from .movement import DAMPEST, DRIEST, SAWN, WOODS

if TYPE_CHECKING:
    from ..common.planes import Plane
    from .opening import Clearances, FrontChoice, OpeningFit

NAMES = ("front", "right", "back", "left")  # counter-clockwise as seen from above
MEASURED = ("outside at the bottom", "outside at the top", "inside at the bottom")
ENDS, RIMS = ("flush", "square"), ("level", "square")
BOTTOMS = ("captured", "slid in")
TAILS_ON = {"sides": ("left", "right"), "front and back": ("front", "back")}
END_CORNERS = {"front": ("front left", "front right"), "right": ("front right", "back right"),
               "back": ("back right", "back left"), "left": ("back left", "front left")}  # at its left and right end

OUTWARD = {"front": (0.0, -1.0, 0.0), "right": (1.0, 0.0, 0.0), "back": (0.0, 1.0, 0.0), "left": (-1.0, 0.0, 0.0)}
_LIES_FLAT = "a board that leans 90° or more lies flat: keep it between −90° and 90°"


def checked_board(name: str) -> str:
    """The name of one of a box's boards; ValueError otherwise."""
    return checks.choice("name of a board", name, NAMES)


def neighbours(name: str) -> tuple[str, ...]:
    """The boards at the left and at the right end of a board."""
    number = NAMES.index(checked_board(name))
    return NAMES[number - 1], NAMES[(number + 1) % 4]


def checked_lean(name: str, value: float) -> float:
    """One lean in degrees as a float between −90 and 90; ValueError otherwise."""
    return checks.angle(name, value, -90, 90, _LIES_FLAT)


@dataclass(frozen=True)
class Allowances:
    """What a blank is left larger. The values given are common practice, no source.

    Parameters
    ----------
    end, edge, thickness : float
        mm, 0 or more: at each end, at each edge, and in all of its thickness.

    Raises
    ------
    ValueError
        For what is no such number.

    >>> import splaywork as sw
    >>> sw.Allowances(end=15)
    Allowances(end=15.0, edge=3.0, thickness=0.0)
    """

    end: float = 10.0
    edge: float = 3.0
    thickness: float = 0.0

    def __post_init__(self) -> None:
        for name in ("end", "edge", "thickness"):
            object.__setattr__(self, name, checks.amount(f"allowance for {name}", getattr(self, name)))


@dataclass(frozen=True)
class JointSettings:
    """How all four corners are jointed; each setting as in `Joint`.

    Parameters
    ----------
    tails : int, optional
        Of every corner; None leaves the number to each corner, about one for every 2½ thicknesses (`Joint`).
    tail_slope : float
        n of "1 in n".
    pin_width, half_pin : float, optional
        mm.
    end : str
        "flush" or "square".
    tail_spacing : str or sequence of float
        "even", or the tails' widths in relation to one another, from the bottom up.
    narrowest : float
        mm, that must pass between two tails.
    looks_as : float, optional
        mm, the width that a tail should seem to have from straight in front.

    Raises
    ------
    ValueError
        For what is no number, and for a spacing of no widths.

    >>> import splaywork as sw
    >>> sw.JointSettings(tails=3, tail_slope=7).tail_slope
    7.0
    """

    tails: int | None = None
    tail_slope: float = 6.0
    pin_width: float | None = None
    half_pin: float | None = None
    end: str = "flush"
    tail_spacing: str | tuple = "even"
    narrowest: float = 0.0
    looks_as: float | None = None

    def __post_init__(self) -> None:
        # the same values in the same types, however they came, so that settings saved and read again are equal
        kept: dict[str, Any] = {name: checks.size(name.replace("_", " "), value)
                                for name in ("pin_width", "half_pin", "looks_as")
                                if (value := getattr(self, name)) is not None}
        if self.tails is not None:
            kept["tails"] = checks.count("number of tails", self.tails, 1, MOST)
        kept |= {"tail_slope": checked_slope(self.tail_slope), "narrowest": checks.amount("narrowest gap", self.narrowest),
                 "tail_spacing": checked_spacing(self.tail_spacing), "end": checks.choice("end", self.end, ENDS)}
        for name, value in kept.items():
            object.__setattr__(self, name, value)


@lru_cache(maxsize=64)  # a box has equal corners, and at one move of a slider most stay as they were
def _joint(tail_lean, pin_lean, height, tail_thickness, pin_thickness, rims, settings):
    named = {name: getattr(settings, name) for name in JointSettings.__dataclass_fields__}
    return Joint(Corner(tail_lean, pin_lean), height, tail_thickness, pin_thickness, rims=rims, **named)


@dataclass(frozen=True)
class Bottom:
    """The level bottom of a box; lengths in mm.

    thickness: of the panel. up: of its lower face above the bench; None for the lowest height at which no groove meets a
    cheek. play: level, between each edge and the bottom of its groove. depth: of the grooves, square to the faces; None for
    a third of the thinnest board (common practice, no source).
    kind: "captured", in grooves all round, put in as the box goes together; or "slid in", in grooves of the front and the
    sides, under a back whose lower edge is ripped off. wood: one of `movement.WOODS` for a solid panel, its grain from side to
    side, sawn "flat" or "quarter"; None for sheet material, which hardly moves. damper: how much moisture it may take up after
    it was made, in % of its dry weight, for which play is left across the grain; the value given is our choice.

    >>> import splaywork as sw
    >>> sw.Bottom(thickness=9).play
    0.5
    """

    thickness: float = 6.0
    up: float | None = None
    play: float = 0.5
    depth: float | None = None
    kind: str = "captured"
    wood: str | None = None
    sawn: str = "flat"
    damper: float = 4.0

    def __post_init__(self) -> None:
        checks.choice("kind of a bottom", self.kind, BOTTOMS)
        if self.wood is not None:
            checks.choice("wood of the bottom", self.wood, tuple(WOODS))
        checks.choice("way the bottom is sawn", self.sawn, tuple(SAWN))
        most = DAMPEST - DRIEST
        kept = {"thickness": checks.size("thickness of the bottom", self.thickness),
                "play": checks.amount("play of the bottom", self.play),
                "damper": checks.number("moisture that the bottom takes up", self.damper, what=f"a number from 0 to {most:g}",
                                        fits=lambda percent: (percent >= 0) & (percent <= most))}
        for name, said in (("up", "height of the bottom"), ("depth", "depth of its grooves")):
            if getattr(self, name) is not None:
                kept[name] = checks.size(said, getattr(self, name))
        for name, value in kept.items():
            object.__setattr__(self, name, value)


@dataclass(frozen=True)
class Box:
    """A four-sided box, square in plan, dovetailed at its corners; lengths in mm, leans in degrees.

    Parameters
    ----------
    width, depth : float
        Along the front, and front to back, both where `measured` says.
    height : float
        Vertical, between the outer arrises of the rims.
    front_lean, back_lean, left_lean, right_lean : float
        Positive when the top is further out.
    thickness : float
        Of every board, square to its faces, but for those that have one of their own.
    front_thickness, back_thickness, left_thickness, right_thickness : float, optional
        A board's own thickness.
    tails_on : str
        "sides" or "front and back"; the other pair carries the pins.
    joint : JointSettings
        Of all four corners.
    measured : str
        "outside at the bottom", "outside at the top", or "inside at the bottom", between the inner faces at the bench.
    rims : str
        "level", ripped to the leans; or "square", left square to the faces.
    allowances : Allowances
        What the blanks are larger.
    bottom : Bottom
        What it gets.

    Raises
    ------
    ValueError
        In one sentence, for a box that can't be made.

    >>> import splaywork as sw
    >>> box = sw.Box(400, 300, 100, front_lean=10, left_lean=5, right_lean=5)
    >>> round(box.outer_length("front", 100), 1)
    417.5
    >>> list(box.corners)
    ['front left', 'front right', 'back right', 'back left']
    """

    width: float
    depth: float
    height: float
    _: KW_ONLY
    front_lean: float = 0.0
    back_lean: float = 0.0
    left_lean: float = 0.0
    right_lean: float = 0.0
    thickness: float = 12.0
    front_thickness: float | None = None
    back_thickness: float | None = None
    left_thickness: float | None = None
    right_thickness: float | None = None
    tails_on: str = "sides"
    joint: JointSettings = JointSettings()
    measured: str = "outside at the bottom"
    rims: str = "level"
    allowances: Allowances = Allowances()
    bottom: Bottom = Bottom()

    def __post_init__(self) -> None:
        sizes = ["width", "depth", "height", "thickness"]
        sizes += [f"{name}_thickness" for name in NAMES if getattr(self, f"{name}_thickness") is not None]
        for name in sizes:
            object.__setattr__(self, name, checks.size(name.replace("_", " "), getattr(self, name)))
        for name in NAMES:
            lean = checked_lean(f"{name} lean", getattr(self, f"{name}_lean"))
            object.__setattr__(self, f"{name}_lean", lean)
        for name, known in (("tails_on", tuple(TAILS_ON)), ("measured", MEASURED), ("rims", RIMS)):
            checks.choice(f"box's {name}", getattr(self, name), known)
        checks.instance("box's joint", self.joint, JointSettings, "JointSettings(tails=3)")
        checks.instance("box's allowances", self.allowances, Allowances, "Allowances(end=15)")
        checks.instance("box's bottom", self.bottom, Bottom, "Bottom(thickness=6)")
        self._check_room()

    def _check_room(self):
        """ValueError where the outer faces meet, or where the joints of a board's two ends would run together."""
        for name in NAMES:
            size = "width" if name in ("front", "back") else "depth"
            remedy = f"make the {size} larger, or lean its ends in less"
            shortest = min(self.outer_length(name, height) for height in (0, self.height))
            if shortest <= 0:
                raise ValueError(f"The {name} board would have no length at its {self._shorter_rim(name)}: {remedy}.")
            board = self.boards[name]
            clear = board.in_board(board.baselines)[..., 0]  # by face, end and rim
            if (clear[:, 1] - clear[:, 0]).min() <= 0:
                raise ValueError(f"The joints at the two ends of the {name} board would run into each other: {remedy}, "
                                 "or take thinner boards.")

    def _shorter_rim(self, name):
        return "bottom" if self.outer_length(name, 0) <= self.outer_length(name, self.height) else "top"

    @classmethod
    def for_opening(cls, floor_width: float, depth: float, height: float, *, front_lean: float = 0.0, back_lean: float = 0.0,
                    left_lean: float = 0.0, right_lean: float = 0.0, clearances: "Clearances | None" = None,
                    front: "FrontChoice | None" = None, **settings: Any) -> "OpeningFit":
        """The drawer for a leaning opening, as an `OpeningFit` whose `box` it is.

        floor_width, depth: of the opening along its floor, from wall to wall; height: from floor to top, vertical.
        Leans of its walls as of a box's. clearances: `Clearances`, by which each wall is moved in, square to itself.
        front: the `FrontChoice` of its show front, or None; an inset one sets the drawer back by its thickness.
        settings: any others of `Box`, such as thickness. ValueError for a setting that the opening settles already.
        """
        from .opening import Clearances, Opening  # an opening is fitted with a Box

        opening = Opening(floor_width, depth, height, front_lean=front_lean, back_lean=back_lean, left_lean=left_lean,
                          right_lean=right_lean)
        return opening.fit(Clearances() if clearances is None else clearances, front=front, **settings)

    def mirrored(self) -> "Box":
        """The box for the other side: left for right."""
        return replace(self, left_lean=self.right_lean, right_lean=self.left_lean, left_thickness=self.right_thickness,
                       right_thickness=self.left_thickness)

    def lean(self, name: str) -> float:
        """Lean of the board "front", "right", "back" or "left", degrees."""
        return getattr(self, f"{checked_board(name)}_lean")

    def thickness_of(self, name: str) -> float:
        """Thickness of a board, mm."""
        own = getattr(self, f"{checked_board(name)}_thickness")
        return self.thickness if own is None else own

    def carries(self, name: str) -> str:
        """"tails" or "pins"."""
        return "tails" if checked_board(name) in TAILS_ON[self.tails_on] else "pins"

    def slant_width(self, name: str) -> float:
        """Width up the face of a board, mm."""
        return float(compute("slant_width", height=self.height, lean=self.lean(name)))

    def _at_ends(self, name):
        """({quantity: degrees}, {quantity: mm}): leans and thicknesses of the neighbours at a board's left and right end."""
        pair = dict(zip(("first", "second"), neighbours(name), strict=True))
        return ({f"{end}_lean": self.lean(other) for end, other in pair.items()},
                {f"{end}_thickness": self.thickness_of(other) for end, other in pair.items()})

    @cached_property
    def _bottom(self):
        """(outer width, outer depth) at the bottom, mm."""
        sizes = []
        for name, given in (("front", self.width), ("right", self.depth)):
            leans, thick = self._at_ends(name)
            if self.measured == "outside at the top":
                given -= compute("length_at_height", bottom_edge=0, up=self.height, **leans)
            elif self.measured == "inside at the bottom":
                given -= compute("inside_length", bottom_edge=0, up=0, **leans, **thick)
            sizes.append(float(given))
        return tuple(sizes)

    def _bottom_length(self, name):
        return self._bottom[NAMES.index(checked_board(name)) % 2]

    def outer_length(self, name: str, height: float = 0.0) -> float:
        """Length of a board's outer face between its end lines, mm, at a height above the bench."""
        height = checks.number("height", height)
        return float(compute("length_at_height", bottom_edge=self._bottom_length(name), up=height, **self._at_ends(name)[0]))

    def inside_length(self, name: str, height: float = 0.0) -> float:
        """Length along a board between the inner faces of its neighbours, mm, at a height above the bench."""
        height = checks.number("height", height)
        leans, thick = self._at_ends(name)
        return float(compute("inside_length", bottom_edge=self._bottom_length(name), up=height, **leans, **thick))

    @property
    def inside_volume(self) -> float:
        """What the box holds between its inner faces, from the bench to `height`, mm³ (no bottom fitted)."""
        given = {"height": self.height}
        for name, of in (("front", ""), ("right", "side_")):
            leans, thick = self._at_ends(name)
            sizes = {"bottom_edge": self._bottom_length(name), **leans, **thick}
            given |= {f"{of}{quantity}": value for quantity, value in sizes.items()}
        return float(compute("inside_volume", **given))

    @cached_property
    def corners(self) -> dict[str, BoxCorner]:
        """Name -> BoxCorner: "front left", "front right", "back right", "back left"."""
        width, depth = self._bottom
        bottoms = {"front left": (0, 0), "front right": (width, 0), "back right": (width, depth), "back left": (0, depth)}
        return {END_CORNERS[name][0]: self._corner(END_CORNERS[name][0], name, bottoms) for name in NAMES}

    def _corner(self, at, left_of, bottoms):
        right_of = neighbours(left_of)[0]
        tail, pin = (left_of, right_of) if self.carries(left_of) == "tails" else (right_of, left_of)
        try:
            joint = _joint(self.lean(tail), self.lean(pin), self.height, self.thickness_of(tail), self.thickness_of(pin),
                           self.rims, self.joint)
        except ValueError as wrong:
            why = str(wrong)
            raise ValueError(f"At the {at} corner, {why[0].lower()}{why[1:]}") from None
        # away from the corner each board runs against its neighbour's outward direction
        turn = np.array([np.negative(OUTWARD[pin]), np.negative(OUTWARD[tail]), (0.0, 0.0, 1.0)]).T
        return BoxCorner(at, tail, pin, joint, turn, np.array([*bottoms[at], 0.0]))

    @cached_property
    def planes(self) -> "dict[str, Plane]":
        """Name -> Plane of every plane of the box, normals out of the wood (cheeks: out of the tails).

        "front outer", "front inner", "front bottom", "front top", "front left end", "front right end" and so on, and
        "front left tail 1 lower cheek" and so on by corner.
        """
        planes = {}
        for at, corner in self.corners.items():
            for board in ("tail", "pin"):
                name = getattr(corner, board)
                for side in ("outer", "inner", "bottom", "top"):
                    planes[f"{name} {side}"] = corner.place_plane(corner.joint.planes[f"{board} {side}"])
                end = ("left", "right")[END_CORNERS[name].index(at)]
                planes[f"{name} {end} end"] = corner.place_plane(corner.joint.planes[f"{board} end"])
            planes |= {f"{at} {cheek}": corner.place_plane(plane) for cheek, plane in corner.joint.cheeks.items()}
        return planes

    @cached_property
    def boards(self) -> dict[str, BoxBoard]:
        """Name -> BoxBoard of all four boards, each in its place: "front", "right", "back", "left"."""
        return {name: self._board(name) for name in NAMES}

    def _end_sides(self, name, end):
        """(name of the side, name of its plane) up the right or down the left end of a board."""
        number = ("left", "right").index(end)
        at = END_CORNERS[name][number]
        shoulder = (f"{end} shoulder", f"{neighbours(name)[number]} inner")
        sawn = (f"{end} end", f"{name} {end} end")
        start, between = (shoulder, sawn) if self.carries(name) == "tails" else (sawn, shoulder)
        sides = [start]
        for tail in range(1, self.corners[at].joint.tails + 1):
            low, high = ((f"{end} tail {tail} {side} cheek", f"{at} tail {tail} {side} cheek")
                         for side in ("lower", "upper"))
            sides += [low, between, high, start]
        return sides if end == "right" else sides[::-1]

    def _board(self, name):
        around = [("bottom", f"{name} bottom"), *self._end_sides(name, "right"), ("top", f"{name} top"),
                  *self._end_sides(name, "left")]
        sides, planes = zip(*around, strict=True)
        corners = [(f"{name} {face}", before, after) for face in ("outer", "inner")
                   for before, after in zip((planes[-1], *planes[:-1]), planes, strict=True)]
        others = neighbours(name)
        across = {"blank": (f"{name} left end", f"{name} right end"),
                  "end_lines": [f"{other} outer" for other in others],
                  "baselines": [f"{other} inner" for other in others]}
        marks = [(f"{name} {face}", end, f"{name} {rim}") for ends in across.values() for face in ("outer", "inner")
                 for end in ends for rim in ("bottom", "top")]
        points = meet_all(self.planes, corners + marks)
        outlines, marks = points[:-24].reshape(2, -1, 3), points[-24:].reshape(3, 2, 2, 2, 3)
        out = self.planes[f"{name} outer"].normal
        right = cross((0.0, 0.0, 1.0), OUTWARD[name])
        tails = tuple(self.corners[at].joint.tails for at in END_CORNERS[name])
        return BoxBoard(name, self.carries(name), tails, outlines, sides, *marks,
                        np.array([right, cross(out, right), out]))
