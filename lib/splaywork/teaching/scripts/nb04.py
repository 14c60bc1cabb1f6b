"""The lesson of notebook 04: both boards lean."""

from .core import Bench, Row, Script
from .seen import corner, lines, red, slant_less


def _off_by(panel, most=None, least=None):
    """Whether the shortcut is out by at least, or at most, so many degrees on each board."""
    here = corner(panel)
    off = [abs(abs(here.lean(other)) - abs(here.end_line(board))) for board, other in (("tail", "pin"), ("pin", "tail"))]
    return (least is None or min(off) >= least) and (most is None or max(off) <= most)


SCRIPT = Script(
    "04", "Both boards lean",
    props="two wedges at 30° and two at 16° and 11°; four offcuts, the long edges of each already planed to its lean; *two* "
          "bevels "
          "for each pair.",
    panels={"corner": ("corner_panel", {"tail_lean": 16, "pin_lean": 11})},
    rows=(
        Bench(0, 0, "*Predict:* set one bevel to each lean. Do both carry over? Hands up.",
              "Each rule worked alone; do both work together?", "Nearly all: yes."),
        Row(3, 4, "Set {set}, and read the numbers.", "Each end line slants a little less than the other board's lean.",
            "Each end line slants a little less than the *other* board's lean.", "corner",
            (("tail_lean", 16), ("pin_lean", 11)), lambda panel: slant_less(panel) and _off_by(panel, most=0.5)),
        Row(6, 8, "Set {set}.", "Lean both boards further, and you don't need numbers to see it.",
            "The heavy line has left the dashed one.", "corner", (("tail_lean", 30), ("pin_lean", 30)),
            lambda panel: _off_by(panel, least=3) and red(panel) > 50),
        Bench(8, 11, "In wood: stand the two boards at 30° against their wedges, feet touching, one running past the other. "
                     "Lay a "
                     "straightedge on one face, and mark the other with a pencil. Hold a bevel set to 30° against the pencil "
                     "line.",
              "No arithmetic: the straightedge is the other face.",
              "The bevel and the pencil line part company: no saw has touched the wood."),
        Row(13, 20, "Drag **Pin lean** slowly down from 30 to 0: {set}.", "Stand one board up again, and the rule comes back.",
            "The dashed line slides onto the heavy one: this is 02 again.", "corner", (("tail_lean", 30), ("pin_lean", 0)),
            lambda panel: _off_by(panel, most=1e-9)),
        Row(None, 24, "Set {set}.", "One board out, one board in: the lines still slant less.",
            "The signs differ. Each line still slants less than the other board's lean.", "corner",
            (("tail_lean", -16), ("pin_lean", 11)),
            lambda panel: slant_less(panel) and lines(panel)[0] * lines(panel)[1] < 0),
        Bench(None, 27, "Each pair repeats the straightedge with offcuts at 16° and 11°.",
              "At these leans you need good light to see it.", "At the far end of the blade a little wood shows."),
        Bench(15, 38, "Exercise 1, “predict”.", "Too long, right, or too short at the top?", "Too long at the top."),
        Bench(None, 41, "Exercise 6, or the sheet *To draw on*.", "Up by your own slant width, along by your neighbour's "
                                                                  "offset.",
              "One line drawn before anything is dragged."),
    ),
    wrong=(("The error is too small to matter.", "**Tail lean** 30, **Pin lean** 30."),
           ("Each line depends on its neighbour's lean alone.", "Hold **Tail lean** 30, drag **Pin lean**, and watch *both* "
                                                                "lines.")),
    ask="At which pairs of leans is the shortcut exact?",
    answer="Where one of the boards stands upright.",
)
