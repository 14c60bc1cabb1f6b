"""From two planes to every closed form of a leaning corner, in sympy.

Axes: the foot of the corner is the origin, z points up from the bench. The tail board's level edge runs along +x,
the pin board's at the plan angle w from it, and the inside of the box lies between them. The symbols a (lean of the tail
board), b (lean of the pin board) and w (plan angle) are in radians. Each step is a function of its own, so that a
notebook can show it; each is worked out once per process, when first asked for.
"""

from functools import cache

import numpy as np
import sympy as sp
from sympy.printing.numpy import NumPyPrinter

from ..common.boards import other

a, b, w = sp.symbols("a b w", real=True)
H, t, p, s = sp.symbols("H t p s", real=True)  # height, thickness, lean of the board concerned, a width seen
P, Q = sp.symbols("P Q", real=True)  # tangents of the pin and the tail end line, as measured
e = sp.symbols("e", real=True)  # an error of an end line
r, S, L, d = sp.symbols("r S L d", real=True)  # measured: a run over the rise H, slant width, bottom edge, diagonal
T, D, c = sp.symbols("T D c", real=True)  # measured: top edge, the other diagonal, a gap
x, g, dx, dg = sp.symbols("x g dx dg", real=True)  # an end line, an end bevel, and by how much each was set wrong
z = sp.symbols("z", real=True)  # a height above the bottom rim
u, v, tu, tv = sp.symbols("u v t_u t_v", real=True)  # leans and thicknesses of the neighbours at a board's two ends
L_side, q1, q2, s1, s2 = sp.symbols("L_s q_1 q_2 s_1 s_2", real=True)  # a neighbour's length, and the same at its ends
N = sp.symbols("N", positive=True)  # how many boards a regular box has
k = sp.symbols("k", real=True)  # what the plan angle lacks of square, so that square is exact in floating point

UP = sp.Matrix([0, 0, 1])


@cache
def level_direction(board):
    """Direction of the board's level edges, pointing away from the corner: unit 3-vector. `board`: "tail" or "pin"."""
    return sp.ImmutableMatrix([1, 0, 0] if board == "tail" else [sp.cos(w), sp.sin(w), 0])


@cache
def outward(board):
    """Level direction square to the board's level edges, pointing out of the box: unit 3-vector."""
    return sp.ImmutableMatrix([0, -1, 0] if board == "tail" else [-sp.sin(w), sp.cos(w), 0])


def lean(board):
    """The symbol of the board's lean."""
    return a if board == "tail" else b


@cache
def up_the_face(board):
    """Direction straight up the board's outer face: upright, tipped outward by the lean. Unit 3-vector."""
    return sp.ImmutableMatrix(sp.sin(lean(board)) * outward(board) + sp.cos(lean(board)) * UP)


@cache
def outer_normal(board):
    """Unit normal of the board's outer face, pointing out of the wood (and downward where the board leans out)."""
    return sp.ImmutableMatrix(sp.cos(lean(board)) * outward(board) - sp.sin(lean(board)) * UP)


@cache
def corner_line():
    """The corner line from the bench to unit height: where the two outer faces meet.

    A point at height 1 lies on a face when it has moved outward by the tangent of that face's lean.
    """
    x, y = sp.symbols("x y", real=True)
    point = sp.Matrix([x, y, 1])
    on_faces = [point.dot(outward(board)) - sp.tan(lean(board)) for board in ("tail", "pin")]
    at = sp.solve(on_faces, [x, y], dict=True)[0]
    return sp.ImmutableMatrix([sp.factor(at[x]), at[y], 1])


def _over_sine(expression, power=1):
    """The expression as a simplified numerator over a power of sin w."""
    return sp.trigsimp(sp.expand(expression * sp.sin(w) ** power)) / sp.sin(w) ** power


@cache
def along_and_up(board):
    """The corner line in the board's own face: (how far the board has grown along its edge, how far up the face)."""
    line = corner_line()
    grown = _over_sine(-line.dot(level_direction(board)))
    return grown, slant_width().subs({H: 1, p: lean(board)})


@cache
def end_line(board):
    """Angle of the end line from square to the bottom edge; positive when the board is longer at the top."""
    along, up = along_and_up(board)
    return sp.atan(along / up)


@cache
def cosine_of_dihedral():
    """Cosine of the dihedral, inside the box: the outward normals open by what the faces close."""
    return sp.expand(-outer_normal("tail").dot(outer_normal("pin")))


@cache
def dihedral():
    """Angle between the two faces, inside, in the plane square to the corner line."""
    return sp.acos(cosine_of_dihedral())


@cache
def end_bevel():
    """Dihedral less a right angle, as an arcsine so that it stays exact near zero."""
    return sp.asin(-cosine_of_dihedral())


@cache
def run_of_corner_line():
    """Level distance that the corner line covers while it climbs by 1."""
    x, y, _ = corner_line()
    return sp.sqrt(x**2 + y**2)


@cache
def corner_rise():
    """Angle of the corner line above the bench."""
    return sp.pi / 2 - sp.atan(run_of_corner_line())


@cache
def rim_bevel(board):
    """How far the edges are ripped out of square: the turn from "straight up the face" to the plumb line."""
    up = up_the_face(board)
    tangent = sp.trigsimp(up.dot(outward(board)) / up.dot(UP))
    return tangent.args[0]  # leans lie within a right angle of plumb, where the arctangent undoes the tangent


@cache
def level_on_flush_end():
    """Level line on a tail end that lies flush with the pin board's outer face, from square to the outer arris.

    That end lies in the pin board's outer face, so its level lines are that face's, and its arris is the corner line.
    """
    along, up = along_and_up("pin")
    return sp.atan(along / up)


@cache
def level_on_square_end():
    """Level line on a tail end sawn square to the face, from square to the outer arris.

    Going straight into the wood by 1 climbs by sin a; going back down the arris by m, at the slope of the corner line,
    must make up for it.
    """
    climb_inward = -outer_normal("tail").dot(UP)
    climb_of_arris = 1 / sp.sqrt(1 + run_of_corner_line() ** 2)
    return sp.atan(climb_inward / climb_of_arris)


@cache
def slant_width():
    """Width up the face of a board of lean p whose vertical height is H."""
    return H / up_the_face("tail").dot(UP).subs(a, p)


@cache
def baseline_offset():
    """Distance of the baseline from the end line, square to it, on either face; t is the *other* board's thickness.

    Walking by d across one face, square to the corner line, takes one d·sin(dihedral) away from the other face.
    """
    return t / sp.sin(dihedral())


@cache
def rocking_gap():
    """Gap under an arris when an edge was left square to a face of lean p: the height its thickness t climbs."""
    return t * sp.Abs(outer_normal("tail").dot(UP).subs(a, p))


@cache
def looks_as():
    """Width to mark up a face of lean p so that it looks s wide from the front."""
    return s / up_the_face("tail").dot(UP).subs(a, p)


@cache
def leans_from_end_lines():
    """(tail lean, pin lean) from P and Q, the tangents of the measured pin and tail end lines.

    Each end line tells how much of a piece of corner line runs level along that board. Those two parts fix the level
    part of it; what is left of its length is its height, and where nothing is left there is no such corner.
    """
    x, y = sp.symbols("x y", real=True)
    hypotenuse = {"tail": sp.sqrt(1 + Q**2), "pin": sp.sqrt(1 + P**2)}
    length = hypotenuse["tail"] * hypotenuse["pin"]  # of a piece of corner line, chosen to clear the fractions
    part = {"tail": Q * hypotenuse["pin"], "pin": P * hypotenuse["tail"]}
    level = sp.Matrix([x, y, 0])
    at = sp.solve([level.dot(level_direction(board)) + part[board] for board in part], [x, y], dict=True)[0]
    level = level.subs(at)
    height_squared = sp.expand(_over_sine(length**2 - level.dot(level), power=2) * sp.sin(w) ** 2)
    outward_part = {board: _over_sine(level.dot(outward(board))) * sp.sin(w) for board in part}
    return tuple(sp.atan(outward_part[board] / sp.sqrt(height_squared)) for board in part)


@cache
def general_forms():
    """Name -> closed form for any plan angle, in radians; names as the attributes of `Corner`."""
    tail_back, pin_back = leans_from_end_lines()
    return {
        "tail_end_line": end_line("tail"),
        "pin_end_line": end_line("pin"),
        "dihedral": dihedral(),
        "end_bevel": end_bevel(),
        "corner_rise": corner_rise(),
        "tail_rim_bevel": rim_bevel("tail"),
        "pin_rim_bevel": rim_bevel("pin"),
        "level_on_flush_end": level_on_flush_end(),
        "level_on_square_end": level_on_square_end(),
        "slant_width": slant_width(),
        "baseline_offset": baseline_offset(),
        "rocking_gap": rocking_gap(),
        "looks_as": looks_as(),
        "tail_lean_from_end_lines": tail_back,
        "pin_lean_from_end_lines": pin_back,
    }


# --- The one-gauge shortcut: the gauge set to one board's lean strikes the other's end line. Square plans only. ---


def at_square(expression):
    """The expression at a plan angle of 90 degrees."""
    return expression.subs(w, sp.pi / 2)


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
def struck_too_steep(board):
    """(tangent of the struck end line, the true one, their difference) on a board of a square corner.

    Struck is the other board's lean. The true tangent is that times the cosine of the board's own lean: what the
    shortcut leaves out is this cosine, and it matters only as far as it falls short of 1.
    """
    struck = sp.tan(lean(other(board)))
    true = sp.tan(at_square(end_line(board)))
    own = lean(board)
    missing = sp.cancel((struck - true) / struck)  # 1 − cos of the board's own lean
    return struck, true, struck * missing.subs(sp.cos(own), 1 - _less_than_one_by(own))


@cache
def one_gauge_error(board):
    """Struck end line less the true one: how much too steep the shortcut's line is (signed as the line)."""
    struck, true, difference = struck_too_steep(board)
    return sp.atan(_tangent_of_difference(difference, struck, true))


@cache
def one_gauge_gap(board):
    """Gap at the far edge, with the leans held, for a slant width of 1: how far the two lines have parted there."""
    return sp.Abs(struck_too_steep(board)[2])


def small_lean_series(board, order=6):
    """The error on a board as a series in that board's own lean, with its remainder O(lean**order)."""
    own = lean(board)
    series = sp.series(one_gauge_error(board), own, 0, order)
    terms = [sp.trigsimp(series.removeO().coeff(own, power)) * own**power for power in range(order)]
    return sp.Add(*terms) + sp.O(own**order)


@cache
def small_lean_error(board):
    """The error on a board for small leans: the first term of its series."""
    return small_lean_series(board, order=4).removeO()


@cache
def closed_lean(board):
    """Lean at which a board really stands when both end lines of the corner were struck with the one gauge.

    The struck lines are put where measured end lines go. Leans are within a right angle of plumb, so sqrt(1 + tan²) is
    the secant.
    """
    back = dict(zip(("tail", "pin"), leans_from_end_lines(), strict=True))[board]
    closed = at_square(back).subs({P: sp.tan(a), Q: sp.tan(b)})
    own = lean(other(board))
    return closed.subs(sp.sqrt(1 + sp.tan(own) ** 2), 1 / sp.cos(own))


@cache
def closed_height_factor():
    """Height of the box those ends really make, over the height asked: the boards' slant widths stay what they are."""
    factor = sp.cos(closed_lean("tail")) / sp.cos(a)
    return sp.sqrt(sp.trigsimp(factor**2))


@cache
def one_gauge_square_level_error():
    """Lean of the tail board less the level line on its square end: negative, as the gauge set to the lean is too flat.

    The true tangent is that of the lean, lengthened as the corner line is against a line straight up the face.
    """
    longer = sp.sqrt(sp.trigsimp((sp.tan(at_square(level_on_square_end())) / sp.tan(a)) ** 2))
    difference = sp.tan(a) * _difference_of_roots(sp.S.One, longer)
    return sp.atan(_tangent_of_difference(difference, sp.tan(a), sp.tan(a) * longer))


@cache
def pin_lean_of_one_gauge_error():
    """Pin board's lean at which the line struck on it is too steep by e, for a tail lean a (both positive)."""
    cosine = sp.Symbol("cosine")
    line = sp.tan(at_square(end_line("pin"))).subs(sp.cos(b), cosine)
    return sp.acos(sp.solve(line - sp.tan(a - e), cosine)[0])


@cache
def one_gauge_forms():
    """Name -> closed form of the one-gauge shortcut at a square corner, in radians; gaps for a slant width of 1."""
    return {
        "one_gauge_tail_error": one_gauge_error("tail"),
        "one_gauge_pin_error": one_gauge_error("pin"),
        "one_gauge_tail_gap": one_gauge_gap("tail"),
        "one_gauge_pin_gap": one_gauge_gap("pin"),
        "closed_tail_lean": closed_lean("tail"),
        "closed_pin_lean": closed_lean("pin"),
        "closed_height_factor": closed_height_factor(),
        "one_gauge_flush_level_error": one_gauge_error("pin"),  # the flush end's level line is the pin board's end line
        "one_gauge_square_level_error": one_gauge_square_level_error(),
        "pin_lean_of_one_gauge_error": pin_lean_of_one_gauge_error(),
    }


# --- Settings a little off, and leans measured back from a piece of wood. ---


@cache
def sawn_end():
    """Where an end lies along the board: (per 1 up the face, per 1 into the wood).

    Up the face it follows the end line x. Into the wood it runs off by the tangent of its bevel g, square to the end
    line; measured along the board that is longer by the end line's secant.
    """
    return sp.tan(x), sp.tan(g) / sp.cos(x)


@cache
def _opens_per_mm():
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
def end_opening():
    """Largest gap at a board's end, the board pushed along itself until it touches: a flat end on a flat seat.

    Over a parallelogram two flats that touch at one corner are furthest apart at the opposite one, or at the next.
    """
    return _sum_over_the_end(*_opens_per_mm())


@cache
def end_opening_per(setting):
    """Gap that opens for each radian by which one setting, dx or dg, is wrong: the derivative at no error."""
    return _sum_over_the_end(*(sp.diff(part, setting).subs({dx: 0, dg: 0}) for part in _opens_per_mm()))


@cache
def unbevelled_gap():
    """Gap, measured along the board square to the end line, when an end was left square to its face.

    It is the thickness times the tangent of the end bevel, of which only the sine has a sign.
    """
    return t * sp.Abs(sp.sin(end_bevel())) / sp.cos(end_bevel())


def _between_edges(cosine):
    """Cosine of the angle between the level edges, from P, Q and the cosine of the dihedral.

    The level edges, less their parts along the corner line, show the dihedral end on: each runs back along the corner
    line by the sine of its end line, and stands off it by the cosine.
    """
    x_tail, x_pin = sp.atan(Q), sp.atan(P)
    return sp.sin(x_tail) * sp.sin(x_pin) + sp.cos(x_tail) * sp.cos(x_pin) * cosine


@cache
def dihedral_from_end_lines():
    """Dihedral from P and Q: the one that holds the level edges at the plan angle."""
    cosine = sp.Symbol("cosine")
    edges = level_direction("tail").dot(level_direction("pin"))
    return sp.acos(sp.expand(sp.solve(_between_edges(cosine) - edges, cosine)[0]))


@cache
def lean_from_rise_and_run():
    """Lean from a rule against a square: the face moves out by r while it climbs by H."""
    up = up_the_face("tail").subs(a, p)
    out_per_climb = sp.trigsimp(up.dot(outward("tail")) / up.dot(UP))
    return sp.solve(out_per_climb - r / H, p)[0]


@cache
def lean_from_slant_width():
    """Size of the lean from the width S up the face and the vertical height H; the sign has to be seen."""
    cosine = sp.Symbol("cosine")
    return sp.acos(sp.solve(slant_width().subs(sp.cos(p), cosine) - S, cosine)[0])


@cache
def end_line_from_diagonal():
    """End line from the diagonal d of a board's face that runs to its head, the bottom edge L and the width S.

    The head of the end line stands S up and L + S·tan x along from the far foot.
    """
    tangent = sp.Symbol("tangent")
    squares = sp.solve((L + S * tangent) ** 2 + S**2 - d**2, tangent)
    return sp.atan(max(squares, key=lambda root: root.subs({L: 1, S: 1, d: 2})))


@cache
def end_line_of_like_ends():
    """End line of a board whose two ends slant alike: its top edge T outruns its bottom edge L by both, over S."""
    tangent = sp.Symbol("tangent")
    return sp.atan(sp.solve(T - L - 2 * S * tangent, tangent)[0])


@cache
def end_line_from_diagonals():
    """End line from the four lengths of a board's outer face: edges L and T, diagonals d (to this line's head) and D.

    The heads overhang the feet by r here and by the rest of T − L at the other end; both stand S up.
    """
    crossing = (L + r) ** 2 + S**2 - d**2
    other_crossing = (T - r) ** 2 + S**2 - D**2
    overhang = sp.solve(sp.expand(crossing - other_crossing), r)[0]
    width = sp.sqrt(sp.solve(crossing, S**2)[0])
    return sp.atan(r / width).subs(r, overhang)


@cache
def left_open():
    """Gap under the inner arris of a surface cut at g from square that should be at p to lie true.

    Going straight into the wood by t climbs away from the bench; ripping to g takes t·tan g off, down the face.
    In the plane square to the corner line the other board is to an end what the bench is to an edge.
    """
    into, up = -outer_normal("tail").subs(a, p), up_the_face("tail").subs(a, p)
    return t * (into.dot(UP) - sp.tan(g) * up.dot(UP))


@cache
def cut_from_gap():
    """The angle from square at which a surface was cut, from the gap c that it leaves under its inner arris."""
    return sp.atan(sp.solve(left_open().subs(sp.tan(g), x) - c, x)[0])


@cache
def end_line_gap():
    """Gap along the board when its end was cut to x + dx instead of x, positive when it opens at the bottom."""
    return slant_width() * _opens_per_mm()[0]


@cache
def end_line_from_gap():
    """The end line to which an end was really cut, from the gap c along the board that opens at the bottom."""
    tangent = sp.Symbol("tangent")
    cut = end_line_gap().subs(sp.tan(dx + x), tangent)
    return sp.atan(sp.solve(cut - c, tangent)[0])


@cache
def plan_angle_as_joined():
    """Plan angle at which two boards of end lines P and Q stand when their ends, sawn to g, are pulled up tight."""
    return sp.acos(_between_edges(sp.cos(sp.pi / 2 + g)))


@cache
def slipped_foot():
    """How high a foot stands off the bench when its board has slipped by c along the corner line."""
    return c * sp.sin(corner_rise())


@cache
def bench_forms():
    """Name -> form of what a tape or a feeler at the bench tells, in radians."""
    return {
        "end_line_of_like_ends": end_line_of_like_ends(),
        "end_line_from_diagonals": end_line_from_diagonals(),
        "left_open": left_open(),
        "cut_from_gap": cut_from_gap(),
        "end_line_gap": end_line_gap(),
        "end_line_from_gap": end_line_from_gap(),
        "plan_angle_as_joined": plan_angle_as_joined(),
        "slipped_foot": slipped_foot(),
    }


@cache
def measured_forms():
    """Name -> closed form of what wrong settings open and of what readings tell, in radians, at any plan angle."""
    return {
        "end_opening": end_opening(),
        "unbevelled_gap": unbevelled_gap(),
        "dihedral_from_end_lines": dihedral_from_end_lines(),
        "lean_from_rise_and_run": lean_from_rise_and_run(),
        "lean_from_slant_width": lean_from_slant_width(),
        "end_line_from_diagonal": end_line_from_diagonal(),
    }


@cache
def sensitivities():
    """Name -> what one setting alone opens for each radian it is wrong."""
    return {"end_opening_per_line": end_opening_per(dx), "end_opening_per_bevel": end_opening_per(dg)}


# --- The whole box. ---


@cache
def level_thickness():
    """How far the inner face lies from the outer one, level: going in by this takes the thickness t, square to both."""
    return t / outer_normal("tail").dot(outward("tail")).subs(a, p)


@cache
def out_over_height():
    """How far a face of lean p comes out while it climbs by H."""
    up = up_the_face("tail").subs(a, p)
    return H * sp.trigsimp(up.dot(outward("tail")) / up.dot(UP))


@cache
def rim_run():
    """How much further down or up its face a board reaches on one face than on the other when its rim is level."""
    normal, up = outer_normal("tail").subs(a, p), up_the_face("tail").subs(a, p)
    return sp.Abs(t * normal.dot(UP) / up.dot(UP))


def _longer(own, other_face):
    """How much longer a board gets at one end when its face and its neighbour's go out, level, by so much."""
    along, _ = along_and_up("tail")
    return along.subs({sp.tan(a): own, sp.tan(b): other_face})


def _outward_at(height, lean_of):
    return out_over_height().subs({H: height, p: lean_of})


@cache
def length_at_height():
    """Outer length, at a height z, of a board L long at the bottom, its neighbours leaning u and v; square in plan."""
    return L + sum(at_square(_longer(0, _outward_at(z, lean_of))) for lean_of in (u, v))


@cache
def inside_length():
    """The same between the neighbours' inner faces, level across; they are tu and tv thick."""
    ends = ((u, tu), (v, tv))
    inward = [level_thickness().subs({t: thick, p: lean_of}) for lean_of, thick in ends]
    return length_at_height() + sum(at_square(_longer(0, -step)) for step in inward)


@cache
def inside_volume():
    """What the box holds: L one way with u, v, tu, tv at its ends, L_s the other way with q1, q2, s1, s2, up to H."""
    across = inside_length().subs({L: L_side, u: q1, v: q2, tu: s1, tv: s2}, simultaneous=True)
    return sp.integrate(sp.expand(inside_length() * across), (z, 0, H))


@cache
def mitre_bevel():
    """How far the ends of two like boards are sawn out of square to their faces for a mitre, which halves the corner."""
    return sp.pi / 2 - dihedral() / 2


@cache
def regular_length():
    """Length at a height z of a board of a regular box, L at the bottom outside; t into the wood, square to the face."""
    out = _outward_at(z, p) - level_thickness()
    return L + 2 * _longer(out, out)


@cache
def apothem():
    """From the middle of a regular polygon of N edges, L long, to the middle of an edge."""
    return L / 2 * sp.cot(sp.pi / N)


@cache
def regular_volume():
    """What N boards of a regular box hold: N triangles at every height, each with its peak in the middle."""
    area = (N * L * apothem() / 2).subs(L, regular_length())
    return sp.integrate(sp.expand(area), (z, 0, H))


@cache
def box_forms():
    """Name -> form of what a whole box needs, in radians."""
    return {
        "level_thickness": level_thickness(),
        "out_over_height": out_over_height(),
        "rim_run": rim_run(),
        "length_at_height": length_at_height(),
        "inside_length": inside_length(),
        "inside_volume": inside_volume(),
        "mitre_bevel": mitre_bevel(),
        "regular_length": regular_length(),
        "apothem": apothem(),
        "regular_volume": regular_volume(),
    }


# --- All of it, by name. ---


def _exact_degrees(plan_angle):
    """The plan angle as an exact fraction of what was written: 72.5 is 145/2. ValueError unless 0 < plan angle < 180."""
    try:
        degrees = sp.Rational(str(plan_angle))
    except TypeError:
        raise ValueError(f"The plan angle must be a number of degrees, or None for any, not {plan_angle!r}.") from None
    if not 0 < degrees < 180:
        raise ValueError(f"The plan angle is {plan_angle}°, and the faces meet only between 0° and 180°.")
    return degrees


def closed_forms(plan_angle=90):
    """Closed forms, name -> sympy expression: the attributes of `Corner`, the one-gauge shortcut, settings and readings.

    `plan_angle` in degrees; None leaves it as the symbol w. The shortcut's forms are there at 90 only: it is a rule for
    square corners. The expressions take and give radians, in the symbols a (tail lean), b (pin lean), and for the boards
    one by one p (that board's lean), x (its end line), g (its end bevel), dx and dg (how far those were set wrong),
    H (height), t (thickness), s (a width as seen), r (run), S (slant width), L (bottom edge), d (diagonal),
    e (an end line's error); P and Q are the tangents of a measured pin and tail end line. ValueError for a plan angle
    that is no number between 0 and 180.
    """
    forms = general_forms() | measured_forms()
    if plan_angle is None:
        return forms
    angle = _exact_degrees(plan_angle) * sp.pi / 180
    forms = {name: form.subs(w, angle) for name, form in forms.items()}
    return forms | one_gauge_forms() if angle == sp.pi / 2 else forms


@cache
def numeric(name, *arguments):
    """NumPy function of a closed form or of a vector below, in radians, w replaced by k = 90 degrees − plan angle.

    With k, a square corner is exact: sin k is 0 where the cosine of a rounded right angle is not.
    """
    return _compiled(arguments, _named(name).subs(w, sp.pi / 2 - k))


@cache
def slope(name, symbol, *arguments):
    """NumPy function of the derivative, by one of its symbols, of a closed form at a square corner, in radians."""
    return _compiled(arguments, sp.diff(at_square(_named(name)), symbol))


def _compiled(arguments, expression):
    # lambdify's own namespace is all of NumPy, and would load parts of it that nothing here needs
    return sp.lambdify(arguments, expression, [{"numpy": np}], printer=NumPyPrinter, cse=True)


def _named(name):
    # by how often they are asked for: a group is derived whole, when it is first looked into
    groups = (general_forms, vectors, one_gauge_forms, bench_forms, measured_forms, sensitivities, box_forms)
    return next(forms()[name] for forms in groups if name in forms())


@cache
def vectors():
    """Name -> 3-vector of a corner: the directions that the pictures and the joint are built from."""
    named = {"corner_line": corner_line()}
    for board in ("tail", "pin"):
        named |= {f"{board}_level": level_direction(board), f"{board}_up": up_the_face(board),
                  f"{board}_outward": outward(board), f"{board}_normal": outer_normal(board)}
    return {name: sp.Tuple(*vector) for name, vector in named.items()}
