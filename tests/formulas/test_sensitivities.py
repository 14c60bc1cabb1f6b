"""Every sensitivity against differences of its own form with 40 digits, and in each text that is written of it."""

import math
import re
from xml.etree import ElementTree

import mpmath
import numpy as np
import pytest
import sympy as sp
from pylatexenc.latexwalker import LatexWalker
from splaywork import Corner, TrialCorner, closed_forms, sensitivities, table
from splaywork.formulas import forms
from splaywork.formulas.forms import FORMS, SENSITIVITIES, compute, is_offered, rated, said
from splaywork.formulas.symbols import QUANTITIES
from splaywork.formulas.write_up import TARGETS, write_up
from spreadsheet import evaluated
from write_ups import GCC, LENGTHS, TEX, VALUES, called, document, in_c, typeset

SQUARE = [name for name in SENSITIVITIES if is_offered(name)]
GENERAL = [name for name in SENSITIVITIES if is_offered(name, None)]
# Corners and boards of both signs, some with one board upright; and what else the forms take.
GIVEN = [VALUES | changed for changed in (
    {}, {"tail_lean": -31.0, "pin_lean": -12.0, "lean": -20.0, "end_line": -8.0, "end_bevel": -5.0, "plan_angle": 75.0,
         "pin_end_line": -20.0, "tail_end_line": 9.0, "run": -30.0, "error": -0.1},
    {"tail_lean": 0.5, "pin_lean": 44.0, "plan_angle": 120.0, "pin_end_line": 31.0, "tail_end_line": 25.0},
    {"tail_lean": 28.0, "pin_lean": 24.0, "plan_angle": 90.0, "lean": 0.0, "end_line": 0.0})]


def given_for(name, values):
    return {quantity: values[quantity] for quantity in forms.form_of(name).quantities}


def true_change(name, values):
    """The form's partial derivative by differences, in a reader's units: mpmath puts degrees and mm into the form itself."""
    base, _, by = name.partition("_per_")
    form = FORMS[base]
    exact = sp.lambdify(form.symbols, form.derive(), "mpmath")
    turns = {"angle": mpmath.radians, "tangent": lambda degrees: mpmath.tan(mpmath.radians(degrees))}

    def in_units(*readings):
        kinds = [QUANTITIES[symbol].kind for symbol in form.symbols]
        value = exact(*[turns.get(kind, mpmath.mpf)(one) for kind, one in zip(kinds, readings, strict=True)])
        return mpmath.degrees(value) if form.kind == "angle" else value

    with mpmath.workdps(40):
        at = [mpmath.mpf(values[quantity]) for quantity in form.quantities]
        if base == "end_opening":  # from no error, where the gap has a corner: one way
            at = [mpmath.mpf(0) if quantity.endswith("_error") else one
                  for one, quantity in zip(at, form.quantities, strict=True)]
            step = [mpmath.mpf("1e-15") if quantity == by else 0 for quantity in form.quantities]
            return in_units(*[one + more for one, more in zip(at, step, strict=True)]) / mpmath.mpf("1e-15")
        return mpmath.diff(in_units, tuple(at), tuple(int(quantity == by) for quantity in form.quantities))


def test_one_rule_names_them_and_every_form_has_its_own():
    """A form, `_per_`, a quantity: all quantities of every form but the rim bevels, the volumes and how an end opens."""
    assert not any("_per_" in name for name in FORMS)
    without = {"tail_rim_bevel", "pin_rim_bevel", "inside_volume", "regular_volume", "end_opening"}
    for name in closed_forms():
        quantities = FORMS[name].quantities if name not in without else ()
        if name == "end_opening":
            quantities = ("end_line_error", "end_bevel_error")
        assert rated(name) == {quantity: f"{name}_per_{quantity}" for quantity in quantities}
        assert list(sensitivities(name)) == list(rated(name).values())
    assert len(SQUARE) == len(SENSITIVITIES) > 90 and 60 < len(GENERAL) < len(SQUARE)


@pytest.mark.parametrize("name", SENSITIVITIES)
def test_it_is_the_change_for_each_degree_or_mm(name):
    for values in GIVEN:
        assert compute(name, **given_for(name, values)) == pytest.approx(float(true_change(name, values)), rel=1e-9, abs=1e-13)


@pytest.mark.parametrize("quantity", ["tail_end_line", "pin_end_line", "dihedral", "corner_rise", "level_on_square_end"])
def test_it_is_how_a_corner_changes(quantity):
    """The same by `Corner` alone, a hundredth of a degree either way."""
    leans = {"tail_lean": 16.0, "pin_lean": -35.0, "plan_angle": 82.0}
    for by in leans:
        more, less = (getattr(Corner(**(leans | {by: leans[by] + way})), quantity) for way in (0.01, -0.01))
        assert compute(f"{quantity}_per_{by}", **leans) == pytest.approx((more - less) / 0.02, abs=1e-6)


def test_known_beforehand():
    """One board upright: its neighbour's end line is its lean and changes with it, degree for degree."""
    assert compute("pin_end_line_per_tail_lean", tail_lean=35, pin_lean=0) == pytest.approx(1)
    assert compute("pin_end_line_per_pin_lean", tail_lean=35, pin_lean=0) == 0
    assert compute("dihedral_per_plan_angle", tail_lean=0, pin_lean=0) == pytest.approx(1)
    assert compute("slant_width_per_height", lean=60, height=100) == pytest.approx(2)


def test_a_trial_corner_s_margin_is_made_of_them():
    piece = TrialCorner(tail_end_line=10.9, pin_end_line=15.2, resolution=(0.1, 0.3))
    lines = {"tail_end_line": 10.9, "pin_end_line": 15.2}
    margin = sum(abs(compute(f"tail_lean_from_end_lines_per_{line}", **lines)) * span
                 for line, span in zip(lines, (0.1, 0.3), strict=True))
    assert piece.lean("tail").margin == pytest.approx(margin)


# --- In each text. ---


@pytest.mark.parametrize(("plan", "names"), [(90, SQUARE), (None, GENERAL), (112.5, GENERAL)])
def test_python(plan, names):
    space, values = {}, VALUES | {"plan_angle": plan or 80.0}
    exec(write_up(names, "python", plan), space)
    for name in names:
        function = space[name]
        arguments = function.__code__.co_varnames[:function.__code__.co_argcount]
        result = function(**{argument: values[argument] for argument in arguments})
        assert result == pytest.approx(float(compute(name, **given_for(name, values))), rel=1e-9, abs=1e-13), name


@GCC
def test_c(tmp_path):
    """Two plan angles and any, a translation unit each: no warning, and the numbers of `compute`."""
    sources, calls, true = [], [], []
    for at, plan in enumerate((90, 75, None)):
        names, values = (SQUARE if plan == 90 else GENERAL), VALUES | {"plan_angle": plan or 90.0}
        source = re.sub(r"^double (\w+)\(", rf"double \g<1>_{at}(", write_up(names, "c", plan), flags=re.MULTILINE)
        signatures = dict(re.findall(r"^double (\w+)\((.*)\)$", source, re.MULTILINE))
        assert list(signatures) == [f"{name}_{at}" for name in names]
        sources.append(source)
        calls += [called(name, signature) for name, signature in signatures.items()]
        true += [float(compute(name, **given_for(name, values))) for name in names]
    assert in_c(tmp_path, sources, calls) == pytest.approx(true, rel=1e-9, abs=1e-13)


@pytest.mark.parametrize("form", [name for name in closed_forms() if rated(name)])
def test_spreadsheet(form):
    """A form's sensitivities as a block at A1, each with its unit."""
    names = list(rated(form).values())
    rows = [line.split("\t") for line in write_up(names, "spreadsheet").splitlines()]
    inputs = {f"B{number}": float(value) for number, (_, value, _) in enumerate(rows, 1) if re.match(r"[-\d]", value)}
    values = {words.replace(" ", "_"): float(value) for words, value, _ in rows if re.match(r"[-\d]", value)}
    results = [row for row in rows[1:] if row[1].startswith("=")]
    assert [words for words, _, _ in results] == [said(name) for name in names]
    for name, (_, formula, unit) in zip(names, results, strict=True):
        true = float(compute(name, **given_for(name, VALUES | values)))
        assert evaluated(formula, inputs) == pytest.approx(true, rel=1e-9), name
        made_of = {"angle": "degrees", "length": "mm", "ratio": ""}[FORMS[form].kind]
        assert unit == f"{made_of} for each {'mm' if name.partition('_per_')[2] in LENGTHS else 'degree'}".strip()


def test_text_and_mathml():
    functions = {name: getattr(math, name) for name in ("atan", "sin", "cos", "tan", "sqrt", "pi")}
    functions |= {"Abs": abs, "sign": np.sign}
    for name in GENERAL:
        first, *legend = write_up(name, "text", None).splitlines()
        words, written = first.split(" = ")
        form = forms.closed_form(name, None)
        at = {symbol: VALUES[QUANTITIES[symbol].name] / 100 for symbol in form.free_symbols}
        read = eval(written.replace("^", "**"), functions | {symbol.name: value for symbol, value in at.items()})
        assert words == said(name) and len(legend) == 1 + len(at)
        assert read == pytest.approx(sp.lambdify(list(at), form, "math")(*at.values()), rel=1e-12), name
    rows = ElementTree.fromstring(write_up(GENERAL, "mathml", None)).findall(".//{http://www.w3.org/1998/Math/MathML}mtr")
    assert len(rows) == len(GENERAL)


@pytest.mark.parametrize("columns", [1, 2])
@pytest.mark.parametrize(("plan", "names"), [(90, SQUARE), (None, GENERAL)])
def test_latex_is_read_by_a_parser_and_compiles_within_the_lines(tmp_path, plan, names, columns):
    block = write_up(names, plan_angle=plan, columns=columns)
    assert LatexWalker(block, tolerant_parsing=False).get_latex_nodes()[0]
    assert block.count(r"\label{eq:") == len(names)
    assert "“Per tail lean” means for each radian of the tail lean." in " ".join(block.split())
    if TEX.args[0]:
        return
    run = typeset(tmp_path, document(block, columns=columns))
    assert run.returncode == 0, run.stdout[-2000:]
    assert "Overfull" not in run.stdout


def test_a_table_over_the_leans():
    text = table("pin_end_line_per_tail_lean", [8, 28], [6, 24], "csv", places=6)
    head, *rows = [row.split('",') for row in text.splitlines()]
    assert head[0].startswith('"pin end line per tail lean, ° per °')
    numbers = np.array([[float(one) for one in row[1].split(",")] for row in rows])
    true = compute("pin_end_line_per_tail_lean", tail_lean=np.array([8, 28]), pin_lean=np.array([[6], [24]]), plan_angle=90)
    assert numbers == pytest.approx(true, abs=1e-6)


# --- What follows from the derivation, and what there isn't. ---


def test_they_follow_the_derivation(monkeypatch):
    name = "tail_end_line_per_pin_lean"
    before = {target: write_up(name, to=target) for target in TARGETS}
    forms._at.cache_clear()
    pin = FORMS["tail_end_line"].symbols[1]
    monkeypatch.setitem(FORMS, "tail_end_line", FORMS["tail_end_line"]._replace(derive=lambda: sp.atan(pin**3)))
    for target in TARGETS:
        assert write_up(name, to=target) != before[target]
    forms._at.cache_clear()


@pytest.mark.parametrize("ask", [
    lambda: write_up("tail_rim_bevel_per_tail_lean"), lambda: write_up("pin_end_line_per_height"),
    lambda: write_up("one_gauge_pin_error_per_tail_lean", plan_angle=120), lambda: sensitivities("no_such"),
    lambda: sensitivities("one_gauge_pin_error", None), lambda: table("pin_end_line_per_", 1, 2)])
def test_what_there_is_not_is_one_sentence(ask):
    with pytest.raises(ValueError, match="There is no form called") as refused:
        ask()
    assert "\n" not in str(refused.value) and str(refused.value).endswith(".")
