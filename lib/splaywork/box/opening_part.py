"""The folded part in which an opening is typed, with the show front and the runners, and how the drawer lies in there."""

from collections.abc import Callable
from dataclasses import replace
from html import escape
from typing import TYPE_CHECKING

import ipywidgets as widgets

from ..widgets.controls import row
from ..widgets.fields import LABEL, Field
from .opening import EDGES, Clearances, FrontChoice, Opening
from .opening_picture import OpeningPicture
from .runners import RunnerChoice, runners

if TYPE_CHECKING:
    from .plan import Item

OPENING = Opening(floor_width=360, depth=420, height=190, front_lean=11, left_lean=16, right_lean=4)
_SIZES = {"floor_width": "Floor width", "depth": "Depth", "height": "Height"}
_LEANS = ("left", "right", "front", "back")
_CLEARANCES = ("left", "right", "floor", "top", "front", "back")
_FRONTS = [("no show front", ""), ("inset", "inset"), ("overlay", "overlay")]


class OpeningPart:
    """Fields for an opening, its clearances, show front and runners; a button, a picture and its words.

    fit: called with (`Opening`, `Clearances`, `FrontChoice` or None, `RunnerChoice` or None) when the button is pressed; what
    it raises (ValueError) is said in the part.
    """

    def __init__(self, fit: Callable) -> None:
        self._use = fit
        self._picture: OpeningPicture | None = None
        self._shown: tuple[Item, str] | None = None
        self._carried = RunnerChoice()  # what the fields don't show of it stays as the item has it
        start, clear, front, carried = OPENING, Clearances(), FrontChoice(), RunnerChoice()
        self.fields = {name: Field(f"The opening's {label.lower()}", getattr(start, name), 20, 3000, label=label)
                       for name, label in _SIZES.items()}
        self.fields |= {f"{name}_lean": Field(f"The opening's {name} lean", getattr(start, f"{name}_lean"), -75, 75,
                                              "angle", f"{name.capitalize()} lean") for name in _LEANS}
        self.fields |= {f"{name}_clearance": Field(f"The {name} clearance", getattr(clear, name), 0, 100,
                                                   label=f"At the {name}") for name in _CLEARANCES}
        self.kind = widgets.Dropdown(options=_FRONTS, description="Show front", style=LABEL, layout={"width": "190px"})
        self.fields["front_thickness"] = Field("The show front's thickness", front.thickness, 3, 60, label="Thickness")
        self.fields |= {f"{name}_margin": Field(f"The show front's reveal or overlap at the {name}", getattr(front, name), 0,
                                                100, label=f"At the {name}") for name in EDGES}
        self.carried = widgets.Dropdown(options=[("slides on the floor", False), ("runs on runners", True)],
                                        description="The drawer", style=LABEL, layout={"width": "240px"})
        self.fields |= {f"runner_{name}": Field(f"The runners' {name}", getattr(carried, name), 3, 100, label=name.capitalize())
                        for name in ("height", "width")}
        self.fit_it = widgets.Button(description="Fit the drawer", layout={"width": "140px"},
                                     tooltip="Make the chosen item the drawer for this opening")
        self.image = widgets.Image(format="png", width=OpeningPicture.WIDTH, height=OpeningPicture.HEIGHT,
                                   layout={"max_width": "100%", "display": "none"})
        self.words = widgets.HTML()
        self.fit_it.on_click(self._pressed)
        self.rows = [
            widgets.HTML("Measure the opening along its floor, and its walls from plumb."),
            row(*(self.fields[name] for name in _SIZES)), row(*(self.fields[f"{name}_lean"] for name in _LEANS)),
            widgets.HTML("Clearances, each square to its wall:"),
            row(*(self.fields[f"{name}_clearance"] for name in _CLEARANCES)),
            widgets.HTML("A show front, with the reveal (inset) or the overlap (overlay) at each edge, and runners:"),
            row(self.kind, self.fields["front_thickness"], *(self.fields[f"{name}_margin"] for name in EDGES)),
            row(self.carried, self.fields["runner_height"], self.fields["runner_width"]),
            row(self.fit_it), self.words, row(self.image)]

    def _pressed(self, _):
        try:
            self._use(*self.read())
        except ValueError as wrong:
            self.words.value = f"<b>{escape(str(wrong))}</b>"

    def read(self) -> tuple:
        """What is typed: (`Opening`, `Clearances`, `FrontChoice` or None, `RunnerChoice` or None)."""
        at = {name: field.read() for name, field in self.fields.items()}
        opening = Opening(**{name: at[name] for name in (*_SIZES, *(f"{name}_lean" for name in _LEANS))})
        clear = Clearances(**{name: at[f"{name}_clearance"] for name in _CLEARANCES})
        front = FrontChoice(self.kind.value, at["front_thickness"], **{name: at[f"{name}_margin"] for name in EDGES}) if (
            self.kind.value) else None
        carried = replace(self._carried, height=at["runner_height"], width=at["runner_width"]) if self.carried.value else None
        return opening, clear, front, carried

    def show(self, item: "Item", unit: str) -> None:
        """Fill the fields from an `Item`; where it has no opening, what stands there stays."""
        if item.opening is not None:
            parts: list[tuple[dict[str, str], object]] = [
                ({name: name for name in _SIZES} | {f"{name}_lean": f"{name}_lean" for name in _LEANS}, item.opening),
                ({f"{name}_clearance": name for name in _CLEARANCES}, item.clearances)]
            if item.front is not None:
                parts.append(({"front_thickness": "thickness"} | {f"{name}_margin": name for name in EDGES}, item.front))
            if item.runners is not None:
                parts.append(({"runner_height": "height", "runner_width": "width"}, item.runners))
            for names, part in parts:
                for name, attribute in names.items():
                    self.fields[name].put(getattr(part, attribute))
            self.kind.value = "" if item.front is None else item.front.kind
            self.carried.value, self._carried = item.runners is not None, item.runners or RunnerChoice()
        self._use_unit(unit)

    def reset(self) -> None:
        """Back to the opening that it started with."""
        for field in self.fields.values():
            field.put(field.start)
        self.kind.value, self.carried.value, self._carried = "", False, RunnerChoice()

    def follow(self, item: "Item", unit: str) -> None:
        """Show how the item lies in its opening, beside the box as it now is."""
        if (item, unit) == self._shown:
            return
        self._shown = item, unit
        self._use_unit(unit)
        if item.fit is None:
            self.image.layout.display, self.words.value = "none", "This item has no opening yet."
            return
        if self._picture is None:
            self._picture = OpeningPicture()
        carried, said_of_strips = self._runners(item, unit)
        self._picture.update(item.fit, unit, carried)
        self.image.value, self.image.layout.display = self._picture.png(), None
        said: list[str] = [item.fit.words(unit)]
        if not item.fills_its_opening:
            said.append("The box was changed after it was fitted: <b>Fit the drawer</b> makes it the opening's own again.")
        if item.fit.show_front is not None:
            said.append(escape(item.fit.show_front.words(unit)))
        said += said_of_strips
        self.words.value = "".join(f"<p style=\"line-height: 1.35\">{each}</p>" for each in said)

    def _use_unit(self, unit):
        for field in self.fields.values():
            if field.unit != unit:
                field.use_unit(unit)

    @staticmethod
    def _runners(item, unit):
        """(its `Runners` or None, what is said of them)."""
        if item.runners is None:
            return None, []
        try:
            made = runners(item.fit, item.runners)
        except ValueError as wrong:
            return None, [f"<b>{escape(str(wrong))}</b>"]
        return made, [escape(sentence) for sentence in made.words(unit)]
