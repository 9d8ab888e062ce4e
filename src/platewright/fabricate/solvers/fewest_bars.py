"""The fewest bars: from the quick ways to the sure ones, until bars and bound agree."""

from __future__ import annotations

from typing import Final

from platewright.fabricate.solvers.full_bars import QUICK, THOROUGH, choose_full, fill_bars
from platewright.fabricate.solvers.packing import (
    Packed,
    Packing,
    best_fit,
    bound_by_big_pieces,
    bound_by_length,
)
from platewright.fabricate.solvers.patterns import dives, master_of, raise_bound, search_contents

SEED: Final = 1


def fewest_bars(problem: Packing, *, seed: int = SEED) -> Packed:
    """Return the fewest bars found and the bound that judges them.

    Every budget counts work, not time: the same list gives the same bars.
    """
    bound = max(bound_by_length(problem), bound_by_big_pieces(problem))
    packed = Packed(bars=tuple(best_fit(problem, problem.demand)), bound=bound)
    packed = choose_full(problem, _filled(problem, packed), work=QUICK)
    if packed.is_proven:
        return packed
    master = master_of(problem, packed.bars)
    raised = raise_bound(master, packed)
    if raised > packed.bound:
        packed = _filled(problem, Packed(bars=packed.bars, bound=raised))
    if not packed.is_proven:
        packed = dives(master, packed, seed=seed)
    if not packed.is_proven:
        packed = choose_full(problem, packed, work=THOROUGH)
    return packed if packed.is_proven else search_contents(master, packed)


def _filled(problem: Packing, packed: Packed) -> Packed:
    """Return bars filled one by one, where that comes down to the bound."""
    if packed.is_proven:
        return packed
    bars = fill_bars(problem, packed.bound)
    return packed if bars is None else Packed(bars=tuple(bars), bound=packed.bound)
