"""The independent route to one corner: planes turned into place, crossed and projected, in 50-digit arithmetic.

Nothing here knows a closed form. Both boards start upright with their level edge along x; each is leaned by a rotation
about that edge, the pin board is then swung round the plumb line, and every angle is read off by atan2 between
directions. Results are in degrees, as 50-digit numbers.
"""

from mpmath import mp

DIGITS = 50
UP = (0, 0, 1)


def dot(u, v):
    return sum(x * y for x, y in zip(u, v, strict=True))


def cross(u, v):
    return (u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0])


def times(factor, u):
    return tuple(factor * x for x in u)


def unit(u):
    return times(1 / mp.sqrt(dot(u, u)), u)


def along(u, direction):
    """u or its opposite, whichever runs with `direction`."""
    return u if dot(u, direction) > 0 else times(-1, u)


def about_x(angle, u):
    c, s = mp.cos(angle), mp.sin(angle)
    return (u[0], c * u[1] - s * u[2], s * u[1] + c * u[2])


def about_z(angle, u):
    c, s = mp.cos(angle), mp.sin(angle)
    return (c * u[0] - s * u[1], s * u[0] + c * u[1], u[2])


def angle_between(u, v):
    """Unsigned, 0 to 180 degrees."""
    across = cross(u, v)
    return mp.degrees(mp.atan2(mp.sqrt(dot(across, across)), dot(u, v)))


class Board:
    """Directions of one board: along its level edge, level outward, up its face, and out of its outer face."""

    def __init__(self, outward, lean, swing):
        # A turn about x by a positive angle tips what points up towards −y, the tail board's outward side.
        tip = lean if outward[1] < 0 else -lean
        self.level = about_z(swing, (mp.mpf(1), 0, 0))
        self.outward = about_z(swing, outward)
        self.up = about_z(swing, about_x(tip, UP))
        self.normal = about_z(swing, about_x(tip, outward))


class Route:
    """One corner by planes and vectors; the attributes and methods of `splaywork.Corner`."""

    def __init__(self, tail_lean, pin_lean, plan_angle=90):
        mp.dps = DIGITS
        lean_a, lean_b, swing = (mp.radians(mp.mpf(degrees)) for degrees in (tail_lean, pin_lean, plan_angle))
        self.tail = Board((0, -1, 0), lean_a, mp.mpf(0))
        self.pin = Board((0, 1, 0), lean_b, swing)
        self.line = along(unit(cross(self.tail.normal, self.pin.normal)), UP)

    def board(self, name):
        return getattr(self, name)

    def end_line(self, name):
        """The corner line as it runs in the board's face; growing upwards means going back past the corner."""
        board = self.board(name)
        return mp.degrees(mp.atan2(-dot(self.line, board.level), dot(self.line, board.up)))

    @property
    def tail_end_line(self):
        return self.end_line("tail")

    @property
    def pin_end_line(self):
        return self.end_line("pin")

    def into_face(self, name):
        """Unit direction in the board's outer face, square to the corner line, away from the corner."""
        board = self.board(name)
        return along(unit(cross(self.line, board.normal)), board.level)

    @property
    def dihedral(self):
        return angle_between(self.into_face("tail"), self.into_face("pin"))

    @property
    def end_bevel(self):
        return self.dihedral - 90

    @property
    def corner_rise(self):
        return mp.degrees(mp.atan2(self.line[2], mp.hypot(self.line[0], self.line[1])))

    def rim_bevel(self, name):
        """Turn about the level edge that takes the edge's square plane into the level plane; with the lean's sign."""
        board = self.board(name)
        return mp.degrees(mp.atan2(dot(UP, times(-1, board.normal)), dot(UP, board.up)))

    @property
    def tail_rim_bevel(self):
        return self.rim_bevel("tail")

    @property
    def pin_rim_bevel(self):
        return self.rim_bevel("pin")

    def level_on(self, end_normal):
        """Level line of a tail end: where the end's plane meets a level plane, from square to the outer arris."""
        into_wood = times(-1, self.tail.normal)
        level = along(cross(end_normal, UP), into_wood)
        square = along(cross(end_normal, self.line), into_wood)
        return mp.degrees(mp.atan2(-dot(level, self.line), dot(level, unit(square))))

    @property
    def level_on_flush_end(self):
        return self.level_on(self.pin.normal)

    @property
    def level_on_square_end(self):
        return self.level_on(unit(cross(self.tail.normal, self.line)))

    def slant_width(self, height, board="tail"):
        """From the foot of the face to where the plumb cross-section of the face reaches `height`."""
        across = cross(self.board(board).normal, self.board(board).level)
        point = times(mp.mpf(height) / across[2], across)
        return mp.sqrt(dot(point, point))

    def baseline_offset(self, other_thickness, board="tail"):
        """How far to walk from the corner line in the face before the other board's inner face is underfoot."""
        other = self.pin if board == "tail" else self.tail
        return -mp.mpf(other_thickness) / dot(self.into_face(board), other.normal)

    def rocking_gap(self, thickness, board="tail"):
        """Difference in height between the two arrises of an edge that runs straight into the wood."""
        return abs(mp.mpf(thickness) * self.board(board).normal[2])

    def looks_as(self, seen, board="tail"):
        """Width on the face whose shadow on the plumb plane through the level edge is `seen` wide."""
        up = self.board(board).up
        level_part = dot(up, self.board(board).outward)
        return mp.mpf(seen) / mp.sqrt(1 - level_part**2)

    def vector(self, name):
        if name == "corner_line":
            return times(1 / self.line[2], self.line)
        board, direction = name.split("_")
        return getattr(self.board(board), direction)
