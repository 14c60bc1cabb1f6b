"""What to cite: the collection as it is, and every source of the check values."""

import re
from pathlib import Path

import pytest
import splaywork as sw
from splaywork.common.citation import SOURCES, UNKNOWN

CFF = Path(sw.__file__).parents[1] / "CITATION.cff"


def test_the_citation_file_says_what_cite_says():
    said = dict(re.findall(r'^(?:  - )?([\w-]+): "?([^"\n]*)"?$', CFF.read_text(), re.MULTILINE))
    own = sw.cite(sources=False)
    assert said["version"] == sw.__version__ and f"{{{sw.__version__}}}" in own
    assert said["license"] == "BSD-3-Clause"
    for field in ("title", "name"):
        assert f"{{{said[field]}}}" in own
    assert said["date-released"].startswith(re.search(r"year *= {(\d+)}", own)[1])


def test_every_source_has_an_entry_whose_braces_close():
    text = sw.cite()
    entries = text.strip().split("\n\n")
    assert [re.match(r"@(\w+){(\w+),", entry).groups() for entry in entries] == [
        ("misc", "splaywork"), *[("misc", source.key) for source in SOURCES]]
    assert all(entry.count("{") == entry.count("}") and entry.endswith("\n}") for entry in entries)
    assert len({source.key for source in SOURCES}) == len(SOURCES)
    assert not re.search(r"(?<!\\)&", text)  # which LaTeX takes for a column


def test_what_is_not_known_says_so():
    for source in SOURCES:
        assert all(source) and UNKNOWN in sw.cite()


def test_the_table_says_plainly_whose_numbers_come_from_memory():
    table = sw.sources_table()
    from_memory = {row[1] for row in table.rows if "from memory" in row[-1]}
    assert len(table.rows) == len(SOURCES) and len(from_memory) == 2
    assert all(any(source.title in title for title in from_memory) == ("memory" in source.seen) for source in SOURCES)
    assert not any(UNKNOWN in cell for row in table.rows for cell in row)
    assert sum(row[2] != "–" for row in table.rows) >= 14  # who published it, or when


def test_every_source_of_the_check_values_is_cited():
    values = (Path(__file__).parents[1] / "test_check_values.py").read_text()
    named = re.findall(r"^[A-Z_]+ = \"(.*)\"$", values, re.MULTILINE)
    titles = " ".join(f"{source.author} {source.title} {source.edition}" for source in SOURCES).replace("\\&", "&").lower()
    assert len(named) >= 9
    for name in named:
        words = [word for word in re.findall(r"[A-Za-z0-9']{4,}", name.split(",")[1] if name[1] == "." else name.split(",")[0])]
        assert name == "no source" or any(word.lower() in titles for word in words), name


def test_only_true_or_false():
    with pytest.raises(ValueError, match="must be True or False, not 'all'"):
        sw.cite("all")
