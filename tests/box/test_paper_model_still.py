"""The paper model that folds on a page: both nets end as the boxes that they close into, at one scale, nothing cut off."""

from io import BytesIO
from itertools import pairwise

import numpy as np
import pytest
from boxes import leaning
from PIL import Image
from splaywork import paper_model_still
from splaywork.box.box import Box
from splaywork.box.paper_model import PaperModel
from splaywork.box.paper_model_still import both_sides

STRONG = Box(300, 300, 110, **leaning(40, 40, 40, 40))
BOXES = [STRONG, Box(420, 300, 110, **leaning(28, 28, 24, 24)), Box(420, 300, 110, **leaning(-12, -12, -9, -9)),
         Box(420, 300, 110, **leaning(20, 0, 14, 14)), Box(420, 300, 110, **leaning(16, 16, 0, 0))]


@pytest.mark.parametrize("box", BOXES, ids=str)
def test_it_begins_and_ends_shut_and_stays_on_the_picture(box):
    still = paper_model_still(box)
    picture = Image.open(BytesIO(still.png))
    assert picture.n_frames == 17 and len(still.png) < 400_000
    frames = []
    for number in range(17):
        picture.seek(number)
        frames.append(np.array(picture.convert("RGB")))
    assert (frames[0] == frames[-1]).all() and all(
        (one != two).any() for one, two in pairwise(frames[1:]))
    for frame in frames:
        edge = np.concatenate([frame[[0, -1]].reshape(-1, 3), frame[:, [0, -1]].reshape(-1, 3), frame[34:, 460]])
        assert (edge == 255).all()


@pytest.mark.parametrize("box", BOXES, ids=str)
def test_the_words_are_the_nets_own_numbers(box):
    model, words = PaperModel.of(box), paper_model_still(box, frames=2).words
    net = model.one_gauge
    assert f"the box stands {model.height:.1f} mm high" in words
    if net.closes:
        assert words.endswith(f"that box closes too, and stands {net.heights[0]:.1f} mm high.")
    else:
        gaps = np.linalg.norm(net.folded()[4, (0, 3)] - net.folded()[0, (0, 3)], axis=-1)
        assert words.endswith(f"by {gaps[0]:.1f} mm at the bottom and {gaps[1]:.1f} mm at the top.")


def test_each_sheet_has_its_outside_outside():
    folded = PaperModel.of(STRONG).projected.folded()[:4]
    middle = folded.mean(axis=(0, 1))
    sheets = both_sides(folded)
    for facet in sheets[:4]:
        assert facet.normal @ (facet.points.mean(axis=0) - middle) > 0
    for facet in sheets[4:]:
        assert facet.normal @ (facet.points.mean(axis=0) - middle) < 0


def test_what_cannot_be_folded_is_one_sentence():
    with pytest.raises(ValueError, match="frames"):
        paper_model_still(STRONG, frames=40)
    with pytest.raises(ValueError, match="exaggerated"):
        paper_model_still(STRONG, exaggerate=0.5)
