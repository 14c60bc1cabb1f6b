"""Show fronts: an inset one keeps its reveals from every wall, an overlay covers what it says, and the drawer follows.

Independent routes: planes and points worked by rotations, a corner of the box kit, and solids joined by manifold3d.
"""

import numpy as np
import pytest
from boxes import leaning, slab
from cases import examples
from hypothesis import given
from hypothesis import strategies as st
from splaywork.box.box import Allowances, Box
from splaywork.box.cut_list import cut_list
from splaywork.box.fronts import PULL, ShowFront, pull_place, screws, show_front
from splaywork.box.opening import EDGES, Clearances, FrontChoice, Opening
from wood import block_solid, gap_between, overlap, solid

# none, slight, moderate, mixed, strong: front, back, left, right
LEANS = [(0, 0, 0, 0), (5, 0, 6, 4), (11, 0, 16, 4), (-9, 3, -14, 20), (25, 10, 30, -22)]
leans = st.floats(-30, 30)
rooms = st.floats(0.5, 12)


def opening_of(leans):
    return Opening(420, 380, 150, **leaning(*leans))


@examples(30)
@given(leans, leans, leans, leans, st.tuples(rooms, rooms, rooms, rooms), st.floats(6, 25))
def test_an_inset_front_keeps_its_reveals(left, right, front, back, around, thick):
    opening = Opening(420, 380, 150, **leaning(front, back, left, right))
    reveals = dict(zip(EDGES, around, strict=True))
    made = show_front(opening, "inset", thick, reveals)
    for name, reveal in reveals.items():
        # every corner of that edge or end, on the outer and on the inner face, is the reveal away, and no other is nearer
        assert made.gaps[name] == pytest.approx(reveal, abs=1e-9)
        end = {"left": (slice(None), 0), "right": (slice(None), 1), "floor": (slice(None), slice(None), 0),
               "top": (slice(None), slice(None), 1)}[name]
        assert -opening.faces[name].height_of(made.corners[end]) == pytest.approx(reveal, abs=1e-9)
    assert opening.faces["front"].height_of(made.corners[0]) == pytest.approx(0, abs=1e-9)
    assert opening.faces["front"].height_of(made.corners[1]) == pytest.approx(-thick, abs=1e-9)


@pytest.mark.parametrize("leans", LEANS, ids=str)
def test_an_inset_front_as_a_solid_is_its_reveals_from_the_walls(leans):
    opening = opening_of(leans)
    reveals = {"left": 1.5, "right": 3.0, "floor": 2.0, "top": 4.0}
    body = block_solid(show_front(opening, reveals=reveals).block)
    for name, reveal in reveals.items():
        assert gap_between(body, slab(opening.faces[name])) == pytest.approx(reveal, abs=1e-5)


@pytest.mark.parametrize("leans", LEANS, ids=str)
def test_an_inset_front_is_the_front_board_of_the_box_that_fills_the_opening(leans):
    # a box whose clearances are the reveals: its front board's outer face and end bevels, cut for its own corners
    opening = opening_of(leans)
    room = Clearances(left=1.5, right=3, floor=2, top=4, front=0, back=0)
    board = cut_list(opening.fit(room, thickness=12).box).boards[0]
    made = show_front(opening, thickness=12, reveals={name: getattr(room, name) for name in EDGES})
    assert (made.outer_bottom, made.outer_top) == pytest.approx((board.outer_bottom, board.outer_top))
    assert made.slant_width == pytest.approx(board.slant_width) and made.rim_bevel == pytest.approx(board.rim_bevel)
    assert made.height == pytest.approx(144)
    for end, cut in zip(made.ends, board.ends, strict=True):
        assert (end.end_line, end.end_bevel) == pytest.approx((cut.end_line, cut.end_bevel))
    assert made.blank == pytest.approx(board.blank)


def test_a_front_by_hand():
    # Left wall with tangent 3/4, the rest upright, 400 wide on the floor, 100 high; reveals 2, level 2 / 0.8 = 2.5 at the left.
    # At 2 mm up the wall is 1.5 further out: 400 − 2.5 − 2 + 1.5 = 397; at the top edge, 96 higher, 72 longer: 469.
    lean = float(np.degrees(np.arctan(0.75)))
    made = show_front(Opening(400, 300, 100, left_lean=lean), reveals=2)
    assert (made.outer_bottom, made.outer_top, made.slant_width) == pytest.approx((397, 469, 96))
    assert [end.end_line for end in made.ends] == pytest.approx([lean, 0]) and made.ends[0].end_bevel == pytest.approx(0)
    assert made.blank == pytest.approx((469 + 20, 96 + 6, 12))
    # An overlay that covers 10, measured in the plane of the front, square to the edge: 12.5 level at the left, and at 10 below
    # the floor the wall's line is 7.5 further in: 400 + 12.5 + 10 − 7.5 = 415; 120 higher, 90 longer.
    over = show_front(Opening(400, 300, 100, left_lean=lean), "overlay", overlaps=10)
    assert (over.outer_bottom, over.outer_top, over.slant_width) == pytest.approx((415, 505, 120))
    assert over.words() == (
        "The show front's outer face is 415.0 mm long at the bottom and 505.0 mm at the top. The slant width is 120.0 mm. "
        "The grain runs along the length. The left end line is 36.9° from square. Saw that end square to the face. The right "
        "end line is square. Saw that end square to the face. The edges "
        "are square to the face. The show front lies on the opening's rim, 12.0 mm thick, and covers 10.0 mm all round. The "
        "drawer isn't set back.")


@pytest.mark.parametrize("leans", LEANS, ids=str)
def test_an_overlay_covers_its_overlaps_in_the_plane_of_the_front(leans):
    opening = opening_of(leans)
    overlaps = {"left": 8.0, "right": 12.0, "floor": 6.0, "top": 15.0}
    made = show_front(opening, "overlay", 14, overlaps=overlaps)
    assert opening.faces["front"].height_of(made.corners[1]) == pytest.approx(0, abs=1e-9)  # its back lies on the rim
    assert opening.faces["front"].height_of(made.corners[0]) == pytest.approx(14)
    rim = np.array([np.linalg.solve([opening.faces[name].normal for name in three], [opening.faces[name].offset
                    for name in three]) for three in (("front", "left", "floor"), ("front", "right", "floor"),
                                                      ("front", "right", "top"), ("front", "left", "top"))])
    inner = made.corners[1]
    for name, edge, covered in (("left", rim[[0, 3]], inner[0]), ("right", rim[[1, 2]], inner[1]),
                                ("floor", rim[[0, 1]], inner[:, 0]), ("top", rim[[3, 2]], inner[:, 1])):
        way = (edge[1] - edge[0]) / np.linalg.norm(edge[1] - edge[0])
        off = covered - edge[0]
        assert np.linalg.norm(off - (off @ way)[:, None] * way, axis=1) == pytest.approx(overlaps[name])
    for end, side in enumerate(("left", "right")):  # its ends are square to the face, its edges level
        assert made.planes[side].normal @ opening.faces["front"].normal == pytest.approx(0, abs=1e-12)
        foot, head = made.corners[0, end] @ made.axes.T
        out = (1, -1)[side == "left"]
        assert np.degrees(np.arctan2(out * (head - foot)[0], (head - foot)[1])) == pytest.approx(made.ends[end].end_line)
    assert np.ptp(made.corners[..., 0, 2]) == pytest.approx(0, abs=1e-9)
    assert np.ptp(made.corners[..., 1, 2]) == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize("leans", LEANS, ids=str)
@pytest.mark.parametrize("kind", FrontChoice.KINDS)
def test_the_drawer_stands_against_its_show_front(leans, kind):
    opening = opening_of(leans)
    fit = opening.fit(Clearances(), front=FrontChoice(kind, 14), thickness=10)
    front = fit.show_front
    assert front == show_front(fit, kind, 14, reveals=2, overlaps=2)
    outer = fit.box.boards["front"].outlines[0] + fit.at
    assert front.planes["inner"].height_of(outer) == pytest.approx(0, abs=1e-8)  # the two faces lie on one another
    assert fit.gaps["front"] == pytest.approx(14 if kind == "inset" else 0, abs=1e-8)
    body = block_solid(front.block)
    for board in fit.box.boards.values():
        vertices, triangles = board.mesh()
        assert overlap(body, solid((vertices + fit.at, triangles))) < 1e-3
    assert fit.slides_in_level
    less = opening.fit(Clearances(), thickness=10).box.depth - fit.box.depth
    assert less == pytest.approx(14 / np.cos(np.radians(leans[0])) if kind == "inset" else 0)


@pytest.mark.parametrize("leans", LEANS, ids=str)
def test_screws_go_through_the_front_and_stay_in_the_show_front(leans):
    fit = opening_of(leans).fit(Clearances(floor=12), front=FrontChoice(), thickness=12)
    board, front = fit.box.boards["front"], fit.show_front
    body = block_solid(front.block)
    inner = board.in_board(board.baselines[1])[..., :2]
    places = screws(fit, bottom_up=15)
    assert len(places) == 4
    for screw in places:
        tip = board.end_lines[0, 0, 0] + np.array([screw.along, screw.up, screw.longest - 12]) @ board.axes + fit.at
        spot = block_solid(type("Spot", (), {"vertices": tip + 0.05 * np.array(
            [(x, y, z) for z in (1, -1) for x, y in ((-1, -1), (1, -1), (1, 1), (-1, 1))])}))
        assert overlap(body, spot) == pytest.approx(spot.volume(), rel=1e-3)  # its tip is in the wood of the show front
        low, high = inner[0, :, 0].max(), inner[1, :, 0].min()
        assert low - 40 < screw.along < high + 40 and 15 < screw.up < inner[:, 1, 1].min() - 10


@pytest.mark.parametrize(("make", "words"), [
    (lambda: show_front(3), "opening must be a"),
    (lambda: show_front(opening_of(LEANS[1]), "hung"), "kind of a show front can be 'inset' or 'overlay', not 'hung'"),
    (lambda: show_front(opening_of(LEANS[1]), thickness="12"), "thickness of the show front must be"),
    (lambda: show_front(opening_of(LEANS[1]), reveals={"left": 2}), "reveals must be one number of mm, or a dict"),
    (lambda: show_front(opening_of(LEANS[1]), reveals=-1), "left reveal must be a number of mm, 0 or more"),
    (lambda: show_front(opening_of(LEANS[1]), reveals=90), "leave nothing of the show front"),
    (lambda: show_front(opening_of(LEANS[1]), reveals={"left": 220, "right": 220, "floor": 2, "top": 2}),
     "left and the right leave nothing"),
    (lambda: show_front(opening_of(LEANS[1]), "overlay", overlaps=None), "left overlap must be"),
    (lambda: opening_of(LEANS[1]).fit(Clearances(), front=12), "show front must be a FrontChoice"),
    (lambda: opening_of(LEANS[1]).fit(Clearances(front=2), front=FrontChoice("overlay")), "make the front clearance 0"),
    (lambda: screws(opening_of(LEANS[1]).fit(Clearances())), "has no show front"),
    (lambda: screws(Box(300, 200, 100)), "fit must be a"),
    (lambda: screws(opening_of(LEANS[1]).fit(Clearances(), front=FrontChoice()), pull=200), "no room for screws"),
])
def test_what_cannot_be_is_said_in_one_sentence(make, words):
    with pytest.raises(ValueError, match=words) as caught:
        make()
    assert str(caught.value).endswith(".") and ". " not in str(caught.value)


def test_a_front_compares_and_takes_allowances():
    opening = opening_of(LEANS[2])
    assert show_front(opening) == show_front(opening_of(LEANS[2])) != show_front(opening, reveals=3)
    spare = show_front(opening, allowances=Allowances(0, 0, 0)).blank
    assert np.subtract(show_front(opening).blank, spare) == pytest.approx((20, 6, 0))
    assert isinstance(show_front(opening), ShowFront)


@pytest.mark.parametrize("leans", LEANS, ids=str)
def test_the_pulls_middle_is_straight_behind_the_show_fronts(leans):
    """Square through the show front from the middle of its outer face: where that meets the box's front, by its slope alone."""
    fit = opening_of(leans).fit(Clearances(floor=10), front=FrontChoice("inset", 12), thickness=12)
    lean = np.radians(leans[0])
    middle = fit.show_front.corners[0].reshape(-1, 3).mean(axis=0) - fit.at
    out = np.array([0, -np.cos(lean), -np.sin(lean)])
    behind = middle - (middle @ out) * out  # the box's front goes through its own foot
    along, up = pull_place(fit)
    assert behind == pytest.approx([along, -up * np.sin(lean), up * np.cos(lean)], abs=1e-9)
    for screw in screws(fit):
        assert np.hypot(screw.along - along, screw.up - up) >= PULL
    with pytest.raises(ValueError, match="has no show front"):
        pull_place(opening_of(leans).fit(Clearances()))
