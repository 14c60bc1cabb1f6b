"""The picture of a whole box: what hides what, by rays cast at the boards' closed meshes; names, marks, clean frames."""

from functools import cache
from io import BytesIO
from itertools import combinations, pairwise, product

import manifold3d
import numpy as np
import pytest
from boxes import leaning
from cases import examples, sample
from hypothesis import assume, example, given
from hypothesis import strategies as st
from matplotlib.collections import LineCollection, PolyCollection
from matplotlib.colors import to_hex
from on_canvas import assert_within, collections, overlap, reach_of, sure, texts
from PIL import Image
from rays import Rays as JointRays
from rays import on_top
from splaywork.box.box import END_CORNERS, NAMES, Bottom, Box, JointSettings
from splaywork.box.fittings import bottom_panel
from splaywork.box.picture import RADIUS, BoxPicture, BoxView
from splaywork.box.pieces import BoxPieces, come_free, steps_apart
from splaywork.corner.picture import HEAVY
from splaywork.drawing import palette
from splaywork.drawing.canvas import Canvas
from splaywork.joint.picture import JOINT_FILLS
from splaywork.joint.settings_words import letters_of
from wood import solid

FRAME = (4, 30, 574, 372)
VIEWS = {"turn": st.floats(-180, 180), "tilt": st.floats(-20, 90)}
# shares of what it takes for the tail boards to come free: closed, a hair, half way, just free, wide
APART = st.sampled_from([0.0, 0.0, 0.02, 0.5, 1.0, 1.3, 3.0]) | st.floats(0, 4)
LOCKER = Box(420, 360, 110, front_lean=6, left_lean=14, thickness=12, back_thickness=9, joint=JointSettings(tails=3))
STEEP = Box(300, 260, 120, **leaning(40, 40, 40, 40), thickness=15)
NEGATIVE = Box(400, 360, 120, **leaning(-20, -20, -25, -12), thickness=15, tails_on="front and back")
MIXED = Box(400, 360, 150, **leaning(25, -10, -20, 30), thickness=15, right_thickness=9, rims="square",
            joint=JointSettings(end="square", tails=2))
CASES = {"mild": LOCKER, "steep": STEEP, "negative": NEGATIVE, "mixed": MIXED}


@st.composite
def boxes(draw, most_tails=5):
    """Any box with leans from −45 to 45 that the library agrees to make, small ones with thick boards among them."""
    lean = st.floats(-45, 45)
    thickness = st.floats(5, 30)
    try:
        return Box(draw(st.floats(80, 500)), draw(st.floats(80, 500)), draw(st.floats(40, 200)),
                   **leaning(*(draw(lean) for _ in NAMES)), thickness=draw(thickness),
                   **{f"{name}_thickness": draw(st.none() | thickness) for name in NAMES},
                   tails_on=draw(st.sampled_from(["sides", "front and back"])),
                   rims=draw(st.sampled_from(["level", "square"])),
                   joint=JointSettings(draw(st.integers(1, most_tails)), draw(st.floats(3, 12)),
                                       end=draw(st.sampled_from(["flush", "square"]))))
    except ValueError:
        assume(False)


def way_to_viewer(turn, tilt):
    """Unit vector to a viewer who has gone `turn` degrees to the right from before the front, and looks down."""
    turn, tilt = np.radians([turn, tilt])
    return np.array([np.sin(turn) * np.cos(tilt), -np.cos(turn) * np.cos(tilt), np.sin(tilt)])


OUTWARDS = {"front": (0, -1, 0), "right": (1, 0, 0), "back": (0, 1, 0), "left": (-1, 0, 0)}


def meshes_apart(box, apart):
    """Name -> (vertices, triangles, step) of each board as it should stand."""
    found = {}
    for name, board in box.boards.items():
        far = apart if board.carries == "tails" else max(0.0, apart - come_free(box))
        step = far * np.array(OUTWARDS[name], dtype=float)
        vertices, triangles = board.mesh()
        found[name] = vertices + step, triangles, step
    return found


class Rays(JointRays):
    """All four boards as the triangles of their closed meshes, looked at along parallel rays."""

    def __init__(self, box, apart, view, way):
        self.triangles, self.labels = [], []
        for name, (vertices, triangles, step) in meshes_apart(box, apart).items():
            kind = "tail" if box.carries(name) == "tails" else "pin"
            self.triangles.append(vertices[triangles])
            self.labels += [f"{kind} {face_of(box, name, corners)}" for corners in vertices[triangles] - step]
        self.look(view, way)


def face_of(box, name, corners):
    """Which face of its board, in its place in the closed box, a triangle lies in."""
    kinds = {f"{name} {side}": side for side in ("outer", "inner", "bottom", "top")}
    kinds |= {f"{name} {end} end": "end" for end in ("left", "right")}
    kinds |= {f"{other} inner": "shoulder" for other in NAMES if other != name}
    kinds |= {plane: "cheek" for plane in box.planes if plane.endswith("cheek")}
    return next(kind for plane, kind in kinds.items() if abs(box.planes[plane].height_of(corners)).max() < 1e-6)


@cache
def stage():
    """(canvas, view on it): one for all, as a panel keeps one."""
    canvas = Canvas(920, 400)
    return canvas, BoxView(canvas, FRAME)


def scatter(seed, count):
    return np.random.default_rng(seed).uniform(FRAME[:2], FRAME[2:], (count, 2))


# Hidden faces


def check_front(box, apart, turn, tilt, seed):
    canvas, view = stage()
    view.update(box, turn, tilt, apart)
    rays = Rays(box, apart, view, way_to_viewer(turn, tilt))
    vertices = rays.seen.reshape(-1, 2)  # half of the places close to a corner of the wood, where the joints are
    near = vertices[np.random.default_rng(seed).integers(len(vertices), size=500)]
    pixels = np.concatenate([scatter(seed, 400), near + np.random.default_rng(seed + 1).normal(0, 6, near.shape)])
    expected, certain = sure(rays.colours, pixels, 0.2)
    assert (expected != "").any()
    np.testing.assert_array_equal(on_top(canvas, pixels)[certain], expected[certain])


@given(box=boxes(), share=APART, **VIEWS, seed=st.integers(0, 9999))
@examples(30)
def test_the_frontmost_face_lies_on_top(box, share, turn, tilt, seed):
    check_front(box, share * come_free(box), turn, tilt, seed)


@pytest.mark.parametrize(("name", "share"), sample(list(product(CASES, [0, 0.4, 1.0, 1.4, 3])), range(0, 20, 3)))
def test_the_frontmost_face_lies_on_top_all_round(name, share):
    for number, turn in enumerate(range(-180, 180, 30)):
        check_front(CASES[name], share * come_free(CASES[name]), turn, (-15, 22, 50)[number % 3], number)


# an edge of the side boards lies right behind the front's seam
@example(box=Box(80, 80, 164, thickness=5, tails_on="front and back", joint=JointSettings(tails=1, tail_slope=3.0)),
         share=0.0, turn=0.0, tilt=0.0, seed=0)
@given(box=boxes(), share=APART, **VIEWS, seed=st.integers(0, 9999))
@examples(25)
def test_the_pixels_show_the_frontmost_face(box, share, turn, tilt, seed):
    canvas, view = stage()
    apart = share * come_free(box)
    view.update(box, turn, tilt, apart)
    picture = canvas.pixels()[::-1, :, :3].astype(int)  # the first row at the bottom
    rays = Rays(box, apart, view, way_to_viewer(turn, tilt))
    cells = np.floor(scatter(seed, 800)).astype(int)
    expected, certain = sure(rays.colours, cells + 0.5, 3)  # further from any edge than its line is wide
    compared = 0
    for (column, row), colour in zip(cells[certain], expected[certain], strict=True):
        around = picture[row - 1:row + 2, column - 1:column + 2]
        if any(overlap((column - 2, row - 2, column + 3, row + 3), area) for _, area in texts(canvas)):
            continue
        if around.max(axis=2).min() < 150:  # an edge ends here
            continue
        compared += 1
        if colour:
            # a seam over a line that is hidden leaves a trace of it, fainter than anyone sees
            assert abs(picture[row, column] - palette.rgb(colour)).max() <= 20
        else:
            assert picture[row, column].min() >= palette.rgb(palette.BENCH).min()
    assert compared > 20  # a slim box close by shows little beside its lines


@given(box=boxes())
@examples(30)
def test_the_pieces_make_up_their_boards(box):
    pieces = BoxPieces.of(box)
    quads = np.where(pieces.hands[:, None, None, None] == 1, pieces.faces, pieces.faces[:, :, ::-1])
    first, *others = np.moveaxis(quads, 2, 0)  # not numpy's det, which divides by zero where three corners lie in line
    parts = sum((first * np.cross(*pair)).sum(axis=-1) for pair in pairwise(others)).sum(axis=1) / 6
    assert (parts > 0).all()
    for number, name in enumerate(NAMES):
        assert parts[pieces.bodies == number].sum() == pytest.approx(box.boards[name].volume, rel=1e-9)


# Pulled apart


@given(box=boxes(3), share=APART)
@examples(30)
def test_boards_never_run_through_each_other_on_their_way_apart(box, share):
    apart = share * come_free(box)
    solids = [solid((box.boards[name].outlines.reshape(-1, 3) + step, box.boards[name].mesh()[1]))
              for name, step in steps_apart(box, apart).items()]
    for one, other in combinations(solids, 2):
        both = min((one ^ other).volume(), abs(one.volume() + other.volume() - (one + other).volume()))
        assert both < 1e-6 * box.height**3


@pytest.mark.parametrize("box", CASES.values(), ids=CASES)
def test_the_tail_boards_are_free_where_it_says_and_not_before(box):
    tails = [name for name in NAMES if box.carries(name) == "tails"]
    pins = np.concatenate([box.boards[name].blank[0].reshape(-1, 3) for name in NAMES if name not in tails])
    pins = np.concatenate([pins, *(box.boards[name].blank[1].reshape(-1, 3) for name in NAMES if name not in tails)])
    for more, free in ((-0.01, False), (0.01, True)):
        steps = steps_apart(box, come_free(box) + more)
        heights = [box.planes[f"{name} inner"].height_of(pins - steps[name]).min() for name in tails]
        assert (min(heights) >= 0) == free


def test_the_pin_boards_wait_until_the_tail_boards_are_free():
    free = come_free(LOCKER)
    for apart, expected in ((0.0, (0, 0)), (free / 2, (free / 2, 0)), (free + 30, (free + 30, 30))):
        steps = steps_apart(LOCKER, apart)
        for name, out in OUTWARDS.items():
            np.testing.assert_allclose(steps[name], expected[name in ("front", "back")] * np.array(out), atol=1e-9)


# A bottom that is slid in under the back

SLID = {"drawer": Box(420, 360, 110, **leaning(5, 0, 15, 15), front_thickness=15, back_thickness=9,
                      bottom=Bottom(kind="slid in")),
        "mixed": Box(400, 330, 120, **leaning(-8, 12, 9, -14),
                     bottom=Bottom(8, 9, kind="slid in", wood="cherry, black", damper=1)),
        "half pin left": Box(380, 300, 100, **leaning(6, 3, 10, 4), joint=JointSettings(tails=2, half_pin=18),
                             bottom=Bottom(5, 8, kind="slid in")),
        "two pins gone": Box(380, 300, 90, **leaning(6, 0, 10, 4), joint=JointSettings(tails=6, half_pin=4, pin_width=4),
                             bottom=Bottom(9, 13, kind="slid in"))}


def solids_apart(box, apart):
    """Name -> manifold3d body of each board as it should stand, and of the bottom as it is drawn."""
    panel, steps = bottom_panel(box), {}
    level = panel.up + panel.thickness
    for name, (vertices, triangles, step) in meshes_apart(box, apart).items():
        body = solid((vertices - step, triangles))
        steps[name] = (body.trim_by_plane((0, 0, 1), level) if name == "back" else body).translate(tuple(step))
    plate = manifold3d.Manifold.hull_points(panel.vertices.reshape(-1, 3))
    for name in ("front", "right", "left"):  # without what lies in their grooves
        inside = box.planes[f"{name} inner"]
        plate = plate.trim_by_plane(tuple(inside.normal), inside.offset)
    return steps | {"bottom": plate}


class SlidRays(JointRays):
    """The boards, the back ripped, and the bottom between their inner faces, as triangles of manifold3d bodies."""

    def __init__(self, box, apart, view, way):
        panel = bottom_panel(box)
        bodies, steps = solids_apart(box, apart), {name: step for name, (*_, step) in meshes_apart(box, apart).items()}
        self.triangles, self.labels = [], []
        for name, body in bodies.items():
            mesh = body.to_mesh64()
            corners = np.asarray(mesh.vert_properties)[:, :3][np.asarray(mesh.tri_verts)]
            self.triangles.append(corners)
            kind = "tail" if name != "bottom" and box.carries(name) == "tails" else "pin"
            for face in corners:
                level = np.ptp(face[:, 2]) < 1e-6
                if name == "bottom":
                    self.labels.append("panel face" if level else "panel edge")
                elif name == "back" and level and abs(face[0, 2] - panel.up - panel.thickness) < 1e-6:
                    self.labels.append("pin bottom")
                else:
                    self.labels.append(f"{kind} {face_of(box, name, face - steps[name])}")
        self.look(view, way)

    def colours(self, pixels):
        hits = self.hits(pixels)
        fills = {f"{board} {face}": fill for board, faces in JOINT_FILLS.items() for face, fill in faces.items()}
        fills |= {"panel face": palette.END, "panel edge": palette.WASTE}
        colours = np.array([fills[label] for label in self.labels[hits.argmax(axis=1)]], dtype=object)
        colours[np.isneginf(hits.max(axis=1))] = ""
        return colours


@pytest.mark.parametrize("box", SLID.values(), ids=SLID)
@pytest.mark.parametrize("share", [0, 0.4, 1.4])
def test_the_lower_back_and_the_bottom_under_it_hide_what_they_should(box, share):
    canvas, view = stage()
    apart, compared, seen = share * come_free(box), 0, set()
    for number, turn in enumerate(range(-170, 180, 70)):
        tilt = (-15, 22, 50)[number % 3]
        view.update(box, turn, tilt, apart)
        rays = SlidRays(box, apart, view, way_to_viewer(turn, tilt))
        vertices = rays.seen.reshape(-1, 2)
        near = vertices[np.random.default_rng(number).integers(len(vertices), size=200)]
        pixels = np.concatenate([scatter(number, 200), near + np.random.default_rng(number).normal(0, 6, near.shape)])
        expected, certain = sure(rays.colours, pixels, 0.2)
        np.testing.assert_array_equal(on_top(canvas, pixels)[certain], expected[certain])
        compared += certain.sum()
        seen |= {*expected[certain]}
    assert compared > 1500 and {palette.END, palette.WASTE} <= seen


@pytest.mark.parametrize("box", SLID.values(), ids=SLID)
def test_the_pieces_of_a_ripped_back_and_of_the_bottom_make_them_up(box):
    pieces, bodies = BoxPieces.of(box), solids_apart(box, 0)
    assert pieces.level == pytest.approx(bottom_panel(box).up + bottom_panel(box).thickness)
    quads = np.where(pieces.hands[:, None, None, None] == 1, pieces.faces, pieces.faces[:, :, ::-1])
    first, *others = np.moveaxis(quads, 2, 0)
    parts = sum((first * np.cross(*pair)).sum(axis=-1) for pair in pairwise(others)).sum(axis=1) / 6
    assert (parts > 0).all()
    for number, name in enumerate((*NAMES, "bottom")):
        own = pieces.numbers["bottom"] if name == "bottom" else number
        assert parts[pieces.bodies == own].sum() == pytest.approx(bodies[name].volume(), rel=1e-9), name


@pytest.mark.parametrize("box", SLID.values(), ids=SLID)
def test_the_picked_line_begins_where_wood_does(box):
    """Just above the line's bottom there is wood of the side or of the back on it; just below, none, or the bench."""
    bodies, pieces = solids_apart(box, 0), BoxPieces.of(box)
    for at in ("back left", "back right"):
        corner, low = box.corners[at], pieces.lowered(at)
        line = corner.corner.vector("corner_line")
        inwards = -np.sum([box.planes[f"{name} outer"].normal for name in (corner.tail, corner.pin)], axis=0)
        found = []
        for height in (low + 0.3, low - 0.3):
            point = corner.place(line / line[2] * height) + 1e-3 * inwards
            speck = manifold3d.Manifold.cube((2e-4,) * 3, True).translate(tuple(point))
            found.append(any((speck ^ bodies[name]).volume() > 0 for name in (corner.tail, "back")))
        assert found == [True, False] and low > 0


def test_a_captured_bottom_and_one_that_cannot_be_made_leave_the_box_as_it_is():
    for bottom in (Bottom(), Bottom(kind="slid in", wood="oak, red", damper=8)):
        pieces = BoxPieces.of(Box(400, 380, 110, bottom=bottom))
        assert pieces.level is None and pieces.bodies.max() == 3 and pieces.lowered("back left") == 0.0


# Names and the picked corner


# square ends so proud of a thick box that they stand before the front's name
@example(box=Box(80, 80, 88, front_lean=37, left_lean=45, right_lean=-18, thickness=30,
                 joint=JointSettings(tails=1, tail_slope=3.0, end="square")), share=0.0, turn=0.0, tilt=38.0)
@given(box=boxes(), share=APART, **VIEWS)
@examples(25)
def test_names_stand_on_their_boards_outer_faces(box, share, turn, tilt):
    canvas, view = stage()
    apart = share * come_free(box)
    view.update(box, turn, tilt, apart)
    way = way_to_viewer(turn, tilt)
    rays = Rays(box, apart, view, way)
    for text, (left, bottom, right, top) in texts(canvas):
        name = text.get_text()
        assert box.planes[f"{name} outer"].normal @ way > 0
        hits = rays.hits(np.array([(x, y) for x in (left, right) for y in (bottom, top)]))
        step = steps_apart(box, apart)[name]
        for corner in rays.triangles[hits.argmax(axis=1)]:
            assert abs(box.planes[f"{name} outer"].height_of(corner - step)).max() < 1e-6


@pytest.mark.parametrize(("turn", "shown"), [(0, {"front"}), (-30, {"front", "left"}), (30, {"front", "right"}),
                                             (150, {"right", "back"}), (-120, {"back", "left"})])
def test_a_negative_turn_shows_the_left_board_too(turn, shown):
    canvas, view = stage()
    view.update(Box(420, 360, 110, thickness=12), turn, 22)
    assert {text.get_text() for text, _ in texts(canvas)} == shown


@pytest.mark.parametrize("apart", [0, 60])
@pytest.mark.parametrize("box", CASES.values(), ids=CASES)
@pytest.mark.parametrize("turn", [-30, 100])
def test_the_picked_corner_is_marked_at_its_line(box, turn, apart):
    canvas, view = stage()
    way = way_to_viewer(turn, 22)
    for picked, corner in box.corners.items():
        view.update(box, turn, 22, apart, picked)
        marked = [each for each in collections(canvas, LineCollection) if each.get_linewidths()[0] == HEAVY]
        (line,) = (path.vertices for each in marked for path in each.get_paths())
        steps = steps_apart(box, apart)
        seen = {name for name in (corner.tail, corner.pin) if box.planes[f"{name} outer"].normal @ way > 0}
        foot, head = corner.place(np.outer((0, 1), corner.corner.vector("corner_line")) * box.height
                                  / corner.corner.vector("corner_line")[2])
        on = [name for name in seen or (corner.tail, corner.pin)
              if np.allclose(line[0], view.place(foot + steps[name]))
              and (box.rims == "square" or np.allclose(line[1], view.place(head + steps[name])))]
        assert on
        (ring,) = (path.vertices for each in collections(canvas, LineCollection) for path in each.get_paths()
                   if len(path.vertices) > 10)
        np.testing.assert_allclose(np.hypot(*(ring - line[1]).T), RADIUS)
        dashed = marked[0].get_linestyle()[0][1] is not None
        assert dashed == (not seen)
    view.update(box, turn, 22, apart)
    assert not collections(canvas, LineCollection)


# The whole picture


def pictures():
    """(box, how to show it) all round, close and wide, each corner in turn."""
    corners = list(LOCKER.corners)
    for number, (box, (turn, tilt), share) in enumerate(product(
            [*CASES.values(), Box(80, 90, 60, thickness=6), Box(900, 300, 80, **leaning(20, 0, 5, 5), thickness=20)],
            [(-180, 10), (-95, 90), (-45, -20), (0, 0), (30, 25), (120, 60)], (0, 1.2, 3))):
        yield box, {"turn": turn, "tilt": tilt, "apart": share * come_free(box), "picked": corners[number % 4],
                    "unit": ("mm", "in")[number % 2]}


@cache
def picture_stage():
    return BoxPicture()


def test_everything_stays_in_its_frame_and_no_words_overlap():
    picture, count = picture_stage(), None
    canvas = picture.canvas
    for box, how in pictures():
        picture.update(box, **how)
        count = count or canvas.artist_count()
        assert canvas.artist_count() == count
        assert_within(reach_of(canvas), (0, 0, canvas.width, canvas.height))
        shown = texts(canvas)
        for (one, area), (other, other_area) in combinations(shown, 2):
            assert not overlap(area, other_area), f"{one.get_text()!r} overlaps {other.get_text()!r}"
        drawn = [path.vertices for each in collections(canvas, PolyCollection) for path in each.get_paths()]
        drawn += [path.vertices for each in collections(canvas, LineCollection) for path in each.get_paths()]
        left, bottom, right, top = picture.view.frame
        frames = [(left, bottom, right, top), *(frame for flat in picture.flats for frame in flat.frames.values())]
        for shape in drawn:
            inside = [(shape >= frame[:2] - np.array(1e-6)).all() and (shape <= frame[2:] + np.array(1e-6)).all()
                      for frame in map(np.array, frames)]
            assert any(inside) or shape[:, 1].max() <= 16  # or of the key
        for text, area in shown:
            if text.get_text() in NAMES:
                assert_within(area, picture.view.frame)
            else:
                assert not any(overlap(area, frame) for frame in frames), text.get_text()


@pytest.mark.parametrize(("turn", "dotted"), [(-30, False), (150, True)])
def test_a_line_seen_through_the_wood_is_said_to_be_dotted(turn, dotted):
    picture = picture_stage()
    picture.update(MIXED, turn, picked="front left")
    assert ("dotted: its line seen through the wood" in {text.get_text() for text, _ in texts(picture.canvas)}) == dotted


def test_the_flat_boards_are_those_of_the_picked_corner_and_on_its_hand():
    picture = picture_stage()
    for picked, corner in MIXED.corners.items():
        picture.update(MIXED, picked=picked)
        shown = {text.get_text(): area for text, area in texts(picture.canvas)}
        assert f"Picked: {picked} corner" in shown
        for flat in picture.flats:
            name = getattr(corner, flat.board)
            end = "left" if END_CORNERS[name][0] == picked else "right"
            title = shown[f"{name.capitalize()} board, {end} end"]
            (outer,) = (area for text, area in texts(picture.canvas) if text.get_text() == "outer face"
                        and 0 < title[1] - area[1] < 182)
            middle = (flat.frames["end"][0] + flat.frames["end"][2]) / 2
            # seen from outside, the wood of a board's right end lies to the left of it
            assert (outer[2] < middle) == (end == "right")
            drawn = outer_lines(picture, flat, outer)
            board = MIXED.boards[name]
            end_line = board.in_board(board.end_lines[0, ("left", "right").index(end)])[:, :2]
            slope = np.diff(end_line, axis=0)[0]
            runs = [np.diff(line, axis=0)[0] for line in drawn]
            assert any(run[1] and np.allclose(run / run[1], slope / slope[1]) for run in runs)


def outer_lines(picture, flat, caption):
    """Lines drawn in the column over a caption."""
    (frame,) = (frame for frame in flat.frames.values() if frame[0] <= (caption[0] + caption[2]) / 2 <= frame[2])
    return [path.vertices for each in collections(picture.canvas, LineCollection) for path in each.get_paths()
            if len(path.vertices) == 2 and (path.vertices >= frame[:2]).all() and (path.vertices <= frame[2:]).all()]


def test_the_letters_are_those_of_the_corners_words():
    picture = picture_stage()
    for picked, corner in MIXED.corners.items():
        picture.update(MIXED, picked=picked)
        shown = [text.get_text() for text, _ in texts(picture.canvas)]
        for (_, surface, kind), setting in letters_of(corner.joint).items():
            if surface in ("outer", "inner"):
                assert {"end line": "end line: ", "cheek": "cheeks: "}[kind] + setting in shown


def test_a_corner_that_no_box_has_is_refused():
    with pytest.raises(ValueError, match=r"^A box has the corners front left, .*, and not 'top left'\.$"):
        picture_stage().update(LOCKER, picked="top left")


def test_the_picture_keeps_to_the_palette():
    picture = picture_stage()
    picture.update(MIXED, -40, 30, 60, "back left")
    with Image.open(BytesIO(picture.png())) as image:
        assert image.mode == "P" and image.size == (picture.WIDTH, picture.HEIGHT)
    fills = {to_hex(colour) for each in collections(picture.canvas, PolyCollection) for colour in each.get_facecolors()
             if colour[3]}
    assert fills <= {*palette.FILLS, *(fill for faces in JOINT_FILLS.values() for fill in faces.values())}
    for fill in fills:
        assert palette.palette()[palette.lookup()[(palette.rgb(fill) >> 3) @ (1024, 32, 1)]].tolist() == list(
            palette.rgb(fill))
    inks = {to_hex(colour) for each in collections(picture.canvas, LineCollection) for colour in each.get_edgecolors()}
    assert inks <= set(palette.INKS)
