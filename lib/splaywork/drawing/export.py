"""Pictures as files for a write-up: SVG and PDF that look the same everywhere and come out the same each time."""

from copy import deepcopy
from io import BytesIO
from pathlib import Path
from typing import Any

import numpy as np
from matplotlib import rc_context
from matplotlib.collections import Collection
from matplotlib.colors import to_rgba_array
from matplotlib.lines import Line2D
from matplotlib.patches import Patch
from matplotlib.text import Text

from ..common.files import write_whole
from ..common.kinds import FilePath
from .canvas import Canvas

# Letters as outlines in SVG, as embedded TrueType in PDF: no reader needs the fonts. No date, and ids that stay.
SETTINGS = {"svg.fonttype": "path", "svg.hashsalt": "splaywork", "pdf.fonttype": 42}
NO_DATE = {".svg": {"Date": None}, ".pdf": {"CreationDate": None}}
LUMA = np.array([0.299, 0.587, 0.114])  # of red, green and blue in a grey: ITU-R BT.601
COLOURED = {Collection: ("facecolor", "edgecolor"), Patch: ("facecolor", "edgecolor"), Line2D: ("color",),
            Text: ("color",)}


def save_figure(path: FilePath, picture: Any, grey: bool = False) -> None:
    """Write a picture to `path`, which ends in .svg or .pdf; a file that is there is replaced, whole or not at all.

    picture: a picture such as `CornerPicture`, or its `Canvas`. grey: in shades of grey. The same picture gives the same
    bytes with the same release of matplotlib. ValueError for another ending, a folder that isn't there, or what is no
    picture.
    """
    path, canvas = Path(path), getattr(picture, "canvas", picture)
    if path.suffix.lower() not in NO_DATE:
        raise ValueError(f"A figure is saved as SVG or PDF, and {path.name!r} is neither: end the name in .svg or .pdf.")
    path = path.resolve()
    if not path.parent.is_dir():
        raise ValueError(f"There is no folder {str(path.parent)!r} to save {path.name!r} in: make it first.")
    if not isinstance(canvas, Canvas):
        raise ValueError(f"{type(picture).__name__} is no picture to save: give a picture such as CornerPicture().")
    write_whole(path, _drawn(canvas.figure, path.suffix.lower(), grey))


def _drawn(figure, suffix, grey):
    """The bytes of a figure, drawn from a copy: a panel may be drawing the figure itself just now."""
    figure = deepcopy(figure)
    if grey:
        for kind, names in COLOURED.items():
            for artist in figure.findobj(kind):
                artist.set(**{name: _greyed(getattr(artist, f"get_{name}")()) for name in names})
    out = BytesIO()
    with rc_context(SETTINGS):
        figure.savefig(out, format=suffix[1:], metadata=NO_DATE[suffix])
    return out.getvalue()


def _greyed(colour):
    """The grey of one colour or of several, as light as they are."""
    rgba = to_rgba_array(colour)
    rgba[:, :3] = (rgba[:, :3] @ LUMA)[:, None]
    return rgba if np.ndim(colour) > 1 else tuple(rgba[0]) if len(rgba) else "none"
