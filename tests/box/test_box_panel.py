"""The box panel without a browser: what it draws, lists and refuses, its plan kept and opened, and its files."""

import csv
import io
import os
import re
from dataclasses import replace
from html import unescape
from io import BytesIO

import pdfplumber
import pytest
import splaywork.box.panel as module
from boxes import leaning
from PIL import Image
from sheets import texts_of
from splaywork import box_panel
from splaywork.box.box import Allowances, Bottom, Box, JointSettings
from splaywork.box.cut_list import cut_list, cut_lists_csv
from splaywork.box.fittings import bottom_panel
from splaywork.box.label_sheets import label_pages
from splaywork.box.opening import Clearances, FrontChoice, Opening
from splaywork.box.plan import Item, Plan, Stock, load_plan, save_plan
from splaywork.box.runners import RunnerChoice
from splaywork.box.set_sheets import USUAL, bench_set
from splaywork.box.stock import stock_plan
from splaywork.box.words import box_words, match_words
from splaywork.common import files
from splaywork.common.files import file_stem
from splaywork.common.printing import length

HOSTILE = "<img src=x onerror=alert(1)>"
LOCKER = Box(357.25, 417.125, 187, front_lean=11, left_lean=16, right_lean=4, right_thickness=15,
             joint=JointSettings(tails=4, tail_slope=7, narrowest=3), allowances=Allowances(12, 4, 1))
SHALLOW = Box(430, 450, 95, **leaning(-5, 8, 16, 4), tails_on="front and back",
              rims="square", measured="inside at the bottom")
MANY = Box(900, 900, 390, thickness=6, joint=JointSettings(tails=41, pin_width=1, half_pin=1))
PLAN = Plan("Lockers", (Item("deep, port", LOCKER, 2, {"wood": "larch"}), Item("shallow", SHALLOW)), extra={"shop": 3})


@pytest.fixture(scope="module")
def shared():
    return box_panel(PLAN)


@pytest.fixture
def panel(shared, tmp_path, monkeypatch):
    """A panel as it opens, in a notebook's folder of its own."""
    shared.start_again.click()
    shared.files.folder.value, shared.files.file.value, shared.files.progress.value = "out", "lockers", ""
    choose(shared, *USUAL)
    for fold in shared.folds.values():
        fold.selected_index = 0
    monkeypatch.chdir(tmp_path)
    return shared


def choose(panel, *parts):
    """Take these parts of the bench set and no others."""
    for part, button in panel.files.parts.items():
        button.value = part in parts


def picture(panel):
    return bytes(panel.image.value)


def shown(panel):
    return panel.plan.items[panel.at].box


def press(panel, what):
    panel.files.buttons[what].click()
    assert not any(button.disabled for button in panel.files.buttons.values())
    return unescape(panel.files.progress.value)


def table_of(panel):
    """The table as rows of text, its headings included."""
    rows = re.findall("<tr>(.*?)</tr>", panel.listing.value)
    return [[unescape(cell) for cell in re.findall("<t[hd][^>]*>(.*?)</t[hd]>", row)] for row in rows]


def assert_good(panel):
    assert panel.message.value == ""
    stands, corner, settings = box_words(shown(panel), panel.corner.value, panel.unit.value)
    whole, match = unescape(panel.sentence.value), match_words(shown(panel))
    assert f"{whole} {match}" == stands and match in unescape(panel.settings.value)
    assert corner in unescape(panel.settings.value) and settings in unescape(panel.settings.value)
    with Image.open(BytesIO(picture(panel))) as image:
        assert image.size == (int(panel.image.width), int(panel.image.height)) == (920, 400)


# The box


def test_every_slider_redraws_and_adds_no_artist(panel):
    count = panel.picture.canvas.artist_count()
    for name, dial in panel.dials.items():
        before = picture(panel)
        dial.value = {"tails": 2, "tail_slope": 9}.get(name, dial.value + 3)
        assert picture(panel) != before, name
        assert_good(panel)
    assert panel.picture.canvas.artist_count() == count


@pytest.mark.parametrize("name", ["width", "front_lean", "turn"])
def test_one_more_step_is_drawn_ahead_and_shown_as_if_drawn_then(panel, monkeypatch, name):
    """By a kernel that has nothing else to do; what the canvas then holds is not what is shown, until the controls rest."""
    drawn = []
    update = panel.picture.update
    monkeypatch.setattr(panel.picture, "update", lambda *shown: (drawn.append(shown), update(*shown)))
    slider = panel.dials[name].slider
    monkeypatch.setattr(panel, "rest", lambda: None)
    slider.value = panel.dials[name].value + slider.step  # a size that lies between two steps goes to the next
    slider.value += slider.step
    panel.ahead()
    now, count = panel.image.value, len(drawn)
    slider.value += slider.step
    assert len(drawn) == count and panel.image.value != now
    ahead = panel.image.value
    panel.ahead()  # the canvas is one step further
    monkeypatch.undo()
    panel.rest()
    assert panel.picture.png() == panel.image.value == ahead


def test_pictures_are_kept_but_not_for_ever(panel):
    slider, seen = panel.dials["turn"].slider, {}
    for turn in range(-30, 60, 2):
        slider.value = turn
        seen[turn] = panel.image.value
    assert len(panel._pictures) == module.KEPT
    for turn in (58, 40, -30):
        slider.value = turn
        assert panel.image.value == seen[turn]


def test_untouched_the_box_is_the_items_own_and_a_turn_leaves_it(panel):
    panel.dials["turn"].value = 100
    panel.unit.value = "in"
    assert panel.plan == replace(PLAN, unit="in") and panel.plan.items[0].extra == {"wood": "larch"}


def test_only_what_was_moved_changes(panel):
    panel.dials["left_lean"].value = 20
    assert shown(panel) == replace(LOCKER, left_lean=20)
    panel.own["back"].value = "9"
    panel.own["right"].value = ""
    panel.spare["end"].value = "15 mm"
    wanted = replace(LOCKER, left_lean=20, back_thickness=9, right_thickness=None, allowances=Allowances(15, 4, 1))
    assert shown(panel) == wanted
    panel.end.value, panel.rims.value, panel.tails_on.value = "square", "square", "front and back"
    assert shown(panel) == replace(wanted, joint=replace(LOCKER.joint, end="square"), rims="square",
                                   tails_on="front and back")
    assert_good(panel)


@pytest.mark.parametrize("corner", ["front left", "front right", "back right", "back left"])
def test_each_corner_can_be_picked(panel, corner):
    panel.corner.value = corner
    assert_good(panel)
    assert f"At the {corner} corner" in unescape(panel.settings.value)


def test_inches_are_for_reading_only(panel):
    panel.unit.value = "in"
    assert_good(panel)
    assert shown(panel) == LOCKER and " in" in panel.own["right"].value
    panel.dials["thickness"].field.value = "1/2"
    assert shown(panel).thickness == pytest.approx(12.7)


# What it refuses


@pytest.mark.parametrize(("where", "text", "words"), [
    ("width", "nonsense", "Width"), ("left_lean", "80", "Left lean"), ("tails", "2.5", "isn't whole"),
    ("depth", HOSTILE, "Depth"), ("tails", "40", "no room for 40 tails"), ("left_lean", "-60", "run into each other"),
])
def test_what_cannot_be_is_said_in_one_sentence_and_the_last_good_box_stays(panel, where, text, words):
    panel.dials["thickness"].value = 30
    before = picture(panel), panel.sentence.value, panel.listing.value, panel.plan
    panel.dials[where].field.value = text
    assert (picture(panel), panel.sentence.value, panel.listing.value, panel.plan) == before
    message = panel.message.value
    assert words in unescape(message) and message.endswith(".</b>") and not set("<>") & set(message[3:-4])
    panel.start_again.click()
    assert_good(panel)
    assert shown(panel) == LOCKER


@pytest.mark.parametrize(("field", "text", "words"), [
    ("quantity", "0", "quantity"), ("quantity", "many", "quantity"), ("name", "", "name of an item"),
    ("plan_name", "  ", "name of the plan"),
])
def test_a_bad_name_or_number_is_refused_and_nothing_is_written(panel, tmp_path, field, text, words):
    getattr(panel, field).value = text
    assert words in unescape(panel.message.value) and panel.plan == PLAN
    assert press(panel, "Save plan").startswith("Nothing was written: ") and os.listdir(tmp_path) in ([], ["out"])


def test_a_field_that_cannot_be_read_is_refused(panel):
    panel.own["front"].value = "thick"
    assert "The front board's thickness" in unescape(panel.message.value) and panel.plan == PLAN
    panel.own["front"].value = ""
    assert_good(panel)


def test_a_panel_for_what_it_cannot_show_says_why():
    for plan, words in ((3, "shows a Plan"), (Plan("p", (Item("x", Box(3000, 400, 100)),)), "width of x is 3000.0 mm"),
                        (Plan("p", (Item("x", Box(400, 400, 100, left_lean=70)),)), "left lean of x is 70.0°"),
                        (Plan("p", (Item("x", MANY),)), "number of tails at a corner of x")):
        with pytest.raises(ValueError, match=re.escape(words)):
            box_panel(plan)


# The cut list


def test_decimal_inches_are_shown_saved_and_opened_again(panel, tmp_path):
    panel.unit.value = "0.001 in"
    assert_good(panel)
    assert panel.plan == replace(PLAN, unit="0.001 in") and panel.own["right"].value == "0.591 in"
    panel.dials["thickness"].field.value = "0.5"
    assert shown(panel).thickness == pytest.approx(12.7) and panel.dials["thickness"].field.value == "0.500 in"
    press(panel, "Save plan")
    assert '"unit": "0.001 in"' in (tmp_path / "out" / "lockers.json").read_text()
    panel.start_again.click()
    press(panel, "Open plan")
    assert panel.plan.unit == panel.unit.value == "0.001 in" and shown(panel).thickness == pytest.approx(12.7)
    press(panel, "Cut list")
    head = (tmp_path / "out" / "lockers-cut-list.csv").read_bytes().decode("utf-8-sig").split("\n")[0]
    assert "blank length (in)" in head and "(mm)" not in head
    press(panel, "Job sheets")
    assert "Lengths are in decimal inches" in texts_of(tmp_path / "out" / "lockers-job.pdf")[0]
    panel.unit.value = "mm"


def test_chisels_and_stock_stay_what_they_are_when_the_unit_changes(panel):
    panel.chisels.value, panel.stock.value = "6, 12.7", "2400 × 140 × 12, 5"
    chisels, stock = panel.plan.chisels, panel.plan.stock
    assert (chisels, stock) == ((6, 12.7), (Stock(2400, 140, 12, 5),))
    for unit, said in (("in", "94 31/64 × 5 33/64 × 15/32 in, 5"), ("0.001 in", "94.488 × 5.512 × 0.472 in, 5"),
                       ("mm", "2400.0 × 140.0 × 12.0 mm, 5")):
        panel.unit.value = unit
        assert (panel.plan.chisels, panel.plan.stock) == (chisels, stock) and panel.stock.value == said
        assert panel.message.value == ""
    panel.unit.value = "in"
    panel.stock.value += "\n2400 × 140 × 12 mm, 2\n96 × 6 × 1/2, 3"  # a unit said once counts for all three
    assert panel.plan.stock[1:] == (Stock(2400, 140, 12, 2), Stock(2438.4, 152.4, 12.7, 3))
    panel.unit.value = "mm"


@pytest.mark.parametrize("unit", ["mm", "in", "0.001 in"])
def test_the_table_is_the_cut_list_with_headings_for_every_row_and_column(panel, unit):
    panel.unit.value = unit
    rows = cut_list(LOCKER, 2).rows(unit)
    table = table_of(panel)
    assert table == [[column, *(row[column].replace("-", "−") for row in rows)] if number else
                     [column, *(row[column] for row in rows)] for number, column in enumerate(rows[0])
                     if not column.startswith(("blank area", "blank volume"))]  # those are for the spreadsheet and the shop
    assert panel.listing.value.count('scope="col"') == 5 and panel.listing.value.count('scope="row"') == len(table) - 1
    assert "<caption" in panel.listing.value
    assert cut_list(LOCKER, 2).saw_order[0].words in unescape(panel.steps.value)


def test_the_csv_read_back_is_the_table(panel, tmp_path):
    assert press(panel, "Cut list") == f"Written into {tmp_path / 'out'}: lockers-cut-list.csv."
    text = (tmp_path / "out" / "lockers-cut-list.csv").read_bytes().decode("utf-8-sig")
    read = list(csv.DictReader(io.StringIO(text, newline="")))
    assert read == [{"item": name} | row
                    for name, box, count in (("1. deep, port", LOCKER, 2), ("2. shallow", SHALLOW, 1))
                    for row in cut_list(box, count).rows(decimal=True, everything=True)]


def test_no_name_becomes_a_formula():
    text = cut_lists_csv([("=1+1", cut_list(LOCKER)), ("@x", cut_list(SHALLOW))])
    assert {row["item"] for row in csv.DictReader(io.StringIO(text, newline=""))} == {"1. =1+1", "2. @x"}


# Items


def test_items_are_added_mirrored_chosen_and_removed(panel):
    panel.mirror.click()
    assert [item.name for item in panel.plan.items] == ["deep, port", "shallow", "deep, port, mirrored"]
    assert panel.at == 2
    assert shown(panel) == LOCKER.mirrored() and panel.plan.items[2].quantity == 2
    assert panel.dials["left_lean"].value == 4 and panel.own["left"].value == "15.0 mm"
    assert_good(panel)
    panel.mirror.click()
    assert panel.plan.items[3].name == "deep, port (2)" and shown(panel) == LOCKER
    panel.chosen.value = 1
    assert shown(panel) == SHALLOW and panel.measured.value == "inside at the bottom"
    panel.dials["height"].value = 100
    assert panel.plan.items[1].box.height == 100 and panel.plan.items[0] == PLAN.items[0]
    panel.copy.click()
    panel.name.value, panel.quantity.value = "third", "7"
    assert panel.chosen.options[4] == ("5. third × 7", 4)
    panel.remove.click()
    assert len(panel.plan.items) == 4
    panel.undo.click()
    assert panel.plan.items[4].name == "third" and panel.at == 4


def test_the_last_item_stays(panel):
    panel.remove.click()
    panel.remove.click()
    assert len(panel.plan.items) == 1 and "one item at least" in panel.message.value


def test_reset_can_be_taken_back(panel):
    panel.dials["left_lean"].value = 21
    kept = panel.plan
    panel.start_again.click()
    assert panel.plan == PLAN
    panel.undo.click()
    assert panel.plan == kept
    assert_good(panel)


# An opening


def test_a_drawer_for_an_opening(panel):
    for name, text in (("floor_width", "40 cm"), ("depth", "390"), ("left_lean", "12°30'"), ("left_clearance", "2.5")):
        panel.opening.fields[name].value = text
    panel.opening.fit_it.click()
    opening = Opening(400, 390, 190, front_lean=11, left_lean=12.5, right_lean=4)
    fit = opening.fit(Clearances(left=2.5), thickness=12, right_thickness=15, joint=LOCKER.joint,
                      allowances=LOCKER.allowances)
    assert shown(panel) == fit.box
    assert fit.words() in unescape(panel.opening.words.value) and panel.plan.items[0].opening == opening
    assert_good(panel)
    panel.dials["width"].value -= 5
    assert "was changed after it was fitted" in panel.opening.words.value
    panel.undo.click()
    assert shown(panel) == fit.box
    panel.undo.click()
    assert shown(panel) == LOCKER


@pytest.mark.parametrize(("name", "text", "words"), [
    ("height", "3", "The opening's height"), ("left_clearance", "-1", "The left clearance"), ("depth", HOSTILE, "depth"),
    ("height", "900", "The height of deep, port"), ("left_clearance", "100", "run into each other"),
])
def test_an_opening_that_cannot_be_leaves_the_box(panel, name, text, words):
    panel.opening.fields["floor_width"].value = "125"
    panel.opening.fields[name].value = text
    panel.opening.fit_it.click()
    said = panel.opening.words.value
    assert words in unescape(said) and not set("<>") & set(said[3:-4]) and said.endswith(".</b>")
    assert panel.plan == PLAN
    assert_good(panel)


# Files


def test_a_plan_is_saved_and_opened_again(panel, tmp_path):
    panel.dials["left_lean"].value = 17.5
    panel.plan_name.value = "Other lockers"
    saved = panel.plan
    assert press(panel, "Save plan") == f"Written into {tmp_path / 'out'}: lockers.json."
    assert load_plan(tmp_path / "out" / "lockers.json") == saved and saved.extra == {"shop": 3}
    panel.start_again.click()
    panel.files.file.value = "lockers.json"
    assert press(panel, "Open plan") == f"Opened {tmp_path / 'out' / 'lockers.json'}: 2 items."
    assert panel.plan == saved and panel.plan_name.value == "Other lockers" and panel.dials["left_lean"].value == 17.5
    assert_good(panel)
    panel.undo.click()
    assert panel.plan == PLAN


@pytest.mark.parametrize(("content", "words"), [
    ("{", "can't be read as JSON"), ('{"version": 9, "name": "p", "unit": "mm", "items": []}', "version is 9"),
    (None, "There is no plan lockers.json"),
    ("wide", "width of wide is 3000.0 mm"),
])
def test_a_plan_that_cannot_be_opened_leaves_this_one(panel, tmp_path, content, words):
    (tmp_path / "out").mkdir()
    if content == "wide":
        save_plan(tmp_path / "out" / "lockers.json", Plan("p", (Item("wide", Box(3000, 400, 100)),)))
    elif content:
        (tmp_path / "out" / "lockers.json").write_text(content)
    said = press(panel, "Open plan")
    assert said.startswith("Nothing was opened: ") and words in said
    assert panel.plan == PLAN
    assert_good(panel)


def test_opening_makes_no_folder(panel, tmp_path):
    panel.files.folder.value = "elsewhere"
    assert press(panel, "Open plan").startswith("Nothing was opened: There is no plan")
    assert os.listdir(tmp_path) == []


def test_a_file_that_is_no_plan_is_not_written_over(panel, tmp_path):
    (tmp_path / "out").mkdir()
    (tmp_path / "out" / "lockers.json").write_text("[my own notes]")
    assert "is there already: no plan that can be read here" in press(panel, "Save plan")
    assert (tmp_path / "out" / "lockers.json").read_text() == "[my own notes]"


def test_after_open_plan_the_panel_shows_everything_again(panel, tmp_path):
    item = Item.for_opening("drawer", Opening(411, 382, 187, left_lean=15, front_lean=5), Clearances(floor=16, left=2.5),
                            front=FrontChoice("inset", 14, left=1.5), runners=RunnerChoice(14, 23, kick=1.5), quantity=3,
                            thickness=12, back_thickness=9,
                            bottom=Bottom(5, 9.5, 0.8, 3.5, "slid in", "cherry, black", "quarter", 2))
    plan = Plan("Hull lockers", (item,), "mm", paper="Letter", saw_tilts="right", kerf=2.4, chisels=(6, 12.7),
                stock=(Stock(2400, 145, 12, 5), Stock(900, 300, 6)))
    (tmp_path / "out").mkdir()
    save_plan(tmp_path / "out" / "lockers.json", plan)
    press(panel, "Open plan")
    fields = panel.opening.fields
    assert [fields[name].value for name in ("floor_width", "depth", "height", "left_lean", "front_lean")] == [
        "411.0 mm", "382.0 mm", "187.0 mm", "15.0°", "5.0°"]
    assert [fields[f"{name}_clearance"].value for name in ("floor", "left")] == ["16.0 mm", "2.5 mm"]
    assert (panel.opening.kind.value, fields["front_thickness"].value, fields["left_margin"].value) == ("inset", "14.0 mm",
                                                                                                     "1.5 mm")
    assert panel.opening.carried.value and fields["runner_width"].value == "23.0 mm"
    assert [field.value for field in panel.bottom.values()] == ["5.0 mm", "9.5 mm", "0.8 mm", "3.5 mm", "2"]
    chosen = panel.bottom_kind.value, panel.bottom_wood.value, panel.bottom_sawn.value
    assert chosen == ("slid in", "cherry, black", "quarter")
    assert (panel.files.paper.value, panel.tilts.value, panel.kerf.value) == ("Letter", "right", "2.4 mm")
    assert (panel.chisels.value, panel.stock.value) == ("6.0 mm, 12.7 mm",
                                                        "2400.0 × 145.0 × 12.0 mm, 5\n900.0 × 300.0 × 6.0 mm, 1")
    said = unescape(panel.opening.words.value)
    assert item.fit.words() in said and item.fit.show_front.words() in said and "Make a runner, " in said
    panel.dials["turn"].value = 40
    assert panel.plan == plan  # nothing that was shown again is typed anew
    panel.chisels.value, panel.kerf.value = "1/4 in, 10", "3"
    assert panel.plan.chisels == pytest.approx((6.35, 10)) and panel.plan.kerf == 3
    panel.stock.value = "2000 x 120 x 12, 4"
    assert panel.plan.stock == (Stock(2000, 120, 12, 4),)
    panel.stock.value = "2000, 4"
    assert "isn't length × width × thickness" in unescape(panel.message.value)
    assert panel.plan.stock == (Stock(2000, 120, 12, 4),)
    panel.opening.fit_it.click()
    assert panel.plan.items[0].fills_its_opening and panel.plan.items[0].runners == item.runners


def test_a_bottom_of_solid_wood_is_given_its_play_and_told_in_the_panel(panel):
    said = unescape(panel.bottom_said.value)
    assert "Each groove is " in said and "grain" not in said
    panel.bottom_wood.value, panel.bottom["damper"].value = "cherry, black", "1"
    item = panel.plan.items[0]
    assert item.box.bottom == replace(LOCKER.bottom, wood="cherry, black", damper=1)
    told = bottom_panel(item.box)
    assert told.moves > 0 and all(sentence in unescape(panel.bottom_said.value) for sentence in told.fitting_words())
    panel.bottom_kind.value, panel.bottom["damper"].value = "slid in", "4"
    told = bottom_panel(panel.plan.items[0].box)
    assert "rip the back's lower edge off" in unescape(panel.bottom_said.value)
    assert all(sentence in unescape(panel.bottom_said.value) for sentence in told.fitting_words())
    panel.bottom_kind.value = "captured"
    panel.bottom["damper"].value = "8"
    assert "take sheet material" in unescape(panel.bottom_said.value) and shown(panel).bottom.kind == "captured"
    panel.bottom["damper"].value = "20"
    assert "moisture" in unescape(panel.message.value) and shown(panel).bottom.damper == 8
    for _ in range(6):
        panel.undo.click()
    assert shown(panel) == LOCKER and panel.bottom_wood.value == ""


def test_tails_are_automatic_until_somebody_sets_them(panel):
    panel.automatic.value = True
    assert shown(panel).joint.tails is None and panel.dials["tails"].value == max(
        corner.joint.tails for corner in shown(panel).corners.values())
    panel.dials["height"].value = 97
    few = panel.dials["tails"].value
    panel.dials["height"].value = 187
    assert panel.dials["tails"].value > few and shown(panel).joint.tails is None
    panel.dials["tails"].value = 3
    assert not panel.automatic.value and shown(panel).joint.tails == 3
    panel.undo.click()
    assert panel.automatic.value and shown(panel).joint.tails is None
    assert box_panel().automatic.value


def test_a_gap_or_a_root_narrower_than_the_narrowest_chisel_is_said(panel):
    panel.dials["tails"].value = 6
    assert "narrowest chisel" not in panel.settings.value
    panel.chisels.value = "10, 12"
    gap = min(corner.joint.narrowest_gap for corner in shown(panel).corners.values())
    assert f"The narrowest gap between two tails is {length(gap)}, less than your narrowest chisel of 10.0 mm." in unescape(
        panel.settings.value)
    panel.chisels.value = "30"
    assert "The narrowest root of a tail is " in panel.settings.value


def test_a_turned_view_makes_no_cut_list_anew(panel, monkeypatch):
    panel.dials["width"].value = 400
    asked = []
    for name in ("cut_list", "box_words", "what_changed", "bottom_panel"):
        real = getattr(module, name)
        monkeypatch.setattr(module, name, lambda *given, name=name, real=real, **more:
                            asked.append(name) or real(*given, **more))
    for turn in (10, 20, 30):
        panel.dials["turn"].value = turn
    panel.dials["apart"].value = 40
    assert asked == []
    panel.dials["width"].value = 410
    assert {*asked} == {"cut_list", "box_words", "what_changed", "bottom_panel"}


@pytest.mark.parametrize(("fold", "shows"), [
    ("steps", lambda panel: panel.steps.value), ("changes", lambda panel: panel.changes.value),
    ("opening", lambda panel: panel.opening.words.value), ("boards", lambda panel: panel.bottom_said.value)])
def test_what_is_folded_away_is_made_when_it_is_opened(panel, fold, shows):
    """A move costs nothing for what nobody looks at; opened, it is what it would have been."""
    panel.folds[fold].selected_index = None
    before = shows(panel)
    panel.opening.fit_it.click()
    panel.dials["left_lean"].value = 21
    assert shows(panel) == before
    panel.folds[fold].selected_index = 0
    after = shows(panel)
    assert after != before and after
    panel.dials["turn"].value = 77
    assert shows(panel) == after


def test_boards_that_are_cut_hold_and_what_changed_is_listed(panel, tmp_path):
    panel.dials["width"].value = 360
    panel.undo.click()
    assert "keep all boards" in panel.changes.value
    panel.cut["left"].value = True
    assert panel.plan.items[0].already_cut == ("left",)
    before = shown(panel)
    panel.dials["depth"].value = 430
    assert "left board is cut already" in panel.message.value and shown(panel) == before
    panel.undo.click()
    panel.undo.click()
    assert not panel.cut["left"].value and panel.message.value == ""
    panel.own["back"].value = "9"
    assert "make again" in panel.changes.value and "thickness 12.0 mm → 9.0 mm" in unescape(panel.changes.value)
    press(panel, "Save plan")
    assert "keep all boards" in panel.changes.value


def test_the_file_s_name_follows_the_plan_s_until_it_is_changed(panel):
    panel.files.file.value = file_stem("Lockers")
    panel.plan_name.value = "Bow lockers"
    assert panel.files.file.value == file_stem("Bow lockers") != "mine"
    panel.files.file.value = "mine"
    panel.plan_name.value = "Stern lockers"
    assert panel.files.file.value == "mine"


def test_the_parts_of_the_bench_set_are_chosen(panel, tmp_path):
    assert {part for part, button in panel.files.parts.items() if button.value} == set(USUAL)
    named = [button.description for button in (*panel.files.parts.values(), *panel.files.buttons.values())]
    assert len(set(named)) == len(named) == 17
    choose(panel, "bench cards", "boards")
    assert "Written into " in press(panel, "Bench set")
    with pdfplumber.open(tmp_path / "out" / "lockers-bench-set.pdf") as file:
        assert len(file.pages) == len(bench_set(panel.plan, parts=("boards", "bench cards")))
        titles = [page.extract_text() for page in file.pages]  # in lines, because a title is told by its line
    assert sum("bench card" in title.split("\n")[1] for title in titles[2:]) == 2
    choose(panel)
    assert "choose one at least" in press(panel, "Bench set")


def test_labels_and_wood_are_printed(panel, tmp_path):
    panel.files.labels["rows"].value, panel.files.labels["columns"].value = "7", "2"
    assert "lockers-labels.pdf" in press(panel, "Labels")
    pages = texts_of(tmp_path / "out" / "lockers-labels.pdf")
    assert len(pages) == len(label_pages(panel.plan, 7, 2)) == 1
    assert pages[0].count("outer face") == 12  # of three boxes
    panel.files.labels["rows"].value = "39"
    assert "too small to write on" in press(panel, "Labels")
    panel.files.labels["rows"].value = "8"
    assert "The plan has no stock" in press(panel, "Wood") and len(os.listdir(tmp_path / "out")) == 1
    panel.stock.value = "2400 × 240 × 15, 5"
    said = press(panel, "Wood")
    found = stock_plan(panel.plan)
    assert "lockers-wood.pdf" in said and all(sentence in said for sentence in found.words())
    assert (tmp_path / "out" / "lockers-wood.pdf").read_bytes().startswith(b"%PDF")


def test_a_full_disk_loses_nothing(panel, tmp_path, monkeypatch):
    choose(panel, "labels")  # a set of three pages is written as one of fifty is
    for what in ("Save plan", "Cut list", "Bench set", "Paper model"):
        assert press(panel, what).startswith("Written into ")
    before = {path.name: path.read_bytes() for path in (tmp_path / "out").iterdir()}
    panel.dials["left_lean"].value = 20

    def full(_):
        raise OSError(28, "No space left on device")
    with monkeypatch.context() as disk:
        disk.setattr(files.os, "fsync", full)
        for what in ("Save plan", "Cut list", "Bench set", "Paper model"):
            assert "No space left on device" in press(panel, what)
    assert {path.name: path.read_bytes() for path in (tmp_path / "out").iterdir()} == before


@pytest.mark.parametrize("name", ["../../etc/passwd", "", "a\0b", HOSTILE, "x" * 500])
def test_whatever_the_name_the_files_stay_in_the_folder(panel, tmp_path, name):
    panel.files.file.value = name
    for what in ("Save plan", "Cut list", "Open plan"):
        press(panel, what)
        assert not set("<>\"") & set(panel.files.progress.value)
    assert os.listdir(tmp_path) == ["out"] and len(os.listdir(tmp_path / "out")) == 2
