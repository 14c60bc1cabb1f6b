"""What every panel is built from: a dial (slider and box for one quantity), the redraw rule, and the panel itself."""

from html import escape
from threading import Lock

import ipywidgets as widgets

from ..measure import degrees, length, read_angle, read_length


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


class Dial(widgets.HBox):
    """One quantity: a labelled box that takes what `measure` reads, and a slider beside it.

    `value` is the last good value, in degrees or mm; `on_change` is called when it changes, `on_wrong` with the
    sentence when what was typed can't be taken.
    """

    def __init__(self, name, value, low, high, step, kind="angle", locked=False):
        self.name, self.kind, self.unit = name, kind, "mm"
        self._start = value
        self._wrong, self._showing = False, Lock()
        self.on_change = self.on_wrong = lambda *_: None
        self.box = widgets.Text(description=name, continuous_update=False, disabled=locked,
                                style={"description_width": "86px"}, layout={"width": "190px"})
        self.slider = widgets.FloatSlider(value=value, min=low, max=high, step=step, readout=False, disabled=locked,
                                          layout={"width": "230px"})
        self.show()
        self.slider.observe(self._slid, "value")
        self.box.observe(self._typed, "value")
        super().__init__([self.box, self.slider])

    @property
    def value(self):
        return self.slider.value

    @value.setter
    def value(self, value):
        self.slider.value = value

    def reset(self):
        """Back to the value that the panel opened with."""
        self.value = self._start

    def use_unit(self, unit):
        """Show lengths in "mm" or "in"."""
        self.unit = unit
        self.show()

    def show(self):
        """Write the value into the box, in place of whatever stands there."""
        with self._showing:  # or an older text, written by another thread, could be taken for one that was typed
            self._wrong = False
            self._shown = degrees(self.value) if self.kind == "angle" else length(self.value, self.unit)
            self.box.value = self._shown

    def _slid(self, _):
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
            else:
                value = read_length(change.new, self.unit, **limits)
        except ValueError as wrong:
            self._wrong = True
            self.on_wrong(str(wrong))
            return
        moved = value != self.value
        self.value = value
        if not moved:  # the same value, said differently: the redraw shows it our way and clears any complaint
            self.on_change()


class Panel(widgets.VBox):
    """Dials, a picture, one sentence in words and numbers, and a line for what went wrong.

    Subclasses make their dials and call `show`, which `draw` follows on each change: `draw()` returns (PNG bytes,
    sentence) or raises ValueError, and then the last good picture stays.
    """

    def __init__(self, dials, above, below, width, height):
        self.dials = dials
        self.image = widgets.Image(format="png", width=width, height=height, layout={"max_width": "100%"})
        self.sentence = widgets.HTML()
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

    def _repr_mimebundle_(self, **options):
        bundle = super()._repr_mimebundle_(**options)
        return bundle | {"text/plain": "Sliders appear here when this cell is run."}


def folded(title, children):
    """A box that is shut at first and opens under its title."""
    return widgets.Accordion([widgets.VBox(children)], titles=(title,), selected_index=None)
