"""Exercises of notebook 01: nothing leans."""

from ...common.boards import other
from ...common.printing import degrees
from ...corner.corner import Corner
from ...corner.words import settings_table
from .core import BEVEL_TOLERANCE, LENGTH_TOLERANCE, Exercise, Slip, choices, counts, said_length
from .slips import BOTH_THICKNESSES, END_BEVEL, FROM_FACE, OWN_THICKNESS, PLAN_ANGLE, SIGN, SUPPLEMENT

_PLANS = [angle for angle in range(100, 136) if angle != 120]  # 120 stands on the page


def _what_changes(draw):
    change = draw.pick("change", ("plan angle", "thickness", "turn"))
    if change == "thickness":
        thick = draw.length("to", 24, 40)
        move = f"Thickness from {said_length(12.0 if draw.unit == 'mm' else 12.7, draw.unit)} to {draw.say(thick)}"
        bevel, why = Corner(0, 0).end_bevel, "thickness moves neither the outer faces nor the angle between them"
    elif change == "turn":
        move = f"Turn from 15 to {draw.degrees('to', 60, 170)}"
        bevel, why = Corner(0, 0).end_bevel, "a view changes how a line looks, and never how you strike it"
    else:
        plan = draw.pick("to", _PLANS)
        move, bevel = f"Plan angle from 90 to {plan}", Corner(0, 0, plan).end_bevel
        why = f"the end lines stay square, and the end bevel becomes {degrees(bevel)}"
    neither, ends, lines, both = ("neither", "only the end bevel", "only the end lines",
                                  "the end lines and the end bevel")
    remarks = {
        neither: "You are right about the end lines: they stay square. But the faces no longer meet at 90°, so the ends "
                 "must be sawn out of square by the difference.",
        ends: f"You moved the {'view' if change == 'turn' else change}. The faces still meet at 90°, so the ends stay "
              "square to them. Only the plan angle opens the end bevel here.",
        lines: "Nothing leans, so the end lines stay square. No plan angle, thickness or view slants them. Look at the "
               "end bevel.",
        both: "Nothing leans, so the end lines stay square, whatever the end bevel does. Try the sliders in the panel.",
    }
    return choices(
        draw, ends if abs(bevel) > 1e-9 else neither, remarks, why,
        text=f"Both boards stand upright. In the panel you drag {move}. Which of these change: the end lines, the end "
             "bevel, both, or neither?",
        label="What changes",
        hints=("Take the lines and the bevel one at a time. The end lines lie on the outer faces, and nothing leans. "
               "The end bevel is the "
               "dihedral less 90°, and between upright boards the dihedral is the plan angle.",
               f"So no slider slants the end lines here. When you drag {move}, the end bevel comes to "
               f"{degrees(bevel)}."))


def _plain_end_bevel(draw):
    plan = draw.pick("plan_angle", _PLANS)
    bevel = Corner(0, 0, plan).end_bevel
    return draw.asked(
        text=f"Two upright boards meet at a plan angle of {plan}°. In the cell above the second table, change 120 to "
             f"{plan} and run the cell. What is the end bevel, in degrees from square?",
        label="End bevel, degrees from square", unit="angle", answer=bevel, tolerance=BEVEL_TOLERANCE,
        answer_text=f"the end bevel is {degrees(bevel)} from square",
        slips=(Slip(PLAN_ANGLE, plan, "That is the plan angle itself. An end bevel is counted from square to the face, so "
                                      "take 90° off."),
               Slip(FROM_FACE, 90 - bevel, "You counted from the face. An end bevel is counted from square to the "
                                           "face.")),
        hints=(f"Between upright boards the dihedral is the plan angle, {plan}°.",
               f"The end bevel is the dihedral less 90°: {plan}° − 90°."),
        look="Look at the line “end bevel” of the second printed table.")


def _plan_from_bevel(draw):
    bevel = draw.degrees("end_bevel", 8, 44)
    plan = Corner(0, 0, 90 + bevel).dihedral
    return draw.asked(
        text=f"The ends of two upright boards were sawn {bevel}° out of square to their faces, so that the inner face "
             "is the longer one. The ends lie flush. At which plan angle do the boards stand?",
        label="Plan angle, degrees", unit="angle", answer=plan, tolerance=BEVEL_TOLERANCE,
        answer_text=f"the plan angle is {degrees(plan)}",
        slips=(Slip(END_BEVEL, bevel, "That is the end bevel itself. Add the bevel to 90°: the two together are the plan angle "
                                      "of upright boards."),
               Slip(SIGN, 90 - bevel, "You took the end bevel off 90°: add it. At more than 90° each board is longer on "
                                      "its inner face, at less on its outer face."),
               Slip(SUPPLEMENT, 180 - bevel, "You took the end bevel off a straight line. An end bevel is counted from "
                                             "square, 90°.")),
        hints=(f"The dihedral is more than 90°, and the end bevel of {bevel}° is the difference.",
               f"The dihedral is 90° + {bevel}°, and between upright boards that is the plan angle."),
        look="The second printed table is for a plan angle of 120°. Go through it backwards.")


def _baseline(draw):
    board = draw.pick("board", ("tail", "pin"))
    own = draw.length("own_thickness", 12, 24)
    others = draw.length("other_thickness", 12, 24)
    answer = Corner(0, 0).baseline_offset(others)
    return draw.asked(
        text=f"The corner is plain and square. The {board} board is {draw.say(own)} thick, the {other(board)} board "
             f"{draw.say(others)}. You set the marking gauge for the {board} board. How far from the end line does it "
             "scribe the baseline?",
        label="Baseline, from the end line", unit="length", answer=answer, tolerance=LENGTH_TOLERANCE,
        answer_text=f"{draw.size(answer)}, the thickness of the {other(board)} board",
        slips=(Slip(OWN_THICKNESS, own, f"That is the {board} board's own thickness. The joint reaches through the other "
                                        "board, so take the other board's thickness."),
               Slip(BOTH_THICKNESSES, own + others, "That is both boards together. The joint reaches through the other "
                                                    "board only.")),
        hints=(f"The baseline follows the inner face of the other board, here the {other(board)} board.",
               f"At a plan angle of 90° that face lies the {other(board)} board's thickness from the end line: "
               f"{draw.say(others)}."),
        look="Look at step 3 on the bench.")


def _not_square(draw):
    plan = draw.pick("plan_angle", [*[90] * 6, *_PLANS[::3]])
    told = [value for _, value in settings_table(Corner(0, 0, plan)).rows]
    answer = len(told) - told.count("square")
    slips = {0: "With nothing out of square, the plan angle would be 90°. Read the question's plan angle again.",
             1: "At a plan angle of 90° no line of the table says anything but “square”. Read the question's plan angle "
                "again.",
             2: "Both ends are sawn to one end bevel, and the table has one line for it. The end lines stay square.",
             len(told): "You counted every line of the table. Count only the lines that don't say “square”."}
    return draw.asked(
        text=f"Both boards stand upright, and the plan angle is {plan}°. Print every setting, as the page does. How "
             "many of the lines say anything but “square”?",
        label="How many lines", unit="count", answer=answer,
        answer_text=f"{answer}" + (", and that is the end bevel" if answer else ": every line is square"),
        slips=counts(answer, slips),
        hints=(f"In the cell above the second table, set the plan angle to {plan} and run the cell.",
               f"End lines, rim bevels and level lines stay square while nothing leans. The end bevel is {plan}° − "
               "90°."),
        look="Look at the two printed tables.")


EXERCISES = (
    Exercise("01-1", "predict", _what_changes),
    Exercise("01-2", "read off", _plain_end_bevel),
    Exercise("01-3", "work out", _plan_from_bevel),
    Exercise("01-4", "work out", _baseline),
    Exercise("01-5", "read off", _not_square),
)
