"""Labels that name points of a picture keep clear of one another, near what they name."""

import numpy as np
from splaywork.drawing.labels import stacked


def test_labels_keep_off_one_another():
    generator = np.random.default_rng(1)
    for _ in range(50):
        heights = generator.choice([13, 26], 6)
        middles = stacked(generator.uniform(0, 230, 6), heights, 6, 216, 2)
        order = np.argsort(middles)
        gaps = middles[order][1:] - middles[order][:-1] - (heights[order][1:] + heights[order][:-1]) / 2
        assert gaps.min() > 1.9 and (middles + heights / 2).max() <= 216.01 and (middles - heights / 2).min() >= 5.99


def test_labels_with_room_stand_where_they_are_wanted():
    assert stacked([40.0, 10.0, 90.0], 17).tolist() == [40.0, 10.0, 90.0]


def test_crowded_labels_rise_from_the_lowest_and_of_equal_ones_the_first_stands_lowest():
    assert stacked([30.0, 20.0, 20.0], 10).tolist() == [40.0, 20.0, 30.0]


def test_many_labels_of_few_heights_keep_their_order():
    wanted = np.random.default_rng(0).integers(0, 3, 60).tolist()
    middles = stacked(wanted, 2)
    assert np.argsort(middles).tolist() == sorted(range(60), key=wanted.__getitem__)


def test_no_labels_need_no_room():
    assert stacked([], 17).tolist() == []
