"""Pages for the bench, filled from the top down with headings, facts, tables and drawings; one layout for every paper.

All is laid out in mm on a page of A4's width or height and then scaled to the paper, so that A3 can be read from
further off. What doesn't fit goes on the next page, with its title again.
"""

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

import numpy as np

from .lettering import height_of, width_of, wrapped
from .palette import GUIDE
from .paper import Label, Page, Picture, Stroke, moved, size_of

SIDE = 14.0  # mm that stay white all round, on A4
HEAD, FOOT = 11.0, 7.0  # mm for the running head and foot
TINY, SMALL, PLAIN, LARGE, HUGE = 7.0, 8.0, 9.0, 13.0, 20.0  # points
GAP = 3.5  # mm between parts


def shortened(text: str, size: float, width: float, weight: str = "normal") -> str:
    """The text, or as much of its start as is at most `width` mm wide, with "…"."""
    if width_of(text, size, weight) <= width:
        return text
    low, high = 0, len(text)
    while low < high:
        middle = (low + high + 1) // 2
        fits = width_of(text[:middle].rstrip() + "…", size, weight) <= width
        low, high = (middle, high) if fits else (low, middle - 1)
    return text[:low].rstrip() + "…"


def lines(text: str, size: float, width: float, most: Any = None, weight: str = "normal") -> list:
    """The text wrapped, the last of at most so many lines shortened."""
    wrap = wrapped(text, size, width, weight)
    if most is None or len(wrap) <= most:
        return wrap
    return [*wrap[:most - 1], shortened(" ".join(wrap[most - 1:]), size, width, weight)]


def right(text: str, x: float, y: float, size: float = PLAIN, weight: str = "normal", colour: str | None = None) -> Label:
    """A Label that ends at x."""
    label = Label(text, np.array([x - width_of(text, size, weight), y]), size, weight=weight)
    return label if colour is None else replace(label, colour=colour)


def _scaled(item, scale):
    if isinstance(item, Label):
        return replace(item, at=item.at * scale, size=item.size * scale)
    return replace(item, points=item.points * scale)


def scale_of(paper: str) -> float:
    """How much larger than on A4 everything is drawn on a paper; less than 1 on a shorter one."""
    wide, high = size_of(paper)
    return min(wide / 210, high / 297)


class BenchPages:
    """Pages of one kind: `name` in the head of each, `foot` (or nothing) at its foot; written by its methods, read by `pages`.

    width: mm that may be written on; x counts from its left. Sizes in points. small: of the head, the captions and the heads
    of tables; the foot too, where it is given. side: mm that stay white all round, on A4. low: mm above that, down to which
    is written; the foot takes 4.
    """

    def __init__(self, paper: str, name: str, foot: str, small: float | None = None, side: float = SIDE,
                 low: float = FOOT) -> None:
        self._small, self._tiny, self._side, self._low = small or SMALL, small or TINY, side, low
        self._scale = scale_of(paper)
        self._paper = np.array(size_of(paper)) / self._scale
        self.width = float(self._paper[0]) - 2 * self._side
        self._name, self._foot = name, foot
        self._title: str | None = None
        self._pages: list[list] = []
        self._y = 0.0

    @property
    def room(self) -> float:
        """mm that are left on this page."""
        return self._y - self._side - self._low

    @property
    def begun(self) -> int:
        """How many pages there are so far."""
        return len(self._pages)

    def begin(self, title: str, under: str = "", size: float = 17.0) -> None:
        """A new page with a title of `size` points and, smaller, what stands under it."""
        self._title = title
        self._turn_over()
        self._write(title, size, "bold", most=2)
        if under:
            self.skip(0.8)
            self._write(under, 10.0)
        self.skip(GAP + 1 if size == 17.0 else 0.0)

    def _turn_over(self):
        high = float(self._paper[1])
        y = high - self._side - 3.5
        low = self._side + FOOT - 3
        edges = self._side, self._side + self.width
        name = shortened(self._name, self._small, self.width - 32)
        self._pages.append([
            replace(Label(name, np.array([self._side, y]), self._small), colour=GUIDE),
            Stroke("rule", np.array([[edges[0], y - 2], [edges[1], y - 2]])),
            *([Stroke("rule", np.array([[edges[0], low], [edges[1], low]])),
               replace(Label(shortened(self._foot, self._tiny, self.width), np.array([self._side, self._side + 0.8]),
                             self._tiny), colour=GUIDE)] if self._foot else [])])
        self._y = high - self._side - HEAD

    def need(self, height: float) -> None:
        """Go on to the next page unless so many mm are left on this one."""
        if self.room < height:
            self._turn_over()
            self._write(f"{self._title} (goes on)", LARGE, "bold", most=1)
            self.skip(GAP)

    def skip(self, height: float) -> None:
        """Leave so many mm white."""
        self._y -= height

    def _put(self, item, x=0.0, y=0.0):
        self._pages[-1].append(moved(item, np.array([self._side + x, self._y + y])))

    def _write(self, text, size=PLAIN, weight="normal", x=0.0, width=None, most=None, colour=None):
        width = self.width - x if width is None else width
        for line in lines(text, size, width, most, weight):
            self.need(height_of(size))
            label = Label(line, np.array([0, -0.8 * height_of(size)]), size, weight=weight)
            self._put(label if colour is None else replace(label, colour=colour), x)
            self._y -= height_of(size)

    def heading(self, text: str, keep: float = 20.0) -> None:
        """A heading, on the same page as `keep` mm of what follows."""
        self.need(keep + height_of(11))
        self.skip(1.5)
        self._write(text, 11.0, "bold")
        self.skip(1.2)

    def write(self, text: str, size: float = PLAIN, weight: str = "normal") -> None:
        """A paragraph."""
        self._write(text, size, weight)
        self.skip(1.2)

    def points(self, texts: Sequence, size: float = PLAIN, numbered: bool = False) -> None:
        """Paragraphs with a dash before each, or with their numbers from 1."""
        for number, text in enumerate(texts, 1):
            mark, x = (f"{number}.", 7.0) if numbered else ("–", 5.0)
            wrap = wrapped(text, size, self.width - x)
            self.need(min(len(wrap), 4) * height_of(size))
            self._put(Label(mark, np.array([0.5, -0.8 * height_of(size)]), size))
            self._write(text, size, x=x)
            self.skip(1.0)

    def place(self, items: list, height: float) -> None:
        """Items drawn below and to the right of (0, 0), `height` mm high."""
        self.need(height)
        for item in items:
            self._put(item)
        self._y -= height

    def picture(self, draw: Callable, height: float, left: float = 0.0) -> None:
        """A picture of the screen's kind, `draw` as of a `Picture`, from `left` to the right edge; mm."""
        self.place([Picture(draw, np.array([[left, -height], [self.width, 0]]))], height)

    def facts(self, facts: Any, columns: Any = 3, size: float = LARGE) -> None:
        """(caption, value, note) each: the value large, in columns of equal width."""
        wide = self.width / columns
        for start in range(0, len(facts), columns):
            cells = [fact_items(caption, value, note, wide - 4, size, self._small)
                     for caption, value, note in facts[start:start + columns]]
            tall = max(height for _, height in cells)
            self.need(tall)
            for column, (items, _) in enumerate(cells):
                for item in items:
                    self._put(item, column * wide)
            self._y -= tall + 2.5

    def table(self, columns: Any, rows: Sequence, size: float = PLAIN, bold: tuple = (0,), most: Any = None,
              air: float = 1.8) -> None:
        """columns: (heading, share of the width, "left" or "right"). rows: texts, wrapped in their columns.

        bold: numbers of the columns that are bold. most: lines of a cell; the last is shortened. air: mm that a row is higher
        than its letters.
        """
        shares = np.array([share for _, share, _ in columns], dtype=float)
        widths = shares / shares.sum() * self.width
        heads = [(text, place) for text, _, place in columns]

        def laid(texts, weights, size):
            return [lines(text, size, wide - 3, most, weight) for text, wide, weight in
                    zip(texts, widths, weights, strict=True)]

        def put(cells, weights, size, colour=None):
            left = 0.0
            for wrap, wide, weight, (_, place) in zip(cells, widths, weights, heads, strict=True):
                for number, line in enumerate(wrap):
                    y = -height_of(size) * (number + 0.8) - air / 2
                    label = (right(line, left + wide - 3, y, size, weight) if place == "right"
                             else Label(line, np.array([left, y]), size, weight=weight))
                    self._put(label if colour is None else replace(label, colour=colour))
                left += wide
            self._y -= height_of(size) * max(map(len, cells)) + air
            self._put(Stroke("rule", np.array([[0, 0], [self.width, 0]])))

        weights = ["bold" if number in bold else "normal" for number in range(len(columns))]
        small = self._small
        head, plain = laid([text for text, _ in heads], ["normal"] * len(columns), small), ["normal"] * len(columns)
        head_tall = height_of(small) * max(map(len, head)) + air + 0.2 if any(text for text, _ in heads) else 0.0
        for number, row in enumerate(rows):
            cells = laid(row, weights, size)
            tall = height_of(size) * max(1, *map(len, cells)) + air + 0.2
            pages = len(self._pages)
            self.need(tall + (head_tall if number == 0 else 0))
            if head_tall and (number == 0 or len(self._pages) > pages):
                put(head, plain, small, GUIDE)
            put(cells, weights, size)
        self.skip(GAP)

    def pages(self) -> list[Page]:
        """All as `Page`s."""
        width, height = self._paper * self._scale
        edge = self._side * self._scale
        window = np.array([[edge, edge], [width - edge, height - edge]])
        return [Page(width, height, window, (), tuple(_scaled(item, self._scale) for item in items), np.zeros(2))
                for items in self._pages]


def fact_items(caption: str, value: str, note: str, width: float, size: float = LARGE, small: float = SMALL) -> tuple:
    """A caption, a value in large letters and a note under it, hung from (0, 0); and how tall they are, mm."""
    items, y = [], 0.0
    parts = [(caption, small, "normal", GUIDE), (value, size, "bold", None), (note, small, "normal", None)]
    for text, points, weight, colour in parts:
        while points > small and width_of(text, points, weight) > width:
            points -= 0.5
        for line in wrapped(text, points, width, weight):
            label = Label(line, np.array([0, y - 0.8 * height_of(points)]), points, weight=weight)
            items.append(label if colour is None else replace(label, colour=colour))
            y -= height_of(points)
    return items, -y


def numbered(pages: list[Page], size: float = SMALL) -> list[Page]:
    """The pages, each with "page n of m" at its top right, in letters of that size."""
    done = []
    for number, page in enumerate(pages, start=1):
        edge = float(page.window[0, 0])
        own = not page.inside
        text = f"page {number} of {len(pages)}"
        scale = min(page.width / 210, page.height / 297) if own else 1.0
        y = page.height - edge - (3.5 * scale if own else 4.0)
        label = right(text, page.width - edge, y, size * scale, "bold")
        done.append(replace(page, around=(*page.around, label)))
    return done
