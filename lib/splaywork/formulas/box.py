"""The whole box: lengths at any height, rims and volumes."""

from functools import cache

import sympy as sp
from sympy.simplify.fu import TR2i

from .corner import UP, along_and_up, at_square, outer_normal, outward, up_the_face
from .symbols import H, L, L_side, N, a, b, p, q1, q2, s1, s2, t, tu, tv, u, v, z


@cache
def level_thickness() -> sp.Expr:
    """How far the inner face lies from the outer one, level: going in by this takes the thickness t, square to both."""
    return t / outer_normal("tail").dot(outward("tail")).subs(a, p)


@cache
def out_over_height() -> sp.Expr:
    """How far a face of lean p comes out while it climbs by H."""
    up = up_the_face("tail").subs(a, p)
    return H * TR2i(up.dot(outward("tail")) / up.dot(UP))


@cache
def rim_run() -> sp.Expr:
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
def length_at_height() -> sp.Expr:
    """Outer length, at a height z, of a board L long at the bottom, its neighbours leaning u and v; square in plan."""
    return L + sum(at_square(_longer(0, _outward_at(z, lean_of))) for lean_of in (u, v))


@cache
def inside_length() -> sp.Expr:
    """The same between the neighbours' inner faces, level across; they are tu and tv thick."""
    ends = ((u, tu), (v, tv))
    inward = [level_thickness().subs({t: thick, p: lean_of}) for lean_of, thick in ends]
    return length_at_height() + sum(at_square(_longer(0, -step)) for step in inward)


@cache
def inside_volume() -> sp.Expr:
    """What the box holds: L one way with u, v, tu, tv at its ends, L_s the other way with q1, q2, s1, s2, up to H."""
    across = inside_length().subs({L: L_side, u: q1, v: q2, tu: s1, tv: s2}, simultaneous=True)
    return sp.integrate(sp.expand(inside_length() * across), (z, 0, H))


@cache
def regular_length() -> sp.Expr:
    """Length at a height z of a board of a regular box, L at the bottom outside; t into the wood, square to the face."""
    out = _outward_at(z, p) - level_thickness()
    return L + 2 * _longer(out, out)


@cache
def apothem() -> sp.Expr:
    """From the middle of a regular polygon of N edges, L long, to the middle of an edge."""
    return L / 2 * sp.cot(sp.pi / N)


@cache
def regular_volume() -> sp.Expr:
    """What N boards of a regular box hold: N triangles at every height, each with its peak in the middle."""
    area = (N * L * apothem() / 2).subs(L, regular_length())
    return sp.integrate(sp.expand(area), (z, 0, H))
