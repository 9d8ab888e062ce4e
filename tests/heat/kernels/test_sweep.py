"""The compiled sweeps against a plain whole-array form, and against themselves uncompiled."""

import numpy as np
import pytest

from platewright.heat.kernels import field, sweep

SHAPE = (7, 5, 6)
STEP = 0.3
FILM = np.array([0.4, 1.5, 0.2, -0.5])


def _random(seed):
    chance = np.random.default_rng(seed)
    air = (chance.random(SHAPE) > 0.2).astype(np.uint8)
    faces = np.zeros((SHAPE[0] + 1, *SHAPE[1:]), dtype=np.uint8)
    faces[1:-1] = air[1:] & air[:-1]
    return chance, air, faces


def _shifted(values, by, fill):
    """Return values[i + by] along the first axis, ``fill`` beyond the ends."""
    out = np.full_like(values, fill)
    if by > 0:
        out[:-by] = values[by:]
    elif by < 0:
        out[-by:] = values[:by]
    else:
        out[:] = values
    return out


def _plain_warmth(warmth, air, speed, spreading):
    """Whole-array form: flux through every inner face, far values where air is."""
    air = air.astype(bool)
    low, high = slice(None, -1), slice(1, None)
    passes = air[low] & air[high]
    before = np.where(_shifted(air, -1, fill=False), _shifted(warmth, -1, 0.0), warmth)
    after = np.where(_shifted(air, 1, fill=False), _shifted(warmth, 1, 0.0), warmth)
    forward = speed[1:-1] >= 0
    behind = np.where(forward, warmth[low], warmth[high])
    ahead = np.where(forward, warmth[high], warmth[low])
    far = np.where(forward, before[low], after[high])
    rise, last = ahead - behind, behind - far
    third = (2 * rise + last) / 6
    size = np.minimum(np.abs(third), np.minimum(np.abs(rise), np.abs(last)))
    value = behind + np.where(rise * last > 0, np.sign(rise) * size, 0.0)
    carried = np.where(passes, speed[1:-1] * value, 0.0)
    ease = (spreading[low] + spreading[high]) / 2
    spread = np.where(passes, ease * (warmth[high] - warmth[low]) / STEP, 0.0)
    carry_faces = np.concatenate([np.zeros((1, *SHAPE[1:])), carried, np.zeros((1, *SHAPE[1:]))])
    spread_faces = np.concatenate(
        [
            FILM[0] * (warmth[:1] - FILM[1]),
            spread,
            FILM[2] * (FILM[3] - warmth[-1:]),
        ]
    )
    return air * -np.diff(carry_faces, axis=0) / STEP, air * np.diff(spread_faces, axis=0) / STEP


@pytest.mark.parametrize("seed", range(5))
def test_warmth_equals_its_whole_array_form(seed):
    chance, air, faces = _random(seed)
    warmth, spreading = chance.normal(size=SHAPE), chance.random(SHAPE)
    speed = chance.normal(size=faces.shape) * faces
    carry, spread = np.zeros(SHAPE), np.zeros(SHAPE)
    sweep.sweep_warmth(warmth, air, speed, spreading, FILM, carry, spread, STEP)
    plain_carry, plain_spread = _plain_warmth(warmth, air, speed, spreading)
    assert np.allclose(carry, plain_carry, rtol=0, atol=1e-12)
    assert np.allclose(spread, plain_spread, rtol=0, atol=1e-12)


@pytest.mark.parametrize("seed", range(5))
def test_speed_along_its_axis_equals_its_whole_array_form(seed):
    chance, _, faces = _random(seed)
    speed, viscosity = chance.normal(size=faces.shape) * faces, chance.random(SHAPE)
    carry, spread = np.zeros(faces.shape), np.zeros(faces.shape)
    sweep.sweep_along(speed, viscosity, carry, spread, STEP)
    crossing = (speed[1:] + speed[:-1]) / 2
    before = np.concatenate([2 * speed[:1] - speed[1:2], speed[:-2]])
    after = np.concatenate([speed[2:], 2 * speed[-1:] - speed[-2:-1]])
    value = np.where(
        crossing >= 0,
        (2 * speed[1:] + 5 * speed[:-1] - before) / 6,
        (2 * speed[:-1] + 5 * speed[1:] - after) / 6,
    )
    plain_carry = -np.diff(crossing * value, axis=0) / STEP
    plain_spread = np.diff(viscosity * np.diff(speed, axis=0) / STEP, axis=0) / STEP
    assert np.allclose(carry[1:-1], plain_carry, rtol=0, atol=1e-12)
    assert np.allclose(spread[1:-1], plain_spread, rtol=0, atol=1e-12)
    assert not carry[[0, -1]].any()


def _crossed(seed):
    """Return a speed along axis 1 crossed along axis 0, as the sweep takes them."""
    chance = np.random.default_rng(seed)
    n, m, k = SHAPE
    is_open = np.zeros((n, m + 1, k), dtype=np.uint8)
    is_open[:, 1:-1] = chance.random((n, m - 1, k)) > 0.2
    speed = chance.normal(size=is_open.shape) * is_open
    crossing, viscosity = chance.normal(size=(n + 1, m, k)), chance.random(SHAPE)
    crossing[[0, -1]] = 0.0
    return speed, is_open, crossing, viscosity


@pytest.mark.parametrize("mirror", [1.0, -1.0])
@pytest.mark.parametrize("seed", range(3))
def test_speed_across_keeps_momentum_but_for_walls_and_solids(seed, mirror):
    speed, is_open, crossing, viscosity = _crossed(seed)
    is_open[:, 1:-1] = 1
    carry, spread = np.zeros(speed.shape), np.zeros(speed.shape)
    sweep.sweep_across(speed, is_open, crossing, viscosity, carry, spread, STEP, 1, mirror)
    assert np.allclose(carry.sum(axis=0), 0.0, atol=1e-12)
    held = viscosity[:, 1:] + viscosity[:, :-1]  # twice the viscosity at the speed's place
    at_walls = held[0] * speed[0, 1:-1] + held[-1] * speed[-1, 1:-1]
    lost = (mirror - 1) / 2 * at_walls / STEP**2
    assert np.allclose(spread.sum(axis=0)[1:-1], lost, atol=1e-12)


@pytest.mark.parametrize("seed", range(3))
def test_compiled_and_uncompiled_sweeps_agree(seed):
    speed, is_open, crossing, viscosity = _crossed(seed)
    results = []
    for run in (sweep.sweep_across, sweep.sweep_across.py_func):
        carry, spread = np.zeros(speed.shape), np.zeros(speed.shape)
        run(speed, is_open, crossing, viscosity, carry, spread, STEP, 1, -1.0)
        results.append((carry, spread))
    assert np.allclose(results[0], results[1], rtol=0, atol=1e-12)


def test_eddies_of_a_plain_shear_follow_its_rate():
    n, step, rate = 6, 0.1, 3.0
    x = np.zeros((n + 1, n, n))
    x[:] = rate * (np.arange(n) * step)[None, None, :]
    still = np.zeros((n, n + 1, n)), np.zeros((n, n, n + 1))
    viscosity = np.zeros((n, n, n))
    field.eddies(x, *still, np.full(3, step), viscosity, 0.01, 0.2)
    assert np.allclose(viscosity, 0.01 + 0.2**2 * rate)
