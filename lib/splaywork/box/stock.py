"""Wood for a plan: every blank that it takes, and how to saw them all from the boards that there are."""

from typing import NamedTuple

from ..common import checks
from .cut_list import cut_list
from .fittings import offcuts_for_tests
from .plan import Plan

GLUED = 10.0  # mm of width that a glued joint between two strips takes, to be shot straight; common practice, no source


class Blank(NamedTuple):
    """One piece of wood to saw: what it becomes, and its size in mm, grain along the length."""

    name: str
    length: float
    width: float
    thickness: float


def trial_corner(plan):
    """(item, name of the corner) that proves most: the one whose ends are sawn furthest out of square, or slant most."""
    def proves(found):
        corner = found[0].box.corners[found[1]].corner
        return abs(corner.end_bevel), abs(corner.tail_end_line) + abs(corner.pin_end_line)

    return max(((item, at) for item in plan.items for at in item.box.corners), key=proves)


def trial_pieces(plan):
    """The two `fittings.Offcut`s of the trial corner that proves most, with their item."""
    item, at = trial_corner(plan)
    return item, tuple(piece for piece in offcuts_for_tests(item.box) if at == piece.corner or at in piece.like)


def blanks(plan):
    """Every `Blank` that a `Plan` takes: its boards, item by item, and the two pieces of one trial corner."""
    checks.instance("plan", plan, Plan, "load_plan('drawers.json')")
    found = []
    for number, item in enumerate(plan.items, 1):
        for copy in range(1, item.quantity + 1):
            which = f", copy {copy} of {item.quantity}" if item.quantity > 1 else ""
            found += [Blank(f"{number} {board.name}{which}", *board.blank) for board in cut_list(item.box).boards]
    item, pieces = trial_pieces(plan)
    sizes = {board.name: board.blank for board in cut_list(item.box).boards}
    return (*found, *(Blank(f"trial corner, {piece.board}", piece.length, *sizes[piece.board][1:]) for piece in pieces))
