"""The lesson of notebook 10: build the whole box."""

from ...box.box import Box
from ...box.plan import Item, Plan
from .core import Bench, Row, Script
from .seen import at

SIDES = "left", "right", "front", "back"


def _demonstration():
    """The plan that the panel opens with here: a drawer like that of the notebook."""
    drawer = Box(360, 420, 187, front_lean=11, left_lean=16, right_lean=4)
    return Plan("Galley locker drawers", [Item("deep drawer, port", drawer)])


SCRIPT = Script(
    "10", "Build the whole box",
    props="the four boards of one drawer, end lines struck on them and their names on tape, the *back* struck as a mirror "
          "image.",
    panels={"box": ("box_panel", {"plan": _demonstration})},
    rows=(
        Bench(0, 0, "Draw the opening on the board: leans, floor, height. *Predict:* will a drawer with leaning sides slide "
                    "in?",
              "It leans both ways; does it go in?", "Doubt.", hands=("it slides in", "it sticks")),
        Bench(3, 4, "Open **A drawer for an opening**, and press **Fit the drawer**.",
              "It goes straight in, because its sides are parallel to the walls.",
              "It slides in. Level across, a leaning gap is wider than its clearance."),
        Row(7, 9, "Set {set}. Then turn to the other corners, and pick each.", "Four corners, and four sets of settings.",
            "Four corners, four sets of settings.", "box", (("apart", 60), ("turn", 150)),
            lambda panel: at(panel, "apart") == 60),
        Row(11, 15, "Set {set}.", "All four boards lean out 40 degrees: what would the shortcut make of this?",
            "A box that leans strongly all round.", "box", tuple((f"{side}_lean", 40) for side in SIDES),
            lambda panel: all(at(panel, f"{side}_lean") == 40 for side in SIDES)),
        Bench(None, 22, "**Paper model**: each of a pair cuts one net, scissors away from yourself, and folds it. Stand both "
                        "boxes "
                        "against the wedges.",
              "Yours closes, mine closes, and they aren't the same box.", "Both close, and one leans further."),
        Bench(15, 36, "The taped boards: which one is for the wrong side?",
              "Lay each board's outer face up, bottom edge towards you, and read its ends.", "The upright one is found last."),
    ),
    wrong=(("Left and right are one board turned round.", "Give both sides one lean, and read what the cut list says of them."),
           ("The cut list's angle is the board's lean.", "Compare the two for the front: its end lines belong to its "
                                                         "neighbours' "
                                                         "leans.")),
    ask="What has to be true of the opening for one drawer to fit both sides of the boat?",
    answer="Its two walls lean equally.",
)
