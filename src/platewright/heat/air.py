"""Air: what pressure and temperature make of it.

Functions of this folder take floats or arrays alike; lengths are metres inside formulas,
absolute temperatures kelvin.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Generic, TypeAlias, TypeVar

import numpy as np
from numpy.typing import NDArray

from platewright.foundation.units import KELVIN_AT_0_DEGC, Metre, Pascal

Floats: TypeAlias = NDArray[np.float64]
F = TypeVar("F", float, Floats)

GRAVITY: Final = 9.80665  # m/s², standard
GAS_CONSTANT: Final = 287.05  # J/(kg·K), dry air
HEAT_CAPACITY: Final = 1006.0  # J/(kg·K)
SEA_LEVEL: Final[Pascal] = 101325.0
LEAST_DIFFERENCE: Final = 1e-3  # K; keeps films finite where nothing is warm


@dataclass(frozen=True, slots=True)
class Air(Generic[F]):
    """Dry air at one film temperature and pressure."""

    temperature: F  # K
    density: F  # kg/m³
    viscosity: F  # Pa·s
    conductivity: F  # W/(m·K)

    @property
    def prandtl(self) -> F:
        """Prandtl number."""
        return self.viscosity * HEAT_CAPACITY / self.conductivity

    @property
    def kinematic(self) -> F:
        """Kinematic viscosity, m²/s."""
        return self.viscosity / self.density

    @property
    def heat_per_volume(self) -> F:
        """Heat that warms a cubic metre by one kelvin, J/(m³·K)."""
        return self.density * HEAT_CAPACITY


def pressure_at(altitude: Metre) -> Pascal:
    """Return the pressure at a height above sea level.

    p = 101325 · (1 − 2.25577e−5 · z)^5.2559, to 11 km. Source: ICAO standard atmosphere.
    Checked: HEAT-20.
    """
    return float(SEA_LEVEL * (1 - 2.25577e-5 * altitude) ** 5.2559)


def kelvin(celsius: F) -> F:
    """Return an absolute temperature."""
    return celsius + KELVIN_AT_0_DEGC


def air_at(temperature: F, pressure: Pascal) -> Air[F]:
    """Return the air at a film temperature in kelvin.

    Ideal gas; Sutherland's laws for viscosity (1.716e−5 Pa·s, 110.4 K) and conductivity
    (0.0241 W/(m·K), 194 K). From −50 to +300 °C. Checked: HEAT2-14.
    """
    ratio = temperature / KELVIN_AT_0_DEGC
    scale = ratio**1.5
    return Air(
        temperature=temperature,
        density=pressure / (GAS_CONSTANT * temperature),
        viscosity=1.716e-5 * scale * 383.55 / (temperature + 110.4),
        conductivity=0.0241 * scale * 467.15 / (temperature + 194.0),
    )


def rayleigh(air: Air[F], difference: F, length: float) -> F:
    """Return Ra = g · β · |ΔT| · L³ · Pr / ν², β = 1/T of the film."""
    size = abs(difference) + LEAST_DIFFERENCE
    return GRAVITY * size * length**3 * air.prandtl / (air.temperature * air.kinematic**2)


def dew_point(temperature: float, humidity: float) -> float:
    """Return the dew point in °C by Magnus: γ = ln(RH) + 17.62·T/(243.12+T).

    Checked: HEAT-33.
    """
    gamma = float(np.log(humidity)) + 17.62 * temperature / (243.12 + temperature)
    return 243.12 * gamma / (17.62 - gamma)
