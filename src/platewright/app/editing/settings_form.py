"""The job's settings as a form: every key of ``job.toml`` with what it means; cells put back.

What is put back is written into the old text: comments, order and spelling of all else stay.
Nothing is judged here: the file's own reader does that before anything is saved.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final

from platewright.foundation.errors import InputErrors
from platewright.jobfile.columns import Column, Kind, columns_of, spellings
from platewright.jobfile.folder import SETTINGS
from platewright.jobfile.toml_edit import add_key, body_of, tail_of
from platewright.jobfile.toml_text import as_before
from platewright.jobfile.toml_values import parse
from platewright.model.job import JobSettings
from platewright.tables.presets import preset_names

INSIDE: Final = (Kind.RECORD, Kind.RECORDS, Kind.MAP)
HIDDEN: Final = ("format", "columns")  # kept by the program itself
_WHOLE: Final = re.compile(r"[+-]?\d+")
_DECIMAL: Final = re.compile(r"[+-]?(\d+\.\d*|\.\d+)")
_STEP: Final = re.compile(r"(\w+)(?:\[(\d+)\])?")
YES, NO = ("yes", "true"), ("no", "false")


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """One key: what it is called, what it means, what stands there."""

    key: str
    meaning: str
    needed: bool
    choices: tuple[str, ...]
    default: str
    text: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """The keys of one table."""

    path: str  # blank: the file's own first keys
    meaning: str
    cells: tuple[Cell, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Listing:
    """A list of tables: a row each."""

    path: str
    meaning: str
    cells: tuple[Cell, ...]  # what a row may hold
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Form:
    """The whole file as sections and lists, in the order of the settings' own record."""

    sections: tuple[Section, ...]
    lists: tuple[Listing, ...]
    fault: str = ""  # why the file has no form: it is then edited as text


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A row of a list as it shall be: which row it was (from 1; 0: new), and its changed cells."""

    was: int
    cells: Mapping[str, str]


def form_of(content: bytes) -> Form:
    """Return the form of a file."""
    document, fault = parse(content, SETTINGS)
    if fault:
        return Form(sections=(), lists=(), fault=str(fault))
    parts = list(_parts(JobSettings, document, "", "The job"))
    return Form(
        sections=tuple(part for part in parts if isinstance(part, Section)),
        lists=tuple(part for part in parts if isinstance(part, Listing)),
    )


def _parts(record: type, table: Any, path: str, meaning: str) -> Iterator[Section | Listing]:
    stated: Mapping[str, Any] = table if isinstance(table, Mapping) else {}
    plain = [c for c in columns_of(record) if c.kind not in INSIDE and c.field not in HIDDEN]
    if plain:
        cells = tuple(_cell(record, c, stated) for c in plain)
        yield Section(path=path, meaning=meaning, cells=cells)
    for column in columns_of(record):
        inner = f"{path}.{column.field}" if path else column.field
        if column.record is None or column.field in HIDDEN:
            continue
        if column.kind is Kind.RECORD:
            yield from _parts(column.record, stated.get(column.name), inner, column.meaning)
        elif column.kind is Kind.RECORDS:
            yield _listing(column.record, stated.get(column.name), inner, column.meaning)


def _listing(record: type, items: Any, path: str, meaning: str) -> Listing:
    rows = [row for row in items if isinstance(row, Mapping)] if isinstance(items, list) else []
    cells = tuple(_cell(record, c, {}) for c in columns_of(record))
    found = tuple(tuple(_cell(record, c, row).text for c in columns_of(record)) for row in rows)
    return Listing(path=path, meaning=meaning, cells=cells, rows=found)


def _cell(record: type, column: Column, stated: Mapping[str, Any]) -> Cell:
    key = _key_in(stated, record, column)
    text = _text(stated[key]) if key is not None else ""
    if key not in (None, column.name) and text:
        text = f"{text} {_word(column, str(key))}"
    choices = column.choices or (("yes", "no") if column.kind is Kind.YES_NO else ())
    if record is JobSettings and column.field == "preset":
        choices = preset_names()
    default = "" if column.needed or column.default is None else _text(column.default)
    return Cell(
        key=column.name, meaning=column.meaning, needed=column.needed, choices=choices,
        default=default, text=text,
    )  # fmt: skip


def _text(value: Any) -> str:
    match value:
        case bool():
            return "yes" if value else "no"
        case float():
            return f"{value:.12g}"
        case list() | tuple():
            return " ".join(str(each) for each in value)
        case _:
            return str(value)


def _key_in(table: Mapping[str, Any], record: type, column: Column) -> str | None:
    known = spellings(record)
    return next((key for key in table if key in known and known[key][0] == column), None)


def _word(column: Column, key: str) -> str:
    return key.removeprefix(f"{column.field}_")


# --- cells put back ---------------------------------------------------------------------------


def with_cells(
    content: bytes, cells: Mapping[str, str], lists: Mapping[str, Sequence[Row]]
) -> bytes:
    """Return the file with cells changed (``plate.width_mm``) and lists as given.

    Raises ``InputErrors`` when the old text can't be read at all; ``KeyError`` for a key that
    the settings do not have.
    """
    import tomlkit  # noqa: PLC0415 (28 ms that opening a job must not pay)

    _, fault = parse(content, SETTINGS)
    if fault:
        raise InputErrors([fault])
    document = tomlkit.parse(content.decode("utf-8-sig"))
    for path, text in cells.items():
        names = path.split(".")
        record, table = _table(document, names[:-1], make=bool(text.strip()))
        if table is not None:
            _set(record, table, names[-1], text)
    for path, rows in lists.items():
        _set_rows(document, path.split("."), rows)
    return as_before(content, tomlkit.dumps(document))


def _table(document: Any, names: Sequence[str], *, make: bool) -> tuple[type, Any]:
    """Return the record type and the table under these names; made when it is missing."""
    import tomlkit  # noqa: PLC0415 (as above)

    record: type = JobSettings
    table = document
    for name in names:
        column = _column(record, name)
        if column.record is None or column.kind is not Kind.RECORD:
            raise KeyError(name)
        record = column.record
        if table is not None and name not in table:
            if make:
                table[name] = tomlkit.table()
            else:
                table = None
        table = None if table is None else table[name]
    return record, table


def _column(record: type, name: str) -> Column:
    for column in columns_of(record):
        if name in (column.name, column.field):
            return column
    raise KeyError(name)


def _set(record: type, table: Any, name: str, text: str) -> None:
    column = _column(record, name)
    if column.kind in INSIDE:
        raise KeyError(name)
    key = _key_in(table, record, column)
    text = text.strip()
    if not text:
        if key is not None:
            del table[key]
        return
    if key is not None and key != column.name:
        bare = text.removesuffix(_word(column, key)).rstrip()
        if bare != text and isinstance(_value(column, bare), int | float):
            table[key] = _value(column, bare)
            return
        del table[key]
    if column.name in table:
        table[column.name] = _value(column, text)
    else:
        add_key(table, column.name, _value(column, text))


def _value(column: Column, text: str) -> Any:
    """Return what the file is to hold; what is no such value stays text, and is judged as such."""
    if column.kind is Kind.YES_NO and text.lower() in (*YES, *NO):
        return text.lower() in YES
    if column.kind is Kind.NAMES:
        return text.split()
    if column.kind in (Kind.NUMBER, Kind.WHOLE):
        if _WHOLE.fullmatch(text):
            return int(text)
        if _DECIMAL.fullmatch(text):
            return float(text)
    return text


def _set_rows(document: Any, names: Sequence[str], rows: Sequence[Row]) -> None:
    import tomlkit  # noqa: PLC0415 (as above)

    record, table = _table(document, names[:-1], make=bool(rows))
    column = _column(record, names[-1])
    if column.kind is not Kind.RECORDS or column.record is None:
        raise KeyError(names[-1])
    if table is None:
        return
    if names[-1] not in table:
        table[names[-1]] = tomlkit.aot()
    items = table[names[-1]]
    left = _change_rows(column.record, items, rows)
    if not items:
        del table[names[-1]]
    body_of(table).extend(left)


def _change_rows(record: type, items: Any, rows: Sequence[Row]) -> list[Any]:
    """Change, take out and add rows. Comments behind a row belong to what follows: they stay.

    Returns those that no row is left to carry.
    """
    import tomlkit  # noqa: PLC0415 (as above)

    for row in rows:
        if 1 <= row.was <= len(items):
            for key, text in row.cells.items():
                _set(record, items[row.was - 1], key, text)
    stay, left = {row.was for row in rows}, []
    for index in range(len(items), 0, -1):
        if index not in stay:
            tail = tail_of(items[index - 1])
            del items[index - 1]
            if index > 1:
                body_of(items[index - 2]).extend(tail)
            else:
                left = tail
    inline = not isinstance(items, tomlkit.items.AoT)
    for row in rows:
        if row.was == 0:
            made = tomlkit.inline_table() if inline else tomlkit.table()
            for key, text in row.cells.items():
                _set(record, made, key, text)
            tail = tail_of(items[-1]) if items else []
            if items and not inline:
                body_of(items[-1]).append((None, tomlkit.nl()))
            items.append(made)
            if not inline:
                body_of(items[-1]).extend(tail or [(None, tomlkit.nl())])
    return left
