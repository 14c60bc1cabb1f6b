"""Exercises of notebooks 11 and 07: the formulas put to use, and a trial corner read back."""

import math

from ...common.boards import BOARDS, other
from ...common.printing import degrees, fine
from ...corner.corner import Corner
from ...formulas.forms import compute
from ...one_gauge.one_gauge import OneGauge
from ...trial.faults import end_gap, end_line_gap, foot_gap
from ...trial.readings import TrialCorner, lean_from_rise_and_run
from .core import (
    GAUGE_TOLERANCE,
    PRINTED_ANGLE,
    PRINTED_GAP,
    Exercise,
    Slip,
    choices,
    complement,
    gauge_answer,
    leaning,
)

# 11 Deriving the formulas


def _more_or_less_than_square(draw):
    leans = range(8, 36)
    tail = draw.pick("tail_lean", [*[0] * 6, *leans, *(-lean for lean in leans)])
    pin = draw.pick("pin_lean", [*[0] * 6, *leans, *(-lean for lean in leans)])
    bevel = Corner(tail, pin).end_bevel
    more, exactly, less = "more than 90°", "exactly 90°", "less than 90°"
    answer = exactly if abs(bevel) < 1e-9 else more if bevel > 0 else less
    reason = {exactly: "The sine of an upright board's lean is 0, and so is the product.",
              more: "The two sines have one sign, so their product is positive, and the end bevel with it.",
              less: "The two sines have opposite signs, so their product is negative, and the end bevel with "
                    "it."}[answer]
    remarks = {more: f"The faces don't open past square here. {reason}",
               exactly: f"They meet square only when a board is upright. {reason}",
               less: f"The faces don't close to less than square here. {reason}"}
    return choices(
        draw, answer, remarks, f"{answer}: the dihedral is {degrees(Corner(tail, pin).dihedral)}",
        text=f"The plan is square. The tail board {leaning(tail)}, the pin board {leaning(pin)}. Before you compute "
             "anything: is the dihedral more than 90°, exactly 90°, or less?",
        label="The dihedral is",
        hints=("The end bevel, which is the dihedral less 90°, has a sine of sin a sin b. Only the sign of that product "
               f"counts: the tail board {leaning(tail)}, the pin board {leaning(pin)}.",
               f"The sine of the tail board's lean is {_sign_said(tail)}, that of the pin board's {_sign_said(pin)}. "
               f"{reason}"))


def _sign_said(lean):
    return "0" if lean == 0 else "positive" if lean > 0 else "negative"


def _atan(tangent):
    return math.degrees(math.atan(tangent))


def _end_line_by_formula(draw):
    board = draw.pick("board", BOARDS)
    corner = Corner(draw.degrees("tail_lean", 18, 42), draw.degrees("pin_lean", 18, 42))
    others = other(board)
    line, own, lean = corner.end_line(board), corner.lean(board), corner.lean(others)
    wrong_cosine = _atan(math.tan(math.radians(lean)) * math.cos(math.radians(lean)))
    return draw.asked(
        text=f"A square corner: the tail board leans out {corner.tail_lean:g}°, the pin board {corner.pin_lean:g}°. "
             f"Work out the {board} board's end line from its formula.",
        label=f"{board.capitalize()} board's end line", unit="gauge", answer=line, tolerance=GAUGE_TOLERANCE,
        answer_text=gauge_answer(draw, line),
        slips=(complement(line),
               Slip("one gauge", lean, f"That is the {others} board's lean: the formula without its cosine, which is "
                                       "what one gauge strikes."),
               Slip("other board", corner.end_line(others), f"That is the {others} board's end line. The tangent is "
                                                            "of the other board's lean, the cosine of its own."),
               Slip("wrong cosine", wrong_cosine, "You took tangent and cosine of one and the same lean. The cosine "
                                                  f"belongs to the {board} board's own lean.")),
        hints=("The tangent of the end line is the tangent of the other board's lean, times the cosine of its own: "
               f"tan {lean:g}° · cos {own:g}°.",
               f"{math.tan(math.radians(lean)):.4f} · {math.cos(math.radians(own)):.4f} = "
               f"{math.tan(math.radians(line)):.4f}. Take the arctangent, with the calculator set to degrees."),
        look="Read the formula aloud, as the page does under “The square corner”, and put the numbers in as you go.")


def _dihedral_by_formula(draw):
    corner = Corner(draw.signed("tail_lean", 15, 42), draw.signed("pin_lean", 15, 42))
    answer, bevel = corner.dihedral, corner.end_bevel
    cosines = math.degrees(math.asin(math.cos(math.radians(corner.tail_lean)) * math.cos(math.radians(corner.pin_lean))))
    sines = [math.sin(math.radians(lean)) for lean in (corner.tail_lean, corner.pin_lean)]
    written = f"{sines[0]:.4f} · {sines[1]:.4f} = {sines[0] * sines[1]:.4f}".replace("-", "−")
    return draw.asked(
        text=f"The plan is square. The tail board {leaning(corner.tail_lean)}, the pin board "
             f"{leaning(corner.pin_lean)}. Work out the dihedral.",
        label="Dihedral, degrees", unit="angle", answer=answer, tolerance=GAUGE_TOLERANCE,
        answer_text=f"the dihedral is {degrees(answer)}",
        slips=(Slip("end bevel", bevel, "That is the end bevel. The dihedral is 90° and the end bevel together."),
               Slip("sign", 90 - bevel, "The end bevel is right in size, but it goes the other way: mind the signs of "
                                        "the two leans."),
               Slip("cosines", 90 + cosines, "You multiplied the cosines. At a square plan only the product of the "
                                             "sines is left.")),
        hints=("The sine of the end bevel is sin a sin b, and a lean inward counts as negative. Here a is "
               f"{abs(corner.tail_lean):g}° and b is {abs(corner.pin_lean):g}°, each with its sign.",
               f"{written}. Take the arcsine and add 90°."),
        look="Look at the formula at the end of “The dihedral”.")


def _read_corner_rise(draw):
    corner = Corner(draw.degrees("tail_lean", 12, 40), draw.degrees("pin_lean", 12, 40))
    answer = corner.corner_rise
    return draw.asked(
        text=f"Under “In numbers” put {corner.tail_lean:g} and {corner.pin_lean:g} for the leans in Corner(…), and "
             "run that cell and the next. What is the angle between the corner line and the bench?",
        label="Corner line and bench, degrees", unit="angle", answer=answer, tolerance=PRINTED_ANGLE,
        answer_text=f"the corner line rises at {degrees(answer, 2)}",
        slips=(Slip("from plumb", 90 - answer, "That is how far the corner line is off plumb. The bench is level: "
                                               "count from there."),
               Slip("dihedral", corner.dihedral, "That is the dihedral, between the two faces."),
               Slip("tail board's end line", corner.tail_end_line, "That is the tail board's end line: the corner "
                                                                   "line as seen on that board, from square."),
               Slip("pin board's end line", corner.pin_end_line, "That is the pin board's end line: the corner line "
                                                                 "as seen on that board, from square.")),
        hints=(f"For {corner.tail_lean:g}° and {corner.pin_lean:g}° the second cell prints five angles. The one you "
               "want is the corner's rise.",
               "By the formula, its cotangent squared is tan² a + tan² b: "
               f"{math.tan(math.radians(corner.tail_lean)) ** 2:.4f} + "
               f"{math.tan(math.radians(corner.pin_lean)) ** 2:.4f}."),
        look="Look at the line “corner rise” that the cell prints.")


def _rule_of_thumb(draw):
    tail, pin = draw.degrees("tail_lean", 12, 34), draw.degrees("pin_lean", 12, 34)
    answer, swapped = _thumb(tail, pin), _thumb(pin, tail)
    twice = math.sin(2 * math.radians(tail))
    return draw.asked(
        text=f"A square corner: the tail board leans out {tail}°, the pin board {pin}°. By the rule of thumb, by how "
             "many degrees is the pin board's line too steep when it is struck with one gauge?",
        label="Too steep by, degrees", unit="angle", answer=answer, tolerance=PRINTED_ANGLE,
        answer_text=f"{degrees(answer, 2)} by the rule; exactly it is "
                    f"{degrees(OneGauge(Corner(tail, pin)).pin_error, 2)}",
        slips=(Slip("degrees squared", pin * pin / 4 * twice, "You squared degrees. The rule is in radians: turn b "
                                                              "into radians first, and the result back into degrees."),
               Slip("radians", math.radians(answer), "That is in radians. Turn it into degrees."),
               Slip("other board", swapped, "That is the tail board's error. On the pin board its own lean b is "
                                            "squared, and a is doubled."),
               Slip("quarter", 4 * answer, "You left out the quarter."),
               Slip("not doubled", answer * math.sin(math.radians(tail)) / twice, "You took the sine of a. It is the "
                                                                                  "sine of twice a.")),
        hints=(f"A quarter of b squared, times the sine of twice a, in radians. b = {pin}° is {math.radians(pin):.4f}.",
               f"{math.radians(pin):.4f}² / 4 · sin {2 * tail}° = {math.radians(answer):.5f}. Times 180/π that is in "
               "degrees."),
        look="Look at the formula under “Small leans”.")


def _thumb(tail, pin):
    """The first term of the pin board's one-gauge error, degrees."""
    return float(compute("small_lean_pin_error", tail_lean=tail, pin_lean=pin))


# 06 Check a trial corner


def _which_will_be_off(draw):
    asked = Corner(draw.degrees("tail_lean", 12, 26), draw.degrees("pin_lean", 12, 26))
    board, off = draw.pick("board", BOARDS), draw.signed("off", 1, 3)
    lines = {each: asked.end_line(each) + (off if each == board else 0) for each in BOARDS}
    stands = TrialCorner(lines["tail"], lines["pin"], intended=asked)
    departures = {each: stands.departures[each] for each in BOARDS}
    most = max(BOARDS, key=lambda each: abs(departures[each]))
    words = {(each, way): f"the {each} board, and it leans too {way}" for each in BOARDS for way in ("far", "little")}
    answer = words[most, "far" if departures[most] > 0 else "little"]
    itself = f"Each line tells of the lean of the other board, and it is the {board} board's line that is out. "
    turned = "The right board, but the other way: lines that slant more make boards that lean more. "
    wrong = [itself + "And look which way as well.", itself + "The way is right."]
    remarks = {text: turned + f"This one slants too {'much' if off > 0 else 'little'}." if each == most
               else wrong[(way == "far") == (off > 0)] for (each, way), text in words.items()}
    return choices(
        draw, answer, remarks,
        f"{answer}: {degrees(departures[most], 2)} off, and the {other(most)} board only "
        f"{degrees(departures[other(most)], 2)}",
        text=f"A trial corner is to lean out {asked.tail_lean:g}° (tail board) and {asked.pin_lean:g}° (pin board). "
             f"Its pencil lines are read: the {other(board)} board's is right, the {board} board's is "
             f"{abs(off)}° too {'steep' if off > 0 else 'shallow'}. Which board will be further from the lean that "
             "was asked for, and which way?",
        label="Further off",
        hints=(f"The {board} board's line is out by {abs(off)}°. Each line tells of the lean of the other board.",
               f"Read back, the tail board would stand {degrees(departures['tail'], 2)} from the {asked.tail_lean:g}° "
               f"asked, the pin board {degrees(departures['pin'], 2)} from its {asked.pin_lean:g}°."))


def _read_back(draw):
    board = draw.pick("board", BOARDS)
    lines = {"tail": draw.degrees("tail_reads", 12, 34), "pin": draw.degrees("pin_reads", 12, 34)}
    corner, others = Corner.from_end_lines(lines["tail"], lines["pin"]), other(board)
    answer = corner.lean(board)
    return draw.asked(
        text=f"In the first panel type {lines['tail']} for Tail reads and {lines['pin']} for Pin reads. At which lean "
             f"will the {board} board stand?",
        label=f"Lean of the {board} board, degrees", unit="angle", answer=answer, tolerance=PRINTED_ANGLE,
        answer_text=f"the {board} board will stand at {degrees(answer, 2)}",
        slips=(Slip("other board", corner.lean(others), f"That is the lean of the {others} board. The sentence gives "
                                                        "both."),
               Slip("one gauge", lines[others], f"That is the {others} board's end line as it was read. A line is "
                                                "less than the lean it belongs to, when both boards lean."),
               Slip("own line", lines[board], f"That is the {board} board's own end line, which tells of the other "
                                              "board's lean."),
               Slip("from level", 90 - answer, "That is the slope from level. A lean is counted from plumb.")),
        hints=(f"The {board} board's lean is told by the {others} board's line, {lines[others]}°, and is a little more.",
               f"The sentence under the picture says where the {board} board will stand when the lines read "
               f"{lines['tail']}° and {lines['pin']}°."),
        look=f"Read what the sentence under the first panel's picture says of the {board} board.")


def _light_under_the_edge(draw):
    board = draw.pick("board", BOARDS)
    corner = Corner(draw.degrees("tail_lean", 14, 38), draw.degrees("pin_lean", 14, 38))
    thick = draw.length("thickness", 12, 30)
    others, lean = other(board), math.radians(corner.lean(board))
    answer = corner.rocking_gap(thick, board)
    return draw.asked(
        text=f"The tail board leans out {corner.tail_lean:g}°, the pin board {corner.pin_lean:g}°, and both are "
             f"{draw.say(thick)} thick. The {board} board's edges were left square to its face. How much light do you "
             "see under the inner arris of its bottom edge?",
        label="Light under the arris", unit="length", answer=answer, tolerance=4 * PRINTED_GAP,
        answer_text=fine(answer, draw.unit),
        slips=(Slip("other board", corner.rocking_gap(thick, others), f"That is what the {others} board would show. "
                                                                      "The lean that counts is the board's own."),
               Slip("tangent", thick * math.tan(lean), "You took the tangent. The thickness is the long side of the "
                                                       "triangle, so it is the sine."),
               Slip("cosine", thick * math.cos(lean), "You took the cosine: that is how far the inner arris lies "
                                                      "behind the outer one, level, and not how high.")),
        hints=("The thickness stands square to the leaning face, so it climbs from one arris to the other: thickness "
               f"× sine of the lean, {draw.say(thick)} and {corner.lean(board):g}°.",
               f"The sine of {corner.lean(board):g}° is {math.sin(lean):.4f}. Times {draw.say(thick)}."),
        look="Look at the first line of the table under “When it gapes or rocks”.")


def _rise_and_run(draw):
    way = draw.pick("way", ("out", "in"))
    rise = draw.length("rise", 90, 150, 10, 0.5)
    run = draw.length("run", 18, 60)
    answer = lean_from_rise_and_run(rise, run if way == "out" else -run).value
    alone = run / (1 if draw.unit == "mm" else 25.4)
    sine = math.degrees(math.asin(run / rise))
    return draw.asked(
        text=f"A square stands on the bench against a board. Over a rise of {draw.say(rise)} up its blade, the face "
             f"has run {way} by {draw.say(run)}. What is the board's lean? Give its sign as well.",
        label="Lean, degrees", unit="angle", answer=answer, tolerance=GAUGE_TOLERANCE,
        answer_text=f"the lean is {degrees(answer)}, {way}",
        slips=(Slip("from level", math.copysign(90 - abs(answer), answer), "That is the slope read from level: rise "
                                                                           "and run changed places. A lean is counted "
                                                                           "from plumb."),
               Slip("sign", -answer, f"The size is right, the sign isn't: the face runs {way}, and "
                                     f"{'out is positive' if way == 'out' else 'in is negative'}."),
               Slip("run", math.copysign(alone, answer), "That is the run. The lean is the angle whose tangent is run "
                                                         "over rise."),
               Slip("sine", math.copysign(sine, answer), "You took run over rise for the sine. Rise and run are square "
                                                         "to each other, so it is the tangent; the sine is run over "
                                                         "the length up the face.")),
        hints=(f"Run over rise is the tangent of the lean: {draw.say(run)} over {draw.say(rise)}.",
               f"That is {run / rise:.4f}. Take the arctangent; {way} is {'positive' if way == 'out' else 'negative'}."),
        look="Look at reading 1 under the first picture.")


def _what_was_cut_wrong(draw):
    corner = Corner(draw.degrees("tail_lean", 14, 28), draw.degrees("pin_lean", 14, 28))
    thick = draw.length("thickness", 15, 25)
    fault = draw.pick("fault", ("edge", "slip", "bevel", "line", "another corner"))
    height = 120.0
    closed = OneGauge(corner).closed_lean("tail")
    seen = {
        "edge": "light under one arris of the tail board's bottom edge, "
                f"{fine(corner.rocking_gap(thick), draw.unit)}, the same all along",
        "slip": f"light right through under the tail board, {fine(foot_gap(corner, 2.0), draw.unit)}, and it rocks",
        "bevel": f"a gap in the tail board's end, {fine(abs(end_gap(corner, thick)), draw.unit)} at the inner arris, "
                 "the same all the way up",
        "line": "a gap that narrows along the corner line, "
                f"{fine(end_line_gap(corner, height, corner.tail_end_line + 0.5), draw.unit)} at its wide end",
        "another corner": f"no light anywhere, and the plan angle is right, but the tail board leans {degrees(closed)}",
    }
    cause = {"edge": "the edge was not ripped to the lean", "slip": "one board was fixed too far up the corner line",
             "bevel": "the end was not sawn to its end bevel", "line": "one end line was cut wrong",
             "another corner": "both lines agree, and belong to another corner"}
    shows = {"edge": "An edge that wasn't ripped to the lean shows light under one of its arrises, the same all along.",
             "slip": "A board fixed too far up the corner line shows light right through under it, and the corner "
                     "rocks.",
             "bevel": "An end that wasn't sawn to its end bevel gapes at one arris, the same all the way up.",
             "line": "One wrong end line gapes along the corner line, and the gap narrows to nothing.",
             "another corner": "Lines that agree but belong to another corner close without a gap; the leans tell."}
    return choices(
        draw, cause[fault], {cause[each]: f"{shows[each]} That isn't what is seen "
                                          "here." for each in cause}, cause[fault],
        text=f"A trial corner was to lean out {corner.tail_lean:g}° (tail board) and {corner.pin_lean:g}° (pin board), "
             f"in wood {draw.say(thick)} thick. You see {seen[fault]}. By the table, what was done wrong?",
        label="What was done wrong",
        hints=("Go down the table in its order, and ask whether there is light, where, and whether it narrows. "
               f"A lean that isn't {corner.tail_lean:g}° or {corner.pin_lean:g}° comes last.",
               f"You see {seen[fault].split(',')[0]}. {shows[fault]}"))


EXERCISES = (
    Exercise("11-1", "predict", _more_or_less_than_square),
    Exercise("11-2", "work out", _end_line_by_formula),
    Exercise("11-3", "work out", _dihedral_by_formula),
    Exercise("11-4", "read off", _read_corner_rise),
    Exercise("11-5", "work out", _rule_of_thumb),
    Exercise("06-1", "predict", _which_will_be_off),
    Exercise("06-2", "read off", _read_back),
    Exercise("06-3", "work out", _light_under_the_edge),
    Exercise("06-4", "work out", _rise_and_run),
    Exercise("06-5", "read off", _what_was_cut_wrong),
)
