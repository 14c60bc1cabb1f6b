"""A plan: boxes to make, by name and number, and all that was chosen for them, saved as a JSON file and read back checked.

A plan file is JSON (RFC 8259) in UTF-8, in mm and degrees: {"kind": "splaywork plan", "version": 3, and the fields of a
`Plan`}, its "items" being objects with the fields of an `Item`. Its "unit" says only in what people read it. Older files are
read too: those of version 2 lack what a bottom is made of and how it goes in, those of version 1 the opening, the bottom, and
all that concerns the whole plan but its unit. Nothing in a file is evaluated. Fields that aren't known here are kept and
written again.
"""

import json
import math
from dataclasses import KW_ONLY, MISSING, dataclass, field, fields
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any

from ..common import checks
from ..common.files import read_file, write_whole
from ..common.kinds import FilePath
from ..common.printing import UNITS
from ..joint.tails import MOST
from .box import MEASURED, NAMES, Allowances, Bottom, Box, JointSettings
from .opening import Clearances, FrontChoice, Opening
from .runners import RunnerChoice

if TYPE_CHECKING:
    from .opening import OpeningFit

KIND = "splaywork plan"
VERSION, READ = 3, (1, 2, 3)  # written, and read
LARGEST = 1_000_000  # bytes of a plan file that are read
LONGEST = 200  # characters of a name, or of any other text
WIDEST = 100_000  # mm: no size is larger
PAPER = ("A4", "A3", "Letter")
TILTS = ("left", "right")
MOST_OWNED = 200  # chisels, and kinds of boards

_SHOWN = 40  # characters of a value that a sentence repeats
_DRAWER = {"opening": Opening, "clearances": Clearances, "front": FrontChoice, "runners": RunnerChoice}


@dataclass(frozen=True)
class Stock:
    """Boards that are owned or can be bought: `count` of one size; length, width, thickness in mm.

    >>> import splaywork as sw
    >>> sw.Stock(2000, 150, 12).count
    1
    """

    length: float
    width: float
    thickness: float
    count: int = 1

    def __post_init__(self) -> None:
        for name in ("length", "width", "thickness"):
            object.__setattr__(self, name, checks.size(f"{name} of the stock", getattr(self, name)))
        object.__setattr__(self, "count", checks.count("number of boards in stock", self.count, 1, 1000))


@dataclass(frozen=True)
class Item:
    """One size of box in a plan.

    Parameters
    ----------
    name : str
        As it is written on the boards.
    box : Box
        The box.
    quantity : int
        How many of it, 1 or more.
    extra : dict
        Fields of the file that aren't known here, as {name: JSON value}.
    opening : Opening, optional
        What it goes into, with its clearances.
    clearances : Clearances, optional
        The usual ones when left out.
    front : FrontChoice, optional
        Its show front; only for an opening.
    runners : RunnerChoice, optional
        How it is carried; only for an opening.
    already_cut : tuple of str
        Names of its boards that are sawn and marked, and must stay as they are.

    Raises
    ------
    ValueError
        In one sentence, naming what can't be.

    >>> import splaywork as sw
    >>> sw.Item("deep", sw.Box(400, 300, 100), quantity=2).quantity
    2
    """

    name: str
    box: Box
    quantity: int = 1
    extra: dict = field(default_factory=dict)
    _: KW_ONLY
    opening: Opening | None = None
    clearances: Clearances | None = None
    front: FrontChoice | None = None
    runners: RunnerChoice | None = None
    already_cut: tuple = ()

    def __post_init__(self) -> None:
        _name(self.name, "name of an item")
        if not isinstance(self.box, Box):
            raise ValueError(f"The box of {_shown(self.name)} must be a Box, not {_shown(self.box)}.")
        _count(self.quantity, f"quantity of {_shown(self.name)}")
        _extra(self.extra, "item")
        for name, kind in _DRAWER.items():
            value = getattr(self, name)
            if value is not None:
                checks.instance(f"{name} of {_shown(self.name)}", value, kind, f"{kind.__name__}(…)")
                if self.opening is None:
                    raise ValueError(f"The {name} of {_shown(self.name)} belongs to an opening: give its opening too.")
        if self.opening is not None and self.clearances is None:
            object.__setattr__(self, "clearances", Clearances())
        cut = self.already_cut
        if not isinstance(cut, (tuple, list)) or len({*map(str, cut)}) < len(cut):
            raise ValueError("The boards already cut must be names of boards, each once, such as ('front',), not "
                             f"{_shown(cut)}.")
        cut = tuple(checks.choice("name of a board already cut", one, NAMES) for one in cut)
        object.__setattr__(self, "already_cut", cut)

    @classmethod
    def for_opening(cls, name: str, opening: Opening, clearances: Clearances | None = None, *, quantity: int = 1,
                    front: FrontChoice | None = None, runners: RunnerChoice | None = None, **settings: Any) -> "Item":
        """The drawer that an opening and its clearances settle, as an `Item`; settings: any others of `Box`."""
        checks.instance("opening", opening, Opening, "Opening(360, 420, 190)")
        clearances = Clearances() if clearances is None else clearances
        box = opening.fit(clearances, front=front, **settings).box
        return cls(name, box, quantity, opening=opening, clearances=clearances, front=front, runners=runners)

    @cached_property
    def fit(self) -> "OpeningFit | None":
        """Its box standing in its opening, as an `OpeningFit`, or None without one."""
        if self.opening is None or self.clearances is None:  # either both or neither
            return None
        return self.opening.holding(self.box, self.clearances, self.front)

    @property
    def fills_its_opening(self) -> bool:
        """Whether its box is the one that its opening settles; True without an opening."""
        if self.opening is None or self.clearances is None:
            return True
        settled = self.opening.settled(self.clearances, self.front)
        return self.box.measured == MEASURED[0] and all(getattr(self.box, name) == size for name, size in settled.items())


@dataclass(frozen=True)
class Plan:
    """What to make: items of boxes, and what holds for all of them.

    Parameters
    ----------
    name : str
        As it is written on the sheets.
    items : sequence of Item
        One or more, their names all different.
    unit : str
        "mm", "in" (inches to 1/64) or "0.001 in" (decimal inches), for reading and printing only.
    extra : dict
        As of an `Item`.
    paper : str
        "A4", "A3" or "Letter".
    saw_tilts : str
        Which way the saw's blade tilts, "left" or "right", as seen by the operator.
    kerf : float
        Of the saw, mm.
    chisels : sequence of float
        Widths owned, mm.
    stock : sequence of Stock
        Boards owned.

    Raises
    ------
    ValueError
        In one sentence, naming what can't be planned.

    >>> import splaywork as sw
    >>> plan = sw.Plan("drawers", (sw.Item("deep", sw.Box(400, 300, 100), quantity=2),))
    >>> [item.name for item in plan.items]
    ['deep']
    """

    name: str
    items: tuple
    unit: str = "mm"
    extra: dict = field(default_factory=dict)
    _: KW_ONLY
    paper: str = "A4"
    saw_tilts: str = "left"
    kerf: float = 3.0
    chisels: tuple = ()
    stock: tuple = ()

    def __post_init__(self) -> None:
        _name(self.name, "name of the plan")
        items = tuple(self.items) if isinstance(self.items, (list, tuple)) else ()
        if not items or not all(isinstance(item, Item) for item in items):
            raise ValueError("The items of a plan must be one Item or more, such as (Item('drawer', box),).")
        checks.choice("unit", self.unit, UNITS)
        _extra(self.extra, "plan")
        checks.choice("paper", self.paper, PAPER)
        checks.choice("way the saw tilts", self.saw_tilts, TILTS)
        for name, kind in (("chisels", "widths, such as (6, 12)"), ("stock", "Stock(…), such as (Stock(2400, 140, 12),)")):
            if not isinstance(getattr(self, name), (list, tuple)) or len(getattr(self, name)) > MOST_OWNED:
                raise ValueError(f"The {name} of a plan must be a tuple of {kind}, at most {MOST_OWNED}, not "
                                 f"{_shown(getattr(self, name))}.")
        if not all(isinstance(board, Stock) for board in self.stock):
            raise ValueError("The stock of a plan must be a tuple of Stock(…), such as (Stock(2400, 140, 12),).")
        kept = {"items": items, "kerf": checks.amount("kerf of the saw", self.kerf), "stock": tuple(self.stock),
                "chisels": tuple(checks.size("width of a chisel", width) for width in self.chisels)}
        for name, value in kept.items():
            object.__setattr__(self, name, value)


def save_plan(path: FilePath, plan: Plan) -> None:
    """Write a plan to a file, whole or not at all; an existing file is replaced.

    A process that is killed meanwhile leaves the old file, and perhaps a hidden .part beside it.

    Parameters
    ----------
    path : str or path
        Where to.
    plan : Plan
        What.

    Raises
    ------
    ValueError
        For what is no plan or has an extra field that JSON can't hold; the old file is then untouched.
    OSError
        When the disk refuses; the old file is then untouched.

    >>> import splaywork as sw
    >>> from tempfile import TemporaryDirectory
    >>> plan = sw.Plan("drawers", (sw.Item("deep", sw.Box(400, 300, 100)),))
    >>> with TemporaryDirectory() as folder:
    ...     sw.save_plan(folder + "/drawers.json", plan)
    """
    if not isinstance(plan, Plan):
        raise ValueError(f"Only a Plan can be saved, not {_shown(plan)}.")
    content = {"kind": KIND, "version": VERSION} | _written(plan)
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


def _written(part, unknown=None):
    """A dataclass as a JSON object, over the unknown fields that were read with it."""
    kept = dict(unknown) if isinstance(unknown, dict) else {}
    kept |= getattr(part, "extra", {})
    for each in fields(part):
        if each.name != "extra":
            kept[each.name] = _json(getattr(part, each.name), kept.get(each.name))
    return kept


def _json(value, unknown=None):
    if isinstance(value, (tuple, list)):
        return [_json(one) for one in value]
    return _written(value, unknown) if hasattr(value, "__dataclass_fields__") else value


def load_plan(path: FilePath) -> Plan:
    """The plan in a file.

    Parameters
    ----------
    path : str or path
        A file that `save_plan` wrote, or one like it.

    Returns
    -------
    Plan

    Raises
    ------
    ValueError
        One sentence, naming the field, if the file holds no plan.
    OSError
        As by any reading.

    >>> import splaywork as sw
    >>> from pathlib import Path
    >>> from tempfile import TemporaryDirectory
    >>> plan = sw.Plan("drawers", (sw.Item("deep", sw.Box(400, 300, 100)),))
    >>> with TemporaryDirectory() as folder:
    ...     sw.save_plan(Path(folder) / "drawers.json", plan)
    ...     sw.load_plan(Path(folder) / "drawers.json") == plan
    True
    """
    content = _parsed(Path(path))
    version = _version(_taken(content, "the plan", {"version": _whole})["version"], "version")
    older = {"kind": KIND} | {each.name: _json(each.default) for each in fields(Plan) if each.default is not MISSING}
    whole = older | content if version == 1 else content
    known = _taken(whole, "the plan", {"kind": _kind, "version": _version} | _PLAN)
    settings = {name: value for name, value in known.items() if name not in ("kind", "version", "items")}
    settings["items"] = [_item(item, f"items[{number}]", version) for number, item in enumerate(known["items"])]
    settings["stock"] = [_built(Stock, _taken(_object(one, f"stock[{number}]"), f"stock[{number}]", _FIELDS[Stock]),
                                f"stock[{number}]") for number, one in enumerate(known["stock"])]
    try:
        return Plan(**settings, extra=_unknown(content, known))
    except ValueError as wrong:
        raise _refused(wrong) from None


def _parsed(path):
    content = read_file(path, LARGEST + 1)
    if len(content) > LARGEST:
        raise ValueError(f"The plan file is larger than {LARGEST} bytes: it is no plan of this version.")
    try:
        parsed = json.loads(content.decode("utf-8-sig"), parse_constant=_no_number, parse_float=_finite,
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
    if _whole(value, name) not in READ:
        raise ValueError(f"In the plan file, {name} is {_shown(value)}, and only {READ[0]} to {READ[-1]} are known here: open "
                         "it with the release that wrote it.")
    return value


def _kind(value, name):
    if value != KIND:
        raise ValueError(f"In the plan file, {name} is {_shown(value)}, not {KIND!r}: it is a file of another kind.")
    return value


def _optional(check):
    return lambda value, name: None if value is None else check(value, name)


def _list_of(check):
    return lambda value, name: tuple(check(one, f"{name}[{number}]") for number, one in enumerate(_list(value, name)))


def _fields_of(kind, **others):
    """Name -> check for each field of a dataclass: those named, texts, whole numbers, and numbers that may be left out."""
    found = {}
    for each in fields(kind):
        plain = {str: _text, int: _whole}.get(each.type, _number)
        found[each.name] = others.get(each.name, plain if each.default is not None else _optional(plain))
    return found


_PLAN = {"name": _text, "unit": _text, "items": _list, "paper": _text, "saw_tilts": _text, "kerf": _number,
         "chisels": _list_of(_number), "stock": _list}
_FIELDS = {JointSettings: _fields_of(JointSettings, tails=_optional(_tails), tail_spacing=_spacing), Allowances: _fields_of(
    Allowances), Bottom: _fields_of(Bottom, wood=_optional(_text)), Stock: _fields_of(Stock)}
_FIELDS |= {kind: _fields_of(kind) for kind in _DRAWER.values()}
_PARTS = {"joint": JointSettings, "allowances": Allowances, "bottom": Bottom}
_BOX = _fields_of(Box, **dict.fromkeys(_PARTS, _object))
_ITEM = {"name": _text, "quantity": _whole, "box": _object, "already_cut": _list_of(_text)} | dict.fromkeys(
    _DRAWER, _optional(_object))


def _taken(content, name, checks):
    """The fields of an object that `checks` names, each checked; all of them must be there."""
    prefix = "" if name == "the plan" else f"{name}."
    missing = [each for each in checks if each not in content]
    if missing:
        raise ValueError(f"In the plan file, {prefix}{missing[0]} is missing: it may have been cut short or edited.")
    return {each: check(content[each], prefix + each) for each, check in checks.items()}


def _unknown(content, known):
    return {name: value for name, value in content.items() if name not in known}


def _item(content, name, version):
    content = _object(content, name)
    older = dict.fromkeys(_DRAWER) | {"already_cut": []} if version == 1 else {}
    known = _taken(older | content, name, _ITEM)
    extra = _unknown(content, known)
    known["box"], unknown = _box(known["box"], f"{name}.box", version)
    if unknown:
        extra["box"] = unknown
    for part, kind in _DRAWER.items():
        if known[part] is not None:
            known[part], unknown = _part(kind, known[part], f"{name}.{part}")
            if unknown:
                extra[part] = unknown
    return _built(Item, known | {"extra": extra}, name)


def _box(given, name, version):
    """A `Box` of a file, and the fields in it that aren't known here."""
    if version == 1 or (version < VERSION and "bottom" in given):
        usual = {each.name: each.default for each in fields(Bottom)}
        given = given | {"bottom": usual | _object(given.get("bottom", {}), f"{name}.bottom")}
    settings = _taken(given, name, _BOX)
    extra = _unknown(given, settings)
    for part, kind in _PARTS.items():
        settings[part], unknown = _part(kind, settings[part], f"{name}.{part}")
        if unknown:
            extra[part] = unknown
    return _built(Box, settings, name), extra


def _part(kind, given, name):
    return _built(kind, _taken(given, name, _FIELDS[kind]), name), _unknown(given, _FIELDS[kind])


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
        said = " ".join(repr(value).split())  # an array's stands on several lines
    except ValueError:  # a whole number of thousands of digits
        return "a very large number"
    return said if len(said) <= _SHOWN else f"{said[:_SHOWN]}…"
