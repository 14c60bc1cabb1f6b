"""The projector switch without a browser: what it returns, and what it does to pictures made afterwards."""

import numpy as np
import pytest
from splaywork import Corner, for_projector
from splaywork.corner.picture import CornerPicture
from splaywork.drawing import palette
from splaywork.drawing.canvas import FAR
from splaywork.drawing.export import save_figure
from splaywork.drawing.paper import Page, Picture, save_pages
from splaywork.widgets.projector import CODE, PAGE


@pytest.fixture(autouse=True)
def put_back():
    yield
    for_projector(False)


def picture():
    made = CornerPicture()
    made.update(Corner(16, 11))
    return made.canvas


def test_lines_are_heavier_only_while_it_is_on():
    before = picture()
    for_projector()
    during = picture()
    for_projector(on=False)
    after = picture()
    assert (before.pen, during.pen, after.pen) == (1, FAR, 1)
    assert np.array_equal(after.pixels(), before.pixels())
    dark = [(canvas.pixels()[..., :3] == palette.rgb(palette.INK)).all(-1).sum() for canvas in (before, during)]
    assert dark[1] > dark[0]


def test_printed_sheets_keep_their_lines(tmp_path):
    """A sheet with a picture on it, and a figure saved from one, before the switch and after it."""
    def sheet(name):
        def draw(canvas):
            canvas.lines(width=2).set_segments([np.array([[5, 5], [80, 60]])])
        page = Page(100, 100, np.array([[5, 5], [95, 95]]), (), (Picture(draw, np.array([[10, 10], [90, 90]])),), np.zeros(2))
        [path] = save_pages(tmp_path / name, page)
        made = CornerPicture()
        made.update(Corner(16, 11))
        save_figure(tmp_path / f"figure-{name}", made)
        return path.read_bytes(), (tmp_path / f"figure-{name}").read_bytes()

    before = sheet("before.pdf")
    for_projector()
    assert sheet("after.pdf") == before


def test_the_button_folds_the_code_away_and_out():
    page = for_projector()
    button = page.children[0]
    assert {PAGE, CODE} <= set(page._dom_classes) and button.description == "Show the code"
    button.value = True
    assert CODE not in page._dom_classes and PAGE in page._dom_classes and button.description == "Hide the code"
    button.value = False
    assert CODE in page._dom_classes and button.description == "Show the code"


def test_off_shows_nothing_and_takes_away_what_was_shown():
    page = for_projector()
    assert for_projector(False) is None and page.comm is None


def test_a_second_switch_takes_the_place_of_the_first():
    first, second = for_projector(), for_projector()
    assert first.comm is None and second.comm is not None
