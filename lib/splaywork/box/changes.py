"""What a change of plan does to boards that are sawn already: which may stay, which can be recut, which are made again."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from html import escape
from typing import TYPE_CHECKING, Any

import numpy as np

from ..common import checks
from ..common.printing import degrees, length
from ..common.tolerances import SAME_GAP
from ..corner.words import series
from .box import END_CORNERS, NAMES
from .cut_list import cut_list
from .plan import Plan

if TYPE_CHECKING:
    from .box import Box

KEEP, FLUSH, MAKE_AGAIN = "keep", "keep; plane its tails flush", "make again"
ENDS = ("left", "right")
_CELL = "padding: 1px 10px; border-bottom: 1px solid; text-align: left"


@dataclass(frozen=True)
class Changed:
    """What becomes of one board. item: its name. board: "front" and so on.

    verdict: "keep"; "keep; plane its tails flush at the left end", where its neighbour became thinner; "recut at the
    left end" (or the right, or at both ends); or "make again". numbers: what changed, each as (what, before, after) in words.
    already_cut: whether it is marked so.
    """

    item: str
    board: str
    verdict: str
    numbers: tuple
    already_cut: bool = False

    @property
    def words(self) -> str:
        """The row as a sentence."""
        said = f"{self.item}, {self.board} board: {self.verdict}"
        if self.numbers:
            said += f" ({'; '.join(f'{what} {before} → {after}' for what, before, after in self.numbers)})"
        return said + "."


@dataclass(frozen=True, repr=False)
class Changes:
    """All rows of a comparison, and the items that came or went. rows: `Changed`, one for each board of items in both plans."""

    rows: tuple
    added: tuple
    removed: tuple

    def __repr__(self) -> str:
        verdicts = [row.verdict.split(" at ")[0] for row in self.rows]
        return f"Changes({', '.join(f'{verdicts.count(each)} {each}' for each in dict.fromkeys(verdicts))})"

    @property
    def altered(self) -> bool:
        """Whether any board can't stay, or any item came or went."""
        return bool(self.added or self.removed or any(row.verdict != KEEP for row in self.rows))

    @property
    def words(self) -> Any:
        """Sentences: what came, what went, and each board that can't stay as it is."""
        said = [f"{name} is new: make all four boards." for name in self.added]
        said += [f"{name} is no longer in the plan." for name in self.removed]
        said += [row.words for row in self.rows if row.verdict != KEEP]
        if not said:
            return ("Nothing changed: keep all boards.",)
        if any(row.verdict == KEEP for row in self.rows):
            said.append("Keep all other boards.")
        return tuple(said)

    def _repr_html_(self) -> str:
        several = len({row.item for row in self.rows}) > 1
        columns = ("item",) * several + ("board", "what to do", "what changed")
        head = "".join(f'<th scope="col" style="{_CELL}">{word}</th>' for word in columns)
        body = "".join("<tr>" + "".join(f'<td style="{_CELL}">{escape(cell)}</td>' for cell in (
            *(row.item,) * several, row.board + (" (already cut)" if row.already_cut else ""), row.verdict,
            "; ".join(f"{what} {before} → {after}" for what, before, after in row.numbers))) + "</tr>" for row in self.rows)
        notes = "".join(f"<li>{escape(name)} is new.</li>" for name in self.added)
        notes += "".join(f"<li>{escape(name)} is no longer in the plan.</li>" for name in self.removed)
        return (f'<table style="border-collapse: collapse"><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>'
                + (f"<ul>{notes}</ul>" if notes else ""))


def what_changed(before: Plan, after: Plan) -> Changes:
    """The `Changes` from one `Plan` to another, for boards that were made by the first; items are compared by name.

    A board may stay when it is the same solid. Its tails stand proud where its neighbour alone became thinner; with those
    planed flush, the box is shorter by as much, and the new board's pins are scribed from them. It can be recut at an end where
    nothing else changed and the new end, with all of its joint, lies within the wood that the old joint left. ValueError for
    what is no plan.

    >>> import splaywork as sw
    >>> first = sw.Plan("drawers", (sw.Item("deep", sw.Box(400, 300, 100)),))
    >>> then = sw.Plan("drawers", (sw.Item("deep", sw.Box(400, 320, 100)),))
    >>> sw.what_changed(first, then).altered
    True
    """
    for name, plan in (("plan before", before), ("plan after", after)):
        checks.instance(name, plan, Plan, "load_plan('lockers.json')")
    old, new = ({item.name: item for item in plan.items} for plan in (before, after))
    rows = [row for name in old if name in new for row in _item_rows(old[name], new[name], after.unit)]
    return Changes(tuple(rows), tuple(name for name in new if name not in old), tuple(name for name in old if name not in new))


def board_verdict(before: "Box", after: "Box", name: str) -> str:
    """What becomes of one board of a `Box` when it changes into another: a `Changed`'s verdict."""
    old, new = before.boards[name], after.boards[name]
    if old.carries != new.carries or not _near(before.thickness_of(name), after.thickness_of(name)) or not _near(
            before.slant_width(name), after.slant_width(name)) or before.rims != after.rims or not _near(
            before.lean(name), after.lean(name)):
        return MAKE_AGAIN
    kept = [end for end in ENDS if _near_all(_end(old, end), _end(new, end))]
    lengths = [np.subtract(*_feet(board)[::-1])[0] for board in (old, new)]
    if len(kept) == 2 and _near(*lengths):
        return KEEP
    proud = [end for end in ENDS if end not in kept and _only_longer(before, after, name, end)]
    if len(kept) + len(proud) == 2 and _near(*lengths):
        return f"{FLUSH} at {'both ends' if len(proud) == 2 else f'the {proud[0]} end'}"
    for recut in (("left",), ("right",), ENDS):
        staying = [end for end in ENDS if end not in recut]
        if set(staying) <= set(kept) and _fits(old, new, staying[0] if staying else None):
            return f"recut at the {recut[0]} end" if len(recut) == 1 else "recut at both ends"
    return MAKE_AGAIN


def _only_longer(before, after, name, end):
    """Whether the tails at one end of a board are as they were but for their length, which is more than is wanted now."""
    old, new = (box.corners[END_CORNERS[name][ENDS.index(end)]].joint for box in (before, after))
    if before.carries(name) == "pins" or new.pin_thickness >= old.pin_thickness:
        return False
    return replace(old, pin_thickness=new.pin_thickness) == new and _near_all(np.array(old.marks), np.array(new.marks))


def _near(one, other):
    return abs(one - other) < SAME_GAP


def _near_all(one, other):
    return one.shape == other.shape and bool(np.allclose(one, other, rtol=0, atol=SAME_GAP))


def _feet(board):
    """(left, right) feet of the end lines on the outer face, in the board's own axes."""
    return board.in_board(board.end_lines[0, :, 0])


def _end(board, end):
    """All corners of one end of a board, (k, 3), from the bottom of its end line."""
    count = board.tails[ENDS.index(end)]
    points = board.in_board(board.outlines) - _feet(board)[ENDS.index(end)]
    corners = 2 + 4 * count
    chosen = slice(1, 1 + corners) if end == "right" else np.r_[0, np.arange(1 + corners, points.shape[1])]
    return points[:, chosen].reshape(-1, 3)


def _fits(old, new, staying):
    """Whether the new board can be sawn from the old one: its recut ends lie in the wood between the old baselines."""
    shift = np.zeros(3)
    if staying is not None:
        shift = _feet(old)[ENDS.index(staying)] - _feet(new)[ENDS.index(staying)]
    ends = new.in_board(new.blank) + shift  # by face, end and rim
    solid = old.in_board(old.baselines)
    room = {"left": (ends[:, 0, :, 0] - solid[:, 0, :, 0]).min(), "right": (solid[:, 1, :, 0] - ends[:, 1, :, 0]).min()}
    if staying is None:  # it may be shifted along
        return room["left"] + room["right"] >= 0
    return room["right" if staying == "left" else "left"] >= 0


def _item_rows(old, new, unit):
    before, after = ({board.name: board for board in cut_list(item.box).boards} for item in (old, new))
    for name in NAMES:
        verdict = board_verdict(old.box, new.box, name)
        yield Changed(new.name, name, verdict, _numbers(before[name], after[name], unit), name in old.already_cut)


def _numbers(before, after, unit):
    """What differs between two `BoardCut`s, as (what, before, after); two figures that are written alike don't differ."""
    found = []

    def compare(what, get, write):
        pair = [write(get(board)) for board in (before, after)]
        if pair[0] != pair[1]:
            found.append((what, *pair))

    for what, name in (("thickness", "thickness"), ("slant width", "slant_width"), ("outer length, bottom", "outer_bottom"),
                       ("outer length, top", "outer_top")):
        compare(what, lambda board, name=name: getattr(board, name), lambda value: length(value, unit))
    compare("lean", lambda board: board.lean, degrees)
    for number, side in enumerate(ENDS):
        for what, name, write in (("end line", "end_line", degrees), ("end bevel", "end_bevel", degrees), (
                "baseline", "baseline", lambda value: length(value, unit)), ("tails", "tails", str)):
            compare(f"{what} at the {side} end",
                    lambda board, number=number, name=name: getattr(board.ends[number], name), write)
    return tuple(found)


def kept_as_cut(before: "Box", after: "Box", boards: Iterable[str]) -> "Box":
    """A `Box` changed so that boards already cut keep their thickness; ValueError where they can't stay as they are.

    before, after: the `Box` and what it was to become. boards: names of those that are cut.
    """
    own: dict[str, Any] = {f"{name}_thickness": before.thickness_of(name) for name in boards
           if after.thickness_of(name) != before.thickness_of(name)
           and getattr(after, f"{name}_thickness") == getattr(before, f"{name}_thickness")}
    held = replace(after, **own) if own else after
    moved = [name for name in boards if board_verdict(before, held, name) != KEEP]
    if moved:
        old, new = ({board.name: board for board in cut_list(box).boards} for box in (before, held))
        numbers = _numbers(old[moved[0]], new[moved[0]], "mm")
        why = f"{numbers[0][0]} {numbers[0][1]} would become {numbers[0][2]}" if numbers else "its joint would be another"
        raise ValueError(f"The {series(moved)} board{'s are' if len(moved) > 1 else ' is'} cut already and can't stay so: "
                         f"{why}; take the mark off, or change something else.")
    return held
