"""The paper model of a box on paper: what to stand it on and beside, and its two nets, all at one scale."""

from dataclasses import dataclass
from math import floor, log10
from typing import TYPE_CHECKING

import numpy as np

from ..common.printing import length
from ..common.tolerances import SAME_ANGLE
from ..corner.words import lean_words, series
from ..drawing.layout import rooms
from ..drawing.lettering import height_of, width_of, wrapped
from ..drawing.paper import Area, Drawing, Label, Stroke, moved
from .box import NAMES
from .paper_model import PaperModel, meet
from .paper_model_words import COMPARE, COMPARE_HELD, STEPS, by_value, say_model, say_one_gauge, say_projected

if TYPE_CHECKING:
    from .box import Box

TAB = 9.0  # mm of paper, the depth of a glue tab
SHALLOWEST = 14.0  # mm of paper up the lowest face: less can't be folded or read, and the net is tiled instead
GAP = 6.0  # mm of paper between parts
WEDGE_TOP = 12.0  # mm
FOLDED_OUT = 26.0  # mm, the leaf of a wedge that makes it stand
LEAF = 34.0  # mm, each leaf of the height strip
TALLEST_WEDGE = 70.0  # mm
_SLACK = 0.01  # mm that rounding may take
_LETTERS = "AB"
_KEY = (("outline", "cut"), ("fold", "fold, the print outside"), ("tab", "glue tab, behind the edge of its letter"))
_BESIDE_KEY = (("outline", "cut"), ("fold", "fold square"), ("arm", "footprint, height mark"))


@dataclass(frozen=True)
class _Strip:
    """Faces joined on paper with a tab at the last one's right end: outlines (n, 4, 2), tab (4, 2), mm of paper."""

    first: int
    outlines: np.ndarray
    tab: np.ndarray

    @property
    def points(self):
        return np.concatenate([self.outlines.reshape(-1, 2), self.tab])

    @property
    def overlaps(self):
        """Whether the paper would be needed twice."""
        parts = [*self.outlines, self.tab]
        return any(meet(one, other) for number, one in enumerate(parts) for other in parts[:number])

    def turned(self):
        """The strip with its first bottom corner and its last level with each other, lower left corner at the origin."""
        across = self.outlines[-1, 1] - self.outlines[0, 0]
        across = across / np.linalg.norm(across)
        turn = np.array([[across[0], -across[1]], [across[1], across[0]]])
        low = (self.points @ turn).min(axis=0)
        return _Strip(self.first, self.outlines @ turn - low, self.tab @ turn - low)

    def moved(self, shift):
        return _Strip(self.first, self.outlines + shift, self.tab + shift)


def _strips(net, count, scale):
    """The net as strips of `count` faces, at 1 : scale."""
    strips = []
    for first in range(0, 4, count):
        outlines = net.strip(first, count) / scale
        after = (first + count) % 4
        top = net.faces[after, 2, 0] - net.faces[after, 3, 0]
        deepest = min(TAB, 0.4 * min(net.bottoms[after], top) / scale)
        strips.append(_Strip(first, outlines, _tab(outlines[-1], net.end_lines[after, 0], deepest)).turned())
    return strips


def _tab(face, end_line, depth):
    """The tab (4, 2) at the right end of a face, so shaped that it hides behind a face with that end line at its left."""
    bottom, top = face[1], face[2]
    edge = top - bottom
    long = np.linalg.norm(edge)
    up = edge / long
    out = np.array([up[1], -up[0]])
    slants = 1 / np.tan(np.radians(np.minimum(60, np.array([90 + end_line, 90 - end_line]) - 10)))  # along, for each mm out
    depth = min(depth, 0.6 * long / slants.sum())
    low, high = depth * slants
    return np.array([bottom, bottom + depth * out + low * up, top + depth * out - high * up, top])


def _stacked(strips):
    """The strips one above another, the first on top."""
    placed, y = [], 0.0
    for strip in strips[::-1]:
        placed.append(strip.moved(np.array([0.0, y])))
        y += strip.points[:, 1].max() + GAP
    return placed[::-1]


def _spread(strips):
    """(width, height) of strips."""
    return np.ptp(np.concatenate([strip.points for strip in strips]), axis=0)


def _fits(sizes, room):
    """Whether a (width, height) fits one of the rooms."""
    return bool((sizes + _SLACK <= room).all(axis=-1).any())


def _scales():
    """1, 1.1 … 9.9, 10, 11 … 990: what the model can be made smaller by."""
    return [round(step * 10.0**power, 1) for power in (-1, 0, 1) for step in range(10, 100)]


def _scale(net, count, room):
    """The largest model, 1 : scale, whose strips of `count` faces fit the room."""
    return next((scale for scale in _scales() if _fits(_spread(_stacked(_strips(net, count, scale))), room)), np.inf)


def paper_model(box: "Box", exaggerate: float = 1.0, paper: str = "A4", unit: str = "mm",
                held: bool = False) -> tuple[Drawing, ...]:
    """A `Box` as a paper model: a tuple of `Drawing`s for `save_pages`, steps and what stands beside it first, then its nets.

    exaggerate: how many times its leans, 1 or more; where that can't be had, as many as can, and the sheets say so. paper:
    "A4", "A3" or "Letter", for which it is made as large as fits. unit: "mm" or "in", for the words. held: both boxes are to
    stand side by side, each on a footprint and between two wedges of its own lean; without, the second is held to the first
    one's. ValueError for anything else.
    """
    length(0, unit)
    model = PaperModel.of(box, exaggerate)
    nets = [("the true end lines", model.projected, say_projected(model, unit))]
    if _strikes(model):  # the first sheet says why not
        nets.append(("the shortcut lines", model.one_gauge, say_one_gauge(model, unit)))
    room = np.min([rooms(_net_heading(*net, model, 9.9, unit), paper) for net in nets], axis=0)
    beside = rooms(_beside_heading(model, 9.9, unit, held), paper)
    counts, scale = _how(nets, room, beside, model, unit, held)
    sheets = [_net_sheet(*net, model, scale, count, unit) for net, count in zip(nets, counts, strict=True)]
    return (*_beside(model, scale, beside, unit, held), *sheets)


def _how(nets, room, beside, model, unit, held):
    """How many faces each net's strips have, and the scale of all that is drawn."""
    found = []
    for _, net, _ in nets:
        whole, halves = (_scale(net, count, room) for count in (4, 2))
        split = halves < 0.8 * whole or any(strip.overlaps for strip in _strips(net, 4, whole))
        found.append((2, halves) if split else (4, whole))
    smallest = max(scale for _, scale in found)
    scale = next(scale for scale in _scales() if scale >= smallest and _roomy(_parts(model, scale, unit, held), beside))
    lowest = max(1.0, _rounded_down(model.slants.min() / SHALLOWEST))
    return [count for count, _ in found], min(scale, lowest)


def _rounded_down(value):
    """The value to two digits, not more than it is."""
    unit = 10.0**(floor(log10(value)) - 1)
    return round(floor(value / unit + 1e-9) * unit, 3)


def _scale_words(scale, unit):
    if scale == 1:
        return "Scale 1 : 1, the size of the box itself."
    bar = 100.0 if unit == "mm" else 101.6
    return f"Scale 1 : {scale:g}: {length(bar, unit)} of the box is {length(bar / scale, unit)} here."


def _net_heading(ends, net, said, model, scale, unit):
    """Heading and key of a net's sheet."""
    return Drawing(f"Paper model: net with {ends}", (f"{_scale_words(scale, unit)} {say_model(model, unit)}", said), (), _KEY)


def _net_sheet(ends, net, said, model, scale, count, unit):
    heading = _net_heading(ends, net, said, model, scale, unit)
    strips = _stacked(_strips(net, count, scale))
    items = [item for number, strip in enumerate(strips) for item in _strip_items(strip, number, len(strips))]
    return Drawing(heading.title, heading.notes, tuple(items), _KEY)


def _strip_items(strip, number, strips):
    """Lines, tab and words of one strip."""
    outlines, tab = strip.outlines, strip.tab
    around = np.concatenate([outlines[:, 0], tab, outlines[::-1, 3], outlines[:1, 0]])
    items = [Stroke("outline", around, "outline")]
    items += [Stroke("fold", outline[1:3], "fold") for outline in outlines]
    items += [Area("tab", tab, "tab"), _edge_letter(tab[[0, 3]], _LETTERS[number])]
    items.append(_edge_letter(outlines[0, [0, 3]], _LETTERS[(number - 1) % strips]))  # of the tab that goes behind it
    for index, outline in enumerate(outlines):
        items += _face_words(outline, NAMES[strip.first + index])
    return items


def _edge_letter(edge, letter):
    """The letter of a glued edge (2, 2), bottom first, just right of it."""
    up = edge[1] - edge[0]
    long = np.linalg.norm(up)
    up = up / long
    out = np.array([up[1], -up[0]])
    size = float(np.clip(long / 3, 5.0, 9.0))
    turn = float(np.degrees(np.arctan2(-up[0], up[1])))
    return Label(letter, edge.mean(axis=0) + 3.2 * out - 0.12 * size * up, size, turn, "center", "bold")


def _face_words(outline, name):
    """The board's name, "outside" and "bottom" on a face."""
    along = outline[1] - outline[0]
    wide = np.linalg.norm(along)
    along = along / wide
    up = np.array([-along[1], along[0]])
    tall = (outline[3] - outline[0]) @ up
    turn = float(np.degrees(np.arctan2(along[1], along[0])))
    middle = outline[:2].mean(axis=0)
    top = np.linalg.norm(outline[2] - outline[3])
    narrow = min(wide, top) - 14
    lean = (outline[2:].mean(axis=0) - middle) @ along  # the middle of the top lies beside that of the bottom
    rows = [(name, 1.0, "bold", 0.60), ("outside", 0.75, "normal", 0.36), ("bottom", 0.7, "normal", 0.07)]
    size = min(12.0, tall * 72 / 25.4 * 0.24, 12.0 * narrow / width_of("outside", 12.0 * 0.75))
    size = max(size, 4.0)
    return [Label(text, middle + (at * lean) * along + at * tall * up, size * part, turn, "center", weight)
            for text, part, weight, at in rows]


def _beside_heading(model, scale, unit, held):
    """Heading and key of the sheet of steps."""
    last = (COMPARE_HELD if held else COMPARE) if _closes(model) else say_one_gauge(model, unit)
    notes = (f"{_scale_words(scale, unit)} {say_model(model, unit)}", *STEPS, last)
    return Drawing("Paper model: how to make it, and what stands beside it", notes, (), _BESIDE_KEY)


def _parts(model, scale, unit, held):
    """Footprint, wedges and height strip, each a list of items."""
    wedges = _wedges_of_each(model, scale) if held else _wedges(model, scale)
    return [_footprint(model, scale)] * (1 + held) + [*wedges, _height_strip(model, scale, unit)]


def _size(items):
    """(width, height) of items, mm."""
    return np.ptp(np.concatenate([item.points for item in items]), axis=0)


def _roomy(parts, room):
    """Those of the rooms (2, 2) that are large enough for every one of the parts."""
    return [size for size in room if all(_fits(_size(items), size) for items in parts)]


def _beside(model, scale, room, unit, held):
    """Steps, footprint, wedges and height strip, on one sheet where they fit."""
    heading, parts = _beside_heading(model, scale, unit, held), _parts(model, scale, unit, held)
    sheets = min((_shelved(parts, *size) for size in _roomy(parts, room) or room), key=len)
    return tuple(Drawing(heading.title, heading.notes if number == 0 else heading.notes[:1], tuple(items), _BESIDE_KEY)
                 for number, items in enumerate(sheets))


def _closes(model):
    """Whether there is a one-gauge net, another than the projected one, that folds shut."""
    return _strikes(model) and model.one_gauge.closes


def _strikes(model):
    """Whether there is a one-gauge net, and another than the projected one."""
    try:
        return bool(model.one_gauge) and not model.exact
    except ValueError:
        return False


def _shelved(parts, wide, tall):
    """Parts, lists of items, side by side on shelves from the top down: a list of items for each sheet."""
    sheets, x, y, shelf = [[]], 0.0, 0.0, 0.0
    for items in parts:
        points = np.concatenate([item.points for item in items])
        low, (across, up) = points.min(axis=0), np.ptp(points, axis=0)
        if x and x + across > wide - _SLACK:
            x, y, shelf = 0.0, y - shelf - GAP, 0.0
        if sheets[-1] and up - y > tall - _SLACK:
            sheets, x, y, shelf = [*sheets, []], 0.0, 0.0, 0.0
        sheets[-1] += [moved(item, np.array([x, y - up]) - low) for item in items]
        x, shelf = x + across + GAP, max(shelf, up)
    return sheets


def _footprint(model, scale):
    """The rectangle of the bottom edges, its longer side across, with the boards' names along them."""
    wide, deep = model.bottoms[:2] / scale
    corners = np.array([[0, 0], [wide, 0], [wide, deep], [0, deep]])
    if deep > wide:
        corners = corners[:, ::-1] * [1, -1]  # a quarter turn clockwise: the front to the left
    items = [Stroke("arm", corners[[0, 1, 2, 3, 0]], "footprint")]
    size = float(np.clip(min(wide, deep) / 5, 4.0, 8.0))
    for number, name in enumerate(NAMES):
        start, end = corners[number], corners[(number + 1) % 4]
        along = (end - start) / np.linalg.norm(end - start)
        inward = np.array([-along[1], along[0]])
        turn = float(np.degrees(np.arctan2(along[1], along[0])))
        items.append(Label(name, (start + end) / 2 + 1.2 * inward, size, turn, "center"))
    items.append(Label("footprint", corners.mean(axis=0) - [0, 0.12 * size], size, 0.0, "center", "bold"))
    return items


def _wedges(model, scale):
    """A wedge for each intended lean, to stand outside the wall."""
    tall = min(model.height / scale, TALLEST_WEDGE)
    return [_wedge(series(names), lean, tall) for names, lean in by_value(NAMES, model.leans) if abs(lean) >= SAME_ANGLE]


def _wedges_of_each(model, scale):
    """A pair for each lean at which a wall of either box stands, as tall as that box."""
    nets = [("true lines", model.projected), *([("shortcut lines", model.one_gauge)] if _closes(model) else [])]
    pairs = []
    for ends, net in nets:
        tall = min(float(net.heights.max()) / scale, TALLEST_WEDGE)
        groups = by_value(NAMES, net.leans[:, 0])
        for names, lean in groups:
            if SAME_ANGLE <= abs(lean) < 90:
                pairs += [_wedge(f"{ends}{'' if len(groups) == 1 else ', ' + series(names)}", lean, tall)] * 2
    return pairs


def _wedge(names, lean, tall):
    """A right trapezium, its sloping side to the wall, with a leaf at its upright side."""
    run = tall * np.tan(np.radians(lean))
    bottom, top = (0.0, run) if lean > 0 else (-run, 0.0)
    plumb = abs(run) + WEDGE_TOP
    far = plumb + FOLDED_OUT
    around = np.array([[bottom, 0], [far, 0], [far, tall], [top, tall], [bottom, 0]])
    size = min(7.0, tall * 72 / 25.4 / 6)
    rows = wrapped(f"{names}: {lean_words(lean)}", size, FOLDED_OUT - 2)
    y = tall / 2 + height_of(size) * (len(rows) / 2 - 0.75)
    return [Stroke("outline", around, "wedge"), Stroke("fold", np.array([[plumb, 0], [plumb, tall]]), "fold"),
            *(Label(row, np.array([plumb + FOLDED_OUT / 2, y - height_of(size) * number]), size, 0.0, "center")
              for number, row in enumerate(rows)),
            Label("to the wall", np.array([(bottom + top) / 2, tall / 2]) + _off(bottom, top, tall, size), size,
                  float(np.degrees(np.arctan2(tall, top - bottom))), "center")]


def _off(bottom, top, tall, size):
    """From the middle of a wedge's sloping side to the baseline of the words beside it."""
    edge = np.array([top - bottom, tall])
    return 1.4 * size * 25.4 / 72 * np.array([edge[1], -edge[0]]) / np.linalg.norm(edge)


def _height_strip(model, scale, unit):
    """Two leaves to fold square: on the left one the intended height, on the right one the one-gauge box's, if it closes."""
    top = model.height / scale + 4.0
    items = [Stroke("outline", np.array([[0, 0], [2 * LEAF, 0], [2 * LEAF, top], [0, top], [0, 0]]), "height strip"),
             Stroke("fold", np.array([[LEAF, 0], [LEAF, top]]), "fold")]
    items += _mark("intended", model.height, 0.0, top, scale, unit)
    if _closes(model):
        items += _mark("shortcut", float(model.one_gauge.heights[0]), LEAF, top, scale, unit)
    return items


def _mark(words, height, left, top, scale, unit):
    """A height right across a leaf, its words below it, or on it where they would not fit between it and the table."""
    for size in np.arange(6.0, 3.0, -0.25):
        texts = [*wrapped(words, size, LEAF - 2), length(height, unit)]
        tall = len(texts) * height_of(size) + 0.6
        if tall <= top:
            break
    y = height / scale
    start = y - 0.6 if y - 0.6 >= tall else y + tall
    return [Stroke("arm", np.array([[left, y], [left + LEAF, y]]), words),
            *(Label(text, np.array([left + 1, start - (row + 0.85) * height_of(size)]), float(size))
              for row, text in enumerate(texts))]
