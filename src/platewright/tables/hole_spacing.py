"""How near holes may come to the plate's edge and to each other, in hole diameters."""

from __future__ import annotations

from dataclasses import dataclass

from platewright.foundation.sources import Standing
from platewright.foundation.units import Mm, Ratio
from platewright.tables.reader import read_table


@dataclass(frozen=True, slots=True, kw_only=True)
class HoleSpacing:
    """The one row of ``hole_spacing.csv``: distances of centres over the hole's diameter."""

    edge: Ratio
    edge_least: Ratio
    centres: Ratio
    source: str
    standing: Standing

    def apart(self, one: Mm, other: Mm, thickness: Mm) -> Mm:
        """Return how far apart the centres of two holes have to be, by diameter; mm of plate."""
        return max(self.centres * max(one, other), (one + other) / 2 + thickness)


def hole_spacing() -> HoleSpacing:
    """Return the usual hole spacing."""
    (row,) = read_table("hole_spacing", HoleSpacing)
    return row
