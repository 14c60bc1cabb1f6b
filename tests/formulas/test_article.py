"""An article of two pages, written from the exports alone: it compiles without a warning, and each number in it is ours."""

import re
import shutil
import subprocess

import pytest
import splaywork as sw
from pylatexenc.latexwalker import LatexWalker
from pypdf import PdfReader

TEX = pytest.mark.skipif(shutil.which("pdflatex") is None or shutil.which("bibtex") is None, reason="no LaTeX here")
CORNER = sw.Corner(tail_lean=16, pin_lean=11)

# Prose of our own; what stands between @ and @ comes from the library.
ARTICLE = r"""
\documentclass[@OPTIONS@]{article}
\usepackage{amsmath, graphicx}
\title{Two leaning boards and one bevel gauge}
\author{A boat builder's notebook}
\date{}
\begin{document}
\maketitle
A galley locker drawer stands along the hull of a small wooden boat, so its side leans. Its front leans too, and neither
board's end can be marked at the other board's lean. This note gives the lines to strike and says when the old shortcut is
good enough.

\section{The two end lines}
Each outer face is a plane. Two planes meet in one line, the corner line, and the end line is that line seen on a board
(figure~\ref{fig:arrows}).
@FORMULAS@

\begin{figure}
\centering
\includegraphics{arrows.pdf}
\caption{The corner line taken apart in each face.}
\label{fig:arrows}
\end{figure}

For the drawer's corner the end lines are $@TAIL@^\circ$ on the tail board and $@PIN@^\circ$ on the pin board, by
equations~\ref{eq:tail-end-line} and~\ref{eq:pin-end-line}. A printed book strikes the leans themselves~\cite{noyes_handwork}.

\section{The shortcut}
@SHORTCUT@

Equation~\ref{eq:small-lean-pin-error} is the rule of thumb, and equation~\ref{eq:small-lean-pin-bound} says how far it may be
off. Table~\ref{tab:error} gives the whole error in degrees, and figure~\ref{fig:corner} shows it.

\begin{table}
\centering
@TABLE@
\caption{How much the shortcut line slants too much on the pin board.}
\label{tab:error}
\end{table}

\begin{figure}
\centering
\includegraphics{corner.pdf}
\caption{The corner, and its two outer faces laid flat.}
\label{fig:corner}
\end{figure}

\section{The way back}
A trial corner is measured, and its leans are wanted. Roof framers ask the same of a hip~\cite{hodgson_abc}.
@BACK@

The numbers were worked out with a free collection of notebooks~\cite{splaywork}.
\bibliographystyle{plain}
\bibliography{sources}
\end{document}
"""
FORMULAS = ["tail_end_line", "pin_end_line", "dihedral", "end_bevel", "baseline_offset"]
SHORTCUT = ["one_gauge_pin_error", "small_lean_pin_error", "small_lean_pin_bound", "closed_tail_lean", "closed_height_factor"]
BACK = ["tail_lean_from_end_lines", "pin_lean_from_end_lines", "dihedral_from_end_lines"]


def article(folder, columns):
    """Write the article, its figures and its sources into a folder; the text."""
    sw.save_figure(folder / "arrows.pdf", sw.vectors_still(CORNER), grey=True, width=75)
    sw.save_figure(folder / "corner.pdf", sw.corner_still(CORNER), grey=True, width=75)
    (folder / "sources.bib").write_text(sw.cite())
    parts = {
        "OPTIONS": "twocolumn" if columns == 2 else "", "FORMULAS": sw.write_up(FORMULAS, columns=columns),
        "SHORTCUT": sw.write_up(SHORTCUT, columns=columns), "BACK": sw.write_up(BACK, columns=columns),
        "TAIL": f"{CORNER.tail_end_line:.1f}", "PIN": f"{CORNER.pin_end_line:.1f}",
        "TABLE": sw.table("one_gauge_pin_error", [8, 16, 24], [6, 11, 22], to="latex", places=2),
    }
    text = re.sub("@([A-Z]+)@", lambda name: parts[name[1]], ARTICLE).strip()
    (folder / "article.tex").write_text(text)
    return text


@pytest.mark.parametrize("columns", [1, 2])
def test_every_formula_table_and_figure_comes_from_the_library(tmp_path, columns):
    text = article(tmp_path, columns)
    assert "@" not in text and LatexWalker(text, tolerant_parsing=False).get_latex_nodes()[0]
    before = re.sub("@[A-Z]+@", "", ARTICLE)
    assert not re.search(r"\\(frac|sin|cos|tan|arc|sqrt|hline)|\d\.\d", before)  # no formula and no number of its own
    labels = re.findall(r"\\label\{([^}]*)\}", text)
    assert len(labels) == len(set(labels)) and set(re.findall(r"\\ref\{([^}]*)\}", text)) <= set(labels)
    keys = re.findall(r"@\w+\{(\w+),", (tmp_path / "sources.bib").read_text())
    assert set(re.findall(r"\\cite\{(\w+)\}", text)) <= set(keys)
    assert all((tmp_path / name).exists() for name in re.findall(r"\\includegraphics\{([^}]*)\}", text))


@TEX
@pytest.mark.parametrize("columns", [1, 2])
def test_the_article_compiles_without_a_warning(tmp_path, columns):
    article(tmp_path, columns)
    for command in ("pdflatex", "bibtex", "pdflatex", "pdflatex"):
        target = ["-interaction=nonstopmode", "-halt-on-error", "article.tex"] if command == "pdflatex" else ["article"]
        run = subprocess.run([command, *target], cwd=tmp_path, capture_output=True, text=True, check=False)
        assert run.returncode == 0, run.stdout[-2000:]
        assert command != "bibtex" or "Warning" not in run.stdout, run.stdout
    log = (tmp_path / "article.log").read_text(errors="replace")
    assert not re.search(r"Warning|Overfull|undefined", log), re.findall(r".*(?:Warning|Overfull|undefined).*", log)
    pages = PdfReader(tmp_path / "article.pdf").pages
    assert len(pages) <= 3 and "galley locker drawer" in pages[0].extract_text().replace("\n", " ")
    if columns == 2:
        assert len(pages) == 2
