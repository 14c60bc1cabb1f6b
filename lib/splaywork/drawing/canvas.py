"""A fixed-size canvas in pixels: artists are made once, their data swapped, and the PNG written quickly.

The artists belong to the figure itself, on pixels of its own: axes, even when off, cost more than half the lines.
"""

from contextlib import contextmanager
from functools import lru_cache
from io import BytesIO
from math import ceil
from threading import RLock
from typing import Any

import numpy as np
from matplotlib.backends.backend_agg import FigureCanvasAgg, RendererAgg
from matplotlib.collections import Collection, LineCollection, PolyCollection
from matplotlib.figure import Figure
from matplotlib.path import Path
from matplotlib.patheffects import AbstractPathEffect, Normal
from matplotlib.text import Text
from matplotlib.transforms import Affine2D, Bbox, TransformedBbox
from numpy.typing import ArrayLike
from PIL import Image

from .palette import GUIDE, INK, WASTE, WHITE, lookup, palette

DPI = 100
DASH = (0, (3.5, 1.5))
BANDS = 16  # of a picture, turned into indices one by one: what lies between is large, and its memory isn't given back
# Letters as outlines in SVG, as embedded TrueType in PDF: no reader needs the fonts. No date, and ids that stay.
SETTINGS = {"svg.fonttype": "path", "svg.hashsalt": "splaywork", "pdf.fonttype": 42}
NO_DATE = {".svg": {"Date": None}, ".pdf": {"CreationDate": None}}
EDGE = 2.0  # points that an edged line is wider, both sides together


class Edge(AbstractPathEffect):
    """A white edge round a line, as much wider than the line whatever its weight; wider: in points, both sides together."""

    def __init__(self, wider: float = EDGE) -> None:
        super().__init__()
        self.wider = wider

    def draw_path(self, renderer: Any, gc: Any, path: Any, affine: Any, fill: Any = None) -> None:
        """The same line in white, wider."""
        wider = renderer.new_gc()
        wider.copy_properties(gc)
        wider.set_linewidth(gc.get_linewidth() + self.wider)
        wider.set_foreground(WHITE)
        renderer.draw_path(wider, path, affine, fill)
        wider.restore()


@lru_cache(maxsize=4096)
def _stamp(text, font, colour, dpi):
    """A line of text as RGBA pixels, and how far its baseline stands above the bottom row."""
    width, height, descent = RendererAgg(1, 1, dpi).get_text_width_height_descent(text, font, False)
    renderer = RendererAgg(ceil(width) + 4, ceil(height) + 4, dpi)
    gc = renderer.new_gc()
    gc.set_foreground(colour)
    renderer.draw_text(gc, 2, renderer.height - ceil(descent) - 2, text, font, 0)
    return np.array(renderer.buffer_rgba())[::-1], ceil(descent) + 2


@lru_cache(maxsize=512)
def _advance(character, font, dpi):
    """Pixels from one character to the next."""
    renderer = RendererAgg(1, 1, dpi)
    pair, single = (renderer.get_text_width_height_descent(text, font, False)[0] for text in (character + "0", "0"))
    return round(pair - single)


def _stamps(text, font, colour, dpi):
    """(offset, image, baseline) for each stamp of a text, and the width of all: words whole, numbers by the digit.

    Numbers change with every move of a slider; their digits are equally wide and need no fitting together.
    """
    if set(text) <= set("0123456789.°−"):
        offsets = np.cumsum([0] + [_advance(character, font, dpi) for character in text])
        pieces = zip(offsets, text, strict=False)
        return [(offset, *_stamp(character, font, colour, dpi)) for offset, character in pieces], offsets[-1]
    image, baseline = _stamp(text, font, colour, dpi)
    return [(0, image, baseline)], image.shape[1] - 4


_ONE_AT_A_TIME = RLock()
_renderer = lru_cache(maxsize=8)(RendererAgg)


@contextmanager
def _bitmap(width, height, dpi=DPI):
    """A renderer of that size in pixels, which all canvases of the size share: each takes 1.6 MB."""
    with _ONE_AT_A_TIME:
        yield _renderer(width, height, dpi)


def _indexed(rgba):
    """The palette's index of each colour, red in the lowest byte; the upper five bits of each part count."""
    return lookup().take((rgba & 0xF8) << 7 | (rgba & 0xF800) >> 6 | (rgba & 0xF80000) >> 19)


class StampedText(Text):
    """Text that is laid out once for each wording and then stamped: laying it out costs more than all the lines."""

    def draw(self, renderer: Any) -> None:
        """As Text.draw; other back ends, and turned text, get the ordinary route."""
        if not isinstance(renderer, RendererAgg) or self.get_rotation():
            super().draw(renderer)
        elif self.get_visible() and self.get_text():
            stamps, width = _stamps(self.get_text(), self.get_fontproperties(), self.get_color(), renderer.dpi)
            x, y = self.get_transform().transform(self.get_position())
            x -= {"left": 0, "center": width / 2, "right": width}[self.get_horizontalalignment()]
            gc = renderer.new_gc()
            for offset, image, baseline in stamps:
                renderer.draw_image(gc, round(x) + offset - 2, round(y - baseline), image)
            gc.restore()


class Quads(PolyCollection):
    """Many outlines of four points each. Their paths are made once: making them anew costs more than drawing them."""

    def __init__(self, **style: Any) -> None:
        super().__init__([], **style)
        self._points, self._widths = np.empty((0, 4, 2)), np.empty(0)
        self._pool: list[Path] = []

    def set_quads(self, outlines: np.ndarray, widths: np.ndarray) -> None:
        """Draw outlines (n, 4, 2), in order, with lines of these widths (n,) in points."""
        count = len(outlines)
        if count > len(self._pool):
            self._points = np.empty((2 * count, 4, 2))
            self._pool = [Path(points) for points in self._points]  # each looks into the array, and follows it
        self._points[:count] = outlines
        Collection.set_paths(self, self._pool[:count])
        if not np.array_equal(widths, self._widths):
            self._widths = widths
            self.set_linewidth(widths.tolist())


class Canvas:
    """A white canvas of width × height pixels, origin at the bottom left. Artists are kept; only their data changes.

    pen: how many times as heavy its lines are drawn; as `usual_pen` unless given. zoom: how many times as large the PNG
    is, letters and lines too; places on the canvas stay in its own pixels. least: points of its smallest type; what is
    smaller is set at this size. All may be changed at any time, and are the canvas's own: a file that `save_figure` or a
    sheet writes of it has lines and letters as usual.
    """

    def __init__(self, width: float, height: float, pen: float = 1.0, zoom: float = 1.0, least: float = 0.0) -> None:
        self.width, self.height, self.pen, self.zoom, self.least = width, height, pen, zoom, least
        self.figure = Figure(figsize=(width / DPI, height / DPI), dpi=DPI, facecolor=WHITE)
        FigureCanvasAgg(self.figure)
        self.to_inches = Affine2D().scale(1 / DPI)  # what a figure of another width changes, in a copy
        self._pixels = self.to_inches + self.figure.dpi_scale_trans  # at any dpi that a file is saved with

    def polygons(self, fill: Any = WHITE, edge: str = "none", width: float = 1.0, **style: Any) -> PolyCollection:
        """An empty PolyCollection; give it data with set_verts, and set_facecolor for a colour each."""
        return self._keep(PolyCollection([], facecolors=fill, edgecolors=edge, linewidths=width, **style))

    def quads(self, **style: Any) -> "Quads":
        """An empty `Quads`; give it data with set_quads, and colours and widths for each."""
        return self._keep(Quads(**style))

    def waste(self) -> PolyCollection:
        """An empty PolyCollection for wood that is cut away; give it data with set_verts."""
        return self.polygons(fill=WASTE, edge=GUIDE, width=0.8, linestyles=[(0, (2, 2))])

    def lines(self, colour: str = INK, width: float = 1.0, dash: Any = "solid", edged: bool = False,
              **style: Any) -> LineCollection:
        """An empty LineCollection; give it data with set_segments. edged: in white, to stand out from dark wood."""
        if edged:
            style["path_effects"] = [Edge(), Normal()]
        return self._keep(LineCollection([], colors=colour, linewidths=width, linestyles=dash, capstyle="butt", **style))

    def text(self, x: float, y: float, text: str = "", size: float = 10, colour: str = INK, align: str = "left",
             weight: str = "normal") -> Any:
        """A line of text with its baseline at (x, y)."""
        artist = StampedText(x, y, text, color=colour, fontsize=size, fontweight=weight, ha=align, va="baseline")
        artist.set_transform(self._pixels)
        return self.figure.add_artist(artist)  # text keeps its own, higher order

    def clip(self, artist: Any, frame: ArrayLike) -> None:
        """Let a collection of this canvas show only within the frame ((left, bottom), (right, top))."""
        artist.set_clip_box(TransformedBbox(Bbox(frame), self._pixels))

    def width_of(self, text: StampedText) -> float:
        """Pixels that a text artist of this canvas is wide, shown or hidden."""
        visible = text.get_visible()
        text.set_visible(True)  # matplotlib takes a hidden text to be one pixel wide
        with _bitmap(self.width, self.height) as bitmap:
            width = text.get_window_extent(bitmap).width
        text.set_visible(visible)
        return width

    def _keep(self, collection):
        collection.set_zorder(1 + self.artist_count() / 1000)  # later artists lie on top, whatever their kind
        collection.set_transform(self._pixels)
        return self.figure.add_artist(collection)

    def artist_count(self) -> int:
        """How many artists the canvas holds: it does not grow as the picture changes."""
        return len(self.figure.artists)

    def pixels(self) -> np.ndarray:
        """The picture as drawn now, (height, width, 4) uint8."""
        with self._drawn() as bitmap:
            return np.array(bitmap.buffer_rgba())

    @contextmanager
    def _drawn(self):
        dpi = DPI * self.zoom
        with _bitmap(round(self.width * self.zoom), round(self.height * self.zoom), dpi) as bitmap, self._weighted():
            bitmap.clear()
            self.figure.dpi = dpi
            try:
                self.figure.draw(bitmap)
            finally:
                self.figure.dpi = DPI
            yield bitmap

    @contextmanager
    def _weighted(self):
        """With the lines as heavy as the pen, and no type smaller than the least, while they are drawn."""
        heavy = [(artist.set_linewidths, artist.get_linewidths(), np.multiply(artist.get_linewidths(), self.pen))
                 for artist in self.figure.artists if self.pen != 1 and isinstance(artist, Collection)]
        large = [(artist.set_fontsize, artist.get_fontsize(), self.least)
                 for artist in self.figure.artists if isinstance(artist, Text) and artist.get_fontsize() < self.least]
        try:
            for change, _, for_now in (*heavy, *large):
                change(for_now)
            yield
        finally:
            for change, usual, _ in (*heavy, *large):
                change(usual)

    def image(self) -> Image.Image:
        """The picture as drawn now, in the 256 colours of the palette."""
        with self._drawn() as bitmap:
            rgba = np.asarray(bitmap.buffer_rgba()).view("<u4")[..., 0]  # red in the lowest byte
            image = Image.fromarray(np.concatenate([_indexed(rows) for rows in np.array_split(rgba, BANDS)]))
        image.putpalette(palette().astype(np.uint8).tobytes())
        return image

    def png(self) -> bytes:
        """PNG bytes of the `image`."""
        out = BytesIO()
        self.image().save(out, "PNG", compress_level=1)
        return out.getvalue()


class Inset(Canvas):
    """A canvas on part of a figure: `corners` (2, 2), its lower left and upper right, inches from the lower left."""

    pen, zoom, least = 1.0, 1.0, 0.0

    def __init__(self, figure: Figure, corners: np.ndarray) -> None:
        self.width, self.height = (corners[1] - corners[0]) * DPI
        self.figure = figure
        self._pixels = Affine2D().scale(1 / DPI).translate(*corners[0]) + figure.dpi_scale_trans


class OnCanvas:
    """A picture that is drawn on a `canvas` of its own: as PNG bytes, and as itself where a notebook shows it."""

    canvas: Canvas

    def __repr__(self) -> str:
        return f"<{type(self).__name__}: {self.canvas.width} × {self.canvas.height} pixels>"

    def png(self) -> bytes:
        """PNG bytes of the picture as last updated."""
        return self.canvas.png()

    def _repr_png_(self) -> bytes:
        return self.png()
