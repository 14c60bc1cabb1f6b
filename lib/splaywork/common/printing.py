"""Angles and lengths as people read them, from degrees and millimetres.

Each printer takes one finite number and raises `ValueError` for anything else. A minus is written as U+2212.
"""

import math
from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from . import checks

MM_PER_INCH = Fraction(254, 10)  # exact by definition
MINUS = "−"
DECIMAL = "0.001 in"  # inches with three decimals, where "in" is inches with 64ths
UNITS = ("mm", "in", DECIMAL)
NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
UNIT_WORDS = {"mm": "millimetres", "in": "inches", DECIMAL: "decimal inches"}


def in_mm(unit: str) -> Any:
    """Millimetres in one "mm", "in" or "0.001 in", which is an inch too, exactly; ValueError for another unit."""
    return Fraction(1) if checks.choice("unit", unit, UNITS) == "mm" else MM_PER_INCH


def unit_name(unit: str) -> str:
    """What is written behind a number: `mm` or `in`."""
    return "mm" if in_mm(unit) == 1 else "in"


# Angles


def degrees(x: float, places: int = 1) -> str:
    """`14.0°`, for `x` in degrees.

    >>> import splaywork as sw
    >>> sw.degrees(14)
    '14.0°'
    """
    return f"{_fixed(x, places)}°"


def intended(x: float) -> str:
    """`16°` or `12.5°` for an angle that is exact to hundredths, as typed ones are; for any other `26.6°`, or `27.0°`.

    So sentences write angles: a number without a decimal is exact, and one with a single decimal may have been rounded.
    """
    hundredths = round(_number(x), 2) + 0.0
    return f"{short(hundredths)}°" if abs(hundredths - x) < 1e-9 else degrees(x)


def fine_degrees(x: float) -> str:
    """`14.03°`, or `less than 0.01°`, for `x` in degrees."""
    return "less than 0.01°" if 0 < abs(x) < 0.005 else degrees(x, 2)


def off(x: float, less_than: str = "less than") -> str:
    """`0.4°`, for a difference of `x` degrees, its sign left out: to the nearest 0.1; rather than nothing, `less than 0.1°`."""
    return f"{less_than} 0.1°" if 0 < abs(x) < 0.05 else degrees(abs(x))


def degrees_minutes(x: float) -> str:
    """`13°57′`, for `x` in degrees, to the nearest minute."""
    minutes = round(Fraction(_number(x)) * 60)
    return f"{MINUS if minutes < 0 else ''}{abs(minutes) // 60}°{abs(minutes) % 60:02d}′"


def from_edge(x: float, places: int = 1) -> str:
    """`76.0° from the edge`, for `x` in degrees from square: 90 − x, so a negative `x` gives more than 90."""
    return f"{_fixed(90 - _number(x), places)}° from the edge"


def offset(x: float, unit: str = "mm", places: int = 1) -> str:
    """`24.9 mm in 100 mm`, for `x` in degrees from square; in inches `63/64″ in 4″`, to the nearest 1/64, or `0.982″ in 4″`.

    `places` counts for mm alone. A line at ±90 or beyond has no offset: `ValueError`.

    >>> import splaywork as sw
    >>> sw.offset(14)
    '24.9 mm in 100 mm'
    """
    return " in ".join(offset_parts(x, unit, places))


def offset_parts(x: float, unit: str = "mm", places: int = 1) -> tuple[str, str]:
    """The two lengths of `offset`: `24.9 mm` sideways, and the `100 mm` up that it goes with."""
    slope = _tangent(x)
    if in_mm(unit) == 1:
        return f"{_fixed(100 * slope, places)} mm", "100 mm"
    if checks.choice("unit", unit, UNITS) == DECIMAL:
        return f"{_fixed(4 * slope, 3)}″", "4″"
    return f"{_mixed(Fraction(round(256 * slope), 64))}″", "4″"


def one_in(x: float) -> str:
    """`1 in 4.0`, for `x` in degrees from square, and `−1 in 4.0` for −x.

    Less than 1 in 10 000 is `square (no slope)`; ±90 and beyond, `ValueError`. A run below 1 gets two digits
    that count, as `1 in 0.017`.
    """
    slope = _tangent(x)
    if abs(slope) < 1e-4:
        return "square (no slope)"
    run = 1 / abs(slope)
    return f"{MINUS if slope < 0 else ''}1 in {_fixed(run, max(1, 1 - math.floor(math.log10(run))))}"


def bevel_setting(x: float, unit: str = "mm") -> str:
    """`76.1° from the edge (24.8 mm in 100 mm)`, for `x` in degrees from square; `ValueError` as `offset`."""
    return f"{from_edge(x)} ({offset(x, unit)})"


# Lengths


def mm(x: float, places: int = 1) -> str:
    """`79.4 mm`, for `x` in mm.

    >>> import splaywork as sw
    >>> sw.mm(79.375)
    '79.4 mm'
    """
    return f"{_fixed(x, places)} mm"


def inches(x: float) -> str:
    """`3 1/8 in`, for `x` in mm: to the nearest 1/64."""
    return f"{_mixed(sixty_fourths(x))} in"


def sixty_fourths(x: float) -> Fraction:
    """`x` in mm as inches, to the nearest 1/64: a `Fraction`."""
    return Fraction(round(Fraction(_number(x)) / MM_PER_INCH * 64), 64)


def length(x: float, unit: str = "mm") -> str:
    """`x` in mm as it is read off a rule: in "mm" to 0.1 mm, in "in" to the nearest 1/64, in "0.001 in" as decimal inches.

    >>> import splaywork as sw
    >>> sw.length(79.375), sw.length(79.375, "in"), sw.length(79.375, "0.001 in")
    ('79.4 mm', '3 1/8 in', '3.125 in')
    """
    return " ".join(length_parts(x, unit))


def typed(size: float, unit: str = "mm") -> str:
    """A length that was typed, or needn't be kept to a tenth, as `length` writes it, but without an idle decimal: `100 mm`."""
    return length(size, unit).replace(".0 mm", " mm")


def length_parts(x: float, unit: str = "mm") -> tuple[str, str]:
    """The number and the unit of `length`: `79.4` and `mm`."""
    if checks.choice("unit", unit, UNITS) == DECIMAL:
        return fine_parts(x, unit)
    return (_fixed(x, 1), "mm") if in_mm(unit) == 1 else (_mixed(sixty_fourths(x)), "in")


def length_within(x: float, unit: str = "mm") -> str:
    """`24.3 mm` for a limit of 24.37 mm, as `length` writes it but never rounded up: what nothing may be longer than."""
    step = 0.1 if in_mm(unit) == 1 else float(MM_PER_INCH) / (1000 if unit == DECIMAL else 64)
    return length(step * math.floor(_number(x) / step + 1e-6), unit)


def lengths(several: Sequence, unit: str = "mm") -> str:
    """`420.0 × 360.0 mm` for several lengths in mm, each as `length` writes it."""
    return f"{' × '.join(length_parts(x, unit)[0] for x in several)} {unit_name(unit)}"


def fine(x: float, unit: str = "mm") -> str:
    """`0.27 mm` or `0.011 in`, for `x` in mm: gaps and tolerances, which a rule's fractions are too coarse for."""
    return " ".join(fine_parts(x, unit))


def fine_parts(x: float, unit: str = "mm") -> tuple[str, str]:
    """The number and the unit of `fine`: `0.27` and `mm`."""
    return (_fixed(x, 2), "mm") if in_mm(unit) == 1 else (_fixed(_number(x) / float(MM_PER_INCH), 3), "in")


def fine_millimetres(x: float) -> str:
    """`0.27 mm`, or `less than 0.01 mm`, for `x` in mm."""
    return "less than 0.01 mm" if 0 < abs(x) < 0.005 else mm(x, 2)


_ENLARGED = 0.245  # mm: a gap below is written to 0.01 mm where a lens shows it
_COARSE = 1.975  # mm: from here on a gap is written to 0.1 mm


def gap(x: float, unit: str = "mm") -> str:
    """`0.25 mm`, `7.1 mm` or `0.010 in`, for `x` in mm: to the nearest 0.05 mm below 2 mm, to 0.1 mm or 0.001 in otherwise.

    Finer than that no feeler is read. What isn't nothing is never written as nothing: `less than 0.05 mm`.
    """
    return " ".join(gap_parts(x, unit))


def gap_parts(x: float, unit: str = "mm", less_than: str = "less than") -> tuple[str, str]:
    """The number and the unit of `gap`: `7.1` and `mm`; `less than 0.05` and `mm`, or with another sign for "less than"."""
    if in_mm(unit) != 1:
        return (f"{less_than} 0.001", "in") if 0 < abs(x) < 0.0005 * float(MM_PER_INCH) else fine_parts(x, unit)
    if 0 < abs(x) < 0.025:
        return f"{less_than} 0.05", "mm"
    return (_fixed(round(_number(x) * 20) / 20, 2) if abs(x) < _COARSE else _fixed(x, 1)), "mm"


def enlarged_gap_parts(x: float, unit: str = "mm", less_than: str = "less than") -> tuple[str, str]:
    """As `gap_parts`, and to 0.01 mm for less than 0.25 mm: beside a lens, whose bar shows that much."""
    if in_mm(unit) != 1 or not 0 < abs(x) < _ENLARGED:
        return gap_parts(x, unit, less_than)
    return (f"{less_than} 0.01" if abs(x) < 0.005 else _fixed(abs(x), 2)), "mm"


def enlarged_gap(x: float, unit: str = "mm") -> str:
    """`0.12 mm`: a gap as `enlarged_gap_parts` writes it, in a sentence under a picture with a lens."""
    return " ".join(enlarged_gap_parts(x, unit))


# Numbers


def short(x: float) -> str:
    """A number in as few digits as say it, to twelve."""
    return f"{x:.12g}".replace("-", MINUS)


def _number(x):
    return checks.number("number to print", x)


def _tangent(x):
    return math.tan(math.radians(checks.angle("angle of a line from square", x)))


def _fixed(x, places):
    places = checks.count("number of decimals", places, 0, 12)
    text = f"{abs(_number(x)):.{places}f}"
    return MINUS + text if x < 0 and float(text) else text


def _mixed(size):
    whole, part = divmod(abs(size), 1)
    words = [str(number) for number in (whole, part) if number] or ["0"]
    return (MINUS if size < 0 else "") + " ".join(words)
