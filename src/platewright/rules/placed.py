"""What stands on the plate and hangs in the door, measured again from the layout."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from platewright.foundation.units import Mm
from platewright.model.device import Device, Place
from platewright.model.geometry import Box
from platewright.model.layout import Placement, Rail, Run
from platewright.model.panel import Panel, body_box, envelope_box
from platewright.model.part import Part
from platewright.tables.rails import rail_profile

OFF_AXIS: Final[Mm] = 0.5  # farthest a rail's axis may lie from where the device wants it


@dataclass(frozen=True, slots=True)
class Placed:
    """A device where it stands: footprint without covers, and with covers on."""

    tag: str
    device: Device
    part: Part
    body: Box
    envelope: Box

    @property
    def front(self) -> Mm:
        """How far it stands out of its mounting face, covers on."""
        return self.part.depth + (self.part.cover_front or 0.0)


def placed_devices(panel: Panel) -> tuple[Placed, ...]:
    """Return the plate's devices that have a place, by tag."""
    where = panel.layout.devices
    return tuple(
        _placed(panel, device, where[device.tag])
        for device in sorted(panel.job.on_plate, key=lambda device: device.tag)
        if device.tag in where
    )


def door_devices(panel: Panel) -> tuple[Placed, ...]:
    """Return the door's devices whose position is stated, by tag."""
    return tuple(
        _placed(panel, device, Placement(x=device.door_x, y=device.door_y))
        for device in sorted(panel.job.on_door, key=lambda device: device.tag)
        if device.door_x is not None and device.door_y is not None
    )


def _placed(panel: Panel, device: Device, at: Placement) -> Placed:
    part = panel.job.parts[device.part]
    return Placed(device.tag, device, part, body_box(part, at), envelope_box(part, at))


def are_partners(one: Device, other: Device) -> bool:
    """Tell whether two devices are made to stand at once beside or under each other."""
    return other.tag in (one.plugs_into, one.hangs_under) or one.tag in (
        other.plugs_into,
        other.hangs_under,
    )


def excused(placed: Sequence[Placed]) -> Iterator[tuple[int, int]]:
    """Yield the places of devices that don't stand in each other's way: itself, and partners."""
    index = {one.tag: i for i, one in enumerate(placed)}
    for i, one in enumerate(placed):
        yield i, i
        for tag in (one.device.plugs_into, one.device.hangs_under):
            if tag in index and tag is not None:
                yield i, index[tag]
                yield index[tag], i


def place_of(panel: Panel, tag: str) -> Box | None:
    """Return the body's footprint of a device, wherever it is; ``None``: it has no place yet."""
    device = panel.job.devices.get(tag)
    if device is None:
        return None
    if device.place is Place.PLATE:
        at = panel.layout.devices.get(tag)
    elif device.door_x is not None and device.door_y is not None:
        at = Placement(x=device.door_x, y=device.door_y)
    else:
        at = None
    return None if at is None else body_box(panel.job.parts[device.part], at)


def rail_size(profile: str) -> tuple[Mm, Mm] | None:
    """Return width and height of a rail; ``None``: the tables do not have its profile."""
    row = rail_profile(profile)
    return None if row is None else (row.width, row.height)


def rail_box(rail: Rail) -> Box:
    """Return the footprint of a rail; one of unknown profile counts as its axis."""
    half = (rail_size(rail.profile) or (0.0, 0.0))[0] / 2
    if rail.run is Run.ACROSS:
        return Box(rail.x, rail.y - half, rail.x + rail.length, rail.y + half)
    return Box(rail.x - half, rail.y, rail.x + half, rail.y + rail.length)


def carries(rail: Rail, device: Placed) -> bool:
    """Tell whether a rail's axis lies where the device wants it, under some of its width."""
    centre = device.part.rail_center
    if centre is None or rail.run is not Run.ACROSS:
        return False
    return (
        abs(rail.y - device.body.bottom - centre) <= OFF_AXIS
        and rail.x < device.body.right
        and rail.x + rail.length > device.body.left
    )


def fixtures(panel: Panel) -> Iterator[tuple[str, Box]]:
    """Yield tag and footprint of every duct and rail, by tag."""
    yield from ((tag, duct.box) for tag, duct in sorted(panel.layout.ducts.items()))
    yield from ((tag, rail_box(rail)) for tag, rail in sorted(panel.layout.rails.items()))


def everything(panel: Panel) -> Iterator[tuple[str, Box]]:
    """Yield tag and footprint (covers on) of every device, duct and rail."""
    yield from ((one.tag, one.envelope) for one in placed_devices(panel))
    yield from fixtures(panel)
