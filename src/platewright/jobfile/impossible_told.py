"""Parts that can't be, told: one fault for all rows of a list that share the cause."""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import replace
from typing import Final

from platewright.foundation.errors import InputError
from platewright.foundation.units import MM_PER_INCH
from platewright.jobfile.columns import column
from platewright.jobfile.cross_references import ABOVE_THE_BODY
from platewright.jobfile.impossible_parts import BODY, Doubt, Wrong, doubt_of
from platewright.jobfile.tables_csv import Table
from platewright.model.job import Enclosure
from platewright.model.part import Part

Doubted = tuple[int, Part, Doubt]  # row number, part, why it can't be
Naming = Callable[[Sequence[str], Sequence[str], str], str]  # headings, fields, unit -> a cure

UNITS: Final = {"in": "inches", "mm": "millimetres"}
MANY: Final = 4  # rows that hardly share a slip by chance
_SAME: Final = 1e-3  # relative; converting is exact to 1e-6 mm


def in_job(_: Sequence[str], fields: Sequence[str], unit: str) -> str:
    """Say how columns of ``parts.csv`` are named for a unit."""
    names = ", ".join(f"{field}_{unit}" for field in fields)
    return f"name the column{'s' if len(fields) > 1 else ''} {names}"


def in_foreign_list(headings: Sequence[str], _: Sequence[str], unit: str) -> str:
    """Say how the columns of a list that is imported are named for a unit."""
    plain = [re.sub(r"\s*[(\[].*", "", heading) for heading in headings]
    named = f"call the columns {', '.join(f'{heading} ({unit})' for heading in plain)}"
    return named if plain != list(headings) else f"give --units {unit}, or {named}"


def faults_of(
    table: Table[Part],
    *,
    profile: str,
    box: Enclosure | None,
    used: AbstractSet[str] = frozenset(),
    naming: Naming = in_job,
) -> Iterator[InputError]:
    """Yield the faults of parts that can't be. ``profile``, ``box``: as of ``doubt_of``.

    Only ``used`` parts are held against the enclosure: others of the shop's list are for larger ones.
    """
    groups: dict[tuple[Wrong, bool], list[Doubted]] = {}
    for row, part in table.rows:
        doubt = doubt_of(part, profile=profile, box=box if part.part in used else None)
        if doubt is not None:
            groups.setdefault((doubt.wrong, set(doubt.fields) <= set(BODY)), []).append(
                (row, part, doubt)
            )
    for found in groups.values():
        yield _fault(table, found, naming)


def rails_above(faults: Iterable[InputError]) -> list[InputError]:
    """Return faults, of many rails above their bodies but one: a whole column is in another unit."""
    kept = list(faults)
    above = [fault for fault in kept if ABOVE_THE_BODY in fault.problem]
    if len(above) < MANY:
        return kept
    first = above[0]
    rows = in_rows(fault.row for fault in above[1:] if fault.row is not None)
    one = replace(
        first,
        problem=f"{first.problem}. The same in {rows}",
        cure="If one of the two columns is in another unit, name it so (rail_center_in, height_in); "
        f"else: {first.cure}",
    )
    return [one, *(fault for fault in kept if fault not in above)]


def _fault(table: Table[Part], found: Sequence[Doubted], naming: Naming) -> InputError:
    """Return the one fault of all rows that share a cause, its reason that of the first."""
    row, part, doubt = found[0]
    fields = tuple(_order(table, found))
    typed = [_typed(table, row, part, name) for name in fields]
    size = " × ".join(f"{getattr(part, name):g}" for name in BODY)
    if set(fields) <= set(BODY):
        problem = f"part {part.part} can't be {size} mm: {doubt.why}"
    else:
        problem = f"part {part.part}, {size} mm: {doubt.why}"
    if len(found) > 1:
        problem += f". The same in {in_rows(other for other, _, _ in found[1:])}"
    return InputError(
        file=table.file,
        row=row,
        field=", ".join(heading for heading, _ in typed),
        value=" × ".join(cell for _, cell in typed),
        problem=problem,
        cure=_cure(table, found, typed, naming),
    )


def _order(table: Table[Part], found: Sequence[Doubted]) -> Iterator[str]:
    """Yield the fields in doubt in most rows, in the order of the columns; if too large, in inches."""
    row, part, first = found[0]
    counts = Counter(name for _, _, doubt in found for name in doubt.fields)
    doubted = {name for name, count in counts.items() if 2 * count >= len(found)}
    if first.wrong is Wrong.TOO_LARGE:
        counts.update(name for _, _, doubt in found for name in set(doubt.also) - set(doubt.fields))
        large = {name for name, count in counts.items() if 2 * count >= len(found)}
        in_inches = {name for name in large if _taken_by(table, row, part, name, MM_PER_INCH)}
        doubted = in_inches or doubted
    yield from (name for name in Part.__dataclass_fields__ if name in doubted)


def _typed(table: Table[Part], row: int, part: Part, field: str) -> tuple[str, str]:
    """Return heading and cell as they stand in the list."""
    value = getattr(part, field)
    plain = (column(Part, field).name, "" if value is None else f"{value:g}")
    return table.typed.get((row, field), plain)


def _cure(
    table: Table[Part],
    found: Sequence[Doubted],
    typed: Sequence[tuple[str, str]],
    naming: Naming,
) -> str:
    row, part, doubt = found[0]
    cell = typed[0][1]
    if doubt.wrong is Wrong.MASS:
        return f"If it is in grams, write {cell} g; else correct the mass or the size"
    small = doubt.wrong is Wrong.TOO_SMALL
    unit = "in" if small else "mm"
    wanted = 1.0 if small else MM_PER_INCH
    fields = [name for name in _order(table, found) if _taken_by(table, row, part, name, wanted)]
    else_correct = "Else correct the size" + ("" if set(fields) <= set(BODY) else "s")
    if not fields:
        return "Correct the size or its unit" + ("" if small else ", or the mass")
    headings = [_typed(table, row, part, name)[0] for name in fields]
    first = _typed(table, row, part, fields[0])[1]
    in_cell = f"{bare_number(first)} {unit}"
    named = naming(headings, fields, unit)
    if 2 * len(found) > len(table.rows):
        return (
            f"If these are {UNITS[unit]}, {named}, and so every other length in {UNITS[unit]}; or "
            f"write the unit in the cells: {in_cell}. {else_correct}"
        )
    return (
        f"If these are {UNITS[unit]}, write the unit in the cells: {in_cell}; or, if all rows are, "
        f"{named}. {else_correct}"
    )


def _taken_by(table: Table[Part], row: int, part: Part, field: str, factor: float) -> bool:
    """Tell whether the number in a cell was taken times this factor: in mm 1, in inches 25.4."""
    number = bare_number(_typed(table, row, part, field)[1])
    try:
        read = float(number)
    except ValueError:
        return False  # a fraction: it has its unit with it
    return math.isclose(getattr(part, field), read * factor, rel_tol=_SAME)


def bare_number(cell: str) -> str:
    """Return the number of a cell without its unit."""
    bare = cell.strip().rstrip("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ\"'″” ")
    return bare.replace(",", ".")


def in_rows(rows: Iterable[int]) -> str:
    """Return row numbers in few words: ``rows 3, 5 to 9``."""
    runs: list[list[int]] = []
    for row in rows:
        if runs and row == runs[-1][-1] + 1:
            runs[-1].append(row)
        else:
            runs.append([row])
    words = [f"{run[0]} to {run[-1]}" if len(run) > 2 else ", ".join(map(str, run)) for run in runs]
    return f"row{'s' if sum(map(len, runs)) > 1 else ''} {', '.join(words)}"
