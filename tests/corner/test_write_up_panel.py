"""The write-up panel: its text is what `write_up` gives for what its boxes say, whatever is typed into them."""

import re
from html import unescape

import pytest
from splaywork import closed_forms, sensitivities, write_up_panel
from splaywork.formulas.write_up import TARGETS, default_cells, write_up

HOSTILE = ("abc", "", "   ", "0", "180", "-10", "1e999", "nan", "9" * 400, "90; 91", "__import__('os').getcwd()",
           "<img src=x onerror=alert(1)>", "\x00", "W", "w(90)", "90°" * 50)
HOSTILE_CELLS = ("tail_lean", "A2", "tail_lean A2 B2", "tail_lean=A2", "tail_lean A0", "tail_lean A2+B2", "form A2",
                 "tail_lean <b>", "plan_angle A2", "to A2", "tail_lean ＡＡ2", "tail_lean A2\npin_lean", "__class__ A2",
                 "x" * 500, 'tail_lean HYPERLINK("http")', "tail_lean Sheet1!A2", "Tail_lean A2", "tail_lean XFDX1")


@pytest.fixture
def panel():
    return write_up_panel()


def message_of(panel):
    return unescape(re.sub(r"</?b>", "", panel.message.value))


def test_opens_with_the_formula_asked_for(panel):
    assert panel.text.value == write_up("pin_end_line", "latex") and message_of(panel) == ""
    assert write_up_panel("dihedral", to="c").text.value == write_up("dihedral", "c")
    assert write_up_panel(None, to="text").text.value == write_up(None, "text")


@pytest.mark.parametrize("target", TARGETS)
def test_every_formula_and_target(panel, target):
    panel.to.value = target
    assert [form or None for _, form in panel.form.options] == [None, *closed_forms()]
    for name, form in panel.form.options:
        panel.form.value = form
        assert panel.text.value == write_up(form or None, target), name
        assert message_of(panel) == ""


def test_the_formula_is_set_above_the_text_as_the_page_needs_it(panel):
    panel.plan.value = "any"
    set_ = unescape(panel.formula.value)
    body = [line.split(r" \label")[0] for line in write_up("pin_end_line", "latex", None).splitlines() if r"\text" in line]
    assert body and "label" not in set_
    assert all(line in set_ for line in body) and set_.startswith(r"\begin{align*}") and "%" not in set_
    assert "<" not in panel.formula.value and "&amp;=" in panel.formula.value
    panel.form.label = "all of them"
    assert panel.formula.value == ""


@pytest.mark.parametrize(("typed", "plan_angle"), [
    ("any", None), (" any ", None), ("120", 120), ("112 1/2°", 112.5), ("90", 90)])
def test_plan_angle(panel, typed, plan_angle):
    panel.plan.value = "45"
    panel.plan.value = typed
    assert panel.text.value == write_up("pin_end_line", "latex", plan_angle) and message_of(panel) == ""
    assert [form or None for _, form in panel.form.options] == [None, *closed_forms(plan_angle)]


def test_a_formula_that_is_for_square_corners_alone_gives_way_to_the_whole_set(panel):
    panel.form.value = "one_gauge_pin_error"
    panel.plan.value = "120"
    assert panel.form.label == "all of them" and panel.text.value == write_up(None, "latex", 120)


@pytest.mark.parametrize("target", ["latex", "spreadsheet"])
@pytest.mark.parametrize("typed", HOSTILE)
def test_hostile_plan_angles_are_refused_in_one_sentence_and_the_text_stays(panel, typed, target):
    panel.to.value = target
    good = panel.text.value, panel.formula.value
    panel.plan.value = typed
    said = message_of(panel)
    assert re.match(r"(Plan angle: |The plan angle is ).*\.$", said) and len(said) < 200
    assert "<img" not in panel.message.value
    assert (panel.text.value, panel.formula.value) == good
    panel.plan.value = "90"
    assert message_of(panel) == "" and panel.text.value == good[0]


@pytest.mark.parametrize("typed", HOSTILE_CELLS)
def test_hostile_cells_are_refused_in_one_sentence_and_the_text_stays(panel, typed):
    panel.to.value = "spreadsheet"
    good = panel.text.value
    panel.cells.value = typed
    said = message_of(panel)
    assert said.endswith(".") and "\n" not in said and len(said) < 200 and "<b>" not in panel.message.value[3:]
    assert panel.text.value == good
    panel.cells.value = "tail_lean C5, pin_lean $D$5"
    assert message_of(panel) == "" and "C5" in panel.text.value and "$D$5" in panel.text.value


def test_a_refused_text_goes_with_the_complaint_about_it(panel):
    panel.plan.value = "120"
    panel.plan.value = "abc"
    panel.to.value = "python"
    assert (panel.plan.value, message_of(panel)) == ("120", "")
    assert panel.text.value == write_up("pin_end_line", "python", 120)


def test_cells_are_offered_for_what_the_formula_needs(panel):
    panel.to.value = "spreadsheet"
    for form in (*closed_forms(), None):
        panel.form.value = form or ""
        offered = dict(pair.split() for pair in panel.cells.value.split(", ") if pair)
        assert offered == (default_cells(form) if form else {}) and all(cell in panel.text.value for cell in offered.values())
    panel.form.value = "dihedral"
    panel.plan.value = "any"
    panel.cells.value = "plan_angle Z9"
    assert "Z9" in panel.text.value


def test_cells_can_be_typed_for_a_spreadsheet_alone(panel):
    assert panel.cells.disabled
    panel.to.value = "spreadsheet"
    assert not panel.cells.disabled
    panel.to.value = "python"
    assert panel.cells.disabled and message_of(panel) == ""


def test_what_is_typed_into_the_text_is_undone(panel):
    good = panel.text.value
    panel.text.value = "a <b>wrong</b> formula"
    assert panel.text.value == good


def test_says_what_it_is_where_no_kernel_runs(panel):
    assert panel._repr_mimebundle_()["text/plain"] == "Run this cell, and formulas to copy appear here."


@pytest.mark.parametrize("ask", [("no_such",), ("dihedral", "pdf")])
def test_what_there_is_not_is_refused(ask):
    with pytest.raises(ValueError, match="choose"):
        write_up_panel(*ask)


def test_how_a_formula_changes_is_listed_and_written(panel):
    for form in closed_forms():
        panel.form.value = form
        assert [name for _, name in panel.what.options] == ["", *sensitivities(form)]
        assert panel.what.disabled == (not sensitivities(form)) and panel.what.value == ""
    panel.form.value = "dihedral"
    panel.what.label = "its change per plan angle"
    assert panel.text.value == write_up("dihedral_per_plan_angle") and r"\text{dihedral per plan angle}" in panel.formula.value
    panel.plan.value, panel.to.value = "any", "spreadsheet"
    assert panel.text.value == write_up("dihedral_per_plan_angle", "spreadsheet", None)
    assert panel.cells.value == "tail_lean A2, pin_lean B2, plan_angle C2"
    panel.form.value = ""
    assert panel.what.label == "the formula" and panel.what.disabled and panel.text.value == write_up(None, "spreadsheet", None)
    assert write_up_panel("dihedral_per_tail_lean", "c").text.value == write_up("dihedral_per_tail_lean", "c")
