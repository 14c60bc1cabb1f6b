"""A whole box said in words: how it stands, which boards are alike, and all that its picked corner needs."""

from ..common.measure import length
from ..corner.words import capital, lean_words, series, settings_words
from ..joint.settings_words import gauge_words
from .box import END_CORNERS, NAMES
from .cut_list import cut_list


def _each(box, say):
    """ "all four boards are …", or what is said of each board with those that are alike together."""
    alike = {}
    for name in NAMES:
        alike.setdefault(say(name), []).append(name)
    if len(alike) == 1:
        return f"all four boards are {next(iter(alike))}"
    return series([f"{series(names)} {'is' if len(names) == 1 else 'are'} {said}" for said, names in alike.items()])


def size_words(box, unit="mm"):
    """Two sentences: the outside sizes of a `Box` at the bottom and at the top, and its thickness; "mm" or "in"."""
    low, high = (" × ".join(length(box.outer_length(name, height), unit) for name in ("front", "right"))
                 for height in (0, box.height))
    sizes = f"{low} at the bottom and at the top" if low == high else f"{low} at the bottom and {high} at the top"
    thick = _each(box, lambda name: f"{length(box.thickness_of(name), unit)} thick")
    return f"Outside, width × depth, the box is {sizes}; it is {length(box.height, unit)} high. {capital(thick)}."


def stand_words(box):
    """One sentence: how the four boards lean, those that lean alike together."""
    return f"{capital(_each(box, lambda name: lean_words(box.lean(name))))}."


def alike_words(box):
    """One sentence: which boards of a `Box` are equal, which are mirror images of one another, and which stand alone."""
    said, alone = [], []
    for group in cut_list(box).groups:
        if group.mirrored:
            said.append(f"{series(group.equal)} and {series(group.mirrored)} are mirror images")
        elif len(group.equal) > 1:
            said.append(f"{series(group.equal)} are equal")
        else:
            alone += group.equal
    if not said:
        return "No two boards are alike."
    if alone:
        said.append(f"{series(alone)} {'has' if len(alone) == 1 else 'have'} no match")
    return f"{capital('; '.join(said))}."


def corner_words(box, picked):
    """Sentences: whose tails and pins meet at a corner, at which end of each board, and how ends and rims are cut."""
    at = box.corners[picked]
    tail, pin = (f"the {name} board's {'left' if END_CORNERS[name][0] == picked else 'right'} end"
                 for name in (at.tail, at.pin))
    return (f"At the {picked} corner, seen from outside, the tails are on {tail} and the pins on {pin}; ends are sawn "
            f"{at.joint.end}, rims are {at.joint.rims}.")


def _settings(box, joint, unit):
    """The rows of `words.settings_words` that this corner has a use for."""
    unused = [f"level, {'square' if joint.end == 'flush' else 'flush'}"]
    unused += ["rim bevel"] if box.rims == "square" else []
    return "\n".join(row for row in settings_words(joint.corner, unit).splitlines() if not row.startswith(tuple(unused)))


def box_words(box, picked, unit="mm"):
    """The box and its picked corner in words: a paragraph each, then the corner's settings, a line each.

    picked: "front left", "front right", "back right" or "back left". unit: "mm" or "in". ValueError for another corner.
    """
    if picked not in box.corners:
        raise ValueError(f"A box has the corners {series(list(box.corners))}, and not {picked!r}.")
    joint = box.corners[picked].joint
    whole = f"{size_words(box, unit)} {stand_words(box)} {alike_words(box)}"
    return f"{whole}\n{corner_words(box, picked)} {gauge_words(joint, unit)}\n{_settings(box, joint, unit)}"
