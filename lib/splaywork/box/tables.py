"""A cut list as HTML that a screen reader can walk through: a caption, and a heading for every row and column."""

from html import escape
from typing import TYPE_CHECKING, Any

from .cut_list import CAUTIONS, SAW_WORDS

if TYPE_CHECKING:
    from .cut_list import CutList

_CELL = "padding: 1px 10px; border-bottom: 1px solid; text-align: {}"


def _close(html):
    """With its lines closer together than a widget sets them."""
    return f'<div style="line-height: 1.35">{html}</div>'


def _cell(text, align="right"):
    return f'<td style="{_CELL.format(align)}">{escape(text)}</td>'


def _heading(text, scope, align):
    return f'<th scope="{scope}" style="{_CELL.format(align)}; font-weight: bold">{escape(text)}</th>'


def cut_table(cuts: "CutList", name: str, unit: str = "mm") -> str:
    """A `CutList` as a table: a row for each size and angle, a column for each board; and which boards match."""
    rows = cuts.rows(unit)
    names, *columns = rows[0]
    head = _heading(names, "col", "left") + "".join(_heading(board[names], "col", "right") for board in rows)
    body = "".join(f"<tr>{_heading(column, 'row', 'left')}"
                   + "".join(_cell(board[column].replace("-", "−")) for board in rows) + "</tr>"
                   for column in columns if not column.startswith(("blank area", "blank volume")))
    match = "".join(f"<li>{escape(group.words)}</li>" for group in cuts.groups)
    caption = (f"Cut list: {name}. A board's left and right ends are as you see them with its outer face towards you. An end "
               "line is measured from square, and is positive where the board is longer at the top. An end bevel is positive "
               "where the inner face reaches further. A rim bevel is positive where the board leans out.")
    return _close('<table style="border-collapse: collapse"><caption style="text-align: left; padding: 4px 10px; '
                  f'color: inherit">{escape(caption)}</caption><thead><tr>{head}</tr></thead>'
                  f"<tbody>{body}</tbody></table><ul>{match}</ul>")


def corner_settings(said: str, settings: str) -> Any:
    """What is said of a picked corner, and its settings, a line each, with their columns kept."""
    return _close(f"<p>{escape(said)}</p><pre>{escape(settings)}</pre>")


def saw_steps(cuts: "CutList") -> str:
    """The order in which to saw, each setting once, and the cautions that go with it, as two lists."""
    steps = "".join(f"<li>{escape(step.words)}</li>" for step in cuts.saw_order)
    cautions = "".join(f"<li>{escape(caution)}</li>" for caution in CAUTIONS)
    return _close(f"<p>{SAW_WORDS}</p><ol>{steps}</ol><p><b>Before you cut.</b></p><ul>{cautions}</ul>")
