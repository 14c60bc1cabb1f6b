"""The projection, as hands do it: one board's outer face carried onto the other by straightedge and pencil.

Both boards are propped on the bench at their leans, with square, unsawn ends. The board to be marked runs past the other
one. A straightedge lies flat on the other board's outer face. Its end is sawn slanting and bevelled, to a point that lies in
its under face; where the point touches the marked board's inner face, a pencil draws the trace of that outer face. A square
end would touch with a corner only, and not in the under face. The axes are the corner's: its foot, on the outer faces, is
the origin.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from ..common.boards import BOARDS, other
from ..common.hexahedra import between
from ..common.planes import Plane, meet
from ..common.tolerances import SAME_ANGLE
from ..common.wedges import wedge_side
from .corner import Corner
from .stubs import face_planes, rims

REACH = 120.0  # mm of a board beside the corner
PAST = 40.0  # mm by which the marked board runs past the line that is drawn on it
ROOM = 14.0  # mm that stay free beside a prop
HELD_PROP = 104.0  # mm from the marked board to the wedges of the other one, so that the straightedge is in the open
PROP_LONG, BLOCK = 22.0, 0.5  # mm along the board; how tall a block is that an upright board stands against, of the height
RULE_LONG, RULE_WIDE, RULE_THICK = 66.0, 18.0, 3.0  # mm
POINT, STEP = 45.0, 5.0  # degrees: a straightedge's point is sawn and bevelled so much, or more, by this step
CLEAR = 0.1  # mm that its end falls back for each mm, more than the marked board's face itself does
# how much it points away from the held board, the marked one and the bench
PENCIL_TILT = np.array([1.0, 1.0, 0.6])
PENCIL_LONG, PENCIL_THICK, PENCIL_POINT = 96.0, 7.0, 22.0  # mm


@dataclass(frozen=True)
class Projection:
    """The other board's outer face projected onto `marked` ("tail" or "pin"), for a scalar corner.

    height: vertical, of the box, mm. thickness: of both boards, mm. Points are in mm, shape (3,).

    >>> import splaywork as sw
    >>> sw.Projection(sw.Corner(30, 30), marked='pin').end_line.shape
    (2, 3)
    """

    corner: Corner
    marked: str
    height: float = 100.0
    thickness: float = 18.0

    @property
    def held(self) -> str:
        """The board on whose outer face the straightedge lies."""
        return other(self.marked)

    @cached_property
    def faces(self) -> dict[str, tuple[Plane, ...]]:
        """(outer, inner) planes of each board, by name, normals out of the wood."""
        return {board: face_planes(self.corner, board, self.thickness) for board in (self.marked, self.held)}

    def way(self, board: str, direction: str) -> np.ndarray:
        """Unit vector "level", "up", "outward" or "normal" of a board."""
        return self.corner.vector(f"{board}_{direction}")

    @cached_property
    def line(self) -> np.ndarray:
        """(2, 3): foot and head of the line that is drawn on the marked board's inner face."""
        planes = self.faces[self.marked][1], self.faces[self.held][0]
        return np.array([meet(*planes, rim) for rim in rims(self.height)])

    def tip(self, share: float) -> np.ndarray:
        """Where the pencil's tip is when it has climbed a share, 0 to 1, of the height."""
        return self.line[0] + share * (self.line[1] - self.line[0])

    @cached_property
    def carried(self) -> np.ndarray:
        """(2, 3): the mark carried across the marked board's bottom edge, from the inner face to the outer."""
        return np.array([self.line[0], np.zeros(3)])

    @cached_property
    def end_line(self) -> np.ndarray:
        """(2, 3): the marked board's end line on its outer face, struck from the carried mark at the same setting."""
        return np.array([np.zeros(3), self.corner.vector("corner_line") * self.height])

    @property
    def slant(self) -> float:
        """Degrees from square of the drawn line on the marked board, read off its points; signed as an end line."""
        way = self.line[1] - self.line[0]
        return float(np.degrees(np.arctan2(-way @ self.way(self.marked, "level"), way @ self.way(self.marked, "up"))))

    @property
    def run(self) -> float:
        """mm that the line moves along the marked board's edge in the whole height; positive away from the corner."""
        return float((self.line[0] - self.line[1]) @ self.way(self.marked, "level"))

    @property
    def slope(self) -> float:
        """mm of the marked board's face, up its slope, in the whole height."""
        return self.corner.slant_width(self.height, self.marked)

    # What stands on the bench, as corners (8, 3) of six-sided solids

    def _board(self, board, low, high):
        """A board with square ends at `low` and `high` mm along its level edge; its outer face first."""
        level, up, outward = (self.way(board, direction) for direction in ("level", "up", "outward"))
        rise = up * self.corner.slant_width(self.height, board)
        outline = np.array([low * level, high * level, high * level + rise, low * level + rise])
        if board == "pin":  # seen from outside, its corner end is on the other hand
            outline = outline[[0, 3, 2, 1]]
        return between(outline, -outward * self.thickness / np.cos(np.radians(self.corner.lean(board))))

    def _beside(self, solid, along, plane, room):
        """The solid moved along a level way until it stands `room` mm clear of a plane."""
        return solid + along * np.max((room - plane.height_of(solid)) / (along @ plane.normal))

    @cached_property
    def held_board(self) -> np.ndarray:
        """The other board: its square end touches the marked board's inner face."""
        level = self.way(self.held, "level")
        blank = self._board(self.held, 0.0, self._reach_of_held)
        return self._beside(blank, level, self.faces[self.marked][1], 0.0)

    @cached_property
    def _reach_of_held(self):
        level = self.way(self.held, "level")
        touching = self._beside(self._board(self.held, 0.0, 1.0), level, self.faces[self.marked][1], 0.0)
        return max(REACH, float(((self.held_props - touching[0]) @ level).max()) + ROOM)

    @cached_property
    def offcut(self) -> np.ndarray:
        """The marked board near the corner alone, as it is turned up to carry the mark round."""
        ends = np.vstack([self.line, self.end_line]) @ self.way(self.marked, "level")
        return self._board(self.marked, ends.min() - PAST, ends.max() + REACH / 2)

    @cached_property
    def marked_board(self) -> np.ndarray:
        """The board that is marked: it runs past the other."""
        level = self.way(self.marked, "level")
        ends = [points @ level for points in (self.line, self.marked_props)]
        low = min(ends[0].min() - PAST, ends[1].min() - ROOM)
        return self._board(self.marked, low, max(REACH, ends[0].max() + PAST, ends[1].max() + ROOM))

    def _props(self, board):
        """What holds a board, side by side along it: (1, 8, 3), the block behind an upright one, else (2, 8, 3).

        A wedge stands under the face that overhangs, and its mate upside down against the other face: their backs are plumb.
        """
        lean, level, outward = self.corner.lean(board), self.way(board, "level"), self.way(board, "outward")
        into = -outward * self.thickness / np.cos(np.radians(lean))
        if abs(lean) < SAME_ANGLE:
            sections = [_standing(np.zeros(3), outward, wedge_side(0.0, BLOCK * self.height))]
        else:
            side, near, far = (outward, np.zeros(3), into) if lean > 0 else (-outward, into, np.zeros(3))
            wedge = wedge_side(lean, self.height)
            sections = [_standing(near, side, wedge), _standing(far, side, wedge[3] - wedge)]
        along = level * PROP_LONG
        wound = [section[::-1] if np.cross(section[1] - section[0], section[2] - section[1]) @ along > 0 else section
                 for section in sections]
        return np.array([between(section, along) for section in wound])

    @cached_property
    def held_props(self) -> np.ndarray:
        """(n, 8, 3): what holds the other board, clear of the marked one and of the straightedge."""
        return self._beside(self._props(self.held), self.way(self.held, "level"), self.faces[self.marked][1], HELD_PROP)

    @cached_property
    def marked_props(self) -> np.ndarray:
        """(n, 8, 3): what holds the marked board, clear of the other one, of what holds that, and of what is drawn."""
        props, level = self._props(self.marked), self.way(self.marked, "level")
        leans_in = [self.corner.lean(board) < 0 for board in (self.marked, self.held)]
        if all(leans_in):  # the inside is taken: beyond the line
            return self._beside(props, -level, self.faces[self.held][0], ROOM + PAST)
        inside = self._beside(props, level, self.faces[self.held][1], ROOM)
        if self.faces[self.marked][1].height_of(inside).max() < HELD_PROP - ROOM:
            return inside
        return inside + level * max(0.0, ROOM + float((self.held_props @ level).max() - (inside @ level).min()))

    @cached_property
    def standing(self) -> np.ndarray:
        """(n, 3): the corners of all that stands on the bench."""
        return np.vstack([self.held_board, self.marked_board, *self.held_props, *self.marked_props])

    @cached_property
    def reach(self) -> np.ndarray:
        """(n, 3): points that enclose all that stands on the bench, and straightedge and pencil wherever they go."""
        pencils = [part.reshape(-1, 3) for share in (0, 1) for part in self.pencil(share).values()]
        return np.vstack([self.standing, self.straightedge(0), self.straightedge(1), *pencils])

    def straightedge(self, share: float) -> np.ndarray:
        """It lies flat on the other board's outer face, its point, at its upper edge, against the marked board: at the tip.

        Where it lies on the bench its point is above the tip: there the line is carried on.
        """
        outer, marked = self.faces[self.held][0], self.faces[self.marked][1]
        up, level = self.way(self.held, "up"), self.way(self.held, "level")
        lean = np.radians(self.corner.lean(self.held))
        lowest = RULE_WIDE + max(0.0, float(np.tan(lean))) * RULE_THICK  # its own lower arris is on the bench
        top = max(float(self.tip(share) @ up), lowest)
        far = Plane.through(self.line[np.argmax(self.line @ level)] + level * RULE_LONG, level)
        edges = [Plane(up, top - RULE_WIDE), Plane(up, top)]
        slant, bevel = np.tan(np.radians(point_angles(self.corner)))
        pared = Plane.through(meet(marked, outer, edges[1]), level + slant * up - bevel * outer.normal)
        outlines = [[meet(face, end, edge) for end, edge in ((pared, edges[0]), (far, edges[0]), (far, edges[1]),
                                                           (pared, edges[1]))] for face in (outer.moved(RULE_THICK), outer)]
        order = [0, 1, 2, 3] if self.held == "tail" else [0, 3, 2, 1]
        return np.array(outlines)[:, order].reshape(8, 3)

    def pencil(self, share: float) -> dict[str, np.ndarray]:
        """Facets of the pencil, as `pencil_at` gives them, when it has climbed that share."""
        clear_of = np.array([self.faces[self.held][0].normal, self.faces[self.marked][1].normal, (0.0, 0.0, 1.0)])
        return pencil_at(self.tip(share), np.linalg.solve(clear_of, PENCIL_TILT))


def _standing(foot, side, outline):
    """(n, 3): an outline (n, 2) of (to one side, up), set up at a foot."""
    return foot + outline[:, :1] * side + outline[:, 1:] * np.array([0.0, 0.0, 1.0])


def point_angles(corner: Corner) -> tuple[float, float]:
    """How far a straightedge's ends are sawn out of square, and then bevelled, so that on either board only the point touches.

    Degrees, multiples of `STEP`, `POINT` or more; the same for both ends.

    >>> import splaywork as sw
    >>> from splaywork.corner.projection import point_angles
    >>> point_angles(sw.Corner(30, 30))
    (45.0, 45.0)
    """
    back = []
    for marked in BOARDS:
        face, laid = corner.vector(f"{marked}_normal"), other(marked)
        along, up, out = (corner.vector(f"{laid}_{way}") for way in ("level", "up", "normal"))
        back.append([-(face @ way) / (face @ along) for way in (-up, out)])  # how the marked face itself falls back
    worst = np.degrees(np.arctan(np.max(back, axis=0) + CLEAR))
    slant, bevel = np.maximum(POINT, STEP * np.ceil(worst / STEP))
    return float(slant), float(bevel)


def pencil_at(tip: np.ndarray, way: np.ndarray) -> dict[str, np.ndarray]:
    """Facets (n, corners, 3) of a pencil's "point", its "shaft" and its "butt": its tip, and the way to its butt, (3,)."""
    way = way / np.linalg.norm(way)
    side = np.cross(way, [0.0, 0.0, 1.0])
    side = side / np.linalg.norm(side)
    turn = np.radians(np.arange(6) * 60.0)[:, None]
    ring = PENCIL_THICK / 2 * (np.cos(turn) * side + np.sin(turn) * np.cross(way, side))
    near, far = tip + way * PENCIL_POINT + ring, tip + way * PENCIL_LONG + ring
    after = np.roll(np.arange(6), -1)
    point = np.stack([np.broadcast_to(tip, (6, 3)), near[after], near], axis=1)
    return {"point": point, "shaft": np.stack([near, near[after], far[after], far], axis=1), "butt": far[None]}
