"""The drawing of the bench on a lesson's pages: the kit's sizes, to scale, each word clear of the others."""

from itertools import combinations
from math import cos, radians

import numpy as np
import pytest
from splaywork import Corner, Joint, lesson_sheet, script
from splaywork.box.paper_model import PaperModel
from splaywork.box.paper_model_sheets import paper_model
from splaywork.common.wedges import wedge_side
from splaywork.corner.projection import point_angles
from splaywork.drawing.paper import Area, Label
from splaywork.joint.bench_setups import runs_past
from splaywork.one_gauge.hold_leans_picture import HoldLeansPicture
from splaywork.teaching.bench_setup_sheet import CORNERS, END, PAPER_SCALE, PAST, PLAN, TALL, bench_setup, things
from splaywork.teaching.kit_sheets import KITS, LONG, ROOM, THICK, paper_box

WIDE = 188.0  # mm that the page of a lesson has


@pytest.mark.parametrize("notebook", CORNERS)
def test_all_lies_within_its_place_and_no_word_on_another(notebook):
    items = bench_setup(notebook)
    points = np.concatenate([item.points for item in items])
    assert (points.min(axis=0) > [-0.5, -TALL]).all() and (points.max(axis=0) < [WIDE, 0.5]).all()
    words = [item.points for item in items if isinstance(item, Label)]
    for one, other in combinations(words, 2):
        assert (one.max(axis=0) < other.min(axis=0) + 0.4).any() or (other.max(axis=0) < one.min(axis=0) + 0.4).any()
    assert len(words) >= 13


@pytest.mark.parametrize("notebook", CORNERS)
def test_boards_and_wedges_have_the_sizes_of_the_kit(notebook):
    (leans,) = KITS[notebook].room
    items = bench_setup(notebook)
    told = " ".join(item.text for item in items if isinstance(item, Label))
    for lean in leans:
        assert f"{lean}°" in told and f"{LONG:.1f} × {ROOM / cos(radians(lean)):.1f} × {THICK:.1f} mm" in told
    areas = [item for item in items if isinstance(item, Area)]
    inner = {item.name: item.points / PLAN for item in areas if item.kind.endswith("inner")}
    for board, lean in zip(("tail", "pin"), leans, strict=True):  # from the bottom edge to the top edge, level
        start, stop, top = inner[f"{board} board"][:3]
        along = (stop - start) / np.linalg.norm(stop - start)
        assert abs(along[0] * (top - start)[1] - along[1] * (top - start)[0]) == pytest.approx(ROOM * np.tan(radians(lean)))
    wedges = [item.points for item in areas if item.name == "wedge"][-2:]
    for outline in wedges:  # from their end: one as it stands, one upside down
        assert np.ptp(outline, axis=0) / END == pytest.approx(np.ptp(wedge_side(leans[0], ROOM), axis=0))
    assert wedges[0][1, 0] > wedges[1][1, 0] and wedges[0][:, 1].min() == wedges[1][:, 1].min()


def test_what_is_sawn_and_held_before_04_is_so():
    """The straightedge's points, as the bench steps work them out; the bevel fits the wedge, and then a board's end."""
    told = " ".join(script("04").beforehand)
    joint = Joint(Corner(30, 30), ROOM, THICK)
    assert f"{point_angles(joint.corner)[0]:.0f}° out of square" in told and len(set(point_angles(joint.corner))) == 1
    assert PAST == LONG / 2 > runs_past(joint, "pin") and "Half of PIN runs past TAIL" in told
    foot, far, _, top = wedge_side(30, ROOM)
    on_wedge = angle_between(far - foot, top - foot)  # thick end, and slope
    face = joint.corner.vector("pin_up")
    assert joint.corner.vector("pin_normal")[2] < 0  # it overhangs: the stock lies on the bench outside it
    assert on_wedge == pytest.approx(angle_between(joint.corner.vector("pin_normal") * (1, 1, 0), face)) == pytest.approx(60)
    assert face @ joint.corner.vector("pin_level") == pytest.approx(0)  # so the angle is seen whole from the board's end


def angle_between(one, other):
    return np.degrees(np.arccos(one @ other / np.linalg.norm(one) / np.linalg.norm(other)))


def test_the_corner_of_07_lies_as_on_the_screen():
    """It points at the class, below; PIN on the class's left, TAIL on its right, both as long as the kit has them."""
    areas = {item.kind: item.points for item in bench_setup("07") if isinstance(item, Area) and "board" in item.name}
    tail, pin = areas["tail inner"], areas["pin inner"]
    assert pin[1, 0] < pin[0, 0] < tail[1, 0] and tail[1, 1] > tail[0, 1] and pin[1, 1] > pin[0, 1]
    for board in (tail, pin):
        assert np.linalg.norm(board[1] - board[0]) / PLAN == pytest.approx(LONG)
    picture = HoldLeansPicture()
    picture.update(Corner(28, 24))
    assert picture.corner._names["pin"].get_position()[0] < picture.corner._names["tail"].get_position()[0]


def test_each_paper_box_stands_between_its_own_wedges_beside_the_strip():
    """As printed on A4: the scale, the bottoms, how far the rims reach; 40 on the class's left; nothing on another thing."""
    beside = paper_model(paper_box(), held=True)[0]
    assert f"Scale 1 : {PAPER_SCALE:g}:" in beside.notes[0]
    boxes = {thing.what: thing for thing in things("07") if thing.what.isdecimal()}
    (strip,) = [thing for thing in things("07") if not thing.what]
    model, spans = PaperModel.of(paper_box()), []
    for what, net in (("40", model.projected), ("57", model.one_gauge)):
        thing, folded = boxes[what], net.folded()[:4]
        assert f"{net.leans[0, 0]:.0f}" == what and "Write 40" in script("07").beforehand[2]
        rim, bottom = np.array(thing.outline), np.array(thing.lines[0])
        assert np.ptp(rim[:, 0]) == pytest.approx(np.ptp(folded[:, 2:, 0]) / PAPER_SCALE)
        assert np.ptp(bottom[:, 0]) == pytest.approx(paper_box().outer_length("front") / PAPER_SCALE)
        wedges = [np.array(line) for line in thing.lines[-2:]]
        assert sorted(np.sign(wedge[1, 0]) for wedge in wedges) == [-1, 1]
        spans.append([thing.at[0] + reach * PLAN for reach in (wedges[0][1, 0], wedges[1][1, 0])])
    assert spans[0][1] < strip.at[0] < spans[1][0]


def test_what_is_drawn_is_what_lies_ready():
    for notebook, named in (("04", ("straightedge", "rule", "try square", "bevel", "pencil", "clamp")),
                            ("07", ("bevel", "height strip", "white card", "clamp"))):
        told = " ".join(item.text for item in bench_setup(notebook) if isinstance(item, Label))
        assert all(thing in told and thing in script(notebook).props for thing in named)
    assert bench_setup("05") == [] and len(lesson_sheet("04")) == len(lesson_sheet("07")) == 2
