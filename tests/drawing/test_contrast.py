"""Text and lines against what they are really drawn over, and what each eye makes of them.

Ratios as in Web Content Accessibility Guidelines (WCAG) 2.2, W3C Recommendation: "contrast ratio" and "relative
luminance" in its glossary, 4.5 : 1 for text (success criterion 1.4.3, level AA), 3 : 1 for lines (1.4.11, level AA). The
formula is written here from memory; `test_the_formula` holds it to the ratios that anybody can check.
"""

from itertools import combinations

import numpy as np
import pytest
from colorspacious import cspace_convert, deltaE
from matplotlib.collections import LineCollection
from matplotlib.colors import to_hex
from matplotlib.text import Text
from panel_pictures import pictures
from splaywork import Corner
from splaywork.corner.picture import CornerPicture
from splaywork.drawing import palette
from splaywork.joint.picture import STYLES

TEXT, LINE = 4.5, 3.0
# Every other ground is one of these, or a blend of them at a smooth edge.
GROUNDS = {palette.WHITE, *palette.FILLS, palette.TAIL_CHEEK, palette.PIN_CHEEK}
CORNERS = {"mild": Corner(8, 5), "steep": Corner(38, 33), "inwards": Corner(-20, -12), "mixed": Corner(25, -18)}


def luminance(colours):
    """Relative luminance of (..., 3) sRGB, 0…255."""
    share = np.asarray(colours) / 255
    return np.where(share <= 0.04045, share / 12.92, ((share + 0.055) / 1.055) ** 2.4) @ (0.2126, 0.7152, 0.0722)


def contrast(one, other):
    """Contrast ratio of two colours, "#rrggbb"."""
    low, high = sorted((luminance(palette.rgb(one)), luminance(palette.rgb(other))))
    return (high + 0.05) / (low + 0.05)


def grounds_at(pixels, points):
    """The grounds, "#rrggbb", that lie at points (n, 2) of a picture's pixels."""
    column, row = np.rint(points).astype(int).T
    inside = (column >= 0) & (row >= 0) & (column < pixels.shape[1]) & (row < pixels.shape[0])
    found = pixels[pixels.shape[0] - 1 - row[inside], column[inside], :3]
    return {colour for colour in map("#{:02x}{:02x}{:02x}".format, *found.T) if colour in GROUNDS}


def casing(line):
    """The colour that a line is edged with, or None."""
    effects = line.get_path_effects()
    return palette.WHITE if effects else None


def along(line):
    """Points (n, 2), in pixels, along all segments of a line artist."""
    ends = [path.vertices for path in line.get_paths() if len(path.vertices) == 2]
    share = np.linspace(0.03, 0.97, 60)[:, None]
    return np.concatenate([start + share * (end - start) for start, end in ends]) if ends else np.zeros((0, 2))


def shown(picture, kind):
    return [artist for artist in picture.canvas.figure.artists if isinstance(artist, kind) and artist.get_visible()]


def bare(picture):
    """The picture's pixels without its lines and texts."""
    marks = shown(picture, (LineCollection, Text))
    for mark in marks:
        mark.set_visible(False)
    pixels = picture.canvas.pixels().copy()
    for mark in marks:
        mark.set_visible(True)
    return pixels


def test_the_formula():
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.005)  # the grey that just fails, from memory


@pytest.mark.parametrize("name", CORNERS)
def test_every_line_stands_out_from_all_that_it_crosses(name):
    crossed = 0
    for picture in pictures(CORNERS[name]):
        pixels = bare(picture)
        for line in shown(picture, LineCollection):
            colour, edge = to_hex(line.get_edgecolor()[0]), casing(line)
            if colour in palette.FILLS:  # a stick seen along its length: wood, edged by an ink line below it
                continue
            for ground in grounds_at(pixels, along(line)):
                best = max(contrast(colour, ground), contrast(colour, edge) if edge else 0)
                assert best >= LINE, f"{type(picture).__name__}: {colour} over {ground} is {best:.2f} : 1"
                crossed += 1
    assert crossed > 100


@pytest.mark.parametrize("name", CORNERS)
def test_every_text_stands_out_from_what_it_is_written_on(name):
    written = 0
    for picture in pictures(CORNERS[name]):
        pixels = bare(picture)
        renderer = picture.canvas.figure.canvas.get_renderer()
        for text in shown(picture, Text):
            if text.get_text():
                left, bottom, right, top = text.get_window_extent(renderer).extents
                points = np.stack(np.meshgrid(np.arange(left, right, 3), np.arange(bottom, top, 3)), -1).reshape(-1, 2)
                colour = to_hex(text.get_color())
                for ground in grounds_at(pixels, points):
                    ratio = contrast(colour, ground)
                    assert ratio >= TEXT, f"{type(picture).__name__}: {text.get_text()!r} on {ground} is {ratio:.2f} : 1"
                written += 1
    assert written > 100


# Machado, Oliveira and Fernandes (2009), severity 1.0, as the test-only package colorspacious implements it.
EYES = {"usual": None, "protan": "protanomaly", "deutan": "deuteranomaly", "tritan": "tritanomaly"}


def seen(colour, eye):
    """CAM02-UCS of "#rrggbb" as an eye sees it; "grey" keeps the lightness only."""
    share = palette.rgb(colour) / 255
    if eye == "grey":
        light = luminance(255 * share)
        share = np.full(3, light * 12.92 if light <= 0.0031308 else 1.055 * light ** (1 / 2.4) - 0.055)
    elif EYES[eye]:
        space = {"name": "sRGB1+CVD", "cvd_type": EYES[eye], "severity": 100}
        share = np.clip(cspace_convert(share, space, "sRGB1"), 0, 1)
    return share


def apart(one, other, eye):
    return deltaE(seen(one, eye), seen(other, eye), input_space="sRGB1")


@pytest.mark.parametrize("eye", [*EYES, "grey"])
def test_boards_differ_for_every_eye(eye):
    for tail in (palette.TAIL, palette.TAIL_INNER):
        for pin in (palette.PIN, palette.PIN_INNER):
            assert apart(tail, pin, eye) > 5, (tail, pin)


@pytest.mark.parametrize("eye", [*EYES, "grey"])
def test_lines_of_two_kinds_differ_for_every_eye_in_colour_or_in_dash_and_weight(eye):
    picture = CornerPicture()
    picture.update(Corner(30, 30))
    kinds = {(to_hex(line.get_edgecolor()[0]), line.get_linewidths()[0], str(line.get_linestyles()[0]))
             for line in shown(picture, LineCollection)}
    kinds |= {(colour, width, str(dash)) for colour, width, dash in STYLES.values()}
    assert len(kinds) > 5
    for (one, width, dash), (other, width2, dash2) in combinations(kinds, 2):
        assert apart(one, other, eye) > 10 or dash != dash2 or max(width, width2) / min(width, width2) > 1.25
