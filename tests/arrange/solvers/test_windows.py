"""Windows of neighbours: never worse, and proven only where every order was tried."""

from __future__ import annotations

from itertools import permutations

import numpy as np
import pytest

from generated_jobs import generated_job
from platewright.app.gather import clear_spaces, wiring_spaces
from platewright.arrange.arrays import Blocks, Frame, Start, Wiring
from platewright.arrange.solvers.search import first_fit, priced, search
from platewright.arrange.solvers.windows import improve_windows
from platewright.arrange.task import Standing, frame_for, task_for, uniform_sizes, wiring_for


def _case(devices: int, seed: int, rows: int) -> tuple[Start, tuple[Blocks, Wiring, Frame]]:
    job = generated_job(devices, seed=seed)
    task = task_for(job, clear=clear_spaces(job), wiring=wiring_spaces(job), standing=Standing())
    sizes = uniform_sizes(task, rows, job.settings.stock.ducts[1])
    data = (task.arrays, wiring_for(task, sizes), frame_for(task, sizes))
    return first_fit(list(range(task.arrays.free)), task.arrays, data[2]), data


@pytest.mark.parametrize("size", [3, 5])
@pytest.mark.parametrize("seed", range(3))
def test_proven_windows_have_no_better_order(seed: int, size: int) -> None:
    start, data = _case(14, seed, 2)
    now, report = improve_windows(start, data, size=size)
    best = priced(now, *data)[0]
    assert report.proven
    assert not report.open
    for window in report.proven:
        first = now.tokens.tolist().index(window.blocks[0])
        for order in permutations(window.blocks):
            tokens = now.tokens.copy()
            tokens[first : first + len(order)] = order
            other = priced(Start(tokens, now.extra), *data)[0]
            assert (other.violation, other.cost) >= (best.violation - 1e-6, best.cost - 1e-5)


@pytest.mark.parametrize("seed", range(4))
def test_never_worse_and_nothing_lost(seed: int) -> None:
    start, data = _case(25, seed, 3)
    kept = start.tokens.copy()
    found = search(start, data, moves=1500, seed=seed, report=lambda _d, _w: True).start
    for begin in (start, found):
        before = priced(begin, *data)[0]
        now, report = improve_windows(begin, data, size=4)
        after = priced(now, *data)[0]
        assert after.violation <= before.violation + 1e-9
        assert after.violation < before.violation - 1e-9 or after.cost <= before.cost
        assert after.cost == report.cost_after
        assert sorted(now.tokens) == sorted(begin.tokens)
        ends = np.flatnonzero(begin.tokens >= data[0].free)
        assert np.array_equal(np.flatnonzero(now.tokens >= data[0].free), ends)
        again, told = improve_windows(now, data, size=4)
        assert np.array_equal(again.tokens, now.tokens)
        assert told.changes == 0
    assert np.array_equal(kept, start.tokens)


def test_a_short_row_is_proven_whole() -> None:
    start, data = _case(6, 1, 2)
    tokens = np.array([0, 1, 2, 3, data[0].free, 4, 5])
    _, report = improve_windows(Start(tokens, start.extra), data, size=4)
    assert report.whole_rows == (0, 1)


def test_windows_too_large_to_try_are_refused() -> None:
    start, data = _case(6, 1, 2)
    with pytest.raises(ValueError, match="2 to 9"):
        improve_windows(start, data, size=10)
