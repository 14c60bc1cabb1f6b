"""The closed forms as text for a write-up or for other tools, printed from the derivation and never retyped."""
# ruff: noqa: N802, N815 - sympy finds a printer's methods by the names of its classes

import re
from collections.abc import Sequence
from html.entities import html5
from itertools import count

import sympy as sp
from sympy.printing.c import C99CodePrinter
from sympy.printing.latex import latex
from sympy.printing.mathml import mathml
from sympy.printing.precedence import PRECEDENCE
from sympy.printing.pycode import PythonCodePrinter
from sympy.printing.str import StrPrinter

from ..common import checks
from .forms import FORMS, closed_form, closed_forms
from .symbols import QUANTITIES, P, Q, dg, dx, g, p, x

TARGETS = ("latex", "mathml", "text", "python", "c", "spreadsheet")

_NAMES = {symbol: quantity.name for symbol, quantity in QUANTITIES.items()}
_LATEX_NAMES = {dx: r"\delta x", dg: r"\delta g"}
_WIDE = 24  # operations: a longer form is set with its roots on lines of their own
_LINE = 14  # operations of a sum that go on a line
_CELLS = {name: f"{'A' * (at // 26)}{chr(ord('A') + at % 26)}2" for at, name in enumerate(_NAMES.values())}
# What stands in a spreadsheet's inputs until a reader types over it: a corner and a board that exist.
_EXAMPLES = {"tail_lean": 16, "pin_lean": 11, "plan_angle": 90, "lean": 16, "end_line": 11, "end_bevel": 3,
             "end_line_error": 0.25, "end_bevel_error": 0.25, "error": 0.25, "pin_end_line": 15.7, "tail_end_line": 10.6,
             "height": 100,
             "width_seen": 30, "run": 28, "slant_width": 104, "bottom_edge": 300, "diagonal": 330, "top_edge": 340,
             "other_diagonal": 325, "sides": 6, "side_bottom_edge": 250}
_UNITS = {"angle": "degrees", "tangent": "degrees", "length": "mm", "volume": "mm³", "ratio": "", "count": ""}
_CELL = re.compile(r"\$?[A-Z]{1,3}\$?[1-9][0-9]{0,6}")


def write_up(form: str | Sequence[str] | None = None, to: str = "latex", plan_angle: float | None = 90,
             cells: dict[str, str] | None = None) -> str:
    """Text of one closed form, of a list of them, or of the whole set.

    Parameters
    ----------
    form : str or list of str, optional
        A name of `closed_forms(plan_angle)`, or a list of such names; None, all of them.
    to : str
        "latex" - a numbered align block (needs amsmath), each form with a label such as eq:dihedral, and its legend in print;
        "mathml" - one math element, presentation markup; "text";
        "python" - functions that need only the math module; "c" - C99 functions that need only math.h;
        "spreadsheet" - a formula for any spreadsheet; for several forms a block to paste at A1: a head row, the inputs with
        examples to type over, the results, each with its unit, tabs between.
        Functions and formulas take and give angles in degrees, lengths in any one unit; the end lines that leans are read
        back from are given as angles too. The other three are in symbols, as `closed_forms`.
    plan_angle : float or None
        Degrees, or None to keep it as w.
    cells : dict, optional
        For "spreadsheet" only, where inputs stand, for instance {"tail_lean": "C5"}; the others are in row 2, or in the block's
        own rows, as `default_cells`.

    Returns
    -------
    str

    Raises
    ------
    ValueError
        For a form, target, plan angle or cell that there isn't.

    >>> import splaywork as sw
    >>> print(sw.write_up("end_bevel", to="text").splitlines()[0])
    end bevel = asin(sin(a)*sin(b))
    """
    if not isinstance(to, str) or to not in TARGETS:
        raise ValueError(f"A form can't be written as {checks.shown(to)}: choose {', '.join(TARGETS)}.")
    if not isinstance(cells, dict | None) or not all(isinstance(name, str) for name in cells or ()):
        raise ValueError(f"The cells must be a dict such as {{'tail_lean': 'C5'}}, not {checks.shown(cells)}.")
    forms = _chosen(form, plan_angle)
    if to == "spreadsheet":
        return _spreadsheet(forms, cells or {}, alone=isinstance(form, str))
    if cells:
        raise ValueError(f"Only a spreadsheet has cells: leave out {', '.join(cells)}, or write to 'spreadsheet'.")
    return {"latex": _latex, "mathml": _mathml, "text": _text, "python": _python, "c": _c}[to](forms)


def _chosen(form, plan_angle):
    """{name: closed form} of one name, of a list of names, or of all where `form` is None."""
    if form is None:
        return closed_forms(plan_angle)
    names = form if isinstance(form, list | tuple) and form else [form]
    return {name: closed_form(checks.text("name of a form", name), plan_angle) for name in names}


def _words(name):
    return name.replace("_", " ")


def _symbols(forms):
    """The symbols that these forms use, in a settled order."""
    used = set().union(*(form.free_symbols for form in forms.values()))
    return [symbol for symbol in _NAMES if symbol in used]


def _legend(forms, names=None):
    """One line a symbol: what it stands for."""
    for symbol in _symbols(forms):
        before = "tangent of the " if symbol in (P, Q) else ""
        after = " of the board concerned" if symbol in (p, x, g) else ""
        yield f"{(names or {}).get(symbol, symbol)}: {before}{_words(_NAMES[symbol])}{after}"


# In symbols.


def _set(form):
    return latex(form, inv_trig_style="full", symbol_names=_LATEX_NAMES, order="none", fold_func_brackets=True)


def _sum(form):
    """A form as one or more lines: a long sum is broken between its terms."""
    lines = [[]]
    for term in sp.Add.make_args(form):
        if lines[-1] and sum(one.count_ops() for one in [*lines[-1], term]) > _LINE:
            lines.append([])
        lines[-1].append(term)
    first, *others = [_set(sp.Add(*line, evaluate=False)) for line in lines]
    return [first, *(line if line.startswith("-") else f"+ {line}" for line in others)]


def _with_roots(form, named):
    """(the form with each of its large roots called q_1, q_2, …; {q: what is under the root}); `named` counts on."""
    roots = {}
    if form.count_ops() > _WIDE:
        bases = {power.base for power in form.atoms(sp.Pow) if abs(power.exp) == sp.Rational(1, 2) and power.free_symbols}
        for base in sorted((base for base in bases if base.count_ops() > 2), key=lambda base: (-base.count_ops(), str(base))):
            root = sp.Symbol(f"q_{next(named)}", positive=True)
            called = form.xreplace({sp.sqrt(base): root, 1 / sp.sqrt(base): 1 / root})
            if called.has(root):
                form, roots[root] = called, base
    return form, roots


def _rows(name, form, named):
    """Rows of the align block for one form, the first numbered and labelled: a wide one calls its large roots q_1, q_2, …"""
    form, roots = _with_roots(form, named)
    label = rf" \label{{eq:{name.replace('_', '-')}}}"
    for side, value in [(rf"\text{{{_words(name)}}}", form), *((_set(root**2), base) for root, base in roots.items())]:
        first, *others = _sum(value)
        yield rf"{side} &= {first}" + (label if value is form else r" \notag")
        yield from (rf"&\quad {line} \notag" for line in others)


def _latex(forms):
    named = count(1)
    lines = [row for name, form in forms.items() for row in _rows(name, form, named)]
    block = [r"\begin{align}", " \\\\\n".join(lines), r"\end{align}"]
    if len(forms) > 1:  # longer than a page: in braces, so that page breaks stay forbidden elsewhere
        block = [r"{\allowdisplaybreaks", *block, "}"]
    return "\n".join([*block, _where(forms)])


def _where(forms):
    """The legend as a sentence to print under the block."""
    parts = []
    for line in _legend(forms, _LATEX_NAMES):
        symbol, _, meaning = line.partition(": ")
        name, _, index = symbol.partition("_")
        parts.append(f"${name}{f'_{{{index}}}' if index else ''}$ the {meaning}")
    angles = any(kind in ("angle", "tangent") for name, form in forms.items() for *_, kind in _sides(name, form))
    radians = any(FORMS[name].kind == "angle" for name in forms) or angles
    parts[0] = parts[0].replace(" ", " is ", 1)
    return f"where {', '.join(parts)}{'; angles in radians, leans from plumb' if radians else ''}."


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
    return [(symbol, _NAMES[symbol], QUANTITIES[symbol].kind) for symbol in _symbols({name: form})]


def _units(name, form):
    """One line on what goes in and what comes out."""
    inputs = [f"{argument} in {_UNITS[kind]}" if _UNITS[kind] else argument for _, argument, kind in _sides(name, form)]
    result = _UNITS[FORMS[name].kind] or "a plain number"
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
    printer = C99CodePrinter({"math_macros": {}})  # M_SQRT2 and its kind aren't in C99
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


def default_cells(form: str | None = None, plan_angle: float = 90) -> dict[str, str]:
    """Input -> the cell where the spreadsheet formulas of `write_up(form, "spreadsheet", plan_angle)` look for it."""
    inputs = _inputs(_chosen(form, plan_angle))
    if isinstance(form, str):
        return {argument: cell for argument, cell in _CELLS.items() if argument in inputs}
    return {argument: f"B{row}" for row, argument in enumerate((name for name in _CELLS if name in inputs), 2)}


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
    if alone:
        (name, form), = forms.items()
        return "=" + _formula(name, form, _CELLS | cells)
    inputs = [argument for argument in _CELLS if argument in known and argument not in cells]
    own = {argument: f"B{row}" for row, argument in enumerate(inputs, 2)}
    kinds = {quantity.name: quantity.kind for quantity in QUANTITIES.values()}
    rows = [("quantity", "value", "unit")]
    rows += [(_words(name), str(_EXAMPLES.get(name, 10 if kinds[name] == "angle" else 12)), _UNITS[kinds[name]])
             for name in inputs]
    rows += [(_words(name), "=" + _formula(name, form, own | cells), _UNITS[FORMS[name].kind]) for name, form in forms.items()]
    return "\n".join("\t".join(row) for row in rows)


def _formula(name, form, cells):
    takes = {"angle": "RADIANS({})", "tangent": "TAN(RADIANS({}))", "length": "{}", "count": "{}"}
    inputs = {symbol: sp.Symbol(takes[kind].format(cells[argument])) for symbol, argument, kind in _sides(name, form)}
    value = _SpreadsheetPrinter().doprint(form.xreplace(inputs)).replace(" ", "")
    return f"DEGREES({value})" if FORMS[name].kind == "angle" else value
