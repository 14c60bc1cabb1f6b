"""The picture of a joint: what hides what, by rays cast at the closed meshes; every line in its place; clean frames."""

from functools import cache
from io import BytesIO
from itertools import combinations, product

import numpy as np
import pytest
from cases import examples
from hypothesis import assume, given
from hypothesis import strategies as st
from matplotlib.collections import LineCollection, PolyCollection
from matplotlib.colors import to_hex
from on_canvas import assert_within, collections, crossed, overlap, reach_of, sure, texts, way_to_viewer
from PIL import Image
from rays import Rays, inside, on_top
from scipy.spatial import KDTree
from splaywork import Corner
from splaywork.drawing import palette
from splaywork.drawing.canvas import Canvas
from splaywork.joint.joint import Joint
from splaywork.joint.picture import JOINT_FILLS, STYLES, JointPicture, JointView
from splaywork.joint.pieces import blank_pieces, cut_pieces, free_at, parting_planes
from splaywork.joint.settings_words import bevel_words, letters_of, setting_uses, setting_value
from splaywork.joint.stills import STAGES, joint_still, stages_still
from splaywork.joint.words import lettered_settings

BOARDS = ("tail", "pin")
FRAME = (6, 34, 338, 394)
DRAWER = Corner(tail_lean=16, pin_lean=11)  # the galley locker drawer's front corner
VIEWS = {"turn": st.floats(-180, 180), "tilt": st.floats(-20, 90)}
APART = st.sampled_from([0.0, 0.3, 1.0, 1.5]) | st.floats(0, 1.5)  # shares of what it takes to come free


@st.composite
def joints(draw, most_tails=7):
    """Any joint of the panel's range that the library agrees to cut."""
    corner = Corner(draw(st.floats(-45, 45)), draw(st.floats(-45, 45)), draw(st.floats(60, 135)))
    try:
        return Joint(corner, draw(st.floats(40, 300)), draw(st.floats(6, 40)), draw(st.floats(6, 40)),
                     draw(st.integers(1, most_tails)), draw(st.floats(3, 12)),
                     end=draw(st.sampled_from(["flush", "square"])), rims=draw(st.sampled_from(["level", "square"])))
    except ValueError:
        assume(False)


@cache
def stage():
    """(canvas, view on it): one for all, as a panel keeps one."""
    canvas = Canvas(430, 430)
    return canvas, JointView(canvas, FRAME)


def scatter(seed, count):
    return np.random.default_rng(seed).uniform(FRAME[:2], FRAME[2:], (count, 2))


# Hidden faces


@given(joint=joints(), share=APART, **VIEWS, seed=st.integers(0, 9999))
@examples(30)
def test_the_frontmost_face_lies_on_top(joint, share, turn, tilt, seed):
    canvas, view = stage()
    apart = share * free_at(joint)
    view.update(joint, turn, tilt, apart)
    rays = Rays(joint, apart, view, way_to_viewer(joint.corner, turn, tilt))
    pixels = scatter(seed, 500)
    expected, certain = sure(rays.colours, pixels, 0.2)
    assert (expected != "").any()
    np.testing.assert_array_equal(on_top(canvas, pixels)[certain], expected[certain])


@given(joint=joints(), share=APART, **VIEWS, seed=st.integers(0, 9999))
@examples(30)
def test_the_pixels_show_the_frontmost_face(joint, share, turn, tilt, seed):
    canvas, view = stage()
    apart = share * free_at(joint)
    view.update(joint, turn, tilt, apart)
    picture = canvas.pixels()[::-1, :, :3].astype(int)  # the first row at the bottom
    rays = Rays(joint, apart, view, way_to_viewer(joint.corner, turn, tilt))
    cells = np.floor(scatter(seed, 800)).astype(int)
    expected, certain = sure(rays.colours, cells + 0.5, 3)  # further from any edge than its line is wide
    for (column, row), colour in zip(cells[certain], expected[certain], strict=True):
        around = picture[row - 1:row + 2, column - 1:column + 2]
        if near_name(canvas, column, row) or around.max(axis=2).min() < 120:
            continue  # an edge ends here
        if colour:
            assert abs(picture[row, column] - palette.rgb(colour)).max() <= 10
        else:
            assert picture[row, column].min() >= palette.rgb(palette.BENCH).min()


@pytest.mark.parametrize(("board", "face", "turn", "tilt", "share"), [
    ("tail", "outer", 15, 25, 0), ("tail", "outer", 33, 40, 0.6), ("tail", "outer", 21, 33, 1.5),
    ("pin", "outer", -20, 15, 0), ("pin", "outer", -31, 35, 0.6), ("tail", "inner", 160, 30, 1.5),
    ("pin", "inner", 185, 31, 1.5),
])
def test_no_seam_shows_where_a_face_runs_on_from_board_to_tail_or_pin(board, face, turn, tilt, share):
    canvas, view = stage()
    joint = Joint(DRAWER, 120, 18, tails=3, pin_width=16)
    view.update(joint, turn, tilt, share * free_at(joint))
    cut = joint.tail_board if board == "tail" else joint.pin_board.moved(share * free_at(joint))
    outline = cut.outlines[("outer", "inner").index(face)]
    roots = [(4 * tail, 4 * tail + 3) for tail in range(1, joint.tails + (board == "tail"))]
    picture = canvas.pixels()[::-1, :, :3].astype(int)
    for first, last in roots:
        along = view.place(outline[first] + np.linspace(0.3, 0.7, 30)[:, None] * (outline[last] - outline[first]))
        for column, row in np.floor(along).astype(int):
            around = picture[row - 1:row + 2, column - 1:column + 2]
            assert abs(around - palette.rgb(JOINT_FILLS[board][face])).max() <= 10


def near_name(canvas, column, row):
    return any(overlap((column - 2, row - 2, column + 3, row + 3), box) for _, box in texts(canvas))


def edges_of(joint, apart):
    """Ends (n, 2, 3) of every edge of both boards."""
    found = []
    for cut in (joint.tail_board, joint.pin_board.moved(apart)):
        outer, inner = cut.outlines
        for outline in (outer, inner):
            found.append(np.stack([outline, np.roll(outline, -1, axis=0)], axis=1))
        found.append(np.stack([outer, inner], axis=1))
    return np.concatenate(found)


@given(joint=joints(3), share=APART, **VIEWS)
@examples(30)
def test_edges_are_inked_where_they_can_be_seen_and_nowhere_else(joint, share, turn, tilt):
    canvas, view = stage()
    apart = share * free_at(joint)
    view.update(joint, turn, tilt, apart)
    way = way_to_viewer(joint.corner, turn, tilt)
    rays = Rays(joint, apart, view, way)
    edges = edges_of(joint, apart)
    along = np.linspace(0.01, 0.99, 150)[:, None, None]
    points = (edges[:, 0] + along * (edges[:, 1] - edges[:, 0])).reshape(-1, 3)
    places, depth = view.place(points), points @ way
    # every place near the point must say the same: nothing in front, or something well in front
    in_front = np.array([rays.hits(places + 0.7 * np.array(step)).max(axis=1) - depth
                         for step in [(0, 0), *product((-1, 1), repeat=2)]])
    pixel_depth = 1.5 / np.linalg.norm(rays.axes, 2)  # how much nearer a face may come within that reach, and more
    seen, hidden = (in_front < 1e-6).all(axis=0), (in_front > 10 * pixel_depth + 1).all(axis=0)
    lightness = canvas.pixels()[::-1, :, :3].max(axis=2).astype(int)
    darkest = np.min([lightness[np.floor(places[:, 1]).astype(int) + j, np.floor(places[:, 0]).astype(int) + i]
                      for i, j in product((-1, 0, 1), repeat=2)], axis=0)
    assert seen.sum() > 20 and (darkest[seen] < 120).all()
    near_seen = KDTree(places[~hidden]).query(places[hidden])[0] < 6
    names = np.array([near_name(canvas, *place) for place in places[hidden]], dtype=bool)
    assert (darkest[hidden][~near_seen & ~names] > 120).all()


@given(joint=joints(), share=APART)
@examples(50)
def test_each_plane_parts_its_piece_from_all_that_follow(joint, share):
    for boards_cut, apart in ((2, share * free_at(joint)), (1, free_at(joint)), (0, free_at(joint))):
        cuts = joint.tail_board, joint.pin_board.moved(apart)
        pieces = {cut.board: (cut_pieces if number < boards_cut else blank_pieces)(cut)
                  for number, cut in enumerate(cuts)}
        parted = parting_planes(joint, boards_cut)
        assert sorted((board, piece) for board, piece, _ in parted) == sorted(
            (board, piece) for board, each in pieces.items() for piece in range(len(each.corners)))
        corners = [pieces[board].corners[piece] for board, piece, _ in parted]
        for number, (_, _, normal) in enumerate(parted[:-1]):
            assert (corners[number] @ normal).min() >= (np.concatenate(corners[number + 1:]) @ normal).max() - 1e-6


@given(joint=joints())
@examples(30)
def test_the_pieces_make_up_their_boards(joint):
    for cut in (joint.tail_board, joint.pin_board):
        pieces = cut_pieces(cut)
        vertices, triangles = cut.mesh()
        volume = np.linalg.det(vertices[triangles]).sum() / 6
        quads = pieces.faces.reshape(-1, 4, 3)
        parts = np.linalg.det(quads[:, [0, 1, 2]]) + np.linalg.det(quads[:, [0, 2, 3]])
        assert parts.sum() / 6 == pytest.approx(volume, rel=1e-9)


def test_the_boards_come_free_where_it_says():
    joint = Joint(DRAWER, 120, 18, 15, tails=3)
    inner, pin = joint.planes["tail inner"], joint.pin_board
    for apart, free in ((free_at(joint) - 0.01, False), (free_at(joint) + 0.01, True)):
        assert (inner.height_of(pin.moved(apart).outlines).min() >= 0) == free


# Stages: boards that aren't cut yet, with their lines


@pytest.mark.parametrize("boards_cut", [0, 1])
@pytest.mark.parametrize(("turn", "tilt"), [(15, 25), (-50, 10), (120, 40), (200, -15)])
def test_lines_are_drawn_on_the_faces_that_can_be_seen(boards_cut, turn, tilt):
    canvas, view = stage()
    joint = Joint(DRAWER, 120, 18, tails=3)
    apart = 1.6 * free_at(joint)
    struck = [line for line in joint.lines if line.board == "pin" or boards_cut == 0]
    view.update(joint, turn, tilt, apart, boards_cut, struck)
    way = way_to_viewer(joint.corner, turn, tilt)
    expected = []
    for line in struck:
        cut = joint.tail_board if line.board == "tail" else joint.pin_board
        if cut.surfaces[line.surface].normal @ way > 0:
            expected.append(view.place(line.ends + (apart * cut.withdrawal if line.board == "pin" else 0)))
    boards = collections(canvas, PolyCollection)[-1]
    widths = {width for _, width, _ in STYLES.values()}
    drawn = [path.vertices[:2] for path, width in zip(boards.get_paths(), boards.get_linewidths(), strict=True)
             if width in widths]
    assert len(drawn) == len(expected) > 0
    for line in expected:
        assert min(abs(line - other).max() for other in drawn) < 1e-6


# Nothing outside its frame


CORNERS = [Corner(0, 0), DRAWER, Corner(45, 45), Corner(-45, 45), Corner(45, -45, 135), Corner(-45, -45),
           Corner(8, 6, 60), Corner(-20, 12, 110)]


def joints_to_show():
    for corner, height, thickness, tails, end, rims in product(
            CORNERS, (40, 300), (6, 40), (1, 9), ("flush", "square"), ("level", "square")):
        try:
            yield Joint(corner, height, thickness, tails=tails, end=end, rims=rims)
        except ValueError:
            continue


def test_everything_stays_in_its_frame():
    picture, count = JointPicture(), None
    canvas = picture.canvas
    for number, joint in enumerate(joints_to_show()):
        turn, tilt = (-180, -90, -45, 0, 15, 120)[number % 6], (-20, 0, 25, 90)[number % 4]
        picture.update(joint, turn, tilt, (0, 0.7, 1.5)[number % 3] * free_at(joint), ("mm", "in")[number % 2])
        count = count or canvas.artist_count()
        assert canvas.artist_count() == count
        assert_within(reach_of(canvas), (0, 0, canvas.width, canvas.height))
        check_frames(picture)
    assert number > 40


@pytest.mark.parametrize(("end", "corner", "named"), [
    ("square", DRAWER, True), ("flush", DRAWER, False), ("square", Corner(16, 0), False)])
def test_the_cut_off_line_is_in_the_key_where_one_is_drawn(end, corner, named):
    picture = JointPicture()
    picture.update(Joint(DRAWER, 120, 18, end="square"))
    picture.update(Joint(corner, 120, 18, end=end))
    assert ("cut-off line" in {text.get_text() for text, _ in texts(picture.canvas)}) == named


def check_frames(picture):
    """Each part keeps to its frame, texts to the canvas and clear of each other, of the key and of all that is drawn."""
    canvas = picture.canvas
    shown = texts(canvas)
    for (one, box), (other, other_box) in combinations(shown, 2):
        assert not overlap(box, other_box), f"{one.get_text()!r} overlaps {other.get_text()!r}"
    parts = collections(canvas, PolyCollection)
    of_view = 1 + (to_hex(parts[0].get_facecolor()[0]) == palette.BENCH)
    view = np.concatenate([path.vertices for each in parts[:of_view] for path in each.get_paths()])
    assert_within([*view.min(axis=0), *view.max(axis=0)], picture.view.frame)
    solids = [path.vertices for each in parts[of_view:] for path in each.get_paths()]
    for shape in solids:
        assert any(inside(shape, frame) for flat in picture.flats for frame in flat.frames.values())
    lines = [path.vertices for each in collections(canvas, LineCollection) for path in each.get_paths()]
    for text, box in shown:
        assert_within(box, (0, 0, canvas.width, canvas.height))
        if not text.get_text().endswith(" board"):
            assert not any(overlap(box, (*shape.min(axis=0), *shape.max(axis=0))) for shape in solids), text.get_text()
            assert not crossed(box, lines), text.get_text()


# The flat faces


@given(joint=joints())
@examples(40)
def test_the_flat_faces_carry_the_lines_at_their_angles_and_to_one_scale(joint):
    picture = flat_stage()
    picture.update(joint)
    scales = set()
    for flat, board in zip(picture.flats, BOARDS, strict=True):
        cut = getattr(joint, f"{board}_board")
        for surface, frame in flat.frames.items():
            lines = [path.vertices for each in collections(picture.canvas, LineCollection) for path in each.get_paths()
                     if inside(path.vertices, frame)]
            struck = joint.lines_on(board, surface)
            assert len(lines) == len(struck)
            for line in struck:
                flat_line = cut.surfaces[surface].flat(line.ends)
                size = flat_line[1] - flat_line[0]
                nearest = min(lines, key=lambda other, flat_line=flat_line, frame=frame: misfit(other, flat_line, lines))
                scale = np.linalg.norm(nearest[1] - nearest[0]) / np.linalg.norm(size)
                scales.add(round(scale, 6))
                assert np.allclose(nearest[1] - nearest[0], scale * size, atol=1e-6)
    assert len(scales) == 1


def misfit(drawn, flat_line, all_drawn):
    """How unlike in direction a drawn line is; ties by length."""
    way, wanted = drawn[1] - drawn[0], flat_line[1] - flat_line[0]
    return abs(way / np.linalg.norm(way) - wanted / np.linalg.norm(wanted)).max(), len(all_drawn)


@cache
def flat_stage():
    return JointPicture()


@given(joint=joints())
@examples(30)
def test_tails_and_pins_complement_each_other_on_the_flat_ends(joint):
    picture = flat_stage()
    picture.update(joint)
    wood = collections(picture.canvas, PolyCollection)
    for flat, board in zip(picture.flats, BOARDS, strict=True):
        cut = getattr(joint, f"{board}_board")
        frame = flat.frames["end"]
        fill = JOINT_FILLS[board]["end"]
        shapes = [path.vertices for each in wood[2:] for path, colour in
                  zip(each.get_paths(), np.resize(each.get_facecolors(), (len(each.get_paths()), 4)), strict=True)
                  if to_hex(colour) == fill and inside(path.vertices, frame)]
        assert len(shapes) == len(cut.surfaces["end"].pieces) == joint.tails + (board == "pin")


def test_the_letters_are_those_of_the_sentence():
    picture = flat_stage()
    for end, rims in product(("flush", "square"), ("level", "square")):
        joint = Joint(DRAWER, 120, 18, tails=3, end=end, rims=rims)
        picture.update(joint)
        letters, shown = letters_of(joint), [text.get_text() for text, _ in texts(picture.canvas)]
        for (_, surface, kind), setting in letters.items():
            if surface in ("outer", "inner", "end"):
                assert {"end line": "end line: ", "cheek": "cheeks: "}[kind] + setting in shown
        for letter, setting in lettered_settings(joint).items():
            assert f"{letter} is {setting_value(setting)}: it strikes " in bevel_words(joint)


def test_the_picture_keeps_to_the_palette():
    picture = flat_stage()
    picture.update(Joint(Corner(28, -24), 120, 18, tails=4, end="square"), 15, 25, 12)
    with Image.open(BytesIO(picture.png())) as image:
        assert image.mode == "P" and image.size == (picture.WIDTH, picture.HEIGHT)
    fills = {to_hex(colour) for each in collections(picture.canvas, PolyCollection) for colour in each.get_facecolors()
             if colour[3]}
    for fill in fills:  # a cheek's is no colour of its own, but a step between two
        assert palette.palette()[palette.lookup()[(palette.rgb(fill) >> 3) @ (1024, 32, 1)]].tolist() == list(
            palette.rgb(fill))
    inks = {to_hex(colour) for each in collections(picture.canvas, LineCollection) for colour in each.get_edgecolors()}
    assert inks <= set(palette.INKS)


# Words


@pytest.mark.parametrize(("options", "number", "parts"), [
    ({}, "three", ["A is 79.4° from the edge (18.7 mm in 100 mm): it strikes the tail board's end line and baselines.",
                   "C is 9.5° from the edge (1 in 6.0): it strikes the cheeks on the tail board's faces."]),
    ({"end": "square"}, "five", ["strikes the lower cheeks on the tail board's end", "strikes the upper cheeks on the tail"]),
    ({"rims": "square"}, "five", ["it strikes the lines across the tail board's rims"]),
])
def test_the_sentence_gives_number_and_values_of_the_settings(options, number, parts):
    joint = Joint(DRAWER, 120, 18, tails=3, **options)
    words = bevel_words(joint)
    assert words.startswith(f"The lines of this joint need {number} bevel settings. ") and words.endswith(".")
    assert f"The narrowest gap between two tails is {joint.narrowest_gap:.1f} mm, seen in" in words
    for part in parts:
        assert part in words


@given(joint=joints())
def test_every_setting_has_its_letter_and_a_use(joint):
    found = lettered_settings(joint)
    assert len(found) == len(joint.bevel_settings)
    assert all(setting_uses(setting) for setting in found.values())
    assert set(", ".join(letters_of(joint).values()).split(", ")) - {"square"} == set(found)


def test_one_setting_is_said_in_the_singular_and_in_inches():
    words = bevel_words(Joint(Corner(0, 0), 120, 18, tails=1), "in")
    assert words == ("The lines of this joint need one bevel setting. A is 9.5° from the edge (1 in 6.0): it strikes the "
                     "cheeks on the tail board's faces.")


# Stills


@pytest.mark.parametrize("stages", [["standing", "struck", "tails cut"], ["pins scribed", "pulled apart", "together"]])
def test_every_stage_is_shown_and_said(stages):
    for corner in (DRAWER, Corner(-20, 12, 110), Corner(35, 30)):
        still = stages_still(Joint(corner, 120, 18, tails=2), stages)
        for stage in stages:
            assert stage in still.words.lower() and STAGES[stage][0] in still.words
        assert len({stages_still(Joint(corner, 120, 18, tails=2), [stage]).png for stage in stages}) == 3


def test_all_stages_keep_uncut_boards_apart():
    for _, share, boards_cut, _ in STAGES.values():
        assert boards_cut == 2 or share >= 1


@pytest.mark.parametrize("stages", [[], ["standing"] * 4, ["glued"], ["<b>"]])
def test_other_stages_are_refused(stages):
    with pytest.raises(ValueError, match=r"^Give one to three of the stages .*\.$"):
        stages_still(Joint(DRAWER, 120, 18), stages)


def test_a_still_of_the_joint_says_its_settings():
    joint = Joint(DRAWER, 120, 18, tails=3)
    assert joint_still(joint).words == bevel_words(joint)
    assert joint_still(joint, unit="in").words == bevel_words(joint, "in")
