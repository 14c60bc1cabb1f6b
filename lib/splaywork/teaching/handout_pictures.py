"""One picture for each notebook's handout, and a sentence to it; none gives an exercise's answer away."""

from collections.abc import Callable
from functools import partial

import numpy as np

from ..box.box import Box
from ..box.picture import BoxView
from ..corner.corner import Corner
from ..corner.picture import Pictorial
from ..corner.words import lean_words
from ..drawing.sheets import Sheets, back_to_front
from ..drawing.view import fit
from ..joint.joint import Joint
from ..joint.picture import JointView
from ..one_gauge.close_corners_picture import VIEW, sheets_of
from ..one_gauge.one_gauge import NAMED_CORNERS, OneGauge

HEIGHT, THICKNESS = 120.0, 18.0  # mm
SIDES = 440.0, 380.0  # mm, bottom edges of the two boxes
LEANS = {"01": (0, 0), "02": (16, 0), "03": (0, 11)}  # of the corner that is drawn; both boards lean in the others
_BOTH = (16, 11)
_READ = 7, 22  # end lines of a trial corner, degrees: a good way off, so that it shows


def picture_for(lesson: str) -> tuple[Callable, str]:
    """(draw, sentence) for a notebook's number: draw(canvas) fills a canvas of any size; `paper.Picture` takes it."""
    corner = Corner(*LEANS.get(lesson, _BOTH))
    if lesson in _OTHERS:
        return _OTHERS[lesson]
    stand = f"Tail board {lean_words(corner.tail_lean)}, pin board {lean_words(corner.pin_lean)}."
    return partial(_draw_corner, corner=corner, shortcut=lesson in ("04", "08")), stand + _MORE.get(lesson, "")


_MORE = {"04": " Dashed: the shortcut lines, struck with the bevel set to the other board's lean.",
         "05": " Both end lines are struck before anything is sawn.",
         "08": " Dashed: the shortcut lines. How far may a line be out before it shows?",
         "11": " The heavy line lies in both outer faces: to which directions is it square?"}


def _frame(canvas):
    return 0, 0, canvas.width, canvas.height


def _draw_corner(canvas, corner, shortcut):
    Pictorial(canvas, _frame(canvas), shortcut).update(corner, HEIGHT, THICKNESS, 15, 25)


def _draw_two_boxes(canvas):
    """The intended box, and the box that its ends make, to one scale, side by side."""
    shortcut = OneGauge(NAMED_CORNERS["strong"])
    boxes = shortcut.go_round(HEIGHT, *SIDES).true_outlines, shortcut.closed_box(HEIGHT, *SIDES)
    flat = VIEW.flat(np.concatenate(boxes).reshape(-1, 3))
    half = canvas.width / 2
    for left, words, box in zip((0, half), ("the intended box", "the box that its ends make"), boxes, strict=True):
        scale, shift = fit(flat, (left + 10, 22, left + half - 10, canvas.height), largest=1)
        canvas.text(left + half / 2, 4, words, align="center")
        Sheets(canvas).update(back_to_front(sheets_of(box), VIEW), VIEW,
                              lambda points, scale=scale, shift=shift: VIEW.flat(points) * scale + shift)


def _draw_trial_corner(canvas):
    boards = Pictorial(canvas, _frame(canvas), shortcut=False, names=False)
    boards.update(Corner.from_end_lines(*_READ), HEIGHT, THICKNESS, 15, 25, outlined=Corner(*_BOTH))


def _draw_joint(canvas):
    JointView(canvas, _frame(canvas)).update(Joint(Corner(*_BOTH), HEIGHT, THICKNESS, tails=3), 15, 25, apart=45)


def _draw_drawer(canvas):
    drawer = Box(360, 420, 187, front_lean=11, left_lean=16, right_lean=4)
    BoxView(canvas, _frame(canvas)).update(drawer, picked="front left")


_OTHERS = {
    "07": (_draw_two_boxes, "Both were intended to have the same leans. Right: all eight ends were struck with the shortcut, "
           "and the corners closed."),
    "06": (_draw_trial_corner, "Boards: the trial corner as it stands. Dashed: the intended corner."),
    "09": (_draw_joint, "The pin board goes in level, along its own length."),
    "10": (_draw_drawer, "A drawer seen from the front left. The heavy line is its front left corner."),
}
