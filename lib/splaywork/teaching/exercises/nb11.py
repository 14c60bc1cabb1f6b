"""Exercises of notebook 11: the formulas put to use."""

import math

from ...common.boards import BOARDS, other
from ...common.printing import degrees
from ...corner.corner import Corner
from ...formulas.forms import compute
from ...one_gauge.one_gauge import OneGauge
from .core import BEVEL_TOLERANCE, PRINTED_ANGLE, WORKED_ANGLE, Exercise, Slip, bevel_answer, choices, edge_or_square, leaning
from .slips import (
    COSINES,
    DEGREES_SQUARED,
    DIHEDRAL,
    END_BEVEL,
    FROM_LEVEL,
    NOT_DOUBLED,
    OTHER_BOARD,
    PIN_END_LINE,
    QUARTER,
    RADIANS,
    SHORTCUT,
    SIGN,
    TAIL_END_LINE,
    WRONG_COSINE,
)


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
               exactly: f"The faces meet square only when a board is upright. {reason}",
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
        text=f"The plan is square. The tail board leans out {corner.tail_lean:g}°, the pin board {corner.pin_lean:g}°. "
             f"Work out the {board} board's end line from its formula.",
        label=f"{board.capitalize()} board's end line", unit="bevel", answer=line, tolerance=BEVEL_TOLERANCE,
        answer_text=bevel_answer(draw, line),
        slips=(edge_or_square(line),
               Slip(SHORTCUT, lean, f"You gave the {others} board's lean: the formula without its cosine, which is what the "
                                    "shortcut strikes."),
               Slip(OTHER_BOARD, corner.end_line(others), f"You gave the {others} board's end line. Take the tangent of the "
                                                          "other board's lean, and the cosine of the board's own."),
               Slip(WRONG_COSINE, wrong_cosine, "You took tangent and cosine of one and the same lean. The cosine belongs to "
                                                f"the {board} board's own lean.")),
        hints=("The tangent of the end line is the tangent of the other board's lean, times the cosine of its own: "
               f"tan {lean:g}° · cos {own:g}°.",
               f"{math.tan(math.radians(lean)):.4f} · {math.cos(math.radians(own)):.4f} = "
               f"{math.tan(math.radians(line)):.4f}. Take the arctangent, with the calculator set to degrees."),
        look="Read the formula aloud, and put the numbers in as you go.")


def _dihedral_by_formula(draw):
    corner = Corner(draw.signed("tail_lean", 15, 42), draw.signed("pin_lean", 15, 42))
    answer, bevel = corner.dihedral, corner.end_bevel
    cosines = math.degrees(math.asin(math.cos(math.radians(corner.tail_lean)) * math.cos(math.radians(corner.pin_lean))))
    sines = [math.sin(math.radians(lean)) for lean in (corner.tail_lean, corner.pin_lean)]
    written = f"{sines[0]:.4f} · {sines[1]:.4f} = {sines[0] * sines[1]:.4f}".replace("-", "−")
    return draw.asked(
        text=f"The plan is square. The tail board {leaning(corner.tail_lean)}, the pin board "
             f"{leaning(corner.pin_lean)}. Work out the dihedral.",
        label="Dihedral, degrees", unit="angle", answer=answer, tolerance=BEVEL_TOLERANCE,
        answer_text=f"the dihedral is {degrees(answer)}",
        slips=(Slip(END_BEVEL, bevel, "You gave the end bevel. The dihedral is 90° and the end bevel together."),
               Slip(SIGN, 90 - bevel, "The end bevel is right in size, but it goes the other way: mind the signs of the two "
                                      "leans."),
               Slip(COSINES, 90 + cosines, "You multiplied the cosines. At a plan angle of 90° only the product of the sines "
                                           "is left.")),
        hints=("The sine of the end bevel is sin a sin b, and a lean inward counts as negative. Here a is "
               f"{abs(corner.tail_lean):g}° and b is {abs(corner.pin_lean):g}°, each with its sign.",
               f"{written}. Take the arcsine and add 90°."),
        look="Look at the formula for the dihedral.")


def _read_corner_rise(draw):
    corner = Corner(draw.degrees("tail_lean", 12, 40), draw.degrees("pin_lean", 12, 40))
    answer = corner.corner_rise
    return draw.asked(
        text=f"Under “In numbers” put {corner.tail_lean:g} and {corner.pin_lean:g} for the leans in Corner(…), and "
             "run that cell and the next. What is the angle between the corner line and the bench?",
        label="Corner line and bench, degrees", unit="angle", answer=answer, tolerance=PRINTED_ANGLE,
        answer_text=f"the corner line rises at {degrees(answer)}",
        slips=(Slip(FROM_LEVEL, 90 - answer, "You gave the angle between the corner line and plumb. The bench is level: "
                                             "count from the "
                                             "bench."),
               Slip(DIHEDRAL, corner.dihedral, "You gave the dihedral, between the two faces."),
               Slip(TAIL_END_LINE, corner.tail_end_line, "You gave the tail board's end line: the corner line as seen on that "
                                                         "board, from square."),
               Slip(PIN_END_LINE, corner.pin_end_line, "You gave the pin board's end line: the corner line as seen on that "
                                                       "board, from square.")),
        hints=(f"For {corner.tail_lean:g}° and {corner.pin_lean:g}° the second cell prints several angles. You want the angle "
               "between the corner line and the bench.",
               "By the formula, the cotangent squared of this angle is tan² a + tan² b: "
               f"{math.tan(math.radians(corner.tail_lean)) ** 2:.4f} + "
               f"{math.tan(math.radians(corner.pin_lean)) ** 2:.4f}."),
        look="Look at the line of the corner line and the bench that the cell prints.")


def _rule_of_thumb(draw):
    tail, pin = draw.degrees("tail_lean", 12, 34), draw.degrees("pin_lean", 12, 34)
    answer, swapped = _thumb(tail, pin), _thumb(pin, tail)
    twice = math.sin(2 * math.radians(tail))
    return draw.asked(
        text=f"The plan is square. The tail board leans out {tail}°, the pin board {pin}°. By the rule of thumb of "
             "question 2, by how many degrees does the pin board's line slant too much when it is struck with the shortcut?",
        label="Slants too much by, degrees", unit="angle", answer=answer, tolerance=WORKED_ANGLE,
        answer_text=f"{degrees(answer, 2)} by the rule; exactly it is "
                    f"{degrees(OneGauge(Corner(tail, pin)).pin_error, 2)}",
        slips=(Slip(DEGREES_SQUARED, pin * pin / 4 * twice, "You squared degrees. The rule is in radians: turn b into radians "
                                                            "first, and the result back into degrees."),
               Slip(RADIANS, math.radians(answer), "You gave radians. Turn the result into degrees."),
               Slip(OTHER_BOARD, swapped, "You gave the tail board's error. On the pin board its own lean b is squared, and a "
                                          "is "
                                          "doubled."),
               Slip(QUARTER, 4 * answer, "You left out the quarter."),
               Slip(NOT_DOUBLED, answer * math.sin(math.radians(tail)) / twice, "You took the sine of a. Take the sine of "
                                                                                "twice "
                                                                                "a.")),
        hints=(f"Take a quarter of b squared, times the sine of twice a, in radians. b = {pin}° is {math.radians(pin):.4f}.",
               f"{math.radians(pin):.4f}² / 4 · sin {2 * tail}° = {math.radians(answer):.5f}. Times 180/π that is in "
               "degrees."),
        look="Look at the formula for small leans.")


def _thumb(tail, pin):
    """The shortcut's error on the pin board by the rule of thumb, degrees."""
    return float(compute("small_lean_pin_error", tail_lean=tail, pin_lean=pin))


EXERCISES = (
    Exercise("11-1", "predict", _more_or_less_than_square),
    Exercise("11-2", "work out", _end_line_by_formula),
    Exercise("11-3", "work out", _dihedral_by_formula),
    Exercise("11-4", "read off", _read_corner_rise),
    Exercise("11-5", "work out", _rule_of_thumb),
)
