"""Closed forms and numbers of one corner against an independent plane-and-vector route, and the rules around them."""

import warnings

import numpy as np
import pytest
import sympy as sp
from hypothesis import assume, example, given
from hypothesis import strategies as st
from plane_route import Route
from splaywork import Corner, Joint, closed_forms, settings_table
from splaywork.formulas.symbols import H, P, Q, a, b, p, s, t, t_other, w
from splaywork.joint.bench_setups import section

ANGLES = ("tail_end_line", "pin_end_line", "dihedral", "end_bevel", "corner_rise", "tail_rim_bevel", "pin_rim_bevel",
          "level_on_flush_end", "level_on_square_end")
LENGTHS = ("slant_width", "baseline_offset", "rocking_gap", "looks_as")
VECTORS = ("corner_line", *(f"{board}_{direction}" for board in ("tail", "pin")
                            for direction in ("level", "up", "outward", "normal")))

# A lean below 1e-14 degrees counts as none: an end bevel goes as the product of two, and the 50 digits must outlast it.
signed = st.sampled_from([-1.0, 1.0])
tiny = st.builds(lambda sign, power: sign * 10**power, signed, st.floats(-14, 0))
leans = st.one_of(st.floats(-80, 80), tiny, st.sampled_from([0.0, 1e-9, -1e-9, 45.0, -80.0, 80.0])).map(
    lambda lean: 0.0 if abs(lean) < 1e-14 else lean)
plan_angles = st.one_of(st.floats(20, 160), tiny.map(lambda off: 90 + off), st.sampled_from([20.0, 60.0, 90.0, 160.0]))


@st.composite
def nearly_square_dihedrals(draw):
    """Corners whose faces meet at 90 degrees or within a hair of it: tan a tan b = cos w."""
    lean, plan, off = draw(st.floats(5, 80)), draw(plan_angles), draw(st.one_of(st.just(0.0), tiny))
    other = np.degrees(np.arctan(np.cos(np.radians(plan)) / np.tan(np.radians(lean)))) + off
    assume(abs(other) <= 80)
    return (*draw(st.permutations([lean, float(other)])), plan)


@st.composite
def nearly_square_ends(draw):
    """Corners with an end line of nothing or next to it, though both boards lean: tan b + tan a cos w = 0."""
    lean, plan, off = draw(leans), draw(plan_angles), draw(st.one_of(st.just(0.0), tiny))
    other = -np.degrees(np.arctan(np.cos(np.radians(plan)) * np.tan(np.radians(lean)))) + off
    assume(1e-14 < abs(other) <= 80)
    return (*draw(st.permutations([lean, float(other)])), plan)


corners = st.one_of(st.tuples(leans, leans, plan_angles), nearly_square_dihedrals(), nearly_square_ends())
square_corners = st.tuples(leans, leans, st.just(90.0))


def size_of_terms(name, tail, pin, plan):
    """Size, in degrees, of the terms whose difference a value is, where that difference can pass through nothing."""
    a, b, w = np.radians(tail), np.radians(pin), np.radians(plan)
    own = {"tail_end_line": (a, b), "pin_end_line": (b, a), "level_on_flush_end": (b, a)}
    if name in own:
        lean, other = own[name]
        return np.degrees((np.cos(lean) * abs(np.tan(other)) + abs(np.sin(lean) * np.cos(w))) / np.sin(w))
    if name == "end_bevel":
        return np.degrees(abs(np.cos(w) * np.cos(a) * np.cos(b)) + abs(np.sin(a) * np.sin(b)))
    return 0.0


def assert_close(ours, exact, slack=0.0):
    """Within 1e-12 of the exact value, or of `slack` where that is larger; the difference is taken in 50 digits.

    What is left below 1e-45 is the last of those digits: there the exact value is nothing.
    """
    assert abs(ours - exact) <= max(1e-12 * abs(exact), 1e-12 * slack, 1e-45), f"{ours!r} is not {float(exact)!r}"


# --- against the independent route --------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ANGLES)
@given(leans_and_plan=corners)
@example(leans_and_plan=(1e-9, -1e-9, 90.0))
@example(leans_and_plan=(80.0, -80.0, 20.0))
@example(leans_and_plan=(80.0, 80.0, 160.0))
def test_angle_at_any_plan_angle(name, leans_and_plan):
    # Off square, end lines and end bevel are differences that may cancel: there, 1e-12 of the terms' size.
    slack = size_of_terms(name, *leans_and_plan)
    assert_close(getattr(Corner(*leans_and_plan), name), getattr(Route(*leans_and_plan), name), slack)


@pytest.mark.parametrize("name", ANGLES)
@given(leans_and_plan=square_corners)
@example(leans_and_plan=(1e-9, 1e-9, 90.0))
@example(leans_and_plan=(1e-9, -80.0, 90.0))
@example(leans_and_plan=(-30.0, 40.0, 90.0))
def test_angle_at_plan_angle_90_to_full_relative_accuracy(name, leans_and_plan):
    assert_close(getattr(Corner(*leans_and_plan), name), getattr(Route(*leans_and_plan), name))


@pytest.mark.parametrize("name", LENGTHS)
@given(leans_and_plan=corners, length=st.floats(0.1, 2000), board=st.sampled_from(["tail", "pin"]))
def test_length(name, leans_and_plan, length, board):
    exact = getattr(Route(*leans_and_plan), name)(length, board)
    # One baseline offset serves both faces: the route walks on either of them.
    arguments = (length,) if name == "baseline_offset" else (length, board)
    assert_close(getattr(Corner(*leans_and_plan), name)(*arguments), exact)


@pytest.mark.parametrize("name", VECTORS)
@given(leans_and_plan=corners)
def test_vector(name, leans_and_plan):
    tail, pin, plan = np.radians(leans_and_plan)
    slack = (abs(np.tan(pin)) + abs(np.tan(tail) * np.cos(plan))) / np.sin(plan) if name == "corner_line" else 0.0
    ours = Corner(*leans_and_plan).vector(name)
    assert ours.shape == (3,)
    for component, exact in zip(ours, Route(*leans_and_plan).vector(name), strict=True):
        assert_close(component, exact, slack)


@given(leans_and_plan=corners)
@example(leans_and_plan=(80.0, 80.0, 90.0))
def test_leans_come_back_from_their_end_lines(leans_and_plan):
    corner = Corner(*leans_and_plan)
    back = Corner.from_end_lines(corner.tail_end_line, corner.pin_end_line, corner.plan_angle)
    assert back.tail_lean == pytest.approx(corner.tail_lean, abs=1e-10)
    assert back.pin_lean == pytest.approx(corner.pin_lean, abs=1e-10)
    assert back.plan_angle == corner.plan_angle


@given(tail=st.floats(-89, 89), pin=st.floats(-89, 89), plan=plan_angles)
@example(tail=0.0, pin=27.2027, plan=27.2028)
@example(tail=21.30559136584924, pin=-13.523381724453353, plan=34.82897313902542)  # leans within 0.004 of flat
@example(tail=51.14027505908433, pin=10.431190049199882, plan=40.70908500989392)  # within 0.0001
def test_end_lines_are_kept_or_refused(tail, pin, plan):
    """Whatever end lines are asked for, a corner that comes back has them, and at 90 none is refused that exists."""
    try:
        corner = Corner.from_end_lines(tail, pin, plan)
    except ValueError:
        assert plan != 90 or abs(tail) + abs(pin) > 89.99
    else:
        assert corner.tail_end_line == pytest.approx(tail, abs=1e-6)
        assert corner.pin_end_line == pytest.approx(pin, abs=1e-6)


# --- symmetry, limits, exact values -------------------------------------------------------------------------------


@given(leans_and_plan=corners)
def test_swapping_the_boards_swaps_their_values(leans_and_plan):
    tail, pin, plan = leans_and_plan
    corner, swapped = Corner(tail, pin, plan), Corner(pin, tail, plan)
    for name, other in (("tail_end_line", "pin_end_line"), ("tail_rim_bevel", "pin_rim_bevel"),
                        ("dihedral", "dihedral"), ("end_bevel", "end_bevel"), ("corner_rise", "corner_rise")):
        slack = 57.3 if name == "corner_rise" else size_of_terms(name, tail, pin, plan)
        assert_close(getattr(corner, name), getattr(swapped, other), slack)
    assert swapped.baseline_offset(18) == pytest.approx(corner.baseline_offset(18), rel=1e-12)
    # The level line of the tail end lies in the other board's face, so it does not simply change hands.
    assert_close(swapped.level_on_flush_end, corner.tail_end_line, size_of_terms("tail_end_line", tail, pin, plan))


@given(leans_and_plan=corners)
def test_turning_the_box_over_flips_what_has_a_side(leans_and_plan):
    tail, pin, plan = leans_and_plan
    corner, over = Corner(tail, pin, plan), Corner(-tail, -pin, plan)
    for name in ANGLES:
        stays = name in ("dihedral", "end_bevel", "corner_rise")
        assert getattr(over, name) == (1 if stays else -1) * getattr(corner, name), name
    for name in LENGTHS:
        assert getattr(over, name)(25) == getattr(corner, name)(25), name


@given(tail=leans, pin=leans)
def test_flipping_one_lean_of_a_square_corner_turns_the_end_bevel_round(tail, pin):
    corner, flipped = Corner(tail, pin), Corner(-tail, pin)
    assert flipped.end_bevel == -corner.end_bevel
    assert flipped.dihedral == pytest.approx(180 - corner.dihedral, rel=1e-12)
    assert flipped.corner_rise == corner.corner_rise
    assert flipped.tail_end_line == corner.tail_end_line
    assert flipped.pin_end_line == -corner.pin_end_line


@given(plan=plan_angles)
def test_upright_boards(plan):
    corner = Corner(0, 0, plan)
    for name in ANGLES:
        upright = {"dihedral": plan, "end_bevel": plan - 90, "corner_rise": 90}.get(name, 0)
        assert_close(getattr(corner, name), upright, 57.3)
    assert [corner.slant_width(80), corner.looks_as(12), corner.rocking_gap(9)] == [80, 12, 0]
    assert corner.baseline_offset(9) == pytest.approx(9 / np.sin(np.radians(plan)), rel=1e-12)


@given(lean=leans)
def test_one_upright_board_hands_its_gauge_over(lean):
    """With one board upright at a square corner, the other's lean is its end line, and the rest is square."""
    leaning_tail, leaning_pin = Corner(lean, 0), Corner(0, lean)
    assert_close(leaning_tail.pin_end_line, lean)
    assert_close(leaning_pin.tail_end_line, lean)
    assert [leaning_tail.tail_end_line, leaning_tail.end_bevel, leaning_tail.dihedral] == [0, 0, 90]
    assert [leaning_pin.pin_end_line, leaning_pin.end_bevel, leaning_pin.dihedral] == [0, 0, 90]
    assert_close(leaning_tail.level_on_square_end, lean)
    assert_close(leaning_tail.level_on_flush_end, lean)
    assert_close(leaning_tail.corner_rise, 90 - abs(lean), 90)


def test_thirty_and_thirty_give_half():
    forms = closed_forms()
    for name in ("tail_end_line", "pin_end_line", "level_on_flush_end"):
        assert sp.tan(forms[name].subs({a: sp.pi / 6, b: sp.pi / 6})) == sp.Rational(1, 2)
    assert Corner(30, 30).tail_end_line == pytest.approx(np.degrees(np.arctan(0.5)), rel=1e-15)


def test_forty_five_and_forty_five_give_a_dihedral_of_120():
    forms = closed_forms()
    assert forms["dihedral"].subs({a: sp.pi / 4, b: sp.pi / 4}) == 2 * sp.pi / 3
    assert forms["end_bevel"].subs({a: sp.pi / 4, b: sp.pi / 4}) == sp.pi / 6
    assert Corner(45, 45).dihedral == pytest.approx(120, rel=1e-15)


# --- the closed forms themselves ----------------------------------------------------------------------------------

CORNER_LINE = sp.sqrt(sp.tan(a) ** 2 + sp.tan(b) ** 2)  # cotangent of its rise, at a square corner
TARGETS = {  # geometry.md, "Results for one corner", at plan angle 90
    "tail_end_line": sp.atan(sp.tan(b) * sp.cos(a)),
    "pin_end_line": sp.atan(sp.tan(a) * sp.cos(b)),
    "dihedral": sp.acos(-sp.sin(a) * sp.sin(b)),
    "end_bevel": sp.asin(sp.sin(a) * sp.sin(b)),
    "corner_rise": sp.acot(CORNER_LINE),
    "tail_rim_bevel": a,
    "pin_rim_bevel": b,
    "level_on_flush_end": sp.atan(sp.tan(a) * sp.cos(b)),
    "level_on_square_end": sp.atan(sp.sin(a) / sp.sin(sp.acot(CORNER_LINE))),
    "slant_width": H / sp.cos(p),
    "baseline_offset": t_other / sp.sin(sp.acos(-sp.sin(a) * sp.sin(b))),
    "rocking_gap": t * sp.sin(sp.Abs(p)),
    "looks_as": s / sp.cos(p),
    "tail_lean_from_end_lines": sp.sign(P) * sp.atan(sp.sqrt(P**2 * (1 + Q**2) / (1 - P**2 * Q**2))),
    "pin_lean_from_end_lines": sp.sign(Q) * sp.atan(sp.sqrt(Q**2 * (1 + P**2) / (1 - P**2 * Q**2))),
}
GENERAL_TARGETS = {
    "tail_end_line": sp.atan(sp.cos(a) * (sp.tan(b) + sp.tan(a) * sp.cos(w)) / sp.sin(w)),
    "pin_end_line": sp.atan(sp.cos(b) * (sp.tan(a) + sp.tan(b) * sp.cos(w)) / sp.sin(w)),
    "dihedral": sp.acos(sp.cos(w) * sp.cos(a) * sp.cos(b) - sp.sin(a) * sp.sin(b)),
    "level_on_flush_end": sp.atan(sp.cos(b) * (sp.tan(a) + sp.tan(b) * sp.cos(w)) / sp.sin(w)),
    "tail_rim_bevel": a,
    "pin_rim_bevel": b,
}
POINTS = [  # leans of every sign, in radians; P and Q with |PQ| < 1
    {a: ra, b: rb, p: ra, P: rp, Q: rq, w: rw, H: 80, t: 12, t_other: 12, s: 9}
    for ra, rb, rp, rq, rw in [
        (sp.Rational(1, 7), sp.Rational(3, 11), sp.Rational(2, 9), sp.Rational(5, 13), sp.Rational(7, 6)),
        (sp.Rational(-9, 8), sp.Rational(5, 6), sp.Rational(-8, 3), sp.Rational(1, 3), sp.Rational(5, 2)),
        (sp.Rational(13, 10), sp.Rational(-6, 5), sp.Rational(3, 5), sp.Rational(-7, 5), sp.Rational(2, 5)),
        (sp.Rational(-1, 99), sp.Rational(-4, 3), sp.Rational(-1, 50), sp.Rational(-9, 2), sp.Rational(15, 8))]]


def assert_same_form(ours, target):
    for point in POINTS:
        difference = (ours - target).subs(point).evalf(50, maxn=400, chop=True)
        assert abs(difference) < 1e-45, f"{ours} differs from {target} by {difference} at {point}"


@pytest.mark.parametrize("name", TARGETS)
def test_form_at_90_is_the_stated_result(name):
    assert_same_form(closed_forms()[name], TARGETS[name])


@pytest.mark.parametrize("name", GENERAL_TARGETS)
def test_form_at_any_plan_angle_is_the_stated_result(name):
    assert_same_form(closed_forms(None)[name], GENERAL_TARGETS[name])


def test_forms_carry_the_attribute_names():
    inverse = {"tail_lean_from_end_lines", "pin_lean_from_end_lines"}  # Corner.from_end_lines
    assert set(TARGETS) == {*ANGLES, *LENGTHS} | inverse
    assert set(TARGETS) <= set(closed_forms())
    assert all(hasattr(Corner, name) for name in set(TARGETS) - inverse)


def test_the_same_forms_at_every_plan_angle():
    general, square, oblique = closed_forms(None), closed_forms(90), closed_forms(72.5)
    assert closed_forms() == square
    assert set(general) == set(oblique) <= set(square)
    assert w in general["dihedral"].free_symbols
    for name in TARGETS:
        form = general[name]
        assert w not in square[name].free_symbols | oblique[name].free_symbols
        assert_same_form(form.subs(w, sp.pi / 2), square[name])
        values = {a: 0.2, b: -0.3, p: 0.2, P: 0.3, Q: 0.2, H: 80, t: 12, s: 9}
        assert form.subs(w, sp.rad(72.5)).evalf(subs=values) == pytest.approx(oblique[name].evalf(subs=values))


def test_forms_and_numbers_agree():
    corner = Corner(np.degrees(0.2), np.degrees(-0.3), 72.5)
    for name in ANGLES:
        from_form = float(closed_forms(72.5)[name].subs({a: 0.2, b: -0.3}))
        assert getattr(corner, name) == pytest.approx(np.degrees(from_form))


def test_a_reader_cannot_spoil_the_forms():
    closed_forms(None).clear()
    assert "dihedral" in closed_forms(None)


@pytest.mark.parametrize("plan", [0, 180, -90, 400, "square", float("nan"), float("inf"), 1j])
def test_forms_refuse_an_impossible_plan_angle(plan):
    with pytest.raises(ValueError, match="plan angle") as caught:
        closed_forms(plan)
    assert_one_sentence(caught)


# --- arrays -------------------------------------------------------------------------------------------------------

TAIL, PIN, PLAN = np.array([[-20.0], [0.0], [35.0]]), np.array([-50.0, 0.0, 1e-9, 15.0]), np.array([60.0, 90, 100, 145])


def looped(read):
    pairs = list(zip(PIN, PLAN, strict=True))
    return np.array([[read(Corner(tail, pin, plan)) for pin, plan in pairs] for tail in TAIL[:, 0]])


@pytest.mark.parametrize("name", ANGLES)
def test_array_of_angles(name):
    np.testing.assert_allclose(getattr(Corner(TAIL, PIN, PLAN), name), looped(lambda corner: getattr(corner, name)),
                               rtol=1e-14, atol=1e-14, strict=True)


@pytest.mark.parametrize("name", VECTORS)
def test_array_of_vectors(name):
    np.testing.assert_allclose(Corner(TAIL, PIN, PLAN).vector(name), looped(lambda corner: corner.vector(name)),
                               rtol=1e-14, atol=1e-14, strict=True)


def test_array_of_lengths():
    corner = Corner(TAIL, PIN, PLAN)
    np.testing.assert_allclose(corner.baseline_offset(12), looped(lambda corner: corner.baseline_offset(12)),
                               rtol=1e-14, strict=True)
    for name in ("slant_width", "rocking_gap", "looks_as"):
        by_height = getattr(corner, name)(np.array([40, 80]), "tail")  # the leans of that board against the lengths
        assert by_height.shape == (3, 2)
        assert by_height[2, 1] == pytest.approx(getattr(Corner(35, 0), name)(80), rel=1e-14)


@pytest.mark.parametrize("name", ANGLES)
@pytest.mark.parametrize("arguments", [(TAIL[:, 0], 10), (10, TAIL[:, 0]), (10, 20, PLAN[:3]), ([1, 2, 3], 0, 90)])
def test_scalars_stretch_to_the_arrays(name, arguments):
    values = getattr(Corner(*arguments), name)
    assert values.shape == (3,)
    values[0] = 0  # a reader's own array, to change at will


def test_scalars_give_plain_floats():
    for corner in (Corner(10, 20), Corner(np.float32(10), np.array(20), np.int64(90))):
        assert all(type(getattr(corner, name)) is float for name in ANGLES)
        assert all(type(getattr(corner, name)(25)) is float for name in LENGTHS)
        assert [type(lean) for lean in (corner.tail_lean, corner.pin_lean, corner.plan_angle)] == [float] * 3


def test_arrays_come_back_from_their_end_lines():
    corner = Corner(TAIL, PIN, PLAN)
    back = Corner.from_end_lines(corner.tail_end_line, corner.pin_end_line, PLAN)
    np.testing.assert_allclose(back.tail_lean, TAIL + 0 * PIN, atol=1e-10)
    np.testing.assert_allclose(back.pin_lean, PIN + 0 * TAIL, atol=1e-10)


# --- what does not exist ------------------------------------------------------------------------------------------

NOT_NUMBERS = [None, "abc", "12", b"12", 3 + 0j, np.array([3 + 0j]), float("nan"), [10, float("nan")], [[1], [2, 3]], {},
               float("inf"), -float("inf"), True]
NOT_ANGLES = {"tail_lean": [90, -90, 120.0, [10, 95]], "pin_lean": [90, -90, 120.0, np.array([[10], [-90]])],
              "plan_angle": [0, 180, -90, 200, [90, 180]]}


def assert_one_sentence(caught):
    text = str(caught.value)
    assert text.endswith(".") and ". " not in text and "\n" not in text


@pytest.mark.parametrize("name", NOT_ANGLES)
@pytest.mark.parametrize("value", NOT_NUMBERS, ids=repr)
def test_not_a_number_of_degrees(name, value):
    with warnings.catch_warnings(), pytest.raises(ValueError, match=name.replace("_", " ")) as caught:
        warnings.simplefilter("error")
        Corner(**{"tail_lean": 5, "pin_lean": 5, name: value})
    assert "must be a number" in str(caught.value)
    assert_one_sentence(caught)


@pytest.mark.parametrize(("name", "value"), [(name, value) for name, values in NOT_ANGLES.items() for value in values],
                         ids=repr)
def test_angle_out_of_bounds(name, value):
    with pytest.raises(ValueError, match=f"The {name.replace('_', ' ')} is .*keep it between") as caught:
        Corner(**{"tail_lean": 5, "pin_lean": 5, name: value})
    assert_one_sentence(caught)


@pytest.mark.parametrize("lean", [89.999, -89.999])
def test_just_inside_the_bounds(lean):
    assert Corner(lean, 0).pin_end_line == pytest.approx(lean, rel=1e-12)


@pytest.mark.parametrize("plan", [0.001, 179.999])
def test_plan_angle_just_inside_the_bounds(plan):
    assert Corner(0, 0, plan).dihedral == pytest.approx(plan, rel=1e-6)


def test_shapes_that_do_not_go_together():
    with pytest.raises(ValueError, match=r"tail lean.*pin lean.*plan angle") as caught:
        Corner([1, 2], [1, 2, 3])
    assert_one_sentence(caught)


@pytest.mark.parametrize("pair", [(45, 45), (60, 45), (-45, 45), (89, 1.1), (0.5, 89.6)])
def test_end_lines_that_no_leans_give(pair):
    tail, pin = (f"{line:g}°".replace("-", "−") for line in pair)
    with pytest.raises(ValueError, match=rf"{tail} \(tail\) and {pin} \(pin\)") as caught:
        Corner.from_end_lines(*pair)
    assert_one_sentence(caught)


def test_shapes_of_end_lines_that_do_not_go_together():
    with pytest.raises(ValueError, match=r"The tail end line, the pin end line and the plan angle have shapes") as caught:
        Corner.from_end_lines([1, 2], [1, 2, 3])
    assert_one_sentence(caught)


def test_a_corner_keeps_arrays_of_its_own_and_compares_as_one():
    theirs = np.array([10.0, 20.0])
    corner = Corner(theirs, 5)
    theirs[0] = 80
    assert corner.tail_lean.tolist() == [10, 20]
    same, other = Corner([10, 20], 5.0, 90), Corner([10, 21], 5)
    assert (corner == same) is True and hash(corner) == hash(same) and (corner == other) is False
    assert Corner(10, 5) == Corner(10.0, 5.0) != Corner(10, 5, 80) and corner != (10, 5)


@pytest.mark.parametrize("value", [0, -5, None, "80", True, float("nan"), [80, -1], {}], ids=repr)
@pytest.mark.parametrize("name", LENGTHS)
def test_a_length_is_a_number_above_0(name, value):
    with pytest.raises(ValueError, match="must be a number of mm above 0, not") as caught:
        getattr(Corner(10, 5), name)(value)
    assert_one_sentence(caught)


@pytest.mark.parametrize("name", LENGTHS)
def test_lengths_that_do_not_fit_the_corner(name):
    with pytest.raises(ValueError, match="broadcast together") as caught:
        getattr(Corner([10, 20], 5), name)([1, 2, 3])
    assert_one_sentence(caught)


def test_the_impossible_pair_among_many_is_named():
    with pytest.raises(ValueError, match=r"60(\.0)?° \(tail\) and 45(\.0)?° \(pin\)"):
        Corner.from_end_lines(np.array([10, 60, 20]), np.array([[45], [5]]))


@pytest.mark.parametrize(("name", "arguments"), [("tail end line", (90, 0)), ("pin end line", (0, -90)),
                                                 ("tail end line", (None, 0)), ("pin end line", (0, float("nan"))),
                                                 ("plan angle", (10, 10, 180)), ("plan angle", (10, 10, "x"))])
def test_end_lines_that_are_none(name, arguments):
    with pytest.raises(ValueError, match=name) as caught:
        Corner.from_end_lines(*arguments)
    assert_one_sentence(caught)


@pytest.mark.parametrize("read", [lambda corner: corner.lean("side"), lambda corner: corner.end_line("side"),
                                  lambda corner: corner.slant_width(80, "side"), lambda corner: corner.vector("side")])
def test_a_board_or_direction_that_a_corner_does_not_have(read):
    with pytest.raises(ValueError, match="'side'") as caught:
        read(Corner(5, 5))
    assert_one_sentence(caught)


def test_values_by_board():
    corner = Corner(10, 20, 80)
    assert (corner.lean("tail"), corner.lean("pin")) == (10, 20)
    assert (corner.end_line("tail"), corner.end_line("pin")) == (corner.tail_end_line, corner.pin_end_line)


@pytest.mark.parametrize(("tail", "pin"), [(0, 0), (16, 0), (16, 11), (30, 30), (-20, 30), (-16, -11)])
def test_start_and_slant_widths_are_those_of_the_wood(tail, pin):
    """Both are measured on the section that stands on the bench: all that both faces reach up the slope, and the outer face."""
    corner = Corner(tail, pin)
    table = dict(settings_table(corner, height=100, thickness=18).rows)
    for board in ("tail", "pin"):
        wood, _ = section(Joint(corner, 100, 18), board)
        up = (wood[1] - wood[0]) / np.linalg.norm(wood[1] - wood[0])
        assert corner.start_width(100, 18, board) == pytest.approx(np.ptp(wood @ up))
        assert table[f"Start width, {board} board"] == f"{np.ptp(wood @ up):.1f} mm"
        assert table[f"Slant width, {board} board"] == f"{np.linalg.norm(wood[1] - wood[0]):.1f} mm"
    assert table["Baselines, both boards"] == f"{18 / np.sin(np.radians(corner.dihedral)):.1f} mm from the end line"


def test_a_settings_table_has_lengths_only_where_the_stock_is_given():
    corner = Corner(16, 11)
    assert len(settings_table(corner, height=100, thickness=18).rows) == len(settings_table(corner).rows) + 5
    with pytest.raises(ValueError, match="give both, in mm, or neither"):
        settings_table(corner, height=100)
    with pytest.raises(ValueError, match="thickness"):
        settings_table(corner, height=100, thickness=-1)
