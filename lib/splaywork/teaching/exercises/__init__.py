"""Exercises that check themselves, five or more to a notebook: questions, hints, answers, and a remark for each slip."""

from . import both_lean, formulas_and_trials, joint_and_box, one_lean
from .core import KINDS, UNITS, Asked, Exercise, Slip, Verdict
from .progress import Progress, keep, load_progress, save_progress

__all__ = ["KINDS", "UNITS", "Asked", "Exercise", "Progress", "Slip", "Verdict", "exercises_for", "keep",
           "load_progress", "notebooks_with_exercises", "save_progress"]

_ALL = sorted(one_lean.EXERCISES + both_lean.EXERCISES + formulas_and_trials.EXERCISES + joint_and_box.EXERCISES,
              key=lambda exercise: exercise.id)


def notebooks_with_exercises():
    """Numbers of the notebooks that have exercises, as text: "01" and so on."""
    return tuple(dict.fromkeys(exercise.notebook for exercise in _ALL))


def exercises_for(notebook):
    """The `Exercise`s of a notebook, in order; `notebook`: its number as text, such as "04". ValueError for others."""
    found = tuple(exercise for exercise in _ALL if exercise.notebook == notebook)
    if not found:
        known = notebooks_with_exercises()
        raise ValueError(f"There are exercises for the notebooks {', '.join(known)}, not for {notebook!r}: give the "
                         f"number as text, such as {known[0]!r}.")
    return found
