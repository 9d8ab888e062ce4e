"""Bending space for field wires at terminals, NEC 312.6 and 430.10(B)."""

from __future__ import annotations

from dataclasses import dataclass

from platewright.foundation.sources import Standing
from platewright.foundation.units import Mm
from platewright.tables.reader import read_table
from platewright.tables.sizes import Size, size_key


@dataclass(frozen=True, slots=True, kw_only=True)
class BendingSpace:
    """One row of ``bending_space.csv``, one wire per terminal. ``None``: "not specified", not 0."""

    number: str
    not_opposite: Mm | None
    opposite: Mm | None
    motor_controller: Mm | None
    source: str
    standing: Standing


def bending_space(size: Size) -> BendingSpace | None:
    """Return the bending space row of an AWG size; ``None``: not in the table."""
    key = size_key(size)
    rows = read_table("bending_space", BendingSpace)
    return next((row for row in rows if key == ("AWG", row.number)), None)
