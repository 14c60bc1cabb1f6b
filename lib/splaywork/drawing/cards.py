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
             "Lay the gauge's stock along one heavy arm and set its blade to the other. For a line that slants the other "
             "way, turn the gauge over. Dotted: square to the stock.")
    room = room_for_a_card(title, notes)
    settings = lettered_settings(joint)
    rows = ceil(len(settings) / 2)
    size = np.array([(room[0] - GUTTER) / 2, min(110.0, room[1] / rows)])
    items = []
    for number, (letter, setting) in enumerate(settings.items()):
        corner = np.array([(number % 2) * (size[0] + GUTTER), room[1] - (number // 2 + 1) * size[1]])
        items += _cell(letter, setting, corner, size, unit)
    return (Drawing(title, notes, tuple(items)),)


def _cell(letter, setting, corner, size, unit):
    """One setting in its cell: the wedge above, its words below. corner: lower left, mm."""
    angles, slope = setting_rows(setting, unit)
    texts = [(angles, 8.0, "bold"), (slope, 8.0, "bold"), *((text, 7.0, "normal") for text in used_for(setting))]
    lines = [(line, points, weight) for text, points, weight in texts
             for line in wrapped(text, points, size[0] - 8, weight)]
    tall = sum(height_of(points) for _, points, _ in lines) + 3
    items, y = [Label(letter, corner + [0, tall - 6.5], 14.0, weight="bold")], tall - 3
    for line, points, weight in lines:
        y -= height_of(points)
        items.append(Label(line, corner + [8, y + 1], points, weight=weight))
    return items + _wedge(setting.from_edge, corner + [0, tall + 2], min(BLADE, size[0]), size[1] - tall - 6)


def _wedge(angle, apex, wide, tall):
    """A wedge of `angle` degrees with its apex at the lower left, as large as fits in `wide` × `tall` mm."""
    steep = angle > 45  # then the stock stands, so that both arms are long
    rise = np.radians(90 - angle if steep else angle)
    long = min(wide / np.cos(rise), tall / np.sin(rise), BLADE)
    blade = apex + long * np.array([np.cos(rise), np.sin(rise)])
    stock = apex + ([0, min(tall, BLADE)] if steep else [min(wide, BLADE), 0])
    items = [Area("wedge", np.array([apex, stock, blade])), Stroke("arm", np.array([stock, apex, blade]), "wedge")]
    if steep:
        items.append(Stroke("square", np.array([apex, apex + [long, 0]]), "square"))
    return items


def procedure_card(joint, name="", unit="mm"):
    """The steps at the bench for this joint, tails first, with cautions, on one page: a tuple of one `Drawing`.

    name: of the corner, up to 60 characters. unit: "mm" or "in". ValueError for anything else.
    """
    title = "Procedure card: through dovetails, tails first"
    notes = (f"{checked_name(name, joint.corner)}. {joint_sizes(joint, unit)}",)
    room = room_for_a_card(title, notes)
    parts = [("Gauges", settings_words(joint, unit)),
             *((f"{number}  {heading}", (text,)) for number, (heading, text) in
               enumerate(procedure(joint, unit), start=1)),
             ("Before you cut", CAUTIONS)]
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
