"""How heavy sheet is."""

from __future__ import annotations

from dataclasses import dataclass

from platewright.foundation.sources import Standing
from platewright.foundation.units import Kg
from platewright.tables.reader import read_table


@dataclass(frozen=True, slots=True, kw_only=True)
class PlateMass:
    """One row of ``plate_masses.csv``: mass of a square metre, 1 mm thick."""

    material: str
    mass: Kg
    source: str
    standing: Standing


def plate_mass(material: str) -> Kg | None:
    """Return the mass of a square metre of a sheet of 1 mm; ``None``: material not known."""
    rows = read_table("plate_masses", PlateMass)
    return next((row.mass for row in rows if row.material == material), None)
