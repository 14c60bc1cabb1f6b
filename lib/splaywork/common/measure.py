"""Angles, lengths and counts as people type and read them.

Inside the library lengths are millimetres and angles degrees; here text comes in and goes out.

The readers accept text, or a finite number, and raise nothing but `ValueError`: one sentence that names the
input, quotes what was read and says what would be accepted. It repeats part of what was typed, so escape it
before showing it as HTML. The printers take one finite number each and raise `ValueError` for anything else;
they write a minus as U+2212.
"""

import math
import re
import unicodedata
from dataclasses import dataclass
from fractions import Fraction

MM_PER_INCH = Fraction(254, 10)  # exact by definition
LONGEST, SHOWN = 60, 30  # characters; the longest text read, and how much of one an error repeats
MINUS = "−"

_ANGLE = ("angle", "an angle is wanted, such as 12.5°, 12°30′ or 1:8")
_GAUGE = ("gauge setting", "a gauge setting is wanted, such as 14°, 76° from the edge, 1:4 or 20 over 100 mm")
_RUN = ("slope", "a slope is wanted, such as 1 in 6, 1:6 or 9.5°")
_LENGTH = ("length", "a length is wanted, such as 79 mm or 3 1/8 in")
_COUNT = ("count", "a whole number is wanted, such as 7")

_ALIKE = {"-": "−–‐‑－", "+": "＋", "°": "º˚", "/": "⁄∕", ":": "∶：", "'": "′’‘ʹ´", '"': "″”“ʺ"}
_TO_PLAIN = str.maketrans({other: plain for plain, others in _ALIKE.items() for other in others})

# a decimal, a fraction, or a whole number that a fraction may follow: 12.5, 5/8, 12, 12 1/2, 12-1/2
_NUMBER = r"(?:\d+\.\d*|\.\d+|\d+ ?/ ?\d+|\d+(?:(?: |- ?)\d+ ?/ ?\d+)?)"
_SIGN = r"(?P<sign>[+-]?) ?"
_INCH = r'(?:inches|inch|in\.?|")'
_METRIC = {"mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000)}

_FRACTION = re.compile(r"(?:(\d+)(?: |- ?))?(\d+) ?/ ?(\d+)")
_COMMA = re.compile(r"\d ?[,٫，] ?\d")
_DEGREES = re.compile(
    rf"{_SIGN}(?P<degrees>{_NUMBER})(?P<mark> ?(?:°|deg(?:ree)?s?)"
    rf"(?: ?(?P<minutes>{_NUMBER}) ?(?:'|min(?:ute)?s?)"
    rf"(?: ?(?P<seconds>{_NUMBER}) ?(?:\"|sec(?:ond)?s?))?)?)?"
)
_SLOPE = re.compile(
    rf"{_SIGN}(?P<rise>{_NUMBER}) ?(?P<rise_unit>mm|cm|{_INCH})? ?(?::|in|over) ?"
    rf"(?P<run>{_NUMBER}) ?(?P<run_unit>mm|cm|{_INCH})?"
)
_SIZE = re.compile(
    rf"{_SIGN}(?P<size>{_NUMBER}) ?(?:(?P<metric>mm|cm|m)|(?P<inch>{_INCH})(?P<rest> ?[+-] ?\d*\.\d+)?)?"
)
_FEET = re.compile(
    rf"{_SIGN}(?P<feet>{_NUMBER}) ?(?:'|feet|foot|ft\.?)(?: ?-? ?(?P<inches>{_NUMBER}) ?{_INCH})?"
)
_FROM = re.compile(r"(?P<reading>.*\S) from (?:the )?(?P<origin>edge|square)")


class _MisreadError(ValueError):
    """What is wrong with a text, as the words that follow it in the sentence."""


@dataclass(frozen=True)
class GaugeReading:
    """A gauge setting that was typed: degrees from square, and how it was said.

    `said` is "from square", "from the edge", "as a slope" or "in degrees, taken from square".
    """

    degrees_from_square: float
    said: str


# Reading


def read_angle(text, low=None, high=None, name=None) -> float:
    """Degrees from `12.5`, `12 1/2°`, `12°30'15"`, or from a slope: `1:8`, `1 in 8`, `24.9 over 100 mm`.

    A slope is rise to run and gives atan(rise / run); a leading minus makes either negative. A fraction
    alone, such as `1/8`, may be a slope or part of a degree and is refused. `low` and `high` are in degrees,
    included.
    """
    return _read(text, _angle, float, _ANGLE, (low, high, _short_degrees), name)


def read_gauge(text, low=None, high=None, name=None) -> GaugeReading:
    """What `read_angle` reads, taken from square unless `from the edge` (or `from square`) follows.

    From the edge gives 90 − value, negative where more than 90 was typed. `low` and `high` are degrees from
    square, included.
    """
    value = _read(text, _from_square, float, _GAUGE, (low, high, _short_degrees), name)
    return GaugeReading(value, _said(text))


def read_length(text, unit="mm", low=None, high=None, name=None) -> float:
    """Millimetres from `79 mm`, `7.9 cm`, `0.079 m`, `3 1/8 in`, `1' 3 1/2"`; a bare number is in `unit`.

    Fractions are kept exact and converted once; a leading minus makes the length negative. `unit` is "mm" or
    "in"; `low` and `high` are in mm, included, and shown in `unit`.
    """
    bare = _known(unit)

    def show(value):
        return inches(value) if unit == "in" else f"{_short(value)} mm"

    def parse(plain):
        return _length(plain, bare)

    return _read(text, parse, lambda size: Fraction(size) * bare, _LENGTH, (low, high, show), name)


def read_count(text, low=0, high=None, name=None) -> int:
    """A whole number of tails, boards and the like, from `low` to `high`, included."""
    return _read(text, _count, _whole, _COUNT, (low, high, _short), name)


def read_run(text, low=None, high=None, name=None) -> float:
    """The n of the slope 1 in n, from `1 in 6`, `1:6` or `9.5°`; a number alone is n itself. `low`, `high`: of n."""
    return _read(text, _run, _above_0, _RUN, (low, high, lambda run: f"1 in {_short(run)}"), name)


def _read(given, parse, convert, wanted, limits, name):
    """Read text by `parse`, turn a number given by `convert`, and hold the result to the limits."""
    noun, remedy = wanted
    try:
        value = parse(_plain(given)) if isinstance(given, str) else convert(_finite(given))
        value = value if isinstance(value, int) else float(value) + 0.0  # no −0.0
    except (_MisreadError, OverflowError) as wrong:
        why = wrong if isinstance(wrong, _MisreadError) else "is too large"
        raise ValueError(f"{name + ': ' if name else ''}{_quoted(given)} {why}; {remedy}.") from None
    low, high, show = limits
    if (low is not None and value < low) or (high is not None and value > high):
        must = f"{name or 'the ' + noun} must be {_span(low, high, show)}"
        raise ValueError(f"{must}, and {_quoted(given)} reads as {show(value)}.")
    return value


def _span(low, high, show):
    if high is None:
        return f"at least {show(low)}"
    return f"at most {show(high)}" if low is None else f"between {show(low)} and {show(high)}"


def _plain(text):
    """The text with look-alike signs, other scripts' digits and one-character fractions made plain."""
    text = text.strip()
    if not text:
        raise _MisreadError("was typed")
    if len(text) > LONGEST:
        raise _MisreadError(f"is longer than {LONGEST} characters")
    plain = "".join(map(_plain_character, text)).translate(_TO_PLAIN).replace("''", '"')
    plain = " ".join(plain.lower().split())
    if _COMMA.search(plain):
        raise _MisreadError("has a comma, so use a point for decimals and nothing between thousands")
    return plain


def _plain_character(character):
    if character.isdecimal():
        return str(unicodedata.decimal(character))
    if unicodedata.decomposition(character).startswith("<fraction>"):
        # the spaces keep 12½ from becoming 121/2, and ½5 from becoming 1/25
        return f" {unicodedata.normalize('NFKC', character)} "
    return character


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


def _angle(plain):
    if found := _SLOPE.fullmatch(plain):
        return _slope(found)
    found = _DEGREES.fullmatch(plain)
    if not found:
        raise _MisreadError(_what(plain))
    size = _number(found["degrees"])
    if not found["mark"] and re.fullmatch(r"\d+ ?/ ?\d+", found["degrees"]):
        part = (found["sign"] + found["degrees"]).replace(" ", "")
        slope = part.replace("/", ":")
        raise _MisreadError(f"may be a slope or part of a degree, so type {slope} or {part}°")
    if found["minutes"]:
        minutes = _number(found["minutes"])
        if found["seconds"]:
            minutes = _joined(minutes, _number(found["seconds"]), 60, "minutes", "seconds")
        size = _joined(size, minutes, 60, "degrees", "minutes")
    return _signed(found, size)


def _run(plain):
    if re.fullmatch(_NUMBER, plain):
        return _above_0(_number(plain))
    angle = _angle(plain)
    if not 0 < angle < 90:
        raise _MisreadError("is not a slope")
    return round(1 / math.tan(math.radians(angle)), 9)  # so that 1:6 gives 6


def _above_0(run):
    if run <= 0:
        raise _MisreadError("is not a slope")
    return run


def _from_square(plain):
    origin = _FROM.fullmatch(plain)
    value = _angle(origin["reading"] if origin else plain)
    return 90 - value if origin and origin["origin"] == "edge" else value


def _said(given):
    """How a gauge setting that has been read was given."""
    plain = _plain(given) if isinstance(given, str) else ""
    if origin := _FROM.fullmatch(plain):
        return "from square" if origin["origin"] == "square" else "from the edge"
    return "as a slope" if _SLOPE.fullmatch(plain) else "in degrees, taken from square"


def _slope(found):
    rise, run = _number(found["rise"]), _number(found["run"])
    if run == 0:
        raise _MisreadError("has a run of zero")
    if found["rise_unit"] and found["run_unit"]:
        rise *= _METRIC.get(found["rise_unit"], MM_PER_INCH)
        run *= _METRIC.get(found["run_unit"], MM_PER_INCH)
    return math.degrees(math.atan(_signed(found, rise / run)))


def _length(plain, bare):
    if found := _FEET.fullmatch(plain):
        feet = _number(found["feet"])
        if found["inches"]:
            feet = _joined(feet, _number(found["inches"]), 12, "feet", "inches")
        return _signed(found, feet) * 12 * MM_PER_INCH
    found = _SIZE.fullmatch(plain)
    if not found:
        raise _MisreadError(_what(plain))
    size = _signed(found, _number(found["size"]))
    if found["inch"]:
        return (size + Fraction((found["rest"] or "0").replace(" ", ""))) * MM_PER_INCH
    return size * (_METRIC[found["metric"]] if found["metric"] else bare)


def _count(plain):
    found = _SIZE.fullmatch(plain)
    if not found or found["metric"] or found["inch"]:
        raise _MisreadError(_what(plain))
    return _whole(_signed(found, _number(found["size"])))


def _whole(number):
    if number != int(number):
        raise _MisreadError("is not whole")
    return int(number)


def _joined(larger, smaller, base, larger_name, smaller_name):
    """`larger` with `smaller` added as parts of it, `base` to one."""
    if larger.denominator != 1:
        raise _MisreadError(f"has part of one of its {larger_name} before the {smaller_name}")
    if smaller >= base:
        raise _MisreadError(f"has {base} {smaller_name} or more")
    return larger + smaller / base


def _what(plain):
    """What a text is that does not fit where it was typed."""
    kinds = {"a slope": (_SLOPE,), "an angle": (_DEGREES,), "a length": (_SIZE, _FEET)}
    fits = [kind for kind, patterns in kinds.items() if any(pattern.fullmatch(plain) for pattern in patterns)]
    return f"is {fits[0]}" if fits else "cannot be read"


def _known(unit):
    """Millimetres in one `unit`."""
    if unit == "mm":
        return Fraction(1)
    if unit == "in":
        return MM_PER_INCH
    raise ValueError(f"unit: {_quoted(unit)} is not used here; mm or in is wanted, such as unit='mm'.")


def _finite(given):
    # `float` alone would take text, bytes and True as well
    if isinstance(given, bool) or not hasattr(type(given), "__float__"):
        raise _MisreadError("is not a finite number")
    try:
        value = float(given)
    except (TypeError, ValueError):
        value = math.nan
    if not math.isfinite(value):
        raise _MisreadError("is not a finite number")
    return value


def _quoted(given):
    """What was given, short and on one line, to stand in a sentence."""
    if not isinstance(given, str):
        try:
            return f"“{_short(_finite(given))}”"
        except (_MisreadError, OverflowError):
            return f"the {type(given).__name__} given"
    text = given.strip()
    shown = "".join(c if c.isprintable() else ascii(c)[1:-1] for c in text[: SHOWN + 1])
    return f"“{shown[:SHOWN]}{'…' if len(shown) > SHOWN else ''}”" if text else "nothing"


# Printing


def degrees(x, places=1) -> str:
    """`14.0°`, for `x` in degrees."""
    return f"{_fixed(x, places)}°"


def from_edge(x, places=1) -> str:
    """`76.0° from the edge`, for `x` in degrees from square: 90 − x, so a negative `x` gives more than 90."""
    return f"{_fixed(90 - _printable(x), places)}° from the edge"


def degrees_minutes(x) -> str:
    """`13°57′`, for `x` in degrees, to the nearest minute."""
    minutes = round(Fraction(_printable(x)) * 60)
    return f"{MINUS if minutes < 0 else ''}{abs(minutes) // 60}°{abs(minutes) % 60:02d}′"


def rise(x, unit="mm", places=1) -> str:
    """`24.9 over 100 mm`, for `x` in degrees from square; in inches `2 1/2 over 10 in`, to the nearest 1/64.

    `places` counts for mm alone. A line at ±90 or beyond has no rise: `ValueError`.
    """
    slope = _tan(x)
    if _known(unit) == 1:
        return f"{_fixed(100 * slope, places)} over 100 mm"
    return f"{_mixed(Fraction(round(640 * slope), 64))} over 10 in"


def one_in(x) -> str:
    """`1 in 4.0`, for `x` in degrees from square, and `−1 in 4.0` for −x.

    Less than 1 in 10 000 is `square (no slope)`; ±90 and beyond, `ValueError`. A run below 1 gets two digits
    that count, as `1 in 0.017`.
    """
    slope = _tan(x)
    if abs(slope) < 1e-4:
        return "square (no slope)"
    run = 1 / abs(slope)
    return f"{MINUS if slope < 0 else ''}1 in {_fixed(run, max(1, 1 - math.floor(math.log10(run))))}"


def mm(x, places=1) -> str:
    """`79.4 mm`, for `x` in mm."""
    return f"{_fixed(x, places)} mm"


def inch_parts(x) -> tuple[int, Fraction, float]:
    """(whole inches, 64ths in lowest terms, remainder in inches), adding up to x / 25.4, for `x` in mm.

    The first two make up the nearest 1/64, with the sign of `x`; the remainder, at most 1/128, has its own.
    """
    exact = Fraction(_printable(x)) / MM_PER_INCH
    nearest = Fraction(round(exact * 64), 64)
    whole = math.trunc(nearest)
    return whole, nearest - whole, float(exact - nearest)


def inches(x) -> str:
    """`3 1/8 in`, or `3 1/8 in + 0.003` where what is left over 64ths shows in thousandths, for `x` in mm.

    The text is a sum, so `−3 1/8 in − 0.003` is −3.128 in.
    """
    whole, part, rest = inch_parts(x)
    more = f" {'+' if rest > 0 else MINUS} {abs(rest):.3f}" if round(rest, 3) else ""
    return f"{_mixed(whole + part)} in{more}"


def length(x, unit="mm") -> str:
    """`x` in mm, written in `unit`: "mm" as `mm` does, "in" as `inches` does."""
    return mm(x) if _known(unit) == 1 else inches(x)


def ruled(x, unit="mm") -> str:
    """`79.4 mm` or `3 1/8 in`, for `x` in mm: to the nearest 0.1 mm or 1/64 in, as it is read off a rule."""
    return mm(x) if _known(unit) == 1 else f"{_mixed(sum(inch_parts(x)[:2]))} in"


def ruled_sizes(sizes, unit="mm") -> str:
    """`420.0 × 360.0 mm` for several lengths in mm, each as `ruled` writes it."""
    return f"{' × '.join(ruled(size, unit).removesuffix(f' {unit}') for size in sizes)} {unit}"


def fine(x, unit="mm") -> str:
    """`0.27 mm` or `0.011 in`, for `x` in mm: gaps and tolerances, which a rule's fractions are too coarse for."""
    return f"{_fixed(x, 2)} mm" if _known(unit) == 1 else f"{_fixed(_printable(x) / float(MM_PER_INCH), 3)} in"


def gauge_setting(x, unit="mm") -> str:
    """`76.1° from the edge (24.8 over 100 mm)`, for `x` in degrees from square; `ValueError` as `rise`."""
    return f"{from_edge(x)} ({rise(x, unit)})"


def _printable(x):
    try:
        return _finite(x)
    except (_MisreadError, OverflowError):
        raise ValueError(f"{_quoted(x)} cannot be printed; a number is wanted, such as 12.5.") from None


def _fixed(x, places):
    text = f"{abs(_printable(x)):.{places}f}"
    return MINUS + text if x < 0 and float(text) else text


def _mixed(size):
    whole, part = divmod(abs(size), 1)
    words = [str(number) for number in (whole, part) if number] or ["0"]
    return (MINUS if size < 0 else "") + " ".join(words)


def _tan(x):
    value = _printable(x)
    if abs(value) >= 90:
        raise ValueError(f"{_quoted(x)} has no rise; degrees between −90 and 90 are wanted, such as 14.")
    return math.tan(math.radians(value))


def _short(x):
    return f"{x:.12g}".replace("-", MINUS)


def _short_degrees(x):
    return f"{_short(x)}°"


def fine_millimetres(value):
    """A length in mm to hundredths, as the sentences say it."""
    return "less than 0.01 mm" if 0 < abs(value) < 0.005 else mm(value, 2)


def fine_degrees(value):
    """An angle to hundredths of a degree, as the sentences say it."""
    return "less than 0.01°" if 0 < abs(value) < 0.005 else degrees(value, 2)
