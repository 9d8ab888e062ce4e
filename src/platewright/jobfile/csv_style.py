"""How a CSV file is written down: divider, decimal sign, line ends, byte-order mark.

What a user's spreadsheet wrote is kept when the file is saved again.
"""

from __future__ import annotations

import codecs
from dataclasses import dataclass
from decimal import Decimal
from typing import Final


@dataclass(frozen=True, slots=True, kw_only=True)
class CsvStyle:
    """The habits of one CSV file; the defaults are those of a new file."""

    delimiter: str = ","
    decimal_comma: bool = False
    newline: str = "\n"
    byte_order_mark: bool = False

    def cell(self, text: str) -> str:
        """Return a cell, quoted where needed."""
        if any(sign in text for sign in (self.delimiter, '"', "\n", "\r")):
            return '"' + text.replace('"', '""') + '"'
        return text

    def number(self, value: float) -> str:
        """Return the shortest text that reads back as the same number."""
        if value == int(value) and abs(value) < 1e15:
            return str(int(value))
        text = repr(value)
        if not self.decimal_comma:
            return text
        whole, _, behind = format(Decimal(text), "f").partition(".")
        # 1,234 could be read as thousands; 1,2340 can't
        return f"{whole},{behind}0" if len(behind) == 3 else ",".join(filter(None, (whole, behind)))

    def line(self, cells: list[str]) -> str:
        """Return one line with its end."""
        return self.delimiter.join(self.cell(text) for text in cells) + self.newline

    def encoded(self, text: str) -> bytes:
        """Return the bytes of the whole file."""
        return (codecs.BOM_UTF8 if self.byte_order_mark else b"") + text.encode()


NEW_FILE: Final = CsvStyle()


def delimiter_of(text: str) -> str:
    """Return what divides the headings in the first line: comma, semicolon or tab."""
    head = text.lstrip("\r\n").splitlines()[0] if text.strip() else ""
    outside = "".join(head.split('"')[::2])  # what stands in quotes does not count
    return max((",", ";", "\t"), key=outside.count)


def newline_of(text: str) -> str:
    """Return the line end a file uses; one inside a quoted cell does not count."""
    outside = '""'.join(text.split('"')[::2])
    return "\r\n" if "\r\n" in outside else "\n"
