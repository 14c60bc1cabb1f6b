"""Figures of the derivation: the level line on a square end, the baseline, and the corner as a triangle on a ball."""

import numpy as np

from ..common import checks
from ..common.printing import degrees
from ..common.tolerances import SAME_ANGLE
from ..drawing.canvas import DASH, Canvas
from ..drawing.palette import BENCH, GUIDE, INK, MEASURE, PIN, TAIL
from ..drawing.still import Still
from ..drawing.view import View, fit, on_circle
from .corner import Corner, one_corner
from .picture import HEAVY, LIGHT, MEDIUM
from .projection_picture import one_head
from .words import from_square

BALL = 150.0  # pixels: radius of the ball
ROUND = np.radians(np.linspace(0, 360, 121))


def square_end_and_baseline_still(corner: Corner, thickness: float = 18.0) -> Still:
    """The level line on a square tail end, and the baseline seen along the corner line, as a `Still`.

    Parameters
    ----------
    corner : Corner
        A scalar corner.
    thickness : float
        Of both boards, mm.

    Returns
    -------
    Still

    Raises
    ------
    ValueError
        For another thing than a corner, or a thickness that isn't positive.

    >>> import splaywork as sw
    >>> sw.square_end_and_baseline_still(sw.Corner(28, 24)).words.split(". ")[0]
    "On the left is the tail board's square end, flat, with the outer arris at its right"
    """
    corner, thickness = one_corner(corner), checks.size("thickness", thickness)
    canvas = Canvas(920, 330)
    _square_end(canvas, corner, (30, 40, 330, 280))
    _baseline(canvas, corner, thickness, (480, 40, 900, 280))
    words = ("On the left is the tail board's square end, flat, with the outer arris at its right. From the outer arris go 1 "
             f"mm into the wood. {_square_end_words(corner)} On the right both boards are seen along the corner line, "
             f"{degrees(corner.dihedral)} apart. The baseline lies d from the corner line. The sine of "
             f"{degrees(corner.dihedral)}, times d, is the other board's thickness, tₒ.")
    return Still(lambda: canvas, words)


def _square_end_words(corner):
    """From the point 1 mm into the wood to the level line."""
    level = corner.level_on_square_end
    if abs(level) < SAME_ANGLE:
        return "This point is as high as the start, so the level line is square to the arris."
    way = _back(corner)
    return (f"Then go {way}, parallel to the arris, until you are back at the first height. The level line joins the start to "
            f"this point, {from_square(abs(level))}. The tangent of {degrees(abs(level))} is the distance {way}, in mm.")


def _back(corner):
    """The way back to the first height, after a step into the wood."""
    return "down" if corner.tail_lean > 0 else "up"


def _square_end(canvas, corner, frame):
    """The end in its own plane, as one who looks at it sees it: the outer arris on the right, the wood to the left of it."""
    drop = np.tan(np.radians(corner.level_on_square_end))
    low, high = min(-drop, 0) - 0.4, max(-drop, 0) + 0.4
    wood = np.array([[0, low], [-1, low], [-1, high], [0, high]])
    scale, shift = fit(wood, (frame[0] + 110, frame[1], frame[2], frame[3]), largest=150)

    def place(points):
        return np.asarray(points) * scale + shift

    start, inside, back = place([[0, 0], [-1, 0], [-1, -drop]])
    leans = abs(corner.level_on_square_end) >= SAME_ANGLE
    canvas.polygons(fill=TAIL, edge="none").set_verts([place(wood)])
    canvas.lines(GUIDE, LIGHT).set_segments([place(wood[[1, 2]])])
    canvas.lines(width=HEAVY).set_segments([place(wood[[3, 0]])])
    steps = [np.array([start, inside])] + [np.array([inside, back])] * leans
    canvas.lines(MEASURE, MEDIUM).set_segments(steps)
    canvas.lines(width=MEDIUM, dash=DASH).set_segments([np.array([start, back])])
    top = place([0, high])
    up = top + np.array([[16, -62], [16, -22]])
    canvas.lines(GUIDE, LIGHT).set_segments([up])
    long = [step for step in steps if np.linalg.norm(step[1] - step[0]) > 20]
    canvas.polygons(fill=MEASURE).set_verts([one_head(step) for step in long])
    canvas.polygons(fill=GUIDE).set_verts([one_head(up)])
    canvas.text(frame[0], 306, "Square end of the tail board", size=11, weight="bold")
    canvas.text(top[0] + 10, top[1] - 12, "outer arris")
    canvas.text(up[0, 0] + 8, up[:, 1].mean() - 4, "up")
    above = 1 if drop >= 0 else -1
    canvas.text((start[0] + inside[0]) / 2, start[1] + (8 if above > 0 else -18), "1", colour=MEASURE, align="center",
                weight="bold")
    moves = "stays level" if not leans else "climbs by sin a" if drop > 0 else "falls by |sin a|"
    canvas.text(inside[0] - 10, inside[1] + (4 if above > 0 else -14), moves, align="right")
    canvas.text(back[0] + 8, back[1] - (22 if above > 0 else -12), "level line")
    if leans:
        canvas.text(inside[0] - 10, inside[1] - above * max(abs(inside[1] - back[1]) / 2, 14) - 4, _back(corner),
                    colour=MEASURE, align="right", weight="bold")


def _baseline(canvas, corner, thickness, frame):
    """Both boards cut square to the corner line: the tail board's outer face lies along x, the inside is above it."""
    turn = np.radians(corner.dihedral)
    tail, pin = np.array([1.0, 0.0]), np.array([np.cos(turn), np.sin(turn)])
    inward = np.array([0.0, 1.0]), np.array([np.sin(turn), -np.cos(turn)])
    far, d = 4.2 * thickness, thickness / np.sin(turn)
    inner = d * tail + d * pin  # where the two inner faces meet
    boards = [np.array([[0, 0], far * tail, far * tail + thickness * inward[0], inner]),
              np.array([[0, 0], inner, far * pin + thickness * inward[1], far * pin])]
    scale, shift = fit(np.concatenate(boards), frame, largest=2.9)

    def place(points):
        return np.asarray(points) * scale + shift

    for fill, board in zip((TAIL, PIN), boards, strict=True):
        canvas.polygons(fill=fill, edge=INK).set_verts([place(board)])
    base, across = d * tail, np.array([0.5 * far * pin, 0.5 * far * pin + thickness * inward[1]])
    canvas.lines(GUIDE, 1.6, DASH).set_segments([place([base, inner + 1.2 * thickness * pin])])
    canvas.lines(MEASURE, MEDIUM).set_segments([place([[0, 0], base]), place(across)])
    canvas.lines(GUIDE, 1.6).set_segments([place(0.45 * d * np.stack(
        [np.cos(np.linspace(0, turn, 20)), np.sin(np.linspace(0, turn, 20))], axis=-1))])
    canvas.text(frame[0], 306, "Baseline, seen along the corner line", size=11, weight="bold")
    canvas.text(*(place(base / 2) - (0, 20)), "d", colour=MEASURE, align="center", weight="bold")
    canvas.text(*(place(base) - (0, 20)), "baseline", align="left")
    canvas.text(*(place(across.mean(axis=0)) + np.array([0, 7])), "tₒ", colour=MEASURE, align="center", weight="bold")
    canvas.text(*(place(0.75 * far * tail + thickness / 2 * inward[0]) - (0, 4)), "tail board", align="center")
    canvas.text(*(place(0.85 * far * pin + thickness * inward[1]) + np.array([10, -4])), "pin board")
    canvas.text(*(place([0, 0]) - (8, 20)), "corner line", align="right")


def sphere_still(corner: Corner, turn: float = -20.0, tilt: float = 20.0) -> Still:
    """The corner as a triangle on a ball, and its five parts in Napier's circle where the plan angle is 90, as a `Still`.

    Parameters
    ----------
    corner : Corner
        A scalar corner.
    turn, tilt : float
        Of the view, degrees.

    Returns
    -------
    Still

    Raises
    ------
    ValueError
        For another thing than a corner, or a view that is no number.

    >>> import splaywork as sw
    >>> sw.sphere_still(sw.Corner(28, 24)).words.split(". ")[0]
    'Here the dihedral is 101.0°, so the side C is 79.0°'
    """
    corner = one_corner(corner)
    canvas = Canvas(920, 400)
    view = View(corner.plan_angle / 2 + 180 + checks.number("turn", turn), checks.number("tilt", tilt))
    middle = np.array([270.0, 206.0])
    ways = {"plumb": np.array([0.0, 0.0, 1.0]), "tail": corner.vector("tail_normal"), "pin": corner.vector("pin_normal")}
    canvas.polygons(fill=BENCH, edge=GUIDE).set_verts([middle + BALL * on_circle(ROUND)])
    sides = {("plumb", "tail"): "A", ("plumb", "pin"): "B", ("tail", "pin"): "C"}
    inside = middle + BALL * view.flat(sum(ways.values()) / 3)
    front, back = canvas.lines(width=MEDIUM, edged=True), canvas.lines(width=MEDIUM, dash=DASH)
    seen: list[np.ndarray] = []
    hidden: list[np.ndarray] = []
    for (start, end), label in sides.items():
        arc = _great_arc(ways[start], ways[end])
        towards = arc @ view.towards_viewer
        flat = middle + BALL * view.flat(arc)
        for pair, near in zip(np.stack([flat[:-1], flat[1:]], axis=1), towards[:-1] >= 0, strict=True):
            (seen if near else hidden).append(pair)
        at = flat[len(flat) // 2]
        _beside(canvas, at, inside - at, label, weight="bold")
    front.set_segments(seen)
    back.set_segments(hidden)
    arrows = [np.array([middle, middle + BALL * view.flat(way)]) for way in ways.values()]
    canvas.lines(GUIDE, LIGHT).set_segments(arrows)
    for name, (_, tip) in zip(("plumb", "tail board's normal", "pin board's normal"), arrows, strict=True):
        out = (tip - middle) / max(np.linalg.norm(tip - middle), 1e-9)
        _beside(canvas, middle + BALL * out, out, name, weight="bold")
    x, y = arrows[0][1] + (9, -34)
    canvas.text(x, y, "W", weight="bold")
    canvas.text(270, 8, "A: 90° + a,  B: 90° + b,  C: 180° − dihedral,  W: 180° − w", align="center")
    words = f"Here the dihedral is {degrees(corner.dihedral)}, so the side C is {degrees(180 - corner.dihedral)}."
    if corner.plan_angle == 90:
        _napier(canvas, np.array([720.0, 206.0]))
        words += (" Beside the ball stand the five parts of that triangle in Napier's circle: 90° + a, minus η, the end bevel, "
                  "minus ξ, 90° + b. The sine of a part is the product of its neighbours' tangents. The sine is also the "
                  "product of the other two parts' cosines.")
    return Still(lambda: canvas, words)


def _beside(canvas, at, way, label, **style):
    """Write a label beside a point, on the side towards which `way` points."""
    way = way / max(np.linalg.norm(way), 1e-9)
    align = "left" if way[0] > 0.25 else "right" if way[0] < -0.25 else "center"
    x, y = at + 12 * way - (0, 4)
    canvas.text(x, y, label, align=align, **style)


def _great_arc(start, end, count=41):
    """The shorter arc from one unit vector to another, (count, 3)."""
    span = np.arccos(np.clip(start @ end, -1, 1))
    share = np.linspace(0, 1, count)[:, None]
    return (np.sin((1 - share) * span) * start + np.sin(share * span) * end) / np.sin(span)


def _napier(canvas, middle):
    """Five sectors, the two sides beside the right angle on top."""
    radius = 130.0
    canvas.polygons(fill="none", edge=INK).set_verts([middle + radius * on_circle(ROUND)])
    bounds = np.radians(90 + 72 * np.arange(5))
    rims = middle + radius * on_circle(bounds)
    canvas.lines(width=MEDIUM).set_segments([np.array([middle, rims[0]])])
    canvas.lines(GUIDE, LIGHT).set_segments([np.array([middle, rim]) for rim in rims[1:]])
    for part, at in zip(("90° + b", "−ξ", "end bevel", "−η", "90° + a"), np.radians(126 + 72 * np.arange(5)), strict=True):
        x, y = middle + 0.6 * radius * np.array([np.cos(at), np.sin(at)])
        canvas.text(x, y - 4, part, align="center")
    canvas.text(middle[0], middle[1] + radius + 12, "the right angle", align="center", colour=GUIDE)
    canvas.text(middle[0], 40, "Napier's circle", size=11, weight="bold", align="center")
