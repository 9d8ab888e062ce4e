"""Records -> a CSV list that reads back the same."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypeVar

from platewright.jobfile.columns import columns_of
from platewright.jobfile.csv_style import NEW_FILE, CsvStyle
from platewright.jobfile.quantities import written_names
from platewright.jobfile.tables_csv import read_table

Record = TypeVar("Record")


def table_bytes(
    record: type[Record], records: Iterable[Record], style: CsvStyle = NEW_FILE
) -> bytes:
    """Return a CSV file: the needed columns and those that are used, in record order."""
    rows = list(records)
    columns = [
        each
        for each in columns_of(record)
        if each.needed or any(getattr(row, each.field) != each.default for row in rows)
    ]
    lines = [style.line([each.name for each in columns])]
    lines += [
        style.line([written(getattr(row, each.field), style) for each in columns]) for row in rows
    ]
    return style.encoded("".join(lines))


def style_of(record: type, content: bytes) -> CsvStyle:
    """Return how an existing file is written, so that saving keeps it."""
    return read_table(record, content, file="").style


def written(value: object, style: CsvStyle) -> str:
    """Return a value as the text of its cell."""
    match value:
        case None:
            return ""
        case bool():
            return "yes" if value else "no"
        case float() | int():
            return style.number(float(value))
        case tuple():
            return written_names(value)
        case _:
            return str(value)
