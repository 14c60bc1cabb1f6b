"""The exercises solved a second time, by planes that are crossed, met and measured, and by plain trigonometry.

`ANSWERS`: exercise id -> function of the numbers that were drawn, which gives the answer as the exercise does. Nothing
of the library is used. Angles are in degrees at both ends, lengths in mm.
"""

from math import acos, atan2, cos, degrees, hypot, radians, sin, sqrt, tan

import numpy as np

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
        "level, flush tail end": planes.level_on_flush_end, "level, square tail end": planes.level_on_square_end,
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


def too_steep(numbers):
    left_over = gape(numbers, "pin", 100)
    return "just right" if abs(left_over) < 1e-9 else "too long" if left_over > 0 else "too short"


def does_it_close(numbers):
    leans = dict(zip(("tail_lean", "pin_lean"), numbers["leans"], strict=True))
    left_over = [gape(leans, board, 120) for board in ("tail", "pin")]
    if max(map(abs, left_over)) < 1e-9:
        return "it closes, and it is the box that was asked for"
    if not numbers["held"]:
        return "it closes into another box, which leans further and stands lower"
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


def tail_width(numbers):
    wide = numbers["height"] / cos(radians(numbers["tail_lean"]))
    return (wide - (numbers["tails"] + 1) * numbers["pin"]) / numbers["tails"]


def across_the_end(numbers):
    level = of(numbers).level_on_flush_end
    if abs(level) < 1e-9:
        return "they are square to the arris"
    return f"they {'fall' if level > 0 else 'climb'} towards the inside"


def sides_and_ends(numbers):
    return [[numbers[f"{name}_lean"] for name in pair] for pair in (("left", "right"), ("front", "back"))]


def trial_corners(numbers):
    sides, ends = sides_and_ends(numbers)
    return len({(side, end) for side in sides for end in ends})


def which_hand(numbers):
    (left, right), (front, back) = sides_and_ends(numbers)
    lefts, rights = (left, back, front), (right, front, back)  # lean, then what meets its left and its right end
    if lefts == rights:
        return "they can be swapped for one another"
    if lefts == (rights[0], *rights[:0:-1]):
        return "they are mirror images and can't be swapped"
    return "they differ in more than their hand"


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


ANSWERS = dict(sorted({
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
    "03-4": lambda n: settings(Planes(0, n["pin_lean"]))[n["setting"]],
    "03-5": lambda n: n["bottom_edge"] + longer_at_the_top(Planes(0, n["pin_lean"]), "tail", n["height"]),
    "04-1": too_steep,
    "04-2": lambda n: of(n).end_line(n["board"]),
    "04-3": lambda n: of(n).width(n["board"], n["height"]),
    "04-4": lambda n: of(n).level_on_flush_end,
    "04-5": lambda n: n[f"{other(n['board'])}_lean"] - of(n).end_line(n["board"]),
    "07-1": does_it_close,
    "07-2": lambda n: abs(gape(n, n["board"], n["height"])),
    "07-3": lambda n: leans_of_lines(tail_line=n["pin_lean"], pin_line=n["tail_lean"])[n["board"]],
    "07-4": lambda n: abs(gape(n, n["board"], n["height"])),
    "07-5": widest_board,
    "07-6": must_it_wind,
    "11-1": more_or_less,
    "11-2": lambda n: of(n).end_line(n["board"]),
    "11-3": lambda n: of(n).dihedral,
    "11-4": lambda n: of(n).corner_rise,
    "11-5": lambda n: degrees(radians(n["pin_lean"]) ** 2 / 4 * sin(2 * radians(n["tail_lean"]))),
    "06-1": which_is_off,
    "06-2": lambda n: leans_of_lines(n["tail_reads"], n["pin_reads"])[n["board"]],
    "06-3": light,
    "06-4": lambda n: degrees(atan2(n["run"], n["rise"])) * (1 if n["way"] == "out" else -1),
    "06-5": lambda n: FAULTS[n["fault"]],
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
}.items()))


def answer_of(asked):
    """The answer to an `Asked`, by the second route."""
    solve = ANSWERS[asked.exercise]
    return solve(asked.numbers, asked.length_unit) if solve is widest_board else solve(asked.numbers)
