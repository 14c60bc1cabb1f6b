"""Exercises of notebooks 09 and 09: the joint laid out, and the whole box."""

import math

from ...box.box import Box
from ...box.cut_list import cut_list
from ...box.fittings import bottom_panel, offcuts_for_tests
from ...box.opening import Clearances
from ...common.boards import BOARDS
from ...common.printing import degrees, fine, from_edge
from ...corner.corner import Corner
from ...joint.joint import Joint
from ...one_gauge.one_gauge import OneGauge
from .core import (
    GAUGE_TOLERANCE,
    LENGTH_TOLERANCE,
    PRINTED_GAP,
    Exercise,
    Slip,
    choices,
    complement,
    counts,
    gauge_answer,
    leaning,
    set_to,
    way_of,
    wrong_sign,
)

# 09 Lay out the joint


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
    answer = len(_drawn_joint(Corner(tail, pin)).gauge_settings)
    reason = {"plain": "Nothing leans, so every line is square but the tails' own cheeks.",
              "tail": "The tail board's end line is square; the pin board's slants, and the tails' cheeks slope.",
              "pin": "The pin board's end line is square; the tail board's slants, and the tails' cheeks slope.",
              "alike": "Boards that lean alike have one and the same end line, and the tails' cheeks slope."}
    reason = reason.get(kind, "Each board has an end line of its own, and the tails' cheeks slope.")
    slips = {0: "No setting at all would do only for boards without tails. ",
             1: "One setting serves only where every end line is square. ",
             2: "Two settings serve where one end line is square or both are alike. ",
             3: "Three settings are needed only where the two end lines differ and neither is square. ",
             4: "The cheeks on the tail board's end and on the pin board's faces take the pin board's end line: don't "
                "count them again. "}
    return draw.asked(
        text=f"Flush ends, level rims, a square plan. The tail board {leaning(tail)}, the pin board {leaning(pin)}. "
             "How many settings of the bevel gauge does the whole joint need, the tails' slope counted as one?",
        label="Settings", unit="count", answer=answer, answer_text=f"{answer}. {reason.rstrip('.')}",
        slips=counts(answer, {count: remark + reason for count, remark in slips.items()}),
        hints=(f"Count what isn't square. The tail board {leaning(tail)}, so what becomes of the pin board's end "
               f"line? The pin board {leaning(pin)}, so what becomes of the tail board's? And the tails slope.",
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
    settings = [setting.from_square for setting in _drawn_joint(corner).gauge_settings]
    number = "AB".index(letter)
    answer, another = settings[number], settings[1 - number]
    board = "tail" if abs(answer - lines[0]) < abs(answer - lines[1]) else "pin"
    return draw.asked(
        text=f"In the panel set Tail lean to {corner.tail_lean:g} and Pin lean to {corner.pin_lean:g}; leave flush "
             f"ends and level rims. What is setting {letter}, from square?",
        label=f"Setting {letter}", unit="gauge", answer=answer, tolerance=GAUGE_TOLERANCE,
        answer_text=f"{gauge_answer(draw, answer)}; it is the {board} board's end line",
        slips=(complement(answer),
               Slip("other setting", another, f"That is setting {'BA'[number]}. A is the squarest, and each letter "
                                              "has its own lines."),
               Slip("one gauge", OneGauge(corner).struck(board), "That is the lean of a board. Both lean, so no end "
                                                                 "line is quite as steep as that."),
               Slip("tail slope", settings[2], "That is setting C, the slope of the tails.")),
        hints=(f"The settings are lettered from the squarest on. With leans of {corner.tail_lean:g}° and "
               f"{corner.pin_lean:g}°, A and B are the two end lines.",
               f"The sentence gives setting {letter} as {from_edge(answer)}. From square is 90° less that."),
        look=f"Read what the sentence says after “{letter},”, and mind that it counts from the edge.")


def _looks_as(draw):
    corner = Corner(draw.degrees("tail_lean", 16, 38), draw.degrees("pin_lean", 10, 38))
    seen = draw.length("seen", 24, 48)
    base = 100.0 if draw.unit == "mm" else 101.6
    looks = {board: base * base / corner.looks_as(base, board) for board in BOARDS}
    answer, factor = corner.looks_as(seen), base / looks["tail"]
    return draw.asked(
        text=f"The side (tail board) leans out {corner.tail_lean:g}°, so that from straight in front {draw.say(base)} "
             f"up its face looks {fine(looks['tail'], draw.unit)} wide. The front (pin board) leans out "
             f"{corner.pin_lean:g}°, and there it looks {fine(looks['pin'], draw.unit)}. Every tail should look "
             f"{draw.say(seen)} wide. How wide do you mark it up the face?",
        label="Width up the face", unit="length", answer=answer, tolerance=LENGTH_TOLERANCE,
        answer_text=f"{draw.size(answer)} up the face",
        slips=(Slip("as seen", seen, "So wide it would look narrower than you want, for the leaning face is "
                                     "foreshortened."),
               Slip("narrower", seen / factor, "You made it narrower than it is to look. A leaning face looks "
                                               "narrower than it is, so it has to be marked wider: turn the ratio "
                                               "over."),
               Slip("other board", corner.looks_as(seen, "pin"), "That is with the front's lean. The tails stand on "
                                                                 "the side.")),
        hints=(f"On a face that leans {corner.tail_lean:g}°, {fine(looks['tail'], draw.unit)} is seen of every "
               f"{draw.say(base)}: mark it wider by {factor:.4f}.",
               f"That is {draw.say(seen)} times {factor:.4f}."),
        look="Tick “tails all look this wide” in the panel, set Looks as, and compare with the cell under the "
             "questions.")


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
             f"them, {draw.say(pin)} more above the top tail and {draw.say(pin)} below the bottom one. All is measured "
             "straight up the face. How wide is a tail?",
        label="Width of a tail", unit="length", answer=upper - lower, tolerance=LENGTH_TOLERANCE,
        answer_text=f"{draw.size(upper - lower)}",
        slips=(Slip("edges left out", (wide - (tails - 1) * pin) / tails, "You left out what stands above the top "
                                                                          "tail and below the bottom one."),
               Slip("one edge", (wide - tails * pin) / tails, "You left one space out. There is one more of them than "
                                                              "there are tails."),
               Slip("height", (height - spaces * pin) / tails, "You shared out the height of the box. The tails stand "
                                                               "on the leaning face, which is wider."),
               Slip("not shared", wide - spaces * pin, "That is all the tails together. Share it out.")),
        hints=(f"{tails} tails have {spaces} spaces of {draw.say(pin)} beside and between them. Take those off the "
               f"width up the face, {fine(wide, draw.unit)}.",
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
               fall: f"Stand the board up in your mind and look along its end. {reason}",
               climb: f"Look at the end with the board at its lean, and hold a square to the arris. {reason}"}
    return choices(
        draw, answer, remarks, answer,
        text=f"The tail board {leaning(tail)}, the pin board {leaning(pin)}. The tail board's end is flush, and you "
             "carry a level line across it from the outer arris to the inner. Against a line square to the arris, how "
             "does it run?",
        label="Level lines on the end",
        hints=("It is the tail board's lean that slants these lines, for its end leans with it. The tail board "
               f"{leaning(tail)}; that the pin board {leaning(pin)} doesn't turn them about.",
               f"On this corner a level line is {_or_square(level)} on that end, counted from square. {reason}"))


# 10 The whole box


def _trial_corners(draw):
    like_sides, like_ends = draw.pick("like_sides", (True, False)), draw.pick("like_ends", (True, False))
    leans = {"left": draw.degrees("left_lean", 6, 20), "right": draw.degrees("right_lean", 6, 20),
             "front": draw.degrees("front_lean", 6, 20), "back": draw.degrees("back_lean", 6, 20)}
    if len(set(leans.values())) < 4:
        return None
    if like_sides:
        leans["right"] = leans["left"]
    if like_ends:
        leans["back"] = leans["front"]
    box = _box(draw, leans)
    answer = len(offcuts_for_tests(box)) // 2
    reason = {1: "All four corners have the same two leans; two of them are the mirror images of the others.",
              2: "The corners are alike in pairs, and one of each pair is the other's mirror image.",
              4: "No two corners have the same two leans."}[answer]
    slips = {1: "One trial corner stands for all only when the sides lean alike and front and back lean alike. ",
             2: "Two will do when only one of the pairs, sides or front and back, leans alike. ",
             3: "Corners come alike in pairs or not at all here. ",
             4: "Mirror images have the same angles, so that one trial corner stands for both. "}
    if answer == 4:
        slips[2] = "Two would leave corners untried. "
    return draw.asked(
        text=f"A drawer's sides carry the tails. The left side leans out {leans['left']}°, the right "
             f"{leans['right']}°, the front {leans['front']}°, the back {leans['back']}°. A trial corner also stands "
             "for its mirror image. How many different trial corners do you need?",
        label="Trial corners", unit="count", answer=answer, answer_text=f"{answer}. {reason.rstrip('.')}",
        slips=counts(answer, {count: remark + reason for count, remark in slips.items()}),
        hints=("Write the two leans at each corner, side first: front left is "
               f"{leans['left']}° and {leans['front']}°. Do the same for the other three.",
               f"Front right {leans['right']}° and {leans['front']}°, back right {leans['right']}° and "
               f"{leans['back']}°, back left {leans['left']}° and {leans['back']}°. Corners with the same pair need "
               "one trial corner between them."),
        look="Write down the two leans at each of the four corners, and count the different pairs.")


def _box(draw, leans, height=None, **settings):
    """A drawer of those leans; the numbers that a question names are noted as drawn."""
    draw.numbers |= {f"{name}_lean": lean for name, lean in leans.items()}
    sizes = (320.0, 400.0, 120.0 if height is None else height)
    return Box(*sizes, **{f"{name}_lean": lean for name, lean in leans.items()}, **settings)


def _which_hand(draw):
    like_sides, like_ends = draw.pick("like_sides", (True, True, False)), draw.pick("like_ends", (True, False))
    side, another = draw.degrees("left_lean", 6, 22), draw.degrees("right_lean", 6, 22)
    front, back = draw.degrees("front_lean", 6, 22), draw.pick("back_lean", (0, *range(6, 23)))
    if side == another or front == back:
        return None
    leans = {"left": side, "right": side if like_sides else another, "front": front,
             "back": front if like_ends else back}
    boards = {board.name: board for board in cut_list(_box(draw, leans)).boards}
    left, right = boards["left"], boards["right"]
    swap, mirror, differ = ("they can be swapped for one another", "they are mirror images and can't be swapped",
                            "they differ in more than their hand")
    answer = swap if left.equals(right) else mirror if left.mirrors(right) else differ
    reason = {swap: "The sides lean alike, and so do front and back: both ends of a side are alike, so it has no hand.",
              mirror: "The sides lean alike, but front and back don't: each side has one end for the front, and that "
                      "is the left end of one side and the right end of the other.",
              differ: "The sides lean differently, so their edges and their widths differ, and no turning "
                      "helps."}[answer]
    remarks = {swap: f"Boards can be swapped only if end for end they are alike. {reason}",
               mirror: f"Mirror images that can't be swapped have the same lean, but unlike ends. {reason}",
               differ: f"Beyond their hand boards differ only if the leans do. {reason}"}
    return choices(
        draw, answer, remarks, answer,
        text=f"A drawer's left side leans out {leans['left']}°, its right side {leans['right']}°. The front "
             f"{leaning(leans['front'])}, the back {leaning(leans['back'])}. Outer face out, bottom edge down: what "
             "can you say of the two sides?",
        label="The two sides",
        hints=(f"Compare the leans of the sides, {leans['left']}° and {leans['right']}°, and then the two ends of one "
               "side: one meets the front, the other the back.",
               f"The front {leaning(leans['front'])} and the back {leaning(leans['back'])}. {reason}"))


def _length_at_the_top(draw):
    left, right = draw.signed("left_lean", 8, 32), draw.signed("right_lean", 8, 32)
    width, height = draw.length("width", 280, 420, 10, 0.5), draw.length("height", 90, 150, 5, 0.5)
    box = Box(width, 400.0, height, left_lean=left, right_lean=right)
    answer = box.outer_length("front", height)
    runs = {name: height * math.tan(math.radians(lean)) for name, lean in (("left", left), ("right", right))}
    slant = box.slant_width("left")
    return draw.asked(
        text=f"A drawer is {draw.say(width)} wide outside at the bottom and {draw.say(height)} high. Its left side "
             f"{leaning(left)}, its right side {leaning(right)}. How long is the front's outer face along its top edge?",
        label="Front, outer length at the top", unit="length", answer=answer, tolerance=LENGTH_TOLERANCE,
        answer_text=draw.size(answer),
        slips=(Slip("one end", width + runs["left"], "That is with the left end alone. The right end slants too."),
               Slip("the other end", width + runs["right"], "That is with the right end alone. The left end slants "
                                                            "too."),
               Slip("sign", 2 * width - answer, "You went the wrong way: a side that leans out makes the front longer "
                                                "at the top, one that leans in makes it shorter."),
               Slip("slant width", width + slant * (math.tan(math.radians(left)) + math.tan(math.radians(right))),
                    "You took the width of the side up its face. What a side runs out is counted over the height of "
                    "the box."),
               Slip("no slant", width, "That is the length at the bottom.")),
        hints=("Each side that leans out adds height × tangent of its lean, each that leans in takes as much away. "
               f"Left: {draw.say(height)} and {abs(left)}°; right: {abs(right)}°.",
               f"That is {draw.size(abs(runs['left']))} {'more' if left > 0 else 'less'} at the left end and "
               f"{draw.size(abs(runs['right']))} {'more' if right > 0 else 'less'} at the right, from "
               f"{draw.say(width)}."),
        look="Draw the front from outside: bottom edge, height, and how far each end has gone by the top.")


def _drawer_for_opening(draw):
    left, right = draw.degrees("left_lean", 20, 36), draw.degrees("right_lean", 20, 36)
    floor_width = draw.length("floor_width", 280, 400, 10, 0.5)
    clearance, floor = draw.length("clearance", 8, 16), draw.length("floor", 3, 8)
    clear = Clearances(left=clearance, right=clearance, floor=floor)
    answer = Box.for_opening(floor_width, 300.0, 160.0, left_lean=left, right_lean=right, clearances=clear).box.width
    tangents = sum(math.tan(math.radians(lean)) for lean in (left, right))
    level = [clearance / math.cos(math.radians(lean)) for lean in (left, right)]
    shrunk = [clearance * math.cos(math.radians(lean)) for lean in (left, right)]
    lifted = floor * tangents
    return draw.asked(
        text=f"An opening is {draw.say(floor_width)} wide along its floor. Its left face leans out {left}°, its right "
             f"face {right}°. The drawer is to stand clear of both by {draw.say(clearance)}, measured square to the "
             f"face, and {draw.say(floor)} above the floor. How wide is the drawer outside, at its bottom?",
        label="Width of the drawer at the bottom", unit="length", answer=answer, tolerance=LENGTH_TOLERANCE,
        answer_text=draw.size(answer),
        slips=(Slip("level clearance", floor_width + lifted - 2 * clearance, "You took the clearance as it is. It is "
                                                                             "measured square to a leaning face, so "
                                                                             "level it takes more: divide by the "
                                                                             "cosine of the lean."),
               Slip("times the cosine", floor_width + lifted - sum(shrunk), "You took the clearance times the cosine of "
                                                                            "the lean. Level it takes more, not less: "
                                                                            "divide by the cosine."),
               Slip("on the floor", floor_width - sum(level), "That is the width at the floor. The drawer's bottom is "
                                                              "higher, and there the opening is wider."),
               Slip("one side", floor_width + lifted - level[0], "You left room at one side only."),
               Slip("no room", floor_width + lifted, "That is the opening at that height. Take the room at both sides "
                                                     "off.")),
        hints=(f"{draw.say(floor)} above the floor the opening has grown by {draw.say(floor)} × (tan {left}° + tan "
               f"{right}°) = {fine(lifted, draw.unit)}.",
               f"Level, the {draw.say(clearance)} take {fine(level[0], draw.unit)} at the left and "
               f"{fine(level[1], draw.unit)} at the right. Take both off {draw.say(floor_width)} and what it has "
               "grown."),
        look="Draw the opening from the front, and move each face in square to itself.")


def _read_corner_of_box(draw):
    at = draw.pick("side", ("left", "right"))
    leans = {name: draw.signed(f"{name}_lean", 18, 34) for name in ("front", "left", "right")}
    box = _box(draw, leans | {"back": 0})
    del draw.numbers["back_lean"]
    corner = box.corners[f"front {at}"].corner
    far = box.corners[f"front {'left' if at == 'right' else 'right'}"].corner
    line = corner.pin_end_line
    return draw.asked(
        text=f"A drawer's front {leaning(leans['front'])}, its left side {leaning(leans['left'])}, its right side "
             f"{leaning(leans['right'])}; the back stands upright, and the sides carry the tails. In the panel or the "
             f"cut list, find the end line of the front at its {at} end, from square. Give its sign as well.",
        label=f"Front, {at} end line", unit="gauge", answer=line, tolerance=GAUGE_TOLERANCE,
        answer_text=gauge_answer(draw, line, signed=True),
        slips=(complement(line), wrong_sign(line),
               Slip("one gauge", leans[at], f"That is the lean of the {at} side, which one gauge would strike. The "
                                            "front leans as well, so its end line is gentler."),
               Slip("other board", corner.tail_end_line, f"That is the end line of the {at} side at this corner. The "
                                                         "question is about the front."),
               Slip("other end", far.pin_end_line, "That is the front's other end. Outer face towards you, top edge "
                                                   f"up, take the {at} one.")),
        hints=(f"At this corner meet the front and the {at} side. The front's end line is near that side's lean, "
               f"{set_to(leans[at])}°.",
               f"It is gentler than {abs(leans[at])}°, since the front leans too, and the front is {way_of(line)} at "
               "that end."),
        look=f"Pick the corner “front {at}”, and read the pin board's end line; or look in the front's column of the "
             "cut list.")


def _wider_above(draw):
    left, right = draw.degrees("left_lean", 8, 32), draw.degrees("right_lean", 8, 32)
    thick = draw.length("panel_thickness", 6, 12, 1, 0.125)
    box = _box(draw, {"left": left, "right": right})
    panel = bottom_panel(box, thickness=thick)
    answer = panel.above[0] - panel.below[0]
    each = {lean: thick * math.tan(math.radians(lean)) for lean in (left, right)}
    return draw.asked(
        text=f"A level bottom panel, {draw.say(thick)} thick, lies in grooves all round. The left side leans out "
             f"{left}°, the right {right}°, and its edges are planed to those leans. From side to side, by how much "
             "is the panel wider on its upper face than on its lower?",
        label="Wider above by", unit="length", answer=answer, tolerance=4 * PRINTED_GAP,
        answer_text=fine(answer, draw.unit),
        slips=(Slip("left edge alone", each[left], "That is the left edge alone. The right edge is bevelled too."),
               Slip("right edge alone", each[right], "That is the right edge alone. The left edge is bevelled too."),
               Slip("sines", thick * sum(math.sin(math.radians(lean)) for lean in (left, right)),
                    "You took the sines of the leans. The thickness stands upright, beside the angle, so it is times the "
                    "tangent."),
               Slip("thickness", thick, "That is the panel's thickness. How much a bevelled edge runs out depends on "
                                        "the lean as well."),
               Slip("sign", -answer, "The size is right, but the sides lean out, so the panel is wider above: no "
                                     "minus.")),
        hints=(f"Over its thickness of {draw.say(thick)} each edge runs out by thickness × tangent of the lean: "
               f"{left}° at one edge, {right}° at the other.",
               f"{fine(each[left], draw.unit)} at the left and {fine(each[right], draw.unit)} at the right, together."),
        look="Draw the panel from the front, cut through: two level faces and two leaning edges.")


EXERCISES = (
    Exercise("09-1", "predict", _how_many_settings),
    Exercise("09-2", "read off", _read_setting),
    Exercise("09-3", "work out", _looks_as),
    Exercise("09-4", "work out", _tail_width),
    Exercise("09-5", "predict", _across_the_end),
    Exercise("10-1", "predict", _trial_corners),
    Exercise("10-2", "predict", _which_hand),
    Exercise("10-3", "work out", _length_at_the_top),
    Exercise("10-4", "work out", _drawer_for_opening),
    Exercise("10-5", "read off", _read_corner_of_box),
    Exercise("10-6", "work out", _wider_above),
)
