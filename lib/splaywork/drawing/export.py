"""Pictures as files for a write-up: SVG and PDF that fit a column and come out the same each time."""

import re
from copy import deepcopy
from io import BytesIO
from pathlib import Path
from typing import Any
from xml.sax.saxutils import escape

import numpy as np
from matplotlib import rc_context
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.collections import Collection, LineCollection
from matplotlib.colors import to_hex, to_rgba_array
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Patch
from matplotlib.text import Text

from ..common import checks
from ..common.files import write_whole
from ..common.kinds import FilePath
from .canvas import NO_DATE, SETTINGS, Canvas
from .figure_width import at_width, letters
from .palette import GUIDE, INK, MEASURE, SHORTCUT

LETTERS = {"svg.fonttype": "none"}  # an SVG's letters are text, which can be read aloud, searched and changed
WIDTHS = {"column": 84.0, "page": 174.0}  # mm of usual journals
NARROWEST, WIDEST = 50.0, 400.0  # mm
LUMA = np.array([0.299, 0.587, 0.114])  # of red, green and blue in a grey: ITU-R BT.601
COLOURED = {Collection: ("facecolor", "edgecolor"), Patch: ("facecolor", "edgecolor"), Line2D: ("color",),
            Text: ("color",)}
# In grey a colour is told by its dash, in widths of the line: those that are tried, in this order.
DASHES = (None, (3.5, 1.5), (1, 2), (6, 1.5, 1, 1.5), (2, 1), (8, 2), (6, 1.5, 1, 1.5, 1, 1.5), (1, 1), (4, 4), (10, 2, 3, 2),
          (1, 4), (12, 2, 1, 2), (2, 3), (5, 1, 2, 1), (16, 3), (3, 1, 1, 1, 1, 1))
HEAVIER = 1.3  # times: the least that tells two weights apart


def save_figure(path: FilePath, picture: Any, grey: bool = False, width: str | float | None = None, key: bool = True) -> None:
    """Write a picture to `path`, which ends in .svg or .pdf; a file that is there is replaced, whole or not at all.

    Parameters
    ----------
    path : str or Path
    picture : a picture such as `CornerPicture`, its `Canvas`, or a still such as `corner_still` gives
        Of a moving still its first frame is saved.
    grey : bool
        In shades of grey. Lines of different colours then differ by their dash or weight.
    width : "column", "page", float or None
        84 mm, 174 mm, or 50 to 400 mm. Letters are 8 points or more at that width. Where the words leave no room, numbers
        stand for them on the drawing and a key under it tells them. None is the picture as on the screen.
    key : bool
        False for the drawing alone, with its symbols and without words: it needs a width.

    Raises
    ------
    ValueError
        For another ending, a folder that isn't there, what is no picture, or another width.

    Notes
    -----
    The same picture gives the same bytes with the same release of matplotlib. An SVG holds its letters as text, and a title
    and a description; a PDF has its fonts inside.

    >>> import splaywork as sw
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     sw.save_figure(f"{folder}/corner.svg", sw.corner_still(sw.Corner(16, 11)))
    """
    path, canvas = Path(path), getattr(picture, "canvas", picture)
    if path.suffix.lower() not in NO_DATE:
        raise ValueError(f"A figure is saved as SVG or PDF, and {path.name!r} is neither: end the name in .svg or .pdf.")
    path = path.resolve()
    if not path.parent.is_dir():
        raise ValueError(f"There is no folder {str(path.parent)!r} to save {path.name!r} in: make it first.")
    if not isinstance(canvas, Canvas):
        raise ValueError(f"{type(picture).__name__} is no picture to save: give a picture such as CornerPicture().")
    wide = _in_mm(width)
    if not checks.flag("choice of a key", key) and wide is None:
        raise ValueError("A drawing without its words needs a width: give width='column', width='page' or mm.")
    said = _said(picture, canvas)
    write_whole(path, _drawn(prepared(canvas, grey, wide, key), path.suffix.lower(), said))


def _in_mm(width: Any) -> float | None:
    if width is None:
        return None
    if isinstance(width, str):
        return WIDTHS[checks.choice("width", width, tuple(WIDTHS))]
    wide = checks.size("width", width)
    if not NARROWEST <= wide <= WIDEST:
        raise ValueError(f"The width is {wide:g} mm: give {NARROWEST:g} to {WIDEST:g} mm, 'column' or 'page'.")
    return wide


def _said(picture, canvas):
    """(title, description) of a picture: a still's words, else what is written on it."""
    words = getattr(picture, "words", None)
    if not isinstance(words, str):
        kind = type(picture).__name__.removesuffix("Picture")
        title = re.sub(r"(?<=[a-z])(?=[A-Z])", " ", kind).capitalize()
        return title, "; ".join(text.get_text().strip() for text in letters(canvas))
    return re.split(r"(?<=[.:;])\s", words, maxsplit=1)[0].rstrip(".:;"), words


def prepared(canvas: Canvas, grey: bool = False, width: float | None = None, key: bool = True) -> Canvas:
    """A copy of a canvas as it is written: a panel may be drawing the canvas itself just now. width in mm, or None."""
    canvas = deepcopy(canvas)
    FigureCanvasAgg(canvas.figure)
    if width is not None:
        at_width(canvas, width * 72 / 25.4, key)
    if grey:
        _tell_apart(canvas.figure)
        for kind, names in COLOURED.items():
            for artist in canvas.figure.findobj(kind):
                artist.set(**{name: _greyed(getattr(artist, f"get_{name}")()) for name in names})
    return canvas


def _drawn(canvas, suffix, said):
    """The bytes of a prepared canvas."""
    title, description = said
    out = BytesIO()
    with rc_context(SETTINGS | LETTERS):
        more = {"Title": title} | ({} if suffix == ".svg" else {"Subject": description})
        canvas.figure.savefig(out, format=suffix[1:], metadata=NO_DATE[suffix] | more)
    if suffix == ".pdf":
        return out.getvalue()
    svg = out.getvalue().decode().replace("<svg ", '<svg role="img" ', 1)
    return svg.replace("</title>", f"</title>\n <desc>{escape(description)}</desc>", 1).encode()


def _greyed(colour):
    """The grey of one colour or of several, as light as they are."""
    rgba = to_rgba_array(colour)
    rgba[:, :3] = (rgba[:, :3] @ LUMA)[:, None]
    return rgba if np.ndim(colour) > 1 else tuple(rgba[0]) if len(rgba) else "none"


def line_styles(figure: Figure) -> dict[tuple, list[tuple[LineCollection, int]]]:
    """{(colour, weight, dash): [(collection, at), …]} of every line that is shown; a dash in widths of the line, or None."""
    styles: dict[tuple, list[tuple[LineCollection, int]]] = {}
    artist: Any
    for artist in figure.findobj(LineCollection):
        if not artist.get_visible():
            continue
        for at, path in enumerate(artist.get_paths()):
            colour, weight, (_, dash) = (values[at % len(values)] for values in (
                artist.get_edgecolor(), artist.get_linewidths(), artist.get_linestyles()))
            if len(path.vertices) and weight > 0:
                dash = dash and tuple(round(float(part) / weight, 2) for part in dash)
                styles.setdefault((to_hex(colour), round(float(weight), 3), dash), []).append((artist, at))
    return styles


def _tell_apart(figure):
    """Give lines whose colours alone told them apart dashes of their own; the true line and what is measured keep theirs."""
    styles = line_styles(figure)
    first = {colour: at for at, colour in enumerate((INK, MEASURE, SHORTCUT, GUIDE))}
    taken = []
    for colour, weight, dash in sorted(styles, key=lambda style: (first.get(style[0], len(first)), -style[1], str(style[2]))):
        others = [(theirs, dashed) for shade, theirs, dashed in taken if shade != colour]
        options = [dash, *(option for option in DASHES if option != dash and option not in {known for *_, known in styles})]
        own = next((option for option in options if not any(alike(weight, option, *other) for other in others)), dash)
        taken.append((colour, weight, own))
        if own != dash:
            for artist, at in styles[colour, weight, dash]:
                _set_dash(artist, at, own)


def alike(weight: float, dash: tuple | None, other_weight: float, other_dash: tuple | None) -> bool:
    """Whether two lines have one dash, and weights too near to be told apart."""
    return dash == other_dash and max(weight, other_weight) < HEAVIER * min(weight, other_weight)


def _set_dash(artist, at, dash):
    count, widths, styles = len(artist.get_paths()), artist.get_linewidths(), artist.get_linestyles()
    unscaled = []
    for number in range(count):
        weight, (offset, own) = widths[number % len(widths)], styles[number % len(styles)]
        chosen = dash if number == at else own and tuple(part / weight for part in own)
        unscaled.append("solid" if chosen is None else (0 if number == at else offset / weight, chosen))
    artist.set_linestyles(unscaled)
