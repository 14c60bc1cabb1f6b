"""Each notebook as a plain web page, as the command in README makes it: no kernel, no warnings, no dead widgets.

nbconvert's template "classic" hands on the words of a picture as its alternative text; "lab" leaves them out. Scripts
that the pages have no use for are not asked for; formulas need MathJax, which nbconvert gets from the web, and without
it a formula shows as its LaTeX.
"""

import logging
import re
from html.parser import HTMLParser

import nbformat
import pytest
from nbconvert import HTMLExporter
from places import NOTEBOOKS, notebook_paths

OPTIONS = {"template_name": "classic", "embed_images": True,
           "require_js_url": "", "jquery_url": "", "mermaid_js_url": ""}
PLACEHOLDER = re.compile(r"Run this cell, and (?!its panel)[^.]*? appears? here\.")  # not the style sheet's own sentence


class Page(HTMLParser):
    """What of a page matters here: pictures, what it loads, its text."""

    def __init__(self, text):
        super().__init__()
        self.pictures, self.loads, self.ids, self.types = [], [], set(), []
        self.feed(text)

    def handle_starttag(self, tag, attributes):
        given = dict(attributes)
        self.ids.add(given.get("id"))
        self.types.append(given.get("type"))
        if tag == "img":
            self.pictures.append(given)
        if tag in ("script", "img", "link", "iframe") and (where := given.get("src") or given.get("href")):
            self.loads.append(where)


@pytest.fixture(scope="module", params=notebook_paths(), ids=lambda path: path.stem)
def converted(request):
    """(notebook, its page's text, what the converter complained of)."""
    complaints = []
    log = logging.getLogger(f"convert {request.param.stem}")
    log.setLevel(logging.WARNING)
    log.addHandler(handler := logging.Handler())
    handler.emit = lambda record: complaints.append(record.getMessage())
    text, _ = HTMLExporter(log=log, **OPTIONS).from_filename(str(request.param))
    return nbformat.read(request.param, as_version=4), text, complaints


def outputs(notebook):
    return [output for cell in notebook.cells if cell.cell_type == "code" for output in cell.outputs]


def test_the_converter_has_nothing_to_complain_of(converted):
    assert converted[2] == []


def test_every_still_picture_has_its_words(converted):
    notebook, text, _ = converted
    stills = [output for output in outputs(notebook) if "image/png" in output.get("data", {})]
    pictures = Page(text).pictures
    assert len(pictures) == len(stills)
    for picture, still in zip(pictures, stills, strict=True):
        assert picture["alt"] == still.metadata["image/png"]["alt"] == still.data["text/plain"]
        assert picture["src"].startswith("data:image/png")


@pytest.mark.parametrize("path", sorted(NOTEBOOKS.glob("[0-9]*.ipynb")), ids=lambda path: path.stem)
def test_a_lesson_has_a_still_picture(path):
    assert [output for output in outputs(nbformat.read(path, as_version=4)) if "image/png" in output.get("data", {})]


def test_no_dead_widget_is_left(converted):
    notebook, text, _ = converted
    assert not [kind for kind in Page(text).types if kind and "widget" in kind]
    said = [str(output.get("data", {}).get("text/plain")) for output in outputs(notebook)]
    panels = [words for words in said if PLACEHOLDER.search(words)]
    assert len(PLACEHOLDER.findall(text)) == len(panels)
    assert not re.search(r"(?:Panel|VBox|HBox|Output|FloatSlider)\(", text)


def test_nothing_is_loaded_but_what_formulas_need(converted):
    loads = Page(converted[1]).loads
    assert [where for where in loads if not where.startswith("data:") and "mathjax" not in where] == []
