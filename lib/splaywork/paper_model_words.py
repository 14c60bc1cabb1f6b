"""The paper model in words: what was drawn, and what each of its nets folds into."""

import numpy as np

from .box import NAMES
from .joint_words import listed
from .measure import degrees, fine, length
from .paper_model import CORNERS, NARROWEST, STEEPEST
from .words import SAME, lean_words

STEPS = (
    "1. Print on card of about 200 g/m². Cut along the thin solid lines, with scissors away from yourself and your fingers "
    "behind the blades.",
    "2. Score the folds along a ruler with a pen that is empty, and fold them away from you as you look at the print: the "
    "print comes outside.",
    "3. Put glue on a tab, bring the edge with the tab's letter to the tab's fold, the tab behind it, and hold the two until "
    "they stick.",
    "4. Stand the box on the footprint, which keeps its corners square.",
    "5. Fold the wedges and the height strip square so that they stand, push the wedges to the walls from outside, and hold "
    "the strip beside them.",
)
COMPARE = "Do the same with the one-gauge net, on the same footprint, and hold it to the same wedges and strip."


def _by_value(names, values):
    """[(names that share it, value)], values alike to what a gauge can show, in the order of the names."""
    groups = []
    for name, value in zip(names, values, strict=True):
        for group in groups:
            if abs(group[1] - value) < SAME:
                group[0].append(name)
                break
        else:
            groups.append(([name], float(value)))
    return groups


def leans_words(model):
    """"front and back leaning out 14.0°, right and left upright"."""
    return ", ".join(f"{listed(names)} {lean_words(lean)}" for names, lean in _by_value(NAMES, model.leans))


def say_model(model, unit="mm"):
    """What was drawn: sizes, leans, and how far they are exaggerated."""
    wide, deep = model.bottoms[:2]
    said = (f"Outer faces of a box {length(wide, unit)} × {length(deep, unit)} along its bottom and "
            f"{length(model.height, unit)} high: {leans_words(model)}.")
    if model.factor > 1:
        said += f" Every lean is exaggerated {model.factor:.2f} times; bottom edges and height are kept."
    return said + say_limit(model)


def say_limit(model):
    """Why the leans are not exaggerated further; "" where they are exaggerated as asked."""
    if not model.limit:
        return ""
    why = {"flat": "at a corner the two leans then add up to 90°, where the one-gauge net lies flat",
           "steep": f"a board then leans {degrees(STEEPEST, 0)}, and further over its neighbours grow too long for paper",
           "narrow": f"the top of a board would become shorter than {100 * NARROWEST:.0f} % of its bottom"}[model.limit]
    kept = "That is as far as they can go" if model.factor > 1 else "The leans can't be exaggerated"
    return f" {kept}: {why}."


def say_projected(model, unit="mm"):
    """What the net with the projected end lines folds into."""
    return (f"Its ends are cut on the projected end lines. Folded, it stands at the leans asked, {length(model.height, unit)} "
            "high.")


def say_one_gauge(model, unit="mm"):
    """What the net with the one-gauge lines folds into, or by how much it doesn't; or why there is none."""
    struck = "Its ends are cut on the lines that the gauge, set to the leans, strikes on the neighbours."
    if model.exact:
        return "At every corner a board is upright, so the one gauge strikes the projected end lines: there is only one net."
    try:
        net = model.one_gauge
    except ValueError as wrong:
        return f"There is no one-gauge net. {wrong}"
    asked = f"instead of {length(model.height, unit)}"
    if net.lies_flat:
        return f"{struck} It closes, and lies flat on the table: a picture frame, its height 0 {asked}."
    if net.closes:
        leans = [f"{listed([NAMES[number] for number in numbers])} {lean_words(net.leans[numbers[0], 0])[:-1]}"
                 for numbers in _pairs(model)]
        return _closed(model, net, struck, unit, leans)
    return f"{struck} {_open(net, unit)}"
