"""The joint in words: its gauge settings by letter, what each is for, and the steps at the bench, tails first."""

from string import ascii_uppercase

import numpy as np

from ..common.printing import degrees, length, offset, one_in
from ..corner.words import lean_words, series
from .lines import SAME

_SURFACES = {"outer": "outer face", "end": "end", "inner": "inner face", "bottom": "bottom rim", "top": "top rim"}
_BOTH = {("outer", "inner"): "both faces", ("bottom", "top"): "both rims"}
_KINDS = ("end line", "cut-off line", "baseline", "cheeks")

CAUTIONS = (
    "Wear eye protection; clamp the work; keep both hands behind the edge; keep edges sharp.",
    "Leaning stock slides: hold it against wedges or a cradle that are clamped down, at the vice and at a machine.",
    "At a machine with table or blade tilted: fence in line with the saw blade, guard and riving knife fitted, the "
    "offcut free to fall away, nothing freehand; unplug before changing tilt or blade. Collect the dust, and wear a "
    "mask that fits.",
    "Your tool's manual, the rules where you work, and qualified instruction come before anything said here. See OSHA "
    "3157 (1999), OSHA 3080 (2002), 29 CFR 1910.213, HSE WIS16 and WIS31.",
    "Cut a trial corner from offcuts first.",
)


def board_end(board, hand):
    """"left" or "right": the end of the board that the joint is on, seen from outside.

    hand: the hand on which the tail board lies as one faces the corner from outside the box, "left" or "right".
    """
    return "left" if (board == "tail") == (hand == "right") else "right"


def corner_name(corner):
    """A name for a scalar corner that was given none: its leans, and its plan angle where that isn't 90."""
    plan = "" if corner.plan_angle == 90 else f", {degrees(corner.plan_angle)} in plan"
    return f"Corner, tail {degrees(corner.tail_lean)}, pin {degrees(corner.pin_lean)}{plan}"


def joint_sizes(joint, unit="mm"):
    """Sentences: how the boards stand, their sizes, and how ends and rims are cut. Lengths in `unit`, "mm" or "in"."""
    corner = joint.corner
    thick = [length(joint.thickness(board), unit) for board in ("tail", "pin")]
    boards = "both boards {}" if thick[0] == thick[1] else "tail board {}, pin board {}"
    return (f"Tail board {lean_words(corner.tail_lean)}, pin board {lean_words(corner.pin_lean)}, plan angle "
            f"{degrees(corner.plan_angle)}. {length(joint.height, unit)} high, {boards.format(*thick)} thick; "
            f"{joint.end} ends, {joint.rims} rims.")


def lettered_settings(joint):
    """Letter -> `lines.Setting`, from the squarest on: the same letters on every card."""
    return dict(zip(ascii_uppercase, joint.gauge_settings, strict=False))


def setting_rows(setting, unit="mm"):
    """(degrees, slope) of a setting in words, the slope measured from where the angle is small: square or the edge."""
    small, origin = min((setting.from_square, "square"), (setting.from_edge, "the edge"))
    angles = f"{degrees(setting.from_square)} from square, {degrees(setting.from_edge)} from the edge"
    return angles, f"{offset(small, unit)}, {one_in(small)} from {origin}"


def used_for(setting):
    """What a setting is for, a phrase each: "tail board: cheeks on the end, from the outer arris"."""
    where = {}
    for line in sorted(setting.lines, key=_rank):
        where.setdefault((line.board, _kind(line), line.edge), {})[line.surface] = None
    together = {}
    for (board, kind, edge), surfaces in where.items():
        together.setdefault((board, tuple(surfaces), edge), []).append(kind)
    return tuple(f"{board} board: {series(kinds)} on {_places(surfaces)}, from the {edge}"
                 for (board, surfaces, edge), kinds in together.items())


def _kind(line):
    return "cheeks" if line.name.endswith("cheek") else line.name


def _rank(line):
    return line.board == "pin", _KINDS.index(_kind(line)), list(_SURFACES).index(line.surface)


def _places(surfaces):
    return _BOTH.get(surfaces) or f"the {series([_SURFACES[surface] for surface in surfaces])}"


def _with(joint, board, surface, kind):
    """How the lines of one kind on a surface are struck: "gauge A", "a square", "gauges C and D"."""
    lines = [line for line in joint.lines_on(board, surface) if line.name.endswith(kind)]
    letters = [letter for letter, setting in lettered_settings(joint).items()
               if any(line is other for other in setting.lines for line in lines)]
    if not letters:
        return "a square"
    return f"gauge{'s' * (len(letters) > 1)} {series(letters)}"


def _off_square(joint, which):
    """How the lower or upper cheeks run across the tail board's end; nothing where they are square."""
    line = next(line for line in joint.lines_on("tail", "end") if line.name.endswith(f"{which} cheek"))
    if line.from_square < SAME:
        return ""
    return f", {'above' if line.flat[1, 1] > line.flat[0, 1] else 'below'} square at the inner face"


def _way(angle):
    """Which way an end line slants; nothing for a square one."""
    return "" if abs(angle) < SAME else f", longer at the {'top' if angle > 0 else 'bottom'}"


def proud(joint, board):
    """(mm, face): how far a square end's cut-off line stands out from the end line, and on which face; else (0, "")."""
    for surface in ("outer", "inner"):
        lines = {line.name: line.flat for line in joint.lines_on(board, surface)}
        if "cut-off line" in lines:
            foot, head = lines["end line"]
            along = (head - foot) / np.hypot(*(head - foot))
            out = lines["cut-off line"][0] - foot
            return abs(along[0] * out[1] - along[1] * out[0]), surface
    return 0.0, ""


def _prepare(joint, unit):
    tail, pin = (joint.corner.lean(board) for board in ("tail", "pin"))
    wide = [length(joint.corner.slant_width(joint.height, board), unit) for board in ("tail", "pin")]
    text = f"Up their outer faces the tail board is {wide[0]} wide, the pin board {wide[1]}. "
    if joint.rims == "square":
        text += "Leave the rims square to the faces. "
    elif max(abs(tail), abs(pin)) < SAME:
        text += "The rims are square to the faces. "
    else:
        text += (f"Rip the rims to their bevels, {degrees(abs(tail))} out of square on the tail board and "
                 f"{degrees(abs(pin))} on the pin board, so that they stand level. ")
    return text + "Mark outer faces, and which way is up."


def _end_lines(joint, unit):
    tail, pin = (joint.corner.end_line(board) for board in ("tail", "pin"))
    rims = [_with(joint, board, "top", "line") for board in ("tail", "pin")]
    across = rims[0] if rims[0] == rims[1] else f"{rims[0]} (tail board) and {rims[1]} (pin board)"
    return (f"From the bottom edge, on the outer faces: tail board with {_with(joint, 'tail', 'outer', 'end line')}"
            f"{_way(tail)}; pin board with {_with(joint, 'pin', 'outer', 'end line')}{_way(pin)}. Carry them across the "
            f"rims with {across}, and join them on the inner faces.")


def _saw_ends(joint, unit):
    bevel = joint.corner.end_bevel
    if abs(bevel) < SAME:
        return "Saw both ends on the end line, square to the face."
    if joint.end == "flush":
        return (f"Saw both ends on the end lines, at {degrees(joint.corner.dihedral)} to the outer face: "
                f"{degrees(abs(bevel))} out of square, the inner face the {'longer' if bevel > 0 else 'shorter'}.")
    out, face = zip(*(proud(joint, board) for board in ("tail", "pin")), strict=True)
    return (f"Saw both ends square to the face, so that they stand proud of the end line on the {face[0]} face: the "
            f"tail board {length(out[0], unit)}, the pin board {length(out[1], unit)}. That is planed off at the end.")


def _baselines(joint, unit):
    reach = [length(joint.corner.baseline_offset(joint.thickness(other)), unit) for other in ("pin", "tail")]
    return (f"On both faces, parallel to the end line and, measured square to it, {reach[0]} from it on the tail board, "
            f"{reach[1]} on the pin board.")


def _tails(joint, unit):
    marks = "; ".join(f"{length(low, unit)} to {length(high, unit)}" for low, high in joint.marks)
    tails = "the tail" if joint.tails == 1 else f"the {joint.tails} tails"
    tool = _with(joint, "tail", "outer", "cheek")
    return (f"On the tail board's outer face, along the end line but measured square up from the bottom edge, mark "
            f"{tails}: {marks}. Centre lines are level, parallel to the bottom edge; each cheek spreads 1 in "
            f"{joint.tail_slope:g}: {tool} from the bottom edge.")


def _across_the_end(joint, unit):
    tools = [_with(joint, "tail", "end", f"{which} cheek") + _off_square(joint, which) for which in ("lower", "upper")]
    how = f"with {tools[0]}" if tools[0] == tools[1] else "the lower cheeks with {}, the upper with {}".format(*tools)
    return (f"Across the tail board's end, from the outer arris, {how}; then down the inner face, 1 in "
            f"{joint.tail_slope:g} again. Hatch the waste.")


def _cut_tails(joint, unit):
    return ("Saw on the waste side, to the lines on both faces and the end: the saw tips with the board. Chop to the "
            "baselines from both faces.")


def _scribe(joint, unit):
    leans = [lean_words(joint.corner.lean(board)) for board in ("tail", "pin")]
    return (f"Prop both boards as they will stand, the tail board {leans[0]}, the pin board {leans[1]}, on wedges "
            "clamped down. Scribe round the tails on the pin board's end, with a knife.")


def _pin_cheeks(joint, unit):
    tool = _with(joint, "pin", "outer", "cheek")
    return (f"From the scribed marks down both faces of the pin board, level, parallel to the bottom edge: {tool} from "
            "the end line. Hatch the waste, and saw and chop it out as before.")


def _together(joint, unit):
    planed = " Once the glue is dry, plane the proud ends down to the faces." if proud(joint, "tail")[0] else ""
    return f"Push the pin board straight in, level, along its own length; tipped, it binds. Pare only what rubs.{planed}"


_STEPS = (
    ("Prepare", _prepare),
    ("End lines", _end_lines),
    ("Ends", _saw_ends),
    ("Baselines", _baselines),
    ("Tails", _tails),
    ("Across", _across_the_end),
    ("Cut the tails", _cut_tails),
    ("Scribe the pins", _scribe),
    ("Level lines", _pin_cheeks),
    ("Together", _together),
)


def procedure(joint, unit="mm"):
    """(heading, text) of each step at the bench, tails first, with this joint's numbers; lengths in `unit`.

    Gauge settings go by the letters of `lettered_settings`. ValueError for a unit other than "mm" or "in".
    """
    return tuple((heading, step(joint, unit)) for heading, step in _STEPS)


def settings_words(joint, unit="mm"):
    """Letter and setting, one line each: degrees from square and from the edge, rise and 1 in n."""
    return tuple(f"{letter}: {'; '.join(setting_rows(setting, unit))}"
                 for letter, setting in lettered_settings(joint).items())
