"""The figures of the derivation against the corner's own numbers."""

import re
from itertools import combinations

import numpy as np
import pytest
from matplotlib.collections import LineCollection
from matplotlib.text import Text
from on_canvas import collections, overlap
from on_canvas import texts as boxed
from splaywork import Corner, Joint, sphere_still, square_end_and_baseline_still, vectors_still
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


def lines_between(still, left, right):
    """(width, dash, line) of each straight line (2, 2) in a part of a still."""
    return [(each.get_linewidth()[0], each.get_linestyle()[0][1], line) for each in collections(still.canvas, LineCollection)
            for line in each.get_segments() if len(line) == 2 and left < line[:, 0].min() and line[:, 0].max() < right]


@pytest.mark.parametrize("corner", [*CORNERS, Corner(20, -15), Corner(10, 20, 75), Corner(-15, 20, 120)], ids=str)
def test_the_level_line_on_the_square_end_lies_as_the_solid_boards_bottom_edge(corner):
    """Who looks at the solid's end sees the level bottom edge leave the outer arris at the slope drawn, on the side drawn."""
    outer, inner = Joint(corner, 120, 18, tails=3, end="square").tail_board.blank[:, 0, 0]
    assert outer[2] == pytest.approx(inner[2], abs=1e-9)
    up = corner.vector("corner_line") / np.linalg.norm(corner.vector("corner_line"))
    look = np.cross(up, corner.vector("tail_normal"))
    look *= np.sign(look @ corner.vector("tail_level"))  # into the board
    edge = np.array([(inner - outer) @ np.cross(look, up), (inner - outer) @ up]) / 18  # to the right, and up the arris
    still = square_end_and_baseline_still(corner)
    lines = lines_between(still, 0, 460)
    arris = max(lines, key=lambda one: one[0])[2]  # the heaviest
    level, = (line for _, dash, line in lines if dash)
    start, end = level
    assert start[0] == pytest.approx(arris[0, 0]) and end - start == pytest.approx(edge * abs(end[0] - start[0]), abs=1e-6)
    steps = {tuple(np.round(point, 6)) for _, dash, line in lines for point in line if not dash}
    assert tuple(np.round(end, 6)) in steps  # the way back ends on the level line
    way = "down" if edge[1] < -1e-9 else "up" if edge[1] > 1e-9 else None
    assert ("square to the arris" in still.words) == (way is None)
    if way:
        assert f"Then go {way}, parallel to the arris" in still.words and f"the distance {way}, in mm" in still.words
        climb = -corner.vector("tail_normal")[2]  # straight into the wood by 1
        assert {way, "climbs by sin a" if climb > 0 else "falls by |sin a|"} <= texts(still.canvas).keys()


@pytest.mark.parametrize("corner", [*CORNERS, Corner(60, 50), Corner(-1, 20), Corner(-50, -50)], ids=str)
def test_no_words_on_the_square_end_lie_over_others(corner):
    boxes = [box for _, box in boxed(square_end_and_baseline_still(corner).canvas)]
    assert not any(overlap(one, other) for one, other in combinations(boxes, 2))


@pytest.mark.parametrize("corner", CORNERS, ids=str)
def test_the_baseline_is_drawn_true(corner):
    beside = [line for _, _, line in lines_between(square_end_and_baseline_still(corner, thickness=18.0), 460, 920)]
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
