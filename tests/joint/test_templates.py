"""Templates and cards as a maker gets them: the printed files are read back with pdfplumber, measured, cut and folded.

pdfplumber (pdfminer.six) reads lines and letters, pdfium reads words and draws the pages; neither knows how they were
written. Paper sizes: ISO 216 (A4, A3) and ANSI/ASME Y14.1 (Letter, 8½ × 11 in), from memory.
"""

import os
import subprocess
import sys
from collections import Counter
from functools import cache
from itertools import combinations, pairwise, product
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pdfplumber
import pytest
import shapely
import shapely.affinity
import splaywork
from cases import examples, further, sample
from hypothesis import given
from hypothesis import strategies as st
from sheets import texts_of
from splaywork.common.printing import degrees
from splaywork.corner.corner import Corner
from splaywork.drawing.layout import OVERLAP, lay_out
from splaywork.drawing.paper import FILLS, MARGIN, Area, Drawing, Label, Picture, Stroke
from splaywork.drawing.print_file import save_pages
from splaywork.joint.bench_steps import bench_step_words
from splaywork.joint.cards import bevel_card, procedure_card
from splaywork.joint.joint import Joint
from splaywork.joint.templates import wrap_template
from splaywork.joint.words import board_end, lettered_settings

MM = 25.4 / 72  # of a PDF point
SIZES = {"A4": (210, 297), "A3": (297, 420), "Letter": (8.5 * 25.4, 11 * 25.4)}
NAME = "galley locker drawer, front corner, the one to starboard"
JOINTS = {
    "mild": Joint(Corner(8, 6), 100, 12),
    "plain": Joint(Corner(0, 0), 80, 10, tails=2),
    "steep": Joint(Corner(30, 30), 120, 15, 12, end="square"),
    "negative": Joint(Corner(-20, -11), 110, 12, end="square", rims="square"),
    "mixed": Joint(Corner(25, -14), 90, 10, tails=3, tail_slope=8),
    "wide plan": Joint(Corner(14, 6, 120), 140, 18, end="square", rims="square", tail_spacing=(1, 1, 2)),
    "narrow plan": Joint(Corner(-12, 17, 65), 100, 10, 14, rims="square"),
}
# flush ends and level rims, where an arris is the corner line and a baseline lies along it
FLUSH = {name: joint for name, joint in JOINTS.items() if (joint.end, joint.rims) == ("flush", "level")}
LARGE = Joint(Corner(24, 15), 420, 22)
HUGE = Joint(Corner(24, 15), 420, 95, tails=3)  # wider and higher than two pages
IMAGES = list(product(("right", "left"), ("outside", "inside")))

every_joint = pytest.mark.parametrize("joint", sample(JOINTS.values(), {0, 2, 4, 6}), ids=JOINTS)
every_name = pytest.mark.parametrize("name", sample(JOINTS, {0, 2, 4, 6}))
every_paper = pytest.mark.parametrize("paper", SIZES)
SHEETS = list(product(JOINTS, SIZES))


class Printed:
    """One page of a PDF: lines as (points (n, 2), width) and letters, in mm from the lower left corner."""

    def __init__(self, page, text):
        self.size = float(page.width) * MM, float(page.height) * MM
        self.page, self.text = page, text
        found = page.lines + page.curves + page.rects
        self.lines = [(np.array([(x * MM, self.size[1] - y * MM) for x, y in line["pts"]]), line)
                      for line in found if line["stroke"]]
        self.letters = page.chars

    def lines_like(self, test):
        return [points for points, line in self.lines if test(points, line)]

    def straight(self, dashes=None):
        """Straight lines, (n, 2, 2); only those whose dash has that many parts, when asked."""
        def wanted(points, line):
            return len(points) == 2 and (dashes is None or len((line["dash"] or [[]])[0]) == dashes)
        return np.array(self.lines_like(wanted)).reshape(-1, 2, 2)

    def folds(self):
        """The two fold lines, left then right, foot first, (2, 2, 2): the dash-dotted lines that are upright."""
        found = [line[np.argsort(line[:, 1])] for line in self.straight(dashes=4) if abs(np.ptp(line[:, 0])) < 1e-6]
        assert len(found) == 2
        return np.array(sorted(found, key=lambda line: line[0, 0]))


def printed(path):
    with pdfplumber.open(path) as file:
        return [Printed(*each) for each in zip(file.pages, texts_of(path), strict=True)]


def print_out(tmp_path, drawings, paper="A4"):
    (path,) = save_pages(tmp_path / "out.pdf", drawings, paper)
    return printed(path)


@pytest.fixture(scope="module")
def wrapped(tmp_path_factory):
    """A joint's name -> {(board, hand, reading): its wrap template as printed}, all of a joint in one file, written once."""
    folder = tmp_path_factory.mktemp("wrapped")

    @cache
    def get(name):
        sheets = [(board, *image) for board, image in product(("tail", "pin"), IMAGES)]
        drawings = [drawing for board, *image in sheets for drawing in wrap_template(JOINTS[name], board, *image)]
        (path,) = save_pages(folder / f"{name}.pdf", drawings)
        return dict(zip(sheets, printed(path), strict=True))

    return get


def length(line):
    return np.linalg.norm(np.diff(line, axis=0), axis=1).sum()


def every_sheet(joint, name=""):
    templates = (wrap_template(joint, board, *image, name=name) for board in ("tail", "pin") for image in IMAGES)
    return sum(templates, ()) + bevel_card(joint, name) + procedure_card(joint, name)


@cache
def sheets_of(name):
    return every_sheet(JOINTS[name], NAME)


# --- scale ---------------------------------------------------------------------------------------------------------


@cache
def cards_of(name):
    return (bevel_card(JOINTS[name], "") + procedure_card(JOINTS[name], ""))[-3:]


@every_paper
def test_every_page_has_its_size_and_two_true_bars_to_check_it_by(tmp_path, paper):
    pages = print_out(tmp_path, wrap_template(LARGE, "tail") + cards_of("steep"), paper)
    assert len(pages) > 4
    for page in pages:
        assert sorted(page.size) == pytest.approx(SIZES[paper], abs=0.01)
        level = [line for line in page.straight() if abs(line[0, 1] - line[1, 1]) < 1e-6 and line[:, 1].max() < 25]
        ticks = [line for line in page.straight() if abs(line[0, 0] - line[1, 0]) < 1e-6 and line[:, 1].max() < 25]
        bars = [line for line in level if abs(length(line) - 100) < 0.05 or abs(length(line) - 101.6) < 0.05]
        assert len(bars) == 2 and abs(length(bars[0]) - length(bars[1])) == pytest.approx(1.6, abs=0.05)
        for bar in bars:  # a tick across each end
            assert sum(abs(tick[0, 0] - bar[:, 0]).min() < 0.01 and tick[:, 1].min() < bar[0, 1] < tick[:, 1].max()
                       for tick in ticks) == 2
        for words in ("100 mm", "4 in", "Print at 100%", "measure both bars"):
            assert words in page.text


def test_the_bars_and_a_fold_come_out_true_when_the_page_is_drawn(tmp_path):
    joint, dots = JOINTS["mild"], 600 / 25.4
    page = print_out(tmp_path, wrap_template(joint, "tail"))[0]
    ink = 255.0 - np.asarray(page.page.to_image(resolution=600).original.convert("L"))

    def centres(strip):
        """Where dark marks lie along a strip of ink, mm."""
        dark = np.flatnonzero(strip > 40)
        groups = np.split(dark, np.flatnonzero(np.diff(dark) > 5) + 1)
        return np.array([np.average(group, weights=strip[group]) + 0.5 for group in groups]) / dots

    for tick_height, size in ((13.2, 100.0), (5.2, 101.6)):  # mm above the margin: the upper half of the ticks
        row = round((297 - MARGIN - tick_height) * dots)
        left, right = centres(ink[row - 3:row + 3, :round(113 * dots)].mean(axis=0))[[0, -1]]
        assert right - left == pytest.approx(size, abs=0.05)
    # across the inner face, the handle's edge, the baseline and the inner arris: baseline offset, 34 mm of handle
    row = round((297 - page.folds()[:, :, 1].mean()) * dots)
    marks = centres(ink[row - 45:row + 45, :].max(axis=0))
    inner, outer = page.folds()[:, 0, 0]
    assert np.abs(marks - inner).min() < 0.05 and np.abs(marks - outer).min() < 0.05
    assert np.abs(marks - (outer + joint.corner.baseline_offset(12))).min() < 0.05


@pytest.mark.parametrize("name", sample(FLUSH, {0, 2}))
def test_arrises_and_baselines_measure_what_the_closed_forms_say(wrapped, name):
    joint = FLUSH[name]
    corner = joint.corner
    for board, other in (("tail", "pin"), ("pin", "tail")):
        page = wrapped(name)[board, *IMAGES[0]]
        folds = page.folds()
        assert [length(fold) for fold in folds] == pytest.approx([joint.height / np.sin(np.radians(corner.corner_rise))] * 2,
                                                                 abs=0.05)
        thick = joint.thickness(board) / np.sin(np.radians(corner.dihedral))
        assert folds[1, 0, 0] - folds[0, 0, 0] == pytest.approx(thick, abs=0.05)
        baselines = sorted(line[0, 0] for line in page.straight(dashes=2) if np.ptp(line[:, 0]) < 1e-6)
        offset = corner.baseline_offset(joint.thickness(other))
        assert [folds[0, 0, 0] - baselines[0], baselines[-1] - folds[1, 0, 0]] == pytest.approx([offset] * 2, abs=0.05)


# --- cut out and folded --------------------------------------------------------------------------------------------


def turned(points, axis, angle):
    """Points (..., 3) turned by an angle, radians, about the line axis (2, 3)."""
    along = (axis[1] - axis[0]) / np.linalg.norm(axis[1] - axis[0])
    out = points - axis[0]
    across = np.cross(along, out)
    part = (out @ along)[..., None] * along
    return axis[0] + part + np.cos(angle) * (out - part) + np.sin(angle) * across


def folded(page, outer_on_right, first_fold, forward):
    """Every straight line of the drawing after folding, (n, 2, 3), and the two arrises.

    The outer face stays on the bench, print up. first_fold: radians at the outer arris, the rest of 180° at the inner
    one; away from whoever looks at the print, or towards them if `forward`.
    """
    left, right = np.pad(page.folds(), ((0, 0), (0, 0), (0, 1)))
    outer, inner = (right, left) if outer_on_right else (left, right)
    lines = np.pad(page.straight(), ((0, 0), (0, 0), (0, 1)))
    lines = lines[lines[..., 1].min(axis=1) > 30]  # above the scale bars
    sense = 1 if outer_on_right else -1
    beyond = sense * (outer[0, 0] - lines[..., 0].mean(axis=1))
    # about an axis that points up the page, what lies to its left goes down by a negative turn
    way = -sense * (1 if not forward else -1)
    on_inner = beyond > abs(outer[0, 0] - inner[0, 0]) + 1e-6
    lines[on_inner] = turned(lines[on_inner], inner, way * (np.pi - first_fold))
    on_end = beyond > 1e-6
    lines[on_end] = turned(lines[on_end], outer, way * first_fold)
    return lines, np.array([outer, turned(inner, outer, way * first_fold)])


def moved_to(given, wanted):
    """The motion, no mirroring, that takes points given (n, 3) to wanted (n, 3)."""
    from_middle, to_middle = given.mean(axis=0), wanted.mean(axis=0)
    left, _, right = np.linalg.svd((given - from_middle).T @ (wanted - to_middle))
    keep = np.diag([1, 1, np.linalg.det(left @ right)])
    turn = left @ keep @ right
    return lambda points: (points - from_middle) @ turn + to_middle


@pytest.mark.parametrize("hand, reading", IMAGES)
@every_name
def test_cut_and_folded_it_lies_on_the_wood_line_by_line(wrapped, name, hand, reading):
    """For a left hand the wood is the mirror image; folding and moving paper mirrors nothing, so the print must."""
    joint = JOINTS[name]
    wood = np.array([-1, 1, 1] if hand == "left" else [1, 1, 1])
    first_fold = np.radians(180 - joint.corner.dihedral) if joint.end == "flush" else np.pi / 2
    for board in ("tail", "pin"):
        page = wrapped(name)[board, hand, reading]
        cut = joint.tail_board if board == "tail" else joint.pin_board
        # print outwards, a left end is on the left of the outer face
        outer_on_right = (board_end(board, hand) == "left") == (reading == "outside")
        lines, arrises = folded(page, outer_on_right, first_fold, forward=reading == "inside")
        lie = moved_to(arrises.reshape(-1, 3), (wood * cut.blank[:, 0]).reshape(-1, 3))
        on_wood = lie(lines)
        both_ways = np.stack([on_wood, on_wood[:, ::-1]])
        for line in (line for surface in ("outer", "end", "inner") for line in joint.lines_on(board, surface)):
            assert np.linalg.norm(both_ways - wood * line.ends, axis=-1).max(axis=-1).min() < 0.05


def kinds(drawing, kind):
    return {item.name: item.points for item in drawing.items if isinstance(item, Stroke) and item.kind == kind}


@every_joint
@pytest.mark.parametrize("board", ["tail", "pin"])
def test_nothing_is_drawn_that_is_not_struck(joint, board):
    """Each line once, and no more than the joint has; cut-off lines and what else lies in an arris are in its fold."""
    (drawing,) = wrap_template(joint, board)
    struck = {f"{surface}: {line.name}" for surface in ("outer", "end", "inner")
              for line in joint.lines_on(board, surface)}
    named = [name for kind in ("cheek", "baseline", "end line") for name in kinds(drawing, kind)]
    assert len(named) == len(set(named)) and set(named) <= struck
    assert all(name.endswith(("cut-off line", "end line")) for name in struck - set(named))
    if joint.end == "flush":
        assert not kinds(drawing, "end line")
    else:
        assert len(kinds(drawing, "end line")) == (joint.corner.end_bevel != 0)


@every_joint
@pytest.mark.parametrize("board", ["tail", "pin"])
def test_waste_is_what_is_not_wood_between_the_gauge_lines(joint, board):
    (drawing,) = wrap_template(joint, board)
    cut = joint.tail_board if board == "tail" else joint.pin_board
    for name in ("outer", "end", "inner"):
        surface = cut.surfaces[name]
        waste = [shapely.Polygon(item.points) for item in drawing.items if isinstance(item, Area) and item.name == name]
        assert all(piece.is_valid for piece in waste)
        wood = sum(shapely.Polygon(surface.flat(piece)).area for piece in surface.pieces)
        blank = shapely.Polygon(surface.flat(surface.blank)).area
        assert sum(piece.area for piece in waste) + wood == pytest.approx(blank, rel=1e-9)
        assert shapely.unary_union(waste).area == pytest.approx(sum(piece.area for piece in waste), rel=1e-9)


# --- four mirror images --------------------------------------------------------------------------------------------


@every_name
@pytest.mark.parametrize("board", ["tail", "pin"])
def test_the_four_images_are_mirror_images_with_readable_text(wrapped, name, board):
    images = {image: wrap_template(JOINTS[name], board, *image)[0] for image in IMAGES}
    native = images["right", "outside"]
    for (hand, reading), drawing in images.items():
        way = np.array([1 if (hand == "right") == (reading == "outside") else -1, 1])
        for item, other in zip(native.items, drawing.items, strict=True):
            if isinstance(item, (Stroke, Area)) and item.kind != "arrow":
                assert other.points == pytest.approx(way * item.points)
        assert f"{board} board, {board_end(board, hand)} end" in drawing.title
        assert ("mirrored" in drawing.title) == (reading == "inside")
        assert f"tail board is on your {hand}" in drawing.notes[0]
        words = {"outside": ("fold it back", "print outwards"), "inside": ("fold it forward", "print against the wood")}
        assert all(phrase in drawing.notes[2] for phrase in words[reading])
        letters = wrapped(name)[board, hand, reading].letters
        assert len(letters) > 100
        for letter in letters:
            a, b, c, d, *_ = letter["matrix"]
            assert a > 0 and a * d - b * c > 0


def test_the_ends_of_a_box_are_named_as_seen_from_outside():
    # standing outside a corner with its tail board on the right, that board begins on the left, at the corner
    assert [board_end(board, hand) for hand in ("right", "left") for board in ("tail", "pin")] == [
        "left", "right", "right", "left"]
    joint = JOINTS["mild"]
    for board, side in (("tail", 1), ("pin", -1)):
        cut = joint.tail_board if board == "tail" else joint.pin_board
        along = cut.blank[0, 1, 0] - cut.blank[0, 0, 0]
        seen_right = np.cross([0, 0, 1], joint.corner.vector(f"{board}_outward"))  # up × towards the viewer
        assert np.sign(along @ seen_right) == side


@every_joint
def test_which_way_is_up_points_up_the_board(joint):
    for board, image in product(("tail", "pin"), IMAGES):
        (drawing,) = wrap_template(joint, board, *image)
        (outline,) = kinds(drawing, "outline").values()
        arrows = [item.points for item in drawing.items if isinstance(item, Stroke) and item.kind == "arrow"]
        for arrow, rim in zip(arrows, (outline[:2], outline[6:8][::-1]), strict=True):
            up, level = arrow[1] - arrow[0], rim[1] - rim[0]
            assert up[1] > 0 and abs(up @ level) < 1e-9
            faces = shapely.Polygon(outline)
            assert faces.contains(shapely.LineString(arrow))


# --- tiles ---------------------------------------------------------------------------------------------------------


def crosses(page):
    """Centres of the registration crosses, (n, 2): pairs of 10 mm lines that halve each other at right angles."""
    short = [line for line in page.straight() if abs(length(line) - 10) < 1e-3]
    level = [line.mean(axis=0) for line in short if abs(line[0, 1] - line[1, 1]) < 1e-6]
    upright = [line.mean(axis=0) for line in short if abs(line[0, 0] - line[1, 0]) < 1e-6]
    return np.array([one for one in level for other in upright if np.abs(one - other).max() < 1e-3]).reshape(-1, 2)


@pytest.mark.parametrize("paper, board", [("A4", "tail"), ("A3", "pin"), *further([("Letter", "pin")])])
def test_tiles_register(tmp_path, paper, board):
    drawings = wrap_template(HUGE, board, name=NAME)
    pages = print_out(tmp_path, drawings, paper)
    laid = lay_out(*drawings, paper)
    assert len(pages) == len(laid) > 1
    drawn, joined = [], 0
    for number, (page, plan) in enumerate(zip(pages, laid, strict=True), start=1):
        assert f"Sheet {number} of {len(pages)}" in page.text and "crosses" in page.text
        at = crosses(page)
        assert len(at) >= 2 and (at > plan.window[0]).all() and (at < plan.window[1]).all()
        drawn.append((at, shapely.MultiLineString([line for line, _ in page.lines])))
    for one, other in combinations(range(len(pages)), 2):
        window, shift = laid[one].window, laid[other].shift - laid[one].shift
        low, high = np.maximum(window[0], window[0] - shift), np.minimum(window[1], window[1] - shift)
        if (high - low).min() <= 0 or (high - low).max() < OVERLAP + 1:  # nothing, or no more than a corner, in common
            continue
        joined += 1
        assert (high - low).min() == pytest.approx(OVERLAP)
        (at, lines), (other_at, other_lines) = drawn[one], drawn[other]
        assert (np.linalg.norm((at + shift)[:, None] - other_at, axis=-1) < 0.05).sum() == 2
        # laid cross on cross, the lines of one sheet run on as the lines of the other all over what they share
        shared = lines.intersection(shapely.box(*(low + 1), *(high - 1)))
        other_shared = other_lines.intersection(shapely.box(*(low + shift + 1), *(high + shift - 1)))
        assert shared.length > 2 * 2 * 10 + (high - low).max()  # crosses, dashed line, and something of the template
        assert shapely.affinity.translate(shared, *shift).hausdorff_distance(other_shared) < 0.05
    assert joined >= len(pages) - 1
    whole = shapely.unary_union([shapely.box(*(plan.window - plan.shift).ravel()) for plan in laid])
    assert whole.buffer(1e-6).contains(shapely.box(*drawings[0].extent.ravel()))


@every_paper
def test_every_label_is_whole_on_some_tile(paper):
    for drawing in every_sheet(LARGE, NAME)[:8]:
        pages = lay_out(drawing, paper)
        whole = {item.text for page in pages for item in page.inside if isinstance(item, Label)}
        assert whole == {item.text for item in drawing.items if isinstance(item, Label)}
        assert all(np.ptp(item.points, axis=0).max() < OVERLAP for item in drawing.items if isinstance(item, Label))


def test_tiles_are_cut_off_at_their_windows(tmp_path):
    drawings = wrap_template(HUGE, "tail")
    for page, plan in zip(print_out(tmp_path, drawings), lay_out(*drawings), strict=True):
        ink = np.asarray(page.page.to_image(resolution=50).original.convert("L")) < 200
        dots = 50 / 25.4
        (left, low), (right, high) = plan.window * dots
        rows = slice(int(ink.shape[0] - high), int(ink.shape[0] - low))
        assert ink[rows, int(left) + 3:int(right) - 3].any()
        assert not ink[rows, :int(left) - 1].any() and not ink[rows, int(right) + 2:].any()


def test_a_page_on_its_side_is_taken_where_it_saves_paper():
    long = Drawing("Long", (), (Stroke("cheek", np.array([[0, 0], [250, 30]])),))
    tall = Drawing("Tall", (), (Stroke("cheek", np.array([[0, 0], [30, 200]])),))
    assert [(page.width, page.height) for page in lay_out(long)] == [(297, 210)]
    assert [(page.width, page.height) for page in lay_out(tall)] == [(210, 297)]


# --- words ---------------------------------------------------------------------------------------------------------


def boxes(page):
    return [shapely.Polygon(item.points) for item in page.inside + page.around if isinstance(item, Label)]


@pytest.mark.parametrize(("name", "paper"), sample(SHEETS, {0, 4, 8, 9, 13, 17, 18}))
def test_labels_are_on_the_page_and_clear_of_one_another_and_of_the_lines(name, paper):
    for drawing in sheets_of(name):
        for page in lay_out(drawing, paper):
            labels = boxes(page)
            printable = shapely.box(MARGIN, MARGIN, page.width - MARGIN, page.height - MARGIN).buffer(0.1)
            assert all(printable.contains(label) for label in labels)
            assert all(not one.intersects(other) for one, other in combinations(labels, 2))
            strokes = [shapely.LineString(item.points) for item in page.inside + page.around if isinstance(item, Stroke)
                       and item.kind not in ("join", "cross")]
            assert not any(label.intersects(stroke) for label, stroke in product(labels, strokes))
            fills = [shapely.Polygon(item.points) for item in page.inside if isinstance(item, Area)]
            assert not any(label.intersects(fill) for label, fill in product(labels, fills))


def test_letters_in_the_file_lie_where_the_labels_say(tmp_path):
    sheets = sheets_of("steep")
    drawings = [sheet for sheet in sheets if not any(isinstance(item, Picture) for item in sheet.items)][::2]
    plans = [page for drawing in drawings for page in lay_out(drawing)]
    for page, plan in zip(print_out(tmp_path, drawings), plans, strict=True):
        labels = [item for item in plan.inside + plan.around if isinstance(item, Label)]
        letters = [letter for letter in page.letters if not letter["text"].isspace()]
        words = ["".join(label.text.split()) for label in labels]
        assert sum(len(letter["text"]) for letter in letters) == sum(map(len, words))  # a ligature is two
        spaces = shapely.union_all([box.buffer(0.35) for box in boxes(plan)])
        for letter in letters:
            middle = shapely.Point((letter["x0"] + letter["x1"]) / 2 * MM, (letter["y0"] + letter["y1"]) / 2 * MM)
            assert spaces.contains(middle)
            if letter["matrix"][1] == 0:  # not turned
                sides = (shapely.Point(letter[side] * MM, middle.y) for side in ("x0", "x1"))
                assert all(spaces.contains(side) for side in sides)


@every_name
def test_the_key_names_every_kind_of_line_and_no_other(name):
    for drawing in sheets_of(name)[:8]:
        used = {item.kind for item in drawing.items if not isinstance(item, Label)} - {"arrow"}
        assert {kind for kind, _ in drawing.key} == used
        assert "waste" in used and "waste" in FILLS


def test_the_sheet_says_how_the_end_is_sawn_before_it_is_wrapped():
    said = {name: wrap_template(JOINTS[name], "tail")[0].notes[2] for name in ("plain", "mild", "steep")}
    assert said["plain"].startswith("Saw the end square to the face first.")
    assert said["mild"].startswith("Saw the end to its end bevel first.")
    assert said["steep"].startswith("Saw the end square to the face, proud of the end line, first.")


def test_board_corner_and_surfaces_are_named_on_the_paper_that_is_cut_out(tmp_path):
    (drawing,) = wrap_template(JOINTS["mild"], "pin", "left", name=NAME)
    outline = shapely.Polygon(*kinds(drawing, "outline").values())
    on_it = [item.text for item in drawing.items if isinstance(item, Label)
             and outline.contains(shapely.Polygon(item.points))]
    for words in ("outer face", "inner face", "pin board", "left end", "up"):
        assert words in on_it
    assert NAME in " ".join(on_it)
    assert NAME in drawing.notes[0]


def test_no_name_is_made_up_from_the_leans_and_a_long_one_is_refused():
    assert wrap_template(JOINTS["wide plan"], "tail")[0].notes[0].startswith(
        "Corner, tail 14.0°, pin 6.0°, 120.0° in plan.")
    assert bevel_card(JOINTS["negative"])[0].notes[0].startswith("Corner, tail −20.0°, pin −11.0°.")
    assert bevel_card(JOINTS["mild"], "two\n  lines $x$")[0].notes[0].startswith("two lines $x$.")
    with pytest.raises(ValueError, match=r"^The name has 61 characters, and a sheet has room for 60: shorten it\.$"):
        procedure_card(JOINTS["mild"], "n" * 61)
    with pytest.raises(ValueError, match=r"^The name has “船”, which the letters of the sheets lack: spell it another"):
        bevel_card(JOINTS["mild"], "船 locker")


# --- cards ---------------------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def bevel_cards(tmp_path_factory):
    """A joint's name -> its bevel card as printed; all are in one file."""
    drawings = [drawing for joint in JOINTS.values() for drawing in bevel_card(joint)]
    return dict(zip(JOINTS, print_out(tmp_path_factory.mktemp("cards"), drawings), strict=True))


@every_name
def test_each_wedge_has_the_angle_of_its_setting(bevel_cards, name):
    page, joint = bevel_cards[name], JOINTS[name]
    arms = page.lines_like(lambda points, line: len(points) == 3)
    found = []
    for stock, apex, blade in arms:
        one, other = stock - apex, blade - apex
        assert min(np.hypot(*one), np.hypot(*other)) > 25  # mm: long enough to set a gauge by
        found.append(np.degrees(np.arccos(one @ other / np.hypot(*one) / np.hypot(*other))))
    wanted = [setting.from_edge for setting in joint.bevel_settings]
    assert sorted(found) == pytest.approx(sorted(wanted), abs=0.01)
    for letter, setting in lettered_settings(joint).items():
        assert f"{degrees(setting.from_square)} from square, {degrees(setting.from_edge)} from the edge" in page.text
        assert letter in page.text
    slope = joint.tail_slope
    assert f"{100 / slope:.1f} mm in 100 mm, 1 in {slope:.1f} from the edge" in page.text


leans = st.floats(-30, 30)


@examples(25)
@given(leans, leans, st.floats(60, 135), st.sampled_from(["flush", "square"]), st.sampled_from(["level", "square"]),
       st.integers(1, 14), st.sampled_from(["mm", "in"]))
def test_cards_fit_one_page_of_any_paper(tail, pin, plan, end, rims, tails, unit):
    try:
        joint = Joint(Corner(tail, pin, plan), 300, 10, tails=tails, end=end, rims=rims)
    except ValueError:
        return
    for card, paper in product(bevel_card(joint, "n" * 60, unit) + procedure_card(joint, "n m" * 20, unit), SIZES):
        assert len(lay_out(card, paper)) == 1


def texts(drawings):
    """All that drawings and their pages' headings say, line after line."""
    return " ".join(item.text for drawing in drawings for page in lay_out(drawing)
                    for item in (*page.around, *page.inside) if isinstance(item, Label))


def test_every_letter_of_a_procedure_is_in_the_file(tmp_path):
    """With its drawings, whose own letters come on top."""
    cards = procedure_card(JOINTS["steep"])
    letters = Counter("".join(letter["text"] for page in print_out(tmp_path, cards) for letter in page.letters))
    wanted = Counter("".join(texts(cards).split()))
    assert sum(wanted.values()) > 2000 and not wanted - letters


@every_joint
def test_the_procedure_carries_this_joint_s_numbers_and_the_cautions(joint):
    cards = procedure_card(joint)
    assert [len(lay_out(card)) for card in cards] == [1, 1]
    text = texts(cards)
    corner = joint.corner
    numbers = [f"{corner.baseline_offset(joint.thickness(board)):.1f} mm" for board in ("tail", "pin")]
    numbers += [f"{mark:.1f}" for mark in joint.marks.ravel()]
    numbers += [f"1 in {joint.tail_slope:g}"]
    for number in numbers:
        assert number in text
    for caution in ("eye protection", "clamp", "both hands behind the cutting edge", "Your tool's manual", "riving knife",
                    "the rules where you work", "qualified instruction come before", "trial corner from offcuts",
                    "29 CFR 1910.213"):
        assert caution in text
    steps = [text.index(f"{step.number} {step.title}") for step in bench_step_words(joint)]
    assert len(steps) == 11 and steps == sorted(steps) and text.index("Before you cut") < steps[0]


def test_inches_where_asked():
    joint = JOINTS["mild"]
    template = wrap_template(joint, "tail", unit="in")
    for card in bevel_card(joint, unit="in") + procedure_card(joint, unit="in") + template:
        words = " ".join([*card.notes, *(item.text for item in card.items if isinstance(item, Label))])
        assert " mm" not in words and " in" in words
    with pytest.raises(ValueError, match="not 'ft'"):
        bevel_card(joint, unit="ft")


# --- files ---------------------------------------------------------------------------------------------------------

_WRITE = """
import sys
from pathlib import Path
from xml.etree import ElementTree
from splaywork.corner.corner import Corner
from splaywork.joint.joint import Joint
from splaywork.joint.cards import bevel_card, procedure_card
from splaywork.drawing.print_file import save_pages
from splaywork.joint.templates import wrap_template
joint = Joint(Corner(14, 6), 100, 12, end="square")
drawings = wrap_template(joint, "tail") + bevel_card(joint) + procedure_card(joint)
for name in ("all.pdf", "all.svg"):
    save_pages(Path(sys.argv[1]) / name, drawings)
"""


def test_files_are_the_same_byte_for_byte_in_another_session(tmp_path, monkeypatch):
    here, there = tmp_path / "here", tmp_path / "there"
    here.mkdir()
    there.mkdir()
    with monkeypatch.context() as given:
        given.setattr(sys, "argv", ["", str(here)])
        exec(_WRITE, {})
    seed = "2" if os.environ.get("PYTHONHASHSEED") == "1" else "1"
    environment = {**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": str(Path(splaywork.__file__).parents[1])}
    subprocess.run([sys.executable, "-c", _WRITE, there], check=True, env=environment)
    names = sorted(os.listdir(here))
    assert names == ["all-1.svg", "all-2.svg", "all-3.svg", "all-4.svg", "all.pdf"] == sorted(os.listdir(there))
    for name in names:
        first, second = ((folder / name).read_bytes() for folder in (here, there))
        assert first == second
        assert b"CreationDate" not in first and b"dc:date" not in first
    pdf = (here / "all.pdf").read_bytes()
    assert b"/FontFile2" in pdf and b"/Type3" not in pdf  # letters are in the file, as TrueType


def test_svg_has_its_true_size_and_a_true_bar(tmp_path):
    written = save_pages(tmp_path / "corner.svg", wrap_template(LARGE, "tail"), "Letter")
    assert [path.name for path in written] == [f"corner-{number}.svg" for number in range(1, len(written) + 1)]
    assert len(written) > 1
    for path in written:
        root = ElementTree.parse(path).getroot()
        sizes = [float(root.attrib[side].removesuffix("pt")) * MM for side in ("width", "height")]
        assert sorted(sizes) == pytest.approx(SIZES["Letter"], abs=0.01)
        assert [float(part) for part in root.attrib["viewBox"].split()[2:]] == pytest.approx(
            [size / MM for size in sizes])  # so one unit is a point
        lengths = []
        for element in root.iter("{http://www.w3.org/2000/svg}path"):
            words = element.get("d", "").split()
            if words[::3] == ["M", "L"]:
                (x0, y0), (x1, y1) = (map(float, words[at:at + 2]) for at in (1, 4))
                lengths.append(np.hypot(x1 - x0, y1 - y0) * MM)
        for size in (100, 101.6):
            assert np.abs(np.array(lengths) - size).min() < 0.05
    (single,) = save_pages(tmp_path / "card.svg", bevel_card(LARGE))
    assert single == tmp_path / "card.svg" and single.exists()


def test_progress_is_told_page_by_page(tmp_path):
    told = []
    drawings = [Drawing(title, (), (Stroke("cheek", np.array([[0, 0], [50, 30]])),)) for title in "abc"]
    for ending in ("pdf", "svg"):
        save_pages(tmp_path / f"cards.{ending}", drawings, progress=lambda *step: told.append(step))
    assert told == [(1, 3), (2, 3), (3, 3)] * 2


@pytest.mark.parametrize("call, words", [
    (lambda path: save_pages(path / "a.png", bevel_card(JOINTS["mild"])), "PDF or SVG, and 'a.png' is neither"),
    (lambda path: save_pages(path / "no" / "a.pdf", bevel_card(JOINTS["mild"])), "no folder"),
    (lambda path: save_pages(path / "a.pdf", ()), "nothing to print"),
    (lambda path: save_pages(path / "a.pdf", "card"), "nothing to print"),
    (lambda path: save_pages(path / "a.pdf", bevel_card(JOINTS["mild"]), "A5"), "'A4', 'A3', 'Letter', not 'A5'"),
    (lambda path: wrap_template(JOINTS["mild"], "side"), "board can be 'tail' or 'pin', not 'side'"),
    (lambda path: wrap_template(JOINTS["mild"], "tail", hand="up"), "hand can be 'left' or 'right', not 'up'"),
    (lambda path: wrap_template(JOINTS["mild"], "tail", reading=None), "reading can be 'outside' or 'inside', not None"),
])
def test_what_cannot_be_printed_says_why_in_one_sentence_and_writes_nothing(tmp_path, call, words):
    with pytest.raises(ValueError, match=words) as caught:
        call(tmp_path)
    said = str(caught.value)
    assert said.endswith(".") and ". " not in said and "\n" not in said
    assert not os.listdir(tmp_path)


def test_a_disk_that_fills_leaves_the_old_file_and_no_litter(tmp_path, monkeypatch):
    path = tmp_path / "card.pdf"
    path.write_bytes(b"old")

    def fail(*_):
        raise OSError("disk full")

    monkeypatch.setattr(os, "replace", fail)
    with pytest.raises(OSError, match="disk full"):
        save_pages(path, bevel_card(JOINTS["mild"]))
    assert path.read_bytes() == b"old" and os.listdir(tmp_path) == ["card.pdf"]


def test_a_drawing_that_needs_no_tiles_stays_whole_up_to_the_last_millimetre():
    def pages(wide):
        return len(lay_out(Drawing("Wide", (), (Stroke("cheek", np.array([[0, 0], [wide, 150]])),)), "A4"))

    assert [pages(wide) for wide in (190.0, 276.9, 278.0)] == [1, 1, 2]
    assert all(later >= sooner for sooner, later in pairwise(map(pages, (100, 300, 500, 900))))
