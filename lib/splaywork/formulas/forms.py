"""Every closed form by name: derived when it is first asked for, and computed from quantities that are named.

>>> round(float(compute("pin_end_line", tail_lean=30, pin_lean=30)), 4)
26.5651
"""

from collections.abc import Callable
from functools import cache
from typing import Any, NamedTuple

import numpy as np
import sympy as sp
from sympy.printing.numpy import NumPyPrinter

from ..common import checks
from ..common.kinds import Computed
from . import box, corner, faults, readings, shortcut
from .symbols import QUANTITIES, P, Q, dg, dx, k, w

_BY_SYMBOL = {symbol.name: symbol for symbol in QUANTITIES}


class Form(NamedTuple):
    """A closed form. derive: gives the sympy expression. kind: what it is, "angle", "length", "volume" or "ratio".

    names: of its symbols. plan: "any" plan angle, or "square" ones only. offered: whether `closed_forms` holds it. per: of a
    sensitivity, what the form changes by so much for each 1 of: "angle" or "length".
    """

    derive: Callable
    kind: str
    names: str
    plan: str = "any"
    offered: bool = True
    per: str = ""

    @property
    def symbols(self) -> tuple[sp.Expr, ...]:
        """The symbols that the form is in, in order."""
        return tuple(_BY_SYMBOL[name] for name in self.names.split())

    @property
    def quantities(self) -> tuple[str, ...]:
        """What the form is worked out from, by name."""
        return tuple(QUANTITIES[symbol].name for symbol in self.symbols)

    @property
    def turn(self) -> str:
        """What the value has to be turned into for a reader: "degrees", "radians" (from mm for each radian), or nothing, ""."""
        if (self.kind == "angle") == (self.per == "angle"):
            return ""  # degrees for each degree are as many as radians for each radian
        return "degrees" if self.kind == "angle" else "radians"


def _lean_back(board):
    return readings.leans_from_end_lines()[("tail", "pin").index(board)]


def _shortcut(derive, kind, names="a b"):
    return Form(derive, kind, names, "square")


FORMS = {
    "tail_end_line": Form(lambda: corner.end_line("tail"), "angle", "a b w"),
    "pin_end_line": Form(lambda: corner.end_line("pin"), "angle", "a b w"),
    "dihedral": Form(corner.dihedral, "angle", "a b w"),
    "end_bevel": Form(corner.end_bevel, "angle", "a b w"),
    "mitre_bevel": Form(corner.mitre_bevel, "angle", "a b w"),
    "corner_rise": Form(corner.corner_rise, "angle", "a b w"),
    "tail_rim_bevel": Form(lambda: corner.rim_bevel("tail"), "angle", "a"),
    "pin_rim_bevel": Form(lambda: corner.rim_bevel("pin"), "angle", "b"),
    "level_on_flush_end": Form(corner.level_on_flush_end, "angle", "a b w"),
    "level_on_square_end": Form(corner.level_on_square_end, "angle", "a b w"),
    "slant_width": Form(corner.slant_width, "length", "p H"),
    "baseline_offset": Form(corner.baseline_offset, "length", "a b w t_o"),
    "rocking_gap": Form(corner.rocking_gap, "length", "p t"),
    "looks_as": Form(corner.looks_as, "length", "p s"),
    "tail_lean_from_end_lines": Form(lambda: _lean_back("tail"), "angle", "w P Q"),
    "pin_lean_from_end_lines": Form(lambda: _lean_back("pin"), "angle", "w P Q"),
    "dihedral_from_end_lines": Form(readings.dihedral_from_end_lines, "angle", "w P Q"),
    "lean_from_rise_and_run": Form(readings.lean_from_rise_and_run, "angle", "H r"),
    "lean_from_slant_width": Form(readings.lean_from_slant_width, "angle", "H S"),
    "end_line_from_diagonal": Form(readings.end_line_from_diagonal, "angle", "S L d"),
    "end_line_of_like_ends": Form(readings.end_line_of_like_ends, "angle", "S L T"),
    "end_line_from_diagonals": Form(readings.end_line_from_diagonals, "angle", "L d T D"),
    "end_opening": Form(faults.end_opening, "length", "p x g dx dg H t"),
    "unbevelled_gap": Form(faults.unbevelled_gap, "length", "a b w t"),
    "left_open": Form(faults.left_open, "length", "p g t", offered=False),
    "cut_from_gap": Form(faults.cut_from_gap, "angle", "p t c", offered=False),
    "end_line_gap": Form(faults.end_line_gap, "length", "p x dx H", offered=False),
    "end_line_from_gap": Form(faults.end_line_from_gap, "angle", "p x H c", offered=False),
    "plan_angle_as_joined": Form(faults.plan_angle_as_joined, "angle", "g P Q", offered=False),
    "slipped_foot": Form(faults.slipped_foot, "length", "a b w c", offered=False),
    "one_gauge_tail_error": _shortcut(lambda: shortcut.one_gauge_error("tail"), "angle"),
    "one_gauge_pin_error": _shortcut(lambda: shortcut.one_gauge_error("pin"), "angle"),
    "small_lean_tail_error": _shortcut(lambda: shortcut.small_lean_error("tail"), "angle"),
    "small_lean_pin_error": _shortcut(lambda: shortcut.small_lean_error("pin"), "angle"),
    "small_lean_tail_bound": _shortcut(lambda: shortcut.small_lean_bound("tail"), "angle"),
    "small_lean_pin_bound": _shortcut(lambda: shortcut.small_lean_bound("pin"), "angle"),
    "one_gauge_tail_gap": _shortcut(lambda: shortcut.one_gauge_gap("tail"), "length", "a b S"),
    "one_gauge_pin_gap": _shortcut(lambda: shortcut.one_gauge_gap("pin"), "length", "a b S"),
    "closed_tail_lean": _shortcut(lambda: shortcut.closed_lean("tail"), "angle"),
    "closed_pin_lean": _shortcut(lambda: shortcut.closed_lean("pin"), "angle"),
    "closed_height_factor": _shortcut(shortcut.closed_height_factor, "ratio"),
    # the flush end's level line is the pin board's end line
    "one_gauge_flush_level_error": _shortcut(lambda: shortcut.one_gauge_error("pin"), "angle"),
    "one_gauge_square_level_error": _shortcut(shortcut.one_gauge_square_level_error, "angle"),
    "pin_lean_of_one_gauge_error": _shortcut(shortcut.pin_lean_of_one_gauge_error, "angle", "a e"),
    "level_thickness": Form(box.level_thickness, "length", "p t", offered=False),
    "out_over_height": Form(box.out_over_height, "length", "p H", offered=False),
    "rim_run": Form(box.rim_run, "length", "p t", offered=False),
    "length_at_height": Form(box.length_at_height, "length", "L z u v", offered=False),
    "inside_length": Form(box.inside_length, "length", "L z u v t_u t_v", offered=False),
    "inside_volume": Form(box.inside_volume, "volume", "H L u v t_u t_v L_s q_1 q_2 s_1 s_2", "square"),
    "regular_length": Form(box.regular_length, "length", "w p t L z", offered=False),
    "apothem": Form(box.apothem, "length", "L N", offered=False),
    "regular_volume": Form(box.regular_volume, "volume", "w p H t L N"),
}


# Sensitivities, by one rule: a form, `_per_`, and one of the quantities that it is worked out from.


def _sensitivity(name, symbol):
    form, kind = FORMS[name], QUANTITIES[symbol].kind
    return form._replace(derive=lambda: _change(FORMS[name].derive(), symbol), per="length" if kind == "length" else "angle")


def _change(form, symbol):
    """The derivative by a quantity: of P and Q, which are tangents, by the angle. 1 + tan² is written as 1/cos²."""
    change = sp.diff(form, symbol)
    if QUANTITIES[symbol].kind == "tangent":
        change *= 1 + symbol**2
    change = sp.factor_terms(change)
    secants = {way * (1 + tan**2): way / sp.cos(tan.args[0])**2 for tan in change.atoms(sp.tan) for way in (1, -1)}
    return change.xreplace(secants)


# A rim bevel is a lean, and changes as it does. How an end opens has a corner at no error, and so is differentiated there.
_ALIKE = ("tail_rim_bevel", "pin_rim_bevel", "end_opening")
SENSITIVITIES = {f"{name}_per_{QUANTITIES[symbol].name}": _sensitivity(name, symbol) for name, form in FORMS.items()
                 if form.offered and form.kind != "volume" and name not in _ALIKE for symbol in form.symbols}
SENSITIVITIES |= {
    "end_opening_per_end_line_error": Form(lambda: faults.end_opening_per(dx), "length", "p x g H t", per="angle"),
    "end_opening_per_end_bevel_error": Form(lambda: faults.end_opening_per(dg), "length", "x g t", per="angle"),
}


# What people read, where the name of a form isn't that already.
_SAID = {"corner_rise": "corner slope", "end_line_of_like_ends": "end line of equal ends",
         "one_gauge_flush_level_error": "shortcut's error, flush end",
         "one_gauge_square_level_error": "shortcut's error, square end",
         "pin_lean_of_one_gauge_error": "pin lean of a given error"}
for _board in ("tail", "pin"):
    _SAID |= {f"one_gauge_{_board}_error": f"shortcut's error, {_board} board",
              f"one_gauge_{_board}_gap": f"shortcut's gap, {_board} board",
              f"small_lean_{_board}_error": f"rule of thumb, {_board} board",
              f"small_lean_{_board}_bound": f"rule's error, {_board} board"}


def said(name: str) -> str:
    """The name of a form, a sensitivity or a quantity in words.

    >>> said("one_gauge_pin_error_per_tail_lean")
    "shortcut's error, pin board per tail lean"
    """
    form, per, quantity = name.partition("_per_")
    return f"{_SAID.get(form, form)}{per}{quantity}".replace("_", " ")


def form_of(name: str) -> Form:
    """The `Form` of that name, closed form or sensitivity."""
    return FORMS[name] if name in FORMS else SENSITIVITIES[name]


class ClosedForms(dict):
    """Closed forms by name. A notebook shows them set in lines, with what their symbols stand for."""

    def _repr_latex_(self) -> str:
        from .write_up import shown  # it writes these forms up, and so comes after them

        return shown(self)


def closed_forms(plan_angle: float | None = 90) -> dict[str, sp.Expr]:
    """Closed forms by name: the attributes of `Corner`, the one-gauge shortcut, settings and readings.

    Parameters
    ----------
    plan_angle : float or None
        Degrees; None leaves it as the symbol w. The shortcut's forms are there at 90 only.

    Returns
    -------
    dict of str to sympy expression
        They take and give radians, in the symbols of `symbols.QUANTITIES`; P and Q are the tangents of a measured pin and tail
        end line.

    Raises
    ------
    ValueError
        For a plan angle that is no number between 0 and 180.

    >>> import splaywork as sw
    >>> print(sw.closed_forms()["end_bevel"])
    asin(sin(a)*sin(b))
    """
    return ClosedForms((name, closed_form(name, plan_angle)) for name in offered(plan_angle))


def offered(plan_angle: float | None = 90) -> tuple[str, ...]:
    """The names of `closed_forms(plan_angle)`; nothing is derived."""
    square = _exact_degrees(plan_angle) == 90
    return tuple(name for name, form in FORMS.items() if form.offered and (square or form.plan == "any"))


def sensitivities(form: str, plan_angle: float | None = 90) -> dict[str, sp.Expr]:
    """By how much a closed form changes with each quantity that it is worked out from: its derivatives, by name.

    Parameters
    ----------
    form : str
        A name of `closed_forms(plan_angle)`.
    plan_angle : float or None
        Degrees; None leaves it as the symbol w.

    Returns
    -------
    dict of str to sympy expression
        The names are the form's, `_per_` and the quantity's, and `write_up` and `table` take them. The expressions are for each
        radian or mm; functions, tables and spreadsheets are for each degree or mm. A rim bevel, which is the lean itself, has
        none, and a volume has none.

    Raises
    ------
    ValueError
        For a form or a plan angle that there isn't.

    >>> import splaywork as sw
    >>> list(sw.sensitivities("pin_end_line"))
    ['pin_end_line_per_tail_lean', 'pin_end_line_per_pin_lean', 'pin_end_line_per_plan_angle']
    """
    return ClosedForms((name, closed_form(name, plan_angle)) for name in rated(form, plan_angle).values())


def rated(form: str, plan_angle: float | None = 90) -> dict[str, str]:
    """{quantity: name of the sensitivity to it} of a closed form; nothing is derived. ValueError as `sensitivities`."""
    if checks.text("name of a form", form) not in offered(plan_angle):
        raise ValueError(f"There is no form called {form!r} here: choose {', '.join(offered(plan_angle))}.")
    return {name.partition("_per_")[2]: name for name in SENSITIVITIES if name.partition("_per_")[0] == form}


def is_offered(name: str, plan_angle: float | None = 90) -> bool:
    """Whether there is a closed form or a sensitivity of that name at that plan angle."""
    closed = offered(plan_angle)
    return name in closed or (name in SENSITIVITIES and name.partition("_per_")[0] in closed)


def closed_form(name: str, plan_angle: float | None = 90) -> sp.Expr:
    """One of `closed_forms(plan_angle)` or of `sensitivities(form, plan_angle)`, derived alone.

    ValueError for a name that isn't there at that plan angle.
    """
    if not is_offered(name, plan_angle):
        raise ValueError(f"There is no form called {name!r} here: choose {', '.join(offered(plan_angle))}, or a name of "
                         "sensitivities(form).")
    return _at(name, _exact_degrees(plan_angle))


@cache
def _at(name, degrees):
    form = form_of(name).derive()
    if degrees is None:
        return form
    angle = degrees * sp.pi / 180
    if degrees % 30 and degrees % 45:  # of other angles the roots, if there are any, fill a page: sines stay sines
        form = form.xreplace({of(w): of(angle, evaluate=False) for of in (sp.sin, sp.cos)})
    return form.subs(w, angle)


def _exact_degrees(plan_angle):
    """The plan angle as an exact fraction of what was written: 72.5 is 145/2; None stays. ValueError unless it is 0 to 180."""
    if plan_angle is None:
        return None
    checks.angle("plan angle", plan_angle, 0, 180, "the faces meet only between 0° and 180°")
    return sp.Rational(str(plan_angle))


# In numbers.


def compute(name: str, **given: Any) -> Computed:
    """The form of that name from its quantities, numbers or arrays: angles in degrees, lengths in one unit.

    Give each by its name in `QUANTITIES`; the plan angle is 90 where it isn't given. An angle comes back in degrees, and a
    sensitivity for each degree or for each unit of length.
    """
    form = form_of(name)
    value = _compiled(name)(*_inputs(name, form.symbols, given))
    return {"degrees": np.degrees, "radians": np.radians}[form.turn](value) if form.turn else value


def vector(name: str, **given: Any) -> Any:
    """A direction of the corner as three numbers or arrays, from its leans and plan angle: names as `VECTORS`."""
    return _compiled(name)(*_inputs(name, _LEANS, given))


_LEANS = tuple(_BY_SYMBOL[name] for name in "abw")
VECTORS: dict[str, Callable] = {"corner_line": corner.corner_line}
for _board in ("tail", "pin"):
    VECTORS |= {f"{_board}_{name}": lambda derive=derive, board=_board: derive(board) for name, derive in (
        ("level", corner.level_direction), ("up", corner.up_the_face), ("outward", corner.outward),
        ("normal", corner.outer_normal))}


def _inputs(name, symbols, given):
    """The values that the compiled function takes, in radians and tangents, in order."""
    taken = _taken(symbols)
    if "plan_angle" in taken and "plan_angle" not in given:
        given = {"plan_angle": 90} | given
    if given.keys() != taken.keys():
        raise ValueError(f"The form {name} is worked out from {', '.join(taken)}, not from {', '.join(given) or 'nothing'}.")
    return [turned(np.asarray(given[quantity], dtype=float)[()]) for quantity, turned in taken.items()]


@cache
def _taken(symbols):
    """Quantity -> what makes of its value, in degrees or mm, the one that a compiled function takes."""
    return {QUANTITIES[symbol].name: _turned(symbol) for symbol in symbols}


def _turned(symbol):
    if symbol is w:
        return lambda degrees: np.radians(90 - degrees)
    if symbol in (P, Q):
        return lambda degrees: np.tan(np.radians(degrees))
    return np.radians if QUANTITIES[symbol].kind == "angle" else lambda value: value


_CO_FUNCTIONS = {sp.sin(w): sp.cos(k), sp.cos(w): sp.sin(k)}


@cache
def _compiled(name):
    """NumPy function of a form or vector, w replaced by k = 90 degrees − plan angle.

    With k, a plan angle of 90 is exact: sin k is 0 where the cosine of a rounded right angle is not.
    """
    symbols = _LEANS if name in VECTORS else form_of(name).symbols
    expression = sp.Tuple(*VECTORS[name]()) if name in VECTORS else form_of(name).derive()
    square_off = expression.xreplace(_CO_FUNCTIONS).subs(w, sp.pi / 2 - k)  # subs alone gives the same, with more to work out
    return _lambdified(symbols, square_off)


def _lambdified(symbols, expression):
    # lambdify's own namespace is all of NumPy, and would load parts of it that nothing here needs
    arguments = [k if symbol is w else symbol for symbol in symbols]
    return sp.lambdify(arguments, expression, [{"numpy": np}], printer=NumPyPrinter, cse=True, docstring_limit=0)
