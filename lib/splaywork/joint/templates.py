"""Wrap templates: outer face, end and inner face of a board's end in one strip of paper, at true scale."""

from typing import TYPE_CHECKING

import numpy as np

from ..common.boards import BOARDS
from ..common.tolerances import SAME_SETTING
from ..drawing.lettering import height_of, letters, width_of, wrapped
from ..drawing.paper import Area, Drawing, Label, Stroke
from .words import board_end, corner_name, joint_sizes, proud

if TYPE_CHECKING:
    from ..corner.corner import Corner
    from .joint import Joint

HANDS, READINGS = ("left", "right"), ("outside", "inside")
STRIP = ("outer", "end", "inner")
HANDLE = 34.0  # mm of paper beyond the baseline, to hold and to read
BLOCK = 24.0  # mm that the words on it may be wide
LONGEST = 60  # characters of a corner's name
_MIRROR = np.array([-1.0, 1.0])

_KEY = (("outline", "cut the paper; at the rims, the wood's arrises"), ("fold", "fold, on an arris"),
        ("cheek", "cheek: saw in the waste beside it"), ("baseline", "baseline"))
_END_LINE = ("end line", "end line: planed down to it when assembled")
_WASTE = ("waste", "waste")


def checked_name(name: str, corner: "Corner") -> str:
    """The name of a corner on one line, made from its leans when empty; ValueError where a sheet can't show it."""
    name = " ".join(str(name or "").split())
    if len(name) > LONGEST:
        raise ValueError(f"The name has {len(name)} characters, and a sheet has room for {LONGEST}: shorten it.")
    if unknown := sorted(set(name) - letters()):
        raise ValueError(f"The name has “{unknown[0]}”, which the letters of the sheets lack: spell it another way.")
    return name or corner_name(corner)


class _Strip:
    """The strip on paper: outer arris upright with its bottom at the origin, mirrored where asked."""

    def __init__(self, cut, mirrored):
        self.cut, self.sheets = cut, cut.unfolded
        bottom, top = self.sheets["outer"].place(cut.blank[0, 0])
        up = (top - bottom) / np.linalg.norm(top - bottom)
        self._turn = np.array([[up[1], up[0]], [-up[0], up[1]]]) * (_MIRROR if mirrored else 1)
        self._bottom = bottom

    def place(self, surface, points):
        """Points of a surface in space (..., 3), on the paper (..., 2)."""
        return (self.sheets[surface].place(points) - self._bottom) @ self._turn

    def arris(self, number):
        """The outer (0) or inner (1) arris of the end, bottom first, (2, 2)."""
        return self.place(STRIP[2 * number], self.cut.blank[number, 0])

    def level(self, number):
        """Level direction of the outer (0) or inner (1) face, away from the end, (2,): 1 across the strip."""
        bottom, far = self.place(STRIP[2 * number], self.cut.blank[number, :, 0])
        return (far - bottom) / abs(far[0] - bottom[0])

    def baseline_offset(self, number):
        """mm across the strip from the arris to the baseline."""
        baseline = self.place(STRIP[2 * number], self.cut.baselines[number])
        return float(abs(baseline[0, 0] - self.arris(number)[0, 0]))


def wrap_template(joint: "Joint", board: str, hand: str = "right", reading: str = "outside", name: str = "",
                  unit: str = "mm") -> tuple[Drawing, ...]:
    """The wrap template for the joint's end of a board, as a tuple of one `Drawing`; mm, true scale.

    board: "tail" or "pin". hand: on which hand the tail board lies as you face the corner from outside the box; "right"
    is the corner that `joint` draws, "left" its mirror image. reading: "outside", the print is outwards on the wrapped
    paper; "inside", the print lies against the wood, so the lines are mirrored. name: of the corner, up to 60
    characters; made from the leans when empty. unit: "mm" or "in", for the words. ValueError for anything else.
    """
    for what, given, known in (("board", board, BOARDS), ("hand", hand, HANDS), ("reading", reading, READINGS)):
        if given not in known:
            raise ValueError(f"The {what} can be {known[0]!r} or {known[1]!r}, not {given!r}.")
    name = checked_name(name, joint.corner)
    cut = joint.tail_board if board == "tail" else joint.pin_board
    strip = _Strip(cut, mirrored=(hand == "left") != (reading == "inside"))
    lines = _lines(joint, board, strip)
    words = (f"{board} board", f"{board_end(board, hand)} end")
    items = [*_paper_edges(strip), *_waste(strip), *lines, *_face_words(strip, 0, words, name),
             *_face_words(strip, 1, words, name), _end_word(strip)]
    key = _KEY + ((_END_LINE,) if any(line.kind == "end line" for line in lines) else ()) + (_WASTE,)
    inward = ", print inwards (lines mirrored)" if reading == "inside" else ""
    title = f"Wrap template: {board} board, {board_end(board, hand)} end{inward}"
    return (Drawing(title, _notes(joint, board, hand, reading, name, unit), tuple(items), key),)


def _notes(joint, board, hand, reading, name, unit):
    which = (f"{name}. The tail board is on your {hand} as you face the corner from outside the box; left and right "
             "ends are as seen from outside.")
    bevelled = abs(joint.corner.end_bevel) >= SAME_SETTING
    sawn = "to its end bevel" if bevelled and joint.end == "flush" else "square to the face"
    sawn += ", proud of the end line," if proud(joint, board)[0] else ""
    folds, print_lies = {
        "outside": ("back", "print outwards"),
        "inside": ("forward", "print against the wood: for carbon paper, or to prick through from the back"),
    }[reading]
    use = (f"Saw the end {sawn} first. Cut the paper out, fold it {folds} along both fold lines, and wrap it round the "
           f"end with a fold on each arris, {print_lies}.")
    trust = ("Try the template on an offcut first." if board == "tail" else
             "Scribe the pins from your own tails, and check the pins by this sheet. Try the template on an offcut first.")
    return which, joint_sizes(joint, unit), f"{use} {trust}"


def _lines(joint, board, strip):
    """A Stroke for each line to strike on the strip; those that lie in an arris are in its fold."""
    strokes = []
    for surface in STRIP:
        for line in joint.lines_on(board, surface):
            points = strip.place(surface, line.ends)
            kind = line.kind
            if kind == "cheek" or all(np.abs(points - strip.arris(number)).max() > 1e-6 for number in (0, 1)):
                strokes.append(Stroke(kind, points, f"{surface}: {line.name}"))
    return strokes


def _paper_edges(strip):
    """The outline of the paper and the two folds."""
    edges = []
    for number in (0, 1):
        bottom, top = strip.arris(number)
        reach = strip.level(number) * (strip.baseline_offset(number) + HANDLE)
        edges.append(np.array([bottom, bottom + reach, top + reach, top]))
    outer, inner = edges
    outline = np.concatenate([outer, inner[::-1], outer[:1]])
    return [Stroke("outline", outline, "outline"), *(Stroke("fold", strip.arris(number), f"{STRIP[2 * number]} arris")
                                                     for number in (0, 1))]


def _waste(strip):
    return [Area("waste", strip.place(surface, quad), surface) for surface in STRIP for quad in strip.cut.waste[surface]]


def _face_words(strip, number, words, name):
    """What a face is and which way is up on it, beyond its baseline: level on the board, upright when it stands."""
    level, (bottom, top) = strip.level(number), strip.arris(number)
    middle = (bottom + top) / 2 + level * (strip.baseline_offset(number) + HANDLE / 2)
    along = level * np.sign(level[0]) / np.linalg.norm(level)
    up = np.array([-along[1], along[0]])
    rows = [(f"{STRIP[2 * number]} face", 8.0, "bold"), *((word, 7.5, "normal") for word in words)]
    if np.linalg.norm(top - bottom) > 45:
        rows += [(line, 6.0, "normal") for line in wrapped(name, 6.0, BLOCK - 4)]
    heights = [height_of(size) for _, size, _ in rows]
    wide = max(width_of(text, size, weight) for text, size, weight in rows)
    turn = float(np.degrees(np.arctan2(along[1], along[0])))
    below = sum(heights) / 2 - np.cumsum(heights) + 0.25 * np.array(heights)
    items = [Label(text, middle + 2.5 * along + drop * up, size, turn, "center", weight)
             for (text, size, weight), drop in zip(rows, below, strict=True)]
    arrow = middle + (2.5 - wide / 2 - 4) * along - 1.5 * up
    barbs = [[0, -5], [0, 5], [-1.2, 2.5], [0, 5], [1.2, 2.5]]
    items.append(Stroke("arrow", arrow + np.array(barbs) @ [along, up], "up"))
    items.append(Label("up", arrow + 6 * up, 6.5, turn, "center"))
    return items


def _end_word(strip):
    """The word "end" beside the end, above or below it: where the faces slope away."""
    quad = strip.place("end", strip.cut.surfaces["end"].blank)
    above = strip.level(0)[1] < 0
    y = quad[:, 1].max() + 1.5 if above else quad[:, 1].min() - 4.0
    return Label("end", np.array([quad[:, 0].mean(), y]), 8.0, align="center", weight="bold")
