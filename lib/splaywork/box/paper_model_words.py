"""The paper model in words: what was drawn, and what each of its nets folds into."""

from typing import TYPE_CHECKING

import numpy as np

from ..common.printing import degrees, fine, length
from ..common.tolerances import SAME_ANGLE, SAME_SETTING
from ..corner.words import lean_words, series
from .box import END_CORNERS, NAMES
from .paper_model import NARROWEST, STEEPEST

if TYPE_CHECKING:
    from .paper_model import PaperModel

STEPS = (
    "1. Print on card of about 200 g/m². Cut along the thin solid lines. Cut away from yourself, and keep your fingers behind "
    "the blades.",
    "2. Score the folds along a ruler with a pen that is empty. Fold the card away from you as you look at the print, so that "
    "the print is outside.",
    "3. Put glue on a tab. Bring the edge with the tab's letter to the tab's fold, with the tab behind it. Hold the two until "
    "they stick.",
    "4. Stand the box on the footprint, which keeps its corners square.",
    "5. Fold the wedges and the height strip square, so that they stand. Push the wedges to the walls from outside. Hold the "
    "strip beside the wedges.",
)
COMPARE = ("Do the same with the one-gauge net. Stand that box on the same footprint, and hold the box to the same wedges and "
           "strip.")
COMPARE_HELD = ("Do the same with the one-gauge net. Stand that box on the other footprint, between the two wedges that name "
                "the box's lines. Hold the strip between the boxes.")


def by_value(names: tuple[str, ...], values: np.ndarray) -> list[tuple]:
    """[(names that share it, value)], values equal to what a bevel can show, in the order of the names."""
    groups: list[tuple[list[str], float]] = []
    for name, value in zip(names, values, strict=True):
        for group in groups:
            if abs(group[1] - value) < SAME_ANGLE:
                group[0].append(name)
                break
        else:
            groups.append(([name], float(value)))
    return groups


def leans_words(model: "PaperModel") -> str:
    """"front and back leaning out 14.0°, right and left upright"."""
    return ", ".join(f"{series(names)} {lean_words(lean)}" for names, lean in by_value(NAMES, model.leans))


def say_model(model: "PaperModel", unit: str = "mm") -> str:
    """What was drawn: sizes, leans, and how far they are exaggerated."""
    wide, deep = model.bottoms[:2]
    said = (f"Outer faces of a box {length(wide, unit)} × {length(deep, unit)} along its bottom and "
            f"{length(model.height, unit)} high: {leans_words(model)}.")
    if model.factor > 1:
        said += f" Every lean is exaggerated {model.factor:.2f} times; bottom edges and height are kept."
    return said + say_limit(model)


def say_limit(model: "PaperModel") -> str:
    """Why the leans are not exaggerated further; "" where they are exaggerated as wanted."""
    if not model.limit:
        return ""
    why = {"flat": "at a corner the two leans then add up to 90°, where the one-gauge net lies flat",
           "steep": f"a board then leans {degrees(STEEPEST, 0)}, and beyond that its neighbours grow too long for paper",
           "narrow": f"the top of a board would become shorter than {100 * NARROWEST:.0f}% of its bottom"}[model.limit]
    kept = "The leans can go no further" if model.factor > 1 else "The leans can't be exaggerated"
    return f" {kept}, because {why}."


def say_projected(model: "PaperModel", unit: str = "mm") -> str:
    """What the net with the true end lines folds into."""
    return ("This net's ends lie on the true end lines. Folded, the box stands at these leans, "
            f"{length(model.height, unit)} high.")


def say_one_gauge(model: "PaperModel", unit: str = "mm") -> str:
    """What the net with the shortcut lines folds into, or by how much it doesn't; or why there is none."""
    struck = "This net's ends lie on the shortcut lines: for each, the bevel was set to the neighbour's lean."
    if model.exact:
        return "At every corner a board is upright, so the shortcut strikes the true end lines. There is only one net."
    try:
        net = model.one_gauge
    except ValueError as wrong:
        return f"There is no one-gauge net. {wrong}"
    intended = f"instead of {length(model.height, unit)}"
    if net.lies_flat:
        return f"{struck} The net closes, and lies flat on the table as a picture frame. Its height is 0 {intended}."
    return f"{struck} {_closed(model, net, unit) if net.closes else _open(net, unit)}"


def _stands(lean):
    """A lean to tenths: "out 14.1°"."""
    return "upright" if abs(lean) < SAME_SETTING else f"{'out' if lean > 0 else 'in'} {degrees(abs(lean))}"


def _closed(model, net, unit):
    """The other box that a net folds into."""
    said = ["The net closes, but into a different box."]
    for names, lean in by_value(NAMES, model.leans):
        other = net.leans[NAMES.index(names[0]), 0]
        if _stands(other) != _stands(lean):
            said.append(f"The {series(names)} lean{'s' * (len(names) == 1)} {_stands(other)} instead of {_stands(lean)}.")
    return " ".join([*said, f"The box is {fine(net.heights[0], unit)} high instead of {fine(model.height, unit)}."])


def _open(net, unit):
    """Which boards of a net would have to wind, and by how much its last edge misses the first."""
    ends = (END_CORNERS[NAMES[number]] for number in range(4))
    boards = [f"To close, the {name} would have to lean {_stands(left)} at the {left_corner} corner and {_stands(right)} at "
              f"the {right_corner} one."
              for name, (left, right), (left_corner, right_corner) in zip(NAMES, net.leans, ends, strict=True)
              if _stands(left) != _stands(right)]
    if not boards:
        boards = ["To close, the net's corners would need leans that differ by less than a tenth of a degree."]
    bottom, top = (fine(miss, unit) for miss in net.misses)
    return (f"With flat faces the net can't close. {' '.join(boards)} Fold the net so that each bottom edge is square to the "
            "next. Then "
            f"its last edge misses the first by {bottom} at the bottom and {top} at the top, measured on the box.")
