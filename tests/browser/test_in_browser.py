"""Every notebook in a real JupyterLab: it runs, and its panels show what the library says, whatever is done to them."""

import io
import re
from base64 import b64decode
from itertools import cycle
from pathlib import Path

import nbformat
import numpy as np
import pytest
from cases import THOROUGH
from lab import until
from PIL import Image
from splaywork.common.reading import read_angle
from splaywork.corner.panel import CornerPanel
from splaywork.corner.write_up_panel import WriteUpPanel
from twins import labels, twins_of

# Where the picture shows each outer face laid flat: the board, left, top, right, bottom in its 920 × 430 pixels, and
# the side to which a positive end line slants.
# the pixels of an image as the browser has decoded it, before it fits them to the page
PIXELS = """image => { const canvas = document.createElement("canvas");
    [canvas.width, canvas.height] = [image.naturalWidth, image.naturalHeight];
    canvas.getContext("2d").drawImage(image, 0, 0);
    return canvas.toDataURL("image/png").split(",")[1]; }"""
FLATS = (("tail", (432, 12, 694, 204), -1), ("pin", (432, 226, 694, 418), 1))
BAD = ("abc", "", "1e999", "12 34", "1,234,5", "__import__('os')", "<img src=x onerror=alert(1)>", "99999")


def good_texts(dial):
    """Texts of several kinds that a dial's box takes."""
    low, high = dial.slider.min, dial.slider.max
    first, last = [low + part * (high - low) for part in (0.31, 0.77)]
    if dial.kind == "run":
        return [f"{first:.4g}", f"1 in {last:.4g}", f"1:{first:.4g}"]
    if dial.kind == "count":
        return [f"{round(value)}" for value in (first, last)]
    if dial.kind == "length":
        return [f"{first:.4g}", f"{last / 10:.4g} cm", f"{first / 25.4:.4g} in"]
    slopes = ["1:8"] if low < 7 and high > 8 else []
    return [f"{first:.4g}°", f"{int(last)}°{int(last % 1 * 60)}'" if last >= 0 else f"{last:.4g}", *slopes]


def test_runs_top_to_bottom(notebook):
    assert notebook.errors() == []
    hidden = [cell.metadata.get("jupyter", {}).get("source_hidden") for cell in nbformat.read(notebook.path, as_version=4).cells
              if cell.cell_type == "code"]  # where the source is folded away, so is the number
    wanted = ["" if folded else f"[{count}]:" for count, folded in enumerate(hidden, start=1)]
    until(lambda: notebook.prompts() == wanted, "every cell has its number")  # JupyterLab draws the last ones when it is idle


def test_panels_appear(all_pairs):
    for pair in all_pairs:
        shown = pair.panel.image.bounding_box()
        assert shown["width"] > 600 and shown["height"] > 200
        pair.agree("the panel opens with its picture")


def test_sliders_follow_the_mouse(pairs):
    for pair in pairs:
        before = pair.seen()
        for dial, double in pair.few:
            if before["message"]:  # no dial moves a picture of what can't be made
                pair.reset()
                before = pair.seen()
            dial.drag(0.9, 0.71)
            after = pair.settle(f"the panel follows {dial.name}")
            assert after["message"] or after["picture"] != before["picture"], f"dragging {dial.name} changes nothing"
            low, high = double.slider.min, double.slider.max
            assert dial.at() == pytest.approx(low + 0.71 * (high - low), abs=double.slider.step + 0.02 * (high - low))
            before = after


def test_sliders_follow_the_keyboard(pairs):
    for pair in pairs:
        before = pair.seen()
        for dial, double in pair.few:
            start = dial.at()
            dial.press("ArrowRight", "ArrowRight", "ArrowLeft")
            dial.reach(start + double.slider.step)
            after = pair.settle(f"the panel follows {dial.name}")
            assert after["picture"] != before["picture"], f"the arrow keys on {dial.name} leave the picture as it was"
            for key, end in (("Home", double.slider.min), ("End", double.slider.max)):
                dial.press(key)
                dial.reach(end)
            pair.settle(f"the panel follows {dial.name} to its end")
            pair.type(dial, double, f"{start:g}")
            before = pair.settle(f"{dial.name} goes back")  # a dial that follows it, as Tails does, has come back, too


def test_boxes_take_what_measure_reads(pairs):
    for pair in pairs:
        for dial, double in pair.few:
            pair.reset()  # what each takes alone may not go together
            for text in good_texts(double):
                pair.type(dial, double, text)
                seen = pair.agree(f"{dial.name} takes {text!r}")
                assert not seen["message"].startswith(dial.name)  # though it may make a corner that can't be


def test_bad_text_is_refused_in_one_sentence(pairs):
    for pair in pairs:
        good = pair.seen()
        for turn, (dial, double) in enumerate(pair.few):
            shown = double.field.value
            for text in (BAD[turn % len(BAD)], BAD[(turn + 3) % len(BAD)]):
                pair.type(dial, double, text)
                bad = pair.agree(f"{dial.name} refuses {text!r}")
                assert bad["message"].startswith(dial.name) and bad["message"].endswith(".")
                assert "\n" not in bad["message"]
                assert (bad["picture"], bad["sentence"], bad["handles"]) == (
                    good["picture"], good["sentence"], good["handles"])
            pair.type(dial, double, shown)
            good = pair.agree("typing what stood there before puts it right")
            assert good["message"] == ""


def test_moving_one_dial_clears_what_another_refused(new_pairs):
    for pair in new_pairs:
        (first, double), (other, _) = pair.free[:2]
        pair.type(first, double, "abc")
        pair.agree("the text is refused")
        other.press("ArrowRight")
        after = pair.settle("the panel follows the other dial")
        assert after["message"] == ""
        assert first.text() != "abc"  # but its value; where two dials move together, the new one


def test_locked_dials_stay(pairs):
    locked = [pair for pair in pairs if pair.locked]
    if not locked:
        pytest.skip("no dial of this page is locked")
    for pair in locked:
        before = pair.seen()
        for dial, _ in pair.locked:
            dial.drag(0.9)
            assert dial.field.is_disabled()
        pair.free[-1][0].press("ArrowRight")
        after = pair.settle("only the free dial moves")
        assert after["handles"][:-1] == before["handles"][:-1] and after["handles"] != before["handles"]


def files_in(folder):
    return {path.name: path.read_bytes() for path in folder.glob("*")}


def test_buttons(notebook, new_pairs):
    pressed = [pair for pair in new_pairs if pair.buttons]
    if not pressed:
        pytest.skip("each button on this page was tried on another")
    for pair in pressed:
        before = pair.seen()
        for name in pair.buttons:
            pair.press(name)
            pair.agree(f"{name} does what it says")
        wanted = files_in(Path("out"))  # the twins' buttons wrote these
        until(lambda wanted=wanted: wanted.items() <= files_in(notebook.path.parent / "out").items(),
              f"the buttons have written {sorted(wanted)}", 60)
        pair.reset()
        for dial, _ in pair.free:
            dial.press("End")
        pair.settle("the sliders stand at their ends")  # a kernel may serve two controls in two threads, in any order
        pair.reset()
        assert pair.seen() == before


def test_lists(new_pairs):
    for pair in new_pairs:
        for choice, double in pair.lists:
            for label in labels(double)[::-1]:
                choice.select_option(label=label)
                double.label = label
                pair.agree(f"the list takes {label!r}")


def test_formulas_to_copy(notebook):
    for place, twin in enumerate(twins_of(notebook.path, WriteUpPanel)):
        text = notebook.page.locator(".widget-textarea textarea").nth(place)
        lists = text.locator("xpath=ancestor::*[contains(@class, 'widget-vbox')][1]").locator("select")
        for (name, _), (to, _) in zip(twin.form.options, cycle(twin.to.options), strict=False):
            for choice, double, label in ((lists.nth(0), twin.form, name), (lists.nth(1), twin.to, to)):
                choice.select_option(label=label)
                double.label = label
            until(lambda text=text, twin=twin: text.input_value() == twin.text.value, f"{name} is written as {to}")


def test_drawn_angle_is_the_printed_one(new_pairs):
    """A protractor laid on the picture that the page shows: the end lines as drawn on both flat faces, to half a degree."""
    for pair in new_pairs:
        if type(pair.twin) is not CornerPanel:
            continue
        for part in (0.35, 0.6, 0.95):
            for dial, _ in pair.free[:2]:
                dial.drag(part)
            sentence = pair.settle("the panel follows")["sentence"]
            tail, pin = re.search(r"end lines? (?:is|are) (.+?)(?:, and the pin board's is (.+?))?\. ", sentence).groups()
            printed = [0 if text == "square" else read_angle(text.removesuffix(" from square")) for text in (tail, pin or tail)]
            shot = Image.open(io.BytesIO(b64decode(pair.panel.image.evaluate(PIXELS)))).convert("RGB")
            drawn = [side * _slant_of_heavy_line(shot.crop(tuple(np.array(frame) * shot.width / 920)))
                     for _, frame, side in FLATS]
            assert drawn == pytest.approx(printed, abs=0.5)


def _slant_of_heavy_line(picture):
    """Degrees by which the heavy black line of a picture slants to the right of upright.

    The slant at which most black lies in one row of pixels; then its edge away from the red gap, which lies on the line.
    """
    red, green, _ = np.moveaxis(np.asarray(picture).astype(int), 2, 0)
    drawn = (red < 90) | (red - green > 80)
    for axis in (0, 1):  # what is three pixels wide and high is kept, as it was: thin outlines go
        drawn = drawn & np.roll(drawn, 1, axis) & np.roll(drawn, -1, axis)
    for axis in (0, 1):
        drawn = drawn | np.roll(drawn, 1, axis) | np.roll(drawn, -1, axis)
    black, wrong = (np.argwhere(drawn & part)[:, ::-1] * (1, -1) for part in (red < 90, red - green > 80))  # x, y upward
    slant = max(np.arange(-70, 70.1, 0.5), key=lambda angle: _fullest_row(_across(black, angle))[1])
    for _ in range(3):
        off = _across(black, slant)
        near = np.abs(off - _fullest_row(off)[0]) <= 4
        side = -1 if len(wrong) and np.mean(_across(wrong, slant)) > np.mean(off[near]) else 1
        along = np.round(_along(black[near], slant)).astype(int)
        edge = np.full(np.ptp(along) + 1, -np.inf)
        np.maximum.at(edge, along - along.min(), side * off[near])
        places = np.flatnonzero(np.isfinite(edge))
        slant += side * np.degrees(np.arctan(np.polyfit(*_without_strays(places, edge[places]), 1)[0]))
    return slant


def _fullest_row(off):
    """(which row of pixels holds the most of them, how many)."""
    rows, counts = np.unique(np.round(off), return_counts=True)
    return rows[counts.argmax()], counts.max()


def _along(points, slant):
    return points @ (np.sin(np.radians(slant)), np.cos(np.radians(slant)))


def _across(points, slant):
    return points @ (np.cos(np.radians(slant)), -np.sin(np.radians(slant)))


def _without_strays(places, edge):
    for _ in range(4):
        off = np.abs(edge - np.polyval(np.polyfit(places, edge, 1), places))
        near = off <= max(1.0, 2 * np.median(off))
        places, edge = places[near], edge[near]
    return places, edge


def test_slider_dragged_while_a_cell_runs(notebook, new_panels, server):
    pairs = new_panels if THOROUGH else new_panels[-1:]
    released = server.folder / "released"
    notebook.add_and_run(f"import os, time\nwhile not os.path.exists({str(released)!r}): time.sleep(0.1)")
    for pair in pairs:
        dial = pair.free[0][0]
        dial.drag(0.1, 0.9, 0.3, 0.62)
    assert notebook.is_busy(), "the cell was still to run while the sliders moved"
    left_at = [pair.seen()["handles"] for pair in pairs]
    released.touch()
    notebook.wait_until_done()
    released.unlink()
    for pair, handles in zip(pairs, left_at, strict=True):
        assert pair.settle("the panel shows the last value")["handles"] == handles


def test_nothing_went_wrong_behind_the_page(notebook, server):
    """Last, so that it speaks for all that was done to this notebook. JupyterLab itself starts without a complaint."""
    assert notebook.troubles == []
    assert server.new_errors() == []
