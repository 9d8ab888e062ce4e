"""The one door to the compiler: kernels run without the interpreter's lock, kept on disk.

A kept kernel holds the code of the kernels it calls, and the compiler does not notice when those
change in another file. So the place a folder's kernels are kept in is named by the content of
all its files.
"""

from __future__ import annotations

import hashlib
import os
import shutil
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import ParamSpec, TypeVar, cast

import numba

P = ParamSpec("P")
R = TypeVar("R")

_PACKAGE = Path(__file__).resolve().parent.parent


@cache
def _place(folder: Path) -> Path:
    """Return where the kernels of a folder are kept: beside the code, or with the user's caches.

    What earlier versions of the folder left there is taken away.
    """
    content = hashlib.sha256()
    for path in sorted(folder.glob("*.py")):
        content.update(path.read_bytes())
    stem = f"kernels-{folder.parent.name}-"
    beside = _PACKAGE / "__pycache__"
    caches = os.environ.get("XDG_CACHE_HOME") or os.environ.get("LOCALAPPDATA")
    if not os.access(beside if beside.exists() else _PACKAGE, os.W_OK):
        beside = Path(caches or Path.home() / ".cache") / "platewright"
    place = beside / (stem + content.hexdigest()[:16])
    for old in beside.glob(stem + "*"):
        if old != place:
            shutil.rmtree(old, ignore_errors=True)
    return place


def compiled(function: Callable[P, R]) -> Callable[P, R]:
    """Compile a function of arrays; ``.py_func`` of the result is its plain twin."""
    folder = Path(function.__code__.co_filename).resolve().parent
    numba.config.CACHE_DIR = str(_place(folder))  # type: ignore[attr-defined]
    return cast("Callable[P, R]", numba.njit(cache=True, nogil=True)(function))


def inlined(function: Callable[P, R]) -> Callable[P, R]:
    """Compile a function into its callers: handing it a record of arrays then costs nothing."""
    return cast("Callable[P, R]", numba.njit(nogil=True, inline="always")(function))
