"""The map of where one gauge is good enough and the histogram of setting errors: what they draw is what is so."""

import re
from io import BytesIO

import numpy as np
import pytest
from cases import examples
from hypothesis import assume, example, given
from hypothesis import strategies as st
from matplotlib.collections import LineCollection, PolyCollection
from matplotlib.colors import to_hex, to_rgb
from matplotlib.text import Text
from mpmath import mp
from PIL import Image
from splaywork import Corner, gauge_map_panel, setting_errors_panel
from splaywork.common.printing import fine, gap, off
from splaywork.corner.picture import HEAVY, LIGHT, MEDIUM
from splaywork.drawing import palette
from splaywork.one_gauge.map_picture import BANDS, BEYOND, GaugeMapPicture, gauge_map_still
from splaywork.one_gauge.one_gauge import TOLERANCES
from splaywork.one_gauge.setting_errors import jitter
from splaywork.one_gauge.setting_errors_picture import KINDS, SettingErrorsPicture, setting_errors_still
from splaywork.one_gauge.words import about, gap_beside, say_degree_adds, say_setting_errors

LEFT, BOTTOM, RIGHT, TOP = GaugeMapPicture.MAP
LEAN = st.floats(0, 45).map(lambda lean: round(lean, 3))  # finer than a slider is set, rounding takes the gap
HOSTILE = ("abc", "", "1e999", "12 34", "nan", "__import__('os')", "<img src=x onerror=alert(1)>", "99999", "\x00",
           "−−5")
MAP, HISTOGRAM = GaugeMapPicture(), SettingErrorsPicture()  # one for all, as a panel keeps one


def corners_of(points):
    """Leans (n, 2) at pixels (n, 2) of the map."""
    return 45 * (np.asarray(points) - (LEFT, BOTTOM)) / (RIGHT - LEFT)


def worse_gap(tail, pin, width):
    """The wider of the two gaps, from the true end lines of `Corner` and the lines as struck."""
    corner = Corner(tail, pin)
    struck = np.tan(np.radians([pin, tail]))
    true = np.tan(np.radians([corner.tail_end_line, corner.pin_end_line]))
    return width * np.abs(struck - true).max(axis=0)


def worse_error(tail, pin):
    corner = Corner(tail, pin)
    return np.maximum(np.abs(pin - corner.tail_end_line), np.abs(tail - corner.pin_end_line))


def worst_to_many_digits(tail, pin, width):
    """The wider gap, mm, and the worse line's error, degrees, to 50 digits: nothing only where a board stands upright."""
    with mp.workdps(50):
        a, b = (mp.radians(mp.mpf(lean)) for lean in (tail, pin))
        missed = [(mp.tan(a), mp.tan(a) * mp.cos(b)), (mp.tan(b), mp.tan(b) * mp.cos(a))]  # struck, true: as tangents
        gaps = [abs(struck - true) * width for struck, true in missed]
        misses = [mp.degrees(abs(mp.atan(struck) - mp.atan(true))) for struck, true in missed]
        return float(max(gaps)), float(max(misses))


def on_map(points):
    """Those of the points that lie on the map, its frame left out."""
    points = np.asarray(points)
    return points[(points[:, 0] > LEFT) & (points[:, 0] < RIGHT) & (points[:, 1] > BOTTOM) & (points[:, 1] < TOP)]


def curves(canvas, colour, width):
    """The curves of many points that are drawn in one colour and one width."""
    kept = [each for each in canvas.figure.artists if isinstance(each, LineCollection)
            and len(each.get_paths()) and to_hex(each.get_color()[0]) == colour and each.get_linewidths()[0] == width]
    return [path.vertices for each in kept for path in each.get_paths() if len(path.vertices) > 5]


def boxes(canvas):
    """{text: (left, bottom, right, top) in pixels} of every text that shows."""
    renderer = canvas.figure.canvas.get_renderer()
    return [(text.get_text(), text.get_window_extent(renderer).extents) for text in canvas.figure.findobj(Text)
            if text.get_text()]


def assert_readable(canvas):
    """No text leaves the picture or lies on another."""
    placed = boxes(canvas)
    for at, (text, box) in enumerate(placed):
        assert box[0] >= 0 and box[1] >= 0 and box[2] <= canvas.width and box[3] <= canvas.height, text
        for other, its in placed[:at]:
            assert not np.all(np.minimum(box[2:], its[2:]) > np.maximum(box[:2], its[:2])), (text, other)


class TestTheMap:
    @given(width=st.floats(20, 400), tolerance=st.floats(0.05, 2))
    @examples(25)
    def test_lines_join_corners_of_the_same_gap(self, width, tolerance):
        MAP.update(Corner(15, 12), width, tolerance)
        [chosen] = curves(MAP.canvas, palette.INK, HEAVY)
        others = [level for level in TOLERANCES + BEYOND if level < worse_gap(45, 45, width)
                  and (level == tolerance or abs(level - tolerance) > 0.005)]  # else it's written as the tolerance is
        thin = curves(MAP.canvas, palette.INK, LIGHT) + curves(MAP.canvas, palette.INK, 0.6)
        for level, line in zip([tolerance, *others], [chosen, *thin], strict=True):
            tail, pin = corners_of(on_map(line)).T
            pixel = 45 / (RIGHT - LEFT)
            assert np.all(worse_gap(np.maximum(tail - pixel, 0), np.maximum(pin - pixel, 0), width) <= level)
            assert np.all(worse_gap(tail + pixel, pin + pixel, width) >= level)

    @given(error=st.floats(0.05, 1))
    @examples(25)
    def test_dashed_line_is_where_the_shortcut_is_as_wrong_as_the_gauge(self, error):
        MAP.update(Corner(15, 12), setting_limit=error)
        [dashed] = curves(MAP.canvas, palette.SHORTCUT, MEDIUM)
        assert worse_error(*corners_of(dashed).T) == pytest.approx(error, rel=1e-6)

    @pytest.mark.parametrize("width", [30, 100, 350])
    def test_shading_says_how_wide_the_gap_is(self, width):
        MAP.update(Corner(45, 45), width)
        shown = np.asarray(Image.open(BytesIO(MAP.png())).convert("RGB"))[::-1]
        pixels = np.random.default_rng(2).integers((LEFT, BOTTOM), (RIGHT, TOP), (3000, 2))
        gaps = worse_gap(*corners_of(pixels + 0.5).T, width)
        wanted = np.array([to_rgb(palette.WHITE), *map(to_rgb, BANDS)])[np.searchsorted(TOLERANCES, gaps)] * 255
        alike = np.abs(shown[pixels[:, 1], pixels[:, 0]] - wanted).max(axis=1) < 2
        assert alike.mean() > 0.85  # the rest lies under a line, or on the edge of a band

    def test_bands_darken_so_that_they_read_in_grey(self):
        grey = [np.dot(to_rgb(colour), (0.2126, 0.7152, 0.0722)) for colour in (palette.WHITE, *BANDS)]
        assert np.all(np.diff(grey) < -0.05)

    @given(tail=LEAN, pin=LEAN, width=st.floats(20, 400), tolerance=st.floats(0.05, 2))
    @example(tail=0.125, pin=0.125, width=20, tolerance=1)  # a miss of 3e-7°, which is not nothing
    @example(tail=0.001, pin=0.001, width=20, tolerance=1)
    @example(tail=0, pin=41.3, width=100, tolerance=1)  # the difference of two lines that are the same is 1e-15 in floats
    @examples(25)
    def test_verdict_and_numbers(self, tail, pin, width, tolerance):
        opens, error = worst_to_many_digits(tail, pin, width)
        assume(abs(opens - tolerance) > 1e-6)
        MAP.update(Corner(tail, pin), width, tolerance)
        said = [text for text, _ in boxes(MAP.canvas)]
        verdict = f"{'Good' if opens < tolerance else 'Not good'} enough for a gap of {fine(tolerance)}"
        assert verdict in said
        if opens == 0:
            assert said.count("none") == 2
        else:
            written, just = gap_beside(opens, tolerance)
            number = written.removesuffix(" mm").replace("less than ", "< ")
            assert number in said
            if not just:  # what is written stands on the side of the limit that the verdict puts it on
                assert (float(number.split()[-1]) <= float(fine(tolerance).split()[0])) == (opens < tolerance)
            assert off(error).replace("less than ", "< ") in said and "none" not in said

    @pytest.mark.parametrize("unit", ["mm", "in"])
    def test_a_gap_just_beyond_the_tolerance_says_so(self, unit):
        opens = worse_gap(40, 0.5, 400)
        for tolerance, beyond in ((opens - 1e-4, True), (opens + 1e-4, False)):
            MAP.update(Corner(40, 0.5), 400, tolerance, unit=unit)
            assert gap(opens, unit) == gap(tolerance, unit)
            assert any("a little more: the gap" in text for text, _ in boxes(MAP.canvas)) == beyond
            assert_readable(MAP.canvas)

    @given(tail=LEAN, pin=LEAN)
    @examples(25)
    def test_the_mark_stands_at_the_corner(self, tail, pin):
        MAP.update(Corner(tail, pin))
        marks = [path.vertices for each in MAP.canvas.figure.artists if isinstance(each, PolyCollection)
                 and to_hex(each.get_facecolor()[0]) == palette.SHORTCUT for path in each.get_paths()]
        places = [corners_of([(mark.min(axis=0) + mark.max(axis=0)) / 2])[0] for mark in marks]
        assert any(np.allclose(place, (tail, pin), atol=0.02) for place in places)

    @given(tail=LEAN, pin=LEAN, width=st.floats(20, 400), tolerance=st.floats(0.05, 2), error=st.floats(0.05, 1),
           unit=st.sampled_from(["mm", "in"]))
    @examples(30)
    def test_texts_stay_apart_and_inside(self, tail, pin, width, tolerance, error, unit):
        MAP.update(Corner(tail, pin), width, tolerance, error, unit)
        assert_readable(MAP.canvas)

    def test_artists_are_kept(self):
        before = MAP.canvas.artist_count()
        MAP.update(Corner(1, 44), 37, 1.3, 0.9, "in")
        assert MAP.canvas.artist_count() == before

    def test_still_says_what_it_shows(self):
        still = gauge_map_still(Corner(15, 12))
        assert still.png.startswith(b"\x89PNG") and "isn't good enough" in still.words


def sample_of(spread, tail=15, pin=12, seed=0, corners=4, **stock):
    return jitter([Corner(tail, pin)] * corners, spread, boxes=2000, seed=seed, **stock)


def bars_of(canvas, colour):
    """Outlines of the upright bars filled with a colour, in pixels."""
    left, bottom, right, _ = SettingErrorsPicture.FRAME
    paths = [path.vertices for each in canvas.figure.artists if isinstance(each, PolyCollection)
             and to_hex(each.get_facecolor()[0]) == colour for path in each.get_paths()]
    return [path for path in paths if path[:, 1].min() == bottom and left <= path[:, 0].min() < right]


def area(outlines):
    return sum(np.prod(outline.max(axis=0) - outline.min(axis=0)) for outline in outlines)


class TestSettingErrors:
    @given(spread=st.floats(0.05, 1), tolerance=st.floats(0.05, 2), tail=st.floats(-45, 45), pin=st.floats(-45, 45))
    @examples(30)
    def test_shaded_part_of_the_hill_is_the_share_within(self, spread, tolerance, tail, pin):
        sample = sample_of(spread, tail, pin)
        HISTOGRAM.update(sample, tolerance)
        good, bad = (area(bars_of(HISTOGRAM.canvas, colour)) for colour in (palette.END, palette.GUIDE))
        share = np.mean(sample.openings.max(axis=(1, 2)) <= tolerance)
        assert good / (good + bad) == pytest.approx(share, abs=2e-3)
        told = [text for text, _ in boxes(HISTOGRAM.canvas) if text.startswith(f"within {fine(tolerance)}: ")]
        shown = int(told[0].rpartition(" ")[2].removesuffix("%"))
        assert abs(shown - 100 * share) < 1 and (shown in (0, 100)) == (share in (0, 1))  # "all" and "none" are said of no less

    @given(line=st.floats(0.05, 1), bevel=st.floats(0.05, 1))
    @examples(20)
    def test_bars_are_as_long_as_what_each_setting_opens(self, line, bevel):
        sample = sample_of({"end line": line, "end bevel": bevel})
        HISTOGRAM.update(sample, 0.5)
        x = SettingErrorsPicture.BARS_AT
        lengths = [np.ptp(path.vertices[:, 0]) for each in HISTOGRAM.canvas.figure.artists
                   if isinstance(each, PolyCollection) for path in each.get_paths() if path.vertices[:, 0].min() == x]
        opened = (sample.per_degree * (line, bevel)).max(axis=0).ravel()
        assert np.divide(lengths, max(lengths)) == pytest.approx(opened / opened.max())
        bold = [text.get_text() for text in HISTOGRAM.canvas.figure.findobj(Text) if text.get_fontweight() == "bold"]
        board, setting = KINDS[int(opened.argmax())]
        assert any(text.startswith(f"{board} board's {setting}") for text in bold)

    @given(spread=st.floats(0.05, 1), tolerance=st.floats(0.05, 2), tail=st.floats(-45, 45), height=st.floats(40, 300),
           thickness=st.floats(6, 40), unit=st.sampled_from(["mm", "in"]), corners=st.sampled_from([1, 4]))
    @examples(30)
    def test_texts_stay_apart_and_inside(self, spread, tolerance, tail, height, thickness, unit, corners):
        sample = sample_of(spread, tail, 40, corners=corners, height=height, thickness=thickness)
        HISTOGRAM.update(sample, tolerance, unit)
        assert_readable(HISTOGRAM.canvas)

    @pytest.mark.parametrize("back", [(15, 0), (-15, 3), (40, 12)])
    def test_a_corner_s_name_stays_inside(self, back):
        front = Corner(15, 12)
        HISTOGRAM.update(jitter([front, front, Corner(*back), Corner(*back)], 0.35, height=120, thickness=18), 0.5)
        names = [text for text, _ in boxes(HISTOGRAM.canvas) if ", front corner, by" in text or ", back corner, by" in text]
        assert names
        assert_readable(HISTOGRAM.canvas)

    def test_artists_are_kept(self):
        HISTOGRAM.update(sample_of(0.25), 0.5)
        before = HISTOGRAM.canvas.artist_count()
        HISTOGRAM.update(sample_of(1, corners=1), 0.05, "in")
        assert HISTOGRAM.canvas.artist_count() == before

    def test_still_says_what_it_shows(self):
        sample = sample_of(0.25)
        assert f"{100 * sample.within(0.5):.0f}%" in setting_errors_still(sample, 0.5).words

    @pytest.mark.parametrize("spread", [0.1, 0.13, 0.25, 0.37])
    def test_what_half_and_nine_out_of_ten_keep_within_is_said_to_the_nearest_step(self, spread):
        """That share of the boxes keeps within what the sentence says, and half a step of 0.05 mm; counted from the boxes."""
        sample = sample_of(spread)
        told = str(say_setting_errors(sample, 0.5))
        shares = {name: float(found.group(1)) for name, found in (
            (0.5, re.search(r"In half of .*?about ([\d.]+) mm or less", told)),
            (0.9, re.search(r"nine out of ten.*?about ([\d.]+) mm or less", told))) if found}
        assert 0.9 in shares
        widest = sample.openings.max(axis=(1, 2))
        for share, most in shares.items():
            assert np.mean(widest <= most - 0.0251) < share <= np.mean(widest <= most + 0.0251)

    @pytest.mark.parametrize(("size", "unit", "said"), [
        (0.5546, "mm", "about 0.55 mm"), (0.01, "mm", "0.05 mm"), (2.34, "mm", "about 2.3 mm"), (0.0001, "in", "0.001 in")])
    def test_a_gap_smaller_than_a_step_is_said_to_keep_within_one(self, size, unit, said):
        assert about(size, unit) == said

    @pytest.mark.parametrize("angle", [0, 8, 20, 44])
    def test_what_a_degree_adds_is_what_two_triangles_differ_by(self, angle):
        near, adds = map(float, re.findall(r"([\d.]+) mm(?= from|\.)", str(say_degree_adds(angle, up=300))))
        far = 300 * (np.sin(np.radians(angle + 1)) / np.cos(np.radians(angle + 1)))
        assert near == pytest.approx(300 * np.sin(np.radians(angle)) / np.cos(np.radians(angle)), abs=0.051)
        assert near + adds == pytest.approx(far, abs=0.101)

    @pytest.mark.parametrize(("leans", "place"), [
        ([(15, 12), (15, 12), (15, 0), (15, 0)], "The end lines at a front corner matter most. One end line"),
        ([(15, 0), (15, 0), (15, 12), (15, 12)], "The end lines at a back corner matter most. One end line"),
        ([(40, 12)] * 4, "The pin board's end line matters most. That end line"),
        ([(40, 12), (40, 0), (40, 0), (40, 0)], "The pin board's end line at the front left corner matters most."),
        ([(40, 12), (40, 0)], "The pin board's end line at corner 1 matters most."),
        ([(40, 12)], "The pin board's end line matters most.")])
    def test_what_matters_most_is_named_once_for_equal_corners(self, leans, place):
        sample = jitter([Corner(*each) for each in leans], 0.25, height=120, thickness=18)
        assert place in say_setting_errors(sample, 0.5)


@pytest.fixture(params=[gauge_map_panel, setting_errors_panel])
def panel(request):
    return request.param()


class TestPanels:
    def test_hostile_text_is_refused_in_one_sentence_and_the_picture_stays(self, panel):
        good = panel.image.value, panel.sentence.value
        for dial in panel.dials.values():
            for text in HOSTILE:
                dial.field.value = text
                assert panel.message.value.startswith(f"<b>{dial.name}"), text
                assert panel.message.value.endswith(".</b>") and "<img" not in panel.message.value
                assert (panel.image.value, panel.sentence.value) == good
            dial.reset()

    def test_every_dial_changes_the_picture_and_reset_brings_it_back(self, panel):
        first = panel.image.value
        for dial in panel.dials.values():
            dial.field.value = "40" if dial.slider.max > 2 else "0.7"
            assert panel.image.value != first, dial.name
            panel.start_again.click()
            assert panel.image.value == first and panel.message.value == ""

    def test_inches_are_said_in_boxes_picture_and_sentence(self, panel):
        first = panel.image.value
        panel.unit.value = "in"
        assert panel.dials["tolerance"].field.value.endswith(" in") and panel.image.value != first
        assert " in" in panel.sentence.value and " mm" not in panel.sentence.value
        panel.dials["tolerance"].field.value = "1/64 in"
        assert panel.dials["tolerance"].value == pytest.approx(25.4 / 64)

    def test_scales_stay_while_dragging_and_fit_chooses_anew(self):
        """A hill of errors half as large lies half as far to the right; after Fit, it fills the picture again."""
        panel = setting_errors_panel()

        def reach():
            return max(path[:, 0].max() for colour in (palette.END, palette.GUIDE)
                       for path in bars_of(panel.picture.canvas, colour)) - SettingErrorsPicture.FRAME[0]

        before = reach()
        panel.dials["line"].value, panel.dials["bevel"].value = 0.1, 0.1
        assert reach() < 0.6 * before
        panel.dials["tolerance"].value = 0.05
        panel.fit.click()
        assert reach() > 0.9 * before

    def test_fractions_of_a_degree_are_shown_as_typed(self):
        panel = gauge_map_panel()
        panel.dials["setting_limit"].field.value = "0.35"
        assert panel.dials["setting_limit"].field.value == "0.35°" and "0.35°" in panel.sentence.value

    @pytest.mark.parametrize(("make", "name", "lean"), [
        (gauge_map_panel, "Tail lean", -1), (gauge_map_panel, "Pin lean", 46), (setting_errors_panel, "Back lean", 46),
        (gauge_map_panel, "Tail lean", "steep"), (setting_errors_panel, "Pin lean", None)])
    def test_leans_off_the_sliders_are_refused(self, make, name, lean):
        with pytest.raises(ValueError, match=f"^{name}") as refused:
            make(**{name.lower().replace(" ", "_"): lean})
        assert str(refused.value).endswith(".") and "\n" not in str(refused.value)

    def test_text_starts_a_slider_as_its_field_would_take_it(self):
        assert gauge_map_panel("15").dials["tail_lean"].value == 15
        assert setting_errors_panel(back_lean="2 1/2").dials["back_lean"].value == 2.5
