"""The sheets of one box of a plan: its list, its saw settings, what else it needs, its boards and its corners."""

from collections.abc import Iterator, Sequence
from functools import cached_property, partial
from typing import TYPE_CHECKING

import numpy as np

from ..common.printing import UNIT_WORDS, degrees, from_edge, length, lengths, offset
from ..common.tolerances import SAME_SETTING
from ..corner.words import capital, lean_words, series
from ..drawing.layout import lay_out
from ..drawing.page import BenchPages, fact_items
from ..drawing.paper import Picture
from ..joint.bench_steps import procedure
from ..joint.cards import bevel_card, procedure_card
from ..joint.templates import LONGEST, wrap_template
from ..joint.words import board_end, lettered_settings, setting_rows, used_for
from .bench_card_sheets import Cards
from .box import NAMES
from .cut_list import CAUTIONS, SAW_WORDS, cut_list, wood_amounts
from .fittings import bottom_panel, offcut_length, trial_offcuts, wedge_cauls
from .picture import BoxView
from .pieces import BoxPieces
from .sheet_drawings import beside, board_face, flat_surfaces, signed

if TYPE_CHECKING:
    from ..joint.joint import Joint
    from .box import Box
    from .cut_list import BoardCut, CutList
    from .plan import Item, Plan
    from .settings import JobSettings

FACTS_WIDE = 62.0  # mm, the corner's angles
BOX_TALL = 115.0  # mm, the picture of the box
TURNS = {"front left": -30.0, "front right": 30.0, "back right": 150.0, "back left": -150.0}  # of the view, degrees
MOST_SHEETS = 24  # of a template that are pasted together
_SAW_TABLE = (("", 0.4, "left"), ("blade", 1.3, "left"), ("mitre gauge", 1.6, "left"), ("cuts", 5, "left"),
              ("in all", 0.7, "right"))
_GAUGE_TABLE = (("", 0.4, "left"), ("from edge", 1.1, "left"), ("slope", 4.3, "left"), ("for", 4.4, "left"))


def leans_words(box: "Box") -> str:
    """The leans of all four boards as one phrase."""
    return ", ".join(f"{name} {lean_words(box.lean(name))}" for name in ("front", "back", "left", "right"))


class ItemSheets:
    """All pages of one item of a plan, by part: read `parts`, a list of (kind of sheet, which, pages).

    carded: joint -> name of the item that has its cards already; equal cards are printed once.
    """

    def __init__(self, plan: "Plan", item: "Item", paper: str, unit: str, settings: "JobSettings",
                 carded: "dict[Joint, str]") -> None:
        self.carded = carded
        self.plan, self.item, self.box, self.paper, self.unit = plan, item, item.box, paper, unit
        self.settings = settings
        lengths_in = unit if unit == "mm" else UNIT_WORDS[unit]
        self.foot = (f"Lengths in {lengths_in}, angles in degrees  ·  left and right as seen from outside, top edge up"
                     f"  ·  not to scale  ·  {plan.name}")
        self.list = cut_list(item.box, item.quantity, plan.saw_tilts)
        self.boards = {board.name: board for board in self.list.boards}
        self.parts: list[tuple] = []

    def _pages(self, title, under=""):
        pages = BenchPages(self.paper, self.item.name, self.foot)
        pages.begin(title, under)
        return pages

    def _keep(self, kind, which, pages):
        self.parts.append((kind, which, pages.pages() if isinstance(pages, BenchPages) else pages))

    def draw(self, wanted: tuple[str, ...] = ("lists", "boards", "corners", "templates", "cards")) -> list[tuple]:
        """The parts that are wanted, in the order in which they are needed at the bench."""
        if "lists" in wanted:
            self._overview()
            self._cut_list()
            self._saw_order()
            self._fittings()
        for part, draw, groups in (("boards", self._board, self.distinct_boards),
                                   ("corners", self._corner, self.distinct_corners),
                                   ("templates", self._templates, self.distinct_corners),
                                   ("cards", self._cards, self.distinct_joints)):
            for names in groups() if part in wanted else ():
                draw(names)
        if "bench cards" in wanted:
            number = 1 + next(place for place, item in enumerate(self.plan.items) if item is self.item)
            self._keep("bench card", "all boards", Cards(self.plan, self.paper, self.unit).card(number))
        return self.parts

    # Which match.

    def distinct_boards(self) -> list[list[str]]:
        """Tuples of names of boards that are equal."""
        groups: list[list[str]] = []
        for board in self.list.boards:
            same = next((group for group in groups if board.equals(self.boards[group[0]])), None)
            if same is None:
                groups.append([board.name])
            else:
                same.append(board.name)
        return groups

    def distinct_corners(self) -> list[list[str]]:
        """Lists of names of corners that are equal: the same joint, laid out the same way round."""
        return self._grouped(lambda corner: (corner.joint, corner.mirrored))

    def distinct_joints(self) -> list[list[str]]:
        """Lists of names of corners with the same joint, mirrored or not."""
        return self._grouped(lambda corner: corner.joint)

    def _grouped(self, key):
        groups = {}
        for name, corner in self.box.corners.items():
            groups.setdefault(key(corner), []).append(name)
        return list(groups.values())

    def joint(self, at: str) -> "Joint":
        """The joint at a corner, its bevel settings called by the letters of the whole job."""
        return self.box.corners[at].joint.lettered(self.settings.pairs)

    # The pages.

    def _overview(self):
        box, unit = self.box, self.unit
        pages = self._pages(self.item.name, f"Make {self.item.quantity}. Seen from the front left.")
        pages.facts([(f"width, {box.measured}", length(box.width, unit), "along the front"),
                     (f"depth, {box.measured}", length(box.depth, unit), "front to back"),
                     ("height", length(box.height, unit), "plumb, rim to rim")])
        pages.table([("board", 1, "left"), ("leans", 2, "left"), ("thickness", 1.4, "left"), ("carries", 1, "left"),
                     ("slant width", 1.6, "left")],
                    [(name, lean_words(box.lean(name)), length(box.thickness_of(name), unit), box.carries(name),
                      length(box.slant_width(name), unit))
                     for name in ("front", "back", "left", "right")])
        pages.picture(self._draw_box, BOX_TALL)
        pages.skip(4)
        pages.heading("Which boards match")
        pages.points([group.words for group in self.list.groups])
        pages.points([diagonal_words(self.list, unit)])
        pages.points([f"The {series(names)} corners are equal." for names in self.distinct_corners() if len(names) > 1])
        self._keep("lists", "overview", pages)

    def _cut_list(self):
        pages = self._pages("Cut list", f"For {self.item.quantity} equal boxes. End lines: degrees from square, + where "
                            "the board is longer at the top. End bevels: + where the inner face is left longer.")
        rows = self.list.rows(self.unit)
        pages.table([(column, 1 if number else 1.7, "left") for number, column in
                     enumerate(["", *(row["board"] for row in rows)])],
                    [(column, *(row[column].replace("-", "−") for row in rows)) for column in rows[0]
                     if column != "board"])
        pages.points([group.words for group in self.list.groups])
        (area, face), (volume, wood) = wood_amounts(self.list.area, self.list.volume, self.unit)
        pages.write(f"All blanks together: {area:.3f} {face} of face, {volume:.2f} {wood} of wood.")
        self._keep("lists", "cut list", pages)

    def _saw_order(self):
        pages = self._pages("Order of sawing", "Each setting once, with every cut that needs it.")
        pages.write(SAW_WORDS)
        for kind, what in (("rip", "Rip the edges, along the fence"), ("crosscut", "Saw the ends, against the mitre gauge")):
            pages.heading(what)
            pages.table(_SAW_TABLE, list(saw_rows(self.list.saw_order, kind)), bold=(0, 1, 2), size=10)
        pages.heading("Cautions")
        pages.points(CAUTIONS, size=8)
        self._keep("lists", "order of sawing", pages)

    def _fittings(self):
        box, unit = self.box, self.unit
        pages = self._pages("Bottom, cauls and offcuts")
        pages.heading("Bottom panel")
        try:
            panel = bottom_panel(box, fit=self.item.fit)
        except ValueError as wrong:
            pages.write(f"None with the usual sizes: {wrong}")
        else:
            pages.facts([("thickness", length(panel.thickness, unit), f"its lower face {length(panel.up, unit)} up, plumb"),
                         ("lower face", lengths(panel.below, unit), "width × depth"),
                         ("upper face", lengths(panel.above, unit), "width × depth")])
            pages.table([("board", 1, "left"), ("panel's edge", 1.5, "left"), ("groove, up the face", 1.7, "left"),
                         ("width", 1.4, "left"), ("depth", 1.4, "left"), ("walls", 1.3, "left"),
                         ("past the baselines", 2.6, "left")],
                        [(name, signed(panel.edge_bevels[name]), length(groove.up_face, unit),
                          length(groove.width, unit), length(groove.depth, unit), signed(groove.wall_angle),
                          ", ".join(length(past, unit) for past in groove.past_baselines))
                         for name, groove in panel.grooves.items()], size=8)
            pages.write("Angles out of square: + on an edge, the upper face is the larger; + on a wall, it rises on its "
                        "way into the wood. Past the baselines, where a groove stops: left, right.")
            pages.points([*panel.end_words(unit), *panel.fitting_words(unit), *panel.warnings(unit)])
        cauls = wedge_cauls(box)
        if cauls:
            pages.heading("Wedge cauls for gluing up")
            pages.table([("board", 1, "left"), ("angle", 1, "left"), ("length", 1.4, "left"), ("thin edge", 1.4, "left"),
                         ("thick edge", 1.4, "left"), ("how", 4, "left")],
                        [(caul.board, degrees(caul.angle), length(caul.length, unit), length(caul.thin, unit),
                          length(caul.thick, unit), caul.words) for caul in cauls])
        pages.heading("Offcuts to keep for trial corners")
        pages.table([("board", 1, "left"), ("corner", 1.5, "left"), ("length", 1.4, "left"),
                     ("stands also for", 3, "left")],
                    [(offcut.board, offcut.corner, length(offcut.length, unit), series(offcut.equal or "–"))
                     for offcut in trial_offcuts(box)])
        longer = [(offcut_length(box, name), name) for name in self.boards]
        longer = series([f"{length(more, unit)} ({name})" for more, name in longer if more])
        pages.write("Saw each from its own blank, full width and thickness. Leave one blank of each longer by "
                    f"{longer}, and saw kerfs.")
        self._keep("lists", "bottom, cauls and offcuts", pages)

    def _board(self, names):
        box, unit, cut = self.box, self.unit, self.boards[names[0]]
        mirrors = [other.name for other in self.list.boards if other.name not in names and cut.mirrors(other)]
        said = [f"Make {len(names) * self.item.quantity}", f"carries {cut.carries}", lean_words(cut.lean),
                f"{length(cut.thickness, unit)} thick"]
        said += [f"mirror image of the {series(mirrors)} board"] if mirrors else []
        pages = self._pages(f"{capital(series(names))} board{'s' * (len(names) > 1)}", "  ·  ".join(said))
        for face, words in (("outer", "Outer face: this side out, as seen from outside"),
                            ("inner", "Inner face, as seen from inside: between the baselines")):
            items, tall = board_face(box, [self.boards[name] for name in names], face, pages.width, unit)
            pages.heading(words, keep=tall)
            pages.place(items, tall)
        pages.facts([("saw the blank", lengths(cut.blank, unit), "length × width × thickness, allowances included"),
                     ("rip both rims", *_rims(cut))], columns=2)
        pages.table([("", 1.1, "left"), ("end line, from square", 1.6, "left"), ("bevel", 2.6, "left"),
                     ("end bevel", 2.4, "left"), ("baseline, from end line", 1.4, "left")],
                    [(f"{end.side} end", signed(end.end_line), _gauge(end.end_line, unit), _bevel(end.end_bevel),
                      length(end.baseline, unit)) for end in cut.ends])
        pages.points([*proud_words(cut, unit), face_diagonal_words(cut, unit)])
        self._keep("boards", series(names), pages)

    def _corner(self, names):
        unit, corner = self.unit, self.box.corners[names[0]]
        joint, hand = self.joint(names[0]), _hand(corner)
        pages = self._pages(f"{capital(series(names))} corner{'s' * (len(names) > 1)}",
                            f"{capital(corner.tail)} board: tails, {corner.pin} board: pins. As you face the corner "
                            f"from outside, the tail board is on your {hand}.")
        items, tall = self._corner_facts(joint.corner)
        pages.place([*items, self._picked(names[0], tall, pages.width)], tall)
        half, drawn = pages.width / 2, []
        for board in ("tail", "pin"):
            title = f"{board.capitalize()} board: {getattr(corner, board)}, {board_end(board, hand)} end"
            drawn.append(flat_surfaces(joint, board, title, corner.mirrored, half - 5))
        (tails, tall), (pins, other) = drawn
        pages.place([*tails, *beside(pins, (half + 5, 0))], max(tall, other))
        pages.heading("Bevel settings")
        if settings := lettered_settings(joint):
            rows = [(letter, degrees(setting.from_edge), setting_rows(setting, unit)[1], "; ".join(used_for(setting)))
                    for letter, setting in settings.items()]
            pages.table(_GAUGE_TABLE, rows, size=8.5, bold=(0, 1))
        else:
            pages.write("A square strikes every line.")
        pages.heading("Tails")
        pages.write("Marks on the tail board's outer face, along the end line but measured square up from its bottom "
                    "edge.")
        pages.facts([(f"tail {number}", f"{length(low, unit)} – {length(high, unit)}", "")
                     for number, (low, high) in enumerate(joint.marks, 1)], columns=4, size=10)
        self._keep("corners", series(names), pages)

    @cached_property
    def _pieces(self):
        """The box's pieces, for all its pictures."""
        return BoxPieces.of(self.box)

    def _draw_box(self, canvas, picked=None):
        """The box, as large as the canvas, with its picked corner towards the viewer; from the front left if none is."""
        view = BoxView(canvas, (0, 0, canvas.width, canvas.height), self._pieces)
        view.update(self.box, turn=TURNS[picked or "front left"], picked=picked)

    def _picked(self, name, tall, width):
        """The box with one corner marked, beside the corner's angles."""
        return Picture(partial(self._draw_box, picked=name), np.array([[FACTS_WIDE + 4, -tall], [width, 0]]))

    def _corner_facts(self, corner):
        """The corner's three angles, one under another, and how tall they are."""
        items, y = [], 0.0
        facts = [(f"{board} board's end line", signed(corner.end_line(board)), _gauge(corner.end_line(board), self.unit))
                 for board in ("tail", "pin")]
        facts.append(("end bevel", signed(corner.end_bevel), f"faces meet at {degrees(corner.dihedral)}"))
        for fact in facts:
            own, tall = fact_items(*fact, FACTS_WIDE, 15)
            items += beside(own, (0, y))
            y -= tall + 3
        return items, -y

    def _templates(self, names):
        corner = self.box.corners[names[0]]
        pages = []
        for board in ("tail", "pin"):
            (drawing,) = wrap_template(self.joint(names[0]), board, _hand(corner), name=self._short(names), unit=self.unit)
            pages += self._on_paper(drawing, f"{board} board")
        self._keep("wrap templates", series(names), pages)

    def _on_paper(self, drawing, what):
        wide, high = drawing.extent[1] - drawing.extent[0]
        if wide * high > MOST_SHEETS * 150 * 200:
            pages = self._pages(drawing.title)
            pages.write(f"At true scale this template is {wide:.0f} × {high:.0f} mm, too large to paste together: lay "
                        f"the {what} out by the corner's sheet.")
            return pages.pages()
        return list(lay_out(drawing, self.paper))

    def _cards(self, names):
        first = self.carded.setdefault(self.box.corners[names[0]].joint, self.item.name)
        if first != self.item.name:
            self._keep("bevel and procedure cards", f"{_corners(names)}, as of {first}", [])
            return
        joint, name = self.joint(names[0]), self._short(names)
        pages = [page for drawing in bevel_card(joint, name, self.unit) for page in lay_out(drawing, self.paper)]
        try:
            pages += [page for card in procedure_card(joint, name, self.unit) for page in lay_out(card, self.paper)]
        except ValueError:  # too many tails for two pages
            steps = self._pages("Procedure")
            for number, (heading, text) in enumerate(procedure(joint, self.unit), 1):
                steps.heading(f"{number}  {heading}")
                steps.write(text)
            pages += steps.pages()
        self._keep("bevel and procedure cards", _corners(names), pages)

    def _short(self, names):
        """The box's and the corners' name, as short as a template's has to be."""
        corner = f", {_corners(names)}"
        room = LONGEST - len(corner)
        name = self.item.name
        return (name if len(name) <= room else f"{name[:room - 1].rstrip()}…") + corner


def _hand(corner):
    return "left" if corner.mirrored else "right"


def _corners(names):
    return "all corners" if len(names) == len(NAMES) else series(names)


def saw_rows(steps: Sequence, kind: str) -> Iterator | Iterator[tuple[str, ...]]:
    """Rows of `_SAW_TABLE` for the steps of one kind: number, blade, mitre gauge, how the wood lies and its cuts, count."""
    for number, step in enumerate(steps, 1):
        if step.kind == kind:
            tilt = degrees(step.blade_tilt)
            blade = f"{tilt} {step.saw_tilts}" if step.blade_tilt else "upright"
            gauge = f"{degrees(step.mitre_gauge)} {step.gauge_swing}" if step.gauge_swing else "square"
            gauge = "–" if kind == "rip" else gauge
            cuts = "; ".join(f"{way}: {series([cut.name for cut in made])}" for way, made in step.ways.items())
            yield str(number), blade, gauge, capital(cuts), str(step.count)


def diagonal_words(cuts: "CutList", unit: str) -> str:
    """How long both diagonals of each rim are when the box is square."""
    (low, high), (inside, above) = ([length(each, unit) for each in pair]
                                    for pair in (cuts.rim_diagonals, cuts.inside_diagonals))
    return (f"Both diagonals are {low} over the bottom rim and {high} over the top rim, from outer arris to outer arris; "
            f"inside, between the inner faces, they are {inside} and {above}.")


def face_diagonal_words(cut: "BoardCut", unit: str) -> str:
    """How long the diagonals of a `BoardCut`'s sawn outer face are."""
    left, right = (length(each, unit) for each in cut.diagonals)
    return f"The outer face, as sawn, measures {left} from the bottom left corner and {right} from the bottom right one."


def proud_words(cut: "BoardCut", unit: str) -> list:
    """A sentence for each square end of a `BoardCut` that stands proud: where to saw it."""
    ends: dict[tuple[str, str], list[str]] = {}
    for end in cut.ends:
        if end.proud:
            ends.setdefault((length(end.proud, unit), end.proud_face), []).append(end.side)
    said = [f"Saw the {series(sides)} end{'s' * (len(sides) > 1)} {proud} outside the end line, measured on the {face} face "
            f"square to that line. Plane the end{'s' * (len(sides) > 1)} flush when the box is together."
            for (proud, face), sides in ends.items()]
    if said and cut.sawn_bottom - cut.outer_bottom > SAME_SETTING:
        said.append(f"Sawn so, the outer face is {length(cut.sawn_bottom, unit)} long at the bottom and "
                    f"{length(cut.sawn_top, unit)} at the top.")
    return said


def _gauge(angle, unit):
    if abs(angle) < SAME_SETTING:
        return "a square"
    return f"{from_edge(abs(angle))}, {offset(abs(angle), unit)}"


def _bevel(angle):
    if abs(angle) < SAME_SETTING:
        return "square to the face"
    return f"{degrees(abs(angle))} out of square, inner face left {'longer' if angle > 0 else 'shorter'}"


def _rims(cut):
    """How the rims are ripped: the angle, and which way."""
    if abs(cut.rim_bevel) < SAME_SETTING:
        return "square", "to the faces"
    bottom, top = ("inner", "outer") if cut.rim_bevel > 0 else ("outer", "inner")
    return (f"{degrees(abs(cut.rim_bevel))} out of square",
            f"{bottom} face longer at the bottom, {top} face at the top")
