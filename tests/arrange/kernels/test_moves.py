"""Moves: no device is lost, and whole rows come to every place."""

from __future__ import annotations

from collections import Counter
from itertools import combinations

import numpy as np

from generated_jobs import generated_job
from platewright.app.gather import clear_spaces, wiring_spaces
from platewright.arrange.arrays import Ints
from platewright.arrange.kernels.moves import NONE, ROOM, draw, exchange
from platewright.arrange.task import Standing, frame_for, task_for, uniform_sizes, wiring_for

Rows = tuple[tuple[int, ...], ...]


def _rows(tokens: Ints, free: int) -> Rows:
    rows: list[list[int]] = [[]]
    for token in tokens.tolist():
        if token >= free:
            rows.append([])
        else:
            rows[-1].append(token)
    return tuple(tuple(row) for row in rows)


def test_every_move_keeps_all_devices_and_whole_rows_come_to_every_place() -> None:
    job = generated_job(40, seed=2)
    task = task_for(job, clear=clear_spaces(job), wiring=wiring_spaces(job), standing=Standing())
    sizes = uniform_sizes(task, 4, job.settings.stock.ducts[1])
    blocks, wiring, frame = task.arrays, wiring_for(task, sizes), frame_for(task, sizes)
    begun = np.concatenate([  # a row of five, of ten, of six, and the rest
        np.arange(5), [blocks.free], np.arange(5, 15), [blocks.free + 1], np.arange(15, 21),
        [blocks.free + 2], np.arange(21, blocks.free),
    ])  # fmt: skip
    before = _rows(begun, blocks.free)
    at = np.zeros(len(begun) + 1, dtype=np.int64)
    at[begun] = np.arange(len(begun))
    state = np.array([88172645463325252], dtype=np.uint64)
    reached: Counter[Rows] = Counter()
    for _ in range(60_000):
        tokens = begun.copy()
        i, one, j, two = draw(tokens, np.zeros(4), at, blocks, wiring, frame, state)
        if i in (NONE, ROOM):
            continue
        exchange(tokens, i, one, j, two)
        assert sorted(tokens) == sorted(begun)
        after = _rows(tokens, blocks.free)
        if after != before and sorted(after) == sorted(before):
            reached[after] += 1
    wanted = set()
    for a, b in combinations(range(4), 2):
        swapped = list(before)
        swapped[a], swapped[b] = before[b], before[a]
        wanted.add(tuple(swapped))
        for gone, to in ((a, b), (b, a)):
            rest = list(before[:gone] + before[gone + 1 :])
            wanted.add((*rest[:to], before[gone], *rest[to:]))
    assert set(reached) == wanted
