"""Exercises of notebook 10: the whole box."""

import math

from ...box.box import Box
from ...box.cut_list import cut_list
from ...box.fittings import bottom_panel
from ...box.opening import Clearances
from ...common.printing import fine
from .core import (
    BEVEL_TOLERANCE,
    LENGTH_TOLERANCE,
    PRINTED_GAP,
    Exercise,
    Slip,
    bevel_answer,
    choices,
    counts,
    edge_or_square,
    leaning,
    set_to,
    way_of,
    wrong_sign,
)
from .slips import (
    LEFT_ALONE,
    LEVEL_CLEARANCE,
    NO_CLEARANCE,
    NO_SLANT,
    ON_THE_FLOOR,
    ONE_SIDE,
    OTHER_BOARD,
    OTHER_END,
    RIGHT_ALONE,
    SHORTCUT,
    SIGN,
    SINES,
    SLANT_WIDTH,
    THICKNESS,
    TIMES_COSINE,
)


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
    answer = _different_corners(box)
    reason = {1: "All four corners have the same two leans; two of them are the mirror images of the others.",
              2: "The corners match in pairs, and one of each pair is the other's mirror image.",
              4: "No two corners have the same two leans."}[answer]
    slips = {1: "One trial corner stands for all only when the sides lean equally and front and back lean equally. ",
             2: "Two will do when only one of the pairs, sides or front and back, leans equally. ",
             3: "Corners match in pairs here, or not at all. ",
             4: "Mirror images have the same angles, so one trial corner stands for both. "}
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


def _different_corners(box):
    """How many corners of a box differ, mirror images counted as one."""
    return len({(place.corner.tail_lean, place.corner.pin_lean) for place in box.corners.values()})


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
    swap, mirror, differ = ("they are equal and can be swapped", "they are mirror images and can't be swapped",
                            "they are neither equal nor mirror images")
    answer = swap if left.equals(right) else mirror if left.mirrors(right) else differ
    reason = {swap: "The sides lean equally, and so do front and back: the two ends of a side match, so either side fits "
                    "either place.",
              mirror: "The sides lean equally, but front and back don't: each side has one end for the front, and that "
                      "is the left end of one side and the right end of the other.",
              differ: "The sides lean differently, so their edges and their slant widths differ, and turning a board round "
                      "doesn't "
                      "help."}[answer]
    remarks = {swap: f"Boards can be swapped only if their two ends match. {reason}",
               mirror: f"Mirror images that can't be swapped have the same lean, but different ends. {reason}",
               differ: f"With equal leans the sides are equal or mirror images. {reason}"}
    return choices(
        draw, answer, remarks, answer,
        text=f"A drawer's left side leans out {leans['left']}°, its right side {leans['right']}°. The front "
             f"{leaning(leans['front'])}, the back {leaning(leans['back'])}. Outer face out, bottom edge down: how do "
             "the two sides compare?",
        label="The two sides",
        hints=(f"Compare the leans of the sides, {leans['left']}° and {leans['right']}°. Then compare the two ends of one "
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
        slips=(Slip(LEFT_ALONE, width + runs["left"], "You counted the left end alone. The right end slants too."),
               Slip(RIGHT_ALONE, width + runs["right"], "You counted the right end alone. The left end slants too."),
               Slip(SIGN, 2 * width - answer, "You went the wrong way. A side that leans out makes the front longer at the "
                                              "top; a "
                                              "side that leans in makes it shorter."),
               Slip(SLANT_WIDTH, width + slant * (math.tan(math.radians(left)) + math.tan(math.radians(right))),
                    "You took the slant width. A side runs out by so much over the height of the box."),
               Slip(NO_SLANT, width, "You gave the length at the bottom.")),
        hints=("At each end the front grows by as much as the side leans out over the height, or shrinks if the side leans in. "
               f"Left: {draw.say(height)} and {abs(left)}°; right: {abs(right)}°.",
               f"The front is {draw.size(abs(runs['left']))} {'longer' if left > 0 else 'shorter'} at the left end and "
               f"{draw.size(abs(runs['right']))} {'longer' if right > 0 else 'shorter'} at the right. Begin with "
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
        text=f"An opening is {draw.say(floor_width)} wide along its floor. Its left wall leans out {left}°, its right "
             f"wall {right}°. The drawer stands clear of both walls by {draw.say(clearance)}, measured square to the "
             f"wall, and {draw.say(floor)} above the floor. How wide is the drawer outside, at its bottom?",
        label="Width of the drawer at the bottom", unit="length", answer=answer, tolerance=LENGTH_TOLERANCE,
        answer_text=draw.size(answer),
        slips=(Slip(LEVEL_CLEARANCE, floor_width + lifted - 2 * clearance,
                    "You took the clearance as it is. The clearance is measured square to a leaning wall, so measured level "
                    "the clearance takes more room."),
               Slip(TIMES_COSINE, floor_width + lifted - sum(shrunk),
                    "You made the clearance smaller for the lean. Measured level the clearance takes more room, not less."),
               Slip(ON_THE_FLOOR, floor_width - sum(level), "You gave the width at the floor. The drawer's bottom is higher, "
                                                            "and "
                                                            "there the opening is wider."),
               Slip(ONE_SIDE, floor_width + lifted - level[0], "You left the clearance at one side only."),
               Slip(NO_CLEARANCE, floor_width + lifted, "You gave the opening's width at that height. Take both clearances "
                                                        "off.")),
        hints=(f"{draw.say(floor)} above the floor the opening is wider by {fine(lifted, draw.unit)}, because the walls lean "
               f"out {left}° and {right}°.",
               f"Level, the {draw.say(clearance)} take {fine(level[0], draw.unit)} at the left and "
               f"{fine(level[1], draw.unit)} at the right. Add the growth to {draw.say(floor_width)}, and take both clearances "
               "off."),
        look="Draw the opening from the front, and move each wall in, square to itself.")


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
        label=f"Front, {at} end line", unit="bevel", answer=line, tolerance=BEVEL_TOLERANCE,
        answer_text=bevel_answer(draw, line, signed=True),
        slips=(edge_or_square(line), wrong_sign(line),
               Slip(SHORTCUT, leans[at], f"You gave the lean of the {at} side, which the shortcut strikes. The front leans as "
                                         "well, so its end line slants less."),
               Slip(OTHER_BOARD, corner.tail_end_line, f"You gave the end line of the {at} side at this corner. The question "
                                                       f"is "
                                                       "about the front."),
               Slip(OTHER_END, far.pin_end_line, "You gave the front's other end. Outer face towards you, top edge up, take "
                                                 "the "
                                                 f"{at} end.")),
        hints=(f"The front and the {at} side meet at this corner. The front's end line is near that side's lean, "
               f"{set_to(leans[at])}°.",
               f"The line slants less than {abs(leans[at])}°, because the front leans too, and the front is {way_of(line)} at "
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
        slips=(Slip(LEFT_ALONE, each[left], "You gave the left edge alone. The right edge is bevelled too."),
               Slip(RIGHT_ALONE, each[right], "You gave the right edge alone. The left edge is bevelled too."),
               Slip(SINES, thick * sum(math.sin(math.radians(lean)) for lean in (left, right)),
                    "You took the thickness for the length along the bevelled edge. The thickness is measured plumb."),
               Slip(THICKNESS, thick, "You gave the panel's thickness. A bevelled edge runs out by more or less, as its lean "
                                      "is "
                                      "larger or smaller."),
               Slip(SIGN, -answer, "The size is right, but the sides lean out, so the panel is wider above: leave the minus "
                                   "off.")),
        hints=(f"Over the panel's thickness of {draw.say(thick)} each edge runs out, by a lean of {left}° at one edge and of "
               f"{right}° at the other.",
               f"{fine(each[left], draw.unit)} at the left and {fine(each[right], draw.unit)} at the right: add the two."),
        look="Draw the panel from the front, cut through: two level faces and two leaning edges.")


EXERCISES = (
    Exercise("10-1", "predict", _trial_corners),
    Exercise("10-2", "predict", _which_hand),
    Exercise("10-3", "work out", _length_at_the_top),
    Exercise("10-4", "work out", _drawer_for_opening),
    Exercise("10-5", "read off", _read_corner_of_box),
    Exercise("10-6", "work out", _wider_above),
)
