"""What tests of texts written for other tools share: values to put in, a C compiler, TeX."""

import re
import shutil
import subprocess

import pytest
from splaywork import Corner

GCC = pytest.mark.skipif(shutil.which("gcc") is None, reason="no C compiler here")
TEX = pytest.mark.skipif(shutil.which("pdflatex") is None, reason="no LaTeX here")

# A corner, and readings that hang together, under the names that the exports use.
CORNER = Corner(17, -23)
VALUES = {"tail_lean": 17.0, "pin_lean": -23.0, "plan_angle": 90.0, "lean": 11.0, "end_line": 14.0, "end_bevel": 3.0,
          "end_line_error": 0.4, "end_bevel_error": -0.3, "error": 0.25, "height": 90.0, "thickness": 12.0,
          "width_seen": 30.0, "run": 24.0, "slant_width": 95.0, "bottom_edge": 300.0, "diagonal": 330.0,
          "other_thickness": 12.0, "pin_end_line": CORNER.pin_end_line, "tail_end_line": CORNER.tail_end_line}
VALUES |= {"top_edge": 340.0, "other_diagonal": 325.0, "sides": 6.0, "first_lean": 5.0, "second_lean": -8.0,
           "first_thickness": 11.0, "second_thickness": 13.0, "side_bottom_edge": 250.0, "side_first_lean": 7.0,
           "side_second_lean": 9.0, "side_first_thickness": 10.0, "side_second_thickness": 14.0}
LENGTHS = {"height", "thickness", "width_seen", "run", "slant_width", "bottom_edge", "diagonal", "other_thickness", "top_edge",
           "other_diagonal", "first_thickness", "second_thickness", "side_bottom_edge", "side_first_thickness",
           "side_second_thickness"}


def called(name, signature):
    """A call of a C function with the usual values."""
    arguments = re.findall(r"double (\w+)", signature)
    return f"{name}({', '.join(repr(VALUES[argument]) for argument in arguments)})"


def in_c(folder, sources, calls):
    """What a C program prints that holds these sources, each a translation unit of its own, and makes these calls."""
    flags = ["gcc", "-std=c99", "-pedantic", "-Wall", "-Wextra", "-Werror"]
    declared = [f"{line};" for source in sources for line in source.splitlines() if line.startswith("double ")]
    printed = [f'printf("%.17g\\n", {call});' for call in calls]
    main = ["#include <stdio.h>", *declared, "int main(void) {", *printed, "return 0;}"]
    names = [f"unit{number}.c" for number in range(len(sources))]
    for name, text in zip([*names, "main.c"], [*sources, "\n".join(main)], strict=True):
        (folder / name).write_text(text)
    subprocess.run([*flags, *names, "main.c", "-o", "forms", "-lm"], cwd=folder, check=True)
    run = subprocess.run([folder / "forms"], capture_output=True, text=True, check=True)
    return [float(line) for line in run.stdout.split()]


def document(*blocks, columns=1):
    kind = r"\documentclass[twocolumn]{article}" if columns == 2 else r"\documentclass{article}"
    return "\n".join([kind, r"\usepackage{amsmath}", r"\begin{document}", *blocks, r"\end{document}"])


def typeset(folder, text):
    (folder / "pasted.tex").write_text(text)
    return subprocess.run(["pdflatex", "-interaction=nonstopmode", "-halt-on-error", "pasted.tex"], cwd=folder,
                          capture_output=True, text=True, check=False)
