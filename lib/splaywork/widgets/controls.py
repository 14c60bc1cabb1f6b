"""What every panel is built from: dials (a slider and a field for one quantity), switches, the redraw rule, and the panel."""

import asyncio
import re
from base64 import b64encode
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from contextvars import ContextVar
from html import escape, unescape
from threading import Lock, RLock
from typing import Any, Self

import ipywidgets as widgets
from IPython.display import display

from ..common.class_corner import ClassCorner, class_corner
from ..common.printing import DECIMAL, degrees, length
from ..common.reading import read_angle, read_bevel, read_count, read_length, read_run
from .access import PRESENTING, REOPENED, names_for_access

FAR, READABLE = 1.4, 10.5  # for a room: how many times as heavy the pen is; points of the smallest type, if 430 pixels high
LARGEST_ZOOM = 4.0
ROOM = 210  # characters of a sentence for a room: two lines under its picture
RESTS = 0.15  # seconds without a redraw after which a panel's controls are taken to be at rest
AHEAD = 0.005  # seconds after a redraw, when its picture is on its way, at which the next may be made ready


_undrawn = ContextVar("undrawn", default=False)


@contextmanager
def undrawn() -> Iterator[None]:
    """Panels that open meanwhile aren't drawn: for whoever asks only what stands on their controls."""
    token = _undrawn.set(True)
    try:
        yield
    finally:
        _undrawn.reset(token)


class Latest:
    """Runs `draw` for the newest values only, one thread at a time.

    JupyterLab may deliver a slider's move on another thread while a cell runs: whoever finds the lock taken leaves
    word that something changed, and the one who holds it draws again before letting go.
    """

    def __init__(self, draw: Callable) -> None:
        self._draw = draw
        self._lock = Lock()
        self._changed = False

    def __call__(self) -> None:
        self._changed = True
        while self._changed and self._lock.acquire(blocking=False):
            try:
                self._changed = False
                self._draw()
            finally:
                self._lock.release()


def two_decimals(angle: float, _: str) -> str:
    """An angle with two decimals, for a dial that sets fractions of a degree."""
    return degrees(angle, 2)


WRITERS = {"angle": lambda x, _: degrees(x), "gauge": lambda x, _: degrees(x), "length": length,
           "count": lambda x, _: f"{x:g}", "run": lambda x, _: f"1 in {x:.4g}"}


class Dial(widgets.HBox):
    """One quantity: a labelled field that takes what `measure` reads, and a slider beside it.

    kind: "angle", "gauge" (from square, unless said to be from the edge), "length", "count" or "run" (the n of 1 in n);
    write: makes the field's text of a value and a unit, where tenths of a degree or mm won't do; label: pixels that
    its name has. `value` is the last good
    value, in degrees, in mm, a whole number or n; `on_change` is called when it changes, `on_wrong` with the sentence
    when what was typed can't be taken.
    """

    def __init__(self, name: str, value: float, low: float, high: float, step: float, kind: str = "angle", locked: bool = False,
                 write: Callable | None = None, label: float = 100) -> None:
        self.name, self.kind, self.unit = name, kind, "mm"
        self.say = write or WRITERS[kind]  # a value and a unit as the field's text
        self._start = value
        self._wrong, self._showing, self._moving = False, Lock(), RLock()
        self.on_change = self.on_wrong = lambda *_: None
        wide = max(label, 7 * len(name) + 8)  # pixels of the name, so that none is cut off
        self.field = widgets.Text(description=name, continuous_update=False, disabled=locked,
                                  style={"description_width": f"{wide}px"}, layout={"width": f"{150 + wide}px"})
        self.slider = widgets.FloatSlider(min=low, max=high, step=step, readout=False, disabled=locked,
                                          layout={"width": "230px", "min_width": "150px"})
        self._place(value)
        self.slider.observe(self._slid, "value")
        self.field.observe(self._typed, "value")
        super().__init__([self.field, self.slider], layout={"flex_flow": "row wrap"})  # a narrow page keeps the slider whole

    @property
    def value(self) -> float:
        return self._value

    @value.setter
    def value(self, value: float) -> None:
        self._place(value)
        self.on_change()

    def put(self, value: float) -> None:
        """Take a value; whoever calls this draws."""
        self._place(value)

    def reset(self) -> None:
        """Back to the value that the panel opened with; whoever calls this draws."""
        self._place(self._start)

    def takes(self, value: float) -> bool:
        """Whether the slider can be moved there."""
        return not self.slider.disabled and self.slider.min <= value <= self.slider.max

    def open_at(self, value: float) -> None:
        """Take a value as the one that the panel opens with; whoever calls this draws."""
        self._start = value
        self._place(value)

    def use_unit(self, unit: str) -> None:
        """Show lengths in "mm" or "in"."""
        self.unit = unit
        self.show()

    def show(self) -> None:
        """Write the value into the field, in place of whatever stands there."""
        with self._showing:  # or an older text, written by another thread, could be taken for one that was typed
            self._wrong = False
            self._shown = self.say(self.value, self.unit)
            self.field.value = self._shown

    def _step(self, value):
        """The whole step nearest to a value: the browser keeps a handle nowhere else."""
        low, step = self.slider.min, self.slider.step
        return low + round((value - low) / step) * step

    def _place(self, value):
        """Take a value, say it, and put the handle on the step nearest to it."""
        with self._moving:
            self._value, self._handle = value, self._step(value)
            self.slider.value = self._handle
        self.show()

    def _slid(self, _):
        # The browser sends back where it put the handle, give or take a last digit: that must not round what was typed.
        # And another thread may have moved it on since: where it stands now counts, not where it was when this was sent.
        with self._moving:
            step = self._step(self.slider.value)
            if step == self._handle:
                return
            self._value = self._handle = step
        self.show()
        self.on_change()

    def _typed(self, change):
        if change.new == self._shown:
            if self._wrong:  # a mistake was put right by hand
                self.on_change()
            return
        limits = {"low": self.slider.min, "high": self.slider.max, "name": self.name}
        try:
            if self.kind == "angle":
                value = read_angle(change.new, **limits)
            elif self.kind == "gauge":
                value = read_bevel(change.new, **limits).degrees_from_square
            elif self.kind == "count":
                value = read_count(change.new, **limits)
            elif self.kind == "run":
                value = read_run(change.new, **limits)
            else:
                value = read_length(change.new, self.unit, **limits)
        except ValueError as wrong:
            self._wrong = True
            self.on_wrong(str(wrong))
            return
        self.value = value


class OnPage(widgets.VBox):
    """What a cell shows: its children, named for assistive technology, and `instead` where there is no kernel.

    style: an HTML style that the notebook's file, and a page made from it, keeps beside the panel.
    """

    instead = "Run this cell, and sliders appear here."
    style = ""

    def __init__(self, children: list) -> None:
        super().__init__([*children, names_for_access()])
        self.add_class("splaywork-panel")

    def stored(self) -> tuple[bytes | None, str]:
        """(PNG bytes or None, words): what a notebook's file keeps of the panel, to be read without a kernel."""
        return None, self.instead

    def _ipython_display_(self, **_):
        """Show it, and beside it what stands in its place when the notebook is opened again without its kernel."""
        png, words = self.stored()
        display({"text/html": REOPENED + self.style, "text/plain": ""}, raw=True)
        if png:
            picture = {"image/png": b64encode(png).decode(), "text/plain": words}
            display(picture, metadata={"image/png": {"alt": words}}, raw=True)
        display(self._repr_mimebundle_(), raw=True)

    def _repr_mimebundle_(self, **options):
        return super()._repr_mimebundle_(**options) | {"text/plain": self.instead}


class Panel(OnPage):
    """Dials, switches, a picture, one sentence in words and numbers, and a line for what went wrong.

    Subclasses make their dials and switches and call this, which draws; then `draw` follows each change: `draw()` returns
    (PNG bytes, sentence) or raises ValueError, and then the last good picture stays. switches: name -> whatever has a
    `value` to choose, such as a `Switch`; one named "unit" sets the unit of all dials for lengths. reset: a button that puts
    all dials and switches back to where they stood.
    """

    def __init__(self, dials: dict[str, Dial], above: list, below: list, width: int, height: int, switches: dict | None = None,
                 reset: Any = None) -> None:
        self.dials, self.switches, self._resetting = dials, dict(switches or {}), False
        self.image = widgets.Image(format="png", width=width, height=height, layout={"max_width": "100%"})
        self.sentence = widgets.HTML(layout={"min_height": "84px"})  # three lines: what is below stays put
        self.message = widgets.HTML()
        self.redraw = Latest(self._redraw)
        for dial in dials.values():
            dial.on_change, dial.on_wrong = self.redraw, self.complain
        self._starts = {name: switch.value for name, switch in self.switches.items()}
        for name, switch in self.switches.items():
            switch.observe(self._use_unit if name == "unit" else self._switched, "value")
        if reset:
            reset.on_click(lambda _: self.reset())
        self.fill = widgets.ToggleButton(description="Fill the window", layout={"width": "auto"},
                                         tooltip="Show this panel alone, large enough for a room; Escape leaves")
        self.window = widgets.Text(continuous_update=False, layout={"display": "none"})  # the script writes into it
        self.fill.observe(self._fill_window, "value")
        self.window.observe(self._measured, "value")
        bar = widgets.VBox(above)
        for part, name in ((self.fill, "fill"), (self.window, "window"), (bar, "bar")):
            part.add_class(f"splaywork-{name}")
        self._turn, self._opened, self._refused = 0, False, False
        self.opened_at = widgets.HTML(layout={"display": "none"})
        super().__init__([bar, self.image, self.sentence, self.message, row(self.fill, self.window), *below, self.opened_at])
        self._open_for_the_class()
        if not _undrawn.get():
            self.redraw()
        self._opened = True

    def draw(self) -> tuple[bytes, str]:
        """(PNG bytes, sentence) for the dials and switches as they stand."""
        raise NotImplementedError

    def class_starts(self, kept: ClassCorner) -> dict[str, float]:
        """Where the dials open for a `ClassCorner`: key -> value. Dials that the panel lacks or that don't move stay."""
        return {"tail_lean": kept.tail_lean, "pin_lean": kept.pin_lean, "height": kept.height, "thickness": kept.thickness}

    def _open_for_the_class(self):
        """Open at the class corner, where one is kept beside the notebook, and say so."""
        try:
            kept = class_corner()
            starts = self.class_starts(kept) if kept else {}
            starts = {key: value for key, value in starts.items() if key in self.dials and self.dials[key].takes(value)}
            if not starts:
                return
            opened = {key: self.dials[key].value for key in starts}
            self._open_at(starts)
            try:
                self.draw()
            except ValueError:
                self._open_at(opened)
                raise
        except ValueError as wrong:
            said = f"This panel doesn't open at the class corner. {wrong}"
        else:
            told = "; ".join(f"{dial.name} {dial.say(dial.value, dial.unit)}" for dial in map(self.dials.get, starts))
            said = f"Opened at the class corner: {told}."
        self.opened_at.value, self.opened_at.layout.display = f"<small>{escape(said)}</small>", ""

    def _open_at(self, starts):
        for key, value in starts.items():
            self.dials[key].open_at(value)

    def present(self, on: bool = True) -> Self:
        """Fill the window with this panel, for a room, or give it back; the panel itself is returned.

        Its picture is drawn anew: as large as the window lets it be, with letters that a back row reads and a heavier pen.
        """
        self.fill.value = on
        return self

    def rest(self) -> None:
        """Renew what stands beside picture and sentence, such as a list; called when the controls have come to rest."""

    def ahead(self) -> None:
        """Make ready what the next move is likely to ask for; called in a kernel that has just sent a picture."""

    def reset(self) -> None:
        """Put every dial and switch back to where it stood when the panel opened, and draw once."""
        self._resetting = True
        try:
            for name, switch in self.switches.items():
                switch.value = self._starts[name]
            for dial in self.dials.values():
                dial.reset()
        finally:
            self._resetting = False
        self.redraw()

    def stored(self) -> tuple[bytes | None, str]:
        """The picture as it opens, and its sentence."""
        return self.image.value, unescape(self.sentence.value)

    def complain(self, sentence: str) -> None:
        """Show what is wrong, as text; the picture stays as it was."""
        self.message.value = f"<b>{escape(sentence)}</b>" if sentence else ""

    def _fill_window(self, change):
        canvas = self.picture.canvas
        self.fill.description = "Leave (Escape)" if change.new else "Fill the window"
        canvas.pen, canvas.least = (FAR, READABLE * max(1, canvas.height / 430)) if change.new else (1.0, 0.0)
        (self.add_class if change.new else self.remove_class)(PRESENTING)
        self.redraw()

    def _measured(self, change):
        """Draw as many pixels as the page shows, where those are more than the picture's own."""
        if re.fullmatch(r"\d{1,5}", change.new):
            zoom = min(max(int(change.new) / self.picture.canvas.width, 1.0), LARGEST_ZOOM)
            if abs(zoom - self.picture.canvas.zoom) > 0.02:
                self.picture.canvas.zoom = zoom
                self.redraw()

    def _use_unit(self, change):
        for dial in self.dials.values():
            if dial.kind == "length":
                dial.use_unit(change.new)
        self._switched(change)

    def _switched(self, _):
        if not self._resetting:
            self.redraw()

    def _redraw(self):
        try:
            png, sentence = self.draw()
        except ValueError as wrong:
            self._refused = True
            self.complain(str(wrong))
            return
        self._refused = False
        self.image.value = png
        self.sentence.value = escape(_first_sentences(sentence) if self.fill.value else sentence)
        self.complain("")
        for dial in self.dials.values():  # a field may hold what could not be taken, and its complaint is gone
            dial.show()
        self._turn += 1
        try:
            loop = asyncio.get_running_loop() if self._opened else None
        except RuntimeError:
            loop = None
        if loop:  # of a kernel: while a slider is dragged, the picture comes first, and a list would hold up the next one
            loop.call_later(AHEAD, self._ahead, self._turn)
            loop.call_later(RESTS, self._rest, self._turn)
        else:
            self._rest(self._turn)

    def _ahead(self, turn):
        if turn == self._turn:
            with suppress(ValueError):  # what can't be made is said when it is asked for
                self.ahead()

    def _rest(self, turn):
        if turn == self._turn:  # and no redraw has come since
            try:
                self.rest()
            except ValueError as wrong:
                if not self._refused:  # of what stands in the fields, not of the last good state that is listed
                    self.complain(str(wrong))


class FittedPanel(Panel):
    """A panel whose picture keeps its scales while a dial is dragged, so that what grows is seen to grow.

    Its `fit` button and a reset let the picture choose its scales anew: `draw` asks `may_fit` whether it may.
    """

    _anew = True

    def fit_button(self, tooltip: str) -> Any:
        """The button that lets the next picture choose its scales anew; the panel keeps it as `fit`."""
        self.fit = widgets.Button(description="Fit", tooltip=tooltip, layout={"width": "76px"})
        self.fit.on_click(lambda _: self.fit_anew())
        return self.fit

    def fit_anew(self) -> None:
        """Draw, with scales chosen anew."""
        self._anew = True
        self.redraw()

    def may_fit(self) -> bool:
        """Whether the picture about to be drawn may choose its scales; each leave is given once."""
        anew, self._anew = self._anew, False
        return anew

    def reset(self) -> None:
        """As `Panel.reset`, with scales chosen anew."""
        self._anew = True
        super().reset()


def _first_sentences(text):
    """As many whole sentences as two lines of a room's screen hold, one at least: what follows would run off its end."""
    first, *others = re.split(r"(?<=[.!?]) (?=[A-Z])", text)
    for sentence in others:
        if len(first) + 1 + len(sentence) > ROOM:
            break
        first += f" {sentence}"
    return first


def row(*children: widgets.Widget) -> Any:
    """Widgets side by side, as many as the page is wide, the rest below."""
    return widgets.HBox(children, layout={"flex_flow": "row wrap"})


class Switch(widgets.ToggleButtons):
    """Buttons of which one is down, from (label, value) pairs; `name` stands beside them where it is given.

    tooltips: one for each; width: of a button, CSS.
    """

    def __init__(self, options: Any, tooltips: Sequence = (), name: str = "", width: str = "112px") -> None:
        # as a flex box: its label would stand on the buttons otherwise
        super().__init__(options=options, tooltips=tooltips, description=name, style={"button_width": width},
                         layout={"display": "flex", "align_items": "baseline", "width": "auto"})


def unit_switch(decimal: bool = False) -> Switch:
    """The `Switch` for the unit that a panel writes lengths in: "mm" or "in", and with `decimal` also "0.001 in"."""
    options = [("mm", "mm", "Lengths in mm"), ("inch", "in", "Lengths in inches, to 1/64"),
               (DECIMAL, DECIMAL, "Lengths in decimal inches")][:3 if decimal else 2]
    switch = Switch([option[:2] for option in options], [tip for *_, tip in options], "Lengths in",
                    "76px" if decimal else "60px")
    switch.add_class("splaywork-unit")  # a room needs no choice of it
    return switch


def reset_button() -> Any:
    """The button that puts a panel back to how it opened."""
    return widgets.Button(description="Reset", tooltip="Put every slider back where it started", layout={"width": "76px"})


def folded(title: str, children: list) -> Any:
    """A box that is shut at first and opens under its title."""
    return widgets.Accordion([widgets.VBox(children)], titles=(title,), selected_index=None)
