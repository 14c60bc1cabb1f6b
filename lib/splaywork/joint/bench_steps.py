"""The eleven bench steps of a joint in words: what to do, what to check with which tolerance, and what can hurt.

The numbers are the joint's own. Tolerances, and the trial corner's stock, are common practice, with no source.
"""

import re
from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..common.boards import BOARDS, other
from ..common.printing import degrees, intended, length, offset, offset_parts, typed, unit_name
from ..common.tolerances import SAME_SETTING as SAME
from ..common.wedges import FLAT_TOP, pair_width
from ..corner.projection import point_angles
from ..corner.words import on_both, series
from .bench_setups import (
    FIRST,
    PROP_AT,
    TOUCHES,
    at_the_bevel,
    blank_width,
    chisel_leans,
    comes_off,
    edge_slopes,
    falls_behind,
    gauged,
    hangs_over,
    lean_wedge,
    off_straight,
    packing,
    pencil_block,
    prop_height,
    propped,
    runs_past,
    stands_out,
    stop_above,
)
from .words import proud

if TYPE_CHECKING:
    from .joint import Joint
    from .lines import Line

INCH = 25.4  # mm
PENCIL = 1.0  # mm in 100 mm: how near a pencil's line should be to its offset
LINE = 0.5  # mm in 100 mm: how near a struck line should be to its offset; a rule shows half a millimetre
MARK = 0.5  # mm: how near a mark should be to its place
LIGHT = 0.2  # mm: the widest light that a bevel, a square or a fit should show
WEDGE = 40.0  # mm: how thick a wedge should be, to hold a board in the vice
STRAIGHT = 1.0  # degrees: saw cuts this near to straight across the bench are straight
OTHER_HAND = {"left": "right", "right": "left"}
_ASIDE = "\ue000{}\ue001"  # an explanation, or a reminder, between two private characters until the step is put together


_BEGINS = {  # step -> the words with which its parts begin, but for the first, as they are said of one joint or another
    1: ("Rip the bottom edge first", "Then rip the top edge"),
    2: ("Stand the boards", "Set a pair of wedges", "Set each board's own pair", "Set a square block",
        "Push the tail board's end", "Then clamp"),
    3: ("Lay the face with the points flat", "Now swap"),
    4: ("From the pencil line's lower end", "Set the bevel", "From both ends of that line", "On the top edge"),
    5: ("Strike both end lines again", "Strike the tail board's end line again", "Strike the pin board's end line again",
        "For step 6"),
    6: ("Hold the board in the vice", "Tail board: its end", "Pin board: its end", "Saw plumb and square to the face",
        "Saw in the waste", "Stand both boards as in step 2 again"),
    7: ("On the tail board's outer face", "On the baseline"),
    8: ("Hold the bevel's stock", "Or use no bevel", "Or use no square", "On the inner face's baseline"),
    9: ("Hold the tail board end up", "Saw in the waste", "For the piece above the last tail",
        "For the piece below the first tail", "Clamp the board flat"),
    10: ("Clamp a straight stop", "Lay the tail board", "Stand a prop", "Make the check before you scribe",
         "Draw the pins' sides"),
    11: ("Saw plumb", "Clamp the board flat", "For the dry fit"),
}


@dataclass(frozen=True)
class BenchStep:
    """One step. do: sentences. check: what to measure, with its tolerance. caution: what can hurt here."""

    number: int
    title: str
    do: tuple
    check: str
    caution: str

    @property
    def spoken(self) -> str:
        """All of it in one paragraph."""
        return f"{self.number}. {self.title}. {' '.join(self.do)} Check: {self.check} Take care: {self.caution}"

    @property
    def begins(self) -> tuple[str, ...]:
        """The words in it with which a part of the work begins, bold on a page; none for the first."""
        found = (re.search(f"{re.escape(words)}[.,:]?", self.spoken) for words in _BEGINS[self.number])
        return tuple(each.group() for each in found if each and not self.do[0].startswith(each.group()))


def aside(angle: float, unit: str = "mm") -> str:
    """How far a line at `angle` degrees from square goes aside in 100 mm, `50.0 mm`; or in 4 in, `2″`; without a sign."""
    return offset_parts(abs(angle), unit)[0]


def hundred(unit: str = "mm") -> str:
    """The height that offsets are counted on: `100 mm` or `4″`."""
    return offset_parts(0, unit)[1]


def _slant(angle, unit):
    """`is square to the bottom edge`, or `slants 50.0 mm in 100 mm (26.6°) from square: the board is longer at the top`."""
    if abs(angle) < SAME:
        return "is square to the bottom edge"
    longer = f"the board is longer at the {'top' if angle > 0 else 'bottom'}"
    return f"slants {offset(abs(angle), unit)} ({degrees(abs(angle))}) from square: {longer}"


def _rip(joint, unit):
    leaning = [board for board in BOARDS if comes_off(joint, board)]
    marked = "Mark the outer face of each board with an arrow to its top edge, and with T (tail board) or P (pin board)."
    thick = _equally(BOARDS, f"Measure first that each board is {{}} thick, within {ruled_fine(LIGHT, unit)}",
                     f"Measure the thickness first, within {ruled_fine(LIGHT, unit)}",
                     lambda board: typed(joint.thickness(board), unit)) + " Any other thickness needs different numbers."
    if not leaning:
        light = f"A square on each edge shows no light wider than {ruled_fine(LIGHT, unit)}."
        return [thick, marked, *_ripped(joint, unit)], light, _PLANE
    ways = {board: "outer" if joint.corner.lean(board) > 0 else "inner" for board in leaning}
    over = (f"its {ways[leaning[0]]} face must overhang" if len(set(ways.values())) == 1 else
            "the tail board's {tail} face must overhang, the pin board's {pin} face".format(**ways))
    what = {1: f"the {leaning[0]} board", 2: "each board"}[len(leaning)]
    return (
        [thick, marked, *_ripped(joint, unit), f"Stand {what} on that edge, and hold it: {over}. If the wrong face overhangs, "
         "change that board's face marks, and scribe the top edge's line again. Then rip the top edge."],
        _equally(BOARDS, f"Both faces of each board are {{}} wide, within {ruled_fine(MARK, unit)}, at both ends",
                 f"Measure both faces at both ends, within {ruled_fine(MARK, unit)}",
                 lambda board: length(joint.corner.slant_width(joint.height, board), unit)),
        _RIP,
    )


def _ripped(joint, unit):
    """Sentences: how wide each board is planed, which arris comes off, and to which line; what is equal on both comes once."""
    off = {board: comes_off(joint, board) for board in BOARDS}
    wide = {board: length(joint.corner.slant_width(joint.height, board), unit) for board in BOARDS}
    square, boards = ([board for board in BOARDS if bool(off[board]) is ripped] for ripped in (False, True))
    if len(square) == 2 and wide["tail"] == wide["pin"]:
        return [f"Plane the edges of both boards square, {wide['tail']} apart."]
    do = [f"Plane the edges of the {board} board square, {wide[board]} apart." for board in square]
    if boards:
        names = "both boards" if len(boards) == 2 else f"the {boards[0]} board"
        ways = [off[board] for board in boards]
        edges = ([("", ways[0])] if len(boards) == 2 and len(set(ways)) == 1 else
                 [(f"{board} board's ", off[board]) for board in boards])
        do += [
            _equally(boards, f"Plane {names} {{}} wide, edges square", f"Plane {names} to width, edges square",
                     lambda board: length(blank_width(joint, board), unit)),
            *(f"At the {whose}bottom edge the {bottom} arris comes off, at the top edge the {top} arris."
              for whose, (bottom, top) in edges),
            _equally(boards, "With the marking gauge scribe a line {} from each of these arrises, on the face of the same name",
                     "With the marking gauge scribe a line from each of these arrises, on the face of the same name",
                     lambda board: length(gauged(joint, board), unit)),
            _equally(boards, "Across both ends join each line to the edge's other arris, {} out of square",
                     "Across both ends join each line to the edge's other arris, out of square",
                     lambda board: intended(abs(joint.corner.lean(board)))),
            "Rip the bottom edge first. Hold the board end up in the vice, and turn the saw until it follows line and arris.",
            "Saw in the waste, halfway from each end, and plane to line and arris.",
        ]
    return do


def _equally(boards, one, each, words):
    """A sentence with the one value of all boards in its place `{}`, or with each board's after a colon."""
    values = dict.fromkeys(map(words, boards))
    told = "; ".join(f"{words(board)} on the {board} board" for board in boards)
    return one.format(*values) + "." if len(values) == 1 else f"{each}: {told}."


def overhang(joint: "Joint", board: str) -> float:
    """How far the top arris of a board's overhanging face stands out beyond its foot, level, mm."""
    return float(joint.height * np.tan(np.radians(abs(joint.corner.lean(board)))))


def wedge_pairs(joint: "Joint") -> dict[str, int]:
    """Degrees of a wedge -> how many pairs of it the steps use, for propping the boards and for sawing the tails."""
    used = Counter(intended(abs(lean)) for lean in map(joint.corner.lean, BOARDS) if abs(lean) >= SAME)
    if wedged(joint):
        turned = intended(abs(lean_wedge(joint)))
        used[turned] = max(used[turned], 1)
    return dict(used)


def _make_wedges(joint, unit):
    angles = {intended(abs(angle)): abs(angle) for angle in (*map(joint.corner.lean, BOARDS), lean_wedge(joint))}
    wide = {angle: length(pair_width(exact, joint.height), unit) for angle, exact in angles.items()}
    made = [f"{('one pair', 'two pairs')[count - 1]} of {angle}, block{'s' * (count - 1)} {wide[angle]} wide"
            for angle, count in wedge_pairs(joint).items()]
    if not made:
        return []
    flat = typed(FLAT_TOP, unit)
    each = "the" if sum(wedge_pairs(joint).values()) == 1 else "each"
    return [
        f"Saw wedges in pairs: {'; '.join(made)}. {each.capitalize()} block is {typed(joint.height, unit)} tall and "
        f"{typed(WEDGE, unit)} thick, grain upright, and makes one pair.",
        f"Mark {each} block on one broad side, {flat} in from the left at the bottom, and {flat} in from the right at the top. "
        "Square both marks across to the other broad side, and join the marks on either side. Saw from mark to mark, and plane "
        "both slopes.",
    ]


def ruled_fine(size: float, unit: str) -> str:
    """A tolerance: `0.2 mm`, `0.008 in`, or the nearest 1/64 in."""
    return length(max(size, INCH / 64) if unit == "in" else size, unit)


_PLANE = "Plane irons cut: keep fingers off the edge that you test."
_RIP = (
    "Rip boards as short as these by hand. At a machine rip one long board, with fence, guard and riving knife, and the offcut "
    "free to fall away. Never rip freehand."
)


def _prop(joint, unit):
    second = other(FIRST)
    touch = _touch(joint, FIRST)
    light = (f"Lay a card with a {card_corner(joint)} flat on the bench inside the corner. Beside the card and under the "
             f"boards no light is wider than {ruled_fine(LIGHT, unit)}. Otherwise turn a board, or plane its edge"
             f"{' or its wedges' * bool(wedge_pairs(joint))}.")
    return (
        [
            *_make_wedges(joint, unit),
            "Stand the boards at a corner of the bench, outer faces outwards: seen from outside, the tail board is on the "
            f"right. Leave {enough(beside(joint), unit)} of bench outside each board.",
            *_held(joint),
            f"Push the {second} board's end against the {FIRST} board's inner face.{touch}",
            f"Let the {FIRST} board run {typed(runs_past(joint, FIRST), unit)} or more past the bottom of the {second} "
            "board's outer face: the whole line then falls on wood.",
            _clamped_down(joint),
        ],
        f"{_lean_check(joint, unit)}{_upright_check(joint, unit)}{light}",
        "A board that isn't clamped topples, or slides.",
    )


def _touch(joint, marked):
    """A sentence: where alone the boards touch while `marked` runs past the other; nothing where they touch all over."""
    inner = joint.planes[f"{marked} inner"]
    near = propped(joint, marked).corners[other(marked)][:, 0].reshape(-1, 3)
    off = abs(inner.height_of(near))
    if max(off) < 1e-6:
        return ""
    where, gap = ("bottom", "above") if near[np.argmin(off)][2] < joint.height / 2 else ("top", "below")
    return f" The boards touch at the {where} only: the gap {gap} belongs there."


def beside(joint: "Joint") -> float:
    """How much of the bench, mm, a wedge or a block takes outside a board, from the bottom arris of the outer face."""
    return max(joint.height * np.tan(np.radians(max(joint.corner.lean(board), 0.0))) + FLAT_TOP
               if abs(joint.corner.lean(board)) >= SAME else WEDGE for board in BOARDS)


def card_corner(joint: "Joint") -> str:
    """The corner of the card that is laid between the boards, in words."""
    plan = joint.corner.plan_angle
    return "square corner" if plan == 90 else f"corner of {intended(plan)}"


def enough(size: float, unit: str) -> str:
    """A size in mm that is enough, in words: the next multiple of 5 mm, or of 1/4 in."""
    step = 5.0 if unit_name(unit) == "mm" else INCH / 4
    return typed(step * float(np.ceil(round(size / step, 6))), unit)


def _held(joint):
    """Sentences: what each board leans on, near its far end, and how the clamps hold it there."""
    leans = {board: joint.corner.lean(board) for board in BOARDS}
    leaning = [board for board in BOARDS if abs(leans[board]) >= SAME]
    block = "Set a square block against {} outer face, near the far end, and clamp the board to the block."
    if not leaning:
        return [block.format("each board's")]
    own = "each board's own pair" if len({intended(abs(leans[board])) for board in leaning}) == 2 else "a pair"
    where = ("its far end" if own != "a pair" else "each board's far end" if len(leaning) == 2 else
             f"the {leaning[0]} board's far end")
    return [
        f"Set {own} of wedges at {where}. One wedge goes under the face that overhangs, thick end down. The "
        "wedge's twin goes upside down on the other side.",
        "Clamp wedge, board and twin together: the clamp's jaws lie parallel."
        + _ASIDE.format(" If the twin creeps up, lay sandpaper between."),
        *(block.format(f"the {board} board's") for board in BOARDS if board not in leaning),
    ]


def _clamped_down(joint):
    """A sentence: what a second clamp at each board holds down on the bench, once the boards touch."""
    leaning = [abs(joint.corner.lean(board)) >= SAME for board in BOARDS]
    held = ("each outside wedge" if all(leaning) else "the outside wedge and the block" if any(leaning) else "each block")
    return f"Then clamp {held} down to the bench."


def _lean_check(joint, unit):
    """Sentences: how a rule reads each board's lean while it stands on the bench; nothing where both are upright."""
    reads = {board: length(overhang(joint, board), unit) for board in BOARDS if abs(joint.corner.lean(board)) >= SAME}
    away = on_both(reads.__getitem__) if len(reads) == 2 else "".join(f"{size} on the {board} board"
                                                                     for board, size in reads.items())
    return ("Beside the wedge slide a square along the bench, until its blade touches the top arris of the face that "
            f"overhangs. Measure from the blade to that face's bottom arris: {away}, within {ruled_fine(MARK, unit)}. "
            if away else "")


def _upright_check(joint, unit):
    """A sentence: how a square tries the boards that stand upright; nothing where both lean."""
    upright = [board for board in BOARDS if abs(joint.corner.lean(board)) < SAME]
    if not upright:
        return ""
    whose = "each board's" if len(upright) == 2 else f"the {upright[0]} board's"
    return f"Stand a square on the bench against {whose} outer face: no light is wider than {ruled_fine(LIGHT, unit)}. "


def _project(joint, unit):
    second = other(FIRST)
    tail, pin = (_slant(joint.corner.end_line(board), unit) for board in BOARDS)
    each = f"On the tail board the line {tail}. On the pin board the line {pin}."
    longer = ": the board is longer at the top", ": the board is longer at the bottom"
    for words in longer:
        if tail.endswith(words) and pin.endswith(words):
            each = f"{each.replace(words, '')} Both boards are longer at the {words.split()[-1]}."
    lines = f"On both boards the line {tail}." if tail == pin else each
    leaning = any(abs(joint.corner.lean(board)) >= SAME for board in BOARDS)
    why = "isn't at its lean" if leaning else "isn't upright"
    topples = "a board can slip between its wedges" if leaning else "a board can topple"
    slants = any(abs(joint.corner.end_line(board)) >= SAME for board in BOARDS)
    touch = _touch(joint, second)
    measure = f" From a line's lower end measure {hundred(unit)} square up, and then sideways to that line." if slants else ""
    return (
        [
            "Saw both ends of a thin wooden straightedge {:.0f}° out of square, so that one edge is longer. Pare both ends "
            "back {:.0f}° from one face, as drawn. The points are in the other face: one marks the pin board, one the tail "
            "board."
            .format(*point_angles(joint.corner)),
            f"Lay the face with the points flat on the {second} board's outer face, longer edge up"
            + _ASIDE.format(", level or not")
            + f", one point against the {FIRST} board. If more than the point touches, pare more.",
            "Mark where the point touches, low and high. Join the marks, from edge to edge.",
            "Now swap. Take off the clamps that go down to the bench. "
            f"Push the {FIRST} board's end nearest that line against the {second} board's inner face."
            + (touch if touch != _touch(joint, FIRST) else _ASIDE.format(touch.partition(":")[0].replace(
                "The boards", "Again the boards") + ".") if touch else ""),
            f"Let the {second} board's end that touched run {typed(runs_past(joint, second), unit)} or more past the bottom of "
            f"the {FIRST} board's outer face. Clamp again, and check as in step 2.",
            f"Mark the {second} board from the {FIRST} board's outer face.",
        ],
        f"{lines}{measure} The pencil line may differ by {ruled_fine(1.0, unit)} in {hundred(unit)}. If the line differs more, "
        f"a board {why}: go back to step 2.",
        f"Press the straightedge on lightly, with a flat hand: {topples}.",
    )


def across_an_edge(joint: "Joint") -> float:
    """How far from square the line lies that carries a mark across an edge, degrees; the same on both boards' edges."""
    return next(each.from_square for each in joint.lines_on("tail", "bottom") if each.name == "end line")


def _carry(joint, unit):
    bottom = across_an_edge(joint)
    tool = "a square" if bottom < SAME else "the same bevel"
    ripped = any(comes_off(joint, board) for board in BOARDS)
    across = ("square a line" if bottom < SAME else f"draw a line {degrees(bottom)} from square")
    stock = "a square's stock" if bottom < SAME else "a bevel's stock"
    knife = all(abs(joint.corner.end_line(board)) < SAME for board in BOARDS)
    return (
        [
            f"Hold {stock} on the inner face, where the pencil line is"
            + (". At a ripped edge the stock touches along one line only: keep the blade flat on the edge." if ripped else "."),
            f"From the pencil line's lower end {across} across the bottom edge to the outer face.",
            *_turn_over(joint),
            "On the top edge join the upper ends of the two lines. Hatch the waste: the wood that ran past the other board.",
        ],
        f"Lay {tool} across the top edge{_ASIDE.format(', stock on either face')}, blade flat on the edge: the blade follows "
        f"that line to {ruled_fine(LINE, unit)}.",
        ("A marking knife slips: keep the other hand behind it." if knife else
         "A fresh arris cuts, and gives splinters: slide the tool along it, and not your hand."),
    )


def _turn_over(joint):
    """Sentences: how the line on the inner face is struck again on the outer face, with the bevel turned over, or squared up
    both faces: of a square end line the pencil line has only found the lower end."""
    slanted = [board for board in BOARDS if abs(joint.corner.end_line(board)) >= SAME]
    if not slanted:
        return ["From both ends of that line square lines up both faces, and cross out the pencil line."]
    both = len(slanted) == 2
    do = [
        ("Set the bevel to the pencil line" if both else f"On the {slanted[0]} board set the bevel to the pencil line")
        + ", its stock along the bottom edge, its blade flat on the face.",
        "Turn the bevel over. On the outer face draw the end line up from the line across the edge, in pencil, towards the "
        "same end of the board.",
    ]
    if not both:
        do.append(f"On the {other(slanted[0])} board square lines up both faces, and cross out the pencil line.")
    return do


def _bevel(joint, unit):
    lines = {board: joint.corner.end_line(board) for board in BOARDS}
    named = [
        f"{aside(angle, unit)} for the {board} board's end line" for board, angle in lines.items() if abs(angle) >= SAME
    ]
    if len(named) == 2 and abs(abs(lines["tail"]) - abs(lines["pin"])) < SAME:
        named = [f"{aside(lines['tail'], unit)} for both end lines"]
    do = [
        f"On a scrap with a straight edge square a line up, {hundred(unit)} long. The offset is how far aside the bevel's line "
        f"goes in {hundred(unit)}.",
        "From the top of the squared line measure the offset, parallel to the edge, and mark the place"
        + (f": {'; '.join(named)}." if named else "."),
        "Lay the stock on the edge and the blade through the line's lower end and the mark.",
    ]
    do += [] if named else ["Both end lines are square, and need no bevel."]
    if named:
        slanted = [board for board in BOARDS if abs(lines[board]) >= SAME]
        which = f"the {slanted[0]} board's end line" if len(slanted) == 1 else "both end lines"
        do.append(_ASIDE.format("The bevel's line is more exact than the pencil line. ")
                  + f"Strike {which} again with bevel and knife, on both faces, from the same lower ends."
                  + _ASIDE.format(" A rule along a short blade lengthens the line.")
                  + " Join the new lines on the top edge, and cross out the old ones.")
        do += [f"The {other(slanted[0])} board keeps its square line."] if len(slanted) == 1 else []
    tilt = abs(joint.sawn_bevel)
    if named or tilt >= SAME:
        if tilt >= SAME:
            do.append(f"For step 6 draw the end bevel on the scrap too, {offset(tilt, unit)}.")
        do.append("Keep the scrap, to set the bevel again.")
    return (
        do,
        f"Strike a line with the bevel and measure the offset again: within {ruled_fine(LINE, unit)}.",
        "Keep the other hand behind the knife. Lay the bevel down flat: a blade that sticks up cuts.",
    )


def _tip(joint):
    """Sentences: which way, and how far, a board in the vice is turned so that its end line is plumb."""
    angles = {board: joint.corner.end_line(board) for board in BOARDS}
    slanted = [board for board in BOARDS if abs(angles[board]) >= SAME]
    if not slanted:
        return ["The end line is plumb as the board stands."]
    ways = {board: ("lower" if angles[board] > 0 else "raise", degrees(abs(angles[board]))) for board in slanted}
    until = "until a short level held along the end line reads plumb"
    told = [f"{way} the {board} board's other end by {size}" for board, (way, size) in ways.items()]
    if len(slanted) == 2 and len(set(ways.values())) == 1:
        told = ["{} the board's other end by {}".format(*ways["tail"])]
    plumb = [f"The {board} board's end line is plumb as the board stands." for board in BOARDS if board not in slanted]
    return [f"{', '.join(told).capitalize()}, {until}.", *plumb]


def saw_turns(joint: "Joint", board: str) -> tuple[str, str]:
    """(hand that the end lies on, hand that the saw's far end turns to) of a board in the vice, outer face towards you.

    The second is "" where the end is sawn square to the face.
    """
    hand = "left" if board == "tail" else "right"
    tilt = joint.sawn_bevel
    turns = "" if abs(tilt) < SAME else hand if tilt > 0 else OTHER_HAND[hand]
    return hand, turns


def _plane_tilts(tilt):
    """A sentence: which way the plane tilts on a flush end while the board is held end up."""
    return f" Tilt the plane {degrees(abs(tilt))} down towards the {'outer' if tilt > 0 else 'inner'} face."


def _nick_the_edge(joint):
    """A sentence: where a knife holds the saw as it starts on a top edge that slopes under it; nothing where neither does."""
    sloping = [board for board in BOARDS if edge_slopes(joint, board) >= SAME]
    if not sloping:
        return []
    whose, on = ("the", "") if len(sloping) == 2 else (f"the {sloping[0]} board's", f" on the {sloping[0]} board")
    nicked = f"that line{on} with the knife first"
    if packing(joint) >= SAME:  # on a square end the saw doesn't follow the line that was carried round
        nicked = f"{whose} top edge with the knife where the saw starts"
    return [f"Nick {nicked}, so that the saw doesn't slide."]


def _saw_end(joint, unit):
    tilt = joint.corner.end_bevel
    deep = max(joint.corner.slant_width(joint.height, board) / np.cos(np.radians(joint.corner.end_line(board)))
               for board in BOARDS)
    do = [f"Take the panel saw, which has no back: the cut is {length(float(deep), unit)} deep."
          + _ASIDE.format(" The saw's tip points away from you."),
          "Hold the board in the vice, bottom edge down, its face plumb, the outer face towards you. Its end must stick out "
          "past jaws and bench's end. If its end points to the bench's middle, turn the board round, its inner face towards you"
          + _ASIDE.format(", and go by the line on that face") + ".",
          *_tip(joint)]
    sloping = "" if joint.end != "flush" or abs(tilt) < SAME else _plane_tilts(tilt)
    slants = any(abs(joint.corner.end_line(board)) >= SAME for board in BOARDS)
    if abs(tilt) < SAME:
        do += ["Saw plumb and square to the face, along the end line and the line across the top edge."]
    elif joint.end == "flush":
        for board in BOARDS:
            hand, turns = saw_turns(joint, board)
            do.append(f"{board.capitalize()} board: its end is at your {hand}. Turn the saw's tip {degrees(abs(tilt))} to the "
                      f"{turns}.")
        do += [
            "Turned round, a board has its end at your other hand, but the saw's tip goes to the same hand as before.",
            "The blade is plumb, and follows the end line and the line across the top edge."
            + _ASIDE.format(f" Seen from above, that line too points {degrees(abs(tilt))} aside."),
        ]
    else:
        out = on_both(lambda board: f"{length(proud(joint, board)[0], unit)} on its {proud(joint, board)[1]} face")
        do += [
            f"Saw plumb and square to the face. Each end stands proud of its end line: {out}.",
            "The saw follows the end line on the other face. Plane off what stands proud after assembly.",
        ]
    do += [
        *_nick_the_edge(joint),
        f"Saw in the waste. Then hold the board end up{', tipped until its end is level from edge to edge' * slants}, and "
        f"plane to the lines, from both edges towards the middle.{sloping}",
    ]
    between = joint.corner.dihedral if joint.end == "flush" else 90.0
    if abs(between - 90) < SAME:
        test = "At right angles to the end line, lay a square's stock on the outer face and its blade on the end."
    else:
        which = "wider" if between > 90 else "narrower"
        test = (f"Set the bevel as in step 5, with {aside(between - 90, unit)}, to the scrap line's {which} angle with its "
                f"edge, {degrees(between)}. Put that angle round the end's outer arris: the stock on the outer face, the blade "
                "across the end, each square to the end line.")
    return (
        do,
        f"{test} No light is wider than {ruled_fine(LIGHT, unit)}.{_ASIDE.format(' Otherwise plane again.')} "
        f"{_stop(joint, unit)}",
        "Tug the board before you saw. A saw jumps out of its cut: keep the other hand clear of the blade.",
    )


def light_of_line(joint: "Joint") -> float:
    """The light, mm, between an end and the other board's inner face when its line is out by `LINE` in 100 mm."""
    return max(float(LINE / 100 * joint.corner.slant_width(joint.height, board)
                     * abs(joint.planes[f"{other(board)} inner"].normal @ joint.corner.vector(f"{board}_level")))
               for board in BOARDS)


def _stop(joint, unit):
    """Sentences: the butted corner, looked at before the joint is marked, and what light a good line may still leave."""
    closes = at_the_bevel(joint)
    most = ruled_fine(light_of_line(joint), unit)
    again = "3 to 5" if any(abs(joint.corner.end_line(board)) >= SAME for board in BOARDS) else "3 and 4"
    cure = f"Plane {'the end' if closes else 'that arris'} where it touches"
    return (
        f"Stand both boards as in step 2 again. Push each end in turn against the other board's inner face: the end"
        f"{_ASIDE.format(' now')} touches {'all over' if closes else 'along one arris'}, at any place along that face. Good "
        f"lines may at first leave light up to {most} wide. {cure}, until no light is wider than {ruled_fine(LIGHT, unit)}. If "
        f"more than {most} shows with the end planed to its lines, a line is wrong: do steps {again} again."
        + _ASIDE.format(" This time a board need run past only until the whole new line falls on wood.")
    )


def wedged(joint: "Joint") -> bool:
    """Whether wedges in the vice turn the tail board so that its saw cuts run straight across."""
    return off_straight(joint) <= STRAIGHT and abs(lean_wedge(joint)) >= SAME


def _nick_each_line(joint, board):
    """A sentence: a knife holds the saw on a slanted end; nothing where the end is square."""
    return ["The end slopes: nick each line with the knife first."] if abs(joint.corner.end_line(board)) >= SAME else []


def _saw_tails(joint, unit):
    wedge = lean_wedge(joint)
    if not wedged(joint):
        do = ["Take the fine saw. Hold the tail board end up in the vice, its bottom edge plumb."]
        do.append(
            "Follow the lines on the end: they don't run straight across."
            if off_straight(joint) > STRAIGHT
            else "The cuts run straight across the end. Tilt the saw to each tail's side."
        )
    else:
        thick = ("bottom", "top") if wedge > 0 else ("top", "bottom")
        own = abs(abs(wedge) - abs(joint.corner.tail_lean)) < SAME
        pair = f"its pair of wedges ({intended(abs(wedge))})" if own else f"a pair of wedges of {intended(abs(wedge))}"
        do = [
            f"Take the fine saw. Hold the tail board end up, its bottom edge plumb, between {pair}.",
            "Lay the wedges on their broad sides, slopes against the board, and tape the opposite sides to the jaws: the vice "
            f"opens {length(vice_opening(joint), unit)}.",
            f"On the outer face the wedge is thick at the {thick[0]} edge, on the inner face at the {thick[1]} edge.",
            "The cuts then run straight across the vice. Tilt the saw to each tail's side.",
        ]
    do += [
        f"Let {'both' if abs(joint.corner.tail_end_line) < SAME else 'the lower end of the'} baselines stand just above what "
        "grips the board. Join the baselines across both edges with the knife, to guide the saw.",
        *_nick_each_line(joint, "tail"),
        "Saw in the waste beside each tail's side, down to both baselines.",
        *_half_pins(joint, unit),
        *(_chopped(joint, unit, "tail") if joint.tails > 1 else ()),
    ]
    return (
        do,
        f"Each cut lies in the waste beside its line, on both faces. A rule laid across a sawn side touches from face to face, "
        f"with no light wider than {ruled_fine(LIGHT, unit)}. {_test_shoulders(joint, unit)}",
        ("Tug the board first. If the board slips, lay sandpaper on its wedges." if wedged(joint) else
         "Keep both hands behind the saw.") + f" {_CHOP}" * (joint.tails > 1),
    )


def _test_shoulders(joint, unit):
    """A sentence: with what the sawn-off shoulders are tested."""
    if abs(joint.corner.end_bevel) < SAME:
        return "A square on each shoulder shows no wider light."
    tool = "bevel of step 6" if joint.end == "flush" else f"bevel at {offset(abs(joint.corner.end_bevel), unit)}"
    return f"The {tool} on each shoulder{_ASIDE.format(', its stock on the outer face,')} shows no wider light."


def vice_opening(joint: "Joint") -> float:
    """How far a vice opens, mm, that holds the tail board between its pair of wedges."""
    wedge = np.radians(abs(lean_wedge(joint)))
    across = joint.corner.slant_width(joint.height, "tail") * np.sin(wedge) + joint.tail_thickness / np.cos(wedge)
    return float(across + 2 * FLAT_TOP)


def shoulder_turns(joint: "Joint") -> tuple[str, str]:
    """Hand that the saw's tip turns to for the piece above the last tail, and, the board rolled over, for that below the first.

    Both shoulders are at the end bevel, whichever way the ends are sawn; where there is none, these hands mean nothing.
    """
    hand = "left" if joint.corner.end_bevel > 0 else "right"
    return hand, OTHER_HAND[hand]


def _half_pins(joint, unit):
    """Sentences: how the two outer pieces of waste are sawn off, the board one way up and then the other."""
    line, tilt = joint.corner.tail_end_line, joint.corner.end_bevel
    tip = "" if abs(line) < SAME else f"{'raise' if line > 0 else 'lower'} the other end until the baseline is plumb"
    first, then = ("" if abs(tilt) < SAME else f"turn the saw's tip {degrees(abs(tilt))} to the {hand}"
                   for hand in shoulder_turns(joint))
    held = ", and ".join(filter(None, ("hold the board as in step 6", first)))
    how = ", and ".join(filter(None, (tip, then)))
    down = _ASIDE.format(", down to that tail's side") * bool(_parallel(joint) and first)
    return [
        f"For the piece above the last tail {held}.",
        f"Saw along the baseline{down}{_as_ends(joint, unit)}.",
        *_deeper(joint, unit, "The tail's side lies", 1),
        "For the piece below the first tail roll the board over: top edge down, the other face towards you, its end at the "
        "same hand as before" + (f". Now {how}." if how else "."),
        *_deeper(joint, unit, "Now the tail's side lies", -1),
    ]


def _deeper(joint, unit, side, way):
    """A sentence: on which face the saw goes deeper, down to the last tail's side (way 1), or to the first's (−1)."""
    off = way * falls_behind(joint)
    if abs(off) < TOUCHES:
        return []
    tilt = _ASIDE.format(": tilt the saw down towards that face")
    return [f"{side} {length(abs(off), unit)} deeper on the {'outer' if off > 0 else 'inner'} face{tilt}."]


def _as_ends(joint, unit):
    """How the shoulders are sawn: parallel to a flush end, or out of square where the end is square; nothing where both are."""
    tilt = abs(joint.corner.end_bevel)
    if tilt < SAME:
        return ""
    return _parallel(joint) or f", {degrees(tilt)} out of square to the face ({offset(tilt, unit)})"


def _parallel(joint):
    return ", parallel to the sawn end: the bevel of step 6 tests the cut" if joint.end == "flush" else ""


def tail_marks(joint: "Joint", unit: str = "mm") -> tuple[str, ...]:
    """Each mark in words, measured straight up the outer face from the bottom edge: `9.0 mm`, and so on upwards."""
    return tuple(length(mark, unit) for mark in joint.marks.ravel())


def tail_roots(joint: "Joint", face: str = "outer") -> list[float]:
    """Where the tails' sides meet the baseline of a face, from the bottom: mm straight up from its bottom edge."""
    return _meets(joint, face, joint.planes["pin inner"])


def inner_marks(joint: "Joint") -> list[float]:
    """Where the tails' sides meet the sawn end on the inner face, from the bottom: mm straight up from its bottom edge."""
    return _meets(joint, "inner", joint.planes["tail end"])


def _meets(joint, face, plane):
    surface = joint.tail_board.surfaces[face]
    ends = [each.ends for each in joint.lines_on("tail", face) if each.kind == "cheek"]
    return sorted(float(surface.flat(points[np.argmin(abs(plane.height_of(points)))])[1]) for points in ends)


def _strike_baselines(joint, reach, unit):
    """Sentences: a marking gauge runs on a square end; on a bevelled one its fence would rock, so each face is measured."""
    if abs(joint.corner.end_bevel) < SAME:
        return [f"Scribe the baselines on both faces with the marking gauge, {reach} from the sawn end."]
    if joint.end == "flush":
        return [
            f"On both faces measure in from the end's arris, square to the end line, at two places: {reach}.",
            "Join the two marks with the knife: this line is the baseline."
            + _ASIDE.format(" A marking gauge would rock on an end that isn't square."),
        ]
    outs = on_both(lambda board: f"{length(proud(joint, board)[0], unit)} on its {proud(joint, board)[1]} face")
    return [
        f"Scribe the baselines on both faces with the marking gauge, {reach} from the end line.",
        f"Where the end stands proud, set the gauge further, by as much as the end is proud: {outs}.",
    ]


def _mark_tails(joint, unit):
    reach = on_both(lambda board: length(joint.corner.baseline_offset(joint.thickness(other(board))), unit))
    marks = tail_marks(joint, unit)
    count = "the tail" if joint.tails == 1 else f"{joint.tails} tails"
    strike = _strike_baselines(joint, reach, unit)
    top = length(joint.slant_width - joint.marks[-1, 1], unit)
    slants = abs(joint.corner.tail_end_line) >= SAME
    unlike = _ASIDE.format(": the marks move unequally, because the end slants") if slants else ""
    now = _ASIDE.format(", now the end's outer arris") * at_the_bevel(joint)
    halves = f"each {top}" if top == marks[0] else f"{marks[0]} and {top}"
    return (
        [
            *strike,
            f"On the tail board's outer face mark {count} on the end line{now}. Measured square up from the bottom edge, the "
            f"marks stand at {series(marks)}.",
            *(["Square two lines up that face from the bottom edge, clear of the end line. Measure each height on both, from "
               "the bottom arris. A rule laid through the two marks of one height crosses the end line at the tail's mark."]
              if abs(joint.corner.tail_end_line) >= SAME else []),
            f"Below the first mark and above the last is waste, where the half pins go: {halves}.",
            "On the baseline mark the same tails in the same way, narrower: "
            f"{series([length(root, unit) for root in tail_roots(joint)])}.",
            "Join the pairs of marks.",
            f"Each tail's sides then spread 1 in {joint.tail_slope:g}, equally from a level centre line{unlike}.",
        ],
        f"The last mark is {top} from the top edge, within {ruled_fine(MARK, unit)}."
        + " The baseline lies as far in as the other board's sawn end is broad." * (
            joint.end == "flush" and abs(joint.corner.end_bevel) >= SAME),
        ("Keep the other hand behind the knife. Hatch the waste now, so that you don't saw on the wrong side of a line."),
    )


def end_cheeks(joint: "Joint") -> "dict[str, Line]":
    """ "lower" and "upper" -> the first such cheek across the tail board's end, as a `lines.Line`."""
    return {
        which: next(each for each in joint.lines_on("tail", "end") if each.side == which)
        for which in ("lower", "upper")
    }


def falls(each: "Line") -> str:
    """Whether a line across the end slopes "down" or "up" towards the inner face, on the end laid flat; "" for square."""
    if each.from_square < SAME:
        return ""
    low, high = sorted(each.flat.tolist(), key=lambda point: abs(point[0]))  # the outer arris is where x is 0
    return "down" if high[1] < low[1] else "up"


def _edge_falls(joint):
    """Which way the tail board's bottom edge slopes across its end towards the inner face, as `falls`; "" where square."""
    outer, inner = joint.tail_board.blank[:, 0, 0]
    slope = float((inner - outer) @ joint.corner.vector("corner_line"))
    return "" if abs(slope) < 1e-9 else "down" if slope < 0 else "up"


def _across(joint, unit):
    lines = end_cheeks(joint)
    lower, upper = lines["lower"], lines["upper"]
    bevelled = joint.end == "flush" and abs(joint.corner.end_bevel) >= SAME

    def struck(each):
        way = falls(each)
        to = f"towards the {'bottom' if way == 'down' else 'top'} edge as the line nears the inner face"
        return "square" if not way else f"{offset(abs(each.from_square), unit)} from square, {to}"

    if abs(lower.from_square - upper.from_square) < SAME and falls(lower) == falls(upper):
        tool = "square" if not falls(lower) else "bevel"
        do = [
            *([f"Set the bevel to {offset(abs(lower.from_square), unit)}{_as_the_pin_board(joint, lower)}."] if falls(lower)
              else []),
            f"Hold the {tool}'s stock against the outer face, its blade across the end{_lies(joint, lower, struck)}.",
            *(["On a flush end the stock touches along one line only: keep the blade flat on the end."] if bevelled else []),
            "Draw a line across the end from each tail's side.",
        ]
        if thick := pencil_block(joint):
            do += [
                f"Or use no {tool}: while the board stands as in step 2, its end free, these lines are level.",
                f"Lay a pencil on a flat block no thicker than {typed(thick, unit)}. Pack the block up until the point touches "
                "a mark, and slide it along the bench.",
            ]
    else:
        do = _across_a_square_end(joint, lines, unit)
    inner, roots = ([length(mark, unit) for mark in marks] for marks in (inner_marks(joint), tail_roots(joint, "inner")))
    do.append(f"On the inner face's baseline mark {series(roots)}. Measure as in step 7, from that face's own bottom arris. "
              "Join each mark to the end of its line.")
    return (
        do,
        (f"On the inner face the lines meet the end {series(inner)} up from the bottom edge, within {ruled_fine(LINE, unit)}."),
        "Press the stock with the thumb, and draw knife or pencil away from it.",
    )


def _lies(joint, line, struck):
    """How the blade lies across a flush end, after "its blade across the end"; nothing where it is square."""
    if not falls(line):
        return ""
    if joint.rims != "level":
        return f", {struck(line)}"
    than = f", {'lower' if falls(line) == 'down' else 'higher'} on the inner face than a square line"
    return f": the blade lies parallel to the ripped bottom edge{_ASIDE.format(than)}"


def _as_the_pin_board(joint, line):
    """That a level line slants across the end as the pin board's end line does; nothing for any other."""
    same = abs(abs(line.from_square) - abs(joint.corner.pin_end_line)) < SAME
    return _ASIDE.format(", as for the pin board's end line") * bool(same)


def _across_a_square_end(joint, lines, unit):
    """Sentences: the two settings of the lines across a square end, which way these fall, and from which marks they start."""
    lower, upper = lines["lower"], lines["upper"]

    def falling(each):
        return {"down": "below square", "up": "above square", "": "square"}[falls(each)]

    ways = (f"Towards the inner face each line runs {falling(lower)}" if falling(lower) == falling(upper) else
            f"Towards the inner face the lower sides' lines run {falling(lower)}, the upper sides' lines {falling(upper)}")
    likewise = ", as the bottom edge does there" if falls(lower) == falls(upper) == _edge_falls(joint) else ""
    do = [
        "A square end needs two more settings, because its lines aren't level. Set the bevel to "
        f"{offset(abs(lower.from_square), unit)} for the tails' lower sides, and to {offset(abs(upper.from_square), unit)} for "
        "the upper sides.",
        f"{ways}{likewise}.",
    ]
    if proud(joint, "tail")[1] == "outer":
        do += [f"On the inner face mark the end at {series([length(mark, unit) for mark in inner_marks(joint)])}, square up "
               "from the bottom arris.",
               "Hold the bevel's stock against the outer face, its blade through such a mark, and draw a line across the end."]
    else:
        do.append("Hold the bevel's stock against the outer face, its blade across the end. Draw a line from each tail's side.")
    return do


def scribing(joint: "Joint", unit: str = "mm") -> list[str]:
    """How the pins are scribed, the one way that works (sentences); the solids allow it (`bench_setups.scribing_shift`)."""
    wedge = packing(joint)
    lying = "Lay the tail board on the sawn end, inner face down, the two bottom edges in one plane."
    if abs(joint.corner.tail_end_line) >= SAME:
        lying += (" The tail board then lies askew, because its end line slants: as you face vice and bench, its far end "
                  f"lies {askew(joint)[0]} to your {askew(joint)[1]}.")
    lying += _slopes(joint, unit)
    do = ["Hold the pin board end up in the vice, its outer face away from the bench."]
    if abs(joint.corner.pin_end_line) >= SAME:
        do.append("Tip the board until its sawn end is level from edge to edge.")
    do.append(f"Let the end's outer arris stand {typed(stands_out(joint), unit)} above the jaws.")
    if wedge >= SAME:
        do += [
            lying,
            f"Because the end is square, lay thin packing of {degrees(wedge)} under the tail board: the boards then stand at "
            f"{degrees(joint.corner.dihedral)} to one another.",
            "Bring the end line on the tail board's inner face in line with the pin board's outer face.",
        ]
    else:
        do += ["Clamp a straight stop to the pin board's outer face, a clamp at each edge, "
               f"{typed(stop_above(joint), unit)} of the stop above the end.", lying,
               "Push the sawn tail ends against the stop."]
    do += [_far_end(joint, unit),
           "Make the check before you scribe. Let nothing slide, and scribe along the tails' sides with a knife."]
    if sides := hangs_over(joint):
        nearer = "" if len(sides) == 2 else f" nearer the {'top' if sides == ('upper',) else 'bottom'} edge"
        do.append(f"At each tail's side{nearer} the wood hangs over the line: lean the knife along that side.")
    if wedge >= SAME:
        do.append("Carry each mark down to the end along the pin board's length.")
    return do


def askew(joint: "Joint") -> tuple[str, str]:
    """How far the tail board, lying for scribing, points away from straight back, in words; and to which hand of the maker.

    The maker stands before the vice, the pin board's outer face towards them.
    """
    return degrees(abs(joint.corner.tail_end_line)), "right" if joint.corner.tail_end_line > 0 else "left"


def _slopes(joint, unit):
    """A sentence: how the tail board, lying for scribing, slopes away from the vice; nothing where it lies level."""
    tilt = joint.corner.end_bevel if packing(joint) < SAME else 0.0
    way = "rises" if tilt > 0 else "drops"
    return "" if abs(tilt) < SAME else _ASIDE.format(f" Straight back from the vice the board {way} {offset(abs(tilt), unit)}.")


def _far_end(joint, unit):
    """How the tail board's far end is held for scribing."""
    tilt = joint.corner.end_bevel
    rests = _ASIDE.format(f": the tail board rests on the prop's arris {'nearer' if tilt > 0 else 'further from'} the vice")
    return (f"Stand a prop on its long edge under the tail board, {typed(PROP_AT, unit)} from the pin board and parallel to "
            f"the pin board's end. On a bench as high as the jaws the prop is {length(prop_height(joint), unit)} tall"
            f"{rests if abs(tilt) >= SAME else ''}. "
            + _ASIDE.format("On a lower bench pack the prop up. ")
            + "Begin with a taller prop, and plane it until the tail board lies on the end without light. Clamp tail board and "
            "prop down to the bench: with a clamp where the vice is at the bench's end, else with a holdfast."
            + _ASIDE.format(" Sandpaper between board and prop keeps the board from creeping.") * (abs(tilt) >= SAME))


def _scribe(joint, unit):
    level, flush = joint.rims == "level", packing(joint) < SAME
    rule = ("Lay a rule over both bottom edges, then over both top edges" if level
            else "Lay a rule over the outer arrises of both bottom edges")
    touch = " Every tail's end touches the stop." if flush else ""
    angle = joint.corner.pin_end_line
    tool = "a square" if abs(angle) < SAME else f"the bevel at {offset(abs(angle), unit)}"
    return (
        [*scribing(joint, unit),
         f"Draw the pins' sides down both faces to the baselines, parallel to the bottom edge. Use {tool}, its stock on the "
         f"sawn end{'' if abs(angle) < SAME else ', its blade flat on the face. Turn the bevel over for the inner face'}."],
        f"{rule}: no light is wider than {ruled_fine(LIGHT, unit)}.{touch}",
        "Both boards are clamped: keep the other hand behind the knife.",
    )


_CHOP = "Chop with both hands behind the cutting edge."


def _leans_over(joint, ways, tilted=True):
    """A sentence: where the chisel's handle leans on each face; nothing where it stands square to the face.

    ways: towards which edges it leans on the outer face, as of `chisel_leans`; tilted: whether its tilt is told, too.
    """
    tilt, faces = joint.corner.end_bevel, []
    for outer in (True, False):
        away = [f"{'away from' if (tilt > 0) == outer else 'towards'} the end"] * (tilted and abs(tilt) >= SAME)
        edge = [f"towards the {'top' if ('top' in ways) == outer else 'bottom'} edge"] * (len(ways) == 1)
        faces.append(" and ".join(away + edge))
    return ["On the outer face the chisel's handle leans {}, on the inner face {}.".format(*faces)] if faces[0] else []


def _chopped(joint, unit, board):
    """Sentences: how the waste between a board's tails or pins is chopped out."""
    tilt, ways = abs(joint.corner.end_bevel), chisel_leans(joint, board)
    tilted, along = f"{degrees(tilt)} ({offset(tilt, unit)})", []
    if not ways:
        hold = f"Tilt the chisel {tilted}." if tilt >= SAME else "Hold the chisel square to the face."
    elif not at_the_bevel(joint):
        hold = f"Tilt the chisel {tilted}, and beside a sawn side lean the chisel sideways, along the saw cut."
    else:
        drawn = "lines of step 8 across the end" if board == "tail" else "nearer line across the end"
        hold = f"Hold the chisel parallel to the {drawn}."
        tilts = f"tilts {degrees(tilt)}, parallel to the sawn end, and " * (tilt >= SAME)
        along = [_ASIDE.format(f"The chisel then {tilts}leans sideways along the saw cuts.")]
    return [f"Clamp the board flat on the bench, and chop out the waste between the {board}s.",
            f"Chop to the baselines, half way through from each face. {hold}", *along, *_leans_over(joint, ways)]


def _chopped_likewise(joint, unit):
    """Sentences: the waste between the pins, chopped out as that between the tails, and where the chisel leans there."""
    tail, pin = (chisel_leans(joint, board) for board in BOARDS)
    along = "parallel to each side's line across the end" if at_the_bevel(joint) else "leaning sideways along the nearer cut"
    but = "" if pin == tail else "but "
    told = f"Clamp the board flat, and chop out the waste between the pins as in step 9, {but}with the chisel {along}"
    if len(pin) == 2:
        leans = ["On the outer face the handle then leans over each pin, on the inner face away from each pin."]
    else:
        leans = [_ASIDE.format(each) if pin == tail else each for each in _leans_over(joint, pin, tilted=pin == tail)]
    return [f"{told}.", *leans, _ASIDE.format("Test the shoulders as in step 9.")]


def pin_slants(joint: "Joint") -> tuple[float, float]:
    """How the pins' two sides slant across the pin board's end, degrees from square to its outer arris, smaller first.

    Of one sign where all slant the same way; as `lines.Line.flat` has it.
    """
    slants = []
    for which in ("lower", "upper"):
        first, second = next(each.flat for each in joint.lines_on("pin", "end") if each.side == which)
        slants.append(float(np.degrees(np.arctan((second[1] - first[1]) / (second[0] - first[0])))))
    low, high = sorted(slants, key=abs)
    return low, high


def _pin_lines(joint):
    """Sentences: how the scribed lines slant, where they aren't two mirror images as in a square corner."""
    low, high = pin_slants(joint)
    if low * high < 0 and abs(abs(low) - abs(high)) < SAME:
        return []
    how = "all the same way" if low * high > 0 else "more one way than the other"
    return [f"These lines slant {how}{_ASIDE.format(', as they should')}: lay the saw along each line."]


def _in(joint):
    """Sentences: how the tail board is held, and the way in."""
    hold = "hold the pin board in both hands, and push it straight in"
    if joint.rims != "level":
        return [f"For the dry fit {hold}, level, along its own length."]
    held = "to its block" if abs(joint.corner.tail_lean) < SAME else "between its wedges"
    return [f"For the dry fit clamp the tail board as in step 2, {held}. {hold.capitalize()} along its own length, its whole "
            "bottom edge on the bench."]


def _together(joint, unit):
    do = [
        "Hatch the waste between the pins. Take the fine saw. Hold the pin board end up, its bottom edge plumb. Saw plumb, in "
        "the waste, along the lines on the end, down to both baselines.",
        *_nick_each_line(joint, "pin"),
        *_pin_lines(joint),
        *(_chopped_likewise(joint, unit) if joint.tails > 1 else _chopped(joint, unit, "pin")),
        *_in(joint),
        _ASIDE.format("A tipped board binds. ") + "Pare a pin where the pin rubs, never a tail.",
    ]
    if not at_the_bevel(joint):
        do.append("After the glue has dried, plane the proud ends down to the faces.")
    level = (
        "A level laid on the pin board's top edge reads as it does on the bench, all the way."
        if joint.rims == "level"
        else "The pin board's bottom edge stays level all the way."
    )
    lean, freed = _as_propped(joint, unit)
    return (
        do,
        f"{level} {lean} A {ruled_fine(LIGHT, unit)} feeler goes in at no shoulder; in a trial corner it may beside a pin. "
        f"{freed}",
        _CHOP,
    )


def _as_propped(joint, unit):
    """Sentences: the corner that is together, tested on the bench as the propped boards were: still clamped, and freed.

    The wedges hold the tail board at its lean, so that the pin board's tells whether the joint does.
    """
    light = f"no light wider than {ruled_fine(LIGHT, unit)}"
    blade = _ASIDE.format("from a square's blade at the top to the bottom arris ")
    shows = (f"{blade}{length(overhang(joint, 'pin'), unit)}, within {ruled_fine(MARK, unit)}"
             if abs(joint.corner.pin_lean) >= SAME else f"a square at its outer face shows {light}")
    rocks = "The corner doesn't rock. " * (joint.rims == "level")
    lean, freed = f"With the tail board clamped, measure the pin board as in step 2: {shows}.", "Now free the tail board."
    return lean, f"{freed} {rocks}The card{_ASIDE.format(', laid as in step 2,')} shows {light} beside it."


_STEPS = (
    ("Rip the edges to the lean", _rip),
    ("Prop the boards", _prop),
    ("Project each board onto the other", _project),
    ("Carry the marks round", _carry),
    ("Set a bevel without a protractor", _bevel),
    ("Saw the ends", _saw_end),
    ("Mark the tails", _mark_tails),
    ("Draw across the end", _across),
    ("Saw the tails", _saw_tails),
    ("Scribe the pins", _scribe),
    ("Saw the pins and push the joint together", _together),
)


def handed_steps(joint: "Joint") -> list[int]:
    """Numbers of the steps in which a side, or a turn, is to the left or right of the maker."""
    return [step.number for step in bench_step_words(joint) if re.search(r"\b(your|on the|to the) (left|right)\b", step.spoken)]


def unmirrored(joint: "Joint") -> str:
    """What stays as it is for the mirrored corner, although the hands are swapped."""
    return "no number changes" + ", and the wedges and their blocks stay as they are" * bool(wedge_pairs(joint))


def procedure(joint: "Joint", unit: str = "mm") -> tuple[tuple[str, str], ...]:
    """(heading, text) of each bench step, for pages without drawings."""
    return tuple((step.title, f"{' '.join(step.do)} Check: {step.check}") for step in bench_step_words(joint, unit))


def bench_step_words(joint: "Joint", unit: str = "mm", asides: bool = True) -> tuple[BenchStep, ...]:
    """The eleven `BenchStep`s of a `Joint`, lengths in `unit`, "mm" or "in"; asides: with what only explains or reminds."""
    steps = []
    for number, (title, step) in enumerate(_STEPS, start=1):
        do, check, caution = step(joint, unit)
        *do, check = (re.sub(_ASIDE.format("(.*?)"), r"\1" if asides else "", sentence) for sentence in (*do, check))
        steps.append(BenchStep(number, title, tuple(filter(None, do)), check, caution))
    return tuple(steps)
