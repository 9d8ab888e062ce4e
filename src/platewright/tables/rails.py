"""Mounting rails: their profile, and what a rail carries as protective conductor."""

from __future__ import annotations

from dataclasses import dataclass

from platewright.foundation.sources import Standing
from platewright.foundation.units import Ampere, Mm, Mm2
from platewright.tables.reader import read_table


@dataclass(frozen=True, slots=True, kw_only=True)
class RailProfile:
    """One row of ``rails.csv``: outside size of the cross-section."""

    profile: str
    width: Mm
    height: Mm
    thickness: Mm
    channel: Mm | None
    source: str
    standing: Standing


@dataclass(frozen=True, slots=True, kw_only=True)
class RailRating:
    """One row of ``rail_ratings.csv``: short-time current over 1 s."""

    profile: str
    material: str
    copper_area: Mm2
    short_time: Ampere
    continuous: Ampere | None
    source: str
    standing: Standing


def rail_profile(name: str) -> RailProfile | None:
    """Return a rail profile by name, e.g. ``TH35-7.5``, in any case; ``None``: not known."""
    wanted = name.replace(" ", "").upper()
    return next((row for row in read_table("rails", RailProfile) if row.profile == wanted), None)


def rail_profiles() -> tuple[str, ...]:
    """Return the names of the rail profiles known."""
    return tuple(row.profile for row in read_table("rails", RailProfile))


def rail_rating(name: str, material: str = "steel") -> RailRating | None:
    """Return what a rail of this material carries; ``None``: not in the table."""
    for row in read_table("rail_ratings", RailRating):
        if (row.profile, row.material) == (name, material):
            return row
    return None
