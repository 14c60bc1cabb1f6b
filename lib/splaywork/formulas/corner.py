"""From two planes to the closed forms of a corner.

Axes: the foot of the corner is the origin, z points up from the bench. The tail board's level edge runs along +x,
the pin board's at the plan angle w from it, and the inside of the box lies between them. The symbols a (lean of the tail
board), b (lean of the pin board) and w (plan angle) are in radians. Each step is a function of its own, so that a
notebook can show it; each is worked out once in a process, when it is first asked for.
"""

from functools import cache

import sympy as sp

from .symbols import H, a, b, p, s, t, t_other, w

UP = sp.Matrix([0, 0, 1])


@cache
def level_direction(board: str) -> sp.Expr:
    """Direction of the board's level edges, pointing away from the corner: unit 3-vector. `board`: "tail" or "pin"."""
    return sp.ImmutableMatrix([1, 0, 0] if board == "tail" else [sp.cos(w), sp.sin(w), 0])


@cache
def outward(board: str) -> sp.Expr:
    """Level direction square to the board's level edges, pointing out of the box: unit 3-vector."""
    return sp.ImmutableMatrix([0, -1, 0] if board == "tail" else [-sp.sin(w), sp.cos(w), 0])


def lean(board: str) -> sp.Expr:
    """The symbol of the board's lean."""
    return a if board == "tail" else b


@cache
def up_the_face(board: str) -> sp.Expr:
    """Direction straight up the board's outer face: upright, tipped outward by the lean. Unit 3-vector."""
    return sp.ImmutableMatrix(sp.sin(lean(board)) * outward(board) + sp.cos(lean(board)) * UP)


@cache
def outer_normal(board: str) -> sp.Expr:
    """Unit normal of the board's outer face, pointing out of the wood (and downward where the board leans out)."""
    return sp.ImmutableMatrix(sp.cos(lean(board)) * outward(board) - sp.sin(lean(board)) * UP)


@cache
def corner_line() -> sp.Expr:
    """The corner line from the bench to unit height: where the two outer faces meet.

    A point at height 1 lies on a face when it has moved outward by the tangent of that face's lean.
    """
    x, y = sp.symbols("x y", real=True)
    point = sp.Matrix([x, y, 1])
    on_faces = [point.dot(outward(board)) - sp.tan(lean(board)) for board in ("pin", "tail")]  # the tail board's has no x
    matrix, constants = sp.linear_eq_to_matrix(on_faces, [x, y])
    across, back = matrix.upper_triangular_solve(constants)  # sp.solve gives the same in many times as long
    return sp.ImmutableMatrix([across, back, 1])


def over_sine(expression: sp.Expr, power: float = 1) -> sp.Expr:
    """The expression as a simplified numerator over a power of sin w.

    The sum of squares is all that there is to simplify, and so is done in no time.
    """
    numerator = sp.expand(expression * sp.sin(w) ** power)
    return sp.expand(numerator.subs(sp.sin(w) ** 2, 1 - sp.cos(w) ** 2)) / sp.sin(w) ** power


@cache
def along_and_up(board: str) -> tuple[sp.Expr, ...]:
    """The corner line in the board's own face: (how far the board has grown along its edge, how far up the face)."""
    line = corner_line()
    grown = over_sine(-line.dot(level_direction(board)))
    return grown, slant_width().subs({H: 1, p: lean(board)})


@cache
def end_line(board: str) -> sp.Expr:
    """Angle of the end line from square to the bottom edge; positive when the board is longer at the top."""
    along, up = along_and_up(board)
    return sp.atan(along / up)


@cache
def cosine_of_dihedral() -> sp.Expr:
    """Cosine of the dihedral, inside the box: the outward normals open by what the faces close."""
    return sp.expand(-outer_normal("tail").dot(outer_normal("pin")))


@cache
def dihedral() -> sp.Expr:
    """Angle between the two faces, inside, in the plane square to the corner line."""
    return sp.acos(cosine_of_dihedral())


@cache
def end_bevel() -> sp.Expr:
    """Dihedral less a right angle, as an arcsine so that it stays exact near zero."""
    return sp.asin(-cosine_of_dihedral())


@cache
def mitre_bevel() -> sp.Expr:
    """How far the ends of two like boards are sawn out of square to their faces for a mitre, which halves the corner."""
    return sp.pi / 2 - dihedral() / 2


@cache
def run_of_corner_line() -> sp.Expr:
    """Level distance that the corner line covers while it climbs by 1."""
    x, y, _ = corner_line()
    return sp.sqrt(x**2 + y**2)


@cache
def corner_rise() -> sp.Expr:
    """Angle of the corner line above the bench."""
    return sp.pi / 2 - sp.atan(run_of_corner_line())


@cache
def rim_bevel(board: str) -> sp.Expr:
    """How far the edges are ripped out of square: the turn from "straight up the face" to the plumb line."""
    up = up_the_face(board)
    tangent = sp.trigsimp(up.dot(outward(board)) / up.dot(UP))
    return tangent.args[0]  # leans lie within a right angle of plumb, where the arctangent undoes the tangent


@cache
def level_on_flush_end() -> sp.Expr:
    """Level line on a tail end that lies flush with the pin board's outer face, from square to the outer arris.

    That end lies in the pin board's outer face, so its level lines are that face's, and its arris is the corner line.
    """
    along, up = along_and_up("pin")
    return sp.atan(along / up)


@cache
def level_on_square_end() -> sp.Expr:
    """Level line on a tail end sawn square to the face, from square to the outer arris.

    Going straight into the wood by 1 climbs by sin a; going down from there by m, parallel to the arris and so at the slope
    of the corner line, must make up for it.
    """
    climb_inward = -outer_normal("tail").dot(UP)
    climb_of_arris = 1 / sp.sqrt(1 + run_of_corner_line() ** 2)
    return sp.atan(climb_inward / climb_of_arris)


@cache
def slant_width() -> sp.Expr:
    """Width up the face of a board of lean p whose vertical height is H."""
    return H / up_the_face("tail").dot(UP).subs(a, p)


@cache
def baseline_offset() -> sp.Expr:
    """Distance of the baseline from the end line, square to it, on either face; t_o is the *other* board's thickness.

    Walking by d across one face, square to the corner line, takes one d·sin(dihedral) away from the other face.
    """
    return t_other / sp.sin(dihedral())


@cache
def rocking_gap() -> sp.Expr:
    """Gap under an arris when an edge was left square to a face of lean p: the height its thickness t climbs."""
    return t * sp.Abs(outer_normal("tail").dot(UP).subs(a, p))


@cache
def looks_as() -> sp.Expr:
    """Width to mark up a face of lean p so that it looks s wide from the front."""
    return s / up_the_face("tail").dot(UP).subs(a, p)


def at_square(expression: sp.Expr) -> sp.Expr:
    """The expression at a plan angle of 90 degrees."""
    return expression.subs(w, sp.pi / 2)
