"""The whole box: four boards that fill their places and no more, and boxes of n like boards.

Independent routes: boxes worked by hand, half-spaces from scipy rotations, and solids joined by manifold3d. Published
values are named beside their checks.
"""

from itertools import combinations

import manifold3d
import numpy as np
import pytest
from boxes import LOCKER, boxes, faces_of, filled, leaning, leans, outward_faces
from cases import examples
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.spatial import ConvexHull, HalfspaceIntersection
from scipy.spatial.transform import Rotation
from splaywork.box.box import END_CORNERS, MEASURED, NAMES, Allowances, Box, JointSettings, neighbours
from splaywork.box.opening import Clearances, Opening
from splaywork.box.regular import RegularBox
from splaywork.corner.corner import Corner
from wood import overlap, solid

# --- by hand -----------------------------------------------------------------------------------------------------


def test_an_upright_box_by_hand():
    # 300 × 200 outside, 102 high, 12 thick, sides with 3 tails: each side board is the whole 200 long, the front goes
    # between its outer faces, 300 long. Inside 276 × 176 × 102 = 4 954 752. All the wood: 300 · 200 · 102 less that.
    box = Box(300, 200, 102, thickness=12, joint=JointSettings(tails=3, pin_width=6, half_pin=6))
    assert box.inside_volume == pytest.approx(4954752)
    assert sum(board.volume for board in box.boards.values()) == pytest.approx(6120000 - 4954752)
    # One end's tails hold 10368 mm³ (test_joint's ordinary dovetail); between the shoulders a side is 176 long.
    assert box.boards["left"].volume == pytest.approx(176 * 102 * 12 + 2 * 10368)
    assert box.boards["front"].volume == pytest.approx(300 * 102 * 12 - 2 * 10368)


def test_a_leaning_box_by_hand():
    # Leans with tangents 1/4 (left, front), 0 (right, back); cosine of the first 4/√17. 100 high, 400 × 300 at the
    # bottom outside. At the top 425 × 325. Level thickness of a 12 mm leaning board: 12 · √17/4 = 12.3693, of an
    # upright one 12. Inside at the bottom 375.6307 × 275.6307, at the top 400.6307 × 300.6307; the volume by Simpson's
    # rule, exact for a quadratic, with 388.1307 × 288.1307 halfway up:
    # 100/6 · (103535.34 + 4 · 111832.35 + 120441.87) = 11 188 443 mm³.
    quarter = float(np.degrees(np.arctan(0.25)))
    box = Box(400, 300, 100, front_lean=quarter, left_lean=quarter, thickness=12)
    assert box.outer_length("front", 100) == pytest.approx(425)
    assert box.outer_length("left", 100) == pytest.approx(325)
    assert box.inside_length("back", 0) == pytest.approx(375.6307, abs=1e-4)
    assert box.inside_length("right", 100) == pytest.approx(300.6307, abs=1e-4)
    low, middle, high = ((375.6307 + rise) * (275.6307 + rise) for rise in (0, 12.5, 25))
    assert box.inside_volume == pytest.approx(100 / 6 * (low + 4 * middle + high), rel=1e-6)
    assert box.slant_width("front") == pytest.approx(100 * 17**0.5 / 4)
    # tan 1/4 · cos of the board's own lean
    front_left = box.corners["front left"].corner
    assert np.tan(np.radians(front_left.tail_end_line)) == pytest.approx(0.25 * 4 / 17**0.5)
    assert box.corners["front right"].corner.pin_end_line == pytest.approx(0)
    assert box.corners["back right"].corner.dihedral == pytest.approx(90)


# --- all four boards together ------------------------------------------------------------------------------------


@examples(25)
@given(boxes())
def test_four_boards_have_no_overlap(box):
    bodies = [solid(board.mesh()) for board in box.boards.values()]
    small = 1e-6 * min(body.volume() for body in bodies)
    for first, second in combinations(bodies, 2):
        assert overlap(first, second) < small


@examples(25)
@given(boxes(end="flush", rims="level"))
def test_four_boards_fill_the_walls_and_leave_the_inside(box):
    nothing = dict.fromkeys(NAMES, 0)
    outside = filled(faces_of(box, nothing))
    inside = filled(faces_of(box, {name: box.thickness_of(name) for name in NAMES}))
    walls = outside - inside
    bodies = [solid(board.mesh()) for board in box.boards.values()]
    wood = bodies[0] + bodies[1] + bodies[2] + bodies[3]
    assert sum(body.volume() for body in bodies) == pytest.approx(walls.volume(), rel=1e-9)
    assert min((walls - wood).volume() + (wood - walls).volume(),
               abs(walls.volume() + wood.volume() - 2 * (walls ^ wood).volume())) < 1e-6 * walls.volume()
    assert box.inside_volume == pytest.approx(inside.volume(), rel=1e-9)


@examples(25)
@given(boxes())
def test_inside_volume_is_that_of_the_half_spaces_inside(box):
    middle = [box.outer_length("front") / 2, box.outer_length("right") / 2]
    assume(min(box.inside_length(name, height) for name in NAMES for height in (0, box.height)) > 1)
    half_spaces = faces_of(box, {name: box.thickness_of(name) for name in NAMES})
    point = np.array([*middle, box.height / 2])
    assume((half_spaces[:, :3] @ point + half_spaces[:, 3] < 0).all())
    hull = ConvexHull(HalfspaceIntersection(half_spaces, point).intersections)
    assert box.inside_volume == pytest.approx(hull.volume, rel=1e-9)


@examples(25)
@given(boxes(rims="level"))
def test_level_rims_lie_in_one_plane(box):
    for board in box.boards.values():
        for name, height in (("bottom", 0), ("top", box.height)):
            assert dict(board.faces)[name][:, 2] == pytest.approx(height, abs=1e-9)


@examples(25)
@given(boxes())
def test_each_board_is_whole_and_stands_in_its_place(box):
    for name, board in box.boards.items():
        body = solid(board.mesh())
        assert board.volume == pytest.approx(body.volume(), rel=1e-9)
        vertices, triangles = board.mesh()
        outer = board.in_board(vertices)[triangles[: len(board.sides) - 2]]
        assert outer[..., 2] == pytest.approx(0, abs=1e-9)
        first, second = outer[:, 1, :2] - outer[:, 0, :2], outer[:, 2, :2] - outer[:, 0, :2]
        assert (first[:, 0] * second[:, 1] - first[:, 1] * second[:, 0] > 0).all()  # no triangle is folded over
        inner = board.in_board(board.outlines[1])
        assert inner[:, 2] == pytest.approx(-box.thickness_of(name), abs=1e-9)
        assert np.linalg.det(board.axes) == pytest.approx(1)
        lean = np.degrees(np.arcsin(board.axes[1] @ [*{"front": (0, -1), "right": (1, 0), "back": (0, 1),
                                                       "left": (-1, 0)}[name], 0]))
        assert lean == pytest.approx(box.lean(name), abs=1e-6)
        # the end lines on the outer face, from the feet at (0, 0) and the bottom length: the corner's closed form
        (left_foot, left_head), (right_foot, right_head) = board.in_board(board.end_lines[0])[..., :2]
        assert left_foot == pytest.approx([0, 0], abs=1e-9)
        kind = box.carries(name)[:-1]
        for at, run, rise in ((END_CORNERS[name][0], *(left_foot - left_head) * [1, -1]),
                              (END_CORNERS[name][1], *(right_head - right_foot))):
            line = np.degrees(np.arctan2(run, rise))
            assert line == pytest.approx(box.corners[at].corner.end_line(kind), abs=1e-6)


@examples(15)
@given(boxes())
def test_a_corner_s_joint_and_the_box_s_boards_are_the_same_wood(box):
    for at, corner in box.corners.items():
        assert corner.mirrored == (END_CORNERS[corner.tail][1] == at)
        for kind, cut in (("tail", corner.joint.tail_board), ("pin", corner.joint.pin_board)):
            name = getattr(corner, kind)
            ours = corner.place(cut.outlines).reshape(-1, 3)
            board = box.boards[name].outlines.reshape(-1, 3)
            found = np.linalg.norm(ours[:, None] - board[None], axis=-1).min(axis=1) < 1e-7
            assert found.sum() >= 2 * 4 * corner.joint.tails  # every corner of the joint but those at the stub's far end


@examples(15)
@given(boxes())
def test_the_other_hand_is_the_mirror_image(box):
    other = box.mirrored()
    assert other.mirrored() == box
    assert other.inside_volume == pytest.approx(box.inside_volume, rel=1e-9)
    swap = {"left": "right", "right": "left"}
    for name, board in box.boards.items():
        points = board.outlines.reshape(-1, 3) * [-1, 1, 1] + [box.outer_length("front"), 0, 0]
        mirror = other.boards[swap.get(name, name)].outlines.reshape(-1, 3)
        assert np.linalg.norm(points[:, None] - mirror[None], axis=-1).min(axis=1).max() < 1e-7


@pytest.mark.parametrize("measured", MEASURED)
def test_each_way_of_measuring_is_found_again_on_the_wood(measured):
    box = Box(400, 300, 90, **leaning(8, -5, 12, 3), thickness=10, back_thickness=14, measured=measured)
    rim = int(measured == "outside at the top")
    for name, size in (("front", 400), ("back", 400), ("left", 300), ("right", 300)):
        board = box.boards[name]
        marks = board.baselines[1] if "inside" in measured else board.end_lines[0]
        along = board.in_board(marks[:, rim])[:, 0]
        assert along[1] - along[0] == pytest.approx(size)


def test_only_the_boards_named_are_of_another_thickness():
    assert [LOCKER.thickness_of(name) for name in NAMES] == [12, 12, 9, 12]
    assert [neighbours(name) for name in ("front", "left")] == [("left", "right"), ("back", "front")]


# --- the drawer for an opening -----------------------------------------------------------------------------------


def test_a_drawer_for_a_leaning_opening_by_hand():
    # Sides with tangents 3/4 (cosine 4/5) and 0, moved in by 2 and 1: level 2.5 and 1. On a floor 400 wide, the drawer
    # standing 4 above it: 400 + 4 · 3/4 − 2.5 − 1 = 399.5 wide. 120 high less 4 and 6: 110.
    lean = float(np.degrees(np.arctan(0.75)))
    fit = Box.for_opening(400, 300, 120, left_lean=lean, thickness=10,
                          clearances=Clearances(left=2, right=1, floor=4, top=6, back=5))
    assert (fit.box.width, fit.box.depth, fit.box.height) == pytest.approx((399.5, 295, 110))
    assert fit.at == pytest.approx([2.5 - 3, 0, 4])
    assert fit.gaps == pytest.approx({"left": 2, "right": 1, "floor": 4, "top": 6, "front": 0, "back": 5}, abs=1e-9)
    assert fit.gaps_at_front == pytest.approx({"left": 2.5, "right": 1, "floor": 4, "top": 6})
    assert fit.slides_in_level
    assert fit.words() == ("The drawer slides in level from the front. Measured level beside the drawer's front, the "
                           "gaps are 2.5 mm at the left and 1.00 mm at the right. Beside a leaning wall the level gap is wider "
                           "than the clearance, which is measured square to the wall. The gaps measured plumb are 4.0 mm at "
                           "the floor and 6.0 mm at the top. The gap at the back, square to the wall, is 5.0 mm.")
    assert "0.098 in at the left" in fit.words("in") and fit.words("in").endswith("is 0.197 in.")


clearances = st.builds(Clearances, *[st.floats(0.5, 5)] * 6)


@examples(25)
@given(leans, leans, leans, leans, clearances)
def test_every_face_is_moved_in_square_to_itself(left, right, front, back, room):
    fit = Box.for_opening(400, 300, 110, **leaning(front, back, left, right), clearances=room, thickness=10)
    for name, gap in fit.gaps.items():
        assert gap == pytest.approx(getattr(room, name), abs=1e-8)
    assert fit.slides_in_level
    leans = {"front": front, "right": right, "back": back, "left": left}
    opening = outward_faces((400, 300), leans, dict.fromkeys(NAMES, 0), 110)
    assert np.array([[*fit.opening.faces[name].normal, -fit.opening.faces[name].offset]
                     for name in (*NAMES, "floor", "top")]) == pytest.approx(opening, abs=1e-9)


def test_a_drawer_that_cannot_slide_in_says_so():
    # An edge left square to a side that leans 20 out lifts its inner arris by 12 · sin 20 = 4.1, more than the 2 above.
    square = Box.for_opening(400, 300, 120, left_lean=20, rims="square", thickness=12)
    assert square.gaps["top"] == pytest.approx(2 - 12 * np.sin(np.radians(20)))
    assert not square.slides_in_level
    assert square.words().startswith("The drawer does not slide in level: there is no room at the top. Measured")
    assert not Box.for_opening(400, 300, 120, left_lean=20, clearances=Clearances(left=0)).slides_in_level


@pytest.mark.parametrize(("setting", "value"), [("measured", "outside at the top"), ("measured", "inside at the bottom"),
                                               ("width", 300), ("depth", 200), ("height", 90), ("front_lean", 3)])
def test_what_the_opening_settles_is_not_taken_again(setting, value):
    # "outside at the top" made a drawer 51 mm narrower than its opening, and said that it slides in
    with pytest.raises(ValueError, match=f"^The opening settles the drawer's {setting}: leave {setting} out"):
        Opening(400, 300, 100, left_lean=20, right_lean=20).fit(Clearances(), **{setting: value})
    with pytest.raises(TypeError):
        Box(400, 300, 100, 8)
    with pytest.raises(TypeError):
        Box.for_opening(400, 300, 100, 20)


def test_boxes_and_what_they_hold_are_compared_by_value():
    other = Box(420, 360, 110, front_lean=6, left_lean=14, thickness=12, back_thickness=9)
    assert other.corners == LOCKER.corners and other.boards == LOCKER.boards and len({*other.corners.values()}) == 4
    wider = Box(421, 360, 110, front_lean=6, left_lean=14, thickness=12, back_thickness=9)
    assert wider.corners["front left"] == LOCKER.corners["front left"]
    assert wider.corners["front right"] != LOCKER.corners["front right"] and wider.boards["front"] != LOCKER.boards["front"]
    fits = [Opening(400, 300, 100, left_lean=lean).fit(Clearances()) for lean in (5, 5, 6)]
    assert fits[0] == fits[1] != fits[2] and len({*fits}) == 2
    assert LOCKER.boards["front"] != "front"


def test_joint_settings_are_the_same_however_they_came():
    plain = JointSettings(tails=3, tail_slope=7.0, tail_spacing=(1.0, 1.0, 2.0), narrowest=3.0)
    assert JointSettings(np.int64(3), np.float64(7), tail_spacing=[1, np.int64(1), 2], narrowest=3) == plain
    assert type(JointSettings(np.int64(3)).tails) is int and {plain: 1}[plain] == 1


# --- regular boxes -----------------------------------------------------------------------------------------------


regular = st.builds(RegularBox, st.integers(3, 12), st.floats(200, 300), st.floats(40, 90), lean=st.floats(-25, 35),
                    thickness=st.floats(5, 12))


@examples(25)
@given(regular)
def test_like_boards_close_without_overlap_round_their_inside(box):
    bodies = [manifold3d.Manifold.hull_points(block.vertices) for block in box.boards]
    assert len(bodies) == box.sides
    for number, body in enumerate(bodies):
        assert overlap(body, bodies[number - 1]) < 1e-6 * body.volume()
    outer, inner = (manifold3d.Manifold.hull_points(np.concatenate([block.vertices[part] for block in box.boards]))
                    for part in (slice(0, 4), slice(4, 8)))
    assert inner.volume() == pytest.approx(box.inside_volume, rel=1e-9)
    assert sum(body.volume() for body in bodies) == pytest.approx(outer.volume() - inner.volume(), rel=1e-9)


@examples(25)
@given(regular)
def test_a_regular_board_is_as_thick_as_asked_and_cut_to_its_settings(box):
    block = box.boards[0]
    outer, inner = block.vertices.reshape(2, 4, 3)
    normal = Rotation.from_euler("X", box.lean, degrees=True).apply([0, -1, 0])
    assert (outer - outer[0]) @ normal == pytest.approx(0, abs=1e-9)
    assert (inner - outer[0]) @ normal == pytest.approx(-box.thickness, abs=1e-9)
    edge = outer[2] - outer[1]
    assert np.degrees(np.arctan2(edge[0], np.hypot(edge[1], edge[2]))) == pytest.approx(box.end_line, abs=1e-9)
    end = np.cross(edge, inner[1] - outer[1])
    end /= np.linalg.norm(end)
    assert np.degrees(np.arcsin(abs(end @ normal))) == pytest.approx(abs(box.mitre_bevel), abs=1e-6)
    # the blank holds it: longest along, widest up the face
    up = Rotation.from_euler("X", box.lean, degrees=True).apply([0, 0, 1])
    spare = box.allowances
    assert box.blank == pytest.approx((np.ptp(block.vertices[:, 0]) + 2 * spare.end,
                                       np.ptp(block.vertices @ up) + 2 * spare.edge, box.thickness + spare.thickness))


# Sources as in test_check_values: CRC Standard Mathematical Tables, polyhedra (P4 to P6 seen, P1 part seen); P3 Euclid,
# exact. A mitre halves the dihedral: 90 − dihedral/2.
@pytest.mark.parametrize(("sides", "sine", "way", "dihedral", "end_line"), [
    (3, 1 / 3**0.5, 1, 90, 45),  # P3, cube on a corner
    (3, 1 / 3, -1, 70.53, -30),  # P4, tetrahedron
    (4, 1 / 3**0.5, -1, 109.47, -30),  # P1, octahedron
    (5, 1 / 5**0.5, 1, 116.57, 18),  # P5, dodecahedron
    (5, ((5 + 2 * 5**0.5) / 15) ** 0.5, -1, 138.19, -30),  # P6, icosahedron
])
def test_polyhedra(sides, sine, way, dihedral, end_line):
    box = RegularBox(sides, 1000, 50, lean=way * float(np.degrees(np.arcsin(sine))), thickness=5)
    assert 2 * (90 - box.mitre_bevel) == pytest.approx(dihedral, abs=0.005)
    assert box.end_line == pytest.approx(end_line, abs=1e-9)


def test_an_upright_regular_box_by_hand():
    # Six boards 100 long: each mitred to 30. The inner edge: 100 − 2 · 12 · tan 30 = 86.1436. Inside, of a hexagon:
    # 3√3/2 · 86.1436² · 50 = 963 979 mm³.
    box = RegularBox(6, 100, 50, thickness=12)
    assert (box.plan_angle, box.mitre_bevel, box.end_line, box.rim_bevel) == pytest.approx((120, 30, 0, 0))
    assert box.inner_length() == pytest.approx(86.1436, abs=1e-4)
    assert box.inside_volume == pytest.approx(963979, abs=1)


# --- what can't be -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("change", "words"), [
    ({"width": 0}, "width must be a number of mm above 0"),
    ({"depth": float("nan")}, "depth must be"),
    ({"height": "tall"}, "height must be.*'tall'"),
    ({"back_thickness": -2}, "back thickness must be"),
    ({"front_lean": 90}, "front lean is 90°"),
    ({"left_lean": [1, 2]}, "left lean must be one number"),
    ({"right_lean": "steep"}, "right lean must be"),
    ({"tails_on": "left"}, "tails_on can be 'sides' or 'front and back', not 'left'"),
    ({"measured": "inside"}, "measured can be 'outside at the bottom', 'outside at the top' or"),
    ({"rims": None}, "rims can be"),
    ({"joint": {"tails": 3}}, r"joint must be a JointSettings"),
    ({"allowances": 10}, "allowances must be an Allowances"),
    ({"joint": JointSettings(tails=40)}, "front left corner, there is no room for 40 tails"),
    ({"left_lean": -70, "right_lean": -70}, "front board would have no length at its top"),
    ({"width": 250, "left_lean": 60, "right_lean": 60, "measured": "outside at the top"}, "no length at its bottom"),
    ({"width": 20}, "two ends of the front board would run into each other"),
])
def test_a_box_that_cannot_be_made_says_why_in_one_sentence(change, words):
    with pytest.raises(ValueError, match=words) as caught:
        Box(**{"width": 400, "depth": 300, "height": 100} | change)
    said = str(caught.value)
    assert said.endswith(".") and ". " not in said and "\n" not in said


@pytest.mark.parametrize(("make", "words"), [
    (lambda: Box("300", 200, 90), "width must be a number of mm above 0, not '300'"),
    (lambda: LOCKER.lean("top"), "name of a board can be 'front', 'right', 'back' or 'left', not 'top'"),
    (lambda: LOCKER.thickness_of(3), "name of a board can be"),
    (lambda: LOCKER.slant_width("lid"), "name of a board can be"),
    (lambda: LOCKER.carries(None), "name of a board can be"),
    (lambda: LOCKER.outer_length("lid"), "name of a board can be"),
    (lambda: LOCKER.outer_length("front", "top"), "height must be a number, not 'top'"),
    (lambda: LOCKER.inside_length("front", [1, 2]), "height must be one number"),
    (lambda: neighbours("lid"), "name of a board can be"),
    (lambda: JointSettings(tails="3"), "number of tails must be a whole number, from 1 to 500, not '3'"),
    (lambda: JointSettings(end="round"), "end can be 'flush' or 'square', not 'round'"),
    (lambda: JointSettings(narrowest=-1), "narrowest gap must be a number of mm, 0 or more, not −1"),
    (lambda: RegularBox(6, 100, 50).outer_length("top"), "height must be a number, not 'top'"),
    (lambda: RegularBox(2, 100, 50), "number of sides must be a whole number, from 3 to 12, not 2"),
    (lambda: RegularBox(4.5, 100, 50), "from 3 to 12, not 4.5"),
    (lambda: RegularBox(6, 100, 50, lean=-70), "leave no inside"),
    (lambda: RegularBox(6, 100, 0), "height must be"),
    (lambda: RegularBox(6, 100, 50, allowances=3), "allowances must be"),
    (lambda: Allowances(end=-1), "allowance for end must be a number of mm, 0 or more"),
    (lambda: Clearances(floor=None), "floor clearance must be"),
    (lambda: Opening(400, 300, -1), "opening's height must be"),
    (lambda: Opening(400, 300, 100, left_lean=95), "opening's left lean is 95°"),
    (lambda: Box.for_opening(400, 300, 5, clearances=Clearances(floor=3, top=3)), "leave nothing of an opening 5 mm high"),
    (lambda: Box.for_opening(4, 300, 100, clearances=Clearances(left=3, right=3)), "left and right clearances leave nothing"),
    (lambda: Box.for_opening(400, 300, 100, clearances=3), "clearances must be a Clearances"),
])
def test_other_impossible_input_says_why(make, words):
    with pytest.raises(ValueError, match=words):
        make()


def test_a_corner_of_the_box_is_the_corner_of_its_leans():
    for at, corner in LOCKER.corners.items():
        assert corner.corner == Corner(LOCKER.lean(corner.tail), LOCKER.lean(corner.pin))
        assert {corner.tail, corner.pin} == set(at.split())
