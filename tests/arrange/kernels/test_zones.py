"""Voltage groups that start again over the rows, against trying every way through them."""

from __future__ import annotations

import itertools
import random

import numpy as np
import pytest

from generated_jobs import generated_job
from platewright.app.gather import clear_spaces, wiring_spaces
from platewright.arrange.arrays import Blocks, Frame, Start, Wiring, room_for, sums_for
from platewright.arrange.kernels.anneal import anneal
from platewright.arrange.kernels.zones import zones_again
from platewright.arrange.solvers.search import first_fit, priced
from platewright.arrange.task import Standing, frame_for, task_for, uniform_sizes, wiring_for


def _fewest(rows: list[list[int]]) -> int:
    """Try every direction of every row and every group a block may stand for."""
    best = 99
    for turned in itertools.product((False, True), repeat=len(rows)):
        path = [
            g for row, back in zip(rows, turned, strict=True) for g in row[:: -1 if back else 1]
        ]
        choices = [[b for b in (1, 2, 4, 8) if b & g] for g in path]
        for way in itertools.product(*choices):
            runs = [group for group, _ in itertools.groupby(way)]
            best = min(best, len(runs) - len(set(runs)))
    return best


def _placed_in(rows: list[list[int]]) -> tuple[np.ndarray, float]:
    """Evaluate blocks of these groups in these rows: (what was told of their zones, violation)."""
    groups = [g for row in rows for g in row]
    n = len(groups)
    ten, none = np.full(n, 10.0), np.zeros(n)
    blocks = Blocks(
        free=n, width=ten, clear_left=none, clear_right=none, up=ten, down=ten, env_up=ten,
        env_down=ten, front=ten, on_rail=np.ones(n, dtype=np.int64),
        groups=np.array(groups, dtype=np.int64), pull=none, draw=none, x=none, ref=none,
    )  # fmt: skip
    whole = np.zeros(0, dtype=np.int64)
    zeros = np.zeros(n + 1, dtype=np.int64)
    wiring = Wiring(
        ends=np.zeros((0, 4), dtype=np.int64), spans=np.zeros((0, 5)), first=zeros, partner=whole,
        wire_first=zeros, wire_of=whole,
    )  # fmt: skip
    count = len(rows)
    frame = Frame(
        rows=count, left=0.0, right=1000.0, top=1000.0, bottom=0.0, duct=np.full(count + 1, 25.0),
        upright_x=np.zeros(1), hinge_x=0.0, side_gap=0.0, group_gap=0.0, rail_min=10.0, usable=1.0,
        fixed=0, row_top=none, row_bottom=none, row_axis=none, box=np.zeros((0, 7)), shifts=0,
        wish=np.zeros((0, 3), dtype=np.int64), w_wire=0.0, w_height=0.0, w_wish=0.0, w_rail=0.0,
        w_uprights=0.0, base=0.0, w_zone=1.0,
        w_cool=0.0, hot=np.zeros((0, 11)), air=np.zeros(7), rail=np.zeros((0, 3)),
    )  # fmt: skip
    tokens, at = [], 0
    for r, row in enumerate(rows):
        tokens += [*range(at, at + len(row)), *([n + r] if r < count - 1 else [])]
        at += len(row)
    start = Start(np.array(tokens, dtype=np.int64), np.zeros(count))
    found, placed = priced(start, blocks, wiring, frame)
    assert found.cost == zones_again(placed.zone)
    return placed.zone, found.violation


@pytest.mark.parametrize("seed", range(150))
def test_blocks_of_one_group_each_are_counted_exactly(seed: int) -> None:
    dice = random.Random(seed)
    rows = [
        dice.sample((1, 2, 4, 8), dice.choice((0, 1, 1, 2, 2, 3)))
        for _ in range(dice.randint(1, 4))
    ]
    rows = [[g for g in row for _ in range(dice.choice((1, 2)))] for row in rows]
    if not any(rows):
        rows[0] = [1]
    zone, violation = _placed_in(rows)
    assert violation == 0.0
    assert zones_again(zone) == _fewest(rows)


@pytest.mark.parametrize("seed", range(150))
def test_blocks_of_several_groups_are_never_counted_too_low(seed: int) -> None:
    dice = random.Random(seed)
    rows = [
        [dice.choice((1, 2, 3, 4, 5, 6)) for _ in range(dice.randint(1, 3))]
        for _ in range(dice.randint(1, 3))
    ]
    zone, violation = _placed_in(rows)
    if violation == 0.0:
        assert zones_again(zone) >= _fewest(rows)


def _many_groups(devices: int, seed: int) -> tuple[Blocks, Wiring, Frame]:
    job = generated_job(devices, seed=seed)
    task = task_for(job, clear=clear_spaces(job), wiring=wiring_spaces(job), standing=Standing())
    sizes = uniform_sizes(task, 4, job.settings.stock.ducts[1])
    dice = np.random.default_rng(seed)
    groups = dice.choice([0, 1, 2, 4, 8, 3, 12], size=len(task.arrays.groups))
    return (
        task.arrays._replace(groups=groups.astype(np.int64)),
        wiring_for(task, sizes),
        frame_for(task, sizes),
    )


@pytest.mark.parametrize("seed", range(12))
def test_zones_told_row_by_row_stay_those_of_the_whole_plate(seed: int) -> None:
    """After every leg of a walk that prices touched rows only, the full price is the same."""
    data = _many_groups(40, seed)
    blocks, _wiring, frame = data
    start = first_fit(list(range(blocks.free)), blocks, frame)
    room = (*(room_for(blocks, frame) for _ in range(2)), *(sums_for(*data) for _ in range(2)))
    tokens, extra = start.tokens.copy(), start.extra.copy()
    best = (tokens.copy(), extra.copy())
    for leg in range(20):
        told = anneal(tokens, extra, *data, room, (150, 9000.0, 900.0, seed * 31 + leg + 1), best)
        found, _ = priced(Start(*best), *data)
        assert told == pytest.approx((found.violation, found.cost), rel=1e-9, abs=1e-6)
        _, placed = priced(Start(tokens, extra), *data)
        assert np.array_equal(placed.zone, room[0].zone)
        assert np.array_equal(placed.zone, room[1].zone)
