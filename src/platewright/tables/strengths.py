"""What screws, sheets and rivets bear."""

from __future__ import annotations

from dataclasses import dataclass

from platewright.foundation.sources import Standing
from platewright.foundation.units import Mm, Newton, NPerMm2, Ratio
from platewright.tables.reader import read_table


@dataclass(frozen=True, slots=True, kw_only=True)
class BoltClass:
    """One row of ``bolt_classes.csv``."""

    name: str
    proof_stress: NPerMm2
    source: str
    standing: Standing


@dataclass(frozen=True, slots=True, kw_only=True)
class PlateStrength:
    """One row of ``plate_strengths.csv``."""

    material: str
    shear_strength: NPerMm2
    source: str
    standing: Standing


@dataclass(frozen=True, slots=True, kw_only=True)
class Tightening:
    """The one row of ``tightening.csv``: K of T = K · d · F, and how far F may go."""

    friction: Ratio
    preload: Ratio
    strip: Ratio
    source: str
    standing: Standing


@dataclass(frozen=True, slots=True, kw_only=True)
class Rivet:
    """One row of ``rivets.csv``: a blind rivet and its hole."""

    name: str
    diameter: Mm
    hole: Mm
    hole_least: Mm
    hole_most: Mm
    shear: Newton | None
    tension: Newton | None
    source: str
    standing: Standing


def bolt_class(name: str) -> BoltClass:
    """Return a property class, ``4.8`` or ``8.8``."""
    rows = {row.name: row for row in read_table("bolt_classes", BoltClass)}
    return rows[name]


def plate_strength(material: str) -> PlateStrength | None:
    """Return the strength of a sheet; ``None``: not known."""
    rows = read_table("plate_strengths", PlateStrength)
    return next((row for row in rows if row.material == material), None)


def tightening() -> Tightening:
    """Return how hard screws may be tightened."""
    (row,) = read_table("tightening", Tightening)
    return row


def rivet(name: str) -> Rivet | None:
    """Return a blind rivet by its name, e.g. ``4.8`` or ``3/16``; ``None``: not known."""
    return next((row for row in read_table("rivets", Rivet) if row.name == name.strip()), None)


def rivet_names() -> tuple[str, ...]:
    """Return the names of the rivets known."""
    return tuple(row.name for row in read_table("rivets", Rivet))
