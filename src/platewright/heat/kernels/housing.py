"""Where each housing settles: the loop of ``heat.surface.surfaces``. Metres, kelvin, watts."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from platewright.foundation.compiled import compiled
from platewright.heat.air import GAS_CONSTANT, GRAVITY, HEAT_CAPACITY, LEAST_DIFFERENCE, Floats
from platewright.heat.radiation import STEFAN_BOLTZMANN

_SIGMA, _CP, _GAS, _G, _LEAST = (
    STEFAN_BOLTZMANN, HEAT_CAPACITY, GAS_CONSTANT, GRAVITY, LEAST_DIFFERENCE,
)  # fmt: skip
_MOST = 20
_CLOSED_TO = 1e-7  # K
_JOINED_TO = 1e-12  # of the square left over: a step is right to a millionth


@compiled
def air_film(sizes: Floats, hot: float, air: float, pressure: float) -> float:
    """Return Σ h·A in W/K over front, open sides, top and underside.

    ``sizes``: height, area of front and open sides, area of the top, its area over perimeter.
    """
    height, sides, flat, length = sizes[0], sizes[1], sizes[2], sizes[3]
    mid = (hot + air) / 2.0
    ratio = mid / 273.15
    scale = ratio * math.sqrt(ratio)
    viscosity = 1.716e-5 * scale * 383.55 / (mid + 110.4)
    conductivity = 0.0241 * scale * 467.15 / (mid + 194.0)
    density = pressure / (_GAS * mid)
    pr = viscosity * _CP / conductivity
    ra = _G * (abs(hot - air) + _LEAST) * pr * (density / viscosity) ** 2 / mid
    shape = (1.0 + (0.492 / pr) ** 0.5625) ** (4.0 / 9.0)
    upright = 0.68 + 0.670 * math.sqrt(math.sqrt(ra * height**3)) / shape
    level = (0.54 + 0.27) * math.sqrt(math.sqrt(ra * length**3))
    return float(conductivity * (sides * upright / height + flat * level / length))


@compiled
def _applied(diagonal: Floats, x: Floats, ends: NDArray[np.int64], across: Floats) -> Floats:
    """Return what a step of each body takes up, with what passes between them."""
    out = diagonal * x
    for k in range(across.shape[0]):
        i, j = ends[k, 0], ends[k, 1]
        out[i] -= across[k] * x[j]
        out[j] -= across[k] * x[i]
    return out


@compiled
def joined_step(slope: Floats, left: Floats, ends: NDArray[np.int64], across: Floats) -> Floats:
    """Return x of slope·x + Σ across·(x − x_other) = left, by conjugate gradients."""
    diagonal = slope.copy()
    for k in range(across.shape[0]):
        diagonal[ends[k, 0]] += across[k]
        diagonal[ends[k, 1]] += across[k]
    x = left / diagonal
    if across.shape[0] == 0:
        return x
    rest = left - _applied(diagonal, x, ends, across)
    eased = rest / diagonal
    way, size = eased.copy(), np.dot(rest, eased)
    least = _JOINED_TO * np.dot(left, left / diagonal)
    for _ in range(4 * x.shape[0]):
        if size <= least:
            break
        felt = _applied(diagonal, way, ends, across)
        far = size / np.dot(way, felt)
        x += far * way
        rest -= far * felt
        eased = rest / diagonal
        size, before = np.dot(rest, eased), size
        way = eased + size / before * way
    return x


@compiled
def settle(
    bodies: Floats, around: Floats, pressure: float, ends: NDArray[np.int64], across: Floats
) -> Floats:
    """Return temperature (K), heat to air, into the plate, radiated (W): (devices, 4).

    ``bodies``: width, height, depth, loss, into the plate (W/K), emissivity, open share of both
    sides together (0 to 2). ``around``: air, walls, plate (K). ``ends``, ``across``: pairs of
    bodies that pass heat to each other, W/K. Newton's steps on all bodies at once.
    """
    n = bodies.shape[0]
    found = np.empty((n, 4))
    sizes, glow, hot = np.empty((n, 4)), np.empty(n), np.empty(n)
    film, slope, left = np.empty(n), np.empty(n), np.empty(n)
    for i in range(n):
        w, h, d = bodies[i, 0], bodies[i, 1], bodies[i, 2]
        sizes[i, 0], sizes[i, 1], sizes[i, 2] = h, w * h + h * d * bodies[i, 6], w * d
        sizes[i, 3] = sizes[i, 2] / (2.0 * (w + d))
        area = sizes[i, 1] + 2.0 * sizes[i, 2]
        glow[i] = area * bodies[i, 5] * _SIGMA
        hot[i] = around[i, 0] + min(150.0, bodies[i, 3] / (10.0 * area + bodies[i, 4]))
    for _ in range(_MOST):
        for i in range(n):
            air, walls, plate = around[i, 0], around[i, 1], around[i, 2]
            foot = bodies[i, 4]
            film[i] = air_film(sizes[i], hot[i], air, pressure)
            out = film[i] * (hot[i] - air) + glow[i] * (hot[i] ** 4 - walls**4)
            left[i] = bodies[i, 3] - out - foot * (hot[i] - plate)
            slope[i] = 1.25 * film[i] + 4.0 * glow[i] * hot[i] ** 3 + foot
        for k in range(across.shape[0]):
            i, j = ends[k, 0], ends[k, 1]
            passed = across[k] * (hot[i] - hot[j])
            left[i] -= passed
            left[j] += passed
        step = joined_step(slope, left, ends, across)
        hot += step
        if n == 0 or np.abs(step).max() < _CLOSED_TO:
            break
    for i in range(n):
        air, walls, plate = around[i, 0], around[i, 1], around[i, 2]
        found[i, 0] = hot[i]
        found[i, 1] = air_film(sizes[i], hot[i], air, pressure) * (hot[i] - air)
        found[i, 2] = bodies[i, 4] * (hot[i] - plate)
        found[i, 3] = glow[i] * (hot[i] ** 4 - walls**4)
    return found
