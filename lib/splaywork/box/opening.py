"""A leaning opening, and the drawer that fills it but for its clearances."""

import math
from dataclasses import KW_ONLY, dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

import numpy as np

from ..common import checks
from ..common.checks import Comparable
from ..common.planes import Plane
from ..common.printing import gap as printed_gap
from ..common.text import Words
from ..common.tolerances import SAME_SETTING
from ..corner.stubs import rims
from ..formulas.forms import compute
from .box import NAMES, OUTWARD, Box, checked_lean

if TYPE_CHECKING:
    from .fronts import ShowFront

# of a `Box`: what follows from the opening and its clearances
SETTLED = frozenset({"width", "depth", "height", "measured", *(f"{name}_lean" for name in NAMES)})


@dataclass(frozen=True)
class Clearances:
    """How far each face of a drawer lies inside its opening. Each is a choice; those given are common practice, no source.

    Parameters
    ----------
    left, right, floor, top, front, back : float
        mm, 0 or more, square to that face.

    Raises
    ------
    ValueError
        For what is no such number.

    >>> import splaywork as sw
    >>> sw.Clearances(left=2, right=2).left
    2.0
    """

    left: float = 1.5
    right: float = 1.5
    floor: float = 1.0
    top: float = 2.0
    front: float = 0.0
    back: float = 3.0

    def __post_init__(self) -> None:
        for name in self.__dataclass_fields__:
            object.__setattr__(self, name, checks.amount(f"{name} clearance", getattr(self, name)))


def gap_words(gap: float, unit: str = "mm") -> str:
    """A gap round a drawer as a feeler reads it: `1.55 mm`, `15.0 mm` or `0.061 in`, for mm."""
    return printed_gap(round(gap, 6), unit)  # so that rounding isn't taken for a gap


EDGES = ("left", "right", "floor", "top")  # round a front, as seen from before it


@dataclass(frozen=True)
class FrontChoice:
    """Which show front a drawer gets; lengths in mm.

    kind: "inset", within the opening; or "overlay", on its rim. thickness: square to its face. left, right, floor, top:
    the reveal of an inset front, square to each wall; or how much of the rim an overlay covers, in the plane of the front.
    The values given are common practice, no source.

    >>> import splaywork as sw
    >>> sw.FrontChoice("overlay", left=10, right=10).kind
    'overlay'
    """

    KINDS = ("inset", "overlay")

    kind: str = "inset"
    thickness: float = 12.0
    left: float = 2.0
    right: float = 2.0
    floor: float = 2.0
    top: float = 2.0

    def __post_init__(self) -> None:
        checks.choice("kind of a show front", self.kind, self.KINDS)
        object.__setattr__(self, "thickness", checks.size("thickness of the show front", self.thickness))
        what = "reveal" if self.kind == "inset" else "overlap"
        for name in EDGES:
            object.__setattr__(self, name, checks.amount(f"{name} {what}", getattr(self, name)))

    @property
    def sets_back(self) -> float:
        """How far it sets the drawer back, mm, square to the front."""
        return self.thickness if self.kind == "inset" else 0.0


@dataclass(frozen=True)
class Opening:
    """A leaning opening that a drawer goes into from the front; as of a `Box` measured inside it.

    Axes as a box's, the origin at the front left of its floor.

    Parameters
    ----------
    floor_width, depth : float
        Along its floor, mm.
    height : float
        Vertical, mm.
    front_lean, back_lean, left_lean, right_lean : float
        Of its walls, degrees, positive when further out at the top.

    Raises
    ------
    ValueError
        For one that can't be.

    >>> import splaywork as sw
    >>> opening = sw.Opening(420, 330, 110, left_lean=8, right_lean=5)
    >>> fit = opening.fit(sw.Clearances())
    >>> round(fit.box.width, 1), fit.box.left_lean
    (417.2, 8.0)
    """

    floor_width: float
    depth: float
    height: float
    _: KW_ONLY
    front_lean: float = 0.0
    back_lean: float = 0.0
    left_lean: float = 0.0
    right_lean: float = 0.0

    def __post_init__(self) -> None:
        for name in ("floor_width", "depth", "height"):
            object.__setattr__(self, name, checks.size(f"opening's {name.replace('_', ' ')}", getattr(self, name)))
        for name in NAMES:
            lean = checked_lean(f"opening's {name} lean", getattr(self, f"{name}_lean"))
            object.__setattr__(self, f"{name}_lean", lean)

    @cached_property
    def faces(self) -> dict[str, Plane]:
        """Name -> Plane of its "left", "right", "back", "floor", "top" and (open) "front", normals out of the room inside."""
        floor, top = rims(self.height)
        faces = {"floor": floor, "top": top}
        at = {"front": (0, 0, 0), "left": (0, 0, 0), "right": (self.floor_width, 0, 0), "back": (0, self.depth, 0)}
        for name in NAMES:
            lean = math.radians(getattr(self, f"{name}_lean"))
            faces[name] = Plane.through(at[name], np.cos(lean) * np.array(OUTWARD[name]) - np.sin(lean) * np.eye(3)[2])
        return faces

    def fit(self, clearances: Clearances, *, front: FrontChoice | None = None, **settings: Any) -> "OpeningFit":
        """The drawer that fills it but for `clearances`, as an `OpeningFit`; settings: any others of `Box`.

        front: the `FrontChoice` of its show front, or None. An inset one sets the drawer back by its thickness.
        ValueError for a setting that the opening settles already: a size, a lean, or where the sizes are measured.
        """
        checks.instance("clearances", clearances, Clearances, "Clearances(left=2, right=2)")
        if settled := sorted(SETTLED & settings.keys()):
            raise ValueError(f"The opening settles the drawer's {settled[0]}: leave {settled[0]} out, or change the "
                             "opening.")
        if front is not None:
            checks.instance("show front", front, FrontChoice, "FrontChoice('inset', 12)")
            if front.kind == "overlay" and clearances.front:
                raise ValueError("An overlay front lies on the opening's rim with the drawer against it: make the front "
                                 "clearance 0.")
        box = Box(**self.settled(clearances, front), **settings)
        return self.holding(box, clearances, front)

    def settled(self, clearances: Clearances, front: FrontChoice | None = None) -> dict[str, Any]:
        """Field of `Box` -> mm or degrees, of the drawer that fills it but for its clearances. ValueError as `fit`."""
        back = 0.0 if front is None else front.sets_back
        height = self.height - clearances.floor - clearances.top
        if height <= 0:
            raise ValueError(f"The floor and top clearances leave nothing of an opening {self.height:g} mm high: make "
                             "them smaller.")
        leans = {name: getattr(self, f"{name}_lean") for name in NAMES}
        sizes = []
        for along, (one, other) in ((self.floor_width, ("left", "right")), (self.depth, ("front", "back"))):
            moved = [getattr(clearances, name) + (back if name == "front" else 0.0) for name in (one, other)]
            size = float(compute("inside_length", bottom_edge=along, up=clearances.floor, first_lean=leans[one],
                                 second_lean=leans[other], first_thickness=moved[0], second_thickness=moved[1]))
            if size <= 0:
                raise ValueError(f"The {one} and {other} clearances leave nothing of the opening: make them smaller.")
            sizes.append(size)
        return dict(zip(("width", "depth"), sizes, strict=True)) | {"height": height} | {
            f"{name}_lean": lean for name, lean in leans.items()}

    def holding(self, box: Box, clearances: Clearances, front: FrontChoice | None = None) -> "OpeningFit":
        """Any `Box` standing in it, as an `OpeningFit`: at its left, front and floor clearances; its gaps may be others."""
        back = 0.0 if front is None else front.sets_back
        corner = [compute("level_thickness", thickness=moved, lean=getattr(self, f"{name}_lean"))
                  - compute("out_over_height", height=clearances.floor, lean=getattr(self, f"{name}_lean"))
                  for name, moved in (("left", clearances.left), ("front", clearances.front + back))]
        return OpeningFit(self, clearances, box, np.array([*corner, clearances.floor]), front)


@dataclass(frozen=True, eq=False)
class OpeningFit(Comparable):
    """A drawer in its opening. at: (3,), where the box's origin is in the opening's axes, mm. front: its `FrontChoice`."""

    opening: Opening
    clearances: Clearances
    box: Box
    at: np.ndarray
    front: FrontChoice | None = None

    @cached_property
    def show_front(self) -> "ShowFront | None":
        """Its `ShowFront` in its place, or None."""
        from .fronts import placed  # a front is made for an opening

        if self.front is None:
            return None
        return placed(self.opening, self.front, self.clearances.front, self.box.allowances)

    @cached_property
    def gaps(self) -> dict[str, float]:
        """Name -> the least distance from the wood to each face of the opening, square to that face, mm.

        Of the boards as sawn, before square ends are planed; negative where they don't go in.
        """
        wood = np.concatenate([board.outlines.reshape(-1, 3) for board in self.box.boards.values()]) + self.at
        return {name: -float(face.height_of(wood).max()) for name, face in self.opening.faces.items()}

    @property
    def slides_in_level(self) -> bool:
        """Whether it goes straight in, level, from the front: all faces beside its way run along it."""
        return all(self.gaps[name] > 1e-9 for name in ("left", "right", "floor", "top"))

    @property
    def gaps_at_front(self) -> dict[str, float]:
        """Name -> the gap all round as seen from straight in front, mm: "left", "right" level, "floor", "top" plumb.

        Around the outer face of the front board, as sawn.
        """
        face = self.box.boards["front"].blank[0] + self.at
        gaps = {}
        for name in ("left", "right", "floor", "top"):
            square = -float(self.opening.faces[name].height_of(face).max())
            lean = getattr(self.opening, f"{name}_lean", 0.0)
            gaps[name] = float(compute("level_thickness", thickness=square, lean=lean))
        return gaps

    def words(self, unit: str = "mm") -> Words:
        """Whether it slides in, and the gaps, those that the front shows and the back's; lengths in "mm" or "in"."""
        tight = [name for name in ("left", "right", "floor", "top") if self.gaps[name] <= 1e-9]
        slides = "The drawer slides in level from the front"
        if tight:
            slides = f"The drawer does not slide in level: there is no room at the {' and the '.join(tight)}"
        left, right, floor, top = (gap_words(gap, unit) for gap in self.gaps_at_front.values())
        sides = f"{left} at each side" if left == right else f"{left} at the left and {right} at the right"
        back = gap_words(self.gaps["back"], unit)
        wider = ("" if max(abs(self.opening.left_lean), abs(self.opening.right_lean)) < SAME_SETTING else
                 " Beside a leaning wall the level gap is wider than the clearance, which is measured square to the wall.")
        return Words(f"{slides}. Measured level beside the drawer's front, the gaps are {sides}.{wider} The gaps "
                     f"measured plumb are {floor} at the floor and {top} at the top. The gap at the back, square to the wall, "
                     f"is {back}.")
