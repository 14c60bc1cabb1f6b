"""What else a box needs: a level bottom panel in its grooves, wedge cauls to glue it up, offcuts for trial corners."""

import math
from dataclasses import dataclass

import numpy as np

from ..common import checks
from ..common.planes import meet_all
from ..corner.stubs import rims
from ..formulas.derivation import H, numeric, p, t
from ..joint.lines import SAME
from .box import END_CORNERS, NAMES, TAILS_ON, Box, neighbours


def _level(thickness, lean):
    """Level distance through a thickness that is square to faces of that lean (degrees), mm."""
    return float(numeric("level_thickness", t, p)(thickness, math.radians(lean)))


def _up_face(height, lean):
    """Distance up a face of that lean (degrees) for a vertical height, mm."""
    return float(numeric("slant_width", H, p)(height, math.radians(lean)))


@dataclass(frozen=True)
class Groove:
    """The level groove in the inner face of one board; lengths in mm.

    up_face: from the inner arris of the bottom rim up the face to the groove's lower wall. width: up the face. depth:
    square to the face. wall_angle: degrees that its walls stand out of square to the inner face, signed as the lean:
    positive where they rise, as seen on the board, on their way into the wood. past_baselines: (left, right), how far
    it runs on past the baselines, level, to take the panel's corners; stopped there it doesn't come out of the ends.
    """

    board: str
    up_face: float
    width: float
    depth: float
    wall_angle: float
    past_baselines: tuple


@dataclass(frozen=True)
class BottomPanel:
    """A level bottom panel; lengths in mm, with its play taken off.

    below, above: (width, depth) of its lower and upper face. edge_bevels: board -> degrees that the edge in that board's
    groove is planed out of square, positive where the upper face is the larger. grooves: board -> `Groove`.
    vertices: (2, 4, 3), its corners in the box's axes: lower and upper face, counter-clockwise from the front left.
    first, last: the boards that go onto it, in that order.
    """

    thickness: float
    below: tuple
    above: tuple
    edge_bevels: dict
    grooves: dict
    vertices: np.ndarray
    first: tuple
    last: tuple

    @property
    def words(self):
        """How it goes in, as a sentence."""
        return (f"Set the {' and the '.join(self.first)} board on the panel's edges, then push the "
                f"{' and the '.join(self.last)} board on, level, tails over pins: the panel can't be put in afterwards, "
                "so leave it dry in its grooves.")


def bottom_panel(box, thickness=6.0, up=6.0, depth=None, play=0.5):
    """The `BottomPanel` of a box: `thickness` thick, its lower face `up` above the bench, mm.

    depth: of the grooves, square to the faces; a third of the thinnest board when left out (common practice, no source).
    play: level, between each edge and the bottom of its groove. ValueError, in one sentence, when it can't be.
    """
    box = _checked(box)
    thickness, up, play = checks.size("panel thickness", thickness), checks.size("up", up), checks.amount("play", play)
    thinnest = min(box.thickness_of(name) for name in NAMES)
    depth = thinnest / 3 if depth is None else checks.size("groove depth", depth)
    if depth >= thinnest:
        raise ValueError(f"A groove {depth:g} mm deep would come out through a board {thinnest:g} mm thick: make it "
                         "shallower.")
    if up + thickness >= box.height:
        raise ValueError(f"A panel {thickness:g} mm thick, {up:g} mm up, doesn't lie within a box {box.height:g} mm "
                         "high: set it lower.")
    if any(_level(depth, box.lean(name)) <= play for name in NAMES):
        raise ValueError(f"With a play of {play:g} mm the panel would fall out of grooves {depth:g} mm deep: make them "
                         "deeper.")
    reach = {name: _level(depth, box.lean(name)) for name in NAMES}
    sizes = [tuple(box.inside_length(name, height) + sum(reach[other] - play for other in neighbours(name))
                   for name in ("front", "right")) for height in (up, up + thickness)]
    last = TAILS_ON[box.tails_on]
    first = tuple(name for name in NAMES[::2] + NAMES[1::2] if name not in last)
    return BottomPanel(thickness, *sizes, {name: box.lean(name) for name in NAMES},
                       {name: _groove(box, name, up, thickness, depth, reach) for name in NAMES},
                       _panel(box, up, thickness, reach, play), first, last)


def _groove(box, name, up, thickness, depth, reach):
    lean = box.lean(name)
    arris = float(box.boards[name].blank[1, 0, 0, 2])  # a square rim lifts or lowers it
    if up <= arris:
        raise ValueError(f"The inner arris of the {name} board lies {arris:.1f} mm above the bench, and a groove {up:g} "
                         "mm up would cut it away: set the panel higher, or rip the rims level.")
    past = tuple(reach[other] for other in neighbours(name))
    return Groove(name, _up_face(up - arris, lean), _up_face(thickness, lean), depth, lean, past)


def _panel(box, up, thickness, reach, play):
    edges = {}
    for name in NAMES:
        inner = box.planes[f"{name} inner"]  # its normal points out of the wood, into the box
        level = math.hypot(inner.normal[0], inner.normal[1])
        edges[name] = inner.moved(-(reach[name] - play) * level)
    faces = {"below": rims(up)[1], "above": rims(up + thickness)[1]}
    corners = (("front", "left"), ("front", "right"), ("back", "right"), ("back", "left"))
    return meet_all(edges | faces, [(*pair, face) for face in faces for pair in corners]).reshape(2, 4, 3)


@dataclass(frozen=True)
class Caul:
    """A wedge to lay on a leaning board so that a clamp that pulls level presses on an upright face; lengths in mm.

    angle: of the wedge, degrees. length: up the board's face. thin, thick: level, at its two edges; thick_at: the rim
    that the thick one goes to, "bottom" or "top". holds: whether friction alone keeps it from sliding on the face.
    """

    board: str
    angle: float
    length: float
    thin: float
    thick: float
    thick_at: str
    holds: bool

    @property
    def words(self):
        """How to lay it, as a sentence."""
        said = f"{self.board.capitalize()} board: the thick edge at the {self.thick_at}"
        return said + ("." if self.holds else ", stopped by a lip hooked over the rim, as it would slide on the face.")


def wedge_cauls(box, thin=10.0, friction=0.25):
    """The `Caul`s of the boards that are pushed on, those with the tails, as far as they lean.

    thin: level thickness at the thin edge, mm. friction: coefficient of wood on wood, the low end of what is usually
    given (0.25 to 0.5, from memory).
    """
    box, thin, friction = _checked(box), checks.size("thin edge", thin), checks.size("friction", friction, "parts")
    cauls = []
    for name in TAILS_ON[box.tails_on]:
        lean = box.lean(name)
        if abs(lean) >= SAME:
            out = abs(float(numeric("out_over_height", H, p)(box.height, math.radians(lean))))
            cauls.append(Caul(name, abs(lean), box.slant_width(name), thin, thin + out, "bottom" if lean > 0 else "top",
                              out / box.height <= friction))
    return tuple(cauls)


@dataclass(frozen=True)
class Offcut:
    """A piece to keep from a board's blank for a trial corner. length: along the board, mm, as sawn.

    like: other corners of the box, equal or mirrored, that the same trial corner stands for.
    """

    board: str
    corner: str
    length: float
    like: tuple


def offcuts_for_tests(box, shown=80.0):
    """The `Offcut`s to keep, two for each corner that is unlike the others; `shown`: of their inner faces, mm.

    Saw each from its own blank, full width and thickness, and leave that blank as much longer, and a saw kerf.
    """
    box, shown = _checked(box), checks.size("length shown", shown)
    tests = {}
    for at, corner in box.corners.items():
        joint = corner.joint
        alike = (joint.corner, joint.tail_thickness, joint.pin_thickness, joint.tails)
        tests.setdefault(alike, []).append(at)
    offcuts = []
    for at, *like in tests.values():
        corner = box.corners[at]
        for kind, cut in (("tail", corner.joint.tail_board), ("pin", corner.joint.pin_board)):
            along = np.ptp(cut.blank.reshape(-1, 3) @ corner.corner.vector(f"{kind}_level"))
            length = float(along) - corner.joint.length + shown
            offcuts.append(Offcut(getattr(corner, kind), at, length, tuple(like)))
    return tuple(offcuts)


def offcut_length(box, name, shown=80.0):
    """How much longer the blank of a board has to be for the trial corners' offcuts, mm, saw kerfs not counted."""
    if name not in END_CORNERS:
        raise ValueError(f"A box has the boards {', '.join(NAMES)}, not {name!r}.")
    return sum(offcut.length for offcut in offcuts_for_tests(box, shown) if offcut.board == name)


def _checked(box):
    if not isinstance(box, Box):
        raise ValueError(f"Fittings are made for a Box, not for {box!r}.")
    return box
