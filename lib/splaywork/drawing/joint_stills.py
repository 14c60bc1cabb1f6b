"""Still pictures of a joint: whole, and stage by stage from two boards to a corner that is together."""

from ..gauge_words import gauge_words
from ..words import capital
from .canvas import Canvas
from .joint_picture import JointPicture, JointView, kind_of
from .pieces import free_at
from .stills import Still


def _nothing(joint):
    return []


def _first_lines(joint):
    """End and gauge lines of both boards, and the tails on the tail board."""
    return [line for line in joint.lines if line.board == "tail"] + _pin_end_lines(joint)


def _pin_end_lines(joint):
    return [line for line in _pin_lines(joint) if kind_of(line) not in ("cheek", "scribed")]


def _pin_lines(joint):
    return [line for line in joint.lines if line.board == "pin"]


# name: what is said of it, how far drawn apart in shares of what sets the boards free, boards cut, lines on the rest
STAGES = {
    "standing": ("both boards stand at their leans, sawn to length", 2.4, 0, _nothing),
    "struck": ("end lines and gauge lines are struck on both, the tails on the tail board", 2.4, 0, _first_lines),
    "tails cut": ("the tails are sawn and chopped", 2.4, 1, _pin_end_lines),
    "pins scribed": ("the pins are scribed on the end from the tails, and struck level down the faces", 2.4, 1,
                     _pin_lines),
    "pulled apart": ("the pins are cut, and the pin board waits to be pushed in, level", 1.0, 2, _nothing),
    "together": ("the pin board has gone home along the level entry", 0.0, 2, _nothing),
}


def joint_still(joint, turn=15.0, tilt=25.0, apart=0.0, unit="mm"):
    """The picture of `JointPicture.update` as a `Still`."""
    picture = JointPicture()
    picture.update(joint, turn, tilt, apart, unit)
    return Still(picture.png(), gauge_words(joint, unit))


def stages_still(joint, stages, turn=0.0, tilt=30.0):
    """Stages of a joint side by side: up to three of the names in `STAGES`, seen from the same side."""
    stages = tuple(stages)
    if not 1 <= len(stages) <= 3 or not set(stages) <= set(STAGES):
        raise ValueError(f"Give one to three of the stages {', '.join(STAGES)}, not {', '.join(map(str, stages))}.")
    canvas = Canvas(920, 270)
    wide = canvas.width / len(stages)
    for number, stage in enumerate(stages):
        _, share, boards_cut, lines = STAGES[stage]
        left = wide * number
        canvas.text(left + wide / 2, 252, stage.capitalize(), size=11, weight="bold", align="center")
        view = JointView(canvas, (left + 6, 6, left + wide - 6, 244))
        view.update(joint, turn, tilt, share * free_at(joint), boards_cut, lines(joint))
    words = "; ".join(f"{stage}: {STAGES[stage][0]}" for stage in stages)
    return Still(canvas.png(), f"{capital(words)}.")
