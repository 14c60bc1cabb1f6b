"""One spelling, and no trade word that notebook 00 doesn't explain."""

import ast
import re

import nbformat
import pytest
from places import NOTEBOOKS, ROOT, notebook_paths

# American spellings of words that a text on woodwork may need; British twins are colour, mitre, centre …
AMERICAN = re.compile(r"""\b(?:
    color(?:s|ed|ing|ful|less)? | center(?:s|ed|ing|line|lines)? | miter(?:s|ed|ing)?
  | gray(?:s|ed|ish|scale)? | favor(?:s|ed|ite|able)? | behaviors? | neighbor(?:s|ing)? | labor(?:s|ed)?
  | (?:milli|centi|kilo)meters? | vises? | fibers? | (?:bevel|level|label|model|travel|chisel|channel|cancel)(?:ed|ing)
  | plow(?:s|ed|ing)? | mold(?:s|ed|ing|ings)?
  | analyz\w+ | aluminum | skillful | catalog(?:s|ed)? | defense | gage(?:s|d)? | draft(?:ed|ing) | sizable | judgment
)\b""", re.IGNORECASE | re.VERBOSE)

# Words of the trade, by what finds them. A notebook that uses one relies on the row of notebook 00 that explains it.
TRADE = {word: re.compile(rf"\b(?:{pattern})\b", re.IGNORECASE) for word, pattern in {
    "lean": "leans?", "plan angle": "plan angles?", "outer face": "outer faces?", "inner face": "inner faces?",
    "end": "ends?", "arris": "arris(?:es)?", "corner line": "corner lines?", "end line": "end lines?",
    "level line": "level lines?", "baseline": "baselines?", "rim": "rims?", "rim bevel": "rim bevels?",
    "dihedral": "dihedrals?", "end bevel": "end bevels?", "flush end": "flush ends?", "square end": "square ends?",
    "tail": "tails?", "pin": "pins?", "cheek": "cheeks?", "bevel setting": "bevel settings?", "offset": "offsets?",
    "run": "runs?", "rise": "rises?", "slant width": "slant widths?", "start width": "start widths?",
    "slants too much": r"slants? (?:[\d.]+° )?too much",
    "slants too little": r"slants? (?:[\d.]+° )?too little", "to strike": "strikes?|struck", "to scribe": "scribed?",
    "stock": "stock", "bevel gauge": "bevel gauges?", "bevel": "bevels?", "marking gauge": "marking gauges?",
    "gauge": "gauges?", "try square": "try squares?", "the shortcut": "shortcuts?", "shortcut line": "shortcut lines?",
    "projection": "projections?", "wedge": "wedges?", "trial corner": "trial corners?", "plumb": "plumb",
    "tail slope": "tail slopes?", "saw line": "saw lines?", "level-entry joint": "level-entry",
    "to rip": "rip(?:ped|ping)?", "kerf": "kerfs?", "waste": "waste",
    "offcut": "offcuts?", "mitre": "mitre[sd]?", "to wind": "winds?|winding",
    "winding sticks": "winding sticks?", "prop": "props?", "cradle": "cradles?", "holdfast": "holdfasts?",
    "to pare": "pares?|pared|paring", "dry fit": "dry fits?", "butted corner": "butted corners?",
    "in plan": "in plan", "to hatch": "hatch(?:ed)?", "caul": "cauls?", "shoulder": "shoulders?",
    "crosscut": "crosscuts?", "feeler": "feelers?",
    "half pin": "half[- ]pins?", "socket": "sockets?", "chamfer": "chamfers?"}.items()}

SOURCES = sorted((ROOT / "lib" / "splaywork").rglob("*.py"))


def words_of(path):
    """All that a notebook says: its prose, and what its cells print."""
    cells = nbformat.read(path, as_version=4).cells
    printed = [part.get("text") or part.get("data", {}).get("text/plain", "")
               for cell in cells if cell.cell_type == "code" for part in cell.outputs]
    return "\n".join([cell.source for cell in cells if cell.cell_type == "markdown"] + printed)


def explained():
    """The words in bold in the table of notebook 00, in lower case."""
    table = re.findall(r"^\| (?:\*\*|\*).*$", words_of(NOTEBOOKS / "00_start_here.ipynb"), re.MULTILINE)
    named = [name for row in table for name in re.findall(r"\*{1,2}([^*|]+)\*{1,2}", row)]
    return {word.strip().lower() for name in named for word in name.split(",")}


def test_the_list_finds_what_it_is_for():
    assert len(AMERICAN.findall("The colored center of a mitered, beveled gray vise in millimeters")) == 7
    assert not AMERICAN.search("The coloured centre of a mitred, bevelled grey vice in millimetres; a model")


@pytest.mark.parametrize("path", [*notebook_paths(), ROOT / "README.md", ROOT / "DEVELOPERS.md"],
                         ids=lambda path: path.stem)
def test_prose_is_spelt_the_british_way(path):
    text = words_of(path) if path.suffix == ".ipynb" else path.read_text(encoding="utf-8")
    assert [found.group() for found in AMERICAN.finditer(text)] == []


@pytest.mark.parametrize("path", SOURCES, ids=lambda path: path.stem)
def test_docstrings_and_sentences_are_spelt_the_british_way(path):
    """Docstrings, and every text with a space and a full stop in it: what people may read. APIs keep their own names."""
    texts = [node.value for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
             if isinstance(node, ast.Constant) and isinstance(node.value, str)
             and " " in node.value and "." in node.value and "{" not in node.value]
    assert [found.group() for text in texts for found in AMERICAN.finditer(text)] == []


@pytest.mark.parametrize("path", [path for path in notebook_paths() if not path.stem.startswith("00")],
                         ids=lambda path: path.stem)
def test_trade_words_are_explained_in_00(path):
    text = words_of(path)
    assert [word for word, pattern in TRADE.items() if pattern.search(text) and word not in explained()] == []


def test_every_word_of_the_trade_is_looked_for():
    """A row added to the table is added to the list here, so that the two stay one."""
    plain = {word.removeprefix("the ") for word in TRADE} | set(TRADE)
    assert {word for word in explained() if word not in plain and word not in {"longer at one", "other", "one"}} == set()


@pytest.mark.parametrize("path", [path for path in notebook_paths() if path.parent == NOTEBOOKS and
                                  not path.stem.startswith("00")], ids=lambda path: path.stem)
def test_every_lesson_links_back_to_its_neighbours_or_to_00(path):
    text = words_of(path)
    assert re.search(r"\]\(\d\d_\w+\.ipynb(?:#[^)]*)?\)", text)
