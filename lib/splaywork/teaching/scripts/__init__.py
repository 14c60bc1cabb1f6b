"""Lesson scripts as data: what to do and to say at which minute, what the room then sees, and whether it does.

A module for each notebook holds its `Script`. The guide prints the tables, `script_panel` steps through the rows on a
panel, and a test applies every row and holds what it claims.
"""

from importlib import import_module
from pathlib import Path

from ...common import checks
from .core import Bench, Row, Script, apply, minutes_rows, minutes_table, settings_told

__all__ = ["Bench", "Row", "Script", "apply", "minutes_rows", "minutes_table", "script", "scripts", "settings_told"]

_NOTEBOOKS = tuple(sorted(path.stem.removeprefix("nb") for path in Path(__file__).parent.glob("nb[0-9][0-9].py")))


def scripts() -> tuple[str, ...]:
    """Numbers of the notebooks that have a script, as text: "00" and so on."""
    return _NOTEBOOKS


def script(notebook: str) -> Script:
    """The `Script` of a notebook, which prints as a page of the guide.

    notebook: its number as text, such as "04". ValueError for others.

    >>> import splaywork as sw
    >>> len(sw.script("04").rows) > 5
    True
    """
    if not isinstance(notebook, str) or notebook not in _NOTEBOOKS:
        raise ValueError(f"There are scripts for the notebooks {', '.join(_NOTEBOOKS)}, not for {checks.shown(notebook)}: "
                         "give the number as text, such as '04'.")
    return import_module(f".nb{notebook}", __name__).SCRIPT
