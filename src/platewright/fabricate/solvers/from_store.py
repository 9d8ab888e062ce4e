"""Which pieces come out of off-cuts in store, so that the fewest new bars are cut.

The bound holds for any prices of pieces: what the demand is worth, less the most that each
off-cut can give, over the most that a new bar can give (the dual of cutting from bars of
several lengths; P. C. Gilmore, R. E. Gomory, Operations Research 11 (1963) 863-888).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from platewright.fabricate.solvers.fewest_bars import fewest_bars
from platewright.fabricate.solvers.packing import Counts, Packed, Packing, fullest_bar
from platewright.fabricate.solvers.patterns import PRICE_GRAIN, master_of

POWERS: Final = (1, 2, 4)  # how much a long piece counts before two short ones, in filling


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """Contents of off-cuts (``None``: stays in store) and of new bars, and the bound on these."""

    offcuts: tuple[Counts | None, ...]
    packed: Packed


def cut_with_store(problem: Packing, rooms: Sequence[int]) -> Cut:
    """Return the fewest new bars found beside off-cuts of these rooms.

    A piece that no new bar takes must come out of an off-cut; where it can't, ``ValueError``.
    """
    alone = fewest_bars(problem) if int(problem.sizes[0]) <= problem.capacity else None
    none: tuple[Counts | None, ...] = (None,) * len(rooms)
    best = None if alone is None else Cut(offcuts=none, packed=alone)
    for order in (sorted(range(len(rooms)), key=lambda at: (-rooms[at], at)),
                  sorted(range(len(rooms)), key=lambda at: (rooms[at], at))):  # fmt: skip
        for power in POWERS:
            found = _filled(problem, rooms, order, power)
            if found is not None and (best is None or _rank(found) < _rank(best)):
                best = found
    if best is None:
        raise ValueError("a piece fits neither a bar nor what is left of the off-cuts")
    bound = max(_bound(problem, rooms, prices) for prices in _prices(problem, best.packed.bars))
    used = len(best.packed.bars)
    return Cut(offcuts=best.offcuts, packed=Packed(bars=best.packed.bars, bound=min(bound, used)))


def _filled(problem: Packing, rooms: Sequence[int], order: Sequence[int], power: int) -> Cut | None:
    """Return the cut with off-cuts filled one after the other; ``None``: a long piece is left."""
    demand = problem.demand.copy()
    contents: list[Counts | None] = [None] * len(rooms)
    scaled = np.maximum(1, (problem.sizes / problem.sizes[0]) ** (power - 1) * 1000)
    values = (problem.sizes * scaled.astype(np.int64)).astype(np.int64)
    for at in order:
        _, content, _ = fullest_bar(values, sizes=problem.sizes, limits=demand, capacity=rooms[at])
        if content.any():
            contents[at] = content
            demand = demand - content
    left = demand > 0
    if (problem.sizes[left] > problem.capacity).any():
        return None
    if not left.any():
        return Cut(offcuts=tuple(contents), packed=Packed(bars=(), bound=0))
    packed = fewest_bars(
        Packing(sizes=problem.sizes[left], demand=demand[left], capacity=problem.capacity)
    )
    return Cut(
        offcuts=tuple(contents),
        packed=Packed(
            bars=tuple(_widened(bar, np.flatnonzero(left), len(left)) for bar in packed.bars),
            bound=0,
        ),
    )


def _widened(bar: Counts, kinds: Counts, n: int) -> Counts:
    whole = np.zeros(n, dtype=np.int64)
    whole[kinds] = bar
    return whole


def _rank(cut: Cut) -> tuple[int, int]:
    """Fewest new bars, then the most pieces out of off-cuts."""
    taken = sum(int(content.sum()) for content in cut.offcuts if content is not None)
    return len(cut.packed.bars), -taken


def _prices(problem: Packing, bars: Sequence[Counts]) -> list[Counts]:
    """Return whole prices of the sizes: by length, and by the contents that were found."""
    found = [problem.sizes]
    if bars and (np.sum(bars, axis=0) >= problem.demand).all():
        solved = master_of(problem, bars).solve(problem.demand)
        if solved is not None:
            found.append(np.floor(np.maximum(solved[1], 0.0) * PRICE_GRAIN).astype(np.int64))
    return found


def _bound(problem: Packing, rooms: Sequence[int], prices: Counts) -> int:
    """Return the fewest new bars that these prices allow."""
    most, _, _ = fullest_bar(
        prices, sizes=problem.sizes, limits=problem.demand, capacity=problem.capacity
    )
    worth = sum(p * d for p, d in zip(prices.tolist(), problem.demand.tolist(), strict=True))
    for room in rooms:
        worth -= fullest_bar(prices, sizes=problem.sizes, limits=problem.demand, capacity=room)[0]
    return 0 if worth <= 0 or most == 0 else -(-worth // most)
