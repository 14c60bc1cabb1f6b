"""The bevel settings of a whole plan: each lettered once, those that no hand could tell apart taken together."""

from dataclasses import dataclass
from html import escape
from itertools import product
from string import ascii_uppercase
from typing import TYPE_CHECKING, NamedTuple

from ..common import checks
from ..common.printing import degrees, offset
from ..common.tolerances import SAME_SETTING
from ..corner.words import series
from .plan import Plan

if TYPE_CHECKING:
    from ..joint.joint import Joint

HAND = 0.2  # degrees: settings closer than this are one; set to their middle, none is 0.1° off, and a hand sets to 0.25°
SHOW_FRONT = "show front"
_PLACES = {"outer": "faces", "inner": "faces", "end": "ends", "bottom": "rims", "top": "rims"}
_USES = {("faces", "line"): "end lines and baselines: {}", ("faces", "cheek"): "cheeks on the faces: {}",
         ("ends", "cheek"): "cheeks across the ends: {}", ("rims", "line"): "end lines across the rims: {}",
         ("ends", "line"): "lines across the ends: {}", ("rims", "cheek"): "cheeks across the rims: {}"}


class JobSetting(NamedTuple):
    """One setting of the bevel. from_square: degrees. spread: degrees between the furthest two angles that it stands for.

    uses: (place, kind, boards): "faces", "ends" or "rims"; "line" or "cheek"; names of the boards whose lines it strikes.
    """

    letter: str
    from_square: float
    spread: float
    uses: tuple

    @property
    def words(self) -> tuple[str, ...]:
        """What it strikes, a phrase for each use."""
        return tuple(_USES[place, kind].format(series(boards)) for place, kind, boards in self.uses)


def offset_words(from_square: float, unit: str = "mm") -> str:
    """The offset of a setting, from square up to 45° and from the edge beyond: "26.8 mm in 100 mm"."""
    small = min(from_square, 90 - from_square)
    return offset(small, unit) + ("" if small == from_square else ", from the edge")


@dataclass(frozen=True)
class JobSettings:
    """The settings of a plan, from the squarest on: `JobSetting`s."""

    settings: tuple

    @property
    def pairs(self) -> tuple[tuple, ...]:
        """(letter, degrees from square) of each, for `Joint.lettered`."""
        return tuple((each.letter, each.from_square) for each in self.settings)

    def __repr__(self) -> str:
        return f"JobSettings({', '.join(f'{each.letter} {each.from_square:.1f}°' for each in self.settings)})"

    def _repr_html_(self) -> str:
        rows = "".join(f"<tr><th>{each.letter}</th><td>{degrees(each.from_square)}</td>"
                       f"<td>{escape('; '.join(each.words))}</td></tr>" for each in self.settings)
        return f"<table><tr><th></th><th>from square</th><th>strikes</th></tr>{rows}</table>"

    def letter(self, angle: float) -> str:
        """The letter of the setting that strikes a line at that angle, degrees from square, either way; or "square"."""
        if abs(angle) < SAME_SETTING or not self.settings:
            return "square"
        return min(self.settings, key=lambda each: abs(each.from_square - abs(angle))).letter

    def letters(self, joint: "Joint", board: str, surface: str, kind: str) -> str:
        """Letters of what strikes the lines of a kind ("line" or "cheek") on a joint's surface: "A", "C and D", "square"."""
        found = {self.letter(line.from_square) for line in joint.lines_on(board, surface)
                 if (line.kind == "cheek") == (kind == "cheek")}
        return series(sorted(found - {"square"}) or ["square"])

    @property
    def merged_words(self) -> str:
        """A sentence on the settings that stand for several angles; "" where none does."""
        merged = [each for each in self.settings if each.spread >= SAME_SETTING]
        if not merged:
            return ""
        each = series([f"{one.letter} ({degrees(one.from_square - one.spread / 2, 2)} to "
                       f"{degrees(one.from_square + one.spread / 2, 2)})" for one in merged])
        return (f"No hand can tell angles apart that are less than {degrees(HAND)} apart. So {each} "
                f"stand{'s' * (len(merged) == 1)} for several: set the middle.")


def job_settings(plan: Plan) -> JobSettings:
    """The `JobSettings` of a `Plan`: every line that is struck with a bevel on any corner, or show front, of any item.

    >>> import splaywork as sw
    >>> box = sw.Box(400, 300, 100, front_lean=10, left_lean=5, right_lean=5)
    >>> sw.job_settings(sw.Plan("drawers", (sw.Item("deep", box),)))
    JobSettings(A 5.0°, B 10.0°, C 80.5°)
    """
    checks.instance("plan", plan, Plan, "load_plan('lockers.json')")
    lines = [(abs(end.end_line), "faces", "line", SHOW_FRONT) for item in plan.items if item.fit and item.fit.show_front
             for end in item.fit.show_front.ends if abs(end.end_line) >= SAME_SETTING]
    for item, at in product(plan.items, next(iter(plan.items)).box.corners):
        corner = item.box.corners[at]
        for line in corner.joint.lines:
            if line.struck_with == "bevel":
                kind = "cheek" if line.kind == "cheek" else "line"
                lines.append((line.from_square, _PLACES[line.surface], kind, getattr(corner, line.board)))
    groups: list[list[tuple]] = []
    for line in sorted(lines):
        if groups and line[0] - groups[-1][0][0] < HAND:
            groups[-1].append(line)
        else:
            groups.append([line])
    return JobSettings(tuple(_setting(number, group) for number, group in enumerate(groups)))


def _setting(number, group):
    low, high = group[0][0], group[-1][0]
    boards = {}
    for _, place, kind, board in group:
        boards.setdefault((place, kind), set()).add(board)
    order = ("front", "back", "left", "right", SHOW_FRONT)
    uses = tuple((*use, tuple(name for name in order if name in boards[use])) for use in _USES if use in boards)
    return JobSetting(_letter(number), (low + high) / 2, high - low, uses)


def _letter(number):
    """A, B … Z, AA, AB …"""
    return (ascii_uppercase[number // 26 - 1] if number >= 26 else "") + ascii_uppercase[number % 26]
