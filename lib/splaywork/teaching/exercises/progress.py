"""A learner's progress, kept in one small JSON file, only where it is asked for. Nothing in the file is evaluated.

{"kind": "answers to exercises", "version": 2, "exercises": {"04-2": {"tries": 3, "right": 1, "slips": {"the shortcut": 2}},
…}}, UTF-8. Version 1, which had no kind and no slips, is read as well.
"""

import json
import re
from dataclasses import dataclass, field
from pathlib import Path

from ...common.files import read_file, write_whole
from ...common.kinds import FilePath

KIND, VERSION = "answers to exercises", 2
LARGEST = 100_000  # bytes of a progress file that are read
MOST = 1_000_000  # tries at one exercise that are counted
MOST_SLIPS = 40  # kinds of slip noted for one exercise
LONGEST = 120  # characters of a kind of slip

_ID = re.compile(r"[0-9]{2}-[0-9]{1,3}")
_REMEDY = "choose another file name, or delete this file to begin again"


@dataclass(frozen=True)
class Progress:
    """tries, right: exercise id -> how often it was checked, and how often it was right; slips: exercise id -> kind of slip
    -> how often it was made."""

    tries: dict = field(default_factory=dict)
    right: dict = field(default_factory=dict)
    slips: dict = field(default_factory=dict)

    def tried(self, exercise: str, right: bool, slip: str = "") -> "Progress":
        """The `Progress` after one more check of the exercise with that id; slip: the kind that was made, if any."""
        tries, right_ones, slips = dict(self.tries), dict(self.right), dict(self.slips)
        for count, more in ((tries, 1), (right_ones, int(right))):
            count[exercise] = min(count.get(exercise, 0) + more, MOST)
        if slip:
            made = dict(slips.get(exercise, {}))
            made[slip] = min(made.get(slip, 0) + 1, MOST)
            slips[exercise] = dict(list(made.items())[:MOST_SLIPS])
        return Progress(tries, right_ones, slips)

    def done(self, exercise: str) -> bool:
        """Whether that exercise was right at least once."""
        return self.right.get(exercise, 0) > 0


def load_progress(path: FilePath) -> Progress:
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
    if not isinstance(parsed, dict) or not {"version", "exercises"} <= set(parsed) <= {"kind", "version", "exercises"}:
        raise ValueError(f"The file {path.name!r} holds no progress, or was cut short: {_REMEDY}.")
    if type(parsed["version"]) is not int or (parsed["version"], parsed.get("kind")) not in ((1, None), (VERSION, KIND)):
        raise ValueError(f"The file {path.name!r} was written by another release, or is of another kind: {_REMEDY}.")
    entries = parsed["exercises"]
    if not isinstance(entries, dict) or not all(_is_entry(name, entry) for name, entry in entries.items()):
        raise ValueError(f"The file {path.name!r} has an entry that is no count of tries: {_REMEDY}.")
    tries, right = ({name: entry[count] for name, entry in entries.items()} for count in ("tries", "right"))
    return Progress(tries, right, {name: entry["slips"] for name, entry in entries.items() if entry.get("slips")})


def _is_entry(name, entry):
    """Whether this is an exercise's id with a count of tries, of right ones among them, and of slips by kind."""
    if not _ID.fullmatch(name) or not isinstance(entry, dict) or not {"tries", "right"} <= set(entry) <= {
            "tries", "right", "slips"}:
        return False
    counts, slips = (entry["right"], entry["tries"]), entry.get("slips", {})
    if not isinstance(slips, dict) or len(slips) > MOST_SLIPS:
        return False
    return (all(type(count) is int for count in (*counts, *slips.values())) and 0 <= counts[0] <= counts[1] <= MOST
            and all(0 < count <= MOST for count in slips.values())
            and all(kind.isprintable() and 0 < len(kind) <= LONGEST for kind in slips))


def save_progress(path: FilePath, progress: Progress) -> None:
    """Write a `Progress`, whole or not at all. OSError when the disk refuses; an old file is then untouched."""
    entries = {name: {"tries": tries, "right": progress.right.get(name, 0), "slips": progress.slips.get(name, {})}
               for name, tries in progress.tries.items()}
    text = json.dumps({"kind": KIND, "version": VERSION, "exercises": dict(sorted(entries.items()))}, indent=1)
    write_whole(path, (text + "\n").encode("utf-8"))


def keep(path: FilePath, exercise: str, right: bool, slip: str = "") -> Progress:
    """Note one more check of an exercise in a file, beside what it holds, and return the `Progress`. Errors as above."""
    progress = load_progress(path).tried(exercise, right, slip)
    save_progress(path, progress)
    return progress
