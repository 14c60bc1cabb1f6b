"""The forms to print are the forms that compute: proven by sympy, and compared in numbers at corners of both signs."""

import numpy as np
import pytest
import sympy as sp
from splaywork import Corner, OneGauge
from splaywork.formulas.printed import difference, eta, printed_forms, xi
from splaywork.formulas.symbols import a, b, w

CORNERS = [Corner(16, 11), Corner(-20, 35), Corner(28, 24), Corner(-12, -40), Corner(0, 15)]


@pytest.mark.parametrize("name", printed_forms())
def test_no_difference_is_left(name):
    assert difference(name) == 0


def true_value(name, corner):
    """The library's number: degrees, or a plain number for the height factor."""
    if name == "closed_tail_lean":
        return OneGauge(corner).closed_lean("tail")
    if name == "closed_height_factor":
        return OneGauge(corner).height_factor
    return corner.tail_lean if name == "tail_lean_from_end_lines" else getattr(corner, name)


@pytest.mark.parametrize("name", printed_forms())
def test_a_form_to_print_gives_the_numbers_and_their_signs(name):
    for corner in CORNERS + ([] if printed_forms()[name].square_only else [Corner(10, 20, 75)]):
        given = {a: corner.tail_lean, b: corner.pin_lean, w: corner.plan_angle, xi: corner.pin_end_line,
                 eta: corner.tail_end_line}
        value = float(printed_forms()[name].form.subs({symbol: sp.rad(degrees) for symbol, degrees in given.items()}))
        value = value if name == "closed_height_factor" else np.degrees(value)
        assert value == pytest.approx(true_value(name, corner), abs=1e-10), corner


def test_the_height_factor_shows_where_nothing_is_left():
    factor = printed_forms()["closed_height_factor"].form
    assert factor.subs(b, sp.pi / 2 - a).simplify() == 0
