"""The lesson of notebook 11: deriving the formulas."""

from .core import Bench, Script

SCRIPT = Script(
    "11", "Deriving the formulas",
    props="two sheets of stiff card, slit to stand through one another; a thread along their meeting line.",
    rows=(
        Bench(0, 0, "Push the two cards through one another, and stretch the thread along the line where they meet. "
                    "*Predict.* Hands up.",
              "The thread lies in both cards. What is the thread square to?", "The thread is square to both faces' normals.",
              hands=("to the edges", "to the faces' normals")),
        Bench(None, 5, "*Predict*, in the notebook: what becomes of the pin board's end line when one lean is 0? Write your "
                       "answer down.",
              "Stand one board up in your head. What becomes of the pin board's end line?",
              "The rules of 02 and 03 stand on paper."),
        Bench(5, 7, "Show the picture of arrows, then the cell that works the corner line out.",
              "One line of algebra gives the corner line.", "The corner line comes out in one line of algebra."),
        Bench(10, 16, "Take the corner line apart: a step up the face, and a step back along the level.",
              "Divide the step back by the step up. Multiply by a hundred, and you have the offset in 100 millimetres.",
              "The tangent of an end line is one length over another."),
        Bench(None, 23, "Put 0 into the formula by hand, for one lean and then for the other. Compare with what you wrote.",
              "Put nought in for one lean, and that board stands upright. What does the formula say now?",
              "The rules of 02 and 03 come out."),
        Bench(None, 30, "By hand, put 30° for both leans into the formula for an end line. Then put 45° for both leans into "
                        "the formula for the dihedral. Last, run the cells of the flat picture frame.",
              "At 45 degrees the shortcut makes a picture frame.",
              "At 30° the tangent of the end line is one half. At 45° the dihedral is 120°."),
        Bench(15, 38, "Write the pin board's end line out for a spreadsheet, the leans in A1 and B1. Paste the formula, and "
                      "type two leans of 04.",
              "The spreadsheet has never seen a box, and gives the same numbers.", "The numbers of 04 come out."),
    ),
    wrong=(("The cosine is as good as 1, so leave it out.", "Set 16° and 11° in 04, then 30° and 30°."),
           ("The formula knows about thickness.", "Look for the letter t. The thickness stands in the baseline and in the "
                                                  "gaps, but in no angle.")),
    ask="In the formula for the pin board's end line, what comes out when the tail board is upright?",
    answer="Nought comes out: the pin board's end line is square.",
)
