"""Nothing is cut off on a wide page, in mm or inches; on narrow ones, a tablet's or a phone's, panels rearrange themselves."""

import pytest
from lab import CUT_OFF, until

TRACK = 120  # pixels: a slider's track is never shorter
# Each control of a panel that lies past the panel's right edge, each track with its length, and how wide the picture is.
NARROW = """(root, width) => {
    root.style.width = width ? `${width}px` : "";
    const edge = root.getBoundingClientRect().right + 1, seen = node => node.getClientRects().length;
    const all = selector => Array.from(root.querySelectorAll(selector)).filter(seen);
    const image = root.querySelector(":scope > img");
    return {past: all("input, button, select, label, .noUi-base").filter(node => node.getBoundingClientRect().right > edge)
                .map(node => node.outerHTML.slice(0, 150)),
            tracks: all(".noUi-base").map(node => node.getBoundingClientRect().width),
            picture: image ? image.getBoundingClientRect().width : null}; }"""


def in_both_units(pair):
    yield
    if "inch" in pair.panel.buttons():
        pair.press("inch")
        pair.agree("the panel is in inches")
        yield
        pair.reset()


def test_no_label_and_no_field_is_cut_off(pairs):
    for pair in pairs:
        pair.panel.unfold()
        for _ in in_both_units(pair):
            count, cut = pair.panel.root.evaluate(CUT_OFF, pair.texts())
            assert count > 5 and cut == []


def test_none_is_cut_off_in_notebook_7(notebook_7):
    roots = notebook_7.page.locator(".splaywork-panel")
    until(roots.count, "there are panels")
    for root in roots.all():
        count, cut = root.evaluate(CUT_OFF, [])
        assert count > 1 and cut == []


@pytest.mark.parametrize("width", [282, 390, 820])
def test_on_a_narrow_page_sliders_stay_and_nothing_is_lost(notebook, all_pairs, width):
    """282: a page of 1280 pixels at twice its size beside the list of files."""
    for root in notebook.page.locator(".splaywork-panel").all():
        seen = root.evaluate(NARROW, width)
        root.evaluate(NARROW, 0)
        assert seen["past"] == []
        assert all(track >= TRACK for track in seen["tracks"])
        assert seen["picture"] is None or seen["picture"] >= 0.97 * min(width, 920)


def test_a_slider_follows_a_finger(pairs):
    """Touch events as a phone sends them, by Chromium's own protocol."""
    pair = pairs[0]
    dial, session = pair.free[0][0], pair.panel.page.context.new_cdp_session(pair.panel.page)
    dial.handle.scroll_into_view_if_needed()
    spot, track, was = dial.handle.bounding_box(), dial.track.bounding_box(), dial.at()
    level = spot["y"] + spot["height"] / 2
    places = [spot["x"] + spot["width"] / 2, *(track["x"] + part * track["width"] for part in (0.4, 0.6, 0.85))]
    session.send("Emulation.setTouchEmulationEnabled", {"enabled": True})
    for kind, place in zip(("touchStart", "touchMove", "touchMove", "touchMove"), places, strict=True):
        session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": [{"x": place, "y": level}]})
    session.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
    session.send("Emulation.setTouchEmulationEnabled", {"enabled": False})
    session.detach()
    pair.settle("the panel follows the finger")
    assert dial.at() != was
