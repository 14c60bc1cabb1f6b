"""The panels and pictures of a trial corner, without a browser."""

from html import unescape
from io import BytesIO

import numpy as np
import pytest
import shapely
import splaywork as sw
from hypothesis import given
from hypothesis import strategies as st
from matplotlib.text import Text
from PIL import Image
from splaywork import Corner
from splaywork.trial.faults import edge_gap, end_gap, end_line_gap
from splaywork.trial.picture import FaultsPicture, MeasuredPicture
from splaywork.trial.readings import TrialCorner
from splaywork.trial.stills import readings_still
from splaywork.trial.words import say_edge_gap, say_end_gap, say_end_line_gap, say_measured

HOSTILE = ["<script>alert(1)</script>", "__import__('os').system('true')", "9" * 400, "1e999", "nan", "", "\x00", "½½½",
           "12; rm -rf", "{0.__class__}", "−−12", "89.9999 from the edge of the world", "a" * 100_000]


def texts(picture):
    """(text, box as left, bottom, right, top in pixels) of every text that shows."""
    renderer = picture.canvas.figure.canvas.get_renderer()
    found = [one for one in picture.canvas.figure.artists
             if isinstance(one, Text) and one.get_visible() and one.get_text()]
    return [(one.get_text(), np.array(one.get_window_extent(renderer).extents)) for one in found]


def assert_texts_have_room(picture):
    """Every text lies within the picture, and no two overlap."""
    found = texts(picture)
    assert len(found) > 8
    for text, box in found:
        inside = np.all(box >= -1) and np.all(box[2:] <= np.array([picture.WIDTH, picture.HEIGHT]) + 1)
        assert inside, f"{text} leaves the frame"
    for at, (one, box) in enumerate(found):
        for other, beside in found[at + 1:]:
            apart = np.any(np.minimum(box[2:], beside[2:]) <= np.maximum(box[:2], beside[:2]) + 0.5)
            assert apart, f"{one} lies on {other}"


# --- Pictures. ---


@pytest.fixture(scope="module")
def measured_picture():
    return MeasuredPicture()


@pytest.fixture(scope="module")
def faults_picture():
    return FaultsPicture()


LEAN = st.floats(-45, 45)


@given(LEAN, LEAN, st.floats(-3, 3), st.floats(-3, 3), st.floats(0, 2))
def test_measured_picture_keeps_its_texts_apart(measured_picture, tail, pin, off_tail, off_pin, within):
    intended = Corner(tail, pin)
    lines = np.array([intended.tail_end_line + off_tail, intended.pin_end_line + off_pin])
    measured_picture.update(TrialCorner(*lines, within, intended))
    assert_texts_have_room(measured_picture)


@pytest.mark.parametrize(("lines", "leans"), [((60, 29), (-45, 45)), ((44.9, 44.9), (-45, -45)), ((-60, 20), (45, 0)),
                                              ((0, 0), (0, 0))])
def test_far_from_what_was_intended_is_drawn_as_well(measured_picture, lines, leans):
    count = measured_picture.canvas.artist_count()
    measured_picture.update(TrialCorner(*lines, 0.5, Corner(*leans)))
    assert_texts_have_room(measured_picture)
    assert measured_picture.canvas.artist_count() == count
    assert measured_picture.png()[:4] == b"\x89PNG"


def test_error_bars_are_to_scale(measured_picture):
    """The bar against the printed labels of its own scale."""
    measured = TrialCorner(10.9, 15.2, 0.25, Corner(16, 11))
    measured_picture.update(measured)
    readings = {"tail": measured.lean("tail"), "pin": measured.lean("pin"), "dihedral": measured.dihedral}
    for name, reading in readings.items():
        bar = measured_picture._bars[name]
        numbers = [float(label.get_text().rstrip("°").replace("−", "-")) for label in bar._labels]
        ends = bar._bar.get_segments()[0]
        shown = numbers[0] + (ends[:, 0] - bar.left) / (bar.right - bar.left) * (numbers[2] - numbers[0])
        assert shown == pytest.approx([reading.low, reading.high], abs=0.06)  # labels are written to a tenth


def test_the_lens_shows_the_lines_as_far_apart_as_it_says(measured_picture):
    measured = TrialCorner(10.9, 15.2, 0.25, Corner(16, 11))
    measured_picture.update(measured, height=120)
    face = measured_picture._faces[0]
    times = int(face._times.get_text().split()[-2])
    up = Corner(16, 11).slant_width(120, "tail")
    heads = [face.lens.artists[name].get_segments()[0][1] for name in ("read", "intended")]
    plain = [line.get_segments()[0][1] for line in (face._read, face._intended)]
    scale = np.ptp(face._square.get_segments()[0][:, 1]) / up
    true = scale * up * abs(np.diff(np.tan(np.radians([10.9, Corner(16, 11).tail_end_line])))[0])
    assert abs(plain[0][0] - plain[1][0]) == pytest.approx(true)
    assert abs(heads[0][0] - heads[1][0]) == pytest.approx(times * true)


def test_nothing_enlarged_leaves_the_lens(measured_picture):
    measured_picture.update(TrialCorner(10.9, 15.2, 0.25, Corner(16, 11)))
    with Image.open(BytesIO(measured_picture.png())) as image:
        pixels = np.asarray(image.convert("RGB"))[8:300]
    window = measured_picture._faces[0].lens.window
    left, right = int(window.left), int(window.right)
    assert pixels[:, left - 7:left - 3].min() == pixels[:, right + 3:right + 9].min() == 255
    assert pixels[:, left + 3:right - 3].min() < 60


GAP = st.floats(-10, 10)


@given(st.builds(Corner, LEAN, LEAN), st.sampled_from(["tail", "pin"]), st.tuples(GAP, GAP, GAP), st.floats(40, 300),
       st.floats(6, 40), st.sampled_from(["mm", "in"]))
def test_faults_picture_keeps_its_texts_apart(faults_picture, corner, board, gaps, height, thickness, unit):
    faults_picture.update(corner, *gaps, board, height, thickness, unit)
    assert_texts_have_room(faults_picture)


def red(png, columns):
    """Pixels of the gap's colour in some columns of a picture."""
    with Image.open(BytesIO(png)) as image:
        pixels = np.asarray(image.convert("RGB")).astype(int)[30:230, columns]
    return int((np.abs(pixels - (0xA8, 0x32, 0x0A)).max(axis=2) < 12).sum())


def test_the_three_gaps_are_seen_and_only_where_they_are(faults_picture):
    corner, thirds = Corner(28, 24), [slice(0, 306), slice(306, 612), slice(612, 920)]
    gaps = edge_gap(corner, 18), end_gap(corner, 18), 1.0
    for shown in range(3):
        faults_picture.update(corner, *[gap if at == shown else 0 for at, gap in enumerate(gaps)])
        seen = [red(faults_picture.png(), third) for third in thirds]
        assert seen[shown] > 150 and sum(seen) == seen[shown]


@pytest.mark.parametrize("size", [30, -30, 5, -0.5])
@pytest.mark.parametrize(("corner", "board"), [(Corner(16, 11), "tail"), (Corner(16, 11), "pin"), (Corner(-20, 11), "tail"),
                                               (Corner(0, 0), "pin"), (Corner(40, 40), "tail")])
def test_names_of_the_gaps_lie_over_no_edge(corner, board, size, faults_picture):
    """At the ends of the sliders too: "outside" and "inside" on the bench, "outside" beside the wood, "outer face" on it."""
    faults_picture.update(corner, size, size, size, board)
    canvas = faults_picture.canvas

    def box(artist):
        wide, at = canvas.width_of(artist), np.array(artist.get_position())
        left = at[0] - {"left": 0, "right": wide, "center": wide / 2}[artist.get_horizontalalignment()]
        return shapely.box(left, at[1] - 1, left + wide, at[1] + 9)

    def outlines(polygons):
        return [shapely.Polygon(path.vertices) for path in polygons.get_paths()]

    for sketch in (faults_picture._edge, faults_picture._end, faults_picture._corner):
        woods, light = outlines(sketch._wood), outlines(sketch._gap)
        shown = [box(artist) for artist in sketch._sides if artist.get_visible()]
        for each in shown:
            assert not any(each.intersects(gap.buffer(0)) for gap in light)
            if sketch is faults_picture._edge:
                assert outlines(sketch._ground)[0].buffer(0.5).contains(each)
            elif sketch is faults_picture._end:
                assert not any(each.intersects(wood.buffer(0)) for wood in woods)
            else:
                assert woods[1].contains(each)
        assert len(shown) == (2 if sketch is not faults_picture._corner else 1)


@pytest.mark.parametrize("corner", [Corner(16, 11), Corner(-12, 9), Corner(0, 0), Corner(45, -45)])
def test_readings_still_is_whole(corner):
    still = readings_still(corner)
    with Image.open(BytesIO(still.png)) as image:
        assert image.size == (920, 300)
        edge = np.asarray(image.convert("RGB")).astype(int)
    assert all(np.all(side > 240) for side in (edge[0], edge[-1], edge[:, 0], edge[:, -1])), "something leaves the frame"
    assert "The fourth shows how to check the plan angle." in still.words


# --- The panel of two readings. ---


@pytest.fixture
def panel():
    return sw.trial_corner_panel(10.9, 15.2)


def sentence(panel):
    return unescape(panel.sentence.value)


def expected(panel):
    at = {name: dial.value for name, dial in panel.dials.items()}
    return say_measured(TrialCorner(at["tail_end_line"], at["pin_end_line"], at["resolution"],
                                       Corner(at["tail_lean"], at["pin_lean"])))


def test_it_opens_with_its_sentence_and_picture(panel):
    assert sentence(panel) == expected(panel) and panel.message.value == ""
    with Image.open(BytesIO(panel.image.value)) as image:
        assert image.size == (920, 400)


@pytest.mark.parametrize(("typed", "degrees"), [("11.25", 11.25), ("18.7 over 100", np.degrees(np.arctan(0.187))),
                                                ("79 1/2 from the edge", 10.5), ("1:5", np.degrees(np.arctan(0.2))),
                                                ("−8°30'", -8.5)])
def test_readings_are_taken_as_makers_say_them(panel, typed, degrees):
    before = bytes(panel.image.value)
    panel.dials["tail_end_line"].field.value = typed
    assert panel.dials["tail_end_line"].value == pytest.approx(degrees)
    assert sentence(panel) == expected(panel) and bytes(panel.image.value) != before


@pytest.mark.parametrize("name", ["tail_end_line", "pin_end_line", "tail_lean", "pin_lean", "resolution"])
@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_text_leaves_the_last_good_state(panel, name, text):
    before = bytes(panel.image.value), panel.sentence.value, panel.dials[name].value
    panel.dials[name].field.value = text
    assert (bytes(panel.image.value), panel.sentence.value, panel.dials[name].value) == before
    complaint = panel.message.value.removeprefix("<b>").removesuffix("</b>")
    assert complaint and "<" not in complaint and "\n" not in complaint and len(complaint) < 400


def test_an_impossible_pair_says_so_and_keeps_the_picture(panel):
    panel.dials["tail_end_line"].value = 50
    before = bytes(panel.image.value), panel.sentence.value
    panel.dials["pin_end_line"].value = 45
    assert "No pair of boards has end lines of 50° (tail) and 45° (pin)" in panel.message.value
    assert (bytes(panel.image.value), panel.sentence.value) == before
    panel.dials["pin_end_line"].value = 20
    assert panel.message.value == "" and sentence(panel) == expected(panel)


def test_reset_puts_everything_back(panel):
    before = bytes(panel.image.value), panel.sentence.value
    for name, value in (("tail_end_line", -30), ("pin_lean", 40), ("resolution", 1.5)):
        panel.dials[name].value = value
    assert panel.sentence.value != before[1]
    panel.start_again.click()
    assert (bytes(panel.image.value), panel.sentence.value) == before


@pytest.mark.parametrize(("ask", "words"), [
    (lambda: sw.trial_corner_panel(70, 3), "Tail end line, measured"),
    (lambda: sw.trial_corner_panel("wide", 3), "Tail end line, measured"),
    (lambda: sw.trial_corner_panel(50, 45), "No pair of boards"),
    (lambda: sw.trial_corner_panel(10, 15, 3), "Read to ±"),
    (lambda: sw.trial_corner_panel(10, 15, 0.25, 50), "Tail lean, intended"),
    (lambda: sw.trial_faults_panel(10, -46), "Pin lean"),
    (lambda: sw.trial_faults_panel(height=20), "Height"),
    (lambda: sw.trial_faults_panel(thickness=None), "Thickness"),
])
def test_panels_refuse_what_their_sliders_have_not(ask, words):
    with pytest.raises(ValueError, match=words) as refused:
        ask()
    assert str(refused.value).endswith(".") and "\n" not in str(refused.value)


def test_text_starts_a_slider_as_its_field_would_take_it():
    panel = sw.trial_corner_panel("79.1 from the edge", "18.7 over 100", tail_lean="16")
    assert panel.dials["tail_end_line"].value == pytest.approx(10.9)
    assert sw.trial_faults_panel(height="4 in").dials["height"].value == pytest.approx(101.6)


def bar_of(panel, name):
    """Pixels that a worst-case bar is long."""
    low, high = panel.picture._bars[name]._bar.get_segments()[0][:, 0]
    return high - low


@pytest.mark.parametrize("name", ["tail", "pin", "dihedral"])
def test_a_bar_grows_with_the_resolution_while_dragging(panel, name):
    """Four times the resolution, and the bar is about four times as long: its scale stays; Fit chooses it anew."""
    seen = []
    for resolution in (0.25, 0.5, 0.75, 1):
        panel.dials["resolution"].value = resolution
        seen.append(bar_of(panel, name))
    assert seen == sorted(seen) and seen[-1] == pytest.approx(4 * seen[0], rel=0.05)
    panel.fit.click()
    assert bar_of(panel, name) < 0.7 * seen[-1] or panel.picture._bars[name]._span <= 2.0


def test_the_white_band_in_the_lens_grows_with_the_resolution(panel):
    def band():
        return np.ptp(panel.picture._faces[1].lens.artists["band"].get_paths()[0].vertices[:, 0])

    seen = []
    for resolution in (0.25, 0.5, 1):
        panel.dials["resolution"].value = resolution
        seen.append(band())
    assert seen[0] < seen[1] < seen[2]


# --- The panel of three gaps. ---


@pytest.fixture
def gaps():
    return sw.trial_faults_panel()


def expected_gaps(panel, board="tail"):
    at = {name: dial.value for name, dial in panel.dials.items()}
    corner = Corner(at["tail_lean"], at["pin_lean"])
    signed = [at[name] * panel.sides[name].value for name in ("edge", "end", "line")]
    return " ".join([say_edge_gap(corner, at["thickness"], signed[0], board),
                     say_end_gap(corner, at["thickness"], signed[1], board),
                     say_end_line_gap(corner, at["height"], signed[2], board)])


def test_it_opens_on_a_corner_left_square(gaps):
    assert sentence(gaps) == expected_gaps(gaps)
    assert sentence(gaps).count("was left square") == 2
    corner = Corner(16, 11)
    assert gaps.dials["line"].value == pytest.approx(end_line_gap(corner, 120, corner.tail_end_line + 0.5), abs=0.03)


def test_it_opens_on_leans_of_opposite_sign():
    panel = sw.trial_faults_panel(-20, 15)
    assert panel.sides["edge"].value == panel.sides["end"].value == -1
    assert sentence(panel).count("was left square") == 2


def test_sides_board_and_unit_change_what_is_said(gaps):
    for control, value in ((gaps.sides["edge"], -1), (gaps.sides["line"], -1), (gaps.board, "pin")):
        before = bytes(gaps.image.value), sentence(gaps)
        control.value = value
        assert bytes(gaps.image.value) != before[0] and sentence(gaps) != before[1]
    assert sentence(gaps) == expected_gaps(gaps, "pin")
    gaps.unit.value = "in"
    assert " mm" not in sentence(gaps) and " in of light" in sentence(gaps)
    gaps.start_again.click()
    assert gaps.board.value == "tail" and gaps.unit.value == "mm" and sentence(gaps) == expected_gaps(gaps)


@pytest.mark.parametrize("name", ["tail_lean", "pin_lean", "edge", "end", "line", "height", "thickness"])
@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_text_leaves_the_last_good_gaps(gaps, name, text):
    before = bytes(gaps.image.value), gaps.sentence.value, gaps.dials[name].value
    gaps.dials[name].field.value = text
    assert (bytes(gaps.image.value), gaps.sentence.value, gaps.dials[name].value) == before
    assert gaps.message.value.startswith("<b>") and "<script" not in gaps.message.value


@pytest.fixture(scope="module")
def kept():
    return sw.trial_faults_panel()


@given(LEAN, LEAN, st.floats(0, 30), st.floats(0, 30), st.floats(0, 30))
def test_any_gap_at_any_corner_is_answered(kept, tail, pin, edge, end, line):
    for name, value in (("tail_lean", tail), ("pin_lean", pin), ("edge", edge), ("end", end), ("line", line)):
        kept.dials[name].value = value
    assert kept.message.value == "" and sentence(kept) == expected_gaps(kept)
