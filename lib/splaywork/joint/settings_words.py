"""The bevel settings of a joint in sentences, and the letters to write beside its lines."""

from typing import TYPE_CHECKING

from ..common.printing import NUMBERS, from_edge, length, offset, one_in
from ..corner.words import series
from .words import lettered_settings

if TYPE_CHECKING:
    from .joint import Joint
    from .lines import Setting

_PLACES = {"outer": "faces", "inner": "faces", "end": "end", "bottom": "rims", "top": "rims"}
_STOCK = {"bottom edge": "bottom edge", "outer arris": "outer face", "end line": "sawn end"}  # by a line's edge


def setting_value(setting: "Setting", unit: str = "mm") -> str:
    """`79.4° from the edge (18.7 mm in 100 mm)`; `9.5° from the edge (1 in 6.0)` where the edge is nearer than square."""
    angle = setting.from_square
    return f"{from_edge(angle)} ({offset(angle, unit) if angle <= 45 else one_in(setting.from_edge)})"


def setting_uses(setting: "Setting") -> list[str]:
    """What a setting strikes and where the bevel's stock lies, each: "the cheeks on the tail board's end (outer face)"."""
    return [f"{phrase} ({stock})" for _, phrase, stock in _uses(setting)]


def _uses(setting):
    """(board, what is struck, where the stock lies) for each of `setting_uses`."""
    uses, stocks = {}, {}
    for line in setting.lines:
        use = line.board, _PLACES[line.surface], line.kind == "cheek"
        uses.setdefault(use, set()).add(line.side)
        stocks[use] = _STOCK[line.edge]
    order = sorted(uses, key=lambda use: (use[0] == "pin", ("faces", "end", "rims").index(use[1]), use[2]))
    return [(use[0], _use(*use, uses[use]), stocks[use]) for use in order]


def _by_board(setting):
    """What a setting strikes, the phrases of one board together: a sentence each."""
    uses = _uses(setting)
    boards = [[phrase for on, phrase, _ in uses if on == board] for board in ("tail", "pin")]
    return [phrases for phrases in boards if phrases]


def _use(board, place, cheek, sides):
    if cheek:
        which = f"{min(sides)} cheeks" if len(sides) == 1 else "cheeks"
        return f"the {which} on the {board} board's {place}"
    if place == "rims":
        return f"the lines across the {board} board's rims"
    return f"the {board} board's end line and baselines"


def bevel_words(joint: "Joint", unit: str = "mm") -> str:
    """Sentences: how many bevel settings the joint's lines need, each with letter, value and uses; and its narrowest gap.

    unit: "mm" or "in", for offsets and the gap.
    """
    settings = lettered_settings(joint)
    number = NUMBERS[len(settings)] if len(settings) < len(NUMBERS) else str(len(settings))
    told = [f"The lines of this joint need {number} bevel setting{'s' * (len(settings) != 1)}."]
    for letter, setting in settings.items():
        first, *others = (series(uses) for uses in _by_board(setting))
        told.append(f"{letter} is {setting_value(setting, unit)}: it strikes {first}.")
        told += [f"{letter} also strikes {uses}." for uses in others]
    if joint.narrowest_gap is not None:
        told.append(f"The narrowest gap between two tails is {length(joint.narrowest_gap, unit)}, seen in the direction in "
                    "which the pin board goes in. A chisel no wider than this gap passes.")
    return " ".join(told)


def letters_of(joint: "Joint") -> dict[tuple[str, ...], str]:
    """What strikes which lines: (board, surface, "cheek" or "end line") -> letters, such as "A" or "C, D"; or "square".

    "end line" stands for the cut-off and the baseline too, which run parallel to it. Lines that are scribed from the tails
    have no entry.
    """
    found = {_place(line): {"square"} for line in joint.lines if line.struck_with == "square"}
    for letter, setting in lettered_settings(joint).items():
        for line in setting.lines:
            found.setdefault(_place(line), set()).add(letter)
    return {place: ", ".join(sorted(letters)) for place, letters in found.items()}


def _place(line):
    return line.board, line.surface, "cheek" if line.kind == "cheek" else "end line"
