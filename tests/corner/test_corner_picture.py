"""The pictures: what hides what, nothing outside its frame, angles to scale, colours that everyone can tell apart."""

from functools import cache
from io import BytesIO
from itertools import combinations, cycle, product

import numpy as np
import pytest
from cases import examples, further
from hypothesis import given
from hypothesis import strategies as st
from matplotlib.collections import LineCollection, PolyCollection
from matplotlib.colors import to_hex
from matplotlib.text import Text
from on_canvas import (
    assert_within,
    collections,
    crossed,
    half_width,
    overlap,
    protractor,
    reach_of,
    rgb_of,
    sure,
    texts,
    way_to_viewer,
)
from PIL import Image
from splaywork import Corner, Joint
from splaywork.common.printing import degrees, intended
from splaywork.corner import stills
from splaywork.corner.picture import FILLS, HEAVY, SAMPLE, STUB, CornerPicture, Pictorial
from splaywork.corner.projection_stills import projection_moving_still, projection_still
from splaywork.corner.stills import corner_still, lean_dragged_still, tail_end_still, words_still
from splaywork.corner.vectors_picture import VectorsPicture
from splaywork.corner.words import corner_words, tail_end_words
from splaywork.drawing import palette
from splaywork.drawing.canvas import Canvas, StampedText
from splaywork.drawing.still import moving
from splaywork.joint import stills as joint_stills

BOARDS = ("tail", "pin")
FRAME = (12, 44, 418, 418)
LEAN, PLAN = st.floats(-45, 45), st.floats(60, 135)
CORNERS = st.builds(Corner, LEAN, LEAN, PLAN)
STOCK = {"height": st.floats(40, 300), "thickness": st.floats(6, 40)}
VIEWS = {"turn": st.floats(-180, 180), "tilt": st.floats(-20, 90)}
AXES_OFF = 1e-9


# What lies on a canvas


def lines_drawn(canvas, colour, width=None):
    """Segments (n, 2, 2) in pixels of that colour, and of that width in points if one is given."""
    found = [path.vertices for each in collections(canvas, LineCollection) for path in each.get_paths()
             if to_hex(each.get_edgecolor()[0]) == colour and (width is None or each.get_linewidths()[0] == width)]
    return np.array([line for line in found if len(line) == 2]).reshape(-1, 2, 2)


# Hidden faces, against rays cast at the two boards as sets of half-spaces


class Boards:
    """The two boards as half-spaces normal·x ≤ offset, from the angles alone, and the rays that meet them."""

    def __init__(self, corner, height, thickness):
        w = np.radians(corner.plan_angle)
        along = {"tail": np.array([1, 0, 0]), "pin": np.array([np.cos(w), np.sin(w), 0])}
        outward = {"tail": np.array([0, -1, 0]), "pin": np.array([-np.sin(w), np.cos(w), 0])}
        up = np.array([0, 0, 1])
        self.normal = {board: np.cos(np.radians(corner.lean(board))) * outward[board]
                       - np.sin(np.radians(corner.lean(board))) * up for board in BOARDS}
        faces = np.array([self.normal["tail"], self.normal["pin"], up])
        # the four ends of the outer and the inner corner line
        ends = np.array([np.linalg.solve(faces, [-deep, -deep, z]) for deep in (0, thickness) for z in (0, height)])
        self.corner_line = ends[:2]
        # of two boards equally thick, each point of the joint belongs to the one whose outer face is nearer
        seam = self.normal["tail"] - self.normal["pin"]
        self.spaces = {}
        for board, away in (("tail", -seam), ("pin", seam)):
            normal = self.normal[board]
            self.spaces[board] = {
                "outer": (normal, 0), "inner": (-normal, thickness), "bottom": (-up, 0), "top": (up, height),
                "far end": (along[board], STUB + (ends @ along[board]).max()), "seam": (away, 0)}
        self.height = height

    def front(self, points, way):
        """(how far along `way` each ray leaves the wood for good, board and face it leaves by), −inf for a miss."""
        best, names = np.full(len(points), -np.inf), np.full(len(points), "", dtype=object)
        for board, spaces in self.spaces.items():
            normals, offsets = (np.array(part, dtype=float) for part in zip(*spaces.values(), strict=True))
            room, pace = offsets - points @ normals.T, normals @ way
            with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
                at = room / pace
            leaves = np.where(pace > AXES_OFF, at, np.inf)
            enters = np.where(pace < -AXES_OFF, at, -np.inf).max(axis=1)
            missed = ((abs(pace) <= AXES_OFF) & (room < 0)).any(axis=1) | (leaves.min(axis=1) <= enters)
            reach = np.where(missed, -np.inf, leaves.min(axis=1))
            nearer = reach > best
            labels = np.array([f"{board} {face}" for face in spaces], dtype=object)[leaves.argmin(axis=1)]
            best, names = np.where(nearer, reach, best), np.where(nearer, labels, names)
        return best, names

    def in_front(self, points, way):
        """Which of the points have wood between them and the viewer?"""
        return self.front(points, way)[0] > 0


def seen_by_rays(boards, pictorial, pixels, way):
    """Colour that belongs at each pixel position (n, 2): a face's fill, or "" where there is no wood."""
    origin, axes = pictorial.place(np.zeros(3)), pictorial.place(np.eye(3)) - pictorial.place(np.zeros(3))
    assert np.allclose(way @ axes, 0, atol=1e-9), "the picture looks another way"
    assert np.cross(*axes.T) @ way > 0, "the picture is mirrored"
    _, names = boards.front((pixels - origin) @ np.linalg.pinv(axes), way)
    fills = {f"{board} {face}": colour for board, faces in FILLS.items() for face, colour in faces.items()}
    return np.array([fills.get(name, name) for name in names], dtype=object)


@cache
def stage():
    """(canvas, pictorial view on it): one for all, as a panel keeps one."""
    canvas = Canvas(430, 430)
    return canvas, Pictorial(canvas, FRAME)


def scatter(seed, count):
    """Positions (count, 2) strewn over the frame."""
    return np.random.default_rng(seed).uniform(FRAME[:2], FRAME[2:], (count, 2))


@given(corner=CORNERS, **STOCK, **VIEWS, seed=st.integers(0, 9999))
@examples(60)
def test_the_frontmost_face_lies_on_top(corner, height, thickness, turn, tilt, seed):
    canvas, pictorial = stage()
    pictorial.update(corner, height, thickness, turn, tilt)
    boards, way = Boards(corner, height, thickness), way_to_viewer(corner, turn, tilt)

    def by_rays(pixels):
        return seen_by_rays(boards, pictorial, pixels, way)

    pixels = scatter(seed, 600)
    expected, certain = sure(by_rays, pixels, 0.2)
    on_top = np.full(len(pixels), "", dtype=object)
    for solid in collections(canvas, PolyCollection):
        for path, colour in zip(solid.get_paths(), cycle(map(to_hex, solid.get_facecolors())), strict=False):
            if colour != palette.BENCH:
                on_top[path.contains_points(pixels)] = colour
    assert (expected != "").any()
    np.testing.assert_array_equal(on_top[certain], expected[certain])


@given(corner=CORNERS, **STOCK, **VIEWS, seed=st.integers(0, 9999))
@examples(30)
def test_the_pixels_show_the_frontmost_face(corner, height, thickness, turn, tilt, seed):
    canvas, pictorial = stage()
    pictorial.update(corner, height, thickness, turn, tilt)
    boards, way = Boards(corner, height, thickness), way_to_viewer(corner, turn, tilt)
    picture = canvas.pixels()[::-1, :, :3].astype(int) @ (65536, 256, 1)  # the first row at the bottom
    cells = np.floor(scatter(seed, 1500)).astype(int)
    expected, certain = sure(lambda pixels: seen_by_rays(boards, pictorial, pixels, way), cells + 0.5, 0.8)
    column, row = cells.T
    shown = picture[row, column]
    even = np.all([picture[row + i, column + j] == shown for i, j in product((-1, 0, 1), repeat=2)], axis=0)
    inks = [int(colour[1:], 16) for colour in palette.INKS]
    compared = certain & even & ~np.isin(shown, inks)  # lines and names stand before the faces
    assert compared.sum() > 0.5 * len(cells)
    ground = (palette.WHITE, palette.BENCH)
    colours = np.array([f"#{colour:06x}" for colour in shown], dtype=object)
    colours[np.isin(colours, ground)] = ""
    np.testing.assert_array_equal(colours[compared], expected[compared])


@given(corner=CORNERS, **STOCK, **VIEWS)
def test_lines_are_drawn_solid_where_no_wood_hides_them(corner, height, thickness, turn, tilt):
    canvas, pictorial = stage()
    pictorial.update(corner, height, thickness, turn, tilt)
    boards, way = Boards(corner, height, thickness), way_to_viewer(corner, turn, tilt)
    facing = {board: boards.normal[board] @ way for board in BOARDS}
    if min(map(abs, facing.values())) < 1e-3:
        return  # a face seen on edge
    along = np.linspace(0.02, 0.98, 49)[:, None]
    just_outside = 1e-3 * (boards.normal["tail"] + boards.normal["pin"])
    points = boards.corner_line[0] + along * (boards.corner_line[1] - boards.corner_line[0]) + just_outside
    hidden = boards.in_front(points, way)
    assert hidden.all() or not hidden.any()
    heavy = lines_drawn(canvas, palette.INK, HEAVY)
    assert len(heavy) == (0 if hidden.all() else 1)
    if len(heavy):
        np.testing.assert_allclose(heavy[0], pictorial.place(boards.corner_line), atol=1e-6)
    struck = lines_drawn(canvas, palette.SHORTCUT)
    misses = {board: corner.lean("pin" if board == "tail" else "tail") - corner.end_line(board) for board in BOARDS}
    if min(map(abs, misses.values())) < 1e-6 and max(map(abs, misses.values())) > 0:
        return  # on the corner line, give or take a last digit
    on_wood = [board for board in BOARDS if facing[board] > 0 and misses[board] <= 0]
    assert len(struck) == len(on_wood)  # past the corner it lies on no wood of its own, and on the picture of the other board
    for board in on_wood:
        other = corner.lean("pin" if board == "tail" else "tail")
        up = np.cross(boards.spaces[board]["far end"][0], boards.normal[board]) * (1 if board == "pin" else -1)
        head = corner.slant_width(height, board) * (up - np.tan(np.radians(other)) * boards.spaces[board]["far end"][0])
        assert up[2] > 0
        assert not boards.in_front(along * head + 1e-3 * boards.normal[board], way).any()
        ends = pictorial.place(np.array([np.zeros(3), head]))
        assert min(abs(line - ends).max() for line in struck) < 1e-6


# Nothing outside its frame, at any setting of the sliders

EXTREMES = [Corner(tail, pin, plan) for tail, pin, plan in product((-45, 0, 45), (-45, 0, 45), (60, 90, 135))]


def check_names(canvas):
    """Each board's name stands on its own outer face, and no line that can be seen runs through it; or it stands clear of the
    wood, and a leader goes from it to that face. How many stand beside the wood."""
    beside = 0
    for name, box in texts(canvas):
        if name.get_text() not in ("tail board", "pin board"):
            continue
        fill = FILLS[name.get_text().split()[0]]["outer"]
        solid, = (each for each in collections(canvas, PolyCollection) if fill in map(to_hex, each.get_facecolors()))
        face = solid.get_paths()[[*map(to_hex, solid.get_facecolors())].index(fill)].vertices[:4]
        corners = np.array([box[[0, 1]], box[[2, 1]], box[[2, 3]], box[[0, 3]]])
        x, y = (np.roll(face, -1, axis=0) - face).T[:, :, None]
        right, up = np.moveaxis(corners - face[:, None], -1, 0)
        left_of = x * up - y * right
        if not ((left_of > 0).all() or (left_of < 0).all()):
            beside += 1
            over = np.stack(np.meshgrid(*np.linspace(box[:2], box[2:], 12).T), axis=-1).reshape(-1, 2)
            wood = [path for each in collections(canvas, PolyCollection) for path in each.get_paths()
                    if to_hex(each.get_facecolors()[0]) != palette.BENCH]
            assert not any(path.contains_points(over).any() for path in wood), f"{name.get_text()} stands on wood"
            lines = [path.vertices for each in collections(canvas, LineCollection) for path in each.get_paths()]
            leader, = (line for line in lines if np.allclose(line[-1], face.mean(axis=0)))
            assert (abs(leader[0] - (box[:2] + box[2:]) / 2) <= (box[2:] - box[:2]) / 2 + 4).all()
        above = [path.vertices for each in collections(canvas, LineCollection) if each.zorder > solid.zorder
                 for path in each.get_paths()]
        assert not crossed(box, above), f"{name.get_text()} is crossed"
    return beside


@pytest.mark.parametrize("tilt", [-20, 90, *further([0, 25])])
def test_the_view_stays_in_its_frame(tilt):
    canvas, pictorial = stage()
    named = 0
    for corner, height, thickness, turn in product(EXTREMES, (40, 300), (6, 40), (-180, -90, -45, 0, 15, 120)):
        pictorial.update(corner, height, thickness, turn, tilt)
        assert_within(reach_of(canvas), FRAME)
        check_names(canvas)
        named += len(texts(canvas))
    assert named > 0


@given(corner=CORNERS, **STOCK, **VIEWS)
def test_the_view_stays_in_its_frame_at_mixed_settings(corner, height, thickness, turn, tilt):
    canvas, pictorial = stage()
    pictorial.update(corner, height, thickness, turn, tilt)
    assert_within(reach_of(canvas), FRAME)
    check_names(canvas)


def test_a_board_without_room_for_its_name_has_it_beside_the_wood():
    canvas, pictorial = stage()
    for corner in (Corner(30, 30), Corner(-20, 35), Corner(0, 45), Corner(45, 45), Corner(28, 24)):
        pictorial.update(corner, 120, 18, 15, 25)
        assert [name.get_text() for name, _ in texts(canvas)] == ["tail board", "pin board"]
        assert check_names(canvas) == (corner != Corner(28, 24))


def test_a_usual_view_names_both_boards():
    canvas, pictorial = stage()
    for corner in (Corner(14, 6), Corner(0, 0), Corner(20, 0), Corner(10, 10), Corner(-12, 8)):
        pictorial.update(corner, 120, 18, 15, 25)
        assert [name.get_text() for name, _ in texts(canvas)] == ["tail board", "pin board"]


@cache
def whole():
    return CornerPicture()


def check_texts(canvas):
    """Every text stands on the canvas, clear of all others, and of every sample line of the key."""
    shown = texts(canvas)
    for _, box in shown:
        assert_within(box, (0, 0, canvas.width, canvas.height))
    for (one, box), (other, other_box) in combinations(shown, 2):
        assert not overlap(box, other_box), f"{one.get_text()!r} overlaps {other.get_text()!r}"
    return shown


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_texts_stay_clear_of_each_other_and_of_the_drawings(unit):
    picture = whole()
    frames = [part.frame for part in (picture.pictorial, *picture.flats)]
    for one, other in combinations(frames, 2):
        assert not overlap(np.array(one), np.array(other))
    # −43.7 and the like print the widest numbers
    leans = (-45, -43.7, -0.003, 0.3, 45)
    for corner in (Corner(tail, pin, plan) for tail, pin, plan in product(leans, leans, (60, 90, 135))):
        picture.update(corner, 120, 18, 15, 25, unit)
        samples = [line for colour in (palette.INK, palette.SHORTCUT) for line in lines_drawn(picture.canvas, colour)
                   if tuple(line[0] - line[1]) == (-SAMPLE, 0)]
        assert len(samples) == 6
        for text, box in check_texts(picture.canvas):
            assert not crossed(box - (4, 0, -4, 0), samples), f"{text.get_text()} touches the key"
            if not text.get_text().endswith(" board"):
                assert not any(overlap(box, np.array(frame)) for frame in frames), text.get_text()


def painted(canvas):
    """Box of what is not white, and the picture in shades of grey."""
    grey = canvas.pixels()[::-1, :, :3].mean(axis=2)
    rows, columns = np.nonzero(grey < 250)
    return np.array([columns.min(), rows.min(), columns.max() + 1, rows.max() + 1]), grey


@pytest.mark.parametrize("align", ["left", "center", "right"])
@pytest.mark.parametrize("text", ["tail board", "from the edge", "−45.0°", "123.45°", "−17 5/64", "exact"])
@pytest.mark.parametrize("weight", ["normal", "bold"])
def test_stamped_text_looks_like_matplotlibs_own(text, align, weight, monkeypatch):
    canvas = Canvas(200, 40)
    artist = canvas.text(100, 12, text, align=align, weight=weight, size=10.35)
    box, stamped = painted(canvas)
    assert_within(box, artist.get_window_extent(canvas.figure.canvas.get_renderer()).padded(2).extents)
    monkeypatch.setattr(StampedText, "draw", Text.draw)
    own_box, own = painted(canvas)
    assert abs(box - own_box).max() <= 2
    assert abs(stamped.sum() - own.sum()) < 0.05 * (255 * own.size - own.sum())


# The flat faces are to scale


@given(corner=CORNERS, **STOCK)
def test_the_flat_faces_show_their_end_lines_to_scale(corner, height, thickness):
    picture = whole()
    picture.update(corner, height, thickness)
    heavy = lines_drawn(picture.canvas, palette.INK, HEAVY)
    struck = lines_drawn(picture.canvas, palette.SHORTCUT)
    woods = {fill: path.vertices for each in collections(picture.canvas, PolyCollection)
             for path, fill in zip(each.get_paths(), map(to_hex, each.get_facecolors()), strict=True)}
    for flat, board, other, hand in zip(picture.flats, BOARDS, BOARDS[::-1], (1, -1), strict=True):
        left, bottom, right, top = flat.frame
        for lines, angle in ((heavy, corner.end_line(board)), (struck, corner.lean(other))):
            (x, y), = ((line[1] - line[0]) for line in lines
                       if (line >= (left, bottom)).all() and (line <= (right, top)).all())
            assert np.degrees(np.arctan2(-hand * x, y)) == pytest.approx(angle, abs=1e-6)
        wood = woods[FILLS[board]["outer"]]  # the flat faces lie on top of the view
        scale = np.ptp(wood[:, 1]) / corner.slant_width(height, board)
        assert np.abs(wood[1, 0] - wood[0, 0]) >= STUB * scale
        assert_within([*wood.min(axis=0), *wood.max(axis=0)], flat.frame)


@pytest.mark.parametrize(("corner", "height"), [
    (Corner(14, 6), 120), (Corner(30, 30), 120), (Corner(45, 45), 300), (Corner(-45, 45), 200),
    (Corner(-8, 20, 110), 80), (Corner(0, 0), 120), (Corner(45, -45, 135), 300), (Corner(33, 12, 75), 60),
])
def test_a_protractor_on_the_picture_agrees_with_the_printed_angle(corner, height):
    picture = whole()
    picture.update(corner, height)
    for flat in picture.flats:
        flat._sliver.set_verts([])  # the gap and the shortcut line lie on the line that is measured
        flat._struck.set_segments([])
    png = picture.png()
    printed = [text.get_text() for text, _ in texts(picture.canvas)]
    for flat, board, hand in zip(picture.flats, BOARDS, (1, -1), strict=True):
        assert degrees(corner.end_line(board)) in printed
        measured = -hand * protractor(png, flat.frame)
        assert measured == pytest.approx(float(degrees(corner.end_line(board))[:-1].replace("−", "-")), abs=0.3)


# Colours


def linear(colour):
    """(3,) linear sRGB, 0…1, of "#rrggbb" (IEC 61966-2-1)."""
    part = palette.rgb(colour) / 255
    return np.where(part <= 0.04045, part / 12.92, ((part + 0.055) / 1.055) ** 2.4)


def contrast(one, other):
    """Contrast ratio of two colours, as WCAG 2.2 defines it (relative luminance, 0.05 of flare)."""
    low, high = sorted(linear(colour) @ (0.2126, 0.7152, 0.0722) for colour in (one, other))
    return (high + 0.05) / (low + 0.05)


def lab(light):
    """CIELAB (D65) of linear sRGB."""
    to_xyz = np.array([[0.4124564, 0.3575761, 0.1804375], [0.2126729, 0.7151522, 0.0721750],
                       [0.0193339, 0.1191920, 0.9503041]])
    share = to_xyz @ light / to_xyz.sum(axis=1)
    x, y, z = np.where(share > (6 / 29) ** 3, np.cbrt(share), share / (3 * (6 / 29) ** 2) + 4 / 29)
    return np.array([116 * y - 16, 500 * (x - y), 200 * (y - z)])


# Machado, Oliveira and Fernandes, "A Physiologically-based Model for Simulation of Color Vision Deficiency" (2009),
# severity 1.0, on linear RGB; seen in stored copies of several programs that quote the table.
EYES = {
    "usual": np.eye(3),
    "protan": np.array([[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216],
                        [-0.003882, -0.048116, 1.051998]]),
    "deutan": np.array([[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413],
                        [-0.011820, 0.042940, 0.968881]]),
    "tritan": np.array([[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602],
                        [0.004733, 0.691367, 0.303900]]),
}
TAIL_FACES, PIN_FACES = (palette.TAIL, palette.TAIL_INNER), (palette.PIN, palette.PIN_INNER)


def test_the_yardsticks_for_colour():
    assert contrast("#000000", "#ffffff") == pytest.approx(21)  # WCAG 2.2: the largest there is
    # sRGB red in CIELAB under D65: 53.24, 80.09, 67.20 (from memory; recomputed here)
    assert lab(linear("#ff0000")) == pytest.approx([53.24, 80.09, 67.20], abs=0.02)
    for matrix in EYES.values():
        assert matrix.sum(axis=1) == pytest.approx(np.ones(3), abs=1e-5)  # a grey stays the grey it was


@pytest.mark.parametrize("eye", EYES)
def test_every_eye_tells_the_boards_and_the_lines_apart(eye):
    pairs = [*product(TAIL_FACES, PIN_FACES), *combinations(palette.INKS, 2),
             *product((palette.MEASURE,), (palette.INK, palette.SHORTCUT))]  # it has arrowheads, and GUIDE hasn't
    for one, other in pairs:
        seen = [lab(np.clip(EYES[eye] @ linear(colour), 0, 1)) for colour in (one, other)]
        assert np.linalg.norm(seen[0] - seen[1]) > 25, (one, other)


def test_greyscale_tells_the_boards_and_the_two_end_lines_apart():
    for one, other in [*product(TAIL_FACES, PIN_FACES), (palette.INK, palette.SHORTCUT)]:
        assert abs(lab(linear(one))[0] - lab(linear(other))[0]) > 7, (one, other)


def test_the_two_end_lines_differ_in_dash_and_weight_too():
    picture = whole()
    picture.update(Corner(30, 30))
    styles = {colour: {(each.get_linewidths()[0], each.get_linestyles()[0][1] is None)
                       for each in collections(picture.canvas, LineCollection)
                       if to_hex(each.get_edgecolor()[0]) == colour and each.get_linewidths()[0] > 2}
              for colour in (palette.INK, palette.SHORTCUT)}
    (true_width, true_solid), = styles[palette.INK]
    (struck_width, struck_solid), = styles[palette.SHORTCUT]
    assert true_width > 1.3 * struck_width
    assert true_solid and not struck_solid


@pytest.mark.parametrize("corner", [Corner(30, 30), Corner(16, 11), Corner(-30, 30), Corner(-20, -40)])
def test_what_lies_between_the_two_lines_is_pale_and_under_both(corner):
    """No red but the shortcut line's dashes: a solid wedge hides them, and looks like a third line."""
    picture = whole()
    picture.update(corner)
    fills = [to_hex(each.get_facecolor()[0]) for each in collections(picture.canvas, PolyCollection) if len(each.get_paths())]
    assert palette.SHORTCUT not in fills and fills.count(palette.MISS) == 2
    artists = picture.canvas.figure.get_children()
    for flat in picture.flats:
        assert artists.index(flat._wood) < artists.index(flat._sliver) < artists.index(flat._end) < artists.index(flat._struck)


def test_text_and_lines_stand_out():
    """WCAG 2.2, success criteria 1.4.3 (text, 4.5 : 1) and 1.4.11 (lines, 3 : 1)."""
    names = [(palette.INK, FILLS[board]["outer"]) for board in BOARDS]
    for text, ground in [*product((*palette.INKS, palette.MEASURE), (palette.WHITE,)), *names]:
        assert contrast(text, ground) >= 4.5, (text, ground)
    flat = (palette.WHITE, palette.WASTE, palette.TAIL, palette.PIN)
    for line, ground in [*product((*palette.INKS, palette.MEASURE), flat), *product((palette.INK,), palette.FILLS)]:
        assert contrast(line, ground) >= 3, (line, ground)


@given(corner=CORNERS, **STOCK, **VIEWS)
@examples(50)
def test_the_one_gauge_line_stands_out_from_what_lies_behind_it(corner, height, thickness, turn, tilt):
    canvas, pictorial = stage()
    pictorial.update(corner, height, thickness, turn, tilt)
    solids = [(path, to_hex(colour)) for each in collections(canvas, PolyCollection)
              for path, colour in zip(each.get_paths(), cycle(each.get_facecolors()), strict=False)]
    for start, end in lines_drawn(canvas, palette.SHORTCUT):
        points = start + np.linspace(0.05, 0.95, 19)[:, None] * (end - start)
        behind = np.full(len(points), palette.WHITE, dtype=object)
        for path, colour in solids:
            behind[path.contains_points(points)] = colour
        faint = [colour for colour in behind if contrast(palette.SHORTCUT, colour) < 3]
        assert len(faint) <= len(points) / 2


@pytest.mark.parametrize("settings_", [
    (Corner(14, 6), {}), (Corner(-45, -45), {"height": 300, "thickness": 40}),
    (Corner(30, -30, 110), {"turn": 160, "tilt": 40, "unit": "in"}), (Corner(45, 45, 60), {"tilt": -20}),
])
def test_the_png_keeps_the_colours(settings_):
    corner, how = settings_
    picture = whole()
    picture.update(corner, **how)
    true, kept = picture.canvas.pixels()[:, :, :3].astype(int), rgb_of(picture.png()).astype(int)
    assert kept.shape == (CornerPicture.HEIGHT, CornerPicture.WIDTH, 3)
    off = abs(true - kept).max(axis=2)
    assert off.max() <= 40 and off.mean() < 0.3
    for colour in palette.EXACT:
        flat = (true == palette.rgb(colour)).all(axis=2)
        assert (off[flat] == 0).all(), colour


def test_the_palette_holds_every_colour_once():
    assert palette.palette().shape == (256, 3)
    colours = palette.EXACT
    cells = {tuple(palette.rgb(colour) >> 3) for colour in colours}
    assert len(cells) == len(colours)  # the lookup keeps five bits a channel


# Stills


@pytest.fixture
def made(monkeypatch):
    """Every canvas and every end face that a still makes, in lists by class name."""
    kept = {"Canvas": [], "EndFace": []}

    def keeping(kind):
        def make(*arguments):
            kept[kind.__name__].append(kind(*arguments))
            return kept[kind.__name__][-1]
        return make

    for kind in (stills.Canvas, stills.EndFace):
        monkeypatch.setattr(stills, kind.__name__, keeping(kind))
    return kept


USUAL = [Corner(tail, pin) for tail, pin in product((0, 5, 14, 20), (0, 6, 20))]


@pytest.mark.parametrize("corner", [Corner(-18, 35), Corner(-18, 45), Corner(45, 45), Corner(30, 40), Corner(45, -18)], ids=str)
def test_both_boards_are_named_beside_the_wood_where_a_face_has_no_room(corner, made):
    words_still(corner)
    canvas, = made["Canvas"]
    shown = [text.get_text() for text, _ in check_texts(canvas)]
    assert [shown.count(f"{board} board") for board in BOARDS] == [1, 1]
    assert_within(reach_of(canvas), (0, 0, canvas.width, canvas.height))


@pytest.mark.parametrize("corner", USUAL, ids=str)
def test_the_words_and_their_leaders_stay_apart_and_inside(corner, made):
    words_still(corner)
    canvas, = made["Canvas"]
    shown = check_texts(canvas)
    check_names(canvas)
    assert sum(":" in text.get_text() for text, _ in shown) == 6
    assert_within(reach_of(canvas), (0, 0, canvas.width, canvas.height))
    leaders = [path.vertices for path in collections(canvas, LineCollection)[-1].get_paths()]
    assert len(leaders) == 6 + (corner.pin_lean == 20)  # where the pin board's face has no room for its name
    for text, box in shown:
        assert not crossed(box, leaders), f"a leader crosses {text.get_text()!r}"


@pytest.mark.parametrize("lean", [-30, 0, 5, 20, 30])
def test_the_lean_is_shown_end_on_and_to_scale(lean):
    canvas = Canvas(920, 440)
    frame = np.array([700, 36, 900, 236])
    at = stills.draw_end_on(canvas, lean, 120, 18, frame)
    wood, = (path.vertices[:4] for each in collections(canvas, PolyCollection) for path in each.get_paths())
    up = wood[2] - wood[1]
    assert np.degrees(np.arctan2(*up)) == pytest.approx(lean)
    assert wood[[0, 3], 1] == pytest.approx(wood[[1, 2], 1])  # its edges are ripped level
    across = wood[1, 0] - wood[0, 0]
    assert across * np.cos(np.radians(lean)) / up[1] == pytest.approx(18 / 120)  # the outer face is on the right
    assert np.degrees(np.arctan2(*(at - wood[1]))) == pytest.approx(lean * 10 / 19)
    assert_within(reach_of(canvas), frame)


def test_both_boards_of_the_first_picture_are_named():
    picture = CornerPicture()
    picture.update(Corner(30, 30), turn=5)
    assert {"tail board", "pin board"} <= {text.get_text() for text, _ in texts(picture.canvas)}


LEANING = [Corner(tail, pin) for tail, pin in product((-45, -20, 14, 45), (-45, 0, 45))]


@pytest.mark.parametrize("corner", LEANING, ids=str)
@pytest.mark.parametrize("thickness", [6, 40])
def test_the_tail_board_ends_stay_apart_and_inside(corner, thickness, made):
    tail_end_still(corner, thickness)
    canvas, = made["Canvas"]
    frames = [np.array(face.frame) for face in made["EndFace"]]
    assert len(frames) == 1 + (corner.pin_lean != 0) and not any(overlap(*pair) for pair in combinations(frames, 2))
    wood = [path.vertices for each in collections(canvas, PolyCollection) for path in each.get_paths()]
    woods = [(*points.min(axis=0), *points.max(axis=0)) for points in wood]
    assert len(woods) == len(frames)
    for words, box in check_texts(canvas):  # the arris's name stands beside it
        assert not any(overlap(box, place) for place in (woods if words.get_text() == "outer arris" else frames))
    for each in [*collections(canvas, PolyCollection), *collections(canvas, LineCollection)]:
        points = np.concatenate([path.vertices for path in each.get_paths()])
        reach = np.array([*points.min(axis=0) - half_width(each), *points.max(axis=0) + half_width(each)])
        assert_within(reach, frames[0] if reach[2] < canvas.width / 2 else frames[-1])


def test_level_lines_on_the_ends_are_to_scale(made):
    corner = Corner(20, 15)
    tail_end_still(corner)
    canvas, = made["Canvas"]
    for colour, angles in ((palette.INK, (corner.level_on_flush_end, corner.level_on_square_end)),
                           (palette.SHORTCUT, (20, 20))):
        lines = lines_drawn(canvas, colour, 2.2)
        x, y = (lines[:, 1] - lines[:, 0]).T
        # looking along the board at its end, the outer arris is on the right: the lines run from there to the left
        assert (x < 0).all() and np.degrees(np.arctan2(-y, -x)) == pytest.approx(np.repeat(angles, 3), abs=1e-6)


@pytest.mark.parametrize("corner", [Corner(0, 11), Corner(0, 40), Corner(0, -25), Corner(30, 25), Corner(16, -11)], ids=str)
@pytest.mark.parametrize("tails", [1, 2])
def test_tails_spread_alike_from_their_level_centre_lines(corner, tails, made, monkeypatch):
    monkeypatch.setattr(joint_stills, "Canvas", stills.Canvas)
    words = joint_stills.tail_still(Joint(corner, 60, 18, tails=tails)).words
    canvas, = made["Canvas"]
    assert f"end line is {intended(corner.tail_end_line)} from square" in words and "from the centre line, 1 in 6." in words
    shown = check_texts(canvas)
    assert_within(reach_of(canvas), (0, 0, canvas.width, canvas.height))
    reach = [path.vertices for each in collections(canvas, PolyCollection) for path in each.get_paths()]
    assert not any(overlap(box, (*points.min(axis=0), *points.max(axis=0))) for _, box in shown for points in reach)
    drawn = {width: lines_drawn(canvas, colour, width)[:-1] for colour, width, _ in  # the last is the key's
             (joint_stills.CENTRE, joint_stills.STYLES["cheek"], joint_stills.STYLES["end line"])}
    centres, cheeks, (end,) = drawn.values()
    assert len(centres) == tails and len(cheeks) == 2 * tails
    assert centres[:, 0, 1] == pytest.approx(centres[:, 1, 1])
    x, y = (end[1] - end[0]) * np.sign(end[1] - end[0])[1]
    assert np.degrees(np.arctan2(-x, y)) == pytest.approx(corner.tail_end_line)
    ways = cheeks[:, 1] - cheeks[:, 0]
    slopes = ways[:, 1] / ways[:, 0]
    assert slopes == pytest.approx([-1 / 6, 1 / 6] * tails)
    for centre, (upper, lower) in zip(centres, cheeks.reshape(-1, 2, 2, 2), strict=True):
        at = [line[0, 1] + (centre[0, 0] - line[0, 0]) * slope
              for line, slope in ((lower, 1 / 6), (upper, -1 / 6))]  # wider at the end, on the left
        assert centre[0, 1] == pytest.approx(np.mean(at)) and at[0] < at[1]


@pytest.mark.parametrize(("corner", "told"), [
    (Corner(30, 30), "Both boards lean out 30°. Both end lines are 26.6° from square. Both shortcut lines "
                     "slant 3.4° too much."),
    (Corner(16, 11), "The tail board leans out 16°; the pin board leans out 11°. The tail board's end line is 10.6° from "
                     "square, and the pin board's is 15.7° from square. The shortcut line slants 0.4° "
                     "too much on the tail board and 0.3° too much on the pin board."),
    (Corner(-16, 11.5), "The tail board leans in 16°; the pin board leans out 11.5°."),
    (Corner(16, 0), "The tail board's end line is square, and the pin board's is 16° from square. Both shortcut "
                    "lines are exact."),
    (Corner(0, 0), "Both boards are upright. Both end lines are square."),
    (Corner(12.3333333, 0.33), "slants less than 0.1° too much on the tail board and is exact on the pin board.")])
def test_the_words_of_a_corner_say_each_thing_once(corner, told):
    """Exact angles as they are typed, rounded ones with a decimal; "slants" once for both boards."""
    words = corner_words(corner)
    assert told in words and words.count("slant") <= 1 and ".0°" not in words


@pytest.mark.parametrize(("corner", "told"), [
    (Corner(16, 0), "A bevel set to the tail board's lean strikes these level lines."),
    (Corner(0, 11), "The level lines across the tail board's end are square to the outer arris."),
    (Corner(0, 0), "The level lines across the tail board's end are square to the outer arris."),
    (Corner(16, 11), "strikes lines that are 16° from square."), (Corner(30, 30), "On a flush end the level lines are")])
def test_words_on_the_tail_board_s_end_give_its_level_lines(corner, told):
    words = tail_end_words(corner)
    assert words.startswith(told) or words.endswith(told)
    for level in (corner.level_on_flush_end, corner.level_on_square_end):
        assert (f"{intended(level)} from square" in words) == (abs(level) >= 0.005)
    assert ("strikes these level lines" in words) == (corner.pin_lean == 0 != corner.tail_lean)


@pytest.mark.parametrize("still", [corner_still, words_still, tail_end_still])
def test_a_still_says_its_words_as_alt_text_too(still, monkeypatch):
    shown = []
    monkeypatch.setattr("IPython.display.display", lambda data, metadata=None, raw=False: shown.append((data, metadata, raw)))
    made = still(Corner(14, 6))
    made._ipython_display_()
    bundle = {"image/png": made.png, "text/plain": made.words}
    assert shown[0] == (bundle, {"image/png": {"alt": made.words}}, True) == (*made._repr_mimebundle_(), True)
    assert shown[1][0] == {"text/markdown": made.words, "text/plain": made.words} and len(shown) == 2
    assert repr(made) == made.words
    assert made.words.endswith(".") and not set("<*_|`") & set(made.words)  # as Markdown it is what it is
    assert rgb_of(made.png).shape[1] == 920


@pytest.mark.parametrize("make", [lean_dragged_still, projection_moving_still])
def test_a_moving_picture_is_small_the_same_each_time_and_begins_with_what_matters(make):
    made = make(Corner(30, 30))
    assert made.png == make(Corner(30, 30)).png and len(made.png) <= 400_000
    frames = Image.open(BytesIO(made.png))
    first = corner_still(Corner(30, 30), turn=5) if make is lean_dragged_still else projection_still(Corner(30, 30))
    assert 20 <= frames.n_frames <= 40 and frames.info["loop"] == 0
    assert np.array_equal(np.asarray(frames.convert("RGB")), rgb_of(first.png))
    shown = set()
    for number in range(frames.n_frames):
        frames.seek(number)
        shown.add(frames.convert("RGB").tobytes())
    assert len(shown) > frames.n_frames // 2


def test_a_moving_picture_that_is_too_long_or_too_large_is_refused():
    image = corner_still(Corner(30, 30)).canvas.image()
    with pytest.raises(ValueError, match="at most 40 frames, and these are 41"):
        moving([image] * 41)
    noise = [Image.fromarray(np.random.default_rng(seed).integers(0, 255, (400, 400), dtype=np.uint8)) for seed in range(4)]
    with pytest.raises(ValueError, match="at most 400 kB"):
        moving(noise)


def test_a_corner_still_says_what_the_panel_says():
    assert corner_still(Corner(14, 6)).words == corner_words(Corner(14, 6))


@pytest.mark.parametrize(("tail", "pin"), [(28, 24), (8, 6), (40, 35), (-28, -24), (28, -24), (-28, 24), (0, 20), (20, 0)])
def test_the_steps_of_the_corner_line_are_named_apart(tail, pin):
    picture = VectorsPicture()
    picture.update(Corner(tail, pin))
    boxes = [box for _, box in texts(picture.canvas)]
    assert not any(overlap(one, other) for one, other in combinations(boxes, 2))
    heavy = [path.vertices for each in collections(picture.canvas, LineCollection) if each.get_linewidths()[0] == HEAVY
             for path in each.get_paths()]
    assert heavy and not any(crossed(box, heavy) for box in boxes)
