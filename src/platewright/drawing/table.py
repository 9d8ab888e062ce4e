"""Rows under named columns: the one source of a printed list, its CSV and its XLSX."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Final, TypeAlias

from platewright.drawing.numbers import fixed, short
from platewright.foundation.units import MM_PER_INCH, MM_PER_M
from platewright.model.job import DisplayUnit

Cell: TypeAlias = str | float | int | None


class Quantity(StrEnum):
    """What a column holds: it decides unit and decimals."""

    WORDS = "words"
    COUNT = "count"
    LENGTH = "length"  # mm inside; printed in the job's unit
    PLACE = "place"  # the same, finer in inches: a hole is drilled there
    LONG = "long"  # mm inside; printed in m or ft
    NUMBER = "number"


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A column: its name in files (the unit is added) and its head on paper."""

    name: str
    head: str
    quantity: Quantity = Quantity.WORDS
    wraps: bool = False
    unit: str = ""  # suffix of a NUMBER


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A list. Lengths are in mm whatever the job prints."""

    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]


INCHES_PER_FOOT: Final = 12
FACTORS: Final = {
    (Quantity.LENGTH, DisplayUnit.MM): ("mm", 1.0, 1),
    (Quantity.LENGTH, DisplayUnit.INCH): ("in", MM_PER_INCH, 2),
    (Quantity.PLACE, DisplayUnit.MM): ("mm", 1.0, 1),
    (Quantity.PLACE, DisplayUnit.INCH): ("in", MM_PER_INCH, 3),
    (Quantity.LONG, DisplayUnit.MM): ("m", MM_PER_M, 2),
    (Quantity.LONG, DisplayUnit.INCH): ("ft", MM_PER_INCH * INCHES_PER_FOOT, 1),
}


def length_text(value: float, unit: DisplayUnit) -> str:
    """Return a length as drawings print it: mm to 0.1 at most, inches to 0.01."""
    _, factor, decimals = FACTORS[Quantity.LENGTH, unit]
    return short(value, decimals) if unit is DisplayUnit.MM else fixed(value / factor, decimals)


def thickness_text(value: float, unit: DisplayUnit) -> str:
    """Return the thickness of a sheet: mm to 0.01 at most, inches to 0.001."""
    if unit is DisplayUnit.MM:
        return short(value, 2)
    return fixed(value / MM_PER_INCH, 3)


def file_heads(table: Table, unit: DisplayUnit) -> tuple[str, ...]:
    """Return the headings of a file, units in their names."""
    return tuple(_file_head(column, unit) for column in table.columns)


def _file_head(column: Column, unit: DisplayUnit) -> str:
    known = FACTORS.get((column.quantity, unit))
    suffix = known[0] if known else column.unit
    return f"{column.name}_{suffix}" if suffix else column.name


def file_rows(table: Table, unit: DisplayUnit) -> tuple[tuple[Cell, ...], ...]:
    """Return the rows of a file, lengths in the job's unit to 0.001 of it."""
    return tuple(
        tuple(
            _file_cell(cell, column, unit) for cell, column in zip(row, table.columns, strict=True)
        )
        for row in table.rows
    )


def _file_cell(cell: Cell, column: Column, unit: DisplayUnit) -> Cell:
    known = FACTORS.get((column.quantity, unit))
    if known is None or cell is None or isinstance(cell, str):
        return cell
    return round(cell / known[1], 3) + 0.0  # + 0.0: never -0


def printed_heads(table: Table, unit: DisplayUnit) -> tuple[str, ...]:
    """Return the heads on paper, units in the second line."""
    heads = []
    for column in table.columns:
        known = FACTORS.get((column.quantity, unit))
        heads.append(f"{column.head}, {known[0]}" if known else column.head)
    return tuple(heads)


def printed_columns(table: Table, unit: DisplayUnit) -> tuple[tuple[str, ...], ...]:
    """Return the cells on paper, column by column; numbers of a column get equal decimals."""
    return tuple(
        _printed(tuple(row[index] for row in table.rows), column, unit)
        for index, column in enumerate(table.columns)
    )


def _printed(cells: tuple[Cell, ...], column: Column, unit: DisplayUnit) -> tuple[str, ...]:
    known = FACTORS.get((column.quantity, unit))
    factor, most = known[1:] if known else (1.0, 2)
    numbers = [cell / factor for cell in cells if cell is not None and not isinstance(cell, str)]
    decimals = max((_decimals(number, most) for number in numbers), default=0)
    if known and unit is DisplayUnit.INCH:
        decimals = most
    return tuple(
        "–" if cell is None else cell if isinstance(cell, str) else fixed(cell / factor, decimals)
        for cell in cells
    )


def _decimals(number: float, most: int) -> int:
    text = short(number, most)
    return len(text.partition(".")[2])
