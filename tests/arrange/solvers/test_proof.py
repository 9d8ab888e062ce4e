"""Proofs by trying all plates, against another enumeration that shares nothing with them."""

from __future__ import annotations

import math

import numpy as np
import pytest

from exhaustive import Small, optimum, read_small
from generated_jobs import generated_job
from platewright.app.gather import clear_spaces, wiring_spaces
from platewright.arrange.arrays import Blocks, Frame, Wiring
from platewright.arrange.solvers.bounds import wire_bound
from platewright.arrange.solvers.proof import least_cost, least_wire
from platewright.arrange.solvers.search import priced
from platewright.arrange.task import Standing, frame_for, task_for, uniform_sizes, wiring_for


def _case(
    devices: int, seed: int, rows: int, *, middle: bool = False
) -> tuple[Small, tuple[Blocks, Wiring, Frame]]:
    job = generated_job(devices, seed=seed, width=500.0, height=1200.0)
    stock = job.settings.stock.ducts[1]
    task = task_for(job, clear=clear_spaces(job), wiring=wiring_spaces(job), standing=Standing())
    sizes = uniform_sizes(task, rows, stock, middle=middle)
    data = (task.arrays, wiring_for(task, sizes), frame_for(task, sizes))
    return read_small(job, rows, stock), data


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize(("devices", "rows"), [(5, 1), (7, 3), (9, 2)])
def test_two_enumerations_agree(devices: int, rows: int, seed: int) -> None:
    small, data = _case(devices, seed, rows)
    least, _ = optimum(small, math.inf)
    proof = least_cost(data)
    assert proof is not None
    assert math.isinf(least) == math.isinf(proof.cost)
    if math.isfinite(least):
        assert proof.cost == pytest.approx(least, rel=1e-12)
        assert proof.start is not None
        found, _ = priced(proof.start, *data)
        assert (found.violation, found.cost) == (0.0, pytest.approx(least, rel=1e-12))
        told = least_cost(data, below=least * (1 + 1e-9))
        assert told is not None
        assert told.cost == pytest.approx(least, rel=1e-12)
        assert told.nodes <= proof.nodes
        beaten = least_cost(data, below=least - 1.0)
        assert beaten is not None
        assert beaten.start is None


@pytest.mark.parametrize("seed", range(4))
def test_least_wire_lies_between_bound_and_cheapest_plate(seed: int) -> None:
    small, data = _case(8, seed, 2)
    wire_only = small._replace(w_height=0.0, w_duct=0.0, w_rail=0.0, w_zone=0.0, pull=np.zeros(8))
    proof = least_wire(data)
    assert proof is not None
    assert proof.cost == pytest.approx(optimum(wire_only, math.inf)[0], rel=1e-12)
    assert wire_bound(data).value == pytest.approx(proof.cost, rel=1e-12)
    cheapest = least_cost(data)
    assert cheapest is not None
    assert cheapest.start is not None
    assert proof.cost <= priced(cheapest.start, *data)[0].wire + 1e-6


def test_nothing_is_claimed_when_not_all_was_tried() -> None:
    _, data = _case(9, 1, 2)
    assert least_cost(data, nodes=50) is None


def test_plates_with_something_in_the_way_are_not_tried() -> None:
    _, data = _case(7, 1, 2, middle=True)
    assert least_cost(data) is None
    _, data = _case(7, 1, 2)
    wished = data[2]._replace(wish=np.array([[1, 0, 1]]))
    assert least_cost((data[0], data[1], wished)) is None
