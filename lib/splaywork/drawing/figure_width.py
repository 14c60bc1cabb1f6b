"""A picture at a width in print: drawn smaller, its letters large enough to be read at that width.

Where the words leave no room, each group of them becomes a number on the drawing, and the words stand in a key under it.
A key's own rows, a sample of a line and what it is, go there too.
"""

from dataclasses import dataclass
from itertools import combinations
from typing import Any

import numpy as np
from matplotlib.collections import LineCollection, PolyCollection
from matplotlib.colors import to_hex
from matplotlib.patheffects import Normal
from matplotlib.text import Text

from .canvas import DPI, EDGE, Canvas, Edge
from .lettering import width_of
from .palette import GUIDE, INK, WHITE
from .view import on_circle

LEAST = 8.0  # points of the smallest letters
POINT = DPI / 72  # pixels
FINEST = 0.35  # points of the finest line
SYMBOL = 3  # characters of a name that stays on the drawing, such as a, 90° or tₒ
ABOUT = np.array([14, 9])  # pixels from words within which their leader begins
SAMPLE, BEFORE = (10, 44), 34  # pixels: of a key's sample at least and at most (a tick is shorter), and from it to its words
ROUND = 8  # corners: a shape of more is a circle
MARK = 6.4  # points: radius of the disc round a number
LEADING = 1.35  # from one line of the key to the next, in letter heights
MARGIN = 2.0  # points that stay white round the drawing
TALLEST = 1.2  # times its width: of a drawing
COLUMN = 240.0  # points of a column of the key


@dataclass
class _Words:
    """Texts that belong together, each row (sample or None, words). leader: where a line to them ends, or None.

    align: "left" or "right" where the words begin or end at the drawing, and otherwise in the middle.
    """

    low: np.ndarray
    high: np.ndarray
    rows: list
    leader: np.ndarray | None = None
    align: str = "center"

    @property
    def middle(self) -> np.ndarray:
        return (self.low + self.high) / 2

    def place(self, reach: float) -> np.ndarray:
        """Where a mark of radius `reach` stands for them: where they begin or end beside a drawing, else in their middle."""
        if self.leader is not None:
            return self.leader
        across = {"left": min(self.low[0] + reach, self.middle[0]), "right": max(self.high[0] - reach, self.middle[0])}
        return np.array([across.get(self.align, self.middle[0]), self.middle[1]])

    @property
    def is_symbol(self) -> bool:
        return len(self.rows) == 1 and self.rows[0][0] is None and len(self.rows[0][1].strip()) <= SYMBOL


def letters(canvas: Canvas) -> list[Text]:
    """The texts that are shown on a canvas."""
    return [artist for artist in canvas.figure.findobj(Text) if artist.get_visible() and artist.get_text().strip()]


def box_of(canvas: Canvas, text: Text) -> np.ndarray:
    """(low, high), each (2,) in the canvas's pixels."""
    agg: Any = canvas.figure.canvas
    extent = text.get_window_extent(agg.get_renderer())
    return np.array([extent.p0, extent.p1])


def at_width(canvas: Canvas, width: float, key: bool) -> None:
    """Make a canvas, a copy of one's own, a figure of that width in points. key: with its words, or its symbols alone."""
    scale = width * POINT / canvas.width
    if key and _letters_fit(canvas, scale):
        _shrink(canvas, scale)
        canvas.to_inches.clear().scale(scale / DPI)
        canvas.figure.set_size_inches(width / 72, canvas.height * scale / DPI)
        for text in letters(canvas):
            text.set_fontsize(max(LEAST, float(text.get_fontsize()) * scale))
        return
    groups = _grouped(canvas, key)
    symbols = [group for group in groups if group.is_symbol]
    others = [group for group in groups if not group.is_symbol] if key else []
    for text in letters(canvas):
        text.set_visible(False)
    low, high = _extent(canvas, symbols, width)
    scale = min(1.0, (width - 2 * MARGIN) * POINT / (high[0] - low[0]), TALLEST * width * POINT / (high[1] - low[1]))
    _shrink(canvas, scale)
    marked = [group for group in others if not _is_key(group)]
    reach = MARK * POINT / scale
    # words beside the drawing come near it
    places = [np.clip(group.place(reach), low + reach, high - reach) for group in marked]
    lines = _key_lines(marked, [group for group in others if _is_key(group)], width)
    below = LEADING * LEAST * (max(line.row for line in lines) + 1.5) if lines else 0.0  # points
    beside = (width - scale * (high[0] - low[0]) / POINT) / 2
    canvas.to_inches.clear().translate(*-low).scale(scale / DPI).translate(beside / 72, (MARGIN + below) / 72)
    canvas.figure.set_size_inches(width / 72, (scale * (high[1] - low[1]) / POINT + 2 * MARGIN + below) / 72)
    for group in symbols:
        x, y = _points(canvas, group.middle)
        _write(canvas, group.rows[0][1], x, y, align="center", middle=True, weight="bold")
    _mark(canvas, [_points(canvas, place) for place in places], [_points(canvas, group.middle) for group in symbols], width)
    for line in lines:
        _write_line(canvas, line, below)


def _letters_fit(canvas, scale):
    """Whether the letters, none smaller than the least, stay clear of one another and inside the picture."""
    boxes = []
    for text in letters(canvas):
        low, high = box_of(canvas, text)
        grown = max(1.0, LEAST / (text.get_fontsize() * scale))
        sides = {"left": low[0], "right": high[0]}
        anchor = np.array([sides.get(text.get_horizontalalignment(), (low[0] + high[0]) / 2), low[1]])
        boxes.append((anchor + grown * (low - anchor), anchor + grown * (high - anchor)))
    inside = all((low >= -1).all() and (high <= (canvas.width + 1, canvas.height + 1)).all() for low, high in boxes)
    return inside and not any((np.minimum(one[1], other[1]) - np.maximum(one[0], other[0]) > 1).all()
                              for one, other in combinations(boxes, 2))


def _shrink(canvas, scale):
    """Lines as much finer as the drawing is smaller, but none finer than can be printed."""
    for artist in canvas.figure.findobj(lambda artist: isinstance(artist, LineCollection | PolyCollection)):
        widths = np.asarray(artist.get_linewidths())
        artist.set_linewidths(np.where(widths > 0, np.maximum(widths * scale, FINEST), 0.0))
        if artist.get_path_effects():
            artist.set_path_effects([Edge(EDGE * scale), Normal()])


def _grouped(canvas, key):
    """The words in groups, each with the samples that stand before its rows; those samples are taken off the drawing.

    key: False to take the leaders of words off too.
    """
    rows = []
    for text in sorted(letters(canvas), key=lambda text: box_of(canvas, text)[0][0]):
        low, high = box_of(canvas, text)
        for row in rows:  # a number and its unit, a value and its name
            if abs(row.low[1] - low[1]) < 4 and -3 < low[0] - row.high[0] < 10:
                row.high = np.maximum(row.high, high)
                row.rows = [(None, f"{row.rows[0][1]} {text.get_text().strip()}")]
                break
        else:
            rows.append(_Words(low, high, [(None, text.get_text().strip())], align=text.get_horizontalalignment()))
    _take_leaders(canvas, rows, key)
    for row in rows:
        if not row.is_symbol:
            row.rows = [(_take_sample(canvas, row), row.rows[0][1])]
    groups = []
    for row in sorted(rows, key=lambda row: -row.low[1]):
        near = next((group for group in groups if _is_under(row, group)), None)
        if near is None or row.leader is not None:
            groups.append(row)
        else:
            near.low, near.high = np.minimum(near.low, row.low), np.maximum(near.high, row.high)
            near.rows += row.rows
    return groups


def _take_leaders(canvas, rows, keep):
    """Give each row the place where the leader that begins at it goes on; what runs under the words is taken off.

    keep: False to take off a whole leader, except a symbol's.
    """
    found = []
    for artist in canvas.figure.findobj(LineCollection):
        if not artist.get_visible() or not len(artist.get_paths()) or to_hex(artist.get_edgecolor()[0]) != GUIDE:
            continue
        for at, path in enumerate(artist.get_paths()):
            for back, way in enumerate((path.vertices, path.vertices[::-1])):
                for number, row in enumerate(rows):
                    near = ((way >= row.low - ABOUT) & (way <= row.high + ABOUT)).all(axis=1)
                    if len(way) > 1 and near[0] and not near[-1]:  # of two lines of words the upper one begins
                        off = abs(way[0][1] - row.middle[1] + 5) + 0.1 * abs(way[0][0] - row.middle[0])
                        found.append((off, number, back, int(np.argmin(near)) - 1, artist, at))
    taken = set()
    for _, number, back, start, artist, at in sorted(found, key=lambda one: one[:4]):
        if rows[number].leader is None and (id(artist), at) not in taken:
            taken.add((id(artist), at))
            shapes = [path.vertices for path in artist.get_paths()]
            way = (shapes[at][::-1] if back else shapes[at])[start:]
            shapes[at] = way if keep or rows[number].is_symbol else way[:1].repeat(2, axis=0)
            artist.set_segments(shapes)
            rows[number].leader = way[0]


def _is_under(row, group):
    gap = group.low[1] - row.high[1]
    lined_up = min(abs(row.low[0] - group.low[0]), abs(row.high[0] - group.high[0]), abs(row.middle[0] - group.middle[0])) < 12
    if row.is_symbol or group.is_symbol:
        return lined_up and -8 < gap < 8 and _is_bare(row) and _is_bare(group)
    if _is_key(row) and _is_bare(group) and group.low[0] > row.low[0] + 3:
        return False  # a row of a key at the picture's foot: what heads samples begins no further right than they do
    across = min(row.high[0], group.high[0]) - max(row.low[0], group.low[0])
    return -8 < gap < 18 and (lined_up or across > 0.5 * min(row.high[0] - row.low[0], group.high[0] - group.low[0]))


def _is_bare(group):
    return all(sample is None for sample, _ in group.rows)


def _is_key(group):
    return all(sample is not None for sample, _ in group.rows)


def _take_sample(canvas, row):
    """What stands short before the words, on their line, taken off the drawing; or None.

    (style, "line", "box" or "ring", style of a dot inside a ring or None).
    """
    for artist in canvas.figure.findobj(lambda artist: isinstance(artist, LineCollection | PolyCollection)):
        shapes = [path.vertices for path in artist.get_paths()]
        for at, shape in enumerate(shapes):
            if not artist.get_visible() or len(shape) < 2 or (isinstance(artist, LineCollection) and not _is_level(shape)):
                continue
            low, high = shape.min(axis=0), shape.max(axis=0)
            level = row.low[1] - 3 <= low[1] and high[1] <= row.high[1] + 3
            left = [shape for other, shape in enumerate(shapes) if other != at]
            short = level and SAMPLE[0] <= high[0] - low[0] <= SAMPLE[1] and 0 <= row.low[0] - high[0] <= BEFORE
            if short and not any(_touch(shape, other) for other in left if len(other)):
                style = _style(artist, at)
                _drop(artist, at, left)
                if isinstance(artist, LineCollection):
                    return style, "line", None
                return (style, "ring", _take_dot(canvas, low, high)) if len(shape) > ROUND else (style, "box", None)
    return None


def _take_dot(canvas, low, high):
    """The style of a shape that lies inside a ring, taken off the drawing with it; or None."""
    for artist in canvas.figure.findobj(PolyCollection):
        shapes = [path.vertices for path in artist.get_paths()]
        for at, shape in enumerate(shapes):
            if artist.get_visible() and len(shape) and (shape >= low).all() and (shape <= high).all():
                style = _style(artist, at)
                _drop(artist, at, [shape for other, shape in enumerate(shapes) if other != at])
                return style
    return None


def _is_level(shape):
    return len(shape) == 2 and abs(shape[1, 1] - shape[0, 1]) < 1


def _touch(one, other):
    """Whether two shapes of a collection belong together, as a bar and its ticks do."""
    return bool((other.min(axis=0) - 3 <= one.max(axis=0)).all() and (other.max(axis=0) + 3 >= one.min(axis=0)).all())


def _style(artist, at):
    """Keywords that draw a shape as the collection draws its own number `at`."""
    def one(values):
        return values[at % len(values)] if len(values) else "none"

    return {"facecolor": one(artist.get_facecolor()), "edgecolor": one(artist.get_edgecolor()),
            "linewidth": one(artist.get_linewidths()), "linestyle": one(artist.get_linestyles())}


def _drop(artist, at, left):
    """Take one shape off a collection, and its colours and weights with it where each shape has its own."""
    count = len(left) + 1
    own = {}
    for name in ("facecolor", "edgecolor", "linewidth"):
        values = getattr(artist, f"get_{name}")()
        if np.ndim(values) and len(values) == count > 1:
            own[name] = np.delete(values, at, axis=0)
    artist.set(**own)
    if isinstance(artist, LineCollection):
        artist.set_segments(left)
    else:
        artist.set_verts(left)


def _extent(canvas, symbols, width):
    """(low, high) of what is drawn and its symbols, with room for marks round it, in the canvas's pixels."""
    points = [symbol.middle + side for symbol in symbols for side in (np.array([-16, -14]), np.array([16, 14]))]
    for artist in canvas.figure.findobj(lambda artist: isinstance(artist, LineCollection | PolyCollection)):
        clip = artist.get_clip_box()
        if artist.get_visible():
            points += [shape if clip is None else np.clip(shape, clip.p0, clip.p1)
                       for shape in (path.vertices for path in artist.get_paths()) if len(shape)]
    points = np.vstack(points) if points else np.array([[0, 0], [canvas.width, canvas.height]])
    points = np.clip(points, 0, (canvas.width, canvas.height))
    low, high = points.min(axis=0), points.max(axis=0)
    room = 2.6 * MARK * (high[0] - low[0]) / width
    return low - room, high + room


def _points(canvas, place):
    """Where a place of the canvas stands on the figure, points from its lower left."""
    return canvas.to_inches.transform(place) * 72


def _write(canvas, words, x, y, size=LEAST, align="left", middle=False, weight="normal", colour=INK):
    """Text at points from the figure's lower left."""
    text = Text(x / 72, y / 72, words, fontsize=size, ha=align, va="center_baseline" if middle else "baseline", color=colour,
                fontweight=weight)
    text.set_transform(canvas.figure.dpi_scale_trans)
    text.set_zorder(9)
    return canvas.figure.add_artist(text)


def _draw(canvas, collection, zorder):
    collection.set_transform(canvas.figure.dpi_scale_trans)
    collection.set_zorder(zorder)
    canvas.figure.add_artist(collection)


def _mark(canvas, places, symbols, width):
    """Numbered discs at the places, pushed apart where they would lie on one another or on a symbol."""
    if not places:
        return
    places = np.array(places, dtype=float)
    high = canvas.figure.get_size_inches()[1] * 72
    order = np.sign(np.arange(len(places))[:, None] - np.arange(len(places)))
    by_turns = np.stack([order, -0.3 * order], axis=-1)  # where two stand in one place
    for _ in range(60):
        ways = places[:, None] - places[None]
        apart = np.linalg.norm(ways, axis=-1) + np.eye(len(places)) * 1e6
        ways = np.where(apart[..., None] < 1e-6, by_turns, ways / np.maximum(apart, 1e-6)[..., None])
        places += 0.5 * (np.maximum(2.1 * MARK - apart, 0)[..., None] * ways).sum(axis=1)
        for symbol in symbols:
            away = places - symbol
            near = np.maximum(np.linalg.norm(away, axis=1, keepdims=True), 1e-6)
            places += np.maximum(1.9 * MARK - near, 0) * away / near
        places = np.clip(places, MARK + 0.5, (width - MARK - 0.5, high - MARK - 0.5))
    discs = [(place + MARK * _circle()) / 72 for place in places]
    _draw(canvas, PolyCollection(discs, facecolors=WHITE, edgecolors=INK, linewidths=0.5), 8)
    for number, place in enumerate(places, 1):
        _write(canvas, f"{number}", *place, align="center", middle=True, weight="bold")


@dataclass
class _Line:
    """One line of the key: which row of which column, its mark or None, and its pieces, words or samples, with their places."""

    row: int
    column: int
    mark: int | None
    pieces: list


def _key_lines(marked, keyed, width):
    """The key, wrapped to the width: numbered groups in their order, then the samples."""
    columns = max(1, int(width // COLUMN))
    wide = width / columns
    paragraphs = [(number, _unnumbered(group.rows, number)) for number, group in enumerate(marked, 1)]
    paragraphs += [(None, [row]) for group in keyed for row in group.rows]
    lines = []
    for mark, rows in paragraphs:
        indent = 2 * MARK + 4
        x, row = indent, []
        lines.append((mark, row))
        for at, (sample, words) in enumerate(rows):
            pieces = [] if sample is None else [(sample, 20.0)]
            ending = _ending(rows, at) if at < len(rows) - 1 else ""
            pieces += [(word, _wide(word + " ")) for word in f"{words}{ending}".split()]
            for piece, takes in pieces:
                if x + takes > wide - 6 and row:
                    x, row = indent, []
                    lines.append((None, row))
                if row and isinstance(piece, str) and isinstance(row[-1][1], str):
                    row[-1] = row[-1][0], f"{row[-1][1]} {piece}"
                else:
                    row.append((x, piece))
                x += takes
    each = -(-len(lines) // columns)
    return [_Line(at % each, at // each, mark, [(at // each * wide + x, piece) for x, piece in row])
            for at, (mark, row) in enumerate(lines)]


def _unnumbered(rows, number):
    """Rows that don't say their own number once more, as a picture's numbered titles would."""
    (sample, words), *others = rows
    title = words.removeprefix(f"{number} ")
    return [(sample, title if title[:1].isupper() else words), *others]


def _ending(rows, at):
    """What stands between a row and the next: nothing where a sentence goes on, after a comma or a line as wide as any."""
    (_, words), (sample, following) = rows[at:at + 2]
    widest = max(_wide(words) for _, words in rows)
    goes_on = sample is None and following[:1].islower() and ": " not in following  # a name and its value begin anew
    wrapped = goes_on and words[-1].isalpha() and _wide(words) > 0.85 * widest
    return "" if words[-1] in ",;:.…" or wrapped or len(words) <= SYMBOL else ";"


def _wide(words):
    """Points that words of the least size take."""
    return width_of(words, LEAST) * 72 / 25.4


def _write_line(canvas, line, below):
    y = below - LEADING * LEAST * (line.row + 1)
    if line.mark:
        _write(canvas, f"{line.mark}", line.pieces[0][0] - 4, y, align="right", weight="bold")
    for x, piece in line.pieces:
        if isinstance(piece, str):
            _write(canvas, piece, x, y)
            continue
        style, kind, dot = piece
        middle = np.array([x + 8, y + 2.8])
        if kind == "line":
            ends = (middle + np.array([[-8, 0], [8, 0]])) / 72
            _draw(canvas, LineCollection([ends], colors=[style["edgecolor"]], linewidths=[style["linewidth"]],
                                         linestyles=[_unscaled(style)], capstyle="butt"), 8)
        elif kind == "box":
            _draw_shape(canvas, middle + np.array([[-8, -2.3], [8, -2.3], [8, 3.2], [-8, 3.2]]), style)
        else:
            for radius, filled in ((3.4, style), (1.5, dot)):
                if filled is not None:
                    _draw_shape(canvas, middle + radius * _circle(), filled)


def _circle():
    turn = np.radians(np.linspace(0, 360, 33))
    return on_circle(turn)


def _draw_shape(canvas, points, style):
    _draw(canvas, PolyCollection([points / 72], facecolors=[style["facecolor"]], edgecolors=[style["edgecolor"]],
                                 linewidths=[style["linewidth"]]), 8)


def _unscaled(style):
    """A collection gives its dashes in points; to be set they are wanted in widths of the line."""
    offset, dashes = style["linestyle"]
    return "solid" if dashes is None else (offset / style["linewidth"], [dash / style["linewidth"] for dash in dashes])
