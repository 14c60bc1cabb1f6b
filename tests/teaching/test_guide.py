"""The instructor's guide: it prints every script, links to every notebook that it names, and says no label that isn't there."""

import re

import nbformat
from places import NOTEBOOKS
from splaywork.teaching.script_panel import PRINTED
from splaywork.teaching.scripts import script, scripts

GUIDE = nbformat.read(NOTEBOOKS / "instructor" / "guide.ipynb", as_version=4)


def prose():
    return "\n".join(cell.source for cell in GUIDE.cells if cell.cell_type == "markdown")


def test_every_script_is_printed_under_its_title():
    for notebook in scripts():
        assert f"## {notebook} {script(notebook).title}" in prose()
        cell, = (cell for cell in GUIDE.cells if cell.source == f'sw.script("{notebook}")')
        printed = cell.outputs[0]["data"]["text/markdown"]
        rows = re.findall(r"^\| (\d+|–) \| (\d+) \|", printed, re.MULTILINE)[1:]  # the first names the columns
        assert [int(full) for _, full in rows] == [row.full for row in script(notebook).rows]
        for row in script(notebook).rows:
            assert f"“{script(notebook).text(row.say)}”" in printed


def test_a_printed_guide_leaves_no_heading_alone_at_the_end_of_a_page():
    """Its file has the style; what that does is printed in browser/test_plain_pages.py."""
    cell, = (cell for cell in GUIDE.cells if cell.source == "sw.lesson_panel()")
    assert any(PRINTED in output.get("data", {}).get("text/html", "") for output in cell.outputs)


def test_spoken_lines_are_sentences_to_be_said_aloud():
    spoken = re.findall(r"“([^”]+)”", prose())
    assert len(spoken) >= 8
    for line in spoken:
        for sentence in re.split(r"(?<=[.?!])\s+", re.sub(r"\s+", " ", line)):
            assert len(sentence.split()) <= 16, sentence


# What the ear takes for another word, or for nothing: "I saw" for the past of "see", "pared" for "paired", "the misses" for a
# woman, "07" for a year.
MISHEARD = re.compile(r"\b(?:I|you|we) saw\b|\bpared\b|\bthe miss(?:es)?\b|(?<!notebook )\b0\d\b", re.IGNORECASE)


def spoken(lesson):
    """All that a script has the instructor say: beside a row and in it, the closing questions, and answers to what is asked."""
    rows = [text for row in lesson.rows for text in (row.say, row.ask, *re.findall(r"“([^”]+)”", row.do))]
    asked = [lesson.ask, *lesson.short[:1], *(answer for _, answer in lesson.questions)]
    return [re.sub(r"\s+", " ", lesson.text(text)) for text in rows + asked if text]


def test_a_spoken_line_is_not_misheard():
    lines = [line for notebook in scripts() for line in spoken(script(notebook))] + re.findall(r"“([^”]+)”", prose())
    assert len(lines) >= 120
    assert [line for line in lines if MISHEARD.search(line)] == []
    assert all(map(MISHEARD.search, ("I saw along the line.", "Pared points cut.", "The miss is 2 mm.", "Ask 07.")))
    assert not MISHEARD.search("Hold the saw square: the bevel misses by 8 mm. Notebook 07 says why.")


def test_notebooks_that_it_sends_people_to_are_there():
    printed = " ".join(cell.outputs[0]["data"]["text/markdown"] for cell in GUIDE.cells if cell.source.startswith("sw.script("))
    links = re.findall(r"\]\(\.\./([^)#]+)", prose() + printed)
    assert len(links) >= 4 and all((NOTEBOOKS / link).exists() for link in links)
