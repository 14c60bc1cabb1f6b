"""The whole box: four boards with leans of their own, four corners, and the joints at them; and boxes of n like boards.

Axes of a box: z is up from the bench; x runs along the front to the right and y to the back, as seen by whoever stands
before it; the origin is the outer front left corner at the bottom. A board's left and right end are as seen from outside
the box with the board upright, so the left end of the right board is at the front.
"""

import math
import operator
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from ..common.measure import fine
from ..common.planes import Plane, meet_all
from ..corner.corner import Corner, _checked
from ..corner.stubs import Block, rims
from ..formulas.derivation import H, L, L_side, N, a, b, k, numeric, p, q1, q2, s1, s2, t, tu, tv, u, v, z
from ..joint.joint import Joint
from ..joint.tails import checked_size
from .board import BoxBoard

NAMES = ("front", "right", "back", "left")  # counter-clockwise as seen from above
MEASURED = ("outside at the bottom", "outside at the top", "inside at the bottom")
TAILS_ON = {"sides": ("left", "right"), "front and back": ("front", "back")}
END_CORNERS = {"front": ("front left", "front right"), "right": ("front right", "back right"),
               "back": ("back right", "back left"), "left": ("back left", "front left")}  # at its left and right end
SIDES = range(3, 13)  # how many boards a regular box may have

_OUTWARD = {"front": (0.0, -1.0, 0.0), "right": (1.0, 0.0, 0.0), "back": (0.0, 1.0, 0.0), "left": (-1.0, 0.0, 0.0)}
_LIES_FLAT = "a board that leans 90° or more lies flat: keep it between −90° and 90°"


def neighbours(name):
    """The boards at the left and at the right end of a board."""
    number = NAMES.index(name)
    return NAMES[number - 1], NAMES[(number + 1) % 4]


def checked_room(name, value):
    """The value in mm as a float, 0 or more; ValueError otherwise."""
    try:
        number = float(value)
    except (TypeError, ValueError):
        number = math.nan
    if not (math.isfinite(number) and number >= 0):
        raise ValueError(f"The {name} must be a number of mm, 0 or more, not {value!r}.")
    return number


def checked_lean(name, value):
    """One lean in degrees as a float between −90 and 90; ValueError otherwise."""
    if np.ndim(value):
        raise ValueError(f"The {name} must be one number of degrees, not {value!r}.")
    return float(_checked(name, value, -90, 90, _LIES_FLAT))


@dataclass(frozen=True)
class Allowances:
    """What a blank is left larger, mm: at each end, at each edge, and in all of its thickness.

    The values given are common practice, no source.
    """

    end: float = 10.0
    edge: float = 3.0
    thickness: float = 0.0

    def __post_init__(self):
        for name in ("end", "edge", "thickness"):
            object.__setattr__(self, name, checked_room(f"allowance for {name}", getattr(self, name)))


@dataclass(frozen=True)
class JointSettings:
    """How all four corners are jointed; each setting as in `Joint`."""

    tails: int | None = None
    tail_slope: float = 6.0
    pin_width: float | None = None
    half_pin: float | None = None
    end: str = "flush"
    tail_spacing: str | tuple = "even"
    narrowest: float = 0.0
    looks_as: float | None = None


@dataclass(frozen=True)
class BoxCorner:
    """One corner of a box: whose tails and pins, the joint, and how it is turned into its place.

    left_of, right_of: the boards that have it at their left and right end. turn: (3, 3), from the corner's axes (as in
    `derivation`) to the box's; a reflection where `mirrored`. foot: (3,), the outer corner at the bottom, mm.
    """

    name: str
    tail: str
    pin: str
    joint: Joint
    turn: np.ndarray
    foot: np.ndarray

    @property
    def corner(self):
        """The corner in numbers."""
        return self.joint.corner

    @property
    def mirrored(self):
        """Whether it is laid out left for right: the tail board has this corner at its right end."""
        return bool(np.linalg.det(self.turn) < 0)

    def place(self, points):
        """Points (..., 3) of the corner, in the axes of `derivation`, where they are in the box."""
        return np.asarray(points) @ self.turn.T + self.foot

    def place_plane(self, plane):
        """A plane of the joint, where it is in the box."""
        normal = self.turn @ plane.normal
        return Plane(normal, plane.offset + float(normal @ self.foot))


@dataclass(frozen=True)
class Box:
    """A four-sided box, square in plan, dovetailed at its corners; lengths in mm, leans in degrees.

    width: along the front; depth: front to back; both where `measured` says: "outside at the bottom", "outside at the
    top", or "inside at the bottom", between the inner faces at the bench. height: vertical, between the outer arrises of
    the rims. front_lean … right_lean: positive when the top is further out. thickness: of every board, square to its
    faces, but for those that have one of their own: front_thickness … right_thickness.
    tails_on: "sides" or "front and back"; the other pair carries the pins. joint: `JointSettings` of all four corners.
    rims: "level", ripped to the leans; or "square", left square to the faces. allowances: what the blanks are larger.

    ValueError, in one sentence, for a box that can't be made.
    """

    width: float
    depth: float
    height: float
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

    def __post_init__(self):
        sizes = ["width", "depth", "height", "thickness"]
        sizes += [f"{name}_thickness" for name in NAMES if getattr(self, f"{name}_thickness") is not None]
        for name in sizes:
            object.__setattr__(self, name, checked_size(name.replace("_", " "), getattr(self, name)))
        for name in NAMES:
            lean = checked_lean(f"{name} lean", getattr(self, f"{name}_lean"))
            object.__setattr__(self, f"{name}_lean", lean)
        for name, known in (("tails_on", tuple(TAILS_ON)), ("measured", MEASURED), ("rims", ("level", "square"))):
            if getattr(self, name) not in known:
                choices = ", ".join(map(repr, known[:-1])) + f" or {known[-1]!r}"
                raise ValueError(f"The box's {name} can be {choices}, not {getattr(self, name)!r}.")
        for name, kind in (("joint", JointSettings), ("allowances", Allowances)):
            if not isinstance(getattr(self, name), kind):
                raise ValueError(f"The box's {name} must be {kind.__name__}(…), not {getattr(self, name)!r}.")
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
    def for_opening(cls, floor_width, height, left_lean=0.0, right_lean=0.0, front_lean=0.0, depth=300.0,
                    clearances=None, back_lean=0.0, **settings):
        """The drawer for a leaning opening, as an `OpeningFit` whose `box` it is.

        floor_width, depth: of the opening along its floor, from face to face; height: from floor to top, vertical.
        Leans of its faces as of a box's. clearances: `Clearances`, by which each face is moved in, square to itself.
        settings: any others of `Box`, such as thickness.
        """
        return Opening(floor_width, depth, height, front_lean, back_lean, left_lean, right_lean).fit(
            Clearances() if clearances is None else clearances, **settings)

    def mirrored(self):
        """The box for the other side: left for right."""
        return replace(self, left_lean=self.right_lean, right_lean=self.left_lean, left_thickness=self.right_thickness,
                       right_thickness=self.left_thickness)

    def lean(self, name):
        """Lean of a board, degrees."""
        return getattr(self, f"{name}_lean")

    def thickness_of(self, name):
        """Thickness of a board, mm."""
        own = getattr(self, f"{name}_thickness")
        return self.thickness if own is None else own

    def carries(self, name):
        """"tails" or "pins"."""
        return "tails" if name in TAILS_ON[self.tails_on] else "pins"

    def slant_width(self, name):
        """Width up the face of a board, mm."""
        return float(numeric("slant_width", H, p)(self.height, math.radians(self.lean(name))))

    def _at_ends(self, name):
        """(leans in radians, thicknesses in mm) of the neighbours at the left and right end of a board."""
        pair = neighbours(name)
        return [math.radians(self.lean(other)) for other in pair], [self.thickness_of(other) for other in pair]

    @cached_property
    def _bottom(self):
        """(outer width, outer depth) at the bottom, mm."""
        sizes = []
        for name, given in (("front", self.width), ("right", self.depth)):
            leans, thick = self._at_ends(name)
            if self.measured == "outside at the top":
                given -= numeric("length_at_height", L, u, v, z)(0, *leans, self.height)
            elif self.measured == "inside at the bottom":
                given -= numeric("inside_length", L, u, v, tu, tv, z)(0, *leans, *thick, 0)
            sizes.append(float(given))
        return tuple(sizes)

    def _bottom_length(self, name):
        return self._bottom[NAMES.index(name) % 2]

    def outer_length(self, name, height=0.0):
        """Length of a board's outer face between its end lines, mm, at a height above the bench."""
        return float(numeric("length_at_height", L, u, v, z)(self._bottom_length(name), *self._at_ends(name)[0], height))

    def inside_length(self, name, height=0.0):
        """Length along a board between the inner faces of its neighbours, mm, at a height above the bench."""
        leans, thick = self._at_ends(name)
        return float(numeric("inside_length", L, u, v, tu, tv, z)(self._bottom_length(name), *leans, *thick, height))

    @property
    def inside_volume(self):
        """What the box holds between its inner faces, from the bench to `height`, mm³ (no bottom fitted)."""
        symbols, values = [H], [self.height]
        for name, named in (("front", (L, u, v, tu, tv)), ("right", (L_side, q1, q2, s1, s2))):
            leans, thick = self._at_ends(name)
            symbols += named
            values += [self._bottom_length(name), *leans, *thick]
        return float(numeric("inside_volume", *symbols)(*values))

    @cached_property
    def corners(self):
        """Name -> BoxCorner: "front left", "front right", "back right", "back left"."""
        width, depth = self._bottom
        feet = {"front left": (0, 0), "front right": (width, 0), "back right": (width, depth), "back left": (0, depth)}
        return {END_CORNERS[name][0]: self._corner(END_CORNERS[name][0], name, feet) for name in NAMES}

    def _corner(self, at, left_of, feet):
        right_of = neighbours(left_of)[0]
        tail, pin = (left_of, right_of) if self.carries(left_of) == "tails" else (right_of, left_of)
        settings = {name: getattr(self.joint, name) for name in JointSettings.__dataclass_fields__}
        try:
            joint = Joint(Corner(self.lean(tail), self.lean(pin)), self.height, self.thickness_of(tail),
                          self.thickness_of(pin), rims=self.rims, **settings)
        except ValueError as wrong:
            why = str(wrong)
            raise ValueError(f"At the {at} corner, {why[0].lower()}{why[1:]}") from None
        # away from the corner each board runs against its neighbour's outward direction
        turn = np.array([np.negative(_OUTWARD[pin]), np.negative(_OUTWARD[tail]), (0.0, 0.0, 1.0)]).T
        return BoxCorner(at, tail, pin, joint, turn, np.array([*feet[at], 0.0]))

    @cached_property
    def planes(self):
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
            planes |= {f"{at} {cheek}": corner.place_plane(plane) for cheek, plane in corner.joint.planes.items()
                       if cheek.endswith("cheek")}
        return planes

    @cached_property
    def boards(self):
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
        right = np.cross((0.0, 0.0, 1.0), _OUTWARD[name])
        tails = tuple(self.corners[at].joint.tails for at in END_CORNERS[name])
        return BoxBoard(name, self.carries(name), tails, outlines, sides, *marks,
                        np.array([right, np.cross(out, right), out]))


@dataclass(frozen=True)
class Clearances:
    """How far each face of a drawer lies inside its opening, square to that face, mm.

    Each is a choice; the values given are common practice, no source.
    """

    left: float = 1.5
    right: float = 1.5
    floor: float = 1.0
    top: float = 2.0
    front: float = 0.0
    back: float = 3.0

    def __post_init__(self):
        for name in self.__dataclass_fields__:
            object.__setattr__(self, name, checked_room(f"{name} clearance", getattr(self, name)))


@dataclass(frozen=True)
class Opening:
    """A leaning hole that a drawer goes into from the front; mm and degrees, as of a `Box` measured inside the hole.

    floor_width, depth: along its floor. height: vertical. Its faces lean, positive when further out at the top. Axes as
    a box's, the origin at the front left of its floor. ValueError for one that can't be.
    """

    floor_width: float
    depth: float
    height: float
    front_lean: float = 0.0
    back_lean: float = 0.0
    left_lean: float = 0.0
    right_lean: float = 0.0

    def __post_init__(self):
        for name in ("floor_width", "depth", "height"):
            object.__setattr__(self, name, checked_size(f"opening's {name.replace('_', ' ')}", getattr(self, name)))
        for name in NAMES:
            lean = checked_lean(f"opening's {name} lean", getattr(self, f"{name}_lean"))
            object.__setattr__(self, f"{name}_lean", lean)

    @cached_property
    def faces(self):
        """Name -> Plane of its "left", "right", "back", "floor", "top" and (open) "front", normals out of the hole."""
        floor, top = rims(self.height)
        faces = {"floor": floor, "top": top}
        at = {"front": (0, 0, 0), "left": (0, 0, 0), "right": (self.floor_width, 0, 0), "back": (0, self.depth, 0)}
        for name in NAMES:
            lean = math.radians(getattr(self, f"{name}_lean"))
            faces[name] = Plane.through(at[name], np.cos(lean) * np.array(_OUTWARD[name]) - np.sin(lean) * np.eye(3)[2])
        return faces

    def fit(self, clearances, **settings):
        """The drawer that fills it but for `clearances`, as an `OpeningFit`; settings: any others of `Box`."""
        if not isinstance(clearances, Clearances):
            raise ValueError(f"The clearances must be Clearances(…), not {clearances!r}.")
        height = self.height - clearances.floor - clearances.top
        if height <= 0:
            raise ValueError(f"The floor and top clearances leave nothing of an opening {self.height:g} mm high: make "
                             "them smaller.")
        leans = {name: getattr(self, f"{name}_lean") for name in NAMES}
        radians = {name: math.radians(lean) for name, lean in leans.items()}
        sizes = []
        for along, (one, other) in ((self.floor_width, ("left", "right")), (self.depth, ("front", "back"))):
            moved = [getattr(clearances, name) for name in (one, other)]
            size = float(numeric("inside_length", L, u, v, tu, tv, z)(along, radians[one], radians[other], *moved,
                                                                      clearances.floor))
            if size <= 0:
                raise ValueError(f"The {one} and {other} clearances leave nothing of the opening: make them smaller.")
            sizes.append(size)
        box = Box(*sizes, height, **{f"{name}_lean": lean for name, lean in leans.items()}, **settings)
        corner = [numeric("level_thickness", t, p)(getattr(clearances, name), radians[name])
                  - numeric("out_over_height", H, p)(clearances.floor, radians[name]) for name in ("left", "front")]
        return OpeningFit(self, clearances, box, np.array([*corner, clearances.floor]))


@dataclass(frozen=True)
class OpeningFit:
    """A drawer in its opening. at: (3,), where the box's origin is in the opening's axes, mm."""

    opening: Opening
    clearances: Clearances
    box: Box
    at: np.ndarray

    @cached_property
    def gaps(self):
        """Name -> the least distance from the wood to each face of the opening, square to that face, mm.

        Of the boards as sawn, before square ends are planed; negative where they don't go in.
        """
        wood = np.concatenate([board.outlines.reshape(-1, 3) for board in self.box.boards.values()]) + self.at
        return {name: -float(face.height_of(wood).max()) for name, face in self.opening.faces.items()}

    @property
    def slides_in_level(self):
        """Whether it goes straight in, level, from the front: all faces beside its way run along it."""
        return all(self.gaps[name] > 1e-9 for name in ("left", "right", "floor", "top"))

    @property
    def gaps_at_front(self):
        """Name -> the gap all round as seen from straight in front, mm: "left", "right" level, "floor", "top" plumb.

        Around the outer face of the front board, as sawn.
        """
        face = self.box.boards["front"].blank[0] + self.at
        gaps = {}
        for name in ("left", "right", "floor", "top"):
            square = -float(self.opening.faces[name].height_of(face).max())
            lean = math.radians(getattr(self.opening, f"{name}_lean", 0.0))
            gaps[name] = float(numeric("level_thickness", t, p)(square, lean))
        return gaps

    def words(self, unit="mm"):
        """Whether it slides in, and the gaps, those that the front shows and the back's; lengths in "mm" or "in"."""
        tight = [name for name in ("left", "right", "floor", "top") if self.gaps[name] <= 1e-9]
        slides = "It slides in level from the front"
        if tight:
            slides = f"It does not slide in level: there is no room for it at the {' and the '.join(tight)}"
        gaps = ", ".join(f"{fine(gap, unit)} at the {name}" for name, gap in self.gaps_at_front.items())
        back = fine(self.gaps["back"], unit)
        return f"{slides}. Seen from straight in front, the gap is {gaps}. At the back, square to the wall, it is {back}."


@dataclass(frozen=True)
class RegularBox:
    """A box of n like boards, mitred at its corners, all leaning alike; lengths in mm, degrees. No dovetails.

    sides: 3 to 12. edge: outer length of a board at the bottom. height: vertical. lean: positive when the top is further
    out. thickness: square to the faces. Rims are ripped level. ValueError, in one sentence, for one that can't be.
    """

    sides: int
    edge: float
    height: float
    lean: float = 0.0
    thickness: float = 12.0
    allowances: Allowances = Allowances()

    def __post_init__(self):
        try:
            count = operator.index(self.sides)
        except TypeError:
            count = 0
        if count not in SIDES:
            raise ValueError(f"A regular box has {SIDES[0]} to {SIDES[-1]} sides, not {self.sides!r}.")
        object.__setattr__(self, "sides", count)
        for name in ("edge", "height", "thickness"):
            object.__setattr__(self, name, checked_size(name, getattr(self, name)))
        object.__setattr__(self, "lean", checked_lean("lean", self.lean))
        if not isinstance(self.allowances, Allowances):
            raise ValueError(f"The box's allowances must be Allowances(…), not {self.allowances!r}.")
        if min(self.inner_length(height) for height in (0, self.height)) <= 0:
            raise ValueError(f"Boards {self.edge:g} mm long at the bottom would leave no inside: make the edge longer, "
                             "lean the boards in less, or take thinner ones.")

    @property
    def plan_angle(self):
        """Degrees between the level edges of neighbours, inside."""
        return 180 - 360 / self.sides

    @cached_property
    def corner(self):
        """The one `Corner` that all of them are."""
        return Corner(self.lean, self.lean, self.plan_angle)

    @property
    def end_line(self):
        """End line at both ends of every board, degrees from square, positive when longer at the top."""
        return self.corner.tail_end_line

    @property
    def mitre_bevel(self):
        """Degrees that each end is sawn out of square to its face, the inner face left shorter."""
        lean = math.radians(self.lean)
        return math.degrees(numeric("mitre_bevel", a, b, k)(lean, lean, math.radians(90 - self.plan_angle)))

    @property
    def rim_bevel(self):
        """Degrees that the rims are ripped out of square, signed as the lean."""
        return self.corner.tail_rim_bevel

    @property
    def slant_width(self):
        """Width up the face, mm."""
        return self.corner.slant_width(self.height)

    def _length(self, thickness, height):
        return float(numeric("regular_length", L, p, t, z, k)(self.edge, math.radians(self.lean), thickness, height,
                                                              math.radians(90 - self.plan_angle)))

    def outer_length(self, height=0.0):
        """Length of a board's outer face at a height above the bench, mm."""
        return self._length(0.0, height)

    def inner_length(self, height=0.0):
        """Length of a board's inner face at a height above the bench, mm."""
        return self._length(self.thickness, height)

    @property
    def blank(self):
        """(length, width, thickness) to saw each board from, mm, with the allowances and what level rims take."""
        longest = max(self.outer_length(height) for height in (0, self.height))
        rim = float(numeric("rim_run", t, p)(self.thickness, math.radians(self.lean)))
        spare = self.allowances
        return (longest + 2 * spare.end, self.slant_width + rim + 2 * spare.edge, self.thickness + spare.thickness)

    @property
    def inside_volume(self):
        """What the box holds, mm³ (no bottom fitted)."""
        return float(numeric("regular_volume", L, p, t, H, N, k)(
            self.edge, math.radians(self.lean), self.thickness, self.height, self.sides,
            math.radians(90 - self.plan_angle)))

    @cached_property
    def boards(self):
        """The boards as `Block`s, counter-clockwise from above, the first along +x; z up, the middle at the origin."""
        names = ("outer", "inner", "bottom", "right end", "top", "left end")
        outlines = []
        for length in (self.outer_length, self.inner_length):
            low, high = length(0), length(self.height)
            low_out, high_out = (float(numeric("apothem", L, N)(edge, self.sides)) for edge in (low, high))
            outlines += [(-low / 2, -low_out, 0), (low / 2, -low_out, 0), (high / 2, -high_out, self.height),
                         (-high / 2, -high_out, self.height)]
        turns = np.radians(180 - self.plan_angle) * np.arange(self.sides)
        cos, sin = np.cos(turns), np.sin(turns)
        turned = np.array([[cos, -sin], [sin, cos]]).transpose(2, 0, 1)
        first = np.array(outlines)
        return tuple(Block(np.column_stack([first[:, :2] @ turn.T, first[:, 2]]), names) for turn in turned)
