"""The map panel: is one gauge good enough, over both leans, for a tolerance and a board's width?"""

from ..common.printing import fine
from ..corner.corner import Corner
from ..widgets.controls import Dial, Panel, folded, hundredths, reset_button, row, unit_switch
from .map_picture import GaugeMapPicture
from .one_gauge import GAUGE_SETTING_ERROR
from .words import say_good_enough


class GaugeMapPanel(Panel):
    """Sliders around `GaugeMapPicture`; use `gauge_map_panel` to make one."""

    def __init__(self, tail_lean, pin_lean):
        dials = {
            "tail_lean": Dial("Tail lean", tail_lean, 0, 45, 0.5),
            "pin_lean": Dial("Pin lean", pin_lean, 0, 45, 0.5),
            "width": Dial("Board width", 100.0, 20, 400, 5, "length"),
            "tolerance": Dial("Tolerance", 0.2, 0.05, 2, 0.05, "length", write=fine),
            "setting_error": Dial("Gauge ±", GAUGE_SETTING_ERROR, 0.05, 1, 0.05, write=hundredths),
        }
        self.picture = GaugeMapPicture()
        self.unit, self.start_again = unit_switch(), reset_button()
        rows = [row(*(dials[name] for name in names))
                for names in (("tail_lean", "pin_lean"), ("width", "tolerance"))]
        rest = folded("The gauge's own error, and units",
                      [dials["setting_error"], row(self.unit, self.start_again)])
        super().__init__(dials, rows, [rest], GaugeMapPicture.WIDTH, GaugeMapPicture.HEIGHT,
                         {"unit": self.unit}, self.start_again)

    def draw(self):
        at = {name: dial.value for name, dial in self.dials.items()}
        corner, unit = Corner(at["tail_lean"], at["pin_lean"]), self.unit.value
        wanted = at["width"], at["tolerance"], at["setting_error"]
        self.picture.update(corner, *wanted, unit)
        return self.picture.png(), say_good_enough(corner, *wanted, lambda x: fine(x, unit))


def gauge_map_panel(tail_lean=15, pin_lean=12):
    """The map of where one gauge is good enough, with a point to move, and one sentence on the point.

    tail_lean, pin_lean: where the point starts, degrees, 0…45. Leaning in is as leaning out: the sizes count.
    ValueError for a lean off the map.
    """
    for name, lean in (("tail lean", tail_lean), ("pin lean", pin_lean)):
        if not 0 <= lean <= 45:
            raise ValueError(f"The {name} is {lean}°, and the map runs from 0° to 45°: start it between those.")
    return GaugeMapPanel(float(tail_lean), float(pin_lean))
