"""Cards to have on the bench: the gauge settings of a joint as wedges, and its procedure, each on one page."""

from math import ceil

import numpy as np

from ..joint_words import CAUTIONS, joint_sizes, lettered_settings, procedure, setting_rows, settings_words, used_for
from .paper import Area, Drawing, Label, Stroke, height_of, room_for_a_card, width_of, wrapped
from .templates import checked_name

GUTTER = 8.0  # mm between columns
BLADE = 84.0  # mm, the longest arm of a wedge


def gauge_card(joint, name="", unit="mm"):
    """Every gauge setting of the joint drawn as a wedge to lay a bevel against, as a tuple of one `Drawing`.

    name: of the corner, up to 60 characters. unit: "mm" or "in", for the rise. ValueError for anything else.
    """
    title = "Gauge card"
    notes = (f"{checked_name(name, joint.corner)}. {joint_sizes(joint, unit)}",
             "Lay the gauge's stock along one heavy arm and set its blade to the other. For a line that slants the "
             "other way, turn the gauge over. Dotted: square to the stock.")
    room = room_for_a_card(title, notes)
    settings = list(lettered_settings(joint).items())
    width, tall = (room[0] - GUTTER) / 2, room[1] / ceil(len(settings) / 2) - GUTTER
    items, top = [], 0.0
    for row in (settings[start:start + 2] for start in range(0, len(settings), 2)):
        cells = [_cell(letter, setting, np.array([column * (width + GUTTER), top]), (width, tall), unit)
                 for column, (letter, setting) in enumerate(row)]
        items += [item for cell, _ in cells for item in cell]
        top = min(bottom for _, bottom in cells) - GUTTER
    return (Drawing(title, notes, tuple(items)),)


def _cell(letter, setting, corner, size, unit):
    """One setting as a wedge with its words below, and where they end, mm. corner: upper left; size: width, height."""
    angles, slope = setting_rows(setting, unit)
    texts = [(angles, 8.0, "bold"), (slope, 8.0, "bold"), *((text, 7.0, "normal") for text in used_for(setting))]
    lines = [(line, points, weight) for text, points, weight in texts
             for line in wrapped(text, points, size[0] - 8, weight)]
    left, y = corner
    items, y = _wedge(setting.from_edge, corner, size[0], size[1] - 4 - sum(height_of(points) for _, points, _ in lines))
    y -= 4
    items.append(Label(letter, np.array([left, y - 4.5]), 14.0, weight="bold"))
    for line, points, weight in lines:
        items.append(Label(line, np.array([left + 8, y - 0.8 * height_of(points)]), points, weight=weight))
        y -= height_of(points)
    return items, y


def _wedge(angle, corner, wide, tall):
    """A wedge of `angle` degrees below `corner`, as large as fits in `wide` × `tall` mm, and where it ends."""
    stands = angle > 45  # the stock, so that both arms are long
    rise = np.radians(90 - angle if stands else angle)
    blade = min(wide / np.cos(rise), tall / np.sin(rise), BLADE) * np.array([np.cos(rise), np.sin(rise)])
    stock = np.array([0, min(tall, BLADE)] if stands else [min(wide, BLADE), 0])
    apex = corner - [0, max(stock[1], blade[1])]
    items = [Area("wedge", np.array([apex, apex + stock, apex + blade])),
             Stroke("arm", np.array([apex + stock, apex, apex + blade]), "wedge")]
    if stands:
        items.append(Stroke("square", np.array([apex, [apex[0] + blade[0], apex[1]]]), "square"))
    return items, apex[1]


def procedure_card(joint, name="", unit="mm"):
    """The steps at the bench for this joint, tails first, with cautions, on one page: a tuple of one `Drawing`.

    name: of the corner, up to 60 characters. unit: "mm" or "in". ValueError for anything else.
    """
    title = "Procedure card: through dovetails, tails first"
    notes = (f"{checked_name(name, joint.corner)}. {joint_sizes(joint, unit)}",)
    room = room_for_a_card(title, notes)
    steps = enumerate(procedure(joint, unit), start=1)
    parts = [("Before you cut", CAUTIONS), ("Gauges", settings_words(joint, unit)),
             *((f"{number}  {heading}", (text,)) for number, (heading, text) in steps)]
    for points in np.arange(9.5, 4.9, -0.25):
        items, height = _column(parts, float(points), room[0])
        if height <= room[1]:
            return (Drawing(title, notes, tuple(items)),)
    raise ValueError(f"The procedure for {joint.tails} tails does not fit one page: print it for a joint with fewer.")


def _column(parts, points, width):
    """Headings on the left and their paragraphs on the right, from the top down; and the height of all, mm."""
    indent = max(width_of(heading, points, "bold") for heading, _ in parts) + 5
    items, y = [], 0.0
    for heading, texts in parts:
        items.append(Label(heading, np.array([0, y - 0.8 * height_of(points)]), points, weight="bold"))
        for text in texts:
            for line in wrapped(text, points, width - indent):
                items.append(Label(line, np.array([indent, y - 0.8 * height_of(points)]), points))
                y -= height_of(points)
        y -= 0.45 * height_of(points)
        items.append(Stroke("rule", np.array([[0, y], [width, y]])))
        y -= 0.35 * height_of(points)
    return items[:-1], -y
