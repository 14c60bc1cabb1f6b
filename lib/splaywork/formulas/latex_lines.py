"""A form as lines of LaTeX that fit a column: long sums broken between their terms, long parts called R_1, R_2, …

`lettered` makes it fit, `lines` writes it. Widths are judged in points of a document set in 10 points, from what TeX's own
letters take; a test measures them there.
"""

import re
from collections.abc import Iterator
from functools import cache

import sympy as sp
from sympy.printing.latex import LatexPrinter

from .symbols import dg, dx

NAMES = {dx: r"\delta x", dg: r"\delta g"}
COLUMNS = {1: 345.0, 2: 229.0}  # points of an article's lines, whole and in two columns
NUMBER = 28.0  # points that an equation's number takes, with the white before it
INDENT = 10.0  # of a line that goes on

_TOKEN = re.compile(r"\\[a-zA-Z]+|\\.|.", re.DOTALL)
_WIDE = {"+": 12.3, "-": 12.3, "=": 13.4, "|": 2.8, "(": 3.9, ")": 3.9, " ": 0.0, r"\quad": 10.0, r"\pi": 6.0, r"\delta": 4.8,
         r"\xi": 4.8, r"\eta": 5.0, r"\left": 2.4, r"\right": 2.4, r"\notag": 0.0, r"\sin": 14.0, r"\cos": 15.5, r"\tan": 17.5,
         r"\cot": 16.0, r"\arcsin": 31.0, r"\arccos": 32.0, r"\arctan": 34.0}


class _Printer(LatexPrinter):
    """Full names of inverse functions, terms that begin with a minus sign last, brackets where an argument needs them."""

    def __init__(self):
        super().__init__({"inv_trig_style": "full", "symbol_names": NAMES, "order": "none", "fold_func_brackets": True})

    def _as_ordered_terms(self, expr, order=None):
        return ordered(expr)

    def _needs_function_brackets(self, expr):
        return super()._needs_function_brackets(expr) or expr.could_extract_minus_sign()


def ordered(form: sp.Expr) -> list[sp.Expr]:
    """The terms of a sum: first those with a plus sign, and a setting before its error."""
    return sorted(sp.Add.make_args(form), key=lambda term: (term.could_extract_minus_sign(), term in (dx, dg)))


@cache
def tex(form: sp.Basic) -> str:
    """A form, or an equation of two, as LaTeX on one line."""
    return _Printer().doprint(form)


def points(text: str) -> float:
    """About how wide LaTeX is when it is set in 10 points."""
    return _width(iter(_TOKEN.findall(text)))


def _width(tokens, until=None):
    total = 0.0
    for token in tokens:
        if token == until:
            break
        if token == "{":
            total += _width(tokens, "}")
        elif token in "_^":
            total += 0.5 + 0.7 * _argument(tokens)
        elif token == r"\frac":
            total += 2.4 + max(_argument(tokens), _argument(tokens))
        elif token == r"\sqrt":
            total += 8.5 + _argument(tokens)
        elif token == r"\text":
            total += 0.85 * _argument(tokens, words=True)
        else:
            total += _WIDE.get(token, 5.0 if token.isdigit() else 7.6 if token.isupper() else 5.6)
    return total


def _argument(tokens, words=False):
    """Width of the group, or of the one token, that comes next; a space counts in words alone."""
    token = next(tokens)
    if token != "{":
        return _width(iter([token]))
    if not words:
        return _width(tokens, "}")
    inside = []
    for token in iter(lambda: next(tokens), "}"):
        inside.append("a" if token == " " else token)
    return _width(iter(inside))


def lettered(form: sp.Expr, room: float, named: Iterator[int]) -> tuple[sp.Expr, dict[sp.Expr, sp.Expr]]:
    """(the form, {symbol: part}): terms wider than `room` points have their large roots and sums called R_1, R_2, …

    A root's letter stands squared beside what is under the root. `named` counts the letters on.
    """
    parts = {}
    while wide := [term for term in ordered(form) if points(tex(term)) > room]:
        found = _largest_part(max(wide, key=lambda term: points(tex(term))))
        if found is None:
            break
        name = f"R_{next(named)}"
        if found.is_Pow:
            letter, base = sp.Symbol(name, positive=True), found.base
            form, parts[letter**2] = form.xreplace({sp.sqrt(base): letter, 1 / sp.sqrt(base): 1 / letter}), base
        else:
            letter = sp.Symbol(name, real=True)  # a sum may be negative
            form, parts[letter] = form.xreplace({found: letter}), found
    return form, parts


def lines(form: sp.Expr, room: float) -> list[str]:
    """The form as lines of LaTeX, broken between its terms so that each line is at most `room` points wide."""
    written: list[list[sp.Expr]] = []
    terms: list[sp.Expr] = []
    for term in ordered(form):
        if terms and points(tex(sp.Add(*terms, term, evaluate=False))) > room:
            written.append(terms)
            terms = []
        terms.append(term)
    first, *others = [tex(sp.Add(*terms, evaluate=False)) for terms in (*written, terms)]
    return [first, *(line if line.startswith("-") else f"+ {line}" for line in others)]


def _largest_part(form):
    """The widest root inside a form, which is worth a letter of its own; else the widest sum; else None."""
    inside = [part for part in sp.preorder_traversal(form) if part != form and part.free_symbols and part.count_ops() > 2]
    roots = [part for part in inside if part.is_Pow and abs(part.exp) == sp.Rational(1, 2)]
    return max(roots or [part for part in inside if part.is_Add], key=lambda part: (points(tex(part)), str(part)), default=None)
