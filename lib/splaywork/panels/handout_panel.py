"""The handout panel: handouts, keys and a bench card for a class, written as PDF files into a chosen folder."""

from functools import partial

import ipywidgets as widgets

from ..corner import Corner
from ..drawing.bench_card import bench_card
from ..drawing.handouts import TITLES, answer_key, handout, save_sheets
from ..drawing.paper import PAPERS
from .access import names_for_access
from .controls import row, unit_switch
from .fields import Field
from .writing import Writer, file_stem, open_folder, written

_FIELD = {"style": {"description_width": "86px"}, "layout": {"width": "400px"}}


class HandoutPanel(widgets.VBox):
    """Which notebook, which numbers, which paper; the corner of the class; and buttons that write.

    Use `handout_panel` to make one.
    """

    def __init__(self, folder):
        self.lesson = widgets.Dropdown(options=[(f"{number} {title}", number) for number, title in TITLES.items()],
                                       description="Notebook", **_FIELD)
        self.seed = Field("The seed", 1, 0, 9999, "count", label="Seed")
        self.paper = widgets.Dropdown(options=list(PAPERS), description="Paper", style={"description_width": "86px"},
                                      layout={"width": "190px"})
        self.folder = widgets.Text(description="Folder", value=folder, **_FIELD)
        self.unit = unit_switch()
        self.name = widgets.Text(description="Corner", value="", placeholder="its name", **_FIELD)
        self.fields = {"tail_lean": Field("Tail lean", 16.0, -60, 60, "angle"),
                       "pin_lean": Field("Pin lean", 11.0, -60, 60, "angle"),
                       "height": Field("Height", 120.0, 20, 1000), "thickness": Field("Thickness", 18.0, 3, 100)}
        self.writer = Writer({
            "Handout": (partial(self._lesson, "handout", handout), "The notebook's exercises, with blanks to fill in",
                        "Nothing was written"),
            "Key": (partial(self._lesson, "key", answer_key), "The answers to the handout of the same seed",
                    "Nothing was written"),
            "Bench card": (self._card, "All settings of the class's own corner on one page", "Nothing was written")})
        self.unit.observe(self._change_unit, "value")
        super().__init__([row(self.lesson, self.seed, self.paper), row(self.folder, self.unit),
                          row(self.name), row(*self.fields.values()), row(*self.writer.buttons.values()),
                          self.writer.progress, names_for_access()])

    def _change_unit(self, _):
        for name in ("height", "thickness"):
            self.fields[name].use_unit(self.unit.value)

    def _lesson(self, kind, make):
        lesson, seed = self.lesson.value, self.seed.read()
        self.writer.say("Laying out the sheets …")
        pages = make(lesson, seed, self.unit.value, self.paper.value)
        return self._save(pages, f"{kind}-{lesson}-seed-{seed}")

    def _card(self):
        at = {name: field.read() for name, field in self.fields.items()}
        corner = Corner(at["tail_lean"], at["pin_lean"])
        pages = bench_card(corner, at["height"], at["thickness"], self.unit.value, self.name.value.strip(),
                           self.paper.value)
        return self._save(pages, f"{file_stem(self.name.value)}-bench-card")

    def _save(self, pages, stem):
        path = open_folder(self.folder.value) / f"{stem}.pdf"
        return written(save_sheets(path, pages, self.paper.value, self.writer.page))

    def _repr_mimebundle_(self, **options):
        bundle = super()._repr_mimebundle_(**options)
        return bundle | {"text/plain": "Buttons that write handouts appear here when this cell is run."}


def handout_panel(folder="out"):
    """Buttons that write a notebook's handout, its key, and a bench card for the class's own corner.

    folder: where to, counted from where the notebook runs. Seed: whole numbers up to 9999; the same seed asks the same
    numbers on the handout, on the key, and in the notebook's exercises.
    """
    return HandoutPanel(str(folder))
