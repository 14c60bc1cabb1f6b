"""The panels of the shortcut: two leans to drag, and what the shortcut does to the box."""

from functools import partial

import ipywidgets as widgets

from ..common import checks
from ..common.class_corner import ClassCorner
from ..common.reading import read_angle
from ..corner.corner import Corner
from ..widgets.controls import Dial, FittedPanel, reset_button, row, unit_switch
from .one_gauge import NAMED_CORNERS
from .pictures import picture_of

SIZES = {  # what each panel drags beside the leans: name, start, low, high, step, kind
    "hold the leans": {"height": ("Height", 120.0, 40, 300, 1, "length")},
    "close the corners": {"apart": ("Pull apart", 0.0, 0, 120, 1, "length")},
    "go round": {"corners": ("Corners", 1.0, 1, 4, 1, "count")},
    "wind the sides": {"length": ("Side", 440.0, 150, 800, 5, "length"),
                       "stick": ("Stick", 300.0, 100, 500, 5, "length")},
    "level lines": {},
}


class OneGaugePanel(FittedPanel):
    """Sliders around one of `pictures.PICTURES`; use `one_gauge_panel` to make one."""

    def __init__(self, consequence: str, tail_lean: float, pin_lean: float, equal: bool) -> None:
        self.picture = picture_of(consequence)()
        leans = {"tail_lean": Dial("Tail lean", tail_lean, -45, 45, 0.5),
                 "pin_lean": Dial("Pin lean", pin_lean, -45, 45, 0.5)}
        self.sizes = {name: Dial(*how) for name, how in SIZES[consequence].items()}
        self.unit, self.start_again = unit_switch(decimal=True), reset_button()
        self.named = {name: widgets.Button(description=name, tooltip=f"The {name} corner",
                                           layout={"width": "auto", "min_width": "76px"}) for name in NAMED_CORNERS}
        for name, button in self.named.items():
            button.on_click(lambda _, corner=NAMED_CORNERS[name]: self._lean(corner.tail_lean, corner.pin_lean))
            button.add_class("splaywork-preset")
        fit = self.fit_button("Choose the magnifications anew")
        units = [self.unit, fit] if consequence != "level lines" else []  # which says no length and enlarges nothing
        self.equal = widgets.ToggleButton(value=equal, description="both equal", tooltip="Move both leans together",
                                          layout={"width": "90px"})
        self.equal.observe(lambda _: self._follow("tail_lean", "pin_lean"), "value")
        together = [self.equal] if consequence == "close the corners" else []
        above = [row(leans["tail_lean"], *units, self.start_again), row(leans["pin_lean"], *self.named.values()),
                 row(*self.sizes.values(), *together)]
        super().__init__(leans | self.sizes, above, [], self.picture.WIDTH, self.picture.HEIGHT,
                         {"equal": self.equal, "unit": self.unit}, self.start_again)
        leans["tail_lean"].on_change = partial(self._follow, "tail_lean", "pin_lean")
        leans["pin_lean"].on_change = partial(self._follow, "pin_lean", "tail_lean")

    def class_starts(self, kept: ClassCorner) -> dict[str, float]:
        if kept.tail_lean != kept.pin_lean:
            self.equal.value = self._starts["equal"] = False
        return super().class_starts(kept)

    def draw(self) -> tuple:
        corner = Corner(self.dials["tail_lean"].value, self.dials["pin_lean"].value)
        how = {"unit": self.unit.value} | {name: dial.value for name, dial in self.sizes.items()}
        self.picture.update(corner, **how, fit=self.may_fit())
        for name, button in self.named.items():  # lit while its leans hold
            held = NAMED_CORNERS[name]
            lit = (corner.tail_lean, corner.pin_lean) == (held.tail_lean, held.pin_lean)
            (button.add_class if lit else button.remove_class)("mod-active")
        return self.picture.png(), self.picture.words(corner, **how)

    def _follow(self, moved, follows):
        """Redraw, after the other lean has followed the one that moved, where both are to be equal."""
        if self._resetting:
            return
        if self.equal.value and self.dials[follows].value != self.dials[moved].value:
            self.dials[follows].value = self.dials[moved].value
        else:
            self.redraw()

    def _lean(self, tail_lean, pin_lean):
        self.equal.value = False
        self.dials["tail_lean"].put(tail_lean)
        self.dials["pin_lean"].put(pin_lean)
        self.fit_anew()


# Where each panel opens: leans at which its point is seen without a lens.
OPENS_AT = {"hold the leans": (30, 30), "close the corners": (40, 40), "go round": (28, 24), "wind the sides": (28, 24),
            "level lines": (28, 24)}


def one_gauge_panel(consequence: str, tail_lean: float | str | None = None, pin_lean: float | str | None = None,
                    equal: bool = False) -> OneGaugePanel:
    """Sliders for what the shortcut does to a corner, its picture, and the sentences to it.

    Parameters
    ----------
    consequence : str
        "hold the leans", "close the corners", "go round", "wind the sides" or "level lines".
    tail_lean, pin_lean : float or str, optional
        Where the sliders start, −45 to 45 degrees, or text that their fields would take. Without them the panel opens at leans
        where its point is seen.
    equal : bool
        Whether the leans start tied to one another, in "close the corners".

    Raises
    ------
    ValueError
        For another name, or a lean that the panel doesn't have.

    >>> import splaywork as sw
    >>> panel = sw.one_gauge_panel("hold the leans", 28, 24)
    >>> panel.dials["tail_lean"].value
    28.0
    """
    picture_of(consequence)
    equal = checks.flag("equal", equal)
    starts = OPENS_AT[consequence]
    tail, pin = (read_angle(start if lean is None else lean, -45, 45, name)
                 for name, lean, start in (("Tail lean", tail_lean, starts[0]), ("Pin lean", pin_lean, starts[1])))
    return OneGaugePanel(consequence, tail, pin, equal)
