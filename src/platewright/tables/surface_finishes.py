"""How sheets radiate, take up sunlight and conduct."""

from __future__ import annotations

from dataclasses import dataclass

from platewright.foundation.sources import Standing
from platewright.foundation.units import Mm, Ratio, WattPerMK
from platewright.tables.reader import read_table


@dataclass(frozen=True, slots=True, kw_only=True)
class Finish:
    """One row of ``surface_finishes.csv``."""

    name: str
    emissivity: Ratio
    emissivity_low: Ratio
    emissivity_high: Ratio
    sun: Ratio
    conductivity: WattPerMK
    thickness: Mm
    source: str
    standing: Standing


def finishes() -> tuple[Finish, ...]:
    """Return every finish known."""
    return read_table("surface_finishes", Finish)


def finish(name: str) -> Finish | None:
    """Return a finish by its name in any case; ``None``: not in the table."""
    wanted = " ".join(name.lower().split())
    return next((row for row in finishes() if row.name.lower() == wanted), None)
