"""Ferrules: colour and length by conductor size."""

from __future__ import annotations

from dataclasses import dataclass

from platewright.foundation.sources import Standing
from platewright.foundation.units import Mm
from platewright.tables.reader import read_table
from platewright.tables.sizes import AWG, Size, size_key


@dataclass(frozen=True, slots=True, kw_only=True)
class FerruleColour:
    """One row of ``ferrule_colours.csv``; colours come twice, so the size decides."""

    number: str
    colour: str
    source: str
    standing: Standing


@dataclass(frozen=True, slots=True, kw_only=True)
class FerruleLength:
    """One row of ``ferrule_lengths.csv``: barrel, over all, and how far to strip."""

    number: str
    awg: str | None
    barrel: Mm
    total: Mm
    strip: Mm
    source: str
    standing: Standing


def ferrule_length(size: Size) -> FerruleLength | None:
    """Return the lengths of the ferrule for a conductor; ``None``: not in the table."""
    system, number = size_key(size)
    for row in read_table("ferrule_lengths", FerruleLength):
        if number == (row.awg if system == AWG else row.number):
            return row
    return None


def ferrule_colour(size: Size) -> FerruleColour | None:
    """Return the colour of the ferrule for a conductor; ``None``: not in the table."""
    length = ferrule_length(size)
    rows = read_table("ferrule_colours", FerruleColour)
    return next((row for row in rows if length is not None and row.number == length.number), None)
