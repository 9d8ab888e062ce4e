"""How lengths, lists and moves are put in a cure."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from typing import Final

from platewright.foundation.units import MM_PER_INCH, Mm
from platewright.model.finding import Reading, Verdict
from platewright.model.geometry import Box
from platewright.model.job import DisplayUnit
from platewright.model.need import Need

TENTH: Mm = 0.1  # cures are rounded up to what a steel rule shows
HUNDREDTH: Final = 0.01  # of an inch, in a job in inches


_UNIT: ContextVar[DisplayUnit] = ContextVar("unit of the words", default=DisplayUnit.MM)


@contextmanager
def words_in(unit: DisplayUnit) -> Iterator[None]:
    """Put the lengths of all words made inside into the job's unit, as its drawings show them.

    Set once, where the rules are run: else each rule would have to hand the unit down to the last
    of its words.
    """
    before = _UNIT.set(unit)
    try:
        yield
    finally:
        _UNIT.reset(before)


def unit_of_words() -> DisplayUnit:
    """Return the unit that lengths are told in just now."""
    return _UNIT.get()


def bare(length: Mm, digits: int | None = 1) -> str:
    """Return a length without its unit: mm with so many digits, ``None``: as many as it has.

    Inches have two, three where mm have more than two: as on the drawings.
    """
    if unit_of_words() is DisplayUnit.INCH:
        inches = length / MM_PER_INCH
        return f"{round(inches, 2):g}" if digits is None else f"{inches:.{max(2, digits)}f}"
    return f"{length:g}" if digits is None else f"{length:.{digits}f}"


def length_of(length: Mm, digits: int | None = 1) -> str:
    """Return the same with its unit."""
    return f"{bare(length, digits)} {unit_of_words().value}"


def place_of(x: Mm, y: Mm, digits: int | None = 1) -> str:
    """Return a place on the plate: two numbers in the unit of the drawings."""
    return f"{bare(x, digits)}, {bare(y, digits)}"


def enough(length: Mm) -> str:
    """Return a length for a cure, rounded up to what a rule shows so that following it is enough."""
    if unit_of_words() is DisplayUnit.INCH:
        return f"{max(math.ceil(length / MM_PER_INCH / HUNDREDTH - 1e-6), 0) * HUNDREDTH:.2f} in"
    return f"{max(math.ceil(length / TENTH - 1e-6), 0) * TENTH:.1f} mm"


def way_out(box: Box, other: Box, keep: Mm = 0.0) -> str:
    """Return the shortest move that takes ``box`` off ``other``, by ``keep`` more than touching."""
    moves = {
        "left": box.right - other.left,
        "right": other.right - box.left,
        "up": other.top - box.bottom,
        "down": box.top - other.bottom,
    }
    way = min(moves, key=lambda name: moves[name])
    return f"{enough(moves[way] + keep)} {way}"


def common(one: Box, other: Box) -> Box:
    """Return what two boxes share."""
    return Box(
        max(one.left, other.left),
        max(one.bottom, other.bottom),
        min(one.right, other.right),
        min(one.top, other.top),
    )


def in_brackets(need: Need) -> str:
    """Return the reason of a need for a sentence, saying so where it was assumed."""
    words = [need.reason] if need.reason else []
    if not need.stated and "assumed" not in need.reason:
        words.append("assumed")
    return f" ({', '.join(words)})" if words else ""


def tightest(readings: Iterable[Reading]) -> tuple[Reading, ...]:
    """Return every reading that is not a pass; where all pass, the one with the least to spare."""
    told = tuple(readings)
    missed = tuple(reading for reading in told if reading.verdict is not Verdict.PASS)
    return missed or tuple(sorted(told, key=_to_spare)[:1])


def _to_spare(reading: Reading) -> float:
    if reading.measured is None or reading.limit is None:
        return math.inf
    return abs(reading.measured - reading.limit)
