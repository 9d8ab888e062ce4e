"""Enclosure constant of the power-law method."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from platewright.foundation.sources import Standing
from platewright.foundation.units import M2
from platewright.tables.reader import read_table


@dataclass(frozen=True, slots=True, kw_only=True)
class PowerLawRow:
    """One row of ``power_law_constant.csv``."""

    area: M2
    constant: float
    source: str
    standing: Standing


def enclosure_constant(area: M2) -> float | None:
    """Return k for an effective cooling area; ``None`` outside the table.

    Interpolated on logarithmic scales.
    """
    rows = read_table("power_law_constant", PowerLawRow)
    for low, high in pairwise(rows):
        if low.area <= area <= high.area:
            share = math.log(area / low.area) / math.log(high.area / low.area)
            return float(low.constant * (high.constant / low.constant) ** share)
    return None
