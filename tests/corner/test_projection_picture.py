"""The projection's pictures: nearer hides further, all inside, angles as a protractor reads them, words true."""

import re
from io import BytesIO
from itertools import combinations, product

import numpy as np
import pytest
from cases import examples
from hypothesis import given
from hypothesis import strategies as st
from matplotlib.collections import LineCollection, PolyCollection
from matplotlib.colors import to_hex
from on_canvas import assert_within, collections, half_width, overlap, protractor, texts
from PIL import Image
from splaywork import Corner, projection_panel, projection_still
from splaywork.common.boards import other
from splaywork.corner.projection import Projection
from splaywork.corner.projection_picture import STAGE, ProjectionPicture, bearing, board_facets
from splaywork.corner.projection_words import (
    AT_LEAN,
    BEVELS,
    CARRIED,
    FLAT,
    MARKS,
    STAGES,
    TOGETHER,
    stage_words,
    why_words,
)
from splaywork.drawing import palette
from splaywork.drawing.view import View

LEAN, PLAN = st.floats(-45, 45), st.floats(60, 135)
LEANS = (-45, 0, 30, 45)
PICTURE = ProjectionPicture()


def frontmost(facets, pixels, place, way):
    """The fill that is seen at each pixel (n, 2), by rays against every facet's plane and outline; "" where there is none."""
    origin = place(np.zeros(3))
    axes = place(np.eye(3)) - origin
    points = (pixels - origin) @ np.linalg.pinv(axes)
    nearest, fills = np.full(len(pixels), -np.inf), np.full(len(pixels), "", dtype=object)
    for facet in facets:
        pace = facet.normal @ way
        if pace <= 1e-9:
            continue
        along = (facet.points[0] - points) @ facet.normal / pace
        hits = points + along[:, None] * way
        edges = np.roll(facet.points, -1, axis=0) - facet.points
        inside = np.all([np.cross(edge, hits - start) @ facet.normal > 0
                         for start, edge in zip(facet.points, edges, strict=True) if np.linalg.norm(edge) > 1e-9], axis=0)
        nearer = inside & (along > nearest)
        nearest, fills = np.where(nearer, along, nearest), np.where(nearer, facet.fill, fills)
    return fills


@given(tail=LEAN, pin=LEAN, plan=PLAN, stage=st.sampled_from(list(MARKS)), share=st.floats(0, 1),
       turn=st.floats(-180, 180), tilt=st.floats(5, 80), seed=st.integers(0, 999))
@examples(15)
def test_the_frontmost_face_lies_on_top(tail, pin, plan, stage, share, turn, tilt, seed):
    PICTURE.update(Corner(tail, pin, plan), stage, share, turn=turn, tilt=tilt)
    bench = PICTURE.bench
    way = View(bearing(PICTURE.projection) + turn, tilt).towards_viewer
    pixels = np.random.default_rng(seed).uniform(STAGE[:2], STAGE[2:], (200, 2))
    around = [pixels + step for step in (np.zeros(2), *0.4 * np.array(list(product((-1, 1), repeat=2))))]
    seen = [frontmost(bench.shown, places, bench.place, way) for places in around]
    certain = np.all([one == seen[0] for one in seen], axis=0)
    on_top = np.full(len(pixels), "", dtype=object)
    artist = bench._scene.artist
    for path, colour in zip(artist.get_paths(), artist.get_facecolors(), strict=True):
        if colour[3]:
            on_top[path.contains_points(pixels)] = to_hex(colour)
    assert (seen[0] != "").any()
    np.testing.assert_array_equal(on_top[certain], seen[0][certain])


def settings_of(leans=LEANS, plans=(60, 90, 135)):
    return [Corner(tail, pin, plan) for tail, pin, plan in product(leans, leans, plans)]


@pytest.mark.parametrize("stage", STAGES)
def test_nothing_leaves_the_picture_and_no_words_meet(stage):
    checked = 0
    for corner in settings_of():
        if stage in BEVELS and corner.plan_angle != 90:
            continue
        for share, marked, unit in ((0.0, "pin", "mm"), (1.0, "tail", "in")):
            PICTURE.update(corner, stage, share, marked, unit=unit)
            canvas = PICTURE.canvas
            for each in [*collections(canvas, PolyCollection), *collections(canvas, LineCollection)]:
                points = np.concatenate([path.vertices for path in each.get_paths() if len(path.vertices)])
                low, high = points.min(axis=0) - half_width(each), points.max(axis=0) + half_width(each)
                assert_within([*low, *high], (0, 0, canvas.width, canvas.height))
            shown = texts(canvas)
            for _, box in shown:
                assert_within(box, (0, 0, canvas.width, canvas.height))
            for (one, box), (two, other_box) in combinations(shown, 2):
                assert not overlap(box, other_box), f"{corner}: {one.get_text()!r} meets {two.get_text()!r}"
            checked += 1
    assert checked >= 2 * len(LEANS) ** 2


@pytest.mark.parametrize("marked", ["tail", "pin"])
@pytest.mark.parametrize(("tail", "pin", "plan"), [(30, 30, 90), (16, 11, 90), (-30, 20, 90), (45, -45, 90), (30, 30, 120)])
def test_a_protractor_on_the_face_laid_flat_agrees(marked, tail, pin, plan):
    corner = Corner(tail, pin, plan)
    PICTURE.update(corner, FLAT, 1.0, marked)
    frame = (STAGE[0] + 4, STAGE[1] + 40, STAGE[2] - 4, STAGE[3])
    # only the heavy line is black and 4 pixels wide; what else is dark is thinner or wider
    hand = 1 if marked == "tail" else -1
    for artist in (PICTURE.flat._wood, PICTURE.flat._waste, *PICTURE.flat._gaps, PICTURE.flat._angle):
        artist.set_visible(False)
    measured = -hand * protractor(PICTURE.png(), frame)
    assert measured == pytest.approx(corner.end_line(marked), abs=0.3)


def test_the_pencils_line_grows_with_the_dial_and_ends_on_the_end_line():
    corner = Corner(30, 30)
    for stage, marked in MARKS.items():
        lengths = []
        for share in (0.25, 0.5, 1.0):
            PICTURE.update(corner, stage, share)
            line = PICTURE.bench.shown
            drawn = [facet for facet in line if facet.fill == palette.INK and len(facet.points) == 4]
            assert len(drawn) == 1
            ends = (drawn[0].points[[0, 1]] + drawn[0].points[[3, 2]]) / 2
            lengths.append(np.linalg.norm(ends[1] - ends[0]))
            way = (ends[1] - ends[0]) / lengths[-1]
            projection = Projection(corner, marked)
            slant = np.degrees(np.arctan2(-way @ projection.way(marked, "level"), way @ projection.way(marked, "up")))
            assert slant == pytest.approx(corner.end_line(marked), abs=1e-9)
        assert lengths == pytest.approx(np.array([0.25, 0.5, 1]) * lengths[-1])


def first_number(words, pattern):
    found = re.search(pattern, words)
    assert found, f"{pattern} in {words!r}"
    return float(found[1])


@pytest.mark.parametrize("marked", ["tail", "pin"])
@pytest.mark.parametrize("corner", settings_of((-45, -20, 0, 8, 16, 30), (90,)), ids=str)
def test_sentences_say_the_numbers(corner, marked):
    projection = Projection(corner, marked)
    end, lean = corner.end_line(marked), corner.lean(other(marked))
    for stage in STAGES:
        words = stage_words(projection, stage)
        assert words.endswith(".") and words.count("board") >= 1
        if stage in BEVELS and min(abs(corner.tail_lean), abs(corner.pin_lean)) > 0:
            gap = 100 * (np.tan(np.radians(abs(lean))) - np.tan(np.radians(abs(end))))
            assert gap > 0, "the shortcut slants too much wherever both boards lean"
            assert first_number(words, r"4? ?in up|up, it is (?:less than )?([\d.]+) mm") == pytest.approx(gap, abs=0.1)
        elif stage in BEVELS:
            assert "because one of the boards is upright" in words
        elif abs(end) > 0.01:
            assert first_number(words, r"([\d.]+)° from square") == pytest.approx(abs(end), abs=0.051)
            assert first_number(words, r"square, ([\d.]+) mm in 100 mm") == pytest.approx(
                100 * np.tan(np.radians(abs(end))), abs=0.051)
            if stage in (*MARKS, FLAT) and stage != CARRIED:
                assert ("longer at the top" in words) == (end > 0)
    why = why_words(projection)
    if abs(end) > 0.01:
        run = 100 * abs(np.tan(np.radians(lean)))
        assert first_number(why, r"moves ([\d.]+) mm") == pytest.approx(run, abs=0.051)
        if corner.lean(marked):
            assert first_number(why, r"slant width is ([\d.]+) mm") == pytest.approx(
                100 / np.cos(np.radians(corner.lean(marked))), abs=0.051)
            assert f"not {abs(lean):g}°" in why


def test_stages_with_a_bevel_say_that_they_need_a_square_plan():
    for stage in BEVELS:
        with pytest.raises(ValueError, match=r"needs a plan angle of 90°, and this one is 100°"):
            PICTURE.update(Corner(20, 20, 100), stage)


def test_the_panel_plays_its_pencil_and_changes_its_stage():
    panel = projection_panel()
    first = panel.image.value
    panel.dials["pencil"].slider.value = 100.0  # what Play's link does on the page
    assert panel.image.value != first and panel.dials["pencil"].value == 100
    panel.stage.value = STAGES[1]
    assert panel.picture.projection.marked == "tail"
    panel.stage.value = AT_LEAN
    assert panel.picture.projection.marked == "tail" and "7.7 mm" in panel.sentence.value
    panel.unit.value = "in"
    assert "4 in up" in panel.sentence.value
    kept = panel.image.value
    panel.dials["plan_angle"].value = 100.0
    assert panel.image.value == kept and "plan angle of 90°" in panel.message.value
    panel.start_again.click()
    assert panel.image.value == first and not panel.message.value
    panel.dials["tail_lean"].field.value = "x"
    assert "x" in panel.message.value and panel.image.value == first


def test_what_is_stored_of_the_panel_moves_and_begins_with_the_finished_line():
    png, words = projection_panel(16, 11).stored()
    frames = Image.open(BytesIO(png))
    assert frames.n_frames > 20 and "10.6° from square" in words and "15.7° from square" in words
    first = Image.open(BytesIO(projection_still(Corner(16, 11)).png)).convert("RGB")
    assert frames.convert("RGB").tobytes() == first.tobytes()


def test_a_still_of_each_stage_has_the_panels_words():
    for stage in STAGES:
        still = projection_still(Corner(30, 30), stage, marked="tail")
        assert still.png.startswith(b"\x89PNG") and still.words.startswith(stage_words(Projection(Corner(30, 30),
                                                                         MARKS.get(stage, "tail")), stage))
    with pytest.raises(ValueError, match="The stage can be"):
        projection_still(Corner(30, 30), "laid down")


def test_two_bevels_show_their_light_in_a_lens():
    PICTURE.update(Corner(16, 11), TOGETHER, marked="tail")
    shown = [lens for side, (*artists, lens) in PICTURE.flat.lenses.items() if artists[0].get_visible()]
    assert len(shown) == 1 and shown[0].magnification > 10
    gap = shown[0].gap.get_paths()[0].vertices
    level = gap[np.isclose(gap[:, 1], gap[:, 1].min())]
    assert len(level) >= 2


@pytest.mark.parametrize(("leans", "named"), [
    ((0, 0), "block"), ((16, 0), "pair of wedges"), ((0, -11), "wedge, block"), ((30, 30), "wedge")])
def test_the_key_names_what_props_the_boards(leans, named):
    picture = ProjectionPicture()
    picture.update(Corner(*leans))
    said = {text.get_text() for text, _ in texts(picture.canvas)}
    assert {"wedge", "block", "wedge, block", "pair of wedges"} & said == {named}


@pytest.mark.parametrize("board", ["tail", "pin"])
def test_nothing_of_a_board_has_the_colour_of_a_wedge(board):
    fills = {facet.fill for facet in board_facets(Projection(Corner(30, 30), board).marked_board, board)}
    assert len(fills) == 3 and palette.END not in fills
