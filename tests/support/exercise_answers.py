"""The exercises solved a second time, by planes that are crossed, met and measured, and by plain trigonometry.

`ANSWERS`: exercise id -> function of the numbers that were drawn, which gives the answer as the exercise does. `SLIPS`: the
same for what each kind of slip leads to, exercise id -> kind -> function; `OF_ANY`: kinds that are told from the answer.
Of the library only the names of the kinds are used. Angles are in degrees at both ends, lengths in mm.
"""

from math import acos, asin, atan, atan2, copysign, cos, degrees, hypot, radians, sin, sqrt, tan

import numpy as np
from splaywork.teaching.exercises import slips as kind

UP = (0.0, 0.0, 1.0)


def dot(u, v):
    return sum(x * y for x, y in zip(u, v, strict=True))


def cross(u, v):
    return (u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0])


def plus(u, v, times=1.0):
    return tuple(x + times * y for x, y in zip(u, v, strict=True))


def along(u, way):
    """u or its opposite, whichever runs with `way`, one long."""
    size = sqrt(dot(u, u)) * (1 if dot(u, way) > 0 else -1)
    return tuple(x / size for x in u)


class Planes:
    """Two leaning faces through the foot of the corner, the tail board's level edge along x."""

    def __init__(self, tail, pin, plan=90):
        swing = radians(plan)
        self.level = {"tail": (1.0, 0.0, 0.0), "pin": (cos(swing), sin(swing), 0.0)}
        outward = {"tail": (0.0, -1.0, 0.0), "pin": (-sin(swing), cos(swing), 0.0)}
        leans = {"tail": radians(tail), "pin": radians(pin)}
        self.up = {each: plus(tuple(cos(leans[each]) * x for x in UP), outward[each], sin(leans[each]))
                   for each in leans}
        self.normal = {each: plus(tuple(cos(leans[each]) * x for x in outward[each]), UP, -sin(leans[each]))
                       for each in leans}
        self.line = along(cross(self.normal["pin"], self.normal["tail"]), UP)

    def end_line(self, board):
        return degrees(atan2(-dot(self.line, self.level[board]), dot(self.line, self.up[board])))

    @property
    def dihedral(self):
        faces = [along(cross(self.line, self.normal[board]), self.level[board]) for board in ("tail", "pin")]
        return degrees(acos(max(-1.0, min(1.0, dot(*faces)))))

    @property
    def corner_rise(self):
        return degrees(atan2(self.line[2], hypot(self.line[0], self.line[1])))

    def level_on(self, end):
        """Level line on the tail board's end in the plane square to `end`, from square to its outer arris."""
        inward = tuple(-x for x in self.normal["tail"])
        level, square = along(cross(end, UP), inward), along(cross(end, self.line), inward)
        return degrees(atan2(-dot(level, self.line), dot(level, square)))

    @property
    def level_on_flush_end(self):
        return self.level_on(self.normal["pin"])

    @property
    def level_on_square_end(self):
        return self.level_on(cross(self.normal["tail"], self.line))

    def width(self, board, height):
        return height / self.up[board][2]


def other(board):
    return "pin" if board == "tail" else "tail"


def of(numbers):
    return Planes(numbers["tail_lean"], numbers["pin_lean"])


def leans_of_lines(tail_line, pin_line):
    """The leans of the corner with these end lines: put right, step by step, by what the planes still miss."""
    tail, pin = float(pin_line), float(tail_line)
    for _ in range(400):
        planes = Planes(tail, pin)
        off = pin_line - planes.end_line("pin"), tail_line - planes.end_line("tail")
        if max(map(abs, off)) < 1e-11:
            break
        tail, pin = tail + off[0], pin + off[1]
    return {"tail": tail, "pin": pin}


def meet(*planes):
    """The point of three planes, each (normal, a point on it)."""
    normals = np.array([normal for normal, _ in planes])
    return np.linalg.solve(normals, [dot(normal, point) for normal, point in planes])


def gape(numbers, board, height):
    """How far the struck line and the true one are apart at the top of the board, mm; positive if struck is longer."""
    planes = of(numbers)
    struck = numbers[f"{other(board)}_lean"]
    return planes.width(board, height) * (tan(radians(struck)) - tan(radians(planes.end_line(board))))


def settings(planes):
    return {
        "end line, tail board": planes.end_line("tail"), "end line, pin board": planes.end_line("pin"),
        "end bevel": planes.dihedral - 90,
        "rim bevel, tail board": degrees(atan2(-planes.normal["tail"][2], planes.up["tail"][2])),
        "rim bevel, pin board": degrees(atan2(-planes.normal["pin"][2], planes.up["pin"][2])),
        "level line, flush tail end": planes.level_on_flush_end,
        "level line, square tail end": planes.level_on_square_end,
    }


def what_changes(numbers):
    plan = numbers["to"] if numbers["change"] == "plan angle" else 90
    planes = Planes(0, 0, plan)
    lines = any(abs(planes.end_line(board)) > 1e-9 for board in ("tail", "pin"))
    bevel = abs(planes.dihedral - 90) > 1e-4
    return {(False, False): "neither", (False, True): "only the end bevel", (True, False): "only the end lines",
            (True, True): "the end lines and the end bevel"}[lines, bevel]


def plan_from_bevel(numbers):
    plan = 90 + numbers["end_bevel"]
    assert abs(Planes(0, 0, plan).dihedral - plan) < 1e-6
    return plan


def baseline(numbers):
    """Where the tail board's outer face, the other board's inner face and the bench meet."""
    inner = (-numbers["other_thickness"] * x for x in (-1.0, 0.0, 0.0))
    return abs(meet(((0.0, -1.0, 0.0), (0, 0, 0)), ((-1.0, 0.0, 0.0), tuple(inner)), (UP, (0, 0, 0)))[0])


def which_end(numbers):
    planes = Planes(numbers["tail_lean"], 0)
    slanted = [board for board in ("tail", "pin") if abs(planes.end_line(board)) > 1e-9]
    longer = "top" if planes.end_line(slanted[0]) > 0 else "bottom"
    return f"the {slanted[0]} board's, and it is longer at the {longer}"


def longer_at_the_top(planes, board, height):
    """How far back past its foot the corner line has run, along the board, at that height."""
    return -dot(planes.line, planes.level[board]) * height / planes.line[2]


def tails_off_the_end(numbers):
    planes = Planes(0, numbers["pin_lean"])
    away = along(cross(planes.line, planes.normal["tail"]), (-1.0, 0.0, 0.0))
    return "upwards" if away[2] > 0 else "downwards"


def blunter_angle(numbers):
    """Both angles of a tail at its end, between the end and the cheeks going back into the board."""
    line, spread = radians(Planes(0, numbers["pin_lean"]).end_line("tail")), atan2(1, numbers["slope"].n)
    up_the_end = (-sin(line), cos(line))
    lower = acos(up_the_end[0] * cos(spread) + up_the_end[1] * sin(spread))
    upper = acos(-up_the_end[0] * cos(spread) + up_the_end[1] * sin(spread))
    return degrees(max(lower, upper))


def left_over(numbers):
    over = gape(numbers, "pin", 100)
    return "just right" if abs(over) < 1e-9 else "too long" if over > 0 else "too short"


def line_on_the_drawing(numbers):
    """Which of the four lettered lines has the slant of the corner line on that board."""
    board = numbers["board"]
    planes, leans = of(numbers), {each: numbers[f"{each}_lean"] for each in ("tail", "pin")}
    slants = (planes.end_line(board), leans[other(board)], planes.end_line(other(board)), -planes.end_line(board))
    along = [planes.width(board, 1) * tan(radians(slant)) for slant in slants]
    true = -dot(planes.line, planes.level[board]) / planes.line[2]
    nearest = min(range(4), key=lambda line: abs(along[line] - true))
    return f"line {numbers['order'][nearest]}"


def longer_face(numbers):
    over = of(numbers).dihedral - 90
    if abs(over) < 1e-5:
        return "both faces are equally long: the end is square to them"
    return f"the {'inner' if over > 0 else 'outer'} face is longer"


def trial_top_edge(numbers, ends=1):
    planes = of(numbers)
    return numbers["bottom_edge"] + ends * longer_at_the_top(planes, "tail", numbers["height"])


def worst_gap(leans, width):
    """The larger gap that the shortcut leaves in a slant width, mm."""
    numbers = dict(zip(("tail_lean", "pin_lean"), leans, strict=True))
    return max(abs(gape(numbers, board, width * of(numbers).up[board][2])) for board in ("tail", "pin"))


def which_corner(numbers):
    gaps = [worst_gap(numbers[name], 100) for name in ("first_corner", "second_corner")]
    return "neither leaves a gap" if max(gaps) < 1e-9 else f"the {'first' if gaps[0] > gaps[1] else 'second'} corner"


def which_board(numbers):
    gaps = {board: abs(gape(numbers, board, 100 * of(numbers).up[board][2])) for board in ("tail", "pin")}
    if max(gaps.values()) < 1e-9:
        return "neither: the shortcut is exact"
    return f"the {max(gaps, key=gaps.get)} board's end"


def both(numbers):
    return numbers["tail_lean"], numbers["pin_lean"]


def does_it_close(numbers):
    leans = dict(zip(("tail_lean", "pin_lean"), numbers["leans"], strict=True))
    left_over = [gape(leans, board, 120) for board in ("tail", "pin")]
    if max(map(abs, left_over)) < 1e-9:
        return "it closes, and it is the intended box"
    if not numbers["held"]:
        return "it closes into a different box, which leans further and stands lower"
    longer_at_top = left_over[0] > 0  # so it touches there
    return f"the ends touch at the {'top' if longer_at_top else 'bottom'} and gape at the " \
           f"{'bottom' if longer_at_top else 'top'}"


def widest_board(numbers, unit):
    base = 100.0 if unit == "mm" else 101.6
    over = max(abs(gape(numbers, board, base * of(numbers).up[board][2])) for board in ("tail", "pin"))
    return base * numbers["tolerance"] / over


def must_it_wind(numbers):
    wants = [leans_of_lines(tail_line=lean, pin_line=numbers["side_lean"])["tail"] for lean in numbers["front_and_back"]]
    if abs(wants[0] - wants[1]) < 1e-9:
        return "no, both ends want the same lean"
    return f"yes, the {'front' if wants[0] > wants[1] else 'back'} corners want it to lean further"


def more_or_less(numbers):
    over = of(numbers).dihedral - 90
    return "exactly 90°" if abs(over) < 1e-5 else "more than 90°" if over > 0 else "less than 90°"


def which_is_off(numbers):
    planes, out = of(numbers), numbers["board"]
    lines = {board: planes.end_line(board) + (numbers["off"] if board == out else 0) for board in ("tail", "pin")}
    stands = leans_of_lines(lines["tail"], lines["pin"])
    off = {board: stands[board] - numbers[f"{board}_lean"] for board in stands}
    most = max(off, key=lambda board: abs(off[board]))
    return f"the {most} board, and it leans too {'far' if off[most] > 0 else 'little'}"


def light(numbers):
    planes = of(numbers)
    return abs(numbers["thickness"] * planes.normal[numbers["board"]][2])


FAULTS = {"edge": "the edge was not ripped to the lean", "slip": "one board was fixed too far up the corner line",
          "bevel": "the end was not sawn to its end bevel", "line": "one end line was cut wrong",
          "another corner": "both lines agree, and belong to another corner"}


def how_many_settings(numbers):
    planes = Planes(numbers["lean"], numbers["another_lean"])
    slants = {round(abs(planes.end_line(board)), 6) for board in ("tail", "pin")} - {0.0}
    return len(slants) + 1


def read_setting(numbers):
    planes = of(numbers)
    return sorted(abs(planes.end_line(board)) for board in ("tail", "pin"))["AB".index(numbers["letter"])]


def tail_width(numbers, spaces=1, wide=None):
    wide = numbers["height"] / cos(radians(numbers["tail_lean"])) if wide is None else wide
    return (wide - (numbers["tails"] + spaces) * numbers["pin"]) / numbers["tails"]


def across_the_end(numbers):
    level = of(numbers).level_on_flush_end
    if abs(level) < 1e-9:
        return "they are square to the arris"
    return f"they {'fall' if level > 0 else 'climb'} towards the inside"


def sides_and_ends(numbers):
    return [[numbers[f"{name}_lean"] for name in pair] for pair in (("left", "right"), ("front", "back"))]


def thumb(numbers, squared="pin", doubled="tail"):
    return degrees(radians(numbers[f"{squared}_lean"]) ** 2 / 4 * sin(2 * radians(numbers[f"{doubled}_lean"])))


def trial_corners(numbers):
    sides, ends = sides_and_ends(numbers)
    return len({(side, end) for side in sides for end in ends})


def which_hand(numbers):
    (left, right), (front, back) = sides_and_ends(numbers)
    lefts, rights = (left, back, front), (right, front, back)  # lean, then what meets its left and its right end
    if lefts == rights:
        return "they are equal and can be swapped"
    if lefts == (rights[0], *rights[:0:-1]):
        return "they are mirror images and can't be swapped"
    return "they are neither equal nor mirror images"


def side_planes(left, right, width, inward=0.0):
    """The outer faces of two leaning sides, `width` apart on the ground, each moved in square to itself."""
    faces = []
    for way, lean, x in ((-1, left, 0.0), (1, right, width)):
        normal = (way * cos(radians(lean)), 0.0, -sin(radians(lean)))
        faces.append((normal, plus((x, 0.0, 0.0), normal, -inward)))
    return faces


def between(faces, height):
    """The level distance from one of two faces to the other, at a height."""
    plumb, level = ((0.0, 1.0, 0.0), (0, 0, 0)), (UP, (0.0, 0.0, height))
    return meet(faces[1], plumb, level)[0] - meet(faces[0], plumb, level)[0]


def length_at_the_top(numbers):
    return between(side_planes(numbers["left_lean"], numbers["right_lean"], numbers["width"]), numbers["height"])


def drawer_for_opening(numbers):
    faces = side_planes(numbers["left_lean"], numbers["right_lean"], numbers["floor_width"], numbers["clearance"])
    return between(faces, numbers["floor"])


def corner_of_box(numbers):
    return Planes(numbers[f"{numbers['side']}_lean"], numbers["front_lean"]).end_line("pin")


def wider_above(numbers):
    faces = side_planes(numbers["left_lean"], numbers["right_lean"], 300.0)
    return between(faces, numbers["panel_thickness"]) - between(faces, 0.0)


ANSWERS = {
    "01-1": what_changes,
    "01-2": lambda n: Planes(0, 0, n["plan_angle"]).dihedral - 90,
    "01-3": plan_from_bevel,
    "01-4": baseline,
    "01-5": lambda n: sum(abs(angle) > 1e-4 for angle in settings(Planes(0, 0, n["plan_angle"])).values()),
    "02-1": which_end,
    "02-2": lambda n: Planes(n["tail_lean"], 0).end_line("pin"),
    "02-3": lambda n: Planes(n["tail_lean"], 0).end_line("pin"),
    "02-4": lambda n: longer_at_the_top(Planes(n["tail_lean"], 0), "pin", n["height"]),
    "02-5": lambda n: Planes(90 - n["slope"], 0).end_line("pin"),
    "03-1": tails_off_the_end,
    "03-2": lambda n: Planes(0, n["pin_lean"]).end_line("tail"),
    "03-3": blunter_angle,
    "03-4": lambda n: settings(Planes(0, n["pin_lean"]))[n["setting"].replace("tail board's end", "flush tail end")],
    "03-5": lambda n: n["bottom_edge"] + longer_at_the_top(Planes(0, n["pin_lean"]), "tail", n["height"]),
    "04-1": left_over,
    "04-2": lambda n: of(n).end_line(n["board"]),
    "04-3": lambda n: of(n).width(n["board"], n["height"]),
    "04-4": lambda n: of(n).level_on_flush_end,
    "04-5": lambda n: n[f"{other(n['board'])}_lean"] - of(n).end_line(n["board"]),
    "04-6": line_on_the_drawing,
    "05-1": longer_face,
    "05-2": lambda n: n["base"] * tan(radians(of(n).end_line(n["board"]))),
    "05-3": trial_top_edge,
    "05-4": lambda n: light(n),
    "05-5": lambda n: of(n).end_line(n["board"]),
    "06-1": which_is_off,
    "06-2": lambda n: leans_of_lines(n["tail_reads"], n["pin_reads"])[n["board"]],
    "06-3": light,
    "06-4": lambda n: degrees(atan2(n["run"], n["rise"])) * (1 if n["way"] == "out" else -1),
    "06-5": lambda n: FAULTS[n["fault"]],
    "07-1": does_it_close,
    "07-2": lambda n: abs(gape(n, n["board"], n["height"])),
    "07-3": lambda n: leans_of_lines(tail_line=n["pin_lean"], pin_line=n["tail_lean"])[n["board"]],
    "07-4": lambda n: abs(gape(n, n["board"], n["height"])),
    "07-5": must_it_wind,
    "08-1": which_corner,
    "08-2": lambda n: worst_gap(both(n), n["width"]),
    "08-3": widest_board,
    "08-4": lambda n: n["width"] * tan(radians(n["off"])),
    "08-5": which_board,
    "09-1": how_many_settings,
    "09-2": read_setting,
    "09-3": lambda n: n["seen"] / Planes(n["tail_lean"], 0).up["tail"][2],
    "09-4": tail_width,
    "09-5": across_the_end,
    "10-1": trial_corners,
    "10-2": which_hand,
    "10-3": length_at_the_top,
    "10-4": drawer_for_opening,
    "10-5": corner_of_box,
    "10-6": wider_above,
    "11-1": more_or_less,
    "11-2": lambda n: of(n).end_line(n["board"]),
    "11-3": lambda n: of(n).dihedral,
    "11-4": lambda n: of(n).corner_rise,
    "11-5": thumb,
}


def answer_of(asked):
    """The answer to an `Asked`, by the second route."""
    solve = ANSWERS[asked.exercise]
    return solve(asked.numbers, asked.length_unit) if solve is widest_board else solve(asked.numbers)


# Slips. Each is the mistake made on purpose: the wrong board, the wrong function, the step left out.

OF_ANY = {
    kind.EDGE_OR_SQUARE: lambda answer: copysign(90 - abs(answer), answer),
    kind.SIGN: lambda answer: -answer,
    kind.FROM_LEVEL: lambda answer: copysign(90 - abs(answer), answer),
}


def turned(numbers):
    """The numbers with the other board asked about."""
    return numbers | {"board": other(numbers["board"])}


def lean_of(numbers, board):
    return numbers[f"{board}_lean"]


def runs_out(numbers, side, height):
    """How far a side's face runs out over a height, mm."""
    return height * tan(radians(numbers[f"{side}_lean"]))


def opening(numbers, **changed):
    """Width of the drawer of 10-4 with the room at each side changed: name -> mm, level."""
    room = {side: numbers["clearance"] / cos(radians(numbers[f"{side}_lean"])) for side in ("left", "right")} | changed
    lifted = sum(runs_out(numbers, side, numbers["floor"]) for side in ("left", "right"))
    return numbers["floor_width"] + lifted - room["left"] - room["right"]


def _worst_board(numbers):
    return max(("tail", "pin"), key=lambda board: abs(gape(numbers, board, 100 * of(numbers).up[board][2])))


def _lean_across_from(numbers, line):
    """The lean that the shortcut would take for an end line: of the board across from the one whose line it is."""
    planes = of(numbers)
    board = min(("tail", "pin"), key=lambda each: abs(planes.end_line(each) - line))
    return numbers[f"{other(board)}_lean"]


TAIL_SLOPE_RUN = 6  # the slope 1 in 6 that a joint has unless another is given
MM_OR_IN = {"mm": 1.0, "in": 25.4}
UNIT_RUN = {"mm": 100.0, "in": 101.6}
BASE = {"mm": 100.0, "in": 101.6}

# exercise id -> kind -> function of (numbers, "mm" or "in")
SLIPS = {
    "01-2": {kind.PLAN_ANGLE: lambda n, _: n["plan_angle"], kind.FROM_FACE: lambda n, _: 180 - n["plan_angle"]},
    "01-3": {kind.END_BEVEL: lambda n, _: n["end_bevel"], kind.SIGN: lambda n, _: 90 - n["end_bevel"],
             kind.SUPPLEMENT: lambda n, _: 180 - n["end_bevel"]},
    "01-4": {kind.OWN_THICKNESS: lambda n, _: n["own_thickness"],
             kind.BOTH_THICKNESSES: lambda n, _: n["own_thickness"] + n["other_thickness"]},
    "02-2": {kind.OTHER_BOARD: lambda n, _: Planes(n["tail_lean"], 0).end_line("tail")},
    "02-3": {kind.SQUARE: lambda n, _: 0},
    "02-4": {kind.OFFSET_ALONE: lambda n, unit: UNIT_RUN[unit] * tan(radians(n["tail_lean"])),
             kind.BOTH_ENDS: lambda n, _: 2 * n["height"] * tan(radians(n["tail_lean"])),
             kind.WRONG_RATIO: lambda n, unit: UNIT_RUN[unit] ** 2 / n["height"] * tan(radians(n["tail_lean"]))},
    "02-5": {kind.FROM_LEVEL: lambda n, _: n["slope"], kind.SQUARE: lambda n, _: 0,
             kind.LEAN_SUBTRACTED: lambda n, _: 90 - 2 * (90 - n["slope"])},
    "03-2": {kind.OFFSET_AS_DEGREES: lambda n, unit: UNIT_RUN[unit] / MM_OR_IN[unit] * tan(radians(n["pin_lean"])),
             kind.OTHER_BOARD: lambda n, _: Planes(0, n["pin_lean"]).end_line("pin")},
    "03-3": {kind.OTHER_CHEEK: lambda n, _: 90 - n["pin_lean"] - degrees(atan2(1, n["slope"].n)),
             kind.LAID_OUT_SQUARE: lambda n, _: 90 - degrees(atan2(1, n["slope"].n)),
             kind.SPREAD_LEFT_OUT: lambda n, _: 90 + n["pin_lean"],
             kind.SPREAD_ADDED: lambda n, _: 90 + n["pin_lean"] + degrees(atan2(1, n["slope"].n))},
    "03-4": {kind.LEAN: lambda n, _: n["pin_lean"], kind.SUPPLEMENT: lambda n, _: 90, kind.SQUARE: lambda n, _: 0},
    "03-5": {kind.SIGN: lambda n, _: 2 * n["bottom_edge"] - ANSWERS["03-5"](n),
             kind.BOTH_ENDS: lambda n, _: 2 * ANSWERS["03-5"](n) - n["bottom_edge"],
             kind.NO_SLANT: lambda n, _: n["bottom_edge"],
             kind.OFFSET_ALONE: lambda n, unit: n["bottom_edge"] + UNIT_RUN[unit] * tan(radians(n["pin_lean"]))},
    "04-2": {kind.OTHER_BOARD: lambda n, _: ANSWERS["04-2"](turned(n)),
             kind.SHORTCUT: lambda n, _: lean_of(n, other(n["board"]))},
    "04-3": {kind.OTHER_BOARD: lambda n, _: ANSWERS["04-3"](turned(n)),
             kind.UNCHANGED: lambda n, _: of(n).width(n["board"], n["known_height"]),
             kind.HEIGHT: lambda n, _: n["height"],
             kind.HEIGHT_ADDED: lambda n, _: of(n).width(n["board"], n["known_height"]) + n["height"] - n["known_height"],
             kind.WRONG_RATIO: lambda n, _: n["height"] * cos(radians(lean_of(n, n["board"])))},
    "04-4": {kind.SHORTCUT: lambda n, _: n["tail_lean"], kind.OWN_LEAN: lambda n, _: n["pin_lean"],
             kind.OTHER_BOARD: lambda n, _: of(n).end_line("tail"),
             kind.SQUARE_END: lambda n, _: of(n).level_on_square_end},
    "04-5": {kind.OTHER_BOARD: lambda n, _: ANSWERS["04-5"](turned(n)),
             kind.END_LINE: lambda n, _: of(n).end_line(n["board"]),
             kind.LEAN: lambda n, _: lean_of(n, other(n["board"]))},
    "04-6": {what: lambda n, _, place=place: f"line {n['order'][place]}" for place, what in
             ((1, kind.SHORTCUT), (2, kind.OTHER_BOARD), (3, kind.SIGN))},
    "05-2": {kind.OFFSET_ALONE: lambda n, unit: UNIT_RUN[unit] * tan(radians(of(n).end_line(n["board"]))),
             kind.OTHER_BOARD: lambda n, _: ANSWERS["05-2"](turned(n)),
             kind.SHORTCUT: lambda n, _: n["base"] * tan(radians(lean_of(n, other(n["board"])))),
             kind.WRONG_RATIO: lambda n, unit: UNIT_RUN[unit] ** 2 / n["base"] * tan(radians(of(n).end_line(n["board"])))},
    "05-3": {kind.SIGN: lambda n, _: trial_top_edge(n, -1), kind.UNCHANGED: lambda n, _: trial_top_edge(n, 0),
             kind.BOTH_ENDS: lambda n, _: trial_top_edge(n, 2),
             kind.OFFSET_ALONE: lambda n, unit: n["bottom_edge"] + UNIT_RUN[unit] * tan(radians(of(n).end_line("tail")))},
    "05-4": {kind.OTHER_BOARD: lambda n, _: light(turned(n)),
             kind.UNCHANGED: lambda n, unit: light(n | {"thickness": BASE[unit]}),
             kind.TANGENT: lambda n, _: n["thickness"] * tan(radians(lean_of(n, n["board"]))),
             kind.COSINE: lambda n, _: n["thickness"] * cos(radians(lean_of(n, n["board"]))),
             kind.THICKNESS: lambda n, _: n["thickness"]},
    "05-5": {kind.OTHER_BOARD: lambda n, _: of(n).end_line(other(n["board"])),
             kind.SHORTCUT: lambda n, _: lean_of(n, other(n["board"]))},
    "06-2": {kind.OTHER_BOARD: lambda n, _: ANSWERS["06-2"](turned(n)),
             kind.SHORTCUT: lambda n, _: n[f"{other(n['board'])}_reads"], kind.OWN_LINE: lambda n, _: n[f"{n['board']}_reads"]},
    "06-3": {kind.OTHER_BOARD: lambda n, _: light(turned(n)),
             kind.TANGENT: lambda n, _: n["thickness"] * tan(radians(lean_of(n, n["board"]))),
             kind.COSINE: lambda n, _: n["thickness"] * cos(radians(lean_of(n, n["board"])))},
    "06-4": {kind.RUN: lambda n, unit: copysign(n["run"] / MM_OR_IN[unit], ANSWERS["06-4"](n)),
             kind.SINE: lambda n, _: copysign(degrees(asin(n["run"] / n["rise"])), ANSWERS["06-4"](n))},
    "07-2": {kind.OTHER_BOARD: lambda n, _: ANSWERS["07-2"](turned(n)),
             kind.FIRST_HEIGHT: lambda n, _: abs(gape(n, n["board"], 120)),
             kind.DEGREES: lambda n, unit: MM_OR_IN[unit] * ANSWERS["04-5"](n)},
    "07-3": {kind.OTHER_BOARD: lambda n, _: ANSWERS["07-3"](turned(n)),
             kind.INTENDED_LEAN: lambda n, _: lean_of(n, n["board"]),
             kind.END_LINE: lambda n, _: of(n).end_line(other(n["board"]))},
    "07-4": {kind.OTHER_BOARD: lambda n, _: ANSWERS["07-4"](turned(n)),
             kind.UNCHANGED: lambda n, _: abs(gape(n, n["board"], n["known_height"])),
             kind.WRONG_RATIO: lambda n, _: abs(gape(n, n["board"], n["known_height"] ** 2 / n["height"]))},
    "08-2": {kind.UNCHANGED: lambda n, _: worst_gap(both(n), 100),
             kind.DEGREES: lambda n, unit: MM_OR_IN[unit] * ANSWERS["04-5"](n | {"board": _worst_board(n)})},
    "08-3": {kind.WRONG_RATIO: lambda n, unit: BASE[unit] ** 2 / widest_board(n, unit),
             kind.SHARE: lambda n, unit: widest_board(n, unit) / BASE[unit] * MM_OR_IN[unit],
             kind.UNCHANGED: lambda n, unit: BASE[unit]},
    "08-4": {kind.UNCHANGED: lambda n, unit: BASE[unit] * tan(radians(n["off"])),
             kind.DEGREES: lambda n, _: n["width"] * tan(radians(1)), kind.STEP_OFF: lambda n, _: 2 * ANSWERS["08-4"](n)},
    "09-2": {kind.OTHER_SETTING: lambda n, _: read_setting(n | {"letter": "BA"["AB".index(n["letter"])]}),
             kind.SHORTCUT: lambda n, _: _lean_across_from(n, read_setting(n)),
             kind.TAIL_SLOPE: lambda n, _: 90 - degrees(atan2(1, TAIL_SLOPE_RUN))},
    "09-3": {kind.AS_SEEN: lambda n, _: n["seen"], kind.WRONG_RATIO: lambda n, _: n["seen"] * cos(radians(n["tail_lean"])),
             kind.OTHER_BOARD: lambda n, _: n["seen"] / cos(radians(n["pin_lean"]))},
    "09-4": {kind.EDGES_LEFT_OUT: lambda n, _: tail_width(n, -1), kind.ONE_SPACE: lambda n, _: tail_width(n, 0),
             kind.HEIGHT: lambda n, _: tail_width(n, 1, n["height"]),
             kind.NOT_SHARED: lambda n, _: n["tails"] * tail_width(n)},
    "10-3": {kind.LEFT_ALONE: lambda n, _: n["width"] + runs_out(n, "left", n["height"]),
             kind.RIGHT_ALONE: lambda n, _: n["width"] + runs_out(n, "right", n["height"]),
             kind.SIGN: lambda n, _: 2 * n["width"] - length_at_the_top(n), kind.NO_SLANT: lambda n, _: n["width"],
             kind.SLANT_WIDTH: lambda n, _: n["width"] + sum(runs_out(n, side, n["height"] / cos(radians(n["left_lean"])))
                                                             for side in ("left", "right"))},
    "10-4": {kind.LEVEL_CLEARANCE: lambda n, _: opening(n, left=n["clearance"], right=n["clearance"]),
             kind.TIMES_COSINE: lambda n, _: opening(n, **{side: n["clearance"] * cos(radians(n[f"{side}_lean"]))
                                                           for side in ("left", "right")}),
             kind.ON_THE_FLOOR: lambda n, _: opening(n | {"floor": 0.0}), kind.ONE_SIDE: lambda n, _: opening(n, right=0),
             kind.NO_CLEARANCE: lambda n, _: opening(n, left=0, right=0)},
    "10-5": {kind.SHORTCUT: lambda n, _: n[f"{n['side']}_lean"],
             kind.OTHER_BOARD: lambda n, _: Planes(n[f"{n['side']}_lean"], n["front_lean"]).end_line("tail"),
             kind.OTHER_END: lambda n, _: corner_of_box(n | {"side": "left" if n["side"] == "right" else "right"})},
    "10-6": {kind.LEFT_ALONE: lambda n, _: runs_out(n, "left", n["panel_thickness"]),
             kind.RIGHT_ALONE: lambda n, _: runs_out(n, "right", n["panel_thickness"]),
             kind.SINES: lambda n, _: sum(n["panel_thickness"] * sin(radians(n[f"{side}_lean"])) for side in ("left", "right")),
             kind.THICKNESS: lambda n, _: n["panel_thickness"]},
    "11-2": {kind.SHORTCUT: lambda n, _: lean_of(n, other(n["board"])),
             kind.OTHER_BOARD: lambda n, _: of(n).end_line(other(n["board"])),
             kind.WRONG_COSINE: lambda n, _: degrees(atan(sin(radians(lean_of(n, other(n["board"]))))))},
    "11-3": {kind.END_BEVEL: lambda n, _: of(n).dihedral - 90, kind.SIGN: lambda n, _: 180 - of(n).dihedral,
             kind.COSINES: lambda n, _: 90 + degrees(asin(cos(radians(n["tail_lean"])) * cos(radians(n["pin_lean"]))))},
    "11-4": {kind.DIHEDRAL: lambda n, _: of(n).dihedral, kind.TAIL_END_LINE: lambda n, _: of(n).end_line("tail"),
             kind.PIN_END_LINE: lambda n, _: of(n).end_line("pin")},
    "11-5": {kind.DEGREES_SQUARED: lambda n, _: n["pin_lean"] ** 2 / 4 * sin(2 * radians(n["tail_lean"])),
             kind.RADIANS: lambda n, _: radians(thumb(n)), kind.OTHER_BOARD: lambda n, _: thumb(n, "tail", "pin"),
             kind.QUARTER: lambda n, _: 4 * thumb(n),
             kind.NOT_DOUBLED: lambda n, _: degrees(radians(n["pin_lean"]) ** 2 / 4 * sin(radians(n["tail_lean"])))},
}


def slip_of(asked, what):
    """What a kind of slip leads to in an `Asked`, by the second route. KeyError for a kind that nobody has worked out."""
    own = SLIPS.get(asked.exercise, {})
    return own[what](asked.numbers, asked.length_unit) if what in own else OF_ANY[what](answer_of(asked))
