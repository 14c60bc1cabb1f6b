"""How fast a slider's move becomes a picture, beside the same picture drawn the usual way in the same run.

    python tests/bench/bench_redraw.py

Ours: set the slider's value and take the PNG bytes that the panel holds afterwards. The usual way: a fresh pyplot figure
with the same fills, lines and texts, saved as a PNG cut to its contents; where they lie is worked out off the clock.
Both follow one drag path, turn about, so that what else the machine does falls on both.
"""

from io import BytesIO
from statistics import median
from time import perf_counter

import matplotlib.pyplot as plt
import numpy as np
from matplotlib.collections import LineCollection, PolyCollection
from matplotlib.text import Text
from splaywork.panels import corner_panel

MOVES = 60
DRAGS = {"a lean dragged": ("tail_lean",), "both leans in turn": ("tail_lean", "pin_lean"),
         "the view turned": ("turn", "tilt"), "stock and plan angle": ("height", "thickness", "plan_angle")}


def drag_path(names, panel, rng):
    """(slider name, value) for each move: a hand that wanders in small steps, so that most numbers are new."""
    at = {}
    for move in range(MOVES):
        name = names[move % len(names)]
        slider = panel.dials[name].slider
        low, high = slider.min, slider.max
        step = rng.normal(0, 0.04) * (high - low)
        at[name] = float(np.clip(at.get(name, slider.value) + step, low, high))
        yield name, round(at[name], 2)


def contents(panel):
    """What the panel's picture holds: fills, lines and texts with their places and looks."""
    fills, lines, texts = [], [], []
    for each in panel.picture.canvas.figure.artists:
        if isinstance(each, Text):
            if each.get_visible() and each.get_text():
                looks = {"color": each.get_color(), "fontsize": each.get_fontsize(), "fontweight": each.get_fontweight(),
                         "ha": each.get_ha(), "va": each.get_va()}
                texts.append((*each.get_position(), each.get_text(), looks))
            continue
        shapes = [path.vertices for path in each.get_paths() if len(path.vertices)]
        if not shapes:
            continue
        width, dash = each.get_linewidths()[0], each.get_linestyle()[0]
        if isinstance(each, PolyCollection):
            edges = each.get_edgecolors()
            looks = {"edgecolor": edges[0] if len(edges) else "none", "linewidth": width,
                     "linestyle": scaled(dash, width)}
            colours = np.resize(each.get_facecolors(), (len(shapes), 4))
            fills += [(shape, dict(looks, facecolor=colour)) for shape, colour in zip(shapes, colours, strict=True)]
        else:
            looks = {"color": each.get_edgecolor()[0], "linewidths": width, "linestyles": [scaled(dash, width)]}
            lines.append((shapes, looks))
    return fills, lines, texts


def scaled(dash, width):
    """A dash as it was given: collections keep it multiplied by the width of the line."""
    return (dash[0], [part / width for part in dash[1]]) if dash[1] else "solid"


def usual_figure(fills, lines, texts, width, height):
    """A fresh pyplot figure of the same picture."""
    figure = plt.figure(figsize=(width / 100, height / 100))
    axes = figure.add_axes((0, 0, 1, 1))
    for order, (shape, looks) in enumerate(fills):
        axes.fill(*shape.T, zorder=1 + order / 100, **looks)
    for segments, looks in lines:
        axes.add_collection(LineCollection(segments, zorder=2, **looks))
    for x, y, words, looks in texts:
        axes.text(x, y, words, **looks)
    axes.set_xlim(0, width)
    axes.set_ylim(0, height)
    axes.set_axis_off()
    return figure


def usual_picture(*held):
    """PNG bytes of the same picture from a fresh figure."""
    figure, out = usual_figure(*held), BytesIO()
    figure.savefig(out, format="png", bbox_inches="tight")
    plt.close(figure)
    return out.getvalue()


def seconds(work):
    start = perf_counter()
    work()
    return perf_counter() - start


def drag_row(label, names, panel, rng):
    panel.start_again.click()
    ours, usual = [], []
    for name, value in drag_path(names, panel, rng):
        def move(name=name, value=value):
            panel.dials[name].slider.value = value
            return panel.image.value

        ours.append(seconds(move))
        held, size = contents(panel), (panel.picture.WIDTH, panel.picture.HEIGHT)
        usual.append(seconds(lambda held=held, size=size: usual_picture(*held, *size)))
    return label, median(ours), median(usual), median(usual) / median(ours)


def rows():
    """Rows (name, our seconds, the usual way's seconds, how many times faster): medians over a drag."""
    rng = np.random.default_rng(5)
    panel = corner_panel()
    drag_row("warm", ("tail_lean",), panel, rng)
    return [drag_row(label, names, panel, rng) for label, names in DRAGS.items()]


def main():
    plt.switch_backend("agg")
    print(f"{'slider to PNG':32}{'ours, ms':>10}{'usual, ms':>11}{'faster':>8}")
    for name, ours, other, ratio in rows():
        print(f"{name:32}{1000 * ours:10.1f}{1000 * other:11.1f}{ratio:8.1f}")


if __name__ == "__main__":
    main()
