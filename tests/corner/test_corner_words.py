"""What a page says of a corner's angles, against the angles themselves."""

import re

import numpy as np
import pytest
from splaywork.common.printing import intended
from splaywork.corner.corner import Corner
from splaywork.corner.words import say_end_line_settings, say_settings, uses_table

CORNERS = [Corner(*at) for at in ((30, 30), (30, -30), (16, 11), (-20, -11), (-18, 35), (40, 35), (20, 0), (0, 20), (0, 0),
                                  (14, 6, 120), (12, 12, 70), (12, -12, 70))]
every_corner = pytest.mark.parametrize("corner", CORNERS, ids=str)


def slanted(*angles):
    return {intended(abs(angle)) for angle in angles if abs(angle) > 0.05}


@every_corner
def test_each_of_the_three_angles_is_told_at_its_own_row(corner):
    rows = {what: here for what, here, *_ in uses_table(corner).rows}
    assert list(rows) == ["lean", "end line", "end bevel", "level line", "tail's slope"]
    assert rows["tail's slope"] == "as you choose"
    assert corner.level_on_flush_end == pytest.approx(corner.pin_end_line, abs=1e-9)  # as the row says
    assert set(re.findall(r"[\d.]+°", rows["level line"])) == slanted(corner.level_on_flush_end)
    for what, angles in (("lean", (corner.tail_lean, corner.pin_lean)),
                         ("end line", (corner.tail_end_line, corner.pin_end_line)), ("end bevel", (corner.end_bevel,))):
        assert set(re.findall(r"[\d.]+°", rows[what])) == slanted(*angles)
        assert ("both boards" in rows[what]) == (len(set(map(intended, np.abs(angles)))) == 1)


@every_corner
def test_one_setting_is_enough_only_where_all_that_slants_slants_alike(corner):
    told = say_settings(corner)
    angles = slanted(corner.tail_lean, corner.pin_lean, corner.tail_end_line, corner.pin_end_line, corner.end_bevel)
    assert ("isn't enough" in told) == (len(angles) > 1) and ("is enough" in told) == (len(angles) == 1)
    count = {2: "two", 3: "three", 4: "four", 5: "five"}.get(len(angles))
    assert count is None or f"are {count} different angles" in told
    longer = min(corner.slant_width(100, board) for board in ("tail", "pin")) > 100.01
    assert ("A leaning face is longer" in told) == (longer and corner.plan_angle == 90)
    if "each end line slants less" in told:
        assert abs(corner.tail_end_line) < abs(corner.pin_lean) and abs(corner.pin_end_line) < abs(corner.tail_lean)


@every_corner
def test_one_setting_serves_both_end_lines_only_where_both_boards_lean_alike(corner):
    told = say_end_line_settings(corner)
    lines = slanted(corner.tail_end_line), slanted(corner.pin_end_line)
    both = bool(lines[0] and lines[1])
    assert ("One setting serves both end lines" in told) == (both and lines[0] == lines[1])
    assert ("need two settings" in told) == (both and lines[0] != lines[1])
    assert ("lean by the same angle" in told) == (both and abs(corner.tail_lean) == abs(corner.pin_lean))
    for board, own, other in (("tail", *lines), ("pin", *lines[::-1])):
        assert (f"Only the {board} board's" in told) == (bool(own) and not other)
    assert ("Both end lines are square" in told) == (not lines[0] and not lines[1])
