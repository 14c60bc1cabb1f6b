"""Wood for a plan: every blank that it takes, and how to saw them all from the boards that there are."""

import math
from collections import Counter
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from html import escape
from typing import NamedTuple

import numpy as np

from ..common import checks
from ..common.printing import length, lengths
from ..common.tolerances import ON_PLANE
from ..corner.words import series
from .cut_list import cut_list, wood_amounts
from .fittings import bottom_panel, trial_offcuts
from .plan import Plan, Stock

SHOT = 5.0  # mm that each strip of a glued blank is wider, to shoot its edges; common practice, no source
THINNER = 0.05  # mm that a board may be thinner than its blank: what is printed doesn't show it
WORTH_KEEPING = (150.0, 40.0)  # mm, length and width: smaller offcuts aren't named; our choice
MOST_STRIPS = 12  # that a blank is glued up from


class Blank(NamedTuple):
    """One piece of wood to saw: what it becomes, and its size in mm, grain along the length."""

    name: str
    length: float
    width: float
    thickness: float
    board: str = ""  # what it becomes, whichever copy it is: "1 front" for "1 front, copy 2 of 3"


def trial_corner(plan: Plan) -> tuple:
    """(item, name of the corner) that proves most: the one whose ends are sawn furthest out of square, or slant most."""
    def proves(found):
        corner = found[0].box.corners[found[1]].corner
        return abs(corner.end_bevel), abs(corner.tail_end_line) + abs(corner.pin_end_line)

    return max(((item, at) for item in plan.items for at in item.box.corners), key=proves)


def _bottom_blank(box):
    """(length, width, thickness) to saw a bottom of solid wood from, mm, grain from side to side, with the box's allowances."""
    panel, spare = bottom_panel(box), box.allowances
    wide, deep = np.ptp(panel.vertices[..., :2].reshape(-1, 2), axis=0).tolist()
    return wide + 2 * spare.end, deep + 2 * spare.edge, panel.thickness + spare.thickness


def trial_pieces(plan: Plan) -> tuple:
    """The two `fittings.Offcut`s of the trial corner that proves most, with their item."""
    item, at = trial_corner(plan)
    return item, tuple(piece for piece in trial_offcuts(item.box) if at == piece.corner or at in piece.equal)


def blanks(plan: Plan) -> tuple[Blank, ...]:
    """Every `Blank` that a `Plan` takes: boards, show fronts and bottoms of solid wood, and the two pieces of one trial corner.

    A bottom that can't be made is left out. Runners, kickers and guides aren't among them: they come from
    offcuts, and are fitted to the finished drawer.
    """
    checks.instance("plan", plan, Plan, "load_plan('drawers.json')")
    found = []
    for number, item in enumerate(plan.items, 1):
        sizes = [(board.name, board.blank) for board in cut_list(item.box).boards]
        if item.fit and item.fit.show_front:
            sizes.append(("show front", item.fit.show_front.blank))
        if item.box.bottom.wood is not None:
            with suppress(ValueError):
                sizes.append(("bottom", _bottom_blank(item.box)))
        for copy in range(1, item.quantity + 1):
            which = f", copy {copy} of {item.quantity}" if item.quantity > 1 else ""
            found += [Blank(f"{number} {name}{which}", long, wide, thick, f"{number} {name}")
                      for name, (long, wide, thick) in sizes]
    item, pieces = trial_pieces(plan)
    blanks = {board.name: board.blank for board in cut_list(item.box).boards}
    return (*found, *(Blank(f"trial corner, {piece.board}", piece.length, *blanks[piece.board][1:]) for piece in pieces))


class Placed(NamedTuple):
    """A blank on a board: `x` mm from the board's left end, `y` mm up its width."""

    blank: Blank
    x: float
    y: float


class Rest(NamedTuple):
    """An offcut that is worth keeping, named, and where it lies on its board, mm."""

    name: str
    x: float
    y: float
    length: float
    width: float


@dataclass(frozen=True)
class SawnBoard:
    """One board of the stock and what is sawn from it. sections: from the left end, each a tuple of `Placed`, all sawn off
    together by one crosscut and then ripped apart."""

    number: int
    stock: Stock
    sections: tuple
    kerf: float

    @property
    def placed(self) -> tuple:
        """Every `Placed` of the board, in the order of sawing."""
        return tuple(placed for section in self.sections for placed in section)

    @property
    def rests(self) -> tuple:
        """The `Rest`s that are left, those large enough."""
        found, end = [], 0.0
        for section in self.sections:
            long = max(placed.blank.length for placed in section)
            top = max(placed.y + placed.blank.width for placed in section) + self.kerf
            found.append((section[0].x, top, long, self.stock.width - top))
            found += [(placed.x + placed.blank.length + self.kerf, placed.y, long - placed.blank.length - self.kerf,
                       placed.blank.width) for placed in section]
            end = section[0].x + long + self.kerf
        found.append((end, 0.0, self.stock.length - end, self.stock.width))
        kept = [rest for rest in found if rest[2] >= WORTH_KEEPING[0] and rest[3] >= WORTH_KEEPING[1]]
        return tuple(Rest(f"offcut {self.number}.{number}", *rest) for number, rest in enumerate(kept, 1))

    def words(self, unit: str = "mm") -> list[str]:
        """How to saw it, in order, as sentences; lengths in "mm" or "in"."""
        said = [f"Board {self.number}, {lengths((self.stock.length, self.stock.width, self.stock.thickness), unit)}."]
        for section in self.sections:
            long = max(placed.blank.length for placed in section)
            pieces = _pieces_words(section, self.stock.thickness, unit)
            said.append(f"Saw off {length(long, unit)}, and rip it into {pieces}." if len(section) > 1 else
                        f"Saw off {length(long, unit)} for {pieces}.")
        if self.rests:
            rests = [f"{rest.name} ({lengths(rest[3:], unit)})" for rest in self.rests]
            said.append(f"Keep {series(rests)}.")
        return said


@dataclass(frozen=True, repr=False)
class StockPlan:
    """Which blank is sawn from which board. boards: `SawnBoard`s. glued: (`Blank`, strips): those that are glued up from
    several. missing: `Blank`s for which there is no wood. to_buy: `Stock`s that would do for those. kerf: mm.
    """

    boards: tuple
    glued: tuple
    missing: tuple
    to_buy: tuple
    kerf: float

    def __repr__(self) -> str:
        return f"StockPlan({len(self.boards)} boards, {self.waste:.0%} waste, {len(self.missing)} blanks missing)"

    def _repr_html_(self) -> str:
        return "".join(f"<p>{escape(' '.join(part))}</p>" for part in (*(board.words() for board in self.boards),
                                                                       self.words()))

    @property
    def area(self) -> int:
        """Face of the boards that are sawn, mm²."""
        return sum(board.stock.length * board.stock.width for board in self.boards)

    @property
    def waste(self) -> float:
        """Share of the sawn boards' face that becomes no blank, offcuts included; 0 where nothing is sawn."""
        sawn = sum(placed.blank.length * placed.blank.width for board in self.boards for placed in board.placed)
        return 1 - sawn / self.area if self.area else 0.0

    @property
    def least_waste(self) -> float:
        """What `waste` can't be less than: by their face alone, the blanks of each thickness need so many of its boards."""
        least = 0.0
        for _, boards in _by_thickness([board.stock for board in self.boards]):
            faces = {board.length * board.width for board in boards}
            wanted = sum(placed.blank.length * placed.blank.width for board in self.boards for placed in board.placed
                         if round(board.stock.thickness, 2) == round(boards[0].thickness, 2))
            least += math.ceil(wanted / max(faces) - ON_PLANE) * max(faces) if len(faces) == 1 else max(wanted, min(faces))
        return 1 - (1 - self.waste) * self.area / least if least else 0.0

    def _glued(self, unit):
        """"2 strips of …" -> names of the blanks that are glued up from those, copies together."""
        found = {}
        for blank, strips in self.glued:
            names = found.setdefault(f"{len(strips)} strips of {lengths(strips[0][1:3], unit)}", {})
            names.setdefault(blank.board or blank.name, []).append(blank)
        return {strips: [_glued_name(name, len(copies)) for name, copies in names.items()] for strips, names in found.items()}

    def words(self, unit: str = "mm") -> list[str]:
        """What it comes to, as sentences: boards, waste, what is glued up, what is missing; lengths in "mm" or "in"."""
        (area, face), _ = wood_amounts(self.area / 1e6, 0.0, unit)
        said = []
        if self.boards:
            count = f"{len(self.boards)} board{'s' * (len(self.boards) > 1)}"
            pieces = sum(len(board.placed) for board in self.boards)
            said.append(f"{count} give{'s' * (len(self.boards) == 1)} {pieces} pieces from {area:.2f} {face}.")
            said.append(f"Of that, {self.waste:.0%} becomes offcuts and sawdust; by their faces alone, "
                        f"{self.least_waste:.0%} must.")
        for strips, names in self._glued(unit).items():
            said.append(f"Glue up {series(names)} from {strips}, because no board is wide enough.")
        for thickness, pieces in _by_thickness(self.missing):
            (area, face), _ = wood_amounts(sum(piece.length * piece.width for piece in pieces) / 1e6, 0.0, unit)
            longest, widest = (max(getattr(piece, side) for piece in pieces) for side in ("length", "width"))
            said.append(f"Wood is missing for {len(pieces)} blank{'s' * (len(pieces) > 1)} {length(thickness, unit)} thick: "
                        f"{area:.2f} {face}, up to {length(longest, unit)} long and {length(widest, unit)} wide.")
        said += [f"Buy {stock.count} more of {lengths((stock.length, stock.width, stock.thickness), unit)}."
                 for stock in self.to_buy]
        return said


def _glued_name(name, copies):
    """What is glued up: "each bottom of item 1", "the bottom of item 1", "the left's piece of the trial corner"."""
    number, _, board = name.partition(" ")
    if number.isdigit():
        side = " side" * (board in ("left", "right"))
        return f"{'each' if copies > 1 else 'the'} {board}{side} of item {number}"
    return f"the {name.removeprefix('trial corner, ')}'s piece of the trial corner"


def _pieces_words(section, thickness, unit):
    """What a section of a board becomes: names and sizes, and what has to be planed thinner."""
    said = []
    for blank in (placed.blank for placed in section):
        thick = f", planed to {length(blank.thickness, unit)}" if thickness - blank.thickness > THINNER else ""
        said.append(f"{blank.name} ({lengths(blank[1:3], unit)}{thick})")
    return series(said)


def _by_thickness(pieces):
    found = {}
    for piece in pieces:
        found.setdefault(round(piece.thickness, 2), []).append(piece)
    return sorted(found.items())


def stock_plan(plan: Plan, stock: Sequence[Stock] | None = None, kerf: float | None = None) -> StockPlan:
    """The `StockPlan` that saws a `Plan`'s blanks from boards, grain along the length.

    stock: `Stock`s owned, or to choose from; None, those of the plan. kerf: of the saw, mm, lost at every cut; None, the
    plan's. Each board is crosscut into sections, and a section ripped into blanks: longest first, each where it leaves
    least. A blank is sawn from the thinnest boards that are thick enough; one that is wider than all of them is glued up from
    strips. ValueError, in one sentence, for what is no plan, no stock or no kerf.

    >>> import splaywork as sw
    >>> plan = sw.Plan("drawers", (sw.Item("deep", sw.Box(400, 300, 100)),))
    >>> sw.stock_plan(plan, stock=(sw.Stock(2000, 150, 12, count=2),))
    StockPlan(1 boards, 41% waste, 0 blanks missing)
    """
    wanted = blanks(plan)
    stock = plan.stock if stock is None else (stock,) if isinstance(stock, Stock) else stock
    if not isinstance(stock, (list, tuple)) or not all(isinstance(board, Stock) for board in stock):
        raise ValueError(f"The stock must be a list of Stock(…), such as [Stock(2400, 150, 12)], not {checks.shown(stock)}.")
    kerf = plan.kerf if kerf is None else checks.amount("kerf of the saw", kerf)
    yard = _Yard(stock, kerf)
    glued, missing = [], []
    for blank in sorted(wanted, key=lambda blank: (-blank.length, -blank.width)):
        strips = yard.strips(blank)
        if not strips or not yard.place(strips):
            missing.append(blank)
        elif len(strips) > 1:
            glued.append((blank, strips))
    boards = tuple(SawnBoard(number, board.stock, tuple(map(tuple, board.sections)), kerf)
                   for number, board in enumerate(yard.started(), 1))
    return StockPlan(boards, tuple(glued), tuple(missing), _to_buy(missing, stock, kerf), kerf)


class _Open:
    """A board that is being filled: sections of `Placed`, and what is left of its length."""

    def __init__(self, stock):
        self.stock, self.sections, self.end = stock, [], 0.0


class _Yard:
    """The boards there are, and where blanks go."""

    def __init__(self, stock, kerf):
        self.kerf = kerf
        self.boards = [_Open(board) for board in stock for _ in range(board.count)]

    def started(self):
        return [board for board in self.boards if board.sections]

    def _fit(self, blank):
        """The boards that are thick enough, the thinnest first."""
        thick = [board for board in self.boards if board.stock.thickness >= blank.thickness - THINNER]
        return sorted(thick, key=lambda board: board.stock.thickness)

    def strips(self, blank):
        """The blank alone, or the strips that it is glued up from where no board is wide enough; none where nothing helps."""
        boards = [board for board in self._fit(blank) if board.stock.length >= blank.length - ON_PLANE]
        if not boards:
            return ()
        widest = max(board.stock.width for board in boards)
        if blank.width <= widest + ON_PLANE:
            return (blank,)
        for count in range(2, MOST_STRIPS + 1):
            wide = blank.width / count + SHOT
            if wide <= widest:
                return tuple(blank._replace(name=f"{blank.name}, strip {number} of {count}", width=wide)
                             for number in range(1, count + 1))
        return ()

    def place(self, pieces):
        """Whether all pieces found a place; if not, none was taken."""
        before = [(board, [list(section) for section in board.sections], board.end) for board in self.boards]
        if all(self._place(piece) for piece in pieces):
            return True
        for board, sections, end in before:
            board.sections, board.end = sections, end
        return False

    def _place(self, blank):
        best = None
        for order, board in enumerate(self._fit(blank)):
            too_thick = board.stock.thickness
            for section in board.sections:
                long = section[0].blank.length
                y = section[-1].y + section[-1].blank.width + self.kerf
                if blank.length <= long + ON_PLANE and y + blank.width <= board.stock.width + ON_PLANE:
                    best = min(best or (math.inf,), (too_thick, 0, long - blank.length, order, board, section, y),
                               key=lambda place: place[:4])
            x = board.end + (self.kerf if board.sections else 0.0)
            if x + blank.length <= board.stock.length + ON_PLANE and blank.width <= board.stock.width + ON_PLANE:
                left = (board.stock.length - x - blank.length, board.stock.width - blank.width)
                best = min(best or (math.inf,), (too_thick, 1 if board.sections else 2, left[1] * board.stock.length + left[0],
                                                 order, board, None, x), key=lambda place: place[:4])
        if best is None:
            return False
        *_, board, section, at = best
        if section is None:
            board.sections.append([Placed(blank, at, 0.0)])
            board.end = at + blank.length
        else:
            section.append(Placed(blank, section[0].x, at))
        return True


def _to_buy(missing, stock, kerf):
    """How many more of the largest boards of each thickness would do for what is missing; only of sizes in the stock."""
    bought = Counter()
    for _, pieces in _by_thickness(missing):
        fitting = [board for board in stock if board.thickness >= pieces[0].thickness - THINNER
                   and board.length >= max(piece.length for piece in pieces)]
        if not fitting:
            continue
        board = min(fitting, key=lambda board: (board.thickness, -board.length * board.width))
        yard = _Yard([Stock(board.length, board.width, board.thickness, min(1000, 4 * len(pieces)))], kerf)
        if all(yard.place(yard.strips(piece)) for piece in pieces):
            bought[board.length, board.width, board.thickness] += len(yard.started())
    return tuple(Stock(*size, count) for size, count in bought.items())
