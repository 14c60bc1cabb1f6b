"""The closed forms as text for a write-up or for other tools, printed from the derivation and never retyped."""
# ruff: noqa: N802, N815 - sympy finds a printer's methods by the names of its classes

import re
from collections.abc import Sequence
from html.entities import html5
from itertools import count
from textwrap import fill

import sympy as sp
from sympy.printing.c import C99CodePrinter
from sympy.printing.mathml import mathml
from sympy.printing.precedence import PRECEDENCE
from sympy.printing.pycode import PythonCodePrinter
from sympy.printing.str import StrPrinter

from ..common import checks
from .forms import closed_form, closed_forms, form_of, said
from .latex_lines import COLUMNS, INDENT, NAMES, NUMBER, lettered, lines, points, tex
from .symbols import QUANTITIES, P, Q, a, b, g, p, q1, q2, u, v, x

TARGETS = ("latex", "mathml", "text", "python", "c", "spreadsheet")

_NAMES = {symbol: quantity.name for symbol, quantity in QUANTITIES.items()}
_CELLS = {name: f"{'A' * (at // 26)}{chr(ord('A') + at % 26)}2" for at, name in enumerate(_NAMES.values())}
# What stands in a spreadsheet's inputs until a reader types over it: a corner and a board that exist.
_EXAMPLES = {"tail_lean": 16, "pin_lean": 11, "plan_angle": 90, "lean": 16, "end_line": 11, "end_bevel": 3,
             "end_line_error": 0.25, "end_bevel_error": 0.25, "error": 0.25, "pin_end_line": 15.7, "tail_end_line": 10.6,
             "height": 100,
             "width_seen": 30, "run": 28, "slant_width": 104, "bottom_edge": 300, "diagonal": 330, "top_edge": 340,
             "other_diagonal": 325, "sides": 6, "side_bottom_edge": 250}
LINE = 100  # characters of a line of the legend: a page of a notebook is as wide
_UNITS = {"angle": "degrees", "tangent": "degrees", "length": "mm", "volume": "mm³", "ratio": "", "count": ""}
_ROOM = 155.0  # points of a line that names must leave to the forms beside them
_CELL = re.compile(r"\$?[A-Z]{1,3}\$?[1-9][0-9]{0,6}")


def write_up(form: str | Sequence[str] | None = None, to: str = "latex", plan_angle: float | None = 90,
             cells: dict[str, str] | None = None, columns: int = 1) -> str:
    """Text of one closed form, of a list of them, or of the whole set.

    Parameters
    ----------
    form : str or list of str, optional
        A name of `closed_forms(plan_angle)`, or of the `sensitivities` of one, or a list of such names; None, all closed forms.
    to : str
        "latex" - a numbered align block (needs amsmath), each form with a label such as eq:dihedral, and in print its legend,
        signs and units; what is too wide for an article's lines is broken, and its parts named;
        "mathml" - one math element, presentation markup; "text";
        "python" - functions that need only the math module; "c" - C99 functions that need only math.h;
        "spreadsheet" - a formula for any spreadsheet; for several forms a block to paste at A1: a head row, the inputs with
        examples to type over, the results, each with its unit, tabs between.
        Functions and formulas take and give angles in degrees, lengths in any one unit; the end lines that leans are read
        back from are given as angles too. A sensitivity is then for each degree. The other three are in symbols, as
        `closed_forms`.
    plan_angle : float or None
        Degrees, or None to keep it as w.
    cells : dict, optional
        For "spreadsheet" only, where inputs stand, for instance {"tail_lean": "C5"}; the others are in row 2, or in the block's
        own rows, as `default_cells`.
    columns : int
        For "latex" only: 1 or 2, of the page that the block is for.

    Returns
    -------
    str

    Raises
    ------
    ValueError
        For a form, target, plan angle, cell or number of columns that there isn't.

    >>> import splaywork as sw
    >>> print(sw.write_up("end_bevel", to="text").splitlines()[0])
    end bevel = asin(sin(a)*sin(b))
    """
    if not isinstance(to, str) or to not in TARGETS:
        raise ValueError(f"A form can't be written as {checks.shown(to)}: choose {', '.join(TARGETS)}.")
    if not isinstance(cells, dict | None) or not all(isinstance(name, str) for name in cells or ()):
        raise ValueError(f"The cells must be a dict such as {{'tail_lean': 'C5'}}, not {checks.shown(cells)}.")
    if checks.count("number of columns", columns, 1, 2) == 2 and to != "latex":
        raise ValueError(f"Only LaTeX is set in columns: leave them out, or write to 'latex' instead of {to!r}.")
    forms = _chosen(form, plan_angle)
    if to == "latex":
        return _latex(forms, columns)
    if to == "spreadsheet":
        return _spreadsheet(forms, cells or {}, alone=isinstance(form, str))
    if cells:
        raise ValueError(f"Only a spreadsheet has cells: leave out {', '.join(cells)}, or write to 'spreadsheet'.")
    return {"mathml": _mathml, "text": _text, "python": _python, "c": _c}[to](forms)


def _chosen(form, plan_angle):
    """{name: closed form} of one name, of a list of names, or of all where `form` is None."""
    if form is None:
        return closed_forms(plan_angle)
    names = form if isinstance(form, list | tuple) and form else [form]
    return {name: closed_form(checks.text("name of a form", name), plan_angle) for name in names}


def _symbols(forms):
    """The symbols that these forms use, in a settled order."""
    used = set().union(*(form.free_symbols for form in forms.values()))
    return [symbol for symbol in _NAMES if symbol in used]


def _legend(forms, names=None):
    """One line a symbol: what it stands for."""
    for symbol in _symbols(forms):
        before = "tangent of the " if symbol in (P, Q) else ""
        after = " of the board concerned" if symbol in (p, x, g) else ""
        yield f"{(names or {}).get(symbol, symbol)}: {before}{said(_NAMES[symbol])}{after}"


# In symbols.


def _latex(forms, columns):
    """An align block and its legend. In one column the forms stand in line at their equals signs; in two, under their names.

    They do so in one column too where the names are so long that they leave little room.
    """
    named = count(1)
    room = COLUMNS[columns] - NUMBER - INDENT  # the letters that name a part take about as much as an equals sign
    beside = room - max(points(rf"\text{{{said(name)}}}") for name in forms) - points("=")
    write = _in_line if columns == 1 and beside > _ROOM else _under_names
    if write is _in_line:
        room = beside
    rows = [row for name, form in forms.items() for row in write(name, _parts(form, room, named), room)]
    block = [r"\begin{align}", "\n".join([*(f"{row} {_row_end(row)}" for row in rows[:-1]), rows[-1]]), r"\end{align}"]
    if len(forms) > 1:  # longer than a page: in a group, so that page breaks stay forbidden elsewhere
        block = [r"\begingroup\allowdisplaybreaks", *block, r"\endgroup"]
    return "\n".join([*block, _where(forms)])


def shown(forms: dict[str, sp.Expr]) -> str:
    """LaTeX of forms as a page shows it: without numbers and labels, which are for a document."""
    block = re.sub(r" \\label\{[^}]*\}| \\notag", "", _latex(forms, 1)).replace("{align}", "{align*}")
    return block.replace("\\begingroup\\allowdisplaybreaks\n", "").replace("\\endgroup\n", "\n")


def _row_end(row):
    """After a name that has a row of its own no page may break."""
    return r"\\*" if row.startswith(r"&\text") and row.endswith(r"\notag") else r"\\"


def _label(name):
    return rf"\label{{eq:{name.replace('_', '-')}}}"


def _parts(form, room, named):
    """[(what stands left of the equals sign, or None for the form itself; expression), …]: the form and its lettered parts."""
    todo, done = [(None, form)], []
    while todo:
        side, part = todo.pop(0)
        part, more = lettered(part, room, named)
        done.append((side and tex(side), part))
        todo = [*more.items(), *todo]
    return done


def _in_line(name, parts, room):
    """Rows of one form, the first numbered and labelled: its lines, and those of its parts that bear a letter."""
    for side, part in parts:
        first, *others = lines(part, room)
        yield rf"{side} &= {first} \notag" if side else rf"\text{{{said(name)}}} &= {first} {_label(name)}"
        yield from (rf"&\quad {line} \notag" for line in others)


def _under_names(name, parts, room):
    """The same for a narrow column: a name that leaves no room beside it has a row of its own."""
    words = rf"\text{{{said(name)}}}"
    for side, part in parts:
        first, *others = lines(part, room - points(f"{side or ''}="))
        if side:
            yield rf"&{side} = {first} \notag"
        elif not others and points(f"{words} = {first}") <= room:
            yield f"&{words} = {first} {_label(name)}"
        else:
            yield rf"&{words} \notag"
            yield rf"&\quad = {first} {_label(name)}"
        yield from (rf"&\quad {line} \notag" for line in others)


_LEANS, _END_LINES = {a, b, p, u, v, q1, q2}, {x, P, Q}


def _where(forms):
    """The legend, with signs and units, as a paragraph to print under the block."""
    parts = []
    for line in _legend(forms, NAMES):
        symbol, _, meaning = line.partition(": ")
        name, _, index = symbol.partition("_")
        parts.append(f"${name}{f'_{{{index}}}' if index else ''}$ the {meaning}")
    parts[0] = parts[0].replace(" ", " is ", 1)
    used = set(_symbols(forms))
    angles = any(form_of(name).kind == "angle" for name in forms) or any(QUANTITIES[symbol].kind in ("angle", "tangent")
                                                                         for symbol in used)
    leans = used & _LEANS or any("lean" in name for name in forms)
    lines_too = used & _END_LINES or any("end_line" in name for name in forms)
    legend = [f"where {', '.join(parts)}{'; angles in radians, leans from plumb' if angles else ''}."]
    legend += ["A lean is positive where the top stands further out than the bottom."] if leans else []
    legend += ["An end line is measured from square, positive where the board is longer at the top."] if lines_too else []
    legend += [f"“Per {quantity}” means for each radian of the {quantity}." for quantity in dict.fromkeys(
        said(name.partition("_per_")[2]) for name in forms if form_of(name).per == "angle")]
    return fill(" ".join(legend), LINE, break_long_words=False, break_on_hyphens=False)


def _mathml(forms):
    rows = [f"<mtr><mtd><mtext>{said(name)}</mtext></mtd><mtd><mo>=</mo></mtd><mtd>{_markup(form)}</mtd></mtr>"
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
    lines = [f"{said(name)} = {_TextPrinter().doprint(form)}" for name, form in forms.items()]
    return "\n".join([*lines, "", *_legend(forms)])


# As functions, in degrees.


def _sides(name, form):
    """[(symbol, argument, kind), …] of a form, each symbol's kind as in `QUANTITIES`."""
    return [(symbol, _NAMES[symbol], QUANTITIES[symbol].kind) for symbol in _symbols({name: form})]


def _units(name, form):
    """One line on what goes in and what comes out."""
    inputs = [f"{argument} in {_UNITS[kind]}" if _UNITS[kind] else argument for _, argument, kind in _sides(name, form)]
    return f"{said(name).capitalize()}, {_unit(name) or 'a plain number'}; {', '.join(inputs)}."


def _unit(name):
    """Of what a form gives, as a reader takes it: "degrees", "mm for each degree"; "" for a plain number."""
    form = form_of(name)
    each = {"angle": "for each degree", "length": "for each mm"}.get(form.per, "")
    return f"{_UNITS[form.kind]} {each}".strip()


def _python(forms):
    printer = PythonCodePrinter({"fully_qualified_modules": True})
    takes = {"angle": "math.radians({})", "tangent": "math.tan(math.radians({}))", "length": "{}", "count": "{}"}
    functions = ["import math"]
    for name, form in forms.items():
        sides = _sides(name, form)
        value = printer.doprint(form)
        turn = form_of(name).turn
        result = f"math.{turn}({value})" if turn else value
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
        turn = form_of(name).turn
        result = {"degrees": f"180 / pi * ({value})", "radians": f"pi / 180 * ({value})"}.get(turn, value)
        needs_pi = turn or any(kind in ("angle", "tangent") for *_, kind in sides) or form.has(sp.pi)
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
    rows += [(said(name), str(_EXAMPLES.get(name, 10 if kinds[name] == "angle" else 12)), _UNITS[kinds[name]])
             for name in inputs]
    rows += [(said(name), "=" + _formula(name, form, own | cells), _unit(name)) for name, form in forms.items()]
    return "\n".join("\t".join(row) for row in rows)


def _formula(name, form, cells):
    takes = {"angle": "RADIANS({})", "tangent": "TAN(RADIANS({}))", "length": "{}", "count": "{}"}
    inputs = {symbol: sp.Symbol(takes[kind].format(cells[argument])) for symbol, argument, kind in _sides(name, form)}
    value = _SpreadsheetPrinter().doprint(form.xreplace(inputs)).replace(" ", "")
    turn = form_of(name).turn
    return f"{turn.upper()}({value})" if turn else value
