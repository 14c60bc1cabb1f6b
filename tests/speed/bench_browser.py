"""What a hand feels: from a key on a slider to the picture on the screen, in a real JupyterLab and Chromium.

    python tests/speed/bench_browser.py

Beside it, in the same page and turn about, two floors: a bare slider whose value is written into a line of text, and one that
shows pictures of the panel's own, drawn beforehand: what the page itself takes to show an `Image`. Each is moved in two ways:
sixteen keys in a row, each as soon as the one before is answered; and single keys, each after half a second's pause, when
loopback and processor have come to rest. The two ways differ, and neither is the whole truth. Then a handle is dragged at 60
moves a second for ten seconds: the backlog is how long after letting go the last picture comes. At last the time from opening
each notebook, its cells all run, to the first picture that a drag makes; turn about with a notebook that only imports what
all stand on, which is opened and run.
"""

import tempfile
from pathlib import Path
from statistics import mean, median
from time import perf_counter, sleep

import nbformat
from bench_import import BASE
from rig import DIALS, NOTEBOOKS, Lab, Notebook, chromium, notebook_paths, until

ROUNDS, MOVES, WARM, RATE, SECONDS = 4, 16, 4, 60, 10
SINGLE, PAUSE = 4, 0.5  # keys a round that are pressed after a pause, and that pause in seconds
OPENED, REACH = 2, 1.5  # how often each notebook is opened, and how much longer than the imports alone it may take
CELL = """import ipywidgets as widgets
from splaywork import {0} as panel
slider, label = widgets.FloatSlider(500, max=1000, step=1, readout=False), widgets.HTML("500")
slider.observe(lambda change, label=label: setattr(label, "value", f"{{change.new:g}}"), "value")
drawn, pictures = panel({1}), []
dial = next(dial for dial in drawn.dials.values() if not dial.slider.disabled)
for step in range(8):
    pictures.append(drawn.image.value)
    dial.slider.value += dial.slider.step
drawn.reset()
other, shown = widgets.FloatSlider(500, max=1000, step=1, readout=False), widgets.Image(value=pictures[4], width=920)
other.observe(lambda change, shown=shown, pictures=pictures: setattr(shown, "value", pictures[int(change.new) % 8]), "value")
widgets.VBox([widgets.VBox([slider, label]), widgets.VBox([other, shown]), drawn])"""
PANELS = {"corner": ("corner_panel", ""), "one gauge": ("one_gauge_panel", "'close the corners'"),
          "joint": ("joint_panel", ""), "box": ("box_panel", "")}

# In the page: `times.moved` is when a key went down or the mouse button up, `times.answered` when the last picture after
# that was there to be seen, or the floor's text.
WATCH = """root => {
    const image = root.querySelector("img.widget-image"), text = root.querySelector(":scope > .widget-html");
    root.times = {moved: 0, answered: 0};
    const now = () => { root.times.answered = performance.now(); };
    root.addEventListener("keydown", () => { root.times = {moved: performance.now(), answered: 0}; }, true);
    if (image) image.addEventListener("load", now);
    else new MutationObserver(now).observe(text, {childList: true, characterData: true, subtree: true});
}"""
# A hand that drags to and fro, once in two seconds: events made in the page, for Playwright's take longer than 1/60 s.
DRAG = """async ([handle, track, rate, seconds]) => {
    const base = track.getBoundingClientRect(), level = base.top + base.height / 2;
    const send = (target, kind, part, buttons) => target.dispatchEvent(new MouseEvent(kind, {bubbles: true,
        cancelable: true, buttons, clientX: base.left + part * base.width, clientY: level}));
    const begun = performance.now();
    let moves = 0;
    send(handle.firstChild, "mousedown", 0.5, 1);
    await new Promise(done => {
        const timer = setInterval(() => {
            const passed = (performance.now() - begun) / 1000;
            send(document.documentElement, "mousemove", 0.1 + 0.8 * Math.abs(passed % 2 - 1), 1);
            moves += 1;
            if (passed > seconds) { clearInterval(timer); done(); }
        }, 1000 / rate);
    });
    send(document.documentElement, "mouseup", 0.5, 0);
    return {released: performance.now(), rate: 1000 * moves / (performance.now() - begun)};
}"""


class Watched:
    """A panel in the page, or the floor's slider and label, with a watch on it."""

    def __init__(self, root, handle=None):
        self.root, self.page = root, root.page
        self.handle, self.track = handle or root.locator(".noUi-handle").first, root.locator(".noUi-base").first
        root.evaluate(WATCH)

    def times(self):
        return self.root.evaluate("root => root.times")

    def step(self, key):
        """Milliseconds from a key on the handle to what answers it."""
        self.handle.press(key)
        times = until(lambda: (now := self.times())["answered"] and now, "the key is answered")
        return times["answered"] - times["moved"]

    def drag(self):
        """Milliseconds from letting go, after a long drag, to the last answer (0 if it came before); moves a second."""
        self.handle.scroll_into_view_if_needed()
        dragged = self.page.evaluate(DRAG, [self.handle.element_handle(), self.track.element_handle(), RATE, SECONDS])
        sleep(2)  # longer than any backlog that would pass
        return max(0.0, self.times()["answered"] - dragged["released"]), dragged["rate"]


def page_of(sources, path):
    """A notebook of these cells, as a file, and its name."""
    cells = [nbformat.v4.new_code_cell(source) for source in sources]
    kernel = {"kernelspec": {"name": "python3", "display_name": "Python 3", "language": "python"}}
    nbformat.write(nbformat.v4.new_notebook(cells=cells, metadata=kernel), path)
    return path.name


def panel_rows(browser, server):
    """(panel, way of moving, median ms of its own, of text, of a ready picture, the drag's backlog and rate), twice each."""
    page = page_of([CELL.format(*panel) for panel in PANELS.values()], server.folder / "bench.ipynb")  # each below its floors
    notebook = Notebook(browser, server, page)
    notebook.run_all()
    for name, cell in zip(PANELS, notebook.code.all(), strict=True):
        cell.scroll_into_view_if_needed()
        every = text, ready, panel = [Watched(cell.locator(f".widget-vbox:has(> {what})")) for what in (
            ".widget-slider:first-child + .widget-html", ".widget-slider:first-child + .widget-image", ".splaywork-bar")]
        times = {(way, watched): [] for way in ("in a row", "single") for watched in every}
        for turn in range(ROUNDS):
            key = "ArrowLeft" if turn < ROUNDS / 2 else "ArrowRight"  # where every dial has room, and all the way back
            for watched in every:  # some moves of each in a row, as a hand makes them
                times["in a row", watched] += [watched.step(key) for _ in range(MOVES)][WARM:]
            for _ in range(SINGLE):
                for watched in every:  # turn about
                    sleep(PAUSE)
                    times["single", watched].append(watched.step(key))
        dragged = panel.drag()
        for way in ("in a row", "single"):
            yield name, way, *(median(times[way, watched]) for watched in (panel, text, ready)), *dragged
    notebook.close()
    server.shut_kernels()


def first_drag(browser, server, path):
    """Seconds from asking for a notebook to the first picture that a drag makes, all cells run, and whether it has a panel."""
    begun = perf_counter()
    notebook = Notebook(browser, server, path)
    notebook.run_all()
    roots = notebook.page.locator(".splaywork-panel:has(> img.widget-image)")
    panel = bool(roots.count())
    if panel:
        free = roots.first.locator(DIALS).filter(has=notebook.page.locator("input:enabled"), visible=True)
        if not free.count():  # a learner unfolds nothing before that, but where all else is locked
            roots.first.locator(".jupyter-widget-Collapse-header").first.click()
        Watched(roots.first, free.first.locator(".noUi-handle")).step("ArrowRight")
    taken = perf_counter() - begun
    notebook.close()
    server.shut_kernels()
    return taken, panel


def main():
    with tempfile.TemporaryDirectory() as scratch, chromium() as browser:
        server = Lab(NOTEBOOKS, Path(scratch))
        try:
            print(f"{'slider to picture, in the browser':36}{'keys':>10}{'ours, ms':>10}{'text, ms':>10}{'ratio':>7}"
                  f"{'ready, ms':>11}{'ratio':>7}{'backlog, ms':>13}{'moves/s':>9}")
            for name, way, ours, text, ready, backlog, rate in panel_rows(browser, server):
                print(f"{name + ' panel':36}{way:>10}{ours:10.1f}{text:10.1f}{ours / text:7.2f}{ready:11.1f}{ours / ready:7.2f}"
                      f"{backlog:13.0f}{rate:9.0f}", flush=True)
            imports = page_of([BASE], server.folder / "imports.ipynb")
            print(f"\n{'opened, run and first drag answered':36}{'s':>10}{'imports, s':>12}{'ratio':>7}  (to reach {REACH})")
            for path in notebook_paths():
                name = path.relative_to(NOTEBOOKS).as_posix()
                pairs = [(*first_drag(browser, server, name), first_drag(browser, server, imports)[0]) for _ in range(OPENED)]
                if pairs[0][1]:
                    ours, theirs = mean(each[0] for each in pairs), mean(each[2] for each in pairs)
                    print(f"{name:36}{ours:10.1f}{theirs:12.1f}{ours / theirs:7.2f}", flush=True)
        finally:
            server.stop()


if __name__ == "__main__":
    main()
