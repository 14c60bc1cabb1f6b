"""What a joint's tails are called."""

import copy
import pickle
from itertools import product

import pytest
from splaywork import Corner, Joint
from splaywork.joint.tails import Cheek, checked_slope, share_out


def test_a_cheek_knows_its_tail_and_its_side_in_a_copy_too():
    for cheek in (Cheek(2, "lower"), copy.deepcopy(Cheek(2, "lower")), pickle.loads(pickle.dumps(Cheek(2, "lower")))):
        assert cheek == "tail 2 lower cheek" and (cheek.tail, cheek.side) == (2, "lower")


def test_every_cheek_of_a_joint_is_struck_on_both_faces_and_on_the_end():
    lines = Joint(Corner(16, 11), height=120, tail_thickness=18, tails=3).lines
    for board in ("tail", "pin"):
        struck = [(line.name.tail, line.side, line.surface) for line in lines if line.board == board and line.kind == "cheek"]
        wanted = set(product((1, 2, 3), ("lower", "upper"), ("outer", "inner", "end")))
        assert len(struck) == len(wanted) and set(struck) == wanted


@pytest.mark.parametrize(("width", "thickness", "tails"), [(70, 18, 1), (112, 18, 2), (125, 18, 3), (95, 10, 4), (20, 18, 1)])
def test_without_a_wish_a_tail_and_a_pin_take_about_two_and_a_half_thicknesses(width, thickness, tails):
    """Counted by hand: what the half pins leave, and one pin more, shared by that pitch."""
    shares = share_out(width, thickness)
    assert shares.tails == tails
    assert shares.pin == shares.half_pin == min(thickness / 2, width / 5)


def test_tails_of_a_given_width_share_the_rest_with_equal_pins():
    shares = share_out(125, 18, tail=30)
    assert shares.tails * 30 + (shares.tails + 1) * shares.pin == pytest.approx(125) and shares.half_pin == shares.pin


def test_the_last_tail_that_has_room():
    """Two tails, a pin of 10 and half pins of 15 mm: 40 mm leave nothing for the tails, 41 leave half a millimetre each."""
    with pytest.raises(ValueError, match="no room for 2 tails"):
        share_out(40, 18, tails=2, pin=10, half_pin=15)
    assert share_out(41, 18, tails=2, pin=10, half_pin=15).tails == 2


def test_limits_are_taken_and_what_is_past_them_is_not():
    assert share_out(10_000, 18, tails=500, pin=5, half_pin=5).tails == 500
    with pytest.raises(ValueError, match="more than 500 tails"):
        share_out(10_000, 18, tails=501, pin=5, half_pin=5)
    assert checked_slope(50) == 50
    with pytest.raises(ValueError, match="from 1 to 50"):
        checked_slope(50.5)
