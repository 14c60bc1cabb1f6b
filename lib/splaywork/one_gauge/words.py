"""The one-gauge shortcut in words: one exact sentence, or two, for each picture of what it does.

Each takes a Corner (single leans, plan angle 90) and returns a str. Lengths come in mm; `length` writes them, so that
inches can be said as well. ValueErrors as `one_gauge`.
"""

from ..common.boards import BOARDS
from ..common.printing import MINUS
from ..common.printing import fine_degrees as degrees
from ..common.printing import fine_millimetres as millimetres
from .one_gauge import GAUGE_SETTING_ERROR, NAMED_CORNERS, OneGauge

_CORNERS_JOINED = {1: "one corner", 2: "two corners", 3: "three corners"}


def _out(error):
    return degrees(abs(error))


def asked(lean):
    """A lean as it was asked for, to hundredths, with no more decimals than it has."""
    return f"{round(lean, 2):g}°".replace("-", MINUS)


def _exact(corner):
    return corner.tail_lean == 0 or corner.pin_lean == 0


_NOTHING_WRONG = "A board of this corner is upright, so the one gauge is exact"


def say_error(corner):
    """How far each struck line is from the true one."""
    shortcut = OneGauge(corner)
    if _exact(corner):
        return f"{_NOTHING_WRONG}: the lines struck are the true end lines."
    boards = [f"{degrees(shortcut.struck(board))} on the {board} board, where the true end line is "
              f"{degrees(corner.end_line(board))} ({_out(shortcut.error(board))} too steep)" for board in BOARDS]
    return f"The gauge set to the leans strikes {boards[0]}, and {boards[1]}."


def say_hold_leans(corner, height, length=millimetres):
    """The gaps when the boards are held at the leans asked."""
    if _exact(corner):
        return f"{_NOTHING_WRONG}: held at their leans, the ends meet with no gap."
    gaps = OneGauge(corner).hold_leans(height)
    boards = [f"the {board} board's end touches at the {'top' if gap.opens_at == 'bottom' else 'bottom'} and gapes "
              f"{length(gap.width)} at the {gap.opens_at}" for board, gap in gaps.items()]
    return (f"Held at the leans asked, {asked(corner.tail_lean)} and {asked(corner.pin_lean)}, in a box "
            f"{length(height)} high, {boards[0]}, and {boards[1]}, measured along each board.")


def say_closed(corner, height, length=millimetres):
    """The other box that the struck lines really make."""
    shortcut = OneGauge(corner)
    if not shortcut.stands and not shortcut.lies_flat:
        return ("Let the corners close and there is no box: the two leans add up to more than 90°, and the struck lines "
                "can't be brought together.")
    if shortcut.lies_flat:
        return ("Let the corners close, and they do: the two leans add up to 90°, so the four boards lie flat as a "
                "picture frame, and nothing is left of the height.")
    if _exact(corner):
        return f"{_NOTHING_WRONG}: the box closes at the leans asked and at full height."
    leans = [f"the {board} boards lean {degrees(shortcut.closed_lean(board))} instead of {asked(corner.lean(board))}"
             for board in BOARDS]
    return (f"Let the corners close, and they do, all four, with level rims; but it is another box: {leans[0]}, "
            f"{leans[1]}, and it stands {length(height * shortcut.height_factor)} high instead of {length(height)}.")


def say_go_round(corner, height, tail_length, pin_length, corners=4, length=millimetres):
    """What the chain of boards misses after 1 to 4 corners joined at the true dihedral."""
    if corners not in (1, 2, 3, 4):
        raise ValueError(f"A box has corners 1 to 4 to go round, not {corners!r}.")
    if _exact(corner):
        return f"{_NOTHING_WRONG}: joined at the true dihedral, the four corners close."
    chain = OneGauge(corner).go_round(height, tail_length, pin_length)
    turned, missed = degrees(chain.rotations[corners - 1]), length(chain.gaps[corners - 1])
    held = f"With every corner held at the true dihedral of {degrees(corner.dihedral)}"
    if corners == 4:
        return (f"{held}, the four boards don't close: the last end misses the first by {missed} where they are "
                f"furthest apart, and is turned {turned} from it.")
    return (f"{held}, after {_CORNERS_JOINED[corners]} the next board is turned {turned} from where it should stand, "
            f"and its near end is as much as {missed} out of place.")


def say_winding(corner, length_of_side, stick, length=millimetres):
    """The winding of the sides (tail boards) between a leaning front (the pin board) and an upright back."""
    if _exact(corner):
        return f"{_NOTHING_WRONG}: the sides stand at {asked(corner.tail_lean)} at both ends and needn't wind."
    shortcut = OneGauge(corner)
    winding = shortcut.winding(length_of_side, stick)
    return (f"With a front that leans {asked(corner.pin_lean)} and an upright back, the front corners, struck with one "
            f"gauge, want the sides at {degrees(shortcut.closed_lean('tail'))}, the back corners at "
            f"{degrees(corner.tail_lean)}: each side must wind by {_out(winding.wind)} over its "
            f"{length(length_of_side)}, or a corner gapes. Winding sticks {length(stick)} long show "
            f"{length(winding.stick_shows)} at one tip when they agree at the other.")


def say_bench_rule(corner):
    """What the gauge set to the tail board's lean does as the level line on the tail board's end."""
    if _exact(corner):
        return ("A board of this corner is upright, so the gauge set to the tail board's lean marks the level line on "
                "its end exactly, flush or square.")
    shortcut = OneGauge(corner)
    return (f"The gauge set to the tail board's lean marks the level line on its end "
            f"{_out(shortcut.flush_level_error)} too steep when the end is flush, and "
            f"{_out(shortcut.square_level_error)} too shallow when it is sawn square.")


def just_beyond(value, limit, write):
    """True where a value beyond its limit is written, by `write`, as the limit is: then the words have to say so."""
    return value > limit and write(value) == write(limit)


def say_good_enough(corner, width, tolerance, setting_error=GAUGE_SETTING_ERROR, length=millimetres):
    """Whether one gauge serves this corner: boards `width` mm up the face, tolerance in mm, setting error in degrees."""
    shortcut = OneGauge(corner)
    if _exact(corner):
        return f"{_NOTHING_WRONG}, at any width and for any tolerance."
    gap = max(shortcut.gap_over(width, board) for board in BOARDS)
    error = max(abs(shortcut.error(board)) for board in BOARDS)
    enough = "good enough" if gap <= tolerance else "not good enough"
    beside = "more" if error > setting_error else "no more"
    opens = "a little more than" if just_beyond(gap, tolerance, length) else "up to"
    off = "a little more than" if just_beyond(error, setting_error, degrees) else "up to"
    return (f"At {asked(corner.tail_lean)} and {asked(corner.pin_lean)}, one gauge opens {opens} {length(gap)} over "
            f"{length(width)} of board, so by a tolerance of {length(tolerance)} it is {enough}; its error of {off} "
            f"{degrees(error)} is {beside} than the {degrees(setting_error)} to which the gauge is set.")


def say_setting_errors(sample, tolerance, length=millimetres):
    """What a `Jitter` sample shows."""
    boxes, corners, _ = sample.openings.shape
    pieces = "boxes" if corners > 1 else "corners"
    number, board, setting, opened = sample.matters_most
    line, bevel = sample.spread
    where = f" at corner {number}" if corners > 1 else ""
    return (f"Of {boxes:,} {pieces} with every end line off by a spread of {degrees(line)} and every end bevel by "
            f"{degrees(bevel)}, the boards held at the leans asked, half open by at most "
            f"{length(sample.quantile(0.5))} at their worst place and nine in ten by at most "
            f"{length(sample.quantile(0.9))}; {100 * sample.within(tolerance):.1f} % keep within {length(tolerance)}. "
            f"What matters most is the {setting} of the {board} board{where}: off by its spread, it alone opens "
            f"{length(opened)}.")


def say_named(name, height, length=millimetres):
    """Error, gap and closed box of one of NAMED_CORNERS, as the instructor's guide tells it."""
    if name not in NAMED_CORNERS:
        raise ValueError(f"There is no corner called {name!r}: choose {', '.join(NAMED_CORNERS)}.")
    corner = NAMED_CORNERS[name]
    shortcut = OneGauge(corner)
    worse = max(BOARDS, key=lambda board: abs(shortcut.error(board)))
    error = abs(shortcut.error(worse))
    judged = "within" if error <= GAUGE_SETTING_ERROR else "beyond"
    return (f"{name.capitalize()}, {asked(corner.tail_lean)} and {asked(corner.pin_lean)}: the worse line, on the "
            f"{worse} board, is {degrees(error)} too steep, {judged} the {GAUGE_SETTING_ERROR:g}° to which a gauge is "
            f"set by hand. {say_hold_leans(corner, height, length)} {say_closed(corner, height, length)}")
