"""No legal plate is below the bound: of all there are on small jobs, of those found on others."""

from __future__ import annotations

import dataclasses
import math

import numpy as np
import pytest

from exhaustive import everything, optimum, read_small
from generated_jobs import generated_job
from platewright.app.gather import clear_spaces, wiring_spaces
from platewright.arrange.arrays import Blocks, Frame, Start, Wiring
from platewright.arrange.solvers.bounds import Bound, lower_bound, wire_bound
from platewright.arrange.solvers.row_model import rows_bound
from platewright.arrange.solvers.search import first_fit, priced, search
from platewright.arrange.task import (
    DuctSizes,
    Standing,
    Task,
    frame_for,
    task_for,
    uniform_sizes,
    wiring_for,
)
from platewright.model.job import DuctPattern, Job

Data = tuple[Blocks, Wiring, Frame]


def _task(job: Job) -> Task:
    return task_for(job, clear=clear_spaces(job), wiring=wiring_spaces(job), standing=Standing())


def _case(job: Job, rows: int, *, middle: bool = False) -> tuple[Task, DuctSizes, Data]:
    task = _task(job)
    sizes = uniform_sizes(task, rows, job.settings.stock.ducts[1], middle=middle)
    return task, sizes, (task.arrays, wiring_for(task, sizes), frame_for(task, sizes))


@pytest.mark.parametrize("seed", range(12))
def test_never_above_the_least_wire_of_all_plates(seed: int) -> None:
    devices = 5 + seed % 4
    rows = 2 + seed % 2
    job = generated_job(devices, seed=seed, width=440.0, height=1200.0)
    task, sizes, data = _case(job, rows)
    wire_only = read_small(job, rows, job.settings.stock.ducts[1])._replace(
        w_height=0.0, w_duct=0.0, w_rail=0.0, w_zone=0.0, pull=np.zeros(devices)
    )
    least = optimum(wire_only, math.inf)[0]
    if devices < 7:
        assert everything(wire_only)[0] == pytest.approx(least)
    for heights in (True, False):
        bound = rows_bound(data, heights=heights, nodes=2000)
        assert bound is not None
        assert 0.4 * least < bound <= least  # valid, and not by being nothing
    assert lower_bound(task, sizes).value == pytest.approx(least, rel=1e-12)


def _plates(data: Data, seed: int) -> list[tuple[float, float]]:
    """Return (violation, wire) of plates met on the way from bad to good."""
    start = first_fit(list(range(data[0].free)), data[0], data[2])
    found = [
        search(start, data, moves=moves, hot=hot, seed=seed, report=lambda _d, _w: True)
        for moves, hot in ((0, 1.0), (400, 1500.0), (6000, 1500.0), (6000, 4.5))
    ]
    lower = data[2]._replace(w_height=0.0, w_rail=0.0, w_zone=0.0)  # wire alone
    found.append(
        search(
            found[2].start,
            (data[0], data[1], lower),
            moves=6000,
            seed=seed,
            report=lambda _d, _w: True,
        )
    )
    return [(f.violation, f.wire) for f in found]


@pytest.mark.parametrize("heights", [True, False])
@pytest.mark.parametrize("middle", [True, False])
@pytest.mark.parametrize("pattern", list(DuctPattern))
def test_never_above_a_plate_that_is_found(
    pattern: DuctPattern, *, middle: bool, heights: bool
) -> None:
    job = generated_job(13, seed=5, width=620.0, height=1300.0)
    settings = dataclasses.replace(job.settings, pattern=pattern)
    _, _, data = _case(dataclasses.replace(job, settings=settings), 2, middle=middle)
    bound = rows_bound(data, heights=heights, nodes=500)
    assert bound is not None
    legal = [wire for violation, wire in _plates(data, 1) if violation == 0.0]
    assert legal
    assert bound <= min(legal)


@pytest.mark.parametrize("seed", range(6))
def test_never_above_a_random_plate_with_room_added(seed: int) -> None:
    job = generated_job(9, seed=seed, width=620.0, height=1900.0)
    _, _, data = _case(job, 3)
    bound = wire_bound(data).value
    other = rows_bound(data, heights=True, nodes=500)
    assert other is not None
    assert other <= bound
    chance = np.random.default_rng(seed)
    legal = 0
    for _ in range(1500):
        tokens = chance.permutation(data[0].free + 2)
        found, _ = priced(Start(tokens, chance.integers(0, 50, 3).astype(float)), *data)
        if found.violation == 0.0:
            legal += 1
            assert bound <= found.wire
    assert legal > 10


def test_heights_make_the_bound_no_worse() -> None:
    _, _, data = _case(generated_job(14, seed=1), 2)
    small, large = (rows_bound(data, heights=h, nodes=2000) for h in (False, True))
    assert small is not None
    assert large is not None
    assert small <= large + 1e-3


def test_rows_too_short_are_proven_impossible() -> None:
    job = generated_job(14, seed=1, width=440.0)
    task, sizes, _ = _case(job, 1)
    bound = lower_bound(task, sizes)
    assert math.isinf(bound.value)
    assert "too short" in bound.how


def test_few_nodes_still_give_a_valid_bound() -> None:
    _, _, data = _case(generated_job(14, seed=3), 2)
    full = rows_bound(data, heights=True, nodes=5000)
    few = rows_bound(data, heights=True, nodes=1)
    assert full is not None
    assert few is None or few <= full + 1e-3


def test_a_very_large_job_gets_no_bound_rather_than_a_wrong_one() -> None:
    task, sizes, _ = _case(generated_job(150, seed=1), 9)
    assert lower_bound(task, sizes).value == 0.0


def test_gap_is_the_share_a_better_plate_may_save() -> None:
    assert Bound(75.0, "").gap(100.0) == 0.25
    assert Bound(120.0, "").gap(100.0) == 0.0
