"""The corner of a class: typed once, kept in one small JSON file beside the notebooks, only where it is asked for.

{"kind": "class corner", "version": 1, "name": "tray", "tail_lean": 22, "pin_lean": 14, "height": 90, "thickness": 18}: degrees
and mm, UTF-8; the corner is square in plan. Nothing in the file is evaluated. Panels, exercises and sheets begin with it.

The environment variable SPLAYWORK_CLASS_CORNER names the file where it doesn't lie beside the notebooks: one file for all
learners of a hub, for example. Where the variable is empty, no class corner is used, as while notebooks are tested.
"""

import json
import os
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import asdict, dataclass, fields
from pathlib import Path

from . import checks
from .files import read_file, write_whole
from .kinds import FilePath

FILE, KIND, VERSION = "class_corner.json", "class corner", 1
LARGEST = 4000  # bytes of the file that are read
LONGEST = 60  # characters of a name
LIMITS = {"tail_lean": (-45, 45), "pin_lean": (-45, 45), "height": (40, 300), "thickness": (6, 40)}  # as the panels' sliders
APART = "instructor"  # the folder beside the notebooks in which the guide lies
ELSEWHERE = "SPLAYWORK_CLASS_CORNER"  # the environment variable

_left_out = ContextVar("left_out", default=False)


@dataclass(frozen=True)
class ClassCorner:
    """tail_lean, pin_lean: degrees, −45 to 45. height: vertical, 40 to 300 mm; thickness of both boards, 6 to 40 mm; name: up
    to 60 characters. ValueError, in one sentence, for others."""

    tail_lean: float
    pin_lean: float
    height: float = 120.0
    thickness: float = 18.0
    name: str = ""

    def __post_init__(self):
        for key, (low, high) in LIMITS.items():
            unit = "°" if key.endswith("lean") else " mm"
            given = checks.number(f"class corner's {key.replace('_', ' ')}", getattr(self, key),
                                  what=f"a number from {checks.shown(low)}{unit} to {high}{unit}",
                                  fits=lambda one, low=low, high=high: (one >= low) & (one <= high))
            object.__setattr__(self, key, given)
        if not isinstance(self.name, str) or len(self.name) > LONGEST or not self.name.isprintable():
            raise ValueError(f"The class corner's name must be text of up to {LONGEST} letters on one line, not "
                             f"{checks.shown(self.name)}.")

    @property
    def drawn(self) -> dict:
        """What it stands for among the numbers that exercises draw: name -> value."""
        return asdict(self) | {"leans": (self.tail_lean, self.pin_lean)}


def beside_the_notebooks() -> Path:
    """Path of the file, whether it is there or not: in the folder of the notebook that runs, or beside the guide's folder, or
    where the environment variable says."""
    if elsewhere := os.environ.get(ELSEWHERE):
        return Path(elsewhere)
    here = Path.cwd()
    return (here.parent if here.name == APART else here) / FILE


def load_class_corner(path: FilePath) -> ClassCorner:
    """The `ClassCorner` in a file. ValueError, one sentence, for a file that holds something else; OSError as from any."""
    path = Path(path)
    content = read_file(path, LARGEST + 1)
    try:
        parsed = json.loads(content.decode("utf-8-sig")) if len(content) <= LARGEST else None
    except (ValueError, RecursionError):
        parsed = None
    names = {each.name for each in fields(ClassCorner)}
    if not isinstance(parsed, dict) or set(parsed) != names | {"kind", "version"}:
        raise ValueError(f"The file {path.name!r} holds no class corner, or was cut short: move it away, or delete it.")
    if (parsed.pop("kind"), parsed.pop("version")) != (KIND, VERSION):
        raise ValueError(f"The file {path.name!r} was written by another release, or is of another kind: move it away, "
                         "or delete it.")
    try:
        return ClassCorner(**parsed)
    except ValueError as wrong:
        raise ValueError(f"In {path.name!r}, which you may delete: {wrong}") from None


def save_class_corner(path: FilePath, corner: ClassCorner) -> None:
    """Write a `ClassCorner`, whole or not at all. OSError when the disk refuses; an old file is then untouched."""
    content = {"kind": KIND, "version": VERSION} | asdict(checks.instance("corner", corner, ClassCorner, "ClassCorner(22, 14)"))
    write_whole(path, (json.dumps(content, indent=1, ensure_ascii=False) + "\n").encode("utf-8"))


def class_corner() -> ClassCorner | None:
    """The `ClassCorner` that is kept beside the notebook that runs, or None. ValueError for a file that can't be used."""
    path = beside_the_notebooks()
    if _left_out.get() or os.environ.get(ELSEWHERE) == "" or not path.exists():
        return None
    try:
        return load_class_corner(path)
    except OSError as wrong:
        raise ValueError(f"The file {path.name!r} can't be read ({wrong.strerror or wrong}): move it away, or delete "
                         "it.") from None


@contextmanager
def leaving_it_out() -> Iterator[None]:
    """Without the class corner, for what has settings of its own, such as a lesson script."""
    token = _left_out.set(True)
    try:
        yield
    finally:
        _left_out.reset(token)
