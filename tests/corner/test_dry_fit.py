"""How a corner with a fault stands on the bench: the planes that carry it, from the convex hull of its two boards."""

import numpy as np
import pytest
from benches import CORNERS, level
from scipy.spatial import ConvexHull
from scipy.spatial.transform import Rotation
from splaywork.common.boards import other
from splaywork.corner.dry_fit import EDGE, GROWS, SIGNS, SLID, TIPPED, with_tails
from splaywork.joint.joint import Joint

FAR, NEARLY = 190.0, 5.0  # mm from the corner to the far ends; degrees: further over, it would fall
JOINTS = [Joint(corner, 100, 18, 15, tails=2) for corner in CORNERS]
every_joint = pytest.mark.parametrize("joint", JOINTS, ids=lambda joint: str(joint.corner))


def boards_of(joint):
    """{board: corners (outer or inner, near or far, bottom or top, xyz)} of the two boards, each as long as the other."""
    boards = {"tail": joint.tail_board.blank.copy(), "pin": joint.pin_board.blank.copy()}
    for board, corners in boards.items():
        way = level(joint, board)
        corners[:, 1] += (FAR - corners[:, 1] @ way)[..., None] * way
    return boards


def mass(corners):
    """(volume, centroid) of a board."""
    points = corners.reshape(-1, 3)
    parts = points[ConvexHull(points).simplices]
    middle = points.mean(axis=0)
    volumes = abs(np.linalg.det(parts - middle))
    return volumes.sum(), volumes @ (parts.sum(axis=1) + middle) / 4 / volumes.sum()


def stood(boards):
    """[(lights, stays, tips)] for each plane on which the bottom edges can stand, nearly level.

    lights: {board: light (outer or inner, near or far)} mm; stays: whether the weight keeps it there; tips: the boards that
    tip the corner when they are pressed at a bottom corner.
    """
    points = np.vstack([corners.reshape(-1, 3) for corners in boards.values()])
    (first, one), (second, two) = map(mass, boards.values())
    centroid, found = (first * one + second * two) / (first + second), {}
    for plane in ConvexHull(points).equations:
        up = -plane[:3]
        if up[2] > np.cos(np.radians(NEARLY)):
            found.setdefault(tuple(np.round(up, 6)), (up, plane[3]))
    for up, away in found.values():
        lights = {board: corners[:, :, 0] @ up - away for board, corners in boards.items()}
        along = np.cross(up, [1.0, 0, 0])
        flat = np.stack([along, np.cross(up, along)], axis=1)
        carried = np.concatenate([corners[:, :, 0][lights[board] < 1e-6] for board, corners in boards.items()]) @ flat
        inward = ConvexHull(carried).equations

        def within(places, flat=flat, inward=inward):
            return (np.atleast_2d(places) @ flat @ inward[:, :2].T + inward[:, 2]).max(axis=1) < 1e-6

        yield lights, bool(within(centroid)), {board for board, corners in boards.items()
                                               if not within(corners[:, :, 0].reshape(-1, 3)).all()}


def lies_flat(light):
    return light.max() < 1e-6


def raised(joint, boards, board, high):
    line = joint.tail_board.blank[0, 0, 1] - joint.tail_board.blank[0, 0, 0]
    return {**boards, board: boards[board] + high * line / line[2]}


@every_joint
def test_true_boards_stand_still(joint):
    ((lights, stays, _),) = stood(boards_of(joint))
    assert stays and all(lies_flat(light) for light in lights.values())


@every_joint
@pytest.mark.parametrize("board", ["tail", "pin"])
def test_a_board_fixed_too_high_shows_even_light_while_the_other_is_pressed_flat(joint, board):
    """Left alone the corner tips, and that board then touches at its far end only: no sign of a far end that is too low."""
    boards = raised(joint, boards_of(joint), board, 1.0)
    poses = list(stood(boards))
    (pressed,) = (lights for lights, stays, _ in poses if lies_flat(lights[other(board)]) and not stays)
    assert pressed[board] == pytest.approx(1.0)
    (left,) = (lights for lights, stays, _ in poses if stays)
    assert left[board].min(axis=0) == pytest.approx([1.1, 0.0], abs=0.15) and not lies_flat(left[other(board)])
    assert "press each board flat in turn: while one lies flat, light shows evenly under the other" in SLID.seen
    assert "off the flat board's bottom edge, the same all over: the high board comes down" in with_tails(SLID)
    mended = raised(joint, boards, other(board), 1.0)  # the flat board's edge planed, both stand so much lower
    assert all(lies_flat(light) for lights, _, _ in stood(mended) for light in lights.values())


@every_joint
@pytest.mark.parametrize("board", ["tail", "pin"])
@pytest.mark.parametrize("arris", [0, 1])
def test_a_badly_ripped_edge_rocks_on_one_arris_while_the_other_board_lies_flat(joint, board, arris):
    boards = boards_of(joint)
    boards[board][arris, :, 0, 2] += 0.6
    ((lights, _, tips),) = (pose for pose in stood(boards) if pose[1])
    assert lies_flat(lights[other(board)]) and board in tips
    assert lights[board][arris] == pytest.approx(0.6) and lies_flat(lights[board][1 - arris])
    assert EDGE.seen.startswith("The corner rocks. Taken apart") and EDGE.seen.endswith("shows light under one arris")


@every_joint
@pytest.mark.parametrize("turn", [0.5, -0.5, 2.0, -2.0])
def test_a_tail_board_that_lay_turned_lifts_its_far_end_or_the_pin_board(joint, turn):
    """Turned on the pin board's sawn end while it is scribed: one way round the corner rocks between its two boards, the
    other way it stands on the tail board and on the pin board's outer arris."""
    boards = boards_of(joint)
    boards["tail"] = Rotation.from_rotvec(np.radians(turn) * joint.planes["pin end"].normal).apply(
        boards["tail"].reshape(-1, 3)).reshape(2, 2, 2, 3)
    poses = list(stood(boards))
    ((left, _, _),) = (pose for pose in poses if pose[1])
    high = left["pin"].mean(axis=1)
    seen = joint.pin_thickness * np.sin(np.radians(abs(turn)))
    assert left["tail"].max() < 2 * seen and left["tail"][:, 1].min() < 1e-6
    pressed = [lights for lights, _, _ in poses if lights["pin"].max() < 0.9 * seen]
    if turn > 0:
        near, far = pressed[0]["tail"].mean(axis=0)
        assert near < 0.1 * far and far > 2.5 * turn and high[0] - high[1] == pytest.approx(seen, rel=0.25)
        assert GROWS.seen == "The same, but while the pin board lies flat, the light grows towards the tail board's far end"
        assert SIGNS.index(GROWS) == SIGNS.index(SLID) + 1
    else:
        assert not pressed and high[1] - high[0] == pytest.approx(seen, rel=0.25)
        assert TIPPED.seen.endswith("the pin board shows light under its inner arris")
    assert GROWS.means == "When you scribed, the two bottom edges weren't in one plane."
