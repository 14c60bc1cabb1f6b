"""In wood: the kit of each notebook for so many pairs of learners, with its wedges at true scale; a page or two as PDF."""

from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from ..box.box import Box
from ..common import checks
from ..common.boards import BOARDS
from ..common.kinds import FilePath
from ..common.printing import degrees, intended, length, lengths
from ..common.wedges import FLAT_TOP, pair_width, wedge_side
from ..corner.corner import Corner
from ..corner.words import series
from ..drawing.page import numbered
from ..drawing.paper import Area, Label, Stroke
from ..drawing.print_file import save_pages
from ..joint.words import CAUTIONS
from ..one_gauge.one_gauge import OneGauge
from .draw_on_sheets import Sheet
from .handout_sheets import TITLES
from .scripts import script
from .scripts.core import OURS

if TYPE_CHECKING:
    from ..drawing.paper import Page

TYPE = 11.0  # points
MOST_PAIRS = 40
HEIGHT, LONG, THICK = 90.0, 200.0, 18.0  # mm: of the corner, of each offcut, and of the stock; common practice, no source
ROOM = 120.0  # mm: height of a corner that the room is shown, as tall as on the panels, so that both have the same gaps
PRINTED = 180.0  # mm: a wedge that is larger, either way, isn't drawn
BETWEEN = 4.5  # mm between two drawings: the three wedges of a kit stand in one row


@cache
def paper_box() -> Box:
    """The paper boxes of lesson 07, as tall as the box on its panel, so that the strip's marks are the panel's heights."""
    return Box(160, 160, ROOM, front_lean=40, back_lean=40, left_lean=40, right_lean=40)


@dataclass(frozen=True)
class Kit:
    """What one pair of learners needs. leans: (tail, pin) degrees of each corner that is shown or cut. bevels: a pair.
    minutes: to prepare one pair's wood; shared: what the whole room needs once. more: other things for each pair. room:
    leans of corners that the teacher shows; shortcut: they are sawn to the shortcut lines; before: minutes for what the room
    needs."""

    leans: tuple
    bevels: int
    minutes: int
    more: tuple = ()
    shared: tuple = ()
    room: tuple = ()
    shortcut: bool = False
    before: int = 0


_TO_CUT = "a fine saw, a plane and a vice", "a flat board", "eye protection for both"

KITS = {
    "01": Kit(((0, 0),), 1, 6, ("a try square", "a pencil", *_TO_CUT)),
    "02": Kit(((16, 0),), 1, 12, ("a try square", "a pencil", "two clamps", *_TO_CUT)),
    "03": Kit(((0, 11),), 1, 12, ("a try square", "a pencil", "two clamps", *_TO_CUT)),
    "04": Kit(((16, 11),), 2, 15, ("a straightedge pared to a point", "a pencil", "a knife", "four clamps"),
              ("a bevel, a straightedge 140 mm long, a rule, a try square, a red pencil, four clamps",), ((30, 30),),
              before=15),
    "05": Kit(((16, 11),), 2, 20, ("a straightedge pared to a point", "four clamps", "a bench card",
              "scrap to draw angles on", *_TO_CUT)),
    "06": Kit(((16, 11),), 1, 30, ("slips of paper", "a rule", "a try square"),
              ("a corner sawn right, and three sawn wrong in one way each", "a flat board")),
    "07": Kit((), 0, 0, (), ("two bevels and two offcuts", "two paper boxes at 40°", "their four wedges and height strip",
                             "four clamps and a white card", "a cloth and an empty carton", "winding sticks",
                             "a drawer's side, to twist, and a clamp"), ((28, 24),), True, 150),
    "08": Kit((), 0, 5, ("slips of paper",), ("a corner that closes well, and one that doesn't",)),
    "09": Kit(((16, 11),), 2, 25, ("a template", "scissors and tape", *_TO_CUT),
              ("one offcut with a square end",)),
    "10": Kit((), 1, 10, ("two printed nets", "two pairs of scissors and glue"),
              ("the four boards of one drawer, their names on tape", "printed wedges for the paper boxes",
               "the opening's leans, floor and height on a slip")),
    "11": Kit((), 0, 3, ("two sheets of stiff card", "a thread")),
}


def kit(notebook: str, pairs: float = 6, unit: str = "mm", paper: str = "A4", corner: Corner | None = None) -> "list[Page]":
    """The kit page of a notebook as `Page`s for `save_sheets`.

    Parameters
    ----------
    notebook : str
        Its number as text, such as "04".
    pairs : int
        Pairs of learners, 1 to 40.
    unit, paper : str
        "mm", "in" or "0.001 in"; "A4", "A3" or "Letter". The wedges have one size on all papers.
    corner : Corner, optional
        What the pairs cut, 90 mm high in 18 mm stock; the room's is 120 mm high. Left out, it is that of the lesson's script:
        the class corner, at its own height and thickness, where one is kept and suits the lesson, and otherwise 16 and 11.

    Raises
    ------
    ValueError
        For another notebook, number, unit, paper or corner.

    >>> import splaywork as sw
    >>> len(sw.kit("04", pairs=8))
    2
    """
    if not isinstance(notebook, str) or notebook not in KITS:
        raise ValueError(f"There are kits for the notebooks {', '.join(KITS)}, not for {checks.shown(notebook)}: "
                         "give the number as text, such as '04'.")
    pairs = checks.count("pairs", pairs, 1, MOST_PAIRS)
    length(0, unit)
    stock = HEIGHT, THICK
    if corner is None:
        pairs_cut = script(notebook).pairs
        corner = Corner(pairs_cut.tail_lean, pairs_cut.pin_lean)
        stock = stock if pairs_cut is OURS else (pairs_cut.height, pairs_cut.thickness)
    needs = _of_their_own(KITS[notebook], checks.instance("corner", corner, Corner, "Corner(16, 11)"))
    sheet = Sheet(paper, f"Kit {notebook}", unit)
    pages = sheet.pages
    pages.begin(f"In wood: kit for {notebook}, {TITLES[notebook]}", f"For {pairs} pair{'s' * (pairs > 1)} of learners")
    pages.table([("what", 3, "left"), ("a pair", 1, "right"), ("in all", 1, "right"), ("size", 3.2, "left")],
                _rows(needs, pairs, unit, stock), TYPE)
    pages.write(_time(needs, pairs), TYPE)
    if needs.leans or needs.room:
        pages.write("Before the class, rip long stock to each board's lean, plane its edges, then crosscut the offcuts from "
                    "it. Leave the ends square and long.", TYPE)
    for leans in needs.room if needs.shortcut else ():
        struck = OneGauge(Corner(*leans))
        lines = [f"{degrees(struck.struck(board))} on the {board} board" for board in BOARDS]
        pages.write(f"Then saw the room's corner to the shortcut lines: from square, {lines[0]} and {lines[1]}. Both boards "
                    f"are longer at the top. Saw their ends {degrees(struck.corner.end_bevel)} out of square to the face, the "
                    "inner face longer: that is the end bevel.", TYPE)
    pages.heading("Before you cut")
    pages.points(CAUTIONS, TYPE)
    wedges = _heights(needs, stock[0])
    if wedges:
        _wedges(sheet, wedges)
    return numbered(pages.pages())


def _of_their_own(needs, corner):
    """The kit with the pairs' corner in place of ours, each board upright that is upright in ours."""
    own = corner.tail_lean, corner.pin_lean
    return replace(needs, leans=tuple(tuple(lean if leans else 0 for lean, leans in zip(own, ours, strict=True))
                                      for ours in needs.leans))


def _time(needs, pairs):
    """What it takes to prepare, in words."""
    room = f"{needs.before} minutes for the room"
    if not needs.minutes:
        return f"To prepare: about {room}. (Our guess.)"
    whole = needs.minutes * pairs + needs.before
    and_room = f" and {room}" if needs.before else ""
    return f"To prepare: about {needs.minutes} minutes a pair{and_room}, {whole} minutes in all. (Our guess.)"


def _heights(needs, high):
    """{lean: mm that its wedges stand high} of each lean, without the upright ones: as tall as the corner, so that the board
    doesn't lean out over the flat top. high: of what the pairs cut."""
    tall: dict[float, float] = {}
    for leans, height in ((needs.leans, high), (needs.room, ROOM)):
        for lean in (abs(each) for pair in leans for each in pair if each):
            tall[lean] = max(tall.get(lean, 0.0), height)
    return dict(sorted(tall.items()))


def _rows(needs, pairs, unit, stock):
    """stock: (height, thickness) of what the pairs cut, mm."""
    rows = []
    for leans, a_pair, in_all in (*((leans, "1", f"{pairs}") for leans in needs.leans),
                                  *((leans, "–", "1") for leans in needs.room)):
        corner = Corner(*leans)
        for board in BOARDS:
            lean = corner.lean(board)
            high, thick = stock if a_pair == "1" else (ROOM, THICK)
            size = lengths((LONG, corner.slant_width(high, board), thick), unit)
            edges = f"edges at {intended(abs(lean))}{', leaning in' * (lean < 0)}" if lean else "edges square"
            rows.append((f"{board} board, {edges}", a_pair, in_all, size if a_pair == "1" else f"{size}, for the room"))
    for lean, high in _heights(needs, stock[0]).items():
        count, once = (2 * sum(abs(each) == lean for pair in leans for each in pair) for leans in (needs.leans, needs.room))
        block = f"two from a block {length(high, unit)} high and {length(pair_width(lean, high), unit)} wide"
        rows.append((f"wedge, {intended(lean)}", f"{count or '–'}", f"{count * pairs + once}", block))
    if needs.bevels:
        rows.append(("bevel", f"{needs.bevels}", f"{needs.bevels * pairs}", ""))
    rows += [(thing, "1", f"{pairs}", "") for thing in needs.more]
    return rows + [(thing, "–", "1", "for the room") for thing in needs.shared]


def _wedges(sheet, heights):
    """The wedges' side views at true scale, as many beside one another as there is room for."""
    pages = sheet.pages
    drawn = {lean: high for lean, high in heights.items() if max(high, pair_width(lean, high) - FLAT_TOP) <= PRINTED}
    pages.need((max(drawn.values(), default=0) + 50) * sheet.true)
    pages.heading("Wedges, at true scale", keep=0)
    sheet.scale_bar()
    pages.write("Take blocks with the grain upright, 40 mm thick or more, clamped down. Stick a printed wedge on a block and "
                "saw along its slope: what is left is a second wedge. Near its far end each board has a pair: one wedge, thick "
                "end down, under the face that overhangs, its twin upside down on the other side. Clamp across all three. A "
                "second clamp holds the outside wedge down on the bench.", TYPE)
    if len(drawn) < len(heights):
        told = series([intended(lean) for lean in heights if lean not in drawn])
        pages.write(f"Too large to be printed: {told}. Mark that wedge from the size of its block: the slope ends "
                    f"{length(FLAT_TOP, sheet.unit)} short of the top corner.", TYPE)
    row: list = []
    x = tall = 0.0
    for lean, high in drawn.items():
        outline = wedge_side(lean, high)
        if row and x + np.ptp(outline[:, 0]) > pages.width / sheet.true:
            sheet.place(row, tall + BETWEEN)
            row, x, tall = [], 0.0, 0.0
        outline = outline + np.array([x, -high - 4])
        row += [Area("wedge", outline, f"wedge {lean:g}"), Stroke("outline", np.concatenate([outline, outline[:1]])),
                Label(intended(lean), outline[2] - (FLAT_TOP - 3, 8), TYPE, weight="bold")]
        x, tall = x + np.ptp(outline[:, 0]) + BETWEEN, max(tall, high)
    if row:
        sheet.place(row, tall + BETWEEN)


def save_kit(path: FilePath, notebook: str, pairs: float = 6, unit: str = "mm", paper: str = "A4",
             corner: Corner | None = None) -> tuple[Path, ...]:
    """Write `kit` as one PDF, whole or not at all; returns the paths written. Arguments and errors as there.

    >>> import splaywork as sw
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     [path.name for path in sw.save_kit(f"{folder}/kit.pdf", "04", pairs=8)]
    ['kit.pdf']
    """
    return save_pages(path, kit(notebook, pairs, unit, paper, corner), paper)
