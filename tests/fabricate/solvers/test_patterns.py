"""Column generation against planted optima, tried-out optima, and a published gap."""

import random
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from platewright.fabricate.solvers.packing import Packed, Packing, best_fit, packing_of
from platewright.fabricate.solvers.patterns import (
    dives,
    every_content,
    master_of,
    raise_bound,
    search_contents,
    whole_contents,
)


def planted_triplets(bars: int, seed: int, capacity: int) -> list[int]:
    """Return pieces of whole bars, each cut in three: the optimum is the bars drawn."""
    chance, pieces = random.Random(seed), []
    for _ in range(bars):
        first = chance.randint(capacity // 4, capacity // 2)
        second = chance.randint(capacity // 4, capacity * 4 // 5 - first)
        pieces += [first, second, capacity - first - second]
    return pieces


def from_scratch(problem: Packing, seed: int = 1) -> Packed:
    """Improve the worst start: each piece in its own bar, bound 1."""
    alone = np.eye(len(problem.sizes), dtype=np.int64)
    bars = [alone[kind] for kind, need in enumerate(problem.demand) for _ in range(need)]
    master = master_of(problem, bars)
    start = Packed(bars=tuple(bars), bound=1)
    raised = Packed(bars=start.bars, bound=raise_bound(master, start))
    return search_contents(master, dives(master, raised, seed=seed))


@pytest.mark.parametrize(("bars", "seed"), [(5, 1), (10, 2), (15, 3)])
def test_planted_triplets_are_found_and_proven(bars: int, seed: int) -> None:
    problem = packing_of(planted_triplets(bars, seed, 2003), 2003)
    packed = from_scratch(problem)
    assert (len(packed.bars), packed.bound) == (bars, bars)
    assert len(best_fit(problem, problem.demand)) > bars  # best fit alone does not get there


def test_fieldhouse_gap_is_closed_by_trying_every_content() -> None:
    """132 long; 2 of 44, 3 of 33, 6 of 12: 3 bars though 1.96 would hold the length.

    Source: M. Fieldhouse, The duality gap in trim problems, SICUP Bulletin 5 (1990).
    """
    packed = from_scratch(packing_of([44] * 2 + [33] * 3 + [12] * 6, 132))
    assert (len(packed.bars), packed.bound) == (3, 3)


@settings(max_examples=25, deadline=None)
@given(st.lists(st.integers(5, 60), min_size=1, max_size=9))
def test_small_lists_come_to_the_optimum(sizes: list[int]) -> None:
    problem = packing_of(sizes, 60)
    packed = from_scratch(problem)
    assert np.array_equal(np.sum(packed.bars, axis=0), problem.demand)
    assert all(int(bar @ problem.sizes) <= problem.capacity for bar in packed.bars)
    assert len(packed.bars) == packed.bound == fewest_by_sets(sizes, 60)


def fewest_by_sets(sizes: list[int], capacity: int) -> int:
    """Return the optimum over all sets of pieces: fewest bars, then least in the last bar."""
    best = {0: (1, 0)}
    for chosen in range(1, 1 << len(sizes)):
        options = []
        for at, size in enumerate(sizes):
            if chosen >> at & 1:
                bars, used = best[chosen ^ (1 << at)]
                fits = used + size <= capacity
                options.append((bars, used + size) if fits else (bars + 1, size))
        best[chosen] = min(options)
    return best[(1 << len(sizes)) - 1][0]


def test_bound_is_never_read_from_contents_that_are_not_all() -> None:
    problem = packing_of([30] * 4, 60)
    single = [np.array([1], dtype=np.int64)]
    assert whole_contents(problem, single, 2).impossible  # with these contents, not in truth
    assert from_scratch(problem).bound == 2


def test_every_content_is_maximal_and_complete() -> None:
    problem = packing_of([3, 3, 2], 5)
    found = every_content(problem, 100)
    assert found is not None
    assert sorted(c.tolist() for c in found) == [[1, 1]]
    assert every_content(packing_of(list(range(1, 30)), 60), 50) is None


def test_same_seed_same_bars() -> None:
    problem = packing_of(planted_triplets(12, 5, 2003), 2003)
    once, again = from_scratch(problem), from_scratch(problem)
    assert [b.tolist() for b in once.bars] == [b.tolist() for b in again.bars]


def test_solver_prints_nothing(capfd: pytest.CaptureFixture[str]) -> None:
    from_scratch(packing_of(planted_triplets(5, 1, 2003), 2003))
    assert capfd.readouterr().out == ""


def test_hard_lists_end_within_their_work_and_lose_nothing() -> None:
    """Twelve full bars of four odd pieces: random dives run, whatever they find is sound."""
    chance, pieces = random.Random(7), []
    for _ in range(12):
        cuts = sorted(chance.sample(range(50, 1950), 3))
        pieces += [b - a for a, b in pairwise([0, *cuts, 2003])]
    problem = packing_of(pieces, 2003)
    for seed in (1, 2, 3):
        packed = from_scratch(problem, seed)
        assert np.array_equal(np.sum(packed.bars, axis=0), problem.demand)
        assert all(int(bar @ problem.sizes) <= problem.capacity for bar in packed.bars)
        assert 12 <= len(packed.bars) <= len(best_fit(problem, problem.demand))
        assert packed.bound == 12
