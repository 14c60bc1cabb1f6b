"""Words and tables that a notebook shows as flowing text, and that are plain text everywhere else."""

from textwrap import fill
from typing import NamedTuple

PRINTED = 100  # characters: JupyterLab breaks a longer line of plain text anywhere, even within a word


class Words(str):
    """A str that Jupyter sets as a paragraph of the page: it breaks between words, wherever the page is as wide as it is."""

    __slots__ = ()

    def __repr__(self) -> str:
        return "\n".join(fill(line, PRINTED) for line in self.split("\n"))

    def _repr_markdown_(self) -> str:
        return self.replace("|", "\\|").replace("*", "\\*").replace("_", "\\_")


class Table(NamedTuple):
    """A small table of text: its head, and rows as long as the head."""

    head: tuple
    rows: list

    def __repr__(self) -> str:
        return f"<Table: {len(self.rows)} rows of {', '.join(self.head)}"[:PRINTED - 2] + ">"

    def __str__(self) -> str:
        widths = [max(map(len, column)) for column in zip(self.head, *self.rows, strict=True)]
        return "\n".join("  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
                         for row in (self.head, *self.rows))

    def _repr_markdown_(self) -> str:
        lines = [self.head, (":--",) * len(self.head), *self.rows]
        return "\n".join(f"| {' | '.join(cell.replace('|', '&#124;') for cell in line)} |" for line in lines)
