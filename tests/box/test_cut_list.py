"""The cut list: every finished board lies in its blank, and every number is found again by another route."""

import csv
import io
import re
from collections import Counter
from itertools import pairwise

import numpy as np
import pytest
from boxes import leaning
from hypothesis import given, settings
from scipy.spatial.transform import Rotation
from splaywork.box.box import END_CORNERS, NAMES, Allowances, Box, JointSettings, neighbours
from splaywork.box.cut_list import CAUTIONS, cut_list
from splaywork.box.regular import RegularBox
from splaywork.common.measure import MM_PER_INCH, read_length
from test_box import LOCKER, boxes, faces_of


def tan(degrees):
    return np.tan(np.radians(degrees))


def cos(degrees):
    return np.cos(np.radians(degrees))


def sin(degrees):
    return np.sin(np.radians(degrees))


def board_axes(box, name):
    """Along to the right, up the face and out of it, shape (3, 3), by rotations."""
    turn = Rotation.from_euler("ZX", [90 * NAMES.index(name), box.lean(name)], degrees=True)
    return turn.apply([[1, 0, 0], [0, 0, 1], [0, -1, 0]])


def test_a_drawer_by_hand():
    # One side leans with tangent 1/4, cosine 4/√17 = 0.970143; the rest stand upright. 400 × 300 outside at the bottom,
    # 100 high, 12 thick, 10 spare at each end, 3 at each edge. Front: 425 long at the top, so its blank is 445 × 106.
    # Left: 300 long, slant 100/0.970143 = 103.0776; level rims take 12 · 1/4 = 3 more, the edges 6: 112.0776.
    # Inside at the bottom the front shows 400 − 12.3693 − 12 = 375.6307.
    lean = float(np.degrees(np.arctan(0.25)))
    listed = cut_list(Box(400, 300, 100, left_lean=lean, thickness=12), quantity=3)
    front, right, back, left = listed.boards
    assert front.blank == pytest.approx((445, 106, 12))
    assert left.blank == pytest.approx((320, 112.0776, 12), abs=1e-4)
    assert (front.outer_bottom, front.outer_top) == pytest.approx((400, 425))
    assert (front.inner_bottom, front.inner_top) == pytest.approx((375.6307, 400.6307), abs=1e-4)
    assert [end.end_line for end in front.ends] == pytest.approx([lean, 0])
    assert [end.end_line for end in left.ends] == pytest.approx([0, 0])
    assert (left.rim_bevel, front.rim_bevel) == pytest.approx((lean, 0))
    assert [end.corner for end in left.ends] == ["back left", "front left"]
    # front and back mirror each other: the long end of one is the left, of the other the right
    assert (front.hand, right.hand, back.hand, left.hand) == ("left", "either", "right", "either")
    assert [(group.equal, group.mirrored, group.count) for group in listed.groups] == [
        (("front",), ("back",), 6), (("right",), (), 3), (("left",), (), 3)]
    assert front.area == pytest.approx(0.445 * 0.106)
    assert front.volume == pytest.approx(4.45 * 1.06 * 0.12)
    assert listed.area == pytest.approx(3 * (2 * 0.04717 + 0.320 * (0.1120776 + 0.106)))


@settings(max_examples=25)
@given(boxes())
def test_the_finished_board_fits_in_its_blank_and_fills_it_but_for_the_allowances(box):
    for board in cut_list(box).boards:
        wood = box.boards[board.name].outlines.reshape(-1, 3) @ board_axes(box, board.name).T
        size = np.ptp(wood, axis=0)
        spare = box.allowances
        assert (size <= np.array(board.blank) + 1e-9).all()
        room = board.blank - size
        assert room[1:] == pytest.approx([2 * spare.edge, spare.thickness], abs=1e-9)
        if box.joint.end == "flush" and board.carries == "pins" and box.rims == "level":  # half pins reach every corner
            assert room[0] == pytest.approx(2 * spare.end, abs=1e-9)
        rim = board.thickness * abs(tan(board.lean)) if box.rims == "level" else 0
        assert board.blank[1] == pytest.approx(box.height / cos(board.lean) + rim + 2 * spare.edge)


@settings(max_examples=25)
@given(boxes(rims="level"))
def test_lengths_are_where_half_spaces_meet(box):
    outside = dict(zip(NAMES, faces_of(box, dict.fromkeys(NAMES, 0)), strict=False))
    inside = dict(zip(NAMES, faces_of(box, {name: box.thickness_of(name) for name in NAMES}), strict=False))
    for board in cut_list(box).boards:
        for faces, lengths in ((outside, (board.outer_bottom, board.outer_top)),
                               (inside, (board.inner_bottom, board.inner_top))):
            for height, length in zip((0, box.height), lengths, strict=True):
                ends = [np.linalg.solve([faces[board.name][:3], faces[other][:3], (0, 0, 1)],
                                        [-faces[board.name][3], -faces[other][3], height])
                        for other in neighbours(board.name)]
                assert length == pytest.approx(np.linalg.norm(ends[1] - ends[0]), rel=1e-9)


@settings(max_examples=25)
@given(boxes())
def test_ends_and_edges_are_cut_to_the_settings_listed(box):
    """Each sawn surface, in the board's own axes: along = up · tan(end line) + in · tan(end bevel) / cos(end line)."""
    for board in cut_list(box).boards:
        axes = board_axes(box, board.name)
        blank = (box.boards[board.name].blank - box.boards[board.name].end_lines[0, 0, 0]) @ axes.T
        for number, (end, way) in enumerate(zip(board.ends, (-1, 1), strict=True)):
            assert end.corner == END_CORNERS[board.name][number]
            along, up, out = np.moveaxis(blank[:, number], -1, 0)
            sawn = way * along - up * tan(end.end_line) + out * tan(end.end_bevel) / cos(end.end_line)
            assert sawn == pytest.approx(sawn[0, 0], abs=1e-8)
        for number in (0, 1):
            _, up, out = np.moveaxis(blank[:, :, number], -1, 0)
            ripped = up - out * tan(board.rim_bevel)
            assert ripped == pytest.approx(ripped[0, 0], abs=1e-8)


@settings(max_examples=25)
@given(boxes())
def test_the_saw_order_makes_every_cut_once_and_sets_each_angle_once(box):
    listed = cut_list(box, quantity=2)
    made = Counter((cut.board, cut.where) for step in listed.saw_order for cut in step.cuts)
    wanted = {(name, where) for name in NAMES for where in ("bottom edge", "top edge", "left end", "right end")}
    assert set(made) == wanted and set(made.values()) == {1}
    assert all(step.count == 2 * len(step.cuts) for step in listed.saw_order)
    kinds = [step.kind for step in listed.saw_order]
    assert kinds == sorted(kinds, key=("rip", "crosscut").index)
    for kind in ("rip", "crosscut"):
        steps = [(step.blade_tilt, step.mitre_gauge) for step in listed.saw_order if step.kind == kind]
        assert steps == sorted(set(steps))
        tilts = sorted({tilt for tilt, _ in steps})
        assert all(second - first > 0.01 for first, second in pairwise(tilts))
    boards = {board.name: board for board in listed.boards}
    for step in listed.saw_order:
        for cut in step.cuts:
            board = boards[cut.board]
            if step.kind == "rip":
                assert step.blade_tilt == pytest.approx(abs(board.rim_bevel), abs=0.05)
            else:
                end = board.ends[("left end", "right end").index(cut.where)]
                assert (step.blade_tilt, step.mitre_gauge) == pytest.approx(
                    (abs(end.end_bevel), abs(end.end_line)), abs=0.05)
                longer = {"top": end.end_line > 0, "bottom": end.end_line < 0, "": abs(end.end_line) < 0.05}
                assert longer[cut.longer]


@settings(max_examples=25)
@given(boxes())
def test_the_face_on_the_table_is_the_one_that_is_left_shorter(box):
    for step in cut_list(box).saw_order:
        for cut in step.cuts:
            blank = box.boards[cut.board].blank @ board_axes(box, cut.board).T
            if step.kind == "rip":
                reach = [face[:, ("bottom edge", "top edge").index(cut.where), 1].mean() for face in blank]
                outer_longer = reach[0] < reach[1] if cut.where == "bottom edge" else reach[0] > reach[1]
            else:
                outer, inner = blank[:, ("left end", "right end").index(cut.where)]
                level = (inner[0, 1] + inner[1, 1]) / 2
                at_level = np.interp(level, outer[:, 1], outer[:, 0])
                middle = inner[:, 0].mean()
                outer_longer = at_level < middle if cut.where == "left end" else at_level > middle
            if cut.face_down == "either":
                assert step.blade_tilt < 0.1  # the mean of a step's cuts, each within 0.05 of its first
            else:
                assert cut.face_down == ("inner" if outer_longer else "outer")


@settings(max_examples=15)
@given(boxes())
def test_a_box_and_its_mirror_image_have_mirrored_boards(box):
    hands = {"left": "right", "right": "left", "either": "either"}
    ours, theirs = ({board.name: board for board in cut_list(each).boards} for each in (box, box.mirrored()))
    for name, board in ours.items():
        image = theirs[{"left": "right", "right": "left"}.get(name, name)]
        assert board.mirrors(image) and image.hand == hands[board.hand]
        assert board.equals(image) == (board.hand == "either")


def test_boards_that_can_be_swapped_are_grouped():
    groups = cut_list(Box(400, 300, 100, **leaning(8, 8, 11, 11))).groups
    assert [(group.equal, group.mirrored) for group in groups] == [(("front", "back"), ()), (("right", "left"), ())]
    groups = cut_list(Box(400, 300, 100, **leaning(8, 0, 11, 11))).groups  # the usual drawer: sides of either hand
    names = [(group.equal, group.mirrored) for group in groups]
    assert names == [(("front",), ()), (("right",), ("left",)), (("back",), ())]
    assert groups[1].words == "Right and left are mirror images: mark the hand on each (2 in all)."
    groups = cut_list(Box(400, 300, 100, **leaning(8, 8, 11, 11), back_thickness=9)).groups
    assert (("right",), ("left",)) in [(group.equal, group.mirrored) for group in groups]


# H2 and H3: The Building Trades Pocketbook, "Hopper bevels", fig. 25. H2 is a construction whose text was seen, its
# values recomputed to more digits; H3 was seen.


def test_h2_a_hopper_with_square_edges():
    # On a square edge an end shows its bevel as tan(bevel) / cos(end line).
    left = cut_list(Box(400, 300, 100, **leaning(15, 15, 15, 15), rims="square")).boards[3]
    end = left.ends[0]
    assert end.end_line == pytest.approx(14.5108, abs=5e-5)  # the face bevel
    assert np.degrees(np.arctan(tan(end.end_bevel) / cos(end.end_line))) == pytest.approx(3.9671, abs=5e-5)  # the butt
    assert left.rim_bevel == 0
    mitred = RegularBox(4, 400, 100, lean=15)
    shown = np.degrees(np.arctan(tan(mitred.mitre_bevel) / cos(mitred.end_line)))
    assert shown == pytest.approx(44.0070, abs=5e-5)  # the mitre


@pytest.mark.parametrize("lean", [-20, 3, 15, 40])
def test_h3_a_hopper_with_edges_ripped_level(lean):
    # Going in, level, by 1 is cos(lean) into the wood and sin(lean) down the face.
    mitred = RegularBox(4, 400, 100, lean=lean)
    inward = sin(lean) * tan(mitred.end_line) + cos(lean) * tan(mitred.mitre_bevel) / cos(mitred.end_line)
    assert np.degrees(np.arctan(inward)) == pytest.approx(45, abs=1e-9)


# --- as text -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_csv_read_back_is_the_table(unit):
    listed = cut_list(LOCKER, quantity=4)
    read = list(csv.DictReader(io.StringIO(listed.csv(unit), newline="")))
    assert read == listed.rows(unit)
    lines = listed.table(unit).splitlines()
    wide = max(map(len, read[0]))
    assert [line[:wide].strip() for line in lines] == list(read[0])
    for line, column in zip(lines, read[0], strict=True):
        cells = re.split(" {2,}", line[wide:].strip())
        assert cells == [row[column].replace("-", "−").removesuffix(" corner") for row in read]
    assert len(set(map(len, lines))) == 1 and len(lines[0]) <= 100  # JupyterLab breaks what is longer


def test_the_text_says_what_the_numbers_are():
    listed = cut_list(LOCKER, quantity=4)
    for row, board in zip(listed.rows("mm"), listed.boards, strict=True):
        assert row["quantity"] == "4"
        assert float(row["blank length (mm)"]) == pytest.approx(board.blank[0], abs=0.051)
        assert float(row["inner length, top (mm)"]) == pytest.approx(board.inner_top, abs=0.051)
        assert float(row["left end line (°)"]) == pytest.approx(board.ends[0].end_line, abs=0.0051)
        assert float(row["right end bevel (°)"]) == pytest.approx(board.ends[1].end_bevel, abs=0.0051)
        assert row["right end"] == f"{board.ends[1].corner} corner"
    for row, board in zip(listed.rows("in"), listed.boards, strict=True):
        text = row["outer length, top (in)"].replace("-", "−")
        whole, _, rest = text.partition(" +") if "+" in text else text.partition(" −")
        sign = -1 if "−" in text else 1
        inches = read_length(whole, unit="in") / float(MM_PER_INCH) + sign * float(rest or 0)
        assert inches == pytest.approx(board.outer_top / 25.4, abs=6e-4)


def test_the_saw_order_reads_as_sentences_with_cautions_beside_it():
    words = [step.words for step in cut_list(LOCKER).saw_order]
    assert words[0] == "Rip with the blade upright: right bottom edge; right top edge; back bottom edge; back top edge."
    assert any(text.startswith("Rip with the blade tilted 14.0°: left bottom edge (outer face down)") for text in words)
    assert "longer at the top" in words[-1]
    assert any("1910.213" in caution for caution in CAUTIONS) and "instructor" in CAUTIONS[-1]


def test_square_ends_are_sawn_without_a_tilt():
    listed = cut_list(Box(400, 300, 100, **leaning(10, 0, 14, 14), joint=JointSettings(end="square")))
    assert {end.end_bevel for board in listed.boards for end in board.ends} == {0}
    assert {step.blade_tilt for step in listed.saw_order if step.kind == "crosscut"} == {0}
    front = listed.boards[0]
    assert front.blank[0] > front.outer_top + 20  # and stand proud of the end lines


def test_allowances_of_nothing_leave_the_board_itself():
    board = cut_list(Box(400, 300, 100, allowances=Allowances(0, 0, 0))).boards[0]
    assert board.blank == pytest.approx((400, 100, 12))


@pytest.mark.parametrize(("box", "quantity", "words"), [
    (RegularBox(6, 100, 50), 1, "made for a Box"),
    (LOCKER, 0, "quantity must be a whole number"),
    (LOCKER, 1.5, "quantity must be"),
])
def test_what_cannot_be_listed_says_why(box, quantity, words):
    with pytest.raises(ValueError, match=words):
        cut_list(box, quantity)


def test_an_unknown_unit_is_refused():
    with pytest.raises(ValueError, match="'mm' or 'in', not 'cm'"):
        cut_list(LOCKER).table("cm")
