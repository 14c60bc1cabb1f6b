"""Exercises of notebook 04: both boards lean."""

from itertools import permutations

from ...common.boards import BOARDS, other
from ...common.printing import degrees, fine
from ...corner.corner import Corner
from ...corner.words import SETTING_NAMES
from ...one_gauge.one_gauge import OneGauge
from .core import (
    BEVEL_TOLERANCE,
    LENGTH_TOLERANCE,
    PRINTED_ANGLE,
    Exercise,
    Slip,
    bevel_answer,
    choices,
    edge_or_square,
    leaning,
    set_to,
    way_of,
    wrong_sign,
)
from .parts import shortcut_remark
from .slips import (
    END_LINE,
    HEIGHT,
    HEIGHT_ADDED,
    LEAN,
    OTHER_BOARD,
    OWN_LEAN,
    SHORTCUT,
    SIGN,
    SQUARE_END,
    UNCHANGED,
    WRONG_RATIO,
)

_NAMES = {"tail": "side", "pin": "front"}  # of the drawer
LINES = ("true", SHORTCUT, OTHER_BOARD, SIGN)  # what the four lines on the drawing of 04-6 are, in the order drawn


def _struck_with_the_shortcut(draw):
    tail = draw.signed("tail_lean", 12, 32)
    pin = draw.pick("pin_lean", [*[0] * 8, *range(10, 31)])
    corner = Corner(tail, pin)
    off = OneGauge(corner).struck("pin") - corner.pin_end_line
    too_long, right, too_short = "too long", "just right", "too short"
    answer = right if abs(off) < 1e-9 else too_long if off > 0 else too_short
    exact = "The pin board stands upright, so the bevel set to the tail board's lean is exact. "
    slants = "Both boards lean, so the shortcut line slants too much, and the end can't come out right. "
    if tail < 0:
        which = "This board is shorter at the top, and a line that slants too much makes it shorter still."
    else:
        which = "This board is longer at the top, and a line that slants too much leaves more wood there."
    remarks = {
        too_long: exact + "Nothing is left over." if answer == right else which,
        right: slants + which,
        too_short: exact + "Nothing is missing." if answer == right else which,
    }
    more = "more" if tail > 0 else "less"
    leans = f"The tail board leans {'out' if tail > 0 else 'in'}, so a line that slants more leaves {more} wood at the top."
    compared = "The two are equal." if answer == right else leans
    said = {right: "with an upright pin board the shortcut is exact",
            too_long: "the shortcut line slants too much, and leaves too much wood at the top",
            too_short: "the shortcut line slants too much, and takes too much wood at the top"}
    return choices(
        draw, answer, remarks, f"{answer}; {said[answer]}",
        text=f"The tail board {leaning(tail)}, the pin board {leaning(pin)}. From the bottom of the corner line you strike "
             "the pin board's end line with the bevel set to the tail board's lean, and saw to the line. At its top, is "
             "the pin board now too long, just right, or too short?",
        label="At its top the pin board is",
        hints=(f"The tail board {leaning(tail)}: set to {abs(tail)}°, the bevel strikes the pin board's line. "
               f"{'The pin board is upright' if pin == 0 else f'The pin board leans {abs(pin)}°'}: is that line "
               "exact, or does it slant too much?",
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
        label=f"{board.capitalize()} board's end line", unit="bevel", answer=line, tolerance=BEVEL_TOLERANCE,
        answer_text=bevel_answer(draw, line, signed=True),
        slips=(edge_or_square(line), wrong_sign(line),
               Slip(OTHER_BOARD, corner.end_line(others), f"That is the {others} board's end line. The sentence names "
                                                          f"both: take the {board} board's."),
               Slip(SHORTCUT, struck, f"{shortcut_remark(board)} Both boards lean here, so the true line slants less.")),
        hints=(f"The {board} board's end line is near the {others} board's lean, {set_to(struck)}°, and has its sign.",
               f"The line slants a little less than {abs(struck)}°, because the {board} board leans too, by "
               f"{abs(corner.lean(board))}°: the sentence under the picture gives it."),
        look=f"Read the {board} board's end line in the sentence under the picture.")


def _wider_up_the_face(draw):
    board = draw.pick("board", BOARDS)
    corner = Corner(draw.degrees("tail_lean", 14, 38), draw.degrees("pin_lean", 14, 38))
    known = draw.length("known_height", 90, 130, 10, 0.5)
    height = draw.length("height", 150, 260, 5, 0.5)
    widths = {each: corner.slant_width(known, each) for each in BOARDS}
    answer, others = corner.slant_width(height, board), other(board)
    return draw.asked(
        text=f"The side (tail board) leans out {corner.tail_lean:g}°, the front (pin board) {corner.pin_lean:g}°. In a "
             f"box {draw.say(known)} high the side's slant width is {fine(widths['tail'], draw.unit)}, and the front's "
             f"{fine(widths['pin'], draw.unit)}. You make the box {draw.say(height)} high. What is the slant width of "
             f"the {_NAMES[board]}?",
        label=f"Slant width of the {_NAMES[board]}", unit="length", answer=answer, tolerance=LENGTH_TOLERANCE,
        answer_text=f"{draw.size(answer)} up its face",
        slips=(Slip(OTHER_BOARD, corner.slant_width(height, others), f"That is the {_NAMES[others]}'s. The two boards lean "
                                                                     "differently, so their slant widths differ."),
               Slip(UNCHANGED, widths[board], f"That is the slant width in the lower box. This box is {draw.say(height)} "
                                              "high."),
               Slip(HEIGHT, height, "That is the height of the box. A leaning board is longer up its face than the box is "
                                    "high."),
               Slip(HEIGHT_ADDED, widths[board] + height - known, "You added the extra height. The face goes up at a slant, "
                                                                  "so it takes more than the extra height: scale the "
                                                                  "width."),
               Slip(WRONG_RATIO, height * known / widths[board], "That is less than the height of the box, and a leaning "
                                                                 "board is wider than that. Turn the ratio over.")),
        hints=(f"Going from {draw.say(known)} to {draw.say(height)} high is a factor of {height / known:.3f}.",
               f"The leans stay, so the slant width grows by the same factor: {fine(widths[board], draw.unit)} times "
               f"{height / known:.3f}."),
        look="Compare with the cell that prints the two widths for a box 120 mm high.")


def _level_on_flush_end(draw):
    corner = Corner(draw.degrees("tail_lean", 20, 38), draw.degrees("pin_lean", 20, 38))
    answer = corner.level_on_flush_end
    return draw.asked(
        text=f"The tail board leans out {corner.tail_lean:g}°, the pin board {corner.pin_lean:g}°. The table gives "
             f"end lines of {degrees(corner.tail_end_line)} (tail board) and {degrees(corner.pin_end_line)} (pin "
             "board). You have sawn the tail board's end flush, and carry the level lines across it. How far from "
             "square do you set the bevel?",
        label="Bevel for the level lines", unit="bevel", answer=answer, tolerance=BEVEL_TOLERANCE,
        answer_text=bevel_answer(draw, answer),
        slips=(edge_or_square(answer),
               Slip(SHORTCUT, corner.tail_lean, "That is the tail board's lean, as the shortcut has it. The shortcut is "
                                                "exact only with an upright pin board; here its line slants too much."),
               Slip(OTHER_BOARD, corner.tail_end_line, "That is the tail board's end line. The flush end lies in the pin "
                                                       "board's face: which end line goes across that face?"),
               Slip(SQUARE_END, corner.level_on_square_end, "That is for an end sawn square to the face. This end is "
                                                            "flush."),
               Slip(OWN_LEAN, corner.pin_lean, "That is the pin board's lean. Both boards lean, so neither lean carries "
                                               "over to an end line: take one of the two end lines.")),
        hints=(f"Neither {corner.tail_lean:g}° nor {corner.pin_lean:g}°: a flush tail end takes one of the two end "
               f"lines, {degrees(corner.tail_end_line)} or {degrees(corner.pin_end_line)}. One of the two settings "
               "does three jobs.",
               f"Take the pin board's: {degrees(corner.pin_end_line)} from square, and turn the bevel over."),
        look=f"Look at the line “{SETTING_NAMES['level_on_flush_end']}” of the table, and at step 8 of notebook 05.")


def _read_the_miss(draw):
    board = draw.pick("board", BOARDS)
    corner = Corner(draw.degrees("tail_lean", 12, 40), draw.degrees("pin_lean", 12, 40))
    shortcut, others = OneGauge(corner), other(board)
    answer = shortcut.error(board)
    return draw.asked(
        text=f"In the panel set Tail lean to {corner.tail_lean:g} and Pin lean to {corner.pin_lean:g}. The shortcut sets "
             f"the bevel to the other board's lean. By how many degrees would its line slant too much on the {board} "
             "board?",
        label="Slants too much by, degrees", unit="angle", answer=answer, tolerance=PRINTED_ANGLE,
        answer_text=f"{degrees(answer)} too much on the {board} board",
        slips=(Slip(OTHER_BOARD, shortcut.error(others), f"That is the error on the {others} board. The sentence gives "
                                                         "both."),
               Slip(END_LINE, corner.end_line(board), f"That is the {board} board's end line. The question is how far the "
                                                      "shortcut misses it."),
               Slip(LEAN, shortcut.struck(board), "That is the line that the shortcut strikes. Take the true end line off "
                                                  "it."),
               Slip(SIGN, -answer, "The size is right. A line that slants too much is out by more, not by less: leave the "
                                   "minus off.")),
        hints=(f"On the {board} board the shortcut strikes {shortcut.struck(board):g}°. The true end line slants a little "
               "less.",
               f"The sentence gives the end line as {degrees(corner.end_line(board))}, and the shortcut strikes "
               f"{shortcut.struck(board):g}°. The answer is the difference, which the sentence gives too."),
        look="Read the end of the sentence under the picture, where it speaks of the shortcut.")


def _find_the_line(draw):
    board = draw.pick("board", BOARDS)
    tail, pin = draw.degrees("tail_lean", 22, 42), draw.degrees("pin_lean", 22, 42)
    if abs(tail - pin) < 8:
        return None
    order = draw.pick("order", ["".join(letters) for letters in permutations("ABCD")])
    lines = dict(zip(LINES, (f"line {letter}" for letter in order), strict=True))
    corner, others = Corner(tail, pin), other(board)
    remarks = {
        SHORTCUT: f"That line goes as far along as the {others} board's lean would over the whole slant width. The "
                  f"{others} board's face runs out by its offset, and by no more: carry that offset over.",
        OTHER_BOARD: f"That line takes the {board} board's own offset. The end has to meet the {others} board, so carry the "
                     f"{others} board's offset over.",
        SIGN: f"The amount is right, the way isn't: the {others} board leans out, so the {board} board is "
              f"{way_of(corner.end_line(board))}.",
    }
    return draw.asked(
        text=f"The tail board leans out {tail}°, the pin board {pin}°. The drawing shows the lean of each board, and the "
             f"{board} board laid flat, outer face up, all at one scale. Which of its four lines is the end line?",
        label="The end line is", unit="choice", answer=lines["true"], look="", figure="four lines",
        answer_text=f"{lines['true']}: up the {board} board's slant width, and along by the {others} board's offset",
        choices=tuple(f"line {letter}" for letter in "ABCD"),
        slips=tuple(Slip(kind, lines[kind], remark) for kind, remark in remarks.items()),
        hints=(f"In the drawing of the {others} board's lean, {corner.lean(others):g}°, read how far its face runs out over "
               "the height of the box. That is its offset.",
               f"The {board} board's slant width is drawn already. From the square line, go along its top edge by the "
               f"{others} board's offset, towards the corner: the board is {way_of(corner.end_line(board))}. Join that "
               "point to the bottom of the corner line."))


EXERCISES = (
    Exercise("04-1", "predict", _struck_with_the_shortcut),
    Exercise("04-2", "read off", _read_end_line),
    Exercise("04-3", "work out", _wider_up_the_face),
    Exercise("04-4", "work out", _level_on_flush_end),
    Exercise("04-5", "read off", _read_the_miss),
    Exercise("04-6", "work out", _find_the_line),
)
