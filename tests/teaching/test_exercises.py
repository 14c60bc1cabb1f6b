"""The exercises: answers by a second route, a remark for each slip, what may be typed, and the file of progress."""

import itertools
import json
import math
import os
import re
import signal
import subprocess
import sys
from functools import cache
from pathlib import Path

import pytest
import splaywork
from exercise_answers import ANSWERS, OF_ANY, SLIPS, answer_of, slip_of
from splaywork.common.printing import DECIMAL
from splaywork.teaching.exercises import (
    KINDS,
    UNITS,
    Progress,
    exercises_for,
    keep,
    load_progress,
    notebooks_with_exercises,
    save_progress,
)
from splaywork.teaching.exercises.core import said_length
from splaywork.teaching.exercises.slips import EDGE_OR_SQUARE

EXERCISES = {exercise.id: exercise for number in notebooks_with_exercises() for exercise in exercises_for(number)}
SEEDS = range(40)
CLOSE = 1e-6  # degrees or mm: an arccosine near a right angle and an iteration keep no more

each = pytest.mark.parametrize("number", EXERCISES)


@cache
def asked(number, unit="mm"):
    """The exercise with the numbers of all seeds."""
    return [EXERCISES[number].ask(seed, unit) for seed in SEEDS]


def in_both_units(number):
    """In inches only where a length is drawn or asked for: there alone anything differs."""
    inches = [EXERCISES[number].ask(seed, "in") for seed in (0, 1)]
    differs = any(one.text != two.text or one.answer_text != two.answer_text
                  for one, two in zip(asked(number)[:2], inches, strict=True))
    return [*asked(number), *(asked(number, "in") if differs else inches)]


def typed(question, value):
    """A value as somebody would type it, finely enough to be told from others."""
    if question.unit in ("choice", "count"):
        return str(value)
    if question.unit == "length":
        return f"{value:.4f} mm"
    return f"{value:.6f} from square" if question.unit == "bevel" else f"{value:.6f}"


# The set as a whole.


def test_every_notebook_asks_before_it_shows_and_numbers_its_exercises_in_order():
    for number in notebooks_with_exercises():
        exercises = exercises_for(number)
        assert [exercise.id for exercise in exercises] == [f"{number}-{n}" for n in range(1, len(exercises) + 1)]
        assert exercises[0].kind == "predict"
        assert {exercise.kind for exercise in exercises} == set(KINDS)


def test_the_second_route_knows_every_exercise_and_no_other():
    assert set(ANSWERS) == set(EXERCISES)
    assert set(SLIPS) <= set(EXERCISES)


@pytest.mark.parametrize("number", ["4", "00", "12", 4, None])
def test_other_notebooks_have_none(number):
    with pytest.raises(ValueError, match="give the number as text"):
        exercises_for(number)


@pytest.mark.parametrize("seed", [-1, 1.0, "1", None, True, 10**9 + 1])
def test_a_seed_is_a_whole_number(seed):
    with pytest.raises(ValueError, match="seed must be a whole number"):
        EXERCISES["04-2"].ask(seed)


def test_lengths_come_in_mm_or_inches():
    with pytest.raises(ValueError, match=r"'mm', 'in' or '0\.001 in'"):
        EXERCISES["04-3"].ask(1, "cm")


# Each exercise, many seeds.


@each
def test_the_answer_is_that_of_the_second_route(number):
    for question in in_both_units(number):
        answer = answer_of(question)
        assert question.answer == (answer if isinstance(answer, str) else pytest.approx(answer, abs=CLOSE))
        assert question.check(typed(question, answer)).right


@each
def test_each_slip_gets_its_own_remark(number):
    for question in in_both_units(number):
        assert question.slips
        remarks = {question.check(typed(question, question.answer)).remark}
        for slip in question.slips:
            verdict = question.check(typed(question, slip.value))
            assert not verdict.right
            assert verdict.slip == slip.kind
            assert verdict.remark == slip.remark_on("from square" if question.unit == "bevel" else "")
            remarks.add(verdict.remark)
        if number not in ONE_RULE:
            assert len(remarks) == len(question.slips) + 1
        assert len({slip.kind for slip in question.slips}) == len(question.slips)


ONE_RULE = {"08-1", "08-5"}  # one rule answers every wrong choice


def test_every_slip_leads_to_what_its_kind_says():
    """Each value worked out a second time, by making the mistake on purpose; every kind of every exercise is met."""
    met = set()
    for number in EXERCISES:
        for question in in_both_units(number):
            for slip in question.slips:
                met.add((number, slip.kind))
                if question.unit == "count":
                    assert slip.value == int(slip.kind) != question.answer
                elif isinstance(slip.value, str):
                    assert slip.value == (slip_of(question, slip.kind) if number in SLIPS else slip.kind) != question.answer
                else:
                    assert slip.value == pytest.approx(slip_of(question, slip.kind), abs=CLOSE), (number, slip.kind)
            if question.unit == "choice":
                assert {slip.value for slip in question.slips} | {question.answer} == set(question.choices)
    assert {(number, kind) for number, kinds in SLIPS.items() for kind in kinds} <= met  # none is worked out in vain
    assert {kind for _, kind in met} >= set(OF_ANY)


def test_two_slips_at_once_are_told_as_two():
    told = set()
    for number in EXERCISES:
        for question in asked(number)[:40]:
            for value, (first, second) in question.pairs:
                verdict = question.check(typed(question, value))
                assert not verdict.right
                assert verdict.slip == f"{first.kind} + {second.kind}"
                assert first.remark in verdict.remark and second.also in verdict.remark
                assert value == pytest.approx(OF_ANY[second.kind](first.value))
                told.add((number, verdict.slip))
    assert ("04-2", "the shortcut + wrong sign") in told
    assert len(told) > 15


def test_a_choice_that_is_wrong_twice_hears_of_both():
    for question in asked("02-1"):
        slips = {slip.value: slip.remark for slip in question.slips}
        way = question.answer.rpartition(" ")[2]
        same = f"the tail board's, and it is longer at the {way}"
        twice = f"the tail board's, and it is longer at the {'top' if way == 'bottom' else 'bottom'}"
        assert "two slips" in slips[twice] and "two slips" not in slips[same]


def test_from_the_edge_is_marked_as_it_is_typed():
    """An answer wanted from the edge is right from the edge, and the lean itself is the slip."""
    for question in asked("02-3"):
        edge = 90 - question.numbers["tail_lean"]
        assert question.as_typed(question.answer) == f"{edge:.1f}° from the edge"
        assert question.check(f"{edge}").right and (edge == 45 or not question.check(f"{90 - edge}").right)
        slip = next(slip for slip in question.slips if slip.kind == EDGE_OR_SQUARE)
        assert question.as_typed(slip.value) == f"{90 - edge:.1f}° from the edge"
        assert "say “from square”" in slip.remark


@each
def test_text_and_hints_hold_the_numbers(number):
    for question in in_both_units(number):
        shown = []
        for name, value in question.numbers.items():
            if isinstance(value, float) and name not in ("tolerance", "off"):
                shown.append(said_length(value, question.length_unit))
            elif isinstance(value, int) and not isinstance(value, bool) and value and name != "another_lean":
                shown.append(str(abs(value)))
            elif name in ("board", "side", "letter", "setting"):
                shown.append(value)
        for part in shown:
            assert part in question.text, (part, question.text)
        assert len(question.hints) == 2
        digits = [part for part in shown if part[0].isdigit()]
        assert not digits or any(part in hint for hint in question.hints for part in digits)
        assert question.hints[0] != question.hints[1]
        sentences = [question.text, question.how, *question.hints, *(slip.remark for slip in question.slips)]
        assert all(text[0].isupper() or text[0].isdigit() or text[0] == "−" for text in sentences), sentences
        assert all(text.endswith((".", "?")) and "{" not in text and "  " not in text for text in sentences), sentences
        assert "nan" not in " ".join(sentences) and "-" not in question.answer_text.replace("one-gauge", "")


@each
def test_seeds_draw_other_numbers_and_the_same_seed_the_same(number):
    assert EXERCISES[number].ask(7) == asked(number)[7]
    texts = {question.text for question in asked(number)}
    assert len(texts) >= 12
    assert asked(number)[3].exercise == number
    assert asked(number)[3].kind == EXERCISES[number].kind
    assert asked(number)[3].unit in UNITS


@each
def test_choices_and_counts_are_not_always_the_same(number):
    questions = asked(number)
    if questions[0].unit in ("choice", "count"):
        answers = [question.answer for question in questions]
        assert len(set(answers)) > 1
        assert max(map(answers.count, answers)) < 0.8 * len(answers)


@each
def test_a_wrong_answer_of_no_listed_kind_hears_which_way_and_where_to_look(number):
    for question in asked(number)[:40]:
        if question.unit == "choice":
            continue
        taken = [question.answer, *(slip.value for slip in question.slips), *(value for value, _ in question.pairs)]
        for off in (3.3, 11.7, -4.1) if question.unit != "count" else (5, 9):
            value = question.answer + off
            if min(abs(value - one) for one in taken) <= question.tolerance:
                continue
            verdict = question.check(typed(question, value))
            assert not verdict.right
            assert verdict.slip == ""
            assert question.look and verdict.remark.endswith(question.look)
            said = verdict.remark.removesuffix(question.look)
            if question.unit == "bevel":
                way = "slants the other way" if value * question.answer < 0 else (
                    "too much" if abs(value) > abs(question.answer) else "too little")
            else:
                ways = {"count": ("too many", "too few"), "length": ("too long", "too short"),
                        "angle": ("too large", "too small")}[question.unit]
                way = ways[off < 0]
            assert way in said
            assert "wrong" not in said.lower()
            assert not any(character.isdigit() for character in said)  # or it could be worked back


# What may be typed.


def test_bevels_and_lengths_are_both_asked_for():
    units = [asked(number)[0].unit for number in EXERCISES]
    assert units.count("bevel") > 5 and units.count("length") > 5


@each
def test_a_bevel_setting_may_be_typed_in_every_form(number):
    if asked(number)[0].unit != "bevel":
        return
    for question in asked(number)[:60]:
        square = question.answer
        for text in (f"{square:.2f} from square", f"{90 - square:.2f} from the edge", f"{90 - square:.1f}° from edge",
                     f"{square:.2f}° from square".replace("-", "−").replace(".", ",")):
            assert question.check(text).right, text
        bare = square if question.taken_from == "square" else 90 - square
        assert question.check(f"{bare:.1f}").right
        assert question.check(f"{bare:.1f}".replace(".", ",")).right  # a decimal comma
        assert question.check(bare).right
        if abs(square) > 1:
            slope = abs(1 / math.tan(math.radians(square)))
            for text in (f"1 in {slope:.2f}", f"1:{slope:.2f}", f"{100 / slope:.1f} mm in 100 mm"):
                verdict = question.check(("-" if square < 0 else "") + text)
                assert verdict.right, text
                assert "slope does as well" in verdict.remark
        else:
            assert question.check("square").right


def test_a_right_answer_says_when_it_was_taken_from_somewhere_else():
    question = EXERCISES["04-2"].ask(3)
    assert "that is the same line" in question.check(f"{90 - question.answer} from the edge").remark
    assert "that is the same line" not in question.check(f"{question.answer} from square").remark
    assert "that is the same line" not in question.check(f"{question.answer}").remark
    edge = EXERCISES["02-3"].ask(3)
    assert "that is the same line" in edge.check(f"{edge.answer} from square").remark
    assert "that is the same line" not in edge.check(f"{90 - edge.answer}").remark


def test_edge_and_square_are_told_apart_as_they_were_said():
    question = EXERCISES["04-4"].ask(1)
    line = question.answer
    upside_down = f"{100 / math.tan(math.radians(line))} in 100"
    bare, edge, slope = (question.check(text) for text in (f"{90 - line}", f"{line} from the edge", upside_down))
    assert {verdict.slip for verdict in (bare, edge, slope)} == {EDGE_OR_SQUARE}
    assert "say “from the edge”" in bare.remark
    assert "say “from square”" in edge.remark
    assert "changed places" in slope.remark
    edge = EXERCISES["02-3"].ask(1)
    assert "say “from square”" in edge.check(f"{edge.answer}").remark


@each
def test_lengths_may_be_typed_in_inches_as_fractions_or_decimals(number):
    if asked(number)[0].unit != "length":
        return
    for question in asked(number, "in")[:60]:
        inches = question.answer / 25.4
        whole, parts = divmod(round(inches * 64), 64)
        fraction = f"{whole} {parts}/64" if whole else f"{parts}/64"
        texts = [f"{inches:.3f}", f"{inches:.3f} in", f"{inches:.3f}\"", f"{question.answer:.2f} mm",
                 f"{question.answer / 10:.3f} cm"]
        if question.tolerance > 25.4 / 128:
            texts += [fraction, f"{fraction} in", f"{inches:.2f}".replace(".", ",")]
        for text in texts:
            assert question.check(text).right, (text, question.answer, inches)


def test_choices_may_be_typed_by_letter_or_in_words():
    for question in asked("04-1")[:20]:
        letter = "ABC"[question.choices.index(question.answer)]
        for text in (letter, letter.lower(), f" {letter}. ", question.answer, question.answer.upper()):
            assert question.check(text).right
        assert not question.check("ABC".replace(letter, "")[0]).right


@pytest.mark.parametrize("text", ["", "   ", "abc", "12,345", "1/0", "1 in 0", "9" * 400, "12 mm 3", "__import__('os')",
                                  None])
@pytest.mark.parametrize("number", ["01-2", "04-1", "04-2", "04-3", "09-1"])
def test_what_cannot_be_read_is_refused_in_one_sentence(number, text):
    question = EXERCISES[number].ask(1)
    with pytest.raises(ValueError) as refused:
        question.check(text)
    sentence = str(refused.value)
    assert question.label in sentence
    assert sentence.endswith(".") and "\n" not in sentence and len(sentence) < 300


# The file of a learner's progress.


def test_progress_is_kept_and_read_back(tmp_path):
    path = tmp_path / "my progress.json"
    assert load_progress(path) == Progress()
    keep(path, "04-2", False, "the shortcut")
    keep(path, "07-1", False)
    progress = keep(path, "04-2", True)
    assert progress == load_progress(path) == Progress({"04-2": 2, "07-1": 1}, {"04-2": 1, "07-1": 0},
                                                       {"04-2": {"the shortcut": 1}})
    assert progress.done("04-2")
    assert not progress.done("07-1")
    assert not progress.done("11-1")
    assert [path] == list(tmp_path.iterdir())


GOOD = '{"version": 1, "exercises": {"04-2": {"tries": 2, "right": 1}}}'
NEW = '{"kind": "answers to exercises", "version": 2, "exercises": {"04-2": {"tries": 2, "right": 1, "slips": {"run": 1}}}}'
BAD = ["", GOOD[:-2], "[]", "null", "{}", '{"version": 1}', GOOD.replace("1,", "2,", 1), GOOD.replace("1,", "true,", 1),
       GOOD.replace("{", '{"more": 1, ', 1), GOOD.replace("04-2", "04"), GOOD.replace("04-2", "../04-2"),
       GOOD.replace('"tries": 2', '"tries": 0'), GOOD.replace('"tries": 2', '"tries": 2.0'),
       GOOD.replace('"tries": 2', '"tries": true'), GOOD.replace('"right": 1', '"right": -1'),
       GOOD.replace('"right": 1', '"right": NaN'), GOOD.replace('"right": 1', '"wrong": 1'),
       GOOD.replace('{"tries": 2, "right": 1}', "3"), GOOD.replace("2", "9" * 5000), "[" * 100_000, GOOD + " " * 200_000,
       GOOD.encode("utf-16"), b"\xff\xfe\x00", NEW.replace("answers to exercises", "a plan"),
       NEW.replace('"version": 2', '"version": 1'), GOOD.replace('"version": 1', '"version": 2'),
       NEW.replace('{"run": 1}', "[]"), NEW.replace('"run": 1', '"run": 0'), NEW.replace('"run": 1', '"run": true'),
       NEW.replace('"run"', '"ru\\u0000n"'), NEW.replace('"run"', f'"{"run" * 100}"'),
       NEW.replace('"run": 1', ", ".join(f'"{n}": 1' for n in range(60)))]


@pytest.mark.parametrize("content", BAD, ids=range(len(BAD)))
def test_a_damaged_file_gets_one_sentence_and_stays_as_it_is(tmp_path, content):
    path = tmp_path / "progress.json"
    content = content if isinstance(content, bytes) else content.encode()
    path.write_bytes(content)
    for attempt in (load_progress, lambda path: keep(path, "04-2", True)):
        with pytest.raises(ValueError, match=r"'progress\.json'") as refused:
            attempt(path)
        assert str(refused.value).endswith("to begin again.")
        assert "\n" not in str(refused.value)
    assert path.read_bytes() == content
    assert [path] == list(tmp_path.iterdir())


def test_the_good_file_that_those_were_made_from_is_read(tmp_path):
    path = tmp_path / "progress.json"
    path.write_text(GOOD)
    assert load_progress(path) == Progress({"04-2": 2}, {"04-2": 1})
    path.write_text(NEW, encoding="utf-8-sig")  # a byte-order mark is read over
    assert load_progress(path) == Progress({"04-2": 2}, {"04-2": 1}, {"04-2": {"run": 1}})


def test_a_pipe_is_refused_and_not_waited_for(tmp_path):
    os.mkfifo(tmp_path / "progress.json")
    with pytest.raises(ValueError, match="is no file"):
        load_progress(tmp_path / "progress.json")


def test_what_the_disk_refuses_leaves_the_old_file(tmp_path, monkeypatch):
    path = tmp_path / "progress.json"
    save_progress(path, Progress({"04-2": 2}, {"04-2": 1}))
    before = path.read_bytes()
    monkeypatch.setattr(os, "replace", lambda *_: (_ for _ in ()).throw(OSError(28, "No space left on device")))
    with pytest.raises(OSError, match="No space"):
        keep(path, "04-2", True)
    assert path.read_bytes() == before
    assert [path] == list(tmp_path.iterdir())


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="needs a way to kill a process outright")
@pytest.mark.parametrize("step", ["replace", "fsync"])
def test_killed_in_the_middle_of_saving_the_old_file_is_whole(tmp_path, step):
    path = tmp_path / "progress.json"
    keep(path, "04-2", True)
    before = path.read_bytes()
    code = ("import os, signal, sys; from splaywork.teaching.exercises import keep; "
            f"os.{step} = lambda *_: os.kill(os.getpid(), signal.SIGKILL); keep(sys.argv[1], '04-3', True)")
    environment = {**os.environ, "PYTHONPATH": str(Path(splaywork.__file__).parents[1])}
    killed = subprocess.run([sys.executable, "-c", code, str(path)], env=environment, check=False)
    assert killed.returncode == -signal.SIGKILL
    assert path.read_bytes() == before
    assert load_progress(path).done("04-2")


def test_counts_stop_growing_rather_than_spoil_the_file(tmp_path):
    path = tmp_path / "progress.json"
    most = Progress({"04-2": 1_000_000}, {"04-2": 1_000_000})
    save_progress(path, most)
    assert keep(path, "04-2", True) == load_progress(path) == most


def test_the_file_says_what_it_is(tmp_path):
    path = tmp_path / "progress.json"
    keep(path, "04-2", True)
    assert json.loads(path.read_text()) == {"kind": "answers to exercises", "version": 2,
                                            "exercises": {"04-2": {"tries": 1, "right": 1, "slips": {}}}}


def test_no_two_exercises_ask_the_same():
    texts = [asked(number)[1].text for number in EXERCISES]
    assert all(one != two for one, two in itertools.combinations(texts, 2))


@pytest.mark.parametrize(("number", "unit", "near"), [("04-2", "mm", "Within 0.5° counts"),
                                                      ("04-5", "mm", "Within 0.1°"),
                                                      ("04-3", "mm", "Within 0.5 mm"), ("04-3", "in", "Within 0.020 in"),
                                                      ("07-4", "mm", "Within 0.1 mm"), ("09-1", "mm", "Type a whole"),
                                                      ("04-1", "mm", "Choose one.")])
def test_how_near_is_right_is_said(number, unit, near):
    question = EXERCISES[number].ask(1, unit)
    assert near in question.how
    if "Within" in near:
        for way in (-1, 1):
            inside, outside = (question.answer + way * question.tolerance * times for times in (0.99, 1.01))
            assert question.check(typed(question, inside)).right
            assert not question.check(typed(question, outside)).right


# Decimal inches.

@each
def test_decimal_inches_ask_the_same_as_inches_without_a_fraction(number):
    """The same numbers and answers as in inches, nothing in 64ths or, but for the example of a slope, in mm."""
    for seed in (1, 2, 3):
        question, inches = EXERCISES[number].ask(seed, DECIMAL), EXERCISES[number].ask(seed, "in")
        assert question.numbers == inches.numbers
        told = " ".join([question.text, question.how, question.answer_text, *question.hints, *question.choices,
                         *(slip.remark for slip in question.slips)]).replace("20 mm in 100 mm", "")
        assert not re.findall(r"\d/\d+ in\b|\d/\d+″|\bmm\b", told), told
        if question.unit != "choice":
            assert question.answer == inches.answer and question.check(question.as_typed(question.answer)).right


def test_decimal_inches_are_written_with_three_decimals():
    texts = " ".join(EXERCISES[number].ask(1, DECIMAL).text for number in EXERCISES)
    assert len(re.findall(r"\d\.\d{3} in\b", texts)) > 15
