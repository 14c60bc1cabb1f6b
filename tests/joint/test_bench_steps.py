"""The bench steps: each instruction is simulated with solids, planes and rotations, and each drawing held to them."""

import re
from collections import Counter
from itertools import chain, combinations, pairwise, product

import manifold3d
import numpy as np
import pytest
import shapely
from benches import JOINTS, every_corner, every_joint, level, unit
from on_canvas import overlap, texts
from scipy.spatial.transform import Rotation
from splaywork.common.printing import offset
from splaywork.corner.corner import Corner
from splaywork.drawing.canvas import Canvas
from splaywork.drawing.view import View, facing
from splaywork.joint.bench_setups import (
    carried_round,
    comes_off,
    end_up,
    lean_wedge,
    off_straight,
    packing,
    propped,
    scribing_shift,
    section,
)
from splaywork.joint.bench_sketch_picture import Sketch, least_height
from splaywork.joint.bench_solids_picture import back_to_front, plank
from splaywork.joint.bench_steps import (
    STRAIGHT,
    bench_step_words,
    end_cheeks,
    falls,
    inner_marks,
    tail_roots,
    wedged,
)
from splaywork.joint.bench_steps_picture import (
    LOOKED_AT,
    SCENES,
    STEPS,
    bench_steps,
    enlarged,
    frame_rows,
    frames,
    pair,
    scribing_scene,
    unrolled,
    waste,
)
from splaywork.joint.joint import Joint
from splaywork.joint.words import proud

# 1: ripped edges


@every_corner
def test_the_arris_that_comes_off_is_the_one_that_stands_in_the_way(corner):
    joint = Joint(corner, 100, 18, tails=2)
    for board in ("tail", "pin"):
        wood, blank = section(joint, board)
        faces = ("outer", "outer", "inner", "inner")
        below = {face for face, point in zip(faces, blank, strict=True) if point[1] < -1e-9}
        above = {face for face, point in zip(faces, blank, strict=True) if point[1] > joint.height + 1e-9}
        off = comes_off(joint, board)
        assert (below, above) == (({off[0]}, {off[1]}) if off else (set(), set()))
        assert shapely.Polygon(blank).buffer(1e-9).contains(shapely.Polygon(wood))
        solid = joint.tail_board if board == "tail" else joint.pin_board
        out = corner.vector(f"{board}_outward")
        shown = np.stack([solid.blank[:, 1] @ out, solid.blank[:, 1, :, 2]], axis=-1) - [solid.blank[0, 1, 0] @ out, 0]
        assert wood == pytest.approx(shown[[0, 0, 1, 1], [0, 1, 1, 0]], abs=1e-9)


# 2 and 3: propped and projected


@every_joint
@pytest.mark.parametrize("marked", ["tail", "pin"])
def test_the_straightedge_marks_the_end_line_s_slant_and_nothing_runs_into_anything(joint, marked):
    laid = "pin" if marked == "tail" else "tail"
    held = propped(joint, marked)
    foot, head = held.trace
    for plane in (joint.planes[f"{marked} inner"], joint.planes[f"{laid} outer"]):
        assert np.abs(plane.height_of(held.trace)).max() < 1e-9
    along, up = level(joint, marked), joint.corner.vector(f"{marked}_up")
    slant = -np.degrees(np.arctan2((head - foot) @ along, (head - foot) @ up))
    assert slant == pytest.approx(joint.corner.end_line(marked), abs=1e-9)
    inner = joint.planes[f"{marked} inner"]
    assert inner.height_of(held.corners[laid]).min() == pytest.approx(0, abs=1e-9)
    ruler = held.straightedge.reshape(-1, 3)
    clear = inner.height_of(ruler)
    assert joint.planes[f"{laid} outer"].height_of(ruler).min() == pytest.approx(0, abs=1e-9)
    assert np.sum(clear < 1e-9) == 1 and clear.min() == pytest.approx(0, abs=1e-9)  # nothing but the point touches
    point = ruler[clear.argmin()]
    assert point == pytest.approx(foot + 0.7 * (head - foot), abs=1e-9)
    # sawn and pared back at both ends alike, as the step says: the other end serves the other board
    told = bench_step_words(joint)[2].do[0]
    said = re.search(r"(\d+)° out of square, so that one edge is longer. Pare both ends back (\d+)° from one face", told)
    way, over = level(joint, laid), joint.planes[f"{laid} outer"].normal
    for end, sign in ((0, 1), (1, -1)):
        back = sign * (held.straightedge[1, end, 0] - held.straightedge[1, end, 1]) @ way / 14
        under = sign * (held.straightedge[0, end, 1] - held.straightedge[1, end, 1]) @ way / 3
        assert np.degrees(np.arctan([back, under])) == pytest.approx([float(said[1]), float(said[2])])
    assert (held.straightedge[0] - held.straightedge[1]) @ over == pytest.approx(np.full((2, 2), 3.0))


# 4: carried round


@every_joint
@pytest.mark.parametrize("board", ["tail", "pin"])
def test_unfolded_the_mark_runs_on_at_one_slant_from_face_to_face(joint, board):
    wood, lines = unrolled(joint, board)
    assert lines["inner"][0] == pytest.approx(lines["bottom"][0], abs=1e-9)
    assert lines["bottom"][1] == pytest.approx(lines["outer"][0], abs=1e-9)
    side = 1 if board == "tail" else -1
    for surface, turned in (("outer", 1), ("inner", -1)):
        foot, head = lines[surface]
        slant = np.degrees(np.arctan2(-side * (head - foot)[0], turned * (head - foot)[1]))
        assert slant == pytest.approx(joint.corner.end_line(board), abs=1e-9)
        assert shapely.Polygon(wood[surface]).buffer(1e-6).contains(shapely.LineString(lines[surface]))
        length = np.linalg.norm(np.diff(carried_round(joint, board)[surface], axis=0))
        assert np.linalg.norm(head - foot) == pytest.approx(length, abs=1e-9)
    across = lines["bottom"][1] - lines["bottom"][0]
    assert np.degrees(np.arctan2(abs(across[0]), across[1])) == pytest.approx(abs(joint.corner.plan_angle - 90), abs=1e-9)


# 6 and 9: sawn


@every_joint
def test_tipped_by_its_end_line_the_end_is_sawn_plumb(joint):
    corner = joint.corner
    along, up, out = (corner.vector(f"tail_{name}") for name in ("level", "up", "normal"))
    in_vice = np.array([along, out, up]).T  # as it lies on its bottom edge: along, out of the face, up
    tipped = Rotation.from_euler("y", corner.tail_end_line, degrees=True)
    normal = tipped.apply(joint.planes["tail end"].normal @ in_vice)
    assert normal[2] == pytest.approx(0, abs=1e-9)
    from_square = np.degrees(np.arctan2(abs(normal[1]), abs(normal[0])))
    assert from_square == pytest.approx(abs(corner.end_bevel) if joint.end == "flush" else 0, abs=1e-9)


@every_corner
def test_a_wedge_of_the_lean_turns_the_cuts_straight_across(corner):
    joint = Joint(corner, 100, 18, tails=2)
    along, up, out = (corner.vector(f"tail_{name}") for name in ("level", "up", "normal"))
    in_vice = np.array([up, out, -along]).T  # end up: along the jaws, out of the face, plumb
    turned = Rotation.from_euler("z", lean_wedge(joint), degrees=True)
    worst = 0.0
    for name, plane in joint.planes.items():
        if name.endswith("cheek"):
            line = next(each for each in joint.lines_on("tail", "outer") if each.name == name)
            way = (line.ends[1] - line.ends[0]) @ in_vice
            plumb = Rotation.from_euler("y", -np.degrees(np.arctan(way[0] / way[2])), degrees=True)
            assert plumb.apply(way)[:2] == pytest.approx([0, 0], abs=1e-9)
            normal = turned.apply(plumb.apply(plane.normal @ in_vice))
            assert normal[2] == pytest.approx(0, abs=1e-9)
            worst = max(worst, np.degrees(np.arctan2(abs(normal[1]), abs(normal[0]))))
    assert off_straight(joint) == pytest.approx(worst, abs=1e-9)
    said = " ".join(bench_step_words(joint)[8].do)
    assert ("straight across" in said and "don't" not in said) == (worst <= STRAIGHT)
    assert ("the wedge is thick" in said) == wedged(joint)
    if wedged(joint):
        faces = {face: np.array([[0, y, 0], [joint.slant_width, y, 0]]) for face, y in (("outer", 0.0), ("inner", -18.0))}
        for face, arrises in faces.items():  # in the vice axes: x up the face, y out of it; the jaws stay straight across
            bottom, top = turned.apply(arrises)[:, 1] * (1 if face == "outer" else -1)
            thick = "bottom" if bottom < top else "top"  # the arris further from its jaw
            assert f"n the {face} face {'the wedge is thick ' * (face == 'outer')}at the {thick} edge" in said
    if corner.plan_angle == 90:
        assert abs(lean_wedge(joint)) == pytest.approx(abs(corner.tail_lean), abs=1e-9) and worst < STRAIGHT


@every_joint
def test_square_ends_are_drawn_and_said_as_far_proud_as_they_stand(joint):
    text = " ".join(bench_step_words(joint)[5].do)
    if joint.end == "square" and abs(joint.corner.end_bevel) > 0.05:
        out, face = proud(joint, "tail")
        assert f"{out:.1f} mm on its {face} face" in text
    elif abs(joint.corner.end_bevel) > 0.05:
        assert f"Turn the saw's tip {abs(joint.corner.end_bevel):.1f}° to the" in text
    else:
        assert "square to the face" in text
    assert enlarged(joint) in (1, 2, 5, 10)


# 7, 8 and 9: the tails


@every_joint
def test_marks_at_the_end_and_at_the_baseline_give_the_tails(joint):
    for face, ends in (("outer", joint.marks.ravel()), ("inner", inner_marks(joint))):
        roots = tail_roots(joint, face)
        lines = [line for line in joint.lines_on("tail", face) if line.name.endswith("cheek")]
        assert len(lines) == len(roots) == 4
        up, foot = joint.corner.vector("tail_up"), joint.tail_board.blank[int(face == "inner"), 0, 0]
        measured = sorted(float((point - foot) @ up) for line in lines for point in line.ends)
        if joint.end == "flush" or face == "inner" or proud(joint, "tail")[1] != "outer":
            assert sorted([*ends, *roots]) == pytest.approx(measured, abs=1e-6)


@every_joint
def test_baselines_are_measured_from_each_face_s_own_arris(joint):
    """On each face of each board `baseline_offset` in from the end line, or where the end stands proud, that much more."""
    said, compared = " ".join(bench_step_words(joint)[6].do), 0
    for board, thick in (("tail", 15), ("pin", 18)):
        for face in ("outer", "inner"):
            lines = {each.name: each.ends for each in joint.lines_on(board, face)}
            baseline = next(each.ends for each in joint.lines_on(board, face) if each.kind == "baseline")
            end = lines.get("cut-off line", lines["end line"])
            off = np.linalg.norm(np.cross(baseline - end[0], unit(end[1] - end[0])), axis=1)
            out, on = proud(joint, board)
            more = out if on == face else 0.0
            assert off == pytest.approx(joint.corner.baseline_offset(thick) + more, abs=1e-6)
            assert f"{joint.corner.baseline_offset(thick):.1f} mm" in said
            assert not more or abs(joint.corner.end_bevel) < 0.05 or f"{more:.1f} mm on its {face} face" in said
            compared += 1
    assert compared == 4
    assert ("gauge would rock" in said) == (joint.end == "flush" and abs(joint.corner.end_bevel) >= 0.05)


@every_joint
def test_the_waste_drawn_is_what_the_tails_leave(joint):
    pieces = waste(joint)
    assert len(pieces) == joint.tails + 1
    tails = [shapely.Polygon(piece) for piece in pieces]
    for first, second in pairwise(tails):
        assert first.is_valid and first.area > 1 and not first.intersects(second)
    surface = joint.tail_board.surfaces["outer"]
    wood = shapely.Polygon(surface.flat(joint.tail_board.outlines[0]))
    for piece in tails:
        assert wood.intersection(piece).area < 1e-6


@every_joint
def test_pins_are_sawn_plumb_with_the_bottom_edge_plumb(joint):
    cheeks = [plane for name, plane in joint.planes.items() if name.endswith("cheek")]
    assert len(cheeks) == 4 and max(abs(plane.normal @ level(joint, "pin")) for plane in cheeks) < 1e-9
    assert "bottom edge plumb. Saw plumb" in " ".join(bench_step_words(joint)[10].do)


@every_joint
def test_lines_across_the_end_slope_as_said(joint):
    for each in end_cheeks(joint).values():
        outside = np.abs(joint.planes["tail outer"].height_of(each.ends))
        step = each.ends[np.argmax(outside)] - each.ends[np.argmin(outside)]
        way = step @ joint.corner.vector("corner_line")
        assert falls(each) == ("" if each.from_square < 0.05 else "down" if way < 0 else "up")
    text = " ".join(bench_step_words(joint)[7].do)
    lower, upper = end_cheeks(joint).values()
    outer, inner = joint.tail_board.blank[:, 0, 0]
    edge = unit(inner - outer)  # the bottom edge, across the end
    for each in (lower, upper):
        if falls(each) and "parallel to the ripped bottom edge" in text:
            assert np.linalg.norm(np.cross(unit(each.ends[1] - each.ends[0]), edge)) < 1e-9
            said = re.search(rf"Set the bevel to {offset(each.from_square)}(, as for the pin board's end line)?\.", text)
            assert bool(said[1]) == (abs(abs(each.from_square) - abs(joint.corner.pin_end_line)) < 0.05)
        else:
            ways = re.search("(?:each line runs|lower sides' lines run) ([a-z ]+)(?:, the upper sides' lines ([a-z ]+))?[.,]",
                             text)
            if not ways:
                assert not falls(each)
                continue
            said = ways[2] if each is upper and ways[2] else ways[1]
            assert said.startswith({"down": "below", "up": "above", "": "square"}[falls(each)])
            assert f"{offset(each.from_square)} for the{' tails' * (each is lower)} {each.side} sides".replace(
                "tails l", "tails' l") in text
    same = "" if edge @ joint.corner.vector("corner_line") > -1e-9 else "down"
    same = "up" if edge @ joint.corner.vector("corner_line") > 1e-9 else same
    two = "two more settings" in text
    assert ("as the bottom edge does there" in text) == (two and falls(lower) == falls(upper) == same)
    assert ("two more settings" in text) == (abs(lower.from_square - upper.from_square) >= 0.05 or falls(lower) != falls(upper))


def test_the_blade_on_a_square_end_is_said_to_lie_where_it_is_drawn():
    """The label names the side of the line square to the outer arris on which the blade lies; the blade follows its line."""
    said = Counter()
    for leans, plan in product(product((-30, -4, 0, 16, 35), (-25, 0, 11)), (90, 120)):
        joint = Joint(Corner(*leans, plan), 120, 18, tails=3, end="square")
        frame, *_ = frames(joint, 8)
        label = next(text for text, _ in frame.callouts if text.startswith("blade"))
        cheek = end_cheeks(joint)["upper"]
        outer, inner = cheek.ends[np.argsort(np.abs(joint.planes["tail outer"].height_of(cheek.ends)))]
        foot, head = joint.tail_board.blank[0, 0]  # of the end's outer arris
        above = (inner - outer) @ (head - foot)
        said[label] += 1
        assert label == ("blade across the end" if cheek.from_square < 0.05 else
                         f"blade: {'above' if above > 0 else 'below'} square\ntowards the inner face")
        lines = [shape.points[1] - shape.points[0] for shape in frame.shapes if shape.name == cheek.name]
        edges = [step for shape in frame.shapes if shape.name == "blade" for step in np.diff(shape.points, axis=0)]
        assert max(abs(unit(line) @ unit(edge)) for line in lines for edge in edges) > 1 - 1e-12
    assert len(said) == 3 and min(said.values()) > 2


@every_joint
def test_a_pencil_on_a_block_is_offered_only_where_the_lines_are_level(joint):
    rises = [np.ptp(line.ends[:, 2]) for line in joint.lines_on("tail", "end")]
    assert len(rises) == 4
    if "pencil on a flat block" in " ".join(bench_step_words(joint)[7].do):
        assert max(rises) < 1e-9
    else:
        assert max(rises) > 1e-3
    assert len(frames(joint, 8)) == (2 if "pencil on a flat block" in bench_step_words(joint)[7].spoken else 1)


# 10: the pins


@every_joint
def test_the_pins_can_be_scribed_as_the_step_says(joint):
    tail, shift = joint.tail_board.moved(scribing_shift(joint)), scribing_shift(joint)
    assert shift > 0
    pin_end, entry = joint.planes["pin end"], joint.corner.vector("pin_level")
    # the tail board lies on the sawn end: it touches, and is nowhere inside the pin board
    inner = tail.outlines[1]
    normal = joint.planes["tail inner"].normal
    over = (joint.pin_board.blank[:, 0] - inner[0]) @ normal
    assert over.min() == pytest.approx(0, abs=1e-9)
    assert np.ptp(over) == pytest.approx(0 if joint.end == "flush" else 15 * np.sin(np.radians(packing(joint))), abs=1e-9)
    # bottom edges in line; the tails' ends flush with the pin board's outer face
    assert np.ptp([*tail.blank[:, :, 0, 2].ravel(), *joint.pin_board.blank[:, :, 0, 2].ravel()]) < 1e-9
    ends = joint.planes["pin outer"].height_of(tail.blank[:, 0] if joint.end == "flush" else tail.end_lines[1])
    assert np.abs(ends).max() < 1e-9
    # what the knife scribes is where the pins' cheeks belong
    wanted = {line.name: line.ends for line in joint.lines_on("pin", "end")}
    scribed = 0
    for line in joint.lines_on("tail", "inner"):
        if line.name.endswith("cheek"):
            points = line.ends + shift * tail.withdrawal
            down = points - (pin_end.height_of(points) / (pin_end.normal @ entry))[:, None] * entry
            if joint.end == "flush":
                assert np.abs(down - points).max() < 1e-9
            foot, head = wanted[line.name]
            assert np.linalg.norm(np.cross(down - foot, unit(head - foot)), axis=1).max() < 1e-9
            scribed += 1
    assert scribed == 4


@every_joint
def test_in_the_vice_the_end_lies_level_and_nothing_runs_into_anything(joint):
    solids, turn = scribing_scene(joint)
    assert np.linalg.det(turn) == pytest.approx(1)
    assert (turn @ joint.corner.vector("corner_line"))[1:] == pytest.approx([0, 0], abs=1e-9)
    assert (turn @ joint.corner.vector("pin_normal")) == pytest.approx([0, 1, 0], abs=1e-9)
    assert (turn @ level(joint, "pin"))[2] < 0
    hulls = [manifold3d.Manifold.hull_points(solid.points) for solid in solids]
    compared = 0
    for i, first in enumerate(hulls):
        for j in range(i):
            compared += 1
            assert (first ^ hulls[j]).volume() < 1e-3, (solids[i].name, solids[j].name)
    assert compared >= 28


def test_packing_is_asked_for_only_under_a_square_end():
    for joint in JOINTS:
        text = " ".join(bench_step_words(joint)[9].do)
        assert ("packing" in text) == (joint.end == "square" and abs(joint.corner.end_bevel) > 0.05)


# the drawings


@every_joint
@pytest.mark.parametrize("unit_shown", ["mm", "in"])
def test_every_step_is_drawn_with_callouts_on_what_is_drawn(joint, unit_shown):
    assert len(STEPS) == 11
    for number in range(1, 12):
        for frame in chain(*frame_rows(joint, number, unit_shown)):
            points = np.concatenate([shape.points for shape in frame.shapes])
            assert np.isfinite(points).all() and frame.caption
            assert frame.callouts or frame.notes or "gap" in frame.caption
            low, high = points.min(axis=0) - 1e-6, points.max(axis=0) + 1e-6
            for text, point in (*frame.callouts, *(note[:2] for note in frame.notes)):
                assert (low <= point).all() and (point <= high).all(), (number, text)
                assert ("mm" in text) <= (unit_shown == "mm") and "nan" not in text


@every_joint
def test_on_the_narrowest_sheet_no_words_run_into_others(joint):
    """As wide and as high as drawings are where the trial sheet has least room, in pixels of their own scale."""
    compared = 0
    for number, shown in ((step, row) for step in range(1, 12) for row in frame_rows(joint, step) if row):
        wide = 480 if number == LOOKED_AT or len(shown) > 3 else 380 if len(shown) > 2 or number in SCENES else 280
        canvas = Canvas(wide, round(least_height(shown, wide)))
        Sketch(canvas).draw(shown, wide, canvas.height)
        boxes = [box for _, box in texts(canvas)]
        assert all(box[0] >= 0 and box[2] <= wide + 3 for box in boxes), number  # bold letters, hinted
        rows = [np.add(box, (1, 4, -1, -4)) for box in boxes]  # letters' own heights, not their lines'
        assert not [pair for pair in combinations(rows, 2) if overlap(*pair)], number
        compared += len(boxes)
    assert compared > 60


def test_nearer_solids_are_drawn_over_those_that_they_hide():
    generator, compared = np.random.default_rng(5), 0
    for joint in JOINTS:
        scenes = [(scribing_scene(joint)[0], View(24, 24))]
        scenes += [([*(plank(board, held.corners[board]) for board in held.corners),
                     *(each for board in held.corners for each in pair(joint, board, held.corners[board]))], View(bearing, 22))
                   for held, bearing in ((propped(joint, "tail"), 149), (propped(joint, "pin"), 301))]
        for solids, view in scenes:
            drawn = [(view.flat(face.corners), face) for solid in back_to_front(solids, view) for face in solid.faces
                     if face.kind and facing(face.corners[None], view)[0]]
            polygons = [shapely.Polygon(flat).buffer(-0.05) for flat, _ in drawn]
            points = np.concatenate([flat for flat, _ in drawn])
            for point in generator.uniform(points.min(axis=0), points.max(axis=0), (60, 2)):
                over = [number for number, polygon in enumerate(polygons) if polygon.contains(shapely.Point(point))]
                if len(over) > 1:
                    depths = [depth(drawn[number][1].corners, point, view) for number in over]
                    assert depths[-1] >= max(depths) - 1e-6, joint
                    compared += 1
    assert compared > 500


def depth(corners, point, view):
    """How near to the viewer a face's plane lies behind a point of the picture."""
    normal = np.cross(corners[1] - corners[0], corners[2] - corners[0])
    right, up = view.flat(np.eye(3)).T
    seen = point[0] * right + point[1] * up
    return float(((corners[0] - seen) @ normal) / (view.towards_viewer @ normal))


def test_the_vice_turns_a_board_without_mirroring_it():
    for joint in JOINTS:
        for board in ("tail", "pin"):
            turn = end_up(joint, board)
            assert turn @ turn.T == pytest.approx(np.eye(3), abs=1e-9) and np.linalg.det(turn) == pytest.approx(1)


# the words


@every_joint
@pytest.mark.parametrize("unit_shown", ["mm", "in"])
def test_sentences_are_short_and_each_step_has_its_check_and_caution(joint, unit_shown):
    steps = bench_step_words(joint, unit_shown)
    assert [step.number for step in steps] == list(range(1, 12))
    lengths = []
    for step in steps:
        assert step.do and step.check and step.caution
        sentences = re.split(r"(?<=[a-zé°)])[.:;] ", step.spoken.removeprefix(f"{step.number}. "))
        lengths += [len(sentence.split()) for sentence in sentences]
        assert max(lengths) <= 30, max(sentences, key=lambda text: len(text.split()))
        assert ("mm" in step.spoken) <= (unit_shown == "mm")
    assert np.median(lengths) <= 15


def test_stills_say_what_is_drawn():
    stills = bench_steps(JOINTS[0])
    assert len(stills) == 11 and len({still.png for still in stills}) == 11
    assert [still.words for still in stills] == [step.spoken for step in bench_step_words(JOINTS[0])]


def test_steps_tell_the_demonstration_corner_s_numbers():
    steps = bench_step_words(Joint(Corner(30, 30), 100, 18, tails=2))
    assert "50.0 mm for both end lines" in steps[4].spoken and "2″ for both" in bench_step_words(JOINTS[0], "in")[4].spoken
    assert "tip 14.5° to the left" in steps[5].spoken and "at the top edge the inner arris" in steps[0].spoken
