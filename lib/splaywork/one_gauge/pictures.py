"""The pictures of what the one-gauge shortcut does, by name, and each as a still.

Every one has `update(corner, unit, …)`, `words(corner, unit, …)` with the same arguments, `png()`, WIDTH and HEIGHT.
"""

from ..common import checks
from ..corner.stills import Still
from .close_corners_picture import CloseCornersPicture
from .go_round_picture import GoRoundPicture
from .hold_leans_picture import HoldLeansPicture
from .level_lines_picture import LevelLinesPicture
from .winding_picture import WindingPicture

PICTURES = {
    "hold the leans": HoldLeansPicture,
    "close the corners": CloseCornersPicture,
    "go round": GoRoundPicture,
    "wind the sides": WindingPicture,
    "level lines": LevelLinesPicture,
}


def picture_of(consequence):
    """The class of the picture; ValueError for a name that is not in PICTURES."""
    return PICTURES[checks.choice("picture", consequence, tuple(PICTURES))]


def one_gauge_still(consequence, corner, **sizes):
    """The picture of `PICTURES[consequence]` for a scalar corner, as a `Still`; sizes as its `update` takes them."""
    picture = picture_of(consequence)()
    picture.update(corner, **sizes)
    return Still(picture.png(), picture.words(corner, **sizes))
