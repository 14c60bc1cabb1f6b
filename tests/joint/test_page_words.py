"""What a page says of a joint, held against its planes and lines."""

import re

import numpy as np
import pytest
from benches import level, unit
from shapely import LineString
from splaywork.box.box import Box
from splaywork.corner.corner import Corner
from splaywork.joint.bench_steps import bench_step_words, handed_steps
from splaywork.joint.joint import Joint
from splaywork.joint.page_words import (
    carried_square,
    lettered_table,
    level_cheeks_words,
    marked_width_words,
    mirrored_corner_words,
    slopes_table,
    square_end_words,
    tail_marks_table,
)
from splaywork.joint.settings_words import bevel_words
from splaywork.joint.tails import SLOPES, Cheek

CORNERS = [Corner(16, 11), Corner(30, 30), Corner(-20, -11), Corner(25, -14), Corner(0, 20), Corner(14, 6, 120)]
every_corner = pytest.mark.parametrize("corner", CORNERS, ids=str)


@every_corner
def test_a_cheek_carried_square_through_stands_across_the_way_in(corner):
    joint = Joint(corner, 100, 18, tails=2)
    line = next(line for line in joint.lines_on("tail", "outer") if line.name == "tail 1 lower cheek")
    through = np.cross(line.ends[1] - line.ends[0], corner.vector("tail_normal"))
    angle = np.degrees(np.arcsin(abs(through @ corner.vector("pin_level")) / np.linalg.norm(through)))
    assert carried_square(joint) == pytest.approx(angle, abs=1e-9)
    words = level_cheeks_words(joint)
    cheeks = [plane.normal for name, plane in joint.planes.items() if name.endswith("cheek")]
    assert "Every cheek of this joint is parallel to the level entry, the way" in words and len(cheeks) == 4
    assert max(abs(normal @ corner.vector("pin_level")) for normal in cheeks) < 1e-12
    assert (f"stands at {angle:.1f}° to the pin board's path" in words) == (angle >= 0.05)


@every_corner
@pytest.mark.parametrize("end", ["flush", "square"])
def test_the_table_has_a_row_for_each_setting(corner, end):
    joint = Joint(corner, 100, 18, tails=2, end=end)
    table = lettered_table(joint)
    assert [row[0] for row in table.rows] == list("ABCDEFGH")[:len(joint.bevel_settings)]
    for row, setting in zip(table.rows, joint.bevel_settings, strict=True):
        assert row[1] == f"{setting.from_square:.1f}°" and row[2] == f"{setting.from_edge:.1f}°"
        uses = {(line.board, line.surface == "end", line.edge) for line in setting.lines}
        stocks = {"bottom edge": "(bottom edge)", "outer arris": "(outer face)", "end line": "(sawn end)"}
        told = row[4].split("; ")
        assert len(told) >= len(uses) and all(
            any(f"{board} board's" in each and each.endswith(stocks[edge]) for each in told) for board, _, edge in uses)


def test_slopes_and_ends_and_widths_are_told():
    assert len(slopes_table().rows) == len(SLOPES) and "no source" in slopes_table().rows[-1][-1]
    flush, square = (Joint(Corner(16, 11), 120, 18, tails=3, end=end) for end in ("flush", "square"))
    words = square_end_words(flush, square)
    assert "Each square end stands 0.9 mm proud at its outer arris." in words
    assert "The joint needs 3 bevel settings with flush ends, and 5 with square ends." in words
    unlike = [Joint(Corner(16, 11), 120, 18, 12, tails=3, end=end) for end in ("flush", "square")]
    for board, out in (("tail", 0.9), ("pin", 0.6)):
        told = f"The {board} board's square end stands {out} mm proud at its outer arris."
        assert told in square_end_words(*unlike)
    assert marked_width_words(flush, 30) == f"Mark each tail {30 / np.cos(np.radians(16)):.1f} mm wide up the face."


@every_corner
def test_tail_marks_are_the_lines_ends_up_the_face(corner):
    joint = Joint(corner, 100, 18, tails=3)
    table = tail_marks_table(joint)
    up, foot = corner.vector("tail_up"), joint.tail_board.blank[0, 0, 0]
    lines = {each.name: each.ends for each in joint.lines_on("tail", "outer") if each.kind == "cheek"}
    assert len(table.rows) == len(lines) == 6
    for what, end, root in table.rows:
        ends = lines[what.replace(",", "").replace("side", "cheek")]
        near, far = ends[np.argsort(abs(joint.planes["pin outer"].height_of(ends)))]
        assert (end, root) == (f"{(near - foot) @ up:.1f} mm", f"{(far - foot) @ up:.1f} mm")


LEANS = {"zero": (0, 0), "slight": (3, 2), "strong": (35, 30), "negative": (-16, -11), "mixed": (16, -11),
         "tail alone": (16, 0), "pin alone": (0, 11)}
EVERY_LEAN = pytest.mark.parametrize("leans", LEANS.values(), ids=LEANS)
COUNTS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")


@EVERY_LEAN
@pytest.mark.parametrize("end", ["flush", "square"])
@pytest.mark.parametrize("rims", ["level", "square"])
def test_the_settings_said_are_the_angles_of_the_lines_in_space(leans, end, rims):
    """Each line that a bevel strikes, as it lies in space, against the edge that its stock is held to."""
    corner = Corner(*leans)
    joint = Joint(corner, 120, 18, tails=3, end=end, rims=rims)
    found = []
    for line in joint.lines:
        if line.struck_with == "bevel":
            slants = line.surface == "end" or line.edge == "end line"
            edge = corner.vector("corner_line" if slants else f"{line.board}_level")
            way = line.ends[1] - line.ends[0]
            found.append(np.degrees(np.arccos(abs(way @ edge) / np.linalg.norm(way) / np.linalg.norm(edge))))
    found.sort()
    different = [angle for before, angle in zip([0, *found[:-1]], found, strict=True) if angle - before > 0.05]
    said = bevel_words(joint)
    told = [float(angle) for angle in re.findall(r"[A-Z] is ([\d.]+)° from the edge", said)]
    assert sorted(told) == pytest.approx(different, abs=0.09) and len(found) >= len(told) >= 1
    assert said.startswith(f"The lines of this joint need {COUNTS[len(told)]} bevel setting{'s' * (len(told) != 1)}. ")


@EVERY_LEAN
def test_the_gap_said_is_between_the_shadows_of_two_tails(leans):
    corner = Corner(*leans)
    joint = Joint(corner, 120, 18, tails=3)
    along = corner.vector("pin_level")
    across = np.linalg.svd(along[None])[2][1:].T  # (3, 2): square to the way in
    faces = dict(joint.tail_board.faces)
    shadows = [[LineString(faces[Cheek(tail, side)] @ across) for tail, side in ((number, "upper"), (number + 1, "lower"))]
               for number in (1, 2)]
    narrowest = min(one.distance(other) for one, other in shadows)
    assert f"The narrowest gap between two tails is {narrowest:.1f} mm, seen in" in bevel_words(joint)


@EVERY_LEAN
def test_square_ends_stand_as_proud_as_the_planes_say_and_tails_look_as_wide(leans):
    corner = Corner(*leans)
    flush, square = (Joint(corner, 120, 18, tails=3, end=end) for end in ("flush", "square"))
    tilt = float(corner.vector("tail_normal") @ corner.vector("pin_normal"))  # both out of the wood: 0 when square
    out, said = 18 * abs(np.tan(np.arcsin(tilt))), square_end_words(flush, square)
    if out < 0.005:
        assert said.startswith("Each square end is flush.")
    else:
        face = "outer" if leans[0] * leans[1] > 0 else "inner"
        told = f"Each square end stands {out:.1f} mm proud at its {face} arris."
        assert said.startswith(told)
        for joint in (flush, square):  # the corner of the end that stands furthest past the other board's outer face
            past = max(joint.planes["pin outer"].height_of(points).max() for _, points in joint.tail_board.faces)
            assert past == pytest.approx(out * np.cos(np.arcsin(tilt)) * (joint is square), abs=0.02)
    looks = 30 / np.linalg.norm(corner.vector("tail_up")[[2]])  # a mm up the face climbs by so much
    assert marked_width_words(flush, 30) == f"Mark each tail {looks:.1f} mm wide up the face."


MIRRORED = [Joint(corner, 100, 18, tails=2, end=end) for corner in (Corner(4, 3), Corner(40, 35), Corner(-20, -11),
                                                                    Corner(-18, 35), Corner(0, 20), Corner(0, 0))
            for end in ("flush", "square")]
every_mirrored = pytest.mark.parametrize("joint", MIRRORED, ids=lambda joint: f"{joint.corner}-{joint.end}")
REFLECTED = np.diag([-1.0, 1.0, 1.0])


class Seen:
    """A board of a corner, or of its mirror image: its `hand` is 1 or −1; everything is measured over its own points."""

    def __init__(self, joint, board, mirrored):
        self.turn = REFLECTED if mirrored else np.eye(3)
        solid = joint.tail_board if board == "tail" else joint.pin_board
        self.points = solid.blank @ self.turn  # by face (outer, inner), end (sawn, far) and rim
        outer = self.points[0]
        self.up = unit(outer[0, 1] - outer[0, 0])  # along the end line
        self.along = level(joint, board) @ self.turn
        out = np.cross(self.up, self.along)
        self.out = unit(out) * np.sign(out @ (outer[0, 0] - self.points[1, 0, 0]))

    def end_line(self):
        return np.degrees(np.arcsin(np.clip(-self.up @ self.along, -1, 1)))

    def bevel(self):
        through = self.points[1, 0, 0] - self.points[0, 0, 0]
        through = unit(through - (through @ self.up) * self.up)
        square = np.cross(self.up, self.out)
        return np.degrees(np.arcsin(np.clip(through @ unit(square) * np.sign(square @ self.along), -1, 1)))

    def hand(self):
        """Where its end lies, to somebody before whose eyes its outer face stands on its bottom edge."""
        return "right" if self.along @ np.cross([0, 0, 1], self.out) < 0 else "left"

    def turns(self):
        """Where the saw's far end turns, at a plumb end line; "" where the end is square to the face."""
        through = self.points[1, 0, 0] - self.points[0, 0, 0]
        through = through - (through @ self.up) * self.up
        right = np.cross(self.up, self.out) @ unit(through)  # of the one who looks along −out
        return "" if abs(right) < 1e-3 else "right" if right > 0 else "left"


@every_mirrored
def test_the_mirrored_corner_swaps_the_hands_that_are_said_and_nothing_else(joint):
    told, steps = mirrored_corner_words(joint), bench_step_words(joint)
    boards = {name: [Seen(joint, board, mirrored) for board in ("tail", "pin")]
              for name, mirrored in (("own", False), ("mirrored", True))}
    for own, other in zip(*boards.values(), strict=True):
        assert other.end_line() == pytest.approx(own.end_line(), abs=1e-9)
        assert other.bevel() == pytest.approx(own.bevel(), abs=1e-9)
        assert np.sort(other.points[..., 2], axis=None) == pytest.approx(np.sort(own.points[..., 2], axis=None))
        assert other.out @ (other.points[0, 0, 0] - other.points[1, 0, 0]) > 0  # outer stays outer
        assert {own.hand(), other.hand()} == {"left", "right"}
        assert not own.turns() or {own.turns(), other.turns()} == {"left", "right"}
    tail, pin = boards["mirrored"]
    assert f"hold the tail board's end at your {tail.hand()}, the pin board's at your {pin.hand()}." in told
    turned = (f"There turn the saw's tip the other way too: to the {tail.turns()} for the tail board, to the {pin.turns()} "
              "for the pin board.")
    assert (turned in told) == (joint.end == "flush" and bool(tail.turns())) == ("saw's tip" in told)
    outside = tail.out + pin.out
    assert tail.along @ np.cross([0, 0, 1], outside) < 0 and "from outside, the tail board stands on the left" in told
    named = [step.number for step in steps if re.search(r"(?<!in from the )\b(left|right)\b(?! angle)", step.spoken)]
    assert handed_steps(joint) == named and (" and ".join(map(str, named[-2:])) + ":") in told


def test_a_drawer_s_front_left_corner_is_the_mirror_image_of_the_one_that_the_steps_show():
    """The library's own mirrored corner, placed in its box, against the reflected solid of the other one."""
    for side, front in ((16, 11), (4, 3), (40, 35), (-20, -11), (-18, 35), (0, 0)):
        box = Box(width=400, depth=300, height=100, left_lean=side, right_lean=side, front_lean=front, thickness=18)
        left, right = box.corners["front left"], box.corners["front right"]
        assert left.mirrored and not right.mirrored and (right.tail, right.pin) == ("right", "front")
        assert left.corner == right.corner
        for board in ("tail_board", "pin_board"):
            own = right.place(getattr(right.joint, board).blank)
            other = left.place(getattr(left.joint, board).blank)
            middle = (right.bottom[0] + left.bottom[0]) / 2
            assert other == pytest.approx(own * [-1, 1, 1] + [2 * middle, 0, 0], abs=1e-9)
