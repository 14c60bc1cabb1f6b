"""The lesson of notebook 04: both boards lean."""

from math import isclose, radians, tan

from ...common.boards import BOARDS, other
from ...common.printing import mm
from ...corner.corner import Corner
from ...corner.projection_words import FLAT, gap_in
from ...one_gauge.one_gauge import OneGauge
from .core import Bench, Row, Script
from .seen import corner, lines, red, slant_less

_STRONG, _DRAWER = Corner(30, 30), Corner(16, 11)
_RUN, _ALONG = (100 * tan(radians(angle)) for angle in (_STRONG.tail_lean, _STRONG.pin_end_line))  # mm, over 100 up


def _off_by(panel, most=None, least=None):
    """Whether the shortcut is out by at least, or at most, so many degrees on each board."""
    here = corner(panel)
    off = [abs(abs(here.lean(other(board))) - abs(here.end_line(board))) for board in BOARDS]
    return (least is None or min(off) >= least) and (most is None or max(off) <= most)


def _apart(here, board):
    """How far the shortcut line is from the end line of a board where both have gone 100 mm up a square line, mm."""
    return gap_in(here, board, "mm")[1]


def _same_run(panel):
    """Whether each end line runs as far aside as beside an upright board, over a face longer than the box is high: so far as
    is said at the corner of 30° and 30°."""
    here = corner(panel)
    return (here.tail_lean, here.pin_lean) == (30, 30) and all(here.slant_width(100, board) > 100 and isclose(
        here.slant_width(100, board) * tan(radians(here.end_line(board))), 100 * tan(radians(here.lean(other(board)))))
        for board in BOARDS)


SCRIPT = Script(
    "04", "Both boards lean",
    props="for the room two wedges at 30° and two offcuts; for each pair one wedge at 16°, one at 11°, two offcuts and *two* "
          "bevels, a straightedge, a knife and two clamps. The long edges of each offcut are already planed to its lean. "
          "Set the boards at 30° up beforehand.",
    panels={"hands": ("projection_panel", {"tail_lean": 30, "pin_lean": 30}),
            "corner": ("corner_panel", {"tail_lean": 16, "pin_lean": 11})},
    rows=(
        Bench(0, 0, "Hold one bevel set to each lean. *Predict.* Hands up.",
              "Now both boards lean, and one bevel is set to each lean. Do both carry over?", "Nearly all: yes.",
              hands=("yes, both", "only one of them", "no")),
        Row(3, 4, "Second panel: set {set}, and read the numbers.", "Compare each end line with the other board's lean.",
            "Both lines: each slants a little less than the *other* board's lean.", "corner",
            (("tail_lean", 16), ("pin_lean", 11)), lambda panel: slant_less(panel) and _off_by(panel, most=0.5)),
        Row(6, 8, "Second panel: set {set}.", "At 30 degrees you can see the two lines apart.",
            "The heavy line has left the dashed one.", "corner", (("tail_lean", 30), ("pin_lean", 30)),
            lambda panel: _off_by(panel, least=3) and red(panel) > 50),
        Bench(8, 11, "In wood, cautions first: the two boards stand at 30°, their wedges clamped, feet touching, one running "
                     "past the other. Lay the straightedge on the *outer* face of the board that stops; mark the *inner* face "
                     "of the board that runs past. Set the bevel against the wedge. Take the board off its wedge, lay it inner "
                     "face up, and press the stock to the arris.",
              "The straightedge lies on that outer face. Carried on, the face would meet this board along the pencil line.",
              f"The blade leaves the pencil line: {mm(_apart(_STRONG, 'tail'))} apart, 100 mm up.",
              check=lambda _: all(7.65 < _apart(_STRONG, board) < 7.75 for board in BOARDS)),
        Row(11, 17, "First panel: set {set}.",
            f"Both triangles have a run of {_RUN:.1f}. The lower one is taller, so it slants less: scaled down, 100 up and "
            f"{_ALONG:.0f} along.",
            f"Flat, the line goes 100 mm up and {mm(_ALONG, 0)} along.", "hands",
            (("stage", FLAT),), _same_run),
        Row(13, 20, "Second panel: drag **Pin lean** slowly down from 30 to 0: {set}.",
            "Stand one board up again, and the bevel carries over again.",
            "The dashed line slides onto the heavy one: this is 02 again.", "corner", (("tail_lean", 30), ("pin_lean", 0)),
            lambda panel: _off_by(panel, most=1e-9)),
        Row(None, 24, "Second panel: set {set}.", "One board leans out, one in. Each line still slants less than the other "
                                                  "board's lean.",
            "The signs differ. Both lines slant less.", "corner",
            (("tail_lean", -16), ("pin_lean", 11)),
            lambda panel: slant_less(panel) and lines(panel)[0] * lines(panel)[1] < 0),
        Bench(None, 27, "Each pair repeats the straightedge with offcuts at 16° and 11°, the wedges clamped. Mark with a knife "
                        "or a sharp pencil, then hold a bevel set to the lean.",
              "Here the miss is half to three quarters of a millimetre. Look at the top.",
              "The blade leaves the mark towards the top.",
              check=lambda _: 0.5 <= _apart(_DRAWER, "pin") < _apart(_DRAWER, "tail") < 0.76),
        Bench(15, 38, "Exercise 1, “predict”.", "This end is struck with the shortcut. Is the board too long, right, or too "
                                                "short at the top?",
              "Too long at the top, where both boards lean out.",
              check=lambda _: all(OneGauge(here).gap(100, board) > 0 for here in (_STRONG, _DRAWER) for board in BOARDS)),
        Bench(None, 41, "Exercise 6, or the sheet *To draw on*.",
              "Go up the face by the slant width. From there measure along, as far as the neighbour runs out. Join that mark "
              "to the foot.",
              "One line drawn before anything is dragged.",
              check=lambda _: all(isclose(here.slant_width(90, board) * tan(radians(here.end_line(board))),
                                          90 * tan(radians(here.lean(other(board)))))
                                  for here in (_STRONG, _DRAWER) for board in BOARDS)),
    ),
    wrong=(("The error is too small to matter.", "Second panel: **Tail lean** 30, **Pin lean** 30."),
           ("Each line depends on its neighbour's lean alone.", "Second panel: hold **Tail lean** 30, "
                                                                "drag **Pin lean**, and watch *both* lines.")),
    ask="At which pairs of leans is the shortcut exact?",
    answer="Where one of the boards stands upright.",
)
