"""What lies where on the teacher's bench: a drawing for the printed lesson, from above and from one end, with sizes."""

from dataclasses import dataclass, replace
from functools import cache
from math import cos, radians, tan
from typing import Any

import numpy as np

from ..box.paper_model import PaperModel
from ..box.paper_model_sheets import FOLDED_OUT as LEAF_OUT
from ..box.paper_model_sheets import LEAF as STRIP
from ..box.paper_model_sheets import WEDGE_TOP
from ..common.boards import BOARDS
from ..common.printing import intended, lengths
from ..common.rotations import turned
from ..common.wedges import FLAT_TOP, wedge_side
from ..corner.corner import Corner
from ..drawing.paper import Area, Label, Stroke, moved
from ..joint.bench_steps import WEDGE
from .kit_sheets import KITS, LONG, ROOM, THICK, paper_box

TALL = 49.0  # mm that the drawing takes of the page
TYPE = 9.0  # points
PLAN, END = 1 / 7, 1 / 4  # scale from above, and from one end
BENCH = np.array([[0.0, -44.0], [122.0, -6.5]])  # mm on the page
# Where the bottom edges meet, inside; how far the corner is turned; and on which side, from the class, the tail board lies.
CORNERS = {"04": (96.0, -26.0, 0.0, "left"), "07": (89.0, -30.2, -45.0, "right")}
PAPER_SCALE = 3.5  # of the paper boxes, printed on A4
SECTION = np.array([152.0, -45.0])  # bottom arris of the outer face, of the board that is seen from its end
PAST = LONG / 2  # mm that the board to be marked runs past the other


@dataclass(frozen=True)
class Thing:
    """A thing on the bench, from above. what: its label; outline (n, 2) mm in its own place, at (2,) on the page; label: where
    its words begin, mm from there; kind: of `FILLS`; lines: more of it, as the outline."""

    what: str
    outline: tuple
    at: tuple
    label: tuple
    kind: str = "wedge"
    lines: tuple = ()


def _bar(long, wide, turn=0.0):
    """A bar from the origin, `long` mm to the right before it is turned."""
    return tuple(map(tuple, np.array([[0, 0], [long, 0], [long, wide], [0, wide]]) @ turned(turn)))


def _bevel(what, at, lean):
    """A bevel set to a lean from square: its stock, and its blade."""
    return Thing(what, _bar(110, 20), at, (0, -3.6), "tail end", (_bar(140, 12, 90 - lean),))


def _box(net, middle):
    """A paper box from above: its rim, the bottom inside it, the corners between, and a wedge with its leaf on either side."""
    lean, wide = float(net.leans[0, 0]), float(net.bottoms[0]) / PAPER_SCALE / 2
    out = float(net.slants[0]) / PAPER_SCALE * np.sin(radians(lean))
    square = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]])
    base, rim = wide * square, (wide + out) * square
    ways = [np.array(way) for way in zip(base, rim, strict=True)]
    far = wide + out + WEDGE_TOP
    wedges = [np.array([[side * wide, 0], [side * far, 0], [side * far, LEAF_OUT], [side * far, 0]]) for side in (-1, 1)]
    tuples = [tuple(map(tuple, line)) for line in (base, *ways, *wedges)]
    return Thing(f"{lean:.0f}", tuple(map(tuple, rim)), middle, (-2.0, -1.1), "wedge", tuple(tuples))


def _strip(middle):
    """The height strip folded square, its fold towards the class."""
    away = STRIP / np.sqrt(2)
    return Thing("", ((-away, away), (0, 0), (away, away), (0, 0)), middle, (0, 0))


COVERS = (((2.6, -43.8), (2.6, -25.5), (56.2, -25.5), (56.2, -43.8)),
          ((58.2, -43.8), (58.2, -7.0), (121.0, -7.0), (121.0, -43.8)))  # the carton, and the cloth


@cache
def things(notebook: str) -> tuple[Thing, ...]:
    """What lies on the bench of a lesson that is in `CORNERS`, beside its corner."""
    if notebook == "04":
        return (Thing("straightedge, 140 mm, pointed", ((0, 0), (18, 20), (122, 20), (140, 0)), (12, -12.4), (0, -3.8)),
                Thing("rule", _bar(150, 18), (12, -22.2), (0, -3.8)),
                Thing("pencil", _bar(120, 8), (12, -30.4), (0, -3.8)),
                Thing("try square", _bar(110, 18), (5, -39.6), (0, -3.6), "tail end", (_bar(140, 18, 90),)),
                _bevel("bevel, 30°", (40, -39.6), 30))
    model = PaperModel.of(paper_box())
    return (replace(_bevel("bevel, 28°", (3, -24.9), 28), label=(8.7, 8.2)),
            replace(_bevel("bevel, 24°", (28, -24.9), 24), label=(8.7, 8.2)),
            _box(model.projected, (13.5, -34.6)), _strip((27.6, -37.6)), _box(model.one_gauge, (44.2, -34.6)))


def bench_setup(notebook: str) -> list[Any]:
    """The drawing of a lesson, hung from (0, 0), `TALL` mm high; nothing where the lesson has none.

    From above: the bench, screen and class, the room's corner with its wedges and clamps, and what lies beside it. From one
    end: a board between its wedges, with all sizes of the kit.
    """
    if notebook not in CORNERS:
        return []
    corner, closed = Corner(*KITS[notebook].room[0]), KITS[notebook].shortcut
    low, high = BENCH
    round_it = [low, (high[0], low[1]), high, (low[0], high[1])]
    items = [_area("wedge", round_it, "bench"),
             Stroke("outline", _closed(round_it)),
             Stroke("arm", np.array([[46.0, -3.4], [76.0, -3.4]]), "screen"), _label("screen", 78, -4.4),
             _label("you", 104, -4.4), _label("The bench from above", 0, -4.4, "bold"), _label("the class", 34, -48)]
    for thing in things(notebook):
        items += _drawn(thing)
    items += [_set(item, *CORNERS[notebook]) for item in (_sawn(corner) if closed else _butted(corner))]
    items += _notes(closed)
    return items + _from_the_end(corner)


def _label(text, x, y, weight="normal"):
    return Label(text, np.array([x, y], dtype=float), TYPE, weight=weight)


def _area(kind, points, name=""):
    return Area(kind, np.array([np.asarray(point, dtype=float) for point in points]), name)


def _closed(points):
    points = np.array([np.asarray(point, dtype=float) for point in points])
    return np.concatenate([points, points[:1]])


def _drawn(thing):
    at = np.array(thing.at, dtype=float)
    outline = np.array(thing.outline) * PLAN + at
    rest = [_closed(np.array(line) * PLAN + at) for line in thing.lines]
    return [Area(thing.kind, outline, thing.what), Stroke("outline", _closed(outline), thing.what),
            *(Stroke("outline", line, thing.what) for line in rest),
            *([_label(thing.what, *(at + thing.label))] if thing.what else [])]


def _board(board, lean, ends):
    """The inner face and the top edge of a board that leans out, from above: ends (2, 2), where it begins and ends along
    itself, at its bottom edge and at its top edge; mm, in a frame with the board's length to the right and its outside down."""
    out, edge = ROOM * tan(radians(lean)), THICK / cos(radians(lean))
    (start, stop), (top_start, top_stop) = ends
    inner = [(start, 0), (stop, 0), (top_stop, -out), (top_start, -out)]
    rim = [(top_start, -out), (top_stop, -out), (top_stop, -out - edge), (top_start, -out - edge)]
    return (f"{board} inner", inner), (f"{board} outer", rim)


def _wedges(lean, along):
    """Both wedges of a board from above: the upper one on its inner face, and what the board leaves free of the lower one; the
    clamp across them, as a line."""
    out, edge = ROOM * tan(radians(lean)), THICK / cos(radians(lean))
    span = along, along + WEDGE
    pair = [[(x, y) for x, y in ((span[0], high), (span[1], high), (span[1], low), (span[0], low))]
            for high, low in ((FLAT_TOP, -out), (-out - edge, -edge - out - FLAT_TOP))]
    middle = along + WEDGE / 2
    return pair, [(middle, FLAT_TOP + 12), (middle, -edge - out - FLAT_TOP - 12)]


def _placed(points, across):
    """From a board's own frame to the page: the tail board lies along the front edge of the bench, to the left of the corner,
    and the pin board (across) along its right edge."""
    points = np.array([np.asarray(point, dtype=float) for point in points])
    return (np.stack([-points[:, 1], points[:, 0]], axis=1) if across else points * (-1, 1)) * PLAN


def _corner(corner, ends, wedges):
    items = []
    for board, across in zip(BOARDS, (False, True), strict=True):
        for kind, outline in _board(board, corner.lean(board), ends[board]):
            items.append(Area(kind, _placed(outline, across), f"{board} board"))
    for board, across in zip(BOARDS, (False, True), strict=True):
        pair, clamp = _wedges(corner.lean(board), wedges[board])
        for outline in pair:
            shown = _placed(outline, across)
            items += [Area("wedge", shown, "wedge"), Stroke("outline", _closed(shown))]
        items.append(Stroke("struck", _placed(clamp, across), "clamp"))
    return items


def _butted(corner):
    """Square ends: the pin board runs past the tail board's end."""
    whole, past = [(0, LONG)] * 2, [(-PAST, LONG - PAST)] * 2
    return _corner(corner, {"tail": whole, "pin": past}, {"tail": LONG - 50, "pin": LONG - PAST - 50})


def _sawn(corner):
    """Ends that meet, with a white card inside the corner."""
    tail, pin = (ROOM * tan(radians(corner.lean(board))) for board in BOARDS)
    ends = {"tail": [(0, LONG), (-pin, LONG)], "pin": [(0, LONG), (-tail, LONG)]}
    items = _corner(corner, ends, {board: LONG - 50 for board in BOARDS})
    return [*items, Stroke("cheek", np.array([[-66.0, 10.0], [-12.0, 64.0]]) * PLAN, "white card")]


def _set(item, x, y, turn, tail):
    """A part of the corner on the page, turned with it, and over, where the tail board is to lie on the right."""
    return replace(item, points=item.points @ turned(turn) * (1 if tail == "left" else -1, 1) + (x, y))


def _notes(closed):
    """What is written beside the corner."""
    if closed:
        words = (("white card", 81.2, -12.4), ("for PIN", 11.7, -20.4), ("for TAIL", 36.7, -20.4), ("height", 22.9, -29),
                 ("strip", 23.9, -32.2), ("dashed: covered", 70, -48))
        return [*(_label(*each) for each in words), _label("PIN", 73.4, -24, "bold"), _label("TAIL", 98, -24, "bold"),
                *(Stroke("join", _closed(cover), "cover") for cover in COVERS)]
    return [_label("TAIL", 80, -31, "bold"), _label("PIN", 97.6, -36, "bold"),
            _label("PIN is marked", 92, -48), Stroke("rule", np.array([[102.0, -45.2], [102.0, -38.0]]))]


def _from_the_end(corner):
    """A board and its two wedges, seen along the board, with the sizes that the kit has."""
    lean = corner.lean("tail")
    out, edge = ROOM * tan(radians(lean)), THICK / cos(radians(lean))
    under = wedge_side(lean, ROOM)
    twin = np.array([[-edge - FLAT_TOP, 0], [-edge, 0], [out - edge, ROOM], [-edge - FLAT_TOP, ROOM]])
    board = np.array([[-edge, 0], [0, 0], [out, ROOM], [out - edge, ROOM]])
    shapes = [("wedge", under), ("wedge", twin), ("tail end", board)]
    items = []
    for kind, outline in shapes:
        items += [Area(kind, outline * END, kind), Stroke("outline", _closed(outline * END))]
    floor = np.array([[-edge - FLAT_TOP - 16, 0], [out + FLAT_TOP + 24, 0]]) * END
    clamp = np.array([[-edge - FLAT_TOP - 9, 62], [out + FLAT_TOP + 9, 62]]) * END
    far = (out + FLAT_TOP) * END
    near = (-edge - FLAT_TOP) * END
    items += [Stroke("arm", floor), Stroke("struck", clamp, "clamp"), _label("clamp", far + 3.2, 14.6),
              Stroke("struck", np.array([[far - 2.5, -1.6], [far - 2.5, 8.0]])), _label("clamp", far + 3.2, 4.4),
              _label("thick end", far - 18.5, 1.2), _label("inside", near - 1, ROOM * END + 1.6),
              _label("outside", out * END + 1, ROOM * END + 1.6)]
    items = [moved(item, SECTION) for item in items]
    each = [lengths((LONG, corner.slant_width(ROOM, board), THICK), "mm") for board in BOARDS]
    if corner.tail_lean == corner.pin_lean:
        sizes = [f"{ROOM:g} mm high, both lean {intended(lean)}", f"each {each[0]}"]
    else:
        sizes = [f"{ROOM:g} mm high; tail {intended(lean)}, pin {intended(corner.pin_lean)}",
                 *(f"{board} board {size}" for board, size in zip(BOARDS, each, strict=True))]
    return [*items, *(_label(text, 127, -2.0 - 3.5 * line) for line, text in enumerate(sizes))]
