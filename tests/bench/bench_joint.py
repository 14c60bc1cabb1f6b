"""How fast a joint is drawn again, beside the same picture drawn the usual way in the same run.

    python tests/bench/bench_joint.py

Ours: set a slider of the joint panel, so that the joint is computed again, and take the PNG bytes that the panel holds
afterwards. The usual way: a fresh pyplot figure with the same fills, lines and texts, saved as a PNG cut to its content;
the joint and where everything lies are worked out off the clock. Both follow one drag path, turn about. The target is a
median of 25 ms for seven tails on a machine that does nothing else.
"""

from io import BytesIO
from statistics import median

import matplotlib.pyplot as plt
import numpy as np
from bench_redraw import drag_path, seconds
from matplotlib.collections import PolyCollection
from matplotlib.text import Text
from splaywork.panels import joint_panel

DRAGS = {"a lean dragged, 7 tails": ("tail_lean",), "pulled apart, 7 tails": ("apart",),
         "the view turned, 7 tails": ("turn", "tilt"), "stock, 7 tails": ("pin_thickness", "plan_angle")}
SEVEN = {"tail_lean": 12, "pin_lean": 9, "height": 240, "thickness": 15, "tails": 7}


def contents(canvas):
    """What a canvas holds: fills and lines with their looks, from the lowest up, and texts."""
    shapes, texts = [], []
    for each in sorted(canvas.figure.artists, key=lambda one: one.zorder):
        if isinstance(each, Text):
            if each.get_visible() and each.get_text():
                texts.append((*each.get_position(), each.get_text(), {"fontsize": each.get_fontsize(),
                              "color": each.get_color(), "ha": each.get_ha(), "weight": each.get_weight()}))
            continue
        paths = [path.vertices for path in each.get_paths()]
        filled = isinstance(each, PolyCollection)
        fills, edges = (np.resize(part, (len(paths), 4)) if len(part) else np.zeros((len(paths), 4))
                        for part in (each.get_facecolors() if filled else [], each.get_edgecolors()))
        widths = np.resize(each.get_linewidths(), len(paths))
        shapes += zip(paths, fills, edges, widths, strict=True)
    return shapes, texts


def usual_picture(shapes, texts, width, height):
    """PNG bytes of the same picture from a fresh figure."""
    figure = plt.figure(figsize=(width / 100, height / 100))
    axes = figure.add_axes((0, 0, 1, 1))
    for order, (shape, fill, edge, line) in enumerate(shapes):
        if fill[3]:
            axes.fill(*shape.T, facecolor=fill, edgecolor=edge, linewidth=line, zorder=1 + order / 1000)
        else:
            axes.plot(*shape.T, color=edge, linewidth=line, zorder=1 + order / 1000)
    for x, y, words, looks in texts:
        axes.text(x, y, words, **looks)
    axes.set(xlim=(0, width), ylim=(0, height))
    axes.set_axis_off()
    out = BytesIO()
    figure.savefig(out, format="png", bbox_inches="tight")
    plt.close(figure)
    return out.getvalue()


def drag_row(label, names, panel, rng, moves):
    panel.start_again.click()
    ours, usual = [], []
    for name, value in list(drag_path(names, panel, rng))[:moves]:
        def move(name=name, value=value):
            panel.dials[name].slider.value = value
            return panel.image.value

        ours.append(seconds(move))
        held = contents(panel.picture.canvas)
        usual.append(seconds(lambda held=held: usual_picture(*held, panel.picture.WIDTH, panel.picture.HEIGHT)))
    return label, median(ours), median(usual), median(usual) / median(ours)


def rows(moves=40):
    """Rows (name, our seconds, the usual way's seconds, how many times faster): medians over a drag."""
    rng = np.random.default_rng(8)
    panel = joint_panel(**SEVEN)
    drag_row("warm", ("tail_lean",), panel, rng, 5)
    return [drag_row(label, names, panel, rng, moves) for label, names in DRAGS.items()]


def main():
    plt.switch_backend("agg")
    print(f"{'slider to PNG':32}{'ours, ms':>10}{'usual, ms':>11}{'faster':>8}")
    for name, ours, other, ratio in rows():
        print(f"{name:32}{1000 * ours:10.1f}{1000 * other:11.1f}{ratio:8.1f}")


if __name__ == "__main__":
    main()
