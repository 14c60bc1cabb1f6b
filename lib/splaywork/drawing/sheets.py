"""Boards drawn as sheets, their outer faces alone: which lies before which, and which side of each is seen."""

from dataclasses import dataclass, replace

import numpy as np

from .palette import INK, PIN, PIN_INNER, TAIL, TAIL_INNER

SIDES = {"tail": (TAIL, TAIL_INNER), "pin": (PIN, PIN_INNER)}  # outer, inner
EDGE = 1.2  # points of line width round a board
_THIN = 1e-7  # mm: what lies closer to a plane lies in it


@dataclass(frozen=True)
class Sheet:
    """A flat convex piece of a board: points (n, 3), anticlockwise as seen from outside the box.

    inked: (n,) points of line width for the edge from each point to the next; 0 where it is not drawn, as at a cut.
    normal: unit vector out of the outer side.
    """

    board: str
    points: np.ndarray
    inked: np.ndarray
    normal: np.ndarray

    @classmethod
    def of(cls, board, outline, inked=(EDGE, EDGE, EDGE, EDGE)):
        """A whole four-cornered sheet."""
        outline = np.asarray(outline, dtype=float)
        normal = np.cross(outline[2] - outline[0], outline[3] - outline[1])
        return cls(board, outline, np.array(inked, dtype=float), normal / np.linalg.norm(normal))


def back_to_front(sheets, view):
    """The sheets in the order to paint them; those that pass through another's plane come in two pieces."""
    if len(sheets) < 2:
        return list(sheets)
    first, *rest = sheets
    normal = first.normal if first.normal @ view.towards_viewer > 0 else -first.normal
    behind, before = [], []
    for sheet in rest:
        heights = (sheet.points - first.points[0]) @ normal
        if heights.max() <= _THIN:
            behind.append(sheet)
        elif heights.min() >= -_THIN:
            before.append(sheet)
        else:
            behind.append(_part(sheet, -heights))
            before.append(_part(sheet, heights))
    return [*back_to_front(behind, view), first, *back_to_front(before, view)]


def _part(sheet, heights):
    """The part of the sheet where heights, one for each point, are not negative; the cut is not inked."""
    points, inked = [], []
    for index, height in enumerate(heights):
        after = (index + 1) % len(heights)
        crosses = (height >= 0) != (heights[after] >= 0)
        if height >= 0:
            points.append(sheet.points[index])
            inked.append(sheet.inked[index])
        if crosses:
            share = height / (height - heights[after])
            points.append(sheet.points[index] + share * (sheet.points[after] - sheet.points[index]))
            inked.append(sheet.inked[index] if height < 0 else 0)  # leaving, the next edge is the cut
    return replace(sheet, points=np.array(points), inked=np.array(inked))


class Sheets:
    """The artist for sheets: one collection of fills, each followed by its own ink, so that nearer fills cover it."""

    def __init__(self, canvas):
        self.artist = canvas.polygons(joinstyle="round")

    def update(self, sheets, view, place):
        """Draw the sheets in the order given; `place` maps points (..., 3) in mm to pixels."""
        outlines, fills, inks, widths = [], [], [], []
        for sheet in sheets:
            flat = place(sheet.points)
            colour = SIDES[sheet.board][0 if sheet.normal @ view.towards_viewer > 0 else 1]
            drawn = np.flatnonzero(sheet.inked)
            outlines += [flat, *(flat[[index, (index + 1) % len(flat)]] for index in drawn)]
            fills += [colour] + ["none"] * len(drawn)
            inks += [colour] + [INK] * len(drawn)
            widths += [EDGE, *sheet.inked[drawn]]  # a fill's own edge closes the seam between two pieces
        self.artist.set_verts(outlines)
        self.artist.set_facecolor(fills)
        self.artist.set_edgecolor(inks)
        self.artist.set_linewidth(widths)
