"""What an exercise is: numbers drawn from a seed, an answer computed on the spot, and a remark for each slip.

Each notebook's module writes its questions as functions of a `Draw` that return an `Asked`. Numbers are drawn again until
the right answer and all the slips lie more than two tolerances apart, so that each slip can be told from the others. Two
slips made at once are told as two, where their value can be told from the rest.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from string import ascii_uppercase
from typing import Any

import numpy as np

from ...common import checks
from ...common.class_corner import ClassCorner
from ...common.printing import DECIMAL, MM_PER_INCH, bevel_setting, degrees, fine, from_edge, inches, mm
from ...common.printing import UNITS as LENGTH_UNITS
from ...common.printing import length as printed
from ...common.reading import read_angle, read_bevel, read_count, read_length
from .slips import EDGE_OR_SQUARE, SIGN

KINDS = ("predict", "read off", "work out")
UNITS = ("angle", "bevel", "length", "count", "choice")

# What a reading at the bench can be held to. Common practice, no source: a bevel set against a protractor, and a
# pencil line against a rule. What a panel prints to 0.1° is off by half of that at most, and is read off to 0.1°.
BEVEL_TOLERANCE = 0.5  # degrees
LENGTH_TOLERANCE = 0.5  # mm
PRINTED_ANGLE = 0.1  # degrees
WORKED_ANGLE = 0.05  # degrees, by a formula
PRINTED_GAP = 0.05  # mm

TRIES = 2000  # drawings of numbers before an exercise is given up as impossible, which a test would show
LATEST_SEED = 10**9
CLASS_SEED, CLASS_TRIES = 1, 60  # the first numbers begin with the class corner, where so many drawings find a question for it

_HOW = {
    "angle": "Type degrees, such as 12.5 or 12 1/2.",
    ("bevel", "square"): "Type degrees from square, such as 15.7; or say 74.3 from the edge; or a slope, such as 1 in "
                         "4 or 20 mm in 100 mm.",
    ("bevel", "edge"): "Type degrees from the edge, such as 74.3; or say 15.7 from square; or a slope, such as 1 in 4 "
                       "or 20 mm in 100 mm.",
    ("length", "mm"): "Type millimetres, such as 79.5.",
    ("length", "in"): "Type inches, such as 3 1/8 or 3.125.",
    ("length", DECIMAL): "Type inches, such as 3.125.",
    "count": "Type a whole number.",
    "choice": "Choose one.",
}
_ANGLES_OFF = ((0.6, "by half a degree or less"), (1.3, "by about a degree"), (2.6, "by a degree or two"),
               (7, "by some degrees"), (16, "by ten degrees or so"), (np.inf, "by a long way"))
_LENGTHS_OFF = {
    "mm": ((1, "by less than a millimetre"), (2.6, "by a millimetre or two"), (10, "by some millimetres"),
           (30, "by a centimetre or two"), (np.inf, "by a long way")),
    "in": ((0.8, "by less than 1/32 in"), (2.6, "by a sixteenth or so"), (10, "by part of an inch"),
           (40, "by about an inch"), (np.inf, "by a long way")),
    DECIMAL: ((0.8, "by less than 0.03 in"), (2.6, "by some hundredths"), (10, "by a few tenths"),
              (40, "by about an inch"), (np.inf, "by a long way")),
}


@dataclass(frozen=True)
class Slip:
    """A mistake that is often made: its kind, the `value` it leads to, as `Asked.answer` is given, and a remark.

    if_said: how a bevel setting was typed -> the remark then, where it differs. also: the sentence that names this slip
    when another was made with it; only slips with one are looked for in pairs.
    """

    kind: str
    value: float | str
    remark: str
    if_said: dict = field(default_factory=dict)
    also: str = ""

    def remark_on(self, said: str) -> str:
        """The remark on an answer that was typed in that way."""
        return self.if_said.get(said, self.remark)


@dataclass(frozen=True)
class Verdict:
    """What a typed answer is worth: right or not, a remark, and the kind of the slip, if any; of two, "one + the other"."""

    right: bool
    remark: str
    slip: str = ""


@dataclass(frozen=True)
class Asked:
    """A question with its numbers.

    text: the question. label: what the answer box is for. unit: what is typed, "angle" (degrees), "bevel" (degrees from
    square, from the edge, or 1 in n), "length" (mm, or inches), "count" or "choice". answer: degrees (of a bevel, from
    square), mm, a whole number, or the text of a choice. answer_text: the same in words. hints: two worked steps.
    tolerance: degrees or mm; 0 for counts and choices. slips: `Slip`s. choices: texts to choose from. numbers: name ->
    what was drawn, angles as whole degrees, lengths as floats in mm. taken_from: where bare degrees of a bevel are
    counted from, "square" or "edge". look: where to look when the answer is wrong in no way that is listed. figure: name
    of the drawing that belongs to the question, as `teaching.exercise_pictures` knows it.
    """

    text: str
    label: str
    unit: str
    answer: float | str
    hints: tuple
    look: str
    answer_text: str = ""
    tolerance: float = 0.0
    slips: tuple = ()
    choices: tuple = ()
    numbers: dict = field(default_factory=dict)
    length_unit: str = "mm"
    taken_from: str = "square"
    figure: str = ""
    exercise: str = ""
    kind: str = ""
    seed: int = 0

    @property
    def how(self) -> str:
        """How an answer may be typed, and how near is right, as sentences."""
        how = _HOW.get(self.unit) or _HOW[self.unit, self.taken_from if self.unit == "bevel" else self.length_unit]
        return f"{how} Within {self._near} counts as right." if self.tolerance else how

    @property
    def _near(self):
        """The tolerance in words."""
        if self.unit != "length":
            return f"{self.tolerance:g}°"
        return f"{self.tolerance:g} mm" if self.length_unit == "mm" else fine(self.tolerance, "in")

    def as_typed(self, value: Any) -> str:
        """An answer, right or wrong, as this question wants it typed: "53.0° from the edge", "120.4 mm", "3"."""
        if self.unit == "choice":
            return value
        if self.unit == "length":
            return fine(value, self.length_unit) if self.tolerance < 0.3 else said_length(value, self.length_unit)
        if self.unit == "bevel":
            return from_edge(value) if self.taken_from == "edge" else f"{degrees(value)} from square"
        return f"{value:.0f}" if self.unit == "count" else degrees(value, 2 if self.tolerance < 0.1 else 1)

    @property
    def pairs(self) -> tuple:
        """(value, the two slips) for every two slips made at once whose value can be told from all others."""
        singles = [] if self.unit in ("choice", "count") else list(self.slips)
        taken, found = [self.answer, *(slip.value for slip in singles)], []
        for second in (slip for slip in singles if slip.also):
            for first in (slip for slip in singles if slip is not second and slip.kind != EDGE_OR_SQUARE):
                value = -first.value if second.kind == SIGN else _complement(first.value)
                if abs(value) < 90 and min(abs(value - other) for other in taken) > 2 * self.tolerance + 1e-6:
                    found.append((value, (first, second)))
                    taken.append(value)
        return tuple(found)

    def check(self, typed: Any) -> Verdict:
        """The `Verdict` on an answer as typed. ValueError, in one sentence, for what can't be read."""
        if self.unit == "choice":
            return self._judged_choice(self._chosen(typed))
        value, said = self._read(typed)
        return self._judged(value, said)

    # Choices.

    def _chosen(self, typed):
        text = " ".join(str(typed).split()).rstrip(".")
        lettered = dict(zip(ascii_uppercase, self.choices, strict=False))
        for letter, choice in lettered.items():
            if text.lower() in (letter.lower(), choice.lower().rstrip(".")):
                return choice
        raise ValueError(f"{self.label}: {f'“{text[:30]}”' if text else 'nothing'} is none of the choices; give a "
                         f"letter from A to {max(lettered)}.")

    def _judged_choice(self, choice):
        if choice == self.answer:
            return Verdict(True, f"Right: {self.answer_text}.")
        slip = next(slip for slip in self.slips if slip.value == choice)
        return Verdict(False, slip.remark, slip.kind)

    # Numbers.

    def _read(self, typed):
        """(value as `answer` is given, how a bevel setting was said)."""
        if isinstance(typed, str) and self.unit in ("angle", "bevel") and typed.strip().lower() == "square":
            return 0.0, "from square"
        if self.unit == "bevel":
            reading = read_bevel(typed, -90, 180, name=self.label)
            value, said = reading.degrees_from_square, reading.said
            if said == "in degrees, taken from square" and self.taken_from == "edge":
                value, said = 90 - value, "from the edge"
            return value, said
        if self.unit == "length":
            return read_length(typed, self.length_unit, name=self.label), ""
        if self.unit == "count":
            return read_count(typed, name=self.label), ""
        return read_angle(typed, name=self.label), ""

    def _judged(self, value, said):
        if abs(value - self.answer) <= self.tolerance + 1e-9:
            return Verdict(True, f"Right: {self.answer_text}.{self._as_said(said)}")
        for slip in self.slips:
            if abs(value - slip.value) <= self.tolerance + 1e-9:
                return Verdict(False, slip.remark_on(said), slip.kind)
        for both, (first, second) in self.pairs:
            if abs(value - both) <= self.tolerance + 1e-9:
                remark = f"Two slips at once. {second.also} Put right, the answer would still be off. {first.remark}"
                return Verdict(False, remark, f"{first.kind} + {second.kind}")
        return Verdict(False, f"{self._off(value)} {self.look}")

    def _as_said(self, said):
        if said == "as a slope":
            return " A slope does as well as degrees."
        if said.startswith("from") and said != f"from {'the ' * (self.taken_from == 'edge')}{self.taken_from}":
            return f" You gave it {said}, and that is the same line."
        return ""

    def _off(self, value):
        """Which way a wrong answer is out, and by how much, in words."""
        off = value - self.answer
        if self.unit == "count":
            return f"That is too {'many' if off > 0 else 'few'}, by {'one' if abs(off) == 1 else 'more than one'}."
        if self.unit == "length":
            return f"That is too {'long' if off > 0 else 'short'}, {_in_words(off, _LENGTHS_OFF[self.length_unit])}."
        if self.unit == "bevel":
            if value * self.answer < 0:
                return "That slants the other way."
            off = abs(value) - abs(self.answer)
            return f"That line slants too {'much' if off > 0 else 'little'}, {_in_words(off, _ANGLES_OFF)}."
        return f"That is too {'large' if off > 0 else 'small'}, {_in_words(off, _ANGLES_OFF)}."


def _in_words(off, steps):
    return next(words for most, words in steps if abs(off) < most)


def _complement(angle):
    return float(np.copysign(90 - abs(angle), angle))


# What questions are written with.


class Draw:
    """Numbers for one question. unit: "mm", "in" or "0.001 in", in which lengths come out round. numbers: name -> what was
    drawn.

    wanted: name -> what is taken where it is among the options.
    """

    def __init__(self, generator, unit, wanted=None):
        self._generator = generator
        self.unit, self._wanted = unit, wanted or {}
        self.numbers = {}

    def pick(self, name: str, options: Sequence) -> Any:
        """One of the options."""
        chosen = options[int(self._generator.integers(len(options)))]
        if name in self._wanted:
            chosen = next((option for option in options if option == self._wanted[name]), chosen)
        self.numbers[name] = chosen
        return chosen

    def degrees(self, name: str, low: int, high: int) -> int:
        """Whole degrees from low to high, included."""
        return self.pick(name, range(low, high + 1))

    def signed(self, name: str, low: int, high: int) -> int:
        """Whole degrees from low to high, or from −high to −low."""
        return self.pick(name, [*range(-high, -low + 1), *range(low, high + 1)])

    def length(self, name: str, low: float, high: float, step: float = 1.0, inch_step: float = 0.125) -> float:
        """mm from low to high in whole steps of `step` mm, or of `inch_step` inches."""
        step = step if self.unit == "mm" else inch_step * float(MM_PER_INCH)
        return self.pick(name, [float(step * count) for count in range(round(low / step), round(high / step) + 1)])

    def say(self, length: float) -> str:
        """A length that was drawn, in mm, as it is said: "120 mm", "18.5 mm", "4 3/4 in", "4.750 in"."""
        return said_length(length, self.unit)

    def size(self, length: float) -> str:
        """A length that was worked out, in mm: to tenths of a mm, or to the nearest 1/64 or 0.001 in."""
        return mm(length) if self.unit == "mm" else said_length(length, self.unit)

    def asked(self, **question: Any) -> Asked:
        """The `Asked` of what was drawn."""
        return Asked(numbers=self.numbers, length_unit=self.unit, **question)


def said_length(length: float, unit: str) -> str:
    """A length in mm for a question: "120 mm", "18.5 mm", "4 3/4 in", "4.750 in"."""
    if unit == "mm":
        return mm(length, 0 if abs(length - round(length)) < 1e-9 else 1)
    if unit == DECIMAL:
        return printed(length, unit)
    return inches(round(length / float(MM_PER_INCH) * 64) / 64 * float(MM_PER_INCH))


def leaning(lean: float) -> str:
    """"leans out 16°", "leans in 11°" or "stands upright"."""
    return f"leans {'out' if lean > 0 else 'in'} {abs(lean):g}°" if lean else "stands upright"


def set_to(lean: float) -> str:
    """A lean as a slider is set to it: "16" or "−11"."""
    return f"{lean:g}".replace("-", "−")


def way_of(end_line: float) -> str:
    """"longer at the top" or "shorter at the top"."""
    return "longer at the top" if end_line > 0 else "shorter at the top"


def bevel_answer(draw: Draw, end_line: float, signed: bool = False) -> str:
    """An end line as an answer: signed and from square, then as the bevel is set."""
    if abs(end_line) < 0.005:
        return "square"
    if not signed:
        return f"{degrees(end_line)} from square, {bevel_setting(end_line, draw.unit)}"
    return (f"{degrees(end_line)} from square, {way_of(end_line)}; the bevel is set {degrees(abs(end_line))} from "
            f"square, {bevel_setting(abs(end_line), draw.unit)}")


_FROM_SQUARE = ("The line is right if you mean it from the edge. Measured from square, it is what the angle leaves of 90°. "
                "Measure from square, or say “from the edge”.")
_FROM_EDGE = ("The line is right if you mean it from square. Measured from the edge, it is what the angle leaves of 90°. "
              "Measure from the edge, or say “from square”.")
_SLOPE = ("The two lengths of the slope changed places. The longer one goes straight up the board, square to its edge; the "
          "offset is how far along the edge the line has gone by then. Turn the two round.")


def edge_or_square(angle: float, taken_from: str = "square") -> Slip:
    """The slip of measuring from the edge what is wanted from square, or the other way round; `angle` from square."""
    meant, also = ((_FROM_SQUARE, "The angle is counted from the edge, and from square is wanted.")
                   if taken_from == "square" else (_FROM_EDGE, "The angle is counted from square, and from the edge is "
                                                               "wanted."))
    return Slip(EDGE_OR_SQUARE, _complement(angle), meant,
                {"as a slope": _SLOPE, "from the edge": _FROM_EDGE, "from square": _FROM_SQUARE}, also)


def wrong_sign(end_line: float) -> Slip:
    """The slip of the sign of an end line."""
    counts = "positive: leave the minus off" if end_line > 0 else "negative: put a minus before it"
    why = f"Here the board is {way_of(end_line)}, and that counts as {counts}."
    return Slip(SIGN, -end_line, f"The size is right, the sign isn't. {why}", also=f"The sign is wrong. {why}")


def counts(answer: int, remarks: dict[int, str]) -> tuple:
    """The slips of a count: `remarks`, number -> remark when it is wrong."""
    return tuple(Slip(f"{count}", count, remark) for count, remark in remarks.items() if count != answer)


def choices(draw: Draw, answer: str, remarks: dict[str, str], answer_text: str, **question: Any) -> Asked:
    """An `Asked` with choices: `remarks`, text of the choice -> remark when it is wrong, in the order shown."""
    slips = tuple(Slip(choice, choice, remark) for choice, remark in remarks.items() if choice != answer)
    return draw.asked(unit="choice", answer=answer, answer_text=answer_text, slips=slips, choices=tuple(remarks),
                      look="", **question)


@dataclass(frozen=True)
class Exercise:
    """One exercise. id: such as "04-2"; kind: "predict", "read off" or "work out"; compose: makes an `Asked`, or None
    for numbers that won't do, of a `Draw`."""

    id: str
    kind: str
    compose: Callable

    @property
    def notebook(self) -> str:
        """Number of its notebook, as text: "04"."""
        return self.id.partition("-")[0]

    def ask(self, seed: int = 1, unit: str = "mm", corner: ClassCorner | None = None) -> Asked:
        """The `Asked` with the numbers of a seed, 0 or more; lengths in "mm", "in" or "0.001 in". ValueError for others.

        corner: a `ClassCorner`; the first numbers, seed 1, are its own where the question has room for them.
        """
        if isinstance(seed, bool) or not isinstance(seed, (int, np.integer)) or not 0 <= seed <= LATEST_SEED:
            raise ValueError(f"The seed must be a whole number from 0 to {LATEST_SEED}, not {seed!r}.")
        checks.choice("unit", unit, LENGTH_UNITS)
        generator = np.random.default_rng([int(seed), *self.id.encode()])
        for attempt in range(TRIES):
            wanted = corner.drawn if corner and seed == CLASS_SEED and attempt < CLASS_TRIES else None
            asked = self.compose(Draw(generator, unit, wanted))
            if asked is not None and _apart(asked):
                return replace(asked, exercise=self.id, kind=self.kind, seed=int(seed))
        raise RuntimeError(f"Exercise {self.id} finds no numbers whose slips can be told apart.")


def _apart(asked):
    """Whether the answer and all slips can be told from one another."""
    if asked.unit == "choice":
        return True
    values = sorted(float(value) for value in (asked.answer, *(slip.value for slip in asked.slips)))
    return bool(np.diff(values).min(initial=np.inf) > 2 * asked.tolerance + 1e-6)
