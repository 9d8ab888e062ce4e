"""What rails and ducts are made of, what they must bear between two screws, how far they may bend."""

from __future__ import annotations

from dataclasses import dataclass

from platewright.foundation.sources import Standing
from platewright.foundation.units import KgPerM3, Mm, Newton, NPerMm2, Ratio
from platewright.tables.reader import read_table


@dataclass(frozen=True, slots=True, kw_only=True)
class Elasticity:
    """One row of ``elasticity.csv``: for a short push, and for a load that stays."""

    material: str
    modulus: NPerMm2
    lasting: NPerMm2
    source: str
    standing: Standing


@dataclass(frozen=True, slots=True, kw_only=True)
class BeamPractice:
    """The one row of ``beam_practice.csv``."""

    rail_pull: Newton
    duct_push: Newton
    sag: Mm
    slot_width: Mm
    full: Ratio
    wire_density: KgPerM3
    source: str
    standing: Standing


def elasticity(material: str) -> Elasticity:
    """Return the stiffness of ``steel`` or ``PVC``."""
    rows = {row.material: row for row in read_table("elasticity", Elasticity)}
    return rows[material]


def beam_practice() -> BeamPractice:
    """Return loads and the sag that is allowed."""
    (row,) = read_table("beam_practice", BeamPractice)
    return row
