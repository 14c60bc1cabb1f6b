"""The lesson of notebook 08: how good is good enough."""

from ...common.boards import BOARDS
from ...common.printing import gap, mm
from ...corner.corner import Corner
from ...one_gauge.one_gauge import OneGauge
from .core import Bench, Row, Script
from .seen import at, corner, gaps


def _worst(panel):
    """The shortcut's larger gap in the board width of the map, mm."""
    here = corner(panel)
    return max(gaps(panel, at(panel, "width") * min(here.slant_width(1.0, board) ** -1 for board in ("tail", "pin"))))


_SLIGHT, _ONE_DEGREE = (max(OneGauge(Corner(*leans)).gap_over(100, board) for board in BOARDS)
                        for leans in ((8, 6), (40, 1)))  # mm

SCRIPT = Script(
    "08", "How good is good enough",
    props="feelers, or slips of paper of known thickness; one trial corner that closes well, and one that doesn't.",
    panels={"map": ("gauge_map_panel", {"tail_lean": 15, "pin_lean": 12}),
            "errors": ("setting_errors_panel", {"tail_lean": 15, "pin_lean": 12, "back_lean": 0})},
    called={"map": "the map", "errors": "the setting errors"},
    rows=(
        Bench(0, 0, "*Predict:* how wide a gap would you still glue? Everybody writes a number.",
              "Write down, in mm, the widest gap that you would glue.", "The numbers go from a hair to half a millimetre.",
              hands=("up to 0.1 mm", "up to 0.2 mm", "up to 0.5 mm", "more")),
        Bench(3, 5, "Pass the corners and the feelers round.",
              "Find the feeler with your number, and hold it in the open corner. Would you still glue that gap?",
              "Most would accept more than they wrote."),
        Row(7, 12, "Panel **the map**: set {set}.", "One board stands upright, the other leans 40 degrees: I get no gap at "
                                                    "all.",
            "The panel says that the shortcut is exact.", "map",
            (("tail_lean", 40), ("pin_lean", 0)), lambda panel: _worst(panel) < 1e-9),
        Row(9, 16, "Set {set}.",
            f"Now I lean the upright board by one degree, and the gap is {mm(_ONE_DEGREE)}. Who wrote a smaller number than "
            "that?",
            "At 1° the panel says that the shortcut isn't good enough.", "map", (("tail_lean", 40), ("pin_lean", 1)),
            lambda panel: _worst(panel) > at(panel, "tolerance") and abs(_worst(panel) - _ONE_DEGREE) < 1e-9),
        Row(12, 21, "Set {set}.", f"At slight leans the shortcut is good enough. In boards 100 mm wide the gap is "
                              f"{gap(_SLIGHT)}.",
            "The panel says that the shortcut is good enough.", "map", (("tail_lean", 8), ("pin_lean", 6)),
            lambda panel: _worst(panel) < at(panel, "tolerance") and at(panel, "width") == 100
            and abs(_worst(panel) - _SLIGHT) < 1e-9),
        Row(None, 27, "Show panel **the setting errors** as it opens. Then set {set}.",
            "Your own bevel is wrong as well, by a little, every time.",
            "The spread of the gaps grows with the spread of the settings.", "errors", (("line", 0.5),),
            lambda panel: at(panel, "line") == 0.5),
        Bench(None, 34, "Each pair looks its own boards up in the table of widths and tolerances.",
              "Find your width, find your gap, and read the lean.", "Each pair has an answer."),
        Bench(16, 40, "Do exercise 3.", "How wide may the board be before the shortcut shows?"),
    ),
    wrong=(("Slight leans, so no error.", "Take a wide board at 8° and 6°: set **Slant width** 400."),
           ("A better bevel makes the shortcut better.", "The method is wrong, not the bevel.")),
    own={"map": "These are the points that are spoken of.", "errors": "The settings count here, not the leans."},
    ask="Which is worse at your own corner: the shortcut, or your own bevel?",
    answer="The steps on the bench give your bevel's limit, in degrees. The sentence under the map says by how many degrees "
           "the worse shortcut line is out. The larger number is the worse fault.",
)
