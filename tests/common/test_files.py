"""Names of files, what stands in them, and writing whole: nothing is lost, and nothing collides."""

import json
import os
import time
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st
from splaywork.box.box import Box
from splaywork.box.plan import Item, Plan, load_plan, save_plan
from splaywork.common import files
from splaywork.common.files import LONGEST, STALE, file_stem, read_file, what_stands, without_ending, write_whole
from splaywork.teaching.exercises import load_progress

# What Windows, the strictest, forbids in a name (Microsoft, "Naming Files, Paths, and Namespaces"; from memory).
FORBIDDEN = set('<>:"/\\|?*') | {chr(code) for code in range(32)}
RESERVED = ["con", "CON", "nul", "aux", "prn", "com1", "LPT9", "con.txt", "COM²"]


def test_letters_of_every_script_stay_and_names_keep_apart():
    names = ["Кухонный ящик", "Стол", "引き出し", "抽屉", "Schublade für Töpfe", "درج", "ลิ้นชัก", "plan", "Plan 2"]
    stems = [file_stem(name) for name in names]
    assert stems == [unicodedata.normalize("NFC", name).replace(" ", "-") for name in names]
    assert len(set(stems)) == len(names) == 9


def test_both_spellings_of_an_accent_are_one_name():
    assert file_stem("Töpfe") == file_stem("To\u0308pfe") == "Töpfe"


@pytest.mark.parametrize("begins", ["galley locker drawer, the one under the cooker, ", "引き出し" * 15, "x" * 500])
def test_long_names_that_begin_alike_keep_apart(begins):
    one, two = (file_stem(f"{begins * 3}{side}") for side in ("port", "starboard"))
    assert one != two and one[:20] == two[:20] == file_stem(begins)[:20]
    assert max(len(one), len(two)) <= LONGEST[0] and max(len(one.encode()), len(two.encode())) <= LONGEST[1]
    assert one == file_stem(f"{begins * 3}port")


@pytest.mark.parametrize("name", RESERVED)
def test_names_that_windows_reserves_are_avoided(name):
    assert file_stem(name, "plan") == f"plan-{name}"


@given(st.text())
def test_a_name_is_one_that_every_file_system_takes(name):
    stem = file_stem(name)
    assert stem and len(stem) <= LONGEST[0] and len(stem.encode()) <= LONGEST[1]
    assert not FORBIDDEN & set(stem) and stem[0] not in ".- " and stem[-1] not in ".- "
    assert not any(unicodedata.category(letter)[0] in "CZ" for letter in stem)
    assert stem == unicodedata.normalize("NFC", stem)


def test_an_ending_is_one_ending_however_it_is_spelled():
    assert [without_ending(name, ".json") for name in ("x.JSON", "x.json", "x.Json", "x", "x.json.json")] == [
        "x", "x", "x", "x", "x.json"]


def test_what_stands_is_said_with_its_kind_its_plan_and_when(tmp_path):
    plan = Plan("My own kitchen box", (Item("box", Box(300, 200, 100)),))
    save_plan(tmp_path / "a.json", plan)
    os.utime(tmp_path / "a.json", (moment := time.mktime((2026, 5, 3, 14, 5, 0, 0, 0, -1)), moment))
    assert what_stands(tmp_path / "a.json") == "a plan named “My own kitchen box”, written on 3 May 2026 at 14:05"
    for name, content, kind in (("b.json", b"[]", "no plan that"), ("c.json", b"{", "no plan that"), ("d.pdf", b"", "sheets"),
                                ("e.stl", b"", "a solid"), ("f.csv", b"", "a table"), ("g", b"", "a file of another kind")):
        (tmp_path / name).write_bytes(content)
        assert what_stands(tmp_path / name).startswith(kind)


def test_litter_of_killed_saves_goes_with_the_next_save_and_nothing_else_does(tmp_path):
    old = time.time() - STALE - 60
    litter, young, other = (tmp_path / f".plan.json.{'0' * 32}.part", tmp_path / f".plan.json.{'1' * 32}.part",
                            tmp_path / ".mine.part")
    for path in (litter, young, other):
        path.write_text("half")
    for path in (litter, other):
        os.utime(path, (old, old))
    write_whole(tmp_path / "x.csv", b"whole")
    assert {path.name for path in tmp_path.iterdir()} == {young.name, other.name, "x.csv"}


def test_litter_that_cannot_be_removed_stops_no_save(tmp_path, monkeypatch):
    monkeypatch.setattr(files, "_PART", None)  # an OSError is all that may be passed over
    (tmp_path / f".a.{'0' * 32}.part").write_text("half")
    with pytest.raises(AttributeError):
        write_whole(tmp_path / "x", b"whole")
    monkeypatch.undo()
    monkeypatch.setattr(files.Path, "glob", lambda *_: (_ for _ in ()).throw(OSError(13, "denied")))
    write_whole(tmp_path / "x", b"whole")
    assert (tmp_path / "x").read_bytes() == b"whole"


@pytest.mark.parametrize("read", [load_plan, load_progress, lambda path: read_file(path, 10)])
def test_a_named_pipe_and_a_folder_are_refused_and_not_waited_for(tmp_path, read):
    os.mkfifo(tmp_path / "pipe.json")
    (tmp_path / "folder.json").mkdir()
    for name in ("pipe.json", "folder.json"):
        with pytest.raises(ValueError, match="is no file that can be read: choose another"):
            read(tmp_path / name)


def test_a_byte_order_mark_is_read_over(tmp_path):
    plan = Plan("Lockers", (Item("box", Box(300, 200, 100)),))
    save_plan(tmp_path / "a.json", plan)
    (tmp_path / "a.json").write_bytes(b"\xef\xbb\xbf" + (tmp_path / "a.json").read_bytes())
    assert load_plan(tmp_path / "a.json") == plan
    assert "“Lockers”" in what_stands(tmp_path / "a.json")
    (tmp_path / "b.json").write_text("\ufeff" + json.dumps({"version": 1, "exercises": {"04-2": {"tries": 3, "right": 1}}}))
    assert load_progress(tmp_path / "b.json").tries == {"04-2": 3}
