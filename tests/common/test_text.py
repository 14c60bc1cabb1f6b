"""Words and tables: flowing text in a notebook, plain text elsewhere."""

import re
from html import unescape

import mistune  # what nbconvert, which comes with JupyterLab, turns Markdown into pages with
import pytest
from splaywork.common.text import PRINTED, Table, Words

SAID = Words("Hold the boards at their *intended* leans, 28° and 24°. " * 4)
TABLE = Table(("corner", "gap"), [("slight", "0.10 mm"), ("a | b", "7.1 mm")])


def test_words_are_a_str_and_break_between_words_where_they_are_printed():
    assert isinstance(SAID, str) and SAID.startswith("Hold")
    lines = repr(SAID).splitlines()
    assert len(lines) > 1 and 80 < max(map(len, lines)) <= PRINTED and " ".join(lines).split() == SAID.split()


def test_lines_of_words_stay_lines_and_what_markdown_would_take_for_itself_is_escaped():
    words = Words("a | b of two\n*c* and snake_case")
    assert repr(words) == "a | b of two\n*c* and snake_case"
    assert words._repr_markdown_() == "a \\| b of two\n\\*c\\* and snake\\_case"


def test_words_as_markdown_say_the_same_and_nothing_turns_bold():
    page = mistune.html(SAID._repr_markdown_())
    assert unescape(re.sub("<[^>]+>", "", page)).split() == SAID.split() and "<em>" not in page


def test_a_table_keeps_its_cells_as_text_and_as_markdown():
    rows = [line.split() for line in str(TABLE).splitlines()]
    assert rows[0] == ["corner", "gap"] and len(rows) == 3
    lines = TABLE._repr_markdown_().splitlines()
    assert len(lines) == 4 and {line.count("|") for line in lines} == {3}, "a bar in a cell is no bar of the table"
    assert repr(TABLE).count("\n") == 0 and "2 rows" in repr(TABLE)


def test_a_table_is_written_in_columns_as_wide_as_their_widest_cell():
    assert str(TABLE) == "corner  gap\nslight  0.10 mm\na | b   7.1 mm"
    assert str(Table(("kind of line", "n"), [("end", "1")])) == "kind of line  n\nend           1"
    assert TABLE._repr_markdown_() == "| corner | gap |\n| :-- | :-- |\n| slight | 0.10 mm |\n| a &#124; b | 7.1 mm |"
    with pytest.raises(ValueError):
        str(Table(("one", "two"), [("short",)]))


def test_a_table_is_told_in_one_line_that_is_cut_short():
    assert repr(TABLE) == "<Table: 2 rows of corner, gap>"
    told = repr(Table(("wide " * 40,), []))
    assert len(told) == PRINTED - 1 and told.startswith("<Table: 0 rows of wide wide ")
    assert told.count(">") == 1 and told[-1] == ">"
