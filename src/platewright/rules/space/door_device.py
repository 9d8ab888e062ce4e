"""What hangs in the door must not meet what stands on the plate behind it."""

from __future__ import annotations

from collections.abc import Iterator

from platewright.foundation.sources import GEOMETRY
from platewright.model.finding import Reading
from platewright.model.panel import Panel
from platewright.rules.distances import overlaps
from platewright.rules.door import front_limit, front_of, unknown_rail
from platewright.rules.judge import at_most, holds
from platewright.rules.placed import Placed, door_devices, placed_devices
from platewright.rules.registry import rule
from platewright.rules.wording import common, enough, way_out


@rule(
    id="space.door-device",
    title="Door devices clear the plate's devices",
    why="An operator panel or switch reaches behind the door. Where a deep device stands behind "
    "it, the door does not close.",
    source=GEOMETRY,
)
def check_door_device(panel: Panel) -> Iterator[Reading]:
    """Compare the front of each plate device with the back of each door device before it."""
    placed, doors = placed_devices(panel), door_devices(panel)
    met = set()
    for i, j in overlaps([one.envelope for one in placed], [door.envelope for door in doors]):
        met.add(j)
        yield _reading(panel, placed[i], doors[j])
    for j, door in enumerate(doors):
        if j not in met:
            yield holds(door.tag, message="no device stands behind it", place=door.envelope)


def _reading(panel: Panel, one: Placed, door: Placed) -> Reading:
    limit = front_limit(panel, panel.job.settings.enclosure.door_inside - door.front)
    front = front_of(panel, one)
    if front is None:
        return unknown_rail(one)
    return at_most(
        one.tag,
        what=f"{one.tag} stands out of the plate behind {door.tag} of the door",
        measured=front,
        limit=limit,
        cure=f"Move {one.tag} {way_out(one.envelope, door.envelope)}, or {door.tag} "
        f"{way_out(door.envelope, one.envelope)}; it is {enough(front - limit.value)} too deep here",
        place=common(one.envelope, door.envelope),
    )
