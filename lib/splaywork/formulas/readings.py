"""What is measured on a piece of wood, read back into leans, dihedral and end lines."""

from functools import cache

import sympy as sp

from .corner import UP, level_direction, outward, over_sine, slant_width, up_the_face
from .symbols import D, H, L, P, Q, S, T, a, d, p, r, w

_x, _y = sp.symbols("x y", real=True)  # the level part of a piece of corner line
_HYPOTENUSE = {"tail": sp.sqrt(1 + Q**2), "pin": sp.sqrt(1 + P**2)}


def linear_root(expression: sp.Expr, unknown: sp.Symbol) -> sp.Expr:
    """Where an expression that is linear in `unknown` is zero; sp.solve gives the same in many times as long."""
    return -expression.subs(unknown, 0) / sp.diff(expression, unknown)


@cache
def steps_back() -> tuple[sp.Eq, sp.Eq]:
    """Two equations for the level part (x, y) of a piece of corner line: how far it runs back along each board.

    The piece is √(1 + P²) √(1 + Q²) long, which clears the fractions. A board's share of it runs back as its end line does.
    """
    back = {"tail": Q * _HYPOTENUSE["pin"], "pin": P * _HYPOTENUSE["tail"]}
    level = sp.Matrix([_x, _y, 0])
    return tuple(sp.Eq(level.dot(level_direction(board)), -back[board]) for board in back)


@cache
def leans_from_end_lines() -> tuple[sp.Expr, ...]:
    """(tail lean, pin lean) from P and Q, the tangents of the measured pin and tail end lines.

    The two steps back fix the level part of a piece of corner line; what is left of its length is its height, and where
    nothing is left there is no such corner.
    """
    matrix, constants = sp.linear_eq_to_matrix(steps_back(), [_x, _y])
    level = sp.Matrix([*matrix.LUsolve(constants), 0])  # sp.solve gives the same in many times as long
    length = _HYPOTENUSE["tail"] * _HYPOTENUSE["pin"]
    height_squared = sp.expand(over_sine(length**2 - level.dot(level), power=2) * sp.sin(w) ** 2)
    outward_part = {board: over_sine(level.dot(outward(board))) * sp.sin(w) for board in ("tail", "pin")}
    return tuple(sp.atan(outward_part[board] / sp.sqrt(height_squared)) for board in outward_part)


def between_edges(cosine: sp.Expr) -> sp.Expr:
    """Cosine of the angle between the level edges, from P, Q and the cosine of the dihedral.

    The level edges, less their parts along the corner line, show the dihedral end on: each runs back along the corner
    line by the sine of its end line, and stands off it by the cosine.
    """
    x_tail, x_pin = sp.atan(Q), sp.atan(P)
    return sp.sin(x_tail) * sp.sin(x_pin) + sp.cos(x_tail) * sp.cos(x_pin) * cosine


@cache
def dihedral_from_end_lines() -> sp.Expr:
    """Dihedral from P and Q: the one that holds the level edges at the plan angle."""
    cosine = sp.Symbol("cosine")
    too_far = between_edges(cosine) - level_direction("tail").dot(level_direction("pin"))
    return sp.acos(sp.expand(linear_root(too_far, cosine)))


@cache
def lean_from_rise_and_run() -> sp.Expr:
    """Lean from a rule against a square: the face moves out by r while it climbs by H."""
    up = up_the_face("tail").subs(a, p)
    out_per_climb = sp.trigsimp(up.dot(outward("tail")) / up.dot(UP))
    tangent = sp.Symbol("tangent")
    return sp.atan(linear_root(out_per_climb.subs(sp.tan(p), tangent) - r / H, tangent))


@cache
def lean_from_slant_width() -> sp.Expr:
    """Size of the lean from the width S up the face and the vertical height H; the sign has to be seen."""
    cosine = sp.Symbol("cosine")
    return sp.acos(linear_root(sp.expand((slant_width().subs(sp.cos(p), cosine) - S) * cosine), cosine))


@cache
def end_line_from_diagonal() -> sp.Expr:
    """End line from the diagonal d of a board's face that runs to its head, the bottom edge L and the width S.

    The head of the end line stands S up and L + S·tan x along from the far foot.
    """
    tangent = sp.Symbol("tangent")
    squares = sp.solve((L + S * tangent) ** 2 + S**2 - d**2, tangent)
    return sp.atan(max(squares, key=lambda root: root.subs({L: 1, S: 1, d: 2})))


@cache
def end_line_of_like_ends() -> sp.Expr:
    """End line of a board whose two ends slant alike: its top edge T outruns its bottom edge L by both, over S."""
    tangent = sp.Symbol("tangent")
    return sp.atan(linear_root(2 * S * tangent - (T - L), tangent))


@cache
def end_line_from_diagonals() -> sp.Expr:
    """End line from the four lengths of a board's outer face: edges L and T, diagonals d (to this line's head) and D.

    The heads overhang the feet by r here and by the rest of T − L at the other end; both stand S up.
    """
    crossing = (L + r) ** 2 + S**2 - d**2
    other_crossing = (T - r) ** 2 + S**2 - D**2
    overhang = sp.factor_terms(linear_root(sp.expand(crossing - other_crossing), r))
    width = sp.sqrt(S**2 - crossing)  # crossing is zero, so S² is the rest of d²
    return sp.atan(r / width).subs(r, overhang)
