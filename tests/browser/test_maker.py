"""The maker's whole job in the panel, without a line of code: six drawers of two sizes, from openings to four printed pages.

What a person would type and press is typed and pressed here and counted. The time that a person takes isn't tested, but what it
follows from is: how many things there are to do. The clock of this run is printed (`-s`).
"""

import time

import lab
import nbformat
import pdfplumber
import pytest
from lab import until
from splaywork.box.opening import Clearances, FrontChoice, Opening
from splaywork.box.plan import Item, Plan, load_plan
from splaywork.box.runners import RunnerChoice

KERNEL = {"kernelspec": {"name": "python3", "display_name": "Python 3", "language": "python"}}
NAME = "Lockers along the hull"
TEN_MINUTES, EACH = 600, 15  # seconds: what there is, and what a person takes to find a field and fill it, at the slow end

LEANS = {"left_lean": 15, "right_lean": 15, "front_lean": 5}
USUAL = {"clearances": Clearances(floor=15), "front": FrontChoice("inset", 14), "runners": RunnerChoice(), "quantity": 3,
         "front_thickness": 15, "back_thickness": 9, "thickness": 12}
WANTED = [Item.for_opening(name, Opening(wide, 380, 170, **LEANS), **USUAL)
          for name, wide in (("wide drawer", 420), ("narrow drawer", 300))]


class Maker:
    """Somebody at the panel. `done` counts what was typed, chosen and pressed."""

    def __init__(self, notebook):
        self.page, self.done = notebook.page, 0
        self.root = notebook.page.locator(".splaywork-panel:has(> img.widget-image)")
        until(lambda: self.root.count() == 1, "the panel is there")
        self.quiet = lambda: until(notebook.is_quiet, "the kernel has answered", 60)

    def fold(self, title):
        """What is under a title, opened if it was shut."""
        folds = self.root.locator(".jupyter-widget-Collapse")
        fold = folds.filter(has=self.page.get_by_text(title, exact=True))
        if "jupyter-widget-Collapse-open" not in fold.get_attribute("class"):
            fold.locator(".jupyter-widget-Collapse-header").click()
            self.done += 1
        return fold

    def field(self, where, label):
        """The field of that label."""
        return where.locator(".widget-text").filter(has=self.page.get_by_text(label, exact=True)).first.locator("input")

    def type(self, where, label, text):
        """Type into the field of that label."""
        box = self.field(where, label)
        box.fill(text)
        box.press("Enter")
        self.done += 1
        self.quiet()

    def choose(self, where, label, option):
        """Choose from the list of that label."""
        field = where.locator(".widget-dropdown").filter(has=self.page.get_by_text(label, exact=True))
        field.locator("select").select_option(label=option)
        self.done += 1
        self.quiet()

    def press(self, where, name):
        where.get_by_role("button", name=name, exact=True).click()
        self.done += 1
        self.quiet()

    def said(self):
        """What the line under the files says, once it says where they are."""
        line = self.fold("Save, open and print").locator(".splaywork-act")
        return until(lambda: text if (text := line.text_content()).startswith(("Written into", "Opened")) else "",
                     "the file is written or opened", 120)


@pytest.fixture
def path(server):
    path = server.folder / "maker.ipynb"
    cells = [nbformat.v4.new_code_cell(source) for source in ("import splaywork as sw", "sw.box_panel()")]
    nbformat.write(nbformat.v4.new_notebook(cells=cells, metadata=KERNEL), path)
    yield path
    path.unlink()


def opened(browser, server, path):
    notebook = lab.Notebook(browser, server, path.name)
    notebook.run_all()
    return notebook, Maker(notebook)


def plan_the_wide_drawer(maker):
    items = maker.fold("Items of the plan")
    maker.type(items, "Plan", NAME)
    maker.type(items, "Name", "wide drawer")
    maker.type(items, "Quantity", "3")
    boards = maker.fold("Boards, joints and blanks")
    maker.type(boards, "Front", "15")
    maker.type(boards, "Back", "9")
    opening = maker.fold("A drawer for an opening")
    for label, text in (("Floor width", "420"), ("Depth", "380"), ("Height", "170"), ("Left lean", "15"), ("Right lean", "15"),
                        ("Front lean", "5"), ("At the floor", "15"), ("Thickness", "14")):
        maker.type(opening, label, text)
    maker.choose(opening, "Show front", "inset")
    maker.choose(opening, "The drawer", "runs on runners")
    maker.press(opening, "Fit the drawer")


def plan_the_narrow_drawer(maker):
    items = maker.fold("Items of the plan")
    maker.press(items, "Add a copy")
    # the page hears of the copy a moment after the kernel has answered: a name typed before would be overwritten
    until(lambda: maker.field(items, "Name").input_value() == "wide drawer (2)", "the copy is the item shown")
    maker.type(items, "Name", "narrow drawer")
    opening = maker.fold("A drawer for an opening")
    maker.type(opening, "Floor width", "300")
    maker.press(opening, "Fit the drawer")


def test_six_drawers_are_planned_saved_opened_and_printed_without_code(browser, server, path):
    began = time.monotonic()
    notebook, maker = opened(browser, server, path)
    plan_the_wide_drawer(maker)
    plan_the_narrow_drawer(maker)
    maker.press(maker.fold("Save, open and print"), "Save plan")
    written = maker.said()
    done = maker.done
    notebook.close()
    server.shut_kernels()  # the second day

    notebook, maker = opened(browser, server, path)
    files = maker.fold("Save, open and print")
    maker.type(files, "File name", NAME)
    maker.press(files, "Open plan")
    assert "2 items" in maker.said()
    maker.press(files, "Job sheets")
    until(lambda: "job.pdf" in maker.said(), "the sheets are written", 120)
    done += maker.done
    print(f"\n{done} things typed, chosen and pressed; {time.monotonic() - began:.0f} s by the clock of this run")
    notebook.close()
    server.shut_kernels()
    server.new_errors()  # what a kernel says when it is taken away is no error of ours

    folder = server.folder / "out"
    names = [path.name for path in folder.glob("*.json") if path.name in written]  # other tests save into this folder, too
    (saved,) = [folder / name for name in names]
    plan = load_plan(saved)
    assert plan == Plan(NAME, tuple(WANTED)), plan
    printed = saved.with_name(f"{saved.stem}-job.pdf")
    with pdfplumber.open(printed) as file:
        assert len(file.pages) == 2 + len(plan.items) == 4
        texts = [page.extract_text() for page in file.pages]
    assert "Make 6: 24 boards, 48 rims to rip, 48 ends to saw" in texts[0]
    assert "1 wide drawer: make 3" in texts[2] and "2 narrow drawer: make 3" in texts[3]
    assert all("Show front: inset" in text and "Runners" in text for text in texts[2:])
    assert done * EACH <= TEN_MINUTES
    assert not notebook.troubles
