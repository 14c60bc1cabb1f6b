"""A still is drawn when it is first looked at, and once."""

import pytest
from splaywork import (
    Box,
    Corner,
    Joint,
    closing_corners_still,
    corner_still,
    lean_dragged_still,
    paper_model_still,
    projection_moving_still,
    save_figure,
    tail_still,
)
from splaywork.drawing.canvas import Canvas
from splaywork.drawing.still import MovingStill, Still
from splaywork.joint.stills import joint_moving_still

CORNER = Corner(16, 11)
JOINT = Joint(CORNER, height=120, tail_thickness=18, tails=3)
STILLS = {
    "corner": (lambda: corner_still(CORNER), 1), "tail": (lambda: tail_still(JOINT), 1),
    "dragged": (lambda: lean_dragged_still(CORNER, step=8), 3),  # three, and the middle one again
    "projected": (lambda: projection_moving_still(CORNER, frames=2), 4),
    "closing": (closing_corners_still, 17),
    "pulled apart": (lambda: joint_moving_still(JOINT, frames=2), 2),
    "paper": (lambda: paper_model_still(Box(400, 300, 120, left_lean=11), frames=2), 2),
}


@pytest.fixture
def drawn(monkeypatch):
    """The canvases that were turned into pixels, one for each time."""
    canvases, image = [], Canvas.image
    monkeypatch.setattr(Canvas, "image", lambda canvas: canvases.append(canvas) or image(canvas))
    return canvases


@pytest.mark.parametrize("name", STILLS)
def test_a_still_is_drawn_when_it_is_looked_at_and_each_frame_once(name, drawn):
    make, frames = STILLS[name]
    still = make()
    assert repr(still) == still.words and not drawn
    bundle, _ = still._repr_mimebundle_()
    assert bundle["image/png"] is still.png is still._repr_png_()[0] and len(drawn) == frames


def test_a_moving_still_s_lines_are_saved_of_its_first_frame_without_the_others(drawn, tmp_path):
    still = lean_dragged_still(CORNER, step=8)
    save_figure(tmp_path / "before.svg", still)
    assert not drawn and still.png
    save_figure(tmp_path / "after.svg", still)
    assert (tmp_path / "before.svg").read_bytes() == (tmp_path / "after.svg").read_bytes()


def test_what_a_still_is_drawn_on_is_made_once():
    made = []
    still = Still(lambda: made.append(Canvas(40, 30)) or made[-1], "A blank.")
    assert not made
    assert still.png == still.canvas.png() and still.canvas is made[0] and len(made) == 1


def test_too_many_frames_are_refused_before_any_is_drawn(drawn):
    with pytest.raises(ValueError, match="at most 40 frames, and these are 41"):
        MovingStill(lambda _: Canvas(40, 30), "A blank.", [0] * 41)
    assert not drawn
