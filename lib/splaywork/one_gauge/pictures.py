"""The pictures of what the one-gauge shortcut does, by name, and each as a still.

Every one has `update(corner, unit, …)`, `words(corner, unit, …)` with the same arguments, `png()`, WIDTH and HEIGHT.
"""

from ..corner.stills import Still
from .close_corners_picture import CloseCornersPicture
from .go_round_picture import GoRoundPicture
from .hold_leans_picture import HoldLeansPicture
from .level_line_picture import BenchRulePicture
from .winding_picture import WindingPicture

PICTURES = {
    "hold the leans": HoldLeansPicture,
    "close the corners": CloseCornersPicture,
    "go round": GoRoundPicture,
    "wind the sides": WindingPicture,
    "bench rule": BenchRulePicture,
}


def picture_of(consequence):
    """The class of the picture; ValueError for a name that is not in PICTURES."""
    if consequence not in PICTURES:
        raise ValueError(f"There is no picture of {consequence!r}: choose {', '.join(map(repr, PICTURES))}.")
    return PICTURES[consequence]


def one_gauge_still(consequence, corner, **sizes):
    """The picture of `PICTURES[consequence]` for a scalar corner, as a `Still`; sizes as its `update` takes them."""
    picture = picture_of(consequence)()
    picture.update(corner, **sizes)
    return Still(picture.png(), picture.words(corner, **sizes))
