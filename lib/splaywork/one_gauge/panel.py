"""The one-gauge panels: two leans to drag, and what the shortcut does to the box."""

import ipywidgets as widgets

from ..common.reading import read_angle
from ..corner.corner import Corner
from ..widgets.controls import Dial, Panel, reset_button, row, unit_switch
from .one_gauge import NAMED_CORNERS
from .pictures import picture_of

SIZES = {  # what each panel drags beside the leans: name, start, low, high, step, kind
    "hold the leans": {"height": ("Height", 120.0, 40, 300, 1, "length")},
    "close the corners": {"apart": ("Drawn apart", 0.0, 0, 120, 1, "length")},
    "go round": {"corners": ("Corners", 1.0, 1, 4, 1, "count")},
    "wind the sides": {"length": ("Side", 440.0, 150, 800, 5, "length"),
                       "stick": ("Stick", 300.0, 100, 500, 5, "length")},
    "bench rule": {},
}


class OneGaugePanel(Panel):
    """Sliders around one of `drawing.one_gauge_pictures`; use `one_gauge_panel` to make one."""

    def __init__(self, consequence, tail_lean, pin_lean):
        self.picture = picture_of(consequence)()
        leans = {"tail_lean": Dial("Tail lean", tail_lean, -45, 45, 0.5),
                 "pin_lean": Dial("Pin lean", pin_lean, -45, 45, 0.5)}
        self.sizes = {name: Dial(*how) for name, how in SIZES[consequence].items()}
        self.unit, self.start_again = unit_switch(), reset_button()
        self.named = {name: widgets.Button(description=name, layout={"width": "76px"}) for name in NAMED_CORNERS}
        for name, button in self.named.items():
            button.on_click(lambda _, corner=NAMED_CORNERS[name]: self._lean(corner.tail_lean, corner.pin_lean))
        units = [self.unit] if consequence != "bench rule" else []  # which says no length
        self.alike = widgets.ToggleButton(description="both alike", tooltip="Move both leans together",
                                          layout={"width": "90px"})
        self.alike.observe(lambda _: self._follow("tail_lean", "pin_lean"), "value")
        together = [self.alike] if consequence == "close the corners" else []
        above = [row(*leans.values(), *units, self.start_again),
                 row(*self.sizes.values(), *self.named.values(), *together)]
        super().__init__(leans | self.sizes, above, [], self.picture.WIDTH, self.picture.HEIGHT,
                         {"alike": self.alike, "unit": self.unit}, self.start_again)
        leans["tail_lean"].on_change = lambda: self._follow("tail_lean", "pin_lean")
        leans["pin_lean"].on_change = lambda: self._follow("pin_lean", "tail_lean")

    def draw(self):
        corner = Corner(self.dials["tail_lean"].value, self.dials["pin_lean"].value)
        how = {"unit": self.unit.value} | {name: dial.value for name, dial in self.sizes.items()}
        self.picture.update(corner, **how)
        return self.picture.png(), self.picture.words(corner, **how)

    def _follow(self, moved, follows):
        """Redraw, after the other lean has followed the one that moved, where both are to be alike."""
        if self.alike.value and self.dials[follows].value != self.dials[moved].value:
            self.dials[follows].value = self.dials[moved].value
        else:
            self.redraw()

    def _lean(self, tail_lean, pin_lean):
        self.alike.value = False
        self.dials["tail_lean"].value, self.dials["pin_lean"].value = tail_lean, pin_lean


def one_gauge_panel(consequence, tail_lean=15, pin_lean=12):
    """Sliders for what one gauge does to a corner, its picture, and the sentence to it.

    consequence: "hold the leans", "close the corners", "go round", "wind the sides" or "bench rule".
    tail_lean, pin_lean: where the sliders start, −45…45 degrees, or text that their boxes would take. Beside the leans
    it drags the sizes that its picture shows. ValueError for another name or a lean that the panel doesn't have.
    """
    picture_of(consequence)
    leans = [read_angle(lean, -45, 45, name) for name, lean in (("Tail lean", tail_lean), ("Pin lean", pin_lean))]
    return OneGaugePanel(consequence, *leans)
