"""The colours of every picture, and the 256-colour palette that keeps the PNGs small and quick to write.

The two boards differ in lightness as well as hue, and every line kind has a dash and a weight of its own, so that
the pictures read in greyscale, on a projector and to colour-blind eyes (tests/test_drawing.py measures it).
"""

from functools import cache
from itertools import combinations

import numpy as np

WHITE = "#ffffff"
INK = "#16191d"  # outlines, text, and the true end line
SHORTCUT = "#a8320a"  # the shortcut line, its gaps, and whatever else is wrong: red says nothing else
MISS = "#d49884"  # SHORTCUT halfway to white: what lies between right and wrong, where the line itself is to be seen in it
GUIDE = "#505a64"  # square reference lines, arcs
MEASURE = "#5a2d91"  # measuring arrows, their ends and numbers
TAIL = "#f0d9a4"
TAIL_INNER = "#e0c283"
PIN = "#8db4d3"
PIN_INNER = "#6285a3"
RIM = "#fbf3de"
TAIL_CHEEK, PIN_CHEEK = "#f6e6c1", "#c4d4d8"  # halfway to the rim: steps that the palette has anyway
END = "#d9d2c3"  # the far ends, where the stub is cut short
BENCH = "#eceff1"
WASTE = "#f7f7f5"
STEEL = "#b9c4c9"  # blades, rules and straightedges

INKS = (INK, SHORTCUT, GUIDE)
FILLS = (WHITE, TAIL, TAIL_INNER, PIN, PIN_INNER, RIM, END, BENCH, WASTE, STEEL)

EXACT = (*INKS, MEASURE, *FILLS)  # flat areas come out in these as they are


def rgb(colour: str) -> np.ndarray:
    """(3,) array of 0…255 from "#rrggbb"."""
    return np.array([int(colour[i:i + 2], 16) for i in (1, 3, 5)])


@cache
def palette() -> np.ndarray:
    """(256, 3) array, 0…255: every colour, and the steps between inks, and from ink to fill, that smooth edges need."""
    exact = [rgb(colour) for colour in EXACT]
    steps, few = np.linspace(0, 1, 7)[1:-1], np.linspace(0, 1, 5)[1:-1]
    blends = [(1 - step) * rgb(ink) + step * rgb(fill) for ink in INKS for fill in FILLS for step in steps]
    blends += [(1 - step) * rgb(MEASURE) + step * rgb(fill) for fill in FILLS for step in few]
    blends += [(1 - step) * rgb(one) + step * rgb(other) for one, other in combinations(INKS, 2) for step in steps]
    halves = [(rgb(one) + rgb(other)) / 2 for one in FILLS for other in FILLS if one < other]
    colours = np.rint([*exact, *blends, *halves]).astype(int)
    return np.vstack([colours, np.repeat(colours[:1], 256 - len(colours), 0)])


@cache
def lookup() -> np.ndarray:
    """(32768,) uint8: the nearest palette entry for each colour, five bits a channel."""
    channel = np.arange(32) * 255 / 31
    colours = palette().astype(np.float32)
    lengths = (colours**2).sum(axis=1)
    cells = np.stack(np.meshgrid(channel, channel, channel, indexing="ij"), axis=-1).reshape(-1, 32, 3).astype(np.float32)
    # 32 at a time: a larger product is shared among threads, and waiting for them is most of a fresh kernel's first picture
    nearest = np.concatenate([(lengths - 2 * row @ colours.T).argmin(axis=1) for row in cells]).astype(np.uint8)
    exact = (palette()[:len(EXACT)] >> 3) @ (1024, 32, 1)
    nearest[exact] = np.arange(len(exact))  # a flat fill comes out as itself, not as a neighbour
    return nearest
