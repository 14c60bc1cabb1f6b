"""Files that a panel writes and reads: safe names, their folder, its buttons, and one sentence for what went wrong."""

import re
import unicodedata
from html import escape
from pathlib import Path

import ipywidgets as widgets

from ..drawing.paper import save_pages

LONGEST = 40  # characters kept of a name


def file_stem(name, nameless="corner"):
    """A name as a file may bear it everywhere: letters a to z, digits and hyphens; `nameless` when nothing is left."""
    plain = unicodedata.normalize("NFKD", str(name)).encode("ascii", "ignore").decode().lower()
    return re.sub("[^a-z0-9]+", "-", plain).strip("-")[:LONGEST].strip("-") or nameless


def open_folder(text, make=True):
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


def why(wrong):
    """What an error of the disk says, in its own words."""
    return getattr(wrong, "strerror", None) or str(wrong).rstrip(".")


class Writer:
    """Buttons that write or read files, one at a time, and a line that says how far it is.

    tasks: what the button says -> (what it does, its tooltip, what it must not have done when it fails). What it does
    gives the sentence to say, or raises ValueError or OSError.
    """

    def __init__(self, tasks):
        self.progress = widgets.HTML()
        self.buttons = {what: widgets.Button(description=what, tooltip=tip,
                                             layout={"width": "auto", "min_width": "100px"})
                        for what, (_, tip, _) in tasks.items()}
        for what, (task, _, failed) in tasks.items():
            self.buttons[what].on_click(lambda _, task=task, failed=failed: self._run(task, failed))

    def _run(self, task, failed):
        for button in self.buttons.values():
            button.disabled = True
        try:
            self.say(task())
        except ValueError as wrong:
            self.say(f"{failed}: {wrong}")
        except OSError as wrong:
            self.say(f"The disk refused ({why(wrong)}), and files that were there before are as they were: choose "
                     "another folder, or make room.")
        finally:
            for button in self.buttons.values():
                button.disabled = False

    def say(self, sentence):
        """Show a sentence, as text."""
        self.progress.value = escape(sentence)

    def page(self, done, of):
        """Say how many pages have been drawn."""
        self.say(f"Drawn: page {done} of {of} …")

    def sheets(self, path, drawings, paper):
        """Write drawings as sheets, counting the pages; the paths written."""
        return save_pages(path, drawings, paper, self.page)


def written(paths):
    """Where the files are, as a sentence; they are all in one folder."""
    return f"Written into {paths[0].parent}: {', '.join(path.name for path in paths)}."
