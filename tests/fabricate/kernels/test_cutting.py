"""Lengths that pieces add up to, and contents of a bar, against trying every choice."""

from itertools import product

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from platewright.fabricate.kernels import bar_by_bar as filling
from platewright.fabricate.kernels import cover as choosing
from platewright.fabricate.kernels import exact_cut, knapsack, likely, reach

kinds = st.lists(
    st.tuples(st.integers(3, 40), st.integers(1, 3)),
    min_size=1,
    max_size=5,
    unique_by=lambda k: k[0],
)


def arrays(chosen: list[tuple[int, int]]) -> tuple[np.ndarray, np.ndarray]:
    chosen = sorted(chosen, reverse=True)
    return np.array([s for s, _ in chosen], np.int64), np.array([c for _, c in chosen], np.int64)


def every_content(sizes: np.ndarray, counts: np.ndarray) -> list[tuple[int, ...]]:
    return list(product(*(range(int(count) + 1) for count in counts)))


@settings(max_examples=40, deadline=None)
@given(kinds)
def test_lengths_are_those_of_every_choice(chosen: list[tuple[int, int]]) -> None:
    sizes, counts = arrays(chosen)
    capacity = 130
    rows = np.zeros((len(sizes) + 1, (capacity >> 6) + 1), np.uint64)
    reach.lengths_of(sizes, counts, np.arange(len(sizes)), len(sizes), 0, rows)
    made = {int(np.dot(each, sizes)) for each in every_content(sizes, counts)}
    told = {v for v in range(capacity + 1) if reach.has_between(rows[0], v, v)}
    assert told == {v for v in made if v <= capacity}
    for most in (10, 64, 127):
        assert reach.longest(rows[0], most) == max(v for v in made if v <= most)


@settings(max_examples=40, deadline=None)
@given(kinds, st.integers(40, 130), st.integers(0, 20))
def test_full_contents_are_all_and_only_those(
    chosen: list[tuple[int, int]], capacity: int, waste: int
) -> None:
    sizes, counts = arrays(chosen)
    found = np.zeros((2000, len(sizes)), np.int16)
    many, is_all = reach.full_contents(sizes, counts.copy(), capacity, waste, found, 100_000)
    wanted = {
        each
        for each in every_content(sizes, counts)
        if any(each) and capacity - waste <= int(np.dot(each, sizes)) <= capacity
    }
    assert is_all
    assert sorted(map(tuple, found[:many].tolist())) == sorted(wanted)


def test_full_contents_say_when_there_may_be_more() -> None:
    sizes, counts = np.arange(30, 10, -1), np.full(20, 2)
    few = np.zeros((5, 20), np.int16)
    assert reach.full_contents(sizes, counts, 90, 5, few, 100_000) == (5, False)
    assert not reach.full_contents(sizes, counts, 90, 5, np.zeros((9000, 20), np.int16), 50)[1]


def planted(bars: int, seed: int) -> tuple[np.ndarray, np.ndarray]:
    chance = np.random.default_rng(seed)
    cuts = np.sort(chance.integers(0, 341, size=(bars, 2)), axis=1)
    pieces = np.column_stack((cuts[:, 0], cuts[:, 1] - cuts[:, 0], 340 - cuts[:, 1])) + 220
    sizes, counts = np.unique(pieces, return_counts=True)
    return sizes[::-1].copy(), counts[::-1].copy()


def test_plain_twins_give_the_same() -> None:
    """The compiled functions against themselves in plain Python, on whole bars of three."""
    for seed in (1, 2, 3):
        sizes, demand = planted(8, seed)
        args = (sizes, demand, 1000, 8, 3, 30, 5)
        assert filling.bar_by_bar(*args).tolist() == filling.bar_by_bar.py_func(*args).tolist()
        found = [np.zeros((500, len(sizes)), np.int16) for _ in range(2)]
        many, _ = reach.full_contents(sizes, demand, 1000, 0, found[0], 50_000)
        assert reach.full_contents.py_func(sizes, demand, 1000, 0, found[1], 50_000)[0] == many
        assert np.array_equal(*found)
        contents = found[0][:many]
        wasted = np.zeros(many, np.int64)
        more = (contents, wasted, demand, 8, 0, 4, 500)
        outcome, chosen = choosing.cover(*more)
        plain_outcome, plain = choosing.cover.py_func(*more)
        assert (outcome, chosen.tolist()) == (plain_outcome, plain.tolist())
        assert outcome == choosing.FOUND
        assert contents[chosen].sum(axis=0).tolist() == demand.tolist()
        values = sizes * 7 + np.arange(len(sizes)) % 5
        kept = [np.zeros(len(sizes), np.int64) for _ in range(4)]
        order = np.argsort(-(values / sizes), kind="stable")  # dearest for its size first
        quick = knapsack.best_content(values, sizes, demand, order, 1000, 10**6, kept[0])
        assert quick == knapsack.best_content.py_func(
            values, sizes, demand, order, 1000, 10**6, kept[1]
        )
        sure = knapsack.best_content_surely(values, sizes, demand, 1000, kept[2])
        assert sure == knapsack.best_content_surely.py_func(values, sizes, demand, 1000, kept[3])
        assert quick == (sure, True)
        assert np.array_equal(kept[0], kept[1])
        assert np.array_equal(kept[2], kept[3])


@settings(max_examples=60, deadline=None)
@given(st.lists(st.integers(20, 60), min_size=3, max_size=9), st.integers(1, 4))
def test_choosing_agrees_with_every_way(pieces: list[int], bars: int) -> None:
    """Found exactly where some way to cut without rest exists; else proven not to exist."""
    total = sum(pieces)
    if total % bars:
        return
    capacity = total // bars
    sizes, demand = np.unique(np.array(pieces, np.int64), return_counts=True)
    sizes, demand = sizes[::-1].copy(), demand[::-1].copy()
    found = np.zeros((600, len(sizes)), np.int16)
    many, is_all = reach.full_contents(sizes, demand, capacity, 0, found, 10**6)
    assert is_all
    if many == 0:
        return
    contents = found[:many]
    possible = can_be_cut(tuple(sorted(pieces)), capacity, bars)
    wasted = np.zeros(many, np.int64)
    given, none, astray = np.ones(many, np.bool_), np.zeros(many), np.ones(len(demand))
    tried = exact_cut.exact_cut(likely.linked(contents), demand, given, none, astray, 10**7)
    for outcome, chosen in (
        choosing.cover(contents, wasted, demand, bars, 0, 2, 10_000),
        (tried[0], tried[2]),
    ):
        assert outcome == (choosing.FOUND if possible else choosing.IMPOSSIBLE)
        if possible:
            assert contents[chosen].sum(axis=0).tolist() == demand.tolist()


def can_be_cut(pieces: tuple[int, ...], capacity: int, bars: int) -> bool:
    rooms = {(capacity,) * bars}
    for piece in pieces:
        rooms = {
            tuple(sorted((*room[:at], room[at] - piece, *room[at + 1 :])))
            for room in rooms
            for at in range(bars)
            if room[at] >= piece
        }
    return bool(rooms)
