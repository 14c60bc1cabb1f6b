"""The corner panel without a browser: sliders, boxes, what they refuse, and threads that all want to draw."""

from html import unescape
from io import BytesIO
from threading import Event, Lock, Thread, get_ident
from time import sleep

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image
from splaywork import Corner, corner_panel
from splaywork.common.printing import DECIMAL, degrees, intended, length
from splaywork.corner.words import corner_words, how_far_off
from splaywork.widgets import controls
from splaywork.widgets.controls import Dial, Latest, Panel

ANGLES = ("tail_lean", "pin_lean", "plan_angle", "turn", "tilt")
LENGTHS = ("height", "thickness")
DIALS = (*ANGLES, *LENGTHS)


@pytest.fixture(scope="module")
def shared():
    return corner_panel()


@pytest.fixture
def panel(shared):
    """A panel as it opens; one is made for all tests, and put back by its own button."""
    shared.start_again.click()
    return shared


def picture(panel):
    return bytes(panel.image.value)


def values(panel):
    return {name: dial.value for name, dial in panel.dials.items()}


def artists(panel):
    return panel.picture.canvas.artist_count()


def corner_of(panel):
    at = values(panel)
    return Corner(at["tail_lean"], at["pin_lean"], at["plan_angle"])


def assert_good(panel):
    """The picture is whole, the sentence fits the sliders, nothing is complained about, the boxes say the values."""
    assert panel.message.value == ""
    assert unescape(panel.sentence.value) == corner_words(corner_of(panel))
    with Image.open(BytesIO(picture(panel))) as image:
        image.load()
        assert image.size == (int(panel.image.width), int(panel.image.height)) == (920, 430)
    for dial in panel.dials.values():
        assert dial.field.value == (degrees(dial.value) if dial.kind == "angle" else length(dial.value, dial.unit))


# Sliders


@pytest.mark.parametrize("name", DIALS)
def test_a_slider_changes_the_picture_and_adds_no_artist(panel, name):
    before, sentence, count = picture(panel), panel.sentence.value, artists(panel)
    slider = panel.dials[name].slider
    for value in (slider.min, slider.max, slider.value):
        slider.value = value
        assert_good(panel)
    slider.value = (slider.value + slider.min) / 2
    assert picture(panel) != before
    assert (panel.sentence.value != sentence) == (name in ("tail_lean", "pin_lean", "plan_angle"))
    assert artists(panel) == count


def test_every_mix_of_both_ends_is_drawn(panel):
    count, seen = artists(panel), set()
    for name in DIALS:
        panel.dials[name].slider.value = panel.dials[name].slider.min
    for step in range(1, 2 ** len(DIALS)):  # one slider at a time, through every mix
        moved = DIALS[(step & -step).bit_length() - 1]
        slider = panel.dials[moved].slider
        slider.value = slider.min + slider.max - slider.value
        seen.add(tuple(values(panel).values()))
        assert_good(panel)
    assert len(seen) == 2 ** len(DIALS) - 1
    assert artists(panel) == count


@given(tail=st.floats(-45, 45), pin=st.floats(-45, 45), plan=st.floats(60, 135))
def test_the_sentence_gives_the_corners_numbers(shared, tail, pin, plan):
    for name, value in (("tail_lean", tail), ("pin_lean", pin), ("plan_angle", plan)):
        shared.dials[name].value = value
    corner, words = Corner(tail, pin, plan), unescape(shared.sentence.value)
    assert words == corner_words(corner)
    for end_line, struck in ((corner.tail_end_line, pin), (corner.pin_end_line, tail)):
        assert abs(end_line) < 0.005 or f"{degrees(end_line)} from square" in words
        miss = how_far_off(end_line, struck)
        assert miss in words
    for lean in (tail, pin):
        assert intended(abs(lean)) in words or "upright" in words


def test_the_same_values_draw_the_same_picture(panel):
    before = picture(panel)
    for name in DIALS:
        panel.dials[name].value += 3
    assert picture(panel) != before
    for name in DIALS:
        panel.dials[name].value -= 3
    assert picture(panel) == before


def test_the_angles_that_are_printed_are_those_of_a_known_corner(panel):
    # a = b = 30 at a square plan: the tangent of either end line is 1/2 (geometry: tan x = tan q cos p)
    panel.dials["tail_lean"].value = panel.dials["pin_lean"].value = 30
    said = unescape(panel.sentence.value)
    assert "Both end lines are 26.6° from square." in said


# Boxes


@pytest.mark.parametrize(("name", "text", "value", "shown"), [
    ("tail_lean", "1:8", 7.125016348901798, "7.1°"), ("pin_lean", "12°30'", 12.5, "12.5°"),
    ("tail_lean", "-1 in 4", -14.036243467926479, "−14.0°"), ("pin_lean", "−20", -20, "−20.0°"),
    ("plan_angle", "112 1/2", 112.5, "112.5°"), ("height", "3 1/8 in", 79.375, "79.4 mm"),
    ("height", "9 cm", 90, "90.0 mm"), ("thickness", '3/4"', 19.05, "19.1 mm"), ("thickness", "20", 20, "20.0 mm"),
    ("turn", "-90", -90, "−90.0°"), ("tilt", "60 deg", 60, "60.0°"),
])
def test_a_box_takes_what_measure_reads(panel, name, text, value, shown):
    before = picture(panel)
    panel.dials[name].field.value = text
    assert panel.dials[name].value == pytest.approx(value, abs=1e-12)
    assert panel.dials[name].field.value == shown
    assert picture(panel) != before
    assert_good(panel)


def test_the_browsers_echo_does_not_round_what_was_typed(panel):
    """A browser keeps handles on whole steps and sends back where it put them, now and then off in the last digit."""
    dial = panel.dials["tail_lean"]
    dial.field.value = "1:8"
    before = picture(panel)
    for echo in (7.0, 7.000000000000028, 6.999999999999986):
        dial.slider.value = echo
    assert dial.value == pytest.approx(7.125016348901798, abs=1e-12)
    assert picture(panel) == before
    dial.slider.value = 7.499999999999986
    assert dial.value == 7.5
    assert_good(panel)


HOSTILE = "<img src=x onerror=alert(1)>"
BAD = ["", " ", "abc", "1e3", "1,234,5", "1/8", "1000", "−1000", "nan", "__import__('os')", HOSTILE,
       "</b><script>1</script>", "5 & 6", "12°75'", "3 1/8 in 14°", "9" * 80]


@pytest.mark.parametrize("text", BAD)
@pytest.mark.parametrize("name", DIALS)
def test_a_box_refuses_in_one_sentence_and_nothing_changes(panel, name, text):
    before = picture(panel), panel.sentence.value, values(panel)
    panel.dials[name].field.value = text
    assert (picture(panel), panel.sentence.value, values(panel)) == before
    message = panel.message.value
    assert message.startswith("<b>") and message.endswith(".</b>")
    sentence = message[3:-4]
    assert not set("<>\"'") & set(sentence)
    assert unescape(sentence).startswith(panel.dials[name].name)
    assert ". " not in sentence and "\n" not in sentence


def test_a_good_value_after_a_bad_one_clears_the_complaint(panel):
    box = panel.dials["tail_lean"].field
    for mended in ("15", "14.0°", "14"):  # another value, the text that stood there, the value that stood there
        panel.start_again.click()
        box.value = "abc"
        assert panel.message.value and box.value == "abc"
        box.value = mended
        assert_good(panel)


def test_a_move_of_another_slider_clears_the_complaint_and_the_text_it_was_about(panel):
    panel.dials["tail_lean"].field.value = "abc"
    panel.dials["pin_lean"].slider.value = 9
    assert panel.dials["tail_lean"].field.value == "14.0°"
    assert_good(panel)


def test_the_unit_switch_changes_lengths_and_rises_but_no_value(panel):
    before, at, sentence = picture(panel), values(panel), panel.sentence.value
    panel.unit.value = "in"
    assert panel.dials["height"].field.value == length(120, "in") == "4 23/32 in"
    assert panel.dials["tail_lean"].field.value == "14.0°"
    assert (values(panel), panel.sentence.value) == (at, sentence)
    assert picture(panel) != before
    panel.dials["height"].field.value = "5"  # a bare number is in the unit that is shown
    assert panel.dials["height"].value == 127
    panel.dials["thickness"].field.value = "3 in"
    assert "37/64 in" in panel.message.value  # the limits are told in inches
    panel.dials["height"].value = 120
    panel.unit.value = "mm"
    assert picture(panel) == before
    assert_good(panel)


def test_decimal_inches_change_lengths_and_no_value(panel):
    before, at = picture(panel), values(panel)
    panel.unit.value = DECIMAL
    assert panel.dials["height"].field.value == "4.724 in" and values(panel) == at and picture(panel) != before
    panel.dials["height"].field.value = "5.25"
    assert panel.dials["height"].value == 133.35 and panel.dials["height"].field.value == "5.250 in"
    panel.start_again.click()
    assert picture(panel) == before


def test_reset_puts_everything_back(panel):
    before, at = picture(panel), values(panel)
    panel.unit.value = "in"
    for name in DIALS:
        panel.dials[name].value += 2
    panel.dials["height"].field.value = "abc"
    panel.start_again.click()
    assert (picture(panel), values(panel), panel.unit.value) == (before, at, "mm")
    assert_good(panel)


# The panel as a whole


@pytest.mark.parametrize("locked", [(), ("pin_lean",), "tail_lean", ["tail_lean", "pin_lean", "plan_angle"]])
def test_locked_sliders_and_their_boxes_do_not_move(locked):
    panel = corner_panel(tail_lean=3, pin_lean="1:6", locked=locked)
    assert values(panel)["tail_lean"] == 3 and values(panel)["pin_lean"] == pytest.approx(9.4623, abs=1e-4)
    for name, dial in panel.dials.items():
        held = name == locked or name in tuple(locked)
        assert dial.slider.disabled == dial.field.disabled == held
    assert_good(panel)


@pytest.mark.parametrize(("arguments", "words"), [
    ({"tail_lean": 46}, "Tail lean must be between −45° and 45°"), ({"pin_lean": -45.5}, "Pin lean"),
    ({"tail_lean": float("nan")}, "Tail lean"), ({"pin_lean": float("inf")}, "Pin lean"),
    ({"pin_lean": None}, "Pin lean"), ({"tail_lean": HOSTILE}, "Tail lean"), ({"tail_lean": [1, 2]}, "Tail lean"),
    ({"locked": ("height",)}, "no slider 'height' to lock; it has tail_lean, pin_lean, plan_angle"),
    ({"locked": "tilt"}, "no slider 'tilt'"), ({"locked": (3, HOSTILE)}, "no slider 3"),
    ({"locked": [[]]}, "no slider []"),
])
def test_a_panel_that_cannot_be_says_why_in_one_sentence(arguments, words):
    with pytest.raises(ValueError) as caught:
        corner_panel(**arguments)
    sentence = str(caught.value)
    assert words in sentence and sentence.endswith(".") and ". " not in sentence


def test_every_box_is_labelled_and_the_page_keeps_words(panel):
    for dial in panel.dials.values():
        assert dial.field.description == dial.name
    assert panel._repr_mimebundle_()["text/plain"] == "Run this cell, and sliders appear here."


class Stubborn(Panel):
    """A panel whose drawing refuses some values, in words that would do harm as HTML."""

    def __init__(self):
        super().__init__({"lean": Dial("Lean", 5.0, -45, 45, 0.5)}, [], [], 10, 10)

    def draw(self):
        lean = self.dials["lean"].value
        if lean > 20:
            raise ValueError(f"{HOSTILE} can't lean {lean:g}°.")
        return b"picture %g" % lean, f"Leaning {lean:g}° & {HOSTILE}"


def test_when_a_corner_cannot_be_drawn_the_last_picture_stays():
    panel = Stubborn()
    panel.dials["lean"].slider.value = 10
    good = panel.image.value, panel.sentence.value
    assert good[0] == b"picture 10"
    panel.dials["lean"].slider.value = 30
    assert (panel.image.value, panel.sentence.value) == good
    assert unescape(panel.message.value) == f"<b>{HOSTILE} can't lean 30°.</b>"
    for html in (panel.message.value[3:-4], panel.sentence.value):
        assert "<" not in html and "&lt;img" in html
    panel.dials["lean"].slider.value = 11
    assert panel.image.value == b"picture 11" and panel.message.value == ""


# Threads


def together(*tasks):
    threads = [Thread(target=task) for task in tasks]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(30)
    assert not any(thread.is_alive() for thread in threads)


def test_the_newest_value_is_drawn_and_never_two_at_once():
    drawing, drawn, overlaps, wanted, numbers = Lock(), [], [], [0], Lock()

    def draw():
        if not drawing.acquire(blocking=False):
            overlaps.append(get_ident())
            return
        value = wanted[0]
        sleep(0.0005)  # lets the others in
        drawn.append(value)
        drawing.release()

    latest = Latest(draw)

    def hammer():
        for _ in range(150):
            with numbers:
                wanted[0] += 1
            latest()

    together(*[hammer] * 8)
    assert wanted == [1200] and drawn[-1] == 1200
    assert not overlaps
    assert len(drawn) < 1200  # what was overtaken is not drawn
    assert drawn == sorted(drawn)


def test_a_value_that_comes_while_another_is_drawn_is_drawn_next():
    started, go_on, drawn, wanted = Event(), Event(), [], [1]

    def draw():
        drawn.append(wanted[0])
        started.set()
        assert go_on.wait(30)

    latest = Latest(draw)
    first = Thread(target=latest)
    first.start()
    assert started.wait(30)
    for wanted[0] in (2, 3):
        latest()  # comes back at once: the lock is taken
    assert drawn == [1]
    go_on.set()
    first.join(30)
    assert drawn == [1, 3]


def test_latest_draws_again_after_an_error():
    drawn, wanted = [], [0]

    def draw():
        if wanted[0] == 1:
            raise RuntimeError("as drawn")
        drawn.append(wanted[0])

    latest = Latest(draw)
    wanted[0] = 1
    with pytest.raises(RuntimeError):
        latest()
    wanted[0] = 2
    latest()
    assert drawn == [2]


def test_a_box_never_ends_with_an_older_value_than_its_slider(monkeypatch):
    dial, started, go_on = Dial("Lean", 0.0, -45, 45, 0.5), Event(), Event()

    def slow_degrees(value):
        if value == 1:
            started.set()
            assert go_on.wait(30)
        return degrees(value)

    monkeypatch.setattr(controls, "degrees", slow_degrees)
    older = Thread(target=setattr, args=(dial, "value", 1))
    older.start()
    assert started.wait(30)
    newer = Thread(target=setattr, args=(dial, "value", 2))
    newer.start()
    while dial.value != 2:
        sleep(0.001)
    go_on.set()
    older.join(30)
    newer.join(30)
    assert (dial.value, dial.field.value) == (2, "2.0°")


def test_a_move_that_overtakes_another_is_the_one_that_counts():
    """JupyterLab may deliver two moves of one slider on two threads."""
    dial, newer = Dial("Lean", 0.0, -45, 45, 0.5), []
    step_of = dial._step

    def overtaken(value):
        if not newer:  # the older move has read its value, and has yet to keep it
            newer.append(Thread(target=setattr, args=(dial.slider, "value", 0.0)))
            newer[0].start()
            newer[0].join(0.3)
        return step_of(value)

    dial._step = overtaken
    dial.slider.value = 5.0
    newer[0].join(30)
    assert (dial.slider.value, dial.value, dial.field.value) == (0, 0, "0.0°")


def test_sliders_moved_by_many_threads_end_with_the_newest_picture(panel):
    ends = {"tail_lean": 21.5, "pin_lean": -7, "plan_angle": 100, "turn": 40, "tilt": 10, "height": 200, "thickness": 9}

    def dragger(name):
        slider = panel.dials[name].slider

        def drag():
            for step in range(25):
                slider.value = slider.min + (slider.max - slider.min) * step / 25
            slider.value = ends[name]
        return drag

    def shaker():
        for step in range(40):
            panel.dials["tail_lean"].slider.value = step % 7

    together(*[dragger(name) for name in DIALS[1:]], shaker, shaker)
    together(*[dragger(name) for name in DIALS])
    assert values(panel) == ends
    assert_good(panel)
    drawn = picture(panel)
    panel.redraw()
    assert picture(panel) == drawn
