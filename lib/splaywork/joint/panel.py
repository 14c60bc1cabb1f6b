"""The joint panel: a dovetail on a leaning corner to turn, pull apart and lay flat, and files to take to the bench."""

from functools import partial

import ipywidgets as widgets

from ..common.class_corner import ClassCorner
from ..common.kinds import FilePath
from ..common.reading import read_angle, read_count, read_length
from ..corner.corner import Corner
from ..drawing.paper import PAPERS
from ..widgets.controls import Dial, Panel, Switch, folded, reset_button, row, unit_switch
from ..widgets.writing import Writer, file_stem, open_folder
from .cards import bevel_card, procedure_card
from .joint import Joint
from .picture import JointPicture
from .settings_words import bevel_words
from .stills import joint_moving_still
from .stl import save_stl
from .tails import MOST_ON_JOINT_DIAL, SLOPES
from .templates import HANDS, wrap_template

LONG_LABEL = {"description_width": "110px"}
BESIDE = {"style": LONG_LABEL, "layout": {"width": "400px"}}  # of a field or list, two in a row
OWN = 0  # stands for a slope that nobody published; with None the list would be blank


def _slopes():
    """Options of the list of published slopes: none of them is the right one."""
    return [("a slope of your own", OWN)] + [
        (f"1 in {slope.n:g} – {slope.use} – {slope.source}" + " (from memory)" * (slope.status == "memory"), slope.n)
        for slope in SLOPES]


class JointPanel(Panel):
    """Sliders around `JointPicture`, and buttons that write files; use `joint_panel` to make one."""

    def __init__(self, tail_lean: float, pin_lean: float, height: float, thickness: float, tails: int, name: str,
                 folder: FilePath) -> None:
        dials = {
            "tail_lean": Dial("Tail lean", tail_lean, -45, 45, 0.5),
            "pin_lean": Dial("Pin lean", pin_lean, -45, 45, 0.5),
            "tails": Dial("Tails", tails, 1, MOST_ON_JOINT_DIAL, 1, "count"),
            "apart": Dial("Pull apart", 0.0, 0, 60, 0.5, "length"),
            "turn": Dial("Turn", 15.0, -180, 180, 1),
            "tilt": Dial("Tilt", 25.0, -20, 90, 1),
            "plan_angle": Dial("Plan angle", 90.0, 60, 135, 0.5),
            "height": Dial("Height", height, 40, 300, 1, "length"),
            "tail_thickness": Dial("Tail board", thickness, 6, 40, 0.5, "length"),
            "pin_thickness": Dial("Pin board", thickness, 6, 40, 0.5, "length"),
            "looks_as": Dial("Apparent tail width", 30.0, 5, 150, 0.5, "length", locked=True),
            "tail_slope": Dial("Tail slope", 6.0, 2, 12, 0.5, "run"),
        }
        for short in ("tail_lean", "pin_lean", "tails", "apart", "turn", "tilt"):  # two in a row beside a list of files
            dials[short].field.layout.width, dials[short].slider.layout.width = "222px", "180px"
        dials["looks_as"].field.layout.width, dials["looks_as"].field.style.description_width = "300px", "144px"
        self._joint: Joint | None = None
        self.picture = JointPicture()
        self.unit, self.start_again = unit_switch(decimal=True), reset_button()
        self.published = widgets.Dropdown(options=_slopes(), value=6.0, description="Common slopes",
                                          style=LONG_LABEL, layout={"width": "790px"})
        self.end = Switch([("flush ends", "flush"), ("square ends", "square")],
                          ["Sawn to the end bevel", "Sawn square to the face and planed flush afterwards"])
        self.rims = Switch([("level rims", "level"), ("square rims", "square")],
                           ["Edges ripped level", "Edges left square to the faces"])
        self.alike = widgets.Checkbox(value=False, indent=False, layout={"width": "auto"},
                                      description="equal tails, seen from in front of the tail board:")
        self.writer = _Writer(self, name, folder)
        view = [row(dials["turn"], dials["tilt"]), row(self.unit, self.start_again)]
        stock = [row(dials["plan_angle"], dials["height"]), row(dials["tail_thickness"], dials["pin_thickness"]),
                 row(self.alike, dials["looks_as"]), row(dials["tail_slope"]), self.published,
                 row(self.end, self.rims)]
        below = row(folded("View and units", view), folded("Boards, slope, ends and rims", stock),
                     folded("Write templates, cards and solids", self.writer.rows))
        super().__init__(dials, [row(dials["tail_lean"], dials["pin_lean"]), row(dials["tails"], dials["apart"])],
                         [below], JointPicture.WIDTH, JointPicture.HEIGHT,
                         {"end": self.end, "rims": self.rims, "alike": self.alike, "unit": self.unit}, self.start_again)
        self.published.observe(self._publish, "value")
        self.alike.observe(self._look_alike, "value")

    def class_starts(self, kept: ClassCorner) -> dict[str, float]:
        if kept.name:
            self.writer.name.value = kept.name
        return super().class_starts(kept) | {"tail_thickness": kept.thickness, "pin_thickness": kept.thickness}

    def joint(self) -> Joint:
        """The `Joint` of the dials as they stand; ValueError when it can't be cut."""
        at = {name: dial.value for name, dial in self.dials.items()}
        joint = Joint(Corner(at["tail_lean"], at["pin_lean"], at["plan_angle"]), at["height"], at["tail_thickness"],
                      at["pin_thickness"], int(at["tails"]), at["tail_slope"], end=self.end.value, rims=self.rims.value,
                      looks_as=at["looks_as"] if self.alike.value else None)
        if joint == self._joint:
            return self._joint  # the same one again has its lines at hand
        self._joint = joint
        return joint

    def draw(self) -> tuple:
        joint = self.joint()
        turn, tilt, apart = (self.dials[name].value for name in ("turn", "tilt", "apart"))
        self.picture.update(joint, turn, tilt, apart, self.unit.value)
        slope = self.dials["tail_slope"].value
        self.published.value = slope if slope in dict(self.published.options).values() else OWN
        return self.picture.png(), bevel_words(joint, self.unit.value)

    def stored(self) -> tuple[bytes | None, str]:
        """The boards of the panel pulled apart and pushed home; what the moving picture says.

        Where that picture would be too large, the panel's own stays.
        """
        try:
            still = joint_moving_still(self.joint(), self.dials["turn"].value, self.dials["tilt"].value, self.unit.value)
            return still.png, still.words
        except ValueError:
            return super().stored()

    def _publish(self, change):
        if change.new != OWN and change.new != self.dials["tail_slope"].value:
            self.dials["tail_slope"].value = change.new

    def _look_alike(self, change):
        looks = self.dials["looks_as"]
        looks.field.disabled = looks.slider.disabled = not change.new


class _Writer(Writer):
    """The folded part that writes files: what, how and where to."""

    def __init__(self, panel, name, folder):
        self._panel = panel
        self.name = widgets.Text(description="Corner", value=name, **BESIDE)
        self.folder = widgets.Text(description="Folder", value=folder, **BESIDE)
        self.paper = widgets.Dropdown(options=list(PAPERS), description="Paper", **BESIDE)
        self.format = widgets.Dropdown(options=[("PDF", ".pdf"), ("SVG", ".svg")], description="File type", **BESIDE)
        self.hand = widgets.Dropdown(options=[(f"the tail board on the {hand}", hand) for hand in HANDS], value="right",
                                     description="Outside", **BESIDE)
        self.reading = widgets.Dropdown(options=[("outwards", "outside"), ("the wood", "inside")],
                                        description="Printing faces", **BESIDE)
        makers = {"Templates": (self._templates, "Wrap templates for both boards' ends, at true scale"),
                  "Cards": (self._cards, "A bevel card and the drawn bench steps"),
                  "Solids": (self._solids, "Both boards as STL files in mm, to print samples from")}
        super().__init__({what: (partial(self._write, maker), tip, "Nothing was written")
                          for what, (maker, tip) in makers.items()})
        self.rows = [row(self.name, self.folder), row(self.paper, self.format), row(self.hand, self.reading),
                     *self.foot]

    def _write(self, maker):
        joint = self._panel.joint()
        return self.written(maker(joint, open_folder(self.folder.value) / file_stem(self.name.value)), self.name.value)

    def _sheets(self, what, stem, drawings):
        path, = self.place([stem.with_name(f"{stem.name}-{what}{self.format.value}")], self.name.value)
        return self.sheets(path, drawings, self.paper.value)

    def _templates(self, joint, stem):
        how = {"hand": self.hand.value, "reading": self.reading.value, "name": self.name.value,
               "unit": self._panel.unit.value}
        self.say("Laying out the templates …")
        return self._sheets("templates", stem, wrap_template(joint, "tail", **how) + wrap_template(joint, "pin", **how))

    def _cards(self, joint, stem):
        how = {"name": self.name.value, "unit": self._panel.unit.value}
        self.say("Laying out the cards …")
        return self._sheets("cards", stem, bevel_card(joint, **how) + procedure_card(joint, **how))

    def _solids(self, joint, stem):
        boards = {"tail": joint.tail_board, "pin": joint.pin_board}
        paths = self.place([stem.with_name(f"{stem.name}-{board}-board.stl") for board in boards], self.name.value)
        for path, cut in zip(paths, boards.values(), strict=True):
            save_stl(path, cut.mesh())
        return paths


def joint_panel(tail_lean: float = 16, pin_lean: float = 11, height: float = 120, thickness: float = 18, tails: int = 3,
                name: str = "", folder: FilePath = "out") -> JointPanel:
    """Sliders for a dovetail on a leaning corner, its picture, and the bevel settings that it needs.

    tail_lean, pin_lean: where the sliders start, −45…45 degrees; height 40…300 mm, thickness of both boards 6…40 mm,
    tails 1…9: numbers, or text that their boxes would take. name: of the corner, for files and sheets. folder: where
    the buttons write to, counted from where the notebook runs; both can be changed on the panel. Plan angle, slope,
    ends, rims and view are folded away under the picture. ValueError for what the panel doesn't have, or a joint that
    can't be cut.

    >>> import splaywork as sw
    >>> panel = sw.joint_panel(16, 11, tails=3)
    >>> int(panel.dials["tails"].value)
    3
    """
    tail, pin = (read_angle(lean, -45, 45, what) for what, lean in (("Tail lean", tail_lean), ("Pin lean", pin_lean)))
    tall, thick = read_length(height, "mm", 40, 300, "Height"), read_length(thickness, "mm", 6, 40, "Thickness")
    count = read_count(tails, 1, MOST_ON_JOINT_DIAL, "Tails")
    Joint(Corner(tail, pin), tall, thick, tails=count)
    return JointPanel(tail, pin, tall, thick, count, str(name), str(folder))
