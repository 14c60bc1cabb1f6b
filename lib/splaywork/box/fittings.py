"""What else a box needs: a level bottom panel in its grooves, wedge cauls to glue it up, offcuts for trial corners."""

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from ..common import checks
from ..common.planes import meet_all
from ..common.printing import degrees, fine, length, lengths
from ..common.tolerances import ON_PLANE, SAME_SETTING
from ..corner.stubs import rims
from ..corner.words import series
from ..formulas.forms import compute
from .box import END_CORNERS, NAMES, TAILS_ON, Box, neighbours
from .movement import movement

if TYPE_CHECKING:
    from .opening import OpeningFit

WOOD_BELOW = 6.0  # mm of wood below a groove, up the face; common practice, no source
CLEAR = 1.0  # mm that a proposed groove keeps away from a cheek; our choice
HELD = 0.5  # of the back's thickness: a bottom that moves more comes off its screws; our choice
STEP = 0.5  # mm: a proposed height is a multiple of it
BY_HAND = 0.25  # mm: stops closer than this are one, the furthest; our choice, about what a hand marks to


def _level(thickness, lean):
    """Level distance through a thickness that is square to faces of that lean (degrees), mm."""
    return float(compute("level_thickness", thickness=thickness, lean=lean))


def _up_face(height, lean):
    """Distance up a face of that lean (degrees) for a vertical height, mm."""
    return float(compute("slant_width", height=height, lean=lean))


@dataclass(frozen=True)
class Groove:
    """The level groove in the inner face of one board; lengths in mm.

    up_face: from the inner arris of the bottom rim up the face to the groove's lower wall. width: up the face. depth:
    square to the face. wall_angle: degrees that its walls stand out of square to the inner face, signed as the lean:
    positive where they rise, as seen on the board, on their way into the wood. past_baselines: (left, right), how far
    it runs on past the baselines, level, to take the panel's corners; stopped there it doesn't come out of the ends.
    """

    board: str
    up_face: float
    width: float
    depth: float
    wall_angle: float
    past_baselines: tuple


class GrooveEnd(NamedTuple):
    """What becomes of one end of a groove: of which board, at its "left" or "right" end.

    runs: "stops", short of the end, because it would be seen there; or it may run through: "joint", because at its height the
    board has no wood there, and the neighbour's covers it; "front", because a show front hides where it comes out; "back",
    where the bottom is slid in.
    """

    board: str
    side: str
    runs: str


class CheekMet(NamedTuple):
    """A cheek that the groove for the bottom cuts through: at which corner, of which tail, "lower" or "upper"."""

    corner: str
    tail: int
    side: str


_RUNS = {  # what becomes of a groove's end -> what is said of all such ends
    "stops": "Stop {grooves} {past} past the {baselines} at {place}.",
    "joint": "Run {grooves} through at {place}, because the joint covers {them}.",
    "front": "Run {grooves} through at {place}, because the show front hides {them}.",
    "back": "Run {grooves} out at {place}, where the bottom goes in."}
_OWNERS = {"front": "front's", "right": "right side's", "back": "back's", "left": "left side's"}


def _owners(names):
    """Whose grooves: "front's and back's", "sides'" for both sides, "left side's"."""
    both = {"left", "right"} <= set(names)
    said = [_OWNERS[name] for name in names if not (both and name in ("left", "right"))]
    return series([*said, "sides'"] if both else said)


def _end_name(board, side):
    """What an end is called: a side's by the board that it meets, the front's and the back's as seen from outside."""
    return neighbours(board)[("left", "right").index(side)] if board in ("right", "left") else side


@dataclass(frozen=True)
class BottomPanel:
    """A level bottom panel; lengths in mm, with its play taken off.

    up: of its lower face above the bench. wood_below: up the face, what is wanted at least below a groove; narrow: the boards
    that leave less. met: each `CheekMet` by a groove on its way past the baselines. proposed: the lowest height up, a
    multiple of 0.5 mm, at which nothing is met and enough is left; None where there is none.
    kind: "captured" or "slid in", as of a `Bottom`. ends: a `GrooveEnd` for both ends of every groove. moves: how much wider it
    gets across its grain, front to back, in the damp that it was made for; 0 for sheet material. back_edge: up the back's outer
    face, where its lower edge is ripped off for a bottom that is slid in; None for a captured one. rims: of the box.
    below, above: (width, depth) of its lower and upper face. edge_bevels: board -> degrees that the edge in that board's
    groove is planed out of square, positive where the upper face is the larger. grooves: board -> `Groove`.
    vertices: (2, 4, 3), its corners in the box's axes: lower and upper face, counter-clockwise from the front left.
    first, last: the boards that go onto it, in that order.
    """

    thickness: float
    up: float
    below: tuple
    above: tuple
    edge_bevels: dict
    grooves: dict
    vertices: np.ndarray
    first: tuple
    last: tuple
    wood_below: float
    narrow: tuple
    met: tuple
    proposed: float | None
    kind: str
    ends: tuple
    moves: float
    back_edge: float | None
    rims: str

    def __repr__(self) -> str:
        return f"BottomPanel({self.kind}, {self.thickness:g} mm thick, {self.up:g} mm up, {len(self.met)} cheeks met)"

    def warnings(self, unit: str = "mm") -> tuple:
        """Sentences: which cheeks the groove meets, where it leaves too little wood below it, and which height would do."""
        said = []
        if self.met:
            cheeks: dict[str, list[str]] = {}
            for at, tail, side in self.met:
                cheeks.setdefault(f"the {side} cheek of tail {tail}", []).append(at)
            places = "; ".join(f"{cheek} at the {series(corners)} corner{'s' * (len(corners) > 1)}"
                               for cheek, corners in cheeks.items())
            said.append(f"At {length(self.up, unit)} up, the groove cuts through {places}.")
        if self.narrow:
            said.append(f"The groove leaves less than {length(self.wood_below, unit)} of wood below it on the "
                        f"{series(self.narrow)} board{'s' * (len(self.narrow) > 1)}.")
        if said:
            said.append("No height would do: take a thinner bottom, or fewer tails." if self.proposed is None else
                        f"Set the bottom {length(self.proposed, unit)} up.")
        return tuple(said)

    def _repr_markdown_(self) -> str:
        sizes = f"Make the bottom {length(self.thickness)} thick. The lower face is {lengths(self.below)} (width × depth)"
        return "\n".join(f"* {sentence}" for sentence in (
            f"{sizes}, and the upper face {lengths(self.above)}. The bottom lies {length(self.up)} above the drawer's bottom "
            "rim.",
            " ".join(self.edge_words()), *self.groove_words(), *self.fitting_words(), *self.warnings()))

    def edge_words(self) -> tuple[str, ...]:
        """Sentences: how far each edge is planed out of square, and which face is then the larger there; what stays square."""
        edges: dict[str, dict[str, list[str]]] = {"upper": {}, "lower": {}}
        square = []
        for name in ("front", "back", "left", "right"):
            if abs(bevel := self.edge_bevels[name]) < SAME_SETTING:
                square.append(name)
            else:
                edges["upper" if bevel > 0 else "lower"].setdefault(degrees(abs(bevel)), []).append(name)
        each = {face: ", ".join(f"{series(names)} {angle}" for angle, names in angles.items())
                for face, angles in edges.items() if angles}
        if not each:
            return ("Plane the bottom's edges square.",)
        if len(each) == 2:
            each = {face: f"{which}, where the {face} face is the larger" for face, which in each.items()}
        said = [f"Plane the bottom's edges out of square: {'; '.join(each.values())}."]
        said += [f"The {face} face is the larger." for face in each if len(each) == 1]
        return (*said, f"Leave the {series(square)} edge{'s' * (len(square) > 1)} square.") if square else tuple(said)

    def groove_words(self, unit: str = "mm") -> tuple[str, ...]:
        """Sentences: where each groove runs, how far its walls are out of square to the face, and where it stops."""
        grooves: dict[str, list[str]] = {}
        for name in ("front", "back", "left", "right"):
            if (groove := self.grooves.get(name)) is None:
                continue
            goes = "The groove goes in square to the face"
            if abs(groove.wall_angle) >= SAME_SETTING:
                edge = "top" if groove.wall_angle > 0 else "bottom"
                on_face = length(groove.width, unit)
                wider = "" if on_face == length(self.thickness, unit) else f", and measures {on_face} on the face"
                goes = (f"The groove {'rises' if edge == 'top' else 'falls'} towards the {edge} edge as it goes deeper, "
                        f"{degrees(abs(groove.wall_angle))} from square{wider}")
            grooves.setdefault(f"{length(groove.up_face, unit)} up the inner face. {goes}.", []).append(name)
        found = [f"Each groove is {length(self.depth, unit)} deep, measured square to the face.",
                 f"Fit the plough with an iron (its blade) as wide as the bottom is thick, {length(self.thickness, unit)}.",
                 *(f"On the {series(names)} the groove starts {how}" for how, names in grooves.items())]
        if any(abs(groove.wall_angle) >= SAME_SETTING for groove in self.grooves.values()):
            found.append("Hold the plough's fence flat on the bottom edge. That edge is ripped level, so the groove comes "
                         "out level."
                         if self.rims == "level" else "Lay the board flat, and tilt the plough by the board's lean.")
        if self.stops:
            found.append("A stopped groove ends before the board does: stop the plough before the end of a stopped groove, and "
                         "finish the groove with a chisel.")
        return (*found, *self.end_words(unit))

    @property
    def depth(self) -> float:
        """Of the grooves, square to the faces, mm."""
        return next(iter(self.grooves.values())).depth

    def end_words(self, unit: str = "mm") -> tuple[str, ...]:
        """Sentences: which grooves stop, how far past the baselines, and which run through."""
        said, stops = [], self.stops
        for runs, past in [("stops", each) for each in sorted(set(stops.values()))] + [(runs, 0.0) for runs in [*_RUNS][1:]]:
            why = _RUNS[runs]
            boards: dict[str, list[str]] = {}
            for end in self.ends:
                if end.runs == runs and stops.get(end[:2], 0.0) == past:
                    boards.setdefault(end.board, []).append(end.side)
            if len(boards) == 4 and all(len(sides) == 2 for sides in boards.values()):
                return (f"Stop each groove {length(past, unit)} past the baselines.",)
            places: dict[str, list[str]] = {}
            for name, sides in boards.items():
                places.setdefault("both" if len(sides) == 2 else _end_name(name, sides[0]), []).append(name)
            for place, names in places.items():
                one = len(names) == 1
                at = "both ends" if place == "both" else f"its {place} end" if one else f"their {place} ends"
                said.append(why.format(grooves=f"the {_owners(names)} groove{'s' * (not one)}",
                                       past=length(past, unit), place=at, them="it" if one else "them",
                                       baselines="baseline" if one and place != "both" else "baselines"))
        return tuple(said)

    @property
    def stops(self) -> dict[tuple[str, str], float]:
        """(board, side) -> mm past the baseline, level, for each end of a groove that stops short.

        Ends that differ by less than 0.25 mm have the longest of theirs: the bottom goes in, and no groove comes out.
        """
        found, longest = {}, math.inf
        exact = {end[:2]: self.grooves[end.board].past_baselines[("left", "right").index(end.side)]
                 for end in self.ends if end.runs == "stops"}
        for at, past in sorted(exact.items(), key=lambda each: -each[1]):
            longest = longest if longest - past < BY_HAND else past
            found[at] = longest
        return found

    @property
    def words(self) -> str:
        """How it goes in, as sentences."""
        if self.kind == "slid in":
            return ("Glue the four boards together first. Then slide the bottom in from behind, level, and screw it up into "
                    "the back's lower edge. Put no glue in the grooves.")
        first, last = (" and the ".join(names) for names in (self.first, self.last))
        return (f"Set the {first} on the bottom's edges. Then push the {last} on, level, their tails over the pins. Put no "
                "glue in the grooves. The bottom can't go in later.")

    def fitting_words(self, unit: str = "mm") -> tuple[str, ...]:
        """Sentences: what is ripped off the back, how the bottom goes in, and what is left for solid wood to move."""
        said = [self.words]
        if self.back_edge is not None:
            said.insert(0, f"After the dry fit, rip the back's lower edge off, level, {length(self.back_edge, unit)} up its "
                        "outer face. The bottom goes in under the back.")
        if self.moves:
            held = ("The bottom's grain runs from side to side. From dry to damp the bottom grows {} from front to back; ")
            left = ("its back edge is as far inside the back, so screw the bottom through slots." if self.kind == "slid in" else
                    "half of this growth is left in the front's groove, and half in the back's.")
            said.append(held.format(fine(self.moves, unit)) + left)
        return tuple(said)


def bottom_panel(box: Box, thickness: float | None = None, up: float | None = None, depth: float | None = None,
                 play: float | None = None, wood_below: float = WOOD_BELOW, *,
                 fit: "OpeningFit | None" = None) -> BottomPanel:
    """The bottom panel of a box, and its grooves. What is left out is as the box's `Bottom` has it.

    Parameters
    ----------
    box : Box
        The box.
    thickness : float, optional
        Of the panel, mm.
    up : float, optional
        Of its lower face above the bench, mm. None there too: the lowest height at which the grooves meet no cheek; 6 mm where
        every height meets one.
    depth : float, optional
        Of the grooves, square to the faces, mm; a third of the thinnest board where that is None too (common practice, no
        source).
    play : float, optional
        Level, between each edge and the bottom of its groove, mm.
    wood_below : float
        Up the face, what each board should keep below its groove, mm; where it keeps less, or a groove meets a cheek, the
        panel's `warnings` say so.
    fit : OpeningFit, optional
        Of the box, whose show front may hide where a groove comes out.

    Returns
    -------
    BottomPanel

    Raises
    ------
    ValueError
        In one sentence, when it can't be.

    >>> import splaywork as sw
    >>> panel = sw.bottom_panel(sw.Box(400, 300, 100, front_lean=10))
    >>> panel.thickness, len(panel.grooves)
    (6.0, 4)
    """
    box = _checked(box)
    own = box.bottom
    slid = own.kind == "slid in"
    if slid and (box.tails_on != "sides" or box.rims != "level"):
        raise ValueError("A bottom is slid in under the back of a box whose sides carry the tails, with level rims: choose "
                         "those, or put the bottom into grooves all round.")
    thickness = checks.size("panel thickness", own.thickness if thickness is None else thickness)
    play = checks.amount("play", own.play if play is None else play)
    up, depth = (getattr(own, name) if given is None else given for name, given in (("up", up), ("depth", depth)))
    thinnest = min(box.thickness_of(name) for name in NAMES)
    depth = thinnest / 3 if depth is None else checks.size("groove depth", depth)
    wood_below = checks.amount("wood below the groove", wood_below)
    if depth >= thinnest:
        raise ValueError(f"A groove {depth:g} mm deep would come out through a board {thinnest:g} mm thick: make it "
                         "less deep.")
    if any(_level(depth, box.lean(name)) <= play for name in NAMES):
        raise ValueError(f"With a play of {play:g} mm the panel would fall out of grooves {depth:g} mm deep: make them "
                         "deeper.")
    moves, spare = _moves(box, own, depth), dict.fromkeys(NAMES, play)
    if slid:
        spare["back"] = moves
        if moves > HELD * _level(box.thickness_of("back"), box.lean("back")):
            raise ValueError(f"Solid {own.wood} would move {moves:.1f} mm here, too much for a screw up into a back "
                             f"{box.thickness_of('back'):g} mm thick: take quarter-sawn wood, a thicker back or sheet "
                             "material.")
    elif moves:
        spare |= {name: play + moves / 2 for name in ("front", "back")}
        if any(_level(depth, box.lean(name)) <= spare[name] for name in ("front", "back")):
            raise ValueError(f"Solid {own.wood} would move {moves:.1f} mm here, and fall out of grooves {depth:g} mm deep: "
                             "make them deeper, slide the bottom in under the back, or take sheet material.")
    proposed = _lowest(box, thickness, depth, wood_below)
    if up is None:
        up = proposed if proposed is not None else 6.0
    up = checks.size("up", up)
    if up + thickness >= box.height:
        raise ValueError(f"A panel {thickness:g} mm thick, {up:g} mm up, doesn't lie within a box {box.height:g} mm "
                         "high: set it lower.")
    reach = {name: _level(depth, box.lean(name)) for name in NAMES}
    into = reach | ({"back": _level(box.thickness_of("back"), box.lean("back"))} if slid else {})  # level, from the inner faces
    under, upper = (tuple(box.inside_length(name, height) + sum(into[other] - spare[other] for other in neighbours(name))
                          for name in ("front", "right")) for height in (up, up + thickness))
    last = TAILS_ON[box.tails_on]
    first = tuple(name for name in NAMES[::2] + NAMES[1::2] if name not in last)
    grooves = {name: _groove(box, name, up, thickness, depth, reach) for name in NAMES if not (slid and name == "back")}
    narrow = tuple(name for name, groove in grooves.items() if groove.up_face < wood_below - ON_PLANE)
    met = tuple(cheek for cheek, low, high in _forbidden(box, thickness, depth) if low + ON_PLANE < up < high - ON_PLANE)
    return BottomPanel(thickness, up, under, upper, {name: box.lean(name) for name in NAMES}, grooves,
                       _panel(box, up, thickness, into, spare), first, last, wood_below, narrow, met, proposed, own.kind,
                       tuple(_ends(box, grooves, up, thickness, depth, fit)), moves,
                       _up_face(up + thickness, box.lean("back")) if slid else None, box.rims)


def _moves(box, own, depth):
    """How much wider a bottom of solid wood gets across its grain, from front to back, mm; 0 for sheet material."""
    if own.wood is None:
        return 0.0
    wide = box.inside_length("right") + sum(_level(depth, box.lean(name)) for name in ("front", "back"))
    return movement(wide, own.wood, own.damper, own.sawn)


def _arris(box, name):
    """Height of a board's inner arris at the bottom rim above the bench, mm: a square rim lifts or lowers it."""
    return float(box.boards[name].blank[1, 0, 0, 2])


def _forbidden(box, thickness, depth):
    """(CheekMet, low, high): the heights up, mm, between which a groove cuts through that cheek.

    Past the baselines the grooves of two boards run on, level, to where their bottoms meet: a block between four upright
    faces of the grooves and two levels. Raised, it slides along the corner line, so each cheek is met over one span.
    """
    for at, corner in box.corners.items():
        planes = dict(enumerate(rims(thickness)))  # the block's lower face on the bench
        sides = []
        for board in (corner.tail, corner.pin):
            inner = box.planes[f"{board} inner"]
            planes |= {f"{board} inner": inner, f"{board} bottom of the groove": inner.moved(-depth)}
            sides.append((f"{board} inner", f"{board} bottom of the groove"))
        block = meet_all(planes, [(one, other, level) for one in sides[0] for other in sides[1] for level in (0, 1)])
        rise = corner.turn @ corner.corner.vector("corner_line")  # 1 high
        for tail in range(1, corner.joint.tails + 1):
            for side in ("lower", "upper"):
                cheek = box.planes[f"{at} tail {tail} {side} cheek"]
                heights = -cheek.height_of(block) / (cheek.normal @ rise)
                yield CheekMet(at, tail, side), float(heights.min()), float(heights.max())


def _ends(box, grooves, up, thickness, depth, fit):
    """A `GrooveEnd` for each end of each groove."""
    for name, groove in grooves.items():
        for side, at, other in zip(("left", "right"), END_CORNERS[name], neighbours(name), strict=True):
            corner = box.corners[at]
            # where the groove would run on to the neighbour's outer face
            planes = dict(enumerate((rims(up)[1], rims(up + thickness)[1]))) | {
                "inner": box.planes[f"{name} inner"], "bottom": box.planes[f"{name} inner"].moved(-groove.depth),
                "start": box.planes[f"{other} inner"], "end": box.planes[f"{other} outer"]}
            block = meet_all(planes, [(face, end, level) for face in ("inner", "bottom") for end in ("start", "end")
                                      for level in (0, 1)])
            heights = np.array([[box.planes[f"{at} tail {tail} {cheek} cheek"].height_of(block) for cheek in ("lower", "upper")]
                                for tail in range(1, corner.joint.tails + 1)])  # by tail, cheek and point
            in_tail = bool((heights <= ON_PLANE).all(axis=(1, 2)).any())
            beside = bool((heights >= -ON_PLANE).all(axis=2).any(axis=1).all())
            own, its = (in_tail, beside) if corner.tail == name else (beside, in_tail)
            if grooves.keys() != set(NAMES) and other == "back":
                yield GrooveEnd(name, side, "back")
            elif its:
                yield GrooveEnd(name, side, "joint")
            else:
                hidden = own and other == "front" and _behind(fit, block[[2, 3, 6, 7]])
                yield GrooveEnd(name, side, "front" if hidden else "stops")


def _behind(fit, points):
    """Whether the show front of a fit covers points on the outer face of its box's front."""
    if fit is None or fit.show_front is None:
        return False
    return all((fit.show_front.planes[edge].height_of(points + fit.at) <= ON_PLANE).all()
               for edge in ("left", "right", "floor", "top"))


def _lowest(box, thickness, depth, wood_below):
    """The lowest height up, a multiple of `STEP`, that meets no cheek and leaves enough wood below; None if there is none."""
    low = max(_arris(box, name) + wood_below * math.cos(math.radians(box.lean(name))) for name in NAMES)
    spans = sorted((low, high) for _, low, high in _forbidden(box, thickness, depth))
    up = math.ceil(max(low, STEP) / STEP - ON_PLANE) * STEP
    for start, end in spans:
        if start - CLEAR < up < end + CLEAR:
            up = math.ceil((end + CLEAR) / STEP - ON_PLANE) * STEP
    return up if up + thickness < box.height - CLEAR else None


def _groove(box, name, up, thickness, depth, reach):
    lean = box.lean(name)
    arris = _arris(box, name)
    if up <= arris:
        raise ValueError(f"The inner arris of the {name} board lies {arris:.1f} mm above the bench, and a groove {up:g} "
                         "mm up would cut it away: set the panel higher, or rip the rims level.")
    past = tuple(reach[other] for other in neighbours(name))
    return Groove(name, _up_face(up - arris, lean), _up_face(thickness, lean), depth, lean, past)


def _panel(box, up, thickness, into, spare):
    edges = {}
    for name in NAMES:
        inner = box.planes[f"{name} inner"]  # its normal points out of the wood, into the box
        level = math.hypot(inner.normal[0], inner.normal[1])
        edges[name] = inner.moved(-(into[name] - spare[name]) * level)
    faces = {"below": rims(up)[1], "above": rims(up + thickness)[1]}
    corners = (("front", "left"), ("front", "right"), ("back", "right"), ("back", "left"))
    return meet_all(edges | faces, [(*pair, face) for face in faces for pair in corners]).reshape(2, 4, 3)


@dataclass(frozen=True)
class Caul:
    """A wedge to lay on a leaning board so that a clamp that pulls level presses on an upright face; lengths in mm.

    A level pull slides a wedge down a face that leans out, and up one that leans in. angle: of the wedge, degrees. length: up
    the board's face. thin, thick: level, at its two edges; thick_at: the rim that the thick one goes to, "bottom" or "top";
    the lip, where one is needed, hooks over the other rim, where the thin edge is. holds: whether friction alone keeps it
    from sliding on the face.
    """

    board: str
    angle: float
    length: float
    thin: float
    thick: float
    thick_at: str
    holds: bool

    @property
    def words(self) -> str:
        """How to lay it, in one or two sentences."""
        said = f"On the {self.board} board, lay the thick edge at the {self.thick_at}."
        if self.holds:
            return said
        return f"{said} Hook a lip over the {self.lip_at} rim, because the clamp slides the wedge {self.slides} the face."

    @property
    def lip_at(self) -> str:
        """The rim that a lip hooks over: "top" where the board leans out, "bottom" where it leans in."""
        return "top" if self.thick_at == "bottom" else "bottom"

    @property
    def slides(self) -> str:
        """Which way a level pull would slide the wedge: "down" a face that leans out, "up" one that leans in."""
        return "down" if self.thick_at == "bottom" else "up"


def wedge_cauls(box: Box, thin: float = 10.0, friction: float = 0.25) -> tuple[Caul, ...]:
    """The cauls to glue a box up: of the boards that are pushed on, those with the tails, as far as they lean.

    Parameters
    ----------
    box : Box
        The box.
    thin : float
        Level thickness at the thin edge, mm.
    friction : float
        Coefficient of wood on wood, the low end of what is usually given (0.25 to 0.5, from memory).

    Returns
    -------
    tuple of Caul

    Raises
    ------
    ValueError
        In one sentence, for anything else.

    >>> import splaywork as sw
    >>> [(caul.board, caul.angle) for caul in sw.wedge_cauls(sw.Box(400, 300, 100, left_lean=8))]
    [('left', 8.0)]
    """
    box, thin, friction = _checked(box), checks.size("thin edge", thin), checks.size("friction", friction, "parts")
    cauls = []
    for name in TAILS_ON[box.tails_on]:
        lean = box.lean(name)
        if abs(lean) >= SAME_SETTING:
            out = abs(float(compute("out_over_height", height=box.height, lean=lean)))
            cauls.append(Caul(name, abs(lean), box.slant_width(name), thin, thin + out, "bottom" if lean > 0 else "top",
                              out / box.height <= friction))
    return tuple(cauls)


@dataclass(frozen=True)
class Offcut:
    """A piece to keep from a board's blank for a trial corner. length: along the board, mm, as sawn.

    equal: other corners of the box, equal or mirror images, that the same trial corner stands for.
    """

    board: str
    corner: str
    length: float
    equal: tuple


def trial_offcuts(box: Box, shown: float = 80.0) -> tuple[Offcut, ...]:
    """The `Offcut`s to keep, two for each corner that differs from the others; `shown`: of their inner faces, mm.

    Saw each from its own blank, full width and thickness, and leave that blank as much longer, and a saw kerf.
    """
    box, shown = _checked(box), checks.size("length shown", shown)
    tests: dict[tuple, list[str]] = {}
    for at, corner in box.corners.items():
        joint = corner.joint
        equal = (joint.corner, joint.tail_thickness, joint.pin_thickness, joint.tails)
        tests.setdefault(equal, []).append(at)
    offcuts = []
    for at, *others in tests.values():
        corner = box.corners[at]
        for kind, cut in (("tail", corner.joint.tail_board), ("pin", corner.joint.pin_board)):
            along = np.ptp(cut.blank.reshape(-1, 3) @ corner.corner.vector(f"{kind}_level"))
            length = float(along) - corner.joint.length + shown
            offcuts.append(Offcut(getattr(corner, kind), at, length, tuple(others)))
    return tuple(offcuts)


def offcut_length(box: Box, name: str, shown: float = 80.0) -> float:
    """How much longer the blank of a board has to be for the trial corners' offcuts, mm, saw kerfs not counted."""
    if name not in END_CORNERS:
        raise ValueError(f"A box has the boards {', '.join(NAMES)}, not {name!r}.")
    return sum(offcut.length for offcut in trial_offcuts(box, shown) if offcut.board == name)


def _checked(box):
    if not isinstance(box, Box):
        raise ValueError(f"Fittings are made for a Box, not for {checks.shown(box)}.")
    return box
