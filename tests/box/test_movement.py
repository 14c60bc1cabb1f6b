"""Wood that moves: the values are the Wood Handbook's (USDA FPL-GTR-190, table 13-5), as they are printed there."""

import pytest
from splaywork.box.movement import WOODS, movement

# Seen in a stored copy of the table: species, radial, tangential, for each % between 6 and 14 % moisture content.
PRINTED = [("ash, white", 0.00169, 0.00274), ("cherry, black", 0.00126, 0.00248), ("maple, sugar", 0.00165, 0.00353),
           ("oak, red", 0.00158, 0.00369), ("oak, white", 0.00180, 0.00365), ("walnut, black", 0.00190, 0.00274)]


@pytest.mark.parametrize(("wood", "radial", "tangential"), PRINTED)
def test_a_metre_of_board_moves_as_the_table_prints(wood, radial, tangential):
    assert WOODS[wood].status == "seen"
    assert movement(1000, wood, 1) == pytest.approx(1000 * tangential)
    assert movement(1000, wood, -4, "quarter") == pytest.approx(-4000 * radial)


def test_every_wood_says_where_its_values_come_from():
    assert {wood for wood, values in WOODS.items() if values.status == "seen"} == {wood for wood, *_ in PRINTED}
    assert {values.status for values in WOODS.values()} == {"seen", "memory"}
    for values in WOODS.values():
        assert 0 < values.radial < values.tangential < 0.005


@pytest.mark.parametrize(("given", "words"), [
    ((0, "oak, red", 1), "width must be"), ((300, "oak", 1), "wood can be"), ((300, "oak, red", 9), "from −8 to 8"),
    ((300, "oak, red", "1"), "change of moisture must be"), ((300, "oak, red", 1, "rift"), "can be 'quarter' or 'flat'"),
])
def test_what_cannot_be_is_said(given, words):
    with pytest.raises(ValueError, match=words):
        movement(*given)
