"""The exercise panel without a browser: questions, answers typed and chosen, hints, other numbers, and the file."""

from html import unescape
from threading import Event, Thread
from time import sleep

import ipywidgets as widgets
import pytest
from splaywork import exercise_panel
from splaywork.teaching.exercise_panel import PROGRESS_FILE
from splaywork.teaching.exercise_pictures import png_of
from splaywork.teaching.exercises import exercises_for, load_progress, notebooks_with_exercises
from splaywork.teaching.exercises.slips import SHORTCUT
from widget_tree import within


@pytest.fixture
def panel(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    return exercise_panel("04")


def words(widget):
    return unescape(widget.value)


def choose(panel, number):
    panel.chosen.value = number
    return panel.asked


def answer(panel, text):
    """Type into the box and press Enter."""
    panel.typed.value = ""
    panel.typed.value = text
    return words(panel.remark)


@pytest.mark.parametrize("notebook", notebooks_with_exercises())
def test_every_exercise_of_every_notebook_can_be_asked_and_answered(notebook):
    panel = exercise_panel(notebook)
    for number, exercise in panel.exercises.items():
        asked = choose(panel, number)
        assert asked == exercise.ask(1)
        assert number in words(panel.question)
        assert asked.text in words(panel.question)
        assert asked.how in words(panel.question)
        chooses = asked.unit == "choice"
        assert (panel.typed.layout.display, panel.choice.layout.display) == (("none", "") if chooses else ("", "none"))
        assert (panel.choice if chooses else panel.typed).description == asked.label
        if chooses:
            assert panel.choice.options == asked.choices
            panel.choice.value = asked.answer
            assert words(panel.remark) == ""  # the arrow keys pass over the others: only Check checks
            panel.check.click()
        else:
            given = asked.answer if asked.taken_from == "square" else 90 - asked.answer
            answer(panel, f"{given} mm" if asked.unit == "length" else str(given))
        assert words(panel.remark).startswith("Right: ")
        assert panel.message.value == ""
        assert dict(panel.chosen.options[i] for i in [list(panel.exercises).index(number)]) == {
            f"{number}, {asked.kind} (done)": number}
        assert panel.asked == asked  # the new list didn't jump to another
    assert panel.standing.value == f"{len(panel.exercises)} of {len(panel.exercises)} done."


def test_a_wrong_answer_hears_its_remark_and_a_right_one_after_it(panel):
    asked = choose(panel, "04-2")
    slip = next(slip for slip in asked.slips if slip.kind == SHORTCUT)
    assert answer(panel, str(slip.value)) == f"Not yet. {slip.remark}"
    assert "(done)" not in str(panel.chosen.options)
    assert answer(panel, str(asked.answer)) == f"Right: {asked.answer_text}."
    assert "04-2, read off (done)" in dict(panel.chosen.options)


def test_what_cannot_be_read_is_said_and_takes_the_last_verdict_away(panel):
    asked = choose(panel, "04-3")
    remark = answer(panel, f"{asked.answer} mm")
    assert remark.startswith("Right")
    panel.typed.value = "<b>no"
    assert words(panel.remark) == ""
    assert "“<b>no”" in words(panel.message)
    assert "<b>no" not in panel.message.value.removeprefix("<b>")
    panel.typed.value = f"{asked.answer} mm"  # the same answer again is checked again
    assert words(panel.remark) == remark and panel.message.value == ""
    choose(panel, "04-1")
    panel.check.click()
    assert "nothing is none of the choices" in words(panel.message)
    panel.choice.value = panel.asked.answer
    panel.check.click()
    assert panel.message.value == ""


def test_the_check_button_does_not_count_again_what_leaving_the_box_has_checked(panel):
    panel.keeps.value = True
    answer(panel, "")
    asked = choose(panel, "04-2")
    answer(panel, str(asked.answer))
    panel.check.click()
    assert load_progress(PROGRESS_FILE).tries == {"04-2": 1}
    panel.typed.value = str(asked.answer + 0.1)
    assert load_progress(PROGRESS_FILE).tries == {"04-2": 2}


def test_hints_come_one_after_the_other(panel):
    asked = choose(panel, "04-2")
    assert panel.hints.value == ""
    panel.hint.click()
    assert asked.hints[0] in words(panel.hints)
    assert asked.hints[1] not in words(panel.hints)
    panel.hint.click()
    assert all(hint in words(panel.hints) for hint in asked.hints)
    before = panel.hints.value
    panel.hint.click()
    assert panel.hints.value == before
    panel.new_numbers.click()
    assert panel.hints.value == ""


def test_the_answer_is_shown_when_asked(panel):
    asked = choose(panel, "04-2")
    panel.show_answer.click()
    assert asked.answer_text in words(panel.remark)


def test_new_numbers_and_the_next_exercise(panel):
    choose(panel, "04-2")
    panel.typed.value = "12"
    panel.new_numbers.click()
    assert panel.asked == exercises_for("04")[1].ask(2)
    assert panel.typed.value == panel.remark.value == panel.message.value == ""
    panel.following.click()
    assert panel.asked == exercises_for("04")[2].ask(1)
    choose(panel, "04-2")
    assert panel.asked.seed == 2  # each keeps its own numbers
    choose(panel, list(panel.exercises)[-1])
    panel.following.click()
    assert panel.chosen.value == "04-1"


def test_lengths_can_be_asked_in_inches(panel):
    choose(panel, "04-3")
    panel.unit.value = "in"
    assert panel.asked == exercises_for("04")[2].ask(1, "in")
    assert " in high" in words(panel.question)
    assert answer(panel, f"{panel.asked.answer / 25.4:.3f}").startswith("Right")
    assert exercise_panel("04", unit="in").asked == exercises_for("04")[0].ask(1, "in")


def test_what_the_panel_cannot_open_with(panel):
    for arguments, wrong in ((("12",), "exercises for the notebooks"), (("04", -1), "seed"), (("04", 1, "cm"), "unit")):
        with pytest.raises(ValueError, match=wrong):
            exercise_panel(*arguments)


def test_a_drawing_belongs_to_the_question_that_speaks_of_one(panel):
    choose(panel, "04-5")
    assert panel.figure.layout.display == "none"
    asked = choose(panel, "04-6")
    assert panel.figure.layout.display == "" and panel.figure.value == png_of(asked)
    assert f"{asked.numbers['board']} board laid flat" in words(panel.figure_words)
    first = panel.figure.value
    panel.new_numbers.click()
    assert panel.figure.value == png_of(panel.asked) != first


# Progress.


def test_nothing_is_written_unless_it_is_asked_for(panel, tmp_path):
    asked = choose(panel, "04-2")
    answer(panel, str(asked.answer))
    assert list(tmp_path.iterdir()) == []
    panel.keeps.value = True
    assert list(tmp_path.iterdir()) == []


def test_progress_is_kept_and_taken_up_again(panel, tmp_path):
    panel.keeps.value = True
    asked = choose(panel, "04-2")
    answer(panel, str(asked.answer))
    assert [path.name for path in tmp_path.iterdir()] == [PROGRESS_FILE]
    again = exercise_panel("04")
    assert again.standing.value.startswith("0 of ")
    again.keeps.value = True
    assert again.standing.value.startswith("1 of ")
    other = exercise_panel("07")
    other.keeps.value = True
    choose(other, "07-4")
    answer(other, "1 m")
    assert load_progress(PROGRESS_FILE).tries == {"04-2": 1, "07-4": 1}


def test_a_file_that_holds_something_else_stays_as_it_is(panel, tmp_path):
    path = tmp_path / PROGRESS_FILE
    path.write_text("my diary")
    panel.keeps.value = True
    assert not panel.keeps.value
    assert "holds no progress" in words(panel.message)
    asked = choose(panel, "04-2")
    answer(panel, str(asked.answer))
    assert path.read_text() == "my diary"
    assert words(panel.remark).startswith("Right")


def test_a_file_that_is_spoilt_meanwhile_stays_as_it_is(panel, tmp_path):
    panel.keeps.value = True
    asked = choose(panel, "04-2")
    answer(panel, str(asked.answer))
    path = tmp_path / PROGRESS_FILE
    path.write_text(path.read_text()[:-9])
    before = path.read_text()
    answer(panel, str(asked.answer + 0.2))
    assert path.read_text() == before
    assert "was cut short" in words(panel.message)
    assert not panel.keeps.value


@pytest.mark.parametrize("name", ["", "..", "../elsewhere.json", "/tmp/elsewhere.json", "04.ipynb", "a/b.json",
                                  "a\0.json"])
def test_the_file_lies_beside_the_notebook_and_nowhere_else(panel, tmp_path, name):
    panel.file.value = name
    panel.keeps.value = True
    assert not panel.keeps.value
    assert "give one that ends in .json" in words(panel.message)
    assert "\n" not in panel.message.value
    assert list(tmp_path.iterdir()) == []


def test_what_the_disk_refuses_is_said(panel, tmp_path):
    (tmp_path / PROGRESS_FILE).mkdir()
    panel.keeps.value = True
    assert "is no file" in words(panel.message)
    assert not panel.keeps.value


# The page.


def test_every_widget_has_a_name():
    for widget in within(exercise_panel("04")):
        if not isinstance(widget, (widgets.HTML, widgets.Box, widgets.Image, widgets.Output)):
            assert widget.description, widget


def test_nothing_dead_is_left_where_there_is_no_kernel(panel):
    said = panel._repr_mimebundle_()["text/plain"]
    assert said == "Run this cell, and exercises that check themselves appear here."


class Slow:
    """An exercise that holds up whoever asks first, until another has asked or some time has passed."""

    def __init__(self, exercise):
        self.exercise, self.second = exercise, Event()
        self.waits = iter((True,))

    def ask(self, *how):
        asked = self.exercise.ask(*how)
        if next(self.waits, False):
            self.second.wait(0.3)
        else:
            self.second.set()
        return asked


def test_clicks_from_two_threads_are_taken_one_after_the_other(panel):
    choose(panel, "04-2")
    panel.exercises["04-2"] = Slow(panel.exercises["04-2"])
    threads = [Thread(target=panel.new_numbers.click) for _ in range(2)]
    for thread in threads:
        thread.start()
        sleep(0.05)
    for thread in threads:
        thread.join()
    assert panel.asked == exercises_for("04")[1].ask(3)
    assert panel.asked.text in words(panel.question)
