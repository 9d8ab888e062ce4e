"""The shop's list of enclosures -> records, or every fault of the list."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from platewright.foundation.errors import InputError, InputErrors
from platewright.foundation.units import Mm
from platewright.jobfile.columns import column
from platewright.jobfile.impossible_plate import SHALLOW, is_larger_than_roads
from platewright.jobfile.impossible_told import UNITS, in_rows
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
    faults = [*table.faults, *(_in_another_unit(table) or _faults(table))]
    if not faults and not table.rows:
        cure = "Write a row for each enclosure the shop can get"
        faults.append(InputError(file=path.name, problem="names no enclosure", cure=cure))
    if faults:
        raise InputErrors(sorted(faults, key=lambda fault: fault.row or 0))
    return table.records


def _in_another_unit(table: Table[EnclosureStock]) -> list[InputError]:
    """Return one fault for all rows that can't be as they are read; the others wait for it."""
    small = [(row, one) for row, one in table.rows if min(one.depth, one.door_inside) < SHALLOW]
    large = [(row, one) for row, one in table.rows if is_larger_than_roads(
        one.width, one.height, one.depth)]  # fmt: skip
    faults = []
    for found, unit in ((small, "in"), (large, "mm")):
        if not found:
            continue
        row, one = found[0]
        fields = ("depth", "door_inside") if unit == "in" else ("width", "height", "depth")
        typed = [_typed(table, row, one, name) for name in fields]
        deep = f"no rail with a device stands in a depth of {min(one.depth, one.door_inside):g} mm"
        why = f"can't be: {deep if unit == 'in' else 'nothing so large goes by road'}"
        others = [other for other, _ in found[1:]]
        why += f". The same in {in_rows(others)}" if others else ""
        faults.append(InputError(
            file=table.file, row=row,
            field=", ".join(heading for heading, _ in typed),
            value=", ".join(cell for _, cell in typed),
            problem=why,
            cure=f"If the list is in {UNITS[unit]}, name its columns width_{unit}, height_{unit} and "
            "so on; else correct the sizes",
        ))  # fmt: skip
    return faults


def _typed(
    table: Table[EnclosureStock], row: int, one: EnclosureStock, field: str
) -> tuple[str, str]:
    plain = (column(EnclosureStock, field).name, f"{getattr(one, field):g}")
    return table.typed.get((row, field), plain)


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
