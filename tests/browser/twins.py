"""The panels of a notebook made again in this process, to say what those in the browser must show."""

import ast
import hashlib
import io
import re
from contextlib import chdir, suppress
from functools import lru_cache
from html import unescape

import ipywidgets as widgets
import nbformat
import pytest
from cases import THOROUGH
from lab import until
from PIL import Image
from splaywork import Corner
from splaywork.corner.panel import CornerPanel
from splaywork.corner.words import corner_words
from splaywork.widgets.controls import Panel
from widget_tree import within

TRIED = set()  # which dials of which kinds of panel: one notebook after another has the same
TRIED_BY = {}  # (test, its size, kind of panel) -> the case that had that kind first


def only_new(request, panels, kinds):
    """Those of a page's panels whose kind this test hasn't had yet, in a thorough run all; a page without one is skipped."""
    names = [(request.function.__name__, str(request.node.callspec.params.get("size", "")), kind) for kind in kinds]
    case = request.node.nodeid  # tried once more, after it failed, it has the same
    new = [panel for number, (panel, name) in enumerate(zip(panels, names, strict=True))
           if THOROUGH or (TRIED_BY.setdefault(name, case) == case and name not in names[:number])]
    if not new:
        pytest.skip("each kind of panel on this page was tried on another")
    return new


def twins_of(path, kind=Panel):
    """The panels of a kind that a notebook's cells show, from the top, made by running the cells here."""
    shown = []
    names = {"display": lambda *values, **_: shown.extend(values)}
    for cell in nbformat.read(path, as_version=4).cells:
        if cell.cell_type == "code" and (lines := ast.parse(cell.source).body):
            last = lines.pop() if isinstance(lines[-1], ast.Expr) else None
            with chdir(path.parent):  # where the notebook's kernel runs, and writes
                exec(compile(ast.Module(lines, []), path.name, "exec"), names)
                if last:
                    shown.append(eval(compile(ast.Expression(last.value), path.name, "eval"), names))
    return [value for value in shown if isinstance(value, kind)]


def pairs_of(notebook, path):
    """Each panel of an open notebook with its twin."""
    twins = twins_of(path)
    panels = notebook.panels([len(twin.dials) for twin in twins])
    return [Pair(panel, twin) for panel, twin in zip(panels, twins, strict=True)]


class Pair:
    """A panel in the browser and its twin: whatever is done to the one is done to the other, and both must agree."""

    def __init__(self, panel, twin):
        self.panel, self.twin = panel, twin
        twins = {double.name: double for double in twin.dials.values()}
        self.dials = [(dial, twins[dial.name]) for dial in panel.dials]
        self.free = [(dial, double) for dial, double in self.dials if not double.slider.disabled]
        lists = [widget for widget in within(twin) if isinstance(widget, widgets.Dropdown)]
        self.lists = list(zip(panel.root.locator("select").all(), lists, strict=True))
        self.kind = type(twin), type(twin.picture)
        self.fresh = self.few = self.free
        self.buttons = panel.buttons()
        self.locked = [(dial, double) for dial, double in self.dials if double.slider.disabled]
        self.fits = any(isinstance(widget, widgets.Button) and widget.description == "Fit" for widget in within(twin))
        self.opened = None

    def keep_fresh(self, tried):
        """Make `fresh` the free dials that no panel of this kind had before, or one of them, and `few` one of each kind of
        quantity among them; keep the buttons that none had before; note them as tried. A thorough run tries each picture of a
        kind, too, and every button."""
        kind = self.kind if THOROUGH else self.kind[:1]
        self.fresh = [pair for pair in self.free if (*kind, pair[0].name) not in tried] or self.free[:1]
        self.few = self.fresh if THOROUGH else list({double.kind: (dial, double) for dial, double in self.fresh}.values())
        self.buttons = [name for name in self.buttons if THOROUGH or (*kind, "button", name) not in tried]
        tried |= {(*kind, dial.name) for dial, _ in self.free} | {(*kind, "button", name) for name in self.buttons}

    def texts(self):
        """For each dial, in the order of the page, what its field may have to show: its ends and odd values, mm and inches."""
        places = (0, 0.123, 0.371, 0.638, 0.877, 1)
        return [[double.say(double.slider.min + part * (double.slider.max - double.slider.min), unit)
                 for part in places for unit in ("mm", "in")] for _, double in self.dials]

    def seen(self):
        """What the panel shows."""
        seen = self.panel.seen()
        return seen | {"handles": [round(at, 6) for at in seen["handles"]]}

    def wanted(self):
        """What the twin shows."""
        return {"picture": _digest(self.twin.image.value),
                "sentence": _as_text(self.twin.sentence.value),
                "message": _as_text(self.twin.message.value),
                "texts": [double.field.value for _, double in self.dials],
                "handles": [round(double.slider.value, 6) for _, double in self.dials]}

    def agree(self, what):
        """Wait until the panel shows what its twin shows; what is seen is returned.

        While something is wrong the last good picture stays, and which that is depends on the way there. Scales that a picture
        keeps while it is dragged depend on it, too: they are chosen anew before pictures are compared.
        """
        wanted = self.wanted()
        compared = [key for key in wanted if not wanted["message"] or key not in ("picture", "sentence")]
        left = []

        def same(keys):
            seen = self.seen()
            left[:] = [(key, seen[key], wanted[key]) for key in keys if seen[key] != wanted[key]]
            return not left

        if "picture" in compared and self.fits:
            with suppress(AssertionError):  # else a click comes before the value, or misses a button that moves
                until(lambda: same([key for key in compared if key != "picture"]), what, 10)
            self.panel.press("Fit")
            self.twin.fit.click()
            wanted = self.wanted()
        with suppress(AssertionError):  # the next line says what differs
            until(lambda: same(compared), what, 10)
        assert not left, f"{what}: {left}"
        if type(self.twin) is CornerPanel:  # and hold it to the library itself, not only to the same panel's code
            leans = [self.twin.dials[name].value for name in ("tail_lean", "pin_lean", "plan_angle")]
            assert wanted["sentence"] == corner_words(Corner(*leans))
        return self.seen()

    def settle(self, what):
        """Wait until the panel shows what its own boxes say, which is returned; the twin is set to the same.

        On the way there it may have said so before: what was sent last must be answered first.
        """
        until(self.panel.is_quiet, what)

        def follow():
            seen = self.seen()
            for text, (_, double) in zip(seen["texts"], self.dials, strict=True):
                double.field.value = text
            wanted = self.wanted()
            return all(seen[key] == wanted[key] for key in wanted if key != "picture" or not self.fits)
        with suppress(AssertionError):  # `agree` says what differs
            until(follow, what, 10)
        return self.agree(what)

    def type(self, dial, double, text):
        """Type a text into both; a late answer to what was done before would put the old text back before Enter."""
        until(self.panel.is_quiet, "the panel is quiet")
        dial.type(text)
        double.field.value = text

    def press(self, name):
        """Press a button on both."""
        self.panel.press(name)
        for widget in within(self.twin):
            if isinstance(widget, widgets.Button) and widget.description == name:
                widget.click()
            elif isinstance(widget, widgets.ToggleButton) and widget.description == name:
                widget.value = not widget.value
            elif isinstance(widget, widgets.ToggleButtons) and name in labels(widget):
                widget.label = name

    def reset(self):
        """Press Reset on both."""
        self.press("Reset")
        self.agree("Reset puts everything back")

    def put_back(self):
        """As it was when it was reset first: press Reset on both where either of them shows anything else."""
        if self.opened != (self.seen(), self.wanted()):
            self.reset()
            self.opened = self.opened or (self.seen(), self.wanted())


def labels(choice):
    """What a list or a row of buttons offers, as it is read."""
    return [option if isinstance(option, str) else option[0] for option in choice.options]


@lru_cache(maxsize=16)
def _digest(png):
    return hashlib.sha256(Image.open(io.BytesIO(png)).convert("RGBA").tobytes()).hexdigest()


def _as_text(html):
    """What a browser shows of a twin's line, which is plain text or bold."""
    return unescape(re.sub(r"</?b>", "", html))
