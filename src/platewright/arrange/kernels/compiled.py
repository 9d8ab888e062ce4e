"""The one door to the compiler: kernels run without the interpreter's lock and are kept on disk."""

from __future__ import annotations

from collections.abc import Callable
from typing import ParamSpec, TypeVar, cast

from numba import njit

P = ParamSpec("P")
R = TypeVar("R")


def compiled(function: Callable[P, R]) -> Callable[P, R]:
    """Compile a function of arrays; ``.py_func`` of the result is its plain twin."""
    return cast("Callable[P, R]", njit(cache=True, nogil=True)(function))
