"""How many pieces share a bar: a bound on bars, and bars filled in two lots by it.

Where pieces are much alike, not their length but their number decides: of 200 pieces in 55 bars,
35 bars must take four or more, so the 140 shortest must fit into 35 bars.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from platewright.fabricate.solvers.full_bars import fill_bars
from platewright.fabricate.solvers.packing import (
    Counts,
    Packing,
    best_fit,
    bound_by_length,
    coarsened,
)

MOST_A_BAR: Final = 12  # with more pieces than this in a bar, the length decides
ROOMS: Final = (20_000, 4_000)  # of a bar told apart, where it has more


def bound_by_number(problem: Packing) -> int:
    """Return the bars needed because only so many can take one piece, two pieces, and so on.

    Of n bars, let x_j take j pieces or more: the x_j add up to all pieces, no x_j is above n,
    and the j · x_j shortest pieces must fit into x_j bars. Holds for the longer pieces alone too.
    """
    pieces = np.repeat(problem.sizes[::-1], problem.demand[::-1])
    bars = 0
    for first in np.unique(pieces, return_index=True)[1].tolist():
        rest = pieces[first:]
        most = problem.capacity // int(rest[0])
        if most > MOST_A_BAR:
            continue
        upto = np.concatenate(([0], np.cumsum(rest)))
        ways = [np.arange(1, len(rest) // each + 1) for each in range(1, most + 1)]
        having = [
            int((upto[each * way] <= problem.capacity * way).sum())
            for each, way in enumerate(ways, 1)
        ]
        while np.minimum(having, bars).sum() < len(rest):
            bars += 1
    return bars


def in_two_lots(problem: Packing, bars: int) -> list[Counts] | None:
    """Return so many bars, the shortest pieces in those that must take one more; or ``None``."""
    each, over = divmod(int(problem.demand.sum()), bars)
    short, left = np.zeros_like(problem.demand), over * (each + 1)
    for kind in range(len(problem.sizes) - 1, -1, -1):
        short[kind] = min(left, int(problem.demand[kind]))
        left -= int(short[kind])
    first = _lot(problem, short, over)
    second = None if first is None else _lot(problem, problem.demand - short, bars - over)
    return None if first is None or second is None else [*first, *second]


def _lot(problem: Packing, demand: Counts, bars: int) -> list[Counts] | None:
    """Return a part of the pieces in so many bars; ``None``: no way was found with little work."""
    kinds = np.flatnonzero(demand)
    if not len(kinds):
        return []
    part = Packing(sizes=problem.sizes[kinds], demand=demand[kinds], capacity=problem.capacity)
    if bars < bound_by_length(part):
        return None
    found: list[Counts] | None = best_fit(part, part.demand)
    for way in (part, *(coarsened(part, rooms) for rooms in ROOMS)):
        if found is not None and len(found) <= bars:
            break
        found = None if way is None or bars < bound_by_length(way) else fill_bars(way, bars)
    if found is None or len(found) > bars:
        return None
    wide = np.zeros((len(found), len(demand)), dtype=np.int64)
    wide[:, kinds] = found
    return list(wide)
