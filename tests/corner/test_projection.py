"""The projection held to routes of its own: rotations in place of planes, and half-spaces in place of outlines."""

from itertools import combinations, product

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linprog
from scipy.spatial import ConvexHull
from scipy.spatial.transform import Rotation
from splaywork import Corner
from splaywork.common.hexahedra import FACES
from splaywork.corner.projection import Projection

BOARDS = ("tail", "pin")
CORNERS = st.builds(Corner, st.floats(-45, 45), st.floats(-45, 45), st.floats(60, 135))
EXTREMES = [Corner(tail, pin, plan) for tail, pin, plan in product((-45, 0, 45), (-45, 0, 30), (60, 90, 135))]
EXTREMES += [Corner(30, 30), Corner(16, 11), Corner(45, 45)]
SHARES = (0.0, 0.2, 0.5, 0.9, 1.0)


def turned_faces(corner, thickness):
    """(point, normal) of each board's outer and inner face: an upright board, tipped about its edge, swung in plan."""
    found = {}
    for board, outward, tip, swing in (("tail", -1, 1, 0.0), ("pin", 1, -1, corner.plan_angle)):
        turn = Rotation.from_euler("z", swing, degrees=True) * Rotation.from_euler("x", tip * corner.lean(board), degrees=True)
        normal = turn.apply([0, outward, 0])
        # the inner face is as far in, square to the outer one, as the board is thick
        found[board] = {"outer": (np.zeros(3), normal), "inner": (-thickness * normal, -normal)}
    return found


@given(corner=CORNERS, marked=st.sampled_from(BOARDS), height=st.floats(40, 300), thickness=st.floats(6, 40),
       share=st.floats(0, 1))
def test_the_tip_is_always_on_both_planes(corner, marked, height, thickness, share):
    projection = Projection(corner, marked, height, thickness)
    faces, tip = turned_faces(corner, thickness), projection.tip(share)
    for point, normal in (faces[marked]["inner"], faces[projection.held]["outer"]):
        assert abs((tip - point) @ normal) < 1e-9
    assert tip[2] == pytest.approx(share * height, abs=1e-9)


@given(corner=CORNERS, marked=st.sampled_from(BOARDS), height=st.floats(40, 300), thickness=st.floats(6, 40))
def test_the_line_slants_as_the_end_line_does(corner, marked, height, thickness):
    projection = Projection(corner, marked, height, thickness)
    assert projection.slant == pytest.approx(corner.end_line(marked), abs=1e-10)
    assert np.tan(np.radians(projection.slant)) == pytest.approx(projection.run / projection.slope, abs=1e-12)
    # struck again on the outer face, it is parallel to what was drawn on the inner one
    drawn, struck = (line[1] - line[0] for line in (projection.line, projection.end_line))
    assert np.cross(drawn, struck) == pytest.approx(np.zeros(3), abs=1e-9 * height**2)


@pytest.mark.parametrize("marked", BOARDS)
@pytest.mark.parametrize(("tail", "pin"), [(30, 30), (16, 11), (-30, 20), (8, -40), (0, 0)])
def test_the_finished_line_is_the_librarys_end_line(marked, tail, pin):
    corner = Corner(tail, pin)
    assert abs(Projection(corner, marked).slant - corner.end_line(marked)) < 1e-12 * max(1, abs(corner.end_line(marked)))


def test_at_30_and_30_the_line_runs_50_in_100():
    for marked in BOARDS:
        projection = Projection(Corner(30, 30), marked)
        assert projection.run / projection.slope == pytest.approx(0.5, abs=1e-15)


@pytest.mark.parametrize("marked", BOARDS)
@pytest.mark.parametrize("corner", EXTREMES, ids=str)
def test_the_mark_is_carried_along_the_other_boards_level_line(corner, marked):
    projection = Projection(corner, marked)
    inner, outer = projection.carried
    assert outer == pytest.approx(np.zeros(3)) and inner[2] == pytest.approx(0)
    way = Rotation.from_euler("z", corner.plan_angle if projection.held == "pin" else 0, degrees=True).apply([1, 0, 0])
    assert np.cross(inner - outer, way) == pytest.approx(np.zeros(3), abs=1e-9)
    if corner.plan_angle == 90:  # square across the edge
        edge = Rotation.from_euler("z", 90 if marked == "pin" else 0, degrees=True).apply([1, 0, 0])
        assert (inner - outer) @ edge == pytest.approx(0, abs=1e-9)


def half_spaces(points):
    return np.unique(np.round(ConvexHull(points).equations, 9), axis=0)


def overlap_of(one, two):
    """mm of the largest ball that lies in both convex solids (8, 3); negative where they are apart."""
    spaces = np.vstack([half_spaces(one), half_spaces(two)])
    answer = linprog([0, 0, 0, -1], A_ub=np.column_stack([spaces[:, :3], np.linalg.norm(spaces[:, :3], axis=1)]),
                     b_ub=-spaces[:, 3], bounds=[(None, None)] * 4)
    assert answer.success
    return answer.x[3]


@pytest.mark.parametrize("marked", BOARDS)
@pytest.mark.parametrize("corner", EXTREMES, ids=str)
def test_nothing_on_the_bench_is_inside_anything_else(corner, marked):
    projection = Projection(corner, marked)
    standing = standing_of(projection)
    for (one, solid), (two, other_solid) in combinations(standing.items(), 2):
        assert overlap_of(solid, other_solid) < 1e-6, (one, two)
    for name, solid in standing.items():
        assert solid[:, 2].min() == pytest.approx(0, abs=1e-9), f"{name} stands on the bench"
    # the boards touch, and each stands between its two wedges, or against a block
    assert overlap_of(projection.held_board, projection.marked_board) > -1e-6
    for board, held, props in ((projection.held, projection.held_board, projection.held_props),
                               (marked, projection.marked_board, projection.marked_props)):
        assert len(props) == (1 if corner.lean(board) == 0 else 2)
        assert all(overlap_of(held, prop) > -1e-6 for prop in props)
    for share in SHARES:
        rule = projection.straightedge(share)
        for name, solid in standing.items():
            assert overlap_of(rule, solid) < 1e-6, (name, share)
        assert rule[:, 2].min() > -1e-9


def standing_of(projection):
    """All that stands on the bench, by name."""
    props = {f"{whose} prop {number}": solid for whose, solids in (("held", projection.held_props),
             ("marked", projection.marked_props)) for number, solid in enumerate(solids)}
    return {"held": projection.held_board, "marked": projection.marked_board} | props


@pytest.mark.parametrize("marked", BOARDS)
@pytest.mark.parametrize("corner", EXTREMES, ids=str)
def test_a_board_stands_between_a_wedge_and_its_mate(corner, marked):
    """The two are one shape, turned end for end; together they are a block with plumb, parallel backs, as tall as the box."""
    projection = Projection(corner, marked, height=100.0, thickness=18.0)
    for board, props in ((marked, projection.marked_props), (projection.held, projection.held_props)):
        lean, out = corner.lean(board), projection.way(board, "outward")
        if lean == 0:
            continue
        slide = 100 * np.tan(np.radians(abs(lean)))
        faces = projection.faces[board] if lean > 0 else projection.faces[board][::-1]  # the one that overhangs first
        for prop, face in zip(props, faces, strict=True):
            assert ConvexHull(prop).volume == pytest.approx(22 * 100 * (20 + slide / 2))
            assert np.sum(abs(face.height_of(prop)) < 1e-9) == 4, "one side lies on the board"
            assert np.ptp(prop[:, 2]) == pytest.approx(100)
        across = [np.sort(prop @ out)[[0, -1]] for prop in props]
        apart = max(across[0][1], across[1][1]) - min(across[0][0], across[1][0])
        assert apart == pytest.approx(slide + 40 + 18 / np.cos(np.radians(lean)))  # from back to back: what the clamp spans


@pytest.mark.parametrize("marked", BOARDS)
@pytest.mark.parametrize("corner", EXTREMES, ids=str)
def test_only_the_straightedges_point_touches_the_marked_board(corner, marked):
    """It lies in the under face and on the line; all else of the end is cut back."""
    projection = Projection(corner, marked)
    lowest = projection.straightedge(0) @ projection.way(projection.held, "up")
    compared = 0
    for share in SHARES:
        tip, rule = projection.tip(share), projection.straightedge(share)
        clear = projection.faces[marked][1].height_of(rule)
        assert np.sum(clear < 1e-9) == 1 and clear.min() == pytest.approx(0, abs=1e-9)
        point = rule[clear.argmin()]
        assert abs(projection.faces[projection.held][0].height_of(point)) < 1e-9
        foot, head = projection.line
        assert np.linalg.norm(np.cross(point - foot, head - foot)) < 1e-6 * np.linalg.norm(head - foot) ** 2
        if tip @ projection.way(projection.held, "up") > lowest.max() + 1e-9:
            assert point == pytest.approx(tip)
            compared += 1
    assert compared >= 3


@pytest.mark.parametrize("marked", BOARDS)
@pytest.mark.parametrize("corner", EXTREMES, ids=str)
def test_the_pencils_tip_touches_the_marked_board_and_its_shaft_is_in_the_open(corner, marked):
    projection = Projection(corner, marked)
    for share in SHARES:
        pencil, tip = projection.pencil(share), projection.tip(share)
        assert pencil["point"][:, 0] == pytest.approx(np.broadcast_to(tip, (6, 3)))
        level = projection.way(marked, "level")
        marks = (projection.marked_board @ level).min(), (projection.marked_board @ level).max()
        assert marks[0] + 20 < tip @ level < marks[1] - 20, "the line lies on the wood"
        shaft = pencil["shaft"].reshape(-1, 3)
        assert projection.faces[marked][1].height_of(shaft).min() > 0.5
        assert projection.faces[projection.held][0].height_of(shaft).min() > 0.5
        assert shaft[:, 2].min() > -1
        # the tip is at the straightedge's end, within its width
        rule = projection.straightedge(share)
        up = projection.way(projection.held, "up")
        foot = 3.001 if share == 0 else 1e-9  # on a leaning face its lower arris stands on the bench
        assert (rule @ up).min() - foot <= tip @ up <= (rule @ up).max() + 1e-9


@pytest.mark.parametrize("marked", BOARDS)
def test_faces_are_wound_outwards(marked):
    compared = 0
    for corner in EXTREMES:
        projection = Projection(corner, marked)
        solids = (*standing_of(projection).values(), projection.straightedge(0.4))
        pencil = projection.pencil(0.4)
        groups = [(solid[FACES], solid.mean(axis=0)) for solid in solids]
        middle = pencil["shaft"].mean(axis=(0, 1))
        groups += [(pencil[part], middle) for part in pencil]
        for faces, inside in groups:
            for face in faces:
                normal = np.cross(face[1] - face[0], face[2] - face[1])
                assert normal @ (face.mean(axis=0) - inside) > 0
                compared += 1
    assert compared > len(EXTREMES) * 40
