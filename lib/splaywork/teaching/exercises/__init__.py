"""Exercises that check themselves: questions, hints, answers, and a remark for each slip; a module for each notebook."""

from importlib import import_module
from pathlib import Path

from .core import KINDS, UNITS, Asked, Exercise, Slip, Verdict
from .progress import Progress, keep, load_progress, save_progress

__all__ = ["KINDS", "UNITS", "Asked", "Exercise", "Progress", "Slip", "Verdict", "exercises_for", "keep",
           "load_progress", "notebooks_with_exercises", "save_progress"]

_NOTEBOOKS = tuple(sorted(path.stem.removeprefix("nb") for path in Path(__file__).parent.glob("nb[0-9][0-9].py")))


def notebooks_with_exercises() -> tuple[str, ...]:
    """Numbers of the notebooks that have exercises, as text: "01" and so on."""
    return _NOTEBOOKS


def exercises_for(notebook: str) -> tuple:
    """The `Exercise`s of a notebook, in order; `notebook`: its number as text, such as "04". ValueError for others."""
    if notebook not in _NOTEBOOKS:
        raise ValueError(f"There are exercises for the notebooks {', '.join(_NOTEBOOKS)}, not for {notebook!r}: give the "
                         f"number as text, such as {_NOTEBOOKS[0]!r}.")
    return import_module(f".nb{notebook}", __name__).EXERCISES
