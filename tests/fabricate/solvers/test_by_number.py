"""The bound by number against every way to cut short lists; two lots on lists of pieces alike."""

from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutting_lists import alike, long_bar
from platewright.fabricate.solvers.by_number import bound_by_number, in_two_lots
from platewright.fabricate.solvers.fewest_bars import fewest_bars
from platewright.fabricate.solvers.packing import bound_by_length, packing_of

ROOM = 60


def fewest(sizes: list[int], room: int) -> int:
    """Return the optimum by trying each piece in every open bar (no code shared)."""

    @cache
    def best(left: tuple[int, ...], rooms: tuple[int, ...]) -> int:
        if not left:
            return len(rooms)
        piece, rest = left[0], left[1:]
        tries = [best(rest, tuple(sorted((*rooms, room - piece))))]
        for at in range(len(rooms)):
            if rooms[at] >= piece:
                now = [*rooms[:at], rooms[at] - piece, *rooms[at + 1 :]]
                tries.append(best(rest, tuple(sorted(now))))
        return min(tries)

    return best(tuple(sorted(sizes, reverse=True)), ())


@settings(deadline=None)
@given(st.lists(st.integers(5, ROOM), min_size=1, max_size=8))
def test_the_bound_never_passes_the_optimum(sizes: list[int]) -> None:
    problem = packing_of(sizes, ROOM)
    assert 1 <= bound_by_number(problem) <= fewest(sizes, ROOM)


@pytest.mark.parametrize(
    ("sizes", "by_length", "by_number"),
    [
        ([35] + [34] * 6, 3, 4),  # two a bar, and seven of them
        ([35] + [34] * 6 + [4] * 5, 3, 4),  # short ones change nothing
        ([39] * 4 + [31] * 4, 3, 4),  # two of three must take three: 4 x 31 + 2 x 39 = 202
        ([39] * 4 + [31, 31, 30, 30], 3, 3),
    ],
)
def test_number_by_hand(sizes: list[int], by_length: int, by_number: int) -> None:
    problem = packing_of(sizes, 100)
    assert (bound_by_length(problem), bound_by_number(problem)) == (by_length, by_number)


@pytest.mark.parametrize("of", [long_bar(200, 6), long_bar(200, 21), alike(300, 9), alike(300, 47)])
def test_lists_of_pieces_alike_are_proven(of) -> None:  # each was left open without one of the two
    problem = packing_of(of.sizes, of.room)
    packed = fewest_bars(problem)
    assert packed.is_proven
    assert np.array_equal(np.sum(packed.bars, axis=0), problem.demand)
    assert all(int(bar @ problem.sizes) <= problem.capacity for bar in packed.bars)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.integers(10, ROOM), min_size=1, max_size=14), st.integers(1, 8))
def test_two_lots_lose_nothing(sizes: list[int], bars: int) -> None:
    problem = packing_of(sizes, ROOM)
    found = in_two_lots(problem, bars)
    if found is not None:
        assert len(found) <= bars
        assert np.array_equal(np.sum(found, axis=0), problem.demand)
        assert all(int(bar @ problem.sizes) <= problem.capacity for bar in found)
