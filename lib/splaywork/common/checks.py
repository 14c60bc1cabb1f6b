"""What every public function refuses, in one sentence: the wrong type, sign, size, shape or word.

Each check takes the input's name in words and what was given. It gives back what is to be kept, a number or an array of its
own, or raises `ValueError`: one sentence with the name, what is wanted and what was given.
"""

import math
import operator
import reprlib
from collections.abc import Callable, Iterable
from dataclasses import fields
from typing import Any

import numpy as np

from .kinds import Computed

_SHORT = reprlib.Repr()
_SHORT.maxstring = _SHORT.maxother = 60


def shown(given: Any) -> str:
    """What was given, short and on one line, to stand in a sentence."""
    if isinstance(given, np.ndarray) and given.ndim:
        return f"an array of shape {given.shape}" if given.size > 6 else _SHORT.repr(given.tolist())
    if isinstance(given, str | bool | None | list | tuple | dict | set) and not isinstance(given, np.generic):
        return _SHORT.repr(given)
    try:
        return f"{float(given):.12g}".replace("-", "−")
    except (TypeError, ValueError, OverflowError):
        return f"the {type(given).__name__} given"


def plain(values: Any) -> Computed:
    """A float for a single number, an array otherwise."""
    values = np.asarray(values, dtype=float)
    return values.item() if values.ndim == 0 else values


def _floats(given):
    """An array of its own of the finite numbers given; TypeError for anything else, as for text, True or a ragged list."""
    values = np.array(given)
    if values.dtype.kind == "O":  # fractions and sympy's numbers
        if any(isinstance(one, str | bool | complex) or not hasattr(type(one), "__float__") for one in values.flat):
            raise TypeError
        values = values.astype(float)
    if values.dtype.kind not in "iuf" or not np.isfinite(values).all():
        raise TypeError
    return np.asarray(values + 0.0, dtype=float)  # no −0.0


def numbers(name: str, given: Any, *, what: str = "a number", fits: Callable | None = None,
            remedy: str | None = None) -> Computed:
    """A float, or a read-only array, of the finite numbers given.

    what: what is wanted, in words. fits: says of an array which entries will do. remedy: for numbers that won't do, the rest of
    the sentence that begins with them; without it, the sentence is that for something that is no number.
    """
    if isinstance(given, float) and math.isfinite(given) and (fits is None or fits(given)):
        return float(given) + 0.0  # by far the most of what is given, and soon done
    try:
        values = _floats(given)
    except (TypeError, ValueError, OverflowError):
        raise ValueError(f"The {name} must be {what}, not {shown(given)}.") from None
    wrong: Any = [] if fits is None else np.ravel(values)[~np.ravel(fits(values))]
    if len(wrong):
        first = shown(wrong[0])
        raise ValueError(f"The {name} is {first}{remedy}." if remedy else f"The {name} must be {what}, not {first}.")
    values.setflags(write=False)
    return plain(values)


def number(name: str, given: Any, *, what: str = "a number", fits: Callable | None = None, remedy: str | None = None) -> float:
    """One finite number as a float, as `numbers`; an array is refused."""
    if not isinstance(given, float) and np.ndim(_unless_ragged(given)):
        raise ValueError(f"The {name} must be {_one(what)}, not {shown(given)}.")
    return numbers(name, given, what=what, fits=fits, remedy=remedy)


def _unless_ragged(given):
    try:
        return np.asarray(given, dtype=object)
    except ValueError:
        return [given]


def _one(what):
    return f"one {what.removeprefix('a ')}"


def angles(name: str, given: Any, low: float = -90, high: float = 90, remedy: str | None = None) -> Computed:
    """Degrees strictly between `low` and `high`: a float or an array. remedy: why not beyond, and what to give."""
    remedy = f", and {remedy}" if remedy else f": keep it between {shown(low)}° and {shown(high)}°"
    return numbers(name, given, what="a number of degrees", fits=lambda degrees: (degrees > low) & (degrees < high),
                   remedy=f"°{remedy}")


def angle(name: str, given: Any, low: float = -90, high: float = 90, remedy: str | None = None) -> float:
    """One number of degrees strictly between `low` and `high`; an array is refused."""
    number(name, given, what="a number of degrees")
    return angles(name, given, low, high, remedy)


def error(name: str, given: Any, most: float = 5, unit: str = "°") -> float:
    """One error or spread, from 0 to `most` degrees (or of another unit), both included."""
    return number(name, given, what=f"a number from 0{unit} to {most}{unit}", fits=lambda one: (one >= 0) & (one <= most))


def sizes(name: str, given: Any, unit: str = "mm") -> Computed:
    """Lengths above 0, in mm: a float or an array."""
    return numbers(name, given, what=f"a number of {unit} above 0", fits=lambda size: size > 0)


def size(name: str, given: Any, unit: str = "mm") -> float:
    """One length above 0, in mm; an array is refused."""
    return number(name, given, what=f"a number of {unit} above 0", fits=lambda size: size > 0)


def amount(name: str, given: Any, unit: str = "mm") -> float:
    """One length of 0 or more, in mm; an array is refused."""
    return number(name, given, what=f"a number of {unit}, 0 or more", fits=lambda size: size >= 0)


def count(name: str, given: Any, least: int = 1, most: int | None = None) -> int:
    """A whole number from `least` to `most`, both included, as an int; True and 3.0 are refused."""
    try:
        if isinstance(given, bool | np.bool_):
            raise TypeError
        whole = operator.index(given)
    except TypeError:
        whole = None
    if whole is None or whole < least or (most is not None and whole > most):
        span = f"{least} or more" if most is None else f"from {least} to {most}"
        raise ValueError(f"The {name} must be a whole number, {span}, not {shown(given)}.")
    return whole


def choice(name: str, given: Any, options: Iterable[str]) -> str:
    """One of the words in `options`."""
    if not isinstance(given, str) or given not in options:
        *others, last = map(repr, options)
        words = f"{', '.join(others)} or {last}" if others else last
        raise ValueError(f"The {name} can be {words}, not {shown(given)}.")
    return str(given)


def flag(name: str, given: Any) -> bool:
    """True or False, and nothing that merely counts as one of them."""
    if not isinstance(given, bool | np.bool_):
        raise ValueError(f"The {name} must be True or False, not {shown(given)}.")
    return bool(given)


def text(name: str, given: Any, longest: int = 60) -> str:
    """Printable text of one line, not blank and at most `longest` characters."""
    if not isinstance(given, str) or not given.strip() or len(given) > longest or not given.isprintable():
        raise ValueError(f"The {name} must be text on one line, 1 to {longest} characters, not {shown(given)}.")
    return given


def instance(name: str, given: Any, kind: type, such_as: str) -> Any:
    """A `kind`; `such_as`: how one is made, as in "Corner(tail_lean=14, pin_lean=6)"."""
    if not isinstance(given, kind):
        article = "an" if kind.__name__[0] in "AEIO" and not kind.__name__.startswith("One") else "a"
        raise ValueError(f"The {name} must be {article} {kind.__name__}, such as {such_as}, not {shown(given)}.")
    return given


def together(**values: Any) -> tuple[int, ...]:
    """The shape to which these numbers and arrays broadcast together, each by its name (underscores are read as spaces)."""
    shapes = {name.replace("_", " "): np.shape(value) for name, value in values.items()}
    try:
        return np.broadcast_shapes(*shapes.values())
    except ValueError:
        *others, last = (f"the {name}" for name in shapes)
        *first, end = map(str, shapes.values())
        raise ValueError(f"T{', '.join(others)[1:]} and {last} have shapes {', '.join(first)} and {end}, which do not "
                         "broadcast together: give them one shape, or single numbers.") from None


# Values that hold arrays.


def same(first: Any, second: Any) -> bool:
    """Whether two values are equal, arrays and what holds arrays among them: one bool."""
    if isinstance(first, np.ndarray) or isinstance(second, np.ndarray):
        return np.array_equal(first, second)
    if isinstance(first, dict) and isinstance(second, dict):
        return first.keys() == second.keys() and all(same(first[key], second[key]) for key in first)
    if isinstance(first, tuple | list) and type(first) is type(second):
        return len(first) == len(second) and all(map(same, first, second))
    return bool(first == second)


def _key(value):
    """Something that can be hashed and is equal where the values are."""
    if isinstance(value, np.ndarray):
        return value.shape, tuple(value.ravel().tolist())
    if isinstance(value, dict):
        return frozenset((key, _key(one)) for key, one in value.items())
    return tuple(map(_key, value)) if isinstance(value, tuple | list) else value


class Comparable:
    """For frozen dataclasses that hold arrays (`eq=False`): == is one bool, and equal ones have one hash."""

    def _compared(self):
        return [getattr(self, field.name) for field in fields(self) if field.compare]

    def __eq__(self, other: object) -> bool:
        return same(self._compared(), other._compared()) if type(other) is type(self) else NotImplemented

    def __hash__(self) -> int:
        return hash((type(self), *map(_key, self._compared())))
