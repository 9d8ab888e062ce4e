"""Kin that change places: the walk may trust what it says of them."""

from __future__ import annotations

import numpy as np
import pytest

from generated_jobs import generated_job, with_traps
from platewright.app.gather import clear_spaces, wiring_spaces
from platewright.arrange.arrays import Blocks, Frame, Ints, Wiring, room_for, sums_for
from platewright.arrange.kernels.evaluate import evaluate
from platewright.arrange.kernels.kin import (
    MOST_PAIRS,
    Kins,
    all_twins,
    draw_kin,
    put_kin,
    rows_of,
    swap_kin,
    tell_kin,
)
from platewright.arrange.task import Standing, frame_for, task_for, uniform_sizes, wiring_for

Data = tuple[Blocks, Wiring, Frame]

_OF_TWINS = ("width", "clear_left", "clear_right", "env_up", "env_down", "front")


def _data(devices: int, seed: int, *, trapped: bool = False) -> Data:
    job = generated_job(devices, seed=seed)
    standing = Standing()
    if trapped:
        job, layout = with_traps(job, seed)
        standing = Standing(devices=layout.devices)
    task = task_for(job, clear=clear_spaces(job), wiring=wiring_spaces(job), standing=standing)
    sizes = uniform_sizes(task, 4, job.settings.stock.ducts[1], middle=True)
    return task.arrays, wiring_for(task, sizes), frame_for(task, sizes)


def _no_kins(free: int, partners: int) -> Kins:
    return Kins(
        *(np.zeros(n, dtype=np.int64) for n in (free, 2 * free, free, free, free + 1, partners))
    )


def _kins(blocks: Blocks, wiring: Wiring) -> Kins:
    kins = _no_kins(blocks.free, len(wiring.partner))
    tell_kin(blocks, wiring, kins)
    return kins


def _places(tokens: Ints) -> Ints:
    at = np.zeros(len(tokens) + 1, dtype=np.int64)
    at[tokens] = np.arange(len(tokens))
    return at


def test_kin_are_sorted_once_each_and_stand_in_rows_alike() -> None:
    blocks, wiring, _ = _data(60, 3)
    head, first, kin, *_ = _kins(blocks, wiring)
    assert sorted(kin) == list(range(blocks.free))
    for b in range(blocks.free):
        h = int(head[b])
        assert b in kin[first[h] : first[blocks.free + h]]
        assert (blocks.up[b], blocks.down[b]) == (blocks.up[h], blocks.down[h])
        assert blocks.groups[b] == blocks.groups[h]
        assert max(blocks.width[b], blocks.width[h]) <= 1.25 * min(blocks.width[b], blocks.width[h])
    assert len(set(head)) < blocks.free


def test_twins_and_ties_are_what_blocks_and_wires_say() -> None:
    blocks, wiring, _ = _data(60, 3)
    kins = _kins(blocks, wiring)
    sizes = list(zip(*(blocks._asdict()[name] for name in _OF_TWINS), strict=True))
    for a in range(blocks.free):
        for b in range(blocks.free):
            alike = kins.head[a] == kins.head[b] and sizes[a] == sizes[b]
            assert (kins.twin[a] == kins.twin[b]) == alike
        mates = wiring.partner[wiring.first[a] : wiring.first[a + 1]].tolist()
        tied = kins.tied[kins.tied_first[a] : kins.tied_first[a + 1]].tolist()
        assert sorted(tied) == sorted(m for m in set(mates) if mates.count(m) >= 2)
    assert len(set(kins.twin)) > len(set(kins.head))


def test_nobody_has_kin_where_all_differ() -> None:
    blocks, wiring, _ = _data(14, 1)
    apart = blocks._replace(width=10.0 * 2.0 ** np.arange(len(blocks.width)))
    kins = _no_kins(14, len(wiring.partner))
    assert tell_kin(blocks, wiring, kins)
    assert not tell_kin(apart, wiring, kins)


@pytest.mark.parametrize("trapped", [False, True])
@pytest.mark.parametrize("seed", range(4))
def test_twins_change_places_and_nothing_else_moves(seed: int, trapped: bool) -> None:
    data = _data(60, seed, trapped=trapped)
    blocks, wiring, frame = data
    rng = np.random.default_rng(seed)
    tokens = rng.permutation(blocks.free + frame.rows - 1).astype(np.int64)
    extra = np.zeros(frame.rows)
    old, new, again = (room_for(blocks, frame) for _ in range(3))
    before = evaluate(tokens, extra, *data, old, sums_for(*data))
    evaluate(tokens, extra, *data, new, sums_for(*data))
    kins, state = _kins(blocks, wiring), np.array([seed + 1], dtype=np.uint64)
    pairs, moved = (np.zeros(2 * MOST_PAIRS, dtype=np.int64) for _ in range(2))
    seen = 0
    while seen < 20:
        count = draw_kin(blocks.free, wiring, old, kins, pairs, state)
        if count == 0 or not all_twins(pairs, count, kins.twin):
            continue
        seen += 1
        cost, blocks_moved = put_kin(pairs, count, blocks, old, new, moved)
        swapped = tokens.copy()
        swap_kin(swapped, _places(tokens), pairs, count)
        after = evaluate(swapped, extra, *data, again, sums_for(*data))
        assert after[0] == pytest.approx(before[0], abs=1e-6)
        assert np.allclose(new.x, again.x)
        assert np.allclose(new.ref, again.ref)
        assert np.array_equal(new.row, again.row)
        wires = frame.w_wire * (after[2] - before[2])
        assert after[1] - before[1] == pytest.approx(wires + cost, abs=1e-6)
        for b in moved[:blocks_moved]:  # back where they were
            new.x[b], new.ref[b], new.row[b] = old.x[b], old.ref[b], old.row[b]


def test_pairs_hold_every_block_once_and_kin_only() -> None:
    data = _data(60, 2)
    blocks, wiring, frame = data
    tokens = np.random.default_rng(5).permutation(blocks.free + frame.rows - 1).astype(np.int64)
    placed = room_for(blocks, frame)
    evaluate(tokens, np.zeros(frame.rows), *data, placed, sums_for(*data))
    kins, state = _kins(blocks, wiring), np.array([9], dtype=np.uint64)
    pairs = np.zeros(2 * MOST_PAIRS, dtype=np.int64)
    rows = np.zeros(frame.rows, dtype=np.int64)
    counts = set()
    for _ in range(500):
        count = draw_kin(blocks.free, wiring, placed, kins, pairs, state)
        counts.add(count)
        drawn = pairs[: 2 * count]
        assert len(set(drawn)) == 2 * count
        assert np.array_equal(kins[0][drawn[::2]], kins[0][drawn[1::2]])
        number = rows_of(pairs, count, placed, rows)
        assert sorted(rows[:number]) == sorted({int(placed.row[b]) for b in drawn})
    assert {0, 1, 2, 3} <= counts  # whole starters go along, not only single devices


def test_a_starter_goes_along_whole() -> None:
    """Breaker, contactor, overload and terminals, each tied to the next by three wires."""
    job = generated_job(40, seed=1)
    task = task_for(job, clear=clear_spaces(job), wiring=wiring_spaces(job), standing=Standing())
    sizes = uniform_sizes(task, 4, job.settings.stock.ducts[1])
    blocks, wiring, frame = task.arrays, wiring_for(task, sizes), frame_for(task, sizes)
    tied = {
        (min(w.start.device, w.end.device), max(w.start.device, w.end.device)) for w in job.wires
    }
    tokens = np.arange(blocks.free + frame.rows - 1, dtype=np.int64)
    placed = room_for(blocks, frame)
    evaluate(
        tokens, np.zeros(frame.rows), blocks, wiring, frame, placed, sums_for(blocks, wiring, frame)
    )
    kins, state = _kins(blocks, wiring), np.array([3], dtype=np.uint64)
    pairs = np.zeros(2 * MOST_PAIRS, dtype=np.int64)
    for _ in range(300):
        count = draw_kin(blocks.free, wiring, placed, kins, pairs, state)
        for side in (0, 1):
            went = [task.blocks[b].head for b in pairs[side : 2 * count : 2]]
            for k, tag in enumerate(went[1:], start=1):
                assert any((min(tag, t), max(tag, t)) in tied for t in went[:k])
