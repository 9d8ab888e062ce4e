"""Room that tools take at the bench, and how drilling is done there."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from platewright.foundation.sources import Standing
from platewright.foundation.units import Mm
from platewright.tables.reader import read_table


@dataclass(frozen=True, slots=True, kw_only=True)
class ToolRow:
    """One row of ``tools.csv``."""

    name: str
    value: float
    unit: str
    source: str
    standing: Standing


@dataclass(frozen=True, slots=True, kw_only=True)
class DrillLength:
    """One row of ``drill_lengths.csv``: a twist drill of the usual series."""

    diameter: Mm
    total: Mm
    flute: Mm
    source: str
    standing: Standing


def tool(name: str) -> float:
    """Return one of the numbers by its name; a name not in the table is a mistake of ours."""
    return _rows()[name].value


def tool_row(name: str) -> ToolRow:
    """Return the whole row of one of the numbers."""
    return _rows()[name]


def drill_length(diameter: Mm) -> Mm:
    """Return the length over all of a drill: of the next thinner one where it is not listed.

    Thinner drills are shorter, so what reaches with the thinner one reaches with this.
    """
    rows = sorted(read_table("drill_lengths", DrillLength), key=lambda row: row.diameter)
    thinner = [row.total for row in rows if row.diameter <= diameter + 1e-6]
    return thinner[-1] if thinner else rows[0].total


@cache
def _rows() -> dict[str, ToolRow]:
    return {row.name: row for row in read_table("tools", ToolRow)}
