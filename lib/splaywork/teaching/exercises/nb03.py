"""Exercises of notebook 03: the pin board leans."""

from ...common.printing import degrees, from_edge, offset
from ...corner.corner import Corner
from ...corner.words import SETTING_NAMES
from ...joint.tails import SLOPES
from .core import BEVEL_TOLERANCE, Exercise, Slip, choices, edge_or_square, leaning, way_of
from .parts import TABLE, offset_said, offset_tolerance, run_said
from .slips import (
    BOTH_ENDS,
    LAID_OUT_SQUARE,
    LEAN,
    NO_SLANT,
    OFFSET_ALONE,
    OFFSET_AS_DEGREES,
    OTHER_BOARD,
    OTHER_CHEEK,
    SIGN,
    SPREAD_ADDED,
    SPREAD_LEFT_OUT,
    SQUARE,
    SUPPLEMENT,
)


def _tails_off_the_end(draw):
    lean = draw.signed("pin_lean", 6, 30)
    line = Corner(0, lean).tail_end_line
    # square to an end line that goes back past the corner as it climbs, what leaves the board falls
    up, level, down = "upwards", "level", "downwards"
    points = down if line > 0 else up
    slanted = (f"The tails point the other way. The tail board is {way_of(line)}. Lay a try square against that end and see "
               "where its blade points.")
    remarks = {
        up: slanted, down: slanted,
        level: "Tails ought to point level. Laid out square to a slanted end, they follow the end's tilt instead.",
    }
    return choices(
        draw, points, remarks, f"they would point {points} as they leave the board, and on one cheek their grain would "
                               "run out",
        text=f"The tail board stands upright, the pin board {leaning(lean)}. By mistake the tails are laid out square "
             "to the slanted end. Which way would they point as they leave the board?",
        label="The tails point",
        hints=(f"The pin board {leaning(lean)}, so the tail board is {way_of(line)}: its end tilts that way.",
               f"Square to an end that is {degrees(abs(line), 0)} off plumb, a tail is {degrees(abs(line), 0)} off "
               "level. The end faces a little towards the edge at which the board is shorter."))


def _read_offset(draw):
    lean = draw.degrees("pin_lean", 6, 40)
    corner = Corner(0, lean)
    line = corner.tail_end_line
    printed, over_run = offset_said(draw, line)
    alone = over_run if draw.unit == "mm" else over_run / 25.4
    base = run_said(draw)[1]
    return draw.asked(
        text=f"Put a pin lean of {lean} into the cell that prints this corner's settings, and run the cell. What is the "
             f"offset of the tail board's end line in {base}? Type the offset as the table prints it, run and all: such as "
             f"{offset(8, draw.unit)}.",
        label="Tail board's end line", unit="bevel", answer=line, tolerance=BEVEL_TOLERANCE,
        answer_text=f"{printed}, which is {degrees(line)} from square",
        slips=(edge_or_square(line),
               Slip(OFFSET_AS_DEGREES, alone, "A number alone is read as degrees. If you mean the offset, type its run as "
                                              f"well: “in {base}”."),
               Slip(OTHER_BOARD, corner.pin_end_line, "That is the pin board's end line, which stays square. The tail "
                                                      "board takes the slant.")),
        hints=(f"The tail board stands upright, so its end line takes the pin board's lean, {lean}°.",
               f"The table prints that line three ways: {degrees(line)} from square, {from_edge(line)}, and in "
               "brackets the offset."),
        look=TABLE.format(SETTING_NAMES["tail_end_line"]))


def _blunter_angle(draw):
    lean = draw.degrees("pin_lean", 6, 25)
    slope = draw.pick("slope", SLOPES)
    line = Corner(0, lean).tail_end_line
    spread = slope.degrees
    answer = 90 + line - spread
    said = f"1 in {slope.n:g}, which is {degrees(spread)}"
    return draw.asked(
        text=f"The pin board leans out {lean}°, the tail board stands upright. Each tail spreads {said}, to both "
             "sides of a level centre line. Measured in the wood of the tail, one cheek meets the end line at a sharp "
             "angle, the other at a blunter one. How many degrees is the blunter?",
        label="Blunter angle, degrees", unit="angle", answer=answer, tolerance=BEVEL_TOLERANCE,
        answer_text=f"the blunter one is {degrees(answer)}, and the sharp one {degrees(90 - line - spread)}",
        slips=(Slip(OTHER_CHEEK, 90 - line - spread, "That is the sharp angle, at the tail's other cheek. Which of the two "
                                                     "opens up when the end slants?"),
               Slip(LAID_OUT_SQUARE, 90 - spread, "On a square end both cheeks would have that angle. Here the end slants, "
                                                  "and the tails stay level."),
               Slip(SPREAD_LEFT_OUT, 90 + line, "A level line meets the end at that angle. The cheek isn't level: the tail "
                                                "gets wider towards the end."),
               Slip(SPREAD_ADDED, 90 + line + spread, "You added the spread. A tail gets wider towards its end, so both its "
                                                      "angles there get sharper by the spread.")),
        hints=(f"A level line meets this end at 90° + {lean}° on one side and 90° − {lean}° on the other.",
               f"A tail is wider at the end than at the baseline, so each of its angles there is {degrees(spread)} less. "
               f"Take {degrees(spread)} from 90° + {lean}°."),
        look="Draw a slanted end and a level centre line. Then draw a tail that spreads equally to both sides of it.")


def _which_setting(draw):
    lean = draw.degrees("pin_lean", 8, 40)
    keys = {SETTING_NAMES[key]: key for key in ("tail_end_line", "pin_end_line", "tail_rim_bevel", "pin_rim_bevel")}
    keys |= {"level line, tail board's end": "level_on_flush_end", SETTING_NAMES["end_bevel"]: "end_bevel"}
    asked = draw.pick("setting", tuple(keys))
    answer = abs(getattr(Corner(0, lean), keys[asked]))
    slants = answer > 0.005
    lean_slip = Slip(LEAN, lean, "That is the pin board's lean. The tail board's end line and the pin board's rim bevel "
                                 f"take it; “{asked}” doesn't.")
    square_slip = Slip(SQUARE, 0.0, f"One board leans, so something has to slant, and “{asked}” is one of the two lines "
                                    "of the table that do.")
    along_edge = Slip(SUPPLEMENT, 90.0, "A line at 90° from square lies along the edge itself. Square counts as 0 here.")
    return draw.asked(
        text=f"The tail board stands upright, the pin board leans out {lean}°. Print this corner's settings. What "
             f"does the line “{asked}” say, in degrees from square? Type 0 for square.",
        label="Degrees from square", unit="bevel", answer=answer, tolerance=BEVEL_TOLERANCE,
        answer_text=f"{degrees(answer)} from square" if slants else "square, which is 0° from square",
        slips=(edge_or_square(answer), square_slip) if slants else (lean_slip, along_edge),
        hints=(f"Only the pin board leans, by {lean}°. Does the surface in question tip with it, or must the surface meet "
               "it?",
               "The tail board's end must meet the leaning face; the pin board's edges must lie level. "
               f"Those two take the {lean}°, and all else is square."),
        look=TABLE.format(asked))


def _top_edge(draw):
    lean = draw.degrees("pin_lean", 8, 38)
    bottom = draw.length("bottom_edge", 300, 450, 5, 0.5)
    height = draw.length("height", 130, 220, 5, 0.5)
    line = Corner(0, lean).tail_end_line
    printed, over_run = offset_said(draw, line)
    run, said_run = run_said(draw)
    grown = height * over_run / run
    return draw.asked(
        text=f"A drawer's side is an upright tail board, {draw.say(height)} high and {draw.say(bottom)} long along "
             f"its bottom edge. The front leans out {lean}°, so the offset of the side's front end line is {printed}; "
             "the back stands upright. How long is the side along its top edge?",
        label="Top edge", unit="length", answer=bottom + grown, tolerance=offset_tolerance(draw),
        answer_text=f"{draw.size(bottom + grown)}: {draw.size(grown)} longer than at the bottom",
        slips=(Slip(SIGN, bottom - grown, "You made the side shorter at the top. The front leans out, so the side must "
                                          "reach further there."),
               Slip(BOTH_ENDS, bottom + 2 * grown, "You let both ends slant. The back stands upright, so the side's back "
                                                   "end is square."),
               Slip(NO_SLANT, bottom, "That is the bottom edge. The front end slants, so the top edge differs."),
               Slip(OFFSET_ALONE, bottom + over_run, f"You added the offset in {said_run}. This side is "
                                                     f"{draw.say(height)} high, so scale the offset up.")),
        hints=(f"The front end line goes along {printed}, and the side is {draw.say(height)} high: that is "
               f"{height / run:.2f} times {said_run}.",
               f"The slant takes {draw.size(grown)} at the front end and nothing at the back. Add the slant to "
               f"{draw.say(bottom)}."),
        look="Draw the side: its back end square, its front end slanting out.")


EXERCISES = (
    Exercise("03-1", "predict", _tails_off_the_end),
    Exercise("03-2", "read off", _read_offset),
    Exercise("03-3", "work out", _blunter_angle),
    Exercise("03-4", "read off", _which_setting),
    Exercise("03-5", "work out", _top_edge),
)
