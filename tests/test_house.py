"""House rules that the package itself must keep: who imports whom, and what never runs on anything people type."""

import ast
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
import splaywork

PACKAGE = Path(splaywork.__file__).parent

# Lowest first. A module imports only from rows below its own; modules of one row know nothing of each other, but the
# parts of a subpackage are one module here. A new module needs a place in this table.
LAYERS = [
    {"derivation", "measure"},
    {"corner", "planes", "words"},
    {"boards"},
    {"one_gauge", "write_up"},
    {"one_gauge_words", "setting_errors"},
    {"measured_back"},
    {"test_piece"},
    {"test_piece_words"},
    {"lines", "solids", "tails"},
    {"joint"},
    {"box_board", "joint_words"},
    {"gauge_words"},
    {"box"},
    {"cut_list", "fittings", "paper_model", "plan_file"},
    {"box_words", "paper_model_words"},
    {"exercises"},
    {"drawing"},
    {"panels"},
]
LEVEL = {module: level for level, modules in enumerate(LAYERS) for module in modules}

# Who alone may load what is heavy or belongs to one job; every other module does without.
ONLY = {"matplotlib": {"drawing"}, "ipywidgets": {"panels"}, "traitlets": {"panels"},
        "IPython": {"drawing", "panels"}}  # a still picture shows itself in Jupyter
NEVER = {"matplotlib.pyplot", "pylab", "pickle", "shelve", "marshal"}
WITHOUT = {"panels": {"sympy"}, "drawing": {"sympy"}}
NEVER_CALLED = {"eval", "exec", "compile", "__import__", "sympify", "parse_expr", "S"}

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


def called_in(path):
    """Names of all that a source file calls, as written: "eval", "sp.tan"."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call):
            yield ast.unparse(node.func)


sources = pytest.mark.parametrize("path", SOURCES, ids=name_of)


def test_the_package_is_there():
    assert {"derivation", "corner", "planes", "boards"} <= {module_of(path) for path in SOURCES}


@sources
def test_every_module_has_its_layer(path):
    module = module_of(path)
    assert module in {"", *LEVEL}, f"give {module} a row in LAYERS"


@sources
def test_imports_run_downward_only(path):
    module = module_of(path)
    level = LEVEL.get(module, len(LAYERS))
    for name in imports_of(path):
        parts = name.split(".")
        if parts[0] == "splaywork" and parts[1:2] != [module]:
            assert LEVEL.get("".join(parts[1:2]), len(LAYERS)) < level, f"{name_of(path)} imports {name}: not below it"


@sources
def test_packages_are_loaded_only_where_they_belong(path):
    module = module_of(path)
    for name in imports_of(path):
        package = name.partition(".")[0]
        assert module in ONLY.get(package, {module}), f"{name_of(path)} imports {name}"
        assert package not in WITHOUT.get(module, set()), f"{name_of(path)} imports {name}"
        assert not any(name == never or name.startswith(never + ".") for never in NEVER), f"{name_of(path)}: {name}"


@sources
def test_nothing_is_run_that_was_text(path):
    called = {name.removeprefix("sp.").removeprefix("sympy.").removeprefix("builtins.") for name in called_in(path)}
    assert not NEVER_CALLED & called


def test_import_loads_neither_figures_nor_widgets():
    show = "import sys, json, splaywork; print(json.dumps(sorted(sys.modules)))"
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join([str(PACKAGE.parent), os.environ.get("PYTHONPATH", "")])}
    run = subprocess.run([sys.executable, "-c", show], capture_output=True, text=True, check=True, env=environment)
    loaded = {name.partition(".")[0] for name in json.loads(run.stdout)}
    assert "sympy" in loaded
    assert not loaded & {"matplotlib", "ipywidgets", "traitlets", "IPython"}
