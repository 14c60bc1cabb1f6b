"""The lesson of notebook 03: the pin board leans."""

from .core import PIN, Bench, Row, Script
from .seen import lines


def _carries_over(panel):
    tail, pin = lines(panel)
    return abs(pin) < 1e-9 and abs(tail - panel.dials["pin_lean"].value) < 1e-9


SCRIPT = Script(
    "03", "The pin board leans",
    props="for each pair two wedges at {pin} and two clamps; a bevel, a try square and a pencil; an offcut as pin board, its "
          "long edges already planed to {pin}; one offcut as tail board.",
    panels={"corner": ("corner_panel", {"tail_lean": 0, "pin_lean": PIN, "locked": ("tail_lean",)})},
    rows=(
        Bench(0, 0, "*Predict:* the pin board leans now, so the tail board's end line slants. Do the tails point square to "
                    "that line, or along the board?",
              "Now the pin board leans, and the tail board stands upright. Draw me one tail on the tail "
              "board.", "Many draw the tail square to the end line.",
              hands=("square to the line", "along the board")),
        Row(4, 5, "Set **Pin lean** 0. Then drag the slider slowly: {set}.",
            "Now the tail board's line slants, and the pin board's stays square.",
            "The tail board's line slants. The pin board's stays square.", "corner", (("pin_lean", 30),), _carries_over,
            own="At 30° the slant is plain."),
        Row(8, 10, "Set {set}.", "Lean the pin board in, and the slant turns round.", "The tail board is longer at the bottom.",
            "corner", (("pin_lean", -11),), lambda panel: _carries_over(panel) and lines(panel)[0] < 0,
            own="Here the board leans in."),
        Bench(11, 14, "Each pair writes one rule for 02 and 03 together.", "Say the rule in one sentence, for both boards.",
              "*The bevel carries over to the neighbour.*"),
        Bench(None, 19, "Set a bevel on a wedge, and strike the end line on the tail board. Mark the pin board's thickness off "
                        "from the end line, square to the line. Draw a baseline there with the same bevel, parallel to "
                        "the end line. Draw a level "
                        "centre line, and set the slope of one tail from the centre line to both sides.",
              "The centre line is level. The end line slants, so it isn't square to the centre line.",
              "One cheek meets the end line at a blunter angle than the other."),
        Bench(None, 27, "Cautions first. Saw the end to its line. Then saw both sides of the tail, down to the baseline.",
              "The line slants on the face, but hold the saw square to the face, all through the thickness.",
              "Across the end the saw stays square to the face."),
        Bench(15, 38, "Do exercise 1.", "Which way would the tails point if you laid them out square to the end line?",
              "The tails point up or down, and never level."),
    ),
    wrong=(("Tails and pins obey different rules.", "Show 02 and 03 side by side, the leaning board at 30° in each. The "
                                                    "numbers "
                                                    "are the same, but swapped."),
           ("Tails stand square to their end line.", "Do exercise 1, and look at the tail that you marked.")),
    suits=lambda corner: abs(corner.pin_lean) >= 5,
    ask="Both boards lean. Does your rule still hold?",
    answer="No: each line then slants less than the other board leans. Don't tell: 04 shows the answer.",
)
