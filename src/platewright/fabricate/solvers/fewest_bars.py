"""The fewest bars: from the quick ways to the sure ones, until bars and bound agree."""

from __future__ import annotations

from typing import Final

from platewright.fabricate.solvers.by_number import bound_by_number, in_two_lots
from platewright.fabricate.solvers.full_bars import (
    QUICK,
    THOROUGH,
    choose_full,
    choose_without_rest,
    fill_bars,
)
from platewright.fabricate.solvers.packing import (
    Packed,
    Packing,
    best_fit,
    bound_by_big_pieces,
    bound_by_length,
    bound_by_prices,
    coarsened,
    relaxed,
)
from platewright.fabricate.solvers.patterns import (
    Master,
    dives,
    master_of,
    raise_bound,
    search_contents,
    whole_prices,
)

SEED: Final = 1
ROUGH_FROM: Final = 3_000_000  # sizes times rooms of a bar
COARSE: Final = 4_000  # rooms of a bar told apart in the rough search
FINE: Final = 20_000  # and in its bound
TURNS: Final = 2  # of dives, each with its own budget
GOALS: Final = 3  # numbers of bars from the bound on that filling is tried for


def fewest_bars(problem: Packing, *, seed: int = SEED) -> Packed:
    """Return the fewest bars found and the bound that judges them.

    Every budget counts work, not time: the same list gives the same bars.
    """
    bound = max(bound_by_length(problem), bound_by_big_pieces(problem))
    packed = Packed(bars=tuple(best_fit(problem, problem.demand)), bound=bound)
    if not packed.is_proven:
        packed = Packed(bars=packed.bars, bound=max(bound, bound_by_number(problem)))
    packed = choose_full(problem, _filled(problem, packed), work=QUICK)
    if packed.is_proven:
        return packed
    if _leaves_no_rest(problem, packed.bound):
        # prices tell nothing then, and sizes rounded up find nothing
        packed = choose_without_rest(problem, packed)
        if packed.is_proven or _leaves_no_rest(problem, packed.bound):
            return packed
    rough = _rough(problem)
    if rough is None:
        master = master_of(problem, packed.bars)
        packed = _raised(problem, packed, raise_bound(master, packed))
    else:
        master = rough
        packed = _raised(problem, packed, _rough_bound(problem, rough))
    for turn in range(TURNS):
        packed = _dived(master, packed, seed + turn)
    if not packed.is_proven:
        packed = choose_full(problem, packed, work=THOROUGH)
    if packed.is_proven or rough is not None:
        return packed
    return search_contents(master, packed)


def _leaves_no_rest(problem: Packing, bars: int) -> bool:
    """Tell whether so many bars are just as long as all pieces together."""
    return bars * problem.capacity == int(problem.sizes @ problem.demand)


def _raised(problem: Packing, packed: Packed, bound: int) -> Packed:
    """Return the bars with a higher bound, filled one by one anew for it."""
    if bound <= packed.bound:
        return packed
    return _filled(problem, Packed(bars=packed.bars, bound=min(bound, len(packed.bars))))


def _dived(master: Master, packed: Packed, seed: int) -> Packed:
    return packed if packed.is_proven else dives(master, packed, seed=seed)


def _rough_bound(problem: Packing, rough: Master) -> int:
    """Return the bound that the rough prices give on sizes rounded down."""
    solved = rough.solve(problem.demand)
    return 0 if solved is None else bound_by_prices(relaxed(problem, FINE), whole_prices(solved[1]))


def _filled(problem: Packing, packed: Packed) -> Packed:
    """Return bars filled in two lots or one by one, where those are fewer."""
    for goal in range(packed.bound, min(packed.bound + GOALS, len(packed.bars))):
        bars = in_two_lots(problem, goal) or fill_bars(problem, goal)
        if bars is not None:
            return Packed(bars=tuple(bars), bound=packed.bound)
    return packed


def _rough(problem: Packing) -> Master | None:
    """Return the linear program of the problem in a coarse grain; ``None``: there is no need.

    Long bars in tenths have so many rooms that looking for contents takes too long in them; what
    is found here fits them as well.
    """
    is_small = len(problem.sizes) * problem.capacity <= ROUGH_FROM
    coarse = None if is_small else coarsened(problem, COARSE)
    if coarse is None:
        return None
    bars = tuple(best_fit(coarse, coarse.demand))
    rough = master_of(coarse, bars, exact=problem)
    raise_bound(rough, Packed(bars=bars, bound=0))  # for its contents: it bounds nothing here
    return rough
