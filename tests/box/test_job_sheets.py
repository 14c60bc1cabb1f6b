"""The job's sheets as a maker gets them: read back for size, place and overlap, and every number worked out again by planes."""

import re
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pdfplumber
import pytest
from boxes import HULL, LOCKER, LOCKERS, MIXED, ORDER, THICK, UNLIKE, boxes
from cases import further
from hypothesis import HealthCheck, given, settings
from sheets import DECIMAL, MM, SIZES, Planes, boxes_of, labels, near, overlaps, upright, words_of
from splaywork.box.box import Bottom, Box
from splaywork.box.cut_list import cut_list, job_saw_order
from splaywork.box.fittings import bottom_panel
from splaywork.box.fronts import screws
from splaywork.box.job_sheets import job_sheets, save_job_sheets
from splaywork.box.plan import Item, Plan
from splaywork.box.runners import runners
from splaywork.box.settings import HAND, job_settings
from splaywork.common.printing import gap, length
from splaywork.drawing.paper import MARGIN

JOB = Plan("Hull lockers", (Item("deep drawer", Box(412, 300, 137, **HULL, **THICK), 3),
                            Item("shallow drawer", Box(300, 300, 97, **HULL, **THICK), 3)))

DEEP = LOCKERS.items[0]
SLID = Plan("Slid in", (replace(DEEP, box=replace(DEEP.box, bottom=Bottom(kind="slid in", wood="cherry, black", damper=2))),))


@pytest.fixture(scope="module")
def printed(tmp_path_factory):
    folder, files = tmp_path_factory.mktemp("jobs"), {}

    def get(plan, paper, unit):
        key = plan.name, paper, unit
        if key not in files:
            (path,) = save_job_sheets(folder / f"{len(files)}.pdf", plan, paper, unit)
            files[key] = pdfplumber.open(path)
        return files[key]

    yield get
    for file in files.values():
        file.close()


PRINTS = pytest.mark.parametrize(("plan", "paper", "unit"), [
    pytest.param(LOCKERS, "A4", "mm", id="lockers"), pytest.param(MIXED, "A4", "mm", id="mixed"),
    pytest.param(JOB, "Letter", "in", id="job in inches"), pytest.param(UNLIKE, "A4", DECIMAL, id="unlike, decimal"),
    pytest.param(SLID, "A4", "in", id="slid in"),
    *further([(UNLIKE, "A4", "mm"), (UNLIKE, "Letter", "in"), (UNLIKE, "A4", "in"), (LOCKERS, "Letter", DECIMAL)])])


@PRINTS
def test_two_pages_and_one_for_each_size_in_letters_that_are_read_at_arms_length(printed, plan, paper, unit):
    pages = printed(plan, paper, unit).pages
    assert len(pages) <= 2 + len(plan.items)
    for page in pages:
        assert sorted(float(side) * MM for side in (page.width, page.height)) == pytest.approx(SIZES[paper], abs=0.01)
        assert min(char["size"] for char in upright(page).chars) >= 9 - 1e-3
    for item, page in zip(plan.items, pages[-len(plan.items):], strict=True):
        large = "".join(char["text"] for char in page.chars if char["size"] >= 14 - 1e-3 or char["matrix"][1])
        for name in ORDER:  # lengths of the four boards, and their widths
            for size in (item.box.outer_length(name), item.box.outer_length(name, item.box.height),
                         item.box.slant_width(name)):
                assert length(size, unit).replace(" ", "") in large.replace(" ", "")


@pytest.mark.parametrize("paper", list(SIZES))
def test_no_label_is_smaller_than_nine_points_on_any_paper(paper):
    for page in job_sheets(JOB, paper):
        sizes = [item.size for item in page.around if hasattr(item, "size")]
        assert min(sizes) >= 9 - 1e-9 and len(sizes) > 20
        assert all(item.size >= 14 - 1e-9 for item in page.around if getattr(item, "turn", 0))  # widths up the faces


@PRINTS
def test_no_words_overlap_or_leave_the_margins(printed, plan, paper, unit):
    for page in printed(plan, paper, unit).pages:
        letters = [char for char in page.chars if char["text"].strip()]
        x0, top, x1, bottom = boxes_of(letters).T * MM
        assert min(x0.min(), top.min()) > MARGIN - 0.05
        assert x1.max() < float(page.width) * MM - MARGIN + 0.2 and bottom.max() < float(page.height) * MM - MARGIN + 0.2
        words = upright(page).extract_words()
        pairs = [(i, j) for i, j in overlaps(boxes_of(words), boxes_of(words)) if i < j]
        assert not pairs, [(words[i]["text"], words[j]["text"]) for i, j in pairs]
        turned = [char for char in letters if char["matrix"][1]]
        assert not overlaps(boxes_of(words), boxes_of(turned)).size
        assert words_of(page)


def rows_of(page):
    """Texts of a page in lines, from the top down: {first text of the line: the others}; wrapped cells joined."""
    lines, rows, last = {}, {}, {}
    for item in page.around:
        if hasattr(item, "text") and not item.turn:
            lines.setdefault(round(float(item.at[1]), 1), {})[round(float(item.at[0]), 1)] = item.text
    for _, line in sorted(lines.items(), reverse=True):
        edge = min(line)
        if last and edge > 20 and set(line) <= set(last):
            last |= {x: f"{last[x]} {text}" for x, text in line.items()}
        else:
            last = dict(sorted(line.items()))
        rows[next(iter(last.values()))] = list(last.values())[1:]
    return rows


def check_drawer(page, box, unit):
    """Every number of the table, by planes in 50-digit arithmetic; returns how many were compared."""
    planes, rows, compared = Planes(box), rows_of(page), 0
    assert rows["blank, length × width"] and list(map(len, (rows["ripped: slant width"],))) == [4]

    def values(row, separator=" · "):
        return [[f"{part} {'mm' if unit == 'mm' else 'in'}" for part in cell.split(separator)] for cell in rows[row]]

    wanted = {"ripped: slant width": lambda name: [planes.slant_width(name)],
              "end lines: bottom · top": lambda name: [planes.length(name, "outer", rim) for rim in ("bottom", "top")],
              "inside length, bottom · top": lambda name: [planes.length(name, "inner", rim) for rim in ("bottom", "top")],
              "baselines, left · right": lambda name: [planes.baseline(name, end) for end in ("left", "right")]}
    for row, true in wanted.items():
        for name, cell in zip(ORDER, values(row), strict=True):
            for text, number in zip(cell, true(name), strict=True):
                assert near(text, number, unit), (row, name, text, number)
                compared += 1
    if box.joint.end == "flush":
        for name, cell in zip(ORDER, values("blank, length × width", " × "), strict=True):
            assert all(near(text, true, unit) for text, true in zip(cell, planes.blank(name)[:2], strict=True))
        for name, cell in zip(ORDER, values("sawn: diagonals ↗ · ↖"), strict=True):
            low, high = (float(planes.length(name, "outer", rim)) for rim in ("bottom", "top"))
            wide = float(planes.slant_width(name))
            left = wide * np.tan(np.radians(float(planes.end_line(name, "left"))))
            for text, across in zip(cell, (high - left, low + left), strict=True):  # the level run of each diagonal
                assert near(text, np.hypot(across, wide), unit), (name, text)
                compared += 1
    return compared


@pytest.mark.parametrize("unit", ["mm", "in", DECIMAL])
@pytest.mark.parametrize("plan", [LOCKERS, MIXED], ids=["lockers", "mixed"])
def test_every_number_of_a_drawers_page_is_what_the_planes_say(plan, unit):
    pages = job_sheets(plan, unit=unit)
    own = [page for page in pages if any(re.match(r"\d+ .*: make \d+$", text) for text in labels(page))]
    assert len(own) == len(plan.items)
    compared = sum(check_drawer(page, item.box, unit) for page, item in zip(own, plan.items, strict=True))
    assert compared >= 28 * len(plan.items)


def angle_of(text):
    """Degrees from "B +15.0°", "−1.3°" or "square"."""
    return 0.0 if text == "square" else float(text.split()[-1].rstrip("°").replace("−", "-"))


def slab(bottom, slant, lines, bevels, rim, thick):
    """(2, 2, 2, 3) corners by face, end and rim of a board from its numbers alone: along, up its outer face and out of it.

    lines: end lines, from square, + where it is longer at the top; bevels: + where the inner face is left longer; rim: degrees,
    + where the outer arris comes off below and the inner one above.
    """
    drop = thick * np.tan(np.radians(rim))
    corners = np.empty((2, 2, 2, 3))
    for face, end, edge in np.ndindex(2, 2, 2):
        way, line, bevel = (-1, 1)[end], np.radians(lines[end]), np.radians(bevels[end])
        up = edge * slant - face * drop
        along = end * bottom + way * (up * np.tan(line) + face * thick * np.tan(bevel) / np.cos(line))
        corners[face, end, edge] = along, up, -face * thick
    return corners


def twice(cell, separator=" · "):
    """Both values of a cell, of which one may stand for two."""
    found = cell.split(separator)
    return found if len(found) == 2 else found * 2


@pytest.mark.parametrize("plan", [LOCKERS, UNLIKE], ids=["lockers", "unlike"])
def test_boards_fronts_and_runners_built_from_the_page_alone_are_the_solids(plan):
    """In place, hand, size and bevel: to 0.05 mm and 0.05° as printed, which is 0.3 mm at the far end of a slope."""
    pages, built = job_sheets(plan), 0
    for item, page in zip(plan.items, pages[-len(plan.items):], strict=True):
        rows, box, text = rows_of(page), item.box, " ".join(labels(page))
        for column, name in enumerate(ORDER):
            bottom, top = map(float, rows["end lines: bottom · top"][column].split(" · "))
            slant = float(rows["ripped: slant width"][column])
            title = next(line for line in labels(page) if line.startswith(name.capitalize() + ": "))
            thick = float(re.search(r"([0-9.]+) mm thick", title).group(1))
            rim = rows["rims: arris off below · above"][column]
            size = 0.0 if rim == "square" else float(rim.split("°")[0]) * (1 if rim.endswith("outer · inner") else -1)
            large = [line for line in labels(page) if re.fullmatch(r"(?:[A-Z]+ [+−][0-9.]+°|square)", line)]
            lines = [angle_of(line) for line in large[2 * column:2 * column + 2]]
            bevels = [angle_of(one) for one in twice(rows["end bevel, + inner longer"][column])]
            made = slab(bottom, slant, lines, bevels, size, thick)
            assert made[0, 1, 1, 0] - made[0, 0, 1, 0] == pytest.approx(top, abs=0.5)
            board = box.boards[name]
            if box.joint.end == "flush":
                assert made == pytest.approx(board.in_board(board.blank), abs=0.35), (item.name, name)
                built += 1
            baselines = list(map(float, rows["baselines, left · right"][column].split(" · ")))
            for end, (line, far) in enumerate(zip(lines, baselines, strict=True)):
                foot = board.in_board(board.baselines[0, end, 0])[0]
                assert foot == pytest.approx(end * bottom + (1, -1)[end] * far / np.cos(np.radians(line)), abs=0.15)
        built += check_front(labels(page), item.fit) + check_strips(text, item.fit, item.runners)
    boards, strips = {"Lockers along the hull": (8, 6), "Unlike": (4, 14)}[plan.name]
    assert built == boards + len(plan.items) + strips


def check_front(texts, fit):
    """The show front from its drawing and its sentence, or, where no room is left to draw it, from its sentence; 1."""
    text, front = " ".join(texts), fit.show_front
    bevels, rim = re.search(r"end bevels (.*?), edges (.*?), grain along its length; blank", text).groups()
    if title := re.search(r"Show front: inset, ([0-9.]+) mm thick", text):
        first = texts.index(title.group()) + 1
        *lines, top, bottom, slant = texts[first:first + 5]
        sizes = [size.removesuffix(" mm") for size in (title.group(1), bottom, top, slant)]
    else:
        *sizes, lines = re.search(r"Show front, inset, ([0-9.]+) mm thick: ([0-9.]+) mm at the bottom, ([0-9.]+) mm at the "
                                  r"top, ([0-9.]+) mm up the face; end lines (.*?), end bevels", text).groups()
        lines = twice(lines, " and ")
    thick, low, high, slant = map(float, sizes)
    lines, bevels = ([angle_of(one) for one in part] for part in (lines, twice(bevels, " and ")))
    made = slab(low, slant, lines, bevels, angle_of(rim), thick)
    assert made[0, 1, 1, 0] - made[0, 0, 1, 0] == pytest.approx(high, abs=0.5)
    assert made == pytest.approx((front.corners - front.corners[0, 0, 0]) @ front.axes.T, abs=0.35)
    return 1


def check_strips(text, fit, choice):
    """Runners, kickers, guides and the stop from their sentences; how many."""
    strips = {(strip.kind, strip.side): strip for strip in runners(fit, choice).strips}
    found = []
    for kind, said in re.findall(r"(Runner|Kicker|Guide|Stop)s?(?:, length × width × height)?: (.*? up the wall)\.", text):
        for size, rest in re.findall(r"([0-9.]+ × [0-9.]+ × [0-9.]+) mm, (.*?)(?=; [0-9.]+ ×|$)", said):
            long, wide, high = map(float, size.split(" × "))
            for part in rest.split("; "):
                names, face, up = re.fullmatch(r"((?:left|right|back)(?: and right)?) (?:(square|planed .*?), )?([0-9.]+) mm "
                                               r"up the wall", part).groups()
                for side in names.split(" and "):
                    check_strip(strips[kind.lower(), side], (long, wide, high), face, float(up), fit)
                    found.append((kind.lower(), side))
    assert sorted(found) == sorted(strips)
    return len(found)


def check_strip(strip, sizes, face, up, fit):
    """Planed and set as the page says, seen from the front: its edges' heights, and where its two faces lie."""
    long, wide, high = sizes
    lean = np.radians(getattr(fit.opening, f"{strip.side}_lean"))
    assert np.ptp(strip.corners[0, :, 0], axis=0).max() == pytest.approx(long, abs=0.1)
    if strip.kind in ("guide", "stop"):
        assert face is None and up * np.cos(lean) == pytest.approx(strip.corners[0, 0, 0, 2], abs=0.1)
        assert np.linalg.norm(strip.corners[0, 0, 1] - strip.corners[0, 0, 0]) == pytest.approx(high, abs=0.1)
        return
    planed = 0.0 if face == "square" else float(re.search(r"planed ([0-9.]+)°", face).group(1))
    planed *= -1 if face.endswith("bottom") else 1
    counts = up * np.cos(lean)  # the height of the edge that is measured
    heights = np.array([counts - high, counts] if strip.kind == "runner" else [counts, counts + high])
    wall = heights * np.tan(lean)  # how far the wall stands out there
    widths = wide - (heights.max() - heights if planed > 0 else heights - heights.min()) * np.tan(np.radians(abs(planed)))
    way = 1 if strip.side == "left" else -1
    start = 0.0 if strip.side == "left" else fit.opening.floor_width
    assert strip.corners[0, 0, :, 2] == pytest.approx(heights, abs=0.1)
    assert strip.corners[0, 0, :, 0] == pytest.approx(start - way * wall, abs=0.15)
    assert strip.corners[1, 0, :, 0] == pytest.approx(start - way * wall + way * widths, abs=0.25)


def test_the_drawers_page_has_the_opening_the_show_front_and_the_runners():
    """Widths of the inset front by hand: walls at 15°, reveals of 2 mm square to them: each takes 2/cos 15° level, and tan 15°
    for each mm that the front's foot lies above the floor, 2 mm."""
    pages = job_sheets(LOCKERS)
    assert len(pages) == 4
    text = " ".join(labels(pages[2]))
    tan, cosine = np.tan(np.radians(15)), np.cos(np.radians(15))
    low = 440 - 2 * 2 / cosine + 2 * 2 * tan
    high = 440 - 2 * 2 / cosine + 2 * 148 * tan
    first = labels(pages[2]).index("Show front: inset, 12.0 mm thick") + 3
    assert labels(pages[2])[first:first + 3] == [f"{size:.1f} mm" for size in (high, low, 146 / np.cos(np.radians(5)))]
    assert "Clearances, square to each wall: 1.5 left, 1.5 right, 15.0 floor, 2.0 top, 0.0 front, 3.0 back." in text
    assert "Runners, length × width × height: " in text and "left and right planed 15.0°, wider at the top" in text
    assert "Stop: " in text and "Screws from inside, at most " in text
    clear = gap(1.5 / cosine)
    assert f"{clear} left, {clear} right, 15.0 mm floor" in text
    assert "show front" in " ".join(labels(pages[0]))


def outlines(page):
    """Name -> (outline, mm on the paper) of every filled shape of a page."""
    return {item.name: item.points for item in page.around if type(item).__name__ == "Area"}


@pytest.mark.parametrize("plan", [LOCKERS, SLID], ids=["lockers", "slid in"])
def test_the_faces_the_show_front_its_screws_and_the_rip_of_the_back_are_drawn_to_one_scale(plan):
    pages = job_sheets(plan)
    for item, page in zip(plan.items, pages[-len(plan.items):], strict=True):
        shapes, scales = outlines(page), []
        places = {name.split(":")[0].lower(): points for name, points in shapes.items() if ":" in name}
        assert set(places) == {*ORDER, "show front"}
        for name in ORDER:
            board = item.box.boards[name]
            true = board.in_board(board.outlines[0])[:, :2]
            drawn = places[name]
            scale = np.ptp(drawn[:, 0]) / np.ptp(true[:, 0])
            assert drawn - drawn[0] == pytest.approx((true - true[0]) * scale, abs=1e-6)
            scales.append(scale)
        front = item.fit.show_front.laid_flat
        scales.append(np.ptp(places["show front"][:, 0]) / np.ptp(front[:, 0]))
        assert places["show front"] - places["show front"][0] == pytest.approx((front - front[0]) * scales[-1], abs=1e-6)
        assert np.ptp(scales) < 1e-9
        panel = bottom_panel(item.box, fit=item.fit)
        strokes = [each for each in page.around if type(each).__name__ == "Stroke"]
        crosses = sorted({tuple(each.points.mean(axis=0).round(6)) for each in strokes if each.name == "screw"})
        board = item.box.boards["front"]
        foot = places["front"][0] - board.in_board(board.outlines[0])[0, :2] * scales[0]
        wanted = sorted((screw.along * scales[0] + foot[0], screw.up * scales[0] + foot[1])
                        for screw in screws(item.fit, panel.up + panel.thickness))
        assert np.array(crosses) == pytest.approx(np.array(wanted), abs=1e-5) and len(crosses) == 4
        rips = [each.points for each in strokes if each.name == "ripped off below"]
        assert len(rips) == (item.box.bottom.kind == "slid in")
        for line in rips:
            assert line[:, 1] - places["back"][:, 1].min() == pytest.approx(panel.back_edge * scales[0])
            assert item.box.boards["back"].outlines[0, 0, 2] + panel.back_edge == pytest.approx(15.5)  # upright: as high up


@settings(max_examples=5, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
@given(boxes())
def test_any_box_has_its_page(box):
    (page, *_) = [page for page in job_sheets(Plan("any", (Item("any", box),))) if "ripped: slant width" in
                  labels(page)]
    assert check_drawer(page, box, "mm") >= 28


# --- settings of the whole job ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("plan", [LOCKERS, MIXED], ids=["lockers", "mixed"])
def test_each_line_of_each_joint_has_one_letter_for_the_whole_job(plan):
    found = job_settings(plan)
    letters = [setting.letter for setting in found.settings]
    assert len(set(letters)) == len(letters) and letters == sorted(letters, key=lambda letter: (len(letter), letter))
    angles = [setting.from_square for setting in found.settings]
    assert angles == sorted(angles)
    for first, second in pairwise(found.settings):  # apart by more than a hand's breadth, and each within half of one
        assert second.from_square - second.spread / 2 - (first.from_square - first.spread / 2) >= HAND
    lines = 0
    for item in plan.items:
        for corner in item.box.corners.values():
            for line in corner.joint.lines:
                if line.struck_with == "bevel":
                    setting = found.settings[letters.index(found.letter(line.from_square))]
                    assert abs(setting.from_square - line.from_square) <= HAND / 2 + 1e-9
                    lines += 1
                elif line.struck_with == "square":
                    assert found.letter(line.from_square) == "square"
    assert lines > 100


def test_settings_that_no_hand_tells_apart_are_one_and_said():
    found = job_settings(JOB)
    assert [setting.letter for setting in found.settings] == ["A", "B", "C"]
    assert found.merged_words == ("No hand can tell angles apart that are less than 0.2° apart. So B (14.95° to 15.00°) "
                                  "stands for several: set the middle.")
    assert "\n" not in repr(found) and "<table>" in found._repr_html_()
    plain = job_settings(Plan("plain", (Item("plain", Box(300, 200, 100)),)))
    assert plain.merged_words == "" and len(plain.settings) == 1  # the cheeks' slope


def test_the_order_of_sawing_of_a_job_makes_every_cut_of_every_item_once():
    steps = job_saw_order([cut_list(item.box, item.quantity) for item in JOB.items])
    made = [(cut.item, cut.board, cut.where) for step in steps for cut in step.cuts]
    assert len(made) == len(set(made)) == 32
    assert [sum(step.count for step in steps if step.kind == kind) for kind in ("rip", "crosscut")] == [48, 48]
    settings = [(step.kind, round(step.blade_tilt, 6), round(step.mitre_gauge, 6), step.gauge_swing) for step in steps]
    assert len(set(settings)) == len(settings)
    apart = sum(len(cut_list(item.box).saw_order) for item in JOB.items)
    assert len(steps) < apart


# --- the file --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("change", "words"), [
    ({"paper": "A5"}, "paper can be 'A4', 'A3' or 'Letter', not 'A5'"),
    ({"unit": "cm"}, "unit can be 'mm', 'in' or '0.001 in', not 'cm'"),
    ({"plan": LOCKER}, "plan must be a Plan"),
    ({"path": "job.svg"}, r"end the name 'job.svg' in \.pdf"),
    ({"plan": Plan("座", JOB.items)}, "letters of the sheets lack"),
])
def test_what_is_wrong_is_said_in_one_sentence_and_nothing_is_written(tmp_path, change, words):
    given = {"path": "job.pdf", "plan": JOB} | change
    with pytest.raises(ValueError, match=words) as said:
        save_job_sheets(tmp_path / given.pop("path"), **given)
    assert str(said.value).endswith(".") and not list(tmp_path.iterdir())
