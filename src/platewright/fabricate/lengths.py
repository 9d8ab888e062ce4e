"""Lengths in the notes of pieces and fixings: in the job's unit, as its drawings print them."""

from __future__ import annotations

from platewright.foundation.units import MM_PER_INCH, Mm
from platewright.model.job import DisplayUnit


def said(length: Mm, unit: DisplayUnit) -> str:
    """Return a length without its unit: mm to 0.1 at most, inches to 0.01."""
    if unit is DisplayUnit.INCH:
        return f"{length / MM_PER_INCH:.2f}"
    return f"{round(length, 1) + 0.0:g}"


def with_unit(length: Mm, unit: DisplayUnit) -> str:
    """Return the same with its unit."""
    return f"{said(length, unit)} {unit.value}"
