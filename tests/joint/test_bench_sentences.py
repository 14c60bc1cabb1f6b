"""Every instruction of the bench steps, the trial sheet, the cards and the wrap templates has a test that simulates it.

`SIMULATED` lists the sentences and names the test of each; what no test here or elsewhere tries is only a manner of working.
"""

import re
from pathlib import Path

import manifold3d
import numpy as np
import pytest
import shapely
from benches import JOINTS, every_joint, level, unit
from scipy.spatial.transform import Rotation
from splaywork.common.printing import length, offset
from splaywork.corner.corner import Corner
from splaywork.joint.bench_setups import carried_round, comes_off, end_up, lean_wedge, packing, propped, section
from splaywork.joint.bench_steps import HELD_AT, bench_step_words
from splaywork.joint.bench_steps_picture import enlarged, frames, scribing_scene
from splaywork.joint.cards import bevel_card
from splaywork.joint.joint import Joint
from splaywork.joint.templates import wrap_template
from splaywork.joint.trial_sheet import gapes_table

SQUARE_RIMS = [Joint(corner, 100, 18, 15, tails=2, rims="square")
               for corner in (Corner(16, 11), Corner(-20, -11), Corner(0, 20))]

# A sentence, as a pattern -> the test that simulates it; "" where it claims nothing that a solid could deny.
SIMULATED = {
    # 1: rip
    r"First saw wedges": "test_the_wedges_are_those_that_the_steps_use",
    r"Step 5 shows how": "test_the_bevel_is_set_as_drawn",
    r"Start .* at least .* wide|Rip the edges .* out of square, until": "test_ripped_from_the_stated_width_to_the_stated_face",
    r"Plane the edges of .* square": "test_ripped_from_the_stated_width_to_the_stated_face",
    r"At the bottom edge the (outer|inner) arris comes off": "test_the_arris_that_comes_off_is_the_one_that_stands_in_the_way",
    r"Mark each outer face": "",
    r"Hold the board against its wedge": "",
    r"Stand a square on the bench, its blade touching": "test_a_square_on_the_bench_reads_the_lean",
    r"No light shows under the edge|A square on each edge shows": "test_ripped_from_the_stated_width_to_the_stated_face",
    # 2: prop
    r"Stand the boards on the bench": "",
    r"board has a wedge of .* under the face that overhangs"
    r"|board has a square block": "test_the_face_that_overhangs_needs_the_wedge",
    r"Push the pin board's end against|They touch at the (foot|top)": "test_the_boards_touch_where_it_is_said",
    r"On the bench a (square|bevel set to .*) fits": "test_the_boards_touch_where_it_is_said",
    # 3: project
    r"Lay a straightedge flat|Mark the tail board where that face|Join the marks|Now swap|Mark the pin board from":
        "test_the_straightedge_marks_the_end_line_s_slant_and_nothing_runs_into_anything",
    r"On (the tail|the pin|both) boards? the line|Either may be": "test_the_line_slants_as_the_check_says",
    # 4: carry round
    r"Each mark lies on an inner face|across the bottom edge to the outer face|From there strike the end line":
        "test_unfolded_the_mark_runs_on_at_one_slant_from_face_to_face",
    r"On the top edge join|Laid across the top edge": "test_the_line_across_the_top_edge_is_the_saw_s_and_lies_along_the_tool",
    # 5: the bevel
    r"On a scrap|From its top measure|Lay the stock on the edge|The offset is"
    r"|Both end lines are square|Strike a line with the bevel":
        "test_the_bevel_is_set_as_drawn",
    # 6: saw the ends
    r"Stand the board in the vice|The blade is plumb too|So the saw follows|Saw plumb and square to the face":
        "test_in_the_vice_either_end_is_sawn_plumb_and_turned_as_said",
    r"Saw in the waste and plane": "",
    r"Measured square to the end line, the inner face": "test_in_the_vice_either_end_is_sawn_plumb_and_turned_as_said",
    r"Each end stands proud|The saw follows the end line on the other face|What stands proud|plane the proud ends":
        "test_square_ends_stand_proud_and_are_planed_to_the_flush_joint",
    r"Square to the end line, hold|No light is wider": "test_in_the_vice_either_end_is_sawn_plumb_and_turned_as_said",
    # 7: mark the tails
    r"Baselines: on each face|A marking gauge would rock|Strike the baselines|Where the end stands proud, set":
        "test_baselines_are_measured_from_each_face_s_own_arris",
    r"On the tail board's end line mark|On the baseline mark the same|Join the pairs":
        "test_marks_at_the_end_and_at_the_baseline_give_the_tails",
    r"Below the first mark|The last mark is": "test_pins_and_half_pins_are_as_wide_as_stated_at_the_end_line",
    r"Each tail's sides then spread": "test_every_cheek_holds_the_level_entry_and_spreads_as_asked",
    # 8: across the end
    r"A square end needs two|Hold the (bevel|square)'s stock|Draw a line across the end"
    r"|(Lower|Upper) sides:|“(Down|Up)” is towards":
        "test_lines_across_the_end_slope_as_said",
    r"Or set nothing|Pack the block": "test_a_pencil_on_a_block_is_offered_only_where_the_lines_are_level",
    r"The block draws level lines": "test_a_block_slid_along_the_bench_draws_parallel_to_the_bottom_edge",
    r"On the inner face (mark the baseline|the lines meet)": "test_marks_at_the_end_and_at_the_baseline_give_the_tails",
    # 9: saw the tails
    r"Hold the tail board end up|The outer face's wedge is thick|The saw cuts (then )?run straight|Follow the lines on the end":
        "test_a_wedge_of_the_lean_turns_the_cuts_straight_across",
    r"Saw in the waste beside each tail|A rule laid along a sawn side"
    r"|Saw off the pieces": "test_shoulders_stand_out_of_square_as_said",
    r"Chop out the waste": "test_shoulders_stand_out_of_square_as_said",
    # 10: scribe
    r"Hold the pin board end up in the vice": "test_in_the_vice_the_end_lies_level_and_nothing_runs_into_anything",
    r"Lay the tail board on it|Push its sawn tail ends|Bring the end line"
    r"|Carry each mark|A rule laid over|Every tail's end|scribe along":
        "test_the_pins_can_be_scribed_as_the_step_says",
    r"lay thin packing": "test_the_pins_can_be_scribed_as_the_step_says",
    r"Seen from the side, the tail board|The tail board lies level": "test_for_scribing_the_tail_board_rises_as_said",
    r"Prop that end": "test_in_the_vice_the_end_lies_level_and_nothing_runs_into_anything",
    r"Parallel to the bottom edge, draw the pins": "test_the_pins_sides_run_parallel_to_the_bottom_edge",
    # 11: together
    r"Hold the pin board end up, its bottom edge plumb"
    r"|Saw plumb, in the waste": "test_pins_are_sawn_plumb_with_the_bottom_edge_plumb",
    r"Chop to the baselines": "test_shoulders_stand_out_of_square_as_said",
    r"Push the pin board straight in": "test_the_pin_board_slides_in_level_and_no_other_way",
    r"Tipped, it binds": "test_a_tipped_pin_board_binds",
    r"Pare only what rubs": "",
    r"A level laid on the pin board|The pin board's bottom edge stays"
    r"|No gap takes": "test_on_its_way_in_the_pin_board_stays_level",
    # the trial sheet's table
    r"It rocks on the bench": "test_edge_gap_is_the_light_under_a_turned_block",
    r"It won't go in": "test_a_tipped_pin_board_binds",
    r"An end gapes at the top or at the bottom": "test_end_line_gap_on_the_flat_face",
    r"It closes outside and gapes inside": "test_end_gap_is_what_a_feeler_finds_at_a_butted_board",
    r"It closes, but the boards don't stand": "test_leans_come_back_from_their_end_lines",
    # the bevel card and the wrap templates
    r"Lay the bevel's stock along one heavy arm|For a line that slants the other way|Dotted: square":
        "test_each_wedge_has_the_angle_of_its_setting",
    r"The tail board is on your|left and right ends are as seen": "test_the_ends_of_a_box_are_named_as_seen_from_outside",
    r"Saw the end .* first": "test_the_sheet_says_how_the_end_is_sawn_before_it_is_wrapped",
    r"Cut the paper out": "test_cut_and_folded_it_lies_on_the_wood_line_by_line",
    r"Scribe the pins from your own|Try it on an offcut": "",
}


def sentences(text):
    return re.split(r"(?<=[.!?])\s+(?=[A-Z“])", text)


def instructions():
    for joint in (*JOINTS, *SQUARE_RIMS):
        for unit_shown in ("mm", "in"):
            for step in bench_step_words(joint, unit_shown):
                for part in (*step.do, step.check):
                    yield from sentences(part)
        yield from sentences(bevel_card(joint)[0].notes[1])
        for board in ("tail", "pin"):
            yield from sentences(wrap_template(joint, board)[0].notes[2])
    yield from (row[0] for row in gapes_table().rows)


def test_every_instruction_has_its_simulation():
    tests = "\n".join(path.read_text(encoding="utf-8") for path in Path(__file__).parents[1].rglob("test_*.py"))
    used, told = set(), set(instructions())
    for sentence in told:
        found = [pattern for pattern in SIMULATED if re.search(pattern, sentence)]
        assert len(found) == 1, f"{sentence!r}: {found}"
        used.add(found[0])
    assert len(told) > 300 and {name for name in SIMULATED.values() if name and f"def {name}(" not in tests} == set()
    unused = set(SIMULATED) - used
    assert unused <= {"The tail board is on your|left and right ends are as seen"}


def held_to_the_vice(joint, board):
    """Unit vectors: along the face into the board, square to the end line; out of the outer face; up the end line."""
    up, out = unit(joint.corner.vector("corner_line")), joint.corner.vector(f"{board}_normal")
    along = np.cross(out, up)
    return (along if along @ level(joint, board) > 0 else -along), out, up


# 1


@every_joint
def test_the_wedges_are_those_that_the_steps_use(joint):
    first, *others = bench_step_words(joint)
    made = re.findall(r"(one|two) of ([\d.]+)°", first.do[0]) if "wedges" in first.do[0] else []
    told = " ".join(step.spoken for step in others)
    propped_on = re.findall(r"wedge of ([\d.]+)°", told)
    turned = re.findall(r"between two wedges of ([\d.]+)°", told)
    need = {}
    for angle in propped_on:
        need[angle] = need.get(angle, 0) + 1
    for angle in turned:
        need[angle] = max(need.get(angle, 0), 2)
    assert {angle: {"one": 1, "two": 2}[count] for count, angle in made} == need


@pytest.mark.parametrize("joint", [*JOINTS, *SQUARE_RIMS], ids=lambda joint: f"{joint.corner}-{joint.end}-{joint.rims}")
def test_ripped_from_the_stated_width_to_the_stated_face(joint):
    told = " ".join(bench_step_words(joint)[0].do)
    for board in ("tail", "pin"):
        wood, blank = section(joint, board)
        face = np.linalg.norm(wood[1] - wood[0])
        if comes_off(joint, board):
            wide = np.linalg.norm(blank[1] - blank[0])
            assert f"at least {length(wide)} wide" in told and f"until the face is {length(face)} wide" in told
            assert abs(wood[[0, 3], 1]).max() < 1e-9  # both arrises of the bottom edge lie on the bench
        else:
            assert f"square, {length(face)} apart" in told


@every_joint
def test_a_square_on_the_bench_reads_the_lean(joint):
    check = bench_step_words(joint)[0].check
    for board in ("tail", "pin"):
        if comes_off(joint, board):
            wood, _ = section(joint, board)
            foot, head = (wood[0], wood[1]) if joint.corner.lean(board) > 0 else (wood[3], wood[2])
            touched = foot + (HELD_AT["mm"] - foot[1]) / (head[1] - foot[1]) * (head - foot)
            assert touched[1] == pytest.approx(50) and length(abs(touched[0] - foot[0])) in check
            outside = 1 if joint.corner.lean(board) > 0 else -1  # a blade that stands there runs into no wood
            assert all(outside * (touched[0] - point[0]) >= -1e-9 for point in wood if point[1] <= 50)


# 2 to 6


@every_joint
def test_the_face_that_overhangs_needs_the_wedge(joint):
    told = " ".join(bench_step_words(joint)[1].do)
    for board in ("tail", "pin"):
        over = [face for face in ("outer", "inner") if joint.planes[f"{board} {face}"].normal[2] < -1e-9]
        wedge = f"{abs(joint.corner.lean(board)):.1f}°"
        assert f"The {board} board has a " + (f"wedge of {wedge}" if over else "square block") in told and len(over) < 2


@every_joint
def test_the_boards_touch_where_it_is_said(joint):
    step = bench_step_words(joint)[1]
    held, inner = propped(joint, "tail"), joint.planes["tail inner"]
    end = held.corners["pin"][:, 0].reshape(-1, 3)
    off = -inner.height_of(end)
    assert abs(off).min() < 1e-9
    touching = end[abs(off) < 1e-6][:, 2]
    where = "" if len(touching) == 4 else "foot" if touching.max() < joint.height / 2 else "top"
    assert ("They touch at the " + where in " ".join(step.do)) if where else "They touch" not in " ".join(step.do)
    plan = np.degrees(np.arccos(level(joint, "tail") @ level(joint, "pin")))
    assert ("a square fits" if abs(plan - 90) < 1e-6 else f"a bevel set to {plan:.1f}° fits") in step.check


@every_joint
def test_the_line_slants_as_the_check_says(joint):
    check = bench_step_words(joint)[2].check
    for board in ("tail", "pin"):
        foot, head = propped(joint, board).trace
        slant = -(head - foot) @ level(joint, board) / ((head - foot) @ joint.corner.vector(f"{board}_up"))
        said = re.search(rf"On (?:the {board} board|both boards) the line (.*?)(?: On the|\. Either|\.$)", check)[1]
        if abs(slant) < 1e-6:
            assert said.startswith("is square")
        else:
            assert f"{abs(100 * slant):.1f} mm in 100 mm" in said
            assert f"longer at the {'top' if slant > 0 else 'bottom'}" in said


@every_joint
@pytest.mark.parametrize("board", ["tail", "pin"])
def test_the_line_across_the_top_edge_is_the_saw_s_and_lies_along_the_tool(joint, board):
    marks = carried_round(joint, board)
    top, bottom = marks["outer"][1] - marks["inner"][1], marks["outer"][0] - marks["inner"][0]
    assert np.cross(top, bottom) == pytest.approx(np.zeros(3), abs=1e-9)  # the bevel of the bottom edge serves
    other = "pin" if board == "tail" else "tail"
    assert abs(joint.planes[f"{other} outer"].normal @ top) < 1e-9  # in the plane of the flush end
    if joint.corner.plan_angle == 90:
        assert top @ level(joint, board) == pytest.approx(0, abs=1e-9)
    assert ("a square lies" in bench_step_words(joint)[3].check) == (joint.corner.plan_angle == 90)


@every_joint
@pytest.mark.parametrize("unit_shown", ["mm", "in"])
def test_the_bevel_is_set_as_drawn(joint, unit_shown):
    told, lines = " ".join(bench_step_words(joint, unit_shown)[4].do), set()
    for frame in frames(joint, 5, unit_shown):
        foot, mark = next(shape.points for shape in frame.shapes if shape.name == "setting")
        lines.add(round(float(np.degrees(np.arctan2(mark[0] - foot[0], mark[1] - foot[1]))), 6))
    wanted = {round(abs(joint.corner.end_line(board)), 6) for board in ("tail", "pin")}
    assert lines == wanted
    assert all(offset(angle, unit_shown) in told for angle in wanted if angle > 0.05)


@every_joint
@pytest.mark.parametrize("board", ["tail", "pin"])
def test_in_the_vice_either_end_is_sawn_plumb_and_turned_as_said(joint, board):
    step, corner = bench_step_words(joint)[5], joint.corner
    told = " ".join(step.do)
    along, out, up = held_to_the_vice(joint, board)
    tip = np.degrees(np.arccos(np.clip(up @ corner.vector(f"{board}_up"), -1, 1)))
    assert tip < 0.05 or f"{tip:.1f}°" in step.do[0]
    normal = joint.planes[f"{board} end"].normal
    assert abs(normal @ up) < 1e-9  # plumb
    turned = np.degrees(np.arctan2(abs(normal @ out), abs(normal @ along)))
    if turned > 0.05:
        assert f"turned {turned:.1f}° as seen from above" in told
    else:
        assert "Saw plumb and square to the face" in told
    blank = (joint.tail_board if board == "tail" else joint.pin_board).blank[:, 0]
    further = float((blank[0, 0] - blank[1, 0]) @ along)
    if joint.end == "flush" and abs(corner.end_bevel) > 0.05:
        assert f"{length(abs(further))}" in told and ("further" if further > 0 else "less far") in told
    through = blank[1, 0] - blank[0, 0]
    through = unit(through - (through @ up) * up)  # the end, in the plane square to the end line
    opening = np.degrees(np.arccos(np.clip(through @ along, -1, 1)))
    assert (f"a bevel set to {opening:.1f}°" if abs(opening - 90) > 0.05 else "hold a square") in step.check


# 8 to 11


@every_joint
def test_a_block_slid_along_the_bench_draws_parallel_to_the_bottom_edge(joint):
    for board in ("tail", "pin"):
        for face in ("outer", "inner"):
            drawn = np.cross(joint.planes[f"{board} {face}"].normal, [0, 0, 1])
            assert np.cross(drawn, level(joint, board)) == pytest.approx(np.zeros(3), abs=1e-9)


@every_joint
@pytest.mark.parametrize("board", ["tail", "pin"])
def test_shoulders_stand_out_of_square_as_said(joint, board):
    other = "pin" if board == "tail" else "tail"
    shoulder, face = joint.planes[f"{other} inner"].normal, joint.planes[f"{board} outer"].normal
    off = abs(90 - np.degrees(np.arccos(shoulder @ face)))
    nine, eleven = (" ".join(bench_step_words(joint)[number].do) for number in (8, 10))
    if off > 0.05:
        assert f"{off:.1f}° out of square to the face" in nine and f"the chisel tilted {off:.1f}°" in eleven
    else:
        assert "out of square" not in nine and "the chisel square to the face" in eleven
    cheeks = [corners for name, corners in joint.tail_board.faces if name.endswith("cheek")]
    for corners in cheeks:  # each is flat, and ends on both baselines
        assert sum(abs(joint.planes["pin inner"].height_of(corners)) < 1e-9) == 2
        assert abs(np.linalg.det(corners[1:] - corners[0])) < 1e-6
    assert len(cheeks) == 4


@every_joint
def test_for_scribing_the_tail_board_rises_as_said(joint):
    normal = end_up(joint, "pin") @ joint.planes["tail inner"].normal
    assert abs(normal[0]) < 1e-9  # level along the pin board's end
    rise = normal[1] / normal[2]  # towards the far end, which lies where y is less
    told = " ".join(bench_step_words(joint)[9].do)
    if abs(rise) < 1e-6:
        assert "lies level" in told
    else:
        assert f"{'rises' if rise > 0 else 'drops'} {100 * abs(rise):.1f} mm in 100 mm" in told
    assert ("packing" in told) == (packing(joint) > 0.05)


@every_joint
def test_the_pins_sides_run_parallel_to_the_bottom_edge(joint):
    compared = 0
    for face in ("outer", "inner"):
        for line in joint.lines_on("pin", face):
            if line.kind == "cheek":
                assert np.cross(unit(line.ends[1] - line.ends[0]), level(joint, "pin")) == pytest.approx(np.zeros(3), abs=1e-9)
                compared += 1
    assert compared == 8


def tipped_overlap(joint, degrees):
    """mm³ that the boards share when the pin board, half way in, is tipped about the level line square to its way."""
    half = joint.pin_board.moved(0.4 * joint.pin_thickness)
    vertices, triangles = half.mesh()
    way = joint.corner.vector("pin_level")
    turn = Rotation.from_rotvec(np.radians(degrees) * unit(np.cross(way, [0, 0, 1])))
    middle = half.blank[:, 0].mean(axis=(0, 1))
    tail, pin = (manifold3d.Manifold(manifold3d.Mesh64(np.ascontiguousarray(points), np.uint64(faces))) for points, faces in
                 (joint.tail_board.mesh(), (turn.apply(vertices - middle) + middle, triangles)))
    return (tail ^ pin).volume()


@pytest.mark.parametrize("joint", JOINTS[:6], ids=lambda joint: f"{joint.corner}-{joint.end}")
def test_a_tipped_pin_board_binds(joint):
    assert tipped_overlap(joint, 0) < 1e-3
    assert min(tipped_overlap(joint, 2), tipped_overlap(joint, -2)) > 1


@every_joint
def test_on_its_way_in_the_pin_board_stays_level(joint):
    assert abs(joint.pin_board.withdrawal[2]) < 1e-12
    for way in (0, 5, 40):
        assert joint.pin_board.moved(way).blank[..., 1, 2] == pytest.approx(joint.height, abs=1e-9)


# The drawings of sawn ends


def shapes_of(frame, name):
    return [shape.points for shape in frame.shapes if shape.name == name]


def from_upright(way):
    return float(np.degrees(np.arctan2(way[0], way[1])))


@every_joint
def test_the_drawn_cuts_stand_as_the_solid_s_do(joint):
    factor, tilt = enlarged(joint), joint.corner.end_bevel if joint.end == "flush" else 0.0
    drawn = np.degrees(np.arctan(factor * np.tan(np.radians(tilt))))
    in_vice, from_above = frames(joint, 6)
    (end_line,), (board,) = shapes_of(in_vice, "end line"), [shape.points for shape in in_vice.shapes
                                                            if shape.kind == "tail outer"]
    assert abs(end_line[1, 0] - end_line[0, 0]) < 1e-9  # plumb
    assert abs(from_upright(board[1] - board[0])) - 90 == pytest.approx(joint.corner.tail_end_line, abs=1e-9)
    (cut,) = shapes_of(from_above, "saw cut")
    outer, inner = cut[np.argsort(cut[:, 1])]  # seen from above the outer face lies nearer
    assert from_upright(inner - outer) == pytest.approx(-drawn, abs=1e-9)
    steel = next(shape.points for shape in from_above.shapes if shape.kind == "steel")
    assert abs(np.linalg.det([unit(steel[1] - steel[0]), unit(inner - outer)])) < 1e-9  # the blade lies along the cut
    turned = frames(joint, 9)[0]
    wood = next(shape.points for shape in turned.shapes if shape.kind == "tail end")
    assert from_upright(wood[0] - wood[3]) == pytest.approx(lean_wedge(joint), abs=1e-9)
    cuts = shapes_of(turned, "saw cut")
    assert len(cuts) == 4 and all(abs(cut[1, 0] - cut[0, 0]) < 1e-9 for cut in cuts)
    blade = next(shape.points for shape in frames(joint, 11)[0].shapes if shape.kind == "steel")
    bevel = np.degrees(np.arctan(factor * np.tan(np.radians(joint.corner.end_bevel))))
    assert from_upright(blade[1] - blade[0]) == pytest.approx(bevel, abs=1e-9)


@every_joint
def test_seen_from_the_side_the_scribing_is_its_solids_outlines(joint):
    solids, _ = scribing_scene(joint)
    side, compared = frames(joint, 10)[1], 0
    for solid in solids:
        hull = shapely.MultiPoint(solid.points[:, 1:]).convex_hull
        outlines = [shapely.Polygon(points) for points in shapes_of(side, solid.name) if len(points) > 3]
        assert min(outline.symmetric_difference(hull).area for outline in outlines) < 1e-6
        compared += 1
    assert compared == len(solids) >= 12
    clamp = [solid for solid in solids if solid.name in ("clamp", "screw")]
    assert len(clamp) == 4 and {"prop", "stop"} <= {solid.name for solid in solids}
