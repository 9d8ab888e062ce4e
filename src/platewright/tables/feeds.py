"""How fast a drill goes down and a tap turns."""

from __future__ import annotations

from dataclasses import dataclass

from platewright.foundation.sources import Standing
from platewright.foundation.units import MetrePerMin, Mm
from platewright.tables.cutting_speeds import CuttingSpeed
from platewright.tables.reader import read_table


@dataclass(frozen=True, slots=True, kw_only=True)
class FeedRow:
    """One row of ``feeds.csv``: way down in one turn, for drills up to a diameter."""

    diameter_to: Mm
    feed: Mm
    source: str
    standing: Standing


def feed_per_turn(diameter: Mm) -> Mm:
    """Return how far a drill of high-speed steel goes down in one turn."""
    rows = sorted(read_table("feeds", FeedRow), key=lambda row: row.diameter_to)
    return next((row.feed for row in rows if diameter <= row.diameter_to), rows[-1].feed)


def tapping_speed(material: str) -> MetrePerMin | None:
    """Return the slow end of the tapping speed in a material; ``None``: not known."""
    rows = read_table("tapping_speeds", CuttingSpeed)
    return next((row.slowest for row in rows if row.material == material), None)
