"""A spreadsheet or CSV of any origin -> rows of text.

A spreadsheet is a zip archive from elsewhere: it is measured before anything unpacks it, and
its sheet is read up to a cap.
"""

from __future__ import annotations

import csv
import datetime as dt
import io
import zipfile
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import zip_longest
from pathlib import Path
from typing import Any, Final

from platewright.foundation.errors import InputError, InputErrors
from platewright.jobfile.csv_style import delimiter_of
from platewright.jobfile.headings import Heading, headings_for, understand
from platewright.jobfile.tables_csv import decoded

MOST_ENTRIES: Final = 1000
MOST_BYTES: Final = 64_000_000  # unpacked
MOST_RATIO: Final = 100  # unpacked to packed
MOST_ROWS: Final = 20_000
MOST_COLUMNS: Final = 200
MOST_KNOWN: Final = 8  # headings named where none is understood
HEAD_ROWS: Final = 20  # titles and the like may stand above the headings

_OTHER_NAMES: Final = {"from": "start", "to": "end"}  # as wires.csv calls them


@dataclass(frozen=True, slots=True, kw_only=True)
class ForeignList:
    """Rows of a list and what its headings were taken for."""

    file: str
    headings: tuple[Heading, ...]
    unused: tuple[str, ...]  # headings that were not understood
    rows: tuple[tuple[int, Mapping[str, str]], ...]  # row number, cells by column
    decimal_comma: bool = False

    @property
    def columns(self) -> Mapping[str, str]:
        """Column -> heading."""
        return {each.column: each.text for each in self.headings}


def read_list(path: Path, list_name: str, kept: Mapping[str, str]) -> ForeignList:
    """Return the list in a file (.xlsx, .csv, .txt, .tsv).

    Raises ``InputErrors`` when nothing in it can be used.
    """
    if not path.is_file():
        raise refused(path.name, "is no file", "Correct the path of the list")
    content = path.read_bytes()
    comma = False
    if content.startswith(b"PK"):
        sheets = _sheets(content, path.name)
    elif path.suffix.lower() in (".xlsx", ".xlsm", ".xls", ".ods"):
        raise refused(path.name, "is no XLSX file", "Save it as .xlsx or as CSV UTF-8")
    else:
        rows, comma = _csv_rows(content, path.name)
        sheets = [rows]
    if list_name == "wires":
        kept = {_OTHER_NAMES.get(column, column): heading for column, heading in kept.items()}
    found = max(
        (_found(rows, list_name, kept, path.name) for rows in sheets),
        key=lambda each: len(each.headings),
        default=None,
    )
    if found is None or len(found.headings) < 2:
        seen = [*found.columns.values(), *found.unused] if found else []
        raise refused(
            path.name,
            "has no row of headings that is understood"
            + (f"; the likeliest reads {', '.join(map(repr, seen[:MOST_KNOWN]))}" if seen else ""),
            "Name the columns, e.g. Tag, Part, Width (mm) … or Wire no., From, To, Size",
        )
    return ForeignList(
        file=found.file,
        headings=found.headings,
        unused=found.unused,
        rows=found.rows,
        decimal_comma=comma,
    )


def not_understood(found: ForeignList, list_name: str, column: str, what: str) -> InputError:
    """Return the fault of a list of which no heading is understood as a column that it needs.

    ``what``: the column in plain words.
    """
    unused = [repr(text) for text in found.unused]
    strange = f"heading {unused[0]} is not understood" if len(unused) == 1 else ""
    if len(unused) > 1:
        strange = f"headings {', '.join(unused)} are not understood"
    problem = f"{strange}, and no other" if strange else "no heading"
    known = headings_for(list_name, column)
    kept = next((ours for ours, name in _OTHER_NAMES.items() if name == column), column)
    own = found.unused[0] if len(unused) == 1 else "YOUR HEADING"
    return InputError(
        file=found.file,
        problem=f"{problem} names {what}",
        cure=f"Known headings for it: {', '.join(known[:MOST_KNOWN])}. Call the column so, or put "
        f'{kept} = "{own}" under [columns.{list_name}] in a job.toml and give that job with --like',
    )


def refused(file: str, problem: str, cure: str) -> InputErrors:
    """Return the error for a list of which nothing can be used."""
    return InputErrors([InputError(file=file, problem=problem, cure=cure)])


def _found(
    rows: list[list[str]], list_name: str, kept: Mapping[str, str], file: str
) -> ForeignList:
    """Return the list with the row among the first that is understood best as its headings."""
    heads = [understand(row, list_name, kept) for row in rows[:HEAD_ROWS]]
    best = max(range(len(heads)), key=lambda index: (len(heads[index]), -index), default=0)
    headings = heads[best] if heads else ()
    taken = {each.index for each in headings}
    return ForeignList(
        file=file,
        headings=headings,
        unused=tuple(
            text
            for index, text in enumerate(rows[best] if rows else ())
            if text and index not in taken
        ),
        rows=tuple(
            (number, {each.column: row[each.index] for each in headings if each.index < len(row)})
            for number, row in enumerate(rows[best + 1 :], start=best + 2)
            if any(row)
        ),
    )


def _csv_rows(content: bytes, file: str) -> tuple[list[list[str]], bool]:
    text, fault = decoded(content, file)
    if fault:
        raise InputErrors([fault])
    delimiter = delimiter_of(text)
    try:
        rows = [
            [_unprefixed(cell.strip()) for cell in row]
            for row in csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
        ]
    except csv.Error as broken:
        raise refused(
            file, f"can't be split into cells ({broken})", "Close each quotation mark"
        ) from None
    if len(rows) > MOST_ROWS:
        raise _too_large(file, f"has more than {MOST_ROWS} rows")
    return rows, delimiter != ","


def _sheets(content: bytes, file: str) -> list[list[list[str]]]:
    """Return the rows of each sheet; calculated cells by the value the spreadsheet kept."""
    _guard(content, file)
    import openpyxl  # noqa: PLC0415 (139 ms that only the import pays)
    from openpyxl.utils.exceptions import InvalidFileException  # noqa: PLC0415

    try:
        values = openpyxl.load_workbook(io.BytesIO(content), read_only=True, data_only=True)
        formulas = openpyxl.load_workbook(io.BytesIO(content), read_only=True)
        return [
            _sheet_rows(values[name], formulas[name], file)
            for name in values.sheetnames
            if hasattr(values[name], "iter_rows")
        ]
    except (InvalidFileException, KeyError, ValueError, SyntaxError, zipfile.BadZipFile):
        raise refused(file, "is no sound XLSX file", "Save it again as .xlsx or CSV") from None


def _sheet_rows(values: object, formulas: object, file: str) -> list[list[str]]:
    rows: list[list[str]] = []
    both = zip_longest(_capped(values), _capped(formulas), fillvalue=())
    for kept, written in both:
        if len(rows) >= MOST_ROWS:
            raise _too_large(file, f"has more than {MOST_ROWS} rows")
        rows.append([_cell(value, formula) for value, formula in zip_longest(kept, written)])
    return rows


def _capped(sheet: Any) -> Iterator[tuple[object, ...]]:
    rows: Iterator[tuple[object, ...]] = sheet.iter_rows(
        max_row=MOST_ROWS + 1, max_col=MOST_COLUMNS, values_only=True
    )
    return rows


def _cell(value: object, formula: object) -> str:
    match value:
        case None:
            # a formula whose value was never worked out: kept, so that the row is told
            return formula if isinstance(formula, str) and formula.startswith("=") else ""
        case bool():
            return "yes" if value else "no"
        case float():
            return str(int(value)) if value == int(value) else repr(value)
        case dt.datetime() | dt.date():
            return value.isoformat()
        case _:
            return _unprefixed(str(value).strip())


def _unprefixed(cell: str) -> str:
    """Return a cell without the mark that keeps spreadsheets from calculating with it."""
    return cell[1:] if len(cell) > 1 and cell[0] == "'" and cell[1] in "=+-@" else cell


def _guard(content: bytes, file: str) -> None:
    """Refuse an archive that would unpack to something huge or reach out of its folder."""
    try:
        entries = zipfile.ZipFile(io.BytesIO(content)).infolist()
    except zipfile.BadZipFile:
        raise refused(file, "is no sound XLSX file", "Save it again as .xlsx or CSV") from None
    size = sum(entry.file_size for entry in entries)
    packed = max(1, sum(entry.compress_size for entry in entries))
    if len(entries) > MOST_ENTRIES or size > MOST_BYTES or size > MOST_RATIO * packed:
        raise _too_large(file, "unpacks to far more than a list needs")
    if any(
        entry.filename.startswith("/") or ".." in entry.filename.split("/") for entry in entries
    ):
        raise refused(file, "is no sound XLSX file", "Save it again as .xlsx or CSV")


def _too_large(file: str, problem: str) -> InputErrors:
    return refused(file, problem, "Save the list alone as a new .xlsx or as CSV UTF-8")
