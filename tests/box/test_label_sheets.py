"""Labels: one for each board of each box, right for its place, each within its own cell of the sheet."""

import numpy as np
import pytest
from splaywork.box.box import END_CORNERS, NAMES, Box
from splaywork.box.label_sheets import label_pages, label_texts, save_labels
from splaywork.box.plan import Item, Plan

PLAN = Plan("two", (Item("deep drawer", Box(400, 300, 100, left_lean=14), 3), Item("a name that is much too long for it " * 3,
                                                                                   Box(300, 200, 80))))


def test_every_board_of_every_copy_has_one_label():
    texts = label_texts(PLAN)
    assert len(texts) == len({lines[:2] for lines in texts}) == 4 * 3 + 4
    for name in NAMES:
        assert sum(lines[0] == f"1 {name.upper()}" for lines in texts) == 3
    assert ("1 LEFT", "deep drawer, copy 2 of 3", "outer face", "front at its right end") in texts


def test_the_end_that_is_said_to_be_at_the_front_is():
    said = {lines[0].split()[1].lower(): lines[3] for lines in label_texts(PLAN) if len(lines) > 3}
    assert set(said) == {"left", "right"}
    for name, words in said.items():
        side = words.split()[-2]
        assert END_CORNERS[name][("left", "right").index(side)].startswith("front")


@pytest.mark.parametrize(("rows", "columns", "paper"), [(8, 3, "A4"), (10, 3, "Letter"), (4, 2, "A4"), (13, 5, "A3")])
def test_each_label_keeps_to_its_cell(rows, columns, paper):
    pages = label_pages(PLAN, rows, columns, paper, (7, 12))
    assert len(pages) == -(-16 // (rows * columns))
    count = 0
    for page in pages:
        cell = np.array([(page.width - 14) / columns, (page.height - 24) / rows])
        for item in page.around:
            low, high = item.points.min(axis=0) - (7, 12), item.points.max(axis=0) - (7, 12)
            assert (low // cell == (high - 1e-9) // cell).all(), getattr(item, "text", item)
            count += getattr(item, "name", "") == "up"
    assert count == 16


def test_they_are_saved_as_one_pdf(tmp_path):
    (path,) = save_labels(tmp_path / "labels.pdf", PLAN)
    assert path.read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize(("change", "words"), [
    ({"rows": 0}, "number of rows must be a whole number, from 1 to 40"),
    ({"columns": 10}, "A label of 19 × 35 mm is too small"),
    ({"margins": 5}, "margins must be two numbers"),
    ({"paper": "A5"}, "paper can be"),
    ({"plan": 5}, "plan must be a Plan"),
])
def test_what_cannot_be_says_why_in_one_sentence(change, words):
    with pytest.raises(ValueError, match=words) as said:
        label_pages(**{"plan": PLAN} | change)
    assert str(said.value).endswith(".")
