"""What can go wrong with input, as one tree.

PlatewrightError
├── InputErrors      every fault found in the input, told in one go
└── CannotPlan       the job is sound but no plate was found for it (says why and what cures it)

An ``InputError`` is one fault (a value, not raised alone): file, row, field, value, problem,
cure. Our own mistakes are ordinary exceptions and are never caught to go on.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from dataclasses import dataclass


class PlatewrightError(Exception):
    """Anything the user can cure."""


@dataclass(frozen=True, slots=True, kw_only=True)
class InputError:
    """One fault of the input and what cures it."""

    file: str
    problem: str
    cure: str
    row: int | None = None
    field: str | None = None
    value: str | None = None

    def __str__(self) -> str:
        where = self.file
        if self.row is not None:
            where += f", row {self.row}"
        if self.field is not None:
            where += f", {self.field}"
        if self.value is not None:
            where += f" = {self.value!r}"
        return f"{where}: {self.problem}. {self.cure}"


class InputErrors(PlatewrightError):  # noqa: N818  (the plural says it)
    """Every fault of the input at once."""

    def __init__(self, faults: Iterable[InputError]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(str(fault) for fault in self.faults))


class CannotPlan(PlatewrightError):  # noqa: N818  (an outcome, told as one)
    """No plate was found: which things do not fit, and the smallest change that would cure it."""

    def __init__(self, problem: str, cures: Iterable[str]) -> None:
        self.problem = problem
        self.cures = tuple(cures)
        super().__init__(problem + "".join(f"\n  cure: {cure}" for cure in self.cures))


def or_else(hint: str, other: str) -> str:
    """Return a hint of ``nearest`` and another way out, as two sentences."""
    return f"{hint} {other}" if hint.endswith("?") else f"{hint}. {other}"


def misspelt(written: Iterable[str], wanted: str, known: Iterable[str]) -> str | None:
    """Return the written word that must be meant for ``wanted``: of all known words its nearest."""
    words = sorted(known)
    for word in written:
        close = difflib.get_close_matches(word.lower(), words, n=1, cutoff=0.6)
        if close == [wanted]:
            return word
    return None


def nearest(name: str, known: Iterable[str]) -> str:
    """Return a hint naming the known words nearest to ``name``, or all of a short list."""
    words = sorted(known)
    close = difflib.get_close_matches(name, words, n=3, cutoff=0.6)
    if close:
        return "Did you mean " + " or ".join(close) + "?"
    if len(words) <= 12:
        return "Known: " + ", ".join(words)
    return f"Known: {', '.join(words[:10])} … ({len(words)} in all)"
