"""What the questions of several notebooks say alike."""

import math
from typing import TYPE_CHECKING

from ...common.boards import other
from ...common.printing import offset
from .core import LENGTH_TOLERANCE

if TYPE_CHECKING:
    from .core import Draw

TABLE = "Run the cell that prints every setting, with these leans in it, and look at the line “{}”."


def offset_said(draw: "Draw", angle: float) -> tuple[str, float]:
    """The offset of a line as the tables print it, and the same over the run in mm."""
    over = 100.0 if draw.unit == "mm" else 101.6
    return offset(angle, draw.unit), over * math.tan(math.radians(angle))


def offset_tolerance(draw: "Draw") -> float:
    """mm: what is worked out from a printed offset can be out by that, for inches are printed to 1/64."""
    return LENGTH_TOLERANCE if draw.unit == "mm" else 2 * LENGTH_TOLERANCE


def run_said(draw: "Draw") -> tuple[float, str]:
    """The run of an offset: mm, and as it is said."""
    return (100.0, "100 mm") if draw.unit == "mm" else (101.6, "4 in")


def shortcut_remark(board: str) -> str:
    """What the shortcut would strike on a board, as a remark."""
    return f"That is the {other(board)} board's lean, which is what the shortcut strikes."
