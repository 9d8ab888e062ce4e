"""Bounds and best fit against exact answers found by trying everything."""

from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from platewright.fabricate.solvers.packing import (
    Packing,
    best_fit,
    bound_by_big_pieces,
    bound_by_length,
    fullest_bar,
    packing_of,
)

CAPACITY = 60
few_sizes = st.lists(st.integers(1, CAPACITY), min_size=1, max_size=8)


def fewest_bars(sizes: list[int], capacity: int) -> int:
    """Return the optimum by trying each piece in every open bar (no code shared)."""

    @cache
    def best(left: tuple[int, ...], room: tuple[int, ...]) -> int:
        if not left:
            return len(room)
        piece, rest = left[0], left[1:]
        tries = [best(rest, tuple(sorted((*room, capacity - piece))))]
        for at in range(len(room)):
            if room[at] >= piece:
                now = [*room[:at], room[at] - piece, *room[at + 1 :]]
                tries.append(best(rest, tuple(sorted(now))))
        return min(tries)

    return best(tuple(sorted(sizes, reverse=True)), ())


@given(few_sizes)
def test_bounds_never_pass_the_optimum_and_best_fit_never_beats_it(sizes: list[int]) -> None:
    problem = packing_of(sizes, CAPACITY)
    optimum = fewest_bars(sizes, CAPACITY)
    assert bound_by_length(problem) <= optimum
    assert bound_by_length(problem) <= bound_by_big_pieces(problem) <= optimum
    assert len(best_fit(problem, problem.demand)) >= optimum


def test_big_pieces_bound_sees_what_length_does_not() -> None:
    # ten pieces just over half: ten bars, where the length says six
    problem = Packing(sizes=np.array([51]), demand=np.array([10]), capacity=100)
    assert bound_by_length(problem) == 6
    assert bound_by_big_pieces(problem) == 10


@given(few_sizes)
def test_best_fit_places_every_piece_within_the_bar(sizes: list[int]) -> None:
    problem = packing_of(sizes, CAPACITY)
    bars = best_fit(problem, problem.demand)
    assert np.array_equal(np.sum(bars, axis=0), problem.demand)
    assert all(int(bar @ problem.sizes) <= problem.capacity for bar in bars)


def test_common_grain_keeps_what_fits() -> None:
    problem = packing_of([500, 1000, 500], 1990)
    assert problem.sizes.tolist() == [2, 1]
    assert problem.demand.tolist() == [1, 2]
    assert problem.capacity == 3


@settings(deadline=None)
@given(
    st.lists(
        st.tuples(st.integers(0, 50), st.integers(1, 30), st.integers(0, 5)),
        min_size=1,
        max_size=5,
    ),
    st.integers(1, 60),
)
def test_fullest_bar_against_every_content(kinds: list[tuple[int, int, int]], room: int) -> None:
    values, sizes, limits = (
        np.array(column, dtype=np.int64) for column in zip(*kinds, strict=True)
    )
    worth, pieces, is_most = fullest_bar(values, sizes=sizes, limits=limits, capacity=room)
    ranges = [range(int(limit) + 1) for limit in limits]
    contents = np.stack(np.meshgrid(*ranges, indexing="ij"), axis=-1).reshape(-1, len(kinds))
    fitting = contents[contents @ sizes <= room]
    assert is_most
    assert worth == int((fitting @ values).max())
    assert worth == int(pieces @ values)
    assert int(pieces @ sizes) <= room
    assert (pieces <= limits).all()


@pytest.mark.parametrize("bars", [1, 7])
def test_full_bars_are_bounded_by_their_length(bars: int) -> None:
    problem = Packing(sizes=np.array([60]), demand=np.array([bars]), capacity=60)
    assert bound_by_length(problem) == bars
