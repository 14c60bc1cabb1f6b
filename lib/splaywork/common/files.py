"""Files: names that every file system takes, what stands in a file, and writing whole or not at all."""

import json
import os
import re
import time
import unicodedata
import uuid
from datetime import datetime
from hashlib import sha256
from pathlib import Path

from .kinds import FilePath

LONGEST = 60, 120  # characters and UTF-8 bytes of a name that are kept, so that endings fit into a file system's 255
STALE = 3600  # seconds after which the .part of a save that was killed is litter
LARGEST = 1_000_000  # bytes of a file that are looked into to say what it holds

_FORBIDDEN = re.compile(r'[<>:"/\\|?*]')
_RESERVED = re.compile(r"(con|prn|aux|nul|conin\$|conout\$|(com|lpt)[0-9¹²³])(\..*)?", re.IGNORECASE)
_PART = re.compile(r"\..+\.[0-9a-f]{32}\.part")


def file_stem(name: str, nameless: str = "corner") -> str:
    """A name as a file may bear it everywhere, without its ending: letters of every script stay as they were typed.

    What a file system forbids, and every space, becomes a hyphen. A long name is cut, with a tail that tells it from other
    names that begin alike; `nameless` stands for a name of which nothing is left, and before a name that Windows reserves.
    """
    name = unicodedata.normalize("NFC", str(name))
    shown = "".join("-" if unicodedata.category(letter)[0] in "CZ" else letter for letter in name)
    stem = _tidy(re.sub("-+", "-", _FORBIDDEN.sub("-", shown)))
    if len(stem) > LONGEST[0] or len(stem.encode()) > LONGEST[1]:
        tail = sha256(name.encode("utf-8", "replace")).hexdigest()[:6]
        kept = stem[:LONGEST[0] - 7].encode()[:LONGEST[1] - 7].decode(errors="ignore")
        stem = f"{_tidy(kept)}-{tail}"
    return f"{nameless}-{stem}" if _RESERVED.fullmatch(stem) else stem or nameless


def _tidy(stem):
    return stem.strip("-. ")


def without_ending(name: str, ending: str) -> str:
    """A file's name without an ending such as ".json", however that is spelled: "x.JSON" is x."""
    return name[:-len(ending)] if name.lower().endswith(ending) else name


def read_file(path: FilePath, most: int) -> bytes:
    """The first `most` bytes of a file. ValueError for what is no file, such as a folder or a pipe; OSError as usual."""
    path = Path(path)
    if path.exists() and not path.is_file():
        raise ValueError(f"{path.name!r} is no file that can be read: choose another.")
    with path.open("rb") as file:
        return file.read(most)


def digest(path: FilePath) -> bytes | None:
    """What tells a file's content from any other; None where there is no file."""
    try:
        return sha256(Path(path).read_bytes()).digest() if Path(path).is_file() else None
    except OSError:
        return b""  # there, and it can't be read: like no other


def what_stands(path: FilePath) -> str:
    """What a file holds and when it was written, in words: "a plan named “Lockers”, written on 3 May 2026 at 14:05"."""
    path = Path(path)
    kinds = {".pdf": "sheets (PDF)", ".svg": "a sheet (SVG)", ".stl": "a solid (STL)", ".csv": "a table (CSV)"}
    kind = _json_kind(path) if path.suffix.lower() == ".json" else kinds.get(path.suffix.lower(), "a file of another kind")
    when = datetime.fromtimestamp(path.stat().st_mtime)
    return f"{kind}, written on {when.day} {when:%B %Y} at {when:%H:%M}"


def _json_kind(path):
    try:
        content = json.loads(read_file(path, LARGEST).decode("utf-8-sig"))
    except (ValueError, OSError, RecursionError):
        content = None
    if isinstance(content, dict) and isinstance(content.get("items"), list) and isinstance(content.get("name"), str):
        return f"a plan named “{content['name'][:60]}”"
    return "no plan that can be read here"


def write_whole(path: FilePath, content: bytes) -> None:
    """Write bytes to `path` all at once: whoever opens it sees the old file or the whole new one, never a part.

    What killed saves left in the folder more than an hour ago is cleared away. OSError as from any writing; the old file
    is then untouched and nothing is left beside it.
    """
    path = Path(path)
    _clear(path.parent)
    part = path.with_name(f".{path.name}.{uuid.uuid4().hex}.part")
    try:
        with part.open("xb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        os.replace(part, path)
    finally:
        part.unlink(missing_ok=True)


def _clear(folder):
    """Remove the parts of saves that were killed; another process may be writing the younger ones."""
    try:
        for part in folder.glob(".*.part"):
            if _PART.fullmatch(part.name) and time.time() - part.lstat().st_mtime > STALE:
                part.unlink(missing_ok=True)
    except OSError:
        pass  # litter stays; the save itself says what is wrong with the disk
