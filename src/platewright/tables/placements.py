"""Which walls of an enclosure give off heat, and how the power law counts them."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from platewright.foundation.sources import Standing
from platewright.tables.reader import read_table

WALLS: Final = ("front", "back", "left", "right", "top", "floor")


class Exposure(StrEnum):
    """Whether air passes a wall outside."""

    FREE = "free"
    COVERED = "covered"


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacementRow:
    """One row of ``placements.csv``."""

    placement: str
    front: Exposure
    back: Exposure
    left: Exposure
    right: Exposure
    top: Exposure
    floor: Exposure
    source: str
    standing: Standing


@dataclass(frozen=True, slots=True, kw_only=True)
class AreaFactor:
    """One row of ``effective_area.csv``."""

    wall: str
    free: float
    covered: float
    source: str
    standing: Standing


def placement_row(name: str) -> PlacementRow | None:
    """Return how an enclosure stands, by its word; ``None``: not in the table."""
    wanted = " ".join(name.lower().replace("-", " ").split())
    rows = read_table("placements", PlacementRow)
    return next((row for row in rows if row.placement == wanted), None)


def placement_names() -> tuple[str, ...]:
    """Return every word for how an enclosure may stand."""
    return tuple(row.placement for row in read_table("placements", PlacementRow))


def area_factor(wall: str, exposure: Exposure) -> float:
    """Return the factor by which a wall counts in the effective cooling area."""
    row = next(row for row in read_table("effective_area", AreaFactor) if row.wall == wall)
    return row.free if exposure is Exposure.FREE else row.covered
