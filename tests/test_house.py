"""House rules that the package itself must keep: who imports whom, and what never runs on anything people type."""

import ast
import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
import splaywork

PACKAGE = Path(splaywork.__file__).parent

# The subjects, from the ground up. A package imports only from those before it, and siblings know nothing of each other.
PACKAGES = ["common", "formulas", "drawing", "widgets", "corner", "one_gauge", "trial", "joint", "box", "teaching"]
LEVEL = {package: level for level, package in enumerate(PACKAGES)}
STRANGERS = {frozenset({"trial", "joint"})}
# The front door and the facade of the old names may ask for anything.
DOORS = {"", "panels"}

# Who alone may load what is heavy; every other module does without.
DRAWS = re.compile(r"drawing\.|.*\.(\w*(picture|still|sheet)\w*|templates|cards)$")
HANDLES = re.compile(r"widgets\.|.*\.\w*(panel|_part)$")
ONLY = {"matplotlib": [DRAWS], "ipywidgets": [HANDLES], "traitlets": [HANDLES], "IPython": [DRAWS, HANDLES],
        "sympy": [re.compile(r"formulas\.")]}
NEVER = {"matplotlib.pyplot", "pylab", "pickle", "shelve", "marshal"}

SOURCES = sorted(PACKAGE.rglob("*.py"))


def name_of(path):
    return ".".join(path.relative_to(PACKAGE).with_suffix("").parts)


def module_of(path):
    """The module, or the subpackage, that a source file belongs to; "" for the package's own front door."""
    first = path.relative_to(PACKAGE).with_suffix("").parts[0]
    return "" if first == "__init__" else first


def imports_of(path):
    """Full dotted names of all that a source file imports, wherever it does so."""
    package = ["splaywork", *path.relative_to(PACKAGE).parent.parts]
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            start = package[:len(package) + 1 - node.level] if node.level else []
            origin = ".".join([*start, *([node.module] if node.module else [])])
            yield from (f"{origin}.{alias.name}" for alias in node.names)


sources = pytest.mark.parametrize("path", SOURCES, ids=name_of)


def test_the_packages_are_there():
    assert {module_of(path) for path in SOURCES} == {*PACKAGES, *DOORS}


@sources
def test_a_package_imports_only_from_those_below(path):
    package = module_of(path)
    for name in imports_of(path):
        parts = name.split(".")
        if package in DOORS or parts[0] != "splaywork" or parts[1:2] == [package]:
            continue
        assert LEVEL.get("".join(parts[1:2]), len(LEVEL)) < LEVEL[package], f"{name_of(path)} imports {name}: not below it"
        assert frozenset({package, parts[1]}) not in STRANGERS, f"{name_of(path)} imports {name}"


@sources
def test_what_is_heavy_is_loaded_only_where_it_belongs(path):
    here = name_of(path)
    for name in imports_of(path):
        where = ONLY.get(name.partition(".")[0], [re.compile("")])
        assert any(pattern.match(here) for pattern in where), f"{here} imports {name}"
        assert not any(name == never or name.startswith(never + ".") for never in NEVER), f"{here}: {name}"


def public_functions(node, prefix=""):
    """(name, function) of what a module or a class offers: nothing that begins with an underscore."""
    for inner in ast.iter_child_nodes(node):
        if isinstance(inner, ast.ClassDef | ast.FunctionDef) and not inner.name.startswith("_"):
            if isinstance(inner, ast.ClassDef):
                yield from public_functions(inner, f"{prefix}{inner.name}.")
            else:
                yield f"{prefix}{inner.name}", inner


@sources
def test_public_functions_say_what_goes_in_and_what_comes_out(path):
    for name, function in public_functions(ast.parse(path.read_text(encoding="utf-8"))):
        given = function.args
        named = [*given.posonlyargs, *given.args, *given.kwonlyargs, *filter(None, (given.vararg, given.kwarg))]
        bare = [each.arg for each in named if each.annotation is None and each.arg not in ("self", "cls")]
        assert not bare and function.returns is not None, f"{name_of(path)}.{name}: type hints for {bare or 'what it returns'}"


def test_type_hints_are_handed_on():
    assert (PACKAGE / "py.typed").is_file()
    assert sum(1 for path in SOURCES for _ in public_functions(ast.parse(path.read_text(encoding="utf-8")))) > 800


def test_every_name_at_the_front_door_opens():
    assert len(splaywork.__all__) > 45 and set(splaywork.__all__) == set(dir(splaywork))
    for name in splaywork.__all__:
        assert getattr(splaywork, name) is not None
    with pytest.raises(AttributeError, match="no attribute 'Cornr'"):
        _ = splaywork.Cornr


def test_import_loads_neither_figures_nor_widgets():
    show = "import sys, json, splaywork; print(json.dumps(sorted(sys.modules)))"
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join([str(PACKAGE.parent), os.environ.get("PYTHONPATH", "")])}
    run = subprocess.run([sys.executable, "-c", show], capture_output=True, text=True, check=True, env=environment)
    loaded = {name.partition(".")[0] for name in json.loads(run.stdout)}
    assert "splaywork" in loaded
    assert not loaded & {"sympy", "matplotlib", "ipywidgets", "traitlets", "IPython"}
