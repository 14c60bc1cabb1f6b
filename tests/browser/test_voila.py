"""One link without code: Voilà serves the notebooks as they are, and their panels live."""

import os
import socket
import subprocess
import sys
from importlib.util import find_spec
from pathlib import Path

import psutil
import pytest
from lab import DIALS, HOMES, Panel, until
from places import NOTEBOOKS
from splaywork.widgets.access import DEAD
from twins import Pair, twins_of

SERVED = ["04_compound_corner.ipynb", *(path.name for path in sorted(NOTEBOOKS.glob("10*.ipynb")))]


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


@pytest.mark.parametrize("name", SERVED)
def test_a_notebook_is_read_and_dragged_without_its_code(browser, server, address, name, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    twin = twins_of(server.folder / name)[0]
    page = browser.new_page()
    try:
        page.goto(address[0] + name, timeout=180_000)
        root = page.locator(".splaywork-panel:has(> img)").first
        until(lambda: root.count() and root.locator(DIALS).count() == len(twin.dials), "the panel is there", 120)
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
