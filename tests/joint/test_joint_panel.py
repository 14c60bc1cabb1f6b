"""The joint panel without a browser: what it draws and says, what it refuses, and the files that its buttons write."""

import os
import stat
from html import unescape
from io import BytesIO
from pathlib import Path

import pytest
import trimesh
from cases import THOROUGH, some
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageChops
from pypdfium2 import PdfDocument
from sheets import texts_of
from splaywork import Corner, Joint, joint_panel, joint_still
from splaywork.common import files
from splaywork.common.files import LONGEST, file_stem
from splaywork.joint.pieces import free_at
from splaywork.joint.settings_words import bevel_words
from splaywork.joint.tails import SLOPES
from splaywork.widgets.writing import open_folder

HOSTILE = "<img src=x onerror=alert(1)>"
NAME = "galley locker drawer, front corner"
STEM = "galley-locker-drawer,-front-corner"


@pytest.fixture(scope="module")
def shared():
    return joint_panel(name=NAME)


@pytest.fixture
def panel(shared, tmp_path, monkeypatch):
    """A panel as it opens, in a notebook's folder of its own."""
    shared.start_again.click()
    shared.writer.name.value, shared.writer.folder.value, shared.writer.progress.value = NAME, "out", ""
    shared.writer.paper.value, shared.writer.format.value = "A4", ".pdf"
    shared.writer.hand.value, shared.writer.reading.value = "right", "outside"
    monkeypatch.chdir(tmp_path)
    return shared


def picture(panel):
    return bytes(panel.image.value)


def progress(panel):
    return unescape(panel.writer.progress.value)


def assert_good(panel):
    assert panel.message.value == ""
    assert unescape(panel.sentence.value) == bevel_words(panel.joint(), panel.unit.value)
    with Image.open(BytesIO(picture(panel))) as image:
        assert image.size == (int(panel.image.width), int(panel.image.height)) == (920, 400)


def test_what_is_stored_of_the_panel_is_pulled_apart_and_begins_together(panel):
    png, words = panel.stored()
    moving, still = Image.open(BytesIO(png)), Image.open(BytesIO(joint_still(panel.joint()).png))
    assert moving.n_frames == 26 and len(png) < 400_000
    assert moving.convert("RGB").tobytes() == still.convert("RGB").tobytes()
    assert words.startswith("The pin board is pulled out level") and bevel_words(panel.joint()) in words
    moving.seek(13)  # furthest out: only the picture of the boards has changed
    changed = ImageChops.difference(moving.convert("RGB"), still.convert("RGB")).getbbox()
    assert changed[2] <= 344 and changed[2] - changed[0] > 150


def test_a_moving_picture_that_would_be_too_large_leaves_the_panel_s_own(panel, monkeypatch):
    monkeypatch.setattr("splaywork.drawing.still.BYTES", 1000)
    assert panel.stored() == (picture(panel), unescape(panel.sentence.value))


# Sliders and choices


def test_every_slider_redraws_and_adds_no_artist(panel):
    count = panel.picture.canvas.artist_count()
    panel.alike.value = True
    for name, dial in panel.dials.items():
        before = picture(panel)
        dial.value = {"tails": 2, "plan_angle": 100, "looks_as": 25, "tail_slope": 8}.get(name, dial.value + 3)
        assert picture(panel) != before, name
        assert_good(panel)
    assert panel.picture.canvas.artist_count() == count


@given(tail=st.floats(-30, 30), pin=st.floats(-30, 30), end=st.sampled_from(["flush", "square"]),
       rims=st.sampled_from(["level", "square"]), tails=st.integers(1, 3))
def test_the_sentence_and_the_joint_are_those_of_the_dials(shared, tail, pin, end, rims, tails):
    shared.start_again.click()
    shared.end.value, shared.rims.value, shared.dials["tails"].value = end, rims, tails
    shared.dials["tail_lean"].value, shared.dials["pin_lean"].value = tail, pin
    try:
        joint = Joint(Corner(tail, pin), 120, 18, tails=tails, end=end, rims=rims)
    except ValueError as wrong:
        assert unescape(shared.message.value) == f"<b>{wrong}</b>"
    else:
        assert unescape(shared.sentence.value) == bevel_words(joint) and shared.message.value == ""


def test_ends_and_rims_change_the_number_of_settings(panel):
    assert "three bevel settings" in panel.sentence.value
    panel.end.value = "square"
    assert "five bevel settings" in panel.sentence.value
    panel.rims.value = "square"
    assert "seven bevel settings" in panel.sentence.value
    panel.start_again.click()
    assert "three bevel settings" in panel.sentence.value and panel.end.value == "flush"


def test_published_slopes_carry_their_sources_and_none_is_called_right(panel):
    labels = dict(panel.published.options)
    for slope in SLOPES:
        label, = (label for label, n in labels.items() if n == slope.n)
        assert slope.source in label and ("(from memory)" in label) == (slope.status == "memory")
        panel.published.value = slope.n
        assert panel.joint().tail_slope == slope.n
        assert_good(panel)
    assert not any(word in " ".join(labels).lower() for word in ("correct", "right", "best", "recommended"))
    panel.dials["tail_slope"].field.value = "1 in 7"
    assert panel.joint().tail_slope == 7 and panel.published.label == "a slope of your own"
    panel.dials["tail_slope"].field.value = "8"
    assert panel.joint().tail_slope == 8 and panel.published.value == 8


def test_tails_can_be_made_to_look_alike(panel):
    assert panel.dials["looks_as"].slider.disabled
    panel.alike.value = True
    assert not panel.dials["looks_as"].slider.disabled
    low, high = panel.joint().marks[0]
    assert high - low == pytest.approx(Corner(16, 11).looks_as(30), abs=1e-9)
    panel.start_again.click()
    assert panel.joint().looks_as is None and panel.dials["looks_as"].field.disabled


def test_inches_are_for_reading_only(panel):
    before, joint = picture(panel), panel.joint()
    panel.unit.value = "in"
    assert picture(panel) != before and panel.joint() == joint
    assert panel.dials["apart"].field.value == "0 in" and "″ in 4″)" in panel.sentence.value
    panel.dials["pin_thickness"].field.value = "3/4"
    assert panel.joint().pin_thickness == pytest.approx(19.05)


def test_drawn_apart_until_the_boards_are_free(panel):
    panel.dials["apart"].value = free_at(panel.joint()) + 5
    assert_good(panel)


# What it refuses


@pytest.mark.parametrize(("name", "text", "words"), [
    ("tails", "8", "comes to a point"), ("tails", "2.5", "isn't whole"), ("tails", HOSTILE, "Tails"),
    ("tail_slope", "0", "Tail slope"), ("tail_slope", "1 in 50", "between 1 in 2 and 1 in 12"),
    ("height", "nonsense", "Height"), ("tail_lean", "80", "Tail lean"), ("apart", "</b><script>", "Pull apart"),
])
def test_what_cannot_be_cut_is_said_in_one_sentence_and_the_picture_stays(panel, name, text, words):
    before = picture(panel), panel.sentence.value
    panel.dials[name].field.value = text
    assert (picture(panel), panel.sentence.value) == before
    message = panel.message.value
    assert message.startswith("<b>") and message.endswith(".</b>") and words in unescape(message)
    assert not set("<>\"'") & set(message[3:-4]) and ". " not in message.replace("1 in n. ", "")
    panel.start_again.click()
    assert_good(panel)


@pytest.mark.parametrize(("arguments", "words"), [
    ({"tail_lean": 46}, "Tail lean"), ({"height": 10}, "Height"), ({"thickness": "x"}, "Thickness"),
    ({"tails": 0}, "Tails"), ({"tails": 9}, "comes to a point"), ({"pin_lean": HOSTILE}, "Pin lean"),
])
def test_a_panel_that_cannot_be_says_why_in_one_sentence(arguments, words):
    with pytest.raises(ValueError) as caught:
        joint_panel(**arguments)
    assert words in str(caught.value) and str(caught.value).endswith(".")


# Files


def press(panel, what):
    panel.writer.buttons[what].click()
    assert not any(button.disabled for button in panel.writer.buttons.values())
    return progress(panel)


@pytest.mark.parametrize("end", ["flush", "square"])
def test_solids_are_read_back_as_the_boards_of_the_picture(panel, tmp_path, end):
    panel.end.value = end
    panel.dials["tail_lean"].value = -12
    said = press(panel, "Solids")
    names = [f"{STEM}-tail-board.stl", f"{STEM}-pin-board.stl"]
    assert said == f"Written into {tmp_path / 'out'}: {names[0]}, {names[1]}."
    assert sorted(os.listdir(tmp_path / "out")) == sorted(names) and os.listdir(tmp_path) == ["out"]
    for name, cut in zip(names, (panel.joint().tail_board, panel.joint().pin_board), strict=True):
        part = trimesh.load_mesh(tmp_path / "out" / name)
        expected = trimesh.Trimesh(*cut.mesh())
        assert part.is_watertight and part.body_count == 1
        assert part.volume == pytest.approx(expected.volume, rel=1e-5)
        assert abs(part.bounds - expected.bounds).max() < 1e-4


@pytest.mark.parametrize(("what", "kind", "words"), [
    ("Templates", "templates", ["Wrap template: tail board", "Wrap template: pin board"]),
    ("Cards", "cards", ["B", "Scribe"]),
])
def test_sheets_are_read_back_with_the_corners_name(panel, tmp_path, what, kind, words):
    panel.writer.paper.value = "Letter"
    pages = []
    panel.writer.progress.observe(lambda change: pages.append(change.new), "value")
    said = press(panel, what)
    panel.writer.progress.unobserve_all()
    path = tmp_path / "out" / f"{STEM}-{kind}.pdf"
    assert said == f"Written into {path.parent}: {path.name}."
    assert [page for page in pages if page.startswith("Drawn: page 1 of ")]
    with PdfDocument(path) as file:
        assert {tuple(map(round, page.get_size())) for page in file} == {(612, 792)}
    text = " ".join(texts_of(path))
    for word in [*words, "galley locker drawer"]:
        assert word in text


def test_templates_can_be_had_for_the_mirrored_corner_and_as_svg(panel, tmp_path):
    panel.writer.format.value, panel.writer.hand.value, panel.writer.reading.value = ".svg", "left", "inside"
    press(panel, "Templates")
    files = sorted((tmp_path / "out").iterdir())
    assert files and all(path.suffix == ".svg" and path.read_text().startswith("<?xml") for path in files)


def test_writing_again_replaces_and_leaves_nothing_else(panel, tmp_path):
    press(panel, "Solids")
    first = {path.name: path.read_bytes() for path in (tmp_path / "out").iterdir()}
    panel.dials["pin_lean"].value = 5
    press(panel, "Solids")
    second = {path.name: path.read_bytes() for path in (tmp_path / "out").iterdir()}
    assert set(first) == set(second) and all(first[name] != second[name] for name in first)


@pytest.mark.parametrize("name", ["../../etc/passwd", "..", "", "C:\\aux", "/", ".hidden", "a\0b\nc", "ÅNGSTRÖM – né 7",
                                  "x" * 500, HOSTILE, "con"])
def test_whatever_the_name_the_files_stay_in_the_folder(panel, tmp_path, name):
    panel.writer.name.value = name
    press(panel, "Solids")
    assert os.listdir(tmp_path) == ["out"]
    for path in (tmp_path / "out").iterdir():
        assert path.name.startswith(file_stem(name) + "-")
        assert not set('<>:"/\\|?*') & set(path.name) and path.name.isprintable() and len(path.stem) < LONGEST[0] + 20
        assert path.name[0] not in ".-"


def test_hostile_names_and_folders_come_back_as_text(panel, tmp_path):
    cases = ((HOSTILE, "out"), (NAME, HOSTILE), (NAME, f"no/{HOSTILE}"), ("name \U0001f600", "out"))
    buttons = list(panel.writer.buttons)
    for number, (name, folder) in enumerate(cases):
        panel.writer.name.value, panel.writer.folder.value = name, folder
        for what in buttons if THOROUGH else [buttons[number % len(buttons)]]:
            press(panel, what)
            assert not set("<>\"") & set(panel.writer.progress.value)


def refused(panel, folder, what="Solids"):
    """What is said when a folder is refused; the panel goes on working."""
    panel.writer.folder.value = folder
    said = press(panel, what)
    assert said.endswith(".") and said.count(". ") == 0
    assert panel.message.value == ""
    return said


def test_a_folder_that_cannot_be_is_refused_in_one_sentence(panel, tmp_path):
    (tmp_path / "file").write_text("mine")
    assert "There is no folder" in refused(panel, "missing/out") and "missing" in progress(panel)
    assert "is a file, not a folder" in refused(panel, "file")
    for folder in ("a\0b", "x" * 4000, "~nobody-of-that-name/out"):
        assert refused(panel, folder).startswith("Nothing was written: ")
    assert (tmp_path / "file").read_text() == "mine" and os.listdir(tmp_path) == ["file"]
    panel.writer.folder.value = "  "  # the notebook's own folder
    assert f"Written into {tmp_path}: " in press(panel, "Solids")


def test_a_read_only_folder_is_refused_in_one_sentence(panel, tmp_path, monkeypatch):
    (tmp_path / "locked").mkdir(mode=0o500)
    if os.access(tmp_path / "locked", os.W_OK):  # whoever is root may write everywhere: say what a read-only disk says

        def deny(path, *_, **__):
            raise OSError(30, "Read-only file system", str(path))
        monkeypatch.setattr(Path, "open", deny)
    for what in some(panel.writer.buttons, 2):
        said = refused(panel, "locked", what)
        assert said.startswith("The disk refused (") and "choose another folder, or make room" in said
    os.chmod(tmp_path / "locked", stat.S_IRWXU)
    assert os.listdir(tmp_path / "locked") == []


def test_a_full_disk_loses_nothing(panel, tmp_path, monkeypatch):
    for what in some(panel.writer.buttons, 2):
        press(panel, what)
    before = {path.name: path.read_bytes() for path in (tmp_path / "out").iterdir()}
    panel.dials["tail_lean"].value = 20

    def full(_):
        raise OSError(28, "No space left on device")
    with monkeypatch.context() as disk:  # undone alone: the test stays in its own folder
        disk.setattr(files.os, "fsync", full)
        for what in some(panel.writer.buttons, 2):
            assert "No space left on device" in refused(panel, "out", what)
    assert {path.name: path.read_bytes() for path in (tmp_path / "out").iterdir()} == before
    assert press(panel, "Solids").startswith("Written into ")


def test_a_joint_that_cannot_be_cut_writes_nothing(panel, tmp_path):
    panel.dials["tails"].value = 8
    assert press(panel, "Templates").startswith("Nothing was written: Tail 1 comes to a point")
    assert os.listdir(tmp_path) == []


def test_open_folder_counts_from_where_the_notebook_runs(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("HOME", str(tmp_path))
    assert open_folder(" out ") == tmp_path / "out" and open_folder("out") == tmp_path / "out"
    assert open_folder("~/at-home") == tmp_path / "at-home"
    assert open_folder(str(tmp_path / "absolute")) == tmp_path / "absolute"
