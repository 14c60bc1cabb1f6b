"""The one-gauge shortcut: the bevel set to one board's lean strikes the other's end line. Square plans only."""

from functools import cache

import sympy as sp

from ..common.boards import other
from .corner import at_square, end_line, lean, level_on_square_end
from .readings import leans_from_end_lines, linear_root
from .symbols import P, Q, S, a, b, e


def _less_than_one_by(cosine_of):
    """1 − cos as twice the square of a half-angle sine, which stays exact for small angles."""
    half = sp.Dummy("half")
    return sp.trigsimp(sp.expand_trig(1 - sp.cos(2 * half))).subs(half, cosine_of / 2)


def _difference_of_roots(first, second):
    """first − second, written as the difference of their squares over their sum, so that nothing cancels."""
    return sp.trigsimp(first**2 - second**2) / (first + second)


def _tangent_of_difference(difference, first, second):
    """The tangent of the angle between two angles of tangents `first` and `second`, which differ by `difference`."""
    return difference / (1 + first * second)


@cache
def struck_and_true(board: str) -> tuple[sp.Expr, ...]:
    """(tangent of the struck end line, the true one, their difference) on a board, at a plan angle of 90 degrees.

    Struck is the other board's lean. The true tangent is that times the cosine of the board's own lean: what the
    shortcut leaves out is this cosine, and it matters only as far as it falls short of 1.
    """
    struck = sp.tan(lean(other(board)))
    true = sp.tan(at_square(end_line(board)))
    own = lean(board)
    missing = sp.cancel((struck - true) / struck)  # 1 − cos of the board's own lean
    return struck, true, struck * missing.subs(sp.cos(own), 1 - _less_than_one_by(own))


@cache
def one_gauge_error(board: str) -> sp.Expr:
    """Struck end line less the true one: by how much the line slants too much (signed as the line)."""
    struck, true, difference = struck_and_true(board)
    return sp.atan(_tangent_of_difference(difference, struck, true))


@cache
def one_gauge_gap(board: str) -> sp.Expr:
    """Gap at the far edge, with the leans held, over a slant width S: how far the two lines have parted there."""
    return S * sp.Abs(struck_and_true(board)[2])


def small_lean_series(board: str, order: int = 6) -> sp.Expr:
    """The error on a board as a series in that board's own lean, with its remainder O(lean**order).

    Without lean there is no error; from there on it grows by `error_growth`, whose derivatives are shorter than its own.
    """
    own, change, terms = lean(board), error_growth(board), []
    for power in range(1, order):
        terms.append(sp.trigsimp(change.subs(own, 0) / sp.factorial(power)) * own**power)
        change = sp.diff(change, own)
    return sp.Add(*terms) + sp.O(own**order)


@cache
def small_lean_error(board: str) -> sp.Expr:
    """The error on a board for small leans: the lowest term of its series."""
    return small_lean_series(board, order=4).removeO()


@cache
def error_growth(board: str) -> sp.Expr:
    """By how much the error grows for each radian of the board's own lean p, the other board's lean q staying.

    Only the true line moves. Its growth is cleared of fractions by cos² q, and squares of cosines become those of sines.
    """
    own, others = lean(board), lean(other(board))
    _, true, _ = struck_and_true(board)
    over, under = (sp.expand(part.subs(sp.tan(others), sp.sin(others) / sp.cos(others)) * sp.cos(others) ** 2)
                   for part in sp.fraction(-sp.diff(sp.atan(true), own)))
    for angle in (own, others):
        under = sp.expand(under.subs(sp.cos(angle) ** 2, 1 - sp.sin(angle) ** 2))
    return over.subs(sp.sin(others) * sp.cos(others), sp.sin(2 * others) / 2) / under


@cache
def small_lean_bound(board: str) -> sp.Expr:
    """How far the rule of thumb may be from the error, either way, while sin² q · p² is at most 1/2.

    The error grows by sin 2q / 2 · sin p / (1 − sin² q sin² p). Below: sin p is at least p − p³/6, and the denominator at most
    1; what that leaves out of p²/2 is p⁴/24. Above: sin p is at most p, and 1/(1 − u) at most 1 + 2u while u is at most 1/2;
    what that adds to p²/2 is sin² q p⁴/2. Each is a share of the rule of thumb; their sum is more than either.
    """
    own, others = lean(board), lean(other(board))
    rule = sp.integrate(own, own)
    less = sp.integrate(sp.series(sp.sin(own), own, 0, 2).removeO() - sp.series(sp.sin(own), own, 0, 4).removeO(), own)
    more = sp.integrate(own * 2 * sp.sin(others) ** 2 * own**2, own)
    return sp.Abs(small_lean_error(board)) * sp.expand((less + more) / rule)


@cache
def closed_lean(board: str) -> sp.Expr:
    """Lean at which a board really stands when both end lines of the corner were struck with the one gauge.

    The struck lines are put where measured end lines go. Leans are within a right angle of plumb, so sqrt(1 + tan²) is
    the secant.
    """
    back = dict(zip(("tail", "pin"), leans_from_end_lines(), strict=True))[board]
    closed = at_square(back).subs({P: sp.tan(a), Q: sp.tan(b)})
    own = lean(other(board))
    return closed.subs(sp.sqrt(1 + sp.tan(own) ** 2), 1 / sp.cos(own))


@cache
def closed_height_factor() -> sp.Expr:
    """Height of the box those ends really make, over the height asked: the boards' slant widths stay what they are.

    Its square is a ratio of powers of tangents, once a cosine's square is 1/(1 + tan²); what they share is cancelled.
    """
    square = (sp.cos(closed_lean("tail")) / sp.cos(a)) ** 2
    for angle in (a, b):
        square = square.subs(sp.cos(angle) ** 2, 1 / (1 + sp.tan(angle) ** 2))
    return sp.sqrt(sp.cancel(square))


@cache
def one_gauge_square_level_error() -> sp.Expr:
    """Lean of the tail board less the level line on its square end: negative, as a bevel set to the lean slants too little.

    The true tangent is that of the lean, lengthened as the corner line is against a line straight up the face.
    """
    longer = sp.sqrt(sp.trigsimp((sp.tan(at_square(level_on_square_end())) / sp.tan(a)) ** 2))
    difference = sp.tan(a) * _difference_of_roots(sp.S.One, longer)
    return sp.atan(_tangent_of_difference(difference, sp.tan(a), sp.tan(a) * longer))


@cache
def pin_lean_of_one_gauge_error() -> sp.Expr:
    """Pin board's lean at which the line struck on it is slanting too much by e, for a tail lean a (both positive)."""
    cosine = sp.Symbol("cosine")
    line = sp.tan(at_square(end_line("pin"))).subs(sp.cos(b), cosine)
    return sp.acos(linear_root(line - sp.tan(a - e), cosine))
