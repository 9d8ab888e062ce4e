"""Raw values -> one frozen record, with every fault in plain words.

Types and ranges are judged by the validator over the same frozen records the program works
with; this module only words its verdicts. Nothing here reads a file.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Any, Final, TypeVar, cast

from platewright.foundation.errors import nearest
from platewright.jobfile.columns import Column, Kind, columns_of

if TYPE_CHECKING:
    from pydantic import TypeAdapter
    from pydantic_core import ErrorDetails

Record = TypeVar("Record")
MISSING: Final = "is missing"
Place = tuple[str | int, ...]  # field names and indexes from the record down to the value


@dataclass(frozen=True, slots=True, kw_only=True)
class Trouble:
    """One fault inside a record."""

    place: Place
    problem: str
    cure: str
    value: str | None = None
    is_unknown_key: bool = False  # the last step of the place is a key as it was written


def build(
    record: type[Record], raw: Mapping[str, object], known: AbstractSet[Place] = frozenset()
) -> tuple[Record | None, tuple[Trouble, ...]]:
    """Return the record, or ``None`` and what is wrong with it.

    ``known`` are places whose fault has been told already; the record is still not made.
    """
    from pydantic import ValidationError  # noqa: PLC0415 (66 ms that --help must not pay)

    try:
        made = _adapter(record).validate_python(raw)
    except ValidationError as refused:
        details = refused.errors(include_url=False)
        return None, tuple(
            _trouble(record, detail)
            for detail in details
            if not any(detail["loc"][: len(place)] == place for place in known)
        )
    return (None if known else cast("Record", made)), ()


def spelled(record: type, trouble: Trouble) -> str:
    """Return a place as it is written in the file: ``plate.fixing_holes[2].x_mm``, from 1 on."""
    if trouble.is_unknown_key:
        above = _spelled(record, trouble.place[:-1])
        return f"{above}.{trouble.place[-1]}".lstrip(".")
    return _spelled(record, trouble.place)


def _spelled(record: type, place: Place) -> str:
    words = ""
    for step, column in _walk(record, place):
        if isinstance(step, int):
            words += f"[{step + 1}]"
        else:
            words += ("." if words else "") + (column.name if column else step)
    return words


def _adapter(record: type) -> TypeAdapter[Any]:
    return _made_adapter(record)


@cache
def _made_adapter(record: type) -> TypeAdapter[Any]:
    from pydantic import TypeAdapter  # noqa: PLC0415 (as above)

    return TypeAdapter(record)


def _walk(record: type, place: Place) -> Iterator[tuple[str | int, Column | None]]:
    """Yield each step of a place with its column; indexes, tags and unknown keys have none."""
    inside: type | None = record
    tag_is_next = False
    for step in place:
        column = None
        if isinstance(step, str) and not tag_is_next:
            columns = columns_of(inside) if inside else ()
            column = next((each for each in columns if each.field == step), None)
            inside = column.record if column else None
        tag_is_next = column is not None and column.kind is Kind.MAP
        yield step, column


def column_at(record: type, place: Place) -> Column | None:
    """Return the column that a place lies in, if it lies in one."""
    found = [column for _, column in _walk(record, place) if column is not None]
    return found[-1] if found else None


def _number(limit: str, words: str) -> Callable[[Mapping[str, Any], Column | None], str]:
    def told(context: Mapping[str, Any], column: Column | None) -> str:
        value, unit = context[limit], column.unit.symbol if column and column.unit else ""
        return f"must be {words} {value:g}{f' {unit}' if unit and value else ''}"  # 0 in any unit

    return told


def _word(_: Mapping[str, Any], column: Column | None) -> str:
    return "must be one of " + ", ".join(column.choices if column else ())


_CORRECT: Final = "Correct the value"
_WORDINGS: Final[Mapping[str, tuple[str | Callable[[Any, Any], str], str]]] = {
    "greater_than": (_number("gt", "above"), _CORRECT),
    "greater_than_equal": (_number("ge", "at least"), _CORRECT),
    "less_than": (_number("lt", "below"), _CORRECT),
    "less_than_equal": (_number("le", "at most"), _CORRECT),
    "enum": (_word, ""),
    "float_type": ("is not a number", "Write a plain number such as 12.5"),
    "float_parsing": ("is not a number", "Write a plain number such as 12.5"),
    "int_type": ("is not a whole number", "Write a whole number"),
    "int_parsing": ("is not a whole number", "Write a whole number"),
    "int_from_float": ("is not a whole number", "Write a whole number"),
    "string_type": ("is not text", "Put it in quotes"),
    "bool_type": ("is neither true nor false", "Write true or false"),
    "bool_parsing": ("is neither true nor false", "Write true or false"),
    "tuple_type": ("is not a list", "Write it in square brackets: [ … ]"),
    "dict_type": ("is not a table", "Write it as a table: [name] and its keys below"),
    "mapping_type": ("is not a table", "Write it as a table: [name] and its keys below"),
    "dataclass_type": ("is not a table", "Write it as a table: [name] and its keys below"),
}


def _looks_percent(column: Column, value: object) -> bool:
    """Tell whether a share above 1 was most likely meant as so many per cent."""
    is_share = column.unit is not None and column.unit.suffix == "share"
    return is_share and isinstance(value, int | float) and 1 < value <= 100


def _trouble(record: type, detail: ErrorDetails) -> Trouble:
    place = detail["loc"]
    column = column_at(record, place)
    meaning = f" ({column.meaning})" if column and column.meaning else ""
    if detail["type"] == "missing":
        name = _spelled(record, place).rpartition(".")[2]
        return Trouble(place=place, problem=MISSING, cure=f"Add {name}{meaning}")
    problem, cure = _WORDINGS[detail["type"]]
    value = detail["input"]
    if detail["type"] == "enum" and column:
        hint = nearest(str(value), column.choices)
        cure = hint if hint.endswith("?") else _CORRECT  # the problem lists them all already
    if (
        detail["type"] == "less_than_equal"
        and column
        and column.unit
        and _looks_percent(column, value)
    ):
        cure = f'Write "{value:g} %" or {value / 100:g}'
    return Trouble(
        place=place,
        problem=problem if isinstance(problem, str) else problem(detail.get("ctx", {}), column),
        cure=cure,
        value=None if isinstance(value, dict | list | tuple) else f"{value}",
    )
