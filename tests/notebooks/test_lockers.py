"""The drawers of notebook 10: what other pages say of their corners, and the steps that make the panel's plan one's own."""

import re
from functools import cache
from html import unescape

import nbformat
from places import NOTEBOOKS
from splaywork import Opening, box_panel
from splaywork.box import plan_part
from splaywork.box.plan import Item, Plan, load_plan
from splaywork.common.reading import read_angle
from splaywork.one_gauge.one_gauge import SETTING_LIMIT, OneGauge
from widget_tree import within

DRAWERS = "10_build_the_whole_box"


@cache
def cells_of(stem):
    return nbformat.read(NOTEBOOKS / f"{stem}.ipynb", as_version=4).cells


def made_by(stem, *starts):
    """What the code cells of a page leave behind, run in order: those in which one of these texts stands."""
    found = {}
    cells = [cell.source for cell in cells_of(stem) if cell.cell_type == "code"
             and any(start in cell.source for start in ("import splaywork", *starts))]
    assert len(cells) == len(starts) + 1
    for source in cells:
        exec(source, found)
    return found


@cache
def plan_of_the_page():
    return made_by(DRAWERS, "wide = sw.Opening", "plan, drawer")["plan"]


def test_08_judges_the_front_corner_of_the_drawers_of_10():
    joint = made_by("08_how_good_is_good_enough", "drawer.corners")["joint"]
    fronts = [item.box.corners[f"front {side}"].joint for item in plan_of_the_page().items for side in ("left", "right")]
    assert {(each.corner, each.slant_width) for each in fronts} == {(joint.corner, joint.slant_width)} and len(fronts) == 4
    shortcut = OneGauge(joint.corner)
    gap = max(shortcut.gap_over(joint.slant_width, board) for board in ("tail", "pin"))
    answer = next(cell.source for cell in cells_of("08_how_good_is_good_enough") if "So for ordinary work" in cell.source)
    assert "for ordinary work the answer is no" in answer and "0.50 mm, for rough work, the answer is yes" in answer
    assert 0.2 < gap <= 0.5
    assert "less than the quarter of a degree" in " ".join(answer.split()) and 0 < shortcut.tail_error < SETTING_LIMIT == 0.25


def test_the_joints_of_the_drawers_are_those_of_the_pages_that_10_names():
    lockers = next(cell.source for cell in cells_of(DRAWERS) if "## The lockers" in cell.source)
    assert re.search(r"front corners both boards lean.*\[notebook 09\].*back corners only the side\s+leans.*\[notebook 02\]",
                     lockers, re.DOTALL)
    for item in plan_of_the_page().items:
        box = item.box
        assert box.tails_on == "sides" and box.joint.end == "flush"
        for name, corner in box.corners.items():
            leans = corner.joint.corner.tail_lean != 0, corner.joint.corner.pin_lean != 0
            assert leans == (True, name.startswith("front")), name


def test_the_bottoms_to_try_grow_or_are_refused_as_the_page_says():
    tried = next(cell.source for cell in cells_of(DRAWERS) if "under **Made of**" in cell.source)
    grows, slid, too_far = re.findall(r"Choose \*([^*]+)\*", tried)
    panel = box_panel(plan_of_the_page())
    panel.dials["height"].field.value = "80"  # as the line before leaves the drawer
    panel.folds["boards"].selected_index = 0
    panel.bottom_wood.value = grows
    assert re.search(r"the bottom grows \S+ mm .*groove, and half in the back", unescape(panel.bottom_said.value))
    captured = panel.image.value
    panel.bottom_kind.value = slid
    assert "rip the back's lower edge off" in unescape(panel.bottom_said.value) and panel.image.value != captured
    panel.bottom_wood.value = too_far
    assert re.search(r"would move \S+ mm here, too much.*: take ", unescape(panel.bottom_said.value))


MINE = {"Plan": ["Bow lockers"], "Name": ["by the mast", "under the step"], "Quantity": ["2", "1"], "Item": [1],
        "Thickness": ["11"], "Front": ["16"], "Back": ["8"], "Floor width": ["350", "280"], "Depth": ["400", "360"],
        "Height": ["160", "150"], "File name": ["Bow lockers"]}
LEANS = {"Left lean": ["40:150", "12"], "Right lean": ["14", "40:150"], "Front lean": ["6", "4"], "Back lean": ["0", "2"]}
CAN_BE_TYPED = re.compile(r"`(\d+:\d+)`")


class Reader:
    """Somebody who does with the panel what the steps name in bold, in the steps' order."""

    def __init__(self, panel):
        self.panel, self.fold, self.left = panel, None, {name: list(texts) for name, texts in (MINE | LEANS).items()}

    def named(self, name):
        """The widget of that name: in the part that was unfolded last, else anywhere on the panel."""
        for place in filter(None, (self.fold, self.panel)):
            for widget in within(place):
                if getattr(widget, "description", "") == name:
                    return widget
        raise AssertionError(f"The panel has no {name}.")

    def do(self, name):
        for fold in self.panel.folds.values():
            if name in fold.titles:
                self.fold = fold
                fold.selected_index = 0
                return
        widget = self.named(name)
        if hasattr(widget, "click"):
            widget.click()
        else:
            widget.value = self.left[name].pop(0)


def test_the_steps_for_your_own_openings_work_as_they_are_written(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    section = next(cell.source for cell in cells_of(DRAWERS) if cell.source.startswith("## Now your own openings"))
    steps = re.split(r"^\d\. ", section, flags=re.MULTILINE)[1:]
    assert len(steps) == 6 and CAN_BE_TYPED.search(steps[3])[1] == LEANS["Left lean"][0]
    panel = box_panel(plan_of_the_page())
    reader = Reader(panel)

    def follow(step):
        for name in re.findall(r"\*\*([^*]+)\*\*", step):
            if name == "Fit the drawer":
                for lean in LEANS:  # "the four leans"
                    reader.do(lean)
            reader.do(name)

    for sheets in ("save_job_sheets", "save_bench_set"):  # whose pages other tests read
        monkeypatch.setattr(plan_part, sheets, lambda path, *_, **__: path.touch())
    panel.dials["front_lean"].value = 9.0  # what somebody tried, and **Reset** takes back
    for step in steps[:4]:
        follow(step)
    assert "slides in" in panel.opening.words.value
    follow(steps[4])
    reader.do("Name")
    reader.do("Quantity")
    follow(steps[3])
    planned = panel.plan
    follow(steps[5])
    assert not any(reader.left.values()) and panel.plan == planned
    written = {path.name: path for path in (tmp_path / "out").iterdir()}
    assert load_plan(written["Bow-lockers.json"]) == planned
    example = plan_of_the_page().items[0]
    usual = {"clearances": example.clearances, "front": example.front, "runners": example.runners, "thickness": 11,
             "front_thickness": 16, "back_thickness": 8}
    leans = [{name.lower().replace(" ", "_"): read_angle(texts[at], -75, 75, name) for name, texts in LEANS.items()}
             for at in (0, 1)]
    assert planned == Plan("Bow lockers", [
        Item.for_opening("by the mast", Opening(350, 400, 160, **leans[0]), quantity=2, **usual),
        Item.for_opening("under the step", Opening(280, 360, 150, **leans[1]), quantity=1, **usual)])
    assert len(written) == 3 and {path.suffix for path in written.values()} == {".json", ".pdf"}

