"""What a panel's buttons write: never over what somebody else put there, unless that was chosen."""

import os
from html import unescape

import pytest
from cases import sample, some
from places import notebook_paths
from splaywork import box_panel, handout_panel, joint_panel, load_plan, save_plan
from splaywork.box.box import Box
from splaywork.box.plan import Item, Plan
from splaywork.widgets.controls import OnPage
from splaywork.widgets.writing import Writer
from twins import twins_of

MINE = b"MY OWN KITCHEN BOX"


@pytest.fixture(autouse=True)
def folder(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    return tmp_path / "out"


def press(writer, button):
    button.click()
    assert not any(each.disabled for each in (*writer.buttons.values(), writer.replace, writer.use_free))
    return unescape(writer.progress.value)


def is_asked(writer):
    return writer.asking.layout.display != "none"


def one_lesson():
    panel = handout_panel()
    panel.lessons.value = ("04",)
    return panel.writer


STOCK = "2400 × 240 × 12, 20"  # without boards the box panel's Wood has nothing to write


def use_a_small_set(panel):
    """A box panel's bench set is written in the same way with one part or with all, which are drawn in tests/box."""
    for part, button in panel.files.parts.items():
        button.value = part == "labels"


def stocked_box():
    panel = box_panel()
    panel.stock.value = STOCK
    use_a_small_set(panel)
    return panel.files


@pytest.fixture(params=[stocked_box, lambda: joint_panel(name="Ящик, front").writer, one_lesson],
                ids=["box", "joint", "handouts"])
def writer(request):
    return request.param()


def test_every_export_asks_before_it_replaces_what_another_put_there(writer, folder):
    exports = dict(some([each for each in writer.buttons.items() if each[0] != "Open plan"], 2))
    for what, button in exports.items():
        assert press(writer, button).startswith("Written into ") and not is_asked(writer), what
    made = {path: path.read_bytes() for path in folder.iterdir()}
    assert len(made) >= len(exports)
    for path in made:
        path.write_bytes(MINE)
    for what, button in exports.items():
        said = press(writer, button)
        assert "there already" in said and ", written on " in said and is_asked(writer), what
        assert all(path.read_bytes() == MINE for path in made)
        assert press(writer, writer.use_free).startswith("Written into ") and not is_asked(writer)
        assert all(path.read_bytes() == MINE for path in made)
    assert {path.read_bytes() for path in folder.iterdir() if path not in made} == set(made.values())
    for button in exports.values():
        press(writer, button)
        assert press(writer, writer.replace).startswith("Written into ") and not is_asked(writer)
    assert {path: path.read_bytes() for path in made} == made


def test_what_a_panel_wrote_itself_it_replaces_without_a_question(writer):
    for _ in range(2):
        for what, button in some(writer.buttons.items(), 2):
            assert press(writer, button).startswith(("Written into ", "Opened ")) and not is_asked(writer), what


def test_a_plan_of_another_name_is_asked_about_though_this_panel_wrote_it(folder):
    panel = box_panel()
    panel.files.file.value, panel.plan_name.value = "boxes", "My own kitchen box"
    press(panel.files, panel.files.buttons["Save plan"])
    panel.plan_name.value = "Another"
    said = press(panel.files, panel.files.buttons["Save plan"])
    assert said.startswith("boxes.json is there already: a plan named “My own kitchen box”, written on ")
    assert said.endswith("Replace it, or write boxes-2.json instead?")
    assert load_plan(folder / "boxes.json").name == "My own kitchen box"
    press(panel.files, panel.files.use_free)
    assert [load_plan(folder / f"{name}.json").name for name in ("boxes", "boxes-2")] == ["My own kitchen box", "Another"]


def test_what_was_opened_may_be_saved_again(folder):
    folder.mkdir()
    save_plan(folder / "boxes.json", Plan("Boxes", (Item("one", Box(300, 200, 100)),)))
    panel = box_panel()
    panel.files.file.value = "boxes.JSON"
    assert press(panel.files, panel.files.buttons["Open plan"]).startswith("Opened ")
    panel.dials["width"].value = 310
    assert press(panel.files, panel.files.buttons["Save plan"]) == f"Written into {folder}: boxes.json."
    assert load_plan(folder / "boxes.json").items[0].box.width == 310


def test_what_came_between_question_and_answer_is_asked_about_anew(folder):
    panel = box_panel()
    folder.mkdir()
    there = folder / "boxes.json"
    there.write_bytes(MINE)
    panel.files.file.value = "boxes"
    press(panel.files, panel.files.buttons["Save plan"])
    there.write_bytes(MINE + b" 2")
    assert "there already" in press(panel.files, panel.files.replace) and is_asked(panel.files)
    assert there.read_bytes() == MINE + b" 2"


def test_another_button_withdraws_the_question(folder):
    panel = box_panel()
    folder.mkdir()
    (folder / "boxes.json").write_bytes(MINE)
    panel.files.file.value = "boxes"
    press(panel.files, panel.files.buttons["Save plan"])
    press(panel.files, panel.files.buttons["Cut list"])
    assert not is_asked(panel.files)
    panel.files.replace.click()  # as of a page that hasn't heard yet
    assert (folder / "boxes.json").read_bytes() == MINE


def test_pages_in_the_way_are_asked_about_too(folder):
    """One sheet becomes several, or fewer: whatever page of that name stands there counts."""
    writer = joint_panel(name="a").writer
    writer.format.value = ".svg"
    folder.mkdir()
    (folder / "a-cards-2.svg").write_bytes(MINE)
    (folder / "a-cards-b.svg").write_bytes(MINE)
    said = press(writer, writer.buttons["Cards"])
    assert said.startswith("a-cards-2.svg is there already: a sheet (SVG), ") and is_asked(writer)
    assert "write a-cards-3.svg instead" in said
    press(writer, writer.use_free)
    assert (folder / "a-cards-2.svg").read_bytes() == MINE and len(list(folder.glob("a-cards-3*.svg"))) >= 1


@pytest.mark.parametrize("make", [os.mkfifo, os.mkdir])
def test_a_pipe_or_a_folder_of_that_name_is_refused(folder, make):
    panel = box_panel()
    folder.mkdir()
    panel.files.file.value = "boxes"
    make(folder / "boxes.json")
    assert press(panel.files, panel.files.buttons["Save plan"]) == (
        "Nothing was written: 'boxes.json' is there already and is no file: give another name.")
    assert not (folder / "boxes.json").is_file()


def test_an_answer_without_a_question_does_nothing(folder):
    panel = joint_panel()
    panel.writer.replace.click()
    panel.writer.use_free.click()
    assert not folder.exists() and panel.writer.progress.value == ""


def writers_of(panel):
    return [part for part in vars(panel).values() if isinstance(part, Writer)]


@pytest.mark.parametrize("path", sample(notebook_paths(), {5, 9, 10, 12}), ids=lambda path: path.stem)  # with most to save
def test_no_notebooks_cell_writes_where_its_panels_save(path, tmp_path):
    """Run All writes what the cells write; then each button of each panel finds its own place free."""
    copied = tmp_path / path.name
    copied.write_bytes(path.read_bytes())
    panels = twins_of(copied, OnPage)
    before = {each: each.read_bytes() for each in tmp_path.rglob("*") if each.is_file()}
    pressed = 0
    for panel in panels:
        if hasattr(panel, "lessons"):
            panel.lessons.value = panel.lessons.value[:1]
        if hasattr(panel, "stock"):
            panel.stock.value = panel.stock.value or STOCK
            use_a_small_set(panel)
        for writer in writers_of(panel):
            for what, button in writer.buttons.items():
                if what not in ("Open plan", "Forget the corner"):
                    assert press(writer, button).startswith(("Written into ", "Kept in ")) and not is_asked(writer), what
                    pressed += 1
    assert {each: each.read_bytes() for each in before} == before
    assert (pressed >= 1) == (path.stem[:2] in ("05", "09", "10", "gu"))
