"""How far a warm device must stand from a duct or a neighbour.

Two things carry its warmth across: air in the channel between (the hot layer is about 12 mm thick)
and radiation, which decides everything beyond. The hottest point of the other wall stands alone
(plastic spreads heat over a few mm only):

    ε1·ε2·F·σ·(Ts⁴ − Td⁴) + h·(T_aw − Td) = U·(Td − T0) + (1 − F)·ε2·σ·(Td⁴ − T0⁴)

All functions take arrays that broadcast; lengths in metres, temperatures in °C at the edge.
Holds from about 8 mm to 300 mm. Walls and plate behind count as warm as the air at the foot.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from platewright.foundation.units import DegC, Metre, Pascal, Ratio, Watt, WattPerK, WattPerM2K
from platewright.heat.air import (
    GRAVITY,
    HEAT_CAPACITY,
    Floats,
    air_at,
    kelvin,
    rayleigh,
)
from platewright.heat.films import facing_down, facing_up_laminar, vertical_laminar
from platewright.heat.radiation import black_body, facing_plate, facing_point, radiation_film
from platewright.heat.surface import Bodies, Round, surfaces

BOTH_HOT: Final = 576.0  # channel constant, both walls at the device's temperature
ONE_HOT: Final = 144.0  # one wall hot, the other passive
WIDE: Final = 2.87  # of the wide channel's law
ROUNDS: Final = 8
W_PER_KW: Final = 1000.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Warm:
    """A device as its neighbour sees it. Fields may be arrays."""

    width: Metre | Floats
    height: Metre | Floats
    depth: Metre | Floats
    loss: Watt | Floats
    plate_conduction: WattPerK | Floats
    emissivity: Ratio | Floats
    air: DegC | Floats  # at its foot


@dataclass(frozen=True, slots=True, kw_only=True)
class Other:
    """The wall beside it: a duct's side, or a housing."""

    emissivity: Ratio = 0.9
    inside_film: WattPerM2K = 2.0  # into what it holds
    free_film: WattPerM2K = 3.5  # of its face where it stands free; the low end, which is safe
    top_film: WattPerM2K = 8.0  # of a wall that the plume meets


def elenbaas(pressure: Pascal, hot: Floats, air: Floats, gap: Floats, height: Floats) -> Floats:
    """Return El = Ra(gap)·gap/height, temperatures in kelvin, film properties."""
    film = air_at((hot + air) / 2, pressure)
    return rayleigh(film, hot - air, 1.0) * gap**4 / height


def channel_nusselt(number: Floats, constant: float = ONE_HOT) -> Floats:
    """Return Nu over the gap: [C/El² + 2.87/√El]^(−½), from memory of Bar-Cohen and Rohsenow 1984.

    C = 576 both walls hot, 144 one hot. Heat is counted from the inlet air. Checked: HEAT2-7,
    HEAT2-8, HEAT-37.
    """
    return (constant / number**2 + WIDE / np.sqrt(number)) ** -0.5


def passive_share(number: Floats) -> Floats:
    """Return how near the air at a passive wall comes to the hot one: 1/(1 + (El/120)^0.8).

    A fit to a solution of the channel's boundary layer, ±0.06.
    """
    return 1 / (1 + (number / 120) ** 0.8)


def layer_thickness(pressure: Pascal, *, hot: DegC, air: DegC, height: Metre) -> Metre:
    """Return δ = 3.93·H·Pr^(−½)·(0.952 + Pr)^¼·Gr^(−¼) of the hot layer (Squire–Eckert).

    Checked: HEAT-38.
    """
    film = air_at((kelvin(hot) + kelvin(air)) / 2, pressure)
    pr = film.prandtl
    grashof = rayleigh(film, hot - air, height) / pr
    return float(3.93 * height * pr**-0.5 * (0.952 + pr) ** 0.25 * grashof**-0.25)


def beside(warm: Warm, other: Other, gap: Floats, pressure: Pascal) -> tuple[Floats, Floats]:
    """Return device and hottest point of a wall beside it, °C. Checked: HEAT-42, HEAT2-26."""
    w, h, d = _array(warm.width), _array(warm.height), _array(warm.depth)
    air, eps = kelvin(_array(warm.air)) + 0 * gap, _array(warm.emissivity)
    foot = _array(warm.plate_conduction)
    side, flat = h * d, w * d
    free = w * h + side
    length = flat / (2 * (w + d))
    point, plate = facing_point(h, d, gap), facing_plate(h, d, gap)
    hot = air + np.minimum(150.0, warm.loss / (10.0 * (free + side + 2 * flat)))
    wall = air.copy()
    for _ in range(ROUNDS):
        number = elenbaas(pressure, hot, air, gap, h)
        film = air_at((hot + air) / 2, pressure)
        ra = rayleigh(film, hot - air, 1.0)
        flat_ra = ra * length**3
        level = facing_up_laminar(flat_ra) + facing_down(flat_ra)
        upright = vertical_laminar(ra * h**3, film.prandtl)
        channel = np.minimum(channel_nusselt(number) / gap, upright / h)
        convect = film.conductivity * (free * upright / h + flat * level / length + side * channel)
        glow = eps * radiation_film(hot, air)
        wide = (free + 2 * flat + side * (1 - plate)) * glow
        cross = side * plate * eps * other.emissivity * radiation_film(hot, wall)
        out = convect * (hot - air) + wide * (hot - air) + cross * (hot - wall)
        out = out + foot * (hot - air) - warm.loss
        steep = wide / glow * eps * 4 * black_body(hot) / hot + 1.5 * cross
        slope = 1.25 * convect + steep + foot
        hot = hot - out / slope
        wall = _wall(other, (point, eps), (hot, air, wall), (number, film.conductivity / gap))
    return hot - kelvin(0.0), wall - kelvin(0.0)


def _wall(
    other: Other, sight: tuple[Floats, Floats], at: tuple[Floats, Floats, Floats],
    channel: tuple[Floats, Floats],
) -> Floats:  # fmt: skip
    """Return the hottest point of the wall for one state of the device, one Newton step on."""
    (point, eps), (hot, air, wall) = sight, at
    number, still = channel
    film = (other.free_film**3 + (2 * still) ** 3) ** (1 / 3)
    at_wall = air + passive_share(number) * (hot - air)
    cross = eps * other.emissivity * point
    away = (1 - point) * other.emissivity
    net = (
        cross * (black_body(hot) - black_body(wall))
        + film * (at_wall - wall)
        - other.inside_film * (wall - air)
        - away * (black_body(wall) - black_body(air))
    )
    slope = film + other.inside_film + (cross + away) * 4 * black_body(wall) / wall
    return wall + net / slope


def wall_beside(warm: Warm, other: Other, gap: Floats, *, hot: DegC, pressure: Pascal) -> Floats:
    """Return the hottest point of a wall beside a device of known temperature. Checked: HEAT2-27."""
    h, air = _array(warm.height), kelvin(_array(warm.air)) + 0 * gap
    face = kelvin(_array(hot)) + 0 * gap
    film = air_at((face + air) / 2, pressure)
    number = elenbaas(pressure, face, air, gap, h)
    sight = facing_point(h, _array(warm.depth), gap), _array(warm.emissivity)
    wall = air
    for _ in range(ROUNDS):
        wall = _wall(other, sight, (face, air, wall), (number, film.conductivity / gap))
    return wall - kelvin(0.0)


PLUME_ORIGIN: Final[Metre] = 0.15
PLUME_MOST: Final[Ratio] = 0.6
FLAT_ROUNDS: Final = 5


def plume(air: Floats, convected: Floats, distance: Floats, pressure: Pascal) -> Floats:
    """Return how much warmer the middle of a free plume is, K; air in kelvin, heat in W.

    9.1·(T/(g·cp²·ρ²))^⅓·Q^⅔·z^(−5/3) in kW and kJ; z from the plume's origin. From memory of
    Heskestad.
    """
    here = air_at(air, pressure)
    heat = HEAT_CAPACITY / W_PER_KW
    group = (air / (GRAVITY * heat**2 * here.density**2)) ** (1 / 3)
    return 9.1 * group * (convected / W_PER_KW) ** (2 / 3) * distance ** (-5 / 3)


def below(warm: Warm, other: Other, gap: Floats, pressure: Pascal) -> Floats:
    """Return the hottest point of a wall below a device, °C: radiation of its underside alone."""
    hot, _ = free_standing(warm, pressure)
    air = kelvin(_array(warm.air)) + 0 * gap
    film = _array(other.free_film) + 0 * gap
    return _flat_wall(warm, other, gap, at=(kelvin(hot), air, air, film))


def above(warm: Warm, other: Other, gap: Floats, pressure: Pascal) -> Floats:
    """Return the hottest point of a wall above a device, °C: plume and radiation of its top.

    The plume of a body against a plate is that of twice its heat, from 0.15 m below its top, at
    most 0.6 of the body's rise. ±30 %.
    """
    hot_c, convected = free_standing(warm, pressure)
    hot, air = kelvin(hot_c), kelvin(_array(warm.air)) + 0 * gap
    excess = plume(air, 2 * convected, gap + PLUME_ORIGIN, pressure)
    at_wall = air + np.minimum(PLUME_MOST * (hot - air), excess)
    film = _array(other.top_film) + 0 * gap
    return _flat_wall(warm, other, gap, at=(hot, air, at_wall, film))


def free_standing(warm: Warm, pressure: Pascal) -> tuple[Floats, Floats]:
    """Return temperature (°C) and heat to the air (W) of a device with nothing beside it."""
    fields = (
        warm.width, warm.height, warm.depth, warm.loss, warm.plate_conduction, warm.emissivity,
        warm.air,
    )  # fmt: skip
    filled = np.broadcast_arrays(*(_array(field) for field in fields))
    width, height, depth, loss, foot, emissivity, air = (each.ravel() for each in filled)
    even = np.ones_like(air)
    state = surfaces(
        Bodies(
            width=width, height=height, depth=depth, loss=loss, plate_conduction=foot,
            emissivity=emissivity, open_left=even, open_right=even,
        ),
        Round(air=air, walls=air, plate=air, pressure=pressure),
    )  # fmt: skip
    shape = filled[0].shape
    return state.temperature.reshape(shape), state.convected.reshape(shape)


def _flat_wall(
    warm: Warm, other: Other, gap: Floats, *, at: tuple[Floats, Floats, Floats, Floats]
) -> Floats:
    """Return a level wall that sees the device's top or underside; ``at`` in kelvin, and a film."""
    hot, air, at_wall, film = at
    point = facing_point(_array(warm.width), _array(warm.depth), gap)
    cross = _array(warm.emissivity) * other.emissivity * point
    away = (1 - point) * other.emissivity
    wall = at_wall.copy()
    shone = cross * black_body(hot) + away * black_body(air)
    carried = film * at_wall + other.inside_film * air
    for _ in range(FLAT_ROUNDS):
        own = (cross + away) * black_body(wall)
        net = shone - own + carried - (film + other.inside_film) * wall
        wall = wall + net / (film + other.inside_film + 4 * own / wall)
    return wall - kelvin(0.0)


def _array(value: float | Floats) -> Floats:
    return np.asarray(value, dtype=np.float64)
