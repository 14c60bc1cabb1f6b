"""Exercises of notebook 05: a trial corner cut from offcuts."""

import math

from ...common.boards import BOARDS, other
from ...common.printing import degrees, fine
from ...corner.corner import Corner
from .core import BEVEL_TOLERANCE, PRINTED_GAP, Exercise, Slip, bevel_answer, choices, edge_or_square, leaning
from .parts import offset_said, offset_tolerance, run_said
from .slips import (
    BOTH_ENDS,
    COSINE,
    OFFSET_ALONE,
    OTHER_BOARD,
    SHORTCUT,
    SIGN,
    TANGENT,
    THICKNESS,
    UNCHANGED,
    WRONG_RATIO,
)


def _which_face_is_longer(draw):
    leans = range(10, 33)
    tail = draw.pick("tail_lean", [*[0] * 12, *leans, *(-lean for lean in leans)])
    pin = draw.pick("pin_lean", [*leans, *(-lean for lean in leans)])
    bevel = Corner(tail, pin).end_bevel
    inner, square, outer = ("the inner face is longer", "both faces are equally long: the end is square to them",
                            "the outer face is longer")
    answer = square if abs(bevel) < 1e-9 else inner if bevel > 0 else outer
    reason = {square: "A corner with an upright board has faces that meet at 90°, so the saw stays square to the face.",
              inner: "Two boards that lean the same way, both out or both in, meet at more than 90°.",
              outer: "One board leans out and the other in, so their faces meet at less than 90°."}[answer]
    remarks = {inner: f"The inner face is longer only where the faces meet at more than 90°. {reason}",
               square: f"The end stays square to its face only where a board stands upright. {reason}",
               outer: f"The outer face is longer only where the faces meet at less than 90°. {reason}"}
    return choices(
        draw, answer, remarks, f"{answer}; the end bevel is {degrees(abs(bevel))}",
        text=f"The tail board {leaning(tail)}, the pin board {leaning(pin)}. You saw the tail board's end so that it lies "
             "flush with the pin board's outer face. Along the cut, which face of the tail board comes out longer?",
        label="After sawing",
        hints=(f"Does the corner have an upright board? The tail board {leaning(tail)}, the pin board {leaning(pin)}. If both "
               "lean, do they lean the same way?",
               f"The faces meet at {degrees(Corner(tail, pin).dihedral)}. {reason}"))


def _along_for_the_bevel(draw):
    board = draw.pick("board", BOARDS)
    corner = Corner(draw.degrees("tail_lean", 18, 36), draw.degrees("pin_lean", 18, 36))
    base = draw.length("base", 130, 190, 10, 0.5)
    printed, over_run = offset_said(draw, corner.end_line(board))
    others = offset_said(draw, corner.end_line(other(board)))[0]
    run, said_run = run_said(draw)
    answer = base * over_run / run
    return draw.asked(
        text=f"You set the bevel to an angle drawn on scrap, for a corner at {corner.tail_lean:g}° (tail board) and "
             f"{corner.pin_lean:g}° (pin board). The card gives offsets: tail board's end line "
             f"{printed if board == 'tail' else others}, pin board's {printed if board == 'pin' else others}. Your scrap has "
             f"room for a line {draw.say(base)} long, straight up from its edge. How far along do you mark the "
             f"{board} board's offset at its top?",
        label="Along the scrap", unit="length", answer=answer, tolerance=offset_tolerance(draw),
        answer_text=draw.size(answer),
        slips=(Slip(OFFSET_ALONE, over_run, f"That is the offset in {said_run}, and your line is {draw.say(base)} long. Scale "
                                            "the offset up: the longer the line, the finer the angle."),
               Slip(OTHER_BOARD, base * math.tan(math.radians(corner.end_line(other(board)))),
                    f"That is for the {other(board)} board. Label each angle that you draw."),
               Slip(SHORTCUT, base * math.tan(math.radians(corner.lean(other(board)))),
                    f"That draws the {other(board)} board's lean, as the shortcut does. Use the offset of the end line."),
               Slip(WRONG_RATIO, over_run * run / base, f"You scaled the wrong way: {draw.say(base)} is more than {said_run}, "
                                                        "so the offset is larger too.")),
        hints=(f"The offset is {printed}: so far along for every {said_run} straight up.",
               f"{draw.say(base)} is {base / run:.3f} times {said_run}. Take that many times the offset."),
        look="Draw the offset: straight up from the edge, then along to the line.")


def _longest_edge(draw):
    tail, pin = draw.degrees("tail_lean", 14, 32), draw.degrees("pin_lean", 14, 32)
    corner = Corner(tail, pin)
    bottom = draw.length("bottom_edge", 130, 200, 5, 0.25)
    height = draw.length("height", 80, 120, 5, 0.25)
    width = corner.slant_width(height)
    printed, over_run = offset_said(draw, corner.tail_end_line)
    run = run_said(draw)[0]
    grown = width * over_run / run
    return draw.asked(
        text=f"A trial corner leans out {tail}° (tail board) and {pin}° (pin board). Its tail board is {draw.say(bottom)} long "
             f"at the bottom edge, and its slant width is {fine(width, draw.unit)} for a corner {draw.say(height)} high. Its "
             f"end line has an offset of {printed}; its other end is square. How long is its top edge?",
        label="Top edge", unit="length", answer=bottom + grown, tolerance=offset_tolerance(draw),
        answer_text=f"{draw.size(bottom + grown)}: saw the offcut a little longer than that",
        slips=(Slip(SIGN, bottom - grown, "You made the top edge shorter. Both boards lean out, so each is longer at the "
                                          "top."),
               Slip(UNCHANGED, bottom, "That is the bottom edge. The end line slants, so the top edge is longer."),
               Slip(BOTH_ENDS, bottom + 2 * grown, "You let both ends slant. The far end of a trial corner is square."),
               Slip(OFFSET_ALONE, bottom + over_run, "You added the offset as it is printed. Take the offset over the "
                                                     "board's own slant width.")),
        hints=(f"The offset is {printed}, and the slant width is {fine(width, draw.unit)} in a corner {draw.say(height)} high: "
               f"that is {width / run:.3f} times the run.",
               f"The end runs out by {draw.size(grown)}: add this length to {draw.say(bottom)}."),
        look="Draw the board flat: bottom edge, slant width, and the end line.")


def _edge_left_square(draw):
    board = draw.pick("board", BOARDS)
    corner = Corner(draw.degrees("tail_lean", 16, 36), draw.degrees("pin_lean", 16, 36))
    thick = draw.length("thickness", 14, 24)
    base = 100.0 if draw.unit == "mm" else 101.6
    per = {each: corner.rocking_gap(base, each) for each in BOARDS}
    others, lean = other(board), math.radians(corner.lean(board))
    answer = corner.rocking_gap(thick, board)
    return draw.asked(
        text=f"The tail board leans out {corner.tail_lean:g}°, the pin board {corner.pin_lean:g}°; both are "
             f"{draw.say(thick)} thick. Nobody planed the {board} board's bottom edge to its lean. A board {draw.say(base)} "
             f"thick would show {fine(per['tail'], draw.unit)} of light under its edge at the tail board's lean, and "
             f"{fine(per['pin'], draw.unit)} at the pin board's. How much light shows under this one?",
        label="Light under the edge", unit="length", answer=answer, tolerance=4 * PRINTED_GAP,
        answer_text=f"{fine(answer, draw.unit)}, so plane the edges before anything is marked",
        slips=(Slip(OTHER_BOARD, corner.rocking_gap(thick, others), f"That is the {others} board's. The light depends on the "
                                                                    "board's own lean."),
               Slip(UNCHANGED, per[board], f"That is for a board {draw.say(base)} thick. Scale the light down to "
                                           "your thickness."),
               Slip(TANGENT, thick * math.tan(lean), "You took the tangent. The thickness is the long side of the triangle, so "
                                                     "scale the figure that is given."),
               Slip(COSINE, thick * math.cos(lean), "You took the cosine. That is measured along the bench; light is measured "
                                                    "straight up."),
               Slip(THICKNESS, thick, "That is the whole thickness, as though the board lay flat.")),
        hints=(f"The light grows in step with the thickness: {draw.say(thick)} is {thick / base:.3f} of {draw.say(base)}.",
               f"Take that share of {fine(per[board], draw.unit)}, at {corner.lean(board):g}°."),
        look="Draw the edge from the board's end: a square corner of wood, tipped by the lean.")


def _bevel_for_the_line(draw):
    board = draw.pick("board", BOARDS)
    corner = Corner(draw.degrees("tail_lean", 20, 36), draw.degrees("pin_lean", 20, 36))
    line, others = corner.end_line(board), corner.end_line(other(board))
    if abs(line - others) < 2:
        return None
    return draw.asked(
        text=f"Make a bench card for a corner at {corner.tail_lean:g}° (tail board) and {corner.pin_lean:g}° (pin board), or "
             f"print its settings. To what do you set the bevel, from square, for the {board} board's end line?",
        label="Bevel, from square", unit="bevel", answer=line, tolerance=BEVEL_TOLERANCE,
        answer_text=bevel_answer(draw, line),
        slips=(edge_or_square(line),
               Slip(OTHER_BOARD, others, f"That is the {other(board)} board's end line. Keep one bevel for each board."),
               Slip(SHORTCUT, corner.lean(other(board)),
                    f"That is the {other(board)} board's lean, which the card crosses out. Both boards lean, so the end line "
                    "slants less.")),
        hints=(f"The card gives two end lines for {corner.tail_lean:g}° and {corner.pin_lean:g}°. Take the {board} board's.",
               f"That end line slants a little less than the {other(board)} board's lean: {degrees(line)} from square."),
        look="Look at the two largest numbers of the bench card.")


EXERCISES = (
    Exercise("05-1", "predict", _which_face_is_longer),
    Exercise("05-2", "work out", _along_for_the_bevel),
    Exercise("05-3", "work out", _longest_edge),
    Exercise("05-4", "work out", _edge_left_square),
    Exercise("05-5", "read off", _bevel_for_the_line),
)
