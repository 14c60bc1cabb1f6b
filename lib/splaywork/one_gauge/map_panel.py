"""The map panel: is the shortcut good enough, over both leans, for a tolerance and a board's width?"""

from ..common.class_corner import ClassCorner
from ..common.printing import fine
from ..common.reading import read_angle
from ..corner.corner import Corner
from ..widgets.controls import Dial, Panel, folded, reset_button, row, two_decimals, unit_switch
from .map_picture import GaugeMapPicture
from .one_gauge import SETTING_LIMIT
from .words import say_good_enough


class GaugeMapPanel(Panel):
    """Sliders around `GaugeMapPicture`; use `gauge_map_panel` to make one."""

    def __init__(self, tail_lean: float, pin_lean: float) -> None:
        dials = {
            "tail_lean": Dial("Tail lean", tail_lean, 0, 45, 0.5),
            "pin_lean": Dial("Pin lean", pin_lean, 0, 45, 0.5),
            "width": Dial("Slant width", 100.0, 20, 400, 5, "length"),
            "tolerance": Dial("Tolerance", 0.2, 0.05, 2, 0.05, "length", write=fine),
            "setting_limit": Dial("Bevel set to ±", SETTING_LIMIT, 0.05, 1, 0.05, write=two_decimals),
        }
        self.picture = GaugeMapPicture()
        self.unit, self.start_again = unit_switch(decimal=True), reset_button()
        rows = [row(*(dials[name] for name in names))
                for names in (("tail_lean", "pin_lean"), ("width", "tolerance"))]
        rest = folded("How well a bevel is set, and units", [dials["setting_limit"], row(self.unit, self.start_again)])
        super().__init__(dials, rows, [rest], GaugeMapPicture.WIDTH, GaugeMapPicture.HEIGHT,
                         {"unit": self.unit}, self.start_again)

    def class_starts(self, kept: ClassCorner) -> dict[str, float]:
        return {"tail_lean": abs(kept.tail_lean), "pin_lean": abs(kept.pin_lean)}  # leaning in is as leaning out

    def draw(self) -> tuple:
        at = {name: dial.value for name, dial in self.dials.items()}
        corner, unit = Corner(at["tail_lean"], at["pin_lean"]), self.unit.value
        wanted = at["width"], at["tolerance"], at["setting_limit"]
        self.picture.update(corner, *wanted, unit)
        return self.picture.png(), say_good_enough(corner, *wanted, unit)


def gauge_map_panel(tail_lean: float | str = 15, pin_lean: float | str = 12) -> GaugeMapPanel:
    """The map of where the shortcut is good enough, with a point to move, and what is so at the point.

    tail_lean, pin_lean: where the point starts, 0 to 45 degrees, or text that the fields would take. Leaning in is as leaning
    out: the sizes count. ValueError for a lean off the map.

    >>> import splaywork as sw
    >>> panel = sw.gauge_map_panel(16, 11)
    >>> panel.dials["pin_lean"].value
    11.0
    """
    return GaugeMapPanel(*(read_angle(lean, 0, 45, name) for name, lean in (("Tail lean", tail_lean), ("Pin lean", pin_lean))))
