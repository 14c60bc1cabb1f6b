"""Kits, the course and the assessment form: sizes and counts by hand, wedges at true scale, pages kept, nonsense refused."""

import re
from math import cos, radians, tan

import numpy as np
import pytest
from splaywork import Corner, assessment, course, course_table, kit, save_assessment, save_course, save_kit
from splaywork.common.class_corner import ClassCorner, beside_the_notebooks, save_class_corner
from splaywork.drawing.paper import Area, Label
from splaywork.teaching.course_sheets import BANDS, EVENINGS, criteria
from splaywork.teaching.handout_sheets import TITLES
from splaywork.teaching.kit_sheets import KITS
from splaywork.teaching.scripts import script, scripts


def text_of(pages):
    return " ".join(item.text for page in pages for item in page.around if isinstance(item, Label))


def assert_kept(pages):
    for page in pages:
        points = np.concatenate([np.atleast_2d(item.points) for item in page.around])
        assert points.min() > 8 and (points.max(axis=0) < [page.width - 8, page.height - 8]).all()


def test_every_notebook_with_a_script_but_the_first_has_a_kit():
    assert set(KITS) == set(scripts()) - {"00"} == set(TITLES)


@pytest.mark.parametrize("notebook", KITS)
@pytest.mark.parametrize("paper", ["A4", "A3", "Letter"])
def test_wedges_are_at_true_scale_and_pages_kept(notebook, paper):
    pages = kit(notebook, 7, paper=paper)
    assert_kept(pages)
    assert 1 <= len(pages) <= 3
    wedges = {item.name: item.points for page in pages for item in page.around if isinstance(item, Area)}
    leans = {abs(lean) for pair in (*KITS[notebook].leans, *KITS[notebook].room) for lean in pair if lean}
    assert set(wedges) == {f"wedge {lean:g}" for lean in leans}
    for lean in leans:
        foot, back, flat, top = wedges[f"wedge {lean:g}"]
        high = 120 if lean in np.abs(KITS[notebook].room) else 90
        assert (top - foot)[1] == pytest.approx(high) and (top - foot)[0] == pytest.approx(high * tan(radians(lean)))
        assert flat - top == pytest.approx([20, 0]) and back[1] == foot[1]  # room for a clamp, and it stands on its thick end


def test_sizes_and_counts_are_for_so_many_pairs():
    text = text_of(kit("04", 8))
    for lean, high in ((30, 120), (16, 90), (11, 90)):  # the room's corner is as tall as the panel's
        assert f"200.0 × {high / cos(radians(lean)):.1f} × 18.0 mm" in text
    assert re.search(r"wedge, 16° 2 16 ", text) and re.search(r"wedge, 30° – 4 ", text)  # those for the room only once
    assert re.search(r"bevel 2 16 ", text) and "135 minutes in all" in text
    assert "eye protection" in text


def test_the_kit_of_one_gauge_has_the_corner_in_wood_its_wedges_and_the_paper_boxes():
    text = text_of(kit("07", 5))
    assert re.search(r"wedge, 28° – 2 ", text) and re.search(r"wedge, 24° – 2 ", text)
    assert "24.0° on the tail board and 28.0° on the pin board" in text and "height strip" in text
    bevel = np.degrees(np.arcsin(np.sin(radians(28)) * np.sin(radians(24))))  # square in plan, both leaning out
    assert f"Saw their ends {bevel:.1f}° out of square to the face, the inner face longer" in text
    assert f"{120 / cos(radians(28)):.1f}" in text and f"{120 / cos(radians(24)):.1f}" in text


def test_a_kit_is_cut_for_another_corner_where_one_is_given():
    text = text_of(kit("04", 3, corner=Corner(22, 14)))
    assert all(f"wedge, {lean}°" in text for lean in (22, 14, 30)) and "wedge, 16" not in text
    assert "wedge, 14" not in text_of(kit("02", corner=Corner(22, 14)))  # the pin board stands upright there


@pytest.mark.parametrize("notebook", ["04", "07"])
def test_the_guide_and_the_kit_want_the_same_wedges(notebook):
    lesson = script(notebook)
    said = set(map(float, re.findall(r"(\d+)°", lesson.text(lesson.props + lesson.more).replace("40° all round", ""))))
    assert said == {abs(lean) for pair in (*KITS[notebook].leans, *KITS[notebook].room) for lean in pair}


@pytest.mark.parametrize("notebook", ["02", "03", "04", "05", "06", "09"])
def test_a_kit_follows_the_class_corner_as_the_script_does(tmp_path, monkeypatch, notebook):
    monkeypatch.chdir(tmp_path)
    without = text_of(kit(notebook, 5))
    save_class_corner(beside_the_notebooks(), ClassCorner(22, 14, 100, 15))
    text, lesson = text_of(kit(notebook, 5)), script(notebook)
    assert lesson.pairs == ClassCorner(22, 14, 100, 15) and text != without
    for lean, ours in zip((22, 14), KITS[notebook].leans[0], strict=True):
        assert (f"wedge, {lean}°" in text) == bool(ours) and f"wedge, {ours}°" not in text
        assert not ours or f"200.0 × {100 / cos(radians(lean)):.1f} × 15.0 mm" in text
    said = set(map(float, re.findall(r"(\d+)°", lesson.text(lesson.props))))
    assert said <= {22, 14} | {abs(lean) for pair in KITS[notebook].room for lean in pair}
    assert text_of(kit(notebook, 5, corner=Corner(16, 11))) == without


@pytest.mark.parametrize(("kept", "shown", "told"), [
    (ClassCorner(22, 14, 100, 15), {14: 100, 22: 100, 30: 120}, ""),
    (ClassCorner(-20, 13, 100, 15), {13: 100, 20: 100, 30: 120}, ""),
    (ClassCorner(16, 11, 170), {11: 170, 16: 170, 30: 120}, ""), (ClassCorner(16, 11, 181), {30: 120}, "11° and 16°")])
def test_a_wedge_is_as_tall_as_its_corner_and_lies_on_the_page(tmp_path, monkeypatch, kept, shown, told):
    monkeypatch.chdir(tmp_path)
    save_class_corner(beside_the_notebooks(), kept)
    for paper in ("A4", "Letter", "A3"):
        pages = kit("04", 2, paper=paper)
        assert_kept(pages)
        areas = [(page, item) for page in pages for item in page.around if isinstance(item, Area)]
        assert {float(area.name.split()[1]): round(np.ptp(area.points[:, 1]), 6) for _, area in areas} == shown
        boxes = [(page, area.points.min(axis=0), area.points.max(axis=0)) for page, area in areas]
        assert not any(one[0] is two[0] and (one[1] < two[2]).all() and (two[1] < one[2]).all()
                       for at, one in enumerate(boxes) for two in boxes[at + 1:])  # none over another
        assert (f"Too large to be printed: {told}." in text_of(pages)) == bool(told)


def test_a_kit_keeps_our_corner_where_the_class_corner_shows_nothing(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    without = text_of(kit("04"))
    save_class_corner(beside_the_notebooks(), ClassCorner(5, 0))
    assert text_of(kit("04")) == without
    beside_the_notebooks().write_text("nothing")
    assert text_of(kit("04")) == without


def test_evenings_last_two_hours_and_cover_every_notebook():
    named = set()
    for _, rows, _ in EVENINGS:
        minutes = [row[0] for row in rows]
        assert minutes[0] == 0 and minutes == sorted(set(minutes)) and 95 <= minutes[-1] < 120
        named |= {row[1] for row in rows if row[1]}
        for (start, _, done, _), (end, *_) in zip(rows, [*rows[1:], (120,)], strict=True):
            lesson = re.search(r"(\d+)-minute lesson", done)
            assert not lesson or end - start >= int(lesson[1])
    assert named == set(scripts()) - {"11"}
    assert_kept(course())


def test_a_lesson_without_time_for_its_script_says_what_is_left_of_it():
    told = 0
    for _, rows, _ in EVENINGS:
        for (start, name, done, _), (end, *_) in zip(rows, [*rows[1:], (120,)], strict=True):
            if name in scripts() and end - start < 20:
                told += 1
                assert "No script" in done or "first three rows of the script" in done
                assert "three" not in done or script(name).at(20)[3][0] <= end - start
    assert told == 2


@pytest.mark.parametrize("pairs", [1, 6])
def test_the_table_of_evenings_adds_up_and_names_every_kit_once(pairs):
    *rows, whole = course_table(pairs).rows
    assert len(rows) == len(EVENINGS)
    for (_, lessons, minutes, _), (_, parts, _) in zip(rows, EVENINGS, strict=True):
        assert sum(map(int, minutes.split(", "))) == 120 and len(lessons.split(", ")) == len(parts)
    shown = {part[1] for _, parts, _ in EVENINGS for part in parts} - {"10"}  # which is shown on the panel, without its wood
    kits = [KITS[name] for name in shown & set(KITS)]
    assert abs(float(whole[3]) - sum(each.minutes * pairs + each.before for each in kits) / 60) < 0.051 * len(rows)
    assert f"{sum(float(row[3]) for row in rows):.1f}" == whole[3]  # as anybody adds up the column


@pytest.mark.parametrize("wrong", [0, 41, 1.5, "6"])
def test_the_table_of_evenings_refuses_other_numbers_of_pairs(wrong):
    with pytest.raises(ValueError, match=r"\.$"):
        course_table(wrong)


@pytest.mark.parametrize("leans", [(16, 11), (0, 0), (-20, 30), (40, 40)])
@pytest.mark.parametrize("unit", ["mm", "in"])
def test_bands_of_the_form_are_no_wider_than_they_say(leans, unit):
    pages = assessment(Corner(*leans), unit=unit)
    assert_kept(pages)
    assert len(pages) <= 2
    rows = criteria(Corner(*leans), 120, "mm")
    for row, lean in zip(rows[:2], leans, strict=True):
        run = 100 * tan(radians(lean))
        assert f"{run:.1f}".replace("-", "−") in row[2]
        for told, band in zip(row[3:], BANDS, strict=True):
            off = float(re.search(r"[\d.]+", told)[0])
            worst = max(abs(np.degrees(np.arctan((run + way * off) / 100)) - lean) for way in (-1, 1))
            assert worst <= band + 0.04  # a tenth of a mm


@pytest.mark.parametrize("wrong", [lambda: kit("00"), lambda: kit("04", 0), lambda: kit("04", 41), lambda: kit("04", 2.5),
                                   lambda: kit("04", unit="cm"), lambda: kit("04", paper="A5"), lambda: course("A5"),
                                   lambda: kit("04", corner=(16, 11)), lambda: assessment("x"),
                                   lambda: assessment(Corner(1, 2, 80)), lambda: assessment(height=-1),
                                   lambda: assessment(Corner([1, 2], 3)), lambda: save_course("x.txt")])
def test_what_cannot_be_is_refused_in_one_sentence(wrong):
    with pytest.raises(ValueError, match=r"\.$") as refused:
        wrong()
    assert "\n" not in str(refused.value)


def test_files_are_pdf(tmp_path):
    for save in (lambda path: save_kit(path, "04"), save_course, save_assessment):
        path, = save(tmp_path / "sheet.pdf")
        assert path.read_bytes()[:4] == b"%PDF"
