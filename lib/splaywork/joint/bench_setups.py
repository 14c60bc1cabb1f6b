"""How boards are held at the bench, worked out from the solids: what each step's sentence and drawing rest on.

All in mm and degrees, in the axes of the corner unless said.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..common.boards import other
from ..common.planes import Plane, meet
from ..common.tolerances import SAME_SETTING
from ..corner.projection import pared_end
from .pieces import free_at

if TYPE_CHECKING:
    from .joint import Joint


FIRST = "pin"  # the board that is marked first
SAWING = 3.0  # mm of wood beyond an end for the saw and the plane: common practice, with no source


def unit_vector(vector: np.ndarray) -> np.ndarray:
    """The vector at length 1."""
    return vector / np.linalg.norm(vector)


def blank_width(joint: "Joint", board: str) -> float:
    """Width that a blank with square edges needs so that its edges can be ripped, mm."""
    if joint.rims == "square":
        return joint.corner.slant_width(joint.height, board)
    return joint.corner.start_width(joint.height, joint.thickness(board), board)


def section(joint: "Joint", board: str) -> tuple[np.ndarray, ...]:
    """A board's section as it stands, looking along it: outward to the right, up, bench at 0.

    (wood (4, 2), its square-edged blank (4, 2)): outer bottom, outer top, inner top, inner bottom; mm.
    """
    lean, thickness = np.radians(joint.corner.lean(board)), joint.thickness(board)
    up, out = np.array([np.sin(lean), np.cos(lean)]), np.array([np.cos(lean), -np.sin(lean)])
    wide = joint.corner.slant_width(joint.height, board)
    drop = thickness * np.tan(lean)  # the inner face reaches so much lower than a square edge from the outer arris
    outer, inner = np.array([0.0, wide]), np.array([-drop, wide - drop])
    whole = np.array([min(outer[0], inner[0]), max(outer[1], inner[1])])

    def corners(outer, inner):
        return np.array([outer[0] * up, outer[1] * up, inner[1] * up - thickness * out, inner[0] * up - thickness * out])

    return corners(outer, inner), corners(whole, whole)


def comes_off(joint: "Joint", board: str) -> tuple[str, ...] | None:
    """Which arris the rip takes off: (at the bottom edge, at the top edge), each "outer" or "inner"; None where none."""
    lean = joint.corner.lean(board)
    if joint.rims == "square" or abs(lean) < SAME_SETTING:
        return None
    return ("outer", "inner") if lean > 0 else ("inner", "outer")


def gauged(joint: "Joint", board: str) -> float:
    """How far from a square edge of the blank the line lies that is ripped to, on the face whose arris comes off, mm."""
    return float(joint.thickness(board) * np.tan(np.radians(abs(joint.corner.lean(board)))))


def runs_past(joint: "Joint", board: str) -> float:
    """How far a board that is marked has to run past the other's outer face at its foot, along the bench: mm, a multiple of 5.

    As far as any corner of its end reaches, sawn or struck, and `SAWING` more.
    """
    level = joint.corner.vector(f"{board}_level")
    lines = np.concatenate(list(carried_round(joint, board).values()))
    sawn = (joint.tail_board if board == "tail" else joint.pin_board).blank[:, 0].reshape(-1, 3)
    reach = float((lines[0] @ level - np.concatenate([lines, sawn]) @ level).max())
    return 5.0 * np.ceil(round((reach + SAWING) / 5, 9))


@dataclass(frozen=True)
class Propped:
    """Two boards on the bench, one running past the other, which touches it; and the line that the straightedge marks.

    corners: board -> (2, 2, 2, 3), by face (outer, inner), end and rim. trace: (2, 3), from the bottom edge up, on the
    inner face of the `marked` board and in the plane of the other's outer face. straightedge: (2, 2, 2, 3), by face (upper,
    under), end (pared to a point, far) and edge (lower, upper); its point, under face and upper edge, touches the trace.
    """

    marked: str
    corners: dict
    trace: np.ndarray
    straightedge: np.ndarray


def propped(joint: "Joint", marked: str, past: float = 0.55, height: float = 0.7) -> Propped:
    """The boards as they are propped for marking `marked`, which runs past by `past` heights; see `Propped`.

    height: 0 to 1, how far up the straightedge touches.
    """
    laid = other(marked)
    along = {board: joint.corner.vector(f"{board}_level") for board in (marked, laid)}
    shown = 0.95 * joint.height
    inner, outer = joint.planes[f"{marked} inner"], joint.planes[f"{laid} outer"]

    def rimmed(board, near, far):
        ends = [Plane.through(at * along[board], along[board]) for at in (near, far)]
        return np.array(
            [
                [
                    [meet(joint.planes[f"{board} {face}"], end, joint.planes[f"{board} {rim}"]) for rim in ("bottom", "top")]
                    for end in ends
                ]
                for face in ("outer", "inner")
            ]
        )

    arrises = rimmed(laid, 0.0, shown)[:, 0].reshape(-1, 3)
    near = float((arrises @ along[laid] - inner.height_of(arrises) / (inner.normal @ along[laid])).max())
    trace = np.array([meet(inner, outer, joint.planes[f"{marked} {rim}"]) for rim in ("bottom", "top")])
    start = min(-past * joint.height, float(trace[0] @ along[marked]) - runs_past(joint, marked))
    corners = {marked: rimmed(marked, start, shown), laid: rimmed(laid, near, near + shown)}
    up, out = joint.corner.vector(f"{laid}_up"), joint.corner.vector(f"{laid}_normal")
    touch = trace[0] + height * (trace[1] - trace[0])
    ends = pared_end(touch, inner, along[laid], up, out), Plane.through(touch + 0.9 * joint.height * along[laid], along[laid])
    faces, edges = (outer.moved(3.0), outer), [Plane.through(touch + x * up, up) for x in (-14.0, 0.0)]
    rule = np.array([[[meet(face, end, edge) for edge in edges] for end in ends] for face in faces])
    return Propped(marked, corners, trace, rule)


def carried_round(joint: "Joint", board: str) -> dict[str, np.ndarray]:
    """The mark on its way round a board that runs past: surface -> (2, 3), "inner", "bottom" and "outer"."""
    planes, plane = joint.planes, joint.planes[f"{other(board)} outer"]
    ends = {
        face: [meet(planes[f"{board} {face}"], plane, planes[f"{board} {rim}"]) for rim in ("bottom", "top")]
        for face in ("inner", "outer")
    }
    return {
        "inner": np.array(ends["inner"]),
        "bottom": np.array([ends["inner"][0], ends["outer"][0]]),
        "outer": np.array(ends["outer"]),
    }


def end_up(joint: "Joint", board: str) -> np.ndarray:
    """(3, 3) rotation of the space so that a board is held end up, its face plumb and the sawn end level along its width.

    New axes: x along the end line, y out of the board's outer face, z up.
    """
    across, out = unit_vector(joint.corner.vector("corner_line")), joint.corner.vector(f"{board}_normal")
    if np.cross(across, out) @ joint.corner.vector(f"{board}_level") > 0:
        across = -across
    return np.array([across, out, np.cross(across, out)])


def lean_wedge(joint: "Joint") -> float:
    """Degrees by which a wedge turns the tail board, held end up, so that saw cuts through it run straight across.

    From the level entry as it is seen from above, the board's bottom edge being plumb; signed as the tail board's lean.
    """
    entry = joint.corner.vector("pin_level")
    up, out = (joint.corner.vector(f"tail_{name}") for name in ("up", "normal"))
    return float(np.degrees(np.arctan2(-(entry @ up), -(entry @ out))))


def off_straight(joint: "Joint") -> float:
    """The most that a cheek of the tail board, made plumb, lies off straight across when held by `lean_wedge`, degrees."""
    level, up, out = (joint.corner.vector(f"tail_{name}") for name in ("level", "up", "normal"))
    turn = -np.radians(lean_wedge(joint))
    straight = unit_vector(-np.cos(turn) * out + np.sin(turn) * up)
    worst = 0.0
    for way in (1, -1):
        plumb = unit_vector(level + way * up / joint.tail_slope)
        cut = unit_vector(np.cross(np.cross(plumb, joint.corner.vector("pin_level")), plumb))  # across the cheek, level now
        beside = np.cross(plumb, out)
        beside = beside if beside @ up > 0 else -beside
        angle = np.degrees(np.arctan2(cut @ beside, -(cut @ out)) - np.arctan2(straight @ up, -(straight @ out)))
        worst = max(worst, abs(float((angle + 90) % 180 - 90)))
    return worst


def scribing_shift(joint: "Joint") -> float:
    """How far, along the level entry, the tail board is drawn out to lie on the pin board's sawn end, mm.

    Flush ends: its inner face lies flat on the end. Square ends: on the arris that stands furthest out.
    """
    return free_at(joint)


def packing(joint: "Joint") -> float:
    """Degrees of the wedge that fills the space between the tail board and a square pin end; 0 for a flush end."""
    return abs(joint.corner.end_bevel) if joint.end == "square" else 0.0
