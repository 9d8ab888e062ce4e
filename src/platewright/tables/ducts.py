"""Usual walls of slotted wire duct, for ducts whose inside is not stated."""

from __future__ import annotations

from dataclasses import dataclass

from platewright.foundation.sources import Standing
from platewright.foundation.units import Mm, PerKelvin
from platewright.tables.reader import read_table


@dataclass(frozen=True, slots=True, kw_only=True)
class DuctPractice:
    """The one row of ``duct_practice.csv``.

    ``slot``: between two fingers; ``expansion``: of hard PVC; ``stagger``: between a joint of the
    cover and the joint of the base under it.
    """

    side_wall: Mm
    base: Mm
    cover_lip: Mm
    slot: Mm
    expansion: PerKelvin
    stagger: Mm
    source: str
    standing: Standing


def duct_practice() -> DuctPractice:
    """Return the usual walls of a duct."""
    (row,) = read_table("duct_practice", DuctPractice)
    return row
