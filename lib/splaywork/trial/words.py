"""What the gaps at a trial corner say, a sentence each.

Each takes a Corner (single leans) and lengths in mm, and returns a str; `length` writes the lengths. ValueErrors as
`trial_piece`.
"""

from ..common.boards import BOARDS
from ..common.printing import fine_degrees as degrees
from ..common.printing import fine_millimetres as millimetres
from ..corner.words import SAME
from ..one_gauge.words import asked
from .faults import as_joined, edge_gap, end_bevel_from_gap, end_gap, end_line_from_gap, foot_gap, rim_bevel_from_gap

_NOTHING = 0.03  # mm: what a feeler hardly tells apart; our choice, no source


def _where(gap, arris, length):
    return f"{length(abs(gap))} {arris.format('inner' if gap > 0 else 'outer')}"


def _cut_to(verb, angle, wanted, said, square):
    """How a surface was cut against how it should have been; `said`: the angle wanted, in words; `square`: was it?

    Angles keep their signs, which are those under the picture.
    """
    if square:
        return f"it was left square, where {said} is wanted"
    if abs(wanted) < SAME:
        return f"it was {verb} to {degrees(angle)}, where square is wanted"
    way = ", the wrong way" if angle * wanted < 0 else ""
    return f"it was {verb} to {degrees(angle)}{way}, where {said} is wanted"


def _says(verb, bevel, wanted, said, gap, square_gap, arris, length):
    """What a gap says of a surface cut at `bevel`, and what that surface would show if it had been left square."""
    square = abs(gap - square_gap) < _NOTHING
    cut = _cut_to(verb, bevel, wanted, said, square)
    if square or abs(square_gap) < _NOTHING:
        return cut
    return f"{cut}; left square, it would show {_where(square_gap, arris, length)}"


def say_edge_gap(corner, thickness, gap, board="tail", length=millimetres):
    """What light under an arris of the bottom edge says; `gap` as in `trial_piece.edge_gap`."""
    lean = corner.lean(board)
    if abs(gap) < _NOTHING:
        right = "square, as it should be" if abs(lean) < SAME else f"ripped to its lean of {asked(lean)}"
        return f"No light under the {board} board: its edge is {right}."
    bevel = rim_bevel_from_gap(corner, thickness, gap, board)
    says = _says("ripped", bevel, lean, asked(lean), gap, edge_gap(corner, thickness, board), "under the {} one",
                 length)
    return f"Under the {board} board, {_where(gap, 'of light under the {} arris', length)} says of the edge that {says}."


def say_end_gap(corner, thickness, gap, board="tail", length=millimetres):
    """What a gap in the end, the same all the way up, says; `gap` as in `trial_piece.end_gap`."""
    wanted = corner.end_bevel
    said = degrees(wanted)
    if abs(gap) < _NOTHING:
        right = "square, as it should be" if abs(wanted) < SAME else f"sawn to its end bevel of {said}"
        return f"No gap in the {board} board's end: it is {right}."
    bevel = end_bevel_from_gap(corner, thickness, gap)
    says = _says("sawn", bevel, wanted, said, gap, end_gap(corner, thickness), "at the {} one", length)
    seen = _where(gap, "at the {} arris", length)
    return f"In the {board} board's end, {seen} all the way up says that {says}."


def say_end_line_gap(corner, height, gap, board="tail", length=millimetres):
    """What a gap that narrows along the corner line says; `gap` as in `trial_piece.end_line_gap`."""
    true = corner.end_line(board)
    if abs(gap) < _NOTHING:
        return f"No gap along the corner line: the {board} board's end line is {degrees(true)}, as it should be."
    wide, narrow = ("bottom", "top") if gap > 0 else ("top", "bottom")
    cut = degrees(end_line_from_gap(corner, height, gap, board))
    return (f"Along the corner line, {length(abs(gap))} at the {wide}, closing to nothing at the {narrow}, says that "
            f"the {board} board's end line was cut at {cut} from square instead of {degrees(true)}.")


def say_pulled_tight(corner, end_bevel=0.0):
    """What becomes of a corner whose ends, sawn to `end_bevel`, are pulled up until they close."""
    if abs(end_bevel - corner.end_bevel) < SAME:
        return "Pulled up tight, the ends close and the corner stands as meant."
    joined = as_joined(corner, end_bevel)
    ends = "ends left square" if end_bevel == 0 else f"ends sawn to {degrees(end_bevel)}"
    leans = [f"the {board} board leans {degrees(joined.lean(board))} instead of {asked(corner.lean(board))}"
             for board in BOARDS]
    return (f"With {ends} and pulled up tight, the gap is gone, but the corner stands at a plan angle of "
            f"{degrees(joined.plan_angle)} instead of {asked(corner.plan_angle)}; {leans[0]}, {leans[1]}.")


def say_slipped(corner, slip, length=millimetres):
    """What a board fixed too far up the corner line does to the foot of the corner."""
    light = length(foot_gap(corner, slip))
    return (f"If one board was fixed {length(slip)} too far up the corner line, {light} of light "
            "shows right through under its edge, and the piece rocks on the other board.")
