"""The folded part that keeps a plan as a file and writes what the bench needs of it: sheets, labels and cut list."""

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import ipywidgets as widgets

from ..common.files import without_ending, write_whole
from ..common.kinds import FilePath
from ..drawing.paper import PAPERS
from ..widgets.controls import row
from ..widgets.fields import LABEL, WIDE, Field
from ..widgets.writing import Writer, file_stem, open_folder
from .cut_list import cut_list, cut_lists_csv
from .job_sheets import save_job_sheets
from .label_sheets import save_labels
from .paper_model_sheets import paper_model
from .plan import load_plan, save_plan
from .set_sheets import PARTS, USUAL, save_bench_set
from .stock import stock_plan
from .stock_sheets import save_stock_sheets

if TYPE_CHECKING:
    from .plan import Plan


_PARTS = dict(zip(PARTS, (  # part of the bench set -> its button's name and tooltip
    ("Job", "One page for the job and one for each size"),
    ("Lists", "For each box: overview, cut list, order of sawing, bottom and cauls"), ("Boards", "A sheet for each board"),
    ("Corners", "A sheet for each corner"), ("Templates", "Wrap templates at true scale"),
    ("Cards", "Bevel and procedure cards"),
    ("Bench cards", "One page for each box: every line of its four boards, with letters"),
    ("Paper nets", "Two nets of each box to cut and fold"),
    ("Label sheets", "Stick-on labels for every board, last, by the rows and columns above")), strict=True))


class PlanPart(Writer):
    """Folder and file name, and buttons.

    plan: gives the plan and the number of the chosen item; use: takes a plan that was opened, saved: one that was saved. What
    they raise (ValueError) is said below the buttons. shown: the plan that the panel opens with.
    """

    def __init__(self, plan: Callable, use: Callable, saved: Callable, shown: "Plan", folder: FilePath) -> None:
        self._plan, self._use, self._keep = plan, use, saved
        field = WIDE | {"continuous_update": False}
        self.folder = widgets.Text(description="Folder", value=folder, **field)
        self.file = widgets.Text(description="File name", value=file_stem(shown.name, "plan"), **field)
        self.paper = widgets.Dropdown(options=list(PAPERS), value=shown.paper, description="Paper", style=LABEL,
                                      layout={"width": "200px"})
        nothing = "Nothing was written"
        super().__init__({
            "Save plan": (self._save, "The plan with all its items, to be opened here again", nothing),
            "Open plan": (self._open, "The plan of that name, in place of this one", "Nothing was opened"),
            "Job sheets": (self._job_sheets, "One page for the job and one for each size, as a PDF to print", nothing),
            "Bench set": (self._bench_set, "The parts chosen above, for every item, as a PDF to print", nothing),
            "Labels": (self._labels, "A label for every board of every copy, as a PDF for sheets of stick-on labels", nothing),
            "Wood": (self._wood, "Which blank to saw from which board of the stock, as a PDF to print", nothing),
            "Cut list": (self._cut_list, "The boards of every item, as CSV for a spreadsheet", nothing),
            "Paper model": (self._paper_model, "The chosen item as two nets to cut and fold, with its leans as drawn here",
                            nothing),
        })
        self.times = widgets.Dropdown(options=[("as they are", 1.0), ("2 times as large", 2.0), ("3 times as large", 3.0)],
                                      description="Model's leans", style={"description_width": "98px"},
                                      layout={"width": "300px"})
        self.parts = {part: widgets.ToggleButton(part in USUAL, description=name, layout={"width": "112px"}, tooltip=tip)
                      for part, (name, tip) in _PARTS.items()}
        self.labels = {what: Field(f"The number of {what} on a label sheet", number, 1, most, "count", label=label)
                       for what, number, most, label in (("rows", 8, 40, "Label rows"), ("columns", 3, 10, "Columns"))}
        self.rows = [row(self.folder, self.file), row(self.paper, self.times, *self.labels.values()),
                     widgets.HTML("The bench set holds:"), row(*self.parts.values()), *self.foot]

    def _path(self, ending, plan):
        """Where a file of a plan goes, in a folder that is there or is made."""
        stem = file_stem(without_ending(self.file.value.strip(), ".json"), "plan")
        path, = self.place([open_folder(self.folder.value) / f"{stem}{ending}"], plan.name)
        return path

    def rename(self, before: str, after: str) -> None:
        """The file's name follows the plan's until it was changed by hand."""
        if before != after and self.file.value == file_stem(before, "plan"):
            self.file.value = file_stem(after, "plan")

    def _save(self):
        plan, _ = self._plan()
        path = self._path(".json", plan)
        save_plan(path, plan)
        self._keep(plan)
        return self.written([path], plan.name)

    def _open(self):
        folder, typed = open_folder(self.folder.value, make=False), self.file.value.strip()
        names = [f"{file_stem(without_ending(typed, '.json'), 'plan')}.json"]
        if typed == Path(typed).name:  # it may have been named elsewhere, by other rules
            names = [typed, f"{typed}.json", *names]
        path = next((folder / name for name in names if (folder / name).is_file()), None)
        if path is None:
            raise ValueError(f"There is no plan {names[-1]} in {folder}: look up its name and folder.")
        plan = load_plan(path)
        self._use(plan)
        self.note([path], plan.name)
        count = len(plan.items)
        return f"Opened {path}: {count} item{'s' * (count > 1)}."

    def _job_sheets(self):
        plan, _ = self._plan()
        path = self._path("-job.pdf", plan)
        self.say("Laying out the sheets …")
        save_job_sheets(path, plan, self.paper.value, progress=self.page)
        return self.written([path], plan.name)

    def _bench_set(self):
        plan, _ = self._plan()
        path = self._path("-bench-set.pdf", plan)
        self.say("Laying out the sheets …")
        chosen = tuple(part for part, button in self.parts.items() if button.value)
        if not chosen:
            raise ValueError("No part of the bench set is chosen: choose one at least.")
        save_bench_set(path, plan, self.paper.value, progress=self.page, parts=chosen,
                       labels=self._label_sheet() if "labels" in chosen else (8, 3))
        return self.written([path], plan.name)

    def _label_sheet(self):
        """(rows, columns) of a sheet of labels."""
        rows, columns = (field.read() for field in self.labels.values())
        return rows, columns

    def _labels(self):
        plan, _ = self._plan()
        path = self._path("-labels.pdf", plan)
        save_labels(path, plan, *self._label_sheet(), self.paper.value, progress=self.page)
        return self.written([path], plan.name)

    def _wood(self):
        plan, _ = self._plan()
        if not plan.stock:
            raise ValueError("The plan has no stock: type the boards that you have under Saw, chisels and stock, a line for "
                             "each size, such as 2400 × 140 × 12, 5.")
        path = self._path("-wood.pdf", plan)
        found = stock_plan(plan)
        save_stock_sheets(path, found, self.paper.value, plan.unit, self.page)
        return f"{self.written([path], plan.name)} {' '.join(found.words(plan.unit))}"

    def _cut_list(self):
        plan, _ = self._plan()
        path = self._path("-cut-list.csv", plan)
        lists = [(item.name, cut_list(item.box, item.quantity, plan.saw_tilts)) for item in plan.items]
        write_whole(path, cut_lists_csv(lists, plan.unit).encode("utf-8-sig"))  # the mark tells spreadsheets of ° and ²
        return self.written([path], plan.name)

    def _paper_model(self):
        plan, at = self._plan()
        path = self._path("-paper-model.pdf", plan)
        sheets = paper_model(plan.items[at].box, self.times.value, self.paper.value, plan.unit)
        return self.written(self.sheets(path, sheets, self.paper.value), plan.name)
