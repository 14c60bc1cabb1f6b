"""Panels for a trial corner: end lines read back into leans, and gaps read back into cuts."""

import ipywidgets as widgets

from ..common.boards import BOARDS
from ..common.class_corner import ClassCorner
from ..common.printing import fine
from ..common.reading import read_angle, read_bevel, read_length
from ..corner.corner import Corner
from ..widgets.controls import Dial, FittedPanel, folded, reset_button, row, two_decimals, unit_switch
from .faults import edge_gap, end_gap, end_line_gap
from .picture import FaultsPicture, MeasuredPicture
from .readings import TrialCorner
from .words import say_edge_gap, say_end_gap, say_end_line_gap, say_measured

MOST_READING, MOST_LEAN = 60, 45  # degrees either way: the ends of the sliders
LABEL, GAP_LABEL = 170, 120  # pixels: of the longest name in each panel


class TrialCornerPanel(FittedPanel):
    """What two end lines, as read, make of a corner; use `trial_corner_panel` to make one."""

    def __init__(self, tail_end_line: float, pin_end_line: float, resolution: float, intended: Corner) -> None:
        reach = MOST_READING
        dials = {
            "tail_end_line": Dial("Tail end line, measured", tail_end_line, -reach, reach, 0.05, "gauge",
                                  write=two_decimals, label=LABEL),
            "pin_end_line": Dial("Pin end line, measured", pin_end_line, -reach, reach, 0.05, "gauge",
                                 write=two_decimals, label=LABEL),
            "tail_lean": Dial("Tail lean, intended", intended.tail_lean, -MOST_LEAN, MOST_LEAN, 0.5, label=LABEL),
            "pin_lean": Dial("Pin lean, intended", intended.pin_lean, -MOST_LEAN, MOST_LEAN, 0.5, label=LABEL),
            "resolution": Dial("Read to ±", resolution, 0, 2, 0.05, write=two_decimals, label=LABEL),
        }
        self.picture = MeasuredPicture()
        self.start_again = reset_button()
        super().__init__(dials, [row(dials["tail_end_line"], dials["pin_end_line"]),
                                 row(dials["tail_lean"], dials["pin_lean"]),
                                 row(dials["resolution"], self.fit_button("Choose the scales anew"), self.start_again)],
                         [], MeasuredPicture.WIDTH, MeasuredPicture.HEIGHT, reset=self.start_again)

    def class_starts(self, kept: ClassCorner) -> dict[str, float]:
        corner = Corner(kept.tail_lean, kept.pin_lean)
        lines = {f"{board}_end_line": round(20 * corner.end_line(board)) / 20 for board in BOARDS}  # as fine as the slider
        return super().class_starts(kept) | lines

    def draw(self) -> tuple:
        at = {name: dial.value for name, dial in self.dials.items()}
        measured = TrialCorner(at["tail_end_line"], at["pin_end_line"], at["resolution"],
                               Corner(at["tail_lean"], at["pin_lean"]))
        self.picture.update(measured, fit=self.may_fit())
        return self.picture.png(), say_measured(measured)


class TrialFaultsPanel(FittedPanel):
    """What three gaps at a trial corner say; use `trial_faults_panel` to make one."""

    def __init__(self, corner: Corner, height: float, thickness: float) -> None:
        gaps = _first_gaps(corner, height, thickness)
        dials = {
            "tail_lean": Dial("Tail lean", corner.tail_lean, -MOST_LEAN, MOST_LEAN, 0.5, label=GAP_LABEL),
            "pin_lean": Dial("Pin lean", corner.pin_lean, -MOST_LEAN, MOST_LEAN, 0.5, label=GAP_LABEL),
            "edge": Dial("Under the edge", round(abs(gaps["edge"]), 2), 0, 30, 0.05, "length", write=fine, label=GAP_LABEL),
            "end": Dial("Across the end", round(abs(gaps["end"]), 2), 0, 30, 0.05, "length", write=fine, label=GAP_LABEL),
            "line": Dial("Up the end", round(abs(gaps["line"]), 2), 0, 30, 0.05, "length", write=fine, label=GAP_LABEL),
            "height": Dial("Height", height, 40, 300, 1, "length"),
            "thickness": Dial("Thickness", thickness, 6, 40, 0.5, "length"),
        }
        self.board = self._choice([(f"{board} board", board) for board in BOARDS], "tail", "Which board")
        arrises = [("inner arris", 1), ("outer arris", -1)]
        self.sides = {"edge": self._choice(arrises, _way(gaps["edge"]),
                                           tooltip="Gap under the edge: where it opens"),
                      "end": self._choice(arrises, _way(gaps["end"]),
                                          tooltip="Gap across the end: where it opens"),
                      "line": self._choice([("at the bottom", 1), ("at the top", -1)], _way(gaps["line"]),
                                           tooltip="Gap up the end: where it opens")}
        self.unit, self.start_again = unit_switch(decimal=True), reset_button()
        self.picture = FaultsPicture()
        rows = [row(dials[name], side) for name, side in self.sides.items()]
        rows[0].children += (self.board,)
        rest = folded("Stock and units", [row(dials["height"], dials["thickness"]), row(self.unit)])
        rows[-1].children += (self.fit_button("Choose the magnification anew"), self.start_again)
        super().__init__(dials, [row(dials["tail_lean"], dials["pin_lean"]), *rows], [rest],
                         FaultsPicture.WIDTH, FaultsPicture.HEIGHT,
                         {"board": self.board, "unit": self.unit} | {f"{name}_side": side for name, side in self.sides.items()},
                         self.start_again)

    def class_starts(self, kept: ClassCorner) -> dict[str, float]:
        gaps = _first_gaps(Corner(kept.tail_lean, kept.pin_lean), kept.height, kept.thickness)
        for name, gap in gaps.items():
            self.sides[name].value = self._starts[f"{name}_side"] = _way(gap)
        return super().class_starts(kept) | {name: round(abs(gap), 2) for name, gap in gaps.items()}

    @staticmethod
    def _choice(options, value, description="", tooltip=None):
        return widgets.Dropdown(options=options, value=value, description=description, tooltip=tooltip,
                                style={"description_width": "82px"}, layout={"width": "200px"})

    def draw(self) -> tuple:
        at = {name: dial.value for name, dial in self.dials.items()}
        gaps = {name: at[name] * side.value for name, side in self.sides.items()}
        corner, board, unit = Corner(at["tail_lean"], at["pin_lean"]), self.board.value, self.unit.value
        self.picture.update(corner, gaps["edge"], gaps["end"], gaps["line"], board, at["height"], at["thickness"], unit,
                            self.may_fit())
        say = {"board": board, "unit": unit}
        return self.picture.png(), " ".join([
            say_edge_gap(corner, at["thickness"], gaps["edge"], **say),
            say_end_gap(corner, at["thickness"], gaps["end"], **say),
            say_end_line_gap(corner, at["height"], gaps["line"], **say),
        ])


def _first_gaps(corner, height, thickness):
    """The gaps that the faults panel opens with, mm: the tail board's edge and end left square, its end line half a degree
    out."""
    return {"edge": edge_gap(corner, thickness), "end": end_gap(corner, thickness),
            "line": end_line_gap(corner, height, corner.tail_end_line + 0.5)}


def _way(gap):
    """Which side a gap opens at, as the lists have it."""
    return -1 if gap < 0 else 1


def trial_corner_panel(tail_end_line: float | str, pin_end_line: float | str, resolution: float | str = 0.25,
                       tail_lean: float | str = 16, pin_lean: float | str = 11) -> TrialCornerPanel:
    """Fields for the two end lines of a trial corner as they were measured, and what corner they make.

    Each input is a number or text that its field would take: degrees, a slope such as "18.7 over 100", and, for the end lines,
    "79.4 from the edge". ValueError for what the sliders don't have, or end lines that no boards can have.

    Parameters
    ----------
    tail_end_line, pin_end_line : float or str
        Where the sliders start, degrees from square, −60 to 60.
    resolution : float or str
        Degrees, 0 to 2, to which the lines were read: the most by which a reading is off, either way.
    tail_lean, pin_lean : float or str
        The intended leans, −45 to 45. The plan angle is 90.

    >>> import splaywork as sw
    >>> panel = sw.trial_corner_panel(10.9, 15.2)
    >>> panel.dials["tail_end_line"].value
    10.9
    """
    tail, pin = (read_bevel(line, -MOST_READING, MOST_READING, name).degrees_from_square
                 for name, line in (("Tail end line, measured", tail_end_line), ("Pin end line, measured", pin_end_line)))
    resolution = read_angle(resolution, 0, 2, "Read to ±")
    tail_lean, pin_lean = (read_angle(lean, -MOST_LEAN, MOST_LEAN, name)
                           for name, lean in (("Tail lean, intended", tail_lean), ("Pin lean, intended", pin_lean)))
    TrialCorner(tail, pin)
    return TrialCornerPanel(tail, pin, resolution, Corner(tail_lean, pin_lean))


def trial_faults_panel(tail_lean: float | str = 16, pin_lean: float | str = 11, height: float | str = 120.0,
                       thickness: float | str = 18.0) -> TrialFaultsPanel:
    """Fields for the gaps seen at a trial corner, and what each says of the cut that left it.

    It starts with the tail board's edge and end left square and its end line half a degree out. Each input is a number or text
    that its field would take; ValueError for what the sliders don't have.

    Parameters
    ----------
    tail_lean, pin_lean : float or str
        Where the corner's sliders start, −45 to 45 degrees.
    height, thickness : float or str
        Vertical height, 40 to 300 mm, and thickness of the stock, 6 to 40 mm.

    >>> import splaywork as sw
    >>> panel = sw.trial_faults_panel(16, 11)
    >>> panel.dials["tail_lean"].value
    16.0
    """
    leans = [read_angle(lean, -MOST_LEAN, MOST_LEAN, name) for name, lean in (("Tail lean", tail_lean), ("Pin lean", pin_lean))]
    sizes = [read_length(size, "mm", low, high, name)
             for name, size, low, high in (("Height", height, 40, 300), ("Thickness", thickness, 6, 40))]
    return TrialFaultsPanel(Corner(*leans), *sizes)
