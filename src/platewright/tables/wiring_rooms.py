"""Room between terminals and the duct wall, by the largest wire."""

from __future__ import annotations

from dataclasses import dataclass

from platewright.foundation.sources import Standing
from platewright.foundation.units import Mm, Mm2
from platewright.tables.reader import read_table


@dataclass(frozen=True, slots=True, kw_only=True)
class WiringRoom:
    """One row of ``wiring_rooms.csv``. Blank ``up_to``: everything larger."""

    up_to: Mm2 | None
    wires: str
    minimum: Mm
    comfortable: Mm
    source: str
    standing: Standing


def wiring_room(area: Mm2) -> WiringRoom:
    """Return the row for a conductor area."""
    rows = read_table("wiring_rooms", WiringRoom)
    return next(row for row in rows if row.up_to is None or area <= row.up_to)


def smallest_wiring_room() -> WiringRoom:
    """Return the row of the thinnest wires."""
    return read_table("wiring_rooms", WiringRoom)[0]
