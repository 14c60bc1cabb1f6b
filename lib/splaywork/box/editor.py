"""A plan being edited: its chosen item, every change with its undo, and drawers fitted to openings; without any widget."""

from dataclasses import fields, replace
from typing import TYPE_CHECKING, Any

from ..common import checks
from ..common.class_corner import ClassCorner
from .box import NAMES, Box
from .changes import kept_as_cut
from .opening import SETTLED
from .plan import Item, Plan

if TYPE_CHECKING:
    from .opening import Clearances, FrontChoice, Opening
    from .runners import RunnerChoice

MIRRORED = ", mirrored"
MOST_ITEMS, DEEPEST = 100, 200  # items of a plan that is edited; changes that can be undone


class PlanEditor:
    """A `Plan` and the number of its chosen item, `at`; whatever changes them can be undone.

    Every method leaves the plan as it was when it raises ValueError, one sentence.

    >>> import splaywork as sw
    >>> editor = sw.PlanEditor(sw.Plan("drawers", (sw.Item("deep", sw.Box(400, 300, 100)),)))
    >>> editor.item.name, editor.can_undo
    ('deep', False)
    """

    def __init__(self, plan: Plan, at: int = 0) -> None:
        self.plan, self.at = _checked(plan), 0
        self.choose(at)
        self._first, self._what = (self.plan, self.at), None
        self._past: list[tuple[Plan, int]] = []

    @property
    def item(self) -> Item:
        """The chosen `Item`."""
        return self.plan.items[self.at]

    @property
    def box(self) -> Box:
        """The chosen item's `Box`."""
        return self.item.box

    @property
    def can_undo(self) -> bool:
        """Whether there is a change to take back."""
        return bool(self._past)

    def choose(self, at: int) -> None:
        """Choose an item by its number from 0; that is no change of the plan."""
        self.at = checks.count("number of the item", at, 0, len(self.plan.items) - 1)
        self._what = None

    def undo(self) -> None:
        """Take back the last change. Changes of the same thing in a row, as of a dial that is dragged, are one."""
        if not self._past:
            raise ValueError("There is nothing to undo: nothing was changed yet.")
        self.plan, self.at = self._past.pop()
        self._what = None

    def reset(self) -> None:
        """Back to the plan that was first shown; this too can be undone."""
        self._put(*self._first)

    def open(self, plan: Plan) -> None:
        """Another plan in place of this one; its first item is chosen."""
        self._put(_checked(plan), 0)

    def take(self, plan: Plan) -> None:
        """The plan as it is now, changed somewhere; the chosen item stays chosen."""
        if plan != self.plan:
            self._put(_checked(plan), self.at, _differing(self.plan, plan))

    def change(self, **settings: Any) -> None:
        """Other values for fields of the chosen item's `Box`."""
        unknown = settings.keys() - {each.name for each in fields(Box)}
        if unknown:
            raise ValueError(f"A box has no {sorted(unknown)[0]!r}: change its {', '.join(each.name for each in fields(Box))}.")
        self._items(replace(self.item, box=replace(self.box, **settings)))

    def change_item(self, **settings: Any) -> None:
        """Other values for fields of the chosen `Item`."""
        self._items(replace(self.item, **settings))

    def put(self, plan: Plan) -> None:
        """The plan as it is now, as `take`, but boards of the chosen item that are cut already stay as they are."""
        before, item = self.item, plan.items[self.at]
        if item.already_cut and item.box != before.box and set(item.already_cut) <= set(before.already_cut):
            item = replace(item, box=kept_as_cut(before.box, item.box, item.already_cut))
        self.take(replace(plan, items=(*plan.items[:self.at], item, *plan.items[self.at + 1:])))

    def change_plan(self, **settings: Any) -> None:
        """Other values for fields of the `Plan`: its name, unit, paper, saw, chisels or stock."""
        self.take(replace(self.plan, **settings))

    def fit(self, opening: "Opening", clearances: "Clearances", front: "FrontChoice | None" = None,
            runners: "RunnerChoice | None" = None) -> None:
        """Make the chosen item the drawer for an opening; its thicknesses, joint, rims, allowances and bottom stay."""
        settings = {each.name: getattr(self.box, each.name) for each in fields(Box) if each.name not in SETTLED}
        fit = opening.fit(clearances, front=front, **settings)
        self._items(replace(self.item, box=fit.box, opening=opening, clearances=clearances, front=front, runners=runners))

    def add_copy(self) -> None:
        """One more item like the chosen one, with a name of its own; it is chosen."""
        self._add(replace(self.item, name=self._free(self.item.name), already_cut=()))

    def add_mirrored(self) -> None:
        """One more item, the chosen one left for right, with its opening; it is chosen."""
        item = self.item
        name = item.name.removesuffix(MIRRORED) if item.name.endswith(MIRRORED) else item.name + MIRRORED
        changed = {"box": item.box.mirrored(), "already_cut": (), "name": self._free(name)}
        for part in ("opening", "clearances", "front"):
            if (value := getattr(item, part)) is not None:
                swap = "_lean" if part == "opening" else ""
                changed[part] = replace(value, **{f"left{swap}": getattr(value, f"right{swap}"),
                                                  f"right{swap}": getattr(value, f"left{swap}")})
        self._add(replace(item, **changed))

    def remove(self) -> None:
        """Take the chosen item off the plan."""
        if len(self.plan.items) == 1:
            raise ValueError("A plan keeps one item at least: add another before you remove this one.")
        items = (*self.plan.items[:self.at], *self.plan.items[self.at + 1:])
        self._put(replace(self.plan, items=items), max(0, self.at - 1))

    def _free(self, name):
        """The name, or the name with the lowest number from 2 that no item bears yet."""
        taken, number, free = {item.name for item in self.plan.items}, 2, name
        while free in taken:
            free, number = f"{name} ({number})", number + 1
        return free

    def _add(self, item):
        if len(self.plan.items) >= MOST_ITEMS:
            raise ValueError(f"A plan that is edited has at most {MOST_ITEMS} items: begin another plan.")
        self._put(replace(self.plan, items=(*self.plan.items, item)), len(self.plan.items))

    def _items(self, item):
        """The chosen item in another state; boards already cut stay as they are, or it is refused."""
        self.put(replace(self.plan, items=(*self.plan.items[:self.at], item, *self.plan.items[self.at + 1:])))

    def _put(self, plan, at, what=None):
        """Another plan or item, what was there before being kept to undo; `what` was changed, None for what stands alone."""
        if what is None or (what, at) != self._what:
            self._past = [*self._past[-DEEPEST + 1:], (self.plan, self.at)]
        self.plan, self.at = plan, at
        self._what = None if what is None else (what, at)


def at_class_corner(plan: Plan, kept: ClassCorner) -> Plan:
    """A plan with a class corner at the front of each item, left and right; its name says so.

    The front and both sides take the leans, the thickness and the height; an item for an opening takes an opening that leans
    so, under the same clearances. The back, and items of which a board is cut already, stay. ValueError where one can't be.
    """
    editor = PlanEditor(plan)
    for at, item in enumerate(plan.items):
        if item.already_cut:
            continue
        editor.choose(at)
        side, front = (kept.tail_lean, kept.pin_lean)[::1 if item.box.tails_on == "sides" else -1]
        leans = {"left_lean": side, "right_lean": side, "front_lean": front}
        thick = {"thickness": kept.thickness, "back_thickness": item.box.back_thickness} | {
            f"{name}_thickness": None for name in NAMES if name != "back"}
        if item.opening is None:
            editor.change(**leans, **thick, height=kept.height)
        else:
            editor.change(**thick)
            spare = item.clearances.floor + item.clearances.top
            editor.fit(replace(item.opening, **leans, height=kept.height + spare), item.clearances, item.front, item.runners)
    return replace(editor.plan, name=f"{plan.name[:80]}, {kept.name or 'class corner'}")


def _checked(plan):
    checks.instance("plan", plan, Plan, "Plan('drawers', [Item('deep', box)])")
    if len(plan.items) > MOST_ITEMS:
        raise ValueError(f"The plan has {len(plan.items)} items, and {MOST_ITEMS} can be edited: make two of it.")
    return plan


def _differing(before, after):
    """Names of what differs between two values of one kind, down to the fields that were changed."""
    if isinstance(before, (Plan, Item, Box)) and type(before) is type(after):
        return tuple((each.name, _differing(getattr(before, each.name), getattr(after, each.name))) for each in fields(before)
                     if getattr(before, each.name) != getattr(after, each.name))
    if isinstance(before, tuple) and isinstance(after, tuple) and len(before) == len(after):
        return tuple((number, _differing(*pair)) for number, pair in enumerate(zip(before, after, strict=True))
                     if pair[0] != pair[1])
    return None
