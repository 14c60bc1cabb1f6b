"""What the cards say of a joint, held against the closed forms and the solids."""

import re

import numpy as np
import pytest
from splaywork.corner.corner import Corner
from splaywork.joint.joint import Joint
from splaywork.joint.words import lettered_settings, procedure, proud, setting_rows, settings_words, used_for

CORNERS = [Corner(14, 6), Corner(-20, -11), Corner(25, -14), Corner(-9, 12, 65), Corner(14, 6, 120)]
every_corner = pytest.mark.parametrize("corner", CORNERS, ids=str)


def said(joint, heading):
    return dict(procedure(joint))[heading]


def across(points, corner):
    """Vector from the outer to the inner arris of an end, square to the corner line, from one point of each."""
    along_line = corner.vector("corner_line") / np.linalg.norm(corner.vector("corner_line"))
    step = points[1] - points[0]
    return step - (step @ along_line) * along_line


@every_corner
@pytest.mark.parametrize("end", ["flush", "square"])
def test_lines_are_struck_with_the_gauges_that_carry_their_angle(corner, end):
    joint = Joint(corner, 100, 12, end=end)
    settings = {letter: setting.from_square for letter, setting in lettered_settings(joint).items()}
    assert list(settings) == list("ABCDEFG")[:len(settings)] and list(settings.values()) == sorted(settings.values())
    text = said(joint, "End lines")
    for board in ("tail", "pin"):
        letter, way = re.search(rf"{board} board with gauge (.), longer at the (top|bottom)", text).groups()
        assert settings[letter] == pytest.approx(abs(corner.end_line(board)), abs=0.05)
        assert (way == "top") == (corner.end_line(board) > 0)
    assert ("with a square" in text) == (corner.plan_angle == 90)
    (letter,) = re.search(r"1 in 6: gauge (.) from", said(joint, "Tails")).groups()
    assert settings[letter] == pytest.approx(90 - np.degrees(np.arctan(1 / 6)), abs=0.05)
    (letter,) = re.search(r": gauge (.) from the end line", said(joint, "Level lines")).groups()
    assert settings[letter] == pytest.approx(abs(corner.pin_end_line), abs=0.05)


@every_corner
def test_level_lines_across_a_flush_end_slant_as_said(corner):
    joint = Joint(corner, 100, 12)
    letter, way = re.search(r"with gauge (.), (above|below) square", said(joint, "Across")).groups()
    assert lettered_settings(joint)[letter].from_square == pytest.approx(abs(corner.level_on_flush_end), abs=0.05)
    # the level entry, seen on the end: does it come out above or below a line square to the outer arris?
    up_the_arris = corner.vector("corner_line")
    assert (way == "above") == (corner.vector("pin_level") @ up_the_arris > 0)


@every_corner
def test_cheeks_across_a_square_end_are_named_one_by_one(corner):
    joint = Joint(corner, 100, 12, end="square")
    found = re.findall(r"(lower|upper) (?:cheeks )?with gauge (.), (above|below) square", said(joint, "Across"))
    assert [which for which, _, _ in found] == ["lower", "upper"]
    for which, letter, way in found:
        for line in joint.lines_on("tail", "end"):
            if which in line.name:
                assert lettered_settings(joint)[letter].from_square == pytest.approx(line.from_square, abs=0.05)
                step = line.ends[1] - line.ends[0]
                assert (way == "above") == (step @ corner.vector("corner_line") > 0)


@every_corner
def test_ends_are_sawn_as_said(corner):
    flush, square = (Joint(corner, 100, 12, 9, end=end) for end in ("flush", "square"))
    text = said(flush, "Ends")
    assert f"{corner.dihedral:.1f}° to the outer face: {abs(corner.end_bevel):.1f}° out of square" in text
    for board, cut in (("tail", flush.tail_board), ("pin", flush.pin_board)):
        longer = across(cut.blank[:, 0, 0], corner) @ corner.vector(f"{board}_level") < 0
        assert ("the longer" in text) == longer
        distance, face = proud(square, board)
        assert distance == pytest.approx(square.thickness(board) * np.tan(np.radians(abs(corner.end_bevel))), abs=1e-9)
        assert face == ("outer" if longer else "inner")
        assert f"{distance:.1f} mm" in said(square, "Ends")
        assert proud(flush, board) == (0.0, "")
    assert "planed off" in said(square, "Ends") and "plane the proud ends" in said(square, "Together")


def test_a_plain_corner_needs_a_square_and_no_bevels_but_the_tails():
    joint = Joint(Corner(0, 0), 100, 12)
    assert list(lettered_settings(joint)) == ["A"]
    assert "tail board with a square; pin board with a square" in said(joint, "End lines")
    assert said(joint, "Ends") == "Saw both ends on the end line, square to the face."
    assert "square to the faces" in said(joint, "Prepare") and "with a square" in said(joint, "Across")
    assert "square" in said(Joint(Corner(0, 0), 100, 12, end="square"), "Ends")


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
    rows = [setting_rows(setting) for setting in joint.gauge_settings]
    assert rows[-1] == ("82.9° from square, 7.1° from the edge", "12.5 mm in 100 mm, 1 in 8.0 from the edge")
    assert rows[0][1].endswith("from square")
    assert settings_words(joint, "in")[-1] == (
        "C: 82.9° from square, 7.1° from the edge; 1/2″ in 4″, 1 in 8.0 from the edge")
