"""The class corner panel: the corner that a class works on, typed once and kept in a small file beside the notebooks."""

import ipywidgets as widgets

from ..common.class_corner import LIMITS, ClassCorner, beside_the_notebooks, load_class_corner, save_class_corner
from ..widgets.controls import OnPage, row, unit_switch
from ..widgets.fields import WIDE, Field
from ..widgets.writing import Writer

OURS = ClassCorner(16, 11)  # what the fields hold where none is kept
BEGIN = "Panels, exercises, sheets and cards begin with it from now on: run a notebook's cells again to see it."


class ClassCornerPanel(OnPage):
    """Fields for a corner, and buttons that keep it and forget it; use `class_corner_panel` to make one."""

    instead = "Run this cell, and fields for the class corner appear here."

    def __init__(self):
        self.path, said, begins = beside_the_notebooks(), "No class corner is kept.", OURS
        if self.path.exists():
            try:
                begins = load_class_corner(self.path)
                said = f"The class corner is kept in {self.path.name}."
            except (ValueError, OSError) as wrong:
                said = str(wrong)
        self.name = widgets.Text(description="Our corner", value=begins.name, placeholder="its name", **WIDE)
        self.fields = {}
        for key, limits in LIMITS.items():
            name, kind = key.replace("_", " "), "angle" if key.endswith("lean") else "length"
            self.fields[key] = Field(f"The {name}", getattr(begins, key), *limits, kind, label=name.capitalize())
        self.unit = unit_switch(decimal=True)
        self.unit.observe(self._change_unit, "value")
        self.writer = Writer({
            "Keep for the class": (self._keep, "Write the corner into a file beside the notebooks", "Nothing was written"),
            "Forget the corner": (self._forget, "Delete that file", "Nothing was deleted")})
        self.writer.say(said)
        super().__init__([self.name, row(*self.fields.values(), self.unit), *self.writer.foot])

    def _change_unit(self, _):
        for key in ("height", "thickness"):
            self.fields[key].use_unit(self.unit.value)

    def _keep(self):
        corner = ClassCorner(*(self.fields[key].read() for key in LIMITS), self.name.value.strip())
        self._only_a_class_corner()
        save_class_corner(self.path, corner)
        return f"Kept in {self.path}. {BEGIN}"

    def _forget(self):
        self._only_a_class_corner()
        if not self.path.exists():
            return "No class corner is kept."
        self.path.unlink()
        return f"{self.path.name} is deleted. Panels open as they did before."

    def _only_a_class_corner(self):
        """ValueError where something else stands under that name: it is nobody's to replace."""
        if self.path.exists():
            load_class_corner(self.path)


def class_corner_panel() -> ClassCornerPanel:
    """Type the corner of your class once: panels, exercises, sheets and cards then begin with it.

    It is kept in the file class_corner.json beside the notebooks, or where the environment variable SPLAYWORK_CLASS_CORNER
    says, and only when the button is pressed. The corner is square in plan. Lessons follow it where their sentences are true
    of it.

    >>> import splaywork as sw
    >>> list(sw.class_corner_panel().fields)
    ['tail_lean', 'pin_lean', 'height', 'thickness']
    """
    return ClassCornerPanel()
