"""The paper model folding: both nets of a box, from flat paper to the boxes that they close into, as a moving picture."""

import numpy as np

from ..common import checks
from ..common.printing import length
from ..drawing.canvas import Canvas
from ..drawing.palette import INK, PIN, PIN_INNER, SHORTCUT, TAIL, TAIL_INNER
from ..drawing.scene import Facet, Scene, facets
from ..drawing.still import MovingStill, Still
from ..drawing.view import View, fit
from .box import Box
from .paper_model import PaperModel

WIDE, HIGH = 920, 300  # pixels
FRAMES = ((12, 10, 452, 262), (468, 10, 908, 262))
SEEN = View(-62.0, 30.0)  # from before the front, a little to its right
OUTSIDE, INSIDE = [PIN, TAIL, PIN, TAIL], [PIN_INNER, TAIL_INNER, PIN_INNER, TAIL_INNER]  # front, right, back, left


def both_sides(faces: np.ndarray) -> list[Facet]:
    """Facets of four sheets of paper (4, 4, 3) in the colours of their outsides and of their insides."""
    return [*facets(faces, OUTSIDE), *facets(faces[:, ::-1], INSIDE)]


class _Folding:
    """One net in a frame of a canvas, folded by a share, 0 to 1, of its folds."""

    def __init__(self, canvas, net, frame, title, colour):
        self.net, self._frame, self._scene = net, frame, Scene(canvas)
        self._every = SEEN.flat([net.folded(share * net.folds)[:4] for share in np.linspace(0, 1, 9)]).reshape(-1, 2)
        canvas.text(frame[0], HIGH - 22, title, weight="bold", size=11, colour=colour)

    def fits(self, largest: float) -> tuple:
        """(scale, shift) at which it stays in its frame however far it is folded, no larger than `largest` pixels to the mm."""
        return fit(self._every, self._frame, largest)

    def update(self, share: float, scale: float) -> None:
        """Draw it folded by a share of its folds."""
        faces, (scale, shift) = self.net.folded(share * self.net.folds)[:4], self.fits(scale)
        self._scene.update(both_sides(faces), SEEN, lambda points: SEEN.flat(points) * scale + shift)


def paper_model_still(box: Box, exaggerate: float = 1.0, frames: int = 16) -> Still:
    """Both nets of a box's paper model folding shut side by side, as a moving `Still`; its first frame shows them shut.

    Parameters
    ----------
    box : Box
        Lengths in mm.
    exaggerate : float
        Times the leans, 1 or more, so that the two boxes can be told apart.
    frames : int
        Pictures from flat to shut, 2 to 39.

    Raises
    ------
    ValueError
        For a box whose shortcut lines cross below a top, and for numbers out of these bounds.

    >>> import splaywork as sw
    >>> still = sw.paper_model_still(sw.Box(400, 300, 120, left_lean=11), frames=2)
    >>> print(still.words.partition(". ")[0])
    Two paper nets of one box fold shut
    """
    model = PaperModel.of(box, exaggerate)
    canvas = Canvas(WIDE, HIGH)
    nets = ((model.projected, "true end lines", INK), (model.one_gauge, "shortcut lines", SHORTCUT))
    folding = [_Folding(canvas, net, frame, f"{title}: {length(net.heights[0])} high", colour)
               for (net, title, colour), frame in zip(nets, FRAMES, strict=True)]
    scale = min(each.fits(1.5)[0] for each in folding)  # one for both: the lower box is seen to be lower

    def show(share):
        for each in folding:
            each.update(share, scale)
        return canvas

    shares = [1.0, *np.linspace(0, 1, checks.count("number of frames", frames, 2, 39))]
    return MovingStill(show, _words(model), shares, held=(0, 1, len(shares) - 1))


def _words(model):
    """What the two nets fold into."""
    net = model.one_gauge
    said = ("Two paper nets of one box fold shut. On the left the ends follow the true end lines: the box stands "
            f"{length(model.height)} high. On the right the ends follow the shortcut lines:")
    if net.closes:
        return f"{said} that box closes too, and stands {length(net.heights[0])} high."
    bottom, top = map(length, net.misses)
    return f"{said} the last edge misses the first by {bottom} at the bottom and {top} at the top."
