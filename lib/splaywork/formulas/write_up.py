"""The closed forms as text for a write-up or for other tools, printed from the derivation and never retyped."""
# ruff: noqa: N802, N815 - sympy finds a printer's methods by the names of its classes

import re
from html.entities import html5

import sympy as sp
from sympy.printing.c import C99CodePrinter
from sympy.printing.latex import latex
from sympy.printing.mathml import mathml
from sympy.printing.precedence import PRECEDENCE
from sympy.printing.pycode import PythonCodePrinter
from sympy.printing.str import StrPrinter

from .forms import FORMS, closed_form, closed_forms
from .symbols import QUANTITIES, P, Q, dg, dx, g, p, t, x

TARGETS = ("latex", "mathml", "text", "python", "c", "spreadsheet")

_NAMES = {symbol: quantity.name for symbol, quantity in QUANTITIES.items()}
_LATEX_NAMES = {dx: r"\delta x", dg: r"\delta g"}
_WIDE = 24  # operations: a longer form is set with its roots on lines of their own
_LINE = 14  # operations of a sum that go on a line
_CELLS = {name: f"{chr(ord('A') + at)}2" for at, name in enumerate([*_NAMES.values(), "other_thickness"])}
_CELL = re.compile(r"\$?[A-Z]{1,3}\$?[1-9][0-9]{0,6}")


def write_up(form=None, to="latex", plan_angle=90, cells=None):
    """Text (str) of one closed form, or of the whole set when `form` is None.

    form: a name of `closed_forms(plan_angle)`. plan_angle: degrees, or None to keep it as w. to:
    "latex" - a numbered align block (needs amsmath); "mathml" - one math element, presentation markup; "text";
    "python" - functions that need only the math module; "c" - C99 functions that need only math.h;
    "spreadsheet" - a formula for OpenDocument and Excel sheets, or for the whole set a line each: name, tab, formula.
    Functions and formulas take and give angles in degrees, lengths in any one unit; the end lines that leans are read
    back from are given as angles too. The other three are in symbols, as `closed_forms`.
    cells: for "spreadsheet" only, where inputs stand, for instance {"tail_lean": "A2"}; the others are in row 2, as
    `default_cells`.
    ValueError for a form, target, plan angle or cell that there isn't.
    """
    if to not in TARGETS:
        raise ValueError(f"A form can't be written as {to!r}: choose {', '.join(TARGETS)}.")
    forms = closed_forms(plan_angle) if form is None else {form: closed_form(form, plan_angle)}
    if to == "spreadsheet":
        return _spreadsheet(forms, cells or {}, alone=form is not None)
    if cells:
        raise ValueError(f"Only a spreadsheet has cells: leave out {', '.join(cells)}, or write to 'spreadsheet'.")
    return {"latex": _latex, "mathml": _mathml, "text": _text, "python": _python, "c": _c}[to](forms)


def _words(name):
    return name.replace("_", " ")


def _symbols(forms):
    """The symbols that these forms use, in a settled order."""
    used = set().union(*(form.free_symbols for form in forms.values()))
    return [symbol for symbol in _NAMES if symbol in used]


def _argument(name, symbol):
    """What the form `name` calls a symbol: a baseline asks for the thickness of the other board."""
    return "other_thickness" if (name, symbol) == ("baseline_offset", t) else _NAMES[symbol]


def _legend(forms, names=None):
    """One line a symbol: what it stands for."""
    for symbol in _symbols(forms):
        called = dict.fromkeys(_words(_argument(name, symbol)) for name, form in forms.items() if form.has(symbol))
        before = "tangent of the " if symbol in (P, Q) else ""
        after = " of the board concerned" if symbol in (p, x, g) else ""
        yield f"{(names or {}).get(symbol, symbol)}: {before}{', or '.join(called)}{after}"


# In symbols.


def _set(form):
    return latex(form, inv_trig_style="full", symbol_names=_LATEX_NAMES)


def _sum(form):
    """A form as one or more lines: a long sum is broken between its terms."""
    lines = [[]]
    for term in form.as_ordered_terms():
        if lines[-1] and sum(one.count_ops() for one in [*lines[-1], term]) > _LINE:
            lines.append([])
        lines[-1].append(term)
    first, *others = [_set(sp.Add(*line, evaluate=False)) for line in lines]
    return [first, *(line if line.startswith("-") else f"+ {line}" for line in others)]


def _rows(name, form):
    """Rows of the align block for one form, the first numbered: a wide one calls its large roots q_1, q_2, ..."""
    bases = sorted({power.base for power in form.atoms(sp.Pow) if abs(power.exp) == sp.Rational(1, 2)}, key=str)
    bases = [base for base in bases if base.count_ops() > 2] if form.count_ops() > _WIDE else []
    roots = {sp.Symbol(f"q_{number}", positive=True): base for number, base in enumerate(bases, 1)}
    form = form.subs({base: root**2 for root, base in roots.items()})
    for side, value in [(rf"\text{{{_words(name)}}}", form), *((_set(root**2), base) for root, base in roots.items())]:
        first, *others = _sum(value)
        yield rf"{side} &= {first}" + ("" if value is form else r" \notag")
        yield from (rf"&\quad {line} \notag" for line in others)


def _latex(forms):
    lines = [row for name, form in forms.items() for row in _rows(name, form)]
    block = [r"\begin{align}", " \\\\\n".join(lines), r"\end{align}"]
    if len(forms) > 1:  # longer than a page: in braces, so that page breaks stay forbidden elsewhere
        block = [r"{\allowdisplaybreaks", *block, "}"]
    return "\n".join([*(f"% {line}" for line in _legend(forms, _LATEX_NAMES)), *block])


def _mathml(forms):
    rows = [f"<mtr><mtd><mtext>{_words(name)}</mtext></mtd><mtd><mo>=</mo></mtd><mtd>{_markup(form)}</mtd></mtr>"
            for name, form in forms.items()]
    opening = '<math xmlns="http://www.w3.org/1998/Math/MathML" display="block"><mtable>'
    return "\n".join([opening, *rows, "</mtable></math>"])


def _markup(form):
    """Presentation markup with characters for named entities, which XML knows nothing of outside a web page."""
    return re.sub(r"&\w+;", lambda entity: html5[entity[0][1:]], mathml(form, "presentation", inv_trig_style="full"))


class _TextPrinter(StrPrinter):
    def _print_Pow(self, expr, rational=False):
        return super()._print_Pow(expr, rational).replace("**", "^")


def _text(forms):
    lines = [f"{_words(name)} = {_TextPrinter().doprint(form)}" for name, form in forms.items()]
    return "\n".join([*lines, "", *_legend(forms)])


# As functions, in degrees.


def _sides(name, form):
    """[(symbol, argument, kind), …] of a form, each symbol's kind as in `QUANTITIES`."""
    return [(symbol, _argument(name, symbol), QUANTITIES[symbol].kind) for symbol in _symbols({name: form})]


def _units(name, form):
    """One line on what goes in and what comes out."""
    units = {"angle": "degrees", "tangent": "degrees", "length": "mm", "volume": "mm³", "ratio": "a plain number"}
    inputs = [f"{argument} in {units[kind]}" if kind in units else argument for _, argument, kind in _sides(name, form)]
    result = units[FORMS[name].kind]
    return f"{_words(name).capitalize()}, {result}; {', '.join(inputs)}."


def _python(forms):
    printer = PythonCodePrinter({"fully_qualified_modules": True})
    takes = {"angle": "math.radians({})", "tangent": "math.tan(math.radians({}))", "length": "{}", "count": "{}"}
    functions = ["import math"]
    for name, form in forms.items():
        sides = _sides(name, form)
        value = printer.doprint(form)
        result = f"math.degrees({value})" if FORMS[name].kind == "angle" else value
        functions.append("\n".join([
            f"def {name}({', '.join(argument for _, argument, _ in sides)}):",
            f'    """{_units(name, form)}"""',
            *[f"    {symbol} = {takes[kind].format(argument)}" for symbol, argument, kind in sides],
            f"    return {result}",
        ]))
    return "\n\n\n".join(functions) + "\n"


def _c(forms):
    printer = C99CodePrinter()
    pi = sp.Symbol("pi")  # C99's math.h has no pi of its own
    takes = {"angle": "{} * pi / 180", "tangent": "tan({} * pi / 180)", "length": "{}", "count": "{}"}
    functions = ["#include <math.h>"]
    for name, form in forms.items():
        sides = _sides(name, form)
        value = printer.doprint(form.subs(sp.pi, pi))
        result = f"180 / pi * ({value})" if FORMS[name].kind == "angle" else value
        needs_pi = FORMS[name].kind == "angle" or any(kind in ("angle", "tangent") for *_, kind in sides) or form.has(sp.pi)
        functions.append("\n".join([
            f"/* {_units(name, form)} */",
            f"double {name}({', '.join(f'double {argument}' for _, argument, _ in sides)})",
            "{",
            *(["    const double pi = 3.14159265358979323846;"] if needs_pi else []),
            *[f"    const double {symbol} = {takes[kind].format(argument)};" for symbol, argument, kind in sides],
            f"    return {result};",
            "}",
        ]))
    return "\n\n".join(functions) + "\n"


class _SpreadsheetPrinter(StrPrinter):
    """OpenFormula and Excel: functions in capitals, and a power always in brackets, as a minus sign binds tighter."""

    def _print_Function(self, expr):
        name = {"Abs": "ABS"}.get(expr.func.__name__, expr.func.__name__.upper())
        return f"{name}({self.stringify(expr.args, ',')})"

    _print_Abs = _print_Function

    def _print_Pi(self, expr):
        return "PI()"

    def _print_Pow(self, expr, rational=False):
        base, exponent = expr.args
        if exponent.is_negative:
            return f"(1/{self.parenthesize(1 / expr, PRECEDENCE['Pow'])})"
        if exponent == sp.Rational(1, 2):
            return f"SQRT({self._print(base)})"
        return f"({self.parenthesize(base, PRECEDENCE['Pow'])}^{self.parenthesize(exponent, PRECEDENCE['Pow'])})"


def default_cells(form=None, plan_angle=90):
    """Input -> the cell where the spreadsheet formula of `write_up(form, "spreadsheet", plan_angle)` looks for it."""
    inputs = _inputs(closed_forms(plan_angle) if form is None else {form: closed_form(form, plan_angle)})
    return {argument: cell for argument, cell in _CELLS.items() if argument in inputs}


def _inputs(forms):
    return {argument for name, form in forms.items() for _, argument, _ in _sides(name, form)}


def _spreadsheet(forms, cells, alone):
    known = _inputs(forms)
    for argument, cell in cells.items():
        if argument not in known:
            raise ValueError(f"Nothing here is worked out from {argument!r}: give cells for "
                             f"{', '.join(sorted(known))}.")
        if not isinstance(cell, str) or not _CELL.fullmatch(cell):
            raise ValueError(f"The cell for {argument} is {cell!r}: give one cell such as 'A2' or '$A$2'.")
    lines = {name: "=" + _formula(name, form, _CELLS | cells) for name, form in forms.items()}
    return next(iter(lines.values())) if alone else "\n".join(f"{_words(name)}\t{line}" for name, line in lines.items())


def _formula(name, form, cells):
    takes = {"angle": "RADIANS({})", "tangent": "TAN(RADIANS({}))", "length": "{}", "count": "{}"}
    inputs = {symbol: sp.Symbol(takes[kind].format(cells[argument])) for symbol, argument, kind in _sides(name, form)}
    value = _SpreadsheetPrinter().doprint(form.xreplace(inputs)).replace(" ", "")
    return f"DEGREES({value})" if FORMS[name].kind == "angle" else value
