"""Hostile text into everything that reads text: readers of text, plan files and every box of every panel.

As it comes, a short run; the long one, of 100,000 texts:

    SPLAYWORK_FUZZ=100000 .venv/bin/python -m pytest -c tests/pytest.ini tests/test_fuzz.py

While it runs, an audit hook (PEP 578) listens: no code may be compiled or run, nothing written, deleted or called.
"""

import codecs
import inspect
import json
import os
import random
import re
import sys
from contextlib import contextmanager, suppress

import ipywidgets as widgets
import numpy as np
import pytest
import splaywork
import splaywork as sw
from splaywork.box.box import Box
from splaywork.box.movement import WOODS
from splaywork.box.plan import Item, Plan, load_plan, save_plan
from splaywork.common import reading
from widget_tree import within

ALL = int(os.environ.get("SPLAYWORK_FUZZ", 6000))
SHARES = {"readers": 0.7, "plans": 0.2, "boxes": 0.1}  # a box that takes its text draws a picture

PARTS = ["0", "1", "7", "45", "90", "12.5", "-", "−", "+", ".", ",", "/", " ", "\t", "\n", "e", "e9", "1e999", "1e-320",
         "nan", "inf", "NaN", "Infinity", "°", "'", '"', "″", "mm", "cm", "m", "in", "ft", " in ", "1 in 8", "1:8",
         "over", "from the edge", "from square", "½", "⅞", "٣", "四", "\u202e", "\u200b", "\0", "\x1b[2J", "\ud800",
         "__import__('os').system('id')", "{7*7}", "${HOME}", "%s%n", "<img src=x onerror=alert(1)>", "</script>",
         "lambda: 0", "9" * 400, "../../etc/passwd", "~", "C:\\", "'; DROP TABLE boards; --", "\\begin{align}"]
WRITING = {"os.remove", "os.rename", "os.mkdir", "os.rmdir", "os.truncate", "os.symlink", "os.link", "os.chmod",
           "shutil.rmtree", "shutil.move"}
RUNNING = {"compile", "exec", "os.system", "os.exec", "os.posix_spawn", "os.fork", "subprocess.Popen", "ctypes.dlopen",
           "pickle.find_class"}
CALLING = {"socket.connect", "socket.bind", "socket.getaddrinfo", "urllib.Request", "webbrowser.open"}

_heard = None


def _listen(event, arguments):
    if _heard is not None and (event in WRITING | RUNNING | CALLING or (event == "open" and _writes(arguments))):
        said = (event, *map(repr, arguments))
        if not any("<lambdifygenerated" in part for part in said):  # a closed form of our own, turned into NumPy
            _heard.append(said)


def _writes(arguments):
    _, mode, flags = (*arguments, None, None)[:3]
    return bool(isinstance(mode, str) and set(mode) & set("wax+")) or bool(isinstance(flags, int) and flags & 3)


sys.addaudithook(_listen)  # it can't be taken off again, so it hears only between the lines below


@contextmanager
def nothing_done():
    """Fails when what runs inside writes, runs or calls anything."""
    global _heard
    _heard = []
    try:
        yield
        heard = _heard
    finally:
        _heard = None
    assert heard == []


def texts(seed):
    """Endless texts: pieces put together, sensible ones damaged, and characters of any kind."""
    dice = random.Random(seed)
    while True:
        kind = dice.random()
        if kind < 0.6:
            yield "".join(dice.choices(PARTS, k=dice.randint(1, 5)))
        elif kind < 0.8:
            yield "".join(chr(dice.randrange(0x2500)) for _ in range(dice.randint(0, 12)))
        else:
            text = list(dice.choice(["12°30'15\"", "3 1/8 in", "1' 3 1/2\"", "24.9 mm in 100 mm", "79.5 from the edge"]))
            for _ in range(dice.randint(1, 3)):
                text[dice.randrange(len(text))] = dice.choice(PARTS)
            yield "".join(text)


def share(name):
    return max(1, int(ALL * SHARES[name]))


def one_sentence(said):
    return said.endswith((".", ".</b>")) and "\n" not in said and len(said) < 400


READERS = [reading.read_angle, reading.read_bevel, reading.read_length, reading.read_count, reading.read_run]


def test_readers(seed=1):
    with nothing_done():
        for text, _ in zip(texts(seed), range(share("readers") // len(READERS)), strict=False):
            for read in READERS:
                try:
                    read(text, low=0, high=45, name="Lean")
                except ValueError as wrong:
                    assert one_sentence(str(wrong)), (read.__name__, text)


def damaged(text, dice, hostile):
    """A plan's text, damaged: bytes changed or cut off, or a value exchanged for another kind of one."""
    if dice.random() < 0.5:
        content = json.loads(text)
        part = content
        while True:
            place = dice.choice([*part] if isinstance(part, dict) else range(len(part)))
            if not isinstance(part[place], (dict, list)) or not part[place] or dice.random() < 0.3:
                break
            part = part[place]
        part[place] = dice.choice([None, True, [], {}, -1, 10 ** 40, 1e308, 0.0, next(hostile)])
        return json.dumps(content).encode()
    raw = bytearray(text.encode())
    for _ in range(dice.randint(1, 4)):
        raw[dice.randrange(len(raw))] = dice.randrange(256)
    return bytes(raw[:dice.randint(0, len(raw))] if dice.random() < 0.3 else raw)


def test_plan_files(tmp_path, seed=2):
    dice, hostile, path = random.Random(seed), texts(seed), tmp_path / "plan.json"
    save_plan(path, Plan("lockers", [Item("drawer", Box(400, 300, 120, front_lean=12), 2)]))
    text = path.read_text()
    Box(500, 300, 120, front_lean=10)  # what is derived at the first use is there
    for _ in range(share("plans")):
        raw = damaged(text, dice, hostile)
        path.write_bytes(raw)
        with nothing_done():
            try:
                load_plan(path)
            except ValueError as wrong:
                assert one_sentence(str(wrong)), raw
        assert path.read_bytes() == raw
    assert os.listdir(tmp_path) == [path.name]


# Every public function and class, given what it isn't made for.

CORNER, BOX = sw.Corner(16, 11), sw.Box(400, 300, 120, front_lean=12)
FIT = sw.Opening(420, 320, 130).fit(sw.Clearances(floor=18))
PLAN = sw.Plan("p", [sw.Item("d", BOX)])
GOOD = {"corner": CORNER, "box": BOX, "before": PLAN, "after": PLAN, "plan": PLAN, "joint": sw.Joint(CORNER, 100, 12),
        "fit": FIT, "opening_or_fit": FIT, "sample": sw.jitter(CORNER, boxes=10), "measured": sw.TrialCorner(10, 12), "x": 12.5,
        "form": "dihedral", "tail_leans": [5, 10], "pin_leans": [5], "leans": (5, 10), "height": 100.0, "thickness": 12.0,
        "width": 400.0, "depth": 300.0, "tolerance": 0.2, "tail_length": 300, "pin_length": 200, "length_of_side": 300,
        "stick": 400, "consequence": "hold the leans", "tail_end_line": 10.0, "pin_end_line": 8.0,
        "tail_lean": 10, "pin_lean": 5,
        "rise": 100, "run": 20, "slant_width": 110, "bottom_edge": 300, "top_edge": 340, "diagonal": 330, "other_diagonal": 325,
        "gap": 1.0, "slip": 2.0, "corners": CORNER, "tail_thickness": 12.0, "floor_width": 420.0, "sides": 6, "edge": 100.0,
        "name": "x", "items": [sw.Item("d", BOX)], "length": 900.0, "notebook": "02", "stages": ("standing",), "seen": 30.0,
        "wood": sorted(WOODS)[0], "change": 2.0, "angle": 20.0, "up": 300.0,
        "flush": sw.Joint(CORNER, 100, 12), "square": sw.Joint(CORNER, 100, 12, end="square")}
WRONG = [None, "x", True, -5, 0, float("nan"), float("inf"), 10 ** 400, [], [1, 2, 3], {}, {"a": 1}, object(), 1j, b"5",
         np.ones(3), np.array([[1, 2], [3, 4]]), "x" * 200, float]
# Those that open files, draw a whole sheet or are panels have their own tests, and the panels the test below.
ELSEWHERE = re.compile(r".*_panel$|save_|load_|class_report|[Pp]rojection|closing_corners|for_projector|PaperModel|"
                       r"PlanEditor|__version__")
PUBLIC = [name for name in sw.__all__ if not ELSEWHERE.match(name) and callable(getattr(sw, name))]


@pytest.mark.parametrize("name", PUBLIC)
def test_public_functions_refuse_in_one_sentence(name, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    function = getattr(sw, name)
    parameters = [one for one in inspect.signature(function).parameters.values()
                  if one.kind in (one.POSITIONAL_OR_KEYWORD, one.KEYWORD_ONLY) and one.name not in ("extra", "progress")]
    good = {one.name: GOOD[one.name] for one in parameters if one.default is one.empty and one.name in GOOD}
    if len(good) == sum(one.default is one.empty for one in parameters):
        function(**good)
    refused = 0
    for one in parameters:
        for wrong in WRONG:
            try:
                function(**{**good, one.name: wrong})
            except ValueError as caught:
                refused += 1
                assert str(caught).endswith(".") and "\n" not in str(caught) and len(str(caught)) < 1500, (one.name, wrong)
    assert refused or not parameters
    assert os.listdir(tmp_path) == []


codecs.lookup("utf-8-sig")  # plans are read past a mark; loaded only then, the codec would be taken for code that is run
NEEDS = {"one_gauge_panel": ("hold the leans",), "trial_corner_panel": (12, 8), "exercise_panel": ("04",),
         "script_panel": ("04",), "trial_sheet_panel": (splaywork.Joint(splaywork.Corner(14, 6), 100, 12),)}


# bottom_panel is a board
PANELS = [name for name in splaywork.__all__ if name.endswith("_panel") and name != "bottom_panel"]


@pytest.mark.parametrize("name", PANELS)
def test_boxes_of_panels(name, tmp_path, monkeypatch, seed=3):
    monkeypatch.chdir(tmp_path)
    panel = getattr(splaywork, name)(*NEEDS.get(name, ()))
    boxes = [widget for widget in within(panel) if isinstance(widget, (widgets.Text, widgets.Textarea))]
    if not boxes:
        pytest.skip("nothing is typed there")
    lines = [widget for widget in within(panel) if isinstance(widget, widgets.HTML)]
    picture = getattr(panel, "image", None)
    dice, hostile = random.Random(seed), texts(name)
    for box in boxes:  # and what is derived at the first use of each, lambdify's code among it
        with suppress(ValueError):
            box.value = f"{dice.random():.3f}"
    with nothing_done():
        for _ in range(share("boxes") // len(PANELS)):
            box = dice.choice(boxes)
            box.value = next(hostile)
            message = getattr(panel, "message", None)
            assert message is None or not message.value or one_sentence(message.value), box.description
            assert all("<img" not in line.value for line in lines)
    assert picture is None or bytes(picture.value).startswith(b"\x89PNG")
    assert os.listdir(tmp_path) == []
