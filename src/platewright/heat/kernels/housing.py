"""Where each housing settles: the loop of ``heat.surface.surfaces``. Metres, kelvin, watts."""

from __future__ import annotations

import math

import numpy as np

from platewright.foundation.compiled import compiled
from platewright.heat.air import GAS_CONSTANT, GRAVITY, HEAT_CAPACITY, LEAST_DIFFERENCE, Floats
from platewright.heat.radiation import STEFAN_BOLTZMANN

_SIGMA, _CP, _GAS, _G, _LEAST = (
    STEFAN_BOLTZMANN, HEAT_CAPACITY, GAS_CONSTANT, GRAVITY, LEAST_DIFFERENCE,
)  # fmt: skip
_MOST = 20
_CLOSED_TO = 1e-7  # K


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
def settle(bodies: Floats, around: Floats, pressure: float) -> Floats:
    """Return temperature (K), heat to air, into the plate, radiated (W): (devices, 4).

    ``bodies``: width, height, depth, loss, into the plate (W/K), emissivity, open share of both
    sides together (0 to 2). ``around``: air, walls, plate (K).
    """
    n = bodies.shape[0]
    found = np.empty((n, 4))
    sizes = np.empty(4)
    for i in range(n):
        w, h, d = bodies[i, 0], bodies[i, 1], bodies[i, 2]
        loss, foot = bodies[i, 3], bodies[i, 4]
        air, walls, plate = around[i, 0], around[i, 1], around[i, 2]
        sizes[0], sizes[1], sizes[2] = h, w * h + h * d * bodies[i, 6], w * d
        sizes[3] = sizes[2] / (2.0 * (w + d))
        area = sizes[1] + 2.0 * sizes[2]
        glow = area * bodies[i, 5] * _SIGMA
        hot = air + min(150.0, loss / (10.0 * area + foot))
        for _ in range(_MOST):
            film = air_film(sizes, hot, air, pressure)
            out = film * (hot - air) + glow * (hot**4 - walls**4) + foot * (hot - plate)
            step = (out - loss) / (1.25 * film + 4.0 * glow * hot**3 + foot)
            hot -= step
            if abs(step) < _CLOSED_TO:
                break
        found[i, 0] = hot
        found[i, 1] = air_film(sizes, hot, air, pressure) * (hot - air)
        found[i, 2] = foot * (hot - plate)
        found[i, 3] = glow * (hot**4 - walls**4)
    return found
