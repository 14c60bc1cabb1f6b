"""The core in Debian's Firefox: each kind of panel answers a drag, a field and a button as its twin in this process does, and
notebooks with each kind of output are run, saved and opened again the next day. Each notebook that Chromium ran is opened
again in Firefox by test_second_day.py.
"""

import time
from html import unescape

import firefox
import lab
import nbformat
import next_day
import pytest
import splaywork
from cases import sample
from lab import until
from places import NOTEBOOKS

PANELS = {"corner_panel": (), "gauge_map_panel": (), "setting_errors_panel": (), "trial_faults_panel": (),
          "trial_corner_panel": (10.9, 15.2), "one_gauge_panel": ("close the corners",), "joint_panel": (), "box_panel": ()}
DRAGGED = {list(PANELS).index(name) for name in ("corner_panel", "trial_faults_panel", "joint_panel", "box_panel")}

ROOT = "const root = document.querySelectorAll('.splaywork-panel')[number];"
# the box of a part, brought into view, once the page around it is still: pictures that come late push it on
STILL = """const still = async part => {
    let was = null;
    for (let look = 0; look < 50; look++) {
        part.scrollIntoView({block: 'center', behavior: 'instant'});
        await new Promise(done => setTimeout(done, 200));
        const box = part.getBoundingClientRect();
        if (was && was.top === box.top && box.top >= 0 && box.bottom <= innerHeight) return box;
        was = box;
    }
    return was; };"""
# what the panel shows: sentence, and the places of its handles
SEEN = f"""number => {{ {ROOT} return [root.querySelector(':scope > .widget-html .widget-html-content').textContent,
    Array.from(root.querySelectorAll('.noUi-handle'), handle => Number(handle.ariaValueText))]; }}"""
# the middle of a part of the panel, brought into view; for a slider's track also its length
SPOT = f"""async (number, selector, which) => {{ {ROOT} {STILL} const part = root.querySelectorAll(selector)[which];
    const box = await still(part);
    return [box.left + box.width / 2, box.top + box.height / 2, box.width]; }}"""
# where the Reset button is among the panel's buttons, and whether it can be seen; how many parts are folded
RESET = f"""number => {{ {ROOT} const buttons = Array.from(root.querySelectorAll('button'));
    const at = buttons.findIndex(node => node.textContent.trim() === 'Reset');
    return [at, Boolean(buttons[at].getClientRects().length)]; }}"""
FOLDED = f"number => {{ {ROOT} return root.querySelectorAll('.jupyter-widget-Collapse-header').length; }}"

RUN_HERE = ["06_read_a_trial_corner.ipynb", "10_build_the_whole_box.ipynb", "instructor/guide.ipynb"]

PROMPT = f"""async () => {{ {STILL}
    const box = await still(document.querySelector('.jp-InputPrompt'));
    return [box.left + box.width / 2, box.top + box.height / 2]; }}"""
PROMPTS = "() => Array.from(document.querySelectorAll('.jp-CodeCell .jp-InputPrompt'), node => node.textContent)"


@pytest.fixture(scope="module")
def desk(fox, tmp_path_factory):
    """(Firefox, a server) with a copy of the notebooks that have not yet run."""
    server = lab.Lab(NOTEBOOKS, tmp_path_factory.mktemp("firefox"))
    yield fox, server
    server.stop()


@pytest.fixture(scope="module")
def tab(desk):
    """Firefox, with one notebook that shows each kind of panel, run by JupyterLab."""
    tab, server = desk
    cells = [nbformat.v4.new_code_cell(f"from splaywork import {name}\n{name}(*{given!r})") for name, given in PANELS.items()]
    kernel = {"kernelspec": {"name": "python3", "display_name": "Python 3", "language": "python"}}
    nbformat.write(nbformat.v4.new_notebook(cells=cells, metadata=kernel), server.folder / "panels.ipynb")
    tab.open_lab(server, "panels.ipynb")
    run_all(tab)
    count = "() => document.querySelectorAll('.splaywork-panel .noUi-handle').length"
    wanted = sum(len(getattr(splaywork, name)(*given).dials) for name, given in PANELS.items())
    tab.awaited(lambda: tab.ask(count) == wanted, f"there are {wanted} sliders", 180)
    return tab


def run_all(tab):
    """Choose all cells, none of which has run, and run them by keyboard."""

    def begun():  # a page says that it is idle before its kernel is there, and then runs nothing
        tab.click(tab.ask(PROMPT))
        tab.type("", end=firefox.ESCAPE)
        tab.chord("a")
        tab.chord(firefox.ENTER)
        time.sleep(3)
        return tab.ask(PROMPTS)[0] != "[ ]:"

    tab.awaited(begun, "the cells run", 60)
    tab.awaited(lambda: not {"[ ]:", "[*]:"} & set(tab.ask(PROMPTS)) and tab.ask(firefox.IDLE), "all cells have run", 180)


@pytest.mark.parametrize("number", sample(range(len(PANELS)), DRAGGED), ids=list(PANELS))
def test_a_drag_a_field_and_a_button(tab, number):
    name, given = list(PANELS.items())[number]
    twin = getattr(splaywork, name)(*given)
    dial, opened = next(iter(twin.dials.values())), unescape(twin.sentence.value)

    def shows(sentence):
        until(lambda: tab.ask(SEEN, number)[0] == sentence, f"the panel says {sentence!r}", 60)

    shows(opened)
    x, y, _ = tab.ask(SPOT, number, ".noUi-handle", 0)
    left, _, wide = tab.ask(SPOT, number, ".noUi-base", 0)
    tab.drag((x, y), (left + wide * 0.2, y))
    moved = until(lambda: (at := tab.ask(SEEN, number)[1][0]) != round(dial.slider.value, 6) and at, "the handle moves")
    low, high = dial.slider.min, dial.slider.max
    assert moved == pytest.approx(low + 0.7 * (high - low), abs=0.06 * (high - low))
    dial.slider.value = moved
    shows(unescape(twin.sentence.value))  # what comes late from the drag would take the field's text back
    text = f"{low + 0.6 * (high - low):.4g}"
    tab.click(tab.ask(SPOT, number, "input[type=text]", 0)[:2])
    tab.ask("() => document.activeElement.select()")
    tab.type(text)
    dial.field.value = text
    shows(unescape(twin.sentence.value))
    for heading in range(tab.ask(FOLDED, number)):
        if not tab.ask(RESET, number)[1]:
            tab.click(tab.ask(SPOT, number, ".jupyter-widget-Collapse-header", heading)[:2])
    tab.click(tab.ask(SPOT, number, "button", tab.ask(RESET, number)[0])[:2])
    shows(opened)


# The panel that fills the window, the window's height, and how high a capital of its sentence is.
FILLED = """() => { const root = document.querySelector('.splaywork-panel:popover-open');
    if (!root) return null;
    const box = root.getBoundingClientRect(), words = root.querySelector(':scope > .widget-html .widget-html-content');
    const image = root.querySelector(':scope > img').getBoundingClientRect();
    const pen = document.createElement('canvas').getContext('2d'), style = getComputedStyle(words);
    pen.font = `${style.fontSize} ${style.fontFamily}`;
    return {box: [box.left, box.top, box.right, box.bottom], window: [0, 0, innerWidth, innerHeight],
            capital: pen.measureText('H').actualBoundingBoxAscent, picture: [image.left, image.top, image.right, image.bottom],
            focus: root.contains(document.activeElement)}; }"""


def test_the_presenters_view_fills_the_window_and_escape_leaves(tab):
    spot = tab.ask(SPOT, 0, ".splaywork-fill", 0)[:2]  # the page scrolls to it
    before = tab.ask("() => document.querySelector('.jp-WindowedPanel-outer').scrollTop")
    tab.click(spot)
    seen = until(lambda: tab.ask(FILLED), "the panel fills the window", 60)
    until(lambda: tab.ask(FILLED)["picture"][2] > 0.9 * seen["window"][2], "the picture is as wide as the window", 60)
    seen = tab.ask(FILLED)
    assert seen["box"] == seen["window"] and seen["focus"]
    assert seen["capital"] >= seen["window"][3] / 50 and seen["picture"][3] <= seen["window"][3]
    tab.type("", end=firefox.ESCAPE)
    until(lambda: tab.ask(FILLED) is None, "Escape leaves", 60)
    said = "() => document.querySelector('.splaywork-fill').textContent"
    until(lambda: "Fill" in tab.ask(said), "the button says what it does", 60)
    assert abs(tab.ask("() => document.querySelector('.jp-WindowedPanel-outer').scrollTop") - before) < 400


@pytest.mark.parametrize("name", sample(RUN_HERE, {0}))
def test_run_saved_and_opened_again_the_next_day(desk, name):
    tab, server = desk
    path = server.folder / name
    page = nbformat.read(path, as_version=4)
    for cell in page.cells:
        if cell.cell_type == "code":
            cell.outputs, cell.execution_count = [], None
    nbformat.write(page, path)
    tab.open_lab(server, name)
    run_all(tab)
    assert not tab.ask("() => document.querySelectorAll('[data-mime-type$=stderr], [data-mime-type$=error]').length")
    tab.click(tab.ask(PROMPT))
    tab.type("", end=firefox.ESCAPE)
    tab.chord("s")
    until(lambda: next_day.is_saved_as_run(path), "the notebook is saved")
    server.shut_kernels()
    tab.open_lab(server, name)
    next_day.check(lambda: tab.ask(next_day.SHOWN), path)
    server.shut_kernels()
