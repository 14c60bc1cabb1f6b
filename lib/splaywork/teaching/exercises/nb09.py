"""Exercises of notebook 09: the joint laid out."""

from ...common.boards import BOARDS
from ...common.printing import degrees, fine, from_edge
from ...corner.corner import Corner
from ...joint.joint import Joint
from ...one_gauge.one_gauge import OneGauge
from .core import BEVEL_TOLERANCE, LENGTH_TOLERANCE, Exercise, Slip, bevel_answer, choices, counts, edge_or_square, leaning
from .slips import (
    AS_SEEN,
    EDGES_LEFT_OUT,
    HEIGHT,
    NOT_SHARED,
    ONE_SPACE,
    OTHER_BOARD,
    OTHER_SETTING,
    SHORTCUT,
    TAIL_SLOPE,
    WRONG_RATIO,
)


def _drawn_joint(corner):
    """The joint of the page's panel on another corner."""
    return Joint(corner, height=120, tail_thickness=18, tails=3)


def _how_many_settings(draw):
    kind = draw.pick("kind", ("plain", "tail", "pin", "alike", "both", "opposite"))
    lean, another = draw.degrees("lean", 12, 24), draw.degrees("another_lean", 6, 28)
    if kind not in ("plain", "alike") and abs(lean - another) < 3:
        return None
    tail, pin = {"plain": (0, 0), "tail": (lean, 0), "pin": (0, lean), "alike": (lean, lean), "both": (lean, another),
                 "opposite": (lean, -another)}[kind]
    draw.numbers |= {"lean": tail, "another_lean": pin}
    answer = len(_drawn_joint(Corner(tail, pin)).bevel_settings)
    reason = {"plain": "Nothing leans, so every line is square but the tails' own cheeks.",
              "tail": "The tail board's end line is square; the pin board's slants, and the tails' cheeks slope.",
              "pin": "The pin board's end line is square; the tail board's slants, and the tails' cheeks slope.",
              "alike": "Boards that lean equally have one and the same end line, and the tails' cheeks slope."}
    reason = reason.get(kind, "Each board has an end line of its own, and the tails' cheeks slope.")
    slips = {0: "No setting at all would do only for boards without tails. ",
             1: "One setting serves only where every end line is square. ",
             2: "Two settings serve where one end line is square or both are equal. ",
             3: "Three settings are needed only where the two end lines differ and neither is square. ",
             4: "The cheeks on the tail board's end and on the pin board's faces take the pin board's end line: don't "
                "count them again. "}
    return draw.asked(
        text=f"Flush ends, level rims, a square plan. The tail board {leaning(tail)}, the pin board {leaning(pin)}. "
             "How many settings of the bevel does the whole joint need, the tails' slope counted as one?",
        label="Settings", unit="count", answer=answer, answer_text=f"{answer}. {reason.rstrip('.')}",
        slips=counts(answer, {count: remark + reason for count, remark in slips.items()}),
        hints=(f"Count what isn't square. The tail board {leaning(tail)}, so what happens to the pin board's end "
               f"line? The pin board {leaning(pin)}, so what happens to the tail board's? And the tails slope.",
               f"End lines: tail board {_or_square(Corner(tail, pin).tail_end_line)}, pin board "
               f"{_or_square(Corner(tail, pin).pin_end_line)}. The level cheeks take the pin board's setting again."),
        look="Set the panel to these leans, and count the letters in the sentence.")


def _or_square(angle):
    return "square" if abs(angle) < 0.005 else degrees(abs(angle))


def _read_setting(draw):
    corner = Corner(draw.degrees("tail_lean", 16, 34), draw.degrees("pin_lean", 16, 34))
    letter = draw.pick("letter", ("A", "B"))
    lines = [abs(corner.tail_end_line), abs(corner.pin_end_line)]
    if abs(lines[0] - lines[1]) < 1:
        return None
    settings = [setting.from_square for setting in _drawn_joint(corner).bevel_settings]
    number = "AB".index(letter)
    answer, another = settings[number], settings[1 - number]
    board = "tail" if abs(answer - lines[0]) < abs(answer - lines[1]) else "pin"
    return draw.asked(
        text=f"In the panel set Tail lean to {corner.tail_lean:g} and Pin lean to {corner.pin_lean:g}; leave flush "
             f"ends and level rims. What is setting {letter}, from square?",
        label=f"Setting {letter}", unit="bevel", answer=answer, tolerance=BEVEL_TOLERANCE,
        answer_text=f"{bevel_answer(draw, answer)}; it is the {board} board's end line",
        slips=(edge_or_square(answer),
               Slip(OTHER_SETTING, another, f"You gave setting {'BA'[number]}. A is the nearest to square, and each letter has "
                                            "its own lines."),
               Slip(SHORTCUT, OneGauge(corner).struck(board), "You gave the lean of a board. Both boards lean, so no end line "
                                                              "slants quite as much as a lean."),
               Slip(TAIL_SLOPE, settings[2], "You gave setting C, the slope of the tails.")),
        hints=(f"The settings are lettered from the nearest to square on. With leans of {corner.tail_lean:g}° and "
               f"{corner.pin_lean:g}°, A and B are the two end lines.",
               f"The sentence gives setting {letter} as {from_edge(answer)}. From square is 90° less that."),
        look=f"Read what stands after {letter} under the picture. Is that angle counted from the edge or from square?")


def _looks_as(draw):
    corner = Corner(draw.degrees("tail_lean", 16, 38), draw.degrees("pin_lean", 10, 38))
    seen = draw.length("seen", 24, 48)
    base = 100.0 if draw.unit == "mm" else 101.6
    looks = {board: base * base / corner.looks_as(base, board) for board in BOARDS}
    answer, factor = corner.looks_as(seen), base / looks["tail"]
    return draw.asked(
        text=f"The side (tail board) leans out {corner.tail_lean:g}°. Seen from straight in front, a width of "
             f"{draw.say(base)} up its face looks like {fine(looks['tail'], draw.unit)}. The front (pin board) leans out "
             f"{corner.pin_lean:g}°, and there the same width looks like {fine(looks['pin'], draw.unit)}. Every tail should "
             "look "
             f"{draw.say(seen)} wide. How wide do you mark a tail up the face?",
        label="Slant width of a tail", unit="length", answer=answer, tolerance=LENGTH_TOLERANCE,
        answer_text=f"{draw.size(answer)} up the face",
        slips=(Slip(AS_SEEN, seen, "A tail marked so wide looks narrower than you want, because a leaning face is "
                                   "foreshortened."),
               Slip(WRONG_RATIO, seen / factor, "You marked the tail narrower than it should look. A leaning face looks "
                                                "narrower "
                                                "than it is, so mark the tail wider: turn the ratio over."),
               Slip(OTHER_BOARD, corner.looks_as(seen, "pin"), "You took the front's lean. The tails stand on the side.")),
        hints=(f"On a face that leans {corner.tail_lean:g}°, you see {fine(looks['tail'], draw.unit)} of every "
               f"{draw.say(base)}: mark the tail wider by {factor:.4f}.",
               f"Multiply {draw.say(seen)} by {factor:.4f}."),
        look="Let the panel make all tails look equally wide, and compare with the cell under the questions.")


def _tail_width(draw):
    lean = draw.degrees("tail_lean", 14, 34)
    height, pin = draw.length("height", 110, 160, 5, 0.5), draw.length("pin", 6, 10)
    tails = draw.pick("tails", (2, 3, 4))
    corner = Corner(lean, 10)
    wide = corner.slant_width(height)
    lower, upper = Joint(corner, height, tail_thickness=18, tails=tails, pin_width=pin, half_pin=pin).marks[0]
    spaces = tails + 1
    between = "with a pin" if tails == 2 else f"with {tails - 1} pins"
    return draw.asked(
        text=f"A side that leans out {lean}° for a box {draw.say(height)} high is {fine(wide, draw.unit)} wide up its "
             f"face. Along the end line you want {tails} tails of one width, {between} of {draw.say(pin)} between "
             f"them, {draw.say(pin)} more above the top tail and {draw.say(pin)} below the bottom tail. All widths are "
             "measured straight up the face. How wide is a tail?",
        label="Width of a tail", unit="length", answer=upper - lower, tolerance=LENGTH_TOLERANCE,
        answer_text=f"{draw.size(upper - lower)}",
        slips=(Slip(EDGES_LEFT_OUT, (wide - (tails - 1) * pin) / tails, "You left out the spaces above the top tail and below "
                                                                        "the bottom tail."),
               Slip(ONE_SPACE, (wide - tails * pin) / tails, "You left one space out. There is one space more than there are "
                                                             "tails."),
               Slip(HEIGHT, (height - spaces * pin) / tails, "You shared out the height of the box. The tails stand on the "
                                                             "leaning face, which is wider."),
               Slip(NOT_SHARED, wide - spaces * pin, "You gave the width of all tails together. Share the width out.")),
        hints=(f"{tails} tails have {spaces} spaces of {draw.say(pin)} beside and between them. Take the spaces off the "
               f"slant width, {fine(wide, draw.unit)}.",
               f"What is left, {fine(wide - spaces * pin, draw.unit)}, is shared by {tails} tails."),
        look="Draw the end line, and mark every space before you share out the rest.")


def _across_the_end(draw):
    tail = draw.pick("tail_lean", [*[0] * 10, *range(-30, -9), *range(10, 31)])
    pin = draw.pick("pin_lean", [0, *range(-30, -9, 2), *range(10, 31, 2)])
    level = Corner(tail, pin).level_on_flush_end
    square, fall, climb = ("they are square to the arris", "they fall towards the inside", "they climb towards the "
                                                                                           "inside")
    answer = square if abs(level) < 1e-9 else fall if level > 0 else climb
    reason = {square: "The tail board stands upright, and its arris with it: a line square to it is level.",
              fall: "The tail board leans out, so a line square to its arris climbs towards the inside. A level line "
                    "falls away from that.",
              climb: "The tail board leans in, so a line square to its arris falls towards the inside. A level line "
                     "climbs away from that."}[answer]
    remarks = {square: f"A square held to this arris wouldn't be level. {reason}",
               fall: f"Picture the board standing at its lean, and look along its end. {reason}",
               climb: f"Look at the end with the board at its lean, and hold a square to the arris. {reason}"}
    return choices(
        draw, answer, remarks, answer,
        text=f"The tail board {leaning(tail)}, the pin board {leaning(pin)}. The tail board's end is flush, and you "
             "carry a level line across it from the outer arris to the inner. How does it run, compared with a line "
             "square to the arris?",
        label="Level lines on the end",
        hints=("The tail board's lean slants these lines, because its end leans with it. The tail board "
               f"{leaning(tail)}. The pin board {leaning(pin)}, and its lean doesn't reverse the slant.",
               f"On this corner a level line is {_or_square(level)} on that end, counted from square. {reason}"))


EXERCISES = (
    Exercise("09-1", "predict", _how_many_settings),
    Exercise("09-2", "read off", _read_setting),
    Exercise("09-3", "work out", _looks_as),
    Exercise("09-4", "work out", _tail_width),
    Exercise("09-5", "predict", _across_the_end),
)
