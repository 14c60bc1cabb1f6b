"""The two stubs of a corner as solids, against solids cut from half-spaces, and the planes they are made of."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from plane_route import Route
from scipy.spatial import ConvexHull, HalfspaceIntersection
from splaywork import Corner
from splaywork.common.planes import Plane, meet
from splaywork.corner.stubs import FACES, face_planes, flat_face, rims, stubs

BOARDS = ("tail", "pin")
HEIGHT, THICKNESS, LENGTH = 90.0, 12.0, 150.0

corners = st.builds(Corner, st.floats(-60, 60), st.floats(-60, 60), st.one_of(st.just(90.0), st.floats(40, 140)))
sizes = st.tuples(st.floats(20, 300), st.floats(3, 40), st.floats(40, 400))


def face_normals(block):
    """Unit normals of the six faces, by the right-hand rule from two diagonals: shape (6, 3)."""
    normals = np.cross(block.faces[:, 2] - block.faces[:, 0], block.faces[:, 3] - block.faces[:, 1])
    return normals / np.linalg.norm(normals, axis=1, keepdims=True)


def volume_from_faces(block):
    """Each face fanned into triangles, each triangle a pyramid to the origin, with its sign."""
    return sum(face[0] @ np.cross(face[i], face[i + 1]) / 6 for face in block.faces for i in (1, 2))


def half_spaces(corner, board, height, thickness, far, seam):
    """Rows (n, −offset) of the planes round one board, from the independent route: what lies inside them is wood."""
    route = Route(corner.tail_lean, corner.pin_lean, corner.plan_angle)
    normal, level = (np.array([float(x) for x in direction])
                     for direction in (getattr(route, board).normal, getattr(route, board).level))
    side = 1 if board == "tail" else -1
    return np.array([[*normal, 0], [*-normal, -thickness], [*level, -far], [0, 0, -1, 0], [0, 0, 1, -height],
                     [*side * seam.normal, -side * seam.offset]])


@given(corners, sizes)
def test_faces_are_flat_and_look_outward(corner, size):
    pair = stubs(corner, *size)
    for block in (pair.tail, pair.pin):
        assert block.vertices.shape == (8, 3)
        assert sorted(block.names) == sorted(FACES)
        for face, normal in zip(block.faces, face_normals(block), strict=True):
            np.testing.assert_allclose((face - face[0]) @ normal, 0, atol=1e-9 * max(size))
            # A board is convex: all its wood lies behind each of its faces.
            assert ((block.vertices - face[0]) @ normal).max() < 1e-9 * max(size)


@given(corners, sizes)
def test_each_face_bears_its_name(corner, size):
    pair = stubs(corner, *size)
    for board in BOARDS:
        block = getattr(pair, board)
        normals = dict(zip(block.names, face_normals(block), strict=True))
        expected = {"outer": corner.vector(f"{board}_normal"), "inner": -corner.vector(f"{board}_normal"),
                    "bottom": [0, 0, -1], "top": [0, 0, 1], "far end": corner.vector(f"{board}_level"),
                    "corner": pair.seam.normal if board == "tail" else -pair.seam.normal}
        for name, normal in expected.items():
            np.testing.assert_allclose(normals[name], normal, atol=1e-9, err_msg=f"{board} {name}")


@given(corners, sizes)
def test_boards_touch_in_the_seam_and_nowhere_else(corner, size):
    pair = stubs(corner, *size)
    slack = 1e-9 * max(size)
    ends = {}
    for board, side in (("tail", -1), ("pin", 1)):
        block = getattr(pair, board)
        height = side * pair.seam.height_of(block.vertices)
        assert height.min() > -slack
        assert (height < slack).sum() == 4
        ends[board] = block.faces[block.names.index("corner")]
    distance = np.linalg.norm(ends["tail"][:, None] - ends["pin"][None], axis=-1)
    assert (distance.min(axis=0) < slack).all()  # one end lies on the other, corner for corner
    assert (distance.min(axis=1) < slack).all()


@given(corners, sizes)
def test_volume_is_that_of_the_half_spaces(corner, size):
    height, thickness, _ = size
    pair = stubs(corner, *size)
    for board in BOARDS:
        block = getattr(pair, board)
        far = (block.vertices @ corner.vector(f"{board}_level")).max()
        planes = half_spaces(corner, board, height, thickness, far, pair.seam)
        solid = ConvexHull(HalfspaceIntersection(planes, block.vertices.mean(axis=0)).intersections)
        assert volume_from_faces(block) == pytest.approx(solid.volume, rel=1e-8)


def test_volume_of_an_upright_pair():
    pair = stubs(Corner(0, 0), HEIGHT, THICKNESS, LENGTH)
    mitred = (LENGTH + THICKNESS / 2) * THICKNESS * HEIGHT
    assert volume_from_faces(pair.tail) == pytest.approx(mitred, rel=1e-12)
    assert volume_from_faces(pair.pin) == pytest.approx(mitred, rel=1e-12)


@given(corners, sizes)
def test_outer_ends_lie_on_the_corner_line(corner, size):
    height = size[0]
    pair = stubs(corner, *size)
    line = [float(x) for x in Route(corner.tail_lean, corner.pin_lean, corner.plan_angle).vector("corner_line")]
    np.testing.assert_allclose(pair.corner_line, [np.zeros(3), height * np.array(line)], atol=1e-9 * height)
    for block in (pair.tail, pair.pin):
        outer = block.faces[block.names.index("outer")]
        for point in pair.corner_line:
            assert np.linalg.norm(outer - point, axis=1).min() < 1e-9 * height


@given(corners, sizes)
def test_each_board_shows_its_length(corner, size):
    height, thickness, length = size
    pair = stubs(corner, *size)
    for board in BOARDS:
        block, along = getattr(pair, board), corner.vector(f"{board}_level")
        position = block.vertices @ along
        ends = block.faces[block.names.index("corner")] @ along
        assert position.max() - ends.max() == pytest.approx(length, rel=1e-9)
        assert np.ptp(block.vertices[:, 2]) == pytest.approx(height, rel=1e-12)
        outer, inner = face_planes(corner, board, thickness)
        assert outer.offset == 0
        for plane, opposite in ((outer, "inner"), (inner, "outer")):
            depth = -plane.height_of(block.faces[block.names.index(opposite)])
            np.testing.assert_allclose(depth, thickness, atol=1e-9 * max(size))


@given(corners, sizes)
def test_flat_face_is_the_outer_face_laid_down(corner, size):
    pair = stubs(corner, *size)
    foot, head = pair.corner_line
    for board in BOARDS:
        block = getattr(pair, board)
        outer = block.faces[block.names.index("outer")]
        far = outer[np.argsort(outer @ corner.vector(f"{board}_level"))[-2:]]
        far_bottom, far_top = far[np.argsort(far[:, 2])]
        solid = np.array([foot, far_bottom, far_top, head])
        flat = flat_face(corner, board, size[0], np.linalg.norm(far_bottom - foot))
        assert flat.shape == (4, 2)
        for i in range(4):  # every edge and both diagonals
            for j in range(i):
                assert np.linalg.norm(flat[i] - flat[j]) == pytest.approx(np.linalg.norm(solid[i] - solid[j]), rel=1e-9)


def test_flat_face_runs_back_past_the_corner_where_the_board_is_longer_at_the_top():
    assert flat_face(Corner(0, 20), "tail", 100, 200)[3][0] == pytest.approx(-100 * np.tan(np.radians(20)))
    assert flat_face(Corner(0, -20), "tail", 100, 200)[3][0] > 0


@pytest.mark.parametrize(("name", "size"), [("height", (0, 12, 150)), ("height", (-90, 12, 150)),
                                            ("thickness", (90, 0, 150)), ("thickness", (90, -12, 150)),
                                            ("thickness", (90, float("nan"), 150)), ("length", (90, 12, 0))])
def test_stubs_refuse_a_board_without_size(name, size):
    with pytest.raises(ValueError, match=f"The {name} is .*mm"):
        stubs(Corner(10, 10), *size)


# --- planes -------------------------------------------------------------------------------------------------------


def test_planes_move_turn_and_measure():
    plane = Plane.through([1, 2, 3], [0, 0, 2])
    np.testing.assert_array_equal(plane.normal, [0, 0, 1])
    assert plane.offset == 3
    assert plane.moved(2).height_of([[0, 0, 5], [7, 8, 4]]) == pytest.approx([0, -1])
    assert plane.turned().height_of([0, 0, 5]) == -2
    assert plane.moved(-3).turned().height_of([0, 0, 5]) == -5


@given(corners, st.floats(-500, 500))
def test_meeting_point_lies_in_all_three(corner, height):
    planes = (Plane(corner.vector("tail_normal"), 3.0), Plane(corner.vector("pin_normal"), -2.0), rims(height)[1])
    point = meet(*planes)
    assert point.shape == (3,)
    assert [plane.height_of(point) for plane in planes] == pytest.approx([0, 0, 0], abs=1e-9)


def test_parallel_planes_do_not_meet():
    outer, inner = face_planes(Corner(10, 20), "tail", 12)
    with pytest.raises(ValueError, match="no single point"):
        meet(outer, inner, rims(90)[0])


@given(corners)
def test_three_planes_through_one_line_do_not_meet(corner):
    """Both outer faces and the seam share the whole corner line; rounding must not make up a point on it."""
    pair = stubs(corner, HEIGHT, THICKNESS, LENGTH)
    with pytest.raises(ValueError, match="no single point"):
        meet(face_planes(corner, "tail", 12)[0], face_planes(corner, "pin", 12)[0], pair.seam)
