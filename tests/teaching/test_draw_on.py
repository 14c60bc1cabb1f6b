"""The sheets to draw on: at true scale on every paper, the key's lines those of crossed planes, and no answer on the sheet."""

from math import cos, radians, tan

import numpy as np
import pytest
from exercise_answers import Planes
from splaywork import Corner, draw_on, save_draw_on
from splaywork.drawing.paper import Label, Stroke

CORNERS = [(28, 20), (-20, 35), (0, 12), (45, 45), (0, 0), (-30, -10)]


def strokes(pages, name):
    return [item.points for page in pages for item in page.around if isinstance(item, Stroke) and item.name == name]


@pytest.mark.parametrize("paper", ["A4", "A3", "Letter"])
@pytest.mark.parametrize("leans", CORNERS)
def test_the_key_draws_the_end_lines_at_true_scale(leans, paper):
    pages, planes = draw_on(Corner(*leans), paper=paper, key=True), Planes(*leans)
    for board in ("tail", "pin"):
        line, = strokes(pages, f"{board} cheek")
        along, up = line[1] - line[0]
        assert up == pytest.approx(60 * planes.width(board, 1))
        assert along == pytest.approx(up * tan(radians(planes.end_line(board))), abs=1e-9)
        shortcut, = strokes(pages, f"{board} baseline")
        assert (shortcut[1] - shortcut[0])[0] == pytest.approx(up * tan(radians(leans[board == "tail"])), abs=1e-9)
        lean, = strokes(pages, f"{board} lean")
        out, high = lean[1] - lean[0]
        assert high == pytest.approx(60) and out == pytest.approx(60 * tan(radians(leans[board == "pin"])), abs=1e-9)
        assert along == pytest.approx(60 * tan(radians(leans[board == "tail"])), abs=1e-9)  # what the sheet tells to carry over
        assert up == pytest.approx(60 / cos(radians(leans[board == "pin"])))


def test_all_is_on_the_paper_and_eleven_points():
    for leans in CORNERS:
        for key in (False, True):
            for page in draw_on(Corner(*leans), key=key):
                points = np.concatenate([np.atleast_2d(item.points) for item in page.around])
                assert points.min() > 9 and (points.max(axis=0) < [page.width - 9, page.height - 9]).all()
                steps = [item for item in page.around if isinstance(item, Label) and item.text[:2] in ("1.", "2.", "3.", "4.")]
                assert all(item.size >= 11 for item in steps)


def test_the_sheet_itself_has_no_answer():
    pages = draw_on(Corner(28, 20))
    assert not strokes(pages, "tail cheek") and not strokes(pages, "pin baseline")
    text = " ".join(item.text for page in pages for item in page.around if isinstance(item, Label))
    assert f"{Planes(28, 20).end_line('tail'):.1f}" not in text and "Our own corner" in text


@pytest.mark.parametrize("wrong", [lambda: draw_on(Corner(46, 0)), lambda: draw_on(Corner(10, 10, 80)), lambda: draw_on("x"),
                                   lambda: draw_on(paper="A5"), lambda: draw_on(unit="cm"), lambda: draw_on(key="yes"),
                                   lambda: draw_on(Corner([1, 2], 3)), lambda: save_draw_on("x.txt")])
def test_what_cannot_be_drawn_is_refused_in_one_sentence(wrong):
    with pytest.raises(ValueError, match=r"\.$") as refused:
        wrong()
    assert "\n" not in str(refused.value)


def test_the_file_is_a_pdf_of_its_pages(tmp_path):
    path, = save_draw_on(tmp_path / "sheet.pdf")
    assert path.read_bytes()[:4] == b"%PDF"
