"""Pieces cut to lengths that others have: fewer settings of the saw's stop.

Pieces in order of their lengths are split into runs, each cut to the length of one of its pieces:
f[j] = min over i of f[i] + price of a length + what the run's pieces change, exact over all runs.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from platewright.foundation.units import Mm

TOUCH: Mm = 1e-6  # less is a rounding


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """The length a piece has, the least it needs and the most there is room for."""

    length: Mm
    least: Mm
    most: Mm


def equal_lengths(pieces: Sequence[Piece], *, price: Mm) -> tuple[Mm, ...]:
    """Return a length for every piece; one different length fewer is worth ``price`` of change.

    No piece gets shorter than it needs, or longer than there is room for.
    """
    order = sorted(range(len(pieces)), key=lambda k: pieces[k].length)
    best: list[tuple[float, int, Mm]] = [(0.0, 0, 0.0)]  # cost, begin of the last run, its length
    for j in range(1, len(order) + 1):
        found = (math.inf, 0, 0.0)
        for i in range(j):
            change, length = _common([pieces[k] for k in order[i:j]])
            cost = best[i][0] + price + change
            if cost < found[0] - 1e-9:
                found = (cost, i, length)
        best.append(found)
    lengths = [0.0] * len(pieces)
    j = len(order)
    while j > 0:
        _, i, length = best[j]
        for k in order[i:j]:
            lengths[k] = length
        j = i
    return tuple(lengths)


def _common(run: Sequence[Piece]) -> tuple[float, Mm]:
    """Return what the cheapest common length changes in all, and it; infinite if none will do."""
    found = (math.inf, 0.0)
    for length in dict.fromkeys(piece.length for piece in run):
        if all(p.least - TOUCH <= length <= p.most + TOUCH for p in run):
            change = sum(abs(p.length - length) for p in run)
            if change < found[0]:
                found = (change, length)
    return found
