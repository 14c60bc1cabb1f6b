"""What an exercise of the kind "read off" asks for is said by the panel, the sheet or the notebook's own cell that it names."""

import re

import nbformat
import pytest
from places import NOTEBOOKS
from splaywork import Box, Corner, Joint, TrialCorner, cut_list
from splaywork.common.printing import degrees, gap
from splaywork.corner.words import corner_words, settings_table
from splaywork.drawing.paper import Label
from splaywork.formulas.forms import said
from splaywork.joint.settings_words import bevel_words
from splaywork.one_gauge.one_gauge import OneGauge
from splaywork.one_gauge.pictures import picture_of
from splaywork.one_gauge.words import say_good_enough
from splaywork.teaching.bench_card_sheet import bench_card
from splaywork.teaching.exercises import exercises_for, notebooks_with_exercises
from splaywork.trial.words import say_measured

SEEDS = range(12)
QUANTITY = re.compile(r"[−-]?\d+(?:\.\d+)?(?: \d+/\d+)?(?:°| mm| in|″)?(?: from the edge| from square)?(?: in 100 mm| in 4″)?")


def corner(numbers):
    return Corner(numbers.get("tail_lean", 0), numbers.get("pin_lean", 0), numbers.get("plan_angle", 90))


def shows(asked, text):
    """Whether some quantity in the text counts as the answer; its sign stands in words there."""
    for found in QUANTITY.findall(str(text)):
        for typed in {found, found.replace("″", " in")}:
            for value in {typed, "-" + typed.lstrip("−-")} if asked.answer < 0 else {typed}:
                try:
                    if asked.check(value).right:
                        return True
                except ValueError:
                    continue
    return False


def said_of_end_lines(asked):
    return corner_words(corner(asked.numbers))


def said_of_the_gap(asked):
    return picture_of("hold the leans")().words(corner(asked.numbers), unit=asked.length_unit, height=asked.numbers["height"])


def said_of_the_closed_box(asked):
    return picture_of("close the corners")().words(corner(asked.numbers), unit="mm", apart=0)


def said_of_the_trial_corner(asked):
    return say_measured(TrialCorner(asked.numbers["tail_reads"], asked.numbers["pin_reads"], 0.25))


def said_of_a_setting(asked):
    return bevel_words(Joint(corner(asked.numbers), height=120, tail_thickness=18, tails=3))


def said_in_the_table(asked):
    name = asked.numbers.get("setting", "end line, tail board" if asked.exercise == "03-2" else "end bevel")
    table = settings_table(corner(asked.numbers), asked.length_unit)
    line = next(" ".join(row) for row in table.rows if row[0].lower() == name)
    return line.replace("square", "0.0° from square") if line.endswith(" square") else line


def said_on_the_card(asked):
    pages = bench_card(corner(asked.numbers))
    return " ".join(f"{item.text} from square" for page in pages for item in page.around
                    if isinstance(item, Label) and item.size > 20)


def said_under_the_map(asked):
    here, width = corner(asked.numbers), asked.numbers["width"]
    assert max(OneGauge(here).gap_over(width, board) for board in ("tail", "pin")) == pytest.approx(asked.answer)
    return say_good_enough(here, width=width, tolerance=0.2) if asked.length_unit == "mm" else f"{asked.answer} mm"


def said_line_by_line(asked):
    return str(sum(value != "square" for _, value in settings_table(corner(asked.numbers)).rows))


def said_in_the_cut_list(asked):
    leans = {name: asked.numbers[name] for name in ("front_lean", "left_lean", "right_lean")}
    front = cut_list(Box(320, 400, 120, **leans)).rows()[0]
    column = f"{asked.numbers['side']} end line (°)"
    return f"{front[column]} from square".replace("+", "")


def said_by_the_cell(asked):
    """What the cell of notebook 11 itself prints when its corner is this one."""
    path, = NOTEBOOKS.glob("11_*.ipynb")
    cell = next(cell.source for cell in nbformat.read(path, as_version=4).cells
                if cell.cell_type == "code" and '"corner_rise"' in cell.source)
    printed = []
    exec(cell, {"corner": corner(asked.numbers), "said": said,
                "print": lambda *texts: printed.append(" ".join(map(str, texts)))})
    return "\n".join(printed)


SAID = {
    "01-2": said_in_the_table, "01-5": said_line_by_line, "02-2": said_of_end_lines, "03-2": said_in_the_table,
    "03-4": said_in_the_table, "04-2": said_of_end_lines, "04-5": said_of_end_lines, "05-5": said_on_the_card,
    "06-2": said_of_the_trial_corner, "07-2": said_of_the_gap, "07-3": said_of_the_closed_box, "08-2": said_under_the_map,
    "09-2": said_of_a_setting, "10-5": said_in_the_cut_list, "11-4": said_by_the_cell,
}
BY_THE_TABLE = {"06-5"}  # its choices are lines of a table in the page's own prose


@pytest.mark.parametrize("number", ["04-5", "06-2", "07-3", "11-4"])
def test_an_angle_counts_as_it_is_printed(number):
    """To 0.1°, as panels print angles, and a tenth to either side of the true one; twice that is too far."""
    exercise = next(exercise for exercise in exercises_for(number[:2]) if exercise.id == number)
    for seed in range(100):
        asked = exercise.ask(seed)
        assert asked.check(degrees(asked.answer)).right and degrees(asked.answer) in asked.answer_text
        assert all(asked.check(f"{asked.answer + off:.6f}").right == (abs(off) < 0.1) for off in (-0.2, -0.099, 0.099, 0.2))


@pytest.mark.parametrize("number", ["07-2", "08-2"])
def test_a_gap_counts_as_it_is_printed(number):
    exercise = next(exercise for exercise in exercises_for(number[:2]) if exercise.id == number)
    for seed in range(100):
        for unit in ("mm", "in"):
            asked = exercise.ask(seed, unit)
            assert asked.check(gap(asked.answer, unit)).right, (asked.text, gap(asked.answer, unit), asked.answer_text)


def test_every_exercise_that_is_read_off_is_here():
    read_off = {exercise.id for number in notebooks_with_exercises() for exercise in exercises_for(number)
                if exercise.kind == "read off"}
    assert read_off == {*SAID, *BY_THE_TABLE}


@pytest.mark.parametrize("number", SAID)
def test_the_page_says_what_is_asked_for(number):
    exercise = next(exercise for exercise in exercises_for(number[:2]) if exercise.id == number)
    for seed in SEEDS:
        for unit in ("mm", "in") if seed < 5 else ("mm",):
            asked = exercise.ask(seed, unit)
            assert shows(asked, SAID[number](asked)), (asked.text, SAID[number](asked), asked.answer_text)
