"""Outside diameters of wires, and areas and resistances of conductors."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from platewright.foundation.sources import Standing
from platewright.foundation.units import DegC, Mm, Mm2, OhmPerKm, Volt
from platewright.tables.reader import read_table
from platewright.tables.sizes import Size, size_key


@dataclass(frozen=True, slots=True, kw_only=True)
class WireRow:
    """One row of ``wires.csv``: largest outside diameter; smallest where the source gives both."""

    type: str
    system: str
    number: str
    outer_diameter_min: Mm | None
    outer_diameter: Mm
    source: str
    standing: Standing


@dataclass(frozen=True, slots=True, kw_only=True)
class ConductorRow:
    """One row of ``conductors.csv``: stranded, uncoated copper."""

    system: str
    number: str
    area: Mm2
    resistance: OhmPerKm
    temperature: DegC
    source: str
    standing: Standing


@dataclass(frozen=True, slots=True, kw_only=True)
class SameWireRow:
    """One row of ``same_wires.csv``: a type whose outside is that of another type."""

    type: str
    same_as: str
    source: str
    standing: Standing


@dataclass(frozen=True, slots=True, kw_only=True)
class RatingRow:
    """One row of ``wire_ratings.csv``: highest voltage between conductors."""

    type: str
    voltage: Volt
    source: str
    standing: Standing


def rating_row(type: str) -> RatingRow | None:  # noqa: A002  (the trade's own word)
    """Return the rated voltage of a wire type's insulation; ``None``: not in the table."""
    return _ratings().get(type.strip().upper().replace(" ", ""))


def wire_row(size: Size, type: str) -> WireRow | None:  # noqa: A002  (the trade's own word)
    """Return the outside diameter row of a wire type in a size; ``None``: not in the table."""
    system, number = size_key(size)
    name = type.strip().upper().replace(" ", "")
    return _wires().get((_same().get(name, name), system, number))


def wire_types() -> tuple[str, ...]:
    """Return the wire types known, those of the same outside included."""
    names = dict.fromkeys(row.type for row in read_table("wires", WireRow))
    return (*names, *_same())


def conductor_row(size: Size) -> ConductorRow | None:
    """Return area and resistance of a stranded copper conductor; ``None``: not in the table."""
    return _conductors().get(size_key(size))


@cache
def _wires() -> dict[tuple[str, str, str], WireRow]:
    return {(row.type, row.system, row.number): row for row in read_table("wires", WireRow)}


@cache
def _conductors() -> dict[tuple[str, str], ConductorRow]:
    return {(row.system, row.number): row for row in read_table("conductors", ConductorRow)}


@cache
def _same() -> dict[str, str]:
    return {row.type: row.same_as for row in read_table("same_wires", SameWireRow)}


@cache
def _ratings() -> dict[str, RatingRow]:
    return {row.type: row for row in read_table("wire_ratings", RatingRow)}
