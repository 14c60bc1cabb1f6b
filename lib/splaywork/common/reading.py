"""Angles, lengths and counts as people type them, read into degrees, millimetres and whole numbers.

The readers accept text, or a finite number, and raise nothing but `ValueError`: one sentence that names the input,
quotes what was typed, and says what is wrong with it and what to type. It repeats part of what was typed, so escape it before
showing it as HTML.

One rule for the comma, everywhere: it is a decimal point. Only where it may stand between thousands (`1,200`) is it refused.
"""

import math
import re
import unicodedata
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from .checks import shown
from .printing import in_mm, length, short

LONGEST, SHOWN = 60, 30  # characters; the longest text read, and how much of one an error repeats

_ANGLE = ("angle", "isn't an angle", "12.5°, 12°30′ or 1:8")
_BEVEL = ("bevel setting", "isn't a bevel setting", "14°, 76° from the edge, 1:4 or 20 mm in 100 mm")
_RUN = ("slope", "isn't a slope", "1 in 6, 1:6 or 9.5°")
_LENGTH = ("length", "isn't a length", "79 mm or 3 1/8 in")
_COUNT = ("count", "isn't a whole number", "7")

_ALIKE = {"-": "−–—―‐‑－﹣", "+": "＋", "°": "º˚", "/": "⁄∕／", ":": "∶：", "'": "′’‘ʹ´＇", '"': "″”“ʺ＂", ".": "．",
          ",": "٫，﹐"}
_TO_PLAIN = str.maketrans({other: plain for plain, others in _ALIKE.items() for other in others})

# a decimal, a fraction, or a whole number that a fraction may follow: 12.5, 5/8, 12, 12 1/2, 12-1/2
_NUMBER = r"(?:\d+\.\d*|\.\d+|\d+ ?/ ?\d+|\d+(?:(?: |- ?)\d+ ?/ ?\d+)?)"
_SIGN = r"(?P<sign>[+-]?) ?"
_INCH = r'(?:inches|inch|in\.?|")'
_MM, _CM, _M = (rf"(?:{short_name}|{long_name}(?:er|re)s?)" for short_name, long_name in
                (("mm", "millimet"), ("cm", "centimet"), ("m", "met")))

_FRACTION = re.compile(r"(?:(\d+)(?: |- ?))?(\d+) ?/ ?(\d+)")
_MIDDLE_DOT = re.compile(r"(?<=\d)[·‧∙⋅・](?=\d)")
_COMMA = re.compile(r"(?<!\d)(\d*) ?, ?(\d+)")
_THOUSANDS = re.compile(r"(?<![\d./] )(?<![\d./])\d{1,3}(?: \d{3})+(?!\d| ?[/°'\"])")
_DEGREES = re.compile(
    rf"{_SIGN}(?P<degrees>{_NUMBER})(?P<mark> ?(?:°|deg(?:ree)?s?)"
    rf"(?: ?(?P<minutes>{_NUMBER}) ?(?:'|min(?:ute)?s?)"
    rf"(?: ?(?P<seconds>{_NUMBER}) ?(?:\"|sec(?:ond)?s?))?|(?<=°) ?(?P<two>\d\d(?:\.\d+)?))?)?"
)
_SLOPE = re.compile(
    rf"{_SIGN}(?P<rise>{_NUMBER}) ?(?P<rise_unit>{_MM}|{_CM}|{_INCH})? ?(?::|in|over) ?"
    rf"(?P<run>{_NUMBER}) ?(?P<run_unit>{_MM}|{_CM}|{_INCH})?"
)
_SIZE = re.compile(rf"{_SIGN}(?P<size>{_NUMBER}) ?(?:(?P<mm>{_MM})|(?P<cm>{_CM})|(?P<m>{_M})|(?P<inch>{_INCH}))?")
_FEET = re.compile(
    rf"{_SIGN}(?P<feet>{_NUMBER}) ?(?:'|feet|foot|ft\.?)(?: ?-? ?(?P<inches>{_NUMBER}) ?{_INCH})?"
)
_FROM = re.compile(r"(?P<reading>.*\S) from (?:the )?(?P<origin>edge|square)")


class _MisreadError(ValueError):
    """What is wrong with a text, as the words that follow it in the sentence; `instead`: what to type, where that is known."""

    def __init__(self, why, instead=None):
        super().__init__(why)
        self.instead = instead


@dataclass(frozen=True)
class BevelReading:
    """A bevel setting that was typed: degrees from square, and how it was said.

    `said` is "from square", "from the edge", "as a slope" or "in degrees, taken from square".
    """

    degrees_from_square: float
    said: str


def read_angle(text: Any, low: float | None = None, high: float | None = None, name: str | None = None) -> float:
    """Degrees from `12.5`, `12 1/2°`, `12°30'15"`, or from a slope: `1:8`, `1 in 8`, `24.9 mm in 100 mm`.

    A slope is offset to height and gives atan(offset / height); a leading minus makes either negative. A fraction
    alone, such as `1/8`, may be a slope or part of a degree and is refused. `low` and `high` are in degrees, included.
    """
    return _read(text, _angle, float, _ANGLE, (low, high, _short_degrees), name)


def read_bevel(text: Any, low: float | None = None, high: float | None = None, name: str | None = None) -> BevelReading:
    """What `read_angle` reads, taken from square unless `from the edge` (or `from square`) follows.

    From the edge gives 90 − value, negative where more than 90 was typed. `low` and `high` are degrees from
    square, included.
    """
    value = _read(text, _from_square, float, _BEVEL, (low, high, _short_degrees), name)
    return BevelReading(value, _said(text))


def read_length(text: Any, unit: str = "mm", low: float | None = None, high: float | None = None,
                name: str | None = None) -> float:
    """Millimetres from `79 mm`, `7.9 cm`, `0.079 m`, `3 1/8 in`, `1' 3 1/2"`; a bare number is in `unit`.

    Fractions are kept exact and converted once; a leading minus makes the length negative. `unit` is "mm",
    "in" or "0.001 in"; `low` and `high` are in mm, included, and shown in `unit`.
    """
    bare = in_mm(unit)

    def show(value):
        return f"{short(value)} mm" if bare == 1 else length(value, unit)

    def parse(plain):
        return _length(plain, bare)

    return _read(text, parse, lambda size: Fraction(size) * bare, _LENGTH, (low, high, show), name)


def read_count(text: Any, low: int = 0, high: int | None = None, name: str | None = None) -> int:
    """A whole number of tails, boards and the like, from `low` to `high`, included."""
    return _read(text, _count, _whole, _COUNT, (low, high, short), name)


def read_run(text: Any, low: float | None = None, high: float | None = None, name: str | None = None) -> float:
    """The n of the slope 1 in n, from `1 in 6`, `1:6` or `9.5°`; a number alone is n itself. `low`, `high`: of n."""
    return _read(text, _run, _above_0, _RUN, (low, high, lambda run: f"1 in {short(run)}"), name)


def _read(given, parse, convert, wanted, limits, name):
    """Read text by `parse`, turn a number given by `convert`, and hold the result to the limits."""
    noun, not_one, examples = wanted
    try:
        value = parse(_plain(given)) if isinstance(given, str) else convert(_finite(given))
        value = value if isinstance(value, int) else float(value) + 0.0  # no −0.0
    except (_MisreadError, OverflowError) as wrong:
        why = str(wrong) if isinstance(wrong, _MisreadError) else "is too large"
        instead = f" {wrong.instead}" if getattr(wrong, "instead", None) else f", for example, {examples}"
        raise ValueError(f"{name + ': ' if name else ''}{_quoted(given)} {why or not_one}; type{instead}.") from None
    low, high, show = limits
    if (low is not None and value < low) or (high is not None and value > high):
        must = f"{name or 'the ' + noun} must be {_span(low, high, show)}"
        raise ValueError(f"{must}, and {_quoted(given)} reads as {show(value)}.")
    return value


def _span(low, high, show):
    if high is None:
        return f"at least {show(low)}"
    return f"at most {show(high)}" if low is None else f"between {show(low)} and {show(high)}"


# Plain text


def _plain(text):
    """The text without invisible characters, look-alikes and other scripts' digits made plain, with points for decimals."""
    text = text.strip()
    if not text:
        raise _MisreadError("was typed")
    if len(text) > LONGEST:
        raise _MisreadError(f"is longer than {LONGEST} characters")
    plain = "".join(map(_plain_character, text)).translate(_TO_PLAIN).replace("''", '"')
    plain = _MIDDLE_DOT.sub(".", " ".join(plain.lower().split()))
    plain = _THOUSANDS.sub(lambda number: number[0].replace(" ", ""), plain)
    return _with_points(plain)


def _plain_character(character):
    if character.isdecimal():
        return str(unicodedata.decimal(character))
    if unicodedata.category(character) == "Cf" or "\ufe00" <= character <= "\ufe0f":
        return ""  # what comes along with pasting and can't be seen
    kind = unicodedata.decomposition(character).partition(" ")[0]
    if kind == "<fraction>":
        # the spaces keep 12½ from becoming 121/2, and ½5 from becoming 1/25
        return f" {unicodedata.normalize('NFKC', character)} "
    return unicodedata.normalize("NFKC", character) if kind in ("<wide>", "<square>") else character


def _with_points(plain):
    """A decimal comma becomes a point; one that may stand between thousands is refused."""
    commas = plain.count(",")
    if not commas:
        return plain
    found = _COMMA.search(plain)
    if commas > 1 or not found or plain[found.end():found.end() + 1] == ".":
        raise _MisreadError("has commas that can't be read")
    whole, part = found.groups()
    if len(part) == 3 and whole.strip("0"):
        raise _MisreadError("may have its comma between thousands", f"{whole}.{part} or {whole}{part}")
    return plain[:found.start()] + f"{whole}.{part}" + plain[found.end():]


def _number(text):
    """The exact value of a text that matches `_NUMBER`."""
    parts = _FRACTION.fullmatch(text)
    if not parts:
        return Fraction(text)
    whole, top, bottom = (int(part or 0) for part in parts.groups())
    if bottom == 0:
        raise _MisreadError("divides by zero")
    if parts[1] and top >= bottom:
        raise _MisreadError("has a fraction of one or more after the whole number")
    return whole + Fraction(top, bottom)


def _signed(found, size):
    return -size if found["sign"] == "-" else size


# Angles


def _angle(plain):
    if found := _SLOPE.fullmatch(plain):
        return _slope(found)
    found = _DEGREES.fullmatch(plain)
    if not found:
        raise _MisreadError(_what(plain))
    size = _number(found["degrees"])
    if not found["mark"] and re.fullmatch(r"\d+ ?/ ?\d+", found["degrees"]):
        part = (found["sign"] + found["degrees"]).replace(" ", "")
        raise _MisreadError("may be a slope or part of a degree", f"{part.replace('/', ':')} or {part}°")
    if found["minutes"] or found["two"]:
        minutes = _number(found["minutes"] or found["two"])
        if found["seconds"]:
            minutes = _joined(minutes, _number(found["seconds"]), 60, "minutes", "seconds")
        size = _joined(size, minutes, 60, "degrees", "minutes")
    return _signed(found, size)


def _run(plain):
    if re.fullmatch(_NUMBER, plain):
        return _above_0(_number(plain))
    angle = _angle(plain)
    if not 0 < angle < 90:
        raise _MisreadError("")
    return round(1 / math.tan(math.radians(angle)), 9)  # so that 1:6 gives 6


def _above_0(run):
    if run <= 0:
        raise _MisreadError("")
    return run


def _from_square(plain):
    origin = _FROM.fullmatch(plain)
    value = _angle(origin["reading"] if origin else plain)
    return 90 - value if origin and origin["origin"] == "edge" else value


def _said(given):
    """How a bevel setting that has been read was given."""
    plain = _plain(given) if isinstance(given, str) else ""
    if origin := _FROM.fullmatch(plain):
        return "from square" if origin["origin"] == "square" else "from the edge"
    return "as a slope" if _SLOPE.fullmatch(plain) else "in degrees, taken from square"


def _slope(found):
    rise, run = _number(found["rise"]), _number(found["run"])
    if run == 0:
        raise _MisreadError("has a run of zero")
    if found["rise_unit"] and found["run_unit"]:
        rise *= _unit(found["rise_unit"])
        run *= _unit(found["run_unit"])
    return math.degrees(math.atan(_signed(found, rise / run)))


def _unit(word):
    """Millimetres in the unit that stands after a number."""
    return Fraction({"m": 1, "c": 10}.get(word[0], in_mm("in")))


# Lengths and counts


def _length(plain, bare):
    if found := _FEET.fullmatch(plain):
        feet = _number(found["feet"])
        if found["inches"]:
            feet = _joined(feet, _number(found["inches"]), 12, "feet", "inches")
        return _signed(found, feet) * 12 * in_mm("in")
    found = _SIZE.fullmatch(plain)
    if not found:
        raise _MisreadError(_what(plain))
    units = {"mm": 1, "cm": 10, "m": 1000, "inch": in_mm("in")}
    unit = next((size for name, size in units.items() if found[name]), bare)
    return _signed(found, _number(found["size"])) * Fraction(unit)


def _count(plain):
    found = _SIZE.fullmatch(plain)
    if not found or any(found[unit] for unit in ("mm", "cm", "m", "inch")):
        raise _MisreadError(_what(plain))
    return _whole(_signed(found, _number(found["size"])))


def _whole(number):
    if number != int(number):
        raise _MisreadError("isn't whole")
    return int(number)


def _joined(larger, smaller, base, larger_name, smaller_name):
    """`larger` with `smaller` added as parts of it, `base` to one."""
    if larger.denominator != 1:
        raise _MisreadError(f"has part of one of its {larger_name} before the {smaller_name}")
    if smaller >= base:
        raise _MisreadError(f"has {base} {smaller_name} or more")
    return larger + smaller / base


# What is wrong


def _what(plain):
    """What a text is that doesn't fit where it was typed; "" where it is nothing that is read here."""
    kinds = {"a slope": (_SLOPE,), "an angle": (_DEGREES,), "a length": (_SIZE, _FEET)}
    fits = [kind for kind, patterns in kinds.items() if any(pattern.fullmatch(plain) for pattern in patterns)]
    return f"is {fits[0]}" if fits else ""


def _finite(given):
    # `float` alone would take text, bytes and True as well
    if isinstance(given, bool) or not hasattr(type(given), "__float__"):
        raise _MisreadError("isn't a finite number")
    try:
        value = float(given)
    except (TypeError, ValueError):
        value = math.nan
    if not math.isfinite(value):
        raise _MisreadError("isn't a finite number")
    return value


def _quoted(given):
    """What was given, short and on one line, to stand in a sentence."""
    if not isinstance(given, str):
        said = shown(given)
        return f"“{said}”" if isinstance(given, int | float) and not isinstance(given, bool) and "given" not in said else (
            f"the {type(given).__name__} given")
    text = given.strip()
    seen = "".join(c if c.isprintable() else ascii(c)[1:-1] for c in text[: SHOWN + 1])
    return f"“{seen[:SHOWN]}{'…' if len(seen) > SHOWN else ''}”" if text else "nothing"


def _short_degrees(x):
    return f"{short(x)}°"
