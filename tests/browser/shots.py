"""Pages to look at: `python tests/browser/shots.py NOTEBOOK SETTINGS_JSON OUTDIR`.

Opens the notebook in a real JupyterLab, runs it, and saves a screenshot of each screenful; then, for each of the
settings, types its texts into the boxes of every panel that has them and saves the top and the bottom of the panel.
SETTINGS_JSON is a file or the text itself: {"steep": {"Tail lean": "40"}, "inches": {"button": "inch"}}.
"""

import json
import sys
import tempfile
from pathlib import Path

import lab
from twins import pairs_of


def shoot_pages(notebook, stem):
    """Screenshots of the whole notebook, a screenful each, as STEM-page-01.png and so on."""
    scroller = notebook.page.locator(".jp-WindowedPanel-outer")
    count, top = 0, -1
    scroller.evaluate("outer => outer.scrollTop = 0")
    while (now := scroller.evaluate("outer => outer.scrollTop")) > top:
        count, top = count + 1, now
        notebook.page.screenshot(path=f"{stem}-page-{count:02}.png")
        scroller.evaluate("outer => outer.scrollTop += outer.clientHeight - 40")


def shoot_panel(pair, stem, texts):
    """Set a panel from its Reset state, and save what it shows as STEM.png and STEM-below.png."""
    pair.reset()
    if texts.get("button") in pair.panel.buttons():
        pair.press(texts["button"])
        pair.agree("the panel has taken the button")
    for dial, double in pair.free:
        if dial.name in texts:
            pair.type(dial, double, texts[dial.name])
    pair.settle("the panel shows the settings")
    pair.panel.root.evaluate("root => root.scrollIntoView(true)")
    pair.panel.page.screenshot(path=f"{stem}.png")
    pair.panel.root.evaluate("root => root.scrollIntoView(false)")
    pair.panel.page.screenshot(path=f"{stem}-below.png")


def main(path, settings, out):
    """Save all the screenshots of one notebook in the folder `out`."""
    path, out = Path(path).resolve(), Path(out)
    settings = json.loads(settings if settings.lstrip().startswith("{") else Path(settings).read_text())
    out.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as scratch, lab.chromium() as browser:
        server = lab.Lab(path.parent, Path(scratch))
        try:
            notebook = lab.Notebook(browser, server, path.name)
            notebook.run_all()
            pairs = pairs_of(notebook, path)
            shoot_pages(notebook, out / path.stem)
            for number, pair in enumerate(pairs, 1):
                for name, texts in settings.items():
                    shoot_panel(pair, out / f"{path.stem}-panel-{number}-{name}", texts)
        finally:
            server.stop()


if __name__ == "__main__":
    main(*sys.argv[1:])
