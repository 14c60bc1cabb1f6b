"""What the cards say of a joint, held against the closed forms and the solids."""

import re

import numpy as np
import pytest
from splaywork.corner.corner import Corner
from splaywork.joint.joint import Joint
from splaywork.joint.words import lettered_settings, lettered_words, proud, setting_rows, used_for

CORNERS = [Corner(14, 6), Corner(-20, -11), Corner(25, -14), Corner(-9, 12, 65), Corner(14, 6, 120)]
every_corner = pytest.mark.parametrize("corner", CORNERS, ids=str)


def across(points, corner):
    """Vector from the outer to the inner arris of an end, square to the corner line, from one point of each."""
    along_line = corner.vector("corner_line") / np.linalg.norm(corner.vector("corner_line"))
    step = points[1] - points[0]
    return step - (step @ along_line) * along_line


@every_corner
def test_square_ends_stand_as_far_proud_as_said(corner):
    flush, square = (Joint(corner, 100, 12, 9, end=end) for end in ("flush", "square"))
    for board, cut in (("tail", flush.tail_board), ("pin", flush.pin_board)):
        longer = across(cut.blank[:, 0, 0], corner) @ corner.vector(f"{board}_level") < 0
        distance, face = proud(square, board)
        assert distance == pytest.approx(square.thickness(board) * np.tan(np.radians(abs(corner.end_bevel))), abs=1e-9)
        assert face == ("outer" if longer else "inner")
        assert proud(flush, board) == (0.0, "")


@every_corner
@pytest.mark.parametrize("end", ["flush", "square"])
def test_settings_are_lettered_from_the_squarest_on(corner, end):
    settings = {letter: setting.from_square for letter, setting in lettered_settings(Joint(corner, 100, 12, end=end)).items()}
    assert list(settings) == list("ABCDEFG")[:len(settings)] and list(settings.values()) == sorted(settings.values())


def test_a_plain_corner_needs_no_bevel_but_the_tails():
    assert list(lettered_settings(Joint(Corner(0, 0), 100, 12))) == ["A"]


@every_corner
def test_every_line_of_a_setting_is_in_what_it_is_for(corner):
    joint = Joint(corner, 100, 12, end="square", rims="square")
    places = {"both faces": ("outer", "inner"), "both rims": ("bottom", "top"), "outer face": ("outer",),
              "inner face": ("inner",), "the end": ("end",), "bottom rim": ("bottom",), "top rim": ("top",)}
    for setting in lettered_settings(joint).values():
        told = set()
        for phrase in used_for(setting):
            board, kinds, where, edge = re.fullmatch(r"(\w+) board: (.*) on (.*), from the (.*)", phrase).groups()
            told |= {(board, kind, surface, edge) for kind in re.split(", | and ", kinds)
                     for place, surfaces in places.items() if place in where for surface in surfaces}
        assert told == {(line.board, "cheeks" if "cheek" in line.name else line.name, line.surface, line.edge)
                        for line in setting.lines}


def test_slopes_are_told_from_where_the_angle_is_small():
    joint = Joint(Corner(14, 6), 100, 12, tail_slope=8)
    rows = [setting_rows(setting) for setting in joint.bevel_settings]
    assert rows[-1] == ("82.9° from square, 7.1° from the edge", "12.5 mm in 100 mm, 1 in 8.0 from the edge")
    assert rows[0][1].endswith("from square")
    assert lettered_words(joint, "in")[-1] == (
        "C: 82.9° from square, 7.1° from the edge; 1/2″ in 4″, 1 in 8.0 from the edge")
