"""How fast a million corners and the import are, as ratios to the same work done by hand in the same run.

    python tests/speed/bench_corner.py

Each pair is timed turn about, so that what else the machine does falls on both; times and ratios are medians.
"""

import os
import subprocess
import sys
from statistics import median
from time import perf_counter

import numpy as np
from splaywork import Corner

CORNERS = 1_000_000
RUNS = 11
IMPORTS = 9


def radians(tail, pin, plan):
    return np.radians(tail), np.radians(pin), np.radians(90 - plan)


def end_line(own, other, k):
    """tan = cos p (tan q + tan p cos w) / sin w, as a careful person types it; k is 90 degrees − w."""
    return np.degrees(np.arctan((np.tan(other) + np.tan(own) * np.sin(k)) * np.cos(own) / np.cos(k)))


def cosine(a, b, k):
    return np.sin(k) * np.cos(a) * np.cos(b) - np.sin(a) * np.sin(b)


def run_squared(a, b, k):
    along = np.tan(a)
    return ((np.tan(b) + along * np.sin(k)) / np.cos(k)) ** 2 + along**2


def by_hand_tail_end_line(tail, pin, plan):
    a, b, k = radians(tail, pin, plan)
    return end_line(a, b, k)


def by_hand_pin_end_line(tail, pin, plan):
    a, b, k = radians(tail, pin, plan)
    return end_line(b, a, k)


def by_hand_dihedral(tail, pin, plan):
    return np.degrees(np.arccos(cosine(*radians(tail, pin, plan))))


def by_hand_end_bevel(tail, pin, plan):
    return np.degrees(np.arcsin(-cosine(*radians(tail, pin, plan))))


def by_hand_corner_rise(tail, pin, plan):
    return np.degrees(np.pi / 2 - np.arctan(np.sqrt(run_squared(*radians(tail, pin, plan)))))


def by_hand_level_on_square_end(tail, pin, plan):
    a, b, k = radians(tail, pin, plan)
    return np.degrees(np.arctan(np.sin(a) * np.sqrt(1 + run_squared(a, b, k))))


def by_hand_tail_rim_bevel(tail, pin, plan):
    return np.degrees(np.radians(tail))


def by_hand_pin_rim_bevel(tail, pin, plan):
    return np.degrees(np.radians(pin))


def by_hand_slant_width(tail, pin, plan):
    return 80 / np.cos(np.radians(tail))


def by_hand_gauge_line_offset(tail, pin, plan):
    return 12 / np.sqrt(1 - cosine(*radians(tail, pin, plan)) ** 2)


def by_hand_rocking_gap(tail, pin, plan):
    return 12 * np.abs(np.sin(np.radians(tail)))


BY_HAND = {
    "tail_end_line": by_hand_tail_end_line,
    "pin_end_line": by_hand_pin_end_line,
    "dihedral": by_hand_dihedral,
    "end_bevel": by_hand_end_bevel,
    "corner_rise": by_hand_corner_rise,
    "tail_rim_bevel": by_hand_tail_rim_bevel,
    "pin_rim_bevel": by_hand_pin_rim_bevel,
    "level_on_flush_end": by_hand_pin_end_line,
    "level_on_square_end": by_hand_level_on_square_end,
    "slant_width": by_hand_slant_width,
    "baseline_offset": by_hand_gauge_line_offset,
    "rocking_gap": by_hand_rocking_gap,
    "looks_as": by_hand_slant_width,
}
LENGTHS = {"slant_width": 80, "baseline_offset": 12, "rocking_gap": 12, "looks_as": 80}


def from_library(name, corner):
    value = getattr(corner, name)
    return value(LENGTHS[name]) if name in LENGTHS else value


def seconds(work):
    start = perf_counter()
    work()
    return perf_counter() - start


def turn_about(ours, other, runs):
    """(ours, other, ratio), medians over runs timed alternately; the ratio is taken run by run."""
    pairs = [(seconds(ours), seconds(other)) for _ in range(runs)]
    return (*map(median, zip(*pairs, strict=True)), median(mine / theirs for mine, theirs in pairs))


def array_rows(label, plan):
    """One row for each attribute of a million corners, and one for making the corners and reading them all."""
    rng = np.random.default_rng(2)
    tail, pin = rng.uniform(-60, 60, (2, CORNERS))
    for name, by_hand in BY_HAND.items():  # also derives the forms, before any clock runs
        np.testing.assert_allclose(from_library(name, Corner(tail, pin, plan)), by_hand(tail, pin, plan), rtol=1e-9,
                                   atol=1e-12)
    rows = []
    for name, by_hand in BY_HAND.items():
        corner = Corner(tail, pin, plan)
        times = turn_about(lambda: from_library(name, corner), lambda: by_hand(tail, pin, plan), RUNS)  # noqa: B023
        rows.append((f"{name}, {label}", *times))

    def all_ours():
        corner = Corner(tail, pin, plan)
        for name in BY_HAND:
            from_library(name, corner)

    def all_by_hand():
        for by_hand in BY_HAND.values():
            by_hand(tail, pin, plan)

    return [*rows, (f"check the leans and read all, {label}", *turn_about(all_ours, all_by_hand, RUNS))]


def import_row():
    """A fresh interpreter each time; the first of each is thrown away, because it may compile."""
    def fresh(statement):
        return lambda: subprocess.run([sys.executable, "-c", statement], check=True, env=os.environ)

    ours, other = fresh("import splaywork"), fresh("import sympy, numpy")
    ours(), other()
    return ("import splaywork / sympy and numpy", *turn_about(ours, other, IMPORTS))


def rows():
    """Rows (name, our seconds, the other's seconds, ratio)."""
    rng = np.random.default_rng(3)
    return [*array_rows("square plan", 90.0), *array_rows("any plan angle", rng.uniform(60, 135, CORNERS)), import_row()]


def main():
    print(f"{'':48}{'ours, ms':>10}{'other, ms':>11}{'ratio':>8}")
    for name, ours, other, ratio in rows():
        print(f"{name:48}{1000 * ours:10.1f}{1000 * other:11.1f}{ratio:8.2f}")


if __name__ == "__main__":
    main()
