"""Files that a panel writes: names made safe, one folder that they go into, and one sentence for what went wrong."""

import re
import unicodedata
from pathlib import Path

LONGEST = 40  # characters kept of a name


def file_stem(name):
    """A name as a file may bear it everywhere: letters a to z, digits and hyphens; "corner" when nothing is left."""
    plain = unicodedata.normalize("NFKD", str(name)).encode("ascii", "ignore").decode().lower()
    return re.sub("[^a-z0-9]+", "-", plain).strip("-")[:LONGEST].strip("-") or "corner"


def open_folder(text):
    """The folder that was typed, as an absolute Path, made if its parent is there; ValueError in one sentence if not.

    It is counted from where the notebook runs, and ~ is the home folder.
    """
    try:
        folder = Path(text.strip() or ".").expanduser().resolve()
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
