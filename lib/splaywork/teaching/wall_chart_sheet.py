"""The wall chart, one page of A2 or A3: the words on one picture, the eleven steps drawn, what each gap says, the cautions."""

from dataclasses import replace
from pathlib import Path

import numpy as np

from ..common import checks
from ..common.class_corner import class_corner
from ..common.kinds import FilePath
from ..common.printing import UNITS
from ..corner.corner import Corner
from ..corner.dry_fit import SIGNS
from ..corner.stills import draw_words
from ..corner.words import lean_words
from ..drawing.lettering import height_of, wrapped
from ..drawing.paper import Label, Page, Picture, Stroke, moved
from ..drawing.print_file import save_pages
from ..joint.bench_sketch_picture import Frame, Sketch, least_height
from ..joint.bench_steps import bench_step_words
from ..joint.bench_steps_picture import frames
from ..joint.joint import Joint
from ..joint.words import CAUTIONS

PAPERS = {"A3": 1.0, "A2": 2 ** 0.5}  # how much larger than A3
WIDE, HIGH, EDGE = 297.0, 420.0, 14.0  # mm, of A3
TITLE, HEAD, TYPE = 26.0, 12.0, 10.0  # points on A3
WORDS = 168.0  # mm that the picture of words is wide
COLUMN, HEADED = 131.0, 11.5  # mm that a step is wide, and that its title and the space around its drawing take
NOMINAL = tuple(map(float, range(520, 701, 10)))  # pixels that a step is drawn over: the more, the smaller its type
GAPS = tuple((" ".join(f"{sign.seen}. {sign.means}" for sign in SIGNS if sign.wedges == wedges and not sign.tailed), "")
             for wedges in (True, False))


def wall_chart(joint: Joint | None = None, paper: str = "A3", unit: str = "mm") -> Page:
    """The wall chart, one `Page` for `save_wall_chart`.

    joint: a `Joint`; left out, that of the class corner, or of 16 and 11. paper: "A3" or "A2"; unit: "mm", "in" or
    "0.001 in". ValueError for others.

    >>> import splaywork as sw
    >>> page = sw.wall_chart(paper="A2")
    >>> round(page.width), round(page.height)
    (420, 594)
    """
    joint = _own_joint(class_corner()) if joint is None else joint
    checks.instance("joint", joint, Joint, "Joint(Corner(16, 11), height=120, tail_thickness=18)")
    checks.choice("paper", paper, tuple(PAPERS))
    checks.choice("unit", unit, UNITS)
    corner, y = joint.corner, HIGH - EDGE
    leans = f"Tail board {lean_words(corner.tail_lean)}, pin board {lean_words(corner.pin_lean)}"
    items = [_label("Two boards that lean", EDGE, y - 9, TITLE, "bold"), _label(leans, EDGE, y - 16, HEAD)]
    y -= 21
    tall = WORDS * 440 / 920
    items.append(Picture(lambda canvas: draw_words(canvas, corner, joint.height, joint.tail_thickness),
                         np.array([[EDGE, y - tall], [EDGE + WORDS, y]])))
    items += _column("Before you cut", [(text, "") for text in CAUTIONS], EDGE + WORDS + 6, y, WIDE - 2 * EDGE - WORDS - 6, 8.5)
    y -= tall + 3
    steps = bench_step_words(joint, unit)
    drawn = [frames(joint, step.number, unit) for step in steps]
    gaps = _column("When the dry fit gapes (cures: notebook 06)", GAPS, EDGE + COLUMN + 7, 0.0, COLUMN, TYPE)
    nominal, rows = layout(drawn, y - EDGE, 1 - min(item.at[1] for item in gaps if isinstance(item, Label)))
    for number, (step, shown) in enumerate(zip(steps, drawn, strict=True)):
        left = EDGE + (number % 2) * (COLUMN + 7)
        items += _step(step, shown, left, y, rows[number // 2], nominal)
        if number % 2:
            y -= rows[number // 2] + HEADED
    items += [moved(item, np.array([0, y])) for item in gaps]
    by = PAPERS[paper]
    window = np.array([[EDGE, EDGE], [WIDE - EDGE, HIGH - EDGE]]) * by
    return Page(WIDE * by, HIGH * by, window, (), tuple(_scaled(item, by) for item in items), np.zeros(2))


def _own_joint(kept):
    if kept is None:
        return Joint(Corner(16, 11), height=120, tail_thickness=18)
    return Joint(Corner(kept.tail_lean, kept.pin_lean), height=kept.height, tail_thickness=kept.thickness)


def _label(text, x, y, size, weight="normal"):
    return Label(text, np.array([x, y]), size, weight=weight)


def layout(drawn: list[tuple[Frame, ...]], room: float, last: float) -> tuple[float, np.ndarray]:
    """How the frames of the steps are drawn, two in a row: pixels that each is wide, and mm that each row's drawings are tall.

    room: mm for all rows; last: mm that what stands beside the last step takes. The type is as large as leaves every drawing
    the height that its callouts need.
    """
    for nominal in NOMINAL:
        needs = [float(least_height(shown, nominal)) * COLUMN / nominal for shown in drawn]
        rows = np.array([max(needs[first:first + 2]) for first in range(0, len(needs), 2)])
        rows[-1] = max(rows[-1], last - HEADED)
        spare = room - rows.sum() - HEADED * len(rows)
        if spare >= 0:
            break
    return nominal, rows + spare / len(rows)


def _step(step, shown, left, top, tall, nominal):
    """One step: a rule, its number and title, and its drawing below."""
    def draw(canvas):
        Sketch(canvas, scale=canvas.width / nominal).draw(shown, nominal, nominal * tall / COLUMN)

    return [Stroke("rule", np.array([[left, top], [left + COLUMN, top]])),
            _label(f"{step.number}  {step.title}", left, top - 5.5, HEAD, "bold"),
            Picture(draw, np.array([[left, top - 8 - tall], [left + COLUMN, top - 8]]))]


def _column(title, pairs, left, top, wide, size):
    """A heading, and below it what is seen in bold with what to do after it, or paragraphs."""
    items = [Stroke("rule", np.array([[left, top], [left + wide, top]])), _label(title, left, top - 5.5, HEAD, "bold")]
    y = top - 8.0
    for seen, do in pairs:
        for text, weight in ((seen, "bold" if do else "normal"), (do, "normal")):
            for line in wrapped(text, size, wide - (4 if weight == "normal" and do else 0), weight) if text else ():
                indent = 4 if weight == "normal" and do else 0
                items.append(_label(line, left + indent, y - 0.8 * height_of(size), size, weight))
                y -= height_of(size)
        y -= 0.0 if do else 1.2
    return items


def _scaled(item, by):
    if isinstance(item, Label):
        return replace(item, at=item.at * by, size=item.size * by)
    return replace(item, points=item.points * by)


def save_wall_chart(path: FilePath, joint: Joint | None = None, paper: str = "A3", unit: str = "mm") -> tuple[Path, ...]:
    """Write `wall_chart` as a PDF of one page, whole or not at all; returns the paths written. Arguments as there.

    >>> import splaywork as sw
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     [path.name for path in sw.save_wall_chart(f"{folder}/chart.pdf")]
    ['chart.pdf']
    """
    return save_pages(path, wall_chart(joint, paper, unit), paper)
