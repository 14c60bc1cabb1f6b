"""The instructor's guide: its minutes add up, what it says to set is there to be set, and 07 shows what its script says."""

import re
from functools import cache
from html import unescape

import ipywidgets as widgets
import nbformat
import pytest
from places import NOTEBOOKS
from splaywork import gauge_map_panel, one_gauge_panel
from splaywork.widgets.controls import Dial
from twins import twins_of, within

STRUCTURE = {"Props:", "Wrong ideas, and what upsets them.", "Ask:"}
LESSONS = [f"{number:02}" for number in range(10)]


@cache
def section(lesson):
    """A lesson's part of the guide, as markdown."""
    guide = nbformat.read(NOTEBOOKS / "instructor" / "guide.ipynb", as_version=4)
    text = "\n".join(cell.source for cell in guide.cells if cell.cell_type == "markdown")
    return re.search(rf"^## {lesson} .*?(?=^## |\Z)", text, re.MULTILINE | re.DOTALL)[0]


@cache
def panels_of(lesson):
    """The panels that a lesson's notebook shows."""
    path, = NOTEBOOKS.glob(f"{lesson}_*.ipynb")
    return [panel for panel in twins_of(path, widgets.Widget) if "exercise" not in type(panel).__name__.lower()]


def names_on(lesson):
    """What stands on its sliders, buttons, lists and folded parts."""
    names = set()
    for widget in (each for panel in panels_of(lesson) for each in within(panel)):
        names.add(getattr(widget, "description", ""))
        names |= set(getattr(widget, "titles", ()))
        names |= {option[0] if isinstance(option, tuple) else option for option in getattr(widget, "options", ())}
    return names


@pytest.mark.parametrize("lesson", LESSONS)
def test_minutes_rise_and_keep_to_the_lesson(lesson):
    rows = re.findall(r"^\| (\d+|–) \| (\d+|–) \| .+ \|$", section(lesson), re.MULTILINE)[1:]  # the first names the columns
    for column, most in ((0, 20), (1, 45)):
        marks = [int(row[column]) for row in rows if row[column] != "–"]
        assert marks[0] == 0 and marks == sorted(set(marks)) and most - 7 < marks[-1] < most
    assert len(rows) >= 6 and all(row[1] != "–" for row in rows) and any(row[0] == "–" for row in rows)
    assert all(f"**{part}" in section(lesson) for part in STRUCTURE)


@pytest.mark.parametrize("lesson", LESSONS)
def test_what_it_names_stands_on_the_panels(lesson):
    named = set(re.findall(r"\*\*([^*]+)\*\*", section(lesson))) - STRUCTURE
    assert named <= names_on(lesson)
    assert named or lesson == "00"  # which has no panel


@pytest.mark.parametrize("lesson", LESSONS[1:])
def test_every_setting_can_be_typed(lesson):
    number = r"−?\d+(?:\.\d+)?"
    settings = re.findall(rf"\*\*([^*]+)\*\* ({number}(?:,(?: then)? {number})*)", section(lesson))
    assert settings or lesson == "11"
    for name, texts in settings:
        for text in re.findall(number, texts):
            taken = []
            for panel in panels_of(lesson):
                for dial in (each for each in within(panel) if isinstance(each, Dial) and each.name == name):
                    dial.field.value = text
                    taken.append(not dial.slider.disabled and not panel.message.value
                                 and dial.value == pytest.approx(float(text.replace("−", "-"))))
            assert any(taken), f"{lesson}: {name} {text}"


class TestTheScriptOf05:
    """Its settings on the panels themselves; what is said must be what the script says that the room will see."""

    @staticmethod
    def said(panel):
        return unescape(panel.sentence.value)

    def test_hold_the_leans(self):
        panel = one_gauge_panel("hold the leans")
        gaps = {}
        for name in ("strong", "slight"):
            panel.named[name].click()
            assert self.said(panel).count("touches at the top and gapes") == 2
            gaps[name] = [float(gap) for gap in re.findall(r"gapes (\S+) mm at the bottom", self.said(panel))]
        assert len(gaps["strong"]) == 2 and min(gaps["strong"]) > 5  # seen from the back of a room
        assert max(gaps["slight"]) < 0.2  # and not without a lens

    def test_close_the_corners(self):
        panel = one_gauge_panel("close the corners")
        panel.named["strong"].click()
        assert "another box" in self.said(panel)
        (made, asked), *_ = re.findall(r"lean (\S+)° instead of (\S+)°", self.said(panel))
        assert float(made) > float(asked)
        panel.alike.value = True
        heights = []
        for lean in range(10, 45, 10):
            panel.dials["tail_lean"].field.value = str(lean)
            heights.append(float(re.search(r"stands (\S+) mm high", self.said(panel))[1]))
        drops = [before - after for before, after in zip([120, *heights], heights, strict=False)]
        assert drops == sorted(drops) and drops[0] > 0  # it sinks faster and faster
        panel.dials["tail_lean"].field.value = "45"
        assert "lie flat" in self.said(panel)

    def test_go_round(self):
        panel = one_gauge_panel("go round")
        panel.named["strong"].click()
        left = []
        for corners in range(1, 5):
            panel.dials["corners"].field.value = str(corners)
            left.append([float(number) for number in re.findall(r"(\d+\.\d+)(?: mm|° from)", self.said(panel))])
        assert all(len(numbers) == 2 for numbers in left)
        assert all(sorted(set(column)) == list(column) for column in zip(*map(sorted, left), strict=True))

    def test_wind_the_sides(self):
        panel = one_gauge_panel("wind the sides")
        panel.named["moderate"].click()
        front, back = re.search(r"want the sides at (\S+)°, the back corners at (\S+)°", self.said(panel)).groups()
        assert float(front) > float(back)

    def test_the_map(self):
        panel = gauge_map_panel()
        for name, text in (("tail_lean", "40"), ("pin_lean", "0")):
            panel.dials[name].field.value = text
        assert "exact" in self.said(panel)
        panel.dials["pin_lean"].field.value = "1"
        assert "not good enough" in self.said(panel)
