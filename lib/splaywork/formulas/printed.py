"""The form that is read beside the form that computes: proven equal, step by step.

What computes is well conditioned, and is an arctangent more often than not; what is printed is short. ξ is the pin board's end
line and η the tail board's, as measured.
"""

from collections.abc import Callable
from functools import cache
from typing import NamedTuple

import sympy as sp

from .corner import at_square, end_line
from .forms import FORMS, said
from .latex_lines import tex
from .symbols import P, Q, a, b, w

xi, eta = sp.symbols("xi eta", real=True)


class Printed(NamedTuple):
    """A form to print. form: the expression. by: the function (sp.sin, sp.tan, …) whose square is the same for both forms."""

    form: sp.Expr
    by: Callable
    square_only: bool = True


def _tail_line():
    return at_square(end_line("tail"))


class PrintedForms(dict):
    """Forms to print by name. A notebook shows them set in lines, each with the plan angles at which it is proven."""

    def __repr__(self) -> str:
        return f"<PrintedForms: {', '.join(self)}>"

    def _repr_latex_(self) -> str:
        rows = [rf"\text{{{said(name)}}} &= {tex(printed.form)} && \text{{"
                rf"{'square plan' if printed.square_only else 'any plan angle'}}}" for name, printed in self.items()]
        return "$$\\begin{aligned}\n" + " \\\\[4pt]\n".join(rows) + "\n\\end{aligned}$$"


@cache
def printed_forms() -> dict[str, Printed]:
    """Name -> `Printed`, for the forms that have a shorter one to print."""
    back = sp.asin((sp.sin(xi) - sp.sin(eta) * sp.cos(w)) / (sp.sin(w) * sp.cos(eta)))
    return PrintedForms({
        "closed_tail_lean": Printed(sp.asin(sp.sin(a) / sp.cos(b)), sp.sin),
        "closed_height_factor": Printed(sp.sqrt(sp.cos(a + b) * sp.cos(a - b)) / (sp.cos(a) * sp.cos(b)), lambda form: form),
        "tail_lean_from_end_lines": Printed(back, sp.sin, square_only=False),
        "level_on_square_end": Printed(sp.atan(sp.tan(a) / sp.cos(eta)), sp.tan),
        "end_bevel": Printed(sp.asin(sp.tan(xi) * sp.tan(eta)), sp.sin),
    })


@cache
def difference(name: str) -> sp.Expr:
    """What the squares of both forms differ by, simplified: 0 where they are equal (both have one sign)."""
    printed = printed_forms()[name]
    computed = FORMS[name].derive()
    if printed.square_only:
        computed = at_square(computed)
    lines = {xi: at_square(end_line("pin")), eta: _tail_line()}
    if name.endswith("from_end_lines"):
        lines, computed = {}, computed.subs({P: sp.tan(xi), Q: sp.tan(eta)})
    one, other = (printed.by(form) ** 2 for form in (computed, printed.form.subs(lines)))
    left = sp.simplify(one - other).replace(sp.Abs, lambda cosine: cosine)  # end lines lie within a right angle of square
    return sp.simplify(left)
