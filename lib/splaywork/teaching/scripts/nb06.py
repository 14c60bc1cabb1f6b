"""The lesson of notebook 06: read a trial corner."""

from ...corner.corner import Corner
from .core import HEIGHT, PIN, TAIL, THICKNESS, Bench, Row, Script
from .seen import at


def _departures(panel):
    """(tail, pin) degrees by which the boards would stand off their intended leans."""
    stands = Corner.from_end_lines(at(panel, "tail_end_line"), at(panel, "pin_end_line"))
    return stands.tail_lean - at(panel, "tail_lean"), stands.pin_lean - at(panel, "pin_lean")


SCRIPT = Script(
    "06", "Read a trial corner",
    props="a trial corner sawn right, and three sawn wrong in one way each: an edge left square; an end left square; one line "
          "a degree wrong. All corners are for {tail} and {pin}. Number the corners, and keep the list of faults to "
          "yourself. The corners stand on a flat board. Slips of paper serve as feelers.",
    panels={"reading": ("trial_corner_panel", {"tail_end_line": 10.9, "pin_end_line": 15.2}),
            "faults": ("trial_faults_panel", {"tail_lean": TAIL, "pin_lean": PIN, "height": HEIGHT,
                                               "thickness": THICKNESS})},
    called={"reading": "the corner measured", "faults": "which cut was wrong"},
    rows=(
        Bench(0, 0, "Put the corner with the square edge on the flat board.", "Something is wrong here: what?",
              "Many guess at the lean."),
        Bench(3, 4, "Go through the table in its order, aloud, with slips of paper under the edge.",
              "Stop at the first row that fits.", "The first row that fits names the fault."),
        Row(8, 11, "Panel **which cut was wrong**: set {set}. Choose the board in the list, and type the gap that the class "
                   "measured under its edge.",
            "I see light under the edge, but no gap across the end or up the end. Which cut is wrong?",
            "The panel names the cut that made the gap.",
            "faults", (("end", 0), ("line", 0)), lambda panel: at(panel, "edge") > 0),
        Bench(None, 16, "The pairs pass the corners round. Each pair finds a fault, and says what to cut.",
              "Before you touch a plane, say what you would cut.", "The pairs find three faults in three places."),
        Row(12, 30, "Show panel **the corner measured** as it opens. Then set {set}.",
            "I move the pin board's line, and the tail board's bar moves.",
            "The *tail* board's bar moves to its mark. The pin board's hardly moves.", "reading", (("pin_end_line", 15.7),),
            lambda panel: abs(_departures(panel)[0]) < 0.1 and abs(_departures(panel)[1]) < 0.5),
        Row(15, 37, "Set {set}. Then set **Read to ±** to 0.1.", "A careless reading makes a long bar.",
            "The bars grow and shrink with the care of the reading.", "reading", (("resolution", 1),),
            lambda panel: at(panel, "resolution") == 1),
        Bench(18, 41, "Ask “Of all the ways to find a lean, which would you trust least?”, and wait.",
              "I trust slant width and height least. A slight lean hardly changes the height, so the height tells you little.",
              "Slant width and height come last."),
    ),
    wrong=(("My line shows my own board's lean.", "Set **Pin end line, measured** to 15.2, then to 15.7, and watch the bars."),
           ("A finer protractor would find the fault.", "Set 15.2 again, and **Read to ±** 0.1: the bar is short, and in the "
                                                   "wrong place.")),
    suits=lambda corner: min(abs(corner.tail_lean), abs(corner.pin_lean)) >= 5,
    own={"reading": "These two lines were read off one corner."},
    ask="You find no gap anywhere, and still both boards lean too far. Which notebook do you open?",
    answer="Open notebook 06 first, and read both lines. If each line slants by the other board's intended lean, you used the "
           "shortcut: open notebook 07.",
)
