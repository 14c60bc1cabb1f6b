"""The two boards of a corner, by name."""

from . import checks

BOARDS = ("tail", "pin")


def known(board: str) -> str:
    """The board's name, "tail" or "pin"; ValueError for anything else."""
    return checks.choice("board", board, BOARDS)


def other(board: str) -> str:
    """The other board of the corner."""
    return "pin" if board == "tail" else "tail"
