"""How closely rails and ducts are fixed to the plate."""

from __future__ import annotations

from dataclasses import dataclass

from platewright.foundation.sources import Standing
from platewright.foundation.units import Kg, Mm
from platewright.tables.reader import read_table


@dataclass(frozen=True, slots=True, kw_only=True)
class FixingLimits:
    """One row of ``fixings.csv``.

    ``end``: farthest first fixing from an end. ``span``: farthest two fixings apart;
    ``heavy_span`` where a device heavier than ``heavy`` hangs on it. ``two_lines``: from this
    width on, fixings alternate in two lines. ``play``: least room from an end to what is beside it.
    """

    kind: str
    end: Mm
    span: Mm
    heavy: Kg | None
    heavy_span: Mm | None
    two_lines: Mm | None
    play: Mm | None
    source: str
    standing: Standing


def fixing_limits(kind: str) -> FixingLimits:
    """Return the fixing limits of ``rail`` or ``duct``."""
    rows = {row.kind: row for row in read_table("fixings", FixingLimits)}
    return rows[kind]
