"""What an exercise of the kind "read off" asks for is said by the panel or the printed table that it names."""

import pytest
from splaywork import Corner, Joint
from splaywork.box.box import Box
from splaywork.box.cut_list import cut_list
from splaywork.common.printing import degrees, from_edge, gap, offset
from splaywork.corner.words import corner_words, from_square, settings_words
from splaywork.joint.settings_words import gauge_words
from splaywork.one_gauge.pictures import picture_of
from splaywork.teaching.exercises import exercises_for, notebooks_with_exercises
from splaywork.trial.readings import TrialCorner
from splaywork.trial.words import say_measured

SEEDS = range(60)


def corner(numbers):
    return Corner(numbers.get("tail_lean", 0), numbers.get("pin_lean", 0), numbers.get("plan_angle", 90))


def line_of(table, name):
    return next(line.removeprefix(name).strip() for line in table.splitlines() if line.startswith(name))




def said_of_end_lines(asked):
    """The panel names the tail board's end line first, the pin board's second."""
    words = corner_words(corner(asked.numbers))
    tail, pin = words.partition("The tail board's end line is ")[2].split(", and the pin board's is ", 1)
    return (tail if asked.numbers.get("board") == "tail" else pin), from_square(asked.answer)


def said_of_the_miss(asked):
    words = corner_words(corner(asked.numbers)).partition("the other board's lean ")[2]
    tail, pin = words.split(" on the tail board and ")
    return (tail if asked.numbers["board"] == "tail" else pin), f"{degrees(asked.answer, 2)} too much"


def said_of_the_gap(asked):
    height, unit = asked.numbers["height"], asked.length_unit
    words = picture_of("hold the leans")().words(corner(asked.numbers), unit=unit, height=height)
    tail, pin = words.partition("The tail board's end")[2].split("The pin board's end")
    return (tail if asked.numbers["board"] == "tail" else pin), f"leaves a gap of {gap(asked.answer, unit)}"


def said_of_the_closed_box(asked):
    words = picture_of("close the corners")().words(corner(asked.numbers), unit="mm", apart=0)
    board = asked.numbers["board"]
    return words, f"{board} boards {'lean ' * (board == 'tail')}{degrees(asked.answer)} instead"


def said_of_the_trial_corner(asked):
    words = say_measured(TrialCorner(asked.numbers["tail_reads"], asked.numbers["pin_reads"], 0.25))
    tail, pin = words.split(" and the pin board ", 1)
    return (tail if asked.numbers["board"] == "tail" else pin), f"at {degrees(asked.answer)}"


def said_of_a_setting(asked):
    joint = Joint(corner(asked.numbers), height=120, tail_thickness=18, tails=3)
    return gauge_words(joint), f"{asked.numbers['letter']}, {from_edge(asked.answer)}"


def said_in_the_table(asked):
    name = asked.numbers.get("setting", "end line, tail board" if asked.exercise == "03-2" else "end bevel")
    line = line_of(settings_words(corner(asked.numbers), asked.length_unit), name)
    return line, offset(asked.answer, asked.length_unit) if asked.exercise == "03-2" else from_square(asked.answer)


def said_line_by_line(asked):
    lines = settings_words(corner(asked.numbers)).splitlines()
    assert len(lines) == 7
    count = sum(line.split()[-1] != "square" or "from" in line for line in lines)
    return f"{count} lines", f"{asked.answer} lines"


def said_in_the_cut_list(asked):
    leans = {name: asked.numbers[name] for name in ("front_lean", "left_lean", "right_lean")}
    front = cut_list(Box(320, 400, 120, **leans)).rows()[0]
    return front[f"{asked.numbers['side']} end line (°)"], f"{asked.answer:+.2f}"


def said_by_the_cell(asked):
    return f"{corner(asked.numbers).corner_rise:8.3f}°", f"{asked.answer:.3f}°"


SAID = {
    "01-2": said_in_the_table, "01-5": said_line_by_line, "02-2": said_of_end_lines, "03-2": said_in_the_table,
    "03-4": said_in_the_table, "04-2": said_of_end_lines, "04-5": said_of_the_miss, "07-2": said_of_the_gap,
    "07-3": said_of_the_closed_box, "11-4": said_by_the_cell,
    "06-2": said_of_the_trial_corner, "09-2": said_of_a_setting, "10-5": said_in_the_cut_list,
}
BY_THE_TABLE = {"06-5"}  # its choices are lines of a table in the page's own prose


def test_every_exercise_that_is_read_off_is_here():
    read_off = {exercise.id for number in notebooks_with_exercises() for exercise in exercises_for(number)
                if exercise.kind == "read off"}
    assert read_off == {*SAID, *BY_THE_TABLE}


@pytest.mark.parametrize("number", SAID)
def test_the_page_says_what_is_asked_for(number):
    exercise = next(exercise for exercise in exercises_for(number[:2]) if exercise.id == number)
    for seed in SEEDS:
        for unit in ("mm", "in") if seed < 20 else ("mm",):
            said, wanted = SAID[number](exercise.ask(seed, unit))
            assert wanted in said, (said, wanted)
