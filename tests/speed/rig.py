"""What the benchmarks take from the tests beside them: the notebooks, and JupyterLab in a browser."""

import os
import sys
from pathlib import Path

os.environ.pop("PYTHONDONTWRITEBYTECODE", None)  # modules are compiled once, as on a learner's machine
sys.path[:0] = [str(Path(__file__).parents[1] / folder) for folder in ("support", "browser")]
from lab import DIALS, Lab, Notebook, chromium, until  # noqa: E402
from places import NOTEBOOKS, notebook_paths  # noqa: E402

__all__ = ["DIALS", "NOTEBOOKS", "Lab", "Notebook", "chromium", "notebook_paths", "until"]
