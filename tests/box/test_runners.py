"""Runners, kickers, guides and stops: they touch what they should, overlap nothing, and let the drawer slide out level."""

import numpy as np
import pytest
from boxes import leaning, slab
from splaywork.box.box import Box, JointSettings
from splaywork.box.opening import Clearances, FrontChoice, Opening
from splaywork.box.runners import RunnerChoice, runners
from wood import block_solid, gap_between, overlap, solid

LEANS = [(0, 0, 0, 0), (5, 0, 15, 15), (11, 0, 16, 4), (-9, 3, -14, 20), (20, 10, 25, -22)]
ROOMY = Clearances(left=1.5, right=6, floor=15, top=25)
STEPS = np.linspace(0, 1, 50)


def fit_of(leans, front="inset", room=ROOMY, **settings):
    choice = None if front is None else FrontChoice(front, 12)
    return Opening(420, 380, 190, **leaning(*leans)).fit(room, front=choice, thickness=12, **settings)


def drawer_of(fit):
    bodies = [solid((board.outlines.reshape(-1, 3) + fit.at, board.mesh()[1])) for board in fit.box.boards.values()]
    if fit.front is not None:
        bodies.append(block_solid(fit.show_front.block))
    return bodies


@pytest.mark.parametrize("leans", LEANS, ids=str)
@pytest.mark.parametrize("front", [None, "inset", "overlay"])
def test_the_drawer_slides_out_level_in_fifty_steps(leans, front):
    fit = fit_of(leans, front)
    gear = runners(fit)
    strips = {(strip.kind, strip.side): block_solid(strip.block) for strip in gear.strips}
    assert set(strips) == {*((kind, side) for kind in ("runner", "kicker") for side in ("left", "right")), ("guide", "right"),
                           ("stop", "back")}
    drawer = drawer_of(fit)
    walls = {name: slab(fit.opening.faces[name]) for name in ("left", "right", "back", "floor", "top")}
    for place, strip in strips.items():
        for name, wall in walls.items():
            assert overlap(strip, wall) < 1e-3, (place, name)
    compared = 0
    for share in STEPS:
        for body in drawer:
            moved = body.translate((0, -share * 500, 0))
            for place, strip in strips.items():
                assert overlap(moved, strip) < 1e-3, (place, share)
                compared += 1
            for name in ("left", "right", "floor", "top"):  # an overlay lies before the walls, which `slab` draws on past it
                if front != "overlay" or body is not drawer[-1]:
                    assert overlap(moved, walls[name]) < 1e-3, (name, share)
    assert compared == 50 * len(drawer) * 6


@pytest.mark.parametrize("leans", LEANS, ids=str)
def test_strips_touch_what_they_should_and_nothing_else(leans):
    fit = fit_of(leans)
    gear = runners(fit)
    drawer, touched = drawer_of(fit), 0
    sides = dict(zip(("front", "right", "back", "left"), drawer, strict=False))
    for strip in gear.strips:
        body = block_solid(strip.block)
        assert gap_between(body, slab(fit.opening.faces[strip.side])) == pytest.approx(0, abs=1e-6)
        assert fit.opening.faces[strip.side].height_of(strip.corners[0]) == pytest.approx(0, abs=1e-8)  # all of that face
        against, gap = {"runner": (strip.side, 0), "kicker": (strip.side, gear.choice.kick), "stop": ("back", 0),
                        "guide": (strip.side, gear.choice.play)}[strip.kind]
        assert gap_between(body, sides[against]) == pytest.approx(gap, abs=1e-5)
        touched += 1
    assert touched == 6
    for strip in gear.of("runner"):  # the drawer stands on its level top, with the bearing asked for
        top = strip.corners[:, :, 1, 2]
        assert top == pytest.approx(fit.at[2], abs=1e-9)
        foot = fit.box.boards[strip.side].blank[0, 0, 0, 0] + fit.at[0]
        assert abs(strip.corners[1, 0, 1, 0] - foot) >= gear.choice.bearing
        assert strip.corners[:, :, 0, 2] == pytest.approx(0, abs=1e-9)  # 15 high, and the floor clearance is 15


@pytest.mark.parametrize("leans", LEANS, ids=str)
def test_the_bevel_and_the_place_up_the_wall_make_the_strip(leans):
    """Planed and placed by its numbers alone, a strip is the solid."""
    fit = fit_of(leans)
    for strip in runners(fit).of("runner") + runners(fit).of("kicker"):
        lean = np.radians(getattr(fit.opening, f"{strip.side}_lean"))
        long, wide, high = strip.blank
        # the blank lies level: x from the edge that stays, z up from its bottom; the face that is planed passes through the
        # widest arris, and leans `bevel` from plumb
        run = high * np.tan(np.radians(strip.bevel))
        widths = (wide - max(run, 0), wide + min(run, 0))  # at the bottom, at the top
        drawn = np.abs(strip.corners[0, 0, :, 0] - strip.corners[1, 0, :, 0])
        assert drawn == pytest.approx(widths)
        counts = strip.corners[0, 0, 1 if strip.kind == "runner" else 0]
        foot = np.array([0 if strip.side == "left" else fit.opening.floor_width, counts[1], 0])
        assert strip.up_wall == pytest.approx(np.linalg.norm(counts - foot))
        up = counts - foot
        assert np.arctan2(np.linalg.norm(up[:2]), up[2]) == pytest.approx(abs(lean))
        assert long == pytest.approx(np.ptp(strip.corners[..., 1]))
        assert strip.start == pytest.approx(strip.corners[..., 1].min())


def test_what_needs_no_strip_is_said():
    fit = fit_of((5, 0, 15, 15), room=Clearances(floor=15, top=2))
    gear = runners(fit)
    assert [strip.kind for strip in gear.strips] == ["runner", "runner", "stop"]
    assert gear.words()[-2:] == [
        "The top of the opening stops the drawer tipping, so you need no kickers (strips above the sides).",
        "The left and the right walls guide the drawer, so you need no guides (strips beside it) there."]
    assert gear.words()[0] == (
        # from 12 / cos 5° and 2 behind the opening's front, to its back: 380 − 14.05
        # 20 − 15 · tan 15° = 15.98
        "Make two runners, 366.0 mm long and 15.0 mm high, one for each side wall. Each runner is 20.0 mm wide at the top and "
        "16.0 mm at the bottom: plane the face against the wall 15.0° out of square. The top is level, 15.5 mm up the wall "
        "from the floor.")
    unlike = runners(fit_of((5, 0, 15, 4), room=Clearances(floor=15, top=2))).words()
    assert [said.split(",")[0] for said in unlike[:2]] == ["Make a runner", "Make a runner"]
    assert "for the left wall" in unlike[0] and "for the right wall" in unlike[1] and "4.0° out of square" in unlike[1]


@pytest.mark.parametrize(("make", "words"), [
    (lambda: runners(Box(300, 200, 90)), "fit must be a"),
    (lambda: runners(fit_of(LEANS[1]), 15), "choice must be a RunnerChoice"),
    (lambda: runners(fit_of(LEANS[1], room=Clearances(floor=1))), "stands 1.0 mm above the opening's floor, too little"),
    (lambda: runners(fit_of(LEANS[1], rims="square")), "rip the rims level"),
    (lambda: runners(fit_of(LEANS[1], room=Clearances(floor=15, left=0))), "doesn't go into its opening"),
    (lambda: runners(fit_of((0, 0, 45, 0)), RunnerChoice(width=18)), "would be only 3.0 mm wide at its other edge"),
    (lambda: runners(fit_of(LEANS[1], room=Clearances(floor=15, left=18))), "left runner would reach only"),
    (lambda: RunnerChoice(height=0), "runner's height must be"),
    (lambda: RunnerChoice(play=-1), "runner's play must be"),
    (lambda: runners(Opening(420, 40, 190).fit(Clearances(floor=15), thickness=4)), "make the opening deeper"),
    (lambda: runners(fit_of(LEANS[1])).of("rail"), "kind of a strip can be"),
])
def test_what_cannot_be_is_said_in_one_sentence(make, words):
    with pytest.raises(ValueError, match=words) as caught:
        make()
    assert str(caught.value).endswith(".") and ". " not in str(caught.value).replace("3.0", "3")


def test_square_ends_are_planed_before_the_strips_are_fitted():
    fit = fit_of((11, 0, 16, 14), joint=JointSettings(end="square"), room=Clearances(left=3, right=3, floor=15, top=2))
    assert runners(fit).of("runner")[0].along > 300
