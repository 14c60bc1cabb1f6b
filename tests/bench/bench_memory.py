"""How much memory each notebook's kernel takes, beside one that only imports the same packages.

    python tests/bench/bench_memory.py

Each kernel belongs to a Jupyter server on loopback; memory is what would come free if the kernel ended.
"""

import asyncio
import sys
import tempfile
from pathlib import Path

import psutil
from bench_class import kernels_of
from learner import Learner

sys.path[:0] = [str(Path(__file__).parents[1]), str(Path(__file__).parents[1] / "browser")]
from lab import Lab  # noqa: E402
from places import NOTEBOOKS, notebook_paths  # noqa: E402

IMPORTS = "import numpy, sympy, ipywidgets, matplotlib.figure, matplotlib.backends.backend_agg"


def memory(lab, path, code=None):
    """MB of a kernel after a notebook, or after `code` alone."""
    learner = Learner(lab.url, lab.token, path, path.stem)

    async def run():
        await learner.start()
        await (learner.run_notebook() if code is None else learner.run_code(code))

    asyncio.run(run())
    kernel, = kernels_of(lab.pid)
    unique = kernel.memory_full_info().uss / 2 ** 20
    lab.shut_kernels()
    psutil.wait_procs([kernel], 20)
    return unique


def main():
    with tempfile.TemporaryDirectory() as scratch:
        lab = Lab(NOTEBOOKS, Path(scratch))
        try:
            bare = memory(lab, Path("imports"), IMPORTS)
            print(f"{'kernel of':40}{'MB':>8}{'ratio':>8}\n{'the imports alone':40}{bare:8.0f}{1:8.2f}")
            for path in notebook_paths():
                used = memory(lab, path)
                print(f"{path.relative_to(NOTEBOOKS).as_posix():40}{used:8.0f}{used / bare:8.2f}")
        finally:
            lab.stop()


if __name__ == "__main__":
    main()
