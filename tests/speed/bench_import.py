"""How long a newcomer waits for the first answer, as ratios to importing what everything stands on, in one run.

    python tests/speed/bench_import.py

Each line is a process of its own, and all are run turn about; times are medians.
"""

import os
import subprocess
import sys
from pathlib import Path
from resource import RUSAGE_CHILDREN, getrusage
from statistics import median

LIB = Path(__file__).parents[2] / "lib"
RUNS = 5
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)  # modules are compiled once, as on a learner's machine
BASE = "import sympy, numpy, matplotlib.figure, ipywidgets"
MATHS = "import sympy, numpy"
WAITS = [
    ("a notebook's import cell", "import splaywork as sw", BASE, 1.25),
    ("every public name", "import splaywork as sw; [getattr(sw, name) for name in sw.__all__]", BASE, 1.25),
    ("the first Box, with sympy and numpy", f"{MATHS}; import splaywork as sw; sw.Box(400, 300, 120)", MATHS, 1.25),
    ("the first dihedral, likewise", f"{MATHS}; import splaywork as sw; sw.Corner(16, 11).dihedral", MATHS, 1.25),
]


def seconds(code):
    """Processor time that a fresh process takes to run one line of code: what else the machine does hardly counts."""
    before = getrusage(RUSAGE_CHILDREN)  # os.times counts whole hundredths of a second
    subprocess.run([sys.executable, "-c", code], check=True, env={**os.environ, "PYTHONPATH": str(LIB)})
    after = getrusage(RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def main():
    """Print each wait over what it is compared with, beside what is to be reached."""
    idle = [seconds("pass") for _ in range(RUNS)]
    for words, code, base, reach in WAITS:
        seconds(code)  # compiles what isn't yet
        pairs = [(seconds(code), seconds(base)) for _ in range(RUNS)]
        start = median(idle)  # Python itself, on both sides
        ratio = median((ours - start) / (theirs - start) for ours, theirs in pairs)
        print(f"{words:<40} {ratio:5.2f}  (to reach {reach})  {median(ours for ours, _ in pairs):.2f} s", flush=True)


if __name__ == "__main__":
    main()
