"""Files that a panel writes and reads: their folder, its buttons, and one sentence for what went wrong or stands in the way."""

import glob
from html import escape
from pathlib import Path
from typing import Any

import ipywidgets as widgets

from ..common.files import digest, file_stem, what_stands
from ..common.kinds import FilePath
from ..drawing.print_file import save_pages

__all__ = ["Writer", "file_stem", "open_folder", "why"]


def open_folder(text: str, make: bool = True) -> Path:
    """The folder that was typed, as an absolute Path, made if its parent is there; ValueError in one sentence if not.

    It is counted from where the notebook runs, and ~ is the home folder. make=False: it is used as it is, and not made.
    """
    try:
        folder = Path(text.strip() or ".").expanduser().resolve()
        if make:
            folder.mkdir(exist_ok=True)
    except FileNotFoundError:
        raise ValueError(f"There is no folder {str(folder.parent)!r} to make {folder.name!r} in: make it first, or "
                         "choose another.") from None
    except FileExistsError:
        raise ValueError(f"{str(folder)!r} is a file, not a folder: choose another.") from None
    except (OSError, ValueError, RuntimeError) as wrong:
        raise ValueError(f"The folder {text.strip()[:60]!r} can't be used ({why(wrong)}): choose another.") from None
    return folder


def why(wrong: BaseException) -> str:
    """What an error of the disk says, in its own words."""
    return getattr(wrong, "strerror", None) or str(wrong).rstrip(".")


class _StandingError(Exception):
    """Something that this panel didn't write stands where it wants to write."""

    def __init__(self, standing, free, name):
        self.standing, self.free, self.name = standing, free, name


class Writer:
    """Buttons that write or read files, one at a time, and a line that says how far it is.

    tasks: what the button says -> (what it does, its tooltip, what it must not have done when it fails). What it does
    asks `place` where it may write, gives the sentence to say, or raises ValueError or OSError. `foot`: the buttons, the
    line, and the question that is asked before another file is replaced, to be shown one below the other.
    """

    def __init__(self, tasks: dict[str, tuple]) -> None:
        self.progress = widgets.HTML()
        self.progress.add_class("splaywork-act")  # a panel whose kernel has ended takes the line away
        self.buttons = {what: _button(what, tip) for what, (_, tip, _) in tasks.items()}
        self.replace = _button("Replace", "Write over what stands there")
        self.use_free = _button("Use the free name", "Leave what stands there, and write under the free name")
        self.asking = widgets.HBox([self.replace, self.use_free], layout={"display": "none", "flex_flow": "row wrap"})
        buttons = widgets.HBox(list(self.buttons.values()), layout={"flex_flow": "row wrap"})
        self.foot = [buttons, self.progress, self.asking]
        self._known: dict[Path, tuple[bytes | None, str]] = {}  # path -> (digest, the name of what is written there)
        self._to_free, self._asked = False, None
        for what, (task, _, failed) in tasks.items():
            self.buttons[what].on_click(lambda _, task=task, failed=failed: self._run(task, failed))
        self.replace.on_click(lambda _: self._answered(False))
        self.use_free.on_click(lambda _: self._answered(True))

    def _run(self, task, failed):
        buttons = [*self.buttons.values(), self.replace, self.use_free]
        for button in buttons:
            button.disabled = True
        self._asked, self.asking.layout.display = None, "none"
        try:
            self.say(task())
        except _StandingError as way:
            self._ask(way, task, failed)
        except ValueError as wrong:
            self.say(f"{failed}: {wrong}")
        except OSError as wrong:
            self.say(f"The disk refused ({why(wrong)}), and files that were there before are as they were: choose "
                     "another folder, or make room.")
        finally:
            for button in buttons:
                button.disabled = False

    def _ask(self, way, task, failed):
        self._asked = {path: (digest(path), way.name) for path in way.standing}, task, failed
        self.say(f"{_in_the_way(way.standing)}. Replace {'it' if len(way.standing) == 1 else 'them'}, or write "
                 f"{way.free[0].name} instead?")
        self.asking.layout.display = ""

    def _answered(self, free):
        if self._asked:
            standing, task, failed = self._asked
            self._to_free = free
            if not free:  # only what was asked about: should another program write there now, that is asked anew
                self._known |= standing
            try:
                self._run(task, failed)
            finally:
                self._to_free = False

    def place(self, paths: list[Path], name: str = "") -> list[Path]:
        """Where these files may go: the paths themselves, or free ones where that was chosen.

        A file that is there is replaced without a question only where this panel wrote or opened it, as it still is, under
        the same name (that of the plan or the corner); whatever else stands there is asked about first.
        """
        for path in paths:
            if path.exists() and not path.is_file():
                raise ValueError(f"{path.name!r} is there already and is no file: give another name.")
        standing = [path for path in sorted({each for path in paths for each in _pages_of(path)})
                    if self._known.get(path, (0, 0)) != (digest(path), name)]
        if not standing:
            return paths
        free = _free(paths)
        if not self._to_free:
            raise _StandingError(standing, free, name)
        return free

    def written(self, paths: list[Path], name: str = "") -> str:
        """Where the files are, as a sentence; they are all in one folder. From now on they are this panel's own."""
        self.note(paths, name)
        return f"Written into {paths[0].parent}: {', '.join(path.name for path in paths)}."

    def note(self, paths: list[Path], name: str = "") -> None:
        """Take files for this panel's own: it wrote or opened them just now, under that name."""
        self._known |= {path: (digest(path), name) for path in paths}

    def say(self, sentence: str) -> None:
        """Show a sentence, as text."""
        self.progress.value = escape(sentence)

    def page(self, done: float, of: float) -> None:
        """Say how many pages have been drawn."""
        self.say(f"Drawn: page {done} of {of} …")

    def sheets(self, path: FilePath, drawings: Any, paper: str) -> tuple[Path, ...]:
        """Write drawings as sheets, counting the pages; the paths written."""
        return save_pages(path, drawings, paper, self.page)


def _button(what, tip):
    return widgets.Button(description=what, tooltip=tip, layout={"width": "auto", "min_width": "100px"})


def _pages_of(path):
    """What stands at a path; for an SVG also what stands at its numbered pages."""
    pages = path.parent.glob(f"{glob.escape(path.stem)}-*.svg") if path.suffix == ".svg" else ()
    return [each for each in (path, *pages) if each.exists() and (each == path or each.stem[len(path.stem) + 1:].isdecimal())]


def _free(paths):
    """The same files with the lowest number, from 2, under which none of them is there."""
    number = 2
    while any(_pages_of(path.with_stem(f"{path.stem}-{number}")) for path in paths):
        number += 1
    return [path.with_stem(f"{path.stem}-{number}") for path in paths]


def _in_the_way(standing):
    if len(standing) == 1:
        return f"{standing[0].name} is there already: {what_stands(standing[0])}"
    newest = max(standing, key=lambda path: path.stat().st_mtime)
    names = ", ".join(path.name for path in standing[:4]) + ", …" * (len(standing) > 4)
    return f"{names} are there already; the newest is {newest.name}: {what_stands(newest)}"
