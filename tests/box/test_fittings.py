"""What else a box needs: a panel that lies in its grooves, cauls that make clamps pull square, offcuts long enough."""

import re

import manifold3d
import numpy as np
import pytest
from boxes import LOCKER, boxes, faces_of, filled, leaning
from cases import examples
from hypothesis import assume, given
from hypothesis import strategies as st
from saw import board_axes, cos, sin, tan
from splaywork.box.box import END_CORNERS, NAMES, Bottom, Box, JointSettings, neighbours
from splaywork.box.cut_list import cut_list
from splaywork.box.fittings import bottom_panel, offcut_length, trial_offcuts, wedge_cauls
from splaywork.box.opening import Clearances, FrontChoice, Opening
from splaywork.box.regular import RegularBox
from splaywork.joint.joint import Joint
from wood import solid

QUARTER = float(np.degrees(np.arctan(0.25)))  # cosine 4/√17


def test_a_panel_by_hand():
    # Left side leans with tangent 1/4: 12 mm of board is 12.3693 level, a groove 4 deep 4.1231. Inside, 6 above the
    # bench, 400 + 6/4 − 12.3693 − 12 = 377.1307; the grooves give 4.1231 + 4 and the play takes 2 · 0.5: 384.2538.
    # 6 higher the panel is 1.5 wider. The depth: 300 − 24 + 8 − 1 = 283. Up the leaning face: 6 · √17/4 = 6.1847.
    panel = bottom_panel(Box(400, 300, 100, left_lean=QUARTER), thickness=6, up=6)
    assert panel.below == pytest.approx((384.2538, 283), abs=1e-4)
    assert panel.above == pytest.approx((385.7538, 283), abs=1e-4)
    left = panel.grooves["left"]
    assert (left.up_face, left.width, left.depth) == pytest.approx((6.1847, 6.1847, 4), abs=1e-4)
    assert left.wall_angle == pytest.approx(QUARTER)
    assert panel.grooves["front"].past_baselines == pytest.approx((4.1231, 4), abs=1e-4)
    assert panel.edge_bevels == pytest.approx({"left": QUARTER, "right": 0, "front": 0, "back": 0})


@examples(25)
@given(boxes(rims="level"))
def test_the_panel_lies_in_its_grooves_and_nowhere_else(box):
    panel = bottom_panel(box, thickness=5, up=7, depth=2.5, play=0.4)
    faces = faces_of(box, {name: box.thickness_of(name) for name in NAMES})[:4]
    for number, (name, (*normal, offset)) in enumerate(zip(NAMES, faces, strict=True)):
        deep = panel.vertices @ normal + offset
        edge = np.take(deep, [number, (number + 1) % 4], axis=1)
        level = np.hypot(*normal[:2])
        assert edge == pytest.approx((2.5 / level - 0.4) * level, abs=1e-8)  # short of the bottom by the play
        # and its edge lies between the groove's walls
        groove = panel.grooves[name]
        up = (panel.vertices[:, number] - box.boards[name].blank[1, 0, 0]) @ board_axes(box, name)[1]
        rise = edge[:, 0] * tan(groove.wall_angle)
        assert up == pytest.approx(groove.up_face + np.array([0, groove.width]) + rise, abs=1e-8)
    for face, sizes in zip(panel.vertices, (panel.below, panel.above), strict=True):
        assert np.ptp(face[:, :2], axis=0) == pytest.approx(sizes, abs=1e-8)
    for name, size in zip(("right", "back"), np.subtract(panel.above, panel.below), strict=True):
        opposite = {"right": "left", "back": "front"}[name]
        assert size == pytest.approx(5 * (tan(panel.edge_bevels[name]) + tan(panel.edge_bevels[opposite])), abs=1e-8)


@pytest.mark.parametrize("leans", [(5, 0, 15, 15), (1, 2, 0, 1), (-12, 6, -20, 9), (35, 30, 40, 25), (0, 0, 0, 0)])
def test_ploughed_as_the_words_say_each_groove_is_level(leans):
    """Into the wood, square to the inner face and then turned by the angle said, towards the edge said, is level."""
    box = Box(420, 360, 150, **leaning(*leans))
    panel, seen = bottom_panel(box), []
    deep, iron, *grooves = panel.groove_words()
    assert deep.startswith("Each groove is ")
    wide = float(re.fullmatch(r"Fit the plough with an iron \(its blade\) as wide as the bottom is thick, ([0-9.]+) mm\.",
                              iron).group(1))
    for sentence in grooves:
        if not sentence.startswith("On the "):
            continue
        names, edge, size, measures = re.fullmatch(
            r"On the (.+?) the groove starts [0-9.]+ mm up the inner face\. The groove (?:goes in square to the face|"
            r"(?:rises|falls) "
            r"towards the (top|bottom) edge as it goes deeper, ([0-9.]+)° from square(?:, and measures ([0-9.]+) mm on the "
            r"face)?)\.", sentence).groups()
        angle = {"top": 1, "bottom": -1, None: 0}[edge] * float(size or 0)
        for name in re.findall(r"front|right|back|left", names):
            _, up, out = board_axes(box, name)
            assert (cos(angle) * out + sin(angle) * up)[2] == pytest.approx(0, abs=1e-9)
            # the iron's width, square to the groove's two level walls, is the height between them
            across = abs(cos(angle) * up - sin(angle) * out)[2] * wide
            assert across == pytest.approx(panel.thickness, abs=1e-9) == pytest.approx(wide)
            assert float(measures or wide) == pytest.approx(wide / cos(angle), abs=0.051)
            seen.append(name)
            # the plough's fence lies on the ripped bottom edge: a groove beside that plane is level
            assert box.planes[f"{name} bottom"].normal == pytest.approx([0, 0, -1], abs=1e-9)
    assert sorted(seen) == sorted(NAMES)
    assert any("fence flat on the bottom edge. That edge is ripped level" in sentence for sentence in grooves) == any(leans)
    assert any("before the end of a stopped groove" in sentence for sentence in grooves) == bool(panel.stops)
    square = bottom_panel(Box(420, 360, 150, **leaning(*leans), rims="square"), up=25).groove_words()
    assert any("tilt the plough by the board's lean" in sentence for sentence in square) == any(leans)


@pytest.mark.parametrize("tails_on", ["sides", "front and back"])
def test_the_boards_go_onto_the_panel_in_the_order_said(tails_on):
    """With its grooves cut, no board touches the panel, nor on its way there: the pin boards first, then the others."""
    box = Box(300, 220, 90, **leaning(12, -6, 9, 14), tails_on=tails_on)
    panel = bottom_panel(box)
    body = manifold3d.Manifold.hull_points(panel.vertices.reshape(-1, 3))
    assert set(panel.first + panel.last) == set(NAMES)
    assert {box.carries(name) for name in panel.last} == {"tails"}
    ways = {"front": [0, -1, 0], "right": [1, 0, 0], "back": [0, 1, 0], "left": [-1, 0, 0]}
    for name in NAMES:
        board = solid(box.boards[name].mesh())
        axes, groove = board_axes(box, name), panel.grooves[name]
        length = box.boards[name].baselines[1, :, 0] @ axes[0]
        rise = groove.depth * tan(groove.wall_angle)
        foot = box.boards[name].blank[1, 0, 0] @ axes[1:].T
        ends = (length[0] - groove.past_baselines[0] - 9, length[1] + groove.past_baselines[1] + 9)
        section = [(0, groove.up_face), (0, groove.up_face + groove.width),
                   (groove.depth, groove.up_face + groove.width + rise), (groove.depth, groove.up_face + rise)]
        cutter = [np.array([end, foot[0] + up, foot[1] + out]) @ axes for end in ends for out, up in section]
        grooved = board - manifold3d.Manifold.hull_points(np.array(cutter))
        assert (board ^ body).volume() > 100
        for distance in (0.0, 0.3, 1.0, 3.0, 9.0):
            assert (grooved.translate(tuple(np.multiply(ways[name], distance))) ^ body).volume() < 1e-6
    assert "level" in panel.words and "no glue in the grooves" in panel.words


def test_a_square_rim_moves_the_groove_up_or_down_the_face():
    box = Box(400, 300, 100, left_lean=20, right_lean=-20, rims="square")
    grooves = bottom_panel(box, up=8).grooves
    lift = 12 * np.sin(np.radians(20))
    for name, arris in (("left", lift), ("right", -lift), ("front", 0)):
        assert grooves[name].up_face * np.cos(np.radians(box.lean(name))) == pytest.approx(8 - arris)


def corner_block(box, at, up, thickness, depth):
    """The wood's place between two grooves' walls past both baselines, as a manifold3d body, from half-spaces by rotations."""
    inner = faces_of(box, {name: box.thickness_of(name) for name in NAMES})
    both = [NAMES.index(name) for name in (box.corners[at].tail, box.corners[at].pin)]
    # beyond the inner faces, short of the grooves' bottoms, between the two levels
    return filled([*(-inner[both]), *_moved_out(inner[both], depth), [0, 0, -1, up], [0, 0, 1, -(up + thickness)]])


def _moved_out(faces, depth):
    return [[*normal, offset - depth] for *normal, offset in faces]


def cut_through(box, at, up, thickness, depth):
    """Whether wood of the tail board fills some of that place but not all of it: a cheek runs through."""
    block = corner_block(box, at, up, thickness, depth)
    share = (solid(box.boards[box.corners[at].tail].mesh()) ^ block).volume() / block.volume()
    return 1e-4 < share < 1 - 1e-4, share


@examples(25)
@given(boxes(rims="level"), st.floats(7, 45))
def test_a_groove_meets_a_cheek_where_the_solids_say_so(box, up):
    try:
        panel = bottom_panel(box, thickness=5, up=up, depth=2.5, play=0.1)
    except ValueError:
        assume(False)
    met = {cheek.corner for cheek in panel.met}
    for at in box.corners:
        partly, share = cut_through(box, at, up, 5, 2.5)
        if partly:
            assert at in met
        elif at in met:  # by a hair only
            assert min(share, 1 - share) < 1e-4
    assert bool(panel.warnings()) == bool(panel.met or panel.narrow)


@pytest.mark.parametrize("leans", [(0, 0, 0, 0), (6, 0, 14, 0), (5, 0, 15, 15), (-9, -4, -20, -14), (30, 30, 30, 30)])
@pytest.mark.parametrize("height", [97, 137, 187])
def test_the_height_that_is_proposed_meets_nothing_and_no_lower_one_would_do(leans, height):
    box = Box(400, 300, height, **leaning(*leans), thickness=12)
    low = bottom_panel(box, up=6)
    assert low.met  # 6 mm up, the usual half pin of 6 mm is cut through at every leaning or upright corner
    panel = bottom_panel(box)
    assert panel.up == panel.proposed == low.proposed and not panel.met and not panel.narrow and panel.warnings() == ()
    for at in box.corners:
        assert not cut_through(box, at, panel.up, 6, 4)[0]
    assert any(cut_through(box, at, panel.up - 1.5, 6, 4)[0] for at in box.corners)  # 1 mm clear, and half a step
    for name, groove in panel.grooves.items():
        assert groove.up_face >= 6 - 1e-9, name
    assert low.warnings()[0].startswith("At 6.0 mm up, the groove cuts through the lower cheek of tail 1 at the ")
    assert low.warnings()[-1] == f"Set the bottom {panel.up:.1f} mm up."


def test_too_little_wood_below_a_groove_is_said():
    panel = bottom_panel(Box(400, 300, 187), up=9, wood_below=9.5)
    assert panel.narrow == NAMES and not panel.met
    assert panel.warnings()[0] == ("The groove leaves less than 9.5 mm of wood below it on the front, right, back and left "
                                   "boards.")
    assert panel.proposed == 9.5 and bottom_panel(Box(400, 300, 187), up=9.5, wood_below=9.5).warnings() == ()
    none = bottom_panel(Box(400, 300, 100, thickness=8, joint=JointSettings(tails=8)), up=6)
    assert none.proposed is None and none.warnings()[-1].startswith("No height would do: ")


@pytest.mark.parametrize(("change", "words"), [
    ({"depth": 12}, "come out through a board 12 mm thick"),
    ({"up": 96}, "doesn't lie within a box 100 mm high"),
    ({"play": 4.2}, "fall out of grooves 4 mm deep"),
    ({"up": 3}, "inner arris of the left board lies 4.1 mm above the bench"),
    ({"thickness": 0}, "panel thickness must be"),
    ({"play": -1}, "play must be"),
])
def test_a_panel_that_cannot_be_says_why_in_one_sentence(change, words):
    with pytest.raises(ValueError, match=words) as caught:
        bottom_panel(Box(400, 300, 100, left_lean=20, rims="square"), **change)
    assert str(caught.value).endswith(".")


# --- where grooves end, and a bottom that is slid in ------------------------------------------------------------------

DRAWERS = [(5, 0, 15, 15), (12, -6, 9, 14), (-8, 3, -12, 20), (0, 0, 0, 0)]
OUTWARD = {"front": [0, -1, 0], "right": [1, 0, 0], "back": [0, 1, 0], "left": [-1, 0, 0]}


def drawer(leans, bottom, front="inset", **settings):
    """The `OpeningFit` of a drawer with a show front, on runners."""
    choice = None if front is None else FrontChoice(front, 12)
    return Opening(420, 380, 170, **leaning(*leans)).fit(
        Clearances(floor=15), front=choice, thickness=12, front_thickness=15, back_thickness=10, bottom=bottom, **settings)


def band(box, name, other, panel, deep):
    """What a groove takes away on its way to the neighbour's outer face, from half-spaces by rotations: a manifold3d body."""
    inner = faces_of(box, {each: box.thickness_of(each) for each in NAMES})
    outer = faces_of(box, dict.fromkeys(NAMES, 0.0))
    own, its = NAMES.index(name), NAMES.index(other)
    return filled([-inner[own], *_moved_out(inner[[own]], deep), -inner[its], outer[its],
                   [0, 0, -1, panel.up], [0, 0, 1, -(panel.up + panel.thickness)]])


@pytest.mark.parametrize("leans", DRAWERS, ids=str)
@pytest.mark.parametrize(("tails_on", "up"), [("sides", 9.5), ("sides", 14), ("front and back", 9.5), ("sides", 1.0)])
def test_a_groove_runs_through_only_where_nobody_sees_it(leans, tails_on, up):
    """A joint covers it where the board has no wood there and the neighbour has; a show front, where all is wood behind it."""
    for front in ("inset", "overlay", None):
        fit = drawer(leans, Bottom(5, up=up, depth=3), front, tails_on=tails_on)
        box = fit.box
        panel = bottom_panel(box, fit=fit)
        assert len(panel.ends) == 8 and len({(end.board, end.side) for end in panel.ends}) == 8
        bodies = {name: solid(box.boards[name].mesh()) for name in NAMES}
        for end in panel.ends:
            number = ("left", "right").index(end.side)
            other = neighbours(end.board)[number]
            way = band(box, end.board, other, panel, 3)
            own, its = ((bodies[name] ^ way).volume() / way.volume() for name in (end.board, other))
            if end.runs == "joint":
                assert own < 1e-4 and its > 1 - 1e-4, (end, own, its)
            elif end.runs == "front":
                assert own > 1 - 1e-4 and front is not None and "front" in END_CORNERS[end.board][number] and other == "front"
                shows = way.bounding_box()
                low, high = (np.array(shows[at:at + 3]) + fit.at for at in (0, 3))
                flat = fit.show_front.corners[1]  # its inner face, by end and edge
                for height in (low[2], high[2]):
                    left, right = (np.interp(height, flat[number, :, 2], flat[number, :, 0]) for number in (0, 1))
                    assert left < low[0] and high[0] < right
                assert flat[:, 0, 2].max() < low[2] and high[2] < flat[:, 1, 2].min()
            else:
                assert end.runs == "stops" and own > 1e-4, (end, own)
                assert not (front and other == "front" and own > 1 - 1e-4)  # it could have run through
        assert any(end.runs == "front" for end in panel.ends) == (front is not None and tails_on == "sides" and up > 5)


@pytest.mark.parametrize("kind", ["captured", "slid in"])
@pytest.mark.parametrize("leans", DRAWERS, ids=str)
def test_the_words_say_each_end_of_each_groove_once(leans, kind):
    fit = drawer(leans, Bottom(kind=kind))
    panel = bottom_panel(fit.box, fit=fit)
    said, found = panel.end_words(), []
    whys = {"stops": "past the baseline", "joint": "the joint covers", "front": "the show front hides", "back": "goes in"}
    for sentence in said:
        runs, = (runs for runs, why in whys.items() if why in sentence)
        names, place = re.search(r" the (.+?) grooves? .*?at (both ends|\w+ \w+ ends?)\b", sentence).groups()
        for name in re.findall(r"(front|right|back|left)(?: side)?'s", names.replace("sides'", "left's and right's")):
            met = neighbours(name) if name in ("right", "left") else ("left", "right")  # sides end at front and back
            sides = ("left", "right") if place == "both ends" else (("left", "right")[met.index(place.split()[1])],)
            found += [(name, side, runs) for side in sides]
    assert sorted(found) == sorted(panel.ends) and len(found) == (8 if kind == "captured" else 6)


def test_how_far_a_groove_runs_past_the_baselines_by_hand():
    fit = drawer((5, 0, 15, 15), Bottom())
    said = bottom_panel(fit.box, fit=fit).end_words()
    # at the back, the only ends that stop: 10 / 3 / cos 0°
    assert "the sides' grooves 3.3 mm past the baselines at their back ends" in said[0] and "the show front hides" in said[2]


STRONG = [(40, 0, -30, 15), (5, 45, 35, 35), (0, 0, 50, 50), (3, 2, 5, 4), (0, 0, 0, 0)]


@pytest.mark.parametrize("leans", STRONG, ids=str)
@pytest.mark.parametrize("tails_on", ["sides", "front and back"])
def test_each_groove_stops_where_the_words_say_and_the_bottom_goes_in(leans, tails_on):
    """Each end's own distance, by rotated half-spaces, to what a hand marks; none further than a quarter of a mm past it."""
    box = Box(420, 380, 150, **leaning(*leans), thickness=14, tails_on=tails_on, bottom=Bottom(depth=4, up=10))
    panel, said, exacts = bottom_panel(box), {}, []
    for sentence in panel.end_words():
        found = re.match(r"Stop (each|the .*?) grooves? ?([0-9.]+) mm past the baselines?(?: at (.*))?\.$", sentence)
        if not found:
            continue
        whose, past, place = found.groups()
        names = NAMES if whose == "each" else re.findall("front|right|back|left", whose.replace("sides'", "left, right"))
        for name in names:
            met = neighbours(name) if name in ("right", "left") else ("left", "right")
            both = place is None or place == "both ends"
            for side in ("left", "right") if both else (("left", "right")[met.index(place.split()[1])],):
                said[name, side] = float(past)
    ends = {end[:2] for end in panel.ends if end.runs == "stops"}
    assert set(said) == ends and (len(ends) >= 4 or leans == (0, 0, 0, 0))
    inner = faces_of(box, {name: box.thickness_of(name) for name in NAMES})
    for (name, side), past in said.items():
        other = neighbours(name)[("left", "right").index(side)]
        normal = inner[NAMES.index(other)][:3]
        exact = 4 / abs(normal @ board_axes(box, name)[0])  # level, along the board, to the bottom of the other's groove
        assert -0.051 <= past - exact <= 0.25 + 0.051, (name, side, past, exact)
        assert past < 14 / abs(normal @ board_axes(box, name)[0])  # it doesn't come out of the end
        exacts.append(exact)
    assert (len(set(said.values())) > 1) == (max(exacts, default=0) - min(exacts, default=0) >= 0.25)


@pytest.mark.parametrize("leans", [*DRAWERS, *STRONG], ids=str)
@pytest.mark.parametrize("kind", ["captured", "slid in"])
def test_planed_as_the_words_say_the_bottoms_edges_lie_in_their_grooves(leans, kind):
    """A level plate, its edges planed by the angle and towards the face that is said, is the panel."""
    box = Box(420, 380, 150, **leaning(*leans), bottom=Bottom(depth=3, kind=kind))
    panel, said = bottom_panel(box), {}
    text = " ".join(panel.edge_words())
    which = "(?:front|back|left|right)"
    planed = re.search(r"out of square: (.*?)\.(?= [A-Z]|$)", text)
    for part in planed.group(1).split("; ") if planed else ():
        face = re.search("the (upper|lower) face" if "where" in part else "The (upper|lower) face", f"{part} {text}").group(1)
        for names, angle in re.findall(rf"({which}(?:(?:, | and ){which})*) ([0-9.]+)°", part):
            for name in re.findall("front|back|left|right", names):
                said[name] = float(angle) * (1 if face == "upper" else -1)
    if text == "Plane the bottom's edges square.":
        said = dict.fromkeys(NAMES, 0.0)
    elif square := re.search(r"Leave the (.*?) edges? square", text):
        said |= dict.fromkeys(re.findall("front|back|left|right", square.group(1)), 0.0)
    assert set(said) == set(NAMES), text
    low, high = panel.vertices
    faces = faces_of(box, dict.fromkeys(NAMES, 0.0))
    for number, name in enumerate(NAMES):  # corners go round from the front left: the front's edge is 0-1, the right's 1-2 …
        normal = faces[number][:3]
        level = normal[:2] / np.hypot(*normal[:2])
        further = (high[number, :2] - low[number, :2]) @ level
        assert np.degrees(np.arctan2(further, panel.thickness)) == pytest.approx(said[name], abs=0.051), (name, text)
        across = np.cross(high[number] - low[number], high[(number + 1) % 4] - high[number])  # of the edge's own plane
        assert abs(across @ normal) == pytest.approx(np.linalg.norm(across), rel=1e-9)  # it lies as the board's face does


@pytest.mark.parametrize("leans", DRAWERS, ids=str)
@pytest.mark.parametrize("wood", [None, "cherry, black"])
def test_a_bottom_is_slid_in_under_the_back_in_fifty_steps(leans, wood):
    """Grooves ploughed and the back ripped as the words say: the panel goes in level from behind and touches nothing."""
    bottom = Bottom(5, up=9.5, depth=3, kind="slid in", wood=wood, damper=3)
    fit = drawer(leans, bottom)
    box = fit.box
    panel = bottom_panel(box, fit=fit)
    assert set(panel.grooves) == {"front", "left", "right"} and panel.back_edge is not None
    assert {end.runs for end in panel.ends if neighbours(end.board)[("left", "right").index(end.side)] == "back"} == {"back"}
    bodies = {}
    for name in NAMES:
        body = solid(box.boards[name].mesh())
        axes = board_axes(box, name)
        if name == "back":  # ripped off, level, so far up the outer face
            foot = box.boards["back"].blank[0, 0, 0]
            level = (foot + panel.back_edge * axes[1])[2]
            assert level == pytest.approx(panel.up + panel.thickness)
            bodies[name] = body.trim_by_plane((0, 0, 1), level)
            assert bodies[name].volume() > 0.85 * body.volume()
            continue
        groove, ends = panel.grooves[name], box.boards[name].baselines[1, :, 0] @ axes[0]
        past = [reach if end.runs == "stops" else 60.0 for end, reach in zip(
            [end for end in panel.ends if end.board == name], groove.past_baselines, strict=True)]
        rise, foot = groove.depth * tan(groove.wall_angle), box.boards[name].blank[1, 0, 0] @ axes[1:].T
        section = [(0, groove.up_face), (0, groove.up_face + groove.width),
                   (groove.depth, groove.up_face + groove.width + rise), (groove.depth, groove.up_face + rise)]
        cutter = [np.array([along, foot[0] + up, foot[1] + out]) @ axes for along in (ends[0] - past[0], ends[1] + past[1])
                  for out, up in section]
        bodies[name] = body - manifold3d.Manifold.hull_points(np.array(cutter))
    plate = manifold3d.Manifold.hull_points(panel.vertices.reshape(-1, 3))
    compared = 0
    for share in np.linspace(0, 1, 50):
        for name, body in bodies.items():
            assert (plate.translate((0, 500 * share, 0)) ^ body).volume() < 1e-3, (name, share)
            compared += 1
    assert compared == 200
    assert bodies["back"].min_gap(plate, 10) == pytest.approx(0, abs=1e-6)  # it lies against the back's lower edge
    # its back edge lies inside the back's outer face by what it grows
    outer = faces_of(box, dict.fromkeys(NAMES, 0.0))[NAMES.index("back")]
    inside = -(panel.vertices[:, 2:] @ outer[:3] + outer[3]) / np.hypot(*outer[:2])
    assert inside == pytest.approx(panel.moves, abs=1e-8)
    assert (panel.moves > 0) == (wood is not None) == any("slots" in said for said in panel.fitting_words())


def test_the_play_of_solid_wood_by_hand():
    """Between the bottoms of the front's and the back's grooves: 300 − 15 − 9 + 2 · 3 = 282 mm. Cherry, flat-sawn, 2 % damper:
    282 · 0.00248 · 2 = 1.39872 (Wood Handbook, table 13-5), half of it at the front and half at the back."""
    box = Box(400, 300, 120, front_thickness=15, back_thickness=9, bottom=Bottom(wood="cherry, black", damper=2))
    panel, sheet = bottom_panel(box), bottom_panel(Box(400, 300, 120, front_thickness=15, back_thickness=9))
    assert panel.moves == pytest.approx(1.39872) and sheet.moves == 0
    assert panel.below[1] == pytest.approx(sheet.below[1] - 1.39872) and panel.below[0] == sheet.below[0]
    assert panel.vertices[0, :, 1] - sheet.vertices[0, :, 1] == pytest.approx(0.69936 * np.array([1, 1, -1, -1]))
    said = panel.fitting_words()[-1]
    assert "grows 1.40 mm from front to back" in said and "half of this growth is left in the front's groove" in said


@examples(20)
@given(boxes())
def test_a_caul_turns_a_leaning_face_upright(box):
    cauls = {caul.board: caul for caul in wedge_cauls(box)}
    for name in NAMES:
        if box.carries(name) == "pins" or abs(box.lean(name)) < 0.05:
            assert name not in cauls
            continue
        caul = cauls[name]
        out = {"front": [0, -1, 0], "right": [1, 0, 0], "back": [0, 1, 0], "left": [-1, 0, 0]}[name]
        foot, head = box.boards[name].end_lines[0, 0] @ out
        levels = {"bottom": foot, "top": head}
        thick = levels[caul.thick_at] + caul.thick
        thin = levels["top" if caul.thick_at == "bottom" else "bottom"] + caul.thin
        assert thick == pytest.approx(thin, abs=1e-8)  # the clamp's face is upright
        assert caul.length == pytest.approx(np.hypot(head - foot, box.height))
        assert caul.holds == (tan(caul.angle) <= 0.25)
        # the clamp pushes level, inwards: what of that push runs along the face, and to which edge?
        along = -np.array(out) @ board_axes(box, name)[1]
        assert caul.slides == ("up" if along > 0 else "down")
        # a lip must stand in its way: hooked over the rim that the wedge moves away from
        assert caul.lip_at == ("bottom" if along > 0 else "top")


def test_cauls_by_hand():
    (caul,) = wedge_cauls(Box(400, 300, 100, left_lean=QUARTER, front_lean=10), thin=8)
    assert (caul.board, caul.thin, caul.thick, caul.thick_at) == ("left", 8, pytest.approx(33), "bottom")
    assert caul.words == "On the left board, lay the thick edge at the bottom."
    assert wedge_cauls(Box(400, 300, 100, left_lean=20))[0].words == (
        "On the left board, lay the thick edge at the bottom. Hook a lip over the top rim, because the clamp slides the wedge "
        "down the face.")
    assert wedge_cauls(Box(400, 300, 100, left_lean=-20))[0].words == (
        "On the left board, lay the thick edge at the top. Hook a lip over the bottom rim, because the clamp slides the wedge "
        "up the face.")


def test_offcuts_are_as_long_as_the_test_corner_s_boards():
    box = Box(400, 300, 100, **leaning(8, 0, 11, 11), joint=JointSettings(tails=3))
    offcuts = trial_offcuts(box, shown=70)
    assert [(offcut.board, offcut.corner, offcut.equal) for offcut in offcuts] == [
        ("left", "front left", ("front right",)), ("front", "front left", ("front right",)),
        ("right", "back right", ("back left",)), ("back", "back right", ("back left",))]
    for offcut in offcuts:
        corner = box.corners[offcut.corner]
        joint = Joint(corner.corner, 100, 12, 12, tails=3, length=70)
        kind = "tail" if corner.tail == offcut.board else "pin"
        cut = joint.tail_board if kind == "tail" else joint.pin_board
        along = cut.outlines.reshape(-1, 3) @ corner.corner.vector(f"{kind}_level")
        assert offcut.length >= np.ptp(along) - 1e-9
        assert offcut.length == pytest.approx(np.ptp(cut.blank @ corner.corner.vector(f"{kind}_level")))
    assert offcut_length(box, "left", 70) == offcuts[0].length
    assert offcut_length(LOCKER, "back") > cut_list(LOCKER).boards[2].thickness


def test_every_corner_has_its_own_test_where_all_differ():
    assert len(trial_offcuts(Box(400, 300, 100, **leaning(4, 8, 12, 16)))) == 8
    assert len(trial_offcuts(Box(400, 300, 100, **leaning(5, 5, 5, 5)))) == 2


@pytest.mark.parametrize(("make", "words"), [
    (lambda: bottom_panel(RegularBox(6, 100, 50)), "made for a Box"),
    (lambda: wedge_cauls(LOCKER, thin=0), "thin edge must be"),
    (lambda: bottom_panel(Box(300, 200, 90, tails_on="front and back", bottom=Bottom(kind="slid in"))), "sides carry the"),
    (lambda: bottom_panel(Box(300, 200, 90, rims="square", bottom=Bottom(kind="slid in"))), "with level rims"),
    (lambda: bottom_panel(Box(300, 500, 90, bottom=Bottom(wood="oak, red"))), "take sheet material"),
    (lambda: bottom_panel(Box(300, 500, 90, bottom=Bottom(kind="slid in", wood="oak, red"))), "too much for a screw"),
    (lambda: Bottom(kind="nailed"), "kind of a bottom can be"),
    (lambda: Bottom(wood="oak"), "wood of the bottom can be"),
    (lambda: Bottom(damper=-1), "moisture that the bottom takes up must be a number from 0 to 8"),
    (lambda: trial_offcuts(LOCKER, shown=-1), "length shown must be"),
    (lambda: offcut_length(LOCKER, "lid"), "front, right, back, left, not 'lid'"),
])
def test_other_impossible_input_says_why(make, words):
    with pytest.raises(ValueError, match=words):
        make()
