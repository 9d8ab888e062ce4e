"""Lengths and masses in words, in the job's unit as its drawings: for all stages, sheets and messages."""

from __future__ import annotations

from math import floor

from platewright.foundation.units import KG_PER_LB, MM_PER_INCH, MM_PER_M, Kg, Mm
from platewright.model.job import DisplayUnit

INCHES_PER_FOOT = 12


def said(length: Mm, unit: DisplayUnit) -> str:
    """Return a length without its unit: mm to 0.1 at most, inches to 0.01."""
    if unit is DisplayUnit.INCH:
        return f"{length / MM_PER_INCH:.2f}"
    return f"{round(length, 1) + 0.0:g}"


def with_unit(length: Mm, unit: DisplayUnit) -> str:
    """Return the same with its unit."""
    return f"{said(length, unit)} {unit.value}"


def whole_length(length: Mm, unit: DisplayUnit) -> str:
    """Return a length that is known about, or of a tool: whole mm, inches to 0.1 at most."""
    if unit is DisplayUnit.INCH:
        return f"{round(length / MM_PER_INCH, 1):g} {unit.value}"
    return f"{length:.0f} {unit.value}"


def unit_name(unit: DisplayUnit) -> str:
    """Return a unit as a word that can't be read as another: "in" is one of those."""
    return "inches" if unit is DisplayUnit.INCH else unit.value


def thickness_words(thickness: Mm, unit: DisplayUnit) -> str:
    """Return the thickness of a sheet with its unit: three figures in mm, inches to 0.001."""
    if unit is DisplayUnit.INCH:
        return f"{thickness / MM_PER_INCH:.3f} {unit.value}"
    return f"{thickness:.3g} {unit.value}"


def room_words(length: Mm, unit: DisplayUnit) -> str:
    """Return the room there is, rounded down and never below 0: whole mm, inches to 0.01."""
    room = max(0.0, length)
    if unit is DisplayUnit.INCH:
        return f"{floor(room / MM_PER_INCH * 100) / 100:.2f} {unit.value}"
    return f"{floor(room):d} {unit.value}"


def way_words(length: Mm, unit: DisplayUnit) -> str:
    """Return a long way: metres or feet to 0.1."""
    if unit is DisplayUnit.INCH:
        return f"{length / MM_PER_INCH / INCHES_PER_FOOT:.1f} ft"
    return f"{length / MM_PER_M:.1f} m"


def mass_words(mass: Kg, unit: DisplayUnit) -> str:
    """Return a mass to three figures; in a job in inches pounds first."""
    metric = f"{_figures(mass)} kg"
    return f"{_figures(mass / KG_PER_LB)} lb ({metric})" if unit is DisplayUnit.INCH else metric


def whole_mass(mass: Kg, unit: DisplayUnit) -> str:
    """Return a mass that is known about: whole kg; in a job in inches pounds first."""
    metric = f"{mass:.0f} kg"
    return f"{mass / KG_PER_LB:.0f} lb ({metric})" if unit is DisplayUnit.INCH else metric


def _figures(mass: float) -> str:
    return f"{mass:.3g}" if mass < 1000 else f"{mass:.0f}"
