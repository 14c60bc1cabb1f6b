"""The projection said in words: what the hands do at each stage, and what is then seen."""

from typing import TYPE_CHECKING

import numpy as np

from ..common.boards import other
from ..common.printing import DECIMAL, degrees, intended, offset_parts, typed
from ..common.printing import length as printed_length
from ..common.tolerances import SAME_ANGLE
from .words import BASES

if TYPE_CHECKING:
    from .corner import Corner
    from .projection import Projection

ONTO_PIN, ONTO_TAIL = "tail board onto pin board", "pin board onto tail board"
CARRIED, FLAT, AT_LEAN, TOGETHER = "carried round to the outer face", "laid flat", "bevel at the lean", "two bevels together"
STAGES = (ONTO_PIN, ONTO_TAIL, CARRIED, FLAT, AT_LEAN, TOGETHER)  # in hands' order
BEVELS = (AT_LEAN, TOGETHER)
LEAST = {"mm": (0.05, "0.1 mm"), "in": (25.4 / 128, "1/64 in"), DECIMAL: (0.0127, "0.001 in")}  # what a rule still shows
MARKS = {ONTO_PIN: "pin", ONTO_TAIL: "tail"}  # which board a stage marks


def tenths(length: float, unit: str) -> str:
    """A length in mm as a rule shows it: tenths of a mm, or 64ths of an inch; "less than …" for what is smaller."""
    least, name = LEAST[unit]
    return f"less than {name}" if 0 < abs(length) < least else printed_length(abs(length), unit)


def offset_in(angle: float, unit: str) -> str:
    """"50.0 mm in 100 mm" or "2″ in 4″": the offset of a line at `angle` degrees from square, without its sign."""
    return " in ".join(offset_parts(abs(angle), unit))


def gap_in(corner: "Corner", marked: str, unit: str) -> tuple[float, ...]:
    """(degrees, mm at 100 mm or 4 in up) by which the shortcut line slants too much on a board."""
    lean, true = abs(corner.lean(other(marked))), abs(corner.end_line(marked))
    return lean - true, BASES[unit] * (np.tan(np.radians(lean)) - np.tan(np.radians(true)))


def slants(angle: float, unit: str) -> str:
    """"slants 26.6° from square, 50.0 mm in 100 mm", or "is square"."""
    return "is square" if abs(angle) < SAME_ANGLE else f"slants {intended(abs(angle))} from square, {offset_in(angle, unit)}"


def refuse_bevels(corner: "Corner", stage: str) -> None:
    """ValueError for a stage with the bevel at the lean where the plan angle isn't 90."""
    if stage in BEVELS and corner.plan_angle != 90:
        raise ValueError(f"The stage “{stage}” needs a plan angle of 90°, and this one is {intended(corner.plan_angle)}: "
                         "set the plan angle to 90, or choose another stage.")


def stage_words(projection: "Projection", stage: str, unit: str = "mm", again: bool = False) -> str:
    """What to do at a stage, and what is seen; again: True after the other board was marked. ValueError as `refuse_bevels`."""
    corner, marked, held = projection.corner, projection.marked, projection.held
    refuse_bevels(corner, stage)
    angle, line = corner.end_line(marked), slants(corner.end_line(marked), unit)
    longer = "" if abs(angle) < SAME_ANGLE else f" This board becomes {'longer' if angle > 0 else 'shorter'} at the top."
    if stage in MARKS and again:
        return (f"Then change over: push the {held} board's end against the {marked} board's inner face. Lay the straightedge "
                f"on the {held} board's outer face, and mark the {marked} board in the same way. "
                f"The line on the {marked} board's inner face {line}.{longer}")
    if stage in MARKS:
        return (f"Lay the straightedge flat on the {held} board's outer face, with its point against the {marked} board. "
                "Slide the straightedge up the face, and mark where the point touches. Join the marks from edge to edge. "
                f"The line on the {marked} board's inner face {line}.{longer}")
    if stage == CARRIED:
        tool = ("with a try square" if corner.plan_angle == 90
                else f"with the bevel at the plan angle, {intended(corner.plan_angle)}")
        return (f"Turn the {marked} board so that you see its bottom edge. Carry the mark across that edge {tool}. From where "
                f"the mark reaches the outer face, strike the end line. The end line {line}.")
    if stage == FLAT:
        return f"Lay the {marked} board flat, with its outer face up. The end line {line}.{longer}"
    more, gap = gap_in(corner, marked, unit)
    lean, base = intended(abs(corner.lean(held))), "100 mm" if unit == "mm" else "4 in"
    exact = more < SAME_ANGLE
    if stage == AT_LEAN:
        seen = ("The shortcut line covers the end line, because one of the boards is upright." if exact else
                f"The shortcut line slants {degrees(more)} too much: {base} up, it is {tenths(gap, unit)} from the end line.")
        return (f"Set the bevel to the {held} board's lean, {lean}. Hold the bevel's stock on the bottom edge, and strike a "
                f"line from the lower end of the end line. {seen}")
    seen = ("No light comes between the blades, because one of the boards is upright." if exact else
            f"The light between the blades makes an angle of {degrees(more)}: {base} up, it is {tenths(gap, unit)} wide.")
    return (f"Set one bevel to the {marked} board's end line, {intended(abs(angle))}, and another to the {held} board's lean, "
            f"{lean}. Hold both stocks on one straight edge, so that the blades meet at their lower ends. {seen}")


def why_words(projection: "Projection", unit: str = "mm") -> str:
    """Two sentences to speak: why the slant on the face isn't the other board's lean."""
    corner, marked = projection.corner, projection.marked
    run, angle = printed_length(abs(projection.run), unit), intended(abs(corner.end_line(marked)))
    if abs(corner.end_line(marked)) < SAME_ANGLE:
        return f"The corner line goes straight up the {marked} board's face, so the end line is square."
    seen = intended(front_angle(projection))
    tall = typed(projection.slope, unit)
    height = typed(projection.height, unit)
    however = f", however the {marked} board leans" if corner.plan_angle == 90 else ""
    first = f"In {height} of height the corner line moves {run} along the {marked} board's edge{however}."
    if abs(corner.lean(marked)) < SAME_ANGLE:
        return f"{first} The {marked} board is upright, so its slant width is the same, and so is the angle: {angle}."
    return (f"{first} But the {marked} board's slant width is {tall}. The same {run} makes a smaller angle on the board's "
            f"face: {angle}, not {seen}.")


def front_angle(projection: "Projection") -> float:
    """Degrees from plumb of the corner line, seen level and square to the marked board's edge; never negative."""
    return float(np.degrees(np.arctan2(abs(projection.run), projection.height)))
