"""The pictures of the one-gauge shortcut: what is drawn, measured from the artists, is what the library computes."""

from io import BytesIO
from itertools import combinations, product

import numpy as np
import pytest
from matplotlib.collections import PolyCollection
from matplotlib.colors import to_hex
from matplotlib.path import Path
from matplotlib.text import Text
from PIL import Image
from splaywork import Corner, one_gauge_panel
from splaywork.drawing.lens import Reading, cut, enlarged_number_and_unit, tenths
from splaywork.drawing.palette import SHORTCUT, rgb
from splaywork.drawing.sheets import back_to_front
from splaywork.one_gauge.close_corners_picture import BAR_TALL, VIEW, sheets_of
from splaywork.one_gauge.go_round_picture import LETTER, GoRoundPicture
from splaywork.one_gauge.one_gauge import NAMED_CORNERS, OneGauge
from splaywork.one_gauge.pictures import LEANS_SHOWN, PICTURES, closing_corners_still, one_gauge_still, picture_of

NAMED = list(NAMED_CORNERS.values())
SIGNS = [Corner(-28, -24), Corner(28, -24), Corner(-15, 12)]
LEANS = (-45, -28, -8, -1, 0, 0.5, 15, 30, 45)
SIZES = {
    "hold the leans": [{}, {"height": 40, "unit": "in"}, {"height": 300}],
    "close the corners": [{}, {"apart": 120, "unit": "in"}],
    "go round": [{"corners": corners} for corners in (1, 2, 3, 4)],
    "wind the sides": [{}, {"length": 150, "stick": 500}, {"length": 800, "stick": 100, "unit": "in"}],
    "level lines": [{}],
}


def drawn(consequence, corner, **sizes):
    picture = PICTURES[consequence]()
    picture.update(corner, **sizes)
    return picture


def outlines(artist):
    """Vertices of each path of a collection, without the closing one."""
    return [path.vertices[:-1] if path.codes is not None and path.codes[-1] == Path.CLOSEPOLY else path.vertices
            for path in artist.get_paths()]


def line(artist):
    (only,) = artist.get_segments()
    return np.asarray(only)


def angle_of(segment, start=(0, 1)):
    """Degrees by which a drawn line (from its foot) turns clockwise from a direction, upright unless told."""
    way = np.asarray(segment[-1]) - segment[0]
    return np.degrees(np.arctan2(way[0] * start[1] - way[1] * start[0], way @ start))


def texts(picture):
    """(text, (left, bottom, right, top)) of all that is written."""
    renderer = picture.canvas.figure.canvas.get_renderer()
    shown = [text for text in picture.canvas.figure.artists
             if isinstance(text, Text) and text.get_visible() and text.get_text().strip()]
    return [(text.get_text(), text.get_window_extent(renderer).extents) for text in shown]


@pytest.mark.parametrize("consequence", PICTURES)
class TestEveryPicture:
    def test_nothing_leaves_it_and_no_words_collide(self, consequence):
        picture = PICTURES[consequence]()
        for (tail, pin), sizes in product(product(LEANS, repeat=2), SIZES[consequence]):
            if consequence == "wind the sides" and abs(tail) + abs(pin) >= 90:
                continue
            picture.update(Corner(tail, pin), **sizes)
            at = f"{tail}, {pin}, {sizes}"
            for artist in picture.canvas.figure.artists:
                for outline in [] if isinstance(artist, Text) else outlines(artist):
                    if len(outline):
                        assert outline.min() >= 0 and (outline.max(axis=0) <= (picture.WIDTH, picture.HEIGHT)).all(), at
            written = texts(picture)
            for words, (left, bottom, right, top) in written:
                assert left >= 0 and bottom >= 0 and right <= picture.WIDTH and top <= picture.HEIGHT, (words, at)
            for (one, here), (other, there) in combinations(written, 2):
                apart = here[2] <= there[0] or there[2] <= here[0] or here[3] <= there[1] or there[3] <= here[1]
                assert apart, (one, other, at)

    def test_keeps_its_artists_and_redraws_alike(self, consequence):
        picture = drawn(consequence, NAMED[2])
        count, before = picture.canvas.artist_count(), picture.png()
        for corner in (Corner(-28, -24), Corner(-15, 12), Corner(0, 20), Corner(0, 0)):
            picture.update(corner)
            assert picture.png() != before
        picture.update(NAMED[2])
        assert (picture.canvas.artist_count(), picture.png()) == (count, before)

    @pytest.mark.parametrize("corner", NAMED + SIGNS)
    @pytest.mark.parametrize("unit", ["mm", "in"])
    def test_its_large_numbers_stand_in_its_sentence(self, consequence, corner, unit):
        picture = drawn(consequence, corner, unit=unit)
        sentence = picture.words(corner, unit=unit)
        large = {"hold the leans": lambda: [face.reading for face in picture.faces.values()],
                 "close the corners": lambda: [picture.made.height, picture.intended.height,
                                               *(end.lean for end in picture.ends.values())],
                 "go round": lambda: [picture.gap, picture.turn],
                 "wind the sides": lambda: [picture.shows, *picture.rows[:3]],
                 "level lines": lambda: [*picture.errors.values()]}[consequence]()
        assert large and all(isinstance(reading, Reading) for reading in large)
        for reading in large:
            number, words = reading.number.get_text(), reading.words.get_text()
            unit_of_it = f" {unit}" if words.split()[:1] == [unit] else ""
            number = number.replace("< ", "less than ")
            if consequence == "close the corners" and f"{number}{unit_of_it}" not in sentence:
                number = f"within 0.1{unit_of_it or '°'} of"  # written as what was intended
                unit_of_it = ""
            assert f"{number}{unit_of_it}" in sentence, (number, words, sentence)

    def test_a_still_says_the_sentence(self, consequence):
        still = one_gauge_still(consequence, NAMED[1])
        assert still.words == PICTURES[consequence].words(NAMED[1]) and still.png == drawn(consequence, NAMED[1]).png()


@pytest.mark.parametrize("corner", NAMED + SIGNS + [Corner(45, 45), Corner(-40, 3)])
@pytest.mark.parametrize("board", ["tail", "pin"])
class TestHoldTheLeans:
    def test_angles_on_the_flat_face(self, corner, board):
        face = drawn("hold the leans", corner).faces[board]
        left = -1 if board == "tail" else 1  # the end stands left on the tail board, right on the pin board
        (wood,) = outlines(face.wood)
        assert left * angle_of(line(face.corner_line)) == pytest.approx(corner.end_line(board), abs=1e-9)
        assert left * angle_of(wood[[0, 3]]) == pytest.approx(OneGauge(corner).struck(board), abs=1e-9)

    def test_gap_on_the_flat_face_and_in_the_lens(self, corner, board):
        face = drawn("hold the leans", corner).faces[board]
        gap = OneGauge(corner).hold_leans(120)[board]
        (wedge,), (wood,), true = outlines(face.gap), outlines(face.wood), line(face.corner_line)
        far = 0 if gap.opens_at == "bottom" else 1
        level = true[far][1]
        assert wedge[:, 1] == pytest.approx([true[1 - far][1], level, level])
        assert abs(wood[[0, 3]][far][0] - true[far][0]) / face.scale == pytest.approx(gap.width, rel=1e-9)
        assert wood[[0, 3]][1 - far] == pytest.approx(true[1 - far])  # and the ends touch at the other edge
        (enlarged,) = outlines(face.lens.gap)
        edge = enlarged[np.isclose(enlarged[:, 1], enlarged[:, 1].min() if far == 0 else enlarged[:, 1].max())]
        assert np.ptp(edge[:, 0]) / face.lens.pixels_to_the_mm == pytest.approx(gap.width, rel=1e-6)
        assert f"{face.lens.magnification}" in face.lens.magnified.get_text() or face.lens.magnification == 1
        assert np.ptp(edge[:, 0]) > 20  # pixels: wide enough to be seen from the back of a room

    def test_the_gap_lies_over_the_black_line(self, corner, board):
        """On the flat face, in the lens and in space the red is painted after the line that it lies beside."""
        picture = drawn("hold the leans", corner)
        face, space = picture.faces[board], picture.corner
        for line_drawn, gap in ((face.corner_line, face.gap), (face.lens.true, face.lens.gap),
                                (space._corner, space._seen_gaps)):
            assert gap.get_zorder() > line_drawn.get_zorder()
        assert len(outlines(space._seen_gaps)) == sum(one.width > 0 for one in OneGauge(corner).hold_leans(120).values())

    def test_gap_in_space(self, corner, board):
        picture = drawn("hold the leans", corner).corner
        gap = OneGauge(corner).hold_leans(120)[board]
        unit = picture.place(corner.vector(f"{board}_level")) - picture.place(np.zeros(3))
        drawn_gaps = [shape for _, artist in picture._layers for shape in outlines(artist)]
        (mine,) = [shape for shape in drawn_gaps if np.allclose(shape, picture.place(gap.solid))]
        assert np.linalg.norm(mine[2] - mine[1]) / np.linalg.norm(unit) == pytest.approx(gap.width, rel=1e-9)
        assert picture._readings[board].number.get_text() == enlarged_number_and_unit(gap.width, "mm")[0]


def test_the_number_of_a_gap_is_what_its_lens_draws():
    """Read off the lens with its bar: at the slight leans, where a lens alone shows the gaps, and at the strong ones."""
    for corner in NAMED:
        for face in drawn("hold the leans", corner).faces.values():
            (gap,) = outlines(face.lens.gap)
            bottom = gap[gap[:, 1] < gap[:, 1].min() + 1e-6]
            wide = np.ptp(bottom[:, 0]) / face.lens.pixels_to_the_mm
            assert wide == pytest.approx(float(face.reading.number.get_text()), rel=0.05), corner


def test_two_lines_that_differ_are_not_written_alike():
    for corner in NAMED:
        for face in drawn("hold the leans", corner).faces.values():
            struck, true, much = (float(str(angle).split("°")[0]) for angle in face._angles)
            assert struck > true and much > 0, corner
            assert struck - true == pytest.approx(much, abs=0.11 if much >= 0.1 else 0.011), corner


def test_an_upright_board_leaves_no_gap_to_shade():
    picture = drawn("hold the leans", Corner(0, 25))
    assert not [shape for face in picture.faces.values() for shape in outlines(face.gap) + outlines(face.lens.gap)]
    shaded = (picture.canvas.pixels()[..., :3] == rgb(SHORTCUT)).all(axis=-1)[:, :320].sum()
    picture.update(Corner(28, 24))
    assert shaded == 0 < (picture.canvas.pixels()[..., :3] == rgb(SHORTCUT)).all(axis=-1)[:, :320].sum()


class TestCloseTheCorners:
    @pytest.mark.parametrize("corner", NAMED + SIGNS + [Corner(45, 45), Corner(-45, -45), Corner(30, 40)])
    @pytest.mark.parametrize("board", ["tail", "pin"])
    def test_leans_and_heights_end_on(self, corner, board):
        end = drawn("close the corners", corner).ends[board]
        shortcut = OneGauge(corner)
        assert angle_of(line(end.intended)) == pytest.approx(corner.lean(board))
        assert angle_of(line(end.made)) == pytest.approx(shortcut.closed_lean(board))
        heights = [np.ptp(line(artist)[:, 1]) / end.scale for artist in (end.intended, end.made)]
        assert heights == pytest.approx([120, 120 * shortcut.height_factor], abs=1e-9)
        (wedge,) = outlines(end.between)
        opened = np.linalg.norm(wedge[2] - wedge[1]) * end.lens.magnification
        assert opened > 20 and end.lens.pixels_to_the_mm == pytest.approx(end.scale * end.lens.magnification)

    @pytest.mark.parametrize("corner", [Corner(0, 0), Corner(30, 0), Corner(28, 24), Corner(-28, 24), Corner(40, 40),
                                        Corner(45, 45)])
    def test_red_is_a_line_that_is_wrong_and_no_block(self, corner):
        """Where the box is right nothing but its words is red; elsewhere the angle is pale, under both lines."""
        picture, exact = drawn("close the corners", corner), corner.tail_lean * corner.pin_lean == 0
        artists = picture.canvas.figure.findobj(PolyCollection)
        assert not [each for each in artists if SHORTCUT in map(to_hex, each.get_facecolor()) and len(each.get_paths())]
        for end in picture.ends.values():
            reds = end.made, end.lens.edges, end._sample_made
            assert [len(artist.get_segments()) for artist in reds] == [0 if exact else 1] * 3
            assert len(outlines(end.between)) == len(outlines(end.lens.gap)) == (not exact)

    @pytest.mark.parametrize(("corner", "told"), [(Corner(0, 0), False), (Corner(15, 12), False), (Corner(28, 24), False),
                                                  (Corner(35, 35), True), (Corner(40, 40), True), (Corner(45, 45), True)])
    def test_the_intended_box_is_dashed_where_it_can_be_told_from_the_other(self, corner, told):
        picture = drawn("close the corners", corner)
        assert len(picture.made.ghost.get_segments()) == 4 * told
        lower, upper = (np.ptp(np.asarray(box.tall.get_segments()[0])[:, 1]) for box in (picture.made, picture.intended))
        assert lower / upper == pytest.approx(OneGauge(corner).height_factor, abs=1e-9)
        assert ("dashed" in picture.made.words.get_text()) == told

    @pytest.mark.parametrize(("corner", "words"), [
        (Corner(28, 24), "3.4 mm lower"), (Corner(8, 6), "too small to draw here: see the boards, right"),
        (Corner(0, 6), "the same box")])
    def test_where_no_rim_is_dashed_the_words_say_how_much_is_lost(self, corner, words):
        """And then the bar has lost more than a pixel, between red and black."""
        picture = drawn("close the corners", corner)
        assert picture.made.words.get_text() == words
        lost = outlines(picture.made._lost)
        if "mm" in words:
            assert np.ptp(lost[0][:, 1]) / BAR_TALL == pytest.approx(1 - OneGauge(corner).height_factor) and np.ptp(
                lost[0][:, 1]) > 3 and f"{120 * (1 - OneGauge(corner).height_factor):.1f}" == "3.4"
        assert bool(lost) == (words != "the same box") and not outlines(picture.intended._lost)

    def test_the_button_of_the_leans_that_stand_is_lit(self):
        panel = one_gauge_panel("close the corners")
        panel.named["strong"].click()
        assert [name for name, button in panel.named.items() if "mod-active" in button._dom_classes] == ["strong"]
        panel.dials["pin_lean"].put(25)
        panel.redraw()
        assert not [name for name, button in panel.named.items() if "mod-active" in button._dom_classes]

    def corners_drawn(self, picture):
        """The different corner points of the box made, in pixels, to a thousandth."""
        whole = [outline for outline in outlines(picture.made.boards.artist) if len(outline) == 4]
        return np.unique(np.round(np.concatenate(whole), 3), axis=0)

    @pytest.mark.parametrize("corner", NAMED + SIGNS)
    def test_the_box_closes_unless_drawn_apart(self, corner):
        assert len(self.corners_drawn(drawn("close the corners", corner))) == 8
        assert len(self.corners_drawn(drawn("close the corners", corner, apart=30))) == 16

    def test_at_45_and_45_it_is_a_picture_frame_on_the_bench(self):
        picture = drawn("close the corners", Corner(45, 45))
        reach = 120 / np.cos(np.radians(45))  # up the face, and now out over the bench
        frame = [[x, y, 0] for out in (0, reach) for x in (-out, 440 + out) for y in (-out, 380 + out)]
        expected, seen = (np.sort(self.in_its_own_width(points).round(4).view("f8,f8"), axis=0).view("f8")
                          for points in (VIEW.flat(frame), self.corners_drawn(picture)))
        assert seen == pytest.approx(expected, abs=2e-4)
        assert picture.made.height.number.get_text() == "0.0"

    @staticmethod
    def in_its_own_width(points):
        return (points - points.min(axis=0)) / np.ptp(points[:, 0])


class TestGoRound:
    @pytest.mark.parametrize("corner", NAMED + SIGNS + [Corner(45, 45)])
    @pytest.mark.parametrize("corners", [1, 2, 3, 4])
    def test_gap_and_turn(self, corner, corners):
        picture = drawn("go round", corner, corners=corners)
        meant = OneGauge(corner).go_round(120, 440, 380)
        missed, turned = picture.missed, picture.turned
        ends = np.linalg.norm(line(missed.struck) - line(missed.due), axis=1) / missed.scale
        assert ends.max() == pytest.approx(meant.gaps[corners - 1], rel=1e-9)
        assert -angle_of(line(turned.struck), (1, 0)) / turned.factor == pytest.approx(meant.rotations[corners - 1])
        assert f"{turned.factor}" in turned._words.get_text() or turned.factor == 1
        assert ends.max() * missed.lens.pixels_to_the_mm > 20

    def test_the_chain_closes_with_an_upright_board(self):
        picture = drawn("go round", Corner(25, 0))
        assert line(picture.chain.struck) == pytest.approx(line(picture.chain.due))
        whole = [outline for outline in outlines(picture.chain.boards.artist) if len(outline) == 4]
        assert len(np.unique(np.round(np.concatenate(whole), 3), axis=0)) == 8

    def test_each_corner_adds_a_board(self):
        picture = GoRoundPicture()
        boards = []
        for corners in (1, 2, 3, 4):
            picture.update(NAMED[0], corners=corners)
            fills = [outline for outline in outlines(picture.chain.boards.artist) if len(outline) > 2]
            boards.append(len(fills))
        assert boards[:2] == [2, 3] and boards[2] >= 4


    @pytest.mark.parametrize("corner", [Corner(0, 0), *NAMED, *SIGNS, Corner(45, 45), Corner(-45, -45), Corner(-45, 30)])
    @pytest.mark.parametrize("corners", [1, 2, 3, 4])
    def test_each_board_drawn_is_named_and_its_pointer_ends_on_it(self, corner, corners):
        picture = drawn("go round", corner, corners=corners)
        chain, boards = picture.chain, OneGauge(corner).go_round(120, 440, 380).outlines
        shown = [name.get_text() for name in chain.names if name.get_visible()]
        assert shown == ["1 tail board", "2 pin board", "3 tail board", "4 pin board"][:corners + 1]
        assert len(chain._pointers.get_segments()) == len(shown)
        for pointer in chain._pointers.get_segments():
            (named,) = [number for number, name in enumerate(chain.names)
                        if name.get_visible() and np.allclose(name.get_position(), pointer[0], atol=LETTER + 4)]
            assert Path(chain.place(boards[named])).contains_point(pointer[1])
        following = f"board {corners % 4 + 1}"
        assert all(following in words.get_text() for words in (picture._after, picture.key[0], picture.key[2]))
        assert picture.key[1].get_text() == f"where corner {corners} puts that end"


class TestWindTheSides:
    @pytest.mark.parametrize("corner", NAMED + SIGNS + [Corner(44, 40)])
    def test_winding_and_what_the_sticks_show(self, corner):
        picture = drawn("wind the sides", corner, stick=250)
        winding = OneGauge(corner).winding(440, 250)
        sighted = picture.sighting
        front, back = line(sighted.front), line(sighted.back)
        assert angle_of(front) - angle_of(back) == pytest.approx(winding.wind, rel=1e-6)
        along = (back[1] - back[0]) / np.linalg.norm(back[1] - back[0])
        stands_clear = abs(np.linalg.det([along, front[1] - back[0]]))
        assert stands_clear / sighted.scale == pytest.approx(winding.stick_shows, rel=1e-6)
        ((_, front_tip, square),) = outlines(sighted.between)
        assert np.linalg.norm(front_tip - square) == pytest.approx(stands_clear) and along @ (front_tip - square) == (
            pytest.approx(0, abs=1e-9))
        assert stands_clear * sighted.lens.magnification > 20

    @pytest.mark.parametrize("corner", NAMED + SIGNS + [Corner(44, 40)])
    def test_the_drawer_winds_by_the_factor_it_states(self, corner):
        drawer = drawn("wind the sides", corner).drawer
        ways = drawer.sticks[:, 1] - drawer.sticks[:, 0]
        leans = np.degrees(np.arctan2(-ways[:, 1], ways[:, 2]))
        assert leans[1] == pytest.approx(corner.tail_lean)
        assert leans[0] - leans[1] == pytest.approx(drawer.factor * OneGauge(corner).wind, rel=1e-6)
        assert f"{drawer.factor} ×" in drawer.factor_words.get_text() or drawer.factor == 1
        assert abs(leans[0] - leans[1]) > 4  # so that it shows


class TestLevelLines:
    @pytest.mark.parametrize("corner", NAMED + SIGNS + [Corner(45, 45)])
    @pytest.mark.parametrize("end", ["flush", "square"])
    def test_lines_and_what_lies_between(self, corner, end):
        picture = drawn("level lines", corner)
        true, gauge = (picture.ends[end]._level.get_segments(), picture.ends[end]._gauge.get_segments())
        # seen along the board the outer arris, from which each line starts, is on the right
        level = {"flush": corner.level_on_flush_end, "square": corner.level_on_square_end}[end]
        assert [angle_of(one * [-1, 1], (1, 0)) for one in true] == pytest.approx([level] * 3)
        assert [angle_of(one * [-1, 1], (1, 0)) for one in gauge] == pytest.approx([corner.tail_lean] * 3)
        steeper = abs(corner.tail_lean) - abs(level)
        assert str(picture.errors[end]) == f"{tenths(steeper)} slants too {'much' if steeper > 0 else 'little'}"


class TestBackToFront:
    """Against each sheet's own depth under a point of the picture, worked out from its plane."""

    @pytest.mark.parametrize("corner", [NAMED[0], NAMED[2], Corner(-28, -24), Corner(45, 45), Corner(-45, -45)])
    def test_the_nearest_sheet_is_painted_last(self, corner):
        sheets = sheets_of(OneGauge(corner).go_round(120, 440, 380).outlines)
        painted = back_to_front(sheets, VIEW)
        flat = VIEW.flat(np.concatenate([sheet.points for sheet in sheets]))
        points = np.random.default_rng(3).uniform(flat.min(axis=0), flat.max(axis=0), (4000, 2))
        shows, nearest, several = [], [], 0
        for point in points:
            over = [index for index, sheet in enumerate(painted) if Path(VIEW.flat(sheet.points)).contains_point(point)]
            under = [self.depth(sheet, point) for sheet in sheets if Path(VIEW.flat(sheet.points)).contains_point(point)]
            if over and under:
                shows.append(self.depth(painted[over[-1]], point))
                nearest.append(max(under))
                several += len(under) > 1
        assert shows == pytest.approx(nearest, abs=1e-6) and several > 100

    @staticmethod
    def depth(sheet, point):
        """How near the viewer the sheet's plane lies under a point of the picture."""
        right, up = VIEW.flat(np.eye(3)).T
        here = point[0] * right + point[1] * up
        return ((sheet.points[0] - here) @ sheet.normal) / (VIEW.towards_viewer @ sheet.normal)


def test_cutting_keeps_what_lies_inside():
    square = np.array([[0, 0], [2, 0], [2, 2], [0, 2]])
    assert cut(square, (1, 0), 1) == pytest.approx(np.array([[0, 0], [1, 0], [1, 2], [0, 2]]))
    assert len(cut(square, (1, 0), -1)) == 0 and cut(square, (1, 0), 3) is not None


def test_the_corners_close_as_a_moving_picture():
    """At most 40 frames and 400 kB, the same bytes each time, its first frame the one that paper shows."""
    still = closing_corners_still()
    assert still.png == closing_corners_still().png and len(still.png) <= 400_000
    image = Image.open(BytesIO(still.png))
    assert image.n_frames == len(LEANS_SHOWN) <= 40
    first = drawn("close the corners", Corner(40, 40))
    with Image.open(BytesIO(first.png())) as alone:
        assert np.array_equal(np.asarray(image.convert("RGB")), np.asarray(alone.convert("RGB")))
    assert "really lean 57.0°, and the box is 85.2 mm high instead of 120.0 mm" in still.words and "lie flat" in still.words
    assert {0, 45} <= set(LEANS_SHOWN)


class TestPanels:
    @pytest.mark.parametrize("consequence", PICTURES)
    def test_drags_presses_and_resets(self, consequence):
        panel = one_gauge_panel(consequence)
        start = panel.image.value
        panel.named["moderate"].click()
        assert (panel.dials["tail_lean"].value, panel.dials["pin_lean"].value) == (15, 12)
        assert panel.image.value != start
        assert panel.sentence.value.replace("&#x27;", "'") == panel.picture.words(NAMED_CORNERS["moderate"], **(
            {"corners": 1} if consequence == "go round" else {}))
        panel.unit.value = "in"
        panel.start_again.click()
        assert panel.image.value == start and panel.unit.value == "mm"

    def test_both_leans_at_once(self):
        panel = one_gauge_panel("close the corners", 28, 24)
        panel.equal.value = True
        assert panel.dials["pin_lean"].value == 28
        panel.dials["pin_lean"].value = 30
        assert panel.dials["tail_lean"].value == 30
        panel.dials["tail_lean"].value = 45
        assert "lie flat like a picture frame" in panel.sentence.value
        panel.named["slight"].click()
        assert (panel.dials["tail_lean"].value, panel.dials["pin_lean"].value) == (8, 6)
        panel.equal.value = True
        panel.start_again.click()
        assert (panel.dials["tail_lean"].value, panel.dials["pin_lean"].value) == (28, 24)

    def test_inches(self):
        panel = one_gauge_panel("hold the leans", 28, 24)
        panel.unit.value = "in"
        assert "0.279 in" in panel.sentence.value and panel.dials["height"].field.value.startswith("4 23/32 in")

    def test_a_gap_that_grows_is_seen_to_grow_until_it_is_fitted(self):
        """Dragging keeps the lens's scale; a gap that would leave the lens fills it; Fit and the named corners choose anew."""
        panel = one_gauge_panel("hold the leans", 8, 6)
        lens = panel.picture.faces["tail"].lens

        def shown():
            corner = Corner(panel.dials["tail_lean"].value, panel.dials["pin_lean"].value)
            return OneGauge(corner).gap(120, "tail") * lens.pixels_to_the_mm

        seen, kept = [shown()], [lens.pixels_to_the_mm]
        for lean in (8.5, 9, 9.5):
            panel.dials["tail_lean"].value = lean
            seen.append(shown())
            kept.append(lens.pixels_to_the_mm)
        assert seen == sorted(seen) and seen[-1] > 1.1 * seen[0] and np.ptp(kept) < 1e-9 * kept[0]
        panel.dials["tail_lean"].value = 40
        window = lens.window.right - lens.window.left
        assert shown() <= window and lens.pixels_to_the_mm < kept[0]
        panel.dials["tail_lean"].value = 9
        assert shown() < 8  # the same scale as for 40: next to nothing
        panel.fit.click()
        assert shown() > 20
        panel.dials["tail_lean"].value = 40
        panel.named["slight"].click()
        assert shown() > 20

    @pytest.mark.parametrize("consequence", ["go round", "wind the sides"])
    def test_a_drawn_angle_never_shrinks_as_the_error_grows(self, consequence):
        panel = one_gauge_panel(consequence, 8, 6)

        def factor_and_drawn():
            if consequence == "go round":
                turned = panel.picture.turned
                return turned.factor, -angle_of(line(turned.struck), (1, 0))
            drawer = panel.picture.drawer
            ways = drawer.sticks[:, 1] - drawer.sticks[:, 0]
            leans = np.degrees(np.arctan2(-ways[:, 1], ways[:, 2]))
            return drawer.factor, leans[0] - leans[1]

        drawn_angles = []
        for pin in (6, 8, 10, 14, 20):
            panel.dials["pin_lean"].value = pin
            drawn_angles.append(factor_and_drawn()[1])
        assert np.diff(drawn_angles).min() > -1e-6
        assert drawn_angles[-1] > 1.3 * drawn_angles[0]

    def test_boxes_keep_their_scale(self):
        """A box that sinks is drawn lower, and the intended one as high as before."""
        panel = one_gauge_panel("close the corners", 0, 0)
        heights = []
        for lean in (0, 20, 35, 44.5):
            panel.dials["tail_lean"].value = panel.dials["pin_lean"].value = lean
            tall = [np.concatenate([outline for outline in outlines(box.boards.artist) if len(outline) == 4])
                    for box in (panel.picture.intended, panel.picture.made)]
            feet = [np.ptp(box[:, 0]) for box in tall]
            heights.append(feet[0])
        assert heights == sorted(heights) and heights[-1] > 1.2 * heights[0]  # it widens: before, it was fitted again

    def test_each_opens_where_its_point_is_seen(self):
        for consequence in PICTURES:
            panel = one_gauge_panel(consequence)
            assert abs(OneGauge(panel.picture and Corner(panel.dials["tail_lean"].value, panel.dials["pin_lean"].value)).error(
                "tail")) > 2, consequence
        tied = one_gauge_panel("close the corners", 0, 0, equal=True)
        tied.dials["tail_lean"].value = 30
        assert tied.dials["pin_lean"].value == 30
        tied.named["slight"].click()
        tied.start_again.click()
        assert tied.equal.value and tied.dials["pin_lean"].value == 0

    def test_what_cannot_be_drawn_is_said_and_the_picture_stays(self):
        panel = one_gauge_panel("wind the sides", 45, 44)
        good = panel.image.value, panel.sentence.value
        panel.dials["pin_lean"].value = 45
        assert "picture frame" in panel.message.value and (panel.image.value, panel.sentence.value) == good
        panel.dials["pin_lean"].value = 44
        assert not panel.message.value

    def test_corners_are_counted(self):
        panel = one_gauge_panel("go round")
        panel.dials["corners"].field.value = "4"
        assert "The four boards don&#x27;t close" in panel.sentence.value
        for wrong in ("2.5", "5", "abc"):
            panel.dials["corners"].field.value = wrong
            assert "Corners" in panel.message.value and panel.dials["corners"].value == 4

    def test_unknown_names_and_leans(self):
        with pytest.raises(ValueError, match=r"'go round'.*, not 'twist'"):
            picture_of("twist")
        with pytest.raises(ValueError, match="Pin lean must be"):
            one_gauge_panel("go round", pin_lean=50)
