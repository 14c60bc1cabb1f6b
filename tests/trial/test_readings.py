"""A trial corner read back: leans from lines and lengths, their error bars, and what a bad fit shows."""

import re

import mpmath as mp
import nbformat
import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from places import NOTEBOOKS
from splaywork import Corner
from splaywork.corner.dry_fit import LINE, SIGNS, dry_fit_table, line_signs
from splaywork.formulas.forms import compute
from splaywork.one_gauge.one_gauge import OneGauge
from splaywork.trial.faults import EDGE as SQUARE_EDGE
from splaywork.trial.faults import END, LEAN, SHORTCUT, end_gap, faults
from splaywork.trial.readings import TrialCorner, end_line_from_diagonal, lean_from_rise_and_run, lean_from_slant_width
from splaywork.trial.words import faults_table, measured_table, offsets_table, say_fault, say_measured, what_to_measure

LEANS = st.floats(-80, 80)
MODERATE = st.floats(-50, 50)
BOARDS = ("tail", "pin")


def measured(corner, *rest):
    return TrialCorner(corner.tail_end_line, corner.pin_end_line, *rest)


# --- Lines to leans. ---


@settings(deadline=None)
@given(LEANS, LEANS)
def test_leans_to_end_lines_and_back(tail, pin):
    corner = Corner(tail, pin)
    back = measured(corner)
    # Near the limit the lines hardly tell the leans apart; compare where rounding of a line by 1 ulp stays below 1e-10.
    assume(abs(np.tan(np.radians(corner.tail_end_line)) * np.tan(np.radians(corner.pin_end_line))) < 0.99)
    for board in BOARDS:
        assert back.lean(board).value == pytest.approx(corner.lean(board), abs=1e-10)
    assert back.dihedral.value == pytest.approx(corner.dihedral, abs=1e-10)


@settings(deadline=None)
@given(MODERATE, MODERATE, st.floats(60, 120))
def test_dihedral_from_end_lines_at_any_plan_angle(tail, pin, plan):
    """Against the dihedral of the corner itself, at 50 digits."""
    with mp.workdps(50):
        a, b, w = (mp.radians(angle) for angle in (tail, pin, plan))
        lines = [mp.cos(own) * (mp.tan(far) + mp.tan(own) * mp.cos(w)) / mp.sin(w) for own, far in ((b, a), (a, b))]
        true = mp.acos(mp.cos(w) * mp.cos(a) * mp.cos(b) - mp.sin(a) * mp.sin(b))
    pin, tail = (float(mp.degrees(mp.atan(line))) for line in lines)
    found = np.radians(compute("dihedral_from_end_lines", pin_end_line=pin, tail_end_line=tail, plan_angle=plan))
    assert found == pytest.approx(float(true), abs=1e-7 if true < 0.2 or true > 2.9 else 1e-11)


def test_margin_is_the_derivative_and_the_range_holds_every_reading():
    corner = Corner(22, -13)
    back = measured(corner, 0.1)
    lines = np.array([corner.tail_end_line, corner.pin_end_line])
    near = np.linspace(-0.1, 0.1, 41)
    every = Corner.from_end_lines(lines[0] + near, lines[1] + near[:, None])
    for reading, spread in ((back.lean("tail"), every.tail_lean), (back.lean("pin"), every.pin_lean),
                            (back.dihedral, every.dihedral)):
        assert (reading.low, reading.high) == pytest.approx((spread.min(), spread.max()), abs=1e-10)
        assert reading.margin == pytest.approx(np.ptp(spread) / 2, rel=5e-3)  # first order, over a tenth of a degree
        assert reading.holds(reading.value) and not reading.holds(reading.high + 0.01)


def test_margin_by_finite_differences():
    corner, step = Corner(30, 24), 1e-5
    lines = corner.tail_end_line, corner.pin_end_line
    for index, resolution in enumerate([(0.2, 0.0), (0.0, 0.2)]):
        moved = [Corner.from_end_lines(*(line + sign * step * (at == index) for at, line in enumerate(lines)))
                 for sign in (1, -1)]
        slope = abs(moved[0].pin_lean - moved[1].pin_lean) / (2 * step)
        assert measured(corner, resolution).lean("pin").margin == pytest.approx(0.2 * slope, rel=1e-6)


def test_range_across_a_square_line_turns_round_there():
    """A lean grows with the slant of either line, so over a line that may be square it is least at square."""
    back = TrialCorner(0.02, 30, 0.25)
    assert back.lean("tail").low == pytest.approx(29.75)  # at a tail line of 0, not at either end of its range
    assert back.lean("tail").low < Corner.from_end_lines(0.02, 29.75).tail_lean


def test_vernier_protractor_resolution():
    """US Army OD1642: a vernier protractor reads to 5 minutes (passage not seen by us); 0.145 mm in 100 recomputed."""
    back = TrialCorner(0, 20, 5 / 60)
    assert back.lean("tail").margin == pytest.approx(5 / 60)
    assert 100 * np.tan(np.radians(5 / 60)) == pytest.approx(0.145, abs=5e-4)


def test_departures_and_whether_the_reading_explains_them():
    intended = Corner(15, 12)
    fine = TrialCorner(round(intended.tail_end_line, 1), round(intended.pin_end_line, 1), 0.05, intended)
    assert fine.explained and say_measured(fine).endswith("The reading can explain these differences.")
    assert "can't" not in say_measured(fine) and "at once" not in say_measured(fine)
    shortcut = TrialCorner(12, 15, 0.05, intended)
    other = OneGauge(intended).closed
    assert not shortcut.explained and "The reading can't explain these" in say_measured(shortcut)
    assert shortcut.departures["tail"] == pytest.approx(other.tail_lean - 15, abs=1e-10)
    assert shortcut.departures["dihedral"] == pytest.approx(other.dihedral - intended.dihedral, abs=1e-10)
    assert f"the tail board leans {other.tail_lean:.1f}°" in say_measured(shortcut)


def test_each_angle_has_a_verdict_of_its_own():
    piece = TrialCorner(10.9, 15.2, 0.25, Corner(16, 11))
    assert say_measured(piece).endswith(
        "The tail board leans out 0.5° too little and the pin board leans out 0.3° too much. The reading can't explain these "
        "differences. The dihedral is less than 0.1° too small. The reading can explain this difference.")
    assert [row[-1] for row in measured_table(piece).rows] == ["no", "no", "yes"]
    one = say_measured(TrialCorner(Corner(16, 11).tail_end_line, 15.2, 0.25, Corner(16, 11)))
    assert one.count("can't") == 1 and "The tail board leans out 0.5° too little. The reading can't explain this diff" in one


def test_a_range_in_print_holds_the_angle_intended_just_when_the_verdict_says_so():
    """To 0.1° the drawer's pin board may seem to stand where the reading says that it can't: then more decimals are printed."""
    def number(text):
        return float(text.rstrip("°").replace("−", "-"))

    piece, finer, said = TrialCorner(10.9, 15.2, 0.25, Corner(16, 11)), 0, 0
    assert measured_table(piece).rows[1][2:] == ("11.03° to 11.57°", "11.00°", "no")
    assert "the pin board from 11.03° to 11.57°" in say_measured(piece)
    for corner in (Corner(16, 11), Corner(-20, 14), Corner(30, 30)):
        for off in np.linspace(-0.5, 0.5, 41):
            piece = TrialCorner(corner.tail_end_line + off, corner.pin_end_line - 0.7 * off, 0.25, corner)
            for _, _, span, intended, verdict in measured_table(piece).rows:
                low, high = map(number, span.split(" to "))
                assert (low <= number(intended) <= high) == (verdict == "yes"), (corner, off)
                finer, said = finer + (len(intended.split(".")[1]) > 2), said + 1
    assert said == 369 and 0 < finer < 40


def test_the_ranges_are_said_to_be_the_worst_case():
    piece = TrialCorner(10.9, 15.2, 0.25)
    tail = piece.lean("tail")
    assert f"At worst the tail board leans anywhere from {tail.low:.1f}° to {tail.high:.1f}°" in say_measured(piece)
    assert measured_table(piece).head[-1] == "at worst" and len(measured_table(piece).rows) == 3


def test_angles_possible_one_by_one_need_not_be_so_together():
    """The pin board's line is off by more than it was read to; only the far end of the tail board's would hide it."""
    intended = Corner(30, 30)
    piece = TrialCorner(intended.tail_end_line, intended.pin_end_line + 0.55, 0.5, intended)
    assert not piece.explained and all(piece.lean(board).holds(30) for board in BOARDS)
    assert say_measured(piece).endswith("The reading can explain each of these differences alone, but not all of them at once.")


def test_pairs_that_cannot_be_and_that_may_not_be():
    with pytest.raises(ValueError, match="too far for the boards to stand"):
        TrialCorner(50, 41, 0.1)
    edge = TrialCorner(44.8, 45.1, 0.2)
    assert edge.may_lie_flat and edge.lean("tail").high == 90 and edge.dihedral.high == 180
    assert "These boards may not stand at all" in say_measured(edge)
    inward = TrialCorner(-44.8, 45.1, 0.2)
    assert inward.lean("pin").low == -90 and inward.dihedral.low == 0
    assert not TrialCorner(44, 44, 0.2).may_lie_flat


# --- Without a protractor. ---


@settings(deadline=None)
@given(MODERATE, st.floats(40, 400))
def test_rule_against_a_square(lean, rise):
    run = float(rise * mp.tan(mp.radians(lean)))
    assert lean_from_rise_and_run(rise, run).value == pytest.approx(lean, abs=1e-10)


@settings(deadline=None)
@given(st.floats(2, 60), st.floats(40, 400))
def test_board_width_and_height(lean, height):
    width = float(height / mp.cos(mp.radians(lean)))
    assert lean_from_slant_width(width, height).value == pytest.approx(lean, abs=1e-8)
    assert lean_from_slant_width(width, height, leans="in").value == pytest.approx(-lean, abs=1e-8)


@settings(deadline=None)
@given(MODERATE, MODERATE)
def test_diagonals_of_a_board_give_its_end_lines_and_so_the_leans(tail, pin):
    """Diagonals taken off boards in space, from the foot of one corner line to the head of the other."""
    corner = Corner(tail, pin)
    assume(abs(corner.tail_end_line) + abs(corner.pin_end_line) < 85)
    lines = {}
    for board in BOARDS:
        up, level = corner.slant_width(90, board), corner.vector(f"{board}_level")
        head = corner.vector("corner_line") * 90
        lines[board] = end_line_from_diagonal(400, up, np.linalg.norm(head - 400 * level)).value
        assert lines[board] == pytest.approx(corner.end_line(board), abs=1e-9)
    back = TrialCorner(lines["tail"], lines["pin"])
    assert back.lean("tail").value == pytest.approx(tail, abs=1e-7)


@pytest.mark.parametrize(("take", "lengths"), [
    (lean_from_rise_and_run, (100, 27)), (lean_from_rise_and_run, (100, -0.2)), (lean_from_slant_width, (110, 100)),
    (end_line_from_diagonal, (300, 100, 325)), (end_line_from_diagonal, (300, 100, 310))])
def test_length_readings_hold_their_range(take, lengths):
    reading = take(*lengths, 0.5)
    rng = np.random.default_rng(7)
    values = [take(*(np.array(lengths) + rng.uniform(-0.5, 0.5, len(lengths)))).value for _ in range(300)]
    assert reading.low <= min(values) and max(values) <= reading.high
    assert reading.margin == pytest.approx((reading.high - reading.low) / 2, rel=0.03)
    assert take(*lengths).margin == 0 and take(*lengths).low == take(*lengths).high


def test_widths_tell_little_about_a_small_lean():
    reading = lean_from_slant_width(100.2, 100, 0.5)
    assert reading.low == 0 and reading.high > 8  # from 3.6 degrees
    assert lean_from_slant_width(100.2, 100, 0.5, leans="in").high == 0


# --- What each fault shows. ---


def by_cause(corner, cause, **sizes):
    found = faults(corner, **({"height": 100, "thickness": 12} | sizes))
    return {one.board: one for one in found if one.cause == cause}


@pytest.mark.parametrize("corner", [Corner(15, 12), Corner(20, -10)])
def test_square_edges_and_which_arris_stands(corner):
    """Independent: turn an upright board's cross-section by its lean and see which of its arrises is lower."""
    for board, one in by_cause(corner, SQUARE_EDGE).items():
        lean = np.radians(corner.lean(board))
        inner, outer = 0.0, -12 * np.sin(lean)  # heights of the bottom arrises, turned outward about the inner one
        assert one.gap == pytest.approx(abs(outer - inner)) and one.gap == pytest.approx(corner.rocking_gap(12, board))
        assert one.arris == ("inner" if outer < inner else "outer"), "light shows under the arris that is higher"
        assert f"light under the {one.arris} arris" in say_fault(corner, one)


@pytest.mark.parametrize("corner", [Corner(15, 12), Corner(20, -10), Corner(-25, -30), Corner(45, 45)])
def test_square_end_butted_on_the_other_board(corner):
    """Independent: in the plane square to the corner line, push a square-ended board at the dihedral against a line.

    A feeler lies flat on the other board: it reads the distance square to that line. `end_gap` is the same number.
    """
    opening = np.radians(corner.dihedral)
    along = np.array([np.cos(opening), np.sin(opening)])  # the board's inner face runs up this way from the seat, y = 0
    inner, outer = np.zeros(2), 12 * np.array([-along[1], along[0]])
    lift = max(-inner[1], -outer[1])  # pushed up until nothing is under the seat
    gaps = {"inner": inner[1] + lift, "outer": outer[1] + lift}
    compared = 0
    for one in by_cause(corner, END).values():
        gapes = max(gaps, key=gaps.get)
        assert one.gap == pytest.approx(gaps[gapes], rel=1e-9) and one.arris == gapes
        assert one.gap == pytest.approx(abs(end_gap(corner, 12)), rel=1e-12), "one fault, one value"
        assert f"gap at the {gapes} arris" in say_fault(corner, one)
        compared += 1
    assert compared == 2


def test_at_45_and_45_a_square_end_gapes_by_half_the_thickness():
    """The dihedral is 120 (rhombic dodecahedron, R. Klitzing, Polytopes), so the feeler reads t·sin 30°."""
    assert [one.gap for one in by_cause(Corner(45, 45), END, thickness=18).values()] == pytest.approx([9, 9])


def top(lean, wanted):
    """How far out a board's top is, mm: a line as long as the face of a board 100 mm high at `wanted`, turned by `lean`."""
    return (np.exp(-1j * np.radians(lean)) * 1j * 100 / np.cos(np.radians(wanted))).real


def test_wrong_lean_and_the_shortcut_close_and_only_lean_differently():
    corner = Corner(15, -12)
    wrong = by_cause(corner, LEAN, lean_off=2.0)
    assert wrong["tail"].gap == pytest.approx(top(17, 15) - top(15, 15))
    assert wrong["pin"].gap > 0 and wrong["pin"].lean == -10
    assert "17° instead of 15°" in say_fault(corner, wrong["tail"])
    assert "−10° instead of −12°" in say_fault(corner, wrong["pin"])
    closed = OneGauge(corner).closed
    for board, one in by_cause(corner, SHORTCUT).items():
        further = top(closed.lean(board), corner.lean(board)) - top(corner.lean(board), corner.lean(board))
        assert one.gap == pytest.approx(further) and one.lean == pytest.approx(closed.lean(board))
        assert f"too far {'out' if further > 0 else 'in'}" in say_fault(corner, one)


def test_a_wrong_lean_lifts_one_arris_of_an_edge_ripped_to_the_intended_one():
    """The ripped edge, turned about the arris that it stands on by the error of the lean; 18 mm thick."""
    compared = 0
    for corner in (Corner(30, 30), Corner(16, 11), Corner(-20, 15)):
        for cause in (LEAN, SHORTCUT):
            for board, one in by_cause(corner, cause, thickness=18).items():
                broad = 18 / np.cos(np.radians(corner.lean(board)))
                assert one.light == pytest.approx(broad * np.sin(np.radians(one.lean - corner.lean(board))))
                arris = "inner" if one.light > 0 else "outer"
                assert f"of light under the {arris} arris" in say_fault(corner, one)
                compared += 1
    assert compared == 12
    assert "1.90 mm of light under the inner arris" in faults_table(Corner(30, 30), 100, 18).rows[-1][1]


def test_upright_boards_show_nothing():
    corner = Corner(20, 0)
    assert by_cause(corner, SQUARE_EDGE)["pin"].gap == 0
    assert all(one.gap == 0 for one in by_cause(corner, END).values())
    assert all(one.gap == pytest.approx(0, abs=1e-12) for one in by_cause(corner, SHORTCUT).values())
    beyond = Corner(50, 45)
    shown = by_cause(beyond, SHORTCUT).values()
    assert all(one.gap == np.inf and "can't stand" in say_fault(beyond, one) for one in shown)


def test_the_table_of_faults_says_what_to_do():
    table = faults_table(Corner(16, 11), 120, 18)
    assert table.head[-1] == "what to do" and len(table.rows) == 4
    assert all(row[-1].endswith(".") and len(row) == 4 for row in table.rows)
    assert "5.0 mm of light under the inner arris" in table.rows[0][1]


def test_offsets_are_those_of_a_rule():
    """Each offset laid off on 100 mm and read back as an angle is the angle again, to what a rule shows."""
    table = offsets_table()
    read = [row[at:at + 2] for at in (0, 2, 4) for row in table.rows]
    assert [angle for angle, _ in read] == [f"{angle}.0°" for angle in range(1, 46)]
    for angle, sideways in read:
        assert lean_from_rise_and_run(100, float(sideways.removesuffix(" mm"))).value == pytest.approx(
            float(angle.removesuffix("°")), abs=0.03)
    assert len(table.rows) == 15 and table.head == ("angle", "offset in 100 mm") * 3
    assert offsets_table((14,), "in").head[1] == "offset in 4″"
    assert offsets_table(range(1, 18)).rows[-1][-2:] == ("", "")


@pytest.mark.parametrize("corner", [Corner(16, 11), Corner(30, 30), Corner(-12, 20), Corner(0, 0)], ids=repr)
def test_what_to_measure_is_what_the_corner_shows(corner):
    """Each length of the list, read back as an angle by a rule, is the corner's own."""
    rows = what_to_measure(corner).rows
    angles = corner.tail_lean, corner.pin_lean, corner.tail_end_line, corner.pin_end_line
    for (*_, should, shown), angle in zip(rows, angles, strict=False):
        sideways = float(re.search(r"([\d.]+) mm in 100 mm", shown).group(1))
        assert lean_from_rise_and_run(100, sideways).value == pytest.approx(abs(angle), abs=0.03)
        assert float(should.rstrip("°").replace("−", "-")) == pytest.approx(angle, abs=0.05)
    assert "60 mm along one line and 80 mm along the other. The marks should be 100 mm apart." in rows[4][-1] and len(rows) == 8


def test_what_gapes_is_told_on_the_page_from_the_one_list():
    """Notebook 06 shows both halves of the list; every sign of a butted corner is in one of them, in the list's order."""
    page, = NOTEBOOKS.glob("06_*.ipynb")
    shown = [cell.source for cell in nbformat.read(page, as_version=4).cells if cell.source.startswith("sw.dry_fit_table(")]
    assert shown == ["sw.dry_fit_table()", "sw.dry_fit_table(wedges=False)"]
    told = [row for wedges in (True, False) for row in dry_fit_table(wedges).rows]
    assert [row[0] for row in told] == [sign.seen for sign in SIGNS if not sign.tailed]
    assert all(len(row) == 4 and all(row) for row in told)
    steps = [after for row in told for after in re.findall(r"step \d+(.{15})", " ".join(row))]  # their steps are elsewhere
    assert len(steps) == 3 and set(steps) == {" of notebook 05"}
    with pytest.raises(ValueError, match="wedges must be True or False"):
        dry_fit_table("no")


def test_the_worse_lines_of_a_dry_fit_are_told_by_their_way():
    up, down, square = (line_signs(slants) for slants in ((26.6, 15.0), (-26.6, -15.0), (0.0, 0.0)))
    assert [sign.means for sign in up] == ["That board's end line slants too little.", "That board's end line slants too much."]
    assert [sign.means for sign in down] == [sign.means for sign in up[::-1]]
    assert {sign.means for sign in square} == {"That board's end line isn't square."}
    assert all("longer at the bottom" in sign.means for sign in line_signs((26.6, -15.0)))
    assert all(sign.do == LINE.do and sign.cut == LINE.cut for sign in (*up, *down))


# --- What can't be. ---


@pytest.mark.parametrize(("ask", "sentence"), [
    (lambda: TrialCorner("12; rm", 3), "must be a number of degrees"),
    (lambda: TrialCorner([10, 20], 10), "must be one number of degrees"),
    (lambda: TrialCorner([1, 2], [1, 2, 3]), "must be one number of degrees"),
    (lambda: TrialCorner(95, 3), "tail end line is 95°"),
    (lambda: TrialCorner(12, 3, "fine"), "resolution must be a number"),
    (lambda: TrialCorner(12, 3, -1), "from 0° to 5°"),
    (lambda: TrialCorner(12, 3, (0.1, 0.2, 0.3)), "one for each of the two lines"),
    (lambda: TrialCorner(12, 3, 0.1, Corner(10, 10, 100)), "plan angle 90°"),
    (lambda: TrialCorner(12, 3, 0.1, (10, 10)), "must be a Corner, such as"),
    (lambda: TrialCorner(12, 3, 0.1, Corner([1, 2], 3)), "must be one number of degrees"),
    (lambda: TrialCorner(12, 3).departures, "which corner was intended"),
    (lambda: TrialCorner(12, 3).explained, "which corner was intended"),
    (lambda: TrialCorner(12, 3).lean("front"), "board can be 'tail' or 'pin', not"),
    (lambda: Corner.from_end_lines([1, 2], [1, 2, 3]), "broadcast together"),
    (lambda: lean_from_rise_and_run(0, 3), "rise must be a number of mm above 0, not 0"),
    (lambda: lean_from_rise_and_run(100, float("nan")), "run must be"),
    (lambda: lean_from_rise_and_run(1, 3, 2), "less than the 1 mm measured"),
    (lambda: lean_from_rise_and_run(100, [3]), "run must be one number"),
    (lambda: lean_from_slant_width(90, 100), "higher than it is wide"),
    (lambda: lean_from_slant_width(110, 100, leans="left"), "'out' or 'in'"),
    (lambda: end_line_from_diagonal(300, 100, 90), "too short to cross"),
    (lambda: end_line_from_diagonal(300, 100, 310, -1), "resolution must be"),
    (lambda: end_line_from_diagonal(300, 100, 310, "fine"), "resolution must be"),
    (lambda: faults(Corner(10, 10, 120), 100, 12), "plan angle of 90"),
    (lambda: faults(Corner([10, 12], 10), 100, 12), "must be one number of degrees"),
    (lambda: faults(12, 100, 12), "must be a Corner, such as"),
    (lambda: faults(Corner(10, 10), 100, 0), "thickness must be"),
    (lambda: faults(Corner(10, 10), 100, 12, lean_off=85), "95°"),
])
def test_what_cannot_be_is_one_sentence(ask, sentence):
    with pytest.raises(ValueError, match=sentence) as refused:
        ask()
    assert "\n" not in str(refused.value) and str(refused.value).endswith(".")
