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
# Values as they stand; moving pictures and a long sheet, which take seconds. What a class prints or handles has its own tests.
WITHOUT = {"NAMED_CORNERS", "__version__", "closing_corners_still", "lean_dragged_still", "paper_model_still",
           "projection_moving_still", "save_trial_sheet", "setting_errors_still"}
CLASS = "teaching."


@pytest.mark.parametrize("name", MODULES)
def test_examples_give_what_they_say(name):
    outcome = doctest.testmod(import_module(name), optionflags=doctest.NORMALIZE_WHITESPACE)
    assert outcome.attempted and not outcome.failed


@pytest.mark.parametrize("name", splaywork.__all__)
def test_every_name_has_a_docstring_and_an_example(name):
    value = getattr(splaywork, name)
    if callable(value):
        words = inspect.getdoc(value)
        assert words and words.partition("\n\n")[0].endswith(".")
        assert name in WITHOUT or splaywork._HOME[name].startswith(CLASS) or ">>> " in words


def test_most_names_have_an_example():
    assert sum(">>> " in (inspect.getdoc(getattr(splaywork, name)) or "") for name in splaywork.__all__) > 105


def test_what_the_issue_lists_has_its_parameters_and_errors_in_sections():
    for name in ("Corner", "OneGauge", "TrialCorner", "Joint", "JointSettings", "Box", "RegularBox", "Opening", "Clearances",
                 "Allowances", "Plan", "Item", "load_plan", "save_plan", "cut_list", "bottom_panel", "wedge_cauls",
                 "closed_forms", "write_up", "jitter", "good_enough"):
        words = inspect.getdoc(getattr(splaywork, name))
        assert "\nParameters\n-----" in words and "\nRaises\n-----" in words, name
