"""What keeps a class's machines safe: no text is ever run, files stay where they were sent, and tokens stay on."""

import ast
import os
import re
import subprocess
from pathlib import Path

import nbformat
import pytest
from places import ROOT, notebook_paths
from splaywork.common.files import LONGEST, file_stem

RUN_TEXT = {"eval", "exec", "compile", "__import__", "sympify", "parse_expr", "S", "system", "popen", "Popen", "loads",
            "load", "run", "check_output"}
SAFE = {"json.loads", "re.compile"}  # JSON (RFC 8259) holds data, never code
# Tests may run the project's own notebooks and processes; nothing that a user typed reaches them.
SHIPPED = sorted((ROOT / "lib").rglob("*.py"))
WRITTEN = [*SHIPPED, *sorted((ROOT / "tests").rglob("*.py")), *sorted((ROOT / ".ci").glob("*")), ROOT / "README.md",
           ROOT / "DEVELOPERS.md"]
OPENED_UP = [r"token\s*=\s*['\"]{2}", r"IdentityProvider\.token\s*=\s*['\"]?\s*$", r"--no-token",
             r"password\s*=\s*['\"]{2}", r"disable_check_xsrf", r"allow_origin\s*=", r"0\.0\.0\.0", r"ip\s*=\s*['\"]?\*"]


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.relative_to(ROOT / "lib").as_posix())
def test_no_text_is_run(path):
    tree = ast.parse(path.read_text(encoding="utf-8"))
    called = {ast.unparse(node.func) for node in ast.walk(tree) if isinstance(node, ast.Call)}
    assert not {name for name in called - SAFE if name.split(".")[-1] in RUN_TEXT}
    imported = {alias.name for node in ast.walk(tree) if isinstance(node, (ast.Import, ast.ImportFrom))
                for alias in node.names} | {node.module for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
    assert not imported & {"pickle", "shelve", "marshal", "subprocess", "socket", "ctypes", "urllib.request", "requests"}


@pytest.mark.parametrize("path", notebook_paths(), ids=lambda path: path.name)
def test_notebooks_call_nothing_of_the_kind(path):
    for cell in nbformat.read(path, as_version=4).cells:
        if cell.cell_type == "code":
            called = {ast.unparse(node.func) for node in ast.walk(ast.parse(cell.source)) if isinstance(node, ast.Call)}
            assert not {name for name in called if name.split(".")[-1] in RUN_TEXT - {"load", "S"}}
            assert not re.search(r"^\s*[!%]", cell.source, re.MULTILINE)  # shell and magic


@pytest.mark.parametrize("path", WRITTEN, ids=lambda path: path.relative_to(ROOT).as_posix())
def test_the_server_keeps_its_token(path):
    if path == Path(__file__):
        return
    text = path.read_text(encoding="utf-8")
    assert not [pattern for pattern in OPENED_UP if re.search(pattern, text, re.MULTILINE)]


@pytest.mark.parametrize("name", ["../../etc/passwd", "..", ".", "/", "C:\\boot.ini", "a\0b", "CON", "nul", "-rf",
                                  "~root", "x" * 5000, "\u202efdp.exe", "galley\nlocker", "", "  ", "😀", "$(id)",
                                  "`id`", "a;b", "…"])
def test_file_names_are_cleaned(name, tmp_path):
    stem = file_stem(name)
    assert stem and not set('<>:"/\\|?*') & set(stem) and stem.isprintable() and len(stem) <= LONGEST[0]
    assert stem[0] not in "-. " and stem.lower() not in ("con", "nul")
    path = tmp_path / f"{stem}-cards.pdf"
    path.touch()
    assert path.resolve().parent == tmp_path.resolve()


@pytest.mark.skipif(not os.environ.get("CI"), reason="a look at every installed package takes a while: set CI to do it")
def test_what_is_installed_fits_together():
    """pip's own check: no known conflict between the installed packages. (Advisories: see DEVELOPERS.md.)"""
    import sys

    found = subprocess.run([sys.executable, "-m", "pip", "check"], capture_output=True, text=True)
    assert found.returncode == 0, found.stdout
