"""The cut list of a regular box: every set-up of the saw gives the solid's own planes."""

import numpy as np
import pytest
from saw import blade, lying
from splaywork.box.regular import RegularBox


def plane_of(corners):
    """Unit normal of a flat face, out of the wood."""
    normal = np.cross(corners[1] - corners[0], corners[2] - corners[0])
    return normal / np.linalg.norm(normal)


@pytest.mark.parametrize("saw_tilts", ["left", "right"])
@pytest.mark.parametrize("lean", [0, 12, -15, 35])
@pytest.mark.parametrize("sides", [3, 4, 6, 8])
def test_every_mitre_and_edge_is_the_solids_plane(sides, lean, saw_tilts):
    box = RegularBox(sides, 300, 80, lean=lean, thickness=10)
    made = box.cut_list(saw_tilts)
    block = box.boards[0]
    faces = {name: plane_of(corners) for name, corners in zip(block.names, block.faces, strict=True)}
    right, out = np.array([1.0, 0, 0]), faces["outer"]
    axes = np.array([right, np.cross(out, right), out])
    names = {"bottom edge": "bottom", "top edge": "top", "left end": "left end", "right end": "right end"}
    seen = 0
    for step in made.saw_order:
        for cut in step.cuts:
            sawn = (lying(step, cut) @ (blade(step) * (-1 if cut.kept == "right" else 1))) @ axes
            true = faces[names[cut.where]]
            assert np.degrees(np.arctan2(np.linalg.norm(np.cross(sawn, true)), sawn @ true)) <= 0.05, (step.words, cut)
            seen += 1
    assert seen == 4 and sum(step.count for step in made.saw_order) == 4 * sides
    # four boards of a hopper that leans nowhere: mitres of 45, edges square
    if (sides, lean) == (4, 0):
        assert [step.blade_tilt for step in made.saw_order if step.kind == "crosscut"] == pytest.approx([45])


def test_its_list_reads_and_shows_itself():
    made = RegularBox(6, 120, 60, lean=20).cut_list()
    (row,) = made.rows()
    assert row["quantity"] == "6" and row["left end line (°)"].startswith("+")
    assert float(row["outer length, top (mm)"]) > float(row["outer length, bottom (mm)"])
    assert "<table" in made._repr_html_() and repr(made) == "CutList(every × 6, 3 saw settings)"
    assert "The first board and others are equal. Make 6." in made._repr_html_()
    (left, right), board = made.boards[0].diagonals, made.boards[0]
    assert left == pytest.approx(right)
    foot, head = board.outer_bottom, board.outer_top
    assert left == pytest.approx(np.hypot((foot + head) / 2, board.slant_width))
    with pytest.raises(ValueError, match="way that the saw tilts can be"):
        RegularBox(6, 120, 60).cut_list("up")
