"""What all tests share: how hard hypothesis tries, and what it does when it finds something."""

import os

from hypothesis import Phase, settings

# No deadline: the first example derives the closed forms. In CI the same examples each time: a red run can be repeated.
# What fails is told as it was found; made smaller, which takes minutes, by --hypothesis-profile shrink alone.
settings.register_profile("splaywork", deadline=None, max_examples=40, derandomize="CI" in os.environ, print_blob=True,
                          report_multiple_bugs=False, phases=(Phase.explicit, Phase.reuse, Phase.generate))
settings.register_profile("shrink", settings.get_profile("splaywork"), phases=tuple(Phase))
settings.load_profile("splaywork")


def pytest_collection_finish(session):
    """Note which notebooks nbval runs, for the test that none was left out."""
    session.config.notebooks_collected = {str(item.path) for item in session.items if item.path.suffix == ".ipynb"}
