"""What a script is, and how a row of it is applied to a panel."""

from collections.abc import Callable
from contextlib import ExitStack
from dataclasses import dataclass, field
from importlib import import_module
from itertools import groupby
from operator import itemgetter
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from ...widgets.controls import Panel

from ...common import checks
from ...common.class_corner import ClassCorner, class_corner, leaving_it_out
from ...corner.corner import Corner

NEXT = "\n"  # in `Row.do`: the next numbered step begins
THEN = " … "  # on paper, between what is asked and what is said after the answers
LENGTHS = (20, 45)  # minutes of a short lesson and of a long one
OURS = ClassCorner(16, 11)  # what the pairs work on where no class corner is kept, or a lesson can't be given with it


@dataclass(frozen=True)
class OfPairs:
    """In settings: what the corner of the pairs has by that name."""

    key: str


TAIL, PIN, HEIGHT, THICKNESS = map(OfPairs, ("tail_lean", "pin_lean", "height", "thickness"))


@dataclass(frozen=True)
class Row:
    """One thing that is done in front of the room.

    short, full: the minute at which it begins in a lesson of 20 and of 45; short is None where the short lesson leaves it
    out. do: what to do; "{set}" in it stands for the settings. say: what to say, one sentence or a few short ones. sees:
    what the room sees, or "" where that is not to be told beforehand. on: the name of the `Script`'s panel that is set;
    settings: (key, value) pairs for it, in order: a dial's key and a number or `OfPairs`, a switch's key and its value, or a
    button's key and None. check: function of that panel, True when it shows what `say` and `sees` claim; without a panel, of
    the pairs' `Corner`. hands: the answers of which each has a button that counts hands. own: why the leans in `settings`
    are the row's own, and don't give way to a class corner's. start: settings that stand on the panel first, where the row is
    about what is dragged or asked; covered: first the sentence to say stands large in place of the picture, which would answer
    it. In both, `settings` come when *Next* is pressed again. ask: what is asked, and stands large, before `say` is said;
    answer: what stands large over the picture when it is uncovered.
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
    own: str = ""
    start: tuple = ()
    covered: bool = False
    ask: str = ""
    answer: str = ""

    @property
    def waits(self) -> bool:
        """Whether *Next* first shows the row, and then what is to be seen."""
        return bool(self.on and (self.start or self.covered))

    @property
    def presses(self) -> str:
        """What is pressed where hands are counted, unless `do` says when; otherwise ""."""
        return "Press an answer once for each hand." if self.hands and not self.waits else ""


@dataclass(frozen=True)
class Bench(Row):
    """A row without a panel: hands, wood, paper and voices."""


@dataclass(frozen=True, repr=False)
class Script:
    """A lesson. props: what lies ready. panels: name -> (public name of the panel, its arguments), as the notebook has it;
    called: name -> what it is called in the rows and above it, where there are several.

    An argument that is a function is called for each new panel, and an `OfPairs` is taken from the pairs' corner. more: what
    lies ready in the lesson of 45 minutes only. beforehand: what is done before the class comes, step by step. wrong: (wrong
    idea, what upsets it) pairs. ask, answer: the question that ends the lesson, and its answer, for the teacher alone where a
    later notebook gives it; short: both, where the lesson of 20 minutes ends with another. questions: (what a class asks, what
    to answer) pairs. suits: whether all that is claimed of the pairs' corner is so at a `Corner`; without it the lesson has
    none but its own. own: panel -> why it opens at leans of its own. told: name in braces, in `do`, `say` and `sees` -> text,
    of the pairs' `Corner`; {tail} and {pin} are their leans.
    """

    notebook: str
    title: str
    props: str
    rows: tuple
    wrong: tuple
    ask: str
    answer: str
    short: tuple = ()
    questions: tuple = ()
    panels: dict = field(default_factory=dict)
    suits: Callable[[Corner], bool] | None = None
    own: dict = field(default_factory=dict)
    told: dict = field(default_factory=dict)
    beforehand: tuple = ()
    more: str = ""
    called: dict = field(default_factory=dict)

    @property
    def pairs(self) -> ClassCorner:
        """The corner that the pairs work on: the class corner, where one is kept and suits the lesson, or else 16 and 11."""
        kept = _kept()
        return kept if kept and self.suits and self.suits(Corner(kept.tail_lean, kept.pin_lean)) else OURS

    def why_own(self, row: Row) -> str:
        """Why a row isn't shown at the class corner, where one is kept; otherwise ""."""
        if _kept() is None:
            return ""
        if self.suits and self.pairs is OURS:
            return f"This lesson keeps {OURS.tail_lean:g}° and {OURS.pin_lean:g}°: at the class corner less would be seen."
        return row.own or self.own.get(row.on, "")

    def panel(self, name: str) -> Any:
        """A new panel of that name, as the notebook opens it where no class corner is kept; `OfPairs` is taken from `pairs`."""
        public, arguments = self.panels[name]
        pairs = self.pairs
        with leaving_it_out():
            made = {key: value() if callable(value) else _of(pairs, value) for key, value in arguments.items()}
            return getattr(import_module("splaywork"), public)(**made)

    def settings(self, row: Row, start: bool = False) -> tuple:
        """The settings of a row, or those that it starts from, with those of the pairs' corner filled in."""
        pairs = self.pairs
        return tuple((key, _of(pairs, value)) for key, value in (row.start if start else row.settings))

    def text(self, text: str, told: str = "") -> str:
        """What is said or done, with what it tells of the pairs' corner, and `told` for its "{set}"."""
        pairs = self.pairs
        corner = Corner(pairs.tail_lean, pairs.pin_lean)
        return text.format(set=told, tail=f"{abs(pairs.tail_lean):g}°", pin=f"{abs(pairs.pin_lean):g}°",
                           **{name: say(corner) for name, say in self.told.items()})

    def __repr__(self) -> str:
        return f"Script({self.notebook!r}, {self.title!r}, {len(self.rows)} rows)"

    def _repr_markdown_(self) -> str:
        """The page of the guide: what lies ready; folded, the table of minutes and wrong ideas; and the question."""
        wrong = "\n".join(f"* *{idea}* {upset}" for idea, upset in self.wrong)
        asked = "".join(f"* *{question}* {answer}\n" for question, answer in self.questions)
        asked = f"**What a class asks.**\n\n{asked}\n" if asked else ""
        before = "".join(f"{number}. {self.text(step)}\n" for number, step in enumerate(self.beforehand, 1))
        before = f"**Before the class comes.**\n\n{before}\n" if before else ""
        more = f" **In the lesson of 45 minutes also:** {self.text(self.more)}" if self.more else ""
        return (f"**Props:** {self.text(self.props)}{more}\n\n<details><summary>Show the script</summary>\n\n{before}"
                f"{minutes_table(self)}\n\n**Wrong ideas, and what upsets them.**\n\n{wrong}\n\n{asked}</details>\n\n"
                f"{self._asked()}\n")

    def _asked(self):
        if self.short:
            return f"**Ask, after 20 minutes:** {_asked(*self.short)}\n\n**Ask, after 45:** {_asked(self.ask, self.answer)}"
        return f"**Ask:** {_asked(self.ask, self.answer)}"

    def at(self, minutes: float) -> list[tuple]:
        """(minute, row) of the rows of a lesson of 20 or 45 minutes. ValueError for another length."""
        if not isinstance(minutes, int | float) or minutes not in LENGTHS:
            raise ValueError(f"A lesson has 20 or 45 minutes, not {checks.shown(minutes)}: give 20 or 45.")
        pairs = [(row.short if minutes == 20 else row.full, row) for row in self.rows]
        return [(minute, row) for minute, row in pairs if minute is not None]


def _kept():
    """The class corner, or None: a file that can't be used leaves the lessons as they are."""
    try:
        return class_corner()
    except ValueError:
        return None


def _of(pairs, value):
    return getattr(pairs, value.key) if isinstance(value, OfPairs) else value


def _asked(question, answer):
    return f"{question} ({answer})"


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


def apply(settings: tuple, panel: Any) -> None:
    """Put a panel back to how it opened, and then to (key, value) settings. ValueError where one is refused.

    The page hears of the outcome alone: a browser that had been told where a handle stood for a moment on its way says that
    place again when the handle has left it, and would be taken for a hand.
    """
    with ExitStack() as outcome:
        for dial in panel.dials.values():
            outcome.enter_context(dial.slider.hold_sync())
            outcome.enter_context(dial.field.hold_sync())
        outcome.enter_context(panel.image.hold_sync())
        _set(settings, panel)


def _set(settings, panel):
    panel.reset()
    for key, value in settings:
        target = control(panel, key)
        if key in panel.dials:
            target.field.value = str(value)
            if abs(target.value - value) > 1e-9:
                raise ValueError(f"{target.name} can't be set to {value:g}.")
        elif value is None:
            target.click()
        else:
            target.value = value


def settings_told(settings: tuple, panel: "Panel") -> str:
    """(key, value) settings in the words that stand on the panel: "**Pull apart** 30, **Turn** 120 (unfold **View**)"."""
    told = [(_told(panel, key, value), _fold_of(panel, control(panel, key)))
            for key, value in sorted(settings, key=lambda setting: isinstance(setting[1], bool))]  # switches last
    parts = [(", ".join(name for name, _ in group), fold) for fold, group in groupby(told, key=itemgetter(1))]
    return ", ".join(f"{names} (unfold **{fold}**)" if fold else names for names, fold in parts)


def _told(panel, key, value):
    target = control(panel, key)
    if key in panel.dials:
        return f"**{target.name}** {value:g}".replace("-", "−")
    if value is None or isinstance(value, bool):
        return {None: "{}", True: "with {} pressed", False: "with {} not pressed"}[value].format(f"**{target.description}**")
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


def minutes_rows(script: Script, minutes: float | None = None) -> list[tuple]:
    """(minute, what to do, what to say, what the room sees) of a lesson of 20 or 45 minutes; without, the row itself first."""
    from ...widgets.controls import undrawn  # loads ipywidgets, which a script does without until its panels are asked for

    with undrawn():  # the names on their controls are told, and nobody looks at them
        panels = {name: script.panel(name) for name in script.panels}
    found = []
    for first, row in (script.at(minutes) if minutes else [(row, row) for row in script.rows]):
        do = script.text(row.do, settings_told(script.settings(row), panels[row.on]) if row.on else "")
        first_line, *steps = do.split(NEXT)
        do = NEXT.join((" ".join(filter(None, (first_line, row.presses))), *steps))
        say = f"{row.ask}{THEN}{row.say}" if row.ask else row.say
        found.append((first, do, script.text(say), script.text(row.sees)))
    return found


def minutes_table(script: Script) -> str:
    """The script as a Markdown table: minutes, what to do, what to say, what the room sees."""
    lines = ["| 20 | 45 | do | say | the class sees |", "|--:|--:|:--|:--|:--|"]
    lines += [f"| {'–' if row.short is None else row.short} | {row.full} | {do.replace(NEXT, '<br>')} | "
              f"“{say.replace(THEN, '” … “')}” | {sees} |"
              for row, do, say, sees in minutes_rows(script)]
    return "\n".join(lines)
