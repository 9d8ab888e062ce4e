"""Columns of a list, or keys of a table, as a record type states them.

Header = field name, plus ``_`` and the unit's suffix where the field has a unit. A new field of
a record is read, written, explained and put into the schema because of this module alone.
"""

from __future__ import annotations

import dataclasses
import types
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from typing import Annotated, Final, Union, get_args, get_origin, get_type_hints

from annotated_types import Ge, Gt, Le, Lt

from platewright.foundation.units import ALIASES, Alias, Unit
from platewright.model.wire import End, Wire, WireSize


class Kind(StrEnum):
    """What a cell holds."""

    TEXT = "text"
    NUMBER = "number"
    WHOLE = "whole number"
    YES_NO = "yes or no"
    CHOICE = "one of a few words"
    NAMES = "names with spaces between"
    END = "device:terminal"
    SIZE = "wire size"
    RECORD = "table"
    RECORDS = "list of tables"
    MAP = "table by name"


# fields whose plain name would be a poor heading
_HEADINGS: Final[Mapping[tuple[type, str], str]] = {(Wire, "start"): "from", (Wire, "end"): "to"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column: its heading and what may stand in it."""

    field: str
    name: str
    kind: Kind
    unit: Unit | None
    needed: bool
    default: object
    meaning: str
    limits: tuple[Ge | Gt | Le | Lt, ...] = ()
    choices: tuple[str, ...] = ()
    record: type | None = None  # of the tables inside, for RECORD, RECORDS and some MAPs

    @property
    def range(self) -> str:
        """The range in words; blank when any value will do."""
        words: list[str] = []
        for limit in self.limits:
            match limit:
                case Gt():
                    words.append(f"above {limit.gt}")
                case Ge():
                    words.append(f"{limit.ge} or more")
                case Lt():
                    words.append(f"below {limit.lt}")
                case Le():
                    words.append(f"at most {limit.le}")
        return ", ".join(words)


def columns_of(record: type) -> tuple[Column, ...]:
    """Return the columns of a record type, in record order."""
    return _columns_of(record)


@cache
def _columns_of(record: type) -> tuple[Column, ...]:
    hints = get_type_hints(record, include_extras=True)
    return tuple(_column(record, field, hints[field.name]) for field in dataclasses.fields(record))


def column(record: type, field: str) -> Column:
    """Return the column of one field."""
    return next(each for each in columns_of(record) if each.field == field)


def spellings(record: type) -> Mapping[str, tuple[Column, Alias | None]]:
    """Return every heading that is read for a record: its own, and those in other units."""
    return _spellings(record)


@cache
def _spellings(record: type) -> Mapping[str, tuple[Column, Alias | None]]:
    found: dict[str, tuple[Column, Alias | None]] = {}
    for each in columns_of(record):
        if each.unit is not None:
            for word, alias in ALIASES.get(each.unit.suffix, {}).items():
                if word.isascii() and word.isalnum():
                    found[f"{each.field}_{word}"] = (each, alias)
    for each in columns_of(record):
        found[each.name] = (each, None)
    return found


def names(record: type) -> tuple[str, ...]:
    """Return the headings of a record type, in record order."""
    return tuple(each.name for each in columns_of(record))


def _column(record: type, field: dataclasses.Field[object], hint: object) -> Column:
    plain, notes = _peel(hint)
    unit = next((note for note in notes if isinstance(note, Unit)), None)
    heading = _HEADINGS.get((record, field.name), field.name)
    kind, choices, inner = _kind(plain)
    needed = field.default is dataclasses.MISSING and field.default_factory is dataclasses.MISSING
    return Column(
        field=field.name,
        name=f"{heading}_{unit.suffix}" if unit else heading,
        kind=kind,
        unit=unit,
        needed=needed,
        default=None if needed else _default(field),
        meaning=next((note for note in notes if isinstance(note, str)), ""),
        limits=tuple(note for note in notes if isinstance(note, Ge | Gt | Le | Lt)),
        choices=choices,
        record=inner,
    )


def _default(field: dataclasses.Field[object]) -> object:
    if field.default is not dataclasses.MISSING:
        return field.default
    assert field.default_factory is not dataclasses.MISSING  # noqa: S101 (a needed field is not asked)
    return field.default_factory()


def _peel(hint: object) -> tuple[object, list[object]]:
    """Return the bare type under ``Annotated`` and ``| None``, and all notes met on the way."""
    notes: list[object] = []
    while True:
        origin = get_origin(hint)
        if origin is Annotated:
            hint, *more = get_args(hint)
            notes.extend(more)
        elif origin in (Union, types.UnionType):
            (hint,) = (each for each in get_args(hint) if each is not type(None))
        else:
            return hint, notes


def _kind(plain: object) -> tuple[Kind, tuple[str, ...], type | None]:
    """Return kind, allowed words and the record inside for a bare type."""
    simple = {str: Kind.TEXT, float: Kind.NUMBER, int: Kind.WHOLE, bool: Kind.YES_NO}
    simple |= {End: Kind.END, WireSize: Kind.SIZE}
    if isinstance(plain, type):
        if plain in simple:
            return simple[plain], (), None
        if issubclass(plain, StrEnum):
            return Kind.CHOICE, tuple(str(word) for word in plain), None
        if dataclasses.is_dataclass(plain):
            return Kind.RECORD, (), plain
    inner = get_args(plain)[0] if get_origin(plain) is tuple else None
    if inner is str:
        return Kind.NAMES, (), None
    if inner is not None:
        return Kind.RECORDS, (), inner
    if get_origin(plain) is Mapping:
        of = get_args(plain)[1]
        return Kind.MAP, (), None if of is str else of
    raise TypeError(f"no column for fields of type {plain}")
