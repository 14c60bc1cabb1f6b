"""The corner panel beside an `interact` version of the same picture, each in a kernel behind a Jupyter server.

    python tests/bench/bench_interact.py

Timed on this side of the socket, from a slider's move to the message that holds the picture; both follow the same moves.
"""

import asyncio
import sys
import tempfile
from pathlib import Path
from statistics import median

from learner import Learner

sys.path[:0] = [str(Path(__file__).parents[1]), str(Path(__file__).parents[1] / "browser")]
from lab import Lab  # noqa: E402
from places import NOTEBOOKS  # noqa: E402

MOVES = 40
OURS = "from splaywork.panels import corner_panel; corner_panel(tail_lean=14, pin_lean=6)"
INTERACT = f"""import sys; sys.path.insert(0, {str(Path(__file__).parent)!r})
%matplotlib inline
import matplotlib.pyplot as plt
from ipywidgets import FloatSlider, interact
from splaywork import Corner
from splaywork.drawing.corner_picture import CornerPicture
from types import SimpleNamespace
from bench_redraw import contents, usual_figure
drawn = SimpleNamespace(picture=CornerPicture())
@interact(tail_lean=FloatSlider(value=14, min=-45, max=45, step=0.5))
def show(tail_lean):
    drawn.picture.update(Corner(tail_lean, 6))
    usual_figure(*contents(drawn), CornerPicture.WIDTH, CornerPicture.HEIGHT)
    plt.show()"""


async def echoes(lab, code, name, shows):
    """Seconds from each move to its picture."""
    learner = Learner(lab.url, lab.token, None, name)
    await learner.start()
    await learner.run_code(code)
    slider = learner.first("FloatSliderModel")
    taken = [await learner.move(slider, 14 + 0.5 * (1 + move % 20), shows) for move in range(MOVES + 4)]
    learner.leave()
    return taken[4:]


def main():
    with tempfile.TemporaryDirectory() as scratch:
        lab = Lab(NOTEBOOKS, Path(scratch))
        try:
            ours = asyncio.run(echoes(lab, OURS, "ours", lambda message: bool(message.get("buffers"))))
            other = asyncio.run(echoes(lab, INTERACT, "interact",
                                       lambda message: message["header"]["msg_type"] == "display_data"))
        finally:
            lab.stop()
    print(f"{'slider to picture, over the socket':36}{'ours, ms':>10}{'interact, ms':>14}{'faster':>8}")
    print(f"{'a lean dragged, corner':36}{1000 * median(ours):10.1f}{1000 * median(other):14.1f}"
          f"{median(other) / median(ours):8.1f}")


if __name__ == "__main__":
    main()
