"""Planes: how far points lie from them, and where three of them meet."""

import numpy as np
import pytest
from splaywork.common.hexahedra import FACES, between
from splaywork.common.planes import Plane, cross, meet, meet_all
from splaywork.common.rotations import about_second, about_third, angle_of, turned

PARALLEL = r"^The three planes share no single point: two are parallel, or all three run along one line\.$"
LEVEL = Plane.through([4, 5, 3], [0, 0, 8])
TILTED = Plane.through([0, 0, 0], [3, 0, 4])


def test_a_plane_through_a_point_has_a_unit_normal_of_any_length_given():
    assert Plane.through([4, 5, 3], [0, 0, 8]) == Plane(np.array([0.0, 0.0, 1.0]), 3.0)
    tilted = Plane.through([0, 7, 0], [3, 0, 4])
    assert tilted.normal == pytest.approx([0.6, 0, 0.8]) and tilted.offset == 0


def test_height_is_positive_on_the_side_of_the_normal_and_turns_with_the_plane():
    points = [[0, 0, 0], [0, 0, 10], [9, 9, 3]]
    assert LEVEL.height_of(points).tolist() == [-3, 7, 0]
    assert LEVEL.turned().height_of(points).tolist() == [3, -7, 0]
    assert LEVEL.moved(2).height_of(points).tolist() == [-5, 5, -2]


def test_a_cross_product_of_whole_numbers_is_numpys_in_floats_however_large():
    generator = np.random.default_rng(3)
    one, two = generator.integers(-9, 9, (2, 5, 3))
    assert cross(one, two).tolist() == np.cross(one, two).tolist() and cross(one, two).dtype == float
    assert cross([2**40, 0, 0], [0, 2**40, 0]).tolist() == [0, 0, 2.0**80]


def test_three_planes_meet_in_a_point_of_each():
    upright = Plane.through([7, 0, 0], [1, 2, 0])
    point = meet(LEVEL, TILTED, upright)
    assert [abs(plane.height_of(point)) for plane in (LEVEL, TILTED, upright)] == pytest.approx([0, 0, 0], abs=1e-12)
    planes = {"level": LEVEL, "tilted": TILTED, "upright": upright}
    both = meet_all(planes, [("level", "tilted", "upright"), ("upright", "level", "tilted")])
    assert both.shape == (2, 3) and both == pytest.approx(np.array([point, point]))


@pytest.mark.parametrize("third", [LEVEL.moved(1), Plane.through([0, 0, 3], [3, 0, 5])], ids=["parallel", "along one line"])
def test_planes_that_share_no_single_point_are_refused_in_one_sentence(third):
    with pytest.raises(ValueError, match=PARALLEL):
        meet(LEVEL, TILTED, third)


def test_points_turn_anticlockwise_about_the_origin():
    assert np.array([[1, 0], [0, 2]]) @ turned(90) == pytest.approx(np.array([[0, 1], [-2, 0]]))
    assert np.array([1, 0]) @ turned(30) == pytest.approx([np.sqrt(3) / 2, 0.5])


def test_turns_in_space_carry_one_axis_to_the_next_by_their_angle():
    first, second, third = np.eye(3)
    assert about_third(90) @ np.array([first, second, third]).T == pytest.approx(np.array([second, -first, third]).T)
    assert about_second(90) @ np.array([first, second, third]).T == pytest.approx(np.array([-third, second, first]).T)
    for angle in (0, 1e-7, 30, 90, 179.9):
        assert angle_of(about_third(angle)) == pytest.approx(angle, abs=1e-12)
        assert angle_of(about_second(40) @ about_third(-angle) @ about_second(-40)) == pytest.approx(angle, abs=1e-12)


def test_every_face_of_a_six_sided_solid_is_anticlockwise_as_seen_from_outside():
    corners = between([[0, 0, 0], [4, 0, 0], [4, 3, 0], [0, 3, 0]], [1, 1, -2])  # seen from above, carried downwards
    assert corners.dtype == float and corners.shape == (8, 3)
    faces, middle = corners[FACES], corners.mean(axis=0)
    normals = cross(faces[:, 1] - faces[:, 0], faces[:, 2] - faces[:, 1])
    assert ((normals * (faces.mean(axis=1) - middle)).sum(axis=1) > 0).all()
    assert np.einsum("ij,ij->i", faces[:, 0], normals).sum() / 3 == pytest.approx(4 * 3 * 2)
