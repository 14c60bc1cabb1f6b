"""The bench steps of a notebook: of eleven, those that a page shows are drawn."""

import pytest
from benches import JOINTS
from splaywork import bench_steps
from splaywork.joint.bench_sketch_picture import Sketch


@pytest.fixture
def drawn(monkeypatch):
    """What was drawn on a sketch, one entry for each time."""
    sketched, draw = [], Sketch.draw
    monkeypatch.setattr(Sketch, "draw", lambda sketch, *shown: sketched.append(shown) or draw(sketch, *shown))
    return sketched


def test_a_step_is_drawn_when_it_is_looked_at_and_once(drawn):
    steps = bench_steps(JOINTS[0])
    assert [repr(step) for step in steps] == [step.words for step in steps] and not drawn
    assert steps[3].png == steps[3].canvas.png() and len(drawn) == 1


def test_a_wrong_unit_is_refused_before_anything_is_drawn(drawn):
    with pytest.raises(ValueError, match="The unit can be 'mm', 'in'"):
        bench_steps(JOINTS[0], "yd")
    assert not drawn
