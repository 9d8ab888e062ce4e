"""The shop's list of enclosures -> records, or every fault of the list."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from platewright.foundation.errors import InputError, InputErrors
from platewright.foundation.units import Mm
from platewright.jobfile.columns import column
from platewright.jobfile.settings_faults import MATERIALS
from platewright.jobfile.tables_csv import Table, read_table
from platewright.model.enclosure_stock import EnclosureStock


def read_enclosures(path: Path) -> tuple[EnclosureStock, ...]:
    """Return the enclosures of a list, in its order.

    Raises ``InputErrors`` with every fault of the list.
    """
    if not path.is_file():
        cure = "Name the shop's list of enclosures, a CSV file"
        raise InputErrors([InputError(file=str(path), problem="is no file", cure=cure)])
    table = read_table(EnclosureStock, path.read_bytes(), file=path.name)
    faults = [*table.faults, *_faults(table)]
    if not faults and not table.rows:
        cure = "Write a row for each enclosure the shop can get"
        faults.append(InputError(file=path.name, problem="names no enclosure", cure=cure))
    if faults:
        raise InputErrors(sorted(faults, key=lambda fault: fault.row or 0))
    return table.records


def _faults(table: Table[EnclosureStock]) -> Iterator[InputError]:
    """Yield what can't be true together in rows whose values are sound one by one."""
    for row, one in table.rows:
        for field, inner, outer, what in (
            ("plate_width", one.plate_width, one.width, "the enclosure's width"),
            ("plate_height", one.plate_height, one.height, "the enclosure's height"),
            ("door_inside", one.door_inside, one.depth, "its depth"),
        ):
            if inner > outer:
                yield _fault(table.file, row, field, inner, f"is more than {what} of {outer:g} mm")
        shorter = min(one.plate_width, one.plate_height)
        if one.fixing_inset is not None and one.fixing_inset >= shorter / 2:
            yield _fault(
                table.file, row, "fixing_inset", one.fixing_inset, "reaches past the plate's middle"
            )
        if one.plate_material and one.plate_material not in MATERIALS:
            yield InputError(
                file=table.file, row=row, field="plate_material", value=one.plate_material,
                problem="must be one of " + ", ".join(MATERIALS), cure="Write one of these words",
            )  # fmt: skip


def _fault(file: str, row: int, field: str, value: Mm, problem: str) -> InputError:
    return InputError(
        file=file, row=row, field=column(EnclosureStock, field).name, value=f"{value:g}",
        problem=problem, cure="Correct the smaller or the larger of the two",
    )  # fmt: skip
