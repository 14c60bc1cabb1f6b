"""Figures for a write-up: the same bytes each time, fonts inside, greys that are grey, and nothing lost on the way."""

import os
import re
import subprocess
import sys
from io import BytesIO
from xml.etree import ElementTree

import numpy as np
import pytest
from pypdf import PdfReader
from splaywork import Corner
from splaywork.corner.picture import CornerPicture
from splaywork.corner.vectors_picture import VectorsPicture
from splaywork.drawing import export
from splaywork.drawing.export import save_figure
from splaywork.one_gauge.map_picture import GaugeMapPicture
from splaywork.one_gauge.setting_errors import jitter
from splaywork.one_gauge.setting_errors_picture import SettingErrorsPicture

STEEP = Corner(tail_lean=28, pin_lean=24)
SUFFIXES = (".svg", ".pdf")
SAVE = """
import sys
from splaywork import Corner
from splaywork.corner.picture import CornerPicture
from splaywork.drawing.export import save_figure
picture = CornerPicture()
picture.update(Corner(tail_lean=28, pin_lean=24))
for name in sys.argv[1:]:
    save_figure(name, picture, grey="grey" in name)
"""


def corner_picture():
    picture = CornerPicture()
    picture.update(STEEP)
    return picture


def pictures():
    for kind in (CornerPicture, GaugeMapPicture, VectorsPicture):
        picture = kind()
        picture.update(STEEP)
        yield picture
    picture = SettingErrorsPicture()
    picture.update(jitter([STEEP] * 4, boxes=500), 0.5)
    yield picture


@pytest.fixture(scope="module", params=pictures(), ids=lambda picture: type(picture).__name__)
def saved(request, tmp_path_factory):
    """Folder with plain.svg, plain.pdf, grey.svg and grey.pdf of a picture that was not changed by that."""
    folder, picture = tmp_path_factory.mktemp("saved"), request.param
    before = picture.png()
    for kind in ("plain", "grey"):
        for suffix in SUFFIXES:
            save_figure(folder / f"{kind}{suffix}", picture, grey=kind == "grey")
    assert picture.png() == before
    return folder


def svg_colours(path):
    return re.findall(r"#[0-9a-f]{6}", path.read_text())


def pdf_drawing(path):
    """The drawing operators of the only page, and those of what it refers to."""
    [page] = PdfReader(path).pages
    forms = page["/Resources"].get("/XObject", {})
    streams = [page.get_contents(), *(forms[name].get_object() for name in forms)]
    return b"\n".join(stream.get_data() for stream in streams).decode("latin-1")


def pdf_colours(path):
    """(red, green, blue) of each colour that is set; a grey that is set as such has the same number three times."""
    numbers = r"((?:[\d.]+ ){%d})(?:%s)\b"
    found = {tuple(map(float, three.split())) for three in re.findall(numbers % (3, "rg|RG"), pdf_drawing(path))}
    return found | {(float(one),) * 3 for one in re.findall(numbers % (1, "g|G"), pdf_drawing(path))}


def test_same_bytes_in_two_processes(tmp_path):
    names = [f"{kind}{suffix}" for kind in ("plain", "grey") for suffix in SUFFIXES]
    made = []
    for turn in ("1", "2"):
        folder = tmp_path / turn
        folder.mkdir()
        subprocess.run([sys.executable, "-c", SAVE, *names], cwd=folder, check=True,
                       env={"PYTHONHASHSEED": turn, "PYTHONPATH": ":".join(sys.path), "SOURCE_DATE_EPOCH": turn})
        made.append([(folder / name).read_bytes() for name in names])
    assert made[0] == made[1] and len(set(made[0])) == len(names)


def test_no_date(saved):
    assert "/CreationDate" not in PdfReader(saved / "plain.pdf").metadata
    assert not re.search(r"dc:date|\b20\d\d-\d\d-\d\d", (saved / "plain.svg").read_text())


def test_fonts_are_inside(saved):
    [page] = PdfReader(saved / "plain.pdf").pages
    fonts = [font.get_object() for font in page["/Resources"]["/Font"].values()]
    assert fonts
    for font in fonts:
        described = font["/DescendantFonts"][0].get_object() if "/DescendantFonts" in font else font
        assert "/FontFile2" in described["/FontDescriptor"], "a font is named and not embedded"
    root = ElementTree.parse(saved / "plain.svg").getroot()
    assert not root.findall(".//{*}text") and not root.findall(".//{*}image")  # letters are outlines
    assert root.findall(".//{*}use")


def test_words_of_a_pdf_can_be_searched(saved):
    [page] = PdfReader(saved / "plain.pdf").pages
    assert re.search(r"(?i)pin\s*(board|lean)", page.extract_text())


@pytest.mark.parametrize("kind", ["plain", "grey"])
def test_grey_is_grey_and_colour_is_not(saved, kind):
    written = set(svg_colours(saved / f"{kind}.svg"))
    assert len(written) > 3 and all(colour[1:3] == colour[3:5] == colour[5:] for colour in written) == (kind == "grey")
    painted = pdf_colours(saved / f"{kind}.pdf")
    assert len(painted) > 3 and all(len(set(colour)) == 1 for colour in painted) == (kind == "grey")


def test_greys_are_as_light_as_the_colours(saved):
    for colour, grey in set(zip(svg_colours(saved / "plain.svg"), svg_colours(saved / "grey.svg"), strict=True)):
        red, green, blue = (int(colour[at:at + 2], 16) for at in (1, 3, 5))
        assert int(grey[1:3], 16) == pytest.approx(0.299 * red + 0.587 * green + 0.114 * blue, abs=1)


def test_a_canvas_will_do_and_the_suffix_may_be_in_capitals(tmp_path):
    save_figure(tmp_path / "one.pdf", corner_picture())
    save_figure(str(tmp_path / "two.PDF"), corner_picture().canvas)
    assert (tmp_path / "one.pdf").read_bytes() == (tmp_path / "two.PDF").read_bytes()


@pytest.mark.parametrize("stop", ["fsync", "replace"])
def test_a_failed_write_loses_nothing(tmp_path, monkeypatch, stop):
    path = tmp_path / "figure.svg"
    save_figure(path, corner_picture())
    before = path.read_bytes()

    def fail(*_):
        raise OSError("no space left")

    monkeypatch.setattr(os, stop, fail)
    with pytest.raises(OSError, match="no space left"):
        save_figure(path, GaugeMapPicture())
    assert path.read_bytes() == before and list(tmp_path.iterdir()) == [path]


def test_a_failed_drawing_loses_nothing(tmp_path, monkeypatch):
    path = tmp_path / "figure.svg"
    path.write_text("mine")
    monkeypatch.setattr(export, "NO_DATE", {".svg": {"Nonsense": BytesIO()}})
    with pytest.raises(ValueError):
        save_figure(path, corner_picture())
    assert path.read_text() == "mine" and list(tmp_path.iterdir()) == [path]


@pytest.mark.parametrize(("name", "sentence"), [
    ("figure.png", "'figure.png' is neither: end the name in .svg or .pdf"), ("figure", "'figure' is neither"),
    (".svg", "'.svg' is neither"), ("figure.svg.exe", "neither"), ("figure.p\x00df", "neither"),
    ("nowhere/figure.svg", "no folder"),
])
def test_refused_in_one_sentence(tmp_path, name, sentence):
    with pytest.raises(ValueError) as refused:
        save_figure(tmp_path / name, corner_picture())
    assert sentence in str(refused.value) and "\n" not in str(refused.value) and str(refused.value).endswith(".")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("thing", [None, "picture", np.zeros((3, 3)), CornerPicture])
def test_what_is_no_picture_is_refused(tmp_path, thing):
    with pytest.raises(ValueError, match="is no picture to save"):
        save_figure(tmp_path / "figure.svg", thing)
    assert list(tmp_path.iterdir()) == []
