"""The front door, name by name: what opens at the class corner, what is of the corner that is given to it, what has none."""

import inspect

import pytest
import splaywork as sw
from sheets import labels, texts_of
from splaywork.common.class_corner import FILE, ClassCorner, leaving_it_out, save_class_corner

KEPT = ClassCorner(23, 13, 95, 15, "tea tray")
SHOWN = {"corner": 23, "neighbour": 13}  # leans that no page has of its own


def dials(panel):
    return {dial.value for dial in panel.dials.values()}


def trial_joint():
    return sw.Joint(sw.Corner(16, 11), height=120, tail_thickness=18)


def plan():
    opening = sw.Opening(420, 380, 170, left_lean=15, right_lean=15, front_lean=5)
    return sw.Plan("lockers", (sw.Item.for_opening("wide", opening), sw.Item("tray", sw.Box(300, 300, 100, left_lean=5))))


def printed(save):
    """The words of the file that a function of a path writes."""
    save("page.pdf")
    return " ".join(texts_of("page.pdf"))


def pages(made):
    return " ".join(text for page in (made if isinstance(made, list) else [made]) for text in labels(page))


def lesson(panel):
    return [each.value for own in panel.panels.values() for each in own.dials.values()] + [panel.script.pairs.tail_lean]


def begun():
    chosen = sw.lesson_panel()
    chosen.begin.click()
    return lesson(chosen.given.children[0])


def papers():
    panel = sw.class_papers_panel(".")
    panel.writer.buttons["Kits"].click()
    return " ".join(texts_of("kit-04.pdf"))


def asked():
    panel = sw.exercise_panel("04")
    panel.chosen.value = panel.chosen.options[0][1]
    return panel.asked.numbers.values()


def sheet():
    panel = sw.trial_sheet_panel(trial_joint(), "page", ".")
    panel.writer.buttons["Write the sheet"].click()
    return " ".join(texts_of("page-sheet.pdf"))


# Name -> what it shows as it opens: numbers, or text.
AT_IT = {
    "corner_panel": lambda: dials(sw.corner_panel()), "projection_panel": lambda: dials(sw.projection_panel()),
    "trial_corner_panel": lambda: dials(sw.trial_corner_panel(10.9, 15.2)),
    "trial_faults_panel": lambda: dials(sw.trial_faults_panel()), "gauge_map_panel": lambda: dials(sw.gauge_map_panel()),
    "setting_errors_panel": lambda: dials(sw.setting_errors_panel()), "joint_panel": lambda: dials(sw.joint_panel()),
    "one_gauge_panel": lambda: dials(sw.one_gauge_panel("hold the leans")), "box_panel": lambda: dials(sw.box_panel(plan())),
    "trial_sheet_panel": sheet, "exercise_panel": asked,
    "class_corner_panel": lambda: [field.read() for field in sw.class_corner_panel().fields.values()],
    "handout_panel": lambda: [field.read() for field in sw.handout_panel().fields.values()],
    "class_papers_panel": papers, "lesson_panel": begun, "script_panel": lambda: lesson(sw.script_panel("04")),
    "script": lambda: [sw.script("04").pairs.tail_lean, sw.script("04").pairs.pin_lean],
    "lesson_sheet": lambda: pages(sw.lesson_sheet("04", 45)),
    "save_lesson": lambda: printed(lambda path: sw.save_lesson(path, "04", 45)),
    "kit": lambda: pages(sw.kit("05")), "save_kit": lambda: printed(lambda path: sw.save_kit(path, "05")),
    "draw_on": lambda: pages(sw.draw_on()), "save_draw_on": lambda: printed(sw.save_draw_on),
    "wall_chart": lambda: pages(sw.wall_chart()), "save_wall_chart": lambda: printed(sw.save_wall_chart),
    "assessment": lambda: pages(sw.assessment()), "save_assessment": lambda: printed(sw.save_assessment)}

# Written once is enough.
FILES = {"trial_sheet_panel", "class_papers_panel", *(name for name in AT_IT if name.startswith("save_"))}

# Of the corner, joint, box, plan, angles or pages that are given to it, and of nothing else.
GIVEN = {
    "Box", "Corner", "Item", "Joint", "OneGauge", "Opening", "PaperModel", "Plan", "PlanEditor", "Projection",
    "RegularBox", "TrialCorner", "bench_steps", "bottom_panel", "class_report", "class_report_still", "corner_still",
    "corner_words", "cut_list", "end_line_from_diagonals", "equal_leans_table", "faults_table", "gauge_map_still",
    "jitter", "job_settings", "joint_still", "lean_dragged_still", "lean_from_rise_and_run", "lean_from_slant_width",
    "lettered_table", "level_cheeks_words", "load_plan", "marked_width_words", "measured_table",
    "mirrored_corner_words", "one_gauge_still", "opening_still", "paper_model_still", "projection_moving_still",
    "projection_still", "readings_still", "rim_bevel_from_gap", "runners", "save_bench_set", "save_box_bench_card",
    "save_figure", "save_job_sheets", "save_labels", "save_pages", "save_plan", "save_sheets", "save_stl",
    "save_stock_sheets", "save_trial_sheet", "save_wedge_template", "say_closed", "say_end_line_settings", "say_error",
    "say_go_round", "say_good_enough", "say_hold_leans", "say_measured", "say_pulled_tight", "say_setting_errors",
    "say_settings", "say_slipped", "say_winding", "setting_errors_still", "settings_table", "show_front",
    "sphere_still", "square_end_and_baseline_still", "square_end_words", "stages_still", "stock_plan", "stock_table",
    "table", "tail_end_still", "tail_marks_table", "tail_still", "trial_table", "trial_tools_words", "uses_table",
    "vectors_still", "wedge_cauls", "what_changed", "what_to_measure", "words_still"}

# What has no corner, or the same ones for everybody: those of `NAMED_CORNERS`, or a table of all leans.
NO_CORNER = {
    "Allowances", "Bottom", "Clearances", "FrontChoice", "JointSettings", "NAMED_CORNERS", "RunnerChoice", "Stock",
    "__version__", "cite", "closed_forms", "closing_corners_still", "course", "course_table", "degrees", "dry_fit_table",
    "four_cases_table", "gapes_table", "good_enough", "good_enough_table", "length", "mm", "movement",
    "named_corners_table", "offset", "offsets_table", "save_course", "say_both_up_to", "say_degree_adds", "sensitivities",
    "shortcut_table", "slopes_table", "sources_table", "tally_panel", "write_up", "write_up_panel"}


@pytest.fixture(autouse=True)
def kept(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    save_class_corner(tmp_path / FILE, KEPT)
    return tmp_path / FILE


def test_no_name_of_the_front_door_is_left_out():
    assert set(dir(sw)) == AT_IT.keys() | GIVEN | NO_CORNER
    assert len(dir(sw)) == len(AT_IT) + len(GIVEN) + len(NO_CORNER)
    panels = {name for name in dir(sw) if name.endswith("_panel")}
    assert panels - AT_IT.keys() == {"bottom_panel", "tally_panel", "write_up_panel"}


def test_what_is_of_what_is_given_asks_for_it():
    asks = {name: [each for each in inspect.signature(getattr(sw, name)).parameters.values() if each.default is each.empty]
            for name in GIVEN}
    assert [name for name, required in asks.items() if not required] == []


@pytest.mark.parametrize("name", AT_IT)
def test_it_opens_at_the_class_corner(kept, name):
    def has(shown):
        if isinstance(shown, str):
            return [f"{lean}°" in shown or f"{lean}.0°" in shown for lean in SHOWN.values()]
        return [any(abs(abs(number) - lean) < 1e-9 for number in shown if isinstance(number, int | float))
                for lean in SHOWN.values()]

    at = has(AT_IT[name]())
    assert any(at) if name in {"exercise_panel", "lesson_panel", "script_panel"} else all(at)
    if name not in FILES:
        kept.unlink()
        assert not any(has(AT_IT[name]()))


GIVEN_TO = {
    "kit": lambda: sw.kit("05", corner=sw.Corner(31, 21)), "draw_on": lambda: sw.draw_on(sw.Corner(31, 21)),
    "assessment": lambda: sw.assessment(sw.Corner(31, 21)),
    "wall_chart": lambda: [sw.wall_chart(sw.Joint(sw.Corner(31, 21), height=120, tail_thickness=18))]}


@pytest.mark.parametrize("name", GIVEN_TO)
def test_a_corner_that_is_given_to_a_sheet_is_printed_as_given(name):
    followed = pages(GIVEN_TO[name]())
    with leaving_it_out():
        assert pages(GIVEN_TO[name]()) == followed
    assert "31" in followed


class TestBox:
    def test_each_item_has_the_class_corner_at_the_front_and_stays_what_it_was(self):
        given = plan()
        panel = sw.box_panel(given)
        assert panel.plan.name == "lockers, tea tray" and [item.name for item in panel.plan.items] == ["wide", "tray"]
        for item in panel.plan.items:
            box = item.box
            assert (box.left_lean, box.right_lean, box.front_lean, box.back_lean) == (23, 23, 13, 0)
            assert (box.thickness, box.height) == (15, 95) and item.fills_its_opening
            assert [(each.joint.corner.tail_lean, each.joint.corner.pin_lean) for name, each in box.corners.items()
                    if "front" in name] == [(23, 13)] * 2
        wide, was = panel.plan.items[0].opening, given.items[0].opening
        assert (wide.floor_width, wide.depth) == (was.floor_width, was.depth)
        assert "left and right lean 23.0°, front 13.0°; 15.0 mm thick, 95.0 mm high" in panel.opened_at.value

    def test_one_click_goes_to_the_plan_that_is_given_and_undo_and_reset_come_back(self):
        given = plan()
        panel = sw.box_panel(given)
        opened = panel.plan
        panel.as_given.click()
        assert panel.plan == given and panel.dials["left_lean"].value == 15 and panel.files.file.value == "lockers"
        panel.undo.click()
        assert panel.plan == opened
        panel.as_given.click(), panel.start_again.click()
        assert panel.plan == opened and panel.message.value == ""
        panel.at_class.click()
        assert panel.plan == opened

    def test_tails_on_front_and_back_lean_as_the_tail_board(self):
        panel = sw.box_panel(sw.Plan("own", (sw.Item("tray", sw.Box(300, 300, 100, tails_on="front and back")),)))
        assert panel.dials["front_lean"].value == 23 and panel.dials["left_lean"].value == 13

    def test_an_item_of_which_a_board_is_cut_stays(self):
        given = sw.Plan("own", (sw.Item("cut", sw.Box(300, 300, 100, left_lean=5), already_cut=("left",)),
                                sw.Item("not yet", sw.Box(300, 300, 100, left_lean=5))))
        items = sw.box_panel(given).plan.items
        assert items[0] == given.items[0] and items[1].box.left_lean == 23

    def test_a_class_corner_that_the_plan_cannot_have_is_said_and_left_out(self, kept):
        save_class_corner(kept, ClassCorner(-45, -45))
        given = sw.Plan("own", (sw.Item("small", sw.Box(90, 90, 100)),))
        panel = sw.box_panel(given)
        assert panel.plan == given and "doesn&#x27;t open at the class corner" in panel.opened_at.value
        assert panel.beginnings.layout.display == "none" and panel.message.value == ""

    def test_without_a_class_corner_there_is_no_choice_and_a_damaged_file_is_said(self, kept):
        kept.write_text("{")
        panel = sw.box_panel()
        assert "delete it" in panel.opened_at.value and panel.dials["left_lean"].value != 23
        kept.unlink()
        panel = sw.box_panel(plan())
        assert panel.beginnings.layout.display == panel.opened_at.layout.display == "none"
