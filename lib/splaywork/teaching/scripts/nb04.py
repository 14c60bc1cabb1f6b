"""The lesson of notebook 04: both boards lean."""

from math import isclose, radians, tan

from ...common.boards import BOARDS, other
from ...common.printing import degrees, mm
from ...corner.corner import Corner
from ...corner.projection import POINT
from ...corner.projection_words import AT_LEAN, FLAT, gap_in
from .core import PIN, TAIL, Bench, Row, Script
from .seen import MISSED, corner, lines, pixels, red, slant_less

_STRONG = Corner(30, 30)
HARDLY = 1.0  # mm: what a pencil and a straightedge may be out in 100 mm, so that a smaller miss is hardly told
HARDLY_DRAWN = 0.5  # degrees: two lines of the panel that are no further apart lie on one another
_RUN, _ALONG = (100 * tan(radians(angle)) for angle in (_STRONG.tail_lean, _STRONG.pin_end_line))  # mm, over 100 up


def _off_by(panel, most=None, least=None):
    """Whether the shortcut is out by at least, or at most, so many degrees on each board."""
    here = corner(panel)
    off = [abs(abs(here.lean(other(board))) - abs(here.end_line(board))) for board in BOARDS]
    return (least is None or min(off) >= least) and (most is None or max(off) <= most)


def _apart(here, board):
    """How far the shortcut line is from the end line of a board where both have gone 100 mm up a square line, mm."""
    return gap_in(here, board, "mm")[1]


def _misses(here):
    """How far the shortcut line and the end line are apart, 100 mm up, on the board with the smaller miss and on the other."""
    return sorted(_apart(here, board) for board in BOARDS)


def _miss_told(here):
    """What is said where the pairs hold a bevel to their own mark."""
    misses = _misses(here)
    least, most = map(mm, misses)
    where = "each board" if least == most else f"one board, by {most.removesuffix(' mm')} on the other"
    miss = f"The bevel misses by {least} on {where}."
    if misses[1] < HARDLY:
        return f"You can hardly tell. {miss} Errors so small make people believe the shortcut."
    return f"Look at the top. {miss}"


def _miss_seen(here):
    none = "The class sees hardly a difference, or none."
    return none if _misses(here)[1] < HARDLY else "The blade leaves the mark towards the top."


def _lines_told(here):
    """Both leans, and both end lines, which are mistaken for them."""
    line, other_line = (degrees(abs(here.end_line(board))).removesuffix("°") for board in BOARDS)
    lean, other_lean = (f"{abs(here.lean(board)):g}" for board in BOARDS)
    off = max(abs(abs(here.lean(other(board))) - abs(here.end_line(board))) for board in BOARDS)
    only = " Only the numbers show the difference." if off < HARDLY_DRAWN else ""
    return (f"The tail board's line isn't {other_lean} degrees, but {line}. The pin board's isn't {lean}, but {other_line}."
            f"{only}")


def _suits(here):
    """Whether both boards lean so far that a pencil shows the miss, and so little that a line is only a little less."""
    return min(abs(here.lean(board)) for board in BOARDS) > 0 and _misses(here)[0] >= 0.45 and all(
        abs(abs(here.lean(other(board))) - abs(here.end_line(board))) <= 2 for board in BOARDS)


def _same_run(panel):
    """Whether each end line runs as far aside as beside an upright board, over a face longer than the box is high: so far as
    is said at the corner of 30° and 30°."""
    here = corner(panel)
    return (here.tail_lean, here.pin_lean) == (30, 30) and all(here.slant_width(100, board) > 100 and isclose(
        here.slant_width(100, board) * tan(radians(here.end_line(board))), 100 * tan(radians(here.lean(other(board)))))
        for board in BOARDS)


def _misses_by_what_is_said(panel):
    """Whether the bevel set to the lean misses the marked board's line by what is said, and the wedge between is seen."""
    here = corner(panel)
    return panel.marked == "pin" and mm(_apart(here, "pin")) == mm(_apart(_STRONG, "pin")) and red(panel) > 50


def _too_long(panel):
    """Whether each board is longer by the shortcut than by its end line, at the top, and the wedge between them is seen."""
    here = corner(panel)
    return all(here.lean(other(board)) > here.end_line(board) > 0 for board in BOARDS) and red(panel) > 50 and (
        pixels(panel) == MISSED).all(axis=-1).sum() > 200


SCRIPT = Script(
    "04", "Both boards lean",
    props="two offcuts and four wedges at 30° for the room (sizes: the guide's button **Kits**); a bevel, a thin wooden "
          "straightedge 140 mm long, a rule, a try square, a thick pencil, a red one and four clamps.",
    more="for each pair two wedges at {tail}, two at {pin}, two offcuts with planed edges, *two* bevels, a straightedge, a "
         "knife and four clamps.",
    beforehand=(f"Saw both ends of the straightedge {POINT:.0f}° out of square, sloping towards each other. Pare both ends "
                f"back {POINT:.0f}° from one face. Each point then lies in the other face, which goes against TAIL.",
                "Write TAIL on one offcut, PIN on the other. Set the bevel on a wedge: its stock against the thick end, its "
                "blade along the slope.",
                "Stand the offcuts at a corner of the bench, bottom edges square to each other. TAIL leans towards the class, "
                "PIN to the class's right. Half of PIN runs past TAIL, towards the class.",
                "Clamp TAIL near its free end, and PIN near the end away from the class, each between two wedges. One wedge "
                "stands thick end down under the face that overhangs, its twin upside down on the other side. A second "
                "clamp holds the first wedge down.",
                "Draw the pencil line now: do steps 2 and 3 of *In wood* below."),
    panels={"hands": ("projection_panel", {"tail_lean": 30, "pin_lean": 30}),
            "corner": ("corner_panel", {"tail_lean": TAIL, "pin_lean": PIN})},
    called={"hands": "hands", "corner": "whole corner"},
    rows=(
        Bench(0, 0, "Hold the bevel side-on to the class, at PIN's near end: stock on the bench, blade up PIN's outer face. "
                    "*Predict.* Hands up.",
              "Both boards lean equally, and this bevel has their lean. The shortcut is to strike PIN's end line at TAIL's "
              "lean. Is the shortcut right?",
              "Most say yes. Don't answer yet.", hands=("yes", "no")),
        Row(3, 4, "Panel **whole corner**: set {set}. Point at each line's number, and at the shortcut's below it.", "{lines}",
            "The number beside each black stroke is a little less than the red one.", "corner",
            (("tail_lean", TAIL), ("pin_lean", PIN)), lambda panel: slant_less(panel) and _off_by(panel, most=2)),
        Row(5, 7, "Panel **whole corner**: set {set}. Point at the faces laid flat.",
            "At 30 degrees you see the lines part. The corner needs the black line; my bevel says the dashed red one.",
            "The dashed red line has left the heavy black one.", "corner", (("tail_lean", 30), ("pin_lean", 30)),
            lambda panel: _off_by(panel, least=3) and red(panel) > 50, own="At 30° the lines are far apart."),
        Row(7, 10, "In wood. **Next** shows the question. Call the class to the bench.\n"
                   "1. Say: “Hold a board whose clamp comes off: it topples. Point and arrises are sharp.”\n"
                   "2. Hold the straightedge flat against TAIL's *outer* face. Push its point against PIN's *inner* face.\n"
                   "3. Mark where the point touches, low and high. Join the marks, from edge to edge. Where the line is drawn "
                   "already, let the point run along it once more. Ask the question.\n"
                   "4. Hold PIN, unclamp it, and lay it inner face up. Show that the bevel fits a freed wedge. Say: “All "
                   "four wedges are equal, so this is the tail board's lean as well.”\n"
                   "5. Hold the bevel's stock against PIN's bottom edge. That edge is bevelled: only its upper arris touches "
                   "the stock. Turn the bevel so that the blade slants to the same side as the pencil line. "
                   "Draw along the blade in red, from the bottom of the "
                   "pencil line. Say: “No.”\n"
                   "6. Go 100 mm up with the try square. Measure parallel to the bottom edge, from line to line: "
                   f"about {_apart(_STRONG, 'pin'):.0f} mm. **Next** again sets {{set}}. Say the answer.",
            f"100 mm up the face, the bevel is {mm(_apart(_STRONG, 'pin'))} off the line.",
            "The red line leaves the pencil line. The panel shows a red wedge.", "hands",
            (("stage", AT_LEAN), ("pencil", 100)), _misses_by_what_is_said, covered=True,
            ask="The straightedge carries the tail board's face on to the pin board. Does my bevel follow the pencil line?",
            answer=f"Seen from outside: {mm(_apart(_STRONG, 'pin'))} off, 100 mm up the face."),
        Row(12, 17, "The class sits down. Panel **hands**: set {set}. Point at the upper triangle, at the lower, and at "
                    f"{mm(_ALONG)} on the face.",
            f"Straight up 100 mm, the tail board leans out {_RUN:.1f}. The pin board's line goes as far along, over "
            f"{_STRONG.slant_width(100, 'pin'):.1f} of face: {_ALONG:.0f} in every 100.",
            f"Flat, the line goes 100 mm up the face and {mm(_ALONG, 0)} along.", "hands",
            (("stage", FLAT), ("pencil", 100)), _same_run),
        Row(15, 21, "**Next** shows the start, panel **whole corner**. Drag **Pin lean** slowly to 0. **Next** again sets "
                    "{set}.",
            "As the pin board stands up, the lines come together. Only with one board upright is the shortcut exact.",
            "The two lines become one, and “exact” stands beside both.", "corner",
            (("tail_lean", 30), ("pin_lean", 0)),
            lambda panel: _off_by(panel, most=1e-9), own="One board stands up here.",
            start=(("tail_lean", 30), ("pin_lean", 30))),
        Row(None, 24, "Panel **whole corner**: set {set}.",
            "One board leans out, one in. Each line still slants less than the other board's lean.",
            "The signs differ. Both lines slant less.", "corner",
            (("tail_lean", -16), ("pin_lean", 11)),
            lambda panel: slant_less(panel) and lines(panel)[0] * lines(panel)[1] < 0, own="One board leans in here."),
        Bench(None, 27, "Each pair sets its two bevels, one on a wedge of each lean, and labels both. Then the pair "
                        "repeats steps 1 to 6 with its offcuts, boards and wedges clamped. Mark with a knife or a sharp "
                        "pencil. In step 5 hold the bevel that has the *other* board's lean.",
              "{miss}", "{seen}", check=lambda here: _misses(here)[0] >= 0.45),
        Row(17, 38, "**Next** shows the question. Hold up PIN, marked face to the class (bottom edge down, as on the screen). "
                    "Press an answer once for each hand. **Next** again sets {set}.",
            "Too long. At the top the red line runs past the black line.",
            "At the top the red line lies outside each coloured face.", "corner",
            (("tail_lean", 30), ("pin_lean", 30)), _too_long, hands=("too long", "right", "too short"),
            own="At 30° the lines are far apart.", covered=True,
            ask="Suppose I cut along the red line. Is this board then too long, right, or too short at the top?",
            answer="Too long at the top: the red line runs past the black line."),
        Bench(None, 41, "Do exercise 6, or hand out the sheet *To draw on*.",
              "Square a line up from the bottom corner. From the line's top mark off along the edge what the neighbour leans "
              "out. Join mark and corner.",
              "Each learner draws one line before anything is dragged.",
              check=lambda here: all(isclose(each.slant_width(90, board) * tan(radians(each.end_line(board))),
                                             90 * tan(radians(each.lean(other(board)))))
                                     for each in (_STRONG, here) for board in BOARDS)),
    ),
    wrong=(("The error is too small to matter.", "In panel **whole corner** set **Tail lean** 30, **Pin lean** 30."),
           ("Each line depends on its neighbour's lean alone.", "Panel **whole corner**: leave **Tail lean** at 30, "
                                                                "drag **Pin lean**, and watch *both* lines.")),
    questions=(
        ("You marked the inside, and the screen shows the outside: is that the same line?",
         "The two faces are parallel, so both lines have the same slant."),
        (f"Do I set {_STRONG.pin_end_line:.1f} or {90 - _STRONG.pin_end_line:.1f}?",
         "Both name one line: the first is counted from square, the second from the edge. A bevel is set from the edge."),
        ("Does the thickness count?", "Not for the angles. The thickness moves the baseline, and makes a gap wider or "
                                      "narrower inside."),
        ("Half a millimetre at the drawer's leans: does it matter?", "Notebook 08 answers this question, for your "
                                                                     "board's width and the widest gap that you would glue."),
        ("What do I set at the machine?", "Notebook 10 lists the cuts in their order. Your machine's manual comes first.")),
    suits=_suits,
    own={"hands": "At 30° the lines are far apart."},
    told={"lines": _lines_told, "miss": _miss_told, "seen": _miss_seen},
    ask="At which pairs of leans is the shortcut exact?",
    answer="Where one of the boards stands upright.",
)
