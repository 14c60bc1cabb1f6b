"""The joint in words: its sizes, its bevel settings by letter, and what each is for."""

from string import ascii_uppercase
from typing import TYPE_CHECKING

import numpy as np

from ..common.printing import degrees, length, offset, one_in
from ..corner.words import lean_words, series
from .lines import Setting

if TYPE_CHECKING:
    from ..corner.corner import Corner
    from .joint import Joint

_SURFACES = {"outer": "outer face", "end": "end", "inner": "inner face", "bottom": "bottom rim", "top": "top rim"}
_BOTH = {("outer", "inner"): "both faces", ("bottom", "top"): "both rims"}
_KINDS = ("end line", "cut-off line", "baseline", "cheeks")

CAUTIONS = (
    "Wear eye protection; clamp the work; keep both hands behind the cutting edge; keep edges sharp.",
    "Leaning stock slides: at a machine hold it against wedges or a cradle that are clamped down; in the vice tug it before "
    "you saw.",
    "At a machine with table or blade tilted: fence in line with the saw blade, guard and riving knife fitted, the "
    "offcut free to fall away, nothing freehand; unplug before changing tilt or blade. Collect the dust, and wear a "
    "mask that fits.",
    "Your tool's manual, the rules where you work, and qualified instruction come before anything said here. See OSHA "
    "3157 (1999), OSHA 3080 (2002), 29 CFR 1910.213, HSE WIS16 and WIS31.",
    "Cut a trial corner from offcuts first.",
)


def board_end(board: str, hand: str) -> str:
    """"left" or "right": the end of the board that the joint is on, seen from outside.

    hand: the hand on which the tail board lies as one faces the corner from outside the box, "left" or "right".
    """
    return "left" if (board == "tail") == (hand == "right") else "right"


def corner_name(corner: "Corner") -> str:
    """A name for a scalar corner that was given none: its leans, and its plan angle where that isn't 90."""
    plan = "" if corner.plan_angle == 90 else f", {degrees(corner.plan_angle)} in plan"
    return f"Corner, tail {degrees(corner.tail_lean)}, pin {degrees(corner.pin_lean)}{plan}"


def joint_sizes(joint: "Joint", unit: str = "mm") -> str:
    """Sentences: how the boards stand, their sizes, and how ends and rims are cut. Lengths in `unit`, "mm" or "in"."""
    corner = joint.corner
    thick = [length(joint.thickness(board), unit) for board in ("tail", "pin")]
    boards = "both boards {}" if thick[0] == thick[1] else "tail board {}, pin board {}"
    return (f"Tail board {lean_words(corner.tail_lean)}, pin board {lean_words(corner.pin_lean)}, plan angle "
            f"{degrees(corner.plan_angle)}. {length(joint.height, unit)} high, {boards.format(*thick)} thick; "
            f"{joint.end} ends, {joint.rims} rims.")


def lettered_settings(joint: "Joint") -> dict[str, Setting]:
    """Letter -> `lines.Setting`, from the squarest on: the same letters on every card.

    A joint that has the letters of a whole job goes by those, and by the angles that the job sets the bevel to.
    """
    if not joint.letters:
        return dict(zip(ascii_uppercase, joint.bevel_settings, strict=False))
    lines: dict[tuple[str, float], list] = {}
    for setting in joint.bevel_settings:
        named = min(joint.letters, key=lambda pair: abs(pair[1] - setting.from_square))
        lines.setdefault(named, []).extend(setting.lines)
    return {letter: Setting(angle, tuple(lines[letter, angle])) for letter, angle in joint.letters if (letter, angle) in lines}


def setting_rows(setting: Setting, unit: str = "mm") -> tuple[str, ...]:
    """(degrees, slope) of a setting in words, the slope measured from where the angle is small: square or the edge."""
    small, origin = min((setting.from_square, "square"), (setting.from_edge, "the edge"))
    angles = f"{degrees(setting.from_square)} from square, {degrees(setting.from_edge)} from the edge"
    return angles, f"{offset(small, unit)}, {one_in(small)} from {origin}"


def used_for(setting: Setting) -> tuple[str, ...]:
    """What a setting is for, a phrase each: "tail board: cheeks on the end, from the outer arris"."""
    where: dict[tuple[str, str, str], dict[str, None]] = {}
    for line in sorted(setting.lines, key=_rank):
        where.setdefault((line.board, _kind(line), line.edge), {})[line.surface] = None
    together: dict[tuple, list[str]] = {}
    for (board, kind, edge), surfaces in where.items():
        together.setdefault((board, tuple(surfaces), edge), []).append(kind)
    return tuple(f"{board} board: {series(kinds)} on {_places(surfaces)}, from the {edge}"
                 for (board, surfaces, edge), kinds in together.items())


def _kind(line):
    return "cheeks" if line.kind == "cheek" else line.kind


def _rank(line):
    return line.board == "pin", _KINDS.index(_kind(line)), list(_SURFACES).index(line.surface)


def _places(surfaces):
    return _BOTH.get(surfaces) or f"the {series([_SURFACES[surface] for surface in surfaces])}"


def proud(joint: "Joint", board: str) -> tuple:
    """(mm, face): how far a square end's cut-off line stands out from the end line, and on which face; else (0, "")."""
    for surface in ("outer", "inner"):
        lines = {line.name: line.flat for line in joint.lines_on(board, surface)}
        if "cut-off line" in lines:
            bottom, top = lines["end line"]
            along = (top - bottom) / np.hypot(*(top - bottom))
            out = lines["cut-off line"][0] - bottom
            return abs(along[0] * out[1] - along[1] * out[0]), surface
    return 0.0, ""


def lettered_words(joint: "Joint", unit: str = "mm") -> tuple[str, ...]:
    """Letter and setting, one line each: degrees from square and from the edge, rise and 1 in n."""
    return tuple(f"{letter}: {'; '.join(setting_rows(setting, unit))}"
                 for letter, setting in lettered_settings(joint).items())
