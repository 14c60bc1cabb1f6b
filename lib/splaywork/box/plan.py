"""A plan: boxes to make, by name and number, saved as a JSON file and read back with every field checked.

A plan file is JSON (RFC 8259) in UTF-8, in mm and degrees:
{"version": 1, "name": …, "unit": "mm" or "in", "items": [{"name": …, "quantity": …, "box": {fields of `Box`}}, …]}.
Nothing in it is evaluated. Fields that aren't known here are kept and written again.
"""

import json
import math
from dataclasses import MISSING, dataclass, field, fields
from pathlib import Path

from ..common.files import write_whole
from ..joint.tails import MOST
from .box import Allowances, Box, JointSettings

VERSION = 1
LARGEST = 1_000_000  # bytes of a plan file that are read
LONGEST = 200  # characters of a name, or of any other text
WIDEST = 100_000  # mm: no size is larger
UNITS = ("mm", "in")

_SHOWN = 40  # characters of a value that a sentence repeats


@dataclass(frozen=True)
class Item:
    """One size of box in a plan. extra: fields of the file that aren't known here, as {name: JSON value}."""

    name: str
    box: Box
    quantity: int = 1
    extra: dict = field(default_factory=dict)

    def __post_init__(self):
        _name(self.name, "name of an item")
        if not isinstance(self.box, Box):
            raise ValueError(f"The box of {_shown(self.name)} must be a Box, not {_shown(self.box)}.")
        _count(self.quantity, f"quantity of {_shown(self.name)}")
        _extra(self.extra, "item")


@dataclass(frozen=True)
class Plan:
    """What to make: items of boxes; unit: "mm" or "in", for reading and printing only. extra: as of an `Item`."""

    name: str
    items: tuple
    unit: str = "mm"
    extra: dict = field(default_factory=dict)

    def __post_init__(self):
        _name(self.name, "name of the plan")
        items = tuple(self.items) if isinstance(self.items, (list, tuple)) else ()
        if not items or not all(isinstance(item, Item) for item in items):
            raise ValueError("The items of a plan must be one Item or more, such as (Item('drawer', box),).")
        object.__setattr__(self, "items", items)
        if self.unit not in UNITS:
            raise ValueError(f"The unit can be 'mm' or 'in', not {_shown(self.unit)}.")
        _extra(self.extra, "plan")


def save_plan(path, plan):
    """Write a `Plan` to a file, whole or not at all; an existing file is replaced.

    ValueError for what is no plan or has an extra field that JSON can't hold, OSError when the disk refuses; the old
    file is then untouched. A process that is killed meanwhile leaves the old file, and perhaps a hidden .part beside it.
    """
    if not isinstance(plan, Plan):
        raise ValueError(f"Only a Plan can be saved, not {_shown(plan)}.")
    items = [item.extra | {"name": item.name, "quantity": item.quantity,
                           "box": _written(item.box, item.extra.get("box"))} for item in plan.items]
    content = plan.extra | {"version": VERSION, "name": plan.name, "unit": plan.unit, "items": items}
    try:
        text = json.dumps(content, allow_nan=False, ensure_ascii=False, indent=1)
        encoded = text.encode("utf-8")
    except (TypeError, ValueError, RecursionError):
        raise ValueError("The plan has an extra field that a JSON file can't hold: keep to text, finite numbers, lists "
                         "and dicts.") from None
    if len(encoded) > LARGEST:
        raise ValueError(f"The plan would take {len(encoded)} bytes, more than the {LARGEST} that are read back: make "
                         "two plans of it.")
    write_whole(path, encoded)


def _written(part, extra):
    """A dataclass as a JSON object, over the unknown fields that were read with it."""
    kept = dict(extra) if isinstance(extra, dict) else {}
    for each in fields(part):
        value = getattr(part, each.name)
        kept[each.name] = _written(value, kept.get(each.name)) if each.name in _PARTS else value
    return kept


def load_plan(path):
    """The `Plan` in a file. ValueError, one sentence naming the field, if it is none; OSError as by any reading."""
    content = _parsed(Path(path))
    known = _taken(content, "the plan", {"version": _version, "name": _text, "unit": _text, "items": _list})
    items = [_item(item, f"items[{number}]") for number, item in enumerate(known["items"])]
    try:
        return Plan(known["name"], items, known["unit"], _unknown(content, known))
    except ValueError as wrong:
        raise _refused(wrong) from None


def _parsed(path):
    with path.open("rb") as file:
        content = file.read(LARGEST + 1)
    if len(content) > LARGEST:
        raise ValueError(f"The plan file is larger than {LARGEST} bytes: it is no plan of this version.")
    try:
        parsed = json.loads(content.decode("utf-8"), parse_constant=_no_number, parse_float=_finite,
                            object_pairs_hook=_once)
    except _RefusedError as wrong:
        raise ValueError(str(wrong)) from None
    except (ValueError, RecursionError) as wrong:  # also text that isn't UTF-8, and whole numbers of thousands of digits
        where = f" (line {wrong.lineno})" if isinstance(wrong, json.JSONDecodeError) else ""
        raise ValueError(f"The plan file can't be read as JSON{where}: it was cut short, or isn't a plan.") from None
    return _object(parsed, "the plan")


class _RefusedError(ValueError):
    """A whole sentence, ready to be shown."""


def _no_number(word):
    raise _RefusedError(f"The plan file has a value of {word}, which is no number: put a number there.")


def _finite(text):
    value = float(text)
    if not math.isfinite(value):
        raise _RefusedError(f"The plan file has a number of {_shown(text)}, which is too large: put a smaller one.")
    return value


def _once(pairs):
    content = dict(pairs)
    if len(content) < len(pairs):
        names = [name for name, _ in pairs]
        double = next(name for name in names if names.count(name) > 1)
        raise _RefusedError(f"The plan file has the field {_shown(double)} twice in one place: keep one of them.")
    return content


# Each check takes a value and the name of its field, and gives the value back, or a ValueError.


def _object(value, name):
    if not isinstance(value, dict):
        raise ValueError(f"In the plan file, {name} must be an object in braces, not {_shown(value)}.")
    return value


def _list(value, name):
    if not isinstance(value, list):
        raise ValueError(f"In the plan file, {name} must be a list in brackets, not {_shown(value)}.")
    return value


def _text(value, name):
    if not isinstance(value, str) or len(value) > LONGEST:
        raise ValueError(f"In the plan file, {name} must be text of at most {LONGEST} characters, not {_shown(value)}.")
    return value


def _number(value, name):
    try:
        if isinstance(value, bool) or not isinstance(value, (int, float)) or abs(value) > WIDEST:
            raise OverflowError
        return float(value)
    except OverflowError:
        raise ValueError(f"In the plan file, {name} must be a number, at most {WIDEST}, not {_shown(value)}.") from None


def _whole(value, name):
    if isinstance(value, bool) or not isinstance(value, int):
        raise ValueError(f"In the plan file, {name} must be a whole number, not {_shown(value)}.")
    return value


def _tails(value, name):
    if not 1 <= _whole(value, name) <= MOST:
        raise ValueError(f"In the plan file, {name} must be from 1 to {MOST}, not {_shown(value)}.")
    return value


def _spacing(value, name):
    if isinstance(value, list):
        if len(value) > MOST:
            raise ValueError(f"In the plan file, {name} is for {len(value)} tails, more than {MOST}: leave some out.")
        return tuple(_number(width, f"{name}[{number}]") for number, width in enumerate(value))
    return _text(value, name)


def _version(value, name):
    if _whole(value, name) != VERSION:
        raise ValueError(f"In the plan file, {name} is {_shown(value)}, and only {VERSION} is known here: open it with "
                         "the release that wrote it.")
    return value


def _optional(check):
    return lambda value, name: None if value is None else check(value, name)


_JOINT = {"tails": _optional(_tails), "tail_slope": _number, "pin_width": _optional(_number),
          "half_pin": _optional(_number), "end": _text, "tail_spacing": _spacing, "narrowest": _number,
          "looks_as": _optional(_number)}
_ALLOWANCES = {"end": _number, "edge": _number, "thickness": _number}
_BOX = {"tails_on": _text, "measured": _text, "rims": _text, "joint": _object, "allowances": _object}
_BOX |= {each.name: (_number if each.default is MISSING or each.default is not None else _optional(_number))
         for each in fields(Box) if each.name not in _BOX}
_PARTS = {"joint": (JointSettings, _JOINT), "allowances": (Allowances, _ALLOWANCES)}


def _taken(content, name, checks):
    """The fields of an object that `checks` names, each checked; all of them must be there."""
    prefix = "" if name == "the plan" else f"{name}."
    missing = [each for each in checks if each not in content]
    if missing:
        raise ValueError(f"In the plan file, {prefix}{missing[0]} is missing: it may have been cut short or edited.")
    return {each: check(content[each], prefix + each) for each, check in checks.items()}


def _unknown(content, known):
    return {name: value for name, value in content.items() if name not in known}


def _item(content, name):
    known = _taken(_object(content, name), name, {"name": _text, "quantity": _whole, "box": _object})
    given = known["box"]
    settings = _taken(given, f"{name}.box", _BOX)
    extra = _unknown(given, settings)
    for part, (kind, checks) in _PARTS.items():
        own = settings[part]
        settings[part] = _built(kind, _taken(own, f"{name}.box.{part}", checks), f"{name}.box.{part}")
        if unknown := _unknown(own, checks):
            extra[part] = unknown
    box = _built(Box, settings, f"{name}.box")
    kept = _unknown(content, known) | ({"box": extra} if extra else {})
    return _built(Item, {"name": known["name"], "quantity": known["quantity"], "box": box, "extra": kept}, name)


def _built(kind, settings, name):
    try:
        return kind(**settings)
    except ValueError as wrong:
        raise _refused(wrong, name) from None


def _refused(wrong, name="the plan"):
    why = str(wrong)
    return ValueError(f"In the plan file, {name} can't be: {why[0].lower()}{why[1:]}")


# What Plan and Item check of what they are given.


def _name(value, what):
    if not isinstance(value, str) or not value.strip() or len(value) > LONGEST or not value.isprintable():
        raise ValueError(f"The {what} must be text of 1 to {LONGEST} characters on one line, not {_shown(value)}.")


def _count(value, what):
    if isinstance(value, bool) or not isinstance(value, int) or not 1 <= value <= 1000:
        raise ValueError(f"The {what} must be a whole number from 1 to 1000, not {_shown(value)}.")


def _extra(value, what):
    if not isinstance(value, dict) or not all(isinstance(name, str) for name in value):
        raise ValueError(f"The extra fields of the {what} must be a dict by name, not {_shown(value)}.")


def _shown(value):
    """A value, short and on one line, to stand in a sentence."""
    if isinstance(value, (dict, list)):
        return "an object" if isinstance(value, dict) else "a list"
    try:
        said = repr(value)
    except ValueError:  # a whole number of thousands of digits
        return "a very large number"
    return said if len(said) <= _SHOWN else f"{said[:_SHOWN]}…"
