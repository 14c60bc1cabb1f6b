"""Hold the dihedral and go round: a chain of four boards, and how far it misses after each corner."""

from typing import TYPE_CHECKING, Any

import numpy as np

from ..corner.picture import HEAVY, LIGHT, MEDIUM
from ..drawing.canvas import DASH, Canvas, OnCanvas
from ..drawing.lens import LARGE, OFF_GRID, Lens, Reading, largest_step, number_and_unit, tenths, times
from ..drawing.palette import GUIDE, INK, SHORTCUT, WHITE
from ..drawing.sheets import Sheets, back_to_front
from ..drawing.view import fit as _fit
from ..drawing.view import on_circle
from .close_corners_picture import VIEW, sheets_of
from .one_gauge import OneGauge
from .words import say_go_round

if TYPE_CHECKING:
    from ..common.text import Words
    from ..corner.corner import Corner
    from .one_gauge import Round

AFTER = ("", "After one corner", "After two corners", "After three corners", "After all four corners")
ROUNDING = 1e-9  # mm, degrees or pixels: less than this is nothing


class Chain:
    """The boards joined so far, the next one, and where the next one's near end should be.

    After `update`, `place` maps points (..., 3) in mm to pixels.
    """

    def __init__(self, canvas: Canvas, frame: tuple[int, ...]) -> None:
        self.frame = frame
        self.boards = Sheets(canvas)
        self._next = canvas.lines(GUIDE, LIGHT, DASH)
        self.due = canvas.lines(INK, HEAVY)
        self.struck = canvas.lines(SHORTCUT, HEAVY)

    def update(self, round_: "Round", corners: Any, struck: float, due: np.ndarray) -> None:
        """Draw a `Round` after that many corners; struck, due: the near end that comes next, (2, 3)."""
        flat = VIEW.flat(np.concatenate([round_.outlines, round_.next_outlines]).reshape(-1, 3))
        scale, shift = _fit(flat, self.frame, largest=1)
        self.place = lambda points: VIEW.flat(points) * scale + shift
        boards = sheets_of(round_.outlines)[:corners + 1]
        self.boards.update(back_to_front(boards, VIEW), VIEW, self.place)
        next_board = round_.next_outlines[corners - 1]
        self._next.set_segments([self.place(np.vstack([next_board, next_board[:1]]))])
        self.due.set_segments([self.place(due)])
        self.struck.set_segments([self.place(struck)])


class Turned:
    """Two rays that open by the angle of turn, times a factor that is stated."""

    SHARE, MOST = 60, 120  # degrees to open by when the factor is chosen, and never beyond
    factor = None  # of the last picture shown

    def __init__(self, canvas: Canvas, at: tuple[int, ...], radius: float) -> None:
        self._at, self._radius = np.array(at), radius
        self.due = canvas.lines(INK, HEAVY)
        self.struck = canvas.lines(SHORTCUT, HEAVY)
        self._arc = canvas.lines(SHORTCUT, LIGHT)
        self._words = canvas.text(at[0], at[1] - 24, colour=GUIDE)

    def update(self, angle: float, fit: bool = True) -> None:
        """angle in degrees; fit: False to keep the factor, so that an angle that grows is seen to grow."""
        if fit or self.factor is None:
            self.factor = largest_step(self.SHARE / angle) if angle else 1
        elif angle:
            self.factor = min(self.factor, self.MOST / angle)
        opened = np.radians(np.linspace(0, angle * self.factor, 20))
        arc = self._at + self._radius * on_circle(opened)
        self.due.set_segments([[self._at, arc[0]]])
        self.struck.set_segments([[self._at, arc[-1]]])
        self._arc.set_segments([self._at + 0.8 * (arc - self._at)])
        self._words.set_text(f"drawn {times(self.factor)} as large" if self.factor > 1 else "drawn as it is")


def _seen_square_on(struck, due):
    """Both ends (2, 3) seen square to the due end and to the larger of the misses, which both show in full length.

    Returns struck and due as (2, 2): across and along the due end, mm from its foot; and which end misses more.
    """
    misses = struck - due
    worse = int(np.linalg.norm(misses, axis=1).argmax())
    along = (due[1] - due[0]) / np.linalg.norm(due[1] - due[0])
    across = misses[worse] - misses[worse] @ along * along
    if np.linalg.norm(across) < ROUNDING:  # no miss, or all of it along the end: any view from the side will do
        across = np.cross(along, VIEW.towards_viewer)
    axes = np.column_stack([across / np.linalg.norm(across), along])
    return (struck - due[0]) @ axes, (due - due[0]) @ axes, worse


class Missed:
    """The next board's near end as it comes and as it should be, with a lens on the end of it that misses more."""

    def __init__(self, canvas: Canvas, frame: tuple[float, ...], lens: tuple[int, ...]) -> None:
        self.frame = frame
        self.due = canvas.lines(INK, HEAVY)
        self.gap = canvas.polygons(fill=SHORTCUT, edge=SHORTCUT, width=0.7)  # over the line, or it hides a narrow gap
        self.struck = canvas.lines(SHORTCUT, MEDIUM)
        self.lens = Lens(canvas, lens, WHITE)

    def update(self, struck: float, due: np.ndarray, unit: str, fit_lens: bool) -> None:
        """struck, due: the two near ends, (2, 3) mm, foot and head."""
        struck, due, worse = _seen_square_on(struck, due)
        self.scale, shift = _fit(np.concatenate([struck, due]), self.frame, largest=1)
        struck, due = struck * self.scale + shift, due * self.scale + shift
        missed = np.linalg.norm(struck[worse] - due[worse])
        missed = missed if missed > ROUNDING else 0
        halves = _between(struck, due) if missed else []
        self.gap.set_verts(halves)
        self.struck.set_segments([struck])
        self.due.set_segments([due])
        self.lens.update((struck[worse] + due[worse]) / 2, missed, self.scale, unit, gap=halves, true=[due],
                         ahead=(0, -0.2 if worse else 0.2), fit=fit_lens)


def _between(struck, due):
    """The area between two lines (2, 2), as triangles; they may cross."""
    ways = struck[1] - struck[0], due[1] - due[0]
    turn = ways[0][0] * ways[1][1] - ways[0][1] * ways[1][0]
    start = due[0] - struck[0]
    if abs(turn) > 1e-12:
        share, of_due = ((start[0] * way[1] - start[1] * way[0]) / turn for way in reversed(ways))
        if 0 < share < 1 and 0 < of_due < 1:
            crossing = struck[0] + share * ways[0]
            return [np.array([crossing, struck[end], due[end]]) for end in (0, 1)]
    return [np.array([struck[0], struck[1], due[1]]), np.array([struck[0], due[1], due[0]])]


class GoRoundPicture(OnCanvas):
    """The whole picture, 920 × 430 pixels: the chain on the left, on the right how far its end is out and turned."""

    WIDTH, HEIGHT = 920, 430

    def __init__(self) -> None:
        self.canvas = Canvas(self.WIDTH, self.HEIGHT)
        self.chain = Chain(self.canvas, (12, 62, 530, 418))
        self.missed = Missed(self.canvas, (556 + OFF_GRID, 240, 606, 390), (626, 252, 746, 392))
        self.gap = Reading(self.canvas, 846, 366, SHORTCUT, LARGE)
        self.canvas.text(762, 340, "largest error", colour=SHORTCUT)
        self.canvas.text(762, 320, "of the next end", colour=SHORTCUT)
        self.turned = Turned(self.canvas, (626, 46), 120)
        self.turn = Reading(self.canvas, 846, 118, SHORTCUT, LARGE, "turned")
        self._after = self.canvas.text(556, 404, weight="bold", size=11)
        for x, colour, words in ((14, INK, "where the next end should be"), (284, SHORTCUT, "where it comes")):
            self.canvas.lines(colour, HEAVY).set_segments([[(x, 40), (x + 24, 40)]])
            self.canvas.text(x + 30, 36, words, colour=colour)
        self.canvas.lines(GUIDE, LIGHT, DASH).set_segments([[(14, 18), (38, 18)]])
        self.canvas.text(44, 14, "the next board, where it should be", colour=GUIDE)

    def update(self, corner: "Corner", unit: str = "mm", height: float = 120.0, tail_length: float = 440.0,
               pin_length: float = 380.0, corners: Any = 4, fit: bool = True) -> None:
        """Draw the chain of a scalar corner after 1 to 4 `corners`. Height and bottom edges in mm, as intended; lengths are
        written in `unit`, of `printing.UNITS`. fit: False to enlarge as before."""
        round_ = OneGauge(corner).go_round(height, tail_length, pin_length)
        corners = int(corners)
        struck, due = round_.outlines[corners - 1][[1, 2]], round_.next_outlines[corners - 1][[0, 3]]
        self.chain.update(round_, corners, struck, due)
        self.missed.update(struck, due, unit, fit)
        gap, turn = (missed[corners - 1] if missed[corners - 1] > ROUNDING else 0
                     for missed in (round_.gaps, round_.rotations))
        number, name = number_and_unit(gap, unit)
        self.gap.set(number, name)
        self.turned.update(turn, fit)
        self.turn.set(tenths(turn))
        self._after.set_text(AFTER[corners])

    @staticmethod
    def words(corner: "Corner", unit: str = "mm", height: float = 120.0, tail_length: float = 440.0, pin_length: float = 380.0,
              corners: Any = 4) -> "Words":
        """The picture's sentence."""
        return say_go_round(corner, height, tail_length, pin_length, int(corners), unit)
