"""The trial sheet's panel: nothing is written before its button is pressed, and then it says where, in full."""

from html import unescape
from math import radians, tan

import pytest
from sheets import texts_of
from splaywork import Corner, Joint, mm, trial_sheet_panel
from splaywork.common.class_corner import ClassCorner, beside_the_notebooks, save_class_corner

JOINT = Joint(Corner(30, 30), 100, 18, tails=2)


@pytest.fixture
def panel(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    return trial_sheet_panel(JOINT)


def press(panel):
    panel.writer.buttons["Write the sheet"].click()
    return unescape(panel.writer.progress.value)


def test_the_button_writes_two_pages_and_says_where_they_lie(panel, tmp_path):
    assert not list(tmp_path.iterdir())
    assert press(panel) == f"Written into {tmp_path / 'out'}: trial-corner-sheet.pdf."
    pages = texts_of(tmp_path / "out" / "trial-corner-sheet.pdf")
    assert len(pages) == 2 and "trial corner" in " ".join(pages) and "50.0 mm" in " ".join(pages)
    assert press(panel).startswith("Written into")  # its own file may be replaced


def test_paper_unit_name_and_folder_are_those_of_the_panel(panel, tmp_path):
    panel.paper.value, panel.unit.value, panel.format.value = "Letter", "in", ".svg"
    panel.name.value, panel.folder.value = "galley locker", str(tmp_path / "sheets")
    assert press(panel).endswith("galley-locker-sheet-1.svg, galley-locker-sheet-2.svg.")
    assert 'width="612pt" height="792pt"' in (tmp_path / "sheets" / "galley-locker-sheet-1.svg").read_text()


def test_nothing_is_replaced_unasked_and_what_goes_wrong_is_one_sentence(panel, tmp_path):
    (tmp_path / "out").mkdir()
    other = tmp_path / "out" / "trial-corner-sheet.pdf"
    other.write_text("another file")
    assert "is there already" in press(panel) and other.read_text() == "another file"
    panel.writer.use_free.click()
    assert "trial-corner-sheet-2.pdf" in unescape(panel.writer.progress.value) and other.read_text() == "another file"
    panel.name.value = "x" * 61
    assert press(panel).startswith("Nothing was written: The name has 61 characters")
    panel.name.value, panel.folder.value = "trial corner", "nowhere/at/all"
    assert press(panel).startswith("Nothing was written: There is no folder")
    with pytest.raises((TypeError, ValueError), match="joint"):
        trial_sheet_panel(Corner(30, 30))


# The class corner.


def text_of(path):
    return " ".join(texts_of(path))


def test_the_sheet_is_that_of_the_class_corner_and_goes_back_to_the_joint_given(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    save_class_corner(beside_the_notebooks(), ClassCorner(22, 14, 90, 15))
    panel, written = trial_sheet_panel(JOINT), tmp_path / "out" / "trial-corner-sheet.pdf"
    assert panel.of_class.layout.display == ""
    assert press(panel).startswith("Written into")
    text = text_of(written)
    assert "15 mm" in text and f"{mm(100 * tan(radians(22)))}" in text and "57.7 mm" not in text
    panel.of_class.value = False
    assert press(panel).startswith("Written into") and "57.7 mm" in text_of(written)


def test_without_a_class_corner_there_is_no_choice_and_a_damaged_file_is_said(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    assert trial_sheet_panel(JOINT).of_class.layout.display == "none"
    beside_the_notebooks().write_text("nothing")
    panel = trial_sheet_panel(JOINT)
    assert "holds no class corner" in panel.writer.progress.value and press(panel).startswith("Written into")
