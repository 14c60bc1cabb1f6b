"""Still pictures for the pages of a notebook: they carry the lesson without a kernel, and say it in words."""

from typing import Any

import numpy as np

from ..common import checks
from ..common.planes import meet
from ..common.printing import intended
from ..common.tolerances import SAME_ANGLE
from ..drawing.canvas import DASH, Canvas
from ..drawing.palette import GUIDE, INK, RIM, SHORTCUT, TAIL
from ..drawing.still import MovingStill, Still
from ..drawing.view import fit, on_circle
from .corner import Corner, one_corner
from .picture import LIGHT, STUB, CornerPicture, Pictorial
from .stubs import face_planes, rims, stubs
from .words import corner_words, from_square, lean_words, tail_end_words


def corner_still(corner: Corner, **how: Any) -> Still:
    """The picture of `CornerPicture.update(corner, **how)` as a `Still`.

    >>> import splaywork as sw
    >>> print(sw.corner_still(sw.Corner(16, 0)).words.partition(". ")[0])
    The tail board leans out 16°; the pin board is upright
    """
    corner = one_corner(corner)
    picture = CornerPicture()
    picture.update(corner, **how)
    return Still(lambda: picture.canvas, corner_words(corner))


def lean_dragged_still(corner: Corner, step: float = 2.0, turn: float = 5.0) -> Still:
    """The picture of a corner while both its leans are dragged to zero and back, as a moving `Still`.

    corner: a scalar `Corner`, which the first frame shows. step: degrees from one frame to the next, of the larger lean.
    turn: of the view, in degrees; seen so, both boards that lean out 30° have room for their names.

    >>> import splaywork as sw
    >>> print(sw.lean_dragged_still(sw.Corner(4, 2), step=4).words.partition(". ")[0])
    On the screen the picture moves: both boards tip upright and back, and the numbers in the picture follow
    """
    corner = one_corner(corner)
    step, turn = checks.size("step", step, "degrees"), checks.number("turn", turn)
    steps = int(np.ceil(max(abs(corner.tail_lean), abs(corner.pin_lean)) / step))
    shares = [*np.linspace(1, 0, steps + 1)] if steps else [1.0]
    picture = CornerPicture()

    def show(share):
        picture.update(Corner(share * corner.tail_lean, share * corner.pin_lean, corner.plan_angle), turn=turn)
        return picture.canvas

    words = ("On the screen the picture moves: both boards tip upright and back, and the numbers in the picture follow. These "
             f"are the numbers at the largest leans. {corner_words(corner)}")
    return MovingStill(show, words, [*shares, *shares[-2:0:-1]], held=(0, steps))


class EndFace:
    """Part of the tail board's end, drawn larger, with level lines across it, in a frame of a canvas.

    The viewer looks along the board at its end, bottom edge down: the outer arris is on the right.
    """

    SHOWN = 64  # mm of the outer arris

    def __init__(self, canvas: Canvas, title: str, frame: tuple[int, ...], column: tuple[int, ...]) -> None:
        self.frame = frame
        self._wood = canvas.polygons(fill=TAIL, edge=INK)
        self._square = canvas.lines(GUIDE, LIGHT, (0, (1, 2)))
        self._level = canvas.lines(INK, 2.2)
        self._gauge = canvas.lines(SHORTCUT, 2.2, DASH)
        left, top = column
        canvas.text(left, top, title, weight="bold", size=11)
        self._texts = [canvas.text(left, top - 28 - 24 * row, colour=colour)
                       for row, colour in enumerate((INK, SHORTCUT))]
        self._dotted = canvas.text(left, top - 82, "dotted: square to the outer arris", colour=GUIDE)
        self._outer = canvas.text(0, 0, "outer arris", colour=GUIDE)

    def update(self, level: float, lean: float, across: float) -> None:
        """level: true level line; lean: what the bevel is set to; degrees from square. across: width, mm."""
        drops = -across * np.tan(np.radians([level, lean]))
        hand = np.array([-1, 1])  # x is counted from the outer arris, which is on the right
        starts = self.SHOWN * np.array([0.25, 0.5, 0.75])
        outline = np.array([[0, 0], [across, drops[0]], [across, self.SHOWN + drops[0]], [0, self.SHOWN]])
        reach = np.vstack([outline, [[across, drops[1]], [across, self.SHOWN]]]) * hand
        scale, shift = fit(reach, self.frame, largest=2.6)

        def lines(drop):
            ends = [[[0, start], [across, start + drop]] for start in starts]
            return np.array(ends) * hand * scale + shift

        self._wood.set_verts([outline * hand * scale + shift])
        self._outer.set_position((shift[0] + 6, shift[1] + 1))
        self._dotted.set_text("dotted: square to the outer arris" if abs(level) >= SAME_ANGLE else "")
        self._square.set_segments(lines(0))
        self._level.set_segments(lines(drops[0]))
        self._gauge.set_segments(lines(drops[1]))
        self._texts[0].set_text(f"level line: {from_square(level)}")
        self._texts[1].set_text(f"bevel at the tail board's lean: {intended(lean)}")


def tail_end_still(corner: Corner, thickness: float = 18.0) -> Still:
    """The tail board's end with its level lines; thickness in mm of both boards.

    A flush and a square end are drawn side by side, or once where their level lines are the same.

    >>> import splaywork as sw
    >>> print(sw.tail_end_still(sw.Corner(16, 11)).words.partition(". ")[0])
    On a flush end the level lines are 15.7° from square
    """
    corner = one_corner(corner)
    thickness = checks.size("thickness", thickness)
    canvas = Canvas(920, 210)
    same = abs(corner.level_on_flush_end - corner.level_on_square_end) < SAME_ANGLE
    flush = EndFace(canvas, "The tail board's end" if same else "Flush end", (16, 12, 176, 198), (216, 178))
    flush.update(corner.level_on_flush_end, corner.tail_lean, corner.baseline_offset(thickness))
    if not same:
        square = EndFace(canvas, "Square end", (466, 12, 626, 198), (666, 178))
        square.update(corner.level_on_square_end, corner.tail_lean, thickness)
    return Still(lambda: canvas, tail_end_words(corner))


def words_still(corner: Corner, height: float = 120.0, thickness: float = 18.0) -> Still:
    """The words of a corner, written on one picture of it; height and thickness in mm.

    >>> import splaywork as sw
    >>> print(sw.words_still(sw.Corner(16, 11)).words.partition(". ")[0])
    The tail board is on the right, leaning out 16°
    """
    corner = one_corner(corner)
    height = checks.size("height", height)
    thickness = checks.size("thickness", thickness)
    canvas = Canvas(920, 440)
    draw_words(canvas, corner, height, thickness)
    words = (f"The tail board is on the right, {lean_words(corner.tail_lean)}. The pin board is on the left, "
             f"{lean_words(corner.pin_lean)}. The outer faces meet in the corner line, and both rims are level.")
    return Still(lambda: canvas, words)


def draw_words(canvas: Canvas, corner: Corner, height: float = 120.0, thickness: float = 18.0) -> None:
    """Draw a corner with its words on a canvas of 920 × 440 pixels, or of any size in that proportion: all is scaled to it."""
    by = canvas.width / 920
    pictorial = Pictorial(canvas, (262 * by, 16 * by, 658 * by, 424 * by), shortcut=False, beside=False)
    pictorial.update(corner, height, thickness, 15, 32)
    joined = stubs(corner, height, thickness, STUB)
    foot, head = joined.corner_line
    (tail_outer, _), (_, pin_inner) = (face_planes(corner, board, thickness) for board in ("tail", "pin"))
    baseline = np.array([meet(tail_outer, pin_inner, rim) for rim in rims(height)])
    inner_head, tail_rim, pin_rim = joined.tail.vertices[[7, 6]][0], joined.tail.vertices[6], joined.pin.vertices[6]
    ways = [(end - inner_head) / np.linalg.norm(end - inner_head) for end in (tail_rim, pin_rim)]
    turn = np.linspace(0, 1, 20)[:, None]
    fan = (1 - turn) * ways[0] + turn * ways[1]
    plan_arc = inner_head + 34 * fan / np.linalg.norm(fan, axis=1, keepdims=True)
    pin_foot, pin_far = joined.pin.vertices[[0, 3]]
    canvas.lines(GUIDE, 1.6, DASH).set_segments([pictorial.place(baseline)])
    canvas.lines(GUIDE, 1.6).set_segments([pictorial.place(plan_arc)])
    seen_end_on = draw_end_on(canvas, corner.tail_lean, height, thickness, np.array([700, 36, 900, 236]) * by)
    rim = (joined.pin.vertices[1] + joined.pin.vertices[2]) / 2
    callouts = [
        ("plan angle: between the level edges", "left", 396, pictorial.place(plan_arc[10])),
        ("rim: the top or the bottom edge", "left", 330, pictorial.place(rim)),
        ("corner line: the end line of both", "left", 150, pictorial.place(foot + 0.3 * (head - foot))),
        ("level line: the bottom edge is one", "left", 60, pictorial.place((pin_foot + pin_far) / 2)),
        ("baseline: how far the joint reaches", "right", 396, pictorial.place(baseline[0] + 0.8 * (baseline[1] - baseline[0]))),
        ("lean: from plumb to the face", "right", 270, seen_end_on),
    ]
    for board, outer in pictorial.unnamed.items():
        block, place = getattr(joined, board), ("left", 240) if board == "pin" else ("below", 40)
        spot = block.faces[block.names.index("outer" if outer else "top")].mean(axis=0)
        callouts.append((f"{board} board", *place, pictorial.place(spot)))
    leaders = []
    for text, side, up, point in callouts:
        edge, y = {"left": 14, "below": 660, "right": 906}[side] * by, up * by
        written = canvas.width_of(canvas.text(edge, y, text, size=10 * by, align="left" if side == "left" else "right"))
        inner = edge + written * (1 if side == "left" else -1)
        leaders.append([(edge, y - 6 * by), (inner, y - 6 * by), point])
    canvas.lines(GUIDE, LIGHT).set_segments(leaders)


def draw_end_on(canvas: Canvas, lean: float, height: float, thickness: float, frame: np.ndarray) -> np.ndarray:
    """Draw the tail board seen along its length, outside on the right, with its lean; where the lean's arc is, in pixels.

    lean in degrees; height and thickness in mm; frame: left, bottom, right, top in pixels.
    """
    by = canvas.width / 920
    out, wide = height * np.tan(np.radians(lean)), thickness / np.cos(np.radians(lean))
    wood = np.array([[-wide, 0], [0, 0], [out, height], [out - wide, height]])
    plumb = np.array([[0, 0], [0, height]])
    turn = np.radians(90 - lean * np.linspace(0, 1, 20))
    arc = 0.8 * height * on_circle(turn)
    left, bottom, right, top = frame
    scale, shift = fit(np.vstack([wood, plumb]), (left, bottom + 26 * by, right, top), largest=1.45 * by)
    canvas.polygons(fill=RIM, edge=INK).set_verts([wood * scale + shift])
    ground = np.array([[left + by, shift[1]], [right - by, shift[1]]])
    canvas.lines(GUIDE, LIGHT).set_segments([ground])
    canvas.lines(GUIDE, 1.6, DASH).set_segments([plumb * scale + shift])
    canvas.lines(GUIDE, 1.6).set_segments([arc * scale + shift])
    canvas.text((left + right) / 2, bottom + 4 * by, "the tail board, seen end-on", size=10 * by, align="center")
    return arc[10] * scale + shift
