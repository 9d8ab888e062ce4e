"""Core and wakes: exact cases of the fast model, its twins and what was measured of it."""

import math
from dataclasses import replace

import numpy as np
import pytest

from platewright.heat.kernels.wakes import (
    inlet_wakes,
    left_of_wakes,
    summed_wakes,
    wake_strengths,
)
from platewright.heat.local_air import (
    LAYERS,
    Bars,
    Constants,
    Room,
    Sources,
    core_rise,
    core_shape,
    inlet_rise,
    inlets_of,
    plume_flow,
    wall_loss,
)

ROOM = Room(width=0.8, height=1.2, depth=0.25, upright=5.0, floor=0.5, roof=0.7, sides=2.0)
NONE = Bars(**{side: np.zeros(0) for side in ("left", "right", "bottom", "top")})
CONSTANTS = Constants.from_table()


def sources(*rows):
    x, y, w, h, d = np.array(rows, dtype=np.float64).T
    return Sources(x=x, y=y, width=w, height=h, depth=d)


def test_core_over_a_constant_flow_is_exponential():
    # HEAT-30: T(H)/T(0) = exp(U·perimeter·H/(M·cp))
    shape = core_shape(ROOM, np.full(LAYERS + 1, 0.01))
    exact = math.exp(5.0 * 1.2 / (0.01 * 1006))
    assert shape[-1] / shape[0] == pytest.approx(exact, rel=1e-2)


def test_core_gives_off_what_it_is_scaled_to():
    here = sources((0.4, 0.3, 0.1, 0.1, 0.09))
    heat = np.array([100.0])
    core = core_rise(ROOM, here, heat, loss=100.0, constants=CONSTANTS)
    high = (0.3 + 0.05) / ROOM.height
    factor = CONSTANTS.core_share + CONSTANTS.core_lean * (0.5 - high)
    assert wall_loss(ROOM, core) == pytest.approx(100.0 * factor, rel=1e-9)
    assert np.all(np.diff(core) >= 0)


def test_warm_air_reaches_lower_where_the_sides_are_not_cooled():
    here, heat = sources((0.4, 0.5, 0.1, 0.1, 0.09)), np.array([100.0])
    falls = replace(CONSTANTS, core_sag=0.1)

    def core(room, constants):
        return core_rise(room, here, heat, loss=100.0, constants=constants)

    shut = replace(ROOM, sides=0.0)
    shapes = [core(room, falls) / core(room, falls)[-1] for room in (shut, ROOM)]
    assert np.all(shapes[0] >= shapes[1] - 1e-9)
    low = LAYERS // 3  # under the device
    assert shapes[0][low] > 1.02 * shapes[1][low]
    still = replace(CONSTANTS, core_sag=0.0)
    assert np.array_equal(core(shut, still), core(ROOM, still))


def test_plumes_carry_more_the_higher_they_rise():
    flow = plume_flow(ROOM, sources((0.4, 0.2, 0.1, 0.1, 0.09)), np.array([50.0]), CONSTANTS)
    assert np.all(np.diff(flow) >= -1e-12)


def test_two_wakes_in_one_place_are_one_of_both():
    # HEAT-29: 50 W and 50 W make 100 W, in a core that is warm alike everywhere
    two = sources(
        (0.4, 0.1, 0.1, 0.1, 0.09), (0.4, 0.1, 0.1, 0.1, 0.09), (0.4, 0.7, 0.1, 0.1, 0.09)
    )
    one = sources((0.4, 0.1, 0.1, 0.1, 0.09), (0.4, 0.7, 0.1, 0.1, 0.09))
    flat = np.full(LAYERS + 1, 7.0)

    def top(here, heat):
        inlets = inlets_of(here, NONE, CONSTANTS)
        return inlet_rise(flat, ROOM, here, inlets, np.array(heat), CONSTANTS)[-1]

    assert top(two, [50.0, 50.0, 0.0]) == pytest.approx(top(one, [100.0, 0.0]), rel=1e-12)


def test_own_wake_is_not_in_the_air_a_device_takes():
    here = sources((0.4, 0.1, 0.1, 0.2, 0.09))
    flat = np.full(LAYERS + 1, 7.0)
    found = inlet_rise(
        flat, ROOM, here, inlets_of(here, NONE, CONSTANTS), np.array([90.0]), CONSTANTS
    )
    assert found[0] == pytest.approx(7.0, abs=1e-9)


def test_wakes_are_their_plain_twin():
    chance = np.random.default_rng(5)
    y, start = np.linspace(0, 1, 30), chance.uniform(0, 1, 12)
    origin, power = chance.uniform(0.05, 0.4, 12), chance.uniform(0, 0.2, 12)
    warm, begin = np.linspace(0, 30, 30), chance.uniform(0, 30, 12)
    rise = y[:, None] - start
    plain = 80.0 * (np.maximum(rise, 0) + origin) ** (-5 / 3) * np.clip(rise / 0.02 + 0.5, 0, 1)
    strength = wake_strengths(y, start, origin, 80.0, 0.02)
    np.testing.assert_allclose(strength, plain, rtol=1e-12, atol=1e-12)
    excess = plain * power - 0.2 * np.maximum(0, warm[:, None] - begin)
    left = left_of_wakes(strength, power, warm, begin, 0.2)
    np.testing.assert_allclose(left, np.maximum(0, excess) ** 1.5, rtol=1e-9, atol=1e-9)


def test_inlets_are_their_plain_twin():
    chance = np.random.default_rng(3)
    left, reach = chance.uniform(0, 9, (20, 20)), chance.uniform(2, 30, (20, 20))
    x, width, samples = (
        chance.uniform(0, 1, 20),
        chance.uniform(0.01, 0.2, 20),
        np.array([-0.3, 0.3]),
    )
    places = x[:, None] + samples * width[:, None]
    bells = np.exp(-(((places[:, :, None] - x) * reach[:, None, :]) ** 2))
    plain = ((bells * left[:, None, :]).sum(axis=2) ** (2 / 3)).mean(axis=1)
    np.testing.assert_allclose(inlet_wakes(left, reach, x, width, samples), plain, rtol=1e-12)


@pytest.mark.parametrize("is_side", [False, True])
def test_pictures_are_their_plain_twin(is_side):
    chance = np.random.default_rng(4)
    columns = np.linspace(0.01, 0.99, 50)
    strength, reach = chance.uniform(0, 9, (6, 12)), chance.uniform(2, 30, (6, 12))
    centre = chance.uniform(0, 1, 12)
    off = columns[:, None] - centre
    off = np.maximum(0, off) if is_side else off
    bells = np.exp(-((off[None] * reach[:, None, :]) ** 2))
    plain = (bells * strength[:, None, :]).sum(axis=2) ** (2 / 3)
    found = summed_wakes(columns, centre, strength, reach, is_side)
    # what is left out is below a four-hundredth of a wake's middle
    np.testing.assert_allclose(found, plain, atol=0.02 * plain.max())
    assert np.abs(found - plain).mean() < 2e-3 * plain.max()
