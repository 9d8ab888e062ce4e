"""What a wire needs beyond its way: strips, ends, slack, and how tightly it may bend."""

from __future__ import annotations

from dataclasses import dataclass

from platewright.foundation.sources import Standing
from platewright.foundation.units import Mm, Ratio
from platewright.tables.reader import read_table


@dataclass(frozen=True, slots=True, kw_only=True)
class WirePractice:
    """The one row of ``wire_practice.csv``: strip and end are per end."""

    slack: Ratio
    strip: Mm
    end: Mm
    hinge_loop: Mm
    round_up_to: Mm
    source: str
    standing: Standing


@dataclass(frozen=True, slots=True, kw_only=True)
class BendFactor:
    """One row of ``bend_factors.csv``: radius of the inner edge over the outside diameter."""

    up_to: Mm | None
    factor: Ratio
    source: str
    standing: Standing


def wire_practice() -> WirePractice:
    """Return what the shop adds to a wire's way."""
    (row,) = read_table("wire_practice", WirePractice)
    return row


def bend_factor(outer_diameter: Mm) -> BendFactor:
    """Return the bend factor row of a wire by its outside diameter."""
    rows = read_table("bend_factors", BendFactor)
    return next(row for row in rows if row.up_to is None or outer_diameter <= row.up_to)
