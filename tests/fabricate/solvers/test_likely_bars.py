"""Likeliest contents first: exact against every way, and the twins in plain Python."""

import numpy as np
import pytest

from cutting_lists import three_per_bar, triplets
from platewright.fabricate.kernels import exact_cut as exact
from platewright.fabricate.kernels import likely
from platewright.fabricate.kernels.cover import FOUND, GIVEN_UP, IMPOSSIBLE
from platewright.fabricate.kernels.reach import full_contents
from platewright.fabricate.solvers.fewest_bars import fewest_bars
from platewright.fabricate.solvers.full_bars import choose_without_rest
from platewright.fabricate.solvers.likely_bars import likely_bars
from platewright.fabricate.solvers.packing import Packed, best_fit, packing_of


def bars_of_three(bars: int, seed: int, *, spoilt: bool = False) -> tuple[np.ndarray, np.ndarray]:
    """Return all contents and the demand of whole bars of 1000; ``spoilt``: two sizes moved."""
    return listed_bars(bars, seed, spoilt=spoilt)[1:]


def listed_bars(bars: int, seed: int, *, spoilt: bool) -> tuple[list[int], np.ndarray, np.ndarray]:
    """Return the same after the sizes of all pieces."""
    chance = np.random.default_rng(seed)
    cuts = np.sort(chance.integers(0, 341, size=(bars, 2)), axis=1)
    pieces = np.column_stack((cuts[:, 0], cuts[:, 1] - cuts[:, 0], 340 - cuts[:, 1])) + 220
    if spoilt:
        pieces[0, 0] += 1
        pieces[1, 0] -= 1
    sizes, counts = np.unique(pieces, return_counts=True)
    sizes, demand = sizes[::-1].copy(), counts[::-1].copy()
    found = np.zeros((2000, len(sizes)), np.int16)
    many, is_all = full_contents(sizes, demand, 1000, 0, found, 10**7)
    assert is_all
    return pieces.ravel().tolist(), found[:many], demand


def all_tried(contents: np.ndarray, demand: np.ndarray) -> tuple[int, int, np.ndarray]:
    given, none = np.ones(len(contents), dtype=np.bool_), np.zeros(len(contents))
    return exact.exact_cut(
        likely.linked(contents), demand, given, none, np.ones(len(demand)), 10**8
    )


@pytest.mark.parametrize("spoilt", [False, True])
@pytest.mark.parametrize("seed", range(8))
def test_found_exactly_where_trying_all_finds(seed: int, spoilt: bool) -> None:
    """Trying all is itself held against every way to cut (test_cutting)."""
    contents, demand = bars_of_three(12, seed, spoilt=spoilt)
    known, _, _ = all_tried(contents, demand)
    outcome, chosen = likely_bars(contents, demand, work=10**6)
    assert known in (FOUND, IMPOSSIBLE)
    assert outcome == known
    if outcome == FOUND:
        assert contents[chosen].sum(axis=0).tolist() == demand.tolist()


@pytest.mark.parametrize("seed", range(8))
def test_where_every_way_leaves_a_rest_one_bar_more_is_proven(seed: int) -> None:
    """Trying all tells which of the spoilt lists still come out even."""
    pieces, contents, demand = listed_bars(12, seed, spoilt=True)
    known, _, _ = all_tried(contents, demand)
    problem = packing_of(pieces, 1000)
    start = Packed(bars=tuple(best_fit(problem, problem.demand)), bound=12)
    packed = choose_without_rest(problem, start)
    assert np.array_equal(np.sum(packed.bars, axis=0), problem.demand)
    if known == FOUND:
        assert (len(packed.bars), packed.bound) == (12, 12)
    else:
        assert (len(packed.bars), packed.bound) == (len(start.bars), 13)


def test_many_ways_to_cut_are_met_by_starting_anew() -> None:
    """Both were left open when all ways were tried in order (seeds met by chance)."""
    for seed in (23, 24):
        of = triplets(100, seed)
        packed = fewest_bars(packing_of(of.sizes, of.room))
        assert (len(packed.bars), packed.bound) == (100, 100)


def test_it_gives_up_when_its_work_is_done() -> None:
    contents, demand = bars_of_three(40, 1)
    assert likely_bars(contents, demand, work=1)[0] == GIVEN_UP


def test_an_only_way_is_certain() -> None:
    """A and B serve size 0, B and C size 1, C and D size 2, only A and C size 3: A and C."""
    contents = np.array([[1, 0, 0, 1], [1, 1, 0, 0], [0, 1, 1, 0], [0, 0, 1, 0]], dtype=np.int16)
    demand = np.array([1, 1, 1, 1])
    lists, share = likely.linked(contents), np.zeros(4)
    odds = np.full(len(lists.kind), 0.2, dtype=np.float32)
    likely.estimate(lists, demand, np.ones(4, dtype=np.bool_), odds, 200, share)
    assert share[0] > 0.9
    assert share[2] > 0.9
    assert share[1] < 0.1


def test_plain_twins_tell_the_same() -> None:
    contents, demand = bars_of_three(9, 3)
    lists = likely.linked(contents)
    shares = []
    for kernel in (likely.estimate, likely.estimate.py_func):
        odds = np.full(len(lists.kind), 0.2, dtype=np.float32)
        share = np.zeros(len(contents))
        kernel(lists, demand, np.ones(len(contents), dtype=np.bool_), odds, 20, share)
        shares.append(share)
    assert shares[0] == pytest.approx(shares[1], abs=1e-4)
    given = np.ones(len(contents), dtype=np.bool_)
    astray = [np.ones(len(demand)) for _ in range(2)]
    one = exact.exact_cut(lists, demand, given, shares[0], astray[0], 10**5)
    other = exact.exact_cut.py_func(lists, demand, given, shares[0], astray[1], 10**5)
    assert (one[0], one[1], one[2].tolist()) == (other[0], other[1], other[2].tolist())
    assert astray[0].tolist() == astray[1].tolist()
    assert given.all()  # left as it was
    settled = []
    for kernel in (likely.settle, likely.settle.py_func):
        counts, is_open = demand.copy(), given.copy()
        taken = np.zeros(30, dtype=np.int64)
        many = kernel(lists, int(one[2][0]), counts, is_open, taken)
        settled.append((many, taken.tolist(), counts.tolist(), is_open.tolist()))
    assert settled[0] == settled[1]


@pytest.mark.parametrize(("bars", "seed"), [(70, 1), (70, 28), (70, 46), (100, 109)])
def test_bars_in_three_with_few_other_cuts(bars: int, seed: int) -> None:
    """The first three have hardly another cut; the last has many, among many more dead ends."""
    of = three_per_bar(bars, seed)
    problem = packing_of(of.sizes, of.room)
    packed = fewest_bars(problem)
    assert (len(packed.bars), packed.bound) == (bars, bars)
    assert np.array_equal(np.sum(packed.bars, axis=0), problem.demand)
