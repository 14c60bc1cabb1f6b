"""Wedge templates: the printed slope is the lean, at true scale, one page a lean."""

import re

import numpy as np
import pytest
from pypdf import PdfReader
from splaywork import save_wedge_template
from splaywork.corner.wedge_template_sheet import TALL, wedge_template
from splaywork.drawing.layout import lay_out
from splaywork.drawing.paper import PAPERS, Area, Label


@pytest.mark.parametrize("lean", [1, 8, -16, 30, 45])
@pytest.mark.parametrize("paper", PAPERS)
def test_the_slope_on_the_page_is_the_lean(lean, paper):
    [page] = lay_out(wedge_template(lean), paper)
    [side] = [item.points for item in page.inside if isinstance(item, Area)]
    foot, _, _, top = side
    run, height = top - foot
    assert np.degrees(np.arctan2(run, height)) == pytest.approx(abs(lean), abs=1e-9) and height == pytest.approx(TALL)
    assert (side >= page.window[0]).all() and (side <= page.window[1]).all()
    said = [item.text for item in page.around if isinstance(item, Label)]
    assert any(f"{100 * np.tan(np.radians(abs(lean))):.1f} mm for every 100 mm" in text for text in [" ".join(said)])


def test_a_page_for_each_lean_measured_on_the_pdf(tmp_path):
    [path] = save_wedge_template(tmp_path / "wedge.pdf", 30, 16)
    reader = PdfReader(path)
    assert [re.search(r"lean of ([\d.]+)°", page.extract_text())[1] for page in reader.pages] == ["30.0", "16.0"]
    drawn = reader.pages[0].get_contents().get_data().decode("latin-1")
    lines = re.findall(r"([\d.]+) ([\d.]+) m\s+([\d.]+) ([\d.]+) l\s+S", drawn)
    ways = np.array([[float(c) - float(a), float(d) - float(b)] for a, b, c, d in lines]) * 25.4 / 72
    slope = ways[np.isclose(np.abs(ways[:, 1]), TALL, atol=0.01)]
    assert any(np.degrees(np.arctan2(abs(x), abs(y))) == pytest.approx(30, abs=0.01) for x, y in slope)


@pytest.mark.parametrize(("leans", "sentence"), [((), "no lean to draw"), ((0,), "wedge is drawn for 1° to 45°"),
                                                 ((60,), "wedge is drawn for 1° to 45°"), (("x",), "lean")])
def test_other_leans_are_refused_in_one_sentence(tmp_path, leans, sentence):
    with pytest.raises(ValueError, match=sentence) as refused:
        save_wedge_template(tmp_path / "wedge.pdf", *leans)
    assert str(refused.value).endswith(".") and not list(tmp_path.iterdir())
