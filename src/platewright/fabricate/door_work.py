"""What is cut and drilled in the door: cut-outs, screw holes, shafts of what stands on the plate."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import hypot

from platewright.foundation.tag_order import tag_order
from platewright.foundation.units import Mm
from platewright.model.geometry import Box, Point
from platewright.model.job import Job, JobSettings
from platewright.model.layout import Layout, Placement
from platewright.model.panel import body_box, hole_offsets
from platewright.model.part import Part
from platewright.tables.threads import thread
from platewright.tables.tools import tool


@dataclass(frozen=True, slots=True, kw_only=True)
class DoorWork:
    """One device's cut-out and holes, in plate coordinates, seen from the front.

    ``missing``: columns of parts.csv or devices.csv without which it can't be cut.
    """

    tag: str
    centre: Point | None
    body: Box | None  # behind the door; of a shaft the room of its handle
    cutout: tuple[Mm, Mm] | None  # width and height
    diameter: Mm | None  # of a round cut-out
    holes: tuple[Point, ...]
    drill: Mm | None
    size: str
    missing: tuple[str, ...]
    is_shaft: bool = False


def door_box(settings: JobSettings) -> Box:
    """Return the door in plate coordinates: as large as the enclosure, the plate in its middle.

    An assumption: nothing in the job says where the plate sits.
    """
    shell, plate = settings.enclosure, settings.plate
    across, upright = (shell.width - plate.width) / 2, (shell.height - plate.height) / 2
    return Box(-across, -upright, plate.width + across, plate.height + upright)


def shaft_of(part: Part, at: Placement) -> Point | None:
    """Return where a device's shaft meets the door; ``None``: it has none, or none is stated."""
    if part.shaft_x is None and part.shaft_y is None:
        return None
    centre = body_box(part, at).centre
    return Point(centre.x + (part.shaft_x or 0.0), centre.y + (part.shaft_y or 0.0))


def handle_room(part: Part) -> Mm:
    """Return the diameter that a handle takes on the door: as stated, else shop practice."""
    return part.handle_diameter or tool("door handle")


def door_work(job: Job, layout: Layout) -> tuple[DoorWork, ...]:
    """Return all work in the door, devices of the door first, then shafts; each by tag."""
    doors = sorted((device.tag for device in job.on_door), key=tag_order)
    shafts = sorted(layout.devices, key=tag_order)
    return (
        *(_of_device(job, tag) for tag in doors),
        *(work for tag in shafts for work in _of_shaft(job, layout, tag)),
    )


def _of_device(job: Job, tag: str) -> DoorWork:
    device, part = job.devices[tag], job.part_of(tag)
    missing = [
        f"{name}_mm of {tag} in devices.csv"
        for name in ("door_x", "door_y")
        if getattr(device, name) is None
    ]
    missing += _missing_cutout(part)
    at = None
    if device.door_x is not None and device.door_y is not None:
        at = Placement(x=device.door_x, y=device.door_y)
    offsets = hole_offsets(part)
    size = thread(part.screw) if part.screw and offsets else None
    if offsets and size is None:
        missing.append(f"screw of {part.part} in parts.csv")
    if _cuts_its_holes(part):
        missing.append(f"cut-out or hole pattern of {part.part}: the one runs into the other")
    return DoorWork(
        tag=tag,
        centre=None if at is None else body_box(part, at).centre,
        body=None if at is None else body_box(part, at),
        cutout=_rectangle(part),
        diameter=part.cutout_diameter,
        holes=() if at is None else tuple(Point(at.x + p.x, at.y + p.y) for p in offsets),
        drill=None if size is None else size.clearance_medium,
        size=part.screw or "",
        missing=tuple(missing),
    )


def _of_shaft(job: Job, layout: Layout, tag: str) -> Iterator[DoorWork]:
    part, at = job.part_of(tag), layout.devices[tag]
    centre = shaft_of(part, at)
    if centre is None:
        return
    half = handle_room(part) / 2
    yield DoorWork(
        tag=tag,
        centre=centre,
        body=Box(centre.x - half, centre.y - half, centre.x + half, centre.y + half),
        cutout=_rectangle(part),
        diameter=part.cutout_diameter,
        holes=(),
        drill=None,
        size="",
        missing=tuple(_missing_cutout(part)),
        is_shaft=True,
    )


def _cuts_its_holes(part: Part) -> bool:
    """Tell whether a part's cut-out takes away its own screw holes: one of them is wrong."""
    offsets, size = hole_offsets(part), thread(part.screw) if part.screw else None
    radius = size.clearance_medium / 2 if size else 0.0
    middle = Point(part.width / 2, part.height / 2)
    box = _rectangle(part)
    if part.cutout_diameter is not None:
        reach = part.cutout_diameter / 2 + radius
        return any(hypot(p.x - middle.x, p.y - middle.y) < reach for p in offsets)
    if box is None:
        return False
    cut = Box(middle.x - box[0] / 2, middle.y - box[1] / 2,
              middle.x + box[0] / 2, middle.y + box[1] / 2)  # fmt: skip
    return any(cut.distance_to(p) < radius for p in offsets)


def _rectangle(part: Part) -> tuple[Mm, Mm] | None:
    if part.cutout_width is None or part.cutout_height is None:
        return None
    return part.cutout_width, part.cutout_height


def _missing_cutout(part: Part) -> list[str]:
    """Return what must be stated of a part's cut-out; holes alone may be all it needs."""
    if part.cutout_diameter is not None or _rectangle(part) is not None:
        return []
    for have, want in (("cutout_width", "cutout_height"), ("cutout_height", "cutout_width")):
        if getattr(part, have) is not None:
            return [f"{want}_mm of {part.part} in parts.csv"]
    if hole_offsets(part) and part.shaft_x is None and part.shaft_y is None:
        return []
    return [
        f"cutout_width_mm and cutout_height_mm, or cutout_diameter_mm, of {part.part} in parts.csv"
    ]
