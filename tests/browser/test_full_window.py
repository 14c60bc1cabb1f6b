"""The presenter's view: a panel over the whole window, drawn anew for it, by keyboard alone, and the page back as it was."""

import hashlib
import io
from contextlib import contextmanager

import pytest
from cases import THOROUGH
from lab import CUT_OFF, SCREEN, until
from matplotlib.backends.backend_agg import RendererAgg
from matplotlib.text import Text
from PIL import Image
from splaywork.drawing.canvas import DPI

WINDOWS = [(1280, 720), (1920, 1080)]
USUAL = 430  # pixels that most pictures are high
SHARE = 1 / 50  # of the window's height: the least that a capital is high
# In the window's pixels: the panel, its row of controls, picture, sentence, line of complaint; how many pixels the picture has;
# how high a capital of the sentence is.
LAID_OUT = """root => {
    const box = selector => { const part = root.querySelector(selector).getBoundingClientRect();
                              return [part.left, part.top, part.right, part.bottom]; };
    const whole = root.getBoundingClientRect(), words = root.querySelector(":scope > .widget-html .widget-html-content");
    const pen = document.createElement("canvas").getContext("2d"), style = getComputedStyle(words);
    pen.font = `${style.fontSize} ${style.fontFamily}`;
    return {open: root.matches(":popover-open"), whole: [whole.left, whole.top, whole.right, whole.bottom],
            bar: box(".splaywork-bar"), over: Math.max(...[...root.querySelectorAll(":scope > .splaywork-bar")].map(
                bar => bar.scrollWidth - bar.clientWidth)), picture: box(":scope > img"), words: box(":scope > .widget-html"),
            drawn: root.querySelector(":scope > img").naturalWidth, capital: pen.measureText("H").actualBoundingBoxAscent,
            lines: words.scrollHeight - words.clientHeight}; }"""


@contextmanager
def window(page, width, height):
    page.set_viewport_size({"width": width, "height": height})
    try:
        yield
    finally:
        page.set_viewport_size(SCREEN)


@contextmanager
def filled(pair, sharp=True):
    """The panel over the whole window, and its twin drawn as large."""
    fill, root = pair.panel.root.locator(".splaywork-fill"), pair.panel.root
    fill.scroll_into_view_if_needed()
    fill.focus()
    pair.panel.page.keyboard.press("Enter")
    pair.twin.present()
    try:
        until(lambda: (at := root.evaluate(LAID_OUT))["open"] and abs(at["drawn"] - (at["picture"][2] - at["picture"][0])) < 30,
              f"the picture is drawn for the window: {root.evaluate(LAID_OUT)}")
        pair.twin.window.value = str(round(root.locator("> img").bounding_box()["width"]))
        yield root.evaluate(LAID_OUT)
    finally:
        pair.panel.page.keyboard.press("Escape")
        pair.twin.present(False)
        pair.twin.window.value = "920"
        until(lambda: not root.evaluate("root => root.matches(':popover-open')"), "Escape leaves")


def drawn_alike(pair):
    """Whether the page's picture is the twin's of as many pixels; the page may have measured itself while it was laid out."""
    canvas, drawn = pair.twin.picture.canvas, pair.panel.root.evaluate(LAID_OUT)["drawn"]
    if round(canvas.width * canvas.zoom) != drawn:
        canvas.zoom = drawn / canvas.width
        pair.twin.redraw()
    return pair.seen()["picture"] == hashlib.sha256(
        Image.open(io.BytesIO(pair.twin.image.value)).convert("RGBA").tobytes()).hexdigest()


def capital(text, least):
    """Pixels that a capital of a text of a canvas is high, at the canvas's own size."""
    font = text.get_fontproperties().copy()
    font.set_size(max(text.get_fontsize(), least))
    return RendererAgg(1, 1, DPI).get_text_width_height_descent("H", font, False)[1]


def drawn_texts(canvas):
    return [each for each in canvas.figure.artists if isinstance(each, Text) and each.get_visible() and each.get_text()]


@pytest.mark.parametrize("size", WINDOWS, ids=str)
def test_a_back_row_reads_every_panel_and_nothing_is_cut_off(new_pairs, size):
    of_a_kind = {pair.kind[:1]: pair for pair in reversed(new_pairs)}  # enough in a larger window of the same shape
    for pair in new_pairs if THOROUGH or size == WINDOWS[0] else of_a_kind.values():
        with window(pair.panel.page, *size), filled(pair) as seen:
            (wide, high), canvas = size, pair.twin.picture.canvas
            assert seen["whole"] == [0, 0, wide, high]
            tall = seen["bar"][3] - seen["bar"][1]
            assert tall < 0.09 * high and seen["over"] <= 1, "the controls stand in one row or in two, none under its end"
            for part in ("bar", "picture", "words"):
                left, top, right, bottom = seen[part]
                assert left >= -1 and top >= -1 and right <= wide + 1 and bottom <= high + 1, (part, seen[part])
            assert seen["capital"] >= SHARE * high and seen["lines"] <= 1
            assert pair.panel.root.evaluate(CUT_OFF, pair.texts())[1] == []
            scale = (seen["picture"][2] - seen["picture"][0]) / canvas.width
            assert min(capital(text, canvas.least) for text in drawn_texts(canvas)) * scale >= SHARE * high
            assert canvas.pen > 1
            until(lambda pair=pair: drawn_alike(pair), "the picture is the twin's, drawn as large")


def test_by_keyboard_alone_and_the_page_comes_back_as_it_was(notebook, new_panels):
    page = notebook.page
    for pair in new_panels:
        root, before = pair.panel.root, pair.seen()
        fill = root.locator(".splaywork-fill")
        fill.scroll_into_view_if_needed()
        place = page.locator(".jp-WindowedPanel-outer").evaluate("outer => outer.scrollTop")
        with filled(pair):
            assert fill.evaluate("node => node === document.activeElement") and "Leave" in fill.text_content()
            assert page.locator(":popover-open").count() == 1
            stops = set()
            for _ in range(12):
                page.keyboard.press("Tab")
                assert root.evaluate("root => root.contains(document.activeElement)")
                stops.add(page.evaluate("() => document.activeElement.outerHTML.slice(0, 200)"))
            assert len(stops) > 3
            dial = pair.free[0][0]
            was = dial.at()
            dial.handle.focus()
            page.keyboard.press("ArrowRight")
            until(lambda was=was, dial=dial: dial.at() != was, "an arrow key moves the slider")
            fill.focus()
        assert fill.evaluate("node => node === document.activeElement")
        until(lambda fill=fill: "Fill" in fill.text_content(), "the kernel names the button anew")
        assert abs(page.locator(".jp-WindowedPanel-outer").evaluate("outer => outer.scrollTop") - place) < 3
        pair.reset()
        until(lambda pair=pair, before=before: pair.seen() == before, "the panel is as it was")
    assert notebook.troubles == []
