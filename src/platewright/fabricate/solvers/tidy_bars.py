"""Among cuts of as many bars: few different contents, and what is left in one long piece."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product
from typing import Final

import numpy as np

from platewright.fabricate.solvers.packing import Counts, Packing, fullest_bar

MOST_MOVES: Final = 300
MOST_KINDS: Final = 60  # with more sizes than this, contents hardly ever repeat


def tidy(problem: Packing, bars: Sequence[Counts]) -> list[Counts]:
    """Return as many bars, with the fewest different contents found, then the longest rest."""
    ways = [list(bars), one_rest(problem, bars)]
    if len(problem.sizes) <= MOST_KINDS:
        repeated = repeat_contents(problem, len(bars))
        if len(repeated) == len(bars):
            ways += [repeated, one_rest(problem, repeated)]
    return min(ways, key=lambda way: _rank(problem, way))


def rests(problem: Packing, bars: Sequence[Counts]) -> list[int]:
    """Return what is left of each bar."""
    return [problem.capacity - int(bar @ problem.sizes) for bar in bars]


def different(bars: Sequence[Counts]) -> int:
    """Return how many different contents there are: the saw's stop is set as often."""
    return len({tuple(bar.tolist()) for bar in bars})


def repeat_contents(problem: Packing, bars: int) -> list[Counts]:
    """Return bars cut by as few contents as can be, each as often as its pieces last.

    May need more than ``bars``. Of contents that waste no more than a fair share of what is
    spare, the one that can be repeated most often.
    """
    demand = problem.demand.copy()
    found: list[Counts] = []
    while demand.any():
        spare = (bars - len(found)) * problem.capacity - int(demand @ problem.sizes)
        fair = max(0, spare) // max(1, bars - len(found))
        content, times = _repeated(problem, demand, fair)
        found += [content] * times
        demand = demand - content * times
    return found


def one_rest(problem: Packing, bars: Sequence[Counts]) -> list[Counts]:
    """Return the same bars with pieces moved and exchanged until one rest is as long as can be."""
    if not bars:
        return []
    moved = [bar.copy() for bar in bars]
    for _ in range(MOST_MOVES):
        left = rests(problem, moved)
        emptiest = max(range(len(moved)), key=lambda at: (left[at], -at))
        best = (0, 0, 0, 0)
        none = len(problem.sizes)
        here = [*np.flatnonzero(moved[emptiest]).tolist()]
        for other, bar in enumerate(moved):
            if other == emptiest:
                continue
            there = [*np.flatnonzero(bar).tolist(), none]
            for out, back in product(here, there):
                gain = int(problem.sizes[out]) - (int(problem.sizes[back]) if back < none else 0)
                if best[0] < gain <= left[other]:
                    best = (gain, other, out, back)
        gain, other, out, back = best
        if gain == 0:
            break
        moved[emptiest][out] -= 1
        moved[other][out] += 1
        if back < none:
            moved[other][back] -= 1
            moved[emptiest][back] += 1
    return [bar for bar in moved if bar.any()]


def _rank(problem: Packing, bars: Sequence[Counts]) -> tuple[int, int, int]:
    return len(bars), different(bars), -max(rests(problem, bars), default=0)


def _repeated(problem: Packing, demand: Counts, fair: int) -> tuple[Counts, int]:
    for times in range(int(demand.max()), 0, -1):
        _, content, _ = fullest_bar(
            problem.sizes, sizes=problem.sizes, limits=demand // times, capacity=problem.capacity
        )
        waste = problem.capacity - int(content @ problem.sizes)
        if content.any() and (waste <= fair or times == 1):
            return content, times
    raise AssertionError("a piece longer than the bar")
