"""The class report: sums by hand, strangers' files refused one by one, and nothing that a page would act on. And the tally."""

import json
import os

import pytest
from matplotlib.text import Text
from splaywork import class_report, class_report_still, tally_panel
from splaywork.teaching.class_report import ClassReport
from splaywork.teaching.exercises import exercises_for, keep


@pytest.fixture
def folder(tmp_path):
    for learner, answers in {"anna": [("04-2", False, "the shortcut"), ("04-2", True, ""), ("02-3", True, "")],
                             "ben": [("04-2", False, "the shortcut"), ("04-2", False, "the shortcut"),
                                     ("04-2", False, "wrong sign")],
                             "carla": []}.items():
        for number, right, slip in answers:
            keep(tmp_path / f"{learner}.json", number, right, slip)
    return tmp_path


def test_it_sums_up_who_tried_what_and_which_slips_are_common(folder):
    report = class_report(folder)
    assert report.done == {"02-3": (1, 1), "04-2": (1, 2)}
    assert report.slips.most_common(2) == [(("04-2", "the shortcut"), 2), (("04-2", "wrong sign"), 1)]
    said = report._repr_markdown_()
    assert "| anna | 2 | 2 | 3 |" in said and "| 04-2 | 1 of 2 |" in said and "| the shortcut | 04-2 | 2 |" in said
    assert repr(report) == "ClassReport(2 learners, 2 exercises, 0 files refused)"


def test_damaged_foreign_and_huge_files_are_named_and_the_rest_is_read(folder):
    (folder / "cut.json").write_text((folder / "anna.json").read_text()[:-20])
    (folder / "plan.json").write_text('{"kind": "plan", "version": 1}')
    (folder / "huge.json").write_bytes(b"[" * 5_000_000)
    (folder / "binary.json").write_bytes(bytes(range(256)))
    (folder / "folder.json").mkdir()
    os.mkfifo(folder / "pipe.json")
    (folder / "notes.txt").write_text("not read")
    report = class_report(folder)
    assert set(report.learners) == {"anna", "ben"}
    assert set(report.refused) == {"cut.json", "plan.json", "huge.json", "binary.json", "folder.json", "pipe.json"}
    assert all(why.endswith(".") and "\n" not in why for why in report.refused.values())
    assert "notes" not in report._repr_markdown_()


def test_names_and_slips_cannot_act_on_the_page(folder):
    name = "<img src=x onerror=alert(1)>|[a](javascript_b)*" if os.name != "nt" else "x"
    keep(folder / f"{name}.json", "04-2", False, "<script>|`$x$`")
    said = class_report(folder)._repr_markdown_()
    assert "<img" not in said and "<script" not in said and "](" not in said and "`" not in said and "$" not in said
    assert all(line.count("|") in (0, 4, 5, 3) for line in said.splitlines())


@pytest.mark.parametrize("wrong", [lambda path: class_report(path / "none"), lambda path: class_report_still("x")])
def test_what_there_is_no_report_of(tmp_path, wrong):
    with pytest.raises(ValueError, match=r"\.$"):
        wrong(tmp_path)


def test_too_many_files_are_refused(tmp_path):
    for number in range(501):
        (tmp_path / f"{number}.json").write_text("{}")
    with pytest.raises(ValueError, match="at most 500"):
        class_report(tmp_path)


def test_an_empty_folder_and_its_picture(tmp_path, folder):
    empty = tmp_path / "empty"
    empty.mkdir()
    assert class_report(empty) == ClassReport({}, {})
    keep(folder / "dora.json", "99-9", True, "")
    pictures = [class_report_still(class_report(path))._repr_png_() for path in (empty, folder)]
    drawn = class_report_still(class_report(folder)).canvas.figure.artists
    named = [each.get_text() for each in drawn if isinstance(each, Text)]
    label = next(each for each in exercises_for("04") if each.id == "04-2").ask().label
    assert f"04-2  {label}" in named and "99-9" in named
    assert all(png[:4] == b"\x89PNG" for png in pictures) and pictures[0] != pictures[1]


def test_the_file_says_what_slips_were_made(folder):
    assert json.loads((folder / "ben.json").read_text())["exercises"]["04-2"]["slips"] == {"the shortcut": 2, "wrong sign": 1}


def test_hands_are_counted_taken_back_and_begun_again():
    panel = tally_panel("Will it close?", ("yes", "no"))
    for answer in ("yes", "no", "no"):
        panel.hands[answer].click()
    assert panel.counts == {"yes": 1, "no": 2}
    panel.undo.click()
    assert panel.counts == {"yes": 1, "no": 1}
    panel.clear.click()
    panel.undo.click()
    assert panel.counts == {"yes": 0, "no": 0}


@pytest.mark.parametrize("arguments", [("", ("a", "b")), ("q", ("a",)), ("q", ("a", "a")), ("q", "ab"), (5, ("a", "b")),
                                       ("q", ("a", 5)), ("q", tuple("abcdefghi"))])
def test_a_tally_has_a_question_and_some_answers(arguments):
    with pytest.raises(ValueError, match=r"\.$"):
        tally_panel(*arguments)
