"""One server and one browser for all; one kernel and one tab for each notebook, which all files of tests share.

The fixture `notebook` lasts as long as the session and has a parameter for each notebook, so pytest runs all tests of one
notebook, whatever file they are in, before it opens the next; with `--dist loadgroup`
each worker has a notebook at a time. What went wrong behind the page is asked last.
"""

import os
import time
from pathlib import Path

import firefox
import lab
import pytest
from cases import sample
from places import NOTEBOOKS, notebook_paths
from twins import TRIED, only_new, pairs_of

OPEN = []  # the browser, once it is there
PATHS = [path.relative_to(NOTEBOOKS).as_posix() for path in notebook_paths()]
# 01 to 03 have the panel of 04, and 00 has none
OF_THEIR_OWN = {number for number, path in enumerate(PATHS) if not path.startswith(("00", "01", "02", "03"))}


def _missing():
    """Why these tests can't run here, or nothing."""
    if not lab.CHROMIUM:
        return "there is no Chromium: apt-get install chromium"
    try:
        import playwright  # noqa: F401
    except ImportError:
        return "there is no Playwright: pip install -r tests/requirements.txt"
    return ""


@pytest.fixture(scope="session")
def browser():
    if why := _missing():
        (pytest.fail if os.environ.get("CI") else pytest.skip)(why)
    with lab.chromium() as browser:
        OPEN.append(browser)
        yield browser


@pytest.fixture(scope="session")
def server(browser, tmp_path_factory):
    server = lab.Lab(NOTEBOOKS, tmp_path_factory.mktemp("lab"))
    yield server
    server.stop()


@pytest.fixture(scope="session")
def fox():
    """A tab of Firefox."""
    if not firefox.FIREFOX:
        (pytest.fail if os.environ.get("CI") else pytest.skip)("there is no Firefox: apt-get install firefox-esr")
    with firefox.firefox() as tab:
        yield tab


@pytest.fixture(scope="session", params=sample(PATHS, OF_THEIR_OWN))
def notebook(request, browser, server):
    """A notebook that has been run from top to bottom."""
    server.new_errors()  # what an earlier notebook logged at its end is not this one's
    notebook = lab.Notebook(browser, server, request.param)
    notebook.path = server.folder / request.param
    notebook.run_all()
    yield notebook
    notebook.close()
    server.shut_kernels()


@pytest.fixture(scope="session", params=sample([path for path in PATHS if path.startswith(("06", "11"))], {0}))
def notebook_7(request, browser, server):
    """A notebook, run in Notebook 7, which the same server serves."""
    server.new_errors()
    notebook = lab.Notebook7(browser, server, request.param)
    notebook.run_all()
    yield notebook
    notebook.close()
    server.shut_kernels()


@pytest.fixture(scope="session")
def all_pairs(notebook, tmp_path_factory):
    """Each panel of the notebook with its twin."""
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(tmp_path_factory.mktemp("twins"))  # should a twin's button write a file
        pairs = pairs_of(notebook, notebook.path)
        for pair in pairs:
            pair.keep_fresh(TRIED)
        yield pairs


@pytest.fixture
def pairs(all_pairs):
    """Each panel of the notebook with its twin, reset."""
    if not all_pairs:
        pytest.skip("no panel on this page")
    for pair in all_pairs:
        pair.put_back()
    return all_pairs


@pytest.fixture
def new_pairs(request, pairs):
    """The pairs of kinds that this test hasn't had on an earlier page; in a thorough run all."""
    return only_new(request, pairs, [pair.kind for pair in pairs])


@pytest.fixture
def new_panels(request, pairs):
    """The same, whatever their picture."""
    return only_new(request, pairs, [pair.kind[:1] for pair in pairs])


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item):
    report = yield
    if report.failed and OPEN and OPEN[0].pages:
        firefox.SCREENSHOTS.mkdir(exist_ok=True)
        OPEN[0].pages[-1].screenshot(path=firefox.SCREENSHOTS / f"{item.name.replace('/', '-')}.png")
    return report


@pytest.hookimpl(tryfirst=True)  # before pytest-xdist reads the groups
def pytest_collection_modifyitems(items):
    """With workers (--dist loadgroup) one notebook's tests, or one file's, stay with one of them.

    In CI what fails is tried once more, and both tries are reported: a page and a kernel on a busy machine answer in any order.
    """
    for item in items:
        if item.path.parent == Path(__file__).parent:
            if os.environ.get("CI"):
                item.add_marker(pytest.mark.flaky(reruns=1))
            given = item.callspec.params if hasattr(item, "callspec") else {}
            item.add_marker(pytest.mark.xdist_group(given.get("notebook") or given.get("notebook_7") or item.path.stem))


LONGEST = 20 * 60  # seconds for the browser's tests in CI, which is ended from outside, without a verdict, after an hour
BEGUN = time.monotonic()


def pytest_runtest_setup(item):
    if os.environ.get("CI") and time.monotonic() - BEGUN > LONGEST:
        pytest.skip("CI has no more time for the browser's tests")
