"""A CSV list -> records, with every fault of the file.

Row numbers are those a person sees in a spreadsheet: the headings are row 1.
"""

from __future__ import annotations

import codecs
import csv
import io
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Generic, TypeVar

from platewright.foundation.errors import InputError, misspelt, nearest
from platewright.foundation.units import Alias
from platewright.jobfile.columns import Column, Kind, columns_of, spellings
from platewright.jobfile.csv_style import (
    NEW_FILE,
    CsvStyle,
    delimiter_of,
    newline_of,
)
from platewright.jobfile.quantities import (
    Unreadable,
    read_end,
    read_names,
    read_number,
    read_yes_no,
    shows_decimal_comma,
)
from platewright.jobfile.records import Place, build
from platewright.jobfile.wire_sizes import read_wire_size
from platewright.model.job import Practice

Record = TypeVar("Record")
Row = tuple[int, list[str]]  # row number, cells
Typed = Mapping[tuple[int, str], tuple[str, str]]  # row number, field -> heading, cell as written


@dataclass(frozen=True, slots=True, kw_only=True)
class Table(Generic[Record]):
    """What was read from one list."""

    file: str
    rows: tuple[tuple[int, Record], ...] = ()  # row number, record; rows with faults left out
    keys: frozenset[str] = frozenset()  # names of all rows, those with faults too
    has_keys: bool = True  # whether the names could be read at all
    is_clear: bool = True  # whether each name stands once
    faults: tuple[InputError, ...] = ()
    style: CsvStyle = NEW_FILE
    notes: tuple[str, ...] = ()  # what the user should be told about the reading
    typed: Typed = field(default_factory=dict)  # numbers as the file has them, in its own units
    cut_off: int | None = None  # last row, where the file seems to end in the middle of it

    @property
    def records(self) -> tuple[Record, ...]:
        """The records in file order."""
        return tuple(record for _, record in self.rows)


@dataclass(frozen=True, slots=True)
class _Heading:
    """One column of the file as it was understood."""

    index: int
    text: str
    column: Column
    alias: Alias | None


def read_table(
    record: type[Record], content: bytes, *, file: str, practice: Practice | None = None
) -> Table[Record]:
    """Return the records of a CSV file and all its faults.

    The first column of the record is its key and must not occur twice. ``practice`` says what
    a bare wire size means.
    """
    text, fault = decoded(content, file)
    if fault:
        return Table(file=file, faults=(fault,), has_keys=False)
    delimiter = delimiter_of(text)
    rows, broken = _split(text, delimiter, file)
    if broken:
        return Table(file=file, faults=(broken,), has_keys=False)
    headings, faults = _headings(record, rows[0] if rows else None, rows[1:], file)
    style = CsvStyle(
        delimiter=delimiter,
        decimal_comma=delimiter != "," and _has_decimal_comma(headings, rows[1:]),
        newline=newline_of(text),
        byte_order_mark=content.startswith(codecs.BOM_UTF8),
    )
    reader = _Reader(record, file, headings, style, practice, width=len(rows[0][1]) if rows else 0)
    half = _half_row(text, rows, file) if headings else None
    faults += [half] if half else []
    found: list[tuple[int, Record]] = []
    for number, cells in (rows[1:-1] if half else rows[1:]) if headings else ():
        made, more = reader.row(number, cells)
        faults += more
        if made is not None:
            found.append((number, made))
    named = rows[1:-1] if half and len(rows[-1][1]) == 1 else rows[1:]  # half a name is none
    keys, twice = _keys(headings, named, file, columns_of(record)[0])
    return Table(
        file=file,
        rows=tuple(found),
        keys=keys,
        has_keys=any(each.column is columns_of(record)[0] for each in headings),
        is_clear=not twice,
        faults=tuple(sorted(faults + twice, key=lambda each: each.row or 0)),
        style=style,
        notes=(f"{file}: numbers are read with a decimal comma",) if style.decimal_comma else (),
        typed=_typed(headings, rows[1:]),
        cut_off=half.row if half else None,
    )


def decoded(content: bytes, file: str) -> tuple[str, InputError | None]:
    """Return the text of a file, or what is wrong with its bytes."""
    cure = "Save it as CSV UTF-8"
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as refused:
        row = content[: refused.start].count(b"\n") + 1
        return "", InputError(file=file, row=row, problem="is not UTF-8 text", cure=cure)
    if "\0" in text:
        row = text[: text.index("\0")].count("\n") + 1
        return "", InputError(file=file, row=row, problem="holds bytes that are no text", cure=cure)
    return text, None


def _split(text: str, delimiter: str, file: str) -> tuple[list[Row], InputError | None]:
    """Return the rows that are not blank with their numbers."""
    rows: list[Row] = []
    number = 0
    try:
        for cells in csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True):
            number += 1
            if any(cell.strip() for cell in cells):
                rows.append((number, [cell.strip() for cell in cells]))
    except csv.Error as refused:
        return [], InputError(
            file=file,
            row=number + 1,
            problem=f"can't be split into cells ({refused})",
            cure='Close each quotation mark; write a quotation mark inside a cell as ""',
        )
    return rows, None


def _half_row(text: str, rows: Sequence[Row], file: str) -> InputError | None:
    """Return the fault of a file that ends in the middle of its last row.

    A row may leave out its last cells, and a file its last line end; only both together, where all
    other rows are whole, are what a copy that broke off looks like.
    """
    if len(rows) < 3 or text.endswith(("\n", "\r")):
        return None
    wide, (number, cells) = len(rows[0][1]), rows[-1]
    if len(cells) >= wide or any(len(others) < wide for _, others in rows[:-1]):
        return None
    return InputError(
        file=file,
        row=number,
        value=next(cell for cell in reversed(cells) if cell),
        problem=f"is cut off: the last row has {len(cells)} of {wide} cells and no line end",
        cure="Copy the whole file again; if nothing is missing, end the row with a line end",
    )


def _typed(headings: Sequence[_Heading], rows: Sequence[Row]) -> Typed:
    numbers = [each for each in headings if each.column.kind is Kind.NUMBER]
    return {
        (number, each.column.field): (each.text, cells[each.index])
        for number, cells in rows
        for each in numbers
        if each.index < len(cells) and cells[each.index]
    }


def _headings(
    record: type, head: Row | None, rows: Sequence[Row], file: str
) -> tuple[list[_Heading], list[InputError]]:
    """Return the columns understood and the faults of the headings."""
    if head is None:
        wanted = ", ".join(each.name for each in columns_of(record) if each.needed)
        cure = f"Write at least the headings {wanted}"
        return [], [InputError(file=file, row=1, problem="is empty", cure=cure)]
    known = spellings(record)
    found: list[_Heading] = []
    faults: list[InputError] = []

    def fault(name: str, problem: str, cure: str) -> None:
        faults.append(InputError(file=file, row=head[0], field=name, problem=problem, cure=cure))

    for index, text in enumerate(head[1]):
        column, alias = known.get(text.lower(), (None, None))
        if column is None and not text:
            if any(len(cells) > index and cells[index] for _, cells in rows):
                fault(f"column {index + 1}", "has no heading", "Write a heading or empty it")
        elif column is None:
            fault(text, "is no known column", nearest(text.lower(), _plain_names(record)))
        elif any(each.column is column for each in found):
            fault(text, "is given twice", "Keep one of the columns")
        else:
            found.append(_Heading(index, text, column, alias))
    present = {each.column.field for each in found}
    strangers = [text for text in head[1] if text and text.lower() not in known]
    for column in columns_of(record):
        if column.needed and column.field not in present:
            meant = misspelt(strangers, column.name, _plain_names(record))
            if meant:  # one slip, one fault: the unknown heading is told already
                strangers.remove(meant)
            else:
                fault(column.name, "is missing", f"Add the column ({column.meaning})")
    return found, faults


def _plain_names(record: type) -> list[str]:
    return [each.name for each in columns_of(record)]


def _has_decimal_comma(headings: Sequence[_Heading], rows: Sequence[Row]) -> bool:
    numbers = [each.index for each in headings if each.column.kind in (Kind.NUMBER, Kind.SIZE)]
    return any(
        shows_decimal_comma(cells[index])
        for _, cells in rows
        for index in numbers
        if index < len(cells)
    )


def _decimal_halves(headings: Sequence[_Heading], cells: list[str]) -> tuple[str, str] | None:
    """Return the halves of the first number that a decimal comma may have cut in two."""
    for each in headings:
        pair = cells[each.index : each.index + 2]
        if each.column.kind is Kind.NUMBER and len(pair) == 2 and all(p.isdecimal() for p in pair):
            return pair[0], pair[1]
    return None


def _keys(
    headings: Sequence[_Heading], rows: Sequence[Row], file: str, key: Column
) -> tuple[frozenset[str], list[InputError]]:
    """Return the names of all rows, and a fault for each that occurs again."""
    index = next((each.index for each in headings if each.column is key), None)
    if index is None:
        return frozenset(), []
    names = [(number, cells[index]) for number, cells in rows if index < len(cells)]
    counts = Counter(name for _, name in names if name)
    first: dict[str, int] = {}
    faults: list[InputError] = []
    for number, name in names:
        if counts[name] > 1 and first.setdefault(name, number) != number:
            faults.append(
                InputError(
                    file=file,
                    row=number,
                    field=key.name,
                    value=name,
                    problem=f"stands in row {first[name]} already",
                    cure=f"Give each row its own {key.name}, or delete one",
                )
            )
    return frozenset(counts), faults


class _Reader(Generic[Record]):
    """Reads the rows of one file."""

    def __init__(
        self,
        record: type[Record],
        file: str,
        headings: Sequence[_Heading],
        style: CsvStyle,
        practice: Practice | None,
        *,
        width: int,
    ) -> None:
        self.record = record
        self.file = file
        self.headings = headings
        self.style = style
        self.practice = practice
        self.width = width  # cells in the row of headings
        present = {each.column.field for each in headings}
        self.absent: frozenset[Place] = frozenset(
            (each.field,)
            for each in columns_of(record)
            if each.needed and each.field not in present
        )

    def row(self, number: int, cells: list[str]) -> tuple[Record | None, list[InputError]]:
        """Return the record of one row, or ``None`` and its faults."""
        raw: dict[str, object] = {}
        faults = list(self._overlong(number, cells))
        if faults:  # its cells stand in wrong columns: nothing else can be said of the row
            return None, faults
        broken: set[Place] = set()
        for heading in self.headings:
            cell = cells[heading.index] if heading.index < len(cells) else ""
            try:
                if cell or heading.column.needed:
                    raw[heading.column.field] = self._value(heading, cell)
            except Unreadable as unreadable:
                broken.add((heading.column.field,))
                faults.append(self._fault(number, heading, cell, unreadable))
        made, troubles = build(self.record, raw, broken | self.absent)
        by_field = {each.column.field: each for each in self.headings}
        for trouble in troubles:
            heading = by_field[str(trouble.place[0])]
            cell = cells[heading.index]
            told = Unreadable(trouble.problem, trouble.cure)
            faults.append(self._fault(number, heading, cell, told))
        return (None if faults else made), faults

    def _value(self, heading: _Heading, cell: str) -> object:
        comma = self.style.decimal_comma
        if not cell:
            raise Unreadable("is blank", f"Fill it in: {heading.column.meaning}")
        match heading.column.kind:
            case Kind.NUMBER:
                suffix = heading.column.unit.suffix if heading.column.unit else None
                return read_number(cell, suffix, heading=heading.alias, comma=comma)
            case Kind.SIZE:
                return read_wire_size(cell, self.practice, comma=comma)
            case Kind.NAMES:
                return read_names(cell)
            case Kind.END:
                return read_end(cell)
            case Kind.YES_NO:
                return read_yes_no(cell)
            case Kind.CHOICE:
                return cell.lower()
            case _:
                return cell

    def _overlong(self, number: int, cells: list[str]) -> Iterator[InputError]:
        extra = [cell for cell in cells[self.width :] if cell]
        if extra:
            cure = "Put text that holds the divider in quotation marks"
            halves = _decimal_halves(self.headings, cells)
            if halves and self.style.delimiter == ",":
                whole, behind = halves
                cure = (
                    f"If {whole},{behind} is one number, write {whole}.{behind}. Else put text that "
                    "holds a comma in quotation marks"
                )
            yield InputError(
                file=self.file,
                row=number,
                value=extra[0],
                problem="the row has more cells than there are headings",
                cure=cure,
            )

    def _fault(
        self, number: int, heading: _Heading, cell: str, unreadable: Unreadable
    ) -> InputError:
        return InputError(
            file=self.file,
            row=number,
            field=heading.text,
            value=cell or None,
            problem=unreadable.problem,
            cure=unreadable.cure,
        )
