"""CSV with plain cells, XLSX in which nothing is a formula."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from datetime import date, datetime

import xlsxwriter

from platewright.drawing.numbers import short
from platewright.drawing.table import Cell

WIDEST = 60  # characters


def write_csv(heads: Sequence[str], rows: Sequence[Sequence[Cell]]) -> bytes:
    """Return a CSV file: UTF-8, comma, cells as they are (a tag keeps its leading hyphen)."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(heads)
    for row in rows:
        writer.writerow([_plain(cell) for cell in row])
    return out.getvalue().encode()


def _plain(cell: Cell) -> str | int:
    if cell is None:
        return ""
    return short(cell, 3) if isinstance(cell, float) else cell


def write_xlsx(
    title: str, heads: Sequence[str], rows: Sequence[Sequence[Cell]], *, made_on: date
) -> bytes:
    """Return an XLSX file of one sheet. ``made_on`` goes into its properties, no clock is read."""
    out = io.BytesIO()
    book = xlsxwriter.Workbook(
        out, {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False}
    )
    book.set_properties(
        {"title": title, "created": datetime(made_on.year, made_on.month, made_on.day)}  # noqa: DTZ001  (a date only)
    )
    sheet = book.add_worksheet(sheet_name(title))
    head_format = book.add_format({"bold": True, "bottom": 1, "text_wrap": True, "valign": "top"})
    for column, head in enumerate(heads):
        sheet.write_string(0, column, head, head_format)
        cells = [_plain(row[column]) for row in rows]
        longest = max((len(str(cell)) for cell in [head, *cells]), default=8)
        sheet.set_column(column, column, min(longest + 2, WIDEST))
    for index, row in enumerate(rows, start=1):
        for column, cell in enumerate(row):
            if isinstance(cell, str):
                sheet.write_string(index, column, cell)
            elif cell is not None:
                sheet.write_number(index, column, cell)
    sheet.freeze_panes(1, 0)
    sheet.autofilter(0, 0, max(len(rows), 1), len(heads) - 1)
    sheet.set_paper(9)
    sheet.repeat_rows(0)
    book.close()
    return out.getvalue()


def sheet_name(title: str) -> str:
    r"""Return a name that a workbook takes: 31 characters, none of ``[]:*?/\\``."""
    return "".join("-" if char in "[]:*?/\\" else char for char in title)[:31] or "list"
