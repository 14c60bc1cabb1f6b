"""The corner panel: two leans to drag, and where the end lines run."""

from ..common.reading import read_angle
from ..widgets.controls import Dial, Panel, folded, reset_button, row, unit_switch
from .corner import Corner
from .picture import CornerPicture
from .words import corner_words

LOCKABLE = ("tail_lean", "pin_lean", "plan_angle")


class CornerPanel(Panel):
    """Sliders around `CornerPicture`; use `corner_panel` to make one."""

    def __init__(self, tail_lean: float, pin_lean: float, locked: tuple) -> None:
        dials = {
            "tail_lean": Dial("Tail lean", tail_lean, -45, 45, 0.5, locked="tail_lean" in locked),
            "pin_lean": Dial("Pin lean", pin_lean, -45, 45, 0.5, locked="pin_lean" in locked),
            "plan_angle": Dial("Plan angle", 90.0, 60, 135, 0.5, locked="plan_angle" in locked),
            "height": Dial("Height", 120.0, 40, 300, 1, "length"),
            "thickness": Dial("Thickness", 18.0, 6, 40, 0.5, "length"),
            "turn": Dial("Turn", 15.0, -180, 180, 1),
            "tilt": Dial("Tilt", 25.0, -20, 90, 1),
        }
        self.picture = CornerPicture()
        self.unit, self.start_again = unit_switch(decimal=True), reset_button()
        leans = row(dials["tail_lean"], dials["pin_lean"])
        view = row(dials["turn"], dials["tilt"])
        stock = row(dials["height"], dials["thickness"])
        rest = folded("Plan angle, stock, units and view",
                      [dials["plan_angle"], stock, view, row(self.unit, self.start_again)])
        super().__init__(dials, [leans], [rest], CornerPicture.WIDTH, CornerPicture.HEIGHT,
                         {"unit": self.unit}, self.start_again)

    def draw(self) -> tuple:
        at = {name: dial.value for name, dial in self.dials.items()}
        corner = Corner(at["tail_lean"], at["pin_lean"], at["plan_angle"])
        self.picture.update(corner, at["height"], at["thickness"], at["turn"], at["tilt"], self.unit.value)
        return self.picture.png(), corner_words(corner)


def corner_panel(tail_lean: float = 14, pin_lean: float = 6, locked: str | tuple = ()) -> CornerPanel:
    """Sliders for a corner, its picture, and one sentence on it.

    tail_lean, pin_lean: where the sliders start, −45…45 degrees, or text that their boxes would take. locked: the
    sliders that don't move, any of "tail_lean", "pin_lean", "plan_angle". Plan angle (60…135), stock, units and view are
    folded away under the picture.
    ValueError for a name or a lean that the panel doesn't have.

    >>> import splaywork as sw
    >>> panel = sw.corner_panel(tail_lean=16, pin_lean=11)
    >>> panel.dials["pin_lean"].value
    11.0
    """
    locked = (locked,) if isinstance(locked, str) else tuple(locked)
    for name in locked:
        if name not in LOCKABLE:
            raise ValueError(f"The panel has no slider {name!r} to lock; it has {', '.join(LOCKABLE)}.")
    tail, pin = (read_angle(lean, -45, 45, name) for name, lean in (("Tail lean", tail_lean), ("Pin lean", pin_lean)))
    return CornerPanel(tail, pin, locked)
