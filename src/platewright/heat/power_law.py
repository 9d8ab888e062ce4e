"""Mean air inside an enclosure, second way: the published power law (IEC TR 60890).

Δt(half height) = k · d · P^0.804 for closed enclosures; Δt(top) = c · Δt(half height). For evenly
spread losses, painted sheet, no fan. k, c and the exponent are from memory of the report.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from platewright.foundation.units import M2, Kelvin, Watt
from platewright.heat.walls import Box3
from platewright.tables.power_law_constants import enclosure_constant

EXPONENT: Final = 0.804
SMALL: Final[M2] = 1.25  # up to here the top factor goes by height/width
_TALL: Final = ((0.6, 1.22), (12.0, 1.45))  # H^1.35/(W·D) -> c, from memory
_SQUAT: Final = ((0.5, 1.14), (4.0, 1.24))  # H/W -> c, from memory


@dataclass(frozen=True, slots=True, kw_only=True)
class PowerLaw:
    """What the power law says."""

    area: M2  # effective cooling area
    constant: float
    middle: Kelvin
    top: Kelvin


def power_law(box: Box3, area: M2, loss: Watt) -> PowerLaw | None:
    """Return the rise at half height and at the top; ``None``: outside the known curves.

    Checked: HEAT-22.
    """
    constant = enclosure_constant(area)
    if constant is None or loss < 0:
        return None
    middle = constant * float(loss**EXPONENT)
    return PowerLaw(area=area, constant=constant, middle=middle, top=middle * top_factor(box, area))


def top_factor(box: Box3, area: M2) -> float:
    """Return c = Δt(top)/Δt(half height), between remembered ends of its curves."""
    if area > SMALL:
        return _between(box.height**1.35 / (box.width * box.depth), _TALL)
    return _between(box.height / box.width, _SQUAT)


def _between(value: float, ends: tuple[tuple[float, float], tuple[float, float]]) -> float:
    (low, at_low), (high, at_high) = ends
    share = math.log(min(high, max(low, value)) / low) / math.log(high / low)
    return at_low + share * (at_high - at_low)
