"""Still pictures of the projection's stages."""

from typing import TYPE_CHECKING, Any

from ..common.boards import BOARDS
from ..common.checks import choice
from ..drawing.still import MovingStill, Still
from .projection_picture import ProjectionPicture
from .projection_words import MARKS, ONTO_PIN, ONTO_TAIL, STAGES, stage_words, why_words

if TYPE_CHECKING:
    from .corner import Corner


def projection_still(corner: "Corner", stage: str = ONTO_PIN, share: float = 1.0, marked: str = "pin",
                     unit: str = "mm") -> Still:
    """One stage of the projection as a `Still`.

    Parameters
    ----------
    corner : Corner
        A scalar corner.
    stage : str
        One of `projection_words.STAGES`, such as "laid flat".
    share : float
        How far the pencil has come, 0 to 1.
    marked : str
        "pin" or "tail": the board that the stages after the marking show.
    unit : str
        "mm" or "in".

    Raises
    ------
    ValueError
        For another stage, or a stage with a bevel where the plan angle isn't 90.

    >>> import splaywork as sw
    >>> print(sw.projection_still(sw.Corner(16, 11)).words.partition(". ")[0])
    Lay the straightedge flat on the tail board's outer face, with its point against the pin board
    """
    picture = ProjectionPicture()
    picture.update(corner, choice("stage", stage, STAGES), share, choice("board", marked, BOARDS), unit=unit)
    words = f"{stage_words(picture.projection, stage, unit)} {why_words(picture.projection, unit)}"
    return Still(lambda: picture.canvas, words)


def projection_moving_still(corner: "Corner", stages: Any = (ONTO_PIN, ONTO_TAIL), marked: str = "pin",
                            frames: int = 12) -> Still:
    """The pencil drawing its line at each of the stages in turn, as a moving `Still`; frames: pictures for each stage.

    The first frame shows the first stage finished. ValueError as `projection_still`.

    >>> import splaywork as sw
    >>> still = sw.projection_moving_still(sw.Corner(16, 11), frames=2)
    >>> still.png[1:4]
    b'PNG'
    """
    stages = [choice("stage", stage, STAGES) for stage in stages]
    picture, drawn, held, words = ProjectionPicture(), [(stages[0], 1.0)], [0], []

    def show(frame):
        picture.update(corner, *frame, marked)
        return picture.canvas

    for number, stage in enumerate(stages):
        drawn += [(stage, step / (frames - 1)) for step in range(frames)]
        held.append(len(drawn) - 1)
        show(drawn[-1])  # which refuses what can't be drawn, and whose projection the words are about
        words.append(stage_words(picture.projection, stage, again=bool({*stages[:number]} & {*MARKS})))
    return MovingStill(show, " ".join(words), drawn, held)
