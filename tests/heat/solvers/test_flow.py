"""The flow solver against exact solutions, and its laws."""

from itertools import pairwise

import numpy as np
import pytest

from platewright.heat.solvers.flow import Flow
from platewright.heat.solvers.flow_problem import FlowProblem, Grid, Wall


def _problem(cells, *, walls=None, sizes=(1.0, 1.0, 1.0), **more):
    steps = tuple(size / n for size, n in zip(sizes, cells, strict=True))
    slide = Wall(slides=True)
    given = {
        "grid": Grid(cells=cells, steps=steps),
        "air": np.ones(cells, dtype=np.uint8),
        "heating": np.zeros(cells),
        "walls": walls or ((slide, slide),) * 3,
        "viscosity": 0.01,
        "diffusivity": 0.01,
        "lift": 0.0,
    }
    return FlowProblem(**(given | more))


def _march(flow, seconds, step):
    for _ in range(round(seconds / step)):
        flow.rates()
        flow.march(step)


def _orders(errors):
    return [np.log2(a / b) for a, b in pairwise(errors)]


def test_conduction_decays_as_exact_and_converges_at_second_order():
    """Cosine wave between walls that let no heat pass: exp(−a·π²·t), exact."""
    errors = []
    for n in (8, 16, 32):
        x = (np.arange(n) + 0.5) / n
        wave = np.cos(np.pi * x)
        flow = Flow(_problem((n, 1, 2)), np.broadcast_to(wave[:, None, None], (n, 1, 2)))
        _march(flow, 2.0, 0.02 / (n / 8) ** 2)
        errors.append(np.abs(flow.warmth[:, 0, 0] - wave * np.exp(-0.01 * np.pi**2 * 2.0)).max())
    assert all(1.9 < order < 2.2 for order in _orders(errors))


@pytest.mark.parametrize("flat", [0, 1])
def test_decaying_vortex_converges_at_second_order_or_better(flat):
    """Vortex of Taylor and Green (1937) in a box it slides along: exp(−2·ν·π²·t), exact.

    Carrying is of third order and rules here; drag and pressure are of second.
    """
    errors = []
    across = 1 - flat
    for n in (8, 16, 32):
        cells = (n, 1, n) if flat == 1 else (1, n, n)
        flow = Flow(_problem(cells), np.zeros(cells))
        edge, mid = np.arange(n + 1) / n, (np.arange(n) + 0.5) / n
        wave = np.sin(np.pi * edge)[:, None] * np.cos(np.pi * mid)[None, :]
        rise = -np.cos(np.pi * mid)[:, None] * np.sin(np.pi * edge)[None, :]
        flow.speed(across)[:] = np.expand_dims(wave, flat)
        flow.speed(2)[:] = np.expand_dims(rise, flat)
        _march(flow, 0.5, 0.02 * 8 / n / 2)
        error = flow.speed(across) - np.expand_dims(wave, flat) * np.exp(-0.02 * np.pi**2 * 0.5)
        errors.append(np.abs(error).max())
    assert errors[-1] < 2e-3
    assert all(1.7 < order < 3.6 for order in _orders(errors))


def test_warmth_is_kept_whole_while_it_is_stirred():
    chance = np.random.default_rng(5)
    cells = (8, 6, 10)
    air = np.ones(cells, dtype=np.uint8)
    air[2:5, 0:3, 4:6] = 0
    warmth = chance.random(cells)
    flow = Flow(_problem(cells, air=air, lift=5.0, walls=((Wall(), Wall()),) * 3), warmth)
    _march(flow, 1.0, 0.01)
    assert abs(flow.speed(2)).max() > 0.01
    assert (flow.warmth * air).sum() == pytest.approx((warmth * air).sum(), rel=1e-12)


def test_temperatures_stay_between_the_coldest_and_the_hottest():
    chance = np.random.default_rng(6)
    cells = (10, 8, 12)
    warmth = chance.random(cells)
    flow = Flow(_problem(cells, lift=5.0, diffusivity=1e-4, viscosity=1e-3), warmth)
    _march(flow, 2.0, 0.01)
    assert flow.warmth.min() > -0.02
    assert flow.warmth.max() < 1.02


def test_flow_into_solids_fades_as_it_settles():
    cells = (12, 1, 16)
    air = np.ones(cells, dtype=np.uint8)
    air[4:8, :, 6:9] = 0
    sides = (Wall(film=None, warmth=1.0), Wall(film=None, warmth=0.0))
    slide = (Wall(slides=True), Wall(slides=True))
    problem = _problem(cells, air=air, lift=2.0, walls=(sides, slide, (Wall(), Wall())))
    flow = Flow(problem, np.full(cells, 0.5))
    _march(flow, 0.3, 0.03)
    early = flow.leak
    _march(flow, 60.0, 0.03)
    crossing = abs(flow.speed(2)).max() / problem.grid.steps[2]
    assert flow.leak < 1e-4 * crossing
    assert flow.leak < 0.01 * early
    assert not flow.speed(0)[5:8, :, 6:9].any()


def test_still_air_of_one_temperature_stays_still():
    flow = Flow(_problem((4, 4, 4), lift=9.0), np.full((4, 4, 4), 3.0))
    _march(flow, 1.0, 0.1)
    assert not flow.speed(2).any()
    assert (flow.warmth == 3.0).all()
