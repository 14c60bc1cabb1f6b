"""Words and tables: flowing text in a notebook, plain text elsewhere."""

import re
from html import unescape

import mistune  # what nbconvert, which comes with JupyterLab, turns Markdown into pages with
from splaywork.common.text import PRINTED, Table, Words

SAID = Words("Hold the boards at their *intended* leans, 28° and 24°. " * 4)
TABLE = Table(("corner", "gap"), [("slight", "0.10 mm"), ("a | b", "7.1 mm")])


def test_words_are_a_str_and_break_between_words_where_they_are_printed():
    assert isinstance(SAID, str) and SAID.startswith("Hold")
    lines = repr(SAID).splitlines()
    assert len(lines) > 1 and max(map(len, lines)) <= PRINTED and " ".join(lines).split() == SAID.split()


def test_words_as_markdown_say_the_same_and_nothing_turns_bold():
    page = mistune.html(SAID._repr_markdown_())
    assert unescape(re.sub("<[^>]+>", "", page)).split() == SAID.split() and "<em>" not in page


def test_a_table_keeps_its_cells_as_text_and_as_markdown():
    rows = [line.split() for line in str(TABLE).splitlines()]
    assert rows[0] == ["corner", "gap"] and len(rows) == 3
    lines = TABLE._repr_markdown_().splitlines()
    assert len(lines) == 4 and {line.count("|") for line in lines} == {3}, "a bar in a cell is no bar of the table"
    assert repr(TABLE).count("\n") == 0 and "2 rows" in repr(TABLE)
