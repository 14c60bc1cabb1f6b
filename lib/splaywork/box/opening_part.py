"""The folded part in which an opening is typed, and how the drawer for it lies in there, seen from the front."""

from html import escape

import ipywidgets as widgets

from ..widgets.controls import row
from ..widgets.fields import Field
from .opening import Clearances, Opening
from .opening_picture import OpeningPicture

OPENING = Opening(floor_width=360, depth=420, height=190, front_lean=11, left_lean=16, right_lean=4)
_SIZES = {"floor_width": "Floor width", "height": "Height", "depth": "Depth"}
_LEANS = ("left", "right", "front", "back")
_CLEARANCES = ("left", "right", "floor", "top", "front", "back")


class OpeningPart:
    """Fields for an opening and its clearances, a button, a picture and its words.

    use: called with the `OpeningFit` when the button was pressed; what it raises (ValueError) is said in the part.
    settings: gives the other settings of `Box` that the drawer is made with.
    """

    def __init__(self, settings, use):
        self._settings, self._use, self._fit, self._picture = settings, use, None, None
        start, clear = OPENING, Clearances()
        self.fields = {name: Field(f"The opening's {label.lower()}", getattr(start, name), 20, 3000, label=label)
                       for name, label in _SIZES.items()}
        self.fields |= {f"{name}_lean": Field(f"The opening's {name} lean", getattr(start, f"{name}_lean"), -75, 75,
                                              "angle", f"{name.capitalize()} lean") for name in _LEANS}
        self.fields |= {f"{name}_clearance": Field(f"The {name} clearance", getattr(clear, name), 0, 100,
                                                   label=f"At the {name}") for name in _CLEARANCES}
        self.fit_it = widgets.Button(description="Fit the drawer", layout={"width": "140px"},
                                     tooltip="Make the chosen item the drawer for this opening")
        self.image = widgets.Image(format="png", width=OpeningPicture.WIDTH, height=OpeningPicture.HEIGHT,
                                   layout={"max_width": "100%", "display": "none"})
        self.words = widgets.HTML("Measure the hole along its floor, and its faces from plumb; a clearance is square to "
                                  "its face.")
        self.fit_it.on_click(self._pressed)
        sizes, leans, clearances = ([self.fields[name] for name in self.fields if wanted(name)] for wanted in (
            _SIZES.__contains__, lambda name: name.endswith("_lean"), lambda name: name.endswith("_clearance")))
        self.rows = [row(*sizes), row(*leans), row(*clearances), row(self.fit_it), self.words, row(self.image)]

    def _pressed(self, _):
        try:
            fit = self._read()
            self._use(fit)
        except ValueError as wrong:
            self.words.value = f"<b>{escape(str(wrong))}</b>"
            return
        self._fit = fit
        self.follow(fit.box, self.fields["height"].unit)

    def _read(self):
        """The drawer for what is typed, as an `OpeningFit`."""
        at = {name: field.read() for name, field in self.fields.items()}
        clear = {name: at.pop(f"{name}_clearance") for name in _CLEARANCES}
        return Opening(**at).fit(Clearances(**clear), **self._settings())

    def follow(self, box, unit):
        """Show the fit again, beside the box as it now is."""
        for field in self.fields.values():
            field.use_unit(unit)
        if self._fit is None:
            return
        if self._picture is None:
            self._picture = OpeningPicture()
        self._picture.update(self._fit, unit)
        self.image.value, self.image.layout.display = self._picture.png(), None
        said = self._fit.words(unit)
        if box != self._fit.box:
            said += " This is the drawer as it was fitted: the box above is another one now."
        self.words.value = escape(said)

    def reset(self):
        """Back to the opening it started with, and no drawer in it."""
        for field in self.fields.values():
            field.put(field.start)
        self._fit, self.image.layout.display, self.words.value = None, "none", ""
