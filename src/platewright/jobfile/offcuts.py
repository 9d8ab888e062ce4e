"""The store of off-cuts: ``offcuts.csv`` in the job folder, or the shop's own list."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Final

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
    if file in given:
        return read_table(Offcut, given[file], file=file)
    path = folder / file
    if path.is_file():
        return read_table(Offcut, path.read_bytes(), file=file)
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


def write_offcuts(path: Path, offcuts: Iterable[Offcut]) -> None:
    """Save a list of off-cuts; how an existing file is written (divider, line ends) stays."""
    style = style_of(Offcut, path.read_bytes()) if path.is_file() else NEW_FILE
    atomic.save(path, table_bytes(Offcut, offcuts, style))
