"""The trial sheet: two pages, read back, with every number of the corner and nothing that sends the reader elsewhere."""

import re
from functools import cache
from itertools import product

import numpy as np
import pytest
from cases import sample
from pypdfium2 import PdfDocument
from sheets import texts_of
from splaywork.common.printing import intended, typed
from splaywork.corner.corner import Corner
from splaywork.corner.dry_fit import EDGE, LEANS, SIGNS, SLID, with_tails
from splaywork.drawing.paper import PAPERS, Label, Picture
from splaywork.joint.bench_steps import bench_step_words, handed_steps, tail_marks, wedge_pairs
from splaywork.joint.bench_steps_picture import frames
from splaywork.joint.joint import Joint
from splaywork.joint.trial_sheet import (
    gapes_table,
    save_trial_sheet,
    scrap_size,
    stock,
    stock_table,
    trial_pages,
    trial_settings,
)

JOINTS = [Joint(Corner(30, 30), 100, 18, tails=2), Joint(Corner(16, 11), 120, 18, tails=3, end="square"),
          Joint(Corner(-20, -11), 90, 12, 15, tails=2), Joint(Corner(25, -14), 100, 15, tails=2, end="square"),
          Joint(Corner(0, 20), 110, 18, tails=2), Joint(Corner(0, 0), 100, 18, tails=2),
          Joint(Corner(14, 6, 120), 100, 12, tails=4), Joint(Corner(-9, 12, 65), 150, 12, tails=5, end="square")]
every_joint = pytest.mark.parametrize("joint", sample(JOINTS, {0, 1, 2, 3, 7}), ids=lambda joint: f"{joint.corner}-{joint.end}")
# each joint on one paper and in one unit, all papers and both units among them; then the others
KINDS = list(product(JOINTS, PAPERS, ["mm", "in"]))


laid = cache(trial_pages)  # a joint's sheet is laid out once for all tests that read it


def words_on(pages):
    return " ".join(item.text for page in pages for item in (*page.inside, *page.around) if isinstance(item, Label))


@pytest.mark.parametrize(("joint", "paper", "unit"), sample(KINDS, range(0, len(KINDS), 7)),
                         ids=[f"{joint.corner}-{joint.end}-{paper}-{unit}" for joint, paper, unit in KINDS])
def test_it_takes_two_pages_and_nothing_leaves_them(joint, paper, unit):
    pages = laid(joint, paper, unit)
    assert len(pages) == 2 and [(page.width, page.height) for page in pages] == [PAPERS[paper]] * 2
    drawings = 0
    for page in pages:
        for item in (*page.inside, *page.around):
            assert (item.points >= 8).all() and (item.points <= np.array([page.width, page.height]) - 8).all()
            drawings += isinstance(item, Picture)
            if isinstance(item, Label):
                assert item.size >= 6.99, item.text
    assert drawings == 11


@every_joint
def test_every_step_check_and_caution_is_on_it(joint):
    told = words_on(laid(joint))
    steps = bench_step_words(joint, asides="Where each line is marked" in told)
    for step in steps:
        for sentence in (*step.do, step.check, step.caution):
            assert sentence in told.replace("  ", " "), sentence
    for step in steps:
        assert told.replace("  ", " ").count(f"{step.number} {step.title}") == 1
    for mark in tail_marks(joint):
        assert mark in told
    for row in trial_settings(joint):
        assert all(cell in told for cell in row)
    for what, *sides in stock(joint):
        assert what.replace(", any wood", "") in told and " × ".join(sides) in told


@every_joint
def test_settings_are_the_corner_s(joint):
    rows = {what: (offset, angle) for what, _, _, offset, angle in trial_settings(joint)}
    corner, wanted = joint.corner, {}
    for what, of in (("lean, for edges and wedges", corner.lean), ("end line", corner.end_line)):
        once = abs(abs(of("tail")) - abs(of("pin"))) < 0.05
        assert (f"both boards: {what}" in rows) == once
        wanted |= {f"both boards: {what}": of("pin")} if once else {
            f"{board} board: {what}": of(board) for board in ("tail", "pin")}
    wanted["both ends: end bevel"] = corner.end_bevel if joint.end == "flush" else 0
    if joint.end == "flush":
        wanted["tail board: lines across its end"] = corner.level_on_flush_end
    for what, angle in wanted.items():
        if abs(angle) < 0.05:
            assert rows[what] == ("square", "–")
        else:
            assert rows[what] == (f"{100 * abs(np.tan(np.radians(angle))):.1f} mm", intended(abs(angle)))
    assert len(rows) == len(trial_settings(joint)) >= len(wanted)


@every_joint
def test_the_first_line_recommends_the_stock_of_the_table(joint):
    told = words_on(laid(joint))
    assert " and ".join(dict.fromkeys(f"{joint.thickness(board):.0f} mm" for board in ("tail", "pin"))) + " thick" in told
    assert f"a box {joint.height:.0f} mm high" in told and f"{joint.end} ends and {joint.tails} tails of 1 in 6." in told
    assert ("easier with" in told) == (joint.tails != 2 or joint.end != "flush") != ("make a first corner easier" in told)
    advice = re.search("easier with (.*?): ", told)
    if advice:
        assert ("2 tails" in advice[1]) == (joint.tails != 2) and ("flush ends" in advice[1]) == (joint.end != "flush")
    assert all(row[3] in told for row in stock(joint))
    assert not any(side.endswith(".0 mm") for row in stock(joint) for side in row)


def test_the_head_says_why_flush_ends_are_easier_and_what_the_mirrored_corner_changes():
    """A flush end's reason stands only where both kinds of end differ, and where it is true; the mirrored corner, with room."""
    swaps, reasons = 0, 0
    for joint in JOINTS:
        told = words_on(laid(joint))
        ends = [Joint(joint.corner, joint.height, joint.tail_thickness, tails=2, end=end) for end in ("flush", "square")]
        fewer = len(ends[0].bevel_settings) < len(ends[1].bevel_settings)
        reason = "A square end is planed after the glue, and the lines across it need settings of their own." in told
        assert reason == (fewer and joint.end == "flush" and joint.tails == 2)
        across = {round(abs(line.from_square), 6) for line in joint.lines_on("tail", "end")}
        assert not reason or across == {round(abs(joint.corner.pin_end_line), 6)}
        swap = re.search("For the mirrored corner swap left and right in steps ([^;]*); no number changes", told)
        assert not swap or re.findall(r"\d+", swap[1]) == [str(number) for number in handed_steps(joint)]
        assert not swap or ("the wedges and their blocks stay as they are" in told) == bool(wedge_pairs(joint))
        swaps, reasons = swaps + bool(swap), reasons + reason
    assert swaps >= 5 and reasons == 2


def test_what_gapes_is_told_as_everywhere_and_in_one_order():
    """The sheet's rows are those of the one list, its wrong end line told apart for the top and for the bottom."""
    for joint in (None, *JOINTS):
        rows = gapes_table(joint).rows
        assert [seen for seen, _ in rows[:8]] == [sign.seen for sign in (LEANS, *SIGNS[:7])] and len(rows) == len(SIGNS) + 2
        assert [seen for seen, _ in rows[12:]] == [sign.seen for sign in SIGNS[9:] if sign is not LEANS]
        assert [seen for seen, _ in rows[8:10]] == [f"A shoulder gapes {face}, the same at top and bottom"
                                                    for face in ("inside", "outside")]
        assert [seen for seen, _ in rows[10:12]] == [f"A shoulder gapes at the {where} only" for where in ("top", "bottom")]
    for sign in (EDGE, SLID):
        assert with_tails(sign) in words_on(laid(JOINTS[0])).replace("  ", " ")
    assert stock_table(JOINTS[0]).rows == stock(JOINTS[0])


def test_the_scrap_of_the_stock_list_takes_what_is_drawn_on_it():
    """Every line and the bevel's stock, from one foot, and it is not much longer."""
    for joint in JOINTS:
        long, high = scrap_size(joint)
        drawn = [np.concatenate([shape.points for shape in frame.shapes if shape.kind != "prop" and shape.name != "scrap"])
                 for frame in frames(joint, 5)]
        widest = max(np.ptp(points[:, 0]) for points in drawn)
        assert widest < long < 2.5 * widest and max(points[:, 1].max() for points in drawn) + 5 < high, joint
        assert f"straight-edged scrap of about {typed(long, 'mm')} × 115 mm" in words_on(laid(joint)).replace("  ", " ")


def test_the_shortcut_is_told_off_only_where_it_misses():
    told = {joint: words_on(laid(joint)) for joint in JOINTS}
    assert "57.7 mm instead of 50.0 mm on both boards" in told[JOINTS[0]]
    assert "instead of" not in told[JOINTS[4]] and "instead of" not in told[JOINTS[5]]


def test_no_trigonometry_and_no_letter_that_is_not_on_the_page():
    for joint in JOINTS:
        told = words_on(laid(joint))
        assert not re.search(r"\b(sin|cos|tan|sine|cosine|tangent)\b", told)
        assert not re.search(r"\b(?:bevel|gauge|setting)s? [A-H]\b", told)
        assert "common practice, with no source" in told.lower()


def test_the_file_reads_back(tmp_path):
    (path,) = save_trial_sheet(tmp_path / "trial.pdf", JOINTS[0], name="locker drawer")
    with PdfDocument(path) as file:
        assert len(file) == 2
        assert file[0].get_width() == pytest.approx(210 / 25.4 * 72, abs=0.01)
    text = " ".join(texts_of(path))
    for words in ("Cut a trial corner", "locker drawer", "page 2 of 2", "50.0 mm", "When the dry fit rocks or gapes",
                  "flat in turn", "pencil line", "Take care:"):
        assert words in text
    assert [text.count(f"{step.number} {step.title}") for step in bench_step_words(JOINTS[0])] == [1] * 11
    svgs = save_trial_sheet(tmp_path / "trial.svg", JOINTS[0], "Letter", "in")
    assert [path.name for path in svgs] == ["trial-1.svg", "trial-2.svg"]


@pytest.mark.parametrize(("change", "words"), [({"paper": "B7"}, "The paper can be"), ({"path": "trial.txt"}, "PDF or SVG"),
                                               ({"name": "x" * 61}, "61 characters")])
def test_what_cannot_be_printed_is_said_in_one_sentence(tmp_path, change, words):
    how = {"path": "trial.pdf", "joint": JOINTS[0]} | change
    with pytest.raises(ValueError, match=words):
        save_trial_sheet(tmp_path / how.pop("path"), **how)
    assert not list(tmp_path.iterdir())
