"""What every panel owes to the kit: switches that redraw, Reset, units, and what a notebook's file keeps of it."""

from base64 import b64decode
from contextlib import suppress
from html import unescape
from io import BytesIO

import ipywidgets as widgets
import pytest
import splaywork
from PIL import Image
from splaywork import Corner, Joint, exercise_panel, handout_panel, trial_sheet_panel, write_up_panel
from splaywork.widgets import controls
from splaywork.widgets.access import REOPENED
from splaywork.widgets.controls import Dial, Panel, Switch
from widget_tree import within

PANELS = [("corner_panel", ()), ("projection_panel", ()), ("gauge_map_panel", ()), ("setting_errors_panel", ()),
          ("trial_faults_panel", ()), ("trial_corner_panel", (10.9, 15.2)), ("joint_panel", ()), ("box_panel", ()),
          *(("one_gauge_panel", (name,)) for name in ("hold the leans", "close the corners", "go round", "wind the sides",
                                                      "level lines"))]


PLAIN = {"class_corner_panel", "class_papers_panel", "exercise_panel", "handout_panel", "lesson_panel", "script_panel",
         "tally_panel", "trial_sheet_panel", "write_up_panel"}  # they have no picture
NO_PANEL = {"bottom_panel"}  # the bottom of a box


def test_no_panel_of_the_front_door_is_left_out():
    public = {name for name in splaywork.__all__ if name.endswith("_panel")}
    assert public == {name for name, _ in PANELS} | PLAIN | NO_PANEL


@pytest.fixture(scope="module", params=PANELS, ids=lambda made: "-".join([made[0], *map(str, made[1])]))
def panel(request):
    name, given = request.param
    return getattr(splaywork, name)(*given)


def state(panel):
    return (bytes(panel.image.value), panel.sentence.value, {name: dial.value for name, dial in panel.dials.items()},
            {name: dial.field.value for name, dial in panel.dials.items()})


def others(switch):
    """Every other value that a switch or a list can take."""
    if isinstance(switch, (widgets.ToggleButton, widgets.Checkbox)):
        return [not switch.value]
    values = [option[1] if isinstance(option, tuple) else option for option in switch.options]
    return [value for value in values if value != switch.value]


def test_each_switch_redraws_and_reset_puts_all_back(panel):
    panel.start_again.click()
    before, drawn, draw = state(panel), [], panel.draw
    panel.draw = lambda: drawn.append(1) or draw()
    try:
        for name, switch in panel.switches.items():
            for value in others(switch):
                count = len(drawn)
                switch.value = value
                assert len(drawn) > count, name
                panel.start_again.click()
                assert state(panel) == before, name
    finally:
        del panel.draw
    shown = {widget for widget in within(panel) if isinstance(widget, Switch)}
    assert type(panel).__name__ == "BoxPanel" or shown <= set(panel.switches.values())


def test_each_dial_moves_the_picture(panel):
    """One step up, or down at the end, in each picture that a kind of panel has: the browser tries a dial in one of them."""
    moved = 0
    for name, dial in panel.dials.items():
        panel.start_again.click()
        if dial.slider.disabled:
            continue
        before = bytes(panel.image.value)
        at, step = dial.value, dial.slider.step
        dial.slider.value = at + step if at + step <= dial.slider.max else at - step
        moved += 1
        assert panel.message.value == "" and bytes(panel.image.value) != before, name
    panel.start_again.click()
    assert moved >= 2


@pytest.mark.parametrize("end", ["min", "max"])
def test_drawn_again_the_picture_is_the_same(panel, end):
    """What a picture shows depends on the dials alone, not on what was shown before."""
    panel.start_again.click()
    again = getattr(panel, "fit_anew", panel.redraw)
    for dial in panel.dials.values():
        with suppress(ValueError):  # where two dials' ends don't go together
            dial.put(getattr(dial.slider, end))
    drawn = []
    for _ in range(3):
        again()
        drawn.append(bytes(panel.image.value))
    panel.start_again.click()
    assert len(set(drawn)) == 1 and len(drawn[0]) > 1000


def test_reset_draws_once(panel):
    for dial in panel.dials.values():
        dial.put(dial.slider.max if dial.value != dial.slider.max else dial.slider.min)
    drawn, draw = [], panel.draw
    panel.draw = lambda: drawn.append(1) or draw()
    try:
        panel.start_again.click()
    finally:
        del panel.draw
    assert len(drawn) == 1
    assert panel.message.value == ""


def test_reset_by_code_does_what_the_button_does(panel):
    panel.start_again.click()
    before = state(panel)
    dial = next(dial for dial in panel.dials.values() if not dial.slider.disabled)
    dial.slider.value += dial.slider.step
    assert state(panel) != before
    panel.reset()
    assert state(panel) == before and panel.message.value == ""


def test_the_unit_is_that_of_every_length(panel):
    if "unit" not in panel.switches:
        pytest.skip("it has no lengths, or keeps their unit in its plan")
    panel.unit.value = "in"
    lengths = [dial for dial in panel.dials.values() if dial.kind == "length"]
    assert all(" in" in dial.field.value or dial.unit == "in" for dial in lengths)
    panel.start_again.click()
    assert all(dial.unit == "mm" for dial in lengths)


class Switched(Panel):
    """A panel with nothing of its own but a switch in a dict."""

    def __init__(self):
        self.end = Switch([("flush", "flush"), ("square", "square")], ["to the bevel", "to the face"])
        super().__init__({"lean": Dial("Lean", 5.0, -45, 45, 0.5)}, [self.end], [], 10, 10, {"end": self.end})

    def draw(self):
        return f"{self.end.value} {self.dials['lean'].value:g}".encode(), "Drawn."


def test_a_switch_in_a_dict_is_all_that_a_panel_needs():
    panel = Switched()
    panel.end.value, panel.dials["lean"].value = "square", 7.0
    assert panel.image.value == b"square 7"
    panel.reset()
    assert panel.image.value == b"flush 5"


# What a notebook's file keeps


def kept(panel, monkeypatch):
    shown = []
    monkeypatch.setattr(controls, "display", lambda data, metadata=None, raw=False: shown.append((data, metadata)))
    panel._ipython_display_()
    return shown


def test_its_picture_and_its_sentence_are_kept_beside_it(panel, monkeypatch):
    panel.start_again.click()
    (style, _), (picture, metadata), (view, _) = kept(panel, monkeypatch)
    assert style == {"text/html": REOPENED, "text/plain": ""}
    with Image.open(BytesIO(b64decode(picture["image/png"]))) as image:
        assert image.format == "PNG" and image.size == (int(panel.image.width), int(panel.image.height))
    words = panel.stored()[1]  # of a moving picture, those of all its frames
    assert type(panel).stored is not Panel.stored or words == unescape(panel.sentence.value)
    assert picture["text/plain"] == metadata["image/png"]["alt"] == words and words.endswith(".")
    assert view["text/plain"] == panel.instead and "application/vnd.jupyter.widget-view+json" in view


@pytest.mark.parametrize("make", [lambda: exercise_panel("04"), handout_panel, write_up_panel,
                                  lambda: trial_sheet_panel(Joint(Corner(30, 30), 100, 18))])
def test_a_panel_without_a_picture_keeps_a_plain_sentence(make, monkeypatch):
    panel = make()
    (style, _), (view, _) = kept(panel, monkeypatch)
    assert style["text/html"] == REOPENED and view["text/plain"] == panel.instead


def test_for_a_room_the_sentence_ends_within_two_lines_and_comes_back(panel):
    panel.start_again.click()
    whole = unescape(panel.sentence.value)
    panel.present()
    said = unescape(panel.sentence.value)
    panel.present(False)
    assert whole.startswith(said) and said[-1] in ".!?" and (whole == said or whole[len(said)] == " ")
    assert len(said) <= controls.ROOM or not controls.re.search(r"[.!?] [A-Z]", said)
    assert unescape(panel.sentence.value) == whole
