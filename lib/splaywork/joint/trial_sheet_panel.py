"""The trial sheet's panel: a name, a folder and a paper, and the button that writes the sheet there."""

import ipywidgets as widgets

from ..common import checks
from ..common.class_corner import class_corner
from ..corner.corner import Corner
from ..drawing.paper import PAPERS
from ..widgets.controls import OnPage, Switch, row, unit_switch
from ..widgets.fields import WIDE
from ..widgets.writing import Writer, file_stem, open_folder
from .joint import Joint
from .trial_sheet import trial_pages


class TrialSheetPanel(OnPage):
    """Where to and on what paper the sheet of one joint is written; use `trial_sheet_panel` to make one.

    Where a class corner is kept, its sheet is written at first, and a switch goes back to the joint that was given.
    """

    instead = "Run this cell, and a button that writes the trial sheet appears here."

    def __init__(self, joint: Joint, name: str, folder: str) -> None:
        self.joint, self.kept, unusable = joint, None, ""
        try:
            self.kept = class_corner()
        except ValueError as wrong:
            unusable = str(wrong)
        self.of_class = Switch([("class corner", True), ("as in this notebook", False)],
                               ["The corner that is kept for the class", "The joint that stands in the cell"])
        self.of_class.value = self.kept is not None
        self.of_class.layout.display = "" if self.kept else "none"
        self.name = widgets.Text(description="Corner", value=name, **WIDE)
        self.folder = widgets.Text(description="Folder", value=folder, **WIDE)
        self.paper = widgets.Dropdown(options=list(PAPERS), description="Paper", **WIDE)
        self.format = widgets.Dropdown(options=[("PDF", ".pdf"), ("SVG", ".svg")], description="File type", **WIDE)
        self.unit = unit_switch()
        self.writer = Writer({"Write the sheet": (self._write, "Two pages, in the folder named above", "Nothing was written")})
        super().__init__([row(self.name, self.folder), row(self.paper, self.format), row(self.unit, self.of_class),
                          *self.writer.foot])
        self.writer.say(unusable)

    def _chosen(self):
        """The joint of the sheet: that of the class corner, as many tails as suit it, or the one that was given."""
        if self.kept is None or not self.of_class.value:
            return self.joint
        corner = Corner(self.kept.tail_lean, self.kept.pin_lean)
        return Joint(corner, self.kept.height, self.kept.thickness, tail_slope=self.joint.tail_slope, end=self.joint.end,
                     rims=self.joint.rims)

    def _write(self):
        name, paper = self.name.value, self.paper.value
        self.writer.say("Laying out the sheet …")
        pages = trial_pages(self._chosen(), paper, self.unit.value, name)
        stem = open_folder(self.folder.value) / file_stem(name)
        path, = self.writer.place([stem.with_name(f"{stem.name}-sheet{self.format.value}")], name)
        return self.writer.written(self.writer.sheets(path, pages, paper), name)


def trial_sheet_panel(joint: Joint, name: str = "trial corner", folder: str = "out") -> TrialSheetPanel:
    """A button that writes the trial sheet of a `Joint`, or of the class corner, and says in full where the file then lies.

    Parameters
    ----------
    joint : Joint
    name : str
        Of the corner, for the file and the sheet, up to 60 characters; it can be changed on the panel.
    folder : str
        Where to, counted from where the notebook runs; it is made when it isn't there, and can be changed on the panel.

    Raises
    ------
    ValueError
        For something else than a joint.

    >>> import splaywork as sw
    >>> joint = sw.Joint(sw.Corner(16, 11), height=120, tail_thickness=18, tails=3)
    >>> panel = sw.trial_sheet_panel(joint, name="galley")
    >>> panel.name.value
    'galley'
    """
    return TrialSheetPanel(checks.instance("joint", joint, Joint, "Joint(Corner(16, 11), height=120, tail_thickness=12)"),
                           str(name), str(folder))
