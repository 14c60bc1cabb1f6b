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


def test_notebooks_that_it_sends_people_to_are_there():
    printed = " ".join(cell.outputs[0]["data"]["text/markdown"] for cell in GUIDE.cells if cell.source.startswith("sw.script("))
    links = re.findall(r"\]\(\.\./([^)#]+)", prose() + printed)
    assert len(links) >= 4 and all((NOTEBOOKS / link).exists() for link in links)
