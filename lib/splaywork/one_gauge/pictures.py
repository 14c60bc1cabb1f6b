"""The pictures of what the one-gauge shortcut does, by name, and each as a still.

Every one has `update(corner, unit, …)`, `words(corner, unit, …)` with the same arguments, `png()`, WIDTH and HEIGHT.
"""

from typing import Any

from ..common import checks
from ..common.printing import degrees, length
from ..corner.corner import Corner
from ..drawing.still import MovingStill, Still
from .close_corners_picture import CloseCornersPicture
from .go_round_picture import GoRoundPicture
from .hold_leans_picture import HoldLeansPicture
from .level_lines_picture import LevelLinesPicture
from .one_gauge import MOST_LEAN, OneGauge
from .winding_picture import WindingPicture

PICTURES = {
    "hold the leans": HoldLeansPicture,
    "close the corners": CloseCornersPicture,
    "go round": GoRoundPicture,
    "wind the sides": WindingPicture,
    "level lines": LevelLinesPicture,
}


def picture_of(consequence: str) -> type:
    """The class of the picture; ValueError for a name that is not in PICTURES."""
    return PICTURES[checks.choice("picture", consequence, tuple(PICTURES))]


def one_gauge_still(consequence: str, corner: Corner, **sizes: Any) -> Still:
    """The picture of `PICTURES[consequence]` for a scalar corner, as a `Still`; sizes as its `update` takes them.

    >>> import splaywork as sw
    >>> print(sw.one_gauge_still("hold the leans", sw.Corner(28, 24)).words.partition(". ")[0])
    Hold the boards at their intended leans, 28° and 24°, in a box 120 mm high
    """
    picture = picture_of(consequence)()
    picture.update(corner, **sizes)
    return Still(lambda: picture.canvas, picture.words(corner, **sizes))


# Of both boards: to the picture frame, upright, and up again by leans that were drawn on the way down.
LEANS_SHOWN = (40, 42, *range(45, -1, -3), *range(3, 40, 6))


def closing_corners_still(height: float = 120.0, unit: str = "mm") -> Still:
    """A moving `Still` of "close the corners", both boards leaning equally, from 40° to 45, down to 0 and up again.

    height: of the intended box, vertical, mm; unit: to write lengths in.

    >>> import splaywork as sw
    >>> print(sw.closing_corners_still(height=120).words.partition(". ")[0])
    Suppose that the intended lean of both boards is 40°
    """
    height, picture = checks.size("height", height), picture_of("close the corners")()

    def show(lean):
        picture.update(Corner(lean, lean), unit, height, fit=lean == LEANS_SHOWN[0])
        return picture.canvas

    closed = OneGauge(Corner(40, 40))
    leans, sinks = degrees(closed.closed_lean("tail")), length(height * closed.height_factor, unit)
    words = (f"Suppose that the intended lean of both boards is 40°. With shortcut ends the boards really lean {leans}, and "
             f"the box is {sinks} high instead of {length(height, unit)}. At {MOST_LEAN:g}° nothing is left of the height: "
             "the four boards lie flat, like a picture frame.")
    return MovingStill(show, words, LEANS_SHOWN, held=[LEANS_SHOWN.index(lean) for lean in (40, 45, 0)])
