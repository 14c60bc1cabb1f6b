"""A class on one server: many kernels at once, each runs a notebook and then drags a slider.

    python tests/speed/bench_class.py [learners, 20] [seconds of dragging, 60]

A Jupyter server is started on loopback with a token of its own. Printed: whether all finished, the echo (from a slider's
move to the picture that answers it, on this side of the socket) and the memory that each learner's kernel takes: what
would come free if it ended (unique) and with its share of what kernels have in common (proportional).
"""

import asyncio
import os
import sys
import tempfile
from pathlib import Path
from statistics import median, quantiles
from time import perf_counter

import psutil
from learner import Learner
from rig import NOTEBOOKS, Lab

LESSON = NOTEBOOKS / "04_compound_corner.ipynb"


def kernels_of(server):
    """The kernel processes of a server."""
    return [process for process in psutil.Process(server).children(recursive=True)
            if "ipykernel_launcher" in " ".join(process.cmdline())]


async def teach(learners, seconds):
    """All learners at once; what went wrong with each, or None."""
    await asyncio.gather(*(learner.start() for learner in learners))
    begun = perf_counter()
    await asyncio.gather(*(learner.run_notebook() for learner in learners))
    ready = perf_counter() - begun
    troubles = await asyncio.gather(*(learner.drag(seconds) for learner in learners), return_exceptions=True)
    return ready, [trouble for trouble in troubles if trouble]


def report(learners, ready, troubles, memory):
    """The lines of the table."""
    moves = sum(len(learner.echoes) for learner in learners)
    echoes = sorted(echo for learner in learners for echo in learner.echoes)
    unique, proportional = (median(sizes) / 2 ** 20 for sizes in memory)
    yield f"{len(learners)} learners on {os.cpu_count()} cores: {len(learners) - len(troubles)} finished"
    yield from (f"  {trouble}" for trouble in troubles)
    yield f"notebook run by all, from the first cell to the last: {ready:.1f} s"
    yield (f"moves answered: {moves}; echo: median {1000 * median(echoes):.0f} ms, 19 of 20 within "
           f"{1000 * quantiles(echoes, n=20)[-1]:.0f} ms")
    yield f"memory for each learner: {unique:.0f} MB unique, {proportional:.0f} MB with its share of what is common"


def main(count=20, seconds=60.0):
    with tempfile.TemporaryDirectory() as scratch:
        lab = Lab(NOTEBOOKS, Path(scratch))
        try:
            learners = [Learner(lab.url, lab.token, LESSON, f"learner-{number}") for number in range(1, count + 1)]
            ready, troubles = asyncio.run(teach(learners, seconds))
            sizes = [process.memory_full_info() for process in kernels_of(lab.pid)]
            memory = [size.uss for size in sizes], [size.pss for size in sizes]
        finally:
            lab.stop()
    print("\n".join(report(learners, ready, troubles, memory)))
    return len(troubles)


if __name__ == "__main__":
    sys.exit(main(*(kind(text) for kind, text in zip((int, float), sys.argv[1:], strict=False))))
