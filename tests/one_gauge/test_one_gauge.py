"""The one-gauge shortcut: its closed forms, its four consequences by independent routes, and settings a little off."""

import mpmath as mp
import numpy as np
import pytest
import sympy as sp
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import fsolve
from scipy.spatial.transform import Rotation
from splaywork import Corner, Joint, closed_forms
from splaywork.common.printing import degrees, enlarged_gap, gap, off
from splaywork.formulas import shortcut, symbols
from splaywork.one_gauge.one_gauge import NAMED_CORNERS, OneGauge, both_up_to, good_enough, outgrows_at
from splaywork.one_gauge.setting_errors import jitter
from splaywork.one_gauge.words import (
    equal_leans_table,
    four_cases_table,
    good_enough_table,
    named_corners_table,
    say_both_up_to,
    say_closed,
    say_error,
    say_go_round,
    say_good_enough,
    say_hold_leans,
    say_level_lines,
    say_setting_errors,
    say_winding,
    shortcut_table,
)

LEANS = st.floats(-80, 80).filter(lambda lean: abs(lean) > 1e-3)
MODERATE = st.floats(-44, 44).filter(lambda lean: abs(lean) > 0.5)
BOARDS = ("tail", "pin")


def radians(*degrees):
    return [mp.mpf(angle) * mp.pi / 180 for angle in degrees]


def close(value, exact):
    """Within 1e-12, relative."""
    return abs(value - exact) <= 1e-12 * abs(exact)


# --- The closed forms against 50-digit arithmetic on the same statement, written another way. ---


@settings(deadline=None)
@given(LEANS, LEANS)
def test_errors_and_gaps_are_the_struck_line_less_the_true_one(tail, pin):
    shortcut = OneGauge(Corner(tail, pin))
    with mp.workdps(50):
        a, b = radians(tail, pin)
        true_pin, true_tail = mp.atan(mp.tan(a) * mp.cos(b)), mp.atan(mp.tan(b) * mp.cos(a))
        assert close(shortcut.pin_error, mp.degrees(a - true_pin))
        assert close(shortcut.tail_error, mp.degrees(b - true_tail))
        assert close(shortcut.gap_over(100, "pin"), 100 * abs(mp.tan(a) - mp.tan(true_pin)))
        assert close(shortcut.gap_over(100, "tail"), 100 * abs(mp.tan(b) - mp.tan(true_tail)))
        assert close(shortcut.gap(100, "pin"), 100 / mp.cos(b) * abs(mp.tan(a) - mp.tan(true_pin)))


@settings(deadline=None)
@given(LEANS, LEANS)
def test_level_line_errors_from_the_planes_of_the_end(tail, pin):
    """A level line on an end is where that end's plane cuts a level plane: a cross product, with no closed form."""
    shortcut = OneGauge(Corner(tail, pin))
    with mp.workdps(50):
        a, b = radians(tail, pin)
        tail_normal = mp.matrix([0, -mp.cos(a), -mp.sin(a)])
        pin_normal = mp.matrix([-mp.cos(b), 0, -mp.sin(b)])
        corner_line = mp.matrix([-mp.tan(b), -mp.tan(a), 1])
        arris = corner_line / mp.norm(corner_line)

        def cross(u, v):
            return mp.matrix([u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]])

        def from_square(end_normal):
            level = cross(end_normal, mp.matrix([0, 0, 1]))
            return abs(mp.asin((level.T * arris)[0] / mp.norm(level)))

        flush = from_square(pin_normal)
        square = from_square(cross(tail_normal, arris))
        assert mp.almosteq(abs(a) - flush, mp.radians(abs(shortcut.flush_level_error)), rel_eps=1e-12)
        assert mp.almosteq(abs(a) - square, -mp.radians(abs(shortcut.square_level_error)), rel_eps=1e-12)
    # Too steep on a flush end, too shallow on a square one.
    assert np.sign(shortcut.flush_level_error) == np.sign(tail)
    assert np.sign(shortcut.square_level_error) == -np.sign(tail)


@settings(deadline=None)
@given(LEANS, LEANS)
def test_other_box_where_it_stands(tail, pin):
    shortcut = OneGauge(Corner(tail, pin))
    assume(abs(tail) + abs(pin) < 85)
    with mp.workdps(50):
        a, b = radians(tail, pin)
        # At the head, a board has run out as far as the other board has grown: sin a' = sin a / cos b.
        assert mp.almosteq(shortcut.closed.tail_lean, mp.degrees(mp.asin(mp.sin(a) / mp.cos(b))), rel_eps=1e-11)
        assert mp.almosteq(shortcut.closed.pin_lean, mp.degrees(mp.asin(mp.sin(b) / mp.cos(a))), rel_eps=1e-11)
        assert mp.almosteq(shortcut.height_factor, mp.sqrt(1 - (mp.tan(a) * mp.tan(b)) ** 2), rel_eps=1e-11)
    assert abs(shortcut.closed.tail_lean) >= abs(tail) and abs(shortcut.closed.pin_lean) >= abs(pin)
    assert shortcut.height_factor <= 1


@settings(deadline=None)
@given(MODERATE, MODERATE)
def test_struck_lines_are_true_for_the_other_box(tail, pin):
    shortcut = OneGauge(Corner(tail, pin))
    assume(shortcut.height_factor > 0.05)
    for board in BOARDS:
        assert shortcut.closed.end_line(board) == pytest.approx(shortcut.struck(board), abs=1e-10)


def test_forms_have_the_names_promised_and_belong_to_square_corners_only():
    a, b = symbols.a, symbols.b
    forms = closed_forms()
    targets = {
        "one_gauge_pin_error": a - sp.atan(sp.tan(a) * sp.cos(b)),
        "one_gauge_tail_error": b - sp.atan(sp.tan(b) * sp.cos(a)),
        "closed_tail_lean": sp.atan(sp.tan(a) * sp.sec(b) / sp.sqrt(1 - sp.tan(a) ** 2 * sp.tan(b) ** 2)),
        "closed_pin_lean": sp.atan(sp.tan(b) * sp.sec(a) / sp.sqrt(1 - sp.tan(a) ** 2 * sp.tan(b) ** 2)),
        "closed_height_factor": sp.sqrt(1 - sp.tan(a) ** 2 * sp.tan(b) ** 2),
    }
    at = {a: sp.Rational(3, 10), b: sp.Rational(-4, 10)}
    for name, target in targets.items():
        assert abs((forms[name] - target).subs(at).evalf(30)) < 1e-25
        assert name not in closed_forms(120) and name not in closed_forms(None)


@pytest.mark.parametrize(("board", "own", "others"), [("pin", "b", "a"), ("tail", "a", "b")])
def test_small_leans_as_a_series_with_its_remainder(board, own, others):
    own, others = getattr(symbols, own), getattr(symbols, others)
    assert shortcut.small_lean_error(board) == own**2 * sp.sin(2 * others) / 4
    series = shortcut.small_lean_series(board)
    assert series.getO() == sp.O(own**6)
    error = shortcut.one_gauge_error(board)
    left = [abs((error - series.removeO()).subs({others: sp.Rational(1, 4), own: size}).evalf(40))
            for size in (sp.Rational(1, 50), sp.Rational(1, 100))]
    assert left[0] / left[1] == pytest.approx(64, rel=0.01)  # a sixth power


# --- Published and exact. ---


@pytest.mark.parametrize(("lean", "degrees", "gap"), [(10, 0.149, 0.27), (15, 0.489, 0.91), (20, 1.118, 2.20)])
def test_hopper_laid_out_with_the_pitch_of_its_sides(lean, degrees, gap):
    """W. Noyes, Handwork in Wood (1910), joint no. 13, p. 155, lays a hopper joint out with "the pitch of the sides" on
    the ends: a published instance of the shortcut (passage seen). The book gives no error; these are recomputed.
    """
    shortcut = OneGauge(Corner(lean, lean))
    for board in BOARDS:
        assert round(shortcut.error(board), 3) == degrees
        assert round(shortcut.gap_over(100, board), 2) == gap


@pytest.mark.parametrize("corner", [Corner(23, 0), Corner(0, -17), Corner(0, 0)])
def test_exact_while_one_board_is_upright(corner):
    shortcut = OneGauge(corner)
    for board in BOARDS:
        assert shortcut.error(board) == shortcut.gap(100, board) == 0
        assert shortcut.closed_lean(board) == pytest.approx(corner.lean(board), abs=1e-12)
        assert shortcut.hold_leans(100)[board].opens_at == ""
    assert shortcut.flush_level_error == shortcut.square_level_error == 0
    assert shortcut.height_factor == pytest.approx(1, abs=1e-15)
    chain = shortcut.go_round(100, 400, 300)
    assert chain.rotations.max() < 1e-12 and chain.gaps.max() < 1e-10


def test_error_and_gap_grow_with_either_lean():
    leans = np.linspace(0.5, 45, 90)
    shortcut = OneGauge(Corner(leans, leans[:, None]))
    for board in BOARDS:
        for field in (shortcut.error(board), shortcut.gap_over(100, board)):
            assert np.all(np.diff(field, axis=0) > 0) and np.all(np.diff(field, axis=1) > 0)
    assert np.all(np.diff(shortcut.error("pin") / shortcut.error("pin")[0], axis=0) > 0)


# --- Hold the leans. ---


@settings(deadline=None)
@given(MODERATE, MODERATE)
def test_gap_lies_on_the_face_between_the_corner_line_and_the_struck_line(tail, pin):
    corner = Corner(tail, pin)
    for board, opens in OneGauge(corner).hold_leans(80).items():
        touch, leaves, struck = opens.solid
        assert np.allclose(opens.solid @ corner.vector(f"{board}_normal"), 0, atol=1e-9)
        assert np.allclose(np.cross(touch - leaves, corner.vector("corner_line")), 0, atol=1e-9)
        assert abs(touch[2] - leaves[2]) == pytest.approx(80)  # over the full height
        assert np.linalg.norm(struck - leaves) == pytest.approx(opens.width, rel=1e-9)
        assert (struck - leaves) @ corner.vector(f"{board}_level") > 0  # wood is missing, never in the way
        along, up = opens.flat[2] - opens.flat[0]
        assert np.degrees(np.arctan(-along / up)) == pytest.approx(OneGauge(corner).struck(board))
        assert (leaves[2] > touch[2]) == (opens.opens_at == "top")
        assert (OneGauge(corner).struck(board) > 0) == (opens.opens_at == "bottom")


# --- Close the corners. ---


def flat_outline(length, up, line):
    grown = up * np.tan(np.radians(line))
    return np.array([[0, 0, 0], [length, 0, 0], [length + grown, up, 0], [-grown, up, 0]])


@pytest.mark.parametrize("corner", [*NAMED_CORNERS.values(), Corner(35, -20), Corner(-12, -30)])
def test_box_found_by_folding_the_struck_boards_up(corner):
    """Independent: cut the flat boards, fold them up from the bench until their ends meet, and see how they stand."""
    tails = flat_outline(400, 90 / np.cos(np.radians(corner.tail_lean)), corner.pin_lean)
    pins = flat_outline(300, 90 / np.cos(np.radians(corner.pin_lean)), corner.tail_lean)

    def folded(leans):
        # A board flat on the bench outside its foot is 90 degrees of lean; it turns about its bottom edge.
        tail = Rotation.from_euler("x", 90 + leans[0], degrees=True).apply(tails)
        pin = Rotation.from_euler("xz", [90 + leans[1], 90], degrees=True).apply(pins)
        return tail, pin + np.array([400, 0, 0])

    def apart(leans):
        tail, pin = folded(leans)
        return (tail[2] - pin[3])[:2]

    leans, _, found, _ = fsolve(apart, [corner.tail_lean, corner.pin_lean], full_output=True, xtol=1e-13)
    assert found == 1
    shortcut = OneGauge(corner)
    assert leans == pytest.approx([shortcut.closed_lean("tail"), shortcut.closed_lean("pin")], abs=1e-8)
    tail, pin = folded(leans)
    assert np.allclose(tail[2], pin[3], atol=1e-8)  # the third coordinate too: the box closes and its rims are level
    assert tail[2, 2] == pytest.approx(90 * shortcut.height_factor)
    boards = shortcut.closed_box(90, 400, 300)
    assert np.allclose(boards[:2], [tail, pin], atol=1e-6)


@pytest.mark.parametrize("corner", [*NAMED_CORNERS.values(), Corner(35, -20), Corner(45, 45), Corner(30, 60),
                                    Corner(-45, 45)])
def test_other_box_closes_all_round_with_level_rims(corner):
    boards = OneGauge(corner).closed_box(90, 400, 300)
    following = np.roll(boards, -1, axis=0)
    assert np.allclose(boards[:, 1], following[:, 0]) and np.allclose(boards[:, 2], following[:, 3])
    assert np.allclose(boards[:, :2, 2], 0) and np.allclose(boards[:, 2:, 2], 90 * OneGauge(corner).height_factor)
    shared = np.linalg.norm(boards[:, 2] - boards[:, 1], axis=-1)
    assert np.allclose(shared, 90 / np.cos(np.radians(corner.tail_lean)) / np.cos(np.radians(corner.pin_lean)))


def test_picture_frame_and_beyond():
    frame = OneGauge(Corner(45, 45))
    assert frame.lies_flat and not frame.stands and frame.height_factor == 0
    assert frame.closed_lean("tail") == frame.closed_lean("pin") == 90
    assert np.allclose(frame.closed_box(80, 400, 300)[..., 2], 0, atol=1e-9)
    with pytest.raises(ValueError, match="picture frame"):
        _ = frame.closed
    with pytest.raises(ValueError, match="picture frame"):
        _ = frame.wind
    beyond = OneGauge(Corner(60, 31))
    assert not beyond.stands and not beyond.lies_flat
    for ask in (lambda: beyond.closed, lambda: beyond.height_factor, lambda: beyond.closed_box(80, 400, 300)):
        with pytest.raises(ValueError, match="make no box"):
            ask()
    several = OneGauge(Corner(np.array([8, 45, 60]), np.array([6, 45, 31])))
    assert several.stands.tolist() == [True, False, False] and several.lies_flat.tolist() == [False, True, False]


# --- Hold the dihedral and go round. ---


def hinged(corner, lines, height, lengths):
    """The chain built another way: lay each next board in the plane of the last, then swing it about their real edge."""
    up = {board: height / np.cos(np.radians(corner.lean(board))) for board in BOARDS}
    outlines = []
    for number, board in enumerate(["tail", "pin", "tail", "pin", "tail"]):
        flat = flat_outline(lengths[board], up[board], lines[board])
        if number == 0:
            placed = Rotation.from_euler("x", 90 + corner.tail_lean, degrees=True).apply(flat)
        else:
            before = outlines[-1]
            edge = before[2] - before[1]
            face = np.cross(before[1] - before[0], before[3] - before[0])
            # Three points of the next board in the last one's plane: its near end on the edge, its foot further along.
            onto, _ = Rotation.align_vectors(
                [edge / np.linalg.norm(edge), face / np.linalg.norm(face)],
                [(flat[3] - flat[0]) / np.linalg.norm(flat[3] - flat[0]), [0, 0, 1]])
            swing = Rotation.from_rotvec(edge / np.linalg.norm(edge) * np.radians(180 - corner.dihedral))
            placed = (swing * onto).apply(flat) + before[1]
        outlines.append(placed)
    return np.array(outlines)


def frame_of(outline):
    along = outline[1] - outline[0]
    normal = np.cross(along, outline[3] - outline[0])
    along, normal = along / np.linalg.norm(along), normal / np.linalg.norm(normal)
    return Rotation.from_matrix(np.column_stack([along, np.cross(normal, along), normal]))


@pytest.mark.parametrize("corner", [*NAMED_CORNERS.values(), Corner(30, -25), Corner(45, 45)])
def test_chain_against_boards_swung_about_their_real_edges(corner):
    shortcut = OneGauge(corner)
    chain = shortcut.go_round(90, 400, 300)
    lengths = {"tail": 400, "pin": 300}
    struck = hinged(corner, {board: shortcut.struck(board) for board in BOARDS}, 90, lengths)
    true = hinged(corner, {board: corner.end_line(board) for board in BOARDS}, 90, lengths)
    assert np.allclose(true[4], true[0], atol=1e-9)  # true end lines at the true dihedral do close
    assert np.allclose(chain.outlines, struck[:4], atol=1e-9)
    assert np.allclose(chain.true_outlines, true[:4], atol=1e-9)
    turned = [(frame_of(one) * frame_of(meant).inv()).magnitude() for one, meant in zip(struck, true, strict=True)]
    assert np.allclose(chain.rotations, np.degrees(turned[1:]), atol=1e-7)
    misclosure = np.linalg.norm(struck[4] - struck[0], axis=-1)[[0, 3]].max()
    assert chain.gaps[3] == pytest.approx(misclosure, rel=1e-9)
    assert chain.rotations[3] > 1e-3 and chain.gaps[3] > 1e-3


# --- A leaning front with an upright back. ---


def test_sides_wind_between_the_two_corners():
    corner = NAMED_CORNERS["moderate"]
    winding = OneGauge(corner).winding(500, 300)
    front = Corner.from_end_lines(corner.pin_lean, corner.tail_lean)  # what the struck lines make
    back = Corner.from_end_lines(0, corner.tail_lean)  # what they make beside an upright board
    assert winding.wind == pytest.approx(front.tail_lean - back.tail_lean, abs=1e-10)
    assert winding.per_100 == pytest.approx(winding.wind / 5)
    sticks = [Rotation.from_euler("x", one.tail_lean, degrees=True).apply([0, 0, 300]) for one in (front, back)]
    clear = np.linalg.norm(np.cross(*sticks)) / 300  # from one stick's tip, square to the line of the other
    assert winding.stick_shows == pytest.approx(clear)


# --- Is it good enough? ---


def test_map_is_the_worse_board_at_each_pair_of_leans():
    chart = good_enough(120, tolerance=0.3)
    assert chart.gap.shape == chart.error.shape == (181, 181)
    assert chart.tail_lean[0] == chart.pin_lean[0] == 0 and chart.tail_lean[-1] == 45
    row, column = 48, 60  # pin lean 12, tail lean 15
    one = OneGauge(Corner(chart.tail_lean[column], chart.pin_lean[row]))
    assert (chart.tail_lean[column], chart.pin_lean[row]) == (15, 12)
    assert chart.gap[row, column] == pytest.approx(max(one.gap_over(120, board) for board in BOARDS))
    assert chart.error[row, column] == pytest.approx(max(one.error(board) for board in BOARDS))
    assert np.array_equal(chart.within, chart.gap <= 0.3)
    assert not chart.gap[0].any() and not chart.gap[:, 0].any()


@pytest.mark.parametrize("error", [0.05, 0.25, 1.0])
def test_curve_where_the_shortcut_outgrows_the_gauge(error):
    points = outgrows_at(error)
    shortcut = OneGauge(Corner(*points.T))
    assert np.maximum(shortcut.tail_error, shortcut.pin_error) == pytest.approx(error, rel=1e-9)
    assert np.all(np.diff(points[:, 0]) > 0) and np.all(np.diff(points[:, 1]) < 0)
    assert points.max() > 44.5 and np.abs(np.diff(points, axis=0)).max() < 0.5  # it runs off both sides without a hole
    assert good_enough(100, setting_limit=error).outgrown[-1, -1]


def test_curve_is_empty_where_the_gauge_is_worse_everywhere():
    assert outgrows_at(20).shape == outgrows_at(50).shape == (0, 2)


# --- Settings a little off. ---


@pytest.mark.parametrize("corner", [Corner(18, 11), Corner(-18, 30), Corner(35, -25), Corner(0, 0), Corner(20, 12, 110)])
def test_opening_is_the_worst_corner_of_an_end_pushed_up_to_its_seat(corner):
    """Independent: saw the end as a plane in space, turned by Rotation, and measure along the board at the end's own corners.

    The end is bounded by both faces and both level rims, so its corners lie on four level lines: where those meet the rims'
    planes, worked out here from the directions of the board in space.
    """
    height, thick = 90, 15
    sample = jitter(corner, 1.0, height=height, thickness=thick, boxes=40, seed=5)
    draws = np.random.default_rng(5).uniform(-1, 1, (40, 1, 2, 2))
    compared = 0
    for index, board in enumerate(BOARDS):
        level, up, normal = (corner.vector(f"{board}_{axis}") for axis in ("level", "up", "normal"))
        edges = []
        for depth in (0, thick):
            for rim in (0, height):
                start = -depth * normal
                edges.append(start + (rim - start[2]) / up[2] * up)  # up the face to the rim: ripped level
        seat = corner.vector("pin_normal" if board == "tail" else "tail_normal")
        line = np.cross(normal, seat)
        line *= np.sign(line @ up) / np.linalg.norm(line)

        def along(plane, level=level, edges=edges):
            return np.array([-(edge @ plane) / (level @ plane) for edge in edges])

        turn = np.sign(np.cross(up, level) @ normal)  # which way round the outer face a line must turn to slant more
        for box in range(40):
            by_line, by_bevel = np.radians(draws[box, 0, index])
            wrong_line = Rotation.from_rotvec(-turn * by_line * normal).apply(line)
            bevel = np.radians(corner.end_bevel) + by_bevel
            away = np.cross(wrong_line, normal)
            away *= np.sign(away @ level)
            inward = -normal - np.tan(bevel) * away
            wrong = along(np.cross(wrong_line, inward)) - along(seat)
            assert sample.openings[box, 0, index] == pytest.approx(np.ptp(wrong), rel=1e-8)
            compared += 1
    assert compared == 80


def test_sensitivities_foretell_the_seeded_sample():
    corners = [Corner(14, 6), Corner(14, 0), Corner(20, -9), Corner(3, 25)]
    for number, kind in enumerate(("end line", "end bevel")):
        alone = jitter(corners, {kind: 0.25}, boxes=20_000, seed=1)
        foretold = alone.per_degree[..., number] * 0.25 / 2  # mean size of an error that is anywhere up to its limit
        assert alone.openings.mean(axis=0) == pytest.approx(foretold, rel=0.02)
    both = jitter(corners, 0.25, boxes=20_000, seed=2)
    number, board, setting, opened = both.matters_most
    assert both.matters_most.gap == opened
    assert opened == pytest.approx((both.per_degree * 0.25).max())
    assert [row[3] for row in both.ranking] == sorted((row[3] for row in both.ranking), reverse=True)
    assert setting == "end line" and number in (1, 2, 3, 4) and board in BOARDS
    assert len(both.ranking) == 16


def test_sample_is_seeded_and_summed_up_rightly():
    box = [Corner(14, 6)] * 4
    one, same, another = (jitter(box, 0.25, seed=seed) for seed in (3, 3, 4))
    assert np.array_equal(one.openings, same.openings) and not np.array_equal(one.openings, another.openings)
    assert one.openings.shape == (10_000, 4, 2) and one.gap.shape == (10_000,)
    assert np.array_equal(one.gap, one.openings.reshape(10_000, 8).max(axis=1))
    assert one.within(one.quantile(0.9)) == pytest.approx(0.9, abs=1e-3)
    assert np.all(np.diff([one.within(tolerance) for tolerance in (0.2, 0.3, 0.4, 0.5)]) > 0)
    assert one.within(0.4) < jitter(box[0], 0.25, seed=3).within(0.4)  # four corners give more to go wrong
    assert jitter(Corner(np.full(4, 14), np.full(4, 6)), 0.25, seed=3).gap == pytest.approx(one.gap)
    assert not jitter(box, 0.0).gap.any()


def test_what_stands_behind_the_plus_and_minus_is_a_limit():
    """No setting is off by more: no opening beyond what the limits together can do, and near it when many are drawn."""
    corner = Corner(14, 6)
    sample = jitter(corner, {"end line": 0.25}, boxes=20_000, seed=7)
    most = [float(corner.slant_width(100, board) * (np.tan(np.radians(corner.end_line(board) + 0.25))
                                                    - np.tan(np.radians(corner.end_line(board))))) for board in BOARDS]
    alone = jitter(corner, 0.25, boxes=20_000, seed=7)
    for index, opens in enumerate(most):
        assert 0.97 * opens < sample.openings[:, 0, index].max() < 1.15 * opens  # and a little through the thickness
    assert np.all(alone.openings <= (alone.per_degree * 0.25).sum(axis=-1) * 1.02)


# --- In words. ---

CORNERS = [*NAMED_CORNERS.values(), Corner(-28, -24), Corner(28, -24), Corner(-15, 12)]


@pytest.mark.parametrize("corner", CORNERS)
def test_words_say_the_numbers(corner):
    """Every number of a sentence at slight, strong, negative and mixed leans, worked out here from the corner."""
    shortcut = OneGauge(corner)
    for board in BOARDS:
        others = "pin" if board == "tail" else "tail"
        assert (f"{degrees(corner.lean(others))} on the {board} board, where the true end line is "
                f"{degrees(corner.end_line(board))}") in say_error(corner)
        assert f"slants {off(shortcut.error(board))} too much" in say_error(corner)
        one = shortcut.hold_leans(100)[board]
        end = "Each" if corner.tail_lean == corner.pin_lean else f"The {board} board's"
        assert (f"{end} end touches at the {'top' if one.opens_at == 'bottom' else 'bottom'} and leaves a gap of "
                f"{enlarged_gap(one.width)} at the {one.opens_at}.") in say_hold_leans(corner, 100)
    chain = shortcut.go_round(100, 400, 300)
    assert f"misses the first by {gap(chain.gaps[3])} where" in say_go_round(corner, 100, 400, 300)
    two = say_go_round(corner, 100, 400, 300, corners=2)
    assert f"After two corners the next board is turned {off(chain.rotations[1])}" in two
    assert f"must wind {off(shortcut.wind)} in its 400 mm" in say_winding(corner, 400, 300)
    assert f"On a flush end the lines slant {off(shortcut.flush_level_error)} too much." in say_level_lines(corner)
    assert f"On a square end they slant {off(shortcut.square_level_error)} too little." in say_level_lines(corner)
    square = Joint(corner, height=120, tail_thickness=18, tails=3, end="square")
    crossing = {round(float(line.from_square), 6) for line in square.lines
                if (line.board, line.surface, line.name[-5:]) == ("tail", "end", "cheek")}
    assert len(crossing) == 2 and min(abs(angle - abs(corner.level_on_square_end)) for angle in crossing) > 0.05
    assert "cross a square end at two other angles." in say_level_lines(corner)


@pytest.mark.parametrize("corner", CORNERS)
def test_words_on_the_closed_box_keep_to_its_outer_faces(corner):
    """What gapes inside (or outside, at mixed leans) is the end's own section: thickness times sine of what its bevel lacks."""
    said, shortcut = say_closed(corner, 100, thickness=18), OneGauge(corner)
    lacks = shortcut.closed.dihedral - corner.dihedral
    opens = 18 * np.sin(np.radians(lacks)) / np.cos(np.radians(corner.end_bevel))
    assert f"leave a gap of {gap(abs(opens))} at the {'inner' if lacks > 0 else 'outer'} ones." in said
    assert ("The outer faces close at all four" in said) == (lacks > 0) == (corner.tail_lean * corner.pin_lean > 0)
    assert "the outer edges of both rims are level" in said and "nothing gapes" not in said
    for board in BOARDS:
        leans = degrees(shortcut.closed_lean(board)), f"{corner.lean(board):g}°".replace("-", "−")
        told = f"{leans[0]} instead of {leans[1]}" if leans[0] != leans[1].replace("°", ".0°") else f"within 0.1° of {leans[1]}"
        assert told in said
        assert abs(shortcut.closed_edge_gap(board, 18)) == pytest.approx(
            18 * abs(np.sin(np.radians(shortcut.closed_lean(board) - corner.lean(board))))
            / np.cos(np.radians(corner.lean(board))))


def test_the_inside_of_the_strong_corner_gapes_as_the_audit_found():
    shortcut = OneGauge(Corner(28, 24))
    assert 0.8 < shortcut.closed_end_gap(18) < 0.9
    assert min(shortcut.closed_edge_gap(board, 18) for board in BOARDS) > 0.8


def test_words_where_no_box_stands():
    assert "lie flat like a picture frame" in say_closed(Corner(45, 45), 100)
    assert "can't be closed" in say_closed(Corner(50, 45), 100)


def test_words_on_good_enough():
    corner = NAMED_CORNERS["moderate"]
    opens = OneGauge(corner).gap_over(100, "tail")  # the wider
    assert "so the shortcut isn't good enough" in say_good_enough(corner, 100, 0.5)
    assert "so the shortcut is good enough" in say_good_enough(corner, 100, 5)
    for leans, told in ((corner, "0.4° wrong. We allow 0.25° for setting a bevel: the line is wrong by more than that."),
                        (NAMED_CORNERS["slight"], "0.1° wrong. We allow 0.25° for setting a bevel: the line is wrong by no "
                                                  "more")):
        assert told in say_good_enough(leans, 100, 0.5)
    for size, tolerance, written in ((0.2001, 0.2, "a little more than 0.20"), (0.1999, 0.2, "0.20"), (0.127, 0.11, "0.15"),
                                     (0.124, 0.12, "a little more than 0.12"), (0.127, 0.13, "0.13"), (0.174, 0.16, "0.17"),
                                     (0.02, 0.03, "0.02"), (0.02, 0.01, "0.02"), (0.02, 0.05, "less than 0.05")):
        told = say_good_enough(corner, 100 * size / opens, tolerance)  # the gap grows with the width
        assert f"leaves a gap of {written} mm in" in told and ("isn't good" in told) == (size > tolerance), (size, tolerance)
    assert f"of a little more than {opens / 25.4:.3f} in in" in say_good_enough(corner, 100, opens - 1e-4, unit="in")
    sample = jitter(corner, 0.25)
    assert f"{100 * sample.within(0.5):.0f}% of the corners stay within 0.50 mm" in say_setting_errors(sample, 0.5)


@pytest.mark.parametrize("corner", [Corner(14, 0), Corner(0, 6), Corner(0, 0)])
def test_words_for_an_upright_board_find_nothing_wrong(corner):
    said = [say_error(corner), say_hold_leans(corner, 100), say_closed(corner, 100), say_go_round(corner, 100, 400, 300),
            say_winding(corner, 400, 300), say_level_lines(corner), say_good_enough(corner, 100, 0.2)]
    assert all("exact" in sentence for sentence in said)


def test_words_take_inches_and_signs():
    assert " in at the" in say_hold_leans(Corner(15, 12), 100, unit="in")
    mixed = say_hold_leans(Corner(20, -15), 100)
    assert "tail board's end touches at the bottom" in mixed and "−15°" in mixed
    assert "less than 0.01 mm" in say_hold_leans(Corner(1, 1), 100)


def test_tables_stand_in_rows_and_hold_the_numbers():
    for consequence, width in (("hold the leans", 6), ("close the corners", 6), ("go round", 6), ("wind the sides", 5),
                               ("level lines", 4)):
        table = shortcut_table(consequence)
        assert [row[0] for row in table.rows] == ["slight", "moderate", "strong"]
        assert {len(row) for row in (table.head, *table.rows)} == {width}
        assert table._repr_markdown_().count("\n") == len(table.rows) + 1
    gaps = [row[4] for row in shortcut_table("hold the leans").rows]
    named = map(NAMED_CORNERS.get, ("slight", "moderate", "strong"))
    assert gaps == [gap(OneGauge(corner).gap(120, "tail")) for corner in named]
    table = four_cases_table()
    columns = list(zip(table.head, *table.rows, strict=True))[1:]
    for row, corner in zip(columns, map(NAMED_CORNERS.get, ("slight", "moderate", "strong")), strict=True):
        shortcut = OneGauge(corner)
        assert row[2] == gap(max(shortcut.gap(120, "tail"), shortcut.gap(120, "pin")))
        assert row[3:5] == (f"{degrees(shortcut.closed_lean('tail'))} and {degrees(shortcut.closed_lean('pin'))}",
                            f"{120 * shortcut.height_factor:.1f} mm")
        chain = shortcut.go_round(120, 440, 380).gaps
        assert row[5:] == (gap(chain[0]), gap(chain[3]), off(shortcut.wind))
    table = named_corners_table(100, 0.75)
    for (_, leans, wider, verdict, error), corner in zip(table.rows, map(NAMED_CORNERS.get, ("slight", "moderate", "strong")),
                                                         strict=True):
        shortcut = OneGauge(corner)
        gaps, errors = [shortcut.gap_over(100, board) for board in BOARDS], [shortcut.error(board) for board in BOARDS]
        assert (leans, wider, error) == (f"{corner.tail_lean:g}° and {corner.pin_lean:g}°", gap(max(gaps)), off(max(errors)))
        assert verdict == ("good enough" if max(gaps) <= 0.75 else "not good enough")
    assert [row[3] for row in table.rows] == ["good enough", "good enough", "not good enough"]
    equal = equal_leans_table((10, 40))
    assert equal.rows[1][3] == degrees(OneGauge(Corner(40, 40)).closed_lean("tail"))


def test_what_notebooks_07_and_08_say_in_prose_is_so():
    """The errors of going round, what winding shows, and what a setting a quarter of a degree wrong opens."""
    slight, moderate, strong = (OneGauge(NAMED_CORNERS[name]) for name in ("slight", "moderate", "strong"))
    assert np.all(np.diff(strong.go_round(120, 440, 380).gaps) > 0)  # each corner widens the miss
    *_, third, fourth = slight.go_round(120, 440, 380).gaps
    assert 0 < fourth < third  # the fourth takes some of it back
    own, sticks = (moderate.winding(440, size).stick_shows for size in (moderate.corner.slant_width(120, "tail"), 300))
    assert own < 1 and 1.5 < sticks < 2  # "less than a millimetre", "nearly two"
    front, back = moderate.corner, Corner(15, 0)
    sample = jitter([front, front, back, back], 0.25, height=120, thickness=18)
    assert sample.within(0.5) < 0.5  # "most of these boxes"
    alone = {one.board: one.gap for one in sample.ranking[::-1] if one.setting == "end line" and one.corner == 1}
    assert len(alone) == 2 and all(moderate.gap(120, board) > alone[board] for board in BOARDS)  # "leaves more"
    swapped = [jitter([front, front, back, back], {"end line": line, "end bevel": bevel}, height=120, thickness=18)
               .quantile(0.5) for line, bevel in ((0.05, 0.25), (0.25, 0.05))]
    assert swapped[0] < 0.3 * sample.quantile(0.5) and swapped[1] > 0.9 * sample.quantile(0.5)  # "come back nearly"


def test_notebook_04_says_where_the_gap_of_20_and_12_opens():
    """Both shortcut lines leave the board too long at the top; each gap's triangle is open at the bottom edge."""
    for board, seen in OneGauge(Corner(20, 12)).hold_leans(100).items():
        true, foot, off = seen.flat
        assert seen.opens_at == "bottom" and foot[1] == off[1] == 0 < true[1], board


def test_how_far_both_may_lean_equally():
    """Independent: the gap over the leans at steps of a hundredth, and the last lean that keeps within the tolerance."""
    leans = np.arange(0, 45, 0.01)
    for width, tolerance in ((100, 0.2), (50, 0.5), (300, 0.1)):
        radians_ = np.radians(leans)
        gaps = width * (np.tan(radians_) - np.tan(radians_) * np.cos(radians_))
        last = leans[gaps <= tolerance].max()
        assert last <= both_up_to(width, tolerance) <= last + 0.01
    assert both_up_to(0.1, 5) == 45
    assert f"100 mm wide lean equally. Up to {int(both_up_to(100, 0.2) * 10) / 10:.1f}° the shortcut leaves a gap of at most "\
           "0.20 mm." in say_both_up_to(100, 0.2)
    assert good_enough_table(widths=(100,)).rows[0][2] == f"{int(both_up_to(100, 0.2) * 10) / 10:.1f}°"


def test_named_corners_go_from_hidden_to_plain():
    gaps = [OneGauge(corner).gap(100, "tail") for corner in NAMED_CORNERS.values()]
    assert gaps == sorted(gaps) and list(NAMED_CORNERS) == ["slight", "moderate", "strong", "demonstration"]


# --- What can't be. ---


@pytest.mark.parametrize(("ask", "sentence"), [
    (lambda: OneGauge(12), "must be a Corner, such as"),
    (lambda: OneGauge("Corner(1, 2)"), "must be a Corner, such as"),
    (lambda: OneGauge(Corner(10, 10, 120)), "plan angle of 90"),
    (lambda: OneGauge(Corner([1, 2], [3, 4], [90, 91])), "plan angle of 90"),
    (lambda: OneGauge(Corner([1, 2], 3)).hold_leans(80), "must be one number of degrees"),
    (lambda: OneGauge(Corner([1, 2], 3)).go_round(80, 400, 300), "must be one number of degrees"),
    (lambda: OneGauge(Corner(1, 2)).go_round(80, -400, 300), "tail board's length must be a number of mm above 0"),
    (lambda: OneGauge(Corner(1, 2)).hold_leans("__import__('os')"), "height must be a number of mm above 0"),
    (lambda: OneGauge(Corner(1, 2)).gap("wide", "tail"), "height must be"),
    (lambda: OneGauge(Corner(1, 2)).gap_over(-1, "tail"), "width must be"),
    (lambda: OneGauge(Corner(1, 2)).winding(440, None), "winding stick must be"),
    (lambda: OneGauge(Corner(1, 2)).closed_end_gap([12, 18]), "thickness must be one number of mm"),
    (lambda: OneGauge(Corner(1, 2)).closed_edge_gap("lid", 18), "board can be 'tail' or 'pin', not"),
    (lambda: OneGauge(Corner(1, 2)).error("front"), "board can be 'tail' or 'pin', not"),
    (lambda: good_enough(float("nan")), "board's width"),
    (lambda: good_enough(100, tolerance=0), "tolerance"),
    (lambda: good_enough(100, setting_limit=0), "limit of the setting"),
    (lambda: good_enough(100, points="many"), "number of points"),
    (lambda: both_up_to("wide", 1), "board's width"),
    (lambda: outgrows_at("0.25"), "error must be"),
    (lambda: shortcut_table("level"), "picture can be 'hold the leans'"),
    (lambda: jitter(3), "Corner or a list of Corners"),
    (lambda: jitter("Corner"), "Corner or a list of Corners"),
    (lambda: jitter([Corner(1, 2), 3]), "Corner or a list of Corners"),
    (lambda: jitter([]), "Corner or a list of Corners"),
    (lambda: jitter(Corner(1, 2), -1), "from 0° to 5°"),
    (lambda: jitter(Corner(1, 2), "much"), "from 0° to 5°"),
    (lambda: jitter(Corner(1, 2), {"saw": 1}), "'end line' or 'end bevel', not 'saw'"),
    (lambda: jitter(Corner(1, 2), boxes=10**9), "number of boxes must be a whole number"),
    (lambda: jitter(Corner(1, 2), boxes=2.5), "number of boxes must be a whole number"),
    (lambda: jitter(Corner(1, 2), seed=None), "seed must be a whole number"),
    (lambda: jitter(Corner(1, 2), height="tall"), "height must be"),
    (lambda: jitter(Corner(1, 2)).quantile(2), "from 0 to 1"),
    (lambda: jitter(Corner(1, 2)).within("all"), "tolerance must be"),
    (lambda: say_go_round(Corner(1, 2), 80, 400, 300, corners=5), "corners to go round must be a whole number, from 1 to 4"),
])
def test_what_cannot_be_is_one_sentence(ask, sentence):
    with pytest.raises(ValueError, match=sentence) as refused:
        ask()
    assert "\n" not in str(refused.value) and str(refused.value).endswith(".")


def test_values_compare_with_their_arrays():
    leans = np.array([1.0, 2.0])
    one, same, another = (jitter(Corner(leans.copy(), 3), boxes=5, seed=seed) for seed in (0, 0, 1))
    assert one == same != another
    assert OneGauge(Corner(8, 6)).go_round(80, 400, 300) == OneGauge(Corner(8, 6)).go_round(80, 400, 300)
    assert good_enough(100, points=5) == good_enough(100, points=5) != good_enough(101, points=5)
    assert repr(jitter(Corner(8, 6), boxes=5)).count("\n") == 0
