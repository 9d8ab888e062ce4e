"""The search against every order there is, on jobs small enough to try them all."""

from __future__ import annotations

from itertools import permutations

import numpy as np
import pytest

from generated_jobs import generated_job
from platewright.app.gather import clear_spaces, wiring_spaces
from platewright.arrange.arrays import Start
from platewright.arrange.solvers.search import first_fit, priced, search
from platewright.arrange.task import Standing, frame_for, task_for, uniform_sizes, wiring_for


@pytest.mark.parametrize("seed", range(6))
def test_best_of_all_orders_of_six_devices_in_two_rows(seed: int) -> None:
    job = generated_job(6, seed=seed, width=420.0, height=900.0)
    task = task_for(job, clear=clear_spaces(job), wiring=wiring_spaces(job), standing=Standing())
    sizes = uniform_sizes(task, 2, job.settings.stock.ducts[1])
    data = (task.arrays, wiring_for(task, sizes), frame_for(task, sizes))
    tokens = range(task.arrays.free + 1)
    best = min(
        (found.violation, found.cost)
        for order in permutations(tokens)
        for found in [priced(Start(np.array(order, dtype=np.int64), np.zeros(2)), *data)[0]]
    )
    start = first_fit(list(range(task.arrays.free)), task.arrays, data[2])
    runs = [search(start, data, moves=6000, seed=s, report=lambda _d, _w: True) for s in range(3)]
    assert min((r.violation, r.cost) for r in runs) == pytest.approx(best, rel=1e-12)
