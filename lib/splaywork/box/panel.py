"""The box panel: all four boards of a box to turn and pull apart, its cut list, and the plan that it is an item of.

The plan is a `PlanEditor`'s; the panel shows its chosen item, and gives back what was typed or moved.
"""

import re
from contextlib import contextmanager
from dataclasses import replace
from functools import lru_cache
from html import escape
from threading import RLock

import ipywidgets as widgets

from ..common.class_corner import class_corner
from ..common.kinds import FilePath
from ..common.printing import degrees, length, lengths
from ..common.reading import read_count, read_length
from ..joint.tails import MOST_ON_BOX_DIAL
from ..widgets.controls import Dial, Panel, Switch, folded, row, unit_switch
from ..widgets.fields import LABEL, WIDE, BlankField, Field
from .box import END_CORNERS, MEASURED, NAMES, Allowances, Box
from .changes import what_changed
from .cut_list import cut_list
from .editor import PlanEditor, at_class_corner
from .fittings import bottom_panel
from .movement import WOODS
from .opening import Clearances
from .opening_part import OPENING, OpeningPart
from .picture import BoxPicture
from .plan import TILTS, Item, Plan, Stock
from .plan_part import PlanPart
from .tables import corner_settings, cut_table, saw_steps
from .words import box_words, match_words, narrow_words, size_words, stand_words

SIZES = {"width": (60, 1500), "depth": (60, 1500), "height": (30, 400), "thickness": (4, 40)}  # mm
STEEPEST = 60
VIEW = {"apart": 0.0, "turn": -30.0, "tilt": 22.0}
_UNIT_AT_THE_END = re.compile(r"\s*[^\W\d_]*[″\"”']*$")
CORNERS = tuple(END_CORNERS[name][0] for name in NAMES)
KEPT = 32  # pictures, of some 30 kB each: a hand goes to and fro over the same places
STEPPED = {"width", "depth", "height", *(f"{name}_lean" for name in NAMES), *VIEW}  # dials whose next step is drawn ahead


class BoxPanel(Panel):
    """Dials and fields for a box, one item of a plan, around `BoxPicture`; use `box_panel` to make one.

    `plan` is the last good state of all its items, `at` the number of the one that is shown. Where a class corner is kept,
    the plan opens with it, and a button goes back to the plan that was given.
    """

    def __init__(self, plan: Plan, folder: FilePath) -> None:
        _showable_plan(plan)
        self.given = plan
        self.of_class, self._unusable = _for_the_class(plan)
        plan = self.of_class or plan
        self.editor, self._compared = PlanEditor(plan), plan
        self._renewed: dict[str, object] = {}  # what stands beside the picture -> what it was made of
        self._guard, self._filling = RLock(), False
        self._pictures: dict[tuple, bytes] = {}  # PNGs by what they show
        self._on_canvas = ()
        self._stood: dict[str, float] = {}  # where dials stood
        self._stepped = None  # where one more step of a dial takes it
        self.picture = BoxPicture()
        self.dials = _dials()
        self._make_choices()
        self.opening = OpeningPart(self._fit)
        self.files = PlanPart(lambda: (self._as_set(), self.at), self._open, self._saved, plan, folder)
        self.settings, self.listing, self.steps, self.changes, self.bottom_said = (widgets.HTML() for _ in range(5))
        self._show()
        super().__init__(self.dials, self._above(), self._below(), BoxPicture.WIDTH, BoxPicture.HEIGHT, reset=self.start_again)
        for fold in self.folds.values():
            fold.observe(lambda _: self._rest(self._turn), "selected_index")
        for choice in (self.corner, self.unit, self.tails_on, self.measured, self.end, self.rims, self.plan_name, self.tilts,
                       self.chisels, self.stock, self.name, self.quantity, self.kerf, self.automatic, self.files.paper,
                       self.bottom_kind, self.bottom_wood, self.bottom_sawn,
                       *self.own.values(), *self.spare.values(), *self.bottom.values(), *self.cut.values()):
            choice.observe(self._changed, "value")
        self.chosen.observe(self._choose, "value")
        for button, action in ((self.at_class, lambda: self._begin(self.of_class)),
                               (self.as_given, lambda: self._begin(self.given)),
                               (self.undo, self.editor.undo), (self.copy, self.editor.add_copy),
                               (self.mirror, self.editor.add_mirrored), (self.remove, self.editor.remove)):
            button.on_click(lambda _, action=action: self._act(action))

    def _open_for_the_class(self):
        """Say whether the plan that the panel was made with is at the class corner: its dials show that plan already."""
        box = self.editor.box
        said = self._unusable and f"This panel doesn't open at the class corner. {self._unusable}"
        if self.of_class:
            leans = f"left and right lean {degrees(box.left_lean)}, front {degrees(box.front_lean)}"
            said = f"Opened at the class corner: {leans}; {length(box.thickness)} thick, {length(box.height)} high."
        self.opened_at.value, self.opened_at.layout.display = f"<small>{escape(said)}</small>", "" if said else "none"

    def _begin(self, plan):
        """Show the plan at the class corner, or the one that was given; Undo takes that back too."""
        self.editor.open(plan)
        self._compared = plan

    @property
    def plan(self) -> Plan:
        """The plan, as last good."""
        return self.editor.plan

    @property
    def at(self) -> int:
        """Number of the item that is shown, from 0."""
        return self.editor.at

    def _make_choices(self):
        self.corner = _list("Corner", [(f"{name} corner", name) for name in CORNERS])
        self.chosen = _list("Item", [])
        self.at_class = _button("Class corner", "Every item at the corner that is kept for the class")
        self.as_given = _button("As given", "The plan as it stands in the cell, at leans of its own")
        self.beginnings = row(self.at_class, self.as_given)
        self.beginnings.layout.display = "" if self.of_class else "none"
        self.unit = unit_switch(decimal=True)
        self.start_again = _button("Reset", "Put everything back to where it started")
        self.undo = _button("Undo", "Take back the last change, whatever it was")
        self.automatic = widgets.ToggleButton(description="Automatic", tooltip="As many tails as suit each corner's height and "
                                              "thickness", layout={"width": "112px"})
        self.tails_on = Switch([("tails on sides", "sides"), ("on front, back", "front and back")],
                               ["The front and back carry the pins", "The sides carry the pins"])
        self.end = Switch([("flush ends", "flush"), ("square ends", "square")],
                          ["Sawn to the end bevel", "Sawn square to the face and planed flush afterwards"])
        self.rims = Switch([("level rims", "level"), ("square rims", "square")],
                           ["Edges ripped level", "Edges left square to the faces"])
        self.measured = _list("Measured", [(where, where) for where in MEASURED])
        self.own = {name: BlankField(f"The {name} board's thickness", None, *SIZES["thickness"], label=name.capitalize(),
                                     blank="as the others") for name in NAMES}
        self.spare = {name: Field(f"The allowance for {name}", 0.0, 0, 100, label=f"For {name}")
                      for name in Allowances.__dataclass_fields__}
        text = WIDE | {"continuous_update": False}
        self.plan_name = widgets.Text(description="Plan", **text)
        self.name = widgets.Text(description="Name", **text)
        self.quantity = Field("The quantity", 1, 1, 1000, "count", label="Quantity")
        self.bottom = {"thickness": Field("The bottom's thickness", 6.0, 2, 40, label="Bottom"),
                       "up": BlankField("The bottom's height", None, 1, 200, label="Height up", blank="automatic"),
                       "play": Field("The bottom's play", 0.5, 0, 20, label="Play"),
                       "depth": BlankField("The depth of the bottom's grooves", None, 1, 30, label="Grooves", blank="a third"),
                       "damper": Field("The moisture that the bottom takes up", 4, 0, 8, "count", label="Damper, %")}
        self.bottom_kind = Switch([("captured", "captured"), ("slid in", "slid in")],
                                  ["In grooves all round, put in as the box goes together",
                                   "Under the back, from behind, after the box is glued"])
        self.bottom_wood = widgets.Dropdown(options=[("sheet material", ""), *((wood, wood) for wood in WOODS)],
                                            description="Made of", style=LABEL, layout={"width": "290px"})
        self.bottom_sawn = Switch([("flat-sawn", "flat"), ("quarter-sawn", "quarter")],
                                  ["Growth rings lie about along its face", "Growth rings stand about square to its face"])
        self.cut = {name: widgets.ToggleButton(description=name.capitalize(), layout={"width": "80px"},
                                               tooltip=f"The {name} board is cut already, and stays as it is")
                    for name in ("front", "back", "left", "right")}
        self.tilts = Switch([(f"saw tilts {way}", way) for way in TILTS], ["As the operator sees the blade's top"] * 2)
        self.kerf = Field("The saw's kerf", 3.0, 0, 20, label="Saw's kerf")
        self.chisels = widgets.Text(description="Chisels", placeholder="such as 6, 12, 1/2 in", **text)
        self.stock = widgets.Textarea(description="Stock", placeholder="a line for each size, such as 2400 × 140 × 12, 5",
                                      rows=3, **text)
        self.copy = _button("Add a copy", "One more item like this one, to change")
        self.mirror = _button("Add mirrored", "One more item, left for right: for the other side of the boat")
        self.remove = _button("Remove", "Take this item off the plan")

    def _above(self):
        at = self.dials
        return [row(at["width"], at["depth"], at["height"]), row(at["front_lean"], at["back_lean"], at["thickness"]),
                row(at["left_lean"], at["right_lean"], at["tails"], self.automatic),
                row(at["apart"], self.corner, self.chosen), self.beginnings]

    def _below(self):
        at = self.dials
        view = [row(at["turn"], at["tilt"]), row(self.unit, self.start_again, self.undo)]
        stock = [widgets.HTML("Boards of another thickness, and what the blanks are left larger:"),
                 row(*self.own.values()), row(*self.spare.values()), row(at["tail_slope"], self.measured),
                 row(self.tails_on, self.end, self.rims),
                 widgets.HTML("Solid wood moves across its grain, so the bottom has play:"),
                 row(*self.bottom.values()), row(self.bottom_kind, self.bottom_wood, self.bottom_sawn), self.bottom_said]
        items = [row(self.plan_name), row(self.name, self.quantity), row(self.copy, self.mirror, self.remove)]
        shop = [row(self.tilts, self.kerf), row(self.chisels), row(self.stock)]
        after = [widgets.HTML("Press the boards of this item that are cut already. These boards stay as they are, and the "
                              "panel refuses a change that would alter one:"), row(*self.cut.values()),
                 widgets.HTML("What became of each board since the plan was last opened or saved:"), self.changes]
        self.folds = {name: folded(title, rows) for name, title, rows in (
            ("view", "View and units", view), ("boards", "Boards, joints and blanks", stock),
            ("opening", "A drawer for an opening", self.opening.rows), ("items", "Items of the plan", items),
            ("shop", "Saw, chisels and stock", shop), ("changes", "When something changes", after),
            ("files", "Save, open and print", self.files.rows), ("steps", "Order of sawing", [self.steps]))}
        return [row(*self.folds.values()), self.settings, self.listing]

    # From the panel to a plan

    def _settings(self, box):
        """The fields of `Box` as they stand on the panel; those that it doesn't have are as in `box`."""
        at = {name: self.dials[name].value for name in (*SIZES, *(f"{name}_lean" for name in NAMES))}
        at |= {f"{name}_thickness": field.read() for name, field in self.own.items()}
        tails = None if self.automatic.value else int(self.dials["tails"].value)
        joint = replace(box.joint, tails=tails, tail_slope=self.dials["tail_slope"].value, end=self.end.value)
        spare = Allowances(**{name: field.read() for name, field in self.spare.items()})
        bottom = replace(box.bottom, **{name: field.read() for name, field in self.bottom.items()}, kind=self.bottom_kind.value,
                         wood=self.bottom_wood.value or None, sawn=self.bottom_sawn.value)
        return at | {"joint": joint, "allowances": spare, "bottom": bottom, "tails_on": self.tails_on.value,
                     "rims": self.rims.value, "measured": self.measured.value}

    def _box(self):
        """The box as it stands; ValueError when it can't be made. Untouched, it is the item's own to the last digit."""
        settings, box = self._made
        now = self._settings(box)
        if now != settings:
            self._made = now, _made_of(tuple(now.items()))
        return self._made[1]

    def _as_set(self):
        """The plan as everything stands; ValueError, in one sentence, when it can't be."""
        item = replace(self.editor.item, box=self._box(), name=self.name.value, quantity=self.quantity.read(),
                       already_cut=tuple(name for name in NAMES if self.cut[name].value))
        items = (*self.plan.items[:self.at], item, *self.plan.items[self.at + 1:])
        whole = {"paper": self.files.paper.value, "saw_tilts": self.tilts.value, "kerf": self.kerf.read()}
        for name, box, read in (("chisels", self.chisels, _chisels), ("stock", self.stock, _stock)):
            shown = self._typed[name]
            whole[name] = getattr(self.plan, name) if box.value == shown else read(box.value, self.unit.value)
        return replace(self.plan, name=self.plan_name.value, unit=self.unit.value, items=items, **whole)

    def draw(self) -> tuple:
        with self._guard:
            if self.automatic.value and self.dials["tails"].value != self._counted:  # somebody moved the dial
                with self._fill():
                    self.automatic.value = False
            plan = self._as_set()
            named = self.plan.name
            self.editor.put(plan)
            if self.editor.item != plan.items[self.at]:  # boards that are cut keep their thickness
                self._show()
            elif self.automatic.value:
                self._count()
            self.files.rename(named, plan.name)
            self._typed = {"chisels": self.chisels.value, "stock": self.stock.value}  # what stands there is the plan's
            self._show_unit(plan.unit)
            box, unit = self.editor.box, plan.unit
            self._note_step()
            return self._drawn(box), f"{size_words(box, unit)} {stand_words(box)}"

    def _drawn(self, box, **moved):
        """The picture as PNG, of a box as the dials stand, but for those that `moved` puts elsewhere."""
        shown, canvas = self._shown(box, moved), self.picture.canvas
        key = *shown, canvas.pen, canvas.zoom, canvas.least
        if key not in self._pictures:
            self._put_on_canvas(shown)
            self._pictures[key] = self.picture.png()
            for oldest in list(self._pictures)[:-KEPT]:
                del self._pictures[oldest]
        return self._pictures[key]

    def _shown(self, box, moved):
        view = (moved.get(name, self.dials[name].value) for name in ("turn", "tilt", "apart"))
        return box, *view, self.corner.value, self.plan.unit

    def _put_on_canvas(self, shown):
        if shown != self._on_canvas:
            self.picture.update(*shown)
            self._on_canvas = shown

    def _note_step(self):
        """Keep which dial alone moved since the last picture, and by how much, where that is one step of it."""
        at = {name: self.dials[name].value for name in STEPPED}
        moved = [name for name in STEPPED if at[name] != self._stood.get(name)]
        self._stepped = None
        if len(moved) == 1 and self._stood:
            name, slider = moved[0], self.dials[moved[0]].slider
            step = at[name] - self._stood[name]
            if abs(abs(step) - slider.step) < 1e-9 and slider.min <= at[name] + step <= slider.max:
                self._stepped = name, at[name] + step
        self._stood = at

    def ahead(self) -> None:
        """Draw what one more step of the same dial would show: keys come one after another, and the kernel waits for them."""
        with self._guard:
            box = self.editor.box
            if self._stepped and box == self._made[1]:
                name, value = self._stepped
                settings = self._made[0]
                following = _made_of(tuple((settings | {name: value}).items())) if name in settings else box
                self._drawn(following, **{name: value})

    def rest(self) -> None:
        """Renew the lists, what is said of boards, corner and bottom, and the drawer in its opening; what is folded away
        waits."""
        with self._guard:
            item, unit, corner = self.editor.item, self.plan.unit, self.corner.value
            self._renew("words", (item, corner, unit, self.plan.chisels), self._say)
            self._renew("list", (item, unit), self._list)
            self._renew("steps", (item, self.plan.saw_tilts), self._saw, "steps")
            self._renew("changes", (self._compared, self.plan), self._list_changes, "changes")
            self._renew("opening", (item, unit), self._lie, "opening")
            self._renew("bottom", (item, unit), self._tell_bottom, "boards")
            self._name_items()
            self._put_on_canvas(self._shown(self.editor.box, {}))  # which may hold what was drawn ahead

    def _renew(self, what, made_of, make, fold=None):
        """Make something anew where what it is made of changed; what lies in a fold only while that is open."""
        if self._renewed.get(what) != made_of and (fold is None or self.folds[fold].selected_index is not None):
            self._renewed[what] = made_of
            make()

    def _say(self):
        item, unit = self.editor.item, self.plan.unit
        said = box_words(item.box, self.corner.value, unit)
        notes = [*narrow_words(item.box, self.plan.chisels, unit), *_bottom_words(item, unit)[0]]
        self.settings.value = corner_settings(" ".join([match_words(item.box), said.corner, *notes]), said.settings)

    def _tell_bottom(self):
        said = " ".join(_bottom_words(self.editor.item, self.plan.unit)[1])
        self.bottom_said.value = f'<p style="line-height: 1.35">{escape(said)}</p>'

    def _cuts(self):
        return cut_list(self.editor.box, self.editor.item.quantity, self.plan.saw_tilts)

    def _list(self):
        self.listing.value = cut_table(self._cuts(), self.editor.item.name, self.plan.unit)

    def _saw(self):
        self.steps.value = saw_steps(self._cuts())

    def _list_changes(self):
        found = what_changed(self._compared, self.plan)
        self.changes.value = found._repr_html_() if found.altered else "<p>Nothing: keep all boards.</p>"

    def _lie(self):
        self.opening.follow(self.editor.item, self.plan.unit)

    def _name_items(self):
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

    def _show(self):
        """Show the editor's item, and what holds for the whole plan."""
        plan, item, box = self.plan, self.editor.item, self.editor.box
        with self._guard, self._fill():
            for name in SIZES:
                self.dials[name].put(getattr(box, name))
            for name in NAMES:
                self.dials[f"{name}_lean"].put(box.lean(name))
                self.own[name].put(getattr(box, f"{name}_thickness"))
                self.cut[name].value = name in item.already_cut
            self.automatic.value = box.joint.tails is None
            self._count()
            self.dials["tail_slope"].put(box.joint.tail_slope)
            for name, field in self.spare.items():
                field.put(getattr(box.allowances, name))
            for name, field in self.bottom.items():
                field.put(getattr(box.bottom, name))
            self.bottom_kind.value, self.bottom_sawn.value = box.bottom.kind, box.bottom.sawn
            self.bottom_wood.value = box.bottom.wood or ""
            self.tails_on.value, self.measured.value = box.tails_on, box.measured
            self.end.value, self.rims.value, self.unit.value = box.joint.end, box.rims, plan.unit
            self.plan_name.value, self.name.value = plan.name, item.name
            self.quantity.put(item.quantity)
            self.files.paper.value, self.tilts.value = plan.paper, plan.saw_tilts
            self.kerf.put(plan.kerf)
            self._show_shop()
            self.opening.show(item, plan.unit)
            self._show_unit(plan.unit)
            self._made = self._settings(box), box

    def _count(self):
        """Show how many tails the box has, at the corner that has most."""
        self._counted = _tails(self.editor.box)
        self.dials["tails"].put(self._counted)

    def _show_shop(self):
        """Show the chisels and the stock in the plan's unit."""
        plan = self.plan
        self._shop_unit = plan.unit
        self.chisels.value = ", ".join(length(width, plan.unit) for width in plan.chisels)
        self.stock.value = "\n".join(
            f"{lengths((each.length, each.width, each.thickness), plan.unit)}, {each.count}" for each in plan.stock)
        self._typed = {"chisels": self.chisels.value, "stock": self.stock.value}

    def _show_unit(self, unit):
        with self._fill():
            if self._shop_unit != unit:
                self._show_shop()
            for name in (*SIZES, "apart"):
                if self.dials[name].unit != unit:
                    self.dials[name].use_unit(unit)
            for field in (*self.own.values(), *self.spare.values(), *self.bottom.values(), self.kerf):
                if field.unit != unit:
                    field.use_unit(unit)

    def _changed(self, _):
        if not self._filling:
            self.redraw()

    def _choose(self, change):
        if not self._filling and change.new is not None:
            self.editor.choose(change.new)
            self._show()
            self.redraw()

    # Buttons

    def _act(self, action):
        """Do something to the plan; where the panel couldn't show the outcome, it is undone and said."""
        with self._guard:
            before = self.plan
            try:
                action()
                try:
                    _showable_plan(self.plan)
                except ValueError:
                    self.editor.undo()
                    raise
            except ValueError as wrong:
                self.complain(str(wrong))
                return
            named = before.name
            self._show()
            self.files.rename(named, self.plan.name)
        self.redraw()

    def reset(self) -> None:
        """Put plan, opening, view and corner back to where they stood when the panel opened; Undo takes that back, too."""
        self._act(self._start_again)

    def _start_again(self):
        self.editor.reset()
        self._compared = self.plan
        self.opening.reset()
        with self._fill():
            for name in VIEW:
                self.dials[name].reset()
            self.corner.value = CORNERS[0]

    def _open(self, plan):
        _showable_plan(plan)
        with self._guard:
            self.editor.open(plan)
            self._compared = plan
            self._show()
        self.redraw()

    def _saved(self, plan):
        """What was just saved is what later changes are compared with."""
        self._compared = plan
        self.rest()

    def _fit(self, *choices):
        """Make the chosen item the drawer for an opening; ValueError where that can't be, or can't be shown."""
        with self._guard:
            before = self.plan
            self.editor.fit(*choices)
            try:
                _showable(self.editor.item)
            except ValueError:
                if self.plan is not before:
                    self.editor.undo()
                raise
            self._show()
        self.redraw()


def _chisels(text, unit):
    """Widths in mm from "6, 12, 1/2 in"; ValueError, one sentence, otherwise."""
    return tuple(read_length(width, unit, low=1, high=100, name="Chisels") for width in text.split(",") if width.strip())


def _stock(text, unit):
    """`Stock`s from lines such as "2400 × 140 × 12, 5"; ValueError, one sentence, otherwise."""
    found = []
    for line in filter(str.strip, text.splitlines()):
        sizes, _, count = line.partition(",")
        parts = [part.strip() for part in sizes.replace("x", "×").split("×")]
        if len(parts) != 3:
            raise ValueError(f"Stock: “{line[:40]}” isn't length × width × thickness, number. Type, for example, "
                             "2400 × 140 × 12, 5.")
        last = _UNIT_AT_THE_END.search(parts[2]).group()  # "2400 × 140 × 12 mm": said once for all three
        parts = [part if _UNIT_AT_THE_END.search(part).group() else part + last for part in parts]
        found.append(Stock(*(read_length(part, unit, low=1, name="Stock") for part in parts),
                           read_count(count, low=1, high=1000, name="Stock") if count.strip() else 1))
    return tuple(found)


def _bottom_words(item, unit):
    """(what is wrong with the groove for the bottom, how the bottom is made and fitted), as sentences."""
    try:
        panel = bottom_panel(item.box, fit=item.fit)
    except ValueError as wrong:
        return (str(wrong),), (str(wrong),)
    return panel.warnings(unit), (*panel.edge_words(), *panel.groove_words(unit), *panel.fitting_words(unit))


def _dials():
    """Every dial, by name; where those of a box stand is set when an item is taken."""
    dials = {name: Dial(name.capitalize(), limits[0], *limits, 0.5 if name == "thickness" else 1, "length")
             for name, limits in SIZES.items()}
    dials |= {f"{name}_lean": Dial(f"{name.capitalize()} lean", 0.0, -STEEPEST, STEEPEST, 0.5) for name in NAMES}
    dials |= {"tails": Dial("Tails", 1, 1, MOST_ON_BOX_DIAL, 1, "count"),
              "apart": Dial("Pull apart", VIEW["apart"], 0, 200, 1, "length")}
    for dial in dials.values():  # three in a row
        dial.field.style.description_width = "74px"
        dial.field.layout.width, dial.slider.layout.width = "182px", "86px"
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
    reach["number of tails at a corner"] = (_tails(box), 1, MOST_ON_BOX_DIAL, "{:g}".format)
    for what, (value, low, high, say) in reach.items():
        if value is not None and not low <= value <= high:
            raise ValueError(f"The {what} of {item.name[:60]} is {say(value)}, and this panel takes from {say(low)} to "
                             f"{say(high)}: change it in Python, or plan it without the panel.")


@lru_cache(maxsize=KEPT)
def _made_of(settings):
    """The `Box` of ((field, value), …)."""
    return Box(**dict(settings))


def _showable_plan(plan):
    for item in plan.items:
        _showable(item)


def _for_the_class(plan: Plan) -> tuple[Plan | None, str]:
    """(the plan at the class corner, or None without one; why the class corner that is kept can't be used, or "")."""
    try:
        kept = class_corner()
        found = at_class_corner(plan, kept) if kept else None
        if found:
            _showable_plan(found)
        return found, ""
    except ValueError as wrong:
        return None, str(wrong)


def box_panel(plan: Plan | None = None, folder: FilePath = "out") -> BoxPanel:
    """Sliders for a box with all four boards in view, its cut list, and buttons to keep, print and fold it.

    plan: a `Plan`, whose first item is shown; left out, a galley locker drawer of our own. Where a class corner is kept, the
    panel opens with that plan at the class corner, and one click goes back.
    folder: where the buttons write to and open from, counted from where the notebook runs; it can be changed on the panel.
    ValueError for what is no plan, or a box that the sliders don't reach.

    >>> import splaywork as sw
    >>> plan = sw.Plan("Galley", (sw.Item("locker drawer", sw.Box(400, 300, 120, left_lean=11)),))
    >>> panel = sw.box_panel(plan)
    >>> panel.dials["left_lean"].value
    11.0
    """
    if plan is None:
        plan = Plan("Galley locker drawers", (Item.for_opening("galley locker drawer, port", OPENING, Clearances()),))
    if not isinstance(plan, Plan):
        raise ValueError(f"The box panel shows a Plan, such as Plan('drawers', [Item('deep', box)]), not {plan!r:.60}.")
    return BoxPanel(plan, str(folder))
