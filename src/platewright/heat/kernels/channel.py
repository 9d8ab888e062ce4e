"""Walls beside warm devices at many gaps: the loop of ``heat.gap.beside``, which is its plain twin.

Units inside: metres, kelvin, watts. From the widest gap inwards, each starting where the last
ended, so that few steps are enough.
"""

from __future__ import annotations

import math

import numpy as np

from platewright.foundation.compiled import compiled
from platewright.heat.air import GAS_CONSTANT, GRAVITY, HEAT_CAPACITY, LEAST_DIFFERENCE, Floats
from platewright.heat.radiation import STEFAN_BOLTZMANN

_SIGMA, _CP, _GAS, _G, _LEAST = (
    STEFAN_BOLTZMANN, HEAT_CAPACITY, GAS_CONSTANT, GRAVITY, LEAST_DIFFERENCE,
)  # fmt: skip
_FIRST, _NEXT = 10, 3  # steps at the widest gap, at each gap after it


@compiled
def walls_beside(bodies: Floats, gaps: Floats, other: Floats, views: Floats) -> Floats:
    """Return the hottest point of the wall at each gap: (devices, gaps), K.

    ``bodies``: width, height, depth, loss, into the plate, emissivity, air (K), by device.
    ``other``: emissivity, inside film, free film, pressure. ``views``: point, plate (2, n, m).
    """
    n, m = bodies.shape[0], gaps.size
    found = np.empty((n, m))
    shade, inside, free_film, pressure = other[0], other[1], other[2], other[3]
    for i in range(n):
        w, h, d, loss, foot, eps, air = (
            bodies[i, 0], bodies[i, 1], bodies[i, 2], bodies[i, 3], bodies[i, 4], bodies[i, 5],
            bodies[i, 6],
        )  # fmt: skip
        side, flat = h * d, w * d
        free, length = w * h + side, flat / (2.0 * (w + d))
        hot = air + min(150.0, loss / (10.0 * (free + side + 2.0 * flat)))
        wall = air
        for k in range(m - 1, -1, -1):
            gap, point, plate = gaps[k], views[0, i, k], views[1, i, k]
            shape = 1.0
            for _ in range(_FIRST if k == m - 1 else _NEXT):
                mid = (hot + air) / 2.0
                ratio = mid / 273.15
                scale = ratio * math.sqrt(ratio)
                viscosity = 1.716e-5 * scale * 383.55 / (mid + 110.4)
                conductivity = 0.0241 * scale * 467.15 / (mid + 194.0)
                density = pressure / (_GAS * mid)
                pr = viscosity * _CP / conductivity
                ra = _G * (abs(hot - air) + _LEAST) * pr * (density / viscosity) ** 2 / mid
                if shape == 1.0:  # Pr hardly moves: once a gap
                    shape = (1.0 + (0.492 / pr) ** 0.5625) ** (4.0 / 9.0)
                upright = 0.68 + 0.670 * math.sqrt(math.sqrt(ra * h**3)) / shape
                level = (0.54 + 0.27) * math.sqrt(math.sqrt(ra * length**3))
                number = ra * gap**4 / h
                channel = 1.0 / math.sqrt(144.0 / number**2 + 2.87 / math.sqrt(number)) / gap
                channel = min(channel, upright / h)
                convect = conductivity * (
                    free * upright / h + flat * level / length + side * channel
                )
                wide = (free + 2.0 * flat + side * (1.0 - plate)) * eps * _SIGMA
                cross = side * plate * eps * shade * _SIGMA
                out = (convect + foot) * (hot - air) + wide * (hot**4 - air**4)
                out += cross * (hot**4 - wall**4) - loss
                slope = 1.25 * convect + foot + 4.0 * (wide + cross) * hot**3
                hot -= out / slope
                film = (free_film**3 + (2.0 * conductivity / gap) ** 3) ** (1.0 / 3.0)
                at_wall = air + (hot - air) / (1.0 + (number / 120.0) ** 0.8)
                seen, away = eps * shade * point * _SIGMA, (1.0 - point) * shade * _SIGMA
                net = seen * (hot**4 - wall**4) + film * (at_wall - wall)
                net -= inside * (wall - air) + away * (wall**4 - air**4)
                wall += net / (film + inside + 4.0 * (seen + away) * wall**3)
            found[i, k] = wall
    return found
