"""The gauge settings of a joint in one sentence, and the letters to write beside its lines."""

from ..common.printing import from_edge, length, offset, one_in
from ..corner.words import series
from .words import lettered_settings

_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
_PLACES = {"outer": "faces", "inner": "faces", "end": "end", "bottom": "rims", "top": "rims"}


def setting_value(setting, unit="mm"):
    """`79.4° from the edge (18.7 mm in 100 mm)`; `9.5° from the edge (1 in 6.0)` where the edge is nearer than square."""
    angle = setting.from_square
    return f"{from_edge(angle)} ({offset(angle, unit) if angle <= 45 else one_in(setting.from_edge)})"


def setting_uses(setting):
    """What a setting strikes, as phrases: "the tail board's end and baselines", "the cheeks on its end"."""
    uses = {}
    for line in setting.lines:
        use = line.board, _PLACES[line.surface], line.name.endswith("cheek")
        uses.setdefault(use, set()).add(line.name.split()[-2] if use[2] else "")
    order = sorted(uses, key=lambda use: (use[0] == "pin", ("faces", "end", "rims").index(use[1]), use[2]))
    return [_use(*use, uses[use]) for use in order]


def _use(board, place, cheek, sides):
    if cheek:
        which = f"{min(sides)} cheeks" if len(sides) == 1 else "cheeks"
        return f"the {which} on the {board} board's {place}"
    if place == "rims":
        return f"the lines across the {board} board's rims"
    return f"the {board} board's end and baselines"


def gauge_words(joint, unit="mm"):
    """One sentence: how many gauge settings the joint needs, each with letter, value and uses; and its narrowest gap.

    unit: "mm" or "in", for rises and the gap.
    """
    settings = lettered_settings(joint)
    uses = [f"{letter}, {setting_value(setting, unit)}, for {series(setting_uses(setting))}"
            for letter, setting in settings.items()]
    number = _NUMBERS[len(settings)] if len(settings) < len(_NUMBERS) else str(len(settings))
    gap = joint.narrowest_gap
    room = "" if gap is None else f"; between two tails the narrowest gap is {length(gap, unit)}"
    return f"This joint needs {number} gauge setting{'s' * (len(settings) != 1)}: {'; '.join(uses)}{room}."


def letters_of(joint):
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
    return line.board, line.surface, "cheek" if line.name.endswith("cheek") else "end line"
