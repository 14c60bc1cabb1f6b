"""Handouts, keys and bench cards: what is printed agrees with planes met by hand, and nothing gives the answer away."""

import os
import re

import pdfplumber
import pytest
from exercise_answers import Planes, answer_of
from splaywork import Corner
from splaywork.drawing.handouts import TITLES, answer_key, bench_card, handout, save_sheets
from splaywork.exercises import exercises_for, notebooks_with_exercises
from splaywork.measure import degrees
from splaywork.panels import handout_panel

SIZES = {"A4": (595, 842), "A3": (842, 1191), "Letter": (612, 792)}


def text_of(path):
    with pdfplumber.open(path) as file:
        return re.sub(r"\s+", " ", " ".join(page.extract_text() for page in file.pages))


def written(folder, pages, paper="A4", name="sheet.pdf"):
    path, = save_sheets(folder / name, pages, paper)
    return path


def test_every_notebook_with_exercises_has_its_sheets():
    assert tuple(TITLES) == notebooks_with_exercises()


@pytest.mark.parametrize(("lesson", "paper", "unit"), [(lesson, paper, unit) for lesson, paper, unit in zip(
    TITLES, ["A4", "A3", "Letter"] * 3, ["mm", "in", "mm", "in"] * 3, strict=False)])
def test_pages_are_clean(tmp_path, lesson, paper, unit):
    for make in (handout, answer_key):
        path = written(tmp_path, make(lesson, 3, unit, paper), paper)
        with pdfplumber.open(path) as file:
            for number, page in enumerate(file.pages, start=1):
                assert (round(page.width), round(page.height)) == SIZES[paper]
                assert f"page {number} of {len(file.pages)}" in page.extract_text()
                words = page.extract_words()
                assert all(word["x0"] > 30 and word["x1"] < page.width - 30 and word["top"] > 25
                           and word["bottom"] < page.height - 25 for word in words)
                low = [word["bottom"] for word in words if word["bottom"] < page.height - 60]
                # letters of one line may touch those of no other
                for one in words:
                    for other in words:
                        if one is not other and min(one["x1"], other["x1"]) - max(one["x0"], other["x0"]) > 0.5:
                            shared = min(one["bottom"], other["bottom"]) - max(one["top"], other["top"])
                            assert shared < 0.45 * min(one["height"], other["height"]), (one["text"], other["text"])
                assert low


@pytest.mark.parametrize("lesson", TITLES)
@pytest.mark.parametrize("seed", [1, 7])
def test_keys_give_what_the_planes_give(tmp_path, lesson, seed):
    text = text_of(written(tmp_path, answer_key(lesson, seed)))
    for exercise in exercises_for(lesson):
        asked = exercise.ask(seed)
        answer = answer_of(asked)
        if isinstance(answer, str):
            printed = asked.answer_text or answer
            assert asked.answer == answer
        else:
            assert abs(answer - asked.answer) <= max(asked.tolerance, 1e-9)
            printed = asked.answer_text
        wanted = re.sub(r"\s+", " ", printed)
        assert wanted[1:40] in text


@pytest.mark.parametrize("lesson", TITLES)
def test_handouts_ask_and_do_not_tell(tmp_path, lesson):
    text = text_of(written(tmp_path, handout(lesson, 5)))
    for exercise in exercises_for(lesson):
        asked = exercise.ask(5)
        assert re.sub(r"\s+", " ", asked.text)[:50] in text
        if not asked.choices:
            assert asked.answer_text not in text
        assert not any(re.sub(r"\s+", " ", hint) in text for hint in asked.hints)


def test_the_bench_card_agrees_with_planes_met_by_hand(tmp_path):
    text = text_of(written(tmp_path, bench_card(Corner(16, 11), 120, 18, name="Galley locker")))
    planes = Planes(16, 11)
    lines = " ".join(degrees(abs(planes.end_line(board))) for board in ("tail", "pin"))
    assert f"Pin board's end line {lines} " in text
    bevels = f"{degrees(abs(planes.dihedral - 90))} 16.0° 11.0°"
    assert f"Pin board's rim bevel {bevels} " in text
    levels = f"{degrees(planes.level_on_flush_end)} {degrees(planes.level_on_square_end)}"
    assert f" {levels} " in text
    assert "Galley locker" in text and "11.0°" in text and "too steep" in text and "eye protection" in text
    assert "Not these" not in text_of(written(tmp_path, bench_card(Corner(-35, 28, 80), paper="Letter"), "Letter"))


def test_the_same_sheet_gives_the_same_bytes(tmp_path):
    one, two = (written(tmp_path, handout("04", 2), name=f"{name}.pdf").read_bytes() for name in "ab")
    assert one == two != written(tmp_path, handout("04", 3)).read_bytes()


@pytest.mark.parametrize("wrong", [
    lambda: handout("10"), lambda: handout("04", seed=-1), lambda: handout("04", seed="x"), lambda: handout("04", unit="cm"),
    lambda: handout("04", paper="A5"), lambda: bench_card(Corner([1, 2], 3)), lambda: bench_card("corner"),
    lambda: bench_card(Corner(1, 2), name="x" * 61), lambda: bench_card(Corner(1, 2), name="\0"),
    lambda: save_sheets("sheet.svg", handout("04"))])
def test_what_cannot_be_is_refused_in_one_sentence(wrong):
    with pytest.raises(ValueError) as refused:
        wrong()
    assert str(refused.value).endswith(".") and "\n" not in str(refused.value)


def test_the_panel_writes_all_three(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    panel = handout_panel()
    panel.lesson.value, panel.seed.value, panel.name.value = "05", "12", "Port side"
    for what in ("Handout", "Key", "Bench card"):
        panel.writer.buttons[what].click()
        assert panel.writer.progress.value.startswith("Written into ")
    assert sorted(os.listdir("out")) == ["handout-05-seed-12.pdf", "key-05-seed-12.pdf", "port-side-bench-card.pdf"]
    panel.seed.value = "many"
    panel.writer.buttons["Key"].click()
    assert panel.writer.progress.value.startswith("Nothing was written: The seed")
    panel.fields["pin_lean"].value = "89"
    panel.writer.buttons["Bench card"].click()
    assert panel.writer.progress.value.startswith("Nothing was written: Pin lean")
    assert len(os.listdir("out")) == 3


def test_the_panel_reads_inches(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    panel = handout_panel()
    panel.unit.value = "in"
    panel.fields["height"].value = "6"
    panel.writer.buttons["Bench card"].click()
    assert "for a box 6 in high" in text_of(tmp_path / "out" / "corner-bench-card.pdf")
