"""`for_projector` on a screen of 1280 × 720: every panel fits the window, and the code can be unfolded."""

import lab
import nbformat
import pytest
from conftest import PATHS
from lab import until

SWITCH = "from splaywork import for_projector; for_projector()"


@pytest.fixture(scope="module", params=[path for path in PATHS if path.startswith(("04", "07", "06", "09", "10"))])
def page(request, browser, server):
    """A notebook whose import cell is followed, in the same cell, by the switch."""
    place = server.folder / f"far-{request.param}"
    notebook = nbformat.read(server.folder / request.param, as_version=4)
    next(cell for cell in notebook.cells if cell.cell_type == "code").source += f"\n{SWITCH}"
    nbformat.write(notebook, place)
    page = lab.Notebook(browser, server, place.name)
    page.run_all()
    yield page
    page.close()
    place.unlink()
    server.shut_kernels()


def test_every_panel_fits_the_window(page):
    window = page.page.locator(".jp-WindowedPanel-outer").bounding_box()
    for root in page.page.locator(".splaywork-panel:has(> img.widget-image)").all():
        # a list below the words, such as a cut list, scrolls within the panel
        room, *parts = root.evaluate("""root => { const words = root.querySelector(":scope > .widget-html");
            const kept = node => !root.querySelector("table") || node.offsetTop <= words.offsetTop;
            return [root, ...Array.from(root.children).filter(kept)].map(node => node.getBoundingClientRect())
            .filter(box => box.width && box.height).map(box => [box.left, box.top, box.right, box.bottom]); }""")
        left, top, right, bottom = room
        assert bottom - top <= window["height"] and right - left <= window["width"]
        for part in parts:
            assert part[0] >= left and part[1] >= top and part[2] <= right + 4 and part[3] <= bottom + 1  # their margin
        assert root.locator("> img.widget-image").bounding_box()["height"] >= 240


def test_code_is_hidden_and_can_be_unfolded(page):
    def shown():
        return [cell.is_visible() for cell in page.page.locator(".jp-CodeCell > .jp-Cell-inputWrapper").all()]

    page.page.get_by_role("button", name="Show the code").scroll_into_view_if_needed()
    assert not any(shown())
    page.page.get_by_role("button", name="Show the code").press("Enter")
    until(lambda: all(shown()), "the code is shown")
    page.page.get_by_role("button", name="Hide the code").click()
    until(lambda: not any(shown()), "the code is hidden again")


def test_type_is_large(page):
    for selector in (".jp-RenderedMarkdown p", ".splaywork-panel .widget-html-content"):
        for part in page.page.locator(selector).all()[:3]:
            assert float(part.evaluate("node => getComputedStyle(node).fontSize").removesuffix("px")) >= 17
