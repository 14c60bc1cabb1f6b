"""A lesson as the room sees it, to look at: `python tests/browser/lesson.py 04 OUTDIR [MINUTES]`.

Opens the lesson's script in a real JupyterLab, fills the window, and goes through its rows with *Next*. Saves for each row a
screenshot at 1280 × 720 pixels (06-waits.png before Next shows more), that screenshot as seen from far (reduced to a quarter,
and enlarged again), and in rows.md what was to be done, what was said, what the panel said, and how wide its row of controls
was in the window.
"""

import io
import re
import sys
import tempfile
import time
from pathlib import Path

import lab
import nbformat
from PIL import Image
from splaywork.teaching.scripts import script
from splaywork.teaching.scripts.core import minutes_rows

FAR = 4  # a letter of 15 pixels seen from six metres is about as one of 4 pixels at the desk
ROOT = "document.querySelector('.splaywork-panel.splaywork-presenting')"
# For each row of controls the pixels that it needs, has, and is high, and its smallest letters; where the last control and the
# button to leave lie; the picture's box; pixels past the window's lower edge.
BAR = f"""() => {{ const root = {ROOT}, bars = [...root.querySelectorAll(':scope > .splaywork-bar')];
    const image = root.querySelector(':scope > img').getBoundingClientRect();
    const ends = [...root.querySelectorAll('.splaywork-bar button, .splaywork-bar input')].map(
        each => each.getBoundingClientRect().right);
    const leave = root.querySelector('.splaywork-fill').getBoundingClientRect();
    return {{bars: bars.map(bar => [bar.scrollWidth, bar.clientWidth, bar.offsetHeight]), right: Math.max(...ends),
             leave: [leave.left, leave.right], picture: [image.left, image.top, image.right, image.bottom],
             past: root.scrollHeight - root.clientHeight, window: [innerWidth, innerHeight],
             fonts: bars.map(bar => [...bar.querySelectorAll('button, label, .widget-html-content')].map(
                 each => parseFloat(getComputedStyle(each).fontSize)).reduce((a, b) => Math.min(a, b), 999))}}; }}"""
SAID = f"""() => [...{ROOT}.querySelectorAll(':is(:scope > .widget-html, .splaywork-bar) .widget-html-content')].filter(
    each => each.getClientRects().length).map(each => each.textContent).filter(Boolean)"""


def open_script(browser, server, notebook, minutes):
    """The page, with the lesson's first row over the whole window."""
    cells = [nbformat.v4.new_code_cell(f"import splaywork as sw\nsw.script_panel({notebook!r}, {minutes})")]
    kernel = {"kernelspec": {"name": "python3", "display_name": "Python 3", "language": "python"}}
    nbformat.write(nbformat.v4.new_notebook(cells=cells, metadata=kernel), server.folder / "lesson.ipynb")
    opened = lab.Notebook(browser, server, "lesson.ipynb")
    opened.run_all()
    fill = opened.page.locator(".splaywork-panel .splaywork-fill button, .splaywork-panel button.splaywork-fill").first
    fill.scroll_into_view_if_needed()
    fill.click()
    lab.until(lambda: opened.page.evaluate(f"() => Boolean({ROOT})"), "the panel fills the window")
    return opened


def rest(opened):
    """Wait until all is drawn."""
    lab.until(opened.is_quiet, "the kernel has answered")
    time.sleep(1.0)
    lab.until(opened.is_quiet, "the kernel has answered")


def forth(opened):
    """Press *Next*."""
    opened.page.locator(".splaywork-presenting button", has_text="Next").first.click()


def main(notebook, out, minutes=20):
    """Save every row of a lesson in the folder `out`."""
    out = Path(out)
    out.mkdir(parents=True, exist_ok=True)
    rows = minutes_rows(script(notebook), minutes)
    told = [f"# {notebook} {script(notebook).title}, {minutes} minutes\n"]
    with tempfile.TemporaryDirectory() as scratch, lab.chromium() as browser:
        source = Path(scratch) / "empty"
        source.mkdir()
        server = lab.Lab(source, Path(scratch))
        try:
            opened = open_script(browser, server, notebook, minutes)
            for number, (minute, do, say, sees) in enumerate(rows, 1):
                rest(opened)
                if re.search("Next shows it|Drag, then Next", " ".join(opened.page.evaluate(SAID))):
                    opened.page.screenshot(path=out / f"{number:02}-waits.png")
                    forth(opened)
                    rest(opened)
                shot = Image.open(io.BytesIO(opened.page.screenshot()))
                shot.save(out / f"{number:02}.png")
                small = shot.resize((shot.width // FAR, shot.height // FAR), Image.Resampling.LANCZOS)
                small.resize(shot.size, Image.Resampling.BICUBIC).save(out / f"{number:02}-from-far.png")
                told.append(f"## {number:02}, minute {minute}\n\n* Do: {do}\n* Say: {say}\n* The room should see: {sees}\n"
                            f"* On the screen: {' | '.join(opened.page.evaluate(SAID))}\n")
                for size in ((1920, 1080), (1280, 720)):
                    opened.page.set_viewport_size(dict(zip(("width", "height"), size, strict=True)))
                    rest(opened)
                    told.append(f"* {size}: {opened.page.evaluate(BAR)}\n")
                if number < len(rows):
                    forth(opened)
        finally:
            server.stop()
    (out / "rows.md").write_text("\n".join(told), encoding="utf-8")


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2], int(sys.argv[3]) if len(sys.argv) > 3 else 20)
