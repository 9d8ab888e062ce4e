"""The one door to the compiler: kernels run without the interpreter's lock, kept on disk.

A kept kernel holds the code of the kernels it calls, and the compiler does not notice when those
change in another file. So the place it is kept in is named by the content of every kernel file.
"""

from __future__ import annotations

import hashlib
import os
from collections.abc import Callable
from pathlib import Path
from typing import ParamSpec, TypeVar, cast

import numba

P = ParamSpec("P")
R = TypeVar("R")

_PACKAGE = Path(__file__).resolve().parent.parent


def _sources() -> str:
    """Return a short name for the content of all kernel files."""
    found = hashlib.sha256()
    for path in sorted(_PACKAGE.glob("*/kernels/*.py")):
        found.update(path.read_bytes())
    return found.hexdigest()[:16]


def _place() -> Path:
    """Return where kernels are kept: beside the code, or with the user's caches."""
    name = f"kernels-{_sources()}"
    beside = _PACKAGE / "__pycache__"
    if os.access(beside if beside.exists() else _PACKAGE, os.W_OK):
        return beside / name
    caches = os.environ.get("XDG_CACHE_HOME") or os.environ.get("LOCALAPPDATA")
    return Path(caches or Path.home() / ".cache") / "platewright" / name


numba.config.CACHE_DIR = str(_place())


def compiled(function: Callable[P, R]) -> Callable[P, R]:
    """Compile a function of arrays; ``.py_func`` of the result is its plain twin."""
    return cast("Callable[P, R]", numba.njit(cache=True, nogil=True)(function))
