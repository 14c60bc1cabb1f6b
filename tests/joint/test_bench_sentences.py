"""Every instruction of the bench steps, the trial sheet, the cards and the wrap templates has a test that simulates it.

`SIMULATED` lists the sentences and names the test of each; what no test here or elsewhere tries is only a manner of working.
"""

import itertools
import re
from pathlib import Path

import manifold3d
import nbformat
import numpy as np
import pytest
import shapely
from benches import JOINTS, every_joint, level, unit
from scipy.spatial.transform import Rotation
from splaywork.common.planes import meet
from splaywork.common.printing import intended, length, offset
from splaywork.common.wedges import wedge_side
from splaywork.corner.corner import Corner
from splaywork.joint.bench_setups import (
    carried_round,
    chisel_leans,
    comes_off,
    end_up,
    lean_wedge,
    packing,
    prop_height,
    propped,
    runs_past,
    scribing_shift,
    section,
)
from splaywork.joint.bench_steps import (
    _BEGINS,
    LIGHT,
    LINE,
    PENCIL,
    aside,
    bench_step_words,
    light_of_line,
    vice_opening,
    wedged,
)
from splaywork.joint.bench_steps_picture import frame_rows, frames, held_by, pair, scribing_scene
from splaywork.joint.cards import bevel_card
from splaywork.joint.joint import Joint
from splaywork.joint.tails import Cheek
from splaywork.joint.templates import wrap_template
from splaywork.joint.trial_sheet import gapes_table, opens, pencil_block, stock
from wood import solid

SQUARE_RIMS = [Joint(corner, 100, 18, 15, tails=2, rims="square")
               for corner in (Corner(16, 11), Corner(-20, -11), Corner(0, 20))]

# A sentence, as a pattern -> the test that simulates it; "" where it claims nothing that a solid could deny.
SIMULATED = {
    # 1: rip
    r"Rip the bottom edge first|Hold the board end up in the vice, and turn the saw until|Saw in the waste, halfway"
    r"|Then rip the top edge": "",
    r"Plane .* wide, edges square|Plane both boards to width|With the marking gauge scribe a line"
    r"|Across both ends join each line|Both faces of each board are|Measure both faces at both ends":
        "test_ripped_from_the_gauged_lines_both_faces_are_as_wide_as_stated",
    r"Plane the edges of .* square": "test_ripped_from_the_gauged_lines_both_faces_are_as_wide_as_stated",
    r"At the (tail board's |pin board's )?bottom edge the (outer|inner) arris comes off":
        "test_the_arris_that_comes_off_is_the_one_that_stands_in_the_way",
    r"Mark the outer face of each": "",
    r"Measure first that each|Measure the thickness first|Any other thickness":
        "test_every_number_of_the_sheet_is_for_its_thickness",
    r"If the wrong face overhangs": "",
    r"Stand .* on that edge, and hold": "test_the_face_that_overhangs_needs_the_wedge",
    r"A square on each edge shows":
        "test_ripped_from_the_gauged_lines_both_faces_are_as_wide_as_stated",
    # 2: prop
    r"Saw wedges in pairs|(Each|The) block is .* tall and|Mark (each|the) block|Square both marks across|Saw from mark to mark":
        "test_the_wedges_are_those_that_the_steps_use",
    r"Leave .* of bench outside each": "test_a_pair_of_wedges_holds_a_board",
    r"Stand the boards at a corner of the bench": "test_seen_from_outside_the_tail_board_is_on_the_right",
    r"Set .* of wedges at|One wedge goes under|The wedge's twin goes|Clamp wedge, board and twin"
    r"|Set a square block|Then clamp (each|the)": "test_a_pair_of_wedges_holds_a_board",
    r"If the twin creeps up|Otherwise turn a board|Otherwise plane again": "",
    r"Push the tail board's end against|(The|Again the) boards touch at the (bottom|top)":
        "test_the_boards_touch_where_it_is_said",
    r"Let the (tail|pin) board run": "test_a_board_that_runs_past_holds_its_whole_end",
    r"Beside the wedge slide a square|Measure from the blade to that face's bottom arris":
        "test_a_square_slid_to_the_top_arris_of_the_overhanging_face_reads_the_lean",
    r"Stand a square on the bench": "test_a_square_on_the_bench_lies_against_an_upright_board",
    r"Lay a card with a .* flat on the bench inside|Beside the card and under the boards":
        "test_the_boards_touch_where_it_is_said",
    # 3: project
    r"Saw both ends of a thin wooden|Pare both ends|The points are in the other face|If more than the point touches"
    r"|Lay the face with the points|Mark where the point|Join the marks|Now swap|Take off the clamps"
    r"|Push the pin board's end nearest|Mark the tail board":
        "test_the_straightedge_marks_the_end_line_s_slant_and_nothing_runs_into_anything",
    r"Let the tail board's end that touched|Clamp again, and check": "test_a_board_that_runs_past_holds_its_whole_end",
    r"On (the tail|the pin|both) boards? the line|Both boards are longer": "test_the_line_slants_as_the_check_says",
    r"The pencil line may differ|From a line's lower end measure":
        "test_a_bevel_s_tolerance_catches_the_shortcut_that_the_pencil_s_lets_pass",
    r"If more than .* shows with the end planed|This time a board need run past": "",
    r"If the line differs more, a board (isn't at its lean|isn't upright)": "",
    # 4: carry round
    r"Hold a (square|bevel)'s stock on the inner face"
    r"|across the bottom edge to the outer":
        "test_unfolded_the_mark_runs_on_at_one_slant_from_face_to_face",
    r"[Ss]et the bevel to the pencil line|Turn the bevel over|On the outer face draw the end line up"
    r"|square lines up both faces":
        "test_the_bevel_of_the_inner_face_turned_over_strikes_the_outer_face_s_line",
    r"At a ripped edge the stock touches|On a flush end the stock touches":
        "test_a_stock_touches_along_one_line_where_it_is_said",
    r"On the top edge join|across the top edge, (stock on either face, )?blade|Hatch the waste: the wood":
        "test_the_line_across_the_top_edge_is_the_saw_s_and_lies_along_the_tool",
    # 5: the bevel
    r"On a scrap|The offset is how far|From the top of the squared line measure|Lay the stock on the edge|Keep the scrap"
    r"|Both end lines are square|Strike a line with the bevel":
        "test_the_bevel_is_set_as_drawn",
    r"For step 6 draw the end bevel":
        "test_the_bevel_that_tries_the_sawn_end_is_drawn_on_the_scrap_and_round_the_arris",
    r"A rule along a short blade": "",
    r"The bevel's line is more exact|Strike .* again with bevel and knife|Join the new lines|board keeps its square":
        "test_the_bevel_of_the_inner_face_turned_over_strikes_the_outer_face_s_line",
    # 6: saw the ends
    r"Hold the board in the vice, bottom edge|until a short level held along|end line is plumb as the board stands":
        "test_in_the_vice_the_far_end_goes_down_or_up_as_said",
    r"(Tail|Pin) board: its end is at your|Turn the saw's tip|The blade is plumb"
    r"|Seen from above, that line too|The saw's tip points away"
    r"|Saw plumb and square to the face":
        "test_in_the_vice_either_end_is_sawn_plumb_and_turned_as_said",
    r"Take the panel saw": "test_the_cut_is_as_deep_as_the_longest_end_line",
    r"Saw in the waste\.": "",
    r"Its end must stick out|If its end points to the bench's middle|Turned round, a board has its end":
        "test_turned_round_a_board_points_the_other_way_and_the_saw_turns_alike",
    r"Then hold the board end up":
        "test_in_the_vice_the_end_lies_level_and_nothing_runs_into_anything",
    r"Tilt the plane": "test_held_end_up_the_end_slopes_as_much_as_the_plane_is_tilted_and_that_way",
    r"Nick (that line|the)": "test_the_saw_would_slide_on_a_top_edge_that_is_nicked_and_on_no_other",
    r"Stand both boards as in step 2 again|Push each end in turn":
        "test_each_sawn_end_lies_against_the_other_board_s_inner_face_as_said",
    r"Plane (the end|that arris) where it touches": "test_an_end_gapes_where_its_line_leaves_the_board_short",
    r"Good lines may at first leave light": "test_a_line_as_far_out_as_is_allowed_leaves_the_light_that_is_said",
    r"Each end stands proud|The saw follows the end line on the other face|Plane off what stands proud|plane the proud ends":
        "test_square_ends_stand_proud_and_are_planed_to_the_flush_joint",
    r"Put that angle round": "test_the_bevel_that_tries_the_sawn_end_is_drawn_on_the_scrap_and_round_the_arris",
    r"Set the bevel as in step 5, with|At right angles to the end line, lay"
    r"|No light is wider than [^,]*\.$":
        "test_in_the_vice_either_end_is_sawn_plumb_and_turned_as_said",
    # 7: mark the tails
    r"On both faces measure in|Join the two marks with|A marking gauge would rock|Scribe the baselines"
    r"|Where the end stands proud, set":
        "test_baselines_are_measured_from_each_face_s_own_arris",
    r"Square two lines up that face|Measure each height on both|A rule laid through the two":
        "test_two_lines_square_to_the_bottom_edge_find_the_end_line",
    r"On the tail board's outer face mark|Measured square up from|On the baseline mark the same|Join the pairs":
        "test_marks_at_the_end_and_at_the_baseline_give_the_tails",
    r"The baseline lies as far in": "test_a_baseline_lies_as_far_in_as_the_other_end_is_broad",
    r"Below the first mark|The last mark is": "test_pins_and_half_pins_are_as_wide_as_stated_at_the_end_line",
    r"Each tail's sides then spread": "test_every_cheek_holds_the_level_entry_and_spreads_as_asked",
    # 8: across the end
    r"A square end needs two|Set the bevel to [^t]|Hold the (bevel|square)'s stock against|Draw a line (across the end )?from"
    r"|Towards the inner face|On the inner face mark the end": "test_lines_across_the_end_slope_as_said",
    r"Or use no (bevel|square)|Lay a pencil on a flat block|Pack the block":
        "test_a_pencil_on_its_block_reaches_every_mark",
    r"On the inner face('s baseline mark| the lines meet)|Measure as in step 7, from|Join each mark to the end":
        "test_marks_at_the_end_and_at_the_baseline_give_the_tails",
    # 9: saw the tails
    r"Take the fine saw|The end slopes: nick|Let (the lower end of the|both) baselines": "",
    r"Lay the wedges on their broad": "test_as_they_were_sawn_the_wedges_fill_the_vice_between_board_and_jaws",
    r"Hold the tail board end up|On the outer face the wedge is thick|The cuts (then )?run straight|Follow the lines on the end"
    r"|Tilt the saw to each|Each cut lies in the waste":
        "test_a_wedge_of_the_lean_turns_the_cuts_straight_across",
    r"Saw in the waste beside each tail|A rule laid across a sawn side|on each shoulder":
        "test_shoulders_stand_out_of_square_as_said",
    r"Join the baselines across both edges|For the piece above the last tail|Saw along the baseline"
    r"|For the piece below the first|Now (raise|lower|turn) the":
        "test_held_as_in_step_6_the_shoulders_are_sawn_plumb",
    r"(The|Now the) tail's side lies": "test_the_outer_waste_is_sawn_deeper_on_the_face_that_is_said",
    # 10: scribe
    r"Hold the pin board end up in the vice|Tip the board until its|Let the end's outer arris stand":
        "test_in_the_vice_the_end_lies_level_and_nothing_runs_into_anything",
    r"Clamp a straight stop": "test_the_stop_stands_as_high_as_the_tails_and_its_clamps_find_room",
    r"Lay the tail board on the|Push the sawn tail ends|Bring the end line"
    r"|Carry each mark|Lay a rule over|Every tail's end|scribe along":
        "test_the_pins_can_be_scribed_as_the_step_says",
    r"The tail board then lies askew|Straight back from the vice the board":
        "test_the_tail_board_lies_askew_to_the_side_that_is_said",
    r"At each tail's side nearer": "test_the_wood_hangs_over_the_line_where_the_knife_must_lean",
    r"lay thin packing": "test_the_pins_can_be_scribed_as_the_step_says",
    r"Stand a prop on its|On a (bench as high as|lower bench pack)|Begin with a taller prop":
        "test_the_prop_touches_along_its_whole_length_and_carries_the_board",
    r"Sandpaper between board and prop keeps": "",
    r"Clamp tail board and prop": "test_a_clamp_reaches_the_prop_from_the_bench_s_end",
    r"Draw the pins' sides down|Use (a square|the bevel)": "test_the_pins_sides_run_parallel_to_the_bottom_edge",
    # 11: together
    r"Hatch the waste between the pins": "",
    r"Hold the pin board end up, its bottom edge plumb"
    r"|Saw plumb, in the waste": "test_pins_are_sawn_plumb_with_the_bottom_edge_plumb",
    r"Make the check before": "",
    r"These lines slant": "test_the_scribed_lines_slant_as_said",
    r"Hold the chisel|Tilt the chisel|The chisel then": "test_a_chisel_held_as_said_follows_shoulder_and_saw_cut",
    r"chop out the waste between|Test the shoulders as in step 9|Chop to the baselines, half way":
        "test_chopping_is_told_whole_where_the_chisel_is_first_wanted",
    r"handle (then )?leans": "test_the_chisel_leans_over_as_said_on_either_face",
    r"For the dry fit clamp": "test_what_holds_the_tail_board_is_nowhere_in_the_pin_board_s_way",
    r"[Hh]old the pin board in both hands": "test_the_pin_board_slides_in_level_and_no_other_way",
    r"A tipped board binds": "test_a_tipped_pin_board_binds",
    r"Pare a pin where the pin rubs": "",
    r"A level laid on the pin board|The pin board's bottom edge stays":
        "test_on_its_way_in_the_pin_board_stays_level",
    r"feeler goes in at no shoulder": "test_together_the_ends_touch_nothing_and_the_shoulders_lie_against_the_other_board",
    r"With the tail board clamped|Now free the tail board|The corner doesn't rock|The card, laid as in":
        "test_together_the_corner_stands_as_its_propped_boards_did",
    # the trial sheet's table
    r"The corner rocks\. Taken apart, a board": "test_a_badly_ripped_edge_rocks_on_one_arris_while_the_other_board_lies_flat",
    r"Joined again, press each board flat in turn":
        "test_a_board_fixed_too_high_shows_even_light_while_the_other_is_pressed_flat",
    r"The same, but while the pin board lies flat|Joined, and only joined, the pin board shows":
        "test_a_tail_board_that_lay_turned_lifts_its_far_end_or_the_pin_board",
    r"Light shows beside a pin|Tails or pins stand proud": "test_a_baseline_too_far_in_leaves_the_tails_proud",
    r"The pin board won't go in": "test_a_tipped_pin_board_binds",
    r"A shoulder gapes at the (top|bottom) only": "test_an_end_gapes_where_its_line_leaves_the_board_short",
    r"A shoulder gapes (inside|outside), the same": "test_end_gap_is_what_a_feeler_finds_at_a_butted_board",
    r"The corner closes, but isn't square, seen": "test_pulled_up_tight_the_corner_turns_by_rotations",
    r"The corner closes, but a board isn't at its lean": "test_leans_come_back_from_their_end_lines",
    # the bevel card and the wrap templates
    r"Lay the bevel's stock along one heavy arm|For a line that slants the other way|Dotted: square":
        "test_each_wedge_has_the_angle_of_its_setting",
    r"The tail board is on your|left and right ends are as seen": "test_the_ends_of_a_box_are_named_as_seen_from_outside",
    r"Saw the end .* first": "test_the_sheet_says_how_the_end_is_sawn_before_it_is_wrapped",
    r"Cut the paper out": "test_cut_and_folded_it_lies_on_the_wood_line_by_line",
    r"Scribe the pins from your own|Try the template on an offcut": "",
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


@every_joint
def test_held_end_up_the_end_slopes_as_much_as_the_plane_is_tilted_and_that_way(joint):
    """The face plumb, the end line level: how far the sawn end falls from face to face, and to which, from its corners."""
    tilts = {found for part in bench_step_words(joint)[5].do
             for found in re.findall(r"Tilt the plane ([\d.]+)° down towards the (outer|inner) face\.", part)}
    assert ("Tilt the plane" in " ".join(bench_step_words(joint)[5].do)) == bool(tilts)
    for board in ("tail", "pin"):
        along, out, up = held_to_the_vice(joint, board)
        solid = joint.tail_board if board == "tail" else joint.pin_board
        outer, inner = solid.blank[:, 0] @ np.array([-along, out, up]).T  # end up: height, out of the face, along the end
        assert np.ptp(outer[:, 0]) < 1e-9 and np.ptp(inner[:, 0]) < 1e-9  # level from edge to edge
        height, away = (outer - inner).mean(axis=0)[:2]
        slope = np.degrees(np.arctan2(abs(height), away))
        lower = "outer" if height < 0 else "inner"
        assert tilts == ({(f"{slope:.1f}", lower)} if slope > 0.05 else set())


@every_joint
def test_the_saw_would_slide_on_a_top_edge_that_is_nicked_and_on_no_other(joint):
    """The end line plumb: how far the top edge, through three of its corners, falls across the saw's plate."""
    told, slides = " ".join(bench_step_words(joint)[5].do), set()
    for board in ("tail", "pin"):
        _, _, up = held_to_the_vice(joint, board)
        corners = (joint.tail_board if board == "tail" else joint.pin_board).blank[:, :, 1]  # of the top edge
        first, second, third = corners[0, 0], corners[0, 1], corners[1, 0]
        plate = joint.planes[f"{board} end"].normal
        across = plate - (plate @ up) * up
        rises = np.linalg.solve([second - first, third - first, up], [(second - first) @ up, (third - first) @ up, 0.0])
        if abs(np.degrees(np.arctan(rises @ unit(across)))) > 0.05:
            slides.add(board)
    said = re.search(r"Nick (?:that line(?: on the (\w+) board)? with the knife first|"
                     r"the(?: (\w+) board's)? top edge with the knife where the saw starts), so that the saw doesn't slide\.",
                     told)
    named = {said[1] or said[2]} if said and (said[1] or said[2]) else {"tail", "pin"} if said else set()
    assert named == slides
    carried = carried_round(joint, "tail")  # the line that was carried round, over the top edge: the saw's on a flush end only
    line = carried["outer"][1] - carried["inner"][1]
    assert not said or ("that line" in said[0]) == (abs(joint.planes["tail end"].normal @ line) < 1e-9)


def held_to_the_vice(joint, board):
    """Unit vectors: along the face into the board, square to the end line; out of the outer face; up the end line."""
    up, out = unit(joint.corner.vector("corner_line")), joint.corner.vector(f"{board}_normal")
    along = np.cross(out, up)
    return (along if along @ level(joint, board) > 0 else -along), out, up


# 1


@every_joint
def test_the_wedges_are_those_that_the_steps_use(joint):
    steps = bench_step_words(joint)
    made = {angle: {"one pair": 1, "two pairs": 2}[count]
            for count, angle in re.findall(r"(one pair|two pairs) of ([\d.]+°)", " ".join(steps[1].do))}
    need = {}
    for board in ("tail", "pin"):
        if abs(joint.corner.lean(board)) > 0.05:
            angle = intended(abs(joint.corner.lean(board)))
            need[angle] = need.get(angle, 0) + 1
    for angle in re.findall(r"between (?:its pair of wedges \(|a pair of wedges of )([\d.]+°)", steps[8].spoken):
        need[angle] = max(need.get(angle, 0), 1)
    assert made == need
    for angle in made:
        block = re.search(rf"of {re.escape(angle)}, blocks? ([\d.]+) mm wide", steps[1].spoken)
        assert f"{joint.height:.0f} mm tall and 40 mm thick" in steps[1].spoken
        slide = float(block[1]) - 40  # 20 mm stay at the bottom left and at the top right of the one cut
        assert np.degrees(np.arctan2(slide, joint.height)) == pytest.approx(float(angle.rstrip("°")), abs=0.06)
    if made:
        assert "20 mm in from the left at the bottom, and 20 mm in from the right at the top" in steps[1].spoken
    for step in (steps[0], *steps[2:8]):
        assert "Saw wedges" not in step.spoken


@every_joint
def test_a_pair_of_wedges_holds_a_board(joint):
    """In section: nothing runs into anything, both lie on the board's faces, stand on the bench, and their backs are plumb."""
    told, compared = " ".join(bench_step_words(joint)[1].do), 0
    for board in ("tail", "pin"):
        wood, held = shapely.Polygon(section(joint, board)[0]), held_by(joint, board)
        leans = abs(joint.corner.lean(board)) > 0.05
        assert set(held) == ({"outside", "inside"} if leans else {"block"})
        over = "outside" if joint.corner.lean(board) > 0 else "inside"
        for name, outline in held.items():
            shape = shapely.Polygon(outline)
            assert shape.intersection(wood).area < 1e-6 and shape.buffer(1e-6).intersection(wood.exterior).length > 50
            assert outline[:, 1].min() == pytest.approx(0, abs=1e-9) and outline[:, 1].max() == pytest.approx(joint.height)
            sides = np.roll(outline, -1, axis=0) - outline
            assert np.sum(abs(sides[:, 0]) < 1e-9) == (1 if leans else 2)
            if leans:  # thick end down under the face that overhangs, its twin upside down
                foot, top = (np.ptp(outline[abs(outline[:, 1] - at) < 1e-9, 0]) for at in (0, joint.height))
                assert (foot > top) == (name == over)
            compared += 1
        bench = float(re.search(r"Leave ([\d.]+) mm of bench outside", told)[1])
        foot = held.get("outside", held.get("block"))
        assert np.ptp(foot[foot[:, 1] < 1e-9, 0]) <= bench + 1e-6
    assert compared >= 2 and ("upside down" in told) == (compared > 2)


@pytest.mark.parametrize("joint", [*JOINTS, *SQUARE_RIMS], ids=lambda joint: f"{joint.corner}-{joint.end}-{joint.rims}")
def test_ripped_from_the_gauged_lines_both_faces_are_as_wide_as_stated(joint):
    """The blank is a rectangle; each cut runs from the gauged line through the arris of that edge's other face."""
    step = bench_step_words(joint)[0]
    told = f"{' '.join(step.do)} {step.check}"
    for board in ("tail", "pin"):
        wood, blank = section(joint, board)
        face = np.linalg.norm(wood[1] - wood[0])
        off = comes_off(joint, board)
        if not off:
            assert re.search(f"Plane the edges of (both boards|the {board} board) square, {length(face)} apart", told)
            continue
        up, down = unit(blank[1] - blank[0]), unit(blank[0] - blank[1])
        arrises = {("outer", 0): blank[0], ("outer", 1): blank[1], ("inner", 1): blank[2], ("inner", 0): blank[3]}
        gauge = abs(joint.corner.rocking_gap(joint.thickness(board), board) / np.cos(np.radians(joint.corner.lean(board))))
        sawn = {}
        for end, taken in enumerate(off):
            stays = {"outer": "inner", "inner": "outer"}[taken]
            line = arrises[taken, end] + gauge * (down if end else up)
            sawn |= {(taken, end): line, (stays, end): arrises[stays, end]}
            cut = line - arrises[stays, end]
            across = unit(np.array([cut @ up, np.linalg.norm(cut - (cut @ up) * up)]))
            assert np.degrees(np.arctan2(abs(across[0]), across[1])) == pytest.approx(abs(joint.corner.lean(board)))
        assert np.array([sawn[key] for key in (("outer", 0), ("outer", 1), ("inner", 1), ("inner", 0))]) == pytest.approx(wood)
        assert abs(wood[[0, 3], 1]).max() < 1e-9  # both arrises of the bottom edge lie on the bench
        wide, rip = length(np.linalg.norm(blank[1] - blank[0])), intended(abs(joint.corner.lean(board)))
        for one, each, value in ((f"{wide} wide, edges square", "to width, edges square", wide),
                                 (f"scribe a line {length(gauge)} from each of these arrises, on the face of the same name",
                                  "scribe a line from each of these arrises, on the face of the same name", length(gauge)),
                                 (f"other arris, {rip} out of square", "other arris, out of square", rip),
                                 (f"Both faces of each board are {length(face)} wide",
                                  "Measure both faces at both ends, within 0.5 mm", length(face))):
            assert one in told or re.search(f"{each}[^:]*: [^:]*{re.escape(value)} on the {board} board", told), (one, told)
        comes = rf"bottom edge the {off[0]} arris comes off, at the top edge the {off[1]} arris\."
        assert re.search(rf"At the ({board} board's )?{comes}", told)


@every_joint
def test_a_square_slid_to_the_top_arris_of_the_overhanging_face_reads_the_lean(joint):
    check, compared = bench_step_words(joint)[1].check, 0
    for board in ("tail", "pin"):
        if comes_off(joint, board):
            wood, _ = section(joint, board)
            over = [face for face in ("outer", "inner") if joint.planes[f"{board} {face}"].normal[2] < -1e-9]
            foot, head = (wood[0], wood[1]) if over == ["outer"] else (wood[3], wood[2])
            assert length(abs(head[0] - foot[0])) in check and head[1] == pytest.approx(joint.height)
            way = 1 if over == ["outer"] else -1
            assert (way * (head[0] - wood[:, 0])).min() >= -1e-9  # a plumb blade from that side meets the top arris first
            assert np.sum(abs(wood[:, 0] - head[0]) < 1e-6) == 1
            drawn = next((frame for frame in frames(joint, 2) if frame.caption == f"{board.capitalize()} board, clamped"), None)
            if drawn:  # the one that leans more
                blade, size = (next(shape.points for shape in drawn.shapes if shape.name == name)
                               for name in ("square's blade", "offset"))
                assert blade[:, 0] == pytest.approx(head[0]) and np.ptp(size[:, 0]) == pytest.approx(abs(head[0] - foot[0]))
            compared += 1
    assert compared == sum(bool(comes_off(joint, board)) for board in ("tail", "pin"))


# 2 to 6


@every_joint
def test_the_face_that_overhangs_needs_the_wedge(joint):
    rip, prop = (" ".join(bench_step_words(joint)[number].do) for number in (0, 1))
    over = {board: [face for face in ("outer", "inner") if joint.planes[f"{board} {face}"].normal[2] < -1e-9]
            for board in ("tail", "pin")}
    for board, faces in over.items():
        assert len(faces) < 2
        if faces:
            assert (f"its {faces[0]} face must overhang" in rip
                    or re.search(rf"the {board} board's {faces[0]} face(?: must overhang|\.)", rip))
    upright = [board for board, faces in over.items() if not faces]
    one = f"Set a square block against the {'/'.join(upright)} board's outer face"
    told = ("each board's", one, "Set a square block against each board's outer face")[len(upright)]
    assert told in prop and ("under the face that overhangs" in prop) == (len(upright) < 2)


@every_joint
def test_the_boards_touch_where_it_is_said(joint):
    step = bench_step_words(joint)[1]
    held, inner = propped(joint, "pin"), joint.planes["pin inner"]
    end = held.corners["tail"][:, 0].reshape(-1, 3)
    off = -inner.height_of(end)
    assert abs(off).min() < 1e-9
    touching = end[abs(off) < 1e-6][:, 2]
    where = "" if len(touching) == 4 else "bottom" if touching.max() < joint.height / 2 else "top"
    gap = {"bottom": "above", "top": "below", "": ""}[where]
    told = " ".join(step.do)
    touch = f"The boards touch at the {where} only: the gap {gap} belongs there"
    assert touch in told if where else "boards touch" not in told
    plan = np.degrees(np.arccos(level(joint, "tail") @ level(joint, "pin")))
    fits = "square corner" if abs(plan - 90) < 1e-6 else f"corner of {intended(plan)}"
    assert f"Lay a card with a {fits} flat on the bench inside the corner" in step.check


@every_joint
@pytest.mark.parametrize("board", ["tail", "pin"])
def test_a_board_that_runs_past_holds_its_whole_end(joint, board):
    held, along = propped(joint, board), level(joint, board)
    start = held.trace[0] @ along  # where the straightedge's foot touches the board
    past, drawn = runs_past(joint, board), start - (held.corners[board] @ along).min()
    solid = joint.tail_board if board == "tail" else joint.pin_board
    ends = np.concatenate([solid.blank[:, 0].reshape(-1, 3), held.trace])
    reach = (start - ends @ along).max()
    assert reach + 3 <= past + 1e-6 < reach + 3 + 5 + 1e-3 and past % 5 == 0 and drawn >= past - 1e-6
    told = " ".join(bench_step_words(joint)[1 if board == "pin" else 2].do)
    runs = "Let the pin board run" if board == "pin" else "Let the tail board's end that touched run"
    assert f"{runs} {past:.0f} mm or more past" in told


def test_a_bevel_s_tolerance_catches_the_shortcut_that_the_pencil_s_lets_pass():
    corner, compared = Corner(16, 11), 0
    steps = bench_step_words(Joint(corner, 100, 18, tails=2))
    pencil = float(re.search(r"pencil line may differ by ([\d.]+) mm in 100 mm", steps[2].check)[1])
    bevel = float(re.search(r"within ([\d.]+) mm", steps[4].check)[1])
    assert pencil == PENCIL
    for board, lean in (("tail", corner.pin_lean), ("pin", corner.tail_lean)):
        miss = 100 * abs(np.tan(np.radians(lean)) - np.tan(np.radians(corner.end_line(board))))
        assert bevel == LINE < miss < pencil
        compared += 1
    assert compared == 2


@every_joint
@pytest.mark.parametrize("board", ["tail", "pin"])
def test_the_bevel_of_the_inner_face_turned_over_strikes_the_outer_face_s_line(joint, board):
    told, angles = " ".join(bench_step_words(joint)[3].do), {}
    for face, (foot, head) in carried_round(joint, board).items():
        if face != "bottom":
            seen_from = joint.planes[f"{board} {face}"].normal
            edge = np.cross([0, 0, 1], seen_from)  # to the right, seen from in front of that face
            way = unit(head - foot)
            angles[face] = np.degrees(np.arctan2(way @ unit(edge), way @ unit(np.cross(seen_from, edge))))
    assert angles["inner"] == pytest.approx(-angles["outer"], abs=1e-9)  # one setting, turned over
    assert abs(angles["outer"]) == pytest.approx(abs(joint.corner.end_line(board)), abs=1e-9)
    if abs(angles["outer"]) > 0.05:
        assert "Turn the bevel over" in told and ("On the" not in told.split("et the bevel")[0]
                                                  or f"On the {board} board set the bevel" in told)
    else:
        assert "square lines up both faces" in told
    again = " ".join(bench_step_words(joint)[4].do)
    assert (f"Strike the {board} board's end line again" in again or "Strike both end lines again" in again) == (
        abs(angles["outer"]) > 0.05)
    assert not (f"The {board} board keeps its square line" in again and abs(angles["outer"]) > 0.05)


@every_joint
def test_a_stock_touches_along_one_line_where_it_is_said(joint):
    """A stock square to its blade, the blade flat on one side of an arris: it meets the other side along a line."""
    ripped = [board for board in ("tail", "pin") if comes_off(joint, board)]
    assert ("At a ripped edge" in " ".join(bench_step_words(joint)[3].do)) == bool(ripped)
    end = abs(joint.planes["tail outer"].normal @ joint.planes["tail end"].normal) > 1e-3
    assert ("On a flush end" in " ".join(bench_step_words(joint)[7].do)) == end
    pairs = [(f"{board} {face}", f"{board} bottom") for board in ripped for face in ("outer", "inner")]
    for face, edge in [*pairs, *((edge, face) for face, edge in pairs), *([("tail end", "tail outer")] if end else [])]:
        flat, beside = joint.planes[face].normal, joint.planes[edge].normal
        arris = unit(np.cross(flat, beside))
        into = np.cross(arris, flat)  # in the blade's plane, square to the arris
        into = into if into @ beside < 0 else -into
        depth = np.linspace(0, 8, 9)  # of the stock, below the blade's plane
        reach = depth * (flat @ beside) / (into @ beside)  # where the other side of the arris lies at each depth
        off = reach - reach.min()
        assert np.sum(off < 1e-9) == 1  # at one depth only: the arris itself, or the stock's own far arris
        assert abs(arris @ flat) < 1e-12 and abs(arris @ beside) < 1e-12


@every_joint
@pytest.mark.parametrize("board", ["tail", "pin"])
def test_in_the_vice_the_far_end_goes_down_or_up_as_said(joint, board):
    """Face plumb, bottom edge level, the end at the left; turned clockwise, as its operator sees it, the far end goes down."""
    told, angle = " ".join(bench_step_words(joint)[5].do), joint.corner.end_line(board)
    along, up = level(joint, board), joint.corner.vector(f"{board}_up")
    foot, head = carried_round(joint, board)["outer"]
    flat = np.array([(head - foot) @ along, (head - foot) @ up])
    down = np.degrees(np.arctan2(-flat[0], flat[1]))  # clockwise, until that line is plumb
    turn = np.radians(-down)
    spin = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]])
    assert (spin @ flat)[0] == pytest.approx(0, abs=1e-9)
    far = (spin @ [100.0, 0.0])[1]
    if abs(angle) < 0.05:
        assert "is plumb as the board stands" in told
    else:
        way = "lower" if far < 0 else "raise"
        size = f"{abs(angle):.1f}°"
        assert re.search(rf"{way} the ({board} )?board's other end by {size}[^.]*.?[^.]*, until a short level", told,
                         re.IGNORECASE)
    if board == "tail" and abs(angle) > 0.05:
        assert ("lower" if far < 0 else "raise") in frames(joint, 6)[0].caption


@every_joint
@pytest.mark.parametrize("board", ["tail", "pin"])
def test_each_sawn_end_lies_against_the_other_board_s_inner_face_as_said(joint, board):
    """An end moved along its board to the other's inner face touches there: all over, or along one arris from rim to rim."""
    other = "pin" if board == "tail" else "tail"
    solid = joint.tail_board if board == "tail" else joint.pin_board
    inner, along = joint.planes[f"{other} inner"], level(joint, board)
    ends = solid.blank[:, 0]  # (face, rim, 3)
    off = -inner.height_of(ends) / (inner.normal @ along)
    off -= off.max()
    touching = abs(off) < 1e-6
    assert touching.all(axis=1).any()  # one arris, all the way up
    check = bench_step_words(joint)[5].check
    assert ("the end now touches all over" in check) == touching.all() != ("the end now touches along one arris" in check)


def as_sawn(joint, board, near, up, plane=None):
    """(hand of the end, turn of the blade's far end to the right, degrees) for one who has the face `near` before them.

    near: out of that face; up: along the end line, as the board is held. plane: the cut's, where it isn't the board's end.
    """
    right = np.cross(up, near)
    normal = joint.planes[plane or f"{board} end"].normal
    away = np.cross(normal, up)  # along the blade
    away = away if away @ near < 0 else -away
    turned = float(np.degrees(np.arctan2(away @ right, -(away @ near))))
    return "right" if -level(joint, board) @ right > 0 else "left", turned


@every_joint
def test_turned_round_a_board_points_the_other_way_and_the_saw_turns_alike(joint):
    """The two boards' ends point to either hand, so that one of them points to the bench's middle until it is turned round."""
    told, ends = " ".join(bench_step_words(joint)[5].do), set()
    for board in ("tail", "pin"):
        _, out, up = held_to_the_vice(joint, board)
        (first, turn), (second, turned) = as_sawn(joint, board, out, up), as_sawn(joint, board, -out, up)
        assert {first, second} == {"left", "right"} and turned == pytest.approx(turn, abs=1e-9)
        ends.add(first)
    assert ends == {"left", "right"}
    assert "turn the board round, its inner face towards you" in told
    said = "Turned round, a board has its end at your other hand, but the saw's tip goes to the same hand as before."
    assert (said in told) == ("Turn the saw's tip" in told)


@every_joint
def test_two_lines_square_to_the_bottom_edge_find_the_end_line(joint):
    """On the face laid flat: a mark as high as two others lies on their line, and the bottom edge has room for two."""
    surface, (end,) = joint.tail_board.surfaces["outer"], [
        each.flat for each in joint.lines_on("tail", "outer") if each.name == "end line"]
    slope = (end[1] - end[0]) / (end[1] - end[0])[1]
    for up in joint.marks.ravel():
        mark, beside = end[0] + (up - end[0, 1]) * slope, np.array([[150.0, up], [190.0, up]])
        assert abs(np.linalg.det([beside[1] - beside[0], mark - beside[0]])) < 1e-9
    board = surface.flat(joint.tail_board.blank[0, :, 0])  # the bottom arris of the outer face
    assert board[:, 1] == pytest.approx([0, 0], abs=1e-9) and np.ptp(board[:, 0]) > 60


@every_joint
@pytest.mark.parametrize("board", ["tail", "pin"])
def test_square_in_from_the_end_a_board_allows_two_places_but_not_both_ends(joint, board):
    angle, far = np.radians(joint.corner.end_line(board)), joint.corner.baseline_offset(15 if board == "tail" else 18)
    tall = joint.corner.slant_width(joint.height, board)
    up = np.linspace(0, tall, 201)
    landed = up + far * np.sin(angle)  # square to the end line, into the board
    on = up[(landed >= -1e-9) & (landed <= tall + 1e-9)]
    assert np.ptp(on) > tall / 3  # wide enough apart to join
    runs_off = {"bottom": landed[0] < -1e-9, "top": landed[-1] > tall + 1e-9}
    assert runs_off == {"bottom": angle < -1e-9, "top": angle > 1e-9}
    assert np.hypot(far * np.sin(angle), far * np.cos(angle)) == pytest.approx(far)


@every_joint
def test_the_line_slants_as_the_check_says(joint):
    check = bench_step_words(joint)[2].check
    for board in ("tail", "pin"):
        foot, head = propped(joint, board).trace
        slant = -(head - foot) @ level(joint, board) / ((head - foot) @ joint.corner.vector(f"{board}_up"))
        said = re.search(rf"On (?:the {board} board|both boards) the line (.*?)(?: On the|\. The pencil| Both|\.$)", check)[1]
        said += " ".join(re.findall("Both boards are (longer at the .*?)\\.", check))
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
    assert bench_step_words(joint)[3].check.startswith("Lay a square across") == (joint.corner.plan_angle == 90)


@every_joint
@pytest.mark.parametrize("unit_shown", ["mm", "in"])
def test_the_bevel_is_set_as_drawn(joint, unit_shown):
    told, lines = " ".join(bench_step_words(joint, unit_shown)[4].do), set()
    for frame in frames(joint, 5, unit_shown):
        foot, mark = next(shape.points for shape in frame.shapes if shape.name == "setting")
        lines.add(round(float(np.degrees(np.arctan2(mark[0] - foot[0], mark[1] - foot[1]))), 6))
    wanted = {round(abs(joint.corner.end_line(board)), 6) for board in ("tail", "pin")}
    assert lines == wanted
    assert all(f"{aside(angle, unit_shown)} for " in told for angle in wanted if angle > 0.05)


def opening_of_the_end(joint, board):
    """Degrees through the wood from the outer face to the end, in the plane square to the end line; by the solid's corners."""
    along, _, up = held_to_the_vice(joint, board)
    blank = (joint.tail_board if board == "tail" else joint.pin_board).blank[:, 0]
    through = blank[1, 0] - blank[0, 0]
    return float(np.degrees(np.arccos(np.clip(unit(through - (through @ up) * up) @ along, -1, 1))))


@every_joint
@pytest.mark.parametrize("unit_shown", ["mm", "in"])
def test_the_bevel_that_tries_the_sawn_end_is_drawn_on_the_scrap_and_round_the_arris(joint, unit_shown):
    """Both open it as far as the solid's end does: on the scrap from where the stock lies, on the end round the wood."""
    opening, drawn = opening_of_the_end(joint, "pin"), []
    for frame in frames(joint, 5, unit_shown):
        for foot, mark in shapes_of(frame, "end bevel"):
            drawn.append(90 - from_upright(mark - foot))
            (turn,) = shapes_of(frame, "angle of the end bevel")
            stock, *_ = shapes_of(frame, "bevel stock") or shapes_of(frame, "square stock")
            assert turn[0, 1] == 0 and turn[0, 0] > foot[0] < stock[:, 0].mean()  # from the edge on which the stock lies
            assert 90 - from_upright(turn[-1]) == pytest.approx(opening, abs=1e-9)
            named = {text for text, _ in frame.callouts}
            assert {f"step 6: {aside(90 - opening, unit_shown)}", f"step 6: {opening:.1f}°"} <= named
    round_it = [frame for frame in frames(joint, 6, unit_shown) if shapes_of(frame, "bevel blade")]
    for frame in round_it:
        wood, blade, stock = (shapes_of(frame, name)[0] for name in ("tail board", "bevel blade", "bevel stock"))
        assert 90 - from_upright(wood[1] - wood[0]) == pytest.approx(opening, abs=1e-9)
        assert np.linalg.det([unit(blade[1] - blade[0]), unit(wood[1] - wood[0])]) == pytest.approx(0, abs=1e-9)
        aside_by = np.array([wood[1, 1], -wood[1, 0]])  # from the end's line into the wood
        assert (blade @ aside_by < 1e-9).all() and (stock[:, 1] < 1e-9).all()
        drawn.append(opening)
        assert frame.caption == f"Check, {opening:.1f}°"
    known = joint.end == "flush" and abs(opening - 90) > 0.05
    assert drawn == pytest.approx([opening] * 2 * known, abs=1e-9)


@pytest.mark.parametrize("corner", [Corner(45, -45, 60), Corner(-45, 45, 60), Corner(0, 0, 60), Corner(45, 45, 135),
                                    Corner(-45, -45, 135), Corner(30, 30)], ids=str)
def test_no_line_of_step_5_leaves_its_scrap(corner):
    compared = 0
    for frame in frames(Joint(corner, 120, 18, tails=2), 5):
        low, high = (getattr(shapes_of(frame, "scrap")[0], side)(axis=0) for side in ("min", "max"))
        for name in ("setting", "end bevel", "angle of the end bevel"):
            for points in shapes_of(frame, name):
                assert (points >= low).all() and (points <= high).all(), name
                compared += 1
    assert compared >= 3


@every_joint
@pytest.mark.parametrize("board", ["tail", "pin"])
def test_in_the_vice_either_end_is_sawn_plumb_and_turned_as_said(joint, board):
    step, corner = bench_step_words(joint)[5], joint.corner
    told = " ".join(step.do)
    along, out, up = held_to_the_vice(joint, board)
    tip = np.degrees(np.arccos(np.clip(up @ corner.vector(f"{board}_up"), -1, 1)))
    assert tip < 0.05 or f"by {tip:.1f}°" in told
    normal = joint.planes[f"{board} end"].normal
    assert abs(normal @ up) < 1e-9  # plumb
    turned = np.degrees(np.arctan2(abs(normal @ out), abs(normal @ along)))
    right = np.cross([0, 0, 1], out)  # of somebody who has the outer face before them, the board standing on its bottom edge
    hand = "right" if along @ right < 0 else "left"
    if turned > 0.05:
        away = np.cross(normal, up)  # along the blade, seen from above
        away = away if away @ out < 0 else -away
        leans = away @ np.cross(up, out)  # to the right of the one who saws, at the saw's far end
        words = f"{board.capitalize()} board: its end is at your {hand}. Turn the saw's tip {turned:.1f}° to the "
        assert words + ("right" if leans > 0 else "left") in told
        mark = np.subtract(*next(line.ends for line in joint.lines_on(board, "top") if line.name == "end line"))
        mark = unit(mark - (mark @ up) * up)  # seen from above
        seen = f"{np.degrees(np.arccos(abs(mark @ out))):.1f}°"
        assert f"Seen from above, that line too points {seen} aside." in told
    else:
        assert "Saw plumb and square to the face" in told
    opening = opening_of_the_end(joint, board)
    along_it = f"{100 * abs(np.tan(np.radians(opening - 90))):.1f} mm"
    which = "wider" if opening > 90 else "narrower"
    gauge = f"Set the bevel as in step 5, with {along_it}, to the scrap line's {which} angle with its edge, {opening:.1f}°."
    assert (gauge if abs(opening - 90) > 0.05 else "lay a square's stock on the outer face") in step.check


def test_a_line_as_far_out_as_is_allowed_leaves_the_light_that_is_said():
    """An end sawn to a line that is out by `LINE` in 100 mm, pushed against the other board's inner face, at its own lean."""
    for joint in JOINTS:
        widest = 0.0
        for board, other in (("tail", "pin"), ("pin", "tail")):
            face, along, up = joint.planes[f"{other} inner"], level(joint, board), joint.corner.vector(f"{board}_up")
            true = np.tan(np.radians(joint.corner.end_line(board)))
            tall = joint.corner.slant_width(joint.height, board)
            heights = np.linspace(0, tall, 5)
            for wrong in (true + LINE / 100, true - LINE / 100):
                line = np.outer(heights, up) - np.outer(wrong * heights, along)
                off = -face.height_of(line)
                widest = max(widest, np.ptp(off))
        assert light_of_line(joint) == pytest.approx(widest, abs=1e-9)
        assert f"Good lines may at first leave light up to {length(widest)} wide." in bench_step_words(joint)[5].check
        assert LIGHT < widest < 1


@every_joint
def test_a_baseline_lies_as_far_in_as_the_other_end_is_broad(joint):
    told, compared = (Path(__file__).parents[2] / "notebooks" / "05_cut_a_trial_corner.ipynb").read_text(encoding="utf-8"), 0
    assert "The baseline of each board lies as far in as the *other* board's sawn end is broad, square across it." in told
    if joint.end == "flush":
        for board, other in (("tail", joint.pin_board), ("pin", joint.tail_board)):
            end = other.blank[:, 0]  # (face, rim, 3)
            arris = unit(end[0, 1] - end[0, 0])
            across = end[1, 0] - end[0, 0]
            broad = np.linalg.norm(across - (across @ arris) * arris)
            assert broad == pytest.approx(joint.corner.baseline_offset(15 if board == "tail" else 18), abs=1e-9)
            compared += 1
    assert compared == (2 if joint.end == "flush" else 0)


@every_joint
def test_held_as_in_step_6_the_shoulders_are_sawn_plumb(joint):
    """The board turned by its end line, either way up: the shoulder's plane is plumb, and holds the baselines on the edges."""
    _, _, up = held_to_the_vice(joint, "tail")
    shoulder = joint.planes["pin inner"]
    assert abs(shoulder.normal @ up) < 1e-9  # plumb the right way up; upside down `up` only changes its sign
    for line in joint.lines_on("tail", "bottom"):
        if line.kind == "baseline":
            assert np.abs(shoulder.height_of(line.ends)).max() < 1e-9
    told = " ".join(bench_step_words(joint)[8].do)
    assert "roll the board over: top edge down, the other face towards you, its end at the same hand as before" in told
    out, up = joint.corner.vector("tail_normal"), unit(up if up @ joint.corner.vector("tail_up") > 0 else -up)
    for near in (out, -out):  # as step 6 begins, or turned round
        hand, _ = as_sawn(joint, "tail", near, up)
        rolled, turn = as_sawn(joint, "tail", -near, -up, "pin inner")
        assert rolled == hand
        if abs(joint.corner.end_bevel) > 0.05:
            _, first = as_sawn(joint, "tail", near, up, "pin inner")
            above, below = (f"turn the saw's tip {abs(each):.1f}° to the {'right' if each > 0 else 'left'}"
                            for each in (first, turn))
            assert above in told.split("roll the board over")[0] and below in told.split("roll the board over")[1]
            if near is out:  # as drawn
                for frame, each in zip(frame_rows(joint, 9)[1], (first, turn), strict=True):
                    assert frame.notes[0][0] == f"saw's tip\n{abs(each):.1f}° {'right' if each > 0 else 'left'}"
        down = -joint.corner.vector("tail_up")  # up, as the board stands on its top edge
        seen = np.array([-up @ np.cross(down, -near), -up @ down])  # the end line as it stands: to the right, up
        spin = np.degrees(np.arctan2(seen[0], seen[1]))  # anticlockwise, until it is plumb
        if abs(spin) > 0.05:
            lifts = spin > 0 if hand == "left" else spin < 0  # the other end lies at the other hand
            assert f"Now {'raise' if lifts else 'lower'} the other end until the baseline is plumb" in told


@every_joint
def test_either_outer_piece_is_drawn_in_the_vice_as_it_is_sawn_off(joint):
    """On the face that is towards the maker: the baseline plumb, the end at the left, the piece between saw cut and end."""
    drawn = frame_rows(joint, 9)[1]
    assert len(drawn) == (2 if abs(joint.corner.end_bevel) > 0.05 else 0)
    for frame, face, edge, cheek, sign in zip(drawn, ("outer", "inner"), ("bottom", "top"),
                                              (Cheek(joint.tails, "upper"), Cheek(1, "lower")), (1, -1), strict=False):
        board = next(shape.points for shape in frame.shapes if shape.kind == f"tail {face}")
        low, far = board[1] - board[0], board[2] - board[3]
        tips = sign * joint.corner.tail_end_line  # the other end lowered, where the line leans away from the other end
        assert [from_upright(low), from_upright(far)] == pytest.approx([90 + tips] * 2, abs=1e-9)
        assert any(text == f"{edge} edge" for text, _ in frame.callouts) and f"{face} face,\ntowards you" in dict(
            note[:2] for note in frame.notes)
        piece = next(shape.points for shape in frame.shapes if shape.name == "piece to saw off")
        (cut,) = shapes_of(frame, "saw cut")
        assert np.ptp(cut[:, 0]) < 1e-9 and piece[1:3] == pytest.approx(cut)  # plumb
        assert piece[[0, 3], 0].max() < cut[0, 0] < board[1, 0] and piece[3] == pytest.approx(board[3])
        (steel,) = (shape.points for shape in frame.shapes if shape.kind == "steel")
        assert steel[:, 1].min() > cut[1, 1] > cut[0, 1] and abs(steel[:, 0].mean() - cut[0, 0]) < 0.1
        (line,) = (each for each in joint.lines_on("tail", face) if each.name == cheek)
        assert np.linalg.norm(piece[1] - piece[0]) == pytest.approx(np.linalg.norm(np.diff(line.ends, axis=0)))


@every_joint
def test_the_outer_waste_is_sawn_deeper_on_the_face_that_is_said(joint):
    """Where the outermost tails' sides meet the shoulders' plane on either face, the end line plumb, either way up."""
    told, compared, handles = " ".join(bench_step_words(joint)[8].do), 0, set()
    sides = (1, Cheek(joint.tails, "upper"), "The tail's side"), (-1, Cheek(1, "lower"), "Now the tail's side")
    for way, cheek, words in sides:
        _, _, up = held_to_the_vice(joint, "tail")
        up = up if up @ joint.corner.vector("tail_up") > 0 else -up
        outer, inner = (meet(joint.planes["pin inner"], joint.planes[cheek], joint.planes[f"tail {face}"])
                        for face in ("outer", "inner"))
        assert abs(joint.planes["pin inner"].normal @ up) < 1e-9
        deeper = way * float((outer - inner) @ up)  # how much further down the saw goes on the inner face
        said = re.search(rf"(?<!Now )(?<!\w){words} lies ([\d.]+) mm deeper on the (inner|outer) face: tilt the saw down "
                         r"towards that face\.", told)
        assert bool(said) == (abs(deeper) >= 0.2)
        if said:
            assert said.groups()[:2] == (f"{abs(deeper):.1f}", "inner" if deeper > 0 else "outer")
            away = "inner" if way > 0 else "outer"  # begun with the outer face towards the maker, then rolled over
            handles.add(said[2] == away)
            compared += 1
    assert len(handles) == bool(compared)  # both times raised, or both times lowered: tilted the same way
    assert compared in (0, 2) and (compared == 2) == (abs(joint.corner.tail_lean) > 0.5)


@every_joint
def test_seen_from_outside_the_tail_board_is_on_the_right(joint):
    outside = joint.corner.vector("tail_outward") + joint.corner.vector("pin_outward")
    right = np.cross([0, 0, 1], outside)  # of somebody who looks at the corner from outside
    assert level(joint, "tail") @ right > 0 > level(joint, "pin") @ right
    assert "seen from outside, the tail board is on the right" in " ".join(bench_step_words(joint)[1].do)


@every_joint
def test_the_cut_is_as_deep_as_the_longest_end_line(joint):
    deep = max(np.linalg.norm(carried_round(joint, board)["outer"][1] - carried_round(joint, board)["outer"][0])
               for board in ("tail", "pin"))
    assert f"the cut is {length(deep)} deep" in bench_step_words(joint)[5].do[0]


@every_joint
def test_the_vice_opens_as_far_as_the_wedges_ask(joint):
    """From above: the board turned by its wedges, a flat top's thickness beyond it on either side."""
    told = " ".join(bench_step_words(joint)[8].do)
    assert ("the vice opens" in told) == wedged(joint)
    if wedged(joint):
        turned = frames(joint, 9)[0]
        jaws = [shape.points for shape in turned.shapes if shape.kind == "jaw"]
        apart = min(jaws[0][:, 1].min(), jaws[1][:, 1].min()), max(jaws[0][:, 1].min(), jaws[1][:, 1].min())
        opening = apart[1] - apart[0] - np.ptp(jaws[0][:, 1])
        assert f"the vice opens {length(opening)}" in told and opening == pytest.approx(vice_opening(joint))


@every_joint
def test_as_they_were_sawn_the_wedges_fill_the_vice_between_board_and_jaws(joint):
    """From above: each back flat on its jaw, each slope flat on a face of the board, which stands straight to the cuts."""
    told = " ".join(bench_step_words(joint)[8].do)
    said = ("Lay the wedges on their broad sides, slopes against the board, and tape the opposite sides to the jaws: "
            f"the vice opens {length(vice_opening(joint))}.")
    assert (said in told) == wedged(joint)
    if not wedged(joint):
        return
    angle, high = np.radians(lean_wedge(joint)), joint.height
    far = joint.tail_board.blank[:, 1]  # (face, rim, 3)
    flat = (far - far[0, 0]) @ np.array([joint.corner.vector("tail_up"), joint.corner.vector("tail_normal")]).T
    faces = flat @ np.array([[np.cos(angle), np.sin(angle)], [-np.sin(angle), np.cos(angle)]])  # y towards the outer face's jaw
    board = shapely.Polygon([*faces[0], *faces[1, ::-1]])
    middle = (faces[..., 1].max() + faces[..., 1].min()) / 2
    sawn = wedge_side(lean_wedge(joint), high)
    along, deep = sawn[:, 1], sawn[:, 0].max() - sawn[:, 0]  # of its corners: from the thick end on, and from its back
    for face, way, place in (("outer", 1, faces[0]), ("inner", -1, faces[1])):
        thick = re.search(rf"n the {face} face (?:the wedge is thick )?at the (bottom|top) edge", told)[1]
        jaw = middle + way * vice_opening(joint) / 2
        wedge = shapely.Polygon(np.stack([place[:, 0].min() + (along if thick == "bottom" else high - along), jaw - way * deep],
                                         axis=1))
        assert wedge.intersection(board).area < 1e-3
        touching = wedge.buffer(1e-6).intersection(shapely.LineString(place)).length
        assert touching == pytest.approx(np.linalg.norm(place[1] - place[0]), rel=0.02)


@every_joint
def test_the_prop_touches_along_its_whole_length_and_carries_the_board(joint):
    """The prop's arris lies on the tail board's inner face all along, and the board's weight falls between prop and end."""
    solids, _ = scribing_scene(joint)
    named = {solid.name: solid for solid in reversed(solids)}
    pieces = [solid for solid in solids if solid.name == "tail board"]
    body = pieces[0]
    inner = next(face.corners for face in body.faces if face.kind == "tail inner")
    normal = unit(np.cross(inner[1] - inner[0], inner[2] - inner[0]))
    top = named["prop"].points[named["prop"].points[:, 2] > named["prop"].points[:, 2].max() - 1e-9]
    off = abs((top - inner[0]) @ normal)
    touching = top[off < 1e-6]
    assert len(touching) >= 2 and np.ptp(touching[:, 0]) == pytest.approx(np.ptp(top[:, 0]))  # one arris, all along
    told = " ".join(bench_step_words(joint)[9].do)
    said = re.search("the tail board rests on the prop's arris (nearer|further from) the vice", told)
    assert bool(said) == (abs(joint.corner.end_bevel) > 0.05)
    near = top[:, 1].max() if not said or said[1] == "nearer" else top[:, 1].min()  # the vice is where y is largest
    assert np.allclose(touching[:, 1], near) or not said
    assert shapely.Polygon(inner[:, :2]).buffer(1e-6).contains(shapely.MultiPoint(touching[:, :2]))
    hulls = [manifold3d.Manifold.hull_points(solid.points) for solid in pieces]
    weights = np.array([hull.volume() for hull in hulls])
    middles = np.array([solid.points.mean(axis=0) for solid in pieces])
    centre = weights @ middles / weights.sum()
    end = joint_end(joint)
    held = shapely.MultiPoint([*touching[:, :2], *end[:, :2]]).convex_hull
    assert held.contains(shapely.Point(centre[:2]))


@every_joint
def test_the_prop_is_as_tall_and_stands_where_it_is_said(joint):
    told, named = " ".join(bench_step_words(joint)[9].do), {solid.name: solid for solid in reversed(scribing_scene(joint)[0])}
    end, prop, jaw, slab = joint_end(joint), named["prop"].points, named["jaw"].points, named["bench top"].points
    assert f"the prop is {length(np.ptp(prop[:, 2]))} tall" in told and prop_height(joint) == pytest.approx(np.ptp(prop[:, 2]))
    assert prop[:, 2].min() == pytest.approx(slab[:, 2].max()) == pytest.approx(jaw[:, 2].max())
    inner, outer = end[:, 1].min(), end[abs(end[:, 1]) < 1e-9, 2]
    assert f"{inner - prop[:, 1].max():.0f} mm from the pin board" in told and np.ptp(outer) < 1e-9
    assert f"outer arris stand {outer[0] - jaw[:, 2].max():.0f} mm above the jaws" in told
    tails = np.concatenate([solid.points for solid in scribing_scene(joint)[0] if solid.name == "tail board"])
    assert tails[:, 2].min() > slab[:, 2].max()  # the tail board clears the bench
    row = next(row for row in stock(joint) if row[0].startswith("prop"))
    long, tall = (float(size.removesuffix(" mm")) for size in row[1:3])
    assert long <= np.ptp(prop[:, 0]) + 10 and prop_height(joint) + 3 <= tall < prop_height(joint) + 13


@every_joint
def test_the_stop_stands_as_high_as_the_tails_and_its_clamps_find_room(joint):
    solids, told = scribing_scene(joint)[0], " ".join(bench_step_words(joint)[9].do)
    stops = [solid.points for solid in solids if solid.name == "stop"]
    assert bool(stops) == (packing(joint) < 0.05) == ("straight stop" in told)
    assert any(row[0].startswith("stop") for row in stock(joint)) == bool(stops)
    if not stops:
        return
    (stop,), top = stops, joint_end(joint)[:, 2].max()
    tails = np.concatenate([solid.points for solid in solids if solid.name == "tail board"])
    touching = tails[abs(tails[:, 1]) < 1e-6]  # the tails' ends, in the plane of the pin board's outer face
    top = joint_end(joint)[abs(joint_end(joint)[:, 1]) < 1e-9, 2].max()
    above = stop[:, 2].max() - top
    assert touching[:, 2].max() <= stop[:, 2].max() + 1e-6 < touching[:, 2].max() + 5
    assert f"{above:.0f} mm of the stop above the end" in told and stop[:, 1].min() == pytest.approx(0, abs=1e-9)
    assert stop[:, 0].min() < touching[:, 0].min() and touching[:, 0].max() < stop[:, 0].max()
    size = [float(side.removesuffix(" mm")) for side in next(row for row in stock(joint) if row[0].startswith("stop"))[1:]]
    assert abs(size[0] - np.ptp(stop[:, 0])) <= 10
    assert size[1:] == pytest.approx([np.ptp(stop[:, 2]), np.ptp(stop[:, 1])])
    clamps = [solid.points for solid in solids if solid.name == "stop clamp"]
    pin = next(solid for solid in solids if solid.name == "pin board").points
    behind = [clamp for clamp in clamps if clamp[:, 1].max() == pytest.approx(pin[:, 1].min())]
    before = [clamp for clamp in clamps if clamp[:, 1].min() == pytest.approx(stop[:, 1].max())]
    assert len(clamps) == 6 and len(behind) == len(before) == 2  # a jaw on either side, at each edge
    for clamp in clamps:
        assert clamp[:, 2].max() < tails[:, 2].min() or clamp[:, 2].max() < top


@every_joint
def test_the_tail_board_lies_askew_to_the_side_that_is_said(joint):
    """As it lies for scribing: seen by the one who stands before the vice, the pin board's outer face towards them."""
    told, turn = " ".join(bench_step_words(joint)[9].do), end_up(joint, "pin")
    back = turn @ level(joint, "tail")  # from the corner towards the board's far end; y is out of the pin board's outer face
    right = np.cross([0, -1, 0], [0, 0, 1]) @ back  # they look along −y
    said = re.search(r"askew, because its end line slants: as you face vice and bench, its far end lies "
                     r"([\d.]+)° to your (right|left)\.", told)
    assert bool(said) == (abs(joint.corner.tail_end_line) > 0.05)
    slopes = re.search(r"Straight back from the vice the board (rises|drops) ([\d.]+) mm in 100 mm\.", told)
    assert bool(slopes) == (abs(joint.corner.end_bevel) > 0.05 and packing(joint) < 0.05)
    if slopes:  # its underside: over each step straight back, −y
        across, out, height = turn @ joint.planes["tail inner"].normal
        assert across == pytest.approx(0, abs=1e-9) and (out / height > 0) == (slopes[1] == "rises") == (back[2] > 0)
        assert float(slopes[2]) == pytest.approx(abs(100 * out / height), abs=0.06)
    if said:
        inner = turn @ joint.planes["tail inner"].normal
        square = np.cross(inner, [1, 0, 0])  # on the tail board's inner face, square to the pin board's sawn end
        off = np.degrees(np.arccos(abs(unit(square) @ back)))
        assert float(said[1]) == pytest.approx(off, abs=0.06) and said[2] == ("right" if right > 0 else "left")


@every_joint
def test_the_wood_hangs_over_the_line_where_the_knife_must_lean(joint):
    """Above a place just outside the tail's line on the inner face lies the tail's own wood."""
    told, sides = " ".join(bench_step_words(joint)[9].do), {}
    wood = solid(joint.tail_board.mesh())
    up, out = joint.corner.vector("tail_up"), joint.corner.vector("tail_normal")
    for side, way in (("lower", -1), ("upper", 1)):
        line = next(each.ends for each in joint.lines_on("tail", "inner") if each.kind == "cheek" and each.side == side)
        probe = line.mean(axis=0) + 0.005 * way * up + out  # a little outside, and 1 mm up
        sides[side] = (wood ^ manifold3d.Manifold.cube((0.002, 0.002, 0.002), True).translate(probe)).volume() > 0
    said = re.search("tail's side( nearer the (top|bottom) edge)? the wood hangs over", told)
    named = {"bottom": {"lower"}, "top": {"upper"}, None: {"lower", "upper"}}[said[2]] if said else set()
    assert named == {side for side, over in sides.items() if over}
    assert len(named) == (abs(joint.corner.tail_lean) > 0.5) or joint.corner.plan_angle != 90


@every_joint
def test_the_scribed_lines_slant_as_said(joint):
    """On the pin board's end laid flat: how each pin's side stands to square, and whether the two stand to one side of it."""
    told, end = " ".join(bench_step_words(joint)[10].do), joint.planes["pin end"].normal
    along = unit(np.cross(joint.planes["pin outer"].normal, end))
    through = unit(np.cross(end, along))
    slants = []
    for side in ("lower", "upper"):
        way = next(each.ends[1] - each.ends[0] for each in joint.lines_on("pin", "end") if each.side == side)
        slants.append(np.degrees(np.arctan((way @ along) / (way @ through))))
    low, high = sorted(slants, key=abs)
    mirrored = abs(low + high) < 0.05
    said = re.search(r"These lines slant (all the same way|more one way than the other), as they should", told)
    assert bool(said) != mirrored
    assert not said or (said[1] == "all the same way") == (low * high > 0)


@every_joint
def test_a_clamp_reaches_the_prop_from_the_bench_s_end(joint):
    """Its bar stands off the bench's end; its arms lie over the tail board and under the bench, and no wider than is said."""
    solids = scribing_scene(joint)[0]
    named = {solid.name: solid.points for solid in reversed(solids)}
    bar, under, over = (solid.points for solid in solids if solid.name == "clamp")
    screw, slab, prop = named["screw"], named["bench top"], named["prop"]
    assert bar[:, 0].min() >= slab[:, 0].max() and slab[:, 1].min() < min(bar[:, 1].min(), prop[:, 1].min()) - 20
    assert under[:, 2].max() == pytest.approx(slab[:, 2].min()) and screw[:, 2].max() == pytest.approx(over[:, 2].min())
    for axis in (0, 1):  # the screw presses over the prop
        assert prop[:, axis].min() < screw[:, axis].min() and screw[:, axis].max() < prop[:, axis].max()
    assert screw[:, 2].min() - slab[:, 2].max() <= opens(joint)[1] + 1e-6


@every_joint
def test_clamps_and_vice_open_as_far_as_the_sheet_says(joint):
    across, over = opens(joint)
    held = [np.ptp(np.concatenate([section(joint, board)[0], *held_by(joint, board).values()])[:, 0])
            for board in ("tail", "pin")]
    assert across >= max(held) - 1e-6 and over >= joint.height
    assert across == pytest.approx(max(*held, vice_opening(joint)) if wedged(joint) else max(held))


@every_joint
def test_a_pencil_on_its_block_reaches_every_mark(joint):
    """A pencil 7 mm thick on the block reaches the lowest mark without scraps, and on a block 1 mm thicker it doesn't."""
    thick, told = pencil_block(joint), bench_step_words(joint)[7].spoken
    said = re.search(r"Lay a pencil on a flat block no thicker than (\d+) mm", told)
    assert bool(thick) == bool(said) and (not said or int(said[1]) == thick)
    marks = [line.ends[np.argmin(abs(joint.planes["tail outer"].height_of(line.ends))), 2]
             for line in joint.lines_on("tail", "end") if line.kind == "cheek"]
    assert len(marks) == 4 and (not thick or thick + 3.5 <= min(marks) < thick + 4.5)
    if thick:  # in the drawing the block and its scraps hold the pencil's middle at the mark
        drawn = frames(joint, 8)[1]
        named = [shape.name for shape in drawn.shapes]
        assert "block" in named and ("scrap" in named) == any("scraps" in text for text, _ in drawn.callouts)


@every_joint
def test_a_square_on_the_bench_lies_against_an_upright_board(joint):
    """Where a sentence says so the outer face is plumb, and where it says nothing the face leans."""
    told = bench_step_words(joint)[1].check
    said = re.search(r"Stand a square on the bench against (each|the tail|the pin) board's outer face: no light", told)
    for board in ("tail", "pin"):
        outer = abs(joint.planes[f"{board} outer"].normal[2]) < 1e-9
        assert outer == bool(said and said[1] in ("each", f"the {board}"))


def test_every_number_of_the_sheet_is_for_its_thickness():
    """Half a millimetre less changes the gauged line, the baseline and the prop."""
    thick, thin = (" ".join(step.spoken for step in bench_step_words(Joint(Corner(30, 30), 100, size, tails=2)))
                   for size in (18, 17.5))
    for said in ("scribe a line ([\\d.]+)", "two places: ([\\d.]+)", "the prop is ([\\d.]+)", "each board is ([\\d.]+)"):
        assert re.search(said, thick)[1] != re.search(said, thin)[1]


@every_joint
def test_a_baseline_too_far_in_leaves_the_tails_proud(joint):
    """The tail board stops with its shoulders at the pin board's inner face: its ends go as much further out."""
    inner, along = joint.planes["pin inner"], level(joint, "tail")
    end = joint.tail_board.blank[:, 0].reshape(-1, 3)
    for further in (1.0, -1.0):
        moved = end - further / abs(inner.normal @ along) * along  # pushed until the shoulder, so much further in, touches
        out = joint.planes["pin outer"].height_of(moved) - joint.planes["pin outer"].height_of(end)
        assert np.sign(out).tolist() == [np.sign(further)] * len(out)


def joint_end(joint):
    """The corners of the pin board's sawn end, in the vice's axes."""
    return (joint.pin_board.blank[:, 0] @ end_up(joint, "pin").T).reshape(-1, 3)


# 8 to 11


@every_joint
@pytest.mark.parametrize("board", ["tail", "pin"])
def test_shoulders_stand_out_of_square_as_said(joint, board):
    other = "pin" if board == "tail" else "tail"
    shoulder, face = joint.planes[f"{other} inner"].normal, joint.planes[f"{board} outer"].normal
    off = abs(90 - np.degrees(np.arccos(shoulder @ face)))
    nine, eleven = (" ".join(bench_step_words(joint)[number].do) for number in (8, 10))
    if off > 0.05:
        slanted = f"{off:.1f}° out of square to the face ({offset(off)})"
        assert ("parallel to the sawn end: the bevel of step 6" if joint.end == "flush" else slanted) in nine
        assert re.search(rf"[Tt](ilt the chisel|he chisel then tilts) {off:.1f}°", nine)
        end = joint.planes[f"{board} end"].normal
        assert (np.linalg.norm(np.cross(end, shoulder)) < 1e-9) == (joint.end == "flush")
        assert "on each shoulder, its stock on the outer face, shows" in bench_step_words(joint)[8].check  # as on the end
        assert (f"{off:.1f}°, parallel to the sawn end" if joint.end == "flush" else f"{off:.1f}° ({offset(off)})") in nine
    else:
        assert "out of square" not in nine and "ilt the chisel" not in nine and "the sawn end" not in nine + eleven
    cheeks = [corners for name, corners in joint.tail_board.faces if name.endswith("cheek")]
    for corners in cheeks:  # each is flat, and ends on both baselines
        assert sum(abs(joint.planes["pin inner"].height_of(corners)) < 1e-9) == 2
        assert abs(np.linalg.det(corners[1:] - corners[0])) < 1e-6
    assert len(cheeks) == 4


@pytest.mark.parametrize("joint", [*JOINTS, *SQUARE_RIMS, Joint(Corner(16, 11), 100, 18, tails=1)],
                         ids=lambda joint: f"{joint.corner}-{joint.end}-{joint.rims}-{joint.tails}")
def test_chopping_is_told_whole_where_the_chisel_is_first_wanted(joint):
    """In step 9 where waste lies between tails, else in step 11: the hold, the way, the tilt and the caution, once."""
    nine, eleven = bench_step_words(joint)[8], bench_step_words(joint)[10]
    first = nine if joint.tails > 1 else eleven
    whole = " ".join(first.do)
    between = "tails" if joint.tails > 1 else "pins"
    assert f"Clamp the board flat on the bench, and chop out the waste between the {between}" in whole
    assert f"{nine.spoken} {eleven.spoken}".count("Chop to the baselines, half way through from each face.") == 1
    assert len(re.findall("Hold the chisel|Tilt the chisel", f"{nine.spoken} {eleven.spoken}")) == 1
    assert "Chop with both hands behind the cutting edge." in first.caution and "Chop with both hands" in eleven.caution
    likewise = "chop out the waste between the pins as in step 9"
    assert (likewise in " ".join(eleven.do)) == (joint.tails > 1) == ("hop out" in nine.spoken)
    if joint.tails > 1:  # where the chisel is drawn
        for number in (9, 11):
            assert any(shape.name == "chisel" for frame in frames(joint, number) for shape in frame.shapes)


@every_joint
def test_what_holds_the_tail_board_is_nowhere_in_the_pin_board_s_way(joint):
    """Wedges or block at the tail board's far end; the pin board from clear of the tails until it is home."""
    told = " ".join(bench_step_words(joint)[10].do)
    holds = "between its wedges" if len(held_by(joint, "tail")) == 2 else "to its block"
    assert f"clamp the tail board as in step 2, {holds}" in told
    held = [manifold3d.Manifold.hull_points(solid.points) for solid in pair(joint, "tail", joint.tail_board.blank)]
    assert held and min(each.volume() for each in held) > 1e4
    for way in np.linspace(0, scribing_shift(joint) + 5, 6):
        wood = solid(joint.pin_board.moved(way).mesh())
        assert wood.volume() > 1e4 and max((wood ^ each).volume() for each in held) < 1e-6


def chisels(joint, board):
    """(side of the waste, its cheek, where the chisel starts, and unit (3,) up its blade) from the lines on a board's faces.

    The chisel starts on the outer face's baseline, and follows baselines' plane and sawn side.
    """
    shoulder = joint.planes[f"{'pin' if board == 'tail' else 'tail'} inner"]
    between = ((1, "upper"), (2, "lower")) if board == "tail" else ((1, "lower"), (1, "upper"))
    for side, cheek in zip(("lower", "upper"), itertools.starmap(Cheek, between), strict=True):
        if joint.tails > 1 or board == "pin":
            ends = [next(each.ends for each in joint.lines_on(board, face) if each.name == cheek)
                    for face in ("outer", "inner")]
            outer, inner = (each[np.argmin(abs(shoulder.height_of(each)))] for each in ends)
            yield side, cheek, outer, unit(outer - inner)


@every_joint
def test_the_chisel_leans_over_as_said_on_either_face(joint):
    """A handle that follows shoulder and saw cut, against the words, on both boards and faces."""
    nine, eleven = (" ".join(bench_step_words(joint)[number].do) for number in (8, 10))
    leans = r"On the outer face the chisel's handle leans ([^,]*), on the inner face ([^.]*)\."
    over = "On the outer face the handle then leans over each pin, on the inner face away from each pin." in eleven
    up = unit(joint.corner.vector("corner_line"))
    outwards = [along @ up * (1 if side == "upper" else -1) for side, _, _, along in chisels(joint, "pin")]
    assert over == (min(outwards) * joint.pin_thickness / 2 > 0.2)
    compared = 0
    for board, told in (("tail", nine), ("pin", eleven)):
        words = said.groups() if (said := re.search(leans, told)) else ("", "")
        into = level(joint, board) - (level(joint, board) @ up) * up  # away from the end line, square to it
        found = [along for *_, along in chisels(joint, board)]
        for said, handles in zip(words, (found, [-each for each in found]), strict=True):
            half = joint.thickness(board) / 2
            climbs = [each @ up * half / abs(each @ joint.planes[f"{board} outer"].normal) for each in handles]
            edges = {"top" if each > 0 else "bottom" for each in climbs if abs(each) >= 0.2}
            for edge in ("top", "bottom"):
                assert (f"towards the {edge} edge" in said) == (edges == {edge}), (board, said)
            if "the end" in said:
                assert {"away from" if each @ into > 0 else "towards" for each in handles} == {said.partition(" the end")[0]}
                compared += 1
            compared += 2
    alike = chisel_leans(joint, "tail") == chisel_leans(joint, "pin")
    assert compared == (8 if abs(joint.corner.end_bevel) < 0.05 else 12 if alike else 10)


@every_joint
@pytest.mark.parametrize("board", ["tail", "pin"])
def test_a_chisel_held_as_said_follows_shoulder_and_saw_cut(joint, board):
    """A thin blade, half way in from either face, along the line on the end, touches no wood that stays; upright it would."""
    nine, eleven = (" ".join(bench_step_words(joint)[number].do) for number in (8, 10))
    told = nine if board == "tail" else eleven
    line = {"tail": "parallel to the lines of step 8 across the end",
            "pin": "parallel to each side's line across the end"}[board] in told
    wood = solid((joint.tail_board if board == "tail" else joint.pin_board).mesh())
    compared, kept = 0, False
    shoulder, face = joint.planes[f"{'pin' if board == 'tail' else 'tail'} inner"], joint.planes[f"{board} outer"]
    up = unit(joint.corner.vector("corner_line"))
    out = shoulder.normal * (1 if shoulder.normal @ level(joint, board) < 0 else -1)  # towards the board's end
    upright = np.cross(up, shoulder.normal)
    upright = unit(upright * np.sign(upright @ face.normal))
    for side, cheek, outer, along in chisels(joint, board):
        across = next(each.ends for each in joint.lines_on(board, "end") if each.name == cheek)
        if line:
            assert np.linalg.norm(np.cross(unit(across[1] - across[0]), along)) < 1e-9
        beside = (1 if side == "lower" else -1) * up  # into the waste
        through = joint.thickness(board) / (along @ face.normal)
        for way, start in ((along, outer), (-along, outer - through * along)):
            held = way if line or "sideways" in told else upright * np.sign(upright @ way)
            for tool, follows in ((held, True), (upright * np.sign(upright @ way), False)):
                deep = through / 2 * abs(along @ face.normal) / abs(tool @ face.normal)
                blade = np.array([start + at * beside - far * tool + off * out
                                  for at in (0.05, 2.0) for far in (0.0, deep) for off in (0.01, 0.05)])
                hit = (wood ^ manifold3d.Manifold.hull_points(blade)).volume()
                assert not follows or hit < 1e-6, (side, hit)
                kept |= hit > 1e-6
                compared += 1
    assert compared == (8 if joint.tails > 1 or board == "pin" else 0)
    assert kept == bool(chisel_leans(joint, board)) or not compared


@every_joint
def test_for_scribing_the_tail_board_rises_as_said(joint):
    normal = end_up(joint, "pin") @ joint.planes["tail inner"].normal
    assert abs(normal[0]) < 1e-9  # level along the pin board's end
    rise = normal[1] / normal[2]  # towards the far end, which lies where y is less
    told, drawn = " ".join(bench_step_words(joint)[9].do), [text for text, _ in frames(joint, 10)[1].callouts]
    way = "lies level" if abs(rise) < 1e-6 else f"{'rises' if rise > 0 else 'drops'} {100 * abs(rise):.1f} mm\nin 100 mm"
    assert way in drawn
    assert ("packing" in told) == (packing(joint) > 0.05)


@every_joint
def test_the_pins_sides_run_parallel_to_the_bottom_edge(joint):
    compared, told = 0, " ".join(bench_step_words(joint)[9].do)
    for face in ("outer", "inner"):
        for line in joint.lines_on("pin", face):
            if line.kind == "cheek":
                assert np.cross(unit(line.ends[1] - line.ends[0]), level(joint, "pin")) == pytest.approx(np.zeros(3), abs=1e-9)
                across = line.ends[1] - line.ends[0]
                end = joint.planes["pin end"].normal
                along_end = unit(np.cross(joint.planes[f"pin {face}"].normal, end))
                setting = 90 - np.degrees(np.arccos(abs(unit(across) @ along_end)))  # from square to the sawn end
                assert setting == pytest.approx(abs(joint.corner.pin_end_line), abs=1e-9) and (
                    f"Use the bevel at {offset(setting)}" if setting > 0.05 else "Use a square") in told
                compared += 1
    assert compared == 8


def tipped_overlap(joint, degrees):
    """mm³ that the boards share when the pin board, half way in, is tipped about the level line square to its way."""
    half = joint.pin_board.moved(0.4 * joint.pin_thickness)
    vertices, triangles = half.mesh()
    way = joint.corner.vector("pin_level")
    turn = Rotation.from_rotvec(np.radians(degrees) * unit(np.cross(way, [0, 0, 1])))
    middle = half.blank[:, 0].mean(axis=(0, 1))
    tail, pin = solid(joint.tail_board.mesh()), solid((turn.apply(vertices - middle) + middle, triangles))
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


@every_joint
def test_together_the_corner_stands_as_its_propped_boards_did(joint):
    """Pushed home, off its wedges: both bottom edges on the bench, square and card measured over the solids' own arrises."""
    check, reads, feet = bench_step_words(joint)[10].check, {}, {}
    for board, cut in (("tail", joint.tail_board), ("pin", joint.pin_board)):
        bottom, top = cut.blank[..., 0, :], cut.blank[..., 1, :]  # by face (outer, inner) and end
        assert abs(bottom[..., 2]).max() < 1e-9  # stands all along both arrises
        feet[board] = unit(np.ptp(bottom[1], axis=0) * np.sign(bottom[1, 1] - bottom[1, 0]))
        out = joint.corner.vector(f"{board}_normal")
        out = unit(out - out[2] * np.array([0, 0, 1.0]))  # level, square to the board
        over = 0 if joint.planes[f"{board} outer"].normal[2] < 0 else 1
        reads[board] = abs(float((top[over, 0] - bottom[over, 0]) @ out))
    freed = "Now free the tail board. The corner doesn't rock. The card, laid as in step 2, shows no light wider than 0.2 mm"
    assert f"{freed} beside it." in check
    leans = f"from a square's blade at the top to the bottom arris {length(reads['pin'])}, within 0.5 mm"
    pin = leans if reads["pin"] > 0.1 else "a square at its outer face shows no light wider than 0.2 mm"
    assert f"With the tail board clamped, measure the pin board as in step 2: {pin}" in check
    lean = np.radians(joint.corner.tail_lean)
    assert reads["tail"] == pytest.approx(joint.height * abs(np.tan(lean)))  # as its wedges hold it
    plan = np.degrees(np.arccos(feet["tail"] @ feet["pin"]))
    assert plan == pytest.approx(joint.corner.plan_angle)  # the card's corner


@every_joint
def test_together_the_ends_touch_nothing_and_the_shoulders_lie_against_the_other_board(joint):
    """Where each board's sawn end comes out, and where its shoulders are, against the other's two faces."""
    assert "feeler goes in at no shoulder; in a trial corner it may beside a pin." in bench_step_words(joint)[10].check
    for board, other, cut in (("tail", "pin", joint.tail_board), ("pin", "tail", joint.pin_board)):
        away, into = joint.planes[f"{other} outer"], joint.planes[f"{other} inner"]
        beyond = away.height_of(cut.blank[:, 0].reshape(-1, 3))
        assert beyond.min() > -1e-6  # flush with the outer face, or proud: nothing is there to touch
        shoulders = [corners for name, corners in cut.faces if abs(into.height_of(corners)).max() < 1e-6]
        assert shoulders, board
    told = dict(gapes_table(joint).rows)
    inside, outside = (told[f"A shoulder gapes {where}, the same at top and bottom"] for where in ("inside", "outside"))
    assert "touches near its own board's outer face. Pare the shoulder there, " in inside
    assert "touches near its own board's inner face. Find and pare that shoulder as for a gap inside." in outside


# The drawings of sawn ends


def shapes_of(frame, name):
    return [shape.points for shape in frame.shapes if shape.name == name]


def from_upright(way):
    return float(np.degrees(np.arctan2(way[0], way[1])))


@every_joint
def test_the_drawn_cuts_stand_as_the_solid_s_do(joint):
    tilt = joint.corner.end_bevel if joint.end == "flush" else 0.0  # true, not enlarged
    in_vice, *from_above = (frame for frame in itertools.chain(*frame_rows(joint, 6)) if not frame.caption.startswith("Check"))
    (end_line,) = shapes_of(in_vice, "end line")
    (which, board), *_ = [(shape.kind.split()[0], shape.points) for shape in in_vice.shapes if shape.kind.endswith("outer")]
    assert (which == "pin") == (abs(joint.corner.tail_end_line) < 0.05 < abs(joint.corner.pin_end_line))
    assert abs(end_line[1, 0] - end_line[0, 0]) < 1e-9  # plumb
    assert abs(from_upright(board[1] - board[0])) - 90 == pytest.approx(joint.corner.end_line(which), abs=1e-9)
    assert len(from_above) == (4 if abs(tilt) > 0.05 else 1)
    # the pin board's end is a mirror image, at the right; turned round, its inner face nearer, each has it at the other hand
    held = zip(from_above, (1, -1, 1, -1), ("outer", "outer", "inner", "inner"), (-1, 1, 1, -1), strict=False)
    for frame, way, near, hand in held:
        (cut,) = shapes_of(frame, "saw cut")
        front, back = cut[np.argsort(cut[:, 1])]
        assert from_upright(back - front) == pytest.approx(-way * tilt, abs=1e-9)
        wood = next(shape.points for shape in frame.shapes if shape.kind.endswith(" wood"))
        assert np.sign(cut.mean(axis=0)[0] - wood.mean(axis=0)[0]) == hand
        heel, tip = next(shape.points for shape in frame.shapes if shape.kind == "steel")[:2]
        assert abs(np.linalg.det([unit(tip - heel), unit(back - front)])) < 1e-9  # the blade lies along the cut
        assert heel[1] < front[1] - 20 < back[1] < tip[1] < back[1] + 15  # it comes from whoever saws
        said = re.search("saw's tip\n([\\d.]+)° (left|right)", "\n".join(text for text, *_ in frame.notes))
        assert bool(said) == (abs(tilt) > 0.05)
        if said:
            assert (said[2] == "left") == (back[0] < front[0]) and float(said[1]) == pytest.approx(abs(tilt), abs=0.051)
            ((faces, at, _),) = (note for note in frame.notes if note[2] == "below")
            assert faces == f"{near} face,\ntowards you" and at[1] == pytest.approx(front[1])
    turned = frames(joint, 9)[0]
    wood = next(shape.points for shape in turned.shapes if shape.kind == "tail end")
    assert from_upright(wood[0] - wood[1]) - 90 == pytest.approx(lean_wedge(joint), abs=1e-9)
    if joint.corner.plan_angle == 90:  # a ripped edge then lies straight across, as the cuts do
        assert abs(wood[0, 0] - wood[3, 0]) < 1e-9
    cuts = shapes_of(turned, "saw cut")
    assert len(cuts) == 4 and all(abs(cut[1, 0] - cut[0, 0]) < 1e-9 for cut in cuts)


@every_joint
def test_the_drawn_chisel_is_parallel_to_the_line_on_the_end_where_it_is_said(joint):
    """Seen from one side all parallel lines are parallel; beside a square end's line, which isn't, the saw cut is named."""
    for number, board in ((9, "tail"), (11, "pin")):
        (drawn,) = (frame for frame in frames(joint, number) if frame.caption == f"{board.capitalize()} board, outer face up")
        (line,) = (shape.points for shape in drawn.shapes if shape.kind == "end line")
        sides = [shape.points for shape in drawn.shapes if shape.name == "chisel" and shape.kind == "edge"]
        along = [abs(np.linalg.det([unit(side[1] - side[0]), unit(line[1] - line[0])])) < 1e-9 for side in sides]
        parallel = joint.end == "flush" or abs(joint.corner.end_bevel) < 0.05
        assert len(sides) >= 6 and any(along) == parallel
        named = {"line\nacross\nthe end" if parallel else "saw cut"}
        assert {text for text, _ in drawn.callouts} - {"chisel", "waste"} == named
        (lower,) = (shape.points for shape in drawn.shapes if (shape.name, shape.kind) == ("line across the end", "cheek"))
        arrow = "→" if line.mean(axis=0)[0] > lower.mean(axis=0)[0] else "←"  # from the waste's lower side to its upper one
        assert [text for text, *_ in drawn.notes] == [f"top edge\n{arrow}"]


@every_joint
def test_seen_from_the_side_the_scribing_is_its_solids_outlines(joint):
    solids, _ = scribing_scene(joint)
    side, compared = frames(joint, 10)[1], 0
    for body in solids:
        hull = shapely.MultiPoint(body.points[:, 1:]).convex_hull
        outlines = [shapely.Polygon(points) for points in shapes_of(side, body.name) if len(points) > 3]
        assert min(outline.symmetric_difference(hull).area for outline in outlines) < 1e-6
        compared += 1
    assert compared == len(solids) >= 12
    clamp = [solid for solid in solids if solid.name in ("clamp", "screw")]
    assert len(clamp) == 4 and {"prop", "bench top"} <= {solid.name for solid in solids}


# When the dry fit gapes


@pytest.mark.parametrize("lean", [30, 11, -11, -30])
@pytest.mark.parametrize("error", [1.0, -1.0])
def test_an_end_gapes_where_its_line_leaves_the_board_short(lean, error):
    """Pushed along until it touches the true line, the board whose line is wrong opens at one of its two ends."""
    true = Corner(20, lean).tail_end_line
    cut = true + error * np.sign(true)  # error > 0: further from square
    head = 100 * (np.tan(np.radians(cut)) - np.tan(np.radians(true)))  # how far its end reaches beyond the true line
    foot = 0.0
    where = "bottom" if foot < head else "top"
    rows = {re.search("gapes at the (top|bottom)", row[0])[1]: row[1] for row in gapes_table().rows if "gapes at" in row[0]}
    pattern = "slants too (much|little); if the board is longer at the bottom, too (much|little)"
    usual, reversed_ = re.search(pattern, rows[where]).groups()
    assert (usual if true > 0 else reversed_) == ("much" if error > 0 else "little")
    own = dict(gapes_table(Joint(Corner(np.sign(lean) * 20, lean), 100, 18, tails=2)).rows)  # both end lines of one sign
    told = next(cure for seen, cure in own.items() if f"gapes at the {where}" in seen)
    assert f"end line slants too {'much' if error > 0 else 'little'}. " in told and "longer at the bottom" not in told


@every_joint
def test_a_saw_turned_too_far_or_too_little_gapes_on_the_side_that_is_said(joint):
    """A shoulder a degree off the true one, pushed along its board until it touches the other's inner face."""
    bevel, told = joint.corner.end_bevel, dict(gapes_table(joint).rows)
    inner = joint.planes["tail inner"]
    along, _, _ = held_to_the_vice(joint, "pin")
    through = joint.corner.vector("pin_normal") * -joint.pin_thickness  # from the outer arris to the inner one
    for error in (1.0, -1.0):
        sawn = abs(bevel) + error
        longer = np.sign(bevel) * joint.pin_thickness * np.tan(np.radians(sawn))  # longer on the inner face by so much
        arrises = np.array([np.zeros(3), through - longer * along])
        off = inner.height_of(arrises) / (inner.normal @ along)  # how far each stands back from the face, along the board
        off -= off.min()
        seen = "outside" if off[0] > off[1] else "inside"
        said = re.search("is(n't)? cut (?:too far|far enough) out of square",
                         told[f"A shoulder gapes {seen}, the same at top and bottom"])
        assert bool(said) == (abs(bevel) > 0.05)
        assert not said or (said[1] is None) == (error > 0)


def test_notebook_05_lists_the_steps_by_their_titles():
    cells = nbformat.read(Path(__file__).parents[2] / "notebooks" / "05_cut_a_trial_corner.ipynb", 4).cells
    listed = next(cell.source for cell in cells if cell.source.startswith("## The eleven steps"))
    titles = [f"{step.number}. {step.title}" for step in bench_step_words(JOINTS[0])]
    assert re.findall(r"^\d+\. .*$", listed, re.MULTILINE) == titles
    held = next(cell.source for cell in cells if "how each board is held" in cell.source)
    told = {number: " ".join(bench_step_words(JOINTS[0])[number - 1].do) for number in (6, 9, 10, 11)}
    for number, words in ((6, "in the vice, bottom edge down, its face plumb"), (9, "end up, its bottom edge plumb"),
                          (10, "end up in the vice, its outer face away from the bench"),
                          (11, "end up, its bottom edge plumb")):
        row = next(line for line in held.splitlines() if line.startswith(f"| {number} "))
        assert words in told[number] and words.split(",")[0].removesuffix(" in the vice") in row


def test_each_part_of_a_step_begins_with_words_that_are_bold():
    """Every listed beginning is said of some joint, once in its step, at the beginning of a sentence; never of the step."""
    met = set()
    for joint in JOINTS:
        for step in bench_step_words(joint):
            for words in step.begins:
                met.add((step.number, words.rstrip(".,:")))
                before, *after = step.spoken.split(words)
                assert len(after) == 1 and re.search(r"[.:] $", before), (step.number, words)
                assert before != f"{step.number}. {step.title}. "
    assert met == {(number, words) for number, each in _BEGINS.items() for words in each} and len(met) > 30


@pytest.mark.parametrize(("thickness", "tails"), [(12, 2), (18, 3), (25, 1)])
def test_notebook_05_shares_out_other_wood_as_the_joint_does(thickness, tails):
    """Half the thickness at each edge, as much between two tails, the rest in equal parts; sides 10 in 60 from a level line."""
    told = (Path(__file__).parents[2] / "notebooks" / "05_cut_a_trial_corner.ipynb").read_text(encoding="utf-8")
    assert "leave half the stock's thickness at each edge, and as much between two tails" in told
    assert "10 mm up or down in 60 mm of a level line" in told
    joint = Joint(Corner(30, 30), 100, thickness, tails=tails)
    low, high = joint.marks.T
    assert [low[0], joint.slant_width - high[-1], *(low[1:] - high[:-1])] == pytest.approx([thickness / 2] * (tails + 1))
    assert high - low == pytest.approx((high - low)[0])
    cheeks = [line.flat[1] - line.flat[0] for line in joint.lines_on("tail", "outer") if line.kind == "cheek"]
    assert [abs(y / x) for x, y in cheeks] == pytest.approx([10 / 60] * 2 * tails)


@every_joint
def test_the_saw_is_drawn_deeper_on_the_face_that_the_sentence_says(joint):
    """Above the last tail the saw lies on the tail's side, which is as much deeper on one face as is written there.

    Rolled over, as much deeper on the other face: one drawing serves both, whichever face is towards the maker.
    """
    told, rolled = " ".join(bench_step_words(joint)[8].do).split("For the piece below")
    said, again = (re.search(f"{side} lies ([\\d.]+ mm) deeper on the (inner|outer) face: tilt the saw down towards that "
                             "face", words) for side, words in (("The tail's side", told), ("Now the tail's side", rolled)))
    drawn = [frame for frame in frames(joint, 9) if frame.caption == "Saw off the outer pieces"]
    assert len(drawn) == bool(said) == bool(again)
    if said:
        saw = next(shape.points for shape in drawn[0].shapes if shape.name == "saw")
        tail = next(shape.points for shape in drawn[0].shapes if shape.name == "tail")
        assert np.linalg.det(np.stack([saw[1] - saw[0], tail[2] - tail[1]])) == pytest.approx(0, abs=1e-6)
        assert length(tail[1, 1] - tail[2, 1]) == said[1] and saw[0, 1] > saw[1, 1] and tail[2, 0] > tail[1, 0]
        assert (again[1], {said[2], again[2]}) == (said[1], {"inner", "outer"})
        (along, high) = dict(drawn[0].callouts)[said[1]]  # beside the lower arris
        assert along > tail[2, 0] and tail[2, 1] < high < tail[1, 1]
        ((note, below, _),) = drawn[0].notes
        assert note == f"deeper: first\n{said[2]} face,\nthen {again[2]} face" and below[0] == pytest.approx(tail[2, 0])
