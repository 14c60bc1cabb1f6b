"""Boxes that take one quantity each and have no slider: for what is typed once, and not tried out."""

from typing import Any

import ipywidgets as widgets

from ..common.printing import degrees, length
from ..common.reading import read_angle, read_count, read_length

LABEL = {"description_width": "86px"}  # of what stands beside a box or list
WIDE = {"style": LABEL, "layout": {"width": "400px"}}  # of a box or list, two in a row

_READ: dict[str, Any] = {"angle": lambda text, _, **limits: read_angle(text, **limits),
         "count": lambda text, _, **limits: read_count(text, **limits), "length": read_length}
_WRITE = {"angle": lambda x, _: degrees(x), "count": lambda x, _: f"{x:g}", "length": length}


class BlankField(widgets.Text):
    """A labelled box that may be left blank; kind: "length", "angle" or "count". name: in sentences; label: beside the box.

    blank: what the empty box says; it takes nothing at all, which reads as None.
    """

    def __init__(self, name: str, number: float | None, low: float, high: float, kind: str = "length",
                 label: str | None = None, blank: str = "") -> None:
        super().__init__(description=label or name, placeholder=blank, continuous_update=False,
                         style=LABEL, layout={"width": "190px"})
        self.limits, self.kind, self.unit = {"low": low, "high": high, "name": name}, kind, "mm"
        self._start = number
        self.put(number)

    @property
    def start(self) -> float | None:
        """The number that it opened with."""
        return self._start

    def read(self) -> float | None:
        """The number in it, in mm, degrees or pieces, or None; ValueError, one sentence, for what can't be taken."""
        return self._number_in() if self.value.strip() else None

    def _number_in(self) -> float:
        if self._number is not None and self.value == self._shown:
            return self._number  # to the last digit
        return _READ[self.kind](self.value, self.unit, **self.limits)

    def put(self, number: float | None) -> None:
        """Show a number, or None."""
        self._number = number
        self._shown = "" if number is None else _WRITE[self.kind](number, self.unit)
        self.value = self._shown

    def use_unit(self, unit: str) -> None:
        """Show a length in "mm" or "in"; what can't be read stays as it was typed."""
        try:
            number = self.read()
        except ValueError:
            self.unit = unit
            return
        self.unit = unit
        self.put(number)


class Field(BlankField):
    """A labelled box that holds a number: as `BlankField`, but blank it can't be read."""

    def __init__(self, name: str, number: float, low: float, high: float, kind: str = "length",
                 label: str | None = None) -> None:
        super().__init__(name, number, low, high, kind, label)

    def read(self) -> float:
        """The number in it, in mm, degrees or pieces; ValueError, one sentence, for what can't be taken."""
        return self._number_in()
