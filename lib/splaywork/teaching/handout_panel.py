"""The handout panel: handouts, keys and a bench card for a class, written as PDF files into a chosen folder."""

from functools import partial

import ipywidgets as widgets

from ..common.class_corner import ClassCorner, class_corner
from ..common.kinds import FilePath
from ..corner.corner import Corner
from ..drawing.paper import PAPERS
from ..widgets.controls import OnPage, row, unit_switch
from ..widgets.fields import LABEL, WIDE, Field
from ..widgets.writing import Writer, file_stem, open_folder
from .bench_card_sheet import bench_card
from .handout_sheets import TITLES, answer_key, handout, save_sheets

LATEST_SEED = 9999
OURS = ClassCorner(16, 11)  # where no class corner is kept


class HandoutPanel(OnPage):
    """Which notebooks, which numbers, which paper; the corner of the class; and buttons that write.

    Use `handout_panel` to make one.
    """

    instead = "Run this cell, and buttons that write handouts appear here."

    def __init__(self, folder: FilePath) -> None:
        self.lessons = widgets.SelectMultiple(options=[(f"{number} {title}", number) for number, title in TITLES.items()],
                                              value=tuple(TITLES), description="Notebooks", rows=len(TITLES), **WIDE)
        self.seed = Field("The seed", 1, 0, LATEST_SEED, "count", label="Seed")
        self.renew = widgets.Button(description="New numbers", tooltip="Go on to the next seed",
                                    layout={"width": "120px"})
        self.renew.on_click(self._renew)
        self.paper = widgets.Dropdown(options=list(PAPERS), description="Paper", style=LABEL,
                                      layout={"width": "190px"})
        self.folder = widgets.Text(description="Folder", value=folder, **WIDE)
        self.unit = unit_switch(decimal=True)
        self.name = widgets.Text(description="Our corner", value="", placeholder="its name", **WIDE)
        kept, unusable = _kept()
        self.name.value = kept.name
        self.fields = {"tail_lean": Field("Tail lean", kept.tail_lean, -60, 60, "angle"),
                       "pin_lean": Field("Pin lean", kept.pin_lean, -60, 60, "angle"),
                       "plan_angle": Field("Plan angle", 90.0, 60, 135, "angle"),
                       "height": Field("Height", kept.height, 20, 1000),
                       "thickness": Field("Thickness", kept.thickness, 3, 100)}
        nothing = "Nothing was written"
        self.writer = Writer({
            "Handouts": (partial(self._lessons, "handout", handout), "The notebooks' exercises, with blanks to fill in",
                         nothing),
            "Keys": (partial(self._lessons, "key", answer_key), "The answers to the handouts of the same seed", nothing),
            "Bench card": (self._card, "All settings of the class corner on one page", nothing)})
        self.unit.observe(self._change_unit, "value")
        self.writer.say(unusable)
        super().__init__([row(self.lessons, widgets.VBox([row(self.seed, self.renew), self.paper, self.unit])),
                          self.folder, self.name, row(*self.fields.values()), *self.writer.foot])

    def _change_unit(self, _):
        for name in ("height", "thickness"):
            self.fields[name].use_unit(self.unit.value)

    def _renew(self, _):
        try:
            self.seed.put((self.seed.read() + 1) % (LATEST_SEED + 1))
        except ValueError as wrong:
            self.writer.say(str(wrong))

    def _lessons(self, kind, make):
        seed, unit, paper = self.seed.read(), self.unit.value, self.paper.value
        if not self.lessons.value:
            raise ValueError("No notebook is chosen: choose one from the list, or several with Ctrl or Shift held down.")
        folder, lessons = open_folder(self.folder.value), self.lessons.value
        paths = self.writer.place([folder / f"{kind}-{lesson}-seed-{seed}.pdf" for lesson in lessons])
        for lesson, path in zip(lessons, paths, strict=True):
            self.writer.say(f"Laying out the {kind} of {lesson} …")
            save_sheets(path, make(lesson, seed, unit, paper), paper)
        return self.writer.written(paths)

    def _card(self):
        at = {name: field.read() for name, field in self.fields.items()}
        corner = Corner(at["tail_lean"], at["pin_lean"], at["plan_angle"])
        name, paper = self.name.value.strip(), self.paper.value
        pages = bench_card(corner, at["height"], at["thickness"], self.unit.value, name, paper)
        path, = self.writer.place([open_folder(self.folder.value) / f"{file_stem(name)}-bench-card.pdf"], name)
        return self.writer.written(save_sheets(path, pages, paper, self.writer.page), name)


def _kept():
    """(the class corner or 16 and 11, why the one that is kept can't be used)."""
    try:
        return class_corner() or OURS, ""
    except ValueError as wrong:
        return OURS, str(wrong)


def handout_panel(folder: FilePath = "out") -> HandoutPanel:
    """Buttons that write notebooks' handouts, their keys, and a bench card for the class corner, a PDF each.

    folder: where to, counted from where the notebook runs. Seed: whole numbers up to 9999; the same seed asks the same
    numbers on the handout and on the key, and "New numbers" goes on to the next.

    >>> import splaywork as sw
    >>> sw.handout_panel("papers").folder.value
    'papers'
    """
    return HandoutPanel(str(folder))
