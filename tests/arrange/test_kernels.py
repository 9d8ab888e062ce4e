"""The compiled kernels and their plain twins agree; the walk never loses its best plate."""

from __future__ import annotations

import numpy as np
import pytest

from generated_jobs import generated_job
from platewright.app.gather import clear_spaces, wiring_spaces
from platewright.arrange.arrays import Blocks, Frame, Start, Wiring, room_for, sums_for
from platewright.arrange.kernels import evaluate as kernel
from platewright.arrange.kernels.anneal import anneal
from platewright.arrange.solvers.search import first_fit, priced, search
from platewright.arrange.task import Standing, frame_for, task_for, uniform_sizes, wiring_for


def _data(devices: int, seed: int) -> tuple[Blocks, Wiring, Frame]:
    job = generated_job(devices, seed=seed)
    task = task_for(job, clear=clear_spaces(job), wiring=wiring_spaces(job), standing=Standing())
    sizes = uniform_sizes(task, 3, job.settings.stock.ducts[1])
    return task.arrays, wiring_for(task, sizes), frame_for(task, sizes)


def _shuffled(data: tuple[Blocks, Wiring, Frame], seed: int) -> Start:
    blocks, _, frame = data
    tokens = np.arange(blocks.free + frame.rows - 1, dtype=np.int64)
    np.random.default_rng(seed).shuffle(tokens)
    return Start(tokens, np.zeros(frame.rows))


def _plain(monkeypatch: pytest.MonkeyPatch) -> None:
    """Take the compiler out of the whole chain of kernels."""
    for name in dir(kernel):
        twin = getattr(getattr(kernel, name), "py_func", None)
        if twin is not None:
            monkeypatch.setattr(kernel, name, twin)


@pytest.mark.parametrize("seed", range(4))
def test_plain_twin_agrees(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    data = _data(14, seed)
    start = _shuffled(data, seed)
    compiled, placed = priced(start, *data)
    _plain(monkeypatch)
    plain_placed = room_for(data[0], data[2])
    sums = sums_for(*data)
    plain = kernel.evaluate_plainly(start.tokens, start.extra, data, plain_placed, sums)
    assert (compiled.violation, compiled.cost, compiled.wire) == pytest.approx(plain, rel=1e-12)
    assert np.allclose(placed.x, plain_placed.x)
    assert np.allclose(placed.ref, plain_placed.ref)


@pytest.mark.parametrize("seed", range(3))
def test_search_is_repeatable_and_never_worse_than_its_start(seed: int) -> None:
    data = _data(25, seed)
    start = first_fit(list(range(data[0].free)), data[0], data[2])
    before, _ = priced(start, *data)
    found = [
        search(start, data, moves=4000, seed=seed, report=lambda _d, _w: True) for _ in range(2)
    ]
    assert np.array_equal(found[0].start.tokens, found[1].start.tokens)
    assert found[0].cost == found[1].cost
    assert (found[0].violation, found[0].cost) <= (before.violation, before.cost)
    again, _ = priced(found[0].start, *data)
    assert (again.violation, again.cost) == (found[0].violation, found[0].cost)


def test_stopping_after_any_chunk_keeps_a_plate_no_worse_than_the_start() -> None:
    data = _data(25, 1)
    start = first_fit(list(range(data[0].free)), data[0], data[2])
    before, _ = priced(start, *data)
    for chunks in (1, 3, 10):
        left = [chunks]

        def report(_done: float, _wire: float, left: list[int] = left) -> bool:
            left[0] -= 1
            return left[0] > 0

        found = search(start, data, moves=40_000, seed=5, report=report)
        assert (found.violation, found.cost) <= (before.violation, before.cost)
        assert sorted(found.start.tokens) == sorted(start.tokens)


@pytest.mark.parametrize("seed", range(12))
def test_a_walk_of_partial_prices_ends_at_the_full_price(seed: int) -> None:
    """The walk prices only the rows a move touches; from scratch the plate must cost the same."""
    data = _data(25 if seed % 2 else 60, seed)
    blocks, _wiring, frame = data
    start = first_fit(list(range(blocks.free)), blocks, frame)
    room = (*(room_for(blocks, frame) for _ in range(2)), *(sums_for(*data) for _ in range(2)))
    tokens, extra = start.tokens.copy(), start.extra.copy()
    best = (tokens.copy(), extra.copy())
    for leg in range(5):
        told = anneal(tokens, extra, *data, room, (400, 900.0, 30.0, seed * 9 + leg + 1), best)
        found, _ = priced(Start(*best), *data)
        assert told == pytest.approx((found.violation, found.cost), rel=1e-9, abs=1e-6)
        walked, placed = priced(Start(tokens, extra), *data)
        assert np.allclose(placed.x, room[0].x)
        assert np.allclose(placed.ref, room[0].ref)
        assert np.allclose(room[2].wire.sum() + 0.0, walked.wire)
