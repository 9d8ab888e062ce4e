"""Whether a command may wait for the compiler. Nothing heavy is loaded to say so."""

from __future__ import annotations


class _Waiting:
    """``module`` compiles all kernels when run; ``None``: whoever needs one compiles and waits."""

    module: str | None = None


_waiting = _Waiting()


def answer_at_once(module: str | None) -> None:
    """Run kernels plain from now on while they are not compiled; ``module`` compiles them all."""
    _waiting.module = module


def compiling_module() -> str | None:
    """Return the module that compiles all kernels, where nobody may wait for it."""
    return _waiting.module
