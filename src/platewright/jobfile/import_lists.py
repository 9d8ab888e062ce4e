"""A new job folder from lists with other headings: ``platewright new``."""

from __future__ import annotations

import csv
import shutil
import tempfile
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from importlib import resources
from pathlib import Path
from typing import Final, TypeVar

from platewright.foundation.errors import InputError, InputErrors
from platewright.foundation.tag_order import listed, tag_order
from platewright.foundation.units import Mm
from platewright.jobfile import atomic, cross_references, impossible_told
from platewright.jobfile.folder import DEVICES, PARTS, WIRES, starter_parts
from platewright.jobfile.foreign_list import ForeignList, not_understood, read_list, refused
from platewright.jobfile.import_parts import (
    ASSUMED_MOUNT,
    ASSUMED_RAIL,
    ASSUMED_SCREWS,
    DevicesFound,
    lengths_without_unit,
    missing_sizes,
    read_devices,
)
from platewright.jobfile.import_wires import WiresFound, read_wires, with_terminals
from platewright.jobfile.impossible_parts import lower_than_its_rail
from platewright.jobfile.impossible_told import in_rows
from platewright.jobfile.settings_faults import FILE
from platewright.jobfile.settings_write import settings_text
from platewright.jobfile.tables_csv import Table, Typed
from platewright.jobfile.tables_write import table_bytes
from platewright.model.device import Device, Place
from platewright.model.job import (
    ColumnMap,
    DisplayUnit,
    DuctStock,
    Enclosure,
    Group,
    JobSettings,
    Plate,
    Practice,
    RailStock,
    Stock,
    Title,
)
from platewright.model.part import Mount, Part
from platewright.model.wire import Wire

Record = TypeVar("Record", Part, Device, Wire)

_UNKNOWN: Final = 1.0  # stands in for a size that is to be filled in; never written


@dataclass(frozen=True, slots=True, kw_only=True)
class NewJob:
    """What the user says about a new job; sizes left out are marked as to be filled in."""

    title: str = ""
    practice: Practice = Practice.IEC
    units: DisplayUnit = DisplayUnit.MM
    enclosure: tuple[Mm, Mm, Mm] | None = None  # width, height, depth
    door_inside: Mm | None = None
    plate: tuple[Mm, Mm, Mm] | None = None  # width, height, thickness
    lengths_in: DisplayUnit = DisplayUnit.MM  # of lists whose headings name no unit
    columns: ColumnMap = field(default_factory=ColumnMap)  # kept from an earlier job


@dataclass(frozen=True, slots=True, kw_only=True)
class ImportReport:
    """What became of the lists."""

    folder: Path
    devices: int
    parts: int
    wires: int
    columns: ColumnMap  # which heading was taken for which column
    unused: tuple[str, ...] = ()  # headings that nothing was taken from
    skipped: tuple[InputError, ...] = ()  # why rows could not be used, each cause once
    rows_left_out: int = 0
    notes: tuple[str, ...] = ()  # what was assumed
    to_fill: tuple[str, ...] = ()  # keys of job.toml the user must fill in


def import_lists(
    folder: Path, *, devices: Path, wires: Path | None = None, job: NewJob | None = None
) -> ImportReport:
    """Make a job folder from a device list and a wire list; all of it, or nothing.

    Raises ``InputErrors`` when the folder holds a job already or a list can't be used at all.
    """
    said = job or NewJob()
    _refuse_old_job(folder)
    device_list = read_list(devices, "devices", said.columns.devices)
    if "tag" not in device_list.columns:
        raise refused(
            device_list.file,
            "has no column that is understood as the designation (tag); its headings are "
            + ", ".join((*device_list.columns.values(), *device_list.unused)),
            'Call that column Tag, or put tag = "YOUR HEADING" under [columns.devices] in a '
            "job.toml and give that job with --like",
        )
    wire_list = read_list(wires, "wires", said.columns.wires) if wires else None
    if wire_list:
        _refuse_without_ends(wire_list)
        _refuse_without_names(wire_list)
    found = read_devices(device_list, starter_parts(), said.lengths_in)
    _refuse_impossible(device_list, found, said)
    made = _settle(device_list, wire_list, found, said)
    told = by_cause(made.skipped)
    if not made.devices:
        if headings := missing_sizes(device_list):
            raise InputErrors(headings)
        raise refused(
            device_list.file,
            "holds no row that can be used: " + "; ".join(map(str, told[:3])),
            "Correct the rows, then import again",
        )
    if wire_list and wire_list.rows and not made.wires:
        wires_told = [fault for fault in told if fault.file == wire_list.file]
        raise refused(
            wire_list.file,
            "holds no row that can be used: " + "; ".join(map(str, wires_told[:3])),
            "Correct the rows, then import again; or leave --wires out",
        )
    settings, to_fill = _settings(folder, said, made, device_list, wire_list)
    _write(folder, _files(settings, to_fill, made))
    return ImportReport(
        folder=folder,
        devices=len(made.devices),
        parts=len(made.parts),
        wires=len(made.wires),
        columns=settings.columns,
        unused=device_list.unused + (wire_list.unused if wire_list else ()),
        skipped=told,
        rows_left_out=made.rows_left_out,
        notes=tuple(_notes(made, device_list, said)),
        to_fill=tuple(sorted(_as_asked(key, said.units) for key in to_fill)),
    )


def _refuse_without_ends(found: ForeignList) -> None:
    """Refuse a wire list of which no column is understood as one of a wire's two ends."""
    for column, words, heading in (
        ("start", "where a wire starts (from)", "From"), ("end", "where it ends (to)", "To"),
    ):  # fmt: skip
        if column not in found.columns and f"{column}_device" not in found.columns:
            raise refused(
                found.file,
                f"has no column that is understood as {words}; its headings are "
                + ", ".join((*found.columns.values(), *found.unused)),
                f'Call that column {heading}, or put {heading.lower()} = "YOUR HEADING" under '
                "[columns.wires] in a job.toml and give that job with --like",
            )


def _refuse_without_names(found: ForeignList) -> None:
    """Refuse a wire list of which no column is understood as what every wire must have."""
    faults = [
        not_understood(found, "wires", column, words)
        for column, words in (("number", "a wire's number"), ("size", "a wire's size"))
        if column not in found.columns
    ]
    if faults:
        raise InputErrors(faults)


def by_cause(faults: Iterable[InputError]) -> tuple[InputError, ...]:
    """Return faults that are alike but for the row and value as one that names all their rows."""
    alike: dict[tuple[str, str | None, str, str], list[InputError]] = {}
    for fault in faults:
        alike.setdefault((fault.file, fault.field, fault.problem, fault.cure), []).append(fault)
    return tuple(_as_one(group) for group in alike.values())


def _as_one(group: Sequence[InputError]) -> InputError:
    first, others = group[0], [fault for fault in group[1:] if fault.row is not None]
    if not others:
        return first
    if all(fault.value == first.value for fault in others):
        rows = in_rows([fault.row for fault in others if fault.row is not None])
    else:
        rows = listed([f"row {fault.row} ({fault.value!r})" for fault in others])
    return replace(first, problem=f"{first.problem}. The same in {rows}")


def _refuse_impossible(device_list: ForeignList, found: DevicesFound, said: NewJob) -> None:
    """Refuse a list whose lengths are most likely in another unit: all of it would be wrong.

    A part of which the list does not say how it is held is taken off the rail where it can't be on
    one, unless most such parts can't: then it is the lengths that are wrong.
    """
    assumed = {n: (r, p) for n, (r, p) in found.parts.items() if ASSUMED_MOUNT in p.source}
    off = {
        n: (r, p) for n, (r, p) in assumed.items() if lower_than_its_rail(p, RailStock().profile)
    }
    if 2 * len(off) <= len(assumed):
        found.parts.update({n: (row, _off_the_rail(part)) for n, (row, part) in off.items()})
    table = replace(
        _table(device_list.file, found.parts.values(), "part"), typed=_typed(device_list)
    )
    faults = list(
        impossible_told.faults_of(
            table,
            profile=RailStock().profile,
            box=_box(said) if said.enclosure else None,
            used=set(found.parts),
            naming=impossible_told.in_foreign_list,
        )
    )
    if faults:
        raise InputErrors(faults)


def _off_the_rail(part: Part) -> Part:
    source = part.source.replace(ASSUMED_MOUNT, ASSUMED_SCREWS).replace(f"; {ASSUMED_RAIL}", "")
    return replace(part, mount=Mount.SCREWS, rail_center=None, source=source)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Made:
    """The records of the new job, after all rows that don't fit together were left out."""

    devices: Sequence[Device]
    parts: Sequence[Part]
    wires: Sequence[Wire]
    skipped: Sequence[InputError]
    rows_left_out: int
    renumbered: Sequence[str]


def _settle(
    device_list: ForeignList, wire_list: ForeignList | None, found: DevicesFound, said: NewJob
) -> _Made:
    """Leave out rows until what is left has no fault between the lists."""
    starter = Table(file="starter", rows=tuple((0, part) for part in starter_parts().values()))
    starter = replace(starter, keys=frozenset(part.part for part in starter.records))
    device_rows = list(found.devices)
    skipped = list(found.skipped)
    left_out = dict(found.left_out)
    while True:
        parts = _table(device_list.file, found.parts.values(), "part")
        parts = replace(parts, typed=_typed(device_list))
        devices = _table(device_list.file, device_rows, "tag")
        faults = _faults([parts, starter], devices, Table(file=""))
        if not faults:
            break
        bad = {fault.row for fault in faults}
        bad_parts = {part.part for row, part in found.parts.values() if row in bad}
        lost = [one for one in device_rows if one[0] in bad or one[1].part in bad_parts]
        for row, each in lost:
            left_out[row] = (*left_out.get(row, ()), each.tag)
        device_rows = [one for one in device_rows if one not in lost]
        found.parts = {name: each for name, each in found.parts.items() if name not in bad_parts}
        skipped += _in_their_words(faults, device_list)
    by_tag = {device.tag: device for _, device in device_rows}
    wires, wire_rows_out = WiresFound(), set[int]()
    made_parts = dict(found.parts)
    if wire_list:
        tags_out = {tag for tags in left_out.values() for tag in tags} - by_tag.keys()
        wires = read_wires(wire_list, by_tag, said.practice, said.lengths_in, tags_out)
        skipped += [*wires.skipped, *_waiting(wire_list, device_list, wires, left_out)]
        made_parts = with_terminals(found.parts, by_tag, wires.wires)
        wire_rows, more = _fitting(
            wire_list, wires, [_table("", made_parts.values(), "part"), starter], devices
        )
        skipped += more
        wires.wires = wire_rows
        wire_rows_out = {row for row, _ in wire_list.rows} - {row for row, _ in wire_rows}
    used = {device.part for device in by_tag.values()}
    return _Made(
        devices=list(by_tag.values()),
        parts=[part for _, part in made_parts.values() if part.part in used],
        wires=[wire for _, wire in wires.wires],
        skipped=skipped,
        rows_left_out=len(left_out) + len(wire_rows_out),
        renumbered=wires.renumbered,
    )


def _waiting(
    wire_list: ForeignList,
    device_list: ForeignList,
    wires: WiresFound,
    left_out: Mapping[int, tuple[str, ...]],
) -> Iterator[InputError]:
    """Yield one fault for all wires that end at devices whose own rows were left out."""
    if not wires.waiting:
        return
    row_of = {tag: row for row, tags in left_out.items() for tag in tags}
    tags = sorted({tag for tags in wires.waiting.values() for tag in tags}, key=tag_order)
    devices = listed([f"{tag} (row {row_of[tag]})" for tag in tags])
    rows = in_rows(list(wires.waiting))
    yield InputError(
        file=wire_list.file,
        problem=f"left out with the devices they end at: {rows}. Left out of {device_list.file}: "
        f"{devices}",
        cure="Correct the rows of these devices, then import again",
    )


def _fitting(
    wire_list: ForeignList,
    found: WiresFound,
    parts: list[Table[Part]],
    devices: Table[Device],
) -> tuple[list[tuple[int, Wire]], list[InputError]]:
    """Return the wires whose ends fit the devices, and the faults of the others."""
    rows, skipped = list(found.wires), list[InputError]()
    while True:
        faults = _faults(parts, devices, _table(wire_list.file, rows, "number"))
        if not faults:
            return rows, skipped
        bad = {fault.row for fault in faults}
        rows = [(row, wire) for row, wire in rows if row not in bad]
        skipped += _in_their_words(faults, wire_list)


def _faults(
    parts: list[Table[Part]], devices: Table[Device], wires: Table[Wire]
) -> list[InputError]:
    return cross_references.faults_of(settings=None, parts=parts, devices=devices, wires=wires)


def _table(file: str, rows: Iterable[tuple[int, Record]], key: str) -> Table[Record]:
    found = tuple(rows)
    return Table(file=file, rows=found, keys=frozenset(getattr(each, key) for _, each in found))


def _typed(found: ForeignList) -> Typed:
    """Return the cells of a list by row and column, each with its heading."""
    return {
        (row, column): (found.columns[column], cell)
        for row, cells in found.rows
        for column, cell in cells.items()
        if cell and column in found.columns
    }


def _in_their_words(faults: Iterable[InputError], found: ForeignList) -> list[InputError]:
    """Return faults that name the list's own headings."""
    names = {"from": "start", "to": "end"}

    def heading(name: str | None) -> str | None:
        plain = (name or "").removesuffix("_mm")
        column = names.get(plain, plain)
        return found.columns.get(column) or found.columns.get(f"{column}_device", name)

    return [replace(fault, file=found.file, field=heading(fault.field)) for fault in faults]


def _settings(
    folder: Path,
    said: NewJob,
    made: _Made,
    device_list: ForeignList,
    wire_list: ForeignList | None,
) -> tuple[JobSettings, frozenset[str]]:
    """Return the settings and the keys that are to be filled in."""
    plate_width, plate_height, thickness = said.plate or (_UNKNOWN, _UNKNOWN, _UNKNOWN)
    to_fill = {f"enclosure.{key}_mm" for key in ("width", "height", "depth") if not said.enclosure}
    to_fill |= {f"plate.{key}_mm" for key in ("width", "height", "thickness") if not said.plate}
    to_fill |= set() if said.door_inside else {"enclosure.door_inside_mm"}
    names = [name for device in made.devices for name in device.group]
    names += [wire.group for wire in made.wires if wire.group]
    settings = JobSettings(
        job=Title(title=said.title or folder.name),
        units=said.units,
        practice=said.practice,
        enclosure=_box(said),
        plate=Plate(width=plate_width, height=plate_height, thickness=thickness),
        groups=tuple(Group(name=name) for name in dict.fromkeys(names)),
        stock=Stock(ducts=_starter_ducts(said.units)),
        columns=ColumnMap(
            devices=dict(device_list.columns), wires=dict(wire_list.columns) if wire_list else {}
        ),
    )
    return settings, frozenset(to_fill)


def _as_asked(key: str, unit: DisplayUnit) -> str:
    """Return a key to fill in as the new file asks for it."""
    return f"{key.removesuffix('_mm')}_in" if unit is DisplayUnit.INCH else key


def _box(said: NewJob) -> Enclosure:
    width, height, depth = said.enclosure or (_UNKNOWN, _UNKNOWN, _UNKNOWN)
    return Enclosure(
        width=width, height=height, depth=depth, door_inside=said.door_inside or _UNKNOWN
    )


def _starter_ducts(unit: DisplayUnit) -> tuple[DuctStock, ...]:
    """Return the duct sizes a new job starts with: usual ones, to be changed to the shop's own."""
    text = (resources.files(__package__) / "starter_ducts.csv").read_text(encoding="utf-8")
    return tuple(
        DuctStock(name=row["name"], width=float(row["width_mm"]), height=float(row["height_mm"]))
        for row in csv.DictReader(text.splitlines())
        if row["units"] == unit.value
    )


def _files(settings: JobSettings, to_fill: frozenset[str], made: _Made) -> Mapping[str, bytes]:
    files = {
        FILE: settings_text(settings, unfilled=to_fill).encode(),
        DEVICES: table_bytes(Device, made.devices),
        WIRES: table_bytes(Wire, made.wires),
    }
    if made.parts:
        files[PARTS] = table_bytes(Part, made.parts)
    return files


def _notes(made: _Made, device_list: ForeignList, said: NewJob) -> Iterable[str]:
    """Yield what was assumed, for the user to check."""
    bare = lengths_without_unit(device_list)
    if bare:
        yield f"{', '.join(bare)}: no unit in the heading, read as {said.lengths_in}"
    assumed: dict[str, list[str]] = {}
    for part in made.parts:
        for words in part.source.split("; ")[1:]:
            assumed.setdefault(words, []).append(part.part)
    for words, parts in assumed.items():
        yield f"{words}: {', '.join(parts)} (check in parts.csv)"
    is_open = [d.tag for d in made.devices if d.place is Place.DOOR and d.door_x is None]
    if is_open:
        yield (
            f"place in the door still open: {', '.join(is_open)} (state door_x_mm and door_y_mm in "
            "devices.csv once it is known)"
        )
    groups = dict.fromkeys(name for device in made.devices for name in device.group)
    if groups:
        yield (
            f"voltage groups taken from the list: {', '.join(groups)} (put them in job.toml in the "
            "order from supply to load)"
        )
    if made.renumbered:
        yield (
            "wire numbers that stood on several wires got .2, .3 … behind them: "
            + ", ".join(made.renumbered)
        )


def _refuse_old_job(folder: Path) -> None:
    if folder.exists() and not folder.is_dir():
        raise refused(folder.name, "is a file, not a folder", "Name another folder")
    for name in (FILE, PARTS, DEVICES, WIRES):
        if (folder / name).exists():
            raise refused(
                name, f"is in {folder.name} already, so nothing was written", "Name a new folder"
            )


def _write(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write all files or none: they are made beside the folder, then moved in."""
    folder.parent.mkdir(parents=True, exist_ok=True)
    made_folder = not folder.exists()
    temporary = Path(tempfile.mkdtemp(prefix=f".{folder.name}.", dir=folder.parent))
    moved: list[Path] = []
    try:
        for name, content in files.items():
            atomic.save(temporary / name, content)
        folder.mkdir(exist_ok=True)
        for name in files:
            (temporary / name).replace(folder / name)
            moved.append(folder / name)
        atomic.flush_folder(folder)
    except BaseException:
        for path in moved:
            path.unlink(missing_ok=True)
        if made_folder and folder.exists():
            folder.rmdir()
        raise
    finally:
        shutil.rmtree(temporary, ignore_errors=True)
