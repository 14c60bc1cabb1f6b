"""Boxes and their boards' leans, as tests write them."""


def leaning(front, back, left, right):
    """The four leans of a `Box` or an `Opening` as keywords, degrees."""
    return {"front_lean": front, "back_lean": back, "left_lean": left, "right_lean": right}
