"""What is drawn on bench sheets, in mm, hung from (0, 0): a board's faces with their lengths, a corner laid flat."""

from typing import TYPE_CHECKING, Any

import numpy as np

from ..common.printing import degrees, length
from ..common.tolerances import SAME_SETTING
from ..drawing.lettering import INCH, height_of, width_of
from ..drawing.page import SMALL, right
from ..drawing.palette import GUIDE
from ..drawing.paper import Area, Label, Stroke, moved
from ..joint.picture import SURFACE_NAMES, SURFACES, laid_flat
from ..joint.settings_words import letters_of

if TYPE_CHECKING:
    from ..joint.joint import Joint
    from .box import Box
    from .cut_list import BoardCut

TALLEST = 36.0  # mm that a board may be drawn high
NUMBER, CAPTION = 12.0, 7.5  # points of a length, and of words under a surface
_LINES = {"end line": "struck", "cut-off line": "join", "baseline": "baseline", "cheek": "cheek",
          "scribed": "end line"}


def signed(angle: float) -> str:
    """"+13.9°", "−5.8°" or "square"."""
    if abs(angle) < SAME_SETTING:
        return "square"
    return f"{'+' if angle > 0 else ''}{degrees(angle)}"


def _ticks(ends):
    return [Stroke("arm", end + 0.9 * np.array([[-1, -1], [1, 1]])) for end in ends]


def _level_dimension(starts, y, text):
    """A level dimension line at height y between the two points (2, 2), its number on the far side of it."""
    ends = np.array([[x, y] for x in starts[:, 0]])
    far = np.sign(y - starts[0, 1])
    drop = 2.0 if far > 0 else -1.5 - 0.8 * NUMBER * INCH / 72
    return [Stroke("dimension", ends, "dimension"), *_ticks(ends),
            *(Stroke("dimension", np.array([[x, start + far], [x, y + 1.2 * far]])) for x, start in starts),
            Label(text, ends.mean(axis=0) + np.array([0, drop]), NUMBER, align="center", weight="bold")]


def _upright_dimension(x, low, high, text):
    """An upright dimension line, its number turned, on its left."""
    ends = np.array([[x, low], [x, high]])
    return [Stroke("dimension", ends, "dimension"), *_ticks(ends),
            Label(text, ends.mean(axis=0) - np.array([1.8, 0]), NUMBER, 90, "center", "bold")]


def board_face(box: "Box", cuts: "list[BoardCut]", face: str, width: float, unit: str) -> tuple:
    """A board's "outer" or "inner" face as one looks at it, its top edge up, with its lengths; and how tall it is, mm.

    cuts: its `BoardCut`, and those of boards that are equal. The inner face shows the left end on the right.
    """
    cut = cuts[0]
    number = ("outer", "inner").index(face)
    board, mirror = box.boards[cut.name], np.array([1 - 2 * number, 1])
    seen = {name: board.in_board(getattr(board, name)[number])[..., :2] * mirror
            for name in ("outlines", "blank", "end_lines", "baselines")}
    everything = np.concatenate([points.reshape(-1, 2) for points in seen.values()])
    low, high = everything.min(axis=0), everything.max(axis=0)
    scale = min((width - 16) / (high - low)[0], TALLEST / (high - low)[1])
    drawn = (high - low) * scale
    label_tall, above, below = 15.0, 10.0, 13.0
    block = max(drawn[1], 22.0)
    left = 10 + (width - 10 - drawn[0]) / 2
    origin = np.array([left, -label_tall - above - (block + drawn[1]) / 2])
    seen = {name: (points - low) * scale + origin for name, points in seen.items()}
    order = [0, 1] if face == "outer" else [1, 0]
    end_lines, baselines, blank = (seen[name][order] for name in ("end_lines", "baselines", "blank"))
    kind = "tail" if cut.carries == "tails" else "pin"
    around = np.array([blank[0, 0], blank[1, 0], blank[1, 1], blank[0, 1]])
    items: list[Any] = [Area("sawn off", around, "blank"), Area(f"{kind} {face}", seen["outlines"], "face")]
    for line in end_lines:
        items += [Stroke("struck", line, "end line"),
                  Stroke("square", np.array([line[0], [line[0, 0], max(line[1, 1], line[0, 1] + 5)]]), "square")]
    items += [Stroke("baseline", line, "baseline") for line in baselines]
    spans = end_lines if face == "outer" else baselines
    sizes = (cut.outer_bottom, cut.outer_top) if face == "outer" else (cut.inner_bottom, cut.inner_top)
    top, bottom = origin[1] + drawn[1], origin[1]
    for rim, (size, y) in enumerate(zip(sizes, (bottom - 4, top + 4), strict=True)):
        items += _level_dimension(spans[:, rim], y, length(size, unit))
    if face == "outer":
        items += [Stroke("dimension", np.array([[left - 5.2, y], [outline[:, 0].min() - 1, y]]))
                  for y, outline in ((bottom, around[:2]), (top, around[2:]))]
        items += _upright_dimension(left - 4, bottom, top, length(cut.slant_width, unit))
    items += _end_words(cuts, face, width)
    return items, label_tall + above + block + below


def _end_words(cuts, face, width):
    """At the top left and right: which end, at which corner, and its end line."""
    items = []
    for place, number in (("left", 0), ("right", 1)):
        ends = [cut.ends[number if face == "outer" else 1 - number] for cut in cuts]
        end, corners = ends[0], " / ".join(other.corner for other in ends)
        rows = [(f"{end.side} end".upper(), 9.0, "bold", None), (f"{corners} corner", SMALL, "normal", GUIDE)]
        if face == "outer":
            rows.append((f"end line {signed(end.end_line)}", 11.0, "bold", None))
        y = 0.0
        for text, size, weight, colour in rows:
            edge = width if place == "right" else width_of(text, size, weight)
            items.append(right(text, edge, y - 0.8 * height_of(size), size, weight, colour))
            y -= height_of(size)
    return items


def flat_surfaces(joint: "Joint", board: str, title: str, mirrored: bool, width: float, tallest: float = 56.0) -> tuple:
    """The outer face, end and inner face of "tail" or "pin" in a row, with every line; and how tall it is, mm.

    mirrored: for the corner that is the mirror image of the one that `joint` draws. Under each stands which bevel setting
    strikes its lines, over all the title.
    """
    names = SURFACES[board][::-1] if mirrored else SURFACES[board]
    laid = [laid_flat(joint, board, name, mirrored)[1:] for name in names]
    sizes = np.array([np.ptp(blank, axis=0) for blank, *_ in laid])
    columns = width * np.array([0.38, 0.24, 0.38])
    scale = min(((columns - 5) / sizes[:, 0]).min(), tallest / sizes[:, 1].max())
    tall = sizes[:, 1].max() * scale
    letters = letters_of(joint)
    head = height_of(11) + 3
    items: list[Any] = [Label(title, np.array([0, -0.8 * height_of(11)]), 11.0, weight="bold")]
    left = 0.0
    for name, wide, size, (blank, pieces, struck) in zip(names, columns, sizes, laid, strict=True):
        low = np.array([left + (wide - size[0] * scale) / 2, -head - (tall + size[1] * scale) / 2])
        shift = low - blank.min(axis=0) * scale
        items.append(Area("sawn off", blank * scale + shift, name))
        items += [Area(f"{board} {name}", piece * scale + shift, name) for piece in pieces]
        items += [Stroke(_LINES[kind], line * scale + shift, kind) for kind, line in struck]
        words = [(SURFACE_NAMES[name], "bold")]
        for kind, what in (("end line", "end line"), ("cheek", "cheeks")):
            setting = letters.get((board, name, kind))
            words += [(f"{what}: {setting}", "normal")] if setting and (name != "end" or kind == "cheek") else []
        y = -head - tall - 1.5
        for text, weight in words:
            at = np.array([left + wide / 2, y - 0.8 * height_of(CAPTION)])
            items.append(Label(text, at, CAPTION, align="center", weight=weight))
            y -= height_of(CAPTION)
        left += wide
    return items, head + tall + 1.5 + 3 * height_of(CAPTION) + 2


def beside(items: list, shift: tuple[float, ...]) -> list:
    """Items moved by (x, y) mm."""
    return [moved(item, np.array(shift, dtype=float)) for item in items]
