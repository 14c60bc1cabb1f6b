"""How much memory each notebook's kernel takes, beside one that only imports the same packages.

    python tests/speed/bench_memory.py

Each kernel belongs to a Jupyter server on loopback. Memory is a kernel's own: the pages of libraries, which kernels share,
are left out, or it would depend on what else runs. The last two columns are for a kernel that imports every module that the
notebook's kernel has in the end, ours left out: what the notebook's takes more is the collection's own.
"""

import asyncio
import sys
import tempfile
from pathlib import Path

import nbformat
import psutil
from bench_class import kernels_of
from learner import Learner
from rig import NOTEBOOKS, Lab, notebook_paths

IMPORTS = "import numpy, sympy, ipywidgets, matplotlib.figure, matplotlib.backends.backend_agg"
TELL_MODULES = """import sys; from pathlib import Path
Path({!r}).write_text(" ".join(name for name in sys.modules if not name.startswith(("splaywork", "__"))))"""
IMPORT_MODULES = """from contextlib import suppress; from importlib import import_module; from pathlib import Path
for name in Path({!r}).read_text().split():
    with suppress(ImportError):
        import_module(name)"""


def measure(lab, name, cells):
    """MB of a kernel that has run its cells; it is ended."""
    learner = Learner(lab.url, lab.token, None, name)

    async def run():
        await learner.start()
        for cell in cells:
            await learner.run_code(cell)

    asyncio.run(run())
    kernel, = kernels_of(lab.pid)
    memory = kernel.memory_info()
    lab.shut_kernels()
    psutil.wait_procs([kernel], 20)
    return (memory.rss - memory.shared) / 2 ** 20


def main(wanted=""):
    """Measure every notebook, or those whose name begins with `wanted`."""
    with tempfile.TemporaryDirectory() as scratch:
        lab, modules = Lab(NOTEBOOKS, Path(scratch)), f"{scratch}/modules"
        try:
            bare = measure(lab, "imports", [IMPORTS])
            print(f"{'kernel of':40}{'MB':>8}{'ratio':>8}{'its modules, MB':>18}{'ratio':>8}\n"
                  f"{'the imports alone':40}{bare:8.0f}{1:8.2f}")
            for path in notebook_paths():
                name = path.relative_to(NOTEBOOKS).as_posix()
                if name.startswith(wanted):
                    cells = [cell.source for cell in nbformat.read(path, as_version=4).cells if cell.cell_type == "code"]
                    used = measure(lab, name, [*cells, TELL_MODULES.format(modules)])
                    same = measure(lab, "modules", [IMPORT_MODULES.format(modules)])
                    print(f"{name:40}{used:8.0f}{used / bare:8.2f}{same:18.0f}{used / same:8.2f}", flush=True)
        finally:
            lab.stop()


if __name__ == "__main__":
    main(*sys.argv[1:])
