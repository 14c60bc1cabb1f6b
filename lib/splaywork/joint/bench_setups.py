"""How boards are held at the bench, worked out from the solids: what each step's sentence and drawing rest on.

All in mm and degrees, in the axes of the corner unless said.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..common.boards import other
from ..common.planes import Plane, meet
from ..common.tolerances import SAME_SETTING
from ..corner.projection import PENCIL_THICK, point_angles
from .pieces import free_at
from .tails import Cheek

if TYPE_CHECKING:
    from .joint import Joint


FIRST = "pin"  # the board that is marked first
SAWING = 3.0  # mm of wood beyond an end for the saw and the plane: common practice, with no source
PROP, PROP_AT = 20.0, 80.0  # mm that the prop under the tail board is thick, and that it stands from the pin board's inner face
STANDS, FREE = 60.0, 20.0  # mm that the pin board stands out of the vice, or more, so that the tail board clears the bench
LONGEST = 200.0  # mm from the corner that a tail board is long, about
STOP, BEARS = 20.0, 30.0  # mm that the stop is thick, and how much of it lies against the pin board, room for a clamp
TOUCHES = 0.2  # mm: a chisel that goes so little into wood that stays does no harm


def unit_vector(vector: np.ndarray) -> np.ndarray:
    """The vector at length 1."""
    return vector / np.linalg.norm(vector)


def at_the_bevel(joint: "Joint") -> bool:
    """Whether the sawn ends are parallel to the shoulders: flush ends, and square ones where no end bevel is needed."""
    return joint.end == "flush" or abs(joint.corner.end_bevel) < SAME_SETTING


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


def _off_level(joint):
    """Tangent of how much the tail board, lying for scribing, rises towards its far end."""
    return float(np.tan(np.radians(joint.corner.end_bevel)))


def stands_out(joint: "Joint") -> float:
    """How far the pin board's end stands out of the vice for scribing, mm, so that a tail board that drops clears the bench."""
    return STANDS + 10 * float(np.ceil(max(0.0, FREE - LONGEST * _off_level(joint) - STANDS) / 10))


def prop_height(joint: "Joint") -> float:
    """How tall the prop under the tail board is, mm, on a bench as high as the jaws."""
    rise, thick = _off_level(joint), joint.thickness("pin")
    rests = thick if joint.end == "square" and rise < 0 else 0.0  # on the inner arris; else from the outer one upwards
    return stands_out(joint) + min((thick + at - rests) * rise for at in (PROP_AT, PROP_AT + PROP))


def stop_above(joint: "Joint") -> float:
    """How far the stop for the tails' ends stands above the pin board's sawn end, mm, a multiple of 5."""
    return 5 * float(np.ceil(round(joint.tail_thickness / np.cos(np.radians(joint.corner.end_bevel)) / 5, 9)))


def pencil_block(joint: "Joint") -> float:
    """How thick a block may be, mm, under a pencil that marks the lowest level line of step 8; 0 where there is none."""
    if packing(joint) >= SAME_SETTING:
        return 0.0
    low = min(each.ends[:, 2].min() for each in joint.lines_on("tail", "end") if each.kind == "cheek")
    return float(max(0.0, np.floor(low - PENCIL_THICK / 2)))


def rise_at_the_shoulder(joint: "Joint", board: str, cheek: Cheek | str) -> np.ndarray:
    """How high up the corner line a cheek, or the plane of that name, meets the shoulder's plane, mm.

    On the `board`'s outer face and on its inner one.
    """
    shoulder, up = joint.planes[f"{other(board)} inner"], unit_vector(joint.corner.vector("corner_line"))
    return np.array([meet(shoulder, joint.planes[cheek], joint.planes[f"{board} {face}"]) @ up for face in ("outer", "inner")])


def chisel_leans(joint: "Joint", board: str) -> set[str]:
    """Towards which edges a chisel's handle leans, "top" or "bottom", that follows the sawn sides of a board's waste.

    The board lies on its inner face, and the chisel stands in the baselines' plane; on the inner face it leans the other way.
    A side that it leaves by less than `TOUCHES` half way through doesn't count.
    """
    cheeks = waste_cheeks(joint, board).values()
    climbs = [float(np.subtract(*rise_at_the_shoulder(joint, board, cheek))) / 2 for cheek in cheeks]
    return {"top" if climb > 0 else "bottom" for climb in climbs if abs(climb) >= TOUCHES}


def falls_behind(joint: "Joint") -> float:
    """How much higher a tail's side meets the shoulder's plane on the inner face than on the outer one, mm.

    The board stands as its end is sawn: its end line plumb, its top edge up. Negative: lower. All tails' sides are alike.
    """
    outer, inner = rise_at_the_shoulder(joint, "tail", Cheek(1, "lower"))
    return float(inner - outer)


def edge_slopes(joint: "Joint", board: str) -> float:
    """How much a board's top edge slopes across the saw's plate, its end line being plumb: degrees, 0 or more."""
    edge, plate = joint.planes[f"{board} top"].normal, joint.planes[f"{board} end"].normal
    return float(np.degrees(np.arctan2(abs(edge @ plate), abs(edge @ unit_vector(joint.corner.vector("corner_line"))))))


def hangs_over(joint: "Joint") -> tuple[str, ...]:
    """Which sides of a tail, "lower" or "upper", slope away under its outer face, so that a knife held plumb misses the line.

    The tail board lies on its inner face. A side that runs in by less than `TOUCHES` doesn't count.
    """
    up, out = joint.corner.vector("tail_up"), joint.corner.vector("tail_normal")
    runs = {}
    for side, way in (("lower", -1), ("upper", 1)):
        normal = joint.planes[Cheek(1, side)].normal
        normal = normal * np.sign(normal @ up) * way  # out of the tail
        runs[side] = -joint.tail_thickness * (normal @ out) / (normal @ up * way)
    return tuple(side for side, run in runs.items() if run >= TOUCHES)


def waste_cheeks(joint: "Joint", board: str) -> dict[str, Cheek]:
    """The sawn side at the "lower" and at the "upper" end of the waste between two tails, or of that between two pins."""
    if board == "pin":
        return {side: Cheek(1, side) for side in ("lower", "upper")}
    return {} if joint.tails == 1 else {"lower": Cheek(1, "upper"), "upper": Cheek(2, "lower")}


@dataclass(frozen=True)
class Propped:
    """Two boards on the bench, one running past the other, which touches it; and the line that the straightedge marks.

    corners: board -> (2, 2, 2, 3), by face (outer, inner), end and rim. trace: (2, 3), from the bottom edge up, on the
    inner face of the `marked` board and in the plane of the other's outer face. straightedge: (2, 2, 2, 3), by face (upper,
    under), end (near, far; both pared to a point) and edge (lower, upper); its near point, under face and upper edge, touches
    the trace.
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
    slant, bevel = np.tan(np.radians(point_angles(joint.corner)))
    ends = [Plane.through(touch + far * joint.height * along[laid], way * along[laid] + slant * up - bevel * out)
            for far, way in ((0.0, 1), (0.9, -1))]
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
