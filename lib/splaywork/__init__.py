"""Leaning corners: the end lines, bevels and level lines of boards that lean, derived and computed.

>>> corner = Corner(tail_lean=30, pin_lean=30)
>>> round(corner.dihedral, 3)
104.478
"""

from .corner import Corner
from .derivation import closed_forms
from .joint import Joint
from .one_gauge import OneGauge
from .write_up import write_up

__all__ = ["Corner", "Joint", "OneGauge", "closed_forms", "write_up"]
