"""The notebooks as files: what ran is what lies in the folder, in the shape that the collection keeps to."""

import os
from base64 import b64decode
from io import BytesIO
from statistics import median
from urllib.parse import unquote

import nbformat
import pytest
from PIL import Image
from places import NOTEBOOKS, notebook_paths

SECTIONS = ("will be able to", "**Time:**", "## Predict", "## In numbers", "## On the bench", "**Before you cut.**",
            "<details><summary>Answers", "takes for granted")
LESSONS = [path for path in notebook_paths() if path.parent == NOTEBOOKS and not path.name.startswith("00")]


def read(path):
    return nbformat.read(path, as_version=4)


def test_every_notebook_in_the_folder_runs_under_nbval(request):
    if not request.config.notebooks_collected and "CI" not in os.environ:
        pytest.skip("no notebook was asked for: this was part of the tests only")
    assert request.config.notebooks_collected == {str(path) for path in notebook_paths()}


@pytest.mark.parametrize("path", notebook_paths(), ids=lambda path: path.stem)
class TestNotebook:
    def test_was_run_without_errors_and_keeps_no_widgets(self, path):
        notebook = read(path)
        code = [cell for cell in notebook.cells if cell.cell_type == "code"]
        assert [cell.execution_count for cell in code] == list(range(1, len(code) + 1))
        assert not [output for cell in code for output in cell.outputs if output.output_type == "error"]
        assert not [key for cell in code for output in cell.outputs for key in output.get("data", {}) if "widget" in key]
        assert notebook.metadata.kernelspec.name == "python3" and "widgets" not in notebook.metadata

    def test_cells_are_short(self, path):
        lines = [len([line for line in cell.source.splitlines() if line.strip()])
                 for cell in read(path).cells if cell.cell_type == "code"]
        assert median(lines) <= 4 and max(lines) <= 15

    def test_what_is_printed_fits_the_page(self, path):
        # a window of 1280 pixels breaks longer lines in the middle of a word
        printed = [output.get("text", "") or output.get("data", {}).get("text/plain", "")
                   for cell in read(path).cells if cell.cell_type == "code" for output in cell.outputs
                   if not {"image/png", "text/latex", "text/markdown"} & set(output.get("data", {}))]
        assert max((len(line) for text in printed for line in text.splitlines()), default=0) <= 100

    def test_links_between_notebooks_resolve(self, path):
        text = "\n".join(cell.source for cell in read(path).cells if cell.cell_type == "markdown")
        for target in [part.split(")")[0] for part in text.split("](")[1:]]:
            name, _, heading = target.partition("#")
            assert (path.parent / name).is_file(), f"{path.name} links to {name}, which is not there"
            headings = [line.lstrip("# ").replace(" ", "-") for cell in read(path.parent / name).cells
                        for line in cell.source.splitlines() if line.startswith("#")]
            assert not heading or unquote(heading) in headings, f"{path.name} links to #{heading}, which is not there"


@pytest.mark.parametrize("path", LESSONS, ids=lambda path: path.stem)
def test_has_the_anatomy_of_a_lesson(path):
    text = "\n".join(cell.source for cell in read(path).cells)
    assert [section for section in SECTIONS if section not in text] == []


def test_pictures_that_move_stay_small():
    """At most 40 frames and 400 kB each, and 3 MB for all notebooks together; there are some."""
    sizes = {}
    for path in notebook_paths():
        for cell in read(path).cells:
            for output in cell.get("outputs", []):
                stored = output.get("data", {}).get("image/png")
                if stored:
                    content = b64decode(stored)
                    with Image.open(BytesIO(content)) as picture:
                        if (frames := getattr(picture, "n_frames", 1)) > 1:
                            assert frames <= 40 and len(content) <= 400_000, (path.name, frames, len(content))
                            sizes[path.name, len(sizes)] = len(content)
    assert len(sizes) >= 3
    assert sum(sizes.values()) <= 3_000_000
