"""The two boards of a corner, by name."""

BOARDS = ("tail", "pin")


def other(board):
    """The other board of the corner."""
    return "pin" if board == "tail" else "tail"
