"""The usual way to draw a picture again: a fresh pyplot figure of all that it holds. And the panels to compare, with a drag.

What a picture holds is taken from its canvas, off the clock where it is timed.
"""

from io import BytesIO

import matplotlib.pyplot as plt
import numpy as np
import splaywork
from matplotlib.collections import LineCollection, PolyCollection
from matplotlib.text import Text

SEVEN = "joint_panel(tail_lean=12, pin_lean=9, height=240, thickness=15, tails=7)"
# name -> (how the panel is made, what is dragged: names of its dials, each in turn)
DRAGS = {
    "corner, a lean dragged": ("corner_panel()", ("tail_lean",)),
    "corner, both leans in turn": ("corner_panel()", ("tail_lean", "pin_lean")),
    "corner, the view turned": ("corner_panel()", ("turn", "tilt")),
    "corner, stock and plan angle": ("corner_panel()", ("height", "thickness", "plan_angle")),
    "projection, the pencil played": ("projection_panel()", ("pencil",)),
    "projection, both leans in turn": ("projection_panel()", ("tail_lean", "pin_lean")),
    "hold the leans": ("one_gauge_panel('hold the leans')", ("tail_lean",)),
    "close the corners": ("one_gauge_panel('close the corners')", ("tail_lean",)),
    "go round": ("one_gauge_panel('go round')", ("tail_lean",)),
    "wind the sides": ("one_gauge_panel('wind the sides')", ("tail_lean",)),
    "level lines": ("one_gauge_panel('level lines')", ("tail_lean",)),
    "gauge map": ("gauge_map_panel()", ("tail_lean",)),
    "10,000 boxes, settings off": ("setting_errors_panel()", ("tail_lean",)),
    "trial corner read": ("trial_corner_panel(12, 16)", ("tail_end_line",)),
    "trial corner gapes": ("trial_faults_panel()", ("tail_lean",)),
    "joint of 7 tails, a lean dragged": (SEVEN, ("tail_lean",)),
    "joint of 7 tails, pulled apart": (SEVEN, ("apart",)),
    "joint of 7 tails, the view turned": (SEVEN, ("turn", "tilt")),
    "joint of 7 tails, stock": (SEVEN, ("pin_thickness", "plan_angle")),
    "box, a lean dragged": ("box_panel()", ("front_lean",)),
    "box, pulled apart": ("box_panel()", ("apart",)),
    "box, the view turned": ("box_panel()", ("turn", "tilt")),
    "box, sizes": ("box_panel()", ("width", "height")),
}


def panel_of(made):
    """A panel, from how it is made."""
    return eval(made, {name: getattr(splaywork, name) for name in splaywork.__all__ if name.endswith("_panel")})


def contents(canvas):
    """What a canvas holds: (vertices, looks) of fills and (segments, looks) of lines, from the lowest up; and texts."""
    shapes, texts = [], []
    for each in sorted(canvas.figure.artists, key=lambda one: one.zorder):
        if isinstance(each, Text):
            if each.get_visible() and each.get_text():
                looks = {"color": each.get_color(), "fontsize": each.get_fontsize(), "fontweight": each.get_fontweight(),
                         "ha": each.get_ha(), "va": each.get_va()}
                texts.append((*each.get_position(), each.get_text(), looks))
            continue
        paths = [path.vertices for path in each.get_paths() if len(path.vertices)]
        if paths:
            width, dash = each.get_linewidths(), scaled(each.get_linestyle()[0], each.get_linewidths()[0])
            edges = each.get_edgecolors()
            if isinstance(each, PolyCollection):
                fills, edges = (np.resize(part, (len(paths), 4)) if len(part) else np.zeros((len(paths), 4))
                                for part in (each.get_facecolors(), edges))
                widths = np.resize(width, len(paths))
                shapes += [(path, {"facecolor": fill, "edgecolor": edge, "linewidth": line, "linestyle": dash})
                           for path, fill, edge, line in zip(paths, fills, edges, widths, strict=True)]
            else:
                shapes.append((paths, {"colors": edges, "linewidths": width, "linestyles": [dash]}))
    return shapes, texts


def scaled(dash, width):
    """A dash as it was given: collections keep it multiplied by the width of the line."""
    return (dash[0], [part / width for part in dash[1]]) if dash[1] else "solid"


def usual_figure(shapes, texts, width, height):
    """A fresh pyplot figure of the same picture."""
    figure = plt.figure(figsize=(width / 100, height / 100))
    axes = figure.add_axes((0, 0, 1, 1))
    for order, (shape, looks) in enumerate(shapes):
        if "facecolor" in looks:
            axes.fill(*shape.T, zorder=1 + order / 1000, **looks)
        else:
            axes.add_collection(LineCollection(shape, zorder=1 + order / 1000, **looks))
    for x, y, words, looks in texts:
        axes.text(x, y, words, **looks)
    axes.set(xlim=(0, width), ylim=(0, height))
    axes.set_axis_off()
    return figure


def usual_picture(*held):
    """PNG bytes of the same picture from a fresh figure."""
    figure, out = usual_figure(*held), BytesIO()
    figure.savefig(out, format="png", bbox_inches="tight")
    plt.close(figure)
    return out.getvalue()
