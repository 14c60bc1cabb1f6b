"""The class corner's file: kept and read back, whole or not at all, and every stranger's file refused in one sentence."""

import json
import os

import pytest
from hypothesis import given
from hypothesis import strategies as st
from places import ROOT
from splaywork.common import class_corner as module
from splaywork.common.class_corner import (
    FILE,
    ClassCorner,
    beside_the_notebooks,
    class_corner,
    leaving_it_out,
    load_class_corner,
    save_class_corner,
)

GOOD = {"kind": "class corner", "version": 1, "name": "tray", "tail_lean": 22, "pin_lean": 14, "height": 90, "thickness": 18}
LEAN = st.floats(-45, 45)
WHILE_COLLECTED = os.environ.get(module.ELSEWHERE)  # as it is for a kernel that is started for a notebook


@given(tail=LEAN, pin=LEAN, height=st.floats(40, 300), thickness=st.floats(6, 40), name=st.text("aé漢 °", max_size=60))
def test_what_is_kept_is_read_back(tmp_path_factory, tail, pin, height, thickness, name):
    path, corner = tmp_path_factory.mktemp("kept") / FILE, ClassCorner(tail, pin, height, thickness, name)
    save_class_corner(path, corner)
    assert load_class_corner(path) == corner
    assert [each.name for each in path.parent.iterdir()] == [FILE]


def test_it_is_found_beside_the_notebook_and_beside_the_guide(tmp_path, monkeypatch):
    guide = tmp_path / "instructor"
    guide.mkdir()
    monkeypatch.chdir(tmp_path)
    assert class_corner() is None
    save_class_corner(beside_the_notebooks(), ClassCorner(22, 14))
    assert class_corner() == ClassCorner(22, 14)
    with leaving_it_out():
        assert class_corner() is None
    monkeypatch.chdir(guide)
    assert class_corner() == ClassCorner(22, 14) and beside_the_notebooks() == tmp_path / FILE


def test_the_environment_names_another_file_or_none(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    save_class_corner(FILE, ClassCorner(22, 14))
    save_class_corner(tmp_path / "for-all.json", ClassCorner(30, 20))
    for says, found in ((str(tmp_path / "for-all.json"), ClassCorner(30, 20)), (str(tmp_path / "none.json"), None), ("", None)):
        monkeypatch.setenv(module.ELSEWHERE, says)
        assert class_corner() == found
    assert beside_the_notebooks() == tmp_path / FILE


def test_kernels_that_run_notebooks_leave_it_out():
    assert WHILE_COLLECTED == "" and module.ELSEWHERE not in os.environ
    assert f'os.environ["{module.ELSEWHERE}"] = ""' in (ROOT / "tests" / "refresh_notebooks.py").read_text(encoding="utf-8")


def changed(**to):
    return json.dumps(GOOD | to).encode()


WRONG = {
    "empty": b"", "cut short": changed()[:-9], "no object": b"[1, 2]", "not UTF-8": b"\xff\xfe{", "deep": b"[" * 100_000,
    "huge": b" " * 5000 + changed(), "huge number": changed(height=10**400), "another kind": changed(kind="a plan"),
    "another version": changed(version=2), "no version": json.dumps({"kind": "class corner"}).encode(),
    "more": changed(more=1), "text": changed(tail_lean="22"), "true": changed(pin_lean=True),
    "nan": changed(height=float("nan")),
    "leans too far": changed(tail_lean=46), "low": changed(height=1), "thick": changed(thickness=99),
    "name of two lines": changed(name="a\nb"), "long name": changed(name="x" * 61), "no name": changed(name=None)}


@pytest.mark.parametrize("content", WRONG.values(), ids=WRONG)
def test_a_file_that_is_no_class_corner_is_refused_and_left_alone(tmp_path, monkeypatch, content):
    monkeypatch.chdir(tmp_path)
    path = tmp_path / FILE
    path.write_bytes(content)
    with pytest.raises(ValueError, match=rf"{FILE}.*\.$") as refused:
        class_corner()
    assert "\n" not in str(refused.value) and path.read_bytes() == content


def test_a_folder_in_its_place_is_refused(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / FILE).mkdir()
    with pytest.raises(ValueError, match=r"\.$"):
        class_corner()


def test_a_disk_that_refuses_leaves_the_old_file(tmp_path, monkeypatch):
    path = tmp_path / FILE
    save_class_corner(path, ClassCorner(22, 14))

    def full(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(module, "write_whole", full)
    with pytest.raises(OSError, match="space"):
        save_class_corner(path, ClassCorner(1, 2))
    assert load_class_corner(path) == ClassCorner(22, 14)
