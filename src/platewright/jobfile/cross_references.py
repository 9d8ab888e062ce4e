"""Faults between the lists: names that nothing bears, wishes that can't be met, full terminals.

Rows that have faults of their own are not judged here a second time; their names still count
as known.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from typing import Final

from platewright.foundation.errors import InputError, nearest, or_else
from platewright.jobfile.columns import column
from platewright.jobfile.impossible_parts import too_small_of
from platewright.jobfile.tables_csv import Table
from platewright.model.device import Device, Place
from platewright.model.job import JobSettings
from platewright.model.part import Mount, Part
from platewright.model.wire import End, Wire
from platewright.tables.threads import thread, thread_names

LINKS: Final = ("plugs_into", "hangs_under", "beside", "same_row", "before", "not_beside")
ORDERED: Final = ("plugs_into", "hangs_under", "before")  # may not run in a ring
HELD: Final = ("plugs_into", "hangs_under")  # one place only: one device can take it
PARTS: Final = "parts.csv"
ABOVE_THE_BODY: Final = "lies above the body"
FEW: Final = 3  # from so many unknown parts on, the missing list is what is wrong
WIRES_A_TERMINAL: Final = 1
WIRES_A_SHARED_TERMINAL: Final = 2


def faults_of(
    *,
    settings: JobSettings | None,
    parts: Sequence[Table[Part]],
    devices: Table[Device],
    wires: Table[Wire],
) -> list[InputError]:
    """Return every fault between the lists. ``parts``: the nearest list first."""
    known: dict[str, Part] = {}
    for table in parts:
        for part in table.records:
            known.setdefault(part.part, part)
    names = None  # a list that could not be read may hold any name
    if all(table.has_keys for table in parts):
        names = frozenset[str]().union(*(table.keys for table in parts))
    groups = None if settings is None else {group.name for group in settings.groups}
    profile = "" if settings is None else settings.stock.rail.profile
    no_list = _no_parts_list(parts, devices, names)
    summed = [*_lost_parts(parts, devices, names), *_lost_devices(devices, wires)]
    if no_list or any(table.cut_off for table in parts):
        names = None  # told once, not again for every device
    return [
        *no_list,
        *summed,
        *(fault for table in parts for fault in part_faults(table, profile)),
        *_device_faults(devices, names, groups),
        *(_link_faults(devices) if devices.has_keys else ()),
        *_rings(devices),
        *(_wire_faults(wires, devices, known, groups) if devices.keys else ()),
        *_full_terminals(wires, devices, known),
    ]


def _no_parts_list(
    parts: Sequence[Table[Part]], devices: Table[Device], names: AbstractSet[str] | None
) -> list[InputError]:
    """Return the one fault that explains many unknown parts: the job has no list of its own."""
    if names is None or any(table.file == PARTS for table in parts):
        return []
    strangers = [device for device in devices.records if device.part not in names]
    if len(strangers) < FEW:
        return []
    first = strangers[0]
    problem = (
        f"is not in the job folder, and {len(strangers)} devices of {devices.file} name parts "
        f"that no other list holds, first {first.tag}: {first.part}"
    )
    cure = "Put the job's parts list there, or name starter parts (platewright parts lists them)"
    return [InputError(file=PARTS, problem=problem, cure=cure)]


def _lost_parts(
    parts: Sequence[Table[Part]], devices: Table[Device], names: AbstractSet[str] | None
) -> Iterator[InputError]:
    """Yield one fault for all devices whose parts may stand in the lost rest of a list."""
    broken = next((table for table in parts if table.cut_off), None)
    lost = [one for one in devices.records if names is not None and one.part not in names]
    if broken is None or not lost:
        return
    yield InputError(
        file=devices.file,
        problem=f"{len(lost)} devices name parts that no list holds, first {lost[0].tag}: {lost[0].part}",
        cure=_CUT_OFF.format(broken.file, broken.cut_off),
    )


def _lost_devices(devices: Table[Device], wires: Table[Wire]) -> Iterator[InputError]:
    """Yield one fault for all wires that may end at devices in the lost rest of their list."""
    lost = [w for w in wires.records if not {w.start.device, w.end.device} <= devices.keys]
    if devices.cut_off is None or not lost:
        return
    first = lost[0]
    yield InputError(
        file=wires.file,
        problem=f"{len(lost)} wires end at devices that are not in the list, first {first.number}: "
        f"{first.start} to {first.end}",
        cure=_CUT_OFF.format(devices.file, devices.cut_off),
    )


_CUT_OFF: Final = "Complete {} first: it is cut off in row {}"


def part_faults(table: Table[Part], profile: str = "") -> Iterator[InputError]:
    """Yield what is wrong inside single parts whose values are sound one by one.

    ``profile``: the job's rail. A body that can't be so small is told elsewhere, and not again
    because its rail lies above it.
    """
    for row, part in table.rows:
        if part.mount is Mount.RAIL and part.rail_center is None:
            yield _Row(table, row, Part).fault("rail_center", None, "is missing for a part with mount rail",
                "Write the height of the rail's centre above the body's lower edge",
            )  # fmt: skip
        is_above = part.rail_center is not None and part.rail_center > part.height
        if is_above and "height" not in too_small_of(part, profile):
            yield _Row(table, row, Part).fault("rail_center", f"{part.rail_center:g}",
                f"{ABOVE_THE_BODY}: {_height(table, row, part)}",
                "Measure from the body's lower edge to the rail's centre",
            )  # fmt: skip
        if part.is_slotted and part.slot_length is None:
            yield _Row(table, row, Part).fault("slot_length", None, f"is missing for hole_form {part.hole_form}",
                "Write the length of the slot",
            )  # fmt: skip
        if part.screw and thread(part.screw) is None:
            yield _Row(table, row, Part).fault("screw", part.screw, "is no thread that the tables have",
                nearest(part.screw, thread_names()),
            )  # fmt: skip
        strangers = [name for name in part.shared_terminals if name not in part.terminals]
        if strangers:
            yield _Row(table, row, Part).fault("shared_terminals", " ".join(strangers),
                "is no terminal of the part", nearest(strangers[0], part.terminals),
            )  # fmt: skip


def _height(table: Table[Part], row: int, part: Part) -> str:
    heading, cell = table.typed.get((row, "height"), ("height_mm", f"{part.height:g}"))
    return f"{heading} = {cell}"


def _device_faults(
    devices: Table[Device], parts: AbstractSet[str] | None, groups: AbstractSet[str] | None
) -> Iterator[InputError]:
    for row, device in devices.rows:
        if parts is not None and device.part not in parts:
            yield _Row(devices, row, Device).fault("part", device.part, "is no known part",
                or_else(nearest(device.part, parts), "Or add it to parts.csv"),
            )  # fmt: skip
        for group in device.group:
            if groups is not None and group not in groups:
                yield _Row(devices, row, Device).fault("group", group, *_no_group(group, groups))
        # both blank: its place is still open, which check tells; one alone is a slip
        blank = [name for name in ("door_x", "door_y") if getattr(device, name) is None]
        if device.place is Place.DOOR and len(blank) == 1:
            yield _Row(devices, row, Device).fault(blank[0], None,
                "is missing for a device in the door of which the other is given",
                "Write where its lower left corner is, in plate coordinates, or leave both blank "
                "while its place is open",
            )  # fmt: skip


def _link_faults(devices: Table[Device]) -> Iterator[InputError]:
    places = {device.tag: device.place for device in devices.records}
    held: dict[tuple[str, str], str] = {}
    for row, device in devices.rows:
        for field in LINKS:
            other: str | None = getattr(device, field)
            if other is None:
                continue
            told = None
            if other == device.tag:
                told = "is the device itself", "Name another device"
            elif other not in devices.keys and (devices.cut_off or not devices.is_clear):
                continue
            elif other not in devices.keys:
                told = "is no device", nearest(other, devices.keys - {device.tag})
            elif field in HELD and places.get(other, device.place) is not device.place:
                told = "is not in the same place (plate or door)", "Correct place or the name"
            elif field in HELD and (field, other) in held:
                taken = held[field, other]
                told = f"is taken: {taken} stands there already", f"Name {taken} to follow it"
            elif field == "not_beside" and other == device.beside:
                told = "is also wished beside it", "Keep one of the two wishes"
            if told:
                yield _Row(devices, row, Device).fault(field, other, *told)
            else:
                held[field, other] = device.tag


def _rings(devices: Table[Device]) -> Iterator[InputError]:
    """Yield a fault for each ring of devices that each wait for the next."""
    for field in ORDERED:
        following = {device.tag: getattr(device, field) for device in devices.records}
        rows = {device.tag: row for row, device in devices.rows}
        done: set[str] = set()
        for start in following:
            chain: list[str] = []
            tag: str | None = start
            while tag in following and tag not in done:
                done.add(tag)
                chain.append(tag)
                tag = following[tag]
            ring = chain[chain.index(tag) :] if tag in chain else []
            if len(ring) > 1:
                yield _Row(devices, rows[ring[0]], Device).fault(field, following[ring[0]],
                    "runs in a ring: " + ", ".join([*ring, ring[0]]), "Break the ring at one place",
                )  # fmt: skip


def _wire_faults(
    wires: Table[Wire],
    devices: Table[Device],
    parts: Mapping[str, Part],
    groups: AbstractSet[str] | None,
) -> Iterator[InputError]:
    by_tag = {device.tag: device for device in devices.records}
    for row, wire in wires.rows:
        for field in ("start", "end"):
            end: End = getattr(wire, field)
            told = _end_problem(end, devices, by_tag, parts)
            if told:
                yield _Row(wires, row, Wire).fault(field, str(end), *told)
        if wire.start == wire.end:
            yield _Row(wires, row, Wire).fault("end", str(wire.end), "is where the wire starts",
                "Name another terminal",
            )  # fmt: skip
        if wire.group and groups is not None and wire.group not in groups:
            yield _Row(wires, row, Wire).fault("group", wire.group, *_no_group(wire.group, groups))


def _end_problem(
    end: End, devices: Table[Device], by_tag: Mapping[str, Device], parts: Mapping[str, Part]
) -> tuple[str, str] | None:
    tags = devices.keys
    if end.device not in tags and (devices.cut_off or not devices.is_clear):
        return None  # a row is lost, or two bear one tag: one may be the device that seems missing
    if end.device not in tags:
        return f"{end.device} is no device", nearest(end.device, tags)
    device = by_tag.get(end.device)
    part = parts.get(device.part) if device else None
    if part is None or end.terminal in part.terminals:
        return None
    if not part.terminals:
        return f"part {part.part} has no terminals", "Name them in its terminals_top … columns"
    return f"{end.device} has no terminal {end.terminal}", nearest(end.terminal, part.terminals)


def _full_terminals(
    wires: Table[Wire], devices: Table[Device], parts: Mapping[str, Part]
) -> Iterator[InputError]:
    by_tag = {device.tag: device for device in devices.records}
    taken: defaultdict[End, list[str]] = defaultdict(list)
    for row, wire in wires.rows:
        for field in ("start", "end"):
            end: End = getattr(wire, field)
            device = by_tag.get(end.device)
            part = parts.get(device.part) if device else None
            if part is None or end.terminal not in part.terminals:
                continue
            room = room_of(part, end.terminal)
            if len(taken[end]) >= room:
                yield _Row(wires, row, Wire).fault(field, str(end),
                    f"is full: it takes {room} and holds {_named(taken[end])}",
                    _other_terminal(part, end.terminal),
                )  # fmt: skip
            taken[end].append(wire.number)


def _named(wires: list[str]) -> str:
    return f"wire{'s' if len(wires) > 1 else ''} {', '.join(wires)}"


def _other_terminal(part: Part, terminal: str) -> str:
    if terminal in part.shared_terminals:
        return "Use another terminal, or a bridge to one"
    return "Use another terminal, or name it in shared_terminals if its data allow two"


def room_of(part: Part, terminal: str) -> int:
    """Return how many wires a terminal takes; one named on two sides has a clamp on each."""
    clamps = Counter(part.terminals)[terminal]
    each = WIRES_A_SHARED_TERMINAL if terminal in part.shared_terminals else WIRES_A_TERMINAL
    return clamps * each


def _no_group(group: str, groups: Iterable[str]) -> tuple[str, str]:
    add = f'add {{name = "{group}"}} to groups in job.toml'
    return "is no voltage group of job.toml", or_else(nearest(group, groups), f"Or {add}")


@dataclass(frozen=True, slots=True)
class _Row:
    """A row in which something is wrong."""

    table: Table[Part] | Table[Device] | Table[Wire]
    row: int
    record: type

    def fault(self, field: str, value: str | None, problem: str, cure: str) -> InputError:
        """Return the fault of one field, a number as it stands in the file."""
        heading = column(self.record, field).name
        if value is not None:
            heading, value = self.table.typed.get((self.row, field), (heading, value))
        return InputError(
            file=self.table.file,
            row=self.row,
            field=heading,
            value=value,
            problem=problem,
            cure=cure,
        )
