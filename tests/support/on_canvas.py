"""What lies on a canvas: its lines, its words, and what hides what."""

from io import BytesIO
from itertools import product

import numpy as np
from matplotlib.collections import LineCollection, PolyCollection
from matplotlib.text import Text
from PIL import Image
from splaywork.drawing.canvas import DPI


def collections(canvas, kind):
    """Collections of one kind that hold anything, the lowest first."""
    return [each for each in sorted(canvas.figure.artists, key=lambda one: one.zorder)
            if isinstance(each, kind) and each.get_visible() and len(each.get_paths())]


def half_width(collection):
    """Half the width of a collection's lines, in pixels; nothing where it draws none."""
    return max(collection.get_linewidths()) * DPI / 72 / 2 if len(collection.get_edgecolors()) else 0


def texts(canvas):
    """(text artist, its box (left, bottom, right, top) in pixels) of every text that shows."""
    renderer = canvas.figure.canvas.get_renderer()
    shown = [each for each in canvas.figure.artists
             if isinstance(each, Text) and each.get_visible() and each.get_text()]
    return [(text, text.get_window_extent(renderer).extents) for text in shown]


def overlap(one, other):
    return bool(np.all(np.minimum(one[2:], other[2:]) > np.maximum(one[:2], other[:2])))


def crossed(box, lines):
    """Does any of the lines, each (n, 2), run through the box?"""
    along = np.linspace(0, 1, 200)[:, None, None]
    points = np.concatenate([(line[:-1] + along * np.diff(line, axis=0)).reshape(-1, 2) for line in lines])
    return bool(np.any(np.all((points > box[:2]) & (points < box[2:]), axis=1)))


def rgb_of(png):
    return np.asarray(Image.open(BytesIO(png)).convert("RGB"))


def way_to_viewer(corner, turn, tilt):
    """Unit vector to a viewer who stands `turn` degrees round from facing the corner from outside, and looks down."""
    bearing, tilt = np.radians([corner.plan_angle / 2 + 180 + turn, tilt])
    return np.array([np.cos(bearing) * np.cos(tilt), np.sin(bearing) * np.cos(tilt), np.sin(tilt)])


def sure(seen_at, pixels, reach):
    """(what is seen at each position, whether the same is seen all round it)."""
    centre = seen_at(pixels)
    round_it = [seen_at(pixels + reach * np.array(step)) == centre for step in product((-1, 1), repeat=2)]
    return centre, np.all(round_it, axis=0)


def reach_of(canvas):
    """(left, bottom, right, top) of everything but text, half the lines' widths included."""
    low, high = np.full(2, np.inf), np.full(2, -np.inf)
    for each in [*collections(canvas, PolyCollection), *collections(canvas, LineCollection)]:
        points = np.concatenate([path.vertices for path in each.get_paths() if len(path.vertices)])
        low = np.minimum(low, points.min(axis=0) - half_width(each))
        high = np.maximum(high, points.max(axis=0) + half_width(each))
    return np.array([*low, *high])


def assert_within(inner, outer):
    inner, outer = np.asarray(inner), np.asarray(outer)
    assert (inner[:2] >= outer[:2]).all() and (inner[2:] <= outer[2:]).all(), f"{inner} leaves {outer}"


def protractor(png, frame):
    """Degrees from the upright of the heavy line in a frame of a PNG, by a line through its darkest run in each row."""
    left, bottom, right, top = frame
    brightest = rgb_of(png).max(axis=2)[::-1][int(bottom):int(top), int(left):int(right)].astype(float)
    ink = np.clip((100 - brightest) / 70, 0, 1)  # neither the red of the one-gauge line nor the grey of the arc
    middles = []
    for row, line in enumerate(ink):
        edges = np.flatnonzero(np.diff(np.concatenate([[0], line > 0.5, [0]]).astype(int)))
        runs = [(start, end) for start, end in zip(edges[::2], edges[1::2], strict=True) if 3 <= end - start <= 16]
        if len(runs) == 1:
            span = slice(max(runs[0][0] - 1, 0), runs[0][1] + 1)
            middles.append((row, np.average(np.arange(len(line))[span], weights=line[span])))
    rows, columns = np.array(middles[4:-4]).T
    return np.degrees(np.arctan(np.polyfit(rows, columns, 1)[0]))
