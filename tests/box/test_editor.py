"""A plan being edited, and what a change does to boards that are cut: without any widget."""

from dataclasses import fields, replace

import numpy as np
import pytest
from boxes import leaning
from cases import examples
from hypothesis import given
from hypothesis import strategies as st
from splaywork.box.box import Box, JointSettings
from splaywork.box.changes import board_verdict, what_changed
from splaywork.box.editor import PlanEditor
from splaywork.box.opening import Clearances, FrontChoice, Opening
from splaywork.box.plan import Item, Plan
from splaywork.box.runners import RunnerChoice
from wood import solid

OPENING = Opening(420, 380, 190, **leaning(5, 0, 16, 4))
DRAWER = Item.for_opening("drawer", OPENING, Clearances(floor=15, left=2), front=FrontChoice(left=1), runners=RunnerChoice(),
                          quantity=3, thickness=12)
PLAN = Plan("lockers", (DRAWER, Item("tray", Box(300, 200, 60, thickness=9))))
SIMPLE = Box(400, 300, 100, thickness=12, joint=JointSettings(tails=3))


def editor(plan=PLAN):
    return PlanEditor(plan)


def test_every_change_can_be_undone_one_after_another():
    made, seen = editor(), []
    steps = [lambda: made.change(width=390), lambda: made.change(height=140), lambda: made.change_item(quantity=5),
             lambda: made.change_plan(unit="in"), made.add_copy, made.add_mirrored, made.remove, lambda: made.open(
                 Plan("other", (Item("one", SIMPLE),))), made.reset, lambda: made.fit(OPENING, Clearances()),
             lambda: made.change_item(already_cut=("front",)), lambda: made.change_plan(kerf=2, chisels=(6,))]
    for step in steps:
        seen.append((made.plan, made.at))
        step()
        assert made.plan != seen[-1][0]
    for before in reversed(seen):
        if made.can_undo:
            made.undo()
            assert (made.plan, made.at) == before
    assert made.plan == PLAN and not made.can_undo
    with pytest.raises(ValueError, match="There is nothing to undo"):
        made.undo()


def test_a_dial_that_is_dragged_is_one_change():
    made = editor()
    for width in range(400, 430):
        made.change(width=width)
    made.change(depth=350)
    made.change(depth=351)
    made.change(width=500)
    made.undo()
    assert (made.box.width, made.box.depth) == (429, 351)
    made.undo()
    assert (made.box.width, made.box.depth) == (429, DRAWER.box.depth)
    made.undo()
    assert made.plan == PLAN and not made.can_undo
    made.change(width=410)
    made.choose(1)
    made.change(width=310)
    made.undo()
    assert made.box.width == 300 and made.at == 1 and made.plan.items[0].box.width == 410


def test_a_change_that_cannot_be_leaves_the_plan():
    made = editor()
    for change in (lambda: made.change(width=-1), lambda: made.change(wide=3), lambda: made.choose(2), lambda: made.choose(-1),
                   lambda: made.change_item(quantity=0), lambda: made.change_plan(unit="cubit"), lambda: made.open(3),
                   lambda: made.fit(OPENING, Clearances(left=430))):
        with pytest.raises(ValueError) as caught:
            change()
        assert str(caught.value).endswith(".")
        assert made.plan is PLAN and made.at == 0 and not made.can_undo


def test_a_fitted_drawer_keeps_what_the_opening_does_not_settle():
    made = editor()
    made.choose(1)
    made.change(back_thickness=8, joint=JointSettings(tails=2), thickness=10)
    made.fit(OPENING, Clearances(floor=20), FrontChoice("overlay"), RunnerChoice(width=25))
    item = made.item
    assert item.fit.box == item.box
    assert (item.box.thickness, item.box.back_thickness, item.box.joint.tails) == (10, 8, 2)
    assert (item.opening, item.clearances.floor, item.front.kind, item.runners.width) == (OPENING, 20, "overlay", 25)


def test_a_mirrored_item_goes_into_the_mirrored_opening():
    made = editor()
    made.add_mirrored()
    other = made.item
    assert other.name == "drawer, mirrored" and other.quantity == 3 and made.at == 2
    assert (other.opening.left_lean, other.opening.right_lean) == (4, 16)
    assert (other.clearances.left, other.clearances.right, other.front.left, other.front.right) == (1.5, 2, 2, 1)
    assert other.fit.box.width == pytest.approx(other.box.width) and other.box == DRAWER.box.mirrored()
    made.add_mirrored()
    assert made.item.name == "drawer (2)" and made.item.box == DRAWER.box
    made.add_copy()
    assert made.item.name == "drawer (2) (2)" and len({item.name for item in made.plan.items}) == 5


def test_the_last_item_stays_and_there_is_an_end_to_items():
    made = PlanEditor(Plan("p", (Item("one", SIMPLE),)))
    with pytest.raises(ValueError, match="keeps one item at least"):
        made.remove()
    full = PlanEditor(Plan("p", tuple(Item(f"box {number}", SIMPLE) for number in range(100))))
    with pytest.raises(ValueError, match="at most 100 items"):
        full.add_copy()
    with pytest.raises(ValueError, match="has 101 items, and 100 can be edited"):
        PlanEditor(Plan("p", tuple(Item(f"box {number}", SIMPLE) for number in range(101))))


# --- what becomes of boards that are cut -------------------------------------------------------------------------


def verdicts(before, after):
    return {name: board_verdict(before, after, name) for name in before.boards}


def test_the_stock_planes_out_thinner():
    # All four boards 11.6 thick instead of 12: none stays. One board alone: it is made anew, its neighbours' tails are long.
    assert set(verdicts(SIMPLE, replace(SIMPLE, thickness=11.6)).values()) == {"make again"}
    only = verdicts(SIMPLE, replace(SIMPLE, back_thickness=11.6))
    assert only["back"] == "make again" and only["front"] == "keep"
    # seen from outside the back is at the left board's left end, and at the right board's right end
    assert only["left"] == "keep; plane its tails flush at the left end"
    assert only["right"] == "keep; plane its tails flush at the right end"
    both = verdicts(SIMPLE, replace(SIMPLE, back_thickness=11.6, front_thickness=10))
    assert both["left"] == both["right"] == "keep; plane its tails flush at both ends"
    thicker = verdicts(SIMPLE, replace(SIMPLE, back_thickness=12.4))  # tails too short: nothing to spare
    assert thicker["left"] == thicker["right"] == "make again"
    pins = verdicts(replace(SIMPLE, tails_on="front and back"), replace(SIMPLE, tails_on="front and back", back_thickness=11.6))
    assert pins["left"] == pins["right"] == "make again"  # their tails' sockets would be too wide


@pytest.mark.parametrize("leans", [(0, 0, 0, 0), (5, 0, 15, 15), (12, -6, 9, 14), (30, 25, -20, 35)], ids=str)
def test_planed_flush_an_old_tail_fits_the_thinner_board(leans):
    """Sawn off by the plane of the thinner board's outer face, where it now lies, the old end is the new one, but for what its
    tails, shorter from the wide end, are narrower: that depth in the tails' slope. The back is made anew, its pins scribed from
    them."""
    before = Box(400, 300, 100, **leaning(*leans))
    after, seen = replace(before, back_thickness=11.4), 0
    for name, end in (("right", 1), ("left", 0)):
        assert board_verdict(before, after, name).startswith("keep; plane its tails flush at the ")
        old, new = (box.boards[name] for box in (before, after))
        shift = old.baselines[1, end, 0] - new.baselines[1, end, 0]  # how far the back comes forward
        assert shift[0] == pytest.approx(0, abs=1e-9) and shift[2] == pytest.approx(0, abs=1e-9) and shift[1] < 0
        outer = after.planes["back outer"]
        planed = solid(old.mesh()).trim_by_plane(tuple(-outer.normal), -(outer.offset + outer.normal @ shift))
        made = solid(new.mesh()).translate(tuple(shift))
        half = ((0.0, 1.0, 0.0), 150.0)  # the end alone
        planed, made = planed.trim_by_plane(*half), made.trim_by_plane(*half)
        tails = before.corners[f"back {name}"].joint.tails
        sliver = tails * 2 * 12 * 11.4 * 0.6 / before.joint.tail_slope
        most = 1.3 * sliver / np.cos(np.radians(max(map(abs, leans)))) ** 2
        assert (planed - made).volume() + (made - planed).volume() < most
        inner = after.planes["back inner"]  # behind the shoulders nothing differs
        cut = tuple(inner.normal), inner.offset + inner.normal @ shift
        planed, made = planed.trim_by_plane(*cut), made.trim_by_plane(*cut)
        assert (planed - made).volume() + (made - planed).volume() < 1e-3
        seen += 1
    assert seen == 2


def test_the_opening_is_narrower():
    # 2 mm narrower: front and back are 2 mm shorter at joints that are cut; the sides stay.
    assert verdicts(SIMPLE, replace(SIMPLE, width=398)) == {"front": "make again", "back": "make again", "left": "keep",
                                                           "right": "keep"}
    # 12 mm narrower, as much as the joint is deep: the front can be sawn off behind one joint and jointed anew there.
    assert verdicts(SIMPLE, replace(SIMPLE, width=388))["front"] == "recut at the left end"
    assert verdicts(SIMPLE, replace(SIMPLE, width=388.1))["front"] == "make again"
    # the right board leans 6°: at the top the front is 100 · tan 6° = 10.5 longer, and the old joint begins at 388
    for width, verdict in ((378, "make again"), (377, "recut at the right end")):
        assert verdicts(SIMPLE, replace(SIMPLE, width=width, right_lean=6))["front"] == verdict
    assert verdicts(SIMPLE, replace(SIMPLE, width=370, right_lean=-6, left_lean=3))["front"] == "recut at both ends"


def test_a_lean_or_a_height_makes_anew_what_it_touches():
    lower = verdicts(SIMPLE, replace(SIMPLE, height=98))
    assert set(lower.values()) == {"make again"}
    front = verdicts(SIMPLE, replace(SIMPLE, front_lean=4))
    assert front["front"] == "make again" and front["back"] == "keep" and front["left"] == "make again"


@examples(25)
@given(st.floats(330, 420), st.floats(250, 320), st.sampled_from([0, 3, -3]), st.sampled_from([0, 5]), st.booleans())
def test_a_board_said_to_be_recut_lies_within_the_wood_of_the_old_one(width, depth, right, left, front_too):
    after = replace(SIMPLE, width=width, depth=depth, right_lean=right, left_lean=left, back_lean=2 * front_too)
    said = verdicts(SIMPLE, after)
    for name, verdict in said.items():
        old, new = SIMPLE.boards[name], after.boards[name]
        if verdict == "keep":
            assert np.allclose(old.in_board(old.outlines), new.in_board(new.outlines), atol=0.01)
        elif verdict.startswith("keep; plane its tails"):
            raise AssertionError("no board became thinner")
        elif verdict.startswith("recut"):
            # what is left of the old board, solid across its width between the old baselines, or the whole old end that stays
            shift = 0.0 if "right" in verdict or "both" in verdict else (
                old.in_board(old.end_lines)[0, 1, 0, 0] - new.in_board(new.end_lines)[0, 1, 0, 0])
            points = new.in_board(new.mesh()[0])
            if "both" in verdict:
                shift = (old.in_board(old.baselines)[:, 0, :, 0] - new.in_board(new.blank)[:, 0, :, 0]).max()
            moved = (
                solid((points + np.array([shift, 0, 0]), new.mesh()[1])),
                solid((old.in_board(old.mesh()[0]), old.mesh()[1])))
            assert (moved[0] - moved[1]).volume() < 0.02 * moved[0].volume() / 100
        else:
            assert verdict == "make again"


def test_the_rows_say_what_changed():
    after = replace(PLAN, items=(replace(DRAWER, name="drawer", box=replace(DRAWER.box, back_thickness=11.6)),
                                 Item("lid", SIMPLE)))
    found = what_changed(replace(PLAN, items=(replace(DRAWER, already_cut=("back",)), PLAN.items[1])), after)
    assert found.added == ("lid",) and found.removed == ("tray",) and len(found.rows) == 4
    rows = {row.board: row for row in found.rows}
    assert rows["back"].already_cut and not rows["front"].already_cut
    assert rows["back"].words == "drawer, back board: make again (thickness 12.0 mm → 11.6 mm)."
    assert rows["front"].words == "drawer, front board: keep."
    assert ("baseline at the left end", "12.0 mm", "11.6 mm") in rows["left"].numbers
    assert found.words[:2] == ("lid is new: make all four boards.", "tray is no longer in the plan.")
    assert found.words[-1] == "Keep all other boards."
    assert "back (already cut)" in found._repr_html_() and found._repr_html_().count("<tr>") == 5
    assert what_changed(PLAN, PLAN).words == ("Nothing changed: keep all boards.",)
    with pytest.raises(ValueError, match="plan before must be a Plan"):
        what_changed(3, PLAN)


def test_boards_already_cut_hold_and_the_rest_is_worked_out_around_them():
    made = PlanEditor(Plan("p", (Item("one", SIMPLE, already_cut=("left", "right")),)))
    made.change(width=390)  # the sides don't know of the width
    assert made.box.width == 390
    for change, words in (({"depth": 298}, "left and right boards are cut already and can't stay so: outer length, bottom "
                           "300.0 mm would become 298.0 mm"), ({"height": 99}, "slant width 100.0 mm would become 99.0 mm"),
                          ({"joint": JointSettings(tails=4)}, "tails at the left end 3 would become 4")):
        with pytest.raises(ValueError, match=words):
            made.change(**change)
        assert made.box == replace(SIMPLE, width=390)
    made = PlanEditor(Plan("p", (Item("one", SIMPLE, already_cut=("front",)),)))
    with pytest.raises(ValueError, match="front board is cut already"):
        made.change(thickness=11.6)  # the sides' thickness sets the front's baselines
    made.change(back_thickness=11.6)
    assert made.box.thickness_of("front") == 12
    assert {each.name for each in fields(Item)} >= {"already_cut"}


def test_a_cut_board_keeps_its_own_thickness_where_that_is_enough():
    thick = replace(SIMPLE, left_thickness=12, right_thickness=12)
    made = PlanEditor(Plan("p", (Item("one", thick, already_cut=("front", )),)))
    made.change(thickness=11.6)
    assert made.box.front_thickness == 12 and made.box.thickness_of("back") == 11.6
