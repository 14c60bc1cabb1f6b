"""The lesson of notebook 07: one gauge is not enough."""

from ...common.boards import BOARDS
from ...common.printing import gap, mm
from ...corner.corner import Corner
from ...one_gauge.one_gauge import OneGauge
from .core import Bench, Row, Script
from .seen import at, corner, gaps, red

_STRONG, _SLIGHT, _MODERATE = ("strong", None), ("slight", None), ("moderate", None)  # buttons
_SIDES = 120, 440, 380  # mm: height, tail and pin boards' lengths, as the panels have them
_EQUAL, _WINDING = OneGauge(Corner(40, 40)), OneGauge(Corner(15, 12))
_CLOSED = OneGauge(Corner(28, 24))
_LOWER = f"{_SIDES[0] * _CLOSED.height_factor:.1f}"
_OUT_OF_LINE = _CLOSED.go_round(*_SIDES).gaps  # mm, after 1 to 4 corners


def _closed(panel):
    """Leans of the box that closes, degrees, and how tall it is by its intended height."""
    shortcut = OneGauge(corner(panel))
    return [shortcut.closed_lean(board) for board in BOARDS], shortcut.height_factor


def _leans_further(panel):
    leans, tall = _closed(panel)
    return leans[0] > at(panel, "tail_lean") + 1 and leans[1] > at(panel, "pin_lean") + 1 and tall < 1


def _gapes_at_the_bottom(panel):
    """Whether both ends gape at the bottom, wide enough to be seen."""
    held = OneGauge(corner(panel)).hold_leans(at(panel, "height"))
    return min(gaps(panel)) > 5 and all(held[board].opens_at == "bottom" for board in BOARDS)


def _each_further_than_the_last(panel):
    out = OneGauge(corner(panel)).go_round(*_SIDES).gaps
    return at(panel, "corners") == 4 and 9.25 < out[0] < 9.35 and 54.5 < out[3] < 55.5 and (out[1:] > out[:-1]).all()


SCRIPT = Script(
    "07", "One gauge is not enough",
    props="two bevels, each set on a wedge of the corner in wood, to 28° and to 24° from square, and two offcuts to hold them "
          "on; paper and a pencil for everybody; the paper boxes at 40° all round, with their wedges and the height strip; one "
          "corner sawn to shortcut lines, its wedges, four clamps and a white card (the kit of this lesson has all sizes): the "
          "tail board leans 28° and has a line of 24°, the pin board leans 24° and has a line of 28°.",
    more="winding sticks, and a drawer's side to twist.",
    beforehand=("Set each bevel on a wedge, and mark one offcut TAIL, the other PIN.",
                "Clamp each board of the corner between its own pair of wedges, as lesson 04 says, the ends touching at the "
                "top. The corner points at the class; the card stands inside, behind the gap.",
                "Print the paper boxes with the guide's button **Paper boxes**. Cut and fold them, scissors away from "
                "yourself.",
                f"Write 40 on the intended box, and {_EQUAL.closed_lean('tail'):.0f} on the box with the shortcut lines.",
                "Hold the paper wedges to the boxes once: each box stands at its own lean."),
    panels={"hold": ("one_gauge_panel", {"consequence": "hold the leans"}),
            "close": ("one_gauge_panel", {"consequence": "close the corners", "tail_lean": 28, "pin_lean": 24}),
            "round": ("one_gauge_panel", {"consequence": "go round"}),
            "wind": ("one_gauge_panel", {"consequence": "wind the sides", "tail_lean": 15, "pin_lean": 12})},
    called={"hold": "hold the leans", "close": "close the corners", "round": "go round", "wind": "wind the sides"},
    rows=(
        Bench(0, 0, "Show the shortcut with two bevels on two offcuts: the tail board's 28° on the pin board, the pin board's "
                    "24° on the tail board. *Predict.* Everybody writes yes or no. Hands up.",
              "I strike all eight end lines with this shortcut. Nobody holds the boards at their leans. Do all four corners "
              "close?",
              "Most: no.", hands=("yes", "no")),
        Row(3, 4, "**Next**: the question, panel **hold the leans**. **Next** again: {set}. Then point at the corner in "
                  "wood.",
            "The ends touch at the top and gape at the bottom.",
            "Both gaps on the panel, and the opening in the wood, at the bottom.", "hold", (_STRONG,),
            lambda panel: _gapes_at_the_bottom(panel) and red(panel) > 200, covered=True,
            ask="I hold both boards at their leans. Do the ends gape at the top, or at the bottom?"),
        Row(6, 8, "The same panel: {set}.",
            "The gap is about a tenth of a millimetre, and you need the lens to see it.",
            "Only the lens shows a gap.", "hold", (_SLIGHT, ("fit", None)),
            lambda panel: all(abs(gap - 0.1) < 0.05 for gap in gaps(panel))),
        Row(7, 12, "Panel **close the corners**: {set}. Point at both heights.",
            f"Nobody holds the leans now. The corners close, at {_CLOSED.closed_lean('tail'):.1f} and "
            f"{_CLOSED.closed_lean('pin'):.1f} degrees: a different box.",
            f"All four corners close. The box leans further (red beside black) and stands lower: {_LOWER} instead of "
            f"{_SIDES[0]} mm.", "close", (_STRONG,),
            _leans_further),
        Row(10, 16, "**Next**: the start, with **both equal** pressed. Drag **Tail lean** slowly from 0 to 45; both sliders "
                    "move. **Next** again: {set}.",
            "Watch the height: it sinks faster and faster.", "At the end the box lies flat on the bench.", "close",
            (("equal", True), ("tail_lean", 45)),
            lambda panel: at(panel, "pin_lean") == 45 and OneGauge(corner(panel)).lies_flat,
            start=(("equal", True), ("tail_lean", 0))),
        Row(13, 20, "Stand both paper boxes on the bench, each against its wedges, the height strip beside it. Paper won't "
                      "stand at its lean by itself. The class comes to the bench. On the panel: {set}.",
              "All corners of both boxes close. This one leans 40 degrees as intended, and that one leans "
              f"{_EQUAL.closed_lean('tail'):.0f}.", "Both close; one leans further, and is lower.",
              "close", (("equal", True), ("tail_lean", 40)),
              lambda panel: abs(OneGauge(corner(panel)).closed_lean("tail") - 57) < 0.5 and _closed(panel)[1] < 0.8),
        Row(None, 26, "Panel **go round**: press **strong**, and set **Corners** 1, 2, 3, 4 in turn. At the end: {set}.",
            f"One corner is {mm(_OUT_OF_LINE[0])} wrong. After four corners it is {mm(_OUT_OF_LINE[3], 0)}.",
            "A turn and a gap are left, and grow to the last corner.", "round", (_STRONG, ("corners", 4)),
            lambda panel: _each_further_than_the_last(panel) and red(panel) > 200),
        Row(None, 31, "Panel **wind the sides** (it rhymes with *minds*): press {set}.",
            f"The front corners close with the side at {_WINDING.closed_lean('tail'):.1f} degrees, the back corners at "
            f"{_WINDING.corner.tail_lean:.1f}. The picture enlarges the twist.",
            "The front corners want the side at one lean, the back corners at another.", "wind", (_MODERATE,),
            lambda panel: 15.25 < OneGauge(corner(panel)).closed_lean("tail") < 15.35 and panel.picture.drawer.factor > 1),
        Bench(None, 36, "Sight a real side with the sticks, one end held twisted.",
              "One of you sights along the tops. I twist this end; tell us which tip rises.",
              "One tip rises above the other stick."),
        Row(17, 41, "**Next**: the question. Hands up; press the answers to count them. **Next** again: {set}.",
            "The box closes, but it leans further and stands lower. It won't fit where the intended one belongs.",
            "All four corners closed, and two heights.", "close", (("equal", True), ("tail_lean", 40)), _leans_further,
            hands=("wrote yes", "wrote no"), ask="Who wrote no?", covered=True,
            answer="Closed, but a different box: further out, and lower."),
    ),
    wrong=(("The box won't close.", "*Close the corners*, at 28 and 24."),
           ("Then the shortcut does no harm.", "*Hold the leans* and *wind the sides*, at 28 and 24."),
           ("The four errors cancel.", "*Go round*, at 28 and 24, after four corners."),
           ("I would see the gap.", "*Hold the leans*, at 8 and 6: find the gap outside the lenses.")),
    questions=(
        ("Why do four wrong corners close?", "The lines agree with one another. They are right for a different box."),
        ("Why does the paper need wedges, if nobody holds the leans?",
         "Paper bends at its folds. Boards sawn so, and held closed, can stand at no other lean."),
        ("The paper closes because it is folded, doesn't it?",
         "Three corners are folds. Watch the fourth, with the tab: its two edges meet as well."),
        (f"What is wrong with {_CLOSED.closed_lean('tail'):.0f} instead of 28?",
         "The opening, the bottom and the height were meant for 28."),
        ("Does the box gape inside?", f"A little: {gap(_CLOSED.closed_end_gap(18))} in 18 mm stock."),
        ("Can I save ends that are already sawn?", "Yes, before the tails are cut: notebook 07 says how, under *On the "
                                                   "bench*.")),
    own={"hold": "These leans show the gap, and hide it.", "close": "These leans show what becomes of the height.",
         "round": "At these leans each gap is seen.", "wind": "These are the leans that are spoken of."},
    ask="Your sides and your front lean, and your back doesn't. Which of the four cases is yours?",
    answer="Case 4; or case 1, if the sides won't give.",
    short=("Your corner is held at its leans. Where will the shortcut gape?", "Where both boards lean out, at the bottom."),
)
