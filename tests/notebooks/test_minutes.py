"""The minutes that notebooks 00 to 10 promise, held to what stands on each page; and the road of one who only wants drawers.

A reader takes in about 180 words a minute, and stops at a picture, at a panel to try it, and before an answer to predict it:
common practice and our own guess, with no source.
"""

import re

import nbformat
import pytest
from places import NOTEBOOKS

WORDS = 180  # a minute
PICTURE, PANEL, PREDICTION = 1, 2, 1  # minutes
PAGES = sorted(NOTEBOOKS.glob("0*.ipynb")) + sorted(NOTEBOOKS.glob("10*.ipynb"))
HALF_A_DAY = 240  # minutes
LOOKED_UP = "The words"  # a table that nobody reads through
PANELS = "splaywork-reopened"  # in the style that a stored panel brings along
REST = re.compile(r"<style.*?</style>|<details>.*?</details>|```.*?```|<[^>]+>|\]\([^)]*\)|\|[ :|-]+\|", re.DOTALL)


def sections(path):
    """(heading, [cells]) of a notebook, from "" on, by its headings of the second order."""
    found = [("", [])]
    for cell in nbformat.read(path, as_version=4).cells:
        if cell.cell_type == "markdown" and (heading := re.match(r"## (.+)", cell.source)):
            found.append((heading[1], []))
        found[-1][1].append(cell)
    return found


def is_read(path, heading):
    """Whether a section counts: no exercises, no table for looking up, no bench steps where notebook 05 shows them again."""
    shown_in_05 = "01" <= path.name[:2] <= "04" and heading.startswith("On the bench")
    return not shown_in_05 and not heading.startswith("Exercises") and heading != LOOKED_UP


def counted(path):
    """Minutes that a page takes, as it is stored."""
    words = minutes = 0
    for heading, cells in sections(path):
        for cell in cells if is_read(path, heading) else ():
            texts = [cell.source] if cell.cell_type == "markdown" else []
            minutes += PREDICTION * len(re.findall(r"^(?:## |\*\*)Predict\b", cell.source, re.MULTILINE))
            outputs = [output.get("data", {}) for output in cell.get("outputs", [])]
            panel = any(PANELS in data.get("text/html", "") for data in outputs)
            minutes += PANEL if panel else PICTURE * sum("image/png" in data for data in outputs)
            texts += [output.get("text", "") for output in cell.get("outputs", [])]
            texts += [data.get("text/markdown") or data.get("text/html", "") for data in outputs]
            words += sum(len(re.findall(r"[^\W_]\S*", REST.sub(" ", text))) for text in texts)
    return words / WORDS + minutes


def promised(path):
    """Minutes to read that a page's line **Time:** promises."""
    return int(re.search(r"\*\*Time:\*\* (\d+) minutes to read", sections(path)[0][1][0].source)[1])


def road():
    """Notebook 00's part *The notebooks*."""
    return next(cells for heading, cells in sections(PAGES[0]) if heading == "The notebooks")[0].source


@pytest.mark.parametrize("path", PAGES, ids=lambda path: path.stem)
def test_a_page_takes_about_as_long_as_it_promises(path):
    assert abs(counted(path) - promised(path)) <= 0.25 * promised(path) + 3


@pytest.mark.parametrize("path", PAGES, ids=lambda path: path.stem)
def test_notebook_00_says_the_minutes_of_each_page(path):
    assert re.findall(rf"^\| .*\b{path.name[:2]} .* \| (\d+) \|", road(), re.MULTILINE) == [str(promised(path))]


def test_the_sum_that_notebook_00_says_is_right_and_half_a_day():
    assert len(PAGES) == 11
    said = re.search(r"10 take (\d+) minutes in all, half a day", " ".join(road().split()))
    assert int(said[1]) == sum(map(promised, PAGES)) <= HALF_A_DAY
