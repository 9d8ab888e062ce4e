"""The one door to the compiler: kernels run without the interpreter's lock, kept on disk.

A kept kernel holds the code of the kernels it calls, and the compiler does not notice when those
change in another file. So the place a folder's kernels are kept in is named by the content of
all its files, and of those here on the ground floor.

Compiling takes longer than a user waits. A command that must answer at once says so
(``at_once``): a kernel that is not kept yet then runs as plain Python, which gives the
same bits, while another process compiles them all. Once it has, the plain run is dropped, what
it wrote is put back as it was, and the compiled kernel runs from there.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from types import FunctionType
from typing import Any, Final, Generic, ParamSpec, TypeVar, cast

import numba
import numpy as np

from platewright.foundation.at_once import compiling_module

P = ParamSpec("P")
R = TypeVar("R")

_PACKAGE = Path(__file__).resolve().parent.parent
_LOOK: Final = 0.1  # s between two looks of a plain run at what goes on around it


class Stopped(Exception):  # noqa: N818  (no fault: somebody asked for it)
    """A plain run was asked to end; what it has written so far stands."""


class _Compiled(Exception):  # noqa: N818
    """The kernel that runs plain is compiled now."""


@cache
def _place(folder: Path) -> Path:
    """Return where the kernels of a folder are kept: beside the code, or with the user's caches.

    What earlier versions of the folder left there is taken away.
    """
    content = hashlib.sha256()
    for path in sorted([*folder.glob("*.py"), *Path(__file__).parent.glob("*.py")]):
        content.update(path.read_bytes())
    stem = f"kernels-{folder.parent.name}-"
    beside = _kept_in()
    place = beside / (stem + content.hexdigest()[:16])
    for old in beside.glob(stem + "*"):
        if old != place:
            shutil.rmtree(old, ignore_errors=True)
    return place


@cache
def _kept_in() -> Path:
    """Return the first folder that can be written: by the code, the user's caches, one of this process."""
    caches = os.environ.get("XDG_CACHE_HOME") or os.environ.get("LOCALAPPDATA")
    for folder in (
        _PACKAGE / "__pycache__",
        Path(caches or Path.home() / ".cache") / "platewright",
    ):
        try:
            folder.mkdir(parents=True, exist_ok=True)
            with tempfile.TemporaryFile(dir=folder):
                return folder
        except OSError:
            continue
    return Path(tempfile.mkdtemp(prefix="platewright-"))  # nobody else may put code there


class _Elsewhere:
    """The process that compiles all kernels, and what those who wait for it are told."""

    def __init__(self) -> None:
        self._process: subprocess.Popen[bytes] | None = None
        self._lock = threading.Lock()

    def begin(self) -> None:
        """Start it, once; it goes on when this process ends, so that the next one has it all."""
        with self._lock:
            module = compiling_module()
            if self._process is not None or module is None:
                return
            paths = [str(_PACKAGE.parent), os.environ.get("PYTHONPATH", "")]
            quiet = subprocess.DEVNULL
            self._process = subprocess.Popen(  # noqa: S603  (our own module, our own Python)
                [sys.executable, "-m", module],
                env=dict(os.environ, PYTHONPATH=os.pathsep.join(filter(None, paths))),
                stdin=quiet, stdout=quiet, stderr=quiet, start_new_session=True,
            )  # fmt: skip

    @property
    def is_over(self) -> bool:
        """Whether it has ended, well or not."""
        return self._process is not None and self._process.poll() is not None


class _Asked(threading.local):
    """What a plain run of this thread asks every now and then."""

    go_on: Callable[[], bool] | None = None
    kernel: Kernel[..., Any] | None = None  # outermost
    key: Any = None
    next_look = 0.0


_elsewhere = _Elsewhere()
_asked = _Asked()


def runs_plain(kernel: Callable[..., object]) -> bool:
    """Tell whether a kernel ran plain when it ran last, or may do so when it first runs."""
    return isinstance(kernel, Kernel) and not kernel.is_ready and compiling_module() is not None


@contextmanager
def asking(go_on: Callable[[], bool]) -> Iterator[None]:
    """Have plain runs ask every now and then whether to go on; ``Stopped`` comes if not."""
    before, _asked.go_on = _asked.go_on, go_on
    try:
        yield
    finally:
        _asked.go_on = before


class Kernel(Generic[P, R]):
    """A compiled function of arrays; ``py_func`` is its plain twin, its callees still compiled."""

    def __init__(self, function: Callable[P, R], *, counts: bool, apart: bool) -> None:
        self.py_func = function
        self.__doc__, self.__name__ = function.__doc__, function.__name__
        self.__module__ = function.__module__
        options: dict[str, Any] = {"cache": True, "nogil": True, "forceinline": not apart}
        if not counts:
            options["_nrt"] = False  # an option it has, if unsung
        self.dispatcher: Any = numba.njit(**options)(function)
        # what the compiler sees where another kernel names this one
        self._numba_type_ = getattr(self.dispatcher, "_numba_type_", None)
        self.is_ready = False

    def __call__(self, *args: P.args, **kwargs: P.kwargs) -> R:
        """Run, compiled; plain where it must not wait for the compiler."""
        if self.is_ready or kwargs or compiling_module() is None:
            return cast("R", self.dispatcher(*args, **kwargs))
        return cast("R", self._run_at_once(args))

    @property
    def signatures(self) -> tuple[str, ...]:
        """The types it is compiled for, or loaded for, in this process."""
        return tuple(sorted(str(sig) for sig in self.dispatcher.signatures))

    def _run_at_once(self, args: tuple[Any, ...]) -> object:
        key = tuple(self.dispatcher.typeof_pyval(arg) for arg in args)
        if _asked.kernel is not None or self._can_load(key):
            self.is_ready = _asked.kernel is None
            return self.dispatcher(*args)
        _elsewhere.begin()
        kept = _copied(args)
        _asked.kernel, _asked.key, _asked.next_look = self, key, 0.0
        try:
            with np.errstate(over="ignore", invalid="ignore"):  # as the compiled form: random
                # numbers are meant to run over, what is not there is nan
                return plain_twin(self)(*args)
        except _Compiled:
            _put_back(args, kept)
        finally:
            _asked.kernel = None
        self.is_ready = True
        return self.dispatcher(*args)

    def _can_load(self, key: tuple[Any, ...]) -> bool:
        """Tell whether the kernel is compiled for these types, here or on disk.

        The compiler offers no such question, so its store is asked as it asks itself.
        """
        if key in self.dispatcher.overloads:
            return True
        store = self.dispatcher._cache  # noqa: SLF001
        index = store._index_key(key, self.dispatcher.targetctx.codegen())  # noqa: SLF001
        return store._cache_file.load(index) is not None  # noqa: SLF001


def _look() -> None:
    """See what goes on around a plain run: somebody may want it to end, or have compiled it."""
    now = time.monotonic()
    if now < _asked.next_look or _asked.kernel is None:
        return
    _asked.next_look = now + _LOOK
    if _asked.go_on is not None and not _asked.go_on():
        raise Stopped
    if _elsewhere.is_over or _asked.kernel._can_load(_asked.key):  # noqa: SLF001
        raise _Compiled


@cache
def plain_twin(kernel: Kernel[..., R]) -> Callable[..., R]:
    """Return a kernel's plain twin whose callees are plain, too.

    Where it runs in the kernel's place it looks round now and then.
    """
    plain = _with_plain_callees(kernel.py_func)

    def looking(*args: Any) -> R:
        _look()
        return cast("R", plain(*args))

    return looking


@cache
def _with_plain_callees(function: Callable[..., R]) -> Callable[..., R]:
    """Return a function of the same code that calls plain twins wherever it calls kernels."""
    inner = cast("FunctionType", function)
    names = dict(inner.__globals__)
    for name in inner.__code__.co_names:
        found: Any = names.get(name)
        if isinstance(found, Kernel):
            names[name] = plain_twin(found)
    twin = FunctionType(inner.__code__, names, inner.__name__, inner.__defaults__)
    return cast("Callable[..., R]", twin)


def _copied(value: Any) -> Any:
    """Return copies of all arrays in a tuple of tuples; what is no array is left out."""
    if isinstance(value, np.ndarray):
        return value.copy()
    return tuple(_copied(v) for v in value) if isinstance(value, tuple) else None


def _put_back(value: Any, kept: Any) -> None:
    """Write what was copied back into the arrays it was copied from."""
    if isinstance(value, np.ndarray):
        if value.flags.writeable:
            value[...] = kept
    elif isinstance(value, tuple):
        for part, copy in zip(value, kept, strict=True):
            _put_back(part, copy)


def compiled(function: Callable[P, R]) -> Callable[P, R]:
    """Compile a function of arrays; ``.py_func`` of the result is its plain twin."""
    return _kernel(function, counts=True, apart=True)


def lent(function: Callable[P, R]) -> Callable[P, R]:
    """Compile a function that makes no arrays and keeps none: those it gets are only lent to it.

    Else every call counts, for every array of every record it is handed, one user more and one
    less: of a walk's short steps, that was more than half the time. What makes an array (a copy,
    a slice that is assigned to) does not compile so. Its machine code is put into its callers':
    handing a record of arrays over takes longer than most short steps.
    """
    return _kernel(function, counts=False, apart=False)


def lent_apart(function: Callable[P, R]) -> Callable[P, R]:
    """Compile as ``lent`` what is long and seldom called: its code is not copied into callers."""
    return _kernel(function, counts=False, apart=True)


def _kernel(function: Callable[P, R], *, counts: bool, apart: bool) -> Callable[P, R]:
    if numba.config.DISABLE_JIT:  # type: ignore[attr-defined]
        return function
    folder = Path(function.__code__.co_filename).resolve().parent
    numba.config.CACHE_DIR = str(_place(folder))  # type: ignore[attr-defined]
    return Kernel(function, counts=counts, apart=apart)
