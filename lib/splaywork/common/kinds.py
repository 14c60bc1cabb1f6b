"""What signatures call the values that go in and come out."""

from collections.abc import Sequence
from os import PathLike
from typing import TYPE_CHECKING, Any, Generic, TypeAlias, TypeVar

import numpy as np

Numbers: TypeAlias = float | Sequence[float] | np.ndarray  # one number, or an array of them, that goes in
Computed: TypeAlias = Any  # what comes out: a float where every number that went in was single, else an array of their shape
FilePath: TypeAlias = str | PathLike[str]

# `tails: Settled[int] = LEFT_OUT`: a field of a data class that may be left out, or be None, and that `__post_init__` settles.
# Who makes an object may give None; who reads the field finds a value. Only a checker of types can tell those two apart.
if TYPE_CHECKING:
    T = TypeVar("T")

    class Settled(Generic[T]):
        def __get__(self, made: object, kind: type) -> T: ...
        def __set__(self, made: object, value: T | None) -> None: ...

    LEFT_OUT: Settled[Any]
else:
    class Settled:
        def __class_getitem__(cls, kind):
            return kind | None

    LEFT_OUT = None
