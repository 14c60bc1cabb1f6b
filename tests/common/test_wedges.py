"""The wedge: two come from one block, and a board stands between them with plumb sides for the clamp."""

import numpy as np
import pytest
import shapely
from splaywork.common.wedges import FLAT_TOP, pair_width, wedge_side


@pytest.mark.parametrize("lean", [30, 11, -20, -30, 45])
def test_one_cut_through_a_block_makes_two_equal_wedges(lean):
    first = wedge_side(lean, 100)
    second = first[3] - first  # turned end for end, against the same cut
    block = shapely.union(shapely.Polygon(first), shapely.Polygon(second))
    assert shapely.Polygon(first).intersection(shapely.Polygon(second)).area < 1e-9
    assert block.symmetric_difference(shapely.box(-FLAT_TOP, 0, pair_width(lean, 100) - FLAT_TOP, 100)).area < 1e-6
    assert first[2] - first[3] == pytest.approx([FLAT_TOP, 0])
    slope = first[3] - first[0]
    assert np.degrees(np.arctan2(slope[0], slope[1])) == pytest.approx(abs(lean))
