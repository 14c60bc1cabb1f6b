"""Still pictures of a joint: whole, one tail by itself, and stage by stage from two boards to a corner together."""

from collections.abc import Sequence

import numpy as np

from ..common import checks
from ..corner.picture import FACE_NAMES
from ..corner.words import capital, from_square
from ..drawing.canvas import Canvas
from ..drawing.palette import GUIDE
from ..drawing.still import MovingStill, Still
from ..drawing.view import fit
from .joint import Joint
from .picture import JOINT_FILLS, STYLES, JointPicture, JointView, kind_of, laid_flat
from .pieces import free_at
from .settings_words import bevel_words


def _nothing(joint):
    return []


def _end_lines(joint):
    return [line for line in joint.lines if line.name == "end line"]


def _first_lines(joint):
    """End and baselines of both boards, and the tails on the tail board."""
    return [line for line in joint.lines if line.board == "tail"] + _pin_end_lines(joint)


def _pin_end_lines(joint):
    return [line for line in _pin_lines(joint) if kind_of(line) not in ("cheek", "scribed")]


def _pin_lines(joint):
    return [line for line in joint.lines if line.board == "pin"]


CENTRE = (GUIDE, 1.3, (0, (8, 2, 1.5, 2)))  # colour, points, dash: the level centre line of a tail

# name: what is said of it, how far drawn apart in shares of what sets the boards free, boards cut, lines on the rest
STAGES = {
    "standing": ("both boards stand at their leans; the end lines are struck and the ends sawn", 2.4, 0, _end_lines),
    "struck": ("baselines are struck on both, the tails on the tail board", 2.4, 0, _first_lines),
    "tails cut": ("the tails are sawn and chopped", 2.4, 1, _pin_end_lines),
    "pins scribed": ("the pins are scribed on the end from the tails, and struck level down the faces", 2.4, 1,
                     _pin_lines),
    "pulled apart": ("the pins are cut; now push the pin board in, level, along its own length", 1.0, 2, _nothing),
    "together": ("the joint is closed", 0.0, 2, _nothing),
}


def joint_still(joint: Joint, turn: float = 15.0, tilt: float = 25.0, apart: float = 0.0, unit: str = "mm") -> Still:
    """The picture of `JointPicture.update` as a `Still`.

    >>> import splaywork as sw
    >>> joint = sw.Joint(sw.Corner(16, 11), height=120, tail_thickness=18, tails=3)
    >>> print(sw.joint_still(joint).words.partition(". ")[0])
    The lines of this joint need three bevel settings
    """
    checks.instance("joint", joint, Joint, "Joint(Corner(16, 11), height=120, tail_thickness=12)")
    turn = checks.number("turn", turn)
    tilt = checks.number("tilt", tilt)
    apart = checks.number("apart", apart)
    picture = JointPicture()
    picture.update(joint, turn, tilt, apart, unit)
    return Still(lambda: picture.canvas, bevel_words(joint, unit))


def joint_moving_still(joint: Joint, turn: float = 15.0, tilt: float = 25.0, unit: str = "mm", frames: int = 14) -> Still:
    """The joint pulled apart along the level entry and pushed home again, as a moving `Still`.

    The first frame shows it together. frames: pictures on the way out, 2 to 20. Of many tails the file may be too large,
    which its `png` refuses.
    """
    checks.instance("joint", joint, Joint, "Joint(Corner(16, 11), height=120, tail_thickness=12)")
    turn, tilt = checks.number("turn", turn), checks.number("tilt", tilt)
    shares = [*np.linspace(0, 1, checks.count("number of frames", frames, 2, 20))]
    picture = JointPicture()

    def show(share):
        picture.update(joint, turn, tilt, 1.2 * share * free_at(joint), unit)
        return picture.canvas

    words = f"The pin board is pulled out level, along its own length, and pushed home again. {bevel_words(joint, unit)}"
    return MovingStill(show, words, [*shares, *shares[-2:0:-1]], held=(0, len(shares) - 1))


def tail_still(joint: Joint) -> Still:
    """The tail board's outer face by its sawn end, laid flat: its tails, and the level centre line of each.

    >>> import splaywork as sw
    >>> joint = sw.Joint(sw.Corner(16, 11), height=120, tail_thickness=18, tails=3)
    >>> print(sw.tail_still(joint).words.partition(". ")[0])
    The tail board's end line is 10.6° from square
    """
    checks.instance("joint", joint, Joint, "Joint(Corner(16, 11), height=120, tail_thickness=12)")
    canvas = Canvas(920, 210)
    end_line, slope = joint.corner.tail_end_line, f"1 in {joint.tail_slope:g}"
    _, blank, pieces, struck = laid_flat(joint, "tail", "outer")
    scale, shift = fit(blank, (16, 12, 296, 198), largest=2.6)
    canvas.waste().set_verts([blank * scale + shift])
    canvas.polygons(fill=JOINT_FILLS["tail"]["outer"]).set_verts([piece * scale + shift for piece in pieces])
    cheeks = np.array([line for kind, line in struck if kind == "cheek"])
    along, up = np.moveaxis(cheeks[:, 1] - cheeks[:, 0], -1, 0)
    at_foot = cheeks[:, 0, 1] - cheeks[:, 0, 0] * up / along  # where each cheek, drawn on, passes above the corner's foot
    heights = at_foot.reshape(-1, 2).mean(axis=1)  # cheeks come in pairs, and the two of a tail spread equally
    centres = np.array([[[blank[:, 0].min(), height], [blank[:, 0].max(), height]] for height in heights])
    kinds = {kind: [line for name, line in struck if name == kind] for kind in ("cheek", "baseline", "end line")}
    rows = [("end line", f"end line: {from_square(end_line)}"), ("centre", "centre line: level, parallel to the bottom edge"),
            ("cheek", f"cheeks: {slope} from the level line, to either side"),
            ("baseline", "baseline: parallel to the end line")]
    canvas.text(330, 172, FACE_NAMES["tail"], weight="bold", size=11)
    for row, (kind, text) in reversed([*enumerate(rows)]):  # the end line on top
        colour, width, dash = STYLES.get(kind, CENTRE)
        y = 144 - 28 * row
        canvas.text(376, y, text)
        lines = kinds.get(kind, centres)
        segments = [*(np.asarray(line) * scale + shift for line in lines), np.array([[330, y + 4], [366, y + 4]])]
        canvas.lines(colour, width, dash, edged=colour == GUIDE).set_segments(segments)
    words = (f"The tail board's end line is {from_square(end_line)}. Each tail's centre line is level. The two cheeks spread "
             f"equally from the centre line, {slope}.")
    return Still(lambda: canvas, words)


def stages_still(joint: Joint, stages: Sequence[str], turn: float = 0.0, tilt: float = 30.0) -> Still:
    """Stages of a joint side by side: up to three of the names in `STAGES`, seen from the same side.

    >>> import splaywork as sw
    >>> joint = sw.Joint(sw.Corner(16, 11), height=120, tail_thickness=18, tails=3)
    >>> print(sw.stages_still(joint, ("together",)).words.partition(". ")[0])
    Together: the joint is closed.
    """
    checks.instance("joint", joint, Joint, "Joint(Corner(16, 11), height=120, tail_thickness=12)")
    turn, tilt = checks.number("turn", turn), checks.number("tilt", tilt)
    names = [str(stage) for stage in stages] if isinstance(stages, list | tuple) else []
    if not 1 <= len(names) <= 3 or not set(names) <= set(STAGES):
        given = ", ".join(names) or checks.shown(stages)
        raise ValueError(f"Give one to three of the stages {', '.join(STAGES)}, not {given}.")
    canvas = Canvas(920, 270)
    wide = canvas.width / len(stages)
    for number, stage in enumerate(stages):
        _, share, boards_cut, lines = STAGES[stage]
        left = wide * number
        canvas.text(left + wide / 2, 252, stage.capitalize(), size=11, weight="bold", align="center")
        view = JointView(canvas, (left + 6, 6, left + wide - 6, 244))
        view.update(joint, turn, tilt, share * free_at(joint), boards_cut, lines(joint))
    words = " ".join(f"{capital(stage)}: {STAGES[stage][0]}." for stage in stages)
    return Still(lambda: canvas, words)
