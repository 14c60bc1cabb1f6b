"""The folded part that keeps a plan as a file and writes what the bench needs of it: sheets and cut list."""

from pathlib import Path

import ipywidgets as widgets

from ..common.files import write_whole
from ..drawing.paper import PAPERS
from ..widgets.controls import row
from ..widgets.fields import LABEL, WIDE
from ..widgets.writing import Writer, file_stem, open_folder, written
from .cut_list import cut_list, cut_lists_csv
from .paper_model_sheets import paper_model
from .plan import load_plan, save_plan
from .set_sheets import save_bench_set


class PlanPart(Writer):
    """Folder and file name, and buttons.

    plan: gives the plan and the number of the chosen item; use: takes a plan that was opened. What either raises
    (ValueError) is said below the buttons.
    """

    def __init__(self, plan, use, name, folder):
        self._plan, self._use = plan, use
        field = WIDE | {"continuous_update": False}
        self.folder = widgets.Text(description="Folder", value=folder, **field)
        self.file = widgets.Text(description="File name", value=file_stem(name, "plan"), **field)
        self.paper = widgets.Dropdown(options=list(PAPERS), description="Paper", style=LABEL,
                                      layout={"width": "200px"})
        nothing = "Nothing was written"
        super().__init__({
            "Save plan": (self._save, "The plan with all its items, to be opened here again", nothing),
            "Open plan": (self._open, "The plan of that name, in place of this one", "Nothing was opened"),
            "Bench set": (self._bench_set, "Sheets for every item, as a PDF to print", nothing),
            "Cut list": (self._cut_list, "The boards of every item, as CSV for a spreadsheet", nothing),
            "Paper model": (self._paper_model, "The chosen item as two nets to cut and fold, with its leans as drawn here",
                            nothing),
        })
        self.times = widgets.Dropdown(options=[("as they are", 1.0), ("2 times as large", 2.0), ("3 times as large", 3.0)],
                                      description="Model's leans", style={"description_width": "98px"},
                                      layout={"width": "300px"})
        self.rows = [row(self.folder, self.file), row(self.paper, self.times), row(*self.buttons.values()),
                     self.progress]

    def _path(self, ending):
        """Where a file goes, in a folder that is there or is made."""
        return open_folder(self.folder.value) / f"{file_stem(self.file.value.removesuffix('.json'), 'plan')}{ending}"

    def _save(self):
        plan, _ = self._plan()
        path = self._path(".json")
        if path.exists():
            try:
                load_plan(path)
            except ValueError:
                raise ValueError(f"{path.name} is there already and is no plan that can be read here: give the file "
                                 "another name.") from None
        save_plan(path, plan)
        return written([path])

    def _open(self):
        folder, typed = open_folder(self.folder.value, make=False), self.file.value.strip()
        names = [f"{file_stem(typed.removesuffix('.json'), 'plan')}.json"]
        if typed == Path(typed).name:  # it may have been named elsewhere, by other rules
            names = [typed, f"{typed}.json", *names]
        path = next((folder / name for name in names if (folder / name).is_file()), None)
        if path is None:
            raise ValueError(f"There is no plan {names[-1]} in {folder}: look up its name and folder.")
        plan = load_plan(path)
        self._use(plan)
        count = len(plan.items)
        return f"Opened {path}: {count} item{'s' * (count > 1)}."

    def _bench_set(self):
        plan, _ = self._plan()
        path = self._path("-bench-set.pdf")
        self.say("Laying out the sheets …")
        save_bench_set(path, plan, self.paper.value, progress=self.page)
        return written([path])

    def _cut_list(self):
        plan, _ = self._plan()
        path = self._path("-cut-list.csv")
        lists = [(item.name, cut_list(item.box, item.quantity)) for item in plan.items]
        write_whole(path, cut_lists_csv(lists, plan.unit).encode("utf-8-sig"))  # the mark tells spreadsheets of ° and ²
        return written([path])

    def _paper_model(self):
        plan, at = self._plan()
        path = self._path("-paper-model.pdf")
        sheets = paper_model(plan.items[at].box, self.times.value, self.paper.value, plan.unit)
        return written(self.sheets(path, sheets, self.paper.value))
