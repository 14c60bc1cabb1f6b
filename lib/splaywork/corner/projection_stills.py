"""Still pictures of the projection's stages."""

from ..common.boards import BOARDS
from ..common.checks import choice
from .projection_picture import ProjectionPicture
from .projection_words import ONTO_PIN, STAGES, stage_words, why_words
from .stills import Still


def projection_still(corner, stage=ONTO_PIN, share=1.0, marked="pin", unit="mm"):
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
    """
    picture = ProjectionPicture()
    picture.update(corner, choice("stage", stage, STAGES), share, choice("board", marked, BOARDS), unit=unit)
    words = f"{stage_words(picture.projection, stage, unit)} {why_words(picture.projection, unit)}"
    return Still(picture.png(), words)
