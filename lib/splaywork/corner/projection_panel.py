"""The projection panel: the pencil to move or to play, and the stages in hands' order."""

import ipywidgets as widgets

from ..common.reading import read_angle
from ..widgets.controls import Dial, Panel, Switch, folded, reset_button, row, unit_switch
from .corner import Corner
from .projection_picture import ProjectionPicture
from .projection_stills import projection_moving_still
from .projection_words import MARKS, ONTO_PIN, STAGES, stage_words, why_words

FRAME_TIME = 83  # ms: twelve pictures a second
STEP = 2  # per cent of the height from one to the next
HINTS = ("Mark the pin board by the tail board's outer face", "Mark the tail board by the pin board's outer face",
         "Carry the mark across the bottom edge and strike the end line", "See the outer face with its end line",
         "Strike a line with the bevel set to the other board's lean", "Hold two bevels against one straight edge")


class ProjectionPanel(Panel):
    """Sliders and stages around `ProjectionPicture`; use `projection_panel` to make one."""

    def __init__(self, tail_lean: float, pin_lean: float) -> None:
        dials = {
            "pencil": Dial("Pencil, %", 60.0, 0, 100, 1, "count"),
            "tail_lean": Dial("Tail lean", tail_lean, -45, 45, 0.5),
            "pin_lean": Dial("Pin lean", pin_lean, -45, 45, 0.5),
            "plan_angle": Dial("Plan angle", 90.0, 60, 135, 0.5),
            "turn": Dial("Turn", 0.0, -180, 180, 1),
            "tilt": Dial("Tilt", 20.0, 5, 80, 1),
        }
        self.picture = ProjectionPicture()
        self.marked = "pin"
        self.stage = Switch(STAGES, HINTS, width="232px")
        self.stage.value = ONTO_PIN
        self.stage.observe(self._mark, "value")
        self.play = widgets.Play(min=0, max=100, step=STEP, interval=FRAME_TIME, value=60)
        widgets.jslink((self.play, "value"), (dials["pencil"].slider, "value"))
        self.unit, self.start_again = unit_switch(decimal=True), reset_button()
        rest = folded("Plan angle, units and view", [dials["plan_angle"], row(dials["turn"], dials["tilt"]),
                                                     row(self.unit, self.start_again)])
        super().__init__(dials, [self.stage, row(dials["pencil"], self.play), row(dials["tail_lean"], dials["pin_lean"])],
                         [rest], ProjectionPicture.WIDTH, ProjectionPicture.HEIGHT, {"stage": self.stage, "unit": self.unit},
                         self.start_again)

    def draw(self) -> tuple:
        at = {name: dial.value for name, dial in self.dials.items()}
        corner = Corner(at["tail_lean"], at["pin_lean"], at["plan_angle"])
        stage, unit = self.stage.value, self.unit.value
        self.picture.update(corner, stage, at["pencil"] / 100, self.marked, at["turn"], at["tilt"], unit)
        projection = self.picture.projection
        return self.picture.png(), f"{stage_words(projection, stage, unit)} {why_words(projection, unit)}"

    def stored(self) -> tuple[bytes | None, str]:
        """The pencil drawing its two lines, as the panel's leans stand; what the moving picture says."""
        corner = Corner(*(self.dials[name].value for name in ("tail_lean", "pin_lean", "plan_angle")))
        still = projection_moving_still(corner)
        return still.png, still.words

    def _mark(self, change):
        self.marked = MARKS.get(change.new, self.marked)


def projection_panel(tail_lean: float = 30, pin_lean: float = 30) -> ProjectionPanel:
    """The projection as hands do it: a pencil to move or to play, its stages, two leans, and one sentence on what is seen.

    Parameters
    ----------
    tail_lean, pin_lean : float or str
        Where the sliders start, −45…45 degrees, or text that their fields would take.

    Raises
    ------
    ValueError
        For a lean that the panel doesn't have.

    >>> import splaywork as sw
    >>> panel = sw.projection_panel(16, 11)
    >>> panel.dials["tail_lean"].value
    16.0
    """
    leans = [read_angle(lean, -45, 45, name) for name, lean in (("Tail lean", tail_lean), ("Pin lean", pin_lean))]
    return ProjectionPanel(*leans)
