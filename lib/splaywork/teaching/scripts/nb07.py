"""The lesson of notebook 07: one gauge is not enough."""

from ...one_gauge.one_gauge import OneGauge
from .core import Bench, Row, Script
from .seen import at, corner, gaps, red

_STRONG = ("tail_lean", 28), ("pin_lean", 24)
_SLIGHT = ("tail_lean", 8), ("pin_lean", 6)
_MODERATE = ("tail_lean", 15), ("pin_lean", 12)


def _closed(panel):
    """Leans of the box that closes, degrees, and how tall it is by its intended height."""
    shortcut = OneGauge(corner(panel))
    return [shortcut.closed_lean(board) for board in ("tail", "pin")], shortcut.height_factor


def _leans_further(panel):
    leans, tall = _closed(panel)
    return leans[0] > at(panel, "tail_lean") + 1 and leans[1] > at(panel, "pin_lean") + 1 and tall < 1


SCRIPT = Script(
    "07", "One gauge is not enough",
    props="the paper models of a box at 40° all round, both nets cut (scissors away from yourself) and folded beforehand; "
          "[10](../10_build_the_whole_box.ipynb) prints them. Winding sticks for the long lesson.",
    panels={"hold": ("one_gauge_panel", {"consequence": "hold the leans"}),
            "close": ("one_gauge_panel", {"consequence": "close the corners"}),
            "round": ("one_gauge_panel", {"consequence": "go round"}),
            "wind": ("one_gauge_panel", {"consequence": "wind the sides"})},
    rows=(
        Bench(0, 0, "*Predict:* all eight ends are struck with the shortcut. Will the box close? Write it down.",
              "Yes or no, on paper, and fold it.", "Most: no."),
        Row(2, 4, "1, *hold the leans*: set {set}.", "I hold every board at its lean, and the ends don't meet.",
            "Both ends touch at the top and gape at the bottom.", "hold", _STRONG,
            lambda panel: min(gaps(panel)) > 5 and red(panel) > 200),
        Row(5, 8, "The same panel: set {set}.", "At these leans the gap is there, and only the lens shows it.",
            "Only the lens shows a gap.", "hold", _SLIGHT, lambda panel: 0 < max(gaps(panel)) < 0.25),
        Row(7, 12, "2, *close the corners*: set {set}.", "Now nothing holds the leans, and the corners close.",
            "All four corners close. The box leans further and stands lower.", "close", _STRONG, _leans_further),
        Row(10, 16, "The same panel: move both leans together, slowly, from 0 to 45: {set}.",
            "Watch the height: it sinks faster and faster.", "At the end the box lies flat on the bench.", "close",
            (("tail_lean", 45), ("pin_lean", 45)), lambda panel: OneGauge(corner(panel)).lies_flat),
        Bench(13, 21, "Hand round the two paper boxes, with their wedges and the height strip.",
              "Both are made of perfect corners, and only one is the box that was intended.", "Both close; one leans further."),
        Row(None, 26, "3, *go round*: set {set}, after one corner, two and three.", "Each corner alone looks fine; now add "
                                                                                    "four up.",
            "A turn and a gap are left, and grow to the last corner.", "round", (*_STRONG, ("corners", 4)),
            lambda panel: at(panel, "corners") == 4 and red(panel) > 200),
        Row(None, 31, "4, *wind the sides*: set {set}.", "The front wants the side at one lean, the back at the other.",
            "The front corners want the side at one lean, the back corners at another.", "wind", _MODERATE,
            lambda panel: OneGauge(corner(panel)).closed_lean("tail") > at(panel, "tail_lean") + 0.2),
        Bench(None, 36, "Sight a real side with the sticks, one end held twisted.", "A hand twists a side without noticing.",
              "A hand needs very little force for it."),
        Bench(17, 41, "Unfold the papers.", "Who has to change the answer?", "“It closes, into a different box.”"),
    ),
    wrong=(("The box won't close.", "*Close the corners*, at 28 and 24."),
           ("Then the shortcut does no harm.", "*Wind the sides*, at 28 and 24."),
           ("The four errors cancel.", "*Go round*, at 28 and 24, after four corners."),
           ("I would see the gap.", "*Hold the leans*, at 8 and 6; cover the lenses and the red numbers.")),
    ask="Your sides and your front lean, and your back doesn't. Which of the four ways is yours?",
    answer="The fourth; or the first, if the sides won't give.",
)
