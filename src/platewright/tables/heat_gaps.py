"""Gaps assumed round a warm device whose data state none."""

from __future__ import annotations

from dataclasses import dataclass

from platewright.foundation.sources import Standing
from platewright.foundation.units import Mm, Watt
from platewright.tables.reader import read_table


@dataclass(frozen=True, slots=True, kw_only=True)
class HeatGap:
    """One row of ``heat_gaps.csv``. Blank ``up_to``: everything hotter."""

    up_to: Watt | None
    side: Mm
    above: Mm
    below: Mm
    plastic_above: Mm | None
    source: str
    standing: Standing


def heat_gap(heat: Watt) -> HeatGap:
    """Return the gaps for a device that gives off this much heat."""
    rows = read_table("heat_gaps", HeatGap)
    return next(row for row in rows if row.up_to is None or heat <= row.up_to)
