"""What all tests share: how hard hypothesis tries."""

import os

from hypothesis import settings

# No deadline: the first example derives the closed forms. In CI the same examples each time: a red run can be repeated.
settings.register_profile("splaywork", deadline=None, max_examples=60, derandomize="CI" in os.environ)
settings.load_profile("splaywork")


def pytest_collection_finish(session):
    """Note which notebooks nbval runs, for the test that none was left out."""
    session.config.notebooks_collected = {str(item.path) for item in session.items if item.path.suffix == ".ipynb"}
