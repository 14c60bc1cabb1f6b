"""A trial corner on the bench: gaps read back into cuts, end lines off a tape, each against a route of its own."""

import mpmath as mp
import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation
from shapely import LineString, Point, Polygon, box
from shapely.affinity import rotate, translate
from splaywork import Corner
from splaywork.common.printing import gap, mm
from splaywork.trial.faults import (
    as_joined,
    edge_gap,
    edge_section,
    end_bevel_from_gap,
    end_gap,
    end_line_from_diagonals,
    end_line_from_gap,
    end_line_gap,
    end_line_of_like_ends,
    end_section,
    foot_gap,
    rim_bevel_from_gap,
)
from splaywork.trial.readings import TrialCorner
from splaywork.trial.words import say_edge_gap, say_end_gap, say_end_line_gap, say_pulled_tight, say_slipped

BOARDS = ("tail", "pin")
LEAN, BOARD = st.floats(-60, 60), st.sampled_from(BOARDS)
BEVEL, THICKNESS = st.floats(-60, 60), st.floats(4, 50)


# --- Gaps. ---


def sawn_block(thickness, bevel):
    """Section of an upright board, outside to the left, its outer arris at the origin and its bottom edge sawn off."""
    drop = -thickness * np.tan(np.radians(bevel))
    return Polygon([(0, 0), (thickness, drop), (thickness, 200), (0, 200)])


@given(LEAN, THICKNESS, BEVEL, BOARD)
def test_edge_gap_is_the_light_under_a_turned_block(lean, thickness, bevel, board):
    corner = Corner(lean, 5) if board == "tail" else Corner(5, lean)
    turned = rotate(sawn_block(thickness, bevel), lean, origin=(0, 0))
    outer, inner = turned.exterior.coords[0], turned.exterior.coords[1]
    assert edge_gap(corner, thickness, board, bevel) == pytest.approx(inner[1] - outer[1], abs=1e-9)


@pytest.mark.parametrize("lean", [30, 16, -12])
def test_planed_until_no_light_shows_a_board_stands_lower_by_as_much(lean):
    """The remedy's warning: the arris that touches is planed to the level of the other, and the rim sinks by the light."""
    turned = rotate(sawn_block(18, 0), lean, origin=(0, 0))
    level = max(y for _, y in turned.exterior.coords[:2])
    planed = turned.intersection(box(-1e4, level, 1e4, 1e4))
    sunk = (turned.bounds[3] - turned.bounds[1]) - (planed.bounds[3] - planed.bounds[1])
    assert sunk == pytest.approx(abs(edge_gap(Corner(lean, 5), 18, "tail")), abs=1e-9)


@given(LEAN, THICKNESS, BEVEL, BOARD)
def test_gaps_read_back_into_the_cuts_that_made_them(lean, thickness, bevel, board):
    corner = Corner(lean, 25)
    assert rim_bevel_from_gap(corner, thickness, edge_gap(corner, thickness, board, bevel), board) == pytest.approx(
        bevel, abs=1e-10)
    assert end_bevel_from_gap(corner, thickness, end_gap(corner, thickness, bevel)) == pytest.approx(bevel, abs=1e-10)
    assert end_line_from_gap(corner, 120, end_line_gap(corner, 120, bevel, board), board) == pytest.approx(
        bevel, abs=1e-10)


@given(LEAN, LEAN, THICKNESS, BOARD)
def test_a_right_cut_leaves_no_gap(tail, pin, thickness, board):
    corner = Corner(tail, pin)
    assert edge_gap(corner, thickness, board, corner.lean(board)) == pytest.approx(0, abs=1e-12)
    assert end_gap(corner, thickness, corner.end_bevel) == pytest.approx(0, abs=1e-12)
    assert end_line_gap(corner, 120, corner.end_line(board), board) == 0
    assert edge_gap(corner, thickness, board) == pytest.approx(
        corner.rocking_gap(thickness, board) * np.sign(corner.lean(board)), abs=1e-12)


@given(LEAN, LEAN, THICKNESS, BEVEL)
def test_end_gap_is_what_a_feeler_finds_at_a_butted_board(tail, pin, thickness, bevel):
    """A block sawn like the end is turned until its faces meet the seat at the dihedral; its arrises are measured."""
    corner = Corner(tail, pin)
    turned = rotate(sawn_block(thickness, bevel), corner.dihedral - 90, origin=(0, 0))
    outer, inner = turned.exterior.coords[0], turned.exterior.coords[1]
    seat = LineString([(-1000, min(outer[1], inner[1])), (1000, min(outer[1], inner[1]))])
    found = end_gap(corner, thickness, bevel)
    gapes = Point(inner) if found > 0 else Point(outer)
    assert abs(found) == pytest.approx(gapes.distance(seat), abs=1e-8)


@given(LEAN, LEAN, st.floats(-4, 4), BOARD)
def test_end_line_gap_on_the_flat_face(tail, pin, error, board):
    """The face is pushed along its edge until it touches the corner line, and the far end of the opening measured."""
    corner = Corner(tail, pin)
    up = corner.slant_width(120, board)
    assume(up < 400)
    line = LineString([(0, 0), (-up * np.tan(np.radians(corner.end_line(board))), up)])
    cut = corner.end_line(board) + error
    foot, head = np.array([(0, 0), (-up * np.tan(np.radians(cut)), up)])
    short = [line.coords[at][0] - end[0] for at, end in ((0, foot), (1, head))]
    touching = translate(LineString([foot, head]), max(short))
    opening = [touching.coords[at][0] - line.coords[at][0] for at in (0, 1)]
    found = end_line_gap(corner, 120, cut, board)
    assert abs(found) == pytest.approx(max(opening), abs=1e-8)
    if abs(error) > 1e-6:
        assert (found > 0) == (opening[0] > opening[1]), "positive opens at the bottom"


@given(st.floats(-50, 50), st.floats(-50, 50), st.floats(-25, 25))
def test_pulled_up_tight_the_corner_turns_by_rotations(tail, pin, bevel):
    """Fold two flat boards at the sawn dihedral, stand both level edges on the bench, and read the leans off."""
    corner = Corner(tail, pin)
    x_tail, x_pin = np.radians([corner.tail_end_line, corner.pin_end_line])
    # The corner line runs up z; the tail board lies in the x-z plane, outer face towards −y, and the pin board swings.
    tail_edge, tail_out = np.array([np.cos(x_tail), 0, -np.sin(x_tail)]), np.array([0.0, -1.0, 0.0])
    swing = Rotation.from_rotvec([0, 0, np.radians(90 + bevel)])
    pin_edge = swing.apply([np.cos(x_pin), 0, -np.sin(x_pin)])
    pin_out = swing.apply([0.0, 1.0, 0.0])
    up = np.cross(tail_edge, pin_edge)
    up /= np.linalg.norm(up)
    assume(up[2] > 0.05)
    plan = np.degrees(np.arccos(tail_edge @ pin_edge))
    leans = [-np.degrees(np.arcsin(outward @ up)) for outward in (tail_out, pin_out)]
    joined = as_joined(corner, bevel)
    assert joined.plan_angle == pytest.approx(plan, abs=1e-7)
    assert (joined.tail_lean, joined.pin_lean) == pytest.approx(leans, abs=1e-6)


def test_pulled_up_tight_at_the_right_bevel_changes_nothing():
    corner = Corner(28, -24, 100)
    joined = as_joined(corner, corner.end_bevel)
    assert (joined.tail_lean, joined.pin_lean, joined.plan_angle) == pytest.approx((28, -24, 100))


def test_a_slipped_board_lifts_its_foot_by_the_height_of_the_slip():
    corner = Corner(28, 24)
    line = corner.vector("corner_line")
    assert foot_gap(corner, 5.0) == pytest.approx(5 * line[2] / np.linalg.norm(line))


def test_arrays_broadcast():
    corner = Corner(np.array([5.0, 10.0, 20.0]), 8)
    assert edge_gap(corner, 18, "tail").shape == (3,)
    assert rim_bevel_from_gap(corner, 18, np.zeros(3), "tail") == pytest.approx([5, 10, 20])
    assert as_joined(corner).plan_angle.shape == (3,)
    assert end_line_from_gap(Corner(5, 8), 100, np.array([0.0, 1.0])).shape == (2,)


# --- Sections for the pictures. ---


@given(LEAN, THICKNESS, BEVEL)
def test_edge_section_stands_on_the_bench_at_its_lean(lean, thickness, bevel):
    section = edge_section(Corner(lean, 11), thickness, "tail", bevel, up=150)
    assert section[:2, 1].min() == pytest.approx(0, abs=1e-9)
    assert section[1, 1] - section[0, 1] == pytest.approx(edge_gap(Corner(lean, 11), thickness, "tail", bevel), abs=1e-9)
    way = section[3] - section[0]
    assert np.degrees(np.arctan2(-way[0], way[1])) == pytest.approx(lean, abs=1e-9), "outside is to the left"
    outer, inner = LineString(section[[0, 3]]), LineString(section[1:3])
    assert outer.distance(inner) == pytest.approx(thickness) or abs(bevel) > 45, "as thick as the board"


@given(st.floats(-45, 45), st.floats(-45, 45), st.floats(-20, 20), BOARD)
def test_end_section_butts_at_the_dihedral_and_gapes_by_the_end_gap(tail, pin, bevel, board):
    corner = Corner(tail, pin)
    butted, seat = end_section(corner, 18, bevel, 60, board)
    ways = butted[2] - butted[1], seat[2] - seat[1]
    cosine = ways[0] @ ways[1] / np.prod([np.linalg.norm(way) for way in ways])
    assert np.degrees(np.arccos(cosine)) == pytest.approx(corner.dihedral, abs=1e-5)
    assert seat[:, 0] == pytest.approx([-18, 0, 0, -18], abs=1e-9)
    assert butted[1, 0] - butted[0, 0] == pytest.approx(end_gap(corner, 18, bevel), abs=1e-9)
    assert Polygon(butted).intersection(Polygon(seat)).area == pytest.approx(0, abs=1e-6)


# --- End lines off a tape. ---

OVERHANG = st.floats(-50, 50)


@given(st.floats(150, 500), st.floats(60, 200), OVERHANG, OVERHANG)
def test_four_lengths_of_a_face_give_both_end_lines(bottom, up, here, there):
    """The board as a polygon on the bench top; its lengths by shapely, its angles by 50 digits."""
    foot, far, far_head, head = (0, 0), (bottom, 0), (bottom + there, up), (-here, up)
    assume(Polygon([foot, far, far_head, head]).is_valid)
    lengths = [LineString(pair).length for pair in ((foot, far), (head, far_head), (far, head), (foot, far_head))]
    with mp.workdps(50):
        angles = [float(mp.degrees(mp.atan(mp.mpf(over) / mp.mpf(up)))) for over in (here, there)]
    bottom, top, near, other = lengths
    assert end_line_from_diagonals(bottom, top, near, other).value == pytest.approx(angles[0], abs=1e-8)
    assert end_line_from_diagonals(bottom, top, other, near).value == pytest.approx(angles[1], abs=1e-8)


@given(st.floats(150, 500), st.floats(60, 200), OVERHANG)
def test_diagonals_by_the_law_of_cosines(bottom, up, over):
    """Slant edge and its angle from the triangle of the bottom edge, that edge and the diagonal."""
    with mp.workdps(50):
        slant, near = mp.hypot(over, up), mp.hypot(bottom + over, up)
        at_foot = mp.acos((bottom**2 + slant**2 - near**2) / (2 * bottom * slant))
        expected = float(mp.degrees(at_foot)) - 90
        top = float(bottom + 2 * mp.mpf(over))
    near = float(near)
    assert end_line_from_diagonals(bottom, top, near, near).value == pytest.approx(expected, abs=1e-8)
    assert end_line_of_like_ends(bottom, top, up).value == pytest.approx(expected, abs=1e-10)


@given(st.floats(-40, 40), st.floats(-40, 40))
def test_a_tape_alone_leads_back_to_the_leans(tail, pin):
    corner = Corner(tail, pin)
    lines = {}
    for board in BOARDS:
        up = corner.slant_width(90, board)
        over = up * np.tan(np.radians(corner.end_line(board)))
        near = float(np.hypot(400 + over, up))
        lines[board] = end_line_from_diagonals(400, 400 + 2 * over, near, near).value
    back = TrialCorner(lines["tail"], lines["pin"])
    assert [back.lean(board).value for board in BOARDS] == pytest.approx([tail, pin], abs=1e-7)


@pytest.mark.parametrize(("take", "lengths"), [(end_line_of_like_ends, (300, 340, 120)),
                                               (end_line_of_like_ends, (300, 300, 120)),
                                               (end_line_from_diagonals, (300, 347, 345, 349)),
                                               (end_line_from_diagonals, (240, 200, 260, 258))])
def test_error_bars_hold_a_sample_and_the_derivative_agrees(take, lengths):
    reading = take(*lengths, 0.5)
    rng = np.random.default_rng(11)
    values = [take(*(np.array(lengths) + rng.uniform(-0.5, 0.5, len(lengths)))).value for _ in range(400)]
    spread = reading.high - reading.low
    assert reading.low - 1e-3 * spread <= min(values) and max(values) <= reading.high + 1e-3 * spread
    assert np.ptp(values) > 0.4 * spread
    assert reading.margin == pytest.approx(spread / 2, rel=0.03)


# --- Words. ---

DRAWER = Corner(16, 11)


def test_words_tell_how_the_edge_was_ripped():
    square = edge_gap(DRAWER, 18)
    assert "The edge was left square; it should be 16°." in say_edge_gap(DRAWER, 18, square)
    half = say_edge_gap(DRAWER, 18, edge_gap(DRAWER, 18, "tail", 8))
    assert "The edge was ripped to 8.0°; it should be 16°." in half
    assert f"Left square, the edge would show {gap(square)} of light under its inner arris." in half
    assert "ripped to −8.0°, the wrong way; it should be 16°" in say_edge_gap(DRAWER, 18, edge_gap(DRAWER, 18, "tail", -8))
    over = say_edge_gap(DRAWER, 18, edge_gap(DRAWER, 18, "pin", 15), "pin")
    assert "of light under its outer arris. The edge was ripped to 15.0°; it should be 11°" in over
    assert "its edge is ripped to its lean of 16°" in say_edge_gap(DRAWER, 18, 0)
    assert "its edge is square, as it should be" in say_edge_gap(Corner(0, 11), 18, 0)
    assert "ripped to 1.0°; it should be square" in say_edge_gap(Corner(0, 11), 18, edge_gap(Corner(0, 11), 18, "tail", 1))
    inward = Corner(-16, 11)
    assert "under its outer arris" in say_edge_gap(inward, 18, edge_gap(inward, 18))
    over = say_edge_gap(inward, 18, edge_gap(inward, 18, "tail", -20))
    assert "ripped to −20.0°; it should be −16°" in over  # the sign that stands under the picture


def test_words_tell_how_the_end_was_sawn():
    bevel = f"{DRAWER.end_bevel:.1f}°"
    assert f"The end was left square; it should be {bevel}" in say_end_gap(DRAWER, 18, end_gap(DRAWER, 18))
    assert "sawn to 1.5°" in say_end_gap(DRAWER, 18, end_gap(DRAWER, 18, 1.5), "pin")
    assert "at its outer arris" in say_end_gap(DRAWER, 18, end_gap(DRAWER, 18, 9))
    assert f"sawn to its end bevel of {bevel}" in say_end_gap(DRAWER, 18, 0)
    inward = Corner(-16, 11)
    assert "sawn to −1.5°; it should be −3.0°" in say_end_gap(inward, 18, end_gap(inward, 18, -1.5))
    assert "it is square, as it should be" in say_end_gap(Corner(16, 0), 18, 0)


def test_words_tell_how_the_end_line_was_cut():
    too_much = say_end_line_gap(DRAWER, 120, end_line_gap(DRAWER, 120, 16, "pin"), "pin")
    assert "at the bottom and closes at the top" in too_much and "cut at 16.0° from square" in too_much
    too_little = say_end_line_gap(DRAWER, 120, end_line_gap(DRAWER, 120, 15, "pin"), "pin")
    assert "at the top and closes at the bottom" in too_little and "cut at 15.0° from square; it should be 15.7°" in too_little
    hair = say_end_line_gap(DRAWER, 120, end_line_gap(DRAWER, 120, 10.61, "tail"))
    assert "cut at 10.61° from square; it should be 10.58°" in hair  # to 0.1° they would look the same
    assert f"end line is {DRAWER.tail_end_line:.1f}° from square, as it should be" in say_end_line_gap(DRAWER, 120, 0)


def test_words_on_pulling_tight_and_slipping():
    joined = as_joined(DRAWER)
    tight = say_pulled_tight(DRAWER)
    assert f"plan angle of {joined.plan_angle:.1f}° instead of 90°" in tight
    assert f"pin board leans {joined.pin_lean:.1f}° instead of 11°" in tight
    assert "sawn to 1.0°" in say_pulled_tight(DRAWER, 1.0)
    assert "stands as intended" in say_pulled_tight(DRAWER, DRAWER.end_bevel)
    assert f"Light {mm(foot_gap(DRAWER, 2))} high then shows evenly" in say_slipped(DRAWER, 2)


# --- What can't be. ---


@pytest.mark.parametrize("wrong", ["12; rm", "<b>5</b>", "", None, float("nan"), float("inf"), [], {}])
@pytest.mark.parametrize("ask", [
    lambda wrong: edge_gap(DRAWER, wrong),
    lambda wrong: edge_gap(DRAWER, 18, "tail", wrong if wrong not in ([],) else "x"),
    lambda wrong: rim_bevel_from_gap(DRAWER, 18, wrong if wrong not in ([],) else "x"),
    lambda wrong: end_bevel_from_gap(DRAWER, wrong, 1.0),
    lambda wrong: end_line_gap(DRAWER, wrong, 12),
    lambda wrong: end_line_from_gap(DRAWER, wrong, 1.0),
    lambda wrong: foot_gap(DRAWER, wrong if wrong not in ([],) else "x"),
    lambda wrong: end_line_of_like_ends(wrong, 300, 100),
    lambda wrong: end_line_from_diagonals(300, 300, wrong, 310),
])
def test_hostile_input_is_one_sentence(ask, wrong):
    with pytest.raises(ValueError) as refused:
        ask(wrong)
    assert "\n" not in str(refused.value) and str(refused.value).endswith(".")


@pytest.mark.parametrize(("ask", "sentence"), [
    (lambda: end_line_from_diagonals(100, 100, 50, 50), "leave the board no width"),
    (lambda: end_line_from_diagonals(300, 300, 300.4, 300.4, 0.5), "leave the board no width"),
    (lambda: edge_gap(DRAWER, 0), "thickness must be a number of mm above 0"),
    (lambda: edge_gap(12, 18), "must be a Corner, such as"),
    (lambda: edge_gap(Corner([1, 2], 3), 18, "tail", [1, 2, 3]), "broadcast together"),
    (lambda: end_line_gap(Corner([1, 2], 3), 120, [1, 2, 3]), "broadcast together"),
    (lambda: as_joined(Corner([1, 2], 3), [1, 2, 3]), "broadcast together"),
    (lambda: foot_gap(Corner([1, 2], 3), [1, 2, 3]), "broadcast together"),
    (lambda: end_line_from_diagonals(300, 300, 320, 320, "fine"), "resolution must be"),
    (lambda: edge_gap(DRAWER, 18, "lid"), "board can be 'tail' or 'pin', not"),
    (lambda: end_gap(DRAWER, 18, 90), "along its own surface"),
    (lambda: end_line_gap(DRAWER, 120, -91), "along its own surface"),
])
def test_what_cannot_be_says_why(ask, sentence):
    with pytest.raises(ValueError, match=sentence):
        ask()
