"""The checks refuse what is wrong, in one sentence, and keep what is right."""

import math
from dataclasses import dataclass
from fractions import Fraction

import numpy as np
import pytest
import sympy as sp
from splaywork.common import checks

# what no number is, whatever is asked for
NO_NUMBERS = [None, "5", "5 mm", b"5", True, np.True_,
              [1, "2"], [True], 1j, np.array([1j]), {}, {1: 2}, object(), math.nan, math.inf,
              -math.inf,
              [1.0, math.nan], [[1], [1, 2]], "x" * 500, np.datetime64("2020-01-01"), float, np.str_("5")]
CHECKS = [checks.numbers, checks.number, checks.angles, checks.angle, checks.error, checks.sizes, checks.size, checks.amount,
          checks.count]
SINGLE = [checks.number, checks.angle, checks.error, checks.size, checks.amount, checks.count]


def refusal(check, *given, **more):
    with pytest.raises(ValueError) as caught:
        check(*given, **more)
    assert type(caught.value) is ValueError
    said = str(caught.value)
    assert said.startswith("The ") and said.endswith(".") and "\n" not in said and len(said) < 250, said
    return said


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.__name__)
@pytest.mark.parametrize("given", NO_NUMBERS, ids=lambda given: type(given).__name__ + repr(given)[:12])
def test_what_is_no_number_is_refused_in_one_sentence(check, given):
    assert refusal(check, "tail lean", given).startswith("The tail lean must be ")


@pytest.mark.parametrize("check", SINGLE, ids=lambda check: check.__name__)
@pytest.mark.parametrize("given", [[1, 2], (3,), np.ones((2, 2)), []], ids=repr)
def test_one_number_is_no_array(check, given):
    assert "must be" in refusal(check, "height", given)


@pytest.mark.parametrize("given", [3, 3.0, np.float32(3), np.int8(3), np.array(3), Fraction(3), sp.Integer(3)], ids=repr)
def test_any_kind_of_number_becomes_a_float(given):
    for check in CHECKS[:-1]:
        kept = check("height", given)
        assert type(kept) is float and kept == 3


def test_an_array_is_kept_as_its_own():
    theirs = np.array([1.0, 2.0])
    ours = checks.angles("tail lean", theirs)
    theirs[0] = 50
    assert ours.tolist() == [1, 2]
    with pytest.raises(ValueError, match="read-only"):
        ours[0] = 3
    assert checks.sizes("height", [Fraction(1, 2), 2]).tolist() == [0.5, 2]


@pytest.mark.parametrize(("check", "given", "sentence"), [
    (checks.size, 0, "The height must be a number of mm above 0, not 0."),
    (checks.size, -5, "The height must be a number of mm above 0, not −5."),
    (checks.amount, -1, "The height must be a number of mm, 0 or more, not −1."),
    (checks.size, [1, 2], "The height must be one number of mm above 0, not [1, 2]."),
    (checks.angles, 90, "The height is 90°: keep it between −90° and 90°."),
    (checks.error, 6, "The height must be a number from 0° to 5°, not 6."),
    (checks.count, 0, "The height must be a whole number, 1 or more, not 0."),
    (checks.count, 2.0, "The height must be a whole number, 1 or more, not 2."),
    (checks.size, 10 ** 400, "The height must be a number of mm above 0, not the int given."),
    (checks.sizes, np.array([1, -3, -4]), "The height must be a number of mm above 0, not −3."),
    (checks.flag, 1, "The height must be True or False, not 1."),
    (checks.text, "two\nlines", "The height must be text on one line, 1 to 60 characters, not 'two\\nlines'."),
])
def test_a_sentence_says_what_was_given_and_what_is_wanted(check, given, sentence):
    assert refusal(check, "height", given) == sentence


def test_limits_themselves_will_do():
    assert (checks.amount("play", 0), checks.error("spread", 5), checks.count("tails", 7, 1, 7)) == (0, 5, 7)
    assert checks.count("tails", np.int64(3)) == 3 and checks.flag("level", np.True_) is True
    assert math.copysign(1, checks.amount("play", -0.0)) == 1


def test_a_choice_names_what_there_is():
    assert checks.choice("board", "pin", ("tail", "pin")) == "pin"
    for given in ("side", None, ["tail"], 3, {}):
        assert refusal(checks.choice, "board", given, ("tail", "pin")).startswith("The board can be 'tail' or 'pin', not ")


def test_a_kind_is_asked_for_by_an_example():
    assert checks.instance("whole", 3, int, "3") == 3
    assert refusal(checks.instance, "whole", "3", int, "3") == "The whole must be a int, such as 3, not '3'."


def test_shapes_that_do_not_go_together_are_named():
    assert checks.together(tail_lean=np.ones(3), pin_lean=np.ones((2, 1))) == (2, 3)
    assert refusal(checks.together, tail_lean=np.ones(3), pin_lean=1, plan_angle=np.ones(2)) == (
        "The tail lean, the pin lean and the plan angle have shapes (3,), () and (2,), which do not broadcast together: "
        "give them one shape, or single numbers.")


@dataclass(frozen=True, eq=False)
class Holder(checks.Comparable):
    points: np.ndarray
    by_name: dict
    name: str = "a"


def test_values_that_hold_arrays_compare_as_one():
    one, two = (Holder(np.array([0.0, 1.0]), {"tail": (np.array([2.0]), 3)}) for _ in range(2))
    assert one is not two and one == two and (one == two) is True and hash(one) == hash(two)
    others = [Holder(np.array([-0.0, 2.0]), one.by_name), Holder(one.points, {"pin": one.by_name["tail"]}),
              Holder(one.points, {"tail": (np.array([2.0]), 4)}), Holder(one.points, one.by_name, "b"),
              Holder(np.array([0.0]), one.by_name)]
    for other in [*others, 3, None, np.array([0.0, 1.0])]:
        assert not np.all(one == other)
    assert len({one, two, *others}) == 6
