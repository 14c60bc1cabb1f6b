"""A corner said in words and numbers, for the sentence under a picture and for those who can't see it."""

from collections.abc import Callable, Iterable
from textwrap import fill
from typing import TYPE_CHECKING, NamedTuple

from ..common import checks
from ..common.boards import BOARDS
from ..common.printing import DECIMAL, NUMBERS, intended, off, offset
from ..common.printing import length as printed_length
from ..common.text import Table, Words
from ..common.tolerances import SAME_ANGLE
from .corner import one_corner

if TYPE_CHECKING:
    from .corner import Corner

BASES = {"mm": 100.0, "in": 101.6, DECIMAL: 101.6}  # mm up a square line that an offset is told for: 100 mm, 4 in


def lean_words(lean: float) -> str:
    """"leaning out 14°", "leaning in 6.5°" or "upright", for a lean in degrees."""
    if abs(lean) < SAME_ANGLE:
        return "upright"
    return f"leaning {'out' if lean > 0 else 'in'} {intended(abs(lean))}"


def stands(lean: float) -> str:
    """"leans out 14°", "leans in 6.5°" or "is upright", for a lean in degrees."""
    return lean_words(lean).replace("leaning", "leans") if abs(lean) >= SAME_ANGLE else "is upright"


class Miss(NamedTuple):
    """How a struck line misses the true one: degrees, 0 or more, and "exact", "too much", "too little" or "wrong way"."""

    angle: float
    way: str

    @classmethod
    def of(cls, end_line: float, struck: float) -> "Miss":
        """The miss of a line struck at `struck` where the true end line is at `end_line`, both in degrees from square."""
        apart = abs(struck - end_line)
        if apart < SAME_ANGLE:
            return cls(apart, "exact")
        return cls(apart, "wrong way" if struck * end_line < 0 else "too much" if abs(struck) > abs(end_line) else "too little")


def how_far_off(end_line: float, struck: float) -> str:
    """How a struck line misses the true end line: "exact", or "0.4° too much"; both in degrees from square."""
    miss = Miss.of(end_line, struck)
    if miss.way == "exact":
        return miss.way
    return f"{off(miss.angle)} {'off, the wrong way' if miss.way == 'wrong way' else miss.way}"


def from_square(angle: float) -> str:
    """"square", or "5.8° from square", for a line at `angle` degrees from square."""
    return "square" if abs(angle) < SAME_ANGLE else f"{intended(angle)} from square"


def corner_words(corner: "Corner") -> Words:
    """The leans, the two end lines, and how the shortcut lines miss them, as `Words` (scalar corner).

    >>> import splaywork as sw
    >>> print(sw.corner_words(sw.Corner(16, 0)).partition('. ')[0])
    The tail board leans out 16°; the pin board is upright
    """
    corner = one_corner(corner)
    tail, pin = corner.tail_end_line, corner.pin_end_line
    leans = stands(corner.tail_lean), stands(corner.pin_lean)
    both = leans[0].replace("leans", "lean").replace("is ", "are ")
    stand = f"Both boards {both}." if leans[0] == leans[1] else f"The tail board {leans[0]}; the pin board {leans[1]}."
    plan = "" if corner.plan_angle == 90 else f" The plan angle is {intended(corner.plan_angle)}."
    misses = how_far_off(tail, corner.pin_lean), how_far_off(pin, corner.tail_lean)
    lines = (f"Both end lines are {from_square(tail)}." if abs(tail - pin) < SAME_ANGLE else
             f"The tail board's end line is {from_square(tail)}, and the pin board's is {from_square(pin)}.")
    return Words(f"{stand}{plan} {lines} {_missed(*misses)}.")


def _missed(tail, pin):
    """"Both shortcut lines are exact"; "The shortcut line slants 0.4° too much on the tail board and …"."""
    verbs = ["is" if miss == "exact" else "slants" for miss in (tail, pin)]
    if tail == pin:
        return f"Both shortcut lines {'are' if tail == 'exact' else 'slant'} {tail}"
    again = "" if verbs[0] == verbs[1] else f"{verbs[1]} "
    return f"The shortcut line {verbs[0]} {tail} on the tail board and {again}{pin} on the pin board"


def tail_end_words(corner: "Corner") -> str:
    """How the level lines lie on the tail board's end, and what a bevel set to its lean would strike there."""
    levels, lean = (corner.level_on_flush_end, corner.level_on_square_end), corner.tail_lean
    flush, square = map(from_square, levels)
    lines = (f"The level lines across the tail board's end are {flush} to the outer arris." if flush == "square" else
             f"The level lines across the tail board's end are {flush}." if flush == square else
             f"On a flush end the level lines are {flush}. On a square end the level lines are {square}, and the tails' "
             "cheeks cross the end at two other angles.")
    if abs(lean) < SAME_ANGLE:
        return lines
    exact = all(abs(level - lean) < SAME_ANGLE for level in levels)
    strikes = "strikes these level lines" if exact else f"strikes lines that are {from_square(lean)}"
    return f"{lines} A bevel set to the tail board's lean {strikes}."


def setting_words(angle: float, unit: str = "mm") -> str:
    """A bevel setting for a line at `angle` from square: "square", or degrees from square, from the edge, and offset.

    The edge is the one that makes the smaller angle, so a line that slants the other way has the same setting.
    """
    if abs(angle) < SAME_ANGLE:
        return "square"
    way = f"{'longer' if angle > 0 else 'shorter'} at the top"
    edge = f"{intended(90 - abs(angle))} from the edge ({offset(abs(angle), unit)})"
    return f"{from_square(abs(angle))}, {edge}; {way}"


class Setting(NamedTuple):
    """One setting of a corner: `key`, the attribute of `Corner`; its name; degrees; kind "line" (drawn on a face), "tilt"
    (sawn or ripped out of square) or "across" (a level line across an end)."""

    key: str
    name: str
    angle: float
    kind: str

    def words(self, unit: str = "mm") -> str:
        """The setting as it is written in a table."""
        return setting_words(self.angle, unit) if self.kind == "line" else from_square(self.angle)


SETTINGS = (("tail_end_line", "end line, tail board", "line"), ("pin_end_line", "end line, pin board", "line"),
            ("end_bevel", "end bevel", "tilt"), ("tail_rim_bevel", "rim bevel, tail board", "tilt"),
            ("pin_rim_bevel", "rim bevel, pin board", "tilt"),
            ("level_on_flush_end", "level line, flush tail end", "across"),
            ("level_on_square_end", "level line, square tail end", "across"))
SETTING_NAMES = {key: name for key, name, _ in SETTINGS}


def corner_settings(corner: "Corner") -> list[Setting]:
    """Every setting of a scalar corner, as `Setting`s in the order in which they are used."""
    return [Setting(key, name, getattr(corner, key), kind) for key, name, kind in SETTINGS]


def settings_table(corner: "Corner", unit: str = "mm", height: float | None = None, thickness: float | None = None) -> Table:
    """Every setting of a scalar corner as a `Table` for a page, offsets and lengths in `unit` ("mm" or "in").

    A flush and a square end share a row where their level lines are the same.

    height, thickness: mm, of both boards. With them the table has the widths to start with and to rip to, and the baselines.

    >>> import splaywork as sw
    >>> sw.settings_table(sw.Corner(16, 11)).rows[0]
    ('End line, tail board', '10.6° from square, 79.4° from the edge (18.7 mm in 100 mm); longer at the top')
    """
    corner = one_corner(corner)
    rows = [(capital(setting.name), setting.words(unit)) for setting in corner_settings(corner)]
    if abs(corner.level_on_flush_end - corner.level_on_square_end) < SAME_ANGLE:
        rows[-2:] = [("Level line, tail board's end", rows[-1][1])]
    else:
        rows[-1] = (rows[-1][0], f"{rows[-1][1]}; only for an end sawn square to its face: see notebook 09")
    if (height is None) != (thickness is None):
        raise ValueError("Only one of height and thickness was given: give both, in mm, or neither.")
    return Table(("setting", "value"), rows if height is None else
                 [*rows, *stock_rows(corner, checks.size("height", height), checks.size("thickness", thickness), unit)])


def on_both(words: Callable[[str], str]) -> str:
    """A phrase for each board, said once where both are the same: `… on both boards`, `… on the tail board; …`."""
    tail, pin = map(words, BOARDS)
    return f"{tail} on both boards" if tail == pin else f"{tail} on the tail board; {pin} on the pin board"


def _here(angle, none="square"):
    """`30° on both boards`, or each board's: an angle's size by board, in words; none: what a board without one is."""
    return on_both(lambda board: none if abs(angle(board)) < SAME_ANGLE else intended(abs(angle(board))))


def uses_table(corner: "Corner") -> Table:
    """Lean, end line and end bevel, and the two angles of a tail's side: how large, what, and what is set to each.

    >>> import splaywork as sw
    >>> [row[1] for row in sw.uses_table(sw.Corner(30, 30)).rows]
    ['30° on both boards', '26.6° on both boards', '14.5° on both boards', '26.6°', 'as you choose']
    """
    corner = one_corner(corner)
    return Table(("angle", "here", "what it is", "what you set to it"), [
        ("lean", _here(corner.lean, "upright"), "how far a board's face tips from plumb",
         "the wedges, and the cut that rips the edges; no bevel"),
        ("end line", _here(corner.end_line), "how far the line on a face slants from square to the bottom edge",
         "the bevel that strikes the end line on both faces"),
        ("end bevel", _here(lambda _: corner.end_bevel), "how far an end is sawn out of square to its face",
         "the saw's turn at the end, the bevel that tests the end, and the chisel's tilt"),
        ("level line", "square" if abs(corner.level_on_flush_end) < SAME_ANGLE else intended(abs(corner.level_on_flush_end)),
         "how far a tail's side slants from square across the tail board's flush end: as far as the pin board's end line",
         "the bevel that carries the tails across the end"),
        ("tail's slope", "as you choose", "how far each side of a tail, a cheek, spreads from the tail's level centre line",
         "no bevel: each end of the line is measured up from the bottom edge"),
    ])


def say_settings(corner: "Corner") -> Words:
    """Sentences: how many different angles `uses_table` has, and why an end line isn't struck at a lean.

    >>> import splaywork as sw
    >>> print(sw.say_settings(sw.Corner(30, 30)).partition(". ")[0])
    Lean, end line and end bevel are three different angles here, so one setting isn't enough
    """
    corner = one_corner(corner)
    leans, lines = (corner.tail_lean, corner.pin_lean), (corner.tail_end_line, corner.pin_end_line)
    angles = {intended(abs(angle)) for angle in (*leans, *lines, corner.end_bevel) if abs(angle) >= SAME_ANGLE}
    if not angles:
        return Words("The boards are upright, and all ends are square: nothing is set.")
    if len(angles) == 1:
        return Words(f"Whatever isn't square here is {angles.pop()}, so one setting is enough.")
    told = [f"Lean, end line and end bevel are {NUMBERS[len(angles)]} different angles here, so one setting isn't enough."]
    less = all(abs(line) < abs(lean) - SAME_ANGLE for line, lean in zip(lines, reversed(leans), strict=True))
    if less and corner.plan_angle == 90:
        told.append("A leaning face is longer, up its slope, than the box is high. So each end line slants less than the "
                    "other board leans.")
    return Words(" ".join(told))


def say_end_line_settings(corner: "Corner") -> Words:
    """A sentence: how many bevel settings the two end lines take, and why.

    >>> import splaywork as sw
    >>> sw.say_end_line_settings(sw.Corner(16, 11))
    The two end lines need two settings, because the boards lean differently.
    """
    corner = one_corner(corner)
    tail, pin = corner.tail_end_line, corner.pin_end_line
    slanted = [board for board, line in zip(BOARDS, (tail, pin), strict=True) if abs(line) >= SAME_ANGLE]
    if not slanted:
        return Words("Both end lines are square, and need no bevel.")
    if len(slanted) == 1:
        return Words(f"Only the {slanted[0]} board's end line needs the bevel, because the other end line is square.")
    if abs(abs(tail) - abs(pin)) < SAME_ANGLE:
        return Words("One setting serves both end lines, because both boards lean by the same angle. At other leans set two.")
    return Words("The two end lines need two settings, because the boards lean differently.")


def stock_rows(corner: "Corner", height: float, thickness: float, unit: str = "mm") -> list[tuple[str, ...]]:
    """Rows of a settings table: each board's widths, and its baseline; height and thickness in mm."""
    baseline = printed_length(corner.baseline_offset(thickness), unit)
    widths = [(f"{name}, {board} board", printed_length(wide(board), unit)) for name, wide in (
        ("Start width", lambda board: corner.start_width(height, thickness, board)),
        ("Slant width", lambda board: corner.slant_width(height, board))) for board in BOARDS]
    return [*widths, ("Baselines, both boards", f"{baseline} from the end line")]


def capital(text: str) -> str:
    """The text with a capital at its start."""
    return f"{text[:1].upper()}{text[1:]}"


def series(words: Iterable[str]) -> str:
    """"a", "a and b", "a, b and c"."""
    *first, last = words
    return f"{', '.join(first)} and {last}" if first else last


def listed(sentences: Iterable[str]) -> str:
    """Sentences one under another, as a list wrapped for a page."""
    return "\n".join(fill(sentence, 100, initial_indent="* ", subsequent_indent="  ") for sentence in sentences)
