"""The class corner: typed once, and where panels, exercises, sheets and cards begin. Only where it is asked for."""

from html import unescape

import pytest
import splaywork as sw
from splaywork.common.class_corner import FILE, ClassCorner, load_class_corner, save_class_corner
from splaywork.drawing.paper import Label
from splaywork.teaching.exercises import exercises_for, notebooks_with_exercises
from splaywork.teaching.handout_sheets import answer_key, handout

TRAY = ClassCorner(22, 14, 90, 15, "tea tray")
PANELS = {
    "corner": lambda: sw.corner_panel(16, 11), "projection": lambda: sw.projection_panel(30, 30),
    "trial": lambda: sw.trial_corner_panel(10.9, 15.2), "faults": lambda: sw.trial_faults_panel(16, 11, 120, 18),
    "map": lambda: sw.gauge_map_panel(15, 12), "errors": lambda: sw.setting_errors_panel(15, 12, 0),
    "joint": lambda: sw.joint_panel(16, 11), "hold": lambda: sw.one_gauge_panel("hold the leans"),
    "close": lambda: sw.one_gauge_panel("close the corners", equal=True), "round": lambda: sw.one_gauge_panel("go round"),
    "wind": lambda: sw.one_gauge_panel("wind the sides"), "level": lambda: sw.one_gauge_panel("level lines")}


@pytest.fixture
def kept(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    save_class_corner(tmp_path / FILE, TRAY)
    return tmp_path / FILE


def text_of(pages):
    return " ".join(item.text for page in pages for item in page.around if isinstance(item, Label))


@pytest.mark.parametrize("make", PANELS.values(), ids=PANELS)
def test_every_panel_opens_at_it_and_comes_back_to_it(kept, make):
    panel = make()
    shown = {"tail_lean": 22, "pin_lean": 14, "height": 90, "thickness": 15, "tail_thickness": 15, "pin_thickness": 15}
    there = {key: value for key, value in shown.items() if key in panel.dials}
    assert {"tail_lean", "pin_lean"} <= set(there)
    for moved in (False, True):
        if moved:
            panel.dials["tail_lean"].value = 5
            panel.reset()
        assert {key: panel.dials[key].value for key in there} == there
    assert panel.message.value == "" and "class corner" in panel.opened_at.value
    kept.unlink()
    usual = make()
    assert usual.opened_at.layout.display == "none" and usual.dials["tail_lean"].value != 22
    if hasattr(usual, "equal"):
        usual.equal.value = panel.equal.value
    for key, dial in panel.dials.items():  # the same panel, moved there by hand
        usual.dials[key].value = dial.value
    if hasattr(usual, "fit_anew"):
        usual.fit_anew(), panel.fit_anew()
    assert panel.sentence.value == usual.sentence.value and panel.image.value == usual.image.value


def test_what_is_measured_and_what_gapes_are_those_of_the_corner(kept):
    corner, trial, faults = sw.Corner(22, 14), PANELS["trial"](), PANELS["faults"]()
    assert abs(trial.dials["tail_end_line"].value - corner.tail_end_line) < 0.03
    assert abs(trial.dials["pin_end_line"].value - corner.pin_end_line) < 0.03
    save_class_corner(kept, ClassCorner(-22, 14))
    inward = PANELS["faults"]()
    assert faults.sides["edge"].value != inward.sides["edge"].value
    inward.reset()
    assert faults.sides["edge"].value != inward.sides["edge"].value


def test_what_a_panel_locks_stays(kept):
    panel = sw.corner_panel(16, 0, locked="pin_lean")
    assert (panel.dials["tail_lean"].value, panel.dials["pin_lean"].value) == (22, 0)


def test_a_corner_that_a_panel_cannot_show_is_said_and_left_out(kept):
    save_class_corner(kept, ClassCorner(45, 45))
    panel = PANELS["wind"]()
    assert (panel.dials["tail_lean"].value, panel.dials["pin_lean"].value) == (28, 24) and panel.image.value
    assert "doesn't open at the class corner" in unescape(panel.opened_at.value)


def test_a_damaged_file_is_said_and_nothing_else_happens(kept):
    kept.write_text("{")
    panel = PANELS["corner"]()
    assert panel.dials["tail_lean"].value == 16 and "delete it" in panel.opened_at.value
    assert "delete it" in sw.exercise_panel("04").message.value and "delete it" in sw.handout_panel().writer.progress.value
    with pytest.raises(ValueError, match="delete it"):
        sw.draw_on()


def test_a_script_opens_at_the_class_corner_what_doesnt_speak_of_leans_of_its_own(kept):
    panels = sw.script_panel("04").panels
    assert panels["hands"].dials["tail_lean"].value == 30 and panels["corner"].dials["tail_lean"].value == 22
    assert not any(panel.opened_at.value for panel in panels.values())


def test_handouts_and_keys_of_the_first_seed_ask_what_the_notebook_asks(kept):
    for make in (handout, answer_key):
        followed, told = labels(make("04")), labels(make("04", corner=TRAY))
        assert followed == told != labels(make("04", 2))
        kept.unlink()
        assert labels(make("04")) != followed
        save_class_corner(kept, TRAY)


def labels(pages):
    return [item.text for page in pages for item in page.around if isinstance(item, Label)]


def test_the_first_numbers_of_the_exercises_are_its_own(kept):
    used = 0
    for notebook in notebooks_with_exercises():
        panel = sw.exercise_panel(notebook)
        for exercise in exercises_for(notebook):
            panel.chosen.value = exercise.id
            assert panel.asked == exercise.ask(1, "mm", TRAY)
            assert panel.asked.check(panel.asked.as_typed(panel.asked.answer)).right
            used += {22, 14} & set(panel.asked.numbers.values()) != set()
            panel.new_numbers.click()
            assert panel.asked == exercise.ask(2)
    assert used >= 25


@pytest.mark.parametrize("notebook", ["02", "04"])
def test_handout_and_key_ask_what_the_panel_asks(kept, notebook):
    panel = sw.exercise_panel(notebook)
    asked = text_of(handout(notebook, 1, corner=TRAY)), text_of(answer_key(notebook, 1, corner=TRAY))
    first = panel.asked.text.split(".")[0]
    assert all(" ".join(first.split()) in " ".join(text.split()) for text in asked)
    assert text_of(handout(notebook, 2, corner=TRAY)) == text_of(handout(notebook, 2))


def test_sheets_and_cards_are_drawn_for_it(kept):
    fields = sw.handout_panel()
    assert [fields.fields[key].read() for key in ("tail_lean", "pin_lean", "height", "thickness")] == [22, 14, 90, 15]
    assert fields.name.value == "tea tray" and sw.joint_panel().writer.name.value == "tea tray"
    drawn = text_of(sw.draw_on())
    assert "22°" in drawn and "14°" in drawn
    form = text_of(sw.assessment())
    assert "leaning out 22°" in form and "90.0 mm high" in form
    chart = " ".join(item.text for item in sw.wall_chart().around if isinstance(item, Label))
    assert "leaning out 22°" in chart and "leaning out 14°" in chart


def test_it_is_kept_and_forgotten_by_two_buttons(tmp_path, monkeypatch):
    guide = tmp_path / "instructor"
    guide.mkdir()
    monkeypatch.chdir(guide)
    panel = sw.class_corner_panel()
    assert list(tmp_path.iterdir()) == [guide]  # nothing before it is asked for
    panel.fields["tail_lean"].value, panel.fields["height"].value, panel.name.value = "22.5", "90 mm", " tray "
    panel.writer.buttons["Keep for the class"].click()
    assert load_class_corner(tmp_path / FILE) == ClassCorner(22.5, 11, 90, 18, "tray")
    again = sw.class_corner_panel()
    assert again.fields["tail_lean"].read() == 22.5 and again.name.value == "tray"
    again.fields["pin_lean"].value = "far"
    again.writer.buttons["Keep for the class"].click()
    assert "Nothing was written" in again.writer.progress.value and load_class_corner(tmp_path / FILE).pin_lean == 11
    panel.writer.buttons["Forget the corner"].click()
    assert list(tmp_path.iterdir()) == [guide]
    panel.writer.buttons["Forget the corner"].click()
    assert "No class corner" in panel.writer.progress.value


def test_somebody_elses_file_is_neither_replaced_nor_deleted(kept):
    kept.write_text("my notes")
    panel = sw.class_corner_panel()
    for button in panel.writer.buttons.values():
        button.click()
        assert "Nothing was" in panel.writer.progress.value
    assert kept.read_text() == "my notes"
