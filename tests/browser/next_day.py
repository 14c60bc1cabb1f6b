"""A notebook that was run, saved and closed, opened again the next day without a kernel that knows its panels."""

import json

from lab import until

# [outputs with a picture, the words of the others], of those that are seen; words that
# style sheets add count, too
SHOWN = """() => {
    const outputs = Array.from(document.querySelectorAll('.jp-OutputArea-output')).filter(node => node.getClientRects().length);
    const said = node => (getComputedStyle(node).fontSize === '0px' ? '' : node.textContent)
        + getComputedStyle(node, '::after').content.replace(/^"|"$|^none$/g, '');
    return [outputs.filter(node => node.querySelector('img')).length,
            outputs.filter(node => !node.querySelector('img')).map(said)]; }"""
WRONG = ("Error displaying", "model not found", "Traceback")
WORDS = "appears here"  # where a panel was that has no picture


def panel_cells(path):
    """How many outputs of a saved notebook are panels."""
    cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
    return sum("application/vnd.jupyter.widget-view+json" in output.get("data", ())
               for cell in cells for output in cell.get("outputs", ()))


def is_saved_as_run(path):
    """Whether a notebook's file says that every cell has run; not while it is half written."""
    try:
        cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
    except json.JSONDecodeError:
        return False
    return None not in [cell["execution_count"] for cell in cells if cell["cell_type"] == "code"]


def check(shown, path):
    """Each panel of the saved file at `path` left a picture or a plain sentence; shown: asks the page for SHOWN."""
    panels = panel_cells(path)
    assert panels or path.name.startswith("00")

    def stands():
        pictures, sentences = shown()
        return pictures + sum(WORDS in said for said in sentences) >= panels

    until(stands, f"{panels} pictures or sentences stand where the panels of {path.name} were", 60)
    wrong = [said for said in shown()[1] if any(word in said for word in WRONG)]
    assert not wrong, wrong
    saved = json.loads(path.read_text(encoding="utf-8"))
    assert "widgets" not in saved["metadata"]
    assert not [output for cell in saved["cells"] for output in cell.get("outputs", ())
                if output["output_type"] == "error" or output.get("name") == "stderr"]
