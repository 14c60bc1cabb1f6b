"""What a panel shows, measured in its picture or worked out from its dials: for the checks of scripts."""

from io import BytesIO
from typing import Any

import numpy as np
from PIL import Image

from ...common.boards import BOARDS, other
from ...corner.corner import Corner
from ...drawing.palette import MISS, SHORTCUT
from ...one_gauge.one_gauge import OneGauge

RED, MISSED = (tuple(bytes.fromhex(colour[1:])) for colour in (SHORTCUT, MISS))


def pixels(panel: Any) -> np.ndarray:
    """The picture of a panel, (height, width, 3) uint8."""
    return np.asarray(Image.open(BytesIO(panel.image.value)).convert("RGB"))


def red(panel: Any) -> int:
    """How many pixels of the picture are red: the shortcut lines, its gaps, and whatever else is wrong."""
    return int((pixels(panel) == RED).all(axis=-1).sum())


def at(panel: Any, key: str) -> Any:
    """The value of a dial."""
    return panel.dials[key].value


def corner(panel: Any) -> Corner:
    """The `Corner` that the dials stand for."""
    return Corner(at(panel, "tail_lean"), at(panel, "pin_lean"),
                  at(panel, "plan_angle") if "plan_angle" in panel.dials else 90)


def lines(panel: Any) -> tuple[float, float]:
    """(tail, pin) board's end lines, degrees."""
    return corner(panel).tail_end_line, corner(panel).pin_end_line


def slant_less(panel: Any) -> bool:
    """Whether each end line slants less than the other board's lean."""
    here = corner(panel)
    return all(abs(here.end_line(board)) < abs(here.lean(other(board))) for board in BOARDS)


def gaps(panel: Any, height: float | None = None) -> list[float]:
    """The shortcut's gaps at both boards, mm."""
    tall = at(panel, "height") if height is None else height
    return [OneGauge(corner(panel)).gap(tall, board) for board in BOARDS]
