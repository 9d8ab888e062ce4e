"""The job's lists as cells, for a table that is edited in place; and cells as a list again."""

from __future__ import annotations

import csv
import hashlib
import io
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from platewright.jobfile.columns import columns_of
from platewright.jobfile.csv_style import NEW_FILE, delimiter_of
from platewright.jobfile.folder import DEVICES, PARTS, WIRES
from platewright.jobfile.tables_csv import decoded
from platewright.jobfile.tables_write import style_of
from platewright.model.device import Device
from platewright.model.part import Part
from platewright.model.wire import Wire

RECORDS: Final[dict[str, type]] = {DEVICES: Device, PARTS: Part, WIRES: Wire}


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """One column a list may have."""

    name: str
    meaning: str
    needed: bool
    choices: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cells:
    """A list as it is written: headings first. ``hash`` names the content it was made from."""

    rows: tuple[tuple[str, ...], ...]
    known: tuple[Heading, ...]
    hash: str


def cells_of(name: str, content: bytes) -> Cells:
    """Return a list's cells, rows of one width; an unreadable file has none."""
    text, fault = decoded(content, name)
    rows = (
        [] if fault else list(csv.reader(io.StringIO(text, newline=""), delimiter=_divider(text)))
    )
    width = max((len(row) for row in rows), default=0)
    known = tuple(
        Heading(name=c.name, meaning=c.meaning, needed=c.needed, choices=c.choices)
        for c in columns_of(RECORDS[name])
    )
    return Cells(
        rows=tuple((*row, *[""] * (width - len(row))) for row in rows if any(row)),
        known=known,
        hash=content_hash(content),
    )


def _divider(text: str) -> str:
    return delimiter_of(text) if text else NEW_FILE.delimiter


def content_hash(content: bytes) -> str:
    """Return the name of a content."""
    return hashlib.sha256(content).hexdigest()


def list_bytes(name: str, rows: Sequence[Sequence[str]], old: bytes) -> bytes:
    """Return the file of a list, written the way the old one was; empty rows are left out."""
    style = style_of(RECORDS[name], old) if old else NEW_FILE
    kept = [row for row in rows if any(cell.strip() for cell in row)]
    return style.encoded("".join(style.line(list(row)) for row in kept))
