"""A joint said in words and numbers: how many gauge settings it needs, which, and what each is for."""

from dataclasses import dataclass
from string import ascii_uppercase

from .lines import Setting
from .measure import from_edge, length, one_in, rise

NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")


def number_word(number):
    """"three" for 3; digits from ten on."""
    return NUMBERS[number] if number < len(NUMBERS) else str(number)


@dataclass(frozen=True)
class LetteredSetting:
    """A gauge setting of a joint under the letter that pictures and sentences call it by, from the squarest on: "A"…"""

    letter: str
    setting: Setting

    def value(self, unit="mm"):
        """`79.4° from the edge (18.7 over 100 mm)`; nearer the edge than square, `9.5° from the edge (1 in 6.0)`."""
        angle = self.setting.from_square
        slope = rise(angle, unit) if angle <= 45 else one_in(90 - angle)
        return f"{from_edge(angle)} ({slope})"

    @property
    def used_for(self):
        """What it strikes, as phrases: "the tail board's end and gauge lines", "the cheeks on the tail board's end"."""
        uses = {}
        for line in self.setting.lines:
            place = {"end": "end", "bottom": "rims", "top": "rims"}.get(line.surface, "faces")
            uses.setdefault((line.board, place, line.name.endswith("cheek")), set()).add(line.name.split()[-2])
        return [_use(*use, sides) for use, sides in sorted(uses.items(), key=_reading_order)]


def _reading_order(use):
    (board, place, cheek), _ = use
    return board != "tail", ("faces", "end", "rims").index(place), cheek


def _use(board, place, cheek, sides):
    if cheek:
        which = f"{min(sides)} cheeks" if len(sides) == 1 else "cheeks"
        return f"the {which} on the {board} board's {place}"
    if place == "rims":
        return f"the lines across the {board} board's rims"
    return f"the {board} board's end and gauge lines"


def lettered_settings(joint):
    """The `LetteredSetting`s of a joint."""
    return tuple(map(LetteredSetting, ascii_uppercase, joint.gauge_settings))


def letters_of(joint):
    """What strikes which lines: (board, surface, "cheek" or "end line") -> letters, such as "A" or "C, D"; or "square".

    Lines that are scribed from the tails have no entry.
    """
    found = {}
    for line in joint.lines:
        if line.struck_with == "square":
            found[_place(line)] = {"square"}
    for lettered in lettered_settings(joint):
        for line in lettered.setting.lines:
            found.setdefault(_place(line), set()).add(lettered.letter)
    return {place: ", ".join(sorted(letters)) for place, letters in found.items()}


def _place(line):
    return line.board, line.surface, "cheek" if line.name.endswith("cheek") else "end line"


def joint_words(joint, unit="mm"):
    """One sentence: the number of gauge settings that the joint needs, each with its value and what it is for."""
    settings = lettered_settings(joint)
    uses = [f"{each.letter}, {each.value(unit)}, for {_joined(each.used_for)}" for each in settings]
    gap = joint.narrowest_gap
    room = "" if gap is None else f"; between two tails the narrowest gap is {length(gap, unit)}"
    return (f"This joint needs {number_word(len(settings))} gauge setting{'s' * (len(settings) != 1)}: {'; '.join(uses)}"
            f"{room}.")


def _joined(phrases):
    return phrases[0] if len(phrases) == 1 else ", ".join(phrases[:-1]) + " and " + phrases[-1]
