"""The lesson of notebook 07: one gauge is not enough."""

import numpy as np

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
_PAPER = _EQUAL.closed_lean("tail")  # degrees: the paper box with shortcut lines
_PAPER_LOWER = f"{_SIDES[0] * _EQUAL.height_factor:.1f}"  # mm: the strip's lower mark
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


def _as_in_paper(panel):
    """Whether the panel's second box leans and stands as the paper one: the numbers that are said, and the strip's marks."""
    leans, tall = _closed(panel)
    return leans == [_PAPER] * 2 and f"{_SIDES[0] * tall:.1f}" == _PAPER_LOWER and at(panel, "tail_lean") == 40


def _sinks_faster_and_faster():
    """Whether the height sinks more with each five degrees, and hardly at all before 25, to which one drags quickly."""
    leans = np.arange(0, 46, 5)
    tall = np.array([OneGauge(Corner(lean, lean)).height_factor for lean in leans])
    return bool((np.diff(tall, 2) < 0).all()) and tall[leans == 25] > 0.97


def _each_further_than_the_last(panel):
    out = OneGauge(corner(panel)).go_round(*_SIDES).gaps
    return at(panel, "corners") == 4 and 9.25 < out[0] < 9.35 and 54.5 < out[3] < 55.5 and (out[1:] > out[:-1]).all()


SCRIPT = Script(
    "07", "One gauge is not enough",
    props="two bevels, and two offcuts to hold them on; paper and a pencil for everybody; two paper boxes with footprints, "
          "four wedges and the height strip (the guide's button **Paper boxes** prints them); one corner sawn to "
          "shortcut lines, two wedges at 28° and two at 24° (sizes: the guide's button **Kits**), four clamps and a white "
          "card; a cloth to hide the corner, and an empty carton to hide the paper boxes.",
    more="winding sticks, a drawer's side to twist, and a clamp for the side.",
    beforehand=("Set a bevel on a wedge of 28°, another on one of 24°: stock against the thick end, blade along the slope. "
                "Write TAIL or PIN on each offcut and each board.",
                "Stand the corner on the bench, pointing at the class, its ends touching at the top. PIN lies at the class's "
                "left, as on the screen. Clamp each board near its far end between two wedges of its lean. One wedge "
                "stands thick end down under the face that overhangs, its twin upside down on the other side. A second "
                "clamp holds the first wedge down on the bench. The card stands inside, behind the gap.",
                "Cut out and fold the paper boxes, scissors away from yourself. Glue each box at its tab. Write 40 on the box "
                f"with the true lines, {_PAPER:.0f} on the other.",
                f"Stand each box on its footprint, 40 at the class's left. Two paper wedges say 40°, and two say "
                f"{_PAPER:.1f}°. Push each two against the left and right sides of the box with their number. Stand the strip "
                "between the boxes, its fold towards the class.",
                "Cover the corner with the cloth, and the paper boxes with the carton."),
    panels={"hold": ("one_gauge_panel", {"consequence": "hold the leans"}),
            "close": ("one_gauge_panel", {"consequence": "close the corners", "tail_lean": 28, "pin_lean": 24}),
            "round": ("one_gauge_panel", {"consequence": "go round"}),
            "wind": ("one_gauge_panel", {"consequence": "wind the sides", "tail_lean": 15, "pin_lean": 12})},
    called={"hold": "hold the leans", "close": "close the corners", "round": "go round", "wind": "wind the sides"},
    rows=(
        Bench(0, 0, "Show the shortcut on the offcuts: hold the bevel with the tail board's 28° on PIN, and that with the pin "
                    "board's 24° on TAIL. *Predict.* Everybody writes yes or no. Hands up.",
              "I strike all eight end lines with this shortcut. Nobody holds the boards at their leans. Do all four corners "
              "close?",
              "Most say no. Don't answer yet.", hands=("yes", "no")),
        Row(3, 4, "**Next** shows the question, panel **hold the leans**. **Next** again presses {set}. "
                  "Then lift the cloth off the corner in wood, and point at the gap.",
            "The ends touch at the top and gape at the bottom.",
            "On the panel both gaps are at the bottom, and so is the gap in the wood.", "hold", (_STRONG,),
            lambda panel: _gapes_at_the_bottom(panel) and red(panel) > 200, covered=True,
            ask="I hold both boards at their leans. Do the ends gape at the top, or at the bottom?"),
        Row(6, 8, "In the same panel press {set}. Point at the corner on the screen, then at the lenses, the framed "
                  "squares.",
            "At slight leans, 8 and 6 degrees, the gap is about a tenth of a millimetre. You need a lens to see the gap.",
            "Only the lenses show a gap.", "hold", (_SLIGHT, ("fit", None)),
            lambda panel: all(abs(gap - 0.1) < 0.05 for gap in gaps(panel))),
        Row(7, 12, "In panel **close the corners** press {set}. Point at the red lines beside the "
                   "black ones, then at both heights.",
            f"Here nobody holds the leans. The corners close into a different box. Tail boards lean "
            f"{_CLOSED.closed_lean('tail'):.1f} degrees, not {_CLOSED.corner.tail_lean:g}; pin boards "
            f"{_CLOSED.closed_lean('pin'):.1f}, not {_CLOSED.corner.pin_lean:g}.",
            f"The box closes, leans further and stands lower: {_LOWER} instead of {_SIDES[0]} mm.", "close", (_STRONG,),
            _leans_further),
        Row(10, 16, "**Next** shows the start, with **both equal** pressed. Point at the red height. Drag **Tail lean** "
                    "quickly to 25, then slowly to 45. **Next** again sets exactly {set}.",
            "Watch the red number: the height sinks faster and faster.", "At the end the box lies flat on the bench.", "close",
            (("equal", True), ("tail_lean", 45)),
            lambda panel: at(panel, "pin_lean") == 45 and OneGauge(corner(panel)).lies_flat and _sinks_faster_and_faster(),
            start=(("equal", True), ("tail_lean", 0))),
        Row(13, 20, "Set {set}. The class comes to the bench. Lift the carton off the paper boxes. Point at the "
                      f"strip's marks, the heights of the box in full size: {_SIDES[0]:.1f} beside 40 and "
                      f"{_PAPER_LOWER} beside {_PAPER:.0f}.",
              f"Both boxes close. This one leans 40 degrees as intended, that one {_PAPER:.0f}. The wedges only "
              "keep the paper from bending.", "Both close; one leans further, and is lower, as on the panel.",
              "close", (("equal", True), ("tail_lean", 40)), _as_in_paper),
        Row(None, 26, "**Next** shows the start in panel **go round**: **strong**, **Corners** 1. Drag **Corners** to 2, then "
                       "to 3. **Next** again sets {set}.",
            f"After one corner the error is {mm(_OUT_OF_LINE[0])}. After four corners the error is {mm(_OUT_OF_LINE[3], 0)}.",
            "After each corner the red line lies further from the black line. After the fourth the two still don't meet.",
            "round", (_STRONG, ("corners", 4)),
            lambda panel: _each_further_than_the_last(panel) and red(panel) > 200, start=(_STRONG, ("corners", 1))),
        Row(None, 31, "Panel **wind the sides** (*wind* rhymes with *mind*): press {set}.",
            f"The front corners close with the side at {_WINDING.closed_lean('tail'):.1f} degrees, the back corners at "
            f"{_WINDING.corner.tail_lean:.1f}. The picture enlarges the twist.",
            f"At the front corners the side leans {_WINDING.closed_lean('tail'):.1f}°, at the back corners "
            f"{_WINDING.corner.tail_lean:.1f}°.", "wind", (_MODERATE,),
            lambda panel: 15.25 < OneGauge(corner(panel)).closed_lean("tail") < 15.35 and panel.picture.drawer.factor > 1),
        Bench(None, 36, "Clamp one end of a real side flat on the bench, the rest over the edge. Lay one stick across each "
                        "end. Twist the free end.",
              "One of you looks over the near stick at the far one. I twist this end: tell us which tip rises.",
              "A tip of one stick rises above the other stick."),
        Row(17, 41, "The class sits down. **Next** shows the question. Hands up; press an answer once for each hand. "
                    "**Next** again sets {set}.",
            f"At 40 degrees the box closes, but leans further and is lower: {_PAPER_LOWER} mm, not {_SIDES[0]}.",
            "The corners have closed. The panel gives two heights.", "close", (("equal", True), ("tail_lean", 40)),
            _leans_further,
            hands=("wrote yes", "wrote no"), ask="All four corners close. Who wrote yes? Who wrote no?", covered=True,
            answer="Closed, but a different box: further out, and lower."),
    ),
    wrong=(("The box won't close.", "Show the panel **close the corners** at 28 and 24."),
           ("Then the shortcut does no harm.", "Show the panels **hold the leans** and **wind the sides** at 28 and 24."),
           ("The four errors cancel.", "Show the panel **go round** at 28 and 24, after four corners."),
           ("I would see the gap.", "Show the panel **hold the leans** at 8 and 6. Ask who sees the gap outside the lenses.")),
    questions=(
        ("Why do four wrong corners close?", "The lines agree with one another, and are right for a different box."),
        ("Why does the paper need wedges, if nobody holds the leans?",
         "Paper bends at its folds. Boards sawn to these lines and pushed together can stand at no other lean."),
        ("The paper closes because it is folded, doesn't it?",
         "Three corners are folds. Look at the fourth, with the tab: its two edges meet from bottom to top."),
        (f"What is wrong with {_CLOSED.closed_lean('tail'):.0f} instead of 28?",
         "The opening, the bottom and the height are made for the intended lean, 28°."),
        ("Does the box gape inside?", f"A little: at 28° and 24°, {gap(_CLOSED.closed_end_gap(18))} in 18 mm stock."),
        ("Can I save ends that are already sawn?", "Yes, before the tails are cut: notebook 07 says how, under *On the "
                                                   "bench*.")),
    own={"hold": "These leans show the gap, and hide it.", "close": "These leans show what becomes of the height.",
         "round": "At these leans each gap is seen.", "wind": "These are the leans that are spoken of."},
    ask="A drawer's sides and front lean, and its back stands upright. Which of the four cases in notebook 07 is this?",
    answer="Case 4; or case 1, if the sides won't give.",
    short=("You used the shortcut, and hold your corner at its leans. Both boards lean out. Where do the ends gape?",
           "At the bottom."),
)
