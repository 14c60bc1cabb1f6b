"""Pictures that move, on plain pages made by nbconvert: they are there, they move, and paper shows their first frame."""

import base64
import io

import nbformat
import pytest
from lab import until
from nbconvert import HTMLExporter
from PIL import Image
from places import NOTEBOOKS
from test_plain_pages import OPTIONS

MOVING = {"00_start_here": 1, "01_plain_corner": 1, "02_tail_leaned_corner": 1, "04_compound_corner": 1,
          "07_one_gauge_is_not_enough": 1, "09_lay_out_the_joint": 1}


def moving_in(path):
    """The stored PNGs of a notebook that have more than one frame."""
    stored = [output.get("data", {}).get("image/png") for cell in nbformat.read(path, as_version=4).cells
              for output in cell.get("outputs", [])]
    pngs = [base64.b64decode(png) for png in stored if png]
    return [png for png in pngs if getattr(Image.open(io.BytesIO(png)), "n_frames", 1) > 1]


@pytest.mark.parametrize("name", MOVING)
def test_a_moving_picture_moves_on_a_plain_page(browser, name, tmp_path):
    path = NOTEBOOKS / f"{name}.ipynb"
    pngs = moving_in(path)
    assert len(pngs) >= MOVING[name]
    (tmp_path / "page.html").write_text(HTMLExporter(**OPTIONS).from_filename(str(path))[0], encoding="utf-8")
    page = browser.new_page()
    page.route("http**", lambda route: route.abort())
    page.goto((tmp_path / "page.html").as_uri())
    try:
        for png in pngs:
            picture = page.locator(f'img[src="data:image/png;base64,{base64.b64encode(png).decode()}"]')
            assert picture.count() == 1
            picture.scroll_into_view_if_needed()
            first, seen = picture.screenshot(), []
            until(lambda picture=picture, first=first, seen=seen: seen.append(picture.screenshot()) or seen[-1] != first,
                  "the picture moves", 10)
    finally:
        page.close()
