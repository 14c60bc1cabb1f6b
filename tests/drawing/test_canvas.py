"""The canvas: a pen of its own, and a size of its own, that change nothing else."""

from importlib import import_module
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
import splaywork
from PIL import Image
from splaywork import Corner
from splaywork.corner.picture import CornerPicture
from splaywork.drawing import palette
from splaywork.drawing.canvas import Canvas


def line(width=4.0, **style):
    canvas = Canvas(120, 80)
    canvas.lines(width=width, **style).set_segments([np.array([[10, 40], [110, 40]])])
    return canvas


def thickness(canvas, colour):
    """Rows of pixels, across the middle of the picture, that are of a colour."""
    middle = canvas.pixels()[:, canvas.pixels().shape[1] // 2, :3]
    return int((middle == palette.rgb(colour)).all(axis=1).sum())


def test_a_heavier_pen_draws_wider_lines_and_leaves_no_trace():
    canvas = line(width=0.72 * 8)  # 8 pixels
    before = canvas.png()
    usual = thickness(canvas, palette.INK)
    canvas.pen = 2.0
    assert usual == pytest.approx(8, abs=1) and thickness(canvas, palette.INK) == pytest.approx(16, abs=1)
    canvas.pen = 1.0
    assert canvas.png() == before


def test_an_edged_line_keeps_its_white_edge_whatever_the_pen():
    canvas = Canvas(120, 80)
    canvas.polygons(fill=palette.PIN_INNER).set_verts([np.array([[0, 0], [120, 0], [120, 80], [0, 80]])])
    canvas.lines(palette.INK, 4.0, edged=True).set_segments([np.array([[10, 40], [110, 40]])])
    for pen in (1.0, 1.4, 3.0):
        canvas.pen = pen
        middle = canvas.pixels()[:, 60, :3].astype(int)
        lighter = (middle.min(axis=1) > palette.rgb(palette.PIN_INNER).max() + 20).sum()
        assert thickness(canvas, palette.INK) >= 4 * pen and lighter >= 2, pen


def test_a_zoomed_picture_is_the_same_picture_larger():
    picture = CornerPicture()
    picture.update(Corner(30, 30))
    small = np.asarray(Image.open(BytesIO(picture.png())).convert("L"), dtype=float)
    picture.canvas.zoom = 2.0
    large = np.asarray(Image.open(BytesIO(picture.png())).convert("L"), dtype=float)
    assert large.shape == (2 * small.shape[0], 2 * small.shape[1])
    halved = large.reshape(small.shape[0], 2, small.shape[1], 2).mean(axis=(1, 3))
    assert abs(halved - small).mean() < 4  # the letters of another size are fitted a little otherwise
    picture.canvas.zoom = 1.0
    assert np.array_equal(np.asarray(Image.open(BytesIO(picture.png())).convert("L")), small)


def test_every_picture_shows_itself_in_a_notebook_and_in_a_line():
    found = 0
    for path in sorted(Path(splaywork.__file__).parent.glob("*/*picture.py")):
        module = import_module(f"splaywork.{path.parent.name}.{path.stem}")
        for name, kind in vars(module).items():
            if name.endswith("Picture") and isinstance(kind, type) and kind.__module__ == module.__name__:
                assert hasattr(kind, "_repr_png_"), name
                found += 1
    assert found >= 15
    picture = CornerPicture()
    picture.update(Corner(16, 11))
    assert picture._repr_png_() == picture.png() and repr(picture) == "<CornerPicture: 920 × 430 pixels>"
