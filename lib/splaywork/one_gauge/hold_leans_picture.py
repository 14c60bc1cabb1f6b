"""Hold the leans: ends struck with the shortcut gape. The gap, shaded and measured, in space and on the flat faces."""

from typing import TYPE_CHECKING

import numpy as np

from ..common.boards import BOARDS
from ..common.printing import degrees
from ..corner.picture import FACE_NAMES, FILLS, HEAVY, LIGHT, MEDIUM, STUB, bearing, name_reach, set_name
from ..corner.stubs import stubs
from ..drawing.canvas import Canvas, OnCanvas
from ..drawing.lens import LARGE, OFF_GRID, Lens, Reading, enlarged_number_and_unit, tenths
from ..drawing.palette import BENCH, GUIDE, INK, SHORTCUT
from ..drawing.view import View, facing, fit
from .one_gauge import OneGauge
from .words import say_hold_leans

if TYPE_CHECKING:
    from ..common.text import Words
    from ..corner.corner import Corner
    from .one_gauge import Gap

ENDS = {"tail": {"bottom": (0, 4), "top": (3, 7)}, "pin": {"bottom": (0, 4), "top": (1, 5)}}  # vertices of a stub
VIEW_TILT, VIEW_TURN = 14, 10


class GapingCorner:
    """The corner on the bench, its boards at their intended leans, each end where the shortcut line puts it.

    After `update`, `place` maps points (..., 3) in mm to pixels.
    """

    def __init__(self, canvas: Canvas, frame: tuple[int, ...]) -> None:
        left, bottom, right, top = frame
        self.frame = left, bottom + 34, right, top - 34  # the gaps are measured above and below
        self._bench = canvas.polygons(fill=BENCH)
        self._layers = [(canvas.polygons(edge=INK, width=LIGHT, joinstyle="round"), canvas.polygons(fill=SHORTCUT))
                        for _ in BOARDS]  # the further board, then the nearer one
        self._corner = canvas.lines(width=MEDIUM)
        self._seen_gaps = canvas.polygons(fill=SHORTCUT)  # over the corner line, or it hides a narrow gap
        self._leaders = canvas.lines(GUIDE, LIGHT)
        middle = (left + right) / 2
        self._readings = {board: Reading(canvas, middle + across, 0, SHORTCUT)
                          for board, across in (("tail", 50), ("pin", -90))}
        self._names = {board: canvas.text(0, 0, f"{board} board", align="center") for board in BOARDS}
        self._name_reach = name_reach(canvas, self._names.values())

    def update(self, corner: "Corner", gaps: "dict[str, Gap]", height: float, thickness: float, unit: str) -> None:
        """Draw the corner with its `Gap`s; height and thickness in mm."""
        view = View(bearing(corner, VIEW_TURN), VIEW_TILT)
        joined = stubs(corner, height, thickness, STUB)
        blocks = {board: self._block_as_struck(corner, board, getattr(joined, board), gaps[board]) for board in BOARDS}
        points = np.concatenate([*(block.reshape(-1, 3) for block in blocks.values()), joined.corner_line])
        (left, near), (right, far) = points[:, :2].min(axis=0), points[:, :2].max(axis=0)
        bench = np.array([[left, near, 0], [right, near, 0], [right, far, 0], [left, far, 0]])
        scale, shift = fit(view.flat(np.concatenate([points, bench])), self.frame, largest=1.6)
        self.place = lambda points: view.flat(points) * scale + shift
        self._bench.set_verts([self.place(bench)])
        seen_gaps = []
        nearer = "pin" if joined.seam.normal @ view.towards_viewer > 0 else "tail"
        for (solid, gap), board in zip(self._layers, sorted(BOARDS, key=nearer.__eq__), strict=True):
            names = np.array(getattr(joined, board).names)
            shown = facing(blocks[board], view)
            solid.set_verts(self.place(blocks[board][shown]))
            solid.set_facecolor([FILLS[board].get(name, FILLS[board]["far end"]) for name in names[shown]])
            gap.set_verts([self.place(gaps[board].solid)] if gaps[board].width else [])
            if gaps[board].width and shown[list(names).index("outer")]:
                seen_gaps.append(self.place(gaps[board].solid))
            outline = self.place(blocks[board][list(names).index("outer")])
            set_name(self._names[board], self._name_reach, board, outline)
        self._corner.set_segments([self.place(joined.corner_line)])
        self._seen_gaps.set_verts(seen_gaps)
        low, high = self.place(points)[:, 1].min(), self.place(points)[:, 1].max()
        self._measure(gaps, unit, {"bottom": low - 34, "top": high + 22})

    @staticmethod
    def _block_as_struck(corner, board, block, gap):
        """Faces (6, 4, 3) of a stub whose end is sawn to the shortcut line, shortened alike through its thickness."""
        vertices = block.vertices.copy()
        if gap.width:
            for vertex in ENDS[board][gap.opens_at]:
                vertices[vertex] += gap.width * corner.vector(f"{board}_level")
        return type(block)(vertices, block.names).faces

    def _measure(self, gaps, unit, levels):
        """The width of each gap, with a leader to its far edge; levels: heights on the canvas to write at."""
        leaders = []
        for board, gap in gaps.items():
            number, name = enlarged_number_and_unit(gap.width, unit)
            self._readings[board].set(number if gap.width else "", f"{name} gap" if gap.width else "")
            if gap.width:
                x, _ = self._readings[board].number.get_position()
                y = levels[gap.opens_at]
                self._readings[board].move(x, y)
                end = y + 16 if gap.opens_at == "bottom" else y - 6
                leaders.append([(x, end), self.place(gap.solid[1:].mean(axis=0))])
        self._leaders.set_segments(leaders)


class GapingFace:
    """One outer face laid flat and pushed up to the corner line, its gap shaded, and a lens on the gap's far edge."""

    def __init__(self, canvas: Canvas, board: str, frame: tuple[float, ...], lens: tuple[int, ...],
                 column: tuple[int, ...]) -> None:
        self.board, self.frame = board, frame
        self.wood = canvas.polygons(fill=FILLS[board]["outer"], edge=INK)
        self.corner_line = canvas.lines(INK, HEAVY)
        self.gap = canvas.polygons(fill=SHORTCUT)
        self.lens = Lens(canvas, lens, FILLS[board]["outer"])
        left, top = column
        canvas.text(left, top, FACE_NAMES[board], weight="bold", size=11)
        self.reading = Reading(canvas, left + 78, top - 34, SHORTCUT, LARGE)
        self._where = canvas.text(left + 86, top - 54, colour=SHORTCUT)
        words = ((SHORTCUT, "shortcut line"), (INK, "true end line"), (SHORTCUT, "too much"))
        self._angles = [Reading(canvas, left + 78, top - 84 - 22 * row, colour, words=text)
                        for row, (colour, text) in enumerate(words)]

    def update(self, shortcut: OneGauge, gap: "Gap", height: float, unit: str, fit_lens: bool) -> None:
        """Draw the face of a board of a OneGauge with its `Gap`; height: vertical, mm; unit: of `printing.UNITS`.

        fit_lens: whether the lens may magnify otherwise than before.
        """
        corner, board = shortcut.corner, self.board
        up = corner.slant_width(height, board)
        out_at_top = -up * np.tan(np.radians(corner.end_line(board)))
        shift_bottom = gap.width if gap.opens_at == "bottom" else 0.0
        shift_top = gap.width if gap.opens_at == "top" else 0.0
        length = 1.2 * STUB + max(shift_bottom, out_at_top + shift_top)
        hand = np.array([1 if board == "tail" else -1, 1])  # outside, the pin board's end is on the right
        outline = np.array([[shift_bottom, 0], [length, 0], [length, up], [out_at_top + shift_top, up]])
        corner_line = np.array([[0, 0], [out_at_top, up]])
        self.scale, shift = fit(np.concatenate([outline, corner_line]) * hand, self.frame, largest=1.3)

        def place(points):
            return np.asarray(points) * hand * self.scale + shift

        wood, wedge = place(outline), place(gap.flat)
        gapes = [wedge] if gap.width else []
        self.wood.set_verts([wood])
        self.gap.set_verts(gapes)
        self.corner_line.set_segments([place(corner_line)])
        middle = wedge[1:].mean(axis=0)
        self.lens.update(middle, gap.width * self.scale, self.scale, unit, [wood], gapes, wood[[[0, 1], [2, 3], [3, 0]]],
                         [place(corner_line)], ahead=(0, 0.3 if gap.opens_at == "bottom" else -0.3), fit=fit_lens)
        number, name = enlarged_number_and_unit(gap.width, unit)
        self.reading.set(number, f"{name} gap")
        self._where.set_text(f"at the {gap.opens_at}" if gap.width else "anywhere")
        error = abs(shortcut.error(board))
        finer = 0.005 <= error < 0.1  # or two lines that differ are written alike
        for row, angle in enumerate((shortcut.struck(board), corner.end_line(board), error)):
            self._angles[row].set(degrees(angle, 2 if finer else 1))
        self._angles[2].set(degrees(error, 2) if finer else tenths(error), "too much" if error else "off: exact")


class HoldLeansPicture(OnCanvas):
    """The whole picture, 920 × 430 pixels: the corner on the left, then each face with its lens and its numbers."""

    WIDTH, HEIGHT = 920, 430

    def __init__(self) -> None:
        self.canvas = Canvas(self.WIDTH, self.HEIGHT)
        self.corner = GapingCorner(self.canvas, (12, 12, 312, 418))
        self.faces = {board: GapingFace(self.canvas, board, (330 + OFF_GRID, bottom + 12 + OFF_GRID, 530, bottom + 190),
                                        (552, bottom + 52, 692, bottom + 192), (708, bottom + 178))
                      for board, bottom in (("tail", 222), ("pin", 8))}

    def update(self, corner: "Corner", unit: str = "mm", height: float = 120.0, thickness: float = 18.0,
               fit: bool = True) -> None:
        """Draw a scalar corner; height (vertical) and thickness in mm; lengths are written in `unit`, of `printing.UNITS`.

        fit: False to magnify as before, so that a gap that grows is seen to grow.
        """
        shortcut = OneGauge(corner)
        gaps = shortcut.hold_leans(height)
        self.corner.update(corner, gaps, height, thickness, unit)
        for board, face in self.faces.items():
            face.update(shortcut, gaps[board], height, unit, fit)

    @staticmethod
    def words(corner: "Corner", unit: str = "mm", height: float = 120.0, thickness: float = 18.0) -> "Words":
        """The picture's sentence."""
        return say_hold_leans(corner, height, unit)
