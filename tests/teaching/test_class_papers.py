"""Papers for a class: lessons to read from the bench, and the panel that writes each paper into a folder."""

import re

import pytest
from sheets import texts_of
from splaywork import class_papers_panel, lesson_sheet, save_lesson, script
from splaywork.drawing.paper import Label
from splaywork.one_gauge.one_gauge import OneGauge
from splaywork.teaching.bench_setup_sheet import CORNERS
from splaywork.teaching.kit_sheets import paper_box
from splaywork.teaching.scripts import minutes_rows, scripts
from writers import assert_nothing_written


def text_of(pages):
    return " ".join(item.text for page in pages for item in page.around if isinstance(item, Label))


@pytest.mark.parametrize("minutes", [20, 45])
@pytest.mark.parametrize("notebook", scripts())
def test_a_lesson_on_paper_has_its_minutes_and_all_that_is_said(notebook, minutes):
    """Every word that is spoken in that length of lesson, none that is left out, and nothing of Markdown."""
    pages, lesson = lesson_sheet(notebook, minutes), script(notebook)
    assert 1 <= len(pages) <= (2 if minutes == 20 else 3)
    told = text_of(pages)
    assert not re.search(r"\*|\]\(|\{", told)
    words, said = set(re.sub(r"[][]", "", told).split()), [row for _, row in lesson.at(minutes)]
    assert all(word in words for row in said for word in lesson.text(row.say).split())
    done = " ".join((*(do for _, do, *_ in minutes_rows(lesson, minutes)), *map(lesson.text, lesson.beforehand)))
    assert all(word in words for word in re.sub(r"\*|\[|\]\([^)]*\)", "", done).split())
    assert ("step by step" in told) == (notebook == "04") and "press [Begin] and [Fill the window]" in told
    assert ("The bench from above" in told) == (notebook in CORNERS)
    starts = [item.text for page in pages for item in page.around if isinstance(item, Label) and item.text.isdecimal()]
    assert [text for text in starts if text in {str(minute) for minute, _ in lesson.at(minutes)}][:len(said)] == [
        str(minute) for minute, _ in lesson.at(minutes)]
    for page in pages:
        assert all((item.points.min() > 8) and (item.points[:, 0] < page.width - 8).all() for item in page.around
                   if not isinstance(item, Label))


def test_a_class_asks_and_is_answered_on_paper():
    for notebook in ("04", "07"):
        told = text_of(lesson_sheet(notebook))
        assert "What a class asks" in told and len(script(notebook).questions) >= 5
    assert "What a class asks" not in text_of(lesson_sheet("01"))


@pytest.mark.parametrize("wrong", [lambda: lesson_sheet("12"), lambda: lesson_sheet("04", 30),
                                   lambda: lesson_sheet("04", 20, "A5"), lambda: save_lesson("x.txt", "04")])
def test_what_cannot_be_is_refused_in_one_sentence(wrong):
    with pytest.raises(ValueError, match=r"\.$") as refused:
        wrong()
    assert "\n" not in str(refused.value)


def test_each_button_writes_its_paper(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    panel, folder = class_papers_panel(), tmp_path / "out"
    panel.lessons.value, panel.pairs.value = ("00", "07"), "3"
    wanted = {"Lessons": {"lesson-00-20-minutes.pdf": "Start here", "lesson-07-20-minutes.pdf": "What a class asks"},
              "Kits": {"kit-07.pdf": "For 3 pairs"}, "To draw on": {"draw-on.pdf": "Our own corner"},
              "Key to it": {"draw-on-key.pdf": "Heavy: the end lines"}, "Paper boxes": {"paper-boxes-40.pdf": "shortcut lines"},
              "Wall chart": {"wall-chart-A2.pdf": "Two boards that lean"}, "Course": {"course.pdf": "Evening 4"},
              "Form": {"assessment.pdf": "Marks"}}
    assert set(wanted) == set(panel.writer.buttons)
    for button, files in wanted.items():
        panel.writer.buttons[button].click()
        assert panel.writer.progress.value.startswith("Written into"), panel.writer.progress.value
        for name, told in files.items():
            assert told in " ".join(texts_of(folder / name))
    assert {each.name for each in folder.iterdir()} == {name for files in wanted.values() for name in files}


@pytest.mark.parametrize(("button", "spoil", "words"), [
    ("Lessons", lambda panel: setattr(panel.lessons, "value", ()), "Nothing was written: No notebook is chosen"),
    ("Kits", lambda panel: setattr(panel.lessons, "value", ("00",)), "Nothing was written: Notebook 00 has no kit"),
    ("Kits", lambda panel: setattr(panel.pairs, "value", "many"), "Nothing was written: The number of pairs"),
    ("Form", lambda panel: setattr(panel.folder, "value", "no/such/folder"), "Nothing was written: There is no")])
def test_the_panel_says_what_is_wrong_and_writes_nothing(tmp_path, monkeypatch, button, spoil, words):
    monkeypatch.chdir(tmp_path)
    panel = class_papers_panel()
    spoil(panel)
    panel.writer.buttons[button].click()
    assert_nothing_written(panel.writer, words, tmp_path)


def test_the_paper_boxes_are_those_of_the_lesson():
    """All four boards at 40°, and with shortcut lines the box still closes, lower."""
    corners = [each.joint.corner for each in paper_box().corners.values()]
    assert {(corner.tail_lean, corner.pin_lean) for corner in corners} == {(40, 40)}
    assert OneGauge(corners[0]).stands and 0.5 < OneGauge(corners[0]).height_factor < 0.8
