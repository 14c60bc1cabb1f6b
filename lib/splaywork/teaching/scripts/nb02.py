"""The lesson of notebook 02: the tail board leans."""

from .core import TAIL, Bench, Row, Script
from .seen import lines


def _carries_over(panel):
    tail, pin = lines(panel)
    return abs(tail) < 1e-9 and abs(pin - panel.dials["tail_lean"].value) < 1e-9


SCRIPT = Script(
    "02", "The tail board leans",
    props="for each pair two wedges at {tail} and two clamps; a bevel, a try square and a pencil; an offcut as tail board, its "
          "long edges already planed to {tail}; one offcut as pin board.",
    panels={"corner": ("corner_panel", {"tail_lean": TAIL, "pin_lean": 0, "locked": ("pin_lean",)})},
    rows=(
        Bench(0, 0, "Hold the tail board against a wedge, and stand the pin board beside it. *Predict:* which "
                    "board's end line has to slant?",
              "Point at the end that you would saw at an angle.", "Most point at the leaning board.",
              hands=("the leaning board's", "its neighbour's")),
        Row(4, 5, "Set **Tail lean** 0. Then drag the slider slowly: {set}.",
            "The end line on the leaning board stays square. The end line on its neighbour slants.",
            "The tail board's line stays square. The *pin* board's slants.", "corner", (("tail_lean", TAIL),), _carries_over),
        Row(8, 10, "Set {set}.", "The line follows the lean, degree by degree.",
            "The pin board's line slants as much as the tail board leans.", "corner", (("tail_lean", 30),), _carries_over,
            own="At 30° the slant is plain."),
        Row(9, 12, "Set {set}.", "Lean the tail board in, and its neighbour is longer at the bottom.",
            "The *pin* board is longer at the bottom.", "corner", (("tail_lean", -16),),
            lambda panel: _carries_over(panel) and lines(panel)[1] < 0, own="Here the board leans in."),
        Bench(11, 14, "Set the bevel on a wedge. With the bevel strike the pin board's end line.",
              "The angle on the wedge is the angle on the neighbour.", "The angle carries over."),
        Bench(None, 20, "Keep the bevel's setting, and mark the level lines on the tail board's end.",
              "The same setting has a second job: it marks the level lines, here.",
              "One setting strikes the pin board's end line and the tail board's level lines."),
        Bench(None, 27, "Cautions first. Saw the pin board's end. Clamp the tail board between its wedges. Push the pin "
                        "board's end against the tail board's inner face.",
              "If your corner doesn't close, the table in notebook 06 tells you why.",
              "The corner closes, or the table says why not."),
        Bench(15, 38, "Do exercise 2 on the panel.", "Give me the sign as well as the size."),
    ),
    wrong=(("The leaning board gets the slanting line.", "Set **Tail lean** 30."),
           ("Leaning in gives the same line.", "Set **Tail lean** −16, and look which edge of the pin board is "
                                              "longer.")),
    suits=lambda corner: abs(corner.tail_lean) >= 5,
    ask="Why can the bevel be set on the leaning board and used on the other?",
    answer="The neighbour stands upright, so its face meets the leaning board square across. There you see the whole lean, "
           "and the neighbour's end line slants as much. Don't say yet that the rule holds only for an upright neighbour: "
           "04 shows why.",
)
