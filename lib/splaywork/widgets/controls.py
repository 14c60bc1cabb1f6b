"""What every panel is built from: a dial (slider and box for one quantity), the redraw rule, and the panel itself."""

from html import escape
from threading import Lock, RLock

import ipywidgets as widgets

from ..common.measure import degrees, length, read_angle, read_count, read_gauge, read_length, read_run
from .access import names_for_access


class Latest:
    """Runs `draw` for the newest values only, one thread at a time.

    JupyterLab may deliver a slider's move on another thread while a cell runs: whoever finds the lock taken leaves
    word that something changed, and the one who holds it draws again before letting go.
    """

    def __init__(self, draw):
        self._draw = draw
        self._lock = Lock()
        self._changed = False

    def __call__(self):
        self._changed = True
        while self._changed and self._lock.acquire(blocking=False):
            try:
                self._changed = False
                self._draw()
            finally:
                self._lock.release()


def hundredths(angle, _):
    """An angle with two decimals, for a dial that sets fractions of a degree."""
    return degrees(angle, 2)


WRITERS = {"angle": lambda x, _: degrees(x), "gauge": lambda x, _: degrees(x), "length": length,
           "count": lambda x, _: f"{x:g}", "run": lambda x, _: f"1 in {x:.4g}"}


class Dial(widgets.HBox):
    """One quantity: a labelled box that takes what `measure` reads, and a slider beside it.

    kind: "angle", "gauge" (from square, unless said to be from the edge), "length", "count" or "run" (the n of 1 in n);
    write: makes the box's text of a value and a unit, where tenths of a degree or mm won't do. `value` is the last good
    value, in degrees, in mm, a whole number or n; `on_change` is called when it changes, `on_wrong` with the sentence
    when what was typed can't be taken.
    """

    def __init__(self, name, value, low, high, step, kind="angle", locked=False, write=None):
        self.name, self.kind, self.unit = name, kind, "mm"
        self._write = write or WRITERS[kind]
        self._start = value
        self._wrong, self._showing, self._moving = False, Lock(), RLock()
        self.on_change = self.on_wrong = lambda *_: None
        self.box = widgets.Text(description=name, continuous_update=False, disabled=locked,
                                style={"description_width": "100px"}, layout={"width": "250px"})
        self.slider = widgets.FloatSlider(min=low, max=high, step=step, readout=False, disabled=locked,
                                          layout={"width": "230px"})
        self._place(value)
        self.slider.observe(self._slid, "value")
        self.box.observe(self._typed, "value")
        super().__init__([self.box, self.slider])

    @property
    def value(self):
        return self._value

    @value.setter
    def value(self, value):
        self._place(value)
        self.on_change()

    def put(self, value):
        """Take a value; whoever calls this draws."""
        self._place(value)

    def reset(self):
        """Back to the value that the panel opened with; whoever calls this draws."""
        self._place(self._start)

    def use_unit(self, unit):
        """Show lengths in "mm" or "in"."""
        self.unit = unit
        self.show()

    def show(self):
        """Write the value into the box, in place of whatever stands there."""
        with self._showing:  # or an older text, written by another thread, could be taken for one that was typed
            self._wrong = False
            self._shown = self._write(self.value, self.unit)
            self.box.value = self._shown

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
                value = read_gauge(change.new, **limits).degrees_from_square
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
    """What a cell shows: its children, named for assistive technology, and `instead` where there is no kernel."""

    instead = "Sliders appear here when this cell is run."

    def __init__(self, children):
        super().__init__([*children, names_for_access()])

    def _repr_mimebundle_(self, **options):
        return super()._repr_mimebundle_(**options) | {"text/plain": self.instead}


class Panel(OnPage):
    """Dials, a picture, one sentence in words and numbers, and a line for what went wrong.

    Subclasses make their dials and call `show`, which `draw` follows on each change: `draw()` returns (PNG bytes,
    sentence) or raises ValueError, and then the last good picture stays.
    """

    def __init__(self, dials, above, below, width, height):
        self.dials = dials
        self.image = widgets.Image(format="png", width=width, height=height, layout={"max_width": "100%"})
        self.sentence = widgets.HTML(layout={"min_height": "84px"})  # three lines: what is below stays put
        self.message = widgets.HTML()
        self.redraw = Latest(self._redraw)
        for dial in dials.values():
            dial.on_change, dial.on_wrong = self.redraw, self.complain
        super().__init__([*above, self.image, self.sentence, self.message, *below])
        self.redraw()

    def draw(self):
        """(PNG bytes, sentence) for the dials as they stand."""
        raise NotImplementedError

    def complain(self, sentence):
        """Show what is wrong, as text; the picture stays as it was."""
        self.message.value = f"<b>{escape(sentence)}</b>" if sentence else ""

    def _redraw(self):
        try:
            png, sentence = self.draw()
        except ValueError as wrong:
            self.complain(str(wrong))
            return
        self.image.value = png
        self.sentence.value = escape(sentence)
        self.complain("")
        for dial in self.dials.values():  # a box may hold what could not be taken, and its complaint is gone
            dial.show()


def row(*children):
    """Widgets side by side, as many as the page is wide, the rest below."""
    return widgets.HBox(children, layout={"flex_flow": "row wrap"})


def one_of(options, tooltips):
    """Buttons of which one is down, from (label, value) pairs."""
    return widgets.ToggleButtons(options=options, tooltips=tooltips, layout={"width": "auto"},
                                 style={"button_width": "112px"})


def folded(title, children):
    """A box that is shut at first and opens under its title."""
    return widgets.Accordion([widgets.VBox(children)], titles=(title,), selected_index=None)


def unit_switch():
    """Buttons for the unit that a panel writes lengths in: "mm" or "in"."""
    # as a flex box: its label would stand on the buttons otherwise
    return widgets.ToggleButtons(options=[("mm", "mm"), ("inch", "in")], description="Lengths in",
                                 layout={"display": "flex", "align_items": "baseline", "width": "auto"},
                                 style={"button_width": "60px"})
