"""What a new fixing of a rail or duct must keep off, so that chuck and screwdriver reach it.

The screwdriver comes when all rails and ducts are on; devices come later, but a screw under a
device that does not hang on this very rail could not be tightened again. The chuck comes to the
bare plate, unless part of it was drilled before: then rails and ducts whose holes are all drilled
may be on, and a spot that leaves them there is better.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from platewright.fabricate.access import drill_room, driver_room, standing
from platewright.foundation.tag_order import tag_order
from platewright.foundation.units import Mm
from platewright.model.geometry import Box, Point
from platewright.model.job import Job
from platewright.model.layout import HoleState, Layout
from platewright.model.panel import body_box
from platewright.model.part import Mount


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptOff:
    """A box that a fixing's centre keeps this far from."""

    box: Box
    room: Mm

    def bars(self, point: Point) -> bool:
        """Tell whether a point comes too near."""
        return self.box.distance_to(point) < self.room


@dataclass(frozen=True, slots=True, kw_only=True)
class Around:
    """``barred``: never there. ``better_not``: something would have to come off for the drill."""

    barred: tuple[KeptOff, ...] = ()
    better_not: tuple[KeptOff, ...] = ()

    def near(self, region: Box) -> Around:
        """Return what matters to points of a region."""
        return Around(
            barred=tuple(one for one in self.barred if _apart(one.box, region) < one.room),
            better_not=tuple(one for one in self.better_not if _apart(one.box, region) < one.room),
        )


def around_of(job: Job, layout: Layout, tag: str, *, head: Mm, drill: Mm) -> Around:
    """Return what the fixings of a rail or duct keep off; ``head``: radius of head or washer."""
    return Around(
        barred=tuple(_barred(job, layout, tag, head)),
        better_not=tuple(_may_be_on(job, layout, tag, drill)),
    )


def _barred(job: Job, layout: Layout, tag: str, head: Mm) -> Iterator[KeptOff]:
    for other in (*layout.rails, *layout.ducts):
        if other == tag and other in layout.rails:
            continue
        thing = standing(job, layout, other)
        room = driver_room(thing.height)
        for box in thing.boxes:
            yield KeptOff(box=box, room=room)
        if other != tag and other in layout.ducts:
            yield KeptOff(box=layout.ducts[other].box, room=head)  # nor under its base
    for device, at in layout.devices.items():
        part = job.part_of(device)
        if not (tag in layout.rails and part.mount is Mount.RAIL):
            yield KeptOff(box=body_box(part, at), room=head)


def _may_be_on(job: Job, layout: Layout, tag: str, drill: Mm) -> Iterator[KeptOff]:
    """Yield rails and ducts that may be on the plate already when a new hole is drilled."""
    drilled: dict[str, bool] = {}
    for hole in layout.holes.values():
        drilled[hole.holds] = drilled.get(hole.holds, True) and hole.state is HoleState.DRILLED
    thickness = job.settings.plate.thickness
    for other in sorted((*layout.rails, *layout.ducts), key=tag_order):
        if other != tag and drilled.get(other, False):
            thing = standing(job, layout, other)
            room = drill_room(drill, thickness=thickness, height=thing.height)
            for box in thing.boxes:
                yield KeptOff(box=box, room=room)


def _apart(one: Box, other: Box) -> Mm:
    in_x, in_y = one.overlap(other)
    return float((max(-in_x, 0.0) ** 2 + max(-in_y, 0.0) ** 2) ** 0.5)
