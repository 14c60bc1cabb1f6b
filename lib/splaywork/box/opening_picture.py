"""A drawer in its leaning opening: from straight in front, from the side, and its lower left corner drawn larger.

A show front is dashed in the view from in front, so that what lies behind it is seen; runners and other strips are cut there.
"""

import numpy as np

from ..common import checks
from ..common.planes import meet
from ..common.printing import degrees
from ..common.tolerances import SAME_SETTING
from ..corner.picture import LIGHT
from ..corner.stills import Still
from ..drawing.canvas import Canvas, OnCanvas
from ..drawing.palette import END, GUIDE, INK, PIN, RIM, TAIL, WHITE
from ..drawing.view import fit
from .opening import OpeningFit, gap_words
from .runners import Runners

DASHES = (0, (4, 3))
WALL = 22  # pixels of wall shown round an opening
LARGEST = 1.6  # pixels to the mm
MAGNIFIED = 30  # mm that the enlarged corner is wide and high
# of the gaps: x, y in pixels, and how the words stand there
NOTES = {"top": (245, 290, "center"), "left": (8, 160, "left"), "right": (482, 160, "right"),
         "floor": (245, 14, "center")}
ENDS, RIMS = [0, 1, 1, 0], [0, 0, 1, 1]  # floor left, floor right, top right, top left
AXES = {"front": (0, 2), "side": (1, 2)}  # of the opening, as they run to the right and up


def _corners(opening, left, right):
    """Corners of the opening between two of its faces, (4, 3): floor left and right, top right and left."""
    faces = opening.faces
    beside = "front" if left == "left" else "left"
    return np.array([meet(faces[one], faces[other], faces[beside])
                     for one, other in ((left, "floor"), (right, "floor"), (right, "top"), (left, "top"))])


class _Section:
    """An opening and the drawer in it, as one flat picture in a frame: the walls, the hole, the wood.

    open_left: whether the left side of the outline is the way in, where no wall stands.
    """

    def __init__(self, canvas, frame, wood, open_left=False):
        self.frame, self._open_left = frame, open_left
        self._wall, self._way_in = canvas.polygons(fill=END), canvas.polygons(fill=WHITE)
        self._hole = canvas.polygons(fill=WHITE, edge=INK, width=LIGHT)
        self._strips = canvas.polygons(fill=RIM, edge=INK, width=LIGHT)
        self._drawer = canvas.polygons(fill=wood, edge=INK, width=LIGHT)
        self._front = canvas.polygons(fill=PIN, edge=INK, width=LIGHT)  # not the runners' colour
        self._dashed = canvas.lines(INK, LIGHT, DASHES)

    def update(self, hole, drawer, strips, front, dashed, framed=None, largest=LARGEST):
        """Outlines (4, 2) in mm; framed: what the frame shows, all when left out. Then `place` maps mm to pixels.

        strips: outlines of runners and the like. front: the show front's outline, or None; dashed: whether it is only dashed.
        """
        left, bottom, right, top = self.frame
        room = (left + WALL, bottom + WALL, right - WALL, top - WALL)
        both = np.concatenate([hole, drawer, *([] if front is None else [front])])
        scale, shift = fit(both, room, largest) if framed is None else fit(framed, self.frame, np.inf)
        self.place = lambda points: np.asarray(points) * scale + shift
        low, high = self.place(both).min(axis=0) - WALL, self.place(both).max(axis=0) + WALL
        if framed is not None:
            low, high = np.array([left, bottom]), np.array([right, top])
        self._wall.set_verts([np.array([low, (high[0], low[1]), high, (low[0], high[1])])])
        bottom_left, *_, top_left = self.place(hole)
        way_in = (low[0], bottom_left[1]), bottom_left, top_left, (low[0], top_left[1])
        self._way_in.set_verts([way_in] if self._open_left else [])
        self._hole.set_verts([self.place(hole)])
        self._drawer.set_verts([self.place(drawer)])
        self._strips.set_verts([self.place(strip) for strip in strips])
        shown = [] if front is None else [self.place(front)]
        self._front.set_verts([] if dashed else shown)
        self._dashed.set_segments([each[[0, 1, 2, 3, 0]] for each in shown] if dashed else [])

    def clip(self, canvas):
        """Keep what is drawn within the frame."""
        left, bottom, right, top = self.frame
        for each in (self._hole, self._drawer, self._strips, self._front, self._dashed):
            canvas.clip(each, ((left, bottom), (right, top)))


class OpeningPicture(OnCanvas):
    """The whole picture, 920 × 330 pixels. The gaps are drawn as they are, and written beside."""

    WIDTH, HEIGHT = 920, 330

    def __init__(self) -> None:
        self.canvas = Canvas(self.WIDTH, self.HEIGHT)
        self.front = _Section(self.canvas, (92, 34, 398, 282), PIN)
        self.side = _Section(self.canvas, (500, 34, 730, 282), TAIL, open_left=True)
        self.corner = _Section(self.canvas, (760, 90, 906, 236), PIN)
        self.corner.clip(self.canvas)
        self._around = self.canvas.polygons(fill="none", edge=GUIDE, width=LIGHT)
        self._leaders = self.canvas.lines(GUIDE, LIGHT)
        self.notes = {name: self.canvas.text(x, y, align=align) for name, (x, y, align) in NOTES.items()}
        self.canvas.text(92, 312, "From straight in front", size=11, weight="bold")
        self._from_the_side = self.canvas.text(500, 312, size=11, weight="bold")
        self._title = self.canvas.text(833, 262, size=10, align="center")
        self.canvas.text(833, 244, "lower left corner", size=10, align="center")
        self._leans = {name: self.canvas.text(x, 14, align=align)
                       for name, x, align in (("front", 455, "left"), ("back", 730, "right"))}
        self.back_gap = self.canvas.text(906, 14, align="right")

    def update(self, fit: OpeningFit, unit: str = "mm", carried: Runners | None = None) -> None:
        """Draw an `OpeningFit`, its show front, and what it runs on, as `Runners`; unit: for the gaps, "mm" or "in"."""
        opening, boards = fit.opening, fit.box.boards
        # outer faces, by end and rim; the left board's left end is at the back
        front, side = boards["front"].blank[0], boards["left"].blank[0, ::-1]
        seen = {"front": (_corners(opening, "left", "right"), front), "side": (_corners(opening, "front", "back"), side)}
        flat = {name: (hole[:, AXES[name]], (board[ENDS, RIMS] + fit.at)[:, AXES[name]])
                for name, (hole, board) in seen.items()}
        corners = None if fit.show_front is None else fit.show_front.corners
        outer = None if corners is None else corners[0][ENDS, RIMS][:, AXES["front"]]
        beside = None if corners is None else corners[[0, 1, 1, 0], 0, [0, 0, 1, 1]][:, AXES["side"]]
        strips = () if carried is None else [strip for strip in carried.strips if strip.side != "back"]
        cut = [strip.corners[[0, 1, 1, 0], 0, [0, 0, 1, 1]][:, AXES["front"]] for strip in strips]
        long = [strip.corners[1][ENDS, RIMS][:, AXES["side"]] for strip in strips if strip.side == "left"]
        self.front.update(*flat["front"], cut, outer, True)
        self.side.update(*flat["side"], long, beside, False)
        self._from_the_side.set_text(f"From the side, {'front at the left' if beside is None else 'show front in blue'}")
        near = flat["front"][0][0] - MAGNIFIED * np.array([0.3, 0.2])
        near = near + MAGNIFIED * np.array([[0, 0], [1, 1]])
        self.corner.update(*flat["front"], cut, outer, True, framed=near)
        larger = np.ptp(self.corner.place(near)[:, 0]) / np.ptp(self.front.place(near)[:, 0])
        self._title.set_text(f"about {larger:.0f} times as large:")
        left, bottom, right, top = self.corner.frame
        ring = self.front.place(near)
        self._around.set_verts([[(left, bottom), (right, bottom), (right, top), (left, top)],
                                [ring[0], (ring[1, 0], ring[0, 1]), ring[1], (ring[0, 0], ring[1, 1])]])
        hole, drawer = map(self.front.place, flat["front"])
        self._note(fit, hole, drawer, unit)
        for name, text in self._leans.items():
            lean = getattr(opening, f"{name}_lean")
            text.set_text(f"{name} leans {degrees(lean)}" if abs(lean) >= SAME_SETTING else f"{name} upright")
        self.back_gap.set_text(f"gap behind: {gap_words(fit.gaps['back'], unit)}")

    def _note(self, fit, hole, drawer, unit):
        """Write each gap, with a leader to the middle of it."""
        leaders = []
        for side, (name, gap) in zip((3, 1, 0, 2), fit.gaps_at_front.items(), strict=True):
            text = self.notes[name]
            text.set_text(f"{name}: {gap_words(gap, unit)}" if name in ("floor", "top") else gap_words(gap, unit))
            between = (hole[[side, (side + 1) % 4]].mean(axis=0) + drawer[[side, (side + 1) % 4]].mean(axis=0)) / 2
            x, y, align = NOTES[name]
            beside = self.canvas.width_of(text) + 4
            start = {"left": (x + beside, y + 4), "right": (x - beside, y + 4),
                     "center": (x, y + 14 if name == "floor" else y - 3)}[align]
            leaders.append([start, between])
        self._leaders.set_segments(leaders)


def opening_still(fit: OpeningFit, unit: str = "mm", carried: Runners | None = None) -> Still:
    """An `OpeningFit` as a `Still`: its picture and `fit.words`; unit: "mm" or "in"; carried: its `Runners`, to be drawn.

    >>> import splaywork as sw
    >>> fit = sw.Box.for_opening(500, 300, 120, left_lean=11)
    >>> print(sw.opening_still(fit).words.partition(". ")[0])
    The drawer slides in level from the front
    """
    checks.instance("fit", fit, OpeningFit, "opening.fit(Clearances())")
    if carried is not None:
        checks.instance("runners to be drawn", carried, Runners, "runners(fit)")
    picture = OpeningPicture()
    picture.update(fit, unit, carried)
    return Still(lambda: picture.canvas, fit.words(unit))
