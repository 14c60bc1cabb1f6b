"""A trial corner on the bench: end lines from a tape measure, and gaps read back into how the wood was really cut.

Angles in degrees, lengths in mm. Numbers or arrays that broadcast with the corner's, unless a `Reading` is returned,
which is of single numbers. For the leans that read end lines lead to, see `readings`.
"""

from typing import NamedTuple

import numpy as np

from ..common import checks
from ..common.boards import BOARDS, known, other
from ..common.checks import plain
from ..corner.corner import Corner
from ..formulas.forms import compute
from ..one_gauge.one_gauge import Computed, Numbers, OneGauge
from .readings import Reading, _from_lengths

# End lines from a tape measure.


def _sizes(**lengths):
    return [checks.size(name.replace("_", " "), value) for name, value in lengths.items()]


def end_line_of_like_ends(bottom_edge: float, top_edge: float, slant_width: float, resolution: float = 0.0) -> Reading:
    """`Reading` of the end line of a board whose two ends slant alike, from its outer face's three sizes.

    slant_width: up the face, square to the edges; all mm, all read to `resolution`.
    """
    bottom, top, up = _sizes(bottom_edge=bottom_edge, top_edge=top_edge, slant_width=slant_width)
    return _from_lengths("end_line_of_like_ends", {"bottom_edge": bottom, "top_edge": top, "slant_width": up}, resolution)


def end_line_from_diagonals(bottom_edge: float, top_edge: float, diagonal: float, other_diagonal: float,
                            resolution: float = 0.0) -> Reading:
    """`Reading` of an end line from the two level edges of a board's outer face and its two diagonals: no square needed.

    diagonal: the one that runs to the top of this end line, from the far bottom corner; swap the two for the other end. All mm,
    all read to `resolution`. ValueError when four such lengths make no board, or may make none within the resolution.

    >>> import splaywork as sw
    >>> print(sw.end_line_from_diagonals(300, 340, 330, 325))
    17.9° (17.9° to 17.9°)
    """
    bottom, top, near, far = _sizes(bottom_edge=bottom_edge, top_edge=top_edge, diagonal=diagonal,
                                    other_diagonal=other_diagonal)
    resolution = checks.amount("resolution", resolution)
    lengths = {"bottom_edge": bottom, "top_edge": top, "diagonal": near, "other_diagonal": far}
    with np.errstate(invalid="ignore"):
        ends = [compute("end_line_from_diagonals", **{name: size + way * resolution * (1 if "edge" in name else -1)
                                                      for name, size in lengths.items()}) for way in (0, 1)]
    if not np.all(np.isfinite(ends)):
        raise ValueError(f"Edges of {bottom:g} and {top:g} mm with diagonals of {near:g} and {far:g} mm leave the board "
                         "no width: measure both diagonals again, each from a bottom corner to the opposite top corner.")
    return _from_lengths("end_line_from_diagonals", lengths, resolution)


# Gaps, and what they say of the cut.


def _cut(name, value):
    """The angle at which a surface was cut, degrees from square."""
    remedy = "nothing can be cut along its own surface: keep it between −90° and 90° from square"
    return checks.angles(name, value, -90, 90, remedy)


def _mm(name, value):
    """A length that may be negative, or an array of them."""
    return np.asarray(checks.numbers(name, value, what="a number of mm"))


def _corner(corner):
    return checks.instance("corner", corner, Corner, "Corner(tail_lean=16, pin_lean=11)")


def _number(name, corner, **given):
    """A form's number or array; the last quantity given must broadcast with the corner."""
    checks.together(corner=np.empty(corner._shape()), value=[*given.values()][-1])
    return plain(compute(name, **given))


def _cut_from_gap(corner, thickness, wanted, gap):
    """Degrees from square at which a surface was cut that should be at `wanted`, from its `gap`."""
    return _number("cut_from_gap", corner, thickness=checks.size("thickness", thickness), lean=wanted, gap=_mm("gap", gap))


def _left_open(corner, thickness, wanted, cut):
    return _number("left_open", corner, thickness=checks.size("thickness", thickness), lean=wanted, end_bevel=cut)


def edge_gap(corner: Corner, thickness: float, board: str = "tail", rim_bevel: Numbers = 0.0) -> Computed:
    """Light under the inner arris of a board's bottom edge that was ripped to `rim_bevel` instead of its lean; mm.

    Negative: under the outer arris. The board stands at the corner's lean; 0 for the rim bevel is an edge left square.
    """
    return _left_open(_corner(corner), thickness, corner.lean(board), _cut("rim bevel", rim_bevel))


def rim_bevel_from_gap(corner: Corner, thickness: float, gap: Numbers, board: str = "tail") -> Computed:
    """The rim bevel, degrees, to which an edge was really ripped: inverse of `edge_gap`.

    >>> import splaywork as sw
    >>> round(sw.rim_bevel_from_gap(sw.Corner(16, 11), thickness=18, gap=2), 1)
    9.7
    """
    return _cut_from_gap(_corner(corner), thickness, corner.lean(board), gap)


def end_gap(corner: Corner, thickness: float, end_bevel: Numbers = 0.0) -> Computed:
    """Gap at the inner arris of an end sawn to `end_bevel` and butted against the other board; mm, as a feeler reads it.

    Negative: at the outer arris. The boards are held at the corner's dihedral; 0 for the bevel is an end left square.
    """
    return _left_open(_corner(corner), thickness, corner.end_bevel, _cut("end bevel", end_bevel))


def end_bevel_from_gap(corner: Corner, thickness: float, gap: Numbers) -> Computed:
    """The end bevel, degrees, to which an end was really sawn: inverse of `end_gap`."""
    return _cut_from_gap(_corner(corner), thickness, corner.end_bevel, gap)


def end_line_gap(corner: Corner, height: float, end_line: Numbers, board: str = "tail") -> Computed:
    """Gap along the board at the far end of an end cut to `end_line`, the board held at its lean; mm.

    height: vertical. Positive where it opens at the bottom and touches at the top, negative the other way round.
    """
    true = _corner(corner).end_line(board)
    cut = _cut("end line", end_line)
    checks.together(corner=true, end_line=cut)
    return plain(compute("end_line_gap", height=checks.size("height", height), lean=corner.lean(board), end_line=true,
                         end_line_error=cut - true))


def end_line_from_gap(corner: Corner, height: float, gap: Numbers, board: str = "tail") -> Computed:
    """The end line, degrees from square, to which an end was really cut: inverse of `end_line_gap`."""
    return _number("end_line_from_gap", corner, height=checks.size("height", height), lean=_corner(corner).lean(board),
                   end_line=corner.end_line(board), gap=_mm("gap", gap))


def as_joined(corner: Corner, end_bevel: Numbers = 0.0) -> Corner:
    """The `Corner` as which two boards with this corner's end lines stand when they are pulled up tight.

    end_bevel: to which the ends were sawn, degrees. With other than the corner's own, the corner closes or opens in
    plan, and the leans move with it.
    """
    lines = {f"{board}_end_line": _corner(corner).end_line(board) for board in BOARDS}
    checks.together(corner=lines["tail_end_line"], end_bevel=end_bevel)
    with np.errstate(invalid="ignore"):
        plan = compute("plan_angle_as_joined", end_bevel=_cut("end bevel", end_bevel), **lines)
    return Corner.from_end_lines(plan_angle=plan, **lines)


def foot_gap(corner: Corner, slip: Numbers) -> Computed:
    """How high a foot stands off the bench when its board was fixed `slip` mm too far up the corner line; mm."""
    return _number("slipped_foot", _corner(corner), tail_lean=corner.tail_lean, pin_lean=corner.pin_lean,
                   plan_angle=corner.plan_angle, gap=_mm("slip", slip))


# What each fault shows.


class Fault(NamedTuple):
    """What one fault shows at an assembled trial corner.

    cause: one of `CAUSES`. board: "tail" or "pin". gap: mm that a feeler reads, where an edge or an end was left square; of the
    other causes, how much further out (negative: in) the board's top stands, level, mm; infinite where the corner can't
    stand. arris: "inner" or "outer", where a gap is. lean: at which the board stands, degrees. light: mm under the inner arris
    (negative: under the outer one) of an edge that was ripped to the intended lean, where the board stands at another.
    """

    cause: str
    board: str
    gap: float
    arris: str
    lean: float
    light: float = 0.0


EDGE, END, LEAN, SHORTCUT = CAUSES = ("edge left square", "end left square", "lean set wrong", "shortcut used")


def faults(corner: Corner, height: float, thickness: float, lean_off: float = 1.0) -> list[Fault]:
    """[`Fault`, …] of each cause on each board of `corner` (single leans, plan angle 90).

    height (vertical) and thickness (of both boards) in mm; lean_off: the error of lean to look for, degrees.
    """
    shortcut = OneGauge(_corner(corner))
    shortcut._single()
    height, thickness = checks.size("height", height), checks.size("thickness", thickness)
    lean_off = checks.number("error of the lean", lean_off, what="a number of degrees")
    shown = []
    for board in BOARDS:
        lean = corner.lean(board)
        shown += [_gapes(EDGE, board, edge_gap(corner, thickness, board), lean),
                  _gapes(END, board, end_gap(corner, thickness), lean),
                  _runs(LEAN, board, height, thickness, lean, Corner(lean + lean_off, 0).tail_lean),
                  _runs(SHORTCUT, board, height, thickness, lean,
                        shortcut.closed_lean(board) if shortcut.stands else np.nan)]
    return shown


def _gapes(cause, board, gap, lean):
    return Fault(cause, board, abs(gap), "" if gap == 0 else "inner" if gap > 0 else "outer", lean)


def _runs(cause, board, height, thickness, lean, really):
    if np.isnan(really):
        return Fault(cause, board, np.inf, "", really)
    up = height / np.cos(np.radians(lean))  # the slant width, which a wrong lean leaves as it is
    further = up * float(np.sin(np.radians(really)) - np.sin(np.radians(lean)))
    return Fault(cause, board, further, "", really, edge_gap(Corner(really, 0), thickness, "tail", lean))


# Outlines for pictures: what a cut across the wood shows.


def edge_section(corner: Corner, thickness: float, board: str = "tail", rim_bevel: Numbers = 0.0,
                 up: float = 60.0) -> np.ndarray:
    """Section of a board square to its level lines, (4, 2) mm: across, outside negative, and up from the bench.

    In order: outer arris of the bottom edge, inner arris, then up the inner and down from the outer face, `up` mm from
    the outer arris. It stands on the lower arris.
    """
    climb, out = corner.vector(f"{board}_up"), corner.vector(f"{known(board)}_outward")
    into = -thickness * corner.vector(f"{board}_normal")
    edge = into - thickness * np.tan(np.radians(rim_bevel)) * climb
    points = np.array([0 * into, edge, into + up * climb, up * climb])
    section = np.column_stack([-points @ out, points[:, 2]])
    return section - [0, min(0.0, section[1, 1])]


def end_section(corner: Corner, thickness: float, end_bevel: Numbers = 0.0, length: float = 60.0,
                board: str = "tail") -> tuple[np.ndarray, np.ndarray]:
    """Sections square to the corner line of `board`, butted against the other, and of the other: two of (4, 2), mm.

    Across the other board, its inner face at 0 and the outside negative, and along it, away from the corner. `board`,
    its end sawn to `end_bevel`, touches that face with one arris; the other's own end lies flush. Each in the order: its
    outer arris at the corner, its inner one, then the inner and the outer face's ends, `length` away.
    """
    line = corner.vector("corner_line")
    line = line / np.linalg.norm(line)
    outlines = {}
    for each, bevel in ((known(board), end_bevel), (other(board), corner.end_bevel)):
        normal = corner.vector(f"{each}_normal")
        away = np.cross(line, normal)
        away *= np.sign(away @ corner.vector(f"{each}_level"))
        into = -thickness * normal
        end = into - thickness * np.tan(np.radians(bevel)) * away
        outlines[each] = np.array([0 * into, end, into + length * away, length * away])
    butted, seat = (outline @ np.column_stack([-normal, away]) for outline in outlines.values())
    return butted - [butted[:2, 0].min(), 0], seat - seat[1]
