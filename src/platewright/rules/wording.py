"""How lengths, lists and moves are put in a cure."""

from __future__ import annotations

import math
from collections.abc import Iterable

from platewright.foundation.units import Mm
from platewright.model.finding import Reading, Verdict
from platewright.model.geometry import Box
from platewright.model.need import Need

TENTH: Mm = 0.1  # cures are rounded up to what a steel rule shows


def mm(length: Mm) -> str:
    """Return a length for a cure, rounded up to a tenth so that following it is enough."""
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
    return f"{mm(moves[way] + keep)} {way}"


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
