"""Off-cuts before new bars, tidy bars: against every way to cut small lists."""

import random
from itertools import product

import numpy as np
import pytest

from platewright.fabricate.solvers.cut_stock import cut_stock
from platewright.fabricate.solvers.fewest_bars import fewest_bars
from platewright.fabricate.solvers.from_store import cut_with_store
from platewright.fabricate.solvers.packing import Packing, best_fit, packing_of
from platewright.fabricate.solvers.tidy_bars import (
    different,
    one_rest,
    repeat_contents,
    rests,
    tidy,
)
from platewright.model.job import Stock
from platewright.model.offcut import Offcut
from platewright.model.pieces import Piece

STOCK = Stock(ducts=(), kerf=3.0, end_trim=5.0, keep_offcut=300.0)
RAIL = "rail TH35-7.5"


def rails(*lengths: float) -> list[Piece]:
    return [Piece(tag=f"R{n}", stock=RAIL, length=each) for n, each in enumerate(lengths, 1)]


def store(*lengths: float) -> list[Offcut]:
    return [Offcut(label=f"A{n}", stock=RAIL, length=each) for n, each in enumerate(lengths, 1)]


def test_off_cuts_are_cut_before_new_bars() -> None:
    """600 + kerf + 397 fill 1000 to the end: an off-cut has no trim."""
    plan = cut_stock(rails(600, 397, 1200), STOCK, offcuts=store(1000, 500))
    used = {bar.offcut: [p.length for p in bar.pieces] for bar in plan.bars}
    assert used == {"A1": [600, 397], "": [1200]}
    assert [o.label for o in plan.unused] == ["A2"]
    assert plan.bounds == ((RAIL, 1, 1),)
    assert plan.is_proven
    old, new = plan.bars
    assert (old.trim, new.trim) == (0.0, 5.0)
    assert (old.rest, new.rest) == (0.0, 2000 - 5 - 1203)


def test_no_new_bar_where_the_store_is_enough() -> None:
    plan = cut_stock(rails(400, 300), STOCK, offcuts=store(450, 350))
    assert plan.new_bars == ()
    assert plan.bounds == ((RAIL, 0, 0),)


def test_what_is_left_is_labelled_where_it_is_worth_keeping() -> None:
    plan = cut_stock(rails(1200, 1650), STOCK, offcuts=store(), label="EX-7")
    left = [(bar.pieces[0].length, bar.rest, bar.rest_label) for bar in plan.bars]
    assert left == [(1650, 342, "EX-7-1"), (1200, 792, "EX-7-2")]
    assert [(o.label, o.length) for o in plan.store_after] == [("EX-7-1", 342), ("EX-7-2", 792)]
    short = cut_stock(rails(1700), STOCK)
    assert (short.bars[0].rest, short.bars[0].rest_label) == (292, "")


def test_labels_never_take_one_that_is_in_the_store() -> None:
    taken = [Offcut(label="L1", stock="duct 40x60", length=400)]
    plan = cut_stock(rails(1200), STOCK, offcuts=taken)
    assert [bar.rest_label for bar in plan.bars] == ["L2"]
    assert plan.store_after[0] == taken[0]


def test_the_store_after_is_the_store_before_the_next_job() -> None:
    first = cut_stock(rails(1200, 400), STOCK, label="A")
    second = cut_stock(rails(250), STOCK, offcuts=first.store_after, label="B")
    assert second.new_bars == ()


def test_a_piece_longer_than_a_new_bar_may_come_out_of_a_long_off_cut() -> None:
    plan = cut_stock(rails(2400, 2300), STOCK, offcuts=store(2500))
    assert [p.length for p in plan.too_long] in ([2400], [2300])  # one of them finds no bar
    assert sum(len(bar.pieces) for bar in plan.bars) == 1


def fewest_new(sizes: list[int], room: int, rooms: list[int]) -> int:
    """Return the fewest new bars by trying every way (states: rooms left in all bars)."""
    states = {(tuple(rooms), ())}
    for size in sorted(sizes, reverse=True):
        after = set()
        for old, new in states:
            for at, left in enumerate(old):
                if left >= size:
                    after.add(((*old[:at], left - size, *old[at + 1 :]), new))
            for at, left in enumerate(new):
                if left >= size:
                    after.add((old, tuple(sorted((*new[:at], left - size, *new[at + 1 :])))))
            after.add((old, tuple(sorted((*new, room - size)))))
        states = after
    return min(len(new) for _, new in states)


@pytest.mark.parametrize("seed", range(25))
def test_bars_beside_off_cuts_are_bounded_and_near_the_fewest(seed: int) -> None:
    chance = random.Random(seed)
    sizes = [chance.randint(15, 60) for _ in range(7)]
    rooms = [chance.randint(20, 70) for _ in range(2)]
    cut = cut_with_store(
        Packing(
            sizes=np.unique(np.array(sizes))[::-1].copy(),
            demand=np.unique(np.array(sizes), return_counts=True)[1][::-1].astype(np.int64),
            capacity=100,
        ),
        rooms,
    )
    fewest = fewest_new(sizes, 100, rooms)
    assert cut.packed.bound <= fewest <= len(cut.packed.bars) <= fewest + 1
    if cut.packed.is_proven:
        assert len(cut.packed.bars) == fewest
    taken = sum(int(c.sum()) for c in cut.offcuts if c is not None)
    assert taken + sum(int(b.sum()) for b in cut.packed.bars) == len(sizes)


@pytest.mark.parametrize("seed", range(20))
def test_tidy_bars_hold_the_same_pieces_and_leave_a_longer_rest(seed: int) -> None:
    chance = random.Random(seed)
    lengths = [chance.randint(150, 900) for _ in range(6)]
    problem = packing_of([chance.choice(lengths) for _ in range(25)], 2003)
    bars = fewest_bars(problem).bars
    for way in (tidy(problem, bars), one_rest(problem, bars)):
        assert len(way) <= len(bars)
        assert np.array_equal(np.sum(way, axis=0), problem.demand)
        assert min(rests(problem, way)) >= 0
    assert max(rests(problem, one_rest(problem, bars))) >= max(rests(problem, bars))
    assert different(tidy(problem, bars)) <= different(bars)


def test_contents_repeat_where_the_list_repeats() -> None:
    """Ten of 600 and ten of 397 with kerf 3: ten bars' worth of the same two, two ways at most."""
    problem = packing_of([603] * 10 + [400] * 10, 2006)
    found = repeat_contents(problem, len(best_fit(problem, problem.demand)))
    assert np.array_equal(np.sum(found, axis=0), problem.demand)
    assert different(found) <= 2


def test_one_rest_is_the_longest_there_can_be() -> None:
    """Three bars of 10, pieces 6, 6, 3, 3, 3: two full bars (6+3) and one of 3: rest 7."""
    problem = packing_of([6, 6, 3, 3, 3], 10)
    bars = [np.array([1, 0]), np.array([1, 1]), np.array([0, 2])]
    assert max(rests(problem, one_rest(problem, bars))) == best_single_rest(problem, 3)


def best_single_rest(problem: Packing, bars: int) -> int:
    sizes = [
        s
        for s, n in zip(problem.sizes.tolist(), problem.demand.tolist(), strict=True)
        for _ in range(n)
    ]
    best = 0
    for where in product(range(bars), repeat=len(sizes)):
        used = [sum(s for s, w in zip(sizes, where, strict=True) if w == b) for b in range(bars)]
        if max(used) <= problem.capacity:
            best = max(best, problem.capacity - min(u for u in used))
    return best
