"""A whole box said in words: how it stands, which boards match, and all that its picked corner needs."""

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from ..common.boards import BOARDS
from ..common.printing import degrees, length, lengths
from ..common.tolerances import SAME_SETTING
from ..corner.words import capital, corner_settings, series
from ..joint.settings_words import bevel_words
from .box import END_CORNERS, NAMES
from .cut_list import cut_list

if TYPE_CHECKING:
    from .box import Box


def _each(box, say):
    """What is said of each board, those of which the same is said together: "the front and back lean out 6.0°"."""
    same = {}
    for name in NAMES:
        same.setdefault(say(name), []).append(name)
    said = [f"{'all four boards' if len(names) == 4 else f'the {series(names)}'} {verb if len(names) == 1 else verbs} {rest}"
            for (verb, verbs, rest), names in same.items()]
    return f"{capital(series(said))}."


def size_words(box: "Box", unit: str = "mm") -> str:
    """Sentences: the outside sizes of a `Box` at the bottom and at the top, its height and its thickness; "mm" or "in"."""
    low, high = (lengths([box.outer_length(name, height) for name in ("front", "right")], unit)
                 for height in (0, box.height))
    sizes = f"{low} at the bottom and at the top" if low == high else f"{low} at the bottom and {high} at the top"
    thick = _each(box, lambda name: ("is", "are", f"{length(box.thickness_of(name), unit)} thick"))
    return f"Outside, width × depth, the box is {sizes}. The box is {length(box.height, unit)} high. {thick}"


def _stands(lean):
    """(verb for one board, verb for several, the rest): "leans out 6.0°", "stands upright"."""
    if abs(lean) < SAME_SETTING:
        return "stands", "stand", "upright"
    return "leans", "lean", f"{'out' if lean > 0 else 'in'} {degrees(abs(lean))}"


def stand_words(box: "Box") -> str:
    """One sentence: how the four boards lean, those that lean the same way together."""
    return _each(box, lambda name: _stands(box.lean(name)))


def match_words(box: "Box") -> str:
    """One sentence: which boards of a `Box` are equal, which are mirror images of one another, and which match none."""
    said, alone = [], []
    for group in cut_list(box).groups:
        if group.mirrored:
            said.append(f"the {series(group.equal)} and the {series(group.mirrored)} are mirror images")
        elif len(group.equal) > 1:
            said.append(f"the {series(group.equal)} are equal")
        else:
            alone += group.equal
    if not said:
        return "No two boards match."
    if alone:
        said.append(f"the {series(alone)} {'matches' if len(alone) == 1 else 'match'} no other board")
    return f"{capital('; '.join(said))}."


def corner_words(box: "Box", picked: str) -> str:
    """Sentences: whose tails and pins meet at a corner, at which end of each board, and how ends and rims are cut."""
    at = box.corners[picked]
    tail, pin = (f"the {name} board's {'left' if END_CORNERS[name][0] == picked else 'right'} end"
                 for name in (at.tail, at.pin))
    return (f"At the {picked} corner the tails are on {tail} and the pins on {pin}, seen from outside. Ends are sawn "
            f"{at.joint.end}. Rims are {at.joint.rims}.")


def _settings(box, joint, unit):
    """The settings that this corner has a use for, a line each."""
    unused = {f"level_on_{'square' if joint.end == 'flush' else 'flush'}_end"}
    unused |= {f"{board}_rim_bevel" for board in BOARDS} if box.rims == "square" else set()
    rows = [("level line, tail end" if setting.kind == "across" else setting.name, setting.words(unit))
            for setting in corner_settings(joint.corner) if setting.key not in unused]
    return "\n".join(f"{name:<24}{words}" for name, words in rows)


class BoxWords(NamedTuple):
    """A box in words. whole: a paragraph on the box; corner: one on its picked corner; settings: that corner's, a line each."""

    whole: str
    corner: str
    settings: str

    def __str__(self) -> str:
        return "\n".join(self)


def box_words(box: "Box", picked: str, unit: str = "mm") -> BoxWords:
    """The box and its picked corner in words, as `BoxWords`.

    picked: "front left", "front right", "back right" or "back left". unit: "mm" or "in". ValueError for another corner.
    """
    if picked not in box.corners:
        raise ValueError(f"A box has the corners {series(list(box.corners))}, and not {picked!r}.")
    joint = box.corners[picked].joint
    whole = f"{size_words(box, unit)} {stand_words(box)} {match_words(box)}"
    return BoxWords(whole, f"{corner_words(box, picked)} {bevel_words(joint, unit)}", _settings(box, joint, unit))


def narrow_words(box: "Box", chisels: tuple, unit: str = "mm") -> tuple:
    """Sentences: where the narrowest of the chisels owned doesn't pass between two tails, or into a tail's socket.

    chisels: widths owned, mm; none owned says nothing.
    """
    if not chisels:
        return ()
    narrowest, said = min(chisels), []
    gaps = [gap for corner in box.corners.values() if (gap := corner.joint.narrowest_gap) is not None]
    outlines = [corner.joint.tail_board.outlines[0, 4:].reshape(-1, 4, 3) for corner in box.corners.values()]  # a tail each
    roots = [float(root) for tails in outlines for root in np.linalg.norm(tails[:, 0] - tails[:, 3], axis=1)]
    for found, what in ((gaps, "gap between two tails"), (roots, "root of a tail")):
        if found and min(found) < narrowest:
            said.append(f"The narrowest {what} is {length(min(found), unit)}, less than your narrowest chisel of "
                        f"{length(narrowest, unit)}.")
    return tuple(said)
