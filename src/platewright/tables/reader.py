"""The only reader of the tables: ``data/<name>.csv`` into frozen rows, each with its source.

A row type is a frozen dataclass whose fields are the columns in order. A field with a unit
has the unit's suffix in its header (``pitch: Mm`` is column ``pitch_mm``); every row type ends
with ``source`` and ``standing``. A table that does not fit its row type is our own mistake and
raises ``ValueError`` with every fault at once.
"""

from __future__ import annotations

import csv
import dataclasses
import math
import types
import typing
from enum import StrEnum
from functools import cache
from importlib.resources import files
from typing import Any, Final, Protocol, TypeVar, cast

from platewright.foundation.sources import Source, Standing
from platewright.foundation.units import Unit

T = TypeVar("T")

STANDINGS: Final = frozenset({Standing.PUBLISHED, Standing.MEMORY, Standing.PRACTICE})


class Sourced(Protocol):
    """A row that says where it comes from."""

    @property
    def source(self) -> str:
        """Document and place in it."""

    @property
    def standing(self) -> Standing:
        """How far the source carries."""


@dataclasses.dataclass(frozen=True, slots=True)
class Column:
    """One column: its header, the type of its values, whether it may be blank."""

    field: str
    header: str
    kind: Any
    optional: bool


def source_of(row: Sourced) -> Source:
    """Return the source of a row, with its standing."""
    return Source(row.source, standing=row.standing)


def columns_of(row: type) -> tuple[Column, ...]:
    """Return the columns a row type asks for, in the order of its fields."""
    hints = typing.get_type_hints(row, include_extras=True)
    return tuple(_column(field.name, hints[field.name]) for field in dataclasses.fields(row))


def read_table(name: str, row: type[T]) -> tuple[T, ...]:
    """Return the rows of ``data/<name>.csv``; read once."""
    return cast("tuple[T, ...]", _rows(name, cast("Any", row)))


def parse_table(text: str, name: str, row: type[T]) -> tuple[T, ...]:
    """Return the rows written in ``text``; ``name`` is what faults are reported against."""
    columns = columns_of(row)
    records = csv.reader(text.splitlines())
    wanted = [column.header for column in columns]
    found = next(records, [])
    if found != wanted:
        raise ValueError(f"{name}.csv: columns are {found}, wanted {wanted}")
    faults: list[str] = []
    rows: list[T] = []
    for line, cells in enumerate(records, start=2):
        if len(cells) != len(columns):
            faults.append(f"row {line}: {len(cells)} cells, wanted {len(columns)}")
            continue
        values = dict[str, Any]()
        for column, cell in zip(columns, cells, strict=True):
            try:
                values[column.field] = _value(cell.strip(), column)
            except ValueError as error:
                faults.append(f"row {line}, {column.header} = {cell!r}: {error}")
        if len(values) == len(columns):
            rows.append(row(**values))
    if faults:
        raise ValueError(f"{name}.csv: " + "; ".join(faults))
    return tuple(rows)


@cache
def _rows(name: str, row: type) -> tuple[Any, ...]:
    text = files("platewright.tables").joinpath("data", f"{name}.csv").read_text("utf-8")
    return parse_table(text, name, row)


def _column(field: str, hint: Any) -> Column:
    optional = False
    if typing.get_origin(hint) in (typing.Union, types.UnionType):
        (hint,) = (arm for arm in typing.get_args(hint) if arm is not type(None))
        optional = True
    header = field
    if typing.get_origin(hint) is typing.Annotated:
        hint, *notes = typing.get_args(hint)
        header += "".join(f"_{note.suffix}" for note in notes if isinstance(note, Unit))
    return Column(field, header, hint, optional)


def _value(cell: str, column: Column) -> Any:
    if not cell:
        if column.optional:
            return None
        raise ValueError("may not be blank")
    if column.kind is float:
        number = float(cell)
        if not math.isfinite(number):
            raise ValueError("must be a finite number")
        return number
    if issubclass(column.kind, StrEnum):
        value = column.kind(cell)
        if isinstance(value, Standing) and value not in STANDINGS:
            raise ValueError("a table's standing is published, memory or practice")
        return value
    return column.kind(cell)
