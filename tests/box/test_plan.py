"""The plan file: what was saved comes back, what isn't a plan is named, and a file is never left half-written."""

import json
import os
import signal
import subprocess
import sys
import time
from dataclasses import replace

import pytest
from boxes import LOCKER, boxes, leaning
from cases import examples
from hypothesis import given
from hypothesis import strategies as st
from places import ROOT
from splaywork.box.box import Allowances, Bottom, Box, JointSettings
from splaywork.box.opening import Clearances, FrontChoice, Opening
from splaywork.box.plan import LARGEST, Item, Plan, Stock, load_plan, save_plan
from splaywork.box.runners import RunnerChoice

WIDE = Box(620, 360, 140, **leaning(6, 0, 14, 0), back_thickness=9, joint=JointSettings(tails=3, tail_spacing=(1, 1, 2)),
           allowances=Allowances(12, 4, 1), measured="inside at the bottom", tails_on="front and back")
ITEMS = (Item("port", LOCKER, 2), Item("starboard", LOCKER.mirrored(), 2), Item("wide", WIDE))
PLAN = Plan("galley lockers", ITEMS, "in")


@pytest.fixture
def path(tmp_path):
    return tmp_path / "lockers.json"


@pytest.fixture
def saved(path):
    """The plan as it lies in the file, to be changed and written by hand."""
    save_plan(path, PLAN)
    return json.loads(path.read_bytes())


def test_what_was_saved_comes_back(path):
    save_plan(path, PLAN)
    assert load_plan(path) == PLAN
    content = json.loads(path.read_text(encoding="utf-8"))
    assert (content["version"], content["unit"], len(content["items"])) == (3, "in", 3)
    assert content["items"][2]["box"]["joint"]["tail_spacing"] == [1, 1, 2]
    save_plan(str(path), PLAN)  # over the old one, and from a path as text
    assert load_plan(str(path)) == PLAN
    assert os.listdir(path.parent) == [path.name]


DRAWER = Item.for_opening("drawer", Opening(420, 380, 190, **leaning(5, 0, 15, 15)), Clearances(floor=15), quantity=3,
                          front=FrontChoice(left=1.5), runners=RunnerChoice(width=22), thickness=12, back_thickness=9,
                          bottom=Bottom(5, up=9.5, play=0.8, kind="slid in", wood="oak, white", sawn="quarter", damper=3))
WHOLE = Plan("lockers", (DRAWER, replace(DRAWER, name="cut", already_cut=("front", "left"))), paper="Letter", saw_tilts="right",
             kerf=2.4, chisels=(6, 12.7), stock=(Stock(2400, 145, 12, 5), Stock(900, 300, 6)))


def test_opening_front_runners_bottom_and_stock_come_back(path):
    save_plan(path, WHOLE)
    back = load_plan(path)
    assert back == WHOLE and back.items[0].fit == DRAWER.fit
    assert DRAWER.fit.box == DRAWER.box and DRAWER.fills_its_opening and DRAWER.fit.show_front == back.items[0].fit.show_front
    content = json.loads(path.read_bytes())
    assert content["kind"] == "splaywork plan" and content["items"][0]["opening"]["left_lean"] == 15
    content["items"][0]["opening"]["where"] = "port"
    content["items"][0]["runners"]["wax"] = 1
    content["items"][1]["box"]["bottom"]["glue"] = False
    path.write_text(json.dumps(content), encoding="utf-8")
    save_plan(path, load_plan(path))
    assert json.loads(path.read_bytes()) == content


def test_a_file_of_the_first_version_still_opens(path, saved):
    """As it was written then: no kind, no bottom, nothing about openings, paper or stock."""
    for field in ("kind", "paper", "saw_tilts", "kerf", "chisels", "stock"):
        del saved[field]
    for item in saved["items"]:
        del item["opening"], item["clearances"], item["front"], item["runners"], item["already_cut"], item["box"]["bottom"]
    saved["version"] = 1
    path.write_text(json.dumps(saved), encoding="utf-8")
    assert load_plan(path) == PLAN
    save_plan(path, load_plan(path))
    assert json.loads(path.read_bytes())["version"] == 3 and load_plan(path) == PLAN
    saved["version"] = 2
    path.write_text(json.dumps(saved), encoding="utf-8")
    with pytest.raises(ValueError, match="kind is missing"):
        load_plan(path)


def test_a_file_of_the_second_version_still_opens(path):
    """As it was written then: a bottom of four fields, and all else as now."""
    save_plan(path, WHOLE)
    saved = json.loads(path.read_bytes())
    for item in saved["items"]:
        for field in ("kind", "wood", "sawn", "damper"):
            del item["box"]["bottom"][field]
    saved["version"] = 2
    path.write_text(json.dumps(saved), encoding="utf-8")
    plain = [replace(item, box=replace(item.box, bottom=Bottom(5, up=9.5, play=0.8))) for item in WHOLE.items]
    assert load_plan(path) == replace(WHOLE, items=tuple(plain))
    del saved["items"][0]["opening"]
    path.write_text(json.dumps(saved), encoding="utf-8")
    with pytest.raises(ValueError, match=r"items\[0\].opening is missing"):
        load_plan(path)


def test_a_box_that_was_changed_after_it_was_fitted_still_lies_in_its_opening():
    changed = replace(DRAWER, box=replace(DRAWER.box, height=150))
    assert changed.box != DRAWER.box and not changed.fills_its_opening
    assert replace(DRAWER, box=replace(DRAWER.box, thickness=14)).fills_its_opening  # what the opening doesn't settle
    assert not replace(DRAWER, box=replace(DRAWER.box, measured="outside at the top")).fills_its_opening
    assert changed.fit.at == pytest.approx(DRAWER.fit.at)
    assert changed.fit.gaps["top"] == pytest.approx(DRAWER.fit.gaps["top"] + DRAWER.box.height - 150)
    assert Item("plain", LOCKER).fit is None and Item("plain", LOCKER).fills_its_opening


@pytest.mark.parametrize(("make", "words"), [
    (lambda: Item("a", LOCKER, front=FrontChoice()), "front of 'a' belongs to an opening"),
    (lambda: Item("a", LOCKER, clearances=Clearances()), "clearances of 'a' belongs to an opening"),
    (lambda: Item("a", LOCKER, opening=3), "opening of 'a' must be a"),
    (lambda: Item("a", LOCKER, already_cut="front"), "boards already cut must be names"),
    (lambda: Item("a", LOCKER, already_cut=("front", "front")), "each once"),
    (lambda: Item.for_opening("a", None), "opening must be a"),
    (lambda: Plan("a", ITEMS, stock=(3,)), "stock of a plan must be a tuple of Stock"),
    (lambda: Plan("a", ITEMS, chisels=6), "chisels of a plan must be a tuple of widths"),
    (lambda: Stock(2000, 140, -1), "thickness of the stock must be"),
    (lambda: Stock(2000, 140, 12, 0), "number of boards in stock must be"),
    (lambda: Bottom(0), "thickness of the bottom must be"),
    (lambda: Bottom(up="6"), "height of the bottom must be"),
])
def test_what_cannot_be_planned_says_why(make, words):
    with pytest.raises(ValueError, match=words) as caught:
        make()
    assert str(caught.value).endswith(".")


@examples(20)
@given(boxes(), st.integers(1, 1000))
def test_any_box_comes_back_to_the_last_bit(tmp_path_factory, box, quantity):
    path = tmp_path_factory.mktemp("plans") / "any.json"
    plan = Plan("any", (Item("Kiste — été", box, quantity),))
    save_plan(path, plan)
    assert load_plan(path) == plan


def test_unknown_fields_are_kept_wherever_they_stand(path, saved):
    saved["made_by"] = {"bench": [1, None, "two"]}
    saved["items"][0]["wood"] = "ash"
    saved["items"][1]["box"]["lid"] = True
    saved["items"][1]["box"]["joint"]["wax"] = 0.5
    saved["items"][2]["box"]["allowances"]["planing"] = [0.5]
    path.write_text(json.dumps(saved), encoding="utf-8")
    plan = load_plan(path)
    assert [item.box for item in plan.items] == [item.box for item in PLAN.items]
    save_plan(path, plan)
    assert json.loads(path.read_bytes()) == saved
    assert load_plan(path) == plan


REMOVED = object()


def put(content, where, value):
    *way, last = where
    for step in way:
        content = content[step]
    if value is REMOVED:
        del content[last]
    else:
        content[last] = value


BOX = ("items", 0, "box")


@pytest.mark.parametrize(("where", "value", "words"), [
    (("version",), 4, "version is 4, and only 1 to 3 are known"),
    (("kind",), "recipe", "kind is 'recipe', not 'splaywork plan'"),
    (("kind",), REMOVED, "kind is missing"),
    (("paper",), "B5", "paper can be 'A4', 'A3' or 'Letter'"),
    (("saw_tilts",), "up", "way the saw tilts can be 'left' or 'right'"),
    (("kerf",), -1, "kerf of the saw must be a number of mm, 0 or more"),
    (("chisels",), [6, "12"], r"chisels\[1\] must be a number"),
    (("stock",), [{"length": 2000}], r"stock\[0\].width is missing"),
    (("stock",), 5, "stock must be a list"),
    (("items", 0, "already_cut"), ["lid"], "name of a board already cut can be"),
    (("items", 0, "opening"), 7, r"items\[0\].opening must be an object"),
    (("items", 0, "front"), {"kind": "inset"}, r"items\[0\].front.thickness is missing"),
    (("items", 1, "box", "bottom", "play"), -1, "play of the bottom must be a number of mm, 0 or more"),
    (("items", 1, "box", "bottom", "up"), "6", r"bottom.up must be a number"),
    (("items", 1, "box", "bottom", "kind"), "nailed on", "kind of a bottom can be 'captured' or 'slid in'"),
    (("items", 1, "box", "bottom", "wood"), "cheese", "wood of the bottom can be"),
    (("items", 1, "box", "bottom", "wood"), 3, r"bottom.wood must be text"),
    (("items", 1, "box", "bottom", "damper"), 9, "moisture that the bottom takes up must be a number from 0 to 8"),
    (("items", 1, "box", "bottom", "sawn"), REMOVED, r"bottom.sawn is missing"),
    (("version",), "1", "version must be a whole number, not '1'"),
    (("version",), True, "version must be a whole number, not True"),
    (("version",), REMOVED, "version is missing"),
    (("name",), 5, "name must be text of at most 200 characters, not 5"),
    (("name",), "", "name of the plan must be text of 1 to 200"),
    (("name",), "a\nb", "name of the plan must be text"),
    (("unit",), "cm", "unit can be 'mm', 'in' or '0.001 in', not 'cm'"),
    (("unit",), None, "unit must be text of at most 200 characters, not None"),
    (("items",), {}, "items must be a list"),
    (("items",), [], "items of a plan must be one Item or more"),
    (("items",), REMOVED, "items is missing"),
    (("items", 1), "drawer", r"items\[1\] must be an object"),
    (("items", 1, "quantity"), 0, r"items\[1\] can't be: the quantity of 'starboard' must be a whole number from 1"),
    (("items", 1, "quantity"), 1.0, r"items\[1\].quantity must be a whole number, not 1.0"),
    (("items", 1, "box"), [], r"items\[1\].box must be an object"),
    (("items", 1, "box"), REMOVED, r"items\[1\].box is missing"),
    ((*BOX, "width"), REMOVED, r"items\[0\].box.width is missing"),
    ((*BOX, "width"), "420", r"items\[0\].box.width must be a number, at most 100000, not '420'"),
    ((*BOX, "width"), None, r"box.width must be a number"),
    ((*BOX, "width"), False, r"box.width must be a number"),
    ((*BOX, "width"), -420, r"items\[0\].box can't be: the width must be a number of mm above 0"),
    ((*BOX, "depth"), 10**400, r"box.depth must be a number"),
    ((*BOX, "height"), [110], r"box.height must be a number, at most 100000, not a list"),
    ((*BOX, "left_lean"), 90, r"box can't be: the left lean is 90°"),
    ((*BOX, "left_thickness"), {}, r"box.left_thickness must be a number"),
    ((*BOX, "back_thickness"), 0, r"box can't be: the back thickness must be"),
    ((*BOX, "tails_on"), "lid", r"box can't be: the box's tails_on can be"),
    ((*BOX, "measured"), 3, r"box.measured must be text"),
    ((*BOX, "joint"), None, r"box.joint must be an object"),
    ((*BOX, "joint", "tails"), 2.5, r"box.joint.tails must be a whole number"),
    ((*BOX, "joint", "tails"), 10**9, r"box.joint.tails must be from 1 to 500"),
    ((*BOX, "joint", "tail_slope"), 0.1, r"tail slope is 0.1, read as 1 in 0.1"),
    ((*BOX, "joint", "tail_spacing"), [1, "x"], r"box.joint.tail_spacing\[1\] must be a number"),
    ((*BOX, "joint", "tail_spacing"), [1] * 501, r"box.joint.tail_spacing is for 501 tails"),
    ((*BOX, "joint", "tail_spacing"), "__import__('os').system('true')", r"tail spacing can be 'even'"),
    ((*BOX, "joint", "half_pin"), REMOVED, r"box.joint.half_pin is missing"),
    ((*BOX, "allowances", "end"), -1, r"box.allowances can't be: the allowance for end must be"),
    ((*BOX, "allowances"), REMOVED, r"box.allowances is missing"),
])
def test_a_wrong_field_is_named_in_one_sentence(path, saved, where, value, words):
    put(saved, where, value)
    path.write_text(json.dumps(saved), encoding="utf-8")
    with pytest.raises(ValueError, match=words) as caught:
        load_plan(path)
    said = str(caught.value)
    assert type(caught.value) is ValueError
    assert said.endswith(".") and ". " not in said and "\n" not in said and len(said) < 300


@pytest.mark.parametrize(("old", "new", "words"), [
    ('"width": 420.0', '"width": NaN', "value of NaN, which is no number"),
    ('"width": 420.0', '"width": -Infinity', "value of -Infinity"),
    ('"width": 420.0', '"width": 1e999', "number of '1e999', which is too large"),
    ('"width": 420.0', '"width": ' + "9" * 5000, "can't be read as JSON"),
    ('"width": 420.0', '"width": 420.0, "width": 400.0', "field 'width' twice"),
    ('"unit"', '"made": ' + "[" * 100000 + "]" * 100000 + ', "unit"', "can't be read as JSON"),
])
def test_json_that_says_no_number_or_too_much_is_refused(path, saved, old, new, words):
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(ValueError, match=words):
        load_plan(path)


def test_a_file_cut_short_anywhere_is_refused(path):
    save_plan(path, PLAN)
    whole = path.read_bytes()
    for length in range(0, len(whole) - 1, 97):
        path.write_bytes(whole[:length])
        with pytest.raises(ValueError, match="cut short"):
            load_plan(path)


@pytest.mark.parametrize("content", [b"", b"\xff\xfe", b"3", b"[]", b"null", b'"plan"', b" " * (LARGEST + 1), b"{}",
                                     b"\x00" * 50, b"\xef\xbb\xbf{}"])
def test_what_is_no_plan_at_all_is_refused(path, content):
    path.write_bytes(content)
    with pytest.raises(ValueError, match="plan"):
        load_plan(path)


def test_a_file_that_is_not_there_is_an_error_of_the_disk(path):
    with pytest.raises(FileNotFoundError):
        load_plan(path)


extremes = st.sampled_from([0, 1e-300, 1e-9, 89.9999999, -89.9999999, 99999])
numbers = st.floats(allow_nan=False, allow_infinity=False) | extremes


@examples(30)
@given(st.dictionaries(st.sampled_from(["width", "depth", "height", "front_lean", "left_lean", "thickness",
                                        "back_thickness"]), numbers, min_size=1))
@pytest.mark.filterwarnings("error")
def test_any_numbers_give_a_plan_or_a_sentence(tmp_path_factory, given_numbers):
    path = tmp_path_factory.getbasetemp() / "numbers.json"
    save_plan(path, PLAN)
    content = json.loads(path.read_bytes())
    content["items"][0]["box"] |= given_numbers
    path.write_text(json.dumps(content), encoding="utf-8")
    try:
        load_plan(path)
    except ValueError as wrong:
        assert str(wrong).startswith("In the plan file, ")


# --- saving ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("make", "words"), [
    (lambda: Plan("", (Item("a", LOCKER),)), "name of the plan"),
    (lambda: Plan("a", ()), "one Item or more"),
    (lambda: Plan("a", LOCKER), "one Item or more"),
    (lambda: Plan("a", (Item("a", LOCKER),), "cm"), r"'in' or '0\.001 in'"),
    (lambda: Plan("a", (Item("a", LOCKER),), extra={1: 2}), "extra fields of the plan"),
    (lambda: Item("a", "box"), "box of 'a' must be a Box"),
    (lambda: Item(None, LOCKER), "name of an item"),
    (lambda: Item("a", LOCKER, True), "quantity of 'a' must be a whole number"),
    (lambda: Item("a", LOCKER, extra=[]), "extra fields of the item"),
])
def test_a_plan_that_cannot_be_says_why(make, words):
    with pytest.raises(ValueError, match=words):
        make()


@pytest.mark.parametrize(("plan", "words"), [
    ({"name": "lockers"}, "Only a Plan can be saved, not an object"),
    (Plan("a", PLAN.items, extra={"x": float("nan")}), "can't hold"),
    (Plan("a", PLAN.items, extra={"x": {1, 2}}), "can't hold"),
    (Plan("a", PLAN.items, extra={"x": "\ud800"}), "can't hold"),
    (Plan("a", PLAN.items, extra={"x": "y" * LARGEST}), "make two plans"),
])
def test_what_cannot_be_saved_leaves_the_old_file(path, plan, words):
    save_plan(path, PLAN)
    with pytest.raises(ValueError, match=words):
        save_plan(path, plan)
    assert load_plan(path) == PLAN
    assert os.listdir(path.parent) == [path.name]


def run(path, code):
    """Python in a process of its own, with PLAN and WIDE at hand; the path is its argument."""
    code = "import os, signal, sys\nfrom test_plan import *\npath = sys.argv[1]\n" + code
    here = [os.path.dirname(__file__), str(ROOT / "tests" / "support"), *sys.path]
    environment = os.environ | {"PYTHONPATH": os.pathsep.join(here)}
    return subprocess.Popen([sys.executable, "-c", code, str(path)], env=environment, stdout=subprocess.PIPE)


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="needs a way to kill a process outright")
@pytest.mark.parametrize("step", ["fsync", "replace"])
def test_killed_in_the_middle_of_saving_the_old_file_is_whole(path, step):
    save_plan(path, PLAN)
    killed = run(path, f"os.{step} = lambda *_: os.kill(os.getpid(), signal.SIGKILL)\n"
                       "save_plan(path, Plan('other', PLAN.items[:1]))\n")
    killed.communicate()
    assert killed.returncode == -signal.SIGKILL
    assert load_plan(path) == PLAN


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="needs a way to kill a process outright")
def test_killed_at_any_moment_the_file_is_one_of_the_two_plans(path):
    other = Plan("other", PLAN.items[:1])
    save_plan(path, PLAN)
    saving = run(path, "print('ready', flush=True)\n"
                       "while True:\n    save_plan(path, Plan('other', PLAN.items[:1]))\n    save_plan(path, PLAN)\n")
    assert saving.stdout.readline() == b"ready\n"
    seen = set()
    until = time.monotonic() + 20
    while len(seen) < 2 and time.monotonic() < until:  # read while it is being written
        plan = load_plan(path)
        assert plan in (PLAN, other)
        seen.add(plan.name)
    saving.kill()
    saving.communicate()
    assert seen == {"galley lockers", "other"}
    assert load_plan(path) in (PLAN, other)
