"""The script panel: a lesson's rows one after the other on the notebook's own panels, and what to say to each, small."""

from html import escape

import ipywidgets as widgets

from ..widgets.controls import OnPage, Switch, row
from .scripts import apply, script, scripts
from .scripts.core import LENGTHS
from .tally_panel import Hands, HandsBar

# The guide, printed from a page that nbconvert made: a lesson's table may go on from page to page, and no heading stands alone
# at the end of one. Left to themselves, cells are kept whole, and one that is longer than a page leaves its heading behind.
PRINTED = """<style>
@media print {
  .code_cell:has(.output_markdown), .code_cell:has(.output_markdown) :is(.output_wrapper, .output, .output_area)
    { break-inside: auto !important; display: block !important; }
  .text_cell { break-inside: auto !important; }
  h2 { break-inside: avoid; }
  h2::after { content: ""; display: block; height: 85mm; margin-bottom: -85mm; }
  .output_markdown p:has(strong):has(+ ul, + table) { break-after: avoid; }
}
</style>"""


class ScriptPanel(OnPage):
    """*Back*, *Next*, and the sentence to speak, above the panel that the row is about; use `script_panel` to make one.

    at: number of the row that is shown, from 0; waits: whether *Next* has yet to show what is to be seen there. rows: (minute,
    `Row`) pairs. hands: number of a row that asks for a show of hands -> its `Hands`, which are kept while the lesson goes on.
    """

    instead = "Run this cell, and a lesson to step through appears here."

    def __init__(self, notebook: str, minutes: float) -> None:
        self.script = script(notebook)
        self.rows, self.at, self.waits = self.script.at(minutes), 0, False
        self.back = widgets.Button(description="Back", tooltip="The row before", layout={"width": "76px"})
        self.next = widgets.Button(description="Next", tooltip="The next row", layout={"width": "76px"})
        self.said = widgets.HTML()
        self.hands = {number: Hands(asks.hands) for number, (_, asks) in enumerate(self.rows) if asks.hands}
        self.next.add_class("splaywork-next")  # it has the focus in a filled window: a key leaves by no accident
        self.back.on_click(lambda _: self.go(self.at - 1))
        self.next.on_click(lambda _: self.go(self.at, reveal=True) if self.waits else self.go(self.at + 1))
        self._bar = widgets.HBox([self.back, self.next, self.said], layout={"align_items": "center"})
        self.hands_bar, self.asked = HandsBar(), widgets.HTML()
        self.hands_bar.add_class("splaywork-hands")
        for bar in (self._bar, self.hands_bar):
            bar.add_class("splaywork-bar")  # counted when a picture is fitted to the window
        self.panels = {name: self.script.panel(name) for name in self.script.panels}
        self._own = {name: panel.children for name, panel in self.panels.items()}
        super().__init__([])
        self._rest = self.children
        self.go(0)

    def go(self, number: int, reveal: bool = False) -> None:
        """Show a row: its settings on its panel, its sentence above; rows without a panel leave the last one as it is.

        A row that waits shows where it starts, and with `reveal` what is to be seen. Where the picture would answer the class,
        which is so before the first row with a panel, the question stands in its place.
        """
        self.at = min(max(number, 0), len(self.rows) - 1)
        minute, now = self.rows[self.at]
        self.waits = now.waits and not reveal
        shown = next((self.rows[place][1] for place in range(self.at, -1, -1) if self.rows[place][1].on), None)
        self._show(name := shown.on if shown else next(iter(self.panels), None))
        if now.on and not (self.waits and now.covered):
            apply(self.script.settings(now, start=self.waits), self.panels[now.on])
        self.hands_bar.show(self.hands.get(self.at))
        asks = self.script.text(now.ask or now.say) if now.hands or now.covered else ""
        covered = shown is None or (now.covered and not reveal)
        self._cover(name, covered, asks if covered else self.script.text(now.answer))
        own = f" <small>{escape(self.script.why_own(now))}</small>" if now.on else ""
        more = f" <small>{'Drag, then Next.' if now.start else 'Next shows it.'}</small>" if self.waits else ""
        called = f", panel <b>{escape(self.script.called[now.on])}</b>" if now.on in self.script.called else ""
        say = self.script.text(now.ask if self.waits and now.ask else now.say)
        place = f"{self.at + 1} of {len(self.rows)}, minute {minute}{called}"
        self.said.value = f"<small>{place}</small> “{escape(say)}”{more}{own}"

    def _cover(self, name, covered, large):
        """Hide dials, picture and sentence of the panel that is shown, and put the question there, or show them again, and
        over them the answer."""
        size = "font-size: 200%; line-height: 1.3; padding: 1em" if covered else "font-size: 140%; line-height: 1.15"
        self.asked.value = f'<div style="{size}"><b>{escape(large)}</b></div>'
        self.asked.layout.display = "" if large and self.panels else "none"
        for each, own in self._own.items():
            for place, part in enumerate((*own[:3], *own[5:-2])):  # and what is folded away below
                hidden = covered or (large and place == 2)  # the answer takes the sentence's room
                part.layout.display = "none" if hidden and each == name else ""

    def _show(self, name):
        """Put the bar on top of that panel, and the panel on the page, filling the window where the last one did."""
        shown = next((panel for panel in self.panels.values() if panel.children[:1] == (self._bar,)), None)
        panel = self.panels.get(name)
        if panel is not None and panel is shown:
            return
        filled = bool(shown is not None and getattr(shown, "fill", None) and shown.fill.value)
        for each, own in self._own.items():
            if self.panels[each] is shown:
                if filled:
                    shown.present(False)
                shown.children = own
        if panel is None:
            self.children = (self._bar, self.hands_bar, self.asked, *self._rest)
            return
        panel.children = (self._bar, self.hands_bar, self.asked, *self._own[name])
        self.children = (panel, *self._rest)
        if filled:
            panel.present()


class LessonPanel(OnPage):
    """A list of lessons, how long, and *Begin*, which shows its `ScriptPanel` below; use `lesson_panel` to make one."""

    instead = "Run this cell, and a list of lessons to give appears here."
    style = PRINTED

    def __init__(self):
        self.lesson = widgets.Dropdown(options=[(f"{number} {script(number).title}", number) for number in scripts()],
                                       value="04", description="Lesson", layout={"width": "340px"})
        self.minutes = Switch([(f"{length} minutes", length) for length in LENGTHS])
        self.begin = widgets.Button(description="Begin", tooltip="Show the first row of the lesson", layout={"width": "76px"})
        self.given = widgets.VBox()
        self.begin.on_click(lambda _: self._begin())
        super().__init__([row(self.lesson, self.minutes, self.begin), self.given])

    def _begin(self):
        self.given.children = (ScriptPanel(self.lesson.value, self.minutes.value),)


def lesson_panel() -> LessonPanel:
    """Choose a lesson from a list, and step through it: as `script_panel`, with no number to type.

    >>> import splaywork as sw
    >>> sw.lesson_panel().lesson.value
    '04'
    """
    return LessonPanel()


def script_panel(notebook: str, minutes: float = 20) -> ScriptPanel:
    """A lesson to step through: *Next* and *Back* set the notebook's panels row by row, and show the sentence to speak.

    Where the class predicts, each answer is a button that counts one more hand.

    notebook: its number as text, such as "04". minutes: 20 or 45. ValueError for others.

    >>> import splaywork as sw
    >>> len(sw.script_panel("04", minutes=45).rows)
    10
    """
    script(notebook).at(minutes)
    return ScriptPanel(notebook, minutes)
