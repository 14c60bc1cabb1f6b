"""Every symbol of the derivation: the quantity that it stands for, and whether that is an angle or a length.

In formulas angles are radians. What computes or prints from them says the quantity by its name and an angle in degrees.
"""

from typing import NamedTuple

import sympy as sp


class Quantity(NamedTuple):
    """What a symbol stands for. kind: "angle", "tangent" (of an angle), "length" or "count"."""

    name: str
    kind: str


a, b, w = sp.symbols("a b w", real=True)
H, t, p, s = sp.symbols("H t p s", real=True)
t_other = sp.Symbol("t_o", real=True)
P, Q = sp.symbols("P Q", real=True)
e = sp.symbols("e", real=True)
r, S, L, d = sp.symbols("r S L d", real=True)
T, D, c = sp.symbols("T D c", real=True)
x, g, dx, dg = sp.symbols("x g dx dg", real=True)
z = sp.symbols("z", real=True)
u, v, tu, tv = sp.symbols("u v t_u t_v", real=True)
L_side, q1, q2, s1, s2 = sp.symbols("L_s q_1 q_2 s_1 s_2", real=True)
N = sp.symbols("N", positive=True)
k = sp.symbols("k", real=True)  # what the plan angle lacks of square, so that square is exact in floating point

# In the order in which exports list them.
QUANTITIES = {
    a: Quantity("tail_lean", "angle"),
    b: Quantity("pin_lean", "angle"),
    w: Quantity("plan_angle", "angle"),
    p: Quantity("lean", "angle"),  # of the board concerned
    x: Quantity("end_line", "angle"),
    g: Quantity("end_bevel", "angle"),
    dx: Quantity("end_line_error", "angle"),
    dg: Quantity("end_bevel_error", "angle"),
    e: Quantity("error", "angle"),  # of an end line
    P: Quantity("pin_end_line", "tangent"),  # as measured
    Q: Quantity("tail_end_line", "tangent"),
    H: Quantity("height", "length"),
    t: Quantity("thickness", "length"),
    t_other: Quantity("other_thickness", "length"),  # of the board that meets the one concerned
    s: Quantity("width_seen", "length"),
    r: Quantity("run", "length"),  # over the height H
    S: Quantity("slant_width", "length"),
    L: Quantity("bottom_edge", "length"),
    d: Quantity("diagonal", "length"),  # to the head of the end line concerned
    T: Quantity("top_edge", "length"),
    D: Quantity("other_diagonal", "length"),
    c: Quantity("gap", "length"),
    z: Quantity("up", "length"),  # a height above the bottom rim
    N: Quantity("sides", "count"),  # of a regular box
    u: Quantity("first_lean", "angle"),  # of the neighbours at a board's two ends
    v: Quantity("second_lean", "angle"),
    tu: Quantity("first_thickness", "length"),
    tv: Quantity("second_thickness", "length"),
    L_side: Quantity("side_bottom_edge", "length"),  # of a neighbour, and of what stands at its ends
    q1: Quantity("side_first_lean", "angle"),
    q2: Quantity("side_second_lean", "angle"),
    s1: Quantity("side_first_thickness", "length"),
    s2: Quantity("side_second_thickness", "length"),
}
