"""The store of off-cuts: ``offcuts.csv`` in the job folder, or the shop's own list."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Final

from platewright.drawing.table import length_text
from platewright.fabricate.stock_names import bar_lengths
from platewright.foundation.errors import InputError
from platewright.jobfile import atomic
from platewright.jobfile.csv_style import NEW_FILE
from platewright.jobfile.tables_csv import Table, read_table
from platewright.jobfile.tables_write import style_of, table_bytes
from platewright.model.job import JobSettings
from platewright.model.offcut import Offcut

OFFCUTS: Final = "offcuts.csv"


def offcuts_table(
    folder: Path, settings: JobSettings | None, *, given: Mapping[str, bytes]
) -> Table[Offcut]:
    """Return the off-cuts in store; no list, an empty store; a list that is named must be there."""
    named = "" if settings is None else settings.stock.offcuts
    file = named or OFFCUTS
    path = folder / file
    content = given.get(file) or (path.read_bytes() if path.is_file() else None)
    if content is not None:
        table = read_table(Offcut, content, file=file)
        return replace(table, faults=(*table.faults, *_longer_than_bars(table, settings)))
    if not named:
        return Table(file=file)
    fault = InputError(
        file="job.toml",
        field="stock.offcuts",
        value=named,
        problem="is no file",
        cure="Write the path of the list of off-cuts, seen from the job folder",
    )
    return Table(file=file, faults=(fault,), has_keys=False)


def _longer_than_bars(table: Table[Offcut], settings: JobSettings | None) -> Iterator[InputError]:
    """Yield off-cuts longer than the whole bar: cut from these, the job would buy too little."""
    if settings is None:
        return
    bars, unit = bar_lengths(settings.stock), settings.units
    for row, offcut in table.rows:
        bar = bars.get(offcut.stock)
        if bar is None or offcut.length <= bar:
            continue
        heading, cell = table.typed[row, "length"]
        yield InputError(
            file=table.file,
            row=row,
            field=heading,
            value=cell,
            problem=f"is longer than a whole bar of {offcut.stock}, {length_text(bar, unit)} {unit.value}",
            cure="Correct the length or its unit; if longer bars are kept, the bar's length under "
            "stock in job.toml",
        )


def write_offcuts(path: Path, offcuts: Iterable[Offcut]) -> None:
    """Save a list of off-cuts; how an existing file is written (divider, line ends) stays."""
    style = style_of(Offcut, path.read_bytes()) if path.is_file() else NEW_FILE
    atomic.save(path, table_bytes(Offcut, offcuts, style))
