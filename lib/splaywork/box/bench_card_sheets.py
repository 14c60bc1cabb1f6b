"""The bench card of a whole box: its four outer faces with each line drawn, and the letters of the job's bevel settings."""

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from ..common import checks
from ..common.kinds import FilePath
from ..common.printing import degrees, length
from ..corner.words import capital
from ..drawing.lettering import height_of, width_of, wrapped
from ..drawing.page import numbered
from ..drawing.paper import Area, Label, Stroke
from ..drawing.print_file import check_one_pdf, save_pages
from .job_sheets import ORDER, Job, rims_words, stands_words
from .settings import offset_words

if TYPE_CHECKING:
    from ..drawing.paper import Page
    from .plan import Plan

DRAWN = 0.62  # of the page's width: what a face may take
TALLEST = (29.0, 26.0, 22.0, 18.0)  # mm that a face may be drawn high: the first with which all fits one page
BESIDE = 5.0  # mm between a face and its words


def box_bench_card(plan: "Plan", number: int = 1, paper: str = "A4", unit: str | None = None) -> "list[Page]":
    """One page for one box of a `Plan`, as a list of numbered `Page`s: a bench card with letters of the whole job.

    number: of the item, from 1. paper, unit: as of `job_sheets`. Each board's outer face is drawn with its end lines, its
    baselines and every cheek; beside it stand its own thickness, its letters, and where its tails are marked. ValueError for
    what can't be.
    """
    cards = Cards.of(plan, paper, unit)
    return numbered(cards.card(checks.count("number of the item", number, 1, len(plan.items))), cards.least)


def save_box_bench_card(path: FilePath, plan: "Plan", number: int = 1, paper: str = "A4", unit: str | None = None,
                        progress: Callable | None = None) -> tuple[Path, ...]:
    """Write `box_bench_card(plan, number, paper, unit)` as one PDF, whole or not at all; returns the paths written, one.

    An existing file is replaced. ValueError as `box_bench_card`, and for a path that doesn't end in .pdf or whose folder isn't
    there; OSError when the disk refuses, and the older file is then untouched.

    >>> import splaywork as sw
    >>> from tempfile import TemporaryDirectory
    >>> plan = sw.Plan("Galley", (sw.Item("locker drawer", sw.Box(400, 300, 120, left_lean=11)),))
    >>> with TemporaryDirectory() as folder:
    ...     [path.name for path in sw.save_box_bench_card(f"{folder}/card.pdf", plan)]
    ['card.pdf']
    """
    check_one_pdf(path, "A bench card is")
    return save_pages(path, box_bench_card(plan, number, paper, unit), paper, progress)


class Cards(Job):
    """The bench cards of a plan's boxes."""

    def card(self, number: int) -> "list[Page]":
        """The pages of one item's card, not numbered yet: one, but for a box with very many tails."""
        for tallest in TALLEST:
            pages = self._card(number, tallest, self.plain if tallest == TALLEST[0] else self.least)
            if len(pages) == 1:
                break
        return pages

    def _card(self, number, tallest, small):
        item, cuts = self.plan.items[number - 1], self.lists[number - 1]
        pages = self._pages(f"{number}  {item.name}: bench card", "Outer faces, top edges up. End lines and cheeks are solid; "
                            "baselines are dashed. Of two numbers, the first is the left end's. Baselines are measured "
                            "from the end lines. Arrises come off below · above.")
        boards = {board.name: board for board in cuts.boards}
        scale = self._face_scale(item.box, pages.width * DRAWN, tallest)
        for name in ORDER:
            items, tall = self._face(item.box, boards[name], scale, pages.width, small)
            pages.place(items, tall)
            pages.skip(2.5)
        for text in self._tails(item.box, cuts):
            pages.write(text, small)
        used = self._used(item)
        if used:
            pages.heading("Settings", keep=8)
            pages.write("; ".join(f"{each.letter} {degrees(each.from_square)}, {offset_words(each.from_square, self.unit)}"
                                  for each in used) + ".", small, "bold")
        return pages.pages()

    def _used(self, item):
        """The settings of the job that strike a line of this box."""
        letters = {self.settings.letter(line.from_square) for corner in item.box.corners.values()
                   for line in corner.joint.lines if line.struck_with == "bevel"}
        return [each for each in self.settings.settings if each.letter in letters]

    def _face_scale(self, box, wide, tallest):
        """mm of paper to a mm of the four faces, one scale for all; room for a letter at either side."""
        sizes = [np.ptp(box.boards[name].in_board(box.boards[name].blank[0]).reshape(-1, 3), axis=0) for name in ORDER]
        return min((wide - 4 * self.main * 0.36) / max(size[0] for size in sizes), tallest / max(size[1] for size in sizes))

    def _face(self, box, cut, scale, width, small):
        """One board's outer face with each line drawn and its words beside it, hung from (0, 0), and how tall it is, mm."""
        board, unit = box.boards[cut.name], self.unit
        kind = "tail" if cut.carries == "tails" else "pin"
        wide, tall = width * DRAWN, height_of(self.main)
        flat = {name: board.in_board(getattr(board, name)[0])[..., :2]
                for name in ("outlines", "blank", "end_lines", "baselines")}
        corners = np.concatenate([flat[name].reshape(-1, 2) for name in ("blank", "end_lines", "baselines")])
        low, size = corners.min(axis=0), np.ptp(corners, axis=0) * scale
        foot = -tall - size[1] - 1.0
        flat = {name: (points - low) * scale + [(wide - size[0]) / 2, foot] for name, points in flat.items()}
        blank = flat["blank"]
        items = [Area("sawn off", np.array([blank[0, 0], blank[1, 0], blank[1, 1], blank[0, 1]]), "blank"),
                 Area(f"{kind} outer", flat["outlines"], cut.name)]
        items += [Stroke("struck", line, "end line") for line in flat["end_lines"]]
        items += [Stroke("baseline", line, "baseline") for line in flat["baselines"]]
        items += [Label(length(size, unit), np.array([wide / 2, y]), self.main, align="center", weight="bold")
                  for size, y in ((cut.outer_top, -0.8 * tall), (cut.outer_bottom, foot - 0.85 * tall))]
        for end, line, way in zip(cut.ends, flat["end_lines"], (-1, 1), strict=True):
            letter = self.settings.letter(end.end_line)
            if letter != "square":
                reach = 1.5 + width_of(letter, self.main, "bold") / 2
                at = line.mean(axis=0) + np.array([way * (reach + np.ptp(line[:, 0]) / 2), -1.8])
                items.append(Label(letter, at, self.main, align="center", weight="bold"))
        y = 0.0
        for number, text in enumerate(self._words(box, cut)):
            points, weight = (small, "normal") if number else (self.main, "bold")
            for row in wrapped(text, points, width - wide - BESIDE, weight):
                items.append(Label(row, np.array([wide + BESIDE, y - 0.8 * height_of(points)]), points, weight=weight))
                y -= height_of(points)
        return items, -min(foot - tall, y)

    def _words(self, box, cut):
        """What stands beside a face, its name and thickness first."""
        unit = self.unit
        yield f"{capital(cut.name)}, {length(cut.thickness, unit)}"
        yield f"{capital(stands_words(cut.lean))}; carries {cut.carries}."
        yield f"{length(cut.slant_width, unit)} up the face."
        yield f"End lines: {' · '.join(self._end(end) for end in cut.ends)}."
        yield f"Baselines: {' · '.join(length(end.baseline, unit) for end in cut.ends)}."
        yield f"Cheeks on faces{'; on ends' if cut.carries == 'tails' else ''}: {self._cheeks(box, cut)}."
        if any(end.proud for end in cut.ends):
            yield f"Sawn outside the end lines: {self._outside(cut)}."
        yield f"Arrises off: {rims_words(cut)}."
