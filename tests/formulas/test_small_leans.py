"""The rule of thumb for small leans: the growth it is summed up from, and how far it may be off."""

import mpmath
import numpy as np
import pytest
import sympy as sp
from splaywork.formulas.forms import compute
from splaywork.formulas.shortcut import error_growth, one_gauge_error
from splaywork.formulas.symbols import a, b

OTHER = {"pin": a, "tail": b}


def true_error(other, own):
    """Struck line less true line with 40 digits, radians: the other board's lean, and the board's own."""
    with mpmath.workdps(40):
        other, own = mpmath.radians(mpmath.mpf(other)), mpmath.radians(mpmath.mpf(own))
        return other - mpmath.atan(mpmath.tan(other) * mpmath.cos(own))


@pytest.mark.parametrize("board", ["pin", "tail"])
def test_the_growth_is_the_errors_derivative(board):
    own = {"pin": b, "tail": a}[board]
    for values in ({a: 0.3, b: 0.7}, {a: -0.9, b: 0.2}, {a: 1.2, b: -1.1}):
        true = sp.diff(one_gauge_error(board), own).subs(values).evalf(30)
        assert abs(error_growth(board).subs(values).evalf(30) - true) < 1e-14


@pytest.mark.parametrize("board", ["pin", "tail"])
def test_the_rule_of_thumb_is_within_its_bound(board):
    """Wherever the bound is said to hold, and near enough to it somewhere that a smaller one would not do."""
    other, own = (grid.ravel() for grid in np.meshgrid(np.linspace(-80, 80, 65), np.linspace(-80, 80, 65)))
    holds = (np.sin(np.radians(other)) ** 2 * np.radians(own) ** 2 <= 0.5) & (other != 0) & (own != 0)
    other, own = other[holds], own[holds]
    leans = dict(zip(("tail_lean", "pin_lean") if board == "pin" else ("pin_lean", "tail_lean"), (other, own), strict=True))
    rule, bound = (np.radians(compute(f"small_lean_{board}_{what}", **leans)) for what in ("error", "bound"))
    misses = np.array([float(abs(true_error(*pair) - by_rule)) for *pair, by_rule in zip(other, own, rule, strict=True)])
    assert len(misses) > 2500 and (misses <= bound * (1 + 1e-9) + 1e-15).all()
    assert (misses / bound).max() > 0.7


def test_up_to_forty_degrees_the_bound_holds_for_any_other_lean():
    assert np.radians(40) ** 2 < 0.5 < np.radians(41) ** 2
