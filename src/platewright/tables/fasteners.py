"""What screws hold, how long they come, how many lie in a box."""

from __future__ import annotations

from dataclasses import dataclass

from platewright.foundation.sources import Standing
from platewright.foundation.units import Mm, Ratio
from platewright.tables.reader import read_table


@dataclass(frozen=True, slots=True, kw_only=True)
class GripRow:
    """One row of ``grips.csv``: what lies between a screw's head and the plate."""

    holds: str
    held: Mm
    washer: Mm
    source: str
    standing: Standing


@dataclass(frozen=True, slots=True, kw_only=True)
class ScrewLength:
    """One row of ``screw_lengths.csv``."""

    series: str
    length: Mm
    source: str
    standing: Standing


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """One row of ``boxes.csv``: how many are bought at once, and how many more than needed."""

    what: str
    in_box: int
    spare: Ratio
    source: str
    standing: Standing


def grip(holds: str) -> GripRow:
    """Return what a screw of a rail, duct or device clamps."""
    rows = {row.holds: row for row in read_table("grips", GripRow)}
    return rows[holds]


def screw_lengths(*, metric: bool) -> tuple[Mm, ...]:
    """Return the lengths that screws come in, shortest first."""
    series = "metric" if metric else "unified"
    rows = read_table("screw_lengths", ScrewLength)
    return tuple(sorted(row.length for row in rows if row.series == series))


def box_of(what: str) -> Box:
    """Return how screws, nuts, washers or rivets are bought."""
    rows = {row.what: row for row in read_table("boxes", Box)}
    return rows[what]
