"""Cards to have on the bench: the bevel settings of a joint as wedges, and its drawn steps."""

from typing import TYPE_CHECKING

import numpy as np

from ..drawing.layout import room_for_a_card
from ..drawing.lettering import height_of, width_of, wrapped
from ..drawing.paper import Area, Drawing, Label, Stroke, moved
from .bench_steps import bench_step_words
from .bench_steps_picture import frames, step_row
from .templates import checked_name
from .words import CAUTIONS, joint_sizes, lettered_settings, lettered_words, setting_rows, used_for

if TYPE_CHECKING:
    from .joint import Joint

GUTTER = 6.0  # mm between columns, and from one row to the next
ARM = 84.0  # mm, the longest arm of a wedge


def bevel_card(joint: "Joint", name: str = "", unit: str = "mm") -> tuple[Drawing, ...]:
    """Every bevel setting of the joint drawn as a wedge to lay a bevel against, as a tuple of one `Drawing`.

    name: of the corner, up to 60 characters. unit: "mm" or "in", for the rise. ValueError for anything else.
    """
    title = "Bevel card"
    notes = (f"{checked_name(name, joint.corner)}. {joint_sizes(joint, unit)}",
             "Lay the bevel's stock along one heavy arm and set its blade to the other. For a line that slants the "
             "other way, turn the bevel over. Dotted: square to the stock.")
    room = room_for_a_card(title, notes)
    settings = lettered_settings(joint)
    wide = (room[0] - GUTTER) / 2
    cells = [(setting.from_edge, *_words(letter, setting, wide, unit)) for letter, setting in settings.items()]
    rows = [cells[start:start + 2] for start in range(0, len(cells), 2)]
    words_tall = [max(tall for _, _, tall in row) for row in rows]
    tall = (room[1] - sum(words_tall)) / len(rows) - GUTTER  # of each wedge
    items, y = [], 0.0
    for row, below in zip(rows, words_tall, strict=True):
        for column, (angle, words, _) in enumerate(row):
            left = column * (wide + GUTTER)
            wedge, bottom = _wedge(angle, np.array([left, y]), wide, tall)
            items += wedge + [moved(label, np.array([left, bottom])) for label in words]
        y -= tall + below + GUTTER
    return (Drawing(title, notes, tuple(items)),)


def _words(letter, setting, wide, unit):
    """The words of one setting, hung from (0, 0), and how tall they are, mm."""
    angles, slope = setting_rows(setting, unit)
    texts = [(angles, 8.0, "bold"), (slope, 8.0, "bold"), *((text, 7.0, "normal") for text in used_for(setting))]
    y = -2.0
    labels = [Label(letter, np.array([0, y - 4.5]), 14.0, weight="bold")]
    for text, points, weight in texts:
        for line in wrapped(text, points, wide - 8, weight):
            labels.append(Label(line, np.array([8, y - 0.8 * height_of(points)]), points, weight=weight))
            y -= height_of(points)
    return labels, -y


def _wedge(angle, corner, wide, tall):
    """A wedge of `angle` degrees below `corner`, as large as fits in `wide` × `tall` mm, and where it ends."""
    stands = angle > 45  # the stock, so that both arms are long
    rise = np.radians(90 - angle if stands else angle)
    blade = min(wide / np.cos(rise), tall / np.sin(rise), ARM) * np.array([np.cos(rise), np.sin(rise)])
    stock = np.array([0, min(tall, ARM)] if stands else [min(wide, ARM), 0])
    apex = corner - [0, max(stock[1], blade[1])]
    items = [Area("wedge", np.array([apex, apex + stock, apex + blade])),
             Stroke("arm", np.array([apex + stock, apex, apex + blade]), "wedge")]
    if stands:
        items.append(Stroke("square", np.array([apex, [apex[0] + blade[0], apex[1]]]), "square"))
    return items, apex[1]


def procedure_card(joint: "Joint", name: str = "", unit: str = "mm") -> tuple[Drawing, ...]:
    """The drawn bench steps of this joint, tails first, with cautions, on two pages: a tuple of two `Drawing`s.

    name: of the corner, up to 60 characters. unit: "mm" or "in". ValueError for anything else.
    """
    notes = (f"{checked_name(name, joint.corner)}. {joint_sizes(joint, unit)}",)
    steps = [(frames(joint, step.number, unit), step) for step in bench_step_words(joint, unit)]
    first = ("Before you cut", CAUTIONS), ("Bevel settings", lettered_words(joint, unit))
    pages = (first, steps[:5]), ((), steps[5:])
    cards = []
    for number, (parts, shown) in enumerate(pages, start=1):
        title = f"Procedure card {number} of {len(pages)}: through dovetails, tails first"
        cards.append(Drawing(title, notes, tuple(_fitted(joint, parts, shown, room_for_a_card(title, notes)))))
    return tuple(cards)


def _fitted(joint, parts, steps, room):
    """Paragraphs and then drawn steps, in the largest letters with which they fit the room (width, height), mm."""
    for points in np.arange(8.0, 4.9, -0.25):
        for tall in (40.0, 36.0, 32.0, 28.0, 24.0):
            items, y = _column(parts, float(points), room[0])
            for shown, step in steps:
                row, height = step_row(shown, step, float(points), room[0], tall)
                items += [moved(item, np.array([0, y])) for item in row]
                y -= height
                if -y > room[1]:
                    break
            else:
                return items
    raise ValueError(f"The procedure for {joint.tails} tails does not fit two pages: print it for a joint with fewer.")


def _column(parts, points, width):
    """Headings on the left and their paragraphs on the right, from the top down; and where they end, mm (below 0)."""
    indent = max((width_of(heading, points, "bold") for heading, _ in parts), default=0.0) + 5
    items, y = [], 0.0
    for heading, texts in parts:
        items.append(Label(heading, np.array([0, y - 0.8 * height_of(points)]), points, weight="bold"))
        for text in texts:
            for line in wrapped(text, points, width - indent):
                items.append(Label(line, np.array([indent, y - 0.8 * height_of(points)]), points))
                y -= height_of(points)
        y -= 0.8 * height_of(points)
    return items, y
