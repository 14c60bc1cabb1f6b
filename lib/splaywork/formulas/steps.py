"""The steps of the derivation by name, for a page that shows each of them.

    from splaywork.formulas.steps import *

gives sympy as `sp`, the symbols, every step, and `show`, which sets several results in one block. The star is meant: a page
of algebra reads better without a prefix before each letter. Importing this also lets sympy print arctan where it printed atan,
as the exports do.
"""

from collections.abc import Mapping

import sympy as sp
from sympy.printing.latex import LatexPrinter

from .box import apothem, inside_length
from .corner import (
    at_square,
    baseline_offset,
    corner_line,
    corner_rise,
    cosine_of_dihedral,
    dihedral,
    end_bevel,
    end_line,
    level_direction,
    level_on_square_end,
    looks_as,
    mitre_bevel,
    outer_normal,
    outward,
    rocking_gap,
    run_of_corner_line,
    slant_width,
    up_the_face,
)
from .faults import unbevelled_gap
from .forms import closed_form, said
from .latex_lines import tex
from .printed import difference, eta, printed_forms, xi
from .readings import leans_from_end_lines, steps_back
from .shortcut import (
    closed_height_factor,
    closed_lean,
    error_growth,
    one_gauge_error,
    small_lean_bound,
    small_lean_error,
    small_lean_series,
)
from .symbols import P, Q, a, b, w

__all__ = ["P", "Q", "a", "apothem", "at_square", "b", "baseline_offset", "closed_form", "closed_height_factor", "closed_lean",
           "corner_line", "corner_rise", "cosine_of_dihedral", "difference", "dihedral", "end_bevel", "end_line",
           "error_growth", "eta", "inside_length", "leans_from_end_lines", "level_direction", "level_on_square_end", "looks_as",
           "mitre_bevel", "one_gauge_error", "outer_normal", "outward", "printed_forms", "rocking_gap", "run_of_corner_line",
           "said", "show", "slant_width", "small_lean_bound", "small_lean_error", "small_lean_series", "sp", "steps_back",
           "unbevelled_gap", "up_the_face", "w", "xi"]

LatexPrinter.set_global_settings(inv_trig_style="full")


class Shown:
    """Results by name, which a page sets one under another."""

    def __init__(self, results: Mapping[str, object]) -> None:
        self.results = dict(results)

    def __repr__(self) -> str:
        return f"<Shown: {', '.join(self.results)}>"

    def _repr_latex_(self) -> str:
        rows = [rf"\text{{{name}}} &= {tex(result)}" for name, result in self.results.items()]
        return "$$\\begin{aligned}\n" + " \\\\[4pt]\n".join(rows) + "\n\\end{aligned}$$"


def show(results: Mapping[str, object] | None = None, **named: object) -> Shown:
    """Several results in one block, each after its name: `show(tail=end_line("tail"), pin=end_line("pin"))`.

    A name of several words is given in a dict: `show({"up the face": up_the_face("pin")})`.
    """
    return Shown({**(results or {}), **{name.replace("_", " "): result for name, result in named.items()}})
