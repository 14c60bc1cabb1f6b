"""Exercises of notebooks 01 to 03: nothing leans, or one board does."""

import math

from ...common.boards import other
from ...common.printing import degrees, from_edge, offset
from ...corner.corner import Corner
from ...joint.tails import SLOPES
from .core import (
    GAUGE_TOLERANCE,
    LENGTH_TOLERANCE,
    Exercise,
    Slip,
    choices,
    complement,
    counts,
    gauge_answer,
    leaning,
    said_length,
    set_to,
    way_of,
    wrong_sign,
)

_PLANS = [angle for angle in range(100, 136) if angle != 120]  # 120 stands on the page
_TABLE = "Run the cell that prints every setting, with these leans in it, and look at the line “{}”."


def _rise_said(draw, angle):
    """The rise of a line as the tables print it, and the same over the run in mm."""
    over = 100.0 if draw.unit == "mm" else 101.6
    return offset(angle, draw.unit), over * math.tan(math.radians(angle))


# 01 A plain corner


def _what_changes(draw):
    change = draw.pick("change", ("plan angle", "thickness", "turn"))
    if change == "thickness":
        thick = draw.length("to", 24, 40)
        move = f"Thickness from {said_length(12.7 if draw.unit == 'in' else 12.0, draw.unit)} to {draw.say(thick)}"
        bevel, why = Corner(0, 0).end_bevel, "thickness moves neither the outer faces nor the angle between them"
    elif change == "turn":
        move = f"Turn from 15 to {draw.degrees('to', 60, 170)}"
        bevel, why = Corner(0, 0).end_bevel, "a view changes how a line looks, never how it is struck"
    else:
        plan = draw.pick("to", _PLANS)
        move, bevel = f"Plan angle from 90 to {plan}", Corner(0, 0, plan).end_bevel
        why = f"the end lines stay square, and the end bevel becomes {degrees(bevel)}"
    neither, ends, lines, both = ("neither", "only the end bevel", "only the end lines", "the end lines and the end "
                                                                                         "bevel")
    remarks = {
        neither: "The end lines stay square, that's so. But the faces no longer meet at 90°, and the ends have to be "
                 "sawn to what is over.",
        ends: f"What you moved was the {'view' if change == 'turn' else change}. It leaves the faces meeting at 90°, "
              "so the ends stay square to them. Only the plan angle opens the end bevel here.",
        lines: "Nothing leans, so the end lines stay square: no plan angle, thickness or view slants them. Look at "
               "the end bevel.",
        both: "Nothing leans, so the end lines stay square, whatever the end bevel does. Try it in the panel.",
    }
    return choices(
        draw, ends if abs(bevel) > 1e-9 else neither, remarks, why,
        text=f"Both boards stand upright. In the panel you drag {move}. Which of these change: the end lines, the end "
             "bevel, both, or neither?",
        label="What changes",
        hints=("Ask of each in turn. The end lines lie on the outer faces, and nothing leans. The end bevel is the "
               "dihedral less 90°, and with upright boards the dihedral is the plan angle.",
               f"So no slider slants the end lines here. And when you drag {move}, the end bevel comes to "
               f"{degrees(bevel)}."))


def _plain_end_bevel(draw):
    plan = draw.pick("plan_angle", _PLANS)
    bevel = Corner(0, 0, plan).end_bevel
    return draw.asked(
        text=f"Two upright boards meet at a plan angle of {plan}°. In the cell above the second table change 120 to "
             f"{plan} and run it. What is the end bevel, in degrees from square?",
        label="End bevel, degrees from square", unit="angle", answer=bevel, tolerance=GAUGE_TOLERANCE,
        answer_text=f"the end bevel is {degrees(bevel)} from square",
        slips=(Slip("plan angle", plan, "That is the plan angle itself. An end bevel is counted from square to the "
                                        "face, so take 90° off."),
               Slip("complement", 90 - bevel, "That is counted from the face, or from a straight line. An end bevel is "
                                              "counted from square to the face.")),
        hints=(f"With upright boards the dihedral is the plan angle, {plan}°.",
               f"The end bevel is the dihedral less 90°: {plan}° − 90°."),
        look="Look at the line “end bevel” of the second printed table.")


def _plan_from_bevel(draw):
    bevel = draw.degrees("end_bevel", 8, 44)
    plan = Corner(0, 0, 90 + bevel).dihedral
    return draw.asked(
        text=f"The ends of two upright boards were sawn {bevel}° out of square to their faces, so that the inner face "
             "is the longer one. They lie flush. At which plan angle do the boards stand?",
        label="Plan angle, degrees", unit="angle", answer=plan, tolerance=GAUGE_TOLERANCE,
        answer_text=f"the plan angle is {degrees(plan)}",
        slips=(Slip("end bevel", bevel, "That is the end bevel itself. The plan angle of upright boards is 90° and "
                                        "the end bevel together."),
               Slip("sign", 90 - bevel, "Wider than 90°, each board is longer on its inner face; narrower, on its "
                                        "outer. You took the end bevel off 90°: add it."),
               Slip("supplement", 180 - bevel, "You took the end bevel off a straight line. It is counted from "
                                               "square, from 90°.")),
        hints=(f"The end bevel of {bevel}° is what the dihedral has over 90°.",
               f"The dihedral is 90° + {bevel}°, and with upright boards that is the plan angle."),
        look="Look at what the second printed table says for a plan angle of 120°, and go backwards.")


def _baseline(draw):
    board = draw.pick("board", ("tail", "pin"))
    own = draw.length("own_thickness", 12, 24)
    others = draw.length("other_thickness", 12, 24)
    answer = Corner(0, 0).baseline_offset(others)
    return draw.asked(
        text=f"The corner is plain and square. The {board} board is {draw.say(own)} thick, the {other(board)} "
             f"board {draw.say(others)}. How far from the end line do you gauge the depth of the joint on the {board} "
             "board?",
        label="Depth, from the end line", unit="length", answer=answer, tolerance=LENGTH_TOLERANCE,
        answer_text=f"{draw.size(answer)}, the thickness of the {other(board)} board",
        slips=(Slip("own thickness", own, f"That is the {board} board's own thickness. The joint reaches as far as the "
                                          "other board is thick."),
               Slip("both thicknesses", own + others, "That is both boards together. The joint reaches through the "
                                                      "other board only.")),
        hints=(f"The baseline follows the inner face of the other board, here the {other(board)} board.",
               f"In a square corner that face lies the {other(board)} board's thickness from the end line: "
               f"{draw.say(others)}."),
        look="Look at step 3 on the bench.")


def _not_square(draw):
    plan = draw.pick("plan_angle", [*[90] * 6, *_PLANS[::3]])
    answer = sum(abs(angle) > 0.005 for angle in _settings(Corner(0, 0, plan)).values())
    slips = {0: "At 90° all seven are square. Look again at the plan angle that is asked.",
             1: "Something slants only when the plan angle isn't 90°. Look again at the plan angle that is asked.",
             2: "Both ends are sawn to one and the same end bevel, and the table has one line for it. The end lines "
                "stay square.",
             7: "That is the number of lines in the table. Count those that don't say “square”."}
    return draw.asked(
        text=f"Both boards stand upright, and the plan angle is {plan}°. Print every setting, as the page does. How "
             "many of the seven lines say anything but “square”?",
        label="How many lines", unit="count", answer=answer,
        answer_text=f"{answer}" + (", and that is the end bevel" if answer else ": every line is square"),
        slips=counts(answer, slips),
        hints=(f"Change the cell above the second table to a plan angle of {plan} and run it.",
               f"End lines, rim bevels and level lines stay square while nothing leans. The end bevel is {plan}° − "
               "90°."),
        look="Look at the two printed tables.")


def _settings(corner):
    """The seven settings that the tables print, by name."""
    return {
        "end line, tail board": corner.tail_end_line, "end line, pin board": corner.pin_end_line,
        "end bevel": corner.end_bevel,
        "rim bevel, tail board": corner.tail_rim_bevel, "rim bevel, pin board": corner.pin_rim_bevel,
        "level, flush tail end": corner.level_on_flush_end, "level, square tail end": corner.level_on_square_end,
    }


# 02 The tail board leans


def _which_end(draw):
    lean = draw.signed("tail_lean", 8, 35)
    corner = Corner(lean, 0)
    board = "tail" if abs(corner.tail_end_line) > 1e-9 else "pin"
    itself = "The end of the board that leans stays square: tipped about its bottom edge, it slides in the other face. "
    right_way = itself + "The way it slants is right, but on the wrong board."
    wrong_way = itself + "And the way it slants is wrong as well."
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
        hints=(f"Tip the tail board by {abs(lean)}° about its bottom edge: its end goes on sliding in the upright "
               "board's face. So its own end can stay square.",
               f"The upright board has to reach a face that is further {'out' if lean > 0 else 'in'} at the top by "
               f"the lean of {abs(lean)}°."))


def _read_pin_line(draw):
    lean = draw.signed("tail_lean", 10, 42)
    corner = Corner(lean, 0)
    line = corner.pin_end_line
    return draw.asked(
        text=f"Set Tail lean to {set_to(lean)} in the panel; the pin board stays upright. What is the pin board's end "
             "line, from square? Give its sign as well.",
        label="Pin board's end line", unit="gauge", answer=line, tolerance=GAUGE_TOLERANCE,
        answer_text=gauge_answer(draw, line, signed=True),
        slips=(complement(line), wrong_sign(line),
               Slip("other board", corner.tail_end_line, "That is the tail board's end line, and it is square. The "
                                                         "pin board takes the slant.")),
        hints=(f"The sentence under the picture names both end lines. Tail lean {set_to(lean)} moves only one of them.",
               f"The upright pin board takes the lean as it is, {abs(lean)}°, and is {way_of(line)}."),
        look="Read the pin board's end line in the sentence under the picture.")


def _from_the_edge(draw):
    lean = draw.degrees("tail_lean", 8, 40)
    corner = Corner(lean, 0)
    line = corner.pin_end_line
    return draw.asked(
        text=f"The side, a tail board, leans out {lean}°, and the back, a pin board, stands upright. You set the "
             "bevel with its stock on the back's bottom edge. What does it stand at for the back's end line, in "
             "degrees from the edge?",
        label="Gauge, degrees from the edge", unit="gauge", taken_from="edge", answer=line, tolerance=GAUGE_TOLERANCE,
        answer_text=f"{from_edge(line)}, which is {degrees(line)} from square",
        slips=(complement(line),
               Slip("turned over", -line, "From the edge that is over 90°, so the line slants the other way. Turn the "
                                          "gauge over: a side that leans out wants the back longer at the top."),
               Slip("square", 0.0, "90° from the edge is square, and that is the tail board's own end. Here you "
                                   "strike the back's.")),
        hints=(f"From square, the upright board's end line is the lean of the other, {lean}°.",
               f"Square is 90° from the edge. The line is {lean}° off square: 90° − {lean}°."),
        look="Look at the line “end line, pin board” of the printed table: it says both.")


def _longer_at_the_top(draw):
    lean = draw.degrees("tail_lean", 8, 40)
    height = draw.length("height", 130, 260, 5, 0.5)
    printed, over_run = _rise_said(draw, Corner(lean, 0).pin_end_line)
    run = 100.0 if draw.unit == "mm" else 254.0
    answer = height * over_run / run
    said_run = "100 mm" if draw.unit == "mm" else "10 in"
    return draw.asked(
        text=f"The tail board leans out {lean}°, so the upright pin board's end line rises {printed}. The pin board is "
             f"{draw.say(height)} wide, from bottom to top edge. By how much is it longer at the top, at this one end?",
        label="Longer at the top by", unit="length", answer=answer, tolerance=LENGTH_TOLERANCE,
        answer_text=draw.size(answer),
        slips=(Slip("rise alone", over_run, f"That is the rise over {said_run}, and this board is {draw.say(height)} "
                                            "wide. Scale it up."),
               Slip("both ends", 2 * answer, "That is for two ends. The question is about one."),
               Slip("upside down", over_run * run / height, f"You scaled the wrong way: {draw.say(height)} is more than "
                                                            f"{said_run}, so the slant takes more.")),
        hints=(f"The end line goes {printed}: so far along for every {said_run} straight up the board.",
               f"{draw.say(height)} is {height / run:.2f} times {said_run}. Take the rise as many times."),
        look="Draw it: straight up the board, then along to the line.")


def _slope_from_level(draw):
    slope = draw.degrees("slope", 52, 82)
    line = Corner(90 - slope, 0).pin_end_line
    return draw.asked(
        text=f"The hull's side, and the drawer's side (tail board) with it, slopes {slope}° measured from level; it "
             "leans out. The back (pin board) stands upright. What is the back's end line, from square?",
        label="Back's end line", unit="gauge", answer=line, tolerance=GAUGE_TOLERANCE,
        answer_text=gauge_answer(draw, line),
        slips=(Slip("slope from level", slope, f"{slope}° is the slope read from level. A lean is counted from plumb, "
                                               "and an end line from square: take it from 90°."),
               Slip("square", 0.0, "Square is the leaning board's own end. The upright back takes the slant."),
               Slip("twice from level", 90 - 2 * (90 - slope), "You took the lean off the slope. The lean alone is "
                                                               "90° less the slope, and that is the end line.")),
        hints=(f"A slope of {slope}° from level is a lean of 90° − {slope}° from plumb.",
               f"The upright board takes the other's lean as it is: {90 - slope}° from square."),
        look="First turn the slope into a lean, which is counted from plumb.")


# 03 The pin board leans


def _tails_off_the_end(draw):
    lean = draw.signed("pin_lean", 6, 30)
    line = Corner(0, lean).tail_end_line
    # square to an end line that goes back past the corner as it climbs, what leaves the board falls
    up, level, down = "upwards", "level", "downwards"
    points = down if line > 0 else up
    slanted = (f"The other way. The tail board is {way_of(line)}; lay a try square against that end and see where its "
               "blade points.")
    remarks = {
        up: slanted, down: slanted,
        level: "Level is how they ought to point. Laid out square to a slanted end, they follow the end's tilt instead.",
    }
    return choices(
        draw, points, remarks, f"they would point {points} as they leave the board, and their grain would "
                               "run out on one cheek",
        text=f"The tail board stands upright, the pin board {leaning(lean)}. By mistake the tails are laid out square "
             "to the slanted end. Which way would they point as they leave the board?",
        label="They point",
        hints=(f"The pin board {leaning(lean)}, so the tail board is {way_of(line)}: that is how its end tilts.",
               f"Square to an end that is {degrees(abs(line), 0)} off plumb, a tail is {degrees(abs(line), 0)} off "
               "level. The end faces a little towards the edge at which the board is shorter."))


def _read_rise(draw):
    lean = draw.degrees("pin_lean", 6, 40)
    corner = Corner(0, lean)
    line = corner.tail_end_line
    printed, over_run = _rise_said(draw, line)
    alone = over_run if draw.unit == "mm" else over_run / 25.4
    base = "100 mm" if draw.unit == "mm" else "10 in"
    return draw.asked(
        text=f"Put a pin lean of {lean} into the cell that prints this corner's settings, and run it. How much does "
             f"the tail board's end line rise over {base}? Type it as the table prints it, with what it is over: such "
             f"as {offset(8, draw.unit)}.",
        label="Tail board's end line", unit="gauge", answer=line, tolerance=GAUGE_TOLERANCE,
        answer_text=f"{printed}, which is {degrees(line)} from square",
        slips=(complement(line),
               Slip("rise as degrees", alone, "That number alone is read as degrees. If you mean the rise, say over "
                                              f"what: “over {base}”."),
               Slip("other board", corner.pin_end_line, "That is the pin board's end line, which stays square. The tail "
                                                        "board takes the slant.")),
        hints=(f"The tail board stands upright, so its end line takes the pin board's lean, {lean}°.",
               f"The table prints that line three ways: {degrees(line)} from square, {from_edge(line)}, and in "
               "brackets the rise."),
        look=_TABLE.format("end line, tail board"))


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
        label="Blunter angle, degrees", unit="angle", answer=answer, tolerance=GAUGE_TOLERANCE,
        answer_text=f"the blunter one is {degrees(answer)}, and the sharp one {degrees(90 - line - spread)}",
        slips=(Slip("other cheek", 90 - line - spread, "That is the sharp one, at the tail's other cheek. Which of "
                                                       "the two opens up when the end slants?"),
               Slip("laid out square", 90 - spread, "So it would be on a square end, at both cheeks. Here the end "
                                                    "slants, and the tails stay level."),
               Slip("spread left out", 90 + line, "That is where a level line meets the end. The cheek isn't level: "
                                                  "the tail gets wider towards the end."),
               Slip("spread added", 90 + line + spread, "You added the spread. A tail gets wider towards its end, so "
                                                        "both its angles there get sharper by it.")),
        hints=(f"A level line meets this end at 90° + {lean}° on one side and 90° − {lean}° on the other.",
               f"A tail is wider at the end than at the baseline, so each of its angles there is {degrees(spread)} less. "
               f"Take {degrees(spread)} from 90° + {lean}°."),
        look="Draw a slanted end, a level centre line, and a tail that spreads to both sides of it alike.")


def _which_setting(draw):
    lean = draw.degrees("pin_lean", 8, 40)
    asked = draw.pick("setting", ("end line, tail board", "end line, pin board", "rim bevel, tail board",
                                  "rim bevel, pin board", "level, flush tail end", "end bevel"))
    answer = _settings(Corner(0, lean))[asked]
    slants = answer > 0.005
    lean_slip = Slip("lean", lean, "That is the pin board's lean. The tail board's end line and the pin board's rim "
                                   f"bevel take it; “{asked}” doesn't.")
    square_slip = Slip("square", 0.0, f"One board leans, so something has to slant, and “{asked}” is one of the two "
                                      "lines of the table that do.")
    on_edge = Slip("from the edge", 90.0, "90° from square lies along the edge itself. Square counts as 0 here.")
    return draw.asked(
        text=f"The tail board stands upright, the pin board leans out {lean}°. Print this corner's settings. What "
             f"does the line “{asked}” say, in degrees from square? Type 0 for square.",
        label="Degrees from square", unit="gauge", answer=answer, tolerance=GAUGE_TOLERANCE,
        answer_text=f"{degrees(answer)} from square" if slants else "square, which is 0° from square",
        slips=(complement(answer), square_slip) if slants else (lean_slip, on_edge),
        hints=(f"Only the pin board leans, by {lean}°. Ask whether the surface in question tips with it, or has to "
               "meet it.",
               "The tail board's end has to meet the leaning face; the pin board's edges have to lie level. "
               f"Those two take the {lean}°, and all else is square."),
        look=_TABLE.format(asked))


def _top_edge(draw):
    lean = draw.degrees("pin_lean", 8, 38)
    bottom = draw.length("bottom_edge", 300, 450, 5, 0.5)
    height = draw.length("height", 130, 220, 5, 0.5)
    line = Corner(0, lean).tail_end_line
    printed, over_run = _rise_said(draw, line)
    run = 100.0 if draw.unit == "mm" else 254.0
    said_run = "100 mm" if draw.unit == "mm" else "10 in"
    grown = height * over_run / run
    return draw.asked(
        text=f"A drawer's side is an upright tail board, {draw.say(height)} high and {draw.say(bottom)} long along "
             f"its bottom edge. The front leans out {lean}°, so the side's front end line rises {printed}; the back "
             "stands upright. How long is the side along its top edge?",
        label="Top edge", unit="length", answer=bottom + grown, tolerance=LENGTH_TOLERANCE,
        answer_text=f"{draw.size(bottom + grown)}: {draw.size(grown)} longer than at the bottom",
        slips=(Slip("sign", bottom - grown, "You made it shorter at the top. The front leans out, so the side has to "
                                            "reach further there."),
               Slip("both ends", bottom + 2 * grown, "You let both ends slant. The back stands upright, so the end "
                                                     "there is square."),
               Slip("no slant", bottom, "That is the bottom edge. The front end slants, so the top edge differs."),
               Slip("rise alone", bottom + over_run, f"You added the rise over {said_run}. This side is "
                                                     f"{draw.say(height)} high, so it takes more.")),
        hints=(f"The front end line goes along {printed}, and the side is {draw.say(height)} high: that is "
               f"{height / run:.2f} times {said_run}.",
               f"The slant takes {draw.size(grown)} at the front end and nothing at the back. Add it to "
               f"{draw.say(bottom)}."),
        look="Draw the side: its back end square, its front end slanting out.")


EXERCISES = (
    Exercise("01-1", "predict", _what_changes),
    Exercise("01-2", "read off", _plain_end_bevel),
    Exercise("01-3", "work out", _plan_from_bevel),
    Exercise("01-4", "work out", _baseline),
    Exercise("01-5", "read off", _not_square),
    Exercise("02-1", "predict", _which_end),
    Exercise("02-2", "read off", _read_pin_line),
    Exercise("02-3", "work out", _from_the_edge),
    Exercise("02-4", "work out", _longer_at_the_top),
    Exercise("02-5", "work out", _slope_from_level),
    Exercise("03-1", "predict", _tails_off_the_end),
    Exercise("03-2", "read off", _read_rise),
    Exercise("03-3", "work out", _blunter_angle),
    Exercise("03-4", "read off", _which_setting),
    Exercise("03-5", "work out", _top_edge),
)
