"""What a page says of a joint: its settings and slopes as small tables, and sentences with its numbers."""

import numpy as np

from ..common import checks
from ..common.boards import BOARDS
from ..common.printing import degrees, length, offset, one_in
from ..common.text import Table, Words
from ..common.tolerances import SAME_SETTING
from ..corner.words import series
from .bench_steps import OTHER_HAND, handed_steps, saw_turns, tail_marks, tail_roots, unmirrored
from .joint import Joint
from .settings_words import setting_uses
from .tails import SLOPES
from .words import lettered_settings, proud


def lettered_table(joint: Joint, unit: str = "mm") -> Table:
    """The bevel settings of a joint by letter, from the squarest on, as a `Table` for a page.

    >>> import splaywork as sw
    >>> sw.lettered_table(sw.Joint(sw.Corner(16, 11), 120, 18)).rows[0]
    ('A', '10.6°', '79.4°', '18.7 mm in 100 mm', "the tail board's end line and baselines (bottom edge)")
    """
    checks.instance("joint", joint, Joint, "Joint(Corner(16, 11), height=120, tail_thickness=12)")
    rows = []
    for letter, setting in lettered_settings(joint).items():
        small = setting.from_square <= 45
        slope = offset(setting.from_square, unit) if small else f"{one_in(setting.from_edge)} from the stock"
        rows.append((letter, degrees(setting.from_square), degrees(setting.from_edge), slope,
                     "; ".join(setting_uses(setting))))
    return Table(("bevel", "from square", "from the stock", "offset", "strikes (the stock lies on)"), rows)


def slopes_table() -> Table:
    """The published tail slopes, each with whether it has a source, as a `Table` for a page.

    >>> import splaywork as sw
    >>> sw.slopes_table().head
    ('slope', 'angle', 'recommended for')
    """
    return Table(("slope", "angle", "recommended for"),
                 [(f"1 in {slope.n:g}", degrees(slope.degrees),
                   f"{slope.use} ({'see Sources' if slope.status == 'seen' else slope.source})") for slope in SLOPES])


def carried_square(joint: Joint) -> float:
    """Degrees by which a cheek carried square through the tail board would stand across the level entry."""
    level, up, out = (joint.corner.vector(f"tail_{name}") for name in ("level", "up", "normal"))
    through = np.cross(level + up / joint.tail_slope, out)
    return float(np.degrees(np.arcsin(abs(through @ joint.corner.vector("pin_level")) / np.linalg.norm(through))))


def level_cheeks_words(joint: Joint, unit: str = "mm") -> Words:
    """Sentences: every cheek holds the level entry, and what one carried square through the board would do.

    >>> import splaywork as sw
    >>> print(sw.level_cheeks_words(sw.Joint(sw.Corner(16, 11), 120, 18)).partition('. ')[0])
    Every cheek of this joint is parallel to the level entry, the way in which the pin board slides in
    """
    checks.instance("joint", joint, Joint, "Joint(Corner(16, 11), height=120, tail_thickness=12)")
    square = carried_square(joint)
    off = joint.tail_thickness * np.tan(np.radians(square))
    held = "Every cheek of this joint is parallel to the level entry, the way in which the pin board slides in."
    if square < SAME_SETTING:
        return Words(f"{held} Cheeks carried square through the tail board would do the same, because that board is upright.")
    return Words(f"{held} Carry a cheek square through the tail board instead, and the cheek stands at {degrees(square)} to "
                 f"the pin board's path. In {length(joint.tail_thickness, unit)} of wood the cheek strays {length(off, unit)}, "
                 "and the pin board binds.")


def square_end_words(flush: Joint, square: Joint, unit: str = "mm") -> Words:
    """Sentences: how far the ends of the square-ended joint stand proud, and how many settings each joint's lines need.

    >>> import splaywork as sw
    >>> flush, square = (sw.Joint(sw.Corner(16, 11), 120, 18, tails=3, end=end) for end in ("flush", "square"))
    >>> print(sw.square_end_words(flush, square).partition(". ")[0])
    Each square end stands 0.9 mm proud at its outer arris
    """
    checks.instance("flush joint", flush, Joint, "Joint(Corner(16, 11), height=120, tail_thickness=12)")
    checks.instance("square joint", square, Joint, "Joint(Corner(16, 11), height=120, tail_thickness=12)")
    stands = []
    for board in BOARDS:
        out, face = proud(square, board)
        stands.append(f"square end stands {length(out, unit)} proud at its {face} arris." if out else "square end is flush.")
    told = [f"Each {stands[0]}"] if stands[0] == stands[1] else [
        f"The {board} board's {words}" for board, words in zip(BOARDS, stands, strict=True)]
    counts = [len(joint.bevel_settings) for joint in (flush, square)]
    told.append(f"The joint needs {counts[0]} bevel settings with flush ends, and {counts[1]} with square ends.")
    return Words(" ".join(told))


def mirrored_corner_words(joint: Joint) -> Words:
    """Sentences: how the mirror image of a joint's corner is cut with the same steps, what changes hands, and what stays.

    >>> import splaywork as sw
    >>> print(sw.mirrored_corner_words(sw.Joint(sw.Corner(30, 30), 100, 18)).partition(": ")[0])
    Cut the mirrored corner with the same steps, but swap left and right in steps 2, 6, 9 and 10
    """
    checks.instance("joint", joint, Joint, "Joint(Corner(16, 11), height=120, tail_thickness=12)")
    steps = series(map(str, handed_steps(joint)))
    hands = {board: saw_turns(joint, board) for board in BOARDS}
    ends = "the tail board's end at your {}, the pin board's at your {}".format(
        *(OTHER_HAND[hands[board][0]] for board in BOARDS))
    told = [f"Cut the mirrored corner with the same steps, but swap left and right in steps {steps}: seen from outside, the "
            "tail board stands on the left.", f"In step 6 hold {ends}."]
    if hands["tail"][1]:
        turns = (OTHER_HAND[hands[board][1]] for board in BOARDS)
        told.append("There turn the saw's tip the other way too: to the {} for the tail board, to the {} for the pin "
                    "board.".format(*turns))
    told.append(f"But {unmirrored(joint)}. Outer and inner stay too, and so do top and bottom, higher and lower.")
    return Words(" ".join(told))


def marked_width_words(joint: Joint, seen: float, unit: str = "mm") -> Words:
    """A sentence: how wide a tail is marked so that it looks `seen` mm wide from straight in front.

    >>> import splaywork as sw
    >>> print(sw.marked_width_words(sw.Joint(sw.Corner(16, 11), 120, 18), seen=30).partition('. ')[0])
    Mark each tail 31.2 mm wide up the face.
    """
    checks.instance("joint", joint, Joint, "Joint(Corner(16, 11), height=120, tail_thickness=12)")
    return Words(f"Mark each tail {length(joint.corner.looks_as(seen), unit)} wide up the face.")


def tail_marks_table(joint: Joint, unit: str = "mm") -> Table:
    """Where each tail is marked on the tail board's outer face, up from its bottom edge, as a `Table` for a page.

    >>> import splaywork as sw
    >>> print(sw.tail_marks_table(sw.Joint(sw.Corner(30, 30), 100, 18, tails=1)))
    up from the bottom edge  on the end line  on the baseline
    tail 1, lower side       9.0 mm           12.2 mm
    tail 1, upper side       106.5 mm         102.7 mm
    """
    checks.instance("joint", joint, Joint, "Joint(Corner(16, 11), height=120, tail_thickness=12)")
    names = [f"tail {tail}, {side} side" for tail in range(1, len(joint.marks) + 1) for side in ("lower", "upper")]
    roots = [length(root, unit) for root in tail_roots(joint)]
    return Table(("up from the bottom edge", "on the end line", "on the baseline"),
                 list(zip(names, tail_marks(joint, unit), roots, strict=True)))
