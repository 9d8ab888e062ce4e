"""Copper conductors: gauge, area, resistance."""

from __future__ import annotations

import math
from typing import Final

from platewright.foundation.units import DegC, Mm, Mm2, OhmPerKm
from platewright.model.wire import SizeSystem, WireSize
from platewright.tables.sizes import SMALLEST_KCMIL, size_key
from platewright.tables.wires import conductor_row

COPPER_ALPHA: Final = 0.00393  # per K at 20 °C; IEC 60028
COPPER_RESISTIVITY: Final = 17.241  # Ω·mm²/km at 20 °C, 1/58 Ω·mm²/m; IEC 60028
REFERENCE_TEMPERATURE: Final[DegC] = 20.0
GAUGE_36: Final[Mm] = 0.127  # diameter of 36 AWG; ASTM B258
GAUGE_RATIO: Final = 92.0  # 4/0 AWG over 36 AWG, 39 steps apart; ASTM B258
GAUGE_STEPS: Final = 39
KCMIL: Final[Mm2] = math.pi / 4 * 0.0254**2 * 1000  # 1000 circles of one thousandth of an inch


def gauge_diameter(number: str) -> Mm:
    """Return the diameter of a solid wire of an AWG number: ``14``, ``1/0``.

    d = 0.127 · 92^((36 − n)/39) mm, with n = 0, −1, −2, −3 for 1/0 … 4/0 (ASTM B258).
    """
    aught, slash, _ = number.partition("/")
    gauge = 1 - int(aught) if slash else int(number)
    return float(GAUGE_36 * GAUGE_RATIO ** ((36 - gauge) / GAUGE_STEPS))


def conductor_area(size: WireSize) -> Mm2:
    """Return the copper area: nominal for mm², by the gauge formula for AWG, n/1000 for kcmil."""
    _, number = size_key(size)
    if size.system is SizeSystem.MM2:
        return float(number)
    if number.isdecimal() and int(number) >= SMALLEST_KCMIL:
        return int(number) * KCMIL
    return math.pi / 4 * gauge_diameter(number) ** 2


def resistance_at(resistance: OhmPerKm, *, known_at: DegC, at: DegC) -> OhmPerKm:
    """Return a copper resistance carried over from one temperature to another.

    R(T) = R20 · (1 + 0.00393 · (T − 20)).
    """
    return resistance * _warmth(at) / _warmth(known_at)


def solid_resistance(area: Mm2, *, at: DegC) -> OhmPerKm:
    """Return the resistance of solid copper of this area: resistivity over area."""
    return COPPER_RESISTIVITY / area * _warmth(at)


def conductor_resistance(size: WireSize, *, at: DegC) -> OhmPerKm | None:
    """Return the resistance of a stranded conductor from the tables; ``None``: not in them."""
    row = conductor_row(size)
    if row is None:
        return None
    return resistance_at(row.resistance, known_at=row.temperature, at=at)


def _warmth(temperature: DegC) -> float:
    return 1 + COPPER_ALPHA * (temperature - REFERENCE_TEMPERATURE)
