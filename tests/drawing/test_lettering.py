"""How a text of two weights is broken into lines."""

import itertools

import pytest
from splaywork.drawing.lettering import width_of, wrapped, wrapped_parts

PARTS = (("1 Rip the edges.", "bold"), ("Plane both boards", "normal"), ("wide, edges square.", "bold"),
         ("At the bottom edge the outer arris comes off, at the top edge the inner arris.", "normal"))


@pytest.mark.parametrize("width", [24.0, 40.0, 75.0])
def test_every_word_stands_in_order_in_its_weight_beside_the_one_before_and_none_further_right_than_the_width(width):
    """Each part begins where its line's earlier parts and spaces end, measured by themselves; a line takes what fits."""
    lines, size, written = wrapped_parts(PARTS, 8.0, width), 8.0, []
    for line in lines:
        reached = 0.0
        for words, weight, at in line:
            assert at == pytest.approx(reached + width_of(" ", size, weight) * bool(reached))
            reached = at + width_of(words, size, weight)
            written += [(word, weight) for word in words.split()]
        assert reached <= width
    assert written == [(word, weight) for words, weight in PARTS for word in words.split()]
    for line, following in itertools.pairwise(lines):
        first, weight = following[0][0].split()[0], following[0][1]
        assert line[-1][2] + width_of(line[-1][0], size, line[-1][1]) + width_of(" " + first, size, weight) > width


def test_a_text_of_one_weight_breaks_as_it_does_alone():
    text = PARTS[3][0]
    assert [line[0][0] for line in wrapped_parts(((text, "normal"),), 8.0, 40.0)] == wrapped(text, 8.0, 40.0)
