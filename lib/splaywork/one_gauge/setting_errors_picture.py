"""What settings a little off do: how wide the widest gap of each box gets, and which setting matters most."""

import numpy as np

from ..common import checks
from ..common.printing import MM_PER_INCH, fine, gap
from ..corner.picture import HEAVY, LIGHT
from ..drawing.canvas import Canvas, OnCanvas
from ..drawing.palette import END, GUIDE, INK, PIN, TAIL
from ..drawing.still import Still
from .setting_errors import SETTINGS, Jitter, Opened
from .words import about, hundredths, percent, place_of, say_setting_errors

BARS = 44  # about how many bars the histogram has
FILL = {"tail": TAIL, "pin": PIN}
KINDS = [(board, setting) for board in ("tail", "pin") for setting in ("end line", "end bevel")]
SAME = 1e-9  # mm
STEPS = np.outer(10.0 ** np.arange(-4, 4), (1, 2, 5)).ravel()  # of the numbers under the axis


class SettingErrorsPicture(OnCanvas):
    """A histogram of the widest gaps on the left, a bar for each kind of setting on the right: 920 × 360 pixels."""

    WIDTH, HEIGHT = 920, 360
    FRAME = (30, 74, 520, 254)  # of the histogram: left, bottom, right, top of its tallest bar
    BARS_AT = 552

    def __init__(self) -> None:
        self.canvas = Canvas(self.WIDTH, self.HEIGHT)
        left, bottom, right, _ = self.FRAME
        self._title = self.canvas.text(left, 336, weight="bold", size=11)
        self._within = self.canvas.polygons(fill=END, edge=INK, width=0.6)
        self._beyond = self.canvas.polygons(fill=GUIDE, edge=INK, width=0.6)
        self._ticks = self.canvas.lines(width=LIGHT)
        self._numbers = [self.canvas.text(0, bottom - 20, align="center") for _ in range(12)]
        self.canvas.lines(width=LIGHT).set_segments([[(left, bottom), (right, bottom)]])
        self._quantiles = self.canvas.lines(width=LIGHT, dash=(0, (1, 2)))
        self._tolerance = self.canvas.lines(width=HEAVY)
        self._marks = [self.canvas.text(0, 0) for _ in range(3)]
        self._key = []
        for x, fill in ((left, END), (left + 250, GUIDE)):
            swatch = [(x, 22), (x + 24, 22), (x + 24, 34), (x, 34)]
            self.canvas.polygons(fill=fill, edge=INK, width=0.6).set_verts([swatch])
            self._key.append(self.canvas.text(x + 34, 23))
        x = self.BARS_AT
        self.canvas.text(x, 336, "Gap if one setting alone is wrong", weight="bold", size=11)
        self._bars = [self.canvas.polygons(fill=FILL[board], edge=INK) for board, _ in KINDS]
        self._names = [self.canvas.text(x, 296 - 70 * row) for row in range(len(KINDS))]
        self._values = [self.canvas.text(0, 272 - 70 * row, weight="bold") for row in range(len(KINDS))]

    def update(self, sample: Jitter, tolerance: float, unit: str = "mm", fit: bool = True) -> None:
        """Draw a `setting_errors.Jitter` against a tolerance in mm, lengths written in `unit`.

        fit: False to keep both scales, so that bars that move, or grow, are seen to; they widen where they must.
        """
        if fit:
            self._end = self._longest = 0.0
        boxes, corners, _ = sample.openings.shape
        self._draw_histogram(sample, tolerance, unit)
        pieces = "boxes" if corners > 1 else "corners"
        within = sample.within(tolerance)
        self._title.set_text(f"The widest gap in each of {boxes:,} {pieces}, {'mm' if unit == 'mm' else 'inches'}")
        self._key[0].set_text(f"within {fine(tolerance, unit)}: {percent(within)}")
        self._key[1].set_text(f"wider: {percent(1 - within)}")
        self._draw_bars(sample, unit)

    def _draw_histogram(self, sample, tolerance, unit):
        left, bottom, right, top = self.FRAME
        half, most = sample.quantile(0.5), sample.quantile(0.9)
        needed = max(sample.gap.max(), 1.5 * max(tolerance, most))
        self._end = end = self._end if needed <= self._end else 1.25 * needed
        edges = _edges(end, tolerance)
        counts = np.histogram(sample.gap, edges, density=True)[0]
        across = left + (right - left) * edges / edges[-1]
        up = bottom + (top - bottom) * counts / counts.max()
        low = np.full(len(counts), bottom)
        bars = np.stack([np.stack(corner, axis=-1) for corner in (
            (across[:-1], low), (across[1:], low), (across[1:], up), (across[:-1], up))], axis=1)
        good = edges[:-1] < tolerance - SAME
        self._within.set_verts(bars[good & (counts > 0)])
        self._beyond.set_verts(bars[~good & (counts > 0)])

        def place(value):
            return left + (right - left) * value / edges[-1]

        self._draw_ticks(edges[-1], place, unit)
        marks = sorted([(tolerance, "tolerance"), (half, "half: up to"), (most, "nine in ten: up to")])
        lines = {}
        for row, (artist, (value, name)) in enumerate(zip(self._marks, marks, strict=True)):
            height = top + 54 - 20 * row  # the leftmost highest: no line runs through another's words
            lines[name] = [(place(value), bottom), (place(value), height + 10)]
            written = fine(value, unit) if name == "tolerance" else about(value, unit)
            artist.set(position=(place(value) + 6, height), text=f"{name} {written}",
                       fontweight="bold" if name == "tolerance" else "normal")
        self._tolerance.set_segments([lines.pop("tolerance")])
        self._quantiles.set_segments(list(lines.values()))

    def _draw_ticks(self, end, place, unit):
        bottom = self.FRAME[1]
        size = 1 if unit == "mm" else float(MM_PER_INCH)
        step = STEPS[np.argmax(end / size <= STEPS * 9)]
        numbers = step * np.arange(np.floor(end / size / step) + 1)
        places = max(0, -int(np.floor(np.log10(step) + 1e-9)))
        self._ticks.set_segments([[(place(x * size), bottom), (place(x * size), bottom - 4)] for x in numbers])
        for artist, number in zip(self._numbers, numbers, strict=False):
            artist.set(position=(place(number * size), bottom - 20), text=f"{number:.{places}f}")
        for artist in self._numbers[len(numbers):]:
            artist.set_text("")

    def _draw_bars(self, sample, unit):
        """A bar for each kind of setting, at the corner where it opens the most."""
        first = {}
        for number, board, setting, opened in sample.ranking:
            first.setdefault((board, setting), (number, opened))
        needed = max(opened for _, opened in first.values())
        self._longest = longest = (self._longest if needed <= self._longest else 1.25 * needed) or 1.0
        most = sample.matters_most
        limit = dict(zip(SETTINGS, sample.limit, strict=True))
        x = self.BARS_AT
        for row, (kind, bar) in enumerate(zip(KINDS, self._bars, strict=True)):
            number, opened = first[kind]
            y, long = 264 - 70 * row, 230 * opened / longest
            bar.set_verts([[(x, y), (x + long, y), (x + long, y + 24), (x, y + 24)]])
            board, setting = kind
            place = place_of(sample, Opened(number, board, setting, opened))
            where = place and f", {place}{' corner' * (place in ('front', 'back'))}"
            self._names[row].set(text=f"{board} board's {setting}{where}, by {hundredths(limit[setting])}",
                                 fontweight="bold" if gap(opened, unit) == gap(most.gap, unit) else "normal")
            self._values[row].set(position=(x + long + 8, y + 8), text=gap(opened, unit))


def setting_errors_still(sample: Jitter, tolerance: float) -> Still:
    """The picture of `SettingErrorsPicture.update(sample, tolerance)` as a `Still`.

    >>> import splaywork as sw
    >>> sample = sw.jitter(sw.Corner(28, 24), 0.25, height=120, thickness=18)
    >>> print(sw.setting_errors_still(sample, tolerance=0.2).words.rpartition(". ")[2])
    One end line alone, 0.25° wrong, opens a gap of 0.75 mm.
    """
    checks.instance("sample", sample, Jitter, "jitter(Corner(16, 11))")
    tolerance = checks.size("tolerance", tolerance)
    picture = SettingErrorsPicture()
    picture.update(sample, tolerance)
    return Still(lambda: picture.canvas, say_setting_errors(sample, tolerance))


def _edges(end, tolerance):
    """Edges in mm of about BARS bars from 0 to at least `end`, the tolerance one of them."""
    if tolerance * BARS < end:  # the first bar is cut in two
        return np.insert(np.linspace(0, end, BARS + 1), 1, tolerance)
    width = tolerance / round(tolerance * BARS / end)
    return width * np.arange(np.ceil(end / width) + 1)
