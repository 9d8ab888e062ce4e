"""Settings -> ``job.toml``: a new file with explanations, or an old one changed in place.

In an old file comments, order, spelling of keys and all that did not change stay as they are.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from collections.abc import Set as AbstractSet
from pathlib import Path
from typing import Any, Final

from platewright.foundation.errors import InputErrors
from platewright.foundation.units import ALIASES, MM_PER_INCH
from platewright.jobfile import atomic, migrations
from platewright.jobfile.columns import Column, Kind, columns_of, spellings
from platewright.jobfile.settings import settings_from
from platewright.jobfile.settings_faults import FILE
from platewright.jobfile.toml_edit import add_key
from platewright.jobfile.toml_text import as_before, inline_table, key_text, value_text
from platewright.model.job import DisplayUnit, JobSettings

TO_BE_FILLED: Final = "TO BE FILLED IN"

_HEAD: Final = """\
# The job: enclosure, plate, stock, limits. Blank is not zero: leave out what is not known.
# Inches are read too: width_in = 20, or width_mm = "19-11/16 in".
"""
_HEAD_INCH: Final = """\
# The job: enclosure, plate, stock, limits. Blank is not zero: leave out what is not known.
# Fractions and mm are read too: width_in = "19-11/16", or width_mm = 500.
"""


def write_settings(folder: Path, settings: JobSettings) -> None:
    """Save the settings; of an old file only what changed is touched.

    Raises ``InputErrors`` when the old file has faults: it is then left as it is.
    """
    path = folder / FILE
    if not path.is_file():
        atomic.save(path, settings_text(settings).encode())
        return
    old = path.read_bytes()
    reading = settings_from(old)
    if reading.settings is None:
        raise InputErrors(reading.faults)
    atomic.save(path, _changed(old, reading.settings, settings))


def settings_text(settings: JobSettings, *, unfilled: AbstractSet[str] = frozenset()) -> str:
    """Return a new file, every key explained.

    Keys of ``unfilled`` (``enclosure.width_mm``) are left for the user to fill in. In a job in
    inches lengths are asked for, and written, in inches.
    """
    head = _HEAD_INCH if settings.units is DisplayUnit.INCH else _HEAD
    return head + "".join(_lines(settings, "", unfilled, settings.units))


def key_for(column: Column, unit: DisplayUnit) -> str:
    """Return the key that asks for a value in the job's unit: ``width_in`` for ``width_mm``."""
    is_length = column.unit is not None and column.unit.suffix == "mm"
    return f"{column.field}_in" if is_length and unit is DisplayUnit.INCH else column.name


def _spelt(column: Column, value: object, unit: DisplayUnit) -> tuple[str, object]:
    """Return key and value in the job's unit; a length that is no round one in it stays in mm.

    Inches to 0.0001 are read back as the very same length, or are not written.
    """
    plain, key = _plain(column, value), key_for(column, unit)
    if key == column.name or not isinstance(plain, float):
        return column.name, plain
    inches = round(plain / MM_PER_INCH, 4)
    if round(inches * MM_PER_INCH, 6) != plain:  # as it is read, and not near it
        return column.name, plain
    return key, inches


def plain_values(record: object) -> dict[str, object]:
    """Return what has to be written of a record: what differs from the default, by key."""
    found: dict[str, object] = {}
    for column in columns_of(type(record)):
        value = getattr(record, column.field)
        if column.needed or value != column.default:
            found[column.name] = _plain(column, value)
    return found


def _plain(column: Column, value: Any) -> object:
    match column.kind:
        case Kind.RECORD:
            return plain_values(value)
        case Kind.RECORDS:
            return [plain_values(each) for each in value]
        case Kind.NUMBER:
            return None if value is None else float(value) + 0.0
        case Kind.MAP:
            return dict(value)
        case Kind.NAMES:
            return list(value)
        case Kind.CHOICE:
            return None if value is None else str(value)
        case _:
            return value


def _lines(
    record: object, path: str, unfilled: AbstractSet[str], unit: DisplayUnit
) -> Iterator[str]:
    """Yield the lines of a record: its own keys first, then the tables inside."""
    columns = columns_of(type(record))
    inside = (Kind.RECORD, Kind.MAP)
    for column in columns:
        if column.kind not in inside:
            yield from _key_lines(column, getattr(record, column.field), path, unfilled, unit)
    for column in columns:
        value = getattr(record, column.field)
        name = f"{path}{column.name}"
        if column.kind is Kind.RECORD:
            inner = list(_lines(value, f"{name}.", unfilled, unit))
            if inner:
                yield f"\n[{name}]  # {column.meaning}\n"
            yield from inner
        elif column.kind is Kind.MAP and value:
            yield f"\n[{name}]  # {column.meaning}\n"
            yield from (f"{key_text(key)} = {value_text(word)}\n" for key, word in value.items())


def _key_lines(
    column: Column, value: Any, path: str, unfilled: AbstractSet[str], unit: DisplayUnit
) -> Iterator[str]:
    if f"{path}{column.name}" in unfilled:
        yield f"# {key_for(column, unit)} =   # {TO_BE_FILLED}: {column.meaning}\n"
    elif value is None:
        yield f"# {key_for(column, unit)} =   # {column.meaning}\n"
    elif column.kind is Kind.RECORDS:
        yield f"{column.name} = [  # {column.meaning}\n"
        yield from (f"  {inline_table(_values_in(each, unit))},\n" for each in value)
        yield "]\n"
    else:
        key, plain = _spelt(column, value, unit)
        yield f"{key} = {value_text(plain)}  # {column.meaning}\n"


def _values_in(record: object, unit: DisplayUnit) -> dict[str, object]:
    """Return the same as ``plain_values``, lengths in the job's unit."""
    columns, kept = columns_of(type(record)), plain_values(record)
    return dict(
        _spelt(column, getattr(record, column.field), unit)
        for column in columns
        if column.name in kept
    )


def _changed(old: bytes, before: JobSettings, after: JobSettings) -> bytes:
    import tomlkit  # noqa: PLC0415 (28 ms that reading must not pay)

    document = tomlkit.parse(old.decode("utf-8-sig"))
    migrations.bring_up_to_date(document, FILE)
    _update(document, before, after)
    return as_before(old, tomlkit.dumps(document))


def _update(table: Any, before: object, after: object) -> None:
    """Change the keys of one table whose values differ."""
    for column in columns_of(type(after)):
        old, new = getattr(before, column.field), getattr(after, column.field)
        if old == new:
            continue
        key = _key_in(table, type(after), column)
        present = key in table
        if column.kind is Kind.RECORD and present:
            _update(table[key], old, new)
        elif column.kind is Kind.RECORDS and present:
            _update_list(table[key], old, new)
        elif column.kind is Kind.MAP and present:
            _update_map(table[key], new)
        elif new is None:
            del table[key]
        else:
            _set(table, key, column, new)


def _key_in(table: Any, record: type, column: Column) -> str:
    """Return how the table spells the key of a column; its plain name if it has none yet."""
    known = spellings(record)
    return next((key for key in table if known[key][0] == column), column.name)


def _set(table: Any, key: str, column: Column, new: object) -> None:
    value = _plain(column, new)
    if key != column.name and isinstance(value, float) and column.record is None:
        value, key = _in_unit_of(table, key, column, value)
    if key in table or column.kind in (Kind.RECORD, Kind.MAP):
        table[key] = _fresh(column, value)
    else:
        add_key(table, key, _fresh(column, value))


def _in_unit_of(table: Any, key: str, column: Column, value: float) -> tuple[float, str]:
    """Return a number in the unit its key names, or under the plain key if it would not fit."""
    word = key.removeprefix(f"{column.field}_")
    alias = _alias(column, word)
    outside = round((value - alias[1]) / alias[0], 9)
    if round(outside * alias[0] + alias[1], 6) == value:
        return outside, key
    del table[key]
    return value, column.name


def _alias(column: Column, word: str) -> tuple[float, float]:
    alias = ALIASES[column.unit.suffix if column.unit else ""][word]
    return alias.factor, alias.offset


def _fresh(column: Column, value: object) -> object:
    """Return a value as an item of the document; lists of tables one a line."""
    import tomlkit  # noqa: PLC0415 (as above)

    if column.kind is Kind.RECORDS and isinstance(value, list):
        array = tomlkit.array()
        for each in value:
            array.append(_inline(each))
        return array.multiline(multiline=True)
    if isinstance(value, Mapping):
        made = tomlkit.table()
        made.update(value)
        return made
    return value


def _inline(values: Mapping[str, object]) -> Any:
    import tomlkit  # noqa: PLC0415 (as above)

    made = tomlkit.inline_table()
    made.update(values)
    return made


def _update_list(items: Any, before: tuple[object, ...], after: tuple[object, ...]) -> None:
    """Change a list of tables, whether written as ``[[…]]`` or in brackets."""
    from tomlkit.items import AoT  # noqa: PLC0415 (as above)

    for index, (old, new) in enumerate(zip(before, after, strict=False)):
        _update(items[index], old, new)
    for index in range(len(before) - 1, len(after) - 1, -1):
        del items[index]
    for new in after[len(before) :]:
        items.append(plain_values(new) if isinstance(items, AoT) else _inline(plain_values(new)))


def _update_map(table: Any, new: Mapping[str, str]) -> None:
    for key in [key for key in table if key not in new]:
        del table[key]
    for key, value in new.items():
        if table.get(key) != value:
            table[key] = value
