"""What a drawer runs on and what stops it: runners under its bottom edges, kickers, guides, and a stop at the back.

The drawer is made first, and these are fitted to it. All strips stand on, hang on or lie against a wall of the opening; the
face against a leaning wall is planed to the wall's lean, so that the strip's own top and bottom are level.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from ..common import checks
from ..common.checks import Comparable
from ..common.planes import Plane, meet_all
from ..common.printing import degrees, length, lengths
from ..common.tolerances import SAME_SETTING
from ..corner.stubs import Block
from ..corner.words import capital
from ..formulas.forms import compute
from .opening import OpeningFit

THINNEST = 6.0  # mm: a runner or kicker lower than this splits when it is screwed on; common practice, no source
GUIDED = 3.0  # mm: a guide thinner than this is no strip that can be fastened; the wall itself guides the drawer
STOPPED = 0.2  # mm: behind a smaller gap the back wall itself is the stop
SIDES = ("left", "right")
BOTH_WALLS = "one for each side wall"


@dataclass(frozen=True)
class RunnerChoice:
    """How a drawer is carried; lengths in mm. Those given are common practice, no source.

    height: of runners and kickers, vertical; less where there is no more room. width: level, at the runner's top. bearing: the
    least of it that must lie under the drawer. behind: how far the runner begins behind the drawer's front or the show front.
    kick: what the drawer may lift before a kicker holds it. play: what each guide leaves beside the drawer.

    >>> import splaywork as sw
    >>> sw.RunnerChoice(height=12).width
    20.0
    """

    height: float = 15.0
    width: float = 20.0
    bearing: float = 6.0
    behind: float = 2.0
    kick: float = 2.0
    play: float = 1.0

    def __post_init__(self) -> None:
        for name in ("height", "width", "bearing"):
            object.__setattr__(self, name, checks.size(f"runner's {name}", getattr(self, name)))
        for name in ("behind", "kick", "play"):
            object.__setattr__(self, name, checks.amount(f"runner's {name}", getattr(self, name)))


@dataclass(frozen=True, eq=False)
class Strip(Comparable):
    """One strip in its place; lengths in mm, degrees, axes of the `Opening`.

    kind: "runner", "kicker", "guide" or "stop". side: the wall that it lies against, "left", "right" or "back". corners:
    (2, 2, 2, 3), by face (against the wall, into the room), end (front, back; of a stop: left, right) and edge (bottom, top).
    bevel: degrees that its face against the wall is planed out of square, signed as the wall's lean; 0 where its two faces lie
    alike, as those of guides and stops do. height: vertical. width: level, at its widest. along: its length. up_wall: from the
    opening's floor up the wall to the edge that counts, the top of a runner, the bottom of any other. start: level, from the
    opening's front at the floor to its front end.
    """

    kind: str
    side: str
    corners: np.ndarray
    bevel: float
    height: float
    width: float
    along: float
    up_wall: float
    start: float

    @property
    def block(self) -> Block:
        """Its solid, as a `Block`."""
        turned = [1, 0] if self.side == "left" else [0, 1]  # the right end as seen from outside the wall
        corners = self.corners[:, turned] if self.side != "back" else self.corners[:, ::-1]
        outlines = corners[:, [0, 1, 1, 0], [0, 0, 1, 1]]
        return Block(outlines.reshape(8, 3), ("wall", "room", "bottom", "far end", "top", "near end"))

    @property
    def blank(self) -> tuple[float, ...]:
        """(length, width, height) of what holds it, mm, nothing to spare; of guides and stops, height is up the wall."""
        if self.kind in ("guide", "stop"):
            return self.along, self.width, float(np.linalg.norm(self.corners[0, 0, 1] - self.corners[0, 0, 0]))
        return self.along, self.width, self.height

    def words(self, unit: str = "mm") -> str:
        """What to plane, and where it goes, as sentences; lengths in "mm" or "in"."""
        return f"Make a {self.kind}, {self._made_words(unit, f'for the {self.side} wall')}"

    def _made_words(self, unit, walls):
        """The rest of the sentences, which those of equal strips share; walls: which they are for."""
        size, up = lengths(self.blank, unit), length(self.up_wall, unit)
        each = f"each {self.kind}" if walls == BOTH_WALLS else f"the {self.kind}"
        if self.kind == "stop":
            return (f"{size} (length × thickness × width). Glue the stop to the back wall, behind the middle of the drawer's "
                    f"back. The stop's lower edge is {up} up the wall from the floor.")
        if self.kind == "guide":
            return (f"{size} (length × thickness × width), {walls}. Fasten {each} flat on the wall, its lower edge on "
                    f"the runner, {up} up the wall from the floor.")
        bottom, top = (length(wide, unit) for wide in np.abs(self.corners[1, 0, :, 0] - self.corners[0, 0, :, 0]))
        face = f"{capital(each)} is {top} wide. Leave the face against the wall square"
        if abs(self.bevel) >= SAME_SETTING:
            face = (f"{capital(each)} is {top} wide at the top and {bottom} at the bottom: plane the face against the wall "
                    f"{degrees(abs(self.bevel))} out of square")
        edge = "top" if self.kind == "runner" else "lower edge"
        return (f"{length(self.along, unit)} long and {length(self.height, unit)} high, {walls}. {face}. The {edge} is "
                f"level, {up} up the wall from the floor.")


@dataclass(frozen=True, repr=False)
class Runners:
    """All strips for one drawer. fit: its `OpeningFit`. choice: the `RunnerChoice`. strips: `Strip`s, runners first."""

    fit: OpeningFit
    choice: RunnerChoice
    strips: tuple

    def __repr__(self) -> str:
        return f"Runners({', '.join(f'{strip.side} {strip.kind}' for strip in self.strips)})"

    def _repr_markdown_(self) -> str:
        return "\n".join(f"* {sentence}" for sentence in self.words())

    def of(self, kind: str) -> tuple:
        """The strips of one kind: "runner", "kicker", "guide" or "stop"."""
        checks.choice("kind of a strip", kind, ("runner", "kicker", "guide", "stop"))
        return tuple(strip for strip in self.strips if strip.kind == kind)

    def words(self, unit: str = "mm") -> list[str]:
        """A sentence or two for each strip, equal ones together, and what needs no strip; lengths in "mm" or "in"."""
        made: dict[tuple[str, str], list] = {}
        for strip in self.strips:
            made.setdefault((strip.kind, strip._made_words(unit, BOTH_WALLS)), []).append(strip)
        said = [f"Make two {kind}s, {words}" if len(alike) == 2 else alike[0].words(unit)
                for (kind, words), alike in made.items()]
        if not self.of("kicker"):
            said.append("The top of the opening stops the drawer tipping, so you need no kickers (strips above the sides).")
        walls = [side for side in SIDES if side not in {strip.side for strip in self.of("guide")}]
        if walls:
            verb = "guides" if len(walls) == 1 else "guide"
            said.append(f"The {' and the '.join(walls)} wall{'s' * (len(walls) > 1)} {verb} the drawer, so you need no "
                        "guides (strips beside it) there.")
        return said


class _Room:
    """The opening round a drawer: what strips are made between."""

    def __init__(self, fit, choice):
        self.fit, self.choice, self.opening = fit, choice, fit.opening
        self.bottom = float(fit.at[2])  # of the drawer, over the opening's floor
        self.top = self.bottom + fit.box.height

    def wall(self, side):
        return self.opening.faces[side]

    def lean(self, side):
        return getattr(self.opening, f"{side}_lean")

    def up_wall(self, height, side):
        return float(compute("slant_width", height=height, lean=self.lean(side)))

    @cached_property
    def face(self):
        """The plane of whatever stands before the strips: the show front's back, or the opening's front."""
        front = self.opening.faces["front"]
        if self.fit.front is None:
            return front
        return front.moved(-self.fit.clearances.front - self.fit.front.sets_back)

    def ends(self, heights):
        """(near, far), mm from the opening's front at the floor: between the face before them and the back wall, plumb."""
        behind = 0.0 if self.fit.front is None else self.choice.behind
        back = self.wall("back")
        near = max((self.face.offset - self.face.normal[2] * z) / self.face.normal[1] for z in heights) + behind
        far = min((back.offset - back.normal[2] * z) / back.normal[1] for z in heights)
        if far - near < 3 * self.choice.width:
            raise ValueError(f"Only {max(0.0, far - near):.1f} mm are left for a runner: make the opening deeper.")
        return float(near), float(far)

    def strip(self, kind, side, heights, room, counts, parallel=False):
        """A `Strip` between two heights, from a side wall to the plane `room`, as long as the opening."""
        near, far = self.ends(heights)
        y = np.array([0.0, 1.0, 0.0])
        planes = {"wall": self.wall(side), "room": room, "near": Plane(-y, -near), "far": Plane(y, far),
                  "bottom": Plane(np.array([0.0, 0.0, 1.0]), heights[0]), "top": Plane(np.array([0.0, 0.0, 1.0]), heights[1])}
        triples = [(face, end, edge) for face in ("wall", "room") for end in ("near", "far") for edge in ("bottom", "top")]
        corners = meet_all(planes, triples).reshape(2, 2, 2, 3)
        width = getattr(self.fit.clearances, side) - self.choice.play if parallel else float(
            np.abs(corners[0, 0, :, 0] - corners[1, 0, :, 0]).max())
        return Strip(kind, side, corners, 0.0 if parallel else self.lean(side), heights[1] - heights[0], width, far - near,
                     self.up_wall(counts, side), near)

    def plumb(self, side, at):
        """The plumb plane that faces the room, through x = at."""
        way = 1.0 if side == "left" else -1.0
        return Plane(np.array([way, 0.0, 0.0]), way * at)

    def wall_at(self, side, height):
        """x of a side wall at a height."""
        wall = self.wall(side)
        return float((wall.offset - wall.normal[2] * height) / wall.normal[0])

    def held(self, side, heights, level, kind):
        """A runner or kicker: `choice.width` wide where it meets the drawer, at the height `level`."""
        way = 1.0 if side == "left" else -1.0
        at = self.wall_at(side, level) + way * self.choice.width
        narrowest = min(way * (at - self.wall_at(side, height)) for height in heights)
        if narrowest < THINNEST:
            raise ValueError(f"On the {side} wall a {kind} {self.choice.width:g} mm wide would be only "
                             f"{max(0.0, narrowest):.1f} mm wide at its other edge: make the runners wider, or lower.")
        edge = self.fit.box.boards[side].blank[0, 0, 0 if kind == "runner" else 1, 0] + self.fit.at[0]
        bearing = way * (at - edge)
        if bearing < self.choice.bearing:
            where = "under" if kind == "runner" else "over"
            raise ValueError(f"The {side} {kind} would reach only {max(0.0, bearing):.1f} mm {where} the drawer's side: make "
                             "the runners wider.")
        return self.strip(kind, side, heights, self.plumb(side, at), level)


def runners(fit: OpeningFit, choice: RunnerChoice | None = None) -> Runners:
    """The `Runners` for a drawer in its opening.

    fit: an `OpeningFit`, with level rims. choice: a `RunnerChoice`; the usual one when left out. Runners need room between the
    opening's floor and the drawer: give the fit a floor clearance of 6 mm or more. Kickers are made where there is room over
    the drawer for them, guides where a side's clearance leaves room for one, and a stop as thick as the gap at the back.
    ValueError, in one sentence, where there is no room.

    >>> import splaywork as sw
    >>> fit = sw.Opening(420, 330, 110, left_lean=8).fit(sw.Clearances(floor=15))
    >>> sw.runners(fit)
    Runners(left runner, right runner, back stop)
    """
    checks.instance("fit", fit, OpeningFit, "opening.fit(Clearances(floor=15))")
    choice = RunnerChoice() if choice is None else choice
    checks.instance("choice", choice, RunnerChoice, "RunnerChoice(height=15)")
    if fit.box.rims != "level":
        raise ValueError("A drawer with square rims would run on its arrises: rip the rims level.")
    if not fit.slides_in_level:
        raise ValueError("The drawer doesn't go into its opening: give it clearances first.")
    room = _Room(fit, choice)
    if room.bottom < THINNEST:
        raise ValueError(f"The drawer stands {room.bottom:.1f} mm above the opening's floor, too little for a runner: make the "
                         f"floor clearance {choice.height:g} mm, or let the drawer slide on the floor.")
    strips = [room.held(side, (max(0.0, room.bottom - choice.height), room.bottom), room.bottom, "runner") for side in SIDES]
    over = room.top + choice.kick
    if fit.opening.height - over >= THINNEST:
        heights = (over, min(fit.opening.height, over + choice.height))
        strips += [room.held(side, heights, over, "kicker") for side in SIDES]
    for side in SIDES:
        thick = getattr(fit.clearances, side) - choice.play
        if thick >= GUIDED:
            heights = (room.bottom, room.bottom + min(choice.height, fit.box.height))
            facing = room.wall(side).moved(-thick).turned()
            strips.append(room.strip("guide", side, heights, facing, room.bottom, parallel=True))
    if fit.gaps["back"] > STOPPED:
        strips.append(_stop(room))
    return Runners(fit, choice, tuple(strips))


def _stop(room):
    """The stop: as thick as the gap at the back, so that the front comes to rest where it belongs."""
    fit, thick = room.fit, room.fit.gaps["back"]
    heights = (room.bottom, room.bottom + min(room.choice.height, fit.box.height))
    inner = fit.box.boards["back"].baselines[0, :, 0, 0] + fit.at[0]  # between the sides, at the drawer's bottom
    middle, reach = inner.mean(), np.ptp(inner) / 4
    x, z = np.eye(3)[[0, 2]]
    planes = {"wall": room.wall("back"), "room": room.wall("back").moved(-thick).turned(), "left": Plane(-x, -(middle - reach)),
              "right": Plane(x, middle + reach), "bottom": Plane(z, heights[0]), "top": Plane(z, heights[1])}
    triples = [(face, end, edge) for face in ("wall", "room") for end in ("left", "right") for edge in ("bottom", "top")]
    corners = meet_all(planes, triples).reshape(2, 2, 2, 3)
    return Strip("stop", "back", corners, 0.0, heights[1] - heights[0], thick, 2 * reach, room.up_wall(heights[0], "back"),
                 float(corners[..., 1].min()))
