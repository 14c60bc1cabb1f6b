"""Run every notebook in place, in order, and draw README's picture: `python tests/refresh_notebooks.py [part of name]`.

A widget lives only while its kernel does, so its view is left out of the file and its words are kept; nothing else
that changes from run to run is stored, so an unchanged notebook leaves no diff. A class corner that is kept beside the
notebooks is left out.
"""

import os
import sys
from pathlib import Path

import nbformat
from nbclient import NotebookClient

sys.path.insert(0, str(Path(__file__).parent / "support"))

from places import NOTEBOOKS, ROOT, notebook_paths
from splaywork import Corner
from splaywork.corner.stills import lean_dragged_still

KERNELSPEC = {"display_name": "Python 3 (ipykernel)", "language": "python", "name": "python3"}
WIDGET_VIEW = "application/vnd.jupyter.widget-view+json"


def refresh(path):
    """Run one notebook and write it back; an error in a cell is raised and the file stays as it was."""
    notebook = nbformat.read(path, as_version=4)
    where = {"metadata": {"path": str(path.parent)}}
    NotebookClient(notebook, kernel_name="python3", timeout=300, resources=where, coalesce_streams=True).execute()
    notebook.metadata = {"kernelspec": KERNELSPEC, "language_info": {"name": "python"}}
    for cell in notebook.cells:
        cell.metadata.pop("execution", None)
        for output in cell.get("outputs", []):
            output.get("data", {}).pop(WIDGET_VIEW, None)
    text = nbformat.writes(notebook) + "\n"
    if text != path.read_text():
        path.write_text(text)


if __name__ == "__main__":
    os.environ["SPLAYWORK_CLASS_CORNER"] = ""
    chosen = sys.argv[1] if len(sys.argv) > 1 else ""
    for path in notebook_paths():
        if chosen in path.name:
            print(path.relative_to(NOTEBOOKS), flush=True)
            refresh(path)
    (ROOT / ".pictures" / "corner.png").write_bytes(lean_dragged_still(Corner(tail_lean=30, pin_lean=30)).png)
