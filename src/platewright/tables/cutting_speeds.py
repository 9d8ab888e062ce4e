"""Cutting speeds for drilling with high-speed steel."""

from __future__ import annotations

from dataclasses import dataclass

from platewright.foundation.sources import Standing
from platewright.foundation.units import MetrePerMin
from platewright.tables.reader import read_table


@dataclass(frozen=True, slots=True, kw_only=True)
class CuttingSpeed:
    """One row of ``cutting_speeds.csv``: the slow and the fast end of what is advised."""

    material: str
    slowest: MetrePerMin
    fastest: MetrePerMin
    source: str
    standing: Standing


def cutting_speed(material: str) -> CuttingSpeed | None:
    """Return the drilling speed in steel, stainless, aluminium or plastic; ``None``: not known."""
    rows = read_table("cutting_speeds", CuttingSpeed)
    return next((row for row in rows if row.material == material), None)
