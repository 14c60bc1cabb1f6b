"""The setting-errors panel: ten thousand boxes whose settings are each a little off."""

from ..common.printing import fine
from ..common.reading import read_angle
from ..corner.corner import Corner
from ..widgets.controls import Dial, FittedPanel, folded, reset_button, row, two_decimals, unit_switch
from .one_gauge import SETTING_LIMIT
from .setting_errors import jitter
from .setting_errors_picture import SettingErrorsPicture
from .words import say_setting_errors


class SettingErrorsPanel(FittedPanel):
    """Sliders around `SettingErrorsPicture`; use `setting_errors_panel` to make one."""

    def __init__(self, tail_lean: float, pin_lean: float, back_lean: float) -> None:
        dials = {
            "line": Dial("End line ±", SETTING_LIMIT, 0.05, 1, 0.05, write=two_decimals),
            "bevel": Dial("End bevel ±", SETTING_LIMIT, 0.05, 1, 0.05, write=two_decimals),
            "tolerance": Dial("Tolerance", 0.5, 0.05, 2, 0.05, "length", write=fine),
            "tail_lean": Dial("Tail lean", tail_lean, -45, 45, 0.5),
            "pin_lean": Dial("Pin lean", pin_lean, -45, 45, 0.5),
            "back_lean": Dial("Back lean", back_lean, -45, 45, 0.5),
            "height": Dial("Height", 120.0, 40, 300, 1, "length"),
            "thickness": Dial("Thickness", 18.0, 6, 40, 0.5, "length"),
        }
        self.picture = SettingErrorsPicture()
        self.unit, self.start_again = unit_switch(decimal=True), reset_button()
        in_order = list(dials.values())
        hand, leans, stock = [row(*in_order[start:end])
                              for start, end in ((0, 3), (3, 6), (6, 8))]
        hand.children += (self.fit_button("Fit the scales to the bars"),)
        rest = folded("Leans, stock and units", [leans, stock, row(self.unit, self.start_again)])
        super().__init__(dials, [hand], [rest], SettingErrorsPicture.WIDTH, SettingErrorsPicture.HEIGHT,
                         {"unit": self.unit}, self.start_again)

    def draw(self) -> tuple:
        at, unit = {name: dial.value for name, dial in self.dials.items()}, self.unit.value
        front, back = (Corner(at["tail_lean"], at[pin]) for pin in ("pin_lean", "back_lean"))
        sample = jitter([front, front, back, back], {"end line": at["line"], "end bevel": at["bevel"]},
                        height=at["height"], thickness=at["thickness"])
        self.picture.update(sample, at["tolerance"], unit, self.may_fit())
        return self.picture.png(), say_setting_errors(sample, at["tolerance"], unit)


def setting_errors_panel(tail_lean: float | str = 15, pin_lean: float | str = 12,
                         back_lean: float | str = 0) -> SettingErrorsPanel:
    """Ten thousand boxes whose end lines and end bevels are each a little off, and what becomes of them.

    Each box has two sides (tail boards) of one lean, a front and a back (pin boards); the first two corners are at the front.
    The leans are where the sliders start, −45 to 45 degrees, or text that the fields would take; ValueError for any other.

    >>> import splaywork as sw
    >>> panel = sw.setting_errors_panel(16, 11)
    >>> panel.dials["tail_lean"].value
    16.0
    """
    given = (("Tail lean", tail_lean), ("Pin lean", pin_lean), ("Back lean", back_lean))
    return SettingErrorsPanel(*(read_angle(lean, -45, 45, name) for name, lean in given))
