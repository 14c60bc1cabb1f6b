"""What signatures call the values that go in and come out."""

from collections.abc import Sequence
from os import PathLike
from typing import Any, TypeAlias

import numpy as np

Numbers: TypeAlias = float | Sequence[float] | np.ndarray  # one number, or an array of them, that goes in
Computed: TypeAlias = Any  # what comes out: a float where every number that went in was single, else an array of their shape
FilePath: TypeAlias = str | PathLike[str]
