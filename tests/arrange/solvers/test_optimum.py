"""Search and pricing against a second pricing, and against every sequence there is."""

from __future__ import annotations

import numpy as np
import pytest

from exhaustive import Small, everything, optimum, price, read_small
from generated_jobs import generated_job
from platewright.app.gather import clear_spaces, wiring_spaces
from platewright.arrange.arrays import Blocks, Frame, Start, Wiring
from platewright.arrange.solvers.search import first_fit, priced, search
from platewright.arrange.task import Standing, frame_for, task_for, uniform_sizes, wiring_for

Data = tuple[Blocks, Wiring, Frame]


def _both(devices: int, seed: int, rows: int, width: float) -> tuple[Small, Data, list[int]]:
    """Read a job twice: for the enumeration, and for the search; and whose block is whose."""
    job = generated_job(devices, seed=seed, width=width, height=1200.0)
    stock = job.settings.stock.ducts[1]
    task = task_for(job, clear=clear_spaces(job), wiring=wiring_spaces(job), standing=Standing())
    sizes = uniform_sizes(task, rows, stock)
    number = {d.tag: k for k, d in enumerate(job.on_plate)}
    whose = [number[b.head] for b in task.blocks]
    data = (task.arrays, wiring_for(task, sizes), frame_for(task, sizes))
    return read_small(job, rows, stock), data, whose


@pytest.mark.parametrize(("devices", "rows"), [(6, 2), (9, 2), (10, 3), (14, 2)])
def test_two_pricings_agree(devices: int, rows: int) -> None:
    small, data, whose = _both(devices, devices, rows, 620.0)
    chance = np.random.default_rng(devices)
    legal = 0
    for _ in range(1500):
        tokens = chance.permutation(devices + rows - 1)
        # row ends are told by their order alone
        tokens[tokens >= devices] = np.arange(devices, devices + rows - 1)
        found, _ = priced(Start(tokens, np.zeros(rows)), *data)
        places = np.flatnonzero(tokens >= devices)
        ends = np.array([*(places - np.arange(rows - 1)), devices])
        order = np.array([whose[t] for t in tokens if t < devices])
        cost = price(order, ends, small)
        if found.violation > 0.0:
            assert np.isinf(cost)
        else:
            legal += 1
            assert cost == pytest.approx(found.cost, rel=1e-12)
    assert legal > 5


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize(("devices", "rows"), [(6, 2), (7, 3)])
def test_bounds_leave_out_nothing_better(devices: int, rows: int, seed: int) -> None:
    small, _, _ = _both(devices, seed, rows, 420.0)
    best, tried = everything(small)
    assert tried == {(6, 2): 5040, (7, 3): 181_440}[devices, rows]  # 7!, 7!·C(9, 2)
    assert optimum(small, np.inf)[0] == pytest.approx(best, rel=1e-12)


@pytest.mark.parametrize("seed", range(2))
@pytest.mark.parametrize(
    ("devices", "rows", "width"), [(8, 2, 520.0), (10, 2, 520.0), (12, 2, 620.0)]
)
def test_best_of_five_searches_is_the_best_of_all(
    devices: int, rows: int, width: float, seed: int
) -> None:
    small, data, _ = _both(devices, seed, rows, width)
    start = first_fit(list(range(devices)), data[0], data[2])
    runs = [search(start, data, moves=8_000, seed=s, report=lambda _d, _w: True) for s in range(5)]
    violation, cost = min((r.violation, r.cost) for r in runs)
    assert violation == 0.0
    # told only what to beat, the enumeration finds the same and nothing better
    assert optimum(small, cost * (1 + 1e-9))[0] == pytest.approx(cost, rel=1e-12)
