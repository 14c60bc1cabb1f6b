"""Pages and drawings written as a file: PDF, or SVG."""

from collections.abc import Callable
from functools import lru_cache
from io import BytesIO
from pathlib import Path
from typing import Any

from matplotlib import rc_context
from matplotlib.figure import Figure
from matplotlib.font_manager import FontProperties
from matplotlib.patches import PathPatch, Polygon, Rectangle
from matplotlib.path import Path as Outline
from matplotlib.text import Text
from matplotlib.transforms import Affine2D

from ..common.files import write_whole
from ..common.kinds import FilePath
from .canvas import NO_DATE, SETTINGS, Inset
from .layout import lay_out
from .lettering import FONT, INCH
from .palette import WHITE
from .paper import FILLS, INKS, Area, Drawing, Label, Page, Picture

_STYLE = SETTINGS | {"hatch.linewidth": 0.5, "text.usetex": False, "path.simplify": False}


def _figure(page):
    """The page as a matplotlib Figure, its mm converted to inches exactly."""
    figure = Figure(figsize=(page.width / INCH, page.height / INCH), facecolor=WHITE)
    on_page = Affine2D().scale(1 / INCH) + figure.dpi_scale_trans
    window = Rectangle(page.window[0], *(page.window[1] - page.window[0]), transform=on_page)
    for items, clip in ((page.inside, window), (page.around, None)):
        for item in items:
            if isinstance(item, Picture):
                item.draw(Inset(figure, item.points / INCH))
                continue
            artist = figure.add_artist(_artist(item, on_page))
            artist.set_clip_on(clip is not None)
            if clip is not None:
                artist.set_clip_path(clip)
    return figure


class _Line(Text):
    """A line of letters that begins at its place: unlike a `Text`, it is not measured before it is drawn."""

    def draw(self, renderer):
        """Draw what a `Text` with these settings draws."""
        renderer.open_group("text", self.get_gid())
        x, y = self.get_transform().transform(self.get_position())
        if renderer.flipy():
            y = renderer.get_canvas_width_height()[1] - y
        gc = renderer.new_gc()
        gc.set_foreground(self.get_color())
        if self.get_clip_on():
            gc.set_clip_rectangle(self.get_clip_box())
            gc.set_clip_path(self.get_clip_path())
        renderer.draw_text(gc, x, y, self.get_text(), self.get_fontproperties(), self.get_rotation(), mtext=self)
        gc.restore()
        renderer.close_group("text")
        self.stale = False


@lru_cache(maxsize=64)
def _font(size, weight):
    return FontProperties(family=FONT, size=size, weight=weight)


def _artist(item, on_page):
    if isinstance(item, Label):
        kind = _Line if item.align == "left" and item.text else Text
        return kind(*item.at, item.text, transform=on_page, color=item.colour, rotation=item.turn,
                    rotation_mode="anchor", ha=item.align, va="baseline", parse_math=False, zorder=3,
                    fontproperties=_font(item.size, item.weight))
    if isinstance(item, Area):
        return Polygon(item.points, closed=True, transform=on_page, zorder=1, **FILLS[item.kind])
    wide, dash, colour = INKS[item.kind]
    style = "solid" if dash is None else (0, dash)
    return PathPatch(Outline(item.points), facecolor="none", edgecolor=colour, linewidth=wide, linestyle=style,
                     capstyle="butt", joinstyle="miter", transform=on_page, zorder=2)


def check_one_pdf(path: FilePath, sheets: str) -> None:
    """ValueError where a path doesn't end in .pdf; sheets: what is saved as one, and its verb, such as "Labels are"."""
    if Path(path).suffix.lower() != ".pdf":
        raise ValueError(f"{sheets} saved as one PDF: end the name {Path(path).name!r} in .pdf.")


def save_pages(path: FilePath, drawings: Any, paper: str = "A4", progress: Callable | None = None) -> tuple[Path, ...]:
    """Write drawings to `path`, which ends in .pdf (one file) or .svg (one file a page); returns the paths written.

    drawings: `Drawing`s, to be laid out on paper, and `Page`s, which are already.

    Several pages in SVG are numbered: corner-1.svg, corner-2.svg and so on. paper: "A4", "A3" or "Letter".
    progress(done, of): called after each page. Files that are there are replaced, each whole or not at all; the same
    drawings give the same bytes with the same release of matplotlib. ValueError for another ending or paper, a folder
    that isn't there, or nothing to print; OSError when the disk refuses.

    >>> import splaywork as sw
    >>> from tempfile import TemporaryDirectory
    >>> page = sw.wall_chart()
    >>> with TemporaryDirectory() as folder:
    ...     [path.name for path in sw.save_pages(f"{folder}/chart.svg", page)]
    ['chart.svg']
    """
    path = Path(path).resolve()
    suffix = path.suffix.lower()
    if suffix not in NO_DATE:
        raise ValueError(f"Sheets are saved as PDF or SVG, and {path.name!r} is neither: end the name in .pdf or .svg.")
    if not path.parent.is_dir():
        raise ValueError(f"There is no folder {str(path.parent)!r} to save {path.name!r} in: make it first.")
    drawings = (drawings,) if isinstance(drawings, (Drawing, Page)) else tuple(drawings)
    if not drawings or not all(isinstance(drawing, (Drawing, Page)) for drawing in drawings):
        raise ValueError("There is nothing to print: give Drawings, such as wrap_template() and bevel_card() return.")
    pages = [page for drawing in drawings
             for page in ([drawing] if isinstance(drawing, Page) else lay_out(drawing, paper))]
    files = _pdf(pages, progress) if suffix == ".pdf" else _svgs(pages, progress)
    names = [path] if len(files) == 1 else [path.with_name(f"{path.stem}-{number}{path.suffix}")
                                            for number in range(1, len(files) + 1)]
    for name, content in zip(names, files, strict=True):
        write_whole(name, content)
    return tuple(names)


def _pdf(pages, progress):
    from matplotlib.backends.backend_pdf import PdfPages  # here: it takes 13 MB that only a kernel which prints needs

    out = BytesIO()
    with rc_context(_STYLE), PdfPages(out, metadata=NO_DATE[".pdf"]) as file:
        for number, page in enumerate(pages, start=1):
            file.savefig(_figure(page))
            if progress:
                progress(number, len(pages))
    return [out.getvalue()]


def _svgs(pages, progress):
    files = []
    for number, page in enumerate(pages, start=1):
        out = BytesIO()
        with rc_context(_STYLE):
            _figure(page).savefig(out, format="svg", metadata=NO_DATE[".svg"])
        files.append(out.getvalue())
        if progress:
            progress(number, len(pages))
    return files
