"""Drawings laid out on the paper of a printer, with a heading, a key and two bars to check the scale by.

What is larger than a page is tiled.
"""

from itertools import product
from math import ceil

import numpy as np

from .lettering import INCH, KEY, NOTE, TITLE, height_of, width_of, wrapped
from .paper import FILLS, MARGIN, PAPERS, Area, Drawing, Label, Page, Stroke, extent_of, moved, size_of

OVERLAP = 30.0  # mm that tiled pages share; a label no larger is whole on one of them
FOOT = 18.0  # mm above the margin for the scale bars
_TRUE_SCALE = ("Print at 100% (“actual size”), not fitted to the page. Then measure both bars: where either is out, "
               "the sheet is of no use.")
_JOIN = "Lay the sheets over one another so that crosses and dashed lines meet, and trim along the dashed lines."


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
        low, high = extent_of([placed])
        whole = (low >= window[0] - 1e-9).all() and (high <= window[1] + 1e-9).all()
        if whole or (not isinstance(item, Label) and (high >= window[0]).all() and (low <= window[1]).all()):
            yield placed


def lay_out(drawing: Drawing, paper: str = "A4") -> tuple[Page, ...]:
    """`Page`s of the drawing on "A4", "A3" or "Letter", upright or on its side: whichever takes fewer; upright if equal.

    ValueError for another paper.
    """
    size = size_of(paper)
    upright, aside = _pages(drawing, *size), _pages(drawing, *size[::-1])
    return tuple(aside if len(aside) < len(upright) else upright)
