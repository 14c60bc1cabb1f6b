"""The tally panel: a show of hands, counted with a click, before the panel answers."""

from collections.abc import Iterable
from html import escape

import ipywidgets as widgets

from ..common import checks
from ..widgets.controls import OnPage

MOST_CHOICES, MOST_HANDS = 8, 999


class Hands:
    """Hands counted so far: `counts`, answer -> hands."""

    def __init__(self, answers: Iterable[str]) -> None:
        self.counts = dict.fromkeys(answers, 0)
        self._order: list[str] = []

    def add(self, answer: str) -> None:
        """One more hand for an answer."""
        if self.counts[answer] < MOST_HANDS:
            self.counts[answer] += 1
            self._order.append(answer)

    def take_back(self) -> None:
        """The last hand, taken back."""
        if self._order:
            self.counts[self._order.pop()] -= 1

    def clear(self) -> None:
        """Begin again."""
        self.counts, self._order = dict.fromkeys(self.counts, 0), []


class HandsBar(widgets.HBox):
    """A button for each answer, with its hands so far, and *Undo*, in one row; hidden until it is asked to show `Hands`."""

    def __init__(self) -> None:
        self.undo = widgets.Button(description="Undo", tooltip="Take the last hand back", layout={"width": "76px"})
        self.buttons: dict[str, widgets.Button] = {}
        self._hands: Hands = Hands(())
        self.undo.on_click(lambda _: self._act(self._hands.take_back))
        super().__init__(layout={"display": "none", "flex_flow": "row wrap", "align_items": "center"})

    def show(self, hands: Hands | None) -> None:
        """Count these `Hands`; None hides the row."""
        counted = Hands(()) if hands is None else hands
        self._hands, self.layout.display = counted, "none" if hands is None else ""
        self.buttons = {answer: widgets.Button(tooltip=f"One more hand for “{answer}”", layout={"width": "auto"})
                        for answer in counted.counts}
        for answer, button in self.buttons.items():
            button.on_click(lambda _, answer=answer: self._act(lambda: counted.add(answer)))
        self.children = (*self.buttons.values(), self.undo)
        self._say()

    def _act(self, act):
        act()
        self._say()

    def _say(self):
        for answer, button in self.buttons.items():
            button.description = f"{answer}: {self._hands.counts[answer]}"


class TallyPanel(OnPage):
    """A question, and for each answer a button that counts one more hand; use `tally_panel` to make one.

    counts: answer -> hands.
    """

    instead = "Run this cell, and a tally of hands appears here."

    def __init__(self, question: str, answers: tuple[str, ...]) -> None:
        self._counted = Hands(answers)
        self.hands, self._bars = {}, {}
        for answer in answers:
            button = widgets.Button(description=answer, tooltip=f"One more hand for “{answer}”", layout={"width": "320px"})
            button.on_click(lambda _, answer=answer: self._act(lambda: self._counted.add(answer)))
            self.hands[answer] = button
            self._bars[answer] = widgets.HTML(layout={"width": "420px"})
        self.undo = widgets.Button(description="Undo", tooltip="Take the last hand back", layout={"width": "76px"})
        self.clear = widgets.Button(description="Reset", tooltip="Begin to count again", layout={"width": "76px"})
        self.undo.on_click(lambda _: self._act(self._counted.take_back))
        self.clear.on_click(lambda _: self._act(self._counted.clear))
        rows = [widgets.HBox([self.hands[answer], self._bars[answer]]) for answer in answers]
        super().__init__([widgets.HTML(f"<b>{escape(question)}</b>"), *rows, widgets.HBox([self.undo, self.clear])])
        self._show()

    @property
    def counts(self) -> dict[str, int]:
        """Answer -> hands."""
        return dict(self._counted.counts)

    def _act(self, act):
        act()
        self._show()

    def _show(self):
        most = max(1, *self.counts.values())
        for answer, count in self.counts.items():
            wide = round(300 * count / most)
            bar = f'<div style="background:#8db4d3;height:20px;width:{wide}px;margin-right:8px"></div>'
            self._bars[answer].value = f'<div style="display:flex;align-items:center">{bar}{count}</div>'


def tally_panel(question: str = "Do both settings carry over?",
                answers: tuple[str, ...] = ("yes", "no", "only one of them")) -> TallyPanel:
    """Count hands before the panel answers: a click for each, *Undo* for the last, *Reset* for all.

    question: text of up to 200 characters. answers: 2 to 8 different texts of up to 60 characters. ValueError for others.

    >>> tally_panel("Will the box close?", ("yes", "no")).counts
    {'yes': 0, 'no': 0}
    """
    checks.text("question", question, 200)
    answers = tuple(answers) if isinstance(answers, (tuple, list)) else ()
    if not 2 <= len(answers) <= MOST_CHOICES or len(set(map(str, answers))) < len(answers):
        raise ValueError(f"A tally has 2 to {MOST_CHOICES} different answers, such as ('yes', 'no').")
    for answer in answers:
        checks.text("answer", answer)
    return TallyPanel(question, answers)
