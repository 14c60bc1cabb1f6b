"""A box's sentences beside numbers worked out here from its planes, at zero, slight, strong, negative and mixed leans."""

import re

import numpy as np
import pytest
from boxes import leaning
from splaywork.box.box import NAMES, Box
from splaywork.box.cut_list import cut_list
from splaywork.box.fronts import show_front
from splaywork.box.opening import Clearances, Opening
from splaywork.box.paper_model import PaperModel
from splaywork.box.paper_model_words import leans_words
from splaywork.box.runners import runners
from splaywork.box.sheets import diagonal_words
from splaywork.box.words import match_words, narrow_words, size_words, stand_words
from splaywork.common.planes import Plane, meet

LEANS = {"zero": (0, 0, 0, 0), "slight": (3, 0, 5, 5), "strong": (24, 20, 28, 28), "negative": (-8, -6, -12, -12),
         "mixed": (9, -7, 14, -11), "front alone": (12, 0, 0, 0)}
EVERY_LEAN = pytest.mark.parametrize("leans", LEANS.values(), ids=LEANS)
PAIRS = (("left", "right"), ("front", "back"))


def box_of(leans, **more):
    return Box(420, 360, 120, **leaning(*leans), thickness=12, **more)


def numbers(text):
    return [float(number) for number in re.findall(r"-?\d+(?:\.\d+)?", text.replace("−", "-"))]


def lean_of(plane):
    """Degrees by which a face leans out, from its outward normal."""
    return float(np.degrees(np.arcsin(-plane.normal[2])))


def across(box, height, surface="outer"):
    """Level distances between left and right, and between front and back, mm, at that height of the box."""
    level = Plane(np.array([0.0, 0, 1]), box.planes["front bottom"].offset * -1 + height)
    sizes = []
    for (one, other), beside in zip(PAIRS, ("front", "left"), strict=True):
        ends = [meet(box.planes[f"{side} {surface}"], box.planes[f"{beside} {surface}"], level) for side in (one, other)]
        sizes.append(np.linalg.norm(ends[1] - ends[0]))
    return sizes


@EVERY_LEAN
def test_sizes_and_leans_are_those_of_the_planes(leans):
    box = box_of(leans)
    said = size_words(box)
    low, high = ([f"{size:.1f}" for size in across(box, height)] for height in (0, 120))
    top = "" if low == high else f"{' × '.join(high)} mm "
    expected = f"{' × '.join(low)} mm at the bottom and {top}at the top"
    assert f"Outside, width × depth, the box is {expected}. The box is 120.0 mm high." in said
    stands, compared = stand_words(box), 0
    clauses = re.findall(r"([a-z, ]+?) (?:leans?|stands?) (upright|(?:out|in) [\d.]+°)", stands.lower())
    for name in NAMES:
        lean = lean_of(box.planes[f"{name} outer"])
        (told,) = [told for names, told in clauses if name in names or "all four" in names]
        assert told == ("upright" if abs(lean) < 0.005 else f"{'out' if lean > 0 else 'in'} {abs(lean):.1f}°")
        compared += 1
    assert compared == 4 and bool(numbers(stands)) == any(leans)


@EVERY_LEAN
def test_the_paper_models_leans_are_the_boxs(leans):
    said = leans_words(PaperModel.of(box_of(leans)))
    told = {f"{abs(lean):.1f}" for lean in leans if lean} | {f"{abs(lean):g}" for lean in leans if lean}
    assert set(re.findall(r"\d+(?:\.\d+)?", said)) <= told and ("out" in said) == (max(leans) > 0)
    assert ("in " in said) == (min(leans) < 0) and ("upright" in said) == (0 in leans)


@EVERY_LEAN
def test_boards_that_match_have_matching_outlines(leans):
    """By the outlines: sorted distances between a board's corners are equal for equal boards and for mirror images alone."""
    box = box_of(leans)
    shapes = {}
    for name in NAMES:
        points = box.boards[name].blank.reshape(-1, 3)
        distances = np.linalg.norm(points[:, None] - points[None], axis=-1)
        shapes[name] = np.round(np.sort(distances, axis=None), 6)
    said = match_words(box)
    for one, other in PAIRS:
        same = np.allclose(shapes[one], shapes[other], atol=1e-5)
        clauses = re.split(r"[;.] ?", said.lower())
        together = any(one in clause and other in clause and "match" not in clause for clause in clauses)
        assert same == together, (one, other, said)


@EVERY_LEAN
def test_a_chisel_is_too_wide_just_where_the_gap_is_narrower(leans):
    box = box_of(leans)
    gaps = [corner.joint.narrowest_gap for corner in box.corners.values()]
    for chisel, told in ((min(gaps) - 0.01, False), (min(gaps) + 0.01, True)):
        said = [sentence for sentence in narrow_words(box, (chisel, chisel + 5)) if "gap between two tails" in sentence]
        assert bool(said) == told
    assert said[0].startswith(f"The narrowest gap between two tails is {min(gaps):.1f} mm, less than")


@EVERY_LEAN
def test_diagonals_run_between_the_corners_of_the_rims(leans):
    box = box_of(leans)
    corners = [[meet(box.planes[f"{side} {surface}"], box.planes[f"{face} {surface}"], box.planes[f"{face} {rim}"])
                for face, side in (("front", "left"), ("back", "right"))] for surface, rim in
               (("outer", "bottom"), ("outer", "top"), ("inner", "bottom"), ("inner", "top"))]
    expected = [np.linalg.norm(there - here) for here, there in corners]
    assert numbers(diagonal_words(cut_list(box), "mm")) == pytest.approx(expected, abs=0.051)


@EVERY_LEAN
def test_gaps_in_the_opening_are_level_and_plumb(leans):
    opening = Opening(420, 360, 150, **leaning(*leans))
    clearances = Clearances(left=2, right=3, floor=4, top=5)
    fit = Box.for_opening(420, 360, 150, **leaning(*leans), thickness=12, clearances=clearances)
    said = fit.words()
    face = (fit.box.boards["front"].blank[0] + fit.at).reshape(-1, 3)
    found = {}
    for name, along in (("left", [-1, 0, 0]), ("right", [1, 0, 0]), ("floor", [0, 0, -1]), ("top", [0, 0, 1])):
        plane = opening.faces[name]
        found[name] = min(-plane.height_of(point) / (plane.normal @ along) for point in face)
    written = numbers(said)
    sides = [found["left"], found["right"]]
    written[1:1] = written[:1] * ("at each side" in said)
    assert written[:4] == pytest.approx([*sides, found["floor"], found["top"]], abs=0.051)
    wider = any(gap > clearance + 1e-9 for gap, clearance in zip(sides, (2, 3), strict=True))
    assert ("the level gap is wider than the clearance" in said) == wider == bool(leans[2] or leans[3])


@EVERY_LEAN
@pytest.mark.parametrize("kind", ["inset", "overlay"])
def test_the_show_fronts_ends_and_edges_are_sawn_as_said(leans, kind):
    made = show_front(Opening(420, 360, 150, **leaning(*leans)), kind, thickness=14)
    said, out = made.words(), made.planes["outer"].normal
    ends = re.findall(r"Saw (?:both ends|that end) (.*?)\.(?= )", said)
    lines = re.findall(r"end lines? (?:is|are) (.*?)\.(?= )", said)
    for number, side in enumerate(("left", "right")):
        leans_over = made.planes[side].normal @ out  # above 0: deeper in the wood the end lies further out
        bevel = np.degrees(np.arcsin(leans_over))
        how = ends[number if len(ends) == 2 else 0]
        if abs(bevel) < 0.005:
            assert how == "square to the face"
        else:
            assert how == (f"{abs(bevel):.1f}° out of square to the face, so that the {'inner' if bevel > 0 else 'outer'} face "
                           "reaches further")
            assert "Measure this angle square to the end line." in said
        bottom, top = made.corners[0, number]
        level = np.array([-1.0, 0, 0]) if side == "left" else np.array([1.0, 0, 0])
        slant = np.degrees(np.arctan2((top - bottom) @ level, np.linalg.norm((top - bottom) - (top - bottom) @ level * level)))
        line = lines[number if len(lines) == 2 else 0]
        assert numbers(line)[:1] == ([] if abs(slant) < 0.005 else [pytest.approx(slant, abs=0.051)])
    assert len(ends) == len(lines) in (1, 2)
    rim = abs(lean_of(made.planes["outer"]))
    assert ("edges are square to the face" in said) == (rim < 0.005)
    assert rim < 0.005 or f"edges {rim:.1f}° out of square, so that they lie level" in said


@EVERY_LEAN
def test_runners_are_bevelled_to_their_walls(leans):
    fit = Box.for_opening(420, 360, 150, **leaning(*leans), thickness=12, clearances=Clearances(floor=15))
    compared = 0
    for strip in runners(fit).of("runner"):
        wall, said = fit.opening.faces[strip.side], strip.words()
        lean = float(np.degrees(np.arcsin(wall.normal[2] * -1)))  # the wall faces the wood: out as the drawer's side leans
        assert ("against the wall square" in said) == (abs(lean) < 0.005)
        if abs(lean) >= 0.005:
            low, high = (np.ptp(strip.corners.reshape(-1, 3)[np.isclose(strip.corners.reshape(-1, 3)[:, 2], z), 0])
                         for z in (strip.corners[..., 2].min(), strip.corners[..., 2].max()))
            assert (f"The {strip.kind} is {high:.1f} mm wide at the top and {low:.1f} mm at the bottom: plane the face against "
                    f"the wall {abs(lean):.1f}° out of square.") in said
        compared += 1
    assert compared == 2
