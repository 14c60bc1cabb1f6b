"""Panels that write files, when they can't."""


def assert_nothing_written(writer, words, folder):
    """The line of a `Writer` says why, in one sentence that begins with these words, and no PDF lies in the folder."""
    assert writer.progress.value.startswith(words) and writer.progress.value.endswith(".")
    assert not list(folder.rglob("*.pdf"))
