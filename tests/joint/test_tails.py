"""What a joint's tails are called."""

import copy
import pickle
from itertools import product

from splaywork import Corner, Joint
from splaywork.joint.tails import Cheek


def test_a_cheek_knows_its_tail_and_its_side_in_a_copy_too():
    for cheek in (Cheek(2, "lower"), copy.deepcopy(Cheek(2, "lower")), pickle.loads(pickle.dumps(Cheek(2, "lower")))):
        assert cheek == "tail 2 lower cheek" and (cheek.tail, cheek.side) == (2, "lower")


def test_every_cheek_of_a_joint_is_struck_on_both_faces_and_on_the_end():
    lines = Joint(Corner(16, 11), height=120, tail_thickness=18, tails=3).lines
    for board in ("tail", "pin"):
        struck = [(line.name.tail, line.side, line.surface) for line in lines if line.board == board and line.kind == "cheek"]
        wanted = set(product((1, 2, 3), ("lower", "upper"), ("outer", "inner", "end")))
        assert len(struck) == len(wanted) and set(struck) == wanted
