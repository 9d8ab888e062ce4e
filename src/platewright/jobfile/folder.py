"""A job folder -> the job, every reference resolved; or every fault of every file in one go."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from importlib import resources
from pathlib import Path
from typing import Final, TypeVar

from platewright.foundation.errors import InputError, InputErrors
from platewright.jobfile import atomic, cross_references, impossible_plate, impossible_told
from platewright.jobfile.csv_style import NEW_FILE
from platewright.jobfile.offcuts import OFFCUTS, offcuts_table
from platewright.jobfile.settings import SettingsReading, read_bytes, settings_from
from platewright.jobfile.tables_csv import Table, read_table
from platewright.jobfile.tables_write import style_of, table_bytes
from platewright.model.device import Device
from platewright.model.job import Job, JobSettings, Practice
from platewright.model.offcut import Offcut
from platewright.model.part import Part
from platewright.model.part_row import PartRow
from platewright.model.wire import Wire

Record = TypeVar("Record")

SETTINGS: Final = "job.toml"
PARTS: Final = cross_references.PARTS
DEVICES: Final = "devices.csv"
WIRES: Final = "wires.csv"
STARTER: Final = "starter_parts.csv"


@dataclass(frozen=True, slots=True, kw_only=True)
class JobReading:
    """The job and what the user should be told about the reading of its files."""

    job: Job
    notes: tuple[str, ...] = ()


def read_job(folder: Path, *, instead: Mapping[str, bytes] | None = None) -> Job:
    """Return the job of a folder; ``instead``: contents that count in place of its files.

    Raises ``InputErrors`` with every fault of every file.
    """
    return read_job_with_notes(folder, instead=instead).job


def read_job_with_notes(folder: Path, *, instead: Mapping[str, bytes] | None = None) -> JobReading:
    """Return the job of a folder, and for instance that a list has decimal commas."""
    given = instead or {}
    reading = settings_from(given.get(SETTINGS) or read_bytes(folder))
    lists, faults = _part_lists(folder, reading.settings, given)
    devices = _table(Device, folder / DEVICES, DEVICES, given=given)
    wires = _table(Wire, folder / WIRES, WIRES, reading.practice, given=given)
    store = offcuts_table(folder, reading.settings, given=given)
    tables: tuple[Table[Part] | Table[Device] | Table[Wire] | Table[Offcut], ...] = (
        *lists,
        devices,
        wires,
        store,
    )
    faults = [
        *_impossible(reading, lists, devices),
        *faults,
        *(fault for table in tables for fault in table.faults),
    ]
    if not devices.faults and not devices.rows:
        cure = "Write a row for each device"
        faults.append(InputError(file=DEVICES, problem="names no device", cure=cure))
    faults += impossible_told.rails_above(
        cross_references.faults_of(
            settings=reading.settings, parts=lists, devices=devices, wires=wires
        )
    )
    if faults or reading.settings is None:
        raise InputErrors(sorted(faults, key=_place))
    job = Job(
        settings=reading.settings,
        parts=_parts_of_job(lists, devices),
        devices={device.tag: device for device in devices.records},
        wires=wires.records,
        offcuts=store.records,
        offcut_rows=tuple(row for row, _ in store.rows),
        part_rows=_part_rows(lists, devices),
    )
    return JobReading(job=job, notes=tuple(note for table in tables for note in table.notes))


def starter_parts() -> Mapping[str, Part]:
    """Return the generic parts that come with the program, every value typical."""
    table = _starter_table()
    if table.faults:
        raise InputErrors(table.faults)
    return {part.part: part for part in table.records}


def write_parts(folder: Path, parts: Iterable[Part]) -> None:
    """Save ``parts.csv``; how an existing file is written (divider, line ends) stays."""
    _write(Part, folder / PARTS, parts)


def write_devices(folder: Path, devices: Iterable[Device]) -> None:
    """Save ``devices.csv``; as ``write_parts``."""
    _write(Device, folder / DEVICES, devices)


def write_wires(folder: Path, wires: Iterable[Wire]) -> None:
    """Save ``wires.csv``; as ``write_parts``."""
    _write(Wire, folder / WIRES, wires)


def _write(record: type[Record], path: Path, records: Iterable[Record]) -> None:
    style = style_of(record, path.read_bytes()) if path.is_file() else NEW_FILE
    atomic.save(path, table_bytes(record, records, style))


def _part_lists(
    folder: Path, settings: JobSettings | None, given: Mapping[str, bytes]
) -> tuple[list[Table[Part]], list[InputError]]:
    """Return the part lists, the nearest to the job first, and what is wrong with their paths."""
    has_own = PARTS in given or (folder / PARTS).is_file()
    lists = [_table(Part, folder / PARTS, PARTS, given=given)] if has_own else []
    faults: list[InputError] = []
    if settings is not None and settings.shop_parts:
        path = folder / settings.shop_parts
        if path.is_file():
            lists.append(_table(Part, path, settings.shop_parts, given={}))
        else:
            lists.append(Table(file=settings.shop_parts, has_keys=False))
            faults.append(
                InputError(
                    file="job.toml",
                    field="shop_parts",
                    value=settings.shop_parts,
                    problem="is no file",
                    cure="Write the path of the shop's parts list, seen from the job folder",
                )
            )
    return [*lists, _starter_table()], faults


def _impossible(
    reading: SettingsReading, lists: list[Table[Part]], devices: Table[Device]
) -> list[InputError]:
    """Return the faults of ``job.toml``, and those of sizes that can't be, here and in the parts.

    What only follows from sizes that can't be is left out: one cause, one fault.
    """
    settings, faults = reading.settings, list(reading.faults)
    if settings is None:
        return faults + [
            f for t in lists for f in impossible_told.faults_of(t, profile="", box=None)
        ]
    known = {part.part: part for table in reversed(lists) for part in table.records}
    doubt = impossible_plate.doubt_of(settings, devices.records, known)
    if doubt is not None:
        faults = [fault for fault in faults if not impossible_plate.follows(fault, doubt)]
        faults.append(impossible_plate.fault_of(doubt, settings, reading.typed))
    box = None if doubt is not None and doubt.of_enclosure else settings.enclosure
    profile = settings.stock.rail.profile
    used = {device.part for device in devices.records}
    for table in lists:
        faults += impossible_told.faults_of(table, profile=profile, box=box, used=used)
    return faults


def _starter_table() -> Table[Part]:
    found = resources.files("platewright.tables") / "data" / STARTER
    return (
        read_table(Part, found.read_bytes(), file=STARTER)
        if found.is_file()
        else Table(file=STARTER)
    )


def _table(
    record: type[Record],
    path: Path,
    file: str,
    practice: Practice | None = None,
    *,
    given: Mapping[str, bytes],
) -> Table[Record]:
    """Return a list of the job; a missing one is empty, but a job without devices is none."""
    if file in given:
        return read_table(record, given[file], file=file, practice=practice)
    if path.is_file():
        return read_table(record, path.read_bytes(), file=file, practice=practice)
    if file != DEVICES:
        return Table(file=file)
    cure = "Write one with the headings tag and part, or import a list: platewright new"
    fault = InputError(file=file, problem="is missing", cure=cure)
    return Table(file=file, faults=(fault,), has_keys=False)


def _parts_of_job(lists: Iterable[Table[Part]], devices: Table[Device]) -> Mapping[str, Part]:
    """Return the parts of ``parts.csv`` and of the devices; the nearest list wins."""
    used = {device.part for device in devices.records}
    found: dict[str, Part] = {}
    for table in lists:
        for part in table.records:
            if part.part not in found and (part.part in used or table.file == PARTS):
                found[part.part] = part
    return found


def _part_rows(lists: Iterable[Table[Part]], devices: Table[Device]) -> Mapping[str, PartRow]:
    """Return where the part of each device was read; the nearest list wins.

    Starter parts have no row: nobody edits their list.
    """
    used = {device.part for device in devices.records}
    found: dict[str, PartRow] = {}
    known: set[str] = set()
    for table in lists:
        for row, part in table.rows:
            if part.part in used and part.part not in known:
                known.add(part.part)
                if table.file == STARTER:
                    continue
                cells = {
                    name: cell
                    for name in ("width", "height", "depth")
                    if (cell := table.typed.get((row, name)))
                }
                found[part.part] = PartRow(file=table.file, row=row, cells=cells)
    return found


def _place(fault: InputError) -> tuple[int, str, int]:
    order = (SETTINGS, PARTS, DEVICES, WIRES, OFFCUTS)
    rank = order.index(fault.file) if fault.file in order else len(order)
    return rank, fault.file, fault.row or 0
