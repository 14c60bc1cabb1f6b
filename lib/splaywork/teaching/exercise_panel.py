"""The exercise panel: the exercises of one notebook, one at a time, checked as they are answered."""

from html import escape
from pathlib import Path
from threading import RLock

import ipywidgets as widgets

from ..common.class_corner import class_corner
from ..widgets.controls import OnPage, unit_switch
from ..widgets.writing import why
from .exercise_pictures import FIGURES, png_of
from .exercises import Progress, exercises_for, keep, load_progress

PROGRESS_FILE = "my_progress.json"


def _button(description, tooltip, width="112px", style=""):
    return widgets.Button(description=description, tooltip=tooltip, button_style=style, layout={"width": width})


def _row(*children):
    return widgets.HBox(children, layout={"flex_flow": "row wrap", "align_items": "center"})


class ExercisePanel(OnPage):
    """A list of exercises, a question, a field for the answer, and a line with the remark on it.

    Use `exercise_panel` to make one. `asked` is the `Asked` that is shown.
    """

    instead = "Run this cell, and exercises that check themselves appear here."

    def __init__(self, notebook: str, seed: int, unit: str) -> None:
        self.exercises = {exercise.id: exercise for exercise in exercises_for(notebook)}
        self._seeds, self._corner, wrong = dict.fromkeys(self.exercises, seed), None, ""
        try:
            self._corner = class_corner()
        except ValueError as unusable:
            wrong = str(unusable)
        self._progress, self._listing = Progress(), False
        self._busy = RLock()  # JupyterLab may deliver clicks on more than one thread
        self.chosen = widgets.Dropdown(description="Exercise", style={"description_width": "70px"},
                                       layout={"width": "270px"})
        self.following = _button("Next exercise", "Go on to the next exercise")
        self.new_numbers = _button("New numbers", "Ask the same with other numbers")
        self.unit = unit_switch(decimal=True)
        self.unit.value = unit
        self.question = widgets.HTML(layout={"width": "900px", "max_width": "100%"})
        self.figure = widgets.Image(format="png", layout={"max_width": "100%", "object_fit": "contain"})
        self.figure_words = widgets.HTML(layout={"width": "900px", "max_width": "100%"})
        self.typed = widgets.Text(continuous_update=False, style={"description_width": "initial"},
                                  layout={"width": "560px", "max_width": "100%"})
        self.choice = widgets.RadioButtons(style={"description_width": "initial"},
                                           layout={"width": "900px", "max_width": "100%"})
        self.check = _button("Check", "Check the answer", style="primary")
        self.hint = _button("Hint", "Show the first hint, then the second")
        self.show_answer = _button("Show the answer", "Show the answer", "136px")
        self.hints = widgets.HTML(layout={"width": "900px", "max_width": "100%"})
        self.remark = widgets.HTML(layout={"width": "900px", "max_width": "100%", "min_height": "52px"})
        self.message = widgets.HTML(layout={"width": "900px", "max_width": "100%"})
        self.keeps = widgets.Checkbox(value=False, indent=False, description="Keep my progress in the file",
                                      layout={"width": "auto"})
        self.file = widgets.Text(value=PROGRESS_FILE, description="File name", continuous_update=False,
                                 style={"description_width": "76px"}, layout={"width": "300px"})
        self.standing = widgets.HTML()
        self._offer()
        for button, act in ((self.check, self._check), (self.hint, self._hint), (self.show_answer, self._answer),
                            (self.new_numbers, self._draw_again), (self.following, self._go_on)):
            button.on_click(lambda _, act=act: self._do(act))
        self.typed.observe(lambda change: self._do(self._typed), "value")
        for choice, act in ((self.chosen, self._choose), (self.unit, self._ask), (self.keeps, self._keep),
                            (self.file, self._keep)):
            choice.observe(lambda _, act=act: self._do(act), "value")
        # nested, so that the lines that report come first among the panel's own
        question = widgets.VBox([self.question, self.figure, self.figure_words],
                                layout={"overflow": "visible"})  # or Tab would stop at it
        super().__init__([_row(self.chosen, self.following, self.new_numbers, self.unit), question, self.typed,
                          self.choice, _row(self.check, self.hint, self.show_answer), self.remark, self.message,
                          self.hints, _row(self.keeps, self.file, self.standing)])
        self._ask()
        self._complain(wrong)

    def _do(self, act):
        with self._busy:
            act()

    # What is asked.

    def _offer(self):
        """List the exercises, those that were answered marked as done, and stay with the one that is shown."""
        shown = self.chosen.value or next(iter(self.exercises))
        self._listing = True  # a new list jumps to its first entry, which nobody chose
        self.chosen.options = [(f"{number}, {exercise.kind}{' (done)' if self._progress.done(number) else ''}", number)
                               for number, exercise in self.exercises.items()]
        self.chosen.value = shown
        self._listing = False
        done = sum(map(self._progress.done, self.exercises))
        self.standing.value = f"{done} of {len(self.exercises)} done."

    def _choose(self):
        if not self._listing:
            self._ask()

    def _ask(self):
        """Put the question that is chosen, with an empty field."""
        number = self.chosen.value
        self.asked = asked = self.exercises[number].ask(self._seeds[number], self.unit.value, self._corner)
        self._hints_shown, self._checked = 0, None
        self.question.value = (f"<b>{number}, {asked.kind}</b>, numbers {asked.seed}<br>{escape(asked.text)}<br>"
                               f"<i>{escape(asked.how)}</i>")
        self._draw(asked)
        chooses = asked.unit == "choice"
        self.typed.value, self.choice.options, self.choice.value = "", asked.choices, None
        self.typed.description = self.choice.description = asked.label
        for widget, needed in ((self.typed, not chooses), (self.choice, chooses)):
            widget.layout.display = "" if needed else "none"
        self.hints.value = self.remark.value = self.message.value = ""

    def _draw(self, asked):
        """The drawing that belongs to the question, where there is one."""
        if asked.figure:
            self.figure.value, (self.figure.width, self.figure.height) = png_of(asked), map(str, FIGURES[asked.figure].size)
            self.figure_words.value = f"<small>{escape(FIGURES[asked.figure].words(asked))}</small>"
        for widget in (self.figure, self.figure_words):
            widget.layout.display = "" if asked.figure else "none"

    def _draw_again(self):
        self._seeds[self.chosen.value] += 1
        self._ask()

    def _go_on(self):
        numbers = list(self.exercises)
        self.chosen.value = numbers[(numbers.index(self.chosen.value) + 1) % len(numbers)]

    # What is answered.

    def _typed(self):
        if self.typed.value:  # Enter, or the field was left
            self._check()

    def _check(self):
        given = (self.choice.value or "") if self.asked.unit == "choice" else self.typed.value
        if given == self._checked:  # leaving the field has checked it, and the button doesn't count it again
            return
        try:
            verdict = self.asked.check(given)
        except ValueError as wrong:
            self._checked, self.remark.value = None, ""  # the verdict was on another answer than the one that stands there
            self._complain(str(wrong))
            return
        self._checked = given
        self.remark.value = escape(verdict.remark if verdict.right else f"Not yet. {verdict.remark}")
        self._complain("")
        self._note(verdict)

    def _hint(self):
        self._hints_shown += 1  # the button stays, for one that was switched off would lose the keyboard's place
        lines = (f"<b>Hint {number}.</b> {escape(hint)}" for number, hint in enumerate(self.asked.hints, 1))
        self.hints.value = "<br>".join(list(lines)[:self._hints_shown])

    def _answer(self):
        self.remark.value = f"The answer: {escape(self.asked.answer_text)}."
        self._complain("")

    def _complain(self, sentence):
        self.message.value = f"<b>{escape(sentence)}</b>" if sentence else ""

    # What is kept.

    def _note(self, verdict):
        """Count a check, in the file as well where that is asked for."""
        number = self.asked.exercise
        if self.keeps.value:
            self._with_file(lambda path: keep(path, number, verdict.right, verdict.slip))
        else:
            self._progress = self._progress.tried(number, verdict.right, verdict.slip)
        self._offer()

    def _keep(self):
        """Take up what the file holds, when keeping begins or the file's name changes; nothing is written yet."""
        if self.keeps.value:
            self._with_file(load_progress)
            self._offer()

    def _with_file(self, act):
        """Progress from what `act` does with the file; where that can't be, say so and keep no longer."""
        path = Path(self.file.value.strip())
        try:
            if path.name != str(path) or path.suffix != ".json" or not path.name.isprintable():
                raise ValueError(f"The file name {str(path)[:60]!r} won't do: give one that ends in .json, without a "
                                 "folder; it lies beside the notebook.")
            self._progress = act(path)
        except OSError as wrong:
            self._stop_keeping(f"The file {path.name!r} can't be used ({why(wrong)}): choose another name.")
        except ValueError as wrong:
            self._stop_keeping(str(wrong))
        else:
            self._complain("")

    def _stop_keeping(self, sentence):
        self.keeps.value = False
        self._complain(sentence)


def exercise_panel(notebook: str, seed: int = 1, unit: str = "mm") -> ExercisePanel:
    """The exercises of a notebook, one at a time: a question, a field, and a remark on what is typed into it.

    notebook: its number as text, such as "04". seed: of the first numbers, 0 or more; "New numbers" goes on to the next
    one. unit: "mm", "in" or "0.001 in", in which lengths are asked. ValueError for others.

    >>> import splaywork as sw
    >>> panel = sw.exercise_panel("04", seed=3)
    >>> panel.asked.answer
    'too long'
    """
    exercises_for(notebook)[0].ask(seed, unit)
    return ExercisePanel(notebook, seed, unit)
