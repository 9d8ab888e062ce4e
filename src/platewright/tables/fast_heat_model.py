"""Constants of the fast model of the air inside."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from platewright.foundation.sources import Standing
from platewright.tables.reader import read_table


@dataclass(frozen=True, slots=True, kw_only=True)
class FittedRow:
    """One row of ``fast_heat_model.csv``."""

    name: str
    value: float
    unit: str
    source: str
    standing: Standing


@cache
def fitted() -> dict[str, float]:
    """Return every constant by name."""
    return {row.name: row.value for row in read_table("fast_heat_model", FittedRow)}
