"""Runs from several beginnings: a cooled copy tells where a run will end, and disturbs nothing."""

from __future__ import annotations

import math
from statistics import correlation

import numpy as np
import pytest

from generated_jobs import generated_job
from platewright.app.gather import clear_spaces, wiring_spaces
from platewright.arrange.solvers.search import (
    HOT,
    Beginning,
    _gone_on,
    _Run,
    _Told,
    first_fit,
    priced,
    search_from_several,
)
from platewright.arrange.task import Standing, frame_for, task_for, uniform_sizes, wiring_for


def _beginning(devices: int, seed: int) -> Beginning:
    job = generated_job(devices, seed=seed)
    task = task_for(job, clear=clear_spaces(job), wiring=wiring_spaces(job), standing=Standing())
    sizes = uniform_sizes(task, 3, job.settings.stock.ducts[0])
    data = (task.arrays, wiring_for(task, sizes), frame_for(task, sizes))
    return Beginning(first_fit(list(range(task.arrays.free)), *data[::2]), data)


def _run(beginning: Beginning, *, seed: int, cold: float = 120.0, moves: int = 40_000) -> _Run:
    told = _Told(moves, lambda _done, _wire: True)
    return _Run(
        0, beginning, moves=moves, legs=8, heat=(HOT, cold), seed=seed, told=told, seen=None
    )


def test_a_cooled_copy_disturbs_no_walk_and_is_kept_where_it_is_the_best() -> None:
    beginning = _beginning(40, 2)
    plain, told = _run(beginning, seed=3), _run(beginning, seed=3)
    for _ in range(8):
        plain.go()
        told.go_and_tell()
        assert np.array_equal(plain.now.tokens, told.now.tokens)
        assert np.array_equal(plain.now.extra, told.now.extra)
        assert plain.warmth == told.warmth
    assert told.spent > plain.spent == 40_000
    assert told.promise < plain.promise  # cooled, the same plate costs less
    assert told.found.promise <= told.promise
    assert told.found.cost < plain.found.cost


def test_two_that_go_on_from_one_plate_go_different_ways() -> None:
    beginning = _beginning(40, 2)
    one, other = _run(beginning, seed=3), _run(beginning, seed=4)
    one.go()
    other.go()
    other.go_on_from(one)
    assert np.array_equal(one.now.tokens, other.now.tokens)
    assert other.found.cost == one.found.cost
    one.go()
    other.go()
    assert not np.array_equal(one.now.tokens, other.now.tokens)


def test_a_cooled_copy_tells_the_end_better_than_the_price_while_hot() -> None:
    """Where the choice is made: 24 walks that begin alike, halfway down and at the end."""
    hot: list[float] = []
    cooled: list[float] = []
    ends: list[float] = []
    for seed in range(24):
        plain, told = (_run(_beginning(40, 2), seed=seed, cold=20.0) for _ in range(2))
        for leg in range(8):
            plain.go()
            told.go_and_tell()
            if leg == 2:  # 230 mm
                hot.append(plain.promise)
                cooled.append(told.promise)
        ends.append(plain.found.promise)
    assert correlation(cooled, ends) > correlation(hot, ends)


@pytest.mark.parametrize("beginnings", [2, 4, 5, 16, 32])
@pytest.mark.parametrize("moves", [0, 1_000, 10**6, 10**8])
def test_runs_get_fewer_to_the_end_and_never_less_than_two(beginnings: int, moves: int) -> None:
    counts = _gone_on(beginnings, moves, 100)
    assert counts[0] == beginnings
    assert counts == sorted(counts, reverse=True)
    assert counts[-1] == max(2, beginnings // 8)
    assert 8 <= len(counts) <= 28


@pytest.mark.parametrize("moves", [0, 1, 50, 1_000, 30_000])
def test_no_more_moves_than_asked_for(moves: int) -> None:
    beginnings = [_beginning(14, 1)] * 3
    told: list[float] = []

    def report(done: float, _wire: float) -> bool:
        told.append(done)
        return True

    number, found = search_from_several(beginnings, moves=moves, seed=1, report=report)
    assert number in range(3)
    assert found.moves <= moves
    assert found.moves >= 0.8 * moves - 200
    assert told == sorted(told)
    first = priced(beginnings[0].start, *beginnings[0].data)[0]
    assert (found.violation, found.cost) <= (first.violation, first.cost)
    assert not math.isnan(found.cost)
