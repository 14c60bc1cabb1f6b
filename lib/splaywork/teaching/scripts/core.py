"""What a script is, and how a row of it is applied to a panel."""

from collections.abc import Callable
from dataclasses import dataclass, field
from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from ...widgets.controls import Panel

from ...common.class_corner import leaving_it_out

LENGTHS = (20, 45)  # minutes of a short lesson and of a long one


@dataclass(frozen=True)
class Row:
    """One thing that is done in front of the room.

    short, full: the minute at which it begins in a lesson of 20 and of 45; short is None where the short lesson leaves it
    out. do: what to do; "{set}" in it stands for the settings. say: what to say, one sentence or a few short ones. sees:
    what the room sees, or "" where that is not to be told beforehand. on: the name of the `Script`'s panel that is set;
    settings: (key, value) pairs for it, in order: a dial's key and a number, a switch's key and its value, or a button's
    key and None. check: function of that panel, True when it shows what `say` and `sees` claim; without a panel, of None.
    hands: the answers of which each has a button that counts hands.
    """

    short: int | None
    full: int
    do: str
    say: str
    sees: str = ""
    on: str = ""
    settings: tuple = ()
    check: Callable | None = None
    hands: tuple = ()


@dataclass(frozen=True)
class Bench(Row):
    """A row without a panel: hands, wood, paper and voices."""


@dataclass(frozen=True, repr=False)
class Script:
    """A lesson. props: what lies ready. panels: name -> (public name of the panel, its arguments), as the notebook has it.

    An argument that is a function is called for each new panel. wrong: (wrong idea, what upsets it) pairs. ask, answer: the
    question that ends the lesson, and its answer, or "" where a later notebook gives it; short: both, where the lesson of 20
    minutes ends with another.
    """

    notebook: str
    title: str
    props: str
    rows: tuple
    wrong: tuple
    ask: str
    answer: str = ""
    short: tuple = ()
    panels: dict = field(default_factory=dict)

    def panel(self, name: str) -> Any:
        """A new panel of that name, as the notebook opens it where no class corner is kept: the rows' numbers are its own."""
        public, arguments = self.panels[name]
        with leaving_it_out():
            made = {key: value() if callable(value) else value for key, value in arguments.items()}
            return getattr(import_module("splaywork"), public)(**made)

    def __repr__(self) -> str:
        return f"Script({self.notebook!r}, {self.title!r}, {len(self.rows)} rows)"

    def _repr_markdown_(self) -> str:
        """The page of the guide: what lies ready, the table of minutes, wrong ideas, and the question."""
        wrong = "\n".join(f"* *{idea}* {upset}" for idea, upset in self.wrong)
        return (f"**Props:** {self.props}\n\n{minutes_table(self)}\n\n**Wrong ideas, and what upsets them.**\n\n{wrong}\n\n"
                f"{self._asked()}\n")

    def _asked(self):
        if self.short:
            return f"**Ask, after 20 minutes:** {_asked(*self.short)}\n\n**Ask, after 45:** {_asked(self.ask, self.answer)}"
        return f"**Ask:** {_asked(self.ask, self.answer)}"

    def at(self, minutes: float) -> list[tuple]:
        """(minute, row) of the rows of a lesson of 20 or 45 minutes. ValueError for another length."""
        if minutes not in LENGTHS:
            raise ValueError(f"A lesson has 20 or 45 minutes, not {minutes!r}: give 20 or 45.")
        pairs = [(row.short if minutes == 20 else row.full, row) for row in self.rows]
        return [(minute, row) for minute, row in pairs if minute is not None]


def _asked(question, answer):
    return f"{question} ({answer or 'Let it hang.'})"


def control(panel: "Panel", key: str) -> Any:
    """The dial, switch, list or button of a panel that goes by that key. KeyError where there is none."""
    if key in panel.dials:
        return panel.dials[key]
    for group in ("switches", "named", "buttons"):
        if key in (getattr(panel, group, None) or {}):
            return getattr(panel, group)[key]
    found = getattr(panel, key, None)
    if found is None or not hasattr(found, "description"):
        raise KeyError(f"This panel has no dial, switch or button {key!r}.")
    return found


def apply(row: Row, panel: Any) -> None:
    """Put a panel back to how it opened, and then to the settings of a row. ValueError where one is refused."""
    _start_again(panel)
    for key, value in row.settings:
        target = control(panel, key)
        if key in panel.dials:
            target.field.value = str(value)
            if abs(target.value - value) > 1e-9:
                raise ValueError(f"{target.name} can't be set to {value:g}.")
        elif value is None:
            target.click()
        else:
            target.value = value


def _start_again(panel):
    """As it opened: by its own button where it has one, because a panel of a plan resets the plan, not its dials."""
    if getattr(panel, "start_again", None) is not None:
        panel.start_again.click()
    else:
        panel.reset()


def settings_told(row: Row, panel: "Panel") -> str:
    """The settings of a row in the words that stand on the panel: "**Tail lean** 30, **Pin lean** 30"."""
    told, under = [], None
    for key, value in row.settings:
        fold = _fold_of(panel, control(panel, key))
        name = _told(panel, key, value)
        told.append(name if fold in (None, under) else f"under **{fold}** {name}")
        under = fold
    return ", ".join(told)


def _told(panel, key, value):
    target = control(panel, key)
    if key in panel.dials:
        return f"**{target.name}** {value:g}".replace("-", "−")
    if value is None or isinstance(value, bool):
        return f"**{target.description}**" + {True: " ticked", False: " unticked"}.get(value, "")
    chosen = next((label for label, meant in _pairs(target) if meant == value), str(value))
    return f"**{target.description}** {chosen}" if target.description else f"**{chosen}**"


def _pairs(target):
    """(label, value) of what a list or switch offers."""
    return [option if isinstance(option, tuple) else (option, option) for option in target.options]


def _fold_of(panel, target):
    """The title of the folded part in which a control stands, or None."""
    for part, title in _folds(panel):
        if any(each is target for each in _within(part)):
            return title
    return None


def _folds(widget):
    for child in getattr(widget, "children", ()):
        titles = getattr(child, "titles", ())
        if titles:
            yield from zip(child.children, titles, strict=False)
        else:
            yield from _folds(child)


def _within(widget):
    yield widget
    for child in getattr(widget, "children", ()):
        yield from _within(child)


def minutes_table(script: Script) -> str:
    """The script as a Markdown table: minutes, what to do, what to say, what the room sees."""
    panels = {name: script.panel(name) for name in script.panels}
    lines = ["| 20 | 45 | do | say | the room sees |", "|--:|--:|:--|:--|:--|"]
    for row in script.rows:
        do = row.do.format(set=settings_told(row, panels[row.on])) if row.on else row.do
        lines.append(f"| {'–' if row.short is None else row.short} | {row.full} | {do} | “{row.say}” | {row.sees} |")
    return "\n".join(lines)
