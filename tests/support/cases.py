"""How much is tried: each claim with some of its cases, or, in a thorough run (pytest --thorough), with all of them."""

import os

import pytest
from hypothesis import settings

THOROUGH = "SPLAYWORK_THOROUGH" in os.environ  # set by tests/conftest.py before any test is imported


def further(cases):
    """Cases for `parametrize` that only a thorough run tries; each is one value, or the tuple of several arguments."""
    return [pytest.param(*case if isinstance(case, tuple) else (case,), marks=pytest.mark.thorough) for case in cases]


def sample(cases, first):
    """All the cases for `parametrize`: those whose places are in `first` always, the others in a thorough run."""
    return [case if place in first else further([case])[0] for place, case in enumerate(cases)]


def some(cases, count):
    """Within one test: `count` of the cases, evenly spread from the first to the last; in a thorough run all of them."""
    cases = list(cases)
    if THOROUGH or count >= len(cases):
        return cases
    return [cases[round(place * (len(cases) - 1) / (count - 1))] for place in range(count)]


def examples(count):
    """Settings for a hypothesis test that has `count` examples in a thorough run, and a third of them otherwise."""
    return settings(max_examples=count if THOROUGH else max(4, count // 3))
