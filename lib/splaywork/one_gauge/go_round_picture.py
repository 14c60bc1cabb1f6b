"""Hold the dihedral and go round: a chain of four boards, and how far it misses after each corner."""

from typing import TYPE_CHECKING, Any

import numpy as np

from ..corner.picture import HEAVY, LIGHT, MEDIUM
from ..drawing.canvas import DASH, Canvas, OnCanvas
from ..drawing.labels import stacked
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

AFTER = ("", "After one corner", "After two corners", "After three corners", "After four corners")
NAMES = ("1 tail board", "2 pin board", "3 tail board", "4 pin board")
BROAD = 5.2  # points: of the black line, which shows from under the red one
LETTER = 9  # pixels: how tall a capital of a name is
DOT = 2.5 * on_circle(np.linspace(0, 2 * np.pi, 13))  # pixels: where a pointer ends
ROUNDING = 1e-9  # mm, degrees or pixels: less than this is nothing


class Chain:
    """The boards joined so far, each with its name, the next one, and where the next one's near end should be.

    After `update`, `place` maps points (..., 3) in mm to pixels.
    """

    ROWS = ((408, (2, 1)), (62, (3, 0)))  # baseline of the names above and under the chain, and the boards next to them
    ALONG = np.array([0.7, 0.5, 0.5, 0.3])  # of each board's length: where its pointer ends, away from the corner that misses
    INTO = 0.12  # of a board's width, from its edge next to its name: where its pointer ends

    def __init__(self, canvas: Canvas, frame: tuple[int, ...]) -> None:
        self.frame = frame
        self.boards = Sheets(canvas)
        self._next = canvas.lines(GUIDE, LIGHT, DASH)
        self.due = canvas.lines(INK, BROAD)
        self.struck = canvas.lines(SHORTCUT, MEDIUM)  # narrower, so that black shows at both its sides where the two agree
        self._pointers, self._dots = canvas.lines(GUIDE, LIGHT, edged=True), canvas.polygons(fill=GUIDE)
        self.names = [canvas.text(0, 0, name, align="center") for name in NAMES]
        self._widths = [canvas.width_of(name) for name in self.names]

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
        self._name(round_.outlines[:corners + 1])

    def _name(self, outlines):
        """Point at each board from its name: above the chain for the two behind, under it for the two in front."""
        pointers = []
        for y, numbers in self.ROWS:
            numbers = [number for number in numbers if number < len(outlines)]
            inside, clear = (1 - self.INTO, -5) if y > self.frame[3] else (self.INTO, LETTER + 3)
            along = self.ALONG[numbers][:, None]
            bottoms, tops = (outlines[numbers, near] + along * (outlines[numbers, far] - outlines[numbers, near])
                             for near, far in ((0, 1), (3, 2)))
            at = self.place(bottoms + inside * (tops - bottoms))
            middles = stacked(at[:, 0], [self._widths[number] for number in numbers], self.frame[0], self.frame[2], gap=16)
            for number, middle in zip(numbers, middles, strict=True):
                self.names[number].set_position((middle, y))
            pointers += [[(middle, y + clear), point] for middle, point in zip(middles, at, strict=True)]
        for number, name in enumerate(self.names):
            name.set_visible(number < len(outlines))
        self._pointers.set_segments(pointers)
        self._dots.set_verts([point + DOT for _, point in pointers])


class Turned:
    """Two rays that open by the angle of turn, times a factor that the words state."""

    SHARE, MOST = 60, 120  # degrees to open by when the factor is chosen, and never beyond
    factor = None  # of the last picture shown

    def __init__(self, canvas: Canvas, at: tuple[int, ...], radius: float) -> None:
        self._at, self._radius = np.array(at), radius
        self.due = canvas.lines(INK, BROAD)
        self.struck = canvas.lines(SHORTCUT, MEDIUM)
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

    Returns struck and due as (2, 2): across and along the due end, mm from its bottom; and which of its corners misses more.
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
    """The next board's near end as it comes and as it should be, with a lens on the corner of it that misses more."""

    def __init__(self, canvas: Canvas, frame: tuple[float, ...], lens: tuple[int, ...]) -> None:
        self.frame = frame
        self.due = canvas.lines(INK, HEAVY)
        self.gap = canvas.polygons(fill=SHORTCUT, edge=SHORTCUT, width=0.7)  # over the line, or it hides a narrow gap
        self.struck = canvas.lines(SHORTCUT, MEDIUM)
        self.lens = Lens(canvas, lens, WHITE)

    def update(self, struck: np.ndarray, due: np.ndarray, unit: str, fit_lens: bool) -> None:
        """struck, due: the two near ends, (2, 3) mm, bottom and top."""
        struck, due, worse = _seen_square_on(struck, due)
        self.scale, shift = _fit(np.concatenate([struck, due]), self.frame, largest=1)
        struck, due = struck * self.scale + shift, due * self.scale + shift
        apart = float(np.linalg.norm(struck[worse] - due[worse]))
        missed = apart if apart > ROUNDING else 0.0
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
            return [np.array([crossing, struck[corner], due[corner]]) for corner in (0, 1)]
    return [np.array([struck[0], struck[1], due[1]]), np.array([struck[0], due[1], due[0]])]


def _key(corners):
    """What the black line, the red line and the dashed outline show after that many corners."""
    if corners == 4:
        return "the near end of board 1, where it began", "where corner 4 puts that end", "board 1, where it began"
    following = f"board {corners + 1}"
    return (f"where the near end of {following} should be", f"where corner {corners} puts that end",
            f"where {following} should be")


class GoRoundPicture(OnCanvas):
    """The whole picture, 920 × 430 pixels: the chain on the left, on the right how far its end is out and turned."""

    WIDTH, HEIGHT = 920, 430

    def __init__(self) -> None:
        self.canvas = Canvas(self.WIDTH, self.HEIGHT)
        self.chain = Chain(self.canvas, (12, 88, 530, 394))
        self.missed = Missed(self.canvas, (556 + OFF_GRID, 240, 606, 390), (626, 252, 746, 392))
        self.gap = Reading(self.canvas, 846, 366, SHORTCUT, LARGE)
        self.canvas.text(762, 340, "between the two lines", colour=SHORTCUT)
        self.canvas.text(762, 320, "where furthest apart", colour=SHORTCUT)
        self.turned = Turned(self.canvas, (626, 46), 120)
        self.turn = Reading(self.canvas, 846, 118, SHORTCUT, LARGE)
        self.canvas.text(762, 92, "this end is turned", colour=SHORTCUT)
        self._after = self.canvas.text(556, 404, weight="bold", size=11)
        self.key = []
        for x, y, colour, *pen in ((14, 40, INK, BROAD), (354, 40, SHORTCUT, MEDIUM), (14, 18, GUIDE, LIGHT, DASH)):
            self.canvas.lines(colour, *pen).set_segments([[(x, y), (x + 24, y)]])
            self.key.append(self.canvas.text(x + 30, y - 4, colour=colour))

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
        self._after.set_text(f"{AFTER[corners]}: near end of board {corners % 4 + 1}")
        for words, text in zip(self.key, _key(corners), strict=True):
            words.set_text(text)

    @staticmethod
    def words(corner: "Corner", unit: str = "mm", height: float = 120.0, tail_length: float = 440.0, pin_length: float = 380.0,
              corners: Any = 4) -> "Words":
        """The picture's sentence."""
        return say_go_round(corner, height, tail_length, pin_length, int(corners), unit)
