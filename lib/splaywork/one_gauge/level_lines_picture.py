"""The shortcut's level lines on the tail board's end, beside the true ones, on a flush and on a square end."""

from typing import TYPE_CHECKING

from ..corner.stills import EndFace
from ..drawing.canvas import Canvas, OnCanvas
from ..drawing.lens import LARGE, Reading, tenths
from ..drawing.palette import SHORTCUT
from .one_gauge import OneGauge
from .words import say_level_lines

if TYPE_CHECKING:
    from ..common.text import Words
    from ..corner.corner import Corner


class LevelLinesPicture(OnCanvas):
    """The whole picture, 920 × 284 pixels: each end with its level lines, the shortcut's lines, and what lies between."""

    WIDTH, HEIGHT = 920, 284

    def __init__(self) -> None:
        self.canvas = Canvas(self.WIDTH, self.HEIGHT)
        self.ends = {"flush": EndFace(self.canvas, "Flush end", (16, 12, 186, 272), (206, 220)),
                     "square": EndFace(self.canvas, "Square end", (466, 12, 636, 272), (650, 220))}
        self.errors = {name: Reading(self.canvas, left + 82, 90, SHORTCUT, LARGE)
                       for name, left in (("flush", 206), ("square", 650))}

    def update(self, corner: "Corner", unit: str = "mm", thickness: float = 18.0, fit: bool = True) -> None:
        """Draw the tail board's end of a scalar corner; thickness of both boards in mm. No length is written, and nothing is
        enlarged."""
        shortcut = OneGauge(corner)
        for name, level, across, words in (
                ("flush", corner.level_on_flush_end, corner.baseline_offset(thickness), "too much"),
                ("square", corner.level_on_square_end, thickness, "too little")):
            self.ends[name].update(level, corner.tail_lean, across)
            error = abs(getattr(shortcut, f"{name}_level_error"))
            self.errors[name].set(tenths(error), f"slants {words}" if error else "off: exact")

    @staticmethod
    def words(corner: "Corner", unit: str = "mm", thickness: float = 18.0) -> "Words":
        """The picture's sentence."""
        return say_level_lines(corner)
