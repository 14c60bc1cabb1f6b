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
    assert "0.0° off the level entry" in words
    assert (f"stand {angle:.1f}° across" in words) == (angle >= 0.05)


@every_corner
@pytest.mark.parametrize("end", ["flush", "square"])
def test_the_table_has_a_row_for_each_setting(corner, end):
    joint = Joint(corner, 100, 18, tails=2, end=end)
    table = lettered_table(joint)
    assert [row[0] for row in table.rows] == list("ABCDEFGH")[:len(joint.bevel_settings)]
    for row, setting in zip(table.rows, joint.bevel_settings, strict=True):
        assert row[1] == f"{setting.from_square:.1f}°" and row[2] == f"{setting.from_edge:.1f}°"


def test_slopes_and_ends_and_widths_are_told():
    assert len(slopes_table().rows) == len(SLOPES) and "(from memory)" in slopes_table().rows[-1][-1]
    flush, square = (Joint(Corner(16, 11), 120, 18, tails=3, end=end) for end in ("flush", "square"))
    words = square_end_words(flush, square)
    assert "0.9 mm proud on the outer face" in words and "3 settings with flush ends, 5 with square ends" in words
    assert marked_width_words(flush, 30) == f"Mark each tail {30 / np.cos(np.radians(16)):.1f} mm wide up the face."
