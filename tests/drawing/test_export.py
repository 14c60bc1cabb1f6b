"""Figures for a write-up: the same bytes each time, fonts inside, greys that are grey, and nothing lost on the way."""

import inspect
import os
import re
import subprocess
import sys
from collections import Counter
from io import BytesIO
from itertools import combinations, product
from xml.etree import ElementTree

import numpy as np
import pdfplumber
import pytest
import splaywork
from cases import sample
from panel_pictures import pictures as panel_pictures
from pypdf import PdfReader
from splaywork import Corner, Joint
from splaywork.corner.picture import CornerPicture
from splaywork.corner.vectors_picture import VectorsPicture
from splaywork.drawing import export
from splaywork.drawing.canvas import Canvas
from splaywork.drawing.export import alike, line_styles, prepared, save_figure
from splaywork.drawing.figure_width import letters
from splaywork.drawing.palette import GUIDE, INK, MEASURE, SHORTCUT
from splaywork.joint.stills import joint_moving_still
from splaywork.one_gauge.map_picture import GaugeMapPicture
from splaywork.one_gauge.setting_errors import jitter
from splaywork.one_gauge.setting_errors_picture import SettingErrorsPicture
from splaywork.teaching.class_report import ClassReport
from splaywork.teaching.exercises.progress import Progress

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


JOINT = Joint(Corner(16, 11), height=120, tail_thickness=12)
STILLS = {
    "corner": lambda: splaywork.corner_still(STEEP), "dragged": lambda: splaywork.lean_dragged_still(STEEP, step=14),
    "words": lambda: splaywork.words_still(STEEP), "vectors": lambda: splaywork.vectors_still(STEEP),
    "end and baseline": lambda: splaywork.square_end_and_baseline_still(STEEP), "sphere": lambda: splaywork.sphere_still(STEEP),
    "projection": lambda: splaywork.projection_still(STEEP), "readings": lambda: splaywork.readings_still(STEEP),
    "closing": lambda: splaywork.closing_corners_still(), "map": lambda: splaywork.gauge_map_still(STEEP),
    "go round": lambda: splaywork.one_gauge_still("go round", STEEP), "joint": lambda: splaywork.joint_still(JOINT),
    "tail": lambda: splaywork.tail_still(JOINT), "stages": lambda: splaywork.stages_still(JOINT, ["struck", "tails cut"]),
    "pulled apart": lambda: joint_moving_still(JOINT, frames=3),
    "step 1": lambda: splaywork.bench_steps(JOINT)[0], "step 10": lambda: splaywork.bench_steps(JOINT)[9],
    "tail end": lambda: splaywork.tail_end_still(STEEP),
}


# The other stills of the front door, and every picture of a panel: looked at once each, in grey and a column wide.
DRAWER = splaywork.Box.for_opening(360, 420, 190, left_lean=16, front_lean=11, thickness=12)
CLASS = ClassReport({"anna": Progress().tried("04-2", False, "the shortcut"), "ben": Progress().tried("02-3", True)}, {})
OTHERS = {
    "hold": lambda: splaywork.one_gauge_still("hold the leans", STEEP),
    "setting errors": lambda: splaywork.setting_errors_still(jitter([STEEP] * 4, boxes=500), 0.5),
    "opening": lambda: splaywork.opening_still(DRAWER), "paper": lambda: splaywork.paper_model_still(DRAWER.box, frames=3),
    "projected": lambda: splaywork.projection_moving_still(STEEP),
    "class": lambda: splaywork.class_report_still(CLASS),
}


def test_every_still_of_the_front_door_is_here():
    looked_at = set(re.findall(r"splaywork\.(\w+)\(", inspect.getsource(sys.modules[__name__])))
    assert {name for name in splaywork.__all__ if name.endswith("_still")} <= looked_at


def fits_a_column_in_grey(picture, path):
    """The file's letters, none of them lost, and its lines."""
    save_figure(path, picture, grey=True, width="column")
    texts = [element.text.strip() for element in ElementTree.parse(path).getroot().findall(".//{*}text")]
    canvas = prepared(picture.canvas, grey=True, width=84)
    assert len(texts) > 3 and sorted(texts) == sorted(text.get_text().strip() for text in letters(canvas))
    assert min(text.get_fontsize() for text in letters(canvas)) >= 7.99
    lost = Counter("".join(text.get_text() for text in letters(prepared(picture.canvas)))) - Counter("".join(texts))
    assert not "".join(lost).strip()
    for (colour, weight, dash), (other, heft, dashes) in combinations(line_styles(canvas.figure), 2):
        assert colour == other or not alike(weight, dash, heft, dashes), (colour, other, weight, dash)


@pytest.mark.parametrize("name", OTHERS)
def test_the_other_stills_fit_a_column_in_grey(tmp_path, name):
    fits_a_column_in_grey(OTHERS[name](), tmp_path / "one.svg")


def test_every_picture_of_a_panel_fits_a_column_in_grey(tmp_path):
    kinds = set()
    for picture in panel_pictures(STEEP):
        fits_a_column_in_grey(picture, tmp_path / "one.svg")
        kinds.add(type(picture))
    assert len(kinds) > 10


def test_a_key_s_samples_are_told_from_headings_and_ticks():
    """A line of a key under a column of words isn't theirs, a ring stays a ring, and a tick is no sample."""
    joint = [text.get_text() for text in letters(prepared(STILLS["joint"]().canvas, width=84))]
    assert "inner face; end line: A; cheeks: C" in joint and "cheek, scribed from the tails" in joint
    readings = [text.get_text() for text in letters(prepared(STILLS["readings"]().canvas, width=84))]
    assert "The lean" in readings and "1 The lean" not in readings  # it stands beside its 1
    told = letters(prepared(STILLS["map"]().canvas, width=84))
    rows = {text.get_position()[1]: text.get_text() for text in told if text.get_horizontalalignment() == "right"}
    assert "0.25°" in [text.get_text() for text in told if text.get_position()[1] in rows]


@pytest.mark.parametrize(("name", "width"), [
    *product(STILLS, ["column"]), *sample(list(product(STILLS, ["page", 120])), range(0, 2 * len(STILLS), 7))])
def test_letters_are_eight_points_at_the_width_and_none_is_lost(tmp_path, name, width):
    still = STILLS[name]()
    save_figure(tmp_path / "one.pdf", still, width=width)
    with pdfplumber.open(tmp_path / "one.pdf") as file:
        [page] = file.pages
        assert float(page.width) == pytest.approx({"column": 84, "page": 174}.get(width, width) * 72 / 25.4, abs=0.1)
        written = [char for char in page.chars if char["text"].strip()]
        assert written and min(char["size"] for char in written) >= 7.99
        for char in written:
            assert char["x0"] >= -1 and char["x1"] <= page.width + 1 and char["top"] >= -1 and char["bottom"] <= page.height + 1
        have = Counter("".join(char["text"] for char in written))
    wanted = Counter("".join(text.get_text() for text in letters(prepared(still.canvas))).replace(" ", ""))
    assert sum(wanted.values()) > 5 and not wanted - have


@pytest.mark.parametrize("name", STILLS)
def test_a_key_tells_each_number_on_the_drawing(name):
    """Discs on the drawing, the numbers in them, and the same numbers before the rows of the key."""
    written = letters(prepared(STILLS[name]().canvas, width=84))
    numbers = [text.get_text() for text in written if text.get_fontweight() == "bold" and text.get_text().isdigit()]
    marks = [text for text in written if text.get_fontweight() == "bold" and text.get_verticalalignment() == "center_baseline"
             and text.get_text().isdigit()]
    told = [text.get_text() for text in written if text.get_horizontalalignment() == "right" and text.get_text().isdigit()]
    assert told == [f"{number}" for number in range(1, len(told) + 1)] and told
    assert set(told) <= set(numbers) and len(marks) >= len(told)
    places = np.array([text.get_position() for text in marks if text.get_text() in told]) * 72
    gaps = np.linalg.norm(places[:, None] - places, axis=-1) + 99 * np.eye(len(places))
    assert gaps.min() > 10


@pytest.mark.parametrize("name", sample(STILLS, range(0, len(STILLS), 3)))
def test_the_drawing_alone_has_no_words(name):
    alone = letters(prepared(STILLS[name]().canvas, width=84, key=False))
    assert all(len(text.get_text()) <= 3 for text in alone)
    assert len(alone) < len(letters(prepared(STILLS[name]().canvas)))


@pytest.mark.parametrize(("name", "width"), [
    *product(STILLS, [84]), *sample(list(product(STILLS, [None])), range(0, len(STILLS), 5))])
def test_in_grey_lines_differ_by_dash_or_weight(name, width):
    styles = list(line_styles(prepared(STILLS[name]().canvas, grey=True, width=width).figure))
    for (colour, weight, dash), (other, heft, dashes) in combinations(styles, 2):
        assert colour == other or not alike(weight, dash, heft, dashes), (colour, other, weight, dash)
    assert all(colour[1:3] == colour[3:5] == colour[5:] for colour, *_ in styles)


def test_lines_that_colour_alone_tells_apart_get_dashes():
    canvas = Canvas(300, 200)
    for number, colour in enumerate((INK, SHORTCUT, MEASURE, GUIDE)):
        canvas.lines(colour, 2.0).set_segments([[(10, 20 + 30 * number), (280, 20 + 30 * number)]])
    assert len({dash for *_, dash in line_styles(prepared(canvas).figure)}) == 1
    assert len({dash for *_, dash in line_styles(prepared(canvas, grey=True).figure)}) == 4


def test_a_still_keeps_the_first_frame():
    still, moving = splaywork.corner_still(STEEP, turn=5.0), splaywork.lean_dragged_still(STEEP, step=14)
    assert still.canvas.png() == moving.canvas.png() == still.png


@pytest.mark.parametrize(("how", "sentence"), [
    ({"width": "poster"}, "width can be 'column' or 'page'"), ({"width": 20}, "The width is 20 mm: give 50 to 400 mm"),
    ({"width": -3}, "width"), ({"key": False}, "needs a width"), ({"key": "no", "width": 84}, "choice of a key"),
])
def test_another_width_is_refused_in_one_sentence(tmp_path, how, sentence):
    with pytest.raises(ValueError, match=sentence) as refused:
        save_figure(tmp_path / "one.svg", STILLS["corner"](), **how)
    assert "\n" not in str(refused.value) and list(tmp_path.iterdir()) == []


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


def test_an_svg_holds_text_and_says_what_it_is(saved):
    root = ElementTree.parse(saved / "plain.svg").getroot()
    texts = [element.text for element in root.findall(".//{*}text")]
    assert len(texts) > 3 and not root.findall(".//{*}image")
    assert root.get("role") == "img" and root[0].tag.endswith("title") and root[0].text
    assert root[1].tag.endswith("desc") and all(text.strip() in root[1].text for text in texts)


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
    assert pdf_drawing(tmp_path / "one.pdf") == pdf_drawing(tmp_path / "two.PDF")


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
