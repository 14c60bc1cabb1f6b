"""Exercises of notebooks 04 and 05: both boards lean, and what one gauge does to them."""

from ...common.boards import BOARDS, other
from ...common.printing import degrees, fine
from ...corner.corner import Corner
from ...one_gauge.one_gauge import TOLERANCES, OneGauge
from .core import (
    GAUGE_TOLERANCE,
    LENGTH_TOLERANCE,
    PRINTED_ANGLE,
    PRINTED_GAP,
    Exercise,
    Slip,
    choices,
    complement,
    gauge_answer,
    leaning,
    set_to,
    wrong_sign,
)

_NAMES = {"tail": "side", "pin": "front"}  # of the drawer


# 04 Both lean


def _struck_too_steep(draw):
    tail = draw.signed("tail_lean", 12, 32)
    pin = draw.pick("pin_lean", [*[0] * 8, *range(10, 31)])
    corner = Corner(tail, pin)
    off = OneGauge(corner).struck("pin") - corner.pin_end_line
    too_long, right, too_short = "too long", "just right", "too short"
    answer = right if abs(off) < 1e-9 else too_long if off > 0 else too_short
    exact = "The pin board stands upright, and then the gauge set to the tail board's lean is exact. "
    steep = "The struck line is too steep when both boards lean, so the end can't come out right. "
    if tail < 0:
        which = "This board is shorter at the top, and a line that is too steep makes it shorter still."
    else:
        which = "This board is longer at the top, and a line that is too steep leaves more wood there."
    remarks = {
        too_long: exact + "Nothing is left over." if answer == right else which,
        right: steep + which,
        too_short: exact + "Nothing is missing." if answer == right else which,
    }
    more = "more" if tail > 0 else "less"
    leans = f"The tail board leans {'out' if tail > 0 else 'in'}, so a steeper line leaves {more} wood at the top."
    compared = "The two are the same." if answer == right else leans
    said = {right: "with an upright pin board the one gauge is exact",
            too_long: "the struck line is too steep, and leaves too much wood at the top",
            too_short: "the struck line is too steep, and takes too much wood at the top"}
    return choices(
        draw, answer, remarks, f"{answer}; {said[answer]}",
        text=f"The tail board {leaning(tail)}, the pin board {leaning(pin)}. From the foot of the corner you strike "
             "the pin board's end line with the gauge set to the tail board's lean, and saw to it. At its top, is the "
             "pin board now too long, just right, or too short?",
        label="At its top the pin board is",
        hints=(f"The tail board {leaning(tail)}: set to {abs(tail)}°, the gauge strikes the pin board's line. "
               f"{'The pin board is upright' if pin == 0 else f'The pin board leans {abs(pin)}°'}: is that line "
               "exact, or too steep?",
               f"Struck: {degrees(abs(tail))} from square. True: {degrees(abs(corner.pin_end_line))}. {compared}"))


def _read_end_line(draw):
    board = draw.pick("board", BOARDS)
    tail, pin = draw.signed("tail_lean", 18, 40), draw.signed("pin_lean", 18, 40)
    corner = Corner(tail, pin)
    line, others = corner.end_line(board), other(board)
    struck = OneGauge(corner).struck(board)
    return draw.asked(
        text=f"In the panel set Tail lean to {set_to(tail)} and Pin lean to {set_to(pin)}. What is the {board} "
             "board's end line, from square? Give its sign as well.",
        label=f"{board.capitalize()} board's end line", unit="gauge", answer=line, tolerance=GAUGE_TOLERANCE,
        answer_text=gauge_answer(draw, line, signed=True),
        slips=(complement(line), wrong_sign(line),
               Slip("other board", corner.end_line(others), f"That is the {others} board's end line. The sentence "
                                                            f"names both: take the {board} board's."),
               Slip("one gauge", struck, f"That is the {others} board's lean, which is what one gauge would strike. "
                                         "Both boards lean here, so the true line is gentler.")),
        hints=(f"The {board} board's end line is near the {others} board's lean, {set_to(struck)}°, and has its sign.",
               f"It is a little gentler than {abs(struck)}°, since the {board} board leans too, by "
               f"{abs(corner.lean(board))}°: the sentence under the picture gives it."),
        look=f"Read the {board} board's end line in the sentence under the picture.")


def _wider_up_the_face(draw):
    board = draw.pick("board", BOARDS)
    corner = Corner(draw.degrees("tail_lean", 14, 38), draw.degrees("pin_lean", 14, 38))
    known = draw.length("known_height", 90, 130, 10, 0.5)
    height = draw.length("height", 150, 260, 5, 0.5)
    widths = {each: corner.slant_width(known, each) for each in BOARDS}
    answer, others = corner.slant_width(height, board), other(board)
    narrower = height * known / widths[board]
    return draw.asked(
        text=f"The side (tail board) leans out {corner.tail_lean:g}°, the front (pin board) {corner.pin_lean:g}°. For "
             f"a box {draw.say(known)} high the side has to be {fine(widths['tail'], draw.unit)} wide up its face, "
             f"and the front {fine(widths['pin'], draw.unit)}. You make the box {draw.say(height)} high. How wide is "
             f"the {_NAMES[board]}?",
        label=f"Width of the {_NAMES[board]}", unit="length", answer=answer, tolerance=LENGTH_TOLERANCE,
        answer_text=f"{draw.size(answer)} up its face",
        slips=(Slip("other board", corner.slant_width(height, others), f"That is the {_NAMES[others]}. It leans "
                                                                       "differently, and so it is another width."),
               Slip("width given", widths[board], f"That is the width for the lower box; this one is "
                                                  f"{draw.say(height)} high."),
               Slip("height", height, "That is the height of the box. A board that leans is longer up its face than "
                                      "the box is high."),
               Slip("height added", widths[board] + height - known, "You added what the box is higher. The face goes "
                                                                    "up at a slant, so it takes more than that: scale "
                                                                    "the width."),
               Slip("narrower", narrower, "That is less than the box is high, and a leaning board is wider than that. "
                                          "Turn the ratio over.")),
        hints=(f"Going from {draw.say(known)} to {draw.say(height)} high is a factor of {height / known:.3f}.",
               f"The leans stay, so the width grows by the same factor: {fine(widths[board], draw.unit)} times "
               f"{height / known:.3f}."),
        look="Compare with the cell that prints the two widths for a box 120 mm high.")


def _level_on_flush_end(draw):
    corner = Corner(draw.degrees("tail_lean", 20, 38), draw.degrees("pin_lean", 20, 38))
    answer = corner.level_on_flush_end
    return draw.asked(
        text=f"The tail board leans out {corner.tail_lean:g}°, the pin board {corner.pin_lean:g}°. The table gives "
             f"end lines of {degrees(corner.tail_end_line)} (tail board) and {degrees(corner.pin_end_line)} (pin "
             "board). You have sawn the tail board's end flush, and carry the level lines across it. How far from "
             "square do you set the gauge?",
        label="Gauge for the level lines", unit="gauge", answer=answer, tolerance=GAUGE_TOLERANCE,
        answer_text=gauge_answer(draw, answer),
        slips=(complement(answer),
               Slip("one gauge", corner.tail_lean, "That is the tail board's lean, as bench custom has it. It is "
                                                   "exact only with an upright pin board; here it is too steep."),
               Slip("other board", corner.tail_end_line, "That is the tail board's end line. The flush end lies in "
                                                         "the pin board's face: which end line is level there?"),
               Slip("square end", corner.level_on_square_end, "That is for an end sawn square to the face. This one is "
                                                              "flush."),
               Slip("own lean", corner.pin_lean, "That is the pin board's lean. Both boards lean, so neither lean "
                                                 "carries over to an end line: take one of the two.")),
        hints=(f"Neither {corner.tail_lean:g}° nor {corner.pin_lean:g}°: a flush tail end takes one of the two end "
               f"lines, {degrees(corner.tail_end_line)} or {degrees(corner.pin_end_line)}. One of the two settings "
               "does three jobs.",
               f"It is the pin board's: {degrees(corner.pin_end_line)} from square, gauge turned over."),
        look="Look at the line “level, flush tail end” of the table, and at step 4 on the bench.")


def _read_the_miss(draw):
    board = draw.pick("board", BOARDS)
    corner = Corner(draw.degrees("tail_lean", 12, 40), draw.degrees("pin_lean", 12, 40))
    shortcut, others = OneGauge(corner), other(board)
    answer = shortcut.error(board)
    return draw.asked(
        text=f"In the panel set Tail lean to {corner.tail_lean:g} and Pin lean to {corner.pin_lean:g}. By how many "
             f"degrees would a gauge set to the other board's lean be too steep on the {board} board?",
        label="Too steep by, degrees", unit="angle", answer=answer, tolerance=PRINTED_ANGLE,
        answer_text=f"{degrees(answer, 2)} too steep on the {board} board",
        slips=(Slip("other board", shortcut.error(others), f"That is how far it is out on the {others} board. The "
                                                           "sentence gives both."),
               Slip("end line", corner.end_line(board), f"That is the {board} board's end line. The question is how "
                                                        "far the gauge would miss it."),
               Slip("lean", shortcut.struck(board), "That is what the gauge would strike. Take the true end line off "
                                                    "it."),
               Slip("sign", -answer, "The size is right. A struck line that is too steep is out by more, not by less: "
                                     "leave the minus off.")),
        hints=(f"On the {board} board the gauge would strike {shortcut.struck(board):g}°. The true end line is a "
               "little less.",
               f"The sentence gives the line as {degrees(corner.end_line(board))}: the rest of "
               f"{shortcut.struck(board):g}° is what you are after, and the end of the sentence says it to hundredths."),
        look="Read the end of the sentence under the picture, where it says “too steep”.")


# 07 One gauge is not enough


def _does_it_close(draw):
    held = draw.pick("held", (True, False))
    tail, pin = draw.pick("leans", _pairs_that_agree())
    corner = Corner(tail, pin)
    as_asked = "it closes, and it is the box that was asked for"
    another = "it closes into another box, which leans further and stands lower"
    foot, top = "the ends touch at the top and gape at the bottom", "the ends touch at the bottom and gape at the top"
    opens = OneGauge(corner).hold_leans(120)["tail"].opens_at
    gapes = foot if opens == "bottom" else top
    answer = as_asked if not opens else gapes if held else another
    reason = {as_asked: "A board of each corner stands upright, so the one gauge is exact: nothing gapes, and nothing "
                        "leans further.",
              another: "Nothing holds the leans, so the boards can be pushed together until the ends meet. They do, "
                       "but at other leans.",
              foot: "The leans are held, and the struck line is too steep: boards that lean out come out too long at "
                    "the top.",
              top: "The leans are held, and the struck line is too steep: boards that lean in come out too long at the "
                   "bottom."}[answer]
    slip = {as_asked: "Struck lines are too steep when both boards lean, so the box isn't the one asked for. ",
            another: "To become another box the boards must be free to lean further. Are they? ",
            foot: "Ask first whether anything can gape here, and then at which end the boards are too long. ",
            top: "Ask first whether anything can gape here, and then which end of a board touches. "}
    how = ("A frame holds the boards at the leans asked." if held
           else "Nothing holds the leans: you push the boards together as they will go.")
    return choices(
        draw, answer, {choice: remark + reason for choice, remark in slip.items()},
        answer,
        text=f"A box has four like corners. Its tail boards {_stand(tail)}, its pin boards {_stand(pin)}. All eight "
             f"ends are struck with one gauge at each lean, and sawn. {how} What do you get?",
        label="What you get",
        hints=(f"The tail boards {_stand(tail)}, the pin boards {_stand(pin)}: are the struck lines exact, or too "
               "steep? And is there anything that keeps the boards at their leans?",
               "Lines that are too steep gape when the leans are held, and make another box when they aren't. "
               f"{reason}"))


def _pairs_that_agree():
    """Pairs of leans: both out, both in, or one board upright."""
    steep = range(12, 31, 2)
    pairs = [(sign * a, sign * b) for sign in (1, -1) for a in steep for b in steep]
    return pairs + [pair for a in steep for pair in ((a, 0), (0, a), (-a, 0))] * 3


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
        text=f"In the panel of the first way (hold the leans), set Tail lean to {corner.tail_lean:g}, Pin lean to "
             f"{corner.pin_lean:g} and Height to {draw.say(height)}. How wide does the {board} board's end gape?",
        label=f"Gap at the {board} board", unit="length", answer=answer, tolerance=PRINTED_GAP,
        answer_text=fine(answer, draw.unit),
        slips=(Slip("other board", shortcut.gap(height, others), f"That is the gap at the {others} board's end. The "
                                                                 "sentence gives both."),
               Slip("height", shortcut.gap(120, board), f"That is the gap in a box {draw.size(120)} high, as the "
                                                        "panel opens. Set Height as well."),
               Slip("error", mm * shortcut.error(board), "That is the error of the line, in degrees. The gap is what "
                                                         "it makes over the width of the board.")),
        hints=(f"Set the sliders to {corner.tail_lean:g}, {corner.pin_lean:g} and {draw.say(height)}. The sentence "
               "under the picture gives a gap for each board.",
               f"The one for the {board} board comes {'first' if board == 'tail' else 'second'}. It belongs to a line "
               f"that is {degrees(shortcut.error(board), 2)} too steep."),
        look=f"Read the {board} board's gap in the sentence under the picture.")


def _read_closed_lean(draw):
    board = draw.pick("board", BOARDS)
    corner = Corner(draw.degrees("tail_lean", 14, 34), draw.degrees("pin_lean", 14, 34))
    shortcut, others = OneGauge(corner), other(board)
    answer = shortcut.closed_lean(board)
    return draw.asked(
        text=f"In the panel of the second way (close the corners), set Tail lean to {corner.tail_lean:g} and Pin lean "
             f"to {corner.pin_lean:g}. At which lean do the {board} boards of the box really stand?",
        label=f"Lean of the {board} boards, degrees", unit="angle", answer=answer, tolerance=PRINTED_ANGLE,
        answer_text=f"they stand at {degrees(answer, 2)}",
        slips=(Slip("lean asked", corner.lean(board), "That is the lean that was asked for. The box that closes leans "
                                                      "further."),
               Slip("other board", shortcut.closed_lean(others), f"That is the lean of the {others} boards. The "
                                                                 "sentence gives both."),
               Slip("end line", corner.end_line(others), f"That is the true end line of the {others} board at the "
                                                         "leans asked. The question is at which lean these boards "
                                                         "come to stand."),
               Slip("from level", 90 - answer, "That is the slope from level. A lean is counted from plumb.")),
        hints=("Free to move, a box marked with one gauge closes with its boards leaning further than "
               f"{corner.tail_lean:g}° and {corner.pin_lean:g}°.",
               f"The sentence under the picture says at what the {board} boards lean instead of "
               f"{corner.lean(board):g}°."),
        look=f"Read what the sentence under the picture says of the {board} boards.")


def _scale_the_gap(draw):
    board = draw.pick("board", BOARDS)
    corner = Corner(draw.degrees("tail_lean", 15, 30), draw.degrees("pin_lean", 15, 30))
    known = draw.length("known_height", 100, 130, 10, 0.5)
    height = draw.length("height", 50, 290, 10, 0.5)
    shortcut, others = OneGauge(corner), other(board)
    gap, answer = shortcut.gap(known, board), shortcut.gap(height, board)
    return draw.asked(
        text=f"Marked with one gauge and held at {corner.tail_lean:g}° and {corner.pin_lean:g}°, a box "
             f"{draw.say(known)} high gapes {fine(shortcut.gap(known, 'tail'), draw.unit)} at the tail boards' ends and "
             f"{fine(shortcut.gap(known, 'pin'), draw.unit)} at the pin boards'. How wide is the gap at the {board} "
             f"boards' ends when the box is {draw.say(height)} high?",
        label=f"Gap at the {board} boards", unit="length", answer=answer, tolerance=2 * PRINTED_GAP,
        answer_text=fine(answer, draw.unit),
        slips=(Slip("unchanged", gap, "That is the gap of the first box. The angle stays, and over another width the "
                                      "same angle opens another gap."),
               Slip("upside down", gap * known / height, "You scaled the wrong way: twice the width, twice the gap."),
               Slip("other board", shortcut.gap(height, others), f"That is the gap at the {others} boards' ends.")),
        hints=(f"The error of the line is an angle, and height doesn't change it. From {draw.say(known)} to "
               f"{draw.say(height)} is a factor of {height / known:.3f}.",
               f"So the gap changes by the same factor: {fine(gap, draw.unit)} times {height / known:.3f}."),
        look="See what the gap does in the panel when Height goes from 120 to 240.")


def _widest_board(draw):
    corner = Corner(draw.degrees("tail_lean", 15, 26), draw.degrees("pin_lean", 15, 26))
    base = 100.0 if draw.unit == "mm" else 101.6
    allowed = draw.pick("tolerance", TOLERANCES if draw.unit == "mm" else (0.1016, 0.2032, 0.508))  # whole thousandths
    gap = max(OneGauge(corner).gap_over(base, board) for board in BOARDS)
    answer = base * allowed / gap
    if gap < 1.2 or not 12 <= answer <= 60:  # printed numbers too coarse to work from, or no board to think of
        return None
    said, allows = draw.say(base), fine(allowed, draw.unit)
    return draw.asked(
        text=f"At {corner.tail_lean:g}° and {corner.pin_lean:g}°, leans held, one gauge opens up to "
             f"{fine(gap, draw.unit)} over {said} of board, measured up the face. You will put up with {allows}. How "
             "wide may the boards be for one gauge to be good enough?",
        label="Widest board", unit="length", answer=answer, tolerance=2 * LENGTH_TOLERANCE,
        answer_text=f"{draw.size(answer)} up the face",
        slips=(Slip("upside down", base * gap / allowed, "On a board as wide as that the gap would be far more than "
                                                         f"{allows}. Turn the ratio over."),
               Slip("share", allowed / gap * (1 if draw.unit == "mm" else 25.4),
                    f"That is the share of {said} that the boards may be wide. Multiply it out."),
               Slip("base", base, f"Over {said} the gap is more than {allows}, so they have to be narrower.")),
        hints=(f"The leans stay at {corner.tail_lean:g}° and {corner.pin_lean:g}°, and the gap grows in step with the "
               f"width. {allows} is {allowed / gap:.3f} of {fine(gap, draw.unit)}.",
               f"So the boards may be that share of {said}: {allowed / gap:.3f} times {said}."),
        look="Try it in the map's panel: Board width up and down, until the verdict turns.")


def _must_it_wind(draw):
    side = draw.degrees("side_lean", 12, 30)
    front, back = draw.pick("front_and_back", [(b, 0) for b in range(10, 31)] + [(0, b) for b in range(10, 31)]
                            + [(b, b) for b in range(10, 31, 2)] + [(0, 0)] * 6)
    at_front, at_back = (OneGauge(Corner(side, lean)).closed_lean("tail") for lean in (front, back))
    more_front, more_back, same = ("yes, the front corners want it to lean further", "yes, the back corners want it "
                                   "to lean further", "no, both ends want the same lean")
    answer = same if abs(at_front - at_back) < 1e-9 else more_front if at_front > at_back else more_back
    exact = "A corner with an upright board is exact; one in which both boards lean wants the side further over."
    if answer == same:
        reason = "Front and back stand alike here, so the corners at both ends want the same lean, whatever it is."
    else:
        reason = f"Here the {'front' if front else 'back'} leans, and the {'back' if front else 'front'} doesn't."
    remarks = {more_front: f"Look at both ends of the side. {exact} {reason}",
               more_back: f"Go to the back corners first, and then to the front. {exact} {reason}",
               same: f"The two ends differ. {exact} {reason}"}
    return choices(
        draw, answer, remarks,
        f"{answer}: {degrees(at_front, 2)} at the front, {degrees(at_back, 2)} at the back",
        text=f"A drawer's sides (tail boards) lean out {side}°. Its front {leaning(front)}, its back {leaning(back)}. "
             "All ends are struck with one gauge, and every corner is pushed together until it closes. Must a side "
             "wind?",
        label="Must a side wind",
        hints=("Take the two ends of a side in turn. A corner at which both boards lean closes with the side leaning "
               f"further than {side}°; one with an upright board is exact.",
               f"The front {leaning(front)}: its corners want the side at {degrees(at_front, 2)}. The back "
               f"{leaning(back)}: at {degrees(at_back, 2)}."))


EXERCISES = (
    Exercise("04-1", "predict", _struck_too_steep),
    Exercise("04-2", "read off", _read_end_line),
    Exercise("04-3", "work out", _wider_up_the_face),
    Exercise("04-4", "work out", _level_on_flush_end),
    Exercise("04-5", "read off", _read_the_miss),
    Exercise("07-1", "predict", _does_it_close),
    Exercise("07-2", "read off", _read_the_gap),
    Exercise("07-3", "read off", _read_closed_lean),
    Exercise("07-4", "work out", _scale_the_gap),
    Exercise("07-5", "work out", _widest_board),
    Exercise("07-6", "predict", _must_it_wind),
)
