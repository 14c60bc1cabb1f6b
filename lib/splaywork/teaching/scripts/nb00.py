"""The lesson of notebook 00: start here."""

from .core import Bench, Script

SCRIPT = Script(
    "00", "Start here",
    props="one finished box with a corner at which both boards lean, 16° or more; a plain box beside it; a bevel; a square, a "
          "rule and an offcut for each pair.",
    rows=(
        Bench(0, 0, "Hold up the bevel beside the corner of the leaning box. Then pass both boxes round.",
              "This is a bevel gauge: its blade locks at any angle. To mark this corner, what angle would you set?",
              "Most will say: “At the lean.”"),
        Bench(3, 5, "Show the picture that names the parts, and point at each part on the real box.",
              "One word for each thing: this is the lean, this is the end line, and these edges run level.",
              "Each name has its place on the wood."),
        Bench(8, 15, "*Predict*, as in the notebook: both boards are held at their leans. Everybody writes. Then hands up.",
              "I strike the front's end line at the side's lean, and saw. Does the corner gape at the top, or at the bottom?",
              "Some say at the top, some at the bottom.", hands=("at the top", "at the bottom")),
        Bench(10, 20, "Run the cell under *What the numbers say*.", "You see two leans and two end lines, and no two of the "
                                                                    "four agree.",
              "The sentences give four different angles."),
        Bench(None, 25, "Each pair leans its offcut against a square. The pair agrees which side is the outside, "
                        "reads the run in 100 mm of rise off a rule, and says the sign. Show the table under *Without a "
                        "protractor* in notebook 06.",
              "Go 100 millimetres up, and read how far out the offcut leans there. Find that length in the table: "
              "beside it stands the angle.",
              "Each pair has a run, an angle and a sign."),
        Bench(13, 35, "Read the cautions aloud.", "Put eye protection on, clamp the work, and keep both hands behind the "
                                                  "cutting edge."),
        Bench(16, 40, "Ask questions 1 and 2 of the notebook.",
              "If a lean is positive, the top is further out. If an end line is positive, the board is longer at the top.",
              "Signs agree round the room."),
    ),
    wrong=(("The end line is the lean.", "Run the cell under *What the numbers say*. Let the question hang: 02 to 04 answer "
                                         "the question."),
           ("Dihedral and plan angle are the same.", "Hold a square in the corner of the leaning box, first level, then square "
                                                     "to the corner line.")),
    ask="Where on the finished box do both boards' end lines lie?",
    answer="At the corner line, where the outer faces meet.",
)
