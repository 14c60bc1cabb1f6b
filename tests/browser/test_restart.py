"""A kernel that ends while a slider is held and is started again: the page and the disk keep what they had.

JupyterLab starts a dead kernel by itself and says so; then the cells are run again, as after any restart.
"""

import pytest
from lab import Notebook, kernels, until
from twins import pairs_of

LESSON = "04_compound_corner.ipynb"


@pytest.fixture
def opened(browser, server):
    others = kernels(server)  # of tabs that other files still use
    notebook = Notebook(browser, server, LESSON)
    notebook.others = others
    notebook.path = server.folder / LESSON
    notebook.run_all()
    yield notebook
    notebook.close()
    server.shut_kernels()
    server.new_errors()  # what a kernel says when it is taken away is no error of ours


def test_kernel_restarted_in_the_middle_of_a_drag(opened, server):
    before = opened.path.read_bytes()
    pair = pairs_of(opened, opened.path)[0]
    with pair.free[0][0].held() as move:
        move(0.7)
        picture = pair.settle("the panel follows")["picture"]
        kernel, = kernels(server) - opened.others
        kernel.kill()
        move(0.3)
        move(0.5)
    said = opened.page.locator(".jp-Dialog")
    said.wait_for()
    assert "restart" in said.text_content()
    seen = pair.panel.seen()
    assert seen["picture"] == picture and seen["message"] == ""  # the last good picture stays
    said.get_by_role("button", name="Ok").click()
    until(lambda: opened.page.locator(".jp-Notebook-ExecutionIndicator[data-status=idle]").count(), "there is a kernel")
    opened.run_all()
    again = pairs_of(opened, opened.path)[0]
    again.free[0][0].drag(0.62)
    again.settle("the panel works as before")
    assert opened.errors() == [] and opened.path.read_bytes() == before
