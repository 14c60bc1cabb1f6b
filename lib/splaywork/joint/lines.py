"""The lines that are struck on every surface of a joint's boards, and the bevel settings that they need."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from ..common.checks import Comparable
from ..common.planes import cross
from ..common.tolerances import SAME_SETTING
from .tails import Cheek

if TYPE_CHECKING:
    from .solids import CutBoard


@dataclass(frozen=True, eq=False)
class Line(Comparable):
    """One line to strike.

    board: "tail" or "pin". surface: "outer", "end", "inner", "bottom" or "top". ends: (2, 3), in space. flat: (2, 2),
    in the surface's flat coordinates (`Surface.flat`). edge: what the bevel's stock is held against. from_square:
    degrees, 0 to 90, between the line and square to that edge; which way it slants is seen from `flat`. struck_with:
    "square", "bevel", or "tails" for lines that are scribed from the finished tails. Lengths in mm.
    """

    name: str
    board: str
    surface: str
    ends: np.ndarray
    flat: np.ndarray
    edge: str
    from_square: float
    struck_with: str

    @property
    def side(self) -> str:
        """Which cheek of its tail the line is of, "lower" or "upper"; "" for a line that is no cheek."""
        return self.name.side if isinstance(self.name, Cheek) else ""

    @property
    def kind(self) -> str:
        """What the line is: "end line", "cut-off line", "baseline" or "cheek"."""
        return "cheek" if self.side else self.name

    @property
    def from_edge(self) -> float:
        """Degrees between the line and the edge, 0 to 90."""
        return 90 - self.from_square


@dataclass(frozen=True, eq=False)
class Setting(Comparable):
    """One setting of the bevel: degrees from square to the edge that the stock is held against, and its lines."""

    from_square: float
    lines: tuple

    @property
    def from_edge(self) -> float:
        """Degrees between blade and stock, 0 to 90."""
        return 90 - self.from_square


def _cheek_edges(cut):
    """(names, corner numbers (k, 2) at end and baseline) of the cheeks of a board."""
    sides = cut.sides
    found = []
    for number, side in enumerate(sides):
        if isinstance(side, Cheek):
            following = (number + 1) % len(sides)
            found.append((side, (number, following) if sides[number - 1] == "end" else (following, number)))
    names, corners = zip(*found, strict=True)
    return list(names), np.array(corners)


def lines_to_strike(cut: "CutBoard") -> tuple[Line, ...]:
    """Every `Line` of a `CutBoard`, surface by surface.

    On both faces: the end line, the cut-off line where a square end stands proud of it, the baseline and the cheeks.
    On the rims: the end line and the baseline carried across (a square end is sawn square to the face, and its cut-off
    line needs no carrying). On the end: the cheeks. Settings are measured from the bottom edge, for cheeks on the pin board's
    faces from the end line, on the end from its outer arris, on the rims from theirs.
    """
    names, corners = _cheek_edges(cut)
    level = cut.blank[0, 1, 0] - cut.blank[0, 0, 0]
    arris = cut.end_lines[0, 1] - cut.end_lines[0, 0]
    found = []
    for number, face in enumerate(("outer", "inner")):
        across = [("end line", cut.end_lines[number]), ("baseline", cut.baselines[number])]
        if not np.allclose(cut.blank[number, 0], cut.end_lines[number], atol=1e-6):
            across.insert(1, ("cut-off line", cut.blank[number, 0]))
        found += _struck(cut, face, across, level, "bottom edge")
        cheeks = zip(names, cut.outlines[number][corners], strict=True)
        found += _struck(cut, face, cheeks, *((level, "bottom edge") if cut.board == "tail" else (arris, "end line")))
    on_end = np.swapaxes(cut.outlines[:, corners[:, 0]], 0, 1)
    found += _struck(cut, "end", zip(names, on_end, strict=True), arris, "outer arris", scribed=cut.board == "pin")
    for number, rim in enumerate(("bottom", "top")):
        across = [("end line", cut.end_lines[:, number]), ("baseline", cut.baselines[:, number])]
        found += _struck(cut, rim, across, level, "outer arris")
    return tuple(found)


def _struck(cut, surface, named, along, edge, scribed=False):
    """Lines on one surface from (name, ends (2, 3)) pairs, `along` being the direction of their edge."""
    names, ends = zip(*named, strict=True)
    ends = np.array(ends)
    way = ends[:, 1] - ends[:, 0]
    cosine = np.abs(way @ along)
    sine = np.linalg.norm(cross(way, along), axis=1)
    from_square = np.degrees(np.arctan2(cosine, sine))
    flat = cut.surfaces[surface].flat(ends)
    tools = ["tails" if scribed else "square" if angle < SAME_SETTING else "bevel" for angle in from_square]
    return [Line(name, cut.board, surface, *rest)
            for name, *rest in zip(names, ends, flat, [edge] * len(names), from_square.tolist(), tools, strict=True)]


def group_settings(lines: Any) -> tuple[Setting, ...]:
    """The different bevel settings of these lines, as `Setting`s from the squarest on.

    Lines struck with a square or scribed from the tails need none; settings within 0.05° are one, called by the mean.
    """
    groups: list[list[Line]] = []
    for line in sorted((line for line in lines if line.struck_with == "bevel"), key=lambda line: line.from_square):
        if groups and line.from_square - groups[-1][0].from_square < SAME_SETTING:
            groups[-1].append(line)
        else:
            groups.append([line])
    return tuple(Setting(float(np.mean([line.from_square for line in group])), tuple(group)) for group in groups)
