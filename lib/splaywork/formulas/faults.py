"""What settings a little wrong open, and what the gaps say of the cut."""

from functools import cache

import sympy as sp

from .corner import UP, corner_rise, end_bevel, outer_normal, slant_width, up_the_face
from .readings import between_edges, linear_root
from .symbols import a, c, dg, dx, g, p, t, x


@cache
def sawn_end() -> tuple[sp.Expr, ...]:
    """Where an end lies along the board: (per 1 up the face, per 1 into the wood).

    Up the face it follows the end line x. Into the wood it runs off by the tangent of its bevel g, square to the end
    line; measured along the board that is longer by the end line's secant.
    """
    return sp.tan(x), sp.tan(g) / sp.cos(x)


@cache
def opens_per_mm() -> tuple[sp.Expr, ...]:
    """What a wrong end line (by dx) and a wrong end bevel (by dg) open: (per 1 up the face, per 1 into the wood)."""
    return tuple(part.subs({x: x + dx, g: g + dg}, simultaneous=True) - part for part in sawn_end())


def _sum_over_the_end(up_the_face_part, into_the_wood):
    """Widest opening less the narrowest over a flat end, whose edges were ripped level: a parallelogram, not a rectangle.

    Straight into the wood, a level edge falls by the tangent of the lean; going along it, what opens up the face counts back.
    """
    into, up = -outer_normal("tail").subs(a, p), up_the_face("tail").subs(a, p)
    falls = sp.trigsimp(into.dot(UP) / up.dot(UP))
    return sp.Abs(slant_width() * up_the_face_part) + sp.Abs(t * (into_the_wood - falls * up_the_face_part))


@cache
def end_opening() -> sp.Expr:
    """Largest gap at a board's end, the board pushed along itself until it touches: a flat end on a flat seat.

    Over a parallelogram two flats that touch at one corner are furthest apart at the opposite one, or at the next.
    """
    return _sum_over_the_end(*opens_per_mm())


@cache
def end_opening_per(setting: sp.Expr) -> sp.Expr:
    """Gap that opens for each radian by which one setting, dx or dg, is wrong: the derivative at no error."""
    return _sum_over_the_end(*(sp.diff(part, setting).subs({dx: 0, dg: 0}) for part in opens_per_mm()))


@cache
def unbevelled_gap() -> sp.Expr:
    """Gap, measured along the board square to the end line, when an end was left square to its face.

    It is the thickness times the tangent of the end bevel, of which only the sine has a sign.
    """
    return t * sp.Abs(sp.sin(end_bevel())) / sp.cos(end_bevel())


@cache
def left_open() -> sp.Expr:
    """Gap under the inner arris of a surface cut at g from square that should be at p to lie true.

    Going straight into the wood by t climbs away from the bench; ripping to g takes t·tan g off, down the face.
    In the plane square to the corner line the other board is to an end what the bench is to an edge.
    """
    into, up = -outer_normal("tail").subs(a, p), up_the_face("tail").subs(a, p)
    return t * (into.dot(UP) - sp.tan(g) * up.dot(UP))


@cache
def cut_from_gap() -> sp.Expr:
    """The angle from square at which a surface was cut, from the gap c that it leaves under its inner arris."""
    cut = sp.expand(linear_root(left_open().subs(sp.tan(g), x) - c, x))
    return sp.atan(cut.subs(sp.sin(p) / sp.cos(p), sp.tan(p)))


@cache
def end_line_gap() -> sp.Expr:
    """Gap along the board when its end was cut to x + dx instead of x, positive when it opens at the bottom."""
    return slant_width() * opens_per_mm()[0]


@cache
def end_line_from_gap() -> sp.Expr:
    """The end line to which an end was really cut, from the gap c along the board that opens at the bottom."""
    tangent = sp.Symbol("tangent")
    cut = end_line_gap().subs(sp.tan(dx + x), tangent)
    return sp.atan(sp.expand(linear_root(cut - c, tangent)))


@cache
def plan_angle_as_joined() -> sp.Expr:
    """Plan angle at which two boards of end lines P and Q stand when their ends, sawn to g, are pulled up tight."""
    return sp.acos(between_edges(sp.cos(sp.pi / 2 + g)))


@cache
def slipped_foot() -> sp.Expr:
    """How high a foot stands off the bench when its board has slipped by c along the corner line."""
    return c * sp.sin(corner_rise())
