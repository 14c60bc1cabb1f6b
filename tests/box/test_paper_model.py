"""The paper model, folded by a solver that knows only the shapes on the paper, and its sheets as they are printed."""

import numpy as np
import pdfplumber
import pytest
from boxes import leaning
from cases import examples
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.optimize import least_squares
from scipy.spatial.transform import Rotation
from shapely.geometry import LineString, Polygon
from splaywork.box.box import NAMES, Box
from splaywork.box.paper_model import PaperModel
from splaywork.box.paper_model_sheets import _scale_words, _strips, paper_model
from splaywork.box.paper_model_words import say_model, say_one_gauge
from splaywork.common.printing import length
from splaywork.drawing.layout import lay_out
from splaywork.drawing.paper import MARGIN, Label
from splaywork.drawing.print_file import save_pages

ALIKE = Box(420, 300, 110, **leaning(20, 20, 14, 14))
MIXED = Box(420, 300, 110, **leaning(20, 0, 14, 14))
STEEP = Box(420, 300, 110, **leaning(40, 40, 38, 38))
INWARDS = Box(420, 300, 110, **leaning(-12, -12, -9, -9))


@st.composite
def alike(draw):
    """Boxes whose opposite boards lean alike, for which the one-gauge net closes."""
    one, other = draw(st.floats(-30, 44)), draw(st.floats(-30, 44))
    assume(abs(one) > 1 and abs(other) > 1)
    return Box(draw(st.floats(300, 600)), draw(st.floats(300, 600)), draw(st.floats(60, 110)),
               **leaning(one, one, other, other))


@st.composite
def any_boxes(draw):
    chosen = [draw(st.floats(-25, 40)) for _ in NAMES]
    return Box(draw(st.floats(300, 600)), draw(st.floats(300, 600)), draw(st.floats(60, 110)), **leaning(*chosen))


def folded(faces, folds):
    """The faces (4, 4, 2) of a strip in space, each turned about the edge that it shares with the one before."""
    placed = [np.column_stack([faces[0], np.zeros(4)])]
    frame = np.eye(3)
    for number in range(1, 4):
        before, face = placed[-1], faces[number]
        foot, edge = before[1], before[2] - before[1]
        own = face[3] - face[0]
        flat = frame @ (np.array([1, 0, 0])), frame @ np.array([0, 1, 0])
        # lie the face's left edge on the right edge of the one before, in its plane, then turn it about that edge
        angle = np.arctan2(edge @ flat[1], edge @ flat[0]) - np.arctan2(own[1], own[0])
        frame = Rotation.from_rotvec(folds[number - 1] * edge / np.linalg.norm(edge)).as_matrix() @ frame @ \
            Rotation.from_rotvec([0, 0, angle]).as_matrix()
        placed.append(foot + (face - face[0]) @ frame[:, :2].T)
    return np.array(placed)


def folded_shut(faces, start):
    """The faces folded so that the last edge lies on the first, on a footprint whose first corner is square.

    Found from the shapes alone, near three folds in radians. (Without a footprint a box of near parallel folds can shear.)
    """
    def gap(folds):
        shut = folded(faces, folds)
        front, left = shut[0, 1] - shut[0, 0], shut[3, 1] - shut[3, 0]
        return np.append((shut[3, [1, 2]] - shut[0, [0, 3]]).ravel(), front @ left / np.linalg.norm(front))
    found = least_squares(gap, start, xtol=1e-15, ftol=1e-15, gtol=1e-15)
    assert np.abs(found.fun).max() < 1e-6, "it does not fold shut"
    return folded(faces, found.x)


def leans_and_height(shut):
    """Leans (4,) of the faces from the plane of their bottom edges, degrees, and the height of their heads over it."""
    feet = shut[:, 0]
    up = np.cross(feet[1] - feet[0], feet[3] - feet[0])
    up = up / np.linalg.norm(up)
    rise = (shut[:, 3] - feet) @ up
    if rise.mean() < 0:
        up, rise = -up, -rise
    along = shut[:, 1] - feet
    out = np.cross(along, up)
    out = out / np.linalg.norm(out, axis=1)[:, None]
    inside = feet.mean(axis=0) - (feet + shut[:, 1]) / 2
    out *= -np.sign((out * inside).sum(axis=1))[:, None]
    middle = (shut[:, 2] + shut[:, 3]) / 2 - (shut[:, 0] + shut[:, 1]) / 2
    return np.degrees(np.arctan2((middle * out).sum(axis=1), middle @ up)), rise


@given(box=any_boxes())
@examples(25)
def test_the_projected_net_folds_to_the_leans_asked(box):
    net = PaperModel.of(box).projected
    shut = folded_shut(net.faces, -np.radians(net.folds[:3]) * 0.97)
    leans, height = leans_and_height(shut)
    assert leans == pytest.approx([box.lean(name) for name in NAMES], abs=1e-4)
    assert height == pytest.approx(box.height, abs=1e-4)


@given(box=alike())
@examples(25)
def test_the_one_gauge_net_folds_into_the_other_box(box):
    """tan c = tan a / √(1 − tan²a tan²b) by hand, for each lean a between neighbours that lean b; see geometry of 05."""
    a, b = np.tan(np.radians([box.front_lean, box.left_lean]))
    lower = np.sqrt(1 - a**2 * b**2)
    net = PaperModel.of(box).one_gauge
    assert net.closes
    leans, height = leans_and_height(folded_shut(net.faces, -np.radians(net.folds[:3]) * 0.97))
    wanted = [_closed(box.lean(name), box.lean(NAMES[number - 1])) for number, name in enumerate(NAMES)]
    assert leans == pytest.approx(wanted, abs=1e-3)
    assert height == pytest.approx(box.height * lower, abs=1e-3)


def _closed(own, beside):
    """Lean of a board whose width up the face stays and whose height shrinks: cos c = cos a · √(1 − tan²a tan²b)."""
    one, other = np.radians([own, beside])
    return np.sign(own) * np.degrees(np.arccos(np.cos(one) * np.sqrt(1 - np.tan(one)**2 * np.tan(other)**2)))


def test_at_45_the_one_gauge_net_lies_flat_on_the_table():
    net = PaperModel.of(Box(420, 300, 60, **leaning(45, 45, 45, 45))).one_gauge
    assert net.lies_flat and np.abs(net.strip().reshape(-1, 2)[:, 1]).max() > 0
    shut = folded(net.faces, np.zeros(3))  # not folded at all: laid in one plane it comes round to its own first edge
    assert shut[..., 2] == pytest.approx(0, abs=1e-9)
    assert shut[3, [1, 2], :2] == pytest.approx(shut[0, [0, 3], :2], abs=1e-9)


def test_unlike_corners_do_not_close_and_the_sheet_says_by_how_much():
    model = PaperModel.of(MIXED)
    assert not model.one_gauge.closes
    with pytest.raises(AssertionError, match="does not fold shut"):
        folded_shut(model.one_gauge.faces, -np.radians(model.one_gauge.folds[:3]))
    apart = folded(model.one_gauge.faces, -np.radians(model.one_gauge.folds[:3]))
    missed = np.linalg.norm(apart[3, [1, 2]] - apart[0, [0, 3]], axis=1)
    assert model.one_gauge.misses == pytest.approx(missed, abs=1e-9)
    said = say_one_gauge(model)
    assert "can't close" in said and f"{missed[0]:.2f} mm at the bottom and {missed[1]:.2f} mm at the top" in said


def test_the_other_box_is_said_as_it_is():
    """By hand, as in the folding above: both leans and the height of the box that closes, beside those asked."""
    a, b = np.tan(np.radians([40.0, 38.0]))
    said = say_one_gauge(PaperModel.of(STEEP))
    assert f"The front and back lean out {_closed(40, 38):.1f}° instead of out 40.0°." in said
    assert f"The right and left lean out {_closed(38, 40):.1f}° instead of out 38.0°." in said
    assert f"{110 * np.sqrt(1 - a**2 * b**2):.2f} mm high instead of 110.00 mm" in said
    net = PaperModel.of(STEEP).projected
    # the faces' normals make an angle whose cosine is the product of the sines: the paper turns by that much
    turned = np.degrees(np.arccos(np.sin(np.radians(40)) * np.sin(np.radians(38))))
    assert net.folds == pytest.approx(turned, abs=1e-9)


@given(box=any_boxes(), factor=st.floats(1, 4))
@examples(30)
def test_glued_edges_are_equal_and_the_paper_is_needed_once(box, factor):
    model = PaperModel.of(box, factor)
    nets = [model.projected] + ([model.one_gauge] if model._tops[1].min() > 0 else [])
    for net in nets:
        sides = np.linalg.norm(net.faces[:, [1, 0]] - net.faces[:, [2, 3]], axis=-1)
        assert sides[:, 0] == pytest.approx(np.roll(sides[:, 1], -1), rel=1e-9)
        for strip in _strips(net, 2, 1.0):
            parts = [Polygon(outline) for outline in [*strip.outlines, strip.tab]]
            for number, part in enumerate(parts):
                assert part.is_valid
                assert all(part.intersection(other).area < 1e-6 for other in parts[:number])


@pytest.fixture(scope="module")
def printed(tmp_path_factory):
    folder = tmp_path_factory.mktemp("model")

    def sheets(box, paper, unit, exaggerate=1.0):
        path = folder / "model.pdf"
        save_pages(path, paper_model(box, exaggerate, paper, unit), paper)
        return pdfplumber.open(path)
    return sheets


def _level(char):
    return abs(char["matrix"][1]) < 1e-6 < char["matrix"][0]


@pytest.mark.parametrize("box", [ALIKE, MIXED, STEEP, INWARDS], ids=["alike", "mixed", "steep", "inwards"])
@pytest.mark.parametrize(("paper", "unit", "factor"), [("A4", "mm", 1), ("A3", "in", 2), ("Letter", "in", 1)])
def test_pages_are_clean(printed, box, paper, unit, factor):
    with printed(box, paper, unit, factor) as file:
        for page in file.pages:
            for char in page.chars:
                assert min(char["x0"], page.width - char["x1"], char["top"], page.height - char["bottom"]) > 14
            words = page.filter(lambda one: one["object_type"] != "char" or _level(one)).extract_words()
            boxes = np.array([(word["x0"] + 0.5, word["top"] + 1.5, word["x1"] - 0.5, word["bottom"] - 1.5) for word in words])
            over = (boxes[:, None, :2] < boxes[None, :, 2:]).all(-1) & (boxes[None, :, :2] < boxes[:, None, 2:]).all(-1)
            clashes = [(words[one]["text"], words[other]["text"]) for one, other in np.argwhere(over) if one < other]
            assert not clashes, "words overlap"


def test_the_printed_net_is_as_large_as_its_scale_says(printed):
    drawings = paper_model(ALIKE)
    scale = float(drawings[1].notes[0].split("Scale 1 : ")[1].split(":")[0])
    assert drawings[1].notes[0].startswith(_scale_words(scale, "mm"))
    with printed(ALIKE, "A4", "mm") as file:
        points = [np.array(curve["pts"]) for curve in [*file.pages[1].curves, *file.pages[1].lines]]
    runs = [np.linalg.norm(np.diff(run, axis=0), axis=1) * 25.4 / 72 for run in points]
    edges = np.concatenate(runs) * scale
    for name in NAMES:
        for height in (0, ALIKE.height):
            assert np.abs(edges - ALIKE.outer_length(name, height)).min() < 0.1
        assert np.abs(edges - ALIKE.slant_width(name) / np.cos(np.radians(_end_line(ALIKE, name)))).min() < 0.1


def _end_line(box, name):
    """By hand: tan of the end line is the neighbour's tan times the cosine of the board's own lean."""
    own, beside = np.radians([box.lean(name), box.lean(NAMES[NAMES.index(name) - 1])])
    return np.degrees(np.arctan(np.tan(beside) * np.cos(own)))


@pytest.mark.parametrize("ask", [("box",), (ALIKE, 0.5), (ALIKE, "much"), (ALIKE, 1, "A5"), (ALIKE, 1, "A4", "cm")])
def test_what_cannot_be_made_is_refused_in_one_sentence(ask):
    with pytest.raises(ValueError) as refused:
        save_pages("never.pdf", paper_model(*ask), "A4")
    assert str(refused.value).endswith(".") and "\n" not in str(refused.value)


FLAT = Box(420, 300, 60, **leaning(45, 45, 45, 45))
EVERY = {"alike": ALIKE, "mixed": MIXED, "steep": STEEP, "inwards": INWARDS, "flat": FLAT,
         "four heights": Box(420, 360, 60, **leaning(40, 30, 35, 25)),
         "deep": Box(240, 900, 160, **leaning(9, 5, 4, 3)), "tall": Box(100, 100, 700, **leaning(2, 2, 1, 1)),
         "long": Box(1300, 200, 90, **leaning(8, 8, 6, 6)), "shut over": Box(420, 300, 110, **leaning(60, 60, 60, 60)),
         "one lean": Box(420, 300, 110, **leaning(0, 0, 8, 8))}
every_box = pytest.mark.parametrize("box", EVERY.values(), ids=EVERY)


def _nets(box):
    nets = [drawing for drawing in paper_model(box) if "net with" in drawing.title]
    assert nets
    return nets


def _items(drawing, kind, name=None):
    return [item for item in drawing.items if getattr(item, "kind", "") == kind and name in (None, item.name)]


def _words_on(drawing, outline):
    """Texts of the labels that lie wholly on an outline (n, 2)."""
    paper = Polygon(outline).buffer(1e-6)
    return [item.text for item in drawing.items if isinstance(item, Label) and paper.contains(Polygon(item.points))]


@every_box
def test_each_tab_goes_behind_the_edge_of_its_letter_and_hides_there(box):
    """Cut apart at the folds, the tab's fold laid on the edge that has its letter: no paper of it sticks out."""
    for drawing in _nets(box):
        strips, tabs = _items(drawing, "outline"), _items(drawing, "tab")
        assert len(strips) == len(tabs)
        letters = [_words_on(drawing, tab.points) for tab in tabs]
        assert sorted(letter for letter, in letters) == ["A", "B"][:len(tabs)]
        for number, (tab, (letter,)) in enumerate(zip(tabs, letters, strict=True)):
            points = strips[(number + 1) % len(strips)].points  # front, right, back, left: the next strip follows on
            foot, head = points[0], points[-2]
            first = np.array([foot, points[1], points[-3], head])
            assert letter in _words_on(drawing, first), "the edge that follows bears the tab's letter"
            assert np.linalg.norm(head - foot) == pytest.approx(np.linalg.norm(tab.points[3] - tab.points[0]))
            turn = complex(*(head - foot)) / complex(*(tab.points[3] - tab.points[0]))
            moved = (tab.points - tab.points[0]) @ np.array([[1], [1j]])
            laid = np.column_stack([(moved * turn).real, (moved * turn).imag]) + foot
            assert Polygon(first).buffer(1e-6).contains(Polygon(laid))


@every_box
def test_every_face_has_its_name_its_outside_and_its_bottom(box):
    for drawing in _nets(box):
        names = []
        for strip in _items(drawing, "outline"):
            points = strip.points[:-1]
            count = len(points) // 2 - 2
            for number in range(count):
                face = np.array([points[number], points[number + 1], points[-2 - number], points[-1 - number]])
                words = [word for word in _words_on(drawing, face) if len(word) > 1]
                assert words[1:] == ["outside", "bottom"]
                names.append(words[0])
        assert names == list(NAMES)


@every_box
@pytest.mark.parametrize("paper", ["A4", "A3", "Letter"])
def test_it_is_scaled_to_fit_and_not_tiled(box, paper):
    for drawing in paper_model(box, 1.5, paper):
        assert len(lay_out(drawing, paper)) == 1


@given(box=any_boxes(), paper=st.sampled_from(["A4", "Letter"]))
@examples(12)
def test_nothing_leaves_the_paper(box, paper):
    drawings = paper_model(box, 1.0, paper)
    scale = float(drawings[0].notes[0].split("Scale 1 : ")[1].split(":")[0].rstrip(","))
    lowest = min(box.slant_width(name) for name in NAMES)
    assume(lowest / (scale + 0.1) > 14)  # one step smaller, faces would be too low to fold, and tiles are right
    for drawing in drawings:
        (page,) = lay_out(drawing, paper)
        points = np.concatenate([item.points for item in (*page.inside, *page.around)])
        assert (points >= MARGIN - 0.5).all() and (points <= np.array([page.width, page.height]) - MARGIN + 0.5).all()
        assert len(page.inside) == len(drawing.items)  # no label is lost at an edge


@every_box
def test_wedges_have_the_leans_asked_and_the_strip_the_heights_by_hand(box):
    sheets = paper_model(box)
    beside = [drawing for drawing in sheets if "beside" in drawing.title]
    scale = float(beside[0].notes[0].split("Scale 1 : ")[1].split(":")[0].rstrip(","))
    found = {}
    for drawing in beside:
        for wedge in _items(drawing, "outline", "wedge"):
            (foot, far, top, head) = wedge.points[:4]
            assert far[1] == pytest.approx(foot[1]) and far[0] == pytest.approx(top[0])  # level bottom, plumb back
            lean = np.degrees(np.arctan2(head[0] - foot[0], head[1] - foot[1]))
            words = " ".join(_words_on(drawing, wedge.points))
            assert ("leaning out" if lean > 0 else "leaning in") in words and f" {round(abs(lean), 1):g}°" in words
            found |= {name: lean for name in NAMES if name in words}
    for name in NAMES:
        assert found.get(name, 0) == pytest.approx(box.lean(name), abs=1e-6)
    (drawing,) = [drawing for drawing in beside if _items(drawing, "outline", "height strip")]
    (outline,) = _items(drawing, "outline", "height strip")
    low = outline.points[:, 1].min()
    marks = [(mark.name, (mark.points[0, 1] - low) * scale) for mark in _items(drawing, "arm") if mark.name != "footprint"]
    assert dict(marks)["intended"] == pytest.approx(box.height)
    tangents = np.tan(np.radians([box.lean(name) for name in NAMES]))
    together = (tangents * np.roll(tangents, -1))**2
    shut = np.ptp(np.abs(tangents[::2])) + np.ptp(np.abs(tangents[1::2])) < 1e-12 and 0 < together.max() < 1 + 1e-9
    assert len(marks) == 1 + shut  # no height is promised of a net that does not close
    if shut:
        lower = box.height * np.sqrt(max(0, 1 - together.max()))
        assert dict(marks)["shortcut"] == pytest.approx(lower, abs=1e-5)
        assert length(lower, "mm") in [item.text for item in drawing.items if isinstance(item, Label)]
    paper = Polygon(outline.points).buffer(1e-6)
    texts = [Polygon(item.points) for item in drawing.items if isinstance(item, Label)
             and paper.intersects(Polygon(item.points))]
    assert texts and all(map(paper.contains, texts))
    assert all(one.intersection(other).area < 1e-6 for number, one in enumerate(texts) for other in texts[:number])
    lines = [LineString(mark.points) for mark in _items(drawing, "arm") if mark.name != "footprint"]
    assert not any(line.intersects(text) for line in lines for text in texts)


@pytest.mark.parametrize("box", [Box(160, 160, 120, **leaning(40, 40, 40, 40)), ALIKE], ids=["equal", "alike"])
def test_held_each_box_has_two_wedges_of_its_own_for_each_lean(box):
    """Each wedge lies along the wall of its folded net, from bench to rim; the strip's marks are as high as the rims."""
    beside = [drawing for drawing in paper_model(box, held=True) if "beside" in drawing.title]
    model = PaperModel.of(box)
    scale = float(beside[0].notes[0].split("Scale 1 : ")[1].split(":")[0].rstrip(","))
    assert "between the two wedges that name the box's lines" in beside[0].notes[-1]
    assert sum(len(_items(drawing, "arm", "footprint")) for drawing in beside) == 2
    found, marks = [], {}
    for drawing in beside:
        for strip in _items(drawing, "outline", "height strip"):
            marks |= {item.name: (item.points[0, 1] - strip.points[:, 1].min()) * scale for item in _items(drawing, "arm")
                      if item.name != "footprint"}
        for wedge in _items(drawing, "outline", "wedge"):
            foot, _, top, head = wedge.points[:4]
            found.append((" ".join(_words_on(drawing, wedge.points)), (head - foot) * scale))
            assert top[1] == head[1]
    groups = len({tuple(wall) for wall in model.projected.leans})
    assert len(found) == 2 * 2 * groups
    for ends, net, mark in (("true lines", model.projected, "intended"), ("shortcut lines", model.one_gauge, "shortcut")):
        folded = net.folded()[:4]
        assert folded[:, 2:, 2] == pytest.approx(marks[mark], abs=1e-6)
        for number, name in enumerate(NAMES):
            wall = folded[number]
            along = (wall[1] - wall[0]) / np.linalg.norm(wall[1] - wall[0])
            up = (wall[3] - wall[0]) - ((wall[3] - wall[0]) @ along) * along  # square to the bottom edge
            mine = [slope for words, slope in found if ends in words and (groups == 1 or name in words)]
            assert len(mine) == 2
            for slope in mine:
                assert slope == pytest.approx([np.linalg.norm(up[:2]), up[2]], abs=1e-5)


@every_box
def test_the_footprint_is_the_bottom_of_the_box(box):
    beside = paper_model(box)[0]
    (footprint,) = _items(beside, "arm", "footprint")
    scale = float(beside.notes[0].split("Scale 1 : ")[1].split(":")[0].rstrip(","))
    around = np.diff(footprint.points, axis=0) * scale
    assert np.subtract(*np.ptp(footprint.points, axis=0)) > -1e-9  # the longer side across, which fits more papers
    assert np.linalg.norm(around, axis=1) == pytest.approx([box.width, box.depth] * 2)
    assert np.linalg.det(around[:2]) > 0  # seen from above, front, right, back, left go round the way they do below
    middle = footprint.points[:-1].mean(axis=0)
    names = [item for item in beside.items if isinstance(item, Label) and item.text in NAMES
             and Polygon(footprint.points).contains(Polygon(item.points))]
    for number, name in enumerate(NAMES):
        (label,) = [item for item in names if item.text == name]
        edge = footprint.points[number:number + 2].mean(axis=0)
        assert np.linalg.norm(label.at - edge) == min(np.linalg.norm(item.at - edge) for item in names)
        assert (label.at - edge) @ (middle - edge) > 0


@pytest.mark.parametrize(("box", "asked", "factor", "limit"), [
    (Box(420, 300, 60, **leaning(10, 10, 10, 10)), 3, 3, ""),
    (Box(420, 300, 60, **leaning(10, 10, 10, 10)), 9, 4.5, "flat"),  # 45 and 45
    (Box(420, 300, 60, **leaning(10, 10, 0, 0)), 9, 6, "steep"),  # 60
    (Box(300, 300, 100, **leaning(0, 0, -10, -10)), 9, np.degrees(np.arctan(0.85 * 1.5)) / 10,
     "narrow"),  # 300 − 2·100 tan = 0.15·300
    (Box(420, 300, 60, **leaning(50, 50, 50, 50)), 2, 1, "flat"),
    (Box(420, 300, 60), 2, 1, ""),
])
def test_exaggeration_stops_where_it_must_and_says_so(box, asked, factor, limit):
    model = PaperModel.of(box, asked)
    assert (model.factor, model.limit) == (pytest.approx(factor), limit)
    assert model.leans == pytest.approx([factor * box.lean(name) for name in NAMES])
    said = say_model(model)
    assert ("can go no further" in said or "can't be exaggerated" in said) == bool(limit)
    assert (f"exaggerated {factor:.2f} times" in said) == (factor > 1)
    assert all(said in drawing.notes[0] for drawing in paper_model(box, asked))
    if limit == "flat" and factor > 1:
        assert model.one_gauge.lies_flat


def test_what_would_become_too_low_to_fold_is_tiled():
    sheets = paper_model(Box(2400, 300, 60, **leaning(8, 8, 6, 6)))
    scale = float(sheets[0].notes[0].split("Scale 1 : ")[1].split(":")[0])
    assert 60 / scale >= 13.9 and len(lay_out(sheets[1], "A4")) > 1


def test_what_stands_beside_a_tall_box_keeps_to_one_sheet():
    assert len(paper_model(Box(90, 90, 900, **leaning(1, 1, 1, 1)))) == 3
