"""The cut list: every finished board lies in its blank, and every number is found again by another route."""

import csv
import io
import re
from collections import Counter
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from boxes import LOCKER, boxes, faces_of
from cases import examples
from hypothesis import given
from hypothesis import strategies as st
from saw import blade, board_axes, cos, lying, sin, tan
from splaywork.box.box import END_CORNERS, NAMES, Allowances, Box, JointSettings, neighbours
from splaywork.box.cut_list import CAUTIONS, cut_list
from splaywork.box.regular import RegularBox
from splaywork.common.printing import MM_PER_INCH
from splaywork.common.reading import read_length


def test_a_drawer_by_hand():
    # One side leans with tangent 1/4, cosine 4/√17 = 0.970143; the rest stand upright. 400 × 300 outside at the bottom,
    # 100 high, 12 thick, 10 spare at each end, 3 at each edge. Front: 425 long at the top, so its blank is 445 × 106.
    # Left: 300 long, slant 100/0.970143 = 103.0776; level rims take 12 · 1/4 = 3 more, the edges 6: 112.0776.
    # Inside at the bottom the front shows 400 − 12.3693 − 12 = 375.6307.
    lean = float(np.degrees(np.arctan(0.25)))
    listed = cut_list(Box(400, 300, 100, left_lean=lean, thickness=12), quantity=3)
    front, _, _, left = listed.boards
    assert front.blank == pytest.approx((445, 106, 12))
    assert left.blank == pytest.approx((320, 112.0776, 12), abs=1e-4)
    assert (front.outer_bottom, front.outer_top) == pytest.approx((400, 425))
    assert (front.inner_bottom, front.inner_top) == pytest.approx((375.6307, 400.6307), abs=1e-4)
    assert [end.end_line for end in front.ends] == pytest.approx([lean, 0])
    assert [end.end_line for end in left.ends] == pytest.approx([0, 0])
    assert (left.rim_bevel, front.rim_bevel) == pytest.approx((lean, 0))
    assert [end.corner for end in left.ends] == ["back left", "front left"]
    # the front: 400 along the bottom, 425 along the top, 100 high, upright on the right: √(400² + 100²) and √(425² + 100²)
    assert front.diagonals == pytest.approx((412.3106, 436.6062), abs=1e-4)
    assert listed.rim_diagonals == pytest.approx((500, (425**2 + 300**2) ** 0.5))
    assert [(group.equal, group.mirrored, group.count) for group in listed.groups] == [
        (("front",), ("back",), 6), (("right",), (), 3), (("left",), (), 3)]
    assert front.area == pytest.approx(0.445 * 0.106)
    assert front.volume == pytest.approx(4.45 * 1.06 * 0.12)
    assert listed.area == pytest.approx(3 * (2 * 0.04717 + 0.320 * (0.1120776 + 0.106)))


@examples(25)
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


@examples(25)
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


@examples(25)
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


@examples(25)
@given(boxes(), st.sampled_from(["left", "right"]))
def test_the_saw_order_makes_every_cut_once_and_sets_each_angle_once(box, saw_tilts):
    listed = cut_list(box, 2, saw_tilts)
    made = Counter((cut.board, cut.where) for step in listed.saw_order for cut in step.cuts)
    wanted = {(name, where) for name in NAMES for where in ("bottom edge", "top edge", "left end", "right end")}
    assert set(made) == wanted and set(made.values()) == {1}
    assert all(step.count == 2 * len(step.cuts) and step.saw_tilts == saw_tilts for step in listed.saw_order)
    kinds = [step.kind for step in listed.saw_order]
    assert kinds == sorted(kinds, key=("rip", "crosscut").index)
    for kind in ("rip", "crosscut"):
        steps = [(step.blade_tilt, step.mitre_gauge, step.gauge_swing) for step in listed.saw_order if step.kind == kind]
        assert len(set(steps)) == len(steps) and steps == sorted(steps, key=lambda step: step[:2])
        tilts = sorted({tilt for tilt, *_ in steps})
        assert all(second - first > 0.01 for first, second in pairwise(tilts))
    boards = {board.name: board for board in listed.boards}
    for step in listed.saw_order:
        assert (step.gauge_swing == "") == (step.mitre_gauge == 0)
        for cut in step.cuts:
            if step.kind == "crosscut":
                end = boards[cut.board].ends[("left end", "right end").index(cut.where)]
                longer = {"top": end.end_line > 0, "bottom": end.end_line < 0, "": abs(end.end_line) < 0.05}
                assert longer[cut.longer]


# --- every cut as the saw makes it -----------------------------------------------------------------------------------
# The operator's axes: X to the right, Y the way of the feed, Z up. The blade holds Y. Nothing here is read from the library
# but the step as it is written down, and the solid that should come of it.


def sawn_plane(box, step, cut):
    """Unit normal of the sawn surface, out of the kept wood, in the axes of the box."""
    out_of_kept = blade(step) * (-1 if cut.kept == "right" else 1)
    return (lying(step, cut) @ out_of_kept) @ board_axes(box, cut.board)


def misses(box, saw_tilts):
    """Degrees by which each cut of a box misses the solid's own plane."""
    planes = {"bottom edge": "bottom", "top edge": "top"}
    for step in cut_list(box, saw_tilts=saw_tilts).saw_order:
        for cut in step.cuts:
            true = box.planes[f"{cut.board} {planes.get(cut.where, cut.where)}"].normal
            sawn = sawn_plane(box, step, cut)
            yield step, cut, np.degrees(np.arctan2(np.linalg.norm(np.cross(sawn, true)), sawn @ true))


MIXED = {"front_lean": 22, "back_lean": -9, "left_lean": 17, "right_lean": -14}


@pytest.mark.parametrize("saw_tilts", ["left", "right"])
@pytest.mark.parametrize("end", ["flush", "square"])
@pytest.mark.parametrize("rims", ["level", "square"])
@pytest.mark.parametrize("leans", [
    {}, {"front_lean": 6, "left_lean": 14}, MIXED, {name: -value for name, value in MIXED.items()},
    {"front_lean": 30, "back_lean": 30, "left_lean": 30, "right_lean": 30},
    {"front_lean": 11, "left_lean": 16, "right_lean": 4},
], ids=["plain", "locker", "mixed", "mixed, turned over", "steep", "notebook"])
def test_every_cut_can_be_made_and_gives_the_solids_plane(leans, rims, end, saw_tilts):
    box = Box(420, 360, 110, thickness=12, rims=rims, joint=JointSettings(end=end), **leans)
    made = list(misses(box, saw_tilts))
    assert len(made) == 16
    for step, cut, miss in made:
        assert miss <= 0.05, (step.words, cut)
        away = {"left": "right", "right": "left"}[saw_tilts]
        assert cut.kept == away or (step.blade_tilt == 0 and step.kind == "crosscut")


@examples(25)
@given(boxes(), st.sampled_from(["left", "right"]))
def test_every_cut_of_any_box_gives_the_solids_plane(box, saw_tilts):
    made = list(misses(box, saw_tilts))
    assert len(made) == 16 and max(miss for *_, miss in made) <= 0.08  # a tilt and a swing, each within 0.05


def test_a_wrong_way_of_laying_a_board_is_seen():
    """The check has teeth: each word of a cut, changed alone, misses the plane."""
    box = Box(420, 360, 110, thickness=12, **MIXED)
    other = {"outer": "inner", "inner": "outer", "top": "bottom", "bottom": "top", "left": "right", "right": "left",
             "clockwise": "anticlockwise", "anticlockwise": "clockwise"}
    changed = 0
    for step, cut, _ in misses(box, "left"):
        true = box.planes[f"{cut.board} {cut.where.removesuffix(' edge')}"].normal
        for field in ("face_down", "edge_to_gauge", "kept"):
            wrong = replace(cut, **{field: other[getattr(cut, field)]})
            assert np.degrees(np.arccos(np.clip(sawn_plane(box, step, wrong) @ true, -1, 1))) > 1
            changed += 1
        if step.gauge_swing:
            wrong = sawn_plane(box, replace(step, gauge_swing=other[step.gauge_swing]), cut)
            assert np.degrees(np.arccos(np.clip(wrong @ true, -1, 1))) > 1
            changed += 1
    assert changed == 16 * 3 + 8


@examples(25)
@given(boxes(), st.sampled_from(["left", "right"]))
def test_the_face_on_the_table_is_the_one_that_is_left_shorter(box, saw_tilts):
    for step in cut_list(box, saw_tilts=saw_tilts).saw_order:
        if not step.blade_tilt:
            continue
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
            assert cut.face_down == ("inner" if outer_longer else "outer")


def test_an_upright_blade_leaves_the_outer_face_up_and_the_bottom_edge_at_the_gauge():
    steps = cut_list(Box(420, 360, 110, thickness=12, joint=JointSettings(end="square"), **MIXED)).saw_order
    ends = [cut for step in steps if step.kind == "crosscut" for cut in step.cuts]
    assert {(cut.face_down, cut.edge_to_gauge) for cut in ends} == {("inner", "bottom")} and len(ends) == 8
    assert {(cut.where, cut.kept) for cut in ends} == {("left end", "right"), ("right end", "left")}


def test_what_most_saws_cannot_reach_is_said():
    steep = cut_list(Box(400, 400, 60, thickness=8, front_lean=50, joint=JointSettings(tails=1))).saw_order
    said = [step.words for step in steep if not step.can_be_set]
    assert said and all(words.endswith("Most saws don't reach this setting: saw this by hand, to the lines.") for words in said)
    assert all(step.can_be_set for step in cut_list(LOCKER).saw_order)


@examples(25)
@given(boxes())
def test_sawn_lengths_and_diagonals_are_the_solids(box):
    """By the corners of the sawn solid: the outermost wood along each arris of the outer face."""
    listed = cut_list(box)
    for board in listed.boards:
        solid = box.boards[board.name]
        corners = solid.blank[0] @ board_axes(box, board.name).T  # outer face: by end and rim
        for rim, length in enumerate((board.sawn_bottom, board.sawn_top)):
            assert corners[1, rim, 0] - corners[0, rim, 0] == pytest.approx(length, abs=1e-8)
        for end, diagonal in enumerate(board.diagonals):
            assert np.linalg.norm(corners[end, 0] - corners[1 - end, 1]) == pytest.approx(diagonal, abs=1e-8)
        for number, end in enumerate(board.ends):
            # how far the sawn arris lies outside the trace of the neighbour's outer face, square to it
            face = ("outer", "inner").index(end.proud_face or "outer")
            sawn, true = (points[face, number] @ board_axes(box, board.name)[:2].T for points in
                          (solid.blank, solid.end_lines))
            line = true[1] - true[0]
            off = abs(line[0] * (sawn[0] - true[0])[1] - line[1] * (sawn[0] - true[0])[0]) / np.linalg.norm(line)
            assert off == pytest.approx(end.proud, abs=1e-6)
            bevel = abs(box.corners[end.corner].corner.end_bevel)
            assert end.proud == 0.0 or box.joint.end == "square"
            assert 0 < bevel < 1e-4 or (end.proud > 1e-6) == (box.joint.end == "square" and bevel > 0)
    for height, outside in zip((0, box.height), listed.rim_diagonals, strict=True):
        faces = faces_of(box, dict.fromkeys(NAMES, 0))
        first, second = ([np.linalg.solve([faces[i][:3], faces[j][:3], (0, 0, 1)], [-faces[i][3], -faces[j][3], height])
                          for i, j in pairs] for pairs in (((0, 3), (1, 2)), ((0, 1), (2, 3))))
        assert np.linalg.norm(first[0] - first[1]) == pytest.approx(outside, rel=1e-9)
        assert np.linalg.norm(second[0] - second[1]) == pytest.approx(outside, rel=1e-9)


def test_square_ends_at_thirty_stand_proud_by_hand():
    # sin(end bevel) = sin 30 · sin 30 = 1/4, tan = 1/√15; 12 mm of board: 12/√15 = 3.098 on the outer face.
    box = Box(400, 300, 100, thickness=12, joint=JointSettings(end="square"),
              front_lean=30, back_lean=30, left_lean=30, right_lean=30)
    listed = cut_list(box)
    front = listed.boards[0]
    assert {end.proud_face for end in front.ends} == {"outer"}
    assert [end.proud for end in front.ends] == pytest.approx([12 / 15**0.5] * 2)
    level = 2 * 12 / 15**0.5 / cos(front.ends[0].end_line)  # along the level edge, both ends
    assert front.sawn_bottom == pytest.approx(400 + level) and front.sawn_top == pytest.approx(front.outer_top + level)
    assert "left end proud (mm)" in listed.rows()[0] and listed.rows()[0]["left end proud (mm)"] == "3.1"
    # 400 × 300 at the bottom: 500 corner to corner
    assert listed.rim_diagonals[0] == pytest.approx(500)


@examples(15)
@given(boxes())
def test_a_box_and_its_mirror_image_have_mirrored_boards(box):
    ours, theirs = ({board.name: board for board in cut_list(each).boards} for each in (box, box.mirrored()))
    for name, board in ours.items():
        image = theirs[{"left": "right", "right": "left"}.get(name, name)]
        assert board.mirrors(image)
        assert board.equals(image) == np.allclose(board.ends[0].numbers, board.ends[1].numbers)
        assert image.diagonals == pytest.approx(board.diagonals[::-1])


def test_boards_that_can_be_swapped_are_grouped():
    alike = {"left_lean": 11, "right_lean": 11}
    groups = cut_list(Box(400, 300, 100, front_lean=8, back_lean=8, **alike)).groups
    assert [(group.equal, group.mirrored) for group in groups] == [(("front", "back"), ()), (("right", "left"), ())]
    assert groups[0].words == "The front and back are equal. Make 2."
    groups = cut_list(Box(400, 300, 100, front_lean=8, **alike), 3).groups  # the usual drawer: sides are mirror images
    names = [(group.equal, group.mirrored) for group in groups]
    assert names == [(("front",), ()), (("right",), ("left",)), (("back",), ())]
    assert groups[0].words == "No other board matches the front. Make 3."
    assert groups[1].words == ("The right and the left are mirror images. Make 6, 3 of each, and mark every one: name, "
                               "outer face, arrow to the top.")
    groups = cut_list(Box(400, 300, 100, front_lean=8, back_lean=8, back_thickness=9, **alike)).groups
    assert (("right",), ("left",)) in [(group.equal, group.mirrored) for group in groups]


# H2 and H3: The Building Trades Pocketbook, "Hopper bevels", fig. 25. H2 is a construction whose text was seen, its
# values recomputed to more digits; H3 was seen.


def test_h2_a_hopper_with_square_edges():
    # On a square edge an end shows its bevel as tan(bevel) / cos(end line).
    left = cut_list(Box(400, 300, 100, front_lean=15, back_lean=15, left_lean=15, right_lean=15, rims="square")).boards[3]
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


@pytest.mark.parametrize("unit", ["mm", "in", "0.001 in"])
def test_csv_read_back_is_the_table(unit):
    listed = cut_list(LOCKER, quantity=4)
    read = list(csv.DictReader(io.StringIO(listed.csv(unit), newline="")))
    assert read == listed.rows(unit, decimal=True, everything=True)
    shown = listed.rows(unit)
    lines = listed.table(unit).splitlines()
    wide = max(map(len, shown[0]))
    assert [line[:wide].strip() for line in lines] == list(shown[0])
    for line, column in zip(lines, shown[0], strict=True):
        cells = re.split(" {2,}", line[wide:].strip())
        assert cells == [row[column].replace("-", "−").removesuffix(" corner") for row in shown]
    assert len(set(map(len, lines))) == 1 and len(lines[0]) <= 100  # JupyterLab breaks what is longer


@pytest.mark.parametrize("unit", ["mm", "in", "0.001 in"])
def test_a_spreadsheet_can_add_up_the_csv(unit):
    """Every cell below a column with a unit in brackets is a number alone."""
    read = list(csv.DictReader(io.StringIO(cut_list(LOCKER, 4).csv(unit), newline="")))
    columns = [column for column in read[0] if column.endswith(")")]
    assert len(columns) == 23
    total = sum(float(row[column]) for row in read for column in columns)
    assert total > 0
    scale, named = (1, "mm") if unit == "mm" else (25.4, "in")
    blanks = sum(float(row[f"blank length ({named})"]) for row in read) * scale
    assert blanks == pytest.approx(sum(board.blank[0] for board in cut_list(LOCKER).boards), abs=0.2 * scale)


def test_the_text_says_what_the_numbers_are():
    listed = cut_list(LOCKER, quantity=4)
    for row, board in zip(listed.rows("mm"), listed.boards, strict=True):
        assert row["quantity"] == "4"
        assert float(row["blank length (mm)"]) == pytest.approx(board.blank[0], abs=0.051)
        assert float(row["inside length, top (mm)"]) == pytest.approx(board.inner_top, abs=0.051)
        assert float(row["left end line (°)"]) == pytest.approx(board.ends[0].end_line, abs=0.051)
        assert float(row["right end bevel (°)"]) == pytest.approx(board.ends[1].end_bevel, abs=0.051)
        assert all(len(text.partition(".")[2]) == 1 for name, text in row.items() if "°" in name)
        assert float(row["diagonal from bottom left (mm)"]) == pytest.approx(board.diagonals[0], abs=0.051)
        assert row["right end"] == f"{board.ends[1].corner} corner"
    assert listed.rows("0.001 in") == [row | {name: shown[name] for name in row if "°" in name} for row, shown in zip(
        listed.rows("in", decimal=True), listed.rows("in"), strict=True)]
    for row, decimal, board in zip(listed.rows("in"), listed.rows("in", decimal=True), listed.boards, strict=True):
        inches = read_length(row["outer length, top (in)"], unit="in") / float(MM_PER_INCH)
        assert inches == pytest.approx(board.outer_top / 25.4, abs=1 / 128 + 1e-9)
        assert float(decimal["outer length, top (in)"]) == pytest.approx(board.outer_top / 25.4, abs=6e-4)
        assert float(decimal["blank area (ft²)"]) == pytest.approx(board.blank[0] * board.blank[1] / 304.8**2, abs=6e-4)
        assert float(decimal["blank volume (board ft)"]) == pytest.approx(
            np.prod(board.blank) / (25.4**3 * 144), abs=6e-3)


def test_the_saw_order_reads_as_sentences_with_cautions_beside_it():
    words = [step.words for step in cut_list(LOCKER).saw_order]
    assert words[0] == (
        "Rip with the blade upright and the fence on its right; inner face down, top edge to the fence, keep the wood on the "
        "right: right board, bottom edge and back board, bottom edge; inner face down, bottom edge to the fence, keep the wood "
        "on the right: right board, top edge and back board, top edge.")
    assert any(text.startswith("Rip with the blade tilted 14.0° to the left and the fence on its right; outer face down, top "
                               "edge to the fence, keep the wood on the right: left board, bottom edge") for text in words)
    assert words[-1] == ("Crosscut with the blade tilted 1.4° to the left and the mitre gauge swung 13.9° anticlockwise; outer "
                         "face down, top edge to the mitre gauge, keep the wood on the right: front board, left end.")
    assert any("1910.213" in caution for caution in CAUTIONS) and "instructor" in CAUTIONS[-1]


def test_square_ends_are_sawn_without_a_tilt():
    listed = cut_list(Box(400, 300, 100, front_lean=10, left_lean=14, right_lean=14, joint=JointSettings(end="square")))
    assert {end.end_bevel for board in listed.boards for end in board.ends} == {0}
    assert {step.blade_tilt for step in listed.saw_order if step.kind == "crosscut"} == {0}
    front = listed.boards[0]
    assert front.blank[0] > front.outer_top + 20  # and stand proud of the end lines


def test_allowances_of_nothing_leave_the_board_itself():
    board = cut_list(Box(400, 300, 100, allowances=Allowances(0, 0, 0))).boards[0]
    assert board.blank == pytest.approx((400, 100, 12))


@pytest.mark.parametrize(("box", "quantity", "words"), [
    (RegularBox(6, 100, 50), 1, "made for a Box"),
    (LOCKER, 0, "quantity must be a whole number, 1 or more, not 0"),
    (LOCKER, 1.5, "quantity must be"),
    (LOCKER, True, "quantity must be"),
])
def test_what_cannot_be_listed_says_why(box, quantity, words):
    with pytest.raises(ValueError, match=words):
        cut_list(box, quantity)


def test_an_unknown_tilt_is_refused():
    with pytest.raises(ValueError, match="'left' or 'right', not 'up'"):
        cut_list(LOCKER, saw_tilts="up")


def test_a_cut_list_shows_itself_in_one_line_and_as_a_table():
    listed = cut_list(LOCKER, 2)
    assert repr(listed) == "CutList(front, right, back, left × 2, 8 saw settings)"
    assert "\n" not in repr(listed.boards[0]) and "<table" in listed._repr_html_()


def test_an_unknown_unit_is_refused():
    with pytest.raises(ValueError, match=r"'in' or '0\.001 in', not 'cm'"):
        cut_list(LOCKER).table("cm")
