"""Every picture that a panel shows, brought up to date for one corner."""

from splaywork import Corner, Joint
from splaywork.box.box import Box
from splaywork.box.opening_picture import OpeningPicture
from splaywork.box.picture import BoxPicture
from splaywork.corner.picture import CornerPicture
from splaywork.corner.projection_picture import ProjectionPicture
from splaywork.corner.projection_words import STAGES
from splaywork.joint.picture import JointPicture
from splaywork.one_gauge.pictures import PICTURES
from splaywork.trial.picture import FaultsPicture, MeasuredPicture
from splaywork.trial.readings import TrialCorner


def pictures(corner):
    """Every picture that a panel shows, of one corner."""
    picture = CornerPicture()
    for turn, tilt in ((15, 25), (165, 25), (90, -10)):
        picture.update(corner, turn=turn, tilt=tilt)
        yield picture
    picture = ProjectionPicture()
    for stage in STAGES:
        picture.update(corner, stage, 0.7, "tail")
        yield picture
    picture = JointPicture()
    for turn, apart in ((15, 0), (170, 30)):
        picture.update(Joint(corner, 120, 18, tails=2), turn=turn, apart=apart)
        yield picture
    for kind in PICTURES.values():
        picture = kind()
        picture.update(corner)
        yield picture
    picture = MeasuredPicture()
    picture.update(TrialCorner(corner.tail_end_line, corner.pin_end_line, 0.25, Corner(16, 11)))
    yield picture
    picture = FaultsPicture()
    picture.update(corner, 2.0, -1.0, 1.5)
    yield picture
    fit = Box.for_opening(500, 300, 120, left_lean=corner.tail_lean, right_lean=corner.tail_lean,
                          front_lean=corner.pin_lean)
    picture = OpeningPicture()
    picture.update(fit)
    yield picture
    picture = BoxPicture()
    for turn, apart in ((-30, 0), (160, 60)):
        picture.update(fit.box, turn=turn, apart=apart)
        yield picture
