"""A TOML document -> raw values by field name: units converted, keys matched to fields.

What the values may be is judged afterwards by ``records.build``.
"""

from __future__ import annotations

import datetime as dt
import math
import re
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any, Final, TypeVar

from platewright.foundation.errors import InputError, misspelt, nearest
from platewright.foundation.units import Alias
from platewright.jobfile.columns import Column, Kind, names, spellings
from platewright.jobfile.quantities import Unreadable, read_names, read_number
from platewright.jobfile.records import MISSING, Place, Trouble, build, column_at, spelled
from platewright.jobfile.tables_csv import decoded

Record = TypeVar("Record")


def parse(content: bytes, file: str) -> tuple[dict[str, Any], InputError | None]:
    """Return the document of a TOML file, or its first fault with line and column."""
    text, fault = decoded(content, file)
    if fault:
        return {}, InputError(
            file=file, row=fault.row, problem=fault.problem, cure="Save it as UTF-8 text"
        )
    try:
        return tomllib.loads(text), None
    except tomllib.TOMLDecodeError as refused:
        words = re.fullmatch(
            r"(.*) \(at (?:line (\d+), column (\d+)|(end of document))\)", f"{refused}"
        )
        problem = words[1] if words else f"{refused}"
        row = int(words[2]) if words and words[2] else None
        place = f"column {words[3]}" if words and words[3] else "end of the file"
        line = text.splitlines()[row - 1].strip() if row else ""
        return {}, InputError(
            file=file,
            row=row,
            value=line if 0 < len(line) <= _LONGEST_LINE else None,
            problem=f"{place}: {problem[:1].lower()}{problem[1:]}",
            cure=_cure(line),
        )


_LONGEST_LINE: Final = 80  # a longer one is not repeated whole in a message


def _cure(line: str) -> str:
    """Return what most likely cures a line that is no TOML, from how the line looks."""
    for quote, name in (('"', "quotation mark"), ("'", "apostrophe")):
        if line.count(quote) == 1:
            return f'Close the {name}: key = "text"'
    key, equals, value = line.partition("=")
    if not equals and not line.startswith("["):
        return "Write key = value, or # before a remark"
    if line.startswith("[") and not equals:
        return "Write the name of a table in square brackets, alone on its line: [plate]"
    if re.fullmatch(r"\s*-?\d+,\d+\s*(#.*)?", value):
        return f"Write the number with a point: {key.strip()} = {value.strip().replace(',', '.')}"
    if re.fullmatch(r"\s*[^\W\d][\w .-]*", value) and value.strip() not in ("true", "false"):
        return f'Put the text in quotes: {key.strip()} = "{value.strip()}"'
    return "Write key = value, text in quotes, numbers without"


def read_record(
    record: type[Record], document: Mapping[str, object], file: str
) -> tuple[Record | None, tuple[InputError, ...]]:
    """Return the record a document holds, or ``None`` and all its faults."""
    made, faults, _ = read_record_as_typed(record, document, file)
    return made, faults


def read_record_as_typed(
    record: type[Record], document: Mapping[str, object], file: str
) -> tuple[Record | None, tuple[InputError, ...], Mapping[str, tuple[str, str]]]:
    """Return also the numbers that stand in another unit: place -> place and value as written."""
    troubles: list[Trouble] = []
    numbers: dict[Place, tuple[str, str]] = {}
    raw = _shape(record, document, (), troubles, numbers)
    made, more = build(record, raw, frozenset(trouble.place for trouble in troubles))
    more = tuple(trouble for trouble in more if not _told_as_unknown(record, trouble, troubles))
    faults = tuple(
        InputError(
            file=file,
            field=spelled(record, trouble),
            value=trouble.value,
            problem=trouble.problem,
            cure=trouble.cure,
        )
        for trouble in (*troubles, *more)
    )
    typed = {}
    for place, (key, value) in numbers.items():
        name = spelled(record, Trouble(place=place, problem="", cure=""))
        above = name.rpartition(".")[0]
        typed[name] = (f"{above}.{key}" if above else key, value)
    return made, tuple(as_typed(fault, typed) for fault in faults), typed


def as_typed(fault: InputError, typed: Mapping[str, tuple[str, str]]) -> InputError:
    """Return the fault with key and value as they stand in the file, not in the inside unit."""
    if fault.field is None or fault.value is None or fault.field not in typed:
        return fault
    key, value = typed[fault.field]
    return replace(fault, field=key, value=value)


def _told_as_unknown(record: type, trouble: Trouble, troubles: Sequence[Trouble]) -> bool:
    """Return whether a missing key is one that stands there misspelt, which is told already."""
    column = column_at(record, trouble.place)
    if column is None or trouble.problem != MISSING:
        return False
    strangers = [
        str(each.place[-1])
        for each in troubles
        if each.is_unknown_key and each.place[:-1] == trouble.place[:-1]
    ]
    around = column_at(record, trouble.place[:-1])
    inside = around.record if around else record
    return inside is not None and bool(misspelt(strangers, column.name, names(inside)))


def _shape(
    record: type,
    table: Mapping[str, object],
    place: Place,
    troubles: list[Trouble],
    typed: dict[Place, tuple[str, str]],
) -> dict[str, object]:
    """Return the values by field name; adds what can't be read to ``troubles``.

    ``typed`` takes keys and values of numbers that are not written in the inside unit.
    """
    known = spellings(record)
    raw: dict[str, object] = {}
    for key, value in table.items():
        column, alias = known.get(key, (None, None))
        if column is None:
            cure = nearest(key, names(record))
            troubles.append(
                Trouble(
                    place=(*place, key), problem="is no known key", cure=cure, is_unknown_key=True
                )
            )
        elif column.field in raw:
            troubles.append(
                Trouble(
                    place=(*place, column.field),
                    problem=f"is given twice (again as {key})",
                    cure="Keep one of them",
                )
            )
        else:
            raw[column.field] = value
            if _is_in_other_unit(column, key, value):
                typed[*place, column.field] = (key, str(value))
            try:
                raw[column.field] = _value(
                    column, alias, value, (*place, column.field), troubles, typed
                )
            except Unreadable as unreadable:
                troubles.append(
                    Trouble(
                        place=(*place, column.field),
                        problem=unreadable.problem,
                        cure=unreadable.cure,
                        value=str(value),
                    )
                )
    return raw


def _is_in_other_unit(column: Column, key: str, value: object) -> bool:
    """Tell whether a number has a unit that limits, which name theirs, are not told in.

    Shares are told as shares: their limits have no unit to tell them from per cent.
    """
    has_sign = column.unit is not None and bool(column.unit.symbol)
    is_other = key != column.name or isinstance(value, str)
    return column.kind is Kind.NUMBER and has_sign and is_other


def _value(
    column: Column,
    alias: Alias | None,
    value: object,
    place: Place,
    troubles: list[Trouble],
    typed: dict[Place, tuple[str, str]],
) -> object:
    inner = column.record
    match column.kind, value:
        case Kind.NUMBER, _:
            return _number(column, alias, value)
        case Kind.WHOLE, bool():
            raise Unreadable("is not a whole number", "Write a whole number")
        case Kind.TEXT, dt.date():
            return value.isoformat()
        case (Kind.CHOICE, str()) if value.lower() in column.choices:
            return value.lower()
        case Kind.NAMES, str():
            return read_names(value)
        case (Kind.RECORD, dict()) if inner:
            return _shape(inner, value, place, troubles, typed)
        case (Kind.RECORDS, list()) if inner:
            return tuple(
                _shape(inner, each, (*place, index), troubles, typed)
                if isinstance(each, dict)
                else each
                for index, each in enumerate(value)
            )
        case (Kind.MAP, dict()) if inner:
            return {
                tag: _shape(inner, each, (*place, tag), troubles, typed)
                if isinstance(each, dict)
                else each
                for tag, each in value.items()
            }
    return value


def _number(column: Column, alias: Alias | None, value: object) -> object:
    if isinstance(value, bool):
        raise Unreadable("is not a number", "Write a plain number such as 12.5")
    if isinstance(value, str):
        return read_number(value, column.unit.suffix if column.unit else None, heading=alias)
    if not isinstance(value, int | float):
        return value
    if not math.isfinite(value):
        raise Unreadable("is not a number", "Write a plain number such as 12.5")
    if alias is None or (alias.factor, alias.offset) == (1.0, 0.0):
        return float(value) + 0.0
    return round(value * alias.factor + alias.offset, 6)  # as for numbers with a unit behind
