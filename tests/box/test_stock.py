"""Wood: every blank is sawn once, from a board that is thick enough, and the kerfs are kept. Checked with shapely."""

import re
from collections import Counter
from itertools import combinations, pairwise

import numpy as np
import pytest
from boxes import LOCKER, boxes, leaning
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from shapely.geometry import box as rectangle
from splaywork.box.box import Bottom, Box, JointSettings
from splaywork.box.cut_list import cut_list
from splaywork.box.plan import Item, Plan, Stock
from splaywork.box.stock import blanks, stock_plan, trial_corner
from splaywork.box.stock_sheets import save_stock_sheets, stock_sheets

PLAIN = Plan("plain", (Item("plain", Box(400, 300, 100, thickness=12, joint=JointSettings(tails=3)), 2),))


def check(found, wanted, stock):
    """Every blank once, on a board or missing; nothing overlaps or leaves its board, and a kerf lies between neighbours."""
    strips = {strip.name: blank for blank, parts in found.glued for strip in parts}
    placed = [each for board in found.boards for each in board.placed]
    whole = Counter(each.blank.name for each in placed if each.blank.name not in strips)
    glued = Counter(blank.name for blank, _ in found.glued)
    missing = Counter(blank.name for blank in found.missing)
    assert whole + glued + missing == Counter(blank.name for blank in wanted)
    assert Counter(each.blank.name for each in placed if each.blank.name in strips) == Counter(strips.keys())
    for blank, parts in found.glued:  # enough width, and all as long as it is
        assert sum(part.width for part in parts) >= blank.width + 5 * len(parts) - 1e-6
        assert {part.length for part in parts} == {blank.length}
    used = Counter((board.stock.length, board.stock.width, board.stock.thickness) for board in found.boards)
    for board in stock:
        used[board.length, board.width, board.thickness] -= board.count
    assert max(used.values(), default=0) <= 0
    for board in found.boards:
        wood = rectangle(0, 0, board.stock.length, board.stock.width)
        pieces = [rectangle(each.x, each.y, each.x + each.blank.length, each.y + each.blank.width) for each in board.placed]
        rests = [rectangle(rest.x, rest.y, rest.x + rest.length, rest.y + rest.width) for rest in board.rests]
        assert all(wood.buffer(1e-6).contains(piece) for piece in pieces + rests)
        for one, other in combinations(pieces + rests, 2):
            assert one.distance(other) >= found.kerf - 1e-6 if found.kerf else one.intersection(other).area < 1e-6
        assert all(each.blank.thickness <= board.stock.thickness + 0.05 + 1e-9 for each in board.placed)
        check_cuts(board)
    if found.boards:
        sawn = sum(each.blank.length * each.blank.width for each in placed)
        assert found.waste == pytest.approx(1 - sawn / sum(b.stock.length * b.stock.width for b in found.boards))
        assert -1e-9 <= found.least_waste <= found.waste + 1e-9
    return len(placed)


def check_cuts(board):
    """It can be sawn so: no crosscut through a piece of another section, and no rip through one of its own."""
    ends = [(section[0].x, max(each.x + each.blank.length for each in section)) for section in board.sections]
    assert all(after[0] >= before[1] + board.kerf - 1e-6 for before, after in pairwise(ends))
    for section in board.sections:
        assert len({each.x for each in section}) == 1
        edges = [(each.y, each.y + each.blank.width) for each in section]
        assert all(after[0] >= before[1] + board.kerf - 1e-6 for before, after in pairwise(edges))


def test_a_stock_by_hand():
    # 400 × 300 outside, 100 high, 12 thick, upright; 10 spare at each end, 3 at each edge: blanks 420 × 106 and 320 × 106, four
    # of each in two boxes, and two trial pieces of 92 + … long. From boards of 1000 × 230, kerf 4: two side by side, for
    # 106 + 4 + 106 = 216. Sections of 420, 420 (4 between), then 320 fits no more: 844 + 4 + 320 > 1000.
    wanted = blanks(PLAIN)
    sizes = Counter((round(blank.length, 6), round(blank.width, 6)) for blank in wanted if "trial" not in blank.name)
    assert sizes == {(420, 106): 4, (320, 106): 4}
    found = stock_plan(PLAIN, [Stock(1000, 230, 12, 5)], kerf=4)
    assert check(found, wanted, [Stock(1000, 230, 12, 5)]) == 10
    first = found.boards[0]
    assert [(each.x, each.y) for each in first.placed[:4]] == [(0, 0), (0, 110), (424, 0), (424, 110)]
    assert len(found.boards) == 2 and not found.missing
    assert found.words()[0].startswith("2 boards give 10 pieces from 0.46 m²")
    assert repr(found) == f"StockPlan(2 boards, {found.waste:.0%} waste, 0 blanks missing)"
    assert found._repr_html_().count("<p>") == 3


def test_a_blank_wider_than_the_stock_is_glued_up():
    stock = [Stock(1000, 70, 12, 12)]
    found = stock_plan(PLAIN, stock, kerf=3)
    check(found, blanks(PLAIN), stock)
    assert {len(strips) for _, strips in found.glued} == {2}
    assert found.glued[0][1][0].width == pytest.approx(106 / 2 + 5)
    assert any(text.startswith("Glue up ") and "each front of item 1" in text for text in found.words())
    assert not any("each 1" in text for text in found.words())


def test_a_bottom_of_solid_wood_is_a_blank_with_its_grain_from_side_to_side():
    """By hand: 12 mm boards, grooves 4 mm deep, 0.5 mm of play; cherry across 300 − 24 + 8 = 284 mm, 2 % damper, moves
    284 · 0.00248 · 2 = 1.40864. So 400 − 24 + 8 − 1 = 383 by 283 − 1.40864, and allowances of 10 and 3 mm at each edge."""
    box = Box(400, 300, 120, bottom=Bottom(wood="cherry, black", damper=2))
    found = [blank for blank in blanks(Plan("p", (Item("a", box, 2),))) if "bottom" in blank.name]
    assert [blank.name for blank in found] == ["1 bottom, copy 1 of 2", "1 bottom, copy 2 of 2"]
    assert found[0][1:4] == pytest.approx((403, 287.59136, 6))
    assert not any("bottom" in blank.name for blank in blanks(Plan("p", (Item("a", Box(400, 300, 120)),))))


def test_what_is_missing_is_said_in_numbers_and_what_would_do():
    stock = [Stock(900, 120, 12, 1)]
    found = stock_plan(PLAIN, stock, kerf=3)
    check(found, blanks(PLAIN), stock)
    said = " ".join(found.words())
    area = sum(blank.length * blank.width for blank in found.missing) / 1e6
    assert f"Wood is missing for {len(found.missing)} blanks 12.0 mm thick: {area:.2f} m²" in said
    count = int(re.search(r"Buy (\d+) more of 900\.0 × 120\.0 × 12\.0 mm", said).group(1))
    enough = stock_plan(PLAIN, [Stock(900, 120, 12, 1 + count)], kerf=3)
    assert not enough.missing
    nothing = stock_plan(PLAIN, [Stock(2000, 200, 6)])  # too thin for any
    assert len(nothing.missing) == len(blanks(PLAIN)) and nothing.to_buy == () and nothing.waste == 0.0
    assert len(stock_plan(PLAIN, []).missing) == len(blanks(PLAIN))


@settings(max_examples=12, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
@given(st.lists(boxes(), min_size=1, max_size=2), st.integers(1, 3), st.floats(0, 6),
       st.lists(st.tuples(st.floats(200, 2500), st.floats(60, 300), st.floats(5, 18), st.integers(1, 4)), max_size=4))
def test_any_plan_and_any_stock(drawn, quantity, kerf, sizes):
    plan = Plan("any", tuple(Item(f"box {number}", box, quantity) for number, box in enumerate(drawn)))
    stock = [Stock(*size) for size in sizes]
    found = stock_plan(plan, stock, kerf)
    check(found, blanks(plan), stock)
    assert stock_sheets(found)
    for text in (*found.words(), *found.words("in"), *(line for board in found.boards for line in board.words("in"))):
        assert text.endswith(".")


def test_the_stock_and_the_kerf_of_the_plan_are_taken():
    plan = Plan("own", PLAIN.items, stock=(Stock(2400, 230, 12, 2),), kerf=2.5)
    found = stock_plan(plan)
    assert found.kerf == 2.5 and not found.missing
    check(found, blanks(plan), plan.stock)


def test_the_trial_corner_that_proves_most_is_the_one_sawn_furthest_out_of_square():
    item, at = trial_corner(Plan("two", (Item("plain", LOCKER), Item("steep", Box(400, 300, 100, **leaning(20, 0, 25, 3))))))
    assert (item.name, at) == ("steep", "front left")
    names = [blank.name for blank in blanks(PLAIN)]
    assert names[-2:] == ["trial corner, left", "trial corner, front"] and len(set(names)) == len(names) == 10
    assert {blank.thickness for blank in blanks(PLAIN)} == {cut_list(PLAIN.items[0].box).boards[0].blank[2]}


def test_a_thicker_board_is_planed_down_and_said():
    found = stock_plan(PLAIN, [Stock(3000, 230, 15, 2)])
    assert all("planed to 12.0 mm" in text for text in found.boards[0].words()[1:-1])


def test_the_drawing_is_a_pdf_with_every_piece_in_its_board(tmp_path):
    found = stock_plan(PLAIN, [Stock(2400, 120, 12, 4)])
    (path,) = save_stock_sheets(tmp_path / "wood.pdf", found)
    assert path.read_bytes().startswith(b"%PDF")
    for page in stock_sheets(found):
        boards = [item.points for item in page.around if getattr(item, "kind", "") == "sawn off"]
        pieces = [item.points for item in page.around if getattr(item, "kind", "") == "tail outer"]
        wood = [rectangle(*board.min(axis=0), *board.max(axis=0)).buffer(1e-6) for board in boards]
        assert pieces and all(any(board.contains(rectangle(*piece.min(axis=0), *piece.max(axis=0))) for board in wood)
                              for piece in pieces)
        assert min(item.size for item in page.around if hasattr(item, "size")) >= 9
    assert np.isfinite(found.waste)


@pytest.mark.parametrize(("make", "words"), [
    (lambda: stock_plan(LOCKER, []), "plan must be a Plan"),
    (lambda: stock_plan(PLAIN, [12]), "stock must be a list of Stock"),
    (lambda: stock_plan(PLAIN, [], kerf=-1), "kerf of the saw must be"),
    (lambda: stock_sheets(PLAIN), "stock plan must be a StockPlan"),
    (lambda: save_stock_sheets("wood.svg", None), "end the name 'wood.svg'"),
])
def test_what_cannot_be_says_why_in_one_sentence(make, words):
    with pytest.raises(ValueError, match=words) as said:
        make()
    assert str(said.value).endswith(".")
