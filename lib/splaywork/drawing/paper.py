"""Drawings at true scale on the paper of a printer, as PDF or SVG: what is larger than a page is tiled.

A `Drawing` is in mm and knows nothing of paper; `lay_out` puts it on `Page`s with a heading, a key and two bars to check
the scale by; `save_pages` writes them. Everything on a page is a `Stroke`, an `Area`, a `Label` or a `Picture`, in mm.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from io import BytesIO
from itertools import product
from math import ceil
from pathlib import Path
from typing import Any

import numpy as np
from matplotlib import rc_context
from matplotlib.figure import Figure
from matplotlib.font_manager import FontProperties, findfont, get_font
from matplotlib.patches import PathPatch, Polygon, Rectangle
from matplotlib.path import Path as Outline
from matplotlib.text import Text
from matplotlib.textpath import text_to_path
from matplotlib.transforms import Affine2D

from ..common import checks
from ..common.files import write_whole
from ..common.kinds import FilePath
from ..common.rotations import turned
from .canvas import NO_DATE, SETTINGS, Inset
from .palette import GUIDE, INK, PIN, PIN_INNER, TAIL, TAIL_INNER, WASTE, WHITE

PAPERS = {"A4": (210.0, 297.0), "A3": (297.0, 420.0), "Letter": (215.9, 279.4)}  # mm, upright: ISO 216, ASME Y14.1
INCH = 25.4  # mm
MARGIN = 10.0  # mm that printers leave white
OVERLAP = 30.0  # mm that tiled pages share; a label no larger is whole on one of them
FOOT = 18.0  # mm above the margin for the scale bars
FONT = "DejaVu Sans"  # comes with matplotlib
TITLE, NOTE, KEY = 11.0, 8.0, 7.5  # points
LEADING = 1.32  # of the letters' size, from line to line

# kind of stroke -> points wide, dash in widths of the line, colour
INKS = {
    "outline": (0.6, None, INK),
    "fold": (0.9, (8, 2.5, 1.2, 2.5), INK),
    "cheek": (1.3, None, INK),
    "baseline": (0.9, (5, 2), INK),
    "end line": (1.0, (1, 1.6), INK),
    "arm": (1.6, None, INK),
    "square": (0.7, (1, 2.5), GUIDE),
    "arrow": (0.9, None, INK),
    "rule": (0.5, None, GUIDE),
    "scale": (0.7, None, INK),
    "join": (0.6, (10, 4), GUIDE),
    "cross": (0.6, None, INK),
    "struck": (1.7, None, INK),
    "dimension": (0.45, None, INK),
}
FILLS = {"waste": {"facecolor": "none", "edgecolor": GUIDE, "hatch": "////", "linewidth": 0.0},
         "wedge": {"facecolor": WASTE, "edgecolor": "none"},
         "sawn off": {"facecolor": WASTE, "edgecolor": GUIDE, "linewidth": 0.5, "linestyle": (0, (3, 3))},
         "tab": {"facecolor": "none", "edgecolor": GUIDE, "hatch": "....", "linewidth": 0.0}}
FILLS |= {name: {"facecolor": colour, "edgecolor": INK, "linewidth": 0.6, "joinstyle": "miter"} for name, colour in
          (("tail outer", TAIL), ("tail inner", TAIL_INNER), ("tail end", TAIL_INNER),
           ("pin outer", PIN), ("pin inner", PIN_INNER), ("pin end", PIN_INNER))}
_TRUE_SCALE = ("Print at 100 % (“actual size”), not fitted to the page. Then measure both bars: where either is out, "
               "the sheet is of no use.")
_JOIN = "Lay the sheets over one another so that crosses and dashed lines meet, and trim along the dashed lines."


@lru_cache(maxsize=4096)
def _word_width(word, weight):
    """Width of a word, or of what stands between two, in sizes of its letters."""
    font = FontProperties(family=FONT, size=100, weight=weight)
    return text_to_path.get_text_width_height_descent(word, font, False)[0] / 100


def width_of(text: str, size: float, weight: str = "normal") -> float:
    """Width in mm of a text in letters of `size` points."""
    words = text.split(" ")
    sizes = sum(_word_width(word, weight) for word in words) + (len(words) - 1) * _word_width(" ", weight)
    return sizes * size * INCH / 72


@lru_cache(maxsize=1)
def letters() -> frozenset[str]:
    """Every character that sheets can be written with."""
    return frozenset(map(chr, get_font(findfont(FontProperties(family=FONT))).get_charmap()))


def height_of(size: float) -> float:
    """mm from one line of letters of `size` points to the next."""
    return size * LEADING * INCH / 72


def wrapped(text: str, size: float, width: float, weight: str = "normal") -> list:
    """The text as lines no wider than `width` mm; a word wider than that is broken."""
    lines, wide, words, space = [""], 0.0, 0, _word_width(" ", weight)
    for word in text.split():
        longer = wide + _word_width(word, weight)  # of the words of the line, as `width_of` adds them up
        if (longer + words * space) * size * INCH / 72 <= width:
            lines[-1], wide, words = f"{lines[-1]} {word}".strip(), longer, words + 1
            continue
        lines, wide, words = [*lines, ""], _word_width(word, weight), 1
        if wide * size * INCH / 72 <= width:
            lines[-1] = word
            continue
        for letter in word:
            if lines[-1] and width_of(lines[-1] + letter, size, weight) > width:
                lines.append("")
            lines[-1] += letter
        wide = _word_width(lines[-1], weight)
    return [line for line in lines if line]


@dataclass(frozen=True)
class Stroke:
    """A line through `points` (n, 2), in mm. kind: how it is drawn, a key of `INKS`. name: what it is."""

    kind: str
    points: np.ndarray
    name: str = ""


@dataclass(frozen=True)
class Area:
    """A filled or hatched polygon (n, 2), in mm. kind: a key of `FILLS`."""

    kind: str
    points: np.ndarray
    name: str = ""


@dataclass(frozen=True)
class Label:
    """A line of text, its baseline starting (align "left") or centred at `at` (2,), in mm, turned by `turn` degrees."""

    text: str
    at: np.ndarray
    size: float = NOTE
    turn: float = 0.0
    align: str = "left"
    weight: str = "normal"
    colour: str = INK

    @property
    def points(self) -> np.ndarray:
        """Corners (4, 2) of the box that its letters fill, in mm."""
        wide, tall = width_of(self.text, self.size, self.weight), self.size * INCH / 72
        left = -wide / 2 if self.align == "center" else 0.0
        (x0, x1), (y0, y1) = (left, left + wide), (-0.24 * tall, 0.76 * tall)
        box = np.array([[x0, y0], [x1, y0], [x1, y1], [x0, y1]])
        return box @ turned(self.turn) + self.at


@dataclass(frozen=True)
class Picture:
    """A picture as on the screen, in lines and letters: drawn only when its page is written.

    points: (2, 2), lower left and upper right corner, mm. draw(canvas): makes its artists on a canvas of that size,
    100 pixels to the inch.
    """

    draw: Callable
    points: np.ndarray


def moved(item: Any, shift: np.ndarray) -> Any:
    """The item, moved by `shift` (2,) mm."""
    return replace(item, at=item.at + shift) if isinstance(item, Label) else replace(item, points=item.points + shift)


def _extent(items):
    """(low, high), shape (2, 2), of all that is drawn."""
    points = np.concatenate([item.points for item in items])
    return np.array([points.min(axis=0), points.max(axis=0)])


@dataclass(frozen=True)
class Drawing:
    """What is to be printed, at true scale in mm, upright, not yet on paper.

    title, notes: heading and the paragraphs under it. items: Strokes, Areas and Labels. key: (kind, words) of what needs
    telling apart.
    """

    title: str
    notes: tuple
    items: tuple
    key: tuple = ()

    @cached_property
    def extent(self) -> np.ndarray:
        """(low, high), shape (2, 2), mm."""
        return _extent(self.items)


@dataclass(frozen=True)
class Page:
    """One sheet of paper, mm from its lower left corner.

    window: (low, high), shape (2, 2), where the drawing shows. inside: items of the drawing, cut off at the window.
    around: heading, key, scale bars, crosses. shift: (2,), where the drawing's own origin has come to lie.
    """

    width: float
    height: float
    window: np.ndarray
    inside: tuple
    around: tuple
    shift: np.ndarray


def _paragraphs(texts, size, left, top, width, weight="normal"):
    """Labels of wrapped paragraphs below `top`, and where they end, mm."""
    lines = [line for text in texts for line in wrapped(text, size, width, weight)]
    labels = [Label(line, np.array([left, top - height_of(size) * (number + 0.8)]), size, weight=weight)
              for number, line in enumerate(lines)]
    return labels, top - height_of(size) * len(lines)


def _key(key, left, top, width):
    """Samples of what is drawn with their words, and where they end, mm."""
    items, x, y = [], left, top - 1.5 - height_of(KEY)
    for kind, words in key:
        wide = 12 + width_of(words, KEY) + 5
        if x + wide - 5 > left + width:
            x, y = left, y - height_of(KEY) - 0.8
        if kind in FILLS:
            items.append(Area(kind, np.array([[x, y - 0.6], [x + 10, y - 0.6], [x + 10, y + 2.4], [x, y + 2.4]])))
        else:
            items.append(Stroke(kind, np.array([[x, y + 0.9], [x + 10, y + 0.9]])))
        items.append(Label(words, np.array([x + 12, y]), KEY))
        x += wide
    return items, y


def _heading(drawing, width, place=""):
    """Items of a page's heading, for paper `width` mm wide, with the top at 0; and where it ends, mm (below 0)."""
    room = width - 2 * MARGIN
    items, y = _paragraphs([drawing.title], TITLE, MARGIN, 0.0, room, "bold")
    notes, y = _paragraphs(drawing.notes + ((place,) if place else ()), NOTE, MARGIN, y - 0.8, room)
    key, y = _key(drawing.key, MARGIN, y, room) if drawing.key else ([], y)
    return items + notes + key, y - 5.0


def _scale_bars(width):
    """The two bars at the foot of a page, what they measure, and how to print it."""
    items = []
    for y, size, words in ((MARGIN + 12, 100.0, "100 mm"), (MARGIN + 4, 4 * INCH, "4 in")):
        ends = np.array([[MARGIN, y], [MARGIN + size, y]])
        items.append(Stroke("scale", ends, words))
        items += [Stroke("scale", end + np.array([[0, -1.8], [0, 1.8]])) for end in ends]
        items.append(Label(words, np.array([MARGIN + 4 * INCH + 2.5, y - 1]), NOTE, weight="bold"))
    left = MARGIN + 4 * INCH + 19
    return items + _paragraphs([_TRUE_SCALE], KEY, left, MARGIN + 15.5, width - MARGIN - left)[0]


def room_for_a_card(title: str, notes: tuple[str, ...]) -> np.ndarray:
    """(width, height) in mm that a drawing without a key can have and still fit one upright page of any paper."""
    return np.min([rooms(Drawing(title, notes, ()), paper)[0] for paper in PAPERS], axis=0)


def rooms(drawing: Drawing, paper: str) -> np.ndarray:
    """(2, 2): (width, height) in mm that what is drawn under this heading and key can have to fit one page of the paper,
    upright and on its side. ValueError as `lay_out`."""
    across, up = size_of(paper)
    return np.array([(width - 2 * MARGIN, height - 2 * MARGIN - FOOT + _heading(drawing, width)[1])
                     for width, height in ((across, up), (up, across))])


def _starts(low, high, room, before):
    """Where windows of `room` mm begin so that they cover low…high, OVERLAP in common from one to the next.

    before: how much of what they have to spare comes before `low`, 0 to 1.
    """
    count = max(1, ceil((high - low - OVERLAP) / (room - OVERLAP) - 1e-9))
    if high - low <= room:
        count = 1
    spare = count * room - (count - 1) * OVERLAP - (high - low)
    return low - before * spare + np.arange(count) * (room - OVERLAP)


def _joins(window, neighbours):
    """Dashed line and two crosses where this window's overlap with each neighbour has its middle: page mm."""
    items = []
    for axis, side in neighbours:
        at = window[side, axis] + (OVERLAP / 2 if side == 0 else -OVERLAP / 2)
        along = 1 - axis
        line = np.array([[at, at], window[:, along]]).T[:, ::1 if axis == 0 else -1]
        items.append(Stroke("join", line))
        for part in (0.3, 0.7):
            middle = line[0] + part * (line[1] - line[0])
            items += [Stroke("cross", middle + 5 * np.array([-way, way])) for way in np.eye(2)]
    return items


def _pages(drawing, width, height):
    """The drawing on paper of this size, as Pages."""
    low, high = drawing.extent
    for place in ("", "Sheet 00 of 00: row 00, column 00. " + _JOIN):  # tiled, the heading is longer
        heading, below = _heading(drawing, width, place)
        window = np.array([[MARGIN, MARGIN + FOOT], [width - MARGIN, height - MARGIN + below]])
        columns = _starts(low[0], high[0], window[1, 0] - window[0, 0], before=0.5)
        rows = _starts(low[1], high[1], window[1, 1] - window[0, 1], before=1.0)
        if len(columns) == len(rows) == 1:
            break
    count = len(columns) * len(rows)
    pages = []
    for row, column in product(range(len(rows))[::-1], range(len(columns))):
        if count > 1:
            place = (f"Sheet {len(pages) + 1} of {count}: row {len(rows) - row} from the top, column {column + 1} from "
                     f"the left. {_JOIN}")
            heading = _heading(drawing, width, place)[0]
        shift = window[0] - [columns[column], rows[row]]
        neighbours = [(axis, side) for axis, number, total in ((0, column, len(columns)), (1, row, len(rows)))
                      for side, there in ((0, number > 0), (1, number < total - 1)) if there]
        around = [moved(item, np.array([0, height - MARGIN])) for item in heading]
        pages.append(Page(width, height, window, tuple(_shown(drawing.items, shift, window)),
                          (*around, *_scale_bars(width), *_joins(window, neighbours)), shift))
    return pages


def _shown(items, shift, window):
    """The items that show in a window; a label only where it is whole."""
    for item in items:
        placed = moved(item, shift)
        low, high = _extent([placed])
        whole = (low >= window[0] - 1e-9).all() and (high <= window[1] + 1e-9).all()
        if whole or (not isinstance(item, Label) and (high >= window[0]).all() and (low <= window[1]).all()):
            yield placed


def size_of(paper: str) -> tuple[float, ...]:
    """(width, height) of "A4", "A3" or "Letter", upright, mm. ValueError for another paper."""
    if not isinstance(paper, str) or paper not in PAPERS:
        raise ValueError(f"The paper can be {', '.join(map(repr, PAPERS))}, not {checks.shown(paper)}.")
    return PAPERS[paper]


def lay_out(drawing: Drawing, paper: str = "A4") -> tuple[Page, ...]:
    """`Page`s of the drawing on "A4", "A3" or "Letter", upright or on its side: whichever takes fewer; upright if equal.

    ValueError for another paper.
    """
    size = size_of(paper)
    return tuple(min(_pages(drawing, *size), _pages(drawing, *size[::-1]), key=len))


def _figure(page):
    """The page as a matplotlib Figure, its mm converted to inches exactly."""
    figure = Figure(figsize=(page.width / INCH, page.height / INCH), facecolor=WHITE)
    on_page = Affine2D().scale(1 / INCH) + figure.dpi_scale_trans
    window = Rectangle(page.window[0], *(page.window[1] - page.window[0]), transform=on_page)
    for items, clip in ((page.inside, window), (page.around, None)):
        for item in items:
            if isinstance(item, Picture):
                item.draw(Inset(figure, item.points / INCH))
                continue
            artist = figure.add_artist(_artist(item, on_page))
            artist.set_clip_on(clip is not None)
            if clip is not None:
                artist.set_clip_path(clip)
    return figure


def _artist(item, on_page):
    if isinstance(item, Label):
        return Text(*item.at, item.text, transform=on_page, color=item.colour, rotation=item.turn,
                    rotation_mode="anchor", ha=item.align, va="baseline", parse_math=False, zorder=3,
                    fontproperties=FontProperties(family=FONT, size=item.size, weight=item.weight))
    if isinstance(item, Area):
        return Polygon(item.points, closed=True, transform=on_page, zorder=1, **FILLS[item.kind])
    wide, dash, colour = INKS[item.kind]
    style = "solid" if dash is None else (0, dash)
    return PathPatch(Outline(item.points), facecolor="none", edgecolor=colour, linewidth=wide, linestyle=style,
                     capstyle="butt", joinstyle="miter", transform=on_page, zorder=2)


def save_pages(path: FilePath, drawings: Any, paper: str = "A4", progress: Callable | None = None) -> tuple[Path, ...]:
    """Write drawings to `path`, which ends in .pdf (one file) or .svg (one file a page); returns the paths written.

    drawings: `Drawing`s, to be laid out on paper, and `Page`s, which are already.

    Several pages in SVG are numbered: corner-1.svg, corner-2.svg and so on. paper: "A4", "A3" or "Letter".
    progress(done, of): called after each page. Files that are there are replaced, each whole or not at all; the same
    drawings give the same bytes with the same release of matplotlib. ValueError for another ending or paper, a folder
    that isn't there, or nothing to print; OSError when the disk refuses.
    """
    path = Path(path).resolve()
    suffix = path.suffix.lower()
    if suffix not in NO_DATE:
        raise ValueError(f"Sheets are saved as PDF or SVG, and {path.name!r} is neither: end the name in .pdf or .svg.")
    if not path.parent.is_dir():
        raise ValueError(f"There is no folder {str(path.parent)!r} to save {path.name!r} in: make it first.")
    drawings = (drawings,) if isinstance(drawings, (Drawing, Page)) else tuple(drawings)
    if not drawings or not all(isinstance(drawing, (Drawing, Page)) for drawing in drawings):
        raise ValueError("There is nothing to print: give Drawings, such as wrap_template() and bevel_card() return.")
    pages = [page for drawing in drawings
             for page in ([drawing] if isinstance(drawing, Page) else lay_out(drawing, paper))]
    files = _pdf(pages, progress) if suffix == ".pdf" else _svgs(pages, progress)
    names = [path] if len(files) == 1 else [path.with_name(f"{path.stem}-{number}{path.suffix}")
                                            for number in range(1, len(files) + 1)]
    for name, content in zip(names, files, strict=True):
        write_whole(name, content)
    return tuple(names)


_STYLE = SETTINGS | {"hatch.linewidth": 0.5, "text.usetex": False, "path.simplify": False}


def _pdf(pages, progress):
    from matplotlib.backends.backend_pdf import PdfPages  # here: it takes 13 MB that only a kernel which prints needs

    out = BytesIO()
    with rc_context(_STYLE), PdfPages(out, metadata=NO_DATE[".pdf"]) as file:
        for number, page in enumerate(pages, start=1):
            file.savefig(_figure(page))
            if progress:
                progress(number, len(pages))
    return [out.getvalue()]


def _svgs(pages, progress):
    files = []
    for number, page in enumerate(pages, start=1):
        out = BytesIO()
        with rc_context(_STYLE):
            _figure(page).savefig(out, format="svg", metadata=NO_DATE[".svg"])
        files.append(out.getvalue())
        if progress:
            progress(number, len(pages))
    return files
