"""A closed form as a table over both leans, for a page, a spreadsheet or an article."""

from typing import Any

import numpy as np

from ..common import checks
from ..common.kinds import Numbers
from .forms import compute, form_of, is_offered, said

TARGETS = ("markdown", "csv", "latex")
_UNITS = {"angle": "°", "length": "mm", "volume": "mm³", "ratio": ""}


def table(form: str, tail_leans: Numbers, pin_leans: Numbers, to: str = "markdown", *, plan_angle: float = 90, places: int = 1,
          **quantities: Any) -> str:
    """A table of one closed form: a column for each tail lean, a row for each pin lean.

    Parameters
    ----------
    form : str
        A name of `closed_forms(plan_angle)`, or of the `sensitivities` of one, that depends on both leans or on one of them.
    tail_leans, pin_leans : float or sequence of float
        Degrees.
    to : str
        "markdown", "csv" (commas, points for decimals) or "latex" (a tabular that needs no package).
    plan_angle : float
        Degrees.
    places : int
        Decimals, 0 to 9.
    **quantities : float
        What else the form is worked out from, by name, in degrees or mm, such as `slant_width=100`.

    Returns
    -------
    str

    Raises
    ------
    ValueError
        One sentence, for a form, a target or a quantity that there isn't, or a corner that can't be.

    >>> import splaywork as sw
    >>> print(sw.table("end_bevel", [10, 20], [10, 20]))
    | end bevel, ° | tail lean 10° | tail lean 20° |
    |---:|---:|---:|
    | pin lean 10° | 1.7 | 3.4 |
    | pin lean 20° | 3.4 | 6.7 |
    """
    plan_angle = checks.angle("plan angle", plan_angle, 0, 180)
    if not is_offered(checks.text("name of a form", form), plan_angle):
        raise ValueError(f"There is no form called {form!r} here: choose a name of closed_forms({plan_angle:g}).")
    checks.choice("kind of table", to, TARGETS)
    places = checks.count("number of decimals", places, 0, 9)
    tail = np.atleast_1d(checks.angles("tail lean", tail_leans))
    pin = np.atleast_1d(checks.angles("pin lean", pin_leans))
    for leans in (tail, pin):
        if leans.ndim > 1:
            raise ValueError(f"The leans of a table must be one list for each board, not {checks.shown(leans)}.")
    given = {"tail_lean": tail, "pin_lean": pin[:, None], "plan_angle": plan_angle}
    wanted = form_of(form).quantities
    if not {"tail_lean", "pin_lean"} & set(wanted):
        raise ValueError(f"The form {form} depends on neither lean, and a table runs over both: choose one that does.")
    values = compute(form, **{name: given[name] for name in wanted if name in given}, **quantities)
    values = np.broadcast_to(values, (pin.size, tail.size))
    unit = _unit(form_of(form))
    corner = f"{said(form)}{', ' + unit if unit else ''}"
    head = [corner, *(f"tail lean {checks.shown(lean)}°" for lean in tail)]
    rows = [[f"pin lean {checks.shown(lean)}°", *(f"{value + 0.0:.{places}f}" for value in row)]
            for lean, row in zip(pin, values, strict=True)]
    return Written({"markdown": _markdown, "csv": _csv, "latex": _latex}[to](head, rows))


def _unit(form):
    return f"{_UNITS[form.kind]} per {_UNITS[form.per]}".strip() if form.per else _UNITS[form.kind]


class Written(str):
    """A table as text: a notebook shows one in Markdown as a table, and any other as it is written."""

    __slots__ = ()

    def _repr_markdown_(self) -> str:
        return str(self) if self.startswith("|") else f"```\n{self}\n```"


def _markdown(head, rows):
    rows = [head, *([text.replace("-", "−") if at else text for at, text in enumerate(row)] for row in rows)]
    first, *others = (f"| {' | '.join(row)} |" for row in rows)
    return "\n".join([first, "|" + "---:|" * len(head), *others])


def _csv(head, rows):
    quoted = [f'"{text}"' for text in head]
    return "\r\n".join([",".join(quoted), *(",".join([f'"{row[0]}"', *row[1:]]) for row in rows)]) + "\r\n"


def _latex(head, rows):
    def cell(text):
        return text.replace("°", r"$^\circ$").replace("³", "$^3$").replace("−", "-")

    def lean(text):
        return cell(text.removeprefix("tail lean ").removeprefix("pin lean "))

    first = rf"{cell(head[0])} & \multicolumn{{{len(head) - 1}}}{{c}}{{tail lean}} \\"
    second = " & ".join(["pin lean", *map(lean, head[1:])]) + r" \\ \hline"
    body = " \\\\\n".join(" & ".join([lean(row[0]), *(f"${value}$" for value in row[1:])]) for row in rows)
    return f"\\begin{{tabular}}{{r|{'r' * (len(head) - 1)}}}\n{first}\n{second}\n{body}\n\\end{{tabular}}"
