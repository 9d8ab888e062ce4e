"""Thickness of sheet by gauge number: not the same for steel, galvanised steel, aluminium."""

from __future__ import annotations

from dataclasses import dataclass

from platewright.foundation.sources import Standing
from platewright.foundation.units import Mm
from platewright.tables.reader import read_table


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetGauge:
    """One row of ``sheet_gauges.csv``."""

    material: str
    gauge: int
    thickness: Mm
    source: str
    standing: Standing


def sheet_gauge(gauge: str, material: str = "steel") -> SheetGauge | None:
    """Return the sheet of a gauge written ``14``, ``14 ga`` or ``14 gauge``; ``None``: not known.

    ``material`` is steel, galvanised or aluminium.
    """
    number = gauge.strip().lower().removesuffix("gauge").removesuffix("ga").strip()
    for row in read_table("sheet_gauges", SheetGauge):
        if row.material == material and str(row.gauge) == number:
            return row
    return None
