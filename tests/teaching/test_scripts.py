"""Lesson scripts: every row set on its panel shows what it claims; minutes rise; what a table names stands on the panel."""

import re

import nbformat
import pytest
from places import NOTEBOOKS
from splaywork import lesson_panel, script, script_panel
from splaywork.teaching.scripts import apply, minutes_table, scripts, settings_told
from splaywork.teaching.scripts.core import LENGTHS, _within, control

ROWS = [(notebook, number) for notebook in scripts() for number, row in enumerate(script(notebook).rows) if row.on]
each = pytest.mark.parametrize("notebook", scripts())


@pytest.mark.parametrize(("notebook", "number"), ROWS)
def test_a_row_shows_what_it_says(notebook, number):
    lesson = script(notebook)
    row, panel = lesson.rows[number], lesson.panel(lesson.rows[number].on)
    opened = panel.image.value
    apply(row, panel)
    assert row.check(panel)
    assert panel.message.value == ""
    told = settings_told(row, panel)
    assert told.count("**") >= 2 * len(row.settings)
    for key, value in row.settings:
        assert value is None or control(panel, key).value == value
    apply(lesson.rows[number], panel)  # from any state to the same picture
    again = panel.image.value
    for key, _ in row.settings:
        if key in panel.dials:
            panel.dials[key].field.value = str(panel.dials[key].slider.min)
    apply(row, panel)
    assert panel.image.value == again
    assert again != opened or not row.settings or _opens_there(row, lesson.panel(row.on))


def _opens_there(row, panel):
    return all(control(panel, key).value == value for key, value in row.settings)


def test_the_box_of_10_goes_back_to_the_plan_before_each_row():
    lesson = script("10")
    panel = lesson.panel("box")
    opened = {key: dial.value for key, dial in panel.dials.items()}
    for row in (row for row in lesson.rows if row.on):
        apply(row, panel)
        kept = {key: value for key, value in opened.items() if key not in dict(row.settings) and key != "tails"}
        assert kept == {key: panel.dials[key].value for key in kept}


def test_a_check_can_fail():
    """With the shortcut's own corner left upright, no row of 04 and 07 that speaks of a gap holds."""
    failed = 0
    for notebook in ("04", "07"):
        for row in script(notebook).rows:
            if row.on:
                panel = script(notebook).panel(row.on)
                apply(row, panel)
                for lean in ("tail_lean", "pin_lean"):
                    panel.dials[lean].field.value = "0"
                failed += not row.check(panel)
    assert failed >= 8


@each
def test_minutes_rise_and_keep_to_the_lesson(notebook):
    lesson = script(notebook)
    for minutes in LENGTHS:
        marks = [minute for minute, _ in lesson.at(minutes)]
        assert marks[0] == 0 and marks == sorted(set(marks)) and minutes - 12 < marks[-1] < minutes
    assert len(lesson.at(45)) == len(lesson.rows) >= 6 > 3 <= len(lesson.at(20))
    assert "Predict" in " ".join(row.do for row in lesson.rows) or notebook in ("06",)


BY_HAND = [(notebook, number) for notebook in scripts() for number, row in enumerate(script(notebook).rows)
           if row.check and not row.on]


@pytest.mark.parametrize(("notebook", "number"), BY_HAND)
def test_what_is_said_of_wood_and_paper_is_so(notebook, number):
    assert script(notebook).rows[number].check(None)


def test_rows_that_give_numbers_of_wood_and_paper_are_checked():
    """A number that is spoken or seen without a panel is worked out: each such row of 04 and 07 has its check."""
    counted = 0
    for notebook in ("04", "07"):
        for row in script(notebook).rows:
            if not row.on and re.search(r"\d(?! s|°)|millimetre", row.say + row.sees):
                assert row.check, row.say
                counted += 1
    assert counted >= 3


@each
def test_every_row_has_something_short_to_say(notebook):
    """One sentence or a few, each short enough to be said in one breath."""
    for row in script(notebook).rows:
        sentences = re.split(r"(?<=[.?!]) ", row.say)
        assert row.say[-1] in ".?" and len(sentences) <= 3 and 3 <= len(row.say.split()) <= 26, row.say
        assert all(2 <= len(sentence.split()) <= (22 if len(sentences) == 1 else 16) for sentence in sentences), row.say
        assert row.do[-1] in ".?*" and (not row.sees or row.sees[-1] in ".”*"), row
        assert ("{set}" in row.do) == bool(row.settings)


@each
def test_the_table_names_what_stands_on_the_panels(notebook):
    lesson = script(notebook)
    table = minutes_table(lesson)
    assert table.count("\n") == len(lesson.rows) + 1
    assert all(row.say in table for row in lesson.rows) and "{set}" not in table


@each
def test_names_in_bold_stand_on_the_panels(notebook):
    lesson = script(notebook)
    written = " ".join([row.do for row in lesson.rows] + [part for pair in lesson.wrong for part in pair])
    bold = set(re.findall(r"\*\*([^*]+)\*\*", written))
    names = set()
    for widget in (each for name in lesson.panels for each in _within(lesson.panel(name))):
        names |= {getattr(widget, "description", "")} | set(getattr(widget, "titles", ()))
    assert bold <= names


@each
def test_the_notebook_shows_the_panels_of_its_script(notebook):
    paths = list(NOTEBOOKS.glob(f"{notebook}_*.ipynb"))
    for public, _ in script(notebook).panels.values() if paths else ():
        assert any(public in cell.source for cell in nbformat.read(paths[0], as_version=4).cells if cell.cell_type == "code")


@pytest.mark.parametrize("wrong", [lambda: script("12"), lambda: script(4), lambda: script_panel("99"),
                                   lambda: script_panel("04", 30)])
def test_what_there_is_no_script_for(wrong):
    with pytest.raises(ValueError, match=r"\.$"):
        wrong()


@pytest.mark.parametrize("minutes", LENGTHS)
def test_next_and_back_set_the_panel_and_say_the_sentence(minutes):
    panel = script_panel("07", minutes)
    rows = panel.script.at(minutes)
    for forth in (True, False):
        for _ in rows:
            minute, row = panel.rows[panel.at]
            assert f"minute {minute}<" in panel.said.value and row.say in panel.said.value.replace("&#x27;", "'")
            if row.on:
                shown = panel.panels[row.on]
                assert panel.children[0] is shown and shown.children[0] is panel._bar and row.check(shown)
            (panel.next if forth else panel.back).click()
    assert panel.at == 0
    assert sum(each.children[:1] == (panel._bar,) for each in panel.panels.values()) == 1


def test_a_lesson_is_chosen_from_a_list_and_begun():
    panel = lesson_panel()
    assert [number for _, number in panel.lesson.options] == list(scripts()) and panel.given.children == ()
    for number, minutes in (("04", 20), ("07", 45)):
        panel.lesson.value, panel.minutes.value = number, minutes
        panel.begin.click()
        given, = panel.given.children
        assert given.script is script(number) and given.rows == script(number).at(minutes) and given.at == 0


def test_the_window_stays_filled_from_panel_to_panel():
    panel = script_panel("07", 20)
    first = panel.children[0]
    first.present()
    while panel.rows[panel.at][1].on != "close":
        panel.next.click()
    assert panel.children[0] is panel.panels["close"] is not first
    assert panel.children[0].fill.value and not first.fill.value


def test_a_script_without_a_panel_has_its_sentences():
    panel = script_panel("11")
    panel.next.click()
    assert panel.children[0] is panel._bar and "2 of" in panel.said.value


@each
def test_where_the_class_predicts_a_click_counts_a_hand(notebook):
    panel = script_panel(notebook)
    asks = [number for number, (_, row) in enumerate(panel.rows) if row.hands]
    assert asks[:1] == [number for number, (_, row) in enumerate(panel.rows) if "*Predict" in row.do][:1]
    for number in asks:
        panel.go(number)
        buttons = list(panel.hands_bar.buttons.values())
        assert panel.hands_bar.layout.display == "" and 2 <= len(buttons) <= 4
        buttons[0].click(), buttons[1].click(), buttons[1].click(), panel.hands_bar.undo.click()
        panel.go(number + 1)
        assert panel.hands_bar.layout.display == "none" or number + 1 in asks
        panel.go(number)  # and they are still there
        counted = [button.description[-3:] for button in panel.hands_bar.buttons.values()]
        assert counted == [": 1", ": 1", ": 0", ": 0"][:len(buttons)]
