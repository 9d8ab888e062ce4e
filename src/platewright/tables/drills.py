"""Drills that are called by a number, a letter or a fraction of an inch."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import Final

from platewright.foundation.sources import Standing
from platewright.foundation.units import MM_PER_INCH, Mm
from platewright.tables.reader import read_table

SAME: Final[Mm] = 0.005  # two drills nearer than this are one: charts print to 0.0001 in
PARTS: Final = 64  # of an inch, in which fractional drills go


@dataclass(frozen=True, slots=True, kw_only=True)
class InchDrill:
    """One row of ``inch_drills.csv``."""

    name: str
    diameter: Mm
    source: str
    standing: Standing


def is_metric_drill(diameter: Mm) -> bool:
    """Tell whether a diameter is one of the metric series: whole tenths, below 3 mm twentieths."""
    steps = diameter / (0.05 if diameter < 3.0 else 0.1)
    return abs(steps - round(steps)) < 1e-6


@cache
def inch_drill(diameter: Mm) -> str | None:
    """Return what an inch drill is called: ``#21``, ``F``, ``5/16``; ``None``: it is none.

    A diameter of the metric series is metric, if a fraction comes near by chance.
    """
    parts = diameter / MM_PER_INCH * PARTS
    if abs(parts - round(parts)) < 1e-6 and round(parts):
        return str(Fraction(round(parts), PARTS))
    if is_metric_drill(diameter):
        return None
    for row in read_table("inch_drills", InchDrill):
        if abs(row.diameter - diameter) <= SAME:
            return row.name
    near = abs(parts - round(parts)) * MM_PER_INCH / PARTS
    return str(Fraction(round(parts), PARTS)) if near <= SAME and round(parts) else None
