"""The front door: what a user reads in `help`, and every example of it run."""

import doctest
import inspect
from importlib import import_module
from pathlib import Path

import pytest
import splaywork

PACKAGE = Path(splaywork.__file__).parent
MODULES = sorted(".".join(path.relative_to(PACKAGE.parent).with_suffix("").parts).removesuffix(".__init__")
                 for path in PACKAGE.rglob("*.py") if ">>> " in path.read_text(encoding="utf-8"))
VALUES = {"NAMED_CORNERS", "__version__"}  # they show themselves; all else at the door is called, and has an example


@pytest.mark.parametrize("name", MODULES)
def test_examples_give_what_they_say(name):
    outcome = doctest.testmod(import_module(name), optionflags=doctest.NORMALIZE_WHITESPACE)
    assert outcome.attempted and not outcome.failed


@pytest.mark.parametrize("name", sorted({*splaywork.__all__} - VALUES))
def test_every_name_has_a_docstring_and_an_example_of_itself(name):
    words = inspect.getdoc(getattr(splaywork, name))
    assert words.partition("\n\n")[0].endswith(".")
    assert any(name in example.source for example in doctest.DocTestParser().get_examples(words))


def test_only_values_have_no_example():
    assert {name for name in splaywork.__all__ if not callable(getattr(splaywork, name))} == VALUES


def test_what_the_issue_lists_has_its_parameters_and_errors_in_sections():
    for name in ("Corner", "OneGauge", "TrialCorner", "Joint", "JointSettings", "Box", "RegularBox", "Opening", "Clearances",
                 "Allowances", "Plan", "Item", "load_plan", "save_plan", "cut_list", "bottom_panel", "wedge_cauls",
                 "closed_forms", "write_up", "jitter", "good_enough"):
        words = inspect.getdoc(getattr(splaywork, name))
        assert "\nParameters\n-----" in words and "\nRaises\n-----" in words, name
