"""Every sentence on the board, corner, job and drawer sheets: which test simulates it, or why there is nothing to simulate.

A sentence that no row of the list knows fails here, so that a new one gets its test.
"""

import re
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from boxes import LOCKER, LOCKERS, MIXED, UNLIKE, leaning
from sheets import labels
from splaywork.box.box import Bottom, Box, JointSettings
from splaywork.box.cut_list import cut_list
from splaywork.box.fronts import screws
from splaywork.box.job_sheets import Job, job_sheets
from splaywork.box.plan import Plan
from splaywork.box.set_sheets import bench_set
from splaywork.drawing.page import BenchPages

NUMBER = r"[0-9][0-9 ./]*"
BUILT = "test_job_sheets::test_boards_fronts_and_runners_built_from_the_page_alone_are_the_solids"
DRAWERS = "test_job_sheets::test_every_number_of_a_drawers_page_is_what_the_planes_say"
AROUND = "test_job_sheets::test_the_drawers_page_has_the_opening_the_show_front_and_the_runners"
MATCH = "test_cut_list::test_boards_that_can_be_swapped_are_grouped"
SAYS_WHAT, SHOP, CAUTION = "names or counts", "workshop practice, no geometry", "a caution"
# (beginning of the sentence, what simulates it: "module::test" of tests/box or tests/joint; or why nothing does)
SENTENCES = (
    # titles and heads
    (r"[\w ,]+ (?:boards?|corners?)(?: \(goes on\))?$|[\w ]+(?:\(goes on\))?$|\d  [\w ,]+: make \d|Make \d", SAYS_WHAT),
    (r"Outer face: this side out|Inner face, as seen from inside", "test_set_sheets::test_every_number_is_what_the_planes_say"),
    (r"Bevel settings|Tails$|Wood to buy|Order of|Lengths are in|The number before a board", SAYS_WHAT),
    (r"Measure after each stage|Outside |" + NUMBER + r"(?:mm|in) high", DRAWERS),
    # boards
    (r"The outer face, as sawn, measures", "test_cut_list::test_sawn_lengths_and_diagonals_are_the_solids"),
    (r"Saw the (?:left|right)(?: and right)? ends? .* outside the end line|Plane the ends? flush when|Sawn so, the outer face",
     "test_cut_list::test_sawn_lengths_and_diagonals_are_the_solids"),
    (r"No two boards match|[\w ,]+ are (?:mirror images|equal)\.", MATCH),
    # corners
    (r"\w+ board: tails, \w+ board: pins|As you face the corner from outside, the tail board is on your",
     "test_sheet_sentences::test_the_tail_board_is_on_the_side_that_is_said"),
    (r"Marks on the tail board's outer face, along the end line but measured square up|Tails of the ",
     "test_sheet_sentences::test_tails_are_marked_square_up_from_the_bottom_edge"),
    # bevel settings
    (r"No hand can tell angles apart|So [A-Z] .* stands? for several",
     "test_job_sheets::test_settings_that_no_hand_tells_apart_are_one_and_said"),
    # sawing
    (r"You stand before the saw|Left and right of the blade|a mitre gauge swings|Where the blade tilts|↻ is clockwise",
     "test_cut_list::test_every_cut_can_be_made_and_gives_the_solids_plane"),
    # order of work
    (r"Cut one trial corner first|The [\w ]+ corner of the [\w ,]+ proves most",
     "test_stock::test_the_trial_corner_that_proves_most_is_the_one_sawn_furthest_out_of_square"),
    (r"For the trial corner, take", "test_fittings::test_offcuts_are_as_long_as_the_test_corner_s_boards"),
    (r"Plane each board|Mark every blank|Take the box apart|\d+\.$", SHOP),
    (r"Rip \d+ rims, then measure", "test_cut_list::test_ends_and_edges_are_cut_to_the_settings_listed"),
    (r"Strike \d+ end lines on the outer faces, then measure", BUILT),
    (r"Saw \d+ ends, then measure both diagonals", "test_cut_list::test_sawn_lengths_and_diagonals_are_the_solids"),
    (r"Lay mirror images side by side", "test_sheet_sentences::test_mirror_images_look_like_one_another_in_a_mirror"),
    (r"Mark the baselines, plough the grooves|Measure the rims' diagonals",
     "test_fittings::test_the_boards_go_onto_the_panel_in_the_order_said"),
    (r"Saw the tails, and scribe the pins", "test_bench_steps::test_the_pins_can_be_scribed_as_the_step_says"),
    (r"Put each box together without glue|Dry fit: rim diagonals|inside " + NUMBER,
     "test_cut_list::test_sawn_lengths_and_diagonals_are_the_solids"),
    (r"Glue the box up, with the bottom dry in", "test_fittings::test_the_boards_go_onto_the_panel_in_the_order_said"),
    (r"Rip the lower edge off each back|Glue the box up, and slide|Glue the four boards together first|"
     r"Then slide the bottom in|Put no glue in the grooves|After the dry fit, rip the back's lower edge|"
     r"The bottom goes in under the back|The bottom's grain runs|From dry to damp|its back edge",
     "test_fittings::test_a_bottom_is_slid_in_under_the_back_in_fifty_steps"),
    (r"Stand each drawer in its opening|Fit the runners", "test_runners::test_the_drawer_slides_out_level_in_fifty_steps"),
    # the bottom
    (r"Plane the bottom's edges|The (?:upper|lower) face is the larger|(?:left|right|front|back) .*, where the|"
     r"Leave the .* edges? square", "test_fittings::test_planed_as_the_words_say_the_bottoms_edges_lie_in_their_grooves"),
    (r"Bottoms, of sheet|\d of " + NUMBER + "× ", "test_sheet_sentences::test_bottoms_of_sheet_are_the_panels_extent"),
    (r"Bottom " + NUMBER + r"\w+ thick", "test_set_sheets::test_bottom_panel_and_cauls_by_planes"),
    (r"Plough the grooves level", "test_fittings::test_ploughed_as_the_words_say_each_groove_is_level"),
    (r"Stop the .* grooves? .* past the baselines?|Stop each groove|Run the .* grooves? (?:through|out)",
     "test_fittings::test_a_groove_runs_through_only_where_nobody_sees_it"),
    # what is round the drawer
    (r"Opening: |Gaps from the front|at the back", AROUND),
    (r"Show front[,:] |end lines .*, end bevels|blank " + NUMBER, BUILT),
    (r"Clearances, square to each wall", AROUND),
    (r"The pull's middle is", "test_fronts::test_the_pulls_middle_is_straight_behind_the_show_fronts"),
    (r"Screws from inside|" + NUMBER + "up, ", "test_sheet_sentences::test_the_screws_on_the_page_hold_the_show_front"),
    (r"(?:Runner|Kicker|Guide|Stop)s?(?:, length × width × height)?: |(?:left|right) planed|" + NUMBER + "× .* up the wall",
     BUILT),
    (NUMBER + "to " + NUMBER, "test_sheet_sentences::test_tails_are_marked_square_up_from_the_bottom_edge"),
    # before the first box
    (r"The left end of the right board is at the front|Left and right are as seen",
     "test_label_sheets::test_the_end_that_is_said_to_be_at_the_front_is"),
    (r"A lean is measured|An end line is given|Outer lengths lie|Inches are printed|Boards and corners aren't|Wrap templates",
     "test_set_sheets::test_every_number_is_what_the_planes_say"),
    (r"Wear |clamp |keep |Leaning stock|in the vice tug|At a machine|unplug|Collect|Your tool|See OSHA|Cut a trial corner from|"
     r"Cautions|Set angles|Keep the guard|use push|HSE|Set the fence|A sharp arris|Don't crosscut|The saw's own", CAUTION))

DEEP = LOCKERS.items[0]
SLID = replace(DEEP, box=replace(DEEP.box, bottom=Bottom(kind="slid in", wood="cherry, black", damper=2)))
PLANS = (LOCKERS, MIXED, UNLIKE, Plan("Slid in", (SLID,)))


def said_on(plan, monkeypatch):
    """Every sentence of a plan's job, drawer, board and corner sheets, before it is broken into lines."""
    texts, write = [], BenchPages._write
    with monkeypatch.context() as patch:
        patch.setattr(BenchPages, "_write", lambda pages, text, *rest, **more: (texts.append(text), write(pages, text, *rest,
                                                                                                      **more))[1])
        # what stands beside the show front is broken into lines first, and goes on below it
        patch.setattr(Job, "_beside_the_front", lambda job, pages, front, scale, said: texts.extend(said) or [])
        bench_set(plan, parts=("job", "boards", "corners"))
    return {sentence for text in texts if "  ·  " not in text for sentence in re.split(r"(?<=[.!?;])\s+", text) if sentence}


@pytest.mark.parametrize("plan", PLANS, ids=lambda plan: plan.name)
def test_every_sentence_is_known_and_has_what_simulates_it(plan, monkeypatch):
    said = said_on(plan, monkeypatch)
    unknown = [sentence for sentence in said if not any(re.match(start, sentence) for start, _ in SENTENCES)]
    assert unknown == [] and len(said) > 60


def test_each_test_that_is_named_is_there():
    named = [what for _, what in SENTENCES if "::" in what]
    for what in named:
        module, _, name = what.partition("::")
        path, = Path(__file__).parents[1].glob(f"*/{module}.py")
        assert f"\ndef {name}(" in path.read_text(encoding="utf-8"), what
    assert len(named) > 25


BOXES = [Box(400, 300, 137, **leaning(5, 0, 15, 15)), LOCKER, MIXED.items[0].box, MIXED.items[1].box,
         Box(380, 320, 110, **leaning(-8, 6, 12, -20), rims="square", tails_on="front and back"),
         Box(380, 320, 110, **leaning(12, 12, -9, -9), joint=JointSettings(tails=2, tail_spacing=(1, 2), end="square"))]


@pytest.mark.parametrize("box", BOXES, ids=range(len(BOXES)))
def test_the_tail_board_is_on_the_side_that_is_said(box):
    """Somebody before the corner, looking in along the middle between the two boards, has the tail board on that hand."""
    middle = np.mean([board.outlines.reshape(-1, 3).mean(axis=0) for board in box.boards.values()], axis=0)
    for corner in box.corners.values():
        looks = middle - corner.bottom
        right = np.cross(looks, (0, 0, 1))
        side = box.boards[corner.tail].outlines.reshape(-1, 3).mean(axis=0) - corner.bottom
        assert ("right" if side @ right > 0 else "left") == ("left" if corner.mirrored else "right")
    plan = Plan("one", (replace(MIXED.items[0], box=box),))
    titles = [" ".join(labels(page)) for page in bench_set(plan, parts="corners")]
    for at, corner in box.corners.items():
        page = next(text for text in titles if re.search(rf"\b{at}\b[\w ]* corners?", text, re.IGNORECASE)
                    and "As you face the corner" in text)
        assert f"is on your {'left' if corner.mirrored else 'right'}" in page


@pytest.mark.parametrize("box", BOXES, ids=range(len(BOXES)))
def test_tails_are_marked_square_up_from_the_bottom_edge(box):
    """Laid flat, each mark as high up the face as it says, on the end line, is where a cheek of the solid meets that line."""
    marked = 0
    for at, corner in box.corners.items():
        board = box.boards[corner.tail]
        outer, end = box.planes[f"{corner.tail} outer"], box.planes[f"{corner.pin} outer"]
        foot = board.end_lines[0, 0 if corner.mirrored else 1, 0]
        for number, pair in enumerate(corner.joint.marks, 1):
            for side, mark in zip(("lower", "upper"), pair, strict=True):
                cheek = box.planes[f"{at} tail {number} {side} cheek"]
                point = np.linalg.solve([outer.normal, end.normal, cheek.normal], [outer.offset, end.offset, cheek.offset])
                assert (point - foot) @ board.axes[1] == pytest.approx(mark, abs=1e-6), (at, number, side)
                marked += 1
    assert marked == 2 * sum(corner.joint.tails for corner in box.corners.values())


def test_mirror_images_look_like_one_another_in_a_mirror():
    """Outer faces up, top edges away: the outline of the one, turned left for right, is that of the other."""
    seen = 0
    for box in BOXES:
        for group in cut_list(box).groups:
            for other in group.mirrored:
                first, second = (box.boards[name] for name in (group.equal[0], other))
                flat, mirrored = (board.in_board(board.outlines[0])[:, :2] for board in (first, second))
                turned = mirrored * [-1, 1] + [second.in_board(second.end_lines[0, 1, 0])[0], 0]
                far = np.linalg.norm(flat[:, None] - turned[None], axis=2).min(axis=1)
                assert far == pytest.approx(0, abs=1e-6)
                seen += 1
    assert seen >= 2


@pytest.mark.parametrize("plan", [LOCKERS, UNLIKE], ids=lambda plan: plan.name)
def test_the_screws_on_the_page_hold_the_show_front(plan):
    """The places printed are those of `screws`, which test_fronts proves by solids."""
    pages = job_sheets(plan)
    for item, page in zip(plan.items, pages[-len(plan.items):], strict=True):
        text = " ".join(labels(page))
        panel_top = sum(map(float, re.search(r"Bottom ([0-9.]+) mm thick, ([0-9.]+) mm up", text).groups()))
        found = screws(item.fit, panel_top)
        longest, places = re.search(r"Screws from inside, at most ([0-9.]+) mm long, .*? left end line: (.*?)\.(?= [A-Z])",
                                    text).groups()
        assert found[0].longest - 0.1 < float(longest) <= found[0].longest + 1e-9  # never rounded up, or a screw comes through
        printed = [(float(along), float(up)) for row in places.split("; ") for up, both in
                   [re.fullmatch(r"([0-9.]+) up, (.*) along", row).groups()] for along in both.split(" and ")]
        assert np.array(printed) == pytest.approx(np.array([screw[:2] for screw in map(
            lambda screw: (screw.along, screw.up), found)]), abs=0.051)


def test_bottoms_of_sheet_are_the_panels_extent():
    text = " ".join(labels(job_sheets(LOCKERS)[0]))
    for item in LOCKERS.items:
        low, high = item.box.inside_length("front", 9.5), item.box.inside_length("front", 15.5)
        assert low < high  # both sides lean out, so the upper face is the wider
        reach = 3 / np.cos(np.radians(15)) - 0.5
        deep = item.box.inside_length("right", 15.5) + 3 / np.cos(np.radians(5)) + 3 - 1
        assert re.search(rf"3 of {high + 2 * reach:.1f} × {deep:.1f} mm, 6\.0 mm thick", text), text
