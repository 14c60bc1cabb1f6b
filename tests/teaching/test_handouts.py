"""Handouts, keys and bench cards: what is printed agrees with planes met by hand, and nothing gives the answer away."""

import math
import os
import re
from collections import Counter
from itertools import product
from math import cos, radians, sin, tan

import numpy as np
import pdfplumber
import pytest
from cases import further, sample
from exercise_answers import Planes, answer_of
from pypdfium2 import PdfDocument
from sheets import texts_of
from splaywork import Corner, handout_panel
from splaywork.common.printing import degrees
from splaywork.drawing.paper import Label, Picture
from splaywork.teaching.bench_card_sheet import bench_card
from splaywork.teaching.exercises import exercises_for, notebooks_with_exercises
from splaywork.teaching.handout_sheets import TITLES, answer_key, handout, save_sheets
from writers import assert_nothing_written

SIZES = {"A4": (595, 842), "A3": (842, 1191), "Letter": (612, 792)}


PAPERS_AND_UNITS = dict(zip(TITLES, zip(["A4", "A3", "Letter"] * 4, ["mm", "in", "mm", "in"] * 3, strict=True), strict=False))
SEED = 3


def text_on(page):
    return re.sub(r"\s+", " ", page.extract_text())


def text_of(path):
    return " ".join(texts_of(path))


def written(folder, pages, paper="A4", name="sheet.pdf"):
    path, = save_sheets(folder / name, pages, paper)
    return path


@pytest.fixture(scope="module")
def printed(tmp_path_factory):
    """(what makes the pages, its arguments) -> (the pages, the open PDF), each written once; `bench_cards` are in one file."""
    folder, files = tmp_path_factory.mktemp("sheets"), {}

    def get(make, *given, paper="A4"):
        key = make, given, paper
        if key not in files:
            pages = make(*given, paper=paper)
            files[key] = pages, pdfplumber.open(written(folder, pages, paper, f"{len(files)}.pdf"))
        return files[key]

    yield get
    for _, file in files.values():
        file.close()


def of_a_lesson(printed, make, lesson):
    """The pages of a lesson's handout or key, and its PDF, on a paper and in a unit that differ from lesson to lesson."""
    paper, unit = PAPERS_AND_UNITS[lesson]
    return printed(make, lesson, SEED, unit, paper=paper)


def bench_cards(*corners, height=120.0, thickness=18.0, unit="mm", name="", paper="A4"):
    """A card for each corner, one after the other."""
    return [page for corner in corners for page in bench_card(corner, height, thickness, unit, name, paper)]


def test_every_notebook_with_exercises_has_its_sheets():
    assert tuple(TITLES) == notebooks_with_exercises()


def assert_clean(page, paper, number="page 1 of 1"):
    """A page has its size and number, keeps its margins, and no word of it lies over another."""
    assert (round(page.width), round(page.height)) == SIZES[paper]
    assert number in page.extract_text()
    words = page.extract_words()
    x0, top, x1, bottom = (np.array([word[side] for word in words]) for side in ("x0", "top", "x1", "bottom"))
    assert len(words) > 20 and (x0 > 30).all() and (x1 < page.width - 30).all()
    assert (top > 25).all() and (bottom < page.height - 25).all()
    beside = np.minimum(x1[:, None], x1) - np.maximum(x0[:, None], x0) > 0.5
    shared = np.minimum(bottom[:, None], bottom) - np.maximum(top[:, None], top)
    # a line's letters may reach a little into the next line's room
    over = np.argwhere(beside & (shared >= 0.45 * np.minimum(bottom - top, (bottom - top)[:, None])))
    pairs = [(one, other) for one, other in over if one < other]
    assert not pairs, [(words[one]["text"], words[other]["text"]) for one, other in pairs]


@pytest.mark.parametrize(("make", "lesson"), sample(list(product([handout, answer_key], TITLES)), range(0, 2 * len(TITLES), 2)))
def test_pages_are_clean_and_have_every_letter(printed, lesson, make):
    pages, file = of_a_lesson(printed, make, lesson)
    assert len(file.pages) == len(pages) <= 4
    for number, (laid, page) in enumerate(zip(pages, file.pages, strict=True), start=1):
        assert_clean(page, PAPERS_AND_UNITS[lesson][0], f"page {number} of {len(pages)}")
        wanted = Counter("".join(flowing([laid]).split()))
        assert wanted and not wanted - Counter("".join(char["text"] for char in page.chars))


@pytest.mark.parametrize("lesson", TITLES)
def test_handouts_are_set_in_eleven_points(lesson):
    """What a class reads on paper; the running head, foot and page number are smaller, and so is a drawing's lettering."""
    for page in handout(lesson, 2):
        sizes = [item.size for item in page.around if isinstance(item, Label) and 28 < item.at[1] < page.height - 28]
        assert len(sizes) > 5 and min(sizes) >= 11


def test_the_key_marks_what_is_right_as_right_and_slips_as_typed():
    """Question 3 of 02 wants degrees from the edge: its slips are printed so, and none of them is the answer."""
    for seed in range(20):
        asked = exercises_for("02")[2].ask(seed)
        key = flowing(answer_key("02", seed))
        third = key.partition("3. Bevel")[2].partition("4. Longer")[0]
        edge = 90 - asked.numbers["tail_lean"]
        answered = third.partition("what went wrong")[2]
        assert f"{edge:.1f}° from the edge" in third.partition("what went wrong")[0]
        if edge != 45:
            assert f"{edge:.1f}° from the edge" not in answered and f"{90 - edge:.1f}° from the edge" in answered


@pytest.mark.parametrize("lesson", TITLES)
def test_no_slip_on_a_key_is_printed_as_the_answer(lesson):
    for exercise in exercises_for(lesson):
        for seed in range(12):
            asked = exercise.ask(seed)
            assert asked.as_typed(asked.answer) not in [asked.as_typed(slip.value) for slip in asked.slips]


@pytest.mark.parametrize(("seed", "lesson"), [*product([1], TITLES), *further(product([7], TITLES))])
def test_keys_give_what_the_planes_give(lesson, seed):
    text = flowing(answer_key(lesson, seed))
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


def flowing(pages):
    """All that is printed, one paragraph after the other: on the page the columns of a table run side by side."""
    return " ".join(item.text for page in pages for item in (*page.inside, *page.around) if isinstance(item, Label))


@pytest.mark.parametrize(("unit", "lesson"), sample(list(product(["mm", "in"], TITLES)), range(0, 2 * len(TITLES), 3)))
def test_keys_carry_every_step_and_remark_in_the_unit_chosen(lesson, unit):
    key, sheet = flowing(answer_key(lesson, 4, unit)), flowing(handout(lesson, 4, unit))
    for exercise in exercises_for(lesson):
        asked = exercise.ask(4, unit)
        assert asked.text in key and asked.text in sheet
        for printed in (*asked.hints, *(slip.remark for slip in asked.slips)):
            assert printed in key


@pytest.mark.parametrize("lesson", TITLES)
def test_handouts_ask_and_do_not_tell(printed, lesson):
    """Read from the file: what a drawing is labelled with counts, too."""
    _, file = of_a_lesson(printed, handout, lesson)
    text = " ".join(map(text_on, file.pages))
    for exercise in exercises_for(lesson):
        asked = exercise.ask(SEED, PAPERS_AND_UNITS[lesson][1])
        assert re.sub(r"\s+", " ", asked.text)[:50] in text
        if asked.choices:
            assert all(re.sub(r"\s+", " ", choice) in text for choice in asked.choices)
        else:
            assert asked.answer_text not in text
        assert not any(re.sub(r"\s+", " ", hint) in text for hint in asked.hints)


def test_handouts_have_a_name_a_date_and_a_picture(printed):
    for lesson in TITLES:
        first = of_a_lesson(printed, handout, lesson)[1].pages[0]
        assert "Name" in first.extract_text() and "Date" in first.extract_text()
        assert len(first.curves) > 3  # the wood
        assert not first.images  # it is drawn, not photographed


def test_a_question_with_a_drawing_has_it_on_the_handout():
    pictures = [item for page in handout("04") for item in page.around if isinstance(item, Picture)]
    assert len(pictures) == 2


CARDS = [(16, 11, 90), (16, 0, 90), (0, 0, 90), (-35, 28, 90), (-12, -20, 90), (70, 60, 90), (20, 15, 72), (-20, -30, 140)]


def galley_cards(*leans, paper):
    return bench_cards(*(Corner(*each) for each in leans), name="Galley locker", paper=paper)


def turned(angle):
    return "square" if abs(angle) < 0.005 else degrees(abs(angle))


@pytest.mark.parametrize("leans", CARDS)
def test_the_bench_card_agrees_with_planes_met_by_hand(printed, leans):
    """Each value, and which way it goes, from the vectors of two leaning faces."""
    _, file = printed(galley_cards, *CARDS)
    text = text_on(file.pages[CARDS.index(leans)])
    assert "Galley locker" in text and "eye protection" in text
    planes = Planes(*leans)
    tail, pin = (planes.end_line(board) for board in ("tail", "pin"))
    assert f"Tail board's end line Pin board's end line {turned(tail)} {turned(pin)} " in text
    for line in (tail, pin):
        if abs(line) > 0.005:
            assert f"longer at the {'top' if line > 0 else 'bottom'}" in text
            assert f"{degrees(90 - abs(line))} from the edge" in text
            assert f"{100 * tan(radians(abs(line))):.1f} mm in 100 mm, 1 in " in text
    bevel, tail_lean, pin_lean = planes.dihedral - 90, *leans[:2]
    assert f" {degrees(planes.dihedral)} {turned(bevel)} {turned(tail_lean)} " in text
    if abs(bevel) > 0.005:
        assert f"inner face {'longer' if bevel > 0 else 'shorter'}" in text
    for board, lean in zip(("tail", "pin"), leans[:2], strict=True):
        outward = (0.0, -1.0, 0.0) if board == "tail" else (-sin(radians(leans[2])), cos(radians(leans[2])), 0.0)
        blunt = sum(x * y for x, y in zip(planes.up[board], outward, strict=True)) > 0  # it turns away from the edge
        if lean:
            assert f"arris {'blunt' if blunt else 'sharp'} at the bottom" in text
    flush, square = planes.level_on_flush_end, planes.level_on_square_end
    assert f" {turned(pin_lean)} {turned(flush)} {turned(square)} " in text
    if abs(flush) > 0.005:
        assert f"{'falls' if flush > 0 else 'climbs'} to the inside" in text
    widths = [f"{planes.width(board, 120):.1f} mm" for board in ("tail", "pin")]
    assert f"{' '.join(widths)} {18 / sin(radians(planes.dihedral)):.1f} mm" in text


def crossed_out(page):
    """The words of a card with a heavy stroke through their middle."""
    strokes = [line for line in page.lines if line["linewidth"] > 1.5]
    return [word["text"].rstrip(",") for stroke in strokes for word in page.extract_words()
            if word["top"] < stroke["top"] < word["bottom"] and word["x0"] < stroke["x1"] - 1
            and stroke["x0"] < word["x1"] - 1]


CROSSED = {(16, 11): ["11.0°", "16.0°", "16.0°", "16.0°"], (-35, 28): ["28.0°", "35.0°", "35.0°", "35.0°"],
           (16, 0): [], (0, 11): [], (0, 0): [], (30, 30): ["30.0°"] * 4}


@pytest.mark.parametrize(("leans", "wrong"), CROSSED.items())
def test_a_gauge_set_to_a_lean_is_crossed_out_where_it_misses(printed, leans, wrong):
    page = printed(bench_cards, *(Corner(*each) for each in CROSSED))[1].pages[list(CROSSED).index(leans)]
    assert crossed_out(page) == wrong
    if leans == (-35, 28):  # by hand: atan(tan 28° cos 35°) is 23.54°, atan(tan 35° cos 28°) 31.73°
        assert "not 28.0°, 4.5° too much" in text_on(page) and "not 35.0°, 3.3° too much" in text_on(page)


@pytest.mark.parametrize(("unit", "paper"), sample(list(product(["mm", "in"], SIZES)), {0, 4}))
def test_the_bench_card_is_one_clean_page(tmp_path, paper, unit):
    pages = bench_cards(*(Corner(*leans) for leans in CARDS), height=613.7, thickness=23.9, unit=unit, name="W" * 60,
                        paper=paper)
    with pdfplumber.open(written(tmp_path, pages, paper)) as file:
        assert len(file.pages) == len(CARDS)
        for page in file.pages:
            assert_clean(page, paper)


@pytest.mark.parametrize("plan", [75, 135, *further([60, 120])])
def test_what_holds_in_a_square_plan_is_said_of_no_other(tmp_path, plan):
    """At this pin lean the tail board's end line is square though the pin board leans; no shortcut is spoken of."""
    pin = -math.degrees(math.atan(math.tan(math.radians(20)) * math.cos(math.radians(plan))))
    corners = [Corner(*leans, plan) for leans in ((20, pin), (20, 15), (20, 0), (0, 0))]
    with pdfplumber.open(written(tmp_path, bench_cards(*corners))) as file:
        for corner, page in zip(corners, file.pages, strict=True):
            text = text_on(page)
            assert ("the pin board is upright" in text) == (
                abs(corner.pin_lean) < 0.005 and abs(corner.tail_end_line) < 0.005)
            assert ("the tail board is upright" in text) == (
                abs(corner.tail_lean) < 0.005 and abs(corner.pin_end_line) < 0.005)
            assert not crossed_out(page) and "board leans" not in text and " not " not in text
    assert abs(Corner(20, pin, plan).tail_end_line) < 1e-9


def test_the_bench_card_is_read_at_arms_length(printed):
    """Letters 3 mm high, capitals, for every setting and what it is; the cautions may be smaller. Our own measure."""
    page = printed(galley_cards, *CARDS)[1].pages[CARDS.index((16, 11, 90))]
    cautions = next(word["top"] for word in page.extract_words() if word["text"] == "Before")
    sizes = [letter["size"] for letter in page.chars if 55 < letter["top"] < cautions - 2]
    assert min(sizes) >= 12


def test_the_same_sheet_gives_the_same_bytes(tmp_path):
    one, two = (written(tmp_path, handout("04", 2), name=f"{name}.pdf").read_bytes() for name in "ab")
    assert one == two != written(tmp_path, handout("04", 3)).read_bytes()


@pytest.mark.parametrize("wrong", [
    lambda: handout("12"), lambda: handout("04", seed=-1), lambda: handout("04", seed="x"), lambda: handout("04", unit="cm"),
    lambda: handout("04", paper="A5"), lambda: bench_card(Corner([1, 2], 3)), lambda: bench_card("corner"),
    lambda: bench_card(Corner(1, 2), name="x" * 61), lambda: bench_card(Corner(1, 2), name="\0"),
    lambda: save_sheets("sheet.svg", handout("04"))])
def test_what_cannot_be_is_refused_in_one_sentence(wrong):
    with pytest.raises(ValueError) as refused:
        wrong()
    assert str(refused.value).endswith(".") and "\n" not in str(refused.value)


def test_the_panel_writes_what_is_chosen(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    panel = handout_panel()
    panel.lessons.value, panel.seed.value, panel.name.value = ("02", "07"), "12", "Port side"
    said = []
    panel.writer.progress.observe(lambda change: said.append(change.new), "value")
    for what in ("Handouts", "Keys", "Bench card"):
        panel.writer.buttons[what].click()
        assert panel.writer.progress.value.startswith("Written into ")
    assert sorted(os.listdir("out")) == ["Port-side-bench-card.pdf", "handout-02-seed-12.pdf", "handout-07-seed-12.pdf",
                                         "key-02-seed-12.pdf", "key-07-seed-12.pdf"]
    assert "Laying out the key of 07 …" in said
    assert re.sub(r"\s+", " ", exercises_for("07")[0].ask(12).text)[:50] in text_of("out/handout-07-seed-12.pdf")
    assert "Port side" in text_of("out/Port-side-bench-card.pdf")


@pytest.mark.parametrize(("button", "paper"), sample(list(product(["Handouts", "Keys", "Bench card"], SIZES)), {0, 4, 8}))
def test_the_panel_prints_on_the_paper_chosen(tmp_path, monkeypatch, paper, button):
    monkeypatch.chdir(tmp_path)
    panel = handout_panel()
    panel.lessons.value, panel.paper.value = ("07",), paper
    panel.writer.buttons[button].click()
    made, = (tmp_path / "out").iterdir()
    with PdfDocument(made) as file:
        assert {tuple(map(round, page.get_size())) for page in file} == {SIZES[paper]}


def test_new_numbers_go_on_to_the_next_seed(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    panel = handout_panel("new")
    panel.lessons.value = ("04",)
    for _ in range(2):
        panel.renew.click()
        panel.writer.buttons["Handouts"].click()
    assert sorted(os.listdir("new")) == ["handout-04-seed-2.pdf", "handout-04-seed-3.pdf"]
    panel.seed.value = "9999"
    panel.renew.click()
    assert panel.seed.read() == 0


@pytest.mark.parametrize(("button", "spoil", "words"), [
    ("Keys", lambda panel: setattr(panel.seed, "value", "many"), "Nothing was written: The seed"),
    ("Handouts", lambda panel: setattr(panel.lessons, "value", ()), "Nothing was written: No notebook is chosen"),
    ("Bench card", lambda panel: setattr(panel.fields["pin_lean"], "value", "89"), "Nothing was written: Pin lean"),
    ("Bench card", lambda panel: setattr(panel.folder, "value", "no/such/folder"), "Nothing was written: There is no"),
    ("New numbers", lambda panel: setattr(panel.seed, "value", "1.5"), "The seed")])
def test_the_panel_says_what_is_wrong_and_writes_nothing(tmp_path, monkeypatch, button, spoil, words):
    monkeypatch.chdir(tmp_path)
    panel = handout_panel()
    spoil(panel)
    (panel.renew if button == "New numbers" else panel.writer.buttons[button]).click()
    assert_nothing_written(panel.writer, words, tmp_path)


def test_the_panel_reads_inches_and_a_plan_angle(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    panel = handout_panel()
    panel.unit.value, panel.fields["height"].value, panel.fields["plan_angle"].value = "in", "6", "120"
    panel.writer.buttons["Bench card"].click()
    text = text_of(tmp_path / "out" / "corner-bench-card.pdf")
    assert "6 in high" in text and "plan angle 120.0°" in text and "in 4″" in text
