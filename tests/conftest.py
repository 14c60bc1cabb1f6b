"""What all tests share: how hard hypothesis tries, and what it does when it finds something."""

import gc
import os
import sys

import pytest
from hypothesis import Phase, settings

# No deadline: the first example derives the closed forms. In CI the same examples each time: a red run can be repeated.
# What fails is told as it was found; made smaller, which takes minutes, by --hypothesis-profile shrink alone.
settings.register_profile("splaywork", deadline=None, max_examples=40, derandomize="CI" in os.environ, print_blob=True,
                          report_multiple_bugs=False, phases=(Phase.explicit, Phase.reuse, Phase.generate))
settings.register_profile("shrink", settings.get_profile("splaywork"), phases=tuple(Phase))
settings.register_profile("few", settings.get_profile("splaywork"), max_examples=4)  # for .ci/cover: reached is reached
settings.register_profile("some", settings.get_profile("splaywork"), max_examples=13)  # unless the run is --thorough
settings.load_profile("splaywork")

# Modules are compiled once and kept, here and in each kernel that is started, as on a learner's machine. Some environments
# forbid it, and then each kernel compiles them all.
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
sys.dont_write_bytecode = False

# A class corner that somebody keeps beside the notebooks would change what they print: kernels that are started leave it out.
os.environ["SPLAYWORK_CLASS_CORNER"] = ""


@pytest.fixture(autouse=True)
def class_corner_where_a_test_keeps_it(monkeypatch):
    """In a test itself, a class corner is found beside the folder that it runs in, as everywhere."""
    monkeypatch.delenv("SPLAYWORK_CLASS_CORNER")


def pytest_addoption(parser):
    parser.addoption("--thorough", action="store_true", help="try each claim with all its cases, not with some of them")


def pytest_configure(config):
    config.addinivalue_line("markers", "thorough: a further case of a claim, tried with --thorough only")
    if config.getoption("--thorough"):
        os.environ["SPLAYWORK_THOROUGH"] = "1"  # tests/support/cases.py reads it
    elif not config.getoption("--hypothesis-profile"):
        settings.load_profile("some")


@pytest.hookimpl(tryfirst=True)  # while all cases of each test are there
def pytest_collection_modifyitems(config, items):
    """Leave further cases to a thorough run, but for one that is asked for by its name; some case of each test stays."""
    if config.getoption("--thorough") or any("[" in name for name in config.args):
        return
    kept = [item for item in items if not item.get_closest_marker("thorough")]
    left_out = [item for item in items if item.get_closest_marker("thorough")]
    names = {item.nodeid.partition("[")[0] for item in kept}
    if whole := sorted({item.nodeid for item in left_out if item.nodeid.partition("[")[0] not in names}):
        raise pytest.UsageError(f"Every case of a test is marked thorough: {whole[0]}.")
    items[:] = kept
    config.hook.pytest_deselected(items=left_out)


def pytest_collection_finish(session):
    """Note which notebooks nbval runs, for the test that none was left out; look for garbage seldom, and not in what stays."""
    session.config.notebooks_collected = {str(item.path) for item in session.items if item.path.suffix == ".ipynb"}
    gc.freeze()
    gc.set_threshold(50_000, 20)  # pages that are read, and figures, are many small things
