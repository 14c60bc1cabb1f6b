"""The drawing of a drawer in its opening: what is drawn is what is written, and everything has its place."""

from itertools import combinations

import numpy as np
import pytest
from cases import examples
from hypothesis import given
from hypothesis import strategies as st
from matplotlib.text import Text
from splaywork.box.box import Box
from splaywork.box.opening import Clearances, FrontChoice, Opening, gap_words
from splaywork.box.opening_picture import OpeningPicture, opening_still
from splaywork.box.runners import runners
from splaywork.common.reading import read_length

PICTURE = OpeningPicture()
LEANS = st.integers(-25, 40)
SIDES = {"floor": (0, 1), "right": (1, 2), "top": (2, 3), "left": (3, 0)}


@st.composite
def fits(draw):
    clearances = Clearances(*(draw(st.floats(0.5, 4)) for _ in range(6)))
    leans = {f"{name}_lean": draw(LEANS) for name in ("front", "back", "left", "right")}
    return Box.for_opening(draw(st.integers(300, 900)), draw(st.integers(300, 600)), draw(st.integers(80, 160)), **leans,
                           thickness=10, clearances=clearances)


def outlines(section):
    """(hole, drawer) as drawn, (4, 2) each, in pixels."""
    return [next(path.vertices[:4] for path in artist.get_paths()) for artist in (section._hole, section._drawer)]


def level_or_plumb_gap(hole, drawer, side):
    """Between the drawn lines of one side, as seen: level at left and right, plumb at floor and top, in pixels."""
    (a, b), (c, _) = (outline[list(SIDES[side])] for outline in (hole, drawer))
    along, across = (0, 1) if side in ("left", "right") else (1, 0)
    share = (c[across] - a[across]) / (b[across] - a[across])
    return abs(c[along] - (a + share * (b - a))[along])


@given(fit=fits(), unit=st.sampled_from(["mm", "in"]))
@examples(20)
def test_gaps_are_drawn_as_written(fit, unit):
    PICTURE.update(fit, unit)
    hole, drawer = outlines(PICTURE.front)
    scale = np.ptp(hole[[0, 1], 0]) / fit.opening.floor_width
    for side in SIDES:
        drawn = level_or_plumb_gap(hole, drawer, side) / scale
        written = PICTURE.notes[side].get_text().split(": ")[-1]
        assert written == gap_words(fit.gaps_at_front[side], unit)
        assert read_length(written) == pytest.approx(drawn, abs=0.056)
    back = read_length(PICTURE.back_gap.get_text().removeprefix("gap behind: "))
    hole, drawer = outlines(PICTURE.side)
    drawn = level_or_plumb_gap(hole, drawer, "right") * np.cos(np.radians(fit.opening.back_lean))
    assert back == pytest.approx(drawn * fit.opening.depth / np.ptp(hole[[0, 1], 0]), abs=0.056)


@given(fit=fits(), unit=st.sampled_from(["mm", "in"]))
@examples(20)
def test_everything_has_its_place(fit, unit):
    PICTURE.update(fit, unit)
    canvas = PICTURE.canvas
    renderer = canvas.figure.canvas.get_renderer()
    boxes = [(text.get_text(), text.get_window_extent(renderer))
             for text in canvas.figure.findobj(Text) if text.get_text()]
    for words, box in boxes:
        assert box.x0 >= 0 and box.x1 <= canvas.width and box.y0 >= 0 and box.y1 <= canvas.height, words
    for (one, box), (other, second) in combinations(boxes, 2):
        assert not box.padded(1).overlaps(second), f"{one!r} over {other!r}"
    for section in (PICTURE.front, PICTURE.side):
        left, bottom, right, top = section.frame
        for outline in outlines(section):
            assert (outline >= (left, bottom)).all() and (outline <= (right, top)).all()


def test_leaders_end_in_their_gaps():
    fit = Box.for_opening(360, 420, 190, left_lean=16, right_lean=4, front_lean=11, thickness=12,
                          clearances=Clearances(20, 20, 20, 20, 0, 20))
    PICTURE.update(fit)
    hole, drawer = outlines(PICTURE.front)
    ends = [path.vertices[-1] for path in PICTURE._leaders.get_paths()]
    for side, end in zip(("left", "right", "floor", "top"), ends, strict=True):
        along = 0 if side in ("left", "right") else 1
        middles = sorted(outline[list(SIDES[side])].mean(axis=0)[along] for outline in (hole, drawer))
        assert middles[0] < end[along] < middles[1]


def test_the_corner_is_as_much_larger_as_it_says():
    PICTURE.update(Box.for_opening(360, 420, 190, left_lean=16, front_lean=11, thickness=12))
    said = float(PICTURE._title.get_text().removeprefix("about ").split(" times")[0])
    wide = [np.ptp(outlines(section)[1][[0, 1], 0]) for section in (PICTURE.front, PICTURE.corner)]
    assert wide[1] / wide[0] == pytest.approx(said, abs=0.5)


def test_the_still_says_what_the_fit_says():
    fit = Box.for_opening(360, 420, 190, left_lean=16, front_lean=11, thickness=12)
    still = opening_still(fit, "in")
    assert still.words == fit.words("in") and still.png.startswith(b"\x89PNG")


@pytest.mark.parametrize("kind", FrontChoice.KINDS)
def test_the_show_front_and_the_runners_are_drawn_where_they_lie(kind):
    fit = Opening(360, 420, 190, front_lean=-11, left_lean=-16, right_lean=14).fit(
        Clearances(floor=15, top=20, right=6), front=FrontChoice(kind, 14, 8, 9, 6, 7), thickness=12)
    made = runners(fit)
    PICTURE.update(fit, carried=made)
    section, scale = PICTURE.front, np.ptp(outlines(PICTURE.front)[0][[0, 1], 0]) / fit.opening.floor_width
    foot = outlines(section)[0][0]
    drawn = section._dashed.get_segments()[0][:4]
    front = fit.show_front.corners[0][[0, 1, 1, 0], [0, 0, 1, 1]][:, [0, 2]]
    assert (drawn - foot) / scale == pytest.approx(front, abs=1e-6)
    strips = [path.vertices[:4] for path in section._strips.get_paths()]
    assert len(strips) == sum(strip.side != "back" for strip in made.strips) == 5
    for strip, shape in zip(made.strips, strips, strict=False):
        assert np.ptp((shape - foot)[:, 1]) / scale == pytest.approx(strip.height)
    assert len(PICTURE.side._front.get_paths()) == 1 and not PICTURE.front._front.get_paths()
    PICTURE.update(Opening(360, 420, 190).fit(Clearances()))
    assert not section._dashed.get_segments() and not section._strips.get_paths() and not PICTURE.side._front.get_paths()
