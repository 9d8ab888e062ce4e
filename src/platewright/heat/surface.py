"""How warm a device's housing gets: films, radiation, and heat into the plate.

    P = Σ h·A·(Ts − T_air) + ε·σ·A·v·(Ts⁴ − T_round⁴) + G·(Ts − T_plate)

over front, sides, top and bottom; the back faces the plate. Arrays: one entry a device, metres and
°C. A housing is taken as one temperature: hot spots inside are hotter by what only its maker knows.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from platewright.foundation.units import Pascal
from platewright.heat.air import Floats, air_at, kelvin, rayleigh
from platewright.heat.films import facing_down, facing_up_laminar, vertical_laminar
from platewright.heat.radiation import black_body, radiation_film

ROUNDS: Final = 6  # fixed, so that equal input gives equal output


@dataclass(frozen=True, slots=True, kw_only=True)
class Bodies:
    """Housings: sizes in m, losses in W, heat into the plate in W/K."""

    width: Floats
    height: Floats
    depth: Floats
    loss: Floats
    plate_conduction: Floats
    emissivity: Floats
    open_left: Floats  # share of the side that air and radiation reach
    open_right: Floats


@dataclass(frozen=True, slots=True, kw_only=True)
class Round:
    """What is round each housing, °C."""

    air: Floats
    walls: Floats
    plate: Floats
    pressure: Pascal


@dataclass(frozen=True, slots=True, kw_only=True)
class Surfaces:
    """Where each housing settles."""

    temperature: Floats  # °C
    convected: Floats  # W to the air
    foot: Floats  # W into the plate
    radiated: Floats  # W


def surfaces(bodies: Bodies, around: Round) -> Surfaces:
    """Return the steady state of every housing, by linearised steps. Checked: HEAT-41.

    Films and radiation are carried as secants, so the balance is exact where steps end.
    """
    air, walls, plate = kelvin(around.air), kelvin(around.walls), kelvin(around.plate)
    w, h, d = bodies.width, bodies.height, bodies.depth
    sides = w * h + h * d * (bodies.open_left + bodies.open_right)
    flat = w * d
    length = flat / (2 * (w + d))
    seen = (sides + 2 * flat) * bodies.emissivity
    foot = bodies.plate_conduction
    hot = air + np.minimum(150.0, bodies.loss / (10.0 * (sides + 2 * flat) + foot))
    for _ in range(ROUNDS):
        film = _air_film(h, length, sides, flat, (air, hot), around.pressure)
        glow = seen * radiation_film(hot, walls)
        total = film + glow + foot
        level = bodies.loss + film * air + glow * walls + foot * plate
        # Newton: films grow with ΔT^¼, radiation with T³
        slope = 1.25 * film + seen * 4 * black_body(hot) / hot + foot
        hot = hot - (total * hot - level) / slope
    film = _air_film(h, length, sides, flat, (air, hot), around.pressure)
    glow = seen * radiation_film(hot, walls)
    return Surfaces(
        temperature=hot - kelvin(0.0),
        convected=film * (hot - air),
        foot=foot * (hot - plate),
        radiated=glow * (hot - walls),
    )


def _air_film(
    height: Floats, length: Floats, sides: Floats, flat: Floats, at: tuple[Floats, Floats],
    pressure: Pascal,
) -> Floats:  # fmt: skip
    """Return Σ h·A in W/K."""
    air, face = at
    film = air_at((air + face) / 2, pressure)
    gap = face - air
    upright = vertical_laminar(rayleigh(film, gap, 1.0) * height**3, film.prandtl)
    quarter = rayleigh(film, gap, 1.0) * length**3
    level = facing_up_laminar(quarter) + facing_down(quarter)
    return film.conductivity * (sides * upright / height + flat * level / length)
