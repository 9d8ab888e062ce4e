"""Filling bars with pieces: how many bars are enough, how many are needed at least.

Everything counts in whole units of one grain (tenths of a millimetre). A bar takes any pieces
whose sizes add up to its capacity or less.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import gcd
from typing import Final

import numpy as np
import numpy.typing as npt

from platewright.fabricate.kernels.knapsack import best_content, best_content_surely

QUICK_STEPS: Final = 20_000  # of the quick search for a content, before the sure one

Counts = npt.NDArray[np.int64]  # shape (n_sizes,): how many pieces of each size


@dataclass(frozen=True, slots=True, kw_only=True)
class Packing:
    """Bars to fill: distinct sizes in falling order, how many of each, and the room in a bar."""

    sizes: Counts
    demand: Counts
    capacity: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Packed:
    """Bars as pieces of each size, and the fewest bars that could do. Optimal when they agree."""

    bars: tuple[Counts, ...]
    bound: int

    @property
    def is_proven(self) -> bool:
        """Whether no fewer bars can do."""
        return len(self.bars) == self.bound


def packing_of(sizes: list[int], capacity: int) -> Packing:
    """Return the problem of cutting these sizes, in the coarsest grain that they all share."""
    distinct, demand = np.unique(np.array(sizes, dtype=np.int64), return_counts=True)
    grain = gcd(*distinct.tolist())
    return Packing(
        sizes=distinct[::-1] // grain,
        demand=demand[::-1].astype(np.int64),
        capacity=capacity // grain,
    )


def coarsened(problem: Packing, most: int) -> Packing | None:
    """Return the problem in a grain that leaves a capacity of at most ``most``, sizes rounded up.

    What fits then fits in truth; a bound on it bounds nothing. ``None``: it is coarse already.
    """
    grain = -(-problem.capacity // most)
    if grain <= 1:
        return None
    return Packing(
        sizes=-(-problem.sizes // grain),
        demand=problem.demand,
        capacity=problem.capacity // grain,
    )


def relaxed(problem: Packing, most: int) -> Packing:
    """Return the problem in a grain as coarse, sizes rounded down: what bounds it bounds this."""
    grain = max(1, -(-problem.capacity // most))
    return Packing(
        sizes=problem.sizes // grain, demand=problem.demand, capacity=problem.capacity // grain
    )


def bound_by_prices(problem: Packing, prices: Counts) -> int:
    """Return the fewest bars that whole prices of the sizes allow; any prices give a bound.

    The demand's worth over the most a bar can hold (A. A. Farley, Operations Research 38 (1990)
    922-923).
    """
    most, _, _ = fullest_bar(
        prices, sizes=problem.sizes, limits=problem.demand, capacity=problem.capacity
    )
    # Python's whole numbers: the sum may pass 63 bits
    each = zip(prices.tolist(), problem.demand.tolist(), strict=True)
    return 0 if most == 0 else -(-sum(price * need for price, need in each) // most)


def best_fit(problem: Packing, demand: Counts) -> list[Counts]:
    """Return bars by best fit, longest first: each piece goes where the least room is left."""
    bars: list[Counts] = []
    room: list[int] = []
    for kind, size in enumerate(problem.sizes.tolist()):
        for _ in range(int(demand[kind])):
            fitting = [(left, at) for at, left in enumerate(room) if left >= size]
            if fitting:
                at = min(fitting)[1]
            else:
                at = len(bars)
                bars.append(np.zeros(len(problem.sizes), dtype=np.int64))
                room.append(problem.capacity)
            bars[at][kind] += 1
            room[at] -= size
    return bars


def bound_by_length(problem: Packing) -> int:
    """Return the bars that the whole length needs, were it liquid."""
    total = int(problem.sizes @ problem.demand)
    return -(-total // problem.capacity)


def bound_by_big_pieces(problem: Packing) -> int:
    """Return the bars needed because big pieces can't share one.

    Source: S. Martello, P. Toth, Lower bounds and reduction procedures for the bin packing
    problem, Discrete Applied Mathematics 28 (1990) 59-70: bound L2.
    """
    sizes, demand, capacity = problem.sizes, problem.demand, problem.capacity
    half = sizes * 2 > capacity
    best = 0
    for small in [0, *sizes[~half].tolist()]:
        alone = sizes > capacity - small
        middle = half & ~alone
        filler = ~half & (sizes >= small)
        room = int(demand[middle].sum()) * capacity - int(sizes[middle] @ demand[middle])
        excess = int(sizes[filler] @ demand[filler]) - room
        more = max(0, -(-excess // capacity))
        best = max(best, int(demand[alone].sum()) + int(demand[middle].sum()) + more)
    return best


def fullest_bar(
    values: Counts, *, sizes: Counts, limits: Counts, capacity: int, enough: int | None = None
) -> tuple[int, Counts, bool]:
    """Return the most valuable content of one bar: its value, its pieces, whether it is the most.

    In whole numbers, hence exact. Once a content worth more than ``enough`` is found and the
    quick search does not end by itself, that content will do.
    """
    pieces = np.zeros(len(sizes), dtype=np.int64)
    useful = np.flatnonzero((values > 0) & (limits > 0) & (sizes <= capacity))
    order = useful[np.argsort(-(values[useful] / sizes[useful]), kind="stable")]
    value, is_most = best_content(values, sizes, limits, order, capacity, QUICK_STEPS, pieces)
    if not is_most and (enough is None or value <= enough):
        value, is_most = best_content_surely(values, sizes, limits, capacity, pieces), True
    return int(value), pieces, is_most
