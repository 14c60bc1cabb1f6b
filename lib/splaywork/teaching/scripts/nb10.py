"""The lesson of notebook 10: build the whole box."""

from ...box.box import Box
from ...box.plan import Item, Plan
from .core import Bench, Row, Script
from .seen import at

SIDES = "left", "right", "front", "back"


def _demonstration():
    """The plan that the panel opens with here: a drawer like that of the notebook."""
    drawer = Box(360, 380, 150, front_lean=5, left_lean=15, right_lean=15)
    return Plan("Galley locker drawers", [Item("drawer", drawer)])


def _box(panel):
    """The box that the dials stand for."""
    return Box(at(panel, "width"), at(panel, "depth"), at(panel, "height"), **{f"{side}_lean": at(panel, f"{side}_lean")
                                                                               for side in SIDES})


def _two_sets(box):
    """Whether the left corners need the bevel settings of the right ones, and the front ones others than the back ones."""
    sets = {name: tuple(round(setting.from_square, 6) for setting in corner.joint.bevel_settings)
            for name, corner in box.corners.items()}
    return sets["front left"] == sets["front right"] != sets["back left"] == sets["back right"]


SCRIPT = Script(
    "10", "Build the whole box",
    props="the four boards of one drawer whose sides lean equally, its front leaning, its back upright. End lines are struck "
          "on them, and their names are on tape; the *left* side is struck as a second right side. Write the opening's leans, "
          "floor and height on a slip.",
    more="for each pair the two nets that the guide's button **Paper boxes** prints, two pairs of scissors and glue; for "
         "the room the footprints and wedges of one print, cut out.",
    panels={"box": ("box_panel", {"plan": _demonstration})},
    rows=(
        Bench(0, 0, "Draw the opening where all can see: leans, floor, height. *Predict:* will a drawer with leaning sides "
                    "slide in?",
              "Both sides lean out. Does the drawer still slide in?", "Many are in doubt.",
              hands=("it slides in", "it sticks")),
        Bench(3, 4, "Unfold **A drawer for an opening**, and press **Fit the drawer**.",
              "The drawer slides straight in, because the long edges of its sides run the way that it slides.",
              "The drawer slides in. Measured level, the gap at a leaning wall is wider than the clearance."),
        Row(7, 9, "Set {set}. Then turn the box to the other corners, and pick each.",
            "Four corners need only two sets of settings. For the left corners you turn the bevel over.",
            "The left corners have the settings of the right ones.", "box", (("apart", 60), ("turn", 150)),
            lambda panel: at(panel, "apart") == 60 and _two_sets(_box(panel))),
        Row(None, 15, "Set {set}.", "All four boards lean out 40 degrees: what would the shortcut make of this box?",
            "The box leans strongly all round.", "box", tuple((f"{side}_lean", 40) for side in SIDES),
            lambda panel: all(at(panel, f"{side}_lean") == 40 for side in SIDES)),
        Bench(None, 22, "Cautions first. Give each pair its two printed nets. Each learner of a pair cuts one net, and keeps "
                        "the scissors pointing away from the body. Then the learner folds and glues the net. Stand the "
                        "boxes of one pair on the footprints, each between its wedges.",
              "Both boxes close, but they aren't the same box.", "Both boxes close, and one leans further."),
        Bench(15, 36, "Show the taped boards. Ask “Which of these boards is for the wrong side?”, and wait.",
              "Lay each board with its outer face up, bottom edge towards you, and read its ends.",
              "Two sides are equal; the two should be mirror images."),
    ),
    wrong=(("Left and right are one board turned round.", "Press **Reset**. Both sides then lean equally. Read what "
                                                          "the cut list says of the two."),
           ("An end line in the cut list is the board's own lean.", "Compare the two for the front: the front's end lines "
                                                                    "belong to its neighbours' leans.")),
    own={"box": "The plan of this lesson is its own."},
    ask="One drawer is to fit on the left of the boat as well as on the right. What has to be true of its opening?",
    answer="The opening's two walls lean equally.",
)
