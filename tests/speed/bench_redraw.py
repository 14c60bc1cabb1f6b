"""How fast a slider's move becomes a picture, beside the same picture drawn the usual way in the same run.

    python tests/speed/bench_redraw.py

Ours: set the slider's value, so that all is computed again, and take the PNG bytes that the panel holds afterwards. The
usual way: a fresh pyplot figure with the same fills, lines and texts, saved as a PNG cut to its contents; where they lie is
worked out off the clock. Both follow one drag path, turn about, so that what else the machine does falls on both. The
targets, on a machine that does nothing else, are medians of 25 ms for a joint of seven tails and 40 ms for a box.
"""

from statistics import median
from time import perf_counter

import matplotlib.pyplot as plt
import numpy as np
from usual import DRAGS, contents, panel_of, usual_picture

MOVES, WARM = 40, 4


def drag_path(names, panel, rng):
    """(slider name, value) for each move: a hand that wanders in small steps, so that most numbers are new."""
    at = {}
    for move in range(MOVES + WARM):
        name = names[move % len(names)]
        slider = panel.dials[name].slider
        low, high = slider.min, slider.max
        step = rng.normal(0, 0.04) * (high - low)
        at[name] = float(np.clip(at.get(name, slider.value) + step, low, high))
        yield name, round(at[name], 2)


def seconds(work):
    start = perf_counter()
    work()
    return perf_counter() - start


def drag(panel, names, rng):
    """(our seconds, the usual way's): medians over a drag."""
    ours, usual = [], []
    for name, value in drag_path(names, panel, rng):
        def move(name=name, value=value):
            panel.dials[name].slider.value = value
            return panel.image.value

        ours.append(seconds(move))
        held = contents(panel.picture.canvas)
        usual.append(seconds(lambda held=held: usual_picture(*held, panel.picture.WIDTH, panel.picture.HEIGHT)))
    return median(ours[WARM:]), median(usual[WARM:])


def main():
    plt.switch_backend("agg")
    print(f"{'slider to PNG':36}{'ours, ms':>10}{'usual, ms':>11}{'faster':>8}")
    for name, (made, names) in DRAGS.items():
        ours, usual = drag(panel_of(made), names, np.random.default_rng(5))
        print(f"{name:36}{1000 * ours:10.1f}{1000 * usual:11.1f}{usual / ours:8.1f}", flush=True)


if __name__ == "__main__":
    main()
