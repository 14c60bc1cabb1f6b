"""Boxes, plans and the planes of a box, as tests write them."""

import manifold3d
import numpy as np
from hypothesis import assume
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation
from splaywork.box.box import MEASURED, NAMES, Box, JointSettings
from splaywork.box.opening import Clearances, FrontChoice, Opening
from splaywork.box.plan import Item, Plan
from splaywork.box.runners import RunnerChoice
from wood import block_solid


def leaning(front, back, left, right):
    """The four leans of a `Box` or an `Opening` as keywords, degrees."""
    return {"front_lean": front, "back_lean": back, "left_lean": left, "right_lean": right}


LOCKER = Box(420, 360, 110, front_lean=6, left_lean=14, thickness=12, back_thickness=9)  # one side follows the hull
leans = st.floats(-25, 25)


@st.composite
def boxes(draw, **fixed):
    """Any box that the library agrees to make."""
    choices = {"width": st.floats(150, 500), "depth": st.floats(150, 500), "height": st.floats(60, 150),
               "thickness": st.floats(6, 15), "tails_on": st.sampled_from(["sides", "front and back"]),
               "measured": st.sampled_from(MEASURED), "rims": st.sampled_from(["level", "square"]),
               "end": st.sampled_from(["flush", "square"]), "tails": st.sampled_from([None, 1, 2])}
    choices |= {f"{name}_lean": leans for name in NAMES}
    choices |= {f"{name}_thickness": st.none() | st.floats(6, 15) for name in NAMES}
    chosen = {name: fixed[name] if name in fixed else draw(choice) for name, choice in choices.items()}
    joint = JointSettings(tails=chosen.pop("tails"), end=chosen.pop("end"))
    try:
        return Box(joint=joint, **chosen)
    except ValueError:
        assume(False)


def outward_faces(sizes, leans, depths, top):
    """Half-spaces (normal, offset) of a box's four faces, moved in by `depths`, and of bench and top, by rotations."""
    (width, depth), faces = sizes, []
    feet = {"front": (0, 0, 0), "left": (0, 0, 0), "right": (width, 0, 0), "back": (width, depth, 0)}
    for number, name in enumerate(NAMES):
        # the front's outward direction, turned to its side, then tipped down where the face leans out
        turn = Rotation.from_euler("ZX", [90 * number, leans[name]], degrees=True)
        normal = turn.apply([0, -1, 0])
        faces.append([*normal, -(normal @ feet[name] - depths[name])])
    return np.array([*faces, [0, 0, -1, 0], [0, 0, 1, -top]])


def faces_of(box, depths):
    sizes = box.outer_length("front"), box.outer_length("right")
    return outward_faces(sizes, {name: box.lean(name) for name in NAMES}, depths, box.height)


def filled(half_spaces):
    """The solid that half-spaces enclose, as a manifold3d body."""
    body = manifold3d.Manifold.cube((6000, 6000, 6000), True)
    for *normal, offset in half_spaces:
        body = body.trim_by_plane(tuple(-np.array(normal)), offset)
    return body


def slab(plane, thick=60.0, size=4000.0):
    """A wall of the opening as a solid: what lies within `thick` beyond its plane."""
    turn, _ = Rotation.align_vectors([plane.normal], [[0, 0, 1]])
    block = np.array([(x, y, z) for z in (thick, 0) for x, y in ((-1, -1), (1, -1), (1, 1), (-1, 1))], dtype=float)
    block[:, :2] *= size / 2
    points = turn.apply(block) + plane.normal * plane.offset

    class Wall:
        vertices = points
    return block_solid(Wall)


HULL = leaning(5, 0, 15, 15)
THICK = {"thickness": 12, "front_thickness": 15, "back_thickness": 9}
MIXED = Plan("Mixed", (Item("mixed", Box(380, 300, 120, **leaning(-12, 5, 18, -8), tails_on="front and back"), 2),
                       Item("square ends", Box(400, 300, 137, **leaning(5, 0, 15, 15), joint=JointSettings(end="square"))),
                       Item("locker", LOCKER, 1)))
ORDER = ("front", "back", "left", "right")
USUAL = {"quantity": 3, "clearances": Clearances(floor=15), "front": FrontChoice("inset", 12), "runners": RunnerChoice()}
LOCKERS = Plan("Lockers along the hull", tuple(
    Item.for_opening(name, Opening(wide, 320, high, **HULL), **USUAL, **THICK)
    for name, wide, high in (("deep drawer", 440, 150), ("shallow drawer", 330, 110))))
UNLIKE = Plan("Unlike", tuple(Item.for_opening(
    name, Opening(420, 380, high, **leaning(*leans)), Clearances(left=5, right=5, floor=15, top=20), quantity=2,
    front=FrontChoice("inset", 14), runners=RunnerChoice(), joint=JointSettings(end=end), **THICK)
    for name, high, leans, end in (("four unlike boards", 190, (6, 3, 16, 4), "flush"),
                                   ("the same, square ends", 260, (6, 3, 16, 4), "square"))))
