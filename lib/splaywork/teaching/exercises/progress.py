"""A learner's progress, kept in one small JSON file, only where it is asked for. Nothing in the file is evaluated.

{"version": 1, "exercises": {"04-2": {"tries": 3, "right": 1}, …}}, UTF-8.
"""

import json
import re
from dataclasses import dataclass, field
from pathlib import Path

from ...common.files import read_file, write_whole

VERSION = 1
LARGEST = 100_000  # bytes of a progress file that are read
MOST = 1_000_000  # tries at one exercise that are counted

_ID = re.compile(r"\d\d-\d{1,3}")
_REMEDY = "choose another file name, or delete this file to begin again"


@dataclass(frozen=True)
class Progress:
    """tries, right: exercise id -> how often it was checked, and how often it was right."""

    tries: dict = field(default_factory=dict)
    right: dict = field(default_factory=dict)

    def tried(self, exercise, right):
        """The `Progress` after one more check of the exercise with that id."""
        counts = dict(self.tries), dict(self.right)
        for count, more in zip(counts, (1, int(right)), strict=True):
            count[exercise] = min(count.get(exercise, 0) + more, MOST)
        return Progress(*counts)

    def done(self, exercise):
        """Whether that exercise was right at least once."""
        return self.right.get(exercise, 0) > 0


def load_progress(path):
    """The `Progress` in a file; an empty one where there is no file.

    ValueError, in one sentence, for a file that holds something else; OSError as from any reading. The file stays.
    """
    path = Path(path)
    try:
        content = read_file(path, LARGEST + 1)
    except FileNotFoundError:
        return Progress()
    try:
        parsed = json.loads(content.decode("utf-8-sig")) if len(content) <= LARGEST else None
    except (ValueError, RecursionError):  # also text that isn't UTF-8, and numbers of thousands of digits
        parsed = None
    if not isinstance(parsed, dict) or set(parsed) != {"version", "exercises"}:
        raise ValueError(f"The file {path.name!r} holds no progress, or was cut short: {_REMEDY}.")
    if type(parsed["version"]) is not int or parsed["version"] != VERSION:
        raise ValueError(f"The file {path.name!r} was written by another release, and only version {VERSION} is known "
                         f"here: {_REMEDY}.")
    entries = parsed["exercises"]
    if not isinstance(entries, dict) or not all(map(_is_entry, entries.items())):
        raise ValueError(f"The file {path.name!r} has an entry that is no count of tries: {_REMEDY}.")
    return Progress(*({name: entry[count] for name, entry in entries.items()} for count in ("tries", "right")))


def _is_entry(item):
    """Whether (name, value) is an exercise's id with a count of tries, and of right ones among them."""
    name, entry = item
    if not _ID.fullmatch(name) or not isinstance(entry, dict) or set(entry) != {"tries", "right"}:
        return False
    counts = entry["right"], entry["tries"]
    return all(type(count) is int for count in counts) and 0 <= counts[0] <= counts[1] <= MOST


def save_progress(path, progress):
    """Write a `Progress`, whole or not at all. OSError when the disk refuses; an old file is then untouched."""
    entries = {name: {"tries": tries, "right": progress.right.get(name, 0)} for name, tries in progress.tries.items()}
    text = json.dumps({"version": VERSION, "exercises": dict(sorted(entries.items()))}, indent=1)
    write_whole(path, (text + "\n").encode("utf-8"))


def keep(path, exercise, right):
    """Note one more check of an exercise in a file, beside what it holds, and return the `Progress`. Errors as above."""
    progress = load_progress(path).tried(exercise, right)
    save_progress(path, progress)
    return progress
