"""Wedge templates at true scale: the side of a wedge for a lean, to be glued onto the wood and sawn round."""

from pathlib import Path

import numpy as np

from ..common.checks import angle, size
from ..common.kinds import FilePath
from ..common.printing import degrees, offset_parts
from ..common.wedges import FLAT_TOP, wedge_side
from ..drawing.paper import Area, Drawing, Label, Stroke
from ..drawing.print_file import save_pages

TALL = 90.0  # mm: height of the wedge
MOST = 45.0  # degrees


def wedge_template(lean: float, height: float = TALL) -> Drawing:
    """The side of a wedge for a board that leans by `lean` degrees, out or in, as a `Drawing`; height in mm.

    ValueError for a lean of less than 1° or more than 45°.
    """
    lean, height = abs(angle("lean", lean, -90, 90)), size("height", height)
    if not 1 <= lean <= MOST:
        raise ValueError(f"The lean is {degrees(lean)}, and a wedge is drawn for 1° to {MOST:g}°, out or in: give such a lean.")
    side = wedge_side(lean, height)
    slide = side[3, 0]
    along, up = offset_parts(lean)
    title = f"Wedge for a lean of {degrees(lean)}"
    notes = ("Glue the sheet onto the side of a block, and saw beside the lines. Plane the sloping face to its line: the board "
             "lies against it.",
             f"Check the slope with a square on the bench: it runs {along} for every {up} of height. Make two for each board, "
             "and clamp them down.")
    items = (Area("wedge", side, "wedge"), Stroke("outline", side[[0, 1, 2, 3, 0]], "outline"),
             Stroke("arm", side[[3, 0]], "slope"),
             Label("the board lies here", side[0] + 0.34 * (side[3] - side[0]) + np.array([-3.0, 2.0]), 7.5, 90 - lean),
             Label("bench", np.array([(slide + FLAT_TOP) / 2, -5.0]), 8.0, 0.0, "center"),
             Label(degrees(lean), np.array([slide + FLAT_TOP - 9.0, 0.25 * height]), 9.0, 0.0, "center", "bold"))
    return Drawing(title, notes, items, (("arm", "slope: plane to this line"), ("outline", "saw beside this line")))


def save_wedge_template(path: FilePath, *leans: float, paper: str = "A4", height: float = TALL) -> tuple[Path, ...]:
    """Write a wedge template for each lean to `path`, .pdf or .svg, at true scale; returns the paths written.

    Parameters
    ----------
    path : str or Path
    leans : float
        Degrees, 1 to 45 out or in; one page each.
    paper : str
        "A4", "A3" or "Letter".
    height : float
        Of the wedge, mm.

    Raises
    ------
    ValueError
        For no lean at all, another lean, another ending or another paper.

    >>> import splaywork as sw
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     [path.name for path in sw.save_wedge_template(f"{folder}/wedge.pdf", 16)]
    ['wedge.pdf']
    """
    if not leans:
        raise ValueError("There is no lean to draw a wedge for: give one, such as 30.")
    return save_pages(path, [wedge_template(lean, height) for lean in leans], paper)
