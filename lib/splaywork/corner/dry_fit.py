"""What a dry fit shows, what it means and what to do: one list in one order, for notebook, sheet and wall chart.

The order is that of looking. The corner stands against its wedges: first its edges, each board's own before what both
do together, because a board that doesn't fit its own lean can't be pressed flat; then its ends, then the corner line. Then
the wedges are taken away, and the corner is pushed closed: last its plan angle, and the leans.
"""

import re
from collections.abc import Sequence
from typing import NamedTuple

from ..common import checks
from ..common.text import Table
from ..common.tolerances import SAME_SETTING

AGAIN = "Take two new boards, and begin again at step 1."


class Sign(NamedTuple):
    """One thing to see. means: its cause; do: the cure before tails are cut; cut: the cure afterwards, "" where it is the same.

    wedges: whether the corner stands against its wedges. tailed: whether only a corner with tails shows it.
    """

    seen: str
    means: str
    do: str
    cut: str = ""
    wedges: bool = True
    tailed: bool = False


EDGE = Sign("The corner rocks. Taken apart, a board between its wedges shows light under one arris",
            "That edge isn't ripped to its lean.",
            "Measure the light first. Plane the arris that touches, until the light is gone. The board then stands lower by "
            "that height: plane as much off the other board's bottom edge, or cut a new board.",
            "Measure the light in sheets of paper. Plane the arris that touches until the light is gone. That board is now "
            "lower: plane the light's height off the other board's whole bottom edge.")
SLID = Sign("The corner rocks. Taken apart, neither board shows light. Joined again, press each board flat in turn: "
            "while one lies flat, light shows evenly under the other", "The board above the light sits too high.",
            "Slide that board down.",
            "Plane the light's height off the flat board's bottom edge, the same all over: the high board comes down.")
GROWS = Sign("The same, but while the pin board lies flat, the light grows towards the tail board's far end",
             "When you scribed, the two bottom edges weren't in one plane.", "In a trial corner leave that light.", tailed=True)
TIPPED = Sign("Joined, and only joined, the pin board shows light under its inner arris",
              "The cause is the same.", "Leave that light, too.", tailed=True)
TIGHT = Sign("The pin board won't go in", "The board tips, or a pin is too wide.",
             "Push level. Pare the pin where rubbing has made the pin shine, never the tail.", tailed=True)
LOOSE = Sign("Light shows beside a pin", "The pin was sawn over its line.",
             "Leave such light in a trial corner; in a box glue in a slip of the same wood.",
             tailed=True)
ENDS = Sign("Tails or pins stand proud, or stay short", "A baseline lies too far in, or not far enough.",
            "Plane off what stands proud; leave what stays short.", tailed=True)
END = Sign("An end gapes inside or outside, the same at top and bottom", "That end isn't at its end bevel.",
           "Plane the arris that touches, until the end closes. Clamp a scrap behind the far arris, so that it doesn't break.",
           "The sawn ends touch nothing then. Test the shoulders with the bevel of step 6, and pare the arris that touches: "
           "the one away from the gap.")
LINE = Sign("An end gapes at the top or at the bottom only", "That board's end line is wrong.",
            "Read both lines, because the other may be wrong too. Strike the true line far enough in that "
            "wood is left all along it, and plane down to it.", AGAIN)
PLAN = Sign("The corner closes, but isn't square, seen from above",
            "The ends aren't at their end bevel, and the corner was pulled closed.",
            "Plane the ends to their end bevel.", "Test each shoulder, and pare as for a gap inside or outside.", wedges=False)
LEANS = Sign("The corner closes, but a board isn't at its lean",
             "The end lines were struck for wrong leans, or with the shortcut.",
             "Read both lines, strike them again, and plane down to them.", AGAIN, wedges=False)
SIGNS = EDGE, SLID, GROWS, TIPPED, TIGHT, LOOSE, ENDS, END, LINE, PLAN, LEANS


def with_tails(sign: Sign) -> str:
    """What a sign means, and the cure once tails are cut."""
    return f"{sign.means} {sign.cut or sign.do}"


def end_signs(bevel: float | None = None, fits: str = "the bevel fits") -> tuple[Sign, Sign]:
    """`END` told apart, for a gap inside and for one outside; bevel: the corner's end bevel, degrees, or None for any corner.

    fits: what tests a shoulder, in words. Butted, a sawn end touches; once tails are cut, the shoulders do. A board with a
    positive end bevel is longer on its inner face: turned too far, the saw leaves wood there.
    """
    far, little = (f"The shoulder that gapes {cut} out of square:" for cut in ("is cut too far", "isn't cut far enough"))
    outside = inside = "The shoulder that gapes isn't at the end bevel:"
    if known := bevel is not None and abs(bevel) >= SAME_SETTING:
        outside, inside = (far, little) if bevel > 0 else (little, far)
    past, again = ", past the baseline if need be" * known, " Next time make the checks of steps 6 and 9." * known
    cut = f"Pare the shoulder there{past}, until {fits}.{again}"
    return (END._replace(seen="A shoulder gapes inside, the same at top and bottom",
                         means=f"{inside} it touches near its own board's outer face.", cut=cut),
            END._replace(seen="A shoulder gapes outside, the same at top and bottom",
                         means=f"{outside} it touches near its own board's inner face.",
                         cut="Find and pare that shoulder as for a gap inside."))


def line_signs(slants: Sequence[float]) -> tuple[Sign, Sign]:
    """`LINE` told apart, for a gap at the top and for one at the bottom; slants: the corner's end lines, degrees from square.

    A board that is longer at the top has wood to lose at the bottom: where its line slants too little, the top gapes.
    """
    top, bottom = max(slants) >= SAME_SETTING, min(slants) <= -SAME_SETTING

    def told(little, much):
        if top and bottom:
            return f"That board's end line slants too {little}; if the board is longer at the bottom, too {much}."
        wrong = f"slants too {much if bottom else little}" if top or bottom else "isn't square"
        return f"That board's end line {wrong}."

    return (LINE._replace(seen="A shoulder gapes at the top only", means=told("little", "much")),
            LINE._replace(seen="A shoulder gapes at the bottom only", means=told("much", "little")))


def _in_05(words):
    """Words for a page without the eleven steps: which notebook a step stands in."""
    return re.sub(r"step \d+", r"\g<0> of notebook 05", words)


def dry_fit_table(wedges: bool = True) -> Table:
    """What a butted corner shows, what it means and what to do, as a `Table`; wedges: while it stands against them, or after.

    >>> import splaywork as sw
    >>> len(sw.dry_fit_table().rows), len(sw.dry_fit_table(wedges=False).rows)
    (4, 2)
    """
    checks.flag("wedges", wedges)
    return Table(("what you see", "what it means", "what to do", "once tails are cut"),
                 [(sign.seen, sign.means, sign.do, _in_05(sign.cut) or "the same")
                  for sign in SIGNS if sign.wedges == wedges and not sign.tailed])
