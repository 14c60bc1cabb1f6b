"""Notebooks as plain web pages, on a narrow window, a phone and A4 paper: words stay whole, and pictures are there."""

import re

import pdfplumber
import pytest
from conftest import PATHS
from nbconvert import HTMLExporter
from places import NOTEBOOKS
from splaywork.teaching.scripts import script, scripts

OPTIONS = {"template_name": "classic", "embed_images": True, "require_js_url": "", "jquery_url": "", "mermaid_js_url": ""}
SHEETS = {"800": (800, "screen"), "390": (390, "screen"), "A4": (718, "print")}  # CSS pixels; A4 with margins
# Words of printed lines that are broken although a line could hold them, how many words there are, how wide each picture is,
# where each table ends.
WORDS = r"""() => {
    const broken = [];
    let count = 0;
    for (const block of document.querySelectorAll(".output_area pre")) {
        const walker = document.createTreeWalker(block, NodeFilter.SHOW_TEXT);
        while (walker.nextNode()) for (const word of walker.currentNode.data.matchAll(/[^\s]+/g)) {
            const range = document.createRange();
            range.setStart(walker.currentNode, word.index);
            range.setEnd(walker.currentNode, word.index + word[0].length);
            const parts = [...range.getClientRects()].filter(part => part.width);
            const wide = parts.reduce((sum, part) => sum + part.width, 0);
            count += 1;
            const lines = new Set(parts.map(part => Math.round(part.top))).size;
            if (lines > 1 && wide < block.clientWidth - 20) broken.push(word[0]);
        }
    }
    return [broken, count, Array.from(document.images, image => image.getBoundingClientRect().width),
            Array.from(document.querySelectorAll("table"), table => table.getBoundingClientRect().right)]; }"""


@pytest.mark.parametrize("path", [path for path in PATHS if "07" in path or "10" in path or "guide" in path])
def test_words_stay_whole_and_pictures_fit(browser, path, tmp_path):
    (tmp_path / "page.html").write_text(HTMLExporter(**OPTIONS).from_filename(str(NOTEBOOKS / path))[0], encoding="utf-8")
    page = browser.new_page()
    page.route("http**", lambda route: route.abort())  # formulas show as LaTeX: see README
    page.goto((tmp_path / "page.html").as_uri())
    try:
        for width, media in SHEETS.values():
            page.set_viewport_size({"width": width, "height": 900})
            page.emulate_media(media=media)
            broken, count, pictures, tables = page.evaluate(WORDS)
            assert broken == [] and count > 10
            assert all(50 < picture <= width for picture in pictures)
            assert all(edge <= width for edge in tables)
    finally:
        page.close()


def test_a_printed_guide_leaves_no_heading_alone_and_goes_on_with_a_table_at_once(browser, tmp_path):
    """By the style that its panel brings along: below each lesson's title its props and the first of its rows follow."""
    guide = NOTEBOOKS / "instructor" / "guide.ipynb"
    (tmp_path / "guide.html").write_text(HTMLExporter(**OPTIONS).from_filename(str(guide))[0], encoding="utf-8")
    page = browser.new_page()
    page.route("http**", lambda route: route.abort())
    page.goto((tmp_path / "guide.html").as_uri())
    page.evaluate("() => document.querySelectorAll('details').forEach(each => { each.open = true; })")
    page.pdf(path=tmp_path / "guide.pdf", format="A4")
    page.close()
    titles = {f"{notebook} {script(notebook).title}" for notebook in scripts()}
    with pdfplumber.open(tmp_path / "guide.pdf") as file:
        for sheet in file.pages:
            words = sheet.extract_words(extra_attrs=["size"])
            lowest = max(word["bottom"] for word in words)
            for title in [title for title in titles if title in sheet.extract_text()]:
                for found in sheet.search(rf"(?m)^{re.escape(title)}"):
                    if found["chars"][0]["size"] > 13 * 0.75:  # the title itself, no link to it
                        titles.discard(title)
                        assert lowest - found["bottom"] > 110, title  # points: some eight lines
    assert titles == set()
