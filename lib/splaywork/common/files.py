"""Files written whole or not at all."""

import os
import uuid
from pathlib import Path


def write_whole(path, content):
    """Write bytes to `path` all at once: whoever opens it sees the old file or the whole new one, never a part.

    OSError as from any writing; the old file is then untouched and nothing is left beside it.
    """
    path = Path(path)
    part = path.with_name(f".{path.name}.{uuid.uuid4().hex}.part")
    try:
        with part.open("xb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        os.replace(part, path)
    finally:
        part.unlink(missing_ok=True)
