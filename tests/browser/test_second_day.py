"""The second day, and the end of a kernel: pictures and plain sentences where panels were, and dead panels that say so."""

import json

import lab
import nbformat
import next_day
import pytest
from cases import THOROUGH
from lab import kernels, until
from splaywork.widgets.access import DEAD

CELLS = ["import splaywork as sw", "sw.corner_panel(16, 11)", "sw.box_panel()", "sw.exercise_panel('04')",
         "sw.write_up_panel()"]
KERNEL = {"kernelspec": {"name": "python3", "display_name": "Python 3", "language": "python"}}
PICTURES, PANELS = 2, 4
OPENED_AGAIN = ("10", "guide")  # the largest; tables and scripts
AGAIN = "Run this cell, and its panel appears here."


@pytest.fixture(scope="module")
def path(server):
    """A notebook with panels of several kinds, not yet run."""
    path = server.folder / "second-day.ipynb"
    cells = [nbformat.v4.new_code_cell(source) for source in CELLS]
    nbformat.write(nbformat.v4.new_notebook(cells=cells, metadata=KERNEL), path)
    yield path
    path.unlink()


def shown(notebook):
    """(pictures, sentences) that the outputs show without a kernel; sentences as style sheets add them count too."""
    return notebook.page.evaluate(next_day.SHOWN)


def save(notebook, path):
    page, before = notebook.page, path.stat().st_mtime_ns
    notebook.code.first.locator(".jp-InputPrompt").click()
    page.keyboard.press("Escape")
    page.keyboard.press("Control+s")
    until(lambda: path.stat().st_mtime_ns > before and next_day.is_saved_as_run(path), "the notebook is saved")


@pytest.fixture
def opened(browser, server, path):
    others = kernels(server)  # of notebooks that other files have open
    notebook = lab.Notebook(browser, server, path.name)
    notebook.others = others
    notebook.run_all()
    until(lambda: notebook.page.locator(".splaywork-panel").count() == PANELS, "the panels are there")
    yield notebook
    notebook.close()
    server.shut_kernels()
    server.new_errors()  # what a kernel says when it is taken away is no error of ours


def test_a_saved_notebook_opened_again_shows_pictures_and_plain_sentences(browser, server, path, opened):
    pictures, sentences = shown(opened)
    assert pictures >= PICTURES and AGAIN not in sentences  # the panels' own, and an exercise may have one
    assert opened.page.locator(".jp-RenderedImage img").filter(visible=True).count() == 0
    save(opened, path)
    saved = json.loads(path.read_text())
    assert "widgets" not in saved["metadata"] and len(path.read_bytes()) < 200_000
    server.shut_kernels()
    for kind in (lab.Notebook, lab.Notebook7):
        reopened = kind(browser, server, path.name)
        until(lambda reopened=reopened: shown(reopened)[1].count(AGAIN) == PANELS, f"sentences stand: {shown(reopened)}")
        pictures, sentences = shown(reopened)
        assert pictures == PICTURES and not [said for said in sentences if "Error" in said or "not found" in said]
        assert reopened.page.locator(".jp-RenderedImage img").filter(visible=True).count() == PICTURES
        for picture in reopened.page.locator(".jp-RenderedImage img").all():
            assert picture.bounding_box()["width"] > 500
        reopened.close()
        server.shut_kernels()


def test_each_notebook_opens_again_without_a_red_line(browser, server, notebook, fox):
    """Last of all that is done to a notebook: it is saved as it stands, with the cell that other tests add."""
    if not THOROUGH and not notebook.path.name.startswith(OPENED_AGAIN):
        pytest.skip("--thorough opens this one again, too")
    unrun = notebook.path.read_bytes()
    save(notebook, notebook.path)
    server.shut_kernels()
    name = notebook.path.relative_to(server.folder).as_posix()
    reopened = lab.Notebook(browser, server, name)
    next_day.check(lambda: reopened.page.evaluate(next_day.SHOWN), notebook.path)
    reopened.close()
    fox.open_lab(server, name)
    next_day.check(lambda: fox.ask(next_day.SHOWN), notebook.path)
    fox.go("about:blank")
    notebook.path.write_bytes(unrun)  # for those who open it after this: without that cell, which waits for a file


def test_a_panel_whose_kernel_was_killed_says_so_and_so_does_a_broken_off_bench_set(opened, server):
    page, root = opened.page, opened.page.locator(".splaywork-panel").nth(1)
    assert page.locator(".splaywork-ended").all_text_contents() == [""] * PANELS
    lab.Panel(root, root.locator(lab.DIALS).count()).press("Bench set")
    line = root.locator(".splaywork-act")
    until(lambda: "Drawn: page" in line.text_content(), "the bench set is being drawn", 60)
    process, = kernels(server) - opened.others
    process.kill()
    until(lambda: page.locator(".splaywork-ended").all_text_contents() == [DEAD] * PANELS, "each panel says so", 30)
    assert not line.is_visible() and page.locator(".splaywork-ended").nth(1).get_attribute("role") == "alert"
    assert root.locator("> [inert] .noUi-handle").count() == root.locator(".noUi-handle").count() > 5
    assert root.locator("> img").is_visible()
    page.locator(".jp-Dialog").get_by_role("button", name="Ok").click()
    opened.run_all()
    until(lambda: page.locator(".splaywork-ended").all_text_contents() == [""] * PANELS, "the panels live again")
    assert page.locator("[inert] .noUi-handle").count() == 0
    assert page.locator(".splaywork-act").first.text_content().strip() == ""


def test_after_a_restart_panels_say_so(opened):
    page = opened.page
    page.get_by_role("menuitem", name="Kernel", exact=True).click()
    page.locator(".lm-Menu-itemLabel", has_text="Restart Kernel…").first.click()
    page.locator(".jp-Dialog").get_by_role("button", name="Confirm Kernel Restart").click()
    until(lambda: page.locator(".splaywork-ended").all_text_contents() == [DEAD] * PANELS, "each panel says so", 30)


def test_in_notebook_7_too_a_killed_kernel_is_told(browser, server, path):
    others = kernels(server)  # of a tab that other files still use
    notebook = lab.Notebook7(browser, server, path.name)
    notebook.run_all()
    until(lambda: notebook.page.locator(".splaywork-ended").count() == PANELS, "the panels are there")
    process, = kernels(server) - others
    process.kill()
    until(lambda: notebook.page.locator(".splaywork-ended").all_text_contents() == [DEAD] * PANELS, "each panel says so", 30)
    notebook.close()
    server.shut_kernels()
    server.new_errors()
