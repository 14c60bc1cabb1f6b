"""How much a board or a panel of solid wood moves across its grain when its moisture changes."""

from typing import NamedTuple

from ..common import checks

DRIEST, DAMPEST = 6.0, 14.0  # % moisture content between which the coefficients hold


class Wood(NamedTuple):
    """Change of size for each % of moisture content: radial (quarter-sawn) and tangential (flat-sawn); "seen" or "memory"."""

    radial: float
    tangential: float
    status: str


# USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), table 13-5. Sheet material has no row there.
WOODS = {
    "ash, white": Wood(0.00169, 0.00274, "seen"), "cherry, black": Wood(0.00126, 0.00248, "seen"),
    "maple, sugar": Wood(0.00165, 0.00353, "seen"), "oak, red": Wood(0.00158, 0.00369, "seen"),
    "oak, white": Wood(0.00180, 0.00365, "seen"), "walnut, black": Wood(0.00190, 0.00274, "seen"),
    "redcedar, western": Wood(0.00111, 0.00234, "memory"), "pine, eastern white": Wood(0.00071, 0.00212, "memory"),
}
SAWN = {"quarter": "radial", "flat": "tangential"}


def movement(width: float, wood: str, change: float, sawn: str = "flat") -> float:
    """How much wider a board of solid wood gets, mm; negative where it shrinks.

    width: across the grain, mm. wood: one of `WOODS`. change: of its moisture content in %, positive when it takes up damp, as
    from 8 to 12; the coefficients hold from 6 to 14%. sawn: "flat" or "quarter". ValueError for anything else.

    >>> import splaywork as sw
    >>> round(sw.movement(100, "oak, white", change=4), 1)
    1.5
    """
    width = checks.size("width", width)
    checks.choice("wood", wood, tuple(WOODS))
    checks.choice("way it is sawn", sawn, tuple(SAWN))
    most = DAMPEST - DRIEST
    change = checks.number("change of moisture", change, what=f"a number from −{most:g} to {most:g}",
                           fits=lambda percent: abs(percent) <= most)
    return width * getattr(WOODS[wood], SAWN[sawn]) * change
