"""The cut list of a box: what to saw each board from, to what lengths and angles, and in which order.

Left and right are as seen with a board's outer face towards you and its top edge up. End lines are degrees from square,
positive where the board is longer at the top; bevels are degrees out of square to the face.
"""

import csv
import io
import math
import operator
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from ..common import checks
from ..common.printing import DECIMAL, MM_PER_INCH, UNITS, degrees, length_parts, lengths, unit_name
from ..common.tolerances import SAME_SETTING
from ..corner.words import series
from ..joint.words import proud
from .box import END_CORNERS, NAMES, Box

SAW_TILTS = ("left", "right")
STEEPEST_TILT, STEEPEST_SWING = 45.0, 60.0  # degrees that most saws and mitre gauges reach; common practice, no source

SAW_WORDS = ("You stand before the saw and feed the wood away from you. Left and right of the blade are yours; a mitre gauge "
             "swings as seen from above. Where the blade tilts, it leans away from the wood that is kept.")

CAUTIONS = (
    "Set angles with the saw unplugged, try each on a piece of scrap, and measure the scrap before the board is cut.",
    "Keep the guard and the riving knife in place, and both hands out of line with the blade; use push sticks, and "
    "clamp what is short or narrow (OSHA 3157; HSE WIS16).",
    "Set the fence on the side that the blade leans away from, in line with the blade (29 CFR 1910.213), and never let "
    "the wood be caught between a leaning blade and the fence.",
    "A sharp arris can creep under the fence when a bevelled edge runs along it: close the gap with a strip of wood.",
    "Don't crosscut against the rip fence: the piece sawn off must lie free.",
    "The saw's own manual, the rules where you work and a qualified instructor come before this list.",
)


@dataclass(frozen=True)
class End:
    """One end of a board. side: "left" or "right". corner: of the box, such as "front left". tails: how many.

    end_line: degrees from square. end_bevel: degrees that the end is *sawn* out of square to the face, positive when the
    inner face is left longer; 0 for ends that are sawn square. baseline: mm from the end line, square to it. proud: mm,
    square to the end line, that a square end is sawn outside it, to be planed off when the box is together; and
    proud_face, "outer" or "inner", the face on which it stands proud; 0 and "" for flush ends.
    """

    side: str
    corner: str
    end_line: float
    end_bevel: float
    baseline: float
    tails: int
    proud: float = 0.0
    proud_face: str = ""

    @property
    def numbers(self) -> tuple[float, ...]:
        """All that makes two ends equal, (4,)."""
        return self.end_line, self.end_bevel, self.baseline, self.tails


@dataclass(frozen=True, repr=False)
class BoardCut:
    """One board of the list; lengths in mm.

    blank: (length, width, thickness) to saw from, with the allowances and what level rims take. outer_bottom, outer_top:
    between the end lines on the outer face. sawn_bottom, sawn_top: what is sawn there, longer where square ends stand
    proud. inner_bottom, inner_top: between the baselines on the inner face, which is what is seen inside. diagonals: of
    the outer face as sawn, from the bottom left and from the bottom right corner. ends: left, right. rim_bevel: degrees
    from square for both edges, positive when the outer arris is the blunt one at the bottom; 0 for square rims.
    slant_width: up the face.
    """

    name: str
    carries: str
    lean: float
    thickness: float
    slant_width: float
    blank: tuple[float, float, float]
    outer_bottom: float
    outer_top: float
    sawn_bottom: float
    sawn_top: float
    inner_bottom: float
    inner_top: float
    diagonals: tuple
    ends: tuple
    rim_bevel: float

    def __repr__(self) -> str:
        return f"BoardCut({self.name}, {self.carries}, from {lengths(self.blank)})"

    @property
    def area(self) -> float:
        """Face of the blank, m²."""
        return self.blank[0] * self.blank[1] / 1e6

    @property
    def volume(self) -> float:
        """Volume of the blank, dm³."""
        return self.blank[0] * self.blank[1] * self.blank[2] / 1e6

    def _numbers(self, ends):
        own = (self.lean, self.thickness, self.slant_width, self.outer_bottom, self.outer_top, self.rim_bevel)
        return np.array([*own, *ends[0].numbers, *ends[1].numbers])

    def equals(self, other: "BoardCut") -> bool:
        """Whether the two boards can be swapped for one another."""
        return self.carries == other.carries and np.allclose(self._numbers(self.ends), other._numbers(other.ends))

    def mirrors(self, other: "BoardCut") -> bool:
        """Whether the two boards are mirror images."""
        return self.carries == other.carries and np.allclose(self._numbers(self.ends), other._numbers(other.ends[::-1]))


@dataclass(frozen=True)
class Group:
    """Boards that match: the names of `equal` ones and of their mirror images; count: of all, in all boxes."""

    equal: tuple
    mirrored: tuple
    count: int

    @property
    def words(self) -> str:
        """Which boards are equal and which are mirror images, and how many to make."""
        if self.mirrored:
            each = self.count * len(self.equal) // len(self.equal + self.mirrored)
            return (f"The {series(self.equal)} and the {series(self.mirrored)} are mirror images. Make {self.count}, "
                    f"{each} of each, and mark every one: name, outer face, arrow to the top.")
        if len(self.equal) > 1:
            return f"The {series(self.equal)} are equal. Make {self.count}."
        return f"No other board matches the {self.equal[0]}. Make {self.count}."


@dataclass(frozen=True)
class Cut:
    """One cut of one board, made once for each box, as the operator stands: the blade ahead, the feed away from you.

    where: "bottom edge", "top edge", "left end" or "right end". face_down: the face on the table, "outer" or "inner".
    edge_to_gauge: "bottom" or "top", the edge against the mitre gauge, nearest to the operator; for a rip, the edge that
    runs along the fence. kept: "left" or "right", the side of the blade on which the wood that is kept lies. longer: the
    edge along which an end is left longer, "top", "bottom" or "" for square. item: which of a plan's items, by number;
    0 where there is one box only.
    """

    board: str
    where: str
    face_down: str
    edge_to_gauge: str
    kept: str
    longer: str = ""
    item: int = 0

    @property
    def name(self) -> str:
        """Which cut it is: "front board, left end"; with its item's number first where it has one."""
        return f"{self.item} {self.board}, {self.where}" if self.item else f"{self.board} board, {self.where}"

    @property
    def setup(self) -> tuple[str, ...]:
        """What the cut is made with, but for the angles: (face down, edge to mitre gauge or fence, side that is kept)."""
        return self.face_down, self.edge_to_gauge, self.kept


@dataclass(frozen=True)
class SawStep:
    """One setting of the saw, and every cut that is made with it.

    kind: "rip", along the fence, or "crosscut", against the mitre gauge. blade_tilt: degrees from upright; saw_tilts:
    the way that the blade's top leans as the operator sees it, "left" or "right". mitre_gauge: degrees from square, 0 for
    rips; gauge_swing: "clockwise" or "anticlockwise" as seen from above, "" for square. count: cuts in all boxes.
    """

    kind: str
    blade_tilt: float
    saw_tilts: str
    mitre_gauge: float
    gauge_swing: str
    cuts: tuple
    count: int

    @property
    def blade_words(self) -> str:
        """The blade's setting: "upright", or "tilted 3.0° to the left"."""
        return "upright" if self.blade_tilt < SAME_SETTING else f"tilted {degrees(self.blade_tilt)} to the {self.saw_tilts}"

    @property
    def gauge_words(self) -> str:
        """The mitre gauge's setting: "square", or "swung 15.7° clockwise"; "" for a rip."""
        if self.kind == "rip":
            return ""
        return f"swung {degrees(self.mitre_gauge)} {self.gauge_swing}" if self.gauge_swing else "square"

    @property
    def setting_words(self) -> str:
        """The setting as a phrase: "Crosscut with the blade tilted 3.0° to the left and the mitre gauge square"."""
        if self.kind == "rip":
            return f"Rip with the blade {self.blade_words} and the fence on its {_away(self.saw_tilts)}"
        return f"Crosscut with the blade {self.blade_words} and the mitre gauge {self.gauge_words}"

    @property
    def ways(self) -> dict[str, tuple[Cut, ...]]:
        """Phrase -> cuts: how the wood lies, and the cuts that are made with it lying so."""
        against = "fence" if self.kind == "rip" else "mitre gauge"
        found: dict[str, list] = {}
        for cut in self.cuts:
            face, edge, kept = cut.setup
            said = f"{face} face down, {edge} edge to the {against}, keep the wood on the {kept}"
            found.setdefault(said, []).append(cut)
        return {said: tuple(cuts) for said, cuts in found.items()}

    @property
    def can_be_set(self) -> bool:
        """Whether most saws reach this setting."""
        return self.blade_tilt <= STEEPEST_TILT and self.mitre_gauge <= STEEPEST_SWING

    @property
    def words(self) -> str:
        """The step as one sentence for the bench; and one more where most saws don't reach its setting."""
        ways = "; ".join(f"{way}: {series([cut.name for cut in cuts])}" for way, cuts in self.ways.items())
        more = "" if self.can_be_set else " Most saws don't reach this setting: saw this by hand, to the lines."
        return f"{self.setting_words}; {ways}.{more}"


@dataclass(frozen=True, repr=False)
class CutList:
    """All boards of `quantity` equal boxes: `boards`, which match, and the order in which to saw them.

    saw_tilts: which way the saw's blade tilts. rim_diagonals: mm, outside, corner to corner of the bottom and of the top
    rim; both diagonals of a rim are equal when the box is square. inside_diagonals: the same between the inner faces.
    """

    boards: tuple
    quantity: int
    groups: tuple
    saw_order: tuple
    saw_tilts: str
    rim_diagonals: tuple
    inside_diagonals: tuple

    def __repr__(self) -> str:
        boards = ", ".join(board.name for board in self.boards)
        return f"CutList({boards} × {self.quantity}, {len(self.saw_order)} saw settings)"

    def _repr_html_(self) -> str:
        from .tables import cut_table  # here: tables writes cut lists

        return cut_table(self, f"{self.quantity} of each board")

    def rows(self, unit: str = "mm", decimal: bool = False, everything: bool = False) -> list[dict[str, str]]:
        """Each board as {column: text}, with ASCII signs; angles to 0.1°, sizes in "mm" (to 0.1), "in" (to 1/64) or "0.001 in".

        decimal: for a spreadsheet, inches to 0.001 whichever they are, and angles to 0.01°. everything: also the columns that
        say nothing of these boards, as the sawn lengths where ends are flush.
        """
        rows = [_row(board, self.quantity, unit, decimal) for board in self.boards]
        if everything or any(end.proud for board in self.boards for end in board.ends):
            return rows
        return [{column: text for column, text in row.items() if not ("sawn" in column or "proud" in column)}
                for row in rows]

    def table(self, unit: str = "mm", decimal: bool = False) -> str:
        """The list as text: a line for each quantity, a column for each board."""
        rows = self.rows(unit, decimal)
        lines = {column: [row[column].replace("-", "−").removesuffix(" corner") for row in rows] for column in rows[0]}
        first, other = max(map(len, lines)), max(len(cell) for cells in lines.values() for cell in cells)
        return "\n".join(f"{column:<{first}}" + "".join(f"{cell:>{other + 2}}" for cell in cells)
                         for column, cells in lines.items())

    def csv(self, unit: str = "mm") -> str:
        """The list as CSV text (RFC 4180), a line for each board, the columns' names first.

        Numbers stand alone in their cells, the unit in the column's name, inches as decimals: a spreadsheet adds them up.
        """
        return _csv(self.rows(unit, decimal=True, everything=True))

    @property
    def area(self) -> float:
        """Face of all blanks, m²."""
        return self.quantity * sum(board.area for board in self.boards)

    @property
    def volume(self) -> float:
        """Volume of all blanks, dm³."""
        return self.quantity * sum(board.volume for board in self.boards)


def _csv(rows):
    text = io.StringIO()
    writer = csv.DictWriter(text, list(rows[0]))
    writer.writeheader()
    writer.writerows(rows)
    return text.getvalue()


def cut_lists_csv(lists: Iterable[tuple[str, CutList]], unit: str = "mm") -> str:
    """Several cut lists as one CSV text: (name, `CutList`) pairs; a first column, "item", has their number and name.

    The number keeps a spreadsheet from taking a name for a formula.
    """
    return _csv([{"item": f"{number}. {name}"} | row for number, (name, cuts) in enumerate(lists, 1)
                 for row in cuts.rows(unit, decimal=True, everything=True)])


def _length(value, unit, decimal):
    """A length for a cell, the unit being named in the column."""
    return length_parts(value, DECIMAL if decimal and unit == "in" else unit)[0].replace("−", "-")


def _angle(value, decimal):
    """An angle for a cell: to 0.1°, as hands set it; for a spreadsheet, which goes on counting, to 0.01°."""
    places = 2 if decimal else 1
    return f"{value:+.{places}f}" if round(value, places) else f"{0:.{places}f}"


def wood_amounts(area: float, volume: float, unit: str = "mm") -> tuple[tuple, ...]:
    """((number, unit) of a face in m² and of a volume in dm³): m² and dm³, or square feet and board feet (144 in³)."""
    if unit == "mm":
        return (area, "m²"), (volume, "dm³")
    inch = float(MM_PER_INCH)
    return (area * 1e6 / (12 * inch) ** 2, "ft²"), (volume * 1e6 / (144 * inch**3), "board ft")


def _row(board, quantity, unit, decimal):
    name_of_unit = unit_name(checks.choice("unit", unit, UNITS))
    sizes = dict(zip(("length", "width", "thickness"), board.blank, strict=True))
    lengths = {f"blank {name}": size for name, size in sizes.items()}
    lengths |= {"slant width": board.slant_width, "outer length, bottom": board.outer_bottom,
                "outer length, top": board.outer_top, "sawn length, bottom": board.sawn_bottom,
                "sawn length, top": board.sawn_top, "inside length, bottom": board.inner_bottom,
                "inside length, top": board.inner_top, "diagonal from bottom left": board.diagonals[0],
                "diagonal from bottom right": board.diagonals[1]}
    row = {"board": board.name, "quantity": str(quantity), "carries": board.carries}
    row |= {f"{name} ({name_of_unit})": _length(value, unit, decimal) for name, value in lengths.items()}
    for end in board.ends:
        row |= {f"{end.side} end": f"{end.corner} corner", f"{end.side} end line (°)": _angle(end.end_line, decimal),
                f"{end.side} end bevel (°)": _angle(end.end_bevel, decimal),
                f"{end.side} baseline ({name_of_unit})": _length(end.baseline, unit, decimal),
                f"{end.side} end proud ({name_of_unit})": _length(end.proud, unit, decimal)}
    (area, face), (volume, wood) = wood_amounts(board.area, board.volume, unit)
    return row | {"rim bevel (°)": _angle(board.rim_bevel, decimal), f"blank area ({face})": f"{area:.3f}",
                  f"blank volume ({wood})": f"{volume:.2f}"}


def cut_list(box: Box, quantity: int = 1, saw_tilts: str = "left") -> CutList:
    """The cut list of a box, with its order of sawing.

    Parameters
    ----------
    box : Box
        The box.
    quantity : int
        How many like it, 1 or more.
    saw_tilts : str
        "left" or "right", the way the blade's top leans as the operator sees it.

    Returns
    -------
    CutList

    Raises
    ------
    ValueError
        For anything else.

    >>> import splaywork as sw
    >>> cuts = sw.cut_list(sw.Box(400, 300, 100, front_lean=10), quantity=2)
    >>> cuts.boards[0].name, round(cuts.boards[0].slant_width, 1)
    ('front', 101.5)
    """
    if not isinstance(box, Box):
        raise ValueError(f"A cut list is made for a Box, not for {checks.shown(box)}.")
    return _cut_list(box, checks.count("quantity", quantity), checks.choice("way that the saw tilts", saw_tilts, SAW_TILTS))


@lru_cache(maxsize=16)  # a panel asks for the same box as list, groups and changes at one move
def _cut_list(box, count, saw_tilts):
    boards = tuple(_board_cut(box, name) for name in NAMES)
    outside, inside = (tuple(math.hypot(size("front", height), size("right", height)) for height in (0.0, box.height))
                       for size in (box.outer_length, box.inside_length))
    order = _saw_order([(boards, count, 0)], saw_tilts)
    return CutList(boards, count, _groups(boards, count), order, saw_tilts, outside, inside)


def _board_cut(box, name):
    board, spare = box.boards[name], box.allowances
    sawn = board.in_board(board.blank)
    size = np.ptp(sawn.reshape(-1, 3), axis=0)
    blank = tuple(np.add(size, (2 * spare.end, 2 * spare.edge, spare.thickness)).tolist())
    left, right = board.in_board(board.baselines[1])[..., 0]  # on the inner face, each by rim
    outer = sawn[0, ..., :2]  # by end and rim
    diagonals = tuple(math.dist(outer[end, 0], outer[1 - end, 1]) for end in (0, 1))
    ends = tuple(_end(box, name, side) for side in ("left", "right"))
    return BoardCut(name, box.carries(name), box.lean(name), box.thickness_of(name), box.slant_width(name), blank,
                    box.outer_length(name), box.outer_length(name, box.height), *(outer[1] - outer[0])[:, 0].tolist(),
                    *(right - left).tolist(), diagonals, ends, box.lean(name) if box.rims == "level" else 0.0)


def _end(box, name, side):
    at = END_CORNERS[name][("left", "right").index(side)]
    corner = box.corners[at]
    kind, other = ("tail", corner.pin) if corner.tail == name else ("pin", corner.tail)
    return End(side, at, corner.corner.end_line(kind), corner.joint.sawn_bevel,
               corner.corner.baseline_offset(box.thickness_of(other)), corner.joint.tails, *proud(corner.joint, kind))


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


def _edge(angle):
    return "" if abs(angle) < SAME_SETTING else "top" if angle > 0 else "bottom"


def _other_edge(edge):
    return "top" if edge == "bottom" else "bottom"


def _away(way):
    """The side that a blade leans away from, where the wood that is kept lies: the face on the table is left shorter."""
    return "right" if way == "left" else "left"


def _settable(angle):
    """The angle, or 0 for one that no saw tells from it."""
    return angle if abs(angle) >= SAME_SETTING else 0.0


def _rip(board, edge, saw_tilts, item):
    """(tilt, 0, Cut) of one edge: the kept wood runs between blade and fence."""
    tilt = _settable(abs(board.rim_bevel))
    face = "outer" if tilt and (board.rim_bevel > 0) == (edge == "bottom") else "inner"
    return tilt, 0.0, Cut(board.name, f"{edge} edge", face, _other_edge(edge), _away(saw_tilts), "", item)


def _crosscut(board, end, saw_tilts, item):
    """(tilt, swing, Cut) of one end; swing: degrees of the mitre gauge, positive clockwise as seen from above.

    With the outer face down, the bottom edge against the mitre gauge and the top one away from the operator, the board's right
    end lies on the operator's left; each thing turned over swaps them. An upright blade takes either side: the outer face
    stays up, where the lines are, and the bottom edge lies against the mitre gauge.
    """
    if not (tilt := _settable(abs(end.end_bevel))):
        face, edge, kept = "inner", "bottom", _away(end.side)
    else:
        face, kept = "outer" if end.end_bevel > 0 else "inner", _away(saw_tilts)
        edge = "bottom" if (end.side == _away(kept)) == (face == "inner") else "top"
    swing = _settable(end.end_line) * (1 if (edge == "bottom") == (kept == "right") else -1)
    return tilt, swing, Cut(board.name, f"{end.side} end", face, edge, kept, _edge(end.end_line), item)


def job_saw_order(lists: list[CutList], saw_tilts: str = "left") -> tuple[SawStep, ...]:
    """The `SawStep`s of several `CutList`s together, each setting once; each `Cut` has its list's number, from 1."""
    return _saw_order([(cuts.boards, cuts.quantity, number) for number, cuts in enumerate(lists, 1)], saw_tilts)


def _saw_order(lots, saw_tilts):
    """Rips first, then ends; within each, each tilt once, and at each tilt each setting of the mitre gauge once.

    lots: (boards, how many boxes, number of their item).
    """
    rips = [(*_rip(board, edge, saw_tilts, item), quantity) for boards, quantity, item in lots for board in boards
            for edge in ("bottom", "top")]
    ends = [(*_crosscut(board, end, saw_tilts, item), quantity) for boards, quantity, item in lots for board in boards
            for end in board.ends]
    steps = []
    for kind, cuts in (("rip", rips), ("crosscut", ends)):
        for tilt, same_tilt in _settings(cuts, 0):
            swings = sorted(_settings(same_tilt, 1), key=lambda swing: (abs(swing[0]), swing[0]))
            for swing, made in swings:
                way = "" if not swing else "clockwise" if swing > 0 else "anticlockwise"
                steps.append(SawStep(kind, tilt, saw_tilts, abs(swing), way, tuple(cut for *_, cut, _ in made),
                                     sum(quantity for *_, quantity in made)))
    return tuple(steps)


def _settings(cuts, which):
    """(mean angle, cuts) for each setting that the cuts need; angles within 0.05° of a group's first are one."""
    groups = []
    for cut in sorted(cuts, key=operator.itemgetter(which)):
        if groups and cut[which] - groups[-1][0][which] < SAME_SETTING:
            groups[-1].append(cut)
        else:
            groups.append([cut])
    return [(float(np.mean([cut[which] for cut in group])), group) for group in groups]
