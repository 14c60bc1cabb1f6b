"""The lesson of notebook 01: a plain corner."""

from .core import Bench, Row, Script
from .seen import corner, lines

SCRIPT = Script(
    "01", "A plain corner",
    props="for each pair two offcuts with square ends, a try square and a pencil.",
    panels={"corner": ("corner_panel", {"tail_lean": 0, "pin_lean": 0, "locked": ("tail_lean", "pin_lean")})},
    rows=(
        Bench(0, 0, "*Predict:* you look from above, from inside, from behind. Does any view change the angle on the ends?",
              "Decide now: can looking from somewhere else change an angle in the wood?", "Some say yes.", hands=("yes", "no")),
        Row(3, 4, "Set {set}, and go on turning slowly.", "I look from every side, and the boards laid flat stay as they are.",
            "The view turns. The faces laid flat don't change.", "corner", (("turn", 120),),
            lambda panel: lines(panel) == (0, 0)),
        Row(7, 9, "Set {set}.", "Now I open the corner, and both end lines stay square.",
            "The corner opens. Both end lines stay square.", "corner", (("plan_angle", 120),),
            lambda panel: max(map(abs, lines(panel))) < 1e-9 and abs(corner(panel).end_bevel - 30) < 1e-9),
        Bench(10, 14, "Strike the end line on an offcut, and carry the line round with the square.",
              "If the line doesn't meet itself, an edge or the square is out.",
              "On true stock the line meets its own beginning."),
        Bench(None, 20, "Cautions first. Each pair saws and planes one end, stands the corner up, and looks for light.",
              "A saw seldom leaves an end square. Look for light, plane, and look again.", "Each pair sees light, at first."),
        Bench(14, 34, "Do exercises 1 and 2 together.", "When the plan angle changes, which setting changes with it? And "
                                                        "which settings stay?",
              "Only the end bevel changes."),
        Bench(18, 43, "Read the steps on the bench aloud.", "These steps stay the same up to notebook 05; only the angles "
                                                            "change."),
    ),
    wrong=(("The view changes the angle.", "Set **Turn** 120."),
           ("A plan angle that isn't square slants the end lines.", "Set **Plan angle** 120. The end bevel moves, and the "
                                                                    "end lines stay.")),
    ask="One board leans. Which board's end line slants: the leaning board's, or its neighbour's?",
    answer="The neighbour's. Don't tell: 02 shows the answer.",
)
