"""Where things lie in the project."""

from pathlib import Path

ROOT = Path(__file__).parents[2]
NOTEBOOKS = ROOT / "notebooks"


def notebook_paths():
    """Every notebook of the collection, in reading order."""
    return sorted(path for path in NOTEBOOKS.rglob("*.ipynb") if ".ipynb_checkpoints" not in path.parts)
