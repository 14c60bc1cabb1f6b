"""Spreadsheet formulas worked out by the package `formulas` (PyPI), in the cells where a reader pastes them."""

import sys

sys.modules.pop("formulas", None)  # pytest gives that name to this collection's own folder of tests
import formulas  # noqa: E402


def evaluated(formula, cells):
    """The value of a formula, with {cell: value}."""
    function = formulas.Parser().ast(formula)[1].compile()
    return float(function(*[cells[cell] for cell in function.inputs]))
