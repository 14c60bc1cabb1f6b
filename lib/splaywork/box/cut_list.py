"""The cut list of a box: what to saw each board from, to what lengths and angles, and in which order.

Left and right are as seen with a board's outer face towards you and its top edge up. End lines are degrees from square,
positive where the board is longer at the top; bevels are degrees out of square to the face.
"""

import csv
import io
import operator
from dataclasses import dataclass

import numpy as np

from ..common.measure import degrees, inches
from ..corner.words import capital
from ..joint.lines import SAME
from .box import END_CORNERS, NAMES, Box

CAUTIONS = (
    "Set angles with the saw unplugged, try each on a piece of scrap, and measure the scrap before the board is cut.",
    "Keep the guard and the riving knife in place, and both hands out of line with the blade; use push sticks, and "
    "clamp what is short or narrow (OSHA 3157; HSE WIS16).",
    "Set the fence on the side that the blade leans away from, in line with the blade (29 CFR 1910.213), and never let "
    "the wood be caught between a leaning blade and the fence.",
    "Don't crosscut against the rip fence: the piece sawn off must lie free.",
    "The saw's own manual, the rules where you work and a qualified instructor come before this list.",
)


@dataclass(frozen=True)
class End:
    """One end of a board. side: "left" or "right". corner: of the box, such as "front left". tails: how many.

    end_line: degrees from square. end_bevel: degrees that the end is *sawn* out of square to the face, positive when the
    inner face is left longer; 0 for ends that are sawn square. baseline: mm from the end line, square to it.
    """

    side: str
    corner: str
    end_line: float
    end_bevel: float
    baseline: float
    tails: int

    @property
    def numbers(self):
        """All that makes two ends alike, (4,)."""
        return self.end_line, self.end_bevel, self.baseline, self.tails


@dataclass(frozen=True)
class BoardCut:
    """One board of the list; lengths in mm.

    hand: "left" or "right" where its ends differ, after the end that leans out more (on a tie, whose baseline is
    further in); "either" where they don't. A mirror image has the other hand. blank: (length, width, thickness) to saw
    from, with the allowances and what level rims take. outer_bottom, outer_top: between the end lines on the outer face.
    inner_bottom, inner_top: between the baselines on the inner face, which is what is seen inside. ends: left, right.
    rim_bevel: degrees from square for both edges, positive when the outer arris is the blunt one at the bottom; 0 for
    square rims. slant_width: up the face.
    """

    name: str
    carries: str
    hand: str
    lean: float
    thickness: float
    slant_width: float
    blank: tuple
    outer_bottom: float
    outer_top: float
    inner_bottom: float
    inner_top: float
    ends: tuple
    rim_bevel: float

    @property
    def area(self):
        """Face of the blank, m²."""
        return self.blank[0] * self.blank[1] / 1e6

    @property
    def volume(self):
        """Volume of the blank, dm³."""
        return self.blank[0] * self.blank[1] * self.blank[2] / 1e6

    def _numbers(self, ends):
        own = (self.lean, self.thickness, self.slant_width, self.outer_bottom, self.outer_top, self.rim_bevel)
        return np.array([*own, *ends[0].numbers, *ends[1].numbers])

    def equals(self, other):
        """Whether the two boards can be swapped for one another."""
        return self.carries == other.carries and np.allclose(self._numbers(self.ends), other._numbers(other.ends))

    def mirrors(self, other):
        """Whether the two boards are mirror images."""
        return self.carries == other.carries and np.allclose(self._numbers(self.ends), other._numbers(other.ends[::-1]))


@dataclass(frozen=True)
class Group:
    """Boards that are alike: the names of `equal` ones and of their mirror images; count: of all, in all boxes."""

    equal: tuple
    mirrored: tuple
    count: int

    @property
    def words(self):
        """Which boards are equal and which mirror them, as a sentence."""
        equal = " and ".join(self.equal)
        said = f"{equal} are equal" if len(self.equal) > 1 else f"{equal} is like no other board of its box"
        if self.mirrored:
            said = f"{equal} and {' and '.join(self.mirrored)} are mirror images: mark the hand on each"
        return f"{capital(said)} ({self.count} in all)."


@dataclass(frozen=True)
class Cut:
    """One cut of one board, made once for each box.

    where: "bottom edge", "top edge", "left end" or "right end". face_down: the face on the table, "outer", "inner" or
    "either", *with the blade leaning away from the wood that is kept*, so that the face on the table is left shorter.
    longer: the edge along which an end is left longer, "top", "bottom" or "" for square.
    """

    board: str
    where: str
    face_down: str
    longer: str = ""

    @property
    def words(self):
        """The cut on its board as a phrase: "left end (outer face down, longer at the top)"."""
        notes = [] if self.face_down == "either" else [f"{self.face_down} face down"]
        notes += [f"longer at the {self.longer}"] if self.longer else []
        return self.where + (f" ({', '.join(notes)})" if notes else "")


@dataclass(frozen=True)
class SawStep:
    """One setting of the saw, and every cut that is made with it.

    kind: "rip", along the fence, or "crosscut", with the bottom edge against the mitre gauge. blade_tilt: degrees from
    upright. mitre_gauge: degrees from square, 0 for rips. count: cuts in all boxes.
    """

    kind: str
    blade_tilt: float
    mitre_gauge: float
    cuts: tuple
    count: int

    @property
    def words(self):
        """The step as a sentence for the bench."""
        tilt = "upright" if self.blade_tilt < SAME else f"tilted {degrees(self.blade_tilt)}"
        gauge = "square" if self.mitre_gauge < SAME else f"{degrees(self.mitre_gauge)} from square"
        setting = f"blade {tilt}" + (f", mitre gauge {gauge}" if self.kind == "crosscut" else "")
        made = [f"{cut.board} {cut.words}" for cut in self.cuts]
        return f"{self.kind.capitalize()} with the {setting}: {'; '.join(made)}."


@dataclass(frozen=True)
class CutList:
    """All boards of `quantity` like boxes: `boards`, how they are alike, and the order in which to saw them."""

    boards: tuple
    quantity: int
    groups: tuple
    saw_order: tuple

    def rows(self, unit="mm"):
        """Each board as {column: text}, lengths in "mm" (one decimal) or "in" (fractions to 1/64), with ASCII signs."""
        return [_row(board, self.quantity, unit) for board in self.boards]

    def table(self, unit="mm"):
        """The list as text: a line for each quantity, a column for each board."""
        rows = self.rows(unit)
        lines = {column: [row[column].replace("-", "−").removesuffix(" corner") for row in rows] for column in rows[0]}
        first, other = max(map(len, lines)), max(len(cell) for cells in lines.values() for cell in cells)
        return "\n".join(f"{column:<{first}}" + "".join(f"{cell:>{other + 2}}" for cell in cells)
                         for column, cells in lines.items())

    def csv(self, unit="mm"):
        """The list as CSV text (RFC 4180), a line for each board, the columns' names first."""
        return _csv(self.rows(unit))

    @property
    def area(self):
        """Face of all blanks, m²."""
        return self.quantity * sum(board.area for board in self.boards)

    @property
    def volume(self):
        """Volume of all blanks, dm³."""
        return self.quantity * sum(board.volume for board in self.boards)


def _csv(rows):
    text = io.StringIO()
    writer = csv.DictWriter(text, list(rows[0]))
    writer.writeheader()
    writer.writerows(rows)
    return text.getvalue()


def cut_lists_csv(lists, unit="mm"):
    """Several cut lists as one CSV text: (name, `CutList`) pairs; a first column, "item", has their number and name.

    The number keeps a spreadsheet from taking a name for a formula.
    """
    return _csv([{"item": f"{number}. {name}"} | row
                 for number, (name, cuts) in enumerate(lists, 1) for row in cuts.rows(unit)])


def _length(value, unit):
    """A length for a cell, the unit being named in the column."""
    return f"{value:.1f}" if unit == "mm" else inches(value).replace("−", "-").replace(" in", "")


def _angle(value):
    return f"{round(value, 2) + 0.0:+.2f}" if round(value, 2) else "0.00"


def _row(board, quantity, unit):
    if unit not in ("mm", "in"):
        raise ValueError(f"The unit can be 'mm' or 'in', not {unit!r}.")
    sizes = dict(zip(("length", "width", "thickness"), board.blank, strict=True))
    lengths = {f"blank {name}": size for name, size in sizes.items()}
    lengths |= {"slant width": board.slant_width, "outer length, bottom": board.outer_bottom,
                "outer length, top": board.outer_top, "inner length, bottom": board.inner_bottom,
                "inner length, top": board.inner_top}
    row = {"board": board.name, "quantity": str(quantity), "carries": board.carries, "hand": board.hand}
    row |= {f"{name} ({unit})": _length(value, unit) for name, value in lengths.items()}
    for end in board.ends:
        row |= {f"{end.side} end": f"{end.corner} corner", f"{end.side} end line (°)": _angle(end.end_line),
                f"{end.side} end bevel (°)": _angle(end.end_bevel),
                f"{end.side} baseline ({unit})": _length(end.baseline, unit)}
    return row | {"rim bevel (°)": _angle(board.rim_bevel), "blank area (m²)": f"{board.area:.3f}",
                  "blank volume (dm³)": f"{board.volume:.2f}"}


def cut_list(box, quantity=1):
    """The `CutList` for so many boxes like `box`. ValueError unless it is a `Box` and a whole number, 1 or more."""
    if not isinstance(box, Box):
        raise ValueError(f"A cut list is made for a Box, not for {box!r}.")
    try:
        count = operator.index(quantity)
    except TypeError:
        count = 0
    if count < 1:
        raise ValueError(f"The quantity must be a whole number of boxes, 1 or more, not {quantity!r}.")
    boards = tuple(_board_cut(box, name) for name in NAMES)
    return CutList(boards, count, _groups(boards, count), _saw_order(boards, count))


def _board_cut(box, name):
    board, spare = box.boards[name], box.allowances
    size = np.ptp(board.in_board(board.blank).reshape(-1, 3), axis=0)
    blank = tuple(np.add(size, (2 * spare.end, 2 * spare.edge, spare.thickness)).tolist())
    left, right = board.in_board(board.baselines[1])[..., 0]  # on the inner face, each by rim
    ends = tuple(_end(box, name, side) for side in ("left", "right"))
    lean = box.lean(name)
    return BoardCut(name, box.carries(name), _hand(*ends), lean, box.thickness_of(name), box.slant_width(name), blank,
                    box.outer_length(name), box.outer_length(name, box.height), *(right - left).tolist(), ends,
                    lean if box.rims == "level" else 0.0)


def _end(box, name, side):
    at = END_CORNERS[name][("left", "right").index(side)]
    corner = box.corners[at]
    kind, other = ("tail", corner.pin) if corner.tail == name else ("pin", corner.tail)
    bevel = corner.corner.end_bevel if corner.joint.end == "flush" else 0.0
    return End(side, at, corner.corner.end_line(kind), bevel,
               corner.corner.baseline_offset(box.thickness_of(other)), corner.joint.tails)


def _hand(left, right):
    more = np.subtract(left.numbers, right.numbers)
    telling = more[np.abs(more) > 1e-6]
    if not telling.size:
        return "either"
    return "left" if telling[0] > 0 else "right"


def _groups(boards, quantity):
    groups = []
    left = list(boards)
    while left:
        first = left[0]
        equal = [board for board in left if board.equals(first)]
        mirrored = [board for board in left if board not in equal and board.mirrors(first)]
        left = [board for board in left if board not in equal and board not in mirrored]
        names = (tuple(board.name for board in some) for some in (equal, mirrored))
        groups.append(Group(*names, quantity * len(equal + mirrored)))
    return tuple(groups)


def _shorter(angle, longer_inner):
    """The face that a bevel leaves shorter, when a positive one leaves the inner (or the outer) face longer."""
    if abs(angle) < SAME:
        return "either"
    return "outer" if (angle > 0) == longer_inner else "inner"


def _edge(angle):
    return "" if abs(angle) < SAME else "top" if angle > 0 else "bottom"


def _saw_order(boards, quantity):
    """Rips first, then ends; within each, each tilt once, and at each tilt each gauge setting once."""
    rips = [(abs(board.rim_bevel), 0.0, Cut(board.name, f"{edge} edge", _shorter(board.rim_bevel, edge == "bottom")))
            for board in boards for edge in ("bottom", "top")]
    ends = [(abs(end.end_bevel), abs(end.end_line),
             Cut(board.name, f"{end.side} end", _shorter(end.end_bevel, True), _edge(end.end_line)))
            for board in boards for end in board.ends]
    steps = []
    for kind, cuts in (("rip", rips), ("crosscut", ends)):
        for tilt, same_tilt in _settings(cuts, 0):
            for gauge, made in _settings(same_tilt, 1):
                steps.append(SawStep(kind, tilt, gauge, tuple(cut for *_, cut in made), quantity * len(made)))
    return tuple(steps)


def _settings(cuts, which):
    """(mean angle, cuts) for each setting that the cuts need; angles within 0.05° of a group's first are one."""
    groups = []
    for cut in sorted(cuts, key=operator.itemgetter(which)):
        if groups and cut[which] - groups[-1][0][which] < SAME:
            groups[-1].append(cut)
        else:
            groups.append([cut])
    return [(float(np.mean([cut[which] for cut in group])), group) for group in groups]
