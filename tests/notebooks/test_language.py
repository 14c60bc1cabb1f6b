"""One spelling, no trade word that notebook 00 doesn't explain, and no sentence whose noun stands in the one before."""

import ast
import re
from functools import cache

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

# What stands for a noun that its own sentence hasn't named: "It slants", "That gives", "These show", "If it slips".
# "This corner" and "This is a corner" have their noun. After "this" and "that" what ends in s is a verb, not so a lens.
_VERB = (r"(?!lens\b|series\b|always\b)\w*[^\Wsui]s\b|(?:is|was|can|could|will|would|may|might|must|should|had|did)\b"
         r"|(?:is|does|can|has|was)n't\b|can't\b|won't\b")
_VERBS = r"(?:have|had|do|don't|can|can't|will|must|may|give|show|mean|lie|stand|stay|go)\b"
PRONOUN = re.compile(rf"""^(?:
    (?:It|They|Them)\b
  | (?:This|That)(?: (?=[,.:;!?]|$) | \s(?=(?:{_VERB}))(?!(?:is|was)\s(?:an?|the|our|your|its|one)\b) )
  | (?:These|Those)(?: (?=[,.:;!?]|$) | \s{_VERBS} )
  | [A-Z]\w*,?\s(?:it|they|them)\b
)""", re.VERBOSE)
# A remark of an exercise begins with "That": it points at the answer that was just typed.
POINTS = {"teaching/exercises": re.compile(r"That\b")}

SOURCES = sorted((ROOT / "lib" / "splaywork").rglob("*.py"))


@cache
def cells_of(path):
    """The cells of a notebook."""
    return nbformat.read(path, as_version=4).cells


@cache
def tree_of(path):
    """A source file, parsed."""
    return ast.parse(path.read_text(encoding="utf-8"))


def words_of(path):
    """All that a notebook says: its prose, and what its cells print."""
    cells = cells_of(path)
    printed = [part.get("text") or part.get("data", {}).get("text/plain", "")
               for cell in cells if cell.cell_type == "code" for part in cell.outputs]
    return "\n".join([cell.source for cell in cells if cell.cell_type == "markdown"] + printed)


def told_in(path):
    """All that a notebook tells, its markdown outputs and the words of its pictures among it; of another file, its text."""
    if path.suffix != ".ipynb":
        return path.read_text(encoding="utf-8")
    shown = [part["data"] for cell in cells_of(path) for part in cell.get("outputs", []) if "data" in part]
    return "\n\n".join([words_of(path), *(data["text/markdown"] for data in shown if "text/markdown" in data)])


def strings_of(path):
    """What a source file may say: its strings without docstrings, "x" where a value is put in."""
    tree = tree_of(path)
    passed = {node.body[0].value for node in ast.walk(tree)
              if isinstance(node, (ast.Module, ast.ClassDef, ast.FunctionDef)) and isinstance(node.body[0], ast.Expr)}
    passed |= {part for node in ast.walk(tree) if isinstance(node, ast.JoinedStr) for part in node.values}
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr):
            yield "".join(part.value if isinstance(part, ast.Constant) else "x" for part in node.values)
        elif isinstance(node, ast.Constant) and isinstance(node.value, str) and node not in passed:
            yield node.value


def sentences_of(text):
    """The sentences of Markdown text, each from its first letter to its stop; code, formulas and addresses left out."""
    text = re.sub(r"```.*?```|<[^>]+>|\$\$.*?\$\$|\$[^$]+\$|`[^`]+`", " x ", text, flags=re.DOTALL)
    text = re.sub(r"\]\([^)]*\)|[*_“\"\[\]]", "", text)
    for paragraph in re.split(r"\n\s*\n|\n(?=\s*(?:-|\d+\.)\s)|\n(?= ?[A-Z])|\|", text):
        plain = re.sub(r"^\s*(?:-|\d+\.)?\s+", "", " ".join(paragraph.split()))
        yield from re.split(r"(?<=[.!?])[”)]*\s+", plain.strip())


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
    texts = [node.value for node in ast.walk(tree_of(path))
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


@pytest.mark.parametrize(("said", "found"), [
    ("The line slants. It is too long.", ["It is too long."]),
    ("Mark the pin.\n* That is why it fits.", ["That is why it fits."]),
    ("Tip the board. If it slips, clamp it.", ["If it slips, clamp it."]),
    ("Saw. This gives the end. These show it.", ["This gives the end.", "These show it."]),
    ("This corner is square. This is a back corner. These boards lean. That lens shows a line.", []),
    ("When a board tips, it slips. The line is long: it is 3 mm. Leave this.", [])])
def test_a_sentence_without_its_noun_is_found(said, found):
    assert [sentence for sentence in sentences_of(said) if PRONOUN.match(sentence)] == found


@pytest.mark.parametrize("path", [*notebook_paths(), ROOT / "README.md"], ids=lambda path: path.stem)
def test_no_sentence_of_a_page_begins_with_a_pronoun(path):
    sentences = list(sentences_of(told_in(path)))
    assert len(sentences) > 50
    assert [sentence for sentence in sentences if PRONOUN.match(sentence)] == []


@pytest.mark.parametrize("path", SOURCES, ids=lambda path: ".".join(path.relative_to(ROOT / "lib").with_suffix("").parts))
def test_no_sentence_that_is_made_begins_with_a_pronoun(path):
    allowed = [pattern for place, pattern in POINTS.items() if place in path.as_posix()]
    assert [sentence for text in strings_of(path) for sentence in sentences_of(text)
            if PRONOUN.match(sentence) and not any(pattern.match(sentence) for pattern in allowed)] == []
