"""Exercises of notebook 06: a trial corner read back."""

import math

from ...common.boards import BOARDS, other
from ...common.printing import degrees, fine
from ...common.printing import off as off_by
from ...corner.corner import Corner
from ...one_gauge.one_gauge import OneGauge
from ...trial.faults import end_gap, end_line_gap, foot_gap
from ...trial.readings import TrialCorner, lean_from_rise_and_run
from .core import BEVEL_TOLERANCE, PRINTED_ANGLE, PRINTED_GAP, Exercise, Slip, choices
from .slips import COSINE, FROM_LEVEL, OTHER_BOARD, OWN_LINE, RUN, SHORTCUT, SIGN, SINE, TANGENT


def _which_will_be_off(draw):
    intended = Corner(draw.degrees("tail_lean", 12, 26), draw.degrees("pin_lean", 12, 26))
    board, off = draw.pick("board", BOARDS), draw.signed("off", 1, 3)
    lines = {each: intended.end_line(each) + (off if each == board else 0) for each in BOARDS}
    stands = TrialCorner(lines["tail"], lines["pin"], intended=intended)
    departures = {each: stands.departures[each] for each in BOARDS}
    most = max(BOARDS, key=lambda each: abs(departures[each]))
    words = {(each, way): f"the {each} board, and it leans too {way}" for each in BOARDS for way in ("far", "little")}
    answer = words[most, "far" if departures[most] > 0 else "little"]
    itself = f"Each line shows the lean of the other board, and the {board} board's line is the wrong one. "
    turned = "You have the right board, but the wrong way. Lines that slant more make boards that lean more. "
    wrong = [itself + "The way is wrong as well: that makes two slips.", itself + "The way is right."]
    remarks = {text: turned + f"This line slants too {'much' if off > 0 else 'little'}." if each == most
               else wrong[(way == "far") == (off > 0)] for (each, way), text in words.items()}
    return choices(
        draw, answer, remarks,
        f"{answer}: {off_by(departures[most])} off, and the {other(most)} board only "
        f"{off_by(departures[other(most)])}",
        text=f"A trial corner is intended to lean out {intended.tail_lean:g}° (tail board) and {intended.pin_lean:g}° (pin "
             f"board). You measure its pencil lines: the {other(board)} board's is right, the {board} board's slants "
             f"{abs(off)}° too {'much' if off > 0 else 'little'}. Which board will be further from its intended lean, and "
             "which way?",
        label="Further off",
        hints=(f"The {board} board's line is out by {abs(off)}°. Each line shows the lean of the other board.",
               f"Read back, the tail board would stand {off_by(departures['tail'])} from its intended "
               f"{intended.tail_lean:g}°, the pin board {off_by(departures['pin'])} from its {intended.pin_lean:g}°."))


def _read_back(draw):
    board = draw.pick("board", BOARDS)
    lines = {"tail": draw.degrees("tail_reads", 12, 34), "pin": draw.degrees("pin_reads", 12, 34)}
    corner, others = Corner.from_end_lines(lines["tail"], lines["pin"]), other(board)
    answer = corner.lean(board)
    return draw.asked(
        text=f"In the first panel type the measured end lines: {lines['tail']} for the tail board and {lines['pin']} for the "
             f"pin board. At which lean will the {board} board stand?",
        label=f"Lean of the {board} board, degrees", unit="angle", answer=answer, tolerance=PRINTED_ANGLE,
        answer_text=f"the {board} board will stand at {degrees(answer)}",
        slips=(Slip(OTHER_BOARD, corner.lean(others), f"You gave the lean of the {others} board. The sentence gives both."),
               Slip(SHORTCUT, lines[others], f"You gave the {others} board's end line as you measured it. Both boards lean, so "
                                             "the line slants less than the lean that it belongs to."),
               Slip(OWN_LINE, lines[board], f"You gave the {board} board's own end line, which shows the other board's "
                                            "lean."),
               Slip(FROM_LEVEL, 90 - answer, "You gave the slope from level. A lean is counted from plumb.")),
        hints=(f"The {others} board's line, {lines[others]}°, tells the {board} board's lean, which is a little more.",
               f"The sentence under the picture says where the {board} board will stand with lines of {lines['tail']}° and "
               f"{lines['pin']}°."),
        look=f"Read what the sentence under the first panel's picture says of the {board} board.")


def _light_under_the_edge(draw):
    board = draw.pick("board", BOARDS)
    corner = Corner(draw.degrees("tail_lean", 14, 38), draw.degrees("pin_lean", 14, 38))
    thick = draw.length("thickness", 12, 30)
    others, lean = other(board), math.radians(corner.lean(board))
    answer = corner.rocking_gap(thick, board)
    share = corner.rocking_gap(1.0, board)
    return draw.asked(
        text=f"The tail board leans out {corner.tail_lean:g}°, the pin board {corner.pin_lean:g}°, and both are "
             f"{draw.say(thick)} thick. The {board} board's edges were left square to its face. How much light do you "
             "see under the inner arris of its bottom edge?",
        label="Light under the arris", unit="length", answer=answer, tolerance=4 * PRINTED_GAP,
        answer_text=fine(answer, draw.unit),
        slips=(Slip(OTHER_BOARD, corner.rocking_gap(thick, others), f"You gave the {others} board's light. The board's own "
                                                                    f"lean "
                                                                    "counts."),
               Slip(TANGENT, thick * math.tan(lean), "You took the offset for the lean. The thickness is the long side of the "
                                                     "triangle here, so the light is a little less."),
               Slip(COSINE, thick * math.cos(lean), "You measured how far the inner arris lies behind the outer one, level. "
                                                    "Measure "
                                                    "the light straight up.")),
        hints=("The thickness stands square to the leaning face, so the edge climbs from one arris to the other. At a lean of "
               f"{corner.lean(board):g}° the edge climbs {share:.4f} of the thickness.",
               f"Multiply {draw.say(thick)} by {share:.4f}."),
        look="Look at the tables of faults under “When the corner gapes or rocks”. A board shows more light the more it "
             "leans.")


def _rise_and_run(draw):
    way = draw.pick("way", ("out", "in"))
    rise = draw.length("rise", 90, 150, 10, 0.5)
    run = draw.length("run", 18, 60)
    answer = lean_from_rise_and_run(rise, run if way == "out" else -run).value
    alone = run / (1 if draw.unit == "mm" else 25.4)
    sine = math.degrees(math.asin(run / rise))
    aside, below = 100 * run / rise, int(abs(answer))
    why = f"The face runs {way}, and {'out is positive' if way == 'out' else 'in is negative'}."
    return draw.asked(
        text=f"A square stands on the bench against a board. Over a rise of {draw.say(rise)} up its blade, the face "
             f"has run {way} by {draw.say(run)}. What is the board's lean? Give its sign as well.",
        label="Lean, degrees", unit="angle", answer=answer, tolerance=BEVEL_TOLERANCE,
        answer_text=f"the lean is {degrees(answer)}, {way}",
        slips=(Slip(FROM_LEVEL, math.copysign(90 - abs(answer), answer), "You gave the slope read from level: rise and run "
                                                                         "changed places. A lean is counted from plumb."),
               Slip(SIGN, -answer, f"The size is right, the sign isn't. {why}", also=f"The sign is wrong. {why}"),
               Slip(RUN, math.copysign(alone, answer), "You gave the run. Scale the run to a rise of 100, and look the angle "
                                                       "up "
                                                       "in the table of offsets."),
               Slip(SINE, math.copysign(sine, answer), "You took the rise for the length up the face. The rise is measured up "
                                                       "the square's blade, plumb.")),
        hints=(f"Scale the run to a rise of 100: {draw.say(run)} over {draw.say(rise)} is as much as {aside:.1f} over 100.",
               f"In the table of offsets {aside:.1f} in 100 lies between {below}° and {below + 1}°. A lean {way} is "
               f"{'positive' if way == 'out' else 'negative'}."),
        look="Look at reading 1 under the first picture, and at the table of offsets.")


def _what_was_cut_wrong(draw):
    corner = Corner(draw.degrees("tail_lean", 14, 28), draw.degrees("pin_lean", 14, 28))
    thick = draw.length("thickness", 15, 25)
    fault = draw.pick("fault", ("edge", "slip", "bevel", "line", "another corner"))
    height = 120.0
    closed = OneGauge(corner).closed_lean("tail")
    seen, how = {
        "edge": ("light under one arris of the tail board's bottom edge",
                 f"{fine(corner.rocking_gap(thick), draw.unit)}, the same all along"),
        "slip": ("light evenly under the tail board", f"{fine(foot_gap(corner, 2.0), draw.unit)}; the corner rocks"),
        "bevel": ("a gap in the tail board's end",
                  f"{fine(abs(end_gap(corner, thick)), draw.unit)} at the inner arris, the same all the way up"),
        "line": ("a gap that narrows along the corner line",
                 f"{fine(end_line_gap(corner, height, corner.tail_end_line + 0.5), draw.unit)} at its wide end"),
        "another corner": ("no gap in the ends", f"and the plan angle is right, but the tail board leans {degrees(closed)}"),
    }[fault]
    cause = {"edge": "the edge was not ripped to the lean", "slip": "one board was fixed too far up the corner line",
             "bevel": "the end was not sawn to its end bevel", "line": "one end line was cut wrong",
             "another corner": "both lines agree, and belong to another corner"}
    shows = {"edge": "An edge that wasn't ripped to the lean shows light under one of its arrises, the same all along.",
             "slip": "A board fixed too far up the corner line shows light evenly under it, and the corner "
                     "rocks.",
             "bevel": "An end that wasn't sawn to its end bevel gapes at one arris, the same all the way up.",
             "line": "One wrong end line gapes along the corner line, and the gap narrows to nothing.",
             "another corner": "Lines that agree but belong to another corner close without a gap; the leans tell."}
    return choices(
        draw, cause[fault], {cause[each]: f"{shows[each]} Here you see something else." for each in cause}, cause[fault],
        text=f"A trial corner was intended to lean out {corner.tail_lean:g}° (tail board) and {corner.pin_lean:g}° (pin "
             "board), "
             f"in wood {draw.say(thick)} thick. You see {seen}, {how}. By the table, what was done wrong?",
        label="What was done wrong",
        hints=("Go down the table in its order. Is there light, where, and does it narrow? "
               f"A lean that isn't {corner.tail_lean:g}° or {corner.pin_lean:g}° comes last.",
               f"You see {seen}. {shows[fault]}"))


EXERCISES = (
    Exercise("06-1", "predict", _which_will_be_off),
    Exercise("06-2", "read off", _read_back),
    Exercise("06-3", "work out", _light_under_the_edge),
    Exercise("06-4", "work out", _rise_and_run),
    Exercise("06-5", "read off", _what_was_cut_wrong),
)
