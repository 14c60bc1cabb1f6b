"""Every exported text is run or read by something else, and compared with the library's own numbers."""

import re
import runpy
from itertools import count
from xml.etree import ElementTree

import pytest
import sympy as sp
from pylatexenc.latexwalker import LatexWalker
from splaywork import closed_forms
from splaywork.formulas import forms
from splaywork.formulas.forms import FORMS as REGISTRY
from splaywork.formulas.forms import SENSITIVITIES, closed_form, compute, said
from splaywork.formulas.latex_lines import lettered, lines, ordered, points, tex
from splaywork.formulas.symbols import QUANTITIES, P, Q, b
from splaywork.formulas.write_up import TARGETS, default_cells, write_up
from splaywork.one_gauge.one_gauge import OneGauge
from spreadsheet import evaluated
from write_ups import CORNER, GCC, LENGTHS, TEX, VALUES, called, document, in_c, typeset

NOT_ANGLES = {"slant_width", "baseline_offset", "rocking_gap", "looks_as", "end_opening", "unbevelled_gap",
              "one_gauge_tail_gap", "one_gauge_pin_gap", "closed_height_factor", "inside_volume", "regular_volume"}
FORMS = list(closed_forms())
GENERAL = list(closed_forms(None))


def expected(name, plan_angle=90):
    """The form evaluated by sympy at 30 digits, in degrees or mm."""
    form = closed_forms(plan_angle)[name]
    values = {symbol: VALUES[QUANTITIES[symbol].name] for symbol in form.free_symbols if symbol.name not in "PQ"}
    at = {symbol: value if QUANTITIES[symbol].name in LENGTHS | {"sides"} else sp.rad(sp.Float(value, 30))
          for symbol, value in values.items()}
    at |= {P: sp.tan(sp.rad(sp.Float(VALUES["pin_end_line"], 30))),
           Q: sp.tan(sp.rad(sp.Float(VALUES["tail_end_line"], 30)))}
    value = form.subs(at).evalf(30)
    return float(value if name in NOT_ANGLES else sp.deg(value))


def test_a_form_is_in_the_symbols_that_stand_beside_it():
    for name, form in REGISTRY.items():
        assert form.derive().free_symbols == set(form.symbols), name


@pytest.mark.parametrize("name", REGISTRY)
def test_a_form_is_of_the_kind_that_stands_beside_it(name):
    """Twice as large in every length: an angle or a ratio stays, a length doubles, a volume is eight times as much."""
    values = VALUES | {"up": 40.0, "gap": 0.5}
    given = {quantity: values[quantity] for quantity in REGISTRY[name].quantities}
    larger = {quantity: value * (2 if quantity in LENGTHS | {"up", "gap"} else 1) for quantity, value in given.items()}
    times = {"angle": 1, "ratio": 1, "length": 2, "volume": 8}[REGISTRY[name].kind]
    assert compute(name, **larger) == pytest.approx(times * compute(name, **given), rel=1e-12)
    assert (name in NOT_ANGLES) == (REGISTRY[name].kind != "angle") or not REGISTRY[name].offered


def test_quantities_are_given_by_name():
    with pytest.raises(ValueError, match="slant_width is worked out from lean, height, not from height, thickness"):
        compute("slant_width", height=80, thickness=12)


def test_expectations_agree_with_the_corner():
    """The comparison itself rests on Corner and OneGauge, wherever they have the quantity."""
    shortcut = OneGauge(CORNER)
    for name in ("tail_end_line", "pin_end_line", "dihedral", "end_bevel", "corner_rise", "level_on_flush_end",
                 "level_on_square_end", "tail_rim_bevel"):
        assert expected(name) == pytest.approx(getattr(CORNER, name), rel=1e-12)
    assert expected("tail_lean_from_end_lines") == pytest.approx(17, rel=1e-12)
    assert expected("dihedral_from_end_lines") == pytest.approx(CORNER.dihedral, rel=1e-12)
    assert expected("one_gauge_pin_error") == pytest.approx(shortcut.pin_error, rel=1e-12)
    assert expected("closed_pin_lean") == pytest.approx(shortcut.closed.pin_lean, rel=1e-12)
    assert expected("baseline_offset") == pytest.approx(CORNER.baseline_offset(12), rel=1e-12)


# --- Python. ---


@pytest.mark.parametrize(("plan_angle", "names"), [(90, FORMS), (None, GENERAL), (112.5, GENERAL)])
def test_python_functions_run_with_the_math_module_alone(tmp_path, plan_angle, names):
    source = write_up(to="python", plan_angle=plan_angle)
    assert set(re.findall(r"^(?:import|from) (\S+)", source, re.MULTILINE)) == {"math"}
    (tmp_path / "forms.py").write_text(source)
    space = runpy.run_path(tmp_path / "forms.py")
    values = VALUES if plan_angle is not None else VALUES | {"plan_angle": 90.0}
    for name in names:
        function = space[name]
        arguments = function.__code__.co_varnames[:function.__code__.co_argcount]
        result = function(**{argument: values[argument] for argument in arguments})
        assert result == pytest.approx(expected(name, plan_angle or 90), rel=1e-11, abs=1e-11), name


def test_one_python_function_alone():
    source = write_up("baseline_offset", to="python")
    assert source.count("def ") == 1 and "def baseline_offset(tail_lean, pin_lean, other_thickness):" in source


# At multiples of 30° and 45° sines and cosines of the plan angle come out as halves and roots, and a form is another formula.
# At all other plan angles it is one text with another number in it, and a few of them stand for the rest.
WRITTEN_OUT = (60, 90, 120, 135)
WHOLE = (*WRITTEN_OUT, 61, 72, 80, 97, 105, 134)


def test_the_plan_angles_are_of_both_kinds():
    for plan in (60 + half / 2 for half in range(151)):
        kept = closed_form("dihedral", plan).has(sp.cos(sp.Rational(plan) / 180 * sp.pi, evaluate=False))
        assert kept == (plan not in WRITTEN_OUT), plan


@pytest.mark.parametrize("name", [name for name in GENERAL])
def test_every_form_at_whole_plan_angles(name):
    """In Python, C-like, and spreadsheet text, against `compute`: an angle is never taken for a length."""
    for plan in WHOLE:
        space = {}
        exec(write_up(name, "python", plan), space)
        function = space[name]
        arguments = function.__code__.co_varnames[:function.__code__.co_argcount]
        given = {quantity: VALUES[quantity] for quantity in REGISTRY[name].quantities if quantity != "plan_angle"}
        plan_too = {"plan_angle": plan} if "plan_angle" in REGISTRY[name].quantities else {}
        true = float(compute(name, **given, **plan_too))
        assert function(**{argument: VALUES[argument] for argument in arguments}) == pytest.approx(true, rel=1e-9), plan
        if plan in (60, 80, 97, 120):
            cells = {argument: f"{chr(ord('B') + at)}3" for at, argument in enumerate(arguments)}
            formula = write_up(name, "spreadsheet", plan, cells)
            assert evaluated(formula, {cell: VALUES[argument] for argument, cell in cells.items()}) == pytest.approx(true)


# --- C. ---


@GCC
@pytest.mark.parametrize(("plan_angle", "names"), [(90, FORMS), (None, GENERAL)])
def test_c_functions_compile_without_a_warning_and_agree(tmp_path, plan_angle, names):
    source = write_up(to="c", plan_angle=plan_angle)
    signatures = dict(re.findall(r"^double (\w+)\((.*)\)$", source, re.MULTILINE))
    assert list(signatures) == names
    calls = [called(name, signature) for name, signature in signatures.items()]
    for name, result in zip(names, in_c(tmp_path, [source], calls), strict=True):
        assert result == pytest.approx(expected(name), rel=1e-11, abs=1e-11), name


@GCC
def test_c_at_plan_angles_of_both_kinds(tmp_path):
    """Whole and half degrees in four translation units: no warning, no macro that C99 lacks, and the numbers of `compute`.

    Forms that no plan angle is in are the same at each, and are compiled above.
    """
    plans = sorted({*WHOLE, *(plan + 0.5 for plan in WHOLE if plan < 135)})
    names = [name for name in GENERAL if "plan_angle" in REGISTRY[name].quantities]
    sources, calls, true = [[], [], [], []], [], []
    for number, plan in enumerate(plans):
        source = write_up(names, "c", plan).replace("#include <math.h>\n", "")
        for name, signature in re.findall(r"^double (\w+)\((.*)\)$", source, re.MULTILINE):
            calls.append(called(f"{name}_{number}", signature))
            given = {quantity: VALUES[quantity] for quantity in REGISTRY[name].quantities if quantity != "plan_angle"}
            true.append(float(compute(name, **given, plan_angle=plan)))
        sources[number % 4].append(re.sub(r"^double (\w+)\(", rf"double \g<1>_{number}(", source, flags=re.MULTILINE))
    printed = in_c(tmp_path, ["#include <math.h>\n" + "\n".join(unit) for unit in sources], calls)
    assert len(printed) == len(true) == 19 * len(names) and len(names) > 12
    assert printed == pytest.approx(true, rel=1e-9, abs=1e-12)


# --- Spreadsheet. ---


@pytest.mark.parametrize("name", FORMS)
def test_spreadsheet_formula_agrees(name):
    arguments = re.search(r"def \w+\((.*)\)", write_up(name, to="python"))[1].split(", ")
    cells = {argument: f"${chr(ord('T') - at)}$7" for at, argument in enumerate(arguments)}
    formula = write_up(name, to="spreadsheet", cells=cells)
    assert formula.startswith("=") and ";" not in formula and "," not in formula  # the separator differs between sheets
    values = {cell.replace("$", ""): VALUES[argument] for argument, cell in cells.items()}
    assert evaluated(formula, values) == pytest.approx(expected(name), rel=1e-11, abs=1e-11)


@pytest.mark.parametrize("name", ["tail_end_line", "dihedral", "corner_rise", "pin_lean_from_end_lines",
                                  "unbevelled_gap"])
def test_spreadsheet_formula_for_other_plan_angles(name):
    cells = {"A2": 17, "B2": -23, "C2": 90, "J2": CORNER.pin_end_line, "K2": CORNER.tail_end_line, "M2": 12}
    assert evaluated(write_up(name, "spreadsheet", None), cells) == pytest.approx(expected(name), rel=1e-11)
    assert set(default_cells(name, None).values()) <= set(cells)
    if "from" not in name:
        assert evaluated(write_up(name, "spreadsheet", 112.5), cells) == pytest.approx(expected(name, 112.5), rel=1e-11)


def test_spreadsheet_formula_as_written():
    assert write_up("tail_end_line", to="spreadsheet") == "=DEGREES(ATAN(COS(RADIANS(A2))*TAN(RADIANS(B2))))"
    assert "$B$4" in write_up("tail_end_line", to="spreadsheet", cells={"pin_lean": "$B$4"})
    elsewhere = write_up("dihedral", "spreadsheet", None, {"plan_angle": "Z9"})
    assert "Z9" in elsewhere and default_cells("dihedral", None)["plan_angle"] not in elsewhere


def test_spreadsheet_block_pasted_at_a1():
    """The head row, inputs that no result overwrites, results that are the library's own."""
    for names in (None, ["dihedral", "baseline_offset", "inside_volume"]):
        rows = [line.split("\t") for line in write_up(names, "spreadsheet").splitlines()]
        assert rows[0] == ["quantity", "value", "unit"] and {len(row) for row in rows} == {3}
        sheet = {f"B{number}": value for number, (_, value, _) in enumerate(rows, 1)}
        inputs = {cell: float(value) for cell, value in list(sheet.items())[1:] if not value.startswith("=")}
        by_name = {row[0].replace(" ", "_"): float(row[1]) for row in rows[1:] if not row[1].startswith("=")}
        assert default_cells(names) == {name: cell for name, cell in zip(by_name, inputs, strict=True)}
        results = [row for row in rows[1:] if row[1].startswith("=")]
        assert [row[0] for row in results] == [said(name) for name in names or FORMS]
        named = {said(name): name for name in names or FORMS}
        for words, formula, unit in results:
            name = named[words]
            given = {quantity: by_name[quantity] for quantity in REGISTRY[name].quantities if quantity in by_name}
            assert evaluated(formula, inputs) == pytest.approx(float(compute(name, **given)), rel=1e-9), name
            assert unit == {"angle": "degrees", "length": "mm", "volume": "mm³", "ratio": ""}[REGISTRY[name].kind]
    assert "C5" in write_up(["dihedral"], "spreadsheet", cells={"tail_lean": "C5"})


def test_powers_are_bracketed_since_sheets_negate_first():
    """In a sheet -2^2 is 4: no power may follow a minus sign bare."""
    assert evaluated("=-A1^2", {"A1": 2}) == 4
    for plan_angle in (90, None):
        for row in write_up(to="spreadsheet", plan_angle=plan_angle).splitlines():
            formula = row.split("\t")[1]
            assert formula.count("^") == len(re.findall(r"\^\d+\)", formula))


# --- LaTeX. ---

PLANS = (90, None, 22.5, 67.5, 112.5)


@pytest.mark.parametrize("columns", [1, 2])
@pytest.mark.parametrize("plan_angle", PLANS)
def test_latex_is_one_numbered_align_block_that_a_parser_reads(plan_angle, columns):
    block = write_up(plan_angle=plan_angle, columns=columns)
    nodes, _, _ = LatexWalker(block, tolerant_parsing=False).get_latex_nodes()
    assert nodes
    assert block.count(r"\begin{align}") == block.count(r"\end{align}") == 1
    rows = re.split(r"\\\\\*?\n", block.split(r"\begin{align}")[1].split(r"\end{align}")[0])
    assert sum(r"\notag" not in row for row in rows) == len(closed_forms(plan_angle))
    assert all(row.count("&") == 1 for row in rows)


@TEX
@pytest.mark.parametrize("columns", [1, 2])
def test_latex_compiles_as_pasted_and_keeps_within_the_lines(tmp_path, columns):
    blocks = [write_up(plan_angle=plan, columns=columns) for plan in PLANS] + [write_up("dihedral", columns=columns)]
    run = typeset(tmp_path, document(*blocks, columns=columns))
    assert run.returncode == 0, run.stdout[-2000:]
    assert "Overfull" not in run.stdout


@TEX
def test_widths_are_judged_as_tex_sets_them(tmp_path):
    """Each line of each set: hardly ever wider than it was judged, 4 in 100 at most, so that what fits here fits there."""
    texts = [line for plan in (90, None, 112.5) for form in closed_forms(plan).values() for line in lines(form, 1e6)]
    boxes = [rf"\setbox0\hbox{{$\displaystyle {text}$}}\typeout{{wide \the\wd0}}" for text in texts]
    run = typeset(tmp_path, document(*boxes))
    wide = [float(width) for width in re.findall(r"^wide ([\d.]+)pt", run.stdout, re.MULTILINE)]
    assert len(wide) == len(texts) > 80
    for text, true in zip(texts, wide, strict=True):
        assert true < points(text) + 3 + 0.04 * true, (text, true, points(text))
        assert true > 0.7 * points(text) - 8, (text, true, points(text))


@pytest.mark.parametrize("room", [160, 180, 220, 300])
def test_letters_put_back_give_the_form(room):
    lettered_ones = 0
    for plan in (90, None, 112.5):
        for name, form in closed_forms(plan).items():
            left, named = {}, count(1)
            short, more = lettered(form, room, named)
            while more:
                letter, part = more.popitem()
                left[letter], deeper = lettered(part, room, named)
                more |= deeper
            lettered_ones += len(left)
            values = {symbol: sp.Float(VALUES[QUANTITIES[symbol].name] / 100, 30) for symbol in form.free_symbols}
            while left:
                for letter, part in list(left.items()):
                    if part.free_symbols <= values.keys():
                        value = part.subs(values).evalf(30)
                        values |= {letter.base: sp.sqrt(value)} if letter.is_Pow else {letter: value}
                        del left[letter]
            assert abs(sp.N(short.subs(values) - form.subs(values), 20)) < 1e-15, name
            assert all(points(tex(term)) <= room for term in ordered(short)), name
    assert lettered_ones > 5


def test_no_letter_is_orphaned_and_each_names_one_part():
    for plan in PLANS:
        for columns in (1, 2):
            block = write_up(plan_angle=plan, columns=columns)
            named = re.findall(r"(?:^|&)R_\{(\d+)\}(?:\^\{2\})? &?=", block, re.MULTILINE)
            assert named == [f"{number}" for number in range(1, len(named) + 1)] or sorted(map(int, named)) == list(
                range(1, len(named) + 1))
            for number in named:
                assert block.count(f"R_{{{number}}}") >= 2, (plan, number)
            symbols = {str(symbol) for form in closed_forms(plan).values() for symbol in form.free_symbols}
            assert named and not {f"R_{number}" for number in named} & symbols


def test_latex_says_in_print_what_its_symbols_are():
    block = " ".join(write_up(["tail_lean_from_end_lines", "baseline_offset"], plan_angle=None).split())
    assert "%" not in block and r"\label{eq:baseline-offset}" in block and r"\label{eq:tail-lean-from-end-lines}" in block
    assert "where $a$ is the tail lean, $b$ the pin lean" in block
    assert ("$P$ the tangent of the pin end line, $Q$ the tangent of the tail end line, $t_{o}$ the other thickness; angles in "
            "radians, leans from plumb. A lean is positive where the top") in block
    assert block.endswith("positive where the board is longer at the top.")
    assert "An end line is" not in write_up("lean_from_slant_width") and "A lean is" not in write_up("end_line_from_diagonal")


def test_latex_in_the_symbols_of_the_derivation():
    assert r"\text{tail end line} &= \arctan" in write_up("tail_end_line")
    assert r"\cos {a} \tan {b}" in write_up("tail_end_line")
    assert r"\cos {w}" in write_up("dihedral", plan_angle=None)
    assert r"\arccos{\left(- P Q \right)}" in write_up("dihedral_from_end_lines")
    assert "atan" not in write_up().replace("label{eq:", "")


def test_closed_forms_show_themselves_with_their_legend():
    for plan in (90, None):
        shown = closed_forms(plan)._repr_latex_()
        assert shown.startswith(r"\begin{align*}") and r"\label" not in shown and r"\notag" not in shown
        assert all(rf"\text{{{said(name)}}} &=" in shown for name in closed_forms(plan))
        assert "where $a$ is the tail lean" in shown.split(r"\end{align*}")[1]


# --- MathML and plain text. ---


def test_mathml_is_well_formed_and_complete():
    space = "{http://www.w3.org/1998/Math/MathML}"
    for plan_angle in (90, None, 112.5):
        root = ElementTree.fromstring(write_up(to="mathml", plan_angle=plan_angle))
        assert root.tag == f"{space}math"
        assert len(root.findall(f".//{space}mtr")) == len(closed_forms(plan_angle))
    one = ElementTree.fromstring(write_up("dihedral", to="mathml"))
    assert "".join(one.itertext()).replace("\u2062", "").split() == ["dihedral=arccos(-sin(a)sin(b))"]


def test_every_form_has_words_of_its_own_and_none_that_is_out():
    words = [said(name) for name in (*REGISTRY, *SENSITIVITIES)]
    assert len(set(words)) == len(words) > 60
    assert not [name for name in words if re.search("one gauge|like ends|rise(?! and run)|small lean|_", name)]


@pytest.mark.parametrize("name", FORMS)
def test_text_reads_back_as_the_form(name):
    first, *_ = write_up(name, to="text").splitlines()
    words, written = first.split(" = ")
    assert words == said(name)
    symbols = {symbol.name: symbol for symbol in closed_forms()[name].free_symbols}
    symbols |= {"atan": sp.atan, "acos": sp.acos, "asin": sp.asin, "sin": sp.sin, "cos": sp.cos, "tan": sp.tan,
                "sqrt": sp.sqrt, "Abs": sp.Abs, "pi": sp.pi, "cot": sp.cot}
    read = eval(re.sub(r"\b(\d+)\b", r"Integer(\1)", written.replace("^", "**")), {"Integer": sp.Integer}, symbols)
    assert sp.simplify(read - closed_forms()[name]) == 0


def test_text_says_what_its_symbols_stand_for():
    text = write_up("tail_lean_from_end_lines", to="text")
    assert "P: tangent of the pin end line" in text and "Q: tangent of the tail end line" in text
    assert "t_o: other thickness" in write_up("baseline_offset", to="text")
    assert "p: lean of the board concerned" in write_up("slant_width", to="text")


# --- What there isn't. ---


@pytest.mark.parametrize(("ask", "sentence"), [
    ({"form": 3}, "name of a form must be text"),
    ({"form": ["dihedral", "x"]}, "no form called 'x'"),
    ({"form": "no_such"}, "no form called 'no_such' here: choose tail_end_line, "),
    ({"form": "__import__('os')"}, "no form called"),
    ({"form": "one_gauge_pin_error", "plan_angle": None}, "no form called"),
    ({"form": "one_gauge_pin_error", "plan_angle": 120}, "no form called"),
    ({"to": "pdf"}, "choose " + ", ".join(TARGETS)),
    ({"plan_angle": 180}, "plan angle is 180°"),
    ({"plan_angle": "square"}, "plan angle must be a number"),
    ({"form": "dihedral", "to": "spreadsheet", "cells": {"tail_lean": "A2+B2"}}, "one cell such as 'A2'"),
    ({"form": "dihedral", "to": "spreadsheet", "cells": {"tail_lean": 3}}, "one cell such as 'A2'"),
    ({"form": "dihedral", "to": "spreadsheet", "cells": {"height": "A2"}}, "Nothing here is worked out from 'height'"),
    ({"form": "dihedral", "to": "c", "cells": {"tail_lean": "A2"}}, "Only a spreadsheet has cells"),
    ({"columns": 3}, "number of columns must be a whole number, from 1 to 2"),
    ({"form": "dihedral", "to": "c", "columns": 2}, "Only LaTeX is set in columns"),
])
def test_what_there_is_not_is_one_sentence(ask, sentence):
    with pytest.raises(ValueError, match=re.escape(sentence)) as refused:
        write_up(**ask)
    assert "\n" not in str(refused.value) and str(refused.value).endswith(".")


def test_exports_are_the_derivation_and_follow_it(monkeypatch):
    """Nothing is retyped: change the derivation, and every text changes."""
    before = {target: write_up("tail_end_line", to=target) for target in TARGETS}
    forms._at.cache_clear()
    monkeypatch.setitem(REGISTRY, "tail_end_line", REGISTRY["tail_end_line"]._replace(derive=lambda: sp.atan(b)))
    for target in TARGETS:
        assert write_up("tail_end_line", to=target) != before[target]
    forms._at.cache_clear()
