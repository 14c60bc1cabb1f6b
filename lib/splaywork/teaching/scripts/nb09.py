"""The lesson of notebook 09: lay out the joint."""

from ...joint.joint import Joint
from .core import PIN, TAIL, Bench, Row, Script
from .seen import at, corner


def _joint(panel, end="flush"):
    return Joint(corner(panel), height=at(panel, "height"), tail_thickness=at(panel, "tail_thickness"), end=end)


def _cheeks_run_level(joint):
    """Whether each line of a cheek that runs from outer to inner face, across the flush end, is level."""
    across = [line.ends for setting in joint.bevel_settings for line in setting.lines if line.surface == "end"]
    return len(across) == 2 * len(joint.marks) and all(abs(ends[0, 2] - ends[1, 2]) < 1e-9 for ends in across)


def _sides_on_the_end(joint):
    """Which of the tails' sides each setting strikes that only marks the end."""
    return [{line.side for line in setting.lines} for setting in joint.bevel_settings
            if all(line.surface == "end" for line in setting.lines)]


def _few_letters(joint):
    return len(joint.bevel_settings) == 3


def _square_costs_two(flush, square):
    return (len(square.bevel_settings) == len(flush.bevel_settings) + 2
            and _sides_on_the_end(square) == [{"lower"}, {"upper"}])


def _suits(corner):
    """Whether the joint of these leans has so few letters, and two more with a square end."""
    if min(abs(corner.tail_lean), abs(corner.pin_lean)) < 5:
        return False
    flush, square = (Joint(corner, height=120, tail_thickness=18, end=end) for end in ("flush", "square"))
    return _few_letters(flush) and _cheeks_run_level(flush) and _square_costs_two(flush, square)


SCRIPT = Script(
    "09", "Lay out the joint",
    props="for each pair an offcut, its edges ripped and its end sawn flush to the end line, with its template. To show: one "
          "offcut with a square end, and the template for that. For each pair scissors, tape, a saw, a vice, and two wedges at "
          "{tail} to hold the tail board in the vice. Set the panel to your stock before you print templates. "
          "**Height** is measured plumb, not up the face.",
    panels={"joint": ("joint_panel", {"tail_lean": TAIL, "pin_lean": PIN})},
    rows=(
        Bench(0, 0, "*Predict.* Hands up.",
              "How many bevel settings does this joint need? Count on your fingers before we look.",
              "The answers go from two to a dozen.", hands=("2 or 3", "4 to 6", "7 or more")),
        Row(3, 4, "Count the letters on the panel as it opens.", "All lines with the same letter take one setting.",
            "There are few letters, and each is used several times.", "joint", (), lambda panel: _few_letters(_joint(panel))),
        Row(7, 9, "Set {set}.", "The pin board comes out level. Every cheek runs level from outer face to inner face.",
            "The pin board comes out level.", "joint", (("apart", 30), ("turn", 120)),
            lambda panel: at(panel, "apart") == 30 and _cheeks_run_level(_joint(panel))),
        Row(11, 14, "Press {set}.",
            "A square end saves me the end bevel, which has no letter. In return I need two more letters, and I plane the end "
            "flush.",
            "The joint needs two more settings, for the tails' upper and lower sides on the end.", "joint",
            (("end", "square"),),
            lambda panel: _square_costs_two(_joint(panel), _joint(panel, "square"))),
        Bench(15, 19, "Fold a template round the offcut.", "If the lines meet over the arris, the end is where it should be.",
              "The lines meet over the arris."),
        Bench(None, 24, "Cautions first. Each pair sticks a template on and saws one tail. The pair looks along both cheeks, "
                        "with the board at its lean.",
              "Follow two lines: one on the face, one across the end.",
              "Both cheeks are level: across the flush end one setting does for both."),
        Bench(18, 40, "Do exercise 1.", "Count each angle that isn't square. The same angle twice counts as one."),
    ),
    wrong=(("Tails that spread more hold better in leaning work.",
            "Set **Tail slope** 3 (1 in 3), then 8 (1 in 8), and look at the tail's sharper corner."),
           ("Pins are laid out first.", "Read the steps on the bench: you mark and saw the tails first, and scribe the "
                                        "pins from the tails.")),
    suits=_suits,
    ask="Which lines of the joint have no letter, and what gives them to you?",
    answer="The pins' lines on the pin board's end have no letter. The tails give you these lines. The baselines have "
           "the letters of their end lines.",
)
