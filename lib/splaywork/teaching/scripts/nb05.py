"""The lesson of notebook 05: cut a trial corner."""

from .core import Bench, Script


def _two_settings(corner):
    """Whether the two end lines, and so the two bevels, differ enough to be seen."""
    return abs(corner.tail_end_line - corner.pin_end_line) > 3


SCRIPT = Script(
    "05", "Cut a trial corner",
    props="the kit of this notebook: for each pair two offcuts, two wedges for each lean, two bevels, four clamps and a "
          "straightedge pared to a point. For each bench a bench card of a corner with two unequal leans.",
    rows=(
        Bench(0, 0, "*Predict:* put edges, ends and lines in their order. Hands up.",
              "Which do you make true first: edges, ends or lines?", "The edges come first.", hands=("edges", "ends", "lines")),
        Bench(2, 4, "Clamp both boards between their wedges on the flat board, and look under the edges.",
              "First put the edges right. Only then measure anything above them.", "The class sees light, or none."),
        Bench(5, 9, "Draw both end lines' angles on scrap, by the offsets on the bench card. Set one bevel to each angle, and "
                        "label both bevels.",
              "Two boards have two lines, so use two bevels. Don't reset one: pick up the other.",
              "The two settings differ.",
              check=_two_settings),
        Bench(9, 15, "Strike both end lines from the bottom edge, on both faces. Then stand both boards between their wedges "
                     "again, one board's end against the other board's inner face. Lay the pointed straightedge flat on the "
                     "first board's outer face. Slide that board until the point touches the lower end of the other board's "
                     "line. The point must follow the line to the top.",
              "The straightedge and the bevel must agree.", "The point follows the line to the top."),
        Bench(None, 20, "Cautions first. Saw both ends to their lines and to the end bevel, from clamped stock.",
              "Saw beside the line, and plane to the line.", "Both ends are a shaving too long."),
        Bench(None, 32, "Plane to the lines. Then put the planes away, stand the corner up, and look for light in the "
                        "order of the table in notebook 06.",
              "Do you see light? Leave the plane alone, and look in the table in notebook 06 first.",
              "The corner closes, or one row of the table says why not."),
        Bench(14, 40, "Do exercise 1.", "Which face of the board comes out longer?",
              "The inner face is longer where both boards lean the same way."),
    ),
    wrong=(("A gap across the board's end can simply be planed away.",
            "Show a corner with light under an edge. Put the edge right first, and look again."),
           ("One bevel is enough if I reset it.", "Set one bevel twice from the card, and compare the two lines on scrap.")),
    suits=lambda corner: _two_settings(corner) and min(abs(corner.tail_lean), abs(corner.pin_lean)) >= 5,
    ask="Your corner closes, and both boards lean a degree too far. Which line would you measure?",
    answer="Both: each line depends mostly on the other board's lean, and you need both lines to find both leans.",
)
