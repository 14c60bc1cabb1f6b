"""Exercises of notebook 02: the tail board leans."""

from ...common.printing import degrees, from_edge
from ...corner.corner import Corner
from .core import (
    BEVEL_TOLERANCE,
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
from .parts import offset_said, offset_tolerance, run_said
from .slips import BOTH_ENDS, FROM_LEVEL, LEAN_SUBTRACTED, OFFSET_ALONE, OTHER_BOARD, SIGN, SQUARE, WRONG_RATIO


def _which_end(draw):
    lean = draw.signed("tail_lean", 8, 35)
    corner = Corner(lean, 0)
    board = "tail" if abs(corner.tail_end_line) > 1e-9 else "pin"
    itself = ("The leaning board's end stays square: tip the board about its bottom edge, and its end slides along the "
              "other face. ")
    right_way = itself + "You have the right way for the slant, but on the wrong board."
    wrong_way = itself + "And the slant goes the other way: that makes two slips."
    turned = ("The right board, but the wrong way. Follow the leaning face up: at the top it is further {}, so the "
              "upright board {} there.")
    remarks = {
        "the tail board's, and it is longer at the top": right_way if lean > 0 else wrong_way,
        "the tail board's, and it is longer at the bottom": wrong_way if lean > 0 else right_way,
        "the pin board's, and it is longer at the top": turned.format("in", "stops shorter"),
        "the pin board's, and it is longer at the bottom": turned.format("out", "has to reach it"),
    }
    longer = "top" if corner.end_line(board) > 0 else "bottom"
    return choices(
        draw, f"the {board} board's, and it is longer at the {longer}", remarks,
        f"the {board} board takes the leaning board's angle and is longer at the {longer}",
        text=f"The tail board {leaning(lean)}, the pin board stands upright. Which board's end slants, and which way?",
        label="Whose end slants",
        hints=(f"Tip the tail board by {abs(lean)}° about its bottom edge. Its end slides along the upright board's face, "
               "so its own end can stay square.",
               f"The upright board must reach a face that is further {'out' if lean > 0 else 'in'} at the top, by the "
               f"lean of {abs(lean)}°."))


def _read_pin_line(draw):
    lean = draw.signed("tail_lean", 10, 42)
    corner = Corner(lean, 0)
    line = corner.pin_end_line
    return draw.asked(
        text=f"Set Tail lean to {set_to(lean)} in the panel; the pin board stays upright. What is the pin board's end "
             "line, from square? Give its sign as well.",
        label="Pin board's end line", unit="bevel", answer=line, tolerance=BEVEL_TOLERANCE,
        answer_text=bevel_answer(draw, line, signed=True),
        slips=(edge_or_square(line), wrong_sign(line),
               Slip(OTHER_BOARD, corner.tail_end_line, "That is the tail board's end line, and it is square. The pin "
                                                       "board takes the slant.")),
        hints=(f"The sentence under the picture names both end lines. Tail lean {set_to(lean)} moves only one of them.",
               f"The upright pin board takes the lean as it is, {abs(lean)}°, and is {way_of(line)}."),
        look="Read the pin board's end line in the sentence under the picture.")


def _from_the_edge(draw):
    lean = draw.degrees("tail_lean", 8, 40)
    corner = Corner(lean, 0)
    line = corner.pin_end_line
    return draw.asked(
        text=f"The side, a tail board, leans out {lean}°, and the back, a pin board, stands upright. You set the bevel "
             "with its stock on the back's bottom edge. What does it stand at for the back's end line, in degrees from "
             "the edge?",
        label="Bevel, degrees from the edge", unit="bevel", taken_from="edge", answer=line, tolerance=BEVEL_TOLERANCE,
        answer_text=f"{from_edge(line)}, which is {degrees(line)} from square",
        slips=(edge_or_square(line, "edge"),
               Slip(SIGN, -line, "That is more than 90° from the edge, so the line slants the other way. Turn the bevel "
                                 "over: with a side that leans out, the back is longer at the top."),
               Slip(SQUARE, 0.0, "90° from the edge is square, and that is the tail board's own end. Here you strike the "
                                 "back's end line.")),
        hints=(f"From square, the upright board's end line is the other board's lean, {lean}°.",
               f"Square is 90° from the edge. The line is {lean}° off square: 90° − {lean}°."),
        look="Look at the line “end line, pin board” of the printed table: it says both.")


def _longer_at_the_top(draw):
    lean = draw.degrees("tail_lean", 8, 40)
    height = draw.length("height", 130, 260, 5, 0.5)
    printed, over_run = offset_said(draw, Corner(lean, 0).pin_end_line)
    run, said_run = run_said(draw)
    answer = height * over_run / run
    return draw.asked(
        text=f"The tail board leans out {lean}°, so the offset of the upright pin board's end line is {printed}. The pin "
             f"board is {draw.say(height)} wide, from bottom edge to top edge. How much longer is it at the top, at "
             "this one end?",
        label="Longer at the top by", unit="length", answer=answer, tolerance=offset_tolerance(draw),
        answer_text=draw.size(answer),
        slips=(Slip(OFFSET_ALONE, over_run, f"That is the offset in {said_run}, and this board is {draw.say(height)} "
                                            "wide. Scale the offset up."),
               Slip(BOTH_ENDS, 2 * answer, "That is for two ends. The question is about one end."),
               Slip(WRONG_RATIO, over_run * run / height, f"You scaled the wrong way: {draw.say(height)} is more than "
                                                          f"{said_run}, so the offset is larger too.")),
        hints=(f"The end line goes {printed}: so far along for every {said_run} straight up the board.",
               f"{draw.say(height)} is {height / run:.2f} times {said_run}. Take that many times the offset."),
        look="Draw the offset: straight up the board, then along to the line.")


def _slope_from_level(draw):
    slope = draw.degrees("slope", 52, 82)
    line = Corner(90 - slope, 0).pin_end_line
    return draw.asked(
        text=f"The knee beside the drawer slopes {slope}° measured from level, and so does the drawer's side (tail board). "
             "Both lean out. The back (pin board) stands upright. What is the back's end line, from square?",
        label="Back's end line", unit="bevel", answer=line, tolerance=BEVEL_TOLERANCE,
        answer_text=bevel_answer(draw, line),
        slips=(Slip(FROM_LEVEL, slope, f"{slope}° is the slope read from level. A lean is counted from plumb, and an end "
                                       "line from square: take the slope from 90°."),
               Slip(SQUARE, 0.0, "Square is the leaning board's own end. The upright back takes the slant."),
               Slip(LEAN_SUBTRACTED, 90 - 2 * (90 - slope), "You took the lean off the slope. The lean is 90° less the "
                                                            "slope, and the lean alone is the end line.")),
        hints=(f"A slope of {slope}° from level is a lean of 90° − {slope}° from plumb.",
               f"The upright board takes the other board's lean as it is: {90 - slope}° from square."),
        look="First turn the slope into a lean, which is counted from plumb.")


EXERCISES = (
    Exercise("02-1", "predict", _which_end),
    Exercise("02-2", "read off", _read_pin_line),
    Exercise("02-3", "work out", _from_the_edge),
    Exercise("02-4", "work out", _longer_at_the_top),
    Exercise("02-5", "work out", _slope_from_level),
)
