"""Lists of every kind: proven, no planted optimum missed, the same twice."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutting_lists import CLASSES, CuttingList, long_bar, many_per_bar, odd_triplets, triplets
from platewright.fabricate.solvers.fewest_bars import fewest_bars
from platewright.fabricate.solvers.packing import (
    Packing,
    bound_by_prices,
    coarsened,
    packing_of,
    relaxed,
)


def cut(of: CuttingList) -> tuple[Packing, list[np.ndarray], int]:
    problem = packing_of(of.sizes, of.room)
    packed = fewest_bars(problem)
    bars = list(packed.bars)
    assert np.array_equal(np.sum(bars, axis=0), problem.demand)
    assert all(int(bar @ problem.sizes) <= problem.capacity for bar in bars)
    return problem, bars, packed.bound


@pytest.mark.parametrize("make", [make for make, _ in CLASSES], ids=lambda make: make.__name__)
def test_every_class_is_proven(make) -> None:
    """Two lists of the middle size of each class; the bench measures them all."""
    amounts = dict(CLASSES)[make]
    for seed in (1, 2):
        of = make(amounts[len(amounts) // 2], seed)
        _, bars, bound = cut(of)
        assert len(bars) == bound
        if of.planted is not None:
            assert len(bars) == of.planted


@pytest.mark.parametrize(
    "of",
    [triplets(100, 3), odd_triplets(70, 2), many_per_bar(37, 4), long_bar(100, 1)],
    ids=lambda of: of.kind,
)
def test_large_lists_of_the_hard_kinds(of: CuttingList) -> None:
    _, bars, bound = cut(of)
    assert len(bars) == bound


def test_what_is_not_proven_keeps_its_bound_below_the_planted_optimum() -> None:
    """A hundred bars in three odd pieces have hardly another cut than the planted one."""
    of = odd_triplets(100, 0)
    _, bars, bound = cut(of)
    assert bound == 100 <= len(bars) <= 102


def test_the_same_list_gives_the_same_bars() -> None:
    of = triplets(40, 5)
    assert [b.tolist() for b in cut(of)[1]] == [b.tolist() for b in cut(of)[1]]


@settings(max_examples=40, deadline=None)
@given(st.lists(st.integers(700, 6000), min_size=1, max_size=12))
def test_rough_grains_err_on_their_own_side(sizes: list[int]) -> None:
    """Rounded up: what fits, fits in truth. Rounded down: a bound on it is a bound."""
    problem = packing_of([*sizes, 701, 702], 9001)  # these two share no grain
    coarse, loose = coarsened(problem, 400), relaxed(problem, 400)
    assert coarse is not None
    rough = fewest_bars(coarse)
    assert all(int(bar @ problem.sizes) <= problem.capacity for bar in rough.bars)
    fewest = fewest_bars(problem)
    assert bound_by_prices(loose, problem.sizes) <= len(fewest.bars) <= len(rough.bars)
