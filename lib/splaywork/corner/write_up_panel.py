"""The write-up panel: a closed form, or how it changes, chosen from lists, as text to copy."""

from html import escape

import ipywidgets as widgets

from ..common.reading import read_angle
from ..formulas.forms import closed_form, offered, rated, said
from ..formulas.write_up import TARGETS, default_cells, shown, write_up
from ..widgets.controls import Latest, OnPage, row
from ..widgets.fields import LABEL

ALL = "all of them"
ITSELF = "the formula"
TARGET_NAMES = {"latex": "LaTeX", "mathml": "MathML", "text": "plain text", "python": "Python", "c": "C",
                "spreadsheet": "spreadsheet"}


class WriteUpPanel(OnPage):
    """Choices, the formula as it is set, and its text; use `write_up_panel` to make one.

    `text` holds the text of the last good choice; what is typed into it is undone.
    """

    instead = "Run this cell, and formulas to copy appear here."

    def __init__(self, form: str, to: str) -> None:
        self.plan = widgets.Text(value="90", description="Plan angle", continuous_update=False, style=LABEL,
                                 placeholder="degrees, or any", layout={"width": "210px"})
        self.form = widgets.Dropdown(description="Formula", style=LABEL, layout={"width": "360px"})
        self.to = widgets.Dropdown(options=[(TARGET_NAMES[target], target) for target in TARGETS], value=to,
                                   description="Written as", style=LABEL, layout={"width": "240px"})
        self.what = widgets.Dropdown(description="Give", style=LABEL, layout={"width": "360px"})
        self.cells = widgets.Text(description="Cells", continuous_update=False, style=LABEL, layout={"width": "97%"})
        self.formula = widgets.HTMLMath()
        self.text = widgets.Textarea(tooltip="The formula, to copy", layout={"width": "97%", "height": "190px"})
        self.message = widgets.HTML()
        self._written, self._plan_said = "", self.plan.value
        name, per, _ = form.partition("_per_") if form else ("", "", "")
        self._offer(90, name, form if per else "")
        self._write = Latest(self._show)
        self.plan.observe(self._change_plan, "value")
        self.form.observe(self._change_form, "value")
        self.what.observe(self._change_what, "value")
        for choice in (self.to, self.cells):
            choice.observe(lambda _: self._write(), "value")
        self.text.observe(self._restore, "value")
        how = widgets.HTML("Click into the text; Ctrl+A and Ctrl+C copy it.")
        choices = row(self.form, self.to, self.plan)
        super().__init__([choices, self.what, self.cells, self.message, self.formula, self.text, how])
        self._write()

    @property
    def name(self) -> str:
        """The name of what is written, a closed form or a sensitivity; "" for all closed forms."""
        return self.what.value or self.form.value

    def _offer(self, plan_angle, form, what):
        """List the formulas of this plan angle (degrees, or None), and stay with `form` and `what` if they are there."""
        self._plan_angle = plan_angle
        forms = {ALL: ""} | {said(name): name for name in offered(plan_angle)}
        self.form.options = list(forms.items())
        self.form.value = form if form in forms.values() else ""  # None would leave the list blank
        self._offer_changes(what)

    def _offer_changes(self, what):
        """List what the formula changes with, and stay with `what` if it is one."""
        changes = rated(self.form.value, self._plan_angle) if self.form.value else {}
        options = {ITSELF: ""} | {f"its change per {said(quantity)}": name for quantity, name in changes.items()}
        self.what.options = list(options.items())
        self.what.value = what if what in changes.values() else ""
        self.what.disabled = not changes
        self._set_cells()

    def _set_cells(self):
        places = default_cells(self.name, self._plan_angle) if self.name else {}  # a block has cells of its own
        self.cells.value = ", ".join(f"{name} {cell}" for name, cell in places.items())

    def _change_plan(self, change):
        typed = change.new.strip()
        try:
            plan_angle = None if typed == "any" else read_angle(typed, name="Plan angle")
            write_up("dihedral", "text", plan_angle)
        except ValueError as wrong:
            self._complain(str(wrong))
            return
        if typed != self._plan_said:
            self._plan_said = typed
            self._offer(plan_angle, self.form.value, self.what.value)
        self._write()

    def _change_form(self, _):
        self._offer_changes("")
        self._write()

    def _change_what(self, _):
        self._set_cells()
        self._write()

    def _show(self):
        form, to = self.name or None, self.to.value
        self.cells.disabled = to != "spreadsheet"
        try:
            cells = _read_cells(self.cells.value) if to == "spreadsheet" else None
            self._written = write_up(form, to, self._plan_angle, cells)
        except ValueError as wrong:
            self._complain(str(wrong))
            return
        self.text.value = self._written
        self.plan.value = self._plan_said  # a text that was refused goes, with the complaint about it
        self.formula.value = escape(shown({form: closed_form(form, self._plan_angle)})) if form else ""
        self._complain("")

    def _restore(self, _):
        self.text.value = self._written

    def _complain(self, sentence):
        self.message.value = f"<b>{escape(sentence)}</b>" if sentence else ""


def _read_cells(typed):
    """{input: cell} from a list such as "tail_lean A2, pin_lean B2"; ValueError for anything else."""
    pairs = [part.split() for part in typed.split(",") if part.strip()]
    wrong = next((pair for pair in pairs if len(pair) != 2), None)
    if wrong:
        raise ValueError(f"Cells: “{' '.join(wrong)[:40]}” is not an input and its cell; give a list such as "
                         "tail_lean A2, pin_lean B2.")
    return dict(pairs)


def write_up_panel(form: str = "pin_end_line", to: str = "latex") -> WriteUpPanel:
    """A formula to copy: choose it, or its change per something, how it is written, and for a spreadsheet its cells.

    form: a name of `closed_forms()`, or of the `sensitivities` of one, or None for all closed forms; to: one of
    `write_up.TARGETS`; ValueError for others. The field for the plan angle takes degrees, or "any" for the symbol w.

    >>> import splaywork as sw
    >>> panel = sw.write_up_panel("end_bevel", to="python")
    >>> panel.form.value
    'end_bevel'
    """
    write_up(form, to)
    return WriteUpPanel(form, to)
