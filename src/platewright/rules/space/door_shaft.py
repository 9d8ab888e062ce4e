"""The handle of a switch on the plate must not meet what hangs in the door."""

from __future__ import annotations

from collections.abc import Iterator

from platewright.fabricate.door_work import door_box, handle_room, shaft_of
from platewright.foundation.sources import GEOMETRY, Source, Standing
from platewright.model.finding import Reading
from platewright.model.geometry import Box, Point
from platewright.model.panel import Panel
from platewright.rules.judge import Limit, at_least, breaks
from platewright.rules.placed import Placed, door_devices, placed_devices
from platewright.rules.registry import rule
from platewright.rules.wording import place_of

ASSUMED = Source("table tools", "door handle", Standing.PRACTICE)


@rule(
    id="space.door-shaft",
    title="Handles find their place on the door",
    why="A main switch on the plate is turned by a handle on the door. Where its shaft comes "
    "through is given by where the switch stands; a panel or button hung there is in its way.",
    source=GEOMETRY,
)
def check_door_shaft(panel: Panel) -> Iterator[Reading]:
    """Measure from each shaft to each door device and to the door's edge."""
    doors, door = door_devices(panel), door_box(panel.job.settings)
    for one in placed_devices(panel):
        at = panel.layout.devices.get(one.tag)
        shaft = None if at is None else shaft_of(one.part, at)
        if shaft is not None:
            yield from _judge(one, shaft, doors, door)


def _judge(one: Placed, shaft: Point, doors: tuple[Placed, ...], door: Box) -> Iterator[Reading]:
    half = handle_room(one.part) / 2
    source = GEOMETRY if one.part.handle_diameter is not None else ASSUMED
    limit = Limit(value=half, source=source)
    place = Box(shaft.x - half, shaft.y - half, shaft.x + half, shaft.y + half)
    if not door.contains(shaft):
        yield breaks(
            one.tag,
            message=f"the shaft of {one.tag} at ({place_of(shaft.x, shaft.y)}) misses the door",
            cure=f"Move {one.tag} behind the door",
            source=GEOMETRY,
            place=place,
        )
        return
    edge = min(shaft.x - door.left, door.right - shaft.x, shaft.y - door.bottom, door.top - shaft.y)
    yield at_least(
        one.tag,
        what=f"from the shaft of {one.tag} to the door's edge",
        measured=edge,
        limit=limit,
        cure=f"Move {one.tag} further in, or state handle_diameter_mm of {one.part.part}",
        place=place,
    )
    for other in doors:
        yield at_least(
            one.tag,
            what=f"from the shaft of {one.tag} to {other.tag} in the door",
            measured=other.body.distance_to(shaft),
            limit=limit,
            cure=f"Move {other.tag} or {one.tag} apart, or state handle_diameter_mm of "
            f"{one.part.part}",
            place=place,
        )
