"""What a panel holds, all the way down."""


def within(widget):
    """A widget and all that it holds."""
    yield widget
    for child in getattr(widget, "children", ()):
        yield from within(child)
