"""The eleven bench steps of a joint, one drawing a step, of wood and tools, from the corner's own numbers."""

import itertools
import re
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from ..common import checks
from ..common.boards import BOARDS, other
from ..common.planes import Plane, meet
from ..common.printing import UNITS, degrees, intended, length
from ..common.rotations import turned
from ..common.tolerances import SAME_SETTING as SAME
from ..common.wedges import FLAT_TOP, pair_width, wedge_side
from ..corner.projection import PENCIL_THICK, point_angles
from ..drawing.canvas import Canvas
from ..drawing.lettering import INCH, height_of, wrapped_parts
from ..drawing.palette import INK
from ..drawing.paper import Label, Picture, Stroke
from ..drawing.still import Still
from ..drawing.view import View
from .bench_setups import (
    BEARS,
    FIRST,
    PROP,
    PROP_AT,
    STOP,
    TOUCHES,
    at_the_bevel,
    carried_round,
    comes_off,
    end_up,
    falls_behind,
    gauged,
    lean_wedge,
    packing,
    pencil_block,
    prop_height,
    propped,
    rise_at_the_shoulder,
    scribing_shift,
    section,
    stands_out,
    stop_above,
    unit_vector,
    waste_cheeks,
)
from .bench_sketch_picture import HEIGHT, SIZE, WIDTH, Frame, Sketch, least_height
from .bench_solids_picture import Shape, Solid, around, bar, block, jointed, plank, prism, seen
from .bench_steps import WEDGE, aside, askew, bench_step_words, falls, hundred, overhang, saw_turns, shoulder_turns, tail_roots
from .bench_tools_picture import arrow, bevel, chisel_standing, knife, line, marking_gauge, outlined, pencil, try_square
from .joint import Joint
from .tails import Cheek

if TYPE_CHECKING:
    from .bench_steps import BenchStep

DRAWN = 88.0  # mm that a drawing is wide on paper
WIDER = 1.35  # times as wide where three pictures share a drawing
SCENES = 5, 8, 10  # steps whose two pictures show much at once, and are wider where drawings are small
BESIDE = 65.0  # mm that stay for its words, or more
LOOKED_AT = 3  # the step on which all rests, the projection
WIDEST = 1.7  # times as wide as others: the drawing of that step, and one that four pictures share
CHECK, CAUTION = "Check:", "Take care:"
SCRAP = 18.0  # mm, about, of a scrap under the pencil's block
CLOSE = 0.79  # of the usual height of a line: eleven steps have to find room on two pages
PAPER_PIXEL = INCH / 100  # mm of a pixel of a picture on paper
BEYOND = 14.0  # mm that the bench is drawn on beyond the tail board
SCENE = 140.0  # mm that boards are long at least, as they lie for scribing: room for the jaws and for the prop
MOST_MARKS, MANY = 12, 6  # callouts that find room beside the marked tails; so many that half pins go without one
HOUSED = 1.5  # times as large on a page of a notebook

# Step 1


def step_rip(joint: Joint, unit: str) -> tuple[Frame, ...]:
    """Sections of the boards: wrong with a square edge, right with ripped ones, and a square on the bench."""
    leaning = max(BOARDS, key=lambda board: abs(joint.corner.lean(board)))
    boards = BOARDS if abs(joint.corner.tail_lean - joint.corner.pin_lean) > SAME else BOARDS[:1]
    frames = [_wrong_edge(joint, leaning, unit, len(boards) == 1)] if comes_off(joint, leaning) else []
    return tuple(frames + [_right_edge(joint, board, unit, len(boards), board == boards[0]) for board in boards])


def _on_bench(points, beyond=14.0):
    low, high = points[:, 0].min() - beyond, points[:, 0].max() + beyond
    return line("bench", (low, 0), (high, 0), name="bench")


def _wrong_edge(joint, board, unit, roomy):
    """A board on its square edge; where three frames share the drawing, its callouts go into the caption."""
    _, blank = section(joint, board)
    blank = blank - [0, blank[:, 1].min()]
    foot, raised = sorted(blank[[0, 3]], key=lambda point: point[1])
    gap = joint.corner.rocking_gap(joint.thickness(board), board)
    shapes = [
        _on_bench(blank, 5.0),
        *outlined(Shape(f"{board} wood", blank), board),
        line("wrong", foot, raised, name="square edge"),
        line("wrong", raised, (raised[0], 0), name="gap"),
    ]
    rocks = f"gap {length(gap, unit)}"
    if not roomy:
        return Frame(tuple(shapes), (), f"Wrong: square edge rocks, {rocks}", 0.7)
    return Frame(tuple(shapes), ((rocks, raised * [1, 0.5]), ("rocks on\nthis arris", foot)), "Wrong: square edge", 0.8)


def _right_edge(joint, board, unit, shown, first):
    """A ripped board on the bench with a square; the second of two repeats only what is different on it."""
    wood, blank = section(joint, board)
    lean, ripped = joint.corner.lean(board), comes_off(joint, board)
    shapes, callouts = [], []
    if first:
        callouts += [(f"{face} face", wood[low] + at * (wood[high] - wood[low]))
                     for face, low, high, at in (("outer", 0, 1, 0.55), ("inner", 3, 2, 0.85))]
    if ripped:
        for rim, (face, outer, inner) in enumerate(zip(ripped, (0, 1), (3, 2), strict=True)):
            at = outer if face == "outer" else inner  # where the gauged line lies, on the face whose arris comes off
            triangle = np.array([wood[outer], wood[inner], blank[at]])
            shapes.append(Shape("waste wood", triangle, "comes off"))
            aside = unit_vector(wood[at] - wood[inner if at == outer else outer])
            tick = 5 * aside
            shapes.append(line("cheek", wood[at], wood[at] + tick, name="line to rip to"))
            shapes.append(line("size", wood[at] + tick, blank[at] + tick, name="distance from the edge"))
            words = f"{face} arris\noff" if rim else f"{face} arris\noff, line at\n{length(gauged(joint, board), unit)}"
            callouts.append((words, triangle.mean(axis=0) if rim else (wood[at] + blank[at]) / 2 + tick))
    shapes += outlined(Shape(f"{board} wood", wood), board)
    if ripped and first:  # the gauge at the top edge, where no square stands in its way
        at, low = (1, 0) if ripped[1] == "outer" else (2, 3)
        up, out = unit_vector(wood[at] - wood[low]), wood[at] - wood[3 - at]
        gauge = marking_gauge(wood[at], up, out - (out @ up) * up, gauged(joint, board))
        shapes += gauge
        callouts.append(("marking\ngauge", gauge[2].points.mean(axis=0)))
    shapes = [_on_bench(np.concatenate([wood, blank]), 4.0), *shapes]
    if abs(lean) < SAME:
        square = try_square(np.array([0.0, 0.18 * joint.height]), (1, 0), (0, 1), 0.9 * joint.height, 0.3)  # stock on the bench
        shapes[0] = _on_bench(np.concatenate([wood, blank, *(shape.points for shape in square)]), 4.0)
        shapes += square
        callouts.append(("square on\nthe bench", np.array([0.0, 0.36 * joint.height])))
    caption = f"{'Both boards' if shown == 1 else f'{board.capitalize()} board'}, "
    caption += f"ripped {intended(abs(lean))}" if ripped else ("edges square" if abs(lean) < SAME else "edges left square")
    return Frame(tuple(shapes), tuple(callouts), caption)


# Steps 2 and 3


def _bearing(*directions):
    """Bearing, in degrees, of a viewer towards whom these directions point, on the whole."""
    x, y, _ = np.sum(directions, axis=0)
    return float(np.degrees(np.arctan2(y, x)))


def _boards(held):
    return [plank(board, corners) for board, corners in held.corners.items()]


def pair(joint: Joint, board: str, corners: np.ndarray) -> list[Solid]:
    """What holds a board near its far end: a pair of wedges, one upside down, or a block behind an upright board.

    corners: of the board, (2, 2, 2, 3), by face (outer, inner), end and rim.
    """
    level = joint.corner.vector(f"{board}_level")
    far = (corners[:, 1] @ level).min() - WEDGE - 8
    foot = corners[0, 0, 0] + (far - corners[0, 0, 0] @ level) * level

    def solid(outline):
        points = foot + outline[:, :1] * joint.corner.vector(f"{board}_outward") + outline[:, 1:] * np.array([0, 0, 1.0])
        return prism("wedge", "wedge", points, WEDGE * level)

    return [solid(outline) for outline in held_by(joint, board).values()]


def held_by(joint: Joint, board: str) -> dict[str, np.ndarray]:
    """The outlines (4, 2) of what holds a board, in the axes of its `section`: "outside" and "inside", or "block" alone."""
    wood, lean, high = section(joint, board)[0], joint.corner.lean(board), joint.height
    if abs(lean) < SAME:
        return {"block": np.array([[0, 0], [WEDGE, 0], [WEDGE, high], [0, high]])}
    standing = wedge_side(lean, high)
    turned_over = standing[3] - standing
    if lean > 0:
        return {"outside": standing + wood[0] * [1, 0], "inside": turned_over + wood[3] * [1, 0]}
    return {"outside": (turned_over * [-1, 1]) + wood[0] * [1, 0], "inside": standing * [-1, 1] + wood[3] * [1, 0]}


def step_prop(joint: Joint, unit: str) -> tuple[Frame, ...]:
    """The block from which a pair of wedges is sawn, a board clamped to its pair, and both boards on the bench, touching."""
    leaning = max(BOARDS, key=lambda board: abs(joint.corner.lean(board)))
    made = () if abs(joint.corner.lean(leaning)) < SAME else (_sawn_pair(joint, leaning, unit),)
    return (*made, _clamped(joint, leaning, unit), _on_the_bench(joint))


def _sawn_pair(joint, board, unit):
    """The block, and the one cut that makes two wedges of it."""
    lean, high = abs(joint.corner.lean(board)), joint.height
    wide = pair_width(lean, high)
    block_side = np.array([[0, 0], [wide, 0], [wide, high], [0, high]])
    low, top = np.array([FLAT_TOP, 0.0]), np.array([wide - FLAT_TOP, high])
    flat = length(FLAT_TOP, unit)
    shapes = [*outlined(Shape("wedge", block_side), "block"), line("end line", low, top, name="one cut"),
              line("size", (0, -5), (FLAT_TOP, -5), name="flat"),
              line("size", (wide - FLAT_TOP, high + 5), (wide, high + 5), name="flat"),
              line("size", (0, -14), (wide, -14), name="wide")]
    notes = ((f"{flat}", np.array([wide - FLAT_TOP / 2, high + 5]), "above"),
             (f"{flat}\n{length(wide, unit)} wide", np.array([FLAT_TOP / 2, -5]), "below"))
    return Frame(tuple(shapes), (), f"A pair of {intended(lean)}", 0.62, notes)


def _clamped(joint, board, unit):
    """A board in section between its pair, as it is held on the bench; and what square and rule read beside the wedge."""
    wood, lean, high = section(joint, board)[0], joint.corner.lean(board), joint.height
    held = held_by(joint, board)
    outside = held.get("outside", held.get("block"))
    edges = np.concatenate([wood, *held.values()])
    left, right = edges[:, 0].min(), edges[:, 0].max()
    slab = np.array([[left - 30, -16], [right + 6, -16], [right + 6, 0], [left - 30, 0]])
    shapes = [*outlined(Shape("prop", slab), "bench top")]
    for name, outline in held.items():
        shapes += outlined(Shape("wedge", outline), f"{name} wedge")
    shapes += outlined(Shape(f"{board} wood", wood), "board")
    middle, bar = 0.45 * high, 9.0

    def rect(x, y, wide, tall, kind, name):
        return outlined(Shape(kind, np.array([[x, y], [x + wide, y], [x + wide, y + tall], [x, y + tall]])), name)

    shapes += rect(right, middle - 13, 8, 26, "tool", "clamp")
    shapes += rect(left - 9, middle - 13, 8, 26, "tool", "clamp") + rect(left - 26, middle - 3, 17, 6, "steel", "clamp screw")
    shapes += rect(left - 30, middle - bar / 2 - 22, right - left + 38, bar, "tool", "clamp bar")
    shapes += rect(right, middle - 31, 8, 20, "tool", "clamp") + rect(left - 26, middle - 31, 8, 34, "tool", "clamp")
    press = outside[:, 0].max() - FLAT_TOP / 2
    shapes += rect(press - 3, high, 6, 16, "steel", "press screw")
    for low in (high + 16, -34):
        shapes += rect(press - 8, low, right + 34 - press, 9, "tool", "press")
    shapes += rect(right + 18, -34, 8, high + 59, "tool", "press")
    shapes += rect(press - 3, -25, 6, 9, "steel", "press pad")
    callouts = [("second\nclamp", np.array([press + 8, high + 20])), ("clamp\nacross", np.array([right + 4, middle]))]
    if abs(lean) < SAME:
        callouts += [("square block", outside.mean(axis=0))]
    else:
        standing, over = ("outside", (0, 1)) if lean > 0 else ("inside", (3, 2))
        foot, top = wood[over[0]], wood[over[1]]
        shapes += [line("square", top, (top[0], 0), name="square's blade"),
                   line("size", (foot[0], -5), (top[0], -5), name="offset")]
        callouts += [("wedge", held[standing].mean(axis=0) + np.array([0, 0.12 * high])),
                     ("twin", held["inside" if lean > 0 else "outside"][[2, 3]].mean(axis=0) + np.array([0, 12])),
                     (f"{length(overhang(joint, board), unit)}", np.array([(foot[0] + top[0]) / 2, -5]))]
    return Frame(tuple(shapes), tuple(callouts), f"{board.capitalize()} board, clamped", 1.25)


def _on_the_bench(joint):
    """Both boards, held; the one that is marked first runs past."""
    held = propped(joint, FIRST)
    outward = [joint.corner.vector(f"{board}_outward") for board in BOARDS]
    inside = joint.corner.tail_lean + joint.corner.pin_lean < 0
    view = View(_bearing(*(-v if inside else v for v in outward)) + (-10 if inside else 14), 24)
    shapes = seen([*_boards(held), *(each for board in BOARDS for each in pair(joint, board, held.corners[board]))], view)
    # nearer the corner than what holds the board: on the outer face, or on the top edge, where the viewer looks from inside
    corners = {board: held.corners[board][:, :, 1].mean(axis=0) if inside else held.corners[board][0].mean(axis=1)
               for board in BOARDS}
    callouts = [(f"{board}\nboard", view.flat(np.array([0.6, 0.4]) @ ends)) for board, ends in corners.items()]
    return Frame(tuple(shapes), tuple(callouts), "On the bench", 0.7)


def step_project(joint: Joint, unit: str) -> tuple[Frame, ...]:
    """The pointed straightedge by itself; and, for each board, the pencil at its point on the board that runs past."""
    return _straightedge(joint), *(_project(joint, marked, unit) for marked in (FIRST, other(FIRST)))


RULER = 80.0, 25.0, 5.0  # mm that the straightedge is drawn long, broad and thick


def _straightedge(joint):
    """The straightedge from its pared face, its longer edge up; and its two points, which lie in the other face."""
    long, broad, thick = RULER
    angles = point_angles(joint.corner)
    slant, back = np.tan(np.radians(angles))
    aside = back * thick
    under = np.array([(0.0, broad), (long, broad), (long - slant * broad, 0), (slant * broad, 0)])
    upper = under + np.array([(aside, 0), (-aside, 0), (-aside, 0), (aside, 0)])
    shapes = [*outlined(Shape("steel", under), "straightedge"), *outlined(Shape("tool", upper), "pared face")]
    notes = (("longer edge\n", np.array([long / 2, broad]), "above"), ("point", np.array([0.0, broad]), "above"),
             ("point", np.array([long, broad]), "above"),
             (f"pared back {degrees(angles[1], 0)}\nfrom this face", np.array([long / 2, 0.0]), "below"))
    return Frame(tuple(shapes), (), "The straightedge", 0.5, notes)


def _project(joint, marked, unit):
    held, laid = propped(joint, marked), other(marked)
    rule = bar("straightedge", "tool", held.straightedge)
    foot, head = held.trace
    tip = foot + 0.7 * (head - foot)
    board, other_board = (plank(which, held.corners[which]) for which in (marked, laid))
    board = replace(board, faces=tuple(  # its end is pale, as ends are elsewhere: it isn't taken for the face that is marked
        replace(face, kind=f"{marked} far end") if face.kind == f"{marked} end" else face for face in board.faces))
    ways = joint.corner.vector(f"{laid}_outward"), -joint.corner.vector(f"{marked}_outward")
    view = View(_bearing(*ways) + (14 if marked == "tail" else -14), 22)
    shapes = [*seen([board, other_board, rule], view)]
    # nothing stands before the line: it lies in both faces that are turned to the viewer
    shapes += [Shape("trace", view.flat(np.array([foot, tip])), "trace"),
               Shape("to come", view.flat(np.array([tip, head])), "to come")]
    at = view.flat(tip)
    lean = 55 if marked == "tail" else 125
    shapes += pencil(at, lean, 0.42 * joint.height)
    callouts = [
        ("mark where the\npoint touches", at),
        ("pencil line", view.flat(foot + 0.35 * (head - foot))),
        ("inner face", view.flat(0.55 * held.corners[marked][1, 0].mean(axis=0) + 0.45 * (foot + 0.3 * (head - foot)))),
    ]
    if marked == FIRST:
        callouts += [
            ("straightedge", view.flat(held.straightedge.mean(axis=(0, 1, 2)))),
        ]
    leaning = any(abs(joint.corner.lean(each)) >= SAME for each in BOARDS)
    left_out = " (wedges\xa0not\xa0drawn)" * (leaning and marked == FIRST)
    return Frame(tuple(shapes), tuple(callouts), f"Marking the {marked} board{left_out}")


# Step 4


def unrolled(joint: Joint, board: str) -> tuple[dict[str, np.ndarray], ...]:
    """(wood, lines): inner face, bottom edge and outer face of a board in one strip, unfolded about its bottom arrises.

    Each maps "outer", "bottom", "inner" to flat points: the outer face upright on top, seen from outside, the bottom edge
    below it, the inner face below that, upside down. The board goes on beyond the mark, and is shown a little way.
    """
    level, up = (joint.corner.vector(f"{board}_{way}") for way in ("level", "up"))
    planes, way = joint.planes, 1 if board == "tail" else -1
    trace = np.concatenate(list(carried_round(joint, board).values())) @ level
    near, far = min(-0.4 * joint.height, trace.min() - 12), max(0.4 * joint.height, trace.max() + 12)
    arris = {
        face: {
            at: meet(planes[f"{board} {face}"], planes[f"{board} bottom"], Plane.through(at * level, level))
            for at in (near, 0.0, far)
        }
        for face in ("outer", "inner")
    }
    base, down = arris["outer"][0.0], arris["inner"][0.0] - arris["outer"][0.0]
    wide = np.linalg.norm(down)

    def flat(surface, points):
        points = np.asarray(points)
        x = way * ((points - base) @ level)
        if surface == "outer":
            return np.stack([x, (points - base) @ up], axis=-1)
        if surface == "bottom":
            return np.stack([x, -((points - base) @ (down / wide))], axis=-1)
        return np.stack([x, -wide - (points - arris["inner"][0.0]) @ up], axis=-1)

    tall = joint.corner.slant_width(joint.height, board)
    sides = sorted((way * near, way * far))
    wood = {
        "outer": np.array([(x, y) for x, y in ((sides[0], 0), (sides[1], 0), (sides[1], tall), (sides[0], tall))]),
        "bottom": np.array([(sides[0], -wide), (sides[1], -wide), (sides[1], 0), (sides[0], 0)]),
        "inner": np.array([(sides[0], -wide - tall), (sides[1], -wide - tall), (sides[1], -wide), (sides[0], -wide)]),
    }
    return wood, {surface: flat(surface, points) for surface, points in carried_round(joint, board).items()}


def step_carry(joint: Joint, unit: str) -> tuple[Frame, ...]:
    """The mark on the inner face, across the bottom edge, and up the outer face, for both boards."""
    return tuple(_carry(joint, board, unit) for board in BOARDS)


def _carry(joint, board, unit):
    wood, lines = unrolled(joint, board)
    shapes = []
    for surface, outline in wood.items():
        shapes += outlined(Shape(f"{board} {'far end' if surface == 'bottom' else surface}", outline), surface)
    foot, head = lines["outer"]
    shapes += [Shape("trace", points, f"mark on {surface}") for surface, points in lines.items()]
    left, deep = wood["bottom"][0]
    turn = np.linspace(0, np.pi, 13)
    for arris in (0.0, deep):  # each face folds back about its arris
        shapes += arrow(*np.stack([left - 3 - 9 * np.sin(turn), arris + 9 * np.cos(turn)], axis=-1), size=6)
    stock = np.array([1.0, 0]) if board == "tail" else np.array([-1.0, 0])
    tool = try_square if abs(joint.corner.end_line(board)) < SAME else bevel
    shapes += tool(foot, stock, head - foot, 0.42 * joint.height)
    across = ("2 edge: square" if joint.corner.plan_angle == 90 else
              "2 bottom edge:\nalong the other\nboard's level line")
    angle = joint.corner.end_line(board)
    setting = "square" if abs(angle) < SAME else f"{aside(angle, unit)}\nin {hundred(unit)}"
    first = board == "tail"  # the second drawing repeats only the numbers
    callouts = [
        (f"3 outer face:\n{setting}" if first else f"3: {setting}", (foot + head) / 2),
        (across if first else "2", lines["bottom"].mean(axis=0)),
        ("1 inner face:\npencil line" if first else "1", lines["inner"].mean(axis=0)),
    ]
    if first:
        callouts.append(("folds here", np.array([wood["bottom"][1, 0], deep])))
    return Frame(tuple(shapes), tuple(callouts), f"{board.capitalize()} board, unfolded")


# Step 5


def step_bevel(joint: Joint, unit: str) -> tuple[Frame, ...]:
    """A bevel set by two marks on a scrap of wood, for each end line; a square one needs none. The end bevel on the last."""
    lines = {abs(joint.corner.end_line(board)): f"{board} board's end line" for board in BOARDS}
    if abs(joint.corner.tail_end_line - joint.corner.pin_end_line) < SAME:
        lines = {abs(joint.corner.tail_end_line): "both end lines"}
    *others, last = (_set_bevel(angle, what, unit, number == 0) if angle >= SAME else _set_square(what)
                     for number, (angle, what) in enumerate(lines.items()))
    return tuple(map(_on_scrap, (*others, _with_end_bevel(joint, last, unit))))


def _on_scrap(frame):
    """A frame with a scrap under its lines, its edge below, as long as they need."""
    ends = [shape.points[-1, 0] for shape in frame.shapes if shape.name in ("setting", "end bevel")]
    left, right, high = min(-18.0, min(ends) - 14), max(70.0, *ends) + 26, 112.0
    outline = np.array([(left, 0), (right, 0), (right, high), (left, high)])
    return replace(frame, shapes=(*outlined(Shape("prop", outline), "scrap"), *frame.shapes))


def _with_end_bevel(joint, frame, unit):
    """A frame of step 5 with the line of the end bevel, from the same foot, and the angle that tries the sawn end in step 6."""
    tilt, opening = joint.sawn_bevel, joint.corner.dihedral
    if abs(tilt) < SAME:
        return frame
    foot, head = np.array([0.0, 0]), np.array([0.0, 100])
    mark = head - [100 * np.tan(np.radians(tilt)), 0]

    def round_the_foot(turn):
        return 64 * np.stack([np.cos(turn), np.sin(turn)], axis=-1)

    drawn = (line("size", *round_the_foot(np.linspace(0, np.radians(opening), 25)), name="angle of the end bevel"),
             line("size", head, mark, name="offset of the end bevel"), line("waste", foot, mark, name="end bevel"))
    named = ((f"step 6: {aside(tilt, unit)}", head + 0.7 * (mark - head)),
             (f"step 6: {degrees(opening)}", round_the_foot(0.3)))
    return replace(frame, shapes=(*frame.shapes, *drawn), callouts=(*frame.callouts, *named))


def _set_bevel(angle, what, unit, first):
    """A scrap with one setting; the second of two repeats only the numbers."""
    over = 100 * np.tan(np.radians(angle))
    whole = hundred(unit)
    foot, head, mark = np.array([0.0, 0]), np.array([0.0, 100]), np.array([over, 100])
    shapes = [
        line("square", foot, head, name="square line"),
        line("size", head, mark, name="offset"),
        *bevel(foot, (1, 0), mark - foot, 52),
        line("trace", foot, mark, name="setting"),
    ]
    dots = [
        *([("start on\nthe edge", foot)] if first else []),
        (f"square up,\n{whole}", head / 2 + [0, 22]),
        (f"{aside(angle, unit)} along", (head + mark) / 2 + [0, 0]),
    ]
    return Frame(tuple(shapes), tuple(dots), f"{what.capitalize()}, on a scrap")


def _set_square(what):
    foot = np.array([0.0, 0])
    shapes = [*try_square(foot, (1, 0), (0, 1), 84), line("trace", foot, (0, 100), name="setting")]
    return Frame(tuple(shapes), (("no bevel:\na square", np.array([0.0, 60])),), f"{what.capitalize()}")


# Step 6


def step_saw_end(joint: Joint, unit: str) -> tuple[Frame, ...]:
    """The tail board tipped in the vice; and the ends from above, at their true slant: as both are sawn, the outer face
    nearest, and in a row below turned round; and as the bevel tries one."""
    if saw_turns(joint, "tail")[1]:
        sawn = [_end_section(joint, board, unit, turned_round) for turned_round in (False, True) for board in BOARDS]
        return _tipped(joint), *sawn, _tested_end(joint)
    return _tipped(joint), _end_section(joint, "tail", unit)


def enlarged(joint: Joint) -> int:
    """The factor by which the end's slant is drawn larger than it is: 1, 2, 5 or 10."""
    slant = abs(np.tan(np.radians(joint.corner.end_bevel)))
    return next((factor for factor in (1, 2, 5, 10) if slant * factor >= 0.3), 10) if slant > np.tan(np.radians(SAME)) else 1


def _end_section(joint, board, unit, turned_round=False):
    """A board in the vice from straight above: a flush end at its true slant, a square one with what stands proud enlarged.

    turned_round: with its inner face towards the maker, for an end that is sawn at its true slant.
    """
    thick, factor = joint.thickness(board), 1 if joint.end == "flush" else enlarged(joint)
    over = thick * np.tan(np.radians(joint.corner.end_bevel))  # the inner arris stands so much further out
    tall, body = 60.0, 95.0
    flush = np.array([(0.0, 0.0), (-over * factor * tall / thick, tall)])  # the outer face lies nearer to whoever looks at it
    square = np.array([(flush[:, 0].min(), 0.0), (flush[:, 0].min(), tall)])
    cut, guide, told = (flush, np.array([(0, 0), (0, tall)]), "square") if joint.end == "flush" else (square, flush, "flush")
    way = unit_vector(cut[1] - cut[0])
    side = np.array([way[1], -way[0]]) * -1
    heel, tip = (cut[1] + 30 * way, cut[0] - 8 * way) if turned_round else (cut[0] - 30 * way, cut[1] + 8 * way)
    plate = np.array([heel, tip, tip + 3 * side, heel + 3 * side])
    shapes = [
        *outlined(Shape("steel", plate), "saw"),
        *outlined(Shape(f"{board} wood", np.array([*cut, (body, tall), (body, 0)])), f"{board} board"),
        line("square" if joint.end == "flush" else "to come", *guide, name=told),
        line("end line", *cut, name="saw cut"),
    ]
    hand, turns = saw_turns(joint, board)
    tilted = abs(joint.corner.end_bevel) >= SAME
    outer, inner = np.array([0.62 * body, 0]), np.array([0.62 * body, tall])
    notes, callouts = (), []
    if turns:
        face, near, far = ("inner", inner, 0.0) if turned_round else ("outer", outer, tall)
        notes = _sawing_notes(joint, face, near, turns, np.array([0.3 * body, far]))
    else:  # its names stand among the callouts, which keep clear of one another however small it is drawn
        callouts += [("inner face", inner), ("outer face,\ntowards you", outer),
                     ("saw square\nto the face", cut[0] - 20 * way + 1.5 * side)]
        if not at_the_bevel(joint):
            callouts += [("flush end", guide[0] * 0.4 + guide[1] * 0.6),
                         (f"proud {length(abs(over), unit)}" + ("" if factor == 1 else f"\n(drawn ×{factor})"),
                          np.array([flush[:, 0].mean(), 0.0 if over > 0 else tall]))]
    alike = not turns and (not tilted or joint.tail_thickness == joint.pin_thickness)
    caption = f"{'Either' if alike else board.capitalize()} board {'turned round' if turned_round else 'from above'}"
    frame = Frame(tuple(shapes), tuple(callouts), caption, 1.0 if turns else 1.3, notes, extra=turned_round)
    return _flipped(frame, (hand == "right") != turned_round, turned_round)


def _sawing_notes(joint, face, near, turns, tip):
    """Notes at two places of the picture: to which hand the saw's tip turns, and which face is towards the maker."""
    return ((f"saw's tip\n{degrees(abs(joint.corner.end_bevel))} {turns}", tip, "above"),
            (f"{face} face,\ntowards you", near, "below"))


def _tested_end(joint):
    """The tail board's sawn end at its true slant, the bevel round its outer arris."""
    thick, body = 60.0, 70.0
    arris, inner = np.array([0.0, 0]), np.array([-thick * np.tan(np.radians(joint.corner.end_bevel)), thick])
    shapes = [*outlined(Shape("tail wood", np.array([arris, inner, (body, thick), (body, 0)])), "tail board"),
              *bevel(arris, (1, 0), inner, 56, round_it=True)]
    notes = (("blade across\nthe end", inner, "above"), ("stock on\nouter face", np.array([0.6 * body, 0]), "below"))
    return Frame(tuple(shapes), (), f"Check, {degrees(joint.corner.dihedral)}", 0.9, notes)


def _flipped(frame, across, over=False):
    """The frame with right and left exchanged, and `over`, near and far; words stay as they are written."""
    turn = np.array([-1 if across else 1, -1 if over else 1])
    return replace(frame, shapes=tuple(replace(shape, points=shape.points * turn) for shape in frame.shapes),
                   callouts=tuple((words, point * turn) for words, point in frame.callouts),
                   notes=tuple((words, point * turn, where) for words, point, where in frame.notes))


def _jaw(left, foot, wide, high):
    """A vice jaw (4, 2) from `left` on, `high` over the lowest point of the board that it holds."""
    return np.array([(left, foot - 16), (left + wide, foot - 16), (left + wide, foot + high), (left, foot + high)])


def _saw_over(top):
    """The saw's blade (4, 2), seen from behind, over the upper end (2,) of a plumb line."""
    return top + np.array([(-1.2, 4), (-1.2, 32), (1.3, 32), (1.3, 4)])


def _tipped(joint):
    """The tail board in the vice, or the pin board where the tail board needs no tipping; the outer face towards the viewer."""
    board = "pin" if abs(joint.corner.tail_end_line) < SAME <= abs(joint.corner.pin_end_line) else "tail"
    angle, tall = joint.corner.end_line(board), joint.corner.slant_width(joint.height, board)
    outline = np.array([(0, 0), (1.2 * tall, 0), (1.2 * tall, tall), (-tall * np.tan(np.radians(angle)), tall)])
    waste = np.array([(0, 0), (-tall * np.tan(np.radians(angle)), tall), (-0.45 * tall, tall), (-0.45 * tall, 0)])
    spin = turned(-angle)  # the end line leans to −x; tip it until it is plumb
    outline, waste = outline @ spin, waste @ spin
    shapes = [*outlined(Shape(f"{board} outer", outline), f"{board} board"), Shape("waste wood", waste, "waste")]
    low, top = outline[:, 1].min(), outline[3]
    jaw = _jaw(0.16 * tall, low, 0.8 * tall, 0.42 * tall)
    shapes += [
        *outlined(Shape("jaw", jaw), "vice jaw"),
        *outlined(Shape("steel", _saw_over(top)), "saw"),
        line("end line", outline[0], top, name="end line"),
    ]
    plumb = [(0, low - 12), (0, top[1] + 40)]
    shapes.append(line("square", *plumb, name="plumb"))
    callouts = [
        ("blade\nplumb", top + np.array([0, 18])),
        ("jaw", jaw.mean(axis=0) + np.array([0.2 * tall, 0])),
        ("waste", waste.mean(axis=0)),
        ("outer face", outline.mean(axis=0) + np.array([0.25 * tall, 0.1 * tall])),
    ]
    way = "lower" if angle > 0 else "raise"
    tipped = (f"{board.capitalize()} board: {way} its other end {degrees(abs(angle))}" if abs(angle) >= SAME
              else "Either board: end line plumb")
    frame = Frame(tuple(shapes), tuple(callouts), tipped, 1.7)
    return _flipped(frame, board == "pin")


# Step 7


def step_mark_tails(joint: Joint, unit: str) -> tuple[Frame, ...]:
    """The tail board's outer face laid flat: each mark's distance up from the bottom edge."""
    surface = joint.tail_board.surfaces["outer"]
    tall, corner = joint.slant_width, joint.corner
    reach = 1.1 * tall
    blank = surface.flat(surface.blank)
    blank = np.stack([np.minimum(blank[:, 0], reach), blank[:, 1]], axis=1)
    pieces = waste(joint)
    shapes = [*outlined(Shape("tail outer", blank), "tail board"), *(Shape("waste wood", piece, "waste") for piece in pieces)]
    lines = joint.lines_on("tail", "outer")
    for each in lines:
        kind = each.kind if each.kind in ("cheek", "end line") else "baseline"
        shapes.append(Shape(kind, each.flat, each.name))
    slant = -np.tan(np.radians(corner.tail_end_line))
    for low, high in joint.marks:
        middle = (low + high) / 2
        shapes.append(line("centre", (slant * middle, middle), (0.42 * reach + slant * middle, middle), name="centre line"))
    bottom = np.array([(slant * mark, mark) for mark in joint.marks.ravel()])
    roots = tail_roots(joint)
    callouts = [
        (f"{length(mark, unit)}; {length(root, unit)}", point)
        for mark, root, point in zip(joint.marks.ravel(), roots, bottom, strict=True)
    ]
    if len(callouts) > MOST_MARKS:  # the text gives all
        callouts = callouts[: MOST_MARKS // 2] + callouts[-MOST_MARKS // 2 :]
    if len(callouts) <= MANY:
        halves = joint.marks[0, 0] / 2, (joint.marks[-1, 1] + tall) / 2
        callouts += [("saw off for a half pin", np.array([slant * y + 2, y])) for y in halves]
        callouts += [("chop out", piece.mean(axis=0)) for piece in pieces[1:-1]]
        reach = corner.baseline_offset(joint.pin_thickness)
        base = next(each.flat for each in lines if each.kind == "baseline")
        callouts.append((f"baseline, {length(reach, unit)}\nsquare in", 0.45 * base[0] + 0.55 * base[1]))
    return (Frame(tuple(shapes), tuple(callouts), "Heights from the bottom edge: at the end line; at the baseline"),)


# Step 8


def step_across(joint: Joint, unit: str) -> tuple[Frame, ...]:
    """The bevel (or a square) on the tail board's end; and a pencil on a block, where the lines are level."""
    struck = _bevel_on_end(joint, unit)
    return (struck, _pencil_on_block(joint)) if pencil_block(joint) else (struck,)


def _end_view(joint, lower=0.0):
    out, end = joint.corner.vector("tail_outward"), joint.corner.vector("pin_outward")
    return View(_bearing(0.75 * out, end), 20 - lower)


def _marked_blank(joint):
    """The tail board, its end sawn, with tails on its outer face and the lines across its end."""
    cut, far = joint.tail_board, 0.75 * joint.height
    level = joint.corner.vector("tail_level")
    blank = cut.blank.copy()
    run = (blank[:, 1] @ level) - far
    blank[:, 1] -= np.maximum(run, 0)[..., None] * level
    marks = [
        (
            each.name,
            each.kind if each.kind in ("cheek", "baseline") else "end line",
            each.ends,
            each.surface,
        )
        for each in joint.lines
        if each.board == "tail" and each.surface in ("outer", "end")
    ]
    return plank("tail", blank, marks)


def _bevel_on_end(joint, unit):
    view = _end_view(joint)
    lines = [each for each in joint.lines_on("tail", "end") if each.side == "upper"]
    each = lines[0]
    outer, inner = each.ends if abs(joint.planes["tail outer"].height_of(each.ends[0])) < 1e-6 else each.ends[::-1]
    end, out = joint.planes["tail end"].normal, joint.corner.vector("tail_normal")
    arris = unit_vector(joint.tail_board.blank[0, 0, 1] - joint.tail_board.blank[0, 0, 0])
    away = unit_vector(out - (out @ end) * end)  # square to the arris, in the plane of the end, out of the outer face
    blade = unit_vector(inner - outer)
    board = _marked_blank(joint)
    long = np.linalg.norm(inner - outer)
    leaf = block("blade", "steel", outer - 10 * blade, (long + 26) * blade, 5 * arris, 1.2 * end)
    stock = block("stock", "tool", outer - 20 * arris + 0.05 * out - 6 * end, 52 * arris, 9 * away, 7.2 * end)
    shapes = seen([board, stock, leaf], view)
    square, bevelled = abs(each.from_square) < SAME, abs(joint.corner.end_bevel)
    side = "below" if falls(each) == "down" else "above"
    tool = "square" if square else "bevel"
    callouts = [
        (f"{tool}'s stock on\nthe outer face", view.flat(stock.points.mean(axis=0))),
        (
            "blade across the end" if square else "blade" if joint.end == "flush" else
            f"blade: {side} square\ntowards the inner face",
            view.flat(inner),
        ),
    ]
    return Frame(tuple(shapes), tuple(callouts), f"With a {tool}" + f", {joint.end} end" * (bevelled >= SAME))


def _pencil_on_block(joint):
    view = _end_view(joint, 4)
    board = _marked_blank(joint)
    each = next(line for line in joint.lines_on("tail", "end") if line.name == Cheek(joint.tails, "lower"))
    under = float(each.ends[0, 2]) - PENCIL_THICK / 2  # the block's top
    inner = joint.planes["tail inner"].normal
    tip = each.ends[np.argmin(inner @ each.ends.T)]
    out, end = joint.corner.vector("tail_outward"), joint.corner.vector("pin_outward")
    start = tip + 16 * end + 8 * out
    thick = min(pencil_block(joint), under)
    levels = [*np.linspace(0, under - thick, 1 + round((under - thick) / SCRAP)), under]
    pile = [block("block" if high == under else "scrap", "prop", [*(start - 14 * out)[:2], low], 34 * end, 30 * out,
                  np.array([0, 0, high - low])) for low, high in itertools.pairwise(levels) if high > low]
    middle = start + 14 * end
    shapes = seen([board, *pile], view)
    way = view.flat(middle) - view.flat(tip)
    shapes += pencil(view.flat(tip), np.degrees(np.arctan2(way[1], way[0])), 0.5 * joint.height)
    foot = view.flat(np.array([board.points.mean(axis=0) * [1, 1, 0]]))[0]
    callouts = [
        ("pencil on\na flat block", view.flat(pile[-1].points.mean(axis=0))),
        *([("scraps", view.flat(np.mean([each.points for each in pile[:-1]], axis=(0, 1))))] if len(pile) > 1 else []),
        ("board at\nits lean" if abs(joint.corner.tail_lean) >= SAME else "board\nupright", foot + np.array([0, 12])),
    ]
    return Frame(tuple(shapes), tuple(callouts), "Or with no setting")


# Step 9


def step_saw_tails(joint: Joint, unit: str) -> tuple[Frame, ...]:
    """From above, the board turned by wedges; how the outer waste is sawn off, or which; and, between tails, the chisel.

    Where the saw turns aside, the row below has the board in the vice for either piece.
    """
    chopped = [_chopping(joint, "tail")] if joint.tails > 1 else []
    held = [_piece_off(joint, face) for face in ("outer", "inner") if abs(joint.corner.end_bevel) >= SAME]
    return _turned(joint), *held, _saw_off(joint, unit) or _tails_left(joint), *chopped


def _turned(joint):
    wedge, wide, thick = lean_wedge(joint), joint.slant_width, joint.tail_thickness
    spin, flat = turned(-wedge), FLAT_TOP if abs(wedge) >= SAME else 0.0
    ripped = thick * np.tan(np.radians(joint.corner.tail_lean)) if joint.rims == "level" else 0.0
    # seen from above with the end up, the bottom edge lies at the right: x down the board's width, y out of its outer face
    board = np.array([(0, 0), (-wide, 0), (ripped - wide, -thick), (ripped, -thick)]) @ spin
    low, high = board[:, 0].min(), board[:, 0].max()
    top, bottom = board[:, 1].max() + flat, board[:, 1].min() - flat
    front = np.array([board[2], board[3], (board[3, 0], bottom), (board[2, 0], bottom)])
    back = np.array([board[0], board[1], (board[1, 0], top), (board[0, 0], top)])
    ends = [_thick_end(each) for each in (back, front)]
    shapes = []
    if abs(wedge) >= SAME:
        shapes += [*outlined(Shape("wedge", around(front)), "wedge"), *outlined(Shape("wedge", around(back)), "wedge")]
    shapes += outlined(Shape("tail end", board), "tail board's end")
    for y, height in ((top, 16), (bottom, -16)):
        shapes += outlined(
            Shape("jaw", np.array([(low - 12, y), (high + 12, y), (high + 12, y + height), (low - 12, y + height)])), "jaw"
        )
    for mark in joint.marks.ravel():
        at = np.array([[-mark, 0], [-mark, -thick]]) @ spin
        middle = at.mean(axis=0)[0]
        reach = thick * np.cos(np.radians(wedge)) / 2 + 2 + abs(thick * np.sin(np.radians(wedge))) / 2
        y = at.mean(axis=0)[1]
        shapes.append(line("cheek", (middle, y - reach), (middle, y + reach), name="saw cut"))
    cut = np.array([-joint.marks.ravel()[-1], -thick / 2]) @ spin
    callouts = [
        ("saw straight\nacross", cut),
        *((f"thick end, {intended(abs(wedge))}", thick_end) for thick_end in ends if abs(wedge) >= SAME),
        ("vice jaw", np.array([high, top + 8])),
        ("outer face", board[[0, 0, 1]].mean(axis=0)),
        ("inner face", board[[3, 3, 2]].mean(axis=0)),
        ("bottom edge", board[[0, 3]].mean(axis=0)),
    ]
    return Frame(tuple(shapes), tuple(callouts), "Tail board from above")


def _piece_off(joint, face):
    """The tail board in the vice, this face towards the viewer, the baseline plumb: with the outer one, the piece above the
    last tail is sawn off; with the inner one, the board rolled over, the piece below the first."""
    rolled, tall = face == "inner", joint.slant_width
    along, up = joint.corner.vector("tail_level"), joint.corner.vector("tail_up") * (-1 if rolled else 1)
    low, high = joint.tail_board.blank[int(rolled), 0][::-1 if rolled else 1]  # of its end, as the board stands
    plumb = turned(joint.corner.tail_end_line * (1 if rolled else -1))

    def flat(points):
        return (np.array(points) - low) @ np.stack([along, up], axis=1) @ plumb

    lines = {each.name: flat(each.ends) for each in joint.lines_on("tail", face)}
    base = lines["baseline"][np.argsort(lines["baseline"][:, 1])]
    cheek = lines[Cheek(1, "lower") if rolled else Cheek(joint.tails, "upper")]
    at_end, at_base = cheek[np.argsort(abs(cheek[:, 0] - base[0, 0]))[::-1]]
    far = low + 1.2 * tall * along
    outline = flat([low, far, far + tall * up, high])
    foot = outline[:, 1].min()
    jaw, saw = _jaw(base[0, 0] + 0.16 * tall, foot, 0.5 * tall, 0.42 * tall), _saw_over(base[1])
    piece = np.array([at_end, at_base, base[1], outline[3]])
    shapes = [
        *outlined(Shape(f"tail {face}", outline), "tail board"),
        Shape("waste wood", piece, "piece to saw off"),
        *(line("cheek", *each, name="tail's side") for name, each in lines.items() if isinstance(name, Cheek)),
        line("baseline", base[0], at_base, name="baseline"),
        line("end line", at_base, base[1], name="saw cut"),
        *outlined(Shape("jaw", jaw), "vice jaw"),
        *outlined(Shape("steel", saw), "saw"),
        line("square", base[0] - [0, 12], base[1] + [0, 40], name="plumb"),
    ]
    notes = _sawing_notes(joint, face, np.array([outline[:, 0].mean(), foot - 16]), shoulder_turns(joint)[rolled], saw[2])
    caption = "The piece below the first tail: the board rolled over" if rolled else "The piece above the last tail"
    callouts = (("saw off", piece.mean(axis=0)), ("jaw", jaw.mean(axis=0)),
                ("top edge" if rolled else "bottom edge", 0.03 * outline[0] + 0.97 * outline[1]))
    return Frame(tuple(shapes), callouts, caption, 1.2, notes, extra=True)


def _saw_off(joint, unit):
    """The board cut along the baseline, held as in step 6, the saw on the last tail's side; None where that is level.

    Seen from whichever side has the deeper face at the right. Rolled over, the first tail's side lies as the last one's did,
    the other face in the place of the one.
    """
    off = falls_behind(joint)
    if abs(off) < TOUCHES:
        return None
    side, deep = Cheek(joint.tails, "upper"), float(joint.corner.baseline_offset(joint.tail_thickness))
    faces, turn = (("outer", "inner"), -1) if off > 0 else (("inner", "outer"), 1)
    higher, lower = rise_at_the_shoulder(joint, "tail", side)[::turn]
    edge = rise_at_the_shoulder(joint, "tail", "tail top")[::turn]
    near, far = np.array([0.0, higher]), np.array([deep, lower])
    tops = np.stack([[0.0, deep], edge], axis=1)
    foot = lower - 0.8 * deep
    way = unit_vector(far - near)
    up = np.array([-way[1], way[0]])
    plate = np.array([near - 1.2 * deep * way, far + 0.4 * deep * way])
    level, aside_by = np.array([deep, near[1]]), np.array([deep, 0.0])
    shapes = [
        *outlined(Shape("tail wood", np.array([(0, foot), near, far, (deep, foot)])), "tail"),
        Shape("waste wood", np.array([near, *tops, far]), "waste"),
        *outlined(Shape("steel", np.array([*plate, plate[1] + 0.4 * deep * up, plate[0] + 0.6 * deep * up])), "saw"),
        line("square", near, level + 0.9 * aside_by, name="level"),
        line("size", level + 0.7 * aside_by, far + 0.7 * aside_by, name="how much deeper"),
    ]
    callouts = [("tail", np.array([deep / 2, foot + 0.3 * deep])),
                (length(abs(off), unit), (level + far) / 2 + 0.7 * aside_by)]
    notes = (("deeper: first\n{} face,\nthen {} face".format(*faces), np.array([deep, foot]), "below"),)
    return Frame(tuple(shapes), tuple(callouts), "Saw off the outer pieces", 1.2, notes)


def _thick_end(wedge):
    """A place in the thick end of a wedge (4, 2), seen from above: along the board, then back along the jaw."""
    left, right = (wedge[[0, 3]], wedge[[1, 2]])
    thick, thin = (left, right) if np.ptp(left[:, 1]) > np.ptp(right[:, 1]) else (right, left)
    return 0.85 * thick.mean(axis=0) + 0.15 * thin.mean(axis=0)


def waste(joint: Joint) -> list[np.ndarray]:
    """The pieces between and beside the tails on the outer face, from the bottom, each (4, 2), flat."""
    lines = joint.lines_on("tail", "outer")
    cheeks = [each.flat[np.argsort(abs(joint.planes["pin inner"].height_of(each.ends)))[::-1]]
              for each in lines if each.kind == "cheek"]
    end = next(each.flat for each in lines if each.name in ("cut-off line", "end line"))
    baseline = next(each.flat for each in lines if each.kind == "baseline")
    bounds = sorted((*cheeks, *(np.array([end[at], baseline[at]]) for at in (0, 1))), key=lambda pair: pair[0, 1])
    return [np.array([*low, *high[::-1]]) for low, high in zip(bounds[::2], bounds[1::2], strict=True)]


def _tails_left(joint):
    surface, tall = joint.tail_board.surfaces["outer"], joint.slant_width
    blank = surface.flat(surface.blank)
    blank = np.stack([np.minimum(blank[:, 0], 0.7 * tall), blank[:, 1]], axis=1)
    shapes = [*outlined(Shape("tail outer", blank), "tail board")]
    pieces = waste(joint)
    shapes += [Shape("waste wood", piece, "waste") for piece in pieces]
    for low, high in ((piece[:2], piece[2:]) for piece in pieces):
        shapes += [line("cheek", *side, name="saw cut") for side in (low, high) if 0 < side[:, 1].mean() < tall]
    callouts = [("saw off", pieces[0].mean(axis=0)), ("saw off", pieces[-1].mean(axis=0))]
    if len(pieces) > 2:
        callouts.append(("chop out", pieces[1].mean(axis=0)))
    return Frame(tuple(shapes), tuple(callouts), "Waste", 0.7)


def _chopping(joint, board):
    """A part of a board laid flat, its outer face up, and a chisel in the waste, along the sawn side nearer the top edge."""
    corner, thick, sides = joint.corner, joint.thickness(board), waste_cheeks(joint, board)
    out, into, up = corner.vector(f"{board}_normal"), corner.vector(f"{board}_level"), unit_vector(corner.vector("corner_line"))
    shoulder, end = joint.planes[f"{other(board)} inner"], joint.planes[f"{board} end"]
    faces = [joint.planes[f"{board} {face}"] for face in ("outer", "inner")]
    # by side of the waste (lower, upper), face and place (baseline, end)
    socket = np.array([[[meet(plane, joint.planes[cheek], face) for plane in (shoulder, end)] for face in faces]
                       for cheek in sides.values()])
    behind = shoulder.normal * np.sign(shoulder.normal @ into)
    rear = Plane.through(socket[0, 0, 0] + 1.1 * thick * behind, behind)
    reach = (socket @ up).min() - 0.8 * thick, (socket @ up).max() + 0.8 * thick
    rims = [Plane(up, float(height)) for height in reach]
    corners = np.array([[[meet(plane, rim, face) for rim in rims] for plane in (end, rear)] for face in faces])
    base = np.array([meet(shoulder, rim, faces[0]) for rim in rims])
    marks = [
        ("waste", "waste wood", [*socket[0, 0], *socket[1, 0, ::-1]], "outer"),
        ("waste", "waste wood", [*socket[0, :, 1], *socket[1, ::-1, 1]], "end"),
        ("baseline", "baseline", base, "outer"),
        *(("saw cut", "cheek", side[0], "outer") for side in socket),
        ("line across the end", "cheek", socket[0, :, 1], "end"),
        ("line across the end", "end line", socket[1, :, 1], "end"),
    ]
    foot, through = socket[1, :, 0]
    along, narrow = unit_vector(foot - through), np.linalg.norm(socket[1, 0, 0] - socket[0, 0, 0])
    chisel = chisel_standing(foot, along, -behind, up, 0.6 * min(narrow, thick), 3.6 * thick)
    lying = np.stack([-into, np.cross(out, -into), out])  # the end towards +x, the outer face up
    view = View(-25 * np.sign(lying[1] @ up), 30)

    def flat(points):
        return view.flat(np.asarray(points) @ lying.T)

    shapes = seen([each.moved(lambda points: points @ lying.T) for each in (plank(board, corners, marks), *chisel)], view)
    callouts = (
        ("chisel", flat(chisel[1].points.mean(axis=0))),
        ("line\nacross\nthe end" if at_the_bevel(joint) else "saw cut", flat(socket[1, :, 1].mean(axis=0))),
        ("waste", flat(socket[:, 0].mean(axis=(0, 1)))),
    )
    rims = [flat(corners[:, :, edge].mean(axis=(0, 1))) for edge in (0, 1)]
    way = "\N{LEFTWARDS ARROW}" if rims[1][0] < rims[0][0] else "\N{RIGHTWARDS ARROW}"
    notes = ((f"top edge\n{way}", rims[1], "below"),)
    return Frame(tuple(shapes), callouts, f"{board.capitalize()} board, outer face up", 1.6, notes)


# Step 10


def scribing_scene(joint: Joint) -> tuple:
    """(solids, turn): the boards as they lie for scribing, the pin board end up in the vice, in axes of `end_up`.

    Solids: the pin board, the pieces of the tail board, two jaws, a prop on the bench top, and the clamp that holds the board
    and the prop to the bench from the bench's end, which is where x is largest; packing under a square end, or the stop against
    the tails' ends with its two clamps.
    """
    joint = replace(joint, length=max(joint.length, SCENE))
    turn = end_up(joint, "pin")
    tail = joint.tail_board.moved(scribing_shift(joint))
    wide = float(np.linalg.norm(joint.pin_board.blank[0, 0, 1] - joint.pin_board.blank[0, 0, 0]))
    thick = joint.pin_thickness

    def held(points):
        return points @ turn.T

    pin = plank("pin", joint.pin_board.blank).moved(held)
    tails = [piece.moved(held) for piece in jointed(tail)]
    end = held(joint.pin_board.blank[:, 0])
    left, top = end[..., 0].min(), end[0, 0, 2]  # the outer arris of the end
    bench = top - stands_out(joint)  # its top lies level with the jaws'
    jaws = [
        block("jaw", "jaw", (left - 16, y, bench - 42), (wide + 32, 0, 0), (0, deep, 0), (0, 0, 42))
        for y, deep in ((0, 22), (-thick, -22))
    ]
    far = tails[0].points[:, 1].min()
    y = -thick - PROP_AT - PROP
    ys = (y, y + PROP)
    xs = _under(tails[0], ys)
    tall = _over(tails[0], "inner", xs, ys).min() - bench
    prop = block("prop", "prop", (xs[0], y, bench), (xs[1] - xs[0], 0, 0), (0, PROP, 0), (0, 0, tall))
    edges = min(left - 16, xs[0] - 6), max(left + wide + 16, xs[1] + 6, _under(tails[0], ys, "outer")[1] + 6)
    deep = y - far + BEYOND
    top_slab = block("bench top", "wedge", (edges[0], y - deep, bench - 18), (edges[1] - edges[0], 0, 0),
                     (0, -thick - 23 - y + deep, 0), (0, 0, 18))
    clamp = _clamp(tails[0], xs, y + PROP / 2, edges[1], bench - 18)
    holds = _packing(joint, held, tails[0]) if packing(joint) >= SAME else _stop(joint, pin, tails, left, wide, top)
    return [pin, *tails, *holds, *jaws, top_slab, prop, *clamp], turn


def _stop(joint, pin, tails, left, wide, top):
    """The stop on the pin board's outer face, and the clamps that hold it, one beside each edge, under the tail board."""
    high, deep = (top - 28.0, top - 16.0), joint.pin_thickness
    reached = np.array([point[0] for piece in tails for point in piece.points if abs(point[1]) < 1e-6])
    ends = min(left, reached.min()) - 4, max(left + wide, reached.max()) + 4
    stop = block("stop", "prop", (ends[0], 0, top - BEARS), (ends[1] - ends[0], 0, 0), (0, STOP, 0),
                 (0, 0, BEARS + stop_above(joint)))
    clamps = []
    for way in (-1, 1):  # towards less x, and towards more
        edge = [_arris_at(pin, way, z) for z in high]  # of the pin board, at the height of the clamp's jaws
        stop_end = ends[0] if way < 0 else ends[1]
        out, into = (pick([*edge, stop_end]) for pick in ((min, max) if way < 0 else (max, min)))
        reach = into - out - 12.0 * way
        size = np.array([0, 0, high[1] - high[0]])
        clamps += [block("stop clamp", "tool", (out + 2 * way, y, high[0]), (reach - 2 * way, 0, 0), (0, thick, 0), size)
                   for y, thick in ((-deep, -9.0), (STOP, 9.0))]
        clamps.append(block("stop clamp", "tool", (out + 2 * way, -deep - 9, high[0]), (7.0 * way, 0, 0),
                            (0, deep + STOP + 18, 0), size))
    return [stop, *clamps]


def _arris_at(pin, way, z):
    """How far the pin board reaches towards less or more x (way −1 or 1) at a height, as it is held for scribing."""
    reached = []
    for face in pin.faces:
        for first, second in zip(face.corners, np.roll(face.corners, -1, axis=0), strict=True):
            if min(first[2], second[2]) <= z <= max(first[2], second[2]) and first[2] != second[2]:
                reached.append(first[0] + (z - first[2]) / (second[2] - first[2]) * (second[0] - first[0]))
    return max(reached, key=lambda x: way * x)


def _under(body, ys, face="inner"):
    """From where to where, along the pin board's end, a face of the tail board covers a prop between the places ys."""
    corners = next(each for each in body.faces if each.kind == f"tail {face}").corners[:, :2]
    spans = []
    for y in ys:
        at = [first[0] + (y - first[1]) / (second[1] - first[1]) * (second[0] - first[0])
              for first, second in zip(corners, np.roll(corners, -1, axis=0), strict=True)
              if min(first[1], second[1]) <= y <= max(first[1], second[1]) and first[1] != second[1]]
        spans.append((min(at), max(at)))
    return max(low for low, _ in spans) + 4, min(high for _, high in spans) - 4


def _over(body, face, xs, ys):
    """Heights of the tail board's "inner" or "outer" face, (2, 2), over the places xs and ys, as it lies for scribing."""
    corners = next(each for each in body.faces if each.kind == f"tail {face}").corners
    normal = np.cross(corners[1] - corners[0], corners[2] - corners[0])
    x, y = np.meshgrid(xs, ys, indexing="ij")
    return corners[0, 2] - ((x - corners[0, 0]) * normal[0] + (y - corners[0, 1]) * normal[1]) / normal[2]


def _clamp(body, xs, y, end, low):
    """A bar clamp round the bench's end: its screw on the tail board, over the prop at (xs, y), an arm under the bench."""
    x, ys = sum(xs) / 2, (y - 5, y + 5)
    touch = _over(body, "outer", (x - 4, x + 4), ys).max()
    arm, back = max(touch + 12, _over(body, "outer", (*xs, end), ys).max() + 3), (end + 2, y - 5, low - 10)
    long, wide = end + 2 - (x - 5), np.array([0, 10.0, 0])
    return [
        block("clamp", "tool", back, (10, 0, 0), wide, (0, 0, arm + 9 - back[2])),
        block("clamp", "tool", (x - 5, y - 5, low - 10), (long, 0, 0), wide, (0, 0, 10)),
        block("clamp", "tool", (x - 5, y - 5, arm), (long, 0, 0), wide, (0, 0, 9)),
        block("screw", "steel", (x - 4, y - 4, touch), (8, 0, 0), (0, 8, 0), (0, 0, arm - touch)),
    ]


def _packing(joint, held, body):
    """The thin wedge between a square pin end and the tail board's inner face."""
    end = held(joint.pin_board.blank[:, 0])
    inner = next(face for face in body.faces if face.kind == "tail inner").corners
    normal = np.cross(inner[1] - inner[0], inner[2] - inner[0])
    over = ((inner[0] - end) @ normal) / normal[2]  # straight up from each corner of the end
    open_side = int(np.argmax(np.abs(over[:, 0])))
    foot = end[:, 0]
    outline = [foot[open_side], foot[1 - open_side], foot[open_side] + [0, 0, over[open_side, 0]]]
    return [prism("packing", "wedge", outline, end[open_side, 1] - end[open_side, 0])]


def step_scribe(joint: Joint, unit: str) -> tuple[Frame, ...]:
    """Two frames: the tail board lying on the pin board's end, in the vice; and the same from the side."""
    solids, _ = scribing_scene(joint)
    return _lying(joint, solids), _from_the_side(joint, solids, unit)


def _named(solids):
    """The first solid of each name."""
    return {solid.name: solid for solid in reversed(solids)}


def _lying(joint, solids):
    view, named = View(24, 24), _named(solids)
    shapes = seen(solids, view)
    first = [solid for solid in solids if solid.name == "tail board"][1]
    tip = view.flat(first.faces[0].corners[[0, 1]].mean(axis=0))
    slanted = abs(joint.corner.tail_end_line) >= SAME and "packing" not in named  # then there are callouts enough
    if slanted:
        straight, edge = _straight_back(named["tail board"])
        shapes.append(line("square", *view.flat(straight), name="straight back"))
    shapes += knife(tip, 62, 0.4 * joint.height)
    pin = named["pin board"].faces[0].corners
    callouts = [
        ("tail board", view.flat(named["tail board"].faces[0].corners.mean(axis=0))),
        ("knife", tip),
        ("pin board", view.flat(0.1 * pin[[0, 3]].mean(axis=0) + 0.9 * pin[[1, 2]].mean(axis=0))),
        ("jaw", view.flat(named["jaw"].points.max(axis=0) - [12, 0, 20])),
        ("bench's end", view.flat(named["bench top"].points.max(axis=0) - [0, 8, 9])),
    ]
    if slanted:
        callouts.append((f"askew {askew(joint)[0]}", view.flat((straight[1] + edge) / 2)))
    if "packing" in named:
        callouts.append((f"packing of {degrees(packing(joint))}", view.flat(named["packing"].points.mean(axis=0))))
    else:
        callouts += [("stop", view.flat(named["stop"].points.mean(axis=0))),
                     ("stop's clamp", max(((*view.flat(point), point @ view.towards_viewer) for solid in solids
                                        if solid.name == "stop clamp" for point in solid.points), key=lambda at: at[2])[:2])]
    return Frame(tuple(shapes), tuple(callouts), "In the vice")


def _straight_back(body):
    """A line on the tail board's outer face, straight back from the vice (2, 3); and where the board's edge has got to (3,)."""
    corners = next(each for each in body.faces if each.kind == "tail outer").corners
    near, far = np.split(corners[np.argsort(-corners[:, 1])], 2)
    way = np.sign(far[:, 0].mean() - near[:, 0].mean())  # the line starts where it stays on the board
    start, end = (each[np.argmax(way * each[:, 0])] for each in (near, far))
    edge = start + PROP_AT / (start[1] - end[1]) * (end - start)
    return np.array([start, [start[0], edge[1], edge[2]]]), edge


def _from_the_side(joint, solids, unit):
    """Every solid's outline seen along the pin board's end, the outer face at the right."""
    outlines, shapes = {}, []
    order = ("bench top", "jaw", "pin board", "packing", "tail board", "stop", "prop", "screw", "clamp", "stop clamp")
    kinds = {"bench top": "wedge", "pin board": "pin wood", "tail board": "tail wood", "packing": "wedge", "stop": "prop",
             "prop": "prop",
             "jaw": "jaw", "clamp": "tool", "screw": "steel", "stop clamp": "tool"}
    for solid in sorted(solids, key=lambda each: order.index(each.name)):
        outlines.setdefault(solid.name, []).append(outline := around(solid.points[:, 1:]))
        shapes += outlined(Shape(kinds[solid.name], outline), solid.name)
    tilt, far = joint.corner.end_bevel, outlines["tail board"][0]
    way = "lies level" if abs(tilt) < SAME else f"{'rises' if tilt > 0 else 'drops'} {aside(tilt, unit)}\nin {hundred(unit)}"
    callouts = [
        (way, far[np.argmin(far[:, 0] - 0.01 * far[:, 1])]),
        ("clamp", outlines["clamp"][2].mean(axis=0)),
        (f"prop, {length(prop_height(joint), unit)}\ntall", outlines["prop"][0].mean(axis=0) - np.array([0.35 * PROP, 0])),
        ("bench top", outlines["bench top"][0].mean(axis=0)),
    ]
    if "stop" in outlines:
        callouts += [("stop", outlines["stop"][0][np.argmax(outlines["stop"][0].sum(axis=1))]),
                     ("stop's clamp", outlines["stop clamp"][2].mean(axis=0))]
    return Frame(tuple(shapes), tuple(callouts), "From the side")


# Step 11


def step_together(joint: Joint, unit: str) -> tuple[Frame, ...]:
    """The chisel beside a pin; and the pin board on its way in, a level on its top edge."""
    return _chopping(joint, "pin"), _slide_in(joint)


def _slide_in(joint):
    distance = 0.55 * scribing_shift(joint)
    pin = joint.pin_board.moved(distance)
    solids = [*jointed(joint.tail_board), *jointed(pin)]
    level, up = joint.corner.vector("pin_level"), np.array([0, 0, 1.0])
    if joint.rims == "level":
        middle = pin.blank[:, :, 1].mean(axis=(0, 1))
        wide = np.cross(up, level)
        tool = block("level", "tool", middle - 34 * level - 4 * wide + [0, 0, 0.02], 68 * level, 8 * wide, 12 * up)
        solids.append(tool)
    view = View(_bearing(*(joint.corner.vector(f"{board}_outward") for board in BOARDS)) - 20, 28)
    shapes = seen(solids, view)
    rear = view.flat(pin.blank[0, 1].mean(axis=0))
    ahead = view.flat(pin.blank[0, 1].mean(axis=0) - 40 * level)
    shapes += arrow(rear, ahead, size=8)
    callouts = [("push", (rear + ahead) / 2)]
    if joint.rims == "level":
        callouts.append(("bubble as\non bench", view.flat(tool.points.mean(axis=0))))
    left_out = "wedges" if abs(joint.corner.tail_lean) >= SAME else "block"  # what holds the tail board
    return Frame(tuple(shapes), tuple(callouts), f"Push the pin board in ({left_out} not drawn)")


STEPS = (
    step_rip,
    step_prop,
    step_project,
    step_carry,
    step_bevel,
    step_saw_end,
    step_mark_tails,
    step_across,
    step_saw_tails,
    step_scribe,
    step_together,
)


def frame_rows(joint: Joint, number: int, unit: str = "mm") -> tuple[tuple[Frame, ...], tuple[Frame, ...]]:
    """The `Frame`s of a step, 1 to 11, and those of the row below, for which only a page's width has room; often none."""
    drawn = STEPS[number - 1](joint, unit)
    above, below = (tuple(frame for frame in drawn if frame.extra == extra) for extra in (False, True))
    return above, below


def frames(joint: Joint, number: int, unit: str = "mm") -> tuple[Frame, ...]:
    """The `Frame`s of a step that every drawing of it has, on paper too."""
    return frame_rows(joint, number, unit)[0]


def step_row(shown: tuple[Frame, ...], step: "BenchStep", size: float, width: float, tall: float, wide: float = DRAWN,
             close: bool = False) -> tuple:
    """A `BenchStep` on paper, hung from (0, 0): its `frames` at the left, its words beside and below; and how tall it is, mm.

    width: mm of all. All letters are of `size` points, those of the drawing too, which is `wide` mm wide, `WIDER` or `WIDEST`
    times as much where room is left, and as tall as its callouts and `tall` need. close: with less air, the check on the
    line on which what to do ends.
    """
    wide = min(_widened(wide, step.number, len(shown)), width - BESIDE)
    nominal = wide / PAPER_PIXEL * SIZE / size  # pixels of the sketch's own scale over which the drawing is laid
    left, high = wide + 3, max(least_height(shown, nominal) * wide / nominal, tall)
    do, check = " ".join(step.do), f"{step.check} {CAUTION} {step.caution}"
    told = [f"{do} {CHECK} {check}"] if close else [do, f"{CHECK} {check}"]
    items: list = []
    y, lead = 0.4 if close else 0.6, f"{step.number} {step.title}."
    for text in told:
        written, y = _around(_parts(lead, text, (CHECK, CAUTION, *step.begins)), size, left, high, y, width)
        items, lead = items + written, ""

    def draw(canvas):
        Sketch(canvas, scale=canvas.width / nominal).draw(shown, nominal, nominal * high / wide)

    items += [Picture(draw, np.array([[0, -high], [wide, 0]])), Stroke("rule", np.array([[0, 0], [width, 0]]))]
    return items, max(high, y) + (0.3 if close else 0.5)


def _widened(wide, number, pictures):
    """How wide the drawing of a step is that so many pictures share, where most are `wide` mm."""
    if pictures > 2:
        return wide * (WIDEST if number == LOOKED_AT or pictures > 3 else WIDER)
    if pictures == 2 and number in SCENES:
        return max(wide, min(wide * WIDER, DRAWN))
    return wide


def _around(parts, points, left, high, y, width):
    """A paragraph from `left` as far as `high` mm down, and over the whole width below that; and how far it reaches."""
    rows = max(0, int(np.ceil((high - y - 0.3) / (CLOSE * height_of(points)))))
    beside = _lines(parts, points, width - left)
    items, y = _written(beside[:rows], points, left, y)
    rest = tuple((words, weight) for line in beside[rows:] for words, weight, _ in line)
    below, y = _written(_lines(rest, points, width), points, 0.0, y)
    return items + below, y


def _lines(parts, points, width):
    """The lines of a paragraph, as of `wrapped_parts`, a little narrower than `width` mm."""
    return wrapped_parts(parts, points, width - 0.9)


def _written(lines, points, left, y):
    """Lines as `Label`s, from `left` and from `y` mm down; and how far they reach."""
    row = CLOSE * height_of(points)
    items = [Label(words, np.array([left + at, -y - row * (number + 0.8)]), points, weight=weight, colour=INK)
             for number, line in enumerate(lines) for words, weight, at in line]
    return items, y + row * len(lines)


def paragraph(lead: str, text: str, points: float, left: float, y: float, width: float) -> tuple:
    """A paragraph as `Label`s, from `left` to `width` and from `y` down, its `lead` bold; and how far it reaches. In mm."""
    return _written(_lines(_parts(lead, text), points, width - left), points, left, y)


def _parts(lead, text, bold=()):
    """A paragraph as (words, weight): its lead bold, and the phrases in `bold`."""
    split = re.split(f"({'|'.join(map(re.escape, bold))})", text) if bold else [text]
    return ((lead, "bold"), *((part, "bold" if part in bold else "normal") for part in split))


class StepStill(Still):
    """The drawing of one step; on a page with its heading, what to do, the check and the caution below."""

    def __init__(self, joint: Joint, step: "BenchStep", unit: str) -> None:
        super().__init__(lambda: _housed(joint, step.number, unit), step.spoken)
        listed = "\n".join(f"* {each}" for each in step.do)
        for words in step.begins:
            listed = listed.replace(words, f"**{words}**")
        self._page = (f"**{step.number}. {step.title}**\n\n{listed}\n\n**Check.** {step.check}\n\n"
                      f"**Take care.** {step.caution}")

    def _ipython_display_(self):
        from IPython.display import display

        data, metadata = self._repr_mimebundle_()
        display(data, metadata=metadata, raw=True)
        display({"text/markdown": self._page, "text/plain": self.words}, raw=True)


def _housed(joint, number, unit):
    """A canvas with one step drawn, as a notebook has room for it."""
    shown, high = [row for row in frame_rows(joint, number, unit) if row], round(HEIGHT * HOUSED)
    canvas = Canvas(round(WIDTH * HOUSED), high * len(shown))
    for below, row in enumerate(reversed(shown)):
        Sketch(canvas, (0.0, high * below), HOUSED).draw(row)
    return canvas


def bench_steps(joint: Joint, unit: str = "mm") -> tuple[StepStill, ...]:
    """The eleven bench steps of a `Joint` as `Still`s, in order; lengths in `unit`, "mm" or "in".

    >>> import splaywork as sw
    >>> joint = sw.Joint(sw.Corner(16, 11), height=120, tail_thickness=18, tails=3)
    >>> len(sw.bench_steps(joint))
    11
    """
    checks.instance("joint", joint, Joint, "Joint(Corner(16, 11), height=120, tail_thickness=12)")
    checks.choice("unit", unit, UNITS)
    return tuple(StepStill(joint, step, unit) for step in bench_step_words(joint, unit))
