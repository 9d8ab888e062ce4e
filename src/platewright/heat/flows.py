"""Heat carried out by air that passes through: fan, vents, exchanger."""

from __future__ import annotations

from dataclasses import dataclass

from platewright.foundation.units import (
    M2,
    SECONDS_PER_HOUR,
    AirFlow,
    DegC,
    Kelvin,
    Metre,
    Pascal,
    Ratio,
    Watt,
    WattPerK,
)
from platewright.heat.air import GRAVITY, air_at, kelvin


def flow_conductance(flow: AirFlow, outside: DegC, pressure: Pascal) -> WattPerK:
    """Return ρ·cp·V: heat per kelvin of rise, density at inlet and site. Checked: HEAT-31."""
    return air_at(kelvin(outside), pressure).heat_per_volume * flow / SECONDS_PER_HOUR


def flow_for(heat: Watt, rise: Kelvin, *, outside: DegC, pressure: Pascal) -> AirFlow:
    """Return the flow that carries a heat at a rise: V = P/(ρ·cp·ΔT). Checked: HEAT-31."""
    density_heat = air_at(kelvin(outside), pressure).heat_per_volume
    return heat / (density_heat * rise) * SECONDS_PER_HOUR


@dataclass(frozen=True, slots=True, kw_only=True)
class Vents:
    """An opening low and one as high up as ``height`` above it."""

    low: M2
    high: M2
    height: Metre
    coefficient: Ratio  # 0.6 sharp edge, 0.25–0.4 louvre with filter

    @property
    def opening(self) -> M2:
        """Both in series: 1/√(1/A1² + 1/A2²)."""
        if min(self.low, self.high) <= 0:
            return 0.0
        return float((1 / self.low**2 + 1 / self.high**2) ** -0.5)


def vent_flow(vents: Vents, rise: Kelvin, outside: DegC) -> AirFlow:
    """Return V = C·A·√(2·g·H·ΔT/T): what warm air draws through vents. Checked: HEAT-32."""
    pull = 2 * GRAVITY * vents.height * max(0.0, rise) / kelvin(outside)
    return vents.coefficient * vents.opening * float(pull**0.5) * SECONDS_PER_HOUR


def vent_rise(vents: Vents, heat: Watt, *, outside: DegC, pressure: Pascal) -> Kelvin:
    """Return the rise at which vents alone carry a heat; ΔT ∝ P^⅔. Checked: HEAT-32."""
    density_heat = air_at(kelvin(outside), pressure).heat_per_volume
    pull = 2 * GRAVITY * vents.height / kelvin(outside)
    return float((heat / (density_heat * vents.coefficient * vents.opening * pull**0.5)) ** (2 / 3))
