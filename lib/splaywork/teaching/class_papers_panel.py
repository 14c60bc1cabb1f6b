"""The class papers panel: lessons to read from, kits, sheets to draw on, paper boxes, the chart, the course and the form."""

from functools import partial

import ipywidgets as widgets

from ..box.paper_model_sheets import paper_model
from ..common.kinds import FilePath
from ..drawing.paper import PAPERS
from ..widgets.controls import OnPage, Switch, row, unit_switch
from ..widgets.fields import LABEL, WIDE, Field
from ..widgets.writing import Writer, open_folder
from .course_sheets import assessment, course
from .draw_on_sheets import draw_on
from .kit_sheets import KITS, MOST_PAIRS, kit, paper_box
from .lesson_sheets import lesson_sheet
from .scripts import script, scripts
from .scripts.core import LENGTHS
from .wall_chart_sheet import save_wall_chart

CHART = "A2"
NOTHING = "Nothing was written"


class ClassPapersPanel(OnPage):
    """Which notebooks, for how many pairs, on what paper, and buttons that write; use `class_papers_panel` to make one."""

    instead = "Run this cell, and buttons that write papers for a class appear here."

    def __init__(self, folder: FilePath) -> None:
        self.lessons = widgets.SelectMultiple(options=[(f"{number} {script(number).title}", number) for number in scripts()],
                                              value=("04",), description="Notebooks", rows=len(scripts()), **WIDE)
        self.minutes = Switch([(f"{length} minutes", length) for length in LENGTHS])
        self.pairs = Field("The number of pairs", 6, 1, MOST_PAIRS, "count", label="Pairs")
        self.paper = widgets.Dropdown(options=list(PAPERS), description="Paper", style=LABEL, layout={"width": "190px"})
        self.folder = widgets.Text(description="Folder", value=folder, **WIDE)
        self.unit = unit_switch(decimal=True)
        self.writer = Writer({
            "Lessons": (self._lessons, "What to do and say, to read from the bench", NOTHING),
            "Kits": (self._kits, "Wood and tools for so many pairs, with wedges at true scale", NOTHING),
            "To draw on": (partial(self._draw_on, False), "A sheet to draw both end lines on", NOTHING),
            "Key to it": (partial(self._draw_on, True), "That sheet with the lines drawn", NOTHING),
            "Paper boxes": (self._boxes, "Two nets at 40°, their wedges and the height strip, for lesson 07", NOTHING),
            "Wall chart": (self._chart, f"One page of {CHART}: the words, the steps, the cautions", NOTHING),
            "Course": (self._course, "Four evenings of two hours", NOTHING),
            "Form": (self._form, "To assess a trial corner in wood", NOTHING)})
        super().__init__([row(self.lessons, widgets.VBox([self.minutes, self.pairs, self.paper, self.unit])), self.folder,
                          *self.writer.foot])

    def _write(self, pages):
        """Write {name of a file: its pages} into the folder."""
        paths = self.writer.place([open_folder(self.folder.value) / name for name in pages])
        for path, made in zip(paths, pages.values(), strict=True):
            self.writer.sheets(path, made, self.paper.value)
        return self.writer.written(paths)

    def _chosen(self):
        if not self.lessons.value:
            raise ValueError("No notebook is chosen: choose one from the list, or several with Ctrl or Shift held down.")
        return self.lessons.value

    def _lessons(self):
        minutes = self.minutes.value
        return self._write({f"lesson-{number}-{minutes}-minutes.pdf": lesson_sheet(number, minutes, self.paper.value)
                            for number in self._chosen()})

    def _kits(self):
        pairs, chosen = self.pairs.read(), [number for number in self._chosen() if number in KITS]
        if not chosen:
            raise ValueError("Notebook 00 has no kit: choose another one.")
        return self._write({f"kit-{number}.pdf": kit(number, pairs, self.unit.value, self.paper.value) for number in chosen})

    def _draw_on(self, key):
        return self._write({f"draw-on{'-key' * key}.pdf": draw_on(None, self.unit.value, self.paper.value, key)})

    def _boxes(self):
        return self._write({"paper-boxes-40.pdf": paper_model(paper_box(), 1.0, self.paper.value, self.unit.value, held=True)})

    def _chart(self):
        path, = self.writer.place([open_folder(self.folder.value) / f"wall-chart-{CHART}.pdf"])
        return self.writer.written(save_wall_chart(path, None, CHART, self.unit.value))

    def _course(self):
        return self._write({"course.pdf": course(self.paper.value)})

    def _form(self):
        return self._write({"assessment.pdf": assessment(None, None, self.unit.value, self.paper.value)})


def class_papers_panel(folder: FilePath = "out") -> ClassPapersPanel:
    """Buttons that write the papers of a class, a PDF each: lessons, kits, sheets to draw on, paper boxes, chart, course, form.

    folder: where to, counted from where the notebook runs; it can be changed on the panel. What is made for a corner takes the
    class corner where one is kept.

    >>> import splaywork as sw
    >>> sw.class_papers_panel("papers").folder.value
    'papers'
    """
    return ClassPapersPanel(str(folder))
