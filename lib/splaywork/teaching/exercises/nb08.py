"""Exercises of notebook 08: how good is good enough."""

import math

from ...common.boards import BOARDS, other
from ...common.printing import degrees, fine
from ...corner.corner import Corner
from ...one_gauge.one_gauge import TOLERANCES, OneGauge
from .core import LENGTH_TOLERANCE, PRINTED_GAP, Exercise, Slip, choices
from .parts import run_said
from .slips import DEGREES, SHARE, STEP_OFF, UNCHANGED, WRONG_RATIO


def _worst(corner, width=100.0):
    """The larger of the shortcut's gaps over a slant width, mm."""
    return max(abs(OneGauge(corner).gap_over(width, board)) for board in BOARDS)


def _which_corner(draw):
    one, two = (draw.pick(name, [*[(0, b) for b in range(20, 46, 5)], *[(a, 0) for a in range(20, 46, 5)],
                                 *[(a, b) for a in range(8, 31, 2) for b in range(8, 31, 2)]])
                for name in ("first_corner", "second_corner"))
    over, said_over = run_said(draw)
    gaps = [_worst(Corner(*leans), over) for leans in (one, two)]
    if max(gaps) > 1e-9 and abs(gaps[0] - gaps[1]) < 0.3 * max(gaps):
        return None
    first, second, neither = "the first corner", "the second corner", "neither leaves a gap"
    answer = neither if max(gaps) < 1e-9 else first if gaps[0] > gaps[1] else second
    rule = ("A corner with an upright board is exact, however far the other board leans. Otherwise both leans count, and the "
            "gap grows faster than they do.")
    remarks = {first: rule, second: rule, neither: f"{rule} Here at least one corner has two boards that lean."}
    return choices(
        draw, answer, remarks, f"{answer}: {fine(gaps[0], draw.unit)} and {fine(gaps[1], draw.unit)} in a slant width of "
                               f"{said_over}",
        text=f"Two corners are struck with the shortcut and held at their leans, all boards of one slant width. The first "
             f"leans {one[0]}° and {one[1]}°, the second {two[0]}° and {two[1]}°. Which leaves the larger gap?",
        label="The larger gap",
        hints=(f"Look for an upright board first: {one[0]}° and {one[1]}°, then {two[0]}° and {two[1]}°.",
               "Then compare the corners at which both boards lean: more of both leans makes more gap."))


def _read_the_map(draw):
    corner = Corner(draw.degrees("tail_lean", 14, 36), draw.degrees("pin_lean", 14, 36))
    width = draw.length("width", 140, 260, 10, 0.5)
    answer = _worst(corner, width)
    board = max(BOARDS, key=lambda each: OneGauge(corner).gap_over(width, each))
    mm = 1 if draw.unit == "mm" else 25.4
    return draw.asked(
        text=f"In the map's panel set Tail lean to {corner.tail_lean:g}, Pin lean to {corner.pin_lean:g} and Slant width to "
             f"{draw.say(width)}. How large a gap does the shortcut leave at most?",
        label="Gap at most", unit="length", answer=answer, tolerance=PRINTED_GAP, answer_text=fine(answer, draw.unit),
        slips=(Slip(UNCHANGED, _worst(corner), "That is the gap of the slant width that the panel opens with. Set Slant width "
                                               "as "
                                               "well."),
               Slip(DEGREES, mm * OneGauge(corner).error(board), "That is the error of the line, in degrees. The gap is what "
                                                                 "that "
                                                                 "error makes over the width of the board.")),
        hints=(f"Set the sliders to {corner.tail_lean:g}, {corner.pin_lean:g} and {draw.say(width)}, and leave the tolerance.",
               f"The sentence under the map gives the larger of the two boards' gaps: {fine(answer, draw.unit)}."),
        look="Read the gap in the sentence under the map.")


def _widest_board(draw):
    corner = Corner(draw.degrees("tail_lean", 15, 26), draw.degrees("pin_lean", 15, 26))
    base = 100.0 if draw.unit == "mm" else 101.6
    allowed = draw.pick("tolerance", TOLERANCES if draw.unit == "mm" else (0.1016, 0.2032, 0.508))  # whole thousandths
    gap = _worst(corner, base)
    answer = base * allowed / gap
    if gap < 1.2 or not 12 <= answer <= 60:  # printed numbers too coarse to work from, or no board to think of
        return None
    said, allows = draw.say(base), fine(allowed, draw.unit)
    return draw.asked(
        text=f"At {corner.tail_lean:g}° and {corner.pin_lean:g}°, leans held, the shortcut leaves a gap of "
             f"{fine(gap, draw.unit)} in a slant width of {said}. You will put up with {allows}. How wide may the boards be "
             "for the shortcut to be good enough?",
        label="Widest board", unit="length", answer=answer, tolerance=2 * LENGTH_TOLERANCE,
        answer_text=f"{draw.size(answer)} up the face",
        slips=(Slip(WRONG_RATIO, base * gap / allowed, f"On a board as wide as that the gap would be far more than {allows}. "
                                                       "Turn "
                                                       "the ratio over."),
               Slip(SHARE, allowed / gap * (1 if draw.unit == "mm" else 25.4),
                    f"That is the share of {said} that the boards may be wide. Multiply {said} by the share."),
               Slip(UNCHANGED, base, f"In {said} the gap is more than {allows}, so the boards must be narrower.")),
        hints=(f"The leans stay at {corner.tail_lean:g}° and {corner.pin_lean:g}°, and the gap grows in step with the "
               f"width. {allows} is {allowed / gap:.3f} of {fine(gap, draw.unit)}.",
               f"So the boards may be that share of {said}: {allowed / gap:.3f} times {said}."),
        look="In the map's panel, move Slant width up and down until the verdict turns.")


def _line_a_little_out(draw):
    width = draw.length("width", 140, 280, 10, 0.5)
    off = draw.pick("off", (0.2, 0.25, 0.3, 0.4, 0.5))
    base = 100.0 if draw.unit == "mm" else 101.6
    per_degree = base * math.tan(math.radians(1))
    answer = width * math.tan(math.radians(off))
    return draw.asked(
        text=f"A line that is 1° out goes {fine(per_degree, draw.unit)} astray in {draw.say(base)}. Your bevel was set "
             f"{off:g}° "
             f"wrong, and the board's slant width is {draw.say(width)}. How wide is the gap at its far edge?",
        label="Gap at the far edge", unit="length", answer=answer, tolerance=2 * PRINTED_GAP,
        answer_text=fine(answer, draw.unit),
        slips=(Slip(UNCHANGED, answer * base / width, f"That is the gap in {draw.say(base)}. This board is wider."),
               Slip(DEGREES, per_degree * width / base, f"That is for a whole degree. The bevel was set {off:g}° wrong."),
               Slip(STEP_OFF, 2 * answer, "That is the distance from as far wrong one way to as far wrong the other way. The "
                                          "question is about one bevel, set wrong one way.")),
        hints=(f"{draw.say(width)} is {width / base:.3f} times {draw.say(base)}.",
               f"Multiply {fine(per_degree, draw.unit)} by {width / base:.3f}, and by {off:g}, because the bevel is {off:g}° "
               "out."),
        look="Draw a thin wedge: the board's width is its length, the gap its thick end.")


def _which_board_gapes_more(draw):
    tail, pin = draw.degrees("tail_lean", 10, 32), draw.pick("pin_lean", [*[0] * 6, *range(10, 33)])
    over, said_over = run_said(draw)
    gaps = {board: abs(OneGauge(Corner(tail, pin)).gap_over(over, board)) for board in BOARDS}
    if pin and abs(tail - pin) < 3:
        return None
    neither = "neither: the shortcut is exact"
    words = {board: f"the {board} board's end" for board in BOARDS}
    most = max(BOARDS, key=gaps.get)
    answer = neither if max(gaps.values()) < 1e-9 else words[most]
    rule = "Of two leaning boards, the one that leans further gapes more. A corner with an upright board doesn't gape."
    return choices(
        draw, answer, dict.fromkeys([*words.values(), neither], rule), answer if answer == neither else
        f"{answer}: {fine(gaps[most], draw.unit)} in {said_over} of slant width, against {fine(gaps[other(most)], draw.unit)}",
        text=f"The tail board leans out {tail}°, the pin board {f'leans out {pin}°' if pin else 'stands upright'}. Both have "
             "one "
             "slant width. Both ends are struck with the shortcut, and the leans are held. Which end gapes more?",
        label="Gapes more",
        hints=(f"Is there an upright board? The tail board leans {tail}°, the pin board {f'{pin}°' if pin else 'not at all'}.",
               f"Each board's own lean makes its line slant less than the shortcut's. The tail board's line is out by "
               f"{degrees(OneGauge(Corner(tail, pin)).error('tail'), 2)}, the pin board's by "
               f"{degrees(OneGauge(Corner(tail, pin)).error('pin'), 2)}."))


EXERCISES = (
    Exercise("08-1", "predict", _which_corner),
    Exercise("08-2", "read off", _read_the_map),
    Exercise("08-3", "work out", _widest_board),
    Exercise("08-4", "work out", _line_a_little_out),
    Exercise("08-5", "predict", _which_board_gapes_more),
)
