"""The box panel: all four boards of a box to turn and pull apart, its cut list, and the plan that it is an item of."""

from contextlib import contextmanager
from dataclasses import replace
from threading import RLock

import ipywidgets as widgets

from ..common.printing import degrees, length
from ..widgets.controls import Dial, Panel, Switch, folded, row, unit_switch
from ..widgets.fields import WIDE, Field
from .box import END_CORNERS, MEASURED, NAMES, Allowances
from .cut_list import cut_list
from .opening import Clearances
from .opening_part import OPENING, OpeningPart
from .picture import BoxPicture
from .plan import Item, Plan
from .plan_part import PlanPart
from .tables import corner_settings, cut_table, saw_steps
from .words import box_words, match_words, size_words, stand_words

SIZES = {"width": (60, 1500), "depth": (60, 1500), "height": (30, 400), "thickness": (4, 40)}  # mm
STEEPEST, MOST_TAILS, MOST_ITEMS = 60, 12, 100
VIEW = {"apart": 0.0, "turn": -30.0, "tilt": 22.0}
CORNERS = tuple(END_CORNERS[name][0] for name in NAMES)
MIRRORED = ", mirrored"


class BoxPanel(Panel):
    """Dials and fields for a box, one item of a plan, around `BoxPicture`; use `box_panel` to make one.

    `plan` is the last good state of all its items, `at` the number of the one that is shown.
    """

    def __init__(self, plan, folder):
        self.plan, self.at = plan, 0
        self._first, self._earlier, self._listed = plan, (plan, 0), None
        self._guard, self._filling = RLock(), False
        self.picture = BoxPicture()
        self.dials = _dials()
        self._make_choices()
        self.opening = OpeningPart(self._settings_of_drawer, self._fit)
        self.files = PlanPart(lambda: (self._as_set(), self.at), self._open, plan.name, folder)
        self.settings, self.listing, self.steps = widgets.HTML(), widgets.HTML(), widgets.HTML()
        self._take(plan, 0)
        super().__init__(self.dials, self._above(), self._below(), BoxPicture.WIDTH, BoxPicture.HEIGHT)
        for choice in (self.corner, self.unit, self.tails_on, self.measured, self.end, self.rims, self.plan_name,
                       self.name, self.quantity, *self.own.values(), *self.spare.values()):
            choice.observe(self._changed, "value")
        self.chosen.observe(self._choose, "value")
        for button, action in ((self.start_again, self._reset), (self.bring_back, self._back), (self.copy, self._copy),
                               (self.mirror, self._mirror), (self.remove, self._remove)):
            button.on_click(lambda _, action=action: self._act(action))

    def _make_choices(self):
        self.corner = _list("Corner", [(f"{name} corner", name) for name in CORNERS])
        self.chosen = _list("Item", [])
        self.unit = unit_switch()
        self.start_again = _button("Reset", "Put everything back to where it started")
        self.bring_back = _button("Bring back", "Undo the last Reset, Remove, Open plan or Fit the drawer")
        self.tails_on = Switch([("tails on sides", "sides"), ("on front, back", "front and back")],
                               ["The front and back carry the pins", "The sides carry the pins"])
        self.end = Switch([("flush ends", "flush"), ("square ends", "square")],
                          ["Sawn to the end bevel", "Sawn square to the face and planed flush afterwards"])
        self.rims = Switch([("level rims", "level"), ("square rims", "square")],
                           ["Edges ripped level", "Edges left square to the faces"])
        self.measured = _list("Measured", [(where, where) for where in MEASURED])
        self.own = {name: Field(f"The {name} board's thickness", None, *SIZES["thickness"], label=name.capitalize(),
                                blank="as the others") for name in NAMES}
        self.spare = {name: Field(f"The allowance for {name}", 0.0, 0, 100, label=f"For {name}")
                      for name in Allowances.__dataclass_fields__}
        text = WIDE | {"continuous_update": False}
        self.plan_name = widgets.Text(description="Plan", **text)
        self.name = widgets.Text(description="Name", **text)
        self.quantity = Field("The quantity", 1, 1, 1000, "count", label="Quantity")
        self.copy = _button("Add a copy", "One more item like this one, to change")
        self.mirror = _button("Add mirrored", "One more item, left for right: for the other side of the boat")
        self.remove = _button("Remove", "Take this item off the plan")

    def _above(self):
        at = self.dials
        return [row(at["width"], at["depth"], at["height"]), row(at["front_lean"], at["back_lean"], at["thickness"]),
                row(at["left_lean"], at["right_lean"], at["tails"]), row(at["apart"], self.corner, self.chosen)]

    def _below(self):
        at = self.dials
        view = [row(at["turn"], at["tilt"]), row(self.unit, self.start_again, self.bring_back)]
        stock = [widgets.HTML("Boards of another thickness, and what the blanks are left larger:"),
                 row(*self.own.values()), row(*self.spare.values()), row(at["tail_slope"], self.measured),
                 row(self.tails_on, self.end, self.rims)]
        items = [row(self.plan_name), row(self.name, self.quantity), row(self.copy, self.mirror, self.remove)]
        return [row(folded("View and units", view), folded("Boards, joints and blanks", stock),
                    folded("A drawer for an opening", self.opening.rows), folded("Items of the plan", items),
                    folded("Save, open and print", self.files.rows), folded("Order of sawing", [self.steps])),
                self.settings, self.listing]

    # From the panel to a plan

    def _settings(self, box):
        """The fields of `Box` as they stand on the panel; those that it doesn't have are as in `box`."""
        at = {name: self.dials[name].value for name in (*SIZES, *(f"{name}_lean" for name in NAMES))}
        at |= {f"{name}_thickness": field.read() for name, field in self.own.items()}
        joint = replace(box.joint, tails=int(self.dials["tails"].value), tail_slope=self.dials["tail_slope"].value,
                        end=self.end.value)
        spare = Allowances(**{name: field.read() for name, field in self.spare.items()})
        return at | {"joint": joint, "allowances": spare, "tails_on": self.tails_on.value, "rims": self.rims.value,
                     "measured": self.measured.value}

    def _box(self):
        """The box as it stands; ValueError when it can't be made. Untouched, it is the item's own to the last digit."""
        settings, box = self._made
        now = self._settings(box)
        if now != settings:
            self._made = now, replace(box, **now)
        return self._made[1]

    def _as_set(self):
        """The plan as everything stands; ValueError, in one sentence, when it can't be."""
        item = replace(self.plan.items[self.at], box=self._box(), name=self.name.value, quantity=self.quantity.read())
        items = (*self.plan.items[:self.at], item, *self.plan.items[self.at + 1:])
        return replace(self.plan, name=self.plan_name.value, unit=self.unit.value, items=items)

    def draw(self):
        with self._guard:
            plan = self._as_set()
            box, unit = plan.items[self.at].box, plan.unit
            self._show_unit(unit)
            self.picture.update(box, *(self.dials[name].value for name in ("turn", "tilt", "apart")), self.corner.value,
                                unit)
            png = self.picture.png()
            self.plan = plan
            return png, f"{size_words(box, unit)} {stand_words(box)}"

    def rest(self):
        """Renew the lists, what is said of the boards that match and of the corner, and the drawer in its opening."""
        with self._guard:
            plan = self.plan
            box = plan.items[self.at].box
            self._list()
            self.opening.follow(box, plan.unit)
            _, corner, *settings = box_words(box, self.corner.value, plan.unit).split("\n")
            self.settings.value = corner_settings(f"{match_words(box)} {corner}", settings)

    def _list(self):
        """Renew the cut list and the list of items, where they changed."""
        item = self.plan.items[self.at]
        if self._listed != (item, self.plan.unit):
            self._listed = item, self.plan.unit
            cuts = cut_list(item.box, item.quantity)
            self.listing.value, self.steps.value = cut_table(cuts, item.name, self.plan.unit), saw_steps(cuts)
        options = tuple((f"{number + 1}. {each.name} × {each.quantity}", number)
                        for number, each in enumerate(self.plan.items))
        with self._fill():
            if self.chosen.options != options:
                self.chosen.options = options
            self.chosen.value = self.at

    # From a plan to the panel

    @contextmanager
    def _fill(self):
        """While the panel is filled in, nothing of it is taken for a change."""
        before, self._filling = self._filling, True
        try:
            yield
        finally:
            self._filling = before

    def _take(self, plan, at):
        """Show one item of a plan; ValueError when the panel has no room for it, and then all stays as it was."""
        for item in plan.items:
            _showable(item)
        box = plan.items[at].box
        with self._guard, self._fill():
            self.plan, self.at = plan, at
            for name in SIZES:
                self.dials[name].put(getattr(box, name))
            for name in NAMES:
                self.dials[f"{name}_lean"].put(box.lean(name))
                self.own[name].put(getattr(box, f"{name}_thickness"))
            self.dials["tails"].put(_tails(box))
            self.dials["tail_slope"].put(box.joint.tail_slope)
            for name, field in self.spare.items():
                field.put(getattr(box.allowances, name))
            self.tails_on.value, self.measured.value = box.tails_on, box.measured
            self.end.value, self.rims.value, self.unit.value = box.joint.end, box.rims, plan.unit
            self.plan_name.value, self.name.value = plan.name, plan.items[at].name
            self.quantity.put(plan.items[at].quantity)
            self._show_unit(plan.unit)
            self._made = self._settings(box), box

    def _show_unit(self, unit):
        with self._fill():
            for name in (*SIZES, "apart"):
                if self.dials[name].unit != unit:
                    self.dials[name].use_unit(unit)
            for field in (*self.own.values(), *self.spare.values()):
                if field.unit != unit:
                    field.use_unit(unit)

    def _changed(self, _):
        if not self._filling:
            self.redraw()

    def _choose(self, change):
        if not self._filling and change.new is not None:
            self._take(self.plan, change.new)
            self.redraw()

    # Buttons

    def _act(self, action):
        with self._guard:
            try:
                action()
            except ValueError as wrong:
                self.complain(str(wrong))
                return
        self.redraw()

    def _replace(self, plan, at):
        """Show another plan, or the same one changed; the one before can be brought back."""
        before = self.plan, self.at
        self._take(plan, at)
        self._earlier = before

    def _reset(self):
        self._replace(self._first, 0)
        with self._fill():
            for name in VIEW:
                self.dials[name].reset()
            self.corner.value = CORNERS[0]
        self.opening.reset()

    def _back(self):
        self._replace(*self._earlier)

    def _add(self, item):
        if len(self.plan.items) >= MOST_ITEMS:
            raise ValueError(f"A plan on this panel has at most {MOST_ITEMS} items: begin another plan.")
        self._take(replace(self.plan, items=(*self.plan.items, item)), len(self.plan.items))

    def _copy(self):
        self._add(self.plan.items[self.at])

    def _mirror(self):
        item = self.plan.items[self.at]
        name = item.name.removesuffix(MIRRORED) if item.name.endswith(MIRRORED) else item.name + MIRRORED
        self._add(replace(item, name=name, box=item.box.mirrored()))

    def _remove(self):
        if len(self.plan.items) == 1:
            raise ValueError("A plan keeps one item at least: add another before you remove this one.")
        items = (*self.plan.items[:self.at], *self.plan.items[self.at + 1:])
        self._replace(replace(self.plan, items=items), max(0, self.at - 1))

    def _open(self, plan):
        if len(plan.items) > MOST_ITEMS:
            raise ValueError(f"The plan has {len(plan.items)} items, and this panel shows {MOST_ITEMS}: make two of it.")
        with self._guard:
            self._replace(plan, 0)
        self.redraw()

    def _settings_of_drawer(self):
        """What a drawer for an opening takes from the chosen item."""
        box = self.plan.items[self.at].box
        own = {f"{name}_thickness": getattr(box, f"{name}_thickness") for name in NAMES}
        return own | {name: getattr(box, name) for name in ("thickness", "tails_on", "joint", "rims", "allowances")}

    def _fit(self, fit):
        with self._guard:
            items = list(self.plan.items)
            items[self.at] = replace(items[self.at], box=fit.box)
            self._replace(replace(self.plan, items=items), self.at)
        self.redraw()


def _dials():
    """Every dial, by name; where those of a box stand is set when an item is taken."""
    dials = {name: Dial(name.capitalize(), limits[0], *limits, 0.5 if name == "thickness" else 1, "length")
             for name, limits in SIZES.items()}
    dials |= {f"{name}_lean": Dial(f"{name.capitalize()} lean", 0.0, -STEEPEST, STEEPEST, 0.5) for name in NAMES}
    dials |= {"tails": Dial("Tails", 1, 1, MOST_TAILS, 1, "count"),
              "apart": Dial("Apart", VIEW["apart"], 0, 200, 1, "length")}
    for dial in dials.values():  # three in a row
        dial.box.style.description_width = "74px"
        dial.box.layout.width, dial.slider.layout.width = "182px", "86px"
    return dials | {"turn": Dial("Turn", VIEW["turn"], -180, 180, 1), "tilt": Dial("Tilt", VIEW["tilt"], -20, 90, 1),
                    "tail_slope": Dial("Tail slope", 6.0, 2, 12, 0.5, "run")}


def _list(name, options):
    return widgets.Dropdown(options=options, description=name, style={"description_width": "74px"},
                            layout={"width": "272px"})


def _button(name, tooltip):
    return widgets.Button(description=name, tooltip=tooltip, layout={"width": "112px"})


def _tails(box):
    return max(corner.joint.tails for corner in box.corners.values())


def _showable(item):
    """ValueError, naming item and value, for a box that the panel's sliders don't reach."""
    box, reach = item.box, {"tail slope": (item.box.joint.tail_slope, 2, 12, "1 in {:g}".format)}
    sizes = dict(SIZES) | {f"{name}_thickness": SIZES["thickness"] for name in NAMES}
    reach |= {name.replace("_", " "): (getattr(box, name), *limits, length) for name, limits in sizes.items()}
    reach |= {f"{name} lean": (box.lean(name), -STEEPEST, STEEPEST, degrees) for name in NAMES}
    reach |= {f"allowance for {name}": (getattr(box.allowances, name), 0, 100, length)
              for name in Allowances.__dataclass_fields__}
    reach["number of tails at a corner"] = (_tails(box), 1, MOST_TAILS, "{:g}".format)
    for what, (value, low, high, say) in reach.items():
        if value is not None and not low <= value <= high:
            raise ValueError(f"The {what} of {item.name[:60]} is {say(value)}, and this panel takes from {say(low)} to "
                             f"{say(high)}: change it in Python, or plan it without the panel.")


def box_panel(plan=None, folder="out"):
    """Sliders for a box with all four boards in view, its cut list, and buttons to keep, print and fold it.

    plan: a `Plan`, whose first item is shown; left out, a galley locker drawer of our own. folder: where the buttons
    write to and open from, counted from where the notebook runs; it can be changed on the panel. ValueError for what is
    no plan, or a box that the sliders don't reach.
    """
    if plan is None:
        plan = Plan("Galley locker drawers", (Item("galley locker drawer, port", OPENING.fit(Clearances()).box),))
    if not isinstance(plan, Plan):
        raise ValueError(f"The box panel shows a Plan, such as Plan('drawers', [Item('deep', box)]), not {plan!r:.60}.")
    return BoxPanel(plan, str(folder))
