"""Bench sets as a maker gets them: the PDF is read back with pdfplumber, and every number on it worked out again.

The independent route knows no closed form: the faces of the box are planes in 50-digit arithmetic, points are where
three of them meet (linear equations solved by mpmath), and angles are read off between directions. Paper sizes: ISO 216
(A4, A3) and ANSI/ASME Y14.1 (Letter, 8½ × 11 in), from memory.
"""

import datetime
import os
import re
import subprocess
import sys
from functools import cache
from itertools import pairwise, product
from pathlib import Path

import numpy as np
import pdfplumber
import pytest
import splaywork
from boxes import LOCKER, boxes, leaning
from cases import THOROUGH, further
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from mpmath import mp
from plane_route import dot
from sheets import ALONG, DECIMAL, MM, NAMES, SIZES, Planes, boxes_of, labels, meet, minus, near, overlaps, upright, words_of
from splaywork.box.box import Box, JointSettings
from splaywork.box.label_sheets import label_pages
from splaywork.box.plan import Item, Plan
from splaywork.box.set_sheets import bench_set, save_bench_set
from splaywork.box.settings import job_settings
from splaywork.common.printing import length, lengths
from splaywork.drawing.paper import MARGIN

STEEP = Box(300, 280, 90, **leaning(30, 30, 35, 35), thickness=10)
MIXED = Box(380, 300, 120, **leaning(-12, 5, 18, -8), tails_on="front and back", joint=JointSettings(end="square"))
INWARD = Box(420, 350, 100, **leaning(-9, -4, -20, -14), thickness=14, measured="outside at the top", rims="square")
PLAIN = Box(200, 150, 60, thickness=8, joint=JointSettings(tails=1))
LONG = ("a name of a locker drawer that is longer than any line " * 4)[:200]
PLAN = Plan("Galley lockers", (Item("port drawer", LOCKER, 2), Item("starboard drawer", LOCKER.mirrored(), 2)))
PLANS = {
    "mild": PLAN,
    "steep, mixed": Plan("Trays", (Item("steep tray", STEEP, 3), Item("mixed box", MIXED))),
    "one box": Plan("Galley lockers", PLAN.items[:1]),
    "inward, long names": Plan(LONG, (Item(LONG, INWARD, 1000), Item("W" * 200, PLAIN))),
}
SHORT = Plan("Plain box", (Item("plain box", PLAIN),))


@cache
def text_of(page):
    return upright(page).extract_text().replace("\n", " ")


def parts_of(name):
    """All usual parts, or for more than one box those whose numbers are read: templates and cards have tests of their own."""
    return None if THOROUGH or name == "one box" else ("job", "lists", "boards", "corners")


@pytest.fixture(scope="module")
def printed(tmp_path_factory):
    """(plan's name, paper, unit) -> the open PDF, written once; it has as many pages as were drawn."""
    folder, files = tmp_path_factory.mktemp("sets"), {}

    def get(name, paper, unit):
        if (name, paper, unit) not in files:
            drawn = []
            (path,) = save_bench_set(folder / f"{len(files)}.pdf", PLANS[name], paper, unit, parts=parts_of(name),
                                     progress=lambda *now: drawn.append(now))
            files[name, paper, unit] = pdfplumber.open(path)
            assert len(files[name, paper, unit].pages) == len(drawn) == drawn[-1][1]
        return files[name, paper, unit]

    yield get
    for file in files.values():
        file.close()


SETS = pytest.mark.parametrize(("name", "paper", "unit"), [
    ("steep, mixed", "Letter", "in"), ("one box", "A4", "mm"),
    *further([("mild", "A4", DECIMAL), ("inward, long names", "A3", "mm")])])
LENGTHS = {"mm": r"\d+\.\d mm", "in": r"(?:\d+ )?\d+(?:/\d+)? in", DECIMAL: r"\d+\.\d{3} in"}


# --- pages ---------------------------------------------------------------------------------------------------------


@SETS
def test_every_page_has_its_size_its_number_and_its_box(printed, name, paper, unit):
    pages, plan = printed(name, paper, unit).pages, PLANS[name]
    begun = [number for number, page in enumerate(pages) if "Seen from the front left." in text_of(page)]
    assert len(begun) == len(plan.items)
    owners = [None] * begun[0]
    for item, (first, after) in zip(plan.items, pairwise([*begun, len(pages)]), strict=True):
        owners += [item.name] * (after - first)
    for number, (page, owner) in enumerate(zip(pages, owners, strict=True), start=1):
        assert sorted(float(side) * MM for side in (page.width, page.height)) == pytest.approx(SIZES[paper], abs=0.01)
        text = text_of(page)
        assert f"page {number} of {len(pages)}" in text
        start = (owner or plan.name)[:12]  # long names are shortened
        assert start in text


@SETS
def test_no_words_overlap_or_leave_the_margins(printed, name, paper, unit):
    for page in printed(name, paper, unit).pages:
        letters = [char for char in page.chars if char["text"].strip()]
        x0, top, x1, bottom = boxes_of(letters).T * MM
        inside = (float(page.width) * MM - MARGIN, float(page.height) * MM - MARGIN)
        assert min(x0.min(), top.min()) > MARGIN - 0.05
        assert x1.max() < inside[0] + 0.2 and bottom.max() < inside[1] + 0.2
        words = upright(page).extract_words(use_text_flow=True)  # labels beside a paragraph would mix its lines
        pairs = [(i, j) for i, j in overlaps(boxes_of(words), boxes_of(words)) if i < j]
        assert not pairs, [(words[i]["text"], words[j]["text"]) for i, j in pairs]
        turned = [char for char in letters if char["matrix"][1]]
        assert not overlaps(boxes_of(words), boxes_of(turned)).size


@SETS
def test_no_line_leaves_the_margins_or_runs_through_a_length(printed, name, paper, unit):
    for page in printed(name, paper, unit).pages:
        drawn = boxes_of(page.lines + page.rects + page.curves)
        x0, top, x1, bottom = drawn[drawn[:, 2] - drawn[:, 0] < float(page.width) - 1].T * MM  # but for the white paper
        wide, high = float(page.width) * MM, float(page.height) * MM
        assert min(x0.min(), top.min()) > MARGIN - 1
        assert max(x1.max() - wide, bottom.max() - high) < 1 - MARGIN
        if is_board(page):
            numbers = boxes_of([word for word in words_of(page) if is_length(word, page)])
            lines = boxes_of(page.lines)
            straight = lines[np.minimum(lines[:, 2] - lines[:, 0], lines[:, 3] - lines[:, 1]) < 0.1]  # upright or level
            inner = numbers + np.array([0.5, 1.5, -0.5, -1.5])
            grown = straight + np.array([-0.3, -0.3, 0.3, 0.3])
            assert not overlaps(inner, grown).size


def test_equal_boards_and_corners_are_printed_once_and_mirrored_ones_each():
    def titles(box):
        return [label for page in bench_set(Plan("any", (Item("any", box),))) for label in labels(page)]

    steep = titles(STEEP)
    assert steep.count("Front and back boards") == steep.count("Right and left boards") == 1
    assert steep.count("Front left and back right corners") == steep.count("Front right and back left corners") == 1
    locker = titles(LOCKER)
    for board in ("Front board", "Back board", "Left board", "Right board"):
        assert locker.count(board) == 1


def test_each_hand_gets_its_own_templates(tmp_path):
    (path,) = save_bench_set(tmp_path / "templates.pdf", Plan("Trays", PLANS["steep, mixed"].items[:1]), parts=("templates",))
    with pdfplumber.open(path) as file:
        pages = [text_of(page) for page in file.pages]
    mine = [text for text in pages if text.startswith("Wrap template") and "steep tray" in text]
    assert sorted(text.split(" page")[0] for text in mine) == [
        f"Wrap template: {board} board, {end} end" for board, end in product(("pin", "tail"), ("left", "right"))]


# --- the numbers ---------------------------------------------------------------------------------------------------


def scale_of(page):
    """How much larger all is than on A4."""
    return min(float(page.width) * MM / 210, float(page.height) * MM / 297)


def sized(words, page, points):
    return [word for word in words if abs(word["size"] - points * scale_of(page)) < 0.02]


def is_length(word, page):
    return abs(word["size"] - 12 * scale_of(page)) < 0.02


def lines_of(words):
    """Words joined line by line, from the top down."""
    rows = {}
    for word in sorted(words, key=lambda word: word["x0"]):
        rows.setdefault(round(word["top"]), []).append(word["text"])
    return [" ".join(rows[top]) for top in sorted(rows)]


def is_board(page):
    return bool(re.match(r".*page \d+ of \d+ \w+( and \w+)? boards? Make \d+ ", text_of(page)))


def degrees_in(text):
    return 0.0 if text == "square" else float(text.replace("−", "-").replace("+", "").rstrip("°"))


def angle_is(text, true):
    return abs(degrees_in(text) - float(true)) <= 0.05 + 1e-9


def check_board_page(page, planes, unit):
    text = text_of(page)
    title = re.search(r"page \d+ of \d+ (\w+)( and (\w+))? boards?", text)
    names = [found.lower() for found in title.group(1, 3) if found]
    words = words_of(upright(page))
    for name in names:
        lengths = lines_of(sized(words, page, 12))
        wanted = [planes.length(name, face, rim) for face in ("outer", "inner") for rim in ("top", "bottom")]
        assert len(lengths) == 4
        assert all(near(*pair, unit) for pair in zip(lengths, wanted, strict=True)), (name, lengths, wanted)
        turned = [char for char in page.chars if char["matrix"][1]]
        slant = "".join(char["text"] for char in sorted(turned, key=lambda char: -char["top"]))
        assert near(slant.strip(), planes.slant_width(name), unit)
        shown = re.search(r"end line (\S+) end line (\S+)", text)
        for end, angle in zip(("left", "right"), shown.groups(), strict=True):
            assert angle_is(angle, planes.end_line(name, end))
            check_end_row(text, planes, name, end, unit)
        check_blank_and_rims(text, planes, name, unit)
    return names


def check_end_row(text, planes, name, end, unit):
    row = re.search(rf"{end} end ((?:[+−]\d+\.\d°|square) .*?)(?= right end | – | Lengths in )", text).group(1)
    assert angle_is(row.split()[0], planes.end_line(name, end))
    edge = re.search(r"(\d+\.\d)° from the edge", row)
    true = abs(float(planes.end_line(name, end)))
    assert (edge and abs(float(edge.group(1)) - (90 - true)) <= 0.05) or ("a square" in row and true < 0.05)
    bevel = float(planes.end_bevel(name, end)) if planes.box.joint.end == "flush" else 0.0
    said = re.search(r"(\d+\.\d)° out of", row)
    if said:
        assert abs(float(said.group(1)) - abs(bevel)) <= 0.05
        assert ("longer" if bevel > 0 else "shorter") in row
    else:
        assert abs(bevel) < 0.05 and "square to the" in row
    gauge = re.findall(r"(?<!over )(?:\d+ )?\d+/\d+ in\b" if unit == "in" else LENGTHS[unit], row)[-1]
    assert near(gauge, planes.baseline(name, end), unit)


def check_blank_and_rims(text, planes, name, unit):
    rim = float(planes.rim_bevel(name))
    said = re.search(r"(\d+\.\d)° out of square length × width", text)
    assert (said and abs(float(said.group(1)) - abs(rim)) <= 0.05) or abs(rim) < 0.05
    if said:
        bottom, top = ("inner", "outer") if rim > 0 else ("outer", "inner")
        assert f"{bottom} face longer at the bottom, {top} face at the top" in text
    if planes.box.joint.end == "flush":
        blank = re.search(r"rip both rims (.*? × .*? × .*?) (mm|in)\b", text)
        sizes = [f"{part} {blank.group(2)}" for part in blank.group(1).split(" × ")]
        assert all(near(*pair, unit) for pair in zip(sizes, planes.blank(name), strict=True))


def check_cut_list(text, planes, quantity):
    """The table's numbers, in mm."""
    def row(label):
        found = re.search(rf"{re.escape(label)} ((?:[+−]?\d+(?:\.\d+)? ?){{4}})", text)
        return [degrees_in(number) for number in found.group(1).split()]

    assert row("quantity") == [quantity] * 4
    wanted = {"slant width (mm)": planes.slant_width, "rim bevel (°)": planes.rim_bevel}
    for (face, where), rim in product((("outer", "outer"), ("inner", "inside")), ("bottom", "top")):
        wanted[f"{where} length, {rim} (mm)"] = lambda name, face=face, rim=rim: planes.length(name, face, rim)
    for end in ("left", "right"):
        wanted[f"{end} end line (°)"] = lambda name, end=end: planes.end_line(name, end)
        wanted[f"{end} baseline (mm)"] = lambda name, end=end: planes.baseline(name, end)
        if planes.box.joint.end == "flush":
            wanted[f"{end} end bevel (°)"] = lambda name, end=end: planes.end_bevel(name, end)
    if planes.box.joint.end == "flush":
        for number, side in enumerate(("length", "width", "thickness")):
            wanted[f"blank {side} (mm)"] = lambda name, number=number: planes.blank(name)[number]
    for label, true in wanted.items():
        for number, name in zip(row(label), NAMES, strict=True):
            assert abs(number - float(true(name))) <= 0.05 + 1e-9, (label, name)


def saw_steps(page):
    """Rows of the saw order on a page as [number, blade, mitre gauge, cuts, count]."""
    words = words_of(upright(page))
    small = [word for word in words if abs(word["size"] - 8 * scale_of(page)) < 0.02]
    heads = [next(word["x0"] for word in small if word["text"] == text) for text in ("blade", "mitre", "cuts")]
    right = next(word["x1"] for word in small if word["text"] == "all")  # where the counts end
    words = [word for word in words if abs(word["size"] - 10 * scale_of(page)) < 0.02]
    starts = [word["top"] for word in words if word["x0"] < heads[0] - 5 and word["text"].isdigit()]
    steps = [[[] for _ in range(5)] for _ in starts]
    for word in words:
        if word["top"] > starts[0] - 1:
            row = np.searchsorted(starts, word["top"] + 1) - 1
            column = 4 if abs(word["x1"] - right) < 2 else np.searchsorted(heads, word["x0"] + 1)
            steps[row][column].append(word["text"])
    return [[" ".join(cell) for cell in step] for step in steps]


def check_saw_order(steps, planes, quantity):
    """Every cut of every board has a step with its settings, and the counts add up."""
    steps = [step[1:] for step in steps]
    rips, ends = ([step for step in steps if (step[1] == "–") == rip] for rip in (True, False))
    assert [sum(int(step[3]) for step in some) for some in (rips, ends)] == [8 * quantity] * 2

    def value(word):
        return 0.0 if word in ("upright", "square") else float(word.split()[0].rstrip("°"))

    for name in NAMES:
        assert sum(f"{name} board, bottom edge" in step[2] and abs(value(step[0]) - abs(planes.rim_bevel(name))) <= 0.1
                   for step in rips) == 1
        for end in ("left", "right"):
            bevel = abs(planes.end_bevel(name, end)) if planes.box.joint.end == "flush" else 0
            wanted = bevel, abs(planes.end_line(name, end))
            assert any(f"{name} board, {end} end" in step[2]
                       and all(abs(value(word) - true) <= 0.1 for word, true in zip(step[:2], wanted, strict=True))
                       for step in ends)


def check_corner_page(page, planes, unit):
    text = text_of(page)
    title = re.search(r"page \d+ of \d+ (\w+ \w+)(?: and (\w+ \w+))? corners?", text)
    boards = re.search(r"(\w+) board: tails, (\w+) board: pins. As you face the corner from outside, the tail board is "
                       r"on your (left|right)", text)
    tail, pin, hand = boards.group(1).lower(), boards.group(2), boards.group(3)
    assert {tail, pin} == {word for word in title.group(1).lower().split() if word in NAMES}
    end = "right" if planes.beside(tail, "right") == pin else "left"  # the board itself lies on the other hand
    assert hand == ("left" if end == "right" else "right")
    other = "left" if end == "right" else "right"
    shown = lines_of(sized(words_of(page), page, 15))
    wanted = planes.end_line(tail, end), planes.end_line(pin, other), planes.end_bevel(tail, end)
    assert len(shown) == 3
    assert all(angle_is(word.split()[0], true) for word, true in zip(shown, wanted, strict=True))
    assert abs(float(re.search(r"faces meet at (\d+\.\d)°", text).group(1)) - 90 - float(wanted[2])) <= 0.05
    settings = [float(number) for number in re.findall(r" [A-Z]{1,2} (\d+\.\d)° ", text[text.index("Bevel settings"):])]
    for line in wanted[:2]:
        assert abs(line) < 0.05 or any(abs(90 - abs(line) - setting) <= 0.15 for setting in settings)
    if planes.box.rims == "level" and planes.box.joint == JointSettings():
        check_marks(text, planes, tail, unit)
    return [name.lower() for name in title.groups() if name]


def check_marks(text, planes, tail, unit):
    """Even tails: pins and half pins are half as wide as the tail board is thick, at most a fifth of its width."""
    part = re.sub(r"tail \d+", "", text[text.index("Marks on the tail board"):])  # or 4 goes with 13/64
    marks = re.findall(rf"({LENGTHS[unit]}) – ({LENGTHS[unit]})", part)
    wide = float(planes.slant_width(tail))
    pin = min(planes.box.thickness_of(tail) / 2, wide / 5)
    each = (wide - pin) / len(marks)
    for number, (low, high) in enumerate(marks):
        assert near(low, pin + number * each, unit) and near(high, (number + 1) * each, unit)


def check_numbers(pages, plan, unit):
    """All sheets of all items of a plan."""
    begun = [number for number, page in enumerate(pages) if "Seen from the front left." in text_of(page)]
    for item, (first, after) in zip(plan.items, pairwise([*begun, len(pages)]), strict=True):
        planes, boards, corners = Planes(item.box), [], []
        own = pages[first:after]
        if unit == "mm":
            check_cut_list(text_of(own[1]), planes, item.quantity)
        steps = [step for page in own if "Order of sawing" in text_of(page) and "mitre gauge cuts" in text_of(page)
                 for step in saw_steps(page)]
        check_saw_order(steps, planes, item.quantity)
        for page in own:
            if is_board(page):
                boards += check_board_page(page, planes, unit)
            elif "As you face the corner from outside, the tail board is on your" in text_of(page) and \
                    "Wrap template" not in text_of(page):
                corners += check_corner_page(page, planes, unit)
        assert sorted(boards) == sorted(NAMES)
        assert sorted(corners) == ["back left", "back right", "front left", "front right"]


@SETS
def test_every_number_is_what_the_planes_say(printed, name, paper, unit):
    check_numbers(printed(name, paper, unit).pages, PLANS[name], unit)


@settings(max_examples=3 if THOROUGH else 2, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
@given(boxes(), st.sampled_from(["mm", "in", DECIMAL]), st.sampled_from(list(SIZES)))
def test_numbers_of_any_box(tmp_path_factory, box, unit, paper):
    plan = Plan("any", (Item("any box", box, 3),), unit)
    # the numbers stand on these; templates and cards are measured beside their own subject
    (path,) = save_bench_set(tmp_path_factory.mktemp("any") / "any.pdf", plan, paper,
                             parts=("job", "lists", "boards", "corners"))
    with pdfplumber.open(path) as file:
        check_numbers(file.pages, plan, unit)


def test_bottom_panel_and_cauls_by_planes(printed):
    """The panel's edges lie 0.5 mm, level, inside grooves a third of the thinnest board deep; 9 mm up no cheek is met."""
    page = next(page for page in printed("one box", "A4", "mm").pages if "Bottom, cauls and offcuts" in text_of(page))
    text, planes = text_of(page), Planes(LOCKER)
    faces = {name: (normal, offset + mp.mpf(9) / 3) for name, (normal, offset) in planes.inner.items()}
    shown = re.findall(r"(\d+\.\d) × (\d+\.\d) mm", text)[:2]
    for sizes, height in zip(shown, (9, 15), strict=True):
        level = ((0, 0, 1), mp.mpf(height))
        for value, name in zip(sizes, ("front", "right"), strict=True):
            ends = [meet(faces[planes.beside(name, end)], level, faces[name]) for end in ("left", "right")]
            assert abs(float(value) - float(dot(minus(ends[1], ends[0]), ALONG[name]) - 1)) <= 0.05 + 1e-9
    caul = re.search(r"left 14\.0° (\d+\.\d) mm (\d+\.\d) mm (\d+\.\d) mm", text)
    long, thin, thick = map(float, caul.groups())
    assert abs(long - float(planes.slant_width("left"))) <= 0.05
    foot, head = (meet(planes.outer["left"], ((0, 0, 1), height), ((0, 1, 0), 0)) for height in (0, 110))
    assert abs(thick - thin - abs(float(head[0] - foot[0]))) <= 0.1


# --- the file ------------------------------------------------------------------------------------------------------


def test_the_same_plan_gives_the_same_bytes_and_no_date(tmp_path):
    (first,) = save_bench_set(tmp_path / "one.pdf", SHORT)
    code = ("from test_set_sheets import SHORT, save_bench_set; import sys\n"
            "save_bench_set(sys.argv[1], SHORT)")
    run_python(code, str(tmp_path / "two.pdf"), PYTHONHASHSEED="7")
    assert first.read_bytes() == (tmp_path / "two.pdf").read_bytes()
    with pdfplumber.open(first) as file:
        assert not any("Date" in key for key in file.metadata)
        assert not re.search(r"20\d\d-|\b20[12]\d\b(?!\))", text_of(file.pages[0]))


@pytest.mark.parametrize(("date", "shown"), [("at launching", "at launching"),
                                             (datetime.date(2031, 5, 4), "2031-05-04")])
def test_the_date_is_printed_when_it_is_given(date, shown):
    texts = labels(bench_set(SHORT, date=date)[0])
    assert any(shown in text for text in texts)


def run_python(code, *arguments, **environment):
    here = Path(__file__).parent
    path = os.pathsep.join(map(str, [Path(splaywork.__file__).parents[1], here, here.parent / "support"]))
    run = subprocess.run([sys.executable, "-c", code, *arguments], capture_output=True, text=True, check=True,
                         env={**os.environ, "PYTHONPATH": path, **environment})
    return run.stdout


@pytest.mark.skipif(not Path("/proc/self/status").exists(), reason="needs Linux to say how much memory was used")
@pytest.mark.parametrize(("boxes", "parts"), [(2, "lists boards corners"), *further([(4, "")])])
def test_a_hundred_pages_stay_small(tmp_path, boxes, parts):
    code = ("import sys\n"
            "from splaywork.box.box import Box\n"
            "from splaywork.box.set_sheets import save_bench_set\n"
            "from splaywork.box.plan import Item, Plan\n"
            # equal leans: the cards are printed once, all other pages for each box
            "items = [Item(f'drawer {n}', Box(400 + n, 350, 110, front_lean=5, left_lean=13, back_thickness=9)) \n"
            "         for n in range(int(sys.argv[2]))]\n"
            "done = []\n"
            "save_bench_set(sys.argv[1], Plan('many', items), parts=sys.argv[3].split() or None,\n"
            "               progress=lambda *now: done.append(now))\n"
            "of = done[-1][1]\n"
            "assert done == [(n, of) for n in range(1, of + 1)]\n"
            # not getrusage: its peak counts the process that started this one
            "print(of, next(line.split()[1] for line in open('/proc/self/status') if line.startswith('VmHWM')))")
    count, kilobytes = map(int, run_python(code, str(tmp_path / "many.pdf"), str(boxes), parts).split())
    assert count >= (5 if parts else 25) * boxes
    assert kilobytes < 300 * 1024
    with pdfplumber.open(tmp_path / "many.pdf") as file:
        assert len(file.pages) == count


def test_progress_is_told_page_by_page_and_a_full_disk_leaves_the_old_file(tmp_path, monkeypatch):
    path = tmp_path / "set.pdf"
    path.write_bytes(b"old")

    def full(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    told = []
    with pytest.raises(OSError, match="No space"):
        save_bench_set(path, SHORT, progress=lambda *now: told.append(now), parts="corners")
    assert told == [(number, len(told)) for number in range(1, len(told) + 1)] and len(told) > 2
    assert path.read_bytes() == b"old"
    assert os.listdir(tmp_path) == ["set.pdf"]


@pytest.mark.parametrize(("wrong", "words"), [
    ({"paper": "A5"}, "paper can be 'A4', 'A3', 'Letter', not 'A5'"),
    ({"paper": None}, "paper can be 'A4', 'A3', 'Letter', not None"),
    ({"paper": ["A4"]}, "paper can be"),
    ({"unit": "cm"}, "unit can be 'mm', 'in' or '0.001 in', not 'cm'"),
    ({"unit": ""}, "unit can be 'mm', 'in' or"),
    ({"parts": "labels", "labels": 8}, r"labels must be \(rows, columns\) of their sheet, such as \(8, 3\), not 8"),
    ({"date": 5}, "date must be text of 1 to 40"),
    ({"date": "x" * 41}, "date must be text"),
    ({"date": "a\nb"}, "date must be text"),
    ({"date": "2026年"}, "lack"),
    ({"plan": LOCKER}, "made for a Plan"),
    ({"parts": ("job", "lid")}, "parts of a bench set can be 'job', 'lists'"),
    ({"parts": ()}, "parts of a bench set can be"),
    ({"plan": Plan("座", SHORT.items)}, "which the letters of the sheets lack"),
    ({"plan": Plan("any", (Item("座", PLAIN),))}, "letters of the sheets lack"),
])
def test_what_is_wrong_is_said_in_one_sentence(tmp_path, wrong, words):
    settings = {"plan": SHORT} | wrong
    with pytest.raises(ValueError, match=words) as said:
        save_bench_set(tmp_path / "set.pdf", **settings)
    assert "\n" not in str(said.value) and str(said.value).endswith(".")
    assert os.listdir(tmp_path) == []


def test_only_one_pdf_is_written(tmp_path):
    with pytest.raises(ValueError, match=r"in \.pdf"):
        save_bench_set(tmp_path / "set.svg", SHORT)
    with pytest.raises(ValueError, match="no folder"):
        save_bench_set(tmp_path / "away" / "set.pdf", SHORT)


def test_a_letter_is_one_setting_on_every_sheet_of_a_plan():
    """On corner sheets and bevel cards the degrees from the edge stand beside the letter; on the job page those from square."""
    plan = PLANS["steep, mixed"]
    settings = {each.letter: each.from_square for each in job_settings(plan).settings}
    seen = []
    for page in bench_set(plan, parts=("job", "corners", "cards")):
        texts = labels(page)
        for letter, value in pairwise(texts):
            if letter in settings and (shown := re.match(r"(\d+\.\d)°(?: from square)?(?:,|$)", value)):
                angle = float(shown.group(1))
                assert min(abs(angle - settings[letter]), abs(90 - angle - settings[letter])) <= 0.051, (letter, value)
                seen.append(letter)
    assert set(seen) == set(settings) and len(seen) > 2 * len(settings)


@pytest.mark.parametrize("parts", [("job",), ("boards", "cards"), "templates", ("paper model", "lists"), ("bench cards",),
                                   ("labels", "boards")])
def test_any_choice_of_parts_is_printed_and_nothing_else(parts):
    pages = bench_set(SHORT, parts=parts)
    texts = [" ".join(labels(page)) for page in pages[2:]]
    signs = {"job": "Bevel settings, each lettered once", "boards": "Outer face: this side out", "cards": "Procedure card",
             "templates": "Wrap template:", "lists": "Order of sawing Each setting once", "corners": "Marks on the tail board",
             "bench cards": "bench card Outer faces, top edges up", "paper model": "Paper model: how to make it",
             "labels": "plain box, copy 1 of 1 outer face front at its right end"}
    for part, sign in signs.items():
        assert any(sign in text for text in texts) == (part in parts), part
    first = labels(pages[0])
    assert ("What is on which page" in first) == (parts != ("paper model",))


def test_labels_come_last_on_sheets_of_their_own_without_a_number():
    pages = bench_set(PLAN, parts=("labels", "cards"), labels=(5, 2))
    stuck = label_pages(PLAN, 5, 2)
    assert [labels(page) for page in pages[-len(stuck):]] == [labels(page) for page in stuck] and len(stuck) == 2
    numbers = [text for page in pages for text in labels(page) if re.fullmatch(r"page \d+ of \d+", text)]
    assert numbers == [f"page {number} of {len(pages) - 2}" for number in range(1, len(pages) - 1)]
    assert "the last 2 pages, without a number" in labels(pages[0])


def test_equal_cards_are_printed_once_for_the_whole_plan():
    """The two drawers are mirror images, so their corners have the same joints."""
    pages = bench_set(PLAN, parts="cards")
    titles = [text for page in pages for text in labels(page)]
    joints = {corner.joint for item in PLAN.items for corner in item.box.corners.values()}
    assert titles.count("Bevel card") == len(joints) < sum(len({corner.joint for corner in item.box.corners.values()})
                                                           for item in PLAN.items)
    contents = " ".join(labels(pages[0]))
    assert "as of port drawer" in contents and "as of starboard drawer" not in contents


def test_the_saw_tilts_as_the_plan_says():
    for tilts, other in (("left", "right"), ("right", "left")):
        plan = Plan("any", (Item("leaning", LOCKER),), saw_tilts=tilts)
        page = next(page for page in bench_set(plan, parts="lists") if "Each setting once, with every cut that needs it." in
                    labels(page))
        blades = [text for text in labels(page) if re.fullmatch(r"\d+\.\d° (?:left|right)", text)]
        assert len(blades) > 3 and not any(other in blade for blade in blades)


def test_the_unit_is_the_plans_own_unless_another_is_given():
    inches = Plan("any", SHORT.items, "in")
    for plan, unit, word in ((inches, None, "inches"), (inches, "mm", "millimetres"), (SHORT, None, "millimetres"),
                             (Plan("any", SHORT.items, DECIMAL), None, "decimal inches")):
        texts = labels(bench_set(plan, unit=unit)[0])
        assert word in texts


LOW = Box(200, 160, 14, thickness=6, joint=JointSettings(tails=1))
LOWER = Box(200, 160, 12, thickness=6, joint=JointSettings(tails=1))
MANY_TAILS = Box(900, 800, 700, **leaning(4, 0, 3, 2), joint=JointSettings(tails=60))
HUGE = Box(9000, 8000, 4000, **leaning(10, 5, 10, 5), thickness=400, joint=JointSettings(tails=3))


@pytest.mark.parametrize("box, parts, words", [
    (LOW, ("lists",), "No height would do"),  # for the bottom's groove
    (LOWER, ("lists",), "None with the usual sizes"),  # of bottom panel
    (MANY_TAILS, ("templates",), "Scribe the pins"),  # from so many tails
    (HUGE, ("templates",), "too large to paste"),
    *further([(MANY_TAILS, None, "Scribe the pins"), (HUGE, None, "too large to paste")]),
], ids=["low", "lower", "many tails", "huge", "many tails, whole set", "huge, whole set"])
def test_what_does_not_fit_is_said_on_its_page(box, parts, words):
    pages = bench_set(Plan("any", (Item("any", box),)), parts=parts)
    texts = " ".join(label for page in pages for label in labels(page))
    assert words in texts
    assert len(pages) < 150


def test_what_is_read_off_a_rule():
    assert (length(79.36), length(79.375, "in"), length(-12.7, "in"), length(0, "in")) == (
        "79.4 mm", "3 1/8 in", "−1/2 in", "0 in")
    assert lengths((25.4, 12.7, 0.2), "in") == "1 × 1/2 × 1/64 in"
    assert lengths((420, 360.04)) == "420.0 × 360.0 mm"
