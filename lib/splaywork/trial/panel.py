"""Panels for a trial corner: end lines read back into leans, and gaps read back into cuts."""

import ipywidgets as widgets

from ..common.boards import BOARDS
from ..common.printing import fine, length
from ..corner.corner import Corner
from ..widgets.controls import Dial, Panel, folded, hundredths, reset_button, row, unit_switch
from .faults import edge_gap, end_gap, end_line_gap
from .picture import MeasuredPicture, SymptomPicture
from .readings import TrialCorner, say_measured
from .words import say_edge_gap, say_end_gap, say_end_line_gap

STEEPEST_READING, STEEPEST_LEAN = 60, 45  # degrees either way: the ends of the sliders


class TestCornerPanel(Panel):
    """What two end lines, as read, make of a corner; use `trial_corner_panel` to make one."""

    def __init__(self, tail_end_line, pin_end_line, resolution, intended):
        reach = STEEPEST_READING
        dials = {
            "tail_end_line": Dial("Tail reads", tail_end_line, -reach, reach, 0.05, "gauge", write=hundredths),
            "pin_end_line": Dial("Pin reads", pin_end_line, -reach, reach, 0.05, "gauge", write=hundredths),
            "tail_lean": Dial("Tail asked", intended.tail_lean, -STEEPEST_LEAN, STEEPEST_LEAN, 0.5),
            "pin_lean": Dial("Pin asked", intended.pin_lean, -STEEPEST_LEAN, STEEPEST_LEAN, 0.5),
            "resolution": Dial("Within ±", resolution, 0, 2, 0.05, write=hundredths),
        }
        self.picture = MeasuredPicture()
        self.start_again = reset_button()
        super().__init__(dials, [row(dials["tail_end_line"], dials["pin_end_line"]),
                                 row(dials["tail_lean"], dials["pin_lean"]),
                                 row(dials["resolution"], self.start_again)],
                         [], MeasuredPicture.WIDTH, MeasuredPicture.HEIGHT, reset=self.start_again)

    def draw(self):
        at = {name: dial.value for name, dial in self.dials.items()}
        measured = TrialCorner(at["tail_end_line"], at["pin_end_line"], at["resolution"],
                                  Corner(at["tail_lean"], at["pin_lean"]))
        self.picture.update(measured)
        return self.picture.png(), say_measured(measured)


class SymptomPanel(Panel):
    """What three gaps at a trial corner say; use `symptom_panel` to make one."""

    def __init__(self, corner, height, thickness):
        edge, end = edge_gap(corner, thickness), end_gap(corner, thickness)
        line = end_line_gap(corner, height, corner.tail_end_line + 0.5)
        dials = {
            "tail_lean": Dial("Tail lean", corner.tail_lean, -STEEPEST_LEAN, STEEPEST_LEAN, 0.5),
            "pin_lean": Dial("Pin lean", corner.pin_lean, -STEEPEST_LEAN, STEEPEST_LEAN, 0.5),
            "edge": Dial("Under edge", round(abs(edge), 2), 0, 30, 0.05, "length", write=fine),
            "end": Dial("In the end", round(abs(end), 2), 0, 30, 0.05, "length", write=fine),
            "line": Dial("Corner line", round(abs(line), 2), 0, 30, 0.05, "length", write=fine),
            "height": Dial("Height", height, 40, 300, 1, "length"),
            "thickness": Dial("Thickness", thickness, 6, 40, 0.5, "length"),
        }
        self.board = self._choice([(f"{board} board", board) for board in BOARDS], "tail", "Of the")
        arrises = [("inner arris", 1), ("outer arris", -1)]
        self.sides = {"edge": self._choice(arrises, -1 if edge < 0 else 1,
                                           tooltip="Gap under the edge: where it opens"),
                      "end": self._choice(arrises, -1 if end < 0 else 1,
                                          tooltip="Gap in the end: where it opens"),
                      "line": self._choice([("at the bottom", 1), ("at the top", -1)], -1 if line < 0 else 1,
                                           tooltip="Gap at the corner line: where it opens")}
        self.unit, self.start_again = unit_switch(), reset_button()
        self.picture = SymptomPicture()
        rows = [row(dials[name], side) for name, side in self.sides.items()]
        rows[0].children += (self.board,)
        rest = folded("Stock and units", [row(dials["height"], dials["thickness"]), row(self.unit)])
        rows[-1].children += (self.start_again,)
        super().__init__(dials, [row(dials["tail_lean"], dials["pin_lean"]), *rows], [rest],
                         SymptomPicture.WIDTH, SymptomPicture.HEIGHT,
                         {"board": self.board, "unit": self.unit} | {f"{name}_side": side for name, side in self.sides.items()},
                         self.start_again)

    @staticmethod
    def _choice(options, value, description="", tooltip=None):
        return widgets.Dropdown(options=options, value=value, description=description, tooltip=tooltip,
                                style={"description_width": "58px"}, layout={"width": "172px"})

    def draw(self):
        at = {name: dial.value for name, dial in self.dials.items()}
        gaps = {name: at[name] * side.value for name, side in self.sides.items()}
        corner, board, unit = Corner(at["tail_lean"], at["pin_lean"]), self.board.value, self.unit.value
        self.picture.update(corner, *gaps.values(), board, at["height"], at["thickness"], unit)
        say = {"board": board, "length": lambda size: fine(size, unit)}
        return self.picture.png(), " ".join([
            say_edge_gap(corner, at["thickness"], gaps["edge"], **say),
            say_end_gap(corner, at["thickness"], gaps["end"], **say),
            say_end_line_gap(corner, at["height"], gaps["line"], **say),
        ])


def _leans(tail_lean, pin_lean):
    for name, lean in (("tail lean", tail_lean), ("pin lean", pin_lean)):
        if not abs(lean) <= STEEPEST_LEAN:
            raise ValueError(f"The {name} is {lean}°, and the slider runs from −{STEEPEST_LEAN}° to {STEEPEST_LEAN}°: "
                             "start it between those.")
    return Corner(float(tail_lean), float(pin_lean))


def trial_corner_panel(tail_end_line, pin_end_line, resolution=0.25, tail_lean=16, pin_lean=11):
    """Boxes for the two end lines of a trial corner as they were read, and what corner they make.

    tail_end_line, pin_end_line: where the sliders start, degrees from square, −60…60. resolution: degrees either way to
    which they were read, 0…2. tail_lean, pin_lean: the leans intended, −45…45. The plan angle is 90. The boxes take
    degrees, a rise such as "18.7 over 100", or "79.4 from the edge". ValueError for what the sliders don't have, or
    end lines that no boards can have.
    """
    for name, line in (("tail end line", tail_end_line), ("pin end line", pin_end_line)):
        if not abs(line) <= STEEPEST_READING:
            raise ValueError(f"The {name} is {line}°, and the slider runs from −{STEEPEST_READING}° to "
                             f"{STEEPEST_READING}°: start it between those.")
    if not 0 <= resolution <= 2:
        raise ValueError(f"The resolution is {resolution}°, and the slider runs from 0° to 2°: start it between those.")
    intended = _leans(tail_lean, pin_lean)
    TrialCorner(tail_end_line, pin_end_line)
    return TestCornerPanel(float(tail_end_line), float(pin_end_line), float(resolution), intended)


def symptom_panel(tail_lean=16, pin_lean=11, height=120.0, thickness=18.0):
    """Boxes for the gaps seen at a trial corner, and what each says of the cut that left it.

    tail_lean, pin_lean: where the corner's sliders start, degrees, −45…45. height (vertical, 40…300) and thickness
    (6…40) in mm. It starts with the tail board's edge and end left square and its end line half a degree too steep.
    ValueError for what the sliders don't have.
    """
    corner = _leans(tail_lean, pin_lean)
    for name, size, low, high in (("height", height, 40, 300), ("thickness", thickness, 6, 40)):
        if not low <= size <= high:
            raise ValueError(f"The {name} is {length(size)}, and the slider runs from {low} to {high} mm: start it "
                             "between those.")
    return SymptomPanel(corner, float(height), float(thickness))
