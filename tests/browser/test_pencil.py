"""The projection panel's pencil, played on the page: the line grows, ends at the top, and is the library's end line."""

import base64

import pytest
from lab import until
from on_canvas import protractor
from splaywork import Corner
from splaywork.common.printing import degrees
from splaywork.corner.projection_panel import ProjectionPanel
from splaywork.corner.projection_words import FLAT, MARKS

# The picture as the page shows it, a PNG in base 64.
SHOWN = """root => {
    const image = root.querySelector(":scope > img.widget-image"), canvas = document.createElement("canvas");
    canvas.width = image.naturalWidth;
    canvas.height = image.naturalHeight;
    canvas.getContext("2d").drawImage(image, 0, 0);
    return canvas.toDataURL("image/png").split(",")[1]; }"""
BAND = (16, 200, 602, 244)  # pixels of the face laid flat in which nothing is dark but the end line


def test_play_draws_the_line_and_it_lands_on_the_library_s_number(notebook, all_pairs):
    if not notebook.path.name.startswith("04"):
        pytest.skip("the projection is on another page")
    (pair,) = (each for each in all_pairs if isinstance(each.twin, ProjectionPanel))
    corner, root = Corner(30, 30), pair.panel.root
    pair.reset()
    (pencil,) = (dial for dial in pair.panel.dials if dial.name.startswith("Pencil"))
    for stage, marked in MARKS.items():
        pair.press(stage)
        pencil.press("Home")
        pencil.reach(0)
        begun = pair.settle("the pencil is at the foot")
        root.locator(".widget-play button").first.click()
        heights, pictures = [], set()

        def at_the_top(heights=heights, pictures=pictures):
            heights.append(pencil.at())
            pictures.add(pair.seen()["picture"])
            return heights[-1] == 100

        until(at_the_top, "the pencil has come to the top", 30)
        ended = pair.settle("the picture shows the pencil at the top")
        assert heights == sorted(heights) and len(set(heights)) > 5, heights
        assert len(pictures) > 5 and begun["picture"] != ended["picture"]
        assert f"slants {degrees(corner.end_line(marked))} from square, 50.0 mm in 100 mm" in ended["sentence"]
        pair.press(FLAT)
        pair.settle("the face lies flat")
        seen = protractor(base64.b64decode(root.evaluate(SHOWN)), BAND)
        assert (1 if marked == "pin" else -1) * seen == pytest.approx(corner.end_line(marked), abs=0.5)
    assert notebook.troubles == []
