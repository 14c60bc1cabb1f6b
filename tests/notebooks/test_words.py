"""One name for each thing, and sentences of a length that can be said aloud: in notebooks, README, sentences and errors."""

import ast
import re
from statistics import median

import nbformat
import pytest
from places import ROOT, notebook_paths

# What was said before, and what is said now (the rows of DEVELOPERS.md, *Words*). A word that has an innocent sense of its own
# is sought only in the phrases that lack it.
OUT = {name: re.compile(pattern, re.IGNORECASE) for name, pattern in {
    "baseline": r"\bgauge lines?\b|\bto gauge\b|\bgauged\b",
    "bevel": r"\bsliding bevels?\b|\bgauge settings?\b",
    "the shortcut": r"\bbench (?:rule|custom)s?\b|\bstruck lines?\b|\bone-gauge lines?\b",
    "slight, moderate, strong": r"\bmild(?:er|ly)?\b|\bsteep(?:er|est|ly)?\b|\bshallow(?:er|est)?\b",
    "intended": r"\bleans? asked\b|\basked leans?\b|\bas asked\b|\bthan asked\b|\bthe one asked\b",
    "trial corner": r"\btest (?:corner|piece)s?\b|\btrial pieces?\b",
    "opening": r"\bthe hole\b|\bhole a drawer\b",
    "lens": r"\bmagnifying glass\b",
    "Pull apart": r"\bdrawn apart\b",
    "Undo": r"\bbring back\b",
    "order of sawing": r"\bsaw order\b",
    "front, back, left, right": r"\bhand: (?:left|right)\b|\b(?:left|right)-handed\b|\bhinder\b",
    "slant width": r"\bwidth up the face\b",
    "equal, mirror images": r"\balike\b",
    "the person who": r"\bwhoever\b|\bnobody sees\b",
    "because": r", for (?:it|he|she|they|nobody|there|both|each|this|that)\b(?! (?:board|corner|end|face|one|side)s?[,.])",
}.items()}

SOURCES = sorted((ROOT / "lib" / "splaywork").rglob("*.py"))


def prose_of(path):
    """All that a notebook says: its prose, and the text that its cells print."""
    cells = nbformat.read(path, as_version=4).cells
    printed = []
    for cell in cells:
        for part in cell.get("outputs", []):
            data = part.get("data", {})
            printed.append(part.get("text") or data.get("text/markdown") or data.get("text/plain", ""))
    return "\n\n".join([cell.source for cell in cells if cell.cell_type == "markdown"] + printed)


def sentences_of(text):
    """The sentences of Markdown prose, without code, tables, formulas, headings and addresses."""
    text = re.sub(r"```.*?```|<[^>]+>|\$\$.*?\$\$|\$[^$]+\$|`[^`]+`", " x ", text, flags=re.DOTALL)
    text = re.sub(r"\]\([^)]*\)", "]", text)
    paragraphs = re.split(r"\n\s*\n|\n(?=\s*(?:[*\-+]|\d+\.)\s)", text)
    for paragraph in paragraphs:
        lines = [line for line in paragraph.splitlines() if not line.lstrip().startswith(("|", "#"))]
        plain = re.sub(r"^\s*(?:[*\-+]|\d+\.)\s+", "", " ".join(lines))
        for sentence in re.split(r"(?<=[.!?:;])[\"”*)\]]*\s+", plain):
            words = re.findall(r"[A-Za-zÀ-ÿ'’\-]+|\d+(?:[.,′°/]\d+)*", sentence)
            if len(words) > 2:
                yield " ".join(words)


def texts_of(path):
    """What a source file says to people: its string literals that read as phrases, without its docstrings."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    docstrings = {node.body[0].value for node in ast.walk(tree)
                  if isinstance(node, (ast.Module, ast.ClassDef, ast.FunctionDef)) and node.body
                  and isinstance(node.body[0], ast.Expr) and isinstance(node.body[0].value, ast.Constant)}
    return [node.value for node in ast.walk(tree) if isinstance(node, ast.Constant) and isinstance(node.value, str)
            and " " in node.value.strip() and node not in docstrings]


def found_in(text):
    return [f"{found.group()!r}: say {name}" for name, pattern in OUT.items() for found in pattern.finditer(text)]


def test_the_list_finds_what_it_is_for():
    said = "It gapes, for it is steeper than asked at the gauge line of a test corner."
    assert [line.split(": say ")[1] for line in found_in(said)] == [
        "baseline", "slight, moderate, strong", "intended", "trial corner", "because"]
    assert not found_in("Strike the baseline with the marking gauge. One setting for each corner is enough for both boards.")


def test_sentences_are_found():
    text = "# Head\n\nSet **lean** to 30. The line moves.\n\n| a | b |\n\n1. Saw it off.\n2. Plane it flush."
    assert list(sentences_of(text)) == ["Set lean to 30", "The line moves", "Saw it off", "Plane it flush"]


@pytest.mark.parametrize("path", [*notebook_paths(), ROOT / "README.md"], ids=lambda path: path.stem)
def test_notebooks_use_one_name_for_each_thing(path):
    text = prose_of(path) if path.suffix == ".ipynb" else path.read_text(encoding="utf-8")
    assert found_in(text) == []


@pytest.mark.parametrize("path", SOURCES, ids=lambda path: ".".join(path.relative_to(ROOT / "lib").with_suffix("").parts))
def test_sentences_labels_and_errors_use_one_name_for_each_thing(path):
    assert [line for text in texts_of(path) for line in found_in(text)] == []


@pytest.mark.parametrize("path", [*notebook_paths(), ROOT / "README.md"], ids=lambda path: path.stem)
def test_sentences_can_be_said_aloud(path):
    text = prose_of(path) if path.suffix == ".ipynb" else path.read_text(encoding="utf-8")
    sentences = list(sentences_of(text))
    assert len(sentences) > 20
    assert [sentence for sentence in sentences if len(sentence.split()) > 30] == []
    assert median(len(sentence.split()) for sentence in sentences) <= 15
