"""The job on paper: what to make and how to set the tools, on one or two pages, and a page for each size of drawer.

Everything is read at arm's length: the main numbers are at least 14 points high, nothing is smaller than 9.
"""

from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from itertools import product
from pathlib import Path
from typing import TYPE_CHECKING, Self

import numpy as np

from ..common import checks
from ..common.kinds import FilePath
from ..common.printing import UNIT_WORDS, UNITS, degrees, length, length_parts, length_within, lengths
from ..common.tolerances import SAME_SETTING
from ..corner.words import capital, series
from ..drawing.lettering import height_of, letters, width_of, wrapped
from ..drawing.page import BenchPages, numbered, scale_of
from ..drawing.paper import PAPERS, Area, Label, Stroke, moved
from ..drawing.print_file import check_one_pdf, save_pages
from .cut_list import SAW_WORDS, cut_list, job_saw_order
from .fittings import bottom_panel
from .fronts import pull_place, screws
from .opening import gap_words
from .plan import Plan
from .runners import runners
from .settings import job_settings, offset_words
from .stock import blanks, trial_pieces

if TYPE_CHECKING:
    from ..drawing.paper import Page
    from .cut_list import BoardCut

MAIN, WORDS, LEAST = 14.0, 10.0, 9.0  # points, at least
# mm that a board is drawn high, mm of air in the rows of tables: the first with which all fits one page; the last only where
# the show front is told in words
ROOMS = ((24.0, 1.8), (20.0, 1.8), (18.0, 1.0), (17.0, 0.5), (14.0, 0.4), (11.0, 0.2), (10.0, 0.0), (6.0, 0.0))
CLOSE = 1.0  # mm of air, from which on all else stands close too
LOW = 15.0  # mm: beside a board drawn no higher, its width stands level, because it is longer than the board is high
ORDER = ("front", "back", "left", "right")
_TURNS = {"clockwise": "↻", "anticlockwise": "↺"}
WASTE_SHARE = 0.15  # of the wood, for knots and saw kerfs; common practice, no source
_FOOT = "Left and right: seen from outside, top edge up  ·  angles from square  ·  go by the numbers"


def job_sheets(plan: Plan, paper: str = "A4", unit: str | None = None) -> "list[Page]":
    """The job's pages of a `Plan`, as a list of numbered `Page`s: two, and one for each item.

    Where many boxes hardly share a setting, the list of settings or the order of sawing may take a page more.

    paper: "A4", "A3" or "Letter". unit: "mm", "in" or "0.001 in"; None, as the plan has it. ValueError for anything else.
    """
    job = Job.of(plan, paper, unit)
    return numbered(job.pages(), job.least)


def check_letters(text: str) -> None:
    """ValueError for text that the letters of the sheets can't write."""
    if unknown := sorted(set(text) - letters()):
        raise ValueError(f"“{text[:40]}” has “{unknown[0]}”, which the letters of the sheets lack: spell it "
                         "another way.")


def save_job_sheets(path: FilePath, plan: Plan, paper: str = "A4", unit: str | None = None,
                    progress: Callable | None = None) -> tuple[Path, ...]:
    """Write `job_sheets(plan, paper, unit)` as one PDF, whole or not at all; returns the paths written, one.

    progress(done, of): called after each page. An existing file is replaced. ValueError as `job_sheets`, and for a path that
    doesn't end in .pdf or whose folder isn't there; OSError when the disk refuses, and the older file is then untouched.

    >>> import splaywork as sw
    >>> from tempfile import TemporaryDirectory
    >>> plan = sw.Plan("Galley", (sw.Item("locker drawer", sw.Box(400, 300, 120, left_lean=11)),))
    >>> with TemporaryDirectory() as folder:
    ...     [path.name for path in sw.save_job_sheets(f"{folder}/job.pdf", plan)]
    ['job.pdf']
    """
    check_one_pdf(path, "The job's sheets are")
    return save_pages(path, job_sheets(plan, paper, unit), paper, progress)


class Job:
    """The pages of a plan; its settings, cut lists and order of sawing are worked out once; `of` checks first."""

    def __init__(self, plan: Plan, paper: str, unit: str) -> None:
        self.plan, self.paper, self.unit = plan, paper, unit
        larger = max(1.0, 1 / scale_of(paper))  # what is laid out for A4 comes out smaller on a shorter paper
        self.main, self.plain, self.least = MAIN * larger, WORDS * larger, LEAST * larger
        self.settings = job_settings(plan)
        self.lists = [cut_list(item.box, item.quantity, plan.saw_tilts) for item in plan.items]
        self.steps = job_saw_order(self.lists, plan.saw_tilts)

    @classmethod
    def of(cls, plan: Plan, paper: str, unit: str | None) -> Self:
        """As the plan's own, after checking what was given; ValueError, in one sentence, for what can't be."""
        checks.instance("plan", plan, Plan, "load_plan('drawers.json')")
        checks.choice("paper", paper, tuple(PAPERS))
        unit = checks.choice("unit", plan.unit if unit is None else unit, UNITS)
        for name in (plan.name, *(item.name for item in plan.items)):
            check_letters(name)
        return cls(plan, paper, unit)

    def pages(self) -> "list[Page]":
        """All pages, not numbered yet."""
        return [*self.first(), *(page for number in range(1, len(self.plan.items) + 1) for page in self.drawer(number))]

    def _pages(self, title, under):
        pages = BenchPages(self.paper, self.plan.name, _FOOT, small=self.least)
        pages.begin(title, under)
        return pages

    def first(self) -> "list[Page]":
        """What to make, every setting, the order of sawing and of work, the wood: two pages where they can be."""
        for _, air in ROOMS[1:]:
            pages = self._first(air)
            if len(pages) <= 2:
                break
        return pages

    def _first(self, air):
        boxes = sum(item.quantity for item in self.plan.items)
        pages = self._pages(self.plan.name, f"Make {boxes}: {4 * boxes} boards, {8 * boxes} rims to rip, {8 * boxes} ends to "
                            f"saw. Lengths are in {UNIT_WORDS[self.unit]}.")
        pages.table([("", 0.4, "left"), ("item", 2.6, "left"), ("make", 0.9, "right"), ("width × depth × height", 3.8, "left"),
                     ("boards that match", 4.6, "left")], [self._made(number) for number in range(1, len(self.lists) + 1)],
                    size=self.least, bold=(0, 1), most=3, air=air)
        pages.heading("Bevel settings, each lettered once for the whole job")
        if self.settings.settings:
            self._wedges(pages, air)
        else:
            pages.write("A square strikes every line.", self.plain)
        if merged := self.settings.merged_words:
            pages.write(merged, self.least)
        close = air < CLOSE
        if not close:
            self._wood(pages, air)
        pages.heading("Order of sawing")
        pages.write(f"{SAW_WORDS} ↻ is clockwise, ↺ anticlockwise. The number before a board is its item.", self.least)
        for kind, heads in (("rip", ("fence", "face down, edge to fence")),
                            ("crosscut", ("mitre gauge", "face down, edge to mitre gauge"))):
            rows = list(job_saw_rows(self.steps, kind))
            pages.table([("", 8, "left"), ("blade", 20.5, "left"), (heads[0], 22.5, "left"), (heads[1], 53, "left"),
                         ("keep", 11, "left"), ("cuts", 54, "left"), ("in all", 13, "right")], rows, size=self.least,
                        bold=(0, 1, 2), air=air)
            pages.skip(-2)
        pages.skip(2)
        pages.heading("Order of work")
        if close:
            pages.write("  ".join(f"{step}. {text}" for step, text in enumerate(self._order(boxes), 1)), self.least)
            self._wood(pages, air)
        else:
            pages.points(self._order(boxes), self.least, numbered=True)
        return pages.pages()

    def _made(self, number):
        item, cuts = self.plan.items[number - 1], self.lists[number - 1]
        matches = []
        for group in cuts.groups:
            if group.mirrored:
                matches.append(f"{series(group.equal)} and {series(group.mirrored)} are mirror images")
            elif len(group.equal) > 1:
                matches.append(f"{series(group.equal)} are equal")
        box = item.box
        sizes = lengths((box.outer_length("front"), box.outer_length("right"), box.height), self.unit)
        return str(number), item.name, str(item.quantity), sizes, capital("; ".join(matches) or "none")

    def _wedges(self, pages, air):
        """Three settings in a row: a wedge, its letter and degrees large, the offset and what it strikes."""
        wide = pages.width / 3
        cells = [self._wedge(setting, wide - 5) for setting in self.settings.settings]
        for start in range(0, len(cells), 3):
            row = cells[start:start + 3]
            tall = max(height for _, height in row)
            items = []
            for column, (own, _) in enumerate(row):
                items += _moved(own, column * wide, 0)
            pages.place(items, tall)
            pages.skip(min(1.5, air))

    def _wedge(self, setting, wide):
        """One setting, hung from (0, 0), and how tall it is, mm."""
        small = min(setting.from_square, 90 - setting.from_square)
        arm, angle = 21.0, np.radians(small)
        blade = arm * np.array([np.cos(angle), np.sin(angle)])
        if blade[1] > 14:
            blade = blade * 14 / blade[1]
        foot, level = np.array([0.0, -16.0]), np.array([arm, 0.0])
        items = [Area("wedge", np.array([foot, foot + level, foot + blade])),
                 Stroke("arm", np.array([foot + level, foot, foot + blade]), "wedge"),
                 Label(setting.letter, np.array([arm + 4, -6.5]), 18.0, weight="bold")]
        letter = arm + 4 + width_of(setting.letter, 18.0, "bold") + 2.5
        items.append(Label(degrees(setting.from_square), np.array([letter, -6.5]), self.main, weight="bold"))
        y = -6.5 - height_of(self.plain) * 1.05
        for line in wrapped(offset_words(setting.from_square, self.unit), self.least, wide - arm - 4, "bold"):
            items.append(Label(line, np.array([arm + 4, y]), self.least, weight="bold"))
            y -= height_of(self.least)
        y = min(y + height_of(self.least), -16.5) - height_of(self.least)
        for text in setting.words:
            for line in wrapped(text, self.least, wide):
                items.append(Label(line, np.array([0, y]), self.least))
                y -= height_of(self.least)
        return items, -y - 0.7 * height_of(self.least)

    def _wood(self, pages, air):
        """Wood to buy by thickness, and sheets for the bottoms."""
        thick = {}
        for blank in blanks(self.plan):
            thick.setdefault(round(blank.thickness, 1), []).append(blank)
        rows = []
        for thickness, pieces in sorted(thick.items(), reverse=True):
            area = sum(piece.length * piece.width for piece in pieces)
            faces = [_face(area * share, self.unit) for share in (1, 1 + WASTE_SHARE)]
            widest, longest = (length(max(getattr(piece, side) for piece in pieces), self.unit) for side in ("width", "length"))
            rows.append((length(thickness, self.unit), str(len(pieces)), widest, longest, *faces))
        pages.heading("Wood to buy")
        pages.table([("thickness", 1, "left"), ("blanks", 0.7, "right"), ("widest", 1, "right"), ("longest", 1.1, "right"),
                     ("face", 1, "right"), (f"and {WASTE_SHARE:.0%} for waste", 1.2, "right")], rows, size=self.plain, air=air)
        pages.skip(-2)
        if sheets := self._sheet_bottoms():
            pages.write(f"Bottoms, of sheet: {'; '.join(sheets)}.", self.least)

    def _sheet_bottoms(self):
        """"3 of 410.4 × 346.6 mm, 6.0 mm thick" for each item with a bottom of sheet material that can be made."""
        found = []
        for item in self.plan.items:
            with suppress(ValueError):
                if item.box.bottom.wood is None:
                    panel = bottom_panel(item.box)
                    wide, deep = np.ptp(panel.vertices[..., :2].reshape(-1, 2), axis=0)
                    found.append(f"{item.quantity} of {lengths((wide, deep), self.unit)}, "
                                 f"{length(panel.thickness, self.unit)} thick")
        return found

    def _order(self, boxes):
        item, pieces = trial_pieces(self.plan)
        taken = series([f"{length(piece.length, self.unit)} of the {piece.board}'s stock" for piece in pieces])
        said = [f"Cut one trial corner first. The {pieces[0].corner} corner of the {item.name} proves most.",
                f"For the trial corner, take {taken}.",
                "Plane each board to its thickness. Mark every blank: item and copy, name, outer face, arrow to the top.",
                f"Rip {8 * boxes} rims, then measure each board's width up its outer face.",
                f"Strike {8 * boxes} end lines on the outer faces, then measure both lengths of each board.",
                f"Saw {8 * boxes} ends, then measure both diagonals of each outer face."]
        if any(group.mirrored for cuts in self.lists for group in cuts.groups):
            said.append("Lay mirror images side by side, outer faces up, top edges away from you: each must look like the "
                        "other in a mirror.")
        said += ["Mark the baselines, plough the grooves, and make the bottom.",
                 "Saw the tails, and scribe the pins from them, each corner from its own.",
                 "Put each box together without glue, a captured bottom in its grooves. Measure the rims' diagonals. "
                 "Take the box apart."]
        slid = {item.box.bottom.kind == "slid in" for item in self.plan.items}
        if True in slid:
            said.append("Rip the lower edge off each back whose page says so.")
        one = {(False,): "Glue the box up, with the bottom dry in its grooves.",
               (True,): "Glue the box up, and slide the bottom in."}
        said.append(one.get(tuple(slid), "Glue the box up: a captured bottom goes in now, a bottom that is slid in goes in "
                                         "afterwards."))
        parts = [what for what, name in (("the runners", "runners"), ("the show front", "front"))
                 if any(getattr(item, name) for item in self.plan.items)]
        if parts:
            said.append(f"Stand each drawer in its opening. Fit {' and then '.join(parts)}, trying each before you fasten it.")
        return tuple(said)

    # A page a drawer.

    def drawer(self, number: int) -> "list[Page]":
        """The page of one item; more where even the smallest drawings, and the show front in words, take too much room."""
        for drawn, (tallest, air) in [*product((True,), ROOMS[:-1]), *product((False,), ROOMS)]:
            pages = self._drawer(number, tallest, air, drawn)
            if len(pages) == 1:
                break
        return pages

    def _drawer(self, number, tallest, air, drawn):
        item, cuts, unit = self.plan.items[number - 1], self.lists[number - 1], self.unit
        box, close = item.box, air <= CLOSE
        low, high = (lengths((box.outer_length("front", height), box.outer_length("right", height)), unit)
                     for height in (0, box.height))
        tall = length(box.height, unit)
        pages = self._pages(f"{number}  {item.name}: make {item.quantity}", f"Outside {low} at the bottom, {high} at the "
                            f"top; {tall} high." if close else "")
        if close:
            pages.skip(-3)
        else:
            pages.facts([("bottom, width × depth", low, ""), ("top, width × depth", high, ""), ("height, plumb", tall, "")], 3,
                        self.main)
        boards = {board.name: board for board in cuts.boards}
        wide, (panel, why) = pages.width / 2, _bottom_of(item)
        front = item.fit and item.fit.show_front
        scale = self._scale(box, front if drawn else None, wide, tallest)
        ripped = panel.back_edge if panel else None
        crosses = [(screw.along, screw.up) for screw in _screws_of(item, panel)[0]]
        marked = {"front": {"crosses": crosses}, "back": {"ripped": ripped}}
        for pair in (ORDER[:2], ORDER[2:]):
            cells = [self._board(item, boards[name], scale, wide - 5, **marked.get(name, {})) for name in pair]
            items = cells[0][0] + _moved(cells[1][0], wide, 0)
            pages.place(items, max(tall for _, tall in cells))
            pages.skip(min(1.0, 5 * air))
        self._numbers(pages, box, boards, cuts, panel, air)
        self._bottom(pages, panel, why)
        if item.opening is not None:
            said = list(self._around(item))
            if front is not None:
                said = [self._front_words(front, drawn), *self._screw_words(item, panel), *said]
            said = said if air else [" ".join(said)]
            if front is not None and drawn:
                said = self._beside_the_front(pages, front, scale, said)
            for text in said:
                pages.write(text, self.least)
                pages.skip(-1.2 * close)
        return pages.pages()

    def _beside_the_front(self, pages, front, scale, said):
        """Draw the show front, and write as much beside it as fits; returns the rest."""
        wide = pages.width / 2
        flat = {"blank": (front.corners[0] - front.corners[0, 0, 0]) @ front.axes[:2].T}
        flat |= {"outlines": flat["blank"][[0, 1, 1, 0], [0, 0, 1, 1]], "end_lines": flat["blank"], "baselines": ()}
        items, tall = self._outer_face(
            f"Show front: {front.choice.kind}, {length(front.choice.thickness, self.unit)} thick", "wedge", flat,
            (front.outer_bottom, front.outer_top, front.slant_width), front.ends, front.rim_bevel, scale, wide - 5)
        high = height_of(self.least)
        rows = [(number, row) for number, text in enumerate(said) for row in wrapped(text, self.least, wide)]
        fit = int(tall / high)
        items += [Label(row, np.array([wide, -(line + 0.8) * high]), self.least) for line, (_, row) in enumerate(rows[:fit])]
        pages.place(items, tall)
        pages.skip(1)
        rest = {}
        for number, row in rows[fit:]:
            rest.setdefault(number, []).append(row)
        return [" ".join(each) for each in rest.values()]

    def _around(self, item):
        """The opening, its clearances and gaps, and the strips that carry the drawer, a sentence each."""
        unit, fit, opening = self.unit, item.fit, item.opening
        clear = ", ".join(f"{_bare(far, unit)} {name}" for name, far in vars(item.clearances).items())
        gaps = ", ".join(f"{gap_words(gap, unit)} {name}" for name, gap in fit.gaps_at_front.items())
        yield (f"Opening: {lengths((opening.floor_width, opening.depth, opening.height), unit)} along its floor and up. "
               f"Clearances, square to each wall: {clear}. Gaps from the front: {gaps}; at the back "
               f"{gap_words(fit.gaps['back'], unit)}.")
        if item.runners is not None:
            yield from self._strips(fit, item.runners)

    def _front_words(self, front, drawn):
        """A sentence on a show front: all of it, or what its drawing doesn't say."""
        ends = " and ".join(_once([self._end(end) for end in front.ends]))
        bevels = " and ".join(_once([_signed(end.end_bevel) for end in front.ends]))
        low, high, wide, thick = (length(size, self.unit) for size in (front.outer_bottom, front.outer_top, front.slant_width,
                                                                       front.choice.thickness))
        said = "Show front: " if drawn else (f"Show front, {front.choice.kind}, {thick} thick: {low} at the bottom, {high} at "
                                             f"the top, {wide} up the face; end lines {ends}, ")
        return (f"{said}end bevels {bevels}, edges {_signed(front.rim_bevel)}, grain along its length; "
                f"blank {lengths(front.blank, self.unit)}.")

    def _screw_words(self, item, panel):
        """Where screws go through the box's front, from inside, into the show front, clear of its pull."""
        found, why = _screws_of(item, panel)
        if why:
            yield f"Screws: {why}"
            return
        rows = {}
        for screw in found:
            rows.setdefault(_bare(screw.up, self.unit), []).append(_bare(screw.along, self.unit))
        places = "; ".join(f"{up} up, {' and '.join(along)} along" for up, along in rows.items())
        along, up = (_bare(far, self.unit) for far in pull_place(item.fit))
        yield (f"Screws from inside, at most {length_within(found[0].longest, self.unit)} long, on the front's outer face "
               "from the "
               f"bottom of its left end line: {places}. The pull's middle is {up} up, {along} along.")

    def _strips(self, fit, choice):
        """The runners, kickers, guides and the stop of a drawer, those of one kind together."""
        try:
            strips = runners(fit, choice).strips
        except ValueError as wrong:
            yield f"Runners: {wrong}"
            return
        kinds = {}
        for strip in strips:
            face = "" if strip.kind in ("guide", "stop") else "square" if abs(strip.bevel) < SAME_SETTING else (
                f"planed {degrees(abs(strip.bevel))}, wider at the {'top' if strip.bevel > 0 else 'bottom'}")
            said = ", ".join(filter(None, (face, f"{length(strip.up_wall, self.unit)} up the wall")))
            sizes = kinds.setdefault(strip.kind, {}).setdefault(lengths(strip.blank, self.unit), {})
            sizes.setdefault(said, []).append(strip.side)
        for kind, sizes in kinds.items():
            said = "; ".join(f"{size}, {'; '.join(f'{series(sides)} {how}' for how, sides in made.items())}"
                             for size, made in sizes.items())
            count = sum(len(sides) for made in sizes.values() for sides in made.values())
            yield f"{capital(kind)}{'s' * (count > 1)}{', length × width × height' * (kind == 'runner')}: {said}."

    @staticmethod
    def _scale(box, front, wide, tallest):
        """mm of paper to a mm of the four faces and of a show front, one scale for all."""
        sizes = [np.ptp(box.boards[name].in_board(box.boards[name].blank[0]).reshape(-1, 3), axis=0) for name in ORDER]
        if front is not None:
            sizes.append(np.ptp(front.laid_flat, axis=0))
        return min((wide - 22) / max(size[0] for size in sizes), tallest / max(size[1] for size in sizes))

    def _board(self, item, cut, scale, wide, crosses=(), ripped=None):
        """One board's outer face with its main numbers, hung from (0, 0), and how tall that is, mm."""
        board, kind = item.box.boards[cut.name], "tail" if cut.carries == "tails" else "pin"
        title = f"{capital(cut.name)}: {stands_words(cut.lean)}, {length(cut.thickness, self.unit)} thick, {cut.carries}"
        flat = {name: board.in_board(getattr(board, name)[0])[..., :2]
                for name in ("outlines", "blank", "end_lines", "baselines")}
        sizes = cut.outer_bottom, cut.outer_top, cut.slant_width
        return self._outer_face(title, f"{kind} outer", flat, sizes, cut.ends, cut.rim_bevel, scale, wide, crosses, ripped)

    def _outer_face(self, title, fill, flat, sizes, ends, rim_bevel, scale, wide, crosses=(), ripped=None):
        """A face with its main numbers, hung from (0, 0), and how tall that is, mm.

        flat: mm along and up the face: "blank", "end_lines" and "baselines" by end and edge, and "outlines". sizes: at the
        bottom, at the top, up the face. crosses: places of screws. ripped: up the face, where its edge comes off, or None.
        """
        unit = self.unit
        items = [Label(title, np.array([0, -0.8 * height_of(self.plain)]), self.plain, weight="bold")]
        low = flat["blank"].reshape(-1, 2).min(axis=0)
        size = np.ptp(flat["blank"].reshape(-1, 2), axis=0) * scale
        tall, left = height_of(self.main), 12 + (wide - 12 - size[0]) / 2
        slant = length(sizes[2], unit)
        long, low_one = width_of(slant, self.main, "bold"), size[1] <= LOW
        if low_one:
            left = long + 3 + (wide - long - 3 - size[0]) / 2
        top = -height_of(self.plain) - tall - 1.5
        foot = top - size[1]
        marks = [np.array(place) * scale + [left, foot] - low * scale for place in crosses]
        if ripped is not None:
            share = ripped / sizes[2]
            flat["ripped"] = (1 - share) * flat["blank"][:, 0] + share * flat["blank"][:, 1]
        flat = {name: (points - low) * scale + [left, foot] for name, points in flat.items() if len(points)}
        blank = flat["blank"]
        around = blank[[0, 1, 1, 0], [0, 0, 1, 1]]
        items += [Area("sawn off", around, "blank"), *_filled(fill, flat["outlines"], title)]
        items += [Stroke("struck", line, "end line") for line in flat["end_lines"]]
        items += [Stroke("baseline", line, "baseline") for line in flat.get("baselines", ())]
        if "ripped" in flat:
            items.append(Stroke("join", flat["ripped"], "ripped off below"))
        items += [Stroke("cross", mark + 0.9 * np.array(way), "screw") for mark in marks
                  for way in ([[-1, -1], [1, 1]], [[-1, 1], [1, -1]])]
        above, below = top + 2.4, foot - 0.8 * tall - 0.5
        ends = [self._end(end) for end in ends]
        widths = [width_of(text, self.main, "bold") for text in ends]
        items += [Label(text, np.array([x, above]), self.main, weight="bold")
                  for text, x in zip(ends, (0.0, wide - widths[1]), strict=True)]
        items.append(Label(length(sizes[1], unit), np.array([(widths[0] + wide - widths[1]) / 2, above]), self.main,
                           align="center", weight="bold"))
        foot_size, middle = length(sizes[0], unit), blank[:, 0, 0].mean()
        if rim_bevel and not low_one:  # between the two sections
            half = width_of(foot_size, self.main, "bold") / 2
            middle = min(max(middle, 33.0 + half), wide - 22.0 - half)
        items.append(Label(foot_size, np.array([middle, below]), self.main, align="center", weight="bold"))
        if low_one:
            items.append(Label(slant, np.array([0.0, (top + foot) / 2 - 1.8]), self.main, weight="bold"))
        else:
            items.append(Label(slant, np.array([0.34 * self.main, above - 2.4 - long / 2]), self.main, 90, "center", "bold"))
        if rim_bevel:
            items += _rim_sections(rim_bevel, fill, (0.0, 21.0) if low_one else (9.0, wide - 20.0), foot - 1.2, self.least)
        return items, -min(foot - max(tall, 8.5) - 0.5, 0 if low_one else above - 3 - long)

    def _end(self, end):
        """An end line's letter and angle: "B +15.0°", "square"."""
        said = _signed(end.end_line)
        return said if said == "square" else f"{self.settings.letter(end.end_line)} {said}"

    def _tails(self, box, cuts):
        """Where the tails are marked, a sentence for each set of marks."""
        marks = {}
        for board in cuts.boards:
            for end in board.ends:
                if board.carries == "tails":
                    said = "; ".join(f"{_bare(low, self.unit)} to {_bare(high, self.unit)}"
                                     for low, high in box.corners[end.corner].joint.marks)
                    marks.setdefault(said, {}).setdefault(board.name, []).append(end.side)
        for said, boards in marks.items():
            where = series([name if len(sides) == 2 else f"{name}'s {sides[0]} end" for name, sides in boards.items()])
            yield f"Tails of the {where}, square up from the bottom edge: {said}."

    def _cheeks(self, box, cut):
        """Letters of a board's cheeks: on the faces, and across the ends of a tail board."""
        kind = "tail" if cut.carries == "tails" else "pin"
        joints = [box.corners[end.corner].joint for end in cut.ends]
        places = ("outer", "end") if kind == "tail" else ("outer",)
        return "; ".join(" · ".join(_once([self.settings.letters(joint, kind, place, "cheek") for joint in joints]))
                         for place in places)

    def _outside(self, cut):
        """How far a board's square ends are sawn outside its end lines, and on which face: "0.3 outer · 0.0"."""
        far = [(_bare(end.proud, self.unit), end.proud_face) for end in cut.ends]
        return " · ".join(f"{size} {face}" if size.strip("0.") else size for size, face in far)

    def _numbers(self, pages, box, boards, cuts, panel, air):
        """What to saw from, what to strike, and what to measure after each stage."""
        unit = self.unit

        def pair(one, other):
            return f"{_bare(one, unit)} · {_bare(other, unit)}"

        rows = [("blank, length × width", lambda cut: " × ".join(_bare(size, unit) for size in cut.blank[:2])),
                ("ripped: slant width", lambda cut: _bare(cut.slant_width, unit)),
                ("end lines: bottom · top", lambda cut: pair(cut.outer_bottom, cut.outer_top)),
                ("sawn: diagonals ↗ · ↖", lambda cut: pair(*cut.diagonals)),
                ("baselines, left · right", lambda cut: pair(*(end.baseline for end in cut.ends))),
                ("inside length, bottom · top", lambda cut: pair(cut.inner_bottom, cut.inner_top)),
                ("rims: arris off below · above", rims_words),
                ("end bevel, + inner longer", lambda cut: " · ".join(_once([_signed(end.end_bevel) for end in cut.ends]))),
                ("cheeks: faces; ends", lambda cut: self._cheeks(box, cut))]
        if panel:
            rows.append(("groove: up the face · wide", lambda cut: pair(groove.up_face, groove.width) if (
                groove := panel.grooves.get(cut.name)) else "none"))
            if any(abs(groove.wall_angle) >= SAME_SETTING for groove in panel.grooves.values()):
                rows.append(("groove's walls, tilted to", lambda cut: _walls(panel.grooves.get(cut.name))))
        if any(end.proud for cut in cuts.boards for end in cut.ends):
            rows.insert(4, ("sawn outside the end lines", self._outside))
        said = [f"{capital(series(group.equal + group.mirrored))} are {'mirror images' if group.mirrored else 'equal'}."
                for group in cuts.groups if group.mirrored or len(group.equal) > 1]
        pages.heading(f"Measure after each stage, {unit if unit == 'mm' else UNIT_WORDS[unit]}. "
                      f"{' '.join(said) or 'No two boards match.'}", keep=30)
        pages.table([("", 2.45, "left"), *((name, 1.65, "left") for name in ORDER)],
                    [(what, *(say(boards[name]) for name in ORDER)) for what, say in rows], size=self.least, bold=(), air=air)
        pages.skip(-2)
        (low, high), inside = ([_bare(each, unit) for each in pair] for pair in (cuts.rim_diagonals, cuts.inside_diagonals))
        pages.write(f"Dry fit: rim diagonals {low} at the bottom, {high} at the top; inside {' and '.join(inside)}.",
                    self.plain, "bold")
        for text in self._tails(box, cuts):
            pages.write(text, self.least)

    def _bottom(self, pages, panel, why):
        unit = self.unit
        if panel is None:
            pages.write(f"Bottom: {why}", self.least)
            return
        pages.write(f"Bottom {length(panel.thickness, unit)} thick, {length(panel.up, unit)} up: "
                    f"{lengths(panel.below, unit)} below, {lengths(panel.above, unit)} above.", self.plain, "bold")
        how = panel.fitting_words(unit) if panel.kind == "slid in" or panel.moves else ()
        pages.write(" ".join((*panel.edge_words(), f"Plough the grooves level, {length(panel.depth, unit)} deep.",
                              *panel.end_words(unit), *how)), self.least)
        pages.points(panel.warnings(unit), self.least)


def _bottom_of(item):
    """(the `BottomPanel` of an item or None, why there is none)."""
    try:
        return bottom_panel(item.box, fit=item.fit), ""
    except ValueError as wrong:
        return None, str(wrong)


def _screws_of(item, panel):
    """(the `Screw`s that hold an item's show front, "" or why there are none)."""
    if item.fit is None or item.fit.show_front is None:
        return (), ""
    try:
        return screws(item.fit, panel.up + panel.thickness if panel else 0.0), ""
    except ValueError as wrong:
        return (), str(wrong)


def _walls(groove):
    """How far a groove's walls are out of square to the face, and towards which edge: "15.0° top"."""
    if groove is None:
        return "none"
    if abs(groove.wall_angle) < SAME_SETTING:
        return "square"
    return f"{degrees(abs(groove.wall_angle))} {'top' if groove.wall_angle > 0 else 'bottom'}"


def job_saw_rows(steps: Sequence, kind: str) -> Iterator[tuple[str, ...]]:
    """Rows of the job's order of sawing, steps of one kind: number, blade, where the fence or how the mitre gauge stands, face
    down and edge, side to keep, cuts, count of the step."""
    for number, step in enumerate(steps, 1):
        if step.kind != kind:
            continue
        blade = f"{degrees(step.blade_tilt)} {step.saw_tilts}" if step.blade_tilt else "upright"
        gauge = f"{_TURNS[step.gauge_swing]} {degrees(step.mitre_gauge)}" if step.gauge_swing else "square"
        head, count = (str(number), blade, step.cuts[0].kept if kind == "rip" else gauge), str(step.count)
        ways: dict[tuple, list[str]] = {}
        for cut in step.cuts:
            ways.setdefault((*cut.setup, cut.where), []).append(f"{cut.item} {cut.board}")
        for (face, edge, kept, where), boards in ways.items():
            yield *head, f"{face} face, {edge} edge", kept, f"{where}: {', '.join(boards)}", count
            count = ""


def stands_words(lean: float) -> str:
    """"upright", "leans out 15.0°" or "leans in 15.0°"."""
    return "upright" if abs(lean) < SAME_SETTING else f"leans {'out' if lean > 0 else 'in'} {degrees(abs(lean))}"


def _bare(size, unit):
    """A length without its unit."""
    return length_parts(size, unit)[0]


def _once(pair):
    """The two, or one where they are the same."""
    return pair[:1] if pair[0] == pair[1] else pair


def _signed(angle):
    """"+1.3°" or "square"."""
    return "square" if abs(angle) < SAME_SETTING else f"{'+' if angle > 0 else '−'}{degrees(abs(angle))}"


def rims_words(cut: "BoardCut") -> str:
    """The rim bevel of a board and which arris comes off: "15.0° outer · inner"."""
    if abs(cut.rim_bevel) < SAME_SETTING:
        return "square"
    return f"{degrees(abs(cut.rim_bevel))} {'outer · inner' if cut.rim_bevel > 0 else 'inner · outer'}"


def _face(area, unit):
    return f"{area / 1e6:.2f} m²" if unit == "mm" else f"{area / 304.8**2:.1f} ft²"


def _moved(items, x, y):
    return [moved(item, np.array([x, y])) for item in items]


def _filled(fill, outline, name):
    """An outline, filled and drawn round."""
    return [Area(fill, outline, name), Stroke("dimension", np.vstack([outline, outline[:1]]), name)]


def _rim_sections(bevel, fill, places, top, size):
    """A board cut across at its bottom and top rim, outer face on the left, and dashed what comes off there.

    bevel: of its rims, degrees, as of a `BoardCut`. places: x of each, mm; top: y of both.
    """
    thick, tall = 6.0, 7.0
    run = thick * np.tan(np.radians(min(abs(bevel), 40)))
    items = []
    for x, rim in zip(places, ("bottom", "top"), strict=True):
        up = rim == "top"
        outer_long = (bevel > 0) == up  # a board that leans out is longer outside at its top
        edge, back = (top, top - tall) if up else (top - tall, top)
        inward = -run if up else run
        outer, inner = (edge, edge + inward) if outer_long else (edge + inward, edge)
        wood = np.array([[x, back], [x, outer], [x + thick, inner], [x + thick, back]])
        lost = np.array([[x, edge], [x + thick, edge], [x + thick, inner] if outer_long else [x, outer]])
        items += [*_filled(fill, wood, f"{rim} rim"),
                  Stroke("join", np.vstack([lost, lost[:1]]), "comes off"),
                  Label(rim, np.array([x + thick + 1.2, top - tall / 2 - 1.2]), size)]
    return items
