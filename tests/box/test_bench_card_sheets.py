"""The bench card of a whole box: every line where it is on the solid, each with its letter, on one page that can be read."""

import re

import numpy as np
import pdfplumber
import pytest
from boxes import LOCKER, LOCKERS, MIXED, ORDER, UNLIKE
from sheets import MM, boxes_of, overlaps, upright
from splaywork.box.bench_card_sheets import box_bench_card, save_box_bench_card
from splaywork.box.plan import Item, Plan
from splaywork.box.settings import job_settings
from splaywork.common.printing import length
from splaywork.drawing.paper import MARGIN, Area, Label, Stroke

CARDS = [(plan, number) for plan in (LOCKERS, MIXED, UNLIKE) for number in range(1, len(plan.items) + 1)]
EACH = pytest.mark.parametrize(("plan", "number"), CARDS, ids=[f"{plan.name} {number}" for plan, number in CARDS])


def drawn(page, name):
    """The outline of a board on a page, and the strokes that follow before the next board: (m, 2), [(kind, points)]."""
    items = [item for item in page.around if isinstance(item, (Area, Stroke))]
    start = next(at for at, item in enumerate(items) if item.name == name)
    strokes = []
    for item in items[start + 1:]:
        if isinstance(item, Area):
            break
        strokes.append((item.kind, item.points))
    return items[start].points, [each for each in strokes if each[0] in ("struck", "baseline")]


@EACH
def test_every_line_is_drawn_where_it_is_on_the_board(plan, number):
    """All four to one scale: one similarity of plane figures takes the solid's outer face, flat, to what is drawn."""
    (page,) = box_bench_card(plan, number)
    box, scales = plan.items[number - 1].box, []
    for name in ORDER:
        board = box.boards[name]
        outline, strokes = drawn(page, name)
        flat = board.in_board(board.outlines[0])[:, :2]
        scale = np.ptp(outline[:, 0]) / np.ptp(flat[:, 0])
        shift = outline[0] - scale * flat[0]
        assert outline == pytest.approx(scale * flat + shift, abs=1e-6)  # with every cheek
        ends, base = (board.in_board(lines[0])[..., :2] * scale + shift for lines in (board.end_lines, board.baselines))
        assert [kind for kind, _ in strokes] == ["struck", "struck", "baseline", "baseline"]
        assert np.array([points for _, points in strokes]) == pytest.approx(np.concatenate([ends, base]), abs=1e-6)
        scales.append(scale)
    assert np.ptp(scales) < 1e-9 and scales[0] > 0.1


@EACH
@pytest.mark.parametrize("unit", ["mm", "in", "0.001 in"])
def test_numbers_and_letters_are_the_boards_own(plan, number, unit):
    (page,) = box_bench_card(plan, number, unit=unit)
    box, settings = plan.items[number - 1].box, job_settings(plan)
    texts = [item for item in page.around if isinstance(item, Label)]
    said = [item.text for item in texts]
    letters = {each.letter for each in settings.settings}
    for name in ORDER:
        _, strokes = drawn(page, name)
        assert f"{name.capitalize()}, {length(box.thickness_of(name), unit)}" in said
        for size in (box.outer_length(name), box.outer_length(name, box.height)):
            assert length(size, unit) in said
        for end, (_, line) in enumerate(strokes[:2]):  # the letter beside each end line strikes it
            angle = abs(np.degrees(np.arctan2(*(line[1] - line[0]))))
            beside = [item.text for item in texts if item.text in letters and abs(item.at[1] - line[:, 1].mean()) < 4
                      and 0 < (item.at[0] - line[:, 0].mean()) * (-1, 1)[end] < 25]
            assert beside == ([] if angle < 0.05 else [settings.letter(angle)]), (name, end)
    named = " ".join(said[said.index("Settings") + 1:])
    used = {settings.letter(line.from_square) for corner in box.corners.values() for line in corner.joint.lines
            if line.struck_with == "bevel"}
    assert set(re.findall(r"(?:^|; )([A-Z]+) \d", named)) == used


@pytest.mark.parametrize(("plan", "paper", "unit"), [(LOCKERS, "A4", "mm"), (MIXED, "Letter", "in"), (UNLIKE, "A3", "mm")])
def test_the_card_can_be_read_at_arms_length(tmp_path, plan, paper, unit):
    for number in range(1, len(plan.items) + 1):
        (path,) = save_box_bench_card(tmp_path / f"{number}.pdf", plan, number, paper, unit)
        with pdfplumber.open(path) as file:
            (page,) = file.pages
            letters = [char for char in page.chars if char["text"].strip()]
            x0, top, x1, bottom = boxes_of(letters).T * MM
            assert min(x0.min(), top.min()) > MARGIN - 0.05 and x1.max() < float(page.width) * MM - MARGIN + 0.2
            assert bottom.max() < float(page.height) * MM - MARGIN + 0.2
            assert min(char["size"] for char in letters) >= 9 - 1e-3
            assert sum(char["size"] >= 14 - 1e-3 for char in letters) > 60
            words = upright(page).extract_words()
            assert not [pair for pair in overlaps(boxes_of(words), boxes_of(words)) if pair[0] < pair[1]]


@pytest.mark.parametrize(("change", "words"), [
    ({"number": 3}, "number of the item"), ({"number": 0}, "number of the item"), ({"paper": "A5"}, "paper can be"),
    ({"plan": LOCKER}, "plan must be a Plan"), ({"path": "card.svg"}, r"end the name 'card.svg' in \.pdf"),
    ({"plan": Plan("座", (Item("a", LOCKER),))}, "letters of the sheets lack"),
])
def test_what_is_wrong_is_said_and_nothing_is_written(tmp_path, change, words):
    given = {"path": "card.pdf", "plan": LOCKERS} | change
    with pytest.raises(ValueError, match=words):
        save_box_bench_card(tmp_path / given.pop("path"), **given)
    assert not list(tmp_path.iterdir())
