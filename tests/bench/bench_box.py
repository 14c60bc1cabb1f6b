"""How fast a whole box is drawn again, beside the same picture drawn the usual way in the same run.

    python tests/bench/bench_box.py

As bench_joint.py, for the four boards of the box panel with their joints. The target is a median of 40 ms on a machine
that does nothing else.
"""

import matplotlib.pyplot as plt
import numpy as np
from bench_joint import drag_row
from splaywork.panels import box_panel

DRAGS = {"a lean dragged, box": ("front_lean",), "the view turned, box": ("turn", "tilt"),
         "pulled apart, box": ("apart",), "sizes, box": ("width", "height")}


def rows(moves=40):
    """Rows (name, our seconds, the usual way's seconds, how many times faster): medians over a drag."""
    rng = np.random.default_rng(9)
    panel = box_panel()
    drag_row("warm", ("front_lean",), panel, rng, 5)
    return [drag_row(label, names, panel, rng, moves) for label, names in DRAGS.items()]


def main():
    plt.switch_backend("agg")
    print(f"{'slider to PNG':32}{'ours, ms':>10}{'usual, ms':>11}{'faster':>8}")
    for name, ours, other, ratio in rows():
        print(f"{name:32}{1000 * ours:10.1f}{1000 * other:11.1f}{ratio:8.1f}")


if __name__ == "__main__":
    main()
