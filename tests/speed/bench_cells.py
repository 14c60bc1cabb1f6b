"""How long a notebook's cells take their kernel, all together, beside a kernel that only imports what they stand on.

    python tests/speed/bench_cells.py

Each kernel is fresh, belongs to a Jupyter server on loopback, and has started before the clock does. All kinds run turn about.
The import cell alone imports nothing yet, so the cells that come first pay for it: the sum counts. All cells are sent at once,
as Run All Cells does: sent one by one, each would wait some 40 ms more for the socket. Cells that do nothing tell what is left.
"""

import asyncio
import sys
import tempfile
from pathlib import Path
from statistics import median
from time import perf_counter

import nbformat
from bench_import import BASE
from learner import Learner
from rig import NOTEBOOKS, Lab, notebook_paths

RUNS = 3
REACH = 1.25 + 1.0  # imports, and all other cells


def seconds(lab, name, cells):
    """From the first cell sent to the last one answered."""
    learner = Learner(lab.url, lab.token, None, name)

    async def run():
        await learner.start()
        await learner.run_code("pass")
        begun = perf_counter()
        await learner.run_all(cells)
        taken = perf_counter() - begun
        learner.leave()
        return taken

    taken = asyncio.run(run())
    lab.shut_kernels()
    return taken


def main(wanted=""):
    """Time every notebook, or those whose name begins with `wanted`."""
    with tempfile.TemporaryDirectory() as scratch:
        lab = Lab(NOTEBOOKS, Path(scratch))
        try:
            seconds(lab, "warm", [BASE])
            print(f"{'all cells of':40}{'s':>8}{'imports, s':>12}{'ratio':>8}{'empty cells, s':>16}  (ratio to reach {REACH})")
            for path in notebook_paths():
                name = path.relative_to(NOTEBOOKS).as_posix()
                if name.startswith(wanted):
                    cells = [cell.source for cell in nbformat.read(path, as_version=4).cells if cell.cell_type == "code"]
                    runs = [(seconds(lab, name, cells), seconds(lab, "imports", [BASE]),
                             seconds(lab, "empty", ["pass"] * len(cells))) for _ in range(RUNS)]
                    ours, theirs, empty = (median(each) for each in zip(*runs, strict=True))
                    ratio = median(one / two for one, two, _ in runs)
                    print(f"{name:40}{ours:8.2f}{theirs:12.2f}{ratio:8.2f}{empty:16.2f}", flush=True)
        finally:
            lab.stop()


if __name__ == "__main__":
    main(*sys.argv[1:])
