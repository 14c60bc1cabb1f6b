"""Each panel beside an `interact` version of the same picture, each in a kernel behind a Jupyter server.

    python tests/speed/bench_interact.py

Timed on this side of the socket, from a slider's move to the message that holds the picture; both follow the same moves.
The `interact` version computes the same things, and draws them in a fresh pyplot figure, which `%matplotlib inline` shows.
"""

import asyncio
import tempfile
from pathlib import Path
from statistics import median

from learner import Learner
from rig import NOTEBOOKS, Lab
from usual import DRAGS, panel_of

MOVES, WARM = 20, 4
OURS = "from splaywork import *; panel = {0}; panel"
INTERACT = f"""import sys; sys.path.insert(0, {str(Path(__file__).parent)!r})
%matplotlib inline
import matplotlib.pyplot as plt
from ipywidgets import FloatSlider, interact
from splaywork import *
from usual import contents, usual_figure
panel = {{0}}
panel.picture.png = lambda: b""  # it says where everything lies, and isn't drawn
dragged = panel.dials[{{1!r}}].slider
slider = FloatSlider(value=dragged.value, min=dragged.min, max=dragged.max, step=dragged.step)
@interact(x=slider)
def show(x):
    dragged.value = x
    usual_figure(*contents(panel.picture.canvas), panel.picture.WIDTH, panel.picture.HEIGHT)
    plt.show()"""


async def echoes(lab, code, which, name, shows):
    """Median seconds from a move of a slider to its picture; `which` gives the slider's comm."""
    learner = Learner(lab.url, lab.token, None, name)
    await learner.start()
    await learner.run_code(code)
    slider = which(learner)
    at, step = (learner.widgets[slider][part] for part in ("value", "step"))
    way = -1 if at + MOVES * step > learner.widgets[slider]["max"] else 1
    taken = [await learner.move(slider, at + way * step * (1 + move % MOVES), shows) for move in range(MOVES + WARM)]
    learner.leave()
    lab.shut_kernels()
    return median(taken[WARM:])


def bare_slider(learner):
    """The comm of the last slider made: `interact`'s."""
    return [name for name, state in learner.widgets.items() if state["_model_name"] == "FloatSliderModel"][-1]


def main():
    with tempfile.TemporaryDirectory() as scratch:
        lab = Lab(NOTEBOOKS, Path(scratch))
        try:
            print(f"{'slider to picture, over the socket':36}{'ours, ms':>10}{'interact, ms':>14}{'faster':>8}")
            for name, (made, (dial, *more)) in DRAGS.items():
                if not more:
                    label = panel_of(made).dials[dial].name
                    ours = asyncio.run(echoes(lab, OURS.format(made), lambda learner, label=label: learner.slider_of(label),
                                              "ours", lambda message: bool(message.get("buffers"))))
                    other = asyncio.run(echoes(lab, INTERACT.format(made, dial), bare_slider, "interact",
                                               lambda message: message["header"]["msg_type"] == "display_data"))
                    print(f"{name:36}{1000 * ours:10.1f}{1000 * other:14.1f}{other / ours:8.1f}", flush=True)
        finally:
            lab.stop()


if __name__ == "__main__":
    main()
