"""The show front of a drawer: set into the opening's front with even reveals, or laid over the opening's rim."""

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from ..common import checks
from ..common.planes import Plane, meet_all
from ..common.printing import degrees, length
from ..common.text import Words
from ..common.tolerances import SAME_SETTING
from ..corner.corner import Corner
from ..corner.stubs import Block
from ..corner.words import from_square
from .box import Allowances
from .opening import EDGES, FrontChoice, Opening, OpeningFit, gap_words

SCREWED = 2 / 3  # of a show front's thickness that a screw from inside goes into: common practice, no source
PULL = 40.0  # mm round the middle of the show front that stay clear of screws; our choice
_AS_USUAL = Allowances()
_SIDES = ("left", "right")


@dataclass(frozen=True)
class FrontEnd:
    """One end of a show front. side: "left" or "right", as seen from the front.

    end_line: degrees from square, positive where the front is longer at the top. end_bevel: degrees that the end is sawn
    out of square to the face, positive where the inner face is left longer; 0 for a square end.
    """

    side: str
    end_line: float
    end_bevel: float


@dataclass(frozen=True, repr=False)
class ShowFront:
    """A show front in its place; lengths in mm, degrees, axes of the `Opening`. Use `show_front` to make one.

    opening: the `Opening`. choice: the `FrontChoice`. set_in: how far its outer face lies behind the opening's front,
    square to it; negative for one that stands before it. allowances: what its blank is larger.
    """

    opening: Opening
    choice: FrontChoice
    set_in: float
    allowances: Allowances = _AS_USUAL

    def __post_init__(self) -> None:
        along = self.corners[..., 0]
        if (along[:, 1] - along[:, 0]).min() <= 0:
            raise ValueError("The reveals at the left and the right leave nothing of the show front: make them smaller.")
        up = self.corners[..., 2]
        if (up[..., 1] - up[..., 0]).min() <= 0:
            raise ValueError("The reveals at the floor and the top leave nothing of the show front: make them smaller.")

    def __repr__(self) -> str:
        return (f"ShowFront({self.choice.kind}, {self.outer_bottom:.1f} to {self.outer_top:.1f} mm long, "
                f"{self.choice.thickness:g} mm thick)")

    def _repr_markdown_(self) -> str:
        return self.words()._repr_markdown_()

    @property
    def inset(self) -> bool:
        """Whether it is set into the opening."""
        return self.choice.kind == "inset"

    @cached_property
    def planes(self) -> dict[str, Plane]:
        """Name -> Plane of "outer", "inner", "left", "right", "floor" and "top", normals out of the wood."""
        faces, front = self.opening.faces, self.opening.faces["front"]
        outer = front.moved(-self.set_in)
        planes = {"outer": outer, "inner": outer.moved(-self.choice.thickness).turned()}
        if self.inset:
            return planes | {name: faces[name].moved(-getattr(self.choice, name)) for name in EDGES}
        for name in _SIDES:  # square to the face, so far beyond the edge of the opening as seen in its front
            normal = faces[name].normal - (faces[name].normal @ front.normal) * front.normal
            on_edge = meet_all(faces, [("front", name, "floor")])[0]
            planes[name] = Plane.through(on_edge, normal).moved(getattr(self.choice, name))
        up = front.normal @ np.diag((0.0, 0.0, 1.0))
        rise = float(np.sqrt(1 - up @ up))  # that the face gains in height for each mm up it
        return planes | {name: faces[name].moved(getattr(self.choice, name) * rise) for name in ("floor", "top")}

    @cached_property
    def corners(self) -> np.ndarray:
        """Its eight corners, shape (2, 2, 2, 3): by face (outer, inner), end (left, right) and edge (floor, top)."""
        triples = [(face, end, edge) for face in ("outer", "inner") for end in _SIDES for edge in ("floor", "top")]
        return meet_all(self.planes, triples).reshape(2, 2, 2, 3)

    @property
    def block(self) -> Block:
        """Its solid, as a `Block`."""
        outlines = self.corners[:, [0, 1, 1, 0], [0, 0, 1, 1]]
        return Block(outlines.reshape(8, 3), ("outer", "inner", "floor", "right", "top", "left"))

    @property
    def axes(self) -> np.ndarray:
        """Unit vectors (3, 3): to the right along the level edges, straight up the face, out of the outer face."""
        out = self.opening.faces["front"].normal
        right = np.array([1.0, 0.0, 0.0])
        return np.array([right, np.cross(out, right), out])

    @property
    def laid_flat(self) -> np.ndarray:
        """Its outer face, (4, 2) mm from the lower left corner on, along the edge and up the face."""
        flat = (self.corners[0, [0, 1, 1, 0], [0, 0, 1, 1]] - self.corners[0, 0, 0]) @ self.axes[:2].T
        return flat

    def _length(self, face, edge):
        return float(self.corners[face, 1, edge, 0] - self.corners[face, 0, edge, 0])

    @property
    def outer_bottom(self) -> float:
        """Length of its outer face along the bottom edge, mm."""
        return self._length(0, 0)

    @property
    def outer_top(self) -> float:
        """Length of its outer face along the top edge, mm."""
        return self._length(0, 1)

    @property
    def height(self) -> float:
        """Vertical height of its outer face, mm."""
        return float(np.ptp(self.corners[0, 0, :, 2]))

    @property
    def slant_width(self) -> float:
        """Width up its outer face, mm."""
        return float(self.laid_flat[2, 1])

    @property
    def rim_bevel(self) -> float:
        """Degrees that its top and bottom edges are ripped out of square so that they lie level: the front's lean."""
        return self.opening.front_lean

    @cached_property
    def ends(self) -> tuple[FrontEnd, ...]:
        """The two `FrontEnd`s, left and right."""
        made = []
        for side in _SIDES:
            corner = Corner(getattr(self.opening, f"{side}_lean"), self.opening.front_lean)
            made.append(FrontEnd(side, corner.pin_end_line, corner.end_bevel if self.inset else 0.0))
        return tuple(made)

    @property
    def blank(self) -> tuple[float, ...]:
        """(length, width, thickness) to saw it from, mm, grain along the length, with the allowances."""
        size = np.ptp((self.corners @ self.axes.T).reshape(-1, 3), axis=0)
        spare = self.allowances
        return tuple(np.add(size, (2 * spare.end, 2 * spare.edge, spare.thickness)).tolist())

    @property
    def gaps(self) -> dict[str, float]:
        """Name -> the least distance from its wood to the opening's walls, mm, square to each; negative for an overlap."""
        wood = self.corners.reshape(-1, 3)
        return {name: -float(self.opening.faces[name].height_of(wood).max()) for name in EDGES}

    def words(self, unit: str = "mm") -> Words:
        """How it is cut and where it lies, as sentences; lengths in "mm" or "in"."""
        low, high = length(self.outer_bottom, unit), length(self.outer_top, unit)
        long = f"{low} long" if low == high else f"{low} long at the bottom and {high} at the top"
        left, right = self.ends
        equal = abs(left.end_line - right.end_line) < SAME_SETTING and abs(left.end_bevel - right.end_bevel) < SAME_SETTING
        named = (("Both end lines are", "both ends"),) if equal else tuple(
            (f"The {side} end line is", "that end") for side in _SIDES)
        ends = " ".join(f"{which} {from_square(end.end_line)}. Saw {what} {_bevel(end.end_bevel)}."
                        for (which, what), end in zip(named, self.ends, strict=False))
        edges = ("The edges are square to the face" if abs(self.rim_bevel) < SAME_SETTING else
                 f"Rip the top and bottom edges {degrees(abs(self.rim_bevel))} out of square, so that they lie level")
        return Words(f"The show front's outer face is {long}. The slant width is {length(self.slant_width, unit)}. The "
                     f"grain runs along the length. {ends} {edges}. {self._place_words(unit)}")

    def _place_words(self, unit):
        margins = {name: getattr(self.choice, name) for name in EDGES}
        around = ", ".join(f"{gap_words(margin, unit)} at the {name}" for name, margin in margins.items())
        if len({*margins.values()}) == 1:
            around = f"{gap_words(margins['left'], unit)} all round"
        thick = length(self.choice.thickness, unit)
        if self.inset:
            return (f"The show front lies in the opening with a reveal of {around}. The drawer's own front lies against "
                    f"the show front, {thick} behind the show front's outer face.")
        return f"The show front lies on the opening's rim, {thick} thick, and covers {around}. The drawer isn't set back."


def _bevel(angle):
    if abs(angle) < SAME_SETTING:
        return "square to the face"
    return f"{degrees(abs(angle))} out of square to the face, so that the {'inner' if angle > 0 else 'outer'} face reaches "\
           "further. Measure this angle square to the end line"


def show_front(opening_or_fit: OpeningFit, kind: str = "inset", thickness: float = 12.0, reveals: float = 2.0,
               overlaps: float = 10.0, allowances: Allowances = _AS_USUAL) -> ShowFront:
    """The `ShowFront` for an `Opening`, or for a drawer's `OpeningFit`.

    kind: "inset", within the opening, its outer face in the opening's front; or "overlay", before it. thickness: mm.
    reveals: mm between an inset front and each wall, square to the wall. overlaps: mm of the rim that an overlay covers,
    in the plane of the front. Either is one number, or a dict by "left", "right", "floor" and "top"; those offered are
    common practice, no source. allowances: what its blank is larger. ValueError, in one sentence, for what can't be.

    An inset front sets the drawer back by its thickness: `Opening.fit(clearances, front=FrontChoice(...))` does that, and
    its `show_front` is the same front.

    >>> import splaywork as sw
    >>> front = sw.show_front(sw.Opening(420, 330, 110, left_lean=8))
    >>> [round(end.end_line, 1) for end in front.ends]
    [8.0, 0.0]
    """
    fit = opening_or_fit if isinstance(opening_or_fit, OpeningFit) else None
    opening = checks.instance("opening", fit.opening if fit else opening_or_fit, Opening,
                              "Opening(360, 420, 190, left_lean=16)")
    checks.instance("allowances", allowances, Allowances, "Allowances(end=15)")
    checks.choice("kind of a show front", kind, FrontChoice.KINDS)
    named = "reveals" if kind == "inset" else "overlaps"
    choice = FrontChoice(kind, thickness, **_around(reveals if kind == "inset" else overlaps, named))
    return placed(opening, choice, fit.clearances.front if fit else 0.0, allowances)


def placed(opening: Opening, choice: FrontChoice, clearance: float = 0.0, allowances: Allowances = _AS_USUAL) -> ShowFront:
    """The `ShowFront` of a `FrontChoice` in its opening, so far behind the opening's front; an overlay lies before it."""
    return ShowFront(opening, choice, clearance if choice.kind == "inset" else -choice.thickness, allowances)


def _around(given, named):
    if not isinstance(given, dict):
        return dict.fromkeys(EDGES, given)
    if set(given) != set(EDGES):
        raise ValueError(f"The {named} must be one number of mm, or a dict of them by 'left', 'right', 'floor' and 'top', not "
                         f"{checks.shown(given)}.")
    return given


@dataclass(frozen=True)
class Screw:
    """Where a screw goes through the box's front from inside; mm on its outer face, from the lower left of the end line.

    along: to the right along the bottom edge; up: up the face. longest: of the screw, so that it stays in the show front.
    """

    along: float
    up: float
    longest: float


def _front_of(fit):
    front = checks.instance("fit", fit, OpeningFit, "opening.fit(Clearances())").show_front
    if front is None:
        raise ValueError("The drawer has no show front: give its opening's fit a FrontChoice.")
    return front


def pull_place(fit: OpeningFit) -> tuple[float, float]:
    """(along, up) mm: the middle of an `OpeningFit`'s show front, seen from inside on the outer face of its box's front.

    Measured as a `Screw`'s place. ValueError where there is no show front.
    """
    front = _front_of(fit)
    along, up, _ = fit.box.boards["front"].in_board(front.corners[0].reshape(-1, 3).mean(axis=0) - fit.at).tolist()
    return along, up


def screws(fit: OpeningFit, bottom_up: float = 15.0, pull: float = PULL) -> tuple:
    """Four `Screw`s that hold the show front of an `OpeningFit` from inside, and are clear of the bottom and of the pull.

    bottom_up: mm above the bench that the drawer's bottom takes up. pull: mm round the middle of the show front that stays
    clear of screws. Their places are common practice, no source: a fifth of the way in from the baselines, and near the two
    edges. ValueError where there is no show front or no room.
    """
    front, middle = _front_of(fit), pull_place(fit)
    bottom_up, pull = checks.amount("bottom_up", bottom_up), checks.amount("pull", pull)
    board = fit.box.boards["front"]
    corners = board.in_board(board.baselines[0])[..., :2]  # by end and rim
    rise = board.axes[1, 2]  # height for each mm up the face
    low, high = bottom_up / rise + 10, corners[:, 1, 1].min() - 20
    places = []
    for up in (low, high):
        share = up / corners[:, 1, 1].min()
        left, right = ((1 - share) * corners[end, 0, 0] + share * corners[end, 1, 0] for end in (0, 1))
        places += [(left + (right - left) * part, up) for part in (0.2, 0.8)]
    if high <= low or any(math.dist(middle, place) < pull for place in places):
        raise ValueError(f"There is no room for screws clear of the bottom and of {pull:g} mm round the pull: give a smaller "
                         "pull, or glue the show front on.")
    longest = fit.box.thickness_of("front") + SCREWED * front.choice.thickness
    return tuple(Screw(float(along), float(up), longest) for along, up in places)
