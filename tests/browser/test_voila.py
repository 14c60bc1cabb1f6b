"""One link without code: Voilà serves the notebooks as they are, and their panels live; by touch on tablets and phones too."""

import os
import socket
import subprocess
import sys
from importlib.util import find_spec
from pathlib import Path

import psutil
import pytest
from cases import sample
from lab import DIALS, HOMES, Panel, until
from matplotlib.text import Text
from places import NOTEBOOKS
from splaywork.drawing.canvas import DPI
from splaywork.widgets.access import DEAD
from twins import Pair, twins_of

SERVED = [path.name for path in sorted(NOTEBOOKS.glob("*.ipynb")) if not path.name.startswith(("00", "05", "11"))]
BY_TOUCH = [path.name for path in sorted(NOTEBOOKS.glob("*.ipynb")) if path.name.startswith(("04", "06", "09"))]
LEGIBLE = 8.5  # pixels of the page: the size of the smallest type in a picture
# The first panel: its picture's width on the page and in the file, whether all its controls stand within the page, and how far
# the page itself can be pushed sideways.
NARROW = """root => {
    const image = root.querySelector(":scope > img.widget-image"), inside = node => {
        const box = node.getBoundingClientRect(); return box.left >= -1 && box.right <= window.innerWidth + 1; };
    const all = Array.from(root.querySelectorAll("input, button, .noUi-target"));
    const controls = all.filter(node => node.getClientRects().length);
    return {wide: image.getBoundingClientRect().width, pixels: image.naturalWidth, controls: controls.length,
            out: controls.filter(node => !inside(node)).map(node => node.outerHTML.slice(0, 120)),
            sideways: document.scrollingElement.scrollWidth - window.innerWidth}; }"""


@pytest.fixture(scope="module")
def address(server, tmp_path_factory):
    """Where Voilà serves the copied notebooks, and its process."""
    if not find_spec("voila"):
        (pytest.fail if os.environ.get("CI") else pytest.skip)("there is no Voilà: pip install -r tests/requirements.txt")
    home = tmp_path_factory.mktemp("voila")
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    homes = dict.fromkeys(["HOME", *(name for name in HOMES if "LAB" not in name)], str(home))
    command = [sys.executable, "-m", "voila", str(server.folder), "--no-browser", "--ip=127.0.0.1", f"--port={port}"]
    with Path(home, "log").open("w") as log:
        process = subprocess.Popen(command, stdout=log, stderr=log, env=os.environ | homes)
    try:
        until(lambda: "is running at" in Path(home, "log").read_text(), "Voilà answers", 120)
        yield f"http://127.0.0.1:{port}/voila/render/", process.pid
    finally:
        process.terminate()
        process.wait(20)


def opened(page, address, name, twin):
    """The first panel of a notebook that Voilà serves on a page."""
    page.goto(address + name, timeout=180_000)
    root = page.locator(".splaywork-panel:has(> img)").first
    until(lambda: root.count() and root.locator(DIALS).count() == len(twin.dials), "the panel is there", 120)
    return root


@pytest.mark.parametrize(("name", "width", "height"), sample(
    [(name, *size) for size in ((390, 844), (820, 1180)) for name in BY_TOUCH], {0, len(BY_TOUCH) + 2}))
def test_a_tablet_and_a_phone_show_it_legibly_and_a_finger_drags(browser, server, address, name, width, height, tmp_path,
                                                                 monkeypatch):
    monkeypatch.chdir(tmp_path)
    twin = twins_of(server.folder / name)[0]
    context = browser.browser.new_context(viewport={"width": width, "height": height}, device_scale_factor=2, is_mobile=True,
                                          has_touch=True)
    try:
        page = context.new_page()
        root = opened(page, address[0], name, twin)
        pair = Pair(Panel(root, len(twin.dials), lambda: page.wait_for_timeout(1500) or True), twin)
        until(lambda: (seen := root.evaluate(NARROW))["pixels"] >= 1.9 * seen["wide"], "the picture is dense")
        seen = root.evaluate(NARROW)
        if "SHOTS" in os.environ:
            root.scroll_into_view_if_needed()
            page.screenshot(path=f"{os.environ['SHOTS']}/touch-{width}-{name}.png")
        assert seen["sideways"] <= 1 and seen["out"] == [] and seen["controls"] > 5
        twin.window.value = root.locator(".splaywork-window input").input_value()
        canvas = twin.picture.canvas
        smallest = min(text.get_fontsize() for text in canvas.figure.findobj(Text) if text.get_text())
        assert max(smallest, canvas.least) * DPI / 72 * seen["wide"] / canvas.width >= LEGIBLE
        dial = pair.free[0][0]
        was = dial.at()
        drag_by_touch(page, dial)
        pair.settle("the panel follows the finger")
        assert dial.at() != was
    finally:
        context.close()


def drag_by_touch(page, dial):
    """As a phone sends a finger, by Chromium's own protocol: along the track, past its middle."""
    session = page.context.new_cdp_session(page)
    dial.handle.scroll_into_view_if_needed()
    spot, track = dial.handle.bounding_box(), dial.track.bounding_box()
    level = spot["y"] + spot["height"] / 2
    places = [spot["x"] + spot["width"] / 2, *(track["x"] + part * track["width"] for part in (0.4, 0.6, 0.85))]
    for kind, place in zip(("touchStart", "touchMove", "touchMove", "touchMove"), places, strict=True):
        session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": [{"x": place, "y": level}]})
    session.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
    session.detach()


@pytest.mark.parametrize("name", sample(SERVED, {SERVED.index(BY_TOUCH[0]), len(SERVED) - 1}))
def test_a_notebook_is_read_and_dragged_without_its_code(browser, server, address, name, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    twin = twins_of(server.folder / name)[0]
    page = browser.new_page()
    try:
        root = opened(page, address[0], name, twin)
        pair = Pair(Panel(root, len(twin.dials), lambda: page.wait_for_timeout(1500) or True), twin)
        pair.agree("the panel opens as it does in JupyterLab")
        pair.free[0][0].drag(0.8, 0.7)
        pair.settle("the panel follows")
        assert page.locator(".jp-CodeCell .jp-Editor, .jp-CodeCell .highlight").filter(visible=True).count() == 0
        stored = page.locator(".jp-OutputArea-child:has(.splaywork-reopened) + .jp-OutputArea-child .jp-RenderedImage, "
                              ".jp-OutputArea-child:has(.splaywork-reopened) + .jp-OutputArea-child > img")
        assert stored.filter(visible=True).count() == 0
        assert max(text.bounding_box()["width"] for text in page.locator("p").filter(visible=True).all()[:5]) <= 1060
        if "SHOTS" in os.environ:
            page.screenshot(path=f"{os.environ['SHOTS']}/voila-{name}.png")
        for process in psutil.Process(address[1]).children(recursive=True):
            process.kill()
        ended = page.locator(".splaywork-ended")
        until(lambda: set(ended.all_text_contents()) == {DEAD}, "each panel says that its kernel has ended", 60)
    finally:
        page.close()
