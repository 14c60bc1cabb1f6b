"""The drawing of the bench on a lesson's pages: the kit's sizes, to scale, each word clear of the others."""

from itertools import combinations
from math import cos, radians

import numpy as np
import pytest
from splaywork import lesson_sheet, script
from splaywork.common.wedges import wedge_side
from splaywork.drawing.paper import Area, Label
from splaywork.teaching.bench_setup_sheet import END, PLAN, TALL, THINGS, bench_setup
from splaywork.teaching.kit_sheets import KITS, LONG, ROOM, THICK

WIDE = 188.0  # mm that the page of a lesson has


@pytest.mark.parametrize("notebook", THINGS)
def test_all_lies_within_its_place_and_no_word_on_another(notebook):
    items = bench_setup(notebook)
    points = np.concatenate([item.points for item in items])
    assert (points.min(axis=0) > [-0.5, -TALL]).all() and (points.max(axis=0) < [WIDE, 0.5]).all()
    words = [item.points for item in items if isinstance(item, Label)]
    for one, other in combinations(words, 2):
        assert (one.max(axis=0) < other.min(axis=0) + 0.4).any() or (other.max(axis=0) < one.min(axis=0) + 0.4).any()
    assert len(words) >= 13


@pytest.mark.parametrize("notebook", THINGS)
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


def test_what_is_drawn_is_what_lies_ready():
    for notebook, named in (("04", ("straightedge", "rule", "try square", "bevel", "pencil", "clamp")),
                            ("07", ("bevel", "height strip", "white card", "clamp"))):
        told = " ".join(item.text for item in bench_setup(notebook) if isinstance(item, Label))
        assert all(thing in told and thing in script(notebook).props for thing in named)
    assert bench_setup("05") == [] and len(lesson_sheet("04")) == len(lesson_sheet("07")) == 2
