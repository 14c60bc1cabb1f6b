"""The wall chart: one page that keeps its margins, all eleven steps, every word and caution, at several leans, both sizes."""

import numpy as np
import pdfplumber
import pytest
from splaywork import Corner, Joint, save_wall_chart, wall_chart
from splaywork.drawing.paper import Label, Picture
from splaywork.joint.bench_sketch_picture import least_height
from splaywork.joint.bench_steps import bench_step_words
from splaywork.joint.bench_steps_picture import frames
from splaywork.joint.words import CAUTIONS
from splaywork.teaching.wall_chart_sheet import GAPS, NOMINAL, layout

LEANS = [(16, 11, 90), (30, -20, 90), (0, 0, 90), (0, 12, 90), (-25, -25, 90), (20, 15, 75)]


@pytest.mark.parametrize("leans", LEANS)
@pytest.mark.parametrize("paper", ["A3", "A2"])
def test_everything_stands_on_one_page(leans, paper):
    joint = Joint(Corner(*leans), height=120, tail_thickness=18, tails=2)
    page = wall_chart(joint, paper)
    assert (round(page.width), round(page.height)) == {"A3": (297, 420), "A2": (420, 594)}[paper]
    points = np.concatenate([np.atleast_2d(item.points) for item in page.around])
    assert points.min() > 10 and (points.max(axis=0) < [page.width - 10, page.height - 10]).all()
    text = " ".join(item.text for item in page.around if isinstance(item, Label))
    assert all(f"{step.number}  {step.title}" in text for step in bench_step_words(joint))
    assert all(seen in text and do in text for seen, do in GAPS)
    assert all(caution in text for caution in CAUTIONS)
    boxes = [item.points for item in page.around if isinstance(item, Picture)]
    assert len(boxes) == 12
    for number, (low, high) in enumerate(boxes):
        for other_low, other_high in boxes[number + 1:]:
            assert (high <= other_low + 1e-9).any() or (other_high <= low + 1e-9).any()


@pytest.mark.parametrize("unit", ["mm", "0.001 in"])
@pytest.mark.parametrize("leans", LEANS)
def test_every_drawing_is_as_tall_as_its_callouts_need(leans, unit):
    """Each step of the page has the room of its words: none is pushed into the step below."""
    joint = Joint(Corner(*leans), height=120, tail_thickness=18)
    drawn = [frames(joint, step.number, unit) for step in bench_step_words(joint, unit)]
    boxes = np.array([item.points for item in wall_chart(joint, unit=unit).around if isinstance(item, Picture)])[1:]
    across, tall = (boxes[:, 1] - boxes[:, 0]).T
    assert len(drawn) == 11 == len(boxes)
    needs = {nominal: np.array([least_height(shown, nominal) for shown in drawn]) * across / nominal for nominal in NOMINAL}
    assert min(nominal for nominal, need in needs.items() if (tall >= need - 1e-6).all()) < NOMINAL[-1]


def test_type_is_no_smaller_than_the_rows_need():
    joint = Joint(Corner(16, 11), height=120, tail_thickness=18)
    drawn = [frames(joint, number, "mm") for number in range(1, 12)]
    for room in (290.0, 400.0):
        _, rows = layout(drawn, room, 55.0)
        assert rows.sum() + 6 * 11.5 == pytest.approx(room) and rows[-1] >= 55.0 - 11.5
    assert layout(drawn, 400.0, 55.0)[0] == NOMINAL[0] < layout(drawn, 290.0, 55.0)[0]


def test_it_prints_with_the_words_on_the_picture(tmp_path):
    path, = save_wall_chart(tmp_path / "chart.pdf", Joint(Corner(16, 11), height=120, tail_thickness=18, tails=2))
    with pdfplumber.open(path) as file:
        page, = file.pages
        text = page.extract_text()
        assert all(word in text for word in ("plan angle", "rim", "corner line", "level line", "baseline", "lean"))
        assert all(word["x0"] > 20 and word["x1"] < page.width - 20 and word["top"] > 20 and word["bottom"] < page.height - 20
                   for word in page.extract_words())


@pytest.mark.parametrize("wrong", [lambda: wall_chart("x"), lambda: wall_chart(Joint(Corner(1, 2), 120, 18), "A4"),
                                   lambda: wall_chart(Joint(Corner(1, 2), 120, 18), unit="cm")])
def test_what_cannot_be_is_refused_in_one_sentence(wrong):
    with pytest.raises(ValueError, match=r"\.$"):
        wrong()
