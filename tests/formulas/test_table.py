"""Tables over both leans: every cell is the form's number, in each of the three ways to write it."""

import csv
import io
import re

import pytest
from pylatexenc.latexwalker import LatexWalker
from splaywork import Corner, table

TAIL, PIN = (10, 20, -30), (5, 25)


def cells(text, to):
    if to == "csv":
        return [row for row in csv.reader(io.StringIO(text))]
    if to == "markdown":
        return [row.strip("| ").split(" | ") for row in text.splitlines() if "---" not in row]
    inside = text.split("\n", 2)[2].rsplit("\n", 1)[0].replace(r"\hline", "")  # under the name and "tail lean"
    return [[cell.strip() for cell in row.split("&")] for row in inside.split(r"\\")]


@pytest.mark.parametrize("to", ["markdown", "csv", "latex"])
@pytest.mark.parametrize("name", ["pin_end_line", "tail_end_line", "dihedral", "tail_rim_bevel"])
def test_every_cell_is_the_corners_number(name, to):
    head, *rows = cells(table(name, TAIL, PIN, to, plan_angle=80, places=3), to)
    assert len(head) == 1 + len(TAIL) and len(rows) == len(PIN)
    for pin, row in zip(PIN, rows, strict=True):
        for tail, cell in zip(TAIL, row[1:], strict=True):
            number = float(re.sub("[$ ]", "", cell).replace("−", "-"))
            assert number == pytest.approx(getattr(Corner(tail, pin, 80), name), abs=6e-4)


def test_latex_is_one_tabular_that_a_parser_reads():
    text = table("one_gauge_pin_gap", TAIL, PIN, "latex", slant_width=100)
    nodes, _, _ = LatexWalker(text, tolerant_parsing=False).get_latex_nodes()
    assert len(nodes) == 1 and "shortcut's gap, pin board, mm" in text and "°" not in text


@pytest.mark.parametrize(("ask", "sentence"), [
    (lambda: table("no_such", 1, 2), "no form called 'no_such' here"),
    (lambda: table("one_gauge_pin_error", 1, 2, plan_angle=120), "no form called"),
    (lambda: table("dihedral", 95, 2), "tail lean is 95°"),
    (lambda: table("dihedral", 1, "x"), "pin lean must be a number"),
    (lambda: table("dihedral", 1, 2, "html"), "kind of table can be 'markdown', 'csv' or 'latex', not 'html'"),
    (lambda: table("dihedral", 1, 2, places=-1), "number of decimals must be a whole number"),
    (lambda: table("slant_width", 1, 2), "depends on neither lean"),
    (lambda: table("baseline_offset", 1, 2), "is worked out from"),
])
def test_what_there_is_not_is_one_sentence(ask, sentence):
    with pytest.raises(ValueError, match=sentence) as refused:
        ask()
    assert "\n" not in str(refused.value) and str(refused.value).endswith(".")
