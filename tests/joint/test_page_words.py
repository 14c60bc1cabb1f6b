"""What a page says of a joint, held against its planes and lines."""

import numpy as np
import pytest
from splaywork.corner.corner import Corner
from splaywork.joint.joint import Joint
from splaywork.joint.page_words import (
    carried_square,
    lettered_table,
    level_cheeks_words,
    marked_width_words,
    slopes_table,
    square_end_words,
    tail_marks_table,
)
from splaywork.joint.tails import SLOPES

CORNERS = [Corner(16, 11), Corner(30, 30), Corner(-20, -11), Corner(25, -14), Corner(0, 20), Corner(14, 6, 120)]
every_corner = pytest.mark.parametrize("corner", CORNERS, ids=str)


@every_corner
def test_a_cheek_carried_square_through_stands_across_the_way_in(corner):
    joint = Joint(corner, 100, 18, tails=2)
    line = next(line for line in joint.lines_on("tail", "outer") if line.name == "tail 1 lower cheek")
    through = np.cross(line.ends[1] - line.ends[0], corner.vector("tail_normal"))
    angle = np.degrees(np.arcsin(abs(through @ corner.vector("pin_level")) / np.linalg.norm(through)))
    assert carried_square(joint) == pytest.approx(angle, abs=1e-9)
    words = level_cheeks_words(joint)
    cheeks = [plane.normal for name, plane in joint.planes.items() if name.endswith("cheek")]
    assert "Every cheek of this joint follows the level entry." in words and len(cheeks) == 4
    assert max(abs(normal @ corner.vector("pin_level")) for normal in cheeks) < 1e-12
    assert (f"cross the pin board's path at {angle:.1f}°" in words) == (angle >= 0.05)


@every_corner
@pytest.mark.parametrize("end", ["flush", "square"])
def test_the_table_has_a_row_for_each_setting(corner, end):
    joint = Joint(corner, 100, 18, tails=2, end=end)
    table = lettered_table(joint)
    assert [row[0] for row in table.rows] == list("ABCDEFGH")[:len(joint.bevel_settings)]
    for row, setting in zip(table.rows, joint.bevel_settings, strict=True):
        assert row[1] == f"{setting.from_square:.1f}°" and row[2] == f"{setting.from_edge:.1f}°"


def test_slopes_and_ends_and_widths_are_told():
    assert len(slopes_table().rows) == len(SLOPES) and "no source" in slopes_table().rows[-1][-1]
    flush, square = (Joint(Corner(16, 11), 120, 18, tails=3, end=end) for end in ("flush", "square"))
    words = square_end_words(flush, square)
    assert "Each board's square end stands 0.9 mm proud of the other board, at its own outer arris." in words
    assert "The lines need 3 bevel settings with flush ends, and 5 with square ends." in words
    unlike = [Joint(Corner(16, 11), 120, 18, 12, tails=3, end=end) for end in ("flush", "square")]
    for board, out in (("tail", 0.9), ("pin", 0.6)):
        told = f"The {board} board's square end stands {out} mm proud of the other board, at its own outer arris."
        assert told in square_end_words(*unlike)
    assert marked_width_words(flush, 30) == f"Mark each tail {30 / np.cos(np.radians(16)):.1f} mm wide up the face."


@every_corner
def test_tail_marks_are_the_lines_ends_up_the_face(corner):
    joint = Joint(corner, 100, 18, tails=3)
    table = tail_marks_table(joint)
    up, foot = corner.vector("tail_up"), joint.tail_board.blank[0, 0, 0]
    lines = {each.name: each.ends for each in joint.lines_on("tail", "outer") if each.kind == "cheek"}
    assert len(table.rows) == len(lines) == 6
    for what, end, root in table.rows:
        ends = lines[what.replace(",", "").replace("side", "cheek")]
        near, far = ends[np.argsort(abs(joint.planes["pin outer"].height_of(ends)))]
        assert (end, root) == (f"{(near - foot) @ up:.1f} mm", f"{(far - foot) @ up:.1f} mm")
