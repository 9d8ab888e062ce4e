"""Rows of a foreign wire list -> wires, and the terminals that made parts get from them."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Mapping
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, field, replace
from typing import Final

from platewright.foundation.errors import InputError, nearest
from platewright.foundation.tag_order import tag_order
from platewright.jobfile.columns import Kind, columns_of
from platewright.jobfile.foreign_list import ForeignList
from platewright.jobfile.import_parts import group_names, single_groups, unit_of
from platewright.jobfile.quantities import Unreadable, read_number
from platewright.jobfile.records import build
from platewright.jobfile.wire_sizes import read_wire_size
from platewright.model.device import Device
from platewright.model.job import DisplayUnit, Practice
from platewright.model.part import Part
from platewright.model.wire import End, Wire

ASSUMED_SIDES: Final = "terminal sides assumed: odd numbers top, even bottom"
ASSUMED_SHARED: Final = "two wires in a terminal assumed to be allowed"
_WORDS: Final = {
    "awg": "awg",
    "gauge": "awg",
    "sqmm": "mm2",
    "sq mm": "mm2",
    "mm2": "mm2",
    "mm²": "mm2",
}
_TERMINAL_BREAK: Final = re.compile(r"[:/.\s-]")


@dataclass(slots=True)
class WiresFound:
    """What was made of a wire list."""

    wires: list[tuple[int, Wire]] = field(default_factory=list)
    skipped: list[InputError] = field(default_factory=list)
    renumbered: list[str] = field(default_factory=list)
    waiting: dict[int, tuple[str, ...]] = field(default_factory=dict)  # row -> devices left out


def read_wires(
    found: ForeignList,
    devices: Mapping[str, Device],
    practice: Practice,
    lengths_in: DisplayUnit,
    left_out: AbstractSet[str] = frozenset(),
) -> WiresFound:
    """Return the wires; each row that can't be used is told.

    A wire that ends at a device whose row was left out (``left_out``) waits for that row.
    A number that stands on several wires (a potential) gets ``.2``, ``.3`` … behind it.
    """
    made = WiresFound()
    headings = {each.column: each for each in found.headings}
    listed = {cells.get("number", "") for _, cells in found.rows}
    single = single_groups(found) | {name for each in devices.values() for name in each.group}
    used: set[str] = set()
    tags = {*devices, *left_out}
    for row, cells in found.rows:
        faults: list[InputError] = []
        raw: dict[str, object] = {}
        for name in ("number", "start", "end", "size", *_others()):
            try:
                value = _value(name, cells, found, tags, practice, lengths_in)
                if name == "group" and value is not None:
                    value = " ".join(group_names(str(value), single)[:1])
                if value is not None:
                    raw[name] = value
            except Unreadable as unreadable:
                heading = headings.get(name) or headings.get(f"{name}_device")
                faults.append(
                    InputError(
                        file=found.file,
                        row=row,
                        field=heading.text if heading else name,
                        value=cells.get(heading.column) or None if heading else None,
                        problem=unreadable.problem,
                        cure=unreadable.cure,
                    )
                )
        ends = (raw.get("start"), raw.get("end"))
        waits = {end.device for end in ends if isinstance(end, End)} & left_out
        if waits:
            made.waiting[row] = tuple(sorted(waits, key=tag_order))
        wire = None
        if not faults and not waits:
            raw["number"] = _free_number(str(raw["number"]), used, listed)
            used.add(str(raw["number"]))
            if raw["number"] != cells["number"]:
                made.renumbered.append(str(raw["number"]))
            wire, troubles = build(Wire, raw)
            faults = [
                InputError(
                    file=found.file, row=row,
                    field=found.columns.get(str(each.place[0]), str(each.place[0])),
                    value=cells.get(str(each.place[0])) or each.value,
                    problem=each.problem, cure=each.cure,
                )
                for each in troubles
            ]  # fmt: skip
        if wire is not None:
            made.wires.append((row, wire))
        made.skipped += faults
    return made


def _free_number(number: str, used: AbstractSet[str], listed: AbstractSet[str]) -> str:
    """Return the number, or with ``.2``, ``.3`` … behind it when it is taken."""
    if number not in used:
        return number
    count = 2
    while (name := f"{number}.{count}") in used or name in listed:
        count += 1
    return name


def with_terminals(
    parts: Mapping[str, tuple[int, Part]],
    devices: Mapping[str, Device],
    wires: list[tuple[int, Wire]],
) -> dict[str, tuple[int, Part]]:
    """Return the made parts with the terminals that the wires name on them.

    Only for parts whose list named none. Sides after the usual order of terminals (supply side
    odd, load side even): an assumption, noted in the part's source.
    """
    ends = Counter(end for _, wire in wires for end in (wire.start, wire.end))
    named: defaultdict[str, set[str]] = defaultdict(set)
    doubled: defaultdict[str, set[str]] = defaultdict(set)
    for end, count in ends.items():
        device = devices.get(end.device)
        if device:
            named[device.part].add(end.terminal)
            if count > 1:
                doubled[device.part].add(end.terminal)
    made: dict[str, tuple[int, Part]] = {}
    for name, (row, part) in parts.items():
        if part.terminals or not named[name]:
            made[name] = (row, part)
            continue
        order = sorted(named[name], key=tag_order)
        notes = [part.source, ASSUMED_SIDES, *([ASSUMED_SHARED] if doubled[name] else [])]
        full = replace(
            part,
            terminals_top=tuple(each for each in order if not _is_even(each)),
            terminals_bottom=tuple(each for each in order if _is_even(each)),
            shared_terminals=tuple(sorted(doubled[name], key=tag_order)),
            source="; ".join(notes),
        )
        made[name] = (row, full)
    return made


def _others() -> tuple[str, ...]:
    main = ("number", "start", "end", "size")
    return tuple(each.field for each in columns_of(Wire) if each.field not in main)


def _value(
    name: str,
    cells: Mapping[str, str],
    found: ForeignList,
    devices: AbstractSet[str],
    practice: Practice,
    lengths_in: DisplayUnit,
) -> object:
    cell = cells.get(name, "")
    if name in ("start", "end"):
        return _end(name, cells, devices)
    if name in ("number", "size") and not cell:
        raise Unreadable("is blank", "Fill it in")
    if name == "size":
        said = {"awg": Practice.NORTH_AMERICA, "mm²": Practice.IEC, "mm2": Practice.IEC}
        heading = next(each for each in found.headings if each.column == name)
        word = heading.unit or _WORDS.get(heading.text.lower(), "")
        return read_wire_size(cell, said.get(word, practice), comma=found.decimal_comma)
    if not cell:
        return None
    each = next(each for each in columns_of(Wire) if each.field == name)
    if each.kind is Kind.NUMBER:
        heading = next(one for one in found.headings if one.column == name)
        alias = unit_of(heading.unit, "mm", lengths_in)
        return read_number(cell, "mm", heading=alias, comma=found.decimal_comma)
    return cell


def _end(name: str, cells: Mapping[str, str], devices: AbstractSet[str]) -> End:
    """Return a wire end, however its device and terminal are divided."""
    device, terminal = cells.get(f"{name}_device", ""), cells.get(f"{name}_terminal", "")
    whole = cells.get(name, "")
    if device and terminal:
        return _known(End(device, terminal), devices)
    if whole and terminal:
        return _known(End(whole, terminal), devices)
    if not whole:
        raise Unreadable("is blank", "Write device:terminal, e.g. -Q1:2")
    breaks = [each.start() for each in _TERMINAL_BREAK.finditer(whole)][::-1]
    for at in breaks:
        end = End(whole[:at].strip(), whole[at + 1 :].strip())
        if end.terminal and _name(end.device, devices) is not None:
            return _known(end, devices)
    if not breaks:
        raise Unreadable("names no terminal", "Write device:terminal, e.g. -Q1:2")
    return _known(End(whole[: breaks[0]].strip(), whole[breaks[0] + 1 :].strip()), devices)


def _known(end: End, devices: AbstractSet[str]) -> End:
    name = _name(end.device, devices)
    if name is None:
        raise Unreadable(f"{end.device} is no device of the list", nearest(end.device, devices))
    return End(name, "".join(end.terminal.split()))


def _name(device: str, devices: AbstractSet[str]) -> str | None:
    """Return how the device list spells a designation: with or without the sign before it."""
    bare = device.lstrip("-")
    return next((name for name in (device, bare, f"-{bare}") if name in devices), None)


def _is_even(terminal: str) -> bool:
    digits = re.search(r"(\d+)\D*$", terminal)
    return bool(digits) and int(digits[1]) % 2 == 0 if digits else False
