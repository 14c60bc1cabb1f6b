"""The figures of the derivation against the corner's own numbers."""

import re

import numpy as np
import pytest
from matplotlib.text import Text
from splaywork import Corner, sphere_still, square_end_and_baseline_still, vectors_still
from splaywork.corner.vectors_picture import VectorsPicture

CORNERS = [Corner(16, 11), Corner(28, 24), Corner(-20, 15), Corner(0, 30), Corner(-25, -10), Corner(30, 30)]


def texts(canvas):
    return {artist.get_text(): artist for artist in canvas.figure.findobj(Text) if artist.get_visible() and artist.get_text()}


@pytest.mark.parametrize("corner", CORNERS, ids=str)
def test_napiers_rules_hold_for_the_parts_in_the_circle(corner):
    """Each part's sine is the product of its neighbours' tangents, and of the cosines of the two that are left."""
    parts = np.radians([90 + corner.tail_lean, -corner.tail_end_line, corner.end_bevel, -corner.pin_end_line,
                        90 + corner.pin_lean])
    for at, part in enumerate(parts):
        near, far = parts[[at - 1, (at + 1) % 5]], parts[[at - 2, (at + 2) % 5]]
        assert np.sin(part) == pytest.approx(np.cos(far).prod(), abs=1e-12)
        if abs(np.cos(near)).min() > 1e-9:
            assert np.sin(part) == pytest.approx(np.tan(near).prod(), abs=1e-12)
    assert {"90° + a", "−η", "end bevel", "−ξ", "90° + b"} <= texts(sphere_still(corner).canvas).keys()


@pytest.mark.parametrize("corner", [*CORNERS, Corner(10, 20, 75)], ids=str)
def test_the_sides_on_the_ball(corner):
    """Between plumb and the normals: 90 and the leans, 180 less the dihedral, and 180 less the plan angle at the plumb line."""
    tail, pin = corner.vector("tail_normal"), corner.vector("pin_normal")
    assert np.degrees(np.arccos([tail[2], pin[2]])) == pytest.approx([90 + corner.tail_lean, 90 + corner.pin_lean])
    assert np.degrees(np.arccos(tail @ pin)) == pytest.approx(180 - corner.dihedral)
    level = [way[:2] / np.linalg.norm(way[:2]) for way in (tail, pin)]
    assert np.degrees(np.arccos(level[0] @ level[1])) == pytest.approx(180 - corner.plan_angle)
    said = texts(sphere_still(corner).canvas)
    assert ("Napier's circle" in said) == (corner.plan_angle == 90) and {"A", "B", "C", "W"} <= said.keys()


@pytest.mark.parametrize("corner", CORNERS, ids=str)
def test_the_square_end_and_the_baseline_are_drawn_true(corner):
    still = square_end_and_baseline_still(corner, thickness=18.0)
    lines = []
    for artist in still.canvas.figure.artists:
        if hasattr(artist, "get_segments"):
            lines += artist.get_segments()
    flat = [line for line in lines if len(line) == 2 and line[:, 0].max() < 460]
    one = next(line for line in flat if abs(np.diff(line[:, 1])[0]) < 1e-9)
    scale = abs(np.diff(one[:, 0])[0])
    slopes = [np.degrees(np.arctan2(line[0, 1] - line[1, 1], line[0, 0] - line[1, 0])) for line in flat
              if line[0, 0] - line[1, 0] == pytest.approx(scale)]
    assert any(slope == pytest.approx(corner.level_on_square_end, abs=1e-6) for slope in slopes)
    beside = [line for line in lines if len(line) == 2 and line[:, 0].min() > 460]
    lengths = [np.linalg.norm(line[1] - line[0]) for line in beside]
    ratio = corner.baseline_offset(18.0) / 18.0
    assert any(one / other == pytest.approx(ratio, abs=1e-9) for one in lengths for other in lengths)


@pytest.mark.parametrize("corner", CORNERS, ids=str)
def test_the_picture_of_vectors_bears_its_angles_and_axes(corner):
    still = vectors_still(corner)
    shown = texts(still.canvas)
    assert {"w", "x", "y", "z"} <= shown.keys()
    assert ("a" in shown) == (corner.tail_lean != 0) and ("b" in shown) == (corner.pin_lean != 0)
    assert re.search(r"leans a and b.*plan angle w.*x runs along", still.words)
    for text in shown.values():  # inside the picture
        x, y = text.get_position()
        assert 0 <= x <= 920 and 0 <= y <= 440


def test_each_lean_stands_between_the_face_and_a_plumb_line():
    corner, picture = Corner(28, -24), VectorsPicture()
    picture.update(corner)
    for plumb in picture._plumbs.get_segments():
        assert plumb[0, 0] == pytest.approx(plumb[1, 0])
    assert len(picture._plumbs.get_segments()) == 2 and len(picture._angles.get_segments()) == 3
