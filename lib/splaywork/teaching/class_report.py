"""A class's answers in one table: who tried what, and which slips are common. Every file is read as a stranger's."""

from collections import Counter
from dataclasses import dataclass
from html import escape
from pathlib import Path

from ..common.kinds import FilePath
from .exercises import load_progress

MOST_FILES = 500  # progress files that are read from a folder
SHOWN = 40  # characters of a learner's name, and of a slip
COMMON = 10  # slips that the table names


@dataclass(frozen=True)
class ClassReport:
    """learners: name -> `Progress`, by the file's name. refused: file -> the sentence that says why it wasn't read."""

    learners: dict
    refused: dict

    @property
    def exercises(self) -> list[str]:
        """Exercise ids that anybody tried, in order."""
        return sorted({number for progress in self.learners.values() for number in progress.tries})

    @property
    def done(self) -> dict[str, tuple[int, int]]:
        """Exercise id -> (learners who had it right, learners who tried it)."""
        return {number: (sum(progress.done(number) for progress in self.learners.values()),
                         sum(number in progress.tries for progress in self.learners.values())) for number in self.exercises}

    @property
    def slips(self) -> Counter:
        """Counter of (exercise id, kind of slip): how many learners made it at least once."""
        return Counter((number, kind) for progress in self.learners.values()
                       for number, kinds in progress.slips.items() for kind in kinds)

    def __repr__(self) -> str:
        return f"ClassReport({len(self.learners)} learners, {len(self.exercises)} exercises, {len(self.refused)} files refused)"

    def _repr_markdown_(self) -> str:
        lines = ["| learner | tried | right at least once | tries |", "|:--|--:|--:|--:|"]
        lines += [f"| {_safe(name)} | {len(progress.tries)} | {sum(map(progress.done, progress.tries))} | "
                  f"{sum(progress.tries.values())} |" for name, progress in self.learners.items()]
        lines += ["", "| exercise | right, of those who tried |", "|:--|:--|"]
        lines += [f"| {number} | {right} of {tried} |" for number, (right, tried) in self.done.items()]
        lines += ["", "| common slip | exercise | learners |", "|:--|:--|--:|"]
        lines += [f"| {_safe(kind)} | {number} | {count} |" for (number, kind), count in self.slips.most_common(COMMON)]
        lines += ["", *(f"* {_safe(name)} wasn't read. {_safe(why, 200)}" for name, why in self.refused.items())]
        return "\n".join(lines) + "\n"


def _safe(text, most=SHOWN):
    """A stranger's text for a Markdown table: short, on one line, and nothing that a page would act on."""
    plain = "".join(letter if letter.isprintable() else " " for letter in text)
    plain = plain if len(plain) <= most else plain[:most - 1] + "…"
    return "".join(f"&#{ord(letter)};" if letter in "|*_`[]()#!\\~$" else escape(letter) for letter in plain)


def class_report(folder: FilePath) -> ClassReport:
    """Read the progress files that learners handed in, and sum them up; nothing is written.

    Parameters
    ----------
    folder : str or Path
        Holds one .json file a learner, named after the learner. Folders inside it are not entered.

    Returns
    -------
    ClassReport
        Prints as tables. A file that is no progress file is named with its reason, and the others are read.

    Raises
    ------
    ValueError
        If there is no such folder, or it holds more than 500 such files.

    >>> import splaywork as sw
    >>> from pathlib import Path
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     _ = Path(folder, "Ann.json").write_text("not what the panel wrote")
    ...     sw.class_report(folder)
    ClassReport(0 learners, 0 exercises, 1 files refused)
    """
    folder = Path(folder)
    if not folder.is_dir():
        raise ValueError(f"There is no folder {str(folder)[:60]!r}: give the folder with the learners' files.")
    paths = sorted(path for path in folder.iterdir() if path.suffix.lower() == ".json" and not path.name.startswith("."))
    if len(paths) > MOST_FILES:
        raise ValueError(f"The folder {folder.name!r} holds {len(paths)} files: give one with at most {MOST_FILES}.")
    learners, refused = {}, {}
    for path in paths:
        try:
            learners[path.stem] = load_progress(path)
        except ValueError as wrong:
            refused[path.name] = str(wrong)
        except OSError as wrong:
            refused[path.name] = f"The disk refused: {wrong.strerror or 'no reason given'}."
    return ClassReport(learners, refused)
