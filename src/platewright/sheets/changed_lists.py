"""What differs between the lists of two revisions: parts of devices, door devices, wires."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import hypot
from typing import Final

from platewright.drawing.table import length_text
from platewright.foundation.units import Mm
from platewright.model.device import Device
from platewright.model.geometry import Point
from platewright.model.job import DisplayUnit, Job
from platewright.model.layout import Duct, Hole, Placement, Rail
from platewright.model.panel import Panel, hole_offsets
from platewright.model.part import Part
from platewright.model.wire import Wire

WIPE_OFF: Final = "mark to wipe off"
_OFF: Mm = 1.0  # a planned hole this far from every foot was planned for another pattern


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One difference."""

    kind: str  # device, duct, rail, hole, piece, wire
    tag: str
    what: str  # new, gone, moved, changed, other part, left over, drilled, mark to wipe off
    words: str
    was: Point | None = None
    now: Point | None = None


def at_said(thing: Placement | Duct | Rail | Hole, unit: DisplayUnit) -> str:
    """Return a place in the job's unit."""
    return f"{length_text(thing.x, unit)}, {length_text(thing.y, unit)}"


def shift_said(dx: Mm, dy: Mm, unit: DisplayUnit) -> str:
    """Return how far something went, x and y, in the job's unit; what rounds to 0 has no minus."""
    sizes = ((value, length_text(abs(value), unit)) for value in (dx, dy))
    return ", ".join(("−" if value < 0 and float(size) else "+") + size for value, size in sizes)


def part_changes(before: Panel, after: Panel) -> Iterator[Change]:
    """Yield devices that stand on both plates and are another part now.

    Where the earlier layout does not tell the part, holes that no foot of today's part meets do.
    """
    unit = after.job.settings.units
    for tag, at in before.layout.devices.items():
        if tag not in after.layout.devices:
            continue
        old, new = before.job.part_of(tag), after.job.part_of(tag)
        if _made(old) != _made(new):
            words = f"{_described(old, unit)} to {_described(new, unit)}"
            yield Change(kind="device", tag=tag, what="other part", words=words)
        elif not at.part and not _fits(before, tag):
            yield Change(
                kind="device", tag=tag, what="other part",
                words=f"its holes of before fit no {new.part}: it was another part",
            )  # fmt: skip


def door_changes(before: Job, after: Job) -> Iterator[Change]:
    """Yield what differs on the door."""
    old = {device.tag: device for device in before.on_door}
    new = {device.tag: device for device in after.on_door}
    unit = after.settings.units
    for tag in {*old, *new}:
        was, now = old.get(tag), new.get(tag)
        if was is None and now is not None:
            yield Change(kind="door", tag=tag, what="new", words=f"at {_door(now, unit)}")
        elif now is None and was is not None:
            yield Change(kind="door", tag=tag, what="gone", words=f"was at {_door(was, unit)}")
        elif was is not None and now is not None:
            if _door(was, unit) != _door(now, unit):
                words = f"{_door(was, unit)} to {_door(now, unit)}"
                yield Change(kind="door", tag=tag, what="moved", words=words)
            parts = before.part_of(tag), after.part_of(tag)
            if _made(parts[0]) != _made(parts[1]):
                words = f"{_described(parts[0], unit)} to {_described(parts[1], unit)}"
                yield Change(kind="door", tag=tag, what="other part", words=words)


def wire_changes(before: Job, after: Job) -> Iterator[Change]:
    """Yield wires that are new, gone, or run otherwise or of another kind, by their numbers."""
    old = {wire.number: wire for wire in before.wires}
    new = {wire.number: wire for wire in after.wires}
    for number in {*old, *new}:
        was, now = old.get(number), new.get(number)
        if was is None and now is not None:
            yield Change(kind="wire", tag=number, what="new", words=_run(now))
        elif now is None and was is not None:
            yield Change(kind="wire", tag=number, what="gone", words=_run(was))
        elif was is not None and now is not None and _run(was) != _run(now):
            yield Change(
                kind="wire", tag=number, what="changed", words=f"{_run(was)}; now {_run(now)}"
            )


def _made(part: Part) -> tuple[object, ...]:
    """Return what the bench sees of a part."""
    return (
        part.part, part.width, part.height, part.depth, part.mount, part.screw,
        part.hole_pattern_width, part.hole_pattern_height,
    )  # fmt: skip


def _described(part: Part, unit: DisplayUnit) -> str:
    size = " × ".join(length_text(size, unit) for size in (part.width, part.height, part.depth))
    holes = hole_offsets(part)
    if part.screw is None or not holes:
        return f"{part.part} ({size})"
    wide = max(p.x for p in holes) - min(p.x for p in holes)
    high = max(p.y for p in holes) - min(p.y for p in holes)
    pattern = f"{length_text(wide, unit)} × {length_text(high, unit)}"
    return f"{part.part} ({size}; {len(holes)} × {part.screw} at {pattern})"


def _fits(panel: Panel, tag: str) -> bool:
    """Tell whether every hole that a device has lies at a foot of its part."""
    at, part = panel.layout.devices[tag], panel.job.part_of(tag)
    feet = [(at.x + p.x, at.y + p.y) for p in hole_offsets(part)]
    play = _OFF + (part.slot_length or 0.0) / 2
    return all(
        any(hypot(hole.x - x, hole.y - y) <= play for x, y in feet)
        for hole in panel.layout.holes.values()
        if hole.holds == tag and feet
    )


def _door(device: Device, unit: DisplayUnit) -> str:
    places = (device.door_x, device.door_y)
    return ", ".join("?" if p is None else length_text(p, unit) for p in places)


def _run(wire: Wire) -> str:
    kind = " ".join(word for word in (str(wire.size), wire.type, wire.colour) if word)
    return f"{wire.start} to {wire.end}, {kind}"
