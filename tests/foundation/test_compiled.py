"""A kernel answers before it is compiled, with the same bits, and hands over in the midst."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np
import pytest

from generated_jobs import generated_job
from platewright.app.gather import clear_spaces, wiring_spaces
from platewright.arrange.arrays import Start, room_for, sums_for
from platewright.arrange.kernels.anneal import anneal
from platewright.arrange.solvers.search import first_fit, is_plain, priced, search
from platewright.arrange.task import Standing, frame_for, task_for, uniform_sizes, wiring_for
from platewright.foundation import compiled
from platewright.foundation.at_once import answer_at_once
from platewright.foundation.compiled import Kernel, Stopped, asking, plain_twin

MOVES = 300


def data_of(devices: int = 8, seed: int = 1) -> Any:
    job = generated_job(devices, seed=seed)
    task = task_for(job, clear=clear_spaces(job), wiring=wiring_spaces(job), standing=Standing())
    sizes = uniform_sizes(task, 2, job.settings.stock.ducts[1])
    return task.arrays, wiring_for(task, sizes), frame_for(task, sizes)


def arguments(data: Any, seed: int = 3) -> tuple[Any, ...]:
    """Return fresh arguments of one walk."""
    blocks, wiring, frame = data
    start = first_fit(list(range(blocks.free)), blocks, frame)
    room = (*(room_for(blocks, frame) for _ in range(2)), *(sums_for(*data) for _ in range(2)))
    best = (start.tokens.copy(), start.extra.copy())
    walk = (MOVES, 900.0, 30.0, seed)
    return (start.tokens, start.extra, blocks, wiring, frame, room, walk, best)


def bits(value: Any) -> bytes:
    """Return every bit of the arrays and numbers in tuples of tuples."""
    if isinstance(value, tuple):
        return b"|".join(bits(v) for v in value)
    array = np.asarray(value)
    if array.dtype.kind != "f":
        array = array.astype(np.int64)
    return array.tobytes()


@pytest.fixture
def at_once(monkeypatch: pytest.MonkeyPatch) -> Iterator[list[int]]:
    """Let the walk not be there yet: it is compiled at the look whose number is put in the list."""
    ready_at = [10**9]
    looks = [0]

    def can_load(kernel: Kernel[..., Any], _key: object) -> bool:
        looks[0] += 1
        return kernel is not anneal or looks[0] > ready_at[0]

    monkeypatch.setattr(Kernel, "_can_load", can_load)
    monkeypatch.setattr(compiled, "_LOOK", 0.0)
    monkeypatch.setattr(compiled._Elsewhere, "begin", lambda _self: None)
    monkeypatch.setattr(anneal, "is_ready", False)
    answer_at_once("nothing")
    yield ready_at
    answer_at_once(None)


@pytest.mark.parametrize("seed", range(3))
@pytest.mark.filterwarnings("ignore:overflow")
def test_the_plain_walk_gives_the_same_bits(seed: int) -> None:
    data = data_of(seed=seed)
    one, other = arguments(data, seed), arguments(data, seed)
    told = anneal(*one)
    assert isinstance(anneal, Kernel)
    assert bits(plain_twin(anneal)(*other)) == bits(told)
    assert bits(one) == bits(other)


@pytest.mark.parametrize("ready_at", [1, 7, 900])
def test_a_plain_walk_that_is_dropped_in_the_midst_leaves_no_trace(
    at_once: list[int], ready_at: int
) -> None:
    data = data_of()
    one, other = arguments(data), arguments(data)
    at_once[0] = ready_at
    assert is_plain()
    told = anneal(*one)
    assert not is_plain()
    answer_at_once(None)
    assert bits(anneal(*other)) == bits(told)
    assert bits(one) == bits(other)


def test_where_compiling_elsewhere_failed_it_is_done_here(
    at_once: list[int], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(compiled._Elsewhere, "is_over", True)
    data = data_of()
    one, other = arguments(data), arguments(data)
    told = anneal(*one)
    assert not is_plain()
    assert at_once[0] == 10**9
    assert bits(told) == bits(anneal(*other))


@pytest.mark.usefixtures("at_once")
def test_a_plain_walk_ends_when_asked() -> None:
    asked = iter([True] * 20 + [False])
    with asking(lambda: next(asked)), pytest.raises(Stopped):
        anneal(*arguments(data_of()))


@pytest.mark.usefixtures("at_once")
def test_a_plain_search_that_is_stopped_keeps_its_best_plate_and_reports_meanwhile() -> None:
    data = data_of(14)
    start = first_fit(list(range(data[0].free)), data[0], data[2])
    before, _ = priced(start, *data)
    told: list[float] = []

    def report(done: float, _wire: float) -> bool:
        told.append(done)
        return len(told) < 4000

    # one chunk holds far more moves than reports: they come from its midst
    found = search(start, data, moves=400_000, seed=1, report=report)
    assert len(told) < 5000
    assert found.moves == 0
    assert (found.violation, found.cost) < (before.violation, before.cost)
    again, _ = priced(Start(found.start.tokens, found.start.extra), *data)
    assert (again.violation, again.cost) == (found.violation, found.cost)
