"""Exercises of notebook 07: what the one-gauge shortcut does to a corner and to a box."""

from ...common.boards import BOARDS, other
from ...common.printing import degrees, fine
from ...corner.corner import Corner
from ...one_gauge.one_gauge import OneGauge
from .core import PRINTED_ANGLE, PRINTED_GAP, Exercise, Slip, choices, leaning
from .slips import DEGREES, END_LINE, FIRST_HEIGHT, FROM_LEVEL, INTENDED_LEAN, OTHER_BOARD, UNCHANGED, WRONG_RATIO

_OPENS_AT = 120.0  # mm, the height that the panel of case 1 opens with


def _does_it_close(draw):
    held = draw.pick("held", (True, False))
    tail, pin = draw.pick("leans", _pairs_that_agree())
    corner = Corner(tail, pin)
    intended = "it closes, and it is the intended box"
    another = "it closes into a different box, which leans further and stands lower"
    bottom, top = "the ends touch at the top and gape at the bottom", "the ends touch at the bottom and gape at the top"
    opens = OneGauge(corner).hold_leans(120)["tail"].opens_at
    gapes = bottom if opens == "bottom" else top
    answer = intended if not opens else gapes if held else another
    reason = {intended: "A board of each corner stands upright, so the shortcut is exact: nothing gapes, and nothing "
                        "leans further.",
              another: "Nothing holds the leans, so you can push the boards together until the ends meet. The ends do "
                       "meet, but at other leans.",
              bottom: "The leans are held, and the shortcut line slants too much: boards that lean out come out too long at "
                    "the top.",
              top: "The leans are held, and the shortcut line slants too much: boards that lean in come out too long at "
                   "the bottom."}[answer]
    slip = {intended: "Shortcut lines slant too much when both boards lean, so the box isn't the intended one. ",
            another: "To become a different box the boards must be free to lean further. Look whether anything holds them. ",
            bottom: "First see whether anything can gape here, and then at which end the boards are too long. ",
            top: "First see whether anything can gape here, and then which end of a board touches. "}
    how = ("A frame holds the boards at their intended leans." if held
           else "Nothing holds the leans: you push the boards together as far as they will go.")
    return choices(
        draw, answer, {choice: remark + reason for choice, remark in slip.items()},
        answer,
        text=f"A box has four equal corners. Its tail boards {_stand(tail)}, its pin boards {_stand(pin)}. All eight ends "
             f"are struck with the shortcut, one bevel set to each lean, and sawn. {how} What do you get?",
        label="What you get",
        hints=(f"The tail boards {_stand(tail)}, the pin boards {_stand(pin)}: are the shortcut lines exact, or do they "
               "slant too much? And does anything keep the boards at their leans?",
               "Lines that slant too much gape when the leans are held, and make a different box when they aren't. "
               f"{reason}"))


def _pairs_that_agree():
    """Pairs of leans: both out, both in, or one board upright."""
    strong = range(12, 31, 2)
    pairs = [(sign * a, sign * b) for sign in (1, -1) for a in strong for b in strong]
    return pairs + [pair for a in strong for pair in ((a, 0), (0, a), (-a, 0))] * 3


def _stand(lean):
    return leaning(lean).replace("leans", "lean").replace("stands", "stand")


def _read_the_gap(draw):
    board = draw.pick("board", BOARDS)
    corner = Corner(draw.degrees("tail_lean", 14, 34), draw.degrees("pin_lean", 14, 34))
    height = draw.length("height", 140, 290, 10, 0.5)
    shortcut, others = OneGauge(corner), other(board)
    answer = shortcut.gap(height, board)
    mm = 1 if draw.unit == "mm" else 25.4
    return draw.asked(
        text=f"In the panel of case 1 (hold the leans), set Tail lean to {corner.tail_lean:g}, Pin lean to "
             f"{corner.pin_lean:g} and Height to {draw.say(height)}. How wide does the {board} board's end gape?",
        label=f"Gap at the {board} board", unit="length", answer=answer, tolerance=PRINTED_GAP,
        answer_text=fine(answer, draw.unit),
        slips=(Slip(OTHER_BOARD, shortcut.gap(height, others), f"You gave the gap at the {others} board's end. The panel gives "
                                                               "both."),
               Slip(FIRST_HEIGHT, shortcut.gap(_OPENS_AT, board), f"You gave the gap in a box {draw.size(_OPENS_AT)} high, as "
                                                                  "the panel opens. Set Height as well."),
               Slip(DEGREES, mm * shortcut.error(board), "You gave the error of the line, in degrees. The gap is what that "
                                                         "error makes over the width of the board.")),
        hints=(f"Set the sliders to {corner.tail_lean:g}, {corner.pin_lean:g} and {draw.say(height)}. The panel gives a gap "
               "for each board.",
               f"Take the {board} board's gap. This gap belongs to a line that slants {degrees(shortcut.error(board), 2)} "
               f"too much."),
        look=f"Read the {board} board's gap under the picture.")


def _read_closed_lean(draw):
    board = draw.pick("board", BOARDS)
    corner = Corner(draw.degrees("tail_lean", 14, 34), draw.degrees("pin_lean", 14, 34))
    shortcut, others = OneGauge(corner), other(board)
    answer = shortcut.closed_lean(board)
    return draw.asked(
        text=f"In the panel of case 2 (close the corners), set Tail lean to {corner.tail_lean:g} and Pin lean "
             f"to {corner.pin_lean:g}. At which lean do the {board} boards of the box really stand?",
        label=f"Lean of the {board} boards, degrees", unit="angle", answer=answer, tolerance=PRINTED_ANGLE,
        answer_text=f"the {board} boards lean {degrees(answer)}",
        slips=(Slip(INTENDED_LEAN, corner.lean(board), "You gave the intended lean. The box that closes leans further."),
               Slip(OTHER_BOARD, shortcut.closed_lean(others), f"You gave the lean of the {others} boards. The panel gives "
                                                               "both."),
               Slip(END_LINE, corner.end_line(others), f"You gave the true end line of the {others} board at the intended "
                                                       "leans. The question is about a lean of the box that closes."),
               Slip(FROM_LEVEL, 90 - answer, "You gave the slope from level. A lean is counted from plumb.")),
        hints=("Free to move, a box struck with the shortcut closes with its boards leaning further than "
               f"{corner.tail_lean:g}° and {corner.pin_lean:g}°.",
               f"Under the picture stands the lean of the {board} boards in the box that closes, instead of "
               f"{corner.lean(board):g}°."),
        look=f"Read what stands under the picture of the {board} boards.")


def _scale_the_gap(draw):
    board = draw.pick("board", BOARDS)
    corner = Corner(draw.degrees("tail_lean", 15, 30), draw.degrees("pin_lean", 15, 30))
    known = draw.length("known_height", 100, 130, 10, 0.5)
    height = draw.length("height", 50, 290, 10, 0.5)
    shortcut, others = OneGauge(corner), other(board)
    gap, answer = shortcut.gap(known, board), shortcut.gap(height, board)
    return draw.asked(
        text=f"Struck with the shortcut and held at {corner.tail_lean:g}° and {corner.pin_lean:g}°, a box "
             f"{draw.say(known)} high gapes {fine(shortcut.gap(known, 'tail'), draw.unit)} at the tail boards' ends and "
             f"{fine(shortcut.gap(known, 'pin'), draw.unit)} at the pin boards'. How wide is the gap at the {board} "
             f"boards' ends when the box is {draw.say(height)} high?",
        label=f"Gap at the {board} boards", unit="length", answer=answer, tolerance=2 * PRINTED_GAP,
        answer_text=fine(answer, draw.unit),
        slips=(Slip(UNCHANGED, gap, "You gave the gap of the first box. The angle stays, and over a different width the same "
                                    "angle opens a different gap."),
               Slip(WRONG_RATIO, gap * known / height, "You scaled the wrong way: twice the width, twice the gap."),
               Slip(OTHER_BOARD, shortcut.gap(height, others), f"You gave the gap at the {others} boards' ends.")),
        hints=(f"The error of the line is an angle, and height doesn't change it. From {draw.say(known)} to "
               f"{draw.say(height)} is a factor of {height / known:.3f}.",
               f"So the gap changes by the same factor: {fine(gap, draw.unit)} times {height / known:.3f}."),
        look="See what the gap does in the panel when Height goes from 120 to 240.")


def _must_it_wind(draw):
    side = draw.degrees("side_lean", 12, 30)
    front, back = draw.pick("front_and_back", [(b, 0) for b in range(10, 31)] + [(0, b) for b in range(10, 31)]
                            + [(b, b) for b in range(10, 31, 2)] + [(0, 0)] * 6)
    at_front, at_back = (OneGauge(Corner(side, lean)).closed_lean("tail") for lean in (front, back))
    more_front, more_back, same = ("yes, the front corners want it to lean further", "yes, the back corners want it "
                                   "to lean further", "no, both ends want the same lean")
    answer = same if abs(at_front - at_back) < 1e-9 else more_front if at_front > at_back else more_back
    exact = "A corner with an upright board is exact; a corner where both boards lean wants the side further over."
    if answer == same:
        reason = "Front and back stand equally here, so the corners at both ends want the same lean, whatever it is."
    else:
        reason = f"Here the {'front' if front else 'back'} leans, and the {'back' if front else 'front'} doesn't."
    remarks = {more_front: f"Look at both ends of the side. {exact} {reason}",
               more_back: f"Go to the back corners first, and then to the front. {exact} {reason}",
               same: f"The two ends differ. {exact} {reason}"}
    return choices(
        draw, answer, remarks,
        f"{answer}: {degrees(at_front)} at the front, {degrees(at_back)} at the back",
        text=f"A drawer's sides (tail boards) lean out {side}°. Its front {leaning(front)}, its back {leaning(back)}. "
             "All ends are struck with the shortcut, and every corner is pushed together until it closes. Must a side "
             "wind?",
        label="Must a side wind",
        hints=("Take the two ends of a side in turn. A corner at which both boards lean closes with the side leaning "
               f"further than {side}°; a corner with an upright board is exact.",
               f"The front {leaning(front)}: its corners want the side at {degrees(at_front)}. The back "
               f"{leaning(back)}: at {degrees(at_back)}."))


EXERCISES = (
    Exercise("07-1", "predict", _does_it_close),
    Exercise("07-2", "read off", _read_the_gap),
    Exercise("07-3", "read off", _read_closed_lean),
    Exercise("07-4", "work out", _scale_the_gap),
    Exercise("07-5", "predict", _must_it_wind),
)
