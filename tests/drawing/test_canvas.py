"""The canvas: a pen of its own, and a size of its own, that change nothing else."""

from io import BytesIO

import numpy as np
import pytest
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
