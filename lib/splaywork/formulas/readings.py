"""What is measured on a piece of wood, read back into leans, dihedral and end lines."""

from functools import cache

import sympy as sp

from .corner import UP, level_direction, outward, over_sine, slant_width, up_the_face
from .symbols import D, H, L, P, Q, S, T, a, d, p, r, w

_x, _y = sp.symbols("x y", real=True)  # the level part of a piece of corner line
_HYPOTENUSE = {"tail": sp.sqrt(1 + Q**2), "pin": sp.sqrt(1 + P**2)}


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
    at = sp.solve(steps_back(), [_x, _y], dict=True)[0]
    level = sp.Matrix([_x, _y, 0]).subs(at)
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
    root = -too_far.subs(cosine, 0) / sp.diff(too_far, cosine)  # it is linear; sp.solve gives the same in many times as long
    return sp.acos(sp.expand(root))


@cache
def lean_from_rise_and_run() -> sp.Expr:
    """Lean from a rule against a square: the face moves out by r while it climbs by H."""
    up = up_the_face("tail").subs(a, p)
    out_per_climb = sp.trigsimp(up.dot(outward("tail")) / up.dot(UP))
    return sp.solve(out_per_climb - r / H, p)[0]


@cache
def lean_from_slant_width() -> sp.Expr:
    """Size of the lean from the width S up the face and the vertical height H; the sign has to be seen."""
    cosine = sp.Symbol("cosine")
    return sp.acos(sp.solve(slant_width().subs(sp.cos(p), cosine) - S, cosine)[0])


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
    return sp.atan(sp.solve(T - L - 2 * S * tangent, tangent)[0])


@cache
def end_line_from_diagonals() -> sp.Expr:
    """End line from the four lengths of a board's outer face: edges L and T, diagonals d (to this line's head) and D.

    The heads overhang the feet by r here and by the rest of T − L at the other end; both stand S up.
    """
    crossing = (L + r) ** 2 + S**2 - d**2
    other_crossing = (T - r) ** 2 + S**2 - D**2
    overhang = sp.solve(sp.expand(crossing - other_crossing), r)[0]
    width = sp.sqrt(sp.solve(crossing, S**2)[0])
    return sp.atan(r / width).subs(r, overhang)
