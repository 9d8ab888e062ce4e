"""A search that begins at several plates ends at one, no worse than any of them."""

from __future__ import annotations

import numpy as np
import pytest

from generated_jobs import generated_job
from platewright.app.gather import clear_spaces, wiring_spaces
from platewright.arrange.arranger import begun_anew, improve, probe, probes
from platewright.arrange.solvers.search import HOT
from platewright.arrange.task import Standing, Task, task_for


def _task(devices: int, seed: int) -> Task:
    job = generated_job(devices, seed=seed)
    return task_for(job, clear=clear_spaces(job), wiring=wiring_spaces(job), standing=Standing())


@pytest.mark.parametrize(("devices", "seed"), [(14, 1), (60, 2), (60, 3)])
def test_the_end_is_no_worse_than_any_beginning_and_the_same_again(devices: int, seed: int) -> None:
    task = _task(devices, seed)
    stock = task.job.settings.stock.ducts[0]
    told: list[float] = []

    def report(done: float, _wire: float) -> bool:
        told.append(done)
        return True

    kept = probes(task, stock, moves=4_000, seed=1, report=report, either=True, keep=4)
    assert len(kept) == 4
    assert told == sorted(told)
    told.clear()
    found = [improve(*kept, moves=40_000, hot=HOT, seed=5, report=report)]
    assert told == sorted(told)
    assert 0.85 < told[-1] <= 1.0  # the runs are as long as whole chunks
    found.append(improve(*kept, moves=40_000, hot=HOT, seed=5, report=report))
    assert found[0].found.cost == found[1].found.cost
    assert np.array_equal(found[0].found.start.tokens, found[1].found.start.tokens)
    assert found[0].sizes == found[1].sizes
    least = min((a.found.violation, a.found.cost) for a in kept)
    assert (found[0].found.violation, found[0].found.cost) <= least


def test_both_orders_of_the_groups_are_begun_with() -> None:
    """Which group is on top is hardly ever changed later: 10 % of the cost hung on it."""
    task = _task(60, 2)
    stock = task.job.settings.stock.ducts[0]
    kept = probes(task, stock, moves=4_000, seed=1, report=lambda _d, _w: True, either=True, keep=4)
    tops = set()
    for arrangement in kept:
        first = next(int(t) for t in arrangement.found.start.tokens if t < task.arrays.free)
        tops.add(int(task.arrays.groups[first]))
    assert len(tops) == 2


def test_a_plate_begun_anew_lies_another_way_each_time() -> None:
    """Groups either way up, and screwed devices of a group before or behind those on rails."""
    task = _task(60, 2)
    stock = task.job.settings.stock.ducts[0]
    found = probe(task, stock, moves=4_000, seed=1, report=lambda _d, _w: True)
    arrays = task.arrays
    mains = min(int(g) for g in arrays.groups[: arrays.free])
    ways = set()
    for number in range(4):
        anew = begun_anew(found, number)
        assert anew.sizes == found.sizes
        order = [int(t) for t in anew.found.start.tokens if t < arrays.free]
        assert sorted(order) == list(range(arrays.free))
        group = [b for b in order if int(arrays.groups[b]) == mains]
        ways.add((order[0] in group, int(arrays.on_rail[group[0]])))
    assert ways == {(True, 1), (True, 0), (False, 1), (False, 0)}


def test_a_stop_keeps_the_best_so_far() -> None:
    task = _task(60, 4)
    stock = task.job.settings.stock.ducts[0]
    kept = probes(task, stock, moves=4_000, seed=1, report=lambda _d, _w: True, either=True, keep=4)
    least = min((a.found.violation, a.found.cost) for a in kept)
    for calls in (1, 2, 5, 9, 20):
        left = [calls]

        def report(_done: float, _wire: float, left: list[int] = left) -> bool:
            left[0] -= 1
            return left[0] > 0

        found = improve(*kept, moves=80_000, hot=HOT, seed=5, report=report)
        assert (found.found.violation, found.found.cost) <= least
