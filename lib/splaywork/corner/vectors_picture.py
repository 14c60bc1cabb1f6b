"""The directions that the formulas start from, drawn on a corner: level lines, normals, and the corner line in parts."""

from typing import TYPE_CHECKING

import numpy as np

from ..common.printing import intended
from ..drawing.canvas import DASH, Canvas, OnCanvas
from ..drawing.palette import GUIDE, INK, MEASURE
from .corner import one_corner
from .picture import HEAVY, LIGHT, MEDIUM, STUB, Pictorial
from .stills import Still
from .stubs import stubs

if TYPE_CHECKING:
    from .corner import Corner

DOTS = (0, (1, 2))
UPRIGHT = np.array([0.0, 0.0, 1.0])
ARROW = 60  # mm on the wood
TRIAD, REACH = np.array([838.0, 352.0]), 44  # pixels: where the axes stand, apart from the corner, and how long they are
PART = 0.75  # of the corner line, taken apart into a step up the face and one back along a level line


class VectorsPicture(OnCanvas):
    """A corner with its unit vectors as arrows of one length, 920 × 440 pixels."""

    WIDTH, HEIGHT = 920, 440

    def __init__(self) -> None:
        self.canvas = Canvas(self.WIDTH, self.HEIGHT)
        self._pictorial = Pictorial(self.canvas, (170, 44, 750, 430), shortcut=False, names=False)
        self._legs = self.canvas.lines(INK, MEDIUM, DOTS)
        self._leaders = self.canvas.lines(GUIDE, LIGHT)
        self._shafts = self.canvas.lines(MEASURE, MEDIUM)
        self._heads = self.canvas.polygons(fill=MEASURE)
        self._angles = self.canvas.lines(GUIDE, 1.6, edged=True)
        self._plumbs = self.canvas.lines(GUIDE, 1.6, DASH, edged=True)
        self._axes = self.canvas.lines(INK, LIGHT)
        self._axis_heads = self.canvas.polygons(fill=INK)
        self._corner = self.canvas.lines(width=HEAVY)
        self._labels = {}
        for board, edge, side, hand in (("pin", 14, "left", 1), ("tail", self.WIDTH - 14, "right", -1)):
            for name, y in (("normal", 250), ("level direction", 40)):
                artist = self.canvas.text(edge, y, f"{board} board's {name}", align=side)
                inner = edge + hand * self.canvas.width_of(artist)
                self._labels[board, name] = [(edge, y - 6), (inner, y - 6)]
        self._steps = {board: (self.canvas.text(0, 0, "up", align=align), self.canvas.text(0, 0, "back", align=align))
                       for board, align in (("tail", "left"), ("pin", "right"))}
        self._corner_label = self.canvas.text(0, 0, "corner line", align="center", weight="bold")
        self._symbols = {name: self.canvas.text(0, 0, name, size=12, align="center", weight="bold") for name in "abwxyz"}

    def update(self, corner: "Corner", height: float = 170.0, thickness: float = 18.0, turn: float = 15.0,
               tilt: float = 32.0) -> None:
        """Draw a scalar corner. Height and thickness in mm; turn and tilt of the view in degrees."""
        self._pictorial.update(corner, height, thickness, turn, tilt)
        place = self._pictorial.place
        joined = stubs(corner, height, thickness, STUB)
        foot, head = joined.corner_line
        part = foot + PART * (head - foot)
        arrows, legs, leaders = [], [], []
        for board in ("tail", "pin"):
            block = getattr(joined, board)
            along, up, normal = (corner.vector(f"{board}_{name}") for name in ("level", "up", "normal"))
            middle = block.faces[block.names.index("outer")].mean(axis=0) + 0.35 * STUB * along
            arrows += [(foot, foot + ARROW * along), (middle, middle + ARROW * normal)]
            turns_at = foot + PART * up * corner.slant_width(height, board)
            legs.append(place(np.array([foot, turns_at, part])))
            named = {"normal": middle + 0.9 * ARROW * normal, "level direction": foot + 0.6 * ARROW * along}
            leaders += [[*self._labels[board, name], place(point)] for name, point in named.items()]
        ends = place(np.array(arrows))
        self._corner.set_segments([place(joined.corner_line)])
        self._shafts.set_segments(ends)
        self._heads.set_verts([_arrow_head(*pair) for pair in ends])
        self._legs.set_segments(legs)
        self._leaders.set_segments(leaders)
        self._name_steps(legs)
        self._corner_label.set_position(place(foot) - (0, 24))
        self._draw_angles(corner, joined, height)
        self._draw_axes()

    def _draw_angles(self, corner, joined, height):
        """The plan angle on the top rim; each lean at its board's far end, between the face and a plumb line clear of the wood.

        A face that leans out has its plumb line let down from the top, one that leans in set up from the bottom.
        """
        place = self._pictorial.place
        inside = joined.tail.vertices[7]
        turn = np.linspace(0, 1, 20)[:, None]
        arcs, plumbs = [], []

        def arc(middle, radius, ways, symbol, at=-1):
            fan = (1 - turn) * ways[0] + turn * ways[1]
            arcs.append(place(middle + radius * fan / np.linalg.norm(fan, axis=1, keepdims=True)))
            out = arcs[-1][at] - (place(middle) if symbol == "w" else arcs[-1][0])
            self._symbols[symbol].set_position(arcs[-1][at] + 12 * out / max(np.linalg.norm(out), 1e-9) - (0, 5))

        arc(inside, 34, [corner.vector("tail_level"), corner.vector("pin_level")], "w", 10)
        for board, symbol in (("tail", "a"), ("pin", "b")):
            lean, up = corner.lean(board), corner.vector(f"{board}_up")
            foot = getattr(joined, board).faces[getattr(joined, board).names.index("outer")]
            foot = foot[np.argmax((foot @ corner.vector(f"{board}_level")) - 1e3 * foot[:, 2])]
            head = foot + up * corner.slant_width(height, board)
            start, way, plumb = (head, -up, -UPRIGHT) if lean >= 0 else (foot, up, UPRIGHT)
            self._symbols[symbol].set_visible(lean != 0)
            if lean != 0:
                plumbs.append(place(np.array([start, start + height * plumb])))
                arc(start, 0.38 * height, [way, plumb], symbol)
        self._angles.set_segments(arcs)
        self._plumbs.set_segments(plumbs)

    def _draw_axes(self):
        """x along the tail board's bottom edge, y level and square to it, into the box, z up."""
        ways = self._pictorial.place(np.eye(3)) - self._pictorial.place(np.zeros(3))
        longest = np.linalg.norm(ways, axis=1).max()
        ends = np.array([[TRIAD, TRIAD + REACH * way / longest] for way in ways])
        self._axes.set_segments(ends)
        self._axis_heads.set_verts([_arrow_head(*pair) for pair in ends])
        for name, (_, tip), way in zip("xyz", ends, ways, strict=True):
            self._symbols[name].set_position(tip + 14 * way / max(np.linalg.norm(way), 1e-9) - (0, 5))

    def _name_steps(self, legs):
        """Write "up" and "back" beside the legs of tail and pin board, each three points in pixels, away from the corner line.

        Where both legs lie on one side of it, as leans of unlike signs make them, the nearer one's names cross over.
        """
        line = legs[0][2] - legs[0][0]
        across = line[::-1] * (1, -1) / np.linalg.norm(line)  # to the right of the corner line
        reach = {board: (leg[1] - leg[0]) @ across for board, leg in zip(("tail", "pin"), legs, strict=True)}
        sides = {board: 1 if off > 0 else -1 for board, off in reach.items()}
        if sides["tail"] == sides["pin"]:
            sides[min(reach, key=lambda board: abs(reach[board]))] *= -1
        for (board, side), (foot, turns_at, _) in zip(sides.items(), legs, strict=True):
            leg = turns_at - foot
            if side * reach[board] < 0:
                leg = leg - leg @ across * across  # over to the corner line
            off = side * leg[::-1] * (1, -1) / max(np.linalg.norm(leg), 1e-9)
            for label, share in zip(self._steps[board], (0.5, 1.0), strict=True):
                label.set(position=foot + share * leg + 8 * off - (0, 6), horizontalalignment="left" if side > 0 else "right")


def _arrow_head(start, end):
    """A triangle (3, 2) in pixels, its tip at the end."""
    way = (end - start) / max(np.linalg.norm(end - start), 1e-9)
    across = way[::-1] * (-1, 1)
    return np.array([end + 4 * way, end - 9 * way + 5 * across, end - 9 * way - 5 * across])


def vectors_still(corner: "Corner") -> Still:
    """The picture of `VectorsPicture` as a `Still`.

    >>> import splaywork as sw
    >>> print(sw.vectors_still(sw.Corner(16, 11)).words.partition(". ")[0])
    The tail board, on the right, leans 16°
    """
    corner = one_corner(corner)
    picture = VectorsPicture()
    picture.update(corner)
    words = (f"The tail board, on the right, leans {intended(corner.tail_lean)}. The pin board, on the left, leans "
             f"{intended(corner.pin_lean)}. In each face the dotted lines split the corner line into its two steps. The "
             "leans a and b are measured from dashed plumb lines. The plan angle w is marked on the top rim. The axes: x runs "
             "along the tail board's bottom edge, y is level and square to that edge, and z points up.")
    return Still(lambda: picture.canvas, words)
